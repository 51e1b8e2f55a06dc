"""A section that goes in beside one that hangs already: along their joint, or with its face eased by hand.

One room for all: a back wall on y = 0, a section from x = 100 to the joint at x = 400 and one from there to 1100, both
250 deep. Rods lean by some tenths of a degree, as readings of rods do; the room is out at negative y.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from shapely.affinity import translate
from shapely.geometry import Polygon

from ledgewright import plane
from ledgewright.fitting import Eased, Way, planner, search, ways
from ledgewright.fitting.joint import EASE, rubbed
from ledgewright.fitting.pose import HOME, Pose
from ledgewright.fitting.setting import ROOM_TO_PASS, setting
from ledgewright.layout import Frame
from ledgewright.survey import Obstacle, Room
from tests.fitting import looked, made
from tests.fitting.replay import HitError, replay
from tests.jobs import EXAMPLES

AGAINST = (
    "ways beside a section that hangs: offsets and easing by hand; the replay on what easing leaves",
    "hand calculation; separate route in the test",
    "0.02 mm, what only touches",
)

JOINT, DEPTH, FAR_END = 400.0, 250.0, 1100.0
LONG = (180.0, 180.0, 180.0)


def beside(
    leans: Sequence[float], longs: Sequence[float] = LONG, *, hung: float = DEPTH
) -> tuple[Room, Frame]:
    """The room with the first section on the wall, and the second at home.

    Args:
        leans: of each rod (degrees), to the left as one faces the wall: the way in then comes from over the joint.
        longs: how far each rod sticks out (mm).
        hung: depth of the first section (mm).
    """
    ring = ((100.0, 0.0), (JOINT, 0.0), (JOINT, -hung), (100.0, -hung))
    first = Obstacle("section 1", "back", ring, (0.0, 2000.0), section=True)
    room = made.straight_room(length=1500.0, right=False, obstacles=(first,))
    plain = made.straight_frame((JOINT, JOINT), (FAR_END, FAR_END), depth=DEPTH)
    like = plain.rods[0]
    rods = tuple(
        made.rod(
            f"r{k}",
            "back",
            (x, 0.0),
            (-math.sin(math.radians(lean)), -math.cos(math.radians(lean))),
            long,
            size=16.0,
            free=16.0,
            clearance=like.clearance,
        )
        for k, (x, lean, long) in enumerate(zip((500.0, 750.0, 1000.0), leans, longs, strict=True))
    )
    leg = replace(plain.legs[0], left_end="joint", right_end="free")
    return room, replace(plain, rods=rods, legs=(leg,))


def with_thing(room: Room, *things: Obstacle) -> Room:
    return replace(room, obstacles=(*room.obstacles, *things))


def by_id(room: Room, frame: Frame) -> dict[str, Way]:
    return {way.id: way for way in ways(room, frame).ways}


def planed(frame: Frame, eased: Eased) -> Frame:
    """The section after its joint face was eased as told, straight between the places."""
    edge = [(JOINT + by, -out) for out, by in eased.off]
    strip = Polygon([*edge, (JOINT - 1.0, -eased.off[-1][0]), (JOINT - 1.0, -eased.off[0][0])])
    left = Polygon(frame.outline).difference(strip)
    assert isinstance(left, Polygon)
    return replace(frame, outline=plane.ccw([(x, y) for x, y in left.exterior.coords[:-1]]))


def start(lean: float) -> float:
    """How far off a section on rods of 180 begins: past their tips, 2 of side clearance askew, and 1/4 in of air."""
    return 180.0 + ROOM_TO_PASS + (8.0 + 2.0) * math.sin(math.radians(lean))


@pytest.mark.parametrize("lean", [0.05, 0.1, 0.3, 1.0])
def test_it_goes_in_along_the_joint_and_nothing_is_eased(lean: float) -> None:
    """By hand: the joint is square to the wall, so the move is too; each channel is wider by travel times tan lean."""
    room, frame = beside((lean,) * 3)
    found = ways(room, frame)
    assert found.chosen == "straight-joint"
    way = found.ways[0]
    (move,) = way.moves
    assert move.turn == 0
    assert move.dx == pytest.approx(0.0, abs=1e-9)
    assert way.eased == ()
    # Seen across its rod a channel of 16 + 2 * 2 is wider by what the move goes aside of the rod while it is in it.
    assert way.loss.widest <= 20.0 + (start(lean) + 16.0) * math.sin(math.radians(lean)) + 1e-6
    replay(room, frame, way)


def test_with_rods_that_lead_away_from_the_joint_it_goes_straight_in() -> None:
    room, frame = beside((-0.3,) * 3)
    found = ways(room, frame)
    assert found.chosen == "straight"
    assert "straight-joint" not in {way.id for way in found.ways}
    replay(room, frame, found.ways[0])


@pytest.mark.parametrize("hung", [DEPTH, 200.0, 450.0])
@pytest.mark.parametrize("lean", [0.05, 0.1])
def test_straight_in_rubs_what_geometry_says(lean: float, hung: float) -> None:
    """By hand: t out from the back the face is rubbed by tan lean times its way beside the first section.

    That way is all of the move, or what of the first section lies in front of t: it ends `hung` out.
    """
    room, frame = beside((lean,) * 3, hung=hung)
    (eased,) = by_id(room, frame)["straight"].eased
    slope, far = math.tan(math.radians(lean)), start(lean)
    for out, by in eased.off:
        by_hand = min(far, max(0.0, hung - out)) * slope
        assert by == pytest.approx(by_hand, abs=0.02), (out, eased.off)
    assert eased.deepest == pytest.approx(far * slope, abs=0.02)
    assert {0.0, min(hung, DEPTH)} <= {out for out, _ in eased.off}


@pytest.mark.parametrize("hung", [DEPTH, 200.0, 450.0])
@pytest.mark.parametrize("leans", [(0.1, 0.1, 0.1), (0.5, -0.4, 0.2), (0.3, 0.05, -0.1)])
def test_eased_as_told_it_passes_and_not_without(leans: Sequence[float], hung: float) -> None:
    """The replay, which knows no easing, finds the first section in the way; and nothing once the strip is off."""
    room, frame = beside(leans, (176.0, 180.0, 183.0), hung=hung)
    way = by_id(room, frame)["straight"]
    assert way.possible
    assert 0.02 < way.eased[0].deepest <= EASE
    replay(room, planed(frame, way.eased[0]), way)
    with pytest.raises(HitError):
        replay(room, frame, way)


def test_a_way_that_needs_no_easing_comes_first() -> None:
    """Straight in cuts less here; but what is eased stays open in the joint."""
    room, frame = beside((0.1,) * 3)
    first, second = ways(room, frame).ways[:2]
    assert (first.id, second.id) == ("straight-joint", "straight")
    assert second.possible
    assert second.loss.channel_area < first.loss.channel_area


def test_eased_straight_in_is_chosen_where_the_way_along_the_joint_is_barred() -> None:
    """A post 0.03 mm into the lane of the far end, 20 in front of it: the lane straight in has moved over by then."""
    room, frame = beside((0.1,) * 3)
    post = made.box("post", (FAR_END - 0.03, -DEPTH - 120.0), (FAR_END + 90.0, -DEPTH - 20.0))
    found = ways(with_thing(room, post), frame)
    along = next(way for way in found.ways if way.id == "straight-joint")
    assert [block.by for block in along.blocked] == ["post"]
    assert found.chosen == "straight"
    assert found.ways[0].eased


def test_nobody_planes_off_more_than_half_a_millimetre() -> None:
    """By hand: past 0.5 mm over about 186 mm of way, 0.154 degrees."""
    for lean, goes in ((0.15, True), (0.16, False)):
        room, frame = beside((lean,) * 3)
        straight = by_id(room, frame)["straight"]
        assert straight.possible is goes
        if not goes:
            (block,) = straight.blocked
            by_hand = start(lean) * math.tan(math.radians(lean))
            assert (block.by, block.move) == ("section 1", 1)
            assert block.short_by == pytest.approx(by_hand, abs=0.02)
            assert straight.eased == ()


def test_nothing_but_a_joint_is_eased() -> None:
    """The same 0.33 mm against a thing, a wall, an end that is no joint, or a face elsewhere: all in the way."""
    room, frame = beside((0.1,) * 3)
    (first,) = room.obstacles
    thing = replace(room, obstacles=(replace(first, section=False),))
    (free,) = frame.legs
    shut = replace(frame, legs=(replace(free, left_end="free"),))
    # The return of the room is on x = 0; the section is moved there with all that belongs to it.
    at_wall = made.straight_room(length=1500.0, right=False)
    moved = replace(
        frame,
        outline=tuple(plane.shift(frame.outline, (-JOINT, 0.0))),
        legs=(
            replace(
                free,
                back=tuple(plane.shift(free.back, (-JOINT, 0.0))),
                front=(
                    plane.sub(free.front[0], (JOINT, 0.0)),
                    plane.sub(free.front[1], (JOINT, 0.0)),
                ),
            ),
        ),
        rods=tuple(replace(r, origin=(r.origin[0] - JOINT, *r.origin[1:])) for r in frame.rods),
    )
    # A second thing that hangs already, past the far end, in the way of rods that lead there.
    _, other = beside((-0.1,) * 3)
    far = made.box("other", (FAR_END, -DEPTH), (1300.0, 0.0))
    at_end = with_thing(room, replace(far, section=True))
    for case, (where, section, by) in {
        "thing": (thing, frame, "section 1"),
        "no joint": (room, shut, "section 1"),
        "wall": (at_wall, moved, "wall left"),
        "elsewhere": (at_end, other, "other"),
    }.items():
        straight = by_id(where, section)["straight"]
        assert not straight.possible, case
        assert [block.by for block in straight.blocked] == [by], case
        assert straight.blocked[0].short_by == pytest.approx(0.325, abs=0.01), case


def test_a_home_that_is_taken_is_not_eased_free() -> None:
    """The first section 0.1 mm over the line of the joint is in the way at home, however it is come to."""
    room, frame = beside((0.0,) * 3)
    wider = made.box("section 1", (100.0, -DEPTH), (JOINT + 0.1, 0.0))
    over = replace(wider, section=True)
    found = ways(replace(room, obstacles=(over,)), frame)
    assert found.chosen is None
    for way in found.ways:
        assert way.blocked[0].move == 0
        assert way.eased == ()


def test_a_turn_eases_nothing() -> None:
    room, frame = beside((0.1,) * 3)
    here = setting(room, frame, 0.0)
    first = next(thing for thing in here.fixed if thing.section)
    path = (Pose((-0.3, -190.0)), HOME)
    assert rubbed(here, first, path) is not None
    assert rubbed(here, first, (replace(path[0], turn=0.001), HOME)) is None


@pytest.mark.parametrize(
    ("leans", "longs"),
    [
        ((-0.226, 0.62, -0.185), (125.0, 128.0, 124.0)),
        ((0.1, 0.1, 0.1), LONG),
        ((1.5, 1.0, 2.0), LONG),
    ],
)
def test_no_path_goes_back_and_forth(leans: Sequence[float], longs: Sequence[float]) -> None:
    """Read so, sections were sent 1 mm back, 1 mm in, then home; a path that comes back on itself gains nothing.

    The first section is a plain thing here, so that no classic way goes and the search has the word.
    """
    room, frame = beside(leans, longs)
    room = replace(room, obstacles=(replace(room.obstacles[0], section=False),))
    found = ways(room, frame)
    way = found.ways[0]
    assert found.chosen == "planned"
    replay(room, frame, way)
    sizes = [math.hypot(m.dx, m.dy) for m in way.moves]
    assert min(sizes) >= 25.4 / 16
    courses = [plane.unit((m.dx, m.dy)) for m in way.moves]
    assert all(plane.dot(a, b) > -0.99 for a, b in pairwise(courses))


def tidied(room: Room, frame: Frame, *stops: tuple[float, float]) -> Way:
    """A path by these stops, then home, as the planner leaves it."""
    here = setting(room, frame, 0.0)
    path = (*(Pose(stop) for stop in stops), HOME)
    return planner.without_short_moves(here, search.planned(here, path), None)


def test_short_moves_are_left_out_where_it_goes_without_them() -> None:
    room, frame = beside((0.0,) * 3)
    way = tidied(room, frame, (0.0, -190.0), (0.0, -191.0), (0.4, 0.0))
    assert [(m.dx, m.dy) for m in way.moves] == [(0.0, 190.0)]
    assert way.moves[0].note == "in along the rods of back: home"
    replay(room, frame, way)


def test_a_short_move_that_is_needed_stays() -> None:
    """A nib on the first section, 1 mm past the joint and in front of home: only a last move of 1.2 mm passes it.

    By hand: without it the section is 1.2 s / 190 off the joint when it is s off home, and so in the nib from s = 10,
    where it comes beside it, to s = 158.
    """
    room, frame = beside((0.0,) * 3)
    nib = made.box("nib", (JOINT - 20.0, -DEPTH - 50.0), (JOINT + 1.0, -DEPTH - 10.0))
    room = with_thing(room, nib)
    way = tidied(room, frame, (1.2, -190.0), (1.2, 0.0))
    assert way.possible
    assert [(m.dx, m.dy) for m in way.moves] == [(0.0, 190.0), (-1.2, 0.0)]
    replay(room, frame, way)
    at = translate(Polygon(frame.outline), 1.2 * 10.0 / 190.0, -10.0)
    assert at.intersection(Polygon(nib.plan)).area == pytest.approx(0.0, abs=1e-9)
    at = translate(Polygon(frame.outline), 1.2 * 30.0 / 190.0, -30.0)
    assert at.intersection(Polygon(nib.plan)).area > 10.0


@pytest.mark.parametrize(("aside", "way"), [(0.5, "straight-joint"), (-0.5, "straight")])
def test_readings_of_a_shelf_round_a_corner_keep_it_simple(aside: float, way: str) -> None:
    """The corner example with its own readings, the tips of wall B half a millimetre over: one move home.

    Its second section butts against the front of the first, to the left; tips farther left lead it over that.
    """
    text = (EXAMPLES / "stoneware-corner.toml").read_text(encoding="utf-8")
    head, rest = text.split("# rod = [", 1)
    rows, tail = rest.split("# ]", 1)
    for tip in re.findall(r'at = "B .*?tip = \["([^"]+)"', rows):
        there = sum(float(Fraction(part)) for part in tip.split()) - aside / 25.4
        rows = rows.replace(f'tip = ["{tip}"', f'tip = ["{there:.4f}"')
    read = f"{head}rod = [{rows.replace('#  ', '')}]{tail}"
    second = looked.designs(read)[1]
    assert second.drawn is not None
    assert second.ways.chosen == way
    assert second.way is not None
    (move,) = second.way.moves
    assert move.turn == 0
    replay(second.room, second.frame, second.way)
