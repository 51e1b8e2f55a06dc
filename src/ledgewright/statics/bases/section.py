"""Section figures both bases need and neither table gives for a solid bar."""

from __future__ import annotations

from ledgewright.statics.formula import formula
from ledgewright.stock import Shape

SHEAR_SHARE: dict[Shape, float] = {
    "round": 3 / 4,
    "square": 2 / 3,
    "flat": 2 / 3,
    "round tube": 1 / 2,
    "square tube": 1 / 2,
}
"""Mean over greatest shear stress of an elastic section (Jourawski); one half for thin tubes."""


@formula(
    "A_v",
    "z A",
    unit="mm^2",
    source="Elastic shear: mean over greatest stress",
    symbols={"share": "z"},
)
def shear_area(*, share: float, A: float) -> float:
    """Return the area that gives the greatest elastic shear stress as V over area.

    Jourawski: 3/4 of a solid round, 2/3 of a rectangle. share: mean over greatest stress. A: section (mm2). Returns
    mm2.
    """
    return share * A
