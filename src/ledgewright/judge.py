"""Judge one shelf: layout, fitting, core, statics and bill, in that order."""

from __future__ import annotations

from dataclasses import dataclass

from ledgewright import core as core_room
from ledgewright import fitting, layout, shop, statics
from ledgewright.core import Core
from ledgewright.fitting import Way, Ways
from ledgewright.job import Demand, Job, Spec
from ledgewright.layout import Frame
from ledgewright.memo import Memo
from ledgewright.shop import Bill, Part
from ledgewright.statics import Holds
from ledgewright.survey import Room


@dataclass(frozen=True)
class Design:
    """One shelf, worked through; way and core are None where nothing goes on."""

    spec: Spec
    room: Room
    frame: Frame
    ways: Ways
    way: Way | None
    core: Core | None
    holds: Holds
    parts: tuple[Part, ...]
    bill: Bill


def judge(*, job: Job, room: Room, spec: Spec, demand: Demand, memo: Memo) -> Design:
    """Work one shelf through; each step is made at most once per input while the memo keeps it.

    Args:
        job: basis, shop and site of the whole job.
        room: the walls at this shelf's height.
        spec: the shelf.
        demand: its loads and limits.
        memo: kept by the caller, so that an unchanged step costs nothing.

    Returns:
        The design.

    Raises:
        LayoutError: if the shelf cannot be laid out on these walls at all.
    """
    frame = memo.get("layout", (room, spec), lambda: layout.frame(room, spec))
    ways = memo.get(
        "fitting",
        (room, frame, spec.edging_thick),
        lambda: fitting.ways(room, frame, edging=spec.edging_thick),
    )
    way = ways.way()
    core = (
        memo.get("core", (spec, frame, way), lambda: core_room.core(spec, frame, way))
        if way
        else None
    )
    basis, temperature = job.meta.basis, job.site.temperature
    holds = memo.get(
        "statics",
        (room, frame, spec, demand, basis, temperature, core),
        lambda: statics.holds(
            room=room,
            frame=frame,
            spec=spec,
            demand=demand,
            basis=basis,
            temperature=temperature,
            core=core,
        ),
    )
    parts = shop.parts(spec=spec, frame=frame, core=core)
    bill = shop.bill(job=job, spec=spec, frame=frame, core=core, parts=parts)
    return Design(spec, room, frame, ways, way, core, holds, parts, bill)
