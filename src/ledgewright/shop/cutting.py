"""The parts of a whole job out of sheets, boards and bars: what is cut where, what is bought, what is left.

Common practice throughout: skins out of sheets, their grain along the wall; core and edging ripped out of sawn
boards and then cut to length; rods out of bars.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from shapely import Polygon, box
from shapely.affinity import affine_transform

from ledgewright.job import Job, Shop, Spec
from ledgewright.shop.model import Part
from ledgewright.shop.needs import Counted, SheetCount
from ledgewright.shop.nest import Nest, Piece, Sheet, Stop, nest, never
from ledgewright.shop.parts import SKIN_OVER
from ledgewright.shop.sawn import Bars, Boards, Item, Tell, Watch, bars, boards
from ledgewright.stock import Panel

NO_GRAIN = ("mdf", "particleboard")
"""Sheets that may be cut either way round; veneer, strands and solid timber have a grain."""
ON_HAND = 1e-3
"""Cost of a sheet on hand against one bought: it is used first, and fewest of them."""
SLIVER = 1.0
"""An L's notch is drawn in by this much, so that a plan of many corners is never cut into (mm)."""


@dataclass(frozen=True)
class Sheets:
    """The skins of one panel: how they lie, what is taken from stock and what is bought.

    turns: whether pieces may lie either way. bought, used: (length, width, how many). waste: share of all sheets used
    that is neither part nor an offcut worth keeping. by_price: whether sheets of several prices were weighed.
    """

    panel: Panel
    items: tuple[Item, ...]
    nest: Nest
    turns: bool
    bought: tuple[tuple[float, float, int], ...]
    used: tuple[tuple[float, float, int], ...]
    waste: float
    by_price: bool

    @property
    def count(self) -> int:
        """How many sheets are bought."""
        return sum(n for _, _, n in self.bought)

    @property
    def counted(self) -> tuple[SheetCount, ...]:
        """The sheets it takes by size; those taken from stock stand with the first size, as much as their area is."""
        name, first = self.panel.name, self.panel.sheets[0]
        bought = {(across, along): n for along, across, n in self.bought}
        taken = sum(n for _, _, n in self.used)
        worth = sum(l * w * n for l, w, n in self.used) / (first[0] * first[1])
        found = [
            SheetCount(name, self.panel.sized(size), size, count, 0)
            for size, count in bought.items()
            if size != first
        ]
        if taken or first in bought:
            head = SheetCount(name, name, first, bought.get(first, 0), taken, worth)
            found.insert(0, head)
        return tuple(found)


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
            tuple(count for each in self.sheets for count in each.counted),
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
    watch = Watch(job.shop, tell, stop)
    sheets = tuple(_sheets(watch, panels[name], of) for name, of in _by_name(items, "skin").items())
    sawn = [i for i in items if i.part.kind in ("core", "edging", "filler")]
    planks, thick = boards(watch, job.meta.units, sawn)
    rods = _by_name(items, "rod")
    rounds = tuple(bars(watch, job.meta.units, name, of) for name, of in rods.items())
    left = (*_left(sheets, planks, rounds), *thick)
    return Cutting(sheets, planks, rounds, tuple(withheld), left)


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


def _sheets(watch: Watch, panel: Panel, items: Sequence[Item]) -> Sheets:
    shop = watch.shop
    turns = panel.kind in NO_GRAIN
    pieces = [_piece(item, turns=turns) for item in items]
    stock = on_sale(shop, panel, pieces)
    sold = {sheet.cost for sheet in stock if sheet.name == "bought"}
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
        waste=waste(found, shop.offcut),
        by_price=len(sold) > 1,
    )


def on_sale(shop: Shop, panel: Panel, pieces: Sequence[Piece]) -> tuple[Sheet, ...]:
    """Return the sheets a panel is cut from: those on hand first, then every size that has a price of its own.

    Where a piece is too long for all of these, the other sizes of the catalogue are bought as well, each at a cost by
    its area.

    Args:
        shop: its sheets on hand, its prices, and what it trims.
        panel: as in the catalogue; without prices its first size alone is bought.
        pieces: to be cut.
    """
    mine = [
        Sheet("on hand", along, across, count, ON_HAND * along * across / _area(panel))
        for name, (across, along), count in shop.on_hand
        if name == panel.name
    ]
    prices = {p.name: p.each for p in shop.prices.stock if p.unit == "sheet"} if shop.prices else {}
    first = prices.get(panel.name, 0.0)
    priced, others = [], []
    for size in panel.sheets:
        across, along = size
        each = prices.get(panel.sized(size))
        by_area = Sheet("bought", along, across, cost=along * across / _area(panel))
        if size == panel.sheets[0]:
            priced.append(replace(by_area, cost=1.0))
        elif each and first:
            priced.append(replace(by_area, cost=each / first))
        else:
            others.append(by_area)
    fits = all(any(p.fits(sheet, shop.trim) for sheet in priced) for p in pieces)
    return (*mine, *priced, *(() if fits else others))


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


def waste(found: Nest, least: tuple[float, float]) -> float:
    """Return the share of the sheets used that is neither part nor an offcut worth keeping.

    Args:
        found: layouts.
        least: shorter and longer side of an offcut that is worth keeping (mm).
    """
    whole = sum(x.sheet.length * x.sheet.width for x in found.layouts)
    if not whole:
        return 0.0
    parts = sum(
        (c - a) * (d - b) for x in found.layouts for p in x.placed for a, b, c, d in p.boxes
    )
    kept = sum(o.area for x in found.layouts for o in x.offcuts if o.useful(least))
    return 1 - (parts + kept) / whole


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
