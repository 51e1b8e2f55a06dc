"""Ledger, block and comb of a wall, against the figures of the scenes and plain geometry."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from ledgewright.judge import Design
from ledgewright.plan import check
from ledgewright.site import Drill, Guide, guide, leave
from ledgewright.survey import Obstacle
from tests import jobs

IN = 25.4
CORNER = "stoneware-corner-first-try"
"""In one section, so that wall B's rods lie parallel to the slide along wall A."""

STUDS = {
    (CORNER, "A"): [(14.6875, 16.1875), (30.8125, 32.3125), (46.5625, 48.125), (63.125, 64.625)],
    ("reading-alcove", "back"): [(61, 99), (462.5, 500.5), (864, 902.5), (1112, 1150)],
    ("record-wall", "plumbing"): [
        (1.4375, 2.9375),
        (13.375, 14.875),
        (29.4375, 30.9375),
        (45.3125, 46.8125),
        (61.5625, 63.0625),
        (77.5, 79.0),
        (93.25, 94.75),
        (109.6875, 111.1875),
    ],
}
"""Edges of the studs as the scenes have them, off the tape (inch; the alcove mm)."""


@cache
def walls(name: str) -> dict[str, tuple[Design, Drill, Guide]]:
    job, found = jobs.job(name), {}
    for design in check(job, jobs.MEMO):
        for each in leave(design.room, design.frame):
            assert isinstance(each, Drill)
            made = guide(design.room, design.frame, each, job.meta.units)
            assert made is not None
            found[each.wall] = design, each, made
    return found


@pytest.mark.parametrize(("name", "wall"), STUDS)
def test_middles_on_ledger_and_comb_are_as_far_apart_as_those_of_the_studs(
    name: str, wall: str
) -> None:
    """Rods of one wall are parallel: whatever plane cuts them, they are apart as their studs (edges of the scenes)."""
    _, _, made = walls(name)[wall]
    k = 1.0 if name == "reading-alcove" else IN
    centres = sorted((a + b) / 2 * k for a, b in STUDS[name, wall])
    for of in ("along", "comb"):
        alongs = sorted(abs(getattr(mark, of)) for mark in made.marks)
        assert np.diff(alongs) == pytest.approx(np.diff(centres), abs=0.05)
        assert alongs[0] == pytest.approx(centres[0], abs=1.0)


def test_the_second_wall_of_a_corner_leans_by_what_the_corner_is_off_square() -> None:
    """Law of cosines on the scene's triangle, 60, 45 and 75 11/16 in; tape good to 1/16 in, so to 0.2 degrees."""
    angle = math.acos((60**2 + 45**2 - 75.6875**2) / (2 * 60 * 45))
    _, _, made = walls(CORNER)["B"]
    assert abs(made.lean) == pytest.approx(angle - math.pi / 2, abs=math.radians(0.2))
    # Wall B turns right of wall A; where the corner is wider than square, a line along A leans to its left.
    assert made.lean < 0
    assert walls(CORNER)["A"][2].lean == pytest.approx(0.0, abs=1e-6)


def test_the_stop_is_wood_lining_shim_and_block() -> None:
    """By hand: depth 3 1/8, lining 21/32, the gap at the stud over the least behind the shelf, block 3 in."""
    gaps = [1, 1 + 1 / 16, 1 + 5 / 32, 1 + 7 / 32, 1 + 5 / 32, 1 + 1 / 32, 31 / 32, 1]
    at = [12.0 * k for k in range(8)]
    least = min(float(np.interp(x, at, gaps)) for x in np.linspace(0, 69.25, 2000))
    _, _, made = walls(CORNER)["A"]
    for mark, (a, b) in zip(reversed(made.marks), STUDS[CORNER, "A"], strict=True):
        shim = float(np.interp((a + b) / 2, at, gaps)) - least
        assert mark.gap == pytest.approx(shim * IN, abs=0.05)
        assert mark.stop == pytest.approx((3.125 + 21 / 32 + shim + 3.0) * IN, abs=0.1)


@pytest.mark.parametrize("name", [CORNER, "reading-alcove", "record-wall"])
def test_the_block_can_be_made_and_guides(name: str) -> None:
    """Common practice: a bore guides over three diameters; wood stays all round it; a hidden screw is in the band."""
    for design, drill, made in walls(name).values():
        bit = max(hole.bit for hole in drill.holes)
        assert made.deep >= 3 * bit
        assert made.over >= bit / 2 + 3
        assert made.above >= bit / 2 + 3
        assert made.wide / 2 >= bit / 2 + 3
        assert made.hangs < made.high
        assert made.up + made.over == pytest.approx(drill.holes[0].up)
        assert made.screw_down is not None
        assert made.up - made.screw_down - 2 > design.frame.top - design.frame.thick
        assert made.screw_down >= 6
        for mark in made.marks:
            left, right = mark.along - made.wide / 2, mark.along + made.wide / 2
            (leg,) = (leg for leg in design.frame.legs if leg.wall == made.wall)
            if leg.left_end == "wall":
                assert left >= leg.start
            if leg.right_end == "wall":
                assert right <= leg.end
            assert mark.edges[0] < mark.screw < mark.edges[1]


def test_what_stands_in_the_way_of_the_ledger_is_named() -> None:
    """A box on the wall just under the shelf, between two rods, and one over it that is in nobody's way."""
    design, drill, made = walls("reading-alcove")["back"]
    wall = design.room.wall("back")
    ring = tuple(wall.at(a, o) for a, o in ((300, 0), (380, 0), (380, 20), (300, 20)))
    under = Obstacle("switch", "back", ring, (made.up - made.high - 30, made.up - 5))
    over = Obstacle("picture", "back", ring, (made.up + 400, made.up + 500))
    room = replace(design.room, obstacles=(*design.room.obstacles, under, over))
    again = guide(room, design.frame, drill, "mm")
    assert again is not None
    assert again.in_way == ("switch",)
    assert made.in_way == ()


def test_a_thin_shelf_hides_no_screw() -> None:
    design, drill, _ = walls("reading-alcove")["back"]
    thin = replace(design.frame, thick=30.0, top=drill.holes[0].up + 15.0)
    again = guide(design.room, thin, drill, "mm")
    assert again is not None
    assert again.screw_down is None
