"""Rod in a bonded ring of glue: 20 points of an own closed form and a separate 2-D finite-element run.

data/bush_stiffness.csv: both made outside this project; they agree there to 1.2e-5 or better.
data/worked_timber.json (bush_*): the same in real units.
"""

from __future__ import annotations

import math

import pytest

from ledgewright.statics import mechanics
from tests.published.rows import Row, agrees, rows, worked

AGAINST = (
    "closed form of the bonded ring and a 2-D finite-element run made outside the project",
    "computed outside the project; the end for nu 0.5 from memory",
    "1e-5 to 1e-4",
)


def bush(*, E: float, nu: float, r: float) -> float:
    G = mechanics.shear_modulus(E=E, nu=nu)
    return mechanics.bush(G=G, nu=nu, kappa=mechanics.kappa(nu=nu), r=r)


def named(row: Row) -> str:
    return f"{row['b_over_a']}-{row['nu']}"


@pytest.mark.parametrize("row", rows("bush_stiffness.csv"), ids=named)
def test_closed_form_points(row: Row) -> None:
    value = bush(E=1.0, nu=float(row["nu"]), r=float(row["b_over_a"]))
    agrees(value, row["k_over_E_closed_form"])


@pytest.mark.parametrize("row", rows("bush_stiffness.csv"), ids=named)
def test_finite_element_points(row: Row) -> None:
    value = bush(E=1.0, nu=float(row["nu"]), r=float(row["b_over_a"]))
    assert value == pytest.approx(float(row["k_over_E_fe"]), rel=1.5e-5)


@pytest.mark.parametrize("example", worked("bush_"), ids=lambda each: each["id"])
def test_worked_rings(example: dict[str, dict[str, float]]) -> None:
    given, expected = example["inputs"], example["expected"]
    value = bush(E=given["E_MPa"], nu=given["nu"], r=given["b_over_a"])
    agrees(value, str(expected["k_N_per_mm_per_mm"]))


def test_long_bush_at_no_change_of_volume() -> None:
    # reference: nu -> 0.5 gives 4 pi G / (ln r - (r^2-1)/(r^2+1)), credited to Adkins and Gent (from memory).
    r, G = 1.5, 1 / 3
    limit = 4 * math.pi * G / (math.log(r) - (r * r - 1) / (r * r + 1))
    assert bush(E=1.0, nu=0.5 - 1e-8, r=r) == pytest.approx(limit, rel=1e-5)


def test_thin_layer() -> None:
    # reference: k -> pi a (M + G)/t with M = 2 G (1-nu)/(1-2 nu); low by 2 to 3 % at r = 1.05.
    nu, t = 0.3, 1e-5
    G = 1 / (2 * (1 + nu))
    thin = math.pi * (2 * G * (1 - nu) / (1 - 2 * nu) + G) / t
    assert bush(E=1.0, nu=nu, r=1 + t) == pytest.approx(thin, rel=1e-4)


@pytest.mark.parametrize(("nu", "r"), [(0.5, 1.2), (0.3, 1.0), (0.3, 0.9)])
def test_no_ring_and_no_compressibility_are_refused(nu: float, r: float) -> None:
    with pytest.raises(ValueError, match="must be"):
        bush(E=1.0, nu=nu, r=r)
