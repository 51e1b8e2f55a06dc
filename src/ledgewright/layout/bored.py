"""Rods at the centres of their members, and the slots they end in."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from ledgewright import plane
from ledgewright.job import AsSet, RodSpec, Spec
from ledgewright.layout.legs import Run
from ledgewright.layout.model import LayoutError, Rod, Slot
from ledgewright.plane import Point
from ledgewright.survey import Member, Wall


def rods(legs: Sequence[Run], spec: Spec, lead: Wall) -> tuple[Rod, ...]:
    """Return the rods of a shelf in wall order, from left to right.

    Each is bored at the centre of its member on the wood: the axis passes there through the plane of
    the wood, which lies parallel to the reference line, so far behind the true face at that centre as was
    measured at this member, or else as the wall's `depth_to_wood` says. A rod that is not square to its wall
    therefore leaves the finished face a little to one side of the member's centre; `Rod.point(rod.free)` is the
    mark to make on the face. The face is taken as level across that little offset. In height the axis is at
    the middle of the core. A rod that was read after the cure stands as it was read.

    Args:
        legs: the runs of the shelf.
        spec: the shelf.
        lead: the wall whose rods stand square to its reference line; those of another wall are parallel to
            that line, pointing out of their own.

    Raises:
        LayoutError: a rod on another wall, in no member, outside its leg, twice in a member, or above or
            below a member that does not run that far.
    """
    _all_on_legs(legs, spec)
    axes = [r.wall.outward if r.wall.id == lead.id else _parallel(r, lead) for r in legs]
    return tuple(
        rod for run, axis in zip(legs, axes, strict=True) for rod in _on_leg(run, spec, axis)
    )


def slot(legs: Sequence[Run], straight_back: bool, rod: Rod, back: float) -> Slot:
    """Return the slot of a rod with the shelf at home: a rectangle along its axis.

    It starts where both its sides are behind the shelf's back edge, and ends `end` past the tip.

    Args:
        legs: the runs of the shelf.
        straight_back: whether the back edge is straight, at `back`, or follows the true face.
        rod: the rod.
        back: out of a straight back edge on the rod's wall (mm).
    """
    run = next(r for r in legs if r.wall.id == rod.wall)
    half = rod.bar.width / 2 + rod.clearance.side
    tip = rod.free + rod.projection + rod.clearance.end
    flat = back if straight_back else None
    mouth = min(_crossing(run, rod, side, flat) for side in (-half, half))
    axis = (rod.axis[0], rod.axis[1])
    across = plane.scale(plane.left(axis), half)
    a, b = rod.point(mouth), rod.point(tip)
    corners = (
        plane.sub(a, across),
        plane.sub(b, across),
        plane.add(b, across),
        plane.add(a, across),
    )
    return Slot(rod.id, plane.ccw(corners), tip - _crossing(run, rod, 0.0, flat), 2 * half)


def _all_on_legs(legs: Sequence[Run], spec: Spec) -> None:
    walls = {run.wall.id for run in legs}
    seen: set[tuple[str, str]] = set()
    for rod in spec.rods:
        if rod.wall not in walls:
            msg = f"A rod of shelf {spec.id} is asked for on wall {rod.wall}, where it has no leg."
            raise LayoutError(msg)
        if (rod.wall, rod.member) in seen:
            msg = f"Member {rod.member} has two rods of shelf {spec.id}; one member carries one."
            raise LayoutError(msg)
        seen.add((rod.wall, rod.member))


def _parallel(run: Run, lead: Wall) -> Point:
    """The lead wall's reference direction, the way round that comes out of this wall."""
    along = lead.direction
    return along if plane.dot(along, run.wall.outward) > 0 else (0.0 - along[0], 0.0 - along[1])


def _on_leg(run: Run, spec: Spec, axis: Point) -> tuple[Rod, ...]:
    asked = [(_member(run, spec, r), r) for r in spec.rods if r.wall == run.wall.id]
    asked.sort(key=lambda pair: pair[0].centre + pair[1].aside)
    number = _numbers(run, spec)
    return tuple(_rod(run, spec, axis, m, r, number[m.id]) for m, r in asked)


def _numbers(run: Run, spec: Spec) -> dict[str, int]:
    """Number the members that carry the shelf on this wall from the hook of its tape, over all its sections.

    Shelves further up in the file have the first numbers: no two rods on one wall bear the same.
    """
    every = spec.section.rods if spec.section else ((r.wall, r.member) for r in spec.rods)
    own = {member for wall, member in every if wall == run.wall.id}
    carry = sorted(
        (m for m in run.wall.members if m.id in own), key=lambda m: run.wall.taped(m.centre)
    )
    first = 1 + dict(spec.before).get(run.wall.id, 0)
    return {m.id: k for k, m in enumerate(carry, first)}


def _member(run: Run, spec: Spec, asked: RodSpec) -> Member:
    member = next((m for m in run.wall.members if m.id == asked.member), None)
    if member is None:
        msg = f"Wall {run.wall.called} has no member {asked.member} for a rod of shelf {spec.id}."
        raise LayoutError(msg)
    if not run.start < member.centre + asked.aside < run.end:
        msg = f"The rod in {member.id} is outside the leg of shelf {spec.id} on wall {run.wall.called}."
        raise LayoutError(msg)
    if member.up is not None and not member.up[0] < _height(spec) < member.up[1]:
        msg = f"Member {member.id} does not reach the height of the rods of shelf {spec.id}."
        raise LayoutError(msg)
    return member


def _height(spec: Spec) -> float:
    return spec.top - spec.skin_top.thick - spec.core.thick / 2


def _rod(run: Run, spec: Spec, axis: Point, member: Member, asked: RodSpec, number: int) -> Rod:
    wall = run.wall
    depth = wall.to_wood(member)
    along = member.centre + asked.aside
    x, y = wall.at(along, wall.face(along) - depth)
    drawn = Rod(
        id=member.id,
        mark=f"{wall.mark}{number}",
        wall=wall.id,
        member=member.id,
        bar=asked.bar,
        origin=(x, y, _height(spec)),
        axis=(axis[0], axis[1], 0.0),
        embedment=asked.embedment,
        free=depth / plane.dot(axis, wall.outward),
        projection=asked.projection,
        hole=asked.hole,
        adhesive=asked.adhesive,
        clearance=asked.clearance,
        in_slot=asked.in_slot,
    )
    return drawn if asked.as_set is None else _as_set(wall, drawn, asked.as_set)


def _as_set(wall: Wall, drawn: Rod, read: AsSet) -> Rod:
    """The rod through two read points of its axis: where it leaves the face, and its tip, `out` further on.

    Its stick-out is as read, and what is missing of its length is in the wood.
    """
    (along, up), (tip, tip_up) = read.wall, read.tip
    aside, rise = tip - along, tip_up - up
    ahead = math.sqrt(read.out**2 - aside**2 - rise**2)
    course = plane.along(plane.scale(wall.direction, aside), wall.outward, ahead)
    axis = (course[0] / read.out, course[1] / read.out, rise / read.out)
    depth = drawn.free * plane.dot((drawn.axis[0], drawn.axis[1]), wall.outward)
    free = depth * read.out / ahead
    x, y = plane.along(wall.at(along, wall.face(along)), (axis[0], axis[1]), -free)
    return replace(
        drawn,
        origin=(x, y, up - axis[2] * free),
        axis=axis,
        embedment=drawn.cut_length - free - read.out,
        free=free,
        projection=read.out,
    )


def _crossing(run: Run, rod: Rod, aside: float, flat: float | None) -> float:
    """How far from the wood a line beside the rod's axis crosses the shelf's back edge.

    Fixed point on the face at the crossing; each round shrinks the error by skew times slope of
    the face (below 0.001), so four leave nothing.
    """
    axis = (rod.axis[0], rod.axis[1])
    start = plane.along((rod.origin[0], rod.origin[1]), plane.left(axis), aside)
    along, out = run.wall.figures(start)
    d_along, d_out = plane.dot(axis, run.wall.direction), plane.dot(axis, run.wall.outward)
    far = rod.free
    for _ in range(4):
        edge = run.wall.face(along + d_along * far) if flat is None else flat
        far = (edge - out) / d_out
    return far
