"""What a drawing is made of: geometry in mm of the thing drawn, lettering in mm of paper.

A drawing's y axis points up. `scale` is paper over thing, 1/8 for a drawing at 1:8. Each item carries
the meaning of its line (its `layer`); weight and dashes follow from that alone.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ledgewright.plane import Line, Point, Ring

Layer = Literal[
    "cut",
    "seen",
    "hidden",
    "centre",
    "dimension",
    "hatch",
    "text",
    "slot",
    "sweep",
    "wall",
    "mark",
    "datum",
]
Pattern = Literal[
    "section", "section back", "steel", "glue", "wood", "no wood", "board", "tone", "solid", "paper"
]
Anchor = Literal["start", "middle", "end"]
Base = Literal["foot", "middle", "head"]

LETTERING = 3.9
"""Usual size of lettering (mm of paper): 11 points, capitals 2.6 mm high."""


@dataclass(frozen=True)
class Polyline:
    """Straight strokes through points."""

    layer: Layer
    points: Line
    closed: bool = False


@dataclass(frozen=True)
class Circle:
    """A full circle."""

    layer: Layer
    centre: Point
    radius: float


@dataclass(frozen=True)
class Arc:
    """A circular arc, counter-clockwise from `start` to `end` (rad)."""

    layer: Layer
    centre: Point
    radius: float
    start: float
    end: float


@dataclass(frozen=True)
class Fill:
    """An area with holes, hatched or toned; it has no edge of its own."""

    layer: Layer
    ring: Ring
    pattern: Pattern
    holes: tuple[Ring, ...] = ()


@dataclass(frozen=True)
class Strokes:
    """Many separate straight strokes of one kind."""

    layer: Layer
    segments: tuple[tuple[Point, Point], ...]


@dataclass(frozen=True)
class Text:
    """Lettering at a point: lines parted by a line feed, `size` and `nudge` in mm of paper, `angle` in rad.

    `base` says whether the foot of the last line, the middle or the head of the first line stands at the
    point. `clear` wipes the paper under it.
    """

    at: Point
    text: str
    size: float = LETTERING
    anchor: Anchor = "start"
    base: Base = "foot"
    angle: float = 0.0
    nudge: Point = (0.0, 0.0)
    bold: bool = False
    clear: bool = False
    layer: Layer = "text"


@dataclass(frozen=True)
class Arrow:
    """A straight arrow from start to end; `head` is its length in mm of paper."""

    layer: Layer
    start: Point
    end: Point
    head: float = 3.0
    both: bool = False


@dataclass(frozen=True)
class Ticks:
    """Short strokes across `direction` at points, `size` long in mm of paper."""

    layer: Layer
    at: Line
    direction: Point
    size: float = 3.0


@dataclass(frozen=True)
class Leader:
    """A label with a line to what it names: the label stands `by` mm of paper away from the tip."""

    tip: Point
    by: Point
    label: str
    size: float = LETTERING
    head: Literal["arrow", "dot"] = "dot"
    layer: Layer = "dimension"


@dataclass(frozen=True)
class Chain:
    """Dimensions end to end: one label for each pair of neighbouring points, read along `direction`.

    The dimension line runs along the unit vector `direction`, `offset` mm of paper to the left of the
    point `through` (to its right if negative). Labels too wide for their gap are led out past the line.
    """

    points: Line
    labels: tuple[str, ...]
    direction: Point
    through: Point
    offset: float
    size: float = LETTERING
    layer: Layer = "dimension"


@dataclass(frozen=True)
class Running:
    """Dimensions that all count from `zero`, lettered across the line and spread apart where they crowd.

    Where zero is None, the figures count from a place off the drawing, and only the points are shown.
    """

    zero: Point | None
    points: Line
    labels: tuple[str, ...]
    direction: Point
    through: Point
    offset: float
    zero_label: str = "0"
    size: float = LETTERING
    layer: Layer = "dimension"


Flat = Polyline | Circle | Arc | Fill | Strokes | Text
Item = Flat | Arrow | Ticks | Leader | Chain | Running


@dataclass(frozen=True)
class Drawing:
    """One picture: its title, what it shows in a sentence for those who cannot see it, items and scale."""

    title: str
    description: str
    items: tuple[Item, ...]
    scale: float
