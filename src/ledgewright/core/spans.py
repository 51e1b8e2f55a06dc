"""How far the skins run between pieces of core; a channel is skin without support, like a hollow."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

from ledgewright.core.field import FAR, Field, Ground
from ledgewright.core.model import Piece, Span
from ledgewright.fitting.sweep import meet
from ledgewright.plane import Ring

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


@dataclass(frozen=True)
class _Wood:
    """One piece in a leg's own figures, with its least and greatest s and t."""

    name: str
    ring: Ring
    low: tuple[float, float]
    high: tuple[float, float]


Runs = Callable[[float], list[_Run]]


@dataclass(frozen=True)
class Place:
    """A span and where it runs: on a line along a leg at a t, between two s without wood."""

    span: Span
    field: Field
    t: float
    gap: tuple[float, float]


def measure(places: Sequence[Place]) -> tuple[Span, ...]:
    """Return the spans of the skins, of those between the same two pieces only the longest.

    Args:
        places: from `places`.
    """
    longest: dict[tuple[str, str], float] = {}
    for span in (place.span for place in places):
        longest[span.between] = max(span.length, longest.get(span.between, 0.0))
    return tuple(Span(between, length) for between, length in longest.items())


def places(at: Ground, pieces: Sequence[Piece]) -> list[Place]:
    """Return where the skins run without wood: at each place the shorter of along the leg and across it counts.

    On lines along each leg, every run without wood between two pieces is a place; across it, the runs
    through its middle, its ends and beside every piece within it count if they too end at wood on both sides. A
    skin on four supports bends the shorter way, so at each point the shorter governs.

    Args:
        at: the section.
        pieces: its core.
    """
    return [
        place
        for field in at.fields
        for place in _of_leg(at, field, [_wood(field, piece) for piece in pieces])
    ]


def _wood(field: Field, piece: Piece) -> _Wood:
    ring = tuple(field.figures(p) for p in piece.plan)
    ss, ts = [p[0] for p in ring], [p[1] for p in ring]
    return _Wood(piece.id, ring, (min(ss), min(ts)), (max(ss), max(ts)))


def _of_leg(at: Ground, field: Field, woods: Sequence[_Wood]) -> list[Place]:
    # Over the whole corner of an L: a channel there may take the strip that parts the legs.
    band = meet(at.standing, field.box((-FAR, FAR), (field.edge, field.rail)))
    low, _, high, _ = field.extent(band)
    edges = sorted({s for wood in woods for s in (wood.low[0], wood.high[0])})

    @cache
    def across(place: float) -> list[_Run]:
        return _wood_on(woods, 0, place)

    return [
        Place(_worst(gap, t, edges, across), field, t, (gap[0].end, gap[1].start))
        for t in _levels(field)
        for gap in pairwise(
            run for run in _wood_on(woods, 1, t) if run.end > low and run.start < high
        )
    ]


def _levels(field: Field) -> tuple[float, ...]:
    """Lines in each strip, near both its faces, and between the strips."""
    low, high = field.inner
    front = (field.edge + JUST_IN, field.edge + field.strip / 2, low - JUST_IN)
    back = (high + JUST_IN, field.rail - field.strip / 2, field.rail - JUST_IN)
    between = tuple(low + (high - low) * k / 4 for k in (1, 2, 3))
    return (*front, low + JUST_IN, *between, high - JUST_IN, *back)


def _worst(gap: tuple[_Run, _Run], t: float, edges: Sequence[float], across: Runs) -> Span:
    """The longest of the shorter runs through the points of one gap."""
    a, b = gap[0].end, gap[1].start
    along = Span((gap[0].last, gap[1].first), b - a)
    beside = (s + by for s in edges for by in (-JUST_IN, JUST_IN) if a < s + by < b)
    found: list[Span] = []
    for s in sorted({(a + b) / 2, a + JUST_IN, b - JUST_IN, *beside}):
        found.append(_shorter(across(s), t, along))
        if found[-1] is along:  # no run through a point counts for more
            break
    return max(found, key=lambda span: span.length)


def _shorter(runs: Sequence[_Run], t: float, along: Span) -> Span:
    for front, back in pairwise(runs):
        if front.end <= t <= back.start and back.start - front.end < along.length:
            return Span((front.last, back.first), back.start - front.end)
    return along


def _wood_on(woods: Sequence[_Wood], figure: int, value: float) -> list[_Run]:
    """The runs of wood where s (figure 0) or t (1) has a value, by the other figure, in rising order."""
    bits = sorted(
        (start, end, wood.name)
        for wood in woods
        if wood.low[figure] <= value <= wood.high[figure]
        for start, end in _cuts(wood.ring, figure, value)
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


def _cuts(ring: Ring, figure: int, value: float) -> list[tuple[float, float]]:
    """Where a line of constant s or t runs inside a ring, by the even-odd rule."""
    other = 1 - figure
    met = sorted(
        p[other] + (q[other] - p[other]) * (value - p[figure]) / (q[figure] - p[figure])
        for p, q in pairwise((*ring, ring[0]))
        if (p[figure] <= value) != (q[figure] <= value)
    )
    return list(zip(met[::2], met[1::2], strict=True))
