"""What the shop makes and what it costs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ledgewright.core import Core
from ledgewright.job import Spec
from ledgewright.layout import Frame
from ledgewright.plane import Ring

FOOT = 304.8
"""International foot (mm): 12 x 25.4 exactly, 1959."""
CARTRIDGE = 400_000.0
"""One cartridge of glue (mm3)."""


@dataclass(frozen=True)
class Part:
    """One kind of part with its letter: finished and rough sizes (length along the grain, width, thickness; mm).

    `pieces` names the core pieces or rods that are this part. `lies` is the direction of a skin's length in its plan.
    """

    letter: str
    name: str
    of: str
    kind: Literal["skin", "core", "edging", "filler", "rod"]
    count: int
    finished: tuple[float, float, float]
    rough: tuple[float, float, float]
    plan: Ring | None
    note: str
    pieces: tuple[str, ...] = ()
    lies: tuple[float, float] | None = None


@dataclass(frozen=True)
class Made:
    """One section as the shop makes it: what was asked for, how it lies, its core and its parts."""

    spec: Spec
    frame: Frame
    core: Core | None
    parts: tuple[Part, ...]


HEAVY = 14.0
LONG = 1800.0


def needs_two(spec: Spec, frame: Frame, mass: float) -> bool:
    """Say whether a shelf or a section of one needs two people to hang.

    Source: common practice: alone up to 14 kg (30 lb) and 1.8 m (6 ft), straight only; an L in sections is an L still,
    and a joint is pulled shut with somebody at either end of it.

    Args:
        spec: the shelf or the section.
        frame: the section at home.
        mass: without rods (kg).
    """
    legs = frame.legs
    in_parts = spec.section is not None or len(legs) > 1
    return in_parts or mass > HEAVY or legs[0].end - legs[0].start > LONG


@dataclass(frozen=True)
class Line:
    """One line of the bill: what, how much, in which unit, at what price each (None if no price is known)."""

    what: str
    quantity: float
    unit: str
    each: float | None
    total: float | None


@dataclass(frozen=True)
class Priced:
    """How a price comes about, in money; shares as fractions.

    materials: as bought, sundries with them. charged: materials with waste and mark-up. direct: labour, burden, charged
    materials, trips. cost: direct, overhead, contingency. net: with the net margin, or the least a job costs if that is
    more. total: with taxes, rounded up. margin_of_mark_up: the share of the charged price that the mark-up is.
    """

    hours: float
    labour: float
    burden: float
    materials: float
    sundries: float
    waste: float
    mark_up: float
    charged: float
    trips: float
    direct: float
    overhead: float
    contingency: float
    contingency_share: float
    contingency_why: str
    cost: float
    net_margin: float
    before_least: float
    least: float
    net: float
    tax_on_materials: float
    tax_on_price: float
    total: float
    mark_up_share: float
    margin_of_mark_up: float
    net_margin_share: float


@dataclass(frozen=True)
class Bill:
    """What it weighs without rods (kg), hours of hands-on work, price (None if unknown), of a section or a whole job.

    missing: prices and charges that are not there. placeholders: those that nobody has replaced yet.
    """

    mass: float
    hours: float
    price: float | None
    lines: tuple[Line, ...]
    hour_lines: tuple[tuple[str, float], ...]
    missing: tuple[str, ...]
    placeholders: tuple[str, ...] = ()
