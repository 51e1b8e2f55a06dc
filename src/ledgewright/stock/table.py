"""From the cells of a table to frozen rows.

A cell is a number with or without its published unit ("5/8 in", "1 1/4 in", "875 psi", "14 days");
a bare number is already in mm, MPa, kg/m3, hours or degrees C.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction
from typing import Final, TypeVar, get_origin, get_type_hints

R = TypeVar("R")

INCH: Final = Fraction("25.4")
PSI: Final = Fraction("4.4482216152605") / INCH**2
_UNITS: Final[Mapping[str, Fraction]] = {
    "in": INCH,
    "psi": PSI,
    "ksi": 1000 * PSI,
    "days": Fraction(24),
}


def number(cell: str) -> float:
    """Return the value of one cell in mm, MPa, kg/m3, hours or degrees C.

    Source: inch 25.4 mm and pound-force 4.4482216152605 N, both exact (NIST SP 811 appendix B).

    Raises:
        ValueError: if the cell is no number with a known unit.
    """
    figures, unit = cell.split(), Fraction(1)
    if figures and figures[-1] in _UNITS:
        unit = _UNITS[figures.pop()]
    if not figures:
        msg = f"no number in {cell!r}"
        raise ValueError(msg)
    return float(sum(map(Fraction, figures), start=Fraction(0)) * unit)


def sheets(cell: str) -> tuple[tuple[float, float], ...]:
    """Return the sheet sizes of one cell ("48x96 in; 48x120 in") in mm, across the grain first.

    Raises:
        ValueError: if a size is not two numbers with an "x" between them.
    """
    sizes = []
    for size in cell.split(";"):
        figures, _, unit = size.strip().partition(" ")
        across, along = figures.split("x")
        sizes.append((number(f"{across} {unit}"), number(f"{along} {unit}")))
    return tuple(sizes)


def read(of: type[R], lines: Iterable[Mapping[str, str]]) -> tuple[R, ...]:
    """Return the lines of a table as rows of one type, in their order; an empty cell of an optional field is None.

    Raises:
        ValueError: if a cell cannot be read.
        TypeError: if the table's columns are not the fields of the type.
    """
    make: Callable[..., R] = of
    hints = get_type_hints(of)
    return tuple(
        make(**{name: _cell(hints.get(name), text) for name, text in line.items()})
        for line in lines
    )


def _cell(hint: object, text: str) -> object:
    if hint is float:
        return number(text)
    if hint == float | None:
        return number(text) if text else None
    if get_origin(hint) is tuple:
        return sheets(text)
    return text
