"""The numbered parts of a shelf's top in plan, with the things on it: what the load cases name."""

from __future__ import annotations

from collections.abc import Iterator

from ledgewright.draw import Drawing, Fill, Item, Polyline, Text, fit
from ledgewright.judge import Design
from ledgewright.layout import Rod
from ledgewright.plane import Point
from ledgewright.sheets.views.common import rod_items, shown, under, wall_items
from ledgewright.sheets.views.facing import as_faced, facing
from ledgewright.statics import Laid, LoadPart


def laid_view(design: Design, laid: Laid, box: tuple[float, float]) -> Drawing:
    """Return the plan with the parts of the top by number, in front and behind, and what stands on it.

    Args:
        design: the shelf, no wall of which is withheld.
        laid: its loads in parts.
        box: width and height of the paper there is (mm).

    Raises:
        TooLarge: if it does not go on the paper at any round scale.
    """
    turned = facing(design)
    views = shown(turned)
    outline = turned.frame.outline
    items: list[Item] = [item for view in views for item in wall_items(view)]
    items += [Fill("cut", outline, "paper"), *rod_items(turned.frame.rods)]
    for part in laid.parts:
        items += _part(design, turned, part)
    items += [Polyline("cut", outline, closed=True), *(_mark(rod) for rod in turned.frame.rods)]
    note = "Each part has its number in front and behind; things as they stand."
    return fit(
        f"Parts of the loads, shelf {design.spec.title}",
        f"Shelf {design.spec.title} from above in numbered parts",
        lambda scale: [*items, under(items, scale, note)],
        box,
    )


def _part(design: Design, turned: Design, part: LoadPart) -> Iterator[Item]:
    """A part of the top with its number, or a thing with its name; places where one thing may stand are not drawn."""
    ring = as_faced(design, turned, part.plan)
    (at,) = as_faced(design, turned, (part.at,))
    if part.kind == "dead":
        yield Polyline("hidden", ring, closed=True)
        yield _said(at, part.part.split()[0])
    elif part.kind == "live" and not part.part:
        yield Polyline("seen", ring, closed=True)
        yield _said(at, part.load)


def _mark(rod: Rod) -> Text:
    """The mark of a rod behind its end in the wall: in front of it there are numbers."""
    x, y, _ = rod.axis
    return Text(
        rod.point(-rod.embedment),
        rod.mark,
        anchor="middle",
        base="middle",
        nudge=(-5.0 * x, -5.0 * y),
        bold=True,
    )


def _said(at: Point, text: str) -> Text:
    return Text(at, text, size=3.2, anchor="middle", base="middle", clear=True)
