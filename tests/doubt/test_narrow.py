"""Doubtful figures narrowed by readings, held to closed forms and to least squares by another route."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import multivariate_normal, norm

from ledgewright.doubt import Believed, narrowed


def test_one_figure_read_once_is_the_mean_weighted_by_certainty() -> None:
    """Textbook: normal mean with known variance; precisions 1/4 and 1 add, the mean is drawn as they weigh."""
    found = narrowed(Believed.apart([10.0], [2.0]), [10.0], [[1.0]], [12.0], [1.0])
    assert found.after.middle == pytest.approx((10 + 2 * 4 / 5,))
    assert found.after.sd == pytest.approx(((4 / 5) ** 0.5,))
    # 2 off, with variance 4 + 1.
    assert found.square == pytest.approx(4 / 5)
    assert found.off == pytest.approx((2 / 5**0.5,))
    assert found.chance == pytest.approx(2 * norm.sf(2 / 5**0.5))


def test_many_readings_of_one_figure_are_their_mean() -> None:
    """With hardly any belief beforehand: the mean of the readings, known to sd over root n."""
    read = [3.1, 2.8, 3.3, 2.9]
    found = narrowed(Believed.apart([0.0], [1e4]), [0.0] * 4, [[1.0]] * 4, read, [0.2] * 4)
    assert found.after.middle == pytest.approx((np.mean(read),), rel=1e-6)
    assert found.after.sd == pytest.approx((0.1,), rel=1e-6)


@pytest.mark.parametrize("seed", range(8))
def test_it_is_least_squares_with_the_belief_as_more_readings(seed: int) -> None:
    """Own route: whitened rows of prior and readings in one least squares (numpy); density of the surprise by SciPy."""
    pick = np.random.default_rng(seed)
    k, n = 3, 7
    J, m = pick.normal(size=(n, k)), pick.normal(size=k)
    root = pick.normal(size=(k, k)) + 2 * np.eye(k)
    P, sd = root @ root.T, pick.uniform(0.2, 1.0, n)
    f, y = pick.normal(size=n), pick.normal(size=n)
    before = Believed(tuple(m), tuple(map(tuple, P.tolist())))
    found = narrowed(before, f.tolist(), J.tolist(), y.tolist(), sd.tolist())
    whiten = np.linalg.inv(np.linalg.cholesky(P))
    A = np.vstack([whiten, J / sd[:, None]])
    b = np.concatenate([whiten @ m, (y - f + J @ m) / sd])
    x = np.linalg.lstsq(A, b, rcond=None)[0]
    assert found.after.middle == pytest.approx(tuple(x), rel=1e-9, abs=1e-9)
    assert np.array(found.after.spread) == pytest.approx(np.linalg.inv(A.T @ A), rel=1e-7)
    S = J @ P @ J.T + np.diag(sd**2)
    density = multivariate_normal(f, S)
    square = -2 * density.logpdf(y) - n * np.log(2 * np.pi) - np.linalg.slogdet(S)[1]
    assert found.square == pytest.approx(square)
    # Each reading against what all the others lead to expect: conditional normal, reading by reading.
    for i in range(n):
        rest = [j for j in range(n) if j != i]
        gain = S[i, rest] @ np.linalg.inv(S[np.ix_(rest, rest)])
        left = S[i, i] - gain @ S[rest, i]
        expect = f[i] + gain @ (y[rest] - f[rest])
        assert found.off[i] == pytest.approx((y[i] - expect) / left**0.5)


def test_belief_in_a_figure_that_follows() -> None:
    at, sd = Believed.apart([0.5, 0.0], [0.25, 0.5]).of(3.0, [2.0, -1.0])
    assert (at, sd) == pytest.approx((3.0, (0.25 + 0.25) ** 0.5))


@pytest.mark.parametrize(
    ("read", "sd"), [([1.0], [0.0]), ([], []), ([1.0, 2.0], [0.1]), ([1.0, 2.0], [0.1, 0.1])]
)
def test_what_does_not_go_together_is_refused(read: list[float], sd: list[float]) -> None:
    with pytest.raises(ValueError, match="reading"):
        narrowed(Believed.apart([0.0], [1.0]), [0.0] * min(1, len(read)), [[1.0]], read, sd)
