"""What the shop makes and what it costs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ledgewright.plane import Ring


@dataclass(frozen=True)
class Part:
    """One kind of part with its letter: finished and rough sizes (length along the grain, width, thickness; mm).

    `pieces` names the core pieces or rods that are this part. `lies` is the direction of a skin's length in its plan.
    """

    letter: str
    name: str
    of: str
    kind: Literal["skin", "core", "edging", "rod"]
    count: int
    finished: tuple[float, float, float]
    rough: tuple[float, float, float]
    plan: Ring | None
    note: str
    pieces: tuple[str, ...] = ()
    lies: tuple[float, float] | None = None


@dataclass(frozen=True)
class Line:
    """One line of the bill: what, how much, in which unit, at what price each (None if no price is known)."""

    what: str
    quantity: float
    unit: str
    each: float | None
    total: float | None


@dataclass(frozen=True)
class Bill:
    """The quick bill: mass of the shelf without rods (kg), hours of hands-on work, price (None if unknown)."""

    mass: float
    hours: float
    price: float | None
    lines: tuple[Line, ...]
    hour_lines: tuple[tuple[str, float], ...]
    missing: tuple[str, ...]
