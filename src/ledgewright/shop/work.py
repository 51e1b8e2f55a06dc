"""The whole job as the shop sees it: glue, finish, tasks, price, days; sections together, nothing charged twice."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ledgewright.job import Job
from ledgewright.shop import price as pricing
from ledgewright.shop.days import Days, days, journeys
from ledgewright.shop.finishing import GLUE_SIZE, Finishing, finishings
from ledgewright.shop.gluing import PURGE, GlueUp, InSlots, Setting, glue_up, in_slots, settings
from ledgewright.shop.model import Bill, Line, Made, Priced
from ledgewright.shop.needs import NOZZLE, Counted, Need, by_area, of_parts, together
from ledgewright.shop.tasks import Ground, Task, hour_lines, tasks


@dataclass(frozen=True)
class Work:
    """What there is to do and to buy for a whole job. needs stand beside the lines of the bill, one for one."""

    glue_ups: tuple[GlueUp, ...]
    settings: tuple[Setting, ...]
    slots: tuple[InSlots, ...]
    finishings: tuple[Finishing, ...]
    tasks: tuple[Task, ...]
    needs: tuple[Need, ...]
    lines: tuple[Line, ...]
    counted: Counted
    priced: Priced | None
    missing: tuple[str, ...]
    placeholders: tuple[str, ...]
    journeys: int

    @property
    def hours(self) -> float:
        """Hands-on hours in all."""
        return sum(task.hours for task in self.tasks)


def work(job: Job, made: Sequence[Made], counted: Counted | None = None) -> Work:
    """Work out hours, glue, finish, needs and price of a job, or of one section by itself.

    One function for the quick bill and for the quote: they differ by the sheets counted alone.

    Args:
        job: meta, tapes, shop with its price file, site.
        made: its sections.
        counted: sheets by a layout; by area if there is none.

    Raises:
        TooColdError: if something would have to cure below what its label allows.
    """
    sheets = counted or by_area(made)
    ups = tuple(up for each in made if (up := glue_up(job.shop, each)) is not None)
    coats, rods, slots = finishings(job, made), settings(job, made), in_slots(job, made)
    whole = sum(s.count + (s.taken or 0) for s in sheets.sheets)
    todo = tasks(Ground(job, tuple(made), whole, ups, coats, slots))
    needs = together(
        (*of_parts(made, sheets), *_adhesives(rods, slots), *_glue(job, ups, coats), *_coats(coats))
    )
    prices, bench = job.shop.prices, job.shop.bench
    lines = tuple(pricing.line(need, prices) for need in needs)
    missing = pricing.missing(lines, prices)
    trips = journeys(todo, bench)
    rates = dict(prices.rates) if prices else {}
    priced = None
    if prices is not None and not missing:
        priced = pricing.price(
            lines=lines,
            hours=sum(task.hours for task in todo),
            journeys=trips,
            hours_a_day=bench.hours_a_day,
            rates=rates,
            contingency=pricing.contingency(job, made, rates),
        )
    return Work(
        glue_ups=ups,
        settings=rods,
        slots=slots,
        finishings=coats,
        tasks=todo,
        needs=needs,
        lines=lines,
        counted=sheets,
        priced=priced,
        missing=missing,
        placeholders=pricing.placeholders(lines, prices),
        journeys=trips,
    )


def schedule(job: Job, work: Work) -> Days:
    """Return when everything of a job is done.

    Args:
        job: days and hours of the shop.
        work: its tasks.

    Raises:
        NeverDoneError: if it goes past all days that are looked at.
    """
    hardens = {}
    for number, each in enumerate(work.finishings, 1):
        if each.coats:
            late, k = each.on_site, len(each.on_site) or len(each.in_shop)
            hardens[f"{'last-coat' if late else 'coat'}.{number}.{k}"] = each.full_load
    return days(work.tasks, job.shop.bench, hardens, job.shop.clamps)


def bill_of(work: Work, mass: float) -> Bill:
    """Return the bill of what was worked out.

    Args:
        work: hours and prices.
        mass: of the shelf without rods (kg).
    """
    return Bill(
        mass=mass,
        hours=work.hours,
        price=work.priced.total if work.priced else None,
        lines=work.lines,
        hour_lines=hour_lines(work.tasks),
        missing=work.missing,
        placeholders=work.placeholders,
    )


def _adhesives(rods: Sequence[Setting], slots: Sequence[InSlots]) -> list[Need]:
    """What goes into holes and slots and what is pressed out first; a nozzle for each mix, a spare of each adhesive."""
    made = [
        *(
            Need(each.adhesive.name, "liquid", each.volume + each.mixes * PURGE, "rods")
            for each in rods
        ),
        *(Need(each.adhesive.name, "liquid", each.volume + PURGE, "slots") for each in slots),
    ]
    nozzles = sum(each.mixes + 1 for each in rods) + len(slots)
    return [*made, Need(NOZZLE, "each", float(nozzles), "rods")] if nozzles else made


def _glue(job: Job, ups: Sequence[GlueUp], coats: Sequence[Finishing]) -> list[Need]:
    """Box glue, and as much of it again as glue size takes: half of that is water."""
    size = sum(c.volume for each in coats for c in each.coats if c.product == GLUE_SIZE) / 2
    volume = sum(up.volume for up in ups) + size
    return [Need(job.shop.bench.glue.name, "liquid", volume, "box")] if volume else []


def _coats(coats: Sequence[Finishing]) -> list[Need]:
    return [
        Need(coat.product, "liquid", coat.volume, "finish")
        for each in coats
        for coat in each.coats
        if coat.product != GLUE_SIZE
    ]
