"""What the whole job rests on without being told."""

from __future__ import annotations

from collections.abc import Iterator

from ledgewright.plan import Plan
from ledgewright.sheets.model import AssumedSheet, Table
from ledgewright.sheets.plainly import family_title, plain_place, told_below
from ledgewright.sheets.say import Say
from ledgewright.site import Withheld


def assumed_sheet(plan: Plan) -> AssumedSheet:
    """Return every assumed value, every open item, and what is not computed for any shelf.

    Args:
        plan: the whole job.
    """
    job = plan.job
    return AssumedSheet(
        title="Assumed and open",
        about="what this packet rests on",
        unit=Say.of(job.meta).unit,
        assumed=Table(
            heads=("What", "Taken as", "Why"),
            widths=(55, 40, 80),
            figures=(),
            rows=tuple(
                (plain_place(a.path), a.value, f"{a.why} ({a.source})") for a in job.assumed
            ),
            paths=tuple(a.path for a in job.assumed),
        ),
        open_items=Table(
            heads=("What", "What it costs not to know"),
            widths=(55, 120),
            figures=(),
            rows=tuple((plain_place(i.path), i.costs) for i in job.open_items),
            paths=tuple(i.path for i in job.open_items),
        ),
        again=(*_again(plan), *_withheld(plan)),
        not_computed=tuple(f"{what}: {told_below(why, plan)}." for what, why in _whole_job(plan)),
    )


def open_items(plan: Plan) -> tuple[str, ...]:
    """Return what is still open, each once, in plain words: answers missing and figures to take again."""
    missing = (f"{plain_place(i.path)}: {i.costs}" for i in plan.job.open_items)
    return tuple(dict.fromkeys([*missing, *_again(plan), *_withheld(plan)]))


def _withheld(plan: Plan) -> tuple[str, ...]:
    """Walls that may not be drilled yet: what has to be answered stands on their cards."""
    walls = {wall for _, wall, leave in plan.leave if isinstance(leave, Withheld)}
    return tuple(
        f"wall {wall}: may not be drilled; its card asks what has to be found out first"
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
