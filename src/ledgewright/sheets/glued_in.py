"""What is said of a shelf that is glued onto its rods: tried dry, glued once, and never taken off again."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ledgewright import plane, shop
from ledgewright.judge import Design
from ledgewright.plan import Plan
from ledgewright.sheets.model import Note
from ledgewright.sheets.say import Say, listed
from ledgewright.sheets.shopside import hours_text
from ledgewright.shop import InSlots, TooColdError

NOT_SHOWN = "It is not shown to hold like this. Until it is, no glue goes into a slot: what is glued cannot be undone."
"""On every page that tells how a shelf is glued in which is not shown to hold."""
WIDER = 1.05
"""A slide slot of so many times its slot's area is wider than that (our choice)."""
DOWN = (
    "Later it is taken down only by cutting: propped along its whole length, the {rods} are sawn through at the wall, "
    "or it is cut up around them. It is not hung again."
)
"""How it is taken down (common practice)."""


def marks(design: Design) -> tuple[str, ...]:
    """Return the rods that a shelf is glued onto, by their marks; none for one that hangs dry.

    Args:
        design: the shelf.
    """
    return tuple(rod.mark for rod in design.frame.rods if rod.in_slot == "glued")


def stays(designs: Sequence[Design]) -> bool:
    """Return whether any of these shelves or sections is glued on for good.

    Args:
        designs: the shelves.
    """
    return any(map(marks, designs))


def shown(design: Design) -> bool:
    """Return whether a shelf is shown to hold: before that no glue goes into its slots.

    Args:
        design: the shelf.
    """
    return design.way is not None and design.holds.verdict == "passes"


def warning(design: Design) -> str:
    """Return what stands at the head of its fitting order; empty for one that hangs dry, or is shown to hold.

    Args:
        design: the shelf.
    """
    told = marks(design) and not shown(design)
    return "Do not glue it on yet: nobody can say so far whether this shelf holds." if told else ""


def down(say: Say) -> str:
    """Return how a shelf that is glued on is taken down.

    Args:
        say: how the job writes.
    """
    return DOWN.format(rods=say.word("rods"))


def caution(design: Design, say: Say) -> str:
    """Return what stands among the cautions for a shelf that is glued on.

    Args:
        design: the shelf.
        say: how the job writes.
    """
    hold = "" if shown(design) else f" {NOT_SHOWN}"
    return (
        f"Shelf {design.spec.title} is glued onto {listed(marks(design))}: once that is done it does not come off. All "
        f"is tried dry before. {down(say)}{hold}"
    )


def first(design: Design, say: Say) -> tuple[Note, ...]:
    """Return what to know before a shelf that is glued on is lifted; nothing for one that hangs dry.

    Args:
        design: the shelf.
        say: how the job writes.
    """
    own = marks(design)
    if not own:
        return ()
    lines = (
        f"It goes on twice: dry, on trial, and off again; then with glue in the slots of {listed(own)}, for good.",
        *(() if shown(design) else (NOT_SHOWN,)),
    )
    return (Note("Glued on: no way back", lines),)


def then(plan: Plan, design: Design) -> tuple[Note, ...]:
    """Return how a shelf is glued in, once the dry trial is right; nothing for one that hangs dry.

    Source: common practice; the label of the adhesive has the last word.

    Args:
        plan: the whole job.
        design: the shelf.
    """
    say = Say.of(plan.job.meta)
    if not marks(design):
        return ()
    made = shop.Made(design.spec, design.frame, design.core, design.parts)
    try:
        rows = shop.in_slots(plan.job, (made,))
    except TooColdError as cold:
        return (Note("Then glued in, for good", (f"Not at this temperature: {cold}",)),)
    leave, load = (
        hours_text(max(of)) for of in zip(*((r.leave, r.load) for r in rows), strict=True)
    )
    clean = f"{say.word('rods').capitalize()} and slots clean, abraded, no oil, no wax; wall and faces masked."
    lines = [
        f"Only when the dry trial was right; then off by the way back. {clean}",
        *(
            line
            for row in rows
            for line in _mixed(row, say, say.temperature(plan.job.site.temperature))
        ),
        *_wide(design),
        "Home by the same moves without a stop, level and packed at once; squeeze-out wiped off before it sets.",
        f"Propped and left alone {leave}; no test and no load before {load}.",
        down(say),
    ]
    return (Note("Then glued in, for good", tuple(lines)),)


def _wide(design: Design) -> tuple[str, ...]:
    """The glued rods whose slide slot is wider than the slot they end in: what is worked out fills the slot alone."""
    slots = {slot.rod: plane.area(slot.plan) for slot in design.frame.slots}
    names = {rod.id: rod.mark for rod in design.frame.rods if rod.in_slot == "glued"}
    cut = design.way.channels if design.way else ()
    wide = [
        names[each.rod]
        for each in cut
        if each.rod in names and each.area > WIDER * slots.get(each.rod, math.inf)
    ]
    if not wide:
        return ()
    told = f"Slide slots wider than the slot they end in: {listed(wide)}. The amount fills the slot alone, and no glue"
    return (
        f"{told} bridges such a gap: nothing is glued there before somebody has worked out how.",
    )


def _mixed(row: InSlots, say: Say, warm: str) -> tuple[str, ...]:
    """How much is mixed, where it goes, and how long that may take."""
    one = f"{math.ceil(row.each * 1e3 - 1e-9)} g" + (" at the most" if len(row.rods) > 1 else "")
    home = f"about {math.ceil(row.takes / 60 - 1e-9)} min"
    late = (
        ""
        if row.fits
        else " It does not reach: a slower adhesive, or a dry slot. Do not begin like this."
    )
    mixed = (
        f"{row.adhesive.name}, {math.ceil(row.mass * 1e3 - 1e-9)} g in one mix: into each slot from its inner end, "
        f"{one}, and thin on the bar. {listed(row.rods)}."
    )
    clock = f"The mix stays workable {row.minutes:.0f} min at {warm}; first slot to home takes {home}.{late}"
    return mixed, clock


def choice(sections: Sequence[Design], free: str, say: Say) -> str:
    """Return how a shelf comes off, for the client to choose and sign.

    Args:
        sections: of the shelf.
        free: what is cut free before, as a clause.
        say: how the job writes.
    """
    own = [mark for each in sections for mark in marks(each)]
    rods = say.word("rods")
    if not own:
        return f"slides off its {rods} once {free}the lock is undone; it is not glued to the wall"
    hold = "" if all(map(shown, sections)) else "; not shown to hold like this so far"
    return f"not at all: it is glued onto its {rods} for good; taken down later only by cutting it or them{hold}"


def to_owner(design: Design, say: Say) -> tuple[str, ...]:
    """Return what the owner reads of a shelf that does not come off.

    Args:
        design: the shelf.
        say: how the job writes.
    """
    return (
        f"It does not: it is glued onto its {say.word('rods')}. Nobody pulls at it, prises it or undoes anything.",
        f"{down(say)} Call whoever hung it.",
    )
