"""Sizes of the parts of a section whose end is not square to its front: the rectangle each is cut from, by hand."""

from __future__ import annotations

import math

import pytest
from shapely.geometry import LineString, Polygon

from ledgewright.core import core
from ledgewright.layout import skin_plan
from ledgewright.shop import Part, parts
from ledgewright.shop.cutting import _notch
from tests.layout.slanted import ALLOWANCE, ANGLES, DEEP, EDGING, bands, box_along, by_hand, made

BACK = DEEP + ALLOWANCE


def of(degrees: float, first: str = "A") -> dict[str, Part]:
    spec, frame = made("outside", degrees, first)[0]
    listed = parts(spec=spec, frame=frame, core=core(spec, frame, None))
    return {part.letter: part for part in listed}


@pytest.mark.parametrize("degrees", ANGLES)
@pytest.mark.parametrize("first", ["A", "B"])
def test_skins_are_listed_by_the_rectangle_round_the_slanted_plan(
    degrees: float, first: str
) -> None:
    """Longest at the blank's back past a corner wider than square, behind the front's edging past a sharper one."""
    hand = by_hand(degrees)
    longest = max(hand.reach(EDGING), hand.reach(BACK))
    for letter in ("S1", "S2"):
        skin = of(degrees, first)[letter]
        assert skin.finished == pytest.approx((longest, BACK - EDGING, 15.0))
        # Common practice: 6 mm over either way.
        assert skin.rough == pytest.approx((longest + 6.0, BACK - EDGING + 6.0, 15.0))
        assert skin.plan is not None
        assert Polygon(skin.plan).area == pytest.approx(hand.area(BACK), abs=1e-3)


@pytest.mark.parametrize("degrees", ANGLES)
def test_the_rectangle_on_the_sheet_holds_the_plan_and_is_no_l(degrees: float) -> None:
    skin = of(degrees)["S1"]
    assert skin.plan is not None
    assert skin.lies is not None
    assert box_along(skin.plan, skin.lies) == pytest.approx(skin.finished[:2])
    assert _notch(skin) is None


@pytest.mark.parametrize("degrees", ANGLES)
def test_the_listed_edging_covers_every_edge_of_the_listed_skin(degrees: float) -> None:
    """Skin, and its runs of edging 12 thick laid round it with mitres, make up the blank."""
    spec, frame = made("outside", degrees)[0]
    found = of(degrees)
    runs = sorted(
        p.finished[0] for p in found.values() if p.kind == "edging" for _ in range(p.count)
    )
    t = math.radians(degrees)
    by_length = sorted([by_hand(degrees).front, BACK, BACK / math.sin(t)])
    assert runs == pytest.approx(by_length, abs=0.06)  # alike to a tenth are one part
    # Mitred lengths by the outside and the inside of each band: their mean times 12 is its area.
    skin = skin_plan(frame.blank, spec, frame)
    assert skin.area + bands(frame.blank, frame).area == pytest.approx(
        Polygon(frame.blank).area, abs=1e-3
    )
    half = math.tan((math.pi / 2 - t) / 2 + math.pi / 4)  # of the mitre at a corner of pi - t
    square = math.tan(math.pi / 4)
    front = by_hand(degrees).front
    inside = [
        front - EDGING * (square + half),
        BACK - EDGING * square,
        BACK / math.sin(t) - EDGING * half,
    ]
    outside = [front, BACK, BACK / math.sin(t)]
    # At the blank's back the end's band is cut along the back: a parallelogram's sides differ by 12 cot t.
    inside[2] += EDGING / math.tan(t)
    area = sum((a + b) / 2 * EDGING for a, b in zip(inside, outside, strict=True))
    assert bands(frame.blank, frame).area == pytest.approx(area, abs=1e-3)


@pytest.mark.parametrize("degrees", ANGLES)
def test_every_piece_of_core_goes_on_the_size_it_is_listed_with(degrees: float) -> None:
    spec, frame = made("outside", degrees)[0]
    made_core = core(spec, frame, None)
    listed = {
        piece: part
        for part in parts(spec=spec, frame=frame, core=made_core)
        for piece in part.pieces
    }
    (leg,) = frame.legs
    (x0, y0), (x1, y1) = leg.front
    long = LineString(leg.front).length
    for piece in made_core.pieces:
        sides = box_along(piece.plan, ((x1 - x0) / long, (y1 - y0) / long))
        along = piece.kind in ("back strip", "front strip")
        length, width = sides if along else sides[::-1]
        part = listed[piece.id]
        assert part.finished[0] >= length - 1e-6
        assert part.finished[1] >= width - 1e-6
        # Pieces alike to a millimetre are one part.
        assert part.finished[:2] == pytest.approx((length, width), abs=1.0)
