"""Where the worst loads are looked for: many laid out by rule, the best driven on, all on few contact points.

One-way contact does not superpose, and what is worst under one set of contacts hides what is worst under another.
So the one thing and the accident begin at every place, with all contents, with none and with those on one side of it,
with each rod near it proud in turn. Influence figures (the contacts as they are) then propose what to change. Figures
found here say only where to look: every load that counts is solved anew on all contact points.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np

from ledgewright.statics.actions import Actions, Bools, Floats, Ints
from ledgewright.statics.aims import Aims, Asked, Levels, Looked
from ledgewright.statics.bases import Combination, Kind
from ledgewright.statics.laid import contents_said
from ledgewright.statics.mechanics.contact import Tables
from ledgewright.statics.mechanics.contact_rods import Resting, gregory
from ledgewright.statics.patterns import (
    Known,
    Pattern,
    Search,
    Solved,
    Try,
    kind_of,
    listed,
    standing,
)
from ledgewright.statics.ranks import ranked, steps

POINTS = 12
"""Contact points along a rod while looking about: moments at the wood come to 1 % of those on all points, and the worst
load of any row was among the first three on the examples."""
NEAR = 2
"""So many rods nearest to a place, and the end rods of every leg, are taken as proud in turn while a thing stands
there: on a shelf that tips, the far end counts."""
ROUNDS = 3
"""So often proposals are made from what others led to."""
STARTS = 4
"""From so many of the worst loads of every figure proposals are made, each with the thing elsewhere or another rod
proud."""
PROUD = 2
"""So many of the most promising rods, or none, are taken as proud in one proposal."""
WORTH = 0.002
"""A load that promises less than this share more than the worst one found is left out."""
BEST = 2
"""So many of the worst loads of every figure are solved anew on all contact points."""
POLISHED = 3
"""So often the worst cases themselves propose others, on all contact points."""
CLIMBING = 2
"""From so many of the worst cases of every figure of the box these are made, if they come near the worst one."""
SHARES = (1.0, 0.5, 0.25)
"""What touches changes as parts of the contents are turned over, and they do not keep what they promise together: so
the share of them that promises most is turned over alone, too."""
CLOSE, CLOSE_BEHIND = 0.95, 0.9
"""Loads that come to less than this share of the worst one need not be; of those with the thing at the back."""


@dataclass(frozen=True)
class Sort:
    """Loads under one set of factors.

    combination: the first of those that have them. at: the parts that are the one thing or the accident. serves:
    whether all that have them are of service, which nothing of the box is judged by.
    """

    combination: Combination
    at: Ints
    serves: bool = False


@dataclass(frozen=True, eq=False)
class Load:
    """One load: its sort, what is there, the rod that is proud (-1: none), and the part that is the thing (-1)."""

    sort: int
    there: Bools
    proud: int
    at: int

    @property
    def key(self) -> bytes:
        """The same for the same load."""
        return bytes([self.sort, self.proud % 256]) + np.packbits(self.there).tobytes()


@dataclass(eq=False)
class Scout:
    """Loads as they are found, and what they come to on few contact points."""

    search: Search
    sorts: tuple[Sort, ...]
    resting: Resting
    tables: Tables
    like: Mapping[bytes, Bools] = field(default_factory=dict)
    loads: list[Load] = field(default_factory=list)
    seen: set[bytes] = field(default_factory=set)
    unsure: list[Load] = field(default_factory=list)

    @property
    def actions(self) -> Actions:
        """All parts of all loads."""
        return self.search.actions

    def look(self, proposed: Sequence[Load]) -> tuple[Looked, Bools]:
        """Return what loads come to that are new, and what touches under each; they are kept in their order."""
        fresh = [load for load in proposed if self._new(load)]
        count = len(self.actions.atoms)
        factors = np.zeros((len(fresh), count))
        for k, load in enumerate(fresh):
            factors[k] = self.unit[load.sort] * load.there
        own = np.array([self.sorts[load.sort].combination.dead for load in fresh])
        raised = self.opened[[load.proud for load in fresh]]
        gap = self.resting.play - own[:, None] * (self.resting.sign * self.resting.sag) + raised
        drop, whole = factors @ self.actions.drop.T, factors @ self.actions.whole.T
        like = [self.like.get(load.key) for load in fresh]
        found = self.resting.scan(drop, whole, own, gap, self.tables, like)
        self.loads += [load for load, ok in zip(fresh, found.settled, strict=True) if ok]
        self.unsure += [load for load, ok in zip(fresh, found.settled, strict=True) if not ok]
        kept = found.settled
        sorts = np.array([load.sort for load in fresh], dtype=np.intp)
        return Looked(sorts[kept], factors[kept], found.figures[kept]), found.touching[kept]

    def behind(self, load: Load) -> bool:
        """Return whether the thing stands at the back."""
        spot = self.actions.atoms[load.at].spot if load.at >= 0 else None
        return spot is not None and spot.kind.startswith("back")

    def known(self, loads: Sequence[Load]) -> None:
        """Take loads that were solved elsewhere as looked at."""
        self.loads += loads
        for load in loads:
            self._new(load)

    def _new(self, load: Load) -> bool:
        key = bytes([load.sort, load.proud % 256]) + np.packbits(load.there & self.weighs).tobytes()
        if key in self.seen:
            return False
        self.seen.add(key)
        return True

    def __post_init__(self) -> None:
        every = np.ones(len(self.actions.atoms), dtype=bool)
        self.unit = np.array([self.actions.factors(s.combination, every) for s in self.sorts])
        self.weighs = self.actions.forces != 0
        none = [0.0] * len(self.resting.rods)
        rods = range(len(self.resting.rods))
        raised = [*(self.search.raised(k) or none for k in rods), none]
        self.opened = np.array([self.resting.raising(each) for each in raised])


Driven = Callable[[Resting, Looked], Sequence[Aims]]
"""Makes what is driven up, on few contact points, from loads of all kinds."""


def run(search: Search, combinations: Sequence[Combination], driven: Driven) -> None:
    """Solve every case that counts.

    Args:
        search: the shelf with its loads; takes the cases.
        combinations: of the basis.
        driven: what is driven up.
    """
    alike: dict[tuple[float, ...], list[Combination]] = {}
    for each in combinations:
        factors = (each.dead, each.live, each.single, each.accident)
        alike.setdefault(factors, []).append(each)
    firsts = [first for first, *_ in alike.values() if _acts(search.actions, first)]
    always = [Try(c, p) for c in firsts for p in _always(search.actions, kind_of(c))]
    sorts = tuple(
        Sort(first, _places(search.actions, first), {c.situation for c in these} == {"service"})
        for first, *these in ((group[0], *group) for group in alike.values())
        if _acts(search.actions, first)
    )
    tries, aims = scouted(search, sorts, driven)
    search.all_of([*always, *tries])
    _polish(search, sorts, [each.on(search.resting) for each in aims])
    search.all_of(
        [
            Try(other, case.pattern)
            for first, *others in alike.values()
            for case in search.of(first)
            for other in others
        ]
    )


def turned_over(search: Search, case: Solved) -> Iterator[Try]:
    """Yield a case with each part of its contents that has a weight turned over: on where it was off, off where on.

    Args:
        search: of the case.
        case: solved.
    """
    actions = search.actions
    kind, proud = kind_of(case.combination), case.pattern.proud
    at = np.flatnonzero(case.pattern.there & actions.of(kind)).tolist() if kind else []
    for part in np.flatnonzero(actions.of("live") & (actions.forces != 0)).tolist():
        there = case.pattern.there.copy()
        there[part] = not there[part]
        pattern = _laid(actions, there, at[0] if at else -1)
        yield Try(case.combination, search.stood_proud(pattern, proud))


def _acts(actions: Actions, combination: Combination) -> bool:
    kind = kind_of(combination)
    return kind is None or bool(actions.of(kind).any())


def _always(actions: Actions, kind: Kind | None) -> Iterator[Pattern]:
    return listed(actions) if kind is None else standing(actions, kind)


def _polish(search: Search, sorts: tuple[Sort, ...], aims: Sequence[Aims]) -> None:
    """Solve what the worst cases themselves propose, on all contact points."""
    tables = search.known.near or search.resting.begun()
    done: set[tuple[int, int]] = set()
    if not aims or tables is None:
        return
    scout = Scout(search, sorts, search.resting, tables)
    cases = [(k, case) for k, sort in enumerate(sorts) for case in search.of(sort.combination)]
    scout.known([_load(search.actions, k, case) for k, case in cases])
    looked = Looked(
        np.array([k for k, _ in cases]),
        np.array([case.factors for _, case in cases]),
        np.array([case.answer.figures for _, case in cases]),
    )
    touching = np.array([case.answer.touching for _, case in cases])
    levels = _levels(aims, looked)
    for _ in range(POLISHED):
        begin = [s for s in _starts(scout, aims, levels, CLIMBING, CLOSE_BEHIND) if s not in done]
        done |= set(begin)
        proposed = _proposed(scout, aims, looked, touching, levels, begin, SHARES)
        more, on = scout.look(proposed)
        if not len(on):
            break
        touching = np.vstack([touching, on])
        looked = looked.and_(more)
        levels = levels.and_(_levels(aims, more))
    best = dict.fromkeys(k for _, k in _starts(scout, aims, levels, 1) if k >= len(cases))
    search.all_of(
        [_try(search, sorts, load) for load in [*(scout.loads[k] for k in best), *scout.unsure]]
    )


def _load(actions: Actions, sort: int, case: Solved) -> Load:
    pattern, kind = case.pattern, kind_of(case.combination)
    at = np.flatnonzero(pattern.there & actions.of(kind)).tolist() if kind else []
    proud = -1 if pattern.proud is None else pattern.proud
    return Load(sort, pattern.there, proud, at[0] if at else -1)


def scouted(
    search: Search, sorts: tuple[Sort, ...], driven: Driven
) -> tuple[list[Try], Sequence[Aims]]:
    """Return the loads that may be worst, to be solved, and what they were found for.

    Args:
        search: the shelf with its loads.
        sorts: each with factors of its own.
        driven: what is driven up.
    """
    resting = search.resting.coarser(POINTS)
    tables = resting.begun()
    seeds = list(_seeds(search, sorts))
    if tables is None:
        return [_try(search, sorts, load) for load in seeds], ()
    scout = Scout(search, sorts, resting, tables, search.known.scouted)
    looked, touching = scout.look(seeds)
    if not len(touching):
        return [_try(search, sorts, load) for load in scout.unsure], ()
    aims = driven(resting, looked)
    levels = _levels(aims, looked)
    done: set[tuple[int, int]] = set()
    for _ in range(ROUNDS):
        begin = [s for s in _starts(scout, aims, levels) if s not in done]
        done |= set(begin)
        proposed = _proposed(scout, aims, looked, touching, levels, begin)
        more, on = scout.look([*proposed, *_crossed(scout, aims, levels)])
        if not len(on):
            break
        touching = np.vstack([touching, on])
        looked = looked.and_(more)
        levels = levels.and_(_levels(aims, more))
    best = dict.fromkeys(_best(scout, aims, levels))
    tries = [_try(search, sorts, scout.loads[k]) for k in best]
    _begin(search, scout, tries, touching, list(best))
    return [*tries, *(_try(search, sorts, load) for load in scout.unsure)], aims


def _begin(
    search: Search, scout: Scout, tries: Sequence[Try], touching: Bools, best: Sequence[int]
) -> None:
    """Let the search on all contact points begin at what touches on few under the loads that are tried."""
    fine, coarse = (gregory(of.points)[0] for of in (search.resting, scout.resting))
    nearest = np.abs(fine[:, None] - coarse).argmin(axis=1)
    on = touching[best].reshape(len(best), -1, len(coarse))[:, :, nearest].reshape(len(best), -1)
    loads = [search.load(t, search.actions.factors(t.combination, t.pattern.there)) for t in tries]
    known = search.known
    search.known = Known(
        near=known.near or (search.resting.about(on.mean(axis=0) > 1 / 2) if len(on) else None),
        like={**dict(zip(loads, on, strict=True)), **known.like},
        scouted={load.key: each for load, each in zip(scout.loads, touching, strict=True)},
    )


def _places(actions: Actions, combination: Combination) -> Ints:
    kind = kind_of(combination)
    return np.flatnonzero(actions.of(kind)) if kind else np.zeros(0, dtype=np.intp)


def _seeds(search: Search, sorts: Sequence[Sort]) -> Iterator[Load]:
    rods = len(search.resting.rods)
    bare = next((k for k, each in enumerate(sorts) if not len(each.at)), 0)
    for sort, each in enumerate(sorts):
        for pattern in () if len(each.at) else listed(search.actions):
            # Under contents alone what is worst under the first of the sorts is tried under the others.
            for proud in (-1, *(range(rods) if sort == bare else ())):
                yield Load(sort, pattern.there, proud, -1)
        if sort == bare:
            yield from (Load(sort, there, -1, -1) for there in _one_sided(search.actions, rods))
        for at in each.at.tolist():
            for there, proud in _with_thing(search.actions, at):
                yield Load(sort, there, proud, at)


def _one_sided(actions: Actions, rods: int) -> Iterator[Bools]:
    """Contents up to each rod and from there on, with things and without: a shelf that tips drops most by them."""
    dead, things = actions.of("dead"), np.array([atom.tile is None for atom in actions.atoms])
    for rod in range(rods):
        for side in _sides(actions, [rod]):
            yield from (dead | side, dead | (side & ~things))


def _with_thing(actions: Actions, at: int) -> Iterator[tuple[Bools, int]]:
    """What is there while a thing stands at a place, and the rod that is proud (-1: none).

    At a place beside another that begins with more only its own rod is: that says from where to climb.
    """
    dead, live, spot = actions.of("dead"), actions.of("live"), actions.atoms[at].spot
    rows = [row.seats for row in actions.stood.rows]
    marks = [seat.rod.mark for seats in rows for seat in seats]
    counts = np.cumsum([0, *map(len, rows)]).tolist()
    ends = sorted({k for a, b in pairwise(counts) for k in (a, b - 1) if b > a})
    here = [marks.index(m) for m in spot.marks] if spot else []
    order = sorted(range(len(marks)), key=lambda k: min((abs(k - i) for i in here), default=0))
    near, sides = order[:NEAR], list(_sides(actions, here))
    most = dict.fromkeys((-1, *near, *ends))
    begun = [(live, most), (live & False, most), *((s, dict.fromkeys((-1, *near))) for s in sides)]
    if spot and spot.kind.endswith("beside"):
        begun = [(contents, dict.fromkeys(here[:1])) for contents in (live, *sides)]
    for contents, prouds in begun:
        there = dead | contents
        there[at] = True
        yield from ((there, proud) for proud in prouds)


def _sides(actions: Actions, here: Sequence[int]) -> Iterator[Bools]:
    """The contents of a leg up to where some of its rods are, and from there on, other legs full."""
    at = [(row.leg.wall, seat.x) for row in actions.stood.rows for seat in row.seats]
    tiles, live = actions.stood.tiles, actions.of("live")
    if not here:
        return
    wall, x = at[here[0]][0], float(np.mean([at[k][1] for k in here]))
    for sign in (-1, 1):
        off = [tile.wall == wall and sign * (tile.along - x) > 0 for tile in tiles]
        yield live & np.array([a.tile is None or not off[a.tile] for a in actions.atoms])


def _levels(aims: Sequence[Aims], looked: Looked) -> Levels:
    found = [each.levels(looked) for each in aims]
    return Levels(np.vstack([f.values for f in found]), np.vstack([f.which for f in found]))


@dataclass(frozen=True)
class _Counting:
    """The loads under which one aim counts. aim: its number. level: whether only in service with all rods level."""

    aim: int
    level: bool
    serves: bool
    loads: Ints


def _counting(scout: Scout, aims: Sequence[Aims]) -> Iterator[_Counting]:
    """Of every sort of load and every aim the loads that count."""
    of = np.array([load.sort for load in scout.loads])
    proud = np.array([load.proud for load in scout.loads])
    flat = [each.level for each in aims for _ in range(each.count)]
    serves = [each.serves for each in aims for _ in range(each.count)]
    for sort, each in enumerate(scout.sorts):
        mine = np.flatnonzero(of == sort)
        for aim, level in enumerate(flat):
            if each.serves and not serves[aim]:
                continue
            if not level:
                yield _Counting(aim, level, serves[aim], mine)
            elif not len(each.at) and each.combination.situation == "service":
                yield _Counting(aim, level, serves[aim], mine[proud[mine] < 0])


def _starts(
    scout: Scout, aims: Sequence[Aims], levels: Levels, many: int = STARTS, close: float = 0.0
) -> Iterator[tuple[int, int]]:
    """Every aim and the loads that drive it furthest, each with the thing or the proud rod elsewhere, if any is.

    close: they come to so much of the furthest, and of what is judged in service too only that counts.
    """
    for each in _counting(scout, aims):
        values = levels.values[each.aim, each.loads]
        least = max(close * float(values.max(initial=0.0)), 0.0)
        first: dict[tuple[int, ...], int] = {}
        most = (1 if close and each.serves else many) * (1 + each.level)
        for k in ranked(values):
            if values[k] <= least or len(first) == most:
                break
            at = int(each.loads[k])
            key = (at,) if each.level else (scout.loads[at].at, scout.loads[at].proud)
            first.setdefault(key, at)
        yield from ((each.aim, load) for load in first.values())


def _crossed(scout: Scout, aims: Sequence[Aims], levels: Levels) -> Iterator[Load]:
    """What drives an aim furthest under loads of one sort, put on under every other: its contents, or its rod too."""
    most: dict[int, list[Load]] = {}
    for each in _counting(scout, aims):
        values = levels.values[each.aim, each.loads]
        if len(values) and not each.level:
            most.setdefault(each.aim, []).append(scout.loads[each.loads[ranked(values)[0]]])
    live = scout.actions.of("live")
    for loads in most.values():
        for one in loads:
            for other in loads:
                if one.sort != other.sort:
                    there = (other.there & ~live) | (one.there & live)
                    yield Load(other.sort, there, other.proud, other.at)
                    yield Load(other.sort, there, one.proud, other.at)


def _proposed(
    scout: Scout,
    aims: Sequence[Aims],
    looked: Looked,
    touching: Bools,
    levels: Levels,
    begin: Sequence[tuple[int, int]],
    shares: Sequence[float] = (),
) -> list[Load]:
    """What promises to drive aims further than any load does so far."""
    if not begin:
        return []
    rows, parts = _weights(aims, looked, levels, begin)
    at = np.array([load for _, load in begin])
    influence = scout.resting.influences(touching[at], rows, scout.tables)
    gain = influence.of(scout.actions.drop, scout.actions.whole) + parts
    lifted = influence.per_gap @ scout.opened.T
    most: dict[tuple[int, int], float] = {}
    for aim, load in begin:
        key = (aim, scout.loads[load].sort)
        most[key] = max(most.get(key, 0.0), float(levels.values[aim, load]))
    level = [each.level for each in aims for _ in range(each.count)]
    made: list[Load] = []
    for j, (aim, load) in enumerate(begin):
        one = scout.loads[load]
        start = _Start(one, float(levels.values[aim, load]), most[aim, one.sort] * (1 + WORTH))
        made += _from(scout, start, gain[j], lifted[j], level=level[aim], shares=shares)
    return made


def _weights(
    aims: Sequence[Aims], looked: Looked, levels: Levels, begin: Sequence[tuple[int, int]]
) -> tuple[Floats, Floats]:
    """Aims under loads as sums over figures and over parts."""
    rows = np.zeros((len(begin), looked.figures.shape[1]))
    parts = np.zeros((len(begin), looked.factors.shape[1]))
    first = 0
    for each in aims:
        last = first + each.count
        mine = [k for k, (aim, _) in enumerate(begin) if first <= aim < last]
        asked = [
            Asked(aim - first, int(levels.which[aim, load]), load)
            for aim, load in (begin[k] for k in mine)
        ]
        if asked:
            rows[mine], parts[mine] = each.weights(asked, looked)
        first = last
    return rows, parts


@dataclass(frozen=True)
class _Start:
    """A load to propose others from; now: how far its aim is driven; least: what others must promise."""

    load: Load
    now: float
    least: float


def _from(
    scout: Scout,
    start: _Start,
    gain: Floats,
    lifted: Floats,
    *,
    level: bool,
    shares: Sequence[float],
) -> Iterator[Load]:
    """The contents that add to an aim, the thing where it is or where it adds most, rods proud that promise most."""
    actions, load, sort = scout.actions, start.load, scout.sorts[start.load.sort]
    # What adds nothing but for rounding is left off, whichever way it is rounded.
    contents = actions.of("dead") | (actions.of("live") & (steps(gain) > 0))
    places = {load.at: None}
    if len(sort.at):
        places[int(sort.at[ranked(gain[sort.at])[0]])] = None
    prouds = [len(lifted) - 1] if level else ranked(lifted)[:PROUD]
    for at in places:
        there = contents.copy()
        if at >= 0:
            there[at] = True
        change = there.astype(float) - load.there
        promised = start.now + float((gain * scout.unit[load.sort]) @ change)
        for proud in prouds:
            if promised + lifted[proud] - lifted[load.proud] > start.least:
                yield Load(load.sort, there, proud if proud < len(lifted) - 1 else -1, at)
    yield from _in_part(scout, start, gain, contents, shares)


def _in_part(
    scout: Scout, start: _Start, gain: Floats, contents: Bools, shares: Sequence[float]
) -> Iterator[Load]:
    """The same load with so many of the contents that are to be turned over, those that promise most."""
    load = start.load
    worth = np.abs(gain * scout.unit[load.sort])
    turned = np.flatnonzero((contents != load.there) & scout.actions.of("live"))
    if not len(turned):
        return
    order = turned[ranked(worth[turned])]
    for share in shares:
        some = order[: math.ceil(share * len(order))]
        if worth[some].sum() > WORTH * start.now:
            there = load.there.copy()
            there[some] = ~there[some]
            yield Load(load.sort, there, load.proud, load.at)


def _best(scout: Scout, aims: Sequence[Aims], levels: Levels) -> Iterator[int]:
    """The loads that drive any aim nearly furthest, those with the thing at the back by themselves too.

    On few contact points these are told wrongly by more: the force that parts skin and core lies beside their own rod.
    """
    behind = np.array([scout.behind(load) for load in scout.loads])
    for each in _counting(scout, aims):
        values = levels.values[each.aim, each.loads]
        top = float(values.max(initial=0.0))
        for some, close in ((each.loads >= 0, CLOSE), (behind[each.loads], CLOSE_BEHIND)):
            at = np.flatnonzero(some)
            order = [int(at[k]) for k in ranked(values[at])[: BEST * (1 + each.level)]]
            yield from (int(each.loads[k]) for k in order if values[k] > max(close * top, 0.0))


def _try(search: Search, sorts: Sequence[Sort], load: Load) -> Try:
    pattern = _laid(search.actions, load.there, load.at)
    proud = load.proud if load.proud >= 0 else None
    return Try(sorts[load.sort].combination, search.stood_proud(pattern, proud))


def _laid(actions: Actions, there: Bools, at: int) -> Pattern:
    """A pattern with its name; at: the part that is the thing (-1: none)."""
    live = actions.of("live")
    spot = actions.atoms[at].spot if at >= 0 else None
    told = [spot.said] if spot else []
    on = there & live
    if not on.any() and live.any():
        told.append("nothing else on it" if spot else "nothing on it")
    elif (on != live).any():
        told.append(contents_said(actions, there))
    return Pattern("; ".join(told), there, spot=spot)
