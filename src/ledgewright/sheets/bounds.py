"""How far the rods may be off, in words that other pages need too; where that is hardly anything, it is told first."""

from __future__ import annotations

import math

from ledgewright import site
from ledgewright.judge import Design
from ledgewright.plan import Plan
from ledgewright.sheets.leaves import held_walls
from ledgewright.sheets.say import Say, listed
from ledgewright.site import Card
from ledgewright.survey import MARKED_SD


def shown(plan: Plan, design: Design) -> tuple[Card, ...]:
    """Return the rods of a section that may be told of: none on a wall that nobody may drill.

    Args:
        plan: the whole job.
        design: the section.
    """
    held = held_walls(plan, design)
    return tuple(c for c in site.cards(design, plan.job.meta.order) if c.wall not in held)


def least(value: float, say: Say) -> str:
    """Return how far a figure may be off (mm), rounded down to 1/64 in or 0.1 mm."""
    steps = value / 25.4 * 64 if say.units == "in" else value * 10
    down = math.floor(steps + 1e-6) / (64 / 25.4 if say.units == "in" else 10)
    return say.caliper(down)


def narrow(plan: Plan, design: Design, wall: str | None = None) -> tuple[str, ...]:
    """Return which rods may stand hardly aside, to be told before their holes are bored; none once they are read.

    Args:
        plan: the whole job.
        design: the section.
        wall: of these rods alone; None for all.
    """
    if design.way is None or design.drawn:
        return ()
    say = Say.of(plan.job.meta)
    found: dict[str, list[str]] = {}
    for c in shown(plan, design):
        if c.ok is None and c.allowed.side < MARKED_SD and wall in (None, c.wall):
            found.setdefault(least(c.allowed.side, say), []).append(c.mark)
    return tuple(
        say.text(
            f"{listed(marks)} may stand {f'no more than {most}' if most.strip('0.') else 'hardly'} aside, or nobody "
            "can say that it holds: before boring, a smaller hole, a wider stud or blocking gives more."
        )
        for most, marks in found.items()
    )
