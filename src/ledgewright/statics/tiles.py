"""The top of a shelf cut into tiles, so that every load is a sum over tiles and any part of it may be left off."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from ledgewright import plane
from ledgewright.layout import Frame
from ledgewright.plane import Point, Ring
from ledgewright.statics.seats import Row
from ledgewright.survey import Wall

GRID = 1e-9
"""Overlays are rounded to this (mm): without a grid the library at times loses a whole polygon."""
NARROW = 5.0
"""Cuts nearer than this are one (mm)."""
PAST = 50.0
"""A leg is looked for so far past its ends (mm); the outline cuts it off."""
SPECK = 1.0
"""Less than this is no part of a load (mm2)."""
LEAST = 0.5
"""Half of what a load is at least wide and deep where it is made smaller to clear the edging (mm)."""
AT_EDGE = 25.0
"""A load whose middle lies on edging presses on so much of the skin behind it (mm; as deep as a foot)."""

Zone = Literal["left end", "bay", "right end"]


@dataclass(frozen=True)
class Tile:
    """One part of a leg's top: between two rods or rod and mid bay, in front or behind.

    number: counted from the left over all legs, the same in front and behind. plan: its plan with straight edges, for a
    load to lie on, clear of the edging; past: how far past the middle of that its own middle lies, (0, 0) but where it
    lies on edging. shape: the part of the shelf it stands for. bay: number of the bay on its leg from the left, ends
    included. along: of its middle on its wall (mm).
    """

    wall: str
    number: int
    plan: Ring
    past: Point
    shape: Polygon
    bay: int
    zone: Zone
    front: bool
    along: float


def tiles(
    frame: Frame, rows: Sequence[Row], walls: Sequence[Wall], *, edging: float
) -> tuple[Tile, ...]:
    """Return the tiles of a shelf; together they cover its outline once.

    Each leg is cut at its rods, half way between them, and at half its depth. The corner square belongs to the
    first leg.

    Args:
        frame: the shelf at home.
        rows: its legs with their rods, left to right.
        walls: the wall of each leg.
        edging: how thick the edging is (mm).
    """
    left, made = Polygon(frame.outline), list[Tile]()
    for row, wall in zip(rows, walls, strict=True):
        region = _meet(left, _reach(wall, row))
        left = _largest(shapely.difference(left, region, grid_size=GRID))
        number = made[-1].number + 1 if made else 1
        made += _of_leg(row, wall, region, edging, number)
    return tuple(made)


def strip(wall: Wall, along: tuple[float, float], outs: tuple[float, float]) -> Ring:
    """Return a rectangle on a wall between two alongs and two distances out, as a plan ring."""
    (a, b), (near, far) = along, outs
    return (wall.at(a, far), wall.at(b, far), wall.at(b, near), wall.at(a, near))


def clear(
    stretch: tuple[float, float], low: float, high: float
) -> tuple[tuple[float, float], float]:
    """Return a stretch made shorter about its middle to lie on the skin, and how far past that its middle lies.

    A load half on the edging would else be put on the skin alone, and its middle would lie nearer the wall. One whose
    middle is on the edging lies on the skin just behind it, its middle so far past that.

    Args:
        stretch: from, to (mm).
        low: where the skin begins (mm).
        high: where it ends (mm).
    """
    (a, b), middle = stretch, (stretch[0] + stretch[1]) / 2
    half = min((b - a) / 2, middle - low, high - middle)
    if half > LEAST:
        return (middle - half, middle + half), 0.0
    half = min((b - a) / 2, AT_EDGE / 2, (high - low) / 2)
    at = min(max(middle, low + half), high - half)
    return (at - half, at + half), middle - at


def lie(
    wall: Wall,
    along: tuple[float, float],
    outs: tuple[float, float],
    skin: tuple[float, float, float],
) -> tuple[Ring, Point]:
    """Return where a rectangle on a wall lies on the skin, and how far past the middle of that its own middle lies.

    Args:
        wall: it stands on.
        along: from, to (mm).
        outs: from, to (mm).
        skin: along which the skin begins and ends there, and its front edge (mm).
    """
    low, high, front = skin
    (ends, aside), (depths, on) = clear(along, low, high), clear(outs, -math.inf, front)
    return strip(wall, ends, depths), plane.sub(wall.at(aside, on), wall.at(0.0, 0.0))


def _meet(a: Polygon, b: Polygon) -> Polygon:
    """Return the largest polygon of what two shapes share."""
    return _largest(shapely.intersection(a, b, grid_size=GRID))


def _largest(shape: BaseGeometry) -> Polygon:
    polygons = [p for p in shapely.get_parts(shape) if isinstance(p, Polygon)]
    return max(polygons, key=lambda p: p.area, default=Polygon())


def deepest(row: Row, wall: Wall) -> float:
    """Return how far out the deepest place of a leg's back edge lies (mm)."""
    return min([row.leg.band, *(wall.figures(p)[1] for p in row.leg.back)])


def proudest(row: Row, wall: Wall, ends: tuple[float, float]) -> float:
    """Return how far out the proudest place of a leg's back edge lies between two alongs (mm)."""
    along, out = np.array(sorted(wall.figures(p) for p in row.leg.back)).T
    between = along[(along > ends[0]) & (along < ends[1])]
    return float(max(row.leg.band, *np.interp([*ends, *between], along, out)))


def _reach(wall: Wall, row: Row) -> Polygon:
    """All of the plan that may belong to a leg: from the deepest place of its back to just past its front."""
    ends = (min(row.low, row.front[0]) - PAST, max(row.high, row.front[1]) + PAST)
    return Polygon(strip(wall, ends, (deepest(row, wall) - 1.0, row.leg.band + row.leg.depth + 1)))


def _of_leg(row: Row, wall: Wall, region: Polygon, edging: float, number: int) -> list[Tile]:
    alongs = [wall.figures((x, y))[0] for x, y in region.exterior.coords]
    band, front, at = row.leg.band, row.leg.band + row.leg.depth, [seat.x for seat in row.seats]
    middle = (band + front) / 2
    # A shape runs back to the true wall; its load lies on the straight part of it.
    behind = ((band, middle), (deepest(row, wall) - 1.0, middle))
    before = ((middle, front), (middle, front + 1.0))
    made = []
    for k, (a, b) in enumerate(pairwise(_cuts(at, min(alongs), max(alongs))), start=number):
        bay = sum(x < (a + b) / 2 for x in at)
        zone: Zone = "left end" if bay == 0 else "right end" if bay == len(at) else "bay"
        for plan, outs in (behind, before):
            shape = _meet(region, Polygon(strip(wall, (a, b), outs)))
            if shape.area > SPECK:
                low = a + edging if zone == "left end" and row.leg.left_end == "free" else -math.inf
                high = (
                    b - edging if zone == "right end" and row.leg.right_end == "free" else math.inf
                )
                ring, past = lie(wall, (a, b), plan, (low, high, front - edging))
                in_front, at_middle = outs[0] == middle, (a + b) / 2
                made.append(Tile(wall.id, k, ring, past, shape, bay, zone, in_front, at_middle))
    return made


def _cuts(rods: Sequence[float], low: float, high: float) -> list[float]:
    """Where a leg is cut: at its ends, its rods, and half way between them."""
    inner = [x for a, b in pairwise(rods) for x in (a, (a + b) / 2)] + list(rods[-1:])
    cuts = [low]
    for x in inner:
        if cuts[-1] + NARROW < x < high - NARROW:
            cuts.append(x)
    return [*cuts, high]
