"""Core at ends that are not square to the front, against their skins, by a polygon library alone."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations, pairwise

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry

from ledgewright.core import Core, core, mass
from ledgewright.job import Groove, Lock, Spec
from ledgewright.layout import Frame, skin_plan
from tests.layout.slanted import ALLOWANCE, ANGLES, DEEP, EDGING, Turning, by_hand, edged, made

UNDERCUT = 3.2


def union(found: Core) -> BaseGeometry:
    return shapely.union_all([Polygon(p.plan) for p in found.pieces], grid_size=1e-9)


def laid(spec: Spec, frame: Frame) -> Core:
    return core(spec, frame, None)


@pytest.mark.parametrize("degrees", [75.0, 90.4, 100.0])
@pytest.mark.parametrize("turn", ["inside", "outside"])
@pytest.mark.parametrize("first", ["A", "B"])
def test_every_piece_lies_between_the_skins_and_no_two_in_one_place(
    degrees: float, turn: Turning, first: str
) -> None:
    for spec, frame in made(turn, degrees, first):
        found, skin = laid(spec, frame), skin_plan(frame.outline, spec, frame)
        wood = [Polygon(p.plan) for p in found.pieces]
        assert max(p.difference(skin).area for p in wood) < 1e-3
        assert max(a.intersection(b).area for a, b in combinations(wood, 2)) < 1e-3
        assert found.short == ()
        assert sum(p.kind == "end strip" for p in found.pieces) == 2


@pytest.mark.parametrize("degrees", ANGLES)
@pytest.mark.parametrize("first", ["A", "B"])
def test_wood_stands_behind_the_edging_along_the_whole_of_a_slanted_end(
    degrees: float, first: str
) -> None:
    """Common practice: edging is glued to core as well as to skins, so there is no hollow behind it."""
    spec, frame = made("outside", degrees, first)[0]
    wood = union(laid(spec, frame))
    for edge in edged(frame):
        # From behind the front's edging to before the undercut of the back.
        for part in np.linspace(0.12, 0.95, 25):
            assert wood.distance(edge.interpolate(float(part), normalized=True)) == pytest.approx(
                EDGING, abs=1e-6
            )


@pytest.mark.parametrize("degrees", ANGLES)
def test_a_slanted_end_strip_is_nowhere_narrower_than_half_of_itself(degrees: float) -> None:
    """A strip of 30 loses no more than 15 to the end, or runs along it, 30 wide square to it."""
    spec, frame = made("outside", degrees)[0]
    (leg,) = frame.legs
    strips = [Polygon(p.plan) for p in laid(spec, frame).pieces if p.kind == "end strip"]
    end = LineString([leg.front[1], leg.back[-1]])
    slanted = min(strips, key=lambda p: p.distance(end))
    lean = abs(by_hand(degrees).lean)
    between = DEEP - EDGING - 2 * 30.0 - UNDERCUT
    (x0, y0), (x1, y1) = leg.front
    along = ((x1 - x0) / LineString(leg.front).length, (y1 - y0) / LineString(leg.front).length)
    widths = []
    for part in (0.2, 0.4, 0.6, 0.8):
        at = end.interpolate(part, normalized=True)
        ray = LineString([at, Point(at.x - 400 * along[0], at.y - 400 * along[1])])
        widths.append(slanted.intersection(ray).length)
    if lean * between <= 15.0:
        assert min(widths) >= 15.0
        assert max(widths) <= 30.0 + 1e-6
    else:
        assert widths == pytest.approx([30.0 * math.hypot(1.0, lean)] * 4)


@pytest.mark.parametrize("degrees", [80.0, 87.5, 92.5, 100.0])
@pytest.mark.parametrize("first", ["A", "B"])
def test_core_at_a_scribed_end_stands_as_far_behind_it_all_along(
    degrees: float, first: str
) -> None:
    """Behind what scribing may take, 12, and the undercut; before, it was square, and further in by what it leans."""
    spec, frame = made("inside", degrees, first, ends="tight")[0]
    (leg,) = frame.legs
    wood = union(laid(spec, frame))
    right = leg.right_end == "wall"
    end = LineString([leg.front[1], leg.back[-1]] if right else [leg.front[0], leg.back[0]])
    for part in np.linspace(0.2, 0.9, 15):
        far = wood.distance(end.interpolate(float(part), normalized=True))
        assert far == pytest.approx(ALLOWANCE + UNDERCUT, abs=1e-6)


def test_core_keeps_off_a_scribed_end_that_bends_into_the_shelf() -> None:
    """The wall beside stands 4 proud in the middle of the end: no wood nearer there either, nor anywhere."""
    belly = ((0.0, 10.0), (140.0, 6.0), (280.0, 10.0), (2000.0, 10.0))
    spec, frame = made("inside", 92.5, ends="tight", face=belly)[0]
    (leg,) = frame.legs
    ring = [*frame.outline, frame.outline[0]]
    chord = LineString([leg.front[1], leg.back[-1]])
    edges = [LineString(pair) for pair in pairwise(ring)]
    ends = [e for e in edges if max(chord.distance(Point(p)) for p in e.coords) < 5.0]
    assert len(ends) > 1
    wood = union(laid(spec, frame))
    nearest = min(wood.distance(e) for e in ends)
    assert nearest == pytest.approx(ALLOWANCE + UNDERCUT, abs=0.1)
    assert nearest >= ALLOWANCE + UNDERCUT - 1e-6


def test_a_scribed_end_that_leans_by_less_than_the_undercut_has_square_core() -> None:
    """By hand: 285 tan 0.5 deg = 2.49, under 3.2: nobody sees it, and every strip is cut square."""
    spec, frame = made("inside", 90.5, ends="tight")[0]
    (leg,) = frame.legs
    for piece in laid(spec, frame).pieces:
        if piece.kind == "end strip":
            x, y = zip(*piece.plan, strict=True)
            # A lies along x.
            box = (max(x) - min(x)) * (max(y) - min(y))
            assert Polygon(piece.plan).area == pytest.approx(box)
    assert leg.right_end == "wall"


@pytest.mark.parametrize("degrees", [87.5, 90.0, 92.5])
def test_a_groove_ends_at_the_edging_and_no_screw_stands_in_it(degrees: float) -> None:
    spec, frame = made("outside", degrees)[0]
    spec = replace(spec, groove=Groove(16.0, 9.0, 35.0))
    skin = skin_plan(frame.outline, spec, frame)
    (groove,) = laid(spec, frame).keep_outs
    shape = Polygon(groove.plan)
    assert shape.difference(skin).area < 1e-6
    # By hand: a band from 35 to 51 behind the front, between both ends' edging.
    hand = by_hand(degrees)
    assert shape.area == pytest.approx(16.0 * (hand.reach(35.0) + hand.reach(51.0)) / 2, abs=1e-3)


@pytest.mark.parametrize(("degrees", "holds"), [(75.0, False), (105.0, True)])
def test_an_angled_screw_must_stand_on_the_leg_as_it_is_cut(degrees: float, holds: bool) -> None:
    """A stud a little before the end: behind an end that leans in there is no shelf for the screw beside its rod.

    Back of the shelf at 75 degrees: 285/sin 75 = 295.05 past the corner, its front at (285 + 285 cos 75)/sin 75.
    """
    spec, frame = made("outside", degrees)[0]
    rod = frame.rods[-1]
    (leg,) = frame.legs
    # The rod put where its screw, 8 + 1 + 7.5 further along, is 2 short of the front's end, 40 before the back.
    past = leg.front[1][0] - EDGING - 2.0 - 16.5
    near = replace(rod, origin=(past, rod.origin[1], rod.origin[2]))
    moved = replace(frame, rods=(*frame.rods[:-1], near), slots=())
    spec = replace(spec, lock=Lock("angled screw", (rod.id,)))
    (lock,) = core(spec, moved, None).locks
    told = skin_plan(frame.outline, spec, frame).contains(Point(lock.at))
    assert told is holds
    assert (lock.lost == "") is holds


@pytest.mark.parametrize("degrees", [87.5, 90.0, 92.5])
def test_the_mass_of_solid_skins_core_and_edging_by_hand(degrees: float) -> None:
    """650 kg/m3 of panel, 2 x 15, 690 of core, 17, and of edging, 47 high: a trapezium and three runs."""
    spec, frame = made("outside", degrees)[0]
    hand, whole = by_hand(degrees), DEEP + ALLOWANCE
    runs = hand.front + whole + whole / math.sin(math.radians(degrees))
    skins = (2 * 15.0 * 650 + 17.0 * 690) * hand.area(DEEP)
    edging = runs * 47.0 * EDGING * 690
    assert mass(spec=spec, frame=frame, core=None) == pytest.approx((skins + edging) * 1e-9)
