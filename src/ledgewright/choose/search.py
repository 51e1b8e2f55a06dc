"""The search: the job as it is, a coarse grid, then the neighbours of the best, in an order the seed fixes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from ledgewright.choose.ask import steps_down, what_ifs
from ledgewright.choose.doors import nothing
from ledgewright.choose.front import tagged, unbeaten
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
from ledgewright.choose.trial import Judge, try_out

DESIGNS = 60
"""So many designs are worked through where the job does not say (our choice: a minute or two)."""
AT_ONCE = 8
"""Neighbours are looked at so many at a time before the best are named anew (our choice)."""
IN_GRID = 0.5
"""At most this share of the designs go into the coarse grid (our choice)."""
REFUSED = 20
"""A search ends at the latest after so many times as many designs as asked for were refused by the reading."""


@dataclass
class _Desk:
    """What has been worked through so far; lives as long as one search."""

    ground: Ground
    judge: Judge
    most: int
    tell: Tell
    stop: Stop
    found: dict[Wanted, Tried] = field(default_factory=dict)
    judged: int = 0
    heard: bool = False

    def work(self, wanted: Wanted) -> Tried | None:
        """Return a design worked through, once; None if somebody has said stop."""
        if wanted in self.found:
            return self.found[wanted]
        self.heard = self.heard or self.stop()
        if self.heard:
            return None
        made = try_out(self.ground, wanted, self.judge)
        self.found[wanted] = made
        self.judged += made.state != "cannot be built"
        passed = sum(each.state == "passes" for each in self.found.values())
        self.tell(Progress(self.judged, max(self.most, self.judged), passed))
        return made


def choose(
    ground: Ground,
    judge: Judge,
    *,
    closely: Judge | None = None,
    designs: int | None = None,
    tell: Tell = lambda _: None,
    stop: Stop = lambda: False,
) -> Choices:
    """Search the designs of one shelf for those that no other beats.

    docs/choose.md. Every design is judged in full with the whole job; none is ruled out by a bound.

    Args:
        ground: the shelf.
        judge: judges the whole job, as `check` does.
        closely: the same, and looks for what opens a way where none goes; asked only where nothing passes.
        designs: how many are judged in the search at most; as the job says, else 60. What-ifs are judged first, in any
            case, and count; steps down come on top.
        tell: told how far it has come.
        stop: once it says yes, the best found so far is returned; the job as it is is always judged.

    Returns:
        The choices; the same job, seed and budget give the same.
    """
    most = designs or ground.job.choosing.designs or DESIGNS
    room = space(ground)
    desk = _Desk(ground, judge, most, tell, stop)
    as_is = try_out(ground, room.wanted(room.origin), judge)
    desk.found[as_is.wanted] = as_is
    desk.judged += 1
    asked = what_ifs(ground, room, as_is.wanted)
    answers = [(question, desk.work(wanted)) for question, wanted in asked]
    star = [p for _, w in asked if w in desk.found and (p := room.pick(w)) is not None]
    complete, picks = _searched(room, desk, star)
    looked, front = _stepped_down(room, desk, picks)
    closed = (
        None
        if front
        else nothing(ground, looked, judge, closely or judge, stop=lambda: desk.heard or stop())
    )
    return Choices(
        shelf=ground.spec.id,
        seed=ground.job.seed,
        size=room.size(SIZED),
        tried=len(looked),
        built=sum(each.state != "cannot be built" for each in looked),
        passed=sum(each.state == "passes" for each in looked),
        complete=complete and not desk.heard,
        stopped=desk.heard,
        as_is=as_is,
        front=_choices(room, desk, front),
        what_if=tuple(WhatIf(q, each) for q, each in answers if each is not None),
        nothing=closed,
        all=tuple(each for each in looked if each.state != "cannot be built"),
        unpriced=room.unpriced,
        unpriced_job=as_is.missing if all(each.missing for each in looked) else (),
    )


SIZED = 20_000
"""Spaces of at most so many designs are counted one by one, others without the limit of thickness."""


def _searched(room: Space, desk: _Desk, star: Sequence[Pick]) -> tuple[bool, list[Pick]]:
    """Whether all of the space was looked at, and what was, in order: first the single changes asked for already."""
    looked: list[Pick] = [room.origin, *star]
    if room.size(desk.most) <= desk.most:
        return _all(room, desk, list(room.picks()), looked), looked
    rng = np.random.Generator(np.random.PCG64(desk.ground.job.seed))
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
    for pick in sorted(picks):
        if desk.work(room.wanted(pick)) is None:
            return False
        if pick not in looked:
            looked.append(pick)
    return True


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
        built = [each for each in by_wanted if each.state != "cannot be built"]
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
            for each, names in zip(front, tagged(front), strict=True)
            if names
            for _, wanted in steps_down(desk.ground, room, each.wanted)
            if desk.work(wanted) is not None
        ]
        new = [p for w in steps if (p := room.pick(w)) is not None and p not in picks]
        if not new:
            break
        picks += dict.fromkeys(new)
    looked = [desk.found[w] for w in map(room.wanted, picks) if w in desk.found]
    return looked, unbeaten(looked)


STEPPED = 8
"""Named designs are stepped down so often at most (our choice; no shelf has more sizes to go down)."""


def _choices(room: Space, desk: _Desk, front: Sequence[Tried]) -> tuple[Choice, ...]:
    tags = tagged(front)
    made = []
    for k, (each, names) in enumerate(zip(front, tags, strict=True), start=1):
        asked = steps_down(desk.ground, room, each.wanted)
        # Designs with a name are stepped down for certain, others as far as that was looked at anyway.
        known = [(q, desk.work(w) if names else desk.found.get(w)) for q, w in asked]
        steps = tuple(
            Step(q, step, inside=room.pick(step.wanted) is not None)
            for q, step in known
            if step is not None
        )
        made.append(Choice(k, names, each, steps))
    return tuple(made)
