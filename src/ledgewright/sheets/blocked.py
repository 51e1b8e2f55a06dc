"""What stands in the way of a move, and what is eased so that it does not, said in one way everywhere."""

from __future__ import annotations

from ledgewright.fitting import Block, Eased
from ledgewright.sheets.leaves import names_any
from ledgewright.sheets.say import Say

NOBODY: frozenset[str] = frozenset()
NOTHING = 0.02
"""What only touches is not eased (mm; see docs/fitting.md)."""


def stops(block: Block, say: Say, hidden: frozenset[str] = NOBODY) -> str:
    """Return what stands in the way of a move, and by how much it is short, as a sentence.

    Args:
        block: its moves count from 1; 0 if the home itself is taken, or nothing was tried.
        say: how the job writes.
        hidden: marks of rods on withheld walls (see `leaves.held_marks`): by how much one of these is short would
            say where it is.
    """
    shut = names_any(block.by, hidden)
    if block.move == 0:
        short = f", by {say.some(block.short_by)}" if block.short_by > 0 and not shut else ""
        return f"Not even begun: {block.by}{short}."
    short = "how far is withheld" if shut else f"short by {say.some(block.short_by)}"
    return f"Move {block.move}: {block.by}, {short}."


def eased_told(eased: Eased, say: Say) -> str:
    """Return how much comes off the joint face of a section before it goes in, and where, as a sentence.

    Args:
        eased: what comes off, from back to front; rounded up to what a caliper shows.
        say: how the job writes.
    """
    by = [_off(deep, say) for _, deep in eased.off]
    if len(set(by)) == 1:
        where = f"{by[0]} along its whole length"
    else:
        outs = [out for out, _ in eased.off]
        places = (
            "at its back",
            *(f"at {say.length(out)} out" for out in outs[1:-1]),
            "at its front",
        )
        where = ", ".join(f"{much} {place}" for much, place in zip(by, places, strict=True))
    return f"Ease the joint face before it goes in: {where}. So much then stays open in the joint."


def _off(deep: float, say: Say) -> str:
    return say.drop(deep) if deep > NOTHING else "nothing"
