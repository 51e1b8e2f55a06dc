"""What the parts of a section carry once its movements are known: skins in bending and in their plane, core, glue.

Strains are read where the elements are truest: 2 x 2 points of a cell for skins (Barlow 1976), its middle for what
changes between them, the middle of each sixteenth for core; stresses are those of the parts, never smeared over a cell.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Literal, TypeVar

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array
from scipy.spatial import cKDTree

from ledgewright.statics.mechanics.section import energy
from ledgewright.statics.mechanics.section.condense import Condensed
from ledgewright.statics.mechanics.section.grid import PARTS, SAME, SLIVER, Bools, Ints
from ledgewright.statics.mechanics.section.parts import Point, Side
from ledgewright.statics.mechanics.section.sheet import Floats, turned

Where = Literal["truest", "middles", "nodes", "changes"]
"""2 x 2 points of every cell, its middle, or its corners: drawn out from the 2 x 2 points, in the mean of all cells
that share the node. "changes": the middles for their shear alone."""
Precision = TypeVar("Precision", np.float32, np.float64)
_TRUEST = (1 + np.array([-1.0, 1.0]) / np.sqrt(3)) / 2


@dataclass(frozen=True)
class Carried:
    """What one piece of a skin carries, place by place; under several loads with one more axis at the end.

    places: (m, 2) in the section's figures. area: what of the piece each stands for (mm2), 0 at nodes. force:
    (m, 3) N/mm; moment: (m, 3) N, positive where it pulls the underside; both along the grain, across it and in
    shear or twist. shear: (m, 2) N/mm, what the moment's change along and across the grain asks of the skin
    through its thickness; at the middles only, zeros elsewhere, where force and moment are zeros for "changes".
    """

    side: Side
    piece: int
    thick: float
    places: Floats
    area: Floats
    force: Floats
    moment: Floats
    shear: Floats


@dataclass(frozen=True)
class Tied:
    """What one piece of core, and the glue above and below it, carries, place by place; several loads as in `Carried`.

    fill: its number among the section's. places: (m, 2). area: what of the piece each stands for (mm2). shear:
    (m, 2) stress between the skins along and across the piece's grain (MPa). through: (m,) stress through the thickness
    (MPa), positive where it is pressed, negative where the skins are pulled apart.
    """

    fill: int
    places: Floats
    area: Floats
    shear: Floats
    through: Floats


def skins(
    condensed: Condensed, moved: Floats, side: Side, where: Where = "truest"
) -> tuple[Carried, ...]:
    """Return what each piece of a skin carries, in the order of its pieces.

    M = -D kappa, N = A e. The nodes draw a straight line through the 2 x 2 points, so a support's line is met.

    Args:
        condensed: the section.
        moved: its movements, as `Condensed.move` gives them (n,), or `Condensed.moves` (n, loads).
        side: which skin.
        where: at which places.
    """
    pieces = range(len(condensed.section.skin(side).pieces))
    if where == "nodes":
        return drawn_out(condensed, skins(condensed, moved, side))
    return tuple(_carried(condensed, moved, side, piece, where) for piece in pieces)


def drawn_out(condensed: Condensed, truest: Sequence[Carried]) -> tuple[Carried, ...]:
    """Return what the pieces of a skin carry at the nodes, from what they carry where that is read truest."""
    return tuple(_at_nodes(condensed, each) for each in truest)


def _at_nodes(condensed: Condensed, of: Carried) -> Carried:
    net = condensed.grid
    nodes = net.node[0 if of.side == "top" else 1][_cells(condensed, of.side, of.piece)]
    which = np.unique(nodes)
    force, moment, shear = (
        _drawn_out(nodes, each.reshape(len(nodes), -1, *each.shape[1:]))
        for each in (of.force, of.moment, of.shear)
    )
    return replace(
        of,
        places=net.place[which],
        area=np.zeros(len(which)),
        force=force,
        moment=moment,
        shear=shear,
    )


def _carried(condensed: Condensed, moved: Floats, side: Side, number: int, where: Where) -> Carried:
    net, skin = condensed.grid, condensed.section.skin(side)
    piece, index = skin.pieces[number], 0 if side == "top" else 1
    share = condensed.pieces[index][number]
    cells = _cells(condensed, side, number)
    middles = where in ("middles", "changes")
    one = np.array([0.5]) if middles else _TRUEST
    at, probe = _pairs(one), energy.Probe.points(one, one)
    A, D = (turned(s, piece.grain) for s in (piece.sheet.membrane, piece.sheet.bending))
    read = _reader(condensed, moved, cells, probe)
    if where == "changes":
        moment = force = np.zeros((len(cells), len(at[0]), 3, *moved.shape[1:]))
    else:
        force = _by(read(energy.stretch_rows(index)), A)
        moment = -_by(read(energy.bending_rows(index)), D)
    shear = np.zeros_like(force[:, :, :2])
    if middles:
        change = [-_by(read(energy.bending_rows(index, *by)), D) for by in ((1, 0), (0, 1))]
        shear[:, :, 0] = change[0][:, :, 0] + change[1][:, :, 2]
        shear[:, :, 1] = change[0][:, :, 2] + change[1][:, :, 1]
    width, height = (size[cells] for size in net.size)
    area = np.repeat((share[cells] * width * height)[:, None] / len(at[0]), len(at[0]), axis=1)
    places = _places(condensed, cells, at)
    return Carried(
        side=side,
        piece=number,
        thick=skin.thick,
        places=places.reshape(-1, 2),
        area=area.ravel(),
        force=_by(_listed(force), _tensor_turn(piece.grain), axis=1),
        moment=_by(_listed(moment), _tensor_turn(piece.grain), axis=1),
        shear=_by(_listed(shear), _turn(piece.grain).T, axis=1),
    )


def _cells(condensed: Condensed, side: Side, piece: int) -> Ints:
    """The cells in which a piece of a skin carries."""
    index = 0 if side == "top" else 1
    there = condensed.grid.there[index] & (condensed.pieces[index][piece] >= SLIVER)
    return np.flatnonzero(there)


@dataclass(frozen=True)
class Spread:
    """What of a piece of a skin lies in each sixteenth of its cells.

    places: (m, 2), their middles. area: (m,) (mm2). cell: (m,) which of the piece's "middles" stands for it.
    inner: (m,) whether it is one of the four amid its cell, or its cell lies in the piece in part only.
    """

    places: Floats
    area: Floats
    cell: Ints
    inner: Bools


def spread(condensed: Condensed, side: Side) -> tuple[Spread, ...]:
    """Return where the pieces of a skin lie, finer than its cells: a mean over a square is then one over its area."""
    return tuple(
        _spread(condensed, side, n) for n in range(len(condensed.section.skin(side).pieces))
    )


def _spread(condensed: Condensed, side: Side, number: int) -> Spread:
    net, cells = condensed.grid, _cells(condensed, side, number)
    width, height = (size[cells] for size in net.size)
    cover = net.cover(condensed.section.skin(side).pieces[number].plan)[cells]
    area = (cover * (width * height)[:, None] / PARTS**2).ravel()
    cell = np.repeat(np.arange(len(cells)), PARTS**2)
    places = _places(condensed, cells, _SIXTEENTHS).reshape(-1, 2)
    amid = np.outer(_AMID, _AMID).ravel()
    inner = (amid | (cover.mean(axis=1) < 1 - SAME)[:, None]).ravel()
    on = area > 0
    return Spread(places[on], area[on], cell[on], inner[on])


def _by(values: Floats, matrix: Floats, axis: int = 2) -> Floats:
    """Multiply the components, which lie on one axis, by a matrix from the right."""
    return np.asarray(np.moveaxis(np.tensordot(values, matrix, axes=(axis, 0)), -1, axis))


def _listed(values: Floats) -> Floats:
    """Put the places of all cells in one row."""
    return values.reshape(-1, *values.shape[2:])


def _reader(
    condensed: Condensed, moved: Floats, cells: Ints, probe: energy.Probe
) -> Callable[[Sequence[energy.Row]], Floats]:
    return lambda rows: energy.strains(condensed.grid, moved, rows, cells, probe)


def _pairs(one: Floats) -> tuple[Floats, Floats]:
    """Return all pairs of places on the unit cell, x outermost."""
    return np.repeat(one, len(one)), np.tile(one, len(one))


_AMID = abs((np.arange(PARTS) + 0.5) / PARTS - 0.5) < 1 / PARTS
_SIXTEENTHS = _pairs((np.arange(PARTS) + 0.5) / PARTS)


def _places(condensed: Condensed, cells: Ints, at: tuple[Floats, Floats]) -> Floats:
    """Return the plan places of the same places of cells (m, k, 2)."""
    net = condensed.grid
    column, row = net.cells[cells].T
    width, height = (size[cells] for size in net.size)
    x = net.x[column][:, None] + width[:, None] * at[0]
    y = net.y[row][:, None] + height[:, None] * at[1]
    return np.stack([x, y], axis=-1)


def _drawn_out(nodes: Ints, values: Floats) -> Floats:
    """Return values at nodes from those at the 2 x 2 points of their cells (nodes, ...)."""
    out, back = (1 + np.sqrt(3)) / 2, (1 - np.sqrt(3)) / 2
    line = np.array([[out, back], [back, out]])
    corners = np.einsum("ab,cd,mbdk->mack", line, line, values.reshape(len(values), 2, 2, -1))
    _, index = np.unique(nodes, return_inverse=True)
    index = index.ravel()
    count = np.bincount(index)
    mean = csr_array((1 / count[index], (index, np.arange(len(index)))))
    return np.asarray(mean @ corners.reshape(len(index), -1)).reshape(-1, *values.shape[2:])


def _turn(angle: float) -> Floats:
    c, s = np.cos(angle), np.sin(angle)
    return np.array([[c, s], [-s, c]])


def _tensor_turn(grain: float) -> Floats:
    """Return what turns forces or moments (x, y, xy) to (along the grain, across it, shear), from the right."""
    c, s = np.cos(grain), np.sin(grain)
    return np.array(
        [[c * c, s * s, -c * s], [s * s, c * c, c * s], [2 * c * s, -2 * c * s, c * c - s * s]]
    )


def cores(condensed: Condensed, moved: Floats) -> tuple[Tied, ...]:
    """Return what each piece of core carries, in the order of the section's fills.

    tau = G gamma; sigma = E (w_1 - w_2)/c, in the mean of every sixteenth of a cell, so that they balance the loads to
    the last digit. A piece that ties nothing, where a skin is missing, has no places.

    Args:
        condensed: the section.
        moved: its movements, as `Condensed.move` gives them (n,), or `Condensed.moves` (n, loads).
    """
    net, section = condensed.grid, condensed.section
    both = np.flatnonzero(net.there.all(axis=0))
    read = _reader(condensed, moved, both, energy.Probe.parts())
    slip, pressed = read(energy.shear_rows(section)), read(energy.squeeze_rows(section))[:, :, 0]
    places = _places(condensed, both, _SIXTEENTHS)
    width, height = (size[both] for size in net.size)
    made = []
    for number, (fill, covered) in enumerate(zip(section.fills, condensed.fills, strict=True)):
        cover = covered[both]
        on = cover > 0
        Q = _turn(fill.grain)
        G = Q.T * [fill.G_along, fill.G_across]
        area = cover * (width * height)[:, None] / PARTS**2
        shear = _by(slip[on], G, axis=1)
        made.append(Tied(number, places[on], area[on], shear, fill.E_through * pressed[on]))
    return tuple(made)


def averaged(places: Floats, area: Floats, values: Floats, over: float) -> Floats:
    """Return values in the mean over a square of the plan round each place.

    A concentrated force makes an elastic stress without bound at its point: wood and glue even it out over some
    length, and so must whoever compares it with a strength.

    Args:
        places: (m, 2) (mm).
        area: what each place stands for (m,) (mm2).
        values: (m, ...).
        over: side of the square (mm).

    Raises:
        ValueError: if the length is not positive, or a place stands for nothing.
    """
    return evened(averaging(places, area, over), values)


def evened(mean: csr_array, values: Floats) -> Floats:
    """Return means of values; mean: as `averaging` gives it (places, m), values: (m, ...)."""
    made = mean @ np.ascontiguousarray(values).reshape(len(values), -1)
    return np.asarray(made).reshape(-1, *values.shape[1:])


def averaging(
    places: Floats,
    area: Floats,
    over: float,
    *,
    which: tuple[Ints, int] | None = None,
    round_: Ints | None = None,
) -> csr_array:
    """Return what turns values into their means over a square of the plan round each place, or round some of them.

    Args:
        places: (m, 2) (mm).
        area: what each place stands for (m,) (mm2).
        over: side of the square (mm).
        which: which of the values each place has (m,), as in `Spread.cell`, and how many there are; None: its own.
        round_: numbers of the places round which the mean is wanted; None: all.

    Returns:
        (places wanted, values).

    Raises:
        ValueError: if the length is not positive, or a place stands for nothing.
    """
    if over <= 0 or (area <= 0).any():
        msg = f"to even out over {over} mm takes a length and places that stand for some area"
        raise ValueError(msg)
    pairs = cKDTree(places).query_pairs(over / 2 * (1 + SAME), p=np.inf, output_type="ndarray")
    itself = np.arange(len(area))
    one = np.concatenate([itself, *pairs.T])
    other = np.concatenate([itself, *pairs.T[::-1]])
    column, wide = (other, len(area)) if which is None else (which[0][other], which[1])
    weigh = csr_array((area[other], (one, column)), shape=(len(area), wide))
    weigh = weigh if round_ is None else weigh[round_]
    weigh.data /= np.repeat(weigh @ np.ones(wide), np.diff(weigh.indptr))
    return weigh


def summed(values: NDArray[Precision], weights: NDArray[Precision]) -> NDArray[Precision]:
    """Return what sums of loads do, from what each load does.

    One product of two flat matrices: a stack of small ones takes ten times as long.

    Args:
        values: (..., loads).
        weights: (loads, sums).

    Returns:
        (..., sums).
    """
    flat = values.reshape(-1, values.shape[-1]) @ weights
    return np.asarray(flat.reshape(*values.shape[:-1], -1))


def case_by_case(values: Floats, weights: Floats | None) -> Floats:
    """Return what `summed` gives with a row for each sum: its greatest are then found quickly.

    Args:
        values: (..., loads).
        weights: (loads, sums); None: every load by itself.

    Returns:
        (sums, all else in one).
    """
    flat = values.reshape(-1, values.shape[-1]).T
    return np.ascontiguousarray(flat) if weights is None else np.asarray(weights.T @ flat)


def near(places: Floats, points: Sequence[Point], within: float) -> Ints:
    """Return which places lie within a distance, each way, of any of some points."""
    if not points:
        return np.zeros(0, dtype=np.intp)
    x, y = np.asarray(points).T
    apart = np.maximum(np.abs(places[:, :1] - x), np.abs(places[:, 1:] - y))
    return np.flatnonzero((apart <= within).any(axis=1))
