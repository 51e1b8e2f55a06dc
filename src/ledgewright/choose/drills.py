"""Bits that a shop can buy, and the hole that a bar asks for."""

from __future__ import annotations

from collections.abc import Sequence

from ledgewright.units import Unit

INCH = 25.4

_METRIC: Sequence[float] = (
    *range(6, 21),
    22,
    24,
    25,
    26,
    28,
    30,
    32,
    34,
    35,
    36,
    38,
    40,
)
RING = 3.175
"""Twice the ring of adhesive round a rod, as most labels ask: 1/8 in over the rod (mm; common practice)."""
LEAST_RING = 1.5
"""A bit that is less than this over the bar leaves no even film of adhesive (mm; common practice)."""


def sizes(unit: Unit) -> tuple[float, ...]:
    """Return the diameters of bits for wood that are kept in shops (mm), smallest first.

    Source: common practice. Spade and auger bits from 1/4 to 1 1/2 in by sixteenths; from 6 to 20 mm by whole
    millimetres, then 22, 24, 25, 26, 28, 30, 32, 34, 35, 36, 38 and 40.

    Args:
        unit: what the shop measures in.
    """
    if unit == "in":
        return tuple(INCH * k / 16 for k in range(4, 25))
    return tuple(float(size) for size in _METRIC)


def bit(least: float, unit: Unit) -> float | None:
    """Return the smallest bit of at least a diameter (mm); None if there is none so large.

    Args:
        least: diameter (mm).
        unit: what the shop measures in.
    """
    return next((size for size in sizes(unit) if size >= least - 1e-6), None)
