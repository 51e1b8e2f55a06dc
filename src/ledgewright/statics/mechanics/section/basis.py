"""Shape functions on a unit length, and their products over equal parts of it.

HERMITE: value and slope at both ends, cubic (Bogner, Fox and Schmit 1965 in each direction). LINEAR: value at both.
"""

from __future__ import annotations

from functools import cache
from typing import Literal

import numpy as np

from ledgewright.statics.mechanics.section.sheet import Floats

Family = Literal["hermite", "linear"]
# Coefficients of 1, s, s^2, s^3: rows are end 0 value, end 0 slope, end 1 value, end 1 slope.
_HERMITE = np.array([[1, 0, -3, 2], [0, 1, -2, 1], [0, 0, 3, -2], [0, 0, -1, 1]], dtype=float)
_LINEAR = np.array([[1, -1], [0, 1]], dtype=float)
GAUSS = 4


def _derived(rows: Floats, times: int) -> Floats:
    for _ in range(times):
        rows = rows[:, 1:] * np.arange(1, rows.shape[1])
    return rows


def shapes(family: Family, at: Floats, derivative: int = 0) -> Floats:
    """Return the shape functions, or a derivative of them, at places on the unit length.

    at: (n,) in 0 to 1. Returns (functions, n).
    """
    rows = _derived(_HERMITE if family == "hermite" else _LINEAR, derivative)
    powers = np.asarray(at)[None, :] ** np.arange(max(rows.shape[1], 1))[:, None]
    return rows @ powers if rows.shape[1] else np.zeros((rows.shape[0], len(at)))


def running(family: Family, to: Floats) -> Floats:
    """Return the integrals of the shape functions from 0 to places on the unit length (functions, n)."""
    rows = _HERMITE if family == "hermite" else _LINEAR
    power = np.arange(1, rows.shape[1] + 1)
    return np.asarray((rows / power) @ np.asarray(to)[None, :] ** power[:, None])


def _points(parts: int) -> tuple[Floats, Floats]:
    """Gauss points of every part (parts * GAUSS,), and their weights."""
    x, w = np.polynomial.legendre.leggauss(GAUSS)
    left = np.arange(parts)[:, None] / parts
    return (left + (x + 1)[None, :] / (2 * parts)).ravel(), np.tile(w / (2 * parts), parts)


@cache
def products(
    parts: int, left: Family, left_derivative: int, right: Family, right_derivative: int
) -> Floats:
    """Return the integrals over each part of the products of two families' derivatives.

    Returns (parts, left functions, right functions), exact for these polynomials.
    """
    at, weight = _points(parts)
    a, b = shapes(left, at, left_derivative), shapes(right, at, right_derivative)
    both = (a[:, None, :] * b[None, :, :] * weight).reshape(len(a), len(b), parts, GAUSS)
    made = np.ascontiguousarray(both.sum(axis=3).transpose(2, 0, 1))
    made.setflags(write=False)
    return made


@cache
def integrals(parts: int, family: Family) -> Floats:
    """Return the integrals over each part of a family's functions (parts, functions)."""
    at, weight = _points(parts)
    a = (shapes(family, at) * weight).reshape(-1, parts, GAUSS).sum(axis=2).T
    made = np.ascontiguousarray(a)
    made.setflags(write=False)
    return made


def means(parts: int, family: Family, derivative: int = 0) -> Floats:
    """Return the mean of the shape functions, or a derivative of them, over each part (functions, parts)."""
    ends = np.arange(parts + 1) / parts
    values = shapes(family, ends, derivative - 1) if derivative else running(family, ends)
    return np.diff(values, axis=1) * parts
