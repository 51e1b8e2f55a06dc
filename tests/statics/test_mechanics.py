"""Limits of the rod and of the wood round it, against hand derivations and separate numerical routes."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest

from ledgewright.statics import mechanics
from ledgewright.statics.bases import nds
from ledgewright.statics.formula import Working

AGAINST = (
    "beam elements, strips, bisection and Simpson's rule in the test; AWC TR12 Table 1-1",
    "hand calculation, and separate routes in the test",
    "1e-12 to 0.1 %",
)

E_STEEL = 200e3


def beam(
    *, V: float, M: float, k: float, E: float, I: float, L: float, n: int = 400
) -> tuple[float, float]:
    """Movement and turn at the loaded end by cubic beam elements on their consistent bed; a separate route."""
    h = L / n
    bend = (
        E
        * I
        / h**3
        * np.array(
            [
                [12, 6 * h, -12, 6 * h],
                [6 * h, 4 * h * h, -6 * h, 2 * h * h],
                [-12, -6 * h, 12, -6 * h],
                [6 * h, 2 * h * h, -6 * h, 4 * h * h],
            ]
        )
    )
    bed = (
        k
        * h
        / 420
        * np.array(
            [
                [156, 22 * h, 54, -13 * h],
                [22 * h, 4 * h * h, 13 * h, -3 * h * h],
                [54, 13 * h, 156, -22 * h],
                [-13 * h, -3 * h * h, -22 * h, 4 * h * h],
            ]
        )
    )
    K = np.zeros((2 * n + 2, 2 * n + 2))
    for i in range(n):
        K[2 * i : 2 * i + 4, 2 * i : 2 * i + 4] += bend + bed
    f = np.zeros(2 * n + 2)
    f[0], f[1] = V, -M
    y = np.linalg.solve(K, f)
    return float(y[0]), float(-y[1])


@pytest.mark.parametrize("L", [40.0, 75.0, 120.0])
def test_the_rod_in_its_bed_against_beam_elements(L: float) -> None:
    V, M, k, I = 250.0, 40e3, 1200.0, math.pi * 15.875**4 / 64
    y, theta = beam(V=V, M=M, k=k, E=E_STEEL, I=I, L=L)
    end = mechanics.face(
        Working(keep=False), V=V, M=M, k=k, lam=mechanics.characteristic(k=k, E=E_STEEL, I=I), L=L
    )
    assert end.y == pytest.approx(y, rel=1e-5)
    assert end.theta == pytest.approx(theta, rel=1e-5)


def test_bed_pressure_balances_load_and_moment() -> None:
    """Sum of k y over the depth is V, its moment about the face is -M: by Simpson's rule on the drop."""
    V, M, k, L = 250.0, 40e3, 1200.0, 75.0
    end = mechanics.face(Working(keep=False), V=V, M=M, k=k, lam=0.03, L=L)
    n = 400
    x = np.linspace(0.0, L, n + 1)
    p = k * np.array([end.drop(float(at)) for at in x])
    weights = np.ones(n + 1)
    weights[1:-1:2], weights[2:-1:2] = 4, 2
    weights *= L / n / 3
    assert float(weights @ p) == pytest.approx(V, rel=1e-8)
    assert float(weights @ (p * x)) == pytest.approx(-M, rel=1e-8)
    assert end.moment(L) == pytest.approx(0.0, abs=1e-6 * M)
    assert end.shear(L) == pytest.approx(0.0, abs=1e-6 * V)


def test_peaks_are_where_the_curve_says() -> None:
    end = mechanics.face(Working(keep=False), V=300.0, M=20e3, k=1500.0, lam=0.034, L=80.0)
    x = np.linspace(0.0, 80.0, 4001)
    moments = [end.moment(float(at)) for at in x]
    shears = [abs(end.shear(float(at))) for at in x]
    assert end.moment(end.peak_at) == pytest.approx(max(moments), rel=1e-6)
    assert abs(end.shear(end.most_sheared_at)) == pytest.approx(max(shears), rel=1e-5)


def test_turn_is_the_slope_of_the_drop_and_the_bed_presses_what_the_shear_changes_by() -> None:
    # Central differences over 0.02 mm: good to 1e-6 of the greatest. Positive turn: the front, at x < 0, goes down.
    end = mechanics.face(Working(keep=False), V=300.0, M=20e3, k=1500.0, lam=0.034, L=80.0)
    assert end.turn(0.0) == pytest.approx(end.theta, rel=1e-12)
    for x in np.linspace(1.0, 79.0, 14).tolist():
        slope = (end.drop(x + 0.01) - end.drop(x - 0.01)) / 0.02
        assert -slope == pytest.approx(end.turn(x), abs=1e-6 * end.theta)
        change = (end.shear(x + 0.01) - end.shear(x - 0.01)) / 0.02
        assert -change == pytest.approx(1500.0 * end.drop(x), abs=1e-6 * 1500.0 * end.y)


def test_shear_in_the_wood_of_a_short_rod_is_about_three_halves_of_moment_over_depth() -> None:
    # Rigid rod, pure moment: pressure falls in a line, so the greatest shear is 1.5 M/L, half way in
    # (statics of a rigid bar).
    end = mechanics.face(Working(keep=False), V=0.0, M=1e5, k=1000.0, lam=1e-3, L=50.0)
    assert abs(end.shear(25.0)) == pytest.approx(1.5 * 1e5 / 50.0, rel=1e-4)


def test_all_rigid_is_the_textbook_cantilever() -> None:
    # P a^3 / 3 E I and P a^2 / 2 E I with a bed stiff beyond measure.
    P, a, I = 200.0, 150.0, math.pi * 16**4 / 64
    k = 1e18
    end = mechanics.face(
        Working(keep=False),
        V=P,
        M=P * a,
        k=k,
        lam=mechanics.characteristic(k=k, E=E_STEEL, I=I),
        L=75.0,
    )
    y = mechanics.load_drop(y=end.y, theta=end.theta, P=P, a=a, E=E_STEEL, I=I)
    assert y == pytest.approx(P * a**3 / (3 * E_STEEL * I), rel=1e-3)
    theta = mechanics.load_turn(theta=end.theta, P=P, a=a, E=E_STEEL, I=I)
    assert theta == pytest.approx(P * a**2 / (2 * E_STEEL * I), rel=1e-3)
    assert mechanics.front_drop(y=y, theta=theta, b=100.0) == pytest.approx(y + 100 * theta)


def test_hang_tilt_of_the_plan() -> None:
    # statics.md: 1.6 mm over 200 mm is 2.4 mm at the front of a 300 mm shelf.
    assert mechanics.hang_tilt(c=1.6, D=300.0, n=200.0) == pytest.approx(2.4)


def plastic_moment(q: float, L: float, V: float, n: int = 200_000) -> float:
    """Moment about the face of strips that push back near it and the other way beyond, as many as balance V."""
    strips = (np.arange(n) + 0.5) * L / n
    order = np.where(np.arange(n) < round(n * (V / (q * L) + 1) / 2), -1.0, 1.0)
    return float(np.sum(order * q * L / n * strips))


@pytest.mark.parametrize("share", [0.0, 0.1, 0.25, 0.4])
def test_the_rigid_limit_against_a_sum_of_crushed_strips(share: float) -> None:
    q, L = 480.0, 75.0
    V = share * q * L
    assert mechanics.rigid_moment(q=q, L=L, V=V) == pytest.approx(plastic_moment(q, L, V), rel=1e-4)


def test_the_rigid_limit_of_pure_moment_and_pure_shear() -> None:
    # By hand: two halves, q L/2 each, L/2 apart; and M = 0 where (V/q + L)^2 = 2 L^2.
    q, L = 480.0, 75.0
    assert mechanics.rigid_moment(q=q, L=L, V=0.0) == pytest.approx(q * L**2 / 4, rel=1e-12)
    assert mechanics.rigid_factor(q=q, L=L, V=0.0, M=1.0) == pytest.approx(q * L**2 / 4, rel=1e-12)
    shear = q * L * (math.sqrt(2) - 1)
    assert mechanics.rigid_factor(q=q, L=L, V=1.0, M=0.0) == pytest.approx(shear, rel=1e-12)


@pytest.mark.parametrize("seed", range(10))
def test_the_load_factor_against_bisection(seed: int) -> None:
    source = random.Random(seed)  # noqa: S311  # no secret, only a spread of inputs
    q, L, V, M = (
        source.uniform(100, 600),
        source.uniform(40, 120),
        source.uniform(1, 900),
        source.uniform(0, 2e5),
    )
    low, high = 0.0, (math.sqrt(2) - 1) * q * L / V
    for _ in range(200):
        s = (low + high) / 2
        low, high = (s, high) if s * M < mechanics.rigid_moment(q=q, L=L, V=s * V) else (low, s)
    assert mechanics.rigid_factor(q=q, L=L, V=V, M=M) == pytest.approx(low, rel=1e-10)


@pytest.mark.parametrize("gap", [0.0, 16.0, 150.0])
def test_the_rigid_limit_is_mode_II_and_the_hinge_mode_III_of_TR12(gap: float) -> None:
    """A side member thin and hard beyond measure makes the gap the lever of a point load (AWC TR12 Table 1-1)."""
    q, L, M = 500.0, 75.0, 2.3e5
    joint = nds.Joint(q_m=q, q_s=1e12, l_m=L, l_s=1e-9, M_m=M, M_s=M, g=gap)
    loads = nds.yield_loads(joint)
    assert mechanics.rigid_factor(q=q, L=L, V=1.0, M=gap) == pytest.approx(loads["II"], rel=1e-6)
    assert mechanics.hinge_load(q=q, e=gap, M_p=M) == pytest.approx(loads["IIIs"], rel=1e-6)


@pytest.mark.parametrize(
    ("V", "M", "k"), [(-1.0, 1.0, 1.0), (1.0, -1.0, 1.0), (0.0, 0.0, 1.0), (1.0, 1.0, 0.0)]
)
def test_loads_that_the_model_does_not_cover_are_refused(V: float, M: float, k: float) -> None:
    with pytest.raises(ValueError, match="must be positive"):
        mechanics.face(Working(keep=False), V=V, M=M, k=k, lam=0.03, L=75.0)


def test_soft_and_stiff_bed_meet_their_ends() -> None:
    assert mechanics.bed_between(low=500.0, high=2900.0, b=0.0) == pytest.approx(500.0)
    assert mechanics.bed_between(low=500.0, high=2900.0, b=1.0) == pytest.approx(2900.0)
    assert mechanics.bed_between(low=500.0, high=2900.0, b=0.5) == pytest.approx(
        math.sqrt(500.0 * 2900.0)
    )
    assert mechanics.in_series(wood=1000.0, glue=1e12) == pytest.approx(1000.0)
