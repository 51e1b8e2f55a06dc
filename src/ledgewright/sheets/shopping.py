"""What is bought for a whole job in packs, as a list and as a table for other programs; what goes on the van."""

from __future__ import annotations

import csv
import io
import math
from collections import Counter
from dataclasses import dataclass

from ledgewright.job import is_paint
from ledgewright.judge import Design
from ledgewright.sheets import cuts
from ledgewright.sheets.at_home import left_out
from ledgewright.sheets.corewords import lock_named
from ledgewright.sheets.cutlist import plain
from ledgewright.sheets.guide_tiles import at_least, guided
from ledgewright.sheets.layouts import board_words
from ledgewright.sheets.leaves import held_walls
from ledgewright.sheets.say import Say
from ledgewright.sheets.shopside import Side, dated, shown
from ledgewright.sheets.spoken import own_names
from ledgewright.sheets.walls import has_tile
from ledgewright.shop import UNITS, Line, Need, outlay, visits
from ledgewright.statics import Proof
from ledgewright.units import show_volume

STICK = {"in": (12 * UNITS["length", "ft"], "stick of 12 ft"), "mm": (3000.0, "stick of 3 m")}
"""How bright bar is sold: common practice."""
NEARLY = 3.0
"""A sheet of metric sides has the name of the whole inches it is at most this much over (mm)."""
LAID = "as the sheet layout has them, and no fewer will do"
"""How sheets are counted that a layout shows to be the fewest."""
PACKS = {"400 ml": "cartridge of 400 ml", "qt": "quart", "gal": "gallon", "l": "tin of 1 l"}
"""What glue and finish come in where a price file says so."""
LEAST = {"rods": "400 ml", "in": "qt", "mm": "l"}
"""The least that glue and finish are bought in: common practice."""
HEADS = (
    "what",
    "for",
    "quantity",
    "unit",
    "packs",
    "pack",
    "on_hand",
    "each",
    "total",
    "to_pay",
    "currency",
    "note",
)


@dataclass(frozen=True)
class Buy:
    """One line of the shopping list; quantity and packs are None where they may not be told.

    needed: how much in words, empty where it may not be told. on_hand: so many packs are there already. packs: so many
    are still to buy. mixed: they are not all alike, and pack counts each sort. total: what the job is charged; to_pay:
    what all that is bought costs, the rest of it included.
    """

    what: str
    use: str
    needed: str
    quantity: float | None
    unit: str
    packs: int | None
    pack: str
    on_hand: int
    each: float | None
    total: float | None
    to_pay: float | None
    note: str
    placeholder: bool
    mixed: bool = False

    @property
    def much(self) -> str:
        """How many of which pack, in words."""
        return self.pack if self.mixed else f"{self.packs} × {self.pack}"


def shopping(side: Side) -> tuple[Buy, ...]:
    """Return everything that is bought, line for line as it is priced, then what comes out of the sundries.

    Args:
        side: the shop's side of the job.
    """
    pairs = zip(side.work.needs, side.work.lines, strict=True)
    return (*(_buy(side, need, line) for need, line in pairs), *_sundries(side))


def _buy(side: Side, need: Need, line: Line) -> Buy:
    told = shown(side, need, line)
    got = _packs(side, need)
    return Buy(
        what=need.name,
        use=need.use,
        needed=_needed(side, need, line) if told else "",
        quantity=line.quantity if told else None,
        unit=line.unit,
        packs=got.packs if told else None,
        pack=got.pack,
        on_hand=got.on_hand,
        each=line.each,
        total=line.total if told else None,
        to_pay=outlay(need, got.amount, side.plan.job.shop.prices) if told else None,
        note=_note(side, need) if told else f"withheld with {side.withheld}",
        placeholder=need.name in side.work.placeholders,
        mixed=got.mixed,
    )


def _needed(side: Side, need: Need, line: Line) -> str:
    """How much of it is needed, as people of the job say it."""
    if need.kind == "liquid":
        return show_volume(need.amount / 1000, side.say.units)
    if need.kind == "length":
        return side.say.up(need.amount)
    if need.kind == "volume":
        return f"{line.quantity:.3g} {line.unit}"
    counted = next((s for s in side.work.counted.sheets if s.name == need.name), None)
    return f"{counted.count + (counted.taken or 0) if counted else math.ceil(need.amount - 1e-9)}"


@dataclass(frozen=True)
class _Got:
    """So many packs to buy, what one is, how much all of them hold (in the unit of the need), how many are there."""

    packs: int
    pack: str
    amount: float
    on_hand: int = 0
    mixed: bool = False


def _packs(side: Side, need: Need) -> _Got:
    if need.kind == "sheet":
        return _sheets(side, need)
    if need.kind == "each":
        whole = math.ceil(need.amount - 1e-9)
        return _Got(whole, "piece", float(whole))
    if laid := _laid(side, need):
        count = sum(n for n, _ in laid.values())
        mixed, held = len(laid) > 1, sum(n * size for n, size in laid.values())
        kinds = [f"{n} × {kind}" if mixed else kind for kind, (n, _) in laid.items()]
        return _Got(count, " and ".join(kinds), held, mixed=mixed)
    if need.kind == "volume":
        return _Got(1, "lot of boards", need.amount)
    size, name = _pack(side, need)
    whole = math.ceil(need.amount / size - 1e-9)
    return _Got(whole, name, whole * size)


def _pack(side: Side, need: Need) -> tuple[float, str]:
    """What bars, and glue and finish, come in: as the price file buys them, else the least there usually is."""
    if need.kind == "length":
        return STICK[side.plan.job.meta.units]
    prices = side.plan.job.shop.prices
    unit = next((p.unit for p in prices.stock if p.name == need.name), "") if prices else ""
    if unit not in PACKS:
        unit = LEAST["rods" if "rods" in need.use else side.plan.job.meta.units]
    return UNITS["liquid", unit], PACKS[unit]


def _laid(side: Side, need: Need) -> dict[str, tuple[int, float]]:
    """Bars or boards of a thing as they are cut up, by kind: how many, and how much one holds.

    Empty where they are not cut up, or not all of them are told.
    """
    cutting, say = side.plan.cutting, side.say
    found: dict[str, tuple[int, float]] = {}
    if cutting is None or cutting.left or side.held:
        return found
    for bars in (each for each in cutting.bars if each.bar == need.name):
        for length, count in Counter(cut.bar.length for cut in bars.cut.bars).items():
            found[f"bar of {say.length(length)}"] = (count, length)
    for boards in (each for each in cutting.boards if each.timber == need.name):
        for length, count in boards.bought:
            kind = f"board {board_words(boards.stock, say)}, {say.length(length)} long"
            found[kind] = (count, length * boards.stock[0] * boards.stock[1])
    return found


def _sheets(side: Side, need: Need) -> _Got:
    """Sheets of one size; of those on hand so many as are laid out, or all there are."""
    counted = next(s for s in side.work.counted.sheets if s.name == need.name)
    across, along = counted.size
    say, have, buy = side.say, counted.taken, counted.count
    if have is None:
        rows = side.plan.job.shop.on_hand
        have = min(buy, sum(count for name, _, count in rows if name == counted.panel))
        buy -= have
    size = f"{_asked(across, say)} × {_asked(along, say)} {say.units}"
    return _Got(buy, f"sheet {size}", float(buy), have)


def _asked(side: float, say: Say) -> str:
    """Return a side of a sheet (mm) as it is asked for: a panel of 1220 mm is sold as one of 48 in."""
    inches = math.floor(side / 25.4)
    near = say.units == "in" and 0.0 <= side - 25.4 * inches < NEARLY
    return say.bare(25.4 * inches if near else side)


def _note(side: Side, need: Need) -> str:
    if need.kind == "sheet":
        return LAID if side.work.counted.proven else "by area with 15 % waste"
    if _laid(side, need):
        return "as cut up on its page"
    if need.kind == "volume":
        longest = max(
            (p.rough[0] for d in side.plan.designs for p in d.parts if p.of == need.name),
            default=0.0,
        )
        if side.held and "core" in need.use:
            return "rough sizes"
        return f"rough sizes; the longest piece is {side.say.up(longest)}"
    if need.kind == "length":
        return "saw cuts included; one stick may leave drops too short for the next"
    return ""


def _caulked_end(design: Design) -> bool:
    meets = (end for leg in design.frame.legs for end in (leg.left_end, leg.right_end))
    return design.spec.ends == "caulk" and "wall" in meets


def _sundries(side: Side) -> list[Buy]:
    """Small things that the share for sundries pays for; they have no price of their own."""
    grits = dict.fromkeys(
        grit
        for each in side.work.finishings
        for grit in (*each.grits, *(c.grit for c in each.coats if c.grit))
    )
    found = [(f"abrasive, {grit}", "sanding") for grit in grits]
    if any(each.coats for each in side.work.finishings):
        found.append(("brushes, rollers or cloths", "finish"))
    found += [("glue rollers or spreaders, one a hand", "box"), ("release paper or wax", "cauls")]
    if side.work.settings:
        found += [
            ("gloves, wipes, degreaser", "rods"),
            ("dust sheets, masking tape", "site"),
            (f"ledger, {_combs(side)} and their screws", "rods"),
            *((f"bit {bit}", "rods") for bit in _bits(side)),
        ]
    for design in side.plan.designs:
        lock = design.spec.lock
        count = len(lock.rods) - len(left_out(design))
        if lock.kind != "none" and count:
            found.append((f"{lock_named(design, side.say)}, {count}", f"lock, {design.spec.title}"))
    backs = any(design.spec.back == "caulk" for design in side.plan.designs)
    ends = any(_caulked_end(design) for design in side.plan.designs)
    if backs or ends:
        found.append(("caulk", " and ".join(["back edge"] * backs + ["ends"] * ends)))
    if any(is_paint(design.spec.finish) for design in side.plan.designs):
        found.append(("filler", "touch-up"))
    return [
        Buy(what, use, "", None, "", None, "", 0, None, None, None, "out of the sundries", False)
        for what, use in found
    ]


def shopping_csv(side: Side) -> str:
    """Return the shopping list as comma-separated values with a head line.

    Source: RFC 4180: lines end in CR LF, texts with commas, quotes or line ends are quoted. A text that a spreadsheet
    would take for a formula gets an apostrophe before it.

    Args:
        side: the shop's side of the job.
    """
    say = Say.of(side.plan.job.meta, own_names(side.plan))
    prices = side.plan.job.shop.prices
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(HEADS)
    for each in shopping(side):
        note = "; ".join(x for x in (each.note, "placeholder price" * each.placeholder) if x)
        writer.writerow(
            [
                plain(say.text(each.what)),
                plain(say.text(each.use)),
                "" if each.quantity is None else f"{each.quantity:.4g}",
                each.unit if each.quantity is not None else "",
                "" if each.packs is None else each.packs,
                each.pack,
                each.on_hand,
                "" if each.each is None else f"{each.each:.2f}",
                "" if each.total is None else f"{each.total:.2f}",
                "" if each.to_pay is None else f"{each.to_pay:.2f}",
                prices.currency if prices and each.each is not None else "",
                plain(say.text(note)),
            ]
        )
    return out.getvalue()


@dataclass(frozen=True)
class Van:
    """What goes along on one visit; `items` is empty and `why` says why where the visit may not be made yet."""

    visit: str
    items: tuple[str, ...]
    why: str = ""


def vans(side: Side) -> tuple[Van, ...]:
    """Return what goes on the van for each visit.

    Source: common practice.

    Args:
        side: the shop's side of the job.
    """
    drilling = {task.visit for task in side.work.tasks if task.drills}
    days = {each.task.visit for each in dated(side)}
    return tuple(
        Van(visit, (), side.undated)
        if side.undated and (visit in drilling or visit not in days)
        else Van(visit, _items(side, visit))
        for visit, _ in visits(side.work.tasks)
    )


def _items(side: Side, visit: str) -> tuple[str, ...]:
    made = {
        "measure": _measure(side.say),
        "blocking": _BLOCKING,
        "rods": _rods(side),
        "readings": _READINGS,
        "hang": _hang(side),
        "tested": (*_tests(side), *_handed_over(side, "tested")),
        "held": (_READ_AGAIN, *_handed_over(side, "held")),
        "finish": (_LAST_COAT, *_handed_over(side, "finish")),
    }[visit]
    finish = tuple(
        f"{coat.product}, for {coat.name[:1].lower()}{coat.name[1:]}"
        for each in side.work.finishings
        for coat in each.on_site
    )
    return (*made, *finish) if visit == "finish" else made


def _measure(say: Say) -> tuple[str, ...]:
    return (
        "Two tapes, rule, laser or water level, string, straightedge, framing square, bevel",
        f"Detector, {say.pilot} bit with a stop, torch, camera, tape to lie in the photos",
        "Question sheets, pencil, finish samples to choose from",
    )


_BLOCKING = (
    "Blocking cut to the bays, screws, driver, saw for the opening, dust sheets, mask",
    "Board, joint tape and compound for the patch, blocking sheet, camera",
)
_READINGS = (
    "Straightedge, square, level, rule to the finest mark, stick-out gauge",
    "As-set card and a pencil that writes on it",
)
_READ_AGAIN = "The gauge or feelers of the test, test sheet"
_TOUCH_UP = "Filler, caulk, abrasive, vacuum, masking tape, dust sheets, touch-up and pads"
_LAST_COAT = "Brush or roller, abrasive, vacuum, masking tape, dust sheets"
_WALK = "Owner's page and label, walk-through sheet, invoice"


def _handed_over(side: Side, visit: str) -> tuple[str, ...]:
    """What touching up and the walk-through take, where they are done on a visit."""
    done = {task.id.partition(".")[0] for task in side.work.tasks if task.visit == visit}
    return tuple(item for task, item in (("touch", _TOUCH_UP), ("walk", _WALK)) if task in done)


def _rods(side: Side) -> tuple[str, ...]:
    job = side.plan.job
    bits = "; ".join(_bits(side))
    bars = sum(part.count for d in side.plan.designs for part in d.parts if part.kind == "rod")
    glue = [
        f"{each.adhesive.name}: {each.cartridges} cartridge{'s' * (each.cartridges > 1)}, gun, "
        f"{each.mixes} nozzle{'s' * (each.mixes > 1)} and a spare"
        for each in side.work.settings
    ]
    walls = {leg.wall for design in side.plan.designs for leg in design.frame.legs}
    tiled = any(has_tile(wall.lining) for wall in job.tapes.walls if wall.id in walls)
    first = job.meta.order == "shelf first"
    hand = f"drill and set cards{', template off the core' if first else ''}"
    return (
        f"{bars} rods, cut, dressed and lettered, bonded ends clean and wrapped",
        *glue,
        f"Laser or level line, tape, straight ledger, guide block, {_holds_ledger(side)}",
        f"Drill, bits {bits}; {side.say.pilot} for the pilot; depth stop, vacuum, brushes to clean the holes",
        *(("Tile bit for the pilot, core bit wider than the holes, water",) if tiled else ()),
        "Detector, voltage tester, torch, camera",
        f"{_combs(side).capitalize()}, clamps, level, wipes, degreaser, gloves, dust sheets",
        f"The {hand}, clock, thermometer",
    )


def _bits(side: Side) -> tuple[str, ...]:
    """Every bit of the walls that may be drilled, and how long it is for its deepest stop, as the guide sheets say."""
    long: dict[float, float] = {}
    for _, _, made in guided(side.plan):
        for mark in made.marks:
            long[mark.bit] = max(long.get(mark.bit, 0.0), at_least(mark))
    say = side.say
    return tuple(f"{say.length(bit)}, {say.up(long[bit])} long at least" for bit in sorted(long))


def _combs(side: Side) -> str:
    """What holds the tips on the walls that may be drilled, as the guide sheets say."""
    found = [made for _, _, made in guided(side.plan)]
    bars = sum(each.comb_out is not None for each in found) or not found
    own = sum(len(each.held("own")) for each in found)
    wedged = any(each.held("wedges") for each in found)
    return " and ".join(
        (["comb bar" if bars == 1 else f"{bars} comb bars"] if bars else [])
        + ([f"{own} comb{'s' * (own > 1)} for one rod each, with packings"] if own else [])
        + (["wedges for short rods"] if wedged else [])
    )


def _holds_ledger(side: Side) -> str:
    """What the ledgers of the walls that may be drilled are held with, as the guide sheets say."""
    hides = {found.screw_down is not None for _, _, found in guided(side.plan)}
    props = "props off the floor or pads rated for the ledger"
    return " and ".join(
        (["screws for the hidden band"] if True in hides or not hides else [])
        + ([props] if False in hides else [])
    )


def _test_weights(side: Side) -> str:
    """How much the load test puts on all that hangs; without a figure where no test is worked out, or none is made."""
    plan = side.plan
    proofs = [plan.test(d.spec.id)[0] for d in plan.designs if not held_walls(plan, d)]
    found = [proof.total for proof in proofs if isinstance(proof, Proof)]
    told = f", {side.say.weight(sum(found))} in all" if len(found) == len(plan.designs) else ""
    return f"Weights for the load test{told}"


def _tests(side: Side) -> tuple[str, ...]:
    return (
        f"{_test_weights(side)}, clean boards and soft cloth to stand them on, dial gauge or feelers, test sheet",
    )


def _for_slots(side: Side) -> tuple[str, ...]:
    """What gluing in the slots takes where it hangs."""
    glue = [
        f"{each.adhesive.name} for the slots of {each.title}: {each.cartridges} "
        f"cartridge{'s' * (each.cartridges > 1)}, gun, nozzle and a spare"
        for each in side.work.slots
    ]
    if not glue:
        return ()
    return (
        *glue,
        "Wipes, degreaser, gloves, masking tape, clock, thermometer; props until the glue has set",
    )


def _hang(side: Side) -> tuple[str, ...]:
    designs = side.plan.designs
    scribed = [d.spec for d in designs if "tight" in (d.spec.back, d.spec.ends)]
    closers = dict.fromkeys(name for spec in scribed if (name := cuts.closer(spec)))
    closed = f", {' and '.join(closers)} for the cut edge" if closers else ""
    weights = "; ".join(f"{d.spec.title} {side.say.mass(d.bill.mass)}" for d in designs)
    strips = [part for d in designs for part in d.parts if part.kind == "filler"]
    locks = dict.fromkeys(
        d.spec.lock.kind
        for d in designs
        if d.spec.lock.kind != "none" and len(left_out(d)) < max(1, len(d.spec.lock.rods))
    )
    return (
        f"The shelf, wrapped: {weights}",
        *(
            (
                f"Filler strips, {sum(part.count for part in strips)}, over size, finished; block plane, scriber",
            )
            if strips
            else ()
        ),
        f"Locks: {', '.join(locks)}, with their bits and keys" if locks else "Shims",
        *((f"Pencil block, saw with guide, plane, files{closed}",) if scribed else ()),
        "Hold-off blocks, shims, level, square, fitting order",
        *(() if side.work.slots else _tests(side)),
        *_for_slots(side),
        *(("Caulk and gun",) if any(d.spec.back == "caulk" for d in designs) else ()),
        *(_handed_over(side, "hang") or ("Wipes, dust sheets",)),
    )
