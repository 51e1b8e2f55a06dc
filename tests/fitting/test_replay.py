"""A dense replay of offered paths that shares no code with the planner: only the models and a polygon library."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import pytest
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon

from ledgewright.fitting import Way, ways
from ledgewright.layout import Frame, Rod
from ledgewright.survey import Room
from tests.fitting import made

STEP = 0.5
SOUND = 0.03
"""Skin of the section that may touch a wall at home (mm)."""


def steps(way: Way, step: float = STEP) -> NDArray[np.float64]:
    """Shifts from home along the moves, backwards from home so that no sum of the planner is reused."""
    at = np.zeros(2)
    found = [at.copy()]
    for move in reversed(way.moves):
        back = np.array([-move.dx, -move.dy])
        count = max(1, math.ceil(float(np.hypot(*back)) / step))
        found += [at + back * k / count for k in range(1, count + 1)]
        at = at + back
    return np.array(found)


def bare_rod(rod: Rod) -> NDArray[np.float64]:
    axis = np.array(rod.axis[:2])
    across = np.array([-axis[1], axis[0]]) * rod.bar.width / 2
    start = np.array(rod.origin[:2])
    tip = start + axis * (rod.free + rod.projection)
    return np.array([start - across, tip - across, tip + across, start + across])


def shifted(ring: NDArray[np.float64], shifts: NDArray[np.float64]) -> NDArray[np.object_]:
    return np.asarray(shapely.polygons(ring[None, :, :] + shifts[:, None, :]), dtype=object)


def cut_section(frame: Frame, way: Way) -> shapely.Geometry:
    # A channel that ends on a sloping back edge leaves a hairline of no width there: one millionth wider.
    channels = shapely.union_all([Polygon(c.plan) for c in way.channels]).buffer(1e-6)
    cut = Polygon(frame.outline).difference(channels)
    shapely.prepare(cut)
    return cut


def replay(room: Room, frame: Frame, way: Way) -> None:
    path = steps(way)
    section = cut_section(frame, way)
    for rod in frame.rods:
        gaps = shapely.distance(shifted(bare_rod(rod), -path), section)
        assert gaps.min() >= rod.clearance.side - 0.01, (way.id, rod.id)
    skin = np.array(Polygon(frame.outline).buffer(-SOUND, join_style="mitre").exterior.coords)
    sections = shifted(skin, path)
    for wall in room.walls:
        solid = made.wall_solid(wall)
        shapely.prepare(solid)
        assert not shapely.intersects(sections, solid).any(), (way.id, wall.id)


def offered(seeds: Sequence[int]) -> tuple[int, int]:
    """Replay every way that is called possible, also those that were not chosen."""
    jobs = ways_found = 0
    for seed in seeds:
        room, frame, _ = made.random_corner(seed).build()
        for way in ways(room, frame).ways:
            if way.possible:
                replay(room, frame, way)
                ways_found += 1
        jobs += 1
    return jobs, ways_found


@pytest.mark.parametrize("start", range(0, 60, 10))
def test_offered_paths_of_random_corners_never_collide(start: int) -> None:
    jobs, found = offered(range(start, start + 10))
    assert jobs == 10
    assert found >= 10


@pytest.mark.soak
def test_offered_paths_of_many_random_corners_never_collide() -> None:
    jobs, found = offered(range(1000, 1600))
    assert found >= jobs


@pytest.mark.parametrize("seed", range(8))
def test_the_hold_off_is_the_least(seed: int) -> None:
    """With a tenth of a millimetre less than hold-off and margin, the dense slide meets the wall."""
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
        held = shapely.intersects(shifted(ring, stops + into * (margin - 0.1)), solid)
        assert not held.any()
        closer = shapely.intersects(shifted(ring, stops + into * (margin + 0.1)), solid)
        assert closer.any()


def test_a_rod_moved_by_two_millimetres_is_caught() -> None:
    """The replay itself must be able to fail: a channel cut for one place does not serve another."""
    room, frame, _ = made.random_corner(3).build()
    way = next(w for w in ways(room, frame).ways if w.possible)
    narrow = tuple(
        type(c)(c.rod, tuple((x + 2.0, y + 2.0) for x, y in c.plan), c.area) for c in way.channels
    )
    wrong = Way(
        way.id, way.kind, True, way.moves, way.hold_off, narrow, way.room_needed, way.loss, ()
    )
    with pytest.raises(AssertionError):
        replay(room, frame, wrong)
