"""A template of strips made up on site: what to cut for it, where to read it, and what it should read."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ledgewright import plane
from ledgewright.job import Spec
from ledgewright.layout.blank import SIDES, close
from ledgewright.layout.legs import Run, runs, turn_of
from ledgewright.plane import Point, Ring
from ledgewright.survey import Room, Wall

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
    """The strips of one shelf, the brace over its corner, the measure across it, or that between two ends (mm)."""

    strips: tuple[Strip, ...]
    brace: Ring | None
    across: Across | None
    mouth: float | None = None


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
        return _with_ends(room, spec, legs[0], strips)
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


def _with_ends(room: Room, spec: Spec, run: Run, strips: tuple[Strip, ...]) -> Template:
    """The strip of a straight shelf, with one along each wall that an end is scribed to, and the width between two."""
    if spec.ends != "tight":
        return Template(strips, None, None)
    ends = [
        _end_strip(room.wall(beside), run, strips[0], run.depth, leads=side == "left")
        for side, beside in zip(SIDES, run.beside, strict=True)
        if beside is not None
    ]
    mouth = None
    if len(ends) == 2:
        fronts = [
            room.wall(each.wall).at(along, each.out)
            for each, along in zip(ends, (ends[0].start, ends[1].end), strict=True)
        ]
        mouth = math.dist(*fronts)
    return Template((*strips, *ends), None, None, mouth)


def _end_strip(wall: Wall, run: Run, back: Strip, depth: float, *, leads: bool) -> Strip:
    """A strip along a return, from the back strip's front edge out to the front edge of the shelf.

    leads: whether the return comes before the back wall, at its left.
    """
    near = (back.start, back.start + 2 * STRIP) if leads else (back.end - 2 * STRIP, back.end)
    rim = [wall.figures(run.wall.at(s, back.out + STRIP))[0] for s in near]
    if leads:
        start, end = max(wall.end - depth, wall.start), min(rim) - 1.0
    else:
        start, end = max(rim) + 1.0, min(wall.start + depth, wall.end)
    inner = [s for s, _ in wall.line if start < s < end]
    out = max(wall.face(s) for s in (start, *inner, end)) + OFF
    return _made(wall, start, end, out, inner)


def _made(wall: Wall, start: float, end: float, out: float, inner: Sequence[float]) -> Strip:
    corners = ((start, out), (end, out), (end, out + STRIP), (start, out + STRIP))
    readings = tuple((s, out - wall.face(s)) for s in close([start, *inner, end]))
    return Strip(wall.id, start, end, out, plane.ccw([wall.at(*c) for c in corners]), readings)


def _strip(run: Run, *, inside: bool) -> Strip:
    out = run.band + OFF
    low, high = run.before_wall()
    start = low + (SHORT if run.left_end == "wall" else 0.0)
    end = high - (SHORT if run.right_end == "wall" else 0.0)
    # At an inside corner the strips meet in front of it; the corner end stands as far off as they do.
    if inside and run.right_end == "corner":
        end -= OFF
    if inside and run.left_end == "corner":
        start += OFF
    return _made(run.wall, start, end, out, [s for s in run.stations() if start < s < end])


def _brace(legs: tuple[Run, ...], corner: Point, *, inside: bool) -> Ring:
    """A straight strip across the corner, 400 mm along either side of it, on the room's side or over the solid."""
    reach = 400.0
    into = STRIP if inside else 0.0
    a = plane.along(plane.along(corner, legs[0].wall.direction, -reach), legs[0].wall.outward, into)
    b = plane.along(plane.along(corner, legs[1].wall.direction, reach), legs[1].wall.outward, into)
    aside = plane.scale(plane.right(plane.unit(plane.sub(b, a))), STRIP)
    return plane.ccw([a, b, plane.add(b, aside), plane.add(a, aside)])
