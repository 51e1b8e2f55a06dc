"""What stands in the way of a move, said in one way everywhere."""

from __future__ import annotations

from ledgewright.fitting import Block
from ledgewright.sheets.leaves import names_any
from ledgewright.sheets.say import Say

NOBODY: frozenset[str] = frozenset()


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
        short = f", by {say.length(block.short_by)}" if block.short_by > 0 and not shut else ""
        return f"Not even begun: {block.by}{short}."
    short = "how far is withheld" if shut else f"short by {say.length(block.short_by)}"
    return f"Move {block.move}: {block.by}, {short}."
