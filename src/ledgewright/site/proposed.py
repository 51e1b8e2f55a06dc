"""What a load test loads at once, and what is put on."""

from __future__ import annotations

from dataclasses import dataclass

from ledgewright import judge, statics
from ledgewright.job import Job
from ledgewright.judge import Design
from ledgewright.memo import Memo
from ledgewright.statics import HOTTEST, NoTest, Proof, Tried

TOO_HOT = "it gets hotter than 50 C at its rods, where glue softens: no test on a cool day tells what it carries then"


@dataclass(frozen=True)
class Group:
    """What a load test loads at once: sections of one shelf, and shelves on the same studs or blocks.

    beside: of each, the numbers of those it shares studs or blocks with.
    """

    designs: tuple[Design, ...]
    beside: tuple[tuple[int, ...], ...]

    @classmethod
    def of_one(cls, design: Design) -> Group:
        """Return a shelf that hangs by itself."""
        return cls((design,), ((),))


def plan_test(job: Job, design: Design, memo: Memo) -> Proof | NoTest:
    """Return the load test of a shelf that hangs by itself. Arguments as of `plan_tests`."""
    return plan_tests(job, Group.of_one(design), memo)[0]


def plan_tests(job: Job, group: Group, memo: Memo) -> tuple[Proof | NoTest, ...]:
    """Return the load test of all that is loaded at once, one for each, or why none is proposed.

    Args:
        job: its site and its basis.
        group: as judged.
        memo: kept by the caller.
    """
    none = no_test(job, group)
    found = none or on_models(job, group, memo)
    if isinstance(found, NoTest):
        return (found,) * len(group.designs)
    to = statics.ROUND[job.meta.units]
    key = (to, *((each.given, each.beside) for each in found))
    made = memo.get("load tests", key, lambda: statics.proofs(found, to, memo))
    return (made,) * len(group.designs) if isinstance(made, NoTest) else made


def on_models(job: Job, group: Group, memo: Memo) -> tuple[Tried, ...] | NoTest:
    """Return all that is loaded at once on its section models, or why it cannot be said.

    Args:
        job: its site and its basis.
        group: as judged.
        memo: kept by the caller.
    """
    made = []
    for design, beside in zip(group.designs, group.beside, strict=True):
        found = judge.on_model(job, design, memo)
        if isinstance(found, NoTest):
            return found
        made.append(Tried(*found, beside))
    return tuple(made)


def no_test(job: Job, group: Group) -> NoTest | None:
    """Return why no load test is proposed, as far as that is plain before one is worked out; else None.

    Args:
        job: its site.
        group: what would be loaded at once, as judged.
    """
    if job.site.heat is not None and job.site.heat > HOTTEST:
        return NoTest(TOO_HOT)
    for design in group.designs:
        if design.way is None or design.holds.verdict != "passes":
            what = "it" if len(group.designs) == 1 else design.spec.title
            return NoTest(f"{what} is not shown to hold: nothing is put on it")
    return None
