"""The section's plate beside scikit-fem's on the same mesh, element and loads; and what memory the section takes."""

from __future__ import annotations

import statistics
import time
import tracemalloc
from collections.abc import Callable, Iterator
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.sparse.linalg import splu
from skfem import Basis, BilinearForm, ElementQuadBFS, MeshQuad
from skfem.helpers import dd

from ledgewright.statics.mechanics.section import (
    Condensed,
    Held,
    Section,
    Site,
    condense,
    orthotropic,
    turned,
)
from tests.statics.second_opinion import section
from tests.statics.second_opinion.cases import CASES
from tests.statics.section.made import box, clamped, plate

Floats = NDArray[np.float64]
LENGTH, DEPTH, MESH, TIMES = 700.0, 300.0, 20.0, 5
SHEET = orthotropic(E_along=8000, E_across=5000, nu=0.05, G=600, thick=9)
PLACES = np.array([(x, y) for x in np.linspace(20, 680, 7) for y in np.linspace(50, 300, 6)])
"""Where 1 N is put on and where drop is read: as many places as three rods have."""


class Measured(NamedTuple):
    """Seconds of either, greatest difference of their answers (share of the greatest), nodes, peak memory (bytes)."""

    ours: float
    theirs: float
    apart: float
    nodes: int
    peak: int


def _flat() -> Iterator[Held]:
    """Hold all movements in the plane, so that both have the same unknowns: drop, slopes and twist of every node."""
    for y in np.arange(0, DEPTH + 1, MESH).tolist():
        yield Held((0, y), (LENGTH, y), "top", ("u", "u_x", "v", "v_y"))


def _ours(of: Section) -> Condensed:
    return condense(of, [Site(x, y) for x, y in PLACES.tolist()], mesh=MESH)


def _theirs(x: Floats, y: Floats) -> Floats:
    """Assemble and solve with scikit-fem: drop of every place per 1 N on every other."""
    basis = Basis(MeshQuad.init_tensor(x, y), ElementQuadBFS(), intorder=6)
    D = turned(SHEET.bending, 0.0)

    def bent(u: Any, v: Any, _: Any) -> Any:
        a, b = dd(u), dd(v)
        k, l = (a[0, 0], a[1, 1], 2 * a[0, 1]), (b[0, 0], b[1, 1], 2 * b[0, 1])
        return sum(D[i, j] * k[i] * l[j] for i in range(3) for j in range(3) if D[i, j] != 0)

    K = BilinearForm(bent).assemble(basis).tocsc()
    at = basis.probes(PLACES.T).toarray()
    free = basis.complement_dofs(basis.get_dofs(lambda p: p[1] == y[0]).all())
    found = splu(K[free][:, free].tocsc()).solve(at[:, free].T.copy())
    return np.asarray(at[:, free] @ found)


def _seconds(what: Callable[[], object]) -> float:
    taken = []
    for _ in range(TIMES):
        start = time.perf_counter()
        what()
        taken.append(time.perf_counter() - start)
    return statistics.median(taken)


def _peak() -> int:
    """Peak memory of the corner of the second opinion, all of it, on half the usual mesh."""
    case = next(c for c in CASES if len(c.skin) > 1)
    tracemalloc.start()
    section.solve(case, MESH)
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    return peak


def measured() -> Measured:
    """Time a plate clamped along its back."""
    of = plate(box(0, 0, LENGTH, DEPTH), SHEET, clamped((0, 0), (LENGTH, 0)), *_flat())
    made = _ours(of)
    x, y = made.grid.x, made.grid.y
    wanted = _theirs(x, y)
    apart = float(np.abs(made.flexibility - wanted).max() / wanted.max())
    ours, theirs = _seconds(lambda: _ours(of)), _seconds(lambda: _theirs(x, y))
    return Measured(ours, theirs, apart, len(made.grid.place), _peak())


def said() -> str:
    """Say what was measured."""
    m = measured()
    return (
        f"a plate of {m.nodes} nodes and {len(PLACES)} loads: {m.ours * 1000:.0f} ms, "
        f"scikit-fem {m.theirs * 1000:.0f} ms, "
        f"{m.theirs / m.ours:.1f} times as long (10 asked), answers {m.apart:.0e} apart; "
        f"peak memory of a corner on {MESH:.0f} mm {m.peak / 1e6:.0f} MB (400 at most)"
    )
