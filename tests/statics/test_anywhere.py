"""One thing anywhere: wherever it is put on the top, it asks no more than the row of the one thing says."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise, product

import pytest
from shapely import unary_union
from shapely.geometry import LineString, Polygon

from ledgewright.job import Demand, Job, Leg, Spec, Thing
from ledgewright.job.model import depth_on
from ledgewright.memo import Memo
from ledgewright.plan import check
from ledgewright.statics import Check
from tests import jobs
from tests.statics import by_rule

AGAINST = (
    "the heaviest one thing told as a thing of the job, on a net of places over the whole top; places by shapely",
    "own consistency, no outside figure; geometry",
    "2 %; 3 mm",
)

MORE, COUNTS = 1.02, 0.1
SIDE = 100.0
"""A thing of this size each way, as the one thing is taken (mm)."""
NOTHING = 0.01
"""The one thing anywhere, where it is told as a thing instead (kg)."""


def rows(job: Job) -> dict[tuple[str, str], Check]:
    return {(d.spec.id, c.id): c for d in check(job, Memo()) for c in d.holds.checks}


def with_thing(job: Job, demand: Demand, thing: Thing) -> Job:
    made = replace(demand, loads=(*demand.loads, thing), single=NOTHING)
    return replace(job, demands=tuple(made if d is demand else d for d in job.demands))


def places(spec: Spec, leg: Leg) -> list[tuple[float, float]]:
    """Along a leg, clear of its ends, and out from the wall: at the back, amid the depth, at the front."""
    deep, half = depth_on(spec.legs, leg.wall, spec.depth), SIDE / 2
    # Where both legs of a corner lie only one section does.
    low, high = leg.start + half + 30, leg.end - half - 30
    if leg is not spec.legs[0]:
        low += spec.depth
    along = [low + (high - low) * k / 8 for k in range(9)]
    return list(product(along, (half + 10, deep / 2, deep - spec.edging_thick - half)))


def none_asks_more(name: str, start: int, step: int) -> None:
    job = jobs.job(name)
    found = rows(job)
    for spec, demand in zip(job.shelves, job.demands, strict=True):
        every = [(leg, at) for leg in spec.legs for at in places(spec, leg)]
        for leg, (along, out) in every[start::step]:
            thing = Thing(
                "thing", leg.wall, along, out, (SIDE, SIDE), None, demand.single, "minutes"
            )
            for key, row in rows(with_thing(job, demand, thing)).items():
                counts = row.ratio > COUNTS and row.case.startswith("strength")
                if counts and key in found:
                    assert row.ratio <= MORE * found[key].ratio, (leg.wall, along, out, row.id)


@pytest.mark.parametrize("name", ["reading-alcove", "stoneware-corner-first-try"])
def test_the_one_thing_stands_to_both_sides_of_every_rod(name: str) -> None:
    """By its size from the rod's middle, on the top, at the wall or half its size off it: by shapely."""
    (shelf, _), *_ = by_rule.judged(jobs.job(name))
    acting = shelf.acting
    top = unary_union([tile.shape for tile in acting.stood.tiles])
    axes = {
        seat.rod.mark: LineString([seat.rod.point(-100.0)[:2], seat.rod.point(600.0)[:2]])
        for seat in shelf.seats
    }
    bays = [(a, b) for row in shelf.legs for a, b in pairwise(row.seats) if b.x - a.x > 3 * SIDE]
    pairs = {(a.rod.mark, b.rod.mark) for a, b in bays}
    for kind in ("back beside", "beside"):
        stood = {
            a.spot.marks: Polygon(a.plan) for a in acting.atoms if a.spot and a.spot.kind == kind
        }
        assert {marks for marks in stood if len(marks) == 2} == pairs | {(b, a) for a, b in pairs}
        for (mark, *other), square in stood.items():
            assert square.intersection(top).area == pytest.approx(SIDE**2, rel=1e-6)
            assert square.centroid.distance(axes[mark]) == pytest.approx(SIDE, abs=3.0)
            for far in other:
                between = axes[mark].distance(axes[far])
                assert square.centroid.distance(axes[far]) == pytest.approx(between - SIDE, abs=5.0)


@pytest.mark.parametrize(
    ("name", "start"),
    [("stoneware-corner-first-try", 30), ("reading-alcove", 12)],
)
def test_the_one_thing_asks_no_more_anywhere(name: str, start: int) -> None:
    none_asks_more(name, start, 24)


@pytest.mark.soak
@pytest.mark.parametrize("name", ["stoneware-corner-first-try", "reading-alcove", "record-wall"])
def test_the_one_thing_asks_no_more_at_any_place_of_a_net(name: str) -> None:
    none_asks_more(name, 0, 1)
