"""What stands between the skins, and what stays hollow."""

from ledgewright.core.model import (
    Core,
    Piece,
    Span,
)

__all__ = [
    "Core",
    "Piece",
    "Span",
]
