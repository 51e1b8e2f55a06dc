"""A light groove thins the bottom skin: what is left of it is bent by the forces of the whole skin there."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import pytest
from shapely.geometry import LineString, Point

from ledgewright.job import Groove
from ledgewright.plan import full
from ledgewright.statics import Holds
from ledgewright.statics.box_rows import box_rows
from ledgewright.statics.model import Check
from ledgewright.statics.on_section import Judged, Shelf, box_of
from ledgewright.statics.patterns import Try
from tests import jobs
from tests.statics import by_rule

AGAINST = (
    "bending of a skin that a groove has thinned: stress of a plate, 6 m / t2 and n / t of what is left",
    "plate theory (Timoshenko, eq. 44; from memory), limit cases",
    "1e-9",
)
ROW = "skin.bend@bottom skin, groove"


@cache
def alcove() -> tuple[Shelf, Judged]:
    return by_rule.judged(jobs.job("reading-alcove"))[0]


def rows(deep: float) -> dict[str, Check]:
    """The rows of the alcove's box under the cases found for it, with its groove so deep."""
    shelf, found = alcove()
    was = shelf.spec.groove
    assert was is not None
    made = replace(shelf, spec=replace(shelf.spec, groove=replace(was, deep=deep)))
    search = made.search
    search.all_of([Try(case.combination, case.pattern) for case in found.cases])
    checks, _ = box_rows(box_of(made), search)
    return {row.id: row for row in checks}


def line(row: Check, symbol: str) -> float:
    return next(step.value for step in row.steps if step.symbol == symbol)


def test_what_is_left_takes_the_stress_of_a_thinner_plate() -> None:
    thick = alcove()[0].spec.skin_bottom.thick
    for deep in (0.0, 4.0, 8.0, 12.0):
        row = rows(deep)[ROW]
        t, m, n = thick - deep, line(row, "m"), line(row, "n")
        fm, ft = line(row, "f_m"), line(row, "f_t")
        assert row.demand == pytest.approx(6 * m / t**2 + fm / ft * n / t, rel=1e-9)


def test_a_groove_of_no_depth_asks_no_more_than_the_skin() -> None:
    found = rows(0.0)
    assert 0 < found[ROW].ratio <= found["skin.bend@bottom skin"].ratio
    # Bending grows by the square of the thickness, pull in proportion.
    thick = alcove()[0].spec.skin_bottom.thick
    for deep in (3.0, 8.0):
        times = rows(deep)[ROW].ratio / found[ROW].ratio
        assert thick / (thick - deep) <= times <= (thick / (thick - deep)) ** 2


def test_with_no_groove_there_is_no_row() -> None:
    shelf, found = alcove()
    assert isinstance(shelf.spec.groove, Groove)
    bare = replace(shelf, spec=replace(shelf.spec, groove=None))
    assert box_of(bare).thinned is None
    assert any(row.id == ROW for row in found.rows)
    assert any(row.id.startswith("acc.hold@bottom skin, groove") for row in found.rows)


def test_only_places_along_the_groove_count() -> None:
    shelf, _ = alcove()
    thinned = box_of(shelf).thinned
    groove = shelf.spec.groove
    assert thinned is not None
    assert groove is not None
    at = box_of(shelf).reading.bent[1].at[thinned.places]
    turned = shelf.acting.stood.turned
    front = [turned.at(p) for p in shelf.legs[0].leg.front]
    edge = LineString(front)
    off = [edge.distance(Point(p)) for p in at]
    middle = groove.from_front + groove.width / 2
    assert max(abs(x - middle) for x in off) <= groove.width / 2 + 20.0 + 1e-6
    assert thinned.thick == pytest.approx(shelf.spec.skin_bottom.thick - groove.deep)


@cache
def grooved() -> Holds:
    """The alcove with a groove of 40 x 10 mm from 210 behind its front edge, which is where its locks stand."""
    job = jobs.job("reading-alcove")
    (spec,) = job.shelves
    made = replace(job, shelves=(replace(spec, groove=Groove(40.0, 10.0, 210.0)),))
    (design,) = full(made, jobs.MEMO).designs
    assert design.holds is not None
    return design.holds


def test_a_lock_in_a_groove_has_only_the_skin_that_is_left() -> None:
    """By hand: q 145.9 N/mm, 4.8 mm left, 2 mm out of it: 179 N by EN 1995-1-1 8.5.1 tilting, times k_mod 1.1."""
    by_hand = 1.1 * 145.9 * 4.8**2 / (2 * (4.4 + math.sqrt(4.4**2 + 4.8**2 / 4)))
    assert by_hand == pytest.approx(196.5, abs=0.5)
    row = next(row for row in grooved().checks if row.family == "hold.pull")
    assert row.capacity == pytest.approx(by_hand, rel=0.01)
    assert row.demand == 300.0
    assert row.state == "fails"
