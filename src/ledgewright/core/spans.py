"""How far the skins run between pieces of core; a channel is skin without support, like a hollow."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from ledgewright.core.field import Field, Ground
from ledgewright.core.model import Piece, Span

JUST_IN = 0.5
"""Lines along a leg are taken this far inside the faces of its strips (mm)."""

TOUCH = 0.5
"""Two pieces this near are one support (mm)."""


@dataclass(frozen=True)
class _Run:
    """Wood without a break on a line: where it starts and ends, the first and the last piece of it."""

    start: float
    end: float
    first: str
    last: str


def measure(at: Ground, pieces: Sequence[Piece]) -> tuple[Span, ...]:
    """Return the spans of the skins: at each place the shorter of along the leg and across it.

    On lines along each leg, every run without wood between two pieces is a place; across it, the run
    through its middle counts if it too ends at wood on both sides. A skin on four supports bends the
    shorter way, so the shorter governs. Between the same two pieces only the longest is kept.
    """
    woods = [(p.id, Polygon(p.plan)) for p in pieces]
    longest: dict[tuple[str, str], float] = {}
    for field in at.fields:
        for span in _of_leg(at, field, woods):
            longest[span.between] = max(span.length, longest.get(span.between, 0.0))
    return tuple(Span(between, length) for between, length in longest.items())


def _of_leg(at: Ground, field: Field, woods: Sequence[tuple[str, Polygon]]) -> list[Span]:
    low, _, high, _ = field.extent(at.domain(field))
    found = []
    for t in _levels(field):
        along = _wood_on(LineString([field.at(low, t), field.at(high, t)]), woods, field, 0)
        found += [_shorter(field, woods, pair, t) for pair in pairwise(along)]
    return found


def _levels(field: Field) -> tuple[float, ...]:
    """Lines in each strip, near both its faces, and between the strips."""
    low, high = field.inner
    front = (field.edge + JUST_IN, field.edge + field.strip / 2, low - JUST_IN)
    back = (high + JUST_IN, field.rail - field.strip / 2, field.rail - JUST_IN)
    between = tuple(low + (high - low) * k / 4 for k in (1, 2, 3))
    return (*front, low + JUST_IN, *between, high - JUST_IN, *back)


def _shorter(
    field: Field, woods: Sequence[tuple[str, Polygon]], gap: tuple[_Run, _Run], t: float
) -> Span:
    left, right = gap
    middle, long = (left.end + right.start) / 2, right.start - left.end
    line = LineString([field.at(middle, -field.rail), field.at(middle, 2 * field.rail)])
    for front, back in pairwise(_wood_on(line, woods, field, 1)):
        if front.end <= t <= back.start and back.start - front.end < long:
            return Span((front.last, back.first), back.start - front.end)
    return Span((left.last, right.first), long)


def _wood_on(
    line: LineString, woods: Sequence[tuple[str, Polygon]], field: Field, figure: int
) -> list[_Run]:
    """The runs of wood on a line, by s (0) or t (1) of the leg, in rising order."""
    bits = sorted(
        (*_range(field, bit, figure), name)
        for name, wood in woods
        for bit in shapely.get_parts(line.intersection(wood))
        if bit.length > 0
    )
    runs: list[_Run] = []
    for start, end, name in bits:
        if runs and start - runs[-1].end < TOUCH:
            before = runs.pop()
            last = name if end > before.end else before.last
            runs.append(_Run(before.start, max(end, before.end), before.first, last))
        else:
            runs.append(_Run(start, end, name, name))
    return runs


def _range(field: Field, bit: BaseGeometry, figure: int) -> tuple[float, float]:
    extent = field.extent(bit)
    return (extent[figure], extent[figure + 2])
