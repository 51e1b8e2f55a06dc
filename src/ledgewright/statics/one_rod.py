"""One-rod statics: every leg's load goes to its rods, and each rod stands alone with the load at its resultant.

The section counts as stiff and its slots as loose. It answers where there is no core to put on the section model,
because nothing goes on yet.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from ledgewright.core import mass
from ledgewright.job import Accepted, Demand, Lasts
from ledgewright.layout import Frame, Rod
from ledgewright.statics import checks, mechanics
from ledgewright.statics.bases import Combination, Resistance, Rules, rules
from ledgewright.statics.beam import Bed, Forces, bed, forces, front_drop, standing
from ledgewright.statics.block_checks import goes_in
from ledgewright.statics.checks import Case
from ledgewright.statics.families import Into, family, missing, verdict
from ledgewright.statics.formula import Working, formula
from ledgewright.statics.given import Given
from ledgewright.statics.inputs import Inputs
from ledgewright.statics.loads import Part, lasts, parts, self_weight
from ledgewright.statics.model import CannotSay, Check, Drop, DropAt, Holds, RodForce
from ledgewright.statics.row import Answering, made
from ledgewright.statics.seats import Row, Seat, rows
from ledgewright.survey import Room

MODEL = "model"
"""Family of a reason for which nothing at all is said."""
COLD, HOT = 2.0, 40.0
"""This near to an adhesive's least temperature, or at this heat on the day of setting (C), nothing is said."""
THICKEST = 3.0
"""No bond is known of bonded-in rods with more adhesive round them (mm, gap-filling epoxy; reference: rod_gap)."""
HOTTEST = 50.0
"""Where it ever gets hotter at the rods, nothing is said: glue softens and rods let go (C; shared plan, statics)."""

HUNG = Combination("D", "service", 1.0, 0.0, 0.0, 0.0, "the hung state, from which drop is counted")
KEPT = Combination(
    "D + what stays", "service", 1.0, 1.0, 0.0, 0.0, "what stays for months or years"
)


@formula(
    "w",
    "w_1 - w_0",
    unit="mm",
    source="Counted from the hung state",
    symbols={"w": "w_1", "hung": "w_0"},
)
def fall(*, w: float, hung: float) -> float:
    """Return a drop counted from the hung state.

    w: position of the front edge (mm). hung: the same under self-weight alone. Returns mm.
    """
    return w - hung


@formula(
    "w_1",
    "w_oo + w_1 - w_s",
    unit="mm",
    source="Loads that come and go add what they add today",
    symbols={"w": "w_oo", "full": "w_1", "kept": "w_s"},
)
def added(*, w: float, full: float, kept: float) -> float:
    """Return the front edge's position after creep with the loads that come and go on top.

    w: after creep under what stays (mm). full: today under all. kept: today under what stays. Returns mm.
    """
    return w + full - kept


def holds(given: Given, *, keep: bool = True) -> Holds:
    """Return whether one shelf holds, and how far its front edge drops.

    docs/statics.md: one-rod model. Wood framing only; loose slots; a load whose resultant lies within the rods.

    Args:
        given: the shelf and its loads; no core counts as solid, towards safety.
        keep: whether to keep the derivations; sampled runs need none.

    Returns:
        Checks with their derivations, drops (mm), forces (N, N mm) and what cannot be said. No check is made where
        the whole model cannot say.
    """
    room, frame, spec, demand, inputs = (
        given.room,
        given.frame,
        given.spec,
        given.demand,
        given.inputs,
    )
    weight = mass(spec=spec, frame=frame, core=given.core)
    sits = into(room, frame)
    basis_rules = rules(given.basis)
    reasons = tuple(
        CannotSay(MODEL, why)
        for why in unsaid(room, frame, basis_rules, given.temperature, given.heat)
    )
    if reasons:
        silent = reasons + missing((), reasons, into=sits)
        return Holds("cannot say", (), None, (), None, silent, None, weight)
    pressure = self_weight(spec, frame, given.core)
    rods = [
        rod
        for row in rows(room, frame, inputs)
        for rod in _rods(row, demand, basis_rules, inputs, pressure=pressure, keep=keep)
    ]
    made, said = _judge(rods, demand, spec.accepted, keep=keep)
    fallen, drop = _drop(rods, demand, inputs, keep=keep)
    made += fallen
    silent = (*said, *missing(made, said, into=sits))
    return Holds(
        verdict=verdict(made, silent, into=sits),
        checks=tuple(made),
        drop=drop,
        forces=tuple(_force(case) for rod in rods for case in rod.cases if case.past_tip <= 0),
        load_limit=None,
        cannot_say=silent,
        governs=governs(made),
        mass=weight,
    )


def into(room: Room, frame: Frame) -> Into:
    """Return the kinds of member that rods sit in; a rod that sits in none counts as in a stud."""
    kinds = {(m.wall, m.id): m.kind for wall in room.walls for m in wall.members}
    return frozenset(kinds.get((rod.wall, rod.member), "stud") for rod in frame.rods)


def governs(made: Sequence[Check]) -> str | None:
    """Return the id of the judged row with the greatest ratio; edges of the wood are a matter of scope."""
    judged = [row for row in made if not row.information and row.family != "bed.edge"]
    return max(judged, key=lambda row: row.ratio).id if judged else None


def unsaid(
    room: Room, frame: Frame, basis: Rules, temperature: float, heat: float | None
) -> tuple[str, ...]:
    """Return why the whole model cannot say anything about a shelf, in words; empty if it can.

    One rod that cannot be judged silences all: its neighbours' shares rest on it.

    Args:
        room: the walls.
        frame: the shelf against them.
        basis: the rules.
        temperature: on the day of setting (C).
        heat: the most there ever is at the rods (C); None if nobody has said.
    """
    bare = (leg.wall for leg in frame.legs if not any(rod.wall == leg.wall for rod in frame.rods))
    found = [f"no rod carries the leg on wall {room.wall(wall).called}" for wall in bare]
    if heat is not None and heat > HOTTEST:
        found.append(f"it gets hotter than {HOTTEST:.0f} C at its rods, where glue softens")
    for rod in frame.rods:
        found += [why for why in _on_wall(room, rod) if why not in found]
        found += [f"rod {rod.mark}: {why}" for why in _of_rod(room, rod, basis, temperature)]
    return tuple(found)


def _on_wall(room: Room, rod: Rod) -> Iterator[str]:
    wall = room.wall(rod.wall)
    if wall.framing == "unknown":
        yield f"wall {wall.called}: nobody has said what its framing is"
    elif wall.framing != "wood":
        yield f"wall {wall.called} is {wall.framing}: only wood framing is judged"
    if wall.depth_to_wood is None:
        yield f"wall {wall.called}: the depth to wood is not known"


def _of_rod(room: Room, rod: Rod, basis: Rules, temperature: float) -> Iterator[str]:
    member = next((m for m in room.wall(rod.wall).members if m.id == rod.member), None)
    if member is None:
        yield f"member {rod.member} is not in wall {room.wall(rod.wall).called}"
    elif member.timber is None:
        yield "the timber it sits in is not known"
    else:
        lacks = basis.missing(rod.bar, member.timber)
        if lacks is not None:
            yield lacks
        if rod.embedment >= (goes_in(member) or 0.0):
            yield "it is set deeper than its timber"
    if rod.in_slot == "glued":
        yield "a rod glued into its slot is not modelled yet"
    yield from _of_adhesive(rod, temperature)


def _round_about(rod: Rod) -> float:
    """The least round hole that the bar passes (mm)."""
    bar = rod.bar
    return bar.width if bar.shape.startswith("round") else math.hypot(bar.width, bar.height)


def _of_adhesive(rod: Rod, temperature: float) -> Iterator[str]:
    adhesive = rod.adhesive
    if adhesive.use != "rods":
        yield f"{adhesive.name} is not an adhesive for rods"
    ring = (rod.hole - _round_about(rod)) / 2
    if ring <= 0 or adhesive.E_low <= 0:
        yield "its hole leaves no room for adhesive"
    elif ring > THICKEST:
        yield f"its hole leaves {ring:.1f} mm round the bar, which is more than {THICKEST:.0f} mm of adhesive"
    if temperature < adhesive.coldest + COLD:
        yield f"{temperature:.1f} C on the day is too near the least for {adhesive.name}, {adhesive.coldest:.0f} C"
    if temperature > HOT:
        yield f"{temperature:.0f} C is too near the heat that softens {adhesive.name}"


def started(parts: Sequence[Part], combination: Combination, *, keep: bool) -> Working:
    """Return a derivation that starts with the lines of those loads that a combination counts."""
    counted = (part for part in parts if combination.factor(part.kind) > 0)
    return Working(keep=keep, after=(line for part in counted for line in part.lines))


@dataclass(frozen=True)
class Shared:
    """What acts on a rod that carries its share of every load, at the lever of each."""

    parts: tuple[Part, ...]
    combination: Combination
    where: str = ""
    in_front: float = 0.0
    at_flat: float = 0.0

    @property
    def stays(self) -> Lasts:
        """How long the contents stay."""
        return lasts(self.parts)

    def working(self, *, keep: bool) -> Working:
        """Return a derivation that starts with this rod's loads."""
        return started(self.parts, self.combination, keep=keep)

    def forces(self, w: Working) -> Forces:
        """Return the forces at the wood, with their lines if they are kept."""
        return forces(w, self.parts, self.combination)


@dataclass(frozen=True)
class _Rod:
    """One rod with everything that rests on it."""

    seat: Seat
    parts: tuple[Part, ...]
    rules: Rules
    inputs: Inputs

    @cached_property
    def today(self) -> Bed:
        """The rod's bed on the day it is hung."""
        return bed(Working(keep=False), self.seat, self.inputs)

    @cached_property
    def later(self) -> Bed:
        """The rod's bed after creep."""
        return bed(Working(keep=False), self.seat, self.inputs, crept=True)

    def lying(self, w: Working, *, crept: bool = False) -> Bed:
        """Return one of the two, with its lines if they are kept."""
        if w.keep:
            return bed(w, self.seat, self.inputs, crept=crept)
        return self.later if crept else self.today

    @cached_property
    def cases(self) -> tuple[Case, ...]:
        """The rod under every combination that has a load of its own to bring."""
        there = {part.kind for part in self.parts}
        return tuple(
            Case(self.seat, self.rules, self.inputs, Shared(self.parts, each), self.today, each)
            for each in self.rules.combinations
            if (each.single == 0 or "single" in there)
            and (each.accident == 0 or "accident" in there)
        )

    @property
    def service(self) -> Case:
        """The rod under self-weight and contents as they stand."""
        return next(case for case in self.cases if case.combination.situation == "service")


def _rods(
    row: Row, demand: Demand, basis: Rules, inputs: Inputs, *, pressure: float, keep: bool
) -> list[_Rod]:
    return [
        _Rod(seat, parts(row, i, demand=demand, pressure=pressure, keep=keep), basis, inputs)
        for i, seat in enumerate(row.seats)
    ]


def _judge(
    rods: Sequence[_Rod], demand: Demand, accepted: Accepted | None, *, keep: bool
) -> tuple[list[Check], list[CannotSay]]:
    """Return the rows of all rods, and what cannot be said of any of them."""
    made: list[Check] = []
    said: list[CannotSay] = []
    for rod in rods:
        cases = rod.cases
        reached = [case for case in cases if case.past_tip <= 0]
        said += [_past(case) for case in cases if case.past_tip > 0]
        made += checks.of_rod(reached, accepted, keep=keep)
        edge = checks.bed_edge(rod.seat, rod.rules, accepted, keep=keep)
        if edge is None:
            said.append(
                CannotSay("bed.edge", f"rod {rod.seat.rod.mark}: heights of its blocking not known")
            )
        else:
            made.append(edge)
        leaning = checks.accident(reached, accepted, keep=keep)
        made += [leaning] if leaning is not None else []
    if len(rods) == 1:
        said.append(
            CannotSay("stab.contact", "one rod alone does not keep a shelf from turning about it")
        )
    if demand.accident_declined:
        made.append(checks.declined())
    elif not demand.accidents:
        said.append(CannotSay("acc.hold", "no accidental load is given"))
    return made, said


def _past(case: Case) -> CannotSay:
    """What is lost where a resultant lies beyond the rod: the drop in service, and every row of that case."""
    name = {"accident": "acc.hold"}.get(case.combination.situation, "stab.contact")
    why = (
        f"rod {case.seat.rod.mark} under {case.name}: the resultant lies {case.past_tip:.0f} mm "
        "beyond the tip; prying in the slot is not modelled yet"
    )
    return CannotSay(name, why)


def _today(rod: _Rod, w: Working) -> float:
    """Return the front drop of a rod from the hung state, day one (mm)."""
    lying = rod.lying(w)
    full = front_drop(w, rod.seat, lying, forces(w, rod.parts, rod.service.combination))
    w.last("w_1", about="Hung and loaded")
    hung = front_drop(w, rod.seat, lying, forces(w, rod.parts, HUNG))
    w.last("w_0", about="Hung")
    return w(fall, w=full, hung=hung)


def _long(rod: _Rod, w: Working) -> float:
    """Return the front drop of a rod from the hung state after creep under what stands on it (mm)."""
    combination = rod.service.combination
    crept = rod.lying(w, crept=True)
    stays = standing(rod.parts)
    old = front_drop(w, rod.seat, crept, forces(w, stays, combination))
    w.last("w_oo", about="After creep, under what stays")
    lying = rod.lying(w)
    if len(stays) < len([part for part in rod.parts if part.kind in ("dead", "rod", "live")]):
        full = front_drop(w, rod.seat, lying, forces(w, rod.parts, combination))
        w.last("w_1", about="Hung and loaded")
        kept = front_drop(w, rod.seat, lying, forces(w, stays, combination))
        w.last("w_s", about="Today, under what stays")
        old = w(added, w=old, full=full, kept=kept)
    hung = front_drop(w, rod.seat, lying, forces(w, rod.parts, HUNG))
    w.last("w_0", about="Hung")
    return w(fall, w=old, hung=hung)


def _dropped(
    name: str,
    of: Callable[[_Rod, Working], float],
    rods: Sequence[_Rod],
    limit: float,
    *,
    keep: bool,
) -> tuple[Check, DropAt]:
    """Return the row and the figure of the rod whose front edge falls furthest."""
    worst = max(rods, key=lambda rod: of(rod, Working(keep=False)))
    w = started(worst.parts, worst.service.combination, keep=keep)
    value = of(worst, w)
    about, case = family(name), worst.service.name
    row = made(
        name,
        (value, Resistance(limit, "in", "", about.source)),
        unit="mm",
        case=case,
        steps=w.steps,
        place=checks.place(worst.seat),
        answering=Answering(),
    )
    return row, DropAt(value, limit, worst.seat.rod.id, case)


def _drop(
    rods: Sequence[_Rod], demand: Demand, inputs: Inputs, *, keep: bool
) -> tuple[list[Check], Drop | None]:
    """Return the drop rows and figures; none where a load in service lies beyond a rod's tip."""
    if any(rod.service.past_tip > 0 for rod in rods):
        return [], None
    today, day_one = _dropped("drop.today", _today, rods, demand.limits.drop_today, keep=keep)
    long, later = _dropped("drop.long", _long, rods, demand.limits.drop_long, keep=keep)
    plays = [rod.seat.rod.clearance.up + inputs.clearance for rod in rods]
    tilt = max(
        mechanics.hang_tilt(c=c, D=rod.seat.depth, n=rod.seat.tip - rod.seat.back)
        for rod, c in zip(rods, plays, strict=True)
    )
    return [today, long], Drop(day_one, later, tilt, max(plays))


def _force(case: Case) -> RodForce:
    lying, acting, face = case.bed, case.solved.acting, case.solved.face
    bar = {"P": acting.P, "a": acting.a, "E": lying.E, "I": lying.I}
    return RodForce(
        rod=case.seat.rod.id,
        case=case.name,
        load=acting.P,
        lever=acting.a,
        V=acting.V,
        M=acting.M,
        drop_at_face=face.y,
        turn_at_face=face.theta,
        drop_at_load=mechanics.load_drop(y=face.y, theta=face.theta, **bar),
        turn_at_load=mechanics.load_turn(theta=face.theta, **bar),
    )
