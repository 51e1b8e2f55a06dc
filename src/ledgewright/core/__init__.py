"""What stands between the skins, and what stays hollow."""

from ledgewright.core.lay import core
from ledgewright.core.locks import SCREW_IN
from ledgewright.core.model import (
    Core,
    KeepOut,
    Kind,
    LockAt,
    Piece,
    Span,
)
from ledgewright.core.weight import mass

__all__ = [
    "SCREW_IN",
    "Core",
    "KeepOut",
    "Kind",
    "LockAt",
    "Piece",
    "Span",
    "core",
    "mass",
]
