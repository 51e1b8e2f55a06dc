"""A place on a shelf's top where one thing may stand, told by the rods near it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Where = Literal["rod", "bay", "end", "middle"]
"""In front of a rod, at the front edge between two, at the front of an end, amid a bay's depth."""


@dataclass(frozen=True)
class Spot:
    """Where a load stands; marks: the rods it stands between, or the one it stands at or past."""

    kind: Where
    marks: tuple[str, ...]

    @property
    def said(self) -> str:
        """Where it is, in words."""
        if self.kind in ("bay", "middle"):
            between = f"between {self.marks[0]} and {self.marks[1]}"
            return between if self.kind == "bay" else f"in the middle {between}"
        return f"{'at' if self.kind == 'rod' else 'at the end past'} {self.marks[0]}"
