"""One sheet as it is cut up: parts with their letters, numbered cuts, the grain, what is kept of it."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely import box as shapely_box
from shapely import union_all

from ledgewright.draw import Arrow, Drawing, Fill, Item, Polyline, Text, fit, text_width
from ledgewright.plane import Ring
from ledgewright.sheets.say import Say
from ledgewright.shop.nest import Layout, Offcut, Placed

NAME, SMALL = 4.2, 2.9
"""Lettering of a part's letter, and of its size and the numbers of cuts (mm of paper)."""
ROOM = 1.5
"""Blank round lettering inside a part (mm of paper)."""


def sheet_view(
    layout: Layout,
    number: int,
    name: str,
    say: Say,
    box: tuple[float, float],
    *,
    kept: Sequence[tuple[str, Offcut]],
    grain: bool,
) -> Drawing:
    """Return a sheet from above, its length across the paper.

    Args:
        layout: how it is cut.
        number: which of the sheets of its panel.
        name: of the panel.
        say: how the job writes.
        box: width and height of the paper there is (mm).
        kept: what is kept of it, by name.
        grain: whether the sheet has a grain, which runs along its length.

    Raises:
        TooLarge: if it does not go on the paper at any round scale.
    """
    size = f"{say.bare(layout.sheet.length)} × {say.bare(layout.sheet.width)}"

    def items(scale: float) -> list[Item]:
        made: list[Item] = [
            Polyline("cut", _rect(0, 0, layout.sheet.length, layout.sheet.width), True)
        ]
        for placed in layout.placed:
            made += _part(placed, say, scale)
        for called, rest in kept:
            made += _kept(called, rest, say, scale)
        made += _cuts(layout, scale)
        if grain:
            made += _grain(layout, scale)
        return made

    return fit(
        f"{name}, sheet {number}",
        f"Sheet {number} of {name}, {size}: {len(layout.placed)} parts and {len(layout.cuts)} numbered cuts",
        items,
        box,
    )


def _rect(x: float, y: float, length: float, width: float) -> Ring:
    return ((x, y), (x + length, y), (x + length, y + width), (x, y + width))


def _part(placed: Placed, say: Say, scale: float) -> list[Item]:
    made: list[Item] = []
    for x, y, far, high in placed.boxes:
        made += [Fill("hatch", _rect(x, y, far - x, high - y), "tone")]
    made += [Polyline("seen", outline(placed), closed=True)]
    x, y, far, high = max(placed.boxes, key=lambda b: (b[2] - b[0]) * (b[3] - b[1]))
    size = f"{say.bare(placed.length)} × {say.bare(placed.width)}"
    middle = ((x + far) / 2, (y + high) / 2)
    wide, tall = (far - x) * scale - 2 * ROOM, (high - y) * scale - 2 * ROOM
    text = f"{placed.name}  {size}"
    if text_width(text, SMALL) <= wide and tall > SMALL:
        made.append(Text(middle, text, size=SMALL, anchor="middle", base="middle"))
    elif text_width(placed.name, SMALL) <= wide and tall > SMALL:
        made.append(Text(middle, placed.name, size=SMALL, anchor="middle", base="middle"))
    return made


def outline(placed: Placed) -> Ring:
    """Return the corners of a part as it lies: four, or the six of an L.

    Args:
        placed: the part.
    """
    if placed.notch is None:
        return _rect(placed.x, placed.y, placed.length, placed.width)
    joined = union_all([shapely_box(*each) for each in placed.boxes]).simplify(1e-9)
    return tuple((x, y) for x, y in shapely.get_coordinates(joined.boundary)[:-1].tolist())


def _kept(called: str, rest: Offcut, say: Say, scale: float) -> list[Item]:
    """Its name, with its size where there is room for both."""
    middle = (rest.x + rest.length / 2, rest.y + rest.width / 2)
    wide, tall = rest.length * scale - 2 * ROOM, rest.width * scale - 2 * ROOM
    for text in (f"{called}  {say.bare(rest.length)} × {say.bare(rest.width)}", called):
        if text_width(text, SMALL) <= wide and tall > SMALL:
            return [Text(middle, text, size=SMALL, anchor="middle", base="middle")]
    return []


def _cuts(layout: Layout, scale: float) -> list[Item]:
    made: list[Item] = []
    for cut in layout.cuts:
        across = cut.axis == "across"
        ends = (
            ((cut.at, cut.start), (cut.at, cut.end))
            if across
            else ((cut.start, cut.at), (cut.end, cut.at))
        )
        made.append(Polyline("hidden", ends))
        at = cut.start + min(0.12 * cut.length, 9.0 / scale)
        where = (cut.at, at) if across else (at, cut.at)
        made.append(
            Text(
                where,
                str(cut.number),
                size=SMALL,
                anchor="middle",
                base="middle",
                bold=True,
                clear=True,
            )
        )
    return made


def _grain(layout: Layout, scale: float) -> list[Item]:
    """An arrow above the sheet along its grain."""
    up = layout.sheet.width + 5.0 / scale
    far = min(layout.sheet.length, 40.0 / scale)
    return [
        Arrow("dimension", (0.0, up), (far, up), both=True),
        Text((far + 2.0 / scale, up), "GRAIN", size=SMALL, base="middle"),
    ]
