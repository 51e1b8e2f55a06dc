"""The integer programme solver, in a thread of its own so that Ctrl-C is heard while it works."""

from __future__ import annotations

import math
import threading
import time
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import sparse
from scipy.optimize import Bounds, LinearConstraint, linprog, milp

Floats = NDArray[np.float64]
LISTEN = 0.1
"""How often Ctrl-C is listened for (s)."""
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


def smallest(
    cost: Floats,
    rows: Sequence[LinearConstraint],
    upper: float | Sequence[float],
    *,
    seconds: float,
    nodes: int | None,
    whole: bool = False,
) -> Answer:
    """Return the cheapest whole numbers that keep to the rows.

    Source: HiGHS, through scipy.optimize.milp.

    Args:
        cost: of one of each.
        rows: linear constraints.
        upper: most of each; none is below 0.
        seconds: when to stop with the best so far.
        nodes: branches at which to stop with the best so far; None for no such stop.
        whole: whether every cost of an answer is a whole number, so that a bound may be rounded up.

    Raises:
        KeyboardInterrupt: within a tenth of a second of Ctrl-C; the solver ends by itself later.
    """
    told: list[Answer] = []
    failed: list[BaseException] = []

    def run() -> None:
        try:
            told.append(_run(cost, rows, upper, seconds, nodes, whole=whole))
        except BaseException as error:  # noqa: BLE001 - handed on below, in the thread that asked
            failed.append(error)

    thread = threading.Thread(target=run, daemon=True)
    thread.start()
    while thread.is_alive():
        thread.join(LISTEN)
    if failed:
        raise failed[0]
    return told[0]


def _run(
    cost: Floats,
    rows: Sequence[LinearConstraint],
    upper: float | Sequence[float],
    seconds: float,
    nodes: int | None,
    *,
    whole: bool,
) -> Answer:
    most = np.broadcast_to(np.asarray(upper, dtype=float), cost.shape)
    relaxed = _relaxed(cost, rows, most) if len(cost) > MANY else None
    if relaxed is None:
        return _solved(cost, rows, most, seconds, nodes, whole=whole)
    return _narrowed(cost, rows, most, relaxed, seconds, nodes, whole=whole)


def _narrowed(
    cost: Floats,
    rows: Sequence[LinearConstraint],
    most: Floats,
    relaxed: tuple[float, Floats],
    seconds: float,
    nodes: int | None,
    *,
    whole: bool,
) -> Answer:
    """Solve with those unknowns alone that an answer as good as the best found can use.

    Source: fixing by reduced cost. Each unit of an unknown costs an answer at least its reduced cost over the relaxed
    programme, so that none beyond the gap is in a better answer; when all within the gap were in, nothing is better.
    """
    low, over = relaxed
    bound = float(math.ceil(low - WHOLE)) if whole else low
    best = Answer(None, math.inf, bound)
    within = FIRST_SHARE * max(1.0, abs(low))
    end = time.monotonic() + seconds
    while True:
        kept = np.flatnonzero(over <= within + WHOLE)
        some = [LinearConstraint(sparse.csc_array(r.A)[:, kept], r.lb, r.ub) for r in rows]
        left = max(1.0, end - time.monotonic())
        found = _solved(cost[kept], some, most[kept], left, nodes, whole=whole)
        if found.used is not None and found.cost < best.cost:
            used = np.zeros(len(cost), dtype=np.int64)
            used[kept] = found.used
            best = Answer(used, found.cost, min(bound, found.cost))
        sure = found.used is None or found.bound >= found.cost - WHOLE
        if not sure or time.monotonic() > end:
            return best
        if best.cost - low <= within + WHOLE or len(kept) == len(cost):
            return Answer(best.used, best.cost, best.cost if best.used is not None else bound)
        within = min(best.cost - low, 3 * within)


def _relaxed(
    cost: Floats, rows: Sequence[LinearConstraint], most: Floats
) -> tuple[float, Floats] | None:
    """Cost of the programme without whole numbers, and the reduced cost of each unknown."""
    sides, limits = [], []
    for row in rows:
        matrix = sparse.csr_array(sparse.csc_array(row.A))
        for sign, limit in ((1.0, row.ub), (-1.0, row.lb)):
            told = sign * np.broadcast_to(np.asarray(limit, dtype=float), (matrix.shape[0],))
            finite = np.isfinite(told)
            sides.append(sign * matrix[finite])
            limits.append(told[finite])
    told = linprog(  # type: ignore[call-overload] # the stubs know no sparse matrix
        cost,
        A_ub=sparse.vstack(sides).tocsc(),
        b_ub=np.concatenate(limits),
        bounds=np.column_stack([np.zeros(len(cost)), most]),
        method="highs",
    )
    if told.x is None:
        return None
    return float(told.fun or 0.0), np.asarray(told.lower.marginals, dtype=float)


def _solved(
    cost: Floats,
    rows: Sequence[LinearConstraint],
    most: Floats,
    seconds: float,
    nodes: int | None,
    *,
    whole: bool,
) -> Answer:
    told = milp(
        cost,
        integrality=np.ones(len(cost), dtype=np.int64),
        bounds=Bounds(0, most),
        constraints=list(rows),
        options={"time_limit": seconds, "mip_rel_gap": 0.0, "node_limit": nodes or NO_END},
    )
    bound = -math.inf if told.mip_dual_bound is None else float(told.mip_dual_bound)
    if whole and math.isfinite(bound):
        bound = float(math.ceil(bound - WHOLE))
    if told.x is None:
        return Answer(None, math.inf, bound)
    used = np.rint(told.x).astype(np.int64)
    found = float(cost @ used)
    return Answer(used, found, found if told.status == 0 else min(bound, found))
