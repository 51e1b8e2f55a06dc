"""Read the tables once and find a row by its exact name."""

from __future__ import annotations

import csv
import difflib
import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Final, TypeVar, get_args

from ledgewright.stock import table
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
    """No row of that name; `nearest` has the three names most like it, best first."""

    def __init__(self, kind: Kind, name: str, nearest: tuple[str, ...]) -> None:
        super().__init__(kind, name, nearest)
        self.kind = kind
        self.name = name
        self.nearest = nearest

    def __str__(self) -> str:
        """Say what is missing and what comes nearest."""
        return f"no {self.kind} called {self.name!r}; nearest: {', '.join(self.nearest)}"


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
        raise NotStocked(kind, name, _nearest(name, tuple(_named(kind))))
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
        raise NotStocked(kind, name, _nearest(name, tuple(each.name for each in gluing_rows())))
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
    raise NotStocked(kind, name, _nearest(name, tuple(_named(kind))))


_SIZE = re.compile(r"(?<![\w/])\d+(?:\.\d+)?(?:/\d+)?(?![\w/])")


def _nearest(name: str, known: tuple[str, ...]) -> tuple[str, ...]:
    """The three names most like this one; those of the same size, as written, come first."""
    folded = {each.casefold(): each for each in known}
    words, sizes = set(name.casefold().split()), set(_SIZE.findall(name))
    alike = [
        each
        for each in folded
        if sizes & set(_SIZE.findall(each)) and words & set(each.split()) - sizes
    ]
    close = [
        *sorted(alike, key=lambda each: -len(words & set(each.split()))),
        *difflib.get_close_matches(name.casefold(), folded, n=3, cutoff=0.0),
    ]
    return tuple(folded[each] for each in dict.fromkeys(close))[:3]


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
