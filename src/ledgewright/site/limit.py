"""What the owner may be told: the least of the statics as drawn, of the rods as set, of doubt and of the load test."""

from __future__ import annotations

from dataclasses import replace

from ledgewright.doubt import Carried, Least, NoSpread, Spread, floor
from ledgewright.job import Job
from ledgewright.judge import Design
from ledgewright.site.as_set import as_set
from ledgewright.site.load_test import ReadBack
from ledgewright.statics import HOTTEST, Check, LoadLimit, NoLimit

DOUBT = "doubt"
"""What is missing where no ranges were asked for, or none could be given."""


def limit(
    job: Job,
    design: Design,
    drawn: LoadLimit | NoLimit | None,
    test: ReadBack | None,
    spread: Spread | NoSpread | None = None,
) -> LoadLimit | NoLimit | None:
    """Return the least of all limits there are, with what is not in it; none where one of them forbids any load.

    What is missing never raises it: without readings of rods or of a test it stands, and says so, but not for a label.

    Args:
        job: its site and building order.
        design: the section with the limit of its statics, as set where its rods are read.
        drawn: the limit of its statics with the rods as drawn, where the design has them as set.
        test: its load test, as read.
        spread: how sure its answers are, where that was asked for.

    Returns:
        None where no limit was asked for.
    """
    mine = design.holds.load_limit
    if mine is None or isinstance(mine, NoLimit):
        return mine
    if job.site.heat is not None and job.site.heat > HOTTEST:
        return NoLimit("it gets hotter than 50 C at its rods, where glue softens")
    if test is not None and not test.passed:
        return NoLimit(f"the load test {test.against}")
    stands = as_set(design, job.meta.order)
    if stands is not None and stands.go == "no go":
        return NoLimit("the rods as set do not let it be hung")
    if isinstance(drawn, NoLimit):
        return NoLimit(f"with its rods as drawn there is none: {drawn.why}")
    carried = floor(spread)
    if carried is not None and carried.safe <= 0:
        return NoLimit(_too_little(carried, design))
    soft = [_as_doubted(each, carried, design) for each in (mine, drawn) if each and carried]
    rows = [mine, *([drawn] if drawn else []), *soft, *([_of(test)] if test else [])]
    missing = (
        *([DOUBT] if carried is None else []),
        *(["rods as set"] if stands is None else []),
        *(["a load test"] if test is None else []),
    )
    return replace(_least(rows), open=missing)


def _too_little(carried: Carried | Least, design: Design) -> str:
    """Why doubt leaves no limit, and what may bring one: contents are all gone then."""
    stop, at = _stop(carried, design)
    what = f": {stop.title.lower()}{at}, with nothing on it" if stop else ""
    return (
        f"with wood, glue, sheet and drilling as poor as they may be there is none{what}. What may bring one: make it "
        f"stronger{at or ' at its rods'} (thicker, deeper in the wood, another rod beside it; or leave out a rod that "
        "has little wood), or ask less of it (a lighter one thing: `single` of the shelf)"
    )


def _stop(carried: Carried | Least, design: Design) -> tuple[Check | None, str]:
    """The row that stops the weakest shelf, where one was looked for, and the rod where it does."""
    stop = carried.stop if isinstance(carried, Least) else None
    member = stop.place.member if stop and stop.place else ""
    marks = [rod.mark for rod in design.frame.rods if member in (rod.id, rod.member)]
    return stop, f" at {marks[0]}" if marks else ""


def _as_doubted(found: LoadLimit, carried: Carried | Least, design: Design) -> LoadLimit:
    """What 95 of 100 such shelves carry, as a share of the limit at the likely figures; the one thing stays whole."""
    share, sure = carried.share, "19 in 20 such shelves carry this much"
    if isinstance(carried, Least):
        stop, at = _stop(carried, design)
        what = f" ({stop.title.lower()}{at})" if stop else ""
        sure = (
            f"the weakest of {carried.draws} such shelves drawn by chance carries this much{what}"
        )
    return replace(
        found,
        even=share * found.even,
        total=found.total - (1 - share) * max(found.total - found.single, 0.0),
        case=f"{found.case}; {sure}",
    )


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
    """Say whether a limit may stand on a label: nothing is missing in it.

    Args:
        found: the limit.
    """
    return isinstance(found, LoadLimit) and found.open == ()
