"""The checks of one rod: what is asked of it under each combination, and what rod and wood can take."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Protocol

from ledgewright.core import FLAT_DEEP
from ledgewright.job import Accepted, Lasts
from ledgewright.layout import BESIDE
from ledgewright.statics import mechanics
from ledgewright.statics.bases import Combination, Grip, Resistance, Rules
from ledgewright.statics.beam import Bed, Forces, at_face, bed
from ledgewright.statics.families import family
from ledgewright.statics.formula import Working, formula
from ledgewright.statics.inputs import Inputs
from ledgewright.statics.model import Check, Place, Scope, State
from ledgewright.statics.row import OPEN, Answering, Found, leaned, made, ratio
from ledgewright.statics.seats import Seat
from ledgewright.stock import Bar
from ledgewright.survey import MARKED_SD, Member


@formula("p_0", "frac(k y_0, d)", unit="MPa", source="Winkler bed", symbols={"y": "y_0"})
def face_pressure(*, k: float, y: float, d: float) -> float:
    """Return the pressure of the rod on the wood at its face.

    Winkler bed. k: bed modulus (MPa). y: movement there (mm). d: diameter (mm). Returns MPa.
    """
    return k * y / d


@formula(
    "p_l",
    "0.5 F",
    unit="MPa",
    source="Below half the bearing strength the wood answers in a line (assumed)",
)
def linear_limit(*, F: float) -> float:
    """Return the pressure up to which the wood is taken as springy.

    Assumed: half the bearing strength. F: bearing strength (MPa). Returns MPa.
    """
    return 0.5 * F


@formula("sigma", "frac(M_m, S)", unit="MPa", source="Elastic bending", symbols={"M": "M_m"})
def bending_stress(*, M: float, S: float) -> float:
    """Return the greatest bending stress.

    Elastic bending. M: moment (N mm). S: elastic modulus (mm3). Returns MPa.
    """
    return M / S


@formula("e_n", "n d", unit="mm", source="Edge distance as a multiple of the diameter")
def edge_needed(*, n: float, d: float) -> float:
    """Return the edge distance that is asked for.

    n: multiple. d: diameter (mm). Returns mm.
    """
    return n * d


@formula(
    "e_h",
    "e - 2 s",
    unit="mm",
    source="Measured edge distance less two standard deviations of measuring, and of marking or reading",
)
def edge_had(*, e: float, s: float) -> float:
    """Return the edge distance that is sure to be there.

    e: edge distance as measured (mm). s: standard deviation of the member's centre, and of the mark or of a reading
    (mm). Returns mm. Standard deviations: `edge_sd`.
    """
    return e - 2 * s


def edge_sd(member: Member) -> float:
    """Return how sure the edge distance of a rod is, as drawn or as read (mm, one standard deviation).

    As drawn, its mark lies off by `MARKED_SD`. Once it is read that is gone, but its readings are good to half a
    millimetre at face and tip, which a hole half as deep as the rod is long carries to its end 1.6 times: 0.8 mm, as
    much again (general law of error propagation). The doubt of the member itself stays.

    Args:
        member: the stud or blocking it is in.
    """
    return math.hypot(member.sd, MARKED_SD)


@dataclass(frozen=True)
class Solved:
    """A rod under one combination: what acts on it, and its answer at the wood face."""

    acting: Forces
    face: mechanics.Face


class Action(Protocol):
    """What acts on one rod under one combination of loads."""

    @property
    def where(self) -> str:
        """Which loads stand where, in words; empty if all of them everywhere."""
        ...

    @property
    def stays(self) -> Lasts:
        """How long the contents stay."""
        ...

    @property
    def in_front(self) -> float:
        """The greatest moment in the rod in front of the wood, or 0 if it is the one at the face (N mm)."""
        ...

    @property
    def at_flat(self) -> float:
        """The greatest moment along its flat for a grub screw, or 0 if it has none (N mm)."""
        ...

    def working(self, *, keep: bool) -> Working:
        """Return a derivation that starts with what leads to the forces."""
        ...

    def forces(self, w: Working) -> Forces:
        """Return the forces at the wood, with their lines if they are kept."""
        ...


@dataclass(frozen=True)
class Case:
    """One rod under one combination, with the means to work a check out."""

    seat: Seat
    rules: Rules
    inputs: Inputs
    action: Action
    bed: Bed
    combination: Combination

    @property
    def name(self) -> str:
        """What to call the combination."""
        where = self.action.where
        return f"{self.combination.situation}: {self.combination.id}{f', {where}' if where else ''}"

    @property
    def stays(self) -> Lasts:
        """How long the contents stay."""
        return self.action.stays

    def acting(self, w: Working) -> Forces:
        """Return the forces at the wood, with their lines if they are kept."""
        return self.action.forces(w)

    def working(self, *, keep: bool) -> Working:
        """Return a derivation that starts with this rod's loads."""
        return self.action.working(keep=keep)

    @cached_property
    def solved(self) -> Solved:
        """The rod solved once, without its lines."""
        w = Working(keep=False)
        acting = self.acting(w)
        return Solved(acting, at_face(w, self.bed, acting))

    def solve(self, w: Working) -> Solved:
        """Return the rod solved, with its lines if they are kept."""
        if w.keep:
            acting = self.acting(w)
            at_face(w, bed(w, self.seat, self.inputs), acting)
        return self.solved

    @property
    def past_tip(self) -> float:
        """How far the resultant lies beyond the rod's tip (mm); not above 0 where the rod reaches it."""
        return self.solved.acting.a - self.seat.tip


NOWHERE = "no letter covers that here"
FARTHEST = 4.0
"""An edge distance that is asked for may be so many times what is there, no more, to pass on an engineer's word."""
AT_FLAT = "at the flat for its grub screw"
ALONG_FLAT = "Section model: the greatest moment along the flat; moduli there of what is left"
IN_FRONT = "Section model: the greatest moment in front of the wood"

Rule = Callable[[Case, Working], Found]


def _at(w: Working, of: str, face: mechanics.Face, x: float) -> float:
    x = w.given("x", x, unit="mm", source=f"Depth of the greatest {of}")
    return face.at(w, mechanics.moment_at if of == "moment" else mechanics.shear_at, x)


def _most_bent(case: Case, w: Working) -> float:
    face = case.solve(w).face
    M = _at(w, "moment", face, face.peak_at)
    w.last("M_m")
    M, in_front = max(M, face.M), case.action.in_front
    if in_front > M:
        M = w.given("M_m", in_front, unit="N mm", source=f"{IN_FRONT} (docs/section-model.md)")
    return M


def rod_bend(case: Case, w: Working) -> Found:
    """Return the greatest moment in the rod and what it can take (N mm); at its flat where that is nearer."""
    if case.action.at_flat and _less(_bent_at_flat, _bent_whole, case):
        return _bent_at_flat(case, w)
    return _bent_whole(case, w)


def _bent_whole(case: Case, w: Working) -> Found:
    M = _most_bent(case, w)
    rod = case.seat.rod
    length = rod.free + rod.projection
    return M, case.rules.rod_bend(w, rod.bar, length, case.combination.situation)


def _bent_at_flat(case: Case, w: Working) -> Found:
    rod = case.seat.rod
    M, length = _at_flat(case, w), rod.free + rod.projection
    can = case.rules.rod_bend(w, rod.bar.filed(FLAT_DEEP), length, case.combination.situation)
    return M, replace(can, reason=can.reason or AT_FLAT)


def _at_flat(case: Case, w: Working) -> float:
    w.given("h_f", FLAT_DEEP, unit="mm", source="Filed off underneath for the grub screw")
    source = f"{ALONG_FLAT} (docs/section-model.md)"
    return w.given("M_m", case.action.at_flat, unit="N mm", source=source)


def _less(one: Rule, other: Rule, case: Case) -> bool:
    """Whether one rule leaves less than another."""
    quiet = Working(keep=False)
    return ratio(one(case, quiet)) > ratio(other(case, quiet))


def rod_shear(case: Case, w: Working) -> Found:
    """Return the greatest shear in the rod and what it can take (N)."""
    face = case.solve(w).face
    V = _at(w, "shear", face, face.most_sheared_at)
    w.last("V_m")
    most = max(abs(V), face.V)
    return most, case.rules.rod_shear(w, case.seat.rod.bar, case.combination.situation)


def rod_yield(case: Case, w: Working) -> Found:
    """Return the greatest bending stress in service and the yield strength (MPa); at its flat where it is greater."""
    if case.action.at_flat and _less(_yields_at_flat, _yields_whole, case):
        return _yields_at_flat(case, w)
    return _yields_whole(case, w)


def _yields_whole(case: Case, w: Working) -> Found:
    return _yields(case.seat.rod.bar, _most_bent(case, w), w)


def _yields_at_flat(case: Case, w: Working) -> Found:
    stress, can = _yields(case.seat.rod.bar.filed(FLAT_DEEP), _at_flat(case, w), w)
    return stress, replace(can, reason=AT_FLAT)


def _yields(bar: Bar, M: float, w: Working) -> Found:
    stress = w(bending_stress, M=M, S=bar.elastic_modulus)
    typical = bar.yield_is == "typical"
    F = w.given("F_y", bar.Fy, unit="MPa", source=bar.source, assumed=typical)
    if bar.stainless:
        F = w(stays_straight, F=F)
        w.last(assumed=True)
    return stress, Resistance(F, "in", "", "Mechanics")


@formula(
    "F_s",
    "0.7 F_y",
    unit="MPa",
    source="Assumed: stainless steel has no yield point; at its proof stress it stays bent",
    symbols={"F": "F_y"},
)
def stays_straight(*, F: float) -> float:
    """Return the stress up to which a stainless bar stays straight but for a hair.

    Assumed; EN 1993-1-4 Annex C (from memory): the curve is round from about there, 0.2 % stays at F itself. F: proof
    stress (MPa). Returns MPa.
    """
    return 0.7 * F


def grip(case: Case) -> Grip:
    """Return the rod in the wood under its forces, as a basis sees it.

    Raises:
        ValueError: if the member's timber is not known.
    """
    timber, acting = case.seat.member.timber, case.solved.acting
    if timber is None:
        msg = f"member {case.seat.member.id} has no timber"
        raise ValueError(msg)
    angle = 90.0 if case.seat.across else 0.0
    return Grip(case.seat.rod.bar, timber, angle, case.seat.rod.embedment, acting.V, acting.M)


def bed_limit(case: Case, w: Working) -> Found:
    """Return the load on the rod and what the wood takes at that lever, the rod straight (N)."""
    if w.keep:
        case.acting(w)
    can = case.rules.bed_limit(w, grip(case), case.combination.situation, case.stays)
    return case.solved.acting.V, can


def bed_hinge(case: Case, w: Working) -> Found:
    """Return the load on the rod and what it takes at that lever until it hinges in the wood (N)."""
    if w.keep:
        case.acting(w)
    can = case.rules.bed_hinge(w, grip(case), case.combination.situation, case.stays)
    return case.solved.acting.V, can


def bed_linear(case: Case, w: Working) -> Found:
    """Return the pressure of the rod at the wood's face and half the bearing strength (MPa)."""
    face = case.solve(w).face
    p = w(face_pressure, k=face.k, y=face.y, d=case.seat.rod.bar.width)
    F = case.rules.bearing(w, grip(case))
    limit = w(linear_limit, F=F)
    w.last(assumed=True)
    return p, Resistance(limit, "in", "", "Mechanics; half the bearing strength (assumed)")


RULES: tuple[tuple[str, str, str, Rule], ...] = (
    ("rod.bend", "strength", "N mm", rod_bend),
    ("rod.shear", "strength", "N", rod_shear),
    ("rod.yield", "service", "MPa", rod_yield),
    ("bed.limit", "strength", "N", bed_limit),
    ("bed.hinge", "strength", "N", bed_hinge),
    ("bed.linear", "service", "MPa", bed_linear),
)
"""Family, situation it is made for, unit and rule."""
ACCIDENT = ("rod.bend", "rod.shear", "bed.limit")
"""The strength families that must stand the accidental load."""


def place(seat: Seat) -> Place:
    """Return where a rod is, for a check."""
    along, _ = seat.wall.figures(seat.rod.point(0.0))
    return Place(seat.wall.id, seat.member.id, along, seat.rod.origin[2])


def _row(
    name: str,
    unit: str,
    rule: Rule,
    cases: Sequence[Case],
    accepted: Accepted | None,
    *,
    keep: bool,
) -> Check:
    """Return the row of the worst of several cases."""
    worst = max(cases, key=lambda case: ratio(rule(case, Working(keep=False))))
    w, seat = worst.working(keep=keep), worst.seat
    found = rule(worst, w)
    return made(
        f"{name}@{seat.rod.id}",
        found,
        unit=unit,
        case=worst.name,
        steps=w.steps,
        place=place(seat),
        answering=Answering(accepted, seat.wall.known.engineer),
    )


def of_rod(cases: Sequence[Case], accepted: Accepted | None, *, keep: bool) -> tuple[Check, ...]:
    """Return the strength and service rows of one rod, each for its worst case.

    Args:
        cases: this rod under every combination that the model can judge.
        accepted: what an engineer has accepted of this shelf.
        keep: whether to keep the derivations.
    """
    rows = []
    for name, situation, unit, rule in RULES:
        fit = [case for case in cases if case.combination.situation == situation]
        if name == "bed.linear":
            fit = [case for case in fit if case.combination.single == 0]
        if fit:
            rows.append(_row(name, unit, rule, fit, accepted, keep=keep))
    return tuple(rows)


def accident(cases: Sequence[Case], accepted: Accepted | None, *, keep: bool) -> Check | None:
    """Return the strength row that the accidental load takes furthest; None if no case has it."""
    fit = [case for case in cases if case.combination.situation == "accident"]
    if not fit:
        return None
    rows = [
        _row(name, unit, rule, fit, accepted, keep=keep)
        for name, _, unit, rule in RULES
        if name in ACCIDENT
    ]
    worst = max(rows, key=_hopeless)
    return replace(leaned(worst), id=f"acc.hold@{fit[0].seat.rod.id}")


def _hopeless(row: Check) -> tuple[bool, bool, float]:
    """A row that fails comes before one that says nothing, that before one that passes; then by ratio."""
    return row.state == "fails", row.state == "cannot say", row.ratio


def declined() -> Check:
    """Return the row of an accidental load that the client has declined: shown, never a pass of its own."""
    about = family("acc.hold")
    return Check(
        id="acc.hold",
        family="acc.hold",
        title=about.title,
        place=None,
        case="accident",
        demand=0.0,
        capacity=0.0,
        ratio=0.0,
        unit="N",
        state="cannot say",
        scope="out",
        information=True,
        reason="declined by the client: nobody may lean, climb or sit on this shelf",
        source=about.source,
        steps=(),
    )


def bed_edge(seat: Seat, rules: Rules, accepted: Accepted | None, *, keep: bool) -> Check | None:
    """Return whether there is wood enough either side of a rod; None if the member's edges are not known.

    Too little is outside what the bearing strengths were made for, yet common: it stands as "cannot say"
    until an engineer accepts it. A hole that reaches the edge fails.
    """
    edges = seat.edges
    if edges is None:
        return None
    rule, about = rules.edge(across=seat.across), family("bed.edge")
    who = Answering(accepted, seat.wall.known.engineer).who("bed.edge")
    made = [
        _at_edge(seat, n, e, who, keep=keep)
        for n, e in ((rule.loaded, edges[0]), (rule.other, edges[1]))
    ]
    w, needed, had, (state, scope, reason) = max(
        made, key=lambda each: (_WORSE.index(each[3][0]), each[3][1] == "out", each[1] / each[2])
    )
    return Check(
        id=f"bed.edge@{seat.rod.id}",
        family="bed.edge",
        title=about.title,
        place=place(seat),
        case="always",
        demand=needed,
        capacity=had,
        ratio=needed / had,
        unit="mm",
        state=state,
        scope=scope,
        information=False,
        reason=reason,
        source=rule.source,
        steps=w.steps,
    )


def edge_keeps(seat: Seat, rules: Rules, accepted: Accepted | None) -> tuple[float, float] | None:
    """Return how far a rod stays from its loaded and its other edge so that `bed_edge` says no worse than it does here.

    A rod that keeps the whole distance of the rules here keeps it, unless somebody answers for less; else what no
    letter covers is the bound.

    Args:
        seat: the rod as drawn.
        rules: of the basis.
        accepted: what an engineer has accepted of the shelf.

    Returns:
        Distances of its middle as measured (mm); None if the member's edges are not known.
    """
    if seat.edges is None:
        return None
    rule, wide = rules.edge(across=seat.across), seat.rod.bar.width
    who = Answering(accepted, seat.wall.known.engineer).who("bed.edge")
    doubt = 2 * edge_sd(seat.member)
    loaded, other = (
        doubt + (n * wide if e - doubt >= n * wide and not who else _least_edge(seat, n * wide))
        for n, e in ((rule.loaded, seat.edges[0]), (rule.other, seat.edges[1]))
    )
    return loaded, other


def _least_edge(seat: Seat, needed: float) -> float:
    """The edge distance under which nobody's word covers a rod (mm)."""
    return max(seat.rod.hole / 2 + BESIDE, needed / FARTHEST)


_WORSE: tuple[State, ...] = ("passes", "cannot say", "fails")
"""States, the worse the later."""


def _at_edge(
    seat: Seat, n: float, e: float, who: str, *, keep: bool
) -> tuple[Working, float, float, tuple[State, Scope, str]]:
    """One edge of a member: its derivation, what is needed there and what there is (mm), and what follows."""
    w = Working(keep=keep)
    needed = w(edge_needed, n=n, d=seat.rod.bar.width)
    had = w(edge_had, e=e, s=edge_sd(seat.member))
    return w, needed, max(had, 0.1), _edge_state(seat, needed, had, f"{n:g} d", who)


def _edge_state(
    seat: Seat, needed: float, had: float, rule: str, who: str
) -> tuple[State, Scope, str]:
    if had >= needed:
        return "passes", "in", ""
    if had <= seat.rod.hole / 2:
        return "fails", "out", "the hole may break out of the member"
    if had < _least_edge(seat, needed):
        beside = had - seat.rod.hole / 2 < BESIDE
        what = f"{BESIDE:.1f} mm of wood beside the hole" if beside else f"a quarter of {rule}"
        return "cannot say", "out", f"less than {what}: {NOWHERE}"
    if who:
        return "passes", "stretched", f"less than {rule}; {who}"
    return "cannot say", "stretched", f"less than {rule}: {OPEN}"
