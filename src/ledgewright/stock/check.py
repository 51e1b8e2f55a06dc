"""Walk the catalogue and say what cannot be right in it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Final

from ledgewright.stock.catalogue import KINDS, gluing_rows, length_rows, rows, strength_rows
from ledgewright.stock.model import (
    Adhesive,
    Bar,
    Finish,
    Gluing,
    Panel,
    PanelStrengths,
    Row,
    Screw,
    StockLength,
    Timber,
)

_PLAUSIBLE: Final[Mapping[str, Mapping[str, tuple[float, float]]]] = {
    "Bar": {
        "width": (5, 60),
        "height": (5, 60),
        "wall": (0, 6),
        "E": (190e3, 215e3),
        "Fy": (180, 700),
        "Fu": (300, 900),
    },
    "Timber": {
        "width": (30, 60),
        "depth": (60, 250),
        "G": (0.3, 0.75),
        "Fb": (2, 25),
        "Fv": (0.5, 2.5),
        "Fc_perp": (1.5, 8),
        "E": (5e3, 16e3),
        "fm_k": (14, 50),
        "fv_k": (2, 6),
        "fc90_k": (1.5, 6),
        "ft90_k": (0.3, 0.8),
        "E_mean": (6e3, 20e3),
        "rho_k": (250, 600),
        "rho_mean": (300, 700),
    },
    "Panel": {
        "thick": (3, 60),
        "density": (350, 900),
        "E_along": (1e3, 16e3),
        "E_across": (200, 12e3),
        "k_def": (0.5, 4),
    },
    "PanelStrengths": {
        "fm_along": (5, 70),
        "fm_across": (0.5, 50),
        "ft_along": (3, 60),
        "ft_across": (0.3, 50),
        "fr": (0.3, 4),
        "fc90": (1, 12),
        "ib": (0.2, 1.2),
    },
    "Lumber": {"density": (300, 900), "E": (6e3, 18e3), "movement": (0.001, 0.006)},
    "Adhesive": {
        "E_low": (0.1, 10e3),
        "E_likely": (0.1, 10e3),
        "E_high": (0.1, 10e3),
        "nu": (0.25, 0.45),
        "creep": (0.1, 20),
        "density": (900, 1700),
        "leave_alone": (0.5, 72),
        "work": (2, 168),
        "full_load": (12, 720),
        "coldest": (0, 25),
    },
    "StockLength": {"length": (600, 7000), "width": (75, 300), "thick": (15, 80)},
    "Screw": {"diameter": (2, 15), "root": (1, 12), "length": (6, 200)},
    "Finish": {
        "spread": (4, 30),
        "recoat": (0.5, 48),
        "handle": (2, 96),
        "full_load": (12, 720),
        "coldest": (0, 25),
    },
    "Gluing": {
        "spread": (0.08, 0.5),
        "open_time": (2, 60),
        "assembly": (5, 90),
        "pot_life": (2, 120),
    },
}

_PUBLICATIONS: Final = (
    "ACEE 2018",
    "AISC 360",
    "AISC Manual",
    "ANSI A208.1",
    "ANSI A208.2",
    "ASME B1.1",
    "ASTM A276",
    "ASTM A500",
    "Architectural Woodwork Standards",
    "Bockel et al.",
    "EN 10025-2",
    "EN 10088-3",
    "EN 10219",
    "EN 12369-1",
    "EN 1995-1-1",
    "EN 338",
    "EN 622-5",
    "European MDF industry information page",
    "Handbook of Finnish Plywood",
    "ISO 724",
    "NDS Supplement 2018",
    "NDS-2018",
    "SAE estimated minimums",
    "Wood Handbook",
    "common practice",
    "general adhesive literature",
)

_NDS: Final = ("G", "Fb", "Fv", "Fc_perp", "E")
_EC5: Final = ("fm_k", "fv_k", "fc90_k", "ft90_k", "E_mean", "rho_k", "rho_mean")


def check_rows() -> tuple[str, ...]:
    """Return what is wrong in the catalogue, one sentence per fault; empty if all is well."""
    found = [f"panel {row.name!r}: {fault}" for row in strength_rows() for fault in faults(row)]
    if [row.name for row in strength_rows()] != [row.name for row in rows("panel")]:
        found.append("the strengths are not those of the panels, in their order")
    found += [f"length {row.name!r}: {fault}" for row in length_rows() for fault in faults(row)]
    found += [f"gluing {row.name!r}: {fault}" for row in gluing_rows() for fault in faults(row)]
    if sorted(r.name for r in gluing_rows()) != sorted(r.name for r in rows("adhesive")):
        found.append("how adhesives are worked is not told of each of them, once")
    for kind in KINDS:
        table = rows(kind)
        found += [f"{kind} {row.name!r}: {fault}" for row in table for fault in faults(row)]
        names = Counter(row.name.casefold() for row in table)
        found += [f"{kind} {name!r}: stands {n} times" for name, n in names.items() if n > 1]
    return tuple(found)


def faults(row: Row) -> tuple[str, ...]:
    """Return what is wrong in one row: figures out of range or at odds, source missing, status too good."""
    return (*_ranges(row), *_provenance(row), *_relations(row))


def _ranges(row: Row) -> Iterator[str]:
    for field, (low, high) in _PLAUSIBLE[type(row).__name__].items():
        value = getattr(row, field)
        if value is not None and not low <= value <= high:
            yield f"{field} {value:g} is not between {low:g} and {high:g}"


def _provenance(row: Row) -> Iterator[str]:
    """The status is that of the row's weakest figure, and the source says which one that is."""
    if not row.name or row.name != " ".join(row.name.split()):
        yield "its name is empty or has stray spaces"
    if not any(publication in row.source for publication in _PUBLICATIONS):
        yield "its source names no publication and no practice we know of"
    if row.status != _weakest(row.source):
        yield f"its status is {row.status!r}, but its source rests on {_weakest(row.source)!r}"


def _weakest(source: str) -> str:
    if "assumed" in source:
        return "assumed"
    remembered = ("from memory", "common practice")
    return "from memory" if any(word in source for word in remembered) else "confirmed"


STRENGTHS = ("fm_along", "fm_across", "ft_along", "ft_across", "fr", "fc90", "ib")
"""The figures of a panel's strengths."""


def _relations(row: Row) -> Iterator[str]:
    match row:
        case Bar():
            yield from _bar(row)
        case Timber():
            yield from _timber(row)
        case Panel():
            yield from _panel(row)
        case PanelStrengths() if row.fm_across > row.fm_along or row.ft_across > row.ft_along:
            yield "it is stronger across its grain than along it"
        case PanelStrengths() if not set(row.assumed.split()) <= set(STRENGTHS):
            yield "what is assumed of it is none of its figures"
        case PanelStrengths() if (row.status == "assumed") != bool(row.assumed):
            yield "its status does not say what is assumed"
        case Adhesive():
            yield from _adhesive(row)
        case StockLength() if (row.what == "board") != (None not in (row.width, row.thick)):
            yield "a board has a width and a thickness, and a bar has none of its own"
        case Screw() if not row.root <= row.diameter <= row.length:
            yield "root, diameter and length do not grow in that order"
        case Screw() if (row.root < row.diameter) == (row.kind == "nail"):
            yield "a nail has no thread, and a screw has one"
        case Finish() if not row.recoat <= row.handle <= row.full_load:
            yield "it may be loaded before it may be carried or coated again"
        case Gluing() if (row.spread is None) == (row.pot_life is None):
            yield "it is neither spread nor mixed, or both"
        case Gluing() if not (row.open_time or 0) <= (row.assembly or 0):
            yield "its times are not in order"


def _bar(row: Bar) -> Iterator[str]:
    if row.Fu < row.Fy:
        yield "it breaks before it yields"
    if ("tube" in row.shape) != (row.wall > 0) or 2 * row.wall >= min(row.width, row.height):
        yield "its wall does not suit its shape"
    if row.shape != "flat" and row.width != row.height:
        yield "it is not as high as it is wide"
    if not row.name.startswith(f"{row.shape} "):
        yield "its name does not begin with its shape"


def _timber(row: Timber) -> Iterator[str]:
    known = [{getattr(row, f) is not None for f in fields} for fields in (_NDS, _EC5)]
    if any(len(each) > 1 for each in known):
        yield "it has some figures of a basis but not all"
    if known == [{False}, {False}]:
        yield "it has figures of no basis"
    if row.rho_k is not None and row.rho_mean is not None and row.rho_k >= row.rho_mean:
        yield "its characteristic density is not below its mean"
    if row.width >= row.depth:
        yield "it is not deeper than wide"


def _panel(row: Panel) -> Iterator[str]:
    if not row.sheets or not all(500 <= side <= 4000 for size in row.sheets for side in size):
        yield "it has no sheet size, or one outside 500 to 4000 mm"


def _adhesive(row: Adhesive) -> Iterator[str]:
    if not row.E_low <= row.E_likely <= row.E_high:
        yield "its moduli are not in order"
    if not row.leave_alone <= row.work <= row.full_load:
        yield "its waits are not in order"
    if row.use == "rods" and (row.E_low < 1000 or row.creep > 2):
        yield "it is too soft, or creeps too much, to hold a rod"
