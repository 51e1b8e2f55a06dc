"""Read the tables once and find a row by its exact name."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path
from typing import Final, TypeVar, get_args

from ledgewright.stock import alike, table
from ledgewright.stock.model import (
    Adhesive,
    Bar,
    Finish,
    Gluing,
    Kind,
    Lumber,
    Panel,
    PanelStrengths,
    Row,
    Screw,
    StockLength,
    Timber,
)

KINDS: Final[tuple[Kind, ...]] = get_args(Kind)

_TYPES: Final[Mapping[Kind, type[Row]]] = {
    "bar": Bar,
    "timber": Timber,
    "panel": Panel,
    "lumber": Lumber,
    "adhesive": Adhesive,
    "screw": Screw,
    "finish": Finish,
}

_T = TypeVar("_T", bound=Row)
_R = TypeVar("_R", Bar, Timber, Panel, Lumber, Adhesive, Screw, Finish)


class NotStocked(KeyError):  # noqa: N818 - the catalogue's word: a wrong name, not a fault of ours
    """No row of that name; `nearest` has the one that has the same words, or the three most like it.

    differs: of each, in what it is another thing; "" where it is but written otherwise, or a slip.
    """

    def __init__(
        self, kind: Kind, name: str, nearest: tuple[str, ...], differs: tuple[str, ...]
    ) -> None:
        super().__init__(kind, name, nearest, differs)
        self.kind = kind
        self.name = name
        self.nearest = nearest
        self.differs = differs

    def __str__(self) -> str:
        """Say what is missing and what comes nearest."""
        return f"no {self.kind} called {self.name!r}; {self.right}"

    @property
    def right(self) -> str:
        """What to write instead, each name in quotes with what differs of it."""
        named = [
            f'"{name}"{f" ({differs})" if differs else ""}'
            for name, differs in zip(self.nearest, self.differs, strict=True)
        ]
        alone = len(named) == 1 and not self.differs[0]
        return f"write it {named[0]}" if alone else f"the nearest: {', '.join(named)}"


def rows(kind: Kind) -> tuple[Row, ...]:
    """Return every row of one kind, in the order of its table.

    Raises:
        KeyError: if there is no such kind.
    """
    return _read(kind)


def bar(name: str) -> Bar:
    """Return the steel bar of that exact name.

    Raises:
        NotStocked: if there is none.
    """
    return _find("bar", Bar, name)


def timber(name: str) -> Timber:
    """Return the framing timber of that exact name.

    Raises:
        NotStocked: if there is none.
    """
    return _find("timber", Timber, name)


def panel(name: str) -> Panel:
    """Return the sheet good of that exact name.

    Raises:
        NotStocked: if there is none.
    """
    return _find("panel", Panel, name)


def panels() -> tuple[Panel, ...]:
    """Return every sheet good, in the order of its table."""
    return tuple(row for row in rows("panel") if isinstance(row, Panel))


def panel_strengths(name: str) -> PanelStrengths:
    """Return what the sheet good of that exact name can take.

    Raises:
        NotStocked: if there is none.
    """
    row = next((each for each in strength_rows() if each.name == name), None)
    if row is None:
        kind: Kind = "panel"
        raise _missing(kind, name)
    return row


@cache
def strength_rows() -> tuple[PanelStrengths, ...]:
    """Return what every sheet good can take, in the order of the sheet goods."""
    return _table(PanelStrengths, "panel_strength")


@cache
def length_rows() -> tuple[StockLength, ...]:
    """Return the lengths that bars and boards are sold in."""
    return _table(StockLength, "length")


def lumber(name: str) -> Lumber:
    """Return the core or edging timber of that exact name.

    Raises:
        NotStocked: if there is none.
    """
    return _find("lumber", Lumber, name)


def adhesive(name: str) -> Adhesive:
    """Return the adhesive class of that exact name.

    Raises:
        NotStocked: if there is none.
    """
    return _find("adhesive", Adhesive, name)


def gluing(name: str) -> Gluing:
    """Return how the adhesive of that exact name is worked.

    Raises:
        NotStocked: if there is none, or nothing is said of it.
    """
    row = next((each for each in gluing_rows() if each.name == name), None)
    if row is None:
        kind: Kind = "adhesive"
        raise _missing(kind, name, [each.name for each in gluing_rows()])
    return row


@cache
def gluing_rows() -> tuple[Gluing, ...]:
    """Return how every adhesive is worked that a shelf may be glued or set with."""
    return _table(Gluing, "gluing")


def screw(name: str) -> Screw:
    """Return the screw of that exact name.

    Raises:
        NotStocked: if there is none.
    """
    return _find("screw", Screw, name)


def finish(name: str) -> Finish:
    """Return the coating of that exact name.

    Raises:
        NotStocked: if there is none.
    """
    return _find("finish", Finish, name)


def _find(kind: Kind, of: type[_R], name: str) -> _R:
    row = _named(kind).get(name)
    if isinstance(row, of):
        return row
    raise _missing(kind, name)


def _missing(kind: Kind, name: str, known: Iterable[str] | None = None) -> NotStocked:
    """What is said of a name that no row has, or none of those known."""
    rows = _named(kind)
    near = alike.nearest(name, {each: _takes(rows[each]) for each in known or rows})
    return NotStocked(kind, name, tuple(e.name for e in near), tuple(e.differs for e in near))


def _takes(row: Row) -> float:
    """How strong a row is among those of its kind, in any one unit; nought where nothing is carried by it."""
    match row:
        case Bar():
            return row.Fy * row.plastic_modulus
        case Timber():
            return (row.Fb or row.fm_k or 0.0) * row.width * row.depth**2
        case Panel():
            return row.E_along * row.thick**2
        case Lumber():
            return row.E
        case Adhesive():
            return row.E_low
        case Screw():
            return row.root * row.length
        case _:
            return 0.0


@cache
def _named(kind: Kind) -> Mapping[str, Row]:
    return {row.name: row for row in _read(kind)}


@cache
def _read(kind: Kind) -> tuple[Row, ...]:
    return _table(_TYPES[kind], kind)


def _table(of: type[_T], name: str) -> tuple[_T, ...]:
    path = Path(__file__).with_name("data") / f"{name}.csv"
    with path.open(encoding="utf-8", newline="") as file:
        return table.read(of, csv.DictReader(file))
