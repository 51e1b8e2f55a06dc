"""A drawing as SVG at true size: mm of paper, presentation attributes only, the same bytes each time."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from html import escape
from itertools import groupby

from ledgewright.draw.lay import flat_bounds, lay
from ledgewright.draw.letters import FAMILY, printable
from ledgewright.draw.model import Arc, Circle, Drawing, Fill, Flat, Polyline, Strokes, Text
from ledgewright.draw.styles import INK, MARGIN, STYLES, TONES
from ledgewright.plane import Point


def number(value: float) -> str:
    """Return a figure to three decimals without idle noughts and without a minus before nought."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text


def svg(drawing: Drawing, box: tuple[float, float, float, float] | None = None) -> str:
    """Return the drawing as an SVG document whose width, height and user units are mm of paper.

    Its box is the ink's own with a blank edge of 0.3 mm, or the one given. Lettering stays text in the packaged family.

    Args:
        drawing: what is drawn.
        box: least x and y, greatest x and y of the paper to show (mm), where its place on a page counts.
    """
    flats = lay(drawing)
    if box is None:
        x0, y0, x1, y1 = flat_bounds(flats)
        box = (x0 - MARGIN, y0 - MARGIN, x1 + MARGIN, y1 + MARGIN)
    width, height = number(box[2] - box[0]), number(box[3] - box[1])
    page = Sheet(box[0], box[3])
    words = [
        f"<title>{escape(printable(drawing.title)[0], quote=False)}</title>",
        f"<desc>{escape(printable(drawing.description)[0], quote=False)}</desc>",
    ]
    return "\n".join([head(width, height), *words, *page.groups(flats), "</svg>"]) + "\n"


def head(width: str, height: str) -> str:
    """Return the opening tag of a document in mm of paper."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm"'
        f' viewBox="0 0 {width} {height}" role="img">'
    )


class Sheet:
    """Turns paper coordinates (y up) into those of the file (y down from its upper left corner)."""

    def __init__(self, left: float, top: float) -> None:
        self._left, self._top = left, top

    def groups(self, flats: Iterable[Flat]) -> list[str]:
        """Return neighbours of one look as one group, in the order they are painted."""
        return [
            f"<g {look}>\n" + "\n".join(self._one(flat) for flat in these) + "\n</g>"
            for look, these in groupby(flats, _look)
        ]

    def xy(self, point: Point) -> str:
        """Return a point of paper as the file writes it."""
        return f"{number(point[0] - self._left)} {number(self._top - point[1])}"

    def _path(self, points: Sequence[Point], closed: bool) -> str:
        return "M" + "L".join(self.xy(p) for p in points) + ("Z" if closed else "")

    def _one(self, flat: Flat) -> str:
        match flat:
            case Polyline():
                return f'<path d="{self._path(flat.points, flat.closed)}"/>'
            case Strokes():
                return f'<path d="{"".join(self._path(pair, False) for pair in flat.segments)}"/>'
            case Fill():
                rings = (flat.ring, *flat.holes)
                return f'<path d="{"".join(self._path(ring, True) for ring in rings)}"/>'
            case Circle():
                x, y = self.xy(flat.centre).split()
                return f'<circle cx="{x}" cy="{y}" r="{number(flat.radius)}"/>'
            case Arc():
                return f'<path d="{self._arc(flat)}"/>'
            case Text():
                return self._text(flat)

    def _arc(self, arc: Arc) -> str:
        ends = [
            (arc.centre[0] + arc.radius * math.cos(a), arc.centre[1] + arc.radius * math.sin(a))
            for a in (arc.start, arc.end)
        ]
        large = int((arc.end - arc.start) % math.tau > math.pi)
        r = number(arc.radius)
        return f"M{self.xy(ends[0])}A{r} {r} 0 {large} 0 {self.xy(ends[1])}"

    def _text(self, text: Text) -> str:
        x, y = self.xy(text.at).split()
        degrees = number(-math.degrees(text.angle))
        turned = f' transform="rotate({degrees} {x} {y})"' if degrees != "0" else ""
        return f'<text x="{x}" y="{y}"{turned}>{escape(text.text, quote=False)}</text>'


def _look(flat: Flat) -> str:
    """Return the presentation attributes of a primitive, in a fixed order."""
    style = STYLES[flat.layer]
    if isinstance(flat, Fill):
        return f'fill="{TONES[flat.pattern]}" fill-rule="evenodd" stroke="none"'
    if isinstance(flat, Text):
        weight = ' font-weight="700"' if flat.bold else ""
        return (
            f'fill="{INK}" stroke="none" font-family="{FAMILY}"'
            f' font-size="{number(flat.size)}"{weight} text-anchor="{flat.anchor}"'
        )
    dash = f' stroke-dasharray="{" ".join(map(number, style.dash))}"' if style.dash else ""
    return (
        f'fill="none" stroke="{INK}" stroke-width="{number(style.weight)}"{dash}'
        ' stroke-linecap="butt" stroke-linejoin="round"'
    )
