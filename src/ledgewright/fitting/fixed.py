"""What stands still round a shelf: walls by their true lines, and obstacles at its height, as polygons."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from shapely.geometry import Polygon

from ledgewright import plane
from ledgewright.fitting import sweep
from ledgewright.fitting.sweep import Shape
from ledgewright.plane import Line, Point
from ledgewright.survey import Room, Wall

CONTACT = 0.02
"""Two faces that overlap by less than this only touch (mm): a fiftieth of what a scribe can show."""

BEHIND = 100.0
"""How deep a wall is drawn (mm); a section moves without jumps, so it cannot pass through."""


@dataclass(frozen=True)
class Fixed:
    """One thing that stands still: a wall, with its unit vector out of the face, or an obstacle (None).

    section: whether it is a section of the shelf itself that hangs already.
    """

    name: str
    shape: Polygon
    wall: str | None = None
    outward: Point | None = None
    section: bool = False

    @property
    def said(self) -> str:
        """How a sentence calls it."""
        return self.name if self.wall is None else f"wall {self.name}"


def fixed_things(room: Room, *, low: float, high: float) -> tuple[Fixed, ...]:
    """Return the walls, and the obstacles whose heights meet the band of the shelf.

    Args:
        room: the room as found.
        low: underside of the shelf above the datum (mm).
        high: top of the shelf above the datum (mm).
    """
    walls = [Fixed(w.mark, wall_body(w), w.id, w.outward) for w in room.walls]
    met = [o for o in room.obstacles if o.up[0] < high and o.up[1] > low]
    return (*walls, *(Fixed(o.id, Polygon(o.plan), section=o.section) for o in met))


def wall_body(wall: Wall) -> Polygon:
    """Return a wall as a solid in the plan: its true face and 100 mm behind the deepest hollow.

    It narrows backwards at 45 degrees, so that at an outside corner it does not come out of the other face: with
    square ends it would wherever the solid of the corner is sharper than a right angle.
    """
    line = whole_line(wall)
    back = min(out for _, out in line) - BEHIND
    low, high = line[0][0], line[-1][0]
    narrow = min(BEHIND, (high - low) / 3)
    face = [wall.at(along, out) for along, out in line]
    return Polygon([*face, wall.at(high - narrow, back), wall.at(low + narrow, back)])


def whole_line(wall: Wall) -> Line:
    """Return the true face of a wall over its whole length, carried on level where it was not taped."""
    line = list(wall.line)
    if wall.start < line[0][0]:
        line.insert(0, (wall.start, line[0][1]))
    if wall.end > line[-1][0]:
        line.append((wall.end, line[-1][1]))
    return tuple(line)


def overlap(moving: Shape, thing: Fixed, give: Sequence[Point]) -> float:
    """Return how far a section runs into a thing; 0 if it only touches.

    Args:
        moving: the section, or what it covers on a move (mm).
        thing: what stands still.
        give: unit vectors along which the section could give way to an obstacle; to a wall it gives way
            square to it. The least travel counts.
    """
    if not sweep.overlaps(moving, thing.shape):
        return 0.0
    off = give if thing.outward is None else (thing.outward,)
    deep = min(
        sweep.travel_to_clear(moving, thing.shape, plane.scale(way, sign))
        for way in off
        for sign in ((-1.0,) if thing.outward else (-1.0, 1.0))
    )
    return deep if deep > CONTACT else 0.0
