"""What shelves on the same studs or blocks may carry, all of them at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import partial

from ledgewright.memo import Memo
from ledgewright.statics.given import Given
from ledgewright.statics.limit import LESSER, Found, asked_for, find, stopped, under
from ledgewright.statics.model import Check, LoadLimit, NoLimit
from ledgewright.statics.on_section import ON_MEMBERS, Shelf, driven, fallen, ready
from ledgewright.statics.patterns import Known
from ledgewright.statics.scout import run
from ledgewright.statics.shared import DROPS, OnMembers, further, on_shared, pressing, with_others
from ledgewright.statics.stand import Stood


@dataclass
class _Part:
    """One shelf under the loads of its limit; what touched under other loads, where the next solve begins."""

    name: str
    shelf: Shelf
    alone: LoadLimit
    known: Known = field(default_factory=Known)

    def at(self, share: float) -> tuple[list[Check], OnMembers]:
        """Return its drop under a share of what it may carry alone, and what it then puts on its members."""
        shelf = under(self.shelf, share * self.alone.even)
        search = replace(shelf.search, known=self.known)
        run(search, shelf.rules.combinations, partial(driven, shelf, ON_MEMBERS))
        self.known = search.learnt
        return fallen(shelf, search), pressing(self.name, shelf, search)


@dataclass(frozen=True)
class Alone:
    """A shelf that shares studs or blocks: what it is, on its section model, and what it may carry by itself.

    beside: numbers of the shelves it shares with.
    """

    given: Given
    stood: Stood
    limit: LoadLimit
    beside: tuple[int, ...]


def limits_together(shelves: Sequence[Alone], memo: Memo) -> tuple[LoadLimit, ...] | NoLimit:
    """Return what shelves that share members may carry, all at once, or why nothing can be said.

    docs/statics.md, "Load limit". Every shelf carries one and the same share of what it may carry by itself, all of it
    at most: the greatest at which the members they share pass, and the drop of each with what the others do to
    these; for that share and for less. With the other shelves empty or gone a shelf is as by itself. Every shelf
    has its one heavy thing; somebody leans on one of them.

    Args:
        shelves: those that hang together by shared members, in the order of the job.
        memo: kept by the caller.
    """
    parts = []
    for each in shelves:
        asked = replace(each.given, demand=asked_for(each.given.demand, each.limit.flush))
        shelf = ready(asked, each.stood, memo, keep=False, box=False)
        if isinstance(shelf, tuple):
            return NoLimit(shelf[0].why)
        parts.append(_Part(each.given.frame.shelf, shelf, each.limit))
    trial = _Together(tuple(parts), tuple(each.beside for each in shelves))
    if all(trial.full(share).ratio <= 1 for share in (1.0, *LESSER, 0.5)):
        return tuple(each.limit for each in shelves)
    found = find(trial)
    if isinstance(found, NoLimit):
        return NoLimit(f"on what the shelves share: {found.why}")
    rows = trial.worked(found.over)
    return tuple(_limited(each.limit, found, rows) for each in shelves)


@dataclass(frozen=True)
class _Together:
    """A trial of shares of what each shelf may carry alone, instead of loads."""

    parts: tuple[_Part, ...]
    beside: tuple[tuple[int, ...], ...]

    def full(self, even: float) -> Check:
        """Return the worst row of the shared members, and of the drop of each shelf, under all of them."""
        return max(self.rows(even), key=lambda row: row.ratio)

    def worked(self, even: float) -> list[Check]:
        """Return all these rows with their derivations."""
        parts = [replace(part, shelf=replace(part.shelf, keep=True)) for part in self.parts]
        return replace(self, parts=tuple(parts)).rows(even, keep=True)

    def rows(self, share: float, *, keep: bool = False) -> list[Check]:
        """Return all these rows, with their derivations where the parts keep theirs."""
        found = [part.at(share) for part in self.parts]
        rows: list[Check] = []
        for (drops, mine), others in zip(found, self.beside, strict=True):
            theirs = [found[k][1] for k in others]
            # What cannot be said of them at all is among the rows of the shelves already.
            made = on_shared(mine, theirs, keep=keep)
            rows += [r for r in made if isinstance(r, Check)]
            extra = further(mine, theirs, creep=False), further(mine, theirs, creep=True)
            rows += [with_others(r, extra, theirs) for r in drops if r.family in DROPS]
        return rows

    def quick(self, even: float) -> Check:
        """Return the same: patterns that tell of one shelf alone need not tell of all."""
        return self.full(even)

    def lesser(self, even: float) -> Check:
        """Return the same."""
        return self.full(even)


def _limited(alone: LoadLimit, found: Found, rows: Sequence[Check]) -> LoadLimit:
    """A share of a limit: the one heavy thing stays whole."""
    share, stop = min(found.even, 1.0), stopped(found, rows)
    by = stop.row if stop else found.row
    return LoadLimit(
        even=share * alone.even,
        single=alone.single,
        total=share * (alone.total - alone.single) + alone.single,
        limited_by=by.id,
        title=by.title,
        place=by.place,
        case=by.case,
        stop=stop and replace(stop, even=stop.even * alone.even),
        flush=alone.flush,
    )
