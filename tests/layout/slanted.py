"""An L in two sections round a corner out of square: the first one's far end, past the corner, is not square."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from shapely import union_all
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from ledgewright.job import Ends, Leg, Spec
from ledgewright.layout import Frame, frame, sections
from ledgewright.plane import Point, Ring
from ledgewright.survey import Room, room
from tests.layout import asked
from tests.survey.taped import corner, tapes, wall

LONG, SHORT, DEEP, EDGING, ALLOWANCE = 1300.0, 1200.0, 285.0, 12.0, 12.0
STUDS = [(381.0, 419.0), (781.0, 819.0), (1181.0, 1219.0)]
Turning = Literal["inside", "outside"]
Gaps = Sequence[tuple[float, float]]
ANGLES = (75.0, 80.0, 87.5, 90.0, 90.4, 92.5, 100.0, 105.0)


FLAT = ((0.0, 10.0), (2000.0, 10.0))
"""A straight face, 10 off its string."""


def ell(turn: Turning, degrees: float, face: Gaps = FLAT) -> Room:
    """Walls of 2000 that meet at so many degrees, A straight and taped from the corner, B as told."""
    walls = [
        wall("A", 2000, FLAT, tape_from="right", members=STUDS),
        wall("B", 2000, face, members=STUDS),
    ]
    return room(tapes(walls, [corner("A", "B", turn=turn, angle=math.radians(degrees))]), 1365)


def made(
    turn: Turning, degrees: float, first: str = "A", ends: Ends = "caulk", face: Gaps = FLAT
) -> list[tuple[Spec, Frame]]:
    """The sections of an L whose longer leg, on `first`, runs through the corner."""
    there = ell(turn, degrees, face)
    a, b = (LONG, SHORT) if first == "A" else (SHORT, LONG)
    pins = [asked.rod(w, f"{w}.s{k}", 200.0) for w in "AB" for k in (1, 2)]
    spec = asked.shelf([Leg("A", -a, 0.0), Leg("B", 0.0, b)], pins, first=first, end_gap=0.0)
    parts = sections(there, replace(spec, sections=2, ends=ends))
    return [(part, frame(there, part)) for part in parts]


@dataclass(frozen=True)
class Hand:
    """The first section by hand: how much longer at the back per depth, its front, and its edging's thickness along."""

    lean: float
    front: float
    along: float

    def reach(self, deep: float) -> float:
        """Length of the skins so far behind the front: the square far end and the slanted one edged."""
        return self.front + self.lean * deep - self.along - EDGING

    def area(self, back: float) -> float:
        """Area of the skins from behind the front's edging to so far behind the front: a trapezium."""
        return (back - EDGING) * (self.reach(EDGING) + self.reach(back)) / 2


def by_hand(degrees: float) -> Hand:
    """Round a solid of t the front of a strip d deep ends (d + d cos t)/sin t past the corner, its back d/sin t past.

    That is the meeting of two strips as deep as each other; a line 12 off the end is 12/sin t off it along the front.
    """
    t = math.radians(degrees)
    front = LONG + DEEP * (1 + math.cos(t)) / math.sin(t)
    return Hand(-math.cos(t) / math.sin(t), front, EDGING / math.sin(t))


def edged(found: Frame) -> list[LineString]:
    """The front of a section and those of its ends that are free, from the front to the back."""
    (leg,) = found.legs
    ends = ((leg.left_end, 0, 0), (leg.right_end, 1, -1))
    free = [LineString([leg.front[i], leg.back[j]]) for kind, i, j in ends if kind == "free"]
    return [LineString(leg.front), *free]


def bands(ring: Ring, found: Frame) -> BaseGeometry:
    """All of an outline within the edging's thickness of an edge that has edging: by a polygon library alone."""
    strips = []
    for edge in edged(found):
        (x0, y0), (x1, y1) = edge.coords
        ends = ((11 * x0 - 10 * x1, 11 * y0 - 10 * y1), (11 * x1 - 10 * x0, 11 * y1 - 10 * y0))
        strips.append(LineString(ends).buffer(EDGING, cap_style="flat"))
    return union_all(strips).intersection(Polygon(ring))


def box_along(plan: Ring, along: Point) -> tuple[float, float]:
    """Length along a unit vector, and width across it, of the rectangle round a plan."""
    ss = [x * along[0] + y * along[1] for x, y in plan]
    ts = [-x * along[1] + y * along[0] for x, y in plan]
    return max(ss) - min(ss), max(ts) - min(ts)
