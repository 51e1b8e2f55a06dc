"""What may stand for a value that does not read, so that all that does not hang on it is judged at once.

Two stand-ins are taken for each, as far apart as such values are: what is said with either says nothing of them.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass
from datetime import date
from typing import Any, Final, Literal

from ledgewright import stock
from ledgewright.job import places
from ledgewright.job.places import Path

Errors = Callable[[object], Sequence[Mapping[str, Any]]]
"""What is wrong with a table, as the modelling library tells it; nothing if it reads."""

Way = Literal["first", "second"]
WAYS: tuple[Way, Way] = ("first", "second")

MOST = 40
"""So many stand-ins in one table at most; where more do not read, nothing is said of the rest."""

_FIGURES: Final[tuple[tuple[object, ...], ...]] = (
    ("20 mm", "2000 mm"),
    (1, 2),
    (1.0, 8.0),
    ("1 kg", "100 kg"),
    ("1 kg/m", "100 kg/m"),
    ("12 C", "30 C"),
    ("10 min", "24 h"),
    ("80 deg", "100 deg"),
    (date(2000, 1, 1), date(2099, 1, 1)),
)
_TABLES: Final[tuple[tuple[object, ...], ...]] = (
    (["20 mm", "60 mm"], ["2000 mm", "2040 mm"]),
    (["20 mm", "60 mm", ["20 mm", "60 mm"]], ["2000 mm", "2040 mm", ["2000 mm", "2040 mm"]]),
    ({},),
    ([],),
    ([{}],),
)
"""Empty ones last: what they lack is stood for in its turn."""

_CHOICE = re.compile(r"'([^']*)'")


@dataclass(frozen=True)
class StandIn:
    """A place whose value does not read, and two that would."""

    path: Path
    first: object
    second: object

    def value(self, way: Way) -> object:
        """Return one of the two."""
        return self.first if way == "first" else self.second


def stand_ins(errors: Errors, table: object) -> tuple[StandIn, ...] | None:
    """Return what makes a table read.

    Args:
        errors: what is wrong with a table like it.
        table: as it stands in the file.

    Returns:
        Stand-ins with their places in the table, or None where none are found.
    """
    found: list[StandIn] = []
    one, two = deepcopy(table), deepcopy(table)
    for _ in range(MOST):
        left = _faults(errors, one)
        if len(left) > MOST:
            return None
        if not left:
            return None if _faults(errors, two) else tuple(found)
        made = _first_that_reads(errors, one, left[0])
        if made is None:
            return None
        found.append(made)
        one, two = put(one, made.path, made.first), put(two, made.path, made.second)
    return None


def put(document: object, path: Path, value: object) -> object:
    """Return a copy of a document with a value at a path; as it was, if nothing can stand there."""
    if not path:
        return deepcopy(value)
    step, rest = path[0], path[1:]
    if isinstance(document, dict) and (not rest or step in document):
        return {**document, step: put(document.get(step), rest, value)}
    if isinstance(document, list) and isinstance(step, int) and 0 <= step < len(document):
        return [*document[:step], put(document[step], rest, value), *document[step + 1 :]]
    return document


def _faults(errors: Errors, table: object) -> list[Mapping[str, Any]]:
    """Keys that are not known are told and passed over; they need no stand-in."""
    return [each for each in errors(table) if each["type"] != "extra_forbidden"]


def _first_that_reads(errors: Errors, table: object, fault: Mapping[str, Any]) -> StandIn | None:
    path = _place(table, fault)
    for sort in _sorts(fault):
        read = [value for value in sort if not _wrong_at(errors, put(table, path, value), path)]
        if read:
            return StandIn(path, read[0], read[-1])
    return None


def _place(table: object, fault: Mapping[str, Any]) -> Path:
    """Where to put a stand-in: the place told, or the last one before it that the file holds."""
    told: Path = tuple(fault["loc"])
    held = places.reach(table, told)
    if fault["type"] == "missing" and len(held) == len(told) - 1:
        return told
    return held


def _sorts(fault: Mapping[str, Any]) -> Iterator[tuple[object, ...]]:
    """Sorts of value in order; of the first that has any that read, the first and the last are taken."""
    choices = _CHOICE.findall(str(fault.get("ctx", {}).get("expected", "")))
    if choices:
        yield tuple(choices)
    yield from _FIGURES
    for kind in stock.KINDS:
        yield tuple(row.name for row in stock.rows(kind))
    yield from _TABLES


def _wrong_at(errors: Errors, table: object, path: Path) -> bool:
    """Whether a value does not read as a whole; what a table still lacks does not count."""
    return any(tuple(each["loc"]) == path for each in _faults(errors, table))
