"""Least squares: the figures that fit together best, how sure each is, and what each could hide.

Source: Gauss-Markov model; reliability after Baarda (1968), tau after Pope (1976).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Slopes = tuple[tuple[int, float], ...]

MOST_STEPS = 60
SMALLEST_STEP = 1e-6
"""The last step moves nothing by more than this many standard deviations; what is left after it is far less,"""
NO_SMALLER = 1e-4
"""or less than this and no longer shrink: what is left is the arithmetic's own grain."""
RANK = 1e-8
"""Singular values below this share of the largest, after scaling, are a freedom that no figure holds."""
CHECKED = 1e-6
"""Figures of which less than this share is checked by the others are not checked at all."""


class Equation(Protocol):
    """One figure: what it should be at some unknowns less what was read, and how that changes with them."""

    @property
    def sd(self) -> float:
        """Standard deviation of the figure."""
        ...

    def misfit(self, x: Array) -> tuple[float, Slopes]:
        """Return predicted less read, and its slopes as (index of unknown, slope)."""
        ...


@dataclass(frozen=True, eq=False)
class Adjusted:
    """A net that came together. n unknowns of which some are held, m figures.

    x: (n,) adjusted unknowns. cofactor: (n, n) covariance of the unknowns, zero where held. v: (m,) adjusted less
    read. basis: (m, rank) orthonormal columns that span what the unknowns can take up, in standard deviations.
    sd: (m,). slopes: (m, n).
    """

    x: Array
    cofactor: Array
    v: Array
    sd: Array
    basis: Array
    slopes: Array

    @cached_property
    def share(self) -> Array:
        """(m,) redundancy numbers, 0 to 1: how much of a slip in each figure the others show. They add up to `r`."""
        taken: Array = np.einsum("ij,ij->i", self.basis, self.basis)
        return np.clip(1.0 - taken, 0.0, 1.0)

    @property
    def r(self) -> int:
        """How many figures there are more than needed."""
        return int(self.basis.shape[0] - self.basis.shape[1])

    @property
    def total(self) -> float:
        """The sum of squared residuals in standard deviations; chi-square of `r` where nothing is wrong."""
        return float(np.sum((self.v / self.sd) ** 2))

    @property
    def s0(self) -> float:
        """How far the figures scatter against what was expected: 1 if just so; 0 where nothing is in surplus."""
        return math.sqrt(self.total / self.r) if self.r else 0.0

    @cached_property
    def checked(self) -> NDArray[np.bool_]:
        """(m,) which figures the others check at all."""
        return self.share > CHECKED

    @cached_property
    def w(self) -> Array:
        """(m,) standardised residuals v / (sd sqrt(share)), Baarda (1968); 0 where nothing checks the figure."""
        safe = np.sqrt(np.where(self.checked, self.share, 1.0))
        return np.where(self.checked, self.v / (self.sd * safe), 0.0)

    @property
    def tau(self) -> Array:
        """(m,) the same against the scatter found, Pope (1976): for figures whose accuracy nobody knows."""
        return self.w / self.s0 if self.s0 else np.zeros_like(self.w)

    @cached_property
    def alike(self) -> Array:
        """(m, m) correlation of the standardised residuals: near 1 or -1 two figures cannot be told apart."""
        safe = np.sqrt(np.where(self.checked, self.share, 1.0))
        left = np.eye(len(self.v)) - self.basis @ self.basis.T
        return np.asarray(left / np.outer(safe, safe))

    @property
    def slip(self) -> Array:
        """(m,) by how much each figure reads too much, if it alone is wrong: -v / share; 0 where nothing checks it."""
        too_much = -self.v / np.where(self.checked, self.share, 1.0)
        return np.asarray(np.where(self.checked, too_much, 0.0))

    def findable(self, least: float) -> Array:
        """Return (m,) the smallest slip of each figure that would be found; infinite where nothing checks it.

        Source: Baarda (1968), internal reliability: delta0 sd / sqrt(share).

        Args:
            least: delta0, the distance of the test at its power (4.13 at 0.001 and 80 %).
        """
        safe = np.sqrt(np.where(self.checked, self.share, 1.0))
        return np.asarray(np.where(self.checked, least * self.sd / safe, np.inf))

    def moved(self, figure: int, slip: float) -> Array:
        """Return (n,) how the unknowns move if one figure is read too long by `slip` and nobody notices.

        Source: Baarda (1968), external reliability: Q A' P e.

        Args:
            figure: its number.
            slip: in its own unit.
        """
        return np.asarray(self.cofactor @ self.slopes[figure] * (slip / self.sd[figure] ** 2))

    def doubt(self, slopes: Array) -> float:
        """Return the standard deviation of a function of the unknowns.

        Args:
            slopes: (n,) its derivatives.
        """
        return math.sqrt(max(float(slopes @ self.cofactor @ slopes), 0.0))


@dataclass(frozen=True, eq=False)
class Loose:
    """A net that hangs on too few figures. free: (n, k) the ways in which it may still move, each of length 1."""

    free: Array


@dataclass(frozen=True)
class Stuck:
    """Figures so far apart that no room comes near them all."""


def adjust(
    equations: Sequence[Equation], start: Sequence[float], held: frozenset[int] = frozenset()
) -> Adjusted | Loose | Stuck:
    """Return the unknowns that fit all figures best.

    Source: Gauss-Newton on the weighted figures, each step by singular values of the scaled slopes, so that a
    freedom nobody measured shows instead of being filled in.

    Args:
        equations: the figures.
        start: (n,) unknowns near the truth.
        held: indices of unknowns that are given.

    Returns:
        The adjusted net; or what it may still do where figures are too few; or that it does not come together.

    Limits: dense; for some hundred unknowns.
    """
    x = np.array(start, dtype=float)
    free = np.array([k for k in range(len(x)) if k not in held], dtype=int)
    sd = np.array([each.sd for each in equations], dtype=float)
    last = math.inf
    for _ in range(MOST_STEPS):
        misfit, slopes = _lined_up(equations, x)
        A = slopes[:, free] / sd[:, None]
        scale = np.linalg.norm(A, axis=0)
        scale[scale == 0.0] = 1.0
        U, S, Vt = np.linalg.svd(A / scale, full_matrices=False)
        if len(S) < len(free) or (len(S) and S[-1] < RANK * S[0]):
            return _loose(A / scale, scale, free, len(x))
        step = -(Vt.T / S) @ (U.T @ (misfit / sd)) / scale
        x[free] += step
        if not np.isfinite(step).all():
            return Stuck()
        far = float(np.max(np.abs(step * scale), initial=0.0))
        if far < SMALLEST_STEP or last / 2 < far < NO_SMALLER:
            return _whole(equations, x, free, sd, (U, Vt.T / S / scale[:, None]), slopes)
        last = far
    return Stuck()


def _lined_up(equations: Sequence[Equation], x: Array) -> tuple[Array, Array]:
    misfit, slopes = np.zeros(len(equations)), np.zeros((len(equations), len(x)))
    for i, each in enumerate(equations):
        misfit[i], row = each.misfit(x)
        for k, slope in row:
            slopes[i, k] += slope
    return misfit, slopes


def _whole(
    equations: Sequence[Equation],
    x: Array,
    free: NDArray[np.int_],
    sd: Array,
    parts: tuple[Array, Array],
    slopes: Array,
) -> Adjusted:
    basis, root = parts
    cofactor = np.zeros((len(x), len(x)))
    cofactor[np.ix_(free, free)] = root @ root.T
    v, _ = _lined_up(equations, x)
    held = np.zeros_like(slopes)
    held[:, free] = slopes[:, free]
    return Adjusted(x, cofactor, v, sd, basis, held)


def _loose(A: Array, scale: Array, free: NDArray[np.int_], n: int) -> Loose:
    _, S, Vt = np.linalg.svd(A, full_matrices=True)
    rank = int(np.sum(RANK * S[0] <= S)) if len(S) else 0
    ways = np.zeros((n, len(free) - rank))
    ways[free] = (Vt[rank:] / scale).T
    return Loose(ways / np.linalg.norm(ways, axis=0))
