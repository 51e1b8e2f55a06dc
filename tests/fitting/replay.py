"""A dense replay of a way with its own code: rigid shifts and turns of polygons by numpy, overlays by shapely.

Nothing of ledgewright.fitting runs here; a way is read as the figures that the fitting order prints. Rods in the
section are looked at every 0.1 mm of way. Walls and obstacles are looked at by conservative advancement: a
section that is d away from everything cannot meet anything before a point of it has moved by d (Lipschitz; Mirtich,
"Impulse-based dynamic simulation", 1996, from memory), so whole intervals are proven at once; where it is nearer than
0.05 mm the steps are 0.1 mm as well.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import MultiPoint, Polygon
from shapely.geometry.base import BaseGeometry

from ledgewright.fitting import Channel, Move, Way
from ledgewright.layout import Frame, Rod
from ledgewright.survey import Room, Wall

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

STEP = 0.1
"""Steps of the replay (mm of the fastest point)."""

TOUCH = 0.02
"""A section may overlap a wall or an obstacle by this where the two touch (mm)."""

NEAR = 0.01
"""A clearance may be short by this on straight moves (mm)."""

GRID = 1e-9
"""Overlays without a grid at times lose a polygon."""


class HitError(AssertionError):
    """The replay found what may not be."""


@dataclass(frozen=True)
class Leg:
    """One move as figures: the section turns about its own point `pivot` while that goes from `a` to `b`."""

    pivot: Array
    a: Array
    b: Array
    angles: tuple[float, float]

    def at(self, share: Array) -> tuple[Array, Array]:
        """Turns (n,) and shifts (n, 2): a point p of the section at home then lies at turned(p) + shift."""
        turns = self.angles[0] + (self.angles[1] - self.angles[0]) * share
        places = self.a + (self.b - self.a) * share[:, None]
        return turns, places - turned(self.pivot[None, :], turns)[:, 0]

    def fastest(self, section: Array) -> float:
        """No point of the section moves further than this on the whole move (mm)."""
        arm = float(np.linalg.norm(section - self.pivot, axis=1).max())
        return float(np.linalg.norm(self.b - self.a)) + arm * abs(self.angles[1] - self.angles[0])


def turned(points: Array, angles: Array) -> Array:
    """Points (m, 2) turned to the left by each angle (n,), as (n, m, 2)."""
    c, s = np.cos(angles)[:, None], np.sin(angles)[:, None]
    x, y = points[None, :, 0], points[None, :, 1]
    return np.stack([c * x - s * y, s * x + c * y], axis=2)


def legs(moves: Sequence[Move]) -> list[Leg]:
    """The moves, worked backwards from home."""
    angle, shift = 0.0, np.zeros(2)
    found = []
    for move in reversed(moves):
        pivot = np.array(move.about)
        after = turned(pivot[None, :], np.array([angle]))[0, 0] + shift
        before = after - np.array([move.dx, move.dy])
        start = angle - move.turn
        found.append(Leg(pivot, before, after, (start, angle)))
        shift = before - turned(pivot[None, :], np.array([start]))[0, 0]
        angle = start
    return found[::-1]


def wall_solid(wall: Wall) -> Polygon:
    """A wall as a solid 80 deep, its face carried on level to its ends."""
    face = list(wall.line)
    if wall.start < face[0][0]:
        face.insert(0, (wall.start, face[0][1]))
    if wall.end > face[-1][0]:
        face.append((wall.end, face[-1][1]))
    back, low, high = min(out for _, out in face) - 80.0, face[0][0], face[-1][0]
    # Narrower behind: a corner that is sharper than square has nothing there.
    off = min(80.0, (high - low) / 2.5)
    ring = [*face, (high - off, back), (low + off, back)]
    u, o = np.array(wall.direction), np.array(wall.origin)
    n = np.array([u[1], -u[0]])
    return Polygon([o + s * u + out * n for s, out in ring])


def things(room: Room, frame: Frame) -> list[Polygon]:
    """All that stands still at the height of the section."""
    low = frame.top - frame.thick
    return [
        *(wall_solid(w) for w in room.walls),
        *(Polygon(o.plan) for o in room.obstacles if o.up[0] < frame.top and o.up[1] > low),
    ]


def collisions(ring: Array, leg: Leg, still: BaseGeometry) -> None:
    """Find none of a section with what stands still, or raise."""
    fast = leg.fastest(ring)
    spans = np.array([[0.0, 1.0]])
    while len(spans):
        middle = spans.mean(axis=1)
        turns, shifts = leg.at(middle)
        sections = shapely.polygons(turned(ring, turns) + shifts[:, None, :])
        gaps = shapely.distance(sections, still)
        if (gaps == 0).any():
            at = float(middle[int(gaps.argmin())])
            raise HitError(f"meets something at {at:.4f} of the move to {leg.b}")
        long = (spans[:, 1] - spans[:, 0]) * fast
        open_ = spans[(gaps < long / 2) & (long > STEP)]
        halves = open_.mean(axis=1)
        spans = np.vstack(
            [np.column_stack([open_[:, 0], halves]), np.column_stack([halves, open_[:, 1]])]
        )


def pairs(shape: BaseGeometry) -> Array:
    """The edges of a polygon with its holes, or of several, as (n, 2, 2)."""
    found = []
    for part in shapely.get_parts(shape):
        if isinstance(part, Polygon):
            for ring in (part.exterior, *part.interiors):
                c = np.asarray(ring.coords)[:, :2]
                found.append(np.stack([c[:-1], c[1:]], axis=1))
    return np.concatenate(found) if found else np.zeros((0, 2, 2))


@dataclass(frozen=True)
class Pin:
    """A rod in the plan: where it leaves the wood, its direction, length, half width, clearances."""

    start: Array
    axis: Array
    long: float
    half: float
    side: float
    end: float

    def seen(self, points: Array) -> Array:
        """Room points (..., 2) as (along the rod from the wood, across it)."""
        d = points - self.start
        return np.stack([d @ self.axis, d @ np.array([-self.axis[1], self.axis[0]])], axis=-1)

    def box(self, side: float, past: float) -> tuple[Array, Array]:
        """Centre and half extents, as seen, of the rod widened each side and longer past its tip."""
        return (
            np.array([(self.long + past) / 2, 0.0]),
            np.array([(self.long + past) / 2, self.half + side]),
        )

    def corners(self, side: float, past: float) -> Array:
        """Corners in the room of the rod widened each side and longer past its tip."""
        across = np.array([-self.axis[1], self.axis[0]]) * (self.half + side)
        tip = self.start + self.axis * (self.long + past)
        return np.array([self.start - across, tip - across, tip + across, self.start + across])


def pin(rod: Rod) -> Pin:
    """A rod as it stands in the plan."""
    lean = math.hypot(rod.axis[0], rod.axis[1])
    return Pin(
        np.array(rod.origin[:2]),
        np.array(rod.axis[:2]) / lean,
        (rod.free + rod.projection) * lean,
        rod.bar.width / 2,
        rod.clearance.side,
        rod.clearance.end,
    )


def crossed(edges: Array, centre: Array, half: Array) -> Flags:
    """Which edges (..., 2, 2) have a point within an upright box: separating axes (Gottschalk et al. 1996)."""
    middle = (edges[..., 0, :] + edges[..., 1, :]) / 2 - centre
    arm = (edges[..., 1, :] - edges[..., 0, :]) / 2
    apart = np.abs(middle) > half + np.abs(arm)
    cross = np.abs(middle[..., 0] * arm[..., 1] - middle[..., 1] * arm[..., 0])
    reach = half[0] * np.abs(arm[..., 1]) + half[1] * np.abs(arm[..., 0])
    return np.asarray(~(apart.any(axis=-1) | (cross > reach)))


def near(edges: Array, leg: Leg, one: Pin, reach: float) -> Array:
    """The edges whose paths on a move come anywhere near a rod (a turn is taken whole)."""
    if leg.angles[0] != leg.angles[1] or not len(edges):
        return edges
    turns, shifts = leg.at(np.array([0.0, 1.0]))
    flat = edges.reshape(-1, 2)
    seen = one.seen(turned(flat, turns) + shifts[:, None, :]).reshape(2, len(edges), 2, 2)
    low, high = seen.min(axis=(0, 2)), seen.max(axis=(0, 2))
    centre, half = one.box(reach, reach)
    some = ((low <= centre + half) & (high >= centre - half)).all(axis=1)
    return np.asarray(edges[some])


def clearances(outline: Polygon, cut: BaseGeometry, leg: Leg, one: Pin, short: float) -> None:
    """Find the rod never nearer to what is left of the section than its clearance less `short`, or raise.

    A rod that is in the section with its side clearance must have its whole clearance, also past its tip.
    """
    count = max(1, math.ceil(leg.fastest(np.asarray(outline.exterior.coords)) / STEP))
    share = np.linspace(0.0, 1.0, count + 1)
    turns, shifts = leg.at(share)
    small, whole = (
        one.box(one.side - short, one.side - short),
        one.box(one.side - short, one.end - short),
    )
    within = _hits(near(pairs(outline), leg, one, one.side), turns, shifts, one, small)
    within |= _inside(outline, turns, shifts, one, small[0])
    if not within.any():
        return
    turns, shifts = turns[within], shifts[within]
    hits = _hits(near(pairs(cut), leg, one, max(one.side, one.end)), turns, shifts, one, whole)
    for part in (0.02, 0.5, 0.98):
        hits |= _inside(cut, turns, shifts, one, whole[0] * np.array([2 * part, 1.0]))
    if hits.any():
        at_share = float(share[within][int(hits.argmax())])
        raise HitError(f"rod too near what is left at {at_share:.5f} of the move to {leg.b}")


def _inside(shape: BaseGeometry, turns: Array, shifts: Array, one: Pin, at: Array) -> Flags:
    """Whether a point of the rod is in a shape: every millimetre, as no rod is in without crossing an edge first."""
    found = np.zeros(len(turns), dtype=bool)
    some = slice(None, None, 10)
    back = _backwards(one, turns[some], shifts[some], at)
    found[some] = shapely.contains_xy(shape, back[:, 0], back[:, 1])
    return found


def _hits(edges: Array, turns: Array, shifts: Array, one: Pin, box: tuple[Array, Array]) -> Flags:
    found = np.zeros(len(turns), dtype=bool)
    if not len(edges):
        return found
    straight = bool((turns == turns[0]).all())
    flat = edges.reshape(-1, 2)
    for k in range(0, len(turns), 2048):
        these = slice(k, k + 2048)
        if straight:
            moved = turned(flat, turns[:1]) + shifts[these, None, :]
        else:
            moved = turned(flat, turns[these]) + shifts[these, None, :]
        seen = one.seen(moved).reshape(-1, len(edges), 2, 2)
        found[these] = crossed(seen, *box).any(axis=1)
    return found


def _backwards(one: Pin, turns: Array, shifts: Array, seen: Array) -> Array:
    """Where a point of the rod lies in the section's plan at home, at each pose."""
    place = one.start + one.axis * seen[0] + np.array([-one.axis[1], one.axis[0]]) * seen[1]
    away = place - shifts
    c, s = np.cos(turns), np.sin(turns)
    return np.column_stack([c * away[:, 0] + s * away[:, 1], c * away[:, 1] - s * away[:, 0]])


def left_over(outline: Polygon, channels: Sequence[Channel]) -> BaseGeometry:
    """The section with its channels cut out, a millionth of a millimetre wider."""
    gone = [Polygon(c.plan).buffer(1e-6, join_style="mitre") for c in channels]
    return shapely.difference(outline, shapely.union_all(gone, grid_size=GRID), grid_size=GRID)


def swept(outline: Polygon, path: Sequence[Leg], one: Pin, room_for: float = 0.0) -> BaseGeometry:
    """What a rod needs cut, by hulls of its corners seen from the section at both ends of each (short) move."""
    needs = []
    for leg in path:
        still = leg.angles[0] == leg.angles[1]
        steps = 1 if still else math.ceil(leg.fastest(np.asarray(outline.exterior.coords)) / 0.5)
        turns, shifts = leg.at(np.linspace(0.0, 1.0, steps + 1))
        hulls = [
            list(_hulls(one.corners(one.side + room_for, past + room_for), turns, shifts))
            for past in (one.side, one.end)
        ]
        if shapely.intersection(shapely.union_all(hulls[0]), outline, grid_size=GRID).area > 1e-6:
            needs += hulls[1]
    return shapely.intersection(shapely.union_all(needs, grid_size=GRID), outline, grid_size=GRID)


def _hulls(corners: Array, turns: Array, shifts: Array) -> Iterator[BaseGeometry]:
    away = corners[None, :, :] - shifts[:, None, :]
    c, s = np.cos(turns)[:, None], np.sin(turns)[:, None]
    back = np.stack(
        [c * away[..., 0] + s * away[..., 1], c * away[..., 1] - s * away[..., 0]], axis=2
    )
    for a, b in pairwise(back):
        yield MultiPoint(np.vstack([a, b])).convex_hull


def filled(shape: BaseGeometry) -> BaseGeometry:
    """The shape without its holes and specks."""
    parts = [Polygon(p.exterior) for p in shapely.get_parts(shape) if isinstance(p, Polygon)]
    return shapely.union_all([p for p in parts if p.area > 1e-6], grid_size=GRID)


def replay(room: Room, frame: Frame, way: Way) -> None:
    """Walk the whole of a way that is said to go, or raise `HitError` with what was found."""
    outline = Polygon(frame.outline)
    path = legs(way.moves)
    ring = np.asarray(outline.buffer(-TOUCH - 1e-5, join_style="mitre").exterior.coords)
    still = shapely.union_all(things(room, frame), grid_size=GRID)
    cut = left_over(outline, way.channels)
    for prepared in (outline, cut):
        shapely.prepare(prepared)
    for leg in path:
        collisions(ring, leg, still)
        turning = leg.angles[0] != leg.angles[1]
        for rod in frame.rods:
            clearances(outline, cut, leg, pin(rod), 0.0001 if turning else NEAR)
    _starts_in_the_open(outline, path[0], frame)
    _room_is_whole(outline, path, way)
    _channels_are_exact(outline, path, frame, way)


def _starts_in_the_open(outline: Polygon, first: Leg, frame: Frame) -> None:
    turns, shifts = first.at(np.zeros(1))
    ring = turned(np.asarray(outline.exterior.coords), turns)[0] + shifts[0]
    for rod in frame.rods:
        if Polygon(pin(rod).corners(rod.clearance.side, 0.0)).intersects(Polygon(ring)):
            raise HitError(f"rod {rod.mark} is in the section before it starts")


def _room_is_whole(outline: Polygon, path: Sequence[Leg], way: Way) -> None:
    """Nothing of the section ever lies outside its home and the room said to be needed, to a millimetre."""
    said = shapely.union_all([outline, Polygon(way.room_needed)], grid_size=GRID).buffer(1.0)
    shapely.prepare(said)
    ring = np.asarray(outline.exterior.coords)
    for leg in path:
        turns, shifts = leg.at(np.linspace(0.0, 1.0, max(2, math.ceil(leg.fastest(ring) / 10))))
        sections = shapely.polygons(turned(ring, turns) + shifts[:, None, :])
        if not shapely.covers(said, sections).all():
            raise HitError(f"the section leaves the room said to be needed on the move to {leg.b}")


def _channels_are_exact(outline: Polygon, path: Sequence[Leg], frame: Frame, way: Way) -> None:
    """No channel wider than it must be: by more than a hair on straight moves, 0.05 mm with a turn."""
    turning = any(leg.angles[0] != leg.angles[1] for leg in path)
    for rod in frame.rods:
        made = shapely.union_all([Polygon(c.plan) for c in way.channels if c.rod == rod.id])
        want = filled(swept(outline, path, pin(rod), 0.05 if turning else 0.0))
        over = shapely.difference(made, want.buffer(1e-6), grid_size=GRID).area
        if over > 0.01:
            raise HitError(f"the channel of {rod.mark} is too large by {over:.4f} mm2")
