"""Ways to bring a rigid section home past rods, walls and obstacles by straight moves, the best first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from shapely.geometry import Polygon

from ledgewright import plane
from ledgewright.fitting import cut, sweep
from ledgewright.fitting.fixed import CONTACT, Fixed, fixed_things, overlap
from ledgewright.fitting.model import Block, Channel, Loss, Move, Thin, Way, WayKind, Ways
from ledgewright.layout import Frame, LegAt, Rod
from ledgewright.plane import Point
from ledgewright.survey import Room

ROOM_TO_PASS = 6.35
"""Least air between a rod's tip and the back edge that is carried past it: 1/4 in, common practice."""

LEAST_HOLD_OFF = 1.5875
"""Air kept, beyond the bow, from a wall that a scribed edge slides along: 1/16 in, common practice."""

SOUND_WOOD = 10.0
"""Less wood than this behind the edging, outside a channel, is worth a word (mm): our choice."""

FAR = 1e4
"""Longer than any room (mm)."""


@dataclass(frozen=True)
class _Setting:
    room: Room
    frame: Frame
    outline: Polygon
    fixed: tuple[Fixed, ...]
    edging: float

    def leg(self, wall: str) -> LegAt:
        return next(leg for leg in self.frame.legs if leg.wall == wall)

    def rods(self, wall: str) -> tuple[Rod, ...]:
        return tuple(r for r in self.frame.rods if r.wall == wall)

    def into(self, wall: str) -> Point:
        """Unit vector into a wall along its rods, or square to its string where it has none."""
        axes = [(r.axis[0], r.axis[1]) for r in self.rods(wall)]
        total = (sum(a[0] for a in axes), sum(a[1] for a in axes))
        return plane.scale(plane.unit(total) if axes else self.room.wall(wall).outward, -1.0)


@dataclass(frozen=True)
class _Plan:
    """A way before it is tried: where the section stops, nearest to the open room first.

    give: unit vectors along which one would look for more room past an obstacle.
    """

    id: str
    kind: WayKind
    stops: tuple[Point, ...]
    notes: tuple[str, ...]
    give: tuple[Point, ...]
    hold_off: float = 0.0


def ways(room: Room, frame: Frame, *, edging: float = 0.0) -> Ways:
    """Return the classic ways of getting a section home, tried against walls, obstacles and its own edges.

    Ranked: those that fit, which includes that no slot breaks out of the section; those that the rods
    guide before the diagonal, which is held by eye; the one that starts on `frame.first`, as the rods are
    set for it; the least area cut for rods; the least room needed; then by id.

    Args:
        room: the room as found.
        frame: the section at home.
        edging: thickness of the edging (mm), so that thin wood behind it can be told.

    Returns:
        Every way looked at, best first; `chosen` is None if none goes. One section along one wall or
        round one inside corner; anything else is one way that is not possible, and says so.
    """
    refusal = _beyond(room, frame)
    if refusal is not None:
        return Ways((refusal,), None)
    setting = _setting(room, frame, edging)
    tried = [_tried(setting, plan) for plan in _plans(setting)]
    ranked = sorted(tried, key=lambda way: _rank(frame, way))
    return Ways(tuple(ranked), ranked[0].id if ranked[0].possible else None)


def _rank(frame: Frame, way: Way) -> tuple[bool, bool, bool, float, float, str]:
    wide = round(Polygon(way.room_needed).area, 3) if way.room_needed else 0.0
    by_eye = way.kind == "diagonal"
    other_first = way.kind.startswith("first") and way.id != f"first-{frame.first}"
    return (
        not way.possible,
        by_eye,
        other_first,
        round(way.loss.channel_area, 3),
        wide,
        way.id,
    )


def _setting(room: Room, frame: Frame, edging: float) -> _Setting:
    fixed = fixed_things(room, low=frame.top - frame.thick, high=frame.top)
    return _Setting(room, frame, Polygon(frame.outline), fixed, edging)


def _beyond(room: Room, frame: Frame) -> Way | None:
    """Return the refusal of a section that this planner does not know."""
    walls = tuple(leg.wall for leg in frame.legs)
    outside = any(c.turn == "outside" and {c.left, c.right} <= set(walls) for c in room.corners)
    if len(walls) < 3 and not outside:
        return None
    why = "an outside corner" if outside else "more than two legs in one section"
    block = Block(by=f"{why} is not worked out yet", move=0, short_by=0.0)
    return Way("straight", "straight", False, (), 0.0, (), (), Loss(0.0, 0.0), (block,))


def _plans(setting: _Setting) -> list[_Plan]:
    legs = setting.frame.legs
    if len(legs) == 1:
        return _straight(setting, legs[0].wall)
    left, right = legs[0].wall, legs[1].wall
    return [
        _first(setting, left, right, "first-left"),
        _first(setting, right, left, "first-right"),
        _diagonal(setting, left, right),
    ]


def _straight(setting: _Setting, wall: str) -> list[_Plan]:
    """Straight in along the rods; and, where a return leans in the way, in along its line."""
    into = setting.into(wall)
    far = _past_tips(setting, setting.outline, wall, into)
    give = (plane.unit(plane.sub(*setting.leg(wall).front)),)

    def plan(name: str, start: Point, note: str) -> _Plan:
        return _Plan(name, "straight", (plane.scale(start, -far), (0.0, 0.0)), (note,), give)

    plain = plan("straight", into, "straight in along the rods")
    drift = _drift(setting, wall, into, far)
    if drift == (0.0, 0.0):
        return [plain]
    note = "in along the line of the leaning return, touching at the last"
    return [plain, plan("straight-aslant", plane.add(into, drift), note)]


def _drift(setting: _Setting, wall: str, into: Point, far: float) -> Point:
    """How far to drift, for each mm of way in, to keep off the returns that lean into a straight way."""
    run = sweep.swept(setting.outline, plane.scale(into, -far))
    total = (0.0, 0.0)
    for thing in setting.fixed:
        if thing.wall in (None, wall) or not overlap(run, thing, ()):
            continue
        face = setting.room.wall(thing.wall or "")
        towards = plane.scale(face.outward, -1.0)
        sideways = plane.sub(towards, plane.scale(into, plane.dot(towards, into)))
        if plane.length(sideways) > 0.5:
            across = plane.unit(sideways)
            slope = _steepest([face.at(*p) for p in face.line], into, across)
            total = plane.add(total, plane.scale(across, max(0.0, slope)))
    return total


def _steepest(line: Sequence[Point], u: Point, v: Point) -> float:
    """The steepest rise along v for each mm along u, of a line that is no return on itself."""
    rises = []
    for a, b in pairwise(line):
        step = plane.sub(b, a)
        du, dv = plane.dot(step, u), plane.dot(step, v)
        if abs(du) > 1e-6:
            rises.append(dv / du)
    return max(rises, default=0.0)


def _past_tips(setting: _Setting, outline: sweep.Shape, wall: str, into: Point) -> float:
    """How far the section must stand off to be in front of all tips of a wall, with room to pass."""
    reach = [
        sweep.travel_to_clear(outline, cut.body(r, r.clearance.side, 0.0), into)
        for r in setting.rods(wall)
    ]
    return max([0.0, *reach]) + _room_to_pass(setting.rods(wall))


def _room_to_pass(rods: Sequence[Rod]) -> float:
    return max([ROOM_TO_PASS, *(r.clearance.side + 1.0 for r in rods)])


def _aside(setting: _Setting, wall: str, along: Point) -> float:
    """How far to shift off a wall so that its tips pass its back edge while the section moves `along`."""
    rods, into = setting.rods(wall), setting.into(wall)
    if not rods:
        return 0.0
    lanes = [sweep.swept(cut.body(r, 0.0, 0.0), plane.scale(along, FAR)) for r in rods]
    shift = max(sweep.travel_to_clear(setting.outline, lane, into) for lane in lanes)
    return max(shift, 0.0) + _room_to_pass(rods)


def _first(setting: _Setting, wall: str, other: str, kind: WayKind) -> _Plan:
    """In along the rods of one wall, shifted off the other; slide onto the other; close the hold-off."""
    u, v = setting.into(wall), setting.into(other)
    aside = _aside(setting, other, u)
    shifted = sweep.moved(setting.outline, plane.scale(v, -aside))
    far = _past_tips(setting, shifted, wall, u)
    hold = (
        _hold_off(setting, wall, sweep.swept(shifted, plane.scale(v, aside)), u) if aside else 0.0
    )
    ease = hold * max(0.0, _steepest(setting.leg(other).back, u, v))

    def stop(off_other: float, off_wall: float) -> Point:
        return plane.add(plane.scale(v, -off_other), plane.scale(u, -off_wall))

    stops = [stop(aside, max(far, hold)), stop(aside, hold), stop(ease, hold), (0.0, 0.0)]
    notes: tuple[str, ...] = (
        f"in along the rods of {wall}, held off",
        f"slide along {wall} onto the rods of {other}",
        f"the hold-off to {wall}: home",
    )
    if not aside:
        stops, notes = [stops[0], (0.0, 0.0)], (f"straight in along the rods of {wall}",)
    return _Plan(f"first-{wall}", kind, tuple(stops), notes, (v,), hold)


def _hold_off(setting: _Setting, wall: str, slide: sweep.Shape, u: Point) -> float:
    """Least gap at which the whole slide clears the true wall, and the margin.

    The greatest difference of two polylines lies at a corner of one of them: exact.
    """
    body = next(f.shape for f in setting.fixed if f.wall == wall)
    return max(0.0, sweep.travel_to_clear(slide, body, u)) + LEAST_HOLD_OFF


def _diagonal(setting: _Setting, left: str, right: str) -> _Plan:
    """One move from the corner of the box of both stick-outs: the least area a diagonal can cut.

    Reference notes on survey and motion, section 3: (mouth A - d)(mouth B - d) = lA lB for every slope.
    """
    u, v = setting.into(left), setting.into(right)
    start = plane.add(
        plane.scale(v, -_aside(setting, right, u)), plane.scale(u, -_aside(setting, left, v))
    )
    note = "into the corner, onto all rods at once"
    return _Plan("diagonal", "diagonal", (start, (0.0, 0.0)), (note,), (u, v))


def _tried(setting: _Setting, plan: _Plan) -> Way:
    runs = sweep.swept_along(setting.outline, plan.stops)
    taken = _home_taken(setting, plan)
    met = taken or [
        *_met(setting, plan, runs),
        *(b for rod in setting.frame.rods if (b := _broken_out(setting, rod, plan.stops))),
    ]
    moves = _moves(plan)
    found = cut.channels(setting.frame, moves)
    return Way(
        id=plan.id,
        kind=plan.kind,
        possible=not met,
        moves=moves,
        hold_off=plan.hold_off,
        channels=found,
        room_needed=_room_needed(setting, runs),
        loss=_loss(setting, found),
        blocked=tuple(met),
        thin=_thin(setting, found),
    )


def _moves(plan: _Plan) -> tuple[Move, ...]:
    steps = [plane.sub(b, a) for a, b in pairwise(plan.stops)]
    return tuple(
        Move(dx=d[0], dy=d[1], turn=0.0, note=n) for d, n in zip(steps, plan.notes, strict=True)
    )


def _home_taken(setting: _Setting, plan: _Plan) -> list[Block]:
    deep = [(f.said, overlap(setting.outline, f, plan.give)) for f in setting.fixed]
    return [
        Block(by=f"the shelf's home is taken by {name}", move=0, short_by=d)
        for name, d in deep
        if d > 0
    ]


def _met(setting: _Setting, plan: _Plan, runs: Sequence[sweep.Shape]) -> list[Block]:
    """One block for each thing that is met, at the first move that meets it, with the worst overlap."""
    blocks = []
    for thing in setting.fixed:
        deep = [overlap(run, thing, plan.give) for run in runs]
        if max(deep) > 0:
            first = next(i for i, d in enumerate(deep, start=1) if d > 0)
            blocks.append(Block(by=thing.said, move=first, short_by=max(deep)))
    return blocks


def _broken_out(setting: _Setting, rod: Rod, stops: Sequence[Point]) -> Block | None:
    """The block of a slot that leaves the section anywhere but through the back edge of its own wall."""
    behind = _behind(setting.leg(rod.wall))
    out = []
    for a, b in pairwise(stops):
        run = cut.move_sweep(rod, setting.outline, a, b)
        stray = sweep.as_shape(sweep.less(sweep.less(run, setting.outline), behind))
        out.append(_farthest(stray, setting.outline))
    if max(out) <= CONTACT:
        return None
    first = next(i for i, d in enumerate(out, start=1) if d > CONTACT)
    return Block(f"the slot of rod {rod.mark} breaks out of the section", first, max(out))


def _farthest(stray: sweep.Shape, outline: Polygon) -> float:
    ends = [outline.distance(p) for p in sweep.points(stray)]
    return max(ends, default=0.0)


def _behind(leg: LegAt) -> Polygon:
    """All that lies behind the back line of a leg, which is carried on level past both ends."""
    along = plane.unit(plane.sub(leg.front[1], leg.front[0]))
    first, last = plane.along(leg.back[0], along, -FAR), plane.along(leg.back[-1], along, FAR)
    deep = plane.scale(plane.left(along), FAR)
    return Polygon([first, *leg.back, last, plane.add(last, deep), plane.add(first, deep)])


def _thin(setting: _Setting, found: Sequence[Channel]) -> tuple[Thin, ...]:
    walls = {r.id: r.wall for r in setting.frame.rods}
    edges = {
        leg.wall: setting.outline.boundary.difference(_behind(leg).buffer(0.1))
        for leg in setting.frame.legs
    }
    left = [(c.rod, Polygon(c.plan).distance(edges[walls[c.rod]])) for c in found]
    return tuple(Thin(rod, d) for rod, d in left if d < setting.edging + SOUND_WOOD)


def _loss(setting: _Setting, found: Sequence[Channel]) -> Loss:
    rods = {r.id: r for r in setting.frame.rods}
    across = []
    for channel in found:
        axis = rods[channel.rod].axis
        low, high = sweep.extent(Polygon(channel.plan), plane.left(plane.unit((axis[0], axis[1]))))
        across.append(high - low)
    area = sweep.union(Polygon(c.plan) for c in found).area
    return Loss(channel_area=area, widest=max(across, default=0.0))


def _room_needed(setting: _Setting, runs: Sequence[sweep.Shape]) -> plane.Ring:
    in_front = sweep.parts(sweep.less(sweep.union(runs), setting.outline))
    return sweep.as_ring(in_front[0]) if in_front else ()
