"""Every format that ever was is read for ever; newer ones are refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from ledgewright.job.migrations import CURRENT, STEPS, Document, WrongFormat, migrate
from ledgewright.job.reading import read

FIXTURES = Path(__file__).with_name("fixtures")


@pytest.mark.parametrize("number", range(1, CURRENT + 1))
def test_a_file_of_every_format_is_read(number: int) -> None:
    text = (FIXTURES / f"format-{number}.toml").read_text(encoding="utf-8")
    assert f"\nformat = {number}\n" in text
    assert read(text, "old.toml").job is not None


def test_there_is_a_step_from_every_older_format() -> None:
    assert set(STEPS) == set(range(1, CURRENT))


def rename(document: Document) -> Document:
    document["breadth"] = document.pop("width")
    return document


def double(document: Document) -> Document:
    document["breadth"] = 2 * int(str(document["breadth"]))
    return document


def test_steps_are_taken_in_order_on_a_copy() -> None:
    old: Document = {"format": 1, "width": 4}
    made = migrate(old, steps={1: rename, 2: double}, current=3)
    assert made.document == {"format": 3, "breadth": 8}
    assert made.written_in == 1
    assert old == {"format": 1, "width": 4}
    assert (
        migrate({"format": 2, "breadth": 5}, steps={1: rename, 2: double}, current=3).document[
            "breadth"
        ]
        == 10
    )


@pytest.mark.parametrize(
    ("document", "wrong"),
    [({}, "missing"), ({"format": 9}, "newer"), ({"format": 10**400}, "huge"), ({"format": 0}, "whole number"),
     ({"format": "1"}, "whole number"), ({"format": True}, "whole number"), ({"format": 1.0}, "whole number")],
)  # fmt: skip
def test_a_format_that_cannot_be_read_is_told(document: Document, wrong: str) -> None:
    with pytest.raises(WrongFormat) as told:
        migrate(document)
    assert wrong in told.value.wrong
    assert told.value.right


def test_a_gap_in_the_steps_is_told() -> None:
    with pytest.raises(WrongFormat):
        migrate({"format": 1}, steps={2: double}, current=3)
