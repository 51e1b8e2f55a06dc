"""What readings of a load test tell: what came back, what goes on creeping, a loose rod, what is still to do."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from ledgewright import doubt
from ledgewright.doubt import Narrowed
from ledgewright.job import LoadStep, PutOn
from ledgewright.judge import Design
from ledgewright.site.expected import LOCAL, PRIOR, READING, Expected, Row

HOLD = 24.0
"""Hours that the whole weight stands."""
SOON = 1.0
"""So many hours after it is on the first reading is taken at the latest: what grows before is not seen (our choice)."""
PLACE = 25.0
"""Readings at places nearer than this to one another are of one place (mm; an inch of tape along the front)."""
ALONE = 3.0
"""A reading so many standard deviations lower than the others lead to expect names a loose rod (our choice)."""
MOVED = 4 * math.sqrt(2)
"""A front that reads so many standard deviations above where it stood before has a moved mark: 4, of two readings."""


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


def still(
    design: Design,
    rows: Sequence[Row],
    whole: Sequence[int],
    off: Sequence[int],
    held: float,
    recovery: float | None,
) -> tuple[str, ...]:
    """Return what of a test is still to be done: all its weight for a day; every rod read soon, then and after.

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


def moved(rows: Sequence[Row], on: Sequence[bool]) -> Iterator[str]:
    """Yield why a front stands higher than before any weight: what it was read against has moved.

    Args:
        rows: its readings.
        on: of every step, whether anything stood on any shelf.
    """
    for row in rows:
        if not on[row.step - 1] and row.read < -MOVED * row.near:
            yield "the front stands higher than before the test: the mark that it is read against has moved"
            return


Puts = tuple[tuple[PutOn, ...], ...]
"""What stood on every shelf of a group at once."""


def narrow(
    steps: Sequence[LoadStep],
    expected: Sequence[Expected],
    rows: Sequence[Row],
    stood: Sequence[Puts],
) -> tuple[Narrowed | None, tuple[str, ...]]:
    """Return wood and glue after all readings under weight, read soonest at each weight; and rods that stand out.

    Args:
        steps: of one shelf.
        expected: of it in every step.
        rows: its readings.
        stood: what stood on every shelf, by step.
    """
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


def growth_of(rows: Sequence[Row], stood: Sequence[Puts]) -> Growth | None:
    """Return the greatest growth beyond the forecast while one set of weights stood, from first to last reading.

    On the average of all places; or at one place alone, where it is more than reading it twice explains by far.

    Args:
        rows: readings of one shelf.
        stood: what stood on every shelf, by step.
    """
    found: list[Growth] = []
    loaded = [n for n, puts in enumerate(stood, 1) if any(puts)]
    for _, group in groupby(loaded, key=lambda n: stood[n - 1]):
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


def recovery_of(rows: Sequence[Row], off: Sequence[int]) -> float | None:
    """Return what came back of the deepest reading, at the place where least did; None if that cannot be said.

    At every place the last reading without weights counts, and the deepest before it.

    Args:
        rows: readings of one shelf.
        off: the steps after the whole weight, in which nothing stood.
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
