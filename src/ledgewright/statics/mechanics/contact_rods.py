"""A section on its rods: each rod a beam in its bed, touching the skins along its slot, one way or both.

Down is positive. A rod presses the top skin up where the skin lies on it, and the bottom skin down where
it pries. With nothing loaded every rod stands `above` under the top skin and `below` over the bottom one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cache, cached_property
from typing import Protocol

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import block_diag

from ledgewright.statics.mechanics.contact import Tables, Touch, table, touch
from ledgewright.statics.mechanics.rod import characteristic, end_cross, end_drop, end_turn, reach
from ledgewright.statics.mechanics.section import Condensed, Site
from ledgewright.statics.mechanics.section.parts import Mechanism, Point

Floats = NDArray[np.float64]
SITES = 7
"""Places along a rod at which the section is condensed; its drop between them is their polynomial."""
POINTS = 26
"""Contact points along a rod."""
USUAL = 100.0
"""Load on every place to read under which contacts touch much as usual (N): where the search for others begins."""
NOWHERE = "the shelf falls off its rods under its usual loads"


@dataclass(frozen=True)
class Bar:
    """A rod in its bed: bed modulus k (MPa), embedment L (mm), steel E (MPa) and I (mm4), weight (N/mm)."""

    k: float
    L: float
    E: float
    I: float
    weight: float = 0.0

    def at_face(self) -> Floats:
        """Return drop and turn at the wood face per V and M there (2, 2). Hetenyi 1946, far end free."""
        lam = characteristic(k=self.k, E=self.E, I=self.I)
        xi = reach(lam=lam, L=self.L)
        f1, f2, f3 = end_drop(xi=xi), end_cross(xi=xi), end_turn(xi=xi)
        cross = 2 * lam**2 / self.k * f2
        return np.array([[2 * lam / self.k * f1, cross], [cross, 4 * lam**3 / self.k * f3]])

    def cantilever(self, at: Floats, loads: Floats) -> Floats:
        """Return how far places bend from the face's tangent per load at others (places, loads).

        Cantilever of Euler and Bernoulli. at, loads: distances from the wood (mm). Returns mm/N.
        """
        x, a = at[:, None], loads[None, :]
        low, high = np.minimum(x, a), np.maximum(x, a)
        return np.asarray(low**2 * (3 * high - low) / (6 * self.E * self.I))

    def sag(self, at: Floats, length: float) -> Floats:
        """Return how far places bend from the face's tangent under the rod's own weight (mm).

        Cantilever under an even load. at: distances from the wood; length: of the rod out of it (mm).
        """
        x, l = at, length
        bent = x**2 * (6 * l * l - 4 * l * x + x * x) / (24 * self.E * self.I)
        return np.asarray(self.weight * bent)


@dataclass(frozen=True)
class Slotted:
    """A rod in its slot.

    start: plan point where it leaves the wood; axis: unit vector out of the wall. mouth, tip: between which
    distances from the wood it lies in the slot (mm). above, below: play to the top and the bottom skin (mm).
    bed_top, bed_bottom: stiffness of what lies between rod and skin per length (N/mm per mm): the skin's own
    pressing at the mouth, or the slot's glue. glued: whether it holds both ways, without play. rise: how far its axis
    stands above the plane it should lie in, at the mouth and at the tip (mm): a rod as set.
    """

    bar: Bar
    start: Point
    axis: Point
    mouth: float
    tip: float
    above: float
    below: float
    bed_top: float
    bed_bottom: float
    glued: bool = False
    rise: tuple[float, float] = (0.0, 0.0)

    def sites(self, count: int = SITES) -> Floats:
        """Return the Gauss-Lobatto places along the slot at which the section is condensed (mm)."""
        return self.mouth + (self.tip - self.mouth) * (lobatto(count) + 1) / 2

    def points(self, count: int = POINTS) -> tuple[Floats, Floats]:
        """Return contact points along the slot, ends included, and the length each stands for (mm).

        Gregory's rule of fourth order, even in the middle, so that a kink where contact ends costs little.
        """
        at, weight = gregory(count)
        run = self.tip - self.mouth
        return self.mouth + run * at, run * weight

    def plan(self, at: Floats) -> Floats:
        """Return the plan points at distances from the wood (n, 2)."""
        return np.asarray(np.array(self.start) + at[:, None] * np.array(self.axis))


@cache
def gregory(count: int) -> tuple[Floats, Floats]:
    """Return even places from 0 to 1 and their weights.

    Gregory's end corrections to the trapezoidal rule: 3/8, 7/6, 23/24 of a step at each end. Exact for
    polynomials up to the third degree.

    Raises:
        ValueError: if fewer than 6 are asked for.
    """
    if count < 6:
        msg = f"at least 6 points are needed, not {count}"
        raise ValueError(msg)
    weight = np.full(count, 1.0)
    ends = np.array([3 / 8, 7 / 6, 23 / 24])
    weight[:3], weight[-3:] = ends, ends[::-1]
    return np.linspace(0, 1, count), weight / (count - 1)


@cache
def lobatto(count: int) -> Floats:
    """Return the Gauss-Lobatto places from -1 to 1: the ends, and where the Legendre polynomial is flat.

    Raises:
        ValueError: if fewer than 3 are asked for.
    """
    if count < 3:
        msg = f"at least 3 places are needed, not {count}"
        raise ValueError(msg)
    inner = np.polynomial.legendre.Legendre.basis(count - 1).deriv().roots()
    at = np.concatenate([[-1.0], np.sort(np.real(inner)), [1.0]])
    return np.asarray((at - at[::-1]) / 2)


@cache
def between(count: int, points: int) -> Floats:
    """Return the polynomials through a rod's sites, at its contact points (points, sites)."""
    through, at = lobatto(count), 2 * gregory(points)[0] - 1
    made = np.ones((points, count))
    for j, site in enumerate(through):
        for other in (o for k, o in enumerate(through) if k != j):
            made[:, j] *= (at - other) / (site - other)
    made.setflags(write=False)
    return made


def sites(
    rods: Sequence[Slotted], read: Sequence[Site] = (), *, count: int = SITES
) -> tuple[Site, ...]:
    """Return the sites that `rest` expects: each rod's on the top skin, then on the bottom; then those to read."""
    made: list[Site] = []
    for rod in rods:
        plan = rod.plan(rod.sites(count)).tolist()
        made += [Site(x, y, "top") for x, y in plan] + [Site(x, y, "bottom") for x, y in plan]
    return (*made, *read)


class Loading(Protocol):
    """A load as a section on rods needs it: drop of the sites, work on each way of moving, work on itself."""

    @property
    def drop(self) -> Floats:
        """Drop of every site, the section kept from moving as a whole (mm)."""
        ...

    @property
    def whole(self) -> Floats:
        """Work on each way the section can move as a whole."""
        ...

    @property
    def own(self) -> float:
        """Work of the load on the movements it makes by itself (N mm)."""
        ...


@dataclass(frozen=True)
class RodAnswer:
    """One rod under one load.

    at: contact points from the wood; length: what each stands for (mm). top, bottom: forces down on the rod
    from the top skin, and up from the bottom one (N); gap_top, gap_bottom: what is open there (mm). V, M:
    shear (N) and moment (N mm) at the wood face, the rod's weight included; y, theta: drop (mm) and turn (rad)
    there. drop: of the rod at the points (mm). weight (N/mm) out to `tip` (mm).
    """

    at: Floats
    length: Floats
    top: Floats
    bottom: Floats
    gap_top: Floats
    gap_bottom: Floats
    V: float
    M: float
    y: float
    theta: float
    drop: Floats
    weight: float
    tip: float

    @property
    def force(self) -> float:
        """What the shelf puts on the rod in all (N)."""
        return float(self.top.sum() - self.bottom.sum())

    def moment(self, x: float) -> float:
        """Return the moment in the free part at a distance from the wood (N mm)."""
        arm = np.clip(self.at - x, 0.0, None)
        own = self.weight * max(self.tip - x, 0.0) ** 2 / 2
        return float((self.top - self.bottom) @ arm + own)

    def line_force(self, over: float) -> float:
        """Return the greatest force per length on one skin, averaged over a length of the rod (N/mm).

        over: length (mm), not more than the slot's.
        """
        mean = windows(self.length, over)
        return max(float((mean @ force).max()) for force in (self.top, self.bottom))


def windows(length: Floats, over: float) -> Floats:
    """Return what turns the forces at a rod's points to means over a length of it: one row per place of the window.

    The force of a point counts as even over what it stands for; the window's start or end lies where that changes.

    Args:
        length: what each point stands for (points,) (mm).
        over: length of the window (mm), cut to that of all.

    Returns:
        (windows, points) (1/mm).
    """
    edges = np.concatenate([[0.0], np.cumsum(length)])
    over = min(over, float(edges[-1]))
    starts = np.concatenate([edges, edges - over])
    starts = starts[(starts >= -1e-9) & (starts + over <= edges[-1] + 1e-9)]
    low = np.maximum(edges[:-1], starts[:, None])
    high = np.minimum(edges[1:], starts[:, None] + over)
    return np.asarray(np.clip(high - low, 0.0, None) / length / over)


@dataclass(frozen=True, eq=False)
class Answer:
    """A section on its rods under one load.

    read: drop of the sites to read (mm). pushed: force down on every site (N). whole: how the section moves
    as a whole. loaded: the load. touching: contacts that press, or are glued. force, gap: of every contact (N, mm), in
    the order of `Resting`. faces: V and M at every wood face, the rods' weight included (2 rods,). own: factor on the
    rods' own weight. open: what is open at every contact with no load on the section (mm).
    """

    resting: Resting = field(repr=False)
    read: Floats
    pushed: Floats
    whole: Floats
    loaded: Loading
    touching: NDArray[np.bool_]
    force: Floats
    gap: Floats
    faces: Floats
    own: float
    open: Floats

    @cached_property
    def rods(self) -> tuple[RodAnswer, ...]:
        """Rod by rod what was found."""
        return self.resting.rod_by_rod(self)

    @property
    def rest(self) -> float:
        """Potential energy but for the load's own work, by its dual: strain, and play taken up by forces (N mm)."""
        p, of = self.force, self.resting
        strain = 2 * self.pushed @ self.loaded.drop + p @ of.give @ p + of.own_work * self.own**2
        return float(-strain / 2 - p @ self.open)

    @property
    def potential(self) -> float:
        """Potential energy (N mm), the least of all positions it could take."""
        return self.rest - self.loaded.own / 2

    @cached_property
    def figures(self) -> Floats:
        """V and M at every wood face, drops read, forces on sites, moves as a whole, contact forces: in one row."""
        return np.concatenate([self.faces, self.read, self.pushed, self.whole, self.force])


@dataclass(frozen=True, eq=False)
class Scanned:
    """What several loads come to, one row for each.

    settled: whether it was found; rows of those for which it was not mean nothing. touching: (loads, contacts).
    figures: (loads, figures) as `Answer.figures` has them.
    """

    settled: NDArray[np.bool_]
    touching: NDArray[np.bool_]
    figures: Floats


@dataclass(frozen=True)
class Influence:
    """How figures change.

    per_drop: per drop of every site (figures, sites). per_whole: per work on each way of moving (figures, modes).
    per_gap: per gap that is opened at each contact (figures, contacts).
    """

    per_drop: Floats
    per_whole: Floats
    per_gap: Floats

    def of(self, drop: Floats, whole: Floats) -> Floats:
        """Return how much each load adds to each figure (figures, loads).

        drop: (sites, loads) and whole: (modes, loads) of the loads, as `Loaded` has them.
        """
        return np.asarray(self.per_drop @ drop + self.per_whole @ whole)


@dataclass(frozen=True)
class Asked:
    """One load to be solved under; arguments as of `Resting.solve`."""

    loaded: Loading
    own: float = 1.0
    raised: Sequence[float] | None = None


@dataclass(frozen=True)
class Resting:
    """A section on its rods, ready for any load.

    Contacts stand in order: per rod those under the top skin, then those over the bottom one. touched: how
    many sites the rods touch; the others are read. points: contact points along a rod. sign: -1 where the top
    skin is pushed up and the rod down, 1 at the bottom skin. opens: (contacts, sites) what a drop of the sites
    opens. arms: (2 rods, contacts) V and M at every wood face per force down on the rods. faces: (2 rods,
    2 rods) drop and turn there per V and M. flexibility: (contacts, contacts) drop of the rods per force down
    on them (mm/N). give: all that gives at the contacts per contact force (mm/N).
    """

    condensed: Condensed
    rods: tuple[Slotted, ...]
    touched: int
    points: int
    sign: Floats
    opens: Floats
    arms: Floats
    faces: Floats
    flexibility: Floats
    give: Floats

    @cached_property
    def play(self) -> Floats:
        """What is open at every contact with nothing loaded (mm); glue fills whatever a rod as set leaves open."""
        level = _each(
            [(0.0, 0.0) if r.glued else (r.above, r.below) for r in self.rods], self.points
        )
        if not any(any(r.rise) for r in self.rods):
            return level
        at = gregory(self.points)[0]
        rises = [
            np.tile((1 - at) * r.rise[0] + at * r.rise[1], 2) * (not r.glued) for r in self.rods
        ]
        return np.asarray(level + self.sign * np.concatenate(rises))

    @cached_property
    def one_way(self) -> NDArray[np.bool_]:
        """Whether each contact only presses."""
        return _each([(not r.glued, not r.glued) for r in self.rods], self.points) > 0

    @cached_property
    def ways(self) -> Floats:
        """What each way the section can move as a whole opens at every contact (contacts, modes)."""
        return np.asarray(self.opens @ self.condensed.modes)

    @cached_property
    def own(self) -> Floats:
        """V and M at every wood face of the rods' own weight (2 rods,)."""
        weights = [(r.bar.weight * r.tip, r.bar.weight * r.tip**2 / 2) for r in self.rods]
        return np.array(weights).ravel()

    @cached_property
    def sag(self) -> Floats:
        """Drop of the rods at the contacts under their own weight (mm)."""
        bent = [np.tile(r.bar.sag(r.points(self.points)[0], r.tip), 2) for r in self.rods]
        return np.asarray(self.arms.T @ (self.faces @ self.own) + np.concatenate(bent))

    @cached_property
    def own_work(self) -> float:
        """Work of the rods' own weight on the movements it makes by itself (N mm)."""
        bent = sum(r.bar.weight**2 * r.tip**5 / (20 * r.bar.E * r.bar.I) for r in self.rods)
        return float(self.own @ self.faces @ self.own + bent)

    def solve(
        self,
        loaded: Loading,
        *,
        own: float = 1.0,
        raised: Sequence[float] | None = None,
        like: Answer | None = None,
    ) -> Answer:
        """Return forces, gaps and drops under one load; forces balance the load to 1e-9 of it.

        Args:
            loaded: the load.
            own: factor on the rods' own weight.
            raised: how far every rod stands above the plane they should lie in (mm); None: all lie in it.
            like: an answer under a load much the same, to begin from; it changes the time only.

        Raises:
            Mechanism: if the rods cannot carry the load, or leave the shelf a way to move as a whole.
        """
        gap = self._gap(own, raised)
        found = touch(
            M=self.give,
            h=gap + self.opens @ loaded.drop,
            N=self.ways,
            g=loaded.whole,
            one_way=self.one_way,
            guess=self.sign < 0 if like is None else like.touching,
        )
        return self._answers([Asked(loaded, own, raised)], [found], gap[None])[0]

    def solve_all(
        self,
        asked: Sequence[Asked],
        near: Tables | None = None,
        like: Sequence[NDArray[np.bool_] | None] = (),
    ) -> list[Answer | Mechanism]:
        """Return what `solve` gives under each of several loads, or why it is not carried; many cost little more.

        Args:
            asked: the loads.
            near: contacts that touch much as under these loads; None: as is usual. It learns.
            like: of each load what touched under one much the same, if that is known. Both change the time only.
        """
        tables = self._near(near)
        if tables is None or not asked:
            return [self._alone(each) for each in asked]
        gap = np.array([self._gap(each.own, each.raised) for each in asked])
        drop = np.array([each.loaded.drop for each in asked])
        found = tables.touch(
            gap + drop @ self.opens.T, np.array([each.loaded.whole for each in asked]), like
        )
        sound = [k for k, each in enumerate(found) if isinstance(each, Touch)]
        touches = [each for each in found if isinstance(each, Touch)]
        answers = iter(self._answers([asked[k] for k in sound], touches, gap[sound]))
        return [next(answers) if isinstance(each, Touch) else each for each in found]

    def _alone(self, asked: Asked) -> Answer | Mechanism:
        try:
            return self.solve(asked.loaded, own=asked.own, raised=asked.raised)
        except Mechanism as lost:
            return lost

    @cached_property
    def usual(self) -> NDArray[np.bool_] | None:
        """Contacts that touch under a load on the places to read; None if the shelf falls off under it."""
        one, reads = self.condensed, slice(self.touched, None)
        drop = USUAL * one.flexibility[:, reads].sum(axis=1)
        try:
            found = touch(
                M=self.give,
                h=self._gap(1.0, None) + self.opens @ drop,
                N=self.ways,
                g=USUAL * one.modes[reads].sum(axis=0),
                one_way=self.one_way,
                guess=self.sign < 0,
            )
        except Mechanism:
            return None
        return np.asarray(found.force > 0)

    def _near(self, near: Tables | None) -> Tables | None:
        if near is not None and near.first.M is not self.give:
            msg = "these contacts are of another shelf, or of other rods"
            raise ValueError(msg)
        if near is None and self.usual is not None:
            return self.about(self.usual)
        return near

    def begun(self) -> Tables | None:
        """Return contacts with those taken as touching that do as is usual; None if nothing holds the shelf."""
        return self._near(None) or self.about(self.sign < 0)

    def most(self, answers: Sequence[Answer]) -> Tables | None:
        """Return contacts with those taken as touching that do under most of some loads; None if they do not hold."""
        on = np.array([answer.touching for answer in answers])
        made = self.about(on.mean(axis=0) > 1 / 2)
        if made is not None:
            drop = np.array([answer.loaded.drop for answer in answers])
            gap = np.array([answer.open for answer in answers])
            whole = np.array([answer.loaded.whole for answer in answers])
            made.seen(gap + drop @ self.opens.T, whole, on)
        return made

    def about(self, on: NDArray[np.bool_]) -> Tables | None:
        """Return contacts with these taken as touching; None if they do not hold the shelf."""
        try:
            return Tables(table(M=self.give, N=self.ways, one_way=self.one_way, on=on))
        except Mechanism:
            return None

    def _answers(self, asked: Sequence[Asked], found: Sequence[Touch], gap: Floats) -> list[Answer]:
        """Return what was found under each load, as answers."""
        if not found:
            return []
        force, whole = (np.array([getattr(f, name) for f in found]) for name in ("force", "whole"))
        own = np.array([each.own for each in asked])
        drop = np.array([each.loaded.drop for each in asked])
        faces, read, pushed = self._told(drop, force, whole, own)
        touching = (force > 0) | ~self.one_way
        return [
            Answer(
                resting=self,
                read=read[k],
                pushed=pushed[k],
                whole=whole[k],
                loaded=each.loaded,
                touching=touching[k],
                force=force[k],
                gap=found[k].gap,
                faces=faces[k],
                own=each.own,
                open=gap[k],
            )
            for k, each in enumerate(asked)
        ]

    def _told(
        self, drop: Floats, force: Floats, whole: Floats, own: Floats
    ) -> tuple[Floats, Floats, Floats]:
        """Return what acts at the wood faces, the drops of the sites to read and the forces on sites, load by load."""
        one, pushed = self.condensed, force @ self.opens
        moved = drop + pushed @ one.flexibility + whole @ one.modes.T
        faces = -(self.sign * force) @ self.arms.T + own[:, None] * self.own
        return faces, moved[:, self.touched :], pushed

    def scan(
        self,
        drop: Floats,
        whole: Floats,
        own: Floats,
        gap: Floats,
        near: Tables,
        like: Sequence[NDArray[np.bool_] | None] = (),
    ) -> Scanned:
        """Return what several loads come to, as far as the quick search for what touches tells it.

        Args:
            drop: of the sites under each load (loads, sites) (mm).
            whole: work of each on each way of moving (loads, modes).
            own: factor on the rods' own weight (loads,).
            gap: what is open at every contact with no load on the section (loads, contacts) (mm).
            near: contacts that touch much as under these loads. It learns.
            like: of each load what touched under one much the same, if that is known. Both change the time only.
        """
        found = near.settled_all(gap + drop @ self.opens.T, whole, like)
        some = np.array(sorted(found), dtype=np.intp)
        force, moves = np.zeros((len(drop), len(self.sign))), np.zeros(whole.shape)
        for k in some.tolist():
            force[k], moves[k] = found[k].force, found[k].whole
        faces, read, pushed = self._told(drop, force, moves, own)
        settled = np.zeros(len(drop), dtype=bool)
        settled[some] = True
        return Scanned(
            settled,
            (force > 0) | ~self.one_way,
            np.hstack([faces, read, pushed, moves, force]),
        )

    def coarser(self, points: int) -> Resting:
        """Return the same section on the same rods with so many contact points along each, to look about quickly."""
        return _rest(self.condensed, self.rods, self.faces, self.touched, points)

    def influences(
        self, on: NDArray[np.bool_], of: Floats, near: Tables | None = None
    ) -> Influence:
        """Return how figures change with a load, each as long as the same contacts touch.

        Adjoint of the contact conditions: with K [p; q] = -[h; g], a figure a.p + b.q changes by -x.dh - y.dg,
        where K [x; y] = [a; b]. It only proposes where to load; every load is then solved.

        Args:
            on: what touches under each answer (answers, contacts).
            of: the weights of each figure, one row for each answer, as `Answer.figures` has what they weigh.
            near: as for `solve_all`.

        Raises:
            Mechanism: if the shelf falls off under any load, so that nothing is known of what touches as a rule.
        """
        tables = self._near(near)
        if tables is None:
            raise Mechanism(NOWHERE)
        whole, reads = self.condensed, slice(self.touched, None)
        faces, read, pushed, moved, contact = np.split(of, self.parts, axis=1)
        pressed = contact - (faces @ self.arms) * self.sign
        pressed += (read @ whole.flexibility[reads] + pushed) @ self.opens.T
        left = read @ whole.modes[reads] + moved
        # What does not touch has no force. Solved for all the same it leaves rounding, which would be driven up.
        x, y = tables.first.held_to(-pressed * on, -left, on)
        per_drop = -(x @ self.opens)
        per_drop[:, reads] += read
        return Influence(per_drop, -y, -x)

    @cached_property
    def parts(self) -> tuple[int, ...]:
        """Where in `Answer.figures` the drops begin, the forces on sites, the moves as a whole, and the contacts."""
        sites, modes = self.condensed.modes.shape
        sizes = (2 * len(self.rods), sites - self.touched, sites, modes)
        return tuple(np.cumsum(sizes).tolist())

    @property
    def figures(self) -> int:
        """How many figures an answer has."""
        return self.parts[-1] + len(self.sign)

    def raising(self, raised: Sequence[float]) -> Floats:
        """Return how much rods that stand above the plane they should lie in open at every contact (mm)."""
        return self.sign * _each([(r, r) for r in raised], self.points)

    def rod_by_rod(self, answer: Answer) -> tuple[RodAnswer, ...]:
        """Return what an answer says of every rod."""
        acting, own = answer.faces, answer.own
        face = self.faces @ acting
        drop = self.flexibility @ (-self.sign * answer.force) + self.sag * own
        made = []
        for i, rod in enumerate(self.rods):
            top = slice(2 * self.points * i, 2 * self.points * i + self.points)
            bottom = slice(top.stop, top.stop + self.points)
            at, length = rod.points(self.points)
            made.append(
                RodAnswer(
                    at=at,
                    length=length,
                    top=answer.force[top],
                    bottom=answer.force[bottom],
                    gap_top=answer.gap[top],
                    gap_bottom=answer.gap[bottom],
                    V=float(acting[2 * i]),
                    M=float(acting[2 * i + 1]),
                    y=float(face[2 * i]),
                    theta=float(face[2 * i + 1]),
                    drop=drop[top],
                    weight=rod.bar.weight * own,
                    tip=rod.tip,
                )
            )
        return tuple(made)

    def _gap(self, own: float, raised: Sequence[float] | None) -> Floats:
        """Return what is open at every contact with no load on the section (mm)."""
        gap = self.play - self.sign * self.sag * own
        return gap if raised is None else gap + self.raising(raised)


def rest(
    condensed: Condensed,
    rods: Sequence[Slotted],
    *,
    share: Floats | None = None,
    count: int = SITES,
    points: int = POINTS,
) -> Resting:
    """Return a section on its rods. Cheap: rods, beds and play may change without condensing again.

    Args:
        condensed: the section, condensed with `sites` of these rods.
        rods: the rods.
        share: (2 rods, 2 rods) how far the members that hold the rods go down and turn at the wood faces, per
            V and M of every rod, in the order V1, M1, V2, M2 (mm, rad per N, N mm), symmetric: couples rods in
            one stud or block. None: rigid members.
        count: sites along a rod and skin, as condensed.
        points: contact points along a rod.

    Raises:
        ValueError: if the section was condensed for rods in other places.
    """
    touched = sites(rods, count=count)
    if not rods or condensed.sites[: len(touched)] != touched:
        msg = "the section was condensed for rods in other places"
        raise ValueError(msg)
    faces = block_diag(*(rod.bar.at_face() for rod in rods))
    faces = faces if share is None else faces + share
    return _rest(condensed, tuple(rods), faces, len(touched), points)


def _rest(
    condensed: Condensed, rods: tuple[Slotted, ...], faces: Floats, touched: int, points: int
) -> Resting:
    sign = _each([(-1.0, 1.0) for _ in rods], points)
    opens = np.zeros((len(sign), len(condensed.sites)))
    count = touched // (2 * len(rods))
    opens[:, :touched] = sign[:, None] * block_diag(*[between(count, points)] * 2 * len(rods))
    at = [rod.points(points)[0] for rod in rods]
    arms = block_diag(*(np.tile(np.vstack([np.ones(points), x]), 2) for x in at))
    bent = [np.tile(r.bar.cantilever(x, x), (2, 2)) for r, x in zip(rods, at, strict=True)]
    flexibility = arms.T @ faces @ arms + block_diag(*bent)
    length = np.concatenate([np.tile(rod.points(points)[1], 2) for rod in rods])
    beds = 1 / (_each([(r.bed_top, r.bed_bottom) for r in rods], points) * length)
    skins = opens @ condensed.flexibility @ opens.T
    return Resting(
        condensed=condensed,
        rods=rods,
        touched=touched,
        points=points,
        sign=sign,
        opens=opens,
        arms=arms,
        faces=faces,
        flexibility=flexibility,
        give=skins + sign[:, None] * flexibility * sign + np.diag(beds),
    )


def _each(of_rod: Sequence[tuple[float, float]], points: int) -> Floats:
    """Spread two figures of each rod over its contacts, top and bottom."""
    return np.repeat(np.array(of_rod, dtype=float).ravel(), points)
