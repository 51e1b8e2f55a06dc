"""A leg with a depth of its own in the job file: what is read of it, and what is refused where it is too shallow."""

from __future__ import annotations

import re

import pytest

from ledgewright.job.model import Even, Job
from ledgewright.job.reading import read
from tests.job.conftest import EXAMPLES

IN = 25.4  # mm, international yard and pound agreement, 1959
LEG = '{ wall = "north", to = "74 1/2" }'
"""The leg on the north wall, on which nothing stands 8 1/2 out but the load test's weight; the shelf is 10 1/4 deep."""


def deep(corner: str, depth: str, leg: str = LEG) -> str:
    assert leg in corner
    return corner.replace(leg, leg.replace(" }", f', depth = "{depth}" }}'))


def sound(text: str) -> Job:
    found = read(text, "corner.toml")
    assert found.job is not None, found.findings
    return found.job


def test_a_leg_may_be_less_deep_than_its_shelf(corner: str) -> None:
    spec = sound(deep(corner, "9 1/2")).shelves[0]
    assert [leg.depth for leg in spec.legs] == [None, pytest.approx(9.5 * IN)]
    assert spec.depths == pytest.approx((10.25 * IN, 9.5 * IN))
    assert (spec.deep("west"), spec.deep("north")) == pytest.approx((10.25 * IN, 9.5 * IN))


def test_the_shallower_leg_says_how_far_the_front_may_drop(corner: str) -> None:
    """Depth/150 and depth/100 of EN 1995-1-1 T7.2's band, the lesser of both legs, towards safety."""
    text = corner.replace('drop_today = "1/16"\n', "").replace('drop_long = "1/8"\n', "")
    text = text.replace("[shelf.limits]\n", "")
    limits = sound(deep(text, "9")).demands[0].limits
    assert limits.drop_today == pytest.approx(9 * IN / 150)
    assert limits.drop_long == pytest.approx(9 * IN / 100)
    other = deep(text, "9", '{ wall = "west", to = "43 5/8" }')
    assert sound(other).demands[0].limits == limits


@pytest.mark.parametrize(("depth", "loads"), [("9 1/2", 1), ("5", 2)])
def test_contents_nobody_named_are_taken_leg_by_leg(corner: str, depth: str, loads: int) -> None:
    """2.4 kPa over the depth, not less than 0.35 kN/m (rule of the program): under 146 mm the second is more."""
    start, end = corner.index("[[shelf.load]]"), corner.index('[[shelf.load]]\nkind = "accident"')
    text = deep(corner[:start] + corner[end:], depth)
    text = re.sub(r'projection = "[^"]*"', 'projection = "3 1/2"', text)
    text = re.sub(r"\n(rod|test) = .*", "", text)
    found = [load for load in sound(text).demands[0].loads if isinstance(load, Even)]
    assert len(found) == loads
    for load, deep_mm in zip(found, (10.25 * IN, 5 * IN), strict=False):
        line = load.per_length if load.per_length is not None else (load.pressure or 0) * deep_mm
        assert line >= 0.35 - 1e-9
        assert line == pytest.approx(max(0.35, 0.0024 * deep_mm))


@pytest.mark.parametrize(
    ("depth", "path", "words"),
    [
        ("8", "projection", 'the leg on "north" is 8" deep'),
        ("7 1/2", "put", 'in front of a shelf 7 1/2" deep'),
        ("60", "depth", "looks odd"),
    ],
)
def test_what_does_not_fit_a_shallow_leg_is_told_with_its_depth(
    corner: str, depth: str, path: str, words: str
) -> None:
    text = re.sub(r'projection = "[^"]*"', 'projection = "4"', corner)
    text = corner if path == "projection" else re.sub(r"\nrod = .*", "", text)
    said = [f for f in read(deep(text, depth), "corner.toml").findings if f.level != "note"]
    assert any(path in f.path and words in f.wrong for f in said), said


def test_a_thing_stands_within_its_own_leg(corner: str) -> None:
    """Its middle is 6 out: that is past the front of a leg 5 1/2 deep, whatever the shelf's depth is."""
    west = '{ wall = "west", to = "43 5/8" }'
    text = re.sub(r'projection = "[^"]*"', 'projection = "4"', corner)
    said = read(deep(text, "5 1/2", west), "corner.toml").findings
    assert any("past the front edge" in f.wrong and '5 1/2" deep' in f.wrong for f in said)
    assert not any(
        "past the front edge" in f.wrong for f in read(deep(text, "5 1/2"), "corner.toml").findings
    )


def test_a_front_is_not_set_up_round_a_corner(corner: str) -> None:
    """Geometry: no plane rises from two walls that meet to both fronts and stays level along both."""
    text = corner.replace("scribe_allowance =", 'nose_up = "1/16"\nscribe_allowance =', 1)
    assert text != corner
    said = [f for f in read(text, "corner.toml").findings if f.level == "refuse"]
    assert [f.code for f in said] == ["nose up"]
    assert "round a corner" in said[0].wrong


def test_rods_tilt_no_more_for_a_front_set_up_than_their_holes_let_them() -> None:
    """Geometry: hole less bar over the embedment, times the depth."""
    text = (EXAMPLES / "reading-alcove.toml").read_text(encoding="utf-8")
    spec = sound(text).shelves[0]
    rod = spec.rods[0]
    room = (rod.hole - rod.bar.height) / rod.embedment * spec.depth
    for up, wrong in ((room - 0.5, False), (room + 1.0, True)):
        asked = text.replace("sections = 1", f"sections = 1\nnose_up = {up:.1f}", 1)
        said = [f for f in read(asked, "alcove.toml").findings if f.level == "refuse"]
        assert [f.code for f in said] == ["nose up"] * wrong
        assert not wrong or ("cannot tilt" in said[0].wrong and "at most" in said[0].right)
