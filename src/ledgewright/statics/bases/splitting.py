"""Splitting of timber beside a fastener that presses across the grain, by fracture; for both bases."""

from __future__ import annotations

import math

from ledgewright.statics.formula import formula


@formula(
    "F_90",
    "14 b sqrt(frac(h_e, 1 - h_e / h))",
    unit="N",
    source="EN 1995-1-1 Eq. 8.4 (from memory), w = 1",
    symbols={"he": "h_e"},
)
def splitting(*, b: float, he: float, h: float) -> float:
    """Return the characteristic shear beside a fastener at which softwood splits.

    EN 1995-1-1 Eq. 8.4 (from memory). b: breadth (mm). he: from the loaded edge to the fastener (mm). h: depth (mm).
    Returns N.
    """
    return 14 * b * math.sqrt(he / (1 - he / h))
