"""The fewest straight cuts that follow a line within a tolerance, their ends at stations; exact."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np
from scipy.optimize import linprog

from ledgewright.plane import Line, Point

Interval = tuple[float, float]

TOUCH = 1e-9
"""What misses the tolerance by less than this is within it (mm)."""


def mark_to_mark(points: Sequence[Point], within: float, longest: float = math.inf) -> Line:
    """Return the fewest straight cuts from mark to mark that leave no mark further off than a tolerance.

    H. Imai and M. Iri, Polygonal approximations of a curve, 1988: the shortest path through all shortcuts that keep
    within the tolerance is the fewest of all that keep marks of the line. The distance is to the cut itself,
    its ends included. Of several that are as few, one that strays least is taken.

    Args:
        points: the marks in order, two at least (mm).
        within: how far a mark may lie off its cut, to either side (mm).
        longest: no cut is longer, save one between neighbouring marks (mm).

    Returns:
        The marks at which cuts begin and end, the first and the last among them.
    """
    best: list[tuple[int, float, int]] = [(0, 0.0, 0)]
    for k in range(1, len(points)):
        steps = ((i, _strays(points[i : k + 1])) for i in range(k) if _short(points, i, k, longest))
        best.append(
            min((best[i][0] + 1, best[i][1] + off, i) for i, off in steps if off <= within + TOUCH)
        )
    kept = [len(points) - 1]
    while kept[-1]:
        kept.append(best[kept[-1]][2])
    return tuple(points[k] for k in reversed(kept))


def within_band(
    at: Sequence[float],
    low: Sequence[float],
    high: Sequence[float],
    longest: float = math.inf,
) -> Line:
    """Return the fewest straight cuts, end to end, that stay in a band; they begin and end at stations, at any height.

    An exact dynamic programme: what heights so many cuts can reach at a station is a union of intervals. From an
    interval one more cut is a convex polygon of (height, slope), clipped at each station it passes. Of
    the heights that go with the chosen stations those with the least wood between low and cut are taken (linear
    program).

    Args:
        at: stations along the edge, rising (mm).
        low: the least a cut may be at each (mm).
        high: the most (mm), not less than `low`.
        longest: no cut runs further along, save one between neighbouring stations (mm).

    Returns:
        The ends of the cuts as (along, height).
    """
    reach: list[list[tuple[Interval, ...]]] = [[()] * len(at)]
    reach[0][0] = ((low[0], high[0]),)
    while not reach[-1][-1]:
        reach.append(_one_more(at, low, high, longest, reach[-1]))
    knots = _back(at, low, high, longest, reach)
    return _lowest(at, low, high, knots)


def _short(points: Sequence[Point], i: int, k: int, longest: float) -> bool:
    return k == i + 1 or math.dist(points[i], points[k]) <= longest + TOUCH


def _strays(points: Sequence[Point]) -> float:
    """How far the points between the ends lie from the straight cut at the most."""
    (ax, ay), (bx, by) = points[0], points[-1]
    dx, dy = bx - ax, by - ay
    size = dx * dx + dy * dy
    most = 0.0
    for x, y in points[1:-1]:
        t = min(1.0, max(0.0, ((x - ax) * dx + (y - ay) * dy) / size)) if size else 0.0
        most = max(most, math.hypot(x - ax - t * dx, y - ay - t * dy))
    return most


def _one_more(
    at: Sequence[float],
    low: Sequence[float],
    high: Sequence[float],
    longest: float,
    before: Sequence[tuple[Interval, ...]],
) -> list[tuple[Interval, ...]]:
    found: list[list[Interval]] = [[] for _ in at]
    for i, spans in enumerate(before):
        for span in spans:
            for k, got in _seen(at, low, high, longest, i, span):
                found[k].append(got)
    return [_merged(spans) for spans in found]


def _seen(
    at: Sequence[float],
    low: Sequence[float],
    high: Sequence[float],
    longest: float,
    i: int,
    span: Interval,
) -> Iterator[tuple[int, Interval]]:
    """Each station one cut from an interval at station i can reach, with the heights it reaches there."""
    shape: list[Point] = []
    for k in range(i + 1, len(at)):
        far = at[k] - at[i]
        if k > i + 1 and far > longest + TOUCH:
            return
        if k == i + 1:
            shape = [(y, (z - y) / far) for y, z in _corners(span, (low[k], high[k]))]
        else:
            shape = _clip(_clip(shape, far, low[k] - TOUCH, 1.0), far, high[k] + TOUCH, -1.0)
        if not shape:
            return
        ends = [y + slope * far for y, slope in shape]
        yield k, (max(low[k], min(ends)), min(high[k], max(ends)))


def _corners(a: Interval, b: Interval) -> list[Point]:
    return [(a[0], b[0]), (a[1], b[0]), (a[1], b[1]), (a[0], b[1])]


def _clip(shape: Sequence[Point], far: float, limit: float, side: float) -> list[Point]:
    """The part of a convex polygon of (height, slope) that is on one side of a limit at a station."""
    if not shape:
        return []
    over = [side * (y + slope * far - limit) for y, slope in shape]
    kept: list[Point] = []
    for (p, a), (q, b) in pairwise([*zip(shape, over, strict=True), (shape[0], over[0])]):
        if a >= 0:
            kept.append(p)
        if (a < 0) != (b < 0):
            t = a / (a - b)
            kept.append((p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t))
    return kept


def _merged(spans: Sequence[Interval]) -> tuple[Interval, ...]:
    made: list[Interval] = []
    for a, b in sorted(spans):
        if made and a <= made[-1][1] + TOUCH:
            made[-1] = (made[-1][0], max(made[-1][1], b))
        else:
            made.append((a, b))
    return tuple(made)


def _back(
    at: Sequence[float],
    low: Sequence[float],
    high: Sequence[float],
    longest: float,
    reach: Sequence[Sequence[tuple[Interval, ...]]],
) -> list[int]:
    """The stations of one of the fewest, from the last back to the first."""
    knots, height = [len(at) - 1], sum(reach[-1][-1][0]) / 2
    for before in reversed(reach[:-1]):
        k = knots[-1]
        i, height = next(
            (i, sum(got) / 2)
            for i in range(k)
            if i == k - 1 or at[k] - at[i] <= longest + TOUCH
            for span in before[i]
            if (got := _from(at, low, high, i, k, span, height)) is not None
        )
        knots.append(i)
    return knots[::-1]


def _from(
    at: Sequence[float],
    low: Sequence[float],
    high: Sequence[float],
    i: int,
    k: int,
    span: Interval,
    height: float,
) -> Interval | None:
    """The heights at station i from which one cut reaches a height at station k."""
    least, most = span
    for m in range(i + 1, k):
        share = (at[m] - at[i]) / (at[k] - at[i])
        least = max(least, (low[m] - height * share) / (1 - share))
        most = min(most, (high[m] - height * share) / (1 - share))
    # The clipping above lets a height through that touches the band; so must the way back.
    return (least, most) if least <= most + 1e-6 else None


def _lowest(
    at: Sequence[float], low: Sequence[float], high: Sequence[float], knots: Sequence[int]
) -> Line:
    """The heights at given stations that stay in the band with the least area over its lower edge."""
    share = np.zeros((len(at), len(knots)))
    for c, (i, k) in enumerate(pairwise(knots)):
        for m in range(i, k + 1):
            t = (at[m] - at[i]) / (at[k] - at[i])
            share[m, c : c + 2] = (1 - t, t)
    step = np.diff(at)
    weight = np.concatenate([step, [0.0]]) + np.concatenate([[0.0], step])
    slack = 2e-6
    found = linprog(
        share.T @ weight,
        A_ub=np.vstack([share, -share]),
        b_ub=np.concatenate([np.array(high) + slack, -np.array(low)]),
        bounds=[(None, None)] * len(knots),
        method="highs",
    )
    heights = np.asarray(found.x, dtype=np.float64)
    return tuple((at[k], float(y)) for k, y in zip(knots, heights, strict=True))
