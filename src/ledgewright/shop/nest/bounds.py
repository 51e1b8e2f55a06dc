"""What no answer can beat: by area, and by pieces that cannot lie on one sheet."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import partial

import numpy as np
from numpy.typing import NDArray

from ledgewright.shop.nest.grid import down
from ledgewright.shop.nest.model import Bar, Piece, Sheet
from ledgewright.shop.nest.unlimited import ways

Floats = NDArray[np.float64]
MARKS = 20
"""How many sizes serve as thresholds, one way."""
CLOSE = 1e-9


def cheapest(area: float, sheets: Sequence[Sheet], areas: Sequence[float]) -> float:
    """Return the least cost of sheets that have an area together.

    Args:
        area: wanted.
        sheets: with their counts and costs.
        areas: of the sheets, in the unit of `area`.

    Returns:
        The cost; infinite if all sheets together have not so much.
    """
    order = sorted(range(len(sheets)), key=lambda k: (sheets[k].cost / areas[k], -areas[k]))
    best = math.inf

    def deeper(at: int, left: float, cost: float) -> None:
        nonlocal best
        if left <= 1e-9 * area:
            best = min(best, cost)
            return
        if at == len(order):
            return
        sheet, one = sheets[order[at]], areas[order[at]]
        if cost + left / one * sheet.cost >= best - 1e-9:
            return
        need = math.ceil(left / one - 1e-9)
        most = need if sheet.count is None else min(need, sheet.count)
        for n in range(most, -1, -1):
            deeper(at + 1, left - n * one, cost + n * sheet.cost)

    deeper(0, area, 0.0)
    return best


def least_cost(pieces: Sequence[Piece], sheets: Sequence[Sheet], kerf: float) -> tuple[float, str]:
    """Return a cost that no answer of any cutting rule beats, and what it comes from.

    Source: area; pieces of which no two lie on one sheet; and for one size of sheet the area of sizes rounded by dual
    feasible functions, Fekete and Schepers, Math. Program. 91 (2001).

    Args:
        pieces: one by one, counts are not looked at; each fits on some sheet.
        sheets: cut from.
        kerf: what the saw eats (mm).
    """
    areas = [float(down(s.length + kerf)) * down(s.width + kerf) for s in sheets]
    by_area = _by_area(pieces, sheets, areas, kerf)
    apart = _apart(pieces, sheets, kerf)
    by_pairs = cheapest(float(apart), sheets, [1.0] * len(sheets))
    if by_pairs > by_area:
        by_area, how = by_pairs, "pieces of which no two lie on one sheet"
    else:
        how = "area"
    if len(sheets) == 1 and not any(p.notch for p in pieces):
        weighed = sheets[0].cost * _weighed(pieces, sheets[0], kerf)
        if weighed > by_area:
            return weighed, "area, with sizes rounded by dual feasible functions"
    return by_area, how


def least_length(
    pieces: Sequence[tuple[float, float]], stock: Sequence[Bar], width: float, *, kerf: float
) -> float:
    """Return a cost that no way to rip and cut boards of one width beats, pieces lying along them.

    Source: across a board widths add up to no more than its own, after any dual feasible function too (Fekete and
    Schepers 2001); so all pieces, each as long as it is and as wide as its rounded share, need that length of board.

    Args:
        pieces: (length, width) of each (mm).
        stock: lengths of board, each at its cost.
        width: of every board (mm).
        kerf: what the saw eats (mm).
    """
    if not pieces:
        return 0.0
    long = np.array([length + kerf for length, _ in pieces])
    shares = np.array([(wide + kerf) / (width + kerf) for _, wide in pieces])
    need = max(float(long @ f(shares)) for f in _rounders(np.unique(shares)))
    sold = [Sheet(bar.name, bar.length, width, bar.count, bar.cost) for bar in stock]
    room = [bar.length + kerf for bar in stock]
    # One board at least holds the longest piece.
    return min(
        (
            bar.cost + cheapest(max(0.0, need - one), sold, room)
            for bar, one in zip(stock, room, strict=True)
            if one >= float(long.max()) - CLOSE
        ),
        default=math.inf,
    )


def _by_area(
    pieces: Sequence[Piece], sheets: Sequence[Sheet], areas: Sequence[float], kerf: float
) -> float:
    """The area of all pieces, and that of those which only some of the sheets are large enough for."""
    room = [(down(s.length + kerf), down(s.width + kerf)) for s in sheets]
    fits = [
        frozenset(
            k for k, (L, W) in enumerate(room) if any(l <= L and w <= W for l, w in ways(p, kerf))
        )
        for p in pieces
    ]
    best = 0.0
    for some in set(fits):
        area = sum(_area(p, kerf) for p, own in zip(pieces, fits, strict=True) if own <= some)
        of = sorted(some)
        best = max(best, cheapest(area, [sheets[k] for k in of], [areas[k] for k in of]))
    every = sum(_area(p, kerf) for p in pieces)
    return max(best, cheapest(every, sheets, areas))


def _weighed(pieces: Sequence[Piece], sheet: Sheet, kerf: float) -> int:
    L, W = down(sheet.length + kerf), down(sheet.width + kerf)
    sizes = [ways(p, kerf) for p in pieces]
    # The way a piece does not lie in may be larger than the sheet; a share of 1 then stands for "not at all".
    first = np.array([[s[0][0] / L, s[0][1] / W] for s in sizes])
    other = np.array([[s[-1][0] / L, s[-1][1] / W] for s in sizes])
    steps = [np.unique(np.concatenate([first[:, k], other[:, k]])) for k in (0, 1)]
    rounds = [_rounders(each) for each in steps]
    best = 0.0
    for f in rounds[0]:
        for g in rounds[1]:
            one = np.where((first > 1).any(axis=1), np.inf, f(first[:, 0]) * g(first[:, 1]))
            two = np.where((other > 1).any(axis=1), np.inf, f(other[:, 0]) * g(other[:, 1]))
            best = max(best, float(np.minimum(one, two).sum()))
    return math.ceil(best - 1e-6)


def _rounders(shares: Floats) -> list[Callable[[Floats], Floats]]:
    """Dual feasible functions of shares of a sheet: what sums to at most 1 still does after them."""
    marks = [float(x) for x in shares if 0 < x <= 0.5][-MARKS:]
    return [
        lambda x: x,
        *(partial(_by_multiples, k=k) for k in range(1, 5)),
        *(partial(_all_or_none, mark=m) for m in marks),
        *(partial(_by_count, mark=m) for m in marks),
    ]


def _by_multiples(x: Floats, k: int) -> Floats:
    many = (k + 1) * x
    whole = np.abs(many - np.rint(many)) < CLOSE
    return np.where(whole, x, np.floor(many + CLOSE) / k)


def _all_or_none(x: Floats, mark: float) -> Floats:
    return np.where(x > 1 - mark + CLOSE, 1.0, np.where(x < mark - CLOSE, 0.0, x))


def _by_count(x: Floats, mark: float) -> Floats:
    most = math.floor(1 / mark + CLOSE)
    large = 1 - np.floor((1 - x) / mark + CLOSE) / most
    middle = np.where(x < mark - CLOSE, 0.0, 1 / most)
    return np.where(x > 0.5 + CLOSE, large, np.where(x >= 0.5 - CLOSE, 0.5, middle))


def _area(piece: Piece, kerf: float) -> float:
    """Area with one kerf, in square steps; an L's notch is taken off by less than it may turn out."""
    l, w = ways(piece, kerf)[0]
    if piece.notch is None:
        return float(l) * w
    a, b = (down(max(0.0, abs(x) - kerf)) for x in piece.notch)
    return float(l) * w - float(a) * b


def _apart(pieces: Sequence[Piece], sheets: Sequence[Sheet], kerf: float) -> int:
    """How many pieces there are, found one after another, of which no two lie on one sheet."""
    room = [(down(s.length + kerf), down(s.width + kerf)) for s in sheets]
    chosen: list[list[tuple[int, int]]] = []
    for piece in sorted(pieces, key=lambda p: -p.length * p.width):
        if piece.notch is not None:
            continue
        sizes = ways(piece, kerf)
        if not any(_together(sizes, other, room) for other in chosen):
            chosen.append(sizes)
    return len(chosen)


def _together(
    one: list[tuple[int, int]], other: list[tuple[int, int]], room: list[tuple[int, int]]
) -> bool:
    return any(
        (a + c <= L and max(b, d) <= W) or (b + d <= W and max(a, c) <= L)
        for L, W in room
        for a, b in one
        for c, d in other
    )
