"""The skins of an L in one piece, butted or mitred: sheets, waste, price and strength, side by side."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Literal

from ledgewright.job import Spec
from ledgewright.judge import Design
from ledgewright.memo import Memo
from ledgewright.plan import CannotLayError, Plan, check
from ledgewright.shop import Sheets, cutting, parts
from ledgewright.statics import State

Joint = Literal["one piece", "butted", "mitred"]
WAYS: tuple[tuple[Joint, Joint], ...] = (
    ("one piece", "one piece"),
    ("mitred", "butted"),
    ("butted", "butted"),
    ("mitred", "mitred"),
)
"""Top and bottom skin. Mitred over butted, the joints are staggered: each skin laps the other's joint."""
UNJUDGED = "not judged here: ledgewright cut JOB.toml --joints"


@dataclass(frozen=True)
class SkinWay:
    """One way to make the skins of an L: sheets of this shelf's skins alone, waste, price, and whether it holds.

    sheets, waste: None where a skin is larger than every sheet. verdict: None where it was not judged; why says so,
    or which row governs with its ratio.
    """

    shelf: str
    top: Joint
    bottom: Joint
    asked: bool
    sheets: int | None
    waste: float | None
    price: float | None
    verdict: State | None
    why: str


def skin_ways(
    plan: Plan, design: Design, memo: Memo | None, *, judged: bool = True
) -> tuple[SkinWay, ...]:
    """Return the ways to make the skins of an L in one section; none of any other shelf.

    Source: parts, sheets and price by the rooms of the shop; strength by the statics, in which no joint of a skin
    carries anything (see docs/section-model.md).

    Args:
        plan: the whole job.
        design: the shelf.
        memo: kept by the caller, to judge the ways not asked for; without it they are only cut.
        judged: whether they are judged where there is a memo.
    """
    if len(design.frame.legs) < 2:
        return ()
    return tuple(_ways(plan, design, memo or Memo(), judged=judged and memo is not None))


def _ways(plan: Plan, design: Design, memo: Memo, *, judged: bool) -> Iterator[SkinWay]:
    spec = design.spec
    asked = (spec.skin_top.joint, spec.skin_bottom.joint)
    for top, bottom in (asked, *(way for way in WAYS if way != asked)):
        changed = replace(
            spec,
            skin_top=replace(spec.skin_top, joint=top),
            skin_bottom=replace(spec.skin_bottom, joint=bottom),
        )
        skins = tuple(
            p for p in parts(spec=changed, frame=design.frame, core=None) if p.kind == "skin"
        )
        alone = [(changed, skins)]
        cut = memo.get(
            "skins",
            (plan.job.shop, plan.job.meta.units, changed, skins),
            partial(cutting, job=plan.job, made=alone),
        )
        done = not cut.left
        made = (
            design if (top, bottom) == asked else _judged(plan, changed, memo if judged else None)
        )
        verdict, why = _told(made)
        yield SkinWay(
            shelf=spec.id,
            top=top,
            bottom=bottom,
            asked=(top, bottom) == asked,
            sheets=sum(each.count for each in cut.sheets) if done else None,
            waste=max(each.waste for each in cut.sheets) if done else None,
            price=_price(plan, cut.sheets) if done else None,
            verdict=verdict,
            why=why,
        )


def _judged(plan: Plan, changed: Spec, memo: Memo | None) -> Design | str:
    """The shelf with other joints, worked through like the one asked for; or why it was not."""
    if memo is None:
        return UNJUDGED
    top, bottom = changed.skin_top, changed.skin_bottom
    shelves = tuple(
        replace(s, skin_top=top, skin_bottom=bottom) if s.id == changed.id else s
        for s in plan.job.shelves
    )
    try:
        made = check(replace(plan.job, shelves=shelves), memo)
    except CannotLayError as error:
        return f"cannot be laid out: {'; '.join(reason for _, reason in error.found)}"
    return next(each for each in made if each.spec.id == changed.id)


def _told(made: Design | str) -> tuple[State | None, str]:
    if isinstance(made, str):
        return None, made
    rows = [c for c in made.holds.checks if not c.information and math.isfinite(c.ratio)]
    worst = max(rows, key=lambda c: c.ratio, default=None)
    said = f"{worst.title} {worst.ratio:.2f}" if worst else "no row"
    return made.holds.verdict, said


def _price(plan: Plan, sheets: Sequence[Sheets]) -> float | None:
    """What the sheets cost by the price file; sheets on hand cost nothing more."""
    prices = plan.job.shop.prices
    each = {p.name: p.each for p in prices.stock if p.unit == "sheet"} if prices else {}
    counts = [count for s in sheets for count in s.counted if count.count]
    if any(count.name not in each for count in counts):
        return None
    return sum(count.count * each[count.name] for count in counts)


def skin_lines(ways: Sequence[SkinWay], plan: Plan) -> tuple[str, ...]:
    """Return one line for each way, the one asked for first.

    Args:
        ways: from `skin_ways`.
        plan: the whole job.
    """
    prices = plan.job.shop.prices
    return tuple(_line(way, prices.currency if prices else "") for way in ways)


def _line(way: SkinWay, currency: str) -> str:
    joints = f"both {way.top}" if way.top == way.bottom else f"top {way.top}, bottom {way.bottom}"
    cut = (
        "a skin is larger than every sheet"
        if way.sheets is None or way.waste is None
        else f"{way.sheets} sheet{'s' * (way.sheets != 1)} to buy, waste {math.ceil(way.waste * 100)} %"
    )
    price = f", {currency} {way.price:,.0f}" if way.price is not None else ""
    holds = way.why if way.verdict is None else f"{way.verdict} (worst: {way.why})"
    asked = ", as asked" if way.asked else ""
    return f"{joints}{asked}: {cut}{price}; {holds}"
