"""The fewest straight cuts in a band, and from mark to mark: against brute force by another route, and closed forms."""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Callable, Sequence
from itertools import pairwise

import numpy as np
import pytest
from scipy.optimize import linprog
from shapely.geometry import LineString, Point

from ledgewright.layout.polyline import mark_to_mark, within_band

Knots = tuple[int, ...]


def fewest(
    count: int, may: Callable[[int, int], bool], fits: Callable[[Knots], bool]
) -> tuple[int, int]:
    """The least number of cuts, and how many sets of knots were tried, every set of inner stations by size."""
    tried = 0
    for k in range(count - 1):
        for inner in itertools.combinations(range(1, count - 1), k):
            knots = (0, *inner, count - 1)
            tried += 1
            if all(may(i, j) for i, j in pairwise(knots)) and fits(knots):
                return k + 1, tried
    raise AssertionError


def in_band(at: Sequence[float], low: Sequence[float], high: Sequence[float], knots: Knots) -> bool:
    """Whether any heights at the knots keep a polyline in the band: a linear program without an aim."""
    share = np.zeros((len(at), len(knots)))
    for c, (i, k) in enumerate(pairwise(knots)):
        for m in range(i, k + 1):
            share[m, c : c + 2] = (at[k] - at[m], at[m] - at[i])
            share[m] /= at[k] - at[i]
    found = linprog(
        np.zeros(len(knots)),
        A_ub=np.vstack([share, -share]),
        b_ub=np.concatenate([high, [-x for x in low]]),
        bounds=[(None, None)] * len(knots),
    )
    return bool(found.status == 0)


def wall(pick: random.Random, most: int) -> tuple[list[float], list[float], float, float]:
    count = pick.randint(3, most)
    at = [0.0]
    for _ in range(count - 1):
        at.append(at[-1] + pick.uniform(60, 300))
    takes, rough = [], pick.choice((0.4, 1.0, 3.0))
    here = 0.0
    for _ in at:
        here += pick.gauss(0, rough)
        takes.append(here)
    return at, takes, pick.choice((0.3, 0.5, 1.0, 2.0)), pick.choice((math.inf, math.inf, 700.0))


def against_brute_force(seeds: range, most: int) -> None:
    several = limited = 0
    for seed in seeds:
        pick = random.Random(f"cuts {seed}")  # noqa: S311  # cases, not secrets
        at, takes, tolerance, longest = wall(pick, most)
        high = [take + tolerance for take in takes]

        def may(i: int, k: int, at: list[float] = at, longest: float = longest) -> bool:
            return k == i + 1 or at[k] - at[i] <= longest

        def free(
            knots: Knots,
            at: list[float] = at,
            low: list[float] = takes,
            high: list[float] = high,
        ) -> bool:
            return in_band(at, low, high, knots)

        found = within_band(at, takes, high, longest)
        assert len(found) - 1 == fewest(len(at), may, free)[0], seed
        line = np.interp(at, [x for x, _ in found], [y for _, y in found])
        assert np.all(line >= np.array(takes) - 1e-9), seed
        assert np.all(line <= np.array(high) + 1e-5), seed
        assert {x for x, _ in found} <= set(at)
        several += 1 < len(found) - 1 < len(at) - 1

        marks = list(zip(at, takes, strict=True))

        def short(
            i: int,
            k: int,
            marks: list[tuple[float, float]] = marks,
            longest: float = longest,
        ) -> bool:
            return k == i + 1 or LineString([marks[i], marks[k]]).length <= longest

        def kept(
            knots: Knots,
            marks: list[tuple[float, float]] = marks,
            tolerance: float = tolerance,
        ) -> bool:
            return all(
                LineString([marks[i], marks[k]]).distance(Point(p)) <= tolerance + 1e-9
                for i, k in pairwise(knots)
                for p in marks[i : k + 1]
            )

        best = mark_to_mark(marks, tolerance, longest)
        assert len(best) - 1 == fewest(len(at), short, kept)[0], seed
        limited += longest < math.inf
    assert several > len(seeds) / 4
    assert limited > len(seeds) / 5


def test_no_fewer_cuts_by_brute_force() -> None:
    against_brute_force(range(40), 9)


@pytest.mark.soak
def test_no_fewer_cuts_by_brute_force_up_to_sixteen_stations() -> None:
    against_brute_force(range(1000, 1060), 16)


@pytest.mark.parametrize("count", [1, 2, 5])
def test_a_parabola_by_its_closed_form(count: int) -> None:
    """A chord over a length l of y = x^2 / 2R stands off by l^2 / 8R everywhere; so far may a cut take off too much.

    Cuts that may lie between the wall and t past it touch it in their middle and lie t off at their ends: each spans
    l = sqrt(8 R t).
    """
    radius, tolerance = 40_000.0, 0.5
    each = math.sqrt(8 * radius * tolerance)
    whole = each * count * (1 - 1e-9)
    at = [whole * k / (count * 8) for k in range(count * 8 + 1)]
    belly = [-x * x / 2 / radius for x in at]
    assert len(within_band(at, belly, [y + tolerance for y in belly])) - 1 == count
    longer = [x * 1.02 for x in at]
    belly = [-x * x / 2 / radius for x in longer]
    assert len(within_band(longer, belly, [y + tolerance for y in belly])) - 1 == count + 1


def test_cuts_that_only_take_away_are_fewer_than_from_mark_to_mark_on_a_ripple() -> None:
    """A wall that goes in and out by less than the tolerance takes one cut, laid along its outermost marks."""
    at = [100.0 * k for k in range(9)]
    ripple = [0.4 * (k % 2) for k in range(9)]
    (a, p), (b, q) = within_band(at, ripple, [y + 0.5 for y in ripple])
    assert (a, b) == (0.0, 800.0)
    assert (p, q) == pytest.approx((0.4, 0.4), abs=1e-5)


def test_a_short_guide_makes_more_cuts() -> None:
    at = [150.0 * k for k in range(11)]
    straight = [3.0] * 11
    high = [3.5] * 11
    assert len(within_band(at, straight, high)) == 2
    short = [x for x, _ in within_band(at, straight, high, 600.0)]
    assert len(short) - 1 == 3  # 1500 over 600
    assert max(b - a for a, b in pairwise(short)) <= 600.0
    # No guide is too short for neighbouring stations: it is then set anew within the cut.
    assert len(within_band(at, straight, high, 100.0)) == 11
    marks = list(zip(at, straight, strict=True))
    assert len(mark_to_mark(marks, 0.5, 100.0)) == 11
