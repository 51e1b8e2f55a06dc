"""Whole jobs: verdicts, what is not computed, the memo, shelves on shared walls."""

from __future__ import annotations

import dataclasses

import pytest

from ledgewright.core import core
from ledgewright.judge import alternatives
from ledgewright.memo import Memo
from ledgewright.plan import full, verdict
from ledgewright.statics import holds
from ledgewright.statics.families import required
from tests.jobs import NAMES, job, plan


@pytest.mark.parametrize("name", NAMES)
def test_nothing_passes_while_required_checks_are_missing(name: str) -> None:
    worked = plan(name)
    assert worked.verdict != "passes"
    assert any("not computed" in why for _, why in worked.not_computed)
    assert all(design.holds.load_limit is None for design in worked.designs)


@pytest.mark.parametrize("name", NAMES)
def test_every_family_is_either_checked_or_named_as_missing(name: str) -> None:
    for design in plan(name).designs:
        done = {check.family for check in design.holds.checks}
        missing = {row.family for row in design.holds.cannot_say}
        assert {family.id for family in required(blocks=False)} <= done | missing


def test_a_second_look_costs_nothing_and_says_the_same() -> None:
    memo = Memo()
    first = full(job("stoneware-corner"), memo)
    hits = memo.hits
    second = full(job("stoneware-corner"), memo)
    assert memo.hits >= hits + 5
    assert first == second
    assert first.designs[0].frame is second.designs[0].frame


def test_a_change_of_load_leaves_the_geometry_alone() -> None:
    memo = Memo()
    this = job("stoneware-corner")
    first = full(this, memo)
    demands = tuple(dataclasses.replace(d, single=d.single + 1.0) for d in this.demands)
    second = full(dataclasses.replace(this, demands=demands), memo)
    assert first.designs[0].ways is second.designs[0].ways
    assert first.designs[0].core is second.designs[0].core
    assert first.designs[0].holds is not second.designs[0].holds


def test_no_way_on_is_a_failure() -> None:
    design = plan("reading-alcove").designs[0]
    assert verdict((dataclasses.replace(design, way=None),)) == "fails"


def test_two_shelves_on_the_same_walls_are_two_designs() -> None:
    this = job("stoneware-corner")
    lower = dataclasses.replace(this.shelves[0], id="lower", top=this.shelves[0].top - 400)
    both = dataclasses.replace(
        this,
        shelves=(*this.shelves, lower),
        demands=(*this.demands, dataclasses.replace(this.demands[0], shelf="lower")),
    )
    worked = full(both, Memo())
    assert [d.spec.id for d in worked.designs] == ["showroom", "lower"]
    assert len(worked.leave) == 4


@pytest.mark.parametrize("name", NAMES)
def test_ways_are_compared_on_the_same_terms_as_the_chosen_one(name: str) -> None:
    worked = plan(name)
    for design in worked.designs:
        rows = {row.way: row for row in alternatives(worked.job, design, Memo())}
        assert list(rows) == [way.id for way in design.ways.ways if way.possible]
        assert design.way is not None
        assert design.core is not None
        chosen = rows[design.way.id]
        assert chosen.drop == design.holds.drop
        assert chosen.longest_span == design.core.longest_span


def test_a_way_not_chosen_is_worked_through_as_if_it_were() -> None:
    """The diagonal of the corner, judged by itself: the same core and the same drop as in its row."""
    worked = plan("stoneware-corner")
    design = worked.designs[0]
    rows = {row.way: row for row in alternatives(worked.job, design, Memo())}
    diagonal = next(way for way in design.ways.ways if way.id == "diagonal")
    made = core(design.spec, design.frame, diagonal)
    assert rows["diagonal"].longest_span == made.longest_span
    alone = holds(
        room=design.room,
        frame=design.frame,
        spec=design.spec,
        demand=worked.job.demands[0],
        basis=worked.job.meta.basis,
        temperature=worked.job.site.temperature,
        core=made,
    )
    assert rows["diagonal"].drop == alone.drop
