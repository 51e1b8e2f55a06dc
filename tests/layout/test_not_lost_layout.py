"""Holes stand apart by the thicker rod."""

from __future__ import annotations

from dataclasses import replace

from ledgewright import stock
from ledgewright.layout import clashes
from tests.statics import made

AGAINST = (
    "mutants of the code that no test had held: each test here fails on one",
    "by hand from standards, statics, geometry and the rules of the project, as each says",
    "as each says",
)


def test_holes_stand_five_diameters_of_the_thicker_rod_apart() -> None:
    """EN 1995-1-1 T8.5 (from memory): 5 d of 3/4 in are 95.25 mm, of the 3/8 in rod beside it 47.6."""
    _, low = made.straight([500.0], bar=stock.bar("round 3/4 1018"))
    _, high = made.straight([500.0], bar=stock.bar("round 3/8 1018"))
    for apart, told in ((95.0, 1), (95.5, 0)):
        rods = tuple(replace(r, origin=(*r.origin[:2], r.origin[2] + apart)) for r in high.rods)
        up = replace(high, shelf="upper", rods=rods, top=high.top + apart)
        for pair in ((low, up), (up, low)):
            assert (
                len([w for _, w in clashes(pair) if "closer together" in w.replace("\n", " ")])
                == told
            )
