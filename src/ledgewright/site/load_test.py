"""The load test: what may be put on, what was read, whether both fit, and what it says of the load limit."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from types import MappingProxyType
from typing import Literal

from shapely.geometry import Point, Polygon

from ledgewright import doubt, judge, statics
from ledgewright.doubt import Believed, Narrowed
from ledgewright.job import Gauge, Job, LoadStep, PutOn, WentDown
from ledgewright.judge import Design
from ledgewright.memo import Memo
from ledgewright.statics import HOTTEST, NOMINAL, Check, Inputs, NoTest, Pile, Proof, Tried
from ledgewright.statics.loads import CONTENTS, PATCH

RECOVERS = 0.8
"""At least so much of what went down comes back when the weights are off (design page on statics)."""
HOLD = 24.0
"""Hours that the whole weight stands."""
SOON = 1.0
"""So many hours after it is on the first reading is taken at the latest: what grows before is not seen (our choice)."""
PLACE = 25.0
"""Readings at places nearer than this to one another are of one place (mm; an inch of tape along the front)."""
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
MOVED = 4 * math.sqrt(2)
"""A front that reads so many standard deviations above where it stood before has a moved mark: 4, of two readings."""
SLICES = 400
"""Slices of a leg over which an even load is added up."""
SAME = statics.FOOTPRINT
"""Weights whose middles stand nearer than what one of them stands on count as one thing (mm)."""


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
    def beyond(self) -> float:
        """How much more it grew than forecast (mm)."""
        return self.read - self.predicted

    @property
    def too_much(self) -> bool:
        """Whether it grew by more than twice the forecast and than reading all places twice explains (1 in 20)."""
        chance = 1.645 * self.near * math.sqrt(2 / self.places)
        return self.read > 2 * self.predicted and self.beyond > chance


@dataclass(frozen=True)
class ReadBack:
    """A load test as it was read.

    most: the greatest weight that stood on it (kg); held: for how many hours. over: the row that this took over what a
    test may ask, if any. recovery: share that came back, None if it was not read unloaded. loose: rods at which the
    front went down further than all other readings lead to expect. narrowed: wood and glue before and after. why:
    reasons against; still: what is still to be done; it passed if there is neither. even (N/mm), single, total (kg):
    what it allows, a test over 1.25.
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
    found = none or _tried(job, group, memo)
    if isinstance(found, NoTest):
        return (found,) * len(group.designs)
    to = statics.ROUND[job.meta.units]
    key = (to, *((each.given, each.beside) for each in found))
    made = memo.get("load tests", key, lambda: statics.proofs(found, to, memo))
    return (made,) * len(group.designs) if isinstance(made, NoTest) else made


def _tried(job: Job, group: Group, memo: Memo) -> tuple[Tried, ...] | NoTest:
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
        return NoTest(_HOT)
    for design in group.designs:
        if design.way is None or design.holds.verdict != "passes":
            what = "it" if len(group.designs) == 1 else design.spec.title
            return NoTest(f"{what} is not shown to hold: nothing is put on it")
    return None


_HOT = "it gets hotter than 50 C at its rods, where glue softens: no test on a cool day tells what it carries then"


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
    found = _tried(job, group, memo)
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
    made = _on_model(found, every, memo)
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


def _piles(step: LoadStep) -> tuple[Pile, ...]:
    return tuple(
        Pile(f"weight {k}", put.wall, put.along, put.out, put.mass)
        for k, put in enumerate(step.puts, 1)
    )


Slope = tuple[float, float, float]


@dataclass(frozen=True)
class _Expected:
    """What is expected of one shelf in one step: how far each place goes down (mm), and how that changes with bed, glue
    and the rest.
    """

    downs: tuple[float, ...]
    slopes: tuple[Slope, ...]


def _on_model(
    tried: Sequence[Tried], steps: Sequence[Sequence[LoadStep]], memo: Memo
) -> list[tuple[_Expected, ...]] | NoTest:
    """What is expected in every step, of every shelf."""
    found = []
    for at_once in zip(*steps, strict=True):
        downs = _downs(tried, at_once, memo)
        if isinstance(downs, NoTest):
            return downs
        slopes = _slopes(tried, at_once, downs, memo)
        found.append(tuple(map(_Expected, downs, slopes)))
    return found


def _downs(
    tried: Sequence[Tried], at_once: Sequence[LoadStep], memo: Memo, inputs: Inputs | None = None
) -> tuple[tuple[float, ...], ...] | NoTest:
    marks = [[(read.wall, read.along) for read in step.reads] for step in at_once]
    piles = [_piles(step) for step in at_once]
    return statics.under_all(tried, piles, marks, memo, hours=at_once[0].hours, inputs=inputs)


def _rows(
    design: Design, steps: Sequence[LoadStep], expected: Sequence[_Expected], on: Sequence[bool]
) -> tuple[Row, ...]:
    rows: list[Row] = []
    for number, (step, own, loaded) in enumerate(zip(steps, expected, on, strict=True), 1):
        for read, at, slope in zip(step.reads, own.downs, own.slopes, strict=True):
            _, sd = PRIOR.of(at, slope)
            half = 1.645 * (sd**2 + READING[step.tool] ** 2 + (LOCAL * at) ** 2) ** 0.5
            rows.append(
                Row(
                    number,
                    step.hours,
                    step.total,
                    read.wall,
                    read.along,
                    _rod(design, read),
                    at,
                    max(0.0, at - half) if loaded else 0.0,
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
    tried: Sequence[Tried],
    at_once: Sequence[LoadStep],
    expected: Sequence[Sequence[float]],
    memo: Memo,
) -> list[tuple[Slope, ...]]:
    """How each reading of a step changes with bed and glue (central differences, contacts solved anew) and the rest."""
    if not any(step.puts for step in at_once):
        return [((0.0, 0.0, 0.0),) * len(step.reads) for step in at_once]
    sides = []
    for k, size in enumerate(STEP):
        for sign in (1.0, -1.0):
            move = [0.0, 0.0]
            move[k] = sign * size
            inputs = replace(
                NOMINAL, bed=NOMINAL.bed + move[0], adhesive=NOMINAL.adhesive + move[1]
            )
            downs = _downs(tried, at_once, memo, inputs)
            nothing = tuple((0.0,) * len(step.reads) for step in at_once)
            sides.append(nothing if isinstance(downs, NoTest) else downs)
    return [
        tuple(
            ((a - b) / (2 * STEP[0]), (c - d) / (2 * STEP[1]), at)
            for a, b, c, d, at in zip(*own, at_places, strict=True)
        )
        for *own, at_places in zip(*sides, expected, strict=True)
    ]


def _over(
    tried: Sequence[Tried], steps: Sequence[Sequence[LoadStep]], memo: Memo
) -> Check | NoTest | None:
    """The row over what a test may ask, if there is one, under the heaviest step."""
    asked = statics.asks_of_all(tried, [_piles(step) for step in _heaviest(steps)], memo)
    return asked if isinstance(asked, NoTest) or (asked is not None and asked.ratio > 1) else None


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
    expected: Sequence[_Expected],
    over: Check | NoTest | None,
) -> ReadBack:
    design, own = group.designs[k], steps[k]
    every = list(zip(*steps, strict=True))
    stood = [tuple(step.puts for step in at_once) for at_once in every]
    most = _heaviest(steps)
    full = [s.hours for s, at in zip(own, every, strict=True) if _total(at) >= _total(most) - 1e-9]
    on = [any(puts) for puts in stood]
    rows = _rows(design, own, expected, on)
    narrowed, loose = _narrow(own, expected, rows, stood)
    # Off and read before the whole weight stood tells nothing of what it left behind.
    whole = [n for n, at in enumerate(every, 1) if _total(at) >= _total(most) - 1e-9]
    off = [n for n in range(whole[-1] + 1, len(on) + 1) if not on[n - 1]]
    growth, recovery = _growth(rows, stood), _recovery(rows, off)
    even, single, total = _allows(design, most[k])
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
        why=(*_moved(rows, on), *_why(job, over, recovery, growth, loose, narrowed, bare)),
        still=_still(design, rows, whole, off, max(full, default=0.0), recovery)
        if most[k].total > 0
        else (),
        even=even,
        single=single,
        total=total,
    )


def _still(
    design: Design,
    rows: Sequence[Row],
    whole: Sequence[int],
    off: Sequence[int],
    held: float,
    recovery: float | None,
) -> tuple[str, ...]:
    """What of a test is still to be done: all its weight for a day, and readings at every rod, soon, then and after.

    Args:
        design: the shelf.
        rows: its readings.
        whole: the steps in which all of the weight stood.
        off: those after, in which nothing stood.
        held: for how long all of the weight stood (h).
        recovery: share that came back, None if that cannot be said.
    """
    loaded = [row for row in rows if row.step in whole]
    early = [row for row in loaded if row.hours <= SOON]
    late = [row for row in loaded if row.hours >= HOLD]
    bare = [row for row in rows if row.step in off]

    def unread(at: Sequence[Row]) -> str:
        seen = {row.rod for row in at}
        return ", ".join(rod.mark for rod in design.frame.rods if rod.mark not in seen)

    def apart(at: Sequence[Row], before: Sequence[Row]) -> list[str]:
        """Rods that were read both times, but never twice at one place."""
        both = {row.rod for row in at} & {row.rod for row in before}
        return sorted(both - {row.rod for row in at if _at(row, before)})

    found = []
    if soon := unread(early):
        found.append(
            f"the front is to be read within an hour of the whole weight, at {soon} too: nobody could say whether it "
            "goes on creeping"
        )
    if held < HOLD:
        found.append("the whole weight has to stand for 24 hours")
    elif then := unread(late):
        found.append(f"the front is to be read under the whole weight after a day, at {then} too")
    elif elsewhere := apart(late, early):
        found.append(_again_at("a day after", elsewhere))
    if after := unread(bare):
        found.append(f"the front is to be read again with the weights off, at {after} too")
    elif elsewhere := apart(bare, loaded):
        found.append(_again_at("with the weights off", elsewhere))
    elif recovery is None:
        found.append(
            "it went down too little to tell how much came back: nobody can say that it recovers"
        )
    return tuple(found)


def _again_at(when: str, marks: Sequence[str]) -> str:
    return (
        f"the front is to be read {when} where it was read before, at {', '.join(marks)}: the places as written are "
        f"more than {PLACE:.0f} mm (1 in) apart"
    )


def _at(row: Row, rows: Sequence[Row]) -> list[Row]:
    """The readings of the same place as one."""
    return [r for r in rows if r.wall == row.wall and abs(r.along - row.along) <= PLACE]


def _moved(rows: Sequence[Row], on: Sequence[bool]) -> Iterator[str]:
    """A front that stands higher than before any weight: what it was read against has moved."""
    for row in rows:
        if not on[row.step - 1] and row.read < -MOVED * row.near:
            yield "the front stands higher than before the test: the mark that it is read against has moved"
            return


Puts = tuple[tuple[PutOn, ...], ...]
"""What stood on every shelf of a group at once."""


def _narrow(
    steps: Sequence[LoadStep],
    expected: Sequence[_Expected],
    rows: Sequence[Row],
    stood: Sequence[Puts],
) -> tuple[Narrowed | None, tuple[str, ...]]:
    """Wood and glue after all readings under weight, read soonest at each weight; and rods that stand out."""
    loaded = [n for n, puts in enumerate(stood, 1) if any(puts)]
    first = [
        min(group, key=lambda n: steps[n - 1].hours)
        for _, group in groupby(loaded, key=lambda n: stood[n - 1])
    ]
    used = [row for n in first for row in rows if row.step == n]
    if not used:
        return None, ()
    made = doubt.narrowed(
        PRIOR,
        [row.predicted for row in used],
        [slope for n in first for slope in expected[n - 1].slopes],
        [row.read for row in used],
        [(row.near**2 + (LOCAL * row.predicted) ** 2) ** 0.5 for row in used],
    )
    out = {row.rod for row, off in zip(used, made.off, strict=True) if off > ALONE}
    worst = max(zip(made.off, used, strict=True), key=lambda pair: pair[0])[1].rod
    # Where most stand out, it is not a rod that is wrong; beside a loose one its neighbours stand out too.
    alone = out and 2 * len(out) <= len({row.rod for row in used})
    return made, (worst,) if alone else ()


def _growth(rows: Sequence[Row], stood_on: Sequence[Puts]) -> Growth | None:
    """The greatest growth beyond the forecast while one set of weights stood, from the first to the last reading.

    On the average of all places; or at one place alone, where it is more than reading it twice explains by far.
    """
    found: list[Growth] = []
    loaded = [n for n, puts in enumerate(stood_on, 1) if any(puts)]
    for _, group in groupby(loaded, key=lambda n: stood_on[n - 1]):
        steps = set(group)
        pairs = list(_first_and_last([row for row in rows if row.step in steps]))
        if pairs:
            every, each = _grown(pairs), [_grown([pair]) for pair in pairs]
            alone = [one for one in each if one.beyond > ALONE * one.near * math.sqrt(2)]
            found += [every] if every.too_much else [*alone, every]
    return max(found, key=lambda one: (one.too_much, one.beyond), default=None)


def _first_and_last(rows: Sequence[Row]) -> Iterator[tuple[Row, Row]]:
    """The first and the last reading of every place that was read more than once."""
    left = sorted(rows, key=lambda row: row.hours)
    while left:
        here = _at(left[0], left)
        if here[-1].hours > here[0].hours:
            yield here[0], here[-1]
        left = [row for row in left if row not in here]


def _grown(pairs: Sequence[tuple[Row, Row]]) -> Growth:
    """How much further the front went down from first to last readings, on the average."""
    return Growth(
        len(pairs),
        (min(first.hours for first, _ in pairs), max(last.hours for _, last in pairs)),
        sum(last.read - first.read for first, last in pairs) / len(pairs),
        sum(last.predicted - first.predicted for first, last in pairs) / len(pairs),
        max(row.near for pair in pairs for row in pair),
    )


def _recovery(rows: Sequence[Row], off: Sequence[int]) -> float | None:
    """What came back of the deepest reading, at the place where least did; None if that cannot be said.

    At every place the last reading without weights counts, and the deepest before it. off: the steps after the whole
    weight, in which nothing stood.
    """
    last: list[Row] = []
    for row in sorted((r for r in rows if r.step in off), key=lambda r: -r.step):
        last += [] if _at(row, last) else [row]
    shares = []
    for row in last:
        deepest = max((r.read for r in _at(row, rows) if r.step < row.step), default=0.0)
        if deepest > max(READING.values()):
            shares.append(1 - row.read / deepest)
    return min(shares, default=None)


def _allows(design: Design, step: LoadStep) -> tuple[float, float, float]:
    """What a test of so much allows, divided by 1.25: on every length (N/mm), one thing, in all (kg).

    The one thing is the heaviest weights of one place, the rest counts as even over the legs, the leg with least on its
    length first; along a leg what some rod gets of it by the lever rule, the one with least of what an even load would
    give it. Of weights in one place those are left to the even load that it wants more, beside the job's own contents
    and one thing. A weight nearer to the wall than what the limit speaks of turns the rods less, and counts by its
    lever.
    """
    piles = _piles(step)
    if not piles:
        return 0.0, 0.0, 0.0
    wanted = (statics.most_even(design), design.demand.single)
    told = [
        (_as_even(design, rest), _as_one(design, spot)) for spot, rest in _splits(design, piles)
    ]
    times = statics.MOST

    def covers(each: tuple[float, float]) -> tuple[float, float, float]:
        shares = [
            min(1.0, a / times / b) if b > 0 else 1.0 for a, b in zip(each, wanted, strict=True)
        ]
        return (min(shares), *each)

    even, single = max(told, key=covers)
    total = sum(p.mass * _counts(design, p, CONTENTS) for p in piles)
    return even / times, single / times, total / times


def _splits(
    design: Design, piles: Sequence[Pile]
) -> Iterator[tuple[Sequence[Pile], Sequence[Pile]]]:
    """What may have been the one thing, the heaviest weights of one place, and all the others."""
    for one in piles:
        near = [p for p in piles if _one_place(p, one)]
        near.sort(key=lambda p: -p.mass * _counts(design, p, PATCH))
        for count in range(1, len(near) + 1):
            spot = near[:count]
            yield spot, [p for p in piles if all(p is not each for each in spot)]


def _as_one(design: Design, spot: Sequence[Pile]) -> float:
    return sum(p.mass * _counts(design, p, PATCH) for p in spot)


def _as_even(design: Design, rest: Sequence[Pile]) -> float:
    return min(statics.even_of(design, leg, rest) for leg in design.frame.legs)


def _one_place(put: Pile, other: Pile) -> bool:
    return put.wall == other.wall and abs(put.along - other.along) < SAME


def _counts(design: Design, put: Pile, deep: float) -> float:
    """What share of itself a weight counts for; nothing on a wall that the shelf is not on."""
    depth = next((leg.depth for leg in design.frame.legs if leg.wall == put.wall), None)
    return 0.0 if depth is None else statics.counts(put.out, depth, deep)


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
        found.append(_HOT)
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
