"""A move in words of the walls and the ends of the shelf."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ledgewright import plane
from ledgewright.fitting import Move
from ledgewright.plane import Point
from ledgewright.survey import Wall
from ledgewright.units import show_angle

_SKEW = math.radians(3)


def told(move: Move, walls: Sequence[Wall]) -> str:
    """Return where a move goes and how it turns, in words of the walls.

    Args:
        move: one move.
        walls: the walls to name, the one it goes onto first before the others.
    """
    return ", ".join(filter(None, (direction(move, walls), turned(move.turn))))


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


def turned(turn: float) -> str:
    """Return a turn seen from above in words of the ends, as one faces the wall; nothing for none.

    Args:
        turn: to the left (rad): then the right end goes towards the wall.
    """
    if abs(turn) < 1e-9:
        return ""
    end = "right" if turn > 0 else "left"
    return f"the {end} end swings in, {show_angle(abs(turn))}"
