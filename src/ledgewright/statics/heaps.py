"""Weights of a load test: heaps in place of what is to lie and stand on a shelf, so that every rod gets its share."""

from __future__ import annotations

import math
from bisect import bisect
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Protocol

import numpy as np
from scipy.optimize import linprog

from ledgewright.job import Demand, Even, Thing
from ledgewright.layout import Frame, LegAt
from ledgewright.statics.loads import CONTENTS, G_N, PATCH
from ledgewright.survey import Room, Wall

FOOTPRINT = 150.0
"""Side of what a sack, a jug or a box of books stands on (mm; assumed)."""
APART = 450.0
"""Heaps in place of contents stand no further from each other than this (mm, about 18 in): our choice. Between two
rods a heap in the middle gives both what the even load gives them."""


@dataclass(frozen=True)
class Pile:
    """Something put on a shelf: where (wall, signed along, out of the wall), how much (kg), in place of what."""

    name: str
    wall: str
    along: float
    out: float
    mass: float


@dataclass(frozen=True)
class Round:
    """What weights and places of a test are rounded to: kg, upwards; mm of tape; mm out of the wall."""

    mass: float
    along: float
    out: float


ROUND = {"in": Round(0.45359237, 6.35, 3.175), "mm": Round(0.5, 5.0, 5.0)}
"""Whole pounds and half kilograms, by the units of a job."""


Stretch = tuple[str, float, float, float]
"""Names of what lies there, from, to (signed along, mm), how much per length (N/mm)."""


class Laden(Protocol):
    """A shelf on its walls with what is to stand on it, as the statics is given it or as it was judged."""

    @property
    def room(self) -> Room:
        """Its walls."""

    @property
    def frame(self) -> Frame:
        """The shelf against them."""

    @property
    def demand(self) -> Demand:
        """What is to stand on it."""


def counts(out: float, depth: float, deep: float) -> float:
    """Return what share of itself a weight counts for beside one that lies flush with the front: by the lever.

    Args:
        out: how far out of the wall it stands (mm).
        depth: of the leg (mm).
        deep: of what it is compared with (mm).
    """
    return min(1.0, max(0.0, out / (depth - min(deep, depth) / 2)))


def _lever(rods: Sequence[float], x: float) -> list[float]:
    """The shares that rods at these places take of a load at x: those beside it, past the last one by its overhang."""
    shares = [0.0] * len(rods)
    k = min(max(bisect(rods, x), 1), len(rods) - 1)
    a, b = rods[k - 1], rods[k]
    shares[k - 1], shares[k] = (b - x) / (b - a), (x - a) / (b - a)
    return shares


def _ends(wall: Wall, leg: LegAt) -> tuple[float, float]:
    """From where to where the front of a leg goes (signed along, mm)."""
    low, high = sorted(wall.figures(point)[0] for point in leg.front)
    return low, high


def _rods(wall: Wall, frame: Frame) -> list[float]:
    """Where the rods of a wall come out of it, rising (signed along, mm)."""
    return sorted(wall.figures(rod.point(rod.free))[0] for rod in frame.rods if rod.wall == wall.id)


def heaps(
    shelf: Laden, times: float, at: tuple[str, float], to: Round, *, fill: bool
) -> tuple[Pile, ...]:
    """Return what a load test puts on: so many times what lies and stands there, and the one thing.

    docs/on-site.md. Contents are heaped in the middle of each bay, out where a load limit takes them; things stand in
    their places; the one thing stands at the front. A heap nearer to the wall than a limit speaks of is made heavier by
    the lever; weights are rounded up.

    Args:
        shelf: the shelf with its contents.
        times: how many times that.
        at: wall and signed along of the one thing (mm).
        to: what weights and places are rounded to.
        fill: whether lengths with less than the heaviest contents get more, so that every rod bears its share of those
            on every length, things counted in: a limit speaks of every length.
    """
    things = [
        _thing(shelf, each, times, to) for each in shelf.demand.loads if isinstance(each, Thing)
    ]
    least = most_even(shelf) if fill else 0.0
    made = [
        pile for leg in shelf.frame.legs for pile in _laid(shelf, leg, things, times, least, to)
    ]
    piles = (*made, *things, _one(shelf, at, times, to))
    return tuple(pile for pile in piles if pile.mass > 0)


def most_even(shelf: Laden) -> float:
    """Return the most that lies on any length of a shelf (N/mm).

    Args:
        shelf: the shelf with its contents.
    """
    return max((per for leg in shelf.frame.legs for *_, per in _stretches(shelf, leg)), default=0.0)


def _laid(
    shelf: Laden, leg: LegAt, things: Sequence[Pile], times: float, least: float, to: Round
) -> list[Pile]:
    """The heaps of a leg: its contents, and as much more as gives every rod its share of the least on every length."""
    heaped = [(length, pile) for length, pile in _contents(shelf, leg, times, to)]
    if not heaped:
        return []
    piles = [pile for _, pile in heaped]
    masses = [pile.mass for pile in piles]
    if least > 0:
        wanted = _wanted(shelf, leg, piles, things, times * least)
        masses = _lightest(masses, [length for length, _ in heaped], *wanted)
    return [replace(pile, mass=_up(mass, to)) for pile, mass in zip(piles, masses, strict=True)]


def _wanted(
    shelf: Laden, leg: LegAt, piles: Sequence[Pile], things: Sequence[Pile], least: float
) -> tuple[list[list[float]], list[float]]:
    """What a kilogram of each heap does for every rod, and what they must do together beside the things (N)."""
    wall = shelf.room.wall(leg.wall)
    low, high = _ends(wall, leg)
    rods = _rods(wall, shelf.frame)
    rows, wanted = [[1.0] * len(piles)], [least * (high - low)]
    if len(rods) > 1:
        rows += [[_lever(rods, p.along)[k] for p in piles] for k in range(len(rods))]
        wanted += [least * share for share in _shares(rods, low, high)]
    force = [G_N * counts(p.out, leg.depth, CONTENTS) for p in piles]
    does = [[one * f for one, f in zip(row, force, strict=True)] for row in rows]
    for each in things:
        if each.wall != wall.id:
            continue
        given = each.mass * G_N * counts(each.out, leg.depth, CONTENTS)
        helped = [1.0, *(_lever(rods, each.along) if len(rods) > 1 else ())]
        wanted = [w - given * h for w, h in zip(wanted, helped, strict=True)]
    return does, wanted


def _lightest(
    masses: Sequence[float],
    lengths: Sequence[float],
    does: Sequence[Sequence[float]],
    wanted: Sequence[float],
) -> list[float]:
    """No less than these masses (kg) and as little more as does what is wanted, on no length much more than on others.

    A linear program: the sum of the heaps and the most per length are least together.
    """
    count = len(masses)
    cost = [*([1.0] * count), sum(lengths)]
    short = [[*(-each for each in row), 0.0] for row in does]
    apart = [[*(float(k == j) for j in range(count)), -lengths[k]] for k in range(count)]
    found = linprog(
        cost,
        A_ub=np.array([*short, *apart]),
        b_ub=np.array([*(-each for each in wanted), *([0.0] * count)]),
        bounds=[*((mass, None) for mass in masses), (0.0, None)],
        method="highs",
    )
    return list(masses) if found.x is None else [float(each) for each in found.x[:count]]


def _stretches(shelf: Laden, leg: LegAt) -> Iterator[Stretch]:
    """The lengths of a leg between the ends of its contents and its rods, with what lies on each.

    Cut at the rods, since a heap in the middle of a bay then gives each just what an even load there would.
    """
    low, high = _ends(shelf.room.wall(leg.wall), leg)
    loads = [
        (load, a, b)
        for load in shelf.demand.loads
        if isinstance(load, Even)
        for each, a, b in spans(shelf, load)
        if each is leg
    ]
    cuts = sorted({low, high, *(x for _, a, b in loads for x in (a, b) if low < x < high)})
    rods = [
        x
        for x in _rods(shelf.room.wall(leg.wall), shelf.frame)
        if low < x < high and min(abs(x - cut) for cut in cuts) > FOOTPRINT / 2
    ]
    for a, b in pairwise(sorted([*cuts, *rods])):
        if b - a < 1e-6:
            continue
        there = [load for load, start, end in loads if start < (a + b) / 2 < end]
        yield " and ".join(load.id for load in there), a, b, sum(_per(load, leg) for load in there)


def spans(shelf: Laden, load: Even) -> tuple[tuple[LegAt, float, float], ...]:
    """Return where a load spread evenly lies along the front of each leg: from, to (signed along, mm).

    Args:
        shelf: on its walls.
        load: of the job.
    """
    made = []
    for leg in shelf.frame.legs:
        low, high = _ends(shelf.room.wall(leg.wall), leg)
        start = low if load.start is None else max(low, load.start)
        end = high if load.end is None else min(high, load.end)
        if load.wall in (None, leg.wall) and start < end:
            made.append((leg, start, end))
    return tuple(made)


def _per(load: Even, leg: LegAt) -> float:
    return load.per_length if load.per_length is not None else (load.pressure or 0.0) * leg.depth


def _contents(shelf: Laden, leg: LegAt, times: float, to: Round) -> Iterator[tuple[float, Pile]]:
    """The heaps of a leg and how long a piece of it each stands for (mm), weightless where nothing is to lie."""
    wall = shelf.room.wall(leg.wall)
    out = _outward(leg.depth - min(CONTENTS, leg.depth) / 2, leg, to)
    share = counts(out, leg.depth, CONTENTS)
    for name, a, b, per in _stretches(shelf, leg):
        many = max(1, math.ceil((b - a) / APART - 1e-9))
        length = (b - a) / many
        mass = times * per * length / G_N / share
        for k in range(many):
            x = _near(wall, a + length * (k + 0.5), to)
            yield length, Pile(name or BARE, wall.id, x, out, mass)


BARE = "bare length"


def _thing(shelf: Laden, load: Thing, times: float, to: Round) -> Pile:
    wall, leg = shelf.room.wall(load.wall), _leg(shelf, load.wall)
    half = min(FOOTPRINT, leg.depth) / 2
    out = min(max(load.out, half), leg.depth - half)
    return Pile(load.id, load.wall, _near(wall, load.along, to), out, _up(load.mass * times, to))


def _one(shelf: Laden, at: tuple[str, float], times: float, to: Round) -> Pile:
    """The one thing, as near to the front and to an end as what it stands on can be."""
    name, along = at
    wall, leg = shelf.room.wall(name), _leg(shelf, name)
    low, high = _ends(wall, leg)
    half = min(FOOTPRINT / 2, (high - low) / 2)
    x = _near(wall, min(max(along, low + half), high - half), to)
    out = _inward(leg.depth - min(FOOTPRINT, leg.depth) / 2, to)
    mass = shelf.demand.single * times / counts(out, leg.depth, PATCH)
    return Pile(ONE, name, x, out, _up(mass, to))


ONE = "the one thing"


def _leg(shelf: Laden, wall: str) -> LegAt:
    return next(leg for leg in shelf.frame.legs if leg.wall == wall)


def _up(mass: float, to: Round) -> float:
    return math.ceil(mass / to.mass - 1e-6) * to.mass


def _near(wall: Wall, along: float, to: Round) -> float:
    """A place to the nearest mark of the wall's own tape."""
    taped = wall.taped(along)
    off = round(taped / to.along) * to.along - taped
    return along + off * (wall.taped(along + 1.0) - taped)


def _outward(out: float, leg: LegAt, to: Round) -> float:
    return min(math.ceil(out / to.out - 1e-6) * to.out, leg.depth)


def _inward(out: float, to: Round) -> float:
    return math.floor(out / to.out + 1e-6) * to.out


@dataclass(frozen=True)
class Stage:
    """One stage of a load test: so large a share of every heap, and of the one thing."""

    heaps: float
    one: float


STAGES = (Stage(0.5, 0.0), Stage(1.0, 0.0), Stage(1.0, 0.5), Stage(1.0, 1.0))
"""Heaps first: past the last rod the one thing lifts the next one, which then bears little or nothing of its share."""
HEAPS, WHOLE = STAGES[1], STAGES[-1]


def staged(piles: Sequence[Pile], stage: Stage) -> tuple[Pile, ...]:
    """Return what stands on a shelf at one stage of a test.

    Args:
        piles: all of it, the one thing last.
        stage: which.
    """
    shares = (*((stage.heaps,) * (len(piles) - 1)), stage.one)
    made = (replace(p, mass=p.mass * share) for p, share in zip(piles, shares, strict=True))
    return tuple(pile for pile in made if pile.mass > 0)


@dataclass(frozen=True)
class Stands:
    """What stood on a shelf at one step of a test: what may count as its contents, and what as the one thing."""

    even: tuple[Pile, ...]
    one: tuple[Pile, ...] = ()


def even_of(shelf: Laden, leg: LegAt, whole: Stands, before: Sequence[Stands] = ()) -> float:
    """Return the even load on a leg (N/mm) that weights stand for: on all its length, and at every rod by the lever.

    What the one thing lifts off a rod beside it is off its share; what that rod bore at a step before counts.

    Args:
        shelf: on its walls.
        leg: of it.
        whole: what stood on it when most did.
        before: at other steps of the test, at which every rod was read.
    """
    wall = shelf.room.wall(leg.wall)
    low, high = _ends(wall, leg)
    found = [sum(force for _, force in _forces(leg, whole.even)) / (high - low)]
    rods = _rods(wall, shelf.frame)
    if len(rods) > 1:
        even = _shares(rods, low, high)
        shown = [_borne(leg, rods, step) for step in (whole, *before)]
        found += [max(0.0, *got) / e for e, *got in zip(even, *shown, strict=True)]
    return min(found)


def _forces(leg: LegAt, puts: Sequence[Pile]) -> list[tuple[float, float]]:
    """Where weights stand along a leg (mm), and what they count for there (N)."""
    return [
        (p.along, p.mass * G_N * counts(p.out, leg.depth, CONTENTS))
        for p in puts
        if p.wall == leg.wall
    ]


def _borne(leg: LegAt, rods: Sequence[float], step: Stands) -> list[float]:
    """What each rod bears of what counts as contents, less what the one thing lifts off it (N)."""
    even = [(force, _lever(rods, x)) for x, force in _forces(leg, step.even)]
    one = [(force, _lever(rods, x)) for x, force in _forces(leg, step.one)]
    return [
        sum(force * lever[k] for force, lever in even)
        + sum(force * min(0.0, lever[k]) for force, lever in one)
        for k in range(len(rods))
    ]


def _shares(rods: Sequence[float], low: float, high: float) -> list[float]:
    """How long a piece of an even load each rod takes at the most (mm): what lifts it may be off, and is left out."""
    step = (high - low) / SLICES
    strip = [_lever(rods, low + step * (k + 0.5)) for k in range(SLICES)]
    return [sum(max(0.0, each) for each in got) * step for got in zip(*strip, strict=True)]


SLICES = 400
"""Slices of a leg over which an even load is added up."""
