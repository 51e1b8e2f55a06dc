"""How sure the answers for one shelf are: ranges of drop and load limit, what drives them, chances to keep a limit.

Exact runs at points of a Sobol sequence, a curve through them, 2,048 samples of the curve; the curve is held against
exact runs that it was not fitted to, and what it is off by is told and allowed for. Where it is off too far, the load
limit takes the least of shelves drawn by chance.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from ledgewright import judge
from ledgewright.doubt.curve import Curve, fitted
from ledgewright.doubt.figures import NAMES, Doubtful, figure, normed, standing
from ledgewright.doubt.least import DRAWS, Least, least
from ledgewright.doubt.sobol import POINTS, SEQUENCES, Figure, Ranged, ranged, sequence
from ledgewright.job import Job
from ledgewright.judge import Design
from ledgewright.memo import Memo
from ledgewright.statics import NOMINAL, Falling, Given, Loading, LoadLimit, NoTest, Stood

Floats = NDArray[np.float64]
Placed = TypeVar("Placed", float, Floats)
RUNS, MORE_RUNS = 36, 8
"""Exact runs that the curves are fitted to, and others that they are held against."""
LIMIT_CHECKS = (0.03, 0.05, 0.07, 0.5, 0.9)
"""At samples of the load limit that so great a share lie below, every pattern is looked at."""
DROP_OFF, LIMIT_OFF = 0.05, 0.15
"""A curve that is off by more of what it tells gives no ranges (our choice)."""
LEAST, MOST = 0.4, 1.6
"""Loads of the exact runs, over the load limit at the likely figures."""
COUNTS = 0.75
"""Families of rows that nowhere come to so much of the worst one are left out of the curve."""
STEPS = 161
"""Loads at which the curves of a sample are looked at, over the loads of the exact runs."""


@dataclass(frozen=True)
class Answer:
    """One answer: what it is at the likely figures, over all of them, and how far the curve is off.

    off: standard error of the curve, in the units of the answer. limit: what it must not exceed, if anything.
    """

    nominal: float
    over: Ranged
    off: float
    limit: float | None = None

    @property
    def p05(self) -> Figure:
        """What 5 of 100 lie below, with both errors."""
        return self._with(self.over.p05)

    @property
    def p50(self) -> Figure:
        """What half of all lie below, with both errors."""
        return self._with(self.over.p50)

    @property
    def p95(self) -> Figure:
        """What 95 of 100 lie below, with both errors."""
        return self._with(self.over.p95)

    @property
    def chance(self) -> Figure | None:
        """The chance to keep within its limit; None where there is none. Its error takes the curve's in."""
        if self.limit is None:
            return None
        found = self.over.below(self.limit)
        low, high = (self.over.below(self.limit + side * self.off).value for side in (-1, 1))
        return Figure(found.value, float(np.hypot(found.error, (high - low) / 2)))

    def _with(self, sampled: Figure) -> Figure:
        return Figure(sampled.value, float(np.hypot(sampled.error, self.off)))


@dataclass(frozen=True)
class Carried(Answer):
    """The load limit on every length (N/mm). most: no sample was looked at beyond."""

    most: float = 0.0

    @property
    def safe(self) -> float:
        """What 95 of 100 carry, less both errors: never above the likely figures' own limit."""
        return max(0.0, min(self.nominal, self.p05.value - self.p05.error))

    @property
    def share(self) -> float:
        """The same over the limit at the likely figures."""
        return self.safe / self.nominal if self.nominal > 0 else 0.0


@dataclass(frozen=True)
class Spread:
    """How sure the answers for one section are.

    names: the doubtful figures, in the order of all shares. today, long_term: front drop (mm). carried: the load limit,
    or why it has no range. runs: exact runs made. seed: of the job. samples: of the curves.
    """

    names: tuple[str, ...]
    today: Answer
    long_term: Answer
    carried: Carried | NoSpread
    runs: int
    seed: int
    samples: int = SEQUENCES * POINTS

    @property
    def figures(self) -> tuple[Doubtful, ...]:
        """The rows of the table, in the order of all shares."""
        return tuple(figure(name) for name in self.names)

    def drivers(self, answer: Answer) -> tuple[tuple[Doubtful, Figure, Figure], ...]:
        """Return what drives an answer, most first: the figure, its share alone, and its share with all it meets."""
        rows = zip(self.figures, answer.over.first, answer.over.total, strict=True)
        return tuple(sorted(rows, key=lambda row: -row[2].value))


@dataclass(frozen=True)
class NoSpread:
    """Why there are no ranges.

    least: what the load limit takes all the same; None where nothing can be said of it.
    """

    why: str
    least: Least | None = None


def floor(found: Spread | NoSpread | None) -> Carried | Least | None:
    """Return what a load limit takes for doubt; None where it was not asked for, or nothing can be said.

    Args:
        found: how sure the answers for a section are, or why that cannot be said.
    """
    told = found.carried if isinstance(found, Spread) else found
    return told.least if isinstance(told, NoSpread) else told


def spread(job: Job, design: Design, memo: Memo) -> Spread | NoSpread:
    """Return how sure the answers for a section are, or why nothing can be said of it.

    docs/doubt.md. Strengths stay at their characteristic values; the same wood, glue and drilling at every rod.

    Args:
        job: its basis, site and seed.
        design: the section as judged, with its load limit if one is to have a range.
        memo: kept by the caller.
    """
    found = judge.on_model(job, design, memo)
    if isinstance(found, NoTest):
        return NoSpread(found.why)
    limit = judge.limit_of(job, design, memo)
    given, stood = found
    even = limit if isinstance(limit, LoadLimit) else NoSpread(limit.why)
    drops = design.holds.drop
    if drops is None:
        return NoSpread("the drop cannot be said")
    told = (drops.today.value, drops.long_term.value)
    limits = (drops.today.limit, drops.long_term.limit)
    key = (given, job.seed, told, even)
    return memo.get("doubt", key, lambda: _spread(given, stood, memo, job.seed, told, limits, even))


def varying(given: Given) -> tuple[str, ...]:
    """Return the doubtful figures that change anything for a shelf.

    Args:
        given: the shelf.
    """
    blocking = any(
        member.id == rod.member and member.kind == "blocking"
        for rod in given.frame.rods
        for member in given.room.wall(rod.wall).members
    )
    return tuple(name for name in NAMES if name != "across" or blocking)


def _spread(
    given: Given,
    stood: Stood,
    memo: Memo,
    seed: int,
    told: tuple[float, float],
    limits: tuple[float, float],
    limit: LoadLimit | NoSpread,
) -> Spread | NoSpread:
    names = varying(given)
    # What really stands there is what a limit is of: no doubt in it.
    strong = tuple(name for name in names if name != "load")
    falls = _falls(Falling(given, stood, memo), names, seed)
    if isinstance(falls, NoSpread):
        loading = (
            None if isinstance(limit, NoSpread) else _loading(given, stood, memo, strong, limit)
        )
        return replace(falls, least=_least(loading, strong, seed, limit))
    carries = (
        limit if isinstance(limit, NoSpread) else _carries(given, stood, memo, strong, seed, limit)
    )
    # What other shelves on the same studs add to the drop grows with it.
    beside = np.array(told) / np.array(falls.nominal)

    def of(u: Floats) -> Floats:
        down = np.asarray(falls.at(normed(names, u)) * beside)
        if isinstance(carries, NoSpread):
            return down
        return np.column_stack([down, carries.at(normed(names, u)[:, : len(strong)])])

    found = ranged(of, len(names), seed=seed)
    today, later = (
        Answer(told[k], found[k], float(falls.off[k] * found[k].p50.value), limits[k])
        for k in range(2)
    )
    carried: Carried | NoSpread
    runs = falls.runs
    if isinstance(carries, NoSpread):
        carried = carries
    else:
        carried = _held_against(carries, strong, seed, found[2])
        runs += carries.runs + len(LIMIT_CHECKS)
        if isinstance(carried, Carried) and carried.safe <= 0:
            carried = NoSpread(_too_little())
        if isinstance(carried, NoSpread):
            carried = replace(carried, least=_least(carries.loading, strong, seed, limit))
            runs += 0 if carried.least is None else carried.least.draws
    return Spread(names, today, later, carried, runs, seed)


@dataclass(frozen=True)
class _Falls:
    """The curves of both drops, through their logarithms: relative errors `off`, nominal drops (mm)."""

    curve: Curve
    off: Floats
    nominal: tuple[float, float]
    runs: int

    def at(self, x: Floats) -> Floats:
        return np.asarray(np.exp(self.curve.at(x)))


def _points(names: Sequence[str], seed: int, count: int, extra: int = 0) -> Floats:
    """Points of the unit cube for exact runs, from a sequence of their own."""
    pick = np.random.default_rng([seed, SEQUENCES])
    made = sequence(len(names) + extra, pick).random_base2(6)
    return np.asarray(made[:count])


def _falls(falling: Falling, names: Sequence[str], seed: int) -> _Falls | NoSpread:
    u = _points(names, seed, RUNS + MORE_RUNS)
    inputs = standing(names, u)
    nominal = falling.full(NOMINAL)
    exact = [falling.full(each) for each in inputs[RUNS:]]
    quick = [falling.quick(each) for each in inputs[:RUNS]]
    runs = [nominal, *quick, *exact]
    if nominal is None or any(run is None or min(run) <= 0 for run in runs):
        return NoSpread("within the ranges it does not stand, or its front does not go down")
    y, wanted = (np.log(np.array(each)) for each in (quick, exact))
    x = normed(names, u)
    curve = fitted(x[:RUNS], y)
    missed = np.sqrt(((curve.at(x[RUNS:]) - wanted) ** 2).mean(axis=0))
    off = np.maximum(curve.left_out, missed)
    if off.max() > DROP_OFF:
        return NoSpread(_too_far("drop", float(off.max()), DROP_OFF))
    return _Falls(curve, off, nominal, len(runs))


def _too_far(what: str, off: float, most: float) -> str:
    return (
        f"the curve through the exact runs is {off * 100:.0f} % off for the {what}, more than {most * 100:.0f} %: "
        "ranges read from it would tell nothing"
    )


def _too_little() -> str:
    return (
        f"more than 1 in 20 such shelves carry less than {LEAST * 100:.0f} % of what it carries at the likely figures, "
        "and so little is not looked at by the curve"
    )


def _least(
    loading: Loading | None, names: Sequence[str], seed: int, limit: LoadLimit | NoSpread
) -> Least | None:
    """The least of shelves drawn by chance: by a generator, since points of a sequence are not independent."""
    if loading is None or isinstance(limit, NoSpread):
        return None
    u = np.random.default_rng([seed, SEQUENCES + 2]).random((DRAWS, len(names)))
    return least(loading, standing(names, u), float(limit.even))


@dataclass(frozen=True)
class _Carries:
    """The curves of how far every family is taken, over figures and load; even: nominal limit (N/mm)."""

    curve: Curve
    even: float
    loading: Loading
    runs: int

    @property
    def top(self) -> float:
        """The greatest load looked at (N/mm)."""
        return MOST * self.even

    def loads(self) -> Floats:
        """Loads that are looked at (N/mm): those of the exact runs; below them the curves would be drawn on."""
        return np.linspace(LEAST * self.even, self.top, STEPS)

    def ratio(self, x: Floats, even: float) -> Floats:
        """The worst ratio at figures under one load."""
        e = np.full((len(x), 1), _placed(even / self.even))
        return np.asarray(self.curve.at(np.hstack([x, e])).max(axis=1))

    def at(self, x: Floats) -> Floats:
        """Return the first of the `loads` at which a family reaches 1 (points,), at most `top` (N/mm).

        None, 0, where it does so at the least of them already.
        """
        found = np.full(len(x), self.top)
        loads = self.loads()
        before = self.ratio(x, float(loads[0]))
        open_ = before <= 1
        found[~open_] = 0.0
        for low, high in zip(loads[:-1].tolist(), loads[1:].tolist(), strict=True):
            after = self.ratio(x, high)
            crossed = open_ & (after > 1)
            below, over = before[crossed], after[crossed]
            found[crossed] = low + (high - low) * (1 - below) / (over - below)
            open_ &= ~crossed
            before = after
            if not open_.any():
                break
        return found


def _placed(share: Placed) -> Placed:
    """A load over the nominal limit, between -1 and 1 for the runs."""
    return (2 * share - LEAST - MOST) / (MOST - LEAST)


def _carries(
    given: Given, stood: Stood, memo: Memo, names: Sequence[str], seed: int, limit: LoadLimit
) -> _Carries | NoSpread:
    even, loading = limit.even, _loading(given, stood, memo, names, limit)
    if loading is None:
        return NoSpread("there is no load limit")
    u = _points(names, seed, RUNS, extra=1)
    share = LEAST + (MOST - LEAST) * u[:, -1]
    runs = [
        loading.quick(inputs, s * even)
        for inputs, s in zip(standing(names, u[:, :-1]), share.tolist(), strict=True)
    ]
    known = [run for run in runs if run is not None]
    families = sorted(
        {f for run in known for f, r in run.items() if r > COUNTS * max(run.values())}
    )
    y = np.array([[run.get(family, 0.0) for family in families] for run in known])
    x = np.hstack([normed(names, u[:, :-1]), _placed(share)[:, None]])
    return _Carries(fitted(x, y), even, loading, len(runs) + 3)


def _loading(
    given: Given, stood: Stood, memo: Memo, names: Sequence[str], limit: LoadLimit
) -> Loading | None:
    """A shelf under so much on every length, with what tells at its limit; None where it has none."""
    even, loading = limit.even, Loading.of(given, stood, memo, limit.flush)
    if loading is None or even <= 0:
        return None
    # What tells may be another pattern where all is soft, or stiff.
    soft, stiff = (standing(names, np.full((1, len(names)), side))[0] for side in (0.1, 0.9))
    sides = (NOMINAL, soft, stiff)
    for inputs in sides:
        loading.full(inputs, even)
    return loading.narrowed(sides, even)


def _held_against(
    carries: _Carries, names: Sequence[str], seed: int, over: Ranged
) -> Carried | NoSpread:
    """Hold limits that the curves tell against every pattern at the same figures."""
    u = np.random.default_rng([seed, SEQUENCES + 1]).random((1024, len(names)))
    x = normed(names, u)
    limits = carries.at(x)
    offs = []
    for share in LIMIT_CHECKS:
        pick = int(np.argsort(limits, kind="stable")[int(share * len(limits))])
        if limits[pick] >= carries.top:
            continue
        at = float(limits[pick]) or LEAST * carries.even
        inputs = standing(names, u[pick : pick + 1])[0]
        ratio = carries.loading.full(inputs, at)
        if ratio is None:
            return NoSpread("within the ranges nothing can be said of its limit")
        if not limits[pick]:
            # The curve says that it does not carry even so much: all of that is its error if it does.
            offs.append(at if ratio <= 1 else 0.0)
            continue
        step = 0.02 * carries.even
        rise = (
            carries.ratio(x[pick : pick + 1], at + step)[0]
            - carries.ratio(x[pick : pick + 1], at - step)[0]
        ) / (2 * step)
        offs.append((ratio - 1) / max(rise, 0.1 / carries.even))
    off = float(np.sqrt(np.mean(np.square(offs)))) if offs else 0.0
    if off > LIMIT_OFF * carries.even:
        return NoSpread(_too_far("load limit", off / carries.even, LIMIT_OFF))
    return Carried(carries.even, over, off, most=carries.top)
