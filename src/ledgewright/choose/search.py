"""The search: the job as it is, a coarse grid, then the neighbours of the best, in an order the seed fixes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from ledgewright.choose.ask import steps_down, what_ifs
from ledgewright.choose.doors import nothing
from ledgewright.choose.front import Held, held, left_out, tagged, unbeaten
from ledgewright.choose.ground import Ground
from ledgewright.choose.model import (
    Choice,
    Choices,
    Progress,
    Step,
    Stop,
    Tell,
    Tried,
    Wanted,
    WhatIf,
)
from ledgewright.choose.space import Pick, Space, space
from ledgewright.choose.trial import Asked, Judge, LeastOf, Many, one_by_one, try_out

DESIGNS = 60
"""So many designs are worked through where the job does not say (our choice: a minute or two)."""
AT_ONCE = 8
"""So many are looked at before the best are named anew, and what they beat is set aside (our choice)."""
IN_GRID = 0.5
"""At most this share of the designs go into the coarse grid (our choice)."""
REFUSED = 20
"""A search ends at the latest after so many times as many designs as asked for were refused by the reading."""


@dataclass
class _Desk:
    """What has been worked through so far; lives as long as one search. passing: of the space, what passes."""

    room: Space
    many: Many
    most: int
    tell: Tell
    stop: Stop
    found: dict[Wanted, Tried] = field(default_factory=dict)
    passing: list[Tried] = field(default_factory=list)
    heard: bool = False

    def work(self, wanted: Sequence[Wanted]) -> bool:
        """Judge designs in full, each once; say whether all of them were."""
        return self._work([w for w in wanted if self.judged(w) is None], ())

    def look(self, wanted: Sequence[Wanted]) -> bool:
        """Work designs through, each once, those set aside that are beaten by what passes; say whether all were.

        What passes is looked at before a handful of designs and not within it: so the same are set aside however many
        processes there are.
        """
        new = [w for w in dict.fromkeys(wanted) if w not in self.found]
        return all(
            self._work(new[k : k + AT_ONCE], self._best()) for k in range(0, len(new), AT_ONCE)
        )

    def judged(self, wanted: Wanted) -> Tried | None:
        """Return a design that was judged in full or cannot be built; None if it was not, or was set aside."""
        known = self.found.get(wanted)
        return None if known is None or known.state == "set aside" else known

    def put(self, made: Tried) -> None:
        """Take a design in, and tell how far the search has come."""
        self.found[made.wanted] = made
        if made.state == "passes" and self.room.pick(made.wanted) is not None:
            self.passing.append(made)
        built = sum(each.state != "cannot be built" for each in self.found.values())
        passed = sum(each.state == "passes" for each in self.found.values())
        self.tell(Progress(built, max(self.most, built), passed))

    def _best(self) -> tuple[Held, ...]:
        """What sets others aside: of the space, since only that is offered."""
        return tuple(held(each) for each in unbeaten(self.passing))

    def _work(self, wanted: Sequence[Wanted], against: tuple[Held, ...]) -> bool:
        asked = [Asked(w, against) for w in dict.fromkeys(wanted)]
        if not asked:
            return True
        for _, made in self.many(asked, self._hear):
            self.put(made)
        done = all(each.wanted in self.found for each in asked)
        self.heard = self.heard or not done
        return done

    def _hear(self) -> bool:
        self.heard = self.heard or self.stop()
        return self.heard


def choose(
    ground: Ground,
    judge: Judge,
    *,
    closely: Judge | None = None,
    at_least: LeastOf | None = None,
    many: Many | None = None,
    designs: int | None = None,
    tell: Tell = lambda _: None,
    stop: Stop = lambda: False,
) -> Choices:
    """Search the designs of one shelf for those that no other beats.

    docs/choose.md. Every design is judged in full with the whole job, but for those that are beaten whatever their
    checks say: price, mass and hours as they are, the drop at its least. The unbeaten are the same with and without.

    Args:
        ground: the shelf.
        judge: judges the whole job, as `check` does.
        closely: the same, and looks for what opens a way where none goes; asked only where nothing passes.
        at_least: tells what is soon known of a job; without it every design is judged in full.
        many: tries designs in the place of `judge` and `at_least`, as in several processes; these are asked of the
            job as it is and of doors all the same.
        designs: how many are worked through in the search at most; as the job says, else 60. What-ifs are judged
            first, in any case, and count; steps down come on top.
        tell: told how far it has come.
        stop: once it says yes, the best found so far is returned; the job as it is is always judged.

    Returns:
        The choices; the same job, seed and budget give the same. No load limits are in them.
    """
    most = designs or ground.job.choosing.designs or DESIGNS
    room = space(ground)
    desk = _Desk(room, many or one_by_one(ground, judge, at_least), most, tell, stop)
    as_is = try_out(ground, room.wanted(room.origin), judge)
    desk.put(as_is)
    asked = what_ifs(ground, room, as_is.wanted)
    desk.work([wanted for _, wanted in asked])
    answers = [(question, desk.judged(wanted)) for question, wanted in asked]
    star = [p for _, w in asked if w in desk.found and (p := room.pick(w)) is not None]
    complete, picks = _searched(room, desk, star)
    looked, front = _stepped_down(room, desk, picks)
    closed = (
        None
        if front
        else nothing(ground, looked, judge, closely or judge, stop=lambda: desk.heard or stop())
    )
    judged = tuple(each for each in looked if each.state not in NOT_JUDGED)
    return Choices(
        shelf=ground.spec.id,
        seed=ground.job.seed,
        size=room.size(SIZED),
        tried=len(looked),
        built=sum(each.state != "cannot be built" for each in looked),
        aside=sum(each.state == "set aside" for each in looked),
        passed=sum(each.state == "passes" for each in looked),
        complete=complete and not desk.heard,
        stopped=desk.heard or (closed is not None and not closed.doors and stop()),
        as_is=as_is,
        front=_choices(room, desk, front, left_out(looked)),
        what_if=tuple(WhatIf(q, each) for q, each in answers if each is not None),
        nothing=closed,
        all=judged,
        unpriced=room.unpriced,
        unpriced_job=as_is.missing if all(each.missing for each in judged) else (),
    )


NOT_JUDGED = ("cannot be built", "set aside")
SIZED = 20_000
"""Spaces of at most so many designs are counted one by one, others without the limit of thickness."""


def _searched(room: Space, desk: _Desk, star: Sequence[Pick]) -> tuple[bool, list[Pick]]:
    """Whether all of the space was looked at, and what was, in order: first the single changes asked for already."""
    looked: list[Pick] = [room.origin, *star]
    if room.size(desk.most) <= desk.most:
        return _all(room, desk, list(room.picks()), looked), looked
    rng = np.random.Generator(np.random.PCG64(desk.room.ground.job.seed))
    grid = [pick for pick in room.coarse() if pick not in looked]
    most = min(round(desk.most * IN_GRID), desk.most - _built(room, desk, looked))
    _all(room, desk, _drawn(grid, max(most, 0), rng), looked)
    while _built(room, desk, looked) < desk.most and not desk.heard:
        batch = _next(room, desk, looked, rng)
        if not batch:
            return True, looked
        _all(room, desk, batch[: desk.most - _built(room, desk, looked)], looked)
        if len(looked) > REFUSED * desk.most:
            break
    return False, looked


def _built(room: Space, desk: _Desk, looked: Sequence[Pick]) -> int:
    found = (desk.found.get(room.wanted(pick)) for pick in looked)
    return sum(each is not None and each.state != "cannot be built" for each in found)


def _all(room: Space, desk: _Desk, picks: Sequence[Pick], looked: list[Pick]) -> bool:
    """Work designs through in the order that shares most; whether all of them were."""
    order, had = sorted(picks), set(looked)
    done = desk.look([room.wanted(pick) for pick in order])
    looked += [p for p in order if p not in had and room.wanted(p) in desk.found]
    return done


def _drawn(picks: Sequence[Pick], count: int, rng: np.random.Generator) -> list[Pick]:
    """So many of them, drawn by the seed."""
    order = np.argsort(rng.random(len(picks)), kind="stable")
    return [picks[int(k)] for k in order[:count]]


def _next(room: Space, desk: _Desk, looked: list[Pick], rng: np.random.Generator) -> list[Pick]:
    """What to look at next: neighbours of the best, of the nearest to passing where nothing does, else anything."""
    seen = set(looked)
    by_wanted = {desk.found[w]: p for p in looked if (w := room.wanted(p)) in desk.found}
    best: Sequence[Tried] = unbeaten(tuple(by_wanted))
    if not best:
        built = [each for each in by_wanted if each.state not in NOT_JUDGED]
        best = sorted(built, key=lambda each: (len(each.killed), each.worst))[:3]
    near = dict.fromkeys(n for each in best for n in room.near(by_wanted[each]) if n not in seen)
    if near:
        return _drawn(list(near), AT_ONCE, rng)
    return _anywhere(room, seen, rng)


def _anywhere(room: Space, seen: set[Pick], rng: np.random.Generator) -> list[Pick]:
    """Designs that were not looked at; by drawing where the space is too large to list."""
    if room.size(SIZED) <= SIZED:
        return _drawn([p for p in room.picks() if p not in seen], AT_ONCE, rng)
    found: dict[Pick, None] = {}
    for _ in range(1000):
        pick = tuple(int(rng.random() * len(axis.options)) for axis in room.axes)
        if pick not in seen and room.inside(pick):
            found[pick] = None
        if len(found) == AT_ONCE:
            break
    return list(found)


def _stepped_down(
    room: Space, desk: _Desk, picks: list[Pick]
) -> tuple[list[Tried], tuple[Tried, ...]]:
    """All that was looked at, and the unbeaten: those with a name are stepped down until nothing better comes of it.

    A step that passes is a design like any other: a choice that is weaker and cheaper must not be told as a remark.
    """
    for _ in range(STEPPED):
        looked = [desk.found[w] for w in map(room.wanted, picks) if w in desk.found]
        front = unbeaten(looked)
        steps = [
            wanted
            for each, names in zip(front, tagged(front, left_out(looked)), strict=True)
            if names
            for _, wanted in steps_down(desk.room.ground, room, each.wanted)
        ]
        desk.work(steps)
        steps = [wanted for wanted in steps if desk.judged(wanted) is not None]
        new = [p for w in steps if (p := room.pick(w)) is not None and p not in picks]
        if not new:
            break
        picks += dict.fromkeys(new)
    looked = [desk.found[w] for w in map(room.wanted, picks) if w in desk.found]
    return looked, unbeaten(looked)


STEPPED = 8
"""Named designs are stepped down so often at most (our choice; no shelf has more sizes to go down)."""


def _choices(
    room: Space, desk: _Desk, front: Sequence[Tried], beside: Sequence[Tried]
) -> tuple[Choice, ...]:
    tags = tagged(front, beside)
    made = []
    for k, (each, names) in enumerate(zip(front, tags, strict=True), start=1):
        asked = steps_down(desk.room.ground, room, each.wanted)
        # Designs with a name are stepped down for certain, others as far as that was looked at anyway.
        if names:
            desk.work([wanted for _, wanted in asked])
        known = [(question, desk.judged(wanted)) for question, wanted in asked]
        steps = tuple(
            Step(q, step, inside=room.pick(step.wanted) is not None)
            for q, step in known
            if step is not None
        )
        made.append(Choice(k, names, each, steps))
    return tuple(made)
