"""A load test on the section model: how much may be put on, what it asks of rods and wood, how far the front drops."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from ledgewright.job import Thing
from ledgewright.memo import Memo
from ledgewright.statics.actions import Floats
from ledgewright.statics.bases import Combination
from ledgewright.statics.bases.rules import Situation
from ledgewright.statics.given import Given
from ledgewright.statics.inputs import Inputs
from ledgewright.statics.loads import G_N
from ledgewright.statics.model import Check
from ledgewright.statics.on_section import Shelf, judge, ready
from ledgewright.statics.one_rod import HUNG
from ledgewright.statics.patterns import Pattern
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
class Pile:
    """Something put on a shelf: where (wall, signed along, out of the wall), how much (kg), in place of what."""

    name: str
    wall: str
    along: float
    out: float
    mass: float


@dataclass(frozen=True)
class Stage:
    """One stage of a load test: share of all that is put on, and how far each place goes down from zero."""

    share: float
    downs: tuple[Down, ...]


@dataclass(frozen=True)
class Proof:
    """A load test that may be made.

    times: how many times the contents and the one thing. total: all that is put on (kg). single: mass of the one thing
    and where it stands, spot in words. ratio, by: the row it takes furthest, of what it may be taken to. stages: up to
    all of it. later: after 24 h. soft: under all of it with wood and glue at the soft end of their ranges.
    """

    times: float
    total: float
    single: float
    spot: str
    at: tuple[str, float]
    ratio: float
    by: str
    stages: tuple[Stage, ...]
    later: tuple[Down, ...]
    soft: tuple[Down, ...]


def proof(given: Given, stood: Stood, memo: Memo) -> Proof | NoTest:
    """Return the heaviest load test that may be made: the job's contents where they stand, and one thing at its worst.

    statics.md 3 of the design, docs/on-site.md. Refused where it would take a rod over 0.9 of its yield moment, or any
    row of wood, glue or panel over what it can take for a week, with any rod proud by all the play of its slot.

    Args:
        given: the shelf with its contents.
        stood: on its section model.
        memo: kept by the caller, for what a shape alone decides.
    """
    shelf = ready(given, stood, memo, keep=False)
    if isinstance(shelf, tuple):
        return NoTest(shelf[0].why)
    if not shelf.acting.of("live").any():
        return NoTest("the job names nothing that stands on it")
    spots = _spots(shelf)
    if not spots:
        return NoTest("the job names no one thing that may stand anywhere on it")
    at = max(spots, key=lambda spot: float(_downs(shelf, MOST, spot).max()))
    for times in SHARES:
        worst = asked(shelf, times, at)
        if worst.ratio <= 1:
            return _proof(given, stood, memo, shelf, times, at, worst)
    return NoTest(
        f"even the contents themselves would ask too much of it for a test: {worst.title.lower()}, "
        f"{worst.ratio:.2f} times what a test may ask"
    )


def _proof(
    given: Given, stood: Stood, memo: Memo, shelf: Shelf, times: float, at: int, worst: Check
) -> Proof:
    atoms, walls = shelf.acting.atoms, [row.leg.wall for row in stood.rows]
    live = float(shelf.acting.forces[shelf.acting.of("live")].sum()) * times / G_N
    single, spot = atoms[at].force * times / G_N, atoms[at].spot
    soft = ready(replace(given, inputs=SOFT), stood, memo, keep=False)
    final = _downs(shelf, times, at)
    grown = final + DAY * (_downs(shelf, times, at, creep=True) - final)
    return Proof(
        times=times,
        total=live + single,
        single=single,
        spot=spot.said if isinstance(spot, Spot) else "",
        at=_where(given, stood, atoms[at].plan),
        ratio=worst.ratio,
        by=worst.title,
        stages=tuple(
            Stage(share, _named(stood, walls, _downs(shelf, times * share, at)))
            for share in (0.5, 0.75, 1.0)
        ),
        later=_named(stood, walls, grown),
        soft=_named(stood, walls, _downs(soft, times, at)) if isinstance(soft, Shelf) else (),
    )


def _where(given: Given, stood: Stood, plan: Sequence[tuple[float, float]]) -> tuple[str, float]:
    """The wall and the along of the middle of a load, on the leg whose front is nearest."""
    x, y = (sum(p[k] for p in plan) / len(plan) for k in (0, 1))
    found = []
    for row in stood.rows:
        wall = given.room.wall(row.leg.wall)
        along, out = wall.figures((x, y))
        inside = row.front[0] - 1 <= along <= row.front[1] + 1
        found.append((not inside, abs(out - row.leg.depth), wall.id, along))
    _, _, wall_id, along = min(found)
    return wall_id, along


def _spots(shelf: Shelf) -> list[int]:
    """The places of the one thing that are looked at: the ends, the middles of bays, in front of rods."""
    return [int(k) for k in np.flatnonzero(shelf.acting.of("single"))]


def _combination(times: float, situation: Situation) -> Combination:
    return Combination(f"test, {times:g} times", situation, 1.0, times, times, 0.0, SOURCE)


def _pattern(shelf: Shelf, at: int | None) -> Pattern:
    there = shelf.acting.of("dead", "live")
    if at is not None:
        there = there.copy()
        there[at] = True
    return Pattern("load test", there)


def _downs(shelf: Shelf, times: float, at: int | None, *, creep: bool = False) -> Floats:
    """How far each place that is read goes down from where it hung (mm)."""
    hung = shelf.acting.factors(HUNG, shelf.acting.of("dead"))
    loaded = shelf.acting.factors(_combination(times, "service"), _pattern(shelf, at).there)
    resting = shelf.later if creep else shelf.today
    new, old = (
        resting.solve(shelf.acting.under(factors, creep=creep), own=1.0).read
        for factors in (loaded, hung)
    )
    return np.asarray(new - old)


def _named(stood: Stood, walls: Sequence[str], downs: Floats) -> tuple[Down, ...]:
    return tuple(
        Down(walls[read.leg], read.along, read.rod, float(down))
        for read, down in zip(stood.reads, downs, strict=True)
    )


def asked(shelf: Shelf, times: float, at: int | None) -> Check:
    """Return the row that a test takes furthest, its ratio to what a test may take it to.

    Args:
        shelf: ready under what is put on.
        times: how many times that.
        at: which place the one thing stands at; None without it.
    """
    level = _pattern(shelf, at)
    search = shelf.search
    patterns = [search.stood_proud(level, k) for k in (None, *range(len(shelf.seats)))]
    situations: tuple[Situation, ...] = ("service", "accident")
    tried = [(_combination(times, s), p) for s in situations for p in patterns]
    rows = []
    for row in judge(shelf, among=tried, search=search).rows:
        if row.family == "rod.yield":
            rows.append(replace(row, ratio=row.ratio / YIELD))
        elif row.family == "stab.contact":
            rows.append(row)
        elif row.family == "acc.hold":
            # Of the shelf's own accident nothing is on: these rows are the test's.
            rows.append(replace(row, ratio=row.ratio / WEEK))
    return max(rows, key=lambda row: row.ratio)


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


FOOTPRINT = 150.0
"""Side of what a sack, a jug or a box of books stands on (mm; assumed)."""


def under(
    given: Given,
    stood: Stood,
    piles: Sequence[Pile],
    marks: Sequence[tuple[str, float]],
    memo: Memo,
    *,
    hours: float = 0.0,
) -> tuple[float, ...] | NoTest:
    """Return how far places along the front go down under what a test put on (mm); between two that are read, straight.

    Args:
        given: the shelf, with the doubtful figures as they are to be taken.
        stood: on its section model.
        piles: what stands on it; may be nothing.
        marks: wall and signed along of each place (mm).
        memo: kept by the caller, for what a shape alone decides.
        hours: since it was put on; creep in them counts by the third power of time.
    """
    if not piles:
        return (0.0,) * len(marks)
    shelf = ready(put_on(given, piles), stood, memo, keep=False)
    if isinstance(shelf, tuple):
        return NoTest(shelf[0].why)
    downs = _downs(shelf, 1.0, None)
    if hours > 0:
        share = min(1.0, (hours / (24.0 * 3652.5)) ** (1 / 3))
        downs = downs + share * (_downs(shelf, 1.0, None, creep=True) - downs)
    walls = [row.leg.wall for row in stood.rows]
    return tuple(_at(stood.reads, walls, downs, wall, along) for wall, along in marks)


def _at(
    reads: Sequence[Read], walls: Sequence[str], downs: Floats, wall: str, along: float
) -> float:
    mine = sorted(
        (r.along, float(d)) for r, d in zip(reads, downs, strict=True) if walls[r.leg] == wall
    )
    return float(np.interp(along, [s for s, _ in mine], [d for _, d in mine]))


def asks(given: Given, stood: Stood, piles: Sequence[Pile], memo: Memo) -> Check | None:
    """Return the row that what a test put on takes furthest, by what a test may take it to; None if nothing is on.

    Args:
        given: the shelf.
        stood: on its section model.
        piles: what stands on it.
        memo: kept by the caller, for what a shape alone decides.
    """
    if not piles:
        return None
    shelf = ready(put_on(given, piles), stood, memo, keep=False)
    return None if isinstance(shelf, tuple) else asked(shelf, 1.0, None)
