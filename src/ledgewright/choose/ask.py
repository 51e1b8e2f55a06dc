"""Changes as a carpenter would ask for them: one thing at a time, from the job as it is or from a choice."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from ledgewright import stock
from ledgewright.choose.change import EXACT
from ledgewright.choose.ground import Ground
from ledgewright.choose.model import Question, Wanted
from ledgewright.choose.space import (
    FEWEST_RODS,
    Axis,
    Space,
    Value,
    eligible,
    every_other,
    make,
)
from ledgewright.stock import Bar, Panel

Asked = tuple[Question, Wanted]


def what_ifs(ground: Ground, space: Space, start: Wanted) -> tuple[Asked, ...]:
    """Return the job as it is with one thing changed, thing by thing; what the price file lacks is asked too.

    Args:
        ground: the shelf.
        space: what may be changed.
        start: the shelf as it is.
    """
    found = [
        *_of_bars(space, start),
        *_of_members(ground, space, start),
        *_one_fewer(space, start),
        *_of_adhesives(space, start),
        *_of_skins(ground, space, start),
        *_of_depth(space, start),
        *_of_slot(ground, start),
        *_of_core(space, start),
        *_of_way(ground, space, start),
    ]
    seen: dict[Wanted, Question] = {}
    for question, wanted in found:
        if wanted != start:
            seen.setdefault(space.settle(wanted), question)
    return tuple((question, wanted) for wanted, question in seen.items())


def steps_down(ground: Ground, space: Space, start: Wanted) -> tuple[Asked, ...]:
    """Return a design with one thing a step weaker: a thinner bar, thinner skins, shallower holes, one rod fewer.

    Args:
        ground: the shelf.
        space: what may be changed.
        start: the design.
    """
    found = [
        *(each for each in _of_bars(space, start) if each[0] == "thinner bar"),
        *(each for each in _of_skins(ground, space, start) if each[0] == "thinner skins"),
        *(each for each in _of_depth(space, start) if each[0] == "shallower"),
        *_one_fewer(space, start),
    ]
    return tuple((question, space.settle(wanted)) for question, wanted in found)


def _axis(space: Space, name: str) -> Axis | None:
    return next((axis for axis in space.axes if axis.name == name), None)


def _of_bars(space: Space, start: Wanted) -> Iterator[Asked]:
    axis, now = _axis(space, "bar"), stock.bar(start.bar)
    bars = [stock.bar(str(value)) for value in axis.options] if axis else []
    for question, bar in _bars_beside(bars, now):
        yield question, replace(start, bar=bar.name)


def _bars_beside(bars: Sequence[Bar], now: Bar) -> Iterator[tuple[Question, Bar]]:
    alike = [bar for bar in bars if (bar.shape, bar.steel) == (now.shape, now.steel)]
    thinner = [bar for bar in alike if bar.height < now.height - EXACT]
    thicker = [bar for bar in alike if bar.height > now.height + EXACT]
    if thinner:
        yield "thinner bar", max(thinner, key=lambda bar: bar.height)
    if thicker:
        yield "thicker bar", min(thicker, key=lambda bar: bar.height)
    for bar in bars:
        if (bar.width, bar.height) != (now.width, now.height) or bar == now:
            continue
        if bar.steel == now.steel and bar.shape != now.shape:
            yield ("square bar" if bar.shape == "square" else "round bar"), bar
        elif bar.shape == now.shape:
            yield "other steel", bar


def _of_members(ground: Ground, space: Space, start: Wanted) -> Iterator[Asked]:
    if _axis(space, "members") is None:
        return
    every = [(wall, tuple(m.id for m in eligible(ground, wall))) for wall, _ in start.members]
    had = {wall: set(ids) for wall, ids in start.members}
    if any(set(ids) != had[wall] for wall, ids in every):
        yield "every member", replace(start, members=tuple(every))
    fewer = [(wall, next(iter(every_other(ids)), ids)) for wall, ids in every]
    if any(len(ids) != len(whole) for (_, ids), (_, whole) in zip(fewer, every, strict=True)):
        yield "every other member", replace(start, members=tuple(fewer))


def _of_adhesives(space: Space, start: Wanted) -> Iterator[Asked]:
    axis = _axis(space, "adhesive")
    for name in axis.options if axis else ():
        if name != start.adhesive:
            yield "other adhesive", replace(start, adhesive=str(name))


def _of_skins(ground: Ground, space: Space, start: Wanted) -> Iterator[Asked]:
    axis = _axis(space, "skins")
    if axis is None:
        return
    panels = {value: _panel(ground, value) for value in axis.options}
    own = make(_panel(ground, start.skins))
    alike = {v: _thick(ground, v) for v, panel in panels.items() if make(panel) == own}
    now = _thick(ground, start.skins)
    thinner = _those_sold({v: t for v, t in alike.items() if t < now - EXACT}, axis)
    thicker = _those_sold({v: t for v, t in alike.items() if t > now + EXACT}, axis)
    if thinner:
        yield "thinner skins", _skinned(start, max(thinner, key=lambda v: thinner[v]))
    if thicker:
        yield "thicker skins", _skinned(start, min(thicker, key=lambda v: thicker[v]))
    for value in panels:
        if value not in alike:
            yield "other panel", _skinned(start, value)


def _panel(ground: Ground, skins: Value) -> Panel:
    return ground.spec.skin_top.panel if skins is None else stock.panel(str(skins))


def _thick(ground: Ground, skins: Value) -> float:
    """Of the job's own panel what was measured."""
    return ground.spec.skin_top.thick if skins is None else _panel(ground, skins).thick


def _skinned(start: Wanted, skins: Value) -> Wanted:
    return replace(start, skins=None if skins is None else str(skins))


def _those_sold(panels: dict[Value, float], axis: Axis) -> dict[Value, float]:
    """The panels that have a price, if any has."""
    priced = dict(zip(axis.options, axis.priced, strict=True))
    return {v: t for v, t in panels.items() if priced[v]} or panels


def _of_depth(space: Space, start: Wanted) -> Iterator[Asked]:
    axis = _axis(space, "embedment")
    depths = [float(v) for v in axis.options if isinstance(v, float)] if axis else []
    deeper = [depth for depth in depths if depth > start.embedment + EXACT]
    shallower = [depth for depth in depths if depth < start.embedment - EXACT]
    if deeper:
        yield "deeper", replace(start, embedment=min(deeper))
    if shallower:
        yield "shallower", replace(start, embedment=max(shallower))


def _of_slot(ground: Ground, start: Wanted) -> Iterator[Asked]:
    """Asked of itself although it is not searched: the answer says why."""
    if "in slot" not in (ground.job.choosing.vary or ("in slot",)):
        return
    if start.in_slot == "dry":
        yield "glued", replace(start, in_slot="glued")
    else:
        yield "dry", replace(start, in_slot="dry")


def _of_core(space: Space, start: Wanted) -> Iterator[Asked]:
    axis = _axis(space, "core")
    of, strip, rib, span = start.core
    for value in axis.options if axis else ():
        if not isinstance(value, tuple) or len(value) != 4:
            continue
        timber, s, r, m = value
        if (timber, s, r) == (of, strip, rib) and float(m) < span:
            yield "closer ribs", replace(start, core=(of, strip, rib, float(m)))


def _of_way(ground: Ground, space: Space, start: Wanted) -> Iterator[Asked]:
    if _axis(space, "way") is None:
        return
    if start.sections == 1 and len(ground.spec.legs) > 1:
        yield "two sections", replace(start, sections=2)
    elif start.sections == 2:
        yield "one section", replace(start, sections=1)


def _one_fewer(space: Space, start: Wanted) -> Iterator[Asked]:
    """Without the rod in the middle of the wall that has most of them."""
    if _axis(space, "members") is None:
        return
    wall, ids = max(start.members, key=lambda pair: len(pair[1]))
    if len(ids) > FEWEST_RODS:
        gone = ids[len(ids) // 2]
        kept = tuple(each for each in ids if each != gone)
        members = tuple((w, kept if w == wall else had) for w, had in start.members)
        yield "one rod fewer", replace(start, members=members)
