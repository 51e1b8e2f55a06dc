"""The shop's keys and the price file: what is read, what is taken, what is refused and how."""

from __future__ import annotations

from datetime import date

import pytest

from ledgewright.job.reading import Read, read
from tests.jobs import EXAMPLES

ALCOVE = (EXAMPLES / "reading-alcove.toml").read_text(encoding="utf-8")
PRICES = (EXAMPLES / "prices-gbp.toml").read_text(encoding="utf-8")


def changed(old: str, new: str, prices: str | None = PRICES) -> Read:
    assert old in ALCOVE
    return read(ALCOVE.replace(old, new, 1), "job.toml", prices)


def test_what_the_examples_say_of_the_shop() -> None:
    found = read(ALCOVE, "job.toml", PRICES).job
    assert found is not None
    bench = found.shop.bench
    assert (bench.glue.name, bench.temperature, bench.start) == ("pva d4", 18.0, date(2026, 12, 1))
    assert bench.off_days == (5, 6)
    assert bench.off == ((date(2026, 12, 24), date(2027, 1, 3)),)
    assert (found.shelves[0].sealer, found.shelves[0].primer) == ("sanding sealer", "primer")
    assert found.shop.prices is not None
    assert all(price.placeholder for price in found.shop.prices.stock)
    assert "labour" in found.shop.prices.placeholders


def test_what_is_left_out_is_taken_and_listed() -> None:
    start = ALCOVE.index('glue = "pva d4"')
    bare = ALCOVE[:start] + ALCOVE[ALCOVE.index("prices = ") :]
    found = read(bare.replace(', sealer = "sanding sealer", primer = "primer"', ""), "job.toml").job
    assert found is not None
    taken = {a.path: a.value for a in found.assumed}
    assert taken["shop.glue"] == "pva yellow"
    assert taken["shop.temperature"] == "20 C"
    assert taken["shop.days_off"] == "Saturday, Sunday"
    assert taken["shelf.reading.finish.sealer"] == "sanding sealer"
    assert taken["shelf.reading.finish.primer"] == "primer"
    assert found.shop.bench.start is None


S = "shelf.reading.finish"
EVERY = '["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"]'
OFF = '["Saturday", "Sunday", [2026-12-24, 2027-01-03]]'
WRONG = [
    ('glue = "pva d4"', 'glue = "epoxy slow"', "stock", "shop.glue", "not for gluing a box"),
    ('glue = "pva d4"', 'glue = "pva d9"', "stock", "shop.glue", "no box glue of that name"),
    (
        'glue = "pva d4"',
        'glue = "urea"',
        "temperature",
        "shop.temperature",
        "urea is not to be used below 21 C",
    ),
    ("18 C", "8 C", "temperature", "shop.temperature", "pva d4 is not to be used below 10 C"),
    ("hours_a_day = 7", "hours_a_day = 30", "range", "shop.hours_a_day", "so many hours"),
    ("hours_a_day = 7", 'hours_a_day = "7 h"', "figure", "shop.hours_a_day", "a number"),
    ("start = 2026-12-01", 'start = "soon"', "date", "shop.start", "a date belongs here"),
    ('"Sunday"', '"Sonntag"', "date", "shop.days_off[1]", "no day of the week"),
    (
        "[2026-12-24, 2027-01-03]",
        "[2027-01-03, 2026-12-24]",
        "date",
        "shop.days_off[2]",
        "end before they begin",
    ),
    (
        "[2026-12-24, 2027-01-03]",
        "[2026-12-24, 2036-01-03]",
        "date",
        "shop.days_off[2]",
        "last over a year",
    ),
    (OFF, EVERY, "date", "shop.days_off", "no day of the week is left"),
    ('primer = "primer"', 'primer = "undercoat"', "stock", f"{S}.primer", "no finish of that name"),
    (
        'sealer = "sanding sealer"',
        'sealer = "varnish"',
        "choice",
        f"{S}.sealer",
        "not one of the choices",
    ),
    ('kind = "waterborne paint"', 'kind = "hardwax oil"', "finish", f"{S}.sealer", "keeps it out"),
    ('kind = "waterborne paint"', 'kind = "lacquer"', "finish", f"{S}.primer", "hide the wood"),
]


@pytest.mark.parametrize(("old", "new", "code", "path", "wrong"), WRONG)
def test_what_cannot_be_is_refused_with_its_line(
    old: str, new: str, code: str, path: str, wrong: str
) -> None:
    found = changed(old, new)
    assert found.job is None
    told = [f for f in found.findings if f.code == code and f.path == path]
    assert len(told) == 1, found.findings
    assert wrong in told[0].wrong
    assert told[0].right
    assert told[0].line is not None


BAD_PRICES = [
    ('"primer" = [19.00, "l", "placeholder"]', '"primer" = [19.00]', "a price is a figure and the unit"),
    ('"primer" = [19.00, "l", "placeholder"]', '"primer" = [19.00, "pint"]', "sold by this unit"),
    ('"primer" = [19.00, "l", "placeholder"]', '"primer" = [-1, "l"]', "from 0 to a million"),
    ('"primer" = [19.00, "l", "placeholder"]', '"primer" = ["19", "l"]', "a price is a number"),
    ('"primer" = [19.00, "l", "placeholder"]', '"primer" = [19, "l", "guess"]', "last word"),
    ('net_margin = [0.15, "placeholder"]', "net_margin = 1.0", "well below one"),
    ('burden = [0.28, "placeholder"]', "burden = 28", "more than all of it"),
    ('tax_on_price = [0.0, "placeholder"]', "tax_on_price = 20", "more than all of it"),
    ('labour = [23.00, "placeholder"]', 'labour = "23"', "a charge is a number"),
    ('labour = [23.00, "placeholder"]', "labour = [23.00]", "without brackets"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "wrong"), BAD_PRICES)
def test_a_wrong_price_is_told_under_the_name_of_its_file(old: str, new: str, wrong: str) -> None:
    assert old in PRICES
    found = read(ALCOVE, "job.toml", PRICES.replace(old, new, 1))
    told = [f for f in found.findings if f.file == "prices-gbp.toml"]
    assert len(told) == 1
    assert wrong in told[0].wrong
    written = PRICES.replace(old, new, 1).split("\n")
    line = next(k for k, text in enumerate(written, 1) if text.startswith(new))
    assert told[0].line == line
    assert found.job is None


def test_a_first_day_off_is_noted() -> None:
    found = changed("start = 2026-12-01", "start = 2026-12-05")  # a Saturday
    assert found.job is not None
    assert [f.path for f in found.findings if f.code == "date"] == ["shop.start"]


def test_a_charge_nobody_knows_is_noted() -> None:
    found = read(ALCOVE, "job.toml", PRICES.replace("mark_up =", "markup =", 1))
    told = [f for f in found.findings if f.code == "rates"]
    assert [(f.level, f.right) for f in told] == [("note", 'did you mean "mark_up"?')]


def test_a_price_without_its_mark_is_the_shop_s_own() -> None:
    mine = PRICES.replace('"primer" = [19.00, "l", "placeholder"]', '"primer" = [19.50, "l"]')
    mine = mine.replace('trip = [24.00, "placeholder"]', "trip = 25.00")
    found = read(ALCOVE, "job.toml", mine).job
    assert found is not None
    assert found.shop.prices is not None
    primer = next(p for p in found.shop.prices.stock if p.name == "primer")
    assert (primer.each, primer.placeholder) == (19.5, False)
    assert "trip" not in found.shop.prices.placeholders
    assert dict(found.shop.prices.rates)["trip"] == 25.0


def test_the_last_coat_is_not_put_on_in_the_cold() -> None:
    """Rods first, the last coat of paint goes on where it hangs: below its label's least that is refused."""
    cold = ALCOVE.replace('temperature = "14 C"', 'temperature = "9 C"', 1)
    assert cold != ALCOVE
    found = read(cold, "job.toml", PRICES)
    assert found.job is None
    assert {f.path for f in found.findings if f.code == "temperature"} == {"site.temperature"}


def test_a_rod_glue_too_choosy_for_the_temperature_taken_is_refused() -> None:
    """Nobody said how warm it is, so a cool room is taken; a glue that needs 21 C would never cure there."""
    bare = ALCOVE.replace('temperature = "14 C"\n', "").replace('"epoxy slow"', '"resorcinol"', 1)
    found = read(bare, "job.toml", PRICES)
    assert found.job is None
    told = next(f for f in found.findings if f.code == "temperature")
    assert "resorcinol does not cure below 21 C" in told.wrong
