"""The faces of a section once it is laid out: the plan of a skin, and the runs of edging round it."""

from __future__ import annotations

from shapely import Polygon, intersection_all, union_all
from shapely.geometry.base import BaseGeometry

from ledgewright import plane
from ledgewright.job import Spec
from ledgewright.layout.model import Frame, LegAt
from ledgewright.plane import Point, Ring

FAR = 1e5
"""Longer than any shelf (mm)."""


def into_wall(leg: LegAt) -> Point:
    """Return the unit vector from a leg's front edge square into its wall."""
    return plane.left(plane.unit(plane.sub(leg.front[1], leg.front[0])))


def behind(point: Point, inward: Point, by: float) -> Polygon:
    """Return the half plane, as a very large square, that lies `by` (mm) and more from a point along `inward`."""
    start = plane.along(point, inward, by)
    side = plane.left(inward)
    a, b = plane.along(start, side, FAR), plane.along(start, side, -FAR)
    return Polygon([a, b, plane.along(b, inward, FAR), plane.along(a, inward, FAR)])


def skin_plan(outline: Ring, spec: Spec, frame: Frame) -> Polygon:
    """Return the plan of a skin: an outline less the edging on the fronts and the free ends.

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
        inward = plane.unit(plane.sub(leg.front[1], leg.front[0]))
        if leg.left_end == "free":
            skin = skin.intersection(behind(leg.front[0], inward, spec.edging_thick))
        if leg.right_end == "free":
            back = plane.scale(inward, -1)
            skin = skin.intersection(behind(leg.front[1], back, spec.edging_thick))
    return whole(skin)


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

    An end is as long as the shelf from front to back; with the scribe allowance where its back is scribed to the wall.
    """
    runs: list[tuple[str, float]] = []
    more = spec.scribe_allowance if spec.back == "tight" else -spec.back_gap
    for leg in frame.legs:
        mark = f" {mark_of(frame, leg)}" if len(frame.legs) > 1 else ""
        runs.append((f"front{mark}", plane.length(plane.sub(leg.front[1], leg.front[0]))))
        for side, kind in (("left", leg.left_end), ("right", leg.right_end)):
            if kind == "free":
                runs.append((f"{side} end{mark}", leg.depth + more))
    return tuple(runs)


def mark_of(frame: Frame, leg: LegAt) -> str:
    """Return the letter of a leg's wall as its rods bear it; the wall's id where it has no rods."""
    marks = (r.mark.rstrip("0123456789") for r in frame.rods if r.wall == leg.wall)
    return next(marks, leg.wall)
