"""Weights, loads, angles, temperatures, volumes and times against exact definitions."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledgewright.units import (
    BadFigure,
    Load,
    Unit,
    down_mass,
    read_angle,
    read_load,
    read_mass,
    read_temperature,
    read_time,
    read_volume,
    show_angle,
    show_area,
    show_force,
    show_mass,
    show_moment,
    show_per_length,
    show_pressure,
    show_stress,
    show_temperature,
    show_volume,
)

# International yard and pound agreement, 1959: 1 lb = 0.45359237 kg, 1 ft = 0.3048 m, both exactly.
# 3rd CGPM, 1901: standard gravity 9.80665 m/s2 exactly (from memory). Written out here, apart from the code.
LB, FT, G = 0.45359237, 304.8, 9.80665


@pytest.mark.parametrize(
    ("text", "kg"),
    [("1 lb", LB), ("34 lb", 15.42214058), ("3 lb 4 oz", 3.25 * LB), ("11 kg", 11), ("450 g", 0.45),
     ("1/2 lb", LB / 2), ("3½ lbs", 3.5 * LB), ("16 oz", LB), ("3lb4oz", 3.25 * LB), ("11KG", 11)],
)  # fmt: skip
def test_weights(text: str, kg: float) -> None:
    assert read_mass(text) == pytest.approx(kg, rel=1e-15)


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("16 lb/ft", "per length", 16 * LB * G / FT),
        ("16 plf", "per length", 16 * LB * G / FT),
        ("16 lbs per foot", "per length", 16 * LB * G / FT),
        ("30 kg/m", "per length", 30 * G / 1000),
        ("0.35 kN/m", "per length", 0.35),
        ("350 N/m", "per length", 0.35),
        ("18 lb/ft2", "per area", 18 * LB * G / FT**2),
        ("18 lb/ft²", "per area", 18 * LB * G / FT**2),
        ("18 lb/ft^2", "per area", 18 * LB * G / FT**2),
        ("18 lb / sq. ft.", "per area", 18 * LB * G / FT**2),
        ("50 psf", "per area", 50 * LB * G / FT**2),
        ("2.4 kPa", "per area", 0.0024),
        ("2.4 kN/m2", "per area", 0.0024),
        ("150 kg/m2", "per area", 150 * G / 1e6),
        ("0.6 kN", "force", 600),
        ("135 lbf", "force", 135 * LB * G),
        ("34 lb", "mass", 34 * LB),
        ("3 lb 4 oz", "mass", 3.25 * LB),
        ("11 kg", "mass", 11),
    ],
)
def test_loads(text: str, kind: str, value: float) -> None:
    load = read_load(text)
    assert isinstance(load, Load)
    assert load.kind == kind
    assert load.value == pytest.approx(value, rel=1e-14)


def test_published_conversion_factors() -> None:
    # Printed in a handbook's SI table as 4.448222 N, 6.894757 kPa, 4.788026 E 04 Pa per kip/ft2, 9.290304 E-02 m2,
    # each the multiplier of its US unit; seen as a quoted table, edition not noted. lbf in 0.1129848 N m and
    # US fl oz 29.57353 ml: NIST SP 811, Appendix B.8, from memory. Half a unit of the last digit.
    assert read_load("1 lbf").value == pytest.approx(4.448222, abs=5e-7)
    assert read_load("1 psf").value * 1e6 == pytest.approx(47.88026, abs=5e-6)
    assert read_volume("1 fl oz") == pytest.approx(29.57353, abs=5e-6)
    assert show_stress(6.894757, "in") == "1000 psi"
    assert show_force(4448.222, "in") == "1000 lbf"
    assert show_moment(112984.8, "in") == "1000 lbf in"
    assert show_area(92903.04, "in") == "1 ft2"
    assert show_pressure(47.88026e-6 * 50, "in") == "50 psf"


def test_floor_load_of_50_psf_is_2_4_kpa() -> None:
    # ASCE 7 prints its table in both: 50 psf (2.40 kN/m2), from memory.
    assert read_load("50 psf").value * 1000 == pytest.approx(2.40, abs=0.0065)


@pytest.mark.parametrize(
    ("value", "degrees"),
    [("90.5 deg", 90.5), ("90.5°", 90.5), ("91° 6'", 91.1), ("91°6′", 91.1), ("91 deg 6 min", 91.1),
     ("91° 6' 36\"", 91.11), (90, 90), ("90", 90), (89.5, 89.5), ("-1.5", -1.5), ("1.5707963267948966 rad", 90)],
)  # fmt: skip
def test_angles(value: str | float, degrees: float) -> None:
    assert read_angle(value) == pytest.approx(math.radians(degrees), rel=1e-14)


@pytest.mark.parametrize(
    ("text", "celsius"),
    [
        ("32 F", 0),
        ("212 F", 100),
        ("-40 F", -40),
        ("68°F", 20),
        ("50 deg F", 10),
        ("14 C", 14),
        ("14 °C", 14),
        ("−5 C", -5),
    ],
)
def test_temperatures(text: str, celsius: float) -> None:
    # Fixed points of the two scales: 32 F = 0 C, 212 F = 100 C, -40 the same on both.
    assert read_temperature(text, "in") == celsius


@pytest.mark.parametrize(
    ("text", "ml"),
    [("400 ml", 400), ("1.5 l", 1500), ("2 litres", 2000), ("128 fl oz", 3785.411784), ("1 gal", 3785.411784),
     ("4 qt", 3785.411784), ("8 pints", 3785.411784), ("400 cm3", 400), ("400 cm³", 400),
     ("10 fl. oz.", 295.735295625)],
)  # fmt: skip
def test_volumes(text: str, ml: float) -> None:
    # US gallon = 231 in3 = 231 * 2.54^3 ml = 3785.411784 ml exactly (NIST Handbook 44, Appendix C; place from memory).
    assert read_volume(text) == pytest.approx(ml, rel=1e-15)


@pytest.mark.parametrize(
    ("text", "hours"),
    [
        ("10 min", 1 / 6),
        ("24 h", 24),
        ("2 days", 48),
        ("1 day", 24),
        ("1 h 30 min", 1.5),
        ("2 weeks", 336),
        ("1/2 hour", 0.5),
    ],
)
def test_times(text: str, hours: float) -> None:
    assert read_time(text) == pytest.approx(hours, rel=1e-15)


def _fahrenheit_job(value: str | float) -> float:
    return read_temperature(value, "in")


def _celsius_job(value: str | float) -> float:
    return read_temperature(value, "mm")


READERS: list[Callable[[str | float], object]] = [
    read_mass, read_load, read_angle, _fahrenheit_job, _celsius_job, read_volume, read_time,
]  # fmt: skip


@pytest.mark.parametrize(
    ("read", "text", "right"),
    [
        (read_mass, "34", "Write 34 lb or 34 kg."),
        (read_mass, 34, "Write 34 lb or 34 kg."),
        (read_mass, "3 lb 20 oz", "Write 4 lb 4 oz."),
        (read_mass, "3.5 lb 4 oz", "Write 3 lb 12 oz."),
        (read_mass, "4 oz 3 lb", "Write 3 lb 4 oz."),
        (read_mass, "3 lb 4 lb", "Write 3 lb 4 oz."),
        (read_mass, "1/2 kg", "Write 0.5 kg."),
        (read_mass, "1,5 kg", "Write 1.5 kg."),
        (read_mass, "5 stone", "Use one of: lb, kg, oz, g."),
        (read_mass, "3 1/2", "Write 3 1/2 lb."),
        (read_mass, "1/2 kg 2 g", "Write 502 g."),
        (read_load, "30", "Write 30 lb or 30 kg."),
        (read_angle, "91° 66'", "Write 92° 6'."),
        (read_angle, "91.5° 6'", "Write 91° 36'."),
        (_fahrenheit_job, "66", "Write 66 F or 66 C."),
        (_fahrenheit_job, 66, "Write 66 F or 66 C."),
        (_celsius_job, "14", "Write 14 C or 14 F."),
        (_celsius_job, "-5", "Write -5 C or -5 F."),
        (_celsius_job, "14°", "Use one of: C, F."),
        (read_volume, "2", "Write 2 ml or 2 fl oz."),
        (read_time, "24", "Write 24 h or 24 min."),
        (read_time, "1 h 90 min", "Write 2 h 30 min."),
    ],
)
def test_refused_with_the_nearest_right_spelling(
    read: Callable[[str | float], object], text: str | float, right: str
) -> None:
    with pytest.raises(BadFigure) as caught:
        read(text)
    assert caught.value.right == right


HOPELESS: list[str | float] = [
    "", "abc", "nan lb", "inf", float("nan"), float("inf"), True, 1e300, 10**5000, "1e300 kg", "9" * 5000,
    "9" * 60 + " kg", "12 3/0 lb", "lb", "°", "-500 F", "400 deg",
]  # fmt: skip


@pytest.mark.parametrize("read", READERS)
def test_what_is_no_figure_is_refused_everywhere(read: Callable[[str | float], object]) -> None:
    for text in HOPELESS:
        with pytest.raises(BadFigure):
            read(text)


@pytest.mark.parametrize("text", ["-3 lb", "-3 lb/ft", "-1 ml", "-2 h"])
def test_only_angles_temperatures_and_lengths_are_signed(text: str) -> None:
    for read in (read_mass, read_load, read_volume, read_time):
        with pytest.raises(BadFigure):
            read(text)


WORDS = st.sampled_from(
    [*"0123456789", " ", "/", "-", ".", ",", "½", "lb", "oz", "kg", "ft", "ft2", "m", "²", "kPa", "°", "'", '"',
     " per ", "F", "C", "deg", "min", "h", "ml", "fl oz", "sq ft"]
)  # fmt: skip


@given(
    st.one_of(st.text(), st.lists(WORDS, max_size=12).map("".join), st.integers(), st.floats()),
    st.sampled_from(READERS),
)
def test_anything_reads_or_is_refused(
    value: str | float, read: Callable[[str | float], object]
) -> None:
    refusal = None
    try:
        read(value)
    except BadFigure as caught:
        refusal = caught
    assert refusal is None or (refusal.wrong.endswith(".") and refusal.right.endswith("."))


UNITS = st.sampled_from(["in", "mm"])


@given(st.floats(0.01, 5000), UNITS)
def test_shown_figures_read_back_to_three_figures(size: float, unit: Unit) -> None:
    assert read_mass(show_mass(size, unit)) == pytest.approx(size, rel=0.006)
    assert read_load(show_force(size, unit)).value == pytest.approx(size, rel=0.006)
    assert read_load(show_per_length(size, unit)).value == pytest.approx(size, rel=0.006)
    assert read_load(show_pressure(size, unit).replace("psf", "lb/ft2")).value == pytest.approx(
        size, rel=0.006
    )
    assert read_volume(show_volume(size, unit)) == pytest.approx(size, rel=0.006)


@given(st.floats(-40, 100), UNITS)
def test_temperatures_and_angles_read_back(size: float, unit: Unit) -> None:
    assert read_temperature(show_temperature(size, unit), unit) == pytest.approx(size, abs=0.0501)
    assert read_angle(show_angle(math.radians(size))) == pytest.approx(
        math.radians(size), abs=math.radians(0.00501)
    )


@pytest.mark.parametrize(
    ("shown", "text"),
    [
        # By hand from the exact definitions above.
        (show_mass(LB * 47, "in"), "47 lb"), (show_mass(9.04, "mm"), "9.04 kg"), (show_mass(0, "in"), "0 lb"),
        (show_force(600, "mm"), "600 N"), (show_force(1234.4, "mm"), "1234 N"), (show_force(999.6, "mm"), "1000 N"),
        (show_stress(345, "mm"), "345 MPa"), (show_stress(248.211, "in"), "36000 psi"),
        (show_moment(79864, "mm"), "79.9 N m"), (show_moment(79864, "in"), "707 lbf in"),
        (show_per_length(30 * G / 1000, "mm"), "30 kg/m"), (show_per_length(16 * LB * G / FT, "in"), "16 lb/ft"),
        (show_pressure(0.0024, "mm"), "2.4 kPa"), (show_area(340_000, "mm"), "0.34 m2"),
        (show_volume(400, "mm"), "400 ml"),
        (show_temperature(20, "in"), "68 F"), (show_temperature(14, "mm"), "14 C"),
        (show_temperature(-0.01, "mm"), "0 C"),
        (show_angle(math.pi / 2), "90 deg"), (show_angle(-1e-9), "0 deg"), (show_mass(1e-9, "mm"), "0 kg"),
    ],
)  # fmt: skip
def test_figures_as_printed(shown: str, text: str) -> None:
    assert shown == text


@pytest.mark.parametrize(
    ("kg", "unit", "whole"),
    [(20.999, "mm", (20, "kg")), (21, "mm", (21, "kg")), (0.4, "mm", (0, "kg")),
     (15.42214058, "in", (34, "lb")), (15.42, "in", (33, "lb")), (0.45, "in", (0, "lb"))],
)  # fmt: skip
def test_load_limits_round_down_after_conversion(
    kg: float, unit: Unit, whole: tuple[int, str]
) -> None:
    assert down_mass(kg, unit) == whole


@given(st.integers(0, 100_000))
def test_whole_pounds_survive_the_way_through_kilograms(pounds: int) -> None:
    assert down_mass(read_mass(f"{pounds} lb"), "in") == (pounds, "lb")


@given(st.floats(0, 50_000))
def test_a_load_limit_is_never_rounded_up(kg: float) -> None:
    pounds, _ = down_mass(kg, "in")
    assert kg - LB - 1e-6 < pounds * LB <= kg + 1e-8
