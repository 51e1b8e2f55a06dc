"""How a rigid section gets home: moves, the channels they sweep, the room they need, or what blocks them."""

from ledgewright.fitting.as_cut import Miss, as_cut, eased, misses
from ledgewright.fitting.cut import channels, stops
from ledgewright.fitting.heights import out_of_line
from ledgewright.fitting.model import (
    Between,
    Block,
    Channel,
    Eased,
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
from ledgewright.fitting.pose import Pose

__all__ = [
    "Between",
    "Block",
    "Channel",
    "Eased",
    "Loss",
    "Merged",
    "Miss",
    "Move",
    "Opening",
    "Pose",
    "Thin",
    "Way",
    "WayKind",
    "Ways",
    "as_cut",
    "channels",
    "eased",
    "misses",
    "opened",
    "openings",
    "out_of_line",
    "stops",
    "ways",
]
