"""What the shop makes and what it costs."""

from ledgewright.shop.model import (
    Bill,
    Line,
    Part,
)

__all__ = [
    "Bill",
    "Line",
    "Part",
]
