"""Rows of checks from the forces at all wood faces under every case: studs, blocking, bonds and locks."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from typing import Protocol

import numpy as np

from ledgewright.job import Accepted
from ledgewright.statics.bases import MemberRules, Rules, Situation, When
from ledgewright.statics.block_checks import (
    block_bend,
    block_fix,
    block_split,
    block_tors,
    end_fixing,
)
from ledgewright.statics.formula import Working
from ledgewright.statics.member_checks import (
    OnMember,
    OnStud,
    Said,
    Told,
    stud_bend,
    stud_shear,
    stud_split,
)
from ledgewright.statics.model import CannotSay, Check, Place
from ledgewright.statics.pull_checks import Angled, Hold, bond_pull, hold_pull
from ledgewright.statics.ranks import unsurpassed
from ledgewright.statics.row import Answering, Found, made, ratio
from ledgewright.statics.seats import Seat
from ledgewright.statics.side_checks import bed_side, rod_biax, stud_side
from ledgewright.survey import Room, Wall

OF_MEMBERS = frozenset(
    (
        *("stud.split", "stud.bend", "stud.shear"),
        *("block.bend", "block.split", "block.tors", "block.fix"),
    )
)
"""Kinds of row that are made of a stud or a block, with what other shelves put on it."""
PULLS = ("bond.pull", "hold.pull")
"""Families that rest on the pull alone, not on what presses the rod down."""
NEAR = 60.0
"""A block's end within this of a stud's centre hangs on that stud (mm)."""


@dataclass(frozen=True)
class Under:
    """What all rods of all shelves put on their members under one case.

    name: of the case, as rows print it. loads: one of every rod.
    """

    name: str
    when: When
    loads: tuple[OnMember, ...]


@dataclass(frozen=True)
class Known:
    """What else the rows rest on.

    rules: of the steel; timbers: of the wall. holds: by rod, what holds the shelf on there. accepted: what an engineer
    has accepted of the shelf. tested: whether a load test is recorded.
    """

    rules: Rules
    timbers: MemberRules
    holds: Mapping[str, Hold] = field(default_factory=dict)
    accepted: Accepted | None = None
    tested: bool = False


Rule = Callable[[Working], Said]


@dataclass(frozen=True)
class _Asked:
    """One family at one place under one case; alone: what asks it, where that is one rod and nothing else."""

    family: str
    unit: str
    at: str
    place: Place
    wall: Wall
    case: str
    lines: Told
    rule: Rule
    when: When
    alone: OnMember | OnStud | None = None

    @property
    def pulled(self) -> tuple[object, ...]:
        """The same for cases of which one that asks more down and more round surpasses the other."""
        on = self.alone
        if on is None:
            return ()
        where = (on.side, on.seat.rod.id) if isinstance(on, OnMember) else (on.hole, on.told)
        return (self.when, on.out, on.up, *where)


def rows(
    cases: Sequence[Under],
    known: Known,
    *,
    situations: Sequence[Situation],
    keep: bool,
) -> tuple[Check | CannotSay, ...]:
    """Return the rows of all members and of the rods' hold, each for its worst case.

    Args:
        cases: every case with the forces of all rods on these walls.
        known: what else they rest on.
        situations: for which the rows are made: strength, or accident.
        keep: whether to keep the derivations.

    Returns:
        A check, or why nothing is said, for every family at every place. rod.biax, bed.side, stud.side, bond.pull
        and hold.pull are made of cases in which the shelf is pulled out of the wall or along it.
    """
    asked: dict[tuple[str, str], list[_Asked]] = {}
    heard: set[tuple[int, When]] = set()
    for case in cases:
        if case.when.situation in situations:
            for each in _all(case, known, heard):
                asked.setdefault((each.family, each.at), []).append(each)
    return tuple(_row(these, known, keep=keep) for these in asked.values())


def blocks(loads: Sequence[OnMember]) -> dict[str, list[OnMember]]:
    """Return the rods in blocking, by block."""
    found: dict[str, list[OnMember]] = {}
    for on in loads:
        if on.seat.across:
            found.setdefault(on.seat.member.id, []).append(on)
    return found


def studs(loads: Sequence[OnMember]) -> dict[str, list[OnStud]]:
    """Return what stands on every stud, by stud: rods in it, and the ends of blocks that hang on it."""
    found: dict[str, list[OnStud]] = {}
    for on in loads:
        if not on.seat.across:
            found.setdefault(on.seat.member.id, []).append(on.on_stud)
            continue
        for end in on.at_ends:
            name = _stud_at(on.seat.wall, end.along) or f"{on.seat.member.id} at {end.along:.0f}"
            found.setdefault(name, []).append(end)
    return found


class InMember(Protocol):
    """A rod, laid out or asked for: the ids of its wall, and of the stud or blocking that it is in."""

    @property
    def wall(self) -> str:
        """Id of the wall."""
        ...

    @property
    def member(self) -> str:
        """Id of the stud or blocking."""
        ...


def carried_by(room: Room, rods: Iterable[InMember]) -> frozenset[tuple[str, str]]:
    """Return what carries some rods: their members, and the studs that blocking hangs on; wall and id of each.

    Args:
        room: the walls.
        rods: as laid out or as asked for.
    """
    return frozenset(each for rod in rods for each in _carries(room.wall(rod.wall), rod.member))


def _carries(wall: Wall, member: str) -> Iterator[tuple[str, str]]:
    yield wall.id, member
    for block in wall.members:
        if block.id == member and block.kind == "blocking":
            ends = (_stud_at(wall, along) for along in (block.left, block.right))
            yield from ((wall.id, stud) for stud in ends if stud)


def _stud_at(wall: Wall, along: float) -> str | None:
    upright = [m for m in wall.members if m.kind == "stud" and m.lost != "missing"]
    near = [(abs(m.centre - along), m.id) for m in upright if abs(m.centre - along) <= NEAR]
    return min(near)[1] if near else None


def _all(case: Under, known: Known, heard: set[tuple[int, When]]) -> Iterator[_Asked]:
    """All that one case asks; of a rod only what was not heard: cases together share its loads."""
    for on in case.loads:
        if (id(on), case.when) in heard:
            continue
        heard.add((id(on), case.when))
        for name, unit, rule in _of_rod(case.when, on, known):
            seat = on.seat
            where, lines = _place(seat), tuple if name in PULLS else _on_bed(on)
            yield _Asked(
                name, unit, seat.rod.id, where, seat.wall, case.name, lines, rule, case.when, on
            )
    for stud, stood in studs(case.loads).items():
        for name, unit, rule in _of_stud(case.when, stood, known):
            wall = stood[0].wall
            where = Place(wall.id, stud, stood[0].along, stood[0].up)
            alone = stood[0] if len(stood) == 1 else None
            yield _Asked(
                name, unit, stud, where, wall, case.name, _lines(stood), rule, case.when, alone
            )
    for block, loads in blocks(case.loads).items():
        for name, unit, rule in _of_block(case.when, loads, known):
            seat = loads[0].seat
            place = _place(seat)
            yield _Asked(
                name, unit, block, place, seat.wall, case.name, _lines(loads), rule, case.when
            )


def _place(seat: Seat) -> Place:
    along, _ = seat.wall.figures(seat.rod.point(0.0))
    return Place(seat.wall.id, seat.member.id, along, seat.rod.origin[2])


def _lines(loads: Sequence[OnMember] | Sequence[OnStud]) -> Told:
    return lambda: tuple(line for on in loads for line in on.lines())


def _on_bed(on: OnMember) -> Told:
    return lambda: (*on.lines(), *on.lies)


Made = Iterator[tuple[str, str, Rule]]
"""Family, unit and rule."""


def _of_rod(when: When, on: OnMember, known: Known) -> Made:
    timbers = known.timbers
    if not on.seat.across:
        yield "stud.split", "MPa", partial(stud_split, on=on, rules=timbers, when=when)
    if on.side:
        yield "rod.biax", "1", partial(rod_biax, on=on, rules=known.rules, when=when)
        side = partial(bed_side, on=on, rules=known.rules, timbers=timbers, when=when)
        yield "bed.side", "1", side
        if not on.seat.across:
            yield "stud.side", "N", partial(stud_side, on=on, rules=timbers, when=when)
    if on.out > 0:
        hold = known.holds.get(on.seat.rod.id)
        yield "bond.pull", "N", partial(bond_pull, on=on, rules=timbers, when=when)
        yield "hold.pull", "N", partial(hold_pull, on=on, hold=hold, rules=timbers, when=when)


def _of_stud(when: When, loads: Sequence[OnStud], known: Known) -> Made:
    timbers, height = known.timbers, loads[0].wall.height
    bend = partial(stud_bend, loads=loads, rules=timbers, when=when, height=height)
    shear = partial(stud_shear, loads=loads, rules=timbers, when=when, height=height)
    yield "stud.bend", "N mm", bend
    yield "stud.shear", "MPa", shear


def _of_block(when: When, loads: Sequence[OnMember], known: Known) -> Made:
    timbers, fixing = known.timbers, end_fixing(loads[0].seat.member)
    yield "block.bend", "MPa", partial(block_bend, loads=loads, rules=timbers, when=when)
    yield "block.split", "N", partial(block_split, loads=loads, rules=timbers, when=when)
    yield "block.tors", "MPa", partial(block_tors, loads=loads, rules=timbers, when=when)
    fix = partial(block_fix, loads=loads, fixing=fixing, rules=timbers, when=when)
    yield "block.fix", "N", fix


def _of_wall(asked: _Asked, known: Known) -> str | None:
    """Who accepted the holes in the wall; nobody did the lock in the shelf, unless it goes into the wood."""
    in_shelf = asked.family == "hold.pull" and not isinstance(known.holds.get(asked.at), Angled)
    return None if in_shelf else asked.wall.known.engineer


def _presses(on: OnMember | OnStud) -> bool:
    """Whether a rod asks more of all with more shear and more moment."""
    return on.V >= 0 and on.M >= 0 and (isinstance(on, OnMember) or not on.out)


def _hardest(these: Sequence[_Asked]) -> list[_Asked]:
    """Leave out of cases that one rod alone makes those that another surpasses in shear and in moment.

    Every check of a rod and of its stud asks more with more of either, as long as both press down: held by a test. But
    what presses down holds a stud against a pull, and the moment at a flat for a grub screw goes its own way.
    """
    groups: dict[tuple[object, ...], list[int]] = {}
    kept: list[int] = []
    for k, each in enumerate(these):
        if each.alone is not None and _presses(each.alone):
            groups.setdefault(each.pulled, []).append(k)
        else:
            kept.append(k)
    for group in groups.values():
        on = [these[k].alone for k in group]
        V, M = (np.array([getattr(one, name) for one in on]) for name in ("V", "M"))
        at_flat = [one.flat[0] if isinstance(one, OnMember) and one.flat else 0.0 for one in on]
        most = {int(np.argmax(at_flat))} if max(at_flat) > 0 else set()
        kept += [group[k] for k in {*unsurpassed(V, M), *most}]
    return [these[k] for k in sorted(kept)]


def _row(these: Sequence[_Asked], known: Known, *, keep: bool) -> Check | CannotSay:
    """Return the row of the worst of several cases, or the first reason to say nothing."""
    judged: list[tuple[_Asked, Found]] = []
    for each in _hardest(these):
        said = each.rule(Working(keep=False))
        if isinstance(said, CannotSay):
            return CannotSay(said.family, f"{each.at}: {said.why}")
        judged.append((each, said))
    worst, found = max(judged, key=lambda pair: ratio(pair[1]))
    w = Working(keep=keep, after=worst.lines() if keep else ())
    if keep:
        worst.rule(w)
    return made(
        f"{worst.family}@{worst.at}",
        found,
        unit=worst.unit,
        case=worst.case,
        steps=w.steps,
        place=worst.place,
        answering=Answering(known.accepted, _of_wall(worst, known), known.tested),
    )
