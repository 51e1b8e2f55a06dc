"""The quick bill: mass, hours by the trade's table, materials and price.

Hours and the price rule are common practice (see docs/shop.md); the shop's own log should replace them.
Sheets are counted by area with 15 % waste: how many the whole job takes, `cutting` says.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from shapely import Polygon

from ledgewright.core import Core, mass
from ledgewright.job import Job, Meta, Prices, Shop, Spec
from ledgewright.layout import Frame, Rod, edging_runs
from ledgewright.shop.model import Bill, Line, Part

FOOT = 304.8
SQUARE_FOOT = FOOT**2
BOARD_FOOT = 12 * 12 * 25.4**3
CARTRIDGE = 400_000.0
QUART = 946_352.946
SHEET_WASTE = 0.15
GLUE_WASTE = 0.35
SAW_CUT = 4.0


@dataclass(frozen=True)
class _Need:
    """How much of one thing of the catalogue: in mm, mm2, mm3 or pieces by kind."""

    name: str
    kind: str
    amount: float
    sheet: tuple[float, float] | None = None


def bill(*, job: Job, spec: Spec, frame: Frame, core: Core | None, parts: tuple[Part, ...]) -> Bill:
    """Return the quick bill of one shelf.

    Source: common practice; price = (direct + overhead + contingency) / (1 - net margin).

    Args:
        job: meta and shop with its price file.
        spec: the shelf.
        frame: its lay-out.
        core: its core, or None.
        parts: its parts.

    Returns:
        Mass, hours line by line, material lines; price None while a price is missing, and which are.
    """
    hours = _hours(job.meta, job.shop, spec, frame, core, parts)
    total_hours = sum(value for _, value in hours)
    prices = job.shop.prices
    lines = tuple(_line(need, prices) for need in _needs(spec, frame, parts))
    missing = _missing(lines, prices)
    price = (
        None
        if missing or prices is None
        else _price(lines, total_hours, _trips(job.meta, spec), prices)
    )
    return Bill(
        mass=mass(spec=spec, frame=frame, core=core),
        hours=total_hours,
        price=price,
        lines=lines,
        hour_lines=hours,
        missing=missing,
    )


def _trips(meta: Meta, spec: Spec) -> int:
    """Three trips; rods first adds one to finish off where it is painted (common practice)."""
    return 4 if meta.order == "rods first" and _painted(spec) else 3


def _painted(spec: Spec) -> bool:
    return "paint" in spec.finish


def _hours(
    meta: Meta, shop: Shop, spec: Spec, frame: Frame, core: Core | None, parts: tuple[Part, ...]
) -> tuple[tuple[str, float], ...]:
    """Hands-on hours of one trained person, by the trade's table (common practice)."""
    feet = sum(leg.end - leg.start for leg in frame.legs) / FOOT
    square_feet = Polygon(frame.outline).area / SQUARE_FOOT
    front_feet = sum(length for _, length in edging_runs(frame, spec)) / FOOT
    rods = len(frame.rods)
    sheets = sum(
        math.ceil(n.amount - 1e-9) for n in _needs(spec, frame, parts) if n.kind == "sheet"
    )
    skins = sum(p.count for p in parts if p.kind == "skin")
    core_parts = sum(p.count for p in parts if p.kind == "core")
    corner = len(frame.legs) > 1
    ends_held = sum(e == "wall" for leg in frame.legs for e in (leg.left_end, leg.right_end))
    deep = any(rod.embedment > 100 for rod in frame.rods)
    glue_up = 2.0 if corner else (1.0 if feet <= 5 else 1.5)
    dry_fit = 1.0 if corner else (0.75 if ends_held == 2 else 0.5)
    people = shop.people
    tight = spec.back == "tight"
    return (
        ("first visit and site measure", 1.0 + 0.25 * len(frame.legs) + 0.1 * rods),
        ("drawing, quote, choices", 1.5),
        ("order and collect", 1.0),
        ("break down sheets", 0.4 * sheets + 0.05 * skins),
        ("plane and rip core", 0.5 + 0.04 * core_parts if core else 0.0),
        ("dry lay-up", 0.5),
        ("glue-up", glue_up),
        ("edging", 0.5 + 0.12 * front_feet),
        ("sand", 0.5 + 0.06 * 2 * square_feet),
        ("finish", spec.coats * (0.3 + 0.03 * 2 * square_feet)),
        ("light groove", 0.75 if spec.groove else 0.0),
        ("rods: cut and dress", 0.25 + 0.08 * rods),
        ("site set-up, each trip", 0.75 * _trips(meta, spec)),
        ("level line and confirm studs", 0.5 + 0.1 * rods),
        ("ledger and guide", 0.5 * len(frame.legs)),
        ("drill and clean", (0.3 if deep else 0.2) * rods),
        ("set rods and comb", 0.3 + 0.08 * rods),
        ("read rods as set", 0.3 + 0.05 * rods),
        ("dry fit", dry_fit * people),
        ("scribe, two passes", 2 * (0.5 + 0.1 * feet) if tight else 0.0),
        ("hang and lock", 0.5 * people),
        ("load test", 0.75),
        ("fill and touch up", 1.25 if _painted(spec) else 0.75),
        ("walk-through", 0.5),
    )


def _needs(spec: Spec, frame: Frame, parts: tuple[Part, ...]) -> tuple[_Need, ...]:
    needs: list[_Need] = []
    skins: dict[str, float] = {}
    for part in parts:
        if part.kind == "skin":
            skins[part.of] = skins.get(part.of, 0.0) + part.count * part.rough[0] * part.rough[1]
    panels = {s.panel.name: s.panel for s in (spec.skin_top, spec.skin_bottom)}
    for name, area in skins.items():
        length, width = panels[name].sheets[0]
        needs.append(
            _Need(name, "sheet", area * (1 + SHEET_WASTE) / (length * width), (length, width))
        )
    for kind in ("core", "edging"):
        for name in sorted({p.of for p in parts if p.kind == kind}):
            rough = sum(
                p.count * p.rough[0] * p.rough[1] * p.rough[2]
                for p in parts
                if p.kind == kind and p.of == name
            )
            needs.append(_Need(name, "volume", rough))
    needs.extend(
        _Need(name, "length", sum(p.count * (p.rough[0] + SAW_CUT) for p in parts if p.of == name))
        for name in sorted({p.of for p in parts if p.kind == "rod"})
    )
    needs.extend(_glue(frame))
    needs.append(_Need(spec.finish, "liquid", _finish_volume(spec, frame)))
    return tuple(needs)


def adhesive_in_hole(rod: Rod) -> float:
    """Return the adhesive mixed for one rod (mm3): the annulus round it, and a third over for nozzle and hole's end.

    Source: geometry; the third over is common practice.
    """
    annulus = math.pi / 4 * rod.hole**2 - rod.bar.area
    return annulus * rod.embedment * (1 + GLUE_WASTE)


def _glue(frame: Frame) -> list[_Need]:
    volumes: dict[str, float] = {}
    for rod in frame.rods:
        name = rod.adhesive.name
        volumes[name] = volumes.get(name, 0.0) + adhesive_in_hole(rod)
    return [_Need(name, "liquid", volume) for name, volume in volumes.items()]


def _finish_volume(spec: Spec, frame: Frame) -> float:
    """Finish for both faces and all edges at 12 m2 a litre (common practice), all coats (mm3)."""
    faces = 2 * Polygon(frame.outline).area
    edges = sum(length for _, length in edging_runs(frame, spec)) * spec.thick
    return spec.coats * (faces + edges) / 12e6 * 1e6


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
}
SOLD_WHOLE = ("sheet", "400 ml", "qt", "l")


def _line(need: _Need, prices: Prices | None) -> Line:
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


def _plain(need: _Need) -> tuple[float, str]:
    """Return the amount in plain metric units where no price names a unit."""
    if need.kind == "sheet":
        return (float(math.ceil(need.amount - 1e-9)), "sheet")
    if need.kind == "length":
        return (need.amount / 1000, "m")
    if need.kind == "volume":
        return (need.amount / 1e9, "m3")
    return (need.amount / 1000, "ml")


def _missing(lines: tuple[Line, ...], prices: Prices | None) -> tuple[str, ...]:
    if prices is None:
        return ("no price file is named",)
    rates = dict(prices.rates)
    return (
        *(line.what for line in lines if line.total is None),
        *(f"rate: {name}" for name in RATES if name not in rates),
    )


RATES = (
    "labour",
    "burden",
    "overhead",
    "mark_up",
    "waste",
    "sundries",
    "contingency",
    "net_margin",
    "trip",
    "tax_on_materials",
    "round_up_to",
)


def _price(lines: tuple[Line, ...], hours: float, trips: int, prices: Prices) -> float:
    rate = dict(prices.rates)
    bought = sum(line.total or 0.0 for line in lines) * (1 + rate["sundries"])
    materials = bought * (1 + rate["waste"]) * (1 + rate["mark_up"])
    direct = hours * rate["labour"] * (1 + rate["burden"]) + materials + trips * rate["trip"]
    overhead = hours * rate["overhead"]
    contingency = rate["contingency"] * (direct + overhead)
    price = (direct + overhead + contingency) / (1 - rate["net_margin"])
    taxed = price + bought * rate["tax_on_materials"]
    step = rate["round_up_to"] or 1.0
    return math.ceil(taxed / step - 1e-9) * step
