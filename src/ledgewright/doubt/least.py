"""A load limit's safe side without a curve: the least of shelves drawn by chance, each worked out by itself.

Wilks 1941, Annals of Mathematical Statistics 12, from memory: the least of n independent draws of anything lies below
what 5 of 100 lie below with a confidence of 1 - 0.95^n, however it is spread; 59 draws are the fewest for 95 %.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from ledgewright.statics import Check, Inputs

DRAWS = 59
"""Shelves drawn by chance, independent of one another: points of a Sobol sequence are not, and do not count here."""
CLOSEST = 5
"""So many that come nearest to what they can take are looked at under every pattern, and with half of it on them."""
CLOSE = 0.005
"""The least is found to this share of the limit at the likely figures, from below."""
DOWN = 0.95
"""What is tried next where a pattern asks too much that quick looks do not make."""


class Looks(Protocol):
    """The worst row of a shelf at some figures under so much on every length (N/mm); None: nothing can be said."""

    def worst(self, inputs: Inputs, even: float) -> Check | None:
        """Return it under every pattern; what told is kept."""
        ...

    def worst_told(self, inputs: Inputs, even: float) -> Check | None:
        """Return it under the patterns that told so far."""
        ...


@dataclass(frozen=True)
class Least:
    """The least load on every length (N/mm) that any of so many shelves drawn by chance carries.

    nominal: at the likely figures; the least is never above it. stop: the row that stops the weakest; None where all
    carry as much as at the likely figures.
    """

    nominal: float
    safe: float
    stop: Check | None
    draws: int = DRAWS

    @property
    def share(self) -> float:
        """The same over the limit at the likely figures."""
        return self.safe / self.nominal if self.nominal > 0 else 0.0

    @property
    def sure(self) -> float:
        """How sure it is that 95 of 100 such shelves carry as much, 0 to 1."""
        return 1 - 0.95**self.draws


class _UnsaidError(Exception):
    """Nothing can be said of a shelf at some figures."""


def least(looks: Looks, places: Sequence[Inputs], even: float) -> Least | None:
    """Return the least that shelves at some figures carry, or None where of one of them nothing can be said.

    All are looked at under the patterns that told so far, at the load that is told; the few that come nearest under
    every pattern too.

    Args:
        looks: the shelf.
        places: figures, drawn by chance and independent of one another.
        even: load limit at the likely figures (N/mm).
    """
    drawn = [_Drawn(looks, place, even) for place in places]
    try:
        at: float = even
        stop: Check | None = None
        for each in sorted(drawn, key=lambda one: -one.told(even).ratio):
            at, found = each.passing(at)
            stop = found or stop
            if at <= 0:
                # Less than none there is not: the others need no look.
                return Least(even, 0.0, stop, len(drawn))
        for each in sorted(drawn, key=lambda one: -one.told(at).ratio)[:CLOSEST]:
            at, found = each.passing_all(at)
            stop = found or stop
    except _UnsaidError:
        return None
    return Least(even, at, stop, len(drawn))


@dataclass(frozen=True)
class _Drawn:
    """One shelf drawn by chance. even: load limit at the likely figures (N/mm)."""

    looks: Looks
    place: Inputs
    even: float

    def told(self, load: float) -> Check:
        """The worst row under the patterns that told so far."""
        return _said(self.looks.worst_told(self.place, load))

    def all(self, load: float) -> Check:
        """The worst row under every pattern, with all of a load or half: less may ask more of a rod that lets go."""
        rows = [_said(self.looks.worst(self.place, share * load)) for share in (1.0, 0.5)]
        return max(rows, key=lambda row: row.ratio)

    def passing_all(self, most: float) -> tuple[float, Check | None]:
        """The greatest load found that passes under every pattern, at most so much, and the row that stops it."""
        at: float = most
        stop: Check | None = None
        while at > 0 and (row := self.all(at)).ratio > 1:
            stop = row
            # The pattern that told is known now; where quick looks do not make its row, by a step.
            lower, _ = self.passing(at)
            at = min(lower, DOWN * at) if at > CLOSE * self.even else 0.0
        return at, stop

    def passing(self, most: float) -> tuple[float, Check | None]:
        """The greatest load that passes by what told so far, at most so much, and what stops it; 0 where none does.

        Regula falsi with halving (Illinois: Dowell and Jarratt 1971), from below.
        """
        bare = self.told(0.0)
        if bare.ratio > 1:
            return 0.0, bare
        row = self.told(most)
        if row.ratio <= 1:
            return most, None
        low, high, stop = 0.0, most, row
        below, over = bare.ratio - 1, row.ratio - 1
        while high - low > CLOSE * self.even:
            tried = low + (high - low) * min(max(-below / (over - below), 0.05), 0.95)
            row = self.told(tried)
            if row.ratio > 1:
                high, over, below, stop = tried, row.ratio - 1, below / 2, row
            else:
                low, below, over = tried, row.ratio - 1, over / 2
        return low, stop


def _said(row: Check | None) -> Check:
    if row is None:
        raise _UnsaidError
    return row
