"""The answer of `cut` and its pages: valid, whole, in both Englishes, silent where a wall is not confirmed."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner
from jsonschema import validate

from ledgewright.cli import main
from ledgewright.sheets.cut_answer import HEADS, cut_document, cut_text, cuts_csv
from ledgewright.sheets.layouts import cut_table, kept, label_sheet, panel_names
from ledgewright.sheets.schemas import cut_schema
from ledgewright.sheets.skins import skin_ways
from tests.jobs import EXAMPLES, NAMES, plan

EL = "stoneware-corner-first-try"


@pytest.mark.parametrize("name", [*NAMES, EL])
def test_the_document_keeps_to_its_schema(name: str) -> None:
    document = json.loads(json.dumps(cut_document(plan(name)), allow_nan=False))
    validate(document, cut_schema())
    assert document["left"] == []
    assert [each["proof"]["proven"] for each in document["sheets"]] == [True] * len(
        document["sheets"]
    )


@pytest.mark.parametrize("name", NAMES)
def test_the_table_of_cuts_reads_back(name: str) -> None:
    whole = plan(name)
    rows = list(csv.reader(io.StringIO(cuts_csv(whole), newline="")))
    assert tuple(rows[0]) == HEADS
    assert {len(row) for row in rows} == {len(HEADS)}
    assert whole.cutting is not None
    cuts = sum(len(x.cuts) for s in whole.cutting.sheets for x in s.nest.layouts)
    assert sum(row[6] != "" for row in rows[1:]) == cuts


@pytest.mark.parametrize("name", NAMES)
def test_every_panel_a_cut_is_made_of_was_made_before(name: str) -> None:
    """A reader follows the letters: what is sawn is the sheet or was given or left by an earlier line."""
    whole = plan(name)
    assert whole.cutting is not None
    for sheets in whole.cutting.sheets:
        for layout in sheets.nest.layouts:
            names = panel_names(whole, layout)
            told = [name for name in names.values() if name != "waste"]
            assert len(set(told)) == len(told) - _doubles(layout.placed)
            known = {"sheet"}
            for row in cut_table(whole, layout).rows:
                assert row[1] in known
                known |= {row[5], row[6]}
            assert {p.name for p in layout.placed} <= known | {"sheet"}


def _doubles(placed: tuple[object, ...]) -> int:
    names = [getattr(p, "name", "") for p in placed]
    return len(names) - len(set(names))


def test_both_englishes_have_their_word_for_what_is_left() -> None:
    us, uk = plan("stoneware-corner"), plan("reading-alcove")
    assert "sheet layout" in cut_text(us)
    assert "Keep drop 1, " in cut_text(us)
    assert "cutting plan" in cut_text(uk)
    assert "Keep offcut 1, " in cut_text(uk)


def test_every_part_that_is_told_has_a_label() -> None:
    whole = plan("record-wall")
    assert whole.cutting is not None
    labels = label_sheet(whole, whole.cutting).labels
    wanted = sum(p.count for d in whole.designs for p in d.parts if p.kind != "rod")
    rests = sum(len(kept(whole, x)) for s in whole.cutting.sheets for x in s.nest.layouts)
    assert len(labels) == wanted + rests
    assert rests == sum(label.what.startswith("kept of sheet") for label in labels)


def test_ways_to_make_the_skins_of_an_el_stand_side_by_side() -> None:
    whole = plan(EL)
    ways = skin_ways(whole, whole.designs[0], None)
    assert len(ways) == 4
    assert [way.asked for way in ways] == [True, False, False, False]
    assert ways[0].verdict == whole.designs[0].holds.verdict
    one = next(way for way in ways if way.top == way.bottom == "one piece")
    # Two L's of about 69 x 50 do not both come out of one sheet of 96 x 48 (area by hand: 2 x 8.3 ft2 of 32 would,
    # but their outer rectangles are 24 ft2 each, and a saw goes right through).
    assert one.sheets is None or one.sheets == 2
    assert min(way.sheets for way in ways if way.sheets) == 1
    straight = plan("reading-alcove")
    assert skin_ways(straight, straight.designs[0], None) == ()


def test_the_verb_prints_the_answer() -> None:
    job = EXAMPLES / "reading-alcove.toml"
    ran = CliRunner().invoke(main, ["cut", str(job)])
    assert ran.exit_code == 0
    assert ran.stdout == cut_text(plan("reading-alcove"))
    made = CliRunner().invoke(main, ["cut", str(job), "--json"])
    assert json.loads(made.stdout) == json.loads(json.dumps(cut_document(plan("reading-alcove"))))


def test_bad_input_is_told_as_everywhere(tmp_path: Path) -> None:
    ran = CliRunner().invoke(main, ["cut", str(tmp_path / "none.toml")])
    assert ran.exit_code == 2
    assert "Traceback" not in ran.output


def test_without_a_cutting_nothing_is_said_to_be_cut() -> None:
    bare = replace(plan("reading-alcove"), cutting=None)
    assert json.loads(json.dumps(cut_document(bare)))["sheets"] == []
