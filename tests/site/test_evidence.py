"""Evidence decides: nothing but framed, opened or probed wood, not bearing, services known, may be drilled.

Source: common practice, and the design's own rule that an unconfirmed wall is never drilled.
"""

from __future__ import annotations

import dataclasses
import itertools
import math
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


@pytest.mark.parametrize(("bearing", "drilled"), [("yes", False), ("unknown", False), ("no", True)])
def test_a_word_given_before_the_rods_were_changed_opens_no_bearing_wall(
    bearing: Bearing, drilled: bool
) -> None:
    """Rule of the project: a bearing stud is bored on the word of an engineer about these rods, never an older one."""
    design = plan("stoneware-corner-first-try").designs[0]
    wall = design.room.wall("A")
    fresh = Known("opened it", None, bearing, "none, looked", None, "an engineer")
    for known, opens in ((fresh, True), (dataclasses.replace(fresh, engineer_stale=True), drilled)):
        changed = dataclasses.replace(wall, known=known)
        leave = site.leave(with_wall(design.room, changed), design.frame)[0]
        assert isinstance(leave, site.Drill) is opens


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
    assert "1.13 degrees to the left" in second.direction


def leave_with(**known: object) -> site.Leave:
    """The leave of wall A of the corner with what is known of it changed."""
    design = plan("stoneware-corner-first-try").designs[0]
    wall = design.room.wall("A")
    changed = dataclasses.replace(wall, known=dataclasses.replace(wall.known, **known))  # type: ignore[arg-type]
    return site.leave(with_wall(design.room, changed), design.frame)[0]


def test_a_wall_probed_at_another_height_is_not_probed_at_the_holes() -> None:
    # Common practice: probed means both edges and the depth at that height; opened or framed, the stud runs on.
    up = plan("stoneware-corner-first-try").designs[0].frame.rods[0].origin[2]
    for off, how, may in (
        (50.0, "probed it", True),
        (600.0, "probed it", False),
        (600.0, "opened it", True),
    ):
        leave = leave_with(how=how, up=up + off)
        assert isinstance(leave, site.Drill) == may
    withheld = leave_with(how="probed it", up=up + 600.0)
    assert isinstance(withheld, site.Withheld)
    assert "another height" in withheld.questions[0]


def test_a_lining_that_keeps_fire_or_sound_is_bored_on_somebody_s_word_alone() -> None:
    assert isinstance(leave_with(fire="no"), site.Drill)
    asked = leave_with(fire="yes")
    assert isinstance(asked, site.Withheld)
    assert "fire or sound" in asked.questions[0]
    assert isinstance(
        leave_with(fire="yes", fire_stop="sealed as the surveyor's letter says"), site.Drill
    )


def test_the_wood_beside_a_hole_and_its_doubt_are_those_of_stud_and_marking() -> None:
    # Scene: studs 1 1/2 in, rods square to A in their middles: 3/4 in each side; 1 mm of stud and 0.8 of marking.
    leave = leave_with()
    assert isinstance(leave, site.Drill)
    edges = {round(hole.edge, 2) for hole in leave.holes}
    assert edges <= {round(0.75 * IN, 2), round(0.78125 * IN, 2)}
    assert {round(hole.edge_sd, 3) for hole in leave.holes} == {round(math.hypot(1.0, 0.8), 3)}
    # On B they run parallel to A's string: 1.13 degrees off square over 3 1/8 in of depth is 0.06 in to one side.
    design = plan("stoneware-corner-first-try").designs[0]
    other = site.leave(design.room, design.frame)[1]
    assert isinstance(other, site.Drill)
    aside = 3.125 * IN * math.tan(math.radians(1.13))
    for hole in other.holes:
        assert hole.edge == pytest.approx(0.75 * IN - aside, abs=0.1)


def test_who_saw_it_stands_in_the_evidence() -> None:
    leave = leave_with(by="the framer")
    assert isinstance(leave, site.Drill)
    assert "by the framer" in leave.evidence
