"""What was taped across a place, and odd figures of a site measure: a clear question back, nothing guessed."""

from __future__ import annotations

import re

import pytest

from ledgewright.job import Finding, Job, Mark
from ledgewright.job.reading import read

MEASURED = """
[measure]
with = "steel tape"
hands = "helped"
tapes = [["A left", "B 60", "118 1/2"], ["A 12", "B 12", "17 1/8", "laser measure"]]
heights = [["datum", "A 0", 0], ["A 0", "A 48", "-1/16", "spirit level"]]
"""


@pytest.fixture(scope="module")
def stoneware(jobs: tuple[str, ...]) -> str:
    return next(text for text in jobs if 'name = "Stoneware corner"' in text)


@pytest.fixture(scope="module")
def alcove(jobs: tuple[str, ...]) -> str:
    return next(text for text in jobs if 'name = "Reading alcove"' in text)


def good(text: str) -> Job:
    found = read(text, "a.toml", PRICES)
    assert found.job is not None, found.findings
    return found.job


PRICES = 'format = 1\ncurrency = "USD"\n'


def bad(text: str) -> tuple[Finding, ...]:
    found = read(text, "a.toml", PRICES)
    assert found.job is None
    return tuple(f for f in found.findings if f.level != "note")


def test_tapes_and_heights_are_read_with_their_tools(stoneware: str) -> None:
    tapes = good(stoneware + MEASURED).tapes
    assert (tapes.tool, tapes.hands) == ("steel tape", "helped")
    first, second = tapes.across
    # A is hooked on its right end: its left end is its length away, to the left.
    assert (first.start.wall, first.end.wall) == ("A", "B")
    assert first.start.along == pytest.approx(-88.125 * 25.4)
    assert first.end.along == pytest.approx(60 * 25.4)
    assert first.length == pytest.approx(118.5 * 25.4)
    assert (first.tool, second.tool) == (None, "laser measure")
    assert [r.start for r in tapes.rises] == [None, Mark("A", 0.0)]
    assert tapes.rises[1].rise == pytest.approx(-25.4 / 16)
    assert [r.tool for r in tapes.rises] == ["laser line", "spirit level"]


def test_a_corner_may_be_told_by_tapes_between_marks_alone(stoneware: str) -> None:
    lettered = 'tapes = [["corner", "A a", 36], ["corner", "B b", 48], ["A a", "B b", 60]]'
    text = re.sub(r"^taped = .*$", lettered, stoneware, flags=re.MULTILINE)
    across = good(text).tapes.across
    assert [a.start for a in across] == [Mark("A", 0.0), Mark("A", 0.0), Mark("A", None, "a")]
    assert good(text).tapes.corners[0].taped == ()


def test_what_is_not_said_of_the_tape_is_taken_and_listed_once_it_matters(stoneware: str) -> None:
    plain = good(stoneware)
    assert not any(a.path.startswith("measure") for a in plain.assumed)
    bare = good(stoneware + '\n[measure]\ntapes = [["A left", "B 60", "118 1/2"]]\n')
    taken = {a.path: a.value for a in bare.assumed if a.path.startswith("measure")}
    assert taken == {"measure.with": "steel tape", "measure.hands": "alone"}


@pytest.mark.parametrize(
    ("tape", "wrong"),
    [
        ('["C left", "B 60", 118]', "a mark is the id of a wall"),
        ('["A 99", "B 60", 118]', "this mark is not on the wall"),
        ('["A left", "A left", 118]', "both ends of this tape are one mark"),
        ('["A ab", "B 60", 118]', "neither an end, nor one small letter"),
        ('["A 12", "A 60", 36]', "the tape reads"),
        ('["A left", "B 60", 0]', "nothing at all"),
        ('["A left", "B 60"]', "this list has 2 entries"),
        ('["A left", "B 60", 118, "ruler"]', "not one of the choices"),
    ],
)
def test_a_tape_that_says_nothing_is_asked_back_with_its_line(
    stoneware: str, tape: str, wrong: str
) -> None:
    text = f"{stoneware}\n[measure]\ntapes = [{tape}]\n"
    (found,) = bad(text)
    assert wrong in found.wrong
    assert found.line == text.count("\n")
    assert found.path.startswith("measure.tapes")


@pytest.mark.parametrize(
    ("old", "new", "wrong"),
    [
        # Gaps out of order, and two at one place.
        ("[150, 21.5], [300, 23.0]", "[300, 23.0], [150, 21.5]", "comes after"),
        ("[150, 21.5], [300, 23.0]", "[150, 21.5], [150, 23.0]", "two gaps stand at"),
        # A triangle that cannot close: across longer than both ways round.
        ("[285, 1187.0, 1218.5]", "[285, 1187.0, 1518.5]", "cannot meet"),
        # Inches in a file of millimetres: a wall, a triangle, gaps, a stud.
        ("length = 1187", "length = 46.75", "looks odd"),
        ("[285, 1187.0, 1218.5]", "[11.25, 46.75, 48]", "looks odd"),
        (
            re.compile(r"line = \[\[0, 20.0\].*"),
            "line = [[0, 0.75], [6, 0.875], [12, 0.9]]",
            "these gaps end",
        ),
        ("[61.0, 99.0]", "[2.375, 3.875]", "wide"),
    ],
)
def test_odd_figures_of_a_wall_come_back_as_a_question_with_line_and_value(
    alcove: str, old: str | re.Pattern[str], new: str, wrong: str
) -> None:
    text = (
        old.sub(new, alcove, count=1)
        if isinstance(old, re.Pattern)
        else alcove.replace(old, new, 1)
    )
    assert text != alcove
    found = bad(text)
    hit = next(f for f in found if wrong in f.wrong)
    assert hit.line is not None
    held = new if isinstance(old, re.Pattern) else new.split("],", maxsplit=1)[0].strip("[]")
    assert held.split(",")[0].strip("[ ") in text.split("\n")[hit.line - 1]
    assert hit.right


def studs(stoneware: str, new: str) -> str:
    return stoneware.replace('["14 11/16", "16 3/16"]', new, 1)


def test_a_lost_stud_is_refused_and_the_next_best_are_named(stoneware: str) -> None:
    lost = '{ left = "14 11/16", right = "16 3/16", lost = "dead" }'
    (found,) = bad(studs(stoneware, lost))
    assert "its hole is lost" in found.wrong
    assert found.path == "shelf.showroom.rods.at[0]"
    # The next stud's middle: (30 13/16 + 32 5/16) / 2 = 31 9/16, 16 1/8 from 15 7/16.
    assert '"A 31 9/16", 16 1/8" away' in found.right


def test_every_stud_passes_over_a_lost_one(alcove: str) -> None:
    # Four studs behind the shelf; three with one lost.
    assert len(good(alcove).shelves[0].rods) == 4
    gone = alcove.replace("[1112.0, 1150.0]", '{ left = 1112.0, right = 1150.0, lost = "missing" }')
    assert len(good(gone).shelves[0].rods) == 3


def test_a_stud_has_its_own_depth_to_wood_and_the_deepest_stands_for_a_wall_without_one(
    stoneware: str,
) -> None:
    deep = '{ left = "14 11/16", right = "16 3/16", depth_to_wood = "15/16" }'
    wall = good(studs(stoneware, deep)).tapes.walls[0]
    assert wall.depth_to_wood == pytest.approx(21 / 32 * 25.4)
    assert [m.depth for m in wall.members if m.depth] == [pytest.approx(15 / 16 * 25.4)]
    odd = deep.replace("15/16", "1 15/16")
    (found,) = bad(studs(stoneware, odd))
    assert found.path == "wall.A.studs[0].depth_to_wood"
    assert 'is said to lie 1 15/16" behind the face, its wall 21/32"' in found.wrong
    alone = studs(stoneware, deep).replace('depth_to_wood = "21/32"\n', "", 1)
    assert good(alone).tapes.walls[0].depth_to_wood == pytest.approx(15 / 16 * 25.4)


def test_a_twisted_stud_is_in_more_doubt_and_a_badly_twisted_one_refused(stoneware: str) -> None:
    # 3 1/2 deep, 1 1/2 wide, 1/32 behind: its middle lies 3.5 / 1.5 / 32 = 0.073 in aside at the back.
    some = '{ left = "14 11/16", right = "16 3/16", twist = "1/32" }'
    member = next(m for m in good(studs(stoneware, some)).tapes.walls[0].members if m.twist)
    assert member.sd == pytest.approx((1.0 + (3.5 / 1.5 / 32 * 25.4) ** 2) ** 0.5, rel=1e-6)
    much = '{ left = "14 11/16", right = "16 3/16", twist = "1/4" }'
    assert any('lost = "twisted"' in f.right for f in bad(studs(stoneware, much)))


def test_studs_by_pitch_stand_where_the_pitch_says_in_wide_doubt(alcove: str) -> None:
    text = re.sub(
        r"^studs = .*$", "pitch = { first = 61, every = 400 }", alcove, flags=re.MULTILINE
    )
    members = good(text).tapes.walls[1].members
    assert [m.left for m in members] == [61, 461, 861]
    assert {m.sd for m in members} == {12.0}
    assert {m.told for m in members} == {"pitch"}
    many = text.replace("every = 400 }", "every = 400, count = 9 }")
    assert any("holds 3 of these studs" in f.wrong for f in bad(many))
    both = alcove.replace("studs =", "pitch = { first = 61, every = 400 }\nstuds =", 1)
    assert any("one by one and by their pitch" in f.wrong for f in bad(both))
