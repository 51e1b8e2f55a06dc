"""What the whole job rests on without being told."""

from __future__ import annotations

from collections.abc import Iterator

from ledgewright.plan import Plan
from ledgewright.sheets.model import AssumedSheet, Table
from ledgewright.sheets.say import Say


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
            heads=("Where in the job file", "Taken as", "Why"),
            widths=(55, 40, 80),
            figures=(),
            rows=tuple((a.path, a.value, f"{a.why} ({a.source})") for a in job.assumed),
        ),
        open_items=open_items(plan),
        not_computed=tuple(f"{what}: {why}." for what, why in _whole_job(plan)),
    )


def open_items(plan: Plan) -> tuple[str, ...]:
    """Return what is still open, each once: answers missing and figures to take again."""
    again = [r.text for d in plan.designs for r in d.room.retake]
    return tuple(dict.fromkeys([*(f"{i.path}: {i.costs}" for i in plan.job.open_items), *again]))


def _whole_job(plan: Plan) -> Iterator[tuple[str, str]]:
    """What the whole job lacks, less what is said shelf by shelf in the calculations."""
    said = {(m.family, m.why) for d in plan.designs for m in d.holds.cannot_say}
    for what, why in plan.not_computed:
        if (what.rsplit(": ", maxsplit=1)[-1], why) not in said:
            yield what, why
