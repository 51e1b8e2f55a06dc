"""From a drawing to plain strokes, areas and lettering in mm of paper."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TypeVar

from ledgewright import plane
from ledgewright.draw.letters import ascent, cap_height, descent, printable, text_width
from ledgewright.draw.model import (
    Arc,
    Arrow,
    Chain,
    Circle,
    Drawing,
    Fill,
    Flat,
    Item,
    Leader,
    Pattern,
    Polyline,
    Running,
    Strokes,
    Text,
    Ticks,
)
from ledgewright.draw.place import lay_chain, lay_running
from ledgewright.draw.styles import HATCHES, MARGIN, STYLES
from ledgewright.plane import Line, Point, Ring

Dimension = TypeVar("Dimension", Chain, Running)

WIPE = 0.3  # how far round lettering the paper is wiped, mm of paper
LEADING = 1.25  # line distance over letter size
ROUND_SCALES = (1, 2, 3, 4, 5, 6, 8, 10, 12, 16, 20, 24, 32, 40, 48, 50, 64, 80, 96, 100, 128, 200)


def lay(drawing: Drawing) -> tuple[Flat, ...]:
    """Return everything on the drawing as plain primitives whose coordinates are mm of paper, y up."""
    return tuple(flat for item in drawing.items for flat in lay_item(item, drawing.scale))


def lay_item(item: Item, scale: float) -> tuple[Flat, ...]:
    """Return one item as plain primitives in mm of paper."""
    match item:
        case Chain():
            return tuple(flat for part in lay_chain(_sound(item), scale) for flat in _finish(part))
        case Running():
            return tuple(
                flat for part in lay_running(_sound(item), scale) for flat in _finish(part)
            )
        case Leader():
            return tuple(flat for part in _leader(item, scale) for flat in _finish(part))
        case Arrow():
            return _arrow(item, scale)
        case Ticks():
            return (_ticks(item, scale),)
        case _:
            return _finish(_scaled(item, scale))


def _sound(item: Dimension) -> Dimension:
    return replace(item, labels=tuple(printable(label)[0] for label in item.labels))


def _scaled(item: Flat, k: float) -> Flat:
    match item:
        case Polyline():
            return replace(item, points=_line(item.points, k))
        case Circle() | Arc():
            return replace(item, centre=plane.scale(item.centre, k), radius=item.radius * k)
        case Fill():
            holes = tuple(_line(hole, k) for hole in item.holes)
            return replace(item, ring=_line(item.ring, k), holes=holes)
        case Strokes():
            pairs = tuple((plane.scale(a, k), plane.scale(b, k)) for a, b in item.segments)
            return replace(item, segments=pairs)
        case Text():
            return replace(item, at=plane.scale(item.at, k))


def _line(points: Sequence[Point], k: float) -> Line:
    return tuple(plane.scale(p, k) for p in points)


def _finish(flat: Flat) -> tuple[Flat, ...]:
    """Turn hatches into strokes and several lines of lettering into single ones; the rest is plain already."""
    if isinstance(flat, Fill) and flat.pattern in HATCHES:
        return (Strokes(flat.layer, hatch_lines(flat.ring, flat.holes, flat.pattern)),)
    return _lettering(flat) if isinstance(flat, Text) else (flat,)


def _lettering(text: Text) -> tuple[Flat, ...]:
    lines = printable(text.text)[0].split("\n")
    course = (math.cos(text.angle), math.sin(text.angle))
    step = text.size * LEADING
    below = {
        "foot": step * (len(lines) - 1),
        "middle": (step * (len(lines) - 1) - cap_height(text.size)) / 2,
        "head": -cap_height(text.size),
    }[text.base]
    first = plane.along(plane.add(text.at, text.nudge), plane.left(course), below)
    set_lines = [
        replace(
            text,
            at=plane.along(first, plane.right(course), step * k),
            text=line,
            base="foot",
            nudge=(0.0, 0.0),
            clear=False,
        )
        for k, line in enumerate(lines)
        if line
    ]
    under = [Fill("text", text_ring(t, WIPE), "paper") for t in set_lines] if text.clear else []
    return (*under, *set_lines)


def text_ring(text: Text, margin: float = 0.0) -> Ring:
    """Return the four corners of one laid line of lettering (mm of paper), with a margin round it.

    Args:
        text: one line that stands on its foot, its point in mm of paper.
        margin: mm of paper.
    """
    width = text_width(text.text, text.size, bold=text.bold)
    left = {"start": 0.0, "middle": -width / 2, "end": -width}[text.anchor] - margin
    right = left + width + 2 * margin
    low, high = -descent(text.size) - margin, ascent(text.size) + margin
    corners = ((left, low), (right, low), (right, high), (left, high))
    return tuple(plane.add(text.at, plane.turn(c, text.angle)) for c in corners)


def hatch_lines(
    ring: Ring, holes: Sequence[Ring], pattern: Pattern
) -> tuple[tuple[Point, Point], ...]:
    """Return the strokes of a hatch, clipped to the ring and left out of the holes (mm of paper).

    The strokes are counted from the paper's origin, so that areas of one kind that touch are hatched as one.
    """
    return tuple(
        stroke
        for angle, pitch in HATCHES[pattern]
        for stroke in _clipped([ring, *holes], math.radians(angle), pitch)
    )


def _clipped(rings: Sequence[Ring], angle: float, pitch: float) -> list[tuple[Point, Point]]:
    """Even-odd scan along `angle`; a corner exactly on a scan line counts for its upper edge alone."""
    turned = [[plane.turn(p, -angle) for p in ring] for ring in rings]
    edges = [(a, b) for ring in turned for a, b in zip(ring, [*ring[1:], ring[0]], strict=True)]
    heights = [p[1] for ring in turned for p in ring]
    strokes = []
    for k in range(math.ceil(min(heights) / pitch), math.floor(max(heights) / pitch) + 1):
        y = k * pitch
        hits = sorted(
            a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1])
            for a, b in edges
            if (a[1] <= y) != (b[1] <= y)
        )
        for x0, x1 in zip(hits[::2], hits[1::2], strict=False):
            if x1 - x0 > 0.05:
                strokes.append((plane.turn((x0, y), angle), plane.turn((x1, y), angle)))
    return strokes


def _head(layer_of: Arrow, tip: Point, course: Point) -> Fill:
    back = plane.along(tip, course, -layer_of.head)
    side = plane.scale(plane.left(course), layer_of.head * 0.22)
    return Fill(layer_of.layer, (tip, plane.add(back, side), plane.sub(back, side)), "solid")


def _arrow(item: Arrow, scale: float) -> tuple[Flat, ...]:
    start, end = plane.scale(item.start, scale), plane.scale(item.end, scale)
    course = plane.unit(plane.sub(end, start))
    heads = [_head(item, end, course)]
    if item.both:
        heads.append(_head(item, start, plane.scale(course, -1)))
    # The shaft ends inside the head, or its square end would blunt the tip.
    reach = item.head * 0.8
    foot = plane.along(start, course, reach) if item.both else start
    return (Strokes(item.layer, ((foot, plane.along(end, course, -reach)),)), *heads)


def _ticks(item: Ticks, scale: float) -> Strokes:
    half = plane.scale(plane.left(plane.unit(item.direction)), item.size / 2)
    at = _line(item.at, scale)
    return Strokes(item.layer, tuple((plane.sub(p, half), plane.add(p, half)) for p in at))


def _leader(item: Leader, scale: float) -> tuple[Flat, ...]:
    """A straight line to a short shoulder under the middle of the label's near end."""
    tip = plane.scale(item.tip, scale)
    elbow = plane.add(tip, item.by)
    way = 1 if item.by[0] >= 0 else -1
    shoulder = plane.add(elbow, (2.0 * way, 0.0))
    text = Text(
        plane.add(shoulder, (0.8 * way, 0.0)),
        item.label,
        item.size,
        "start" if way > 0 else "end",
        "middle",
    )
    course = plane.unit(plane.sub(tip, elbow))
    mark: Flat = (
        _head(Arrow(item.layer, elbow, tip, 2.4), tip, course)
        if item.head == "arrow"
        else Fill(item.layer, _disc(tip, 0.6), "solid")
    )
    return (Strokes(item.layer, ((tip, elbow), (elbow, shoulder))), mark, text)


def _disc(centre: Point, radius: float) -> Ring:
    return tuple(
        plane.along(centre, (math.cos(a), math.sin(a)), radius)
        for a in (math.tau * k / 16 for k in range(16))
    )


def _extent(flat: Flat) -> tuple[Line, float]:
    """Return points that span a primitive, and half the width of its line."""
    half = STYLES[flat.layer].weight / 2
    match flat:
        case Polyline():
            return flat.points, half
        case Strokes():
            return tuple(p for pair in flat.segments for p in pair), half
        case Fill():
            return flat.ring, 0.0
        case Text():
            return text_ring(flat), 0.0
        case Circle() | Arc():
            # The whole circle of an arc: a generous box is harmless, a narrow one cuts ink off.
            (x, y), r = flat.centre, flat.radius
            return ((x - r, y - r), (x + r, y + r)), half


def flat_bounds(flats: Sequence[Flat]) -> tuple[float, float, float, float]:
    """Return least x, least y, greatest x, greatest y of laid primitives, ink included (mm of paper)."""
    extents = [(points, half) for points, half in map(_extent, flats) if points]
    if not extents:
        return (0.0, 0.0, 0.0, 0.0)
    boxes = [(*plane.box(points), half) for points, half in extents]
    return (
        min(b[0] - b[4] for b in boxes),
        min(b[1] - b[4] for b in boxes),
        max(b[2] + b[4] for b in boxes),
        max(b[3] + b[4] for b in boxes),
    )


def bounds(drawing: Drawing) -> tuple[float, float, float, float]:
    """Return least x, least y, greatest x, greatest y of all ink, lettering included (mm of paper)."""
    return flat_bounds(lay(drawing))


def size(drawing: Drawing) -> tuple[float, float]:
    """Return width and height of the drawing with its blank edge, as its SVG has them (mm of paper)."""
    x0, y0, x1, y1 = bounds(drawing)
    return (x1 - x0 + 2 * MARGIN, y1 - y0 + 2 * MARGIN)


def substituted(drawing: Drawing) -> tuple[str, ...]:
    """Return the signs on the drawing that the font lacks and that were replaced, each once."""
    words: list[str] = []
    for item in drawing.items:
        match item:
            case Text():
                words.append(item.text)
            case Leader():
                words.append(item.label)
            case Chain() | Running():
                words += item.labels
            case _:
                pass
    return printable("".join(words))[1]


class TooLarge(ValueError):  # noqa: N818 - it names the finding
    """A drawing does not go on its paper at any round scale."""


def fit(
    title: str,
    description: str,
    items: Sequence[Item] | Callable[[float], Sequence[Item]],
    box: tuple[float, float],
) -> Drawing:
    """Return the drawing at the largest round scale at which all of it lies within the box.

    Scales at which its lines alone are too large for the box are passed over without being laid out.

    Args:
        title: what it is.
        description: what it shows, in a sentence.
        items: what is drawn, or what gives it for a scale (paper over thing).
        box: width and height there is (mm of paper).

    Raises:
        TooLarge: if even the smallest scale is too large, as with a label wider than the box.
    """
    first = items(1.0) if callable(items) else items
    wide, high = _lines_alone(first)
    for over in ROUND_SCALES:
        if wide / over > box[0] or high / over > box[1]:
            continue
        made = items(1 / over) if callable(items) and over > 1 else first
        drawing = Drawing(title, description, tuple(made), 1 / over)
        width, height = size(drawing)
        if width <= box[0] and height <= box[1]:
            return drawing
    msg = f"{title} does not go on {box[0]:.0f} x {box[1]:.0f} mm of paper"
    raise TooLarge(msg)


def _lines_alone(items: Sequence[Item]) -> tuple[float, float]:
    """Return width and height of outlines and areas (mm of the thing); what is sized in paper only adds to them."""
    points = [p for item in items for p in _own_points(item)]
    if not points:
        return (0.0, 0.0)
    x0, y0, x1, y1 = plane.box(points)
    return (x1 - x0, y1 - y0)


def _own_points(item: Item) -> Line:
    match item:
        case Polyline():
            return item.points
        case Fill():
            return item.ring
        case _:
            return ()


def ratio(drawing: Drawing) -> str:
    """Return the scale in words, as 1:8."""
    return f"1:{1 / drawing.scale:g}"
