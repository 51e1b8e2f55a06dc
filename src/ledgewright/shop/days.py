"""From tasks to days: the earliest finish with one crew, its shop hours and its days off.

One crew does one thing at a time. A visit to the site is not broken off for work in the shop, and begins in the
morning, but for a short look that nothing is set up for; what must be done in one go is not broken off for the night.
Times are whole minutes from midnight before the first day, so that sums are exact.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import cached_property
from typing import NamedTuple

from ledgewright.job import Bench
from ledgewright.shop.tasks import TRIPS, Task

A_DAY = 24 * 60
MORNING = 8 * 60
"""When a day begins (minutes after midnight): 8 o'clock, assumed."""
MONDAY = date(2001, 1, 1)
"""Where no date is given days are counted from a Monday."""
WORTH = 30
"""Nothing is begun for less than this before the end of a day (minutes): our choice."""
MOST_NODES = 20_000
NO_END = 2**31 - 1
"""More clamps than anybody has."""
FARTHEST = 4000
"""No job looks further ahead than this (days)."""


class NeverDoneError(ValueError):
    """With its days off a shop is not finished within all days that are looked at."""


@dataclass(frozen=True)
class Calendar:
    """When a shop works: its first day, minutes a day, weekdays off (Monday 0), runs of days off, how far it goes."""

    first: date
    minutes: int
    off_days: tuple[int, ...]
    off: tuple[tuple[date, date], ...]
    ahead: int = FARTHEST

    @classmethod
    def of(cls, bench: Bench) -> Calendar:
        """Return the calendar of a shop."""
        first = bench.start or MONDAY
        return cls(first, math.floor(bench.hours_a_day * 60 + 1e-9), bench.off_days, bench.off)

    def day(self, number: int) -> date:
        """Return the date of a day by its number from 0."""
        return self.first + timedelta(days=number)

    @cached_property
    def _next(self) -> tuple[int, ...]:
        """For each day, as far ahead as any job looks, the first working day from it on; shorter if there is none."""
        off = {a + timedelta(days=k) for a, b in self.off for k in range((b - a).days + 1)}
        works = [self._works(self.day(k), off) for k in range(self.ahead)]
        found, now = [], self.ahead
        for k in reversed(range(self.ahead)):
            now = k if works[k] else now
            found.append(now)
        return tuple(day for day in reversed(found) if day < self.ahead)

    def _works(self, day: date, off: AbstractSet[date]) -> bool:
        return day.weekday() not in self.off_days and day not in off

    def _works_from(self, day: int) -> int:
        if day >= len(self._next):
            raise NeverDoneError
        return self._next[day]

    def opens(self, moment: int) -> int:
        """Return the first minute of work at or after a moment.

        Raises:
            NeverDoneError: past all days that are looked at.
        """
        day = self._works_from(moment // A_DAY)
        start = day * A_DAY + MORNING
        if moment <= start:
            return start
        if moment < start + self.minutes:
            return moment
        return self._works_from(day + 1) * A_DAY + MORNING

    def morning(self, moment: int) -> int:
        """Return the first beginning of a working day at or after a moment."""
        start = self._works_from(moment // A_DAY) * A_DAY + MORNING
        return start if moment <= start else self._works_from(moment // A_DAY + 1) * A_DAY + MORNING

    def stints(self, moment: int, minutes: int, *, whole: bool) -> tuple[tuple[int, int], ...]:
        """Return when so much work is done that begins at or after a moment.

        Args:
            moment: not before.
            minutes: of work, at least one.
            whole: not to be broken off for the night, unless it is longer than any day.
        """
        now = self.opens(moment)
        left = self._left(now)
        if left < minutes and ((whole and minutes <= self.minutes) or left < WORTH):
            now = self.morning(now)
        found, rest = [], minutes
        while True:
            done = min(rest, self._left(now))
            found.append((now, now + done))
            rest -= done
            if rest == 0:
                return tuple(found)
            now = self.opens(now + done)

    def _left(self, now: int) -> int:
        return now // A_DAY * A_DAY + MORNING + self.minutes - now


class Piece(NamedTuple):
    """One task of a block: minutes of work, and whether in one go.

    after: for each task of its block that it waits for (by its place in it): clock minutes after its end.
    """

    minutes: int
    whole: bool
    after: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True)
class Job:
    """One block of work for the schedule: tasks done one after another, from the morning on or not.

    after: for each block it waits for (by its place in the list): clock minutes after its end, and whether overnight.
    clamps: how many it takes; they stay on for so many minutes after its end.
    """

    tasks: tuple[Piece, ...]
    morning: bool
    after: tuple[tuple[int, int, bool], ...]
    clamps: int = 0
    stay: int = 0

    @property
    def minutes(self) -> int:
        """Minutes of work in all."""
        return sum(piece.minutes for piece in self.tasks)


Stints = tuple[tuple[int, int], ...]


def place(job: Job, moment: int, calendar: Calendar) -> tuple[Stints, ...]:
    """Return when each task of a block is done, if it begins as soon as may be after a moment."""
    now = calendar.morning(moment) if job.morning else moment
    placed: list[Stints] = []
    for piece in job.tasks:
        now = max([now, *(placed[k][-1][1] + wait for k, wait in piece.after)])
        placed.append(calendar.stints(now, piece.minutes, whole=piece.whole))
        now = placed[-1][-1][1]
    return tuple(placed)


def ready(job: Job, ends: Mapping[int, int]) -> int:
    """Return the earliest moment a block may begin, once all that it waits for is done."""
    moments = [0]
    for other, wait, overnight in job.after:
        end = ends[other]
        moments.append(end + wait)
        if overnight:
            moments.append(((end - 1) // A_DAY + 1) * A_DAY)
    return max(moments)


def begins(
    k: int, jobs: Sequence[Job], now: int, ends: Mapping[int, int], clamps: int = NO_END
) -> int:
    """Return the earliest moment a block may begin: what it waits for is done, and enough clamps are off again.

    Args:
        k: of the block.
        jobs: all blocks.
        now: when the crew is free.
        ends: of the blocks that are done.
        clamps: how many there are; a block that takes more waits until all are off.
    """
    begin, job = max(now, ready(jobs[k], ends)), jobs[k]
    if not job.clamps:
        return begin
    on = sorted((end + jobs[j].stay, jobs[j].clamps) for j, end in ends.items() if jobs[j].clamps)
    taken = sum(count for off, count in on if off > begin)
    for off, count in on:
        if off > begin and taken + job.clamps > clamps:
            begin, taken = off, taken - count
    return begin


@dataclass
class _Search:
    """Depth first over the orders in which blocks can be done; what cannot beat the best so far is left."""

    jobs: Sequence[Job]
    calendar: Calendar
    most: int = MOST_NODES
    clamps: int = NO_END
    best: int | None = None
    order: tuple[int, ...] = ()
    nodes: int = 0
    seen: dict[frozenset[int], list[tuple[int, ...]]] = field(default_factory=dict)

    @cached_property
    def tails(self) -> tuple[int, ...]:
        """The least from the beginning of each block to the end of all: work and waits, without nights."""
        tails = [job.minutes for job in self.jobs]
        for k in reversed(range(len(self.jobs))):
            for other, wait, _ in self.jobs[k].after:
                tails[other] = max(tails[other], self.jobs[other].minutes + wait + tails[k])
        return tuple(tails)

    @property
    def proven(self) -> bool:
        """Whether every order was looked at or ruled out."""
        return self.nodes <= self.most

    def run(self) -> None:
        self._step((), 0, {}, 0)

    def _step(self, order: tuple[int, ...], now: int, ends: dict[int, int], finish: int) -> None:
        self.nodes += 1
        if self.nodes > self.most and self.best is not None:
            return
        left = [k for k in range(len(self.jobs)) if k not in ends]
        if not left:
            if self.best is None or finish < self.best:
                self.best, self.order = finish, order
            return
        can = [k for k in left if all(other in ends for other, _, _ in self.jobs[k].after)]
        first = {k: begins(k, self.jobs, now, ends, self.clamps) for k in can}
        if self._hopeless(left, first, now) or self._beaten(left, now, ends):
            return
        placed = {k: place(self.jobs[k], first[k], self.calendar) for k in can}
        for k in sorted(can, key=lambda k: (placed[k][0][0][0], -self.tails[k], k)):
            end = placed[k][-1][-1][1]
            self._step((*order, k), end, {**ends, k: end}, max(finish, end))

    def _opens(self, k: int, begin: int) -> int:
        job = self.jobs[k]
        return self.calendar.morning(begin) if job.morning else self.calendar.opens(begin)

    def _hopeless(self, left: Sequence[int], first: Mapping[int, int], now: int) -> bool:
        if self.best is None:
            return False
        path = max(self._opens(k, begin) + self.tails[k] for k, begin in first.items())
        minutes = sum(self.jobs[k].minutes for k in left)
        work = self.calendar.stints(now, minutes, whole=False)[-1][1]
        return max(path, work) >= self.best

    def _beaten(self, left: Sequence[int], now: int, ends: Mapping[int, int]) -> bool:
        """Whether the same blocks were done before, with nothing later: crew, what others wait for, clamps."""
        off = (ends[k] + self.jobs[k].stay for k in sorted(ends) if self.jobs[k].clamps)
        state = (now, *(self._partly(k, ends) for k in left), *off)
        known = self.seen.setdefault(frozenset(ends), [])
        if any(all(a <= b for a, b in zip(old, state, strict=True)) for old in known):
            return True
        known.append(state)
        return False

    def _partly(self, k: int, ends: Mapping[int, int]) -> int:
        """The earliest a block may begin by those of its waits that have begun."""
        job = self.jobs[k]
        known = tuple(after for after in job.after if after[0] in ends)
        return ready(Job(job.tasks, job.morning, known), ends)


def earliest(
    jobs: Sequence[Job], calendar: Calendar, most: int = MOST_NODES, clamps: int = NO_END
) -> tuple[tuple[int, ...], bool]:
    """Return the order of blocks that is finished first, and whether that is proven.

    Source: depth first with bounds (own); held by the tests to every order tried one by one.

    Args:
        jobs: blocks; each waits only for blocks before it in the list.
        calendar: when the crew works.
        most: how many steps of the search are taken at the most.
        clamps: how many there are.

    Raises:
        NeverDoneError: if it goes past all days that are looked at.
    """
    search = _Search(jobs, calendar, most, clamps)
    search.run()
    return search.order, search.proven


@dataclass(frozen=True)
class Done:
    """When one task is done: (start, end) in minutes for each day it is worked on."""

    task: Task
    stints: Stints

    @property
    def start(self) -> int:
        """When it begins."""
        return self.stints[0][0]

    @property
    def end(self) -> int:
        """When it ends."""
        return self.stints[-1][1]


@dataclass(frozen=True)
class Waited:
    """A wait that goes on by itself: why, for which task, from when to when (minutes)."""

    why: str
    task: str
    start: int
    end: int


@dataclass(frozen=True)
class Days:
    """The schedule of a job. proven: no other order is finished earlier, one thing at a time.

    dated: whether the job says when it begins; else days are counted from a Monday. hard: when its finish is, 0 without
    one; heavy: from when heavy things may stand on it. working: how many days somebody works on it.
    """

    done: tuple[Done, ...]
    waits: tuple[Waited, ...]
    calendar: Calendar
    finish: int
    hard: int
    proven: bool
    dated: bool

    @property
    def heavy(self) -> int:
        """From when heavy things may stand on it: it is finished, and its finish hard."""
        return max(self.finish, self.hard)

    @property
    def heavy_day(self) -> int:
        """A moment on the first day on which heavy things may stand from its morning on."""
        begun = self.heavy == self.finish or self.heavy % A_DAY <= MORNING
        return self.heavy if begun else (self.heavy // A_DAY + 1) * A_DAY

    @property
    def working(self) -> int:
        """How many days somebody works on it."""
        return len({start // A_DAY for each in self.done for start, _ in each.stints})

    def date(self, moment: int) -> date:
        """Return the date of a moment."""
        return self.calendar.day(moment // A_DAY)


def clock(moment: int) -> str:
    """Return the time of day of a moment as 14:05."""
    hours, minutes = divmod(moment % A_DAY, 60)
    return f"{hours:02d}:{minutes:02d}"


def days(
    tasks: Sequence[Task], bench: Bench, hardens: Mapping[str, float], clamps: int = NO_END
) -> Days:
    """Return when everything is done.

    Args:
        tasks: each waits only for tasks before it.
        bench: days and hours of the shop.
        hardens: for each task that is a last coat: hours until heavy things may stand on it.
        clamps: how many there are.

    Raises:
        NeverDoneError: if it goes past all days that are looked at.
    """
    dated = [task for task in tasks if task.dated]
    blocks = _blocks(dated)
    calendar = Calendar.of(bench)
    jobs = [_job(block, blocks) for block in blocks]
    order, proven = earliest(jobs, calendar, clamps=clamps)
    when: dict[str, Stints] = {}
    ends: dict[int, int] = {}
    now = 0
    for k in order:
        placed = place(jobs[k], begins(k, jobs, now, ends, clamps), calendar)
        when |= {task.id: stints for task, stints in zip(blocks[k], placed, strict=True)}
        ends[k] = now = placed[-1][-1][1]
    done = tuple(
        sorted((Done(task, when[task.id]) for task in dated), key=lambda d: (d.start, d.end))
    )
    finish = max(each.end for each in done)
    hard = [when[task][-1][1] + _minutes(hours) for task, hours in hardens.items()]
    return Days(
        done=done,
        waits=_waits(dated, when),
        calendar=calendar,
        finish=finish,
        hard=max(hard, default=0),
        proven=proven,
        dated=bench.start is not None,
    )


def journeys(tasks: Sequence[Task], bench: Bench) -> int:
    """Return how often somebody goes to the site and back: once a visit, and again for each further day it lasts.

    Args:
        tasks: of the job.
        bench: hours of the shop.
    """
    blocks = _blocks([task for task in tasks if task.dated])
    every = Calendar(MONDAY, Calendar.of(bench).minutes, (), (), ahead=90)
    found = 0
    for block in blocks:
        if block[0].visit:
            placed = place(_job(block, blocks), 0, every)
            found += len({start // A_DAY for stints in placed for start, _ in stints})
    return found


def _minutes(hours: float) -> int:
    return max(1, math.ceil(hours * 60 - 1e-6))


def _blocks(tasks: Sequence[Task]) -> list[list[Task]]:
    """All tasks of a visit are one block; every other task is one by itself."""
    blocks: list[list[Task]] = []
    at: dict[str, int] = {}
    for task in tasks:
        if task.visit in at:
            blocks[at[task.visit]].append(task)
            continue
        if task.visit:
            at[task.visit] = len(blocks)
        blocks.append([task])
    return blocks


def _job(block: Sequence[Task], blocks: Sequence[Sequence[Task]]) -> Job:
    place_of = {task.id: k for k, each in enumerate(blocks) for task in each}
    own = {task.id: k for k, task in enumerate(block)}
    after = [a for task in block for a in task.after if a.task not in own]

    def piece(task: Task) -> Piece:
        inside = ((own[a.task], _minutes(a.wait)) for a in task.after if a.task in own and a.wait)
        return Piece(_minutes(task.hours / task.people), task.whole, tuple(inside))

    return Job(
        tasks=tuple(piece(task) for task in block),
        morning=block[0].visit in TRIPS,
        after=tuple(
            (place_of[a.task], _minutes(a.wait) if a.wait else 0, a.overnight) for a in after
        ),
        clamps=max(task.clamps for task in block),
        stay=max((_minutes(task.stay) for task in block if task.stay), default=0),
    )


def _waits(tasks: Sequence[Task], when: Mapping[str, Stints]) -> tuple[Waited, ...]:
    found: dict[tuple[str, str], Waited] = {}
    for task in tasks:
        for a in task.after:
            if a.wait > 0:
                end = when[a.task][-1][1]
                until = Waited(a.why, a.task, end, end + _minutes(a.wait))
                had = found.get((a.task, a.why))
                if had is None or had.end < until.end:
                    found[a.task, a.why] = until
    return tuple(sorted(found.values(), key=lambda w: (w.start, w.end, w.why)))
