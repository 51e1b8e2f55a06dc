"""Values taken where the job says nothing: one table, each with why and from where.

A changed row changes results, so it needs a new `format` of the job file.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ledgewright import units
from ledgewright.units import Unit

_TRADE = "common practice"
_LOADS = "this program's own stated value, see docs/statics.md"
_Measure = Literal[
    "length", "mass", "force", "temperature", "pressure", "per length", "count", "word"
]


@dataclass(frozen=True)
class Default:
    """One value taken: numbers in mm, kg, N, MPa, N/mm or C by `measure`; a word where `measure` says so."""

    path: str
    value: float | str
    measure: _Measure
    why: str
    source: str

    @property
    def number(self) -> float:
        """The value as a number.

        Raises:
            ValueError: if it is a word.
        """
        return float(self.value)

    @property
    def word(self) -> str:
        """The value as a word."""
        return str(self.value)

    def text(self, unit: Unit) -> str:
        """Return the value as the job's people write it."""
        match self.measure:
            case "length":
                return units.show_length(self.number, unit, to=64, mark=True)
            case "mass":
                return units.show_mass(self.number, unit)
            case "force":
                return units.show_force(self.number, unit)
            case "temperature":
                return units.show_temperature(self.number, unit)
            case "pressure":
                return units.show_pressure(self.number, unit)
            case "per length":
                return units.show_per_length(self.number, unit)
            case _:
                return f"{self.value:g}" if isinstance(self.value, float) else self.value


DEFAULTS: tuple[Default, ...] = (
    Default("basis.in", "nds", "word", "the code usual where inches are", _TRADE),
    Default("basis.mm", "ec5", "word", "the code usual where millimetres are", _TRADE),
    Default("words.in", "en-US", "word", "the words usual where inches are", _TRADE),
    Default("words.mm", "en-GB", "word", "the words usual where millimetres are", _TRADE),
    Default("job.sheets.in", "letter", "word", "the paper usual where inches are", _TRADE),
    Default("job.sheets.mm", "a4", "word", "the paper usual where millimetres are", _TRADE),
    Default(
        "job.order",
        "rods first",
        "word",
        "the core is cut to the rods as set: forgives most",
        _TRADE,
    ),
    Default(
        "wall.studs.doubt",
        1.0,
        "length",
        "standard deviation of a centre taped by both edges",
        "assumed",
    ),
    Default(
        "wall.studs.doubt one edge",
        3.0,
        "length",
        "standard deviation where only one edge was taped",
        "assumed",
    ),
    Default(
        "wall.studs.doubt finder",
        6.0,
        "length",
        "standard deviation where only a finder told the middle",
        "assumed",
    ),
    Default(
        "wall.studs.doubt pitch",
        12.0,
        "length",
        "standard deviation of a stud nobody has found, by the spacing of its neighbours",
        "assumed",
    ),
    Default("measure.with", "steel tape", "word", "what lengths are usually taken with", _TRADE),
    Default(
        "measure.hands", "alone", "word", "nobody is said to have held the other end", "assumed"
    ),
    Default(
        "wall.line",
        0.0,
        "length",
        "no gaps were taped: the wall is drawn straight until they are",
        "assumed",
    ),
    Default(
        "corner.angle",
        "90 deg",
        "word",
        "nobody has taped it: taken for square, to a degree, until someone does",
        "assumed",
    ),
    Default(
        "wall.length",
        "as deep as the deepest shelf",
        "word",
        "nobody has taped how far it goes: it carries no rods, and as much as the shelf is deep is counted on",
        "assumed",
    ),
    Default(
        "shelf.core.strip",
        25.0,
        "length",
        "width of a strip that edging and glue can hold to",
        _TRADE,
    ),
    Default("shelf.core.rib", 32.0, "length", "width of a rib two clamps can press", _TRADE),
    Default(
        "shelf.core.max_span",
        250.0,
        "length",
        "widest hollow under a skin of about 12 mm",
        "assumed",
    ),
    Default(
        "shelf.skin.joint",
        "butted",
        "word",
        "the weaker joint: it carries no bending across the corner",
        "towards safety",
    ),
    Default("shelf.finish.kind", "lacquer", "word", "no finish is named", "assumed"),
    Default("shelf.finish.coats", 2.0, "count", "no coats are named", "assumed"),
    Default(
        "shelf.scribe_allowance",
        10.0,
        "length",
        "spare depth for scribing an ordinary wall",
        _TRADE,
    ),
    Default(
        "shelf.placing",
        "least scribe",
        "word",
        "turned off the string where that saves 1/32 in (0.8 mm) of scribing",
        _TRADE,
    ),
    Default(
        "shelf.scribe_tolerance",
        0.5,
        "length",
        "a gap along the wall that a line of caulk or a coat of paint hides",
        _TRADE,
    ),
    Default("shelf.back", "tight", "word", "scribed tight unless said otherwise", _TRADE),
    Default("shelf.back_gap.tight", 0.0, "length", "a tight scribe keeps no gap", _TRADE),
    Default(
        "shelf.back_gap.caulk", 2.0, "length", "a gap that caulk can fill is 1 to 3 mm", _TRADE
    ),
    Default("shelf.back_gap.shadow gap", 3.0, "length", "a gap that reads as a line", _TRADE),
    Default("shelf.ends", "caulk", "word", "cut square to go straight in, and caulked", _TRADE),
    Default("shelf.end_gap", 1.0, "length", "an end beside a wall must still slide", _TRADE),
    Default(
        "shelf.end_gap.filler", 12.0, "length", "the narrowest strip that can be fixed", _TRADE
    ),
    Default(
        "shelf.lock.kind",
        "none",
        "word",
        "no lock is named, so none is counted on",
        "towards safety",
    ),
    Default("shelf.single", 30.0, "mass", "one heavy thing anywhere on the shelf", _LOADS),
    Default(
        "shelf.rods.clearance.side", 2.0, "length", "room a drilled hole needs sideways", _TRADE
    ),
    Default("shelf.rods.clearance.end", 12.0, "length", "room past the tip", _TRADE),
    Default(
        "shelf.rods.in_slot",
        "dry",
        "word",
        "the shelf can come off again, and play counts as drop",
        "towards safety",
    ),
    Default("shelf.load.even", 0.0024, "pressure", "no contents are named", _LOADS),
    Default(
        "shelf.load.even least",
        0.35,
        "per length",
        "the even load is never taken below this",
        _LOADS,
    ),
    Default(
        "shelf.load.known least",
        0.001,
        "pressure",
        "known contents are never taken below this over a leg",
        _LOADS,
    ),
    Default(
        "shelf.load.lasts",
        "years",
        "word",
        "what stands on a shelf stays; wood and glue creep",
        "towards safety",
    ),
    Default("shelf.load.accident", 600.0, "force", "someone leans on the front edge", _LOADS),
    Default(
        "shelf.load.accident low",
        1300.0,
        "force",
        "at this height over floor or worktop, and so deep, someone sits or steps on it",
        _LOADS,
    ),
    Default(
        "shelf.load.accident.patch",
        100.0,
        "length",
        "side of the square a hand or knee presses on",
        _LOADS,
    ),
    Default(
        "shelf.limits.drop_today share",
        150.0,
        "count",
        "depth over this",
        "EN 1995-1-1 table 7.2, band for cantilevers",
    ),
    Default("shelf.limits.drop_today most", 3.0, "length", "a level would show more", _LOADS),
    Default(
        "shelf.limits.drop_long share",
        100.0,
        "count",
        "depth over this",
        "EN 1995-1-1 table 7.2, band for cantilevers",
    ),
    Default("shelf.limits.drop_long most", 4.5, "length", "the eye would see more", _LOADS),
    Default("shop.kerf", 3.2, "length", "an ordinary blade", _TRADE),
    Default("shop.trim", 6.4, "length", "factory edges are trimmed", _TRADE),
    Default("shop.offcut width", 150.0, "length", "a narrower rest is not used again", _TRADE),
    Default("shop.offcut length", 600.0, "length", "a shorter rest is not used again", _TRADE),
    Default("shop.saw", "straight guide", "word", "the saw every shop has", _TRADE),
    Default("shop.people", 2.0, "count", "a long shelf or an L takes two", _TRADE),
    Default("shop.clamps", 12.0, "count", "clamps of a small shop", "assumed"),
    Default("shop.glue", "pva yellow", "word", "the glue every joiner has", _TRADE),
    Default("shop.temperature", 20.0, "temperature", "what the labels speak of", "assumed"),
    Default(
        "shop.hours_a_day",
        7.0,
        "count",
        "hours at the work in a day of eight; the rest goes on the telephone and the broom",
        _TRADE,
    ),
    Default("shop.days_off", "Saturday, Sunday", "word", "the usual days off", _TRADE),
    Default("shop.answer_days", 7.0, "count", "days until a client signs", "assumed"),
    Default("shop.delivery_days", 3.0, "count", "days until what is ordered is there", "assumed"),
    Default(
        "shelf.finish.primer.paint", "primer", "word", "paint on bare wood needs a primer", _TRADE
    ),
    Default(
        "shelf.finish.sealer.paint",
        "sanding sealer",
        "word",
        "cut edges of MDF and plywood drink paint",
        _TRADE,
    ),
    Default(
        "shelf.finish.sealer.clear",
        "sanding sealer",
        "word",
        "a clear coat builds on a sealer that sands",
        _TRADE,
    ),
    Default(
        "shelf.finish.sealer.oil", "none", "word", "oil must go into the wood, so none", _TRADE
    ),
    Default(
        "site.datum",
        "level line at the floor's high point",
        "word",
        "heights count from the floor",
        _TRADE,
    ),
    Default(
        "site.temperature",
        12.0,
        "temperature",
        "a cool room: every wait is longer",
        "towards safety",
    ),
)

_BY_PATH = {row.path: row for row in DEFAULTS}


def find(path: str) -> Default:
    """Return the row of that path.

    Raises:
        KeyError: if there is none.
    """
    return _BY_PATH[path]
