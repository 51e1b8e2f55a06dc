"""The letter of a wall and its own name never say two things of it.

Who drills goes by the letter on the card, and is warned by the name in the cautions (what happened: a kitchen whose
left wall was named "B" and whose right one "A" had each caution on the other's sheet). The cases are written out by
hand.
"""

from __future__ import annotations

import string
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledgewright.job.marks import called, marks, own_mark
from ledgewright.job.reading import read

AGAINST = (
    "Common practice: a card and what is said of it name one wall; letters and names written out by hand.",
)

LETTERS = string.ascii_uppercase


@pytest.mark.parametrize(
    ("names", "wanted"),
    [
        (("sink", "range"), "AB"),
        (("B", "A"), "BA"),
        (("b", "a"), "BA"),
        (("B", "C", "A"), "BCA"),
        (("west", "A"), "BA"),
        (("left", "B", "right"), "ABC"),
        (("wall B", "wall-a"), "BA"),
        (("", "A"), "BA"),
        (("A1", "Ä", "A"), "BCA"),
    ],
)
def test_a_name_that_is_a_letter_keeps_it(names: tuple[str, ...], wanted: str) -> None:
    assert "".join(marks(names)) == wanted


@given(
    st.lists(
        st.sampled_from([*LETTERS, *LETTERS.lower(), "wall C", "wall_d", "sink", "", "A1", "ab"]),
        max_size=len(LETTERS),
        unique=True,
    )
)
def test_no_letter_stands_twice_nor_is_another_walls_name(names: list[str]) -> None:
    found = marks(names)
    assert len(found) == len(names) == len(set(found))
    assert set(found) <= set(LETTERS)
    if len({n.upper()[-1:] for n in names if own_mark(n)}) == sum(1 for n in names if own_mark(n)):
        for name, mark in zip(names, found, strict=True):
            assert own_mark(name) in (None, mark)


def test_a_wall_is_told_by_its_letter_with_its_name_where_that_is_another() -> None:
    assert called("A", "sink") == "A (sink)"
    assert called("B", "b") == "B"
    assert called("B", "wall B") == "B"
    # Never so in a job that is read; if it were, both are told.
    assert called("A", "B") == "A (B)"


ALCOVE = (Path(__file__).resolve().parents[2] / "examples" / "reading-alcove.toml").read_text()


def renamed(text: str, names: tuple[str, str, str]) -> str:
    for old, new in zip(("cheek", "back", "return"), ("\0", "\1", "\2"), strict=True):
        text = text.replace(f'"{old}', f'"{new}')
    for new, name in zip(("\0", "\1", "\2"), names, strict=True):
        text = text.replace(new, name)
    return text.replace(f'{names[1]} = "tight"', 'back = "tight"')


def test_rods_bear_the_letter_of_their_wall() -> None:
    job = read(renamed(ALCOVE, ("B", "C", "A")), "alcove.toml").job
    assert job is not None
    assert [(wall.id, wall.mark) for wall in job.tapes.walls] == [
        ("B", "B"),
        ("C", "C"),
        ("A", "A"),
    ]


def test_two_names_for_one_letter_are_refused() -> None:
    found = read(renamed(ALCOVE, ("a", "back", "A")), "alcove.toml").findings
    wrong = [f for f in found if f.level == "refuse"]
    assert [f.wrong for f in wrong] == ['"A" and "a" are both wall A']
