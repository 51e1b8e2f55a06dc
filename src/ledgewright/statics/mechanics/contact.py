"""One-way contact: forces that only press and gaps that never close past nothing, found together.

    o = h + M p + N q,   N^T p + g = 0,   one-way: o >= 0, p >= 0, o p = 0;   two-way: o = 0

p: forces of the contacts (N), positive pressing. o: what is open (mm). M: flexibility, symmetric positive
definite. q: how the body moves as a whole, N what that opens, g the work of the load on it. These are the
conditions of least potential energy, strictly convex in p: there is one answer or none.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import lapack

from ledgewright.statics.mechanics.section.parts import Mechanism

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.intp]
RANK = 1e-9
"""A way to move as a whole that the contacts in touch resist less than this (against all contacts) is not resisted."""
SURE = 1e-9
"""Squares of what resists, from here on up: rounding cannot hide a way to move, and the dear look is spared."""
TOUCH = 1e-9
"""Forces and gaps under this share of the greatest count as none."""
QUICK = 30
"""Rounds of the quick search; the sure one takes over after that."""
NOT_FIRM = "the load lies outside what the rods can press against: the shelf would turn off them"
NOTHING = "no rod keeps the shelf from moving as a whole"
LOOSE = "the shelf can still move as a whole on the rods it rests on"


@dataclass(frozen=True)
class Touch:
    """Contact forces (N), what is open (mm), and how the body moves as a whole."""

    force: Floats
    gap: Floats
    whole: Floats


def touch(
    *, M: Floats, h: Floats, N: Floats, g: Floats, one_way: Bools, guess: Bools | None = None
) -> Touch:
    """Return forces and gaps of contacts between a body and what carries it.

    Conditions of Karush, Kuhn and Tucker, by a primal-dual active set (Hintermueller, Ito and Kunisch 2003) and, where
    that goes round in circles, by the dual method of Goldfarb and Idnani (1983), which always ends.

    Args:
        M: (n, n) flexibility, symmetric positive definite (mm/N).
        h: (n,) what is open without forces, load and clearance together (mm).
        N: (n, m) what each way of moving as a whole opens.
        g: (m,) work of the load on each way of moving as a whole.
        one_way: (n,) whether a contact only presses.
        guess: (n,) what may touch, to begin the search with; it changes its length only.

    Raises:
        Mechanism: if the contacts cannot carry the load, or leave the body a way to move as a whole.
        ArithmeticError: if the answer does not meet the conditions.
    """
    case = _Case(M, h, N, g, one_way)
    if not case.holds(np.ones(len(h), dtype=bool)):
        raise Mechanism(NOTHING)
    found = _quick(case, one_way | True if guess is None else guess | ~one_way) or _sure(case)
    in_touch = (found.force > TOUCH * np.abs(found.force).max(initial=0.0)) | ~one_way
    if not case.holds(in_touch):
        raise Mechanism(LOOSE)
    _check(case, found)
    return found


def solved(M: Floats, at: Ints, N: Floats, right: Floats) -> tuple[Floats, Floats]:
    """Return B of M B = N and x of M x = right, of some rows and columns of M.

    By Cholesky. at: which rows (k,). N: (k, m). right: (k,).

    Raises:
        ArithmeticError: if M is not positive definite there.
    """
    both = np.empty((len(at), N.shape[1] + 1), order="F")
    both[:, :-1], both[:, -1] = N, right
    # Symmetric, so its transpose is itself with the columns first, as the solver wants it.
    _, x, info = lapack.dposv(M[at[:, None], at].T, both, overwrite_a=1, overwrite_b=1)
    if info != 0:
        msg = "the flexibility of the contacts is not positive"
        raise ArithmeticError(msg)
    return x[:, :-1], x[:, -1]


@dataclass(frozen=True)
class _Case:
    M: Floats
    h: Floats
    N: Floats
    g: Floats
    one_way: Bools

    def held_to(self, on: Bools) -> Touch | None:
        """Return the answer if exactly these contacts touch; None if they do not hold the body."""
        solved = self._solve(on, -self.h[on], -self.g)
        if solved is None:
            return None
        force = np.zeros(len(self.h))
        force[on], whole = solved
        gap = self.h + self.M @ force + self.N @ whole
        gap[on] = 0.0
        return Touch(force, gap, whole)

    def step(self, on: Bools, at: int) -> tuple[Floats, Floats]:
        """Return how forces and gaps change per unit of gap forced open at one contact, only `on` contacts pressing."""
        unit = np.zeros(len(self.h))
        unit[at] = 1.0
        solved = self._solve(on, unit[on], np.zeros(len(self.g)))
        if solved is None:
            raise Mechanism(LOOSE)
        force = np.zeros(len(self.h))
        force[on], whole = solved
        gap = self.M @ force + self.N @ whole
        gap[on] = 0.0
        return force, gap

    @cached_property
    def ways(self) -> Floats | None:
        """What each way of moving as a whole opens, weighed by all contacts; None if one opens nothing."""
        size = np.sqrt(np.einsum("ij,ij->j", self.N, self.N))
        return None if (size == 0).any() else self.N / size

    def holds(self, on: Bools) -> bool:
        """Return whether these contacts, pressed together, leave the body no way to move as a whole."""
        m = self.N.shape[1]
        if not m:
            return True
        if self.ways is None:
            return False
        rows = self.ways[on]
        if len(rows) < m:
            return False
        squares = rows.T @ rows
        # The least square is at least the product of all over the greatest product of the others.
        others = (np.trace(squares) / max(m - 1, 1)) ** (m - 1)
        if np.linalg.det(squares) > SURE * others:
            return True
        values = np.linalg.svd(rows, compute_uv=False)
        return bool((values > RANK).sum() == m)

    def _solve(self, on: Bools, right: Floats, under: Floats) -> tuple[Floats, Floats] | None:
        """Solve M p + N q = right, N^T p = under on the contacts in touch, by Cholesky of M and of N^T M^-1 N."""
        at = np.flatnonzero(on)
        if len(at) < self.N.shape[1]:
            return None
        if not len(at):
            return np.zeros(0), np.zeros(0)
        N = self.N[at]
        B, a = solved(self.M, at, N, right)
        if not B.shape[1]:
            return a, np.zeros(0)
        lower, whole, info = lapack.dposv(N.T @ B, N.T @ a - under, lower=1)
        # The square of a pivot against its own diagonal, as in `levels`: what the contacts hardly hold is looked at.
        firm = info == 0 and (lower.diagonal() ** 2 > SURE * (N * B).sum(axis=0)).all()
        if not firm:
            if not self.holds(on):
                return None
            whole = np.linalg.solve(N.T @ B, N.T @ a - under)
        return a - B @ whole, np.asarray(whole, dtype=np.float64)


def _quick(case: _Case, on: Bools) -> Touch | None:
    """Return the answer, if guessing what touches from forces and gaps together settles."""
    seen: set[bytes] = set()
    for _ in range(QUICK):
        found = case.held_to(on)
        if found is None:
            return None
        then = np.where(on, found.force > 0, found.gap < 0) | ~case.one_way
        if (then == on).all():
            return found
        if then.tobytes() in seen:
            return None
        seen.add(then.tobytes())
        on = then
    return None


def _sure(case: _Case) -> Touch:
    """Return the answer by letting go of one pulling contact after another, never against one let go before."""
    on = np.ones(len(case.h), dtype=bool)
    for _ in range(50 * len(on)):
        found = case.held_to(on)
        if found is None:
            raise Mechanism(LOOSE)
        pulling = np.where(case.one_way & on, found.force, 0.0)
        at = int(np.argmin(pulling))
        if pulling[at] >= -TOUCH * np.abs(found.force).max(initial=0.0):
            return found
        on = _let_go(case, on, at, found)
    msg = "contact does not settle"
    raise ArithmeticError(msg)


def _let_go(case: _Case, on: Bools, at: int, found: Touch) -> Bools:
    """Return what touches once a pulling contact has been opened, others closing where their gap runs out."""
    force, gap = found.force, found.gap
    for _ in range(len(on) + 1):
        d_force, d_gap = case.step(on, at)
        moves = d_force[at] * case.M[at, at] > RANK
        full = -force[at] / d_force[at] if moves else np.inf
        closing = ~on & case.one_way & (d_gap < 0)
        reach = np.full(len(on), np.inf)
        reach[closing] = np.maximum(-gap[closing] / d_gap[closing], 0.0)
        first = int(np.argmin(reach))
        length = min(full, reach[first])
        if not np.isfinite(length):
            raise Mechanism(NOT_FIRM)
        on = on.copy()
        if full <= reach[first]:
            on[at] = False
            return on
        force, gap = force + length * d_force * moves, gap + length * d_gap
        on[first] = True
    msg = "contact does not settle"
    raise ArithmeticError(msg)


def _check(case: _Case, found: Touch) -> None:
    """Hold the answer to the conditions it was found for."""
    p, o = found.force, found.gap
    size, wide = (
        np.abs(p).max(initial=0.0),
        np.abs(case.h).max(initial=0.0) + np.abs(o).max(initial=0.0),
    )
    free = case.one_way
    unbalanced = np.abs(case.N.T @ p + case.g)
    allowed = TOUCH * (np.abs(case.N).T @ np.abs(p) + np.abs(case.g))
    sound = (
        (p[free] >= -TOUCH * size).all()
        and (o[free] >= -TOUCH * wide).all()
        and (np.abs(p * o) <= TOUCH * size * wide).all()
        and (unbalanced <= allowed).all()
    )
    if not sound:
        msg = "contact forces and gaps do not meet their conditions"
        raise ArithmeticError(msg)
