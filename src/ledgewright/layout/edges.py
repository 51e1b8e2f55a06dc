"""Each scribed edge on its own: what the wall takes off the blank, the straight cuts that follow it, the bevel."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from ledgewright import plane
from ledgewright.job import Spec
from ledgewright.layout.blank import KERF, SIDES, blank_back, close, rough_ends
from ledgewright.layout.legs import Run, Side, runs, turn_of
from ledgewright.layout.model import Frame, LayoutError
from ledgewright.layout.polyline import mark_to_mark, within_band
from ledgewright.plane import Line, Point, Ring
from ledgewright.survey import Room

SHORTEST = 150.0
"""A shorter straight cut than this is planed or sanded, not sawn (mm, 6 in: common practice)."""

UNDERCUT = math.radians(2.0)
"""A scribed edge is bevelled back by this at least, so that its top edge touches first (rad; common practice)."""

_FAR = 1e4
_STRETCH = 200.0


@dataclass(frozen=True)
class Cut:
    """One straight cut along an edge: from where to where (along, off the blank's edge), how long (mm)."""

    start: Point
    end: Point

    @property
    def length(self) -> float:
        """Length of the cut itself (mm)."""
        return math.dist(self.start, self.end)


@dataclass(frozen=True)
class Scribed:
    """One edge of a blank that is scribed, in its own figures: (along, how much is taken off) from its start (mm).

    wall: the wall it is scribed to. leg: the wall its leg hangs on. side: as you face that. origin, course: the blank's
    edge in the plan; what is taken off lies to the right of the course. face: the finished edge at the stations.
    cuts: the fewest that take off no less than the face and at most the tolerance more. marks: the fewest from mark to
    mark on the face, which stray as much to either side. lean: how far the wall stands back per height.
    """

    wall: str
    leg: str
    side: Literal["back", "left", "right"]
    origin: Point
    course: Point
    face: Line
    cuts: Line
    marks: Line
    lean: float

    @property
    def bow(self) -> float:
        """How much more is taken off in one place than in another (mm)."""
        takes = [take for _, take in self.face]
        return max(takes) - min(takes)

    @property
    def most(self) -> float:
        """The most that is taken off (mm)."""
        return max(take for _, take in self.face)

    @property
    def least(self) -> float:
        """The least that is taken off (mm)."""
        return min(take for _, take in self.face)

    @property
    def needs(self) -> float:
        """The oversize to leave: the bow, and what pencil and blade need (mm)."""
        return self.bow + KERF

    def sawn(self, *, two_sided: bool = False) -> tuple[Cut, ...]:
        """Return the straight cuts in order.

        Args:
            two_sided: from mark to mark, to be planed where they stray, and not those that only take away.
        """
        return tuple(Cut(a, b) for a, b in pairwise(self.marks if two_sided else self.cuts))

    def at(self, point: Point) -> Point:
        """Return the plan point of a place in the edge's own figures."""
        inward = plane.right(self.course)
        return plane.along(plane.along(self.origin, self.course, point[0]), inward, point[1])

    def bevel(self) -> float:
        """Return how far the edge is bevelled back from its top face down (rad); negative leans over.

        Where the wall stands back at the top, the bottom edge must be shorter by as much; then the undercut.
        """
        return math.atan(self.lean) + UNDERCUT


def scribed(room: Room, spec: Spec, guide: float | None = None) -> tuple[Scribed, ...]:
    """Return every edge of a shelf or section that is scribed, each leg's back first, then its ends.

    Args:
        room: the room, read along the shelf's own lines.
        spec: the shelf or the section.
        guide: the longest cut in one setting (mm); None if nothing limits it.

    Raises:
        LayoutError: a shelf that cannot be laid at all.
    """
    longest = math.inf if guide is None else guide
    found: list[Scribed] = []
    for run in runs(room, spec):
        if spec.back == "tight":
            found.append(_back(run, spec, longest))
        if spec.ends == "tight":
            for side, beside in zip(SIDES, run.beside, strict=True):
                if beside is not None:
                    found.append(_end(run, spec, side, beside, longest))
    return tuple(found)


def sawn_outline(room: Room, spec: Spec, frame: Frame, edges: Sequence[Scribed]) -> Ring:
    """Return the plan of a section once its straight cuts are made: the blank less what lies past each.

    Args:
        room: the room, read along the shelf's own lines.
        spec: the shelf or the section.
        frame: its lay-out.
        edges: from `scribed`.

    Raises:
        LayoutError: if the cuts leave more than one piece.
    """
    away = {edge: _past(edge) for edge in edges}
    backs: list[BaseGeometry] = [away[edge] for edge in edges if edge.side == "back"]
    ends = [away[edge] for edge in edges if edge.side != "back"]
    left: Polygon = Polygon(frame.blank)
    if len(backs) > 1 and turn_of(room, runs(room, spec)) == "outside":
        backs = [backs[0].intersection(backs[1])]
    kept = left.difference(unary_union([*backs, *ends])) if edges else left
    if not isinstance(kept, Polygon) or kept.is_empty:
        msg = f"The scribe of shelf {spec.id} leaves it in pieces: look at the gaps near its corner and ends."
        raise LayoutError(msg)
    return plane.ccw(tuple((x, y) for x, y in kept.exterior.coords[:-1]))


def _past(edge: Scribed) -> Polygon:
    """All that lies past an edge's cuts: its first and last cut carried on for a hand's breadth, then level."""
    (x0, t0), (x1, t1) = edge.cuts[0], edge.cuts[1]
    (y0, u0), (y1, u1) = edge.cuts[-2], edge.cuts[-1]
    first = t0 - (t1 - t0) / (x1 - x0) * _STRETCH
    last = u1 + (u1 - u0) / (y1 - y0) * _STRETCH
    low, high = x0 - _STRETCH, y1 + _STRETCH
    walk = [(low - _FAR, first), (low, first), *edge.cuts, (high, last), (high + _FAR, last)]
    walk += [(high + _FAR, -_FAR), (low - _FAR, -_FAR)]
    return Polygon([edge.at(p) for p in walk])


def _back(run: Run, spec: Spec, longest: float) -> Scribed:
    out = blank_back(run, spec)
    face = tuple((s - run.start, run.wall.face(s) - out) for s in close(run.stations()))
    origin = run.wall.at(run.start, out)
    return _with_cuts(
        spec, longest, run.wall.id, run.wall.id, "back", origin, run.wall.direction, face
    )


def _end(run: Run, spec: Spec, side: Side, beside: str, longest: float) -> Scribed:
    """An end, from the front to the back at the left, from the back to the front at the right."""
    rough = rough_ends(run, spec)
    edge = plane.height_at(rough.cut(side), 0.0)
    corner = run.wall.face(run.start if side == "left" else run.end)
    back = corner if spec.back == "tight" else run.band + spec.back_gap
    front = run.front
    outs = close([back, *(out for out, _ in run.cut(side) if back < out < front), front])
    takes = [(out, abs(plane.height_at(run.cut(side), out) - edge)) for out in outs]
    if side == "left":
        face = tuple((front - out, take) for out, take in reversed(takes))
        start, course = front, plane.scale(run.wall.outward, -1)
    else:
        face = tuple((out - back, take) for out, take in takes)
        start, course = back, run.wall.outward
    origin = run.wall.at(edge, start)
    return _with_cuts(spec, longest, beside, run.wall.id, side, origin, course, face)


def _with_cuts(
    spec: Spec,
    longest: float,
    wall: str,
    leg: str,
    side: Literal["back", "left", "right"],
    origin: Point,
    course: Point,
    face: Line,
) -> Scribed:
    within = spec.scribe_tolerance
    at, low = [x for x, _ in face], [take for _, take in face]
    cuts = within_band(at, low, [take + within for take in low], longest)
    lean = next((each.slope for each in spec.lean if each.wall == wall), 0.0)
    return Scribed(
        wall=wall,
        leg=leg,
        side=side,
        origin=origin,
        course=course,
        face=face,
        cuts=cuts,
        marks=mark_to_mark(face, within, longest),
        lean=lean,
    )
