"""How much a shelf may carry by its statics: so much on every length, one heavy thing anywhere, so much in all."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, field, replace
from typing import Protocol

from ledgewright import plane
from ledgewright.job import Demand, Even, Flush
from ledgewright.memo import Memo
from ledgewright.statics.bases import Combination
from ledgewright.statics.families import FAMILIES
from ledgewright.statics.given import Given
from ledgewright.statics.loads import CONTENTS, G_N
from ledgewright.statics.model import CannotSay, Check, Holds, LoadLimit, NoLimit, Stop
from ledgewright.statics.on_section import PARTS, Judged, Part, Shelf, judge, ready
from ledgewright.statics.one_rod import MODEL
from ledgewright.statics.patterns import Known, Pattern
from ledgewright.statics.pressed import named
from ledgewright.statics.stand import Stood

SINGLE = 30.0
"""The one heavy thing that a limit allows for where the job names none (kg)."""
CLOSE = 0.005
"""The limit is found to this share of it, from below."""
BEGIN = 0.3
"""Where the search begins: about 30 kg/m (N/mm)."""
TELLS = 0.85
"""Rows that come to so much where the limit will be: the patterns that lead to them are tried again."""
WIDE = 0.6
"""Rows that come to so much of the worst one: the patterns that lead to them are tried again with less on the shelf."""
MOST = 20.0
"""More than this on a length of shelf is not looked for: about two tonnes a metre (N/mm)."""
LESSER = (0.75, 0.25)
"""Shares of a limit at which less is looked at too: less on a shelf may ask more of a rod that lets go."""
APART = ("acc.hold@top skin/skin.patch",)
"""The accident on its own foot, which no contents change; here it would be the accident and one thing on one foot."""


@dataclass(frozen=True)
class _Tried:
    """A load on every length of the shelf (N/mm), and the row that it takes furthest."""

    even: float
    row: Check

    @property
    def over(self) -> float:
        """By how much it is too much; not above 0 where everything passes."""
        return self.row.ratio - 1


def load_limit(given: Given, stood: Stood, memo: Memo) -> LoadLimit | NoLimit:
    """Return the most that a shelf may carry by its statics alone, or why none can be given.

    None is to be asked for where anything is `lacking`.

    docs/statics.md, "Load limit". The contents of the job make way for an even load along every leg, flush with the
    front as contents by length are, or against the wall, any part of it there or not; self-weight, one thing at its
    worst place and the accidental load stay, the accident with the one thing at the same place. All ratios at or under
    1, for this load and for less of it.

    Args:
        given: the shelf; of its loads the one thing, the accident and the limits count.
        stood: on its section model.
        memo: kept by the caller, for what a shape alone decides.
    """
    flush: Flush = "front"
    asked = asked_for(given.demand)
    shelf = ready(replace(given, demand=asked), stood, memo, keep=False)
    if isinstance(shelf, tuple):
        return NoLimit(shelf[0].why)
    length = sum(plane.length(plane.sub(*leg.front)) for leg in given.frame.legs)
    trying = Trying(shelf)
    found = find(trying)
    if isinstance(found, NoLimit):
        return found
    if max(leg.depth for leg in given.frame.legs) > CONTENTS:
        # What presses near the wall pulls the skins off the core at an inside corner: contents may stand there.
        against = replace(given, demand=asked_for(given.demand, flush="back"))
        behind = Trying(_sure(ready(against, stood, memo, keep=False)))
        if behind.full(found.even).ratio > 1:
            flush, trying, found = "back", behind, find(behind)
            if isinstance(found, NoLimit):
                return found
    stop = stopped(found, trying.worked(found.over))
    by = stop.row if stop else found.row
    return LoadLimit(
        even=found.even,
        single=asked.single,
        total=found.even * length / G_N + asked.single,
        limited_by=by.id,
        title=by.title,
        place=by.place,
        case=by.case,
        stop=stop,
        flush=flush,
    )


def lacking(held: Holds) -> str:
    """Return what must be known, accepted or mended before a limit can be given; empty if nothing.

    Args:
        held: the rows of a shelf under the job's own loads.
    """
    if held.cannot_say:
        first = held.cannot_say[0]
        named = {MODEL: "the model"} | {each.id: each.title for each in FAMILIES}
        if first.family not in named:
            return f"{first.family}: {first.why}"
        return f"{named[first.family]} has no answer: {first.why}"
    open_rows = [r for r in held.checks if r.state == "cannot say" and not r.information]
    if open_rows:
        return f"{open_rows[0].title}: {open_rows[0].reason}"
    lost = [r for r in held.checks if _lost(r)]
    if lost:
        return f"{lost[0].title}, whatever it carries" + (
            f": {lost[0].reason}" if lost[0].reason else ""
        )
    return ""


def _sure(shelf: Shelf | tuple[CannotSay, ...]) -> Shelf:
    """A shelf that was ready under a load flush with the front is ready under one against the wall."""
    if isinstance(shelf, tuple):
        raise TypeError(shelf[0].why)
    return shelf


def _lost(row: Check) -> bool:
    """Whether a row is outside its sources, or fails for something that no contents change."""
    unchanged = row.family == "bed.edge" or row.id in APART
    return not row.information and (row.scope == "out" or (row.state == "fails" and unchanged))


def asked_for(demand: Demand, flush: Flush = "front") -> Demand:
    """Return the loads of a limit: one newton on every millimetre, one thing, the accident."""
    even = Even("contents", None, 1.0, None, None, None, "years", assumed=False, flush=flush)
    return replace(demand, loads=(even,), single=demand.single or SINGLE)


def under(shelf: Shelf, even: float) -> Shelf:
    """Return a shelf, ready under the loads of `asked_for`, with so much on every length (N/mm)."""
    acting, S = shelf.acting, shelf.demand.single * G_N
    force = max((a.force for a in acting.atoms if a.kind == "accident"), default=0.0)
    both = (force + S) / force if force else 1.0
    return replace(shelf, acting=acting.times(live=even, accident=both))


@dataclass(frozen=True)
class Found:
    """The greatest load that passes, the one just above it (N/mm), and the row that is taken furthest there."""

    even: float
    over: float
    row: Check


def stopped(found: Found, rows: Sequence[Check]) -> Stop | None:
    """Return the row that stops a limit with its derivation; None where nothing does.

    Args:
        found: the limit.
        rows: with their derivations, under the load just above it.
    """
    same = (row for row in rows if row.id == found.row.id and row.ratio > 1)
    return next((Stop(found.over, row) for row in same), None)


class Trial(Protocol):
    """The worst row of a shelf under so much on every length (N/mm): under every pattern, or under those that told."""

    def full(self, even: float) -> Check:
        """Return the worst row under every pattern."""
        ...

    def quick(self, even: float) -> Check:
        """Return the worst row under the patterns that told so far: never more than `full`, and soon as much."""
        ...

    def lesser(self, even: float) -> Check:
        """Return the worst row under more of the patterns that told so far."""
        ...


Told = dict[tuple[str, str, int | None, bytes], tuple[Combination, Pattern]]
"""Patterns that told, by situation, combination, proud rod and what is there."""


@dataclass
class Trying:
    """A shelf under ever other loads, with the patterns that may ask most of some row where the limit will be.

    tells: rows count that come to so much where, drawn out in a line from two full looks, the first row is taken in
    full; after one look, rows that come to so much of the worst. asked: the parts that these rows are made of. wide:
    the same patterns and those of rows that come to `WIDE` of the worst. known: of what touched in the last look, where
    the next one begins. looks: load and rows of full looks.
    """

    shelf: Shelf
    told: Told = field(default_factory=dict)
    wide: Told = field(default_factory=dict)
    known: Known = field(default_factory=Known)
    tells: float = TELLS
    asked: set[Part] = field(default_factory=set)
    looks: list[tuple[float, dict[str, float]]] = field(default_factory=list)

    def full(self, even: float) -> Check:
        """Return the worst row under every pattern, those that told with them; what tells is kept."""
        shelf = under(self.shelf, even)
        search = replace(shelf.search, known=replace(self.known, near=None))
        judged = judge(shelf, search=search, first=list(self.told.values()))
        rows = _count(judged.rows)
        telling = self._telling(even, rows)
        ids = {row.id for row in telling}
        self.asked |= {p for p, made in judged.parts.items() if any(r.id in ids for r in made)}
        self.told |= _leading(judged, telling)
        least = WIDE * _worst(rows).ratio
        self.wide |= _leading(judged, [row for row in rows if row.ratio > least]) | self.told
        self.looks.append((even, {row.id: row.ratio for row in rows}))
        like = {**self.known.like, **judged.known.like}
        self.known = replace(judged.known, like=like)
        return _worst(rows)

    def _telling(self, even: float, rows: Sequence[Check]) -> list[Check]:
        """The rows that may stop the search: which they are only decides how soon it is over."""
        others = [(at, seen) for at, seen in self.looks if at != even]
        if not others:
            return [row for row in rows if row.ratio > self.tells * _worst(rows).ratio]
        at, seen = min(others, key=lambda look: abs(look[0] - even))
        rise = {row.id: (row.ratio - seen.get(row.id, 0.0)) / (even - at) for row in rows}
        more = [(1 - row.ratio) / rise[row.id] for row in rows if rise[row.id] > 0]
        further = min(more, default=0.0)
        return [
            row
            for row in rows
            if max(row.ratio, row.ratio + rise[row.id] * further) > self.tells
            or row.ratio == _worst(rows).ratio
        ]

    def quick(self, even: float) -> Check:
        """Return the worst row under the patterns that told so far, of the parts that told."""
        return _worst(self.rows(even, self.asked))

    def lesser(self, even: float) -> Check:
        """Return the worst row of all parts under a wider circle of patterns that told so far."""
        return _worst(_count(self._judged(even, self.wide, PARTS).rows))

    def rows(self, even: float, asked: Collection[Part] = PARTS) -> tuple[Check, ...]:
        """Return the rows of what is asked that contents change, under the patterns that told so far."""
        return _count(self._judged(even, self.told, asked).rows)

    def worked(self, even: float) -> tuple[Check, ...]:
        """Return the rows of all parts with their derivations, under the wider circle of patterns that told so far."""
        worked = replace(self, shelf=replace(self.shelf, keep=True))
        return _count(worked._judged(even, self.wide | self.told, PARTS).rows)  # noqa: SLF001  # its own

    def close(self, even: float, share: float) -> tuple[set[Part], Told]:
        """Return what comes to a share of the worst row, under the patterns that told so far.

        Args:
            even: load on every length (N/mm).
            share: of the worst row.

        Returns:
            The parts with such rows; and the patterns that lead to them.
        """
        judged = self._judged(even, self.told, PARTS)
        least = share * _worst(judged.rows).ratio
        parts = {
            p for p, rows in judged.parts.items() if any(r.ratio > least for r in _count(rows))
        }
        rows = [r for r in _count(judged.rows) if r.ratio >= least]
        return parts, _leading(judged, rows)

    def _judged(self, even: float, told: Told, asked: Collection[Part]) -> Judged:
        shelf = under(self.shelf, even)
        search = replace(shelf.search, known=self.known)
        return judge(shelf, among=list(told.values()), search=search, asked=asked)


def _leading(judged: Judged, rows: Sequence[Check]) -> Told:
    """The patterns that lead to rows."""
    names = {row.case for row in rows}
    return {
        (
            case.combination.situation,
            case.combination.id,
            case.pattern.proud,
            case.pattern.there.tobytes(),
        ): (case.combination, case.pattern)
        for case in judged.cases
        if named(case) in names
    }


def _count(rows: Sequence[Check]) -> tuple[Check, ...]:
    """The rows that contents change."""
    return tuple(
        row
        for row in rows
        if not row.information and row.family != "bed.edge" and row.id not in APART
    )


def _worst(rows: Sequence[Check]) -> Check:
    """The row that is taken furthest, of those that contents change."""
    return max(_count(rows), key=lambda row: row.ratio)


def find(trial: Trial) -> Found | NoLimit:
    """Return the greatest load that passes with lesser ones looked at, and the row that stops it.

    Regula falsi with halving (Illinois: Dowell and Jarratt 1971) under the patterns that told so far, then under every
    pattern, anew with what that told, until both agree. A lesser load that fails becomes the new bound.

    Args:
        trial: the worst row under a load on every length (N/mm).
    """
    zero = _Tried(0.0, trial.full(0.0))
    if zero.over > 0:
        return NoLimit(
            f"self-weight, one heavy thing and the accidental load are too much already: {zero.row.title}, "
            f"{zero.row.ratio:.2f} times what it can take"
        )
    high = _Tried(BEGIN, trial.full(BEGIN))
    while True:
        low, high = _closed_in(zero, _too_much(zero, high, trial.quick), trial.quick)
        # Where even the most that is looked for passes quickly, that is what is looked at in full.
        low = high if high.over <= 0 else low
        tried = _Tried(low.even, trial.full(low.even))
        if tried.over > 0:
            high = tried
            continue
        failed = [t for t in _lesser(low.even, trial) if t.over > 0]
        if not failed:
            return Found(low.even, high.even, high.row)
        high = failed[0]


def _too_much(low: _Tried, high: _Tried, of: Callable[[float], Check]) -> _Tried:
    """Return a load that is too much, looked for where the ratio would reach 1; or the most that is looked for."""
    while high.over <= 0 and high.even < MOST:
        rise, even = high.over - low.over, high.even * 4
        if rise > 0:
            even = min(even, high.even - high.over * (high.even - low.even) / rise * 1.02 + 1e-3)
        even = min(even, MOST)
        high = _Tried(even, of(even))
    return high


def _closed_in(low: _Tried, high: _Tried, of: Callable[[float], Check]) -> tuple[_Tried, _Tried]:
    """Return two loads as close as asked for, of which the lower passes; the same where the higher one does."""
    weigh = [1.0, 1.0]
    while high.over > 0 and high.even - low.even > CLOSE * high.even and high.even > 1e-4:
        a, b = low.over * weigh[0], high.over * weigh[1]
        share = min(max(-a / (b - a), 0.02), 0.98)
        # Aim a little below where it crosses: the answer is wanted from below.
        even = low.even + (high.even - low.even) * share
        even = max(even - CLOSE / 3 * high.even, low.even + 0.1 * (even - low.even))
        tried = _Tried(even, of(even))
        if tried.over > 0:
            high, weigh = tried, [weigh[0] / 2, 1.0]
        else:
            low, weigh = tried, [1.0, weigh[1] / 2]
    return low, high


def _lesser(even: float, trial: Trial) -> list[_Tried]:
    """Less than a limit: half of it under every pattern, other shares under those that told."""
    tried = [_Tried(share * even, trial.lesser(share * even)) for share in LESSER]
    return [*tried, _Tried(even / 2, trial.full(even / 2))]
