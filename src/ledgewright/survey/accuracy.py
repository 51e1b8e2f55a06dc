"""How far off a figure is likely to be, from what people know: which tool, and whether somebody held the other end.

All figures are standard deviations of a careful person's reading (mm); a slip is no part of them. Source: steel
tapes of class II may be off 0.3 mm + 0.2 mm a metre, and 0.5 to 1 mm is commonly taken for short tapes (common
practice, from memory); the rest is common practice, from memory.
"""

from __future__ import annotations

import math
from typing import Final

from ledgewright.job import Hands, LengthTool, LevelTool, LineTool

TAPE: Final[dict[LengthTool, tuple[float, float, float]]] = {
    "steel tape": (0.6, 0.8, 0.12e-3),
    "laser measure": (1.0, 1.0, 0.05e-3),
    "folding rule": (0.8, 1.0, 0.3e-3),
    "cloth tape": (2.0, 2.5, 1.0e-3),
    "two sticks": (0.4, 0.5, 0.0),
    "unknown": (1.5, 1.5, 0.3e-3),
}
"""Reading and holding with help, alone, and what the tool itself is off per mm of length.

A tape bent into a corner, or hooked on a nail, is worth less than one that is held. "two sticks" slide on each
other between two faces, are clamped and then measured on the bench.
"""

GAP: Final[dict[LineTool, float]] = {"string": 0.3, "straightedge": 0.2, "laser": 0.5}
"""One gap read with a rule, from what the line is drawn with. A laser's beam is wide, a straightedge touches."""

FACE_SD = 0.3
"""How far a mark may lie off the straight line between two neighbouring gap stations."""

UNSEEN_SD = 3.0
"""The same on a wall of which no gap was taken: board finished to 6 mm in 2.4 m."""

MARKED_SD = 0.8
"""How far off a hole is marked and started with a guide."""

FINDER_SD = math.radians(0.25)
"""An angle read with a finder on painted wall (rad)."""

LEVEL: Final[dict[LevelTool, tuple[float, float]]] = {
    "laser line": (0.5, 0.1e-3),
    "water level": (1.0, 0.0),
    "spirit level": (0.3, 0.5e-3),
}
"""One height carried from place to place: reading, and what the tool leans per mm of distance."""


def tape_sd(length: float, tool: LengthTool, hands: Hands) -> float:
    """Return the standard deviation of one taped length (mm).

    Source: general law of error propagation: reading and holding, and the tool's own scale.

    Args:
        length: as read (mm).
        tool: what it was read with.
        hands: whether somebody held the other end; not known counts as alone.
    """
    helped, alone, scale = TAPE[tool]
    return math.hypot(helped if hands == "helped" else alone, scale * length)


def level_sd(distance: float, tool: LevelTool) -> float:
    """Return the standard deviation of a height carried over a distance (mm).

    Args:
        distance: between the two places (mm).
        tool: what carried it.
    """
    reading, lean = LEVEL[tool]
    return math.hypot(reading, lean * distance)
