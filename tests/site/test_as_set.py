"""Rods as set: where they really stand, whether the shelf goes on them and holds, what to shim, to ease, to reset."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from itertools import combinations

import numpy as np
import pytest

from ledgewright import layout, site
from ledgewright.job import AsSet, Job, Leg, Order
from ledgewright.judge import Design, limit_of
from ledgewright.layout import Frame
from ledgewright.plan import check
from ledgewright.site import AsSetAnswer, rests
from ledgewright.statics import NoLimit
from ledgewright.survey import room
from tests import jobs
from tests.layout import asked
from tests.survey.taped import tapes, wall

Off = tuple[float, float, float, float, float]
"""Aside at the face and the tip, up at the face and the tip, further out (mm)."""


def with_rods(name: str, off: dict[int, Off], order: Order = "rods first") -> Job:
    """An example with its rods read: where they are drawn, some of them off."""
    job = jobs.job(name)
    (spec,) = job.shelves
    taped = {m.id: m for w in job.tapes.walls for m in w.members}
    up = spec.top - spec.skin_top.thick - spec.core.thick / 2
    rods = []
    for k, rod in enumerate(spec.rods):
        a, b, c, d, out = off.get(k, (0.0,) * 5)
        at = (taped[rod.member].left + taped[rod.member].right) / 2
        read = AsSet((at + a, up + c), (at + b, up + d), rod.projection + out, "site.rod[0]")
        rods.append(replace(rod, as_set=read))
    meta = replace(job.meta, order=order)
    return replace(job, meta=meta, shelves=(replace(spec, rods=tuple(rods)),))


@cache
def judged(off: tuple[tuple[int, Off], ...], order: Order = "rods first") -> Design:
    (design,) = check(with_rods("reading-alcove", dict(off), order), jobs.MEMO)
    return design


def answer(off: dict[int, Off], order: Order = "rods first") -> AsSetAnswer:
    found = site.as_set(judged(tuple(off.items()), order), order)
    assert found is not None
    return found


def test_a_read_rod_is_the_line_through_both_readings_in_space() -> None:
    """Pythagoras: 24 aside and 32 up are 40 off; 202 along the rod it stands 198 ahead (20-99-101, doubled)."""
    of = wall("A", 2000, [(0, 10)], members=[(300, 338), (700, 738)], depth_to_wood=16.0)
    up = 1365 - 15 - 8.5
    read = AsSet((320.0, up + 1.0), (344.0, up + 33.0), 202.0, "site.rod[0]")
    rods = (asked.rod("A", "A.s1", 205.0), asked.rod("A", "A.s2", 205.0))
    spec = asked.shelf([Leg("A", 100, 1500)], (replace(rods[0], as_set=read), rods[1]))
    there = room(tapes([of]), 1365)
    rod = layout.frame(there, spec).rods[0]
    assert rod.axis == pytest.approx((24 / 202, -198 / 202, 32 / 202))
    assert math.hypot(*rod.axis) == pytest.approx(1.0)
    figures = there.wall("A").figures
    assert figures(rod.point(rod.free)) == pytest.approx((320.0, 0.0))
    assert rod.origin[2] + rod.axis[2] * rod.free == pytest.approx(up + 1.0)
    tip = rod.free + rod.projection
    assert figures(rod.point(tip)) == pytest.approx((344.0, 198.0))
    assert rod.origin[2] + rod.axis[2] * tip == pytest.approx(up + 33.0)
    # 16 mm of board lie 16 x 202/198 along the rod; the sawn length, 75 + 16 + 205, stays what it was.
    assert rod.free == pytest.approx(16 * 202 / 198)
    assert rod.cut_length == pytest.approx(75 + 16 + 205)


def test_rods_read_just_where_they_are_drawn_change_nothing() -> None:
    design, drawn = judged(()), jobs.plan("reading-alcove").designs[0]
    assert design.drawn == drawn.frame
    for mine, its in zip(design.frame.rods, drawn.frame.rods, strict=True):
        assert mine.axis == pytest.approx(its.axis, abs=1e-12)
        assert mine.origin == pytest.approx(its.origin, abs=1e-9)
    ratios = {c.id: c.ratio for c in drawn.holds.checks}
    assert {c.id: c.ratio for c in design.holds.checks} == pytest.approx(ratios, rel=1e-6)
    found = answer({})
    assert found.go == "go"
    assert all(card.ok for card in found.cards)
    assert all(card.shim == pytest.approx((0.0, 0.0), abs=1e-9) for card in found.cards)


def test_rods_all_higher_and_nose_up_alike_carry_as_before() -> None:
    """A board that hangs a little higher, or turned a little, on rods in one plane rests as it did (rigid motion)."""
    design, drawn = judged(tuple((k, (0.0, 0.0, 0.3, 0.7, 0.0)) for k in range(4))), judged(())
    assert design.holds.verdict == "passes"
    now, before = design.holds.drop, drawn.holds.drop
    assert now is not None
    assert before is not None
    assert now.today.value == pytest.approx(before.today.value, rel=1e-3)
    assert now.long_term.value == pytest.approx(before.long_term.value, rel=1e-3)
    found = answer(dict.fromkeys(range(4), (0.0, 0.0, 0.3, 0.7, 0.0)))
    assert found.stand.up == pytest.approx(0.5)
    # 0.4 mm over 240 mm of rod is 0.4 x 285/240 over the shelf's depth.
    assert found.stand.rises == pytest.approx((0.4 * 285 / 240, 0.0), abs=0.02)
    # The wall is bowed by 4.5, so that they leave it at different places and are not quite in one plane.
    assert all(max(card.shim or (1.0,)) < 0.02 for card in found.cards)


def test_a_rod_lower_than_the_others_is_shimmed_by_as_much_and_the_shelf_drops_further() -> None:
    low: dict[int, Off] = {1: (0.0, 0.0, -0.45, -0.45, 0.0)}
    found, design, drawn = answer(low), judged(tuple(low.items())), judged(())
    shims = {card.mark: card.shim for card in found.cards}
    assert shims["B2"] == pytest.approx((0.45, 0.45), abs=1e-6)
    assert max(max(s or (0.0,)) for m, s in shims.items() if m != "B2") < 1e-6
    assert design.holds.drop is not None
    assert drawn.holds.drop is not None
    assert design.holds.drop.today.value > drawn.holds.drop.today.value + 0.05


def test_a_rod_out_of_line_by_more_than_the_play_stops_it_and_is_the_one_to_reset() -> None:
    """Play is 1.0 in all: three level rods and one 1.2 higher than all have no common plane (a line through four)."""
    found = answer({1: (0.0, 0.0, 1.2, 1.2, 0.0)})
    assert found.go == "no go"
    assert any("out of line in height" in why for why in found.why)
    assert found.reset == ("B2",)
    assert [card.ok for card in found.cards] == [True, False, True, True]


def test_in_rods_first_the_core_follows_rods_that_are_aside() -> None:
    aside: dict[int, Off] = {2: (1.5, -1.5, 0.0, 0.0, 0.0)}
    design, drawn = judged(tuple(aside.items())), judged(())
    assert answer(aside).go == "go"
    old, new = (
        next(c for c in d.way.channels if c.rod == "back.s3") if d.way else None
        for d in (drawn, design)
    )
    assert old is not None
    assert new is not None
    # Straight in on a rod that leans, a channel is wider by what it leans over the way in; no narrower anywhere.
    assert new.area > old.area + 100


def test_a_slot_cut_before_is_eased_where_the_rod_misses_it() -> None:
    """Side play 2.0: a tip 3.5 to the right needs 1.5 more on the right at the tip (the bar nearly square)."""
    found = answer({2: (0.0, 3.5, 0.0, 0.0, 0.0)}, "both from the drawing")
    assert found.go == "no go"
    assert [(m.mark, m.side, m.at) for m in found.misses] == [("B3", "right", "tip")]
    assert found.misses[0].by == pytest.approx(1.5, abs=0.01)
    assert found.reset == ("B3",)
    assert found.hang is None
    left = answer({2: (-3.5, 0.0, 0.0, 0.0, 0.0)}, "both from the drawing")
    assert [(m.mark, m.side, m.at) for m in left.misses] == [("B3", "left", "mouth")]


def test_rods_all_aside_alike_are_met_by_hanging_the_shelf_there() -> None:
    aside: dict[int, Off] = dict.fromkeys(range(4), (3.0, 3.0, 0.0, 0.0, 0.0))
    found = answer(aside, "both from the drawing")
    assert found.go == "no go"
    assert len(found.misses) == 8
    assert found.hang is not None
    # A bowed wall stands a few hundredths further out there, which turns it a little.
    assert found.hang.along == pytest.approx(3.0, abs=1e-3)
    assert found.hang.turn == pytest.approx(0.0, abs=1e-3)
    assert found.reset == ()


def test_a_rod_too_long_for_a_slot_cut_before_meets_its_end() -> None:
    found = answer({0: (0.0, 0.0, 0.0, 0.0, 16.0)}, "both from the drawing")
    assert [(m.mark, m.side) for m in found.misses] == [("B1", "end")]
    assert found.misses[0].by == pytest.approx(1.0)  # 15 end clearance


def test_a_hole_that_has_come_to_the_stud_s_edge_is_no_go() -> None:
    """8.5 aside in a stud 38 wide with an 18 hole leaves 1.5 of wood (half the stud less half the hole less 8.5)."""
    found = answer({0: (8.5, 8.5, 0.0, 0.0, 0.0)})
    assert found.cards[0].beside == pytest.approx(38 / 2 - 18 / 2 - 8.5)
    assert found.go == "no go"
    assert any("wood beside its hole" in why for why in found.why)


@pytest.mark.parametrize("seed", range(12))
def test_a_board_rests_on_three_points_about_its_weight(seed: int) -> None:
    """Brute force: of all planes through three of the points that no point pierces, the one lowest at the middle."""
    pick = np.random.default_rng(seed)
    points = np.column_stack([pick.uniform(-500, 500, (7, 2)), pick.uniform(-1, 1, 7)])
    middle = points[:, :2].mean(axis=0)
    lowest = math.inf
    for three in combinations(range(7), 3):
        flat = np.column_stack([np.ones(3), points[list(three), :2]])
        coefficients = np.linalg.solve(flat, points[list(three), 2])
        heights = np.column_stack([np.ones(7), points[:, :2]]) @ coefficients
        if (heights >= points[:, 2] - 1e-9).all():
            lowest = min(lowest, float(coefficients @ [1.0, *middle]))
    found = rests(points)
    assert (found >= points[:, 2] - 1e-9).all()
    assert float(found.mean()) == pytest.approx(lowest, abs=1e-6)


def test_until_every_rod_is_read_it_is_worked_out_as_drawn() -> None:
    job = with_rods("reading-alcove", {0: (0.0, 0.0, 9.0, 9.0, 0.0)})
    (spec,) = job.shelves
    some = replace(spec, rods=(*spec.rods[:3], replace(spec.rods[3], as_set=None)))
    (design,) = check(replace(job, shelves=(some,)), jobs.MEMO)
    assert design.drawn is None
    assert design.frame == jobs.plan("reading-alcove").designs[0].frame
    assert site.as_set(design, "rods first") is None
    cards = site.cards(design, "rods first")
    assert [card.ok for card in cards] == [False, True, True, None]
    # 9 mm up is more than the half millimetre of play allows: whether it goes on so, nobody can say yet.
    assert design.holds.verdict == "cannot say"
    assert any("B1" in said.why for said in design.holds.cannot_say)
    assert site.told(design, "rods first")[0].startswith("3 of 4 rods are read")


def first_read(aside: float) -> Design:
    """The alcove with its first rod alone read, so far aside of the middle of its stud."""
    job = with_rods("reading-alcove", {0: (aside, aside, 0.0, 0.0, 0.0)})
    (spec,) = job.shelves
    rest = (replace(rod, as_set=None) for rod in spec.rods[1:])
    some = replace(spec, rods=(spec.rods[0], *rest))
    (design,) = check(replace(job, shelves=(some,)), jobs.MEMO)
    return design


def test_a_hole_broken_out_of_its_stud_fails_the_shelf_before_the_others_are_read() -> None:
    """By hand: stud 61 to 99, hole of 18 at 91: its edge is at 100, 1 mm outside. Under 2.4 mm is no go."""
    design = first_read(11.0)
    card = site.cards(design, "rods first")[0]
    assert card.beside == pytest.approx(99.0 - 91.0 - 9.0)
    assert design.holds.verdict == "fails"
    (row,) = [row for row in design.holds.checks if row.id == "bed.edge@back.s1"]
    assert (row.state, row.scope) == ("fails", "out")
    assert any("broken out" in line for line in site.told(design, "rods first"))
    assert isinstance(limit_of(jobs.job("reading-alcove"), design, jobs.MEMO), NoLimit)


def test_a_rod_read_where_it_is_drawn_changes_no_verdict_while_others_are_not_read() -> None:
    """It stands where all that is worked out has it."""
    design = first_read(0.0)
    assert design.holds.verdict == "passes"
    assert [card.ok for card in site.cards(design, "rods first")] == [True, None, None, None]
    assert site.told(design, "rods first") == (
        "1 of 4 rods are read: all is worked out as drawn until every rod of the shelf is.",
    )


def drawn_frame(design: Design) -> Frame:
    return design.as_drawn


def test_drill_cards_keep_to_the_drawing_once_rods_are_read() -> None:
    design = judged(((2, (1.5, -1.5, 0.0, 0.0, 0.0)),))
    (leave,) = site.leave(design.room, drawn_frame(design))
    assert isinstance(leave, site.Drill)
    # Half way between the edges of the scene's third stud.
    assert leave.holes[2].taped == pytest.approx((864.0 + 902.5) / 2)


def test_of_a_shelf_in_sections_each_says_what_of_it_is_read() -> None:
    """Four rods on one wall and three on the other (the example): all of the first read, none of the second."""
    job = with_rods("stoneware-corner", {})
    (spec,) = job.shelves
    rods = tuple(rod if rod.wall == "A" else replace(rod, as_set=None) for rod in spec.rods)
    one, two = check(replace(job, shelves=(replace(spec, rods=rods),)), jobs.MEMO)
    assert (one.drawn, two.drawn) == (None, None)
    assert site.told(one, "rods first")[0].startswith("4 of 4 rods are read")
    assert site.told(two, "rods first") == ()
    assert [one.holds.verdict, two.holds.verdict] == ["passes", "passes"]
