"""Where the section stands on its way home, what it meets there, and how much free room that takes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from shapely.geometry import MultiPoint, Polygon
from shapely.geometry import Point as Spot
from shapely.geometry.base import BaseGeometry

from ledgewright import plane
from ledgewright.fitting import Move, Way
from ledgewright.judge import Design
from ledgewright.layout import Frame, LegAt
from ledgewright.plane import Point, Ring
from ledgewright.survey import Wall

_PART = math.radians(0.25)
"""A turn is followed in parts no larger than this: over 3 m the chord leaves the arc by under 0.01 mm."""


@dataclass(frozen=True)
class Stance:
    """A place of the section: turned from home by `turn` (rad) about the plan point `about`, then shifted (mm)."""

    shift: Point
    turn: float = 0.0
    about: Point = (0.0, 0.0)

    def place(self, point: Point) -> Point:
        """Return where a point of the section at home stands in the room."""
        if not self.turn:
            return plane.add(point, self.shift)
        arm = plane.turn(plane.sub(point, self.about), self.turn)
        return plane.add(plane.add(self.about, arm), self.shift)

    def ring(self, points: Sequence[Point]) -> Ring:
        """Return where a line or ring of the section at home stands in the room."""
        return tuple(self.place(p) for p in points)


@dataclass(frozen=True)
class Free:
    """Free room that a way takes past the home of the section (mm), measured from `at` along `course`.

    side: which end, or the front; wall: of the leg. beside: how far the section stands out across `course`
    on its way, so that a dimension can be drawn clear of it. right: whether that is drawn to the right of it, because
    something hangs or stands to its left.
    """

    side: str
    wall: str
    far: float
    at: Point
    course: Point
    beside: float
    right: bool = False


def stances(moves: Sequence[Move]) -> tuple[Stance, ...]:
    """Return where the section stands before each move and at home.

    Args:
        moves: in the order they are made; the last ends at home. All turns are about one point.
    """
    about = next((turned_about(m) for m in moves if m.turn), (0.0, 0.0))
    found = [Stance((0.0, 0.0), 0.0, about)]
    for move in reversed(moves):
        after = found[-1]
        shift = plane.sub(after.shift, (move.dx, move.dy))
        found.append(Stance(shift, after.turn - move.turn, about))
    return tuple(reversed(found))


def turned_about(move: Move) -> Point:
    """Return the point of the section, as it lies at home, that a move turns about: the plan's origin unless said."""
    about: Point = getattr(move, "about", (0.0, 0.0))
    return about


def parts(a: Stance, b: Stance) -> tuple[Stance, ...]:
    """Return a move as a row of stances from a to b, a turn in small parts, a straight move as its ends."""
    count = max(1, math.ceil(abs(b.turn - a.turn) / _PART))

    def part(t: float) -> Stance:
        shift = plane.add(plane.scale(a.shift, 1 - t), plane.scale(b.shift, t))
        return Stance(shift, a.turn + (b.turn - a.turn) * t, a.about)

    return tuple(part(k / count) for k in range(count + 1))


def carrying(design: Design) -> tuple[Wall, ...]:
    """Return the walls that carry the shelf, the one it goes onto first before the other."""
    walls = [design.room.wall(leg.wall) for leg in design.frame.legs]
    return tuple(sorted(walls, key=lambda w: w.id != design.frame.first))


def farthest(design: Design, way: Way, k: int) -> float:
    """Return how far the k-th move (from 0) goes (mm); on a turn, how far the corner goes that goes farthest."""
    move = way.moves[k]
    if not move.turn:
        return math.hypot(move.dx, move.dy)
    before, after = stances(way.moves)[k : k + 2]
    return max(
        plane.length(plane.sub(after.place(p), before.place(p))) for p in design.frame.outline
    )


def begun(design: Design, way: Way) -> tuple[Wall, float, float]:
    """Return where the section stands before the first move: the wall it goes onto first, off, along.

    off: how far it stands off that wall from where it will hang; along: how far to the right of it as one faces
    the wall (mm, negative to the left).
    """
    shift, wall = stances(way.moves)[0].shift, carrying(design)[0]
    return wall, plane.dot(shift, wall.outward), plane.dot(shift, wall.direction)


def slid_along(design: Design, way: Way) -> Wall | None:
    """Return the wall that the hold-off of a way is kept from: the one its last move closes on; None without."""
    if way.hold_off <= 0 or not way.moves:
        return None
    last = way.moves[-1]
    return min(carrying(design), key=lambda w: plane.dot((last.dx, last.dy), w.outward))


def held_places(design: Design, way: Way) -> tuple[float, ...]:
    """Return where on the wall (along, mm) hold-off blocks stand: near both ends, behind the section all the while.

    They keep 50 mm from every rod, so that a slot never runs onto one.
    """
    wall = slid_along(design, way)
    if wall is None:
        return ()
    leg = next(g for g in design.frame.legs if g.wall == wall.id)
    gone = [plane.dot(s.shift, wall.direction) for s in stances(way.moves)[1:]]
    # Round an outside corner the shelf stands past the end of its wall, where no block holds.
    low = max(leg.start + max(0.0, *gone), wall.start)
    high = min(leg.end + min(0.0, *gone), wall.end)
    rods = [wall.figures(r.point(r.free))[0] for r in design.frame.rods if r.wall == wall.id]
    return tuple(_clear_of(rods, low, high, way) for way in (1, -1))


def _clear_of(rods: Sequence[float], low: float, high: float, way: int) -> float:
    """Return the first place from one end, 60 mm in, that keeps off the rods; the end itself if none does."""
    at = low + 60.0 if way > 0 else high - 60.0
    while low <= at <= high:
        if all(abs(at - rod) >= 50.0 for rod in rods):
            return at
        at += 10.0 * way
    return low + 60.0 if way > 0 else high - 60.0


def entering(design: Design, way: Way, k: int) -> tuple[str, ...]:
    """Return the ids of the rods whose tips come into the section on the k-th move (from 0)."""
    standing = stances(way.moves)
    before, after = (Polygon(s.ring(design.frame.outline)) for s in standing[k : k + 2])
    tips = [(r.id, Spot(r.point(r.free + r.projection))) for r in design.frame.rods]
    return tuple(name for name, tip in tips if after.covers(tip) and not before.covers(tip))


def passed(design: Design, way: Way, k: int, near: float) -> tuple[tuple[str, float], ...]:
    """Return the obstacles that the section passes nearer than `near` on the k-th move, with the least gap (mm).

    Only what stands at the height of the shelf counts.
    """
    frame, standing = design.frame, stances(way.moves)
    swept = _swept(frame, parts(standing[k], standing[k + 1]))
    low, high = frame.top - frame.thick, frame.top
    gaps = [
        (o.id, swept.distance(Polygon(o.plan)))
        for o in design.room.obstacles
        if o.up[0] < high and o.up[1] > low
    ]
    return tuple((name, gap) for name, gap in gaps if gap < near)


def _swept(frame: Frame, row: Sequence[Stance]) -> BaseGeometry:
    """All that the section covers: for each edge and part of the move the hull of its four ends, and both ends."""
    rings = [s.ring(frame.outline) for s in row]
    made: BaseGeometry = Polygon(rings[0])
    for a, b in pairwise(rings):
        edges = zip(a, (*a[1:], a[0]), b, (*b[1:], b[0]), strict=True)
        for four in edges:
            made = made.union(MultiPoint(four).convex_hull)
    return made.union(Polygon(rings[-1]))


def free_room(design: Design, way: Way) -> tuple[Free, ...]:
    """Return how far past its home the section reaches on its way: past each free end, and in front.

    In an inside corner no leg has a front of its own: in front of one leg is past the end of the other.
    """
    legs = design.frame.legs
    found = []
    if legs[0].left_end == "free":
        found.append(_past(design, way, legs[0], "left end"))
    if legs[-1].right_end == "free":
        found.append(_past(design, way, legs[-1], "right end"))
    if len(legs) == 1 or design.frame.turn == "outside":
        found += [_past(design, way, leg, "front") for leg in legs]
    return tuple(f for f in found if f.far > 0.5)


def _past(design: Design, way: Way, leg: LegAt, side: str) -> Free:
    wall = design.room.wall(leg.wall)
    course, at = {
        "left end": (plane.scale(wall.direction, -1), leg.front[0]),
        "right end": (wall.direction, leg.front[1]),
        "front": (wall.outward, leg.front[0]),
    }[side]
    right = side == "front" and leg.left_end == "joint" and leg.right_end == "free"
    at = leg.front[1] if right else at
    row = [s for a, b in pairwise(stances(way.moves)) for s in parts(a, b)]
    aside = wall.direction if right else plane.scale(wall.direction, -1)
    across = aside if side == "front" else wall.outward
    return Free(
        side=side,
        wall=wall.id,
        far=_beyond(design.frame.outline, row, course),
        at=at,
        course=course,
        beside=max(0.0, *(plane.dot(plane.sub(s.place(at), at), across) for s in row)),
        right=right,
    )


def _beyond(outline: Ring, row: Sequence[Stance], course: Point) -> float:
    """How much farther the section reaches along a course than at home (mm)."""
    home = max(plane.dot(p, course) for p in outline)
    return max(max(plane.dot(p, course) for p in s.ring(outline)) for s in row) - home
