"""What is done to rods between saw and wall: ends dressed, and the flats that grub screws bear on."""

from __future__ import annotations

from collections.abc import Iterator

from ledgewright.core import FLAT_DEEP, FLAT_LONG
from ledgewright.judge import Design
from ledgewright.layout import Rod
from ledgewright.plan import Plan
from ledgewright.sheets.leaves import held_walls
from ledgewright.sheets.say import Say, listed


def flats(design: Design) -> Iterator[tuple[Rod, float]]:
    """Yield every rod that a grub screw bears on, as drawn, and how far its flat's middle is from the tip (mm).

    A flat is filed before its rod is set: readings change nothing here.

    Args:
        design: a shelf.
    """
    rods = {rod.id: rod for rod in design.as_drawn.rods}
    yield from ((rods[flat.rod], flat.from_tip) for flat in design.flats)


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
    size = f"{say.bare(FLAT_LONG)} long and {say.bare(FLAT_DEEP)} deep, no deeper, its ends square"
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
