"""The search for a way over up to three straight moves between a finite set of stops.

The stops are a lattice on the two axes of the section (`Setting.axes`: into each wall along its rods, or
along the one wall): on each axis home, every stop of the classic ways, the places just in front of tips of
each length, and the places just beside each obstacle and return; and the corners of what obstacles forbid.
Every straight move between two stops is looked at, so that the directions are those of the rods, of the walls
and all aslant between stops. A way starts at a stop in front of all tips and out of an alcove.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from ledgewright import plane
from ledgewright.fitting import classic, cut, sweep
from ledgewright.fitting.pose import Pose
from ledgewright.fitting.setting import Setting, past_mouth, past_tip, room_to_pass
from ledgewright.fitting.space import Array, Flags, Space, corners, space
from ledgewright.fitting.trial import BY_HAND, SKEW
from ledgewright.plane import Point

AIR = 0.5
"""Kept beside an obstacle (mm): what a careful hand can hold."""

LENGTHS, BESIDE, SPOTS = 4, 6, 12
"""How many stops an axis has at most for tips, and for each side of obstacles; and how many corners are stops."""

APART = 1.0
"""Stops beside things nearer than this to one already taken are left out; a tenth of it near others (mm)."""

OFFERED = 6
"""How many of the best paths are worked out exactly before the search gives up."""

SHORTER = 1e-6
"""What a millimetre of way costs (mm2), so that of two paths that cut the same the shorter is taken."""

GRADES = (1e12, 1e11, 1e10)
"""What a path costs for a channel too wide, for a move held by eye, for starting on the other wall: more than
any area (mm2), each more than the next."""


@dataclass(frozen=True)
class Searched:
    """The best paths found, by their estimated cost, and how many possible moves were looked at."""

    plans: tuple[classic.Plan, ...]
    costs: tuple[float, ...]
    count: int


@dataclass(frozen=True)
class _Moves:
    """Straight moves between stops that meet nothing and break nothing out: ends by number, rods that they cut."""

    a: NDArray[np.int64]
    b: NDArray[np.int64]
    cuts: Flags

    def only(self, which: Flags) -> _Moves:
        """Return some of them."""
        return _Moves(self.a[which], self.b[which], self.cuts[which])

    def table(self, forth: Array, back: Array, n: int) -> Array:
        """Return figures of the moves, forth and back, as (from, to); infinite where there is none."""
        made = np.full((n, n), np.inf)
        made[self.a, self.b], made[self.b, self.a] = forth, back
        return made


def look(here: Setting, known: Sequence[classic.Plan], max_span: float | None = None) -> Searched:
    """Return the best paths of up to three straight moves, cheapest first.

    The cost is the area cut for rods, estimated as the sum over moves less what two moves share at a stop,
    with `GRADES` in front. It is exact on paths that never come back on themselves, but for a stop at which a rod
    reaches in by its end clearance alone: there it is too high.

    Args:
        here: the section in its room.
        known: the classic ways, whose stops belong to the lattice.
        max_span: the widest hollow a skin may bridge (mm).
    """
    allowed = space(here)
    stops = lattice(here, known)
    stops = stops[allowed.free(_points(stops)) | (np.arange(len(stops)) == 0)]
    open_ = starts(here, allowed, stops)
    moves = _moves(allowed, stops)
    grade = _grades(here, stops, moves, max_span)
    first = _other_first(here, stops) + np.where(open_, 0.0, np.inf)[:, None]
    leading = moves.only(_leading(moves, grade, first))
    inside = allowed.cuts(_points(stops))
    found = _best(_costs(here, stops, leading, grade, inside), first, _lengths(stops) * SHORTER)
    plans = tuple(planned(here, classic.shifts(*_places(stops[path]))) for _, path in found)
    return Searched(plans, tuple(cost for cost, _ in found), len(moves.a))


def planned(here: Setting, stops: tuple[Pose, ...]) -> classic.Plan:
    """Return a path between stops as a plan, each move told by the wall whose rods it follows.

    Args:
        here: the section in its room.
        stops: without a turn, home last.
    """
    notes = tuple(_note(here, a.shift, b.shift) for a, b in pairwise(stops))
    return classic.Plan("planned", "planned", stops, notes, here.axes)


def lattice(here: Setting, known: Sequence[classic.Plan]) -> Array:
    """Return the stops as shifts from home (n, 2), home first.

    Args:
        here: the section in its room.
        known: the classic ways.
    """
    classics = [_offs(here, pose.shift) for plan in known for pose in plan.stops]
    reach = 1.5 * max(max(abs(a), abs(b)) for a, b in classics) + 100.0
    spots = _spots(here, reach)
    axes = [
        _picked(
            [0.0, *(c[k] for c in classics), *_tips(here, k)],
            [s[k] + side for s in spots for side in (-AIR, AIR)],
        )
        for k in (0, 1)
    ]
    u, v = (np.array(a) for a in here.axes)
    grid = np.array([-a * u - b * v for a in axes[0] for b in axes[1]])
    extra = [-a * u - b * v for a, b in _beside(spots)]
    return np.array(list(dict.fromkeys(map(tuple, np.vstack([grid, *extra]).tolist()))))


def starts(here: Setting, allowed: Space, stops: Array) -> Flags:
    """Return which stops lie in the open: nothing met, in front of all tips, and out of an alcove."""
    points = _points(stops)
    clear = allowed.free(points) & ~allowed.cuts(points).any(axis=1)
    u = here.axes[0]
    mouth = past_mouth(here, here.outline, u)
    return np.asarray(clear & (-(stops @ np.array(u)) >= mouth - 1e-9))


def _places(stops: Array) -> list[Point]:
    return [(float(x), float(y)) for x, y in stops]


def _points(stops: Array) -> NDArray[np.object_]:
    return np.asarray(shapely.points(stops), dtype=object)


def _offs(here: Setting, shift: Point) -> Point:
    """A shift as travel off along both axes."""
    (a, b), (c, d) = here.axes
    det = a * d - b * c
    return ((c * shift[1] - d * shift[0]) / det, (b * shift[0] - a * shift[1]) / det)


def _tips(here: Setting, axis: int) -> list[float]:
    """How far off the section is in front of tips of each length of one wall."""
    if axis >= len(here.frame.legs):
        return []
    wall = here.frame.legs[axis].wall
    pins, into = here.rods(wall), here.axes[axis]
    lengths = sorted({round(past_tip(r, here.outline, into) + room_to_pass(pins), 1) for r in pins})
    step = max(1, -(-len(lengths) // LENGTHS))
    return lengths[::-1][::step]


def _spots(here: Setting, reach: float) -> list[Point]:
    """Corners of what obstacles and returns forbid, within reach of home, as travel off, the nearest first."""
    legs = {leg.wall for leg in here.frame.legs}
    rows = [
        _offs(here, (float(x), float(y)))
        for k, thing in enumerate(here.fixed)
        if thing.wall not in legs
        for x, y in corners(here, k)
    ]
    near = {(round(a, 6), round(b, 6)) for a, b in rows if max(abs(a), abs(b)) <= reach}
    # By figures that a mirror leaves alone, as far as that goes.
    return sorted(
        near, key=lambda s: (*sorted((round(abs(s[0]), 6), round(abs(s[1]), 6)))[::-1], s)
    )


def _beside(spots: Sequence[Point]) -> list[Point]:
    return [(a + i * AIR, b + j * AIR) for a, b in spots[:SPOTS] for i in (-1, 1) for j in (-1, 1)]


def _picked(first: Sequence[float], more: Sequence[float]) -> list[float]:
    """Figures that are apart, all of the first, and the nearest to home of the rest on either side.

    One of the rest near one of the first stays: of a classic stop and one beside an obstacle a hair away, it
    may be the one that clears it.
    """
    kept: list[float] = []
    for figure in first:
        if all(abs(figure - k) > APART / 10 for k in kept):
            kept.append(figure)
    for side in (-1, 1):
        beside: list[float] = []
        for figure in sorted((m for m in more if m * side > 0), key=abs):
            new = all(abs(figure - k) > APART / 10 for k in kept)
            if new and len(beside) < BESIDE and all(abs(figure - k) > APART for k in beside):
                beside.append(figure)
        kept += beside
    return kept


def _moves(allowed: Space, stops: Array) -> _Moves:
    """Every straight move between two stops that the walls, the obstacles and the section's edges allow."""
    a, b = np.triu_indices(len(stops), 1)
    lines = np.asarray(shapely.linestrings(np.stack([stops[a], stops[b]], axis=1)), dtype=object)
    usable = np.flatnonzero(allowed.free(lines))
    cuts = allowed.cuts(lines[usable])
    sound = ~(cuts & allowed.breaks(lines[usable])).any(axis=1)
    return _Moves(a[usable[sound]], b[usable[sound]], cuts[sound])


def _leading(moves: _Moves, grade: Array, first: Array) -> Flags:
    """Which moves lie on a path of up to three from the open to home that has the best grade of all.

    Grades count before area, so only these need their areas worked out.
    """
    home = np.where(np.arange(len(grade)) == 0, 0.0, np.inf)
    one_left = np.minimum(home, grade[:, 0])
    two_left = np.minimum(one_left, (grade + one_left[None, :]).min(axis=1))
    begun = grade + first
    one_done = begun.min(axis=0)
    two_done = (one_done[:, None] + grade).min(axis=0)
    whole = np.minimum.reduce(
        [
            begun + two_left[None, :],
            one_done[:, None] + grade + one_left[None, :],
            two_done[:, None] + grade + home[None, :],
        ]
    )
    keep = np.isfinite(whole) & (whole <= whole.min())
    return np.asarray(keep[moves.a, moves.b] | keep[moves.b, moves.a])


def _costs(here: Setting, stops: Array, moves: _Moves, grade: Array, inside: Flags) -> Array:
    """Grade and area of each move, less what it shares with the next at the stop where it ends."""
    area, shared = _areas(here, stops, moves, inside)
    table = moves.table(area - shared[moves.b], area - shared[moves.a], len(stops))
    return np.asarray(np.where(np.isfinite(table), table + grade, np.inf))


def _areas(here: Setting, stops: Array, moves: _Moves, inside: Flags) -> tuple[Array, Array]:
    """Area cut on each move, and area that rods cover in the section at each stop but home (mm2).

    Only rods that reach into the section at a stop (`inside`) count there: these are cut on both moves that meet at
    it. Without that a move that cuts nothing seemed to save what it never cost, and paths went back and forth for it.
    """
    area, shared = np.zeros(len(moves.a)), np.zeros(len(stops))
    shapely.prepare(here.outline)
    for k, rod in enumerate(here.frame.rods):
        body = cut.body(rod, rod.clearance.side, rod.clearance.end)
        ring = shapely.get_coordinates(body)[:4]
        hit = np.flatnonzero(moves.cuts[:, k])
        a, b = moves.a[hit], moves.b[hit]
        ends = np.concatenate([ring - stops[end][:, None, :] for end in (a, b)], axis=1)
        area[hit] += _inside(here, ends)
        at = np.union1d(a, b)
        touched = at[inside[at, k] & (at > 0)]
        shared[touched] += _inside(here, ring - stops[touched][:, None, :])
    return area, shared


def _inside(here: Setting, clouds: Array) -> Array:
    """Area within the outline of the hull of each cloud of points (clouds, points, 2)."""
    hulls = sweep.hulls(clouds)
    return np.asarray(shapely.area(shapely.intersection(hulls, here.outline)))


def _grades(here: Setting, stops: Array, moves: _Moves, max_span: float | None) -> Array:
    """What each move costs for being held by eye, or for a channel wider than a skin may span, as (from, to)."""
    step = stops[moves.b] - stops[moves.a]
    size = np.linalg.norm(step, axis=1)
    ways = np.array([here.into(leg.wall) for leg in here.frame.legs])
    steered = np.abs(step @ ways.T).max(axis=1) >= np.cos(SKEW) * size
    by_eye = moves.cuts.any(axis=1) & ~steered & (size > BY_HAND)
    axes = np.array([plane.unit((r.axis[0], r.axis[1])) for r in here.frame.rods]).reshape(-1, 2)
    bare = np.array([r.bar.width + 2 * r.clearance.side for r in here.frame.rods])
    across = np.abs(step[:, 0, None] * axes[:, 1] - step[:, 1, None] * axes[:, 0]) + bare
    most = np.inf if max_span is None else max_span
    wide = (across * moves.cuts).max(axis=1, initial=0.0) > most
    grade = GRADES[0] * wide + GRADES[1] * by_eye
    return moves.table(grade, grade, len(stops))


def _lengths(stops: Array) -> Array:
    return np.asarray(np.linalg.norm(stops[:, None, :] - stops[None, :, :], axis=2))


def _best(cost: Array, first: Array, tie: Array) -> list[tuple[float, list[int]]]:
    """The cheapest paths as stop numbers, home last; one for each number of moves and each last stop."""
    begun = cost + first + tie
    start, one_done = begun.argmin(axis=0), begun.min(axis=0)
    on = one_done[:, None] + cost + tie
    middle, two_done = on.argmin(axis=0), on.min(axis=0)
    last = cost[:, 0] + tie[:, 0]
    n = len(cost)
    found = [
        (float(one_done[0]), [int(start[0]), 0]),
        *((float(one_done[k] + last[k]), [int(start[k]), k, 0]) for k in range(1, n)),
        *(
            (float(two_done[k] + last[k]), [int(start[middle[k]]), int(middle[k]), k, 0])
            for k in range(1, n)
        ),
    ]
    through = [(c, p) for c, p in found if np.isfinite(c) and 0 not in p[:-1]]
    return sorted(through)[:OFFERED]


def _other_first(here: Setting, stops: Array) -> Array:
    """What it costs to start along the rods of another wall than the one they are set for, as (from, to)."""
    step = stops[None, :, :] - stops[:, None, :]
    size = np.linalg.norm(step, axis=2)
    walls = [leg.wall for leg in here.frame.legs]
    along = np.stack([step @ np.array(here.into(w)) for w in walls])
    near = along.argmax(axis=0)
    other = np.array([w != here.frame.first for w in walls])[near]
    return np.asarray(GRADES[2] * (other & (along.max(axis=0) >= np.cos(SKEW) * size) & (size > 0)))


def _note(here: Setting, a: Point, b: Point) -> str:
    step = plane.sub(b, a)
    size = plane.length(step)
    home = ": home" if b == (0.0, 0.0) else ""
    for leg in here.frame.legs:
        if plane.dot(step, here.into(leg.wall)) >= np.cos(SKEW) * size:
            return f"in along the rods of {leg.wall}{home}"
        if plane.dot(step, here.into(leg.wall)) <= -np.cos(SKEW) * size:
            return f"back off {leg.wall}{home}"
    return f"across, held by eye or against blocks{home}"
