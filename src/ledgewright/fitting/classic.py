"""The classic ways: one wall then the other, the reverse, the diagonal, straight in, in along a return or a joint."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ledgewright import plane
from ledgewright.fitting import sweep
from ledgewright.fitting.fixed import Fixed, overlap
from ledgewright.fitting.model import WayKind
from ledgewright.fitting.pose import Pose
from ledgewright.fitting.setting import Setting, aside, hold_off, past_tips, room_to_pass, steepest
from ledgewright.plane import Point


@dataclass(frozen=True)
class Plan:
    """A way before it is tried: where the section stops, nearest to the open room first, home last.

    give: unit vectors along which one would look for more room past an obstacle. remarks: what else to say of it.
    """

    id: str
    kind: WayKind
    stops: tuple[Pose, ...]
    notes: tuple[str, ...]
    give: tuple[Point, ...]
    hold_off: float = 0.0
    remarks: tuple[str, ...] = ()


def plans(here: Setting) -> list[Plan]:
    """Return the classic ways for a section of one leg, or of two round a corner of either turn."""
    legs = here.frame.legs
    if len(legs) == 1:
        return _straight(here, legs[0].wall)
    left, right = legs[0].wall, legs[1].wall
    return [
        _first(here, left, right, "first-left"),
        _first(here, right, left, "first-right"),
        _diagonal(here, left, right),
    ]


def shifts(*stops: Point) -> tuple[Pose, ...]:
    """Return stops without a turn."""
    return tuple(Pose(s) for s in stops)


def _straight(here: Setting, wall: str) -> list[Plan]:
    """Straight in along the rods; and, where a return or the other section leans in the way, in along its face."""
    into = here.into(wall)
    far = past_tips(here, here.outline, wall, into)
    give = (here.axes[1],)

    def plan(name: str, start: Point, note: str) -> Plan:
        path = shifts(plane.scale(start, -far), (0.0, 0.0))
        return Plan(name, "straight", path, (note,), give)

    plain = plan("straight", into, "straight in along the rods")
    run = sweep.swept(here.outline, plane.scale(into, -far))
    hit = [f for f in here.fixed if _leans(here, wall, f) and overlap(run, f, give)]
    drift = _drift(here, hit, into)
    if drift == (0.0, 0.0):
        return [plain]
    if all(thing.section for thing in hit):
        return [
            plain,
            plan("straight-joint", plane.add(into, drift), "in along the face of the joint"),
        ]
    note = "in along the line of the leaning return, touching at the last"
    return [plain, plan("straight-aslant", plane.add(into, drift), note)]


def _leans(here: Setting, wall: str, thing: Fixed) -> bool:
    """Whether a thing has a face that a straight section can slide along: a return, or the other section."""
    return thing.wall not in (None, wall) or (thing.section and here.joint is not None)


def _drift(here: Setting, hit: Sequence[Fixed], into: Point) -> Point:
    """How far to drift, for each mm of way in, to keep off the faces that lean into a straight way."""
    total = (0.0, 0.0)
    for thing in hit:
        face, towards = _face(here, thing)
        sideways = plane.sub(towards, plane.scale(into, plane.dot(towards, into)))
        if plane.length(sideways) > 0.5:
            across = plane.unit(sideways)
            total = plane.add(total, plane.scale(across, max(0.0, steepest(face, into, across))))
    return total


def _face(here: Setting, thing: Fixed) -> tuple[Sequence[Point], Point]:
    """The face of a return, or the section's own face at a joint; and the direction towards what is behind it."""
    if thing.wall is not None:
        face = here.room.wall(thing.wall)
        return [face.at(*p) for p in face.line], plane.scale(face.outward, -1.0)
    left = here.frame.legs[0].left_end == "joint"
    return here.joint or (), plane.scale(here.axes[1], -1.0 if left else 1.0)


def _first(here: Setting, wall: str, other: str, kind: WayKind) -> Plan:
    """In along the rods of one wall, shifted off the other; slide onto the other; close the hold-off."""
    u, v = here.into(wall), here.into(other)
    shift = aside(here, other, u)
    shifted = sweep.moved(here.outline, plane.scale(v, -shift))
    far = past_tips(here, shifted, wall, u)
    slide = sweep.swept(shifted, plane.scale(v, shift))
    hold = hold_off(here, wall, slide, u) if shift else 0.0
    ease = hold * max(0.0, steepest(here.leg(other).back, u, v))

    def stop(off_other: float, off_wall: float) -> Point:
        return plane.add(plane.scale(v, -off_other), plane.scale(u, -off_wall))

    far = max(far, hold + room_to_pass(here.rods(wall)))
    stops = [stop(shift, far), stop(shift, hold), stop(ease, hold), (0.0, 0.0)]
    notes: tuple[str, ...] = (
        f"in along the rods of {wall}, held off",
        f"slide along {wall} onto the rods of {other}",
        f"the hold-off to {wall}: home",
    )
    if not shift:
        stops, notes = [stops[0], (0.0, 0.0)], (f"straight in along the rods of {wall}",)
    return Plan(f"first-{wall}", kind, shifts(*stops), notes, (v,), hold)


def _diagonal(here: Setting, left: str, right: str) -> Plan:
    """One move from the corner of the box of both stick-outs: the least area a diagonal can cut.

    Reference notes on survey and motion, section 3: (mouth A - d)(mouth B - d) = lA lB for every slope.
    """
    u, v = here.into(left), here.into(right)
    start = plane.add(plane.scale(v, -aside(here, right, u)), plane.scale(u, -aside(here, left, v)))
    note = "into the corner, onto all rods at once"
    return Plan("diagonal", "diagonal", shifts(start, (0.0, 0.0)), (note,), (u, v))
