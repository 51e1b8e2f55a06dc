"""The plan of a shelf in sections with all of them on it, against the figures of its job file and the trade's ways."""

from __future__ import annotations

from functools import lru_cache
from itertools import combinations

import pytest
from shapely.geometry import Polygon
from shapely.ops import unary_union

from ledgewright.draw import Drawing, Polyline, Text, lay, size, substituted, text_ring
from ledgewright.job.reading import read
from ledgewright.memo import Memo
from ledgewright.plan import Plan, looked
from ledgewright.sheets import pictures, shopfloor
from ledgewright.sheets.say import Say
from tests import jobs

WIDTH = 187.9


@lru_cache(maxsize=2)
def laid(name: str) -> Plan:
    if name == "corner":
        return jobs.plan("stoneware-corner")
    text = (
        (jobs.EXAMPLES / "record-wall.toml")
        .read_text(encoding="utf-8")
        .replace("sections = 1", "sections = 2", 1)
    )
    made = read(text, "job.toml").job
    assert made is not None
    return looked(made, Memo())


@lru_cache(maxsize=2)
def whole(name: str) -> Drawing:
    plan = laid(name)
    ((_, view),) = pictures.whole_plans(plan, Say.of(plan.job.meta), WIDTH)
    return view()


def texts(name: str) -> list[str]:
    return [flat.text for flat in lay(whole(name)) if isinstance(flat, Text)]


@pytest.mark.parametrize("name", ["corner", "straight"])
def test_it_is_legible_and_goes_on_its_paper(name: str) -> None:
    drawing = whole(name)
    rings = [(f.text, Polygon(text_ring(f))) for f in lay(drawing) if isinstance(f, Text)]
    assert not [
        (a, b) for (a, p), (b, q) in combinations(rings, 2) if p.intersection(q).area > 0.05
    ]
    assert size(drawing)[0] <= WIDTH
    assert size(drawing)[1] <= pictures.WHOLE
    assert not substituted(drawing)


@pytest.mark.parametrize(("name", "rods"), [("corner", 7), ("straight", 8)])
def test_every_rod_and_every_section_is_on_it_once(name: str, rods: int) -> None:
    """From the job files: 7 and 8 rods, two sections each."""
    marks = [t for t in texts(name) if len(t) == 2 and t[1].isdigit()]
    assert len(marks) == len(set(marks)) == rods
    assert sorted(t for t in texts(name) if t.startswith("SECTION")) == ["SECTION 1", "SECTION 2"]


def test_rods_are_dimensioned_from_the_hook_of_each_tape() -> None:
    """Each to the middle of its stud's two taped edges: 14 11/16 and 16 3/16 make 15 7/16, and so on."""
    said = {t.replace("\u00a0", " ") for t in texts("corner")}
    for mark, at in (("A1", "15 7/16"), ("A4", "63 7/8"), ("B1", "14 3/16"), ("B3", "46 1/16")):
        assert f"{mark}  {at}" in said


def test_the_joint_is_dimensioned_once() -> None:
    """Half way between the two rods nearest the middle, by docs/job-file.md: 46 1/16 and 62 5/16 make 54 3/16."""
    said = [t.replace("\u00a0", " ") for t in texts("straight") if t.startswith("joint")]
    assert said == ["joint  54 3/16"]


@pytest.mark.parametrize("name", ["corner", "straight"])
def test_no_section_stands_on_it_as_an_obstacle_of_the_other(name: str) -> None:
    """The first section hangs before the second goes on, and is an obstacle to it; here it is the shelf."""
    assert not [t for t in texts(name) if "section" in t]


def test_the_facts_tell_the_whole_of_it() -> None:
    """From the job file: on wall B it ends 50 1/8 from the corner; depth 10 1/2, top at 54 3/8."""
    plan = laid("corner")
    sheet = shopfloor.whole_plan_sheet(plan, plan.designs, None)
    facts = {f.label: f.value for f in sheet.facts}
    assert facts["Along wall B"] == '50 1/8"'
    assert facts["Depth"] == '10 1/2"'
    assert facts["Top face"] == '54 3/8"'


def test_both_sections_lie_where_the_wall_has_them() -> None:
    """Drawn together they touch along the joint and nowhere overlap."""
    closed = [
        i
        for i in whole("corner").items
        if isinstance(i, Polyline) and i.layer == "cut" and i.closed
    ]
    rings = [Polygon(i.points) for i in closed]
    big = sorted(rings, key=lambda r: -r.area)[:2]
    assert big[0].intersection(big[1]).area < 1.0
    assert unary_union(big).buffer(1.0).geom_type == "Polygon"


def test_rods_of_a_wall_are_numbered_once_over_all_sections_from_the_hook() -> None:
    """Common practice: on one wall no two rods bear one number, whichever section hangs first."""
    at = {
        rod.mark: design.room.wall(rod.wall).taped(
            design.room.wall(rod.wall).figures(rod.point(rod.free))[0]
        )
        for design in laid("straight").designs
        for rod in design.frame.rods
    }
    assert sorted(at, key=lambda mark: at[mark]) == [f"B{k}" for k in range(1, 9)]
