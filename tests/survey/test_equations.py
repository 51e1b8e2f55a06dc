"""Every kind of figure: its slopes against differences, and what it says of places worked by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest

from ledgewright.survey.adjust import Adjusted, Equation, Loose, adjust
from ledgewright.survey.equations import Along, Bend, Gap, Opened, Out, Rise, Straight

# Unknowns: three points, two walls (x, y, turn), two outs, an offset and a lean, two heights.
X = np.array(
    [
        0.0,
        0.0,
        -900.0,
        30.0,
        40.0,
        -1200.0,
        10.0,
        -5.0,
        0.02,
        0.0,
        0.0,
        -1.6,
        -3.0,
        2.0,
        12.0,
        0.001,
        4.0,
        9.0,
    ]
)
P, Q, R = (0, 1), (2, 3), (4, 5)
A, B = (6, 7, 8), (9, 10, 11)
EVERY: tuple[Equation, ...] = (
    Straight(Q, R, 1500.0, 1.0),
    Along(A, Q, -900.0, 1.0),
    Along(B, R, 1200.0, 1.0),
    Out(A, Q, ((12, 0.25), (13, 0.75)), 1.0),
    Out(B, R, ((12, 1.0),), 1.0),
    Gap(14, None, 12, 300.0, 10.0, 0.3),
    Gap(14, 15, 13, 300.0, 10.0, 0.3),
    Gap(14, 15, None, 0.0, 10.0, 0.3),
    Bend(8, 11, math.pi / 2, 0.01),
    Opened(P, Q, R, math.pi / 2, 0.01),
    Rise(None, 16, 1.0, 0.5),
    Rise(16, 17, 1.0, 0.5),
)


@pytest.mark.parametrize("figure", EVERY, ids=lambda e: type(e).__name__)
def test_slopes_are_those_of_small_steps(figure: Equation) -> None:
    _, given = figure.misfit(X)
    slopes = np.zeros(len(X))
    for k, slope in given:
        slopes[k] += slope
    for k in range(len(X)):
        step = 1e-4 if k in (8, 11) else 1e-3
        up, down = X.copy(), X.copy()
        up[k] += step
        down[k] -= step
        by_steps = (figure.misfit(up)[0] - figure.misfit(down)[0]) / (2 * step)
        assert slopes[k] == pytest.approx(by_steps, rel=1e-5, abs=1e-6)


def test_figures_of_a_square_corner_by_hand() -> None:
    # A runs along x to the corner at the origin, B down from it: the room lies below A and to the left of B.
    x = np.array(
        [0, 0, -900, -2, -3, -1200, 0, 0, 0, 0, 0, -math.pi / 2, 2.0, 3.0, 15.0, 0, 4, 9],
        dtype=float,
    )
    assert Along(A, Q, -900.0, 1.0).misfit(x)[0] == pytest.approx(0)
    assert Along(B, R, 1200.0, 1.0).misfit(x)[0] == pytest.approx(0)
    # 2 mm below A is 2 out into the room; 3 mm to the left of B is 3 out.
    assert Out(A, Q, ((12, 1.0),), 1.0).misfit(x)[0] == pytest.approx(0)
    assert Out(B, R, ((13, 1.0),), 1.0).misfit(x)[0] == pytest.approx(0)
    assert Bend(8, 11, math.pi / 2, 1.0).misfit(x)[0] == pytest.approx(0)
    # A gap is what is left from the string to a face that stands out: 15 - 2.
    assert Gap(14, None, 12, 0.0, 13.0, 1.0).misfit(x)[0] == pytest.approx(0)
    # Both marks stand in the room, so between them the corner is that much narrower: 2/900 + 3/1200 by small angles.
    narrower = math.pi / 2 - 2 / 900 - 3 / 1200
    assert Opened(P, Q, R, narrower, 1.0).misfit(x)[0] == pytest.approx(0, abs=1e-7)
    assert Rise(16, 17, 5.0, 1.0).misfit(x)[0] == pytest.approx(0)


def test_what_nobody_measured_is_loose_and_says_in_which_way() -> None:
    # One tape to a point: it may still go round, square to the tape.
    net = adjust(
        [Straight((0, 1), (2, 3), 500.0, 1.0)], [0.0, 0.0, 300.0, 400.0], frozenset({0, 1})
    )
    assert isinstance(net, Loose)
    assert net.free.shape == (4, 1)
    assert abs(float(net.free[2:, 0] @ np.array([0.6, 0.8]))) == pytest.approx(0, abs=1e-9)


def test_a_mean_of_readings_is_the_mean_with_its_doubt() -> None:
    reads = (3.0, 3.4, 3.8)
    net = adjust([Rise(None, 0, r, 0.3) for r in reads], [0.0])
    assert isinstance(net, Adjusted)
    assert float(net.x[0]) == pytest.approx(3.4)
    assert math.sqrt(float(net.cofactor[0, 0])) == pytest.approx(0.3 / math.sqrt(3))
    assert net.r == 2
    # Residuals -0.4, 0, 0.4 over 0.3: 32/9 in all; each checked by two thirds.
    assert net.total == pytest.approx(2 * (0.4 / 0.3) ** 2)
    assert net.share == pytest.approx(np.full(3, 2 / 3))
