"""Line weights, dashes and hatches by meaning, in mm of paper.

Line types follow ISO 128-2 as far as remembered (from memory): wide to narrow as 2 to 1; dashed lines of
12 and 3 line widths; long-dashed dotted lines of 24, 3, 0.5 and 3; long-dashed double-dotted lines for a
part in another position.
"""

from __future__ import annotations

from dataclasses import dataclass

from ledgewright.draw.model import Layer, Pattern

INK = "#000000"
PAPER = "#ffffff"
MARGIN = 0.3
"""Blank edge round a drawing (mm of paper), so that rounding to three places cuts no ink."""


@dataclass(frozen=True)
class Style:
    """One kind of line: its weight and its dashes (mm of paper), and the index of its colour in a DXF."""

    weight: float
    dash: tuple[float, ...]
    colour: int


def _dashed(weight: float, *widths: float) -> tuple[float, ...]:
    return tuple(weight * w for w in widths)


STYLES: dict[Layer, Style] = {
    "cut": Style(0.5, (), 7),
    "seen": Style(0.35, (), 7),
    "hidden": Style(0.25, _dashed(0.25, 12, 4), 8),
    "centre": Style(0.18, _dashed(0.18, 24, 4, 1, 4), 4),
    "dimension": Style(0.18, (), 3),
    "hatch": Style(0.13, (), 9),
    "text": Style(0.18, (), 7),
    "slot": Style(0.35, (), 1),
    "sweep": Style(0.25, _dashed(0.25, 24, 4, 1, 4, 1, 4), 6),
    "wall": Style(0.5, (), 5),
    "mark": Style(0.5, (), 2),
    "datum": Style(0.35, _dashed(0.35, 24, 4, 1, 4), 5),
}

HATCHES: dict[Pattern, tuple[tuple[float, float], ...]] = {
    "section": ((45.0, 2.4),),
    "section back": ((135.0, 2.4),),
    "steel": ((45.0, 0.9),),
    "glue": ((0.0, 0.7), (90.0, 0.7)),
    "wood": ((20.0, 1.8),),
    "no wood": ((45.0, 1.8), (135.0, 1.8)),
    "board": ((90.0, 1.2),),
}
"""Angle (degrees) and pitch (mm of paper) of each set of hatch lines."""

TONES: dict[Pattern, str] = {"tone": "#e4e4e4", "solid": INK, "paper": PAPER}
