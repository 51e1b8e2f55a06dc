"""A move in words of the walls and the ends of the shelf."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ledgewright import plane
from ledgewright.fitting import Move
from ledgewright.plane import Point
from ledgewright.sheets.say import Say
from ledgewright.survey import Wall
from ledgewright.units import show_angle

_SKEW = math.radians(3)
ASLANT, NOWHERE = "aslant", "no distance"


def told(move: Move, walls: Sequence[Wall], say: Say, *, off: bool = False) -> str:
    """Return where a move goes and how it turns, in words of the walls.

    Args:
        move: one move.
        walls: the walls to name, the one it goes onto first before the others.
        say: how the job writes; a move aslant is told by how far it goes in and to the side.
        off: whether it is on the way back off.
    """
    where = direction(move, walls)
    if where == ASLANT:
        where = f"{ASLANT}, {both(move, walls[0], say)}"
    if move.turn and where == NOWHERE:
        return turned(move.turn, off=off)
    return ", ".join(filter(None, (where, turned(move.turn, off=off))))


def both(move: Move, wall: Wall, say: Say) -> str:
    """Return how far a move goes in to a wall or off it, and to which side, as one faces it.

    Args:
        move: one move.
        wall: the wall.
        say: how the job writes.
    """
    step = (move.dx, move.dy)
    off, along = plane.dot(step, wall.outward), plane.dot(step, wall.direction)
    way = "off" if off > 0 else "in to"
    side = "right" if along > 0 else "left"
    return f"{say.length(abs(off))} {way} wall {wall.mark} while {say.length(abs(along))} to the {side}"


def direction(move: Move, walls: Sequence[Wall]) -> str:
    """Return the way a move goes in words of the walls, as one faces them.

    Args:
        move: one move; its turn is not looked at.
        walls: the walls to name, the one it goes onto first before the others.

    Returns:
        The nearest of into, off, and along a wall, if within 3 degrees; else "aslant". Of two as near
        the earlier wall is named.
    """
    size = math.hypot(move.dx, move.dy)
    if size < 1e-9:
        return NOWHERE
    way = (move.dx / size, move.dy / size)
    named = [(round(plane.dot(way, v), 5), words) for wall in walls for v, words in _ways(wall)]
    near, words = max(named, key=lambda pair: pair[0])
    return words if near > math.cos(_SKEW) else ASLANT


def _ways(wall: Wall) -> tuple[tuple[Point, str], ...]:
    return (
        (plane.scale(wall.outward, -1), f"straight in to wall {wall.mark}"),
        (wall.outward, f"straight off wall {wall.mark}"),
        (wall.direction, f"to the right along wall {wall.mark}"),
        (plane.scale(wall.direction, -1), f"to the left along wall {wall.mark}"),
    )


def turned(turn: float, *, off: bool = False) -> str:
    """Return a turn seen from above in words of the ends, as one faces the wall; nothing for none.

    Args:
        turn: to the left (rad): then the right end goes towards the wall, or the left one away from it.
        off: whether it is on the way back off: then the end that swings goes out.
    """
    if abs(turn) < 1e-9:
        return ""
    if off:
        turn = -turn
    end = "right" if turn > 0 else "left"
    return f"the {end} end swings {'out' if off else 'in'}, {show_angle(abs(turn))}"
