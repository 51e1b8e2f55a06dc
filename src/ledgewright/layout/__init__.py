"""The shelf laid against the walls: outline, blank, scribe, rods, slots."""

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
    "frame",
]
