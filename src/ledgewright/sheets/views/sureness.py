"""How an answer spreads over what nobody knows for certain, with its limit; beside it what drives it, as bars."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from ledgewright.draw import Drawing, Fill, Item, Polyline, Strokes, Text, fit
from ledgewright.plane import Point

BINS = 26
HIGH = 30.0
"""Height of the tallest column (mm of paper)."""
GAP = 10.0
"""Between the columns and the bars (mm of paper)."""
ROW = 8.4
"""From one bar to the next (mm of paper)."""
SMALL = 3.3
"""Lettering beside columns and bars (mm of paper)."""
LABEL = 24.0
"""Room to the right of the columns for a label (mm of paper)."""


@dataclass(frozen=True)
class Told:
    """A place on the answer's axis, and what is written there."""

    at: float
    text: str


@dataclass(frozen=True)
class Bar:
    """One doubtful figure: its name, and the share it has of what is in doubt."""

    name: str
    share: float
    text: str


def sure_view(
    title: str,
    values: Sequence[float],
    marks: Sequence[Told],
    limit: Told | None,
    bars: Sequence[Bar],
    box: tuple[float, float],
) -> Drawing:
    """Return the columns of an answer with best, likely, worst and limit, and the bars of what drives it.

    Args:
        title: what the answer is.
        values: its samples.
        marks: best, likely and worst, from left to right.
        limit: what it may be.
        bars: what drives it, most first.
        box: width and height of the paper there is (mm).

    Raises:
        TooLarge: if it does not go on the paper.
    """
    wide = (box[0] - GAP) / 2 - 2.0
    items = [*_columns(values, marks, limit, wide), *_bars(bars, wide + GAP, wide)]
    about = (
        f"{title}: how often each value comes out, and what share each doubtful figure has of that"
    )
    return fit(title, about, items, box)


def _columns(
    values: Sequence[float], marks: Sequence[Told], limit: Told | None, wide: float
) -> Iterator[Item]:
    low, high = min(values), max(values)
    near = limit is not None and low - (high - low) < limit.at < high + 1.5 * (high - low)
    ends = [low, high, *([limit.at] if limit and near else [])]
    first, last = min(ends), max(ends)
    span = (last - first) or 1.0

    def x(value: float) -> float:
        return (value - first) / span * (wide - LABEL)

    counts, edges = np.histogram(np.array(values), bins=BINS, range=(low, high or low + 1.0))
    tall = HIGH / max(int(counts.max()), 1)
    for count, a, b in zip(counts.tolist(), edges[:-1].tolist(), edges[1:].tolist(), strict=True):
        if count:
            ring = _box(x(a), x(b), 0.0, count * tall)
            yield Fill("seen", ring, "tone")
            yield Polyline("dimension", ring, closed=True)
    yield Polyline("seen", ((0.0, 0.0), (wide - LABEL, 0.0)))
    yield from _marked([(x(mark.at), mark.text) for mark in marks])
    if limit is not None and near:
        yield from _limited(x(limit.at), limit.text, wide)
    elif limit is not None:
        side = "further right" if limit.at > high else "further left"
        yield Text((wide / 2, HIGH + 5.5), f"{limit.text}, {side}", size=SMALL, anchor="middle")


def _marked(marks: Sequence[tuple[float, str]]) -> Iterator[Item]:
    """Best, likely and worst, the rightmost on the first row: so no line meets a label, which all run to the right."""
    for row, (x, text) in enumerate(sorted(marks, reverse=True)):
        foot = -3.0 - 4.4 * row
        yield Strokes("seen", (((x, foot - 1.4), (x, HIGH * 0.55)),))
        yield Text((x + 1.2, foot), text, size=SMALL, base="middle")


def _limited(x: float, text: str, wide: float) -> Iterator[Item]:
    yield Strokes("cut", (((x, -1.5), (x, HIGH + 4.0)),))
    left = x > wide - LABEL - 6.0 and len(text) * SMALL / 2 > LABEL
    yield Text(
        (x - 1.5 if left else x + 1.5, HIGH + 4.5),
        text,
        size=SMALL,
        anchor="end" if left else "start",
        base="middle",
        bold=True,
        clear=True,
    )


def _bars(bars: Sequence[Bar], left: float, wide: float) -> Iterator[Item]:
    room = wide - 24.0
    top = HIGH + 5.0
    for row, bar in enumerate(bars):
        y = top - ROW * row
        yield Text((left, y - SMALL * 0.8), bar.name, size=SMALL)
        ring = _box(left, left + max(bar.share, 0.004) * room, y - 6.6, y - 3.8)
        yield Fill("seen", ring, "tone")
        yield Polyline("seen", ring, closed=True)
        end = left + max(bar.share, 0.004) * room + 1.5
        yield Text((end, y - 5.2), bar.text, size=SMALL, base="middle")


def _box(a: float, b: float, low: float, high: float) -> tuple[Point, Point, Point, Point]:
    return ((a, low), (b, low), (b, high), (a, high))
