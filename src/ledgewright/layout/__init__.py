"""The shelf laid against the walls: outline, blank, scribe, rods, slots."""

from ledgewright.layout.model import (
    Frame,
    LegAt,
    Rod,
    Slot,
    Station,
)

__all__ = [
    "Frame",
    "LegAt",
    "Rod",
    "Slot",
    "Station",
]
