"""Evidence decides: nothing but framed, opened or probed wood, not bearing, services known, may be drilled.

Source: common practice, and the design's own rule that an unconfirmed wall is never drilled.
"""

from __future__ import annotations

import dataclasses
import itertools
from typing import get_args

import pytest

from ledgewright import site
from ledgewright.job import Bearing, Framing, How, Known
from ledgewright.survey import Room, Wall
from tests.jobs import NAMES, plan

IN = 25.4


def with_wall(room: Room, wall: Wall) -> Room:
    return dataclasses.replace(
        room, walls=tuple(wall if w.id == wall.id else w for w in room.walls)
    )


@pytest.mark.parametrize("name", NAMES)
def test_the_walls_of_the_examples_are_confirmed(name: str) -> None:
    assert plan(name).leave
    assert all(isinstance(leave, site.Drill) for _, _, leave in plan(name).leave)


@pytest.mark.parametrize("how", get_args(How))
@pytest.mark.parametrize("bearing", get_args(Bearing))
@pytest.mark.parametrize("framing", get_args(Framing))
def test_only_seen_wood_that_bears_nothing_may_be_drilled(
    how: How, bearing: Bearing, framing: Framing
) -> None:
    design = plan("stoneware-corner-first-try").designs[0]
    wall = design.room.wall("A")
    for services, engineer in itertools.product((None, "none, looked"), (None, "an engineer")):
        known = Known(how, None, bearing, services, None, engineer)
        changed = dataclasses.replace(wall, known=known, framing=framing)
        leave = site.leave(with_wall(design.room, changed), design.frame)[0]
        allowed = (
            how in ("framed it", "opened it", "probed it")
            and framing == "wood"
            and services is not None
            and (bearing == "no" or engineer is not None)
        )
        assert isinstance(leave, site.Drill) == allowed
        if isinstance(leave, site.Withheld):
            assert leave.questions


def test_not_knowing_the_stud_or_its_depth_withholds() -> None:
    design = plan("stoneware-corner-first-try").designs[0]
    wall = design.room.wall("A")
    for changed in (
        dataclasses.replace(wall, timber=None),
        dataclasses.replace(wall, depth_to_wood=None),
    ):
        leave = site.leave(with_wall(design.room, changed), design.frame)[0]
        assert isinstance(leave, site.Withheld)


def test_holes_of_the_corner_are_where_the_tape_says() -> None:
    """Centres half way between the taped edges, heights half way through the core: by hand from the job."""
    job_plan = plan("stoneware-corner-first-try")
    leaves = {wall: leave for _, wall, leave in job_plan.leave}
    first = leaves["A"]
    assert isinstance(first, site.Drill)
    by_mark = {hole.mark: hole for hole in first.holes}
    assert by_mark["A1"].taped == pytest.approx((14.6875 + 16.1875) / 2 * IN)
    assert by_mark["A4"].taped == pytest.approx((63.125 + 64.625) / 2 * IN)
    assert by_mark["A2"].edges == pytest.approx((30.8125 * IN, 32.3125 * IN))
    for hole in first.holes:
        assert hole.up == pytest.approx((54.375 - 0.734 - 21 / 64) * IN)
        assert hole.depth_from_face == pytest.approx((3.125 + 21 / 32) * IN)
        assert hole.cut_length == pytest.approx((12 + 1 / 32) * IN)


def test_the_second_wall_is_bored_along_the_slide_and_says_so() -> None:
    leaves = {wall: leave for _, wall, leave in plan("stoneware-corner-first-try").leave}
    first, second = leaves["A"], leaves["B"]
    assert isinstance(first, site.Drill)
    assert isinstance(second, site.Drill)
    assert first.direction.startswith("Square to the straight ledger on wall A")
    assert second.direction.startswith("Parallel to the ledger on wall A")
    # the corner is about 91.1 degrees, so the second wall's rods lean about 1.1 degrees
    assert "1.1 degrees" in second.direction
