"""The shelf laid against the walls: outline, blank, scribe, rods, slots."""

from ledgewright.layout.clash import clashes
from ledgewright.layout.faces import (
    behind,
    corner_of,
    edging_runs,
    into_wall,
    mark_of,
    skin_plan,
    whole,
)
from ledgewright.layout.lying import Placed, placed
from ledgewright.layout.model import (
    End,
    EndFit,
    Frame,
    LayoutError,
    LegAt,
    Rod,
    Slot,
    Station,
    Turn,
)
from ledgewright.layout.parted import alcove_options, hung, sections, shares
from ledgewright.layout.shelf import conflicts, end_fits, frame

__all__ = [
    "End",
    "EndFit",
    "Frame",
    "LayoutError",
    "LegAt",
    "Placed",
    "Rod",
    "Slot",
    "Station",
    "Turn",
    "alcove_options",
    "behind",
    "clashes",
    "conflicts",
    "corner_of",
    "edging_runs",
    "end_fits",
    "frame",
    "hung",
    "into_wall",
    "mark_of",
    "placed",
    "sections",
    "shares",
    "skin_plan",
    "whole",
]
