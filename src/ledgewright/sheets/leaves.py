"""What may be done to the walls of one shelf."""

from __future__ import annotations

from ledgewright.judge import Design
from ledgewright.plan import Plan
from ledgewright.site import Drill, Leave


def leaves(plan: Plan, design: Design) -> tuple[Leave, ...]:
    """Return the leave of each wall for one shelf, in wall order."""
    return tuple(leave for shelf, _, leave in plan.leave if shelf == design.spec.id)


def held_walls(plan: Plan, design: Design) -> frozenset[str]:
    """Return the walls of a shelf that nobody may drill: withheld, or with rods and no leave at all."""
    may = {leave.wall for leave in leaves(plan, design) if isinstance(leave, Drill)}
    return frozenset({rod.wall for rod in design.frame.rods} - may)
