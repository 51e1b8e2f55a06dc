"""Which figure to take again: the test of the whole, of each figure, and of figures that cannot be told apart."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

import numpy as np
from scipy import optimize, special

from ledgewright.survey.adjust import Adjusted, Array

ALPHA = 0.001
"""How often a figure that is right may be held for a slip."""
POWER = 0.80
"""How often a slip of the size that can be found is found."""
LEAST_FOR_TAU = 6
"""Fewer figures in surplus tell nothing of their own scatter: tau never exceeds sqrt(r) (our choice)."""
SAME = 0.99
"""Figures whose standardised residuals are correlated more than this cannot be told apart by any test."""


@cache
def limit(alpha: float = ALPHA) -> float:
    """Return the two-sided limit of a standardised residual, 3.29 at 0.001.

    Source: standard normal quantile; Baarda (1968).
    """
    return -float(special.ndtri(alpha / 2))


@cache
def least(alpha: float = ALPHA, power: float = POWER) -> float:
    """Return delta0: how many standard deviations of its own test a slip must be to be found, 4.13.

    Source: Baarda (1968); both tails, so that the power is what it is said to be.
    """
    at = limit(alpha)

    def missing(delta: float) -> float:
        return float(special.ndtr(delta - at) + special.ndtr(-delta - at)) - power

    return float(optimize.brentq(missing, 0.0, 40.0, xtol=1e-12))


@cache
def whole_limit(r: int, alpha: float = ALPHA) -> float:
    """Return the limit of the sum of squared residuals, chi-square of r.

    Source: global test of a net with trusted accuracies; Baarda (1968).

    Args:
        r: figures in surplus, at least 1.
        alpha: how often a net without a slip may be held for one with.
    """
    return float(special.chdtri(r, alpha))


@cache
def tau_limit(r: int, alpha: float = ALPHA) -> float:
    """Return the limit of tau, 2.845 at r = 14; no tau exceeds sqrt(r).

    Source: Pope (1976): sqrt(r) t / sqrt(r - 1 + t^2), t the quantile of Student with r - 1 degrees.

    Args:
        r: figures in surplus, at least 2.
        alpha: as for `limit`.
    """
    t = float(special.stdtrit(r - 1, 1 - alpha / 2))
    return math.sqrt(r) * t / math.sqrt(r - 1 + t * t)


@dataclass(frozen=True)
class ReadBack:
    """What the tests say of a net.

    total, limit: the sum of squared residuals and how much it may be. worst: the figure that fits worst, if any is
    checked. suspects: figures one of which must be wrong; if more than one it cannot be told which. several: no
    single figure explains it.
    """

    total: float
    limit: float
    worst: int | None
    suspects: tuple[int, ...]
    several: bool

    @property
    def sound(self) -> bool:
        """Whether nothing contradicts anything."""
        return not self.suspects


def snooped(net: Adjusted, *, trusted: bool = True) -> ReadBack:
    """Return which figures to take again.

    A net is suspect if it scatters too much as a whole, or one figure does. Then each checked figure is left out in
    thought: those without which all the rest agrees are the suspects. Where nobody knows how good the figures are,
    their own scatter is what each is held against, and there is no test of the whole.

    Source: Baarda (1968), data snooping; Pope (1976) where not trusted; residuals without a figure from the
    correlations, so that no net is adjusted anew: w_i without j = (w_i - rho w_j) / sqrt(1 - rho^2).

    Args:
        net: as adjusted.
        trusted: whether the accuracies are known. With fewer than `LEAST_FOR_TAU` figures in surplus they have to be.
    """
    trusted = trusted or net.r < LEAST_FOR_TAU
    if net.r < 1 or not net.checked.any():
        return ReadBack(net.total, math.inf, None, (), several=False)
    size = np.abs(net.w)
    worst, most = int(np.argmax(np.round(size, 6))), whole_limit(net.r) if trusted else math.inf
    if size[worst] <= _most(net.total, net.r, trusted=trusted) and net.total <= most:
        return ReadBack(net.total, most, worst, (), several=False)
    heals = [j for j in np.flatnonzero(net.checked) if _heals(net, int(j), trusted=trusted)]
    if heals:
        # Where all are equal but for rounding they stand in the order they were read.
        heals.sort(key=lambda j: (-round(float(size[j]), 2), j))
        return ReadBack(net.total, most, worst, tuple(int(j) for j in heals), several=False)
    near = np.flatnonzero(net.checked & (np.abs(net.alike[worst]) > SAME))
    return ReadBack(net.total, most, worst, tuple(int(j) for j in near), several=True)


def _most(total: float, r: int, *, trusted: bool) -> float:
    """How large a standardised residual may be: against what was known beforehand, or against the scatter found."""
    return limit() if trusted else tau_limit(r) * math.sqrt(total / r)


def _heals(net: Adjusted, j: int, *, trusted: bool) -> bool:
    """Whether all the rest agrees without figure j."""
    if net.r == 1:
        return True
    total = float(net.total - net.w[j] ** 2)
    if trusted and total > whole_limit(net.r - 1):
        return False
    apart = net.checked & (np.abs(net.alike[j]) <= SAME)
    rest: Array = (net.w - net.alike[j] * net.w[j])[apart]
    spread: Array = np.sqrt(1.0 - net.alike[j][apart] ** 2)
    most = _most(max(total, 0.0), net.r - 1, trusted=trusted)
    return bool(np.all(np.abs(rest) <= most * spread))
