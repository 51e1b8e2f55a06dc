"""Rods as they were read after the cure: each finds its rod, and what cannot be is asked back, never swallowed."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from ledgewright import units
from ledgewright.job.findings import Ear
from ledgewright.job.model import AsSet, Bonded, Demand, RodSpec, Spec, TapedMember, TapedWall
from ledgewright.job.places import Path
from ledgewright.job.rods import place
from ledgewright.job.schema import BondedTable, RodSetTable
from ledgewright.job.walls import NEAR, Walls, signed, taped

Made = tuple[Spec, Demand]

UP_OFF = 25.4
"""A rod read further than this above or below where it is drawn looks like another figure (mm, 1 in; our choice)."""

OUT_OFF = 12.7
"""A stick-out further than this from the drawn one looks odd (mm, 1/2 in; our choice)."""

STEEPEST = math.radians(5)
"""No rod leans further than this in a hole somebody meant to bore straight (common practice, from memory)."""

FITS = 6.0
"""A figure that lands this near to the drawn one in the other unit, or from the other end, was meant so (mm)."""

BORES = 0.25
"""Bits come in steps of 0.5 mm or 1/64 in: two holes that differ by more than this are two bits (mm)."""

ON_CARD = 0.5
"""Depths stand on the set card to 1/32 in or 0.5 mm, so that a figure copied off it may differ by this (mm)."""

SAWN = 1.2
"""Lengths too, and a rod that stands askew to its wall runs a little further through the lining (mm)."""


@dataclass(frozen=True)
class _Found:
    """The rod a reading is of: its shelf by number, itself, its wall and member, its height as drawn."""

    shelf: int
    rod: RodSpec
    wall: TapedWall
    member: TapedMember
    up: float


def readings(
    ear: Ear, tables: Sequence[RodSetTable], made: Sequence[Made], walls: Walls
) -> list[Made]:
    """Return the shelves with what was read of their rods.

    Args:
        ear: hears what is wrong or odd.
        tables: the readings, in the order of the file.
        made: every shelf that could be read.
        walls: the walls of the job.
    """
    specs = [spec for spec, _ in made]
    read: dict[tuple[int, str], AsSet] = {}
    for i, table in enumerate(tables):
        path: Path = ("site", "rod", i)
        found = _rod(ear, table, path, specs, walls)
        if found is None:
            continue
        key = (found.shelf, found.rod.member)
        if key in read:
            ear.refuse("duplicate", (*path, "at"), "this rod is read twice", "keep one of the two")
        as_set = _reading(ear, table, path, found)
        if as_set is not None:
            read[key] = as_set
    for k, spec in enumerate(specs):
        _unread(ear, spec, {member for shelf, member in read if shelf == k})
    return [
        (replace(spec, rods=tuple(_with(rod, read.get((k, rod.member))) for rod in spec.rods)), d)
        for k, (spec, d) in enumerate(made)
    ]


def _with(rod: RodSpec, read: AsSet | None) -> RodSpec:
    return rod if read is None else replace(rod, as_set=read)


def _unread(ear: Ear, spec: Spec, read: set[str]) -> None:
    """With some rods read and some not, the shelf is still worked out as drawn."""
    missing = [rod.member for rod in spec.rods if rod.member not in read]
    if read and missing:
        ear.note(
            "as set",
            ("site", "rod"),
            f"of shelf {spec.id} {len(read)} of {len(spec.rods)} rods are read; not yet: {', '.join(missing)}",
            "it is worked out as drawn until every rod is read; each that is read is judged by itself",
        )


def _rod(
    ear: Ear, table: RodSetTable, path: Path, specs: Sequence[Spec], walls: Walls
) -> _Found | None:
    up = table.wall[1]
    spot = place(ear, table.at, (*path, "at"), walls)
    if spot is None:
        return None
    around = [m for m in spot.wall.members if m.left - NEAR <= spot.along <= m.right + NEAR]
    members = {m.id: m for m in ([spot.member] if spot.member else around)}
    rods = [
        _Found(k, rod, spot.wall, members[rod.member], height(spec))
        for k, spec in enumerate(specs)
        for rod in spec.rods
        if rod.wall == spot.wall.id and rod.member in members
    ]
    if not rods:
        # Where studs or shelves could not be read, that is told already.
        if not ear.stops:
            lost = any(member.lost for member in members.values())
            wrong = "no rod of any shelf stands there" + (", its hole is lost" if lost else "")
            right = "take this reading out" if lost else _MOVED
            ear.refuse("place", (*path, "at"), wrong, right)
        return None
    return min(rods, key=lambda found: (abs(found.up - up), found.shelf))


_MOVED = (
    "name the rod's place as in rods.at; a rod that is bonded stays where it is: put its place back there, or saw it "
    'off flush, write lost = "dead" at its stud and take this reading out'
)


def height(spec: Spec) -> float:
    """Return how high the rods of a shelf are drawn: half way through its core (mm above the datum)."""
    return spec.top - spec.skin_top.thick - spec.core.thick / 2


def _reading(ear: Ear, table: RodSetTable, path: Path, of: _Found) -> AsSet | None:
    (along, up), (tip, tip_up), out = table.wall, table.tip, table.out
    # Against a shelf that is wrong itself any reading may look odd.
    sound = not any(refused[:1] == ("shelf",) for refused in ear.refused)
    heard = len(ear.findings)
    if sound:
        _ask_along(ear, along, path, of)
        _ask_up(ear, up, path, of)
    if len(ear.findings) > heard:
        return None
    if _cannot_be(ear, table, path, of):
        return None
    if sound:
        _ask_tip(ear, table, path)
        _ask_out(ear, out, path, of)
        _compare(ear, table.bonded, (*path, "bonded"), of)
    at = (signed(of.wall, along), signed(of.wall, tip))
    bonded = _bonded(table.bonded) if table.bonded else None
    return AsSet((at[0] + 0.0, up), (at[1] + 0.0, tip_up), out, ear.path(path), bonded)


def _bonded(table: BondedTable) -> Bonded:
    return Bonded(table.stock, table.length, table.embedment, table.hole, table.adhesive)


def _compare(ear: Ear, table: BondedTable | None, path: Path, of: _Found) -> None:
    """Refuse a job that says another bar, length, depth, hole or adhesive than what is in the wall."""
    if table is None:
        return
    differ = _differing(ear, table, of)
    if not differ:
        return
    was = ", ".join(f"{key} = {bonded}" for key, bonded, _ in differ)
    now = ", ".join(f"{key} = {said}" for key, _, said in differ)
    wrong = f"this rod was bonded with {was}; the job now has {now}, and what is in the wall does not change by that"
    kept = ", ".join(f"{key} = {bonded}" for key, bonded, _ in differ if key != "length")
    back = [f"put {kept} back in {of.rod.path} or in a [[shelf.rod]] of its own"] if kept else []
    if any(key == "length" for key, *_ in differ):
        back.append(_cut_so(ear, table.length, of.rod))
    right = (
        f"if this rod is in the wall: {'; '.join(back)}. If this reading is of a new rod: write in it what that "
        "was bonded with"
    )
    ear.refuse("bonded", path, wrong, right)


def _cut_so(ear: Ear, length: float, rod: RodSpec) -> str:
    """What brings a length back, which has no key in the job."""
    return (
        f"put projection or depth_to_wood back, so that it is cut {ear.length(length)} long (now: projection "
        f"{ear.length(rod.projection)}, embedment {ear.length(rod.embedment)}, and the depth to the wood); where the "
        "wood was found to lie deeper, embedment is as much less, in both places"
    )


def _differing(ear: Ear, table: BondedTable, of: _Found) -> list[tuple[str, str, str]]:
    """What of a rod is not as it was bonded: the key, as it was bonded, as the job has it."""
    rod, long = of.rod, cut_length(of.rod, of.wall, of.member)
    outside = 0.0 if long is None else abs(table.length - table.embedment - long + rod.embedment)
    names = (
        ("stock", table.stock.name, rod.bar.name),
        ("adhesive", table.adhesive.name, rod.adhesive.name),
    )
    deeper, wider = abs(table.embedment - rod.embedment), abs(table.hole - rod.hole)
    figures = (
        ("embedment", table.embedment, rod.embedment, deeper > ON_CARD),
        ("hole", table.hole, rod.hole, wider > BORES),
        # What a deeper or shallower rod is longer or shorter by is told with its depth.
        ("length", table.length, long or 0.0, outside > SAWN),
    )
    return [
        *((key, f'"{was}"', f'"{now}"') for key, was, now in names if was != now),
        *((key, ear.toml(was), ear.toml(now)) for key, was, now, differs in figures if differs),
    ]


def cut_length(rod: RodSpec, wall: TapedWall, member: TapedMember) -> float | None:
    """Return how long a rod square to its wall is cut (mm); None where nobody has said how deep the wood lies.

    Args:
        rod: as the job has it.
        wall: the wall it stands in.
        member: the stud or blocking it stands in.
    """
    deep = wall.depth_to_wood if member.depth is None else member.depth
    return None if deep is None else rod.embedment + deep + rod.projection


def _cannot_be(ear: Ear, table: RodSetTable, path: Path, of: _Found) -> bool:
    """Refuse what no rod can do, whoever stands by it."""
    out = table.out
    if math.hypot(table.tip[0] - table.wall[0], table.tip[1] - table.wall[1]) >= out:
        wrong = (
            f"the tip stands further aside than the rod is long out of the wall, {ear.length(out)}"
        )
        ear.refuse("reading", (*path, "tip"), wrong, "read both figures of wall and tip again")
        return True
    if of.rod.embedment + of.rod.projection - out <= NEAR:
        wrong = f"with {ear.length(out)} out of the face nothing of this rod is left in the wood"
        drawn = ear.length(of.rod.projection)
        right = f"it is drawn with {drawn}; read it from the face along the rod"
        ear.refuse("reading", (*path, "out"), wrong, right)
        return True
    return False


def _ask_along(ear: Ear, along: float, path: Path, of: _Found) -> None:
    edges = sorted((taped(of.wall, of.member.left), taped(of.wall, of.member.right)))
    if edges[0] <= along <= edges[1]:
        return
    between = f"{ear.length(edges[0])} to {ear.length(edges[1])}"
    wrong = f"a rod {ear.length(along)} along stands outside its {of.member.kind}, {between}"
    middle = sum(edges) / 2
    hint = _other_unit(ear, along, middle) or _other_end(of.wall, along, middle)
    ear.ask((*path, "wall", 0), wrong + hint)


def _ask_up(ear: Ear, up: float, path: Path, of: _Found) -> None:
    if abs(up - of.up) <= UP_OFF:
        return
    wrong = f"it is drawn {ear.length(of.up)} above the datum, this reads {ear.length(up)}"
    ear.ask((*path, "wall", 1), wrong + _other_unit(ear, up, of.up))


def _ask_tip(ear: Ear, table: RodSetTable, path: Path) -> None:
    """A tip too far aside, above or below: a slip of the tape, or a rod that nobody would have left so."""
    (along, up), (tip, tip_up), most = table.wall, table.tip, table.out * math.sin(STEEPEST)
    lies = f"a rod {ear.length(table.out)} out of the wall cannot lean as much as that in its hole"
    if abs(tip - along) > most:
        wrong = f"its tip stands {ear.length(abs(tip - along))} aside of where it leaves the wall: {lies}"
        swapped = abs(tip - up) <= most and abs(tip_up - along) <= most
        hint = "; the two figures look swapped" if swapped else ""
        ear.ask((*path, "tip", 0), wrong + (hint or _other_unit(ear, tip, along)))
    if abs(tip_up - up) > most:
        side = "above" if tip_up > up else "below"
        wrong = (
            f"its tip stands {ear.length(abs(tip_up - up))} {side} where it leaves the wall: {lies}"
        )
        ear.ask((*path, "tip", 1), wrong + _other_unit(ear, tip_up, up))


def _ask_out(ear: Ear, out: float, path: Path, of: _Found) -> None:
    drawn = of.rod.projection
    timber = of.wall.timber
    deep = of.rod.embedment + drawn - out
    if timber and deep > timber.depth + NEAR:
        wrong = f"with {ear.length(out)} out, {ear.length(deep)} are in a stud that is {ear.length(timber.depth)} deep"
        ear.ask((*path, "out"), wrong + _other_unit(ear, out, drawn))
    elif abs(out - drawn) > OUT_OFF:
        wrong = (
            f"it is drawn with {ear.length(drawn)} out of the face, this reads {ear.length(out)}"
        )
        ear.ask((*path, "out"), wrong + _other_unit(ear, out, drawn))


def _other_unit(ear: Ear, read: float, meant: float) -> str:
    """What to say of a figure that would fit in the other unit."""
    other = read / 25.4 if ear.unit == "in" else read * 25.4
    if abs(other - meant) > FITS:
        return ""
    text = units.show_length(other, "mm" if ear.unit == "in" else "in", to=64, mark=True)
    return f"; it would fit as {text}"


def _other_end(wall: TapedWall, along: float, meant: float) -> str:
    fits = abs(wall.length - along - meant) <= FITS
    return (
        f"; it would fit from the other end, but this wall is taped from its {wall.tape_from}"
        if fits
        else ""
    )
