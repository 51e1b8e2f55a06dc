"""Which cases of several shelves are to meet on the studs and blocks that they share, so that each gets its worst."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import partial
from itertools import combinations, pairwise, product

import numpy as np

from ledgewright.statics.actions import Floats
from ledgewright.statics.bases import MemberRules
from ledgewright.statics.formula import Working
from ledgewright.statics.mechanics import member as beam
from ledgewright.statics.member_checks import OnStud, Pushed, Stud
from ledgewright.statics.member_rows import Under, blocks, studs
from ledgewright.statics.ranks import unsurpassed

Meeting = tuple[Under, ...]
"""One case of every shelf, in their order."""
QUIET = Working(keep=False)


def meetings(
    shelves: Sequence[Sequence[Under]], shared: frozenset[str], timbers: MemberRules
) -> tuple[Meeting, ...]:
    """Return the cases that are to meet, instead of every one of a shelf with every one of all the others.

    Moment and shear in a stud are sums over the shelves on it, and what it takes of a moment falls with all that
    presses down on it, the faster the more does (docs/statics.md). So next to each rod, each way round, the worst is
    where the cases of all shelves lie furthest out the same way between both. In a block that several shelves
    have rods in every case meets every other. And every case of a shelf meets something, for the rods' own rows.

    Args:
        shelves: the cases of each; none empty.
        shared: names of the studs and blocks that are looked at.
        timbers: of the basis.
    """
    found = dict.fromkeys(_each_once(shelves))
    in_stud = [studs(cases[0].loads) for cases in shelves]
    in_block = [blocks(cases[0].loads) for cases in shelves]
    for name in sorted(shared):
        on = [k for k, there in enumerate(in_stud) if name in there]
        if on:
            found |= dict.fromkeys(_on_stud(shelves, on, name, timbers))
        found |= dict.fromkeys(_all_of(shelves, [k for k, b in enumerate(in_block) if name in b]))
    return tuple(tuple(cases[k] for cases, k in zip(shelves, at, strict=True)) for at in found)


Numbers = tuple[int, ...]


def _each_once(shelves: Sequence[Sequence[Under]]) -> Iterator[Numbers]:
    for n in range(max(len(cases) for cases in shelves)):
        yield tuple(min(n, len(cases) - 1) for cases in shelves)


def _all_of(shelves: Sequence[Sequence[Under]], on: Sequence[int]) -> Iterator[Numbers]:
    if len(on) > 1:
        yield from _with_first(shelves, on, [range(len(shelves[k])) for k in on])


def _with_first(
    shelves: Sequence[Sequence[Under]], on: Sequence[int], numbers: Sequence[Sequence[int]]
) -> Iterator[Numbers]:
    """Every combination of these cases of the shelves that are on a member, with the first of the others."""
    for some in product(*numbers):
        at = dict(zip(on, some, strict=True))
        yield tuple(at.get(k, 0) for k in range(len(shelves)))


def _on_stud(
    shelves: Sequence[Sequence[Under]], on: Sequence[int], name: str, timbers: MemberRules
) -> Iterator[Numbers]:
    stands = [[studs(case.loads)[name] for case in shelves[k]] for k in on]
    places = sorted({load.up for cases in stands for load in cases[0]})
    asked = [np.array([_asks(loads, places, timbers) for loads in cases]) for cases in stands]
    down = [np.array([sum(max(o.V, 0.0) for o in loads) for loads in cases]) for cases in stands]
    bending = asked[0].shape[1] // 2
    for place in range(asked[0].shape[1]):
        for sign in (1.0, -1.0):
            clouds = [
                np.column_stack([sign * here[:, place], N * (place < bending)])
                for here, N in zip(asked, down, strict=True)
            ]
            for some in outermost(clouds):
                at = dict(zip(on, some, strict=True))
                yield tuple(at.get(k, 0) for k in range(len(shelves)))


def outermost(clouds: Sequence[Floats]) -> tuple[Numbers, ...]:
    """Return every choice of one point of each cloud whose sum no other choice's surpasses both ways, but for hollows.

    The corners of a sum of convex hulls are sums of their corners that lie furthest the same way. What grows with both
    figures, and in a hollow is no greater than between the corners beside it, is greatest at one of these.

    Args:
        clouds: points of each (points, 2).
    """
    turns = {0.0}
    for cloud in clouds:
        corners = [cloud[k] for k in unsurpassed(cloud[:, 0], cloud[:, 1])]
        turns |= {
            math.atan2(abs(a[0] - b[0]), abs(a[1] - b[1])) for a, b in combinations(corners, 2)
        }
    marks = [*sorted(turns), math.pi / 2]
    ways = [0.0, *((a + b) / 2 for a, b in pairwise(marks)), math.pi / 2]
    chosen = {tuple(_furthest(cloud, way) for cloud in clouds): None for way in dict.fromkeys(ways)}
    return tuple(chosen)


def _furthest(cloud: Floats, way: float) -> int:
    """Which point lies furthest this way, from the first axis to the second; of equals that with most of both."""
    reach = cloud @ np.array([math.cos(way), math.sin(way)])
    far = np.flatnonzero(reach >= reach.max() - 1e-9 * np.abs(reach).max())
    return int(far[np.argmax(cloud[far].sum(axis=1))])


def _asks(loads: Sequence[OnStud], places: Sequence[float], timbers: MemberRules) -> Floats:
    """The part of some rods in moment and shear just below and just above each height (4 for each)."""
    timber, height = loads[0].timber, loads[0].wall.height or timbers.storey
    h = timber.depth if timber is not None else 0.0
    couple = partial(beam.axis_couple, h=h)
    rods = tuple(
        Pushed(couple(V=on.V, M=on.M), on.out, on.up, n) for n, on in enumerate(loads, start=1)
    )
    stud = Stud(height, rods)
    return np.array(
        [
            sum(of(QUIET, rod, z, over) for rod in rods)
            for of in (stud.moment, stud.shear)
            for z in places
            for over in (False, True)
        ]
    )
