"""Jobs as the shop sees them, without any statics: laid out, fitted, with their cores and parts."""

from __future__ import annotations

import dataclasses
from functools import cache

from ledgewright import core as core_room
from ledgewright import fitting, shop, survey
from ledgewright.job import Bench, Job, Meta, Order, Shop
from ledgewright.judge import homes
from tests.jobs import MEMO, job


@cache
def sections(name: str) -> tuple[shop.Made, ...]:
    """The sections of an example as the shop makes them."""
    found = []
    for spec in job(name).shelves:
        room = survey.room(job(name).tapes, spec.top - spec.thick / 2)
        for part, frame in homes(room, spec, MEMO):
            way = fitting.ways(room, frame, edging=part.edging_thick).way()
            core = core_room.core(part, frame, way) if way else None
            parts = shop.parts(spec=part, frame=frame, core=core)
            found.append(shop.Made(part, frame, core, parts))
    return tuple(found)


def bench(of: Job, **changes: object) -> Job:
    """The job with another way of working in the shop."""
    made: Bench = dataclasses.replace(of.shop.bench, **changes)  # type: ignore[arg-type]
    shop_of: Shop = dataclasses.replace(of.shop, bench=made)
    return dataclasses.replace(of, shop=shop_of)


def ordered(of: Job, order: Order) -> Job:
    """The job in another building order."""
    meta: Meta = dataclasses.replace(of.meta, order=order)
    return dataclasses.replace(of, meta=meta)


def hours(work: shop.Work) -> dict[str, float]:
    """Hours by what is done."""
    return dict(shop.hour_lines(work.tasks))
