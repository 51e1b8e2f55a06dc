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


def test_holes_stand_four_diameters_of_the_thicker_rod_apart() -> None:
    """NDS T12.5.1B (from memory): 4 D of 3/4 in are 76.2 mm, of the 3/8 in rod beside it 38.1."""
    _, low = made.straight([500.0], bar=stock.bar("round 3/4 1018"))
    _, high = made.straight([500.0], bar=stock.bar("round 3/8 1018"))
    for apart, told in ((76.0, 1), (76.4, 0)):
        rods = tuple(replace(r, origin=(*r.origin[:2], r.origin[2] + apart)) for r in high.rods)
        up = replace(high, shelf="upper", rods=rods, top=high.top + apart)
        for pair in ((low, up), (up, low)):
            assert (
                len([w for _, w in clashes(pair) if "closer together" in w.replace("\n", " ")])
                == told
            )
