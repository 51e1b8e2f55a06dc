"""Exact sweeps of polygons along straight moves, and how far one must back off to clear another.

The sweep along a straight move is the Minkowski sum with a segment (de Berg et al., Computational
Geometry, ch. 13): the shape at one end and the parallelogram that each of its edges draws.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.affinity import translate
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry import Point as ShapelyPoint
from shapely.geometry.base import BaseGeometry, BaseMultipartGeometry

from ledgewright import plane
from ledgewright.fitting.pose import CHORD, Pose, steps, turning_point
from ledgewright.plane import Point, Ring

SPECK = 1e-6
"""Areas below this are the rounding of a polygon library, not wood (mm2)."""

GRID = 1e-9
"""Overlays are rounded to this (mm). Without a grid the library at times loses a whole polygon without a
word: GEOS 3.14.1 gave two points for a channel inside an outline whose edge its mouth lies on."""

SAME = 1e-7
"""Two points this near are one (mm)."""

Shape = Polygon | MultiPolygon


def parts(shape: BaseGeometry) -> list[Polygon]:
    """Return the polygons of a shape that are more than a speck, largest first, ties by place."""
    whole = shape.geoms if isinstance(shape, BaseMultipartGeometry) else (shape,)
    found = [p for p in whole if isinstance(p, Polygon) and p.area > SPECK]
    return sorted(found, key=lambda p: (-p.area, p.bounds)) if len(found) > 1 else found


def as_shape(shape: BaseGeometry) -> Shape:
    """Return the polygons of whatever a boolean operation gave, without stray points and lines."""
    found = parts(shape)
    return found[0] if len(found) == 1 else MultiPolygon(found)


def as_ring(shape: Polygon) -> Ring:
    """Return the outer ring of a polygon, counter-clockwise, without doubled points or points on a line."""
    ring = [(float(x), float(y)) for x, y in shape.exterior.coords]
    apart = [p for p, q in pairwise(ring) if plane.length(plane.sub(p, q)) > SAME]
    kept: list[Point] = []
    # One point at a time: of two near neighbours, each alone looks as if it lay on a line. So the last looks on to the
    # first that was kept: a corner told twice where the ring begins was lost else.
    for k, here in enumerate(apart):
        before = kept[-1] if kept else apart[-1]
        after = apart[k + 1] if k + 1 < len(apart) else (kept or apart)[0]
        if _off_line(here, before, after) > SAME:
            kept.append(here)
    return plane.ccw(kept)


def _off_line(point: Point, a: Point, b: Point) -> float:
    chord = plane.sub(b, a)
    size = plane.length(chord)
    away = plane.sub(point, a)
    return abs(plane.cross(chord, away)) / size if size > SAME else plane.length(away)


def meet(a: BaseGeometry, b: BaseGeometry) -> Shape:
    """Return what two shapes share; no stray points or lines, which another overlay would refuse."""
    return as_shape(shapely.intersection(a, b, grid_size=GRID))


def overlaps(a: BaseGeometry, b: BaseGeometry) -> bool:
    """Return whether two shapes share more than a speck."""
    return bool(a.intersects(b)) and meet(a, b).area > SPECK


def less(a: BaseGeometry, b: BaseGeometry) -> Shape:
    """Return the first shape without the second; no stray lines, which another overlay would refuse."""
    return as_shape(shapely.difference(a, b, grid_size=GRID))


def union(shapes: Iterable[BaseGeometry]) -> Shape:
    """Return the union of shapes."""
    return as_shape(shapely.union_all([s for s in shapes if not s.is_empty], grid_size=GRID))


def moved(shape: Shape, by: Point) -> Shape:
    """Return the shape moved by a vector (mm)."""
    return translate(shape, by[0], by[1])


def swept(shape: Shape, by: Point) -> Shape:
    """Return what a shape covers on a straight move: its Minkowski sum with the segment from 0 to `by`.

    de Berg et al., Computational Geometry, ch. 13. Exact but for the rounding of the library.

    Args:
        shape: polygon, with or without holes, or several (mm).
        by: the move (mm).
    """
    if plane.length(by) == 0:
        return shape
    ends = np.array(_edges(shapely.orient_polygons(shape)))
    along = ends[:, 1] - ends[:, 0]
    # What leaves the shape does so through an edge that faces the move; all rings have the shape on their left.
    ends = ends[along[:, 1] * by[0] - along[:, 0] * by[1] > SPECK * SPECK]
    rings = np.concatenate([ends, ends[:, ::-1] + np.array(by)], axis=1)
    drawn = np.asarray(shapely.polygons(rings), dtype=object)
    return union([shape, moved(shape, by), *drawn])


def swept_along(shape: Polygon, stops: Sequence[Pose]) -> list[Shape]:
    """Return what a section covers on each move from one pose to the next.

    Exact on a straight move; on a turn too large by at most two `CHORD` and one `FAN`, never too small: the section
    before it and the hulls of each edge at both ends of short steps, widened by the sagitta. What no edge
    crosses on a move and is covered once was covered before it.

    Args:
        shape: the section at home (mm).
        stops: where it stands.
    """
    return [_swept_between(shape, a, b) for a, b in pairwise(stops)]


def placed(shape: Polygon, pose: Pose) -> Polygon:
    """Return a section at a pose."""
    return Polygon([pose.place((x, y)) for x, y in shape.exterior.coords])


def convex_parts(shape: Polygon) -> list[Polygon]:
    """Return a polygon as few convex ones: its constrained Delaunay triangles, joined where that stays convex."""
    joined: list[Polygon] = []
    for triangle in shapely.get_parts(shapely.constrained_delaunay_triangles(shape)):
        for k, part in enumerate(joined):
            whole = shapely.convex_hull(shapely.multipolygons([part, triangle]))
            if whole.area - part.area - triangle.area < SPECK:
                joined[k] = whole
                break
        else:
            joined.append(triangle)
    return joined


def _swept_between(shape: Polygon, a: Pose, b: Pose) -> Shape:
    if a.turn == b.turn:
        return swept(placed(shape, a), plane.sub(b.shift, a.shift))
    about = turning_point(a, b)
    clouds = [
        [pose.place(point) for point in edge for pose in ends]
        for edge in _edges(shape)
        for ends in steps(a, b, max(plane.length(plane.sub(p, about)) for p in edge), _size(edge))
    ]
    drawn = hulls(np.array(clouds))
    return as_shape(union([placed(shape, a), *drawn]).buffer(CHORD, join_style="mitre"))


def _size(edge: tuple[Point, Point]) -> float:
    return plane.length(plane.sub(edge[1], edge[0]))


def hulls(clouds: NDArray[np.float64]) -> NDArray[np.object_]:
    """Return the convex hulls of clouds of points, (clouds, points, 2)."""
    return np.asarray(shapely.convex_hull(shapely.linestrings(clouds)), dtype=object)


def travel_to_clear(moving: Shape, fixed: Shape, into: Point) -> float:
    """Return the least travel against `into` that takes `moving` wholly out of the way of `fixed`.

    Both are cut by lines along `into`; on each line met by both, the moving shape must end before the
    fixed one begins. The difference of two polylines is greatest at a corner of one of them: exact.

    Args:
        moving: the shape that backs off (mm).
        fixed: the shape that stays (mm).
        into: unit vector of the approach.

    Returns:
        The travel (mm), negative if there is room left; minus infinity if no line meets both.
    """
    return float(_gaps(_rows(moving, into), _rows(fixed, into)))


def points(shape: Shape) -> list[ShapelyPoint]:
    """Return the corners of a shape."""
    return [ShapelyPoint(x, y) for x, y in shapely.get_coordinates(shape)]


def extent(shape: BaseGeometry, along: Point) -> tuple[float, float]:
    """Return the least and the greatest place of a shape along a unit vector (mm)."""
    places = shapely.get_coordinates(shape) @ np.array(along)
    return (float(places.min()), float(places.max()))


def _edges(shape: Shape) -> list[tuple[Point, Point]]:
    rings = [r for p in shapely.get_parts(shape) for r in (p.exterior, *p.interiors)]
    return [pair for ring in rings for pair in pairwise([(x, y) for x, y in ring.coords])]


def _rows(shape: Shape, into: Point) -> NDArray[np.float64]:
    """Edges as (row of one end, row of the other, place of one end, place of the other), rows rising."""
    ends = np.array(_edges(shape)).reshape(-1, 2, 2)
    rows, places = ends @ np.array(plane.left(into)), ends @ np.array(into)
    falling = rows[:, 0] > rows[:, 1]
    rows[falling], places[falling] = rows[falling, ::-1], places[falling, ::-1]
    # An edge along the line of travel is one row; its neighbours end at the same places.
    return np.asarray(np.hstack([rows, places])[rows[:, 1] - rows[:, 0] > 1e-12])


def _gaps(moving: NDArray[np.float64], fixed: NDArray[np.float64]) -> float:
    a, b = moving[:, None, :], fixed[None, :, :]
    low, high = np.maximum(a[..., 0], b[..., 0]), np.minimum(a[..., 1], b[..., 1])
    shared = high - low > 1e-9
    if not shared.any():
        return -math.inf

    def place(e: NDArray[np.float64], row: NDArray[np.float64]) -> NDArray[np.float64]:
        return e[..., 2] + (e[..., 3] - e[..., 2]) * (row - e[..., 0]) / (e[..., 1] - e[..., 0])

    over = np.maximum(place(a, low) - place(b, low), place(a, high) - place(b, high))
    return float(over[shared].max())
