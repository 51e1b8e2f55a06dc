"""The oracle: a shelf as a 3-D solid of quadratic bricks on beams with compression-only springs between.

Bricks, beams and their bookkeeping are scikit-fem's; nothing here comes from the project. Up is positive in the solid.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
import scipy.sparse as sp
from numpy.typing import NDArray
from scipy.sparse.linalg import splu
from skfem import (
    Basis,
    BilinearForm,
    ElementHexS2,
    ElementLineHermite,
    FacetBasis,
    LinearForm,
    MeshHex,
    MeshLine,
)
from skfem.helpers import dd

from tests.statics.second_opinion.cases import (
    BED,
    CORE,
    E_ACROSS,
    E_ALONG,
    E_CORE,
    EMBEDDED,
    G_CORE,
    G_SKIN,
    MOUTH,
    NU,
    PRESSING,
    ROUND,
    STEEL,
    THICK,
    Box,
    Case,
    Rod,
)

Floats = NDArray[np.float64]
HIGH = 2 * THICK + CORE
NO_STIFFNESS = 1e-3
"""Of the core in its own plane (MPa): small beside every other modulus, large enough to factor."""
NEAR_ENDS = (8.0, 20.0)
"""Further lines this far from both ends of a slot, where the rod presses hardest (mm)."""
ROUNDS = 60


def _stiffness(E: tuple[float, float, float], nu: float, G: tuple[float, float, float]) -> Floats:
    """Return an orthotropic stiffness (6, 6): xx, yy, zz, yz, xz, xy; only x and y strain each other."""
    give = np.diag([1 / E[0], 1 / E[1], 1 / E[2], 1 / G[0], 1 / G[1], 1 / G[2]])
    give[0, 1] = give[1, 0] = -nu / E[0]
    return np.linalg.inv(give)


STIFFER = 100.0
"""How many times stiffer a thin skin is through its thickness than in its plane."""
THIN = _stiffness(
    (E_ALONG, E_ACROSS, STIFFER * E_ACROSS), NU, (STIFFER * G_SKIN, STIFFER * G_SKIN, G_SKIN)
)
"""A skin as thin-plate theory has it: it neither shears nor presses through its thickness."""
FULL = _stiffness((E_ALONG, E_ACROSS, E_ACROSS), NU, (G_SKIN, G_SKIN, G_SKIN))
"""A skin as soft through its thickness as in its plane."""
FILL = _stiffness((NO_STIFFNESS, NO_STIFFNESS, E_CORE), 0.0, (G_CORE, G_CORE, NO_STIFFNESS))
# Which strain (row) each derivative of each movement feeds: yz is 3, xz is 4, xy is 5.
STRAIN = np.array([[0, 5, 4], [5, 1, 3], [4, 3, 2]])


@dataclass(frozen=True)
class Told:
    """What the solid says: drops at the front, force and moment of each rod at the wood, skin stresses (N, mm).

    stress: of the top skin's patch, mean at its upper and lower face along x, then along y. pressed: greatest
    force on the bottom skins in all.
    """

    drops: Floats
    force: Floats
    moment: Floats
    stress: Floats
    pressed: float


def _lines(case: Case, axis: int, size: float) -> Floats:
    """Return grid lines along one axis: every edge that matters, and evenly between."""
    boxes = [*case.skin, *(case.core or ()), *(b for b, _ in case.loads), case.patch]
    must = {b[i] for b in boxes for i in (axis, axis + 2)} | {f[axis] for f in case.fronts}
    for rod in case.rods:
        must |= {rod.slot[axis], rod.slot[axis + 2]}
        if rod.along == "xy"[axis]:
            must |= {MOUTH, rod.tip, *(MOUTH + d for d in NEAR_ENDS)}
            must |= {rod.tip - d for d in NEAR_ENDS}
        else:
            must.add(rod.at)
    made = [min(must)]
    for line in sorted(must)[1:]:
        steps = math.ceil((line - made[-1]) / size - 1e-9)
        made += np.linspace(made[-1], line, steps + 1)[1:].tolist()
    return np.array(made)


def _within(x: Floats, boxes: Iterable[Box]) -> NDArray[np.bool_]:
    inside = np.zeros(x.shape[1:], dtype=bool)
    for a, b, c, d in boxes:
        inside |= (a < x[0]) & (x[0] < c) & (b < x[1]) & (x[1] < d)
    return inside


def _mesh(case: Case, size: float) -> MeshHex:
    high = np.array([0.0, THICK, THICK + CORE, HIGH])
    every = MeshHex.init_tensor(_lines(case, 0, size), _lines(case, 1, size), high)
    mid = every.p[:, every.t].mean(axis=1)
    core = (mid[2] > THICK) & (mid[2] < THICK + CORE)
    filled = np.ones_like(core) if case.core is None else _within(mid, case.core)
    keep = _within(mid, case.skin) & (~core | (filled & ~_within(mid, [r.slot for r in case.rods])))
    made: MeshHex = every.restrict(np.flatnonzero(keep))
    return made


@dataclass(frozen=True)
class Solid:
    """A shelf cut into bricks no longer than `size`, with skins of a stiffness (6, 6)."""

    case: Case
    size: float
    skin: Floats

    @cached_property
    def mesh(self) -> MeshHex:
        """The bricks."""
        return _mesh(self.case, self.size)

    @cached_property
    def basis(self) -> Any:
        """Twenty shapes a brick; movement k of node n is number 3 n + k."""
        return Basis(self.mesh, ElementHexS2(), intorder=4)

    @cached_property
    def moduli(self) -> Floats:
        """Stiffness brick by brick (bricks, 6, 6)."""
        z = self.mesh.p[2, self.mesh.t].mean(axis=0)
        return np.where(((z > THICK) & (z < THICK + CORE))[:, None, None], FILL, self.skin)

    def strains(self, bricks: NDArray[np.intp]) -> Floats:
        """Return strain per movement (bricks, points, 6, 60)."""
        grad = np.stack([shape[0].grad[:, bricks] for shape in self.basis.basis])
        made = np.zeros((len(bricks), grad.shape[-1], 6, 3 * len(grad)))
        for k in range(3):
            for j in range(3):
                made[:, :, STRAIN[k, j], k::3] += grad[:, j].transpose(1, 2, 0)
        return made

    @cached_property
    def numbers(self) -> NDArray[np.intp]:
        """Numbers of the movements of every brick (bricks, 60)."""
        nodes = self.basis.element_dofs.T
        return np.asarray((3 * nodes[:, :, None] + np.arange(3)).reshape(len(nodes), -1))

    @cached_property
    def stiffness(self) -> Any:
        """The stiffness of the whole."""
        B = self.strains(np.arange(self.mesh.nelements))
        n, q, _, m = B.shape
        heavy = (self.moduli[:, None] * self.basis.dx[:, :, None, None]) @ B
        K = B.reshape(n, q * 6, m).transpose(0, 2, 1) @ heavy.reshape(n, q * 6, m)
        rows = np.repeat(self.numbers, m, axis=1).ravel()
        columns = np.tile(self.numbers, (1, m)).ravel()
        shape = (3 * self.basis.N,) * 2
        return sp.csc_matrix((K.ravel(), (rows, columns)), shape=shape)

    @cached_property
    def load(self) -> Floats:
        """Forces on every movement: pressure on the top face."""
        made = np.zeros(3 * self.basis.N)
        middle = self.mesh.p[:, self.mesh.facets].mean(axis=1)
        for box, force in self.case.loads:
            hit = np.flatnonzero((middle[2] == HIGH) & _within(middle, [box]))
            face = FacetBasis(self.mesh, ElementHexS2(), facets=hit, intorder=4)
            even = LinearForm(lambda v, _: v).assemble(face)
            made[2::3] -= force * even / even.sum()
        return made

    def node(self, x: float, y: float, z: float) -> int:
        """Return the node at a place."""
        off = np.abs(self.basis.doflocs - np.array([[x], [y], [z]])).sum(axis=0)
        found = int(off.argmin())
        assert off[found] < 1e-6
        return found

    def touching(self, rod: Rod) -> tuple[Floats, Floats]:
        """Return distances from the wood of the nodes along a slot, and the length each stands for (Simpson)."""
        lines = _lines(self.case, "xy".index(rod.along), self.size)
        ends = lines[(lines >= MOUTH) & (lines <= rod.tip)]
        steps = np.diff(ends)
        at = np.sort(np.concatenate([ends, ends[:-1] + steps / 2]))
        length = np.zeros(len(at))
        length[0:-1:2] += steps / 6
        length[2::2] += steps / 6
        length[1::2] = steps * 4 / 6
        return at, length

    def stress(self, moved: Floats) -> Floats:
        """Return the mean stress of the top skin's patch at its upper and lower face: x, x, y, y."""
        mid = self.mesh.p[:, self.mesh.t].mean(axis=1)
        hit = np.flatnonzero((mid[2] > THICK + CORE) & _within(mid, [self.case.patch]))
        strain = np.einsum("bqsm,bm->bqs", self.strains(hit), moved[self.numbers[hit]])
        stress = np.einsum("st,bqt->bqs", self.skin, strain)
        z = self.basis.global_coordinates()[2][hit] - (HIGH - THICK / 2)
        a, b, c, d = self.case.patch
        weight = self.basis.dx[hit] / ((c - a) * (d - b))
        N = np.einsum("bqs,bq->s", stress, weight)[:2] / THICK
        M = 6 * np.einsum("bqs,bq->s", stress, weight * z)[:2] / THICK**2
        return np.array([N[0] + M[0], N[0] - M[0], N[1] + M[1], N[1] - M[1]])


@dataclass(frozen=True)
class Beams:
    """A rod as beam elements on a Winkler bed: stiffness, and which movement is the drop at each contact."""

    stiffness: Floats
    drops: NDArray[np.intp]


def beam(at: Floats) -> Beams:
    """Return a rod embedded in its bed up to the wood and free in front of it."""
    inside = np.linspace(-EMBEDDED, 0, 33)
    out = np.concatenate([[0.0], at])
    mesh = MeshLine(np.concatenate([inside, out[1:]]))
    whole = Basis(mesh, ElementLineHermite(), intorder=7)
    EI = STEEL * math.pi * ROUND**4 / 64

    @BilinearForm
    def bent(u: Any, v: Any, _: Any) -> Any:
        return EI * dd(u)[0, 0] * dd(v)[0, 0]

    @BilinearForm
    def bedded(u: Any, v: Any, w: Any) -> Any:
        return BED * u * v * (w.x[0] < 0)

    K = (bent.assemble(whole) + bedded.assemble(whole)).toarray()
    nodal = whole.nodal_dofs[0]
    where = mesh.p[0]
    return Beams(K, np.array([nodal[np.abs(where - a).argmin()] for a in at]))


def solve(case: Case, size: float, *, skin: Floats = THIN) -> Told:
    """Return what the solid on its beams says under the loads of a case."""
    return _answer(Solid(case, size, skin), case)


@dataclass(frozen=True)
class _Spring:
    """A compression-only spring: shelf node and beam movement, its stiffness, gap, and who lies above."""

    shelf: int
    rod: int
    stiff: float
    gap: float
    top: bool
    arm: float
    of: int


def _springs(solid: Solid, case: Case) -> tuple[list[_Spring], list[Floats]]:
    made: list[_Spring] = []
    stiff: list[Floats] = []
    count = 0
    for number, rod in enumerate(case.rods):
        at, length = solid.touching(rod)
        own = beam(at)
        stiff.append(own.stiffness)
        for z, top in ((THICK + CORE, True), (THICK, False)):
            if not top and rod.below > 10:
                continue
            for a, l, drop in zip(at, length, own.drops, strict=True):
                x, y = (rod.at, a) if rod.along == "y" else (a, rod.at)
                node = solid.node(x, y, z)
                gap = -rod.proud if top else rod.below + rod.proud
                made.append(_Spring(node, count + int(drop), PRESSING * l, gap, top, a, number))
        count += len(own.stiffness)
    return made, stiff


def _answer(solid: Solid, case: Case) -> Told:
    springs, stiff = _springs(solid, case)
    nodes = np.unique([s.shelf for s in springs])
    contact = 3 * nodes + 2
    K, f = solid.stiffness, solid.load
    a, b, c, _ = case.skin[0]
    one, other = solid.node(a, b, 0.0), solid.node(c, b, 0.0)
    pinned = [3 * one, 3 * one + 1, 3 * other + 1]
    inner = np.setdiff1d(np.arange(len(f)), np.concatenate([contact, pinned]))
    factor = splu(
        K[inner][:, inner].tocsc(),
        permc_spec="MMD_AT_PLUS_A",
        diag_pivot_thresh=0.0,
        options={"SymmetricMode": True},
    )
    across = K[inner][:, contact].toarray()
    carried = factor.solve(np.column_stack([across, f[inner]]))
    S = K[contact][:, contact].toarray() - across.T @ carried[:, :-1]
    # Down is positive from here on.
    g = -(f[contact] - across.T @ carried[:, -1])
    total = len(contact) + sum(len(k) for k in stiff)
    whole, right = np.zeros((total, total)), np.zeros(total)
    whole[: len(contact), : len(contact)], right[: len(contact)] = (S + S.T) / 2, g
    start = len(contact)
    for k in stiff:
        whole[start : start + len(k), start : start + len(k)] = k
        start += len(k)
    first = np.searchsorted(nodes, [s.shelf for s in springs])
    second = len(contact) + np.array([s.rod for s in springs])
    moved, force = _press(whole, right, springs, first, second)
    up = np.zeros(len(f))
    up[contact] = -moved[: len(contact)]
    up[inner] = carried[:, -1] + carried[:, :-1] @ moved[: len(contact)]
    net = np.where([s.top for s in springs], force, -force)
    of, arm = np.array([s.of for s in springs]), np.array([s.arm for s in springs])
    reads = [3 * solid.node(x, y, HIGH) + 2 for x, y in case.fronts]
    rods = range(len(case.rods))
    return Told(
        drops=-up[reads],
        force=np.array([net[of == r].sum() for r in rods]),
        moment=np.array([(net * arm)[of == r].sum() for r in rods]),
        stress=solid.stress(up),
        pressed=float(force[[not s.top for s in springs]].sum()),
    )


def _press(
    whole: Floats,
    right: Floats,
    springs: list[_Spring],
    first: NDArray[np.intp],
    second: NDArray[np.intp],
) -> tuple[Floats, Floats]:
    """Return movements and spring forces once what is taken to press is what presses."""
    sign = np.array([1.0 if s.top else -1.0 for s in springs])
    stiff, gap = np.array([s.stiff for s in springs]), np.array([s.gap for s in springs])
    on = sign > 0
    for _ in range(ROUNDS):
        pull = np.zeros((len(springs), len(right)))
        pull[np.arange(len(springs)), first] += sign
        pull[np.arange(len(springs)), second] -= sign
        k = np.where(on, stiff, 0.0)
        moved = np.linalg.solve(whole + pull.T @ (k[:, None] * pull), right + pull.T @ (k * gap))
        closed = pull @ moved - gap
        if ((closed > 0) == on).all():
            return moved, np.where(on, stiff * closed, 0.0)
        on = closed > 0
    msg = "what presses never settled"
    raise ArithmeticError(msg)
