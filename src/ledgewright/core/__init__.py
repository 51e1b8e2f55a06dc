"""What stands between the skins, and what stays hollow."""

from ledgewright.core.lay import core
from ledgewright.core.model import (
    Core,
    Kind,
    Piece,
    Span,
)
from ledgewright.core.weight import mass

__all__ = [
    "Core",
    "Kind",
    "Piece",
    "Span",
    "core",
    "mass",
]
