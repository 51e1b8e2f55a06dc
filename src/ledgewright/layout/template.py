"""A template of strips made up on site: what to cut for it, where to read it, and what it should read."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ledgewright import plane
from ledgewright.job import Spec
from ledgewright.layout.blank import close
from ledgewright.layout.legs import Run, runs, turn_of
from ledgewright.plane import Point, Ring
from ledgewright.survey import Room

STRIP = 75.0
"""Width of a strip, of thin sheet that lies flat (mm, 3 in: common practice)."""

OFF = 12.0
"""A strip stands this much off the proudest point of its wall, so that it slips in (mm, 1/2 in: common practice)."""

SHORT = 25.0
"""A strip stops this short of what its ends meet (mm, 1 in: common practice)."""

CHECK = (600.0, 800.0)
"""Marks from the corner along the two strips for the check across, 3 to 4 (mm; common practice)."""


@dataclass(frozen=True)
class Strip:
    """One strip along a wall: where it runs (along), its outer edge (out), its plan, and the stations to read.

    readings: (along, gap from the strip's outer edge to the wall that is expected there) (mm).
    """

    wall: str
    start: float
    end: float
    out: float
    plan: Ring
    readings: tuple[Point, ...]

    @property
    def length(self) -> float:
        """Length to cut (mm)."""
        return self.end - self.start


@dataclass(frozen=True)
class Across:
    """A check across a corner: a mark on the outer edge of each strip, so far from where these meet (mm)."""

    left: str
    right: str
    on_left: float
    on_right: float
    across: float


@dataclass(frozen=True)
class Template:
    """The strips of one shelf, the brace over its corner, and the measure across it."""

    strips: tuple[Strip, ...]
    brace: Ring | None
    across: Across | None


def template(room: Room, spec: Spec) -> Template:
    """Return the lay-out of a strip template for a shelf: it carries the walls' true line to the bench.

    Strips lie at shelf height a little off the walls, are fixed to each other at the corner, and are braced. The
    gaps read from their outer edges go into the job as the wall's line; across two marks the corner is read again.

    Args:
        room: the room, read along the shelf's own lines.
        spec: the shelf or the section.

    Raises:
        LayoutError: a shelf that cannot be laid at all.
    """
    legs = runs(room, spec)
    turn = turn_of(room, legs)
    strips = tuple(_strip(run, inside=turn == "inside") for run in legs)
    if len(legs) == 1 or turn is None:
        return Template(strips, None, None)
    left, right = strips
    corner = plane.meet(
        legs[0].wall.at(0.0, left.out),
        legs[0].wall.direction,
        legs[1].wall.at(0.0, right.out),
        legs[1].wall.direction,
    )
    if corner is None:
        return Template(strips, None, None)
    on = [min(most, strip.length - STRIP) for most, strip in zip(CHECK, strips, strict=True)]
    marks = (
        plane.along(corner, legs[0].wall.direction, -on[0]),
        plane.along(corner, legs[1].wall.direction, on[1]),
    )
    across = Across(left.wall, right.wall, on[0], on[1], math.dist(*marks))
    return Template(strips, _brace(legs, corner, inside=turn == "inside"), across)


def _strip(run: Run, *, inside: bool) -> Strip:
    out = run.band + OFF
    start = run.start + (SHORT if run.left_end == "wall" else 0.0)
    end = run.end - (SHORT if run.right_end == "wall" else 0.0)
    # At an inside corner the strips meet in front of it; the corner end stands as far off as they do.
    if inside and run.right_end == "corner":
        end -= OFF
    if inside and run.left_end == "corner":
        start += OFF
    wall = run.wall
    plan = plane.ccw(
        [
            wall.at(s, o)
            for s, o in ((start, out), (end, out), (end, out + STRIP), (start, out + STRIP))
        ]
    )
    inner = [s for s in run.stations() if start < s < end]
    readings = tuple((s, out - wall.face(s)) for s in close([start, *inner, end]))
    return Strip(wall.id, start, end, out, plan, readings)


def _brace(legs: tuple[Run, ...], corner: Point, *, inside: bool) -> Ring:
    """A straight strip across the corner, 400 mm along either side of it, on the room's side or over the solid."""
    reach = 400.0
    into = STRIP if inside else 0.0
    a = plane.along(plane.along(corner, legs[0].wall.direction, -reach), legs[0].wall.outward, into)
    b = plane.along(plane.along(corner, legs[1].wall.direction, reach), legs[1].wall.outward, into)
    aside = plane.scale(plane.right(plane.unit(plane.sub(b, a))), STRIP)
    return plane.ccw([a, b, plane.add(b, aside), plane.add(a, aside)])
