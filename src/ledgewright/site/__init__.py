"""May this wall be drilled: a `Drill` says where, a `Withheld` says what has to be found out first."""

from ledgewright.site.evidence import MAY_DRILL, hidden, leave, open_questions, withheld
from ledgewright.site.model import Drill, Hole, Leave, Withheld

__all__ = [
    "MAY_DRILL",
    "Drill",
    "Hole",
    "Leave",
    "Withheld",
    "hidden",
    "leave",
    "open_questions",
    "withheld",
]
