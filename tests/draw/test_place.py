"""Labels of dimensions: none lost, none on another, whatever the gaps."""

from __future__ import annotations

import math
from itertools import combinations, pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import lsq_linear
from shapely.geometry import LineString, Polygon

from ledgewright import plane
from ledgewright.draw import Chain, Drawing, Flat, Running, Strokes, Text, lay, spread, text_ring
from ledgewright.plane import Point

LABELS = st.sampled_from(
    ["1", "12 3/8", "6 1/4", "31 9/16 A2", "0.5", "1234.5", "69 1/4 to the end"]
)
GAPS = st.lists(st.floats(0.0, 400.0), min_size=1, max_size=12)
SCALES = st.sampled_from([1.0, 1 / 5, 1 / 16, 1 / 48])


def texts(flats: tuple[Flat, ...]) -> list[Text]:
    return [flat for flat in flats if isinstance(flat, Text)]


def none_overlap(placed: list[Text]) -> bool:
    rings = [Polygon(text_ring(t)) for t in placed]
    return all(a.intersection(b).area < 1e-6 for a, b in combinations(rings, 2))


def stops(gaps: list[float], direction: Point) -> list[Point]:
    at = [0.0]
    for gap in gaps:
        at.append(at[-1] + gap)
    return [plane.scale(direction, s) for s in at]


@settings(deadline=None)
@given(
    st.lists(st.tuples(st.floats(-500, 500), st.floats(1, 60)), min_size=1, max_size=12),
    st.floats(0, 5),
)
def test_spread_keeps_order_and_distance(rows: list[tuple[float, float]], apart: float) -> None:
    rows = sorted(rows)
    sizes = [size for _, size in rows]
    centres = spread([c for c, _ in rows], sizes, apart)
    for (a, b), (p, q) in zip(pairwise(centres), pairwise(sizes), strict=True):
        assert b - a >= (p + q) / 2 + apart - 1e-6


def test_spread_is_the_least_squares_answer() -> None:
    # Against a general solver: with the needed distances taken off it is least squares with rising unknowns,
    # x[i] = x[0] + the sum of steps that are not negative (scipy.optimize.lsq_linear).
    wanted, sizes = [0.0, 1.0, 2.0, 30.0, 31.0], [4.0, 6.0, 4.0, 4.0, 8.0]
    least = np.cumsum([0.0, *((a + b) / 2 + 1 for a, b in pairwise(sizes))])
    steps = np.tril(np.ones((5, 5)))
    low = np.array([-np.inf, 0, 0, 0, 0])
    best = lsq_linear(steps, np.array(wanted) - least, (low, np.full(5, np.inf)), tol=1e-13)
    assert spread(wanted, sizes, 1.0) == pytest.approx(steps @ best.x + least, abs=1e-5)


def test_spread_leaves_what_does_not_crowd_where_it_is() -> None:
    assert spread([0.0, 50.0, 90.0], [8.0, 8.0, 8.0], 1.0) == (0.0, 50.0, 90.0)


@settings(deadline=None, max_examples=150)
@given(GAPS, st.data(), SCALES, st.floats(-math.pi, math.pi), st.sampled_from([-9.0, 9.0]))
def test_no_chain_label_is_lost_or_covered(
    gaps: list[float], data: st.DataObject, scale: float, angle: float, offset: float
) -> None:
    course = (math.cos(angle), math.sin(angle))
    labels = tuple(data.draw(LABELS) for _ in gaps)
    chain = Chain(tuple(stops(gaps, course)), labels, course, (0.0, 0.0), offset)
    placed = texts(lay(Drawing("t", "d", (chain,), scale)))
    assert sorted(t.text for t in placed) == sorted(labels)
    assert none_overlap(placed)


@settings(deadline=None, max_examples=150)
@given(GAPS, st.data(), SCALES, st.floats(-math.pi, math.pi), st.sampled_from([-9.0, 9.0]))
def test_no_running_label_is_lost_or_covered(
    gaps: list[float], data: st.DataObject, scale: float, angle: float, offset: float
) -> None:
    course = (math.cos(angle), math.sin(angle))
    at = stops(gaps, course)
    labels = tuple(data.draw(LABELS) for _ in gaps)
    run = Running(at[0], tuple(at[1:]), labels, course, at[0], offset)
    placed = texts(lay(Drawing("t", "d", (run,), scale)))
    assert sorted(t.text for t in placed) == sorted(["0", *labels])
    assert none_overlap(placed)


@settings(deadline=None, max_examples=60)
@given(GAPS, st.data(), SCALES, st.sampled_from([-9.0, 9.0]))
def test_no_leader_runs_through_a_label(
    gaps: list[float], data: st.DataObject, scale: float, offset: float
) -> None:
    labels = tuple(data.draw(LABELS) for _ in gaps)
    chain = Chain(tuple(stops(gaps, (1.0, 0.0))), labels, (1.0, 0.0), (0.0, 0.0), offset)
    flats = lay(Drawing("t", "d", (chain,), scale))
    strokes = [LineString(s) for f in flats if isinstance(f, Strokes) for s in f.segments]
    for ring in (Polygon(text_ring(t)) for t in texts(flats)):
        assert all(stroke.intersection(ring).length < 1e-6 for stroke in strokes)


def test_letters_never_stand_on_their_head() -> None:
    for k in range(24):
        angle = k * math.tau / 24
        course = (math.cos(angle), math.sin(angle))
        chain = Chain(((0, 0), plane.scale(course, 400)), ("12 3/8",), course, (0, 0), 9.0)
        run = Running((0, 0), (plane.scale(course, 400),), ("12 3/8",), course, (0, 0), 9.0)
        for text in texts(lay(Drawing("t", "d", (chain, run), 1 / 8))):
            assert -math.pi / 2 - 1e-9 < text.angle <= math.pi / 2 + 1e-9


def test_a_label_that_fits_stands_on_its_own_gap() -> None:
    # By hand: the gap is 160 mm at 1/8, so its middle lies at 10 mm of paper.
    chain = Chain(((0, 0), (160, 0)), ("12",), (1, 0), (0, 0), 9.0)
    (text,) = texts(lay(Drawing("t", "d", (chain,), 1 / 8)))
    assert text.at[0] == pytest.approx(10.0)
    assert text.at[1] > 9.0


def test_a_wrong_number_of_labels_is_refused() -> None:
    with pytest.raises(ValueError, match="2 gaps, not 1"):
        lay(Drawing("t", "d", (Chain(((0, 0), (1, 0), (2, 0)), ("1",), (1, 0), (0, 0), 5.0),), 1))
    with pytest.raises(ValueError, match="want as many labels"):
        lay(Drawing("t", "d", (Running((0, 0), ((1, 0),), (), (1, 0), (0, 0), 5.0),), 1))
