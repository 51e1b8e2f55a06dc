"""Doubtful figures narrowed by readings: the linear-Gaussian case of Bayes, and the test whether both fit.

Gelman et al., Bayesian Data Analysis, 3rd ed., 14.8 and 3.5 (from memory): with readings y = f + J (x - m) + e, prior
x ~ N(m, P) and errors e ~ N(0, R), the posterior is normal with precision P^-1 + J' R^-1 J. The innovation y - f has
covariance S = J P J' + R; its Mahalanobis square is chi-square with as many degrees as readings if all is as supposed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import chdtrc

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Believed:
    """What is believed of some figures: their middles and standard deviations, and how they hang together."""

    middle: tuple[float, ...]
    spread: tuple[tuple[float, ...], ...]

    @property
    def sd(self) -> tuple[float, ...]:
        """Standard deviation of each figure."""
        return tuple(float(s) for s in np.sqrt(np.diag(np.array(self.spread))))

    @classmethod
    def apart(cls, middle: Sequence[float], sd: Sequence[float]) -> Believed:
        """Return figures that do not hang together, by their middles and standard deviations."""
        return cls(tuple(middle), tuple(map(tuple, np.diag(np.square(sd)).tolist())))

    def of(self, at: float, slope: Sequence[float]) -> tuple[float, float]:
        """Return middle and standard deviation of a figure that is `at` at the middles and changes by `slope`.

        Args:
            at: its value at the middles.
            slope: its change per unit of each figure.
        """
        g = np.array(slope)
        return at, float(np.sqrt(max(0.0, g @ np.array(self.spread) @ g)))


@dataclass(frozen=True)
class Narrowed:
    """What is believed after readings, and how well they fit what was believed before.

    square: Mahalanobis square of what was not expected; chance: of one as large or larger if all is as supposed. off:
    of each reading, how many standard deviations it lies above what all the others lead to expect.
    """

    after: Believed
    square: float
    chance: float
    off: tuple[float, ...]


def narrowed(
    before: Believed,
    expected: Sequence[float],
    slopes: Sequence[Sequence[float]],
    read: Sequence[float],
    sd: Sequence[float],
) -> Narrowed:
    """Return what readings make of doubtful figures.

    Args:
        before: what was believed of k figures.
        expected: the n readings expected at the middles.
        slopes: (n, k) change of each reading per unit of each figure.
        read: the n readings.
        sd: standard deviation of the error of each, independent.

    Raises:
        ValueError: if the numbers do not go together, or an error has no size.

    Limits: as linear over the range as the slopes say.
    """
    f, J, y = np.array(expected), np.array(slopes, dtype=np.float64), np.array(read)
    m, P, R = np.array(before.middle), np.array(before.spread), np.diag(np.square(sd))
    if J.shape != (len(f), len(m)) or len(y) != len(f) or len(sd) != len(f):
        msg = f"{len(y)} readings, {len(f)} expected, slopes {J.shape}, {len(m)} figures"
        raise ValueError(msg)
    if not len(f) or min(sd) <= 0:
        msg = "there must be readings, each with an error of some size"
        raise ValueError(msg)
    S = J @ P @ J.T + R
    gain = np.linalg.solve(S, J @ P).T
    surprise = y - f
    keep = np.eye(len(m)) - gain @ J
    # Joseph's form: stays symmetric and positive whatever the rounding.
    spread = keep @ P @ keep.T + gain @ R @ gain.T
    square = float(surprise @ np.linalg.solve(S, surprise))
    middle = m + gain @ surprise
    return Narrowed(
        Believed(tuple(map(float, middle)), tuple(tuple(map(float, row)) for row in spread)),
        square,
        float(chdtrc(len(f), square)),
        _off(S, surprise),
    )


def _off(S: Floats, surprise: Floats) -> tuple[float, ...]:
    """How far each reading lies from what the others lead to expect, in standard deviations of that."""
    inverse = np.linalg.inv(S)
    return tuple(float(x) for x in (inverse @ surprise) / np.sqrt(np.diag(inverse)))
