"""Skins and edging of an end that is not square to the front, by hand and against a polygon library."""

from __future__ import annotations

import math

import pytest
from shapely.geometry import Polygon

from ledgewright.layout import edging_runs, lean, skin_plan
from tests.layout.slanted import (
    ALLOWANCE,
    ANGLES,
    DEEP,
    EDGING,
    LONG,
    Turning,
    bands,
    by_hand,
    edged,
    made,
)


@pytest.mark.parametrize("degrees", ANGLES)
@pytest.mark.parametrize("first", ["A", "B"])
def test_the_skin_past_a_corner_is_a_trapezium_as_far_behind_its_end_as_behind_its_front(
    degrees: float, first: str
) -> None:
    spec, found = made("outside", degrees, first)[0]
    hand = by_hand(degrees)
    assert skin_plan(found.outline, spec, found).area == pytest.approx(hand.area(DEEP), abs=1e-3)
    # The blank goes on 12 further back, its end on the same line.
    blank = skin_plan(found.blank, spec, found)
    assert blank.area == pytest.approx(hand.area(DEEP + ALLOWANCE), abs=1e-3)


@pytest.mark.parametrize("degrees", ANGLES)
@pytest.mark.parametrize("turn", ["inside", "outside"])
@pytest.mark.parametrize("first", ["A", "B"])
def test_skin_and_edging_make_up_the_finished_outline(
    degrees: float, turn: Turning, first: str
) -> None:
    for spec, found in made(turn, degrees, first):
        for ring in (found.outline, found.blank):
            skin, edging = skin_plan(ring, spec, found), bands(ring, found)
            assert skin.intersection(edging).area < 1e-3
            assert skin.area + edging.area == pytest.approx(Polygon(ring).area, abs=1e-3)
        for edge in edged(found):
            assert skin_plan(found.outline, spec, found).distance(edge) == pytest.approx(EDGING)


@pytest.mark.parametrize("degrees", ANGLES)
@pytest.mark.parametrize("first", ["A", "B"])
def test_edging_is_as_long_as_the_slanted_end_of_the_blank(degrees: float, first: str) -> None:
    """By hand: an end t degrees to the front crosses a blank 285 + 12 deep in 297/sin t."""
    spec, found = made("outside", degrees, first)[0]
    runs = dict(edging_runs(found, spec))
    slanted, square = ("right", "left") if first == "A" else ("left", "right")
    whole = DEEP + ALLOWANCE
    assert runs[f"{slanted} end"] == pytest.approx(whole / math.sin(math.radians(degrees)))
    assert runs[f"{square} end"] == pytest.approx(whole)
    assert runs["front"] == pytest.approx(by_hand(degrees).front)


@pytest.mark.parametrize("degrees", ANGLES)
def test_how_much_an_end_leans_is_the_cotangent_of_its_corner_and_nought_where_it_is_square(
    degrees: float,
) -> None:
    (_, first), (_, second) = made("outside", degrees)
    cot = 1 / math.tan(math.radians(degrees))
    # Longer at the back past a corner wider than square; the other section's joint is off square by as much.
    assert lean(first.legs[0], "right") == pytest.approx(-cot, abs=1e-12)
    assert lean(second.legs[0], "left") == pytest.approx(-cot, abs=1e-12)
    assert lean(first.legs[0], "left") == 0.0
    if degrees == 90.0:
        assert lean(first.legs[0], "right") == 0.0


def test_front_edging_covers_the_blank_of_an_end_that_is_scribed() -> None:
    """By hand: at 92.5 degrees inside the end by B opens by 285 tan 2.5; its blank is square, 12 past the longest."""
    for degrees in (87.5, 90.0, 92.5):
        spec, found = made("inside", degrees, ends="tight")[0]
        t = math.radians(degrees - 90)
        front = LONG + DEEP * math.tan(t)
        longest = max(front, LONG)
        runs = dict(edging_runs(found, spec))
        assert runs["front"] == pytest.approx(longest + ALLOWANCE, abs=1e-6)
