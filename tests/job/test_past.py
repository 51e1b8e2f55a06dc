"""What stands on the overhang of a shelf past an outside corner, as its wall's tape reads it."""

from __future__ import annotations

from pathlib import Path

import pytest

from ledgewright.job import Thing
from ledgewright.job.reading import Read, read

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "stoneware-corner-first-try.toml"

TEST = """
[[site.test]]
put = [["9 lb", "A {at}", "4"]]
wait = "10 min"
read = [["A {at}", "0.01"]]
with = "gauge"
"""


def outside(corner: str, thing: str, *, test: str = "") -> Read:
    """The showroom's walls turned about, 10 1/2 deep with edging of 3/4, both hooked in the corner."""
    text = EXAMPLE.read_text(encoding="utf-8")
    before, _, after = text.partition("[[obstacle]]")
    text = before + after[after.index("[[shelf]]") :]
    turn, angle = corner.split()
    for old, new in (
        ('turn = "inside"', f'turn = "{turn}"'),
        (
            'taped = [["48", "36", "60 9/16"], ["60", "45", "75 11/16"]]',
            f'angle = "{angle} deg"',
        ),
        ('at = "A 41"', f'at = "{thing}"'),
    ):
        assert text.count(old) == 1
        text = text.replace(old, new)
    return read(text + (TEST.format(at=test) if test else ""), "outside.toml")


@pytest.mark.parametrize(
    ("corner", "at", "stands"),
    [
        ("outside 90", "A -9 11/16", True),
        ("outside 90", "A -9 13/16", False),
        ("outside 60", "A -17 3/8", True),
        ("outside 60", "A -17 1/2", False),
        ("outside 90", "B -9 11/16", True),
        ("inside 90", "A -1", False),
    ],
)
def test_a_thing_stands_past_the_corner_as_far_as_the_shelf(
    corner: str, at: str, *, stands: bool
) -> None:
    """By hand: 10.5 (1 + cos t)/sin t less 0.75 of edging: 9.75 at 90 degrees, 10.5 sqrt(3) - 0.75 = 17.44 at 60."""
    found = outside(corner, at)
    assert (found.job is not None) is stands, found.findings
    if found.job is None:
        assert any("not on the wall" in each.wrong for each in found.findings)
    else:
        urn = next(each for each in found.job.demands[0].loads if isinstance(each, Thing))
        # The tape of A runs to the left from the corner, that of B to the right.
        assert (urn.along > 0) is at.startswith("A")


@pytest.mark.parametrize(
    ("at", "shelf"), [("-8 23/32", True), ("-11 3/16", True), ("-11 5/16", False)]
)
def test_a_load_test_is_read_past_the_corner_and_no_further(at: str, *, shelf: bool) -> None:
    """By hand, square: the shelf ends 10 1/2 past the corner; its edging of 3/4 over again for bows: 11 1/4."""
    found = outside("outside 90", "A 41", test=at)
    assert (found.job is not None) is shelf, found.findings
    if found.job is not None:
        (step,) = found.job.site.tests
        assert step.puts[0].along == step.reads[0].along > 0
