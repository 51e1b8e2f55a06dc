"""The load test as it was read: whether it fits what was worked out, and what it says of the load limit."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from shapely.geometry import Point, Polygon

from ledgewright import statics
from ledgewright.doubt import Narrowed
from ledgewright.job import Job, LoadStep, PutOn, WentDown
from ledgewright.judge import Design
from ledgewright.memo import Memo
from ledgewright.site.allowance import allows, lifted
from ledgewright.site.expected import Expected, Row, expect, piles_of, rows_of
from ledgewright.site.proposed import TOO_HOT, Group, on_models
from ledgewright.site.tells import Growth, growth_of, moved, narrow, recovery_of, still
from ledgewright.statics import HOTTEST, Check, NoTest, Tried

RECOVERS = 0.8
"""At least so much of what went down comes back when the weights are off (design page on statics)."""
UNLIKELY = 0.01
"""Readings that would come by chance more seldom than this do not fit (our choice)."""


@dataclass(frozen=True)
class ReadBack:
    """A load test as it was read.

    most: the greatest weight that stood on it (kg); held: for how many hours. over: the row that this took over what a
    test may ask, if any. recovery: share that came back, None if it was not read unloaded. loose: rods at which the
    front went down further than all other readings lead to expect. narrowed: wood and glue before and after. why:
    reasons against; still: what is still to be done; it passed if there is neither. even (N/mm), single, total (kg):
    what it allows, a test over 1.25; lifted: less, because the one thing lifted a rod that was not read without it.
    """

    shelf: str
    rows: tuple[Row, ...]
    most: float
    held: float
    over: Check | None
    recovery: float | None
    growth: Growth | None
    loose: tuple[str, ...]
    narrowed: Narrowed | None
    why: tuple[str, ...]
    still: tuple[str, ...]
    even: float
    single: float
    total: float
    lifted: bool = False

    @property
    def passed(self) -> bool:
        """Whether nothing speaks against it, and all of it has been done."""
        return not self.why and not self.still

    @property
    def outcome(self) -> Literal["passed", "did not pass", "not over"]:
        """What it came to so far."""
        if self.why:
            return "did not pass"
        return "passed" if self.passed else "not over"

    @property
    def against(self) -> str:
        """Why it does not speak for the shelf, in a clause; empty if it does."""
        if self.why:
            return f"speaks against it: {self.why[0]}"
        return f"is not over: {self.still[0]}" if self.still else ""


def tested(job: Job, design: Design, memo: Memo) -> ReadBack | NoTest | None:
    """Return what the readings come to of a shelf that hangs by itself. Arguments as of `tested_together`."""
    return tested_together(job, Group.of_one(design), memo)[0]


def tested_together(job: Job, group: Group, memo: Memo) -> tuple[ReadBack | NoTest | None, ...]:
    """Return what the readings of a load test come to, of each that was loaded; None where none was read.

    The n-th step of one shelf goes with the n-th of the others; a shelf in sections has its steps in one.

    Args:
        job: its steps of load tests.
        group: what was loaded at once, as judged.
        memo: kept by the caller.
    """
    steps = [_own_steps(job, group, design) for design in group.designs]
    count = max(len(each) for each in steps)
    if not count:
        return (None,) * len(steps)
    waits = {tuple(step.hours for step in each) for each in steps if each}
    found = on_models(job, group, memo)
    if len(waits) > 1:
        found = NoTest(_APART)
    if isinstance(found, NoTest):
        return tuple(found if each else None for each in steps)
    waited = next(iter(waits))
    bare = [
        [LoadStep(design.spec.id, (), hours, (), "") for hours in waited]
        for design in group.designs
    ]
    every = [each or none for each, none in zip(steps, bare, strict=True)]
    made = expect(found, every, memo)
    if isinstance(made, NoTest):
        return tuple(made if each else None for each in steps)
    over = _over(found, every, memo)
    return tuple(
        _tested(job, group, k, every, [step[k] for step in made], over) if own else None
        for k, own in enumerate(steps)
    )


_APART = (
    "its steps and those of the shelf on the same studs do not go together: write as many of either, with the "
    "same waits"
)


def _own_steps(job: Job, group: Group, design: Design) -> list[LoadStep]:
    """The steps of a shelf; of a section with what stood on it and was read of it alone."""
    part = design.spec.section
    if part is None:
        return [step for step in job.site.tests if step.shelf == design.spec.id]
    parts = [
        each
        for each in group.designs
        if each.spec.section is not None and each.spec.section.of == part.of
    ]
    return [
        replace(
            step,
            puts=tuple(put for put in step.puts if _bears(parts, put) is design),
            reads=tuple(read for read in step.reads if _shows(parts, read) is design),
        )
        for step in job.site.tests
        if step.shelf in (part.of, design.spec.id)
    ]


def _bears(parts: Sequence[Design], put: PutOn) -> Design:
    """The section that a weight stands on, or the nearest."""
    at = Point(parts[0].room.wall(put.wall).at(put.along, put.out))
    return min(parts, key=lambda each: Polygon(each.frame.outline).distance(at))


def _shows(parts: Sequence[Design], read: WentDown) -> Design:
    """The section whose front edge a place is on, or the nearest."""

    def off(design: Design) -> float:
        legs = (leg for leg in design.frame.legs if leg.wall == read.wall)
        return min(
            (max(leg.start - read.along, read.along - leg.end, 0.0) for leg in legs),
            default=math.inf,
        )

    return min(parts, key=off)


def _read_at_every_rod(
    design: Design, steps: Sequence[LoadStep], rows: Sequence[Row]
) -> list[LoadStep]:
    rods = {rod.mark for rod in design.frame.rods}
    return [
        step
        for number, step in enumerate(steps, 1)
        if step.puts and rods <= {row.rod for row in rows if row.step == number}
    ]


def _over(
    tried: Sequence[Tried], steps: Sequence[Sequence[LoadStep]], memo: Memo
) -> Check | NoTest | None:
    """The row furthest over what a test may ask, if any, of what stood in the same places the heaviest."""
    found: Check | None = None
    for at_once in _most_of_each(steps):
        asked = statics.asks_of_all(tried, [piles_of(step) for step in at_once], memo)
        if isinstance(asked, NoTest):
            return asked
        if asked is not None and asked.ratio > (found.ratio if found else 1):
            found = asked
    return found


def _most_of_each(steps: Sequence[Sequence[LoadStep]]) -> list[tuple[LoadStep, ...]]:
    """Of all steps that load the same places the heaviest: less in all of them asks less."""
    heaviest: dict[frozenset[tuple[str, float, float]], tuple[LoadStep, ...]] = {}
    for at_once in sorted(zip(*steps, strict=True), key=_total):
        places = frozenset((put.wall, put.along, put.out) for s in at_once for put in s.puts)
        heaviest[places] = at_once
    return list(heaviest.values())


def _heaviest(steps: Sequence[Sequence[LoadStep]]) -> tuple[LoadStep, ...]:
    """What stood on all of them when most did."""
    return max(zip(*steps, strict=True), key=_total)


def _total(at_once: Sequence[LoadStep]) -> float:
    return sum(step.total for step in at_once)


def _tested(
    job: Job,
    group: Group,
    k: int,
    steps: Sequence[Sequence[LoadStep]],
    expected: Sequence[Expected],
    over: Check | NoTest | None,
) -> ReadBack:
    design, own = group.designs[k], steps[k]
    every = list(zip(*steps, strict=True))
    stood = [tuple(step.puts for step in at_once) for at_once in every]
    most = _heaviest(steps)
    full = [s.hours for s, at in zip(own, every, strict=True) if _total(at) >= _total(most) - 1e-9]
    on = [any(puts) for puts in stood]
    rows = rows_of(design, own, expected, on)
    narrowed, loose = narrow(own, expected, rows, stood)
    # Off and read before the whole weight stood tells nothing of what it left behind.
    whole = [n for n, at in enumerate(every, 1) if _total(at) >= _total(most) - 1e-9]
    off = [n for n in range(whole[-1] + 1, len(on) + 1) if not on[n - 1]]
    growth, recovery = growth_of(rows, stood), recovery_of(rows, off)
    read_at = [piles_of(step) for step in _read_at_every_rod(design, own, rows)]
    even, single, total = allows(design, piles_of(most[k]), read_at)
    bare = [
        each.spec.title
        for each, step in zip(group.designs, most, strict=True)
        if each is not design and not step.puts
    ]
    return ReadBack(
        shelf=design.spec.id,
        rows=rows,
        most=most[k].total,
        held=max(full, default=0.0),
        over=over if isinstance(over, Check) else None,
        recovery=recovery,
        growth=growth,
        loose=loose,
        narrowed=narrowed,
        why=(*moved(rows, on), *_why(job, over, recovery, growth, loose, narrowed, bare)),
        still=still(design, rows, whole, off, max(full, default=0.0), recovery)
        if most[k].total > 0
        else (),
        even=even,
        single=single,
        total=total,
        lifted=lifted(design, piles_of(most[k]), read_at),
    )


def _why(
    job: Job,
    over: Check | NoTest | None,
    recovery: float | None,
    growth: Growth | None,
    loose: Sequence[str],
    narrowed: Narrowed | None,
    bare: Sequence[str],
) -> tuple[str, ...]:
    found: list[str] = []
    if job.site.heat is not None and job.site.heat > HOTTEST:
        found.append(TOO_HOT)
    if isinstance(over, NoTest):
        found.append(f"nobody can say what the weights asked of it: {over.why}")
    elif over is not None:
        found.append(
            f"the weights asked more of it than a test may: {over.title.lower()}, {over.ratio:.2f} times; look at "
            "every rod and at the wood round it before it is used"
        )
    if bare:
        found.append(f"nothing stood on {' and '.join(bare)} meanwhile: they are tested together")
    if recovery is not None and recovery < RECOVERS:
        found.append(
            f"only {max(0.0, recovery) * 100:.0f} % came back when the weights were off: something has given way"
        )
    if growth is not None and growth.too_much:
        found.append(
            "it kept going down while the weights stood: the glue creeps, or something works loose"
        )
    if loose:
        found.append(
            f"the front goes down further at {', '.join(loose)} than all else leads to expect: a loose rod"
        )
    elif narrowed is not None and narrowed.chance < UNLIKELY:
        found.append(
            "what was read does not fit what was worked out, wherever wood and glue stand in their ranges: the shelf "
            "is not what the job says"
        )
    return tuple(found)
