"""Eurocode 5 rows: embedment, yield moment, slip modulus, k_mod, k_def, gamma_M. EN 1995-1-1:2004, clause in each row.

data/ec5.csv; what a row's status calls "from memory" is so here too.
"""

from __future__ import annotations

import math
import re
from typing import Any, cast

import pytest

from ledgewright import stock
from ledgewright.statics.bases import ec5
from ledgewright.statics.bases.ec5 import _timber
from tests.published.rows import Row, agrees, rows, worked
from tests.statics.reckon import reckon

AGAINST = (
    "EN 1995-1-1:2004, clause in each row",
    "second-hand, confirmed; some rows from memory, as their status says",
    "printed figures to their last digit; formulas to 1e-12",
)

ROWS = rows("ec5.csv")
RHO_K = {"C16": 310.0, "C24": 350.0}  # EN 338


def these(pattern: str) -> list[Row]:
    return [row for row in ROWS if re.match(pattern, row["id"])]


@pytest.mark.parametrize("row", these(r"ec5-calc-fh"), ids=lambda row: row["id"])
def test_embedment_by_class_and_diameter(row: Row) -> None:
    _, _, kind, grade, d = row["id"].split("-")
    f = ec5.f_h0k(d=float(d), rho=RHO_K[grade])
    if kind == "fh90":
        f = ec5.f_hak(f=f, k=ec5.k_90(d=float(d)), alpha=math.pi / 2)
    agrees(f, row["value"], digits=8 if kind == "fh90" else 6)


def test_embedment_as_a_design_record_prints_it() -> None:
    (row,) = these("ec5-fh0-check")
    agrees(ec5.f_h0k(d=12.0, rho=385.0), row["value"])
    assert round(ec5.f_h0k(d=12.0, rho=385.0), 2) == 27.78


@pytest.mark.parametrize(
    ("name", "values", "got"),
    [
        ("ec5-fh0", {"d": 14.0, "rho_k": 350.0}, ec5.f_h0k(d=14.0, rho=350.0)),
        ("ec5-k90-soft", {"d": 14.0}, ec5.k_90(d=14.0)),
        ("ec5-my", {"d": 16.0, "f_uk": 360.0}, ec5.M_yRk(f=360.0, d=16.0)),
        ("ec5-kser", {"d": 16.0, "rho_m": 370.0}, ec5.K_ser(rho=370.0, d=16.0)),
        ("ec5-kser-nail", {"d": 3.8, "rho_m": 420.0}, ec5.K_ser_nail(rho=420.0, d=3.8)),
    ],
)
def test_formulas_as_printed(name: str, values: dict[str, float], got: float) -> None:
    (row,) = these(f"{name}$")
    text = row["value"].partition("=")[2] or row["value"]
    assert got == pytest.approx(reckon(re.sub(r" (MPa|N\*mm|N/mm)$", "", text), values), rel=1e-12)


def test_embedment_at_an_angle_as_printed() -> None:
    (row,) = these("ec5-fha$")
    assert row["value"] == "f_hak=f_h0k/(k90*sin^2+cos^2)"
    f, k, alpha = 24.0, 1.59, math.radians(30)
    assert ec5.f_hak(f=f, k=k, alpha=alpha) == pytest.approx(24.0 / (1.59 * 0.25 + 0.75), rel=1e-12)


@pytest.mark.parametrize("row", these(r"ec5-kser-(chk|calc)"), ids=lambda row: row["id"])
def test_slip_modulus(row: Row) -> None:
    rho, d = re.findall(r"=([\d.]+)", row["conditions"])
    agrees(ec5.K_ser(rho=float(rho), d=float(d)), row["value"], digits=8)


@pytest.mark.parametrize("row", these(r"ec5-kmod-"), ids=lambda row: row["id"])
def test_k_mod(row: Row) -> None:
    _, _, material, duration = row["id"].split("-")
    value = ec5.k_mod(
        material=cast("_timber.Material", material), duration=cast("_timber.Duration", duration)
    )
    agrees(value, row["value"])


def test_plywood_stands_with_solid_timber() -> None:
    # The rows of solid timber say "solid timber / glulam / LVL / plywood".
    assert ec5.K_MOD["plywood"] == ec5.K_MOD["solid"]


@pytest.mark.parametrize("row", these(r"ec5-kdef-.*sc\d"), ids=lambda row: row["id"])
def test_k_def(row: Row) -> None:
    _, _, material, *_, at = row["id"].split("-")
    value = ec5.k_def(material=cast("_timber.Material", material), service_class=int(at[2:]))
    agrees(value, row["value"])


def test_connections_creep_twice() -> None:
    from ledgewright.statics import mechanics

    (row,) = these("ec5-kdef-conn")
    assert row["value"] == "2 x k_def"
    assert mechanics.bed_crept(k=1000.0, k_def=0.6) == pytest.approx(
        1000.0 / (1 + 2 * 0.6), rel=1e-12
    )


@pytest.mark.parametrize(("name", "material"), [("solid", "solid"), ("lvl", "plywood")])
def test_gamma_M(name: str, material: _timber.Material) -> None:
    (row,) = these(f"ec5-gammaM-{name}")
    agrees(ec5.GAMMA_M[material], row["value"])


@pytest.mark.parametrize("example", worked("EC5-"), ids=lambda each: each["id"])
def test_worked_examples(example: Any) -> None:
    given, expected = example["inputs"], example["expected"]
    if "f_h0k_MPa" in expected:
        agrees(ec5.f_h0k(d=given["d_mm"], rho=given["rho_k_kg_m3"]), str(expected["f_h0k_MPa"]))
    else:
        K = ec5.K_ser(rho=given["rho_m_kg_m3"], d=given["d_mm"])
        assert pytest.approx(expected["Kser_N_per_mm"], rel=1e-13) == K


@pytest.mark.parametrize("grade", ["C16", "C24"])
def test_the_catalogue_holds_the_class_densities(grade: str) -> None:
    found = [t for t in stock.rows("timber") if isinstance(t, stock.Timber) and t.grade == grade]
    assert found
    assert {t.rho_k for t in found} == {RHO_K[grade]}


def test_every_row_is_looked_at() -> None:
    # Not used by the one-rod model: other woods' k90, nails, steel doubling, unlike members, K_u, k_h, limits, glulam.
    elsewhere = r"ec5-(k90-(lvl|hard)|kser-(nail|steel|rho)|ku|kh|defl-|gammaM-glulam)"
    known = rf"({elsewhere}|ec5-(calc-fh|fh0|fha|k90-soft|my|kser|kmod|kdef|gammaM-(solid|lvl)))"
    assert [row["id"] for row in ROWS if not re.match(known, row["id"])] == []
