"""The guide block, the ledger and the comb of one wall at true size, for walls that may be drilled alone."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from shapely.geometry import Polygon, box

from ledgewright import draw
from ledgewright.draw import Chain, Circle, Drawing, Fill, Item, Polyline, Strokes, Text
from ledgewright.judge import Design
from ledgewright.plan import Plan
from ledgewright.plane import Line, Point, Ring
from ledgewright.sheets import tiles, walls
from ledgewright.sheets.leaves import leaves
from ledgewright.sheets.model import Picture
from ledgewright.sheets.say import Say
from ledgewright.sheets.tiles import LIVE, LONGEST, Tile, TileSet, Window
from ledgewright.site import SQUARE, Drill, Guide, Mark, guide
from ledgewright.survey import Wall

EDGE, HEAD = 6.0, 14.0
"""Paper shown past ledger and comb, and over the comb, where the crosses of the tiles are (mm)."""
APART = 10.0
"""Between the bores over the ledger and the comb drawn over them (mm)."""
LABEL = 24.0
"""Room that the figures of a rod take beside its line (mm)."""

IN_CHUCK = 25.4
"""What of a bit is held in the chuck (mm; common practice, from memory)."""

Box = tuple[float, float, float, float]


def of_wall(plan: Plan, design: Design, leave: Drill) -> Guide | None:
    """Return the guide of a wall that may be drilled, for its rods as drawn; None where no leg stands on it.

    Args:
        plan: the whole job.
        design: the shelf.
        leave: leave to drill the wall.
    """
    return guide(design.room, design.as_drawn, leave, plan.job.meta.units)


def guided(plan: Plan) -> Iterator[tuple[str, Design, Guide]]:
    """Return every wall that may be drilled and has a guide: its name among the files, the shelf, the guide.

    Args:
        plan: the whole job.
    """
    for design in plan.designs:
        for leave in leaves(plan, design):
            found = of_wall(plan, design, leave) if isinstance(leave, Drill) else None
            if found is not None:
                yield f"guide {design.spec.id} {leave.wall}", design, found


def at_least(mark: Mark) -> float:
    """Return how long the bit of a rod is at the least (mm): to its stop, and what the chuck holds.

    Args:
        mark: of the guide.
    """
    return mark.stop + IN_CHUCK


def tile_set(plan: Plan, design: Design, found: Guide) -> TileSet:
    """Return block, ledger and comb of a wall over tiles, the same on A4 and on Letter.

    Args:
        plan: the whole job.
        design: the shelf.
        found: the guide of one of its walls.
    """
    every = tiles.over(_extent(found), _outlines(found))
    return _set(plan, design, found, every, "Guide block and ledger at true size")


def long_sheets(plan: Plan, design: Design, found: Guide) -> TileSet:
    """Return the same with ledger and comb on one long sheet; without tiles where no PDF can hold it.

    Args:
        plan: the whole job.
        design: the shelf.
        found: the guide of one of its walls.
    """
    whole = (Window(1, 1, _extent(found)),)
    made = _set(plan, design, found, whole, "Guide block and ledger at true size, one long sheet")
    fits = found.end - found.start + 2 * EDGE + 40.0 <= LONGEST
    return made if fits else replace(made, tiles=())


def _set(plan: Plan, design: Design, found: Guide, every: Sequence[Window], title: str) -> TileSet:
    say, wall = Say.of(plan.job.meta), design.room.wall(found.wall)
    about = f"wall {wall.called}, shelf {design.spec.title}"
    warned = walls.warning(plan, design)
    head = f"{about}. {warned}" if warned else about
    strip = [_strip_tile(found, wall, window, every, say, head) for window in every]
    return TileSet(
        title=title,
        about=about,
        unit=say.unit,
        map=_map(found, wall, every, say),
        lines=(
            *([warned] if warned else []),
            f"Upper edge of the ledger at {say.level(found.up)} over the datum, level; shims as on the guide sheet.",
            "Print at 100 % (actual size, never fit to page). Check both bars on every tile.",
            "Block: cut, rebate and bore it to the first two tiles; measure your own ledger for the rebate.",
            "Ledger and comb: trim neither side; lay crosses on crosses, tape, and glue the strip to the boards.",
            "Edges of studs on the ledger lie on their marks on the wall; figures count from the hook of the tape.",
            "Rings over the ledger: where the bit goes in. Dash and two dots: where the block stands.",
            "A cross in a ring: a screw of the ledger.",
            *(
                ["Every bore checked with one tape from one end, never from tile to tile."]
                if len(every) > 1
                else []
            ),
        ),
        tiles=(*_block_tiles(found, say, head), *strip),
    )


def _strip_tile(
    found: Guide, wall: Wall, window: Window, every: Sequence[Window], say: Say, about: str
) -> Tile:
    of, number = len(every), window.column
    left = "Crosses at its left end on those of the tile before" if number > 1 else ""
    right = "Goes on at the right" if number < of else ""
    items = [*_strip(found, wall, window.box, say), *tiles.joints(window, every)]
    return Tile(
        picture=tiles.at_true_size(f"Ledger and comb, wall {wall.called}", items, window),
        title=f"Ledger {number} of {of}" if of > 1 else "Ledger",
        about=about,
        join=". ".join(filter(None, (left, right))),
    )


def _comb_at(found: Guide) -> float:
    """How high over the bores the middle of the comb bar is drawn."""
    return max(found.bits) / 2 + APART + found.comb_high / 2


def _extent(found: Guide) -> Box:
    """Of the strip: along from the left end of the ledger, and up from the middles of the bores."""
    long = found.end - found.start
    top = _comb_at(found) + found.comb_high / 2
    if found.comb_out is None:
        top = found.above
    return (-EDGE, -found.over - found.high - EDGE, long + EDGE, top + HEAD)


def _boards(found: Guide) -> tuple[Ring, ...]:
    """The ledger's front and, where there is one, the comb bar's, on the strip."""
    return (_ledger(found), *_bar(found))


def _ledger(found: Guide) -> Ring:
    long, top = found.end - found.start, -found.over
    return ((0.0, top - found.high), (long, top - found.high), (long, top), (0.0, top))


def _bar(found: Guide) -> tuple[Ring, ...]:
    if found.comb_out is None:
        return ()
    long, at, half = found.end - found.start, _comb_at(found), found.comb_high / 2
    return (((0.0, at - half), (long, at - half), (long, at + half), (0.0, at + half)),)


def _outlines(found: Guide) -> tuple[Line, ...]:
    return tuple((*ring, ring[0]) for ring in _boards(found))


def lines(found: Guide) -> tuple[tuple[draw.Layer, Line], ...]:
    """Return every straight line of the strip of ledger and comb.

    Args:
        found: the guide.
    """
    top, at, half = -found.over, _comb_at(found), found.comb_high / 2
    foot = top - found.high
    made: list[tuple[draw.Layer, Line]] = [("cut", line) for line in _outlines(found)]
    long = found.end - found.start
    for mark in found.marks:
        x = mark.along - found.start
        left, right, low = x - found.wide / 2, x + found.wide / 2, top - found.hangs
        high = found.above
        made.append(("centre", ((x, foot), (x, mark.bit / 2 + 4.0))))
        made.append(("sweep", ((left, high), (left, low), (right, low), (right, high))))
        edges = [e - found.start for e in mark.edges]
        made += [("hidden", ((e, foot), (e, top))) for e in edges if 0 < e < long]
    for _, along in found.in_bar:
        x = along - found.start
        made.append(("centre", ((x, at - half), (x, at + half))))
    return tuple(made)


def rings(found: Guide) -> tuple[tuple[str, Point, float], ...]:
    """Return every bore of the strip: rod, middle and radius, over the ledger and in the comb bar.

    Args:
        found: the guide.
    """
    return (*_bits(found), *_bars(found))


def _bits(found: Guide) -> tuple[tuple[str, Point, float], ...]:
    return tuple((m.rod, (m.along - found.start, 0.0), m.bit / 2) for m in found.marks)


def _bars(found: Guide) -> tuple[tuple[str, Point, float], ...]:
    at = _comb_at(found)
    return tuple((m.rod, (x - found.start, at), m.bar / 2) for m, x in found.in_bar)


def screws(found: Guide) -> tuple[Point, ...]:
    """Return where the screws of the ledger go; none where the shelf does not hide them.

    Args:
        found: the guide.
    """
    if found.screw_down is None:
        return ()
    y, long = -found.over - found.screw_down, found.end - found.start
    return tuple(
        (x, y) for mark in found.marks if 5.0 < (x := mark.screw - found.start) < long - 5.0
    )


def _strip(found: Guide, wall: Wall, window: Box, say: Say) -> list[Item]:
    frame, items = box(*window), list[Item]()
    for layer, line in lines(found):
        items += tiles.inside(layer, line, frame)
    for _, middle, radius in rings(found):
        items += _ring(middle, radius, window, frame)
    for x, y in screws(found):
        if window[0] + 4 < x < window[2] - 4:
            items.append(Circle("mark", (x, y), 2.0))
            items.append(Strokes("mark", (((x - 3, y), (x + 3, y)), ((x, y - 3), (x, y + 3)))))
    return [*items, *_names(found, wall, window, say)]


def _ring(middle: Point, radius: float, window: Box, frame: Polygon) -> list[Item]:
    """A full circle where it lies in the tile, else the part of it that does, in short strokes."""
    x, y = middle
    inside = window[0] < x - radius and x + radius < window[2]
    if inside and window[1] < y - radius and y + radius < window[3]:
        return [Circle("cut", middle, radius)]
    turns = (math.tau * k / 180 for k in range(181))
    around = tuple((x + radius * math.cos(a), y + radius * math.sin(a)) for a in turns)
    return tiles.inside("cut", around, frame)


def _names(found: Guide, wall: Wall, window: Box, say: Say) -> list[Item]:
    """Rods with their figures beside their lines, on the side where there is room in the tile; boards by name."""
    x0, _, x1, _ = window
    items: list[Item] = []
    named = [(mark, mark.along, -found.over - 19.0) for mark in found.marks]
    named += [(mark, along, _comb_at(found)) for mark, along in found.in_bar]
    for mark, along, y in named:
        x = along - found.start
        if not x0 <= x <= x1:
            continue
        right, off = x + LABEL < x1, mark.bar / 2 + 1.5 if y > 0 else 1.5
        anchor: draw.Anchor = "start" if right else "end"
        at = (x + (off if right else -off), y)
        text = f"{mark.rod}\n{say.bare(wall.taped(along))}"
        items.append(Text(at, text, anchor=anchor, base="middle", bold=True))
    return [*items, *_boards_named(found, wall, window, say)]


def _boards_named(found: Guide, wall: Wall, window: Box, say: Say) -> list[Item]:
    """What each board is, where no rod's figures stand; and where the ledger begins and ends."""
    x0, _, x1, _ = window
    long, low = found.end - found.start, -found.over - found.high
    taken = [mark.along - found.start for mark in found.marks]
    taken += [along - found.start for _, along in found.in_bar]
    free = [
        x for x in range(int(max(x0, 0)) + 30, int(min(x1, long)) - 30) if _clear(found, x, taken)
    ]
    items: list[Item] = []
    edge = f"LEDGER, FRONT\nupper edge at {say.height(found.up)}"
    if free:
        x = float(min(free, key=lambda each: abs(each - (x0 + x1) / 2)))
        items.append(Text((x, low + 12.0), edge, anchor="middle", base="middle"))
        if found.comb_out is not None:
            items.append(Text((x, _comb_at(found)), "COMB, FRONT", anchor="middle", base="middle"))
    ends = (
        (0.0, found.start, "start", "left end "),
        (long, found.end, "end", "right end "),
    )
    for x, along, anchor, named in ends:
        if x0 <= x <= x1:
            text = named + say.bare(wall.taped(along))
            # Of a tile that holds its last bit alone, past the end there is room.
            after = anchor == "start" or x - x0 < 2 * LABEL
            off, side = (1.5, "start") if after else (-1.5, "end")
            items.append(Text((x + off, low + 2.2), text, anchor=side))  # type: ignore[arg-type]
    return items


def _clear(found: Guide, x: float, taken: Sequence[float]) -> bool:
    return all(abs(x - each) > found.wide / 2 + LABEL for each in taken)


def _block_tiles(found: Guide, say: Say, about: str) -> tuple[Tile, ...]:
    """For each bit the block from the front and from the side, and from above."""
    made = []
    for bit in found.bits:
        rods = ", ".join(mark.rod for mark in found.marks if mark.bit == bit)
        which = "" if len(found.bits) == 1 else f" {say.bare(bit)}"
        for name, items in (
            ("from the front and the side", block_items(found, bit, say)),
            ("from above", above(found, bit, say)),
        ):
            window = Window(1, 1, (-LIVE[0] / 2, -LIVE[1] / 2, LIVE[0] / 2, LIVE[1] / 2))
            made.append(
                Tile(
                    picture=tiles.at_true_size(f"Guide block, {name}", items, window),
                    title=f"Block{which}, {'above' if name == 'from above' else 'front'}",
                    about=about,
                    join=f"Bit {say.bare(bit)} for {rods}",
                )
            )
    return tuple(made)


def _tall(found: Guide) -> tuple[float, float]:
    """Foot and head of the block, from the middle of its bore."""
    return (-found.over - found.hangs, found.above)


def shift(found: Guide) -> float:
    """Return how far the bore comes out of the block's front right of where it meets the front of the ledger.

    Args:
        found: the guide.
    """
    return (found.deep - found.thick) * math.tan(found.lean)


def block_items(found: Guide, bit: float, say: Say) -> list[Item]:
    """Return the block from the front and from the side, on one tile. Arguments as of `front`."""
    return [*front(found, bit, say), *_aside(found, bit, say)]


def front(found: Guide, bit: float, say: Say) -> list[Item]:
    """Return the block as you face the wall, left of the middle of its tile; the bore where the bit goes in.

    Args:
        found: the guide.
        bit: which of its bores.
        say: how the job writes.
    """
    low, high = _tall(found)
    at, lift = -72.0, -(low + high) / 2
    left, right = at - found.wide / 2, at + found.wide / 2
    bore = (at + shift(found), lift)
    foot, top, ledge = low + lift, high + lift, lift - found.over
    return [
        Polyline("cut", ((left, foot), (right, foot), (right, top), (left, top)), closed=True),
        Polyline("hidden", ((left, ledge), (right, ledge))),
        Circle("cut", bore, bit / 2),
        Strokes(
            "centre",
            (((bore[0], foot - 3), (bore[0], top + 3)), ((left - 3, lift), (right + 3, lift))),
        ),
        _across(((left, foot), (bore[0], foot), (right, foot)), say, -9.0),
        _upright(((right, foot), (right, ledge), (right, lift), (right, top)), say, -9.0),
        Text((at, top), "FROM THE FRONT", anchor="middle", nudge=(0.0, 5.0)),
    ]


def _aside(found: Guide, bit: float, say: Say) -> list[Item]:
    """The block from its right side: wall at the left, the ledger in its rebate, the bore in dashes."""
    low, high = _tall(found)
    x, lift = 28.0, -(low + high) / 2
    foot, top, ledge = low + lift, high + lift, lift - found.over
    back, rebate, out = x, x + found.thick, x + found.deep
    profile = ((back, ledge), (rebate, ledge), (rebate, foot), (out, foot), (out, top), (back, top))
    under = ledge - found.high
    ledger = ((back, under), (rebate, under), (rebate, ledge), (back, ledge))
    return [
        Fill("hatch", ledger, "wood"),
        Polyline("seen", ledger, closed=True),
        Polyline("cut", profile, closed=True),
        *(Polyline("hidden", ((back, lift + y), (out, lift + y))) for y in (-bit / 2, bit / 2)),
        Strokes("centre", (((back - 4, lift), (out + 6, lift)),)),
        _across(((back, top), (rebate, top), (out, top)), say, 9.0),
        Text((x + found.deep / 2, top), "FROM THE SIDE", anchor="middle", nudge=(0.0, 16.0)),
        Text((back, lift), "WALL", anchor="middle", angle=math.pi / 2, nudge=(-5.5, 0.0)),
        Text((back, under), "LEDGER", nudge=(0.0, -4.5)),
        Text((out, lift), "BIT", nudge=(7.0, -1.3)),
    ]


def above(found: Guide, bit: float, say: Say) -> list[Item]:
    """Return the block from above in the middle of its tile, the wall up: the bore, and how it leans.

    Args:
        found: the guide.
        bit: which of its bores.
        say: how the job writes.
    """
    half, top, lean = found.wide / 2, found.deep / 2, found.lean
    foot, ledge = top - found.deep, top - found.thick

    def axis(y: float) -> float:
        """Where the bore's axis is at a depth of the drawing."""
        return (ledge - y) * math.tan(lean)

    off = bit / 2 / math.cos(lean)
    sides = [((axis(top) + s * off, top), (axis(foot) + s * off, foot)) for s in (-1.0, 1.0)]
    told = (
        "BORE SQUARE TO THE LEDGER"
        if abs(lean) < SQUARE
        else f"BORE {abs(math.degrees(lean)):.2f} DEGREES OFF SQUARE,\n"
        f"FRONT END TO THE {'RIGHT' if lean > 0 else 'LEFT'}"
    )
    return [
        Polyline("cut", ((-half, foot), (half, foot), (half, top), (-half, top)), closed=True),
        Polyline("hidden", ((-half, ledge), (half, ledge))),
        *(Polyline("hidden", side) for side in sides),
        Polyline("centre", ((axis(top + 4), top + 4), (axis(foot - 4), foot - 4))),
        _across(((-half, top), (axis(top), top), (half, top)), say, 9.0),
        _across(((-half, foot), (axis(foot), foot), (half, foot)), say, -9.0),
        _upright(((-half, foot), (-half, ledge), (-half, top)), say, 9.0),
        Text((half + 6.0, (top + ledge) / 2), "over the ledger", base="middle"),
        Text((half + 6.0, 0.0), told, base="middle"),
        Text((0.0, top + 20.0), "FROM ABOVE, WALL SIDE UP", anchor="middle"),
    ]


def _across(points: Line, say: Say, offset: float) -> Chain:
    gaps = [b[0] - a[0] for a, b in pairwise(points)]
    return Chain(points, tuple(say.caliper(g) for g in gaps), (1.0, 0.0), points[0], offset)


def _upright(points: Line, say: Say, offset: float) -> Chain:
    gaps = [b[1] - a[1] for a, b in pairwise(points)]
    return Chain(points, tuple(say.caliper(g) for g in gaps), (0.0, 1.0), points[0], offset)


def _map(found: Guide, wall: Wall, every: Sequence[Window], say: Say) -> Picture:
    """Where each tile of ledger and comb lies."""
    items: list[Item] = [Polyline("cut", ring, closed=True) for ring in _boards(found)]
    items += [Circle("seen", middle, radius) for _, middle, radius in rings(found)]
    for window in every:
        x0, y0, x1, y1 = window.box
        items.append(Polyline("sweep", ((x0, y0), (x1, y0), (x1, y1), (x0, y1)), closed=True))
        number = str(window.column)
        items.append(Text(((x0 + x1) / 2, y0), number, anchor="middle", base="head", nudge=(0, -1)))
    title = f"Ledger and comb of wall {wall.called}, as you face the wall"
    drawing = draw.fit("Tile map", title, lambda _: items, (180.0, 90.0))
    return tiles.as_picture(drawing, title)


def whole_drawings(plan: Plan, design: Design, found: Guide) -> dict[str, Drawing]:
    """Return ledger with comb, and each block, at true size as drawings of their own, by the ends of their names.

    Args:
        plan: the whole job.
        design: the shelf.
        found: the guide of one of its walls.
    """
    say, wall = Say.of(plan.job.meta), design.room.wall(found.wall)
    title = f"Ledger and comb, wall {wall.called}, full size"
    made = {"ledger": Drawing(title, title, tuple(_strip(found, wall, _extent(found), say)), 1.0)}
    for number, bit in enumerate(found.bits, 1):
        name = "block" if len(found.bits) == 1 else f"block {number}"
        for view, items in (
            (name, block_items(found, bit, say)),
            (f"{name} from above", above(found, bit, say)),
        ):
            title = f"Guide block, wall {wall.called}, {view}, full size"
            made[view] = Drawing(title, title, tuple(items), 1.0)
    return made


def operations(found: Guide) -> tuple[draw.Operation, ...]:
    """Return ledger and comb as they go to DXF: a layer for each operation.

    Args:
        found: the guide.
    """
    return (
        ("LEDGER", (Polyline("cut", _ledger(found), closed=True),)),
        ("COMB", tuple(Polyline("cut", ring, closed=True) for ring in _bar(found))),
        ("COMB_BORE", tuple(Circle("cut", p, r) for _, p, r in _bars(found))),
        ("BIT", tuple(Circle("slot", p, r) for _, p, r in _bits(found))),
        ("SCREW", tuple(Circle("mark", p, 2.0) for p in screws(found))),
        (
            "ROD_LINE",
            tuple(Polyline("centre", p) for layer, p in lines(found) if layer == "centre"),
        ),
    )
