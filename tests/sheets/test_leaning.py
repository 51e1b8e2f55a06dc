"""Slots that lean: the core map counts them where they cross the back edge, and tells how far aside they end.

Reckoned here from the corners of a slot alone, as they go to DXF: each long side is followed to where it meets the face
of the wall (by halving), with no polygon of the program's and none of shapely's. The sample's second wall stands
out of square, so its rods, parallel to the first wall's, lean by as much.
"""

from __future__ import annotations

import math
import re
from dataclasses import replace
from functools import cache

import pytest

from ledgewright import units
from ledgewright.draw import Drawing, Operation, Polyline, Running, Text
from ledgewright.layout import LegAt
from ledgewright.plane import Point, Ring
from ledgewright.sheets import pictures, views
from ledgewright.sheets.say import Say
from ledgewright.sheets.views.aside import asides, under_map
from ledgewright.survey import Wall
from tests.sheets import sample

AGAINST = (
    "Geometry: where the long sides of a slot meet the face of its wall, by halving; a tangent by hand.",
    "Common practice: a square laid to the back edge marks from where a slot crosses that edge.",
)

SAY = Say("in", "en-US")
BOX = (190.0, 260.0)
SKEW = sample.corner_angle() - math.pi / 2


def met(wall: Wall, one: Point, other: Point) -> float:
    """The along where the line from one wall figure to another meets the face; the first lies nearer the wall."""
    low, high = -20.0, 20.0  # mm of `out` from the first corner

    def at(step: float) -> Point:
        share = step / (other[1] - one[1])
        return one[0] + share * (other[0] - one[0]), one[1] + step

    for _ in range(60):
        middle = (low + high) / 2
        s, out = at(middle)
        low, high = (middle, high) if out < wall.face(s) else (low, middle)
    return at(low)[0]


def sides(wall: Wall, ring: Ring) -> tuple[tuple[Point, Point], tuple[Point, Point]]:
    """Both long sides of a slot, left and right, each from the wall to its front end."""
    figures = sorted((wall.figures(p) for p in ring), key=lambda p: p[1])
    back, front = sorted(figures[:2]), sorted(figures[2:])
    return (back[0], front[0]), (back[1], front[1])


def rings(operations: tuple[Operation, ...], layer: str) -> list[Ring]:
    found = dict(operations)[layer]
    return [item.points for item in found if isinstance(item, Polyline)]


@cache
def the_map() -> Drawing:
    return views.core_map_view(sample.plan().designs[0], SAY, BOX)


def labels() -> dict[str, float]:
    """Figures of the map by what stands before them (mm)."""
    found = {}
    for item in the_map().items:
        for label in item.labels if isinstance(item, Running) else ():
            name, _, size = re.sub(r"[\u2007\s]+", " ", label).rpartition(" ")
            whole = re.match(r"(.* (?:from|to)) (.+)", f"{name} {size}")
            if whole:
                found[whole[1]] = units.read_length(whole[2], "in")
    return found


def test_figures_of_the_map_are_where_channels_of_the_dxf_cross_the_back() -> None:
    plan = sample.plan()
    (design,) = plan.designs
    wall = design.room.wall("B")
    leg = next(leg for leg in design.frame.legs if leg.wall == "B")
    told = labels()
    tried = 0
    for cut, ring in zip(
        views.cuts(design), rings(pictures.cutting(plan)["core_map"], "CHANNEL"), strict=True
    ):
        rod = next(r for r in design.frame.rods if r.id == cut.rod)
        if rod.wall != "B":
            continue
        left, right = (met(wall, *side) - leg.start for side in sides(wall, ring))
        # The map is lettered to 1/32 in.
        assert told[f"{rod.mark} from"] == pytest.approx(left, abs=25.4 / 64 + 0.05)
        assert told[f"{rod.mark} to"] == pytest.approx(right, abs=25.4 / 64 + 0.05)
        # The whole extent is wider by the lean over its length, several marks of a rule: that was told before.
        extent = [wall.figures(p)[0] - leg.start for p in ring]
        assert max(extent) - min(extent) > right - left + 2.0
        tried += 1
    assert tried >= 2


def test_the_lean_is_that_of_the_corner_and_the_way_aside_its_tangent() -> None:
    design = sample.plan().designs[0]
    found = [each for each in asides(design) if each.wall == "B"]
    assert len(found) == sum(rod.wall == "B" for rod in design.frame.rods)
    assert all(each.wall == "B" for each in asides(design))  # those of the first wall stand square
    for each in found:
        assert abs(each.angle) == pytest.approx(abs(SKEW), abs=math.radians(0.02))
        # From the back over the stick-out and the room past its tip, as far as its tangent.
        long = sample.PROJECTION["B"] + sample.CLEARANCE.end
        assert abs(each.by) == pytest.approx(long * math.tan(abs(SKEW)), abs=0.2)
    side = "right" if SKEW < 0 else "left"
    (line,) = views.lean_lines(design, SAY)
    assert f"lean {math.degrees(abs(SKEW)):.2f}° to the {side} of square" in line
    assert f"further {side} at their front ends" in line


def test_the_sheet_tells_the_lean_once_under_the_map_and_nothing_where_all_is_square() -> None:
    design = sample.plan().designs[0]
    words = " ".join(item.text for item in the_map().items if isinstance(item, Text)).replace(
        "\n", " "
    )
    assert words.count("°") == 1
    assert under_map(design, SAY) in words
    frame, way = design.frame, design.way
    assert way is not None
    keep = {rod.id for rod in frame.rods if rod.wall == "A"}
    square = replace(
        design,
        frame=replace(frame, rods=tuple(r for r in frame.rods if r.id in keep)),
        way=replace(way, channels=tuple(c for c in way.channels if c.rod in keep)),
    )
    assert views.lean_lines(square, SAY) == ()
    assert under_map(square, SAY) == ""


@pytest.mark.parametrize("lean", [-3.0, -1.32, 0.0, 0.4, 3.0])
def test_a_slot_of_any_lean_crosses_a_straight_back_by_its_own_width(lean: float) -> None:
    # By hand: a slot w wide that leans t is w / cos t wide along the back, whatever its length.
    wall = replace(sample.room().wall("A"), line=((-2000.0, 0.0), (0.0, 0.0)))
    leg = LegAt(
        "A",
        -1000.0,
        0.0,
        (wall.at(-1000.0, 0.0), wall.at(0.0, 0.0)),
        ((0, 0), (1, 0)),
        "free",
        "free",
        0.0,
        250.0,
    )
    t, width, long, middle = math.radians(lean), 19.05, 220.0, -400.0
    half = width / 2 / math.cos(t)
    figures = [
        (middle - half, 0.0),
        (middle + half, 0.0),
        (middle + half + long * math.tan(t), long),
        (middle - half + long * math.tan(t), long),
    ]
    low, high = views.at_back(wall, leg, tuple(wall.at(*p) for p in figures))
    assert (low, high) == pytest.approx((middle - half, middle + half), abs=0.03)


def test_a_metric_job_is_told_in_millimetres() -> None:
    design = sample.plan().designs[0]
    (line,) = views.lean_lines(design, Say("mm", "en-GB"))
    assert re.search(r"then \d+\.\d mm(?: to \d+\.\d mm)? further", line)
    assert Say("mm", "en-GB").pilot == "3 mm (1/8 in)"
    assert SAY.pilot == '1/8" (3 mm)'
