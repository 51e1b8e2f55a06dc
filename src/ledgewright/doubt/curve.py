"""A curve through exact runs that are dear, so that thousands of samples are cheap; and how far it is off.

Least squares in Legendre polynomials of the second degree: the regression form of polynomial chaos (Blatman and Sudret
2011, Journal of Computational Physics 230, from memory). Only figures that matter most get products with one another.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Terms = tuple[tuple[int, ...], ...]
SPARE = 1.6
"""At least so many exact runs per term of the curve."""


@dataclass(frozen=True)
class Curve:
    """Answers as polynomials of figures between -1 and 1.

    terms: the figures each term multiplies; one named twice stands for its Legendre polynomial of second degree.
    weights: (terms, answers). left_out: how far each exact run lies from a curve through the others, root mean square
    of all (answers,).
    """

    terms: Terms
    weights: Floats
    left_out: Floats

    def at(self, x: Floats) -> Floats:
        """Return the answers (points, answers) at figures (points, figures)."""
        return np.asarray(_rows(x, self.terms) @ self.weights)


def fitted(x: Floats, y: Floats) -> Curve:
    """Return the curve through exact runs.

    All figures get a straight term and a bent one; products go to as many of those that matter most, over all answers,
    as there are runs for.

    Args:
        x: (runs, figures) between -1 and 1.
        y: (runs, answers).

    Raises:
        ValueError: if there are too few runs for straight and bent terms.
    """
    runs, count = x.shape
    plain: Terms = ((), *((k,) for k in range(count)), *((k, k) for k in range(count)))
    if runs < SPARE * len(plain):
        msg = f"{runs} runs are too few for {len(plain)} terms"
        raise ValueError(msg)
    first = _solved(x, y, plain)
    size = np.abs(first.weights[1 : count + 1]) / np.maximum(y.std(axis=0), 1e-300)
    order = np.argsort(-size.max(axis=1), kind="stable").tolist()
    room = int(runs / SPARE) - len(plain)
    products = tuple(sorted(tuple(sorted(pair)) for pair in _pairs(order, room)))
    whole = _solved(x, y, (*plain, *products))
    # Where products only follow noise, the plain curve is the better one.
    better = first.left_out.sum() < whole.left_out.sum()
    return first if better else whole


def _pairs(order: list[int], room: int) -> Iterator[tuple[int, int]]:
    """Products of the figures that matter most first."""
    ranks = sorted(combinations(range(len(order)), 2), key=lambda pair: (sum(pair), pair))
    yield from ((order[a], order[b]) for a, b in ranks[: max(room, 0)])


def _solved(x: Floats, y: Floats, terms: Terms) -> Curve:
    rows = _rows(x, terms)
    q, r = np.linalg.qr(rows)
    weights = np.linalg.solve(r, q.T @ y)
    # Each run left out in turn, by the hat matrix (Allen 1974, PRESS).
    off = (y - rows @ weights) / np.maximum(1 - (q**2).sum(axis=1), 1e-9)[:, None]
    return Curve(terms, weights, np.sqrt((off**2).mean(axis=0)))


def _rows(x: Floats, terms: Terms) -> Floats:
    bent = (3 * x**2 - 1) / 2
    made = np.ones((len(x), len(terms)))
    for column, term in enumerate(terms):
        if len(term) == 2 and term[0] == term[1]:
            made[:, column] = bent[:, term[0]]
        else:
            for k in term:
                made[:, column] *= x[:, k]
    return made
