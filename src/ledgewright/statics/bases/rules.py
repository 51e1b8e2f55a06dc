"""What a design basis must be able to say; it sees bars, timbers and numbers, never a plan."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, Protocol

from ledgewright.job import Lasts
from ledgewright.statics.formula import Working
from ledgewright.statics.model import Scope
from ledgewright.stock import Bar, Timber

Situation = Literal["service", "strength", "accident"]
Kind = Literal["dead", "rod", "live", "single", "accident"]
"""Self-weight of the shelf, of a rod, contents, the one thing anywhere, the accidental load."""


@dataclass(frozen=True)
class Combination:
    """Factors on self-weight, contents, the single thing and the accidental load."""

    id: str
    situation: Situation
    dead: float
    live: float
    single: float
    accident: float
    source: str

    def factor(self, kind: Kind) -> float:
        """Return the factor on one kind of load."""
        return {
            "dead": self.dead,
            "rod": self.dead,
            "live": self.live,
            "single": self.single,
            "accident": self.accident,
        }[kind]


@dataclass(frozen=True)
class Resistance:
    """What can be taken, within which scope, and where that is written."""

    value: float
    scope: Scope
    reason: str
    source: str


@dataclass(frozen=True)
class Grip:
    """A rod in the wood: bar and timber, the grain angle (deg) of the load, embedment (mm), V0 (N) and M0 (N mm)."""

    bar: Bar
    timber: Timber
    angle: float
    L: float
    V: float
    M: float


@dataclass(frozen=True)
class Edge:
    """Least edge distances as multiples of the rod diameter, on the loaded edge and on the other."""

    loaded: float
    other: float
    source: str


class Rules(Protocol):
    """One design basis. Every method writes its lines into the working it is handed."""

    @property
    def combinations(self) -> tuple[Combination, ...]:
        """The combinations of loads, service ones first."""
        ...

    def missing(self, bar: Bar, timber: Timber) -> str | None:
        """Return what this basis lacks to judge this bar in this timber, in words; None if nothing."""
        ...

    def rod_bend(self, w: Working, bar: Bar, L_b: float, situation: Situation) -> Resistance:
        """Return the moment the bar can take (N mm); L_b is its length out of the wood (mm)."""
        ...

    def rod_shear(self, w: Working, bar: Bar, situation: Situation) -> Resistance:
        """Return the shear the bar can take (N)."""
        ...

    def bearing(self, w: Working, grip: Grip) -> float:
        """Return the bearing strength of the wood under the rod, before any factor (MPa)."""
        ...

    def bed_limit(self, w: Working, grip: Grip, situation: Situation, lasts: Lasts) -> Resistance:
        """Return the load at this lever that the wood can take, rod straight (N)."""
        ...

    def bed_hinge(self, w: Working, grip: Grip, situation: Situation, lasts: Lasts) -> Resistance:
        """Return the load at this lever at which the rod forms a hinge in the wood (N)."""
        ...

    def edge(self, *, across: bool) -> Edge:
        """Return the least edge distances of a rod loaded along or across the grain."""
        ...


def scope_of(bar: Bar) -> tuple[Scope, str]:
    """Return how well formulas made for solid round dowels fit this bar, and why."""
    if bar.shape == "round":
        return "in", ""
    return (
        "stretched",
        f"the dowel formulas are for solid rounds; taken for a {bar.shape} by its width",
    )


def tube_scope(bar: Bar) -> tuple[Scope, str]:
    """Return how well formulas made for solid bars fit this bar, and why."""
    if "tube" in bar.shape:
        return "stretched", "a tube may be crushed at the wood; taken at first yield only"
    return "in", ""
