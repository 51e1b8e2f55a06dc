"""A shelf glued onto its rods: no page says that it comes off; what is done instead, against hand reckoning."""

from __future__ import annotations

import dataclasses
import math
import re
from collections.abc import Iterator
from functools import cache

import pytest

from ledgewright import shop, stock
from ledgewright.memo import Memo
from ledgewright.plan import Plan, looked
from ledgewright.sheets import glued_in
from ledgewright.sheets.answers import check_text, fit_text
from ledgewright.sheets.documents import fit_document
from ledgewright.sheets.handover import log_sheet, owner_sheet
from ledgewright.sheets.order import fitting_sheet
from ledgewright.sheets.quote import choices_sheet, quote_sheet
from ledgewright.sheets.shop_answer import shop_document, shop_text
from ledgewright.sheets.shop_pages import buying_sheet, days_sheet, glue_sheet, van_sheet
from ledgewright.sheets.shopfloor import core_sheet
from ledgewright.sheets.shopping import vans
from ledgewright.sheets.shopside import Side
from ledgewright.sheets.shopside import side as shop_side
from tests.sheets.test_as_looked_at import job

AGAINST = (
    "the room between slot and bar, by hand",
    "the same job hung dry",
    "waits of the trade: 10 C colder doubles, half as long again",
    "common practice: a bond with steel is not undone",
)

MEMO = Memo()
GLUED = ('in_slot = "dry"', 'in_slot = "glued"')
SEALED = ('kind = "grub screw"', 'kind = "sealant"')
OFF = re.compile(
    r"slides off|not glued to the wall|[Uu]ndo the|moves of the fitting order in reverse|cut with a long blade|"
    r"dab of sealant|Hung, locked|comes off first"
)
"""What only a shelf that comes off again may be told."""


@cache
def alcove(*changes: tuple[str, str]) -> tuple[Plan, Side]:
    plan = looked(job("reading-alcove", *changes), MEMO)
    side = shop_side(plan)
    assert not isinstance(side, str)
    return plan, side


def words(of: object) -> Iterator[str]:
    """Every text of a page, however deep; drawings have none that matter here."""
    if isinstance(of, str):
        yield of
    elif isinstance(of, tuple | list):
        for each in of:
            yield from words(each)
    elif dataclasses.is_dataclass(of):
        for field in dataclasses.fields(of):
            if field.name != "drawing":
                yield from words(getattr(of, field.name))


@cache
def pages(*changes: tuple[str, str]) -> dict[str, str]:
    plan, side = alcove(*changes)
    (design,) = plan.designs
    (up,) = side.work.glue_ups
    made: dict[str, object] = {
        "choices": choices_sheet(side, None),
        "quote": quote_sheet(side),
        "owner": owner_sheet(plan, design),
        "fitting": fitting_sheet(plan, design, ()),
        "glue-up": glue_sheet(side, up, None),
        "core": core_sheet(plan, design, None, frozenset()),
        "log": log_sheet(plan),
        "days": days_sheet(side),
        "vans": van_sheet(side),
        "buying": buying_sheet(side),
        "check": check_text(plan),
        "fit": fit_text(plan, MEMO),
        "shop": shop_text(plan),
    }
    return {name: " ".join("\n".join(words(page)).split()) for name, page in made.items()}


@pytest.mark.parametrize("lock", [(), (SEALED,)])
def test_no_page_of_a_glued_shelf_says_that_it_comes_off(lock: tuple[tuple[str, str], ...]) -> None:
    told = pages(GLUED, *lock)
    assert {name: OFF.findall(text) for name, text in told.items() if OFF.search(text)} == {}
    dry = pages(*lock)
    assert {"choices", "owner", "fitting"} <= {n for n, text in dry.items() if OFF.search(text)}
    assert not any("glued onto" in text or "glued in" in text.lower() for text in dry.values())


def test_every_page_that_speaks_of_slots_says_that_they_are_glued_and_that_it_stays() -> None:
    told = pages(GLUED)
    assert "not at all: it is glued onto its steel bars for good" in told["choices"]
    assert "it does not come off again" in told["quote"]
    assert "It does not: it is glued onto its steel bars." in told["owner"]
    assert "glued when it is hung, not now" in told["glue-up"]
    assert "stay bare on the bench" in told["core"]
    assert "Glued in the slots, hung, propped" in told["log"]
    assert "glue in the slots" in told["days"]
    assert "no way back off" in told["fit"]
    assert "it never comes off again" in told["shop"]
    for name in ("check", "owner", "fitting", "choices"):
        assert "only by cutting" in told[name], name


def test_the_fitting_order_has_a_dry_trial_then_glue_with_its_clock_then_no_way_back() -> None:
    plan, _ = alcove(GLUED)
    (design,) = plan.designs
    sheet = fitting_sheet(plan, design, ())
    assert any("Dry trial first, without glue" in each for each in sheet.before)
    assert sheet.back_rule.startswith("Only on the dry trial, before any glue: ")
    assert sheet.after[-1].head == "Then glued in, for good"
    text = " ".join(sheet.after[-1].lines)
    order = (
        "dry trial was right",
        "one mix",
        "stays workable",
        "same moves",
        "left alone",
        "cutting",
    )
    at = [text.index(each) for each in order]
    assert at == sorted(at)


def test_until_it_is_shown_to_hold_no_glue_goes_in_and_the_page_says_so_at_its_head() -> None:
    plan, _ = alcove(GLUED)
    (design,) = plan.designs
    assert plan.verdict == "cannot say"
    sheet = fitting_sheet(plan, design, ())
    assert sheet.warning.startswith("Do not glue it on yet")
    assert glued_in.NOT_SHOWN in check_text_joined(plan)
    dry, _ = alcove()
    assert fitting_sheet(dry, dry.designs[0], ()).warning == ""


def check_text_joined(plan: Plan) -> str:
    return " ".join(check_text(plan).split())


def test_the_adhesive_is_what_fills_the_room_round_the_bars_and_a_third_over() -> None:
    """By hand: slots 20 x 17, bars round 16: 138.9 mm2. They stick out 240, less 1 to 20 at the wall; four of them."""
    room = 20 * 17 - math.pi * 8**2
    assert room == pytest.approx(138.94, abs=0.01)
    (row,) = alcove(GLUED)[1].work.slots
    assert 4 * room * 220 * 1.35 <= row.volume <= 4 * room * 239 * 1.35
    assert len(row.rods) == 4
    assert row.mass == pytest.approx(row.volume * 1e-9 * stock.adhesive("epoxy slow").density)
    told = shop_document(alcove(GLUED)[0])["shop"]["slots"]
    assert [(each["adhesive"], each["cartridges"]) for each in told] == [("epoxy slow", 1)]


def test_adhesive_hours_and_nozzle_are_the_dry_job_s_and_those_of_the_slots() -> None:
    """By hand: 0.3 h and 0.08 for each of four; one nozzle more; the adhesive of the slots and 10 ml pressed out."""
    glued, dry = alcove(GLUED)[1].work, alcove()[1].work
    assert glued.hours - dry.hours == pytest.approx(0.3 + 4 * 0.08)
    (row,) = glued.slots
    need = {each.name: each.amount for each in glued.needs}
    had = {each.name: each.amount for each in dry.needs}
    assert need["epoxy slow"] - had["epoxy slow"] == pytest.approx(row.volume + 10_000)
    assert need["mixing nozzle"] - had["mixing nozzle"] == 1
    assert glued.journeys > dry.journeys


def test_the_load_test_waits_on_a_visit_of_its_own_until_the_slots_have_cured() -> None:
    """By hand at 14 C: 2^0.6 times the label's wait at 20 C, rounded up to the hour; props half as long again."""
    side = alcove(GLUED)[1]
    slow, label = 2**0.6, stock.adhesive("epoxy slow")
    test = next(t for t in side.work.tasks if t.id == "test.reading")
    (after,) = test.after
    assert (test.visit, after.task, after.overnight) == ("tested", "hang.reading", True)
    assert after.wait == math.ceil(label.full_load * slow)
    (row,) = side.work.slots
    assert row.leave == pytest.approx(label.leave_alone * 1.5 * slow)
    ids = [task.id for task in side.work.tasks]
    assert ids.index("dry-fit.reading") < ids.index("slots.reading") < ids.index("hang.reading")
    assert [van.visit for van in vans(side)].index("tested") > [v.visit for v in vans(side)].index(
        "hang"
    )


def test_a_mix_that_goes_off_before_the_shelf_is_home_is_told() -> None:
    """By hand: four slots at a minute and five to bring it home are nine; a mix of 30 min at 20 C reaches."""
    (row,) = alcove(GLUED)[1].work.slots
    assert row.takes == 9 * 60
    assert row.fits
    assert not dataclasses.replace(row, minutes=8.9).fits


def test_glue_is_not_counted_on_to_bridge_a_slide_slot() -> None:
    """An L in one piece slides along one wall: its slide slots are as wide as that offset, not as the bars."""
    whole = job("stoneware-corner", GLUED, ("\nsections = 2", "\nsections = 1"))
    plan = looked(whole, Memo())
    (design,) = plan.designs
    assert design.way is not None
    assert design.way.loss.widest > 3 * max(rod.bar.width for rod in design.frame.rods)
    told = " ".join(fitting_sheet(plan, design, ()).after[-1].lines)
    assert "no glue bridges such a gap" in told
    straight = alcove(GLUED)[0]
    told = " ".join(fitting_sheet(straight, straight.designs[0], ()).after[-1].lines)
    assert "bridges" not in told


def test_no_sealant_goes_on_a_glued_bar_nor_on_the_list() -> None:
    told = pages(GLUED, SEALED)
    assert "No sealant on a bar that is glued" in told["fitting"]
    assert "sealant" not in told["buying"]
    assert "sealant" not in told["vans"]
    assert "sealant" in pages(SEALED)["buying"]


def test_the_json_of_the_fit_names_the_glued_rods() -> None:
    for changes, count in (((GLUED,), 4), ((), 0)):
        (shelf,) = fit_document(alcove(*changes)[0], MEMO)["shelves"]
        assert len(shelf["glued"]) == count


def test_the_room_round_a_rod_is_none_where_the_slot_is_the_bar() -> None:
    """A slot no wider or higher than a square bar has no room; 1 mm of play over its width adds just that."""
    (design,) = alcove(GLUED)[0].designs
    rod, slot = design.frame.rods[0], design.frame.slots[0]
    bar = stock.bar("square 16 S235")
    tight = dataclasses.replace(rod, bar=bar, clearance=dataclasses.replace(rod.clearance, up=0.0))
    snug = dataclasses.replace(slot, width=16.0)
    assert shop.adhesive_in_slot(tight, snug) == pytest.approx(0.0)
    loose = dataclasses.replace(tight, clearance=dataclasses.replace(rod.clearance, up=1.0))
    long = slot.depth - rod.clearance.end
    assert shop.adhesive_in_slot(loose, snug) == pytest.approx(16 * 1 * long * 1.35)
