"""What opens a way where none goes: rods shorter, moved or left out, a thing gone, two sections; each proven."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import pairwise
from typing import Literal

from ledgewright import layout
from ledgewright.fitting.model import Ways
from ledgewright.job import RodSpec, Spec
from ledgewright.layout import Frame, LayoutError, Rod
from ledgewright.survey import Member, Room

LEAST_PROJECTION = 75.0
"""A rod that reaches less far into the shelf than this is not offered (mm, 3 in): our choice."""

FEWEST_RODS = 2
"""With fewer rods a rigid shelf turns: never offered."""

Again = Callable[[Room, Frame], Ways]


@dataclass(frozen=True)
class Opening:
    """One change that opens a way, found by trying it again with the change made.

    kind: "shorten" every rod of `rods` that sticks out further to `to` (mm); "move" the one rod to `member`;
    "leave out" the one rod; "remove" the thing in the room; "split" the shelf at `joint` (along, mm; None: at its
    corner). opens: the way that then goes; of a shelf in two sections those of both, in the order they are hung.
    """

    kind: Literal["shorten", "move", "leave out", "remove", "split"]
    rods: tuple[str, ...]
    thing: str
    to: float
    opens: str
    member: str = ""
    joint: float | None = None


def openings(
    room: Room,
    spec: Spec,
    frame: Frame,
    tried: Ways,
    again: Again,
    *,
    step: float,
    taken: frozenset[str],
) -> tuple[Opening, ...]:
    """Return the smallest changes of each kind that open a way, each proven by trying again.

    Args:
        room: the room as found.
        spec: the section.
        frame: the section at home, for which no way goes.
        tried: what was tried, with what blocked it.
        again: tries all ways on a changed room and frame.
        step: stick-outs and joints are looked for in these steps (mm), which the job's own tape can settle.
        taken: members that carry a rod of any shelf already; none is moved there.

    Returns:
        Shorter rods wall by wall (the longest stick-out that goes, the wall that loses least first), then rods
        moved (each to the nearest member that opens a way, the shortest move first), rods left out and things
        taken away one at a time, then two sections parted nearest the middle; empty if no single change opens a
        way. A shelf that is in sections already is not parted again, its rods stay on their members, and the other
        section is no thing that could be taken away.
    """
    bare = tuple(_without_each(room, frame, again))
    whole = spec.section is None
    return (
        *_shortened(room, spec, again, step),
        *(_moved(room, spec, frame, bare, again, taken) if whole else ()),
        *_left_out(room, spec, bare, again),
        *_removed(room, spec, tried, again),
        *(_split(room, spec, again, step) if whole else ()),
    )


def opened(room: Room, spec: Spec, opening: Opening) -> tuple[Room, Spec]:
    """Return the room and the section with an opening made, as the job file so changed would have them.

    Args:
        room: as the opening was found in it.
        spec: the section it was found for.
        opening: the change.
    """
    if opening.kind == "remove":
        kept = tuple(o for o in room.obstacles if o.id != opening.thing)
        return replace(room, obstacles=kept), spec
    if opening.kind == "split":
        return room, replace(spec, sections=2, joint=opening.joint)
    if opening.kind == "shorten":
        return room, replace(spec, rods=_cut_to(spec.rods, opening.rods, opening.to))
    (rod,) = opening.rods
    if opening.kind == "leave out":
        return room, _without(spec, rod)
    return room, _with_moved(spec, rod, opening.member)


def _proven(room: Room, spec: Spec, again: Again, opening: Opening) -> Opening | None:
    """The opening with the way it opens; None if none goes with it made."""
    opens = _goes(*opened(room, spec, opening), again)
    return None if opens is None else replace(opening, opens=opens)


def _shortened(room: Room, spec: Spec, again: Again, step: float) -> list[Opening]:
    found: list[tuple[float, Opening]] = []
    for wall in dict.fromkeys(rod.wall for rod in spec.rods):
        longest = max(rod.projection for rod in spec.rods if rod.wall == wall)
        most, least = math.ceil(longest / step - 1e-6) - 1, math.ceil(LEAST_PROJECTION / step)
        steps = [round(step * k, 3) for k in range(most, least - 1, -1)]
        first = _first_that_goes(steps, partial(_with_cut, room, spec, again, wall))
        if first is not None:
            found.append((longest - first.to, first))
    return [opening for _, opening in sorted(found, key=lambda pair: pair[0])]


def _first_that_goes(
    steps: Sequence[float], tried: Callable[[float], Opening | None]
) -> Opening | None:
    """Halve the steps for the longest stick-out that goes; shorter rods never block what longer ones let by."""
    found = tried(steps[-1]) if steps else None
    if found is None:
        return None
    low, high = 0, len(steps) - 1
    while low < high:
        middle = (low + high) // 2
        better = tried(steps[middle])
        if better is None:
            low = middle + 1
        else:
            high, found = middle, better
    return found


def _with_cut(room: Room, spec: Spec, again: Again, wall: str, to: float) -> Opening | None:
    longer = tuple(r.member for r in spec.rods if r.wall == wall and r.projection > to)
    return _proven(room, spec, again, Opening("shorten", longer, "", to, ""))


def _cut_to(rods: Sequence[RodSpec], which: Sequence[str], to: float) -> tuple[RodSpec, ...]:
    return tuple(r.sawn(to) if r.member in which else r for r in rods)


def _without_each(room: Room, frame: Frame, again: Again) -> Iterator[Rod]:
    """Every rod without which a way goes."""
    for rod in frame.rods:
        kept = tuple(r for r in frame.rods if r is not rod)
        if again(room, replace(frame, rods=kept)).chosen is not None:
            yield rod


def _left_out(room: Room, spec: Spec, without: Sequence[Rod], again: Again) -> Iterator[Opening]:
    for rod in without:
        if sum(r.wall == rod.wall for r in spec.rods) > FEWEST_RODS:
            left = _proven(room, spec, again, Opening("leave out", (rod.id,), "", 0.0, ""))
            if left is not None:
                yield left


def _without(spec: Spec, rod: str) -> Spec:
    """The section without a rod, and without the lock that was on it."""
    lock = replace(spec.lock, rods=tuple(r for r in spec.lock.rods if r != rod))
    return replace(spec, rods=tuple(r for r in spec.rods if r.member != rod), lock=lock)


def _moved(
    room: Room,
    spec: Spec,
    frame: Frame,
    without: Sequence[Rod],
    again: Again,
    taken: frozenset[str],
) -> list[Opening]:
    """Only rods without which a way goes are tried: elsewhere on its wall a rod is no less in the way than gone."""
    found: list[tuple[float, Opening]] = []
    for rod in without:
        members = {m.id: m for m in room.wall(rod.wall).members}
        home = room.wall(rod.wall).figures((rod.origin[0], rod.origin[1]))[0]
        free = sorted(
            (m for m in members.values() if m.id not in taken and not m.lost and _behind(spec, m)),
            key=lambda m: (abs(m.centre - home), m.centre),
        )
        for member in free:
            changed = _with_moved(spec, rod.id, member.id)
            opens = _goes(room, changed, again, notes=len(frame.notes))
            if opens is not None:
                move = Opening("move", (rod.id,), "", 0.0, opens, member=member.id)
                found.append((abs(member.centre - home), move))
                break
    return [move for _, move in sorted(found, key=lambda pair: pair[0])]


def _behind(spec: Spec, member: Member) -> bool:
    """Whether a rod of every thickness used on its wall has wood and edging to spare there, at its height."""
    half = max(r.bar.width for r in spec.rods) / 2 + spec.edging_thick
    at = spec.top - spec.skin_top.thick - spec.core.thick / 2
    high = member.up is None or member.up[0] < at < member.up[1]
    return high and any(
        leg.wall == member.wall and leg.start + half <= member.centre <= leg.end - half
        for leg in spec.legs
    )


def _with_moved(spec: Spec, rod: str, member: str) -> Spec:
    """The section with a rod on another member, and the lock that was on it there too."""
    rods = tuple(
        replace(r, member=member, as_set=None, aside=0.0) if r.member == rod else r
        for r in spec.rods
    )
    locked = tuple(member if r == rod else r for r in spec.lock.rods)
    return replace(spec, rods=rods, lock=replace(spec.lock, rods=locked))


def _goes(room: Room, spec: Spec, again: Again, *, notes: int | None = None) -> str | None:
    """The ways of all sections, each tried with those before it on the wall; None if one does not go.

    notes: a layout with more of them than these is no opening: it would put a new fault in the place of the old.
    """
    ways: list[str] = []
    try:
        parts = layout.sections(room, spec)
        frames = [layout.frame(room, part) for part in parts]
    except LayoutError:
        return None
    if any(layout.conflicts(room, frame) for frame in frames):
        return None
    if notes is not None and sum(len(frame.notes) for frame in frames) > notes:
        return None
    for part, frame in zip(parts, frames, strict=True):
        chosen = again(room, frame).chosen
        if chosen is None:
            return None
        ways.append(chosen)
        room = layout.hung(room, part, frame)
    return ", then ".join(ways)


def _split(room: Room, spec: Spec, again: Again, step: float) -> Iterator[Opening]:
    joints = [None] if len(spec.legs) > 1 else _joints(room, spec, step)
    for joint in joints:
        parted = _proven(room, spec, again, Opening("split", (), "", 0.0, "", joint=joint))
        if parted is not None:
            yield parted
            return


def _joints(room: Room, spec: Spec, step: float) -> list[float]:
    """Half way between neighbouring rods with two or more on either side, nearest the middle of the shelf first."""
    (leg,) = spec.legs
    at = {m.id: m.centre for m in room.wall(leg.wall).members}
    centres = sorted(at[rod.member] + rod.aside for rod in spec.rods)
    ends = slice(FEWEST_RODS - 1, len(centres) - FEWEST_RODS)
    between = [step * round((a + b) / 2 / step) for a, b in pairwise(centres)][ends]
    middle = (leg.start + leg.end) / 2
    return sorted(between, key=lambda joint: (abs(joint - middle), joint))


def _removed(room: Room, spec: Spec, tried: Ways, again: Again) -> Iterator[Opening]:
    met = {block.by for way in tried.ways for block in way.blocked}
    for thing in room.obstacles:
        if thing.section or not any(thing.id in by for by in met):
            continue
        gone = _proven(room, spec, again, Opening("remove", (), thing.id, 0.0, ""))
        if gone is not None:
            yield gone
