"""Ranges of any answer over doubtful figures, and which of them drive it, by scrambled Sobol sequences.

Owen 1997 (scrambled nets); Saltelli et al. 2010, Computer Physics Communications 181, tables 2 and 3: first-order
shares by their formula (b), total ones by Jansen's (f). All from memory. The standard errors come from as many
sequences, scrambled apart.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from scipy.stats import qmc

Floats = NDArray[np.float64]
SEQUENCES, POINTS = 8, 256
"""2,048 samples: so many sequences scrambled apart, of so many points."""
SHARES = (0.05, 0.5, 0.95)
FLAT = 1e-12
"""An answer that varies by less than this share of itself does not vary."""


@dataclass(frozen=True)
class Figure:
    """A number from samples, and the standard error of it."""

    value: float
    error: float


@dataclass(frozen=True)
class Ranged:
    """One answer over the doubtful figures.

    p05, p50, p95: what 5, 50, 95 of 100 lie below. first, total: of each figure, the share of the variance it has
    by itself, and with all it meets. values: the samples, sorted.
    """

    p05: Figure
    p50: Figure
    p95: Figure
    first: tuple[Figure, ...]
    total: tuple[Figure, ...]
    values: Floats

    def below(self, limit: float) -> Figure:
        """Return the chance of at most `limit`; its error is that of as many random draws, so rather too great."""
        share = float(np.searchsorted(self.values, limit, side="right")) / len(self.values)
        return Figure(share, float(np.sqrt(share * (1 - share) / len(self.values))))


def ranged(
    of: Callable[[Floats], Floats],
    count: int,
    *,
    seed: int,
    sequences: int = SEQUENCES,
    points: int = POINTS,
) -> tuple[Ranged, ...]:
    """Return ranges and shares of some answers over the unit cube.

    Args:
        of: the answers (points, answers) at points of the unit cube (points, figures).
        count: of figures.
        seed: of the scrambling: the same seed gives the same digits.
        sequences: scrambled apart; at least 2.
        points: of each; a power of 2.

    Limits: the standard error is itself known from `sequences` runs only.
    """
    runs = [_run(of, count, np.random.default_rng([seed, k]), points) for k in range(sequences)]
    answers = runs[0].values.shape[1]
    return tuple(_ranged([run.of(k) for run in runs]) for k in range(answers))


@dataclass(frozen=True)
class _Run:
    """One sequence: values (points, answers); first, total (figures, answers) times the variance (answers,)."""

    values: Floats
    variance: Floats
    first: Floats
    total: Floats

    def of(self, answer: int) -> _Run:
        """One answer of it."""
        return _Run(
            self.values[:, answer],
            self.variance[answer],
            self.first[:, answer],
            self.total[:, answer],
        )


def sequence(count: int, pick: np.random.Generator) -> qmc.Sobol:
    """Return a scrambled sequence of points of the unit cube of so many dimensions."""
    # Half a second to import, which only those pay who ask how sure all is.
    from scipy.stats import qmc

    return qmc.Sobol(count, scramble=True, rng=pick)


def _run(
    of: Callable[[Floats], Floats], count: int, pick: np.random.Generator, points: int
) -> _Run:
    both = sequence(2 * count, pick).random(points)
    A, B = both[:, :count], both[:, count:]
    crossed = np.repeat(A[None], count, axis=0)
    for k in range(count):
        crossed[k, :, k] = B[:, k]
    found = of(np.vstack([A, B, crossed.reshape(-1, count)]))
    a, b = found[:points], found[points : 2 * points]
    ab = found[2 * points :].reshape(count, points, -1)
    # Shifted by the middle, which the products would drown in.
    middle = (a.mean(axis=0) + b.mean(axis=0)) / 2
    return _Run(
        a,
        (((a - middle) ** 2 + (b - middle) ** 2) / 2).mean(axis=0),
        ((b - middle) * (ab - a)).mean(axis=1),
        ((a - ab) ** 2).mean(axis=1) / 2,
    )


def _ranged(runs: Sequence[_Run]) -> Ranged:
    values = np.concatenate([run.values for run in runs])
    apart = np.array([np.quantile(run.values, SHARES) for run in runs])
    errors = _error(apart)
    p05, p50, p95 = (
        Figure(float(value), float(error))
        for value, error in zip(np.quantile(values, SHARES), errors, strict=True)
    )
    variance = np.array([float(run.variance) for run in runs])
    if variance.mean() <= (FLAT * float(np.abs(values).max(initial=0.0))) ** 2:
        none = (Figure(0.0, 0.0),) * len(runs[0].first)
        return Ranged(p05, p50, p95, none, none, np.sort(values))
    first, total = (
        _shares(np.array([getattr(run, name) for run in runs]), variance)
        for name in ("first", "total")
    )
    return Ranged(p05, p50, p95, first, total, np.sort(values))


def _shares(parts: Floats, variance: Floats) -> tuple[Figure, ...]:
    """Parts of the variance (runs, figures) over it; the error is that of a ratio of two means that go together."""
    shares = parts.mean(axis=0) / variance.mean()
    errors = _error((parts - shares * variance[:, None]) / variance.mean())
    return tuple(Figure(float(s), float(e)) for s, e in zip(shares, errors, strict=True))


def _error(apart: Floats) -> Floats:
    """Standard error of the mean of several runs, for every column."""
    return np.asarray(apart.std(axis=0, ddof=1) / np.sqrt(len(apart)))
