"""The page of loads: what it prints can be added up by hand, and calculations name its cases."""

from __future__ import annotations

from functools import cache

import pytest

from ledgewright.sheets import pictures, workings
from ledgewright.sheets.model import CalculationSheet, FormSheet, Page, Table
from ledgewright.sheets.pages import pages
from tests import jobs

AGAINST = (
    "printed figures of the page of loads: rods together carry what lies on the shelf, and the parts add up to it",
    "addition",
    "half a unit of each printed digit",
)


@cache
def made(name: str) -> dict[str, Page]:
    plan = jobs.plan(name)
    return pages(plan, pictures.drawings(plan))


def tables(page: Page) -> list[Table]:
    assert isinstance(page, FormSheet)
    return [table for part in page.parts for table in part.tables]


@pytest.mark.parametrize("name", jobs.NAMES)
def test_printed_forces_add_up(name: str) -> None:
    for design in jobs.plan(name).designs:
        page = made(name)[f"loads {design.spec.id}"]
        rods = len(design.frame.rods)
        _, parts, *rest = tables(page)
        cases = [t for t in rest if t.heads[1] == "Case"]
        assert sum(len(t.heads) - 3 for t in cases) == rods
        for k, row in enumerate(cases[0].rows):
            on = [float(cell) for t in cases for cell in t.rows[k][3:]]
            assert sum(on) == pytest.approx(float(row[2]), abs=0.5 * (rods + 1))
        # The case with everything on it and nothing else: the parts as printed, times one.
        plain = [row for row in cases[0].rows if row[1] in ("service: G + Q", "service: D + L")]
        cells = [row[i : i + 5] for row in parts.rows for i in (0, 5)]
        once = [c for c in cells if c[0] not in ("one\u00a0thing", "leaning", "·")]
        for row in plain:
            assert float(row[2]) == pytest.approx(
                sum(float(c[4].replace(" ", "")) for c in once), abs=1.0
            )


@pytest.mark.parametrize("name", jobs.NAMES)
def test_the_calculations_name_their_case(name: str) -> None:
    for design in jobs.plan(name).designs:
        every = made(name)
        page, sheet = every[f"loads {design.spec.id}"], every[f"calculations {design.spec.id}"]
        assert isinstance(sheet, CalculationSheet)
        told = {row[0]: row[1] for t in tables(page) if t.heads[1] == "Case" for row in t.rows}
        named = [w.case for w in sheet.workings if "(case " in w.case]
        assert len(named) > 10
        for case in named:
            words, number = case.removesuffix(")").split(" (case ")
            assert told[number] == words
        assert len(workings.cases(design)) == len(told)


def test_rods_lie_where_the_job_puts_them() -> None:
    """The alcove: studs at 80, 481.5, 883.25, 1131; slots with 1.0 of play up and down."""
    page = made("reading-alcove")["loads reading"]
    rods = tables(page)[0].rows
    assert [float(row[2]) for row in rods] == pytest.approx([80.0, 481.5, 883.25, 1131.0], abs=0.06)
    assert {row[6] for row in rods} == {"1.00"}
    # 256 mm from the wood to the tip: 16 of air and board, 240 of stick-out.
    assert all(float(row[5]) - float(row[3]) == pytest.approx(256.0, abs=0.06) for row in rods)
