"""Two mistakes of one file are both told at once, and nothing besides."""

from __future__ import annotations

from itertools import combinations

import pytest

from ledgewright.job.reading import read
from tests.job.test_findings import MISTAKES

Mistake = tuple[str, str, str, str, str, str, str]

HIDES = {
    ("format", "format"): "a file of a newer format may hold anything",
    ("figure", "shelf.lower.depth"): "what is beyond the front hangs on the depth",
    ("missing", "shelf.lower.depth"): "what is beyond the front hangs on the depth",
    ("duplicate", "wall[1].id"): "what stands on a wall whose name is another's",
    ("duplicate", "shelf.lower.load[1].id"): "two loads of one name are written by their numbers",
    ("wall", "corner[0].walls[1]"): "an L without its corner",
    ("unknown key", "shopp"): "keys of a table that nothing is called",
    ("stock", "shelf.lower.rods.stock"): "whether a hole is large enough hangs on the bar",
    ("choice", "shelf.lower.load.pots"): "what a load is weighed in hangs on its kind",
    ("place", "shelf.lower.legs[0]"): "what stands on a leg that does not lie on its wall",
    ("order", "shelf.lower.legs[0]"): "what stands on a leg without a length",
    (
        "choice",
        "wall.north.tape_from",
    ): "where a leg ends hangs on which corner the tape is hooked in",
    ("stud", "wall.north.studs[3]"): "whether a place has wood behind it hangs on all studs",
    ("adhesive", "shelf.lower.rods.adhesive"): "in what cold it cures hangs on what it is",
    ("place", "shelf.lower.rod[0].at"): "how far a rod reaches hangs on which rod it is",
}
"""What nothing can be said behind of some other mistakes, and why."""


def told(text: str) -> set[tuple[str, str]]:
    found = read(text, "corner.toml").findings
    return {(f.code, f.wrong) for f in found if f.level != "note"}


def apart(text: str) -> list[tuple[Mistake, Mistake, str]]:
    """Every two mistakes that can stand in the text together, with that text."""
    found = []
    for pair in combinations(MISTAKES, 2):
        first, second = sorted(pair, key=lambda each: text.find(each[0]))
        i, j = text.find(first[0]), text.find(second[0])
        if i + len(first[0]) <= j:
            between = text[i + len(first[0]) : j]
            both = text[:i] + first[1] + between + second[1] + text[j + len(second[0]) :]
            found.append((first, second, both))
    return found


def hold(corner: str, start: int, step: int) -> None:
    alone = {m: told(corner.replace(m[0], m[1], 1)) for m in MISTAKES}
    for first, second, both in apart(corner)[start::step]:
        found, want = told(both), alone[first] | alone[second]
        hidden = {(m[2], m[3]) for m in (first, second)} & HIDES.keys()
        # Of rods that are too deep one is told: which, hangs on the walls that read.
        found, want = ({each for each in some if each[0] != "embedment"} for some in (found, want))
        assert hidden or found >= want, (first[:4], second[:4], want - found)
        assert hidden or found <= want, (first[:4], second[:4], found - want)


def test_two_mistakes_are_told_at_once(corner: str) -> None:
    hold(corner, 7, 67)


@pytest.mark.soak
@pytest.mark.parametrize("start", range(10))
def test_any_two_mistakes_are_told_at_once(corner: str, start: int) -> None:
    hold(corner, start, 10)


def test_a_shelf_is_judged_behind_a_figure_of_it_that_does_not_read(corner: str) -> None:
    wrong = corner.replace('depth = "10 1/4"', 'depth = "10 1/4 inn"', 1)
    wrong = wrong.replace('embedment = "3"', 'embedment = "3 5/8"', 1)
    wrong = wrong.replace('units = "in"', 'units = "inches"', 1).replace("format = 1\n", "", 1)
    codes = {f.code for f in read(wrong, "corner.toml").findings if f.level == "refuse"}
    assert codes == {"format", "choice", "figure", "embedment"}


def test_what_hangs_on_a_figure_that_does_not_read_is_not_told(corner: str) -> None:
    """A rod that stands 8 1/8 in out of the wall is too long or not by how deep the shelf is."""
    wrong = corner.replace('depth = "10 1/4"', 'depth = "10 1/4 inn"', 1)
    assert {f.code for f in read(wrong, "x").findings if f.level != "note"} == {"figure"}
