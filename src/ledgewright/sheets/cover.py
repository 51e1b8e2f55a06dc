"""The cover: what it is, whether it holds, what is still open."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from ledgewright.doubt import NoSpread, Spread
from ledgewright.job import Order
from ledgewright.judge import Design
from ledgewright.plan import Plan
from ledgewright.sheets import bonded, letters, limits
from ledgewright.sheets.assumed import open_items
from ledgewright.sheets.cautions import needs_two
from ledgewright.sheets.leaves import mark_of, walls_named
from ledgewright.sheets.model import Cover, Figure, Picture, ShelfFigures
from ledgewright.sheets.plainly import told_below
from ledgewright.sheets.say import Say, ratio
from ledgewright.site import ReadBack, Withheld
from ledgewright.statics import Check, DropAt, LoadLimit, State

VERDICT: dict[State, str] = {
    "passes": "It holds",
    "fails": "It does not hold",
    "cannot say": "Cannot say yet",
}
_PLAIN: dict[State, str] = {
    "passes": "Every required check is made and passes, within what its source covers.",
    "fails": "At least one check asks more than the shelf, the {rods} or the wall can take. Do not build it like this.",
    "cannot say": "Not every required check can be made yet, so nobody may rely on this shelf. "
    "No check that is missing counts as passed.",
}

_PROOF = "A load test speaks against it, whatever was worked out. Take the weights off, and let nobody load it."
_ON_A_LETTER = "Every required check is made and passes; what goes beyond its source passes on an engineer's word."
_NO_LIMIT: dict[State, str] = {
    "fails": "because the shelf does not hold",
    "cannot say": "because a required check is missing",
}

WORKED = ": see the calculations"
"""Said of reasons that the cover has no room for; taken off where the calculations are not in the bundle."""


def cover(plan: Plan, picture: Picture | None, has: frozenset[str]) -> Cover:
    """Return the cover of a plan.

    Args:
        plan: the whole job.
        picture: the plan drawing, small.
        has: the letters the typeface can draw.
    """
    meta, say = plan.job.meta, Say.of(plan.job.meta)
    return Cover(
        title="Job packet",
        about="",
        unit=say.unit,
        name=meta.name,
        place=meta.place,
        client=meta.client,
        verdict=VERDICT[plan.verdict],
        plain=_plain(plan, say),
        why=why(plan),
        picture=picture,
        shelves=tuple(shelf_figures(d, say, plan.spread(d.spec.id)) for d in plan.designs),
        facts=_facts(plan, say),
        open_items=open_items(plan),
        cautions=_cautions(plan, say),
        letters=_lettering(plan, has),
    )


def _plain(plan: Plan, say: Say) -> str:
    rows = [row for design in plan.designs for row in design.holds.checks]
    if plan.verdict == "passes" and any(row.scope == "stretched" for row in rows):
        return _ON_A_LETTER
    if any(isinstance(read, ReadBack) and read.why for _, _, read in plan.tests):
        return _PROOF
    return _PLAIN[plan.verdict].format(rods=say.word("rods"))


def why(plan: Plan) -> tuple[str, ...]:
    """Return the reasons for the verdict in plain words, failed checks first, at most five."""
    said: list[str] = []
    for design in plan.designs:
        _, read = plan.test(design.spec.id)
        if isinstance(read, ReadBack) and read.why:
            said.append(
                f"{_of(plan, design)}the load test did not pass: {told_below(read.why[0], plan)}"
            )
        said += [f"{_of(plan, design)}{told_below(reason, plan)}" for reason in _reasons(design)]
    unique = list(dict.fromkeys(_sentence(s) for s in said))
    rest = len(unique) - 5
    more = (f"And {rest} more{WORKED}.",) if rest > 0 else ()
    return (*unique[:5], *more)


def _reasons(design: Design) -> Iterator[str]:
    worst: dict[str, Check] = {}
    failed = [c for c in design.holds.checks if c.state == "fails" and not c.information]
    for check in sorted(failed, key=lambda c: -c.ratio):
        worst.setdefault(check.family, check)
    for check in worst.values():
        at = f" at {mark_of(design, check.place.member)}" if check.place else ""
        if check.family == "stab.contact":
            yield f"It does not sit firm on its rods: {check.reason}"
            continue
        yield f"{check.title}{at}: asked for {ratio(check.ratio)} times what it can take"
    if design.way is None:
        yield "no way was found to get it onto its rods"
    told = {c.title: c.reason for c in design.holds.checks if c.state == "cannot say"}
    yield from (f"{title}: {reason}" for title, reason in told.items())
    missing = {m.family: m.why for m in design.holds.cannot_say}
    by_reason = Counter(missing.values())
    for reason, count in by_reason.items():
        yield f"{count} required checks: {reason}" if count > 1 else reason


def people(design: Design) -> str:
    """Return how many people hang a shelf, in words."""
    return "Two people" if needs_two(design) else "One person"


def shelf_figures(
    design: Design, say: Say, spread: Spread | NoSpread | None = None
) -> ShelfFigures:
    """Return the figures of one shelf as the cover shows them.

    Args:
        design: the shelf.
        say: how the job writes.
        spread: how sure its answers are, or why that cannot be said; None where it was not asked for.
    """
    drop = design.holds.drop
    today, first = _may(drop.today if drop else None, say)
    later, last = _may(drop.long_term if drop else None, say)
    return ShelfFigures(
        shelf=design.spec.title,
        verdict=VERDICT[design.holds.verdict],
        figures=(
            Figure("Front drop, day one", today, first),
            Figure("Front drop, ten years", later, last),
            _limit(design, say, spread),
            Figure("Weight", say.mass(design.bill.mass), people(design) + " to hang it"),
        ),
    )


def _limit(design: Design, say: Say, spread: Spread | NoSpread | None) -> Figure:
    """The limit of the statics alone is no label: the cover says so beside it."""
    limit, why = design.holds.load_limit, limits.why_none(design)
    if why or not isinstance(limit, LoadLimit):
        reason = _NO_LIMIT.get(design.holds.verdict) or say.text(say.sizes(why))
        return Figure(say.word("Limit"), "None given", reason)
    texts = limits.said(limit, say)
    unsure = limits.unsure(limit, spread) if spread is not None else ""
    told = (limits.heavier(design, limit, say), limits.leaves_out(limit), unsure.rstrip("."))
    more = "; ".join(
        filter(None, (f"{texts.total} in all, no one thing over {texts.single}", *told))
    )
    return Figure(say.word("Limit"), texts.even, say.text(more))


def _may(drop: DropAt | None, say: Say) -> tuple[str, str]:
    if drop is None:
        return "Cannot say", ""
    value, limit = say.drop_in(drop.value, drop.limit)
    return value, f"limit {limit}"


def _facts(plan: Plan, say: Say) -> tuple[Figure, ...]:
    order = plan.job.meta.order
    held = [w for _, w, leave in plan.leave if isinstance(leave, Withheld)]
    return (
        Figure("Building order", _ordered(order, say), _rods(plan, say)),
        _drilling(plan, held),
        Figure("Open items", *_counted(len(open_items(plan)), "listed below")),
        Figure("Assumed values", *_counted(len(plan.job.assumed), "listed near the end")),
    )


def _rods(plan: Plan, say: Say) -> str:
    """What the building order asks, or that it is worked out with the rods as they were read."""
    if plan.designs and all(design.drawn for design in plan.designs):
        return f"worked out with the {say.word('rods')} {say.word('as set')}"
    return _ORDER[plan.job.meta.order].format(rods=say.word("rods"))


_ORDER: dict[Order, str] = {
    "rods first": "the core is not cut until the {rods} are set and read",
    "shelf first": "the wall is marked from a jig made off the core",
    "both from the drawing": "only if the clearance covers the drilling error",
}


def _ordered(order: Order, say: Say) -> str:
    text = say.word("rods first") if order == "rods first" else order
    return text[:1].upper() + text[1:]


def _drilling(plan: Plan, held: list[str]) -> Figure:
    if held:
        return Figure("Drilling", "Withheld", walls_named(map(plan.job.tapes.called, held)))
    if plan.verdict != "passes":
        return Figure("Drilling", "Not yet", "walls are confirmed; whether it holds is not")
    return Figure("Drilling", "Confirmed", "every wall that is drilled")


def _counted(count: int, where: str) -> tuple[str, str]:
    return (str(count), where) if count else ("None", "")


def _cautions(plan: Plan, say: Say) -> tuple[str, ...]:
    declined = [d.shelf for d in plan.job.demands if d.accident_declined]
    extra = (f"Someone leaning or climbing was left out for: {', '.join(declined)}.",)
    little = [d.shelf for d in plan.job.demands if d.leans_little]
    less = (
        f"Someone leaning or climbing is counted with less than usual for: {', '.join(little)}.",
    )
    words = {s.accepted.said for s in plan.job.shelves if s.accepted is not None}
    letter = (f"Some checks pass on an engineer's letter alone: {', '.join(sorted(words))}.",)
    return (
        *(extra if declined else ()),
        *(less if little else ()),
        *(letter if words else ()),
        *(f"{_of(plan, d)}{asked}" for d in plan.designs for asked in bonded.taken(plan, d)),
        "Someone can be hurt if this comes off the wall. It is not a step, a seat or a handhold.",
        f"The local code and {say.word('licensed')} have the last word. Read the cautions page.",
    )


def _lettering(plan: Plan, has: frozenset[str]) -> tuple[str, ...]:
    meta = plan.job.meta
    notes = []
    for what, text in (("name", meta.name), ("place", meta.place), ("client", meta.client)):
        lacking = letters.sound(text, has).lacking
        if lacking:
            named = " and ".join(f"{n} {script}" for script, n in lacking)
            notes.append(
                f"The {what} has letters this packet's typeface lacks ({named}); "
                "they are shown by their script in brackets. The job file keeps them as written."
            )
    return tuple(notes)


def _of(plan: Plan, design: Design) -> str:
    return f"{design.spec.title}: " if len(plan.designs) > 1 else ""


def _sentence(text: str) -> str:
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "!", "?")) else text + "."
