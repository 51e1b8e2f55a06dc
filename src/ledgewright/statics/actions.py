"""Every load of a shelf as parts that may be there or not, each solved once on the section model."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon

from ledgewright import plane
from ledgewright.job import Even, Lasts, Thing
from ledgewright.layout import Frame, LegAt, Side, lean
from ledgewright.memo import Memo
from ledgewright.plane import Point, Ring
from ledgewright.statics.bases import Combination, Kind
from ledgewright.statics.given import Given
from ledgewright.statics.loads import CONTENTS, FOOT, G_N, LONGEST, PATCH, self_weight
from ledgewright.statics.mechanics.section import Loaded, Pressure
from ledgewright.statics.seats import Row
from ledgewright.statics.spot import Spot, Where
from ledgewright.statics.stand import Read, Stood
from ledgewright.statics.tiles import AT_EDGE, GRID, deepest, lie, proudest, strip
from ledgewright.survey import Room, Wall

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.intp]
WHOLE = 1e-3
"""A load that covers a tile but for this share covers it."""
SPECK = 1.0
"""Less than this is no part of a load (mm2)."""
ARM = 25.0
"""How far apart the two forces lie that bring the middle of a load past the skin to where it is (mm)."""


Lies = tuple[tuple[Ring, ...], Point]
"""Rings that a load presses on alike, and how far past the middle of all of them its own middle lies (mm)."""


@dataclass(frozen=True)
class Atom:
    """One part of one load: its name, kind, how long it stays, its force (N), and where it lies, on the leg of a wall.

    tile: the number of the part of the top that it lies on, None for things and single loads. spot: of a load that may
    stand at many places, which one. feet: on which a thing stands, alike, instead of all its plan. past: how far past
    the middle of what it presses on its own middle lies, where that is on edging, which is no part of the skin.
    """

    name: str
    kind: Kind
    lasts: Lasts
    force: float
    wall: str
    plan: Ring
    tile: int | None = None
    spot: Spot | None = None
    feet: tuple[Ring, ...] = ()
    past: Point = (0.0, 0.0)

    @property
    def on(self) -> tuple[Ring, ...]:
        """What of the top it presses on."""
        return self.feet or (self.plan,)

    @property
    def lies(self) -> Lies:
        """What it presses on, and how far past the middle of that its own middle lies."""
        return self.on, self.past

    @property
    def middle(self) -> Point:
        """Its own middle in plan (mm)."""
        at = shapely.centroid(shapely.MultiPolygon([Polygon(ring) for ring in self.on]))
        return plane.add((at.x, at.y), self.past)


@dataclass(frozen=True)
class Acting:
    """The section under parts of loads times factors; its own movements are solved only when they are asked for."""

    of: Actions
    factors: Floats
    drop: Floats
    whole: Floats
    creep: bool

    @cached_property
    def loaded(self) -> Loaded:
        """The load on every movement of the section."""
        stood = self.of.stood
        return (stood.later if self.creep else stood.today).under(self.of.force(self.factors))

    @property
    def own(self) -> float:
        """Work of the load on the movements it makes by itself (N mm)."""
        return self.loaded.own


@dataclass(frozen=True)
class Actions:
    """All parts of all loads, and what each does to the section: columns in the order of `atoms`.

    rings: where each plan of a load lies. plans: (movements, plans) of 1 N on each, and on: (atoms,) which plan a part
    lies on. drop, later_drop: (sites, atoms) new and after creep. whole: (modes, atoms).
    """

    stood: Stood
    atoms: tuple[Atom, ...]
    rings: tuple[Lies, ...]
    plans: Floats
    on: Ints
    drop: Floats
    later_drop: Floats
    whole: Floats
    later_whole: Floats

    def of(self, *kinds: Kind) -> Bools:
        """Return which parts are of these kinds."""
        made = np.zeros(len(self.atoms), dtype=bool)
        for kind in kinds:
            made |= self.kinds.get(kind, False)
        return made

    def factors(self, combination: Combination, there: Bools) -> Floats:
        """Return the factor on every part under a combination; there: which parts are on the shelf."""
        made = np.zeros(len(self.atoms))
        for kind, atoms in self.kinds.items():
            made[atoms] = combination.factor(kind)
        return made * there

    @cached_property
    def kinds(self) -> dict[Kind, Bools]:
        """Which parts are of each kind."""
        kinds = np.array([atom.kind for atom in self.atoms])
        return {kind: kinds == kind for kind in dict.fromkeys(atom.kind for atom in self.atoms)}

    @cached_property
    def forces(self) -> Floats:
        """Force of every part (atoms,) (N)."""
        return np.array([atom.force for atom in self.atoms])

    def times(self, *, live: float = 1.0, accident: float = 1.0) -> Actions:
        """Return the same parts with contents and accidental load so many times as heavy."""
        if live == accident == 1.0:
            return self
        by: dict[Kind, float] = {"live": live, "accident": accident}
        factor = np.array([by.get(atom.kind, 1.0) for atom in self.atoms])
        atoms = (replace(a, force=a.force * f) for a, f in zip(self.atoms, factor, strict=True))
        return replace(
            self,
            atoms=tuple(atoms),
            drop=self.drop * factor,
            later_drop=self.later_drop * factor,
            whole=self.whole * factor,
            later_whole=self.later_whole * factor,
        )

    def softened(self, section: float) -> Actions:
        """Return the same parts on a section so many times as stiff all over: what gives, gives by as much less."""
        if section == 1.0:
            return self
        return replace(self, drop=self.drop / section, later_drop=self.later_drop / section)

    def under(self, factors: Floats, *, creep: bool = False) -> Acting:
        """Return the section under its parts times their factors."""
        if creep:
            return Acting(
                self, factors, self.later_drop @ factors, self.later_whole @ factors, creep
            )
        return Acting(self, factors, self.drop @ factors, self.whole @ factors, creep)

    def under_all(self, factors: Sequence[Floats]) -> list[Acting]:
        """Return what `under` gives for several."""
        if not factors:
            return []
        every = np.array(factors)
        drop, whole = every @ self.drop.T, every @ self.whole.T
        return [
            Acting(self, each, drop[k], whole[k], creep=False) for k, each in enumerate(factors)
        ]

    def on_plans(self, factors: Floats) -> Floats:
        """Return the force on every plan under parts times their factors (plans,) (N)."""
        return np.asarray(self.all_on_plans(factors[None])[0])

    def all_on_plans(self, factors: Floats) -> Floats:
        """Return the force on every plan under several loads (loads, plans) (N); factors: (loads, atoms)."""
        lies = np.zeros((len(self.atoms), self.plans.shape[1]))
        lies[np.arange(len(self.atoms)), self.on] = self.forces
        return np.asarray(factors @ lies)

    def force(self, factors: Floats) -> Floats:
        """Return the load on every movement of the section under parts times their factors (movements,)."""
        return np.asarray(self.plans @ self.on_plans(factors))

    @property
    def stays(self) -> Lasts:
        """How long the longest-standing contents stay; contents that are not there count as standing."""
        lasts = {atom.lasts for atom in self.atoms if atom.kind == "live"}
        return next((each for each in LONGEST if each in lasts), "years")


def actions(given: Given, stood: Stood, memo: Memo) -> Actions:
    """Return all loads of a shelf in parts.

    Self-weight lies even over the plan. A thing with feet stands on four of 25 mm (assumed). An even load lies where
    the job puts it, cut by tiles; one given by length flush with the front, 250 mm deep at most (assumed). The single
    thing and the accident stand at one of many places along the front edge, the single thing also amid a bay, beside
    rods and along the back: between the skins a load near the wall may ask most of the glue.

    Args:
        given: the shelf and what it must carry.
        stood: the shelf on its section model.
        memo: kept by the caller: loads that lie where others lay are not solved again.
    """
    # All of a shelf but its doubtful figures: where its loads lie does not hang on these.
    key = (stood.shape, given.room, given.frame, given.spec, given.demand, given.core)
    return _solved(stood, memo.get("parts of loads", key, lambda: _atoms(given, stood)), memo)


def _atoms(given: Given, stood: Stood) -> tuple[Atom, ...]:
    room, frame, demand = given.room, given.frame, given.demand
    pressure = self_weight(given.spec, frame, given.core)
    atoms = [*_dead(stood, pressure)]
    for load in demand.loads:
        if isinstance(load, Thing):
            atoms += _thing(stood, room, load)
        else:
            atoms += _even(stood, room, frame, load)
    if demand.single > 0:
        atoms += _patches(stood, room, "one thing", "single", demand.single * G_N, PATCH)
        atoms += _in_bays(stood, room, demand.single * G_N)
        atoms += _at_the_back(stood, room, demand.single * G_N)
    if worst := demand.accident:
        atoms += _patches(stood, room, worst.id, "accident", worst.force, worst.patch)
    return tuple(atoms)


@dataclass(frozen=True)
class _Unit:
    """What 1 N on each of some plans does to a section: columns in the order of the plans."""

    force: Floats
    drop: Floats
    whole: Floats
    later_drop: Floats
    later_whole: Floats


def _units(stood: Stood, plans: tuple[Lies, ...]) -> _Unit:
    force = np.column_stack([_pressed(stood, *lies) for lies in plans])
    new, old = stood.today.under(force), stood.later.under(force)
    return _Unit(force, new.drop, new.whole, old.drop, old.whole)


def _pressed(stood: Stood, rings: tuple[Ring, ...], past: Point) -> Floats:
    """The force on every movement of 1 N on some rings alike; one that lies past them with its couple.

    Edging turns with the skin it is glued to: what stands on it bends the skin's edge as two forces further in do.
    """
    far, share = plane.length(past), 1.0 / len(rings)
    on = stood.today.pressed(*(Pressure(stood.turned.ring(each), share) for each in rings))
    if far == 0.0:
        return on
    back = plane.scale(past, -ARM / far)
    moved = [tuple(plane.add(p, back) for p in each) for each in rings]
    behind = stood.today.pressed(*(Pressure(stood.turned.ring(each), share) for each in moved))
    return np.asarray(on + (on - behind) * far / ARM)


def _solved(stood: Stood, atoms: tuple[Atom, ...], memo: Memo) -> Actions:
    rings = tuple(dict.fromkeys(atom.lies for atom in atoms))
    unit = memo.get("loads", (stood.shape, rings), lambda: _units(stood, rings), heavy=True)
    number = {plan: k for k, plan in enumerate(rings)}
    on = np.array([number[atom.lies] for atom in atoms])
    force = np.array([atom.force for atom in atoms])
    return Actions(
        stood=stood,
        atoms=atoms,
        rings=rings,
        plans=unit.force,
        on=on,
        drop=unit.drop[:, on] * force,
        later_drop=unit.later_drop[:, on] * force,
        whole=unit.whole[:, on] * force,
        later_whole=unit.later_whole[:, on] * force,
    )


def _dead(stood: Stood, pressure: float) -> Iterator[Atom]:
    for number, tile in enumerate(stood.tiles):
        force = pressure * tile.shape.area
        yield Atom(
            "self-weight", "dead", "years", force, tile.wall, tile.plan, number, past=tile.past
        )


def _on_skin(
    stood: Stood, wall: Wall, along: tuple[float, float], outs: tuple[float, float]
) -> tuple[Ring, Point]:
    """A rectangle clear of the edging, which is no part of the skin, and how far past it its middle lies."""
    return lie(wall, along, outs, _skin_ends(stood, wall, outs))


def _skin_ends(stood: Stood, wall: Wall, outs: tuple[float, float]) -> tuple[float, float, float]:
    """The alongs at which the skin of a leg ends at edging between two outs, and its out; infinite where none does."""
    row = next((row for row in stood.rows if row.leg.wall == wall.id), None)
    if row is None:
        return -np.inf, np.inf, np.inf
    leg, edging = row.leg, stood.edging
    low = row.front[0] + _edged(leg, "left", edging, outs) if leg.left_end == "free" else -np.inf
    high = row.front[1] - _edged(leg, "right", edging, outs) if leg.right_end == "free" else np.inf
    return low, high, leg.band + leg.depth - edging


def _edged(leg: LegAt, side: Side, edging: float, outs: tuple[float, float]) -> float:
    """How far in from a free end's front point the skin begins between two outs, where the end may lean."""
    slant, front = lean(leg, side), leg.band + leg.depth
    behind = (front - min(max(out, leg.band), front) for out in outs)
    return max(edging * math.hypot(1.0, slant) - slant * deep for deep in behind)


def _thing(stood: Stood, room: Room, load: Thing) -> list[Atom]:
    wall = room.wall(load.wall)
    face = wall.face(load.along)
    out = face + load.out

    def square(along: float, out: float, wide: float, deep: float) -> tuple[Ring, Point]:
        ends = (along - wide / 2, along + wide / 2)
        return _on_skin(stood, wall, ends, (out - deep / 2, out + deep / 2))

    plan, past = square(load.along, out, *load.size)
    feet: list[Ring] = []
    if load.feet is not None:
        half_deep = load.size[1] / 2
        low, high, front = _skin_ends(stood, wall, (out - half_deep, out + half_deep))
        clear = (min(load.along - low, high - load.along), front - out)
        # No foot sticks out from under the thing; where one would stand on edging all are drawn in about their middle.
        half = [
            max(min(a, s - FOOT, 2 * c - FOOT) / 2, 0.0)
            for a, s, c in zip(load.feet, load.size, clear, strict=True)
        ]
        stands = [
            square(load.along + a * half[0], out + b * half[1], FOOT, FOOT)
            for a in (-1, 1)
            for b in (-1, 1)
        ]
        feet = [ring for ring, _ in stands]
        past = stands[0][1]
    force = load.mass * G_N
    return [Atom(load.id, "live", load.lasts, force, load.wall, plan, feet=tuple(feet), past=past)]


def _even(stood: Stood, room: Room, frame: Frame, load: Even) -> list[Atom]:
    """The tiles that an even load covers, in whole or in part."""
    lying = [(Polygon(frame.outline), load.pressure or 0.0)]
    if load.wall is not None or load.pressure is None:
        rows = [row for row in stood.rows if load.wall in (None, row.leg.wall)]
        lying = [_lying(room, row, load, alone=load.wall is not None) for row in rows]
    return [
        each for shape, pressure in lying for each in _parts(stood, room, load, shape, pressure)
    ]


def _lying(room: Room, row: Row, load: Even, *, alone: bool) -> tuple[Polygon, float]:
    """Where a load lies on one leg, and its pressure there (MPa).

    One put on a wall by name runs right up to the corner; one on all legs leaves the corner to the first.
    """
    wall, leg = room.wall(row.leg.wall), row.leg
    low, high = (leg.start if alone else row.low), row.high
    # Where an edged end leans so that it is longest in front, the load goes on to there; the outline cuts it off.
    if leg.left_end == "free" and lean(leg, "left") < 0:
        low = row.front[0]
    if leg.right_end == "free" and lean(leg, "right") < 0:
        high = row.front[1]
    start = low if load.start is None else max(low, load.start)
    end = high if load.end is None else min(high, load.end)
    front = leg.band + leg.depth
    if start >= end:
        return Polygon(), 0.0
    if load.pressure is not None:
        return Polygon(strip(wall, (start, end), (deepest(row, wall), front))), load.pressure
    deep = min(CONTENTS, leg.depth)
    outs = (leg.band, leg.band + deep) if load.flush == "back" else (front - deep, front)
    shape = Polygon(strip(wall, (start, end), outs))
    return shape, (load.per_length or 0.0) / deep


def _parts(stood: Stood, room: Room, load: Even, shape: Polygon, pressure: float) -> Iterator[Atom]:
    if not shape.is_valid or shape.area <= SPECK:
        return
    tiles = [tile.shape for tile in stood.tiles]
    near = np.flatnonzero(shapely.intersects(shape, tiles))
    shared = shapely.intersection([tiles[k] for k in near], shape, grid_size=GRID)
    for k, both in zip(near.tolist(), shared, strict=True):
        if both.area <= SPECK:
            continue
        tile = stood.tiles[k]
        plan, past = tile.plan, tile.past
        if both.area < (1 - WHOLE) * tile.shape.area:
            lies = max(shapely.get_parts(both), key=lambda p: p.area)
            plan, past = _partly(stood, room.wall(tile.wall), lies)
        force = pressure * both.area
        yield Atom(load.id, "live", load.lasts, force, tile.wall, plan, k, past=past)


def _partly(stood: Stood, wall: Wall, lies: Polygon) -> tuple[Ring, Point]:
    """Where a load lies that covers a tile in part, clear of the edging if it is a rectangle along the wall."""
    ring = tuple((float(x), float(y)) for x, y in lies.exterior.coords[:-1])
    along, outs = zip(*(wall.figures(p) for p in ring), strict=True)
    ends, depths = (min(along), max(along)), (min(outs), max(outs))
    covered = (ends[1] - ends[0]) * (depths[1] - depths[0])
    if lies.area > (1 - WHOLE) * covered:
        return _on_skin(stood, wall, ends, depths)
    return ring, (0.0, 0.0)


def _patches(
    stood: Stood, room: Room, name: str, kind: Kind, force: float, size: float
) -> Iterator[Atom]:
    for read in stood.reads:
        row = stood.rows[read.leg]
        ring, past = _square(stood, room, read, row.leg.band + row.leg.depth, size)
        yield Atom(name, kind, "minutes", force, row.leg.wall, ring, None, read.spot, past=past)


def _in_bays(stood: Stood, room: Room, force: float) -> Iterator[Atom]:
    for read in stood.reads:
        row = stood.rows[read.leg]
        if read.spot.kind == "bay":
            out = row.leg.band + row.leg.depth / 2 + PATCH / 2
            ring, past = _square(stood, room, read, out, PATCH)
            amid = Spot("middle", read.spot.marks)
            wall = row.leg.wall
            yield Atom("one thing", "single", "minutes", force, wall, ring, None, amid, past=past)


def _at_the_back(stood: Stood, room: Room, force: float) -> Iterator[Atom]:
    for row in stood.rows:
        for spot, at in (*_along_the_back(row), *_beside(row, "back beside")):
            yield _off_the_wall(stood, room, row, spot, force, (at, 0.0))
        if row.leg.depth > 2 * PATCH:
            for spot, at in _beside(row, "beside"):
                yield _off_the_wall(stood, room, row, spot, force, (at, PATCH / 2))


def _off_the_wall(
    stood: Stood, room: Room, row: Row, spot: Spot, force: float, place: tuple[float, float]
) -> Atom:
    """The one thing with its middle so far along a leg and its back so far off the proudest place of the wall there."""
    wall, (at, off) = room.wall(row.leg.wall), place
    middle = min(max(at, row.low + PATCH / 2), row.high - PATCH / 2)
    ends = (middle - PATCH / 2, middle + PATCH / 2)
    back = proudest(row, wall, ends) + off
    ring, past = _on_skin(stood, wall, ends, (back, back + min(PATCH, row.leg.depth)))
    return Atom("one thing", "single", "minutes", force, wall.id, ring, None, spot, past=past)


def _along_the_back(row: Row) -> Iterator[tuple[Spot, float]]:
    """Behind every rod, amid every bay and at both ends; the square of a corner is an end of the left leg."""
    seats = row.seats
    for seat in seats:
        yield Spot("back rod", (seat.rod.mark,)), seat.x
    for a, b in pairwise(seats):
        yield Spot("back bay", (a.rod.mark, b.rod.mark)), (a.x + b.x) / 2
    if seats and seats[0].x - row.low > PATCH / 2:
        yield Spot("back end", (seats[0].rod.mark,)), row.low
    if seats and row.high - seats[-1].x > PATCH / 2:
        yield Spot("back end", (seats[-1].rod.mark,)), row.high


def _beside(row: Row, kind: Where) -> Iterator[tuple[Spot, float]]:
    """To both sides of every rod, by the size of the thing: webs beside slots are there.

    Where that is too near an end or the middle of a bay, these stand for it.
    """
    seats = row.seats
    for a, b in pairwise(seats):
        if b.x - a.x > 3 * PATCH:
            yield Spot(kind, (a.rod.mark, b.rod.mark)), a.x + PATCH
            yield Spot(kind, (b.rod.mark, a.rod.mark)), b.x - PATCH
    if seats and seats[0].x - row.low > 2 * PATCH:
        yield Spot(kind, (seats[0].rod.mark,)), seats[0].x - PATCH
    if seats and row.high - seats[-1].x > 2 * PATCH:
        yield Spot(kind, (seats[-1].rod.mark,)), seats[-1].x + PATCH


def _square(stood: Stood, room: Room, read: Read, front: float, size: float) -> tuple[Ring, Point]:
    """A square patch whose front lies so far out, kept between the ends of the front edge and on the shelf.

    Drawn smaller by the edging all round, with the same middle; and how far past the skin that lies, on thick edging.
    """
    row, edging, half = stood.rows[read.leg], stood.edging, size / 2
    outs = _on_depth(row, front, size)
    low, high = row.front[0] + half, row.front[1] - half
    if row.leg.left_end == "free":
        low += _edged(row.leg, "left", edging, outs) - edging
    if row.leg.right_end == "free":
        high -= _edged(row.leg, "right", edging, outs) - edging
    at = min(max(read.along, low), high) if low < high else (low + high) / 2
    wall = room.wall(row.leg.wall)
    return _on_skin(stood, wall, _smaller((at - half, at + half), edging), _smaller(outs, edging))


def _smaller(stretch: tuple[float, float], by: float) -> tuple[float, float]:
    a, b = stretch
    off = min(by, max((b - a - AT_EDGE) / 2, 0.0))
    return a + off, b - off


def _on_depth(row: Row, front: float, size: float) -> tuple[float, float]:
    """How far out a square of a size begins and ends, made to fit between the wall and the front edge of its leg."""
    band, edge = row.leg.band, row.leg.band + row.leg.depth
    return max(front - size, band), min(front, edge)
