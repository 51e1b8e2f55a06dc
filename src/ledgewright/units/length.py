"""Lengths as the trade reads and writes them."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Literal

from ledgewright.units.figure import TAPE, Rung, Scale, mixed
from ledgewright.units.reading import number_text, read_figure

Unit = Literal["in", "mm"]

INCH = Fraction("25.4")  # international yard and pound agreement, 1959: exactly
FOOT = 12 * INCH
_NOISE = Fraction(1, 10**6)  # of a mm or a mark; a figure this near is on it

LENGTH = Scale(
    what="length",
    rungs=(
        Rung("in", INCH, ('"', "inch", "inches", "ins"), splits=True, tape=True),
        Rung("ft", FOOT, ("'", "foot", "feet"), splits=True),
        Rung("mm", Fraction(1), ("millimetre", "millimetres", "millimeter", "millimeters")),
        Rung("cm", Fraction(10), ("centimetre", "centimetres", "centimeter", "centimeters")),
        Rung("m", Fraction(1000), ("metre", "metres", "meter", "meters")),
    ),
    example="12 3/8 in, 3' 4 1/2\" or 48 mm",
    most=Fraction(100_000),
    chains=(("ft", "in"),),
    signed=True,
)


def read_length(value: str | float, unit: Unit) -> float:
    """Read a length as the trade writes it.

    Source: 1 in = 25.4 mm exactly (international yard and pound agreement, 1959).

    Args:
        value: text such as `1 7/8"`, `12-3/8`, `3' 4 1/2"`, `48 mm`, `-3/16`, or a number.
        unit: what a bare number means; in "mm" a bare fraction is refused.

    Returns:
        The length (mm), signed; a dash between a whole number and its fraction is no minus.

    Raises:
        BadFigure: it cannot be read, or is longer than 100 m.
    """
    text = value if isinstance(value, str) else number_text(value, LENGTH)
    return float(read_figure(text, LENGTH, bare=unit).total)


def show_length(
    mm: float, unit: Unit, *, to: int = 16, mark: bool = False, feet: bool = False
) -> str:
    """Write a length for people, to the nearest mark.

    Args:
        mm: the length (mm).
        unit: "in" for inches and fractions, "mm" for millimetres to 0.1.
        to: the finest fraction of an inch, 1 to 128 by halves.
        mark: whether the unit is written behind it.
        feet: whether inches from 12 up are written as feet and inches; these always carry marks.

    Returns:
        Text that `read_length` reads back, such as `12 3/8`; a tie goes away from 0.
    """
    steps = _steps(mm, unit, to)
    nearest = math.floor(abs(steps) + Fraction(1, 2) + _NOISE)
    return _write(-nearest if steps < 0 else nearest, unit, to=to, mark=mark, feet=feet)


def show_length_down(
    mm: float, unit: Unit, *, to: int = 16, mark: bool = False, feet: bool = False
) -> str:
    """Write a length as `show_length` does, but never longer than it is: to the next mark at or below it."""
    steps = math.floor(_steps(mm + float(_NOISE), unit, to))
    return _write(steps, unit, to=to, mark=mark, feet=feet)


def show_length_up(
    mm: float, unit: Unit, *, to: int = 16, mark: bool = False, feet: bool = False
) -> str:
    """Write a length as `show_length` does, but never shorter than it is: to the next mark at or above it."""
    steps = math.ceil(_steps(mm - float(_NOISE), unit, to))
    return _write(steps, unit, to=to, mark=mark, feet=feet)


def _steps(mm: float, unit: Unit, to: int) -> Fraction:
    if to not in (1, *TAPE):
        msg = f"a tape has no 1/{to} marks"
        raise ValueError(msg)
    return Fraction(mm) * 10 if unit == "mm" else Fraction(mm) / INCH * to


def _write(steps: int, unit: Unit, *, to: int, mark: bool, feet: bool) -> str:
    minus = "-" if steps < 0 else ""
    if unit == "mm":
        whole, tenth = divmod(abs(steps), 10)
        return f"{minus}{whole}" + (f".{tenth}" if tenth else "") + (" mm" if mark else "")
    inches = Fraction(abs(steps), to)
    if feet and inches >= 12:
        return f"{minus}{inches // 12}' {mixed(inches % 12)}\""
    return minus + mixed(inches) + ('"' if mark else "")
