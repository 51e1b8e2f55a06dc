"""Straight cuts through with pieces that are counted: panels and cuts as one integer programme.

Source: the plate and cut model of Furini, Malaguti and Thomopulos, INFORMS J. Comput. 28 (2016), with panels drawn
in to the places that matter, cuts in the nearer half only and pieces taken from a panel without trimming it, as
Becker, Araujo and Buriol, EJOR (2021) have it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy import sparse
from scipy.optimize import LinearConstraint

from ledgewright.shop.nest.grid import down, sums
from ledgewright.shop.nest.model import Axis, Piece, Sheet, Stop, never
from ledgewright.shop.nest.solver import smallest
from ledgewright.shop.nest.tree import Leaf, Node, Split
from ledgewright.shop.nest.unlimited import ways

PLACES = 400
"""A panel with more places to cut than this, one way, makes a programme that nobody waits for."""
SUMS = 50 * PLACES
NOWHERE = -1
"""A panel that nothing fits in."""


class _Lying(NamedTuple):
    """A piece as it may lie: size in steps with one kerf, and which of the pieces it is."""

    length: int
    width: int
    piece: int


class _Saw(NamedTuple):
    """One cut of one kind of panel: what it makes."""

    panel: int
    axis: Axis
    at: int
    near: int
    far: int


@dataclass
class Plates:
    """Every kind of panel that straight cuts can make of some sheets, and every cut worth trying.

    Panels are drawn in: each as small as it may be without a piece less fitting in.
    """

    pieces: tuple[Piece, ...]
    sheets: tuple[Sheet, ...]
    lying: tuple[_Lying, ...]
    panels: list[tuple[int, int]] = field(default_factory=list)
    cuts: list[_Saw] = field(default_factory=list)
    takes: list[tuple[int, int]] = field(default_factory=list)
    roots: list[int] = field(default_factory=list)
    whole: bool = True

    @property
    def size(self) -> int:
        """How many unknowns the programme has."""
        return len(self.cuts) + len(self.takes) + len(self.roots)


def plates(
    pieces: Sequence[Piece],
    sheets: Sequence[Sheet],
    *,
    kerf: float = 0.0,
    most: int = 200_000,
    stop: Stop = never,
) -> Plates:
    """Return all panels and cuts that count.

    Args:
        pieces: wanted, counted.
        sheets: cut from.
        kerf: what the saw eats (mm).
        most: unknowns at which to stop; `whole` is False then, and nothing may be concluded.
        stop: as if there were too many.
    """
    lying = tuple(_Lying(l, w, k) for k, piece in enumerate(pieces) for l, w in ways(piece, kerf))
    made = Plates(tuple(pieces), tuple(sheets), lying)
    grow = _Grower(made)
    for sheet in sheets:
        made.roots.append(grow.panel(down(sheet.length + kerf), down(sheet.width + kerf)))
    done = 0
    while done < len(made.panels):
        made.whole = made.whole and not stop() and not grow.crowded(done) and made.size <= most
        if not made.whole:
            break
        grow.open(done)
        done += 1
    return made


class _Grower:
    """Finds panels by number, drawn in, and their cuts."""

    def __init__(self, made: Plates) -> None:
        self.made = made
        self.numbers: dict[tuple[int, int], int] = {}
        self.places = cache(self._places)
        self.drawn = cache(self._drawn)

    def _fit(self, length: int, width: int) -> list[_Lying]:
        return [a for a in self.made.lying if a.length <= length and a.width <= width]

    def _places(self, found: frozenset[tuple[int, int]], limit: int) -> list[int]:
        """Sums of sizes; a piece that may lie two ways counts with either, never with more than there are."""
        counted: dict[int, dict[int, int | None]] = {}
        for size, piece in found:
            counted.setdefault(size, {})[piece] = self.made.pieces[piece].count
        sizes = [
            (size, None if None in by.values() else sum(n or 0 for n in by.values()))
            for size, by in counted.items()
        ]
        made = sums(sizes, limit, most=SUMS)
        if len(made) > SUMS:
            self.made.whole = False
        return made

    def lengths(self, length: int, width: int) -> list[int]:
        fits = frozenset((a.length, a.piece) for a in self._fit(length, width))
        return self.places(fits, length)

    def widths(self, length: int, width: int) -> list[int]:
        fits = frozenset((a.width, a.piece) for a in self._fit(length, width))
        return self.places(fits, width)

    def _drawn(self, length: int, width: int) -> tuple[int, int]:
        while True:
            l, w = self.lengths(length, width)[-1], self.widths(length, width)[-1]
            if (l, w) == (length, width) or not l or not w:
                return (l, w)
            length, width = l, w

    def panel(self, length: int, width: int) -> int:
        """Return the number of a panel drawn in, NOWHERE if nothing fits."""
        size = self.drawn(length, width)
        if not all(size):
            return NOWHERE
        if size not in self.numbers:
            self.numbers[size] = len(self.made.panels)
            self.made.panels.append(size)
        return self.numbers[size]

    def crowded(self, number: int) -> bool:
        """Whether a panel has too many places to be cut at; widths and lengths are summed only so far."""
        size = self.made.panels[number]
        return max(len(self.lengths(*size)), len(self.widths(*size))) > PLACES

    def open(self, number: int) -> None:
        """Add the cuts of a panel and what may be taken from it whole."""
        length, width = self.made.panels[number]
        fits = self._fit(length, width)
        least_l, least_w = min(a.length for a in fits), min(a.width for a in fits)
        taken = set()
        for a in fits:
            room = self._fit(length - a.length, width) or self._fit(length, width - a.width)
            # With room for another beside it, a cut comes first, unless no copy of that other one is left.
            if a.piece not in taken and (not room or self._last(a, room)):
                taken.add(a.piece)
                self.made.takes.append((number, a.piece))
        seen = set()
        for x in self.lengths(length, width):
            if least_l <= x <= length // 2:
                seen.add(self._saw(number, "across", x, (x, width), (length - x, width)))
        for y in self.widths(length, width):
            if least_w <= y <= width // 2:
                seen.add(self._saw(number, "along", y, (length, y), (length, width - y)))
        unlike: dict[tuple[int, int], _Saw] = {}
        for cut in sorted(seen):
            key = (min(cut.near, cut.far), max(cut.near, cut.far))
            unlike.setdefault(key, cut)
        self.made.cuts.extend(unlike.values())

    def _last(self, a: _Lying, room: list[_Lying]) -> bool:
        """Whether what fits beside a piece is only that piece itself, and there is no second of it."""
        return all(b.piece == a.piece for b in room) and self.made.pieces[a.piece].count == 1

    def _saw(
        self, number: int, axis: Axis, at: int, near: tuple[int, int], far: tuple[int, int]
    ) -> _Saw:
        return _Saw(number, axis, at, self.panel(*near), self.panel(*far))


@dataclass(frozen=True)
class Solved:
    """What came of the programme: best found, bound, a tree of cuts for each sheet used; found is None if none was."""

    found: float | None
    bound: float
    trees: tuple[tuple[Sheet, Node], ...]


def most_valuable(made: Plates, *, seconds: float = 60.0, nodes: int | None = None) -> Solved:
    """Return the most valuable pieces out of one of each sheet.

    Args:
        made: panels and cuts.
        seconds: when to stop with the best so far.
        nodes: branches at which to stop with the best so far, the same on every machine.

    Returns:
        Value found and bound; bound equal to it is the proof.
    """
    cost = np.zeros(made.size)
    for k, (_, piece) in enumerate(made.takes):
        cost[len(made.cuts) + k] = -made.pieces[piece].worth
    return _solve(made, cost, exact=False, seconds=seconds, nodes=nodes)


def fewest(
    made: Plates,
    *,
    seconds: float = 60.0,
    nodes: int | None = None,
    bound: float = 0.0,
    stop: Stop = never,
) -> Solved:
    """Return all pieces out of the cheapest sheets.

    Args:
        made: panels and cuts; every piece has a count.
        seconds: when to stop with the best so far.
        nodes: branches at which to stop with the best so far, the same on every machine.
        bound: a cost that is known not to be beaten.
        stop: whether to give up.

    Returns:
        Cost found and bound; bound equal to it is the proof.
    """
    cost = np.zeros(made.size)
    for k, sheet in enumerate(made.sheets):
        cost[len(made.cuts) + len(made.takes) + k] = sheet.cost
    return _solve(made, cost, exact=True, seconds=seconds, nodes=nodes, floor=bound, stop=stop)


def _solve(
    made: Plates,
    cost: NDArray[np.float64],
    *,
    exact: bool,
    seconds: float,
    nodes: int | None,
    floor: float = -math.inf,
    stop: Stop = never,
) -> Solved:
    rows = [_balance(made), _counts(made, exact=exact)]
    if exact and floor > 0:
        rows.append(LinearConstraint(sparse.csr_array(cost[None, :]), floor - 1e-6, np.inf))
    told = smallest(
        cost,
        rows,
        _upper(made, exact=exact),
        seconds=seconds,
        nodes=nodes,
        whole=all(float(c).is_integer() for c in cost),
        stop=stop,
    )
    sign = 1.0 if exact else -1.0
    bound = max(told.bound, floor) if exact else told.bound
    if told.used is None:
        return Solved(None, sign * bound, ())
    return Solved(sign * told.cost, sign * bound, _trees(made, told.used))


def _upper(made: Plates, *, exact: bool) -> list[float]:
    free = [math.inf] * len(made.cuts)
    takes = [
        math.inf if (n := made.pieces[piece].count) is None else float(n) for _, piece in made.takes
    ]
    sheets = [
        (math.inf if s.count is None else float(s.count)) if exact else 1.0 for s in made.sheets
    ]
    return [
        *free,
        *takes,
        *(0.0 if r == NOWHERE else n for r, n in zip(made.roots, sheets, strict=True)),
    ]


def _balance(made: Plates) -> LinearConstraint:
    """No panel is used up more often than it is made."""
    row, column, factor = [], [], []

    def put(panel: int, k: int, by: float) -> None:
        if panel != NOWHERE:
            row.append(panel)
            column.append(k)
            factor.append(by)

    for k, cut in enumerate(made.cuts):
        put(cut.panel, k, 1.0)
        put(cut.near, k, -1.0)
        put(cut.far, k, -1.0)
    for k, (panel, _) in enumerate(made.takes, len(made.cuts)):
        put(panel, k, 1.0)
    for k, panel in enumerate(made.roots, len(made.cuts) + len(made.takes)):
        put(panel, k, -1.0)
    # Entries of the same place add up, as they must where a cut makes two alike.
    matrix = sparse.coo_array((factor, (row, column)), shape=(len(made.panels), made.size))
    return LinearConstraint(matrix.tocsr(), -np.inf, 0.0)


def _counts(made: Plates, *, exact: bool) -> LinearConstraint:
    row = [piece for _, piece in made.takes]
    column = [len(made.cuts) + k for k in range(len(made.takes))]
    matrix = sparse.coo_array(
        (np.ones(len(row)), (row, column)), shape=(len(made.pieces), made.size)
    )
    most = [math.inf if p.count is None else float(p.count) for p in made.pieces]
    least = [float(p.count or 0) if exact else 0.0 for p in made.pieces]
    return LinearConstraint(matrix.tocsr(), least, most)


def _trees(made: Plates, used: NDArray[np.int64]) -> tuple[tuple[Sheet, Node], ...]:
    """Put the counted cuts together into one tree for each sheet used."""
    cuts: dict[int, list[_Saw]] = {}
    takes: dict[int, list[int]] = {}
    for cut, n in zip(made.cuts, used, strict=False):
        cuts.setdefault(cut.panel, []).extend([cut] * int(n))
    for (panel, piece), n in zip(made.takes, used[len(made.cuts) :], strict=False):
        takes.setdefault(panel, []).extend([piece] * int(n))
    found = []
    for sheet, panel, n in zip(
        made.sheets, made.roots, used[len(made.cuts) + len(made.takes) :], strict=True
    ):
        found += [(sheet, _grown(made, panel, cuts, takes)) for _ in range(int(n))]
    return tuple(found)


def _grown(
    made: Plates, panel: int, cuts: dict[int, list[_Saw]], takes: dict[int, list[int]]
) -> Node:
    if panel == NOWHERE:
        return Leaf(0, 0, None)
    length, width = made.panels[panel]
    if takes.get(panel):
        piece = takes[panel].pop()
        lies = next(
            (a.length, a.width)
            for a in made.lying
            if a.piece == piece and a.length <= length and a.width <= width
        )
        return Leaf(length, width, made.pieces[piece], lies)
    if not cuts.get(panel):
        return Leaf(length, width, None)
    cut = cuts[panel].pop()
    near, far = (_grown(made, child, cuts, takes) for child in (cut.near, cut.far))
    return Split(length, width, cut.axis, cut.at, near, far)
