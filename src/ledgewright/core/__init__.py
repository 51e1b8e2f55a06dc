"""What stands between the skins, and what stays hollow."""

from ledgewright.core.lay import core
from ledgewright.core.model import (
    Core,
    Kind,
    Piece,
    Span,
)

__all__ = [
    "Core",
    "Kind",
    "Piece",
    "Span",
    "core",
]
