"""Which parts of the loads to put on: a fixed list, and every one that counts, solved itself."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from ledgewright.statics.actions import Actions, Bools, Floats
from ledgewright.statics.bases import Combination, Kind
from ledgewright.statics.mechanics.contact import Tables
from ledgewright.statics.mechanics.contact_rods import Answer, Asked, Resting
from ledgewright.statics.spot import Spot

SOME = 8
"""So many loads must be solved to say what touches under most of them."""


@dataclass(frozen=True)
class Pattern:
    """Which parts of the loads are on the shelf, and which that is in words ("" for all of them).

    proud: the number of a rod that stands above the others by the play of its slot; None: all lie in one plane.
    spot: where the one thing or the accident stands.
    """

    name: str
    there: Bools
    proud: int | None = None
    spot: Spot | None = None


@dataclass(frozen=True, eq=False)
class Solved:
    """One combination of loads in one pattern, solved on the section model; equal only to itself."""

    combination: Combination
    pattern: Pattern
    factors: Floats
    answer: Answer


@dataclass(frozen=True)
class Lost:
    """A load that the shelf does not stand under, and why."""

    combination: Combination
    pattern: Pattern
    why: str


Load = tuple[float, int | None, bytes]
"""Factor on self-weight, proud rod, and the factors on all parts."""


@dataclass(frozen=True)
class Try:
    """One combination in one pattern that is to be solved."""

    combination: Combination
    pattern: Pattern


@dataclass(frozen=True, eq=False)
class Known:
    """Where the search for what touches begins: it changes the time only.

    near: contacts with those taken as touching that touch under most loads. like: what touched under the same factors
    on other loads, or at other doubtful figures. scouted: the same on few contact points, by the key of the load there.
    """

    near: Tables | None = None
    like: Mapping[Load, Bools] = field(default_factory=dict)
    scouted: Mapping[bytes, Bools] = field(default_factory=dict)


@dataclass
class Search:
    """The cases of one shelf as they are found; equal loads are solved once, and as many together as are asked for.

    known: what is known beforehand, and since, of what touches.
    """

    actions: Actions
    resting: Resting
    answers: dict[Load, Answer | str] = field(default_factory=dict)
    cases: dict[tuple[str, str, int | None, bytes], Solved] = field(default_factory=dict)
    lost: list[Lost] = field(default_factory=list)
    known: Known = field(default_factory=Known)

    def case(self, combination: Combination, pattern: Pattern) -> Solved | None:
        """Return one combination in one pattern, solved; None if the shelf does not stand under it."""
        return self.all_of([Try(combination, pattern)])[0]

    def all_of(self, tries: Sequence[Try]) -> list[Solved | None]:
        """Return what `case` gives for several, solved together."""
        every = [self.actions.factors(each.combination, each.pattern.there) for each in tries]
        loads = [self.load(t, factors) for t, factors in zip(tries, every, strict=True)]
        self._solve({a: f for a, f in zip(loads, every, strict=True) if a not in self.answers})
        return [self._kept(*each) for each in zip(tries, loads, every, strict=True)]

    def load(self, asked: Try, factors: Floats) -> Load:
        """Return what is the same for all that put the same load on; factors: on all parts."""
        # What weighs nothing makes no other load.
        weighs = (factors * self._weighs).tobytes()
        return asked.combination.dead, asked.pattern.proud, weighs

    @cached_property
    def _weighs(self) -> Bools:
        return np.asarray(self.actions.forces != 0)

    def _kept(self, asked: Try, load: Load, factors: Floats) -> Solved | None:
        answer, (combination, pattern) = self.answers[load], (asked.combination, asked.pattern)
        if isinstance(answer, str):
            # On one proud rod a light shelf may rock within its play: loose, but not lost.
            if pattern.proud is None:
                self.lost.append(Lost(combination, pattern, answer))
            return None
        key = (combination.situation, combination.id, *load[1:])
        if key not in self.cases:
            self.cases[key] = Solved(combination, pattern, factors, answer)
        return self.cases[key]

    def _solve(self, loads: Mapping[Load, Floats]) -> None:
        acting = self.actions.under_all(list(loads.values()))
        asked = [
            Asked(each, own, self.raised(proud))
            for each, (own, proud, _) in zip(acting, loads, strict=True)
        ]
        near, like = self.known.near, self.known.like
        found = self.resting.solve_all(asked, near, [like.get(load) for load in loads])
        for load, each in zip(loads, found, strict=True):
            self.answers[load] = each if isinstance(each, Answer) else str(each)
        answers = [each for each in found if isinstance(each, Answer)]
        if near is None and len(answers) >= SOME:
            self.known = replace(self.known, near=self.resting.most(answers))

    @property
    def learnt(self) -> Known:
        """What another search of the same shelf may begin with."""
        like = {
            load: answer.touching
            for load, answer in self.answers.items()
            if isinstance(answer, Answer)
        }
        return replace(self.known, like=like)

    def of(self, combination: Combination) -> list[Solved]:
        """Return the cases of one combination."""
        return [case for case in self.cases.values() if case.combination == combination]

    def raised(self, proud: int | None) -> list[float] | None:
        """Return how far every rod stands above the others' middle, one of them proud by the play of its slot (mm)."""
        if proud is None:
            return None
        plays = [rod.above + rod.below for rod in self.resting.rods]
        return [(c if i == proud else -c) / 2 for i, c in enumerate(plays)]

    def stood_proud(self, level: Pattern, proud: int | None) -> Pattern:
        """Return a pattern with a rod proud of the others."""
        if proud is None:
            return level
        marks = [seat.rod.mark for row in self.actions.stood.rows for seat in row.seats]
        name = f"{level.name}; rod {marks[proud]} proud of the others".removeprefix("; ")
        return replace(level, name=name, proud=proud)


def kind_of(combination: Combination) -> Kind | None:
    """Return the kind of load that stands at one place, if there is one in a combination."""
    if combination.accident or combination.single:
        return "accident" if combination.accident else "single"
    return None


def listed(actions: Actions) -> Iterator[Pattern]:
    """Yield the patterns of contents that are always solved: all, each leg, every other bay, the ends, the front half.

    Args:
        actions: all parts of all loads.
    """
    live, dead = actions.of("live"), actions.of("dead")
    tiles = actions.stood.tiles
    yield Pattern("", dead | live)
    walls = list(dict.fromkeys(tile.wall for tile in tiles))
    choices = [
        (f"only leg {wall}", [t.wall == wall for t in tiles]) for wall in walls if len(walls) > 1
    ]
    for parity, name in ((1, "every other bay"), (0, "every other bay and the ends")):
        choices.append((name, [t.bay % 2 == parity for t in tiles]))
    choices.append(("only past the end rods", [t.zone != "bay" for t in tiles]))
    for end, name in (
        ("left end", "nothing past the left rod"),
        ("right end", "nothing past the right rod"),
    ):
        choices.append((name, [t.zone != end for t in tiles]))
    choices.append(("only the front half", [t.front for t in tiles]))
    seen = {(dead | live).tobytes()}
    for name, kept in choices:
        there = dead | (live & _on(actions, kept))
        if there.tobytes() not in seen:
            seen.add(there.tobytes())
            yield Pattern(name, there)


def standing(actions: Actions, kind: Kind) -> Iterator[Pattern]:
    """Yield all contents with the one thing, or the accident, at each end and in each bay's middle: always solved."""
    there = actions.of("dead", "live")
    for at in np.flatnonzero(actions.of(kind)).tolist():
        spot = actions.atoms[at].spot
        if spot is not None and spot.kind in ("end", "middle"):
            yield Pattern(spot.said, _with(there, at), spot=spot)


def _on(actions: Actions, kept: Sequence[bool]) -> Bools:
    """Which atoms lie on tiles that are kept; things count as being there."""
    return np.array([a.tile is None or kept[a.tile] for a in actions.atoms], dtype=bool)


def _with(there: Bools, at: int) -> Bools:
    made = there.copy()
    made[at] = True
    return made
