"""How the top goes down, as lines of equal drop over the plan; what presses on every rod, and how it bends."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from ledgewright import plane
from ledgewright.draw import Base, Drawing, Fill, Item, Leader, Polyline, Strokes, Text, fit
from ledgewright.judge import Design
from ledgewright.layout import Rod
from ledgewright.plane import Point
from ledgewright.sheets.say import Say
from ledgewright.sheets.views.common import (
    Held,
    drilled,
    mark_items,
    obstacle_items,
    rod_items,
    shown,
    under,
    wall_items,
    wrapped,
)
from ledgewright.sheets.views.facing import as_faced, facing
from ledgewright.statics import RodLine, Surface
from ledgewright.units import show_length

STEPS = {
    "in": tuple(25.4 / 64 * k for k in (0.5, 1, 2, 4, 8)),
    "mm": (0.05, 0.1, 0.2, 0.5, 1, 2),
}
"""Between two lines (mm): 1/128 in, 1/64 and so on, or round tenths of a millimetre."""
LINES = 8
"""No more lines than this."""
Segment = tuple[Point, Point]


def drop_view(
    design: Design, surface: Surface, say: Say, box: tuple[float, float], held: Held = frozenset()
) -> Drawing:
    """Return the plan with lines of equal drop on day one, each with its figure, and the greatest drop.

    Args:
        design: the shelf.
        surface: how its top goes down.
        say: how the job writes.
        box: width and height of the paper there is (mm).
        held: walls that nobody may drill; no rod of theirs is shown.

    Raises:
        TooLarge: if it does not go on the paper at any round scale.
    """
    turned = facing(design)
    views = shown(turned)
    items: list[Item] = [item for view in views for item in wall_items(view)]
    items += [
        Fill("cut", turned.frame.outline, "paper"),
        Polyline("cut", turned.frame.outline, closed=True),
        *obstacle_items(views),
        *rod_items(drilled(turned, held)),
    ]
    marks = mark_items(drilled(turned, held), views)
    moved = replace(surface, points=as_faced(design, turned, surface.points))
    most = max(range(len(moved.down)), key=lambda k: moved.down[k])
    found = {
        level: tuple(contour(moved, level))
        for level in levels(moved.down, spacing(moved.down[most], say.units))
    }
    items += [*(Strokes("seen", line) for line in found.values() if line), *marks]
    taken = [(moved.points[most], FIGURE)]
    taken += [
        (rod.point(rod.free + rod.projection * k / ALONG), BAR)
        for rod in turned.frame.rods
        for k in range(ALONG + 1)
    ]
    drop = design.holds.drop
    # The top is drawn as far as its skin; the front is read on, at its edge.
    edge = drop.today.value if drop is not None else moved.down[most]
    label = f"most, at the edge: {say.drop(max(edge, moved.down[most]))}"
    items.append(Leader(moved.points[most], (14.0, -9.0), label))
    note = "Lines of equal drop of the top on day one, from the hung state."
    about = f"Shelf {design.spec.title} from above with lines of equal drop"
    return fit(
        f"Drop, shelf {design.spec.title}",
        about,
        lambda scale: [
            *items,
            *_figures(found, (*taken, *((p, FIGURE) for p in _middles(marks, scale))), scale, say),
            under(items, scale, note),
        ],
        box,
    )


def _figures(
    found: Mapping[float, Sequence[Segment]], taken: Sequence[Taken], scale: float, say: Say
) -> Iterator[Text]:
    """The figure of each line of equal drop where there is room for it; where there is none its line goes without."""
    stand = list(taken)
    for level, line in found.items():
        place = clear_of(line, stand, scale)
        if place is None:
            continue
        stand.append((place, FIGURE))
        yield Text(place, _level(level, say), size=3.2, anchor="middle", base="middle", clear=True)


def _middles(marks: Sequence[Item], scale: float) -> Iterator[Point]:
    for mark in marks:
        if isinstance(mark, Text):
            yield plane.along(mark.at, mark.nudge, 1 / scale)


Taken = tuple[Point, tuple[float, float]]
"""A place where something stands, and how far off a line's figure must be, along or up (mm of paper)."""
FIGURE, BAR = (11.0, 4.4), (6.5, 3.0)
"""Room for a line's figure and lettering next to it, from middle to middle; for it and a rod."""
ALONG = 12
"""A rod is kept clear of at so many places along it."""


def spacing(most: float, units: str) -> float:
    """Return how far lines stand apart (mm): the least round step that makes no more than eight of them."""
    return next((s for s in STEPS[units] if most / s <= LINES), most / LINES)


def levels(down: Sequence[float], step: float) -> list[float]:
    """Return the round drops between the least and the greatest (mm), both left out."""
    first = math.floor(min(down) / step) + 1
    last = math.ceil(max(down) / step) - 1
    return [k * step for k in range(first, last + 1)]


def contour(surface: Surface, level: float) -> Iterator[Segment]:
    """Yield the strokes of one line of equal drop: straight in each half of each cell."""
    for a, b, c, d in surface.cells:
        for corners in ((a, b, c), (a, c, d)):
            met = list(_crossings(surface, corners, level))
            if len(met) == 2 and plane.length(plane.sub(met[1], met[0])) > 1e-6:
                yield met[0], met[1]


def _crossings(surface: Surface, corners: Sequence[int], level: float) -> Iterator[Point]:
    for i, j in zip(corners, (*corners[1:], corners[0]), strict=True):
        u, v = surface.down[i], surface.down[j]
        # A corner on the line itself counts as just above it, so that every line goes in and out.
        if (u < level) != (v < level):
            yield plane.along(
                surface.points[i],
                plane.sub(surface.points[j], surface.points[i]),
                (level - u) / (v - u),
            )


def clear_of(found: Sequence[Segment], taken: Sequence[Taken], scale: float) -> Point | None:
    """Return the place on a line that lies farthest from all that stands there already, if there is room for a figure.

    Args:
        found: strokes of the line.
        taken: what stands there.
        scale: of the drawing.
    """

    def apart(p: Point, other: Taken) -> bool:
        q, (wide, high) = other
        return abs(p[0] - q[0]) * scale > wide or abs(p[1] - q[1]) * scale > high

    middles = (((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in found)
    free = [p for p in middles if all(apart(p, other) for other in taken)]
    return max(
        free, key=lambda p: min((math.dist(p, q) for q, _ in taken), default=0), default=None
    )


def _level(level: float, say: Say) -> str:
    """A line's figure: it lies on a round one."""
    return show_length(level, "in", to=128, mark=True) if say.units == "in" else f"{level:g} mm"


def forces_view(
    design: Design,
    lines: Sequence[RodLine],
    say: Say,
    box: tuple[float, float],
    held: Held = frozenset(),
) -> Drawing:
    """Return every rod with what presses on it in its slot, and its moment drawn on the side that is stretched.

    Args:
        design: the shelf.
        lines: of its rods.
        say: how the job writes.
        box: width and height of the paper there is (mm).
        held: walls that nobody may drill; no rod of theirs is shown.

    Raises:
        TooLarge: if it does not go on the paper at any round scale.
    """
    rods = {rod.id: rod for rod in drilled(facing(design), held)}
    mine = [line for line in lines if line.rod in rods]
    press = max((max(*line.top, *line.bottom) for line in mine), default=1.0) or 1.0
    bent = max((max(map(abs, line.moment)) for line in mine), default=1.0) or 1.0
    long = max((line.at[-1] - line.at[0] for line in mine), default=1.0)
    thick = max((rods[line.rod].bar.height for line in mine), default=1.0)
    across = 2 if len(mine) <= MANY else 3

    def items(scale: float) -> list[Item]:
        wide = max(long + GAP, WORDS[0] / scale)
        high = 2 * TALL + thick + LOW + UNDER + WORDS[1] / scale
        made: list[Item] = []
        for k, line in enumerate(mine):
            at = (k % across * wide - line.at[0], -(k // across) * high)
            made += _rod(rods[line.rod], line, at, press, bent, say)
        return made

    title = f"Forces on the {say.word('rods')}, shelf {design.spec.title}"
    return fit(title, f"Contact forces along each {say.word('rod')} and its moment", items, box)


GAP, UNDER, TALL, LOW = 70.0, 12.0, 30.0, 34.0
"""Between two rods, and over the moment; the greatest heights of pressing and of moment (mm drawn)."""
WORDS = (74.0, 24.0)
"""Room for the lettering of one rod, along and up (mm of paper)."""
MANY = 8
"""Rods that go two beside one another; more go three."""


def _rod(rod: Rod, line: RodLine, at: Point, press: float, bent: float, say: Say) -> Iterator[Item]:
    half, (x, y) = rod.bar.height / 2, at
    deep, tip = line.at[0], line.at[-1]

    def box(a: float, b: float, low: float, high: float) -> tuple[Point, Point, Point, Point]:
        return ((x + a, y + low), (x + b, y + low), (x + b, y + high), (x + a, y + high))

    yield Fill("wall", box(deep - 8, 0.0, -TALL, TALL), "wood")
    yield Polyline("wall", ((x, y - TALL), (x, y + TALL)))
    yield Fill("cut", box(deep, tip, -half, half), "steel")
    yield Polyline("cut", box(deep, tip, -half, half), closed=True)
    for force, side in ((line.top, 1.0), (line.bottom, -1.0)):
        edge = y + side * half
        shape = [
            (x + a, edge + side * TALL * q / press) for a, q in zip(line.touch, force, strict=True)
        ]
        if max(force) > 1e-3 * press:
            ring = ((x + line.touch[0], edge), *shape, (x + line.touch[-1], edge))
            yield Fill("hatch", ring, "tone")
            yield Polyline("seen", ring, closed=True)
            k = max(range(len(force)), key=lambda n: force[n])
            base: Base = "foot" if side > 0 else "head"
            said = say.line_force(force[k])
            yield Text(shape[k], said, size=3.2, anchor="middle", base=base, nudge=(0.0, side))
    low = y - TALL - half - LOW - UNDER
    yield Polyline("datum", ((x + deep, low), (x + tip, low)))
    # On the stretched side: a rod pressed down at its tip is stretched above.
    curve = tuple((x + a, low + LOW * m / bent) for a, m in zip(line.at, line.moment, strict=True))
    yield Fill("hatch", ((x + deep, low), *curve, (x + tip, low)), "tone")
    yield Polyline("seen", curve)
    k = max(range(len(line.moment)), key=lambda n: abs(line.moment[n]))
    yield Text(
        curve[k],
        say.asked(abs(line.moment[k]), "N mm"),
        size=3.2,
        anchor="middle",
        nudge=(0.0, 1.2),
    )
    yield Text((x + deep - 8, y + TALL), rod.mark, bold=True, anchor="start", nudge=(0.0, 1.2))
    case = line.case.partition(": ")[2].replace(" of the others", "")
    told = wrapped(say.text(case), WORDS[0], 2.8)
    yield Text((x + deep - 8, low), told, size=2.8, anchor="start", base="head", nudge=(0.0, -4.6))
    yield Text((x + tip, low), "moment", size=3.2, anchor="end", base="head", nudge=(0.0, -1.0))
