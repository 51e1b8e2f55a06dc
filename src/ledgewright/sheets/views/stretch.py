"""A long shelf on small paper: the places where its core map may be parted, and what of it lies on one stretch."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise

from shapely.geometry import Polygon

from ledgewright import plane
from ledgewright.draw import Item, Polyline
from ledgewright.judge import Design
from ledgewright.layout import LegAt
from ledgewright.plane import Line, Ring
from ledgewright.sheets.views.common import Span, cuts
from ledgewright.survey import Wall

SMALLEST = 12.0
"""A core drawn smaller than 1 to this has no room for its numbers (our choice)."""

CLEAR = 50.0
"""A map is not parted nearer than this to a rib, a block or a slot (mm; our choice)."""

FAR = 1e5
PAST = 5.0  # a break line runs on so far past the shelf, mm of paper
ZIG = 2.5  # height of the zigzag in it, mm of paper


def stretches(design: Design, width: float) -> tuple[Span, ...]:
    """Return the stretches in which the core of a shelf is drawn, as alongs of its wall, left to right.

    One, but for a straight shelf that would be drawn smaller than `SMALLEST` in so much width (mm of paper).
    """
    leg = design.frame.legs[0]
    long = leg.end - leg.start
    count = int(-(-long // (SMALLEST * width))) if len(design.frame.legs) == 1 else 1
    breaks = [leg.start + long * k / count for k in range(1, count)]
    at = [_break(design, leg, goal) for goal in breaks]
    return tuple(pairwise((leg.start, *at, leg.end)))


def _break(design: Design, leg: LegAt, goal: float) -> float:
    """The place nearest to a goal that keeps clear of whatever stands across the shelf."""
    taken = sorted(_taken(design, leg))
    free = [
        (a + CLEAR, b - CLEAR)
        for a, b in pairwise((leg.start, *(x for span in taken for x in span), leg.end))
        if b - a > 2 * CLEAR and not any(low < (a + b) / 2 < high for low, high in taken)
    ]
    near = (min(max(goal, low), high) for low, high in free)
    return min(near, key=lambda at: abs(at - goal), default=goal)


def _taken(design: Design, leg: LegAt) -> Iterator[Span]:
    wall, core = design.room.wall(leg.wall), design.core
    across = (p.plan for p in (core.pieces if core else ()) if p.kind in {"rib", "block"})
    kept = (k.plan for k in (core.keep_outs if core else ()) if k.kind == "cable way")
    for ring in (*across, *kept, *(cut.plan for cut in cuts(design))):
        alongs = [wall.figures(p)[0] for p in ring]
        yield min(alongs), max(alongs)


def within(design: Design, span: Span) -> Design:
    """Return a straight shelf as it is drawn on one stretch: outline, core and slots cut off at its ends.

    Args:
        design: the shelf.
        span: alongs of its wall.
    """
    wall = design.room.wall(design.frame.legs[0].wall)
    ends = [
        wall.at(span[0], -FAR),
        wall.at(span[1], -FAR),
        wall.at(span[1], FAR),
        wall.at(span[0], FAR),
    ]
    band = Polygon(ends)

    def cut(ring: Ring) -> Ring:
        """What of a ring lies on the stretch; empty if nothing does."""
        shared = Polygon(ring).intersection(band)
        whole = max(getattr(shared, "geoms", (shared,)), key=lambda part: part.area, default=shared)
        if not isinstance(whole, Polygon) or whole.area < 1.0:
            return ()
        return plane.ccw([(float(x), float(y)) for x, y in whole.exterior.coords[:-1]])

    frame, core, way = design.frame, design.core, design.way
    slots = tuple(replace(s, plan=ring) for s in frame.slots if (ring := cut(s.plan)))
    return replace(
        design,
        frame=replace(frame, outline=cut(frame.outline), slots=slots),
        way=way
        and replace(
            way,
            channels=tuple(replace(c, plan=ring) for c in way.channels if (ring := cut(c.plan))),
        ),
        core=core
        and replace(
            core,
            pieces=tuple(replace(p, plan=ring) for p in core.pieces if (ring := cut(p.plan))),
            keep_outs=tuple(replace(k, plan=ring) for k in core.keep_outs if (ring := cut(k.plan))),
            locks=tuple(at for at in core.locks if on(span, wall.figures(at.at)[0])),
        ),
    )


def on(span: Span | None, along: float) -> bool:
    """Whether a place lies on a stretch; on none, everything does."""
    return span is None or span[0] - 1e-6 <= along <= span[1] + 1e-6


def broken_off(wall: Wall, leg: LegAt, span: Span, scale: float) -> Iterable[Item]:
    """Return the break lines at the ends of a stretch that are no ends of the shelf.

    ISO 128: a thin straight line with a zigzag (from memory).

    Args:
        wall: the shelf stands on.
        leg: the whole leg.
        span: of the stretch.
        scale: paper over thing.
    """
    low, high = -PAST / scale, leg.band + leg.depth + PAST / scale
    middle, zig = (low + high) / 2, ZIG / scale
    for at in span:
        if leg.start + 1e-6 < at < leg.end - 1e-6:
            outs = (
                (0.0, low),
                (0.0, middle - zig),
                (-zig, middle - zig / 2),
                (zig, middle + zig / 2),
                (0.0, middle + zig),
                (0.0, high),
            )
            line: Line = tuple(wall.at(at + aside, out) for aside, out in outs)
            yield Polyline("dimension", line)
