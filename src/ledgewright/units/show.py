"""Weights, forces, stresses and the rest written for people, in the units of their job."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Literal

from ledgewright.units.length import FOOT, INCH, Unit
from ledgewright.units.quantity import FLUID_OUNCE, GRAVITY, POUND

_POUND_FORCE = POUND * GRAVITY

Rounded = Literal["near", "up", "down"]
"""Which way a figure is rounded: what is asked of a thing up, what it can take down."""


def show_mass(kg: float, unit: Unit) -> str:
    """Write a mass (kg) in lb or kg."""
    return (
        f"{_figures(Fraction(kg) / POUND)} lb" if unit == "in" else f"{_figures(Fraction(kg))} kg"
    )


def show_force(N: float, unit: Unit, rounded: Rounded = "near") -> str:
    """Write a force (N) in lbf or N."""
    return (
        f"{_figures(Fraction(N) / _POUND_FORCE, rounded)} lbf"
        if unit == "in"
        else f"{_figures(Fraction(N), rounded)} N"
    )


def show_stress(MPa: float, unit: Unit, rounded: Rounded = "near") -> str:
    """Write a stress (MPa) in psi or MPa."""
    psi = Fraction(MPa) * INCH**2 / _POUND_FORCE
    return (
        f"{_figures(psi, rounded)} psi"
        if unit == "in"
        else f"{_figures(Fraction(MPa), rounded)} MPa"
    )


def show_moment(moment: float, unit: Unit, rounded: Rounded = "near") -> str:
    """Write a moment (N mm) in lbf in or N m."""
    inches = Fraction(moment) / INCH / _POUND_FORCE
    return (
        f"{_figures(inches, rounded)} lbf in"
        if unit == "in"
        else f"{_figures(Fraction(moment) / 1000, rounded)} N m"
    )


def show_per_length(load: float, unit: Unit) -> str:
    """Write a line load (N/mm) in lb/ft or kg/m, under standard gravity."""
    kilos = Fraction(load) * 1000 / GRAVITY
    return (
        f"{_figures(kilos * FOOT / 1000 / POUND)} lb/ft"
        if unit == "in"
        else f"{_figures(kilos)} kg/m"
    )


def show_pressure(MPa: float, unit: Unit) -> str:
    """Write an area load (MPa) in psf or kPa."""
    psf = Fraction(MPa) * FOOT**2 / _POUND_FORCE
    return f"{_figures(psf)} psf" if unit == "in" else f"{_figures(Fraction(MPa) * 1000)} kPa"


def show_area(area: float, unit: Unit) -> str:
    """Write an area (mm2) in ft2 or m2."""
    return (
        f"{_figures(Fraction(area) / FOOT**2)} ft2"
        if unit == "in"
        else f"{_figures(Fraction(area) / 10**6)} m2"
    )


def show_volume(ml: float, unit: Unit) -> str:
    """Write a volume (ml) in US fluid ounces or ml."""
    return (
        f"{_figures(Fraction(ml) / FLUID_OUNCE)} fl oz"
        if unit == "in"
        else f"{_figures(Fraction(ml))} ml"
    )


def show_temperature(C: float, unit: Unit) -> str:
    """Write a temperature (C) in F or C, to 0.1."""
    return (
        f"{_places(Fraction(C) * 9 / 5 + 32, 1)} F"
        if unit == "in"
        else f"{_places(Fraction(C), 1)} C"
    )


def show_angle(rad: float) -> str:
    """Write an angle (rad) in degrees, to 0.01."""
    return f"{_places(Fraction(math.degrees(rad)), 2)} deg"


def down_mass(kg: float, unit: Unit) -> tuple[int, str]:
    """Round a mass (kg) down to whole kg or lb, after conversion, for a load limit.

    Returns:
        The number and its unit. A value within 1e-9 below a whole number counts as that number, so that
        34 lb turned to kg and back stays 34 lb.
    """
    size = Fraction(kg) / POUND if unit == "in" else Fraction(kg)
    return math.floor(size + Fraction(1, 10**9)), "lb" if unit == "in" else "kg"


def show_weight(kg: float, unit: Unit) -> str:
    """Return a mass (kg) as it is weighed out: to the nearest half kilogram or whole pound."""
    if unit == "in":
        return f"{round(Fraction(kg) / POUND)} lb"
    return f"{round(kg * 2) / 2:g} kg"


def down_per_length(load: float, unit: Unit) -> tuple[int, str]:
    """Round a line load (N/mm) down to whole kg/m or lb/ft, after conversion, for a load limit.

    Returns:
        The number and its unit, under standard gravity. Whole numbers stay, as in `down_mass`.
    """
    size = Fraction(load) * 1000 / GRAVITY
    if unit == "in":
        size = size * FOOT / 1000 / POUND
    return math.floor(size + Fraction(1, 10**9)), "lb/ft" if unit == "in" else "kg/m"


def _figures(value: Fraction, rounded: Rounded = "near") -> str:
    """Three significant figures, or all the whole ones; at most six decimals."""
    if value == 0:
        return "0"
    before = math.floor(math.log10(abs(value))) + 1
    places = min(6, max(0, 3 - before))
    return _places(_turned(value, places, rounded), places)


def _turned(value: Fraction, places: int, rounded: Rounded) -> Fraction:
    """A figure at its last place up or down; what is within a billionth of it stands there already."""
    if rounded == "near":
        return value
    steps, noise = value * 10**places, abs(value) * 10**places / 10**9
    whole = math.ceil(steps - noise) if rounded == "up" else math.floor(steps + noise)
    return Fraction(whole, 10**places)


def _places(value: Fraction, places: int) -> str:
    text = f"{float(value):.{places}f}"
    text = text.rstrip("0").rstrip(".") if places else text
    return "0" if text == "-0" else text
