"""Orders and signs that do not hang on rounding."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]
SURE = 1e-6
"""Figures apart by less than this share of the greatest of their kind are equal, and those under it nought: rounding,
or a rod moved by less than can be measured, makes such a difference, and must propose nothing."""
TINY = 1e-300


def steps(values: Floats) -> Floats:
    """Return figures in steps of a share of the greatest of their row: nought or equal but for rounding is so.

    Args:
        values: rows of figures of one kind (rows, any).
    """
    step = SURE * np.maximum(np.abs(values).max(axis=-1, initial=0.0, keepdims=True), TINY)
    return np.asarray(np.rint(values / step) * step)


def ranked(values: Floats) -> list[int]:
    """Return the order of figures, the greatest first; what is equal but for rounding stands in its own order.

    Args:
        values: of one kind (any,).
    """
    order: list[int] = np.argsort(-steps(values), kind="stable").tolist()
    return order


def unsurpassed(one: Floats, other: Floats) -> list[int]:
    """Return which of several pairs of figures no pair surpasses in both, of pairs alike the first; in their own order.

    Args:
        one: of every pair (pairs,).
        other: of the same pairs (pairs,).
    """
    kept: list[int] = []
    most = -np.inf
    for k in np.lexsort((-other, -one)).tolist():
        if other[k] > most:
            most = other[k]
            kept.append(k)
    return sorted(kept)


def greatest(values: Floats) -> Ints:
    """Return where each row of figures is greatest, the first of places that are equal but for rounding (rows,).

    Args:
        values: of one kind, none of them under nought (rows, places).
    """
    return np.asarray((values >= (1 - SURE) * values.max(axis=1, keepdims=True)).argmax(axis=1))
