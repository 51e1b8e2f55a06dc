"""Readings of rods as set: what cannot be is asked back or refused; an answer in `sure` lets an odd one pass."""

from __future__ import annotations

import pytest

from ledgewright.job.model import Finding, Job
from ledgewright.job.reading import read

IN = 25.4  # mm, international yard and pound agreement, 1959
ROD = 'rod = [{ at = "west 22 1/2", wall = ["22 7/16", "55 3/32"], tip = ["22 1/2", "55 1/16"], out = "8 1/16" }]'


def heard(text: str, new: str, sure: str = "") -> tuple[Job | None, tuple[Finding, ...]]:
    """The fixture with another reading; of what is found, all but notes."""
    assert ROD in text
    changed = text.replace(ROD, new, 1)
    if sure:
        changed = changed.replace("sure = [", f"sure = [{sure}, ", 1)
    found = read(changed, "corner.toml")
    return found.job, tuple(f for f in found.findings if f.level != "note")


def test_a_reading_goes_to_its_rod_and_counts_from_the_tape_s_end(corner: str) -> None:
    job, wrong = heard(corner, ROD)
    assert wrong == ()
    assert job is not None
    (read_one,) = [rod for rod in job.shelves[0].rods if rod.as_set]
    assert read_one.as_set is not None
    # Wall west is taped from its right end: figures are negative inside the program.
    assert read_one.as_set.wall == pytest.approx((-22.4375 * IN, 55.09375 * IN))
    assert read_one.as_set.tip == pytest.approx((-22.5 * IN, 55.0625 * IN))
    assert read_one.as_set.out == pytest.approx(8.0625 * IN)
    assert read_one.stick_out == read_one.as_set.out
    assert not job.shelves[0].as_set


def test_some_rods_read_and_others_not_is_said_and_stops_nothing(corner: str) -> None:
    notes = [f for f in read(corner, "corner.toml").findings if f.code == "as set"]
    assert [f.path for f in notes] == ["site.rod"]
    assert "1 of " in notes[0].wrong
    assert "north.s1" in notes[0].wrong
    assert "as drawn until every rod is read" in notes[0].right


ODD = [
    # Wrong unit: 570 mm (22 7/16 in) in a file of inches.
    ('wall = ["22 7/16",', 'wall = ["570 in",', "wall[0]", "570 mm"),
    ('"55 3/32"]', '"4 1/8"]', "wall[1]", "above the datum"),
    # 1,399 mm is 55 3/32 in.
    ('"55 3/32"]', '"1399 in"]', "wall[1]", "1399 mm"),
    # Counted from the other end of a wall 61 3/8 long: 61 3/8 - 22 1/2.
    ('wall = ["22 7/16",', 'wall = ["38 7/8",', "wall[0]", "from the other end"),
    # Outside the stud of 21 3/4 to 23 1/4.
    ('wall = ["22 7/16",', 'wall = ["23 1/2",', "wall[0]", "outside its stud"),
    # A tip an inch and a half under the wall on eight inches: ten degrees.
    ('tip = ["22 1/2", "55 1/16"]', 'tip = ["22 1/2", "53 19/32"]', "tip[1]", "below"),
    ('tip = ["22 1/2", "55 1/16"]', 'tip = ["24", "55 1/16"]', "tip[0]", "aside"),
    ('out = "8 1/16"', 'out = "8 3/4"', "out", "drawn with"),
]


@pytest.mark.parametrize(("old", "new", "path", "told"), ODD)
def test_an_odd_reading_is_a_question_with_its_place(
    corner: str, old: str, new: str, path: str, told: str
) -> None:
    spoilt = ROD.replace(old, new, 1)
    assert spoilt != ROD
    job, found = heard(corner, spoilt)
    assert job is None
    asked = {f.path: f for f in found}
    assert f"site.rod[0].{path}" in asked
    finding = asked[f"site.rod[0].{path}"]
    assert finding.level == "question"
    assert told in finding.wrong
    assert finding.line is not None


def test_who_stands_by_an_odd_reading_is_believed(corner: str) -> None:
    spoilt = ROD.replace('out = "8 1/16"', 'out = "8 3/4"')
    job, found = heard(corner, spoilt, sure='"site.rod[0].out"')
    assert found == ()
    assert job is not None


REFUSED = [
    # Two rods at one place.
    (ROD[:-1] + ", " + ROD[len("rod = [") :], "duplicate", "read twice"),
    # Twelve inches out of a rod that is 3 + 8 1/8 long beyond the board.
    (ROD.replace('"8 1/16"', '"11 1/4"'), "reading", "left in the wood"),
    # A tip nine inches aside of a rod eight inches long.
    (ROD.replace('tip = ["22 1/2",', 'tip = ["31 1/2",'), "reading", "further aside"),
    (ROD.replace('"55 3/32"]', '"-55 3/32"]'), "negative", "negative"),
    (ROD.replace('"8 1/16"', '"-8 1/16"'), "negative", "negative"),
    (ROD.replace('at = "west 22 1/2"', 'at = "west 30"'), "place", "no rod of any shelf"),
    (ROD.replace('at = "west 22 1/2"', 'at = "east 30"'), "place", "id of a wall"),
    (ROD.replace('"8 1/16"', '"about 8"'), "figure", ""),
]


@pytest.mark.parametrize(("new", "code", "told"), REFUSED)
def test_a_reading_that_cannot_be_is_refused(corner: str, new: str, code: str, told: str) -> None:
    assert new != ROD
    job, found = heard(corner, new)
    assert job is None
    assert code in [f.code for f in found if f.level == "refuse"]
    assert any(told in f.wrong for f in found)


# 3 in the wood, 21/32 of board and 8 1/8 out: 11 25/32 of steel.
BONDED = (
    'bonded = { stock = "round 5/8 1018", length = "11 25/32", embedment = "3", hole = "3/4", '
    'adhesive = "epoxy thickened" }'
)
SAID = ROD.replace(" }]", f", {BONDED} }}]")


def test_what_was_bonded_is_kept_with_the_reading_and_an_old_reading_has_none(corner: str) -> None:
    job, wrong = heard(corner, SAID)
    assert wrong == ()
    assert job is not None
    (found,) = [rod.as_set.bonded for rod in job.shelves[0].rods if rod.as_set]
    assert found is not None
    assert (found.bar.name, found.adhesive.name) == ("round 5/8 1018", "epoxy thickened")
    lengths = (found.length, found.embedment, found.hole)
    assert lengths == pytest.approx((11.78125 * IN, 3 * IN, 0.75 * IN))
    old, _ = heard(corner, ROD)
    assert old is not None
    assert [rod.as_set.bonded for rod in old.shelves[0].rods if rod.as_set] == [None]


EDITED = [
    # Each a change of the job after the cure: the key it is told by, as it was bonded, as the job has it then.
    ('stock = "round 5/8 1018"', 'stock = "round 5/8 304"', "stock", "5/8 1018", "5/8 304"),
    ('embedment = "3"', 'embedment = "3 1/4"', "embedment", '"3"', '"3 1/4"'),
    ('hole = "3/4"', 'hole = "11/16"', "hole", '"3/4"', '"11/16"'),
    ('adhesive = "epoxy thickened"', 'adhesive = "epoxy slow"', "adhesive", "thickened", "slow"),
    ('projection = "8 1/8"', 'projection = "8 1/4"', "length", '"11 25/32"', '"11 29/32"'),
    ('depth_to_wood = "21/32"', 'depth_to_wood = "13/16"', "length", '"11 25/32"', '"11 15/16"'),
]


@pytest.mark.parametrize(("old", "new", "key", "was", "now"), EDITED, ids=lambda text: text[:20])
def test_a_job_edited_after_its_rods_were_bonded_is_refused_with_both_values(
    corner: str, old: str, new: str, key: str, was: str, now: str
) -> None:
    """Steel in the wall does not change by an edit; a length, though it has no key, is what it was sawn to."""
    assert old in corner
    job, found = heard(corner.replace(old, new, 1), SAID)
    assert job is None
    (told,) = [f for f in found if f.code == "bonded"]
    assert (told.level, told.path) == ("refuse", "site.rod[0].bonded")
    assert told.line == 1 + corner[: corner.index("rod = [{ at")].count("\n")
    bonded, _, said = told.wrong.partition("; the job now has ")
    assert f"{key} = " in bonded
    assert was.strip('"') in bonded
    assert now.strip('"') in said
    assert "new rod" in told.right
    # Of what is as it was nothing is told.
    assert bonded.count(" = ") == 1
    # Without what was bonded nothing stops it: the answers ask then.
    assert not [f for f in heard(corner.replace(old, new, 1), ROD)[1] if f.code == "bonded"]


def test_figures_copied_off_a_card_are_the_same_rod_and_the_next_bit_is_not(corner: str) -> None:
    """Cards round to 1/32 in; bits come in 1/64 in and in half millimetres."""
    rounded = SAID.replace('"11 25/32"', '"11 13/16"').replace(
        'embedment = "3"', '"embedment" = "2 63/64"'
    )
    assert rounded != SAID
    assert heard(corner, rounded)[1] == ()
    for hole in ("49/64", "47/64", "19.5 mm"):
        spoilt = SAID.replace('hole = "3/4"', f'hole = "{hole}"')
        assert [f.code for f in heard(corner, spoilt)[1]] == ["bonded"], hole


def test_half_of_what_was_bonded_is_asked_for(corner: str) -> None:
    spoilt = SAID.replace(', adhesive = "epoxy thickened"', "")
    found = heard(corner, spoilt)[1]
    assert [(f.level, f.path) for f in found] == [("refuse", "site.rod[0].bonded.adhesive")]


def test_a_rod_taken_out_or_moved_while_its_reading_stands_is_told_what_becomes_of_it(
    corner: str,
) -> None:
    without = corner.replace('at = ["west 22 1/2", ', "at = [", 1)
    without = without.replace('at = ["west 22 1/2"]', 'at = ["west by the switch"]')
    job, found = heard(without, SAID)
    assert job is None
    (told,) = [f for f in found if f.path == "site.rod[0].at"]
    assert "no rod of any shelf" in told.wrong
    assert "saw it off" in told.right


STEP = 'test = [{ put = [["34 lb", "north 40", "8"]], wait = "10 min", read = [["north 40", "3/64"]] }]'


def stepped(text: str, new: str) -> tuple[Job | None, tuple[Finding, ...]]:
    """The fixture with another step of its load test."""
    assert STEP in text
    found = read(text.replace(STEP, new, 1), "corner.toml")
    return found.job, tuple(f for f in found.findings if f.level != "note")


def test_a_step_of_a_load_test_finds_its_shelf_and_its_places(corner: str) -> None:
    job, wrong = stepped(corner, STEP)
    assert wrong == ()
    assert job is not None
    (step,) = job.site.tests
    assert step.total == pytest.approx(34 * 0.45359237)  # kg, the pound of 1959
    assert (step.shelf, step.tool) == ("lower", "rule")
    assert step.hours == pytest.approx(1 / 6)
    assert (step.reads[0].along, step.reads[0].down) == pytest.approx((40 * IN, 3 / 64 * IN))


STEPS = [
    (STEP.replace('"3/64"', '"3 in"'), "question", "no shelf any more"),
    (STEP.replace('"3/64"', '"-1/16"'), "question", "down counts plus"),
    (STEP.replace('"8"]', '"11"]'), "refuse", "in front of a shelf"),
    (
        STEP.replace('[["north 40", "3/64"]]', '[["north 80", "3/64"]]'),
        "refuse",
        "no shelf has all",
    ),
    (STEP.replace('"34 lb"', '"34"'), "refuse", ""),
    (STEP.replace('[["north 40", "3/64"]]', "[]"), "refuse", ""),
    (STEP.replace("{ put", '{ shelf = "upper", put'), "refuse", "has not all"),
]


@pytest.mark.parametrize(("new", "level", "told"), STEPS)
def test_a_step_that_looks_wrong_is_asked_back_or_refused(
    corner: str, new: str, level: str, told: str
) -> None:
    assert new != STEP
    job, found = stepped(corner, new)
    assert job is None
    assert any(f.level == level and told in f.wrong for f in found), found
