"""Hatches, boxes, scales."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from ledgewright.draw import (
    ROUND_SCALES,
    STYLES,
    Arrow,
    Circle,
    Drawing,
    Fill,
    Leader,
    Pattern,
    Polyline,
    Strokes,
    Text,
    TooLarge,
    bounds,
    fit,
    lay,
    size,
    substituted,
    text_width,
)
from ledgewright.draw.lay import hatch_lines
from ledgewright.draw.styles import HATCHES
from ledgewright.plane import Ring

SQUARE: Ring = ((0, 0), (40, 0), (40, 40), (0, 40))
HOLE: Ring = ((10, 10), (30, 10), (30, 30), (10, 30))


@pytest.mark.parametrize("pattern", list(HATCHES))
def test_a_hatch_covers_its_area_and_nothing_else(pattern: Pattern) -> None:
    # Lines a pitch apart have a total length of area / pitch, within a pitch or so round the edge;
    # shapely clips the same lines.
    strokes = hatch_lines(SQUARE, [HOLE], pattern)
    area = Polygon(SQUARE, [HOLE])
    assert all(area.buffer(1e-6).covers(LineString(s)) for s in strokes)
    drawn = sum(math.dist(*s) for s in strokes)
    wanted = sum(area.area / pitch for _, pitch in HATCHES[pattern])
    assert drawn == pytest.approx(wanted, rel=0.06)


@settings(deadline=None)
@given(
    st.lists(
        st.tuples(st.floats(0, 60), st.floats(0, 60)), min_size=3, max_size=8, unique=True
    ).filter(lambda ps: Polygon(ps).is_valid and Polygon(ps).area > 1)
)
def test_a_hatch_stays_inside_any_outline(points: list[tuple[float, float]]) -> None:
    area = Polygon(points).buffer(1e-6)
    assert all(area.covers(LineString(s)) for s in hatch_lines(tuple(points), [], "no wood"))


def test_touching_areas_are_hatched_as_one() -> None:
    whole = hatch_lines(SQUARE, [], "section")
    left = hatch_lines(((0, 0), (20, 0), (20, 40), (0, 40)), [], "section")
    right = hatch_lines(((20, 0), (40, 0), (40, 40), (20, 40)), [], "section")
    total = sum(math.dist(*s) for s in (*left, *right))
    assert total == pytest.approx(sum(math.dist(*s) for s in whole), abs=0.2)


def test_bounds_hold_ink_and_lettering() -> None:
    # By hand: a 100 mm line at 1/2 is 50 mm; the lettering hangs out by its own width on the right.
    items = (Polyline("seen", ((0, 0), (100, 0))), Text((100, 0), "north", 4.0))
    x0, y0, x1, y1 = bounds(Drawing("t", "d", items, 1 / 2))
    half = STYLES["seen"].weight / 2
    assert x0 == pytest.approx(-half)
    assert x1 == pytest.approx(50 + text_width("north", 4.0))
    assert y0 < -half / 2
    assert y1 > 2.0


def test_lettering_keeps_its_size_when_the_scale_changes() -> None:
    sizes = []
    for scale in (1.0, 1 / 20):
        (text,) = lay(Drawing("t", "d", (Text((50, 0), "12", 4.0),), scale))
        assert isinstance(text, Text)
        sizes.append((text.size, text.at[0] / scale))
    assert sizes[0] == pytest.approx(sizes[1])


def test_lines_of_lettering_stand_below_each_other() -> None:
    above, below = lay(Drawing("t", "d", (Text((0, 0), "one\ntwo", 4.0),), 1))
    assert isinstance(above, Text)
    assert isinstance(below, Text)
    assert above.at[1] - below.at[1] == pytest.approx(5.0)
    assert below.at[1] == pytest.approx(0.0)


def test_fit_takes_the_largest_round_scale() -> None:
    # By hand: 1759 mm in 180 mm of paper needs 1:9.8, so 1:10.
    items = (Polyline("cut", ((0, 0), (1759, 0))),)
    drawing = fit("t", "d", items, (180.0, 100.0))
    assert drawing.scale == pytest.approx(1 / 10)
    assert size(drawing)[0] <= 180


def test_what_no_scale_can_save_is_refused() -> None:
    with pytest.raises(TooLarge, match="does not go on 20 x 20"):
        fit("t", "d", (Text((0, 0), "a label far too wide for so little paper"),), (20.0, 20.0))


def test_an_arrow_ends_at_its_tip() -> None:
    flats = lay(Drawing("t", "d", (Arrow("mark", (0, 0), (100, 0), 5.0),), 1))
    head = next(f for f in flats if isinstance(f, Fill))
    shaft = next(f for f in flats if isinstance(f, Strokes))
    assert max(p[0] for p in head.ring) == pytest.approx(100)
    assert max(p[0] for pair in shaft.segments for p in pair) < 100


def test_replaced_signs_are_told() -> None:
    items = (Leader((0, 0), (8, 8), "⌀ 16"), Circle("seen", (0, 0), 8))
    assert substituted(Drawing("t", "d", items, 1)) == ("⌀",)


@settings(deadline=None, max_examples=50)
@given(
    st.lists(st.tuples(st.floats(-3e3, 3e3), st.floats(-3e3, 3e3)), min_size=2, max_size=6),
    st.text(st.sampled_from("abc 123"), min_size=1, max_size=12),
    st.tuples(st.floats(30, 200), st.floats(30, 200)),
)
def test_the_scale_is_the_first_round_one_that_goes(
    points: list[tuple[float, float]], words: str, box: tuple[float, float]
) -> None:
    # Against trying every scale in turn: nothing may be passed over that would have gone.
    def items(scale: float) -> tuple[Polyline | Text, ...]:
        reach = 10.0 / scale
        tail = Polyline("seen", (points[0], (points[0][0] + reach, points[0][1])))
        return (Polyline("seen", tuple(points)), tail, Text(points[-1], words))

    goes = [
        over
        for over in ROUND_SCALES
        if all(
            got <= there
            for got, there in zip(
                size(Drawing("", "", items(1 / over), 1 / over)), box, strict=True
            )
        )
    ]
    if goes:
        assert fit("", "", items, box).scale == 1 / goes[0]
    else:
        with pytest.raises(TooLarge):
            fit("", "", items, box)
