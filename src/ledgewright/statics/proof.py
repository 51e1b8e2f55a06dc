"""A load test on the section model: how much may be put on, what it asks of rods and wood, how far the front drops."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

import numpy as np

from ledgewright.job import Thing
from ledgewright.memo import Memo
from ledgewright.plane import Point
from ledgewright.statics.actions import Actions, Atom, Floats
from ledgewright.statics.bases import Combination
from ledgewright.statics.bases.rules import Situation
from ledgewright.statics.coupled import Coupled, by_themselves, grown
from ledgewright.statics.given import Given
from ledgewright.statics.heaps import (
    FOOTPRINT,
    HEAPS,
    ONE,
    STAGES,
    WHOLE,
    Pile,
    Round,
    Stage,
    heaps,
    staged,
)
from ledgewright.statics.inputs import Inputs
from ledgewright.statics.mechanics.section import Mechanism
from ledgewright.statics.model import CannotSay, Check
from ledgewright.statics.on_section import Shelf, judge, ready
from ledgewright.statics.one_rod import HUNG
from ledgewright.statics.patterns import Pattern, Try
from ledgewright.statics.row import pulled_at
from ledgewright.statics.shared import OnMembers, on_shared, pressing
from ledgewright.statics.spot import Spot
from ledgewright.statics.stand import Read, Stood

MOST = 1.25
"""A load test is never more than so many times the contents and the one thing."""
SHARES = (1.25, 1.2, 1.15, 1.1, 1.05, 1.0)
"""So many times are tried, the most first; a test of less than the contents tells nothing."""
YIELD = 0.9
"""No rod is taken over this share of the moment at which it begins to yield."""
WEEK = 1.25 / 1.6
"""A load of up to seven days against one of ten minutes: NDS-2018 T2.3.2; in the EC5 basis 0.9 against 1.1 is more."""
SOFT = Inputs(bed=0.0, across=0.25, adhesive=-1.0, fill=0.7)
"""Wood, glue and ring at the soft end of their ranges: a shelf that goes down further is not as it was taken to be."""
DAY = (24.0 / (24.0 * 3652.5)) ** (1 / 3)
"""Share of ten years' creep that comes in a day: third power of time (Andrade 1910, from memory)."""
SOURCE = "controlled test: self-weight and what is put on, each once"


@dataclass(frozen=True)
class NoTest:
    """Why no load test is proposed."""

    why: str


@dataclass(frozen=True)
class Down:
    """One place along a front edge: wall, signed along (mm), nearest rod, how far it goes down (mm)."""

    wall: str
    along: float
    rod: str
    down: float


@dataclass(frozen=True)
class Proof:
    """A load test that may be made.

    times: how many times the contents and the one thing. piles: all that is put on, the one thing last. spot: where
    that stands, in words. ratio, by: the row it takes furthest, of what it may be taken to. stages: how far each place
    goes down from zero at each of `STAGES`. later: after 24 h. soft: under the heaps or under all of it, whichever lets
    a place down further, with wood and glue at the soft end of their ranges.
    """

    times: float
    piles: tuple[Pile, ...]
    spot: str
    ratio: float
    by: str
    stages: tuple[tuple[Down, ...], ...]
    later: tuple[Down, ...]
    soft: tuple[Down, ...]

    @property
    def total(self) -> float:
        """All that is put on (kg)."""
        return sum(pile.mass for pile in self.piles)

    @property
    def single(self) -> Pile:
        """The one thing."""
        return self.piles[-1]


@dataclass(frozen=True)
class Tried:
    """One of the shelves that a test loads at once: as its statics takes it, on its section model.

    beside: numbers of those that it shares studs or blocks with.
    """

    given: Given
    stood: Stood
    beside: tuple[int, ...] = ()


def proof(given: Given, stood: Stood, to: Round, memo: Memo) -> Proof | NoTest:
    """Return the heaviest load test that may be made of one shelf by itself. Arguments as of `proofs`."""
    found = proofs((Tried(given, stood),), to, memo)
    return found if isinstance(found, NoTest) else found[0]


def proofs(tried: Sequence[Tried], to: Round, memo: Memo) -> tuple[Proof, ...] | NoTest:
    """Return the heaviest load test that may be made: heaps in place of the contents, and one thing at its worst.

    statics.md 3 of the design, docs/on-site.md. Sections of one shelf, and shelves on the same studs or blocks, are
    loaded at once, each with its own contents and its own one thing, all so many times. Refused where it would take a
    rod over 0.9 of its yield moment, or any row of wood, glue or panel over what it can take for a week, with any rod
    proud by all the play of its slot.

    Args:
        tried: the shelves with their contents.
        to: what weights and places are rounded to.
        memo: kept by the caller, for what a shape alone decides.
    """
    group = _readied(tried, memo)
    if isinstance(group, NoTest):
        return group
    try:
        return _heaviest(tried, to, memo, group)
    except Mechanism as lost:
        return _lost(lost)


def _lost(lost: Mechanism) -> NoTest:
    return NoTest(f"it does not stand under it: {lost}")


def _heaviest(
    tried: Sequence[Tried], to: Round, memo: Memo, group: Coupled
) -> tuple[Proof, ...] | NoTest:
    """The first that may be made: as even as a limit speaks of, the most first; else with lengths left bare."""
    spots = []
    for shelf in group.shelves:
        if not shelf.acting.of("live").any():
            return NoTest("the job names nothing that stands on it")
        found = _spots(shelf)
        if not found:
            return NoTest("the job names no one thing that may stand anywhere on it")
        spots.append(max(found, key=partial(_furthest, Coupled((shelf,), ((),)))))
    at = [
        _where(each.given, each.stood, shelf.acting.atoms[spot].middle)
        for each, shelf, spot in zip(tried, group.shelves, spots, strict=True)
    ]
    named = [
        _said(shelf.acting.atoms[spot]) for shelf, spot in zip(group.shelves, spots, strict=True)
    ]
    refused = NoTest("nothing would be put on it")
    for fill in (True, False):
        for times in SHARES:
            piles = [
                heaps(each.given, times, place, to, fill=fill)
                for each, place in zip(tried, at, strict=True)
            ]
            worst = _worst(tried, piles, memo)
            if isinstance(worst, NoTest):
                refused = worst
            elif worst.ratio > 1:
                refused = NoTest(_OVER.format(worst.title.lower(), worst.ratio))
            else:
                return _proofs(tried, memo, piles, times, named, worst)
    return refused


def _worst(tried: Sequence[Tried], piles: Sequence[Sequence[Pile]], memo: Memo) -> Check | NoTest:
    """The row that a test takes furthest, with all of it on or with the heaps alone."""
    found = []
    for stage in (WHOLE, HEAPS):
        asked = asks_of_all(tried, [staged(own, stage) for own in piles], memo)
        if isinstance(asked, NoTest):
            return asked
        found += [asked] if asked is not None else []
        if asked is not None and asked.ratio > 1:
            break
    return max(found, key=lambda row: row.ratio)


_OVER = "even the contents themselves would ask too much of it for a test: {}, {:.2f} times what a test may ask"


def _said(atom: Atom) -> str:
    return atom.spot.said if isinstance(atom.spot, Spot) else ""


def _readied(tried: Sequence[Tried], memo: Memo, inputs: Inputs | None = None) -> Coupled | NoTest:
    """All shelves ready under their loads, at other doubtful figures if such are given."""
    made = []
    for each in tried:
        given = each.given if inputs is None else replace(each.given, inputs=inputs)
        shelf = ready(given, each.stood, memo, keep=False)
        if isinstance(shelf, tuple):
            return NoTest(shelf[0].why)
        made.append(shelf)
    return Coupled(tuple(made), tuple(each.beside for each in tried))


def _furthest(alone: Coupled, spot: int) -> float:
    acting = alone.shelves[0].acting
    on = acting.of("dead", "live").copy()
    on[spot] = True
    return float(_down(alone, [acting.factors(_combination("service", MOST), on)])[0].max())


def _proofs(
    tried: Sequence[Tried],
    memo: Memo,
    piles: Sequence[Sequence[Pile]],
    times: float,
    named: Sequence[str],
    worst: Check,
) -> tuple[Proof, ...] | NoTest:
    bearing = _bearing(tried, piles)
    group, soft = _readied(bearing, memo), _readied(bearing, memo, SOFT)
    if isinstance(group, NoTest):
        return group
    final, crept = _downs(group), _downs(group, creep=True)
    stages = [_downs(group, stage) for stage in STAGES]
    softest = None if isinstance(soft, NoTest) else _either(_downs(soft), _downs(soft, HEAPS))
    made = []
    for k, each in enumerate(tried):
        walls = [row.leg.wall for row in each.stood.rows]
        grown = final[k] + DAY * (crept[k] - final[k])
        made.append(
            Proof(
                times=times,
                piles=tuple(piles[k]),
                spot=named[k],
                ratio=worst.ratio,
                by=worst.title,
                stages=tuple(_named(each.stood, walls, downs[k]) for downs in stages),
                later=_named(each.stood, walls, grown),
                soft=_named(each.stood, walls, softest[k]) if softest is not None else (),
            )
        )
    return tuple(made)


def _either(one: Sequence[Floats], other: Sequence[Floats]) -> tuple[Floats, ...]:
    return tuple(np.maximum(a, b) for a, b in zip(one, other, strict=True))


def _where(given: Given, stood: Stood, middle: Point) -> tuple[str, float]:
    """The wall and the along of the middle of a load, on the leg whose front is nearest."""
    found = []
    for row in stood.rows:
        wall = given.room.wall(row.leg.wall)
        along, out = wall.figures(middle)
        inside = row.front[0] - 1 <= along <= row.front[1] + 1
        found.append((not inside, abs(out - row.leg.depth), wall.id, along))
    _, _, wall_id, along = min(found)
    return wall_id, along


def _spots(shelf: Shelf) -> list[int]:
    """The places of the one thing that are looked at: the ends, the middles of bays, in front of rods."""
    return [int(k) for k in np.flatnonzero(shelf.acting.of("single"))]


def _combination(situation: Situation, times: float = 1.0) -> Combination:
    return Combination(f"test, {times:g} times", situation, 1.0, times, times, 0.0, SOURCE)


def _pattern(shelf: Shelf) -> Pattern:
    """All that is on a shelf: itself, and its contents or what a test put there."""
    return Pattern("load test", shelf.acting.of("dead", "live"))


def _downs(group: Coupled, stage: Stage = WHOLE, *, creep: bool = False) -> tuple[Floats, ...]:
    """How far each place that is read goes down from where it hung, all shelves loaded at once (mm)."""
    return _down(group, _loaded(group, stage), creep=creep)


def _down(group: Coupled, loaded: Sequence[Floats], *, creep: bool = False) -> tuple[Floats, ...]:
    hung = [s.acting.factors(HUNG, s.acting.of("dead")) for s in group.shelves]
    return tuple(
        np.asarray(new.read - old.read)
        for new, old in zip(
            group.solve(loaded, creep=creep), group.solve(hung, creep=creep), strict=True
        )
    )


def _loaded(group: Coupled, stage: Stage = WHOLE) -> list[Floats]:
    return [_factors(shelf.acting, stage) for shelf in group.shelves]


def _factors(acting: Actions, stage: Stage) -> Floats:
    """The factor on every part of what is on a shelf, at one stage of a test."""
    whole = acting.factors(_combination("service"), acting.of("dead", "live"))
    one = np.array([atom.name == ONE for atom in acting.atoms])
    put = np.where(one, stage.one, stage.heaps)
    return np.asarray(whole * np.where(acting.of("live"), put, 1.0))


def _named(stood: Stood, walls: Sequence[str], downs: Floats) -> tuple[Down, ...]:
    return tuple(
        Down(walls[read.leg], read.along, read.rod, float(down))
        for read, down in zip(stood.reads, downs, strict=True)
    )


def _asked(shelf: Shelf) -> Check:
    """The row that what is put on takes furthest, its ratio to what a test may take it to."""
    level, search = _pattern(shelf), shelf.search
    patterns = [search.stood_proud(level, k) for k in (None, *range(len(shelf.seats)))]
    situations: tuple[Situation, ...] = ("service", "accident")
    tried = [(_combination(s), p) for s in situations for p in patterns]
    rows = []
    for row in judge(shelf, among=tried, search=search).rows:
        if row.family == "rod.yield":
            rows.append(replace(row, ratio=row.ratio / YIELD))
        elif row.family == "stab.contact":
            rows.append(row)
        elif row.family == "acc.hold" and not pulled_at(row):
            # Of the shelf's own accident nothing is on, and nobody pulls: these rows are the test's.
            rows.append(replace(row, ratio=row.ratio / WEEK))
    return max(rows, key=lambda row: row.ratio)


def _asked_of_all(group: Coupled) -> Check | NoTest:
    """The row that what is put on several shelves takes furthest, the members that they share under all of them.

    What each carries by itself counts as many times as its rods carry more beside the others.
    """
    loaded = _loaded(group)
    more = (1.0,) * len(group.shelves)
    if any(group.beside):
        more = grown(by_themselves(group).solve(loaded), group.solve(loaded))
    found = []
    for shelf, factor in zip(group.shelves, more, strict=True):
        own = _asked(shelf)
        found.append(replace(own, ratio=own.ratio * factor))
    for row in _of_shared(group):
        if isinstance(row, CannotSay):
            return NoTest(row.why)
        if row.family == "acc.hold":
            found.append(replace(row, ratio=row.ratio / WEEK))
    return max(found, key=lambda row: row.ratio)


def _of_shared(group: Coupled) -> Iterator[Check | CannotSay]:
    """The rows of the members that shelves share, every proud rod of one with every one of the others."""
    if not any(group.beside):
        return
    pressing_on = [_pressing(shelf) for shelf in group.shelves]
    for one, others in zip(pressing_on, group.beside, strict=True):
        if others:
            yield from on_shared(one, [pressing_on[k] for k in others], keep=False)


def _pressing(shelf: Shelf) -> OnMembers:
    """What a test puts on the members, judged as an accident is; nothing else of the shelf comes into it."""
    search, level = shelf.search, _pattern(shelf)
    pressing_down = _combination("accident")
    prouds = (None, *range(len(shelf.seats)))
    search.all_of([Try(pressing_down, search.stood_proud(level, k)) for k in prouds])
    made = pressing("", shelf, search)
    return replace(made, strength=made.accident)


def put_on(given: Given, piles: Sequence[Pile]) -> Given:
    """Return a shelf with nothing on it but what a test put there.

    Args:
        given: the shelf.
        piles: what stands on it.
    """
    things = tuple(
        Thing(
            pile.name,
            pile.wall,
            pile.along,
            pile.out,
            (FOOTPRINT, FOOTPRINT),
            None,
            pile.mass,
            "days",
        )
        for pile in piles
    )
    demand = replace(given.demand, loads=things, single=0.0, accidents=(), accident_declined=True)
    return replace(given, demand=demand)


def _bearing(tried: Sequence[Tried], piles: Sequence[Sequence[Pile]]) -> list[Tried]:
    return [replace(t, given=put_on(t.given, own)) for t, own in zip(tried, piles, strict=True)]


def under(
    given: Given,
    stood: Stood,
    piles: Sequence[Pile],
    marks: Sequence[tuple[str, float]],
    memo: Memo,
    *,
    hours: float = 0.0,
) -> tuple[float, ...] | NoTest:
    """Return how far places along the front of one shelf go down by itself. Arguments as of `under_all`."""
    found = under_all((Tried(given, stood),), (piles,), (marks,), memo, hours=hours)
    return found if isinstance(found, NoTest) else found[0]


def under_all(
    tried: Sequence[Tried],
    piles: Sequence[Sequence[Pile]],
    marks: Sequence[Sequence[tuple[str, float]]],
    memo: Memo,
    *,
    hours: float = 0.0,
    inputs: Inputs | None = None,
) -> tuple[tuple[float, ...], ...] | NoTest:
    """Return how far places along the fronts go down under what a test put on (mm); between two read ones, straight.

    Args:
        tried: the shelves, with the doubtful figures as they are to be taken.
        piles: what stands on each; may be nothing.
        marks: of each, wall and signed along of every place (mm).
        memo: kept by the caller, for what a shape alone decides.
        hours: since it was put on; creep in them counts by the third power of time.
        inputs: doubtful figures instead of those of the shelves.
    """
    if not any(piles):
        return tuple((0.0,) * len(each) for each in marks)
    group = _readied(_bearing(tried, piles), memo, inputs)
    if isinstance(group, NoTest):
        return group
    try:
        downs = _after(group, hours)
    except Mechanism as lost:
        return _lost(lost)
    return tuple(
        tuple(
            _at(t.stood.reads, [row.leg.wall for row in t.stood.rows], down, wall, along)
            for wall, along in own
        )
        for t, down, own in zip(tried, downs, marks, strict=True)
    )


def _after(group: Coupled, hours: float) -> tuple[Floats, ...]:
    """How far each place goes down so many hours after all was put on."""
    downs = _downs(group)
    if hours <= 0:
        return downs
    share = min(1.0, (hours / (24.0 * 3652.5)) ** (1 / 3))
    crept = _downs(group, creep=True)
    return tuple(new + share * (old - new) for new, old in zip(downs, crept, strict=True))


def _at(
    reads: Sequence[Read], walls: Sequence[str], downs: Floats, wall: str, along: float
) -> float:
    mine = sorted(
        (r.along, float(d)) for r, d in zip(reads, downs, strict=True) if walls[r.leg] == wall
    )
    return float(np.interp(along, [s for s, _ in mine], [d for _, d in mine]))


def asks(given: Given, stood: Stood, piles: Sequence[Pile], memo: Memo) -> Check | None:
    """Return the row that what a test put on one shelf takes furthest by itself. Arguments as of `asks_of_all`."""
    found = asks_of_all((Tried(given, stood),), (piles,), memo)
    return None if isinstance(found, NoTest) else found


def asks_of_all(
    tried: Sequence[Tried], piles: Sequence[Sequence[Pile]], memo: Memo
) -> Check | NoTest | None:
    """Return the row that what a test put on takes furthest, by what a test may take it to; None if nothing is on.

    Args:
        tried: the shelves.
        piles: what stands on each.
        memo: kept by the caller, for what a shape alone decides.
    """
    if not any(piles):
        return None
    group = _readied(_bearing(tried, piles), memo)
    if isinstance(group, NoTest):
        return group
    try:
        return _asked_of_all(group)
    except Mechanism as lost:
        return _lost(lost)
