"""What the shop makes and what it costs."""

from ledgewright.shop.bill import adhesive_in_hole, bill
from ledgewright.shop.model import Bill, Line, Part
from ledgewright.shop.parts import parts

__all__ = ["Bill", "Line", "Part", "adhesive_in_hole", "bill", "parts"]
