"""The load test: what may be put on, what was read, whether both fit, and what it says of the load limit."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from types import MappingProxyType

from ledgewright import doubt, judge, plane, statics
from ledgewright.doubt import Believed, Narrowed
from ledgewright.job import Gauge, Job, LoadStep, WentDown
from ledgewright.judge import Design
from ledgewright.memo import Memo
from ledgewright.statics import NOMINAL, Check, Given, Inputs, NoTest, Pile, Proof, Stood
from ledgewright.statics.loads import G_N

HOTTEST = 50.0
"""Over this, glue softens: no load test tells anything of a shelf near it (C; design page on statics)."""
RECOVERS = 0.8
"""At least so much of what went down comes back when the weights are off (design page on statics)."""
HOLD = 24.0
"""Hours that the whole weight stands."""
READING: Mapping[Gauge, float] = MappingProxyType({"rule": 0.2, "gauge": 0.05})
"""How near a front is read off a fixed mark: with a rule to 1/64 in, with a dial gauge or feelers (standard deviation,
mm; common practice, from memory)."""
LOCAL = 0.02
"""How near the model comes at one place beside another (share of what is expected, standard deviation). Drops of the
section model lie within 1.2 % of a 3-D solid (docs/section-model.md); rounded up."""
_BED, _GLUE, _REST = (doubt.figure(name) for name in ("bed", "adhesive", "section"))
PRIOR = Believed.apart((_BED.likely, _GLUE.likely, 0.0), (_BED.sd, _GLUE.sd, _REST.sd))
"""Bed of the wood and modulus of the glue as the table of doubtful figures has them, whose ends are 2 sd out; and all
else (panels, core, steel) as a share of what goes down, as much as skins and core are in doubt: our choice."""
UNLIKELY = 0.01
"""Readings that would come by chance more seldom than this do not fit (our choice)."""
ALONE = 3.0
"""A reading so many standard deviations lower than the others lead to expect names a loose rod (our choice)."""
SAME = 200.0
"""Weights whose middles stand nearer than this count as one thing (mm; our choice)."""


@dataclass(frozen=True)
class Row:
    """One reading beside what was predicted (mm): step by number from 1, place, range of 90 %, how near it is read."""

    step: int
    hours: float
    total: float
    wall: str
    along: float
    rod: str
    predicted: float
    low: float
    high: float
    read: float
    near: float


@dataclass(frozen=True)
class Growth:
    """How much further the front went down while the same weights stood, on the average of so many places.

    hours: from, to. read, predicted: mm.
    """

    places: int
    hours: tuple[float, float]
    read: float
    predicted: float
    near: float

    @property
    def too_much(self) -> bool:
        """Whether it grew by more than twice the forecast and than reading all places twice explains (1 in 20)."""
        chance = 1.645 * self.near * math.sqrt(2 / self.places)
        return self.read > max(2 * self.predicted, self.predicted + chance)


@dataclass(frozen=True)
class ReadBack:
    """A load test as it was read.

    most: the greatest weight that stood on it (kg); held: for how many hours. over: the row that this took over what a
    test may ask, if any. recovery: share that came back, None if it was not read unloaded. loose: rods at which the
    front went down further than all other readings lead to expect. narrowed: wood and glue before and after. why:
    reasons against; it passed if there are none. even (N/mm), single, total (kg): what it allows, a test over 1.25.
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
    even: float
    single: float
    total: float

    @property
    def passed(self) -> bool:
        """Whether nothing speaks against it."""
        return not self.why


def plan_test(job: Job, design: Design, memo: Memo) -> Proof | NoTest:
    """Return the load test of a section, or why none is proposed.

    Args:
        job: its site and its basis.
        design: the section as judged.
        memo: kept by the caller.
    """
    none = no_test(job, design)
    if none is not None:
        return none
    found = judge.on_model(job, design, memo)
    if isinstance(found, NoTest):
        return found
    given, stood = found
    return memo.get("load test", given, lambda: statics.proof(given, stood, memo))


def no_test(job: Job, design: Design) -> NoTest | None:
    """Return why no load test is proposed of a section, as far as that is plain before one is worked out; else None.

    Args:
        job: its site.
        design: the section as judged.
    """
    if job.site.heat is not None and job.site.heat > HOTTEST:
        return NoTest(_HOT)
    if design.spec.section is not None:
        return NoTest(_PARTS)
    if design.way is None or design.holds.verdict != "passes":
        return NoTest("it is not shown to hold: nothing is put on it")
    return None


_PARTS = "a shelf in sections is not worked out under a load test"
_HOT = "it gets hotter than 50 C at its rods, where glue softens: no test on a cool day tells what it carries then"


def tested(job: Job, design: Design, memo: Memo) -> ReadBack | NoTest | None:
    """Return what the readings of a load test come to; None if none was read of this section.

    Args:
        job: its steps of load tests.
        design: the section as judged.
        memo: kept by the caller.
    """
    steps = [step for step in job.site.tests if step.shelf in _names(design)]
    if not steps:
        return None
    if design.spec.section is not None:
        return NoTest(_PARTS)
    found = judge.on_model(job, design, memo)
    if isinstance(found, NoTest):
        return found
    made = _rows(design, found, steps, memo)
    return made if isinstance(made, NoTest) else _tested(job, design, found, steps, made, memo)


def _names(design: Design) -> set[str]:
    part = design.spec.section
    return {design.spec.id, *((part.of,) if part else ())}


def _piles(step: LoadStep) -> tuple[Pile, ...]:
    return tuple(
        Pile(f"weight {k}", put.wall, put.along, put.out, put.mass)
        for k, put in enumerate(step.puts, 1)
    )


def _downs(
    found: tuple[Given, Stood], step: LoadStep, memo: Memo, inputs: Inputs = NOMINAL
) -> tuple[float, ...] | NoTest:
    given, stood = found
    marks = [(read.wall, read.along) for read in step.reads]
    return statics.under(
        replace(given, inputs=inputs), stood, _piles(step), marks, memo, hours=step.hours
    )


def _rows(
    design: Design, found: tuple[Given, Stood], steps: Sequence[LoadStep], memo: Memo
) -> tuple[Row, ...] | NoTest:
    rows: list[Row] = []
    for number, step in enumerate(steps, 1):
        expected = _downs(found, step, memo)
        if isinstance(expected, NoTest):
            return expected
        slopes = _slopes(found, step, expected, memo)
        for read, at, slope in zip(step.reads, expected, slopes, strict=True):
            _, own = PRIOR.of(at, slope)
            half = 1.645 * (own**2 + READING[step.tool] ** 2 + (LOCAL * at) ** 2) ** 0.5
            rows.append(
                Row(
                    number,
                    step.hours,
                    step.total,
                    read.wall,
                    read.along,
                    _rod(design, read),
                    at,
                    max(0.0, at - half) if step.puts else 0.0,
                    at + half,
                    read.down,
                    READING[step.tool],
                )
            )
    return tuple(rows)


def _rod(design: Design, read: WentDown) -> str:
    """The mark of the nearest rod on the same wall."""
    wall = design.room.wall(read.wall)
    near = [
        (abs(wall.figures(rod.point(rod.free))[0] - read.along), rod.mark)
        for rod in design.frame.rods
        if rod.wall == read.wall
    ]
    return min(near)[1] if near else ""


STEP = (0.1, 0.2)
"""How far wood and glue are moved either way for the slopes, in units of `Inputs`."""


def _slopes(
    found: tuple[Given, Stood], step: LoadStep, expected: Sequence[float], memo: Memo
) -> list[tuple[float, float, float]]:
    """How each reading of a step changes with bed and glue (central differences, contacts solved anew) and the rest."""
    if not step.puts:
        return [(0.0, 0.0, 0.0)] * len(step.reads)
    sides = []
    for k, size in enumerate(STEP):
        for sign in (1.0, -1.0):
            move = [0.0, 0.0]
            move[k] = sign * size
            inputs = replace(
                NOMINAL, bed=NOMINAL.bed + move[0], adhesive=NOMINAL.adhesive + move[1]
            )
            downs = _downs(found, step, memo, inputs)
            sides.append((0.0,) * len(step.reads) if isinstance(downs, NoTest) else downs)
    return [
        ((a - b) / (2 * STEP[0]), (c - d) / (2 * STEP[1]), at)
        for a, b, c, d, at in zip(*sides, expected, strict=True)
    ]


def _tested(
    job: Job,
    design: Design,
    found: tuple[Given, Stood],
    steps: Sequence[LoadStep],
    rows: tuple[Row, ...],
    memo: Memo,
) -> ReadBack:
    heaviest = max(steps, key=lambda step: step.total)
    held = max((s.hours for s in steps if s.total >= heaviest.total - 1e-9), default=0.0)
    over = statics.asks(*found, _piles(heaviest), memo)
    over = over if over is not None and over.ratio > 1 else None
    narrowed, loose = _narrow(found, steps, rows, memo)
    growth, recovery = _growth(steps, rows), _recovery(steps, rows)
    even, single, total = _allows(design, heaviest)
    return ReadBack(
        shelf=design.spec.id,
        rows=rows,
        most=heaviest.total,
        held=held,
        over=over,
        recovery=recovery,
        growth=growth,
        loose=loose,
        narrowed=narrowed,
        why=_why(job, held, over, recovery, growth, loose, narrowed),
        even=even,
        single=single,
        total=total,
    )


def _narrow(
    found: tuple[Given, Stood], steps: Sequence[LoadStep], rows: Sequence[Row], memo: Memo
) -> tuple[Narrowed | None, tuple[str, ...]]:
    """Wood and glue after all readings under weight, read soonest at each weight; and rods that stand out."""
    first = [
        min(group, key=lambda pair: pair[1].hours)
        for _, group in groupby(
            [(n, s) for n, s in enumerate(steps, 1) if s.puts], key=lambda pair: pair[1].puts
        )
    ]
    used = [row for n, _ in first for row in rows if row.step == n]
    if not used:
        return None, ()
    slopes = [
        slope
        for n, step in first
        for slope in _slopes(found, step, [row.predicted for row in rows if row.step == n], memo)
    ]
    made = doubt.narrowed(
        PRIOR,
        [row.predicted for row in used],
        slopes,
        [row.read for row in used],
        [(row.near**2 + (LOCAL * row.predicted) ** 2) ** 0.5 for row in used],
    )
    out = {row.rod for row, off in zip(used, made.off, strict=True) if off > ALONE}
    worst = max(zip(made.off, used, strict=True), key=lambda pair: pair[0])[1].rod
    # Where most stand out, it is not a rod that is wrong; beside a loose one its neighbours stand out too.
    alone = out and 2 * len(out) <= len({row.rod for row in used})
    return made, (worst,) if alone else ()


def _growth(steps: Sequence[LoadStep], rows: Sequence[Row]) -> Growth | None:
    """The greatest growth beyond the forecast while one set of weights stood, on the average of its places."""
    found: list[Growth] = []
    loaded = [(n, s) for n, s in enumerate(steps, 1) if s.puts]
    for _, group in groupby(loaded, key=lambda pair: pair[1].puts):
        stood = list(group)
        (a, early), (b, late) = stood[0], stood[-1]
        before = {(r.wall, r.along): r for r in rows if r.step == a}
        pairs = [
            (before[key], r) for r in rows if r.step == b and (key := (r.wall, r.along)) in before
        ]
        if late.hours <= early.hours or not pairs:
            continue
        read = sum(new.read - old.read for old, new in pairs) / len(pairs)
        meant = sum(new.predicted - old.predicted for old, new in pairs) / len(pairs)
        near = max(row.near for pair in pairs for row in pair)
        found.append(Growth(len(pairs), (early.hours, late.hours), read, meant, near))
    return max(found, key=lambda each: each.read - each.predicted, default=None)


def _recovery(steps: Sequence[LoadStep], rows: Sequence[Row]) -> float | None:
    """What came back of the deepest reading, at the place where least did; None if it was not read unloaded."""
    bare = [n for n, step in enumerate(steps, 1) if not step.puts and n > 1]
    if not bare:
        return None
    shares = []
    for row in (r for r in rows if r.step == bare[-1]):
        deepest = max(
            (
                r.read
                for r in rows
                if (r.wall, r.along) == (row.wall, row.along) and r.step < row.step
            ),
            default=0.0,
        )
        if deepest > max(READING.values()):
            shares.append(1 - row.read / deepest)
    return min(shares, default=None)


def _allows(design: Design, step: LoadStep) -> tuple[float, float, float]:
    """What a test of so much allows, divided by 1.25: on every length (N/mm), one thing, in all (kg).

    The one thing is the heaviest that stood in one place; the rest counts as even over the legs together, the leg with
    least on its length first.
    """
    if not step.puts:
        return 0.0, 0.0, 0.0
    heaps = [
        sum(p.mass for p in step.puts if p.wall == q.wall and abs(p.along - q.along) < SAME)
        for q in step.puts
    ]
    single = max(heaps)
    top = step.puts[heaps.index(single)]
    evens = []
    for leg in design.frame.legs:
        length = plane.length(plane.sub(leg.front[1], leg.front[0]))
        rest = sum(
            p.mass
            for p in step.puts
            if p.wall == leg.wall and not (p.wall == top.wall and abs(p.along - top.along) < SAME)
        )
        evens.append(rest * G_N / length)
    times = statics.MOST
    return min(evens) / times, single / times, step.total / times


def _why(
    job: Job,
    held: float,
    over: Check | None,
    recovery: float | None,
    growth: Growth | None,
    loose: Sequence[str],
    narrowed: Narrowed | None,
) -> tuple[str, ...]:
    found: list[str] = []
    if job.site.heat is not None and job.site.heat > HOTTEST:
        found.append(_HOT)
    if over is not None:
        found.append(
            f"the weights asked more of it than a test may: {over.title.lower()}, {over.ratio:.2f} times; look at "
            "every rod and at the wood round it before it is used"
        )
    if held < HOLD:
        found.append("the whole weight did not stand for 24 hours")
    if recovery is None:
        found.append("it was not read again with the weights off")
    elif recovery < RECOVERS:
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
