"""The faces of a section once it is laid out: the plan of a skin, and the runs of edging round it."""

from __future__ import annotations

import math

from shapely import Polygon, intersection_all, union_all
from shapely.geometry.base import BaseGeometry

from ledgewright import plane
from ledgewright.job import Spec
from ledgewright.layout.legs import Side
from ledgewright.layout.model import Frame, LegAt
from ledgewright.plane import Point, Ring

FAR = 1e5
"""Longer than any shelf (mm)."""

ROUNDING = 1e-6
"""What is less than this off a line is on it (mm): sums of figures are no truer."""


def into_wall(leg: LegAt) -> Point:
    """Return the unit vector from a leg's front edge square into its wall."""
    return plane.left(plane.unit(plane.sub(leg.front[1], leg.front[0])))


def lean(leg: LegAt, side: Side) -> float:
    """Return how much longer a leg is at the back than at the front, at one end, per mm of its depth.

    Exactly nought where the end is square to the front. Of an end that bends, that of the straight line between its
    front point and its back point.

    Args:
        leg: of a section.
        side: which end.
    """
    front, back = end_points(leg, side)
    away = plane.sub(back, front)
    more = -plane.dot(away, _along(leg, side))
    return 0.0 if abs(more) < ROUNDING else more / plane.dot(away, into_wall(leg))


def end_points(leg: LegAt, side: Side) -> tuple[Point, Point]:
    """Return the front point and the back point of an end.

    Args:
        leg: of a section.
        side: which end.
    """
    return (leg.front[0], leg.back[0]) if side == "left" else (leg.front[1], leg.back[-1])


def into_leg(leg: LegAt, side: Side) -> Point:
    """Return the unit vector from an end into its leg, square to the end's own line.

    Args:
        leg: of a section.
        side: which end.
    """
    along, slant = _along(leg, side), lean(leg, side)
    return plane.unit(plane.along(along, into_wall(leg), slant)) if slant else along


def _along(leg: LegAt, side: Side) -> Point:
    """The unit vector along the front, from an end into its leg."""
    along = plane.unit(plane.sub(leg.front[1], leg.front[0]))
    return along if side == "left" else plane.scale(along, -1)


def behind(point: Point, inward: Point, by: float) -> Polygon:
    """Return the half plane, as a very large square, that lies `by` (mm) and more from a point along `inward`."""
    start = plane.along(point, inward, by)
    side = plane.left(inward)
    a, b = plane.along(start, side, FAR), plane.along(start, side, -FAR)
    return Polygon([a, b, plane.along(b, inward, FAR), plane.along(a, inward, FAR)])


def skin_plan(outline: Ring, spec: Spec, frame: Frame) -> Polygon:
    """Return the plan of a skin: an outline less the edging on the fronts and the free ends.

    Edging is as thick everywhere, so a skin's edge runs parallel to the finished one, also at an end that leans.

    Args:
        outline: of the finished section or of its blank (mm).
        spec: the shelf.
        frame: its legs.

    Raises:
        TypeError: if what is left is not one whole piece.
    """
    backs = [behind(leg.front[0], into_wall(leg), spec.edging_thick) for leg in frame.legs]
    inner = intersection_all(backs) if frame.turn == "outside" else union_all(backs)
    skin: BaseGeometry = Polygon(outline).intersection(inner)
    for leg in frame.legs:
        for side in free_ends(leg):
            front, _ = end_points(leg, side)
            skin = skin.intersection(behind(front, into_leg(leg, side), spec.edging_thick))
    return whole(skin)


def free_ends(leg: LegAt) -> tuple[Side, ...]:
    """Return which ends of a leg are free, and so have edging on them."""
    ends: tuple[tuple[Side, str], ...] = (("left", leg.left_end), ("right", leg.right_end))
    return tuple(side for side, kind in ends if kind == "free")


def corner_of(outline: Ring, frame: Frame) -> tuple[Point, Point]:
    """Return the two points of the corner of an L: the one it is notched to, then the one that sticks out.

    Args:
        outline: of the finished section or of its blank (mm).
        frame: its two legs.
    """
    front, room = frame.legs[0].front[1], frame.legs[0].back[-1]
    back = min(outline, key=lambda p: plane.length(plane.sub(p, room)))
    return (front, back) if frame.turn == "inside" else (back, front)


def whole(shape: BaseGeometry) -> Polygon:
    """Return a shape as the one polygon it must be.

    Raises:
        TypeError: if it is empty or in several pieces.
    """
    if not isinstance(shape, Polygon) or shape.is_empty:
        msg = f"a skin must be one whole piece, this lay-out gives {shape.geom_type}"
        raise TypeError(msg)
    return shape


def edging_runs(frame: Frame, spec: Spec) -> tuple[tuple[str, float], ...]:
    """Return the runs of edging, every front and every free end, with finished length (mm).

    Each is as long as the edge of the blank it is glued to: what is scribed off the back or an end is still on it.
    An end that leans is longer than the shelf is deep.

    Args:
        frame: the section at home.
        spec: the shelf.
    """
    runs: list[tuple[str, float]] = []
    more = spec.scribe_allowance if spec.back == "tight" else -spec.back_gap
    for leg in frame.legs:
        mark = f" {mark_of(frame, leg)}" if len(frame.legs) > 1 else ""
        front = plane.length(plane.sub(leg.front[1], leg.front[0]))
        runs.append((f"front{mark}", _edge(frame.blank, leg.front[0], into_wall(leg), front)))
        for side in free_ends(leg):
            deep = (leg.depth + more) * math.hypot(1.0, lean(leg, side))
            at, _ = end_points(leg, side)
            runs.append((f"{side} end{mark}", _edge(frame.blank, at, into_leg(leg, side), deep)))
    return tuple(runs)


def _edge(ring: Ring, point: Point, inward: Point, length: float) -> float:
    """The length of a blank's edge through a point, square to a vector; as reckoned, where that differs by nothing."""
    line = plane.left(inward)
    on = [
        away
        for p in ring
        for away in [plane.sub(p, point)]
        if abs(plane.dot(away, inward)) < ROUNDING
    ]
    places = [plane.dot(away, line) for away in on]
    found = max(places, default=0.0) - min(places, default=0.0)
    return found if found > length + ROUNDING else length


def mark_of(frame: Frame, leg: LegAt) -> str:
    """Return the letter of a leg's wall as its rods bear it; the wall's id where it has no rods."""
    marks = (r.mark.rstrip("0123456789") for r in frame.rods if r.wall == leg.wall)
    return next(marks, leg.wall)
