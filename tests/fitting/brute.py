"""Whether any way of up to three straight moves between listed stops goes, by trying them all with its own code.

Two polygons that move straight past each other touch first where a corner of one meets an edge of the other, so a
move is free if it starts free and no corner's path meets the other thing (elementary; no Minkowski sums). Rods are
hulls of their corners at both ends of a move. Breadth first from home: every triple of moves is covered.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, MultiPoint, Polygon
from shapely.geometry.base import BaseGeometry

from ledgewright.layout import Frame, LegAt
from ledgewright.survey import Room
from tests.fitting.replay import GRID, TOUCH, Array, Flags, Pin, pin, things

MOST = 3
"""Moves of a way."""


@dataclass(frozen=True)
class Brute:
    """A section with all that blocks it. slack: how much more (mm) than touching counts as free."""

    section: Polygon
    outline: Polygon
    still: BaseGeometry
    pins: tuple[tuple[Pin, BaseGeometry], ...]
    slack: float

    def free(self, stop: Array, others: Array) -> Flags:
        """Which straight moves from one stop to others meet nothing that stands still, and break nothing out."""
        good = self._clear(stop, others)
        for k in np.flatnonzero(good):
            good[k] = all(self._sound(one, edges, stop, others[k]) for one, edges in self.pins)
        return good

    def _clear(self, stop: Array, others: Array) -> Flags:
        ring = np.asarray(self.section.exterior.coords)[:-1]
        ends = shapely.polygons(ring[None] + others[:, None])
        good = ~np.asarray(shapely.intersects(self.still, ends))
        some = np.flatnonzero(good)
        corners = shapely.get_coordinates(self.still)
        for points, sign, other in ((ring, 1.0, self.still), (corners, -1.0, self.section)):
            if not len(some):
                break
            starts = np.broadcast_to(points + sign * stop, (len(some), *points.shape))
            paths = np.stack([starts, points[None] + sign * others[some, None]], axis=2)
            moves = shapely.linestrings(paths.reshape(-1, 2, 2))
            if sign < 0:
                shapely.prepare(other)
            hits = np.asarray(shapely.intersects(other, moves)).reshape(len(some), -1).any(axis=1)
            good[some[hits]] = False
            some = some[~hits]
        return good

    def _sound(self, one: Pin, edges: BaseGeometry, a: Array, b: Array) -> bool:
        """A rod that reaches into the section with its side clearance must leave all but its own back edge alone."""
        if not _hull(one.corners(one.side, one.side), a, b).intersects(self.section):
            return True
        tight = TOUCH + self.slack
        return not _hull(one.corners(one.side - tight, one.end - tight), a, b).intersects(edges)

    def open(self, stop: Array) -> bool:
        """Whether no rod reaches into the section there, and nothing is met."""
        ring = Polygon(np.asarray(self.outline.exterior.coords) + stop)
        pins = [Polygon(one.corners(one.side, one.side)) for one, _ in self.pins]
        return not any(p.intersects(ring) for p in pins)


def _hull(corners: Array, a: Array, b: Array) -> BaseGeometry:
    return MultiPoint(np.vstack([corners - a, corners - b])).convex_hull


def _own_back(outline: Polygon, leg: LegAt) -> BaseGeometry:
    """All edges of the section but the back edge of one leg."""
    back = LineString(leg.back).buffer(0.02, cap_style="flat")
    return shapely.difference(outline.boundary, back, grid_size=GRID)


def brute(room: Room, frame: Frame, slack: float = 0.0) -> Brute:
    """The section among what stands still.

    Args:
        room: the room.
        frame: the section at home.
        slack: by so much more may everything overlap; negative is stricter (mm).
    """
    outline = Polygon(frame.outline)
    section = outline.buffer(-TOUCH - slack, join_style="mitre")
    assert isinstance(section, Polygon)
    still = shapely.union_all(things(room, frame), grid_size=GRID)
    shapely.prepare(still)
    legs = {leg.wall: leg for leg in frame.legs}
    pins = tuple((pin(r), _own_back(outline, legs[r.wall])) for r in frame.rods)
    return Brute(section, outline, still, pins, slack)


def goes(here: Brute, stops: NDArray[np.float64], least_off: Array) -> bool:
    """Whether up to three straight moves between stops lead home.

    Args:
        here: the section among what stands still.
        stops: shifts from home, home first (n, 2).
        least_off: for each stop, whether it counts as out of the alcove.
    """
    home = np.zeros(2)
    if not here.free(home, np.zeros((1, 2)))[0]:
        return False
    begin = np.array(
        [bool(out) and here.open(stop) for stop, out in zip(stops, least_off, strict=True)]
    )
    reached = np.zeros(len(stops), dtype=bool)
    reached[0] = True
    newest = [0]
    for _ in range(MOST):
        more: list[int] = []
        for k in newest:
            left = np.flatnonzero(~reached)
            if not len(left):
                break
            found = left[here.free(stops[k], stops[left])]
            if begin[found].any():
                return True
            reached[found] = True
            more += found.tolist()
        newest = more
    return False
