"""Random jobs of every kind: corners of both turns, straight shelves, alcoves; things in the way; rods as set."""

from __future__ import annotations

import math
import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Literal

from ledgewright import layout, plane, survey
from ledgewright.fitting import Ways, ways
from ledgewright.job import Back, Clearance, Ends, Leg, Spec
from ledgewright.layout import Frame, LayoutError, Rod
from ledgewright.survey import Obstacle, Room
from tests.layout import asked
from tests.survey import taped

Kind = Literal["corner", "straight", "alcove", "outside"]
KINDS: tuple[Kind, ...] = (
    *("corner", "corner", "corner"),
    *("straight", "straight", "straight"),
    *("alcove", "alcove"),
    "outside",
)
SPAN = 240.0
"""The widest hollow that the skins of every random job may span (mm)."""


@dataclass(frozen=True)
class Job:
    """One random job: what stands there, and the section at home with its rods as drawn or as set."""

    seed: int
    kind: Kind
    room: Room
    frame: Frame


@cache
def job(seed: int, *, small: bool = False) -> Job:
    """The job of a seed; where the shelf cannot be laid out, the next that can."""
    pick = random.Random(f"{seed} {small}")  # noqa: S311  # cases, not secrets
    kind = pick.choice(KINDS)
    while True:
        try:
            room, frame = _LAID[kind](pick, small)
        except LayoutError:
            continue
        room = replace(room, obstacles=tuple(_things(pick, room, frame, small=small)))
        if pick.random() < 0.5:
            frame = replace(frame, rods=tuple(_as_set(pick, rod) for rod in frame.rods))
        return Job(seed, kind, room, frame)


@cache
def looked_at(seed: int, *, small: bool = False) -> Ways:
    """All ways of the job of a seed, worked out once."""
    here = job(seed, small=small)
    return ways(here.room, here.frame, edging=12.0, max_span=SPAN)


def _corner(pick: random.Random, small: bool) -> tuple[Room, Frame]:
    return _round_corner(pick, "inside", small)


def _outside(pick: random.Random, small: bool) -> tuple[Room, Frame]:
    return _round_corner(pick, "outside", small)


def _round_corner(
    pick: random.Random, turn: Literal["inside", "outside"], small: bool
) -> tuple[Room, Frame]:
    depth = pick.uniform(150, 300)
    legs = [pick.uniform(500, 800) if small else pick.uniform(700, 1600) for _ in "PQ"]
    studs = [_studs(pick, leg - 40, small, from_=depth + 40) for leg in legs]
    walls = [
        taped.wall(
            name,
            leg + pick.uniform(250, 600),
            _bow(pick, leg + 300),
            tape_from="right" if name == "P" else "left",
            members=[(c - 19.0, c + 19.0) for c in places],
        )
        for name, leg, places in zip("PQ", legs, studs, strict=True)
    ]
    bend = taped.corner("P", "Q", turn=turn, angle=math.radians(pick.uniform(87, 93)))
    spec = _spec(
        pick,
        [Leg("P", -legs[0], 0.0), Leg("Q", 0.0, legs[1])],
        {"P": len(studs[0]), "Q": len(studs[1])},
        depth,
        first=pick.choice("PQ"),
    )
    return _laid(survey.room(taped.tapes(walls, [bend]), spec.top), spec)


def _straight(pick: random.Random, small: bool) -> tuple[Room, Frame]:
    """A shelf with both ends free, or one of them at a return that may lean."""
    length = pick.uniform(500, 900) if small else pick.uniform(800, 2200)
    beside = pick.choice(("none", "left", "right"))
    return _between(pick, length, beside == "left", beside == "right", small)


def _alcove(pick: random.Random, small: bool) -> tuple[Room, Frame]:
    return _between(pick, pick.uniform(600, 1300), True, True, small)


def _between(
    pick: random.Random, length: float, left: bool, right: bool, small: bool
) -> tuple[Room, Frame]:
    depth = pick.uniform(150, 330)
    start, end = (0.0 if left else 200.0), length + (0.0 if left else 200.0)
    whole = end + (0.0 if right else 300.0)
    studs = _studs(pick, end - 60, small, from_=start + 60)
    back = taped.wall(
        "back", whole, _bow(pick, whole), members=[(c - 19.0, c + 19.0) for c in studs]
    )
    walls, corners = [back], []
    if left:
        deep = pick.uniform(0.8, 3) * depth
        walls.insert(0, taped.wall("left", deep, _bow(pick, deep, 1.0), tape_from="right"))
        corners.append(taped.corner("left", "back", angle=math.radians(90 + pick.gauss(0, 0.5))))
    if right:
        deep = pick.uniform(0.8, 3) * depth
        walls.append(taped.wall("right", deep, _bow(pick, deep, 1.0)))
        corners.append(taped.corner("back", "right", angle=math.radians(90 + pick.gauss(0, 0.5))))
    spec = _spec(pick, [Leg("back", start, end)], {"back": len(studs)}, depth)
    return _laid(survey.room(taped.tapes(walls, corners), spec.top), spec)


def _laid(room: Room, spec: Spec) -> tuple[Room, Frame]:
    return room, layout.frame(room, spec)


_LAID = {"corner": _corner, "outside": _outside, "straight": _straight, "alcove": _alcove}


def _bow(pick: random.Random, length: float, deep: float = 4.0) -> list[tuple[float, float]]:
    """Gaps from a string 20 off to a wall that comes and goes."""
    count = max(2, round(length / 220))
    places = [length * k / count for k in range(count + 1)]
    return [(s, 20.0 + (pick.uniform(-deep, deep) if s else 0.0)) for s in places]


def _studs(pick: random.Random, end: float, small: bool, from_: float) -> list[float]:
    pitch, at = pick.uniform(250, 420), from_ + pick.uniform(0, 80)
    most = 2 if small else 4
    return [at + pitch * k for k in range(most) if at + pitch * k < end]


def _spec(
    pick: random.Random,
    legs: Sequence[Leg],
    rods: dict[str, int],
    depth: float,
    first: str | None = None,
) -> Spec:
    """Rods of one length and section, or each its own."""
    clear = Clearance(1.0, pick.uniform(0.8, 3.5), pick.uniform(5, 16))
    size, same = pick.choice((10.0, 12.0, 16.0, 20.0)), pick.random() < 0.5
    longest = depth - clear.end - pick.uniform(5, 60)

    def far() -> float:
        return longest if same else longest * pick.uniform(0.5, 1.0)

    pins = [
        asked.rod(
            wall,
            f"{wall}.s{k}",
            far(),
            size=size if same else pick.choice((10.0, 12.0, 16.0, 20.0)),
            clearance=clear,
        )
        for wall, count in rods.items()
        for k in range(1, count + 1)
    ]
    back: Back = pick.choice(("tight", "tight", "caulk"))
    ends: Ends = pick.choice(("caulk", "tight"))
    spec = asked.shelf(
        legs,
        pins,
        depth=depth,
        back=back,
        back_gap=1.0 if back == "caulk" else 0.0,
        end_gap=pick.choice((1.0, 3.0)),
        scribe_allowance=14.0,
        first=first,
        strip=20.0,
    )
    return replace(spec, ends=ends)


def _things(pick: random.Random, room: Room, frame: Frame, small: bool) -> Iterator[Obstacle]:
    """Up to three boxes: past an end, or in front; at the height of the shelf, or over or under it."""
    low = frame.top - frame.thick
    heights = ((0.0, 2200.0), (low + 10, low + 20), (0.0, low - 1), (frame.top + 1, 2200.0))
    for number in range(pick.choice((0, 1, 1, 2) if small else (0, 0, 1, 2, 3))):
        leg = pick.choice(frame.legs)
        wall = room.wall(leg.wall)
        wide, deep = pick.uniform(30, 200), pick.uniform(20, 300)
        if pick.random() < 0.6:
            beside = (leg.end, 1.0) if pick.random() < 0.5 else (leg.start, -1.0)
            near = beside[0] + beside[1] * pick.uniform(2, 250)
            span, out = sorted((near, near + beside[1] * wide)), (-8.0, deep)
        else:
            at = pick.uniform(leg.start, leg.end)
            off = leg.band + leg.depth + pick.uniform(5, 400)
            span, out = [at, at + wide], (off, off + deep)
        corners = [wall.at(span[i], out[j]) for i, j in ((0, 0), (0, 1), (1, 1), (1, 0))]
        up = pick.choice((heights[0], heights[0], heights[0], *heights[1:]))
        yield Obstacle(f"thing {number}", leg.wall, plane.ccw(corners), up)


def _as_set(pick: random.Random, rod: Rod) -> Rod:
    """A rod as it was read after the cure: a little aside, askew, off level."""
    x, y, z = rod.origin
    across = plane.left((rod.axis[0], rod.axis[1]))
    x, y = plane.along((x, y), across, pick.gauss(0, 0.6))
    flat = plane.turn((rod.axis[0], rod.axis[1]), math.radians(pick.gauss(0, 0.35)))
    lean = math.radians(pick.gauss(0, 0.05))
    axis = (flat[0] * math.cos(lean), flat[1] * math.cos(lean), math.sin(lean))
    return replace(rod, origin=(x, y, z + pick.gauss(0, 0.08)), axis=axis)


def offered(seeds: Sequence[int]) -> Iterator[tuple[Job, Ways]]:
    """Jobs with all their ways."""
    for seed in seeds:
        yield job(seed), looked_at(seed)
