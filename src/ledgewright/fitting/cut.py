"""The channel each rod needs in the section on a path of moves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations, pairwise

import numpy as np
from shapely.geometry import Polygon

from ledgewright import plane
from ledgewright.fitting import sweep
from ledgewright.fitting.model import Between, Channel, Merged, Move
from ledgewright.fitting.pose import CHORD, Pose, poses, steps, turning_point
from ledgewright.fitting.sweep import Shape
from ledgewright.layout import Frame, Rod
from ledgewright.plane import Point

FUNNEL = 3.175
"""The least both corners of a slot's mouth are eased, at 45 degrees: 1/8 in, common practice."""


def stops(moves: Sequence[Move]) -> tuple[Point, ...]:
    """Return where the section stands before each move and at home, as shifts from home (mm).

    Args:
        moves: straight moves in the order they are made; the last ends at home, (0, 0).

    Raises:
        ValueError: if a move turns the section.
    """
    if any(m.turn for m in moves):
        msg = "only on straight moves is a place a shift alone"
        raise ValueError(msg)
    return tuple(pose.shift for pose in poses(moves))


def channels(frame: Frame, moves: Sequence[Move]) -> tuple[Channel, ...]:
    """Return what the moves cut for each rod, in the plan of the section at home, in the order of the rods.

    In the section's frame a rod runs the path backwards, so on one straight move it covers the hull of
    its rectangle at both ends (Minkowski sum, de Berg et al. ch. 13). The rectangle is the rod widened by
    the side clearance and lengthened by the end clearance. A move on which the rod with its side
    clearance all round keeps clear of the section cuts nothing. Exact for straight moves; on a turn too
    large by no more than 0.05 mm, never too small.

    Args:
        frame: the section at home with its rods, of any direction in the plan; of a rod that also leans
            up or down, its plan.
        moves: moves ending at home.

    Returns:
        One channel per connected part; as a rule one per rod. Areas in mm2.
    """
    outline = Polygon(frame.outline)
    path = poses(moves)
    found: list[Channel] = []
    for rod in frame.rods:
        runs = [move_sweep(rod, outline, a, b) for a, b in pairwise(path)]
        found += cut_by(rod, sweep.union(runs), outline)
    return eased(frame, found)


def cut_by(rod: Rod, run: Shape, outline: Polygon) -> list[Channel]:
    """Return the channels of one rod from all that it covers in the section's frame."""
    return [_channel(rod, part) for part in sweep.parts(sweep.meet(run, outline))]


def eased(frame: Frame, found: Sequence[Channel]) -> tuple[Channel, ...]:
    """Return channels with their funnels, so that a rod set a little off still finds its slot.

    Twice the side clearance, at least 1/8 in, but never more than half of what is left beside it.
    """
    beside = between(frame, found)
    side = {r.id: r.clearance.side for r in frame.rods}

    def funnel(rod: str) -> float:
        return min([max(FUNNEL, 2 * side[rod]), *(b.left / 2 for b in beside if rod in b.rods)])

    return tuple(replace(c, funnel=funnel(c.rod)) for c in found)


def between(frame: Frame, found: Sequence[Channel]) -> tuple[Between, ...]:
    """Return what is left between the channels of neighbours on each wall, left to right."""
    whole = _by_rod(found)
    pairs = [(a.id, b.id) for a, b in pairwise(frame.rods) if a.wall == b.wall]
    return tuple(
        Between((a, b), float(whole[a].distance(whole[b])))
        for a, b in pairs
        if a in whole and b in whole
    )


def merged(frame: Frame, found: Sequence[Channel]) -> tuple[Merged, ...]:
    """Return the groups of channels that run into one another, also round a corner."""
    whole = _by_rod(found)
    groups = [{name} for name in (r.id for r in frame.rods) if name in whole]
    for a, b in combinations(whole, 2):
        if sweep.overlaps(whole[a], whole[b]):
            one = next(g for g in groups if a in g)
            other = next(g for g in groups if b in g)
            if one is not other:
                one |= other
                groups.remove(other)
    return tuple(_merged(frame, group, whole) for group in groups if len(group) > 1)


def move_sweep(rod: Rod, outline: Polygon, a: Pose, b: Pose) -> Shape:
    """Return what a rod covers in the section's frame on one move; nothing if it keeps clear of the section."""
    near = _run(body(rod, rod.clearance.side, rod.clearance.side), a, b)
    if not sweep.overlaps(outline, near):
        return sweep.union([])
    return _run(body(rod, rod.clearance.side, rod.clearance.end), a, b)


def body(rod: Rod, side: float, past: float) -> Polygon:
    """Return a rod in the plan from the wood to its tip, widened by `side` each side, longer by `past`."""
    axis = plane.unit((rod.axis[0], rod.axis[1]))
    across = plane.left(axis)
    half = rod.bar.width / 2 + side
    start = rod.point(0.0)
    tip = plane.along(rod.point(rod.free + rod.projection), axis, past)
    corners = ((start, -1), (tip, -1), (tip, 1), (start, 1))
    return Polygon([plane.along(p, across, s * half) for p, s in corners])


def _run(rod: Polygon, a: Pose, b: Pose) -> Shape:
    ring = [(float(x), float(y)) for x, y in rod.exterior.coords[:-1]]
    if a.turn == b.turn:
        return Polygon(plane.hull([pose.back(p) for p in ring for pose in (a, b)]))
    about = turning_point(a, b)
    reach = max(plane.length(plane.sub(plane.sub(p, about), s.shift)) for p in ring for s in (a, b))
    size = max(plane.length(plane.sub(p, q)) for p in ring for q in ring)
    clouds = [[pose.back(p) for p in ring for pose in ends] for ends in steps(a, b, reach, size)]
    hulls = sweep.hulls(np.array(clouds))
    return sweep.as_shape(sweep.union(hulls).buffer(CHORD, join_style="mitre"))


def _by_rod(found: Sequence[Channel]) -> dict[str, Shape]:
    plans: dict[str, list[Polygon]] = {}
    for channel in found:
        plans.setdefault(channel.rod, []).append(Polygon(channel.plan))
    return {rod: sweep.union(of) if len(of) > 1 else of[0] for rod, of in plans.items()}


def _merged(frame: Frame, group: set[str], whole: dict[str, Shape]) -> Merged:
    plan = sweep.parts(sweep.union(whole[name] for name in group))[0]
    rods = tuple(r.id for r in frame.rods if r.id in group)
    return Merged(rods, sweep.as_ring(plan), float(plan.area))


def _channel(rod: Rod, part: Polygon) -> Channel:
    whole = Polygon(part.exterior)
    return Channel(rod=rod.id, plan=sweep.as_ring(whole), area=whole.area)
