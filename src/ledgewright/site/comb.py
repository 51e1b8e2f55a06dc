"""What holds the rods of one wall by their tips until the cure: a comb bar, and a comb of its own for a short one."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

CLEAR = 3.0
"""Room left between a comb and what stands beside it or in front of it (mm; our choice)."""
FROM_TIP = 10.0
"""How far the tips of the shortest rods that set a comb stand out of it (mm; our choice)."""
LONG = 8.0
"""The comb bar is set by the rods that come short of the longest by no more than one part in so many (our choice): a
shorter one would take it far behind the tips of the long ones, which the slack of their holes then moves."""
IN_COMB = FROM_TIP - CLEAR
"""A bar that goes so far into the comb bar is held by it; the own comb of a shorter one stays clear of it (mm)."""
ROUND = 8.0
"""Wood round the bars in a comb (mm; our choice)."""

Held = Literal["bar", "own", "wedges"]


def bar_out(tips: Sequence[float], thick: float) -> float | None:
    """Return how far in front of the ledger the back of the comb bar is (mm), set by the long rods alone.

    None where that leaves no room behind it for the comb of a shorter one: then every rod has its own.

    Args:
        tips: how far the tips stand in front of the ledger (mm).
        thick: of the comb (mm).
    """
    most = max(tips)
    out = min(tip for tip in tips if tip >= most * (1 - 1 / LONG)) - FROM_TIP - thick
    return out if out >= thick + CLEAR else None


def holds(tip: float, bar: float | None, thick: float) -> tuple[Held, float]:
    """Return what holds a rod, and how far in front of the ledger the back of that is (mm).

    Args:
        tip: how far its tip stands in front of the ledger (mm).
        bar: how far the back of the comb bar does; None if there is none (mm).
        thick: of either comb (mm).
    """
    if bar is not None and tip >= bar + IN_COMB:
        return "bar", bar
    out = max(tip - FROM_TIP - thick, 0.0)
    return ("own", out) if tip >= out + IN_COMB else ("wedges", 0.0)


def meets_bar(tip: float, bar: float) -> bool:
    """Return whether a rod comes so far that the comb bar has to be bored for it, whatever holds it.

    Args:
        tip: how far its tip stands in front of the ledger (mm).
        bar: how far the back of the comb bar does (mm).
    """
    return tip > bar - CLEAR


def half_width(
    most: float, own: float, others: Sequence[tuple[float, float]], ends: tuple[float, float]
) -> float:
    """Return half the width of the comb of one rod: no further than the ledger, clear of the rods beside it (mm).

    Args:
        most: what it is where there is room (mm).
        own: where the rod goes through it (mm along).
        others: the other rods where they go past it, each with half of what it takes there (mm).
        ends: of the ledger (mm along).
    """
    rooms = [abs(at - own) - half - CLEAR for at, half in others]
    return min([most, own - ends[0], ends[1] - own, *rooms])
