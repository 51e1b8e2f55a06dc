"""Evidence decides whether a wall may be drilled.

Source: common practice. Framed, opened or probed at that height may drill; a scan or a drawing
earns a probing sheet only; not knowing earns nothing.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from ledgewright import plane
from ledgewright.layout import Frame, Rod, beside
from ledgewright.shop import Part
from ledgewright.site.guide import SQUARE, lean
from ledgewright.site.model import Drill, Hole, Leave, Withheld
from ledgewright.survey import MARKED_SD, Member, Room, Wall

MAY_DRILL = {
    "framed it": "framed by the one who says so",
    "opened it": "opened and seen",
    "probed it": "both edges and the depth probed",
}


def leave(room: Room, frame: Frame) -> tuple[Leave, ...]:
    """Say for each wall that carries rods whether it may be drilled, and if so where.

    Args:
        room: the walls with what is known of them.
        frame: the shelf with its rods.

    Returns:
        One `Drill` or `Withheld` per wall with rods, in wall order.
    """
    walls = [wall for wall in room.walls if any(rod.wall == wall.id for rod in frame.rods)]
    return tuple(_wall(room, wall, frame) for wall in walls)


def withheld(frame: Frame, leaves: Iterable[Leave]) -> frozenset[str]:
    """Return the walls of a shelf that nobody may drill: withheld, or with rods and no leave at all.

    Of these nothing may be told that says where a hole or a rod is, or lets it be worked out.

    Args:
        frame: the shelf with its rods.
        leaves: what was found for its walls.
    """
    may = {each.wall for each in leaves if isinstance(each, Drill)}
    return frozenset({rod.wall for rod in frame.rods} - may)


def hidden(part: Part, frame: Frame, held: frozenset[str]) -> bool:
    """Say whether the sizes of a part are withheld with the walls of its shelf that nobody may drill.

    Core pieces lie between the slots of all walls; a rod's length says how deep its hole is.

    Args:
        part: of the shelf.
        frame: the shelf with its rods.
        held: its withheld walls.
    """
    if part.kind == "core":
        return bool(held)
    shown = {rod.mark for rod in frame.rods if rod.wall not in held}
    return part.kind == "rod" and bool(held) and not (part.pieces and set(part.pieces) <= shown)


PROBED_NEAR = 100.0
"""A wall probed further than this above or below the holes was not probed there (mm; our choice)."""


def _wall(room: Room, wall: Wall, frame: Frame) -> Leave:
    heights = [rod.origin[2] for rod in frame.rods if rod.wall == wall.id]
    questions = (*open_questions(wall), *_elsewhere(wall, heights))
    if questions:
        return Withheld(wall=wall.id, questions=questions)
    rods = [rod for rod in frame.rods if rod.wall == wall.id]
    return Drill(
        wall=wall.id,
        evidence=_evidence(wall),
        direction=_direction(room, wall, rods[0]),
        holes=tuple(_hole(wall, rod) for rod in rods),
    )


def open_questions(wall: Wall) -> tuple[str, ...]:
    """Return what must be answered before this wall may be drilled; empty if it may be.

    Args:
        wall: one wall with its evidence.

    Returns:
        Questions in plain words, in the order a carpenter would ask them.
    """
    known = wall.known
    asked: list[str] = []
    if wall.framing in ("masonry", "metal"):
        asked.append(
            f"This wall is {wall.framing}: rods bonded into wood framing are not for it. "
            "Think of an end panel or leg, a plate or cleat, or opening it and adding blocking."
        )
    if wall.framing == "unknown":
        asked.append("What is the wall framed with: wood, metal or masonry?")
    if known.how not in MAY_DRILL:
        asked.append(
            "Who has seen the framing at shelf height? A scan or a drawing is not enough: open a strip, or "
            "probe both edges of each stud and the depth inside the band the shelf will hide."
        )
    if wall.framing == "wood" and wall.timber is None:
        asked.append("What size and kind of stud is it? Read the stamp.")
    if wall.depth_to_wood is None:
        asked.append("How deep is it from the face to the wood, at each stud?")
    if known.bearing != "no" and not known.engineer:
        asked.append(
            'Does this wall carry load from above? "Don\'t know" counts as yes, and a bearing stud '
            "needs the acceptance of a named engineer before it is bored."
        )
    elif known.bearing != "no" and known.engineer_stale:
        asked.append(
            f"The rods were changed after {known.engineer} accepted holes in this bearing wall: does that word hold "
            "for them as they are now?"
        )
    if known.services is None:
        asked.append("Which cables, pipes and ducts run behind this wall at shelf height?")
    if known.fire == "yes" and not known.fire_stop:
        asked.append(
            "The lining has to keep fire or sound: who says how each hole is closed? Probing proves nothing of it."
        )
    return tuple(asked)


def _elsewhere(wall: Wall, heights: Iterable[float]) -> tuple[str, ...]:
    """Probing shows the wood where it was probed; a wall that was opened or framed shows it all the way up."""
    known = wall.known
    if known.how != "probed it" or known.up is None:
        return ()
    if all(abs(known.up - up) <= PROBED_NEAR for up in heights):
        return ()
    asked = (
        "The wall was probed at another height than this shelf's holes: probe both edges of each stud, and the "
        "depth, inside the band the shelf will hide."
    )
    return (asked,)


def _evidence(wall: Wall) -> str:
    how = MAY_DRILL[wall.known.how]
    seen = f" on {wall.known.on.isoformat()}" if wall.known.on else ""
    who = f" by {wall.known.by}" if wall.known.by else ""
    photo = f", photo {wall.known.photo}" if wall.known.photo else ""
    return f"{how}{who}{seen}{photo}"


def _direction(room: Room, wall: Wall, rod: Rod) -> str:
    """The lean is told as the guide of the wall tells it; each section of a corner is a frame of its own."""
    off = lean(wall, rod)
    if abs(off) < SQUARE:
        return f"Square to the straight ledger on wall {wall.called}, not to the bowed board."
    side = "right" if off > 0 else "left"
    return (
        f"{_along(room, wall, rod)}the tips lean {abs(math.degrees(off)):.2f} degrees to the {side} "
        f"of square as you face wall {wall.called}."
    )


def _along(room: Room, wall: Wall, rod: Rod) -> str:
    axis = (rod.axis[0], rod.axis[1])
    for other in room.walls:
        if other.id != wall.id and abs(plane.cross(axis, other.outward)) < 1e-6:
            return f"Square to the ledger on wall {other.called}, not to its own: "
        if other.id != wall.id and abs(plane.cross(axis, other.direction)) < 1e-6:
            return f"Parallel to the ledger on wall {other.called}: "
    return "Not square to its ledger: "


def _hole(wall: Wall, rod: Rod) -> Hole:
    member = _member(wall, rod)
    edges = sorted((wall.taped(member.left), wall.taped(member.right)))
    at = wall.taped(wall.figures(rod.point(rod.free))[0])
    wood = beside(wall, member, rod)
    return Hole(
        rod=rod.id,
        mark=rod.mark,
        member=rod.member,
        taped=at,
        edges=(edges[0], edges[1]),
        up=rod.origin[2],
        bit=rod.hole,
        depth_in_wood=rod.embedment,
        depth_from_face=rod.embedment + rod.free,
        stick_out=rod.projection,
        cut_length=rod.cut_length,
        edge=min(near for near in (wood.side, wood.below, wood.above) if near is not None),
        edge_sd=math.hypot(member.sd, MARKED_SD),
        block=member.up if member.kind == "blocking" else None,
    )


def _member(wall: Wall, rod: Rod) -> Member:
    return next(member for member in wall.members if member.id == rod.member)
