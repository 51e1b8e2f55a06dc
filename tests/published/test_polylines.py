"""Polylines of the reference notes on survey and motion, section 2 (data/polylines.json, with their sources).

Fewest cuts from mark to mark; chords of an arc by their closed form; the best single line in the Chebyshev sense, which
is the turn a straight blank is laid at. The closed form for chords whose ends are pushed out by the tolerance has no
case here: cuts with free heights are measured square to the edge, not to the arc. Their own closed form, on a parabola,
stands in tests/layout/test_polyline.py.
"""

from __future__ import annotations

import json
import math
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from shapely.geometry import LineString, Point

from ledgewright.layout.placing import Edge, best_turn
from ledgewright.layout.polyline import mark_to_mark

AGAINST = (
    "reference notes on polylines: Imai and Iri's fewest segments, chords of an arc, Chebyshev's best line",
    "derived outside the project, brute force where n <= 16; closed forms",
    "exact counts; half a unit of the last printed digit",
)

CASES: list[dict[str, Any]] = json.loads(
    (Path(__file__).parent / "data" / "polylines.json").read_text(encoding="utf-8")
)
FEWEST = [case for case in CASES if "min_segments" in case["expected"]]


def case(name: str) -> tuple[dict[str, Any], dict[str, Any]]:
    (found,) = (each for each in CASES if each["id"] == name)
    return found["inputs"], found["expected"]


@pytest.mark.parametrize("given", FEWEST, ids=[each["id"] for each in FEWEST])
@pytest.mark.parametrize("mirror", [False, True])
def test_fewest_segments(given: dict[str, Any], mirror: bool) -> None:
    points = [(float(x), float(y)) for x, y in given["inputs"]["points"]]
    if mirror:
        points = [(-x, y) for x, y in reversed(points)]
    found = mark_to_mark(points, given["inputs"]["eps"])
    assert len(found) - 1 == given["expected"]["min_segments"]
    if given["expected"]["number_of_optimal_lists"] == 1 and not mirror:
        assert [points.index(p) for p in found] == given["expected"]["one_optimal_index_list"]
    # By a geometry library: every mark lies within the tolerance of its own cut, ends included.
    at = [points.index(p) for p in found]
    for i, k in pairwise(at):
        cut = LineString([points[i], points[k]])
        assert all(
            cut.distance(Point(p)) <= given["inputs"]["eps"] + 1e-9 for p in points[i : k + 1]
        )


def test_chords_of_an_arc() -> None:
    given, expected = case("poly-arcs")
    for one, count in zip(given["cases"], expected["vertices_on_circle"], strict=True):
        # Marks so that the fewest chords can all be of one length, and four times as many.
        marks = 4 * count
        sweep = math.radians(one["deg"])
        points = [
            (one["R"] * math.cos(sweep * k / marks), one["R"] * math.sin(sweep * k / marks))
            for k in range(marks + 1)
        ]
        assert len(mark_to_mark(points, one["eps"])) - 1 == count


@pytest.mark.parametrize("name", ["v_shape", "scribe16"])
def test_the_best_single_line(name: str) -> None:
    given, expected = case("poly-chebyshev")
    wall = tuple((float(x), float(y)) for x, y in given[name])
    laid = best_turn([Edge("back", (0.0, 1.0), wall)], (0.0, 0.0))
    if name == "v_shape":
        # Far steeper than any wall: the linear program may not leave the line it begins on.
        assert (laid.turn, laid.eaten / 2) == (0.0, expected[name]["error"])
        return
    slope = math.tan(laid.turn)
    assert slope == pytest.approx(expected[name]["slope"], abs=5e-8)
    # The error there is upright, ours square to the line.
    upright = laid.eaten / math.cos(laid.turn) / 2
    assert upright == pytest.approx(expected[name]["error"], abs=5e-7)
    heights = [y - slope * x for x, y in wall]
    middle = (max(heights) + min(heights)) / 2
    assert middle == pytest.approx(expected[name]["intercept"], abs=5e-4)
