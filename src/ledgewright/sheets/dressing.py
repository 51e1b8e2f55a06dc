"""What is done to rods between saw and wall: ends dressed, and the flats that grub screws bear on."""

from __future__ import annotations

from collections.abc import Iterator

from ledgewright.judge import Design
from ledgewright.layout import Rod
from ledgewright.plan import Plan
from ledgewright.sheets.corewords import listed, rod_figures
from ledgewright.sheets.leaves import held_walls
from ledgewright.sheets.say import Say

LONG, DEEP = 12.0, 1.5
"""A flat along and into the rod (mm): a 6 mm point with 3 mm to spare either way, and sinking 1 mm (our choice)."""


def flats(design: Design) -> Iterator[tuple[Rod, float]]:
    """Yield every rod that a grub screw bears on, and how far its middle is from the tip (mm).

    Args:
        design: a shelf.
    """
    if design.core is None or design.spec.lock.kind != "grub screw":
        return
    for lock in design.core.locks:
        rod = next(r for r in design.frame.rods if r.id == lock.rod)
        if not lock.lost:
            yield rod, rod.projection - rod_figures(rod, lock.at)[0]


def dressed(plan: Plan, bar: str, say: Say) -> tuple[str, ...]:
    """Return how the rods out of one bar are dressed, those of walls that nobody has confirmed left out.

    Source: common practice.

    Args:
        plan: the whole job.
        bar: its name.
        say: how the job writes.
    """
    ends = f"Ends square, burrs off, tips eased all round; every {say.word('rod')} lettered on its bonded end."
    filed = [
        f"{rod.mark} {say.bare(at)}"
        for design in plan.designs
        for rod, at in flats(design)
        if rod.bar.name == bar and rod.wall not in held_walls(plan, design)
    ]
    if not filed:
        return (ends,)
    size = f"{say.bare(LONG)} long and {say.bare(DEEP)} deep, no deeper, its ends square"
    return (
        ends,
        f"Before it is set, a flat filed for its grub screw, {size}. From the tip to its middle: {', '.join(filed)}.",
    )


def underneath(design: Design, wall: str) -> tuple[str, ...]:
    """Return the line of the set card that says which rods have their flats underneath.

    Args:
        design: a shelf.
        wall: whose card.
    """
    marks = [rod.mark for rod, _ in flats(design) if rod.wall == wall]
    return (f"Flat straight down before the mix stiffens: {listed(marks)}.",) if marks else ()
