"""How a rigid section gets home: moves, the channels they sweep, the room they need, or what blocks them."""

from ledgewright.fitting.model import (
    Block,
    Channel,
    Loss,
    Move,
    Way,
    WayKind,
    Ways,
)

__all__ = [
    "Block",
    "Channel",
    "Loss",
    "Move",
    "Way",
    "WayKind",
    "Ways",
]
