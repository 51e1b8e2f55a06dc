"""What the owner may be told: the least of the statics as drawn, of the rods as set, and of the load test."""

from __future__ import annotations

from dataclasses import replace

from ledgewright.job import Job
from ledgewright.judge import Design
from ledgewright.site.as_set import as_set
from ledgewright.site.load_test import HOTTEST, ReadBack
from ledgewright.statics import LoadLimit, NoLimit

DOUBT = "doubt"
"""The one thing that may still be missing on a label: ranges are not computed yet, and can only lower a limit."""


def limit(
    job: Job, design: Design, drawn: LoadLimit | NoLimit | None, test: ReadBack | None
) -> LoadLimit | NoLimit | None:
    """Return the least of all limits there are, with what is not in it; none where one of them forbids any load.

    What is missing never raises it: without readings of rods or of a test it stands, and says so, but not for a label.

    Args:
        job: its site and building order.
        design: the section with the limit of its statics, as set where its rods are read.
        drawn: the limit of its statics with the rods as drawn, where the design has them as set.
        test: its load test, as read.

    Returns:
        None where no limit was asked for.
    """
    mine = design.holds.load_limit
    if mine is None or isinstance(mine, NoLimit):
        return mine
    if job.site.heat is not None and job.site.heat > HOTTEST:
        return NoLimit("it gets hotter than 50 C at its rods, where glue softens")
    if test is not None and not test.passed:
        return NoLimit(f"the load test speaks against it: {test.why[0]}")
    stands = as_set(design, job.meta.order)
    if stands is not None and stands.go == "no go":
        return NoLimit("the rods as set do not let it be hung")
    if isinstance(drawn, NoLimit):
        return NoLimit(f"with its rods as drawn there is none: {drawn.why}")
    rows = [mine, *([drawn] if drawn else []), *([_of(test)] if test else [])]
    missing = (
        DOUBT,
        *(["rods as set"] if stands is None else []),
        *(["a load test"] if test is None else []),
    )
    return replace(_least(rows), open=missing)


def _of(test: ReadBack) -> LoadLimit:
    """What a test allows."""
    return LoadLimit(
        even=test.even,
        single=test.single,
        total=test.total,
        limited_by="load test",
        title="Load test, divided by 1.25",
        place=None,
        case=f"{test.most:.0f} kg for {test.held:.0f} h",
    )


def _least(rows: list[LoadLimit]) -> LoadLimit:
    """The least of each figure; what stops it is what stops the least of what may stand on every length."""
    first = min(rows, key=lambda row: row.even)
    return replace(
        first,
        even=min(row.even for row in rows),
        single=min(row.single for row in rows),
        total=min(row.total for row in rows),
        beside=rows[0].beside,
    )


def for_label(found: LoadLimit | NoLimit | None) -> bool:
    """Say whether a limit may stand on a label: nothing but the ranges of doubt is missing in it.

    Args:
        found: the limit.
    """
    return isinstance(found, LoadLimit) and set(found.open) <= {DOUBT} and found.open != ()
