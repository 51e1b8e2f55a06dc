"""The curve through exact runs: exact where the answer is of second degree, honest where it is not."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import qmc

from ledgewright.doubt.curve import fitted


def points(count: int, figures: int, seed: int) -> np.ndarray:
    return 2 * qmc.Sobol(figures, rng=np.random.default_rng(seed)).random(64)[:count] - 1


@pytest.mark.parametrize("seed", range(3))
def test_what_is_of_second_degree_is_found_to_rounding(seed: int) -> None:
    """Least squares with the right terms is exact (algebra); products between the two that matter most are kept."""
    x = points(48, 8, seed)
    y = np.column_stack([
        1 + 3 * x[:, 0] - 2 * x[:, 5] + 0.7 * x[:, 0] * x[:, 5] + 0.4 * x[:, 2] ** 2,
        2 - 4 * x[:, 0] + 3 * x[:, 5],
    ])  # fmt: skip
    made = fitted(x, y)
    fresh = points(64, 8, seed + 100)
    wanted = 1 + 3 * fresh[:, 0] - 2 * fresh[:, 5] + 0.7 * fresh[:, 0] * fresh[:, 5]
    assert made.at(fresh)[:, 0] == pytest.approx(wanted + 0.4 * fresh[:, 2] ** 2, abs=1e-9)
    assert made.left_out.max() < 1e-9


def test_what_it_says_it_is_off_by_is_each_run_left_out_in_turn() -> None:
    """Own route: the curve fitted anew without each run (Allen 1974 is only the short way to that)."""
    x = points(40, 5, 4)
    y = np.exp(x[:, :1] + 0.5 * x[:, 1:2] ** 3) * (1 + 0.3 * x[:, 2:3])
    made = fitted(x, y)
    rows = _design(x, made.terms)
    off = []
    for k in range(len(x)):
        keep = np.arange(len(x)) != k
        weights, *_ = np.linalg.lstsq(rows[keep], y[keep], rcond=None)
        off.append(y[k] - rows[k] @ weights)
    assert made.left_out == pytest.approx(np.sqrt((np.array(off) ** 2).mean(axis=0)), rel=1e-9)
    # And that is about what it is off by elsewhere.
    fresh = points(64, 5, 99)
    truth = np.exp(fresh[:, :1] + 0.5 * fresh[:, 1:2] ** 3) * (1 + 0.3 * fresh[:, 2:3])
    elsewhere = float(np.sqrt(((made.at(fresh) - truth) ** 2).mean()))
    assert 0.3 * elsewhere < made.left_out[0] < 3 * elsewhere


def test_too_few_runs_are_refused() -> None:
    with pytest.raises(ValueError, match="too few"):
        fitted(points(12, 8, 0), np.zeros((12, 1)))


def _design(x: np.ndarray, terms: tuple[tuple[int, ...], ...]) -> np.ndarray:
    """The terms by numpy's own Legendre polynomials."""
    second = np.polynomial.legendre.Legendre.basis(2)
    columns = [
        second(x[:, t[0]]) if len(t) == 2 and t[0] == t[1] else np.prod(x[:, list(t)], axis=1)
        for t in terms
    ]
    return np.column_stack(columns)
