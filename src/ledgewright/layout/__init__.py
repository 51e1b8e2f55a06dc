"""The shelf laid against the walls: outline, blank, scribe, rods, slots."""

from ledgewright.layout.faces import (
    behind,
    corner_of,
    edging_runs,
    into_wall,
    mark_of,
    skin_plan,
    whole,
)
from ledgewright.layout.model import (
    End,
    Frame,
    LayoutError,
    LegAt,
    Rod,
    Slot,
    Station,
    Turn,
)
from ledgewright.layout.shelf import conflicts, frame

__all__ = [
    "End",
    "Frame",
    "LayoutError",
    "LegAt",
    "Rod",
    "Slot",
    "Station",
    "Turn",
    "behind",
    "conflicts",
    "corner_of",
    "edging_runs",
    "frame",
    "into_wall",
    "mark_of",
    "skin_plan",
    "whole",
]
