"""The price rule against an example worked by hand, and what it refuses to hide."""

from __future__ import annotations

import dataclasses
from typing import Any

import pytest

from ledgewright import shop
from ledgewright.job import How, Prices
from ledgewright.shop import Line
from ledgewright.shop import price as pricing
from tests.jobs import job
from tests.shop import made

RATES = {
    "labour": 30.0,
    "burden": 0.30,
    "overhead": 25.0,
    "mark_up": 0.25,
    "waste": 0.15,
    "sundries": 0.05,
    "net_margin": 0.20,
    "trip": 40.0,
    "tax_on_materials": 0.08,
    "round_up_to": 5.0,
}


def priced(bought: float, hours: float, journeys: int, **more: float) -> shop.Priced:
    return pricing.price(
        lines=(Line("all of it", 1.0, "each", bought, bought),),
        hours=hours,
        journeys=journeys,
        hours_a_day=8.0,
        rates=RATES | more,
        contingency=(0.05, "said so"),
    )


def test_a_job_worked_by_hand() -> None:
    """Source: the trade's price rule (common practice), by hand.

    Labour 20 x 30 = 600, burden 180. Bought 400, with sundries 420; waste 63; mark-up 0.25 x 483 = 120.75; charged
    603.75. Trips 3 x 40 = 120. Direct 600 + 180 + 603.75 + 120 = 1503.75. Overhead 20 x 25 = 500. Contingency 0.05 x
    2003.75 = 100.1875. Cost 2103.9375; over 0.80: 2629.921875. Tax 0.08 x 420 = 33.60. In all 2663.52, up to 2665.
    """
    p = priced(400.0, 20.0, 3)
    assert (p.labour, p.burden, p.materials) == (600, 180, 420)
    assert (p.waste, p.mark_up, p.charged, p.trips) == (63, 120.75, 603.75, 120)
    assert (p.direct, p.overhead) == (1503.75, 500)
    assert p.contingency == pytest.approx(100.1875)
    assert p.cost == pytest.approx(2103.9375)
    assert p.net == pytest.approx(2629.921875)
    assert p.net_margin == pytest.approx(0.20 * 2629.921875)
    assert p.tax_on_materials == pytest.approx(33.60)
    assert p.total == 2665


def test_hours_are_charged_as_they_are_printed() -> None:
    """By hand: 34.9982 h is printed as 35.00 h; at 30 that is 1,050.00, and 875.00 of overhead at 25."""
    p = priced(400.0, 34.9982, 3)
    assert (p.hours, p.labour, p.overhead) == (35.0, 1050.0, 875.0)


def test_tax_on_the_price_is_on_all_of_it() -> None:
    # By hand: (2629.921875 + 33.60) x 1.20 = 3196.226, up to 3200.
    p = priced(400.0, 20.0, 3, tax_on_price=0.20)
    assert p.tax_on_price == pytest.approx(532.704375)
    assert p.total == 3200


def test_no_job_costs_less_than_a_day() -> None:
    # By hand: 8 h x (30 x 1.30 + 25) + one way of 40 is 552, over 0.80: 690. Two hours alone would be 220.50.
    p = priced(0.0, 2.0, 1)
    assert p.before_least == pytest.approx((2 * 64 + 40) * 1.05 / 0.80)
    assert p.net == p.least == pytest.approx(690)
    assert p.total == 690


@pytest.mark.parametrize(("mark_up", "margin"), [(0.25, 0.20), (1.0, 0.5), (0.20, 1 / 6), (0, 0)])
def test_a_mark_up_is_a_smaller_margin(mark_up: float, margin: float) -> None:
    # The trade: 25 % mark-up is 20 % margin.
    assert pricing.margin(mark_up) == pytest.approx(margin)


def known(how: How) -> Any:
    of = job("reading-alcove")
    walls = tuple(
        dataclasses.replace(wall, known=dataclasses.replace(wall.known, how=how))
        for wall in of.tapes.walls
    )
    return dataclasses.replace(of, tapes=dataclasses.replace(of.tapes, walls=walls))


def test_contingency_goes_by_what_is_known_of_the_wall() -> None:
    """Common practice: 3 % of open studs to 10 % of a wall nobody has seen inside, never less for knowing less."""
    hows: tuple[How, ...] = ("framed it", "opened it", "probed it", "scanned", "drawing", "unknown")
    shares = [
        pricing.contingency(known(how), made.sections("reading-alcove"), {})[0] for how in hows
    ]
    assert shares[0] == 0.03
    assert shares[-1] == 0.10
    assert shares == sorted(shares)
    own = pricing.contingency(
        known("unknown"), made.sections("reading-alcove"), {"contingency": 0.04}
    )
    assert own == (0.04, "the shop's own figure")


def test_the_worst_wall_decides() -> None:
    # Stoneware corner: wall A was opened (7 %), wall B framed by the builder (3 %).
    share, why = pricing.contingency(job("stoneware-corner"), made.sections("stoneware-corner"), {})
    assert (share, why) == (0.07, "wall A: opened it")


def test_every_placeholder_is_named() -> None:
    of = job("reading-alcove")
    work = shop.work(of, made.sections("reading-alcove"))
    assert of.shop.prices is not None
    assert {f"rate: {name}" for name, _ in of.shop.prices.rates} <= set(work.placeholders)
    assert {line.what for line in work.lines} <= set(work.placeholders)
    own = Prices(
        currency="GBP",
        stock=tuple(
            dataclasses.replace(p, placeholder=p.name == "primer") for p in of.shop.prices.stock
        ),
        rates=of.shop.prices.rates,
        placeholders=("trip",),
    )
    mine = dataclasses.replace(of, shop=dataclasses.replace(of.shop, prices=own))
    assert shop.work(mine, made.sections("reading-alcove")).placeholders == ("primer", "rate: trip")


def test_quick_bill_and_quote_differ_by_the_sheets_alone() -> None:
    of, whole = job("record-wall"), made.sections("record-wall")
    quick = shop.work(of, whole)
    sheet = quick.counted.sheets[0]
    proven = shop.Counted((dataclasses.replace(sheet, count=sheet.count + 1),), proven=True)
    quote = shop.work(of, whole, proven)
    assert quote.hours == pytest.approx(quick.hours + 0.4)  # one sheet more to break down
    assert [a for a, b in zip(quick.lines, quote.lines, strict=True) if a != b] == [quick.lines[0]]
    assert quick.priced is not None
    assert quote.priced is not None
    more = 118.0 * 1.06 * 1.15 * 1.20 + 0.4 * (
        34.0 * 1.28 + 29.0
    )  # by hand, before contingency and margin
    assert quote.priced.net - quick.priced.net == pytest.approx(more * 1.07 / 0.85)
