"""One section at home among what stands still, and the figures that ways are planned from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from shapely.geometry import Polygon

from ledgewright import plane
from ledgewright.fitting import cut, sweep
from ledgewright.fitting.fixed import Fixed, fixed_things
from ledgewright.fitting.heights import Lift, lift
from ledgewright.fitting.scribe import Scribing, scribing
from ledgewright.layout import Frame, LegAt, Rod
from ledgewright.plane import Point
from ledgewright.survey import Room, Wall

ROOM_TO_PASS = 6.35
"""Least air between a rod's tip and the back edge that is carried past it: 1/4 in, common practice."""

LEAST_HOLD_OFF = 1.5875
"""Air kept, beyond the bow, from a wall that a scribed edge slides along: 1/16 in, common practice."""

FAR = 1e4
"""Longer than any room (mm)."""


@dataclass(frozen=True)
class Setting:
    """A section at home, the room as polygons at its height, and the thickness of its edging (mm)."""

    room: Room
    frame: Frame
    outline: Polygon
    fixed: tuple[Fixed, ...]
    edging: float

    def leg(self, wall: str) -> LegAt:
        """Return the leg on a wall."""
        return next(leg for leg in self.frame.legs if leg.wall == wall)

    def rods(self, wall: str) -> tuple[Rod, ...]:
        """Return the rods of a wall, left to right."""
        return tuple(r for r in self.frame.rods if r.wall == wall)

    def into(self, wall: str) -> Point:
        """Return the unit vector into a wall along its rods, or square to its string where it has none."""
        axes = [plane.unit((r.axis[0], r.axis[1])) for r in self.rods(wall)]
        total = (sum(a[0] for a in axes), sum(a[1] for a in axes))
        return plane.scale(plane.unit(total) if axes else self.room.wall(wall).outward, -1.0)

    def slots_may(self, wall: str) -> sweep.Shape:
        """Return where slots of a wall's rods may be: in the section, and out through its back edge on that wall."""
        return self._may[wall]

    @cached_property
    def _may(self) -> dict[str, sweep.Shape]:
        return {leg.wall: sweep.union([self.outline, behind(leg)]) for leg in self.frame.legs}

    @cached_property
    def axes(self) -> tuple[Point, Point]:
        """The two directions ways are planned in: into the legs' walls, or into the one and along it."""
        legs = self.frame.legs
        u = self.into(legs[0].wall)
        if len(legs) > 1:
            return (u, self.into(legs[1].wall))
        return (u, plane.unit(plane.sub(legs[0].front[1], legs[0].front[0])))

    @cached_property
    def joint(self) -> tuple[Point, Point] | None:
        """The joint face of a section of one leg, from its back to its front; None without."""
        first, last = self.frame.legs[0], self.frame.legs[-1]
        if first.left_end == "joint":
            return (first.back[0], first.front[0])
        return (last.back[-1], last.front[1]) if last.right_end == "joint" else None

    @cached_property
    def lift(self) -> Lift:
        """How the rods stand in height."""
        return lift(self.frame)

    @cached_property
    def scribing(self) -> Scribing:
        """The figures of the two-pass scribe."""
        return scribing(self.frame, self.edging)

    @cached_property
    def returns(self) -> tuple[Wall, ...]:
        """The walls without rods that an end of a straight section meets at an inside corner."""
        legs = {leg.wall for leg in self.frame.legs}
        inside = [c for c in self.room.corners if c.turn == "inside"]
        beside = {c.left for c in inside if c.right in legs} | {
            c.right for c in inside if c.left in legs
        }
        return tuple(w for w in self.room.walls if w.id in beside - legs)


def setting(room: Room, frame: Frame, edging: float) -> Setting:
    """Return a section among the walls and the obstacles at its height."""
    fixed = fixed_things(room, low=frame.band[0], high=frame.band[1])
    return Setting(room, frame, Polygon(frame.outline), fixed, edging)


def behind(leg: LegAt) -> Polygon:
    """Return all that lies behind the back line of a leg, which is carried on level past both ends."""
    along = plane.unit(plane.sub(leg.front[1], leg.front[0]))
    first, last = plane.along(leg.back[0], along, -FAR), plane.along(leg.back[-1], along, FAR)
    deep = plane.scale(plane.left(along), FAR)
    return Polygon([first, *leg.back, last, plane.add(last, deep), plane.add(first, deep)])


def steepest(line: Sequence[Point], u: Point, v: Point) -> float:
    """Return the steepest rise along v for each mm along u, of a line that is no return on itself."""
    rises = []
    for a, b in pairwise(line):
        step = plane.sub(b, a)
        du, dv = plane.dot(step, u), plane.dot(step, v)
        if abs(du) > 1e-6:
            rises.append(dv / du)
    return max(rises, default=0.0)


def past_tip(rod: Rod, outline: sweep.Shape, into: Point) -> float:
    """Return how far the section must stand off, against `into`, to be in front of one tip (mm)."""
    return sweep.travel_to_clear(outline, cut.body(rod, rod.clearance.side, 0.0), into)


def past_tips(here: Setting, outline: sweep.Shape, wall: str, into: Point) -> float:
    """Return how far to stand off to be in front of all tips of a wall, with room to pass, and out of an alcove."""
    reach = [past_tip(r, outline, into) for r in here.rods(wall)]
    return max(max([0.0, *reach]) + room_to_pass(here.rods(wall)), past_mouth(here, outline, into))


def past_mouth(here: Setting, outline: sweep.Shape, into: Point) -> float:
    """Return how far a section between two returns must stand off to be out of the alcove.

    The shorter return counts. One that runs out farther than the section is long is the side of a room in
    which the section can be turned, and no alcove.
    """
    if len(here.returns) < 2:
        return 0.0
    back = sweep.extent(outline, into)[1]
    low, high = sweep.extent(outline, plane.left(into))
    outs = [
        back - min(plane.dot(w.at(*p), into) for p in (w.line[0], w.line[-1])) for w in here.returns
    ]
    return min(outs) if min(outs) < high - low else 0.0


def room_to_pass(rods: Sequence[Rod]) -> float:
    """Return the air to keep between tips and an edge that passes them (mm)."""
    return max([ROOM_TO_PASS, *(r.clearance.side + 1.0 for r in rods)])


def aside(here: Setting, wall: str, along: Point) -> float:
    """Return how far to shift off a wall so that its tips pass its back edge while the section moves `along`."""
    rods, into = here.rods(wall), here.into(wall)
    if not rods:
        return 0.0
    lanes = [_lane(r, plane.scale(along, FAR)) for r in rods]
    shift = max(sweep.travel_to_clear(here.outline, lane, into) for lane in lanes)
    return max(shift, 0.0) + room_to_pass(rods)


def _lane(rod: Rod, by: Point) -> Polygon:
    """What a rod sweeps; it is convex, so a hull."""
    ring = [(float(x), float(y)) for x, y in cut.body(rod, 0.0, 0.0).exterior.coords[:-1]]
    return Polygon(plane.hull([*ring, *plane.shift(ring, by)]))


def hold_off(here: Setting, wall: str, slide: sweep.Shape, u: Point) -> float:
    """Return the least gap at which the whole slide clears the true wall, and the margin.

    The greatest difference of two polylines lies at a corner of one of them: exact.
    """
    solid = next(f.shape for f in here.fixed if f.wall == wall)
    return max(0.0, sweep.travel_to_clear(slide, solid, u)) + LEAST_HOLD_OFF
