"""A curve through exact runs that are dear, so that thousands of samples are cheap; and how far it is off.

Least squares in Legendre polynomials of the second degree: the regression form of polynomial chaos (Blatman and Sudret
2011, Journal of Computational Physics 230), its terms chosen one by one (Chen, Cowan, Grant 1991). Both from memory.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations_with_replacement

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

    All figures get a straight term; terms of second degree are taken one by one, that which leaves least over all
    answers first, as long as there are runs for them and the runs left out come nearer.

    Args:
        x: (runs, figures) between -1 and 1.
        y: (runs, answers).

    Raises:
        ValueError: if there are too few runs for straight terms.
    """
    runs, count = x.shape
    terms: Terms = ((), *((k,) for k in range(count)))
    if runs < SPARE * len(terms):
        msg = f"{runs} runs are too few for {len(terms)} terms"
        raise ValueError(msg)
    second: Terms = tuple(combinations_with_replacement(range(count), 2))
    size = np.maximum(y.std(axis=0), 1e-300)
    found = best = _solved(x, y, terms)
    while runs >= SPARE * (len(terms) + 1) and len(terms) < 1 + count + len(second):
        terms = (*terms, _next(x, (y - found.at(x)) / size, terms, second))
        found = _solved(x, y, terms)
        if (found.left_out / size).sum() < (best.left_out / size).sum():
            best = found
    return best


def _next(x: Floats, left: Floats, terms: Terms, second: Terms) -> tuple[int, ...]:
    """The term that takes most of what is left, beside those there are (orthogonal least squares)."""
    open_ = tuple(term for term in second if term not in terms)
    q, _ = np.linalg.qr(_rows(x, terms))
    fresh = _rows(x, open_)
    fresh = fresh - q @ (q.T @ fresh)
    gain = ((fresh.T @ left) ** 2).sum(axis=1) / np.maximum((fresh**2).sum(axis=0), 1e-12)
    return open_[int(np.argmax(gain))]


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
