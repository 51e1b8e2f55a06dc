"""The integer programme solver, in a thread of its own so that Ctrl-C is heard while it works."""

from __future__ import annotations

import math
import threading
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, milp

LISTEN = 0.1
"""How often Ctrl-C is listened for (s)."""
WHOLE = 1e-6
MANY = 2**31 - 1


@dataclass(frozen=True)
class Answer:
    """Whole numbers found (None if none were in time), what they cost, and what no answer can beat."""

    used: NDArray[np.int64] | None
    cost: float
    bound: float


def smallest(
    cost: NDArray[np.float64],
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
    cost: NDArray[np.float64],
    rows: Sequence[LinearConstraint],
    upper: float | Sequence[float],
    seconds: float,
    nodes: int | None,
    *,
    whole: bool,
) -> Answer:
    told = milp(
        cost,
        integrality=np.ones(len(cost), dtype=np.int64),
        bounds=Bounds(0, upper),
        constraints=list(rows),
        options={"time_limit": seconds, "mip_rel_gap": 0.0, "node_limit": nodes or MANY},
    )
    bound = -math.inf if told.mip_dual_bound is None else float(told.mip_dual_bound)
    if whole and math.isfinite(bound):
        bound = float(math.ceil(bound - WHOLE))
    if told.x is None:
        return Answer(None, math.inf, bound)
    used = np.rint(told.x).astype(np.int64)
    found = float(cost @ used)
    return Answer(used, found, found if told.status == 0 else min(bound, found))
