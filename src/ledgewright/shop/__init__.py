"""What the shop makes and what it costs."""

from ledgewright.shop.bill import bill, mass
from ledgewright.shop.model import Bill, Line, Part
from ledgewright.shop.parts import edging_runs, parts, skin_plan, volume

__all__ = ["Bill", "Line", "Part", "bill", "edging_runs", "mass", "parts", "skin_plan", "volume"]
