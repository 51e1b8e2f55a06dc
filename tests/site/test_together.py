"""Load tests of a shelf in two sections and of shelves on the same studs: planned, read and believed together."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import replace
from functools import cache

import pytest

from ledgewright import plan as plan_room
from ledgewright import site
from ledgewright.job import Job, LoadStep, PutOn, WentDown
from ledgewright.judge import Design
from ledgewright.plan import check
from ledgewright.site import Group, ReadBack
from ledgewright.site.proposed import on_models
from ledgewright.statics import LoadLimit, NoLimit, NoTest, Pile, Proof, under_all
from tests import jobs

IN, LB = 25.4, 0.45359237
"""Exactly: inch and pound (1959)."""
DEPTH = 10.5 * IN
WARES = (
    *(PutOn(12.0, "A", -x * IN, 5.6 * IN) for x in (6.0, 20.0, 34.0, 48.0, 62.0)),
    *(PutOn(12.0, "B", x * IN, 5.6 * IN) for x in (16.0, 29.0, 42.0)),
)
PLACES = (
    *(("A", x) for x in (-1740.0, -1202.0, -802.0, -392.0)),
    *(("B", x) for x in (360.0, 770.0, 1250.0)),
)


@cache
def corner() -> tuple[Job, Group]:
    job = jobs.job("stoneware-corner")
    return job, Group(check(job, jobs.MEMO), ((), ()))


@cache
def stacked() -> tuple[Job, Group]:
    """The alcove's shelf twice on the same studs, 400 mm apart."""
    this = jobs.job("reading-alcove")
    shelf, asked = this.shelves[0], this.demands[0]
    above = replace(shelf, id="upper", top=shelf.top + 400.0, path="shelf[1]")
    demands = (asked, replace(asked, shelf="upper"))
    job = replace(this, shelves=(shelf, above), demands=demands)
    return job, Group(check(job, jobs.MEMO), ((1,), (0,)))


def owners(reads: Sequence[tuple[str, float]]) -> list[list[tuple[str, float]]]:
    """Of two sections the first is on wall A, the second on wall B (trade: parted at the corner)."""
    return [[r for r in reads if r[0] == wall] for wall in ("A", "B")]


def steps_of_corner(
    puts: Sequence[PutOn], *, noise: float = 0.0, dropped: str = "", seed: int = 1
) -> tuple[LoadStep, ...]:
    """What a sound shelf in two sections shows: loaded, after a day, and unloaded; weights on B from 267 mm on are
    those of section 2, since section 1 runs through the corner square."""
    tried = on_models(*corner(), jobs.MEMO)
    assert not isinstance(tried, NoTest)
    chance = random.Random(seed)  # noqa: S311  # cases, not secrets
    second = [p for p in puts if p.wall == "B" and p.along > 267.0]
    mine = [[p for p in puts if p not in second], second]
    piles = [[Pile("w", p.wall, p.along, p.out, p.mass) for p in own] for own in mine]
    marks = owners(PLACES)
    steps = []
    for hours, loaded in ((0.2, True), (24.0, True), (1.0, False)):
        downs = under_all(tried, piles if loaded else [[], []], marks, jobs.MEMO, hours=hours)
        assert not isinstance(downs, NoTest)
        reads = [
            WentDown(wall, along, d + chance.gauss(0, noise) if noise else d)
            for own, down in zip(marks, downs, strict=True)
            for (wall, along), d in zip(own, down, strict=True)
        ]
        kept = tuple(r for r in reads if r.wall != dropped)
        steps.append(
            LoadStep("showroom", tuple(puts) if loaded else (), hours, kept, "site.test", "gauge")
        )
    return tuple(steps)


def told(
    job: Job, group: Group, steps: tuple[LoadStep, ...]
) -> tuple[ReadBack | NoTest | None, ...]:
    return site.tested_together(replace(job, site=replace(job.site, tests=steps)), group, jobs.MEMO)


def test_each_section_gets_a_test_of_its_own_contents_and_its_own_one_thing() -> None:
    """Scene: ware 16 lb/ft on fronts of 69 1/4 and about 39 1/2 in, urn 38 lb, jar 27 lb; one thing of 30 kg."""
    job, group = corner()
    plans = site.plan_tests(job, group, jobs.MEMO)
    for plan, things in zip(plans, (38.0, 27.0), strict=True):
        assert isinstance(plan, Proof)
        assert plan.times <= 1.25
        assert plan.ratio <= 1
        # By the lever: 100 mm flush with the front are 8.53 in out, the sack 7 1/2; whole pounds, rounded up.
        one = 30.0 * plan.times * (DEPTH - 50.0) / (7.5 * IN)
        assert one <= plan.single.mass <= one + LB
        per = 16 * LB / 12
        (leg,) = group.designs[plans.index(plan)].frame.legs
        length = (leg.end - leg.start) / IN
        by_hand = plan.times * (per * length + things * LB) + one
        assert plan.total == pytest.approx(by_hand, rel=0.02)
        assert {down.wall for down in plan.later} == {leg.wall}
    first, second = plans
    assert isinstance(first, Proof)
    assert isinstance(second, Proof)
    assert first.times == second.times


def test_readings_of_two_sections_are_told_apart_and_both_pass() -> None:
    job, group = corner()
    found = told(job, group, steps_of_corner(WARES, noise=0.03))
    for one, wall, count in zip(found, ("A", "B"), (5, 3), strict=True):
        assert isinstance(one, ReadBack)
        assert one.passed, one.why
        assert {row.wall for row in one.rows} == {wall}
        assert one.most == pytest.approx(12.0 * count)
        # Half of a depth of 10 1/2 in is nearer than 5.6 in: at 250 mm deep and flush contents stand 5.58 in out.
        assert one.total == pytest.approx(12.0 * count / 1.25)
        assert one.single == pytest.approx(12.0 / 1.25 * 5.6 * IN / (DEPTH - 50.0))


def test_a_weight_in_the_corner_square_is_on_the_section_that_runs_through() -> None:
    """Trade: the first section runs through the corner, the other butts against it."""
    job, group = corner()
    inside = PutOn(5.0, "B", 100.0, 60.0)
    first, second = told(job, group, steps_of_corner((*WARES, inside)))
    assert isinstance(first, ReadBack)
    assert isinstance(second, ReadBack)
    assert first.most == pytest.approx(65.0)
    assert second.most == pytest.approx(36.0)


def test_a_section_left_unread_or_unloaded_does_not_pass() -> None:
    job, group = corner()
    first, second = told(job, group, steps_of_corner(WARES, dropped="B"))
    assert isinstance(first, ReadBack)
    assert isinstance(second, ReadBack)
    assert first.passed
    assert any("weights off" in what for what in second.still)
    only_a = tuple(p for p in WARES if p.wall == "A")
    first, second = told(job, group, steps_of_corner(only_a))
    assert isinstance(first, ReadBack)
    assert isinstance(second, ReadBack)
    assert any("nothing stood on showroom, section 2 of 2 meanwhile" in why for why in first.why)
    assert (second.even, second.single, second.total) == (0.0, 0.0, 0.0)


def test_what_speaks_against_one_section_leaves_neither_a_limit() -> None:
    job, group = corner()
    found = told(job, group, steps_of_corner(WARES, dropped="B"))
    reads = dict(zip(("showroom.1", "showroom.2"), found, strict=True))
    limit = LoadLimit(0.2, 30.0, 60.0, "x", "y", None, "z")
    designs = tuple(
        replace(each, holds=replace(each.holds, load_limit=limit)) for each in group.designs
    )
    tried = tuple((name, NoTest(""), read) for name, read in reads.items())
    least = plan_room._least(job, designs, (None, None), tried, {})
    for design in least:
        assert isinstance(design.holds.load_limit, NoLimit)
        assert "load test" in design.holds.load_limit.why


def test_what_is_tested_at_once() -> None:
    """Sections of one shelf (trade: hung as one), and shelves whose rods share studs; not what hangs elsewhere."""
    _, two = corner()
    assert plan_room.at_once(two.designs) == [[0, 1]]
    _, same = stacked()
    assert plan_room.at_once(same.designs) == [[0, 1]]
    moved = replace(two.designs[0], spec=replace(two.designs[0].spec, section=None, id="a"))
    other = replace(two.designs[1], spec=replace(two.designs[1].spec, section=None, id="b"))
    assert plan_room.at_once((moved, other)) == [[0], [1]]


def stacked_steps(
    names: Sequence[str], waits: Sequence[float] = (0.2, 24.0, 1.0)
) -> tuple[LoadStep, ...]:
    """What sound shelves on the same studs show, both loaded at once; those of some of them alone are written down."""
    job, group = stacked()
    tried = on_models(job, group, jobs.MEMO)
    assert not isinstance(tried, NoTest)
    puts = tuple(PutOn(18.0, "back", x, 160.0) for x in (280.0, 680.0, 1000.0))
    piles = [Pile("w", p.wall, p.along, p.out, p.mass) for p in puts]
    marks = [("back", x) for x in (81.0, 481.0, 883.0, 1131.0)]
    steps = []
    for k, hours in enumerate(waits):
        loaded = k < len(waits) - 1
        on = [piles if loaded and name in names else [] for name in ("reading", "upper")]
        downs = under_all(tried, on, (marks, marks), jobs.MEMO, hours=hours)
        assert not isinstance(downs, NoTest)
        for name, down in zip(("reading", "upper"), downs, strict=True):
            reads = tuple(WentDown(*m, d) for m, d in zip(marks, down, strict=True))
            if name in names:
                steps.append(LoadStep(name, puts if loaded else (), hours, reads, "t", "gauge"))
    return tuple(steps)


@pytest.mark.soak
def test_shelves_on_the_same_studs_are_read_together() -> None:
    job, group = stacked()
    plans = site.plan_tests(job, group, jobs.MEMO)
    single = jobs.job("reading-alcove")
    alone = site.plan_test(single, check(single, jobs.MEMO)[0], jobs.MEMO)
    assert isinstance(alone, Proof)
    for plan in plans:
        assert isinstance(plan, Proof)
        assert plan.times <= alone.times
    found = told(job, group, stacked_steps(("reading", "upper")))
    for one in found:
        assert isinstance(one, ReadBack)
        assert one.passed, one.why
        assert one.narrowed is not None
        # Read just as predicted: nothing is surprising.
        assert one.narrowed.square == pytest.approx(0.0, abs=1e-6)
    one, none = told(job, group, stacked_steps(("reading",)))
    assert none is None
    assert isinstance(one, ReadBack)
    assert any("nothing stood on upper meanwhile" in why for why in one.why)
    both = stacked_steps(("reading", "upper"))
    askew = tuple(s for s in both if not (s.shelf == "upper" and s.hours == 24.0))
    for each in told(job, group, askew):
        assert isinstance(each, NoTest)
        assert "do not go together" in each.why


def test_what_is_not_shown_to_hold_keeps_what_hangs_beside_it_from_a_test() -> None:
    job, group = corner()
    bad: Design = replace(group.designs[1], holds=replace(group.designs[1].holds, verdict="fails"))
    for each in site.plan_tests(job, replace(group, designs=(group.designs[0], bad)), jobs.MEMO):
        assert isinstance(each, NoTest)
        assert "section 2 of 2 is not shown to hold" in each.why
