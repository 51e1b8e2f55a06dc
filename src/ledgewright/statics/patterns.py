"""Which parts of the loads to put on: a fixed list, and for every figure what drives it furthest.

One-way contact does not superpose. Influence figures (the contacts as they are) propose a pattern; it is solved, and
again from its own answer, until nothing more is promised. Every pattern that counts has been solved itself.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from ledgewright.statics.actions import Actions, Bools, Floats
from ledgewright.statics.bases import Combination, Kind
from ledgewright.statics.mechanics.contact_rods import Answer, Influence, Resting, Weights
from ledgewright.statics.mechanics.section import Mechanism
from ledgewright.statics.spot import Spot

ROUNDS = 4
"""So often a proposal is solved and proposed anew; one or two rounds are enough as a rule."""
STARTS = 4
"""From so many of the worst cases of contents alone proposals are made: what touches differs between them."""
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


@dataclass(frozen=True)
class Solved:
    """One combination of loads in one pattern, solved on the section model."""

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

    def gain(self, actions: Actions, influence: Influence) -> Floats:
        """Return how much a factor of 1 on each part adds (atoms,), as long as the same contacts touch."""
        found = influence.of(actions.drop, actions.whole)
        return found if self.parts is None else found + self.parts


Likes = dict[tuple[float, int | None, bytes], Answer]
"""Answers by factor on self-weight, proud rod, and which parts of the loads are there."""


@dataclass
class Search:
    """The cases of one shelf as they are found; equal loads are solved once.

    like: answers of the same shelf under other loads. last: the last one solved. What touched there is where the next
    solve begins, no more.
    """

    actions: Actions
    resting: Resting
    answers: dict[tuple[float, int | None, bytes], Answer | str] = field(default_factory=dict)
    cases: dict[tuple[str, str, int | None, bytes], Solved] = field(default_factory=dict)
    lost: list[Lost] = field(default_factory=list)
    like: Likes = field(default_factory=dict)
    last: Answer | None = None

    def case(
        self, combination: Combination, pattern: Pattern, like: Answer | None = None
    ) -> Solved | None:
        """Return one combination in one pattern, solved; None if the shelf does not stand under it."""
        factors = self.actions.factors(combination, pattern.there)
        load = (combination.dead, pattern.proud, factors.tobytes())
        if load not in self.answers:
            begin = (combination.dead, pattern.proud, (factors > 0).tobytes())
            self.answers[load] = self._solve(factors, begin, like)
        answer = self.answers[load]
        if isinstance(answer, str):
            # On one proud rod a light shelf may rock within its play: loose, but not lost.
            if pattern.proud is None:
                self.lost.append(Lost(combination, pattern, answer))
            return None
        key = (combination.situation, combination.id, *load[1:])
        if key not in self.cases:
            self.cases[key] = Solved(combination, pattern, factors, answer)
        return self.cases[key]

    def raised(self, proud: int | None) -> list[float] | None:
        """Return how far every rod stands above the others' middle, one of them proud by the play of its slot (mm)."""
        if proud is None:
            return None
        plays = [rod.above + rod.below for rod in self.resting.rods]
        return [(c if i == proud else -c) / 2 for i, c in enumerate(plays)]

    @property
    def prouds(self) -> tuple[int | None, ...]:
        """Every rod that may stand proud of the others, and none."""
        return (None, *range(len(self.resting.rods)))

    def opened(self, proud: int | None) -> Floats:
        """Return what a proud rod opens at every contact (mm)."""
        raised = self.raised(proud) or [0.0] * len(self.resting.rods)
        return self.resting.raising(raised)

    def stood_proud(self, level: Pattern, proud: int | None) -> Pattern:
        """Return a pattern with a rod proud of the others."""
        if proud is None:
            return level
        marks = [seat.rod.mark for row in self.actions.stood.rows for seat in row.seats]
        name = f"{level.name}; rod {marks[proud]} proud of the others".removeprefix("; ")
        return replace(level, name=name, proud=proud)

    def _solve(
        self, factors: Floats, begin: tuple[float, int | None, bytes], like: Answer | None
    ) -> Answer | str:
        own, proud, _ = begin
        loaded, raised = self.actions.under(factors), self.raised(proud)
        like = self.like.get(begin, like or self.last)
        try:
            self.last = self.resting.solve(loaded, own=own, raised=raised, like=like)
        except Mechanism as lost:
            return str(lost)
        self.like[begin] = self.last
        return self.last


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
    for first, *others in alike.values():
        _run(search, first, depths)
        for case in [c for c in search.cases.values() if c.combination == first]:
            for other in others:
                search.case(other, case.pattern)


def _run(search: Search, combination: Combination, depths: Sequence[float]) -> None:
    kind: Kind | None = None
    if combination.accident or combination.single:
        kind = "accident" if combination.accident else "single"
        if not search.actions.of(kind).any():
            return
    begun = [search.case(combination, each) for each in _listed(search.actions, kind)]
    first = next((case for case in begun if case is not None), None)
    if first is not None:
        for figure in _figures(search.resting, first, depths, drops=kind is None):
            worst = _drive(search, first, figure, kind)
            _proud(search, worst, figure)


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


def _proud(search: Search, worst: Solved, figure: Figure) -> None:
    """Solve the worst case of a rod once more with that rod proud of the others by all that its slot lets it.

    Rods out of line by more than the play do not go into their slots; by less they do, and nobody sees it.
    """
    if figure.rod is not None:
        pattern = search.stood_proud(worst.pattern, figure.rod)
        search.case(worst.combination, pattern, worst.answer)


def _drive(search: Search, first: Solved, figure: Figure, kind: Kind | None) -> Solved:
    """Return the pattern that drives a figure up: solved, and again from its answer, until it promises no more.

    A pattern that would add less than `WORTH` to the worst case solved so far is not solved.
    """
    mine = [case for case in search.cases.values() if case.combination == first.combination]
    level = sorted((c for c in mine if c.pattern.proud is None), key=figure.of, reverse=True)
    worst = level[0]
    for start in level[: 1 if kind else STARTS]:
        worst = max(worst, _climb(search, start, worst, figure, kind), key=figure.of)
    return worst


def _climb(
    search: Search, start: Solved, worst: Solved, figure: Figure, kind: Kind | None
) -> Solved:
    """Return the worst case that proposals from one case lead to."""
    actions, combination, case = search.actions, start.combination, start
    for _ in range(ROUNDS):
        gain = figure.gain(actions, search.resting.influence(case.answer, figure.weights))
        there = actions.of("dead") | (actions.of("live") & (gain > 0))
        pattern = Pattern("where it is worst", there)
        if kind is not None:
            pattern = _standing(actions, there, gain, kind)
        promised = figure.of(case) + gain @ (
            actions.factors(combination, pattern.there) - case.factors
        )
        most = figure.of(worst)
        if promised <= most + WORTH * abs(most):
            break
        found = search.case(combination, pattern, case.answer)
        if found is None:
            break
        case, worst = found, max(worst, found, key=figure.of)
    return worst


def _standing(actions: Actions, there: Bools, gain: Floats, kind: Kind) -> Pattern:
    """Return a pattern with the one thing or the accident where it adds most."""
    places = np.flatnonzero(actions.of(kind))
    at = int(places[np.argmax(gain[places])])
    spot = actions.atoms[at].spot
    return Pattern(spot.said if spot else "", _with(there, at), spot=spot)


def push(search: Search, start: Solved, figure: Figure, kind: Kind | None) -> Solved:
    """Return the worst case that proposals from one case lead to, any rod standing proud or none.

    Args:
        search: takes the cases.
        start: where to begin.
        figure: to be driven up.
        kind: of load that stands at one place, if there is one in this combination.
    """
    actions, worst = search.actions, start
    for _ in range(ROUNDS):
        influence = search.resting.influence(worst.answer, figure.weights)
        gain = figure.gain(actions, influence)
        there = actions.of("dead") | (actions.of("live") & (gain > 0))
        level = Pattern("where it is worst", there)
        if kind is not None:
            level = _standing(actions, there, gain, kind)
        factors = actions.factors(worst.combination, level.there)
        promised = figure.of(worst) + float(gain @ (factors - worst.factors))
        lifted = {i: float(influence.per_gap @ search.opened(i)) for i in search.prouds}
        now = lifted[worst.pattern.proud]
        most = figure.of(worst)
        found = [
            search.case(worst.combination, search.stood_proud(level, i), worst.answer)
            for i in sorted(lifted, key=lambda i: lifted[i], reverse=True)[:PROUD]
            if promised + lifted[i] - now > most + WORTH * abs(most)
        ]
        better = [case for case in found if case is not None and figure.of(case) > most]
        if not better:
            break
        worst = max(better, key=figure.of)
    return worst
