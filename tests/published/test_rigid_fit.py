"""Rigid fits of the reference notes on survey and motion, section 4 (data/rigid_fit.json, with their sources).

The exact 3-4-5 turn; the mirror image that must not be taken for a turn; corners of a shelf as measured against the
drawing. The similarity of the second case is no fit of ours: a shelf does not grow.
"""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest
from scipy.spatial.transform import Rotation

from ledgewright import plane
from ledgewright.plane import Point

AGAINST = (
    "reference notes on rigid fits; Umeyama 1991, numeric example; SciPy's Rotation.align_vectors",
    "derived, or recomputed outside the project, as each case says",
    "half a unit of the last printed digit",
)

CASES = {
    each["id"]: each
    for each in json.loads(
        (Path(__file__).parent / "data" / "rigid_fit.json").read_text(encoding="utf-8")
    )
}


def case(name: str) -> tuple[list[Point], list[Point], dict[str, Any]]:
    given = CASES[name]["inputs"]
    a, b = ([(float(x), float(y)) for x, y in given[key]] for key in "AB")
    return a, b, CASES[name]["expected"]


def left_over(a: list[Point], b: list[Point], fit: tuple[float, Point]) -> list[Point]:
    return [
        plane.sub(plane.add(plane.turn(p, fit[0]), fit[1]), q) for p, q in zip(a, b, strict=True)
    ]


def square(off: list[Point]) -> float:
    return sum(x * x + y * y for x, y in off)


def test_an_exact_turn_is_found_exactly() -> None:
    a, b, expected = case("fit-01")
    turn, shift = plane.rigid_fit(a, b)
    (c, minus), (s, _) = expected["R"]
    assert (math.cos(turn), math.sin(turn)) == pytest.approx((c, s), abs=1e-12)
    assert -math.sin(turn) == pytest.approx(minus, abs=1e-12)
    assert shift == pytest.approx(expected["t"], abs=1e-12)
    assert square(left_over(a, b, (turn, shift))) == pytest.approx(expected["rms"], abs=1e-20)


def test_a_mirror_image_is_never_taken_for_a_turn() -> None:
    a, b, expected = case("fit-02")
    rigid = expected["rigid_no_scale"]
    turn, shift = plane.rigid_fit(a, b)
    assert math.degrees(turn) == pytest.approx(rigid["angle_deg"], abs=5e-5)
    assert shift == pytest.approx(rigid["t"], abs=5e-5)
    mean = square(left_over(a, b, (turn, shift))) / len(a)
    assert mean == pytest.approx(rigid["mean_square_error"], abs=5e-6)
    assert mean > expected["if_reflection_wrongly_allowed"]["mean_square_error"]


def test_measured_corners_against_the_drawing() -> None:
    a, b, expected = case("fit-03")
    turn, shift = plane.rigid_fit(a, b)
    assert math.degrees(turn) == pytest.approx(expected["angle_deg"], abs=5e-7)
    assert shift == pytest.approx(expected["t"], abs=5e-6)
    off = left_over(a, b, (turn, shift))
    assert math.sqrt(square(off) / len(off)) == pytest.approx(expected["rms"], abs=5e-5)
    for (x, y), told in zip(off, expected["residuals"], strict=True):
        assert (abs(x), abs(y)) == pytest.approx([abs(t) for t in told], abs=5e-5)


@pytest.mark.parametrize("name", sorted(CASES))
def test_the_turn_is_that_of_a_general_library(name: str) -> None:
    a, b, _ = case(name)

    def centred(points: list[Point]) -> list[list[float]]:
        x, y = (sum(p[k] for p in points) / len(points) for k in (0, 1))
        return [[p[0] - x, p[1] - y, 0.0] for p in points] + [[0.0, 0.0, 1e3]]

    # A heavy vector along the axis keeps the library's turn in the plane.
    about, _ = Rotation.align_vectors(centred(b), centred(a))
    assert plane.rigid_fit(a, b)[0] == pytest.approx(about.as_rotvec()[2], abs=1e-7)


def test_one_point_tells_no_turn() -> None:
    with pytest.raises(ValueError, match="no turn"):
        plane.rigid_fit([(1.0, 1.0), (1.0, 1.0)], [(0.0, 0.0), (0.0, 0.0)])
    with pytest.raises(ValueError, match="cannot be laid"):
        plane.rigid_fit([(1.0, 1.0)], [(0.0, 0.0)])
