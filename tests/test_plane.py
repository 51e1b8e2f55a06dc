"""Plan geometry against figures worked by hand and against a polygon library."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import MultiPoint, Polygon

from ledgewright import plane

coordinate = st.floats(-1e4, 1e4, allow_nan=False).map(lambda v: round(v, 3))
points = st.lists(st.tuples(coordinate, coordinate), min_size=3, max_size=20)


def test_area_and_centre_of_an_l_by_hand() -> None:
    # a 4 x 1 strip and a 1 x 2 strip below its left end: area 4 + 2, moments by hand
    ell = ((0.0, 0.0), (1.0, 0.0), (1.0, 2.0), (4.0, 2.0), (4.0, 3.0), (0.0, 3.0))
    assert plane.area(ell) == pytest.approx(6.0, abs=1e-12)
    x = (4 * 2.0 + 2 * 0.5) / 6
    y = (4 * 2.5 + 2 * 1.0) / 6
    assert plane.centroid(ell) == pytest.approx((x, y), abs=1e-12)


def test_a_quarter_turn_left_is_counter_clockwise() -> None:
    assert plane.left((1.0, 0.0)) == (0.0, 1.0)
    assert plane.right((1.0, 0.0)) == (0.0, -1.0)
    assert plane.turn((1.0, 0.0), math.pi / 2) == pytest.approx((0.0, 1.0), abs=1e-15)


def test_lines_meet_where_two_equations_say() -> None:
    # y = x and y = 4 - x meet in (2, 2)
    assert plane.meet((0, 0), (1, 1), (0, 4), (1, -1)) == pytest.approx((2.0, 2.0))
    assert plane.meet((0, 0), (1, 1), (0, 1), (2, 2)) is None


def test_a_line_is_read_between_its_points_and_level_past_them() -> None:
    line = ((0.0, 0.0), (10.0, 5.0), (20.0, 5.0))
    assert [plane.height_at(line, x) for x in (-3.0, 4.0, 15.0, 99.0)] == [0.0, 2.0, 5.0, 5.0]


def test_no_direction_without_length() -> None:
    with pytest.raises(ValueError, match="no direction"):
        plane.unit((0.0, 0.0))


@given(points)
def test_hull_agrees_with_the_polygon_library(cloud: list[tuple[float, float]]) -> None:
    theirs = MultiPoint(cloud).convex_hull
    if theirs.geom_type != "Polygon" or theirs.area < 1e-3:
        return
    ours = Polygon(plane.hull(cloud))
    assert ours.symmetric_difference(theirs).area <= 1e-9 * theirs.area
    assert plane.area(plane.hull(cloud)) > 0


@given(points)
def test_area_agrees_with_the_polygon_library(cloud: list[tuple[float, float]]) -> None:
    ring = plane.hull(cloud)
    if len(ring) < 3:
        return
    assert plane.area(ring) == pytest.approx(Polygon(ring).area, rel=1e-9, abs=1e-6)
