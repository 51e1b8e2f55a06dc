"""The load test, the owner's page with its label, and the job log."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import partial
from typing import Any

from ledgewright.job import Thing
from ledgewright.judge import Design
from ledgewright.layout import scribed
from ledgewright.plan import Plan
from ledgewright.sheets import glued_in, limits
from ledgewright.sheets.at_home import filler_strips
from ledgewright.sheets.documents import number
from ledgewright.sheets.leaves import held_walls, named
from ledgewright.sheets.model import Figure, FormPart, FormSheet, Table
from ledgewright.sheets.say import Say, ratio
from ledgewright.site import READING, ReadBack, Row, for_label
from ledgewright.statics import BARE, FOOTPRINT, LoadLimit, NoTest, Pile, Proof
from ledgewright.statics.loads import G_N
from ledgewright.survey import Wall
from ledgewright.units import show_length_down

Json = dict[str, Any]

THINGS: tuple[tuple[str, float], ...] = (
    ("paperbacks", 16.0),
    ("mixed books", 37.0),
    ("large books", 62.0),
    ("records", 63.0),
    ("lever-arch files", 48.0),
    ("mugs and glass, two deep", 16.0),
)
"""What a metre of a row weighs (kg; mixed books after the reference tables, the others assumed: design page on loads).
"""
UNLOAD = (
    "A reading over the figure told for its place, or one that keeps growing between two looks ten minutes apart; a "
    "crack, a creak, dust out of a hole."
)
"""When a load test is broken off (common practice)."""
PAST = 0.4
"""What lies no further past the end of a wall is at its end (mm, half of 1/32 in)."""
_HEAVIEST_FIRST = tuple(sorted(THINGS, key=lambda each: -each[1]))


def test_sheet(plan: Plan, design: Design) -> FormSheet | None:
    """Return the load test of a shelf: what goes where, what is read, when to unload; None if none may be made.

    Args:
        plan: the whole job.
        design: the shelf.
    """
    proof, read = plan.test(design.spec.id)
    if not isinstance(proof, Proof) or held_walls(plan, design):
        return None
    say = Say.of(plan.job.meta)
    done = (_as_read(design, read, say),) if isinstance(read, ReadBack) else ()
    return FormSheet(
        title="Load test",
        about=f"shelf {design.spec.title}, {proof.times:g} times its contents and one thing at its worst",
        unit=say.unit,
        warning="",
        intro="A known weight, put on in steps, left for a day and taken off again. Nobody stands under it. It tells "
        f"of this shelf what no reckoning can: whether it is what it was taken to be. {_furthest(proof)}",
        facts=(
            Figure("In all", say.weight(proof.total), "no more than this"),
            Figure("The one thing", say.weight(proof.single.mass), proof.spot),
            Figure("Stands for", "24 h", "then off, and read again"),
            Figure("Comes back", "80 %", "at the least"),
        ),
        parts=(
            _before(plan, design, say),
            FormPart(
                "Unload at once",
                lines=(UNLOAD,),
            ),
            FormPart(
                "What goes where",
                lines=(
                    "Sacks as printed on them, jugs by their water (a US gallon 8.3 lb, a liter 1 kg).",
                    "Books on a scale. Never more than is told here; less is safe, but the load limit is then less.",
                    _each_on(say),
                    *_bare(proof),
                ),
                tables=(_weights(put_on(design, proof, say)),),
            ),
            FormPart(
                "Readings along the front",
                lines=(
                    "From a fixed mark under the front edge, with a dial gauge or feelers.",
                    "A rule is too coarse to tell a loose rod. Each step ten minutes, all of it also after 24 h.",
                    "Heaps: all weights but the one thing. Half of each, then all; half of the one thing, then all.",
                    *_lifted(proof),
                    *_overhang(design, proof),
                ),
                tables=(_readings(design, proof, say),),
                whole=True,
            ),
            FormPart(
                "Off again",
                lines=(
                    "An hour after the last weight is off. Written into the job file, under [site], as test.",
                ),
                blanks=("Read by, and on which day",),
            ),
            *done,
        ),
    )


def _lifted(proof: Proof) -> tuple[str, ...]:
    """Why heaps go on first, where the one thing lifts some of the front."""
    heaps, whole = proof.stages[1], proof.stages[-1]
    if all(one.down <= other.down for one, other in zip(heaps, whole, strict=True)):
        return ()
    return ("The one thing lifts some of the front: what bears there shows with the heaps alone.",)


def _overhang(design: Design, proof: Proof) -> tuple[str, ...]:
    """What a place past an outside corner means, where one is read."""
    walls = {last.wall: design.room.wall(last.wall) for last in proof.later}
    over = {
        last.wall: last.along < walls[last.wall].start
        for last in proof.later
        if _is_past(walls[last.wall], last.along)
    }
    return tuple(
        f"Wall {walls[name].called}: a place {_sign(walls[name], left=left)} lies past the corner, on the overhang: "
        "measured on from the corner in the line of the wall."
        for name, left in over.items()
    )


def _sign(wall: Wall, *, left: bool) -> str:
    hooked = wall.tape_from == ("left" if left else "right")
    return "with a minus" if hooked else "further than the wall is long"


def _furthest(proof: Proof) -> str:
    share = math.ceil(100 * proof.ratio - 1e-9)
    by = f"{proof.by[:1].lower()}{proof.by[1:]}"
    return f"What it takes furthest ({by}) comes to {share} % of what a test may ask."


def beside_words(plan: Plan, design: Design) -> str:
    """Return what else a load test of a shelf loads at once, in words; empty if it is loaded alone.

    Args:
        plan: the whole job.
        design: the shelf.
    """
    return " and ".join(each.spec.title for each in plan.beside(design.spec.id))


def _before(plan: Plan, design: Design, say: Say) -> FormPart:
    heat, beside = plan.job.site.heat, beside_words(plan, design)
    together = (
        f"Together with {beside}, on a sheet of its own: each step on all of them, then read; over on one, off all.",
    )
    hot = (
        "How hot it gets at the rods: nobody has said. Over 50 C (122 F) no test is made."
        if heat is None
        else f"At the rods it gets no hotter than {say.temperature(heat)}, as told."
    )
    cured = ", the glue in the slots too" if glued_in.marks(design) else ""
    ready = f"Cured: the time on the set card is over{cured}. The lock is in."
    return FormPart(
        "Before",
        ticks=(
            f"{ready} Nobody under it, nothing under it that breaks.",
            hot,
            *(together if beside else ()),
            "Weights stand on clean boards with a soft cloth under them until the finish is hard.",
            "A quarter of the weight on for ten minutes, off again; then every mark set to zero.",
        ),
    )


def _each_on(say: Say) -> str:
    square = say.about(FOOTPRINT)
    return f"Each on about {square} square, its middle at the place told; two in one place: one on the other."


def _bare(proof: Proof) -> tuple[str, ...]:
    if all(pile.name != BARE for pile in proof.piles):
        return ()
    return (
        f"{BARE.capitalize()}: nothing of the job lies there, but a load limit speaks of every length.",
    )


def put_on(design: Design, proof: Proof, say: Say) -> tuple[tuple[str, str, str, str], ...]:
    """Return the weights of a load test, as they are printed: in place of what, where, how far out, how much.

    Args:
        design: the section.
        proof: the test.
        say: how the job writes.
    """
    return tuple(
        (
            pile.name,
            _place(design.room.wall(pile.wall), pile.along, say),
            say.length(pile.out),
            say.weight(pile.mass),
        )
        for pile in (*sorted(proof.piles[:-1], key=partial(_in_order, design)), proof.single)
    )


def _in_order(design: Design, pile: Pile) -> tuple[bool, str, float]:
    """Heaps in place of contents, then things; each along its tape."""
    thing = any(isinstance(load, Thing) and load.id == pile.name for load in design.demand.loads)
    wall = design.room.wall(pile.wall)
    return thing, wall.mark, wall.taped(pile.along)


def _weights(rows: tuple[tuple[str, ...], ...]) -> Table:
    return Table(
        heads=("In place of", "Middle, by the tape", "Out of the wall", "Weight", "On"),
        widths=(44, 52, 32, 26, 14),
        figures=(2, 3),
        rows=tuple((*row, "[]") for row in rows),
    )


def _at(wall: Wall, along: float, say: Say) -> str:
    """A place as the tape of its wall reads it, for a table: past the corner it is hooked on with a minus."""
    return f"{wall.mark} {say.bare(wall.taped(along))}"


def _place(wall: Wall, along: float, say: Say) -> str:
    """A place as the tape of its wall reads it, in words."""
    past = " (past the corner)" if _is_past(wall, along) else ""
    return f"{wall.mark}, {say.length(wall.taped(along))}{past}"


def _is_past(wall: Wall, along: float) -> bool:
    return not wall.start - PAST <= along <= wall.end + PAST


def unload_if(down: float) -> float:
    """Return the reading over which a test is unloaded (mm): wood and glue as soft as they come, and the reading.

    Args:
        down: what is expected at the soft end of the ranges (mm).
    """
    return down + 2 * READING["gauge"]


def _readings(design: Design, proof: Proof, say: Say) -> Table:
    rows = []
    for k, last in enumerate(proof.later):
        wall = design.room.wall(last.wall)
        stages = [say.gauge(stage[k].down) for stage in proof.stages]
        over = say.gauge_down(unload_if(proof.soft[k].down)) if proof.soft else "-"
        rows.append((_at(wall, last.along, say), *stages, say.gauge(last.down), over, ""))
    return Table(
        heads=(
            "Place",
            "Half of every heap",
            "Heaps",
            "Half the one thing",
            "All of it",
            "After 24 h",
            "Unload if over",
            "Read: 1/2 heaps, heaps, 1/2 one, all, 24 h, off",
        ),
        widths=(20, 17, 17, 17, 17, 18, 19, 57),
        figures=(1, 2, 3, 4, 5, 6),
        rows=tuple(rows),
    )


def _as_read(design: Design, read: ReadBack, say: Say) -> FormPart:
    return FormPart(
        "As read",
        lines=told(design, read, say),
        tables=(
            Table(
                heads=("Step", "On it", "After", "Place", "Predicted", "Likely, 9 in 10", "Read"),
                widths=(12, 24, 22, 22, 26, 44, 24),
                figures=(1, 4, 6),
                rows=tuple(
                    (
                        str(row.step),
                        say.mass(row.total),
                        _waited(row.hours),
                        _at(design.room.wall(row.wall), row.along, say),
                        say.gauge(row.predicted),
                        f"{say.gauge(row.low)} to {say.gauge(row.high)}" if row.total else "-",
                        say.gauge(row.read) + ("" if _likely(row) else " !"),
                    )
                    for row in read.rows
                ),
            ),
        ),
    )


def _waited(hours: float) -> str:
    return f"{hours * 60:.0f} min" if hours < 1 else f"{hours:.0f} h"


def _likely(row: Row) -> bool:
    """Whether a reading lies in its likely range; unloaded it is judged by what came back."""
    return row.total == 0 or row.low <= row.read <= row.high


def told(design: Design, read: ReadBack, say: Say) -> tuple[str, ...]:
    """Return what a load test came to, in sentences.

    Args:
        design: the shelf.
        read: its test.
        say: how the job writes.
    """
    lines = [_OUTCOME[read.outcome]]
    lines += [f"{why[:1].upper()}{say.sizes(why[1:])}." for why in (*read.why, *read.still)]
    if read.recovery is not None:
        lines.append(f"{max(0.0, read.recovery) * 100:.0f} % came back; at least 80 % must.")
    if read.narrowed is not None:
        at, sd = read.narrowed.after.middle[0], read.narrowed.after.sd[0]
        lines.append(
            f"The grip of the hole, from 0 (the softest figure published) to 1 (the stiffest): {at:.2f} with "
            f"{1.645 * sd:.2f} either way, where before it was 0.50 with 0.41. Readings as far off come "
            f"{_chance(read.narrowed.chance)}."
        )
    if read.passed:
        lines.append(
            f"It allows {say.most_mass(read.total)} in all and no one thing over {say.most_mass(read.single)}: what "
            "stood on it, divided by 1.25."
        )
        if read.lifted:
            lines.append(
                "The one thing lifted a rod, which so bore less than its share: read at every rod with the heaps alone "
                "too, before the one thing is on, a test allows more on every length."
            )
    return tuple(lines)


_OUTCOME = {
    "passed": "PASSED.",
    "did not pass": "DID NOT PASS: take the weights off and let nobody load it.",
    "not over": "NOT OVER: nobody loads it but for the test.",
}


def _chance(share: float) -> str:
    return (
        f"by chance {share * 100:.0f} times in 100"
        if share >= 0.01
        else "by chance less than once in 100 times"
    )


def owner_sheet(plan: Plan, design: Design) -> FormSheet:
    """Return the owner's page with the label: the limit in things, what it is not for, when to look again.

    Args:
        plan: the whole job.
        design: the shelf.
    """
    say, limit = Say.of(plan.job.meta), design.holds.load_limit
    given = not limits.why_none(design) and not held_walls(plan, design)
    good = given and isinstance(limit, LoadLimit) and for_label(limit)
    return FormSheet(
        title="For the owner",
        about=f"shelf {design.spec.title}",
        unit=say.unit,
        warning="" if good else "No limit yet: put nothing on it",
        intro="It hangs on steel in the studs behind it. It is not a step, a seat or a handhold: nobody stands, sits, "
        "climbs or hangs on it.",
        facts=_label_facts(design, limit, say) if good and isinstance(limit, LoadLimit) else (),
        parts=(
            *(
                (_in_things(design, limit, say),)
                if good and isinstance(limit, LoadLimit)
                else (_missing(plan, design, say),)
            ),
            FormPart(
                "When",
                blanks=(
                    "Hung on",
                    "Nothing heavy on it before (all cured)",
                    "Look again after 30 days, on",
                    "Look again after 1 year, on",
                ),
                lines=(
                    "Looking again: the gap at the wall, the front edge against a level, cracks in paint or plaster.",
                    "If it has moved: clear it, and call whoever hung it.",
                ),
            ),
            FormPart(
                "How it comes off",
                lines=glued_in.to_owner(design, say)
                if glued_in.marks(design)
                else (_off(design), "Never lift it off by the front edge alone."),
            ),
            FormPart(
                "Label, to cut out and stick underneath", lines=_label(plan, design, say, good=good)
            ),
        ),
    )


def _label_facts(design: Design, limit: LoadLimit, say: Say) -> tuple[Figure, ...]:
    texts, more = limits.said(limit, say), limits.heavier(design, limit, say)
    return (
        Figure(say.word("Limit"), texts.even, "on every length"),
        Figure("In all", texts.total, "everything together"),
        Figure("One thing", texts.single, f"no one thing over this{'; ' + more if more else ''}"),
    )


def _missing(plan: Plan, design: Design, say: Say) -> FormPart:
    """What stands between a shelf and its label: why there is none yet, and what brings one."""
    limit, why = design.holds.load_limit, limits.why_none(design)
    held, test = held_walls(plan, design), plan.no_test(design.spec.id)
    if why:
        lines = [
            f"No limit can be given: {say.text(say.sizes(why))}. Until one is, nothing stands on it."
        ]
    elif not isinstance(limit, LoadLimit) or not limit.open:
        lines = [
            f"No limit is given while {named(design, held)} is not confirmed. Until then nothing stands on it."
        ]
    else:
        lines = [f"Still to come: {limits.missing(limit)}. Until then nothing stands on it."]
        unsure = limits.unsure(limit, plan.spread(design.spec.id))
        lines += [say.text(say.sizes(unsure))] if unsure else []
        if test is not None:
            lines.append(
                f"No load test is proposed: {test.why}. Without one there is no limit from here; an engineer can give "
                "one in writing."
            )
    return FormPart("What it may carry", lines=tuple(lines))


def _in_things(design: Design, limit: LoadLimit, say: Say) -> FormPart:
    lines = [
        f"{name.capitalize()}: {row_of(mass, design, limit, say)}."
        for name, mass in _HEAVIEST_FIRST
    ]
    lines += [_planned(name, per, limit, say) for name, per in limits.told_evens(design)]
    things = [load for load in design.demand.loads if isinstance(load, Thing)]
    lines += [
        f"The {thing.id} ({say.mass(thing.mass)}) where it was planned."
        if thing.mass <= limit.single
        else f"Not the {thing.id} ({say.mass(thing.mass)}): it weighs more than one thing may."
        for thing in things
    ]
    lines += _both(design, limit, [thing for thing in things if thing.mass <= limit.single], say)
    lines.append("All of it together never over the figure above. Heavy things over a stud.")
    return FormPart("In things", lines=tuple(lines))


def _planned(name: str, per_length: float, limit: LoadLimit, say: Say) -> str:
    """What the job lays evenly on it: as it was planned, or how much of it."""
    told = say.line_mass(per_length)
    if per_length <= limit.even:
        return f"{name.capitalize()}, {told}, where planned."
    return f"{name.capitalize()}: {say.most_per_length(limit.even)} at the most, not the {told} planned."


def _both(design: Design, limit: LoadLimit, things: list[Thing], say: Say) -> list[str]:
    """The heaviest row that may stand on every length, and the heaviest thing of the job beside it."""
    rows = [(name, mass) for name, mass in _HEAVIEST_FIRST if mass * G_N / 1000 <= limit.even]
    if not rows or not things:
        return []
    (name, mass), thing = rows[0], max(things, key=lambda each: each.mass)
    left = replace(limit, total=max(limit.total - thing.mass, 0.0))
    return [f"{name.capitalize()} and the {thing.id} at once: {row_of(mass, design, left, say)}."]


def row_of(mass: float, design: Design, limit: LoadLimit, say: Say) -> str:
    """Return how long a row of something a shelf may carry, rounded down; "not in a row" where that is too heavy.

    Args:
        mass: of a metre of it (kg).
        design: the shelf.
        limit: its load limit.
        say: how the job writes.
    """
    if mass * G_N / 1000 > limit.even:
        return "not in a row: too heavy for its length"
    length = sum(
        ((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5
        for a, b in (leg.front for leg in design.frame.legs)
    )
    most = min(length, limit.total / mass * 1000)
    whole = "the whole length, " if most >= length - 1e-6 else ""
    feet = int(most / 304.8)
    text = (
        f"{feet} ft"
        if say.units == "in" and feet
        else show_length_down(most, say.units, to=1, mark=True)
    )
    if say.units == "mm":
        text = f"{int(most / 100) / 10:g} m"
    return f"{whole}{text} of a row"


def _off(design: Design) -> str:
    lock = design.spec.lock
    marks = [rod.mark for rod in design.frame.rods if rod.id in lock.rods]
    how = {
        "grub screw": "Undo the grub screws from below",
        "angled screw": "Undo the angled screws at the back edge",
        "sealant": "Undo the dabs of sealant, cut with a long blade",
        "none": "No lock is planned",
    }[lock.kind]
    count = f" ({len(marks)} of them)" if marks else ""
    strips = filler_strips(design)
    free = f" Cut its filler strips ({len(strips)} of them) free along its ends." if strips else ""
    back = "then the moves of the fitting order in reverse, as many people as hung it."
    return f"Clear it.{free} {how}{count}, {back}"


def _label(plan: Plan, design: Design, say: Say, *, good: bool) -> tuple[str, ...]:
    limit = design.holds.load_limit
    if not good or not isinstance(limit, LoadLimit):
        return ("NO LIMIT YET. LOAD NOTHING.",)
    texts = limits.said(limit, say)
    name = say.word("Limit").upper()
    declined = " Nobody may lean on it." if design.demand.leaning_left_out else ""
    more = limits.heavier(design, limit, say)
    return (
        f"{name}: {'; '.join(filter(None, (texts.all, more)))}.",
        f"Not a step, seat or handhold.{declined} Not near heat over 50 C (122 F).",
        f"Job {plan.job.meta.name}, revision {plan.job.meta.revision.removeprefix('sha256:')[:8]}.",
        f"{limits.leaves_out(limit).capitalize()}.",
        "Hung on ____________  look again ____________ and ____________",
    )


def log_sheet(plan: Plan) -> FormSheet:
    """Return the job log: every step with room for the day, who, and what was different.

    Args:
        plan: the whole job.
    """
    say = Say.of(plan.job.meta)
    rods, first = say.word("rods"), plan.job.meta.order == "rods first"
    glued = glued_in.stays(plan.designs)
    dry = not all(map(glued_in.marks, plan.designs))
    steps = (
        "Wall seen inside, photos named",
        *(() if first else ("Box made",)),
        "Drilled; wood all the way in every hole",
        f"{rods.capitalize()} set; temperature, mix, clock",
        f"Comb off; {rods} read, card signed",
        *(("Core cut to the readings; box made",) if first else ()),
        "Hung dry, scribed, cut"
        if any(scribed(d.room, d.spec) for d in plan.designs)
        else "Hung dry",
        *(("Glued in the slots, hung, propped; mix, clock",) if glued else ()),
        *(("Hung, locked",) if dry else ()),
        "Load test: on, after 24 h, off",
        "Handed over; label on",
        "Looked at after 30 days",
        "Looked at after 1 year",
    )
    return FormSheet(
        title="Job log",
        about=plan.job.meta.name,
        unit=say.unit,
        warning="",
        intro="What was done, when and by whom; what was not as drawn. A lost hole stands here and in the job file.",
        facts=(),
        parts=(
            FormPart(
                "Step by step",
                tables=(
                    Table(
                        heads=("Step", "Day", "By", "Not as drawn; photos"),
                        widths=(66, 24, 24, 66),
                        figures=(),
                        rows=tuple((step, "", "", "") for step in steps),
                    ),
                ),
            ),
        ),
    )


def lines(plan: Plan, design: Design) -> list[str]:
    """Return what `site` says of the load test and the load limit of a section.

    Args:
        plan: the whole job.
        design: the section.
    """
    say, held = Say.of(plan.job.meta), held_walls(plan, design)
    proof, read = plan.test(design.spec.id)
    found = [f"Load test of shelf {design.spec.title}:"]
    if held:
        return [*found, f"  none is proposed: withheld with {named(design, held)}"]
    if isinstance(proof, Proof):
        worst = max(proof.later, key=lambda each: each.down)
        beside = beside_words(plan, design)
        if beside:
            found.append(f"  tested together with {beside}, every step on all of them at once")
        found.append(
            f"  {say.weight(proof.total)} in all, of it one thing of {say.weight(proof.single.mass)} {proof.spot}; "
            f"the front then goes down {say.gauge(worst.down)} at {_mark(design, worst.rod)}; it asks "
            f"{ratio(proof.ratio)} of what a test may"
        )
    elif isinstance(proof, NoTest):
        found.append(f"  none is proposed: {say.sizes(proof.why)}")
    if isinstance(read, ReadBack):
        found += [f"  {line}" for line in told(design, read, say)]
    elif isinstance(read, NoTest):
        found.append(f"  of what was read nothing can be said: {say.sizes(read.why)}")
    limit, none = design.holds.load_limit, limits.why_none(design)
    if isinstance(limit, LoadLimit) and not none:
        found.append(
            f"  {say.word('limit')}: {limits.said(limit, say).all}; {limits.leaves_out(limit)}"
        )
    elif limit is not None:
        found.append(f"  {say.word('limit')}: none; {say.sizes(none)}")
    else:
        found.append(
            f"  {say.word('limit')}: `check` works it out; here once rods or a test are read"
        )
    return found


def _mark(design: Design, rod: str) -> str:
    return next((r.mark for r in design.frame.rods if r.id == rod), rod)


def document(plan: Plan, design: Design) -> Json:
    """Return the load test of a section, to be made and as read, as JSON; null on a wall that is not confirmed.

    Args:
        plan: the whole job.
        design: the section.
    """
    proof, read = plan.test(design.spec.id)
    held = held_walls(plan, design)
    return {
        "proposed": _proposed(proof) if isinstance(proof, Proof) and not held else None,
        "beside": [each.spec.id for each in plan.beside(design.spec.id)],
        "why_not": proof.why if isinstance(proof, NoTest) else "",
        "read": _read(read) if isinstance(read, ReadBack) and not held else None,
    }


def _proposed(proof: Proof) -> Json:
    return {
        "times": number(proof.times),
        "total": number(proof.total),
        "single": number(proof.single.mass),
        "spot": proof.spot,
        "at": {"wall": proof.single.wall, "along": number(proof.single.along)},
        "put": [
            {
                "name": pile.name,
                "wall": pile.wall,
                "along": number(pile.along),
                "out": number(pile.out),
                "mass": number(pile.mass),
            }
            for pile in proof.piles
        ],
        "ratio": number(proof.ratio),
        "by": proof.by,
        "places": [
            {
                "wall": last.wall,
                "along": number(last.along),
                "down": [number(stage[k].down) for stage in proof.stages],
                "after_24h": number(last.down),
                "unload_if": number(unload_if(proof.soft[k].down)) if proof.soft else None,
            }
            for k, last in enumerate(proof.later)
        ],
    }


def _read(read: ReadBack) -> Json:
    after = read.narrowed
    return {
        "passed": read.passed,
        "why": list(read.why),
        "still": list(read.still),
        "most": number(read.most),
        "held": number(read.held),
        "recovery": None if read.recovery is None else number(read.recovery),
        "growth": None
        if read.growth is None
        else {"read": number(read.growth.read), "predicted": number(read.growth.predicted)},
        "loose": list(read.loose),
        "rows": [
            {
                "step": row.step,
                "hours": number(row.hours),
                "wall": row.wall,
                "along": number(row.along),
                "predicted": number(row.predicted),
                "low": number(row.low),
                "high": number(row.high),
                "read": number(row.read),
            }
            for row in read.rows
        ],
        "grip": None
        if after is None
        else {
            "middle": number(after.after.middle[0]),
            "sd": number(after.after.sd[0]),
            "chance": number(after.chance),
        },
        "allows": {
            "even": number(read.even),
            "single": number(read.single),
            "total": number(read.total),
        },
    }
