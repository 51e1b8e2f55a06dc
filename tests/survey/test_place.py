"""Walls placed in one plan."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ledgewright import plane
from ledgewright.job import TapedLine, TapedObstacle, Tapes
from ledgewright.survey import Room, Wall, room
from tests.survey.taped import IN, alcove, corner, stoneware, tapes, wall

Hook = Literal["left", "right"]
gaps = st.lists(st.floats(0, 20), min_size=5, max_size=5)
PLACES = [0.0, 500.0, 1000.0, 1500.0, 2000.0]


def ends(found: Wall) -> tuple[plane.Point, plane.Point]:
    return (
        found.at(found.start, found.face(found.start)),
        found.at(found.end, found.face(found.end)),
    )


def flat_ends(found: Wall) -> list[float]:
    return [figure for point in ends(found) for figure in point]


def two(a: Sequence[float], b: Sequence[float], hooks: tuple[Hook, Hook], angle: float) -> Room:
    walls = [
        wall(
            name,
            2000,
            list(zip(PLACES, f if hook == "left" else f[::-1], strict=True)),
            tape_from=hook,
        )
        for name, f, hook in (("A", a, hooks[0]), ("B", b, hooks[1]))
    ]
    return room(tapes(walls, [corner("A", "B", angle=angle)]), 1000)


def test_the_first_wall_starts_the_plan_and_the_room_lies_below_it() -> None:
    found = room(stoneware(), 54.375 * IN).wall("A")
    assert found.origin == (0.0, 0.0)
    assert found.direction == (1.0, 0.0)
    assert found.outward == pytest.approx((0.0, -1.0))
    assert [found.start, found.end] == pytest.approx([-84.625 * IN, 0.0])


def test_a_gap_wider_than_at_the_hook_is_a_hollow() -> None:
    # Demo wall A: 1 in at the corner, 1 7/32 at 36: the face lies 7/32 back there.
    found = room(stoneware(), 54.375 * IN).wall("A")
    assert found.face(-36 * IN) == pytest.approx(-7 / 32 * IN)
    assert found.face(-72 * IN) == pytest.approx(1 / 32 * IN)
    assert found.face(0.0) == 0.0
    assert found.taped(-36 * IN) == pytest.approx(36 * IN)


def test_the_gap_at_the_hook_is_read_between_stations_when_none_was_taken_there() -> None:
    found = room(tapes([wall("A", 1000, [(100, 12), (900, 14)])]), 1000).wall("A")
    assert found.face(0.0) == 0.0  # level from the first station out to the hook
    assert found.face(500) == pytest.approx(-1.0)
    assert found.line == ((0.0, 0.0), (100, 0.0), (900, -2.0), (1000.0, -2.0))


def test_a_square_inside_corner_turns_right_and_an_outside_one_left() -> None:
    flat = [wall("A", 2000, [(0, 5)]), wall("B", 1500, [(0, 5)])]
    inside = room(tapes(flat, [corner("A", "B", angle=math.pi / 2)]), 1000)
    assert flat_ends(inside.wall("B")) == pytest.approx([2000, 0, 2000, -1500])
    outside = room(tapes(flat, [corner("A", "B", turn="outside", angle=math.pi / 2)]), 1000)
    assert flat_ends(outside.wall("B")) == pytest.approx([2000, 0, 2000, 1500])
    assert outside.corners[0].angle == pytest.approx(3 * math.pi / 2)


def test_a_3_4_5_round_an_outside_corner_is_square_too() -> None:
    flat = [wall("A", 2000, [(0, 5)]), wall("B", 1500, [(0, 5)])]
    taped = corner("A", "B", turn="outside", taped=[(900, 1200, 1500)])
    assert ends(room(tapes(flat, [taped]), 1000).wall("B"))[1] == pytest.approx((2000, 1500))


@settings(deadline=None, max_examples=60)
@given(
    gaps,
    gaps,
    st.floats(1.4, 1.8),
    st.sampled_from(["left", "right"]),
    st.sampled_from(["left", "right"]),
)
def test_true_faces_meet_at_the_corner_and_strings_at_its_angle(
    a: list[float], b: list[float], angle: float, hook_a: Hook, hook_b: Hook
) -> None:
    found = two(a, b, (hook_a, hook_b), angle)
    left, right = found.walls
    assert ends(left)[1] == pytest.approx(ends(right)[0], abs=1e-9)
    assert found.corners[0].at == pytest.approx(ends(left)[1], abs=1e-9)
    # The room-side angle between the ways out of the corner: back along A, on along B.
    back = plane.scale(left.direction, -1)
    between = math.acos(plane.dot(back, right.direction))
    assert between == pytest.approx(angle, abs=1e-9)
    assert plane.cross(left.direction, right.direction) < 0  # to the right, seen from above


@settings(deadline=None, max_examples=60)
@given(gaps, gaps, st.floats(1.4, 1.8))
def test_the_end_the_tape_was_hooked_on_does_not_move_the_walls(
    a: list[float], b: list[float], angle: float
) -> None:
    places = [2000.0 * k / 16 for k in range(17)]

    def seen(hooks: tuple[Hook, Hook]) -> list[plane.Point]:
        found = two(a, b, hooks, angle)
        faces = [w.at(w.start + s, w.face(w.start + s)) for w in found.walls for s in places]
        return [plane.sub(p, found.corners[0].at) for p in faces]

    plain = seen(("left", "left"))
    others: list[tuple[Hook, Hook]] = [("left", "right"), ("right", "left"), ("right", "right")]
    for hooks in others:
        for p, q in zip(plain, seen(hooks), strict=True):
            assert p == pytest.approx(q, abs=1e-9)


def mirrored(job: Tapes) -> Tapes:
    """The same room in a mirror: walls the other way round, hooks at the other ends."""
    return replace(
        job,
        walls=tuple(
            replace(
                w,
                tape_from="left" if w.tape_from == "right" else "right",
                lines=tuple(
                    TapedLine(x.up, tuple((-s, g) for s, g in reversed(x.gaps))) for x in w.lines
                ),
                members=tuple(
                    replace(m, left=-m.right, right=-m.left) for m in reversed(w.members)
                ),
            )
            for w in reversed(job.walls)
        ),
        corners=tuple(
            replace(c, left=c.right, right=c.left, taped=tuple((b, a, x) for a, b, x in c.taped))
            for c in reversed(job.corners)
        ),
    )


@pytest.mark.parametrize("job", [stoneware(), alcove()], ids=["corner", "alcove"])
def test_a_room_in_a_mirror_has_the_same_distances_and_angles(job: Tapes) -> None:
    plain, other = room(job, 1381), room(mirrored(job), 1381)
    for c, d in zip(plain.corners, reversed(other.corners), strict=True):
        assert c.angle == pytest.approx(d.angle, abs=1e-12)
        assert c.sd == pytest.approx(d.sd, rel=1e-12)

    def points(found: Room, names: Sequence[str]) -> list[plane.Point]:
        return [
            w.at(s, out)
            for w in map(found.wall, names)
            for s, out in sorted(w.line, key=lambda p: abs(p[0]))
        ]

    names = [w.id for w in job.walls]
    p, q = points(plain, names), points(other, names)
    for i in range(0, len(p), 3):
        for j in range(1, len(p), 4):
            apart = plane.length(plane.sub(p[i], p[j]))
            assert apart == pytest.approx(plane.length(plane.sub(q[i], q[j])), abs=1e-9)


def test_the_alcove_narrows_to_its_taped_mouth() -> None:
    # The mouth was taped too (1182.5 at 352 out, 1183.5 at 285) and is no input: an independent check of
    # the two diagonals, within 3.29 sd of a width that hangs on three tapes of 0.8 mm.
    found = room(alcove(), 1365)
    back = found.wall("back")
    for out, taped in ((285.0, 1183.5), (352.0, 1182.5)):
        cheek, other = found.wall("cheek"), found.wall("return")
        left = back.figures(cheek.at(-out, cheek.face(-out)))[0]
        right = back.figures(other.at(out, other.face(out)))[0]
        assert right - left == pytest.approx(taped, abs=3.29 * 0.8 * math.sqrt(3))
        assert right - left == pytest.approx(taped, abs=0.2)


def test_of_several_strings_the_nearest_in_height_counts() -> None:
    plain = wall("A", 1000)
    low = TapedLine(300.0, ((0.0, 10.0), (1000.0, 10.0)))
    high = TapedLine(1400.0, ((0.0, 10.0), (500.0, 16.0), (1000.0, 10.0)))
    any_height = TapedLine(None, ((0.0, 10.0), (500.0, 30.0), (1000.0, 10.0)))
    job = tapes([replace(plain, lines=(low, any_height, high))])
    assert room(job, 1350).wall("A").face(500) == pytest.approx(-6)
    assert room(job, 400).wall("A").face(500) == 0.0
    assert room(job, 1350).retake == ()
    assert "another height" in room(job, 800).retake[0].text


def test_a_wall_without_gaps_is_straight_and_says_so() -> None:
    found = room(tapes([wall("A", 1000)]), 1000)
    assert found.wall("A").line == ((0.0, 0.0), (1000.0, 0.0))
    assert found.wall("A").sd > 1
    assert "dead straight" in found.retake[0].text


def test_walls_that_no_corner_joins_stand_apart_with_a_word() -> None:
    found = room(tapes([wall("A", 1000, [(0, 5)]), wall("B", 800, [(0, 5)])]), 1000)
    assert ends(found.wall("B"))[0][0] > ends(found.wall("A"))[1][0]
    assert [note.path for note in found.retake] == ["wall.B"]


def ring(lengths: Sequence[float]) -> Tapes:
    names = "ABCD"
    walls = [wall(n, x, [(0, 5)]) for n, x in zip(names, lengths, strict=True)]
    bends = [corner(n, m, taped=[(900, 1200, 1500)]) for n, m in zip(names, "BCDA", strict=True)]
    return tapes(walls, bends)


def test_a_rectangular_room_closes_and_a_wrong_length_is_told() -> None:
    assert room(ring([3000, 2000, 3000, 2000]), 1000).retake == ()
    (wrong,) = room(ring([3000, 2000, 3060, 2000]), 1000).retake
    # Opposite sides differ by 60: either may be wrong, the tapes of no corner and of no other wall.
    assert "The length of wall A and the length of wall C contradict each other" in wrong.text
    assert wrong.figures == ("wall.A.length", "wall.C.length")


def test_walls_are_found_whichever_way_the_corners_are_listed() -> None:
    walls = [wall(n, 1000, [(0, 5)]) for n in "ABC"]
    bends = [corner("B", "C", angle=1.6), corner("A", "B", angle=1.5)]
    one, two_ = room(tapes(walls, bends), 1000), room(tapes(walls, bends[::-1]), 1000)
    assert one.walls == two_.walls
    backwards = room(tapes([walls[1], walls[0], walls[2]], bends), 1000)
    assert ends(backwards.wall("A"))[1] == pytest.approx((0.0, 0.0))
    # By hand: 1.5 between unit ways out of the corner, so the free ends of A and B are 2 sin(0.75) apart.
    apart = plane.sub(ends(backwards.wall("A"))[0], ends(backwards.wall("B"))[1])
    assert plane.length(apart) == pytest.approx(2000 * math.sin(0.75))
    assert ends(backwards.wall("A"))[0][1] < 0  # in front of B, on the room's side


def test_members_keep_their_edges_and_their_doubt() -> None:
    found = room(stoneware(), 54.375 * IN).wall("A").members
    assert [m.sd for m in found] == [1.0] * 4
    nearest = found[0]
    # 14 11/16 - 16 3/16 from the corner at the right-hand end.
    assert [nearest.left, nearest.right] == pytest.approx([-16.1875 * IN, -14.6875 * IN])
    assert nearest.width == pytest.approx(1.5 * IN)


def test_an_obstacle_stands_out_of_the_face_it_is_fixed_to() -> None:
    box = TapedObstacle("pipe", "A", (400.0, 600.0), (0.0, 50.0), (0.0, 2000.0), "obstacle[0]")
    hollow = wall("A", 1000, [(0, 10), (500, 18), (1000, 10)])
    found = room(tapes([hollow], [], [box]), 1000).obstacles[0]
    # The face lies 8 back at 500 and 8 * 0.8 back at the sides of the box.
    assert plane.box(found.plan) == pytest.approx((400, -50 + 6.4, 600, 8))
    assert plane.area(found.plan) > 0


def test_the_same_tapes_give_the_same_room() -> None:
    assert room(stoneware(), 1381) == room(stoneware(), 1381)
    assert hash(room(stoneware(), 1381)) == hash(room(stoneware(), 1381))
