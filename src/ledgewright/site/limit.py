"""What the owner may be told: the least of the statics, the rods as set, and the load test less a quarter."""

from __future__ import annotations

from dataclasses import dataclass

from ledgewright.job import Job
from ledgewright.judge import Design
from ledgewright.site.as_set import as_set
from ledgewright.site.load_test import HOTTEST, ReadBack
from ledgewright.statics import LoadLimit, NoLimit

DOUBT = "ranges of doubt are not computed yet; they can only lower it"


@dataclass(frozen=True)
class Limit:
    """A load limit, true together: on every length (N/mm), one thing (kg), in all (kg), and what gave each.

    open: what is not in yet, each of which can only lower it. label: whether it may stand on the shelf.
    """

    even: float
    single: float
    total: float
    by: tuple[str, str, str]
    open: tuple[str, ...]

    @property
    def label(self) -> bool:
        """Whether nothing but the ranges of doubt is still to come."""
        return all(each == DOUBT for each in self.open)


def limit(job: Job, design: Design, test: ReadBack | None) -> Limit | NoLimit:
    """Return the least of all limits there are; none where one of them says that nothing may be put on.

    Args:
        job: its site and building order.
        design: the section with the limit of its statics, as set where its rods are read.
        test: its load test, as read.
    """
    of_statics = design.holds.load_limit
    if job.site.heat is not None and job.site.heat > HOTTEST:
        return NoLimit("it gets hotter than 50 C at its rods, where glue softens")
    if of_statics is None:
        return NoLimit("its statics gives none")
    if isinstance(of_statics, NoLimit):
        return of_statics
    if design.way is None or design.holds.verdict == "fails":
        return NoLimit("it does not hold")
    stands = as_set(design, job.meta.order)
    if stands is not None and stands.go == "no go":
        return NoLimit("the rods as set do not let it be hung")
    if test is not None and not test.passed:
        return NoLimit(f"the load test speaks against it: {test.why[0]}")
    return _least(
        of_statics, test, "rods as set" if stands is not None else "statics", stands is None
    )


def _least(of: LoadLimit, test: ReadBack | None, name: str, drawn: bool) -> Limit:
    rows = [((of.even, of.single, of.total), name)]
    if test is not None:
        rows.append(((test.even, test.single, test.total), "load test"))
    even, single, total = (min((row[k], by) for row, by in rows) for k in range(3))
    missing = [
        *(["the rods are not read as set"] if drawn else []),
        *(["no load test is read"] if test is None else []),
        DOUBT,
    ]
    return Limit(even[0], single[0], total[0], (even[1], single[1], total[1]), tuple(missing))
