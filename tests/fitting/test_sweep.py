"""Sweeps and convex parts against what they are by definition, point by point and by area."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from shapely import affinity
from shapely.geometry import Polygon

from ledgewright.fitting import sweep

AGAINST = (
    "what a shape covers on a straight move; a shape cut into convex parts",
    "every place on the way by a polygon library, a hair apart; convex hulls and areas of the same library",
    "areas to a thousandth of the way's width; 1e-6 mm2",
)
SEEDS = range(30)


def crooked(seed: int) -> Polygon:
    """A star-shaped plan of 5 to 14 corners, every third with a hole."""
    rng = np.random.default_rng(seed)
    count = int(rng.integers(5, 15))
    turn = np.sort(rng.random(count)) * 2 * math.pi
    far = rng.uniform(60.0, 300.0, count)
    shape = Polygon(np.column_stack([far * np.cos(turn), far * np.sin(turn)])).buffer(0)
    whole = sweep.parts(shape)[0]
    if seed % 3:
        return whole
    inner = whole.representative_point().buffer(8.0, quad_segs=2)
    return sweep.parts(whole.difference(inner))[0]


@pytest.mark.parametrize("seed", SEEDS)
def test_a_sweep_is_every_place_on_the_way(seed: int) -> None:
    rng = np.random.default_rng(100 + seed)
    shape = crooked(seed)
    by = (float(rng.uniform(-200, 200)), float(rng.uniform(-200, 200)))
    found = sweep.swept(shape, by)
    places = [affinity.translate(shape, by[0] * t, by[1] * t) for t in np.linspace(0, 1, 401)]
    every = shapely.union_all(places)
    assert every.difference(found).area < 1e-3
    # Between two places a hair apart at most their step along the edges is missing.
    assert found.difference(every).area < shape.length * math.hypot(*by) / 400


def test_a_square_swept_by_hand() -> None:
    """10 x 10 moved by (10, 5): both squares and two parallelograms in front of them; a hexagon of 250 mm2."""
    square = Polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    for ring in (square, Polygon(list(square.exterior.coords)[::-1])):
        assert sweep.swept(ring, (10.0, 5.0)).area == pytest.approx(250.0)
    assert sweep.swept(square, (0.0, 0.0)) is square


@pytest.mark.parametrize("seed", SEEDS)
def test_convex_parts_are_convex_and_make_up_the_whole(seed: int) -> None:
    shape = crooked(seed)
    parts = sweep.convex_parts(shape)
    for part in parts:
        assert part.convex_hull.area == pytest.approx(part.area, abs=1e-5)
    assert sum(part.area for part in parts) == pytest.approx(shape.area, abs=1e-4)
    assert shapely.union_all(parts).symmetric_difference(shape).area < 1e-4
    assert len(parts) <= len(shapely.constrained_delaunay_triangles(shape).geoms)


def test_a_square_is_one_convex_part_and_an_l_two() -> None:
    square = Polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    assert len(sweep.convex_parts(square)) == 1
    el = Polygon([(0, 0), (30, 0), (30, 10), (10, 10), (10, 30), (0, 30)])
    assert len(sweep.convex_parts(el)) == 2


def test_what_two_shapes_share_holds_no_lines() -> None:
    """Two rectangles that share a strip and, farther on, a stretch of edge alone: the stretch is left out."""
    comb = Polygon([(0, 0), (10, 0), (10, 6), (20, 6), (20, 5), (30, 5), (30, 12), (0, 12)])
    low = Polygon([(0, 0), (30, 0), (30, 5), (0, 5)])
    raw = shapely.intersection(comb, low, grid_size=sweep.GRID)
    assert raw.geom_type == "GeometryCollection"
    shared = sweep.meet(comb, low)
    assert isinstance(shared, Polygon)
    assert shared.area == pytest.approx(50.0)
    assert sweep.less(low, shared).area == pytest.approx(100.0)
