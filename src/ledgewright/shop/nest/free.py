"""Free placements, as a router cuts them: rectangles and L's anywhere on the sheet, a cutter's width apart."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from ledgewright.shop.nest.first import orders
from ledgewright.shop.nest.grid import down, mm, sums, up
from ledgewright.shop.nest.model import Piece, Placed, Sheet

Box = tuple[int, int, int, int]
Placing = tuple[Sheet, tuple[Placed, ...]]
TRIES = 200_000
"""Steps after which an exact search says nothing."""


@dataclass(frozen=True)
class _Shape:
    """A piece as it may lie, in steps with one kerf: its turn, its size, and the boxes it is made of."""

    piece: Piece
    turn: int
    length: int
    width: int
    boxes: tuple[Box, ...]


def shapes(piece: Piece, kerf: float) -> tuple[_Shape, ...]:
    """Return all ways a piece may lie: half turns of an L keep its grain, quarter turns need leave.

    Args:
        piece: wanted.
        kerf: width of the cutter (mm).
    """
    if piece.notch is None:
        turns: tuple[int, ...] = (0, 1) if piece.turns and piece.length != piece.width else (0,)
    else:
        turns = (0, 1, 2, 3) if piece.turns else (0, 2)
    return tuple(_shape(piece, turn, kerf) for turn in turns)


def _shape(piece: Piece, turn: int, kerf: float) -> _Shape:
    l, w = (piece.length, piece.width) if turn % 2 == 0 else (piece.width, piece.length)
    lying = Placed(piece.name, 0.0, 0.0, l, w, turn, piece.notch)
    boxes = tuple((down(x), down(y), up(x2 + kerf), up(y2 + kerf)) for x, y, x2, y2 in lying.boxes)
    return _Shape(piece, turn, up(l + kerf), up(w + kerf), boxes)


@dataclass
class _Bed:
    """A sheet being filled: the boxes that are taken."""

    sheet: Sheet
    length: int
    width: int
    boxes: list[Box] = field(default_factory=list)
    placed: list[Placed] = field(default_factory=list)

    def taken(self) -> NDArray[np.int64]:
        return np.array(self.boxes, dtype=np.int64).reshape(-1, 4)

    def put(self, shape: _Shape, x: int, y: int) -> None:
        self.boxes += [(a + x, b + y, c + x, d + y) for a, b, c, d in shape.boxes]
        piece = shape.piece
        l, w = (piece.length, piece.width) if shape.turn % 2 == 0 else (piece.width, piece.length)
        self.placed.append(Placed(piece.name, mm(x), mm(y), l, w, shape.turn, piece.notch))


Rank = Callable[[int, int, _Shape], tuple[int, int]]
RANKS: tuple[Rank, ...] = (
    lambda x, y, s: (y + s.width, x + s.length),
    lambda x, y, s: (x + s.length, y + s.width),
    lambda x, y, s: (y, x),
    lambda x, y, s: (x, y),
)


def answers(
    pieces: Sequence[Piece], sheets: Sequence[Sheet], *, kerf: float, shuffles: int
) -> Iterator[list[Placing]]:
    """Return answers one by one: each piece goes to the lowest or leftmost place free; always the same ones.

    Args:
        pieces: one by one, counts are not looked at; each fits on some sheet.
        sheets: cut from, in the order they are to be used.
        kerf: width of the cutter (mm).
        shuffles: how many shuffled orders.
    """
    lying = {id(p): shapes(p, kerf) for p in pieces}
    for listed, rank in orders(pieces, RANKS, shuffles):
        made = _one(listed, sheets, kerf, rank, lying)
        if made is not None:
            yield made


def _one(
    pieces: Sequence[Piece],
    sheets: Sequence[Sheet],
    kerf: float,
    rank: Rank,
    lying: dict[int, tuple[_Shape, ...]],
) -> list[Placing] | None:
    beds: list[_Bed] = []
    count = [0] * len(sheets)
    for piece in pieces:
        if any(_settled(bed, lying[id(piece)], rank) for bed in beds):
            continue
        fresh = next(
            (
                k
                for k, sheet in enumerate(sheets)
                if (sheet.count is None or count[k] < sheet.count)
                and any(
                    s.length <= down(sheet.length + kerf) and s.width <= down(sheet.width + kerf)
                    for s in lying[id(piece)]
                )
            ),
            None,
        )
        if fresh is None:
            return None
        count[fresh] += 1
        sheet = sheets[fresh]
        beds.append(_Bed(sheet, down(sheet.length + kerf), down(sheet.width + kerf)))
        _settled(beds[-1], lying[id(piece)], rank)
    return [(bed.sheet, tuple(bed.placed)) for bed in beds]


def _settled(bed: _Bed, lying: Sequence[_Shape], rank: Rank) -> bool:
    """Put a piece down at its best free place, if there is one."""
    taken = bed.taken()
    best: tuple[tuple[int, int], _Shape, int, int] | None = None
    for shape in lying:
        xs, ys = _edges(taken, shape, bed)
        for x, y in _free(taken, shape, xs, ys):
            key = rank(x, y, shape)
            if best is None or key < best[0]:
                best = (key, shape, x, y)
    if best is None:
        return False
    bed.put(*best[1:])
    return True


def _edges(
    taken: NDArray[np.int64], shape: _Shape, bed: _Bed
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Places where some box of the piece meets an edge of a box there already, or of the sheet."""
    left = np.array(sorted({a for a, _, _, _ in shape.boxes}))
    low = np.array(sorted({b for _, b, _, _ in shape.boxes}))
    xs = (np.append(taken[:, 2], 0)[:, None] - left[None, :]).ravel()
    ys = (np.append(taken[:, 3], 0)[:, None] - low[None, :]).ravel()
    xs, ys = np.unique(xs), np.unique(ys)
    return (
        xs[(xs >= 0) & (xs <= bed.length - shape.length)],
        ys[(ys >= 0) & (ys <= bed.width - shape.width)],
    )


def _free(
    taken: NDArray[np.int64], shape: _Shape, xs: NDArray[np.int64], ys: NDArray[np.int64]
) -> list[tuple[int, int]]:
    open_ = np.ones((len(xs), len(ys)), dtype=bool)
    for a, b, c, d in shape.boxes:
        across = (xs[:, None] + a < taken[None, :, 2]) & (xs[:, None] + c > taken[None, :, 0])
        up_down = (ys[:, None] + b < taken[None, :, 3]) & (ys[:, None] + d > taken[None, :, 1])
        open_ &= ~(across.astype(np.uint8) @ up_down.T.astype(np.uint8)).astype(bool)
    return [(int(xs[i]), int(ys[j])) for i, j in np.argwhere(open_)]


def packs(pieces: Sequence[Piece], sheet: Sheet, *, kerf: float = 0.0) -> tuple[Placed, ...] | None:
    """Return a free placement of all pieces on one sheet, None if there is none.

    Source: every placement can be pushed left and down until each piece stands at a sum of sizes (normal patterns,
    Christofides and Whitlock 1977); all of them are tried, largest piece first.

    Args:
        pieces: rectangles, one by one.
        sheet: to lie on.
        kerf: width of the cutter (mm).

    Raises:
        TimeoutError: after TRIES steps without an answer.
        ValueError: for an L, whose places are not sums of its sizes.
    """
    if any(p.notch for p in pieces):
        msg = "an exact search knows rectangles only"
        raise ValueError(msg)
    L, W = down(sheet.length + kerf), down(sheet.width + kerf)
    lying = [
        [s for s in shapes(p, kerf) if s.length <= L and s.width <= W]
        for p in sorted(pieces, key=lambda p: (-p.length * p.width, -p.length))
    ]
    if not all(lying) or sum(s[0].length * s[0].width for s in lying) > L * W:
        return None
    bed = _Bed(sheet, L, W)
    xs = sums([(s.length, 1) for each in lying for s in each], L)
    ys = sums([(s.width, 1) for each in lying for s in each], W)
    return tuple(bed.placed) if _search(bed, lying, xs, ys, [0]) else None


def _search(
    bed: _Bed, lying: list[list[_Shape]], xs: list[int], ys: list[int], tries: list[int]
) -> bool:
    k = len(bed.placed)
    if k == len(lying):
        return True
    before = bed.placed[-1] if k else None
    alike = (
        before is not None
        and lying[k - 1][0].piece.length == lying[k][0].piece.length
        and (lying[k - 1][0].piece.width == lying[k][0].piece.width)
    )
    for shape in lying[k]:
        for x in xs:
            if x + shape.length > bed.length:
                break
            if alike and before is not None and len(lying[k]) == 1 and mm(x) < before.x:
                continue
            for y in ys:
                if y + shape.width > bed.width:
                    break
                tries[0] += 1
                if tries[0] > TRIES:
                    msg = "too many places to try"
                    raise TimeoutError(msg)
                box = (x, y, x + shape.length, y + shape.width)
                if any(_meet(box, other) for other in bed.boxes):
                    continue
                bed.put(shape, x, y)
                if _search(bed, lying, xs, ys, tries):
                    return True
                bed.boxes.pop()
                bed.placed.pop()
    return False


def _meet(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def most_valuable_free(
    pieces: Sequence[Piece], sheet: Sheet, *, kerf: float = 0.0
) -> tuple[float, tuple[Placed, ...]]:
    """Return the most valuable rectangles that lie on one sheet, freely placed: exact, for a dozen pieces.

    Args:
        pieces: with their counts.
        sheet: to lie on.
        kerf: width of the cutter (mm).

    Raises:
        TimeoutError: where too many places would have to be tried.
    """
    single = [replace(p, count=1) for p in pieces for _ in range(p.count or 0)]
    ranked = sorted(
        (each for n in range(1, len(single) + 1) for each in combinations(single, n)),
        key=lambda each: -sum(p.worth for p in each),
    )
    for each in ranked:
        placed = packs(each, sheet, kerf=kerf)
        if placed is not None:
            return sum(p.worth for p in each), placed
    return 0.0, ()
