"""The shelf laid against the walls: outline, blank, scribe, rods, slots."""

from ledgewright.layout.faces import behind, edging_runs, into_wall, mark_of, skin_plan, whole
from ledgewright.layout.model import (
    Frame,
    LayoutError,
    LegAt,
    Rod,
    Slot,
    Station,
)
from ledgewright.layout.shelf import frame

__all__ = [
    "Frame",
    "LayoutError",
    "LegAt",
    "Rod",
    "Slot",
    "Station",
    "behind",
    "edging_runs",
    "frame",
    "into_wall",
    "mark_of",
    "skin_plan",
    "whole",
]
