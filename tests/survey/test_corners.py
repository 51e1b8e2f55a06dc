"""The angle of a corner from what was taped of it."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from ledgewright.job import TapedCorner, Tapes
from ledgewright.survey import Corner, Retake, room
from tests.survey.taped import IN, corner, stoneware, tapes, wall

Drawn = NDArray[np.float64]


def measured(
    *taped: tuple[float, float, float],
    square_gap: tuple[float, float] | None = None,
    angle: float | None = None,
) -> tuple[Corner, tuple[Retake, ...]]:
    """Two walls dead straight along their strings, so that only the corner's own figures count."""
    level = [(0.0, 10.0), (3000.0, 10.0)]
    walls = [wall("A", 3000, level, tape_from="right"), wall("B", 3000, level)]
    bend = corner("A", "B", taped=taped, square_gap=square_gap, angle=angle)
    found = room(tapes(walls, [bend]), 1000)
    return found.corners[0], found.retake


@pytest.mark.parametrize(
    ("taped", "degrees"),
    [
        ((900, 1200, 1500), 90),  # 3-4-5 (Euclid I.47)
        ((500, 1200, 1300), 90),  # 5-12-13
        ((1000, 1000, 1000), 60),  # equilateral
        ((1000, 1000, 1000 * math.sqrt(3)), 120),  # half of it, unfolded
    ],
)
def test_triangles_known_since_euclid(taped: tuple[float, float, float], degrees: float) -> None:
    found, retake = measured(taped)
    assert math.degrees(found.angle) == pytest.approx(degrees, abs=1e-9)
    assert retake == ()


def test_a_square_open_a_quarter_inch_at_two_feet_is_six_tenths_of_a_degree_wide() -> None:
    # atan(1/96) by its series 1/96 - 1/(3 * 96**3), in degrees.
    found, _ = measured(square_gap=(0.25 * IN, 24 * IN))
    by_hand = 90 + (1 / 96 - 1 / (3 * 96**3)) * 57.29577951
    assert math.degrees(found.angle) == pytest.approx(by_hand, abs=1e-6)
    closed, _ = measured(square_gap=(-0.25 * IN, 24 * IN))
    assert math.degrees(closed.angle) == pytest.approx(180 - by_hand, abs=1e-6)


def test_a_stated_angle_is_taken_as_it_is() -> None:
    found, _ = measured(angle=math.radians(88.5))
    assert math.degrees(found.angle) == pytest.approx(88.5, abs=1e-12)


def one_triangle(k: int) -> Tapes:
    whole = stoneware()
    return replace(whole, corners=(replace(whole.corners[0], taped=(whole.corners[0].taped[k],)),))


# The demo corner, inches. Law of cosines on the bare figures, then each chord back to its string by the gaps:
# at A 48 the face lies 5/32 behind the string's own start, at B 36 3/32 before it; at A 60 1/32 behind, B 45 1/16.
@pytest.mark.parametrize(
    ("k", "a", "b", "across", "rise_a", "rise_b"),
    [(0, 48, 36, 60.5625, -5 / 32, 3 / 32), (1, 60, 45, 75.6875, -1 / 32, 1 / 16)],
)
def test_both_triangles_of_the_demo_corner_say_about_91_1_degrees(
    k: int, a: float, b: float, across: float, rise_a: float, rise_b: float
) -> None:
    bare = math.degrees(math.acos((a * a + b * b - across * across) / (2 * a * b)))
    assert bare == pytest.approx(91.1, abs=0.05)
    by_hand = bare + 57.2958 * (rise_a / a + rise_b / b)  # small angles: their own tangents
    found = math.degrees(room(one_triangle(k), 54.375 * IN).corners[0].angle)
    assert found == pytest.approx(by_hand, abs=0.002)
    assert found == pytest.approx(91.1, abs=0.06)


def test_the_demo_corner_is_91_1_degrees_and_nothing_need_be_taken_again() -> None:
    found = room(stoneware(), 54.375 * IN)
    assert math.degrees(found.corners[0].angle) == pytest.approx(91.1, abs=0.05)
    assert found.retake == ()


def test_the_doubt_is_what_random_tapes_scatter() -> None:
    # An independent route to the propagated variance: draw the readings, solve each triangle afresh.
    # A tape 0.8 mm and 0.12 mm a metre; a mark or the corner 0.3 mm off the face; a gap 0.3 mm, taken at 0 and 3000.
    rng = np.random.default_rng(3)
    n = 40_000

    def read(x: float) -> Drawn:
        return np.asarray(rng.normal(x, math.hypot(0.8, 0.12e-3 * x), n))

    def rise(at: float) -> Drawn:
        mark, end, near, far = rng.normal(0, 0.3, (4, n))
        return np.asarray(mark - end + (far - near) * at / 3000)

    a, b, across = read(1219.2), read(914.4), read(1538.2875)
    bare = np.arccos((a**2 + b**2 - across**2) / (2 * a * b))
    angles = bare + rise(1219.2) / a + rise(914.4) / b
    found, _ = measured((1219.2, 914.4, 1538.2875))
    assert found.sd == pytest.approx(float(angles.std()), rel=0.02)


def test_two_triangles_are_surer_than_either_and_lie_between() -> None:
    one, two = (room(one_triangle(k), 1381).corners[0] for k in (0, 1))
    both = room(stoneware(), 1381).corners[0]
    # Surer than either; not as sure as two that share nothing: both have the corner and the gaps in common.
    assert (one.sd**-2 + two.sd**-2) ** -0.5 < both.sd < two.sd
    assert two.sd < one.sd  # longer tapes, the same reading
    assert one.angle < both.angle < two.angle
    assert two.angle - both.angle < both.angle - one.angle


def test_two_triangles_that_contradict_each_other_are_both_named() -> None:
    # The same two marks taped across twice: the difference of two tapes of 0.8 mm and 0.12 mm a metre.
    limit = 3.29 * math.sqrt(2) * math.hypot(0.8, 0.12 * 1.5)
    _, fine = measured((900, 1200, 1500), (900, 1200, 1500 + 0.98 * limit))
    assert fine == ()
    _, wrong = measured((900, 1200, 1500), (900, 1200, 1500 + 1.02 * limit))
    assert len(wrong) == 1
    assert "triangle 1 and triangle 2" in wrong[0].text
    assert "take both again" in wrong[0].text
    assert wrong[0].path == "corner.A-B"


def test_a_half_inch_slip_is_found() -> None:
    _, wrong = measured((900, 1200, 1500), (1200, 1600, 2000 + 12.7))
    assert len(wrong) == 1


@pytest.mark.parametrize("taped", [(900, 1200, 2200), (900, 1200, 200), (0, 1200, 1200)])
def test_a_triangle_that_cannot_be_is_asked_for_again(taped: tuple[float, float, float]) -> None:
    found, retake = measured(taped)
    assert any("does not close" in note.text for note in retake)
    assert found.angle == pytest.approx(math.pi / 2)
    assert found.sd > math.radians(0.5)


def test_an_impossible_triangle_does_not_spoil_a_good_one() -> None:
    found, retake = measured((900, 1200, 2200), (900, 1200, 1500))
    assert found.angle == pytest.approx(math.pi / 2, abs=1e-12)
    assert [note.path for note in retake] == ["corner.A-B.taped"]


def test_a_corner_of_which_nothing_was_taped_says_so() -> None:
    found, retake = measured()
    assert found.angle == math.pi / 2
    assert "drawn square" in retake[0].text


gaps = st.lists(st.floats(0, 20), min_size=5, max_size=5)


def across(
    angle: float, a: float, b: float, face_a: Sequence[float], face_b: Sequence[float]
) -> float:
    """Forward, in complex numbers: the strings leave the corner's face; marks lie on the bowed faces.

    A's string runs out along -1, and its outward side (the room) is -i; B's string is A's turned right
    by pi - angle. A face stands out of its string by the gap at the corner less the gap there.
    """
    rise_a = face_a[0] - np.interp(a, range(0, 2001, 500), face_a)
    rise_b = face_b[0] - np.interp(b, range(0, 2001, 500), face_b)
    to_b = cmath.rect(1, angle - math.pi)
    return abs((-a - 1j * rise_a) - (b - 1j * rise_b) * to_b)


@settings(deadline=None, max_examples=80)
@given(st.floats(80, 100), gaps, gaps, st.floats(600, 1800), st.floats(600, 1800), st.booleans())
def test_a_made_up_corner_is_found_again_from_its_exact_tapes(
    degrees: float, face_a: list[float], face_b: list[float], a: float, b: float, from_corner: bool
) -> None:
    angle = math.radians(degrees)
    places = [500.0 * k for k in range(5)]
    if from_corner:
        left = wall("A", 2000, list(zip(places, face_a, strict=True)), tape_from="right")
    else:
        left = wall("A", 2000, list(zip(places, face_a[::-1], strict=True)))
    right = wall("B", 2000, list(zip(places, face_b, strict=True)))
    bend: TapedCorner = corner("A", "B", taped=[(a, b, across(angle, a, b, face_a, face_b))])
    found = room(tapes([left, right], [bend]), 1000)
    assert found.corners[0].angle == pytest.approx(angle, abs=1e-9)
    assert found.retake == ()
