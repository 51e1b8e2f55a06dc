"""The strip template: lengths and gaps by hand, across by the law of cosines, all by a geometry library."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from shapely.geometry import LineString, Point, Polygon

from ledgewright.job import Leg
from ledgewright.layout import template
from ledgewright.survey import room
from tests.layout import asked, walls
from tests.survey import taped


def test_one_straight_wall_by_hand() -> None:
    """A belly of 6 mm: the strip stands 12 off it, so 18 off the string's line where the wall is hollow."""
    gaps = [(0.0, 20.0), (500.0, 14.0), (1000.0, 20.0)]
    there = room(taped.tapes([taped.wall("A", 1000.0, gaps)]), 1365)
    made = template(there, asked.shelf([Leg("A", 0.0, 1000.0)]))
    (strip,) = made.strips
    assert (strip.length, strip.out) == pytest.approx((1000.0, 18.0))
    read = dict(strip.readings)
    assert [read[s] for s in (0.0, 500.0, 1000.0)] == pytest.approx([18.0, 12.0, 18.0])
    assert (made.brace, made.across, made.mouth) == (None, None, None)


@pytest.mark.parametrize("angle", [88.0, 90.0, 93.5])
def test_across_a_corner_by_the_law_of_cosines(angle: float) -> None:
    both = [taped.wall(name, 1500.0, [(0.0, 20.0), (1500.0, 20.0)]) for name in "AB"]
    corner = taped.corner("A", "B", angle=math.radians(angle))
    there = room(taped.tapes(both, [corner]), 1365)
    made = template(there, asked.shelf([Leg("A", 100.0, 1500.0), Leg("B", 0.0, 1400.0)]))
    assert made.across is not None
    a, b = made.across.on_left, made.across.on_right
    assert (a, b) == (600.0, 800.0)
    across = math.sqrt(a * a + b * b - 2 * a * b * math.cos(math.radians(angle)))
    assert made.across.across == pytest.approx(across)  # 1000 where it is square, 3 to 4 to 5


def test_an_alcove_has_strips_along_its_ends_and_the_width_between_them() -> None:
    there = room(taped.alcove(), 1365)
    made = template(there, replace(asked.alcove(), ends="tight"))
    assert [strip.wall for strip in made.strips] == ["back", "cheek", "return"]
    assert made.mouth is not None
    # The mouth is 1183.5 at 285 out; less the 12 and the bows, which are under 1 mm, on either side.
    assert made.mouth == pytest.approx(1183.5 - 2 * 12, abs=2.5)


def test_strips_stand_clear_of_every_wall_and_read_the_true_gap() -> None:
    read = 0
    for seed in range(24):
        site = walls.site(seed)
        made = template(site.room, site.spec)
        for strip in made.strips:
            solid, body = walls.solid(site, strip.wall), Polygon(strip.plan)
            assert body.intersection(solid).area < 1e-6, seed
            wall = site.room.wall(strip.wall)
            true = LineString([wall.at(*p) for p in wall.line])
            for along, gap in strip.readings:
                edge, inward = wall.at(along, strip.out), wall.at(along, strip.out - 1.0)
                way = LineString(
                    [
                        edge,
                        (
                            edge[0] + (inward[0] - edge[0]) * 99,
                            edge[1] + (inward[1] - edge[1]) * 99,
                        ),
                    ]
                )
                hit = way.intersection(true)
                if not hit.is_empty:
                    assert Point(edge).distance(hit) == pytest.approx(gap, abs=1e-6)
                    read += 1
            # Beside another strip it may lie, never over it.
            for other in made.strips:
                if other is not strip and site.kind == "alcove":
                    assert body.intersection(Polygon(other.plan)).area < 1e-6, seed
    assert read > 150
