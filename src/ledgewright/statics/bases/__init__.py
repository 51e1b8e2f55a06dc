"""The design bases: each turns bars, timbers and forces into resistances, and sees no plan."""

from ledgewright.job import Basis
from ledgewright.statics.bases.ec5 import Ec5
from ledgewright.statics.bases.nds import Nds
from ledgewright.statics.bases.rules import (
    Combination,
    Edge,
    Grip,
    Kind,
    Resistance,
    Rules,
    Situation,
)

__all__ = [
    "Combination",
    "Ec5",
    "Edge",
    "Grip",
    "Kind",
    "Nds",
    "Resistance",
    "Rules",
    "Situation",
    "rules",
]


def rules(basis: Basis) -> Rules:
    """Return the rules of a basis."""
    return Nds() if basis == "nds" else Ec5()
