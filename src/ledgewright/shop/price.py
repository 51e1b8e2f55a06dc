"""The one price rule, for the quick bill and for the quote."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from ledgewright.job import NEEDED_RATES, How, Job, Prices
from ledgewright.shop.model import CARTRIDGE, FOOT, Line, Made, Priced
from ledgewright.shop.needs import Need

BOARD_FOOT = 12 * 12 * 25.4**3
QUART = 946_352.946
UNITS: dict[tuple[str, str], float] = {
    ("length", "ft"): FOOT,
    ("length", "m"): 1000.0,
    ("sheet", "sheet"): 1.0,
    ("volume", "bf"): BOARD_FOOT,
    ("volume", "m3"): 1e9,
    ("liquid", "400 ml"): CARTRIDGE,
    ("liquid", "qt"): QUART,
    ("liquid", "gal"): 4 * QUART,
    ("liquid", "l"): 1e6,
    ("each", "each"): 1.0,
}
SOLD_WHOLE = ("400 ml", "qt", "l", "each")
"""Sheets come counted: those bought whole, those from stock by their area."""
EVIDENCE: dict[How, float] = {
    "framed it": 0.03,
    "opened it": 0.07,
    "probed it": 0.08,
    "scanned": 0.10,
    "drawing": 0.10,
    "unknown": 0.10,
}
"""Contingency by what is known of the wall: 3 to 10 % is common practice, the steps between are our choice."""


def outlay(need: Need, bought: float, prices: Prices | None) -> float | None:
    """Return what is paid for as much of a thing as is bought, of which a job may need a part; None without a price.

    Args:
        need: what is needed.
        bought: how much is bought, in the unit of the need.
        prices: the price file.
    """
    found = next((p for p in prices.stock if p.name == need.name), None) if prices else None
    size = UNITS.get((need.kind, found.unit)) if found else None
    return None if found is None or size is None else bought / size * found.each


def line(need: Need, prices: Prices | None) -> Line:
    """Return what a need comes to; without a price in a unit that fits it, only how much.

    Args:
        need: what is needed.
        prices: the price file.
    """
    found = next((p for p in prices.stock if p.name == need.name), None) if prices else None
    size = UNITS.get((need.kind, found.unit)) if found else None
    if found is None or size is None:
        quantity, unit = _plain(need)
        return Line(what=need.name, quantity=quantity, unit=unit, each=None, total=None)
    quantity = need.amount / size
    if found.unit in SOLD_WHOLE:
        quantity = float(math.ceil(quantity - 1e-9))
    return Line(
        what=need.name,
        quantity=quantity,
        unit=found.unit,
        each=found.each,
        total=quantity * found.each,
    )


def _plain(need: Need) -> tuple[float, str]:
    """Return the amount in plain metric units where no price names a unit."""
    if need.kind == "sheet":
        return (need.amount, need.kind)
    if need.kind == "each":
        return (float(math.ceil(need.amount - 1e-9)), need.kind)
    if need.kind == "length":
        return (need.amount / 1000, "m")
    if need.kind == "volume":
        return (need.amount / 1e9, "m3")
    return (need.amount / 1000, "ml")


def missing(lines: Sequence[Line], prices: Prices | None) -> tuple[str, ...]:
    """Return the prices and charges without which there is no price."""
    if prices is None:
        return ("no price file is named",)
    rates = dict(prices.rates)
    return (
        *(line.what for line in lines if line.total is None),
        *(f"rate: {name}" for name in NEEDED_RATES if name not in rates),
    )


def placeholders(lines: Iterable[Line], prices: Prices | None) -> tuple[str, ...]:
    """Return the prices and charges this price rests on that nobody has replaced yet."""
    if prices is None:
        return ()
    marked = {price.name for price in prices.stock if price.placeholder}
    return (
        *(line.what for line in lines if line.what in marked),
        *(f"rate: {name}" for name in prices.placeholders),
    )


def contingency(job: Job, made: Sequence[Made], rates: dict[str, float]) -> tuple[float, str]:
    """Return the share set aside for what the wall hides, and why; the shop's own figure goes before.

    Source: common practice, 3 to 10 % by the evidence of the walls; the worst wall decides.

    Args:
        job: what is known of the walls.
        made: every section.
        rates: of the price file.
    """
    if "contingency" in rates:
        return rates["contingency"], "the shop's own figure"
    stands = {leg.wall for each in made for leg in each.frame.legs}
    known = [wall for wall in job.tapes.walls if wall.id in stands]
    worst = max(known, key=lambda wall: EVIDENCE[wall.known.how], default=None)
    if worst is None:
        return EVIDENCE["unknown"], "no wall is known"
    return EVIDENCE[worst.known.how], f"wall {worst.called}: {worst.known.how}"


def price(
    *,
    lines: Sequence[Line],
    hours: float,
    journeys: int,
    hours_a_day: float,
    rates: dict[str, float],
    contingency: tuple[float, str],
) -> Priced:
    """Return how the price of a job comes about.

    Source: common practice: direct = hours x labour x (1 + burden) + materials x (1 + waste) x (1 + mark-up) + trips;
    overhead = hours x rate; price = (direct + overhead + contingency) / (1 - net margin), tax by place, rounded up. No
    job costs less than one day of work and one journey.

    Args:
        lines: what is bought, all with prices.
        hours: hands-on; charged to the hundredth, as they are printed.
        journeys: ways to the site and back.
        hours_a_day: of the shop.
        rates: charges by name; all that are needed.
        contingency: share, and why.

    Raises:
        KeyError: if a charge is missing.
    """
    hours = round(hours, 2)
    bought = sum(each.total or 0.0 for each in lines)
    materials = bought * (1 + rates["sundries"])
    waste = materials * rates["waste"]
    mark_up = (materials + waste) * rates["mark_up"]
    labour, trips = hours * rates["labour"], journeys * rates["trip"]
    burden = labour * rates["burden"]
    charged = materials + waste + mark_up
    direct, overhead = labour + burden + charged + trips, hours * rates["overhead"]
    aside = contingency[0] * (direct + overhead)
    cost, keep = direct + overhead + aside, 1 - rates["net_margin"]
    net = max(cost / keep, least := _least(hours_a_day, rates) / keep)
    on_materials = materials * rates["tax_on_materials"]
    on_price = (net + on_materials) * rates.get("tax_on_price", 0.0)
    step = rates["round_up_to"] or 1.0
    total = math.ceil((net + on_materials + on_price) / step - 1e-9) * step
    return Priced(
        hours=hours,
        labour=labour,
        burden=burden,
        materials=materials,
        sundries=materials - bought,
        waste=waste,
        mark_up=mark_up,
        charged=charged,
        trips=trips,
        direct=direct,
        overhead=overhead,
        contingency=aside,
        contingency_share=contingency[0],
        contingency_why=contingency[1],
        cost=cost,
        net_margin=net - cost,
        before_least=cost / keep,
        least=least,
        net=net,
        tax_on_materials=on_materials,
        tax_on_price=on_price,
        total=total,
        mark_up_share=rates["mark_up"],
        margin_of_mark_up=margin(rates["mark_up"]),
        net_margin_share=rates["net_margin"],
    )


def _least(hours_a_day: float, rates: dict[str, float]) -> float:
    """What one day costs the shop: its hours with burden and overhead, and one journey."""
    hour = rates["labour"] * (1 + rates["burden"]) + rates["overhead"]
    return hours_a_day * hour + rates["trip"]


def margin(mark_up: float) -> float:
    """Return the share of a selling price that a mark-up on cost is: 25 % mark-up is 20 % margin.

    Source: arithmetic: selling at c (1 + m) keeps c m of it.
    """
    return mark_up / (1 + mark_up)
