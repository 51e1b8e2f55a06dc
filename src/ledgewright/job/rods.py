"""Places on walls, and the rods of a shelf with everything that cannot be about them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ledgewright import units
from ledgewright.job.findings import Ear, nearest
from ledgewright.job.model import (
    Clearance,
    CoreSpec,
    Leg,
    Lost,
    RodSpec,
    TapedMember,
    TapedWall,
    depth_on,
)
from ledgewright.job.past import Past, beyond
from ledgewright.job.places import Path
from ledgewright.job.schema import ClearanceTable, RodsTable, RodTable
from ledgewright.job.walls import NEAR, Walls, known_wall, left_end, right_end, signed, slug, taped
from ledgewright.stock import Adhesive, Bar

PLAY_AGREES = 0.3
FROM_END = 7
"""How many times its thickness a rod stands from the end of its blocking at least (EN 1995-1-1 Table 8.4, a_3,t)."""
OFF_MIDDLE = 3.0
"""A place so near the middle of its member means the middle (mm; our choice)."""


@dataclass(frozen=True)
class Spot:
    """A place on a wall; `member` is the one stud or blocking there, None if there is none or more than one."""

    wall: TapedWall
    along: float
    member: TapedMember | None
    several: bool

    def refuse_no_member(self, ear: Ear, path: Path, walls: Walls) -> None:
        """Say that a rod cannot stand here, and where the members are, unless those are in doubt themselves."""
        if self.wall.id in walls.unsure:
            return
        if self.wall.framing in ("masonry", "metal"):
            ear.refuse("place", path, *_no_wood(self.wall.framing))
            return
        where = (
            "in more than one member" if self.several else "between members, where there is no wood"
        )
        centres = ", ".join(
            f'"{self.wall.id} {ear.figure(taped(self.wall, (m.left + m.right) / 2))}"'
            + (f" ({m.name})" if m.name else "")
            for m in sorted(self.wall.members, key=lambda m: taped(self.wall, m.left))
            if m.lost != "missing"
        )
        ear.refuse(
            "place",
            path,
            f"this place is {where}",
            f"the centres are {centres}" if centres else "this wall has no studs in the file",
        )


def _no_wood(framing: str) -> tuple[str, str]:
    """What is wrong with a rod in a wall without studs, and what can be done instead: nobody shall invent them."""
    wrong = (
        f"this wall is {framing}, and rods into that are not judged here: it has no studs to tell"
    )
    right = (
        "carry the shelf by an end panel, a plate or a cleat; or stand timber studs in front of it, and tell these as "
        "the wall, with their lining and framing, as they were built"
    )
    return wrong, right


def place(
    ear: Ear,
    text: str,
    path: Path,
    walls: Walls,
    *,
    up: float | None = None,
    past: Sequence[Past] = (),
) -> Spot | None:
    """Return the place a text such as `west 22 1/2` or `west by the switch` means.

    Args:
        ear: hears what is wrong.
        text: wall id and tape distance, or wall id and the name of a stud.
        path: where it stands.
        walls: the walls of the job.
        up: height, to tell blocking that is there from blocking that is not; None takes any.
        past: how far past an outside corner the place may lie, for what stands on the shelf and not on the wall.

    Returns:
        The place, or None with a finding (without one if its wall could not be read).
    """
    names = [name for name in walls.ids if name and text.startswith(f"{name} ")]
    if not names and not walls.whole:
        return None
    if not names:
        first = text.split(" ", 1)[0] if text else ""
        near = nearest(first, walls.ids)
        hint = f'did you mean "{near}"?' if near else "the walls are: " + ", ".join(walls.ids)
        ear.refuse(
            "place",
            path,
            "a place is the id of a wall and a distance on its tape, or the name of a stud",
            f'write it like "{(walls.ids or ("west",))[0]} 22 1/2"; {hint}',
        )
        return None
    name = max(names, key=len)
    wall = known_wall(ear, walls, name, path)
    if wall is None:
        return None
    rest = text[len(name) :].strip()
    return _on_wall(ear, wall, rest, path, up, beyond(past, wall.id))


def _on_wall(
    ear: Ear,
    wall: TapedWall,
    rest: str,
    path: Path,
    up: float | None,
    over: tuple[float, float],
) -> Spot | None:
    wanted = slug(rest)
    for member in wall.members:
        if member.name and slug(member.name) == wanted:
            return Spot(wall, (member.left + member.right) / 2, member, several=False)
    try:
        distance = units.read_length(rest, ear.unit)
    except units.BadFigure as bad:
        stud_names = [m.name for m in wall.members if m.name]
        hint = "; the named studs are: " + ", ".join(stud_names) if stud_names else ""
        ear.refuse(
            "place",
            path,
            f'"{rest[:40]}" is neither a stud of this wall by name nor a length: {bad.wrong}',
            bad.right + hint,
        )
        return None
    along = signed(wall, distance) + 0.0
    if not left_end(wall) - over[0] - NEAR <= along <= right_end(wall) + over[1] + NEAR:
        ear.refuse(
            "place",
            path,
            f"this place is not on the wall, which is {ear.length(wall.length)} long",
            "count from the end the tape is hooked on",
        )
        return None
    there = [
        m for m in wall.members if m.left - NEAR <= along <= m.right + NEAR and _at_height(m, up)
    ]
    # Where a stud is missing, what is there is the blocking across its gap, if anything.
    there = [m for m in there if m.lost != "missing"] or there
    return Spot(wall, along, there[0] if len(there) == 1 else None, several=len(there) > 1)


def _at_height(member: TapedMember, up: float | None) -> bool:
    return member.up is None or up is None or member.up[0] <= up <= member.up[1]


@dataclass(frozen=True)
class Shelf:
    """What the rods need to know of their shelf; `met`: places of walls where an end of it bears no edging."""

    depth: float
    middle: float
    legs: tuple[Leg, ...] | None
    core: CoreSpec | None
    edging: float
    met: frozenset[tuple[str, float]] = frozenset()

    def deep(self, wall: str) -> float:
        """Return how deep it is on a wall (mm)."""
        return depth_on(self.legs or (), wall, self.depth)


@dataclass(frozen=True)
class _Given:
    """One rod's values with the path each of them stands at."""

    bar: Bar
    embedment: float
    projection: float
    hole: float
    adhesive: Adhesive
    clearance: Clearance
    in_slot: str
    paths: dict[str, Path]


def rods(
    ear: Ear,
    table: RodsTable,
    own: Sequence[RodTable | None],
    path: Path,
    walls: Walls,
    shelf: Shelf,
) -> tuple[RodSpec, ...]:
    """Return the rods of one shelf in wall order, left to right.

    A rod stands in the middle of a stud, and in blocking where its place is: what holds the ends is asked by that.

    Args:
        ear: hears what is wrong.
        table: what every rod is.
        own: the rods that differ, None where one could not be read.
        path: of the shelf.
        walls: the walls of the job.
        shelf: depth, height, legs and core.
    """
    base = _base(ear, table, (*path, "rods"), shelf.core)
    members = _members(ear, table, (*path, "rods", "at"), walls, shelf)
    others = _own(ear, own, path, walls, shelf, {m.id for _, m, _ in members}, base)
    made = [
        _rod(ear, wall, member, aside, *others.get(member.id, (base, (*path, "rods"))), shelf)
        for wall, member, aside in members
    ]
    return tuple(sorted(made, key=lambda rod: _order(walls, rod)))


def _order(walls: Walls, rod: RodSpec) -> tuple[int, float]:
    wall = walls.find(rod.wall)
    left = next((m.left for m in wall.members if m.id == rod.member), 0.0) if wall else 0.0
    return walls.place(rod.wall), left


_Placed = tuple[TapedWall, TapedMember, float]
"""A member that takes a rod, and how far right of its middle that stands (mm)."""


def _base(ear: Ear, table: RodsTable, path: Path, core: CoreSpec | None) -> _Given:
    in_slot = table.in_slot or ear.default_text("shelf.rods.in_slot", (*path, "in_slot"))
    keys = ("stock", "embedment", "projection", "hole", "adhesive", "clearance", "in_slot")
    return _Given(
        bar=table.stock,
        embedment=table.embedment,
        projection=table.projection,
        hole=table.hole,
        adhesive=table.adhesive,
        clearance=_clearance(ear, table.clearance, table.stock, (*path, "clearance"), core, None),
        in_slot=in_slot,
        paths={key: (*path, key) for key in keys},
    )


def _clearance(
    ear: Ear,
    table: ClearanceTable | None,
    bar: Bar,
    path: Path,
    core: CoreSpec | None,
    base: Clearance | None,
) -> Clearance:
    up, side, end = (table.up, table.side, table.end) if table else (None, None, None)
    if up is None:
        up = core.thick - bar.height if core else (base.up if base else 0.0)
    if side is None:
        side = base.side if base else ear.default("shelf.rods.clearance.side", (*path, "side"))
    if end is None:
        end = base.end if base else ear.default("shelf.rods.clearance.end", (*path, "end"))
    return Clearance(up=up, side=side, end=end)


def _members(ear: Ear, table: RodsTable, path: Path, walls: Walls, shelf: Shelf) -> list[_Placed]:
    if table.at == "every stud":
        return [(*each, 0.0) for each in _every_stud(ear, table, path, walls, shelf)]
    found: list[_Placed] = []
    for i, text in enumerate(table.at):
        spot = _rod_spot(ear, text, (*path, i), walls, shelf)
        if spot is None or spot.member is None:
            continue
        aside = _aside(ear, spot.along, spot.member, table, (*path, i), spot.wall)
        if any(spot.member.id == member.id for _, member, _ in found):
            ear.refuse(
                "duplicate",
                (*path, i),
                "two rods of this shelf stand in one member",
                "one rod to a member; take one out",
            )
            continue
        found.append((spot.wall, spot.member, aside))
    return found


def _aside(
    ear: Ear, along: float, member: TapedMember, table: RodsTable, path: Path, wall: TapedWall
) -> float:
    """Return how far right of the middle of its member a rod stands: in a stud in it, wherever in it the place is."""
    centre = (member.left + member.right) / 2
    off = abs(along - centre)
    if off <= OFF_MIDDLE:
        return 0.0
    if member.kind == "blocking":
        _check_end(ear, along, member, table.stock, path)
        return along - centre
    right = f'"{wall.id} {ear.figure(taped(wall, centre))}"'
    wrong = f"a rod stands in the middle of its stud, {ear.length(off)} from this place"
    if off <= table.hole:
        ear.note("middle", path, wrong, f"it is reckoned at {right}")
    else:
        ear.refuse("middle", path, wrong, f"write {right}")
    return 0.0


def _check_end(ear: Ear, along: float, member: TapedMember, bar: Bar, path: Path) -> None:
    """EN 1995-1-1 Table 8.4: a dowel stands seven diameters from an end that it may press towards."""
    least, near = FROM_END * across(bar), min(along - member.left, member.right - along)
    if near < least:
        ear.refuse(
            "place",
            path,
            f"this place is {ear.length(near)} from the end of its blocking, which may split there",
            f"{FROM_END} times the bar at least, {ear.length(least)}: move the rod, or take the stud",
        )


def _every_stud(
    ear: Ear, table: RodsTable, path: Path, walls: Walls, shelf: Shelf
) -> list[tuple[TapedWall, TapedMember]]:
    found: list[tuple[TapedWall, TapedMember]] = []
    left_out: list[str] = []
    for leg in shelf.legs or ():
        wall = walls.find(leg.wall)
        for member in wall.members if wall else ():
            if wall is None or member.kind != "stud" or not _behind(member, leg):
                continue
            why = _why_not(ear, member, leg, table.stock, shelf)
            if why:
                middle = ear.figure(taped(wall, (member.left + member.right) / 2))
                left_out.append(f"{wall.id} {middle}, {why}")
            else:
                found.append((wall, member))
    behind = [wall for leg in shelf.legs or () if (wall := walls.find(leg.wall))]
    solid = next((wall.framing for wall in behind if wall.framing in ("masonry", "metal")), None)
    if not found and solid is not None:
        ear.refuse("place", path, *_no_wood(solid))
    elif not found and shelf.legs is not None:
        ear.refuse(
            "place",
            path,
            "no stud stands behind this shelf",
            "write studs in the wall, or name places",
        )
    elif left_out:
        ear.note(
            "left out",
            path,
            f"no rod goes into: {'; '.join(left_out)}",
            "name the places, or move the end of the shelf, if there is to be one",
        )
    return found


def _behind(member: TapedMember, leg: Leg) -> bool:
    return member.right > leg.start + NEAR and member.left < leg.end - NEAR


def _why_not(ear: Ear, member: TapedMember, leg: Leg, bar: Bar, shelf: Shelf) -> str:
    """Why a stud behind a leg gets no rod of its own accord; empty if it does."""
    if member.lost:
        return _LOST[member.lost]
    centre = (member.left + member.right) / 2
    for end, far in ((leg.start, centre - leg.start), (leg.end, leg.end - centre)):
        edging = 0.0 if (leg.wall, round(end, 3)) in shelf.met else shelf.edging
        if far <= 0:
            return "whose middle is past the end of the shelf"
        if far < bar.width / 2 + edging - NEAR:
            what = "edging" if edging else "end"
            return (
                f"{ear.length(far)} from the end of the shelf: a rod would come through its {what}"
            )
    return ""


def _rod_spot(ear: Ear, text: str, path: Path, walls: Walls, shelf: Shelf) -> Spot | None:
    spot = place(ear, text, path, walls, up=shelf.middle)
    if spot is None:
        return None
    if spot.member is None:
        spot.refuse_no_member(ear, path, walls)
        return None
    if spot.member.lost:
        _refuse_lost(ear, spot.wall, spot.member, path, shelf)
        return None
    centre = (spot.member.left + spot.member.right) / 2
    centre = spot.along if spot.member.kind == "blocking" else centre
    if shelf.legs is not None and not any(
        leg.wall == spot.wall.id and leg.start < centre < leg.end for leg in shelf.legs
    ):
        ear.refuse(
            "place",
            path,
            "no leg of this shelf runs past this place",
            "name a place behind the shelf, or make the leg longer",
        )
        return None
    return spot


def _refuse_lost(ear: Ear, wall: TapedWall, member: TapedMember, path: Path, shelf: Shelf) -> None:
    """A hole that is lost is never used again; the nearest sound members behind the shelf are named."""
    centre = (member.left + member.right) / 2
    spans = [(leg.start, leg.end) for leg in shelf.legs or () if leg.wall == wall.id]
    sound = [
        (abs((m.left + m.right) / 2 - centre), m)
        for m in wall.members
        if not m.lost
        and _at_height(m, shelf.middle)
        and any(start < (m.left + m.right) / 2 < end for start, end in spans)
    ]
    near = sorted(sound, key=lambda each: (each[0], each[1].left))[:2]
    named = [
        f'"{wall.id} {ear.figure(abs((m.left + m.right) / 2))}", {ear.length(far)} away'
        for far, m in near
    ]
    ear.refuse(
        "lost",
        path,
        f"no rod may go into this {member.kind}: {_LOST[member.lost or 'dead']}",
        f"the next best: {'; then '.join(named)}"
        if named
        else "no sound member is left behind this leg: fewer rods, blocking let in, or an end panel",
    )


_LOST: dict[Lost, str] = {
    "dead": "its hole is lost, and a lost hole is never filled and used again",
    "missing": "there is no wood where it should be",
    "twisted": "it is twisted, so that a rod set square runs out of its side",
    "too far off": "it lies too deep behind the face for the rod to hold",
}


def _own(
    ear: Ear,
    tables: Sequence[RodTable | None],
    path: Path,
    walls: Walls,
    shelf: Shelf,
    members: set[str],
    base: _Given,
) -> dict[str, tuple[_Given, Path]]:
    made: dict[str, tuple[_Given, Path]] = {}
    for i, table in enumerate(tables):
        at = (*path, "rod", i)
        spot = _rod_spot(ear, table.at, (*at, "at"), walls, shelf) if table else None
        if table is None or spot is None or spot.member is None:
            continue
        if spot.member.id not in members:
            ear.refuse(
                "place",
                (*at, "at"),
                "no rod of this shelf stands there",
                "add the place to rods.at, or take this [[shelf.rod]] out",
            )
        elif spot.member.id in made:
            ear.refuse(
                "duplicate",
                (*at, "at"),
                "this rod is told twice",
                "put both into one [[shelf.rod]]",
            )
        else:
            made[spot.member.id] = (_differs(ear, table, at, base, shelf.core), at)
    return made


def _differs(ear: Ear, table: RodTable, path: Path, base: _Given, core: CoreSpec | None) -> _Given:
    bar = table.stock or base.bar
    named = table.clearance is not None or table.stock is not None
    clearance = (
        _clearance(ear, table.clearance, bar, (*path, "clearance"), core, base.clearance)
        if named
        else base.clearance
    )
    return _Given(
        bar=bar,
        embedment=table.embedment or base.embedment,
        projection=table.projection or base.projection,
        hole=table.hole or base.hole,
        adhesive=table.adhesive or base.adhesive,
        clearance=clearance,
        in_slot=table.in_slot or base.in_slot,
        paths=base.paths
        | {key: (*path, key) for key in base.paths if getattr(table, key) is not None},
    )


def _rod(
    ear: Ear,
    wall: TapedWall,
    member: TapedMember,
    aside: float,
    given: _Given,
    path: Path,
    shelf: Shelf,
) -> RodSpec:
    _check_hole(ear, given)
    _check_width(ear, given, member)
    _check_projection(ear, given, shelf, wall.id)
    _check_embedment(ear, given, wall)
    _check_adhesive(ear, given)
    if shelf.core:
        _check_play(ear, given, shelf.core)
    return RodSpec(
        wall=wall.id,
        member=member.id,
        bar=given.bar,
        embedment=given.embedment,
        projection=given.projection,
        hole=given.hole,
        adhesive=given.adhesive,
        clearance=given.clearance,
        in_slot="glued" if given.in_slot == "glued" else "dry",
        path=ear.path(path),
        aside=aside,
    )


def across(bar: Bar) -> float:
    """Return the smallest round hole a bar goes into (mm): its diameter, or its diagonal."""
    return bar.width if bar.shape.startswith("round") else math.hypot(bar.width, bar.height)


def _check_hole(ear: Ear, given: _Given) -> None:
    size = across(given.bar)
    if given.hole <= size:
        wrong = f"this hole leaves no room for adhesive: a {given.bar.name} is {ear.length(size)} across"
        ear.refuse(
            "hole",
            given.paths["hole"],
            wrong,
            "bore larger than the rod by the ring of adhesive its label asks for",
        )


RING = 3.175
"""Twice the ring of adhesive round a rod, as most labels ask: 1/8 in over the rod (mm; common practice)."""


def _check_width(ear: Ear, given: _Given, member: TapedMember) -> None:
    """A hole leaves wood on both sides of it: across a stud between its edges, in blocking between bottom and top."""
    low, high = (
        member.up if member.kind == "blocking" and member.up else (member.left, member.right)
    )
    if given.hole < high - low:
        return
    kind = "blocking" if member.kind == "blocking" else "stud"
    wrong = f"this hole is no narrower than the {kind} it is bored into, which is {ear.length(high - low)}"
    fits = across(given.bar) + RING
    right = (
        f"hole = {ear.toml(fits)} is common round a {given.bar.name}"
        if fits < high - low
        else f"take a rod that leaves wood on both sides: a {given.bar.name} is {ear.length(across(given.bar))} across"
    )
    ear.refuse("hole", given.paths["hole"], wrong, right)


def _check_projection(ear: Ear, given: _Given, shelf: Shelf, wall: str) -> None:
    reach, depth = given.projection + given.clearance.end, shelf.deep(wall)
    if reach < depth:
        return
    of, stand = "shelf", "so that core and edging stand in front of its tip"
    right = f"shorten the rod {stand}"
    if depth < shelf.depth:
        of = f'leg on "{wall}"'
        most = ear.toml(max(depth - given.clearance.end, 0.0))
        right = f"give it a projection of its own in [[shelf.rod]], less than {most}, {stand}"
    wrong = f"the rod with its end clearance reaches {ear.length(reach)}, the {of} is {ear.length(depth)} deep"
    ear.refuse("projection", given.paths["projection"], wrong, right)


def _check_embedment(ear: Ear, given: _Given, wall: TapedWall) -> None:
    if wall.timber and given.embedment > wall.timber.depth + NEAR:
        wrong = f'the studs of "{wall.id}" are {ear.length(wall.timber.depth)} deep: the rod would come out behind'
        ear.refuse("embedment", given.paths["embedment"], wrong, "stay within the stud")


def _check_adhesive(ear: Ear, given: _Given) -> None:
    if given.adhesive.use != "rods":
        wrong = (
            "this adhesive is not for rods"
            if given.adhesive.use == "not for rods"
            else "this is a glue for the box, not for rods"
        )
        ear.refuse(
            "adhesive",
            given.paths["adhesive"],
            wrong,
            'take one for rods, such as "epoxy thickened"',
        )


def _check_play(ear: Ear, given: _Given, core: CoreSpec) -> None:
    bar, play = given.bar, core.thick - given.bar.height
    layers = f"core {ear.length(core.thick)}, bar {ear.length(bar.height)}"
    if play < 0:
        wrong = f"the bar is higher than the core it goes into: {layers}"
        ear.refuse("slot", given.paths["stock"], wrong, "take a thicker core or a lower bar")
    elif abs(given.clearance.up - play) > PLAY_AGREES:
        wrong = f"the slot is as high as the core, so its play is {ear.length(play)}: {layers}"
        other = ear.length(bar.height + given.clearance.up)
        right = f"write up = {ear.toml(play)}, or leave it out, or plane the core to {other}"
        ear.refuse("slot", (*given.paths["clearance"], "up"), wrong, right)
