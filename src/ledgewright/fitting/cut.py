"""The channel each rod needs in the section on a path of straight moves."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from shapely.geometry import Polygon

from ledgewright import plane
from ledgewright.fitting import sweep
from ledgewright.fitting.model import Channel, Move
from ledgewright.fitting.sweep import Shape
from ledgewright.layout import Frame, Rod
from ledgewright.plane import Point


def stops(moves: Sequence[Move]) -> tuple[Point, ...]:
    """Return where the section stands before each move and at home, as shifts from home (mm).

    Args:
        moves: straight moves in the order they are made; the last ends at home, (0, 0).

    Raises:
        ValueError: if a move turns the section.
    """
    if any(m.turn for m in moves):
        msg = "only straight moves without a turn have exact channels"
        raise ValueError(msg)
    places = [(0.0, 0.0)]
    for move in reversed(moves):
        places.append(plane.sub(places[-1], (move.dx, move.dy)))
    return tuple(reversed(places))


def channels(frame: Frame, moves: Sequence[Move]) -> tuple[Channel, ...]:
    """Return what the moves cut for each rod, in the plan of the section at home, in the order of the rods.

    In the section's frame a rod runs the path backwards, so on one straight move it covers the hull of
    its rectangle at both ends (Minkowski sum, de Berg et al. ch. 13). The rectangle is the rod widened by
    the side clearance and lengthened by the end clearance. A move on which the rod with its side
    clearance all round keeps clear of the section cuts nothing. Exact for straight moves.

    Args:
        frame: the section at home with its rods, of any direction in the plan.
        moves: straight moves ending at home.

    Returns:
        One channel per connected part; as a rule one per rod. Areas in mm2.
    """
    outline = Polygon(frame.outline)
    path = stops(moves)
    found = []
    for rod in frame.rods:
        cut = sweep.as_shape(sweep.meet(rod_sweep(rod, outline, path), outline))
        found += [_channel(rod, part) for part in sweep.parts(cut)]
    return tuple(found)


def rod_sweep(rod: Rod, outline: Polygon, path: Sequence[Point]) -> Shape:
    """Return all that a rod with its clearance covers in the section's frame, also outside the outline."""
    return sweep.union(move_sweep(rod, outline, a, b) for a, b in pairwise(path))


def move_sweep(rod: Rod, outline: Polygon, a: Point, b: Point) -> Shape:
    """Return what a rod covers while the section moves from shift a to b; nothing if it keeps clear."""
    near = _hull(body(rod, rod.clearance.side, rod.clearance.side), a, b)
    if sweep.meet(near, outline).area <= sweep.SPECK:
        return sweep.union([])
    return sweep.union([_hull(body(rod, rod.clearance.side, rod.clearance.end), a, b)])


def body(rod: Rod, side: float, past: float) -> Polygon:
    """Return a rod in the plan from the wood to its tip, widened by `side` each side, longer by `past`."""
    across = plane.left((rod.axis[0], rod.axis[1]))
    half = rod.bar.width / 2 + side
    start, tip = rod.point(0.0), rod.point(rod.free + rod.projection + past)
    return Polygon([plane.along(p, across, s * half) for p, s in _corners(start, tip)])


def _corners(start: Point, tip: Point) -> tuple[tuple[Point, int], ...]:
    return ((start, -1), (tip, -1), (tip, 1), (start, 1))


def _hull(rod: Polygon, a: Point, b: Point) -> Polygon:
    ring = [(float(x), float(y)) for x, y in rod.exterior.coords[:-1]]
    return Polygon(plane.hull([plane.sub(p, stop) for p in ring for stop in (a, b)]))


def _channel(rod: Rod, part: Polygon) -> Channel:
    whole = Polygon(part.exterior)
    return Channel(rod=rod.id, plan=sweep.as_ring(whole), area=whole.area)
