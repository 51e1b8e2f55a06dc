"""Dimension lines whose labels never lie on each other."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from ledgewright import plane
from ledgewright.draw.letters import ascent, cap_height, descent, text_width
from ledgewright.draw.model import Chain, Circle, Flat, Running, Strokes, Text
from ledgewright.plane import Point

PAD = 1.2  # between a dimension line and the foot of its label, mm of paper
APART = 1.0  # between neighbouring labels
JOG = 4.0  # height of the band in which leaders step aside
GAP = 1.0  # between a measured point and its witness line
OVER = 1.5  # how far a witness line runs past the dimension line
SLASH = 1.1  # half of the oblique stroke at a measured point, along the line


def spread(wanted: Sequence[float], sizes: Sequence[float], apart: float) -> tuple[float, ...]:
    """Return centres as near as can be to those wanted, in the same order, `apart` clear of each other.

    Least squares under an order: pool adjacent violators (Barlow et al. 1972, from memory) after the
    needed distances are taken off.

    Args:
        wanted: centres, rising (mm).
        sizes: length of each along the line (mm).
        apart: clear distance between neighbours (mm).
    """
    shifts = [0.0]
    for a, b in pairwise(sizes):
        shifts.append(shifts[-1] + (a + b) / 2 + apart)
    pools: list[tuple[float, int]] = []
    for want, shift in zip(wanted, shifts, strict=False):
        mean, count = want - shift, 1
        while pools and pools[-1][0] > mean:
            other, n = pools.pop()
            mean, count = (mean * count + other * n) / (count + n), count + n
        pools.append((mean, count))
    flat = [mean for mean, count in pools for _ in range(count)]
    return tuple(x + shift for x, shift in zip(flat, shifts, strict=False))


@dataclass(frozen=True)
class _Rail:
    """The line's own axes on paper: s along it, t to its left; `up` is where letters point (+1 left)."""

    origin: Point
    direction: Point
    scale: float

    def local(self, point: Point) -> Point:
        away = plane.sub(plane.scale(point, self.scale), self.origin)
        return (plane.dot(away, self.direction), plane.cross(self.direction, away))

    def paper(self, s: float, t: float) -> Point:
        return plane.along(
            plane.along(self.origin, self.direction, s), plane.left(self.direction), t
        )

    @property
    def up(self) -> int:
        x, y = self.direction
        return 1 if x > 1e-9 or (abs(x) <= 1e-9 and y > 0) else -1

    @property
    def angle(self) -> float:
        x, y = plane.scale(self.direction, self.up)
        return math.atan2(y, x)


def _rail(item: Chain | Running, scale: float) -> _Rail:
    return _Rail(plane.scale(item.through, scale), plane.unit(item.direction), scale)


def _sign(value: float) -> int:
    return 1 if value >= 0 else -1


def _witness(rail: _Rail, at: Point, offset: float, past: float) -> tuple[Point, Point] | None:
    """Return the thin line from a measured point out to the dimension line, None where it has no length."""
    s, t = at
    way = _sign(offset - t)
    start = t + way * GAP
    end = offset + way * past
    if (end - start) * way <= 0:
        return None
    return (rail.paper(s, start), rail.paper(s, end))


def _slash(rail: _Rail, s: float, t: float) -> tuple[Point, Point]:
    return (rail.paper(s - SLASH, t - SLASH), rail.paper(s + SLASH, t + SLASH))


def _block(text: str, size: float) -> float:
    """Return the width of a label (mm)."""
    return max(text_width(line, size) for line in text.split("\n"))


def lay_chain(chain: Chain, scale: float) -> tuple[Flat, ...]:
    """Return a chain as strokes and lettering in mm of paper, every label placed and none on another.

    Raises:
        ValueError: unless there is one label for each gap.
    """
    if len(chain.labels) != len(chain.points) - 1:
        msg = (
            f"{len(chain.points)} points have {len(chain.points) - 1} gaps, not {len(chain.labels)}"
        )
        raise ValueError(msg)
    rail = _rail(chain, scale)
    at = [rail.local(p) for p in chain.points]
    lines = [(rail.paper(at[0][0], chain.offset), rail.paper(at[-1][0], chain.offset))]
    lines += [w for p in at if (w := _witness(rail, p, chain.offset, OVER))]
    lines += [_slash(rail, s, chain.offset) for s, _ in at]
    texts, leaders = _chain_labels(chain, rail, [s for s, _ in at])
    return (Strokes(chain.layer, tuple(lines + leaders)), *texts)


def _chain_labels(
    chain: Chain, rail: _Rail, stops: list[float]
) -> tuple[list[Text], list[tuple[Point, Point]]]:
    """Return the labels that sit over their gap, those led outside, and the leaders of these."""
    rows = [
        ((a + b) / 2, abs(b - a), label, _block(label, chain.size))
        for (a, b), label in zip(pairwise(stops), chain.labels, strict=True)
        if label
    ]
    fits = [row for row in rows if row[3] + 2 * (SLASH + 0.4) <= row[1]]
    texts = [_over(chain, rail, centre, label) for centre, _, label, _ in fits]
    out = sorted((row for row in rows if row not in fits), key=lambda row: row[0])
    centres = spread([row[0] for row in out], [row[3] for row in out], APART)
    leaders: list[tuple[Point, Point]] = []
    for row, centre in zip(out, centres, strict=True):
        text, strokes = _led(chain, rail, row[0], centre, row[2])
        texts.append(text)
        leaders += strokes
    return texts, leaders


def _over(chain: Chain, rail: _Rail, centre: float, label: str) -> Text:
    """Return a label standing on the dimension line."""
    at = rail.paper(centre, chain.offset + rail.up * PAD)
    return Text(at, label, chain.size, "middle", angle=rail.angle, clear=True)


def _led(
    chain: Chain, rail: _Rail, start: float, centre: float, label: str
) -> tuple[Text, list[tuple[Point, Point]]]:
    """Return a label led out beyond the row that stands on the line, and its leader."""
    out = _sign(chain.offset)
    first = PAD + ascent(chain.size) + 0.6 if out == rail.up else 0.8
    near, far = chain.offset + out * first, chain.offset + out * (first + JOG)
    foot = descent(chain.size) if out == rail.up else ascent(chain.size)
    text = Text(
        rail.paper(centre, far + out * (0.5 + foot)),
        label,
        chain.size,
        "middle",
        angle=rail.angle,
        clear=True,
    )
    return text, [
        (rail.paper(start, chain.offset), rail.paper(start, near)),
        (rail.paper(start, near), rail.paper(centre, far)),
    ]


def lay_running(run: Running, scale: float) -> tuple[Flat, ...]:
    """Return running dimensions as strokes and lettering in mm of paper, every label placed, none on another.

    Raises:
        ValueError: unless there is one label for each point.
    """
    if len(run.labels) != len(run.points):
        msg = f"{len(run.points)} points want as many labels, not {len(run.labels)}"
        raise ValueError(msg)
    rail = _rail(run, scale)
    out = _sign(run.offset)
    named = list(zip(run.points, run.labels, strict=True))
    if run.zero:
        named.append((run.zero, run.zero_label))
    at = sorted(((rail.local(p), label) for p, label in named), key=lambda row: row[0][0])
    high = ascent(run.size) + descent(run.size)
    centres = spread([p[0] for p, _ in at], [high] * len(at), 0.6)
    zero = rail.local(run.zero)[0] if run.zero else None
    stops = [p[0] for p, _ in at]
    lines = [(rail.paper(min(stops), run.offset), rail.paper(max(stops), run.offset))]
    flats: list[Flat] = []
    if zero is not None:
        flats.append(Circle(run.layer, rail.paper(zero, run.offset), 1.1))
    for (p, label), centre in zip(at, centres, strict=True):
        if w := _witness(rail, p, run.offset, 0.0):
            lines.append(w)
        if p[0] != zero:
            lines.append(_slash(rail, p[0], run.offset))
        near, far = run.offset + out * OVER, run.offset + out * (OVER + JOG)
        lines.append((rail.paper(p[0], run.offset), rail.paper(p[0], near)))
        lines.append((rail.paper(p[0], near), rail.paper(centre, far)))
        flats.append(_across(run, rail, centre, far + out * 0.8, label))
    return (Strokes(run.layer, tuple(lines)), *flats)


def _across(run: Running, rail: _Rail, s: float, t: float, label: str) -> Text:
    """Return a label that runs away from the dimension line, readable from below or from the right."""
    outward = plane.scale(plane.left(rail.direction), _sign(run.offset))
    reads = outward[0] > 1e-9 or (abs(outward[0]) <= 1e-9 and outward[1] > 0)
    course = outward if reads else plane.scale(outward, -1)
    foot = plane.along(rail.paper(s, t), plane.right(course), cap_height(run.size) / 2)
    angle = math.atan2(course[1], course[0])
    return Text(foot, label, run.size, "start" if reads else "end", angle=angle)
