"""Every way that is said to go is walked by a replay with its own code, on random jobs of every kind.

The replay (tests/fitting/replay.py) shares no code with the planner. Its own checks on known mistakes stand here too:
a replay that finds nothing proves nothing unless it finds those.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np
import pytest
import shapely
from shapely.geometry import Polygon

from ledgewright import plane
from ledgewright.fitting import Way, ways
from ledgewright.layout import Frame
from ledgewright.survey import Obstacle
from tests.fitting import made, ranking, rooms
from tests.fitting.replay import HitError, legs, pin, replay, things, turned

AGAINST = (
    "a replay with code of its own; planted mistakes",
    "separate route in the test",
    "planted mistakes of 0.02 mm to 0.1 mm are found",
)

JOBS, BLOCK = 200, 10
TILTED = (419, 944)
"""Seeds of jobs on which nothing but a turn in the plan goes."""


def walked(seeds: Sequence[int]) -> int:
    """Replay every way that is called possible, also those that were not chosen; hold the rank; count them."""
    count = 0
    for job, found in rooms.offered(seeds):
        for way in found.ways:
            if way.possible:
                try:
                    replay(job.room, job.frame, way)
                except HitError as hit:
                    pytest.fail(f"job {job.seed}, {way.id}: {hit}")
                count += 1
        ranking.hold(job, found)
    return count


@pytest.mark.parametrize(
    "start",
    [
        *range(0, JOBS, 2 * BLOCK),
        *(pytest.param(k, marks=pytest.mark.soak) for k in range(BLOCK, JOBS, 2 * BLOCK)),
    ],
)
def test_offered_ways_hold_and_none_beats_the_chosen(start: int) -> None:
    assert walked(range(start, start + BLOCK)) >= BLOCK // 2


@pytest.mark.soak
@pytest.mark.parametrize("start", range(1000, 3000, 100))
def test_many_offered_ways_hold_and_none_beats_the_chosen(start: int) -> None:
    assert walked(range(start, start + 100)) >= 50


@pytest.mark.parametrize("seed", TILTED)
def test_a_way_with_a_turn_holds(seed: int) -> None:
    assert rooms.looked_at(seed).chosen == "tilt"
    assert walked([seed]) == 1


def test_the_random_jobs_are_of_every_kind() -> None:
    """What the proof is over: kinds, bows, corners out of square, things at heights, rods unlike and as set."""
    jobs = [rooms.job(seed) for seed in range(JOBS)]
    kinds = Counter(job.kind for job in jobs)
    assert all(kinds[kind] >= 8 for kind in ("corner", "straight", "alcove", "outside"))
    low = [[o.up for o in job.room.obstacles] for job in jobs]
    assert sum(bool(ups) for ups in low) > 80
    assert sum(up[1] < 1318.0 or up[0] > 1365.0 for ups in low for up in ups) > 20
    lengths = [{round(r.projection) for r in job.frame.rods} for job in jobs]
    sections = [{r.bar.width for r in job.frame.rods} for job in jobs]
    assert sum(len(each) > 1 for each in lengths) > 70
    assert sum(len(each) > 1 for each in sections) > 50
    askew = [
        max(
            abs(plane.cross(a.axis[:2], b.axis[:2])) for a in job.frame.rods for b in job.frame.rods
        )
        for job in jobs
        if len(job.frame.legs) == 1 and len(job.frame.rods) > 1
    ]
    assert sum(skew > 1e-3 for skew in askew) > 30
    angles = [abs(c.angle - math.pi / 2) for job in jobs for c in job.room.corners]
    assert sum(angle > math.radians(0.5) for angle in angles) > 60
    assert sum(len({out for _, out in w.line}) > 2 for job in jobs for w in job.room.walls) > 200


def corner(seed: int = 3) -> tuple[rooms.Job, Way]:
    room, frame, _ = made.random_corner(seed).build()
    way = next(w for w in ways(room, frame).ways if w.possible and w.kind.startswith("first"))
    return rooms.Job(seed, "corner", room, frame), way


def with_clearance(frame: Frame, *, side: float = 0.0, end: float = 0.0) -> Frame:
    rods = (
        replace(
            r,
            clearance=replace(r.clearance, side=r.clearance.side + side, end=r.clearance.end + end),
        )
        for r in frame.rods
    )
    return replace(frame, rods=tuple(rods))


@pytest.mark.parametrize("seed", [3, 7, 11])
@pytest.mark.parametrize(
    ("side", "end", "said"),
    [
        (0.02, 0.0, "too near"),
        (0.0, 0.02, "too near"),
        (-0.02, 0.0, "too large"),
        (0.0, -0.02, "too large"),
    ],
)
def test_two_hundredths_of_clearance_too_little_or_too_much_are_found(
    seed: int, side: float, end: float, said: str
) -> None:
    """The way was cut for one clearance and is held against another."""
    job, way = corner(seed)
    replay(job.room, job.frame, way)
    with pytest.raises(HitError, match=said):
        replay(job.room, with_clearance(job.frame, side=side, end=end), way)


def without_hold_off(way: Way) -> Way:
    come_in, slide, close = way.moves
    kept = replace(come_in, dx=come_in.dx + close.dx, dy=come_in.dy + close.dy)
    return replace(way, moves=(kept, slide))


def shorter_slide(way: Way) -> Way:
    come_in, slide, close = way.moves
    return replace(
        way, moves=(come_in, replace(slide, dx=slide.dx * 0.9, dy=slide.dy * 0.9), close)
    )


@pytest.mark.parametrize("change", [without_hold_off, shorter_slide])
@pytest.mark.parametrize("seed", [3, 7, 11])
def test_a_changed_way_is_found(change: Callable[[Way], Way], seed: int) -> None:
    job, way = corner(seed)
    with pytest.raises(HitError):
        replay(job.room, job.frame, change(way))


def test_a_missing_channel_is_found() -> None:
    job, way = corner()
    with pytest.raises(HitError, match="too near"):
        replay(job.room, job.frame, replace(way, channels=way.channels[1:]))


def test_room_that_is_not_told_is_found() -> None:
    job, way = corner()
    less = Polygon(way.room_needed).buffer(-2.0)
    assert isinstance(less, Polygon)
    told = tuple((float(x), float(y)) for x, y in less.exterior.coords[:-1])
    with pytest.raises(HitError, match="leaves the room"):
        replay(job.room, job.frame, replace(way, room_needed=told))


@pytest.mark.parametrize(("over", "caught"), [(0.05, True), (-0.05, False)])
def test_a_thing_in_the_way_is_found_to_five_hundredths(over: float, caught: bool) -> None:
    """A post beside the slide: the free end of the leg passes it by `over` at the start of the slide."""
    job, way = corner()
    wall = job.room.wall(way.id.removeprefix("first-"))
    (step,) = legs(way.moves)[1:2]
    ring = np.array(job.frame.outline)
    starts = turned(ring, np.zeros(1))[0] + step.a
    slide = (step.b - step.a) / np.linalg.norm(step.b - step.a)
    back = float((starts @ slide).min())
    tip = starts[int((starts @ slide).argmin())]
    out = np.array(wall.outward)
    post = [tip - slide * (20 - over) + out * k for k in (60.0, 80.0)]
    plan = [*post, post[1] - slide * 0 + slide * 20, post[0] + slide * 20]
    thing = Obstacle("post", wall.id, plane.ccw([(float(x), float(y)) for x, y in plan]), (0, 2000))
    assert abs(back - float((np.array(post[0]) + slide * 20) @ slide) + over) < 1.0
    room = replace(job.room, obstacles=(thing,))
    if caught:
        with pytest.raises(HitError, match="meets something"):
            replay(room, job.frame, way)
    else:
        replay(room, job.frame, way)


def test_a_turn_about_another_point_is_found() -> None:
    """The turn of a way is about the point it names: about one further off the section runs into something."""
    job, found = rooms.job(TILTED[0]), rooms.looked_at(TILTED[0])
    way = found.ways[0]
    moved = tuple(replace(m, about=(600.0, -600.0)) for m in way.moves)
    with pytest.raises(HitError):
        replay(job.room, job.frame, replace(way, moves=moved))


@pytest.mark.parametrize("seed", range(6))
def test_the_leaps_of_the_replay_miss_nothing(seed: int) -> None:
    """Conservative advancement against plain steps of 0.1 mm of the same sections."""
    job, way = corner(seed)
    ring = np.array(job.frame.outline)
    still = shapely.union_all(things(job.room, job.frame), grid_size=1e-9)
    shapely.prepare(still)
    for move in legs(way.moves)[1:]:
        count = math.ceil(move.fastest(ring) / 0.1)
        turns, shifts = move.at(np.linspace(0.0, 1.0, count + 1))
        inner = np.asarray(Polygon(ring).buffer(-0.02001, join_style="mitre").exterior.coords)
        sections = shapely.polygons(turned(inner, turns) + shifts[:, None, :])
        assert not shapely.intersects(still, sections).any()


def test_the_hold_off_is_the_least() -> None:
    """With a tenth of a millimetre less than hold-off and margin, the dense slide meets the wall."""
    for seed in range(8):
        room, frame, _ = made.random_corner(seed).build()
        for way in ways(room, frame).ways:
            if not (way.possible and way.kind.startswith("first")):
                continue
            come_in, slide, close = way.moves
            wall = room.wall(way.id.removeprefix("first-"))
            into = np.array([come_in.dx, come_in.dy]) / math.hypot(come_in.dx, come_in.dy)
            stops = -np.array([close.dx, close.dy]) - np.outer(
                np.linspace(0.0, 1.0, 4001), [slide.dx, slide.dy]
            )
            ring = np.array(frame.outline)
            solid = made.wall_solid(wall)
            margin = 1.5875
            for change, meets in ((-0.1, False), (0.1, True)):
                at = stops + into * (margin + change)
                sections = shapely.polygons(ring[None, :, :] + at[:, None, :])
                assert shapely.intersects(sections, solid).any() == meets


def test_a_pin_of_the_replay_is_the_rod() -> None:
    """By hand: a rod at (300, 0) out along -y, 16 thick, 16 to the face and 180 out of it."""
    frame = made.straight_frame((100.0, 100.0), (700.0, 700.0))
    one = pin(frame.rods[0])
    assert {tuple(np.round(p, 9)) for p in one.corners(2.0, 15.0)} == {
        (290.0, 16.0),
        (310.0, 16.0),
        (290.0, -195.0),
        (310.0, -195.0),
    }
