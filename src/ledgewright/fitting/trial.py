"""A planned way tried: what it meets, what it cuts, the room it needs."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations, pairwise

from shapely.geometry import Polygon

from ledgewright import plane
from ledgewright.fitting import cut, joint, sweep
from ledgewright.fitting.classic import Plan
from ledgewright.fitting.fixed import CONTACT, overlap
from ledgewright.fitting.model import Block, Channel, Eased, Loss, Move, Thin, Way
from ledgewright.fitting.pose import Pose, turning_point
from ledgewright.fitting.setting import Setting, behind
from ledgewright.layout import Rod
from ledgewright.plane import Point, Ring

SOUND_WOOD = 10.0
"""Less wood than this behind the edging, outside a channel, is worth a word (mm): our choice."""

BY_HAND = 12.7
"""A move no longer than this needs nothing to guide it (mm): 1/2 in, our choice."""

SLIVER = 1.0
"""A strip of the room needed that is narrower than this and hangs on to nothing is left out (mm)."""

SKEW = math.radians(3)
"""A move this near the direction of rods is guided by them: their slots' sides steer it (our choice)."""


def tried(here: Setting, plan: Plan) -> Way:
    """Return a planned way with all that stands in its way, what it cuts and the room it needs."""
    runs = sweep.swept_along(here.outline, plan.stops)
    cuts = {r.id: _cuts(here, r, plan.stops) for r in here.frame.rods}
    blocks, eased = _met(here, plan, runs)
    met = _home_taken(here, plan) or [
        *blocks,
        *(b for rod in here.frame.rods if (b := _broken_out(here, rod, cuts[rod.id]))),
    ]
    found = _channels(here, cuts)
    scribe = here.scribing
    return Way(
        id=plan.id,
        kind=plan.kind,
        possible=not met,
        moves=_moves(plan),
        hold_off=plan.hold_off,
        channels=found,
        room_needed=_room_needed(here, runs),
        loss=_loss(here, found),
        blocked=tuple(met),
        thin=_thin(here, found),
        guided=_guided(here, plan, cuts),
        merged=cut.merged(here.frame, found),
        between=cut.between(here.frame, found),
        scribe_hold_off=scribe.hold_off,
        slot_longer=scribe.slot_longer,
        notes=(*plan.remarks, *here.lift.notes, *scribe.notes),
        eased=() if met else eased,
    )


def _cuts(here: Setting, rod: Rod, stops: Sequence[Pose]) -> list[sweep.Shape]:
    return [cut.move_sweep(rod, here.outline, a, b) for a, b in pairwise(stops)]


def _channels(here: Setting, cuts: dict[str, list[sweep.Shape]]) -> tuple[Channel, ...]:
    found = [
        c for r in here.frame.rods for c in cut.cut_by(r, sweep.union(cuts[r.id]), here.outline)
    ]
    return cut.eased(here.frame, found)


def _moves(plan: Plan) -> tuple[Move, ...]:
    return tuple(
        Move(*plane.sub(b.shift, a.shift), b.turn - a.turn, note, turning_point(a, b))
        for (a, b), note in zip(pairwise(plan.stops), plan.notes, strict=True)
    )


def _guided(here: Setting, plan: Plan, cuts: dict[str, list[sweep.Shape]]) -> bool:
    for k, (a, b) in enumerate(pairwise(plan.stops)):
        step = plane.sub(b.shift, a.shift)
        touches = any(not run[k].is_empty for run in cuts.values())
        if a.turn != b.turn or (touches and not _steered(here, step)):
            return False
    return True


def _steered(here: Setting, step: Point) -> bool:
    size = plane.length(step)
    if size <= BY_HAND:
        return True
    ways = [here.into(leg.wall) for leg in here.frame.legs]
    return max(abs(plane.dot(step, u)) / size for u in ways) >= math.cos(SKEW)


def _home_taken(here: Setting, plan: Plan) -> list[Block]:
    deep = [(f.said, overlap(here.outline, f, plan.give)) for f in here.fixed]
    return [
        *(Block(f"the shelf's home is taken by {name}", 0, d) for name, d in deep if d > 0),
        *_crossed(here),
        *here.lift.blocks,
    ]


def _crossed(here: Setting) -> list[Block]:
    """Rods of one section stand at one height, so two that cross in the plan run into each other."""
    bodies = [(r, cut.body(r, 0.0, 0.0)) for r in here.frame.rods]
    return [
        Block(f"rods {a.mark} and {b.mark} run into each other", 0, _apart(a, one, two))
        for (a, one), (b, two) in combinations(bodies, 2)
        if sweep.overlaps(one, two)
    ]


def _apart(rod: Rod, one: Polygon, two: Polygon) -> float:
    """How much shorter the first rod would have to be to stay out of the second."""
    return sweep.travel_to_clear(one, two, plane.unit((rod.axis[0], rod.axis[1])))


def _met(
    here: Setting, plan: Plan, runs: Sequence[sweep.Shape]
) -> tuple[list[Block], tuple[Eased, ...]]:
    """One block for each thing that is met, at the first move that meets it, with the worst overlap; joints to ease."""
    blocks, eased = [], []
    for thing in here.fixed:
        deep = [overlap(run, thing, plan.give) for run in runs]
        if max(deep) == 0:
            continue
        taken = joint.rubbed(here, thing, plan.stops)
        if taken is not None:
            eased.append(taken)
            continue
        first = next(i for i, d in enumerate(deep, start=1) if d > 0)
        blocks.append(Block(by=thing.said, move=first, short_by=max(deep)))
    return blocks, tuple(eased)


def _broken_out(here: Setting, rod: Rod, cuts: Sequence[sweep.Shape]) -> Block | None:
    """The block of a slot that leaves the section anywhere but through the back edge of its own wall."""
    may = here.slots_may(rod.wall)
    out = [
        0.0 if may.covers(run) else _farthest(sweep.less(run, may), here.outline) for run in cuts
    ]
    if max(out) <= CONTACT:
        return None
    first = next(i for i, d in enumerate(out, start=1) if d > CONTACT)
    return Block(f"the slot of rod {rod.mark} breaks out of the section", first, max(out))


def _farthest(stray: sweep.Shape, outline: Polygon) -> float:
    ends = [outline.distance(p) for p in sweep.points(stray)]
    return max(ends, default=0.0)


def _thin(here: Setting, found: Sequence[Channel]) -> tuple[Thin, ...]:
    walls = {r.id: r.wall for r in here.frame.rods}
    edges = {
        leg.wall: here.outline.boundary.difference(behind(leg).buffer(0.1))
        for leg in here.frame.legs
    }
    left = [(c.rod, Polygon(c.plan).distance(edges[walls[c.rod]])) for c in found]
    return tuple(Thin(rod, d) for rod, d in left if d < here.edging + SOUND_WOOD)


def _loss(here: Setting, found: Sequence[Channel]) -> Loss:
    rods = {r.id: r for r in here.frame.rods}
    across = []
    for channel in found:
        axis = rods[channel.rod].axis
        low, high = sweep.extent(Polygon(channel.plan), plane.left(plane.unit((axis[0], axis[1]))))
        across.append(high - low)
    area = sweep.union(Polygon(c.plan) for c in found).area
    return Loss(channel_area=area, widest=max(across, default=0.0))


def _room_needed(here: Setting, runs: Sequence[sweep.Shape]) -> Ring:
    """One ring: what is swept in front of home, or with home, where that alone falls apart."""
    whole = sweep.union(runs)
    in_front = sweep.parts(sweep.less(whole, here.outline))
    wide = [part for part in in_front if not part.buffer(-SLIVER / 2).is_empty]
    if len(wide) > 1:
        wide = sweep.parts(sweep.union([whole, here.outline]))
    return sweep.as_ring(wide[0]) if wide else ()
