"""What opens a way where none goes: rods shorter, moved or left out, a thing gone, two sections; each proven."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import pairwise
from typing import Literal

from ledgewright import layout
from ledgewright.fitting.model import Ways
from ledgewright.job import Spec
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
        Shorter rods wall by wall (the longest stick-out that goes), then rods moved (each to the nearest member
        that opens a way, the shortest move first), rods left out and things taken away one at a time, then two
        sections parted nearest the middle; empty if no single change opens a way. A shelf that is in sections
        already is not parted again, and its rods stay on their members.
    """
    without = tuple(_without_each(room, frame, again))
    whole = spec.section is None
    return (
        *_shortened(room, frame, again, step),
        *(_moved(room, spec, frame, without, again, taken) if whole else ()),
        *_left_out(frame, without),
        *_removed(room, frame, tried, again),
        *(_split(room, spec, again, step) if whole else ()),
    )


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


def _without_each(room: Room, frame: Frame, again: Again) -> Iterator[tuple[Rod, str]]:
    """Every rod without which a way goes, and that way."""
    for rod in frame.rods:
        kept = tuple(r for r in frame.rods if r is not rod)
        chosen = again(room, replace(frame, rods=kept)).chosen
        if chosen is not None:
            yield rod, chosen


def _left_out(frame: Frame, without: Sequence[tuple[Rod, str]]) -> Iterator[Opening]:
    for rod, chosen in without:
        if sum(r.wall == rod.wall for r in frame.rods) > FEWEST_RODS:
            yield Opening("leave out", (rod.id,), "", 0.0, chosen)


def _moved(
    room: Room,
    spec: Spec,
    frame: Frame,
    without: Sequence[tuple[Rod, str]],
    again: Again,
    taken: frozenset[str],
) -> list[Opening]:
    """Only rods without which a way goes are tried: elsewhere on its wall a rod is no less in the way than gone."""
    found: list[tuple[float, Opening]] = []
    for rod, _ in without:
        members = {m.id: m for m in room.wall(rod.wall).members}
        home = members[rod.member]
        free = sorted(
            (m for m in members.values() if m.id not in taken and not m.lost and _behind(spec, m)),
            key=lambda m: (abs(m.centre - home.centre), m.centre),
        )
        for member in free:
            opens = _goes(room, _with_moved(spec, rod, member), again, notes=len(frame.notes))
            if opens is not None:
                move = Opening("move", (rod.id,), "", 0.0, opens, member=member.id)
                found.append((abs(member.centre - home.centre), move))
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


def _with_moved(spec: Spec, rod: Rod, member: Member) -> Spec:
    rods = tuple(replace(r, member=member.id) if r.member == rod.member else r for r in spec.rods)
    return replace(spec, rods=rods)


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
        opens = _goes(room, replace(spec, sections=2, joint=joint), again)
        if opens is not None:
            yield Opening("split", (), "", 0.0, opens, joint=joint)
            return


def _joints(room: Room, spec: Spec, step: float) -> list[float]:
    """Half way between neighbouring rods with two or more on either side, nearest the middle of the shelf first."""
    (leg,) = spec.legs
    at = {m.id: m.centre for m in room.wall(leg.wall).members}
    centres = sorted(at[rod.member] for rod in spec.rods)
    ends = slice(FEWEST_RODS - 1, len(centres) - FEWEST_RODS)
    between = [step * round((a + b) / 2 / step) for a, b in pairwise(centres)][ends]
    middle = (leg.start + leg.end) / 2
    return sorted(between, key=lambda joint: (abs(joint - middle), joint))


def _removed(room: Room, frame: Frame, tried: Ways, again: Again) -> Iterator[Opening]:
    met = {block.by for way in tried.ways for block in way.blocked}
    for thing in room.obstacles:
        if not any(thing.id in by for by in met):
            continue
        kept = tuple(o for o in room.obstacles if o is not thing)
        chosen = again(replace(room, obstacles=kept), frame).chosen
        if chosen is not None:
            yield Opening("remove", (), thing.id, 0.0, chosen)
