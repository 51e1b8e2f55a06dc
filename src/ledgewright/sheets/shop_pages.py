"""Pages for the bench: glue-up, edging and finish, days, what goes on the van, what is bought."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ledgewright.core import Core
from ledgewright.judge import Design
from ledgewright.sheets import cuts, glued_in
from ledgewright.sheets.corewords import into_groove
from ledgewright.sheets.leaves import held_walls
from ledgewright.sheets.model import Figure, FormPart, FormSheet, Picture, Table
from ledgewright.sheets.say import listed
from ledgewright.sheets.shop_answer import (
    enough,
    glue_amount,
    grams,
    minutes,
    missed,
    rod_lines,
    where,
)
from ledgewright.sheets.shopfloor import letter_runs
from ledgewright.sheets.shopping import LAID, Buy, shopping, vans
from ledgewright.sheets.shopside import (
    Side,
    dated,
    day_text,
    hours_text,
    load_test_words,
    moment_text,
    task_text,
    undated,
    visit_text,
)
from ledgewright.sheets.views import piece_numbers
from ledgewright.shop import Coat, Finishing, GlueUp, Part, clock
from ledgewright.units import show_area, show_length, show_volume

_WHAT = {
    "all of it": "All of it",
    "core on the bottom skin": "1  Core on the bottom skin",
    "top skin on the core": "2  Top skin on the core",
}


def glue_sheet(side: Side, up: GlueUp, picture: Picture | None) -> FormSheet:
    """Return the glue-up of one section on one page, so that nothing is turned while glue is open.

    Args:
        side: the shop's side of the job.
        up: the glue-up.
        picture: the clamp map.
    """
    design, say = side.design(up.section), side.say
    return FormSheet(
        title="Glue-up",
        about=f"shelf {up.title}",
        unit=say.unit,
        warning=_off_half_way(side, up),
        intro="",
        facts=(
            Figure("Glue", up.glue.name, f"{grams(side, up.mass)}, pot and roller with it"),
            Figure("Clamps", f"{up.clamps_needed} of {up.clamps}", f"{_pairs(up)} pairs of cauls"),
            Figure(
                "Shop", say.temperature(side.plan.job.shop.bench.temperature), "as the job says"
            ),
            Figure("Work on it after", hours_text(up.work), "and not before the next day"),
        ),
        parts=(
            FormPart("The clock", lines=_late(up), tables=(_clock(up),)),
            FormPart("In this order", lines=_order(side, design)),
            FormPart(
                "Clamp map, from above, front edge below", lines=_map(side, up), picture=picture
            ),
            FormPart("Before the pot is opened", lines=_before(side, up)),
        ),
    )


def _off_half_way(side: Side, up: GlueUp) -> str:
    if not up.fits:
        # The banner is one line high: what is late stands with the clock.
        return f"Not like this, it goes off half way: {enough(up)}."
    if up.clamps_short:
        return f"{up.clamps_short} clamps are missing: borrow them first."
    return ""


def _late(up: GlueUp) -> tuple[str, ...]:
    if up.fits:
        return ()
    return (f"With {_hands(up.hands)}: {missed(up)}.",)


def _hands(pairs: int) -> str:
    return "one pair of hands" if pairs == 1 else f"{pairs} pairs of hands"


def _pairs(up: GlueUp) -> int:
    return sum(len(each.at) for each in up.cauls)


def _clock(up: GlueUp) -> Table:
    """Minutes from the first spread, planned of what is allowed, with room for the clock on the wall."""
    return Table(
        heads=(
            "Pressing",
            "Last face covered by",
            "Last clamp on by",
            "First spread at",
            "Clamps on by",
            "Clamps off at",
        ),
        widths=(44, 34, 37, 24, 24, 23),
        figures=(),
        rows=tuple(
            (
                _WHAT[p.what],
                _held(p.bare, p.may_lie),
                _held(p.whole, p.may_take),
                "________",
                f"+ {_down(p.may_take)} min",
                f"+ {hours_text(up.leave)}",
            )
            for p in up.pressings
        ),
        keys=(2,),
    )


def _held(takes: float, may: float) -> str:
    return minutes(takes, may) + (" NO" if takes > may else "")


def _down(seconds: float) -> str:
    return f"{seconds / 30 // 1 / 2:g}"


def _order(side: Side, design: Design) -> tuple[str, ...]:
    held, core = held_walls(side.plan, design), design.core
    skins = {name: _letters(design.parts, name) for name in ("bottom", "top")}
    middle: tuple[str, ...]
    if held or core is None:
        middle = (f"Core pieces in the order of the core map, withheld with {side.withheld}.",)
    else:
        middle = tuple(_core_order(design, core))
    fitted = "" if held or core is None else _inserts(design, core)
    up = next(each for each in side.work.glue_ups if each.section == design.spec.id)
    again = (
        (
            f"Release paper over the core, cauls and clamps by their numbers; {hours_text(up.leave)} in the clamps.",
            "Clamps off: the top of the core wiped clean and dry-fitted once more.",
        )
        if len(up.pressings) > 1
        else ()
    )
    return (
        f"{skins['bottom']}, bottom skin{fitted}, on the flat bed, good face down on release paper.",
        *middle,
        *again,
        f"Tops of all core pieces spread in the same order; then {skins['top']}, top skin, on from the back edge.",
        "Cauls and clamps by their numbers, from the middle outwards; every clamp snug first, then all of them tight.",
    )


def _inserts(design: Design, core: Core) -> str:
    """Threaded inserts for grub screws, before anything lies on the bottom skin: in its line, for want of another."""
    held = any(not at.lost for at in core.locks)
    return ", its threaded inserts in" if design.spec.lock.kind == "grub screw" and held else ""


def _letters(parts: Sequence[Part], side_of: str) -> str:
    return letter_runs([p.letter for p in parts if p.kind == "skin" and p.name.startswith(side_of)])


def _core_order(design: Design, core: Core) -> Iterator[str]:
    """Strips at the back first, then ends and ribs from the left, then the front, leg by leg as on the core map."""
    numbers = piece_numbers(core)
    letter = {piece: part.letter for part in design.parts for piece in part.pieces}
    for kinds, words in (
        (("back strip",), "Back strips"),
        (("end strip", "rib", "block"), "End strips, ribs and blocks"),
        (("front strip",), "Front strips"),
    ):
        own = [piece for piece in core.pieces if piece.kind in kinds]
        if own:
            runs = _runs([int(numbers[piece.id]) for piece in own])
            parts = {letter[piece.id] for piece in own if piece.id in letter}
            named = letter_runs(sorted(parts, key=lambda x: (len(x), x)))
            if len(own) == 1:
                kind = own[0].kind.capitalize()
                yield f"{kind}: number {runs} of the core map ({named}), underside spread, laid down."
            else:
                yield f"{words}: numbers {runs} of the core map ({named}), undersides spread, laid down."


def _runs(numbers: Sequence[int]) -> str:
    found: list[list[int]] = []
    for number in sorted(numbers):
        if found and number == found[-1][-1] + 1:
            found[-1].append(number)
        else:
            found.append([number])
    return ", ".join(f"{r[0]} to {r[-1]}" if len(r) > 1 else str(r[0]) for r in found)


def _map(side: Side, up: GlueUp) -> tuple[str, ...]:
    """Where the cauls stand along the front edge of each leg."""
    return tuple(
        f"Leg on wall {_called(side, up, each.wall)}, along its front edge from the left: "
        f"{', '.join(_inches(side, x) for x in each.at)}."
        for each in up.cauls
    )


def _inches(side: Side, value: float) -> str:
    """Where a clamp stands: to a quarter of an inch or 5 mm, which is near enough."""
    if side.say.units == "in":
        return show_length(value, "in", to=4, mark=True)
    return f"{round(value / 5) * 5} mm"


def _called(side: Side, up: GlueUp, wall: str) -> str:
    return side.design(up.section).room.wall(wall).called


def _skins_ready(side: Side, design: Design) -> tuple[str, ...]:
    """What must be cut in the bare bottom skin before any glue."""
    if design.spec.groove is None:
        return ()
    bored = into_groove(design) and not held_walls(side.plan, design)
    hole = " and the hole that takes the cable into it" if bored else ""
    have = "have" if bored else "has"
    return (f"The light groove{hole} {have} been cut in the bottom skin, as on the core map.",)


def _before(side: Side, up: GlueUp) -> tuple[str, ...]:
    design = side.design(up.section)
    return (
        (
            "Everything laid out dry once, cauls crowned and waxed, clamps set to width, "
            f"{_hands(up.enough or up.hands)}, a clock in sight."
        ),
        *_skins_ready(side, design),
        "Thirsty edges (end grain, edges of sheets) get a first thin coat, and the second once it has gone dull.",
        f"{glue_amount(side, up)}. Spread, times and clamps are common practice; the label has the last word.",
        "No glue in a slot or a slide slot: wipe squeeze-out out of them before it sets.",
        *(
            ("Its slots are glued when it is hung, not now: as in the fitting order.",)
            if glued_in.marks(design)
            else ()
        ),
    )


def finish_sheet(side: Side, each: Finishing) -> FormSheet:
    """Return edging and finish with a clock for the coats.

    Args:
        side: the shop's side of the job.
        each: sections that are treated alike.
    """
    say, bench = side.say, side.plan.job.shop.bench
    return FormSheet(
        title="Edging and finish",
        about=", ".join(each.sections),
        unit=say.unit,
        warning="",
        intro="",
        facts=(
            Figure(
                "Finish",
                each.finish,
                f"{len(each.coats)} coats in all",
            ),
            Figure("Carried after", hours_text(each.handle), "from the last coat in the shop"),
            Figure(
                "Heavy things after", f"{-(-each.full_load // 24):.0f} days", "from the last coat"
            ),
            Figure(
                "Shop",
                say.temperature(bench.temperature),
                f"{'18 F' if say.units == 'in' else '10 C'} colder: twice as long",
            ),
        ),
        parts=(
            FormPart("Edging", lines=_edging(side, each)),
            FormPart("Sanding", lines=_sanding(each)),
            FormPart(
                "Coats, with the clock",
                tables=(_coats(side, each.coats),) if each.coats else (),
                lines=() if each.coats else ("None.",),
            ),
            FormPart("To watch", lines=_watch(side, each)),
        ),
    )


def _edging(side: Side, each: Finishing) -> tuple[str, ...]:
    glue = side.plan.job.shop.bench.glue
    designs = [d for d in side.plan.designs if d.spec.title in each.sections]
    letters = [
        f"{d.spec.title}: " * (len(designs) > 1)
        + letter_runs([p.letter for p in d.parts if p.kind == "edging"])
        for d in designs
    ]
    hours = next((up.work for up in side.work.glue_ups), glue.work)
    return (
        f"{'; '.join(letters)}, rough as listed, proud of both skins; mitred where two meet.",
        (
            f"{glue.name}, two coats on the edges of the skins; a stiff batten over it, a clamp every "
            f"{_inches(side, 150)}."
        ),
        f"Flushed to the skins after {hours_text(hours)} and not before the next day; a card under the plane's heel.",
    )


def _sanding(each: Finishing) -> tuple[str, ...]:
    size = any(c.product == "glue size" for c in each.coats)
    return (
        f"Bare wood and veneer through {', '.join(each.grits)}, with the grain; edges eased; dust off with a vacuum.",
        *(("Glue size is box glue with as much water, named apart from sealer.",) if size else ()),
    )


def _coats(side: Side, coats: Sequence[Coat]) -> Table:
    unit = side.say.units
    return Table(
        heads=("Coat", "What", "Grit before", "Area", "Amount", "Put on at", "Next not before"),
        widths=(40, 34, 20, 22, 24, 24, 30),
        figures=(),
        rows=tuple(
            (
                f"{c.name}, on site" if c.on_site else c.name,
                c.product,
                c.grit or "–",
                show_area(c.area, unit),
                show_volume(c.volume / 1000, unit),
                "",
                f"+ {hours_text(c.wait)}",
            )
            for c in coats
        ),
    )


def _watch(side: Side, each: Finishing) -> tuple[str, ...]:
    closers = [
        cuts.closer(d.spec)
        for d in side.plan.designs
        if d.spec.title in each.sections and "tight" in (d.spec.back, d.spec.ends)
    ]
    oil = each.sort == "oil"
    return (
        "The first coat goes on a scrap of the same wood first; the client has signed a sample of it.",
        *(
            ("Oily cloths are spread out to dry, or lie in water: heaped up they take fire.",)
            if oil
            else ()
        ),
        *(("Top and bottom get the same coats, so that it stays flat.",)),
        *(
            (
                f"The cut edge is closed with {closers[0]} after the scribe, before it goes on for good.",
            )
            if any(closers)
            else ()
        ),
        "Waits are common practice at the slow end, stretched where it is cold; the label has the last word.",
    )


def days_sheet(side: Side) -> FormSheet:
    """Return the days: what is done when, and what waits.

    Args:
        side: the shop's side of the job.
    """
    days, work, say = side.days, side.work, side.say
    end = "No date yet" if side.undated else day_text(side, days.finish)
    heavy = "No date yet" if side.undated else day_text(side, days.heavy_day)
    counted = "" if days.dated else "counted from a Monday: the job names no first day"
    return FormSheet(
        title="Days",
        about="the whole job",
        unit=say.unit,
        warning="",
        intro=f"No day is given for ordering, drilling and what comes after: {side.undated}."
        if side.undated
        else "",
        facts=(
            Figure("Finished", end, "" if side.undated else counted or "at the earliest"),
            Figure("Heavy things from", heavy, "" if side.undated else "once the finish is hard"),
            Figure("Hands-on", f"{work.hours:.1f} h", f"on {days.working} days"),
            Figure("To the site", f"{work.journeys} times", "there and back"),
        ),
        parts=(
            FormPart("What is done when", tables=(_when(side),)),
            *((_later(side),) if side.undated else ()),
            FormPart("What waits by itself", tables=(_waits(side),)),
            FormPart("How it is reckoned", lines=_reckoned(side)),
        ),
    )


def _when(side: Side) -> Table:
    rows = tuple(
        (
            day_text(side, start),
            f"{clock(start)} to {clock(end)}",
            f"{where(each.task)}{task_text(each.task)}",
        )
        for each in dated(side)
        for start, end in each.stints
    )
    return Table(("Day", "Time", "What"), (34, 30, 112), (), rows)


def _later(side: Side) -> FormPart:
    tasks = list(dict.fromkeys(task_text(task) for task in undated(side)))
    return FormPart("Once that is settled", lines=("; ".join(tasks) + ".",))


def _waits(side: Side) -> Table:
    shown = {each.task.id: each for each in dated(side)}
    rows = tuple(
        (
            f"{wait.why[:1].upper()}{wait.why[1:]}",
            task_text(shown[wait.task].task),
            moment_text(side, wait.start),
            moment_text(side, wait.end),
        )
        for wait in side.days.waits
        if wait.task in shown and wait.end - wait.start >= 60
    )
    return Table(("Why", "After", "From", "Until, at the earliest"), (44, 52, 40, 44), (), rows)


def _reckoned(side: Side) -> tuple[str, ...]:
    bench, clamps = side.plan.job.shop.bench, side.plan.job.shop.clamps
    pressed = sum(1 for task in side.work.tasks if task.clamps)
    proof = (
        "No other order of these tasks is finished earlier."
        if side.days.proven
        else "A still earlier end is not ruled out."
    )
    return (
        (
            f"One crew does one thing at a time, {bench.hours_a_day:g} hours a day from 8:00; a visit to the site "
            "begins in the morning, a short look whenever it may; glue and rods are left alone until the next day."
        ),
        (
            f"The client answers within {bench.answer_days} days, what is ordered comes within {bench.delivery_days}. "
            "Rods cure at the site's temperature, glue and finish at the shop's."
        ),
        *(
            (f"The {clamps} clamps serve in turn: no glue-up begins while too many are still on.",)
            if pressed > 1
            else ()
        ),
        *load_test_words(side),
        proof,
    )


def van_sheet(side: Side) -> FormSheet:
    """Return what goes on the van for each visit, to be ticked off; one that takes several days has them all.

    Args:
        side: the shop's side of the job.
    """
    days: dict[str, list[str]] = {}
    for each in dated(side):
        days.setdefault(each.task.visit, []).append(day_text(side, each.start))
    return FormSheet(
        title="Van lists",
        about="one for each visit",
        unit=side.say.unit,
        warning="",
        intro="",
        facts=(),
        parts=tuple(
            FormPart(
                f"{visit_text(van.visit)}, {listed(days[van.visit])}",
                ticks=van.items,
            )
            if van.items
            else FormPart(visit_text(van.visit), lines=(f"Not to be loaded yet: {van.why}.",))
            for van in vans(side)
        ),
        beside=True,
    )


def buying_sheet(side: Side) -> FormSheet:
    """Return the shopping list of the whole job, in packs.

    Args:
        side: the shop's side of the job.
    """
    found = shopping(side)
    small = [f"{each.what} ({each.use})" for each in found if not each.unit]
    proven = LAID if side.work.counted.proven else "by area with 15 % waste"
    return FormSheet(
        title="Shopping list",
        about="the whole job",
        unit=side.say.unit,
        warning="",
        intro="",
        facts=(),
        parts=(
            FormPart("To buy", tables=(_to_buy(side, [x for x in found if x.unit]),)),
            FormPart("Out of the sundries", lines=("; ".join(small) + ".",)),
            FormPart("Rods", lines=tuple(line.strip() for line in _joined(rod_lines(side)))),
            FormPart(
                "How it is counted",
                lines=(
                    (
                        f"Sheets {proven}; boards and bars as cut up, or by rough sizes and saw cuts; adhesive a third "
                        "over what the holes hold, and 10 ml pressed out of each fresh nozzle; coats by their class."
                    ),
                ),
            ),
        ),
    )


def _joined(lines: Sequence[str]) -> list[str]:
    """Lines that were broken for a terminal, whole again."""
    found: list[str] = []
    for line in lines:
        if line.startswith("    ") and found:
            found[-1] += f" {line.strip()}"
        else:
            found.append(line.strip())
    return found


def _to_buy(side: Side, found: Sequence[Buy]) -> Table:
    prices = side.plan.job.shop.prices
    return Table(
        heads=(
            "What",
            "For",
            "Needed",
            "Buy",
            f"To pay, {prices.currency}" if prices else "To pay",
            "Note",
            "Got",
        ),
        widths=(36, 22, 22, 44, 20, 36, 12),
        figures=(4,),
        rows=tuple(
            (
                each.what,
                each.use,
                each.needed or "withheld",
                "–" if each.packs is None else _pack(each),
                "–" if each.to_pay is None else f"{each.to_pay:,.2f}",
                each.note or "–",
                "[]",
            )
            for each in found
        ),
    )


def _pack(each: Buy) -> str:
    have = f" ({each.on_hand} on hand)" if each.on_hand else ""
    return f"{each.much}{have}" if each.pack != "lot of boards" else "boards"
