"""Shelves in two sections, ends scribed or filled, and what each section has to carry."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon

from ledgewright import plane
from ledgewright.job import Demand, Even, Leg, Limits, Lock, Spec, Thing
from ledgewright.layout import (
    Frame,
    LayoutError,
    alcove_options,
    conflicts,
    end_fits,
    frame,
    hung,
    sections,
    shares,
    template,
)
from ledgewright.survey import Room, room
from tests.layout import asked
from tests.survey import taped
from tests.survey.taped import corner, tapes, wall

IN = 25.4
gaps = st.lists(st.floats(0, 8), min_size=6, max_size=6)
PLACES = [0.0, 400.0, 800.0, 1200.0, 1600.0, 2000.0]
STUDS = [(381.0, 419.0), (781.0, 819.0), (1181.0, 1219.0)]
TURN = math.asin(2.25 / 352)
"""Cheek and return of the alcove close in by this: 4.5 together over 352."""


def ell(
    turn: str, angle: float, a: list[float] | None = None, b: list[float] | None = None
) -> Room:
    faces = [x or [10.0] * 6 for x in (a, b)]
    walls = [
        wall("A", 2000, list(zip(PLACES, faces[0], strict=True)), tape_from="right", members=STUDS),
        wall("B", 2000, list(zip(PLACES, faces[1], strict=True)), members=STUDS),
    ]
    bend = corner("A", "B", turn="inside" if turn == "inside" else "outside", angle=angle)
    return room(tapes(walls, [bend]), 1365)


def two(*, first: str = "A", end_gap: float = 0.0) -> Spec:
    pins = [asked.rod(w, f"{w}.s{k}", 200.0) for w in "AB" for k in (1, 2)]
    spec = asked.shelf(
        [Leg("A", -1300, 0.0), Leg("B", 0.0, 1200)], pins, first=first, end_gap=end_gap
    )
    return replace(spec, sections=2, lock=Lock("grub screw", ("A.s1", "B.s2")))


def test_a_rod_that_falls_behind_the_other_section_is_told() -> None:
    """By hand: the section on A takes the first depth of B; a stud of B 100 from the corner is behind it."""
    faces = [(at, 10.0) for at in PLACES]
    studs = [(81.0, 119.0), *STUDS]
    walls = [
        wall("A", 2000, faces, tape_from="right", members=STUDS),
        wall("B", 2000, faces, members=studs),
    ]
    at = room(tapes(walls, [corner("A", "B", turn="inside", angle=90.0)]), 1365)
    pins = [asked.rod(w, f"{w}.s{k}", 200.0) for w in "AB" for k in (1, 2)]
    spec = asked.shelf(
        [Leg("A", -1300, 0.0), Leg("B", 0.0, 1200)],
        [*pins, asked.rod("B", "B.s3", 200.0)],
        first="A",
    )
    first, second = sections(at, replace(spec, sections=2))
    told = [note for part in (first, second) for note in frame(at, part).notes if "No rod" in note]
    assert len(told) == 1
    assert "100.0 mm on wall B" in told[0]
    assert [rod.member for rod in second.rods] == ["B.s2", "B.s3"]


def narrow() -> Room:
    bends = [
        corner("cheek", "back", angle=math.pi / 2 - TURN),
        corner("back", "return", angle=math.pi / 2 - TURN),
    ]
    return room(taped.alcove(corners=bends), 1365)


def laid(there: Room, spec: Spec) -> list[tuple[Spec, Frame]]:
    return [(part, frame(there, part)) for part in sections(there, spec)]


def test_a_shelf_in_one_section_is_itself() -> None:
    spec = replace(two(), sections=1)
    assert sections(ell("inside", math.pi / 2), spec) == (spec,)


def test_an_inside_corner_is_parted_along_the_front_line_of_the_leg_that_runs_through() -> None:
    # Square, straight walls: A is 1300 x 285 into the corner; B butts at 285 and runs to 1200.
    (one, first), (other, second) = laid(ell("inside", math.pi / 2), two())
    assert (one.id, other.id) == ("shelf.1", "shelf.2")
    assert other.title == "shelf, section 2 of 2"
    assert plane.area(first.outline) == pytest.approx(1300 * 285)
    assert plane.area(second.outline) == pytest.approx((1200 - 285) * 285)
    assert (first.legs[0].left_end, first.legs[0].right_end) == ("free", "wall")
    assert (second.legs[0].left_end, second.legs[0].right_end) == ("joint", "free")
    assert [r.id for r in first.rods] == ["A.s2", "A.s1"]  # from left to right
    assert [r.id for r in second.rods] == ["B.s1", "B.s2"]
    assert (one.lock.rods, other.lock.rods) == (("A.s1",), ("B.s2",))
    # No edging on the joint: the skin of the second loses 12 on its front and its right end only.
    assert {one.skin_top.joint, other.skin_bottom.joint} == {"one piece"}


@pytest.mark.parametrize("turn", ["inside", "outside"])
@pytest.mark.parametrize("first", ["A", "B"])
@pytest.mark.parametrize("degrees", [88.0, 90.0, 91.1])
def test_both_sections_of_an_l_make_up_the_whole_with_its_rods(
    turn: str, first: str, degrees: float
) -> None:
    there, spec = ell(turn, math.radians(degrees)), two(first=first)
    whole = frame(there, replace(spec, sections=1))
    parts = [made for _, made in laid(there, spec)]
    a, b = (Polygon(made.outline) for made in parts)
    assert a.intersection(b).area < 1e-6
    # At an inside corner the end beside the other wall is cut square, clear of it over depth and stick-out: that
    # much stays open there. Everywhere else the two are the whole.
    skew = math.tan(abs(math.radians(degrees - 90)))
    open_there = 285 * (285 + 215) * skew if turn == "inside" else 0.0
    assert (
        a.union(b.buffer(1e-7)).symmetric_difference(Polygon(whole.outline)).area
        <= open_there + 1e-3
    )
    # The joint runs along a whole edge of the second one.
    assert a.buffer(1e-6).intersection(b.boundary).length >= 285 - 500 * skew - 1
    # Parting it moves no rod.
    drawn = {r.id: (r.origin, r.axis) for made in parts for r in made.rods}
    for r in whole.rods:
        assert drawn[r.id][0] == pytest.approx(r.origin)
        assert drawn[r.id][1] == pytest.approx(r.axis)
    assert {made.legs[0].wall: n for n, made in enumerate(parts)}[first] == 0


@settings(deadline=None, max_examples=40)
@given(gaps, gaps, st.floats(1.5, 1.64), st.sampled_from(["inside", "outside"]))
def test_sections_on_bowed_walls_meet_without_overlap_and_enter_no_wall(
    a: list[float], b: list[float], angle: float, turn: str
) -> None:
    there = ell(turn, angle, a, b)
    (one, first), (other, second) = laid(there, two())
    assert conflicts(there, first) == ()
    assert conflicts(hung(there, one, first), second) == ()
    joined = Polygon(first.outline).buffer(1e-6)
    assert joined.intersection(Polygon(second.outline)).area < 0.01
    edge = LineString([*second.outline, second.outline[0]])
    # Less than the depth only by what a corner out of square and 8 of bow take from the end in the corner.
    assert joined.intersection(edge).length >= 285 - 500 * math.tan(abs(angle - math.pi / 2)) - 16
    assert other.section is not None
    assert other.section.rods_along == "A"


def test_the_mirror_image_of_a_parted_corner_is_parted_in_the_mirror() -> None:
    there = ell("inside", math.radians(91.1))
    (_, first), (_, second) = laid(there, two(first="A"))
    (_, first_b), (_, second_b) = laid(
        there, replace(two(first="B"), legs=(Leg("A", -1200, 0.0), Leg("B", 0.0, 1300)))
    )
    assert plane.area(first.outline) == pytest.approx(plane.area(first_b.outline))
    assert plane.area(second.outline) == pytest.approx(plane.area(second_b.outline))
    assert (second.legs[0].left_end, second_b.legs[0].right_end) == ("joint", "joint")


def test_an_alcove_in_two_sections_is_scribed_to_both_returns_and_parted_along_the_second_one() -> (
    None
):
    there = narrow()
    spec = replace(asked.alcove(), sections=2, ends="tight", end_gap=0.0, joint=682.0)
    (one, first), (other, second) = laid(there, spec)
    # 682 from the left is past the middle: the left section is the longer, hung first.
    assert first.legs[0].left_end == "wall"
    assert first.legs[0].right_end == "joint"
    assert (second.legs[0].left_end, second.legs[0].right_end) == ("joint", "wall")
    cheek, back = there.wall("cheek"), there.wall("back")
    edge = LineString([*first.outline, first.outline[0]])
    for s, out in cheek.line:
        if 2 < back.figures(cheek.at(s, out))[1] < 283:
            assert edge.distance(Point(cheek.at(s, out))) < 1e-6
    # The joint leans as the steepest stretch of the return: string 2.25/352, and the line 0.5 in 95 on it.
    assert other.section is not None
    assert other.section.left is not None
    steepest = min(
        (s1 - s0) / (o1 - o0)
        for (s0, o0), (s1, o1) in [
            (back.figures(there.wall("return").at(*p)), back.figures(there.wall("return").at(*q)))
            for p, q in pairwise(there.wall("return").line)
        ]
    )
    assert other.section.left.lean == pytest.approx(steepest)
    assert steepest < -2.25 / 352
    # Together as wide as the alcove at the back and at the front: no gap to caulk at either end.
    for out in (5.0, 270.0):
        line = LineString([back.at(-500, out), back.at(2000, out)])
        shelf = Polygon(first.outline).union(Polygon(second.outline).buffer(1e-6))
        inner = line.intersection(shelf).length
        assert inner > 1180.5
    assert one.section is not None
    assert one.section.number == 1


def test_ends_of_the_alcove_by_hand() -> None:
    # As tests/layout/test_shelf: 1.0 clear at the mouth; 2.25 and 2.25 - 285 x 2.25/352 more at back and front.
    there = narrow()
    left, _ = end_fits(there, asked.alcove())
    assert (left.side, left.beside, left.how) == ("left", "cheek", "caulk")
    assert left.back == pytest.approx(3.25, abs=0.01)
    assert left.front == pytest.approx(3.25 - 285 * 2.25 / 352, abs=0.01)
    made = {name: spec for name, _, spec in alcove_options(asked.alcove())}
    assert list(made) == ["caulk", "filler", "two-sections", "tight"]
    strip, _ = end_fits(there, made["filler"])
    assert (strip.back, strip.front) == pytest.approx((left.back + 11, left.front + 11), abs=0.01)
    assert "filler strip" in frame(there, made["filler"]).notes[0]
    tight, also = end_fits(there, made["tight"])
    assert [tight.back, tight.front, also.back, also.front] == pytest.approx([1.0] * 4)
    assert not any("wall beside" in note for note in frame(there, made["tight"]).notes)


def test_a_scribed_end_has_a_rough_end_to_be_cut_from() -> None:
    there = narrow()
    spec = replace(asked.alcove(), ends="tight", end_gap=0.0)
    found = frame(there, spec)
    blank, shelf = Polygon(found.blank), Polygon(found.outline)
    assert shelf.difference(blank.buffer(1e-6)).area < 1e-6
    at = [s for s in found.scribe if s.wall == "cheek"]
    # The blank's end is square, 12 past the widest place of the shelf: at least 12 comes off everywhere.
    assert 12.0 <= min(s.remove for s in at) < 12.1
    assert max(s.remove for s in at) > 12.5
    assert max(b.along - a.along for a, b in pairwise(at)) <= 150.0


def test_a_section_on_one_rod_is_refused_in_words() -> None:
    there = ell("inside", math.pi / 2)
    spec = two()
    bare = replace(spec, rods=tuple(r for r in spec.rods if r.member != "B.s2"))
    with pytest.raises(LayoutError, match="section 2 of 2 of the shelf would have one rod"):
        sections(there, bare)
    alone = replace(asked.alcove(), sections=2, joint=470.0)
    with pytest.raises(LayoutError, match="each section needs at least two"):
        sections(narrow(), alone)


def demand(*loads: Even | Thing) -> Demand:
    return Demand("shelf", loads, (), 30.0, Limits(2, 4, assumed=False), accident_declined=False)


def thing(wall: str, along: float, out: float) -> Thing:
    return Thing("pot", wall, along, out, (200.0, 200.0), None, 10.0, "years")


def test_a_thing_over_the_joint_counts_fully_on_both() -> None:
    there = ell("inside", math.pi / 2)
    parts = tuple(laid(there, two()))
    # The joint is at 285 on B, the edging of A's front 12 of that: a pot 200 square reaches 100 from its centre.
    for along, on in (
        (285.0, (1, 1)),
        (100.0, (1, 0)),
        (600.0, (0, 1)),
        (370.0, (1, 1)),
        (376.0, (0, 1)),
        (187.0, (1, 1)),
        (184.0, (1, 0)),
    ):
        loads = shares(there, parts, demand(thing("B", along, 140.0)))
        assert tuple(len(each.loads) for each in loads) == on
    # Told on B, but standing on the leg of A: 140 out of B is 140 from A's right end, 100 out of A.
    (moved,) = shares(there, parts, demand(thing("B", 100.0, 140.0)))[0].loads
    assert isinstance(moved, Thing)
    assert moved.wall == "A"
    assert (moved.along, moved.out) == pytest.approx((-140, 100))
    # Round the corner what lay along B lies out from A.
    long = replace(thing("B", 100.0, 140.0), size=(180.0, 90.0), feet=(150.0, 60.0))
    (turned,) = shares(there, parts, demand(long))[0].loads
    assert isinstance(turned, Thing)
    assert (turned.size, turned.feet) == ((90.0, 180.0), (60.0, 150.0))
    assert [each.shelf for each in shares(there, parts, demand())] == ["shelf.1", "shelf.2"]


@pytest.mark.parametrize("turn", ["inside", "outside"])
def test_an_even_load_of_the_butting_leg_counts_in_the_corner_on_the_other(turn: str) -> None:
    there = ell(turn, math.pi / 2)
    parts = tuple(laid(there, two()))
    on_b = Even("books", None, 0.3, "B", None, None, "years", assumed=False)
    through, butting = (each.loads for each in shares(there, parts, demand(on_b)))
    assert butting == (on_b,)
    (corner_part,) = through
    assert isinstance(corner_part, Even)
    low = -285.0 if turn == "inside" else 0.0
    assert corner_part.wall == "A"
    assert (corner_part.start, corner_part.end) == pytest.approx((low, low + 285))
    far = replace(on_b, start=700.0, end=1000.0)
    assert shares(there, parts, demand(far))[0].loads == ()
    on_a = replace(on_b, wall="A")
    assert [each.loads for each in shares(there, parts, demand(on_a))] == [(on_a,), ()]


@pytest.mark.parametrize(("degrees", "far"), [(80.0, "front"), (100.0, "back")])
def test_an_even_load_in_a_slanted_corner_goes_on_to_where_the_section_is_longest(
    degrees: float, far: str
) -> None:
    """By hand, 285 deep: past a sharp corner (285 + 285 cos t)/sin t at the front, past a wide one 285/sin t behind."""
    there, t = ell("outside", math.radians(degrees)), math.radians(degrees)
    parts = tuple(laid(there, two()))
    on_b = Even("books", None, 0.3, "B", None, None, "years", assumed=False)
    (load,) = shares(there, parts, demand(on_b))[0].loads
    assert isinstance(load, Even)
    past = {"front": (285 + 285 * math.cos(t)) / math.sin(t), "back": 285 / math.sin(t)}
    assert load.end == pytest.approx(past[far])
    assert past[far] == max(past.values())


def test_a_section_cut_square_beside_its_wall_is_told_to_scribe_it() -> None:
    """By hand: at 92 degrees the gap opens by 285 tan 2 = 9.95 from back to front; it is in two sections already."""
    there = ell("inside", math.radians(92))
    parts = laid(there, two(end_gap=1.0))
    (told,) = (n for n in parts[0][1].notes if "cut square" in n)
    assert "in two sections" not in told
    assert told.endswith('fit a filler strip, or scribe it: ends = "tight".')
    found = re.search(r"stands ([\d.]+) mm .* and ([\d.]+) mm .* at the front", told)
    assert found is not None
    assert float(found[2]) - float(found[1]) == pytest.approx(9.95, abs=0.1)


def test_scribe_and_strip_end_with_the_wall_at_an_outside_corner() -> None:
    """Geometry: wall A ends in the corner, at 0; the section on it goes on by the depth of the other, past all wall."""
    there = ell("outside", math.pi / 2, [10.0, 12.0, 9.0, 11.0, 13.0, 8.0])
    (one, first), _ = laid(there, two())
    leg = first.legs[0]
    assert leg.end == pytest.approx(285.0)
    places = [s.along for s in first.scribe]
    assert (min(places), max(places)) == pytest.approx((-1300, 0.0))
    # On from there nothing changes: the back is straight, and as far from the front as at the corner.
    outs = [
        there.wall("A").figures(p)[1] for p in leg.back if there.wall("A").figures(p)[0] > -1e-6
    ]
    assert outs == pytest.approx([outs[0]] * len(outs))
    (strip,) = template(there, one).strips
    assert max(along for along, _ in strip.readings) == pytest.approx(0.0)
