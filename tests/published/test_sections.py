"""Section properties and masses of steel bar against published and independently computed figures.

data/sections.csv: closed forms evaluated outside this project (pi D^4/64, D^3/6, a^4/12, 7850 kg/m3),
US rows to 8 digits, exact conversions to 6; its `source` column says which.
"""

from __future__ import annotations

import csv
import math
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from ledgewright import stock
from ledgewright.stock import Bar

AGAINST = (
    "closed forms evaluated outside the project; EN 10058, 10059, 10060, 10219-2",
    "computed outside the project; EN tables from memory",
    "1e-5; masses and tubes to their last printed digit",
)

INCH = 25.4
POUND_PER_FOOT = 0.45359237 / (12 * INCH)  # kg/mm, both exact (NIST SP 811 appendix B)

with (Path(__file__).parent / "data" / "sections.csv").open(encoding="utf-8", newline="") as _file:
    ROWS = {row["id"]: row for row in csv.DictReader(_file)}


def half_a_unit(printed: str) -> float:
    """Half a unit of the last printed digit."""
    exponent = Decimal(printed).as_tuple().exponent
    assert isinstance(exponent, int)
    return 0.5 * 10.0**exponent


def assert_as_printed(value: float, printed: str) -> None:
    assert value == pytest.approx(float(printed), rel=1e-12, abs=half_a_unit(printed) * 1.0001)


def solid(shape: str, side: float) -> Bar:
    name = {"round": "round 16 S235", "sq": "square 16 S235"}[shape]
    return replace(stock.bar(name), width=side, height=side)


SECTION_IDS = [name for name in ROWS if name.startswith("sec-")]


@pytest.mark.parametrize("name", SECTION_IDS)
def test_second_moment_and_moduli_of_rounds_and_squares(name: str) -> None:
    _, shape, size, symbol, *unit = name.split("-")
    metric = size.startswith("mm")
    bar = solid(shape, float(size.removeprefix("mm")) * (1 if metric else INCH))
    value = {"I": bar.inertia, "S": bar.elastic_modulus, "Z": bar.plastic_modulus}[symbol]
    power = 4 if symbol == "I" else 3
    assert_as_printed(value / (INCH**power if unit == ["us"] else 1), ROWS[name]["value"])


def test_every_size_of_the_table_is_read() -> None:
    assert len(SECTION_IDS) == 5 * 6 + 3 * 6 + 3 * 3


@pytest.mark.parametrize("name", [name for name in ROWS if name.startswith("bar_")])
def test_mass_of_round_bar(name: str) -> None:
    _, system, *size = name.split("_")
    pounds = size[-1] == "us"
    figures = [int(each) for each in size if each != "us"]
    side = figures[0] / figures[1] if len(figures) > 1 else float(figures[0])
    mass = solid("round", side * (INCH if system == "us" else 1)).mass_per_length
    assert_as_printed(mass / POUND_PER_FOOT if pounds else 1000 * mass, ROWS[name]["value"])


@pytest.mark.parametrize(("shape", "row"), [("round", "shape-round"), ("sq", "shape-rect")])
def test_shape_factor(shape: str, row: str) -> None:
    bar = solid(shape, 16)
    assert_as_printed(bar.plastic_modulus / bar.elastic_modulus, ROWS[row]["value"])


def test_five_eighths_round_is_2_44_times_as_stiff_as_a_half() -> None:
    # I = pi d^4/64 of both, the same E: (5/4)^4 = 2.4414, exact.
    ratio = stock.bar("round 5/8 1018").inertia / stock.bar("round 1/2 1018").inertia
    assert ratio == pytest.approx((5 / 4) ** 4, rel=1e-12)
    assert round(ratio, 2) == 2.44


def test_half_inch_square_is_1_70_times_as_stiff_as_a_half_round() -> None:
    # (d^4/12) / (pi d^4/64) = 16/(3 pi) = 1.6977, exact.
    ratio = stock.bar("square 1/2 a36").inertia / stock.bar("round 1/2 1018").inertia
    assert ratio == pytest.approx(16 / (3 * math.pi), rel=1e-12)
    assert round(ratio, 2) == 1.70


def test_flat_on_edge_against_flat_lying() -> None:
    # b h^3/12 with the sides exchanged: (h/b)^2 = (1 / 0.375)^2 = 7.11, exact.
    edge, lying = stock.bar("flat 3/8x1 a36"), stock.bar("flat 1x3/8 a36")
    assert edge.inertia / lying.inertia == pytest.approx((8 / 3) ** 2, rel=1e-12)
    assert edge.plastic_modulus == pytest.approx(0.375 * 1 / 4 * INCH**3, rel=1e-12)
    assert edge.area == lying.area


# EN 10060 (rounds), EN 10059 (squares), EN 10058 (flats), mass in kg/m: from memory.
@pytest.mark.parametrize(
    ("name", "printed"),
    [
        ("round 10 S235", "0.617"),
        ("round 12 S235", "0.888"),
        ("round 16 S235", "1.58"),
        ("round 20 S235", "2.47"),
        ("round 25 S235", "3.85"),
        ("square 10 S235", "0.785"),
        ("square 12 S235", "1.13"),
        ("square 16 S235", "2.01"),
        ("square 20 S235", "3.14"),
        ("flat 8x20 S235", "1.26"),
        ("flat 10x25 S235", "1.96"),
        ("flat 30x12 S235", "2.83"),
    ],
)
def test_mass_of_stocked_bars(name: str, printed: str) -> None:
    assert_as_printed(1000 * stock.bar(name).mass_per_length, printed)


# EN 10219-2 tables of sectional properties (A cm2, I cm4, Wel cm3, Wpl cm3): from memory.
@pytest.mark.parametrize(
    ("shape", "side", "wall", "A", "I", "Wel", "Wpl"),
    [
        ("square tube", 20, 2, "1.34", "0.69", "0.69", "0.88"),
        ("square tube", 25, 2, "1.74", "1.48", "1.19", "1.47"),
        ("square tube", 25, 3, "2.41", "1.84", "1.47", "1.91"),
        ("square tube", 30, 3, "3.01", "3.50", "2.34", "2.96"),
        ("square tube", 40, 3, "4.21", "9.32", "4.66", "5.72"),
        ("round tube", 26.9, 2.6, "1.98", "1.48", "1.10", "1.54"),
        ("round tube", 33.7, 3, "2.89", "3.44", "2.04", "2.84"),
    ],
)
def test_tube_sections(
    shape: str, side: float, wall: float, A: str, I: str, Wel: str, Wpl: str
) -> None:
    like = stock.bar({"square tube": "square tube 25x2 S235"}.get(shape, "round tube 33.7x3 S235"))
    bar = replace(like, width=side, height=side, wall=wall)
    assert_as_printed(bar.area / 1e2, A)
    assert_as_printed(bar.inertia / 1e4, I)
    assert_as_printed(bar.elastic_modulus / 1e3, Wel)
    assert_as_printed(bar.plastic_modulus / 1e3, Wpl)


def rounded(half: float, radius: float, z: float) -> float:
    """Half width at height z of a square with sides 2 half and corners of a radius."""
    over = abs(z) - (half - radius)
    return half if over <= 0 else half - radius + math.sqrt(radius**2 - over**2)


def test_square_tube_by_slices() -> None:
    # Independent route: the section cut into 20,000 level slices (midpoint rule), outer less hole.
    bar = stock.bar("square tube 25x3 S235")
    n, h, t = 20_000, bar.height / 2, bar.wall
    step = 2 * h / n
    area = inertia = plastic = 0.0
    for i in range(n):
        z = -h + (i + 0.5) * step
        inside = rounded(h - t, t, z) if abs(z) < h - t else 0.0
        strip = 2 * (rounded(h, 2 * t, z) - inside) * step
        area, inertia, plastic = area + strip, inertia + strip * z * z, plastic + strip * abs(z)
    assert bar.area == pytest.approx(area, rel=1e-5)
    assert bar.inertia == pytest.approx(inertia, rel=1e-5)
    assert bar.plastic_modulus == pytest.approx(plastic, rel=1e-5)
