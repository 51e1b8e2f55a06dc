"""What the whole job rests on without being told."""

from __future__ import annotations

from collections.abc import Iterator

from ledgewright.plan import Plan
from ledgewright.sheets.model import AssumedSheet, Table
from ledgewright.sheets.plainly import family_title, plain_place, told_below
from ledgewright.sheets.say import Say
from ledgewright.sheets.shop_answer import troubles
from ledgewright.sheets.shopside import side
from ledgewright.site import Withheld

IN_SHOP = "shop: "
"""How a line begins of what the shop has to settle for itself."""


def assumed_sheet(plan: Plan) -> AssumedSheet:
    """Return every assumed value, every open item, and what is not computed for any shelf.

    Args:
        plan: the whole job.
    """
    job, more = plan.job, _assumed_there(plan)
    return AssumedSheet(
        title="Assumed and open",
        about="what this packet rests on",
        unit=Say.of(job.meta).unit,
        assumed=Table(
            heads=("What", "Taken as", "Why"),
            widths=(55, 40, 80),
            figures=(),
            rows=(
                *(
                    (plain_place(a.path, job.tapes), a.value, f"{a.why} ({a.source})")
                    for a in job.assumed
                ),
                *more,
            ),
            paths=(*(a.path for a in job.assumed), *("" for _ in more)),
        ),
        open_items=Table(
            heads=("What", "What it costs not to know"),
            widths=(55, 120),
            figures=(),
            rows=tuple((plain_place(i.path, job.tapes), i.costs) for i in job.open_items),
            paths=tuple(i.path for i in job.open_items),
        ),
        again=(*_again(plan), *_withheld(plan), *_in_shop(plan)),
        not_computed=(
            *(f"{what}: {told_below(why, plan)}." for what, why in _whole_job(plan)),
            Say.of(job.meta).text(_NEVER),
        ),
    )


_NEVER = "a stud twisted, or bent about its weak axis, by a push along the wall: its lining must hold it."


def open_items(plan: Plan) -> tuple[str, ...]:
    """Return what is still open, each once, in plain words: answers missing and figures to take again."""
    missing = (f"{plain_place(i.path, plan.job.tapes)}: {i.costs}" for i in plan.job.open_items)
    shop = _in_shop(plan)
    count = "one thing" if len(shop) == 1 else f"{len(shop)} things"
    told = (f"{IN_SHOP}{count} cannot be done as planned, see its pages",) if shop else ()
    return tuple(dict.fromkeys([*missing, *_again(plan), *_withheld(plan), *told]))


def _in_shop(plan: Plan) -> tuple[str, ...]:
    """What the shop cannot do as planned: glue that goes off half way, clamps that are missing."""
    found = side(plan)
    return () if isinstance(found, str) else tuple(f"{IN_SHOP}{each}" for each in troubles(found))


def _assumed_there(plan: Plan) -> tuple[tuple[str, str, str], ...]:
    """A row for the figures that the calculations assume by themselves: how many, and where they stand."""
    lines = {
        (step.symbol, step.value, step.source)
        for design in plan.designs
        for check in design.holds.checks
        for step in check.steps
        if step.assumed
    }
    word = Say.of(plan.job.meta).word("Calculations").lower()
    there = (f"In the {word}", f"{len(lines)} figures", "each says so on its own line there")
    return (there,) if lines else ()


def _withheld(plan: Plan) -> tuple[str, ...]:
    """Walls that may not be drilled yet: what has to be answered stands on their cards."""
    walls = {wall for _, wall, leave in plan.leave if isinstance(leave, Withheld)}
    return tuple(
        f"wall {plan.job.tapes.called(wall)}: may not be drilled; its card asks what has to be found out first"
        for wall in sorted(walls)
    )


def _again(plan: Plan) -> tuple[str, ...]:
    return tuple(
        dict.fromkeys(told_below(r.text, plan) for d in plan.designs for r in d.room.retake)
    )


def _whole_job(plan: Plan) -> Iterator[tuple[str, str]]:
    """What the whole job lacks, less what is said shelf by shelf in the calculations."""
    said = {(m.family, m.why) for d in plan.designs for m in d.holds.cannot_say}
    for what, why in plan.not_computed:
        shelf, _, family = what.rpartition(": ")
        if (family, why) not in said:
            yield (f"{shelf}: " if shelf else "") + family_title(family), why
