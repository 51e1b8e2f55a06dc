"""Rods at home in their members, and their slots."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from shapely.geometry import LineString, Polygon

from ledgewright import plane
from ledgewright.job import Clearance, Leg, RodSpec, Spec, Tapes
from ledgewright.layout import Frame, LayoutError, Rod, frame
from ledgewright.survey import room
from tests.layout import asked
from tests.survey import taped
from tests.survey.taped import IN, corner, stoneware, tapes, wall


def demo(first: str | None = None, job: Tapes | None = None) -> Frame:
    return frame(room(job or stoneware(), 54.375 * IN), asked.stoneware(first=first))


def straight(*rods: RodSpec, depth_to_wood: float | None = 16.0, **more: float) -> Frame:
    of = wall("A", 2000, [(0, 10)], members=[(300, 338), (700, 738)], depth_to_wood=depth_to_wood)
    spec = asked.shelf([Leg("A", 100, 1500)], rods, **more)  # type: ignore[arg-type]  # by name
    return frame(room(tapes([of]), 1365), spec)


def test_cut_lengths_are_those_of_the_shop_s_list() -> None:
    # Demo scenes: embedment + depth to wood + stick-out, added by hand.
    found = demo()
    cuts = {r.wall: [q.cut_length / IN for q in found.rods if q.wall == r.wall] for r in found.rods}
    assert cuts["A"] == pytest.approx([12 + 1 / 32] * 4)
    # B's rods lean 1.1 degrees: their way through the board is 1/cos longer, 0.0001 in.
    assert cuts["B"] == pytest.approx([9 + 13 / 16] * 3, abs=0.0005)
    alcove = frame(room(taped.alcove(), 1365), asked.alcove())
    assert [r.cut_length for r in alcove.rods] == pytest.approx([331.0] * 4)
    record = straight(
        asked.rod("A", "A.s1", 11.25 * IN, size=0.75 * IN, embedment=4.75 * IN),
        depth_to_wood=0.625 * IN,
        depth=13.625 * IN,
    )
    assert record.rods[0].cut_length == pytest.approx(16.625 * IN)


def test_a_stud_that_stands_back_has_its_own_rod() -> None:
    # By hand: 75 in the wood, 160 out of the face, and the board's 16 or this stud's own 23 between them.
    of = wall("A", 2000, [(0, 10)], members=[(300, 338), (700, 738)], depth_to_wood=16.0)
    back = replace(of, members=(of.members[0], replace(of.members[1], depth=23.0)))
    pins = [asked.rod("A", f"A.s{k}", 160.0, embedment=75.0) for k in (1, 2)]
    spec = asked.shelf([Leg("A", 100, 1500)], pins)
    found = frame(room(tapes([back]), 1365), spec).rods
    assert [rod.cut_length for rod in found] == pytest.approx([251.0, 258.0])
    assert [rod.origin[1] for rod in found] == pytest.approx([16.0, 23.0])


def test_a_6_in_rod_square_to_its_own_wall_at_91_1_degrees_is_0_115_in_out() -> None:
    # Statement of the trade (common practice page): hence the second wall's rods are set parallel to the slide.
    at = corner("A", "B", angle=math.radians(91.1))
    there = room(stoneware(corners=[at]), 54.375 * IN)
    found = frame(there, asked.stoneware())
    of = there.wall("B")
    for r in (r for r in found.rods if r.wall == "B"):
        axis = (r.axis[0], r.axis[1])
        assert abs(plane.dot(axis, there.wall("A").outward)) < 1e-12
        assert plane.dot(axis, of.outward) > 0
        aside = r.projection * (plane.dot(axis, of.direction))
        assert abs(aside) / IN == pytest.approx(0.115, abs=0.0005)


@pytest.mark.parametrize(("first", "other"), [("A", "B"), ("B", "A")])
def test_rods_are_square_to_the_first_wall_s_string_and_parallel_to_it_on_the_other(
    first: str, other: str
) -> None:
    there = room(stoneware(), 54.375 * IN)
    found = frame(there, asked.stoneware(first=first))
    assert found.first == first
    lead = there.wall(first)
    for r in found.rods:
        axis = (r.axis[0], r.axis[1])
        assert math.hypot(*r.axis) == pytest.approx(1)
        assert r.axis[2] == 0
        if r.wall == other:
            assert abs(plane.cross(axis, lead.direction)) < 1e-12
            assert plane.dot(axis, there.wall(other).outward) > 0.99
        else:
            assert axis == pytest.approx(lead.outward)


def test_the_longer_leg_goes_first_when_nothing_is_said() -> None:
    assert demo().first == "A"


def test_a_rod_leaves_the_wood_at_its_member_s_centre_behind_the_true_face() -> None:
    there = room(stoneware(), 54.375 * IN)
    found = demo()
    # A.s2, edges 30 13/16 and 32 5/16 from the corner: centre 31 9/16. The gap there lies between 24 (1 5/32)
    # and 36 (1 7/32): 1 5/32 + 1/16 * (31 9/16 - 24)/12; the string stood 1 in off at the hook.
    behind = (5 / 32 + 1 / 16 * (31.5625 - 24) / 12) + 21 / 32
    second = next(r for r in found.rods if r.id == "A.s2")
    assert there.wall("A").figures(second.point(0)) == pytest.approx((-31.5625 * IN, -behind * IN))
    # Mid-core: 54 3/8 less the top skin 0.734 and half of 21/32.
    assert second.origin[2] == pytest.approx((54.375 - 0.734 - 21 / 64) * IN)


def test_free_runs_along_the_axis_from_the_wood_to_the_face() -> None:
    there = room(stoneware(), 54.375 * IN)
    for r in demo().rods:
        of = there.wall(r.wall)
        along, out = of.figures(r.point(r.free))
        # The face is taken level across the lean of the rod (0.33 mm at most here, slope below 1 in 100).
        assert out == pytest.approx(of.face(along), abs=0.005)


def test_marks_count_from_the_hook_and_rods_stand_left_to_right() -> None:
    assert [r.mark for r in demo().rods] == ["A4", "A3", "A2", "A1", "B1", "B2", "B3"]
    assert [r.id for r in demo().rods][:2] == ["A.s4", "A.s3"]


def test_another_stud_in_the_wall_moves_no_rod() -> None:
    job = stoneware()
    a = job.walls[0]
    extra = replace(a.members[0], id="A.extra", left=-24 * IN, right=-22.5 * IN)
    more = replace(a, members=(a.members[0], extra, *a.members[1:]))
    assert demo(job=replace(job, walls=(more, job.walls[1]))) == demo()


def test_the_slot_holds_the_rod_with_its_clearance_and_stays_in_the_shelf() -> None:
    found = demo()
    shelf = Polygon(found.outline)
    for r, s in zip(found.rods, found.slots, strict=True):
        pocket = Polygon(s.plan)
        assert s.rod == r.id
        assert s.width == pytest.approx((5 / 8 + 2 / 16) * IN)
        assert s.depth == pytest.approx(r.projection + IN / 2, abs=0.005)
        inside = LineString([r.point(r.free), r.point(r.free + r.projection)])
        bar = inside.buffer(r.bar.width / 2, cap_style="flat")
        assert bar.within(pocket.buffer(0.02))
        assert pocket.exterior.distance(
            LineString([r.point(r.free + 20), r.point(r.free + 50)])
        ) == (pytest.approx(s.width / 2))
        # Only its mouth may lie outside, by the lean across its width and the bow of the face.
        assert pocket.difference(shelf).area < 0.5 * s.width
        assert pocket.intersection(shelf).area == pytest.approx(s.depth * s.width, rel=0.002)


def test_a_shadow_gap_makes_the_slot_shallower_by_the_gap() -> None:
    pin = asked.rod("A", "A.s1", 200)
    tight = straight(pin).slots[0]
    loose = frame(
        room(tapes([wall("A", 2000, [(0, 10)], members=[(300, 338)])]), 1365),
        asked.shelf([Leg("A", 100, 1500)], [pin], back="shadow gap", back_gap=3.0),
    ).slots[0]
    assert tight.depth == pytest.approx(200 + 15)
    assert loose.depth == pytest.approx(tight.depth - 3)


@pytest.mark.parametrize(
    ("projection", "notes"),
    # Depth 285, edging 12, strip 30, end clearance 15: clear to 228, strip cut to 258, edging past it.
    [(227.9, 0), (228.1, 1), (257.9, 1)],
)
def test_a_slot_in_the_strip_is_noted(projection: float, notes: int) -> None:
    assert len(straight(asked.rod("A", "A.s1", projection)).notes) == notes


@pytest.mark.parametrize("projection", [258.1, 290.0, 900.0])
def test_a_rod_longer_than_the_shelf_is_deep_is_refused(projection: float) -> None:
    with pytest.raises(LayoutError, match="break through the edging"):
        straight(asked.rod("A", "A.s1", projection))


@pytest.mark.parametrize(
    ("start", "refused"),
    # Member centre 319, slot 10 to each side: at 298 an edged end keeps 309 - 298 - 12 < 0 of its edging.
    [(290.0, False), (298.0, True)],
)
def test_a_slot_too_near_a_free_end_is_refused(start: float, refused: bool) -> None:
    of = wall("A", 2000, [(0, 10)], members=[(300, 338)])
    spec = asked.shelf([Leg("A", start, 1500)], [asked.rod("A", "A.s1", 200)])
    if refused:
        with pytest.raises(LayoutError, match="too near an end"):
            frame(room(tapes([of]), 1365), spec)
    else:
        assert "7.0 mm" in frame(room(tapes([of]), 1365), spec).notes[0]


def test_an_end_at_a_wall_has_no_edging_to_break() -> None:
    flat = [(0.0, 10.0)]
    walls = [wall("R", 500, flat, tape_from="right"), wall("A", 2000, flat, members=[(0, 30)])]
    there = room(tapes(walls, [corner("R", "A", angle=math.pi / 2)]), 1365)
    spec = asked.shelf([Leg("A", 0, 1500)], [asked.rod("A", "A.s1", 200)], end_gap=2.0)
    # Centre 15 less half a slot of 20, less the gap of 2: 3 of the end strip is left.
    assert "3.0 mm" in frame(there, spec).notes[0]


def test_an_unknown_depth_to_wood_is_noted() -> None:
    found = straight(asked.rod("A", "A.s1", 200), depth_to_wood=None)
    assert found.rods[0].free == 0
    assert "not known" in found.notes[0]


def low_blocking() -> Frame:
    of = wall("A", 2000, [(0, 10)], members=[(300, 338)])
    of = replace(of, members=(replace(of.members[0], kind="blocking", up=(900.0, 989.0)),))
    spec = asked.shelf([Leg("A", 100, 1500)], [asked.rod("A", "A.s1", 200)])
    return frame(room(tapes([of]), 1365), spec)


def test_blocking_at_another_height_holds_no_rod() -> None:
    with pytest.raises(LayoutError, match="height of the rods"):
        low_blocking()


@pytest.mark.parametrize(
    ("rods", "words"),
    [
        ([asked.rod("B", "A.s1", 200)], "where it has no leg"),
        ([asked.rod("A", "A.s9", 200)], "no member A.s9"),
        ([asked.rod("A", "A.s1", 200)] * 2, "one member carries one"),
    ],
)
def test_rods_that_cannot_be_are_refused_in_words(rods: list[RodSpec], words: str) -> None:
    with pytest.raises(LayoutError, match=words):
        straight(*rods)


def test_a_rod_beyond_the_end_of_the_shelf_is_refused() -> None:
    of = wall("A", 2000, [(0, 10)], members=[(1700, 1738)])
    spec = asked.shelf([Leg("A", 100, 1500)], [asked.rod("A", "A.s1", 200)])
    with pytest.raises(LayoutError, match="outside the leg"):
        frame(room(tapes([of]), 1365), spec)


def cornered(a: float, b: float) -> Spec:
    return asked.shelf(
        [Leg("A", -1200, 0), Leg("B", 0, 1000)],
        [
            asked.rod("A", "A.s1", a, clearance=Clearance(1, 2, 5)),
            asked.rod("B", "B.s1", b, clearance=Clearance(1, 2, 5)),
        ],
    )


def crossing(a: float, b: float) -> Frame:
    """Both rods 119 from a square corner: A's runs out at 119 from B's face, B's at 119 from A's."""
    flat = [(0.0, 10.0)]
    walls = [
        wall("A", 1500, flat, tape_from="right", members=[(100, 138)]),
        wall("B", 1500, flat, members=[(100, 138)]),
    ]
    return frame(room(tapes(walls, [corner("A", "B", angle=math.pi / 2)]), 1365), cornered(a, b))


def test_rods_that_run_into_each_other_in_the_corner_are_refused() -> None:
    with pytest.raises(LayoutError, match="A1 and B1 run into each other"):
        crossing(200, 200)


def test_slots_that_run_into_each_other_are_noted() -> None:
    # A's rod ends at 106, 5 clear of B's, which is 8 thick on each side of 119; A's slot ends at 111 and B's begins
    # at 119 - 8 - 2 = 109.
    assert crossing(60, 60).notes == ()
    assert any("A1 and B1" in note for note in crossing(106, 200).notes)


def tips(found: Frame) -> list[Rod]:
    return sorted(found.rods, key=lambda r: r.mark)


def test_the_first_wall_decides_only_the_other_wall_s_direction() -> None:
    one, two = demo("A"), demo("B")
    assert one.outline == two.outline
    for r, q in zip(tips(one), tips(two), strict=True):
        assert r.origin == pytest.approx(q.origin)
        assert r.axis != pytest.approx(q.axis, abs=1e-6)
