"""Cut a sheet up as a list of cuts says, and look at the pieces by geometry of another library.

Independent of the program's own trees: only the numbered cuts, the kerf and the sheet are read.
"""

from __future__ import annotations

from itertools import combinations

import pytest
from shapely import box
from shapely.ops import unary_union

from ledgewright.shop.nest import Layout, Piece, Placed

Rect = tuple[float, float, float, float]
NEAR = 0.021
"""Nothing is sawn off for less than 0.02 mm; a piece may come out so much large, never small."""


def sawn(layout: Layout, kerf: float) -> dict[int, Rect]:
    """Return the panels that are left when all cuts are made in the order listed, as (x, y, length, width).

    Raises:
        AssertionError: a cut is not right through its panel, or makes what it does not say.
    """
    panels: dict[int, Rect] = {0: (0.0, 0.0, layout.sheet.length, layout.sheet.width)}
    for number, cut in enumerate(layout.cuts, 1):
        assert cut.number == number
        x, y, length, width = panels.pop(cut.panel)
        across = cut.axis == "across"
        begin, run, whole = (y, width, length) if across else (x, length, width)
        assert abs(cut.start - begin) < 1e-9
        assert abs(cut.end - begin - run) < 1e-9
        assert 0 < cut.setting < whole
        rest = whole - cut.setting - kerf
        near, far = cut.makes
        if cut.why == "trim":
            # The factory edge falls off at the near side; what is kept lies against the fence at the far one.
            step = whole - cut.setting
            panels[near] = (
                (x + step, y, cut.setting, width) if across else (x, y + step, length, cut.setting)
            )
            continue
        panels[near] = (x, y, cut.setting, width) if across else (x, y, length, cut.setting)
        assert (far is not None) == (rest > 0.02)
        if far is not None:
            step = cut.setting + kerf
            panels[far] = (x + step, y, rest, width) if across else (x, y + step, length, rest)
    return panels


def comes_out(layout: Layout, kerf: float) -> None:
    """Check that every piece is one panel at the end, at its size, and every offcut another, and nothing else is."""
    panels = list(sawn(layout, kerf).values())
    for piece in layout.placed:
        (found,) = (p for p in panels if abs(p[0] - piece.x) + abs(p[1] - piece.y) < 1e-6)
        assert 0 <= found[2] - piece.length + 1e-9 < NEAR
        assert 0 <= found[3] - piece.width + 1e-9 < NEAR
        panels.remove(found)
    left = sorted((o.x, o.y, o.length, o.width) for o in layout.offcuts)
    assert len(panels) == len(left)
    for panel in panels:
        assert any(panel == pytest.approx(other) for other in left)


def lies_well(layout: Layout, wanted: dict[str, Piece], kerf: float, trim: float) -> None:
    """Check size, grain, the trimmed edges, and that any two pieces stand a kerf apart."""
    sheet = box(trim, trim, layout.sheet.length - trim, layout.sheet.width - trim)
    shapes = [unary_union([box(*b) for b in piece.boxes]) for piece in layout.placed]
    for piece, shape in zip(layout.placed, shapes, strict=True):
        asked = wanted[piece.name]
        assert_size(piece, asked)
        gone = abs(asked.notch[0]) * asked.notch[1] if asked.notch else 0.0
        assert abs(shape.area - (asked.length * asked.width - gone)) < 1e-6 * shape.area
        assert sheet.buffer(1e-3).covers(shape)
    for one, other in combinations(shapes, 2):
        if kerf:
            # Square to square: a kerf apart along or across the sheet.
            grown = unary_union([one.buffer(kerf - 2e-3, cap_style="square", join_style="mitre")])
            assert grown.intersection(other).area < 1e-6
        assert one.intersection(other).area < 1e-2


def assert_size(piece: Placed, asked: Piece) -> None:
    if piece.turn % 2:
        assert asked.turns
        assert (piece.length, piece.width) == (asked.width, asked.length)
    else:
        assert (piece.length, piece.width) == (asked.length, asked.width)
