"""One-way contact: forces that only press and gaps that never close past nothing, found together.

    o = h + M p + N q,   N^T p + g = 0,   one-way: o >= 0, p >= 0, o p = 0;   two-way: o = 0

p: forces of the contacts (N), positive pressing. o: what is open (mm). M: flexibility, symmetric positive
definite. q: how the body moves as a whole, N what that opens, g the work of the load on it. These are the
conditions of least potential energy, strictly convex in p: there is one answer or none.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import solve_triangular

from ledgewright.statics.mechanics.section.parts import Mechanism

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
RANK = 1e-9
"""A way to move as a whole that the contacts in touch resist less than this (against all contacts) is not resisted."""
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
    if N.shape[1] and _rank(N, N) < N.shape[1]:
        raise Mechanism(NOTHING)
    case = _Case(M, h, N, g, one_way)
    found = _quick(case, one_way | True if guess is None else guess | ~one_way) or _sure(case)
    in_touch = (found.force > TOUCH * np.abs(found.force).max(initial=0.0)) | ~one_way
    if N.shape[1] and _rank(N[in_touch], N) < N.shape[1]:
        raise Mechanism(LOOSE)
    _check(case, found)
    return found


def factor(M: Floats, on: Bools) -> Floats:
    """Return the Cholesky factor of the rows and columns in touch."""
    return np.asarray(np.linalg.cholesky(M[np.ix_(on, on)]), dtype=np.float64)


def forward(lower: Floats, right: Floats) -> Floats:
    """Return x of L x = right."""
    return np.asarray(solve_triangular(lower, right, lower=True, check_finite=False))


def backward(lower: Floats, right: Floats) -> Floats:
    """Return x of L^T x = right."""
    return np.asarray(solve_triangular(lower, right, lower=True, trans=1, check_finite=False))


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

    def _solve(self, on: Bools, right: Floats, under: Floats) -> tuple[Floats, Floats] | None:
        """Solve M p + N q = right, N^T p = under on the contacts in touch, by Cholesky of M and of N^T M^-1 N."""
        N, m = self.N[on], self.N.shape[1]
        if m and _rank(N, self.N) < m:
            return None
        if not on.any():
            return np.zeros(0), np.zeros(0)
        lower = factor(self.M, on)
        both = forward(lower, np.column_stack([right, N]))
        a, B = both[:, 0], both[:, 1:]
        whole = np.zeros(0)
        if m:
            whole = np.asarray(np.linalg.solve(B.T @ B, B.T @ a - under), dtype=np.float64)
        return backward(lower, a - B @ whole), whole


def _rank(rows: Floats, of: Floats) -> int:
    """Return in how many ways the rows hold the body, each way weighed by all contacts."""
    size = np.linalg.norm(of, axis=0)
    if not len(rows) or (size == 0).any():
        return 0
    values = np.linalg.svd(rows / size, compute_uv=False)
    return int((values > RANK).sum())


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
