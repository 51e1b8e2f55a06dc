"""The integer programme solver, which hears while it works when somebody wants it to stop."""

from __future__ import annotations

import math
import time
from collections.abc import Sequence
from dataclasses import dataclass

import highspy
import numpy as np
from numpy.typing import NDArray
from scipy import sparse
from scipy.optimize import LinearConstraint, linprog

from ledgewright.shop.nest.model import Stop, never

Floats = NDArray[np.float64]
LISTEN = 0.1
"""How often it is asked whether to stop (s)."""
WHOLE = 1e-6
NO_END = 2**31 - 1
MANY = 2_000
"""With more unknowns than this, those that cannot be in a better answer are left out first."""
FIRST_SHARE = 0.01
"""How far above the relaxed programme the first unknowns kept may lie, as a share of it."""


@dataclass(frozen=True)
class Answer:
    """Whole numbers found (None if none were in time), what they cost, and what no answer can beat."""

    used: NDArray[np.int64] | None
    cost: float
    bound: float


@dataclass(frozen=True)
class _Task:
    """Cost of one of each unknown, linear constraints, most of each; whether costs of answers are whole numbers."""

    cost: Floats
    rows: tuple[LinearConstraint, ...]
    most: Floats
    whole: bool

    def part(self, kept: NDArray[np.intp]) -> _Task:
        """The same with some of the unknowns alone."""
        rows = [LinearConstraint(sparse.csc_array(r.A)[:, kept], r.lb, r.ub) for r in self.rows]
        return _Task(self.cost[kept], tuple(rows), self.most[kept], self.whole)

    def up(self, bound: float) -> float:
        """A bound, rounded up where costs are whole numbers."""
        return float(math.ceil(bound - WHOLE)) if self.whole and math.isfinite(bound) else bound


@dataclass(frozen=True)
class _Limits:
    """When to stop: at a moment, after so many branches, or when somebody says so."""

    end: float
    nodes: int | None
    stop: Stop


def smallest(
    cost: Floats,
    rows: Sequence[LinearConstraint],
    upper: float | Sequence[float],
    *,
    seconds: float,
    nodes: int | None,
    whole: bool = False,
    stop: Stop = never,
) -> Answer:
    """Return the cheapest whole numbers that keep to the rows.

    Source: HiGHS (highspy).

    Args:
        cost: of one of each.
        rows: linear constraints.
        upper: most of each; none is below 0.
        seconds: when to stop with the best so far.
        nodes: branches at which to stop with the best so far; None for no such stop.
        whole: whether every cost of an answer is a whole number, so that a bound may be rounded up.
        stop: asked about ten times a second whether to stop with the best so far.
    """
    most = np.broadcast_to(np.asarray(upper, dtype=float), cost.shape)
    task = _Task(cost, tuple(rows), most, whole)
    limits = _Limits(time.monotonic() + seconds, nodes, stop)
    relaxed = _relaxed(task) if len(cost) > MANY and not stop() else None
    if relaxed is None:
        return _solved(task, limits)
    return _narrowed(task, relaxed, limits)


def _narrowed(task: _Task, relaxed: tuple[float, Floats], limits: _Limits) -> Answer:
    """Solve with those unknowns alone that an answer as good as the best found can use.

    Source: fixing by reduced cost. Each unit of an unknown costs an answer at least its reduced cost over the relaxed
    programme, so that none beyond the gap is in a better answer; when all within the gap were in, nothing is better.
    """
    low, over = relaxed
    bound = task.up(low)
    best = Answer(None, math.inf, bound)
    within = FIRST_SHARE * max(1.0, abs(low))
    while True:
        kept = np.flatnonzero(over <= within + WHOLE)
        found = _solved(task.part(kept), limits)
        if found.used is not None and found.cost < best.cost:
            used = np.zeros(len(task.cost), dtype=np.int64)
            used[kept] = found.used
            best = Answer(used, found.cost, min(bound, found.cost))
        sure = found.used is None or found.bound >= found.cost - WHOLE
        if not sure or time.monotonic() > limits.end or limits.stop():
            return best
        if best.cost - low <= within + WHOLE or len(kept) == len(task.cost):
            return Answer(best.used, best.cost, best.cost if best.used is not None else bound)
        within = min(best.cost - low, 3 * within)


def _relaxed(task: _Task) -> tuple[float, Floats] | None:
    """Cost of the programme without whole numbers, and the reduced cost of each unknown."""
    sides, limits = [], []
    for row in task.rows:
        matrix = sparse.csr_array(sparse.csc_array(row.A))
        for sign, limit in ((1.0, row.ub), (-1.0, row.lb)):
            told = sign * np.broadcast_to(np.asarray(limit, dtype=float), (matrix.shape[0],))
            finite = np.isfinite(told)
            sides.append(sign * matrix[finite])
            limits.append(told[finite])
    told = linprog(  # type: ignore[call-overload] # the stubs know no sparse matrix
        task.cost,
        A_ub=sparse.vstack(sides).tocsc(),
        b_ub=np.concatenate(limits),
        bounds=np.column_stack([np.zeros(len(task.cost)), task.most]),
        method="highs",
    )
    if told.x is None:
        return None
    return float(told.fun or 0.0), np.asarray(told.lower.marginals, dtype=float)


class _Quiet(highspy.Highs):
    """Says nothing: the library prints its name among the answers once callbacks are enabled, which it does first."""

    def enableCallbacks(self) -> None:
        self.silent()
        super().enableCallbacks()  # type: ignore[no-untyped-call]


def _solved(task: _Task, limits: _Limits) -> Answer:
    solver = _Quiet()  # type: ignore[no-untyped-call] # the library's own begins without types
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("time_limit", max(1.0, limits.end - time.monotonic()))
    solver.setOptionValue("mip_max_nodes", limits.nodes or NO_END)
    solver.passModel(_programme(task))
    _listen(solver, limits.stop)
    solver.run()
    info = solver.getInfo()
    bound = task.up(float(info.mip_dual_bound))
    if info.primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
        return Answer(None, math.inf, bound)
    used = np.rint(np.asarray(solver.getSolution().col_value)).astype(np.int64)
    found = float(task.cost @ used)
    ended = solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
    return Answer(used, found, found if ended else min(bound, found))


def _listen(solver: highspy.Highs, stop: Stop) -> None:
    """Let the solver ask now and then, wherever it can be interrupted, whether it shall stop."""
    last = time.monotonic()

    def ask(event: highspy.highs.HighsCallbackEvent) -> None:
        nonlocal last
        now = time.monotonic()
        if now - last >= LISTEN:
            last = now
            event.interrupt(stop())

    for each in (solver.cbMipInterrupt, solver.cbSimplexInterrupt, solver.cbIpmInterrupt):
        each.subscribe(ask)


def _programme(task: _Task) -> highspy.HighsLp:
    parts = [sparse.csc_array(row.A) for row in task.rows]
    matrix = sparse.vstack(parts).tocsc()
    sides = [
        np.concatenate(
            [
                np.broadcast_to(np.asarray(limit, dtype=float), (part.shape[0],))
                for part, limit in zip(parts, limits, strict=True)
            ]
        )
        for limits in ([row.lb for row in task.rows], [row.ub for row in task.rows])
    ]
    made = highspy.HighsLp()
    made.num_col_, made.num_row_ = len(task.cost), matrix.shape[0]
    made.col_cost_, made.col_lower_, made.col_upper_ = task.cost, 0 * task.cost, task.most
    made.row_lower_, made.row_upper_ = sides
    made.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    made.a_matrix_.start_, made.a_matrix_.index_ = matrix.indptr, matrix.indices
    made.a_matrix_.value_ = matrix.data
    made.integrality_ = [highspy.HighsVarType.kInteger] * len(task.cost)
    return made
