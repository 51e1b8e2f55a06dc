"""Whether it holds and how far it drops: checks with their derivations, drop, forces."""

from ledgewright.statics.model import (
    CannotSay,
    Check,
    Drop,
    DropAt,
    Holds,
    Place,
    RodForce,
    Scope,
    State,
    Step,
)

__all__ = [
    "CannotSay",
    "Check",
    "Drop",
    "DropAt",
    "Holds",
    "Place",
    "RodForce",
    "Scope",
    "State",
    "Step",
]
