"""May this wall be drilled, how far may each rod be off, and do the rods as set go on and hold."""

from ledgewright.site.as_set import SHIM, AsSetAnswer, Card, Go, Off, Stand, as_set, cards, rests
from ledgewright.site.evidence import MAY_DRILL, leave, open_questions, withheld
from ledgewright.site.model import Drill, Hole, Leave, Withheld
from ledgewright.site.tolerance import BESIDE, SHORT, Allowed, allowed

__all__ = [
    "BESIDE",
    "MAY_DRILL",
    "SHIM",
    "SHORT",
    "Allowed",
    "AsSetAnswer",
    "Card",
    "Drill",
    "Go",
    "Hole",
    "Leave",
    "Off",
    "Stand",
    "Withheld",
    "allowed",
    "as_set",
    "cards",
    "leave",
    "open_questions",
    "rests",
    "withheld",
]
