"""Budgets of the fitting: a typical L, a crowded one, and how often the search beats the classic ways."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ledgewright import plane
from ledgewright.layout import Frame, Rod
from ledgewright.survey import Obstacle, Room
from tests.fitting import ranking, rooms

RODS, THINGS = 30, 10
JOBS = 200


def crowded(room: Room, frame: Frame) -> tuple[Room, Frame]:
    """The L with thirty rods shared out evenly along both legs, and ten things in front of it."""
    per = RODS // len(frame.legs)
    rods = [rod for leg in frame.legs for rod in _along(frame, leg.wall, leg.start, leg.end, per)]
    return replace(room, obstacles=tuple(_things(room, frame))), replace(frame, rods=tuple(rods))


def _along(frame: Frame, wall: str, start: float, end: float, count: int) -> Iterator[Rod]:
    known = [r for r in frame.rods if r.wall == wall]
    first, last = known[0], known[-1]
    (x0, y0, z), (x1, y1, _) = first.origin, last.origin
    for k in range(count):
        share = k / (count - 1)
        origin = (x0 + (x1 - x0) * share, y0 + (y1 - y0) * share, z)
        name = f"{wall}.r{k}"
        short = first.projection - 5.0 * (k % 5)
        yield replace(first, id=name, mark=name, member=name, origin=origin, projection=short)


def _things(room: Room, frame: Frame) -> Iterator[Obstacle]:
    for k in range(THINGS):
        leg = frame.legs[k % len(frame.legs)]
        wall = room.wall(leg.wall)
        free, inner = (leg.start, leg.end) if leg is frame.legs[0] else (leg.end, leg.start)
        far = leg.band + leg.depth + 260.0 + 30.0 * k
        at = free + (inner - free) * 0.6 * k / THINGS
        corners = [
            wall.at(at + a, far + b)
            for a, b in ((0.0, 0.0), (60.0, 0.0), (60.0, 60.0), (0.0, 60.0))
        ]
        yield Obstacle(f"thing {k}", leg.wall, plane.ccw(corners), (0.0, 2500.0))


def better() -> tuple[int, int, int, int]:
    """Over the seeded jobs of the tests: how many, how many go, how many only by a way that is not a classic one,
    and on how many the chosen way is strictly better than the best classic one by the planner's documented rank.
    """
    outcomes = [
        (found.chosen is not None, *ranking.better(job, found))
        for job, found in rooms.offered(range(JOBS))
    ]
    goes, alone, ahead = (sum(each) for each in zip(*outcomes, strict=True))
    return JOBS, goes, alone, ahead
