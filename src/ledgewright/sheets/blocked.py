"""What stands in the way of a move, said in one way everywhere."""

from __future__ import annotations

from ledgewright.fitting import Block
from ledgewright.sheets.say import Say


def stops(block: Block, say: Say) -> str:
    """Return what stands in the way of a move, and by how much it is short, as a sentence.

    Args:
        block: its moves count from 1; 0 if the home itself is taken, or nothing was tried.
        say: how the job writes.
    """
    if block.move == 0:
        short = f", by {say.length(block.short_by)}" if block.short_by > 0 else ""
        return f"Not even begun: {block.by}{short}."
    return f"Move {block.move}: {block.by}, short by {say.length(block.short_by)}."
