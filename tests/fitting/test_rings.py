"""A ring keeps every corner, wherever the polygon library begins it and however it doubles its points."""

from __future__ import annotations

import math

import pytest
from shapely.geometry import Polygon

from ledgewright.fitting import sweep

AGAINST = ("a kite by hand, its points doubled by a hair", "hand calculation", "1e-3 mm2")

KITE = ((0.0, 0.0), (50.0, -1.0), (100.0, 0.0), (50.0, 100.0))
AREA = 100.0 * 101.0 / 2
"""Half the product of its diagonals."""


@pytest.mark.parametrize("start", range(4))
@pytest.mark.parametrize("hair", [5e-8, 1.2e-7, 2e-7, 9e-7])
def test_a_corner_told_twice_where_the_ring_begins_is_not_lost(start: int, hair: float) -> None:
    """A hair apart in any direction, first and last in the ring. The corner of 2.3 degrees hangs on each of the two:
    each alone lies on the line from its neighbour to the other."""
    corners = [*KITE[start:], *KITE[:start]]
    x, y = corners[0]
    for turn in range(0, 360, 10):
        off = (hair * math.cos(math.radians(turn)), hair * math.sin(math.radians(turn)))
        ring = sweep.as_ring(Polygon([(x + off[0], y + off[1]), *corners[1:], (x, y)]))
        assert Polygon(ring).area == pytest.approx(AREA, abs=1e-3), turn
        for corner in KITE:
            assert min(math.dist(corner, p) for p in ring) < 2e-6, turn
