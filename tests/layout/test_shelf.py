"""Outline, blank and scribe against the true wall."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon

from ledgewright import plane
from ledgewright.job import Back, Leg, Spec, TapedObstacle, TapedWall
from ledgewright.layout import Frame, LayoutError, clashes, conflicts, edging_runs, frame
from ledgewright.survey import Room, Wall, room
from tests.layout import asked
from tests.survey import taped
from tests.survey.taped import IN, corner, tapes, wall

gaps = st.lists(st.floats(0, 12), min_size=6, max_size=6)
PLACES = [0.0, 400.0, 800.0, 1200.0, 1600.0, 2000.0]


def corner_room(angle: float, a: list[float] | None = None, b: list[float] | None = None) -> Room:
    """Two walls of 2000; A taped from the corner, so from its right end."""
    faces = [x or [10.0] * 6 for x in (a, b)]
    walls = [
        wall("A", 2000, list(zip(PLACES, faces[0], strict=True)), tape_from="right"),
        wall("B", 2000, list(zip(PLACES, faces[1], strict=True))),
    ]
    return room(tapes(walls, [corner("A", "B", angle=angle)]), 1365)


def turning(a: float, b: float, **more: float | Back) -> Spec:
    return asked.shelf([Leg("A", -a, 0.0), Leg("B", 0.0, b)], **more)  # type: ignore[arg-type]  # by name


def stuff(of: Wall) -> Polygon:
    """What the wall is made of, 500 deep behind its face."""
    back = min(out for _, out in of.line) - 500
    figures = [*of.line, (of.end, back), (of.start, back)]
    return Polygon([of.at(*p) for p in figures])


def test_a_straight_shelf_on_a_straight_wall_is_a_rectangle() -> None:
    found = frame(
        room(tapes([wall("A", 2000, [(0, 8)])]), 1365), asked.shelf([Leg("A", 300, 1500)])
    )
    assert plane.box(found.outline) == pytest.approx((300, -285, 1500, 0))
    assert plane.area(found.outline) == pytest.approx(1200 * 285)
    # the blank is deeper by its scribe allowance of 12, all of which a flat wall takes off
    assert plane.area(found.blank) == pytest.approx(1200 * (285 + 12))
    assert [s.remove for s in found.scribe] == pytest.approx([12.0] * 9)
    assert (found.legs[0].left_end, found.legs[0].right_end) == ("free", "free")
    assert found.thick == pytest.approx(47)


@pytest.mark.parametrize("degrees", [80, 90, 91.1, 100])
def test_the_area_of_an_l_is_two_strips_less_the_kite_they_share(degrees: float) -> None:
    # Hand: each leg a trapezium, its front shorter by d cot(angle/2); at 90 degrees d (a + b - d).
    a, b, d = 1600.0, 1250.0, 285.0
    angle = math.radians(degrees)
    found = frame(corner_room(angle), turning(a, b)).outline
    by_hand = d * (a + b) - d * d / math.tan(angle / 2)
    assert plane.area(found) == pytest.approx(by_hand, rel=1e-12)
    assert Polygon(found).area == pytest.approx(by_hand, rel=1e-12)
    if degrees == 90:
        assert by_hand == pytest.approx(d * (a + b - d))


def test_the_demo_corner_is_about_eight_square_feet() -> None:
    # By hand on straight walls at 91.1 degrees: 10.5 (69.25 + 50.125) - 10.5**2 cot(45.55) = 1145.3 in2;
    # hollows and the band add their strip: on A 0.1 to 0.2 in over 69, on B about 0.06 over 50.
    found = frame(room(taped.stoneware(), 54.375 * IN), asked.stoneware())
    square_inches = Polygon(found.outline).area / IN**2
    assert 1145.3 < square_inches < 1145.3 + 0.2 * 69.25 + 0.1 * 50.125
    assert found.notes == ()
    assert found.first == "A"


@settings(deadline=None, max_examples=60)
@given(gaps, gaps, st.floats(1.45, 1.7), st.sampled_from(["tight", "caulk", "shadow gap"]))
def test_no_shelf_enters_a_bowed_wall_and_a_tight_one_leaves_no_gap(
    a: list[float], b: list[float], angle: float, back: Back
) -> None:
    there = corner_room(angle, a, b)
    found = frame(there, turning(1555, 1130, back=back, back_gap=0.0))
    shelf = Polygon(found.outline)
    assert shelf.is_valid
    assert plane.area(found.outline) > 0
    for of in there.walls:
        assert shelf.intersection(stuff(of)).area < 1e-6
    if back == "tight":
        edge = LineString([*found.outline, found.outline[0]])
        for leg in found.legs:
            of = there.wall(leg.wall)
            for k in range(41):
                s = leg.start + (leg.end - leg.start) * k / 40
                assert edge.distance(Point(of.at(s, of.face(s)))) < 1e-9


@settings(deadline=None, max_examples=60)
@given(gaps, gaps, st.floats(1.45, 1.7))
def test_scribing_only_takes_away_and_just_what_lies_behind_the_face(
    a: list[float], b: list[float], angle: float
) -> None:
    there = corner_room(angle, a, b)
    asked = turning(1555, 1130)
    found = frame(there, asked)
    blank, shelf = Polygon(found.blank), Polygon(found.outline)
    for leg in found.legs:
        at = [s for s in found.scribe if s.wall == leg.wall]
        assert max(y.along - x.along for x, y in pairwise(at)) <= 150 + 1e-9
        assert [at[0].along, at[-1].along] == pytest.approx([leg.start, leg.end])
        of = there.wall(leg.wall)
        deepest = min(out for _, out in map(of.figures, leg.back))
        # The blank carries the whole allowance behind the proudest point, or reaches the deepest hollow.
        back = min(deepest, leg.band - asked.scribe_allowance)
        for s in at:
            assert s.remove >= 0
            assert of.face(s.along) - s.remove == pytest.approx(back, abs=1e-9)
    # At the corner each leg's blank runs on behind the other wall's face or meets it there.
    assert shelf.difference(blank.buffer(1e-6)).area < 1e-6


@pytest.mark.parametrize("back", ["caulk", "shadow gap"])
def test_a_loose_back_is_straight_and_clear_of_the_proudest_point(back: Back) -> None:
    proud = [(0, 10), (600, 6), (1400, 13), (2000, 10)]  # 4 proud at 600
    there = room(tapes([wall("A", 2000, proud)]), 1365)
    found = frame(there, asked.shelf([Leg("A", 100, 1900)], back=back, back_gap=3.0))
    assert plane.box(found.outline) == pytest.approx((100, -(4 + 285), 1900, -(4 + 3)))
    assert found.legs[0].band == pytest.approx(4)
    assert found.scribe == ()
    assert found.blank == found.outline


def test_the_depth_counts_from_the_proudest_point_on_the_leg_only() -> None:
    proud = [(0, 10), (600, 6), (1400, 13), (2000, 10)]
    there = room(tapes([wall("A", 2000, proud)]), 1365)
    found = frame(there, asked.shelf([Leg("A", 1400, 1900)]))
    # From 1400 (3 behind) towards 2000 (at the string): at 1900 the face is 0.5 behind.
    assert found.legs[0].band == pytest.approx(-0.5)
    assert plane.box(found.outline)[1] == pytest.approx(-285 + 0.5)


def test_the_fronts_of_an_l_meet_at_the_inside_corner_and_the_backs_in_the_room_s_corner() -> None:
    there = room(taped.stoneware(), 54.375 * IN)
    found = frame(there, asked.stoneware())
    left, right = found.legs
    assert left.front[1] == right.front[0]
    assert left.back[-1] == pytest.approx(there.corners[0].at)
    assert right.back[0] == pytest.approx(there.corners[0].at)
    assert (left.left_end, left.right_end) == ("free", "corner")
    assert (right.left_end, right.right_end) == ("corner", "free")
    for leg in found.legs:
        of = there.wall(leg.wall)
        for end in leg.front:
            assert of.figures(end)[1] == pytest.approx(leg.band + 10.5 * IN)
        assert leg.band == pytest.approx(max(out for _, out in map(of.figures, leg.back)))
    # Free ends are square to the reference line: back and front have one along.
    assert there.wall("A").figures(left.front[0])[0] == pytest.approx(-69.25 * IN)
    assert there.wall("B").figures(right.front[1])[0] == pytest.approx(50.125 * IN)


def test_a_shelf_in_a_narrowing_alcove_is_as_wide_as_its_mouth_less_both_gaps() -> None:
    # Mouth 1182.5 at 352 out, back 1187: the cheeks close in by 4.5 together, sin(turn) = 2.25/352 each
    # (cheek and return are at their strings at the mouth). With 1.0 clear each side: 1180.5.
    turn = math.asin(2.25 / 352)
    bends = [
        corner("cheek", "back", angle=math.pi / 2 - turn),
        corner("back", "return", angle=math.pi / 2 - turn),
    ]
    found = frame(room(taped.alcove(corners=bends), 1365), asked.alcove())
    leg = found.legs[0]
    assert leg.end - leg.start == pytest.approx(1180.5, abs=1e-6)
    assert leg.start == pytest.approx(2.25 + 1.0, abs=1e-6)
    # Cheek at its string at the back: 3.25 clear; at 285 out the string has closed in by 285 * 2.25/352.
    assert "3.2 mm" in found.notes[0]
    assert f"{3.25 - 285 * 2.25 / 352:.1f} mm" in found.notes[0]
    assert (leg.left_end, leg.right_end) == ("wall", "wall")


def test_the_alcove_as_taped_by_its_diagonals_gives_the_same_width_within_the_tapes() -> None:
    found = frame(room(taped.alcove(), 1365), asked.alcove()).legs[0]
    assert found.end - found.start == pytest.approx(1180.5, abs=0.2)


def test_an_end_clears_a_return_only_as_far_out_as_the_shelf_passes() -> None:
    # Leaning in 1 in 100, 3000 long: the shelf passes depth 285 and stick-out 240 + 15.
    flat = [(0.0, 10.0)]
    walls = [wall("R", 3000, flat, tape_from="right"), wall("A", 2000, flat, members=[(300, 338)])]
    lean = math.atan(0.01)
    there = room(tapes(walls, [corner("R", "A", angle=math.pi / 2 - lean)]), 1365)
    spec = asked.shelf([Leg("A", 0, 1500)], [asked.rod("A", "A.s1", 240)], end_gap=2.0)
    assert frame(there, spec).legs[0].start == pytest.approx(0.01 * (285 + 240 + 15) + 2, abs=1e-6)


def test_an_end_that_stands_clear_of_the_return_is_free() -> None:
    flat = [(0.0, 10.0)]
    walls = [wall("R", 800, flat, tape_from="right"), wall("A", 2000, flat)]
    there = room(tapes(walls, [corner("R", "A", angle=math.pi / 2)]), 1365)
    free = frame(there, asked.shelf([Leg("A", 200, 1500)])).legs[0]
    assert free.start == pytest.approx(200)
    assert free.left_end == "free"
    met = frame(there, asked.shelf([Leg("A", 2, 1500)])).legs[0]
    assert met.start == pytest.approx(2)
    assert met.left_end == "wall"


def test_an_end_that_stands_evenly_off_a_square_return_needs_no_word() -> None:
    flat = [(0.0, 10.0)]
    walls = [wall("R", 800, flat, tape_from="right"), wall("A", 2000, flat)]
    there = room(tapes(walls, [corner("R", "A", angle=math.pi / 2)]), 1365)
    assert frame(there, asked.shelf([Leg("A", 0, 1500)], end_gap=2.0)).notes == ()


def shape(found: Frame, of: Wall, sign: int) -> list[float]:
    """The outline in one wall's figures, along from the corner, in an order that a mirror keeps."""
    figures = ((round(sign * s, 6), round(out, 6)) for s, out in map(of.figures, found.outline))
    return [figure for point in sorted(figures) for figure in point]


def test_the_mirror_image_of_a_room_gives_the_mirrored_shelf() -> None:
    plain_tapes = taped.stoneware()
    a, b = plain_tapes.walls

    def flip(w: TapedWall) -> TapedWall:
        return replace(
            w,
            tape_from="left" if w.tape_from == "right" else "right",
            lines=tuple(
                replace(x, gaps=tuple((-s, g) for s, g in reversed(x.gaps))) for x in w.lines
            ),
            members=tuple(replace(m, left=-m.right, right=-m.left) for m in w.members),
        )

    bend = plain_tapes.corners[0]
    bend = replace(bend, left="B", right="A", taped=tuple((q, p, x) for p, q, x in bend.taped))
    plain_room = room(plain_tapes, 1381)
    other_room = room(replace(plain_tapes, walls=(flip(b), flip(a)), corners=(bend,)), 1381)
    spec = asked.stoneware()
    legs = tuple(replace(leg, start=-leg.end, end=-leg.start) for leg in reversed(spec.legs))
    plain, other = frame(plain_room, spec), frame(other_room, replace(spec, legs=legs))
    assert shape(plain, plain_room.wall("A"), -1) == pytest.approx(
        shape(other, other_room.wall("A"), 1)
    )
    assert plane.area(plain.outline) == pytest.approx(plane.area(other.outline))
    marks = {r.mark: r for r in other.rods}
    for r in plain.rods:
        q = marks[r.mark]
        tip, out = plain_room.wall("A").figures(r.point(100.0))
        assert other_room.wall("A").figures(q.point(100.0)) == pytest.approx((-tip, out))
        assert r.id == q.id
        assert r.free == pytest.approx(q.free)
    assert [s.remove for s in plain.scribe] == pytest.approx(
        [s.remove for s in reversed(other.scribe)]
    )


@settings(deadline=None, max_examples=30)
@given(gaps, st.floats(10, 700), st.floats(1100, 1990))
def test_the_end_the_tape_was_hooked_on_does_not_change_the_shelf(
    face: list[float], start: float, end: float
) -> None:
    right = wall("A", 2000, list(zip(PLACES, face[::-1], strict=True)), tape_from="right")
    left = wall("A", 2000, list(zip(PLACES, face, strict=True)))
    one = frame(room(tapes([left]), 1365), asked.shelf([Leg("A", start, end)]))
    two = frame(room(tapes([right]), 1365), asked.shelf([Leg("A", start - 2000, end - 2000)]))
    move = plane.sub(one.outline[0], two.outline[0])
    for p, q in zip(one.outline, plane.shift(two.outline, move), strict=True):
        assert p == pytest.approx(q, abs=1e-9)
    assert [s.remove for s in one.scribe] == pytest.approx([s.remove for s in two.scribe], abs=1e-9)


@pytest.mark.parametrize(
    ("spec", "words"),
    [
        (asked.shelf([]), "0 legs"),
        (asked.shelf([Leg("A", -5, 0)] * 3), "3 legs"),
        (asked.shelf([Leg("C", 0, 500)]), "not taped"),
        (asked.shelf([Leg("A", -500, -500)]), "no length"),
        (asked.shelf([Leg("A", -2010, -500)]), "past the end"),
        (asked.shelf([Leg("B", 0, 500), Leg("A", -500, 0)]), "left wall's leg first"),
        (asked.shelf([Leg("A", -900, -10), Leg("B", 0, 800)]), "do not reach the corner"),
        (asked.shelf([Leg("A", -900, 0), Leg("B", 0, 280)]), "no longer than the shelf is deep"),
        (asked.shelf([Leg("A", -900, 0), Leg("B", 0, 900)], first="C"), "where it has no leg"),
    ],
)
def test_what_cannot_be_laid_is_refused_in_words(spec: Spec, words: str) -> None:
    with pytest.raises(LayoutError, match=words):
        frame(corner_room(math.pi / 2), spec)


def test_faces_that_cross_near_the_corner_are_refused() -> None:
    # Both walls taped 100 proud only 20 from the corner: A's face runs (-20, -100) to (-400, 0), B's
    # (-100, -20) to (0, -400), and those two segments cross.
    proud = [100.0, 0.0, 100.0, 100.0]
    places = [0.0, 20.0, 400.0, 2000.0]
    walls = [
        wall("A", 2000, list(zip(places, proud, strict=True)), tape_from="right"),
        wall("B", 2000, list(zip(places, proud, strict=True))),
    ]
    there = room(tapes(walls, [corner("A", "B", angle=math.pi / 2)]), 1365)
    with pytest.raises(LayoutError, match="crosses itself"):
        frame(there, turning(1500, 1500))


def test_walls_that_no_corner_joins_carry_no_l() -> None:
    walls = [wall("A", 2000, [(0, 5)], tape_from="right"), wall("B", 2000, [(0, 5)])]
    with pytest.raises(LayoutError, match="do not meet"):
        frame(room(tapes(walls), 1365), turning(900, 800))


def test_an_alcove_too_narrow_for_its_gaps_is_refused() -> None:
    flat = [(0.0, 10.0)]
    walls = [wall("L", 400, flat, tape_from="right"), wall("A", 30, flat), wall("R", 400, flat)]
    bends = [corner("L", "A", angle=1.5), corner("A", "R", angle=1.5)]
    with pytest.raises(LayoutError, match="no length"):
        frame(room(tapes(walls, bends), 1365), asked.shelf([Leg("A", 0, 30)]))


def test_a_hollow_deeper_than_the_allowance_is_said() -> None:
    there = room(tapes([wall("A", 2000, [(0, 5), (1000, 20), (2000, 5)])]), 1365)
    found = frame(there, asked.shelf([Leg("A", 0, 2000)], scribe_allowance=12.7))
    assert len(found.notes) == 1
    assert "15.0 mm (0.59 in)" in found.notes[0]
    assert frame(there, asked.shelf([Leg("A", 0, 2000)], scribe_allowance=15.1)).notes == ()


def test_something_at_the_shelf_s_home_is_a_conflict_only_at_its_height() -> None:
    def pipe(low: float, high: float, out: float = 50.0) -> tuple[str, ...]:
        box = TapedObstacle("pipe", "A", (400.0, 450.0), (0.0, out), (low, high), "obstacle[0]")
        there = room(tapes([wall("A", 2000, [(0, 5)])], [], [box]), 1365)
        return conflicts(there, frame(there, asked.shelf([Leg("A", 0, 2000)])))

    assert "The pipe on wall A" in pipe(0, 2000)[0]
    assert len(pipe(0, 1365 - 46)) == 1  # 47 thick
    assert pipe(0, 1365 - 48) == ()
    assert pipe(1366, 2000) == ()
    assert pipe(0, 2000, out=0.4) == ()  # what stands out less than a tape reads only touches


def test_a_front_set_up_reaches_what_hangs_just_above() -> None:
    # A shelf 48 thick with its top at 1365: a rail from 1366 up is clear of it level, and hit 2 mm nose-up.
    of = wall("A", 2000, [(0, 10)], members=[(300, 338)])
    rail = TapedObstacle("rail", "A", (400.0, 450.0), (0.0, 80.0), (1366.0, 1400.0), "obstacle[0]")
    here = room(tapes([of], obstacles=[rail]), 1365)
    level = asked.shelf([Leg("A", 100, 1500)], [asked.rod("A", "A.s1", 160.0)])
    assert conflicts(here, frame(here, level)) == ()
    (said,) = conflicts(here, frame(here, replace(level, nose_up=2.0)))
    assert "rail" in said


def test_a_shelf_through_a_wall_that_stands_across_it_is_a_conflict() -> None:
    flat = [(0.0, 10.0)]
    walls = [wall("A", 1000, flat), wall("P", 150, flat), wall("Q", 400, flat)]
    bends = [
        corner("A", "P", angle=math.pi / 2),
        corner("P", "Q", turn="outside", angle=math.pi / 2),
    ]
    there = room(tapes(walls, bends), 1365)
    # P comes out of A at 1000 and runs 150 into the room; on A the shelf stops there, on Q it stands clear.
    beside = frame(there, asked.shelf([Leg("A", 0, 1000)]))
    assert conflicts(there, beside) == ()
    assert conflicts(there, frame(there, asked.shelf([Leg("Q", 0, 400)]))) == ()
    through = replace(beside, outline=plane.shift(beside.outline, (20.0, 0.0)))
    # Moved 20 to the right it is in the pier: in its cheek P, and in its face Q, which lies 150 out of A.
    assert conflicts(there, through) == tuple(
        f"Shelf shelf would stand in wall {name}." for name in ("P", "Q")
    )


def test_the_same_room_and_spec_give_the_same_frame() -> None:
    one, two = (frame(room(taped.stoneware(), 1381), asked.stoneware()) for _ in range(2))
    assert one == two
    assert hash(one) == hash(two)


@pytest.mark.parametrize(
    ("back", "gap", "deep"),
    [("tight", 0.0, 285.0 + 12.0), ("caulk", 1.0, 284.0), ("shadow gap", 3.0, 282.0)],
)
def test_the_edging_of_a_free_end_is_as_long_as_the_shelf_from_front_to_back(
    back: Back, gap: float, deep: float
) -> None:
    """A back that is not scribed has nothing to lose: an end longer than the shelf would keep it off its wall."""
    proud = [(0, 10), (600, 6), (1400, 13), (2000, 10)]
    there = room(tapes([wall("A", 2000, proud)]), 1365)
    spec = asked.shelf([Leg("A", 100, 1900)], back=back, back_gap=gap)
    found = frame(there, spec)
    runs = edging_runs(found, spec)
    assert [name for name, _ in runs] == ["front", "left end", "right end"]
    assert [size for name, size in runs if "end" in name] == pytest.approx([deep, deep])
    if back != "tight":
        low, high = plane.box(found.outline)[1::2]
        assert high - low == pytest.approx(deep)


@pytest.mark.parametrize(("times", "near"), [(4.1, True), (4.9, True), (5.1, False)])
def test_holes_in_one_stud_stand_five_rods_apart_along_the_grain(
    times: float, *, near: bool
) -> None:
    """EN 1995-1-1 T8.5: a1 = (4 + cos 0) d = 5 d along the grain (from memory)."""
    of = wall("A", 2000, [(0, 8)], members=[(381.0, 419.0), (781.0, 819.0)])
    pins = [asked.rod("A", f"A.s{k}", 200.0) for k in (1, 2)]
    spec = asked.shelf([Leg("A", 300, 1500)], pins)
    here = room(tapes([of]), 1365)
    one = frame(here, spec)
    other = replace(frame(here, replace(spec, top=spec.top + times * 16.0)), shelf="upper")
    said = [why for _, why in clashes([one, other]) if "one member closer" in why]
    assert len(said) == (2 if near else 0)
    assert all("5 times their thickness" in why for why in said)
