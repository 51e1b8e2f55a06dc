"""The hollow shelf as a structure: two skins that bend on their own, tied where there is core."""

from ledgewright.statics.mechanics.section.condense import (
    MESH,
    Condensed,
    Loaded,
    Site,
    condense,
)
from ledgewright.statics.mechanics.section.parts import (
    Beam,
    Fill,
    Held,
    Mechanism,
    Piece,
    Pressure,
    Section,
    Skin,
)
from ledgewright.statics.mechanics.section.recover import (
    Carried,
    Spread,
    Tied,
    averaged,
    cores,
    near,
    skins,
    spread,
    summed,
)
from ledgewright.statics.mechanics.section.sheet import (
    Ply,
    Sheet,
    isotropic,
    orthotropic,
    plywood,
    turned,
)

__all__ = [
    "MESH",
    "Beam",
    "Carried",
    "Condensed",
    "Fill",
    "Held",
    "Loaded",
    "Mechanism",
    "Piece",
    "Ply",
    "Pressure",
    "Section",
    "Sheet",
    "Site",
    "Skin",
    "Spread",
    "Tied",
    "averaged",
    "condense",
    "cores",
    "isotropic",
    "near",
    "orthotropic",
    "plywood",
    "skins",
    "spread",
    "summed",
    "turned",
]
