"""Shelves that turn an outside corner: by hand, against a polygon library, in the mirror, from either tape."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon

from ledgewright import plane
from ledgewright.job import Back, Leg, Spec, TapedWall
from ledgewright.layout import (
    Frame,
    LayoutError,
    clashes,
    conflicts,
    corner_of,
    edging_runs,
    frame,
    skin_plan,
)
from ledgewright.survey import Room, Wall, room
from tests.layout import asked
from tests.survey.taped import corner, tapes, wall

gaps = st.lists(st.floats(0, 12), min_size=6, max_size=6)
PLACES = [0.0, 400.0, 800.0, 1200.0, 1600.0, 2000.0]
SQUARE = [(-900, 0), (-900, -285), (285, -285), (285, 800), (0, 800), (0, 0)]
STUDS = [(381.0, 419.0), (781.0, 819.0), (1181.0, 1219.0)]


def pier(angle: float, a: list[float] | None = None, b: list[float] | None = None) -> Room:
    """Two walls of 2000 round an outside corner of `angle` of solid; A is taped from the corner."""
    faces = [x or [10.0] * 6 for x in (a, b)]
    walls = [
        wall(
            "A",
            2000,
            list(zip(PLACES, faces[0], strict=True)),
            tape_from="right",
            members=STUDS,
        ),
        wall("B", 2000, list(zip(PLACES, faces[1], strict=True)), members=STUDS),
    ]
    return room(tapes(walls, [corner("A", "B", turn="outside", angle=angle)]), 1365)


def turning(a: float, b: float, *, rods: bool = False, **more: float | Back | str) -> Spec:
    pins = [asked.rod(w, f"{w}.s{k}", 200.0) for w in "AB" for k in (1, 2)] if rods else []
    return asked.shelf([Leg("A", -a, 0.0), Leg("B", 0.0, b)], pins, **more)  # type: ignore[arg-type]  # by name


def solid(there: Room) -> Polygon:
    """The pier as one polygon, by its two true faces alone."""
    return Polygon([of.at(*p) for of in there.walls for p in of.line])


@pytest.mark.parametrize("degrees", [80, 90, 91.1, 100])
def test_the_area_is_two_strips_and_the_kite_between_them(degrees: float) -> None:
    # Hand: each leg a trapezium whose front is longer by d cot(angle/2); at 90 degrees d (a + b + d).
    a, b, d = 1600.0, 1250.0, 285.0
    angle = math.radians(degrees)
    found = frame(pier(angle), turning(a, b))
    by_hand = d * (a + b) + d * d / math.tan(angle / 2)
    assert plane.area(found.outline) == pytest.approx(by_hand, rel=1e-12)
    assert Polygon(found.outline).area == pytest.approx(by_hand, rel=1e-12)
    assert found.turn == "outside"
    # The blank lies 12 behind both faces: its strips are 297 deep, its legs 12 cot(angle/2) shorter.
    back = 12 / math.tan(angle / 2)
    blank = 297 * (a + b - 2 * back) + 297**2 / math.tan(angle / 2)
    assert plane.area(found.blank) == pytest.approx(blank, rel=1e-12)


def test_a_square_outside_corner_point_by_point() -> None:
    # A runs along x with its right end at (0, 0); B turns away from the room, into +y, its room at +x.
    found = frame(pier(math.pi / 2), turning(900, 800))
    by_hand = set(SQUARE)
    assert {(round(x, 6), round(y, 6)) for x, y in found.outline} >= by_hand
    assert Polygon(found.outline).symmetric_difference(Polygon(SQUARE)).area < 1e-6
    blank = {(-900, 12), (-900, -285), (285, -285), (285, 800), (-12, 800), (-12, 12)}
    assert {(round(x, 6), round(y, 6)) for x, y in found.blank} == blank
    left, right = found.legs
    assert (left.start, left.end) == pytest.approx((-900, 285))
    assert (right.start, right.end) == pytest.approx((-285, 800))
    assert (left.left_end, left.right_end) == ("free", "corner")
    assert (right.left_end, right.right_end) == ("corner", "free")
    notch, tip = corner_of(found.blank, found)
    assert notch == pytest.approx((-12, 12))
    assert tip == pytest.approx((285, -285))
    assert [s.remove for s in found.scribe] == pytest.approx([12.0] * len(found.scribe))
    # Both fronts run on to the corner: 900 + 285 and 800 + 285.
    runs = [size for name, size in edging_runs(found, turning(900, 800)) if "front" in name]
    assert runs == pytest.approx([1185, 1085])


def test_the_skin_loses_the_edging_on_both_fronts_right_round_the_corner() -> None:
    spec = turning(900, 800)
    found = frame(pier(math.pi / 2), spec)
    # Finished: 1185 x 285 and 800 x 285; the edging of 12 goes off both fronts and both free ends.
    whole = 1185 * 285 + 800 * 285
    edging = 12 * (1185 + 1085 - 12) + 12 * (285 - 12) * 2
    assert skin_plan(found.outline, spec, found).area == pytest.approx(whole - edging)


def test_rods_stand_square_on_the_first_wall_and_along_its_string_on_the_other() -> None:
    angle = math.radians(91.1)
    there = pier(angle)
    found = frame(there, turning(900, 1000, rods=True))
    assert found.first == "B"
    first, other = there.wall("B"), there.wall("A")
    for rod in found.rods:
        axis = (rod.axis[0], rod.axis[1])
        of = first if rod.wall == "B" else other
        assert plane.dot(axis, of.outward) > 0.99
        line = first.outward if rod.wall == "B" else first.direction
        assert abs(plane.cross(axis, line)) < 1e-12
        # The axis passes through the member's centre on the wood, 16 behind the face.
        member = next(m for m in of.members if m.id == rod.member)
        assert of.figures(rod.point(0.0)) == pytest.approx((member.centre, -16.0))
    for rod, at in zip(found.rods, found.slots, strict=True):
        assert rod.id == at.rod
        # A slot begins where both its sides are behind the back edge: 20 wide, askew by 1.1 degrees.
        grown = Polygon(found.outline).buffer(20 * math.sin(math.radians(1.1)) + 1e-6)
        assert grown.contains(Polygon(at.plan))
        # 200 of rod and 15 past its tip lie in the shelf; the skewed ones a little less than the whole.
        assert at.depth == pytest.approx(215, abs=0.2)


@settings(deadline=None, max_examples=60)
@given(gaps, gaps, st.floats(1.45, 1.7), st.sampled_from(["tight", "caulk", "shadow gap"]))
def test_no_shelf_enters_a_bowed_pier_and_a_tight_one_leaves_no_gap(
    a: list[float], b: list[float], angle: float, back: Back
) -> None:
    there = pier(angle, a, b)
    found = frame(there, turning(1555, 1130, back=back, back_gap=0.0))
    shelf = Polygon(found.outline)
    assert shelf.is_valid
    assert conflicts(there, found) == ()
    assert shelf.intersection(solid(there)).area < 1e-6
    if back == "tight":
        edge = LineString([*found.outline, found.outline[0]])
        for leg in found.legs:
            of = there.wall(leg.wall)
            low, high = sorted(of.figures(leg.back[k])[0] for k in (0, -1))
            for k in range(41):
                s = low + (high - low) * k / 40
                assert edge.distance(Point(of.at(s, of.face(s)))) < 1e-9


@settings(deadline=None, max_examples=60)
@given(gaps, gaps, st.floats(1.45, 1.7))
def test_scribing_only_takes_away(a: list[float], b: list[float], angle: float) -> None:
    there = pier(angle, a, b)
    found = frame(there, turning(1555, 1130))
    assert all(s.remove >= 0 for s in found.scribe)
    assert Polygon(found.outline).difference(Polygon(found.blank).buffer(1e-6)).area < 1e-6
    for leg in found.legs:
        at = [s.along for s in found.scribe if s.wall == leg.wall]
        assert max(y - x for x, y in pairwise(at)) <= 150 + 1e-9


def mirrored(w: TapedWall) -> TapedWall:
    return replace(
        w,
        tape_from="left" if w.tape_from == "right" else "right",
        lines=tuple(replace(x, gaps=tuple((-s, g) for s, g in reversed(x.gaps))) for x in w.lines),
        members=tuple(replace(m, left=-m.right, right=-m.left) for m in w.members),
    )


def seen(found: Frame, of: Wall, sign: int) -> list[float]:
    figures = ((round(sign * s, 6), round(out, 6)) for s, out in map(of.figures, found.outline))
    return [figure for point in sorted(figures) for figure in point]


@settings(deadline=None, max_examples=30)
@given(gaps, gaps, st.floats(1.45, 1.7))
def test_the_mirror_image_of_a_pier_gives_the_mirrored_shelf(
    a: list[float], b: list[float], angle: float
) -> None:
    # The string touches the hook, so both faces start at the same gap in the corner.
    faces = [list(zip(PLACES, x, strict=True)) for x in (a, b)]
    walls = [
        wall("A", 2000, faces[0], tape_from="right", members=STUDS),
        wall("B", 2000, faces[1], members=STUDS),
    ]
    flipped = [mirrored(walls[1]), mirrored(walls[0])]
    here = room(tapes(walls, [corner("A", "B", turn="outside", angle=angle)]), 1365)
    there = room(tapes(flipped, [corner("B", "A", turn="outside", angle=angle)]), 1365)
    spec = turning(1555, 1130, rods=True)
    legs = tuple(replace(leg, start=-leg.end, end=-leg.start) for leg in reversed(spec.legs))
    plain, other = frame(here, spec), frame(there, replace(spec, legs=legs))
    assert seen(plain, here.wall("A"), -1) == pytest.approx(
        seen(other, there.wall("A"), 1), abs=1e-5
    )
    marks = {r.mark: r for r in other.rods}
    for r in plain.rods:
        tip, out = here.wall("A").figures(r.point(100.0))
        assert there.wall("A").figures(marks[r.mark].point(100.0)) == pytest.approx((-tip, out))


@settings(deadline=None, max_examples=30)
@given(gaps)
def test_the_end_the_tape_was_hooked_on_does_not_change_the_shelf(face: list[float]) -> None:
    line = list(zip(PLACES, face, strict=True))
    flat = [(0.0, 5.0)]
    shapes = []
    for hook in ("left", "right"):
        gaps_b = line if hook == "left" else list(zip(PLACES, face[::-1], strict=True))
        walls = [wall("A", 2000, flat), wall("B", 2000, gaps_b, tape_from=hook)]
        there = room(tapes(walls, [corner("A", "B", turn="outside", angle=1.58)]), 1365)
        off = 0.0 if hook == "left" else -2000.0
        spec = asked.shelf([Leg("A", 600, 2000), Leg("B", off, off + 900)])
        shapes.append(Polygon(frame(there, spec).outline))
    # The same room: the string touches the face at the hook, so only the string itself moved.
    assert shapes[0].symmetric_difference(shapes[1]).area < 1e-3


def test_one_more_stud_moves_no_rod() -> None:
    spec = turning(900, 1000, rods=True)
    here = pier(math.pi / 2)
    walls = [
        wall(
            name,
            2000,
            [(p, 10.0) for p in PLACES],
            tape_from="right" if name == "A" else "left",
            members=[*STUDS, (581.0, 619.0)],
        )
        for name in "AB"
    ]
    more = room(tapes(walls, [corner("A", "B", turn="outside", angle=math.pi / 2)]), 1365)
    assert frame(more, spec) == frame(here, spec)


def test_rods_whose_embedments_meet_in_the_corner_post_are_refused() -> None:
    # Studs 40 from the corner on both walls: rods set 75 deep cross inside the pier.
    walls = [
        wall("A", 2000, [(0, 10)], tape_from="right", members=[(21, 59), *STUDS]),
        wall("B", 2000, [(0, 10)], members=[(21, 59), *STUDS]),
    ]
    there = room(tapes(walls, [corner("A", "B", turn="outside", angle=math.pi / 2)]), 1365)
    with pytest.raises(LayoutError, match="run into each other"):
        frame(there, turning(900, 1000, rods=True))


def crossing(aside: float, up: float, deep: float = 90.0) -> list[str]:
    """Two shelves at a square outside corner, one on each wall, a rod of each `aside` from the corner in the wood."""
    there = pier(math.pi / 2)
    found = frame(there, turning(900, 1000, rods=True))
    a, b = (next(r for r in found.rods if r.wall == w) for w in "AB")
    z = found.rods[0].origin[2]
    # A runs along x and B along y from the corner at (0, 0); the wood of either lies on the far side.
    one = replace(a, origin=(-aside, 0.0, z), axis=(0.0, -1.0, 0.0), embedment=deep)
    other = replace(b, origin=(0.0, aside, z + up), axis=(1.0, 0.0, 0.0), embedment=deep)
    lower = replace(found, rods=(one,), outline=((0, -9), (9, -9), (9, 0)))
    upper = replace(found, shelf="upper", rods=(other,), outline=((20, 0), (29, 0), (29, 9)))
    told = [why for _, why in clashes([lower, upper])]
    one_shelf = [why for _, why in clashes([replace(found, rods=(one, other))])]
    assert one_shelf == told
    return told


def test_holes_of_two_walls_do_not_meet_in_the_post_of_an_outside_corner() -> None:
    """By hand: two holes of 18 need 9 + 9 + 4.7625 = 22.7625 between axes that cross over one another."""
    (told,) = crossing(31.75, 0.0)
    assert told.startswith("Rods A2 and B1 would")
    assert "Take one of the two out" in told
    assert len(crossing(31.75, 22.7)) == 1
    assert crossing(31.75, 22.8) == []


def test_holes_of_two_walls_that_end_short_of_one_another_are_not_refused() -> None:
    """By hand, at one height, each (a, 0) to (a, deep) and (0, a) to (deep, a): between ends sqrt(2) (a - deep)."""
    short = 60.0
    need = 22.7625 / math.sqrt(2)
    assert len(crossing(short + need - 0.1, 0.0, short)) == 1
    assert crossing(short + need + 0.1, 0.0, short) == []
