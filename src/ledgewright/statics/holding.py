"""Whether a shelf holds: on its section model where it has a core, rod by rod where nothing goes on yet."""

from __future__ import annotations

from dataclasses import dataclass

from ledgewright.core import Core, mass
from ledgewright.job import Basis, Spec
from ledgewright.layout import Frame
from ledgewright.memo import Memo
from ledgewright.statics import checks, on_section, one_rod
from ledgewright.statics.bases import rules
from ledgewright.statics.families import missing
from ledgewright.statics.given import Given
from ledgewright.statics.inputs import NOMINAL
from ledgewright.statics.mechanics.section import Mechanism
from ledgewright.statics.model import CannotSay, Check, Holds, State
from ledgewright.statics.seats import rows
from ledgewright.statics.stand import Stood, seats, stand
from ledgewright.survey import Room


@dataclass(frozen=True)
class NotStood:
    """A shelf that cannot be put on the section model, and why; loose: a part of it moves by itself."""

    why: str
    loose: bool


def put(
    *,
    room: Room,
    frame: Frame,
    spec: Spec,
    core: Core,
    memo: Memo | None = None,
    rough: bool = False,
) -> Stood | NotStood:
    """Return a shelf on its section model, or why it cannot be put on it. The dear step: once per shape.

    docs/section-model.md.

    Args:
        room: the walls.
        frame: the shelf against them.
        spec: panels, timbers, thicknesses.
        core: its pieces of core.
        memo: kept by the caller: shelves of one shape are condensed once.
        rough: on a coarse mesh, for a first look.
    """
    if any(not any(rod.wall == leg.wall for rod in frame.rods) for leg in frame.legs):
        return NotStood("a leg has no rod", loose=False)
    try:
        return stand(room=room, frame=frame, spec=spec, core=core, memo=memo or Memo(), rough=rough)
    except Mechanism as lost:
        return NotStood(f"{lost}{_mended(spec)}", loose=True)
    except (ValueError, ArithmeticError) as beyond:
        return NotStood(str(beyond), loose=False)


def _mended(spec: Spec) -> str:
    """What would join the legs of an L whose skins both butt along one line, as a clause."""
    butted = len(spec.legs) > 1 and spec.skin_top.joint == spec.skin_bottom.joint == "butted"
    return (
        "; both skins butt along one line there: mitre the top one or cut it in one piece, or make two sections"
        if butted
        else ""
    )


def holds(
    given: Given,
    stood: Stood | NotStood | None = None,
    memo: Memo | None = None,
    *,
    keep: bool = True,
    only_drop: bool = False,
) -> Holds:
    """Return whether one shelf holds, and how far its front edge drops.

    docs/statics.md, docs/section-model.md. Wood framing only.

    Args:
        given: the shelf and its loads.
        stood: the shelf on its section model as `put` gives it, to spare doing it again.
        memo: kept by the caller, for what a shape alone decides.
        keep: whether to keep the derivations; sampled runs need none.
        only_drop: whether the drop alone is asked for, to compare designs.

    Returns:
        Checks with their derivations, drops (mm), forces (N, N mm) and what cannot be said. No check is made where
        the whole model cannot say.
    """
    core, memo = given.core, memo or Memo()
    if core is None:
        return one_rod.holds(given, keep=keep)
    on = stood or put(room=given.room, frame=given.frame, spec=given.spec, core=core, memo=memo)
    if isinstance(on, NotStood):
        return _not_stood(on, given)
    return on_section.holds(given, on, memo, keep=keep, only_drop=only_drop)


def _not_stood(on: NotStood, given: Given) -> Holds:
    """A mechanism is a failed check; anything else is outside the model."""
    weight = mass(spec=given.spec, frame=given.frame, core=given.core)
    into = one_rod.into(given.room, given.frame)
    made = (on_section.falls_apart(on.why),) if on.loose else ()
    said = () if on.loose else (CannotSay(one_rod.MODEL, on.why),)
    silent = (*said, *missing(made, said, into=into))
    verdict: State = "fails" if on.loose else "cannot say"
    return Holds(verdict, made, None, (), None, silent, one_rod.governs(made), weight)


def edges(room: Room, frame: Frame, spec: Spec, basis: Basis) -> tuple[Check, ...]:
    """Return the rows of the wood either side of every rod of a frame; none where edges of a member are not known.

    Args:
        room: the walls.
        frame: its rods, as drawn or as set.
        spec: the shelf, with what an engineer has accepted of it.
        basis: of the design.
    """
    made = (
        checks.bed_edge(seat, rules(basis), spec.accepted, keep=True)
        for seat in seats(rows(room, frame, NOMINAL))
    )
    return tuple(row for row in made if row is not None)


def edge_keeps(
    room: Room, frame: Frame, spec: Spec, basis: Basis
) -> dict[str, tuple[float, float]]:
    """Return how far each rod stays from the loaded and the other edge of its member (`checks.edge_keeps`).

    Args:
        room: the walls.
        frame: its rods as drawn.
        spec: the shelf, with what an engineer has accepted of it.
        basis: of the design.

    Returns:
        By the id of the rod (mm); none for a rod in a member whose edges are not known.
    """
    made = {
        seat.rod.id: checks.edge_keeps(seat, rules(basis), spec.accepted)
        for seat in seats(rows(room, frame, NOMINAL))
    }
    return {rod: keeps for rod, keeps in made.items() if keeps is not None}
