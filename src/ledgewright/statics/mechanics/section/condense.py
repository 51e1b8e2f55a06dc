"""A section factored once, and what it does at chosen places under any load: its stiffness seen from the rods."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from scipy.linalg import qr

from ledgewright.statics.mechanics.section import energy
from ledgewright.statics.mechanics.section.energy import NAMES, PER_NODE
from ledgewright.statics.mechanics.section.grid import Bools, Grid, Ints, Wanted, grid
from ledgewright.statics.mechanics.section.levels import (
    Factor,
    NotHeldError,
    factor,
    gather,
)
from ledgewright.statics.mechanics.section.parts import (
    Mechanism,
    Point,
    Pressure,
    Section,
    Side,
)
from ledgewright.statics.mechanics.section.sheet import Floats, turned

MESH = 40.0
"""Largest cell (mm)."""
NULL = 1e-9


@dataclass(frozen=True)
class Site:
    """A place on a skin whose drop is asked for, or that something pushes on.

    reach: how far past it the drop is read, straight on as the skin slopes there (mm): a place on what is glued to the
    skin's edge.
    """

    x: float
    y: float
    side: Side = "top"
    reach: Point = (0.0, 0.0)


@dataclass(frozen=True)
class Loaded:
    """A section under one load, kept from moving as a whole.

    force: the load on every movement. drop: (sites,) of the sites (mm). whole: (modes,) work of the load on each
    way the section can move as a whole. of: the section.
    """

    force: Floats
    drop: Floats
    whole: Floats
    of: Condensed

    @cached_property
    def moved(self) -> Floats:
        """Every movement (n,): solved only when asked for, since the sites need reciprocity alone."""
        return np.asarray(self.of.factor.solve(self.force[:, None])[:, 0])

    @property
    def own(self) -> float:
        """Work of the load on the movements it makes by itself (N mm)."""
        return float(self.force @ self.moved)


@dataclass(frozen=True)
class Condensed:
    """A section seen from its sites.

    flexibility: (sites, sites) drop of each under 1 N down on another (mm/N), the section kept from moving as a whole
    in some way that does no work once the forces balance. modes: (sites, modes) the ways it still can move as a whole
    (at most 3: down and two tilts); shapes: the same of every movement. columns: (movements, sites) every movement
    under 1 N down on each site; by reciprocity the drop of the sites under 1 on each movement. seen: which movements
    make up the drop of each site, and how much of each (sites, 16). factored: None where the sites alone are asked for.
    """

    section: Section
    sites: tuple[Site, ...]
    grid: Grid
    factored: Factor | None
    columns: Floats
    seen: tuple[Ints, Floats]
    flexibility: Floats
    modes: Floats
    shapes: Floats

    @property
    def factor(self) -> Factor:
        """The section factored.

        Raises:
            ValueError: if only its sites were kept.
        """
        if self.factored is None:
            msg = "only the sites of this section were kept"
            raise ValueError(msg)
        return self.factored

    def for_sites(self) -> Condensed:
        """Return the same for its sites alone, in a fraction of the memory."""
        return replace(self, factored=None)

    @cached_property
    def fills(self) -> tuple[Floats, ...]:
        """Share of each part of each cell that each piece of core covers (n, PARTS^2)."""
        return tuple(self.grid.cover(fill.plan) for fill in self.section.fills)

    @cached_property
    def pieces(self) -> tuple[tuple[Floats, ...], tuple[Floats, ...]]:
        """Share of each cell that each piece of the top and of the bottom skin covers (n,)."""
        top, bottom = (
            tuple(self.grid.cover(piece.plan).mean(axis=1) for piece in skin.pieces)
            for skin in (self.section.top, self.section.bottom)
        )
        return top, bottom

    def load(self, *loads: Pressure) -> Loaded:
        """Return the section under loads down on its top skin.

        Raises:
            ValueError: if a load lies off the skin.
        """
        return self.under(self.pressed(*loads))

    def pressed(self, *loads: Pressure) -> Floats:
        """Return the force of loads down on its top skin on every movement (n,).

        Raises:
            ValueError: if a load lies off the skin.
        """
        force = np.zeros(len(self.grid.place) * PER_NODE)
        for each in loads:
            number, value = energy.pressed(self.grid, each)
            np.add.at(force, number, value)
        return force

    def times(self, stiff: float) -> Condensed:
        """Return the same section so many times as stiff all over: its sites give so much less. Only for `rest`."""
        return self if stiff == 1.0 else replace(self, flexibility=self.flexibility / stiff)

    def under(self, force: Floats) -> Loaded:
        """Return the section under forces on its movements (n,), or under several loads (n, loads)."""
        return Loaded(force, self.columns.T @ force, self.shapes.T @ force, self)

    def move(self, loaded: Loaded, pushed: Floats, as_whole: Floats) -> Floats:
        """Return every movement of the section (n,).

        loaded: its load. pushed: forces down at the sites (N). as_whole: how it moves as a whole.
        """
        return np.asarray(loaded.moved + self.columns @ pushed + self.shapes @ as_whole)

    def per_unit(self, force: Floats, touched: int | None = None) -> Floats:
        """Return every movement under several forces, under 1 N on each site, and of each way to move as a whole.

        Each force is balanced by one spread over the drops of the section: what these do together is nothing once the
        forces balance, and no digits are lost on what the section is pinned by.

        force: (n, loads). touched: how many of the sites, from the first, are asked for; None: all. Returns
        (n, loads + sites + modes).
        """
        number, share = (each[:touched] for each in self.seen)
        unit = np.zeros((len(force), len(number)))
        unit[number, np.arange(len(number))[:, None]] = share
        every = np.hstack([force, unit])
        spread = np.zeros_like(self.shapes)
        spread[::PER_NODE] = self.shapes[::PER_NODE]
        whole = np.linalg.solve(self.shapes.T @ spread, self.shapes.T @ every)
        return np.hstack([self.factor.solve(every - spread @ whole), self.shapes])

    def moves(self, force: Floats, pushed: Floats, as_whole: Floats) -> Floats:
        """Return every movement of the section under several loads at once (n, loads).

        force: on every movement (n, loads). pushed: forces down at the sites (sites, loads) (N). as_whole: how it moves
        as a whole (modes, loads).
        """
        # Solved together they balance, so that nothing comes on what the section is pinned by: fewer digits are lost.
        number, share = self.seen
        total = force.copy()
        np.add.at(total, number, share[:, :, None] * pushed[:, None, :])
        return np.asarray(self.factor.solve(total) + self.shapes @ as_whole)

    def value(
        self, moved: Floats, points: Floats, side: Side, name: str = "w", dx: int = 0, dy: int = 0
    ) -> Floats:
        """Return a movement ("w", "u" or "v") of a skin, or a derivative of it, at points (m, 2).

        Raises:
            ValueError: if a point lies off the skin.
        """
        number, factors = energy.rows_at(self.grid, points, 0 if side == "top" else 1, name, dx, dy)
        return np.asarray((moved[number] * factors).sum(axis=1))

    def resultants(
        self, moved: Floats, points: Floats, side: Side, piece: int
    ) -> tuple[Floats, Floats]:
        """Return N (m, 3) in N/mm and M (m, 3) in N of a piece of a skin at points, as (x, y, xy); M from -D curvature.

        M is positive where it pulls the underside. Where pieces meet at a point, its cell decides.
        """
        of = self.section.skin(side).pieces[piece]
        stretch = [("u", 1, 0), ("v", 0, 1), ("u", 0, 1), ("v", 1, 0)]
        a, b, c, d = (self.value(moved, points, side, *each) for each in stretch)
        strain = np.stack([a, b, c + d], axis=1)
        bends = [("w", 2, 0), ("w", 0, 2), ("w", 1, 1)]
        e, f, g = (self.value(moved, points, side, *each) for each in bends)
        bent = np.stack([e, f, 2 * g], axis=1)
        A, D = turned(of.sheet.membrane, of.grain), turned(of.sheet.bending, of.grain)
        return strain @ A, -bent @ D


def condense(
    section: Section,
    sites: Sequence[Site],
    *,
    mesh: float = MESH,
    lines: Sequence[Point] = (),
    wanted: Wanted = ((), ()),
    like: Condensed | None = None,
) -> Condensed:
    """Return a section factored and seen from its sites. The dear step: once per shape and stiffness.

    Args:
        section: skins, core, edging and what is held.
        sites: where rods touch, and where drop is read off.
        mesh: largest cell (mm).
        lines: points through which a grid line is to run each way.
        wanted: x and y of grid lines that are to run where no other is near.
        like: a section of the same plans and other stiffness, whose grid is taken over.

    Raises:
        Mechanism: if a part of the section moves without resistance by itself.
        ValueError: if there is no skin, a site lies off its skin, or the like section has other plans.
    """
    net = (
        grid(section, mesh=mesh, lines=lines, wanted=wanted)
        if like is None
        else _grid_of(like, section)
    )
    kept = ~_held(section, net)
    matrix = gather(net.begins * PER_NODE, energy.blocks(section, net), kept)
    loose = np.zeros_like(kept)
    loose[kept] = matrix.diagonal() <= 0
    held = ~kept | loose
    rigid = _rigid(section, net)
    rigid[loose] = 0.0
    bending, in_plane = _modes(rigid, held)
    pins = _pins(np.hstack([bending, in_plane]), held)
    try:
        made = factor(matrix, kept, ~(held | pins))
    except NotHeldError as lost:
        raise Mechanism(_named(net, lost.at)) from lost
    number, share = _seen(net, sites)
    unit = np.zeros((len(held), len(sites)), order="F")
    unit[number, np.arange(len(sites))[:, None]] = share
    columns = made.solve(unit)
    flexibility = (columns[number] * share[:, :, None]).sum(axis=1)
    return Condensed(
        section=section,
        sites=tuple(sites),
        grid=net,
        factored=made,
        columns=columns,
        seen=(number, share),
        flexibility=(flexibility + flexibility.T) / 2,
        modes=(bending[number] * share[:, :, None]).sum(axis=1),
        shapes=bending,
    )


def _grid_of(like: Condensed, section: Section) -> Grid:
    if _plans(like.section) != _plans(section):
        msg = "the like section has other plans"
        raise ValueError(msg)
    return like.grid


def _plans(section: Section) -> object:
    """Return all that a grid is made from."""
    skins = ([(p.plan for p in skin.pieces), skin.cuts] for skin in (section.top, section.bottom))
    return [(tuple(plans), cuts) for plans, cuts in skins], section.held


def _seen(net: Grid, sites: Sequence[Site]) -> tuple[Ints, Floats]:
    """Return which movements make up the drop of each site, and how much of each."""
    number, share = np.zeros((len(sites), 16), dtype=np.intp), np.zeros((len(sites), 16))
    for side, name in enumerate(("top", "bottom")):
        mine = [i for i, s in enumerate(sites) if s.side == name]
        if mine:
            points = np.array([(sites[i].x, sites[i].y) for i in mine])
            number[mine], share[mine] = energy.rows_at(net, points, side)
            reach = np.array([sites[i].reach for i in mine])
            if reach.any():
                for along, slope in zip(reach.T, ((1, 0), (0, 1)), strict=True):
                    _, tilt = energy.rows_at(net, points, side, "w", *slope)
                    share[mine] += along[:, None] * tilt
    return number, share


def _held(section: Section, net: Grid) -> Bools:
    held = np.zeros(len(net.place) * PER_NODE, dtype=bool)
    for each in section.held:
        nodes = net.on(each.start, each.end, 0 if each.side == "top" else 1)
        if not len(nodes):
            msg = f"nothing of the {each.side} skin lies on the line held from {each.start} to {each.end}"
            raise ValueError(msg)
        for name in each.dofs:
            held[nodes * PER_NODE + NAMES.index(name)] = True
    return held


def _rigid(section: Section, net: Grid) -> Floats:
    """Return the six movements of the section as a whole (n, 6): down, tilts about y and x, along x, along y, turn."""
    x, y = net.place.T
    z = np.where(net.skin == 0, -0.5, 0.5) * section.apart
    made = np.zeros((len(x), PER_NODE, 6))
    at = {name: i for i, name in enumerate(NAMES)}
    made[:, at["w"], 0] = 1
    made[:, at["w"], 1], made[:, at["w_x"], 1], made[:, at["u"], 1] = x, 1, -z
    made[:, at["w"], 2], made[:, at["w_y"], 2], made[:, at["v"], 2] = y, 1, -z
    made[:, at["u"], 3] = 1
    made[:, at["v"], 4] = 1
    made[:, at["u"], 5], made[:, at["v"], 5] = -y, x
    return made.reshape(-1, 6)


def _modes(rigid: Floats, held: Bools) -> tuple[Floats, Floats]:
    """Return the ways the section can still move as a whole: those with a drop, and those in the plane alone."""
    left = rigid @ _null(rigid[held])
    drops = np.zeros_like(left)
    drops[::PER_NODE] = left[::PER_NODE]
    none = _null(drops)
    with_drop = _null(none.T)
    return left @ with_drop, left @ none


def _null(rows: Floats) -> Floats:
    """Return a basis of what the rows do not see, columns weighed by their own size."""
    count = rows.shape[1]
    if not count:
        return np.zeros((0, 0))
    size = np.linalg.norm(rows, axis=0)
    size[size == 0] = 1.0
    _, values, vectors = np.linalg.svd(rows / size, full_matrices=False)
    rank = int((values > NULL * max(values.max(initial=0.0), 1e-300)).sum())
    _, _, whole = np.linalg.svd(vectors[:rank], full_matrices=True)
    return np.asarray((whole[rank:] / size).T)


def _pins(modes: Floats, held: Bools) -> Bools:
    """Return as many movements to pin as there are modes, chosen far apart (pivoted QR), so that they hold them all."""
    pins = np.zeros(len(held), dtype=bool)
    if modes.shape[1]:
        values = [NAMES.index(name) for name in ("w", "u", "v")]
        may = np.flatnonzero(~held & np.isin(np.arange(len(held)) % PER_NODE, values))
        size = np.abs(modes[may]).max(axis=0)
        _, _, order = qr((modes[may] / size).T, mode="economic", pivoting=True)
        pins[may[order[: modes.shape[1]]]] = True
    return pins


def _named(net: Grid, number: int) -> str:
    node, inside = divmod(number, PER_NODE)
    side = "top" if net.skin[node] == 0 else "bottom"
    x, y = net.place[node]
    movement = {"w": "drop", "u": "slide along x", "v": "slide along y"}
    name = NAMES[inside]
    said = movement.get(name, f"turn ({name})")
    return f"the {side} skin at ({x:.0f}, {y:.0f}) mm moves by itself: nothing resists its {said}"
