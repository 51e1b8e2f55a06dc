"""What the shop makes and what it costs."""

from ledgewright.shop.bill import adhesive_in_hole, bill
from ledgewright.shop.cutting import Bars, Boards, Cutting, Item, Sheets, Strips, cutting
from ledgewright.shop.model import Bill, Line, Part
from ledgewright.shop.parts import parts

__all__ = [
    "Bars",
    "Bill",
    "Boards",
    "Cutting",
    "Item",
    "Line",
    "Part",
    "Sheets",
    "Strips",
    "adhesive_in_hole",
    "bill",
    "cutting",
    "parts",
]
