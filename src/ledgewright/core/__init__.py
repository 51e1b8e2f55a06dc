"""What stands between the skins, and what stays hollow."""

from ledgewright.core.lay import core
from ledgewright.core.locks import FLAT_DEEP, FLAT_LONG, SCREW_IN, missed
from ledgewright.core.model import (
    Core,
    Flat,
    KeepOut,
    Kind,
    LockAt,
    Piece,
    Span,
)
from ledgewright.core.weight import mass

__all__ = [
    "FLAT_DEEP",
    "FLAT_LONG",
    "SCREW_IN",
    "Core",
    "Flat",
    "KeepOut",
    "Kind",
    "LockAt",
    "Piece",
    "Span",
    "core",
    "mass",
    "missed",
]
