"""The parts of a whole job out of sheets, boards and bars: what is cut where, what is bought, what is left.

Common practice throughout: skins out of sheets, their grain along the wall; core and edging ripped out of sawn
boards and then cut to length; rods out of bars.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from shapely import Polygon, box
from shapely.affinity import affine_transform

from ledgewright.job import Job, Shop, Spec
from ledgewright.shop.model import Part
from ledgewright.shop.needs import Counted, SheetCount
from ledgewright.shop.nest import (
    Bar,
    CutBars,
    Nest,
    Piece,
    Proof,
    Sheet,
    Stop,
    lengths,
    nest,
    never,
)
from ledgewright.shop.parts import SKIN_OVER
from ledgewright.stock import Panel, StockLength, length_rows

NO_GRAIN = ("mdf", "particleboard")
"""Sheets that may be cut either way round; veneer, strands and solid timber have a grain."""
ON_HAND = 1e-3
"""Cost of a sheet on hand against one bought: it is used first, and fewest of them."""
NODES = 50
"""Branches after which lengths are cut by the best answer so far, with its gap: the same on every machine."""
STRAIGHTEN = 6.0
"""Taken off a sawn board to give it one straight edge (mm, 1/4 in: common practice)."""
SLIVER = 1.0
"""An L's notch is drawn in by this much, so that a plan of many corners is never cut into (mm)."""
Tell = Callable[[str], None]


@dataclass(frozen=True)
class Item:
    """One part of one shelf as it stands in a layout: its label there, and what it is."""

    label: str
    shelf: str
    part: Part


@dataclass(frozen=True)
class Sheets:
    """The skins of one panel: how they lie, what is taken from stock and what is bought.

    measured: thickness (mm). turns: whether pieces may lie either way. bought, used: (length, width, how many).
    waste: share of all sheets used that is neither part nor largest offcut.
    """

    panel: Panel
    items: tuple[Item, ...]
    nest: Nest
    turns: bool
    bought: tuple[tuple[float, float, int], ...]
    used: tuple[tuple[float, float, int], ...]
    waste: float

    @property
    def count(self) -> int:
        """How many sheets are bought."""
        return sum(n for _, _, n in self.bought)

    @property
    def counted(self) -> SheetCount:
        """All sheets it takes, under the size that most of them have."""
        every = (*self.bought, *self.used)
        along, across, _ = max(every, key=lambda each: each[2])
        taken = sum(n for _, _, n in self.used)
        return SheetCount(self.panel.name, (across, along), self.count + taken, taken)


@dataclass(frozen=True)
class Strips:
    """Strips of one width to be cut to length: width and thickness, sawn (mm)."""

    width: float
    thick: float
    items: tuple[Item, ...]
    cut: CutBars


@dataclass(frozen=True)
class Boards:
    """Boards of one timber and thickness: strips cut to length, boards ripped into strips.

    stock: thickness and width as sawn (mm). ripped: for each length of board how its boards are ripped, as bars cut
    across their width.
    """

    timber: str
    stock: tuple[float, float]
    strips: tuple[Strips, ...]
    ripped: tuple[tuple[float, CutBars], ...]

    @property
    def bought(self) -> tuple[tuple[float, int], ...]:
        """Length of each kind of board (mm), and how many."""
        return tuple((length, len(cut.bars)) for length, cut in self.ripped if cut.bars)


@dataclass(frozen=True)
class Bars:
    """Rods of one bar cut to length."""

    bar: str
    items: tuple[Item, ...]
    cut: CutBars


@dataclass(frozen=True)
class Cutting:
    """How a whole job is cut.

    withheld: shelves whose core or rods are not in it, because a wall is not confirmed. left: (label, why) of what
    can be cut from nothing in stock.
    """

    sheets: tuple[Sheets, ...]
    boards: tuple[Boards, ...]
    bars: tuple[Bars, ...]
    withheld: tuple[str, ...]
    left: tuple[tuple[str, str], ...]

    @property
    def bought(self) -> tuple[tuple[str, int], ...]:
        """Name of each panel and how many sheets of it are bought."""
        return tuple((each.panel.name, each.count) for each in self.sheets)

    @property
    def counted(self) -> Counted | None:
        """The sheets it takes, for the bill; None where something is left that no sheet holds."""
        if self.left:
            return None
        return Counted(
            tuple(each.counted for each in self.sheets),
            proven=all(each.nest.proof.proven for each in self.sheets),
        )


Made = tuple[Spec, tuple[Part, ...]]


def cutting(
    *,
    job: Job,
    made: Sequence[Made],
    withheld: Sequence[str] = (),
    tell: Tell | None = None,
    stop: Stop = never,
) -> Cutting:
    """Cut the parts of a whole job out of sheets, boards and bars.

    Args:
        job: its shop and its units.
        made: each shelf and those of its parts that are told.
        withheld: titles of shelves of which some parts are not told.
        tell: told how far it has come, for people who wait.
        stop: once it says yes, every search ends with the best it has; proofs say so.

    Returns:
        Layouts with proofs; sheets on hand are used first. Where a part fits nothing, it is named and not cut.
    """
    items = _items(made)
    panels = {s.panel.name: s.panel for spec, _ in made for s in (spec.skin_top, spec.skin_bottom)}
    watch = _Watch(job.shop, tell, stop)
    sheets = tuple(_sheets(watch, panels[name], of) for name, of in _by_name(items, "skin").items())
    sawn = [i for i in items if i.part.kind in ("core", "edging")]
    boards, thick = _boards(watch, job.meta.units, sawn)
    rods = _by_name(items, "rod")
    bars = tuple(_bars(watch, job.meta.units, name, of) for name, of in rods.items())
    return Cutting(sheets, boards, bars, tuple(withheld), (*_left(sheets, boards, bars), *thick))


@dataclass(frozen=True)
class _Watch:
    """The shop that cuts, who is told how far it has come, and who may say that it is enough."""

    shop: Shop
    tell: Tell | None
    stop: Stop

    def say(self, what: str) -> None:
        if self.tell is not None:
            self.tell(what)


def _items(made: Sequence[Made]) -> tuple[Item, ...]:
    """Every part with a label that no other shelf's has: its letter, after the shelf's number if there are several."""
    return tuple(
        Item(part.letter if len(made) == 1 else f"{number}-{part.letter}", spec.title, part)
        for number, (spec, parts) in enumerate(made, 1)
        for part in parts
    )


def _by_name(items: Sequence[Item], kind: str) -> dict[str, list[Item]]:
    found: dict[str, list[Item]] = {}
    for item in items:
        if item.part.kind == kind:
            found.setdefault(item.part.of, []).append(item)
    return found


# ---- sheets ----------------------------------------------------------------------------------------


def _sheets(watch: _Watch, panel: Panel, items: Sequence[Item]) -> Sheets:
    shop = watch.shop
    turns = panel.kind in NO_GRAIN
    pieces = [_piece(item, turns=turns) for item in items]
    stock = on_sale(shop, panel, pieces)
    rule: Literal["straight cuts", "free"] = "free" if shop.saw == "router" else "straight cuts"
    found = nest(
        pieces,
        stock,
        rule=rule,
        kerf=shop.kerf,
        trim=shop.trim,
        tell=watch.tell,
        stop=watch.stop,
    )
    return Sheets(
        panel=panel,
        items=tuple(items),
        nest=found,
        turns=turns,
        bought=_counted(found, bought=True),
        used=_counted(found, bought=False),
        waste=waste(found),
    )


def on_sale(shop: Shop, panel: Panel, pieces: Sequence[Piece]) -> tuple[Sheet, ...]:
    """Return the sheets a panel is cut from: those on hand first, then the size that its price is of.

    Where a piece is too long for that size, the other sizes of the catalogue are bought as well.

    Args:
        shop: its sheets on hand, and what it trims.
        panel: as in the catalogue; its first size is the one a price is of (see docs/shop.md).
        pieces: to be cut.
    """
    mine = [
        Sheet("on hand", along, across, count, ON_HAND * along * across / _area(panel))
        for name, (across, along), count in shop.on_hand
        if name == panel.name
    ]
    sizes = [(along, across) for across, along in panel.sheets]
    first = [Sheet("bought", *sizes[0])]
    others = [
        Sheet("bought", along, across, cost=along * across / _area(panel))
        for along, across in sizes[1:]
    ]
    fits = all(p.fits(first[0], shop.trim) for p in pieces)
    return (*mine, *first, *(() if fits else others))


def _area(panel: Panel) -> float:
    across, along = panel.sheets[0]
    return across * along


def _piece(item: Item, *, turns: bool) -> Piece:
    part = item.part
    return Piece(
        item.label,
        part.rough[0],
        part.rough[1],
        part.count,
        turns,
        notch=_notch(part) if part.plan else None,
    )


def _notch(part: Part) -> tuple[float, float] | None:
    """What an L leaves free of the rectangle round it, its rough edges counted; None of a part that is no L.

    The bottom skin is turned over, so that its good face lies up on the saw as well.
    """
    if part.plan is None or part.lies is None:
        return None
    (ax, ay), (bx, by) = part.lies, (-part.lies[1], part.lies[0])
    lying = affine_transform(Polygon(part.plan), [ax, ay, bx, by, 0.0, 0.0])
    if part.name.startswith("bottom"):
        lying = affine_transform(lying, [1.0, 0.0, 0.0, -1.0, 0.0, 0.0])
    x0, y0, x1, y1 = lying.bounds
    best, free = None, 0.0
    corners = [(x, y) for x, y in lying.exterior.coords[:-1] if x0 < x < x1 and y0 < y < y1]
    for far, up in ((True, True), (False, True), (True, False), (False, False)):
        for x in {x for x, _ in corners}:
            for y in {y for _, y in corners}:
                size = ((x1 - x if far else x - x0), (y1 - y if up else y - y0))
                l, w = (size[0] - SKIN_OVER - SLIVER, size[1] - SKIN_OVER - SLIVER)
                if min(l, w) <= 0 or l * w <= free:
                    continue
                hole = box(
                    x1 - size[0] if far else x0,
                    y1 - size[1] if up else y0,
                    x1 if far else x0 + size[0],
                    y1 if up else y0 + size[1],
                )
                if hole.intersection(lying).area < SLIVER * (size[0] + size[1]) / 2:
                    # Half a turn takes near to far and low to high, so two hands are all there are.
                    best, free = ((l if far == up else -l), w), l * w
    return best


def _counted(found: Nest, *, bought: bool) -> tuple[tuple[float, float, int], ...]:
    sizes: dict[tuple[float, float], int] = {}
    for layout in found.layouts:
        if (layout.sheet.name == "bought") == bought:
            size = (layout.sheet.length, layout.sheet.width)
            sizes[size] = sizes.get(size, 0) + 1
    return tuple((*size, n) for size, n in sizes.items())


def waste(found: Nest) -> float:
    """Return the share of the sheets used that is neither part nor the largest offcut of a sheet.

    Args:
        found: layouts.
    """
    whole = sum(x.sheet.length * x.sheet.width for x in found.layouts)
    if not whole:
        return 0.0
    parts = sum(
        (c - a) * (d - b) for x in found.layouts for p in x.placed for a, b, c, d in p.boxes
    )
    kept = sum(o.area for x in found.layouts for o in x.offcuts[:1])
    return 1 - (parts + kept) / whole


# ---- boards and bars -------------------------------------------------------------------------------


def _boards(
    watch: _Watch, market: str, items: Sequence[Item]
) -> tuple[tuple[Boards, ...], tuple[tuple[str, str], ...]]:
    """Boards by timber and thickness, and what no board is thick or wide enough for."""
    stock = [row for row in length_rows() if row.what == "board" and row.market == market]
    groups: dict[tuple[str, float], list[Item]] = {}
    left: list[tuple[str, str]] = []
    for item in items:
        width, thick = _section(item.part)
        enough = sorted({row.thick for row in stock if row.thick and row.thick >= thick - 1e-6})
        wide = max((row.width or 0.0) for row in stock) - STRAIGHTEN
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


def _section(part: Part) -> tuple[float, float]:
    """Width and thickness of a strip, sawn: the larger side is ripped to, the smaller comes from the board."""
    return max(part.rough[1:]), min(part.rough[1:])


def _of_timber(
    watch: _Watch, timber: str, stock: Sequence[StockLength], items: Sequence[Item]
) -> Boards:
    """The least length of boards: of one length of board throughout, or of all lengths as they come."""
    watch.say(f"{timber}: strips out of boards")
    tried = [_ripped(watch, timber, rows, items) for rows in ([row] for row in stock)]
    tried.append(_ripped(watch, timber, stock, items))
    fewest = min(sum(len(s.cut.left) for s in each.strips) for each in tried)
    whole = [b for b in tried if sum(len(s.cut.left) for s in b.strips) == fewest]
    return min(whole, key=lambda b: (sum(l * n for l, n in b.bought), sum(n for _, n in b.bought)))


def _ripped(
    watch: _Watch, timber: str, stock: Sequence[StockLength], items: Sequence[Item]
) -> Boards:
    kerf, stop = watch.shop.kerf, watch.stop
    longest = max(row.length for row in stock)
    kept = [Bar(row.name, row.length, cost=row.length / longest) for row in stock]
    by_width: dict[float, list[Item]] = {}
    for item in items:
        by_width.setdefault(round(_section(item.part)[0], 1), []).append(item)
    strips = tuple(
        Strips(
            max(_section(i.part)[0] for i in of),
            max(_section(i.part)[1] for i in of),
            tuple(of),
            cheapest(_wanted(of), kept, kerf, stop),
        )
        for _, of in sorted(by_width.items(), reverse=True)
    )
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
            ripped.append((row.length, lengths(wanted, bars, kerf=kerf, nodes=NODES, stop=stop)))
    return Boards(timber, (stock[0].thick or 0.0, stock[0].width or 0.0), strips, tuple(ripped))


def cheapest(
    wanted: Sequence[tuple[str, float]], stock: Sequence[Bar], kerf: float, stop: Stop = never
) -> CutBars:
    """Return lengths cut from the least length of stock, and of answers alike from the fewest pieces of it.

    Args:
        wanted: (name, length) of every piece (mm).
        stock: lengths that are sold, each at a cost by its length.
        kerf: what the saw eats (mm).
        stop: whether to be content with a first answer.
    """
    mixed = lengths(wanted, stock, kerf=kerf, nodes=NODES, stop=stop)
    if len(stock) == 1:
        return mixed
    only = [lengths(wanted, [bar], kerf=kerf, nodes=NODES, stop=stop) for bar in stock]
    alike = [mixed, *(each for each in only if each.left == mixed.left)]
    best = min(alike, key=lambda each: (round(each.proof.found, 6), len(each.bars)))
    low = min(mixed.proof.bound, best.proof.found)
    return replace(best, proof=Proof(best.proof.found, low, mixed.proof.how))


def _wanted(items: Sequence[Item]) -> list[tuple[str, float]]:
    return [(item.label, item.part.rough[0]) for item in items for _ in range(item.part.count)]


def _bars(watch: _Watch, market: str, name: str, items: Sequence[Item]) -> Bars:
    watch.say(f"{name}: cut to length")
    stock = [row for row in length_rows() if row.what == "bar" and row.market == market]
    longest = max(row.length for row in stock)
    kept = [Bar(row.name, row.length, cost=row.length / longest) for row in stock]
    return Bars(name, tuple(items), cheapest(_wanted(items), kept, watch.shop.kerf, watch.stop))


def _left(
    sheets: Sequence[Sheets], boards: Sequence[Boards], bars: Sequence[Bars]
) -> tuple[tuple[str, str], ...]:
    long = "longer than anything in the catalogue: it needs a joint"
    return (
        *(
            (p.name, "larger than every sheet: it needs a joint")
            for s in sheets
            for p in s.nest.left
        ),
        *((name, long) for b in boards for s in b.strips for name, _ in s.cut.left),
        *((name, long) for b in bars for name, _ in b.cut.left),
    )


def fewest_said(proven: bool, gap: float) -> str:
    """Return what a proof says in words.

    Args:
        proven: whether nothing better exists.
        gap: share that may still be gained.
    """
    return (
        "proven" if proven else f"not proven: up to {math.ceil(gap * 100)} % fewer may be possible"
    )
