"""Sheets that are filled in on site: what they must hold, what they must not, and that they fit their paper."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from ledgewright.job import Known
from ledgewright.judge import Design
from ledgewright.plan import Plan
from ledgewright.sheets import forms
from ledgewright.sheets.measured import again_text, measure_sheet
from ledgewright.sheets.model import FormSheet
from ledgewright.sheets.pages import block, pages, site_pages
from ledgewright.sheets.press import press
from ledgewright.sheets.say import Say
from ledgewright.sheets.siting import ready, site_text
from ledgewright.site import Drill, Withheld
from ledgewright.survey import Retake
from tests.jobs import plan
from tests.sheets import paper, sample
from tests.sheets.test_packet_paper import bars, overlaps

SCANNED = Known("scanned", None, "no", "one cable, seen on the scan", None, None)


def text(sheet: FormSheet) -> str:
    return repr(sheet)


def scanned(known: Known = SCANNED) -> tuple[Plan, Design, Withheld]:
    """The corner of the sample with wall A known by a scan alone."""
    whole = sample.plan(("A",))
    design = whole.designs[0]
    room = design.room
    walls = tuple(replace(w, known=known) if w.id == "A" else w for w in room.walls)
    changed = replace(design, room=replace(room, walls=walls))
    leave = next(x for _, wall, x in whole.leave if wall == "A")
    assert isinstance(leave, Withheld)
    return replace(whole, designs=(changed,)), changed, leave


def test_a_scanned_wall_gets_a_probing_sheet_with_the_hidden_band_and_every_member() -> None:
    whole, design, leave = scanned()
    sheet = forms.probing_sheet(whole, design, leave)
    assert sheet is not None
    say, spec = Say.of(whole.job.meta), design.spec
    assert "no hole for a rod" in sheet.warning
    assert f"{say.length(spec.top - spec.thick)} to {say.length(spec.top)}" in sheet.intro
    (table,) = sheet.parts[1].tables
    wall = design.room.wall("A")
    assert len(table.rows) == len([m for m in wall.members if m.kind == "stud"])
    assert "isolated" in text(sheet)


@pytest.mark.parametrize(
    "known",
    [
        replace(SCANNED, how="unknown"),
        replace(SCANNED, services=None),
    ],
)
def test_a_wall_nobody_knows_anything_of_is_not_probed(known: Known) -> None:
    assert forms.probing_sheet(*scanned(known)) is None


def test_a_confirmed_wall_needs_no_probing() -> None:
    whole = sample.plan(())
    leave = next(x for _, wall, x in whole.leave if wall == "A")
    assert isinstance(leave, Drill)
    assert forms.probing_sheet(whole, whole.designs[0], leave) is None


def test_the_blocking_sheet_fills_every_bay_between_the_studs_of_the_scene() -> None:
    # scenes: wall A, edges from the corner 14 11/16-16 3/16; 30 13/16-32 5/16; 46 9/16-48 1/8; 63 1/8-64 5/8.
    whole = plan("stoneware-corner-first-try")
    design = whole.designs[0]
    sheet = forms.blocking_sheet(whole, design, design.room.wall("A"))
    assert sheet is not None
    rows = sheet.parts[0].tables[0].rows
    assert [row[:3] for row in rows] == [
        ("16 3/16", "30 13/16", "14 5/8"),
        ("32 5/16", "46 9/16", "14 1/4"),
        ("48 1/8", "63 1/8", "15"),
    ]
    masonry = replace(design.room.wall("A"), framing="masonry")
    assert forms.blocking_sheet(whole, design, masonry) is None


def test_the_photo_list_names_every_wall_corner_and_thing_near() -> None:
    whole = plan("reading-alcove")
    said = text(forms.photo_sheet(whole))
    for name in (
        "cheek-whole",
        "back-inside",
        "back-depth",
        "cheek-back",
        "double socket",
        "way-in",
    ):
        assert name in said
    assert "cheek-inside" not in said  # masonry, no shelf stands on it
    assert "back-open.jpg" in said


def test_the_blank_questions_ask_all_thirteen_in_order_and_what_no_probe_shows() -> None:
    sheet = forms.question_sheet("in", "en-US")
    heads = [part.head.split("  ")[0] for part in sheet.parts if part.head[0].isdigit()]
    assert heads == [str(k) for k in range(1, 14)]
    said = text(sheet)
    for asked in ("carry load", "cables", "fire or sound", "lead", "asbestos", "Consent", "damp"):
        assert asked in said


def test_the_site_measure_says_how_sure_and_from_what_size_a_slip_shows() -> None:
    whole = plan("reading-alcove")
    sheet = measure_sheet(whole)
    assert sheet is not None
    said = text(sheet)
    assert "3 figures more than needed" in said
    assert "Fit together" in said
    rows = next(p for p in sheet.parts if p.head == "Tapes and heights").tables[0].rows
    assert len(rows) == sum(f.kind == "tape" for f in whole.designs[0].room.figures)
    assert "Wood beside each hole" in said


def test_a_withheld_wall_tells_no_wood_beside_its_holes() -> None:
    whole, _, _ = scanned()
    sheet = measure_sheet(whole)
    assert sheet is not None
    rows = [r for p in sheet.parts if p.head == "Wood beside each hole" for r in p.tables[0].rows]
    assert rows
    assert not any(row[0].startswith("A") for row in rows)


def test_a_slip_that_is_one_figure_s_alone_is_told_in_the_job_s_units() -> None:
    told = again_text("Take it again.", 12.7, Say("in", "en-US"))
    assert told == 'Take it again. It seems to read 1/2" too much.'
    assert again_text("Take all again.", None, Say("in", "en-US")) == "Take all again."


def test_a_place_is_ready_where_nothing_is_to_be_taken_again_and_every_wall_may_be_drilled() -> (
    None
):
    good = plan("reading-alcove")
    assert ready(good)
    assert not ready(scanned()[0])
    design = good.designs[0]
    again = replace(design.room, retake=(Retake("corner[0]", "Take it again."),))
    assert not ready(replace(good, designs=(replace(design, room=again),)))
    assert "Take it again." in site_text(replace(good, designs=(replace(design, room=again),)))


def test_the_packet_holds_the_sheets_of_the_place() -> None:
    whole, _, _ = scanned()
    names = list(pages(whole, {}))
    assert {"measure", "photos", "probing corner A", "blocking corner A"} <= {
        n.replace(whole.designs[0].spec.id, "corner") for n in names
    }
    assert "questions" in site_pages(whole)


@pytest.mark.parametrize("meta", [{}, {"sheets": "a4", "units": "mm", "words": "en-GB"}])
def test_sheets_of_the_place_keep_to_their_paper(meta: dict[str, Any]) -> None:
    whole, _, _ = scanned()
    whole = replace(whole, job=replace(whole.job, meta=replace(whole.job.meta, **meta)))
    sheets = paper.read(press(block(whole), site_pages(whole)))
    assert len(sheets) >= 7
    for sheet in sheets:
        assert len(bars(sheet)) == 1
        assert overlaps(sheet) == []
        for word in sheet.words:
            assert word.left >= 12
            assert word.right <= sheet.width - 12
            assert word.foot >= 12
            assert word.head <= sheet.height - 12
