"""The shop's side of a job as the sheets need it: worked out once, with what may be told of its days."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ledgewright.judge import Design
from ledgewright.plan import Plan, in_shop
from ledgewright.sheets.leaves import held_walls, walls_named
from ledgewright.sheets.say import Say
from ledgewright.shop import A_DAY, VISITS, Days, Done, Line, Need, Task, Work, clock


@dataclass(frozen=True)
class Side:
    """A whole job in the shop.

    held: ids of the walls that nobody may drill. undated: why nothing from the order on has a day; empty if all
    has.
    """

    plan: Plan
    work: Work
    days: Days
    held: tuple[str, ...]
    undated: str

    @property
    def withheld(self) -> str:
        """The walls that nobody may drill as people name them, as "wall A (sink)"."""
        return walls_named(map(self.plan.job.tapes.called, self.held))

    @property
    def say(self) -> Say:
        """How the job writes."""
        return Say.of(self.plan.job.meta)

    def design(self, section: str) -> Design:
        """Return the section of that id."""
        return next(each for each in self.plan.designs if each.spec.id == section)


def side(plan: Plan) -> Side | str:
    """Return the shop's side of a job, or in a sentence why there is none.

    Args:
        plan: the whole job.
    """
    found = in_shop(plan.job, plan.designs, plan.cutting.counted if plan.cutting else None)
    if isinstance(found, str):
        return found
    held = tuple(sorted({wall for design in plan.designs for wall in held_walls(plan, design)}))
    return Side(plan, found.work, found.days, held, _undated(plan, held))


def _undated(plan: Plan, held: tuple[str, ...]) -> str:
    """Nobody is given a day for a hole that may not be drilled, nor for what comes after it."""
    if held:
        return f"{unconfirmed(plan, held)}, and nobody may drill it"
    if plan.verdict != "passes":
        return "the shelf is not shown to hold, and nobody may drill for it"
    return ""


def resting(side: Side) -> frozenset[str]:
    """Return the tasks that have no day: nothing is ordered, let alone drilled, for a shelf that may not be hung yet.

    Args:
        side: the shop's side of the job.

    Returns:
        The order, whatever drilling comes into, and all that comes after either; none where every task has a day.
    """
    if not side.undated:
        return frozenset()
    found: set[str] = set()
    for task in side.work.tasks:
        if task.id == "order" or task.drills or any(a.task in found for a in task.after):
            found.add(task.id)
    return frozenset(found)


def dated(side: Side) -> Iterator[Done]:
    """Return what has a day, in order of time."""
    shut = resting(side)
    return (each for each in side.days.done if each.task.id not in shut)


def undated(side: Side) -> list[Task]:
    """Return what has no day for now, in order of time."""
    shut = resting(side)
    return [each.task for each in side.days.done if each.task.id in shut]


def load_test_words(side: Side) -> tuple[str, ...]:
    """Return what the days planned mean for the load test: on a soft finish, or too short for the label.

    Args:
        side: the shop's side of the job.

    Returns:
        Sentences; none while the test has no day. Of a job with a shelf that no test can be worked out for, why.
    """
    days = [each for each in dated(side) if each.task.id.startswith("test.")]
    if not days:
        return ()
    found = []
    if min(each.start for each in days) < side.days.hard:
        found.append(
            f"The finish is not hard before {moment_text(side, side.days.hard)}: in the load test before then every "
            "weight stands on a clean board with a soft cloth under it."
        )
    tests = (side.plan.no_test(design.spec.id) for design in side.plan.designs)
    none = {test.why for test in tests if test is not None}
    if none:
        found.append(
            f"No load test is worked out here ({'; '.join(sorted(none))}), and without one there is no load limit for "
            "the label: an engineer says what is put on it."
        )
    elif not side.plan.job.shop.bench.long_test:
        found.append(
            "long_test = false under [shop] leaves out the reading of the load test after 24 h, and without that "
            "reading the test gives no load limit for the label."
        )
    return tuple(found)


def day_text(side: Side, moment: int) -> str:
    """Return the day of a moment, as "Tue 2026-12-01", or "day 3" where the job says no date."""
    if not side.days.dated:
        return f"day {moment // A_DAY + 1}"
    day = side.days.date(moment)
    return f"{_DAYS[day.weekday()]} {day.isoformat()}"


_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def moment_text(side: Side, moment: int) -> str:
    """Return a moment as day and time of day."""
    return f"{day_text(side, moment)} {clock(moment)}"


def task_text(task: Task) -> str:
    """Return what is done, and of which shelf."""
    return f"{task.what}, {task.of}" if task.of else task.what


def visit_text(visit: str) -> str:
    """Return what a visit to the site is called."""
    return VISITS[visit]


def money(side: Side, value: float) -> str:
    """Return an amount of money in the currency of the price file."""
    prices = side.plan.job.shop.prices
    return f"{prices.currency} {value:,.2f}" if prices else f"{value:,.2f}"


def percent(share: float) -> str:
    """Return a share in per cent, to 0.01 at the most."""
    return f"{share * 100:.2f}".rstrip("0").rstrip(".") + " %"


def hours_text(hours: float) -> str:
    """Return hours to a quarter, rounded up, as "2 1/4 h"; waits are rounded so that nobody is early."""
    quarters = -(-round(hours * 100) // 25)
    whole, part = divmod(quarters, 4)
    tail = {0: "", 1: "1/4", 2: "1/2", 3: "3/4"}[part]
    return " ".join(x for x in (str(whole) if whole or not tail else "", tail) if x) + " h"


def unconfirmed(plan: Plan, held: Sequence[str]) -> str:
    """Return that walls are not confirmed, as "wall A (sink) is not confirmed".

    Args:
        plan: the whole job.
        held: ids of the walls, one at least.
    """
    are = "is" if len(held) == 1 else "are"
    return f"{walls_named(map(plan.job.tapes.called, held))} {are} not confirmed"


def final(side: Side) -> tuple[str, ...]:
    """Return why no quote can be final; empty if one can.

    Args:
        side: the shop's side of the job.
    """
    found = []
    if side.work.priced is None:
        found.append("there is no price: " + ", ".join(side.work.missing))
    if side.work.placeholders:
        found.append("placeholder prices: " + ", ".join(side.work.placeholders))
    if side.plan.verdict != "passes":
        found.append("the shelf is not shown to hold")
    if side.held:
        found.append(unconfirmed(side.plan, side.held))
    return tuple(found)


def shown(side: Side, need: Need, line: Line) -> bool:
    """Say whether how much of a thing may be told: the length of a bar says how deep its hole is."""
    return not (side.held and need.kind == "length" and "rods" in need.use) and bool(line.unit)
