"""What opens a way where none goes: shorter rods on one wall, a rod left out, a thing taken away; each proven."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Literal

from ledgewright.fitting.model import Ways
from ledgewright.layout import Frame, Rod
from ledgewright.survey import Room

LEAST_PROJECTION = 75.0
"""A rod that reaches less far into the shelf than this is not offered (mm, 3 in): our choice."""

FEWEST_RODS = 2
"""With fewer rods a rigid shelf turns: never offered."""

Again = Callable[[Room, Frame], Ways]


@dataclass(frozen=True)
class Opening:
    """One change that opens a way, found by trying it again with the change made.

    kind: "shorten" every rod of `rods` that sticks out further to `to` (mm); "leave out" the one rod; "remove"
    the thing in the room. opens: the way that then goes.
    """

    kind: Literal["shorten", "leave out", "remove"]
    rods: tuple[str, ...]
    thing: str
    to: float
    opens: str


def openings(
    room: Room, frame: Frame, tried: Ways, again: Again, *, step: float
) -> tuple[Opening, ...]:
    """Return the smallest changes of each kind that open a way, each proven by trying again.

    Args:
        room: the room as found.
        frame: the section at home, for which no way goes.
        tried: what was tried, with what blocked it.
        again: tries all ways on a changed room and frame.
        step: stick-outs are looked for in these steps (mm), which the job's own tape can settle.

    Returns:
        Shorter rods wall by wall (the longest stick-out that goes), then rods left out one at a time, then things
        taken away one at a time; empty if no single change opens a way.
    """
    found = [
        *_shortened(room, frame, again, step),
        *_left_out(room, frame, again),
        *_removed(room, frame, tried, again),
    ]
    return tuple(found)


def _shortened(room: Room, frame: Frame, again: Again, step: float) -> Iterator[Opening]:
    for wall in dict.fromkeys(rod.wall for rod in frame.rods):
        longest = max(rod.projection for rod in frame.rods if rod.wall == wall)
        count = max(0, int((longest - LEAST_PROJECTION) / step))
        steps = [longest - step * k for k in range(1, count + 1)]
        opens = _first_that_goes(steps, partial(_with_cut, room, frame, again, wall))
        if opens is not None:
            to, way = opens
            cut = tuple(r.id for r in frame.rods if r.wall == wall and r.projection > to)
            yield Opening("shorten", cut, "", to, way)


def _first_that_goes(
    steps: Sequence[float], tried: Callable[[float], Ways]
) -> tuple[float, str] | None:
    """Halve the steps for the longest stick-out that goes; shorter rods never block what longer ones let by."""
    if not steps or tried(steps[-1]).chosen is None:
        return None
    low, high = 0, len(steps) - 1
    while low < high:
        middle = (low + high) // 2
        if tried(steps[middle]).chosen is None:
            low = middle + 1
        else:
            high = middle
    chosen = tried(steps[low]).chosen
    return None if chosen is None else (steps[low], chosen)


def _with_cut(room: Room, frame: Frame, again: Again, wall: str, to: float) -> Ways:
    return again(room, _cut_to(frame, wall, to))


def _cut_to(frame: Frame, wall: str, to: float) -> Frame:
    def cut(rod: Rod) -> Rod:
        return replace(rod, projection=min(rod.projection, to)) if rod.wall == wall else rod

    return replace(frame, rods=tuple(cut(rod) for rod in frame.rods))


def _left_out(room: Room, frame: Frame, again: Again) -> Iterator[Opening]:
    for rod in frame.rods:
        kept = tuple(r for r in frame.rods if r is not rod)
        if sum(r.wall == rod.wall for r in kept) < FEWEST_RODS:
            continue
        chosen = again(room, replace(frame, rods=kept)).chosen
        if chosen is not None:
            yield Opening("leave out", (rod.id,), "", 0.0, chosen)


def _removed(room: Room, frame: Frame, tried: Ways, again: Again) -> Iterator[Opening]:
    met = {block.by for way in tried.ways for block in way.blocked}
    for thing in room.obstacles:
        if not any(thing.id in by for by in met):
            continue
        kept = tuple(o for o in room.obstacles if o is not thing)
        chosen = again(replace(room, obstacles=kept), frame).chosen
        if chosen is not None:
            yield Opening("remove", (), thing.id, 0.0, chosen)
