"""The answer of `shop`: hours, days, glue-up, finish, price; as text and as JSON."""

from __future__ import annotations

import dataclasses
import textwrap
from collections.abc import Iterable
from typing import Any

from ledgewright.plan import Plan
from ledgewright.sheets.documents import head, number
from ledgewright.sheets.say import Say
from ledgewright.sheets.shopping import Buy, shopping, vans
from ledgewright.sheets.shopside import (
    Side,
    dated,
    final,
    hours_text,
    load_test_words,
    moment_text,
    money,
    percent,
    resting,
    side,
    task_text,
    undated,
)
from ledgewright.sheets.spoken import own_names
from ledgewright.shop import A_DAY, GlueUp, Pressing, Task, clock, hour_lines, visits
from ledgewright.units import show_area, show_volume

Json = dict[str, Any]
PRESSED = {
    "all of it": "in one pressing",
    "core on the bottom skin": "first pressing, core on the bottom skin",
    "top skin on the core": "second pressing, top skin on the core",
}


def shop_text(plan: Plan) -> str:
    """Return the answer of `shop` for people.

    Args:
        plan: the job worked through.
    """
    say, found = Say.of(plan.job.meta, own_names(plan)), side(plan)
    if isinstance(found, str):
        return f"{plan.job.meta.name}: in the shop\n\n  {say.text(say.sizes(found))}\n"
    lines = [f"{plan.job.meta.name}: in the shop", "", *_summary(found)]
    for title, body in (
        ("Glue-up", glue_lines(found)),
        ("Rods", rod_lines(found)),
        ("Finish", finish_lines(found)),
        ("Days", _days(found)),
        ("Hours, hands on", _hours(found)),
        ("To buy", _buy(found)),
        ("Price, for the shop alone", price_lines(found)),
    ):
        lines += ["", title, *body]
    return "\n".join(say.text(line) for line in lines) + "\n"


def _wrapped(items: Iterable[str]) -> list[str]:
    return [textwrap.fill(i, 96, initial_indent="  ", subsequent_indent="    ") for i in items]


def _summary(side: Side) -> list[str]:
    days, work = side.days, side.work
    price = money(side, work.priced.total) if work.priced else "none given"
    lines = [
        (
            f"  work         {work.hours:.1f} hours hands-on on {days.working} days, "
            f"{work.journeys} ways to the site and back"
        ),
    ]
    if side.undated:
        lines += _wrapped([f"no date of the end: {side.undated}"])
    else:
        first = " from the first visit" if not days.dated else ""
        lines.append(f"  finished     {moment_text(side, days.finish)}{first}, at the earliest")
        lines.append(f"  heavy things from {moment_text(side, days.heavy)} on")
        lines += _wrapped(load_test_words(side))
    lines.append(f"  price        {price}")
    lines += _wrapped(f"not final: {why}" for why in final(side))
    return lines + _wrapped(f"NO: {why}" for why in troubles(side))


def troubles(side: Side) -> tuple[str, ...]:
    """Return what cannot be done as planned: glue that goes off half way, clamps that are missing, a mix too quick.

    Args:
        side: the shop's side of the job.
    """
    found = []
    for up in side.work.glue_ups:
        if not up.fits:
            found.append(f"{up.title}: {up.glue.name} goes off half way: {half_way(up)}")
        if up.clamps_short:
            found.append(
                f"{up.title}: {up.clamps_needed} clamps are needed and {up.clamps} are there; "
                f"borrow {up.clamps_short}, or press under weights on stiff boards"
            )
    found += [
        f"{each.adhesive.name} stays workable for {each.minutes:.0f} min there, less than one rod takes"
        for each in side.work.settings
        if each.hurried
    ]
    found += [
        f"{each.title}: {each.adhesive.name} stays workable for {each.minutes:.0f} min there, and gluing the slots and "
        f"bringing it home takes about {each.takes / 60:.0f}"
        for each in side.work.slots
        if not each.fits
    ]
    return tuple(found)


def half_way(up: GlueUp) -> str:
    """Return what of a glue-up takes longer than its glue stays good, and what would do; for one that does not fit.

    Args:
        up: the glue-up.
    """
    return f"{missed(up)}; {enough(up)}"


def enough(up: GlueUp) -> str:
    """Return what would do for a glue-up that does not fit.

    Args:
        up: the glue-up.
    """
    return f"take {up.enough} pairs of hands" if up.enough else "take a glue that stays open longer"


def missed(up: GlueUp) -> str:
    """Return which pressings take longer than the glue stays good, and by what.

    Args:
        up: the glue-up.
    """
    late = (p for p in up.pressings if not p.fits)
    return "; ".join(f"{PRESSED[p.what].split(',')[0]}, {_missed(p)}" for p in late)


def _missed(pressing: Pressing) -> str:
    told = []
    if pressing.bare > pressing.may_lie:
        told.append(f"last faces bare {minutes(pressing.bare, pressing.may_lie)}")
    if pressing.whole > pressing.may_take:
        told.append(f"last clamp on after {minutes(pressing.whole, pressing.may_take)}")
    return " and ".join(told)


def minutes(takes: float, may: float) -> str:
    """Return "9.5 of 10 min": up and down to a half, or so finely that what is in time does not look late.

    Args:
        takes: as planned (s).
        may: what the glue allows (s).
    """
    for step in (30, 6, 3, 1):
        up, down = -(-takes // step), may // step
        if takes > may or up <= down:
            break
    return f"{round(up * step / 60, 2):g} of {round(down * step / 60, 2):g} min"


def glue_lines(side: Side) -> list[str]:
    """Return the glue-up of every section in lines."""
    lines: list[str] = []
    for up in side.work.glue_ups:
        lines += _wrapped([f"{up.title}: {up.glue.name}, {glue_amount(side, up)}"])
        lines += [f"    {pressing_text(p)}" for p in up.pressings]
        caul = side.say.down(up.spacing)
        lines += [
            f"    clamps {up.clamps_needed} of {up.clamps}, cauls no further apart than {caul}",
            f"    in the clamps {hours_text(up.leave)}, worked on after {hours_text(up.work)}, not before the next day",
        ]
    return lines or ["  nothing to glue: no core is laid out"]


def glue_amount(side: Side, up: GlueUp) -> str:
    """Return how much glue a glue-up takes, in words."""
    unit = side.say.units
    return (
        f"{grams(side, up.mass)} ({show_volume(up.volume / 1000, unit)}) on {show_area(up.area, unit)} of faces "
        f"and, in two coats, {show_area(up.thirsty, unit)} of thirsty edges"
    )


def grams(side: Side, mass: float) -> str:
    """A mass of glue, rounded up to 10 g or to a quarter of an ounce."""
    if side.say.units == "in":
        ounces = -(-mass / 0.028349523125 * 4 // 1) / 4
        return f"{ounces:g} oz"
    return f"{-(-mass * 100 // 1) * 10:.0f} g"


def pressing_text(pressing: Pressing) -> str:
    """Return how long a pressing takes against what the glue allows."""
    mark = "" if pressing.fits else "  NO"
    return (
        f"{PRESSED[pressing.what]}: last faces bare {minutes(pressing.bare, pressing.may_lie)}, "
        f"first spread to last clamp {minutes(pressing.whole, pressing.may_take)}{mark}"
    )


def rod_lines(side: Side) -> list[str]:
    """Return how the rods are set in lines."""
    say = side.say
    slots = _wrapped(
        f"slots of {each.title} in {each.adhesive.name}, when it is hung: {show_volume(each.volume / 1000, say.units)} "
        f"with waste ({grams(side, each.mass)}), one mix for {', '.join(each.rods)}; workable for "
        f"{each.minutes:.0f} min, home takes about {each.takes / 60:.0f}; left alone {hours_text(each.leave)}, no load "
        f"before {hours_text(each.load)}; it never comes off again"
        for each in side.work.slots
    )
    holes = _wrapped(
        f"{each.rods} rods in {each.adhesive.name}: {show_volume(each.volume / 1000, say.units)} with waste "
        f"({grams(side, each.mass)}), {each.cartridges} cartridge{'s' * (each.cartridges > 1)} of 400 ml; a mix stays "
        f"workable for {each.minutes:.0f} min, enough for {each.per_mix} rods at 3 min each: {each.mixes} mix"
        f"{'es' * (each.mixes > 1)}, a fresh nozzle for each"
        for each in side.work.settings
    )
    return [*holes, *slots] or ["  none"]


def finish_lines(side: Side) -> list[str]:
    """Return the coats of every finish in lines."""
    unit = side.say.units
    lines: list[str] = []
    for each in side.work.finishings:
        if len(side.work.finishings) > 1:
            lines.append(f"  {', '.join(each.sections)}")
        lines.append(f"  bare wood through {', '.join(each.grits)}")
        for coat in each.coats:
            before = f"after {coat.grit}, " if coat.grit else ""
            place = " on site, after the touch-up" if coat.on_site else ""
            lines.append(
                f"  {coat.name}{place}: {coat.product}, {before}{show_volume(coat.volume / 1000, unit)} on "
                f"{show_area(coat.area, unit)}, next after {hours_text(coat.wait)}"
            )
        if each.coats:
            lines.append(
                f"  carried after {hours_text(each.handle)}, heavy things after "
                f"{-(-each.full_load // 24):.0f} days"
            )
    return lines


def _days(side: Side) -> list[str]:
    rows = [
        (moment_text(side, start), clock(end), f"{where(each.task)}{task_text(each.task)}")
        for each in dated(side)
        for start, end in each.stints
    ]
    lines = [f"  {start} to {end}  {what}" for start, end, what in rows]
    later = list(dict.fromkeys(task_text(task) for task in undated(side)))
    if later:
        lines += _wrapped([f"no day yet, since {side.undated}: {'; '.join(later)}"])
    if not side.days.proven:
        lines.append("  a still earlier end is not ruled out")
    return lines


def where(task: Task) -> str:
    """Return where a task is done, if not in the shop."""
    return "on site: " if task.visit else ""


def _hours(side: Side) -> list[str]:
    return [f"  {h:6.2f}  {what}" for what, h in hour_lines(side.work.tasks) if h > 0]


def _buy(side: Side) -> list[str]:
    return _wrapped(buy_text(side, each) for each in shopping(side) if each.unit)


def buy_text(side: Side, each: Buy) -> str:
    """Return one line of the shopping list in words."""
    if each.packs is None:
        return f"{each.what}: {each.note}"
    have = f" ({each.on_hand} on hand)" if each.on_hand else ""
    marked = ", placeholder" if each.placeholder else ""
    much = each.much
    if each.unit in ("bf", "m3") and each.quantity is not None and each.pack == "lot of boards":
        much = f"{each.quantity:.3g} {each.unit}"
    return f"{each.what}, {each.use}: {much}{have}; {paid(side, each)}{marked}"


def paid(side: Side, each: Buy) -> str:
    """Return what is paid for one line of the shopping list, and what the job is charged where that is another sum.

    Args:
        side: the shop's side of the job.
        each: of its shopping list.
    """
    if each.total is None:
        return "no price"
    if each.to_pay is None or abs(each.to_pay - each.total) < 0.005:
        return money(side, each.total)
    return f"{money(side, each.to_pay)} to pay, {each.total:,.2f} charged to this job"


def price_lines(side: Side) -> list[str]:
    """Return how the price comes about in lines; why there is none."""
    if side.work.priced is None:
        return _wrapped([f"none: {', '.join(side.work.missing)}"])
    return [f"  {amount:>14}  {what}" for what, amount in price_rows(side)]


def price_rows(side: Side) -> tuple[tuple[str, str], ...]:
    """Return every line of the price with its amount: what it is, and how it comes about.

    Args:
        side: the shop's side of the job; it has a price.
    """
    p = side.work.priced
    if p is None:
        return ()
    rates = dict(side.plan.job.shop.prices.rates) if side.plan.job.shop.prices else {}
    least = p.net > p.before_least + 1e-9
    rows: list[tuple[str, float]] = [
        (f"labour, {p.hours:.2f} h at {rates['labour']:.2f}", p.labour),
        (f"burden, {percent(rates['burden'])} of labour", p.burden),
        (
            f"materials charged to this job, sundries of {percent(rates['sundries'])} with them",
            p.materials,
        ),
        (f"waste, {percent(rates['waste'])}", p.waste),
        (
            f"mark-up of {percent(p.mark_up_share)}, which is a margin of {percent(p.margin_of_mark_up)}",
            p.mark_up,
        ),
        (f"ways to the site and back, {side.work.journeys} at {rates['trip']:.2f}", p.trips),
        ("direct", p.direct),
        (f"overhead, {p.hours:.2f} h at {rates['overhead']:.2f}", p.overhead),
        (
            f"contingency, {percent(p.contingency_share)}: {p.contingency_why}",
            p.contingency,
        ),
        ("cost", p.cost),
        (
            "up to the least a job costs, one day"
            if least
            else f"net margin, {percent(p.net_margin_share)} of the price",
            p.net_margin,
        ),
        ("price before tax", p.net),
    ]
    if p.tax_on_materials:
        share = percent(rates["tax_on_materials"])
        rows.append((f"tax on materials, {share}", p.tax_on_materials))
    if p.tax_on_price:
        rows.append((f"tax on the price, {percent(rates['tax_on_price'])}", p.tax_on_price))
    rows.append((f"total, rounded up to {rates['round_up_to'] or 1:g}", p.total))
    return tuple((what, f"{amount:,.2f}") for what, amount in rows)


def does(plan: Plan) -> bool:
    """Say whether the shop's side of a job is settled: it can be glued, it has days, and its price could be quoted.

    Args:
        plan: the job worked through.
    """
    found = side(plan)
    return (
        not isinstance(found, str)
        and not troubles(found)
        and not final(found)
        and not found.undated
        and found.days.dated
    )


def shop_document(plan: Plan) -> Json:
    """Return the answer of `shop` as a JSON document.

    Args:
        plan: the job worked through.

    Returns:
        A document that keeps to `shop_schema`; lengths in mm, areas mm2, volumes mm3, masses kg, waits in hours.
    """
    found = side(plan)
    if isinstance(found, str):
        return {**head(plan.job), "settled": False, "why": [found], "shop": None}
    why = [*troubles(found), *final(found)]
    why += [] if found.days.dated else ["no first day is named"]
    return {
        **head(plan.job),
        "settled": does(plan),
        "why": why,
        "shop": {
            "withheld": list(found.held),
            "undated": found.undated or None,
            "hours": number(found.work.hours),
            "hour_lines": [
                {"what": what, "hours": number(h)} for what, h in hour_lines(found.work.tasks)
            ],
            "journeys": found.work.journeys,
            "tasks": _tasks(found),
            "waits": _waits(found),
            "days": _days_document(found),
            "glue_ups": [_glue(found, up) for up in found.work.glue_ups],
            "rods": _settings(found),
            "slots": _slots(found),
            "finishes": _finishes(found),
            "buy": [_bought(each) for each in shopping(found)],
            "vans": [dataclasses.asdict(v) | {"items": list(v.items)} for v in vans(found)],
            "price": _price(found),
            "missing": list(found.work.missing),
            "placeholders": list(found.work.placeholders),
        },
    }


def _iso(side: Side, moment: int) -> str:
    """A moment as local date and time, or as day and time where there is no date."""
    if side.days.dated:
        return f"{side.days.date(moment).isoformat()}T{clock(moment)}"
    return f"day {moment // A_DAY + 1} {clock(moment)}"


def _tasks(side: Side) -> list[Json]:
    stints = {each.task.id: each.stints for each in dated(side)}
    return [
        {
            "id": task.id,
            "what": task.what,
            "of": task.of,
            "hours": number(task.hours),
            "visit": task.visit or None,
            "people": task.people,
            "after": [
                {"task": a.task, "hours": number(a.wait), "overnight": a.overnight, "why": a.why}
                for a in task.after
            ],
            "drills": task.drills,
            "clamps": task.clamps,
            "stints": [
                {"start": _iso(side, a), "end": _iso(side, b)} for a, b in stints.get(task.id, ())
            ],
        }
        for task in side.work.tasks
    ]


def _waits(side: Side) -> list[Json]:
    shut = resting(side)
    return [
        {
            "why": w.why,
            "after": w.task,
            "start": _iso(side, w.start),
            "end": _iso(side, w.end),
        }
        for w in side.days.waits
        if w.task not in shut
    ]


def _days_document(side: Side) -> Json:
    days = side.days
    return {
        "start": days.calendar.first.isoformat() if days.dated else None,
        "finish": None if side.undated else _iso(side, days.finish),
        "heavy": None if side.undated else _iso(side, days.heavy),
        "working_days": days.working,
        "proven": days.proven,
        "visits": [
            {"visit": visit, "hours": number(hours)} for visit, hours in visits(side.work.tasks)
        ],
    }


def _glue(side: Side, up: GlueUp) -> Json:
    return {
        "section": up.section,
        "title": up.title,
        "glue": up.glue.name,
        "area": number(up.area),
        "thirsty": number(up.thirsty),
        "mass": number(up.mass),
        "volume": number(up.volume),
        "text": glue_amount(side, up),
        "hands": up.hands,
        "hands_needed": up.enough,
        "fits": up.fits,
        "pressings": [
            {
                "what": p.what,
                "bare_s": number(p.bare),
                "may_lie_s": number(p.may_lie),
                "whole_s": number(p.whole),
                "may_take_s": number(p.may_take),
                "fits": p.fits,
            }
            for p in up.pressings
        ],
        "clamps_needed": up.clamps_needed,
        "clamps": up.clamps,
        "caul_spacing": number(up.spacing),
        "cauls": [{"wall": c.wall, "at": [number(x) for x in c.at]} for c in up.cauls],
        "leave_h": number(up.leave),
        "work_h": number(up.work),
        "load_h": number(up.load),
    }


def _settings(side: Side) -> list[Json]:
    return [
        {
            "adhesive": each.adhesive.name,
            "rods": each.rods,
            "volume": number(each.volume),
            "mass": number(each.mass),
            "work_min": number(each.minutes),
            "per_mix": each.per_mix,
            "mixes": each.mixes,
            "cartridges": each.cartridges,
        }
        for each in side.work.settings
    ]


def _slots(side: Side) -> list[Json]:
    return [
        {
            "section": each.section,
            "adhesive": each.adhesive.name,
            "rods": list(each.rods),
            "volume": number(each.volume),
            "mass": number(each.mass),
            "work_min": number(each.minutes),
            "takes_min": number(each.takes / 60),
            "fits": each.fits,
            "cartridges": each.cartridges,
            "leave_h": number(each.leave),
            "load_h": number(each.load),
        }
        for each in side.work.slots
    ]


def _finishes(side: Side) -> list[Json]:
    return [
        {
            "sections": list(each.sections),
            "sort": each.sort,
            "grits": list(each.grits),
            "coats": [
                {
                    "name": c.name,
                    "product": c.product,
                    "area": number(c.area),
                    "volume": number(c.volume),
                    "grit": c.grit,
                    "wait_h": number(c.wait),
                    "on_site": c.on_site,
                }
                for c in each.coats
            ],
            "handle_h": number(each.handle),
            "full_load_h": number(each.full_load),
        }
        for each in side.work.finishings
    ]


def _bought(each: Buy) -> Json:
    def maybe(value: float | None) -> float | None:
        return None if value is None else number(value)

    return {
        "what": each.what,
        "for": each.use,
        "quantity": maybe(each.quantity),
        "unit": each.unit,
        "packs": each.packs,
        "pack": each.pack,
        "on_hand": each.on_hand,
        "each": maybe(each.each),
        "total": maybe(each.total),
        "to_pay": maybe(each.to_pay),
        "note": each.note,
        "placeholder": each.placeholder,
    }


def _price(side: Side) -> Json | None:
    priced, prices = side.work.priced, side.plan.job.shop.prices
    if priced is None or prices is None:
        return None
    figures = {f.name: getattr(priced, f.name) for f in dataclasses.fields(priced)}
    return {
        "currency": prices.currency,
        "final": not final(side),
        "sheets_proven": side.work.counted.proven,
        **{k: number(v) if isinstance(v, float | int) else v for k, v in figures.items()},
    }
