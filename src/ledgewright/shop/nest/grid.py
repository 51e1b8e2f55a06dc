"""Lengths as whole thousandths of a millimetre, and the places where a cut can be worth making."""

from __future__ import annotations

import math
from collections.abc import Sequence

GRID = 1000
"""Steps to a millimetre."""
NOISE = 1e-4
"""A length this near to a step counts as on it (in steps): decimal fractions are not exact in binary."""


def up(length: float) -> int:
    """Return a length that must be had, in steps, never short.

    Args:
        length: in mm.
    """
    return math.ceil(length * GRID - NOISE)


def down(length: float) -> int:
    """Return a length that is there, in steps, never long.

    Args:
        length: in mm.
    """
    return math.floor(length * GRID + NOISE)


def mm(steps: int) -> float:
    """Return steps as mm.

    Args:
        steps: of the grid.
    """
    return steps / GRID


def sums(
    sizes: Sequence[tuple[int, int | None]], limit: int, *, most: int | None = None
) -> list[int]:
    """Return every length up to a limit that pieces laid end to end can make, 0 first.

    Source: normal patterns of Herz (1972) and Christofides and Whitlock (1977).

    Args:
        sizes: (length, how many or None) of each piece, in steps.
        limit: in steps.
        most: how many are enough: with more, the list is not whole, but its last is no larger than a true sum.
    """
    made = {0}
    for size, count in sizes:
        if size <= 0 or size > limit:
            continue
        if most is not None and len(made) > most:
            break
        times = limit // size if count is None else min(count, limit // size)
        front = made
        for _ in range(times):
            front = {s + size for s in front if s + size <= limit} - made
            if not front:
                break
            made = made | front
    return sorted(made)
