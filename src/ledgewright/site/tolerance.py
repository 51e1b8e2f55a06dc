"""How far each rod may stand off from where it is drawn so that all rods together still go on, and what eats that."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from ledgewright import plane, statics
from ledgewright.fitting import Way
from ledgewright.job import Basis, Order, Spec
from ledgewright.layout import BESIDE, Frame, LegAt, Rod
from ledgewright.statics import FROM_END
from ledgewright.survey import Member, Room

SHORT = 3.175
"""No rod is left shorter out of the wall than drawn by more than this (mm, 1/8 in; our choice): it would go on."""


LESS = 6.35
"""No rod is left with less of it in the wood than drawn by more than this (mm, 1/4 in; our choice)."""

HAIR = 0.005
"""Taken off each bound, for what a skew adds in the second order (mm)."""


@dataclass(frozen=True)
class Allowed:
    """How far one rod may be off (mm), every figure at once and every other rod as well.

    side: left or right of where it is drawn, at the face and at the tip alike. up: higher or lower, at the face and at
    the tip alike. out: further out of the wall; short: less far out, which the fitting would let pass. eats: what
    leaves no more, for side, up and out.
    """

    rod: str
    mark: str
    side: float
    up: float
    out: float
    eats: tuple[str, str, str]
    short: float = SHORT

    @property
    def lean(self) -> float:
        """How far the tip may be aside of the face's own error, if all of both is spent: left-right (mm)."""
        return 2 * self.side

    @property
    def nose(self) -> float:
        """How far the tip may be above or below the face's own error, if all of both is spent: nose up-down (mm)."""
        return 2 * self.up


def allowed(
    room: Room, frame: Frame, way: Way | None, *, spec: Spec, basis: Basis, order: Order
) -> tuple[Allowed, ...]:
    """Return how far each rod of a section may be off so that any rods within these bounds go on together.

    Up and down: half the play of the slot, since the slots lie in one plane as thick as bar and play, and rods that
    use all of it in turn leave that plane no way to give (two of them, at mouth and tip, hold it: Radon 1921).
    Aside: all the way in the hole keeps the wood that the check of its edge asks for (`statics.edge_keeps`), so that a
    rod within its bounds is never refused for that; where the slots are cut from the drawing, the slot's side
    play at its mouth and at its tip as well; in rods first the channels follow the rods, as far as the edging lets
    them. Out: the end clearance of a slot cut from the drawing, less what a rod askew takes of it; in rods first until
    the slot meets the edging; in every order no more than `LESS` is lost in the wood.

    Args:
        room: the walls, with the edges of their members.
        frame: the section with its rods as drawn.
        way: the chosen way; None where no way goes: then nothing is allowed in the plan.
        spec: the shelf: its edging, and what an engineer has accepted of it.
        basis: of the design.
        order: building order.

    Returns:
        One row per rod, in the order of the frame.

    Limits: the section hangs where it is drawn, scribed to its walls; rigid.
    """
    keeps = statics.edge_keeps(room, frame, spec, basis)
    return tuple(
        _allowed(room, frame, rod, way, spec.edging_thick, order, keeps.get(rod.id))
        for rod in frame.rods
    )


Keeps = tuple[float, float]
"""How far a rod stays from the loaded and from the other edge of its member (mm)."""


def _allowed(
    room: Room,
    frame: Frame,
    rod: Rod,
    way: Way | None,
    edging: float,
    order: Order,
    keeps: Keeps | None,
) -> Allowed:
    member = next(m for m in room.wall(rod.wall).members if m.id == rod.member)
    bounds = [_in_wood(room, member, rod, keeps)]
    if order == "rods first":
        bounds.append(_beside_edging(frame, rod, way, edging))
    else:
        bounds.append(_in_slot(frame, rod))
    side, eaten = min(bounds)
    side = max(0.0, side) if way is not None else 0.0
    out, eats_out = min(
        _longer(room, frame, rod, side, edging, order), _out_of_wood(room, rod, side)
    )
    up, eats_up = min(_high(member, rod, keeps))
    return Allowed(
        rod=rod.id,
        mark=rod.mark,
        side=max(0.0, side - HAIR),
        up=max(0.0, up),
        out=max(0.0, out - HAIR),
        eats=(eaten, eats_up, eats_out),
    )


def _in_wood(room: Room, member: Member, rod: Rod, keeps: Keeps | None) -> tuple[float, str]:
    """The most aside, at face and tip alike, that leaves wood beside the hole where it enters and at its end.

    The end of the hole swings the other way from the tip: aside (1 + k) at the face and k at the tip, k being its depth
    behind the face over the stick-out.
    """
    wall, bounds = room.wall(rod.wall), []
    skew = abs(plane.dot((rod.axis[0], rod.axis[1]), wall.direction))
    for depth in (0.0, rod.embedment):
        along, _ = wall.figures(rod.point(-depth))
        if member.kind == "blocking":
            least = FROM_END * max(rod.bar.width, rod.bar.height)
        else:
            least = max(keeps) if keeps else rod.hole / 2 + BESIDE
        wood = min(along - member.left, member.right - along) - least
        wood -= skew * SHORT
        k = (rod.free + depth + SHORT) / (rod.projection - SHORT)
        bounds.append(wood / (1 + 2 * k))
    eats = "the end of the blocking" if member.kind == "blocking" else "wood beside the hole"
    return min(bounds), eats


def _high(member: Member, rod: Rod, keeps: Keeps | None) -> list[tuple[float, str]]:
    """The most up or down: the play of the slot; in blocking also the wood above and below the hole."""
    bounds = [(rod.clearance.up / 2, "the slot's play up and down")]
    if member.kind == "blocking" and member.up is not None:
        z = rod.origin[2]
        k = (rod.free + rod.embedment + SHORT) / (rod.projection - SHORT)
        below, above = keeps or (rod.hole / 2 + BESIDE,) * 2
        wood = min(z - member.up[0] - below, member.up[1] - z - above)
        bounds.append((wood / (1 + 2 * k), "wood above or below the hole"))
    return bounds


def _in_slot(frame: Frame, rod: Rod) -> tuple[float, str]:
    """The most aside, at face and tip alike, in a slot that is cut from the drawing."""
    slot = next(s for s in frame.slots if s.rod == rod.id)
    mouth = rod.free + rod.projection + rod.clearance.end - slot.depth
    behind = max(0.0, rod.free - mouth) / rod.projection
    play, half = rod.clearance.side, rod.bar.width / 2
    # Askew, a bar is wider across by 1/cos of its lean, which the bound itself sets.
    lean = min(0.5, 2 * play / (rod.projection - SHORT))
    return (
        (play - half * (1 / math.sqrt(1 - lean**2) - 1)) / (1 + 2 * behind),
        "the slot's side play",
    )


def _beside_edging(frame: Frame, rod: Rod, way: Way | None, edging: float) -> tuple[float, str]:
    """The most aside before a channel that follows the rod would come out of an end."""
    told = "the edging beside its slot"
    if way is None:
        return 0.0, told
    edges = _edges(frame, rod.wall)
    room = min(
        (Polygon(c.plan).distance(edges) - edging for c in way.channels if c.rod == rod.id),
        default=0.0,
    )
    path = sum(math.hypot(m.dx, m.dy) for m in way.moves)
    return room / (1 + 2 * path / rod.projection), told


def _longer(
    room: Room, frame: Frame, rod: Rod, side: float, edging: float, order: Order
) -> tuple[float, str]:
    """The most further out; a rod as far askew as is allowed reaches further with a corner of its tip."""
    wall = room.wall(rod.wall)
    skew = plane.dot((rod.axis[0], rod.axis[1]), wall.direction)
    if order == "rods first":
        leg = next(leg for leg in frame.legs if leg.wall == rod.wall)
        front = min(wall.figures(p)[1] for p in leg.front)
        deep = front - edging - wall.figures(rod.point(rod.free))[1]
        half = rod.bar.width / 2 + rod.clearance.side
        out = min(
            _reach(deep, rod.clearance.end, half, skew, s, rod.projection) for s in (-side, side)
        )
        return out - rod.projection, "the edging in front of its slot"
    end = rod.projection + rod.clearance.end
    out = _reach(end, 0.0, rod.bar.width / 2, 0.0, side, rod.projection)
    return out - side * abs(skew) - rod.projection, "the end clearance of the slot"


def _out_of_wood(room: Room, rod: Rod, side: float) -> tuple[float, str]:
    """The most further out before too little is left in the wood; askew, more of it lies in the lining."""
    skew = abs(plane.dot((rod.axis[0], rod.axis[1]), room.wall(rod.wall).direction))
    lean = min(0.5, skew + 2 * side / rod.projection)
    lining = rod.free * (math.sqrt((1 - skew**2) / (1 - lean**2)) - 1)
    return LESS - lining, "its depth in the wood"


def _reach(deep: float, past: float, half: float, skew: float, side: float, start: float) -> float:
    """The longest rod whose foremost corner stays within a depth, leaning by twice `side` over its length.

    deep: from the face, square to what must not be met. past: kept in front of the tip. half: of what is `past` wide.
    skew: how far it leans as drawn (sine). start: a length to begin from.
    """
    out = start
    for _ in range(6):
        lean = max(-0.5, min(0.5, skew + 2 * side / out))
        out = (deep - half * abs(lean)) / math.sqrt(1 - lean**2) - past
    return out


def _edges(frame: Frame, wall: str) -> BaseGeometry:
    """All edges of a section but the back edge of a wall's own leg."""
    leg: LegAt = next(leg for leg in frame.legs if leg.wall == wall)
    back = LineString(leg.back).buffer(0.05, cap_style="flat")
    return Polygon(frame.outline).boundary.difference(back)
