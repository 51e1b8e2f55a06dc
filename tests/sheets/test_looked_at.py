"""What a carpenter and an engineer stumbled on in the sheets: gaps behind backs, cables, lost holes, heavy things."""

from __future__ import annotations

from dataclasses import replace

import pytest

from ledgewright.plan import Plan
from ledgewright.sheets import limits, seen
from ledgewright.sheets.assumed import IN_SHOP, open_items
from ledgewright.sheets.backs import gap_said, open_behind
from ledgewright.sheets.say import Say
from ledgewright.sheets.shopping import shopping
from ledgewright.sheets.shopside import side
from ledgewright.sheets.walls import drill_card, likeliest
from ledgewright.site import Drill
from ledgewright.statics import LoadLimit
from tests import jobs

AGAINST = (
    "what sheets say of a wall, against the figures taped in the scenes",
    "hand figures from the job files; zones of cables: common practice, BS 7671 522.6 (from memory)",
    "half a unit of the last digit",
)


def leave(plan: Plan, wall: str) -> Drill:
    found = next(each for _, name, each in plan.leave if name == wall)
    assert isinstance(found, Drill)
    return found


def test_a_straight_back_stands_off_a_hollow_wall_by_the_hollow() -> None:
    """The record wall: 1 7/32 to 1 17/32 off the string, so 5/16 from proudest to deepest; the shelf stands 1/8 off."""
    design = jobs.plan("record-wall").designs[0]
    gaps = open_behind(design)
    assert gaps is not None
    eighth = 25.4 / 8
    assert gaps[0] == pytest.approx(eighth, abs=0.4)
    assert gaps[1] == pytest.approx(eighth + 25.4 * 5 / 16, abs=0.8)
    assert gap_said(design, Say.of(jobs.job("record-wall").meta)) == '1/8" to 7/16"'
    tight = jobs.plan("stoneware-corner").designs[0]
    assert tight.spec.back == "tight"
    assert open_behind(tight) is None


def test_the_card_names_the_holes_where_cables_are_likeliest() -> None:
    """The alcove: rods at 80, 481.5, 883.5, 1131 between corners at 0 and about 1187; socket from 820 to 966."""
    plan = jobs.plan("reading-alcove")
    design, say = plan.designs[0], Say.of(plan.job.meta)
    wall = design.room.wall("back")
    holes = leave(plan, "back").holes
    told = likeliest(design, wall, holes, say)
    assert told == "B1 and B4 within 150 mm of a corner; B3 in line with double socket"
    card = drill_card(plan, design, leave(plan, "back"), None)
    assert card.ticks[0].endswith(f"Likeliest: {told}.")
    bare = replace(design, room=replace(design.room, corners=(), obstacles=()))
    assert likeliest(bare, wall, holes, say) == ""


def test_a_lost_hole_goes_to_the_next_stud_only_where_there_is_one() -> None:
    plan = jobs.plan("record-wall")
    card = drill_card(plan, plan.designs[0], leave(plan, "plumbing"), None)
    assert any("stop, no other stud is free" in line for line in card.stop)
    design = plan.designs[0]
    fewer = replace(design, frame=replace(design.frame, rods=design.frame.rods[:4]))
    card = drill_card(plan, fewer, leave(plan, "plumbing"), None)
    assert any("move to the next stud" in line for line in card.stop)


def test_a_limit_names_what_is_heavier_in_its_place() -> None:
    """The amplifier of the record wall has 71 lb; the limit is of one thing of 66 lb anywhere."""
    plan = jobs.plan("record-wall")
    design, say = plan.designs[0], Say.of(plan.job.meta)
    limit = design.holds.load_limit
    assert isinstance(limit, LoadLimit)
    assert (
        limits.heavier(design, limit, say)
        == "heavier, and only where it is drawn: amplifier (71 lb)"
    )
    assert limits.heavier(design, replace(limit, single=40.0), say) == ""


def test_what_the_shop_cannot_do_as_planned_is_open() -> None:
    lines = open_items(jobs.plan("reading-alcove"))
    assert [line for line in lines if line.startswith(IN_SHOP)] == [
        f"{IN_SHOP}one thing cannot be done as planned, see its pages"
    ]


def test_caulk_for_ends_is_bought_where_the_back_takes_none() -> None:
    """The corner's back is scribed, its ends by a wall are caulked; the wall of records has a gap that stays open."""
    found = side(jobs.plan("stoneware-corner"))
    assert not isinstance(found, str)
    assert [buy.use for buy in shopping(found) if buy.what == "caulk"] == ["ends"]


def test_another_way_that_drops_too_far_says_so() -> None:
    """The alcove in two sections: 3 mm at the joint, and 2 are allowed."""
    plan = jobs.plan("reading-alcove")
    design = plan.designs[0]
    others = {each.id: each for each in seen.others(plan, design, jobs.MEMO)}
    drop = others["two-sections"].drop
    assert drop is not None
    assert drop.today.value > design.demand.limits.drop_today
    page = seen.ways_sheet(
        plan, design, (None,), jobs.MEMO, tuple((o, None) for o in others.values())
    )
    row = next(r for r in page.costs.rows if r[0].startswith("Two sections"))
    assert row[1] == "goes on, does not hold"
