"""The classic ways: what they are, what blocks them, and by how much. Expectations are worked by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from shapely.geometry import Point, Polygon

from ledgewright import layout, plane, survey
from ledgewright.fitting import Way, ways
from ledgewright.fitting.setting import LEAST_HOLD_OFF, ROOM_TO_PASS
from ledgewright.layout import Frame
from ledgewright.survey import Obstacle, Room
from tests.fitting import made
from tests.layout import asked
from tests.survey import taped

AGAINST = (
    "slides, offsets and room worked by hand",
    "hand calculation",
    "0.02 in on hand estimates; else 1e-6 mm",
)

IN = 25.4


def way(room: Room, frame: Frame, name: str) -> Way:
    return next(w for w in ways(room, frame).ways if w.id == name)


def on_wall(room: Room, wall: str, name: str, along: tuple[float, float], out: float) -> Obstacle:
    w = room.wall(wall)
    corners = [w.at(s, o) for o in (0.0, out) for s in (along if o == 0.0 else along[::-1])]
    return Obstacle(name, wall, plane.ccw(corners), (0.0, 2200.0))


def stoneware(first: str = "A") -> tuple[Room, Frame]:
    """The L of the demo scene with its casings: wall A is taped from the corner, to the left."""
    room = survey.room(taped.stoneware(), 54.375 * IN)
    door = on_wall(room, "A", "door casing", (-88.125 * IN, -84.625 * IN), 0.75 * IN)
    window = on_wall(room, "B", "window casing", (53.125 * IN, 92.625 * IN), 0.75 * IN)
    room = replace(room, obstacles=(door, window))
    return room, layout.frame(room, asked.stoneware(first=first))


def test_stoneware_goes_onto_a_first() -> None:
    """The demo scene's hand estimate: 6 1/4 offset, slide to B, last 1/16 or more to A.

    The offset is the 6 in stick-out and 1/4 in to pass, and a hair for the scribe, which dips below the
    face at a rod between two stations. The last move is more than 1/16: wall A's board is bowed by
    1/4 in, and over a slide of 6 1/4 the steepest part, 1/8 in 12, rises 0.065 in.
    """
    room, frame = stoneware()
    found = ways(room, frame)
    assert found.chosen == "first-A"
    best = found.ways[0]
    come_in, slide, close = best.moves
    assert slide.dx == pytest.approx(6.25 * IN, abs=0.02 * IN)
    assert slide.dy == pytest.approx(0.0, abs=1e-9)
    assert come_in.dx == pytest.approx(0.0, abs=1e-9)
    assert close.dy == pytest.approx(best.hold_off)
    assert best.hold_off / IN == pytest.approx(1 / 16 + 6.2582 * (1 / 8) / 12, abs=0.002)
    # Free past leg A: 15 3/8 to the door casing.
    assert slide.dx < (84.625 - 69.25) * IN
    low_x = min(p[0] for p in best.room_needed)
    end_x = min(p[0] for p in frame.outline)
    assert end_x - low_x == pytest.approx(slide.dx, abs=1e-6)


def test_stoneware_the_other_way_round_meets_the_window_casing() -> None:
    """Leg B would shift by 8 1/4 and 1/4 to pass; 3 in are free: short by 5 1/2 in."""
    room, frame = stoneware("B")
    block = way(room, frame, "first-B").blocked[0]
    assert block.by == "window casing"
    assert block.move == 1
    assert block.short_by == pytest.approx((8.25 + 0.25 - 3.0) * IN, abs=0.02 * IN)


def test_channels_of_two_moves_are_slots_and_wide_slots() -> None:
    """First-A: plain slots on B, slots on A as wide as a rod, its play and the slide."""
    room, frame = stoneware()
    best = way(room, frame, "first-A")
    by_rod = {c.rod: plane.box(c.plan) for c in best.channels}
    slide = best.moves[1].dx
    for name in ("A.s1", "A.s2", "A.s3", "A.s4"):
        low, _, high, _ = by_rod[name]
        assert high - low == pytest.approx((0.625 + 0.125) * IN + slide, abs=1e-6)
    for name in ("B.s1", "B.s2", "B.s3"):
        _, low, _, high = by_rod[name]
        assert high - low == pytest.approx((0.625 + 0.125) * IN + best.hold_off, abs=1e-6)


def test_alcove_goes_straight_in() -> None:
    room = survey.room(taped.alcove(), 1365.0)
    frame = layout.frame(room, asked.alcove())
    found = ways(room, frame)
    assert found.chosen == "straight"
    assert [w.id for w in found.ways] == ["straight"]
    (move,) = found.ways[0].moves
    start = Polygon(plane.shift(frame.outline, (-move.dx, -move.dy)))
    tips = [start.distance(Point(r.point(r.free + r.projection))) for r in frame.rods]
    assert min(tips) > ROOM_TO_PASS
    # The alcove is 352 deep at the cheek: only there is the section, 1 in front of the wall, out of it.
    assert move.dx**2 + move.dy**2 == pytest.approx(351.0**2, abs=200.0)
    slot = 16.0 + 2 * 2.0
    assert found.ways[0].loss.widest == pytest.approx(slot, abs=1e-6)


def test_mouth_narrower_than_the_back_blocks_a_fitted_shelf() -> None:
    """Returns that come in by 6 over 600 at each side leave a shelf of 1000 short by their lean at its ends.

    At the start the back corners are as far off the back wall as the move is long; the lean is 1 in 100.
    """
    room = made.straight_room(lean_left=6.0, lean_right=6.0)
    frame = made.straight_frame((0.0, 2.5), (1000.0, 997.5))
    found = ways(room, frame)
    assert found.chosen is None
    plain = way(room, frame, "straight")
    far = math.hypot(plain.moves[0].dx, plain.moves[0].dy)
    assert {b.by for b in plain.blocked} == {"wall left", "wall right"}
    for block in plain.blocked:
        assert block.short_by == pytest.approx(far / 100 * math.cos(math.atan(0.01)), rel=1e-6)


def test_one_leaning_return_is_followed() -> None:
    """The record wall's rule: in along the return's line, slots wider by lean x stick-out."""
    room = made.straight_room(lean_left=6.0, right=False, length=1400.0)
    frame = made.straight_frame((0.0, 2.5), (1000.0, 1000.0))
    found = ways(room, frame)
    assert found.chosen == "straight-aslant"
    assert not way(room, frame, "straight").possible
    slot = 16.0 + 2 * 2.0
    # The mouth is as wide as the rod drifts from where its tip is 1/4 in short of the back edge.
    assert found.ways[0].loss.widest == pytest.approx(slot + (180.0 + ROOM_TO_PASS) / 100, abs=1e-6)


@pytest.mark.parametrize(("gap", "goes"), [(1.0, True), (-1.0, False)])
def test_an_obstacle_beside_the_way_counts_to_the_millimetre(gap: float, goes: bool) -> None:
    pillar = made.box("pillar", (700.0 + gap, -400.0), (800.0 + gap, -300.0))
    room = made.straight_room(length=1000.0, right=False, obstacles=[pillar])
    frame = made.straight_frame((100.0, 100.0), (700.0, 700.0))
    found = way(room, frame, "straight")
    assert found.possible is goes
    if not goes:
        assert found.blocked[0].by == "pillar"
        assert found.blocked[0].short_by == pytest.approx(1.0, abs=1e-6)


@pytest.mark.parametrize(
    ("up", "goes"), [((0.0, 950.0), True), ((1000.0, 2000.0), True), ((0.0, 951.0), False)]
)
def test_only_what_stands_at_the_height_of_the_shelf_is_in_the_way(
    up: tuple[float, float], goes: bool
) -> None:
    """The shelf of the hand-made frame is 50 thick with its top at 1000."""
    heater = made.box("heater", (300.0, -350.0), (500.0, -300.0), up)
    room = made.straight_room(obstacles=[heater])
    frame = made.straight_frame((100.0, 100.0), (700.0, 700.0))
    assert way(room, frame, "straight").possible is goes


def test_a_home_that_is_taken_is_said_once_and_plainly() -> None:
    pipe = made.box("vent pipe", (400.0, -50.0), (450.0, 0.0))
    frame = made.straight_frame((100.0, 100.0), (700.0, 700.0))
    found = way(made.straight_room(obstacles=[pipe]), frame, "straight")
    (block,) = found.blocked
    assert block.by == "the shelf's home is taken by vent pipe"
    assert block.move == 0
    assert block.short_by > 0


def test_a_home_in_the_wall_is_taken_by_the_wall() -> None:
    frame = made.straight_frame((100.0, 100.0), (1003.0, 1003.0))
    found = way(made.straight_room(), frame, "straight")
    (block,) = found.blocked
    assert block.by == "the shelf's home is taken by wall right"
    assert block.short_by == pytest.approx(3.0)


@pytest.mark.parametrize(
    ("pin", "short"),
    [((300.0, 240.0), 5.0), ((105.0, 180.0), 5.0), ((695.0, 180.0), 5.0)],
)
def test_a_slot_that_breaks_out_is_a_block(pin: tuple[float, float], short: float) -> None:
    """Front: 240 + 15 past the tip in 250 of depth. Ends: half the bar 8 and 2 of play, 5 from the end."""
    frame = made.straight_frame((100.0, 100.0), (700.0, 700.0), rods=[pin])
    found = way(made.straight_room(), frame, "straight")
    (block,) = found.blocked
    assert block.by == "the slot of rod r1 breaks out of the section"
    assert block.short_by == pytest.approx(short)


def test_thin_wood_is_told() -> None:
    """230 + 15 of 250: 5 left in front of the slot, less than an edging of 12 and some wood."""
    frame = made.straight_frame(
        (100.0, 100.0), (700.0, 700.0), rods=[(300.0, 230.0), (500.0, 150.0)]
    )
    found = ways(made.straight_room(), frame, edging=12.0).ways[0]
    assert [(t.rod, round(t.left, 6)) for t in found.thin] == [("r1", 5.0)]


def test_the_same_job_gives_the_same_answer() -> None:
    room, frame = stoneware()
    assert ways(room, frame) == ways(room, frame)


@pytest.mark.parametrize("seed", range(25))
def test_mirror_images_give_mirror_answers(seed: int) -> None:
    corner = made.random_corner(seed)
    one, other = corner.build(), corner.mirrored().build()
    here, there = ways(one[0], one[1]), ways(other[0], other[1])
    assert here.chosen == there.chosen
    assert [w.id for w in here.ways] == [w.id for w in there.ways]
    for a, b in zip(here.ways, there.ways, strict=True):
        assert a.possible == b.possible
        assert a.hold_off == pytest.approx(b.hold_off, abs=1e-6)
        assert a.loss.channel_area == pytest.approx(b.loss.channel_area, rel=1e-9)
        assert a.loss.widest == pytest.approx(b.loss.widest, abs=1e-6)
        assert sorted(c.rod for c in a.channels) == sorted(c.rod for c in b.channels)
        lengths = [[math.hypot(m.dx, m.dy) for m in w.moves] for w in (a, b)]
        assert lengths[0] == pytest.approx(lengths[1], abs=1e-6)
        assert Polygon(a.room_needed).area == pytest.approx(Polygon(b.room_needed).area, rel=1e-6)
        assert [(x.by, x.move) for x in a.blocked] == [(x.by, x.move) for x in b.blocked]


def test_hold_off_is_at_least_the_stated_margin() -> None:
    for seed in range(10):
        room, frame, _ = made.random_corner(seed).build()
        for found in ways(room, frame).ways:
            if found.kind.startswith("first"):
                assert found.hold_off >= LEAST_HOLD_OFF
