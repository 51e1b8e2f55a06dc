"""Straight cuts through one sheet with as many copies of each piece as one likes: exact."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ledgewright.shop.nest.grid import down, sums, up
from ledgewright.shop.nest.model import Piece, Sheet
from ledgewright.shop.nest.tree import Leaf, Node, Split

Values = NDArray[np.float64]
Places = NDArray[np.int64]


@dataclass(frozen=True)
class Worth:
    """The most that any panel cut from a sheet is worth, and how it is cut.

    value: (places along, places across); a panel is worth what its largest place within it is worth.
    """

    along: tuple[int, ...]
    across: tuple[int, ...]
    value: Values
    pieces: tuple[tuple[int, int, Piece], ...]

    def of(self, length: int, width: int) -> float:
        """Return what a panel is worth at most.

        Args:
            length: in steps, with one kerf.
            width: in steps, with one kerf.
        """
        i, j = bisect_right(self.along, length) - 1, bisect_right(self.across, width) - 1
        return float(self.value[i, j])

    @property
    def best(self) -> float:
        """What the whole sheet is worth."""
        return float(self.value[-1, -1])


def unlimited(pieces: Sequence[Piece], sheet: Sheet, *, kerf: float = 0.0) -> Worth:
    """Return the most valuable way to cut one sheet by straight cuts through, copies unlimited.

    Source: Gilmore and Gomory, Oper. Res. 14 (1966), over the normal places of Christofides and Whitlock (1977)
    thinned as the raster points of Scheithauer and Terno are; the kerf is added to every piece and once to the sheet.

    Args:
        pieces: what is wanted; their counts are not looked at.
        sheet: cut from; its count is not looked at.
        kerf: what the saw eats (mm).

    Returns:
        Worth of every panel; `cut_up` gives the cuts.

    Memory and time grow with the product of both numbers of places: 32 pieces on a sheet eight times their
    length took 30 s.
    """
    length, width = down(sheet.length + kerf), down(sheet.width + kerf)
    lying = tuple(
        (l, w, piece)
        for piece in pieces
        for l, w in ways(piece, kerf)
        if l <= length and w <= width
    )
    along = sums([(l, None) for l in {l for l, _, _ in lying}], length)
    across = sums([(w, None) for w in {w for _, w, _ in lying}], width)
    value = _alone(lying, along, across)
    if lying:
        _fill(value, np.array(along), np.array(across), min(l for l, _, _ in lying))
    return Worth(tuple(along), tuple(across), value, lying)


def ways(piece: Piece, kerf: float) -> list[tuple[int, int]]:
    """Return the sizes a piece may lie in, in steps, with one kerf.

    Args:
        piece: wanted.
        kerf: what the saw eats (mm).
    """
    l, w = up(piece.length + kerf), up(piece.width + kerf)
    return [(l, w), (w, l)] if piece.turns and l != w else [(l, w)]


def _alone(
    lying: Sequence[tuple[int, int, Piece]], along: Sequence[int], across: Sequence[int]
) -> Values:
    """What panels are worth with one piece cut from each."""
    value = np.zeros((len(along), len(across)))
    for l, w, piece in lying:
        i, j = int(np.searchsorted(along, l)), int(np.searchsorted(across, w))
        np.maximum(value[i:, j:], piece.worth, out=value[i:, j:])
    return value


def _fill(value: Values, along: Places, across: Places, least: int) -> None:
    """Fill in the better of all cuts.

    Rows of panels that differ by less than the shortest piece do not ask each other, so they go together.
    """
    pairs = [_pairs(across, j) for j in range(len(across))]
    start = 1
    while start < len(along):
        end = int(np.searchsorted(along, along[start] + least))
        for i in range(start, end):
            near, far = _pairs(along, i)
            for a, b in zip(near, far, strict=True):
                np.maximum(value[i], value[a] + value[b], out=value[i])
        rows = np.ascontiguousarray(value[start:end].T)
        for j, (near, far) in enumerate(pairs):
            if len(near):
                np.maximum(rows[j], (rows[near] + rows[far]).max(axis=0), out=rows[j])
        value[start:end] = rows.T
        start = end


def _pairs(places: Places, k: int) -> tuple[Places, Places]:
    """Indexes of near and far panels of every cut worth trying in the panel of place k.

    Of cuts that leave the same far panel only the one with the largest near panel counts.
    """
    size = places[k]
    near = np.arange(1, int(np.searchsorted(places, size // 2, side="right")))
    far = np.unique(np.searchsorted(places, size - places[near], side="right") - 1)
    return np.searchsorted(places, size - places[far], side="right") - 1, far


def cut_up(worth: Worth) -> Node:
    """Return the cuts of the whole sheet that its worth comes from.

    Args:
        worth: from `unlimited`.

    Returns:
        A tree of cuts; sizes are in steps, one kerf with each panel.
    """
    return _traced(worth, worth.along[-1], worth.across[-1])


def _traced(worth: Worth, length: int, width: int) -> Node:
    i, j = bisect_right(worth.along, length) - 1, bisect_right(worth.across, width) - 1
    target = float(worth.value[i, j])
    if target <= 0:
        return Leaf(length, width, None)
    close = 1e-9 * max(1.0, target)
    for l, w, piece in worth.pieces:
        if l <= length and w <= width and piece.worth >= target - close:
            return Leaf(length, width, piece, (l, w))
    for x in worth.along[1:i]:
        if worth.of(x, width) + worth.of(length - x, width) >= target - close:
            return Split(
                length,
                width,
                "across",
                x,
                _traced(worth, x, width),
                _traced(worth, length - x, width),
            )
    for y in worth.across[1:j]:
        if worth.of(length, y) + worth.of(length, width - y) >= target - close:
            return Split(
                length,
                width,
                "along",
                y,
                _traced(worth, length, y),
                _traced(worth, length, width - y),
            )
    msg = "a panel is worth something, and no cut of it says why"
    raise AssertionError(msg)
