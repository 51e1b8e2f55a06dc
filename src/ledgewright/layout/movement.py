"""How much solid timber moves with the seasons, and the gap it needs where it meets a wall."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ledgewright.job import Spec
from ledgewright.layout.model import EndFit, Frame
from ledgewright.stock import Lumber

SEASONS = 4.0
"""Change of moisture content between seasons indoors (percentage points).

Wood Handbook ch. 13 works its examples with it; a house heated hard or by the sea may see more.
"""

ALONG = 0.002 / 30
"""Change along the grain per percentage point: 0.2 % from green (about 30 %) to oven dry, the most of ordinary wood.

Wood Handbook FPL-GTR-190 (2010), ch. 4, from memory.
"""


@dataclass(frozen=True)
class Movement:
    """Solid timber that meets a wall: what it is, its size across or along the grain, how far it moves (mm).

    coefficient: change per size and percentage point; None where the catalogue has none, and then `moves` is None too.
    """

    what: Literal["filler strip", "edging"]
    where: str
    species: str
    size: float
    coefficient: float | None
    moves: float | None
    source: str


def movement(size: float, coefficient: float, change: float = SEASONS) -> float:
    """Return how far solid timber moves (mm).

    Wood Handbook FPL-GTR-190 (2010), Eq. (13-2), moisture contents of 6 to 14 %.

    Args:
        size: across the grain, or along it (mm).
        coefficient: change per size and percentage point, of that direction.
        change: of moisture content (percentage points).
    """
    return size * coefficient * change


def movements(spec: Spec, frame: Frame, ends: tuple[EndFit, ...]) -> tuple[Movement, ...]:
    """Return every piece of solid timber that meets a wall, with the gap its movement needs.

    A filler strip moves across its width, taken flat sawn; a front edging held between two walls moves along its
    length. Elsewhere the timber meets no wall: a free end lets it go, and the back rail stops short of the wall.

    Args:
        spec: the shelf.
        frame: its lay-out.
        ends: how its ends meet the walls beside it.
    """
    found = [_strip(spec.edging, end) for end in ends if end.how == "filler"]
    leg = frame.legs[0]
    if len(frame.legs) == 1 and (leg.left_end, leg.right_end) == ("wall", "wall"):
        size = abs(leg.end - leg.start)
        where = f"wall {leg.wall}, between its two ends"
        source = "along the grain 0.2 % from green to dry: Wood Handbook ch. 4, from memory"
        moved = movement(size, ALONG)
        found.append(Movement("edging", where, spec.edging.name, size, ALONG, moved, source))
    return tuple(found)


def _strip(lumber: Lumber, end: EndFit) -> Movement:
    size = max(end.back, end.front)
    moved = None if lumber.movement is None else movement(size, lumber.movement)
    where = f"{end.side} end, wall {end.wall}"
    return Movement("filler strip", where, lumber.name, size, lumber.movement, moved, lumber.source)
