"""Core and edging ripped out of sawn boards and cut to length, rods cut out of bars.

Common practice throughout. Strips of the widest parts are cut to length first; narrower parts are taken from what is
left of these before a strip of their own is ripped.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial

from ledgewright.job import Shop
from ledgewright.shop.model import Part
from ledgewright.shop.nest import (
    Bar,
    CutBar,
    CutBars,
    Proof,
    Stop,
    least_length,
    lengths,
    never,
)
from ledgewright.stock import StockLength, length_rows

NODES = 50
"""Branches after which lengths are cut by the best answer so far, with its gap: the same on every machine."""
STRAIGHTEN = 6.0
"""Taken off a sawn board to give it one straight edge (mm, 1/4 in: common practice)."""
SAME = 0.05
"""Widths and thicknesses this near each other are the same (mm)."""
Tell = Callable[[str], None]


@dataclass(frozen=True)
class Item:
    """One part of one shelf as it stands in a layout: its label there, and what it is."""

    label: str
    shelf: str
    part: Part

    @property
    def section(self) -> tuple[float, float]:
        """Width and thickness of a strip, sawn: the larger side is ripped to, the smaller comes from the board (mm)."""
        return max(self.part.rough[1:]), min(self.part.rough[1:])


@dataclass(frozen=True)
class Watch:
    """The shop that cuts, who is told how far it has come, and who may say that it is enough."""

    shop: Shop
    tell: Tell | None = None
    stop: Stop = never

    def say(self, what: str) -> None:
        """Tell how far it has come."""
        if self.tell is not None:
            self.tell(what)


@dataclass(frozen=True)
class Strips:
    """Strips of one width cut to length: width and thickness, sawn (mm).

    items: the parts of that width. The bars hold narrower parts too, ripped to their width once they are cut off.
    """

    width: float
    thick: float
    items: tuple[Item, ...]
    cut: CutBars


@dataclass(frozen=True)
class Boards:
    """Boards of one timber and thickness: strips cut to length, boards ripped into strips.

    stock: thickness and width as sawn (mm). ripped: for each length of board how its boards are ripped, as bars cut
    across their width. proof: of the length of all boards (mm), whatever way they are ripped.
    """

    timber: str
    stock: tuple[float, float]
    strips: tuple[Strips, ...]
    ripped: tuple[tuple[float, CutBars], ...]
    proof: Proof

    @property
    def bought(self) -> tuple[tuple[float, int], ...]:
        """Length of each kind of board (mm), and how many."""
        return tuple((length, len(cut.bars)) for length, cut in self.ripped if cut.bars)

    @property
    def length(self) -> float:
        """Of all boards together (mm)."""
        return sum(length * count for length, count in self.bought)


@dataclass(frozen=True)
class Bars:
    """Rods of one bar cut to length."""

    bar: str
    items: tuple[Item, ...]
    cut: CutBars


def boards(
    watch: Watch, market: str, items: Sequence[Item]
) -> tuple[tuple[Boards, ...], tuple[tuple[str, str], ...]]:
    """Return the boards of every timber and thickness, and what no board is thick or wide enough for.

    Args:
        watch: the shop, and who looks on.
        market: "in" or "mm", whose stock lengths there are.
        items: parts of core and edging.
    """
    stock = [row for row in length_rows() if row.what == "board" and row.market == market]
    wide = max((row.width or 0.0) for row in stock) - STRAIGHTEN
    groups: dict[tuple[str, float], list[Item]] = {}
    left: list[tuple[str, str]] = []
    for item in items:
        width, thick = item.section
        enough = sorted({row.thick for row in stock if row.thick and row.thick >= thick - 1e-6})
        if not enough or width > wide:
            left.append(
                (item.label, "no sawn board in the catalogue is thick or wide enough: glue it up")
            )
        else:
            groups.setdefault((item.part.of, enough[0]), []).append(item)
    made = tuple(
        _of_timber(watch, timber, [r for r in stock if r.thick == thick], of)
        for (timber, thick), of in sorted(groups.items())
    )
    return made, tuple(left)


def _of_timber(
    watch: Watch, timber: str, stock: Sequence[StockLength], items: Sequence[Item]
) -> Boards:
    """The least length of boards: of one length of board throughout, or of all lengths as they come."""
    watch.say(f"{timber}: strips out of boards")
    tried = [_ripped(watch, timber, rows, items) for rows in (*([row] for row in stock), stock)]
    fewest = min(sum(len(s.cut.left) for s in each.strips) for each in tried)
    whole = [b for b in tried if sum(len(s.cut.left) for s in b.strips) == fewest]
    best = min(whole, key=lambda b: (b.length, sum(n for _, n in b.bought)))
    size = (stock[0].width or 0.0) - STRAIGHTEN
    wanted = [
        (length, item.section[0])
        for item in items
        for name, length in _wanted([item])
        if not any(name == gone for strip in best.strips for gone, _ in strip.cut.left)
    ]
    bars = [Bar(row.name, row.length, cost=row.length) for row in stock]
    bound = least_length(wanted, bars, size, kerf=watch.shop.kerf)
    how = "length, with widths rounded by dual feasible functions"
    return replace(best, proof=Proof(best.length, min(bound, best.length), how))


def _ripped(
    watch: Watch, timber: str, stock: Sequence[StockLength], items: Sequence[Item]
) -> Boards:
    longest = max(row.length for row in stock)
    kept = [Bar(row.name, row.length, cost=row.length / longest) for row in stock]
    by_width: dict[float, list[Item]] = {}
    for item in items:
        by_width.setdefault(round(item.section[0], 1), []).append(item)
    strips: list[Strips] = []
    for _, of in sorted(by_width.items(), reverse=True):
        strips = _more(watch, strips, of, kept)
    size = ((stock[0].thick or 0.0), (stock[0].width or 0.0))
    ripped = _boards_for(watch, strips, stock)
    unproven = Proof(0.0, 0.0, "")
    return Boards(timber, size, tuple(s for s in strips if s.items), ripped, unproven)


def _more(
    watch: Watch, strips: Sequence[Strips], items: Sequence[Item], kept: Sequence[Bar]
) -> list[Strips]:
    """Add parts of one width: out of the rests of wider strips as far as that saves strips, else of their own."""
    width = max(item.section[0] for item in items)
    thick = max(item.section[1] for item in items)
    shop, wanted = watch.shop, _wanted(items)
    fed, over = _into_rests(strips, wanted, thick, shop.kerf)
    own = cheapest(wanted, kept, shop.kerf, light=True, stop=watch.stop)
    less = own
    if over != wanted:
        less = cheapest(over, kept, shop.kerf, light=True, stop=watch.stop)
    if less is own or less.proof.found > own.proof.found - 1e-9:
        return [*strips, Strips(width, thick, tuple(items), own)]
    return [*fed, Strips(width, thick, tuple(items), less)]


def _into_rests(
    strips: Sequence[Strips], wanted: Sequence[tuple[str, float]], thick: float, kerf: float
) -> tuple[list[Strips], list[tuple[str, float]]]:
    """Put pieces into what is left of strips that are wide and thick enough, longest first, each where it fits best.

    Returns:
        The strips with them, and the pieces that went nowhere.
    """
    bars = [list(strip.cut.bars) for strip in strips]
    over: list[tuple[str, float]] = []
    for name, length in sorted(wanted, key=lambda piece: -piece[1]):
        fits = [
            (bar.rest, s, b)
            for s, strip in enumerate(strips)
            if strip.thick >= thick - SAME
            for b, bar in enumerate(bars[s])
            if bar.rest >= length
        ]
        if not fits:
            over.append((name, length))
            continue
        rest, s, b = min(fits)
        bars[s][b] = CutBar(
            bars[s][b].bar,
            (*bars[s][b].pieces, (name, length)),
            max(0.0, rest - length - kerf),
        )
    made = [
        replace(strip, cut=replace(strip.cut, bars=tuple(own)))
        for strip, own in zip(strips, bars, strict=True)
    ]
    # The order in which they were wanted: an answer must not hang on how they were tried.
    return made, [piece for piece in wanted if piece in over]


def _boards_for(
    watch: Watch, strips: Sequence[Strips], stock: Sequence[StockLength]
) -> tuple[tuple[float, CutBars], ...]:
    """Boards of each length ripped into the strips of that length."""
    wide = (stock[0].width or 0.0) - STRAIGHTEN
    ripped = []
    for row in stock:
        wanted = [
            (f"{strip.width:g}", strip.width)
            for strip in strips
            for bar in strip.cut.bars
            if bar.bar.length == row.length
        ]
        if wanted:
            bars = [Bar(row.name, wide)]
            cut = lengths(wanted, bars, kerf=watch.shop.kerf, nodes=NODES, stop=watch.stop)
            ripped.append((row.length, cut))
    return tuple(ripped)


def cheapest(
    wanted: Sequence[tuple[str, float]],
    stock: Sequence[Bar],
    kerf: float,
    *,
    light: bool = False,
    stop: Stop = never,
) -> CutBars:
    """Return lengths cut from the least length of stock, and of answers alike from the fewest pieces of it.

    Args:
        wanted: (name, length) of every piece (mm).
        stock: lengths that are sold, each at a cost by its length.
        kerf: what the saw eats (mm).
        light: whether to do with rounded answers.
        stop: whether to be content with a first answer.
    """
    cut = partial(lengths, wanted, kerf=kerf, nodes=NODES, light=light, stop=stop)
    mixed = cut(bars=stock)
    if len(stock) == 1:
        return mixed
    only = [cut(bars=[bar]) for bar in stock]
    alike = [mixed, *(each for each in only if each.left == mixed.left)]
    best = min(alike, key=lambda each: (round(each.proof.found, 6), len(each.bars)))
    low = min(mixed.proof.bound, best.proof.found)
    return replace(best, proof=Proof(best.proof.found, low, mixed.proof.how))


def _wanted(items: Sequence[Item]) -> list[tuple[str, float]]:
    return [(item.label, item.part.rough[0]) for item in items for _ in range(item.part.count)]


def bars(watch: Watch, market: str, name: str, items: Sequence[Item]) -> Bars:
    """Return the rods of one bar out of the least length of it.

    Args:
        watch: the shop, and who looks on.
        market: "in" or "mm", whose stock lengths there are.
        name: of the bar.
        items: the rods.
    """
    watch.say(f"{name}: cut to length")
    stock = [row for row in length_rows() if row.what == "bar" and row.market == market]
    longest = max(row.length for row in stock)
    kept = [Bar(row.name, row.length, cost=row.length / longest) for row in stock]
    cut = cheapest(_wanted(items), kept, watch.shop.kerf, stop=watch.stop)
    return Bars(name, tuple(items), cut)
