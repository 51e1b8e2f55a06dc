"""One-way contact: forces that only press and gaps that never close past nothing, found together.

    o = h + M p + N q,   N^T p + g = 0,   one-way: o >= 0, p >= 0, o p = 0;   two-way: o = 0

p: forces of the contacts (N), positive pressing. o: what is open (mm). M: flexibility, symmetric positive
definite. q: how the body moves as a whole, N what that opens, g the work of the load on it. These are the
conditions of least potential energy, strictly convex in p: there is one answer or none.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import cache, cached_property

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
PATIENCE, LONG = 3, 100
"""Of one load by itself: rounds that may get no better before guesses change one by one, and rounds in all."""
SOME, BRIEF = 40, 6
"""Of very many loads so many are begun together, and left for last after so many rounds."""
TOGETHER = 16
"""So many cases, much the same number of contacts apart from the table's, are solved at once."""
TABLES, FAR = 8, 40
"""So many tables of one body are kept at most, and each so many contacts apart from the others: more cost more to make
than they save."""
KEPT = 1024
"""So many loads are looked through for the most similar one."""
TINY = 1e-300
NOT_FIRM = "the load lies outside what the rods can press against: the shelf would turn off them"
NOTHING = "no rod keeps the shelf from moving as a whole"
NOT_POSITIVE = "the flexibility of the contacts is not positive"
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
        raise ArithmeticError(NOT_POSITIVE)
    return x[:, :-1], x[:, -1]


@dataclass(frozen=True)
class Table:
    """Contacts of one body with some of them taken as touching: any others differ from it by few equations.

    Principal pivoting (Cottle, Pang, Stone, The Linear Complementarity Problem, 2.3): with the forces of `on` and how
    the body moves solved for, y = T z + t, where z are the gaps of `on` and the forces of the others, y the forces of
    `on`, the gaps of the others and how the body moves. Which contacts touch under a case is then told by those whose
    y is nothing instead of their z. It is only quick: every answer is held to the conditions by M itself.

    M, N, one_way: as for `touch`. pivot: (n, n + m) T transposed. loads: (n + m, n + m) t per h and g, transposed.
    """

    M: Floats
    N: Floats
    one_way: Bools
    on: Bools
    pivot: Floats
    loads: Floats

    def held_to(self, h: Floats, g: Floats, on: Bools) -> tuple[Floats, Floats]:
        """Return forces (cases, n) and moves (cases, m) if exactly these contacts touch.

        Cases whose contacts do not hold the body get figures that are not numbers. Arguments as of `touch`.
        """
        either, whole = self._round(np.hstack([h, g]) @ self.loads, on)
        return np.where(on, either, 0.0), whole

    @cached_property
    def square(self) -> Floats:
        """What of `pivot` is gap or force per gap or force (n, n)."""
        return np.ascontiguousarray(self.pivot[:, : len(self.M)])

    def about(self, on: Bools) -> Table:
        """Return the same contacts with others taken as touching, by pivoting on those that differ.

        Raises:
            numpy.linalg.LinAlgError: if these do not hold the body.
        """
        on = on | ~self.one_way
        at = np.flatnonzero(on != self.on)
        back = np.linalg.inv(self.pivot[np.ix_(at, at)])
        rows = back @ self.pivot[at]
        pivot, loads = (each - each[:, at] @ rows for each in (self.pivot, self.loads))
        pivot[:, at], loads[:, at] = -self.pivot[:, at] @ back, -self.loads[:, at] @ back
        pivot[at] = rows
        pivot[np.ix_(at, at)] = back
        return replace(self, on=on, pivot=pivot, loads=loads)

    def _round(self, start: Floats, on: Bools) -> tuple[Floats, Floats]:
        """Return forces of what touches and gaps of the rest (cases, n), and moves, of what touches in each case."""
        n = len(self.M)
        off, z = on != self.on, np.zeros((len(on), n))
        many = off.sum(axis=1)
        order = np.argsort(many, kind="stable")
        for k in range(0, len(order), TOGETHER):
            some = order[k : k + TOGETHER]
            if many[some[-1]]:
                z[some] = _changed_all(self.square, start[some], off[some], many[some])
        y = start + z @ self.pivot
        whole = y[:, n:].copy()
        # Where a case differs from the table y is nothing and z is what was found; elsewhere z is nothing.
        either = y[:, :n]
        either[off] = 0.0
        either += z
        return either, whole


def _changed_all(pivot: Floats, start: Floats, off: Bools, many: Ints) -> Floats:
    """Return z of cases: what makes y nothing where a case differs from the table (cases, n); many: how many there."""
    most = int(many[-1])
    case, at = np.nonzero(off)
    place = np.arange(len(at)) - np.repeat(np.cumsum(many) - many, many)
    index = np.zeros((len(off), most), dtype=np.intp)
    index[case, place] = at
    there = np.arange(most) < many[:, None]
    square = pivot.take(index[:, None, :] * len(pivot) + index[:, :, None])
    square *= there[:, :, None] & there[:, None, :]
    square[:, np.arange(most), np.arange(most)] += ~there
    right = np.where(there, -np.take_along_axis(start, index, axis=1), 0.0)
    z = np.zeros(off.shape)
    try:
        found = np.linalg.solve(square, right[:, :, None])[:, :, 0]
    except np.linalg.LinAlgError:
        found = np.full_like(right, np.nan)
    z[case, at] = np.where(np.isfinite(found), found, np.nan)[case, place]
    return z


class Tables:
    """Tables of one body for loads of many kinds, and what touched under those that it was asked for.

    A search for what touches begins at what touches under the most similar load before it, and goes on in the table
    that is nearest to that. What it was asked before changes the time only: every answer is held to the conditions.

    first: the table that loads are compared in. far: more contacts apart from all tables make a new one.
    """

    def __init__(self, first: Table, far: int = FAR) -> None:
        self.first, self._far = first, far
        n = len(first.M)
        self._n = n
        self._made: list[Table] = []
        self._on = np.zeros((0, n), dtype=bool)
        self._scale: Floats | None = None
        self._begun, self._touched = np.zeros((0, n)), np.zeros((0, n), dtype=bool)
        self._add(first)

    def touch(
        self, h: Floats, g: Floats, guess: Sequence[Bools | None] = ()
    ) -> list[Touch | Mechanism]:
        """Return forces and gaps under several loads, each as `touch` gives it, or why it is not carried.

        Args:
            h: (cases, n) what is open without forces (mm).
            g: (cases, m) work of the load on each way of moving as a whole.
            guess: of each load what may touch, to begin with, if that is known; none at all: of no load it is.

        Raises:
            ArithmeticError: if an answer does not meet the conditions.
        """
        found = self.settled(h, g, guess)
        return [found.get(k) or self._alone(h[k], g[k]) for k in range(len(h))]

    def settled(self, h: Floats, g: Floats, guess: Sequence[Bools | None] = ()) -> dict[int, Touch]:
        """Return what `touch` gives for those loads in which the quick search settles, by their numbers."""
        found = self._begun_alike(h, g, guess, QUICK)
        again = np.array([k for k in range(len(h)) if k not in found], dtype=np.intp)
        if len(again):
            usual = np.tile(self.first.on, (len(again), 1))
            more = self._settled(h[again], g[again], usual)
            found |= {int(again[k]): each for k, each in more}
        return found

    def settled_all(
        self, h: Floats, g: Floats, guess: Sequence[Bools | None] = ()
    ) -> dict[int, Touch]:
        """Return what `settled` gives for very many loads, those that are alike side by side."""
        found: dict[int, Touch] = {}
        for k in range(0, len(h), SOME):
            some = self._begun_alike(h[k : k + SOME], g[k : k + SOME], guess[k : k + SOME], BRIEF)
            found |= {k + at: each for at, each in some.items()}
        # What takes long is left for last: by then more is known of what is alike.
        left = np.array([k for k in range(len(h)) if k not in found], dtype=np.intp)
        if len(left):
            found |= {int(left[k]): each for k, each in self.settled(h[left], g[left]).items()}
        return found

    def _begun_alike(
        self, h: Floats, g: Floats, guess: Sequence[Bools | None], rounds: int
    ) -> dict[int, Touch]:
        """What settles in so many rounds from what touched under the most similar loads; it is noted."""
        begun = self._compared(h, g)
        start = self._like(begun)
        for k, each in enumerate(guess):
            start[k] = start[k] if each is None else each | ~self.first.one_way
        found = dict(self._settled(h, g, start, rounds))
        self._learn(begun, found)
        return found

    def seen(self, h: Floats, g: Floats, on: Bools) -> None:
        """Take note of what touches (cases, n) under loads that were solved elsewhere; h, g as for `touch`."""
        self._note(self._compared(h, g), on)

    def _add(self, made: Table) -> None:
        self._made.append(made)
        self._on = np.array([each.on for each in self._made])

    def _compared(self, h: Floats, g: Floats) -> Floats:
        """What loads come to if just the contacts of the first table touch, forces and gaps on one scale."""
        made = (np.hstack([h, g]) @ self.first.loads)[:, : self._n]
        if self._scale is None and len(h):
            size = np.abs(made).max(axis=0)
            on = self.first.on
            greatest = [max(float(size[k].max(initial=0.0)), TINY) for k in (on, ~on)]
            self._scale = 1 / np.where(on, *greatest)
        return made if self._scale is None else made * self._scale

    def _like(self, begun: Floats) -> Bools:
        """What touches under the load before it that is most like each one."""
        if not len(self._begun):
            return np.tile(self.first.on, (len(begun), 1))
        apart = (self._begun**2).sum(axis=1) - 2 * begun @ self._begun.T
        return np.asarray(self._touched[apart.argmin(axis=1)])

    def _nearest(self, on: Bools) -> Ints:
        """The table from which the fewest contacts differ."""
        apart = [(on != each).sum(axis=1) for each in self._on]
        return np.asarray(np.argmin(apart, axis=0), dtype=np.intp)

    def _learn(self, begun: Floats, found: Mapping[int, Touch]) -> None:
        """Take note of what touches; what lies far from every table gets its own, as long as there are few."""
        at = sorted(found)
        if not at:
            return
        on = np.array([found[k].force > 0 for k in at]) | ~self.first.one_way
        self._note(begun[at], on)
        for each in on:
            if len(self._made) == TABLES:
                return
            apart = (self._on != each).sum(axis=1)
            if apart.min() > self._far:
                with suppress(np.linalg.LinAlgError):
                    self._add(self._made[int(apart.argmin())].about(each))

    def _note(self, begun: Floats, on: Bools) -> None:
        self._begun = np.vstack([self._begun, begun])[-KEPT:]
        self._touched = np.vstack([self._touched, on])[-KEPT:]

    @cached_property
    def _case(self) -> _Case:
        n, m = self.first.N.shape
        return _Case(self.first.M, np.zeros(n), self.first.N, np.zeros(m), self.first.one_way)

    def _alone(self, h: Floats, g: Floats) -> Touch | Mechanism:
        of = self.first
        try:
            return touch(M=of.M, h=h, N=of.N, g=g, one_way=of.one_way, guess=of.on)
        except Mechanism as lost:
            return lost

    def _start(self, h: Floats, g: Floats, which: Ints) -> Floats:
        """What loads come to in one table each."""
        both = np.hstack([h, g])
        made = np.empty_like(both)
        for k in np.unique(which).tolist():
            made[which == k] = both[which == k] @ self._made[k].loads
        return made

    def _settled(
        self, h: Floats, g: Floats, on: Bools, rounds: int = QUICK
    ) -> Iterator[tuple[int, Touch]]:
        """The cases in which guessing what touches from forces and gaps together settles, and is sound."""
        which, one_way = self._nearest(on), self.first.one_way
        start = self._start(h, g, which)
        left, seen = np.arange(len(h)), np.zeros((rounds + 1, len(h)))
        seen[0] = _keys(on)
        for tries in range(1, rounds + 1):
            either, whole = self._round(start[left], which[left], on)
            then = ((either > 0) & on) | ((either < 0) & ~on) | ~one_way
            same = (then == on).all(axis=1)
            if same.any():
                at = left[same]
                force = np.where(on[same], either[same], 0.0)
                yield from self._sound(at, h[at], g[at], force, whole[same])
            keys = _keys(then)
            fresh = ~(seen[:tries, left] == keys).any(axis=0)
            left, on = left[fresh], then[fresh]
            seen[tries, left] = keys[fresh]
            if not len(left):
                return

    def _sound(
        self, at: Ints, h: Floats, g: Floats, force: Floats, whole: Floats
    ) -> Iterator[tuple[int, Touch]]:
        """Those of some answers that meet the conditions, and whose contacts hold the body."""
        N, one_way = self.first.N, self.first.one_way
        gap = h + force @ self.first.M + whole @ N.T
        size = np.abs(force).max(axis=1, initial=0.0)[:, None]
        in_touch = (force > TOUCH * size) | ~one_way
        good = _sound(N, g, one_way, force, gap, h) & self._hold(in_touch)
        gap[(force > 0) | ~one_way] = 0.0
        for k in np.flatnonzero(good).tolist():
            yield int(at[k]), Touch(force[k], gap[k], whole[k])

    def _hold(self, on: Bools) -> Bools:
        """Whether contacts leave the body no way to move as a whole: for sure, or on a second look."""
        m, ways = self.first.N.shape[1], self._case.ways
        if ways is None or not m:
            return np.full(len(on), not m)
        pairs = (ways[:, :, None] * ways[:, None, :]).reshape(len(ways), -1)
        squares = (on @ pairs).reshape(-1, m, m)
        others = (np.trace(squares, axis1=1, axis2=2) / max(m - 1, 1)) ** (m - 1)
        sure = np.linalg.det(squares) > SURE * others
        for k in np.flatnonzero(~sure).tolist():
            sure[k] = self._case.holds(on[k])
        return np.asarray(sure)

    def _round(self, start: Floats, which: Ints, on: Bools) -> tuple[Floats, Floats]:
        """Return forces of what touches and gaps of the rest (cases, n), and moves, of what touches in each case."""
        off, y, n = on != self._on[which], start.copy(), self._n
        many, z = off.sum(axis=1), np.zeros(off.shape)
        at, last = np.nonzero(off)[1], np.cumsum(many).tolist()
        for k in np.flatnonzero(many).tolist():
            each = at[last[k - 1] if k else 0 : last[k]]
            z[k, each] = _changed(self._made[which[k]].pivot, start[k], each)
        for t in np.unique(which).tolist():
            some = np.flatnonzero(which == t)
            differ = np.flatnonzero(off[some].any(axis=0))
            y[some] += z[np.ix_(some, differ)] @ self._made[t].pivot[differ]
        # Where a case differs from its table y is nothing and z is what was found; elsewhere z is nothing.
        either = np.where(off, z, y[:, :n])
        return either, y[:, n:]


def _changed(pivot: Floats, start: Floats, at: Ints) -> Floats:
    """Return z of one case: what makes y nothing where it differs from its table."""
    square = pivot.take(at[:, None] * pivot.shape[1] + at)
    # Fortran's order takes rows for columns, which is what is wanted: z from the right.
    _, _, z, info = lapack.dgesv(square.T, -start[at], overwrite_a=1, overwrite_b=1)
    return np.asarray(z if info == 0 else np.full(len(at), np.nan))


def table(*, M: Floats, N: Floats, one_way: Bools, on: Bools) -> Table:
    """Return the contacts of a body with some of them taken as touching. Arguments as of `touch`.

    Raises:
        Mechanism: if these do not hold the body.
        ArithmeticError: if M is not positive definite there.
    """
    n, m = N.shape
    on = on | ~one_way
    at, free = np.flatnonzero(on), np.flatnonzero(~on)
    case = _Case(M, np.zeros(n), N, np.zeros(m), one_way)
    if not case.holds(on):
        raise Mechanism(LOOSE)
    # [p; q] = -inverse [h; g] with nothing else pressing.
    B, whole = solved_all(M, at, np.hstack([N[at], np.eye(len(at))]), m)
    core = np.linalg.inv(N[at].T @ B)
    inverse = np.block([[whole - B @ core @ B.T, B @ core], [core @ B.T, -core]])
    across = np.hstack([M[np.ix_(free, at)], N[free]])
    rows = np.concatenate([at, n + np.arange(m)])
    loads, pivot = np.zeros((n + m, n + m)), np.zeros((n + m, n))
    loads[np.ix_(rows, rows)] = -inverse
    loads[np.ix_(free, rows)] = -across @ inverse
    loads[free, free] = 1.0
    pivot[np.ix_(rows, at)] = inverse[:, : len(at)]
    pivot[np.ix_(rows, free)] = -inverse @ across.T
    pivot[np.ix_(free, at)] = across @ inverse[:, : len(at)]
    pivot[np.ix_(free, free)] = M[np.ix_(free, free)] - across @ inverse @ across.T
    return Table(M, N, one_way, on, np.ascontiguousarray(pivot.T), np.ascontiguousarray(loads.T))


def solved_all(M: Floats, at: Ints, right: Floats, first: int) -> tuple[Floats, Floats]:
    """Return M^-1 of the first columns and of the others, of some rows and columns of M.

    Raises:
        ArithmeticError: if M is not positive definite there.
    """
    _, x, info = lapack.dposv(M[np.ix_(at, at)], right, lower=1)
    if info != 0:
        raise ArithmeticError(NOT_POSITIVE)
    return x[:, :first], x[:, first:]


def _keys(on: Bools) -> Floats:
    """What touches in each case, to look it up by: others with the same key only end the quick search sooner."""
    return np.asarray(on @ _drawn(on.shape[1]))


@cache
def _drawn(count: int) -> Floats:
    # Whole numbers so small that a float holds every sum of them exactly, in whatever order.
    drawn = np.random.default_rng(0).integers(1, 2**40, count).astype(float)
    drawn.setflags(write=False)
    return drawn


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
    """Return the answer, if guessing what touches from forces and gaps together settles.

    Where that gets no better, only the last wrong guess is changed until there are fewer (block pivoting with Murty's
    rule: Portugal, Judice and Vicente 1994).
    """
    fewest, patience = len(on) + 1, PATIENCE
    for _ in range(LONG):
        found = case.held_to(on)
        if found is None:
            return None
        then = np.where(on, found.force > 0, found.gap < 0) | ~case.one_way
        wrong = np.flatnonzero(then != on)
        if not len(wrong):
            return found
        patience = PATIENCE if len(wrong) < fewest else patience - 1
        fewest = min(fewest, len(wrong))
        if patience < 0:
            then = on.copy()
            then[wrong[-1]] = not on[wrong[-1]]
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
    p, o = found.force[None], found.gap[None]
    if not _sound(case.N, case.g[None], case.one_way, p, o, case.h[None])[0]:
        msg = "contact forces and gaps do not meet their conditions"
        raise ArithmeticError(msg)


def _sound(N: Floats, g: Floats, free: Bools, p: Floats, o: Floats, h: Floats) -> Bools:
    """Whether forces and gaps (cases, n) meet their conditions under their loads."""
    size = np.abs(p).max(axis=1, initial=0.0)[:, None]
    wide = (np.abs(h).max(axis=1, initial=0.0) + np.abs(o).max(axis=1, initial=0.0))[:, None]
    unbalanced = np.abs(p @ N + g)
    allowed = TOUCH * (np.abs(p) @ np.abs(N) + np.abs(g))
    return np.asarray(
        (p[:, free] >= -TOUCH * size).all(axis=1)
        & (o[:, free] >= -TOUCH * wide).all(axis=1)
        & (np.abs(p * o) <= TOUCH * size * wide).all(axis=1)
        & (unbalanced <= allowed).all(axis=1)
    )
