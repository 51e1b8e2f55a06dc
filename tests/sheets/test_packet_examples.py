"""The packets of the three shipped jobs, measured on paper like the sample's."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from ledgewright.plan import Plan
from ledgewright.sheets import pages, pdf
from ledgewright.sheets.model import (
    AssumedSheet,
    CalculationSheet,
    Cover,
    DrillCard,
    SetCard,
    WithheldCard,
)
from ledgewright.sheets.say import Say
from ledgewright.statics import FAMILIES, LoadLimit
from ledgewright.statics.families import family
from tests import jobs
from tests.sheets import paper
from tests.sheets.sound import all_sound
from tests.sheets.test_packet_pages import texts

EXAMPLES = ("stoneware-corner-first-try", "reading-alcove-first-try", "record-wall-first-try")
FOLDER = Path(__file__).parents[2] / "examples"


@cache
def example(name: str) -> tuple[Plan, tuple[paper.Sheet, ...]]:
    plan = jobs.plan(name)
    return plan, paper.read(pdf(plan, jobs.MEMO))


@pytest.mark.parametrize("name", EXAMPLES)
def test_paper(name: str) -> None:
    all_sound(example(name)[1], name)


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_cover_is_one_page(name: str) -> None:
    sheets = example(name)[1]
    assert [s.text.startswith("Job packet") for s in sheets[:2]] == [True, False]


@pytest.mark.parametrize("name", EXAMPLES)
def test_pages_say_what_the_plan_says(name: str) -> None:
    plan, sheets = example(name)
    made = pages(plan, {}, jobs.MEMO, others=False)
    cover = made["cover"]
    assert isinstance(cover, Cover)
    words = {"passes": "It holds", "fails": "It does not hold", "cannot say": "Cannot say yet"}
    assert cover.verdict == words[plan.verdict]
    assert cover.verdict == "It holds" or cover.why
    cards = [p for p in made.values() if isinstance(p, DrillCard | WithheldCard)]
    assert len(cards) == len(plan.leave)
    drawn = pages(plan, memo=jobs.MEMO, others=False)
    assert all(getattr(drawn[f"wall {s} {w}"], "picture", None) for s, w, _ in plan.leave)
    for sheet in sheets:
        assert cover.verdict in sheet.text


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_check_and_every_gap_is_listed(name: str) -> None:
    plan, _ = example(name)
    for design in plan.designs:
        sheet = pages(plan, {}, jobs.MEMO, others=False)[f"calculations {design.spec.id}"]
        assert isinstance(sheet, CalculationSheet)
        assert len(sheet.everywhere.rows) == len(design.holds.checks)
        assert len(sheet.summary.rows) == len({c.family for c in design.holds.checks})
        said = " ".join(sheet.cannot_say)
        say = Say.of(plan.job.meta)
        assert all(say.text(family(m.family).title) in said for m in design.holds.cannot_say)
        assert not any(re.search(rf"\b{re.escape(f.id)}\b", said) for f in FAMILIES)
        rows, limit = sheet.summary.rows, design.holds.load_limit
        for working, check in zip(sheet.workings, rows, strict=False):
            assert working.title.lower() == check[0].lower()
        assert not isinstance(limit, LoadLimit)  # first tries fail
        assert len(sheet.workings) == len(rows)
    assumed = pages(plan, {}, jobs.MEMO, others=False)["assumed"]
    assert isinstance(assumed, AssumedSheet)
    # One row more names the figures that the calculations assume by themselves.
    assert len(assumed.assumed.rows) == len(plan.job.assumed) + 1
    assert assumed.assumed.paths == (*(a.path for a in plan.job.assumed), "")
    assert len(assumed.not_computed) > 0


AMERICAN = (
    r"rods?|edging|center(s|ed)?|drywall|stick-out|baseboard|casing|colors?|gray|(milli)?meters?|load limits?"
    r"|licensed|building department|confirmed"
)
BRITISH = (
    r"steel bars?|lipping|centre(s|d)?|plasterboard|projection|skirting|architrave|colours?|grey"
    r"|(milli)?metres?|maximum safe load|chartered|proven|noggins?|loadbearing|measure-up|workings"
)
"""Words that only one side of the ocean says on a job: common practice."""


@pytest.mark.parametrize(
    ("name", "words", "foreign"),
    [
        ("reading-alcove-first-try", "en-GB", AMERICAN),
        ("stoneware-corner-first-try", "en-US", BRITISH),
        ("record-wall-first-try", "en-US", BRITISH),
    ],
)
def test_every_text_is_in_the_english_of_the_job(name: str, words: str, foreign: str) -> None:
    plan, sheets = example(name)
    assert plan.job.meta.words == words
    said = [t for page in pages(plan, memo=jobs.MEMO, others=False).values() for t in texts(page)]
    said += [sheet.text.replace("\n", " ") for sheet in sheets]
    paths = {a.path for a in plan.job.assumed} | {i.path for i in plan.job.open_items}
    assert len(said) > 500
    for text in said:
        if text not in paths:
            assert not re.search(rf"(?<![\w.-])({foreign})(?![\w-]|\.\w)", text, re.IGNORECASE), (
                text
            )


CARDS = ("Drill card", "Set card", "Wall A: not confirmed", "Wall B: not confirmed")


def carded(sheets: tuple[paper.Sheet, ...]) -> list[paper.Sheet]:
    """The sheets of drill cards, set cards and withheld walls, every page they run over."""
    inside = [s for s in sheets if not s.text.startswith("Contents")]
    return [s for s in inside if any(s.text.startswith(c) or f"\n{c}" in s.text for c in CARDS)]


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_sheet_of_a_card_says_do_not_drill_while_it_is_not_shown_to_hold(name: str) -> None:
    plan, sheets = example(name)
    assert plan.verdict != "passes"
    cards = carded(sheets)
    assert len(cards) >= 2 * len(plan.leave) + (
        name == "record-wall-first-try"
    )  # its holes run over a page
    for sheet in cards:
        assert "Do not drill" in sheet.text
        # At the head of the sheet, under its title, where the figures cannot push it off.
        (banner,) = [w for w in sheet.words if w.text.startswith("Do not drill")]
        assert banner.foot > sheet.height - 45


@pytest.mark.parametrize("name", EXAMPLES)
def test_what_stops_the_work_stands_before_the_holes(name: str) -> None:
    plan, sheets = example(name)
    drills = [s for s in carded(sheets) if "Drill card" in s.text]
    order = " ".join(s.text for s in drills)
    assert order.count("Stop if") == order.count("Holes, in this order") == len(plan.leave)
    for part in order.split("Holes, in this order")[:-1]:
        assert "Stop if" in part
        assert "Before the first hole" in part
    if name != "record-wall-first-try":
        assert len(drills) == len(plan.leave)  # up to four holes keep to one sheet


def test_a_card_of_a_passing_section_warns_while_another_does_not_pass() -> None:
    plan, _ = example("stoneware-corner-first-try")
    passing = replace(plan.designs[0], holds=replace(plan.designs[0].holds, verdict="passes"))
    shown = pages(replace(plan, designs=(passing,), verdict="fails"), {}, jobs.MEMO, others=False)
    cards = [p for p in shown.values() if isinstance(p, DrillCard | SetCard)]
    assert len(cards) == 4
    assert all(c.warning.startswith("Do not drill yet") for c in cards)
    good = pages(replace(plan, designs=(passing,), verdict="passes"), {}, jobs.MEMO, others=False)
    cards = [p for p in good.values() if isinstance(p, DrillCard | SetCard)]
    assert [c.warning for c in cards] == [""] * 4
