"""Every drawing of a packet, made once, and its place on a page."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from ledgewright import draw
from ledgewright.plan import Plan
from ledgewright.sheets.model import Picture

Drawings = Mapping[str, draw.Drawing]


def drawings(plan: Plan) -> dict[str, draw.Drawing]:
    """Return every drawing of the packet by name: "plan corner", "wall corner A", "move corner 1"."""
    return {}


def cutting(plan: Plan) -> dict[str, tuple[draw.Operation, ...]]:
    """Return what goes to DXF in real size: the outline of each shelf, finished and before the scribe."""
    many = len(plan.designs) > 1
    return {
        f"template {d.spec.id}" if many else "template": (
            ("FINISHED", (draw.Polyline("cut", d.frame.outline, closed=True),)),
            ("BLANK", (draw.Polyline("seen", d.frame.blank, closed=True),)),
        )
        for d in plan.designs
    }


def picture(made: Drawings, name: str) -> Picture | None:
    """Return a drawing set for a page at its own scale, or None if there is none of that name.

    Args:
        made: from `drawings`.
        name: of the drawing.
    """
    if name not in made:
        return None
    drawing = made[name]
    svg = draw.svg(drawing)
    width, height = _paper(svg)
    return Picture(svg, width, height, scale(drawing.scale), drawing.title)


def scale(value: float) -> str:
    """Return a scale as it is written on a drawing, "1:8" or "full size"."""
    ratio = Fraction(value).limit_denominator(1000)
    return "full size" if ratio == 1 else f"{ratio.numerator}:{ratio.denominator}"


def _paper(svg: str) -> tuple[float, float]:
    """Read the size on paper (mm) from the head of our own SVG, where it stands in whole."""
    head = svg[: svg.index(">")]
    width, height = (head.split(f' {side}="')[1].split("mm")[0] for side in ("width", "height"))
    return float(width), float(height)
