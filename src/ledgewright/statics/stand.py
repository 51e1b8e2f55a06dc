"""A shelf put on its section model: condensed today and after creep, with the places that are read and loaded."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from ledgewright import plane
from ledgewright.core import Core
from ledgewright.job import Spec
from ledgewright.layout import Frame
from ledgewright.memo import Memo
from ledgewright.plane import Point
from ledgewright.statics.inputs import NOMINAL, Inputs
from ledgewright.statics.mechanics.contact_rods import Slotted, sites
from ledgewright.statics.mechanics.section import MESH, Condensed, Section, Site, condense
from ledgewright.statics.mechanics.section.grid import Wanted
from ledgewright.statics.seats import Row, Seat, rows
from ledgewright.statics.shelf_model import INSET, Turned, in_from_ends, slotted, structure
from ledgewright.statics.spot import Spot, Where
from ledgewright.statics.tiles import Tile, tiles
from ledgewright.survey import Room

ROUGH = 120.0
"""Largest cell for a first look (mm): the examples then drop by up to 1.5 % less than on the usual mesh."""
APART = 60.0
"""An end nearer than this to a rod is not read or loaded by itself (mm)."""


@dataclass(frozen=True)
class Read:
    """One place along a front edge; rod: the nearest rod's id. along: on its leg's wall (mm)."""

    spot: Spot
    leg: int
    along: float
    point: Point
    rod: str


@dataclass(frozen=True)
class Stood:
    """A shelf's section model, condensed for its rods' places: what no load, bar or bed changes.

    shape: what alone decides all this but for what only names it: keys what is kept of it. today, later: new and after
    creep, that for its sites alone. reads: places along the front, in the order in which both read them.
    """

    shape: Hashable
    turned: Turned
    aged: Turned
    today: Condensed
    later: Condensed
    rows: tuple[Row, ...]
    tiles: tuple[Tile, ...]
    edging: float
    reads: tuple[Read, ...]


def stand(
    *, room: Room, frame: Frame, spec: Spec, core: Core, memo: Memo, rough: bool = False
) -> Stood:
    """Return a shelf on its section model. The dear step: once per shape.

    docs/section-model.md.

    Args:
        room: the walls.
        frame: the shelf against them.
        spec: panels, timbers, thicknesses.
        core: its pieces of core.
        memo: kept by the caller: shelves of one shape are condensed once.
        rough: on a coarse mesh, for a first look; it is a little stiffer so.

    Raises:
        Mechanism: if a part of the shelf moves by itself.
        ValueError: if a leg is more than 3 degrees out of square.
    """
    legs = rows(room, frame, NOMINAL)
    reads = tuple(read for index, row in enumerate(legs) for read in _reads(room, row, index))
    made, aged = (structure(spec=spec, frame=frame, core=core, creep=c) for c in (False, True))
    rods = slotted(made, seats(legs), spec, NOMINAL)
    places = sites(rods, [_site(made, room, legs, spec, read) for read in reads])
    wanted, mesh = (((), ()), ROUGH) if rough else (_beside(rods, legs, spec), MESH)
    shape = (made.section, aged.section, places, wanted, mesh)
    today, later = memo.get("section", shape, lambda: _condensed(*shape), heavy=True)
    walls = [room.wall(row.leg.wall) for row in legs]
    return Stood(
        shape=(shape, made.about, made.angle),
        turned=made,
        aged=aged,
        today=today,
        later=later,
        rows=legs,
        tiles=tiles(frame, legs, walls, edging=spec.edging_thick),
        edging=spec.edging_thick,
        reads=reads,
    )


def _condensed(
    new: Section, old: Section, places: tuple[Site, ...], wanted: Wanted, mesh: float
) -> tuple[Condensed, Condensed]:
    today = condense(new, places, wanted=wanted, mesh=mesh)
    return today, condense(old, places, like=today).for_sites()


def _beside(rods: Sequence[Slotted], legs: Sequence[Row], spec: Spec) -> Wanted:
    """Lines of the grid at the edges of the slots and a little off them, where a rod tears skin and core apart."""
    x: list[float] = []
    y: list[float] = []
    for rod, seat in zip(rods, seats(legs), strict=True):
        across = abs(rod.axis[1]) > abs(rod.axis[0])
        middle = rod.plan(np.array([(rod.mouth + rod.tip) / 2]))[0]
        half = seat.rod.bar.width / 2 + seat.rod.clearance.side
        off = half + spec.core.thick
        (x if across else y).extend(
            middle[0 if across else 1] + d for d in (-off, -half, half, off)
        )
    return tuple(x), tuple(y)


def seats(legs: Sequence[Row]) -> list[Seat]:
    """Return the rods of all legs in one row."""
    return [seat for row in legs for seat in row.seats]


def rods_of(
    stood: Stood, seated: Sequence[Seat], spec: Spec, inputs: Inputs, *, creep: bool
) -> tuple[Slotted, ...]:
    """Return the rods in their slots with their bars and beds as sampled, today or after creep."""
    return slotted(stood.aged if creep else stood.turned, seated, spec, inputs, creep=creep)


def _reads(room: Room, row: Row, index: int) -> list[Read]:
    low, high = row.front
    at = [(seat.x, seat.rod.id, seat.rod.mark) for seat in row.seats]

    def read(kind: Where, x: float, rod: str, *marks: str) -> Read:
        (x0, y0), (x1, y1) = row.leg.front
        share = (x - low) / (high - low)
        flip = room.wall(row.leg.wall).figures((x0, y0))[0] > low + 1e-9
        t = 1 - share if flip else share
        point = (x0 + (x1 - x0) * t, y0 + (y1 - y0) * t)
        return Read(Spot(kind, marks), index, x, point, rod)

    found = [read("rod", x, rod, mark) for x, rod, mark in at if low < x < high]
    found += [
        read("bay", (a[0] + b[0]) / 2, a[1], a[2], b[2])
        for a, b in pairwise(at)
        if low < (a[0] + b[0]) / 2 < high
    ]
    if at and at[0][0] - low > APART:
        found.append(read("end", low, at[0][1], at[0][2]))
    if at and high - at[-1][0] > APART:
        found.append(read("end", high, at[-1][1], at[-1][2]))
    return sorted(found, key=lambda each: each.along)


def _site(turned: Turned, room: Room, legs: Sequence[Row], spec: Spec, read: Read) -> Site:
    """A place of the front edge, read on the top skin just behind the edging and on from there as the skin slopes."""
    leg, back = legs[read.leg].leg, spec.edging_thick + INSET
    a, b = leg.front
    along = plane.unit(plane.sub(b, a))
    far = plane.length(plane.sub(b, a))
    left, right = in_from_ends(leg, back)
    at = min(max(plane.dot(plane.sub(read.point, a), along), left), far - right)
    point = plane.along(
        plane.along(a, along, at), plane.scale(room.wall(leg.wall).outward, -1), back
    )
    on, edge = turned.at(point), turned.at(read.point)
    return Site(*on, reach=plane.sub(edge, on))
