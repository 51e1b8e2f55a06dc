"""Which parts of the loads to put on: a fixed list, and for every figure what drives it furthest.

One-way contact does not superpose. Influence figures (the contacts as they are) propose a pattern; it is solved, and
again from its own answer, until nothing more is promised. Every pattern that counts has been solved itself.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import groupby

import numpy as np

from ledgewright.statics.actions import Actions, Bools, Floats
from ledgewright.statics.bases import Combination, Kind
from ledgewright.statics.mechanics.contact import Tables
from ledgewright.statics.mechanics.contact_rods import Answer, Asked, Resting, Weights
from ledgewright.statics.spot import Spot

SOME = 8
"""So many loads must be solved to say what touches under most of them."""
ROUNDS = 4
"""So often a proposal is solved and proposed anew; one or two rounds are enough as a rule."""
STARTS = 4
"""From so many of the worst cases of contents alone proposals are made: what touches differs between them."""
AGAIN = 2
"""So often patterns are proposed anew from a rod's worst case with that rod proud."""
PROUD = 3
"""So many of the most promising rods, or none, are taken as proud in one round."""
WORTH = 0.002
"""A pattern that promises less than this share more than the worst one solved is left out."""


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

    @cached_property
    def figures(self) -> Floats:
        """All that a `Figure` weighs, in one row."""
        return np.concatenate([self.answer.figures, self.factors])


@dataclass(frozen=True)
class Lost:
    """A load that the shelf does not stand under, and why."""

    combination: Combination
    pattern: Pattern
    why: str


@dataclass(frozen=True)
class Figure:
    """What a pattern is to drive up: a sum over a case's answer, and over the factors of its parts.

    rod: the number of the rod it is of, if of one. parts: weights of the factors (atoms,), None if there are none.
    """

    rod: int | None
    weights: Weights
    parts: Floats | None = None

    def of(self, case: Solved) -> float:
        """Return the figure in a case."""
        found = self.weights.of(case.answer)
        return found if self.parts is None else found + float(self.parts @ case.factors)

    def row(self, parts: int) -> Floats:
        """Return all its weights in one row, as `Solved.figures` has what they weigh; parts: how many there are."""
        mine = np.zeros(parts) if self.parts is None else self.parts
        return np.concatenate([self.weights.row, mine])


def under(figures: Sequence[Figure], cases: Sequence[Solved]) -> Floats:
    """Return every figure under every case (figures, cases)."""
    rows = np.array([figure.row(len(cases[0].factors)) for figure in figures])
    return np.asarray(rows @ np.array([case.figures for case in cases]).T)


Load = tuple[float, int | None, bytes]
"""Factor on self-weight, proud rod, and the factors on all parts."""


@dataclass(frozen=True)
class Try:
    """One combination in one pattern that is to be solved."""

    combination: Combination
    pattern: Pattern


@dataclass
class Search:
    """The cases of one shelf as they are found; equal loads are solved once, and as many together as are asked for.

    near: contacts with those taken as touching that touch under most loads, once some are solved: where the search
    for those that touch under others begins, no more. like: what touched under the same factors on other loads, or at
    other doubtful figures: there it begins first of all.
    """

    actions: Actions
    resting: Resting
    answers: dict[Load, Answer | str] = field(default_factory=dict)
    cases: dict[tuple[str, str, int | None, bytes], Solved] = field(default_factory=dict)
    lost: list[Lost] = field(default_factory=list)
    near: Tables | None = None
    like: Mapping[Load, Bools] = field(default_factory=dict)

    def case(self, combination: Combination, pattern: Pattern) -> Solved | None:
        """Return one combination in one pattern, solved; None if the shelf does not stand under it."""
        return self.all_of([Try(combination, pattern)])[0]

    def all_of(self, tries: Sequence[Try]) -> list[Solved | None]:
        """Return what `case` gives for several, solved together."""
        every = [self.actions.factors(each.combination, each.pattern.there) for each in tries]
        # What weighs nothing makes no other load.
        weighs = self.actions.forces != 0
        loads = [
            (t.combination.dead, t.pattern.proud, (factors * weighs).tobytes())
            for t, factors in zip(tries, every, strict=True)
        ]
        self._solve({a: f for a, f in zip(loads, every, strict=True) if a not in self.answers})
        return [self._kept(*each) for each in zip(tries, loads, every, strict=True)]

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
        found = self.resting.solve_all(asked, self.near, [self.like.get(load) for load in loads])
        for load, each in zip(loads, found, strict=True):
            self.answers[load] = each if isinstance(each, Answer) else str(each)
        answers = [each for each in found if isinstance(each, Answer)]
        if self.near is None and len(answers) >= SOME:
            self.near = self.resting.most(answers)

    @property
    def touching(self) -> dict[Load, Bools]:
        """What touches under every load that was solved."""
        return {
            load: answer.touching
            for load, answer in self.answers.items()
            if isinstance(answer, Answer)
        }

    def gains(self, proposed: Sequence[tuple[Figure, Solved]]) -> tuple[Floats, Floats]:
        """Return what drives figures up from cases, as long as the same contacts touch there.

        Returns:
            How much a factor of 1 on each part adds (proposed, atoms), and a gap opened at each contact (proposed,
            contacts).
        """
        if not proposed:
            return np.zeros((0, len(self.actions.atoms))), np.zeros((0, len(self.resting.sign)))
        at = [(case.answer, figure.weights) for figure, case in proposed]
        influence = self.resting.influences(at, self.near)
        gain = influence.of(self.actions.drop, self.actions.whole)
        for k, (figure, _) in enumerate(proposed):
            if figure.parts is not None:
                gain[k] += figure.parts
        return gain, influence.per_gap

    def of(self, combination: Combination) -> list[Solved]:
        """Return the cases of one combination."""
        return [case for case in self.cases.values() if case.combination == combination]

    def raised(self, proud: int | None) -> list[float] | None:
        """Return how far every rod stands above the others' middle, one of them proud by the play of its slot (mm)."""
        if proud is None:
            return None
        plays = [rod.above + rod.below for rod in self.resting.rods]
        return [(c if i == proud else -c) / 2 for i, c in enumerate(plays)]

    @cached_property
    def opened(self) -> dict[int | None, Floats]:
        """What every rod opens at every contact as it stands proud of the others, and none of them does (mm)."""
        none = [0.0] * len(self.resting.rods)
        return {
            proud: self.resting.raising(self.raised(proud) or none)
            for proud in (None, *range(len(self.resting.rods)))
        }

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


def run(search: Search, combinations: Sequence[Combination], depths: Sequence[float]) -> None:
    """Solve every case that counts.

    Args:
        search: the shelf with its loads; takes the cases.
        combinations: of the basis.
        depths: embedment of every rod (mm).
    """
    alike: dict[tuple[float, ...], list[Combination]] = {}
    for each in combinations:
        factors = (each.dead, each.live, each.single, each.accident)
        alike.setdefault(factors, []).append(each)
    firsts = [first for first, *_ in alike.values() if _acts(search.actions, first)]
    search.all_of([Try(each, p) for each in firsts for p in _listed(search.actions, kind_of(each))])
    heads = [head for first in firsts for head in _heads(search, first, depths)]
    _drive(search, heads)
    _proud(search, heads)
    search.all_of(
        [
            Try(other, case.pattern)
            for first, *others in alike.values()
            for case in search.of(first)
            for other in others
        ]
    )


def _acts(actions: Actions, combination: Combination) -> bool:
    kind = kind_of(combination)
    return kind is None or bool(actions.of(kind).any())


@dataclass(frozen=True)
class _Head:
    """A figure that is driven up under one combination."""

    combination: Combination
    figure: Figure


def _heads(search: Search, combination: Combination, depths: Sequence[float]) -> list[_Head]:
    begun = search.of(combination)
    if not begun:
        return []
    drops = kind_of(combination) is None
    figures = _figures(search.resting, begun[0], depths, drops=drops)
    return [_Head(combination, figure) for figure in figures]


def _listed(actions: Actions, kind: Kind | None) -> Iterator[Pattern]:
    """The patterns that are always solved: all, each leg, every other bay, the ends, the front half.

    With a single load: all of the contents, and the load at each end and in each bay's middle.
    """
    live, dead = actions.of("live"), actions.of("dead")
    if kind is not None:
        for at in np.flatnonzero(actions.of(kind)).tolist():
            spot = actions.atoms[at].spot
            if spot is not None and spot.kind in ("end", "middle"):
                yield Pattern(spot.said, _with(dead | live, at), spot=spot)
        return
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


def _on(actions: Actions, kept: Sequence[bool]) -> Bools:
    """Which atoms lie on tiles that are kept; things count as being there."""
    return np.array([a.tile is None or kept[a.tile] for a in actions.atoms], dtype=bool)


def _with(there: Bools, at: int) -> Bools:
    made = there.copy()
    made[at] = True
    return made


def _figures(
    resting: Resting, first: Solved, depths: Sequence[float], *, drops: bool
) -> Iterator[Figure]:
    """Per rod the moment at the wood, and what crushes the wood (M0 + V0 L/2); the two places that drop furthest."""
    none = resting.no_weights()
    for i, L in enumerate(depths):
        for pull in (0.0, L / 2):
            faces = np.zeros_like(none.faces)
            faces[2 * i], faces[2 * i + 1] = pull, 1.0
            yield Figure(i, replace(none, faces=faces))
    if drops:
        for place in np.argsort(-first.answer.read)[:2]:
            read = np.zeros_like(none.read)
            read[place] = 1.0
            yield Figure(None, replace(none, read=read))


def _proud(search: Search, heads: Sequence[_Head]) -> None:
    """Solve the worst case of each rod once more with that rod proud of the others by all that its slot lets it.

    Rods out of line by more than the play do not go into their slots; by less they do, and nobody sees it. What is
    worst then may be another pattern: it is proposed from there once more.
    """
    mine = [(head, head.figure.rod) for head in heads if head.figure.rod is not None]
    order = _ordered(search, [head for head, _ in mine])
    tries = [
        Try(head.combination, search.stood_proud(each[0][0].pattern, rod))
        for (head, rod), each in zip(mine, order, strict=True)
    ]
    for _ in range(AGAIN):
        found = search.all_of(tries)
        at = [
            (head, rod, case)
            for (head, rod), case in zip(mine, found, strict=True)
            if case is not None
        ]
        gains, _ = search.gains([(head.figure, case) for head, _, case in at])
        mine, tries = [], []
        for (head, rod, case), gain in zip(at, gains, strict=True):
            level = proposed(search.actions, gain, kind_of(head.combination))
            factors = search.actions.factors(head.combination, level.there)
            if gain @ (factors - case.factors) > WORTH * abs(head.figure.of(case)):
                mine.append((head, rod))
                tries.append(Try(head.combination, search.stood_proud(level, rod)))
    search.all_of(tries)


def _ordered(search: Search, heads: Sequence[_Head]) -> list[list[tuple[Solved, float]]]:
    """The cases of every figure's combination with all rods in one plane, the worst of them first, and the figure."""
    found: list[list[tuple[Solved, float]]] = []
    for combination, some in groupby(heads, key=lambda head: head.combination):
        cases = [case for case in search.of(combination) if case.pattern.proud is None]
        for values in under([head.figure for head in some], cases):
            order = np.argsort(-values, kind="stable").tolist()
            found.append([(cases[k], float(values[k])) for k in order])
    return found


def _drive(search: Search, heads: Sequence[_Head]) -> None:
    """Solve the patterns that drive figures up: proposed from cases, and again from their answers, all at once.

    Each begins from its worst cases, and goes on from where any other figure's proposals are worse for it. A pattern
    that would add less than `WORTH` to the worst case solved so far is not solved.
    """
    done: set[tuple[int, int]] = set()
    at: list[tuple[int, Solved]] = []
    for _ in range(ROUNDS + 1):
        order = _ordered(search, heads)
        for k, head in enumerate(heads):
            many = 1 if kind_of(head.combination) else STARTS
            at += [(k, case) for case, _ in order[k][:many]]
        at = [(k, case) for k, case in dict.fromkeys(at) if (k, id(case)) not in done]
        done |= {(k, id(case)) for k, case in at}
        if not at:
            return
        at = _led(search, [(k, heads[k], case, order[k][0][1]) for k, case in at])


def _led(
    search: Search, at: Sequence[tuple[int, _Head, Solved, float]]
) -> list[tuple[int, Solved]]:
    """Return the cases that proposals lead to, by the number of the figure they are proposed for.

    at: its number, the figure, the case to propose from, and the greatest that it came to so far.
    """
    actions = search.actions
    gains, _ = search.gains([(head.figure, case) for _, head, case, _ in at])
    tries: list[tuple[int, Try]] = []
    for (k, head, case, most), gain in zip(at, gains, strict=True):
        pattern = proposed(actions, gain, kind_of(head.combination))
        more = gain @ (actions.factors(head.combination, pattern.there) - case.factors)
        if head.figure.of(case) + more > most + WORTH * abs(most):
            tries.append((k, Try(head.combination, pattern)))
    found = search.all_of([each for _, each in tries])
    return [(k, case) for (k, _), case in zip(tries, found, strict=True) if case is not None]


def proposed(actions: Actions, gain: Floats, kind: Kind | None) -> Pattern:
    """Return the parts of the loads that add to a figure, with the one thing or the accident where it adds most."""
    there = actions.of("dead") | (actions.of("live") & (gain > 0))
    if kind is not None:
        return _standing(actions, there, gain, kind)
    return Pattern("where it is worst", there)


def _standing(actions: Actions, there: Bools, gain: Floats, kind: Kind) -> Pattern:
    """Return a pattern with the one thing or the accident where it adds most."""
    places = np.flatnonzero(actions.of(kind))
    at = int(places[np.argmax(gain[places])])
    spot = actions.atoms[at].spot
    return Pattern(spot.said if spot else "", _with(there, at), spot=spot)


def push(search: Search, starts: Sequence[tuple[Figure, Solved]]) -> None:
    """Solve the cases that proposals lead to, any rod standing proud or none, from each start by itself.

    Args:
        search: takes the cases.
        starts: figures to be driven up, and where to begin.
    """
    at = list(starts)
    for _ in range(ROUNDS):
        if not at:
            return
        tries = [
            _lifting(search, figure, worst, gain, per_gap)
            for (figure, worst), gain, per_gap in zip(at, *search.gains(at), strict=True)
        ]
        found = iter(search.all_of([each for some in tries for each in some]))
        led: list[tuple[Figure, Solved]] = []
        for (figure, worst), some in zip(at, tries, strict=True):
            cases = [case for case in [next(found) for _ in some] if case is not None]
            best = max(cases, key=figure.of, default=worst)
            if figure.of(best) > figure.of(worst):
                led.append((figure, best))
        at = led


def _lifting(
    search: Search, figure: Figure, worst: Solved, gain: Floats, per_gap: Floats
) -> list[Try]:
    """The pattern that adds most to a figure, with those rods proud, or none, that promise most."""
    actions, most = search.actions, figure.of(worst)
    level = proposed(actions, gain, kind_of(worst.combination))
    factors = actions.factors(worst.combination, level.there)
    promised = most + float(gain @ (factors - worst.factors))
    lifted = {i: float(per_gap @ opened) for i, opened in search.opened.items()}
    now = lifted[worst.pattern.proud]
    return [
        Try(worst.combination, search.stood_proud(level, i))
        for i in sorted(lifted, key=lambda i: lifted[i], reverse=True)[:PROUD]
        if promised + lifted[i] - now > most + WORTH * abs(most)
    ]
