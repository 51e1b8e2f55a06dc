"""The packets of the three shipped jobs, measured on paper like the sample's."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from ledgewright.job import files
from ledgewright.memo import Memo
from ledgewright.plan import Plan, full
from ledgewright.sheets import pages, pdf
from ledgewright.sheets.model import AssumedSheet, CalculationSheet, Cover, DrillCard, WithheldCard
from tests.sheets import paper
from tests.sheets.test_packet_paper import PACKAGED, bars, overlaps

EXAMPLES = ("stoneware-corner", "reading-alcove", "record-wall")
FOLDER = Path(__file__).parents[2] / "examples"


@cache
def example(name: str) -> tuple[Plan, tuple[paper.Sheet, ...]]:
    read = files.load(FOLDER / f"{name}.toml")
    assert read.job is not None
    plan = full(read.job, Memo())
    return plan, paper.read(pdf(plan))


@pytest.mark.parametrize("name", EXAMPLES)
def test_paper(name: str) -> None:
    for page, sheet in enumerate(example(name)[1], 1):
        at = f"{name}, page {page}: {sheet.text[:40]!r}"
        assert bars(sheet) == [pytest.approx(100.0, abs=0.02)], at
        assert {w.font for w in sheet.words} <= PACKAGED, at
        assert min(w.left for w in sheet.words) >= 12, at
        assert max(w.right for w in sheet.words) <= sheet.width - 12, at
        assert min(w.foot for w in sheet.words) >= 12, at
        assert max(w.head for w in sheet.words) <= sheet.height - 12, at
        assert overlaps(sheet) == [], at
        assert min(w.size for w in sheet.words if not w.font.startswith("NewCM")) >= 2.5, at


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_cover_is_one_page(name: str) -> None:
    sheets = example(name)[1]
    assert [s.text.startswith("Job packet") for s in sheets[:2]] == [True, False]


@pytest.mark.parametrize("name", EXAMPLES)
def test_pages_say_what_the_plan_says(name: str) -> None:
    plan, sheets = example(name)
    made = pages(plan, {})
    cover = made["cover"]
    assert isinstance(cover, Cover)
    words = {"passes": "It holds", "fails": "It does not hold", "cannot say": "Cannot say yet"}
    assert cover.verdict == words[plan.verdict]
    assert cover.verdict == "It holds" or cover.why
    cards = [p for p in made.values() if isinstance(p, DrillCard | WithheldCard)]
    assert len(cards) == len(plan.leave)
    for sheet in sheets:
        assert cover.verdict in sheet.text


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_check_and_every_gap_is_listed(name: str) -> None:
    plan, _ = example(name)
    for design in plan.designs:
        sheet = pages(plan, {})[f"calculations {design.spec.id}"]
        assert isinstance(sheet, CalculationSheet)
        assert len(sheet.everywhere.rows) == len(design.holds.checks)
        assert len(sheet.summary.rows) == len({c.family for c in design.holds.checks})
        said = " ".join(sheet.cannot_say)
        assert all(m.family in said for m in design.holds.cannot_say)
        for working, check in zip(sheet.workings, sheet.summary.rows, strict=True):
            assert working.title.lower() == check[0].lower()
    assumed = pages(plan, {})["assumed"]
    assert isinstance(assumed, AssumedSheet)
    assert len(assumed.assumed.rows) == len(plan.job.assumed)
    assert len(assumed.not_computed) > 0
