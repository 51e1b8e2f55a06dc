"""How a rigid section gets home: moves, the channels they sweep, the room they need, or what blocks them."""

from ledgewright.fitting.cut import channels, stops
from ledgewright.fitting.model import (
    Between,
    Block,
    Channel,
    Loss,
    Merged,
    Move,
    Thin,
    Way,
    WayKind,
    Ways,
)
from ledgewright.fitting.openings import Opening, opened, openings
from ledgewright.fitting.planner import ways

__all__ = [
    "Between",
    "Block",
    "Channel",
    "Loss",
    "Merged",
    "Move",
    "Opening",
    "Thin",
    "Way",
    "WayKind",
    "Ways",
    "channels",
    "opened",
    "openings",
    "stops",
    "ways",
]
