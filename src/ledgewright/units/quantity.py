"""Weights, loads, angles, temperatures, volumes and times as people write them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from ledgewright.units.figure import BadFigure, Rung, Scale
from ledgewright.units.length import FOOT, Unit
from ledgewright.units.reading import number_text, read_figure

Kind = Literal["per length", "per area", "mass", "force"]

POUND = Fraction("0.45359237")  # kg; international yard and pound agreement, 1959: exactly
GRAVITY = Fraction("9.80665")  # m/s2; standard gravity, 3rd CGPM 1901: exactly
FLUID_OUNCE = Fraction("29.5735295625")  # ml; US gallon of 231 in3 / 128: exactly

_ABSOLUTE_ZERO = Fraction("-273.15")  # C

_POUNDS = ("lbs", "pound", "pounds", "#")
_KILOS = ("kgs", "kilo", "kilos", "kilogram", "kilograms")
_FEET = ("ft", "foot", "lin ft", "linear foot", "lf")
_SQUARE_FEET = ("ft2", "sq ft", "sqft", "square foot", "sf")
_METRES = ("m", "metre", "meter")
_SQUARE_METRES = ("m2", "sq m", "sqm", "square metre", "square meter")

_MASSES = (
    Rung("lb", POUND, _POUNDS, splits=True),
    Rung("kg", Fraction(1), _KILOS),
    Rung("oz", POUND / 16, ("ounce", "ounces"), splits=True),
    Rung("g", Fraction(1, 1000), ("gram", "grams")),
)
MASS = Scale("weight", _MASSES, "34 lb, 3 lb 4 oz or 11 kg", Fraction(100_000), (("lb", "oz"),))


def _over(loads: tuple[str, ...], lengths: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(f"{load}/{length}" for load in loads for length in lengths)


_LOADS: dict[Kind, tuple[Rung, ...]] = {
    "mass": _MASSES,
    "force": (
        Rung("N", Fraction(1), ("n", "newton", "newtons")),
        Rung("kN", Fraction(1000), ("kn",)),
        Rung("lbf", POUND * GRAVITY, ()),
    ),
    "per length": (
        Rung(
            "lb/ft",
            POUND * GRAVITY / FOOT,
            ("plf", *_over(("lb", "lbf", *_POUNDS), _FEET)),
            splits=True,
        ),
        Rung("kg/m", GRAVITY / 1000, _over(("kg", *_KILOS), _METRES)),
        Rung("kN/m", Fraction(1), _over(("kn",), _METRES)),
        Rung("N/m", Fraction(1, 1000), _over(("n",), _METRES)),
        Rung("N/mm", Fraction(1), ("n/mm",)),
    ),
    "per area": (
        Rung(
            "lb/ft2",
            POUND * GRAVITY / FOOT**2,
            ("psf", *_over(("lb", "lbf", *_POUNDS), _SQUARE_FEET)),
            splits=True,
        ),
        Rung("kg/m2", GRAVITY / 10**6, _over(("kg", *_KILOS), _SQUARE_METRES)),
        Rung("kPa", Fraction(1, 1000), ("kpa",)),
        Rung("kN/m2", Fraction(1, 1000), _over(("kn",), _SQUARE_METRES)),
        Rung("Pa", Fraction(1, 10**6), ("pa",)),
        Rung("N/m2", Fraction(1, 10**6), _over(("n",), _SQUARE_METRES)),
    ),
}
_KIND: dict[str, Kind] = {rung.symbol: kind for kind, rungs in _LOADS.items() for rung in rungs}
LOAD = Scale(
    "load",
    tuple(rung for rungs in _LOADS.values() for rung in rungs),
    "34 lb, 16 lb/ft, 18 lb/ft2, 30 kg/m or 2.4 kPa",
    Fraction(10**6),
    (("lb", "oz"),),
)

ANGLE = Scale(
    "angle",
    (
        Rung("deg", Fraction(1), ("°", "degree", "degrees", "degs"), splits=True),
        Rung("min", Fraction(1, 60), ("'", "minute", "minutes"), splits=True),
        Rung("sec", Fraction(1, 3600), ('"', "second", "seconds"), splits=True),
        Rung("rad", Fraction(180 / math.pi), ("radian", "radians")),
    ),
    "90.5 deg or 91° 6'",
    Fraction(360),
    (("deg", "min", "sec"),),
    signed=True,
)
_FAHRENHEIT = Rung(
    "F",
    Fraction(1),
    ("°f", "° f", "deg f", "degrees f", "fahrenheit", "degrees fahrenheit"),
)
_CELSIUS = Rung("C", Fraction(1), ("°c", "° c", "deg c", "degrees c", "celsius", "degrees celsius"))
TEMPERATURE: dict[Unit, Scale] = {
    "in": Scale(
        "temperature", (_FAHRENHEIT, _CELSIUS), "66 F or 14 C", Fraction(1000), signed=True
    ),
    "mm": Scale(
        "temperature", (_CELSIUS, _FAHRENHEIT), "14 C or 66 F", Fraction(1000), signed=True
    ),
}
VOLUME = Scale(
    "volume",
    (
        Rung(
            "ml",
            Fraction(1),
            ("millilitre", "millilitres", "milliliter", "milliliters", "cm3", "cc"),
        ),
        Rung("fl oz", FLUID_OUNCE, ("floz", "fluid ounce", "fluid ounces"), splits=True),
        Rung("l", Fraction(1000), ("litre", "litres", "liter", "liters")),
        Rung("pt", 16 * FLUID_OUNCE, ("pint", "pints"), splits=True),
        Rung("qt", 32 * FLUID_OUNCE, ("quart", "quarts"), splits=True),
        Rung("gal", 128 * FLUID_OUNCE, ("gallon", "gallons"), splits=True),
    ),
    "400 ml, 1.5 l or 10 fl oz",
    Fraction(10**7),
)
TIME = Scale(
    "time",
    (
        Rung("h", Fraction(1), ("hr", "hrs", "hour", "hours"), splits=True),
        Rung("min", Fraction(1, 60), ("mins", "minute", "minutes"), splits=True),
        Rung("days", Fraction(24), ("d", "day"), splits=True),
        Rung("weeks", Fraction(168), ("week", "wk", "wks"), splits=True),
    ),
    "10 min, 24 h or 2 days",
    Fraction(24 * 366 * 100),
    (("weeks", "days", "h", "min"),),
)


@dataclass(frozen=True)
class Load:
    """A load as written: `value` is N/mm per length, MPa per area, kg as a mass, N as a force."""

    kind: Kind
    value: float


def read_mass(value: str | float) -> float:
    """Read a weight that says its unit, such as `34 lb`, `3 lb 4 oz` or `11 kg`.

    Source: 1 lb = 0.45359237 kg exactly (international yard and pound agreement, 1959).

    Returns:
        The mass (kg).

    Raises:
        BadFigure: it cannot be read, says no unit, is negative, or is above 100 000 kg.
    """
    return float(read_figure(_text(value, MASS), MASS, bare=None).total)


def read_load(value: str | float) -> Load:
    """Read a load that says its unit: `34 lb`, `16 lb/ft`, `18 lb/ft2`, `2.4 kPa`, `0.35 kN/m`, `0.6 kN`.

    Source: standard gravity 9.80665 m/s2 exactly (3rd CGPM, 1901) turns masses per length and area into loads.

    Returns:
        The load; `lb` and `kg` alone are a mass.

    Raises:
        BadFigure: it cannot be read, says no unit, is negative, or is too large to be true.
    """
    figure = read_figure(_text(value, LOAD), LOAD, bare=None)
    kind = _KIND[figure.rungs[0].symbol]
    return Load(kind, float(figure.total))


def read_angle(value: str | float) -> float:
    """Read an angle such as `90.5 deg` or `91° 6'`; a bare number is degrees.

    Returns:
        The angle (rad), signed.

    Raises:
        BadFigure: it cannot be read, or is beyond a full turn.
    """
    return math.radians(float(read_figure(_text(value, ANGLE), ANGLE, bare="deg").total))


def read_temperature(value: str | float, unit: Unit) -> float:
    """Read a temperature that says F or C.

    Args:
        value: text such as `66 F` or `14 C`.
        unit: the job's unit; it decides only which scale a refusal offers first.

    Returns:
        The temperature (C).

    Raises:
        BadFigure: it cannot be read, says neither F nor C, or is below absolute zero.
    """
    scale = TEMPERATURE[unit]
    figure = read_figure(_text(value, scale), scale, bare=None)
    degrees = (figure.total - 32) * 5 / 9 if figure.rungs[0] is _FAHRENHEIT else figure.total
    if degrees < _ABSOLUTE_ZERO:
        raise BadFigure(figure.text, "Nothing can be that cold.", scale.advice)
    return float(degrees)


def read_volume(value: str | float) -> float:
    """Read a volume such as `400 ml`, `1.5 l` or `10 fl oz`; pints, quarts and gallons are US liquid measure.

    Source: US gallon = 231 in3 exactly, 128 fluid ounces (NIST Handbook 44, Appendix C; place from memory).

    Returns:
        The volume (ml).

    Raises:
        BadFigure: it cannot be read, says no unit, or is negative.
    """
    return float(read_figure(_text(value, VOLUME), VOLUME, bare=None).total)


def read_time(value: str | float) -> float:
    """Read a length of time such as `10 min`, `1 h 30 min`, `24 h` or `2 days`.

    Returns:
        The time (hours).

    Raises:
        BadFigure: it cannot be read, says no unit, or is negative.
    """
    return float(read_figure(_text(value, TIME), TIME, bare=None).total)


def _text(value: str | float, scale: Scale) -> str:
    return value if isinstance(value, str) else number_text(value, scale)
