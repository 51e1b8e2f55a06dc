"""Frames and rooms made by hand, and random L jobs through survey and layout."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass

from shapely.geometry import Polygon

from ledgewright import layout, plane, survey
from ledgewright.job import Clearance, Leg, Spec
from ledgewright.layout import Frame, LegAt, Rod
from ledgewright.plane import Point, Ring
from ledgewright.survey import Obstacle, Room, Wall
from tests.layout import asked
from tests.survey import taped

IN = 25.4


def rod(
    name: str,
    wall: str,
    at: Point,
    axis: Point,
    projection: float,
    *,
    size: float = 12.0,
    free: float = 0.0,
    clearance: Clearance | None = None,
) -> Rod:
    """A rod that leaves the finished face at `at`."""
    start = plane.along(at, axis, -free)
    return Rod(
        id=name,
        mark=name,
        wall=wall,
        member=name,
        bar=asked.bar(size),
        origin=(*start, 0.0),
        axis=(*axis, 0.0),
        embedment=75.0,
        free=free,
        projection=projection,
        hole=size + 2,
        adhesive=asked.EPOXY,
        clearance=clearance or Clearance(0.0, 0.0, 0.0),
        in_slot="dry",
    )


def frame(
    outline: Ring, rods: Sequence[Rod], legs: Sequence[LegAt] = (), first: str = "A"
) -> Frame:
    return Frame(
        shelf="made",
        outline=plane.ccw(outline),
        blank=plane.ccw(outline),
        legs=tuple(legs),
        scribe=(),
        rods=tuple(rods),
        slots=(),
        top=1000.0,
        thick=50.0,
        first=first,
    )


def straight_room(
    *,
    lean_left: float = 0.0,
    lean_right: float = 0.0,
    length: float = 1000.0,
    right: bool = True,
    obstacles: Sequence[Obstacle] = (),
) -> Room:
    """A back wall on y = 0 from x = 0, with returns 600 long; a lean is how far its mouth comes in."""

    def wall(name: str, start: Point, end: Point) -> Wall:
        away = plane.sub(end, start)
        size = plane.length(away)
        return Wall(
            id=name,
            mark=name,
            origin=start,
            direction=plane.unit(away),
            start=0.0,
            end=size,
            line=((0.0, 0.0), (size, 0.0)),
            sd=0.0,
            tape_from="left",
            framing="wood",
            timber=None,
            depth_to_wood=16.0,
            lining=(),
            members=(),
            known=taped.KNOWN,
        )

    walls = [
        wall("left", (lean_left, -600.0), (0.0, 0.0)),
        wall("back", (0.0, 0.0), (length, 0.0)),
    ]
    if right:
        walls.append(wall("right", (length, 0.0), (length - lean_right, -600.0)))
    return Room(tuple(walls), (), tuple(obstacles), ())


def straight_frame(
    start: Point, end: Point, *, depth: float = 250.0, rods: Sequence[Point] = ((300.0, 180.0),)
) -> Frame:
    """A shelf on y = 0 whose ends run from the back to (start x, end x) at the front; rods (x, projection)."""
    outline = ((start[0], 0.0), (start[1], -depth), (end[1], -depth), (end[0], 0.0))
    leg = LegAt(
        wall="back",
        start=start[0],
        end=end[0],
        back=((start[0], 0.0), (end[0], 0.0)),
        front=((start[1], -depth), (end[1], -depth)),
        left_end="wall",
        right_end="wall",
        band=0.0,
        depth=depth,
    )
    clear = Clearance(1.0, 2.0, 15.0)
    pins = [
        rod(f"r{k}", "back", (x, 0.0), (0.0, -1.0), far, size=16.0, free=16.0, clearance=clear)
        for k, (x, far) in enumerate(rods, 1)
    ]
    return frame(outline, pins, [leg], "back")


def box(name: str, low: Point, high: Point, up: tuple[float, float] = (0.0, 2000.0)) -> Obstacle:
    (a, b), (c, d) = low, high
    return Obstacle(name, "back", ((a, b), (c, b), (c, d), (a, d)), up)


@dataclass(frozen=True)
class Side:
    """One side of a random corner, by distances from the corner."""

    name: str
    length: float
    leg: float
    gaps: tuple[tuple[float, float], ...]
    studs: tuple[float, ...]
    projection: float


@dataclass(frozen=True)
class Corner:
    """A random L job: two sides, the angle between, clearances, depth."""

    sides: tuple[Side, Side]
    angle: float
    depth: float
    side_clearance: float
    end_clearance: float
    first: str

    def mirrored(self) -> Corner:
        """The same job seen in a mirror."""
        return Corner(
            (self.sides[1], self.sides[0]),
            self.angle,
            self.depth,
            self.side_clearance,
            self.end_clearance,
            self.first,
        )

    def build(self) -> tuple[Room, Frame, Spec]:
        """The room, the frame and the spec: the left side is taped from its right end, in the corner."""
        left, right = self.sides
        walls = [
            taped.wall(
                s.name,
                s.length,
                s.gaps,
                tape_from="right" if s is left else "left",
                members=[(c - 19.0, c + 19.0) for c in s.studs],
            )
            for s in self.sides
        ]
        corner = taped.corner(left.name, right.name, angle=self.angle)
        room = survey.room(taped.tapes(walls, [corner]), 1300.0)
        clear = Clearance(1.0, self.side_clearance, self.end_clearance)
        rods = [
            asked.rod(s.name, f"{s.name}.s{k}", s.projection, clearance=clear)
            for s in self.sides
            for k in range(1, len(s.studs) + 1)
        ]
        legs = [Leg(left.name, -left.leg, 0.0), Leg(right.name, 0.0, right.leg)]
        spec = asked.shelf(legs, rods, depth=self.depth, first=self.first, scribe_allowance=14.0)
        return room, layout.frame(room, spec), spec


def random_corner(seed: int) -> Corner:
    """A corner that may or may not go on: bows to 8 mm, 88 to 92 degrees, two to four studs a side."""
    pick = random.Random(seed)  # noqa: S311  # cases, not secrets
    depth = pick.uniform(220, 300)
    sides = (_random_side(pick, "P", depth), _random_side(pick, "Q", depth))
    return Corner(
        sides,
        math.radians(pick.uniform(88, 92)),
        depth,
        pick.uniform(1.0, 3.0),
        pick.uniform(6.0, 15.0),
        pick.choice(("P", "Q")),
    )


def _random_side(pick: random.Random, name: str, depth: float) -> Side:
    leg = pick.uniform(900, 1700)
    length = leg + pick.uniform(250, 600)
    gaps = [(0.0, 20.0)]
    while gaps[-1][0] + 200 < length:
        gaps.append((gaps[-1][0] + pick.uniform(150, 300), 20.0 + pick.uniform(-4, 4)))
    gaps = [g for g in gaps if g[0] < length]
    pitch = pick.uniform(300, 420)
    studs: list[float] = []
    while (c := pick.uniform(330, 380) + pitch * len(studs)) < leg - 60 and len(studs) < 4:
        studs.append(c)
    return Side(name, length, leg, tuple(gaps), tuple(studs), pick.uniform(120, depth - 60))


def wall_solid(wall: Wall, deep: float = 60.0) -> Polygon:
    """A wall as a solid, from its taped line alone."""
    face = [wall.at(s, out) for s, out in wall.line]
    behind = [wall.at(s, out - deep) for s, out in reversed(wall.line)]
    return Polygon([*face, *behind])
