"""Where the section may be shifted to: its configuration space, for many straight moves at once.

A section S at shift p meets a thing T exactly where p lies in T (+) (-S), the Minkowski sum with the
reflected section (de Berg et al., Computational Geometry, ch. 13). Both are cut into convex parts; the sum
of two of them is the hull of the differences of their corners.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from ledgewright.fitting import cut, sweep
from ledgewright.fitting.fixed import CONTACT
from ledgewright.fitting.setting import Setting
from ledgewright.layout import Rod

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Geometries = NDArray[np.object_]


@dataclass(frozen=True)
class Space:
    """Forbidden shifts: of all walls and obstacles together, and of each rod in the order of `Frame.rods`.

    near: where a rod with its side clearance all round reaches into the section. out: where a rod with its
    whole clearance passes an edge that it may not pass.
    """

    things: BaseGeometry
    near: tuple[BaseGeometry, ...]
    out: tuple[BaseGeometry, ...]

    def free(self, moves: Geometries) -> Flags:
        """Return which straight moves (points or lines of shifts) meet no wall and no obstacle."""
        return np.logical_not(shapely.intersects(self.things, moves))

    def cuts(self, moves: Geometries) -> Flags:
        """Return which rods reach into the section on which move, as (moves, rods)."""
        return _each(self.near, moves)

    def breaks(self, moves: Geometries) -> Flags:
        """Return which rods pass an edge that they may not pass on which move, as (moves, rods)."""
        return _each(self.out, moves)


def space(here: Setting) -> Space:
    """Return the configuration space of a section for shifts without a turn.

    The section counts as smaller all round by what is only a touch (`fixed.CONTACT`).
    """
    skin = here.outline.buffer(-CONTACT, join_style="mitre")
    section = [p for part in sweep.parts(skin) for p in sweep.convex_parts(part)]
    rods = here.frame.rods
    things = [part for f in here.fixed for part in sweep.convex_parts(f.shape)]
    near = [cut.body(r, r.clearance.side, r.clearance.side) for r in rods]
    out = [cut.body(r, r.clearance.side - CONTACT, r.clearance.end - CONTACT) for r in rods]
    return Space(
        _sum(things, section),
        tuple(_sum([n], section) for n in near),
        tuple(_sum([o], _edges(here, r)) for o, r in zip(out, rods, strict=True)),
    )


def corners(here: Setting, index: int) -> Array:
    """Return the corners of one thing's forbidden shifts, as (n, 2), without points on a line."""
    parts = sweep.convex_parts(here.fixed[index].shape)
    whole = sweep.parts(_sum(parts, sweep.convex_parts(here.outline)))
    rings = [ring for p in whole for ring in (p, *(Polygon(hole) for hole in p.interiors))]
    return np.array([corner for ring in rings for corner in sweep.as_ring(ring)]).reshape(-1, 2)


def _edges(here: Setting, rod: Rod) -> list[BaseGeometry]:
    """The edges of the section that a rod may not pass: all but the back edge of its own leg."""
    back = LineString(here.leg(rod.wall).back).buffer(0.05, cap_style="flat")
    rest = shapely.get_parts(here.outline.boundary.difference(back))
    lines = [np.asarray(line.coords) for line in rest if isinstance(line, LineString)]
    return [LineString(pair) for c in lines for pair in pairwise(c)]


def _sum(fixed: Sequence[BaseGeometry], moving: Sequence[BaseGeometry]) -> BaseGeometry:
    """Return the sum of convex parts with others reflected, ready for many questions."""
    still = [shapely.get_coordinates(f)[:, None, :] for f in fixed]
    turned = [shapely.get_coordinates(m) for m in moving]
    clouds = [shapely.multipoints((a - b).reshape(-1, 2)) for a in still for b in turned]
    union = shapely.union_all(shapely.convex_hull(np.array(clouds, dtype=object)))
    shapely.prepare(union)
    return union


def _each(known: Sequence[BaseGeometry], moves: Geometries) -> Flags:
    flags = [np.asarray(shapely.intersects(one, moves), dtype=bool) for one in known]
    return np.column_stack(flags) if flags else np.zeros((len(moves), 0), dtype=bool)
