"""The answers of the verbs as plain text for a terminal."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from ledgewright import plane, site
from ledgewright.doubt import Spread
from ledgewright.fitting import Move, Way
from ledgewright.job import Finding, Job
from ledgewright.judge import Design, Option, alternatives, options
from ledgewright.layout import EndFit
from ledgewright.memo import Memo
from ledgewright.plan import Plan, in_shop
from ledgewright.plane import Ring
from ledgewright.sheets import bonded, bounds, cuts, glued_in, limits, opens, others, sure
from ledgewright.sheets.blocked import eased_told, stops
from ledgewright.sheets.cautions import cautions, two_people
from ledgewright.sheets.leaves import (
    Held,
    core_notes,
    held_marks,
    held_walls,
    mark_of,
    open_notes,
    sized,
    worked,
)
from ledgewright.sheets.measured import again_text
from ledgewright.sheets.plainly import counted_apart, told_below
from ledgewright.sheets.say import Say, listed, ratio
from ledgewright.sheets.spoken import own_names
from ledgewright.sheets.waynames import option_name, titled, way_name
from ledgewright.shop import Bill, bill_of
from ledgewright.site import Withheld
from ledgewright.statics import OPEN, Check, Drop, LoadLimit
from ledgewright.units import (
    show_area,
    show_length,
)

MARK = {"passes": "ok", "fails": "NO", "cannot say": "?"}
NOT_OK = {
    "fails": "Too much is asked of:",
    "cannot say": "Nothing can be said of:",
    "waits": f"Each of these {OPEN}:",
}
"""What stands over rows that are not ok."""
_AT_THE_HOLES = ("services-", "comes-out-", "past-timber-", "glued-", "bonded-")
"""Cautions that `check` prints: who drills, or glues, has to know."""
FAR_OVER = 10
"""Beyond so many times what it can take by how much tells nobody more."""


def check_text(plan: Plan) -> str:
    """Return the answer of `check` for people: verdict first, then why, then every check."""
    job = plan.job
    lines = [f"{job.meta.name}: {plan.verdict.upper()}", ""]
    for design in plan.designs:
        held, spread = held_walls(plan, design), sure.spread_of(plan, design)
        alone = len(plan.designs) == 1
        lines += [*_shelf(plan, design, held, spread, alone=alone), ""]
    if len(plan.designs) > 1:
        lines += ["The whole job", *_work(job, _together(plan)), ""]
    lines += _withheld(plan)
    lines += _wrapped(f"note: {note}" for note in notes(plan))
    lines += _wrapped(
        f"caution: {c.text}" for c in cautions(plan) if c.id.startswith(_AT_THE_HOLES)
    )
    if two_people(plan):
        lines.append("Two people hang it.")
    if job.open_items:
        lines += ["", "Open items:", *(f"  {o.path}: {o.costs}" for o in job.open_items)]
    lines += ["", f"{len(job.assumed)} values were assumed; `--json` and the packet list them."]
    lines += ["Not computed yet:", *_wrapped(f"{what} ({why})" for what, why in _grouped(plan))]
    return "\n".join(_told(plan, lines)) + "\n"


def _told(plan: Plan, lines: Iterable[str]) -> list[str]:
    """Lines of the terminal in the English of the job, one word for a thing as on its sheets."""
    say = Say.of(plan.job.meta, own_names(plan))
    return [say.text(line) for line in lines]


def notes(plan: Plan) -> tuple[str, ...]:
    """Return what the survey, the lay-out and the core have to say about every shelf, once each."""
    say = Say.of(plan.job.meta, own_names(plan))
    said = [
        text
        for design in plan.designs
        for held in (held_walls(plan, design),)
        for text in (
            *(told_below(again_text(r.text, r.slip, say), plan) for r in design.room.retake),
            *_lock(design, say),
            *open_notes(map(say.text, site.told(design, plan.job.meta.order)), design, held),
            *bounds.narrow(plan, design),
            *_lies(plan, design),
            *(told_below(n, plan) for n in open_notes(design.frame.notes, design, held)),
            *open_notes(_thin(plan.job, design), design, held),
            *(told_below(n, plan) for n in core_notes(design, held)),
        )
    ]
    return tuple(dict.fromkeys(said))


def _lock(design: Design, say: Say) -> tuple[str, ...]:
    """Why nothing keeps a shelf from coming off its rods; its figures alone name no lock."""
    reasons = (
        c.reason
        for c in design.holds.checks
        if c.family == "hold.pull" and c.state == "fails" and c.scope == "in" and c.reason
    )
    why = next(reasons, "")
    return (f"Shelf {design.spec.title}: {say.sizes(say.text(why))}.",) if why else ()


def _lies(plan: Plan, design: Design) -> tuple[str, ...]:
    """How a shelf lies that is turned off its strings, or whose strings stand too far askew to follow."""
    placed = design.placed
    if placed is None or not (placed.turn or placed.askew):
        return ()
    return cuts.lies(design, Say.of(plan.job.meta))


def _thin(job: Job, design: Design) -> list[str]:
    marks = {rod.id: rod.mark for rod in design.frame.rods}
    return [
        f"Only {show_length(thin.left, job.meta.units, to=16, mark=True)} of wood and edging is left in front "
        f"of the slot of rod {marks[thin.rod]}."
        for thin in (design.way.thin if design.way else ())
    ]


def _grouped(plan: Plan) -> list[tuple[str, str]]:
    """Group what is not computed by its reason, then like reasons of one thing, so that it reads at a glance."""
    by_why: dict[str, list[str]] = {}
    for what, why in plan.not_computed:
        by_why.setdefault(told_below(why, plan), []).append(what)
    by_what: dict[str, list[str]] = {}
    for why, whats in by_why.items():
        by_what.setdefault(", ".join(whats), []).append(why)
    return [
        (what, whys[0] if len(whys) == 1 else f"{whys[0]}; and {len(whys) - 1} more like it")
        for what, whys in by_what.items()
    ]


def _wrapped(items: Iterable[str]) -> list[str]:
    import textwrap

    return [textwrap.fill(i, 96, initial_indent="  ", subsequent_indent="    ") for i in items]


def _shelf(
    plan: Plan, design: Design, held: Held, spread: Spread | None, *, alone: bool
) -> list[str]:
    job, holds = plan.job, design.holds
    head = f"Shelf {design.spec.title}: {holds.verdict if design.way else 'fails'}"
    lines = [head, f"  {Say.of(job.meta).word('rods'):<13}{_rods(plan, design)}"]
    lines += [*_drop(job, design), *_way(job, design, held)]
    lines.append(f"  weight       {Say.of(job.meta).mass(design.bill.mass)} without rods")
    lines += _work(job, design.bill) if alone else []
    lines += [*_limit(plan, design), *_sure(job, spread), *_others(job, design)]
    if holds.checks:
        lines += ["", *_table(job, design, held), *_not_ok(plan, design, held)]
    return lines


def _rods(plan: Plan, design: Design) -> str:
    """Whether it is worked out with its rods as drawn or as set, and what the readings come to."""
    job = plan.job
    found = site.as_set(design, job.meta.order)
    if found is None:
        if not design.read:
            return "as drawn"
        return f"as drawn; {len(design.read)} of {len(design.frame.rods)} are read"
    asked = ", if what is in the wall is what the job says"
    only = asked if bonded.taken(plan, design) else ""
    return f"{Say.of(job.meta).word('as set')}: {found.go}{only}; `site` says how they stand"


def _together(plan: Plan) -> Bill | str:
    """The bill of all shelves and sections together: what comes once for a job is in it once."""
    found = in_shop(plan.job, plan.designs, plan.cutting.counted if plan.cutting else None)
    if isinstance(found, str):
        return found
    return bill_of(found.work, sum(design.bill.mass for design in plan.designs))


def _work(job: Job, bill: Bill | str) -> list[str]:
    if isinstance(bill, str):
        return [f"  work         {bill}"]
    return [
        f"  work         about {math.ceil(bill.hours)} hours hands-on",
        f"  price        {_price(job, bill)}",
    ]


def _price(job: Job, bill: Bill) -> str:
    prices = job.shop.prices
    if bill.price is None or prices is None:
        return "none given: " + (
            f"no price for {', '.join(bill.missing)}" if prices else "no price file is named"
        )
    marked = ", from placeholder prices" if bill.placeholders else ""
    return f"{prices.currency} {bill.price:,.0f}{marked}"


def _limit(plan: Plan, design: Design) -> list[str]:
    say, limit, why = Say.of(plan.job.meta), design.holds.load_limit, limits.why_none(design)
    lines = [f"  load limit   none given: {say.sizes(say.text(why))}"] if why else []
    if isinstance(limit, LoadLimit):
        at = f" at {mark_of(design, limit.place.member)}" if limit.place else ""
        stops = f"stops at: {limit.title.lower()}{at}; {limit.case}"
        begin = "               as drawn it would carry" if why else "  load limit  "
        more = limits.heavier(design, limit, say)
        lines += [f"{begin} {limits.said(limit, say).all}", f"               {stops}"]
        lines += [f"               {more}"] if more else []
        lines.append(f"               {limits.leaves_out(limit)}")
        found = plan.spread(design.spec.id)
        unsure = say.text(say.sizes(limits.unsure(limit, found))) if found is not None else ""
        lines += [f"               {unsure}"] if unsure else []
    return lines


def _sure(job: Job, spread: Spread | None) -> list[str]:
    """Best, likely and worst, and what is worth measuring."""
    if spread is None:
        return []
    first, *more = sure.lines(spread, Say.of(job.meta))
    return [f"  how sure     {first}", *(f"               {line}" for line in more)]


def _others(job: Job, design: Design) -> list[str]:
    say = Say.of(job.meta)
    return [
        f"  {f'{rival.name}:':<20} {rival.first} first, {others.reached(rival, say)}"
        for rival in design.holds.rivals
    ]


def _drop(job: Job, design: Design) -> list[str]:
    drop = design.holds.drop
    if drop is None:
        return ["  front drop   cannot say"]
    say = Say.of(job.meta)
    now, later = drop.today, drop.long_term
    first, last = (say.drop_in(each.value, each.limit) for each in (now, later))
    return [
        (
            f"  front drop   {first[0]} on day one (limit {first[1]}), "
            f"{last[0]} in ten years (limit {last[1]}), at {mark_of(design, now.at)}"
        ),
        (
            f"  hang tilt    {say.drop(drop.hang_tilt)} at the front from the play in the slots; "
            f"shim {say.thickness(drop.shim)}"
        ),
    ]


def _way(job: Job, design: Design, held: Held) -> list[str]:
    hidden = held_marks(design, held)
    if design.way is None:
        lines = ["  fitting      NO WAY ON"]
        for way in design.ways.ways:
            lines += [
                f"    {titled(way_name(design, way.id))}: "
                + " ".join(stops(b, Say.of(job.meta), hidden) for b in way.blocked)
            ]
        return lines
    moves = "; ".join(_move(job, move) for move in design.way.moves)
    return ["  fitting      " + moves]


def _move(job: Job, move: Move) -> str:
    far = Say.of(job.meta).some(math.hypot(move.dx, move.dy))
    return f"{far} {move.note}"


def _worst(checks: Iterable[Check]) -> list[Check]:
    """The governing row of each family, worst first; the rest is in --json and the packet."""
    worst: dict[str, Check] = {}
    for check in checks:
        if check.family not in worst or check.ratio > worst[check.family].ratio:
            worst[check.family] = check
    return sorted(worst.values(), key=lambda c: -c.ratio)


def _not_ok(plan: Plan, design: Design, held: Held) -> list[str]:
    """What each row that fails or cannot be said is about, and why, in words: the table has codes."""
    rows = [c for c in design.holds.checks if not c.information and c.state != "passes"]
    told: dict[str, list[str]] = {}
    for check in _worst(rows):
        over = _over(check) if check.state == "fails" else ""
        # Why a row is at the edge of its source is no reason for its failing.
        edge = check.state == "fails" and check.scope == "stretched"
        why = told_below(check.reason, plan) if worked(check, held) and not edge else ""
        waits = check.reason.endswith(OPEN)
        head = "waits" if waits else "fails" if check.state == "fails" else "cannot say"
        why = why.removesuffix(f": {OPEN}") if waits else why
        line = f"{check.family}: {check.title.lower()}{over}{f'; {why}' if why else ''}"
        told.setdefault(head, []).append(line)
    return [
        line
        for head, title in NOT_OK.items()
        if head in told
        for line in ("", f"  {title}", *_wrapped(told[head]))
    ]


def _over(check: Check) -> str:
    """By how much a row is over, in words; a shelf stands firm on its rods or does not."""
    if check.family == "stab.contact":
        return ""
    if check.ratio > FAR_OVER:
        return f", over {FAR_OVER} times what it can take"
    return f", {ratio(check.ratio)} times what it can take"


def _table(job: Job, design: Design, held: Held) -> list[str]:
    say = Say.of(job.meta)
    rows = [("check", "asks", "can take", "ratio", "", "scope")]
    for check in _worst(design.holds.checks):
        state = "info" if check.information else MARK[check.state]
        shown = sized(check, held)
        asks, takes = _amounts(check, say) if shown else ("withheld", "withheld")
        rows.append((_named(check, design), asks, takes, ratio(check.ratio), state, check.scope))
    return _columns(rows)


def _amounts(check: Check, say: Say) -> tuple[str, str]:
    if check.unit == "mm":
        return say.drop_in(check.demand, check.capacity)
    return say.asked(check.demand, check.unit), say.taken(check.capacity, check.unit)


def _named(check: Check, design: Design) -> str:
    """A family with the mark of the rod it is about, as people know it."""
    return f"{check.family} {mark_of(design, check.place.member)}" if check.place else check.family


def _withheld(plan: Plan) -> list[str]:
    lines: list[str] = []
    for shelf, wall, leave in plan.leave:
        if isinstance(leave, Withheld):
            lines.append(
                f"Wall {plan.job.tapes.called(wall)}, shelf {shelf}, may not be drilled yet:"
            )
            lines += [f"  - {question}" for question in leave.questions]
    return lines


def fit_text(plan: Plan, memo: Memo) -> str:
    """Return the answer of `fit` for people: every way with its moves, then what each costs side by side."""
    job = plan.job
    lines: list[str] = []
    for design in plan.designs:
        title = "NO WAY ON" if design.way is None else f"goes on, {way_name(design, design.way.id)}"
        lines.append(f"Shelf {design.spec.title}: {title}")
        lines.append(f"  rods {_rods(plan, design)}")
        if own := glued_in.marks(design):
            lines += _wrapped(
                [
                    f"glued onto {listed(own)} for good: tried dry by these moves, then glued by them; no way back off"
                ]
            )
        held = held_walls(plan, design)
        hidden = held_marks(design, held)
        for way in design.ways.ways:
            name = titled(way_name(design, way.id))
            lines += _alternative(job, way, name, hidden, chosen=way.id == design.ways.chosen)
        lines += [*_opens(plan, design, memo), *_costs(plan, design, memo), ""]
    return "\n".join(_told(plan, lines))


def _costs(plan: Plan, design: Design, memo: Memo) -> list[str]:
    """What each way that goes costs, side by side, and each other way to make the shelf; then what does not go."""
    job, held, say = plan.job, held_walls(plan, design), Say.of(plan.job.meta)
    ways = {way.id: way for way in design.ways.ways}
    others = options(job, design, memo)
    rows = [
        _cost(
            job,
            titled(way_name(design, row.way)),
            ways[row.way].loss.channel_area,
            None if held else row.longest_span,
            row.ribs_cut,
            _area(ways[row.way].room_needed),
            row.drop,
        )
        for row in alternatives(job, design, memo)
    ] + [
        _cost(
            job,
            titled(option_name(each, say)),
            each.channel_area,
            None if held else each.longest_span,
            each.ribs_cut or 0,
            each.room_area,
            each.drop,
        )
        for each in others
        if each.possible
    ]
    head = (
        "way",
        f"cut for {say.word('rods')}",
        "longest skin span",
        "ribs cut",
        "free room",
        "drop, day one",
        "in ten years",
    )
    told = [
        "; ".join(
            (
                f"{titled(option_name(each, say))}: {opens.option_text(job, design, each, held)}",
                "goes on" if each.possible else told_below(why_not(each), plan),
                *(end_text(job, end) for end in each.ends),
            )
        )
        for each in others
    ]
    return [
        *(["", *_columns([head, *rows])] if rows else []),
        *(_wrapped([apart]) if rows and (apart := counted_apart(plan, design)) else []),
        *(["", *_wrapped(told)] if told else []),
    ]


def _cost(
    job: Job, name: str, cut: float, span: float | None, ribs: int, room: float, drop: Drop | None
) -> tuple[str, ...]:
    unit = job.meta.units
    drops = (drop.today.value, drop.long_term.value) if drop else (None, None)
    return (
        name,
        show_area(cut, unit),
        "withheld" if span is None else Say.of(job.meta).length(span),
        str(ribs),
        show_area(room, unit),
        *("cannot say" if d is None else Say.of(job.meta).drop(d) for d in drops),
    )


def _area(ring: Ring) -> float:
    return abs(plane.area(ring)) if ring else 0.0


def why_not(option: Option) -> str:
    """Return in words why another way to make a shelf does not go; empty if it goes."""
    if option.refused:
        return " ".join(option.refused)
    stuck = [d for d in option.designs if d.way is None]
    words = []
    for design in stuck:
        block = next((b for way in design.ways.ways for b in way.blocked), None)
        part = f"section {design.spec.section.number}: " if design.spec.section else ""
        words.append(f"{part}no way on" + (f", {block.by} is in the way" if block else ""))
    return "; ".join(words)


def end_text(job: Job, end: EndFit) -> str:
    """Return how an end of a shelf meets the wall beside it, as "left end 3.8 mm off wall cheek at the back"."""
    back, front = (show_length(x, job.meta.units, to=32, mark=True) for x in (end.back, end.front))
    wall = job.tapes.called(end.beside)
    if end.how == "tight":
        return f"{end.side} end scribed to wall {wall}, {back} off"
    how = "off" if end.how == "caulk" else "of filler strip against"
    return f"{end.side} end {back} {how} wall {wall} at the back, {front} at the front"


def _columns(table: Sequence[Sequence[str]]) -> list[str]:
    widths = [max(len(row[k]) for row in table) for k in range(len(table[0]))]
    return [
        "  "
        + "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in table
    ]


def _opens(plan: Plan, design: Design, memo: Memo) -> list[str]:
    import textwrap

    told = opens.openings_told(plan, design, memo)
    if not told or told == (opens.NOTHING,):
        return [f"  {line}" for line in told]
    lines = [
        textwrap.fill(line, 96, initial_indent="    - ", subsequent_indent="      ")
        for line in told[:-1]
    ]
    return [f"  {opens.HEAD}:", *lines, f"  {told[-1]}"]


def _alternative(
    job: Job, way: Way, name: str, hidden: frozenset[str], *, chosen: bool
) -> list[str]:
    say = Say.of(job.meta)
    said = f"  {name}{' (chosen)' if chosen else ''}: {'goes on' if way.possible else 'blocked'}"
    lines = [
        (
            f"{said}; widest channel {say.length(way.loss.widest)}, "
            f"hold-off {say.length(way.hold_off)}"
        )
    ]
    lines += [f"    {number}. {_move(job, move)}" for number, move in enumerate(way.moves, start=1)]
    lines += [f"    {eased_told(each, say)}" for each in way.eased]
    return lines + [f"    blocked: {stops(block, say, hidden)}" for block in way.blocked]


def findings_text(findings: Sequence[Finding]) -> str:
    """Return every finding as a person reads it: place, value, what is wrong, what would be right."""
    lines: list[str] = []
    for f in findings:
        place = f.file if f.line is None else f"{f.file}, line {f.line}"
        lines.append(f"{place}: " + " = ".join(part for part in (f.path, f.value) if part))
        ask = {"refuse": "wrong", "question": "is this meant?", "note": "note"}[f.level]
        lines.append(f"  {ask}: {f.wrong}")
        if f.right:
            lines.append(f"  right: {f.right}")
    return "\n".join(lines) + "\n"
