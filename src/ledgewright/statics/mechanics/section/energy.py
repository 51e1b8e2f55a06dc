"""The elastic energy of a section cell by cell: bending and stretch of each skin, core shear, core through-thickness.

Each node of a skin has eight movements, in the order of NAMES: the drop w with both slopes and the twist (Bogner-Fox-
Schmit), u and v in the plane, cubic along themselves and linear across.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cache
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from ledgewright import plane
from ledgewright.statics.mechanics.section.basis import (
    GAUSS,
    Family,
    integrals,
    means,
    products,
    running,
    shapes,
)
from ledgewright.statics.mechanics.section.grid import PARTS, SAME, Grid, Ints, is_square
from ledgewright.statics.mechanics.section.parts import (
    Beam,
    Dof,
    Fill,
    Pressure,
    Ring,
    Section,
    Skin,
)
from ledgewright.statics.mechanics.section.sheet import Floats, turned

NAMES: tuple[Dof, ...] = ("w", "w_x", "w_y", "w_xy", "u", "u_x", "v", "v_y")
PER_NODE = len(NAMES)
PER_SKIN = 4 * PER_NODE


class Field(NamedTuple):
    """One movement of one skin: families along x and y, and its first place among a node's movements."""

    skin: int
    first: int
    families: tuple[Family, Family]


def _field(skin: int, name: str) -> Field:
    families: dict[str, tuple[int, tuple[Family, Family]]] = {
        "w": (0, ("hermite", "hermite")),
        "u": (4, ("hermite", "linear")),
        "v": (6, ("linear", "hermite")),
    }
    return Field(skin, *families[name])


def _ends(family: Family) -> list[tuple[int, int]]:
    """End and order of derivative of each function of a family."""
    return [(0, 0), (0, 1), (1, 0), (1, 1)] if family == "hermite" else [(0, 0), (1, 0)]


@cache
def _places(field: Field) -> tuple[Ints, Ints]:
    """Return the place of each function among the 64 of a cell, and its order of derivative each way (2, functions)."""
    place, order = [], []
    for ex, ox in _ends(field.families[0]):
        for ey, oy in _ends(field.families[1]):
            inner = ox + 2 * oy if field.first == 0 else ox + oy
            place.append(field.skin * PER_SKIN + (2 * ex + ey) * PER_NODE + field.first + inner)
            order.append((ox, oy))
    return np.array(place), np.array(order).T


class Part(NamedTuple):
    """A derivative of a field times a factor."""

    field: Field
    dx: int
    dy: int
    factor: float


Row = tuple[Part, ...]
"""One strain: a sum of parts."""


def bending_rows(skin: int, dx: int = 0, dy: int = 0) -> tuple[Row, ...]:
    """Return the curvatures of a skin (w_xx, w_yy, 2 w_xy), or a derivative of them."""
    w = _field(skin, "w")
    return (
        (Part(w, 2 + dx, dy, 1.0),),
        (Part(w, dx, 2 + dy, 1.0),),
        (Part(w, 1 + dx, 1 + dy, 2.0),),
    )


def stretch_rows(skin: int) -> tuple[Row, ...]:
    """Return the strains of a skin in its plane (e_x, e_y, g_xy)."""
    u, v = _field(skin, "u"), _field(skin, "v")
    return ((Part(u, 1, 0, 1.0),), (Part(v, 0, 1, 1.0),), (Part(u, 0, 1, 1.0), Part(v, 1, 0, 1.0)))


def _times(rows: Sequence[Row], factor: float) -> tuple[Row, ...]:
    return tuple(tuple(p._replace(factor=p.factor * factor) for p in row) for row in rows)


def _plus(a: Sequence[Row], b: Sequence[Row]) -> tuple[Row, ...]:
    return tuple(x + y for x, y in zip(a, b, strict=True))


def shear_rows(section: Section) -> tuple[Row, ...]:
    """Return the core's shear strains along x and y: (slip + lever_1 grad w1 + lever_2 grad w2)/c."""
    c = section.core
    rows = []
    for name, dx, dy in (("u", 1, 0), ("v", 0, 1)):
        rows.append(
            (
                Part(_field(0, name), 0, 0, -1 / c),
                Part(_field(1, name), 0, 0, 1 / c),
                Part(_field(0, "w"), dx, dy, (section.top.thick + c) / (2 * c)),
                Part(_field(1, "w"), dx, dy, (section.bottom.thick + c) / (2 * c)),
            )
        )
    return tuple(rows)


def squeeze_rows(section: Section) -> tuple[Row, ...]:
    """Return the core's through-thickness strain (w1 - w2)/c, positive where it is pressed."""
    c = section.core
    return ((Part(_field(0, "w"), 0, 0, 1 / c), Part(_field(1, "w"), 0, 0, -1 / c)),)


class Block(NamedTuple):
    """Stiffness between movements of many cells: numbers of rows (n, r) and columns (n, c), and values (n, r, c).

    A block stands for its transpose too.
    """

    rows: Ints
    columns: Ints
    values: Floats


class _Sum:
    """Adds up quadratic forms as coefficients of pairs of derivatives, per part of a cell."""

    def __init__(self, grid: Grid) -> None:
        self.grid = grid
        self.even = np.ones(len(grid.cells), dtype=bool)
        self.pairs: dict[tuple[Part, Part], Floats] = defaultdict(
            lambda: np.zeros((len(grid.cells), PARTS * PARTS))
        )

    def add(
        self, left: Sequence[Row], stiffness: Floats, right: Sequence[Row], cover: Floats
    ) -> None:
        """Add cover * left^T stiffness right; both orders of a mixed form must be added.

        cover: (n, PARTS^2) share of each part of each cell.
        """
        self.even &= (cover == cover[:, :1]).all(axis=1)
        for i, row in enumerate(left):
            for j, other in enumerate(right):
                if stiffness[i, j] != 0:
                    for a in row:
                        for b in other:
                            key = (a._replace(factor=1.0), b._replace(factor=1.0))
                            self.pairs[key] += cover * (stiffness[i, j] * a.factor * b.factor)

    def blocks(self) -> list[Block]:
        """Return the stiffness of every cell, one block for each two fields that have some."""
        by_field: dict[tuple[Field, Field], list[tuple[Part, Part]]] = defaultdict(list)
        for a, b in self.pairs:
            if (a.field.skin, a.field.first) <= (b.field.skin, b.field.first):
                by_field[a.field, b.field].append((a, b))
        fields = {field for pair in by_field for field in pair}
        numbers = {field: _numbers(self.grid, field) for field in fields}
        scales = {field: _scale(field, *self.grid.size) for field in fields}
        made = []
        for (one, other), pairs in by_field.items():
            hit, values = self._block(one, other, pairs)
            values *= scales[one][hit][:, :, None]
            values *= scales[other][hit][:, None, :]
            if one == other:
                # A block stands for its transpose too, and this one is its own.
                values *= 0.5
            made.append(Block(numbers[one][hit], numbers[other][hit], values))
        return made

    def _block(
        self, one: Field, other: Field, pairs: Sequence[tuple[Part, Part]]
    ) -> tuple[Ints, Floats]:
        """Return the cells in which two fields have stiffness, and the stiffness on the unit cell."""
        width, height = self.grid.size
        coefficients = np.stack([self.pairs[pair] for pair in pairs], axis=1)
        hit = np.flatnonzero(coefficients.any(axis=(1, 2)))
        coefficients = coefficients[hit]
        for k, (a, b) in enumerate(pairs):
            size = _power(width, 1 - a.dx - b.dx) * _power(height, 1 - a.dy - b.dy)
            coefficients[:, k] *= size[hit, None]
        m, n = len(_places(one)[0]), len(_places(other)[0])
        values = np.empty((len(hit), m * n))
        even = self.even[hit]
        values[even] = coefficients[even, :, 0] @ _reference(one, other, tuple(pairs), 1)
        fine = _reference(one, other, tuple(pairs), PARTS)
        values[~even] = coefficients[~even].reshape(-1, len(fine)) @ fine
        return hit, values.reshape(-1, m, n)


def _power(size: Floats, n: int) -> Floats:
    """Return a whole power, without the library's logarithms."""
    made = np.ones_like(size)
    for _ in range(abs(n)):
        made = made * size
    return made if n >= 0 else 1 / made


@cache
def _reference(
    one: Field, other: Field, pairs: tuple[tuple[Part, Part], ...], parts: int
) -> Floats:
    """Return the products on the unit cell per pair and part, flat: (pairs * parts^2, functions * functions)."""
    made = []
    for a, b in pairs:
        along = products(parts, one.families[0], a.dx, other.families[0], b.dx)
        across = products(parts, one.families[1], a.dy, other.families[1], b.dy)
        both = np.einsum("iab,jcd->ijacbd", along, across)
        made.append(both.reshape(parts * parts, -1))
    whole = np.concatenate(made)
    whole.setflags(write=False)
    return whole


def _scale(field: Field, width: Floats, height: Floats) -> Floats:
    """Return what a unit of each function's movement is on the unit cell (n, functions)."""
    _, (ox, oy) = _places(field)
    return np.asarray(np.where(ox, width[:, None], 1.0) * np.where(oy, height[:, None], 1.0))


def blocks(section: Section, grid: Grid) -> list[Block]:
    """Return the stiffness of skins, core and edging. Core counts only where both skins are."""
    made = _Sum(grid)
    for side, skin in enumerate((section.top, section.bottom)):
        _add_skin(made, side, skin)
    both = np.asarray(grid.there.all(axis=0))[:, None]
    for fill, plans in alike(section.fills).items():
        _add_fill(made, section, fill, grid.cover(*plans) * both)
    return made.blocks() + [_beam(section, grid, each) for each in section.beams]


def alike(fills: Sequence[Fill]) -> dict[Fill, list[Ring]]:
    """Return the plans of the pieces of core by what they are, turned the same way or end for end."""
    made: dict[Fill, list[Ring]] = defaultdict(list)
    for fill in fills:
        grain = round(fill.grain % math.pi, 12)
        made[replace(fill, plan=(), grain=0.0 if grain == _HALF_TURN else grain)].append(fill.plan)
    return made


_HALF_TURN = round(math.pi, 12)


def _add_skin(made: _Sum, side: int, skin: Skin) -> None:
    there = made.grid.there[side][:, None]
    for piece in skin.pieces:
        cover = made.grid.cover(piece.plan) * there
        bent, stretched = bending_rows(side), stretch_rows(side)
        made.add(bent, turned(piece.sheet.bending, piece.grain), bent, cover)
        made.add(stretched, turned(piece.sheet.membrane, piece.grain), stretched, cover)


def _add_fill(made: _Sum, section: Section, fill: Fill, cover: Floats) -> None:
    c, s = np.cos(fill.grain), np.sin(fill.grain)
    turn = np.array([[c, s], [-s, c]])
    G = turn.T @ np.diag([fill.G_along, fill.G_across]) @ turn * section.core
    # A grain along x or y leaves dust off the diagonal.
    G[abs(G) < 1e-9 * abs(G).max()] = 0.0
    sheared, squeezed = shear_rows(section), squeeze_rows(section)
    made.add(sheared, G, sheared, cover)
    made.add(squeezed, np.array([[fill.E_through * section.core]]), squeezed, cover)
    if fill.E_along > 0:
        stretch = turned((fill.E_along * section.core, 0.0, 0.0, 0.0), fill.grain)
        upper = _plus(stretch_rows(0), _times(bending_rows(0), -section.top.thick / 2))
        lower = _plus(stretch_rows(1), _times(bending_rows(1), section.bottom.thick / 2))
        made.add(upper, stretch / 3, upper, cover)
        made.add(lower, stretch / 3, lower, cover)
        made.add(upper, stretch / 6, lower, cover)
        made.add(lower, stretch / 6, upper, cover)


class Probe(NamedTuple):
    """Where in every cell a strain is read: a family's functions there, by order of derivative (functions, places)."""

    along: Callable[[Family, int], Floats]
    across: Callable[[Family, int], Floats]

    @classmethod
    def points(cls, x: Floats, y: Floats) -> Probe:
        """Return a probe of all pairs of places on the unit length, x outermost."""
        return cls(
            lambda family, order: np.repeat(shapes(family, x, order), len(y), axis=1),
            lambda family, order: np.tile(shapes(family, y, order), len(x)),
        )

    @classmethod
    def parts(cls) -> Probe:
        """Return a probe of the means over the parts of a cell: what the stiffness itself counts."""
        return cls(
            lambda family, order: np.repeat(means(PARTS, family, order), PARTS, axis=1),
            lambda family, order: np.tile(means(PARTS, family, order), PARTS),
        )


def strains(grid: Grid, moved: Floats, rows: Sequence[Row], cells: Ints, probe: Probe) -> Floats:
    """Return strains in cells at the same places of each (cells, places, rows), or (cells, places, rows, loads).

    Args:
        grid: the cells.
        moved: every movement, under one load (n,) or under several (n, loads).
        rows: the strains.
        cells: which cells; their skins must be there.
        probe: where in each cell.
    """
    width, height = (size[cells] for size in grid.size)
    every, read = moved.reshape(len(moved), -1), []
    count = every.shape[1]

    @cache
    def local(of: Field) -> Floats:
        """Movements of each cell's functions: gathered once, however many strains they make up (functions, ...)."""
        weigh = _scale(of, width, height)
        return np.asarray(every[_numbers(grid, of)[cells].T] * weigh.T[:, :, None])

    for row in rows:
        made = np.zeros(())
        for of, dx, dy, factor in row:
            along, across = probe.along(of.families[0], dx), probe.across(of.families[1], dy)
            shape = (along[:, None, :] * across[None, :, :]).reshape(-1, along.shape[1])
            size = _power(width, -dx) * _power(height, -dy) * factor
            # One product of two flat matrices: a stack of small ones takes four times as long.
            flat = shape.T @ local(of).reshape(len(shape), -1)
            made = made + flat.reshape(len(flat), len(cells), count) * size[:, None]
        read.append(made)
    together = np.stack(read, axis=2).swapaxes(0, 1)
    return together.reshape(*together.shape[:3], *moved.shape[1:])


def rows_at(
    grid: Grid, points: Floats, skin: int, name: str = "w", dx: int = 0, dy: int = 0
) -> tuple[Ints, Floats]:
    """Return which movements make up a field's derivative at points of a skin, and how much of each.

    points: (m, 2). Returns numbers (m, functions) into all movements, and factors of the same shape.

    Raises:
        ValueError: if a point lies off the skin.
    """
    field = _field(skin, name)
    spots = grid.find(points, skin)
    return _numbers_in(grid, field, spots[0]), _factors(grid, spots, field, dx, dy)


def _numbers_in(grid: Grid, field: Field, cell: Ints) -> Ints:
    inside = _places(field)[0] - field.skin * PER_SKIN
    return np.asarray(
        grid.node[field.skin][cell][:, inside // PER_NODE] * PER_NODE + inside % PER_NODE
    )


def _factors(
    grid: Grid, spots: tuple[Ints, Floats, Floats], field: Field, dx: int, dy: int
) -> Floats:
    """Return how much each function of a field's cells counts in a derivative, at spots in them (m, functions)."""
    cell, a, b = spots
    width, height = (size[cell] for size in grid.size)
    along = shapes(field.families[0], a, dx) / width**dx
    across = shapes(field.families[1], b, dy) / height**dy
    value = np.einsum("im,jm->mij", along, across).reshape(len(a), -1)
    return np.asarray(value * _scale(field, width, height))


def pressed(grid: Grid, load: Pressure) -> tuple[Ints, Floats]:
    """Return the movements of the top skin that a load pushes on, and its force on each (repeats add up).

    Raises:
        ValueError: if the load lies off the skin.
    """
    if len(load.plan) == 2:
        return _along_line(grid, load)
    field = _field(0, "w")
    pushed = (_pushed_square if is_square(load.plan) else _pushed_slant)(grid, field, load.plan)
    # Of a node's movements only the drop has a share of a uniform load's sum: its functions add up to one.
    number = _numbers(grid, field)
    total = pushed[:, number[0] % PER_NODE == 0].sum()
    if total <= 0:
        msg = f"a load on {load.plan[0]} lies off the shelf"
        raise ValueError(msg)
    hit = pushed.any(axis=1)
    return number[hit], pushed[hit] * (load.force / total)


def _pushed_square(grid: Grid, field: Field, ring: Ring) -> Floats:
    """Return the integrals of each cell's drop functions over a ring with edges along x and y (n, 16), exact."""
    made = np.zeros((len(grid.cells), len(_places(field)[0])))
    column, row = grid.cells.T
    for a, b in pairwise((*plane.ccw(ring), plane.ccw(ring)[0])):
        if abs(a[1] - b[1]) < SAME and a[0] != b[0]:
            along = _stretch(grid.x, min(a[0], b[0]), max(a[0], b[0]))[column]
            across = _stretch(grid.y, a[1], float(grid.y[-1]))[row]
            share = np.einsum("ea,eb->eab", along, across).reshape(made.shape)
            made += share if b[0] > a[0] else -share
    return np.where(grid.there[0][:, None], made, 0.0)


def _stretch(lines: Floats, low: float, high: float) -> Floats:
    """Return the integrals of every step's cubic functions between low and high (steps, 4)."""
    width = np.diff(lines)
    ends = [np.clip((end - lines[:-1]) / width, 0.0, 1.0) for end in (low, high)]
    made = (running("hermite", ends[1]) - running("hermite", ends[0])).T * width[:, None]
    made[:, 1::2] *= width[:, None]
    return np.asarray(made)


def _pushed_slant(grid: Grid, field: Field, ring: Ring) -> Floats:
    """The same over any ring, its cover taken as even in each part of a cell."""
    cover = grid.cover(ring) * grid.there[0][:, None]
    hit = np.flatnonzero(cover.any(axis=1))
    width, height = (size[hit] for size in grid.size)
    along, across = (integrals(PARTS, family) for family in field.families)
    parts = cover[hit].reshape(-1, PARTS, PARTS)
    share = np.einsum("eij,ia,jb->eab", parts, along, across).reshape(len(hit), -1)
    made = np.zeros((len(cover), share.shape[1]))
    made[hit] = share * _scale(field, width, height) * (width * height)[:, None]
    return made


def _numbers(grid: Grid, field: Field) -> Ints:
    return _numbers_in(grid, field, np.arange(len(grid.cells)))


def _along_line(grid: Grid, load: Pressure) -> tuple[Ints, Floats]:
    points, weights = on_line(grid, np.array(load.plan[0]), np.array(load.plan[1]))
    number, value = rows_at(grid, points, 0)
    return number, value * (load.force * weights / weights.sum())[:, None]


def on_line(grid: Grid, start: Floats, end: Floats) -> tuple[Floats, Floats]:
    """Return Gauss points along a straight line, cell by cell, and their lengths (mm)."""
    run = end - start
    cuts = [np.array([0.0, 1.0])]
    for axis, lines in ((0, grid.x), (1, grid.y)):
        if abs(run[axis]) > 1e-9:
            cuts.append((lines - start[axis]) / run[axis])
    at = np.unique(np.clip(np.concatenate(cuts), 0, 1))
    at = at[np.append(True, np.diff(at) > 1e-9)]
    x, w = np.polynomial.legendre.leggauss(GAUSS)
    step = np.diff(at)
    place = (at[:-1, None] + step[:, None] * (x + 1) / 2).ravel()
    weight = (step[:, None] * w / 2).ravel() * np.linalg.norm(run)
    return start + place[:, None] * run, weight


def _beam(section: Section, grid: Grid, of: Beam) -> Block:
    """Return what an edging adds: it bends and twists with the mean drop of the skins that are there."""
    start, end = np.array(of.start), np.array(of.end)
    c, s = (end - start) / np.linalg.norm(end - start)
    points, weight = on_line(grid, start, end)
    sides = [side for side, skin in enumerate((section.top, section.bottom)) if skin.pieces]
    fields = [_field(side, "w") for side in sides]
    spots = [grid.find(points, side) for side in sides]
    many = 16 * len(sides)
    made = np.zeros((len(points) // GAUSS, many, many))
    # w_ss and w_sn along (c, s) by w_xx, w_xy, w_yy.
    for turned_by, stiffness in (
        ((c * c, 2 * c * s, s * s), of.EI),
        ((-c * s, c * c - s * s, c * s), of.GJ),
    ):
        share = np.zeros((len(points), many))
        for factor, (dx, dy) in zip(turned_by, ((2, 0), (1, 1), (0, 2)), strict=True):
            if factor != 0:
                found = [_factors(grid, *each, dx, dy) for each in zip(spots, fields, strict=True)]
                share += factor / len(sides) * np.concatenate(found, axis=1)
        by_cell = share.reshape(-1, GAUSS, many)
        heavy = by_cell * (stiffness * weight / 2).reshape(-1, GAUSS, 1)
        made += heavy.transpose(0, 2, 1) @ by_cell
    number = [
        _numbers_in(grid, field, cell) for field, (cell, _, _) in zip(fields, spots, strict=True)
    ]
    numbers = np.concatenate(number, axis=1)[::GAUSS]
    return Block(numbers, numbers, made)
