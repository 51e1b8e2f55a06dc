"""All pieces out of the cheapest sheets, by straight cuts through or freely placed, with the proof."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from ledgewright.shop.nest import first, free
from ledgewright.shop.nest.bounds import least_cost
from ledgewright.shop.nest.model import (
    ENOUGH,
    STOPPED,
    Layout,
    Nest,
    Offcut,
    Piece,
    Placed,
    Proof,
    Rule,
    Sheet,
    Stop,
    never,
)
from ledgewright.shop.nest.plates import fewest, plates
from ledgewright.shop.nest.tree import Leaf, Node, Split, close_up, lay

SHUFFLES = 150
FREE = 600
"""So many free places of one piece are tried in shuffled orders: they take longer than cuts."""
UNKNOWNS = 20_000
"""A programme with more unknowns is not begun: it would not end while one waits."""
NODES = 2_000
EXACT_PIECES = 8
"""More pieces than this are not placed freely by trying all places."""
NARROWER = 7
"""How often a sheet is made narrower by half of what is left, to gather what is left over in one offcut."""
Tell = Callable[[str], None]


def nest(
    pieces: Sequence[Piece],
    sheets: Sequence[Sheet],
    *,
    rule: Rule = "straight cuts",
    kerf: float = 0.0,
    trim: float = 0.0,
    seconds: float = 20.0,
    tell: Tell | None = None,
    stop: Stop = never,
) -> Nest:
    """Cut all pieces out of sheets at the least cost; of answers alike, keep the one with the largest offcut.

    Source: first answers by piece after piece; bounds by area and by pieces that exclude each other; the plate and cut
    programme of Furini et al. (2016) where these do not meet.

    Args:
        pieces: wanted, each with a count; what `turns` may lie either way.
        sheets: in the order they are to be used, those on hand first.
        rule: straight cuts through, or freely placed.
        kerf: what the saw or the cutter eats (mm).
        trim: taken off every edge of a sheet (mm).
        seconds: when the exact programme stops with the best so far.
        tell: told of each better answer, for people who wait.
        stop: ends the search with the best so far, of which the proof says so; a first answer is always made.

    Returns:
        Layouts sheet by sheet. The proof counts cost: of sheets that cost 1, their number.

    Jobs of a usual size are answered the same on every machine: the exact programme is bounded by its unknowns
    and its branches, and `seconds` is only a stop behind both.
    """
    inner = [replace(s, length=s.length - 2 * trim, width=s.width - 2 * trim) for s in sheets]
    single, left = _singles(pieces, inner)
    task = _Task(tuple(single), tuple(sheets), tuple(inner), kerf, trim, seconds, tell, stop)
    if not single:
        return Nest(rule, (), Proof(0.0, 0.0, "nothing is wanted"), left)
    # A saw that goes right through sees the outer rectangle of an L.
    seen = single if rule == "free" else [replace(p, notch=None) for p in single]
    bound, how = least_cost(seen, inner, kerf)
    if math.isinf(bound):
        return _nothing(rule, pieces, bound)
    search = _straight(task, bound, how) if rule == "straight cuts" else _free(task, bound, how)
    if not search.layouts:
        return _nothing(rule, pieces, bound)
    low = min(search.cost, search.bound)
    proof = Proof(search.cost, low, search.how)
    if stop() and not proof.proven:
        proof = replace(proof, how=STOPPED + search.how)
    return Nest(rule, search.layouts, proof, left)


def _nothing(rule: Rule, pieces: Sequence[Piece], bound: float) -> Nest:
    proof = Proof(math.inf, bound, "no answer on the sheets there are")
    return Nest(rule, (), proof, tuple(pieces))


@dataclass(frozen=True)
class _Task:
    """Pieces one by one, sheets as they are and without their edges, and how they are cut."""

    pieces: tuple[Piece, ...]
    sheets: tuple[Sheet, ...]
    inner: tuple[Sheet, ...]
    kerf: float
    trim: float
    seconds: float
    tell: Tell | None
    stop: Stop

    def whole(self, sheet: Sheet) -> Sheet:
        """The sheet with its edges."""
        return self.sheets[self.inner.index(sheet)]

    def lay(self, trees: Sequence[first.Tree]) -> tuple[Layout, ...]:
        return tuple(
            lay(node, self.whole(sheet), kerf=self.kerf, trim=self.trim) for sheet, node in trees
        )

    def say(self, used: int, bound: float) -> None:
        if self.tell is not None:
            self.tell(f"{len(self.pieces)} pieces on {used} sheets, bound {bound:g}")


@dataclass(frozen=True)
class _Found:
    layouts: tuple[Layout, ...]
    cost: float
    bound: float
    how: str


def _singles(
    pieces: Sequence[Piece], sheets: Sequence[Sheet]
) -> tuple[list[Piece], tuple[Piece, ...]]:
    """Pieces one by one, and those that no sheet is large enough for."""
    fits = [any(p.fits(s) for s in sheets) for p in pieces]
    left = tuple(p for p, ok in zip(pieces, fits, strict=True) if not ok)
    single = [
        replace(p, count=1)
        for p, ok in zip(pieces, fits, strict=True)
        if ok
        for _ in range(p.count or 0)
    ]
    return single, left


def _straight(task: _Task, bound: float, how: str) -> _Found:
    trees: list[first.Tree] = []
    for trees in _better(task, bound):
        task.say(len(trees), bound)
    if _cost(trees) > bound + ENOUGH:
        trees, bound, how = _exactly(task, trees, bound, how)
    trees = _gathered(task, trees)
    return _Found(task.lay(trees), _cost(trees), bound, how)


def _cost(trees: Sequence[first.Tree]) -> float:
    return sum(sheet.cost for sheet, _ in trees) if trees else math.inf


def _better(task: _Task, bound: float) -> Iterator[list[first.Tree]]:
    """First answers, each better than the one before: cheaper, or as cheap with a larger offcut."""
    cost, reach = math.inf, -1.0
    ruled = len(first.ORDERS) * len(first.RULES)
    tried = first.answers(task.pieces, task.inner, kerf=task.kerf, shuffles=SHUFFLES)
    for k, trees in enumerate(tried):
        if (k >= ruled and cost <= bound + ENOUGH) or (k and task.stop()):
            return
        each = _cost(trees)
        if each > cost + ENOUGH:
            continue
        large = _largest(task.lay(trees))
        if each < cost - ENOUGH or large > reach + ENOUGH:
            cost, reach = each, large
            yield trees


def _largest(layouts: Sequence[Layout]) -> float:
    return max((o.area for each in layouts for o in each.offcuts[:1]), default=0.0)


def _exactly(
    task: _Task, trees: list[first.Tree], bound: float, how: str
) -> tuple[list[first.Tree], float, str]:
    """Ask the programme of all straight cuts, if it is small enough to be asked."""
    made = plates(_alike(task.pieces), task.inner, kerf=task.kerf, most=UNKNOWNS, stop=task.stop)
    if not made.whole:
        return trees, bound, how
    solved = fewest(made, seconds=task.seconds, nodes=NODES, bound=bound, stop=task.stop)
    if solved.bound > bound + ENOUGH:
        bound, how = solved.bound, "all straight cuts, by integer programming"
    if solved.found is not None and solved.found < _cost(trees) - ENOUGH:
        trees = _named(solved.trees, task.pieces)
    return trees, bound, how


def _alike(pieces: Sequence[Piece]) -> list[Piece]:
    """Pieces of one size as one piece with a count."""
    alike: dict[tuple[float, float, bool], list[Piece]] = {}
    for p in pieces:
        alike.setdefault((p.length, p.width, p.turns), []).append(p)
    return [replace(each[0], count=len(each)) for each in alike.values()]


def _named(trees: Sequence[first.Tree], pieces: Sequence[Piece]) -> list[first.Tree]:
    """Give pieces of one size their own names back; what was cut more often than wanted is left out."""
    stock: dict[tuple[float, float, bool], list[Piece]] = {}
    for p in pieces:
        stock.setdefault((p.length, p.width, p.turns), []).append(p)

    def named(node: Node) -> Node:
        if isinstance(node, Split):
            return replace(node, near=named(node.near), far=named(node.far))
        if node.piece is None:
            return node
        mine = stock[node.piece.length, node.piece.width, node.piece.turns]
        return replace(node, piece=mine.pop(0) if mine else None)

    return [(sheet, named(node)) for sheet, node in trees]


def _gathered(task: _Task, trees: list[first.Tree]) -> list[first.Tree]:
    """Cut the emptiest sheet from as narrow a part of it as may be, so that one large offcut is left."""
    if not trees:
        return trees
    k = min(range(len(trees)), key=lambda k: (_filled(trees[k]), -k))
    sheet, node = trees[k]
    pieces = tuple(_pieces(node))
    best, reach = node, _largest(task.lay([(sheet, node)]))
    for narrow in chain(
        _narrower(task, sheet, pieces, length=True), _narrower(task, sheet, pieces, length=False)
    ):
        large = _largest(task.lay([(sheet, narrow)]))
        if large > reach + ENOUGH:
            best, reach = narrow, large
    return [*trees[:k], (sheet, best), *trees[k + 1 :]]


def _filled(tree: first.Tree) -> float:
    sheet, node = tree
    return sum(p.length * p.width for p in _pieces(node)) / (sheet.length * sheet.width)


def _pieces(node: Node) -> Iterator[Piece]:
    if isinstance(node, Leaf):
        if node.piece is not None:
            yield node.piece
    else:
        yield from _pieces(node.near)
        yield from _pieces(node.far)


def _narrower(
    task: _Task, sheet: Sheet, pieces: Sequence[Piece], *, length: bool
) -> Iterator[Node]:
    """Answers on ever shorter, or narrower, parts of a sheet."""
    area = sum((p.length + task.kerf) * (p.width + task.kerf) for p in pieces)
    whole = sheet.length if length else sheet.width
    low, high = area / (sheet.width if length else sheet.length) - task.kerf, whole
    for _ in range(NARROWER):
        if high - low < 1.0 or task.stop():
            return
        middle = (low + high) / 2
        part = replace(
            sheet,
            count=1,
            length=middle if length else sheet.length,
            width=sheet.width if length else middle,
        )
        found = next(first.answers(pieces, [part], kerf=task.kerf, shuffles=0), None)
        closed = close_up(found[0][1]) if found else None
        if closed is None:
            low = middle
            continue
        yield closed
        high = min(middle, (closed.length if length else closed.width) / 1000 - task.kerf)


def _free(task: _Task, bound: float, how: str) -> _Found:
    """Freely placed; an answer by straight cuts is one of these too."""
    best: list[free.Placing] = []
    for best in _freer(task, bound):
        task.say(len(best), bound)
    if _worth(best) > bound + ENOUGH:
        straight = _straight(task, bound, how)
        if straight.cost < _worth(best) - ENOUGH:
            best = [_within(task, layout) for layout in straight.layouts]
    if _worth(best) > bound + ENOUGH:
        bound, how = _none_on_one(task, best, bound, how)
    layouts = tuple(_layout(task, sheet, placed) for sheet, placed in best)
    return _Found(layouts, _worth(best), bound, how)


def _within(task: _Task, layout: Layout) -> free.Placing:
    """A layout as a free placement on the sheet without its edges."""
    moved = (replace(p, x=p.x - task.trim, y=p.y - task.trim) for p in layout.placed)
    return task.inner[task.sheets.index(layout.sheet)], tuple(moved)


def _worth(answer: Sequence[free.Placing]) -> float:
    return sum(sheet.cost for sheet, _ in answer) if answer else math.inf


def _freer(task: _Task, bound: float) -> Iterator[list[free.Placing]]:
    cost, reach = math.inf, -1.0
    straight = (
        [(sheet, lay(node, sheet, kerf=task.kerf).placed) for sheet, node in trees]
        for trees in _better(task, bound)
    )
    freely = free.answers(
        task.pieces,
        task.inner,
        kerf=task.kerf,
        shuffles=min(SHUFFLES // 3, FREE // len(task.pieces)),
    )
    ruled = len(first.ORDERS) * len(free.RANKS)
    for k, placed in chain(((0, each) for each in straight), enumerate(freely)):
        if (k >= ruled and cost <= bound + ENOUGH) or (math.isfinite(cost) and task.stop()):
            return
        each = _worth(placed)
        large = _open(placed)
        if each < cost - ENOUGH or (each <= cost + ENOUGH and large > reach + ENOUGH):
            cost, reach = each, large
            yield placed


def _open(answer: Sequence[free.Placing]) -> float:
    """Area of the largest full-width or full-length strip that is left on any sheet."""
    return max(
        max(
            (sheet.length - max(p.x + p.length for p in placed)) * sheet.width,
            (sheet.width - max(p.y + p.width for p in placed)) * sheet.length,
        )
        for sheet, placed in answer
    )


def _none_on_one(
    task: _Task, best: Sequence[free.Placing], bound: float, how: str
) -> tuple[float, str]:
    """With few rectangles and two sheets found: whether one would have done, by trying all places."""
    few = len(task.pieces) <= EXACT_PIECES and not any(p.notch for p in task.pieces)
    if not few or len(best) != 2 or len(task.inner) != 1 or task.stop():
        return bound, how
    try:
        if free.packs(task.pieces, task.inner[0], kerf=task.kerf) is None:
            return 2 * task.inner[0].cost, "no free placement on one sheet, all places tried"
    except TimeoutError:
        pass
    return bound, how


def _layout(task: _Task, sheet: Sheet, placed: Sequence[Placed]) -> Layout:
    moved = tuple(replace(p, x=p.x + task.trim, y=p.y + task.trim, panel=None) for p in placed)
    whole = task.whole(sheet)
    return Layout(whole, moved, (), _rest(whole, moved, task.kerf, task.trim))


def _rest(sheet: Sheet, placed: Sequence[Placed], kerf: float, trim: float) -> tuple[Offcut, ...]:
    """The largest rectangle that is left free, a cutter's width from every piece."""
    taken = [(a - kerf, b - kerf, c + kerf, d + kerf) for p in placed for a, b, c, d in p.boxes]
    best: Offcut | None = None
    xs = sorted({trim, *(c for _, _, c, _ in taken)})
    ends = sorted({sheet.length - trim, *(a for a, _, _, _ in taken)})
    for x in xs:
        for end in (e for e in ends if e > x + ENOUGH):
            beside = sorted((b, d) for a, b, c, d in taken if a < end - ENOUGH and c > x + ENOUGH)
            y = trim
            for low, high in [*beside, (sheet.width - trim, math.inf)]:
                if low > y + ENOUGH and (best is None or (end - x) * (low - y) > best.area):
                    best = Offcut(x, y, end - x, low - y)
                y = max(y, high)
    return (best,) if best is not None else ()
