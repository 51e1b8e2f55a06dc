"""The fitting order: one picture for each move, what to do, and the way back off."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ledgewright import plane
from ledgewright.fitting import Block, Move, Way
from ledgewright.judge import Design
from ledgewright.plan import Plan
from ledgewright.plane import Point
from ledgewright.sheets.cover import people
from ledgewright.sheets.model import FittingSheet, MoveStep, Note, Picture
from ledgewright.sheets.say import Say
from ledgewright.survey import Wall

_SKEW = math.radians(3)


def fitting_sheet(plan: Plan, design: Design, pictures: tuple[Picture | None, ...]) -> FittingSheet:
    """Return how one shelf goes onto its rods and comes off again.

    Args:
        plan: the whole job.
        design: the shelf.
        pictures: one for each move of the chosen way.
    """
    say, way = Say.of(plan.job.meta), design.way
    return FittingSheet(
        title="Fitting order",
        about=f"shelf {design.spec.id}, {people(design).lower()}",
        unit=say.unit,
        before=_before(way, say) if way else (),
        moves=_moves(design, way, pictures, say) if way else (),
        after=_after(plan, design, say) if way else _blocked(design, say),
    )


def direction(move: Move, walls: Sequence[Wall]) -> str:
    """Return the way a move goes in words of the walls, as one faces them.

    Args:
        move: one straight move.
        walls: the walls to name, the one it goes onto first before the others.

    Returns:
        The nearest of into, off, and along a wall, if within 3 degrees; else "aslant". Of two as near
        the earlier wall is named.
    """
    size = math.hypot(move.dx, move.dy)
    if size < 1e-9:
        return "no distance"
    way = (move.dx / size, move.dy / size)
    named = [(round(plane.dot(way, v), 5), words) for wall in walls for v, words in _ways(wall)]
    near, words = max(named, key=lambda pair: pair[0])
    return words if near > math.cos(_SKEW) else "aslant"


def _ways(wall: Wall) -> tuple[tuple[Point, str], ...]:
    return (
        (plane.scale(wall.outward, -1), f"straight in to wall {wall.mark}"),
        (wall.outward, f"straight off wall {wall.mark}"),
        (wall.direction, f"to the right along wall {wall.mark}"),
        (plane.scale(wall.direction, -1), f"to the left along wall {wall.mark}"),
    )


def carrying(design: Design) -> tuple[Wall, ...]:
    """Return the walls that carry the shelf, the one it goes onto first before the other."""
    walls = [design.room.wall(leg.wall) for leg in design.frame.legs]
    return tuple(sorted(walls, key=lambda w: w.id != design.frame.first))


def _moves(
    design: Design, way: Way, pictures: tuple[Picture | None, ...], say: Say
) -> tuple[MoveStep, ...]:
    count = len(way.moves)
    return tuple(
        MoveStep(
            picture=pictures[k] if k < len(pictures) else None,
            name=f"Move {k + 1} of {count}",
            far=say.length(math.hypot(move.dx, move.dy)),
            line=_line(move, carrying(design)),
        )
        for k, move in enumerate(way.moves)
    )


def _line(move: Move, walls: Sequence[Wall]) -> str:
    told = direction(move, walls)
    return f"{told[:1].upper()}{told[1:]}: {move.note}." if move.note else f"{told.capitalize()}."


def _before(way: Way, say: Say) -> tuple[str, ...]:
    hold = (
        (f"Hold-off blocks of {say.length(way.hold_off)} taped to the wall it slides along.",)
        if way.hold_off > 0
        else ()
    )
    return (
        "Every slot run dry with a piece of the bar; dust blown out; mouths eased.",
        *hold,
        "The floor and the air in front of the shelf clear over the whole room it needs.",
    )


def _after(plan: Plan, design: Design, say: Say) -> tuple[Note, ...]:
    lock = design.spec.lock
    held = [r.mark for r in design.frame.rods if r.id in lock.rods]
    at = f" at {' and '.join(held)}" if held else ""
    kept = (
        "Nothing is planned to keep it on. Plan one."
        if lock.kind == "none"
        else f"{lock.kind}{at}."
    )
    two = people(design) == "Two people"
    return (
        Note(
            "Who holds what",
            (
                "One at each end, both with a hand under the front edge; only one calls the moves."
                if two
                else "One person, both hands under the front edge, feet set before the lift.",
                "Nobody stands under it, and nobody lets go before the lock is in.",
            ),
        ),
        Note("Lock", (kept[:1].upper() + kept[1:],)),
        Note(
            "The way back off",
            ("Clear it, take the lock out, then the same moves in reverse, last move first.",),
        ),
    )


def _blocked(design: Design, say: Say) -> tuple[Note, ...]:
    tried = [
        Note(way.id, tuple(_stops(b, say) for b in way.blocked))
        for way in design.ways.ways
        if way.blocked
    ]
    return (Note("No way was found", ("Nothing is built before one is open.",)), *tried)


def _stops(block: Block, say: Say) -> str:
    return f"Move {block.move}: {block.by}, short by {say.length(block.short_by)}."
