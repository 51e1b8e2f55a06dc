"""Rectangles fitted to a section: lines, which cells there are, how far each piece covers them, who shares a node."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components, dijkstra

from ledgewright import plane
from ledgewright.statics.mechanics.section.parts import Mechanism, Point, Ring, Section, Skin
from ledgewright.statics.mechanics.section.sheet import Floats

Ints = NDArray[np.intp]
Bools = NDArray[np.bool_]
PARTS = 4
"""Parts of a cell each way over which cover is taken as even; its area is exact in each."""
SLIVER = 0.02
"""A cell of which a skin covers less than this share has none of that skin."""
SAME = 1e-6
DUST = 1e-12
CLOSE = 0.15
"""Lines of edges nearer to another line than this share of the mesh are left out; cover takes care of the rest."""


@dataclass(frozen=True)
class Grid:
    """Cells of a section.

    x, y: grid lines (mm). cells: (n, 2) column and row of each cell. there: (2, n) whether the top and the bottom
    skin are in a cell. node: (2, n, 4) number of the skin's node at each corner (near, right, far left, far right as
    (0,0), (0,1), (1,0), (1,1) in column and row), -1 where there is no skin. place: (nodes, 2); skin: (nodes,) 0
    top, 1 bottom. begins: first node of every level, and the end; nodes are numbered level by level from one end of
    the section, so that a cell joins only nodes of one level or of two neighbours.
    """

    x: Floats
    y: Floats
    cells: Ints
    there: Bools
    node: Ints
    place: Floats
    skin: Ints
    begins: Ints

    @property
    def size(self) -> tuple[Floats, Floats]:
        """Width and height of every cell (mm)."""
        return np.diff(self.x)[self.cells[:, 0]], np.diff(self.y)[self.cells[:, 1]]

    def cover(self, *rings: Ring) -> Floats:
        """Return the share of each part of each cell that plans cover in all (n, PARTS^2)."""
        if rings not in self._covers:
            columns, rows = len(self.x) - 1, len(self.y) - 1
            fine = _cover(rings, *self._fine)
            split = fine.reshape(columns, PARTS, rows, PARTS).transpose(0, 2, 1, 3)
            cover = split[self.cells[:, 0], self.cells[:, 1]].reshape(len(self.cells), -1)
            cover.setflags(write=False)
            self._covers[rings] = cover
        return self._covers[rings]

    @cached_property
    def _covers(self) -> dict[tuple[Ring, ...], Floats]:
        """What plans cover, kept: a section after creep is asked for the same ones."""
        return {}

    @cached_property
    def _fine(self) -> tuple[Floats, Floats]:
        """The lines between the parts of the cells."""
        return _split(self.x), _split(self.y)

    def find(self, points: Floats, skin: int) -> tuple[Ints, Floats, Floats]:
        """Return the cell of each point (m, 2) where a skin is, and where in it, each way from 0 to 1.

        A point on a line between two cells goes to one that has the skin.

        Raises:
            ValueError: if a point lies off the skin.
        """
        index = np.full((len(self.x) + 1, len(self.y) + 1), -1)
        has = np.flatnonzero(self.there[skin])
        index[self.cells[has, 0] + 1, self.cells[has, 1] + 1] = has
        best = np.full(len(points), -1)
        for nudge in ((0, 0), (-SAME, 0), (0, -SAME), (-SAME, -SAME), (SAME, SAME)):
            moved = points + np.array(nudge) * 2
            column = np.searchsorted(self.x, moved[:, 0], side="right")
            row = np.searchsorted(self.y, moved[:, 1], side="right")
            found = index[column, row]
            best = np.where(best < 0, found, best)
        if (best < 0).any():
            msg = f"no skin at {tuple(points[best < 0][0].tolist())}"
            raise ValueError(msg)
        corner = self.cells[best]
        width, height = self.size
        a = (points[:, 0] - self.x[corner[:, 0]]) / width[best]
        b = (points[:, 1] - self.y[corner[:, 1]]) / height[best]
        return best, np.clip(a, 0, 1), np.clip(b, 0, 1)

    def on(self, start: Point, end: Point, skin: int) -> Ints:
        """Return the nodes of a skin on a line along x or y, or at a point."""
        low, high = np.minimum(start, end) - SAME, np.maximum(start, end) + SAME
        inside = ((self.place >= low) & (self.place <= high)).all(axis=1)
        return np.flatnonzero(inside & (self.skin == skin))


Wanted = tuple[Sequence[float], Sequence[float]]
"""x and y of lines."""


def grid(
    section: Section,
    *,
    mesh: float,
    lines: Sequence[Point] = (),
    wanted: Wanted = ((), ()),
) -> Grid:
    """Return the cells of a section.

    Args:
        section: its skins, cuts and held lines; their straight edges along x and y become grid lines.
        mesh: largest cell (mm).
        lines: points through which a line is to run each way.
        wanted: x and y of lines that are to run where no other is near.

    Raises:
        ValueError: if there is no skin or the mesh is not positive.
        Mechanism: if the skins lie in two pieces that nothing joins.
    """
    if mesh <= 0 or not (section.top.pieces or section.bottom.pieces):
        msg = f"a section needs a skin, and a mesh above 0, not {mesh}"
        raise ValueError(msg)
    x, y = (_lines(section, axis, mesh, lines, wanted[axis]) for axis in (0, 1))
    covers = [_cover((p.plan for p in skin.pieces), x, y) for skin in (section.top, section.bottom)]
    cells = np.argwhere((covers[0] >= SLIVER) | (covers[1] >= SLIVER))
    there = np.array([c[cells[:, 0], cells[:, 1]] >= SLIVER for c in covers])
    node = np.full((2, len(cells), 4), -1)
    place: list[Floats] = []
    skin: list[Ints] = []
    for side, of in enumerate((section.top, section.bottom)):
        numbers, places = _nodes(cells, there[side], of, x, y)
        node[side] = np.where(numbers >= 0, numbers + sum(map(len, place)), -1)
        place.append(places)
        skin.append(np.full(len(places), side))
    order, begins = _levels(node, sum(map(len, place)))
    new = np.append(np.argsort(order), -1)
    return Grid(
        x=x,
        y=y,
        cells=cells,
        there=there,
        node=new[node],
        place=np.concatenate(place)[order],
        skin=np.concatenate(skin)[order],
        begins=begins,
    )


def _lines(
    section: Section, axis: int, mesh: float, asked: Sequence[Point], wanted: Sequence[float]
) -> Floats:
    """Return the grid lines across one axis: those that must be, then edges and wanted ones not close to another."""
    skins = (section.top, section.bottom)
    edges = sorted(
        {p[axis] for s in skins for piece in s.pieces for p in _across(piece.plan, axis)}
    )
    ends = [p[axis] for s in skins for piece in s.pieces for p in piece.plan]
    must = [min(ends), max(ends), *(p[axis] for p in asked)]
    segments = [cut for s in skins for cut in s.cuts] + [(h.start, h.end) for h in section.held]
    must += [p[axis] for pair in segments for p in pair]
    kept: list[float] = []
    soft = [*edges, *wanted]
    for value, gap in [*((m, SAME) for m in must), *((e, CLOSE * mesh) for e in soft)]:
        if min(ends) - SAME <= value <= max(ends) + SAME and all(
            abs(value - other) > gap for other in kept
        ):
            kept.append(value)
    kept.sort()
    runs = [
        np.linspace(a, b, max(math.ceil((b - a) / mesh - SAME), 1), endpoint=False)
        for a, b in pairwise(kept)
    ]
    return np.concatenate([*runs, [kept[-1]]])


def _across(ring: Ring, axis: int) -> Iterable[Point]:
    """The points of a ring at which an edge runs square to the axis."""
    for a, b in pairwise((*ring, ring[0])):
        if abs(a[axis] - b[axis]) < SAME:
            yield a


def _split(lines: Floats) -> Floats:
    steps = np.arange(PARTS) / PARTS
    inner = (lines[:-1, None] + np.diff(lines)[:, None] * steps).ravel()
    return np.append(inner, lines[-1])


def _cover(rings: Iterable[Ring], x: Floats, y: Floats) -> Floats:
    """Return the share of every cell that rings cover in all (columns, rows), exact.

    What lies above every edge that runs right, less what lies above those that run left.
    """
    made = np.zeros((len(x) - 1, len(y) - 1))
    for ring in rings:
        corners = np.asarray(plane.ccw(ring))
        first = max(int(np.searchsorted(y, corners[:, 1].min(), side="right")) - 1, 0)
        last = min(int(np.searchsorted(y, corners[:, 1].max())), len(y) - 1)
        column, share, near, far = _strips(corners, x)
        if first < last and len(column):
            above = _above(near, far, y[first : last + 1])
            np.add.at(made[:, first:last], column, share[:, None] * above)
    # Sums of shares leave dust that would hide that a cell is evenly covered.
    made[abs(made) < DUST] = 0.0
    made[abs(made - 1) < DUST] = 1.0
    return made


def _strips(corners: Floats, x: Floats) -> tuple[Ints, Floats, Floats, Floats]:
    """Cut the edges of a ring at the lines across x.

    Returns each piece's column, its share of that column's width, negative where it runs left, and y at both ends.
    """
    start, run = corners, np.roll(corners, -1, axis=0) - corners
    low, high = (f(start[:, 0], start[:, 0] + run[:, 0]) for f in (np.minimum, np.maximum))
    left = np.maximum(low[:, None], x[None, :-1])
    right = np.minimum(high[:, None], x[None, 1:])
    edge, column = np.nonzero(right > left)
    left, right = left[edge, column], right[edge, column]
    steep = run[edge, 1] / run[edge, 0]
    near, far = (start[edge, 1] + steep * (end - start[edge, 0]) for end in (left, right))
    share = (right - left) / (x[column + 1] - x[column])
    return column, np.where(run[edge, 0] > 0, share, -share), near, far


def _above(near: Floats, far: Floats, y: Floats) -> Floats:
    """Return the share of every row that lies above straight pieces, in the mean along each (pieces, rows)."""
    tall = np.diff(y)
    a, b = y[1:] - near[:, None], y[1:] - far[:, None]
    lower, upper = np.clip(a, 0.0, tall), np.clip(b, 0.0, tall)
    # The integral of what is clipped over its change; where nothing bends it, the middle.
    grown = (upper - lower) * (upper + lower) / 2
    grown += tall * (np.maximum(b - tall, 0.0) - np.maximum(a - tall, 0.0))
    straight = ((a == lower) & (b == upper)) | ((lower == upper) & ((a - lower) * (b - upper) > 0))
    straight |= abs(b - a) <= SAME * tall
    mean = np.where(straight, (lower + upper) / 2, grown / np.where(straight, 1.0, b - a))
    return np.asarray(mean / tall)


def is_square(ring: Ring) -> bool:
    """Whether every edge runs along x or y."""
    return all(
        min(abs(a[0] - b[0]), abs(a[1] - b[1])) < SAME for a, b in pairwise((*ring, ring[0]))
    )


def _is_cut(cuts: Sequence[tuple[Point, Point]], axis: int, at: Floats, mid: Floats) -> Bools:
    """Whether each cell edge, square to `axis` at `at` with its middle at `mid`, lies on a cut."""
    cut = np.zeros(len(at), dtype=bool)
    for a, b in cuts:
        if abs(a[axis] - b[axis]) < SAME:
            low, high = sorted((a[1 - axis], b[1 - axis]))
            cut |= (abs(at - a[axis]) < 10 * SAME) & (mid > low) & (mid < high)
    return cut


def _nodes(cells: Ints, there: Bools, skin: Skin, x: Floats, y: Floats) -> tuple[Ints, Floats]:
    """Return the node numbers (n, 4) of a skin and their places; corners that an uncut edge joins are one node."""
    numbers = np.full((len(cells), 4), -1)
    has = np.flatnonzero(there)
    if not len(has):
        return numbers, np.zeros((0, 2))
    index = np.full((len(x), len(y)), -1)
    index[cells[has, 0], cells[has, 1]] = np.arange(len(has))
    mine = cells[has]
    links: list[Ints] = []
    lines = (x, y)
    # Corners of a cell as (column, row): 0 (0,0), 1 (0,1), 2 (1,0), 3 (1,1).
    for axis, pairs in ((0, ((2, 0), (3, 1))), (1, ((1, 0), (3, 2)))):
        step = np.array([1, 0]) if axis == 0 else np.array([0, 1])
        beyond = index[tuple((mine + step).T)]
        low = lines[1 - axis]
        other = mine[:, 1 - axis]
        joined = (beyond >= 0) & ~_is_cut(
            skin.cuts, axis, lines[axis][mine[:, axis] + 1], (low[other] + low[other + 1]) / 2
        )
        ours = np.flatnonzero(joined)
        links += [np.stack([4 * ours + a, 4 * beyond[ours] + b]) for a, b in pairs]
    link = np.concatenate(links, axis=1)
    size = 4 * len(has)
    graph = coo_array((np.ones(link.shape[1]), (link[0], link[1])), shape=(size, size))
    count, label = connected_components(graph, directed=False)
    numbers[has] = label.reshape(-1, 4)
    place = np.zeros((count, 2))
    for corner, (right, far) in enumerate(((0, 0), (0, 1), (1, 0), (1, 1))):
        place[label[corner::4], 0] = x[mine[:, 0] + right]
        place[label[corner::4], 1] = y[mine[:, 1] + far]
    return numbers, place


def _levels(node: Ints, count: int) -> tuple[Ints, Ints]:
    """Return the nodes in the order of their distance in cells from one end, and where each level begins.

    Raises:
        Mechanism: if some nodes are not reached.
    """
    cells = node.shape[1]
    cell = np.broadcast_to(np.arange(cells)[None, :, None] + count, node.shape)
    on = node >= 0
    size = count + cells
    touch = coo_array((np.ones(int(on.sum())), (node[on], cell[on])), shape=(size, size)).tocsr()

    def far_from(start: Ints) -> Floats:
        away = dijkstra(touch, directed=False, indices=start, unweighted=True, min_only=True)
        return np.asarray(away[:count])

    away = far_from(np.array([0]))
    away = far_from(np.flatnonzero(away == away[np.isfinite(away)].max()))
    order = np.argsort(away, kind="stable")
    order = order[np.isfinite(away[order])]
    if len(order) < count:
        msg = "skins and core are in separate pieces that nothing joins"
        raise Mechanism(msg)
    return order, np.append(np.flatnonzero(np.diff(away[order], prepend=-1.0)), count)
