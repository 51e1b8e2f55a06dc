"""The shop of a job: its saw, people, glue, days and warmth; and its price file."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from ledgewright import stock, units
from ledgewright.job import schema
from ledgewright.job.findings import Ear, nearest, read_as
from ledgewright.job.model import RATES, Bench, Order, Price, Prices, Shop, Spec, is_paint
from ledgewright.job.places import Path

AT: Path = ("shop",)
CONSUMABLES = ("mixing nozzle",)
"""What is bought beside the catalogue and may stand in a price file."""
SHARES = {"burden": 2.0, "mark_up": 3.0, "waste": 1.0, "sundries": 1.0, "contingency": 1.0}
"""Shares of one that look odd above this: somebody wrote per cent."""


def shop(ear: Ear, table: schema.ShopTable | None, prices: Prices | None) -> Shop:
    """Return the shop of a job.

    Args:
        ear: hears what is wrong and what is assumed.
        table: the table as read; None if there is none.
        prices: the price file, None if none was read.
    """
    made = table or schema.ShopTable()
    if made.saw is None:
        ear.default_text("shop.saw", (*AT, "saw"))
    if made.prices is not None:
        _check_price_name(ear, made.prices, (*AT, "prices"))
    return Shop(
        on_hand=tuple((panel.name, size, count) for panel, size, count in made.on_hand),
        kerf=_or(ear, made.kerf, "kerf"),
        trim=_or(ear, made.trim, "trim"),
        offcut=_offcut(ear, made),
        saw=made.saw or "straight guide",
        people=round(_or(ear, made.people, "people")),
        clamps=round(_or(ear, made.clamps, "clamps")),
        prices=prices,
        guide=made.guide,
        bench=_bench(ear, made),
    )


def _or(ear: Ear, given: float | None, key: str) -> float:
    return given if given is not None else ear.default(f"shop.{key}", (*AT, key))


def _offcut(ear: Ear, made: schema.ShopTable) -> tuple[float, float]:
    """Shorter and longer side, in whichever order they were written."""
    if made.offcut is not None:
        return min(made.offcut), max(made.offcut)
    at = (*AT, "offcut")
    return ear.default("shop.offcut width", at), ear.default("shop.offcut length", at)


def _bench(ear: Ear, made: schema.ShopTable) -> Bench:
    weekdays, off = _days_off(ear, made)
    _check_start(ear, made.start, weekdays, off)
    glue = made.glue or stock.adhesive(ear.default_text("shop.glue", (*AT, "glue")))
    return Bench(
        glue=glue,
        temperature=_or(ear, made.temperature, "temperature"),
        start=made.start,
        hours_a_day=_or(ear, made.hours_a_day, "hours_a_day"),
        off_days=weekdays,
        off=off,
        answer_days=round(_or(ear, made.answer_days, "answer_days")),
        delivery_days=round(_or(ear, made.delivery_days, "delivery_days")),
        long_test=made.long_test,
        retrofit_bays=made.retrofit_bays,
    )


def _check_start(
    ear: Ear, start: date | None, weekdays: Sequence[int], off: Sequence[tuple[date, date]]
) -> None:
    if start and (start.weekday() in weekdays or any(a <= start <= b for a, b in off)):
        ear.note(
            "date",
            (*AT, "start"),
            "nobody works on this day: the first visit is on the next working day",
            "write a day on which you work",
        )


def _days_off(
    ear: Ear, made: schema.ShopTable
) -> tuple[tuple[int, ...], tuple[tuple[date, date], ...]]:
    if made.days_off is None:
        ear.default_text("shop.days_off", (*AT, "days_off"))
        return (5, 6), ()
    weekdays = sorted({day for day in made.days_off if isinstance(day, int)})
    if len(weekdays) == 7:
        ear.refuse(
            "date",
            (*AT, "days_off"),
            "no day of the week is left to work on",
            "leave at least one out",
        )
    return tuple(weekdays), tuple(day for day in made.days_off if not isinstance(day, int))


def check_warmth(
    ear: Ear, made: Shop, specs: Sequence[Spec], order: Order | None, site: float
) -> None:
    """Refuse a shop, or a site, that is colder than the label of what is glued or coated there allows.

    Args:
        ear: hears it.
        made: the shop.
        specs: the shelves.
        order: in which it is built; with rods first the last coat of paint goes on where it hangs.
        site: how warm it is there (C).
    """
    if order in (None, "rods first"):
        for name in {spec.finish for spec in specs if spec.coats and is_paint(spec.finish)}:
            if site < stock.finish(name).coldest:
                _too_cold(ear, ("site", "temperature"), name, stock.finish(name).coldest)
    coldest = {made.bench.glue.name: made.bench.glue.coldest}
    for spec in specs:
        names = [spec.finish] if spec.coats else []
        names += [spec.primer] if spec.primer else []
        names += ["sanding sealer"] if spec.sealer == "sanding sealer" else []
        coldest |= {name: stock.finish(name).coldest for name in names}
    for name, least in coldest.items():
        if made.bench.temperature < least:
            _too_cold(ear, (*AT, "temperature"), name, least)
            return


def _too_cold(ear: Ear, path: Path, name: str, least: float) -> None:
    ear.refuse(
        "temperature",
        path,
        f"{name} is not to be used below {units.show_temperature(least, ear.unit)}",
        "warm the place and keep it warm, or take another",
    )


def _check_price_name(ear: Ear, name: str, path: Path) -> None:
    parts = name.replace("\\", "/").split("/")
    if name != name.strip() or ".." in parts or "" in parts or ":" in name or "~" in parts[0]:
        ear.refuse(
            "prices",
            path,
            "the price file lies beside the job, never outside its folder",
            'write its name alone, like "prices.toml"',
        )


def prices(ear: Ear, file: str, text: str, document: Mapping[str, object]) -> Prices | None:
    """Return the price file; what is wrong with it is told under its own name.

    Args:
        ear: of the job.
        file: name of the price file.
        text: its text.
        document: what it holds.
    """
    own = Ear(file=file, text=text, document=document)
    own.unit = ear.unit
    table = read_as(own, schema.PriceTable, document, ())
    if table is not None:
        _check_stock(own, table)
        _check_rates(own, table)
    ear.findings.extend(own.findings)
    if table is None:
        return None
    return Prices(
        currency=table.currency,
        stock=tuple(
            Price(name, each, unit, placeholder)
            for name, (each, unit, placeholder) in table.stock.items()
        ),
        rates=tuple((name, rate) for name, (rate, _) in table.rates.items()),
        placeholders=tuple(name for name, (_, marked) in table.rates.items() if marked),
    )


def _check_stock(own: Ear, table: schema.PriceTable) -> None:
    known = {row.name for kind in stock.KINDS for row in stock.rows(kind)} | set(CONSUMABLES)
    known |= {panel.sized(size) for panel in stock.panels() for size in panel.sheets}
    for name in table.stock:
        if name not in known:
            near = next(iter(stock.same_words(name, sorted(known))), None) or nearest(name, known)
            own.note(
                "stock",
                ("stock", name),
                "nothing of that name is in the catalogue: this price is never used",
                f'did you mean "{near}"?' if near else "see `ledgewright stock`",
            )


def _check_rates(own: Ear, table: schema.PriceTable) -> None:
    for name, (rate, _) in table.rates.items():
        path: Path = ("rates", name)
        if name not in RATES:
            near = nearest(name, RATES)
            own.note(
                "rates",
                path,
                "there is no charge of that name: it is never used",
                f'did you mean "{near}"?' if near else "known: " + ", ".join(RATES),
            )
        elif name == "net_margin" and rate >= 0.9:
            own.refuse(
                "range",
                path,
                "a net margin is a share of the price and lies well below one",
                "write 0.15 for 15 %",
            )
        elif rate > SHARES.get(name, 1e6) or (name.startswith("tax_") and rate > 1):
            own.refuse(
                "range", path, "this is more than all of it", "write 0.15 for 15 %, never 15"
            )
