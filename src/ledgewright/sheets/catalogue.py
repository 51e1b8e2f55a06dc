"""The catalogue as a plain table for a terminal."""

from __future__ import annotations

import dataclasses
from typing import cast

from ledgewright import stock
from ledgewright.stock import Kind

LAST = ("status", "source")


def catalogue_text(kind: str) -> str:
    """Return one kind of stock as a table, source last.

    Args:
        kind: one of `stock.KINDS`.

    Returns:
        A line of headings and a line per row; lengths mm, stresses MPa, densities kg/m3.
    """
    rows = stock.rows(cast("Kind", kind))
    fields = [f.name for f in dataclasses.fields(rows[0]) if f.name not in LAST]
    table = [[*fields, *LAST], *([_cell(getattr(r, f)) for f in (*fields, *LAST)] for r in rows)]
    widths = [max(len(line[k]) for line in table) for k in range(len(table[0]))]
    lines = ["  ".join(c.ljust(w) for c, w in zip(line, widths, strict=True)) for line in table]
    note = "Lengths in mm, strengths and moduli in MPa, densities in kg/m3, waits in hours at 20 C."
    return "\n".join(line.rstrip() for line in (*lines, "", note)) + "\n"


def _cell(value: object) -> str:
    if value is None:
        return "-"
    if isinstance(value, float):
        return f"{value:.6g}"
    if isinstance(value, tuple):
        return ", ".join("x".join(f"{v:g}" for v in each) for each in value) or "-"
    return str(value)
