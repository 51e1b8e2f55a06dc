"""May this wall be drilled, how far may each rod be off, and do the rods as set go on and hold."""

from ledgewright.site.as_set import SHIM, AsSetAnswer, Card, Go, Off, Stand, as_set, cards, rests
from ledgewright.site.comb import Held
from ledgewright.site.evidence import MAY_DRILL, hidden, leave, open_questions, withheld
from ledgewright.site.expected import READING, Row
from ledgewright.site.guide import SQUARE, Guide, Mark, guide
from ledgewright.site.limit import DOUBT, for_label, limit
from ledgewright.site.load_test import RECOVERS, ReadBack, tested, tested_together
from ledgewright.site.model import Drill, Hole, Leave, Withheld
from ledgewright.site.proposed import Group, no_test, plan_test, plan_tests
from ledgewright.site.so_far import broken_out, so_far, told
from ledgewright.site.tells import HOLD, Growth
from ledgewright.site.tolerance import SHORT, Allowed, allowed

__all__ = [
    "DOUBT",
    "HOLD",
    "MAY_DRILL",
    "READING",
    "RECOVERS",
    "SHIM",
    "SHORT",
    "SQUARE",
    "Allowed",
    "AsSetAnswer",
    "Card",
    "Drill",
    "Go",
    "Group",
    "Growth",
    "Guide",
    "Held",
    "Hole",
    "Leave",
    "Mark",
    "Off",
    "ReadBack",
    "Row",
    "Stand",
    "Withheld",
    "allowed",
    "as_set",
    "broken_out",
    "cards",
    "for_label",
    "guide",
    "hidden",
    "leave",
    "limit",
    "no_test",
    "open_questions",
    "plan_test",
    "plan_tests",
    "rests",
    "so_far",
    "tested",
    "tested_together",
    "told",
    "withheld",
]
