"""What stands between the skins, and what stays hollow."""

from ledgewright.core.lay import core
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
    "Core",
    "KeepOut",
    "Kind",
    "LockAt",
    "Piece",
    "Span",
    "core",
    "mass",
]
