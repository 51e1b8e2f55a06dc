"""The way back off stands on every fitting page, as printed; filler strips are cut free before it is gone."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from functools import cache

import pytest

from ledgewright.fitting import Block, Eased
from ledgewright.job import Job
from ledgewright.job.reading import read
from ledgewright.memo import Memo
from ledgewright.plan import Plan, looked
from ledgewright.sheets import handover, quote
from ledgewright.sheets.answers import fit_text
from ledgewright.sheets.blocked import eased_told, stops
from ledgewright.sheets.model import FittingSheet, Note
from ledgewright.sheets.order import fitting_sheet
from ledgewright.sheets.pages import block
from ledgewright.sheets.press import press
from ledgewright.sheets.say import Say
from ledgewright.sheets.shopside import side
from tests import jobs
from tests.sheets import paper

AGAINST = (
    "what stands on the printed fitting pages",
    "the PDF read back by another library; rounding by hand",
    "exact",
)

BACK = "The way back off"
FILLED = "reading-alcove with filler strips"
MM, IN = Say("mm", "en-GB"), Say("in", "en-US")


def filled() -> Job:
    text = (jobs.EXAMPLES / "reading-alcove.toml").read_text(encoding="utf-8")
    found = read(text.replace("\nend_gap = 1", '\nends = "filler"\nend_gap = 12'), "job.toml")
    assert found.job is not None, found.findings
    return found.job


@cache
def plan(name: str) -> Plan:
    return looked(filled() if name == FILLED else jobs.job(name), Memo())


@cache
def orders(name: str) -> tuple[FittingSheet, ...]:
    return tuple(fitting_sheet(plan(name), design, ()) for design in plan(name).designs)


def printed(name: str, *sheets: FittingSheet) -> list[str]:
    """What is written on the paper of each, in one line."""
    found = []
    for sheet in sheets:
        data = press(block(plan(name)), {"fitting": sheet})
        found.append(re.sub(r"\s+", " ", " ".join(paper.texts(data))))
    return found


@pytest.mark.parametrize("name", [*jobs.ALL, FILLED])
def test_every_fitting_page_has_the_way_back_off(name: str) -> None:
    """Its rule, and of more than one move each step of it: the other pages send the reader there."""
    for sheet, text in zip(orders(name), printed(name, *orders(name)), strict=True):
        assert sheet.moves
        assert len(sheet.back.rows) == len(sheet.moves)
        assert text.count(BACK) == 1
        assert sheet.back_rule in text
        if len(sheet.moves) > 1:
            for row in sheet.back.rows:
                assert " ".join(row) in text


@pytest.mark.parametrize("count", range(5))
@pytest.mark.parametrize("name", [FILLED, "stoneware-corner-first-try"])
def test_it_does_not_hang_on_how_many_notes_stand_before_it(name: str, count: int) -> None:
    """One move and three; no note at all and more than there ever are: every note and the way back are printed once."""
    (sheet,) = orders(name)
    assert len(sheet.moves) == (1 if name == FILLED else 3)
    notes = tuple(Note(f"Note number {k}", (f"what it says, {k}",)) for k in range(count))
    (text,) = printed(name, replace(sheet, after=notes))
    assert text.count(BACK) == 1
    assert sheet.back_rule in text
    assert [text.count(note.head) for note in notes] == [1] * count


def test_filler_strips_are_cut_free_before_it_comes_off() -> None:
    """Geometry: what is scribed to a hollow or to walls that draw in does not pass them. Said wherever it comes off."""
    made = plan(FILLED)
    (design,), (sheet,) = made.designs, orders(FILLED)
    assert sheet.back_rule.startswith("Clear the shelf, cut the filler strips free, undo the lock")
    (strips,) = (note for note in sheet.after if "filler strips" in note.head)
    assert "First a fine saw along the shelf's end cuts each free" in strips.lines[-1]
    owner = handover.owner_sheet(made, design)
    (off,) = (part for part in owner.parts if part.head == "How it comes off")
    count = sum(part.kind == "filler" for part in design.parts)
    assert f"Cut its filler strips ({count} of them) free along its ends." in off.lines[0]
    assert off.lines[0].index("filler") < off.lines[0].index("fitting order in reverse")
    shop = side(made)
    assert not isinstance(shop, str)
    assert "once its filler strips are cut free and the lock is undone" in repr(
        quote.choices_sheet(shop, None)
    )


@pytest.mark.parametrize("name", jobs.NAMES)
def test_without_filler_strips_nothing_is_cut(name: str) -> None:
    for design, sheet in zip(plan(name).designs, orders(name), strict=True):
        assert "filler" not in sheet.back_rule
        owner = handover.owner_sheet(plan(name), design)
        assert not any("filler strips" in line for part in owner.parts for line in part.lines)


def test_a_shelf_without_a_lock_has_none_to_undo() -> None:
    made = plan("record-wall")
    design = made.designs[0]
    bare = replace(design, spec=replace(design.spec, lock=replace(design.spec.lock, kind="none")))
    owner = handover.owner_sheet(made, bare)
    (off,) = (part for part in owner.parts if part.head == "How it comes off")
    assert "Undo" not in off.lines[0]
    assert "No lock is planned" in off.lines[0]


@pytest.mark.parametrize(
    ("say", "value", "said"),
    [
        # By hand: half a millimetre is the least of a metric tape, 1/32 in (0.79 mm) the least told in inches.
        (MM, 0.0004, "less than 0.5 mm"),
        (MM, 0.24, "less than 0.5 mm"),
        (MM, 0.26, "0.5 mm"),
        (MM, 131.0, "131 mm"),
        (IN, 0.39, 'less than 1/32"'),
        (IN, 0.41, '1/32"'),
    ],
)
def test_nothing_is_short_by_nothing_and_no_move_goes_nowhere(
    say: Say, value: float, said: str
) -> None:
    made = plan("record-wall")
    design = made.designs[0]
    assert design.way is not None
    (move,) = design.way.moves
    share = value / math.hypot(move.dx, move.dy)
    tiny = replace(move, dx=move.dx * share, dy=move.dy * share)
    way = replace(design.way, moves=(tiny, move))
    small = replace(design, way=way, ways=replace(design.ways, ways=(way,)))
    meta = replace(made.job.meta, units=say.units, words=say.words)
    whole = replace(made, job=replace(made.job, meta=meta), designs=(small,))
    sheet = fitting_sheet(whole, small, ())
    assert sheet.moves[0].far == said
    assert sheet.back.rows[-1][1] == said
    assert f"1. {said} " in fit_text(whole, Memo())
    assert stops(Block("wall B", 1, value), say) == f"Move 1: wall B, short by {said}."


def test_what_is_eased_off_a_joint_is_told_from_back_to_front() -> None:
    """Rounded up to what a caliper shows: 0.1 mm, 1/64 in (0.4 mm)."""
    taper = Eased("section 1", ((0.0, 0.21), (56.0, 0.21), (190.0, 0.0)))
    assert eased_told(taper, MM) == (
        "Ease the joint face before it goes in: 0.3 mm at its back, 0.3 mm at 56 mm out, nothing at its front. "
        "So much then stays open in the joint."
    )
    even = Eased("section 1", ((0.0, 0.21), (190.0, 0.21)))
    assert '1/64" along its whole length' in eased_told(even, IN)


def test_the_fitting_order_and_the_answer_say_what_is_eased() -> None:
    made = plan("stoneware-corner")
    second = made.designs[1]
    assert second.way is not None
    eased = Eased("section 1", ((0.0, 0.2), (190.0, 0.2)))
    way = replace(second.way, eased=(eased,))
    design = replace(second, way=way, ways=replace(second.ways, ways=(way,)))
    sheet = fitting_sheet(made, design, ())
    said = eased_told(eased, Say.of(made.job.meta))
    assert said in sheet.first[0].lines
    assert "The joint shuts but for what was eased, tops flush." in sheet.moves[-1].look
    assert said in fit_text(replace(made, designs=(design,)), Memo())
    plain = fitting_sheet(made, second, ())
    assert "The joint shuts along its whole length, tops flush." in plain.moves[-1].look
    assert not any("Ease the joint face" in line for line in plain.first[0].lines)
