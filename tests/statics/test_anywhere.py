"""One thing anywhere: wherever it is put on the top, it asks no more than the row of the one thing says."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest

from ledgewright.job import Demand, Job, Leg, Spec, Thing
from ledgewright.job.model import depth_on
from ledgewright.memo import Memo
from ledgewright.plan import check
from ledgewright.statics import Check
from tests import jobs

AGAINST = (
    "the heaviest one thing told as a thing of the job, on a net of places over the whole top",
    "own consistency, no outside figure",
    "2 %",
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
