"""Plywood lay-ups: bending moduli by the parallel-axis sum over the plies.

data/worked_plates.json: method of FPL Research Note FPL-059 (1964); the 13-ply figures are the Handbook of Finnish
Plywood's (from memory, recomputed outside this project); the catalogue's birch rows carry the same handbook's pairs.
"""

from __future__ import annotations

import pytest

from ledgewright import stock
from ledgewright.statics.mechanics.section import Ply, Sheet, plywood
from tests.published.test_plates import agrees, worked

AGAINST = (
    "FPL-059 (1964) parallel-axis sum; Handbook of Finnish Plywood",
    "from memory, recomputed outside the project; veneers: common practice",
    "printed figures to their last digit, 5e-5",
)


def moduli(sheet: Sheet, thick: float) -> tuple[float, float]:
    return sheet.bending[0] * 12 / thick**3, sheet.bending[1] * 12 / thick**3


def birch(plies: int, *, inner: float, outer: float) -> list[Ply]:
    return [
        Ply(outer if i in (0, plies - 1) else inner, 17500.0, 0.0, 700.0, along=i % 2 == 0)
        for i in range(plies)
    ]


def test_thirteen_plies() -> None:
    example = worked("plywood_13ply")
    given, expected = example["inputs"], example["expected"]
    sheet = plywood(birch(given["n"], inner=given["veneer_mm"], outer=given["outer_veneer_mm"]))
    along, across = moduli(sheet, given["T_mm"])
    agrees(along, expected["E_parallel_MPa"])
    agrees(across, expected["E_perp_MPa"])
    # Printed from the rounded modulus: half a unit of that is 5e-5.
    assert sheet.bending[0] == pytest.approx(expected["EI_parallel_Nmm2_per_mm"], rel=5e-5)


def test_five_equal_plies() -> None:
    example = worked("plywood_5equal")
    t, E0, E90 = (example["inputs"][k] for k in ("t_each_mm", "E0_MPa", "E90_MPa"))
    sheet = plywood([Ply(t, E0, E90, 700.0, along=i % 2 == 0) for i in range(5)])
    along, across = moduli(sheet, 5 * t)
    agrees(along, example["expected"]["E_parallel_MPa"])
    agrees(across, example["expected"]["E_perp_MPa"])


@pytest.mark.parametrize(
    ("name", "plies"), [("birch ply 6.5", 5), ("birch ply 9", 7), ("birch ply 12", 9)]
)
def test_birch_of_the_catalogue(name: str, plies: int) -> None:
    panel = stock.panel(name)
    thick = panel.thick
    outer = (thick - 1.4 * (plies - 2)) / 2
    along, across = moduli(plywood(birch(plies, inner=1.4, outer=outer)), thick)
    assert along == pytest.approx(panel.E_along, abs=0.6)
    assert across == pytest.approx(panel.E_across, abs=0.6)


def test_one_ply_is_a_plain_sheet() -> None:
    # E t and E t^3/12 along, likewise across and in shear: the definition.
    sheet = plywood([Ply(12.0, 9000.0, 400.0, 600.0, along=True)])
    assert sheet.membrane == pytest.approx((108000.0, 4800.0, 0.0, 7200.0))
    assert sheet.bending == pytest.approx((1296000.0, 57600.0, 0.0, 86400.0))


def test_an_uneven_lay_up_bends_about_its_own_middle() -> None:
    # Two plies, both along, 2 mm of 10000 and 4 mm of 5000: both E A are 20000, so the axis lies half way between
    # their middles, 1.5 mm from each: EI = 10000*8/12 + 5000*64/12 + 2*20000*2.25.
    sheet = plywood(
        [Ply(2.0, 10000.0, 0.0, 500.0, along=True), Ply(4.0, 5000.0, 0.0, 500.0, along=True)]
    )
    assert sheet.bending[0] == pytest.approx(10000 * 8 / 12 + 5000 * 64 / 12 + 90000)


def nine(*softer: int) -> float:
    """Modulus along of nine veneers of 1.4 mm, those named half as stiff both ways."""
    plies = [
        Ply(1.4, 16000.0 * give, 800.0 * give, 700.0, along=i % 2 == 0)
        for i in range(9)
        for give in [0.5 if i in softer else 1.0]
    ]
    return moduli(plywood(plies), 9 * 1.4)[0]


def test_outer_veneers_govern_the_stiffness() -> None:
    # Common practice: a panel is as stiff as its outer veneers. By hand: a ply k plies off the middle holds
    # E t^3 (1/12 + k^2); in sixths, twos together: 193 at 4, 49 at 2, 1/2 amid; across at a 20th: 109 at 3, 13 at 1.
    whole = 193 + 49 + 0.5 + (109 + 13) / 20
    outside = nine() - nine(0, 8)
    assert outside / nine() == pytest.approx(0.5 * 193 / whole)
    for inner, holds in (((2, 6), 49.0), ((1, 7), 109 / 20), ((3, 5), 13 / 20)):
        assert outside / (nine() - nine(*inner)) == pytest.approx(193 / holds)


def test_no_ply_is_refused() -> None:
    with pytest.raises(ValueError, match="needs a ply"):
        plywood([])
