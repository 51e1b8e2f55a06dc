"""A place on a shelf's top where one thing may stand, told by the rods near it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Where = Literal[
    "rod", "bay", "end", "middle", "back rod", "back bay", "back end", "back beside", "beside"
]
"""In front of a rod, at the front edge between two, at the front of an end, amid a bay; at the back the same.

Beside: to a side of a rod by the size of the thing, at the back or half that size off the wall.
"""


@dataclass(frozen=True)
class Spot:
    """Where a load stands; marks: the rods it stands between, or the one it stands at or past."""

    kind: Where
    marks: tuple[str, ...]

    @property
    def said(self) -> str:
        """Where it is, in words."""
        between = f"between {' and '.join(self.marks)}"
        beside = ", towards ".join(self.marks)
        beside = f"beside {beside}" if len(self.marks) > 1 else f"just past {beside}"
        told: dict[Where, str] = {
            "rod": f"at {self.marks[0]}",
            "bay": between,
            "end": f"at the end past {self.marks[0]}",
            "middle": f"in the middle {between}",
            "back rod": f"at the back by {self.marks[0]}",
            "back bay": f"at the back {between}",
            "back end": f"at the back past {self.marks[0]}",
            "back beside": f"at the back {beside}",
            "beside": f"off the wall {beside}",
        }
        return told[self.kind]
