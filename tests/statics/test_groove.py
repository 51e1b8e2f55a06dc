"""A light groove thins the bottom skin: what is left of it is bent by the forces of the whole skin there."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
from shapely.geometry import LineString, Point

from ledgewright.job import Groove
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
