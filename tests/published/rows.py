"""Rows of published figures, and what it means to agree with a printed one."""

from __future__ import annotations

import csv
import json
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

DATA = Path(__file__).parent / "data"
Row = dict[str, str]


def rows(name: str) -> list[Row]:
    """Return the rows of a table in data/."""
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def worked(prefix: str) -> list[Any]:
    """Return the worked examples whose id starts with the prefix."""
    return [
        each
        for each in json.loads((DATA / "worked_timber.json").read_text(encoding="utf-8"))
        if each["id"].startswith(prefix)
    ]


def half_a_unit(printed: str) -> float:
    """Half a unit of the last printed digit."""
    exponent = Decimal(printed).as_tuple().exponent
    assert isinstance(exponent, int)
    return 0.5 * 10.0**exponent


def significant(printed: str, digits: int) -> float:
    """Half a unit of the given significant digit, for figures printed with trailing zeros lost."""
    return 0.5 * 10.0 ** (Decimal(printed).adjusted() + 1 - digits)


def agrees(value: float, printed: str, *, digits: int | None = None) -> None:
    """Assert that a value rounds to what is printed."""
    unit = half_a_unit(printed) if digits is None else significant(printed, digits)
    assert value == pytest.approx(float(printed), rel=1e-12, abs=unit * 1.0001)
