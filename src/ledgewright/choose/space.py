"""The space of a search: what each thing may be, which designs are near which, and where a coarse grid begins."""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from ledgewright import stock
from ledgewright.choose.change import EXACT, hole, thick
from ledgewright.choose.drills import LEAST_RING, RING
from ledgewright.choose.ground import Ground, across, as_is
from ledgewright.choose.model import Wanted
from ledgewright.job import Choosing, TapedMember, Vary
from ledgewright.stock import Adhesive, Bar, Panel
from ledgewright.units import Unit

Value = str | float | tuple[str, ...] | tuple[str, float, float, float] | tuple[int, str] | None
Pick = tuple[int, ...]
"""A design by the number of its option on every axis; 0 is as the job has it."""

FEWEST_RODS = 2
"""With fewer rods on a wall a rigid shelf turns (as fitting's openings have it)."""
ALL_SUBSETS = 8
"""Of up to so many members on a wall every set is in the space: our choice."""
LEFT_OUT = 3
"""Of more members, sets with up to so many left out, and every other one (our choice)."""
THINNEST, THICKEST = 9.5, 25.5
"""Heights of bars that are looked at of themselves (mm, 3/8 to 1 in): our choice."""
UNLESS_SAID: tuple[Vary, ...] = (
    "bar",
    "hole",
    "members",
    "embedment",
    "adhesive",
    "play",
    "projection",
    "skins",
    "core",
    "way",
)
"""What is changed where the job does not say: all but rods glued into their slots, of which the statics cannot say."""
SHALLOWEST = 50.0
"""Rods less deep in the wood are not looked at (mm, 2 in): our choice."""


@dataclass(frozen=True)
class Axis:
    """One thing that may be changed: what it may be, as in the job first; `wall` for what goes wall by wall.

    priced: of each option, whether the price file knows it. near: of each, the numbers of those one step from it.
    coarse: those a coarse grid has.
    """

    name: Vary
    wall: str
    options: tuple[Value, ...]
    priced: tuple[bool, ...]
    near: tuple[tuple[int, ...], ...]
    coarse: tuple[int, ...] = (0,)


@dataclass(frozen=True, eq=False)
class Space:
    """All designs that are looked at; unpriced: things left out of the search for want of a price.

    rings: of every bar and every ring round it, the number of the first ring that asks for the same bit; those are one
    design. Empty where the hole is not open to change.
    """

    ground: Ground
    axes: tuple[Axis, ...]
    thick: tuple[float, float]
    unpriced: tuple[str, ...]
    rings: tuple[tuple[int, ...], ...] = ()

    @property
    def origin(self) -> Pick:
        """The job as it is."""
        return (0,) * len(self.axes)

    def wanted(self, pick: Pick) -> Wanted:
        """Return a design by its options."""
        made = as_is(self.ground)
        for axis, k in zip(self.axes, pick, strict=True):
            if k:
                made = put(made, axis.name, axis.wall, axis.options[k])
        return made

    def inside(self, pick: Pick) -> bool:
        """Say whether a design is in the space: as thick as it may be, everything priced, no other one over again."""
        if pick == self.origin:
            return True
        if pick != self.settled(pick):
            return False
        if not all(axis.priced[k] for axis, k in zip(self.axes, pick, strict=True)):
            return False
        least, most = self.thick
        return least - EXACT <= thick(self.ground, self.wanted(pick)) <= most + EXACT

    def picks(self) -> Iterator[Pick]:
        """Yield every design of the space, those that share most following one another."""
        counts = [range(len(axis.options)) for axis in self.axes]
        return (pick for pick in itertools.product(*counts) if self.inside(pick))

    def size(self, most: int) -> int:
        """Return how many designs there are, those outside of it by thickness included where there are over `most`."""
        whole = 1
        for axis in self.axes:
            whole *= 1 if self.rings and axis.name in ("bar", "hole") else sum(axis.priced)
        if self.rings:
            bars = self._named("bar")
            open_ = bars.priced if bars else (True,)
            whole *= sum(len(set(r)) for r, ok in zip(self.rings, open_, strict=True) if ok)
        return whole if whole > most else sum(1 for _ in self.picks())

    def _named(self, name: Vary) -> Axis | None:
        return next((axis for axis in self.axes if axis.name == name), None)

    def settled(self, pick: Pick) -> Pick:
        """Return a design with the first ring that asks for the same bit: two rings with one hole are one design."""
        if not self.rings:
            return pick
        names = [axis.name for axis in self.axes]
        at, bar = names.index("hole"), pick[names.index("bar")] if "bar" in names else 0
        return (*pick[:at], self.rings[bar][pick[at]], *pick[at + 1 :])

    def settle(self, wanted: Wanted) -> Wanted:
        """Return the same design as `settled` has it; as it is where its bar or its ring are not in the space."""
        holes, bars = self._named("hole"), self._named("bar")
        names = bars.options if bars else (as_is(self.ground).bar,)
        if not self.rings or holes is None or wanted.bar not in names:
            return wanted
        if wanted.ring not in holes.options:
            return wanted
        first = self.rings[names.index(wanted.bar)][holes.options.index(wanted.ring)]
        return put(wanted, "hole", "", holes.options[first])

    def pick(self, wanted: Wanted) -> Pick | None:
        """Return a design by the numbers of its options; None if it is not in the space."""
        made = []
        for axis in self.axes:
            value = of(wanted, axis.name, axis.wall)
            if value == of(as_is(self.ground), axis.name, axis.wall):
                made.append(0)
            elif value in axis.options:
                made.append(axis.options.index(value))
            else:
                return None
        found = tuple(made)
        return found if self.wanted(found) == wanted and self.inside(found) else None

    def coarse(self) -> list[Pick]:
        """Return a coarse grid: rods, members and skins in few steps each, all else as in the job."""
        return [
            p for p in itertools.product(*(axis.coarse for axis in self.axes)) if self.inside(p)
        ]

    def near(self, pick: Pick) -> list[Pick]:
        """Return the designs that differ from one in a single step."""
        beside = (
            self.settled((*pick[:n], other, *pick[n + 1 :]))
            for n, axis in enumerate(self.axes)
            for other in axis.near[pick[n]]
        )
        return [each for each in dict.fromkeys(beside) if each != pick and self.inside(each)]


def put(wanted: Wanted, axis: Vary, wall: str, value: object) -> Wanted:
    """Return a shelf with one thing changed.

    Raises:
        TypeError: if that thing cannot be such a value.
    """
    match axis, value:
        case "bar", str():
            return replace(wanted, bar=value)
        case "hole", float():
            return replace(wanted, ring=value)
        case "members", tuple():
            ids = tuple(str(each) for each in value)
            changed = tuple((w, ids if w == wall else had) for w, had in wanted.members)
            return replace(wanted, members=changed)
        case "embedment", float():
            return replace(wanted, embedment=value)
        case "adhesive", str():
            return replace(wanted, adhesive=value)
        case "in slot", ("dry" | "glued") as slot:
            kind: Literal["dry", "glued"] = "glued" if slot == "glued" else "dry"
            return replace(wanted, in_slot=kind)
        case "play", float():
            return replace(wanted, play=value)
        case "projection", float():
            return replace(wanted, longer=value)
        case "skins", str() | None:
            return replace(wanted, skins=value)
        case "core", (str() as of, float() as strip, float() as rib, float() as span):
            return replace(wanted, core=(of, strip, rib, span))
        case "way", (int() as sections, str() as first):
            return replace(wanted, sections=sections, first=first)
    msg = f"{axis} cannot be {value!r}"
    raise TypeError(msg)


def of(wanted: Wanted, axis: Vary, wall: str) -> Value:
    """Return one thing of a shelf, as `put` takes it."""
    match axis:
        case "bar":
            return wanted.bar
        case "hole":
            return wanted.ring
        case "members":
            return dict(wanted.members).get(wall, ())
        case "embedment":
            return wanted.embedment
        case "adhesive":
            return wanted.adhesive
        case "in slot":
            return wanted.in_slot
        case "play":
            return wanted.play
        case "projection":
            return wanted.longer
        case "skins":
            return wanted.skins
        case "core":
            return wanted.core
        case "way":
            return (wanted.sections, wanted.first)


def space(ground: Ground) -> Space:
    """Return the space of a search over one shelf: what can be bought and built, within what the job lets it change.

    Things that change the shape of a section come first, so that designs in order share it.

    Args:
        ground: the shelf.
    """
    asked = ground.job.choosing
    vary = asked.vary or UNLESS_SAID
    bars = _bars(ground, asked)
    found = (
        _way(ground),
        *(_members(ground, wall) for wall in ground.walls),
        _projection(ground),
        _skins(ground, asked),
        _core(ground, asked),
        _play(ground),
        bars,
        _in_slot(ground),
        _hole(ground, bars if "bar" in vary else None),
        _embedment(ground),
        _adhesive(ground, asked),
    )
    axes = tuple(a for a in found if len(a.options) > 1 and a.name in vary)
    unpriced = (
        str(value[0] if isinstance(value, tuple) else value)
        for axis in axes
        for value, priced in zip(axis.options[1:], axis.priced[1:], strict=True)
        if not priced
    )
    left = tuple(dict.fromkeys(unpriced))
    return Space(ground, axes, thickness(ground), left, _rings(ground, axes))


def thickness(ground: Ground) -> tuple[float, float]:
    """Return the least and the most that a shelf may be thick (mm): as the job says, else about as it is."""
    if ground.job.choosing.thick is not None:
        return ground.job.choosing.thick
    about = 6.35 if ground.unit == "in" else 6.0
    return ground.spec.thick - about, ground.spec.thick + about


def knows_price(ground: Ground, names: Sequence[str]) -> bool:
    """Say whether the price file has one of these names; without a price file nothing needs a price."""
    prices = ground.job.shop.prices
    return prices is None or any(price.name in names for price in prices.stock)


def _axis(
    name: Vary,
    options: Sequence[Value],
    *,
    wall: str = "",
    priced: Sequence[bool] | None = None,
    near: Callable[[int], Sequence[int]] | None = None,
    coarse: Sequence[int] = (0,),
) -> Axis:
    count = range(len(options))
    others = near or (lambda k: [n for n in count if n != k])
    return Axis(
        name,
        wall,
        tuple(options),
        tuple(priced or [True] * len(options)),
        tuple(tuple(others(k)) for k in count),
        tuple(dict.fromkeys(coarse)),
    )


def _along(values: Sequence[float]) -> Callable[[int], Sequence[int]]:
    """Near: the next smaller and the next larger figure."""
    order = sorted(range(len(values)), key=lambda k: values[k])

    def near(k: int) -> Sequence[int]:
        at = order.index(k)
        return [order[n] for n in (at - 1, at + 1) if 0 <= n < len(order)]

    return near


def _figures(name: Vary, was: float, others: Sequence[float]) -> Axis:
    values = _others(was, others)
    return _axis(name, values, near=_along(values))


def _others(was: float, others: Sequence[float]) -> list[float]:
    """A figure as it was, then those that nobody would take for it, the least first."""
    new = [float(x) for x in others if abs(x - was) > 0.3]
    return [was, *sorted(dict.fromkeys(new))]


def of_market(width: float, unit: Unit) -> bool:
    """Say whether a size (mm) is one of the inch or of the metric market: sixteenths, or whole millimetres."""
    step = 25.4 / 16 if unit == "in" else 1.0
    return abs(width / step - round(width / step)) < 1e-6


def _bars(ground: Ground, asked: Choosing) -> Axis:
    was = ground.usual.bar
    rows = [row for row in stock.rows("bar") if isinstance(row, Bar)]
    if asked.bars is not None:
        bars = [row for row in rows if row.name in asked.bars]
    else:
        bars = [row for row in rows if _usual(row, ground.unit)]
    bars = [was, *(bar for bar in bars if bar.name != was.name)]
    priced = [k == 0 or knows_price(ground, (bar.name,)) for k, bar in enumerate(bars)]

    def near(k: int) -> Sequence[int]:
        return [n for n in _beside(bars, k) if n != k]

    start = [0, *(n for n in near(0) if bars[n].steel == was.steel)]
    return _axis("bar", [bar.name for bar in bars], priced=priced, near=near, coarse=start)


def _usual(bar: Bar, unit: Unit) -> bool:
    solid = bar.shape in ("round", "square")
    return solid and of_market(bar.width, unit) and THINNEST <= bar.height <= THICKEST


def _beside(bars: Sequence[Bar], k: int) -> list[int]:
    """The next sizes of the same shape and steel, the same size in the other shape, and in another steel."""
    one = bars[k]
    alike = [n for n, bar in enumerate(bars) if (bar.shape, bar.steel) == (one.shape, one.steel)]
    order = sorted(alike, key=lambda n: (bars[n].height, bars[n].width))
    at = order.index(k)
    sized = [
        n
        for n, bar in enumerate(bars)
        if (bar.width, bar.height) == (one.width, one.height)
        and (bar.steel == one.steel or bar.shape == one.shape)
    ]
    return [*(order[n] for n in (at - 1, at + 1) if 0 <= n < len(order)), *sized]


def _hole(ground: Ground, bars: Axis | None) -> Axis:
    """Rings round the bar; one that asks for the same bit as an earlier one, whatever bar it is, is left out."""
    bar = ground.usual.bar
    was = ground.usual.hole - across(bar.shape, bar.width, bar.height)
    values = _others(was, [LEAST_RING, RING])
    sold = bars.priced if bars else (True,)
    names = [n for n, ok in zip(_names(ground, bars), sold, strict=True) if ok]
    rows = _first_rings(ground, names, values)
    used = {first for row in rows for first in row}
    # Every ring is next to every other: which of them are one hole differs from bar to bar.
    return _axis("hole", [value for k, value in enumerate(values) if k in used])


def _names(ground: Ground, bars: Axis | None) -> list[str]:
    return [str(value) for value in bars.options] if bars else [as_is(ground).bar]


def _first_rings(
    ground: Ground, names: Sequence[str], rings: Sequence[float]
) -> tuple[tuple[int, ...], ...]:
    """Of every bar and ring the number of the first ring that asks for the same bit."""
    start = as_is(ground)
    found = []
    for name in names:
        bits = [hole(ground, replace(start, bar=name, ring=ring)) for ring in rings]
        same = [round(size, 4) if size is not None else None for size in bits]
        found.append(tuple(same.index(size) for size in same))
    return tuple(found)


def _rings(ground: Ground, axes: Sequence[Axis]) -> tuple[tuple[int, ...], ...]:
    by_name = {axis.name: axis for axis in axes}
    if "hole" not in by_name:
        return ()
    rings = [float(v) for v in by_name["hole"].options if isinstance(v, float)]
    return _first_rings(ground, _names(ground, by_name.get("bar")), rings)


def eligible(ground: Ground, wall: str) -> tuple[TapedMember, ...]:
    """Return the members of a wall that may carry a rod of the shelf, left to right: sound studs behind it with wood to
    spare at its ends, and those that carry one already.
    """
    spec = ground.spec
    has = {rod.member for rod in spec.rods}
    half = max(rod.bar.width for rod in spec.rods) / 2 + spec.edging_thick
    legs = [(leg.start + half, leg.end - half) for leg in spec.legs if leg.wall == wall]

    def fits(member: TapedMember) -> bool:
        at = (member.left + member.right) / 2
        sound = member.kind == "stud" and not member.lost
        return member.id in has or (sound and any(low <= at <= high for low, high in legs))

    return tuple(sorted(filter(fits, ground.members(wall)), key=lambda m: m.left))


def every_other(ids: Sequence[str]) -> list[tuple[str, ...]]:
    """Return every other member, from the first and from the second; those with two rods or more."""
    return [each for each in (tuple(ids[::2]), tuple(ids[1::2])) if len(each) >= FEWEST_RODS]


def _members(ground: Ground, wall: str) -> Axis:
    ids = [member.id for member in eligible(ground, wall)]
    was = dict(as_is(ground).members)[wall]
    least = min(FEWEST_RODS, len(was))
    if len(ids) <= ALL_SUBSETS:
        sets = [s for n in range(len(ids), least - 1, -1) for s in itertools.combinations(ids, n)]
    else:
        some = range(len(ids), len(ids) - LEFT_OUT - 1, -1)
        sets = [s for n in some for s in itertools.combinations(ids, n)] + every_other(ids)
    in_order = tuple(i for i in ids if i in was)
    options: list[tuple[str, ...]] = [was, *(s for s in dict.fromkeys(sets) if s != in_order)]

    def near(k: int) -> Sequence[int]:
        one = set(options[k])
        return [n for n, other in enumerate(options) if len(one ^ set(other)) == 1]

    wide = [tuple(ids), *every_other(ids)]
    coarse = [0, *(n for n, s in enumerate(options) if s in wide)]
    return _axis("members", options, wall=wall, near=near, coarse=coarse)


def _embedment(ground: Ground) -> Axis:
    step = 12.7 if ground.unit == "in" else 10.0
    depths = [
        wall.timber.depth
        for wall in ground.job.tapes.walls
        if wall.id in ground.walls and wall.timber is not None
    ]
    deepest = min(depths, default=0.0) - step / 2
    others = [step * k for k in range(1, 40) if SHALLOWEST <= step * k <= deepest]
    return _figures("embedment", ground.usual.embedment, others)


def _adhesive(ground: Ground, asked: Choosing) -> Axis:
    was = ground.usual.adhesive.name
    rows = [row for row in stock.rows("adhesive") if isinstance(row, Adhesive)]
    sets = ground.job.site.temperature
    may = [row.name for row in rows if row.use == "rods" and row.coldest <= sets]
    if asked.adhesives is not None:
        may = [name for name in may if name in asked.adhesives]
    names = [was, *(name for name in may if name != was)]
    priced = [k == 0 or knows_price(ground, (name,)) for k, name in enumerate(names)]
    return _axis("adhesive", names, priced=priced)


def _in_slot(ground: Ground) -> Axis:
    was = ground.usual.in_slot
    return _axis("in slot", [was, "glued" if was == "dry" else "dry"])


def _play(ground: Ground) -> Axis:
    easy = (25.4 / 32, 25.4 / 16) if ground.unit == "in" else (1.0, 1.5)
    return _figures("play", ground.spec.core.thick - ground.usual.bar.height, easy)


def _projection(ground: Ground) -> Axis:
    step = 25.4 if ground.unit == "in" else 25.0
    return _figures("projection", 0.0, [-2 * step, -step, step / 2])


_SIZED = re.compile(r" [\d/.-]+$")


def looks(panel: Panel) -> str:
    """Return a panel's name without its thickness: what it looks like does not change with that."""
    return _SIZED.sub("", panel.name)


def make(panel: Panel) -> tuple[str, Unit]:
    """Return a panel's make: what it looks like, and the market it is made for; its other thicknesses share both.

    Birch ply 12 is birch throughout, birch ply 1/2 has birch faces over fir: the sheets look alike and are two makes.
    """
    return looks(panel), panel.market


def _skins(ground: Ground, asked: Choosing) -> Axis:
    was = ground.spec.skin_top.panel
    if asked.skins is not None:
        panels = [p for p in stock.panels() if p.name in asked.skins]
    else:
        panels = [p for p in stock.panels() if make(p) == make(was)]
    same = ground.spec.skin_bottom.panel == was
    new = [p for p in panels if not (same and p.name == was.name)]
    values = [was.thick, *(p.thick for p in new)]
    priced = [True, *(knows_price(ground, sold_as(p)) for p in new)]
    open_ = [0, *(n for n, ok in enumerate(priced) if n and ok)]
    coarse = sorted(open_, key=lambda n: (n != 0, abs(values[n] - was.thick)))[:3]
    return _axis(
        "skins", [None, *(p.name for p in new)], priced=priced, near=_along(values), coarse=coarse
    )


def sold_as(panel: Panel) -> tuple[str, ...]:
    """Return what a panel is called in a price file: a name for each size of its sheets."""
    return tuple(panel.sized(size) for size in panel.sheets)


def _core(ground: Ground, asked: Choosing) -> Axis:
    core, step = ground.spec.core, 6.35 if ground.unit == "in" else 10.0
    was = (core.of.name, core.strip, core.rib, core.max_span)

    def to(x: float) -> float:
        return max(step, step * round(x / step))

    timbers = [was[0], *(name for name in asked.cores or () if name != was[0])]
    layouts = [
        was[1:],
        (core.strip, core.rib, to(0.75 * core.max_span)),
        (core.strip, core.rib, to(1.25 * core.max_span)),
        (to(1.5 * core.strip), to(1.5 * core.rib), core.max_span),
        (to(0.75 * core.strip), to(0.75 * core.rib), core.max_span),
    ]
    options: list[tuple[str, float, float, float]] = [
        (timber, *layout) for timber in timbers for layout in dict.fromkeys(layouts)
    ]
    priced = [k == 0 or knows_price(ground, (of[0],)) for k, of in enumerate(options)]
    return _axis("core", options, priced=priced)


def _way(ground: Ground) -> Axis:
    """In one section or two; of an L in one, the wall it goes onto first."""
    was = (ground.spec.sections, ground.spec.first or "")
    firsts = ground.walls if len(ground.spec.legs) > 1 else ("",)
    ways = [(1, first) for first in firsts] + [(2, was[1])]
    return _axis("way", [was, *(way for way in ways if way != was)])
