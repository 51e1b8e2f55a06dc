"""What a job needs of every thing that is bought: sheets, boards, bars, adhesive, glue, coats.

How many sheets it takes comes in from outside (`Counted`): by area for the quick bill, by a proven layout once one is
made. Everything else is one sum for both.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from ledgewright.layout import Rod, Slot
from ledgewright.shop.model import Made

SHEET_WASTE = 0.15
GLUE_WASTE = 0.35
SAW_CUT = 4.0
NOZZLE = "mixing nozzle"

NeedKind = Literal["sheet", "volume", "length", "liquid", "each"]


@dataclass(frozen=True)
class SheetCount:
    """So many sheets of one size of a panel, by a layout or by area; `size` is (across, along) its face grain (mm).

    name: as a price file calls that size. count: to buy; where nobody has laid them out, all that are needed. taken:
    how many a layout takes from those on hand, of any size; None where there is no layout. worth: what those taken
    are charged as, by their area, in sheets of this size.
    """

    panel: str
    name: str
    size: tuple[float, float]
    count: int
    taken: int | None = None
    worth: float = 0.0

    @property
    def charged(self) -> float:
        """How many sheets the job pays for."""
        return self.count + self.worth


@dataclass(frozen=True)
class Counted:
    """How many sheets a job takes. proven: by a layout that shows it, and not by area with waste."""

    sheets: tuple[SheetCount, ...]
    proven: bool


@dataclass(frozen=True)
class Need:
    """How much of one thing: pieces, mm, or mm3 by kind; for what."""

    name: str
    kind: NeedKind
    amount: float
    use: str


def adhesive_in_hole(rod: Rod) -> float:
    """Return the adhesive mixed for one rod (mm3): the annulus round it, and a third over for nozzle and hole's end.

    Source: geometry; the third over is common practice.
    """
    annulus = math.pi / 4 * rod.hole**2 - rod.bar.area
    return annulus * rod.embedment * (1 + GLUE_WASTE)


def adhesive_in_slot(rod: Rod, slot: Slot) -> float:
    """Return the adhesive mixed for one rod that is glued into its slot (mm3): the room round it, and a third over.

    Source: geometry of slot and bar at home, the bar's end left free; the third over is common practice. A slide slot
    wider than the slot is not counted in.
    """
    room = slot.width * (rod.bar.height + rod.clearance.up) - rod.bar.area
    return room * max(0.0, slot.depth - rod.clearance.end) * (1 + GLUE_WASTE)


def by_area(made: Sequence[Made]) -> Counted:
    """Count sheets by the area of rough skins and 15 % of waste, whole sheets for each panel.

    Source: common practice; a layout of the parts takes its place where there is one.

    Args:
        made: every section.
    """
    areas: dict[str, float] = {}
    sizes: dict[str, tuple[float, float]] = {}
    for each in made:
        sizes |= {
            skin.panel.name: skin.panel.sheets[0]
            for skin in (each.spec.skin_top, each.spec.skin_bottom)
        }
        for part in each.parts:
            if part.kind == "skin":
                areas[part.of] = (
                    areas.get(part.of, 0.0) + part.count * part.rough[0] * part.rough[1]
                )
    return Counted(
        tuple(
            SheetCount(name, name, sizes[name], _sheets(area, sizes[name]))
            for name, area in areas.items()
        ),
        proven=False,
    )


def _sheets(area: float, size: tuple[float, float]) -> int:
    return math.ceil(area * (1 + SHEET_WASTE) / (size[0] * size[1]) - 1e-9)


def of_parts(made: Sequence[Made], counted: Counted) -> tuple[Need, ...]:
    """Return what the parts are made of: sheets as counted, timber by rough volume, bars by length with saw cuts.

    Args:
        made: every section.
        counted: its sheets.
    """
    parts = [part for each in made for part in each.parts]
    found = [Need(s.name, "sheet", s.charged, "skins") for s in counted.sheets]
    uses = (("core", "core"), ("edging", "edging"), ("filler", "filler strips"))
    for kind, use in uses:
        for name in _names(p.of for p in parts if p.kind == kind):
            rough = sum(
                p.count * p.rough[0] * p.rough[1] * p.rough[2]
                for p in parts
                if p.kind == kind and p.of == name
            )
            found.append(Need(name, "volume", rough, use))
    for name in _names(p.of for p in parts if p.kind == "rod"):
        length = sum(p.count * (p.rough[0] + SAW_CUT) for p in parts if p.of == name)
        found.append(Need(name, "length", length, "rods"))
    return tuple(found)


def _names(names: Iterable[str]) -> list[str]:
    return sorted(set(names))


def together(needs: Iterable[Need]) -> tuple[Need, ...]:
    """Return needs with like ones of one thing added up, in the order they first come."""
    sums: dict[tuple[str, NeedKind], Need] = {}
    for need in needs:
        key = (need.name, need.kind)
        had = sums.get(key)
        uses = need.use if had is None or need.use in had.use else f"{had.use}, {need.use}"
        amount = need.amount + (had.amount if had else 0.0)
        sums[key] = Need(need.name, need.kind, amount, uses)
    return tuple(sums.values())
