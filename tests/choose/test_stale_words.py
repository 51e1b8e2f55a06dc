"""A choice is not what an engineer accepted: his word for the shelf and for its walls is marked as older, and told."""

from __future__ import annotations

import tomllib
from dataclasses import replace

import pytest

from ledgewright.job import edits
from ledgewright.job.reading import read
from ledgewright.plan import _stale
from ledgewright.sheets.cautions import _accepted
from ledgewright.sheets.chosen_words import accepted_note
from tests import jobs
from tests.jobs import EXAMPLES

AGAINST = (
    "a word covers what it was given for (rule of the project)",
    "the file read back",
    "exact",
)

WORD = 'engineer = "E, letter of 2026-11-10"'


def text_of(name: str, *, word: bool) -> str:
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    return text.replace("bearing = ", f"{WORD}, bearing = ") if word else text


@pytest.mark.parametrize("word", [True, False])
def test_the_walls_of_a_shelf_and_no_others_are_marked(*, word: bool) -> None:
    text = text_of("reading-alcove", word=word)
    job = read(text, "alcove.toml", None).job
    assert job is not None
    (shelf,) = job.shelves
    made = tuple(_stale(job, shelf.id))
    new = tomllib.loads(edits.apply(text, made))
    marked = {w["id"] for w in new["wall"] if w.get("known", {}).get("engineer_stale")}
    assert marked == ({leg.wall for leg in shelf.legs} if word else set())
    assert len(new["wall"]) > len(shelf.legs)
    assert new["shelf"][0]["accepted"]["stale"] is True
    notes = accepted_note(job, shelf.id)
    assert sum("E, letter of 2026-11-10" in note for note in notes) == len(marked)


def test_what_is_marked_is_an_open_item_when_it_is_read() -> None:
    text = text_of("reading-alcove", word=True).replace(WORD, f"{WORD}, engineer_stale = true")
    job = read(text, "alcove.toml", None).job
    assert job is not None
    told = [item for item in job.open_items if item.path.endswith("known.engineer_stale")]
    assert told
    assert all("ask for that word anew" in item.costs for item in told)


def test_what_rests_on_the_word_for_a_wall_stands_among_the_cautions() -> None:
    """Only what passes by that word, on that wall; a wall without one is not named."""
    plan = jobs.plan("reading-alcove")
    (design,) = plan.designs
    split = next(row for row in design.holds.checks if row.family == "stud.split")
    assert split.place is not None
    signed = replace(split, reason="own model; accepted by E")
    rows = tuple(signed if row is split else row for row in design.holds.checks)
    walls = tuple(replace(w, known=replace(w.known, engineer="E")) for w in plan.job.tapes.walls)
    job = replace(plan.job, tapes=replace(plan.job.tapes, walls=walls))
    holds = replace(design.holds, checks=rows)
    changed = replace(plan, job=job, designs=(replace(design, holds=holds),))
    told = [each.text for each in _accepted(changed) if each.text.startswith("Wall ")]
    word = f"Wall {job.tapes.called(split.place.wall)}, on the word of E alone: {split.title}. "
    assert told == [f"{word}Do not build it without that letter in your hands."]
    assert not any(each.text.startswith("Wall ") for each in _accepted(plan))
