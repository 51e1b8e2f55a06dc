"""Several shelves on the same studs or blocks: what all together ask of these, and how much further each drops."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial

import numpy as np

from ledgewright.job import Lasts
from ledgewright.memo import Memo
from ledgewright.statics.around import Around, pulls, worst_cases
from ledgewright.statics.bases import MemberRules, Situation, When, member_rules
from ledgewright.statics.families import Into, verdict
from ledgewright.statics.given import Given
from ledgewright.statics.loads import LONGEST
from ledgewright.statics.meetings import meetings
from ledgewright.statics.member_checks import OnMember
from ledgewright.statics.member_rows import OF_MEMBERS, Known, Under, blocks, rows, studs
from ledgewright.statics.members_give import share
from ledgewright.statics.model import CannotSay, Check, DropAt, Holds, Step
from ledgewright.statics.on_section import ON_MEMBERS, Shelf, driven, ready
from ledgewright.statics.one_rod import governs
from ledgewright.statics.patterns import Search
from ledgewright.statics.pressed import named
from ledgewright.statics.row import leaned
from ledgewright.statics.scout import run
from ledgewright.statics.seats import Seat
from ledgewright.statics.stand import Stood

SOURCE = "Studs and blocks as beams (docs/statics.md), the other shelf's worst contents"


DROPS = ("drop.today", "drop.long")
"""Rows that other shelves on the same members add to."""


@dataclass(frozen=True)
class OnMembers:
    """What one shelf puts on studs and blocks under the cases that press hardest on them.

    serving, strength, accident: the cases of each situation.
    """

    shelf: str
    seats: tuple[Seat, ...]
    known: Known
    timbers: MemberRules
    serving: tuple[Under, ...]
    strength: tuple[Under, ...]
    accident: tuple[Under, ...]
    k_def: float
    across: float

    @property
    def members(self) -> frozenset[str]:
        """Every stud and block that it stands on, by name."""
        loads = self.strength[0].loads if self.strength else ()
        return frozenset(studs(loads)) | frozenset(blocks(loads))


def on_members(given: Given, stood: Stood, memo: Memo) -> OnMembers | None:
    """Return what a shelf puts on its members; None where nothing can be said. Arguments as of `statics.holds`."""
    shelf = ready(given, stood, memo, box=False)
    if isinstance(shelf, tuple):
        return None
    search = shelf.search
    run(search, shelf.rules.combinations, partial(driven, shelf, ON_MEMBERS))
    return pressing(given.frame.shelf, shelf, search)


def pressing(name: str, shelf: Shelf, search: Search) -> OnMembers:
    """Return what a shelf puts on its members under the cases of a search.

    Args:
        name: of the shelf.
        shelf: with its loads.
        search: its cases, solved.
    """
    on = Around(
        rows=shelf.legs,
        first=shelf.first,
        spec=shelf.spec,
        rules=shelf.rules,
        timbers=member_rules(shelf.basis),
        inputs=shelf.inputs,
        stays=shelf.acting.stays,
        keep=shelf.keep,
        locks=shelf.core.locks,
        beside=name,
    )

    def under(situation: Situation) -> tuple[Under, ...]:
        return tuple(
            Under(named(c), When(c.combination.situation, on.stays), on.loads(c, {}, {}))
            for c in worst_cases(search, situation)
        )

    return OnMembers(
        shelf=name,
        seats=shelf.seats,
        known=on.known(),
        timbers=on.timbers,
        serving=under("service"),
        strength=under("strength"),
        accident=(*under("accident"), *pulls(on, search, shelf.rules.combinations, shelf.lies)),
        k_def=shelf.inputs.k_def,
        across=shelf.inputs.across,
    )


def together(held: Holds, one: OnMembers, others: Sequence[OnMembers], *, into: Into) -> Holds:
    """Return a shelf's results with the members it shares judged under all shelves on them, and its drop with theirs.

    Any case of one shelf meets any of the others; somebody leans on one shelf at a time. The drop grows by what the
    others' worst contents in service turn and sink the shared members, all at once (a bound).

    Args:
        held: the shelf by itself.
        one: what it puts on its members.
        others: what the other shelves put on theirs.
        into: what its rods sit in.
    """
    made = on_shared(one, others)
    new = {row.id: row for row in made if isinstance(row, Check)}
    # A shelf by itself has been looked at under more cases: its own row stands where it asks more.
    kept = [max(row, new.pop(row.id, row), key=lambda each: each.ratio) for row in held.checks]
    extra = further(one, others, creep=False), further(one, others, creep=True)
    checks = tuple(with_others(row, extra, others) for row in (*kept, *new.values()))
    silent = (*held.cannot_say, *(row for row in made if isinstance(row, CannotSay)))
    drop = held.drop
    if drop is not None:
        drop = replace(
            drop, today=_at(drop.today, extra[0]), long_term=_at(drop.long_term, extra[1])
        )
    return replace(
        held,
        verdict=verdict(checks, silent, into=into),
        checks=checks,
        drop=drop,
        cannot_say=silent,
        governs=governs(checks),
    )


def on_shared(
    one: OnMembers, others: Sequence[OnMembers], *, keep: bool = True
) -> list[Check | CannotSay]:
    """Return the rows of the members that shelves share, one of them in every case with each of the others'.

    Args:
        one: what one shelf puts on its members.
        others: what the others put on theirs.
        keep: whether derivations are kept.
    """
    shared = one.members & frozenset().union(*(other.members for other in others))
    leaning = _rows(one, others, one.accident, shared, keep=keep)
    return [
        *_rows(one, others, one.strength, shared, keep=keep),
        *(leaned(row) if isinstance(row, Check) else row for row in leaning),
    ]


def _rows(
    one: OnMembers,
    others: Sequence[OnMembers],
    cases: Sequence[Under],
    shared: frozenset[str],
    *,
    keep: bool,
) -> list[Check | CannotSay]:
    """The rows of the shared members under the cases of one shelf that meet those of the others in strength."""
    if not cases or not all(other.strength for other in others):
        return []
    met = [
        Under(
            "; ".join(
                [
                    mine.name,
                    *(f"{o.shelf} under {u.name}" for o, u in zip(others, theirs, strict=True)),
                ]
            ),
            When(mine.when.situation, _longest([mine, *theirs])),
            (*mine.loads, *(load for under in theirs for load in under.loads)),
        )
        for mine, *theirs in meetings(
            [cases, *(other.strength for other in others)], shared, one.timbers
        )
    ]
    made = rows(met, one.known, situations=(cases[0].when.situation,), keep=keep)
    return [
        row
        for row in made
        if row.family in OF_MEMBERS
        and (isinstance(row, CannotSay) or row.place is None or row.place.member in shared)
    ]


def _longest(cases: Sequence[Under]) -> Lasts:
    return min((case.when.lasts for case in cases), key=LONGEST.index)


def further(one: OnMembers, others: Sequence[OnMembers], *, creep: bool) -> float:
    """Return how much further the front drops at most for what the other shelves do to the shared members (mm).

    Args:
        one: what one shelf puts on its members.
        others: what the others put on theirs.
        creep: in ten years, or on day one.
    """
    theirs = [_hardest(other) for other in others]
    seats = [*one.seats, *(load.seat for loads in theirs for load in loads)]
    k_def = one.k_def if creep else 0.0
    give = np.array(share(seats, rules=one.timbers, k_def=k_def, across=one.across))
    mine = 2 * len(one.seats)
    acts = np.ravel([(load.V, load.M) for loads in theirs for load in loads])
    faces = (give[:mine, mine:] @ acts).reshape(-1, 2)
    return max(
        float(y + theta * seat.front) for (y, theta), seat in zip(faces, one.seats, strict=True)
    )


def _hardest(of: OnMembers) -> tuple[OnMember, ...]:
    """Every rod's hardest load in service: they need not come together, which errs towards more drop."""
    return tuple(
        max((case.loads[k] for case in of.serving), key=lambda load: load.M)
        for k in range(len(of.seats))
    )


def with_others(row: Check, extra: tuple[float, float], others: Sequence[OnMembers]) -> Check:
    """Return a row with what other shelves add to it, if it is one of the front's drop; else as it is.

    Args:
        row: of the shelf by itself.
        extra: how much further its front drops for theirs, on day one and in ten years (mm).
        others: what the others put on their members.
    """
    if row.family not in DROPS:
        return row
    more = max(extra[row.family == "drop.long"], 0.0)
    total = row.demand + more
    names = " and ".join(other.shelf for other in others)
    steps = (
        Step("w_s", f"{more:.4g}", f"{more:.4g}", more, "mm", f"{SOURCE}: {names}", assumed=False),
        Step("w_a", "w + w_s", f"{row.demand:.4g} + {more:.4g}", total, "mm", "Sum", assumed=False),
    )
    return replace(
        row,
        demand=total,
        ratio=total / max(row.capacity, 1e-3),
        state="passes" if total <= row.capacity else "fails",
        case=f"{row.case}; {names} loaded too",
        steps=(*row.steps, *steps),
    )


def _at(drop: DropAt, extra: float) -> DropAt:
    return replace(drop, value=drop.value + max(extra, 0.0))
