"""A quick first answer for straight cuts through: piece after piece into the panel that it fits best."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from typing import TypeVar

from ledgewright.shop.nest.grid import down
from ledgewright.shop.nest.model import Axis, Piece, Sheet
from ledgewright.shop.nest.tree import Leaf, Node, Split
from ledgewright.shop.nest.unlimited import ways

SEED = 1
Tree = tuple[Sheet, Node]
Rank = Callable[[int, int, int, int], tuple[int, int]]
Rules = TypeVar("Rules")


@dataclass
class _Open:
    """A panel that may still be cut; filled once it is."""

    length: int
    width: int
    leaf: tuple[Piece, int, int] | None = None
    axis: Axis | None = None
    at: int = 0
    parts: tuple[_Open, _Open] | None = None

    def tree(self) -> Node:
        if self.parts and self.axis:
            near, far = (part.tree() for part in self.parts)
            return Split(self.length, self.width, self.axis, self.at, near, far)
        if self.leaf:
            piece, l, w = self.leaf
            return Leaf(self.length, self.width, piece, (l, w))
        return Leaf(self.length, self.width, None)


def _short_side(L: int, W: int, l: int, w: int) -> tuple[int, int]:
    return (min(L - l, W - w), max(L - l, W - w))


def _area_left(L: int, W: int, l: int, w: int) -> tuple[int, int]:
    return (L * W - l * w, min(L - l, W - w))


def _strip(L: int, W: int, l: int, w: int) -> tuple[int, int]:
    return (W - w, L - l)


def _column(L: int, W: int, l: int, w: int) -> tuple[int, int]:
    return (L - l, W - w)


FITS: tuple[Rank, ...] = (_short_side, _area_left, _strip, _column)
SPLITS = ("short", "long", "along", "across")
RULES = tuple(product(FITS, SPLITS))
ORDERS: tuple[Callable[[Piece], tuple[float, float]], ...] = (
    lambda p: (p.length * p.width, p.length),
    lambda p: (max(p.length, p.width), min(p.length, p.width)),
    lambda p: (p.width, p.length),
    lambda p: (p.length, p.width),
    lambda p: (min(p.length, p.width), max(p.length, p.width)),
)


def answers(
    pieces: Sequence[Piece], sheets: Sequence[Sheet], *, kerf: float, shuffles: int
) -> Iterator[list[Tree]]:
    """Return answers one by one, of all rules first, then of shuffled orders; always the same ones.

    Args:
        pieces: one by one, counts are not looked at; each fits on some sheet.
        sheets: cut from, in the order they are to be used.
        kerf: what the saw eats (mm).
        shuffles: how many shuffled orders.
    """
    size = {id(p): ways(p, kerf) for p in pieces}
    for listed, (fit, split) in orders(pieces, RULES, shuffles):
        made = _one(listed, sheets, kerf, fit, split, size)
        if made is not None:
            yield made


def orders(
    pieces: Sequence[Piece], rules: Sequence[Rules], shuffles: int
) -> Iterator[tuple[list[Piece], Rules]]:
    """Return every order of pieces with every rule, largest first in five ways; then shuffled orders, each with one.

    Args:
        pieces: one by one.
        rules: whatever an answer is made by.
        shuffles: how many shuffled orders; always the same ones.
    """
    for order, rule in product(ORDERS, rules):
        yield sorted(pieces, key=lambda p: (*(-x for x in order(p)), p.name)), rule
    chance = random.Random(SEED)  # noqa: S311 - only an order of trials
    for _ in range(shuffles):
        listed = sorted(pieces, key=lambda p: -p.length * p.width * chance.uniform(0.5, 1.5))
        yield listed, chance.choice(rules)


def _one(
    pieces: Sequence[Piece],
    sheets: Sequence[Sheet],
    kerf: float,
    fit: Rank,
    split: str,
    size: dict[int, list[tuple[int, int]]],
) -> list[Tree] | None:
    used: list[tuple[Sheet, _Open]] = []
    free: list[_Open] = []
    count = [0] * len(sheets)
    for piece in pieces:
        best = _best(free, size[id(piece)], fit)
        if best is None:
            fresh = _next(sheets, count, size[id(piece)], kerf)
            if fresh is None:
                return None
            count[fresh] += 1
            sheet = sheets[fresh]
            panel = _Open(down(sheet.length + kerf), down(sheet.width + kerf))
            used.append((sheet, panel))
            free.append(panel)
            best = _best([panel], size[id(piece)], fit)
        if best is None:
            return None
        panel, (l, w) = best
        free.remove(panel)
        free += _carve(panel, piece, l, w, split)
    return [(sheet, panel.tree()) for sheet, panel in used]


def _best(
    free: list[_Open], sizes: list[tuple[int, int]], fit: Rank
) -> tuple[_Open, tuple[int, int]] | None:
    found = None
    least: tuple[int, int] | None = None
    for panel in free:
        for l, w in sizes:
            if l <= panel.length and w <= panel.width:
                rank = fit(panel.length, panel.width, l, w)
                if least is None or rank < least:
                    found, least = (panel, (l, w)), rank
    return found


def _next(
    sheets: Sequence[Sheet], count: list[int], sizes: list[tuple[int, int]], kerf: float
) -> int | None:
    for k, sheet in enumerate(sheets):
        L, W = down(sheet.length + kerf), down(sheet.width + kerf)
        if (sheet.count is None or count[k] < sheet.count) and any(
            l <= L and w <= W for l, w in sizes
        ):
            return k
    return None


def _carve(panel: _Open, piece: Piece, l: int, w: int, split: str) -> list[_Open]:
    """Cut a piece out of a panel's near corner; the two panels that are left."""
    over_l, over_w = panel.length - l, panel.width - w
    across_first = {
        "short": over_l >= over_w,
        "long": over_l < over_w,
        "along": False,
        "across": True,
    }[split]
    left: list[_Open] = []
    for axis in ("across", "along") if across_first else ("along", "across"):
        if axis == "across" and over_l:
            near = _Open(l, panel.width)
            far = _Open(over_l, panel.width)
            panel.axis, panel.at, panel.parts = "across", l, (near, far)
        elif axis == "along" and over_w:
            near = _Open(panel.length, w)
            far = _Open(panel.length, over_w)
            panel.axis, panel.at, panel.parts = "along", w, (near, far)
        else:
            continue
        left.append(far)
        panel = near
    panel.leaf = (piece, l, w)
    return left
