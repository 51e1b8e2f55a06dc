"""What a carpenter, a desk user and an engineer stumbled on, each by hand or by the trade's ways."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

import pytest

from ledgewright.job import Job
from ledgewright.job.reading import read
from ledgewright.judge import Design
from ledgewright.layout import end_fits
from ledgewright.memo import Memo
from ledgewright.plan import Plan, looked
from ledgewright.sheets.at_home import at_home
from ledgewright.sheets.cautions import cautions
from ledgewright.sheets.forms import blocking_sheet
from ledgewright.sheets.model import FormSheet
from ledgewright.sheets.say import Say
from ledgewright.sheets.shopfloor import set_back
from ledgewright.sheets.views.common import shown, stud_ring
from ledgewright.sheets.walls import drill_card
from ledgewright.site import Drill
from ledgewright.survey import room
from tests import jobs


def job(name: str, *changes: tuple[str, str]) -> Job:
    text = (jobs.EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    for was, now in changes:
        assert was in text
        text = text.replace(was, now)
    found = read(text, "job.toml")
    assert found.job is not None, found.findings
    return found.job


@cache
def filled() -> Plan:
    return looked(
        job("reading-alcove", ("\nend_gap = 1", '\nends = "filler"\nend_gap = 12')), Memo()
    )


def test_filler_strips_that_a_job_orders_are_parts() -> None:
    """Common practice: one for each end at a wall, as long as the shelf is deep, as high as it is thick, 6 mm over."""
    plan = filled()
    (design,) = plan.designs
    strips = [part for part in design.parts if part.kind == "filler"]
    ends = [end for end in end_fits(design.room, design.spec) if end.how == "filler"]
    assert [part.letter for part in strips] == [f"F{k}" for k in range(1, len(ends) + 1)]
    assert strips
    for part, end in zip(strips, ends, strict=True):
        assert part.of == design.spec.edging.name
        assert part.finished == pytest.approx((285.0, design.spec.thick, max(end.back, end.front)))
        assert part.rough[2] - part.finished[2] == pytest.approx(6.0)
        assert min(end.back, end.front) >= 12.0 - 1e-6


def test_the_fitting_says_how_they_go_in() -> None:
    plan = filled()
    heads = [note.head for note in at_home(plan.designs[0], Say.of(plan.job.meta))]
    assert heads[-1] == "Then the filler strips"
    bare = looked(jobs.job("reading-alcove"), jobs.MEMO)
    heads = [note.head for note in at_home(bare.designs[0], Say.of(bare.job.meta))]
    assert "Then the filler strips" not in heads


@pytest.mark.parametrize(("angle", "turn"), [("90.5 deg", "outside"), ("269.5 deg", "outside")])
def test_an_outside_corner_takes_its_angle_either_way_round(angle: str, turn: str) -> None:
    """Geometry: 90.5 over the walls are 269.5 through the room."""
    taped = 'taped = [["48", "36", "60 9/16"], ["60", "45", "75 11/16"]]'
    found = job(
        "stoneware-corner", (taped, f'angle = "{angle}"'), ('turn = "inside"', f'turn = "{turn}"')
    )
    (corner,) = room(found.tapes, 1370.0).corners
    assert corner.angle == pytest.approx(4.70366, abs=1e-4)  # 269.5 degrees in radians


@pytest.mark.parametrize(("name", "back"), [("stoneware-corner", 12.7), ("reading-alcove", 0.0)])
def test_the_core_map_says_how_far_in_from_the_back_the_core_stands(name: str, back: float) -> None:
    """1/8 in (common practice) behind what scribing may take: 1/2 in on the corner, nothing of a caulked back."""
    plan = looked(jobs.job(name), jobs.MEMO)
    for design in plan.designs:
        stands = set_back(design)
        assert stands is not None
        assert stands >= back + 3.175 - 0.01
        (leg,) = design.frame.legs
        wall = design.room.wall(leg.wall)
        strips = [p for p in design.core.pieces if p.kind == "back strip"] if design.core else []
        outs = [
            min(wall.figures(q)[1] for q in ring)
            for ring in (*(p.plan for p in strips), design.frame.blank)
        ]
        assert stands == pytest.approx(min(outs[:-1]) - outs[-1], abs=1.5)


def test_an_angle_over_180_is_no_inside_corner() -> None:
    text = (jobs.EXAMPLES / "stoneware-corner.toml").read_text(encoding="utf-8")
    taped = 'taped = [["48", "36", "60 9/16"], ["60", "45", "75 11/16"]]'
    found = read(text.replace(taped, 'angle = "269.5 deg"', 1), "job.toml")
    assert found.job is None
    assert any("less than 180" in finding.wrong for finding in found.findings)


def test_every_bay_behind_a_shelf_in_sections_is_on_the_sheets_for_blocking() -> None:
    """The bay of the joint is on both."""
    found = job(
        "record-wall", ("sections = 1", "sections = 2"), ('how = "opened it"', 'how = "scanned"')
    )
    plan = looked(found, Memo())
    (wall,) = {leg.wall for design in plan.designs for leg in design.frame.legs}
    here = plan.designs[0].room.wall(wall)
    studs = sorted((m for m in here.members if m.kind == "stud"), key=lambda m: m.left)
    listed: set[tuple[str, ...]] = set()
    for design in plan.designs:
        sheet = blocking_sheet(plan, design, here)
        assert isinstance(sheet, FormSheet)
        listed |= {row[:2] for row in sheet.parts[0].tables[0].rows}
    behind = [leg for design in plan.designs for leg in design.frame.legs]
    low, high = min(leg.start for leg in behind), max(leg.end for leg in behind)
    bays = [(a.right, b.left) for a, b in pairwise(studs) if low < b.left and a.right < high]
    assert len(listed) == len(bays)


@cache
def blocked() -> tuple[Plan, Design, Drill]:
    """The stoneware corner with a rod in a block on edge, wall B."""
    wall_b = 'studs = [["13 7/16", "14 15/16"], ["29 9/16", "31 1/16"], ["45 5/16", "46 13/16"]]\n'
    block = 'blocking = [["14 15/16", "29 9/16", ["51 1/2", "55"]]]\n'
    found = job(
        "stoneware-corner",
        (wall_b, wall_b + block),
        ('"B 30 5/16"', '"B 22"'),
    )
    plan = looked(found, Memo())
    _, _, leave = next(each for each in plan.leave if each[1] == "B")
    assert isinstance(leave, Drill)
    return plan, next(each for each in plan.designs if each.frame.legs[0].wall == "B"), leave


def test_the_drill_card_has_the_heights_of_blocking() -> None:
    """By hand: what the job file has, since a hole goes between a block's lower and upper edge."""
    plan, design, leave = blocked()
    card = drill_card(plan, design, leave, None)
    rows = {row[0]: row for row in card.holes.rows}
    assert rows["B2"][1] == "22"
    assert rows["B2"][2] == "51 1/2 to 55 up"
    assert rows["B3"][2] == "45 5/16 to 46 13/16"


def test_a_block_on_edge_is_as_deep_as_it_lies_in_drawing_card_and_cautions() -> None:
    """By hand: a 2x4 3 1/2 high lies with its 1 1/2 into the wall; a rod of more goes past it, in a stud not."""
    plan, design, leave = blocked()
    (view,) = shown(design)
    deep = {}
    for member in view.members:
        outs = [view.wall.figures(p)[1] for p in stud_ring(view, member)]
        deep[member.kind] = max(outs) - min(outs)
    assert deep == pytest.approx({"stud": 88.9, "blocking": 38.1})
    card = drill_card(plan, design, leave, None)
    assert any('(1 1/2" deep behind the lining)' in text for text in card.ticks)
    out = [each for each in cautions(plan) if each.id.startswith(("comes-out", "past-timber"))]
    assert [each.id for each in out] == ["past-timber-B2"]
    assert 'into wood that is 1 1/2" deep' in out[0].text
