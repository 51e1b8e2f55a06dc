"""Judge one shelf: layout, fitting, core, statics and bill, in that order."""

from __future__ import annotations

from dataclasses import dataclass

from ledgewright import core as core_room
from ledgewright import fitting, layout, shop, statics
from ledgewright.core import Core
from ledgewright.fitting import Opening, Way, Ways
from ledgewright.job import Demand, Edit, Job, RodSpec, Spec
from ledgewright.layout import Frame
from ledgewright.memo import Memo
from ledgewright.shop import Bill, Part
from ledgewright.statics import Drop, Holds
from ledgewright.survey import Room
from ledgewright.units import show_length

EIGHTH = 3.175
"""An eighth of an inch (mm), in which stick-outs of inch jobs are settled."""


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
    openings: tuple[Opening, ...] = ()


@dataclass(frozen=True)
class Alternative:
    """What one way that goes would cost the shelf: its core and its drop, worked through like the chosen one.

    drop is None where the statics cannot say.
    """

    way: str
    longest_span: float
    ribs_cut: int
    drop: Drop | None


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

    def again(these_walls: Room, this_frame: Frame) -> Ways:
        return fitting.ways(these_walls, this_frame, edging=spec.edging_thick)

    key = (room, frame, spec.edging_thick)
    ways = memo.get("fitting", key, lambda: again(room, frame))
    way = ways.way()
    step = EIGHTH if job.meta.units == "in" else 2.0
    opens = (
        ()
        if way
        else memo.get(
            "openings", key, lambda: fitting.openings(room, frame, ways, again, step=step)
        )
    )
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
    return Design(spec, room, frame, ways, way, core, holds, parts, bill, opens)


def alternatives(job: Job, design: Design, memo: Memo) -> tuple[Alternative, ...]:
    """Work the core and the statics through for every way that goes, so that ways can be compared.

    Args:
        job: basis, site and the demands of the shelf.
        design: the shelf as judged, with all ways looked at.
        memo: kept by the caller; the chosen way costs nothing again.

    Returns:
        One row per way that goes, in the order of `design.ways`.
    """
    demand = next(d for d in job.demands if d.shelf == design.spec.id)
    return tuple(
        _alternative(job, design, demand, way, memo) for way in design.ways.ways if way.possible
    )


def _alternative(job: Job, design: Design, demand: Demand, way: Way, memo: Memo) -> Alternative:
    spec, frame = design.spec, design.frame
    core = memo.get("core", (spec, frame, way), lambda: core_room.core(spec, frame, way))
    if way is design.way:
        return Alternative(way.id, core.longest_span, core.ribs_cut, design.holds.drop)
    holds = statics.holds(
        room=design.room,
        frame=frame,
        spec=spec,
        demand=demand,
        basis=job.meta.basis,
        temperature=job.site.temperature,
        core=core,
        keep=False,
    )
    return Alternative(way.id, core.longest_span, core.ribs_cut, holds.drop)


def edits(job: Job, spec: Spec, opening: Opening) -> tuple[Edit, ...]:
    """Return an opening as edits of the job file; all of them together make the change.

    Args:
        job: with the paths of its obstacles.
        spec: the shelf, with the paths of its rods.
        opening: as the fitting found it.

    Returns:
        Edits in the order they must be made: rods that the shelf's own table describes get a table each.
    """
    if opening.kind == "remove":
        paths = [o.path for o in job.tapes.obstacles if o.id == opening.thing]
        return tuple(Edit(path, None) for path in paths)
    if opening.kind == "leave out":
        return _without(job, spec, opening.rods)
    return _shorter(job, spec, opening)


def _shorter(job: Job, spec: Spec, opening: Opening) -> tuple[Edit, ...]:
    size = f'"{opening.to:.3f} mm"'
    shared = f"{spec.path}.rods"
    if all(rod.member in opening.rods and rod.path == shared for rod in spec.rods):
        return (Edit(f"{shared}.projection", size),)
    made: list[Edit] = []
    fresh = sum(rod.path != shared for rod in spec.rods)
    for rod in spec.rods:
        if rod.member not in opening.rods:
            continue
        if rod.path != shared:
            made.append(Edit(f"{rod.path}.projection", size))
        else:
            table = f'{{ at = "{_place(job, rod)}", projection = {size} }}'
            made.append(Edit(f"{spec.path}.rod[{fresh}]", table))
            fresh += 1
    return tuple(made)


def _without(job: Job, spec: Spec, members: tuple[str, ...]) -> tuple[Edit, ...]:
    """The list of places without some rods; their own tables go first, from the last, so that indices hold."""
    shared = f"{spec.path}.rods"
    own = sorted(
        (r.path for r in spec.rods if r.member in members and r.path != shared), reverse=True
    )
    kept = ", ".join(f'"{_place(job, rod)}"' for rod in spec.rods if rod.member not in members)
    return (*(Edit(path, None) for path in own), Edit(f"{shared}.at", f"[{kept}]"))


def _place(job: Job, rod: RodSpec) -> str:
    """A rod's place as the job file writes it: the wall and the taped centre of its member."""
    wall = next(w for w in job.tapes.walls if w.id == rod.wall)
    member = next(m for m in wall.members if m.id == rod.member)
    taped = abs(member.left + member.right) / 2
    return f"{wall.id} {show_length(taped, job.meta.units, to=64)}"
