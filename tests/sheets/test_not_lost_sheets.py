"""What sheets must not round or mix up."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from ledgewright.sheets.handover import owner_sheet, unload_if
from ledgewright.sheets.say import Say
from ledgewright.sheets.walls import _lost, warning
from ledgewright.units import read_length
from tests.jobs import plan as plan_of
from tests.sheets.test_on_site import labelled

AGAINST = (
    "mutants of the code that no test had held: each test here fails on one",
    "by hand from standards, statics, geometry and the rules of the project, as each says",
    "as each says",
)


@pytest.mark.parametrize("units", ["in", "mm"])
def test_what_is_there_at_the_least_is_never_said_to_be_more(units: Any) -> None:
    """Rule of the project: rounded down to 1/16 in or 0.5 mm. 9.4 mm are 5.9 sixteenths, and 9.0 in halves."""
    say = Say(units, "en-US")
    assert say.down(9.4) == {"in": '5/16"', "mm": "9 mm"}[units]
    assert say.down(9.525) == {"in": '3/8"', "mm": "9.5 mm"}[units]
    for k in range(400):
        size = 0.173 * k
        assert read_length(say.down(size), units) <= size + 1e-6


def test_no_hole_is_drilled_while_another_shelf_of_the_job_is_not_shown_to_hold() -> None:
    """Rule of the project: the sheet warns until the whole job passes."""
    plan = plan_of("reading-alcove")
    (design,) = plan.designs
    assert warning(plan, design) == ""
    for verdict_ in ("fails", "cannot say"):
        assert "another shelf" in warning(replace(plan, verdict=verdict_), design)
    unfit = replace(design, ways=replace(design.ways, chosen=None), way=None)
    assert "does not hold" in warning(plan, unfit)


def test_a_lost_stud_is_not_the_next_one() -> None:
    """docs/site-measure.md: a lost stud takes no rod; where no other is left one stops."""
    plan, say = plan_of("reading-alcove"), Say("mm", "en-GB")
    (design,) = plan.designs
    wall = design.room.wall("back")
    spare = replace(wall.members[0], id="back.spare", left=660.0, right=698.0)
    cases: tuple[tuple[Any, str], ...] = (
        (
            None,
            "Drill on only once the job passes with other wood (middle at 679)",
        ),
        ("dead", "No other wood takes a rod"),
    )
    for lost, told in cases:
        members = (*wall.members, replace(spare, lost=lost))
        assert told in _lost(plan, design, replace(wall, members=members), say)


def test_a_lost_hole_goes_to_no_block_that_cannot_hold_the_rod() -> None:
    """By hand: a hole goes in by its depth, and half of it and 3/16 in stay over and under its middle."""
    plan, say = plan_of("reading-alcove"), Say("mm", "en-GB")
    (design,) = plan.designs
    rod = design.frame.rods[0]
    wall = design.room.wall("back")
    timber = wall.members[0].timber
    assert timber is not None
    z, half = rod.origin[2], rod.hole / 2 + 3 / 16 * 25.4
    flat, on_edge = timber.width, timber.depth
    assert flat < rod.embedment < on_edge
    block = replace(wall.members[0], id="back.b1", kind="blocking", left=660.0, right=698.0)
    for up, takes in (
        # A block on edge is only as deep as the stud is wide; one laid flat is as deep as the stud.
        ((z - on_edge / 2, z + on_edge / 2), False),
        ((z - flat / 2, z + flat / 2), True),
        ((z - half + 0.1, z - half + 0.1 + flat), False),
        ((z + 200.0, z + 200.0 + flat), False),
    ):
        members = (*wall.members, replace(block, up=up))
        told = _lost(plan, design, replace(wall, members=members), say)
        assert ("other wood (" in told) is takes, (up, told)
    # Nor to a stud that another shelf's rod is in.
    spare = replace(wall.members[0], id="back.spare", left=660.0, right=698.0)
    there = replace(design.frame, shelf="upper", rods=(replace(rod, member="back.spare"),))
    upper = replace(design, spec=replace(design.spec, id="upper"), frame=there)
    both = replace(plan, designs=(design, upper))
    assert "No other wood" in _lost(
        both, design, replace(wall, members=(*wall.members, spare)), say
    )


def test_a_row_beside_a_heavy_thing_is_shorter_by_what_that_weighs() -> None:
    """By hand: 60 kg in all and 37 kg/m of books: 1.18 m of them alone; beside the clock of 11 kg 49/37 is all of it,
    of 40 in all 29/37 = 0.78 m. A thing over the limit of one thing stands beside nothing.
    """
    for total, single, told in (
        (60.0, 20.0, "whole length"),
        (40.0, 20.0, ": 0.7 m"),
        (60.0, 5.0, None),
    ):
        plan, design = labelled(0.4, single, total)
        lines = [x for p in owner_sheet(plan, design).parts for x in p.lines if "at once" in x]
        assert len(lines) == (told is not None)
        assert all(told in line for line in lines if told)


def test_a_test_is_unloaded_over_the_softest_and_twice_the_error_of_a_gauge() -> None:
    """docs/on-site.md: wood and glue as soft as they come, and twice 0.05 mm of a dial gauge."""
    assert unload_if(2.0) == pytest.approx(2.1)
