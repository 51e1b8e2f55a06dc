"""The scribed edges at true size: over sheets of home paper to be joined, and each on one long sheet."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from shapely.geometry import LineString, MultiLineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from ledgewright import draw, layout
from ledgewright.draw import Circle, Drawing, Item, Polyline, Strokes, Text
from ledgewright.judge import Design
from ledgewright.layout import Scribed
from ledgewright.plan import Plan
from ledgewright.plane import Line, Point
from ledgewright.sheets import cuts
from ledgewright.sheets.model import Picture
from ledgewright.sheets.say import Say

LIVE = (240.0, 140.0)
"""Width and height of what one tile shows (mm): with 10 mm blank all round it goes on A4 and Letter, turned."""

OVERLAP = 10.0
"""What neighbouring tiles share (mm): more than a home printer leaves blank (3 to 7 mm)."""

ABOVE, BELOW = 14.0, 12.0
"""Paper shown past the blank's edge, and past the datum line (mm)."""

CROSS = 4.0
"""Half the width of a registration cross (mm)."""

LONGEST = 5000.0
"""The longest sheet a PDF can say (mm; 14,400 points)."""


@dataclass(frozen=True)
class Window:
    """What one tile shows of an edge: its row and column, counted from 1, and the box in the edge's own figures."""

    row: int
    column: int
    box: tuple[float, float, float, float]


@dataclass(frozen=True)
class Tile:
    """One tile to print: its picture at full size, what it is, how it is joined."""

    picture: Picture
    title: str
    about: str
    join: str


@dataclass(frozen=True)
class TileSet:
    """The tiles of one shelf on one paper, with the map of how they lie and how the template is used."""

    title: str
    about: str
    unit: str
    map: Picture
    lines: tuple[str, ...]
    tiles: tuple[Tile, ...]


def windows(edge: Scribed) -> tuple[Window, ...]:
    """Return the tiles of an edge that show any of it, row by row from the wall, n = ceil((T - o) / (s - o)) a row.

    Args:
        edge: the scribed edge; its figures run along it and, upwards on paper, towards the wall.
    """
    return over(_extent(edge), _drawn_lines(edge))


def over(extent: tuple[float, float, float, float], lines: Sequence[Line]) -> tuple[Window, ...]:
    """Return the tiles over an extent that show any of some lines, row by row from the top.

    Args:
        extent: least x and y, greatest x and y (mm).
        lines: what is drawn.
    """
    x0, y0, x1, y1 = extent
    (wide, high), step = LIVE, (LIVE[0] - OVERLAP, LIVE[1] - OVERLAP)
    count = [
        max(1, math.ceil((span - OVERLAP) / each - 1e-9))
        for span, each in zip((x1 - x0, y1 - y0), step, strict=True)
    ]
    shapes = [LineString(line) for line in lines]
    found = []
    for row in range(count[1]):
        for column in range(count[0]):
            left, top = x0 + column * step[0], y1 - row * step[1]
            window = (left, top - high, left + wide, top)
            if any(shape.intersects(box(*window)) for shape in shapes):
                found.append(Window(row + 1, column + 1, window))
    return tuple(found)


def datum(edge: Scribed) -> float:
    """Return how far the template's datum line lies from the blank's edge (mm): 40 mm or more, past all that is cut."""
    return max(40.0, 10.0 * math.ceil((edge.most + 15.0) / 10.0))


def upward(line: Sequence[Point]) -> Line:
    """Return a line of an edge as it lies on paper: the wall up, what is taken off counting down."""
    return tuple((x, -take) for x, take in line)


def tile_set(plan: Plan, design: Design, found: Sequence[Scribed]) -> TileSet:
    """Return the tiles of a shelf's scribed edges; they are the same on A4 and on Letter.

    Args:
        plan: the whole job.
        design: the shelf.
        found: its scribed edges, one at least.
    """
    say = Say.of(plan.job.meta)
    made = [
        _tile(design, edge, letter, window, windows(edge), say)
        for letter, edge in _lettered(found)
        for window in windows(edge)
    ]
    return TileSet(
        title="Scribe at true size",
        about=f"shelf {design.spec.title}",
        unit=say.unit,
        map=_map(design, found),
        lines=(
            "Print at 100 % (actual size, never fit to page). Check both bars on every tile: 100 mm.",
            "Trim neither side; lay the crosses of one tile on those of the next against the light, and tape.",
            *(f"{letter}: {_use(design, edge, say)}" for letter, edge in _lettered(found)),
            "Thick line: the wall. Dashes: straight cuts. Thin line: the blank's own edge. Dash and dot: datum.",
        ),
        tiles=tuple(made),
    )


def long_sheets(plan: Plan, design: Design, found: Sequence[Scribed]) -> TileSet:
    """Return every scribed edge of a shelf on one long sheet each, where a PDF can hold it.

    Args:
        plan: the whole job.
        design: the shelf.
        found: its scribed edges, one at least.
    """
    say, made = Say.of(plan.job.meta), []
    for letter, edge in _lettered(found):
        window = _extent(edge)
        if window[2] - window[0] + 40.0 <= LONGEST:
            whole = Window(1, 1, window)
            made.append(_tile(design, edge, letter, whole, (whole,), say))
    return TileSet(
        title="Scribe at true size, one long sheet",
        about=f"shelf {design.spec.title}",
        unit=say.unit,
        map=_map(design, found),
        lines=(),
        tiles=tuple(made),
    )


def _lettered(found: Sequence[Scribed]) -> list[tuple[str, Scribed]]:
    return [(chr(ord("A") + k % 26), edge) for k, edge in enumerate(found)]


def _use(design: Design, edge: Scribed, say: Say) -> str:
    """How the template of one edge lies on the blank."""
    deep = datum(edge)
    said = f"{cuts.named(design, edge)}; thin line on the blank's edge"
    if edge.side != "back":
        return f"{said}, datum {say.thickness(deep)} in from it."
    leg = next(leg for leg in design.frame.legs if leg.wall == edge.leg)
    front = leg.depth + max(design.spec.scribe_allowance, edge.bow) - deep
    return f"{said}, datum {say.thickness(front)} from the front edge and parallel to it."


def _extent(edge: Scribed) -> tuple[float, float, float, float]:
    return (edge.face[0][0] - 6.0, -datum(edge) - BELOW, edge.face[-1][0] + 6.0, ABOVE)


def _drawn_lines(edge: Scribed) -> tuple[Line, ...]:
    """The face, the straight cuts, the blank's edge and the datum, as they lie on paper."""
    a, b = edge.face[0][0], edge.face[-1][0]
    deep = -datum(edge)
    return (upward(edge.face), upward(edge.cuts), ((a, 0.0), (b, 0.0)), ((a, deep), (b, deep)))


def _tile(
    design: Design,
    edge: Scribed,
    letter: str,
    window: Window,
    every: Sequence[Window],
    say: Say,
) -> Tile:
    items = _items(design, edge, window, every, say)
    picture = at_true_size(f"Scribe, {cuts.named(design, edge)}", items, window)
    of = len({each.column for each in every})
    number = _number(letter, window, every)
    left = "crosses at its left end on those of the tile before" if window.column > 1 else ""
    right = f"{letter}{window.column + 1} goes on at the right" if window.column < of else ""
    return Tile(
        picture=picture,
        title=f"{number} of {of}" if of > 1 else number,
        about=f"{cuts.named(design, edge)}, shelf {design.spec.title}",
        join="; ".join(filter(None, (left, right))),
    )


def at_true_size(title: str, items: Sequence[Item], window: Window) -> Picture:
    """Return one tile's picture at full size, with room round it for crosses.

    Args:
        title: what it shows.
        items: drawn in the figures of the window, cut to it by the caller.
        window: the tile.
    """
    drawing = Drawing(title, f"{title}, at true size, part {window.column}", tuple(items), 1.0)
    x0, y0, x1, y1 = window.box
    paper = (x0 - CROSS, y0 - CROSS, x1 + CROSS, y1 + CROSS)
    return Picture(
        draw.svg(drawing, paper), paper[2] - paper[0], paper[3] - paper[1], "full size", ""
    )


def _number(letter: str, window: Window, every: Sequence[Window]) -> str:
    """What a tile of an edge is called: by its column, and by its row where there are several."""
    columns, rows = ({each.column for each in every}, {each.row for each in every})
    column = f"{window.column}" if len(columns) > 1 else ""
    return letter + column + (f", row {window.row}" if len(rows) > 1 else "")


def _items(
    design: Design, edge: Scribed, window: Window, every: Sequence[Window], say: Say
) -> list[Item]:
    x0, y0, x1, y1 = window.box
    frame = box(*window.box)
    face, sawn, blank, line = _drawn_lines(edge)
    items: list[Item] = []
    looks: tuple[tuple[draw.Layer, Line], ...] = (
        ("seen", blank),
        ("datum", line),
        ("hidden", sawn),
        ("cut", face),
    )
    for layer, points in looks:
        items += inside(layer, points, frame)
    items += joints(window, every)
    items += _stations(design, edge, window.box, say)
    for a, b in pairwise(edge.cuts):
        for x, take in (a, b):
            if x0 + 2 <= x <= x1 - 2 and y0 + 2 <= -take <= y1 - 2:
                items.append(Circle("hidden", (x, -take), 1.2))
    middle = (x0 + x1) / 2
    if y0 < ABOVE - 4 < y1 + 1e-6:
        items.append(
            Text((middle, ABOVE - 5.0), "WALL SIDE", size=3.2, anchor="middle", base="middle")
        )
    if y0 < line[0][1] < y1:
        items.append(
            Text((middle, line[0][1]), "DATUM", size=3.2, anchor="middle", nudge=(0.0, -4.2))
        )
    return items


def crosses(window: Window, every: Sequence[Window]) -> tuple[Point, ...]:
    """Return the registration crosses of a tile: in each overlap two on either edge of it, shared with its neighbour.

    Args:
        window: the tile.
        every: all tiles of its edge.
    """
    x0, y0, x1, y1 = window.box
    at = {(each.row, each.column) for each in every}
    places: list[Point] = []
    heights, widths = (y1 - 6.0, y0 + 6.0), (x0 + 30.0, x1 - 30.0)
    for side, columns in ((-1, (x0, x0 + OVERLAP)), (1, (x1 - OVERLAP, x1))):
        if (window.row, window.column + side) in at:
            places += [(x, y) for x in columns for y in heights]
    for side, rows in ((-1, (y1, y1 - OVERLAP)), (1, (y0 + OVERLAP, y0))):
        if (window.row + side, window.column) in at:
            places += [(x, y) for y in rows for x in widths]
    return tuple(places)


def joints(window: Window, every: Sequence[Window]) -> list[Item]:
    """Return the registration crosses of a tile, drawn. Arguments as of `crosses`."""
    return [Strokes("mark", _cross(p)) for p in crosses(window, every)]


def inside(layer: draw.Layer, points: Line, frame: Polygon) -> list[Item]:
    """Return the parts of a line that lie within a frame.

    Args:
        layer: what kind of line it is.
        points: the line (mm).
        frame: the box of a tile.
    """
    return [Polyline(layer, p) for p in _parts(LineString(points).intersection(frame))]


def _cross(at: Point) -> tuple[tuple[Point, Point], ...]:
    x, y = at
    return (((x - CROSS, y), (x + CROSS, y)), ((x, y - CROSS), (x, y + CROSS)))


def _parts(shape: BaseGeometry) -> list[Line]:
    lines = shape.geoms if isinstance(shape, MultiLineString) else [shape]
    return [
        tuple((float(x), float(y)) for x, y in line.coords)
        for line in lines
        if isinstance(line, LineString) and not line.is_empty
    ]


def _stations(
    design: Design, edge: Scribed, window: tuple[float, float, float, float], say: Say
) -> list[Item]:
    """A tick across the face at each station, its place as the tape shows it, under the line."""
    x0, y0, x1, y1 = window
    found: list[Item] = []
    for x, take in edge.face:
        y = -take
        if not (x0 + 8 <= x <= x1 - 8 and y0 + 16 <= y <= y1 - 4):
            continue
        found.append(Strokes("dimension", (((x, y - 3.0), (x, y + 3.0)),)))
        found.append(
            Text(
                (x, y),
                cuts.where(design, edge, x, say),
                size=3.0,
                anchor="middle",
                base="head",
                nudge=(0.0, -4.0),
            )
        )
    return found


def _map(design: Design, found: Sequence[Scribed]) -> Picture:
    """Where each tile lies: the plan of the shelf with the windows over its edges."""
    items: list[Item] = [
        Polyline("seen", design.frame.outline, closed=True),
        Polyline("hidden", design.frame.blank, closed=True),
    ]
    for letter, edge in _lettered(found):
        every = windows(edge)
        for window in every:
            x0, y0, x1, y1 = window.box
            ring = tuple(edge.at((x, -y)) for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1)))
            items.append(Polyline("sweep", ring, closed=True))
            items.append(
                Text(
                    edge.at(((x0 + x1) / 2, -(y0 + y1) / 2)),
                    _number(letter, window, every),
                    size=3.2,
                    anchor="middle",
                    base="middle",
                    clear=True,
                )
            )
    drawing = draw.fit(
        "Tile map",
        f"Where each tile lies on shelf {design.spec.title}",
        lambda _: items,
        (180.0, 120.0),
    )
    return as_picture(drawing, "Tile map, from above")


def as_picture(drawing: Drawing, caption: str, scale: str = "") -> Picture:
    """Return a drawing set for a page.

    Args:
        drawing: with its own scale.
        caption: what it shows.
        scale: in words, where that is to be told.
    """
    svg = draw.svg(drawing)
    head = svg[: svg.index(">")]
    width, height = (float(head.split(f' {s}="')[1].split("mm")[0]) for s in ("width", "height"))
    return Picture(svg, width, height, scale, caption)


def outline_drawing(plan: Plan, design: Design, found: Sequence[Scribed]) -> Drawing:
    """Return the whole outline at true size: finished, as sawn in straight cuts, and the blank.

    Args:
        plan: the whole job.
        design: the shelf.
        found: its scribed edges; none leaves the outline alone.
    """
    frame = design.frame
    items: list[Item] = [
        Polyline("seen", frame.blank, closed=True),
        Polyline("cut", frame.outline, closed=True),
    ]
    if found:
        sawn = layout.sawn_outline(design.room, design.spec, frame, found)
        items.append(Polyline("hidden", sawn, closed=True))
    return Drawing(
        f"Outline, shelf {design.spec.title}, full size",
        f"Finished outline, straight cuts and blank of shelf {design.spec.title} of {plan.job.meta.name}, from above",
        tuple(items),
        1.0,
    )
