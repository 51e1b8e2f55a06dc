"""Price against drop of all designs that pass, the choices numbered; and what one change does, as bars."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from ledgewright.draw import Circle, Drawing, Fill, Item, Polyline, Strokes, Text, fit
from ledgewright.plane import Point

HIGH = 74.0
"""Height of the field (mm of paper)."""
LEFT, FOOT = 22.0, 13.0
"""Room for figures left of the field and under it (mm of paper)."""
SMALL = 3.3
DOT, BALL = 0.8, 2.5
"""Radius of a design and of a choice (mm of paper)."""
APART = 5.6
"""Between the middles of two numbered choices at the least (mm of paper)."""
ROW = 6.4
"""From one bar to the next (mm of paper)."""
BESIDE = 31.0
"""Room beside a bar for what is written there (mm of paper)."""
MOST = 4
"""So many figures stand on an axis, about."""


@dataclass(frozen=True)
class Spot:
    """One design: its place on both axes; number of a choice, 0 for the rest; whether it is the job as it is."""

    across: float
    up: float
    number: int = 0
    as_is: bool = False


@dataclass(frozen=True)
class Axis:
    """What an axis measures, and how a figure on it is written."""

    title: str
    write: Callable[[float], str]
    step: float


@dataclass(frozen=True)
class Effect:
    """One change: its name, how much it adds, and what is written beside it."""

    name: str
    adds: float
    text: str


def choice_view(
    title: str, spots: Sequence[Spot], across: Axis, up: Axis, box: tuple[float, float]
) -> Drawing:
    """Return all designs that pass as dots, the choices as numbered circles, the job as it is as a square.

    Args:
        title: what it is.
        spots: the designs that pass.
        across: of the axis to the right.
        up: of the axis upwards; less is better on both.
        box: width and height of the paper there is (mm).

    Raises:
        TooLarge: if it does not go on the paper.
    """
    wide = box[0] - LEFT - 8.0
    x = _scale([spot.across for spot in spots], across.step, wide)
    y = _scale([spot.up for spot in spots], up.step, HIGH)
    items = [*_field(x, y, across, up, wide), *_spots(spots, x.at, y.at)]
    about = (
        f"{title}: each dot is a design that passes; numbered circles are those that no other beats"
    )
    return fit(title, about, items, box)


@dataclass(frozen=True)
class _Scale:
    low: float
    high: float
    step: float
    long: float

    def at(self, value: float) -> float:
        return (value - self.low) / (self.high - self.low) * self.long

    @property
    def marks(self) -> list[float]:
        count = round((self.high - self.low) / self.step)
        return [self.low + self.step * k for k in range(count + 1)]


def _scale(values: Sequence[float], least: float, long: float) -> _Scale:
    """A scale whose figures are whole steps of 1, 2, 4 or 5 times the least, with some room at both ends."""
    low, high = min(values), max(values)
    span = max(high - low, least)
    steps = [least * m * 10**p for p in range(7) for m in (1, 2, 4, 5)]
    step = next((s for s in steps if span / s <= MOST), steps[-1])
    return _Scale(
        step * math.floor(low / step - 0.2), step * math.ceil(high / step + 0.2), step, long
    )


def _field(x: _Scale, y: _Scale, across: Axis, up: Axis, wide: float) -> Iterator[Item]:
    yield Polyline("seen", ((0.0, HIGH), (0.0, 0.0), (wide, 0.0)))
    for value in x.marks:
        yield Strokes("dimension", (((x.at(value), 0.0), (x.at(value), HIGH)),))
        yield Text(
            (x.at(value), -1.8), across.write(value), size=SMALL, anchor="middle", base="head"
        )
    for value in y.marks:
        yield Strokes("dimension", (((0.0, y.at(value)), (wide, y.at(value))),))
        yield Text((-1.8, y.at(value)), up.write(value), size=SMALL, anchor="end", base="middle")
    yield Text(
        (wide, -7.0), f"{across.title}: less is to the left", size=SMALL, anchor="end", base="head"
    )
    yield Text((-LEFT + 2.0, HIGH + 3.0), f"{up.title}: less is lower", size=SMALL)


def _spots(
    spots: Sequence[Spot], x: Callable[[float], float], y: Callable[[float], float]
) -> Iterator[Item]:
    for spot in spots:
        if not spot.number:
            yield from _dot((x(spot.across), y(spot.up)))
    taken: list[Point] = []
    for spot in spots:
        if spot.as_is:
            yield from _square((x(spot.across), y(spot.up)))
    for spot in sorted((s for s in spots if s.number), key=lambda s: s.number):
        home = (x(spot.across), y(spot.up))
        at = _free(home, taken)
        taken.append(at)
        yield from _dot(home)
        if math.dist(at, home) > BALL:
            yield Strokes("seen", ((home, at),))
        ring = tuple(
            (at[0] + BALL * math.cos(k * math.pi / 12), at[1] + BALL * math.sin(k * math.pi / 12))
            for k in range(24)
        )
        yield Fill("seen", ring, "paper")
        yield Circle("cut", at, BALL)
        yield Text(at, str(spot.number), size=SMALL, anchor="middle", base="middle", bold=True)


def _dot(at: Point) -> Iterator[Item]:
    ring = tuple(
        (at[0] + DOT * math.cos(k * math.pi / 6), at[1] + DOT * math.sin(k * math.pi / 6))
        for k in range(12)
    )
    yield Fill("seen", ring, "solid")


def _square(at: Point) -> Iterator[Item]:
    ring = tuple((at[0] + dx, at[1] + dy) for dx, dy in ((-2, -2), (2, -2), (2, 2), (-2, 2)))
    yield Polyline("cut", ring, closed=True)


def _free(home: Point, taken: Sequence[Point]) -> Point:
    """The place nearest to a point where a numbered circle meets no other and hides no dot of its own."""
    spots = [
        (home[0] + r * math.cos(a * math.pi / 8), home[1] + r * math.sin(a * math.pi / 8))
        for r in (4.2, 6.5, 9.0, 12.0, 16.0, 20.0)
        for a in (2, 6, 4, 0, 8, 14, 10, 12, 1, 3, 5, 7, 9, 11, 13, 15)
    ]
    clear = (
        at for at in spots if all(math.dist(at, other) >= APART for other in taken) and at[1] > BALL
    )
    return next(clear, home)


def effect_view(title: str, effects: Sequence[Effect], box: tuple[float, float]) -> Drawing:
    """Return what each change adds to a figure, or takes from it, as bars to the right and to the left.

    Args:
        title: the figure.
        effects: the changes in the order they are drawn, from the top.
        box: width and height of the paper there is (mm).

    Raises:
        TooLarge: if it does not go on the paper.
    """
    most = max((abs(each.adds) for each in effects), default=1.0) or 1.0
    names = box[0] * 0.42
    middle = names + (box[0] - names) / 2
    half = (box[0] - names) / 2 - BESIDE
    items: list[Item] = []
    for row, each in enumerate(effects):
        y = -ROW * row
        long = each.adds / most * half
        ends = sorted((middle, middle + long))
        ring = ((ends[0], y - 1.6), (ends[1], y - 1.6), (ends[1], y + 1.6), (ends[0], y + 1.6))
        items.append(Text((0.0, y), each.name, size=SMALL, base="middle"))
        if abs(long) > 0.05:
            items += [Fill("seen", ring, "tone"), Polyline("seen", ring, closed=True)]
        left = each.adds < 0
        items.append(
            Text(
                (ends[0] - 1.2 if left else ends[1] + 1.2, y),
                each.text,
                size=SMALL,
                anchor="end" if left else "start",
                base="middle",
            )
        )
    foot = -ROW * (len(effects) - 1) - 3.5
    items.append(Strokes("cut", (((middle, 3.5), (middle, foot)),)))
    about = f"{title}: what each change adds to it, to the right, or takes from it, to the left"
    return fit(title, about, items, box)
