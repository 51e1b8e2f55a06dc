"""Edits change what they are asked to change, and nothing else of the text."""

from __future__ import annotations

import difflib
import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ledgewright.job.edits import BadEdit, apply, revision
from ledgewright.job.model import Edit
from ledgewright.job.reading import read


def changed(old: str, new: str) -> list[str]:
    return [line for line in difflib.ndiff(old.split("\n"), new.split("\n")) if line[0] in "+-"]


CASES = [
    (Edit("shelf[0].rods.embedment", '"2 3/4"'), ['- embedment = "3"', '+ embedment = "2 3/4"']),
    (Edit("shelf.lower.depth", '"10"'), ['- depth = "10 1/4"', '+ depth = "10"']),
    (Edit("shelf.lower.load.pots.lasts", '"days"'), ['- lasts = "years"', '+ lasts = "days"']),
    (Edit("shelf.lower.groove", None), ['- groove = { width = "5/8", deep = "1/4", from_front = "1 1/2" }']),
    (Edit("shop.saw", None), ['- saw = "straight guide"']),
    (Edit("job.sure[1]", '"x"'), ['- sure = ["wall.west.length"]', '+ sure = ["wall.west.length", "x"]']),
]  # fmt: skip


@pytest.mark.parametrize(("edit", "lines"), CASES)
def test_an_edit_changes_one_line(corner: str, edit: Edit, lines: list[str]) -> None:
    assert changed(corner, apply(corner, [edit])) == lines


def test_a_comment_behind_the_value_stays(corner: str) -> None:
    made = apply(corner, [Edit("units", '"mm"'), Edit("wall.west.tape_from", '"left"')])
    assert 'units = "mm"                        # what a bare number means' in made
    assert 'tape_from = "left"                 # hooked in the corner' in made


def test_an_entry_of_a_list_over_several_lines_keeps_its_neighbours_comments(corner: str) -> None:
    made = apply(corner, [Edit("wall.west.studs[1][0]", '"21 5/8"')])
    assert changed(corner, made) == ['-   ["21 3/4", "23 1/4"],', '+   ["21 5/8", "23 1/4"],']


def test_an_appended_table_stands_apart_and_takes_its_place(corner: str) -> None:
    made = apply(corner, [Edit("shelf.lower.rod[1]", '{ at = "north 14 1/4", projection = "7" }')])
    assert '\n\n[[shelf.rod]]\nat = "north 14 1/4"\nprojection = "7"\n' in made
    job = read(made, "x.toml").job
    assert job is not None
    assert [rod.projection for rod in job.shelves[0].rods][2:] == pytest.approx(
        [7 * 25.4, 6.5 * 25.4]
    )


def test_taking_out_the_last_table_takes_its_key_along(corner: str) -> None:
    made = apply(corner, [Edit("shelf.lower.rod[0]", None)])
    assert "rod = []" not in made
    assert "[[shelf.rod]]" not in made
    assert "rod" not in tomllib.loads(made)["shelf"][0]
    again = apply(made, [Edit("shelf.lower.rod[0]", '{ at = "north 30 5/16", hole = "7/8" }')])
    assert tomllib.loads(again)["shelf"][0]["rod"] == [{"at": "north 30 5/16", "hole": "7/8"}]
    assert read(again, "x.toml").job is not None


def test_a_missing_table_is_made(corner: str) -> None:
    bare = corner.replace('[shelf.limits]\ndrop_today = "1/16"\ndrop_long = "1/8"\n', "")
    made = apply(bare, [Edit("shelf.lower.limits.drop_today", '"3/32"')])
    assert tomllib.loads(made)["shelf"][0]["limits"] == {"drop_today": "3/32"}
    assert read(made, "x.toml").job is not None


def test_a_key_added_to_a_shelf_with_tables_below_it_lands_in_the_shelf(corner: str) -> None:
    bare = corner.replace('single = "60 lb"\n', "", 1)
    made = apply(bare, [Edit("shelf.lower.single", '"70 lb"')])
    assert tomllib.loads(made)["shelf"][0]["single"] == "70 lb"


def test_several_edits_are_made_in_order(corner: str) -> None:
    made = apply(corner, [Edit("shelf.lower.id", '"upper"'), Edit("shelf.upper.top", '"60"')])
    assert tomllib.loads(made)["shelf"][0]["top"] == "60"


BAD = [
    Edit("shelf.uper.top", '"60"'),
    Edit("shelf.lower.top.x", "1"),
    Edit("wall.west.studs[9]", "1"),
    Edit("", "1"),
    Edit("a..b", "1"),
    Edit("[0]", "1"),
    Edit("units", "in"),
    Edit("units", '"in"\n[evil]'),
    Edit("units", '"in"\ny = 1'),
    Edit("units", ""),
    Edit("shop.nothing", None),
    Edit("nothing.at.all", None),
    Edit("shelf.lower.rod[4]", None),
]


@pytest.mark.parametrize("edit", BAD)
def test_an_edit_that_cannot_be_made_is_told(corner: str, edit: Edit) -> None:
    with pytest.raises(BadEdit) as told:
        apply(corner, [edit])
    assert told.value.path == edit.path
    assert told.value.wrong
    assert told.value.right


def test_a_broken_file_is_not_edited() -> None:
    with pytest.raises(BadEdit):
        apply("x = ", [Edit("x", "1")])


PATHS = [
    "shelf.lower.depth", "shelf.lower.rods.at[0]", "shelf.lower.rod[0]", "shelf.lower.load[1]", "shop",
    "site.rod[0].out", "corner[0].taped[2]", "wall.north.studs[2].left", "wall.west.known.photo",
    "shelf.lower.clearance.up", "obstacle[1]", "doubt.seed", "job.sure[0]", "shelf.lower.core.thick",
    "wall.west.lines[0].line[1]", "shelf[1]", "shelf[1].load[0]", "wall", "shelf.lower.limits",
]  # fmt: skip
VALUES = ['"1"', "2", "[1, 2]", '{ a = 1, b = "x" }', "2026-01-02", None, "[[1], [2]]"]


@settings(deadline=None, max_examples=150)
@given(st.lists(st.tuples(st.sampled_from(PATHS), st.sampled_from(VALUES)), min_size=1, max_size=4))
def test_any_edit_is_made_exactly_or_told(corner: str, pairs: list[tuple[str, str | None]]) -> None:
    edits = [Edit(path, text) for path, text in pairs]
    try:
        made = apply(corner, edits)
    except BadEdit:
        return
    assert tomllib.loads(
        made
    )  # `apply` itself compares it with the edits made on the plain document
    kept = [line for line in corner.split("\n") if line.startswith("#")]
    assert all(line in made for line in kept)


def test_a_revision_is_the_texts_own() -> None:
    # FIPS 180-4 example: SHA-256 of "abc", from memory
    assert (
        revision("abc") == "sha256:ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    )
