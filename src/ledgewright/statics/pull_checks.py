"""The checks of a shelf that is pulled out of the wall: bond, and what holds it on.

Every check is a plain function of forces under one case.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from ledgewright.statics.bases import Driven, MemberRules, Resistance, When
from ledgewright.statics.formula import Working, formula
from ledgewright.statics.member_checks import OnMember, Said, timber_of
from ledgewright.statics.model import CannotSay
from ledgewright.stock import Bar, Panel, Screw, Timber

LEAST_PULL = 300.0
"""Horizontal force on a shelf at the least (N)."""
NOTHING = 1.0
"""What stands for no hold at all (N), so that a ratio can be told."""
BESIDE = 3.0
"""An angled screw needs so many times its thickness of wood between the hole and the edge (common practice)."""
NO_LOCK = (
    "nothing holds the shelf on its rods: it needs a lock, such as "
    'lock = { kind = "grub screw" } under the shelf'
)
BITE = 1.0
"""How far a grub screw's point reaches past the slot's wall into the flat on the rod (mm), common practice."""
DAB = 20.0
"""Length of a dab of sealant along the rod (mm), common practice."""
SEALANT = 0.138
"""Design shear stress of a structural sealant under a short load (MPa): ASTM C1401, 20 psi (from memory)."""


# ---- how much it is pulled


@formula(
    "H",
    "max(300, 0.3 W)",
    unit="N",
    source="Someone catches hold of it: 0.3 of all it carries, 0.3 kN at the least (assumed)",
)
def pulled(*, W: float) -> float:
    """Return the horizontal force on a shelf, out of the wall or along it.

    Assumed. W: self-weight and contents (N). Returns N.
    """
    return max(LEAST_PULL, 0.3 * W)


# ---- the bond


def bond_pull(w: Working, *, on: OnMember, rules: MemberRules, when: When) -> Said:
    """Return the pull on a rod, and what its bond can take (N).

    No code covers it: the row is at the edge of its sources.
    """
    timber = timber_of(on.seat.member, rules, "bond.pull")
    if isinstance(timber, CannotSay):
        return timber
    rod = on.seat.rod
    pull = w.given("H_i", max(on.out, 0.0), unit="N", source="Share of the pull out of the wall")
    d = w.given("d", min(rod.bar.width, rod.bar.height), unit="mm", source="Rod")
    d_h = w.given("d_h", rod.hole, unit="mm", source="Hole")
    L = w.given("L", rod.embedment, unit="mm", source="Depth in the wood")
    return pull, rules.bond(w, timber, when, d=d, d_h=d_h, L=L)


# ---- what holds it on


@dataclass(frozen=True)
class Grub:
    """A set screw up through the bottom skin against the end of a flat on the rod."""

    screw: Screw
    skin: Panel
    thick: float


@dataclass(frozen=True)
class Angled:
    """A screw from the back of the shelf aslant into the stud; shelf: how much of the shelf it passes (mm)."""

    screw: Screw
    shelf: float


@dataclass(frozen=True)
class Dab:
    """A dab of sealant round half a rod in its slot."""

    length: float = DAB


@dataclass(frozen=True)
class SlotGlue:
    """A rod glued into its slot; weakest: shear strength of the weaker adherend as the basis has it (MPa)."""

    length: float
    weakest: Resistance


@dataclass(frozen=True)
class NoHold:
    """A lock at which nothing holds, and why not."""

    why: str


Hold = Grub | Angled | Dab | SlotGlue | NoHold
"""What holds a shelf on at one rod."""


@formula(
    "A_s",
    "frac(pi d, 2) l_s",
    unit="mm^2",
    source="Half the rod's round",
    symbols={"l": "l_s"},
)
def dab_area(*, d: float, l: float) -> float:
    """Return the area a dab of sealant holds on.

    Common practice. d: rod (mm). l: length of the dab (mm). Returns mm2.
    """
    return math.pi * d / 2 * l


@formula("R_s", "tau_s A_s", unit="N", source="Even shear", symbols={"tau": "tau_s", "A": "A_s"})
def held(*, tau: float, A: float) -> float:
    """Return what a glued face holds.

    Even shear. tau: stress it can take (MPa). A: face (mm2). Returns N.
    """
    return tau * A


@formula(
    "p_s",
    "l_s - 1.118 (s + g)",
    unit="mm",
    source="Screw rising 1 in 2: what is left past shelf and lining",
    symbols={"l": "l_s"},
)
def past_lining(*, l: float, s: float, g: float) -> float:
    """Return how much of an angled screw is in the stud.

    Trigonometry: sqrt(1.25) of the way square to the wall. l: length of the screw (mm). s: of the shelf it passes, g:
    from the shelf to the wood (mm). Returns mm.
    """
    return l - 1.118 * (s + g)


@formula(
    "b_s",
    "e - frac(d_h, 2)",
    unit="mm",
    source="Wood between the hole and the edge",
    symbols={"e": "e", "d": "d_h"},
)
def beside_hole(*, e: float, d: float) -> float:
    """Return the wood that is left beside a hole.

    Geometry. e: from its middle to the edge (mm). d: hole (mm). Returns mm.
    """
    return e - d / 2


@formula(
    "b_n", "3 d", unit="mm", source="Common practice: 1.5 d to hole and edge", symbols={"d": "d"}
)
def screw_room(*, d: float) -> float:
    """Return the wood that a screw needs beside it and under it.

    Common practice. d: screw (mm). Returns mm.
    """
    return BESIDE * d


@formula(
    "R_o",
    "frac(R_a, 1.118)",
    unit="N",
    source="Only the part along the screw counts",
    symbols={"R": "R_a"},
)
def aslant(*, R: float) -> float:
    """Return what an angled screw takes out of the wall.

    Statics, its bending left out. R: what it takes along its axis (N). Returns N.
    """
    return R / 1.118


def hold_pull(
    w: Working, *, on: OnMember, hold: Hold | None, rules: MemberRules, when: When
) -> Said:
    """Return the pull at one rod that holds the shelf, and what it can take (N). Friction counts for nothing.

    Args:
        w: takes the lines.
        on: forces at the face of the wood; `out` is this lock's share of the pull.
        hold: what holds there; None where nothing does.
        rules: the basis.
        when: situation and duration.
    """
    pull = w.given("H_i", max(on.out, 0.0), unit="N", source="Share of the pull out of the wall")
    if hold is None or isinstance(hold, NoHold):
        none = w.given("R", NOTHING, unit="N", source="Stands for nothing at all")
        return pull, Resistance(none, "in", hold.why if hold else NO_LOCK, "Trade")
    if isinstance(hold, Grub):
        return pull, _grub(w, on, hold, rules, when)
    if isinstance(hold, Angled):
        timber = timber_of(on.seat.member, rules, "hold.pull")
        if isinstance(timber, CannotSay):
            return timber
        return pull, _angled(w, on, hold, timber, rules, when)
    if isinstance(hold, Dab):
        return pull, _dab(w, on.seat.rod.bar, hold, when)
    tau = w.given("tau_s", hold.weakest.value, unit="MPa", source=hold.weakest.source)
    R = w(held, tau=tau, A=w(dab_area, d=on.seat.rod.bar.width, l=hold.length))
    return pull, Resistance(R, hold.weakest.scope, hold.weakest.reason, "Weaker adherend")


def _grub(w: Working, on: OnMember, hold: Grub, rules: MemberRules, when: When) -> Resistance:
    up = on.seat.rod.clearance.up
    e = w.given("e", up + BITE, unit="mm", source="Play, and the bite into the flat", assumed=True)
    skin = hold.skin
    return rules.pin(
        w,
        when,
        density=skin.density,
        source=skin.source,
        d=hold.screw.root,
        t=hold.thick,
        e=e,
    )


def _angled(
    w: Working, on: OnMember, hold: Angled, timber: Timber, rules: MemberRules, when: When
) -> Resistance:
    g = w.given("g", on.seat.back, unit="mm", source="From the shelf's back to the wood")
    s = w.given("s", hold.shelf, unit="mm", source="Of the shelf passed by the screw", assumed=True)
    into = w(past_lining, l=hold.screw.length, s=s, g=max(g, 0.0))
    if into <= 0:
        none = w.given("R", NOTHING, unit="N", source="Stands for nothing at all")
        return Resistance(none, "in", "the screw does not reach the wood", "Trade")
    why = _no_room(w, on, hold)
    if why:
        none = w.given("R", NOTHING, unit="N", source="Stands for nothing at all")
        return Resistance(none, "in", why, "Trade")
    driven = Driven(hold.screw, hold.shelf, into, "side grain", timber)
    can = rules.withdrawal(w, driven, when)
    R = w(aslant, R=can.value)
    if can.scope == "in":
        why = "its stud is bored for the rod beside it"
        return Resistance(R, "stretched", why, can.source)
    return replace(can, value=R)


def _no_room(w: Working, on: OnMember, hold: Angled) -> str:
    """Why an angled screw finds no wood beside the hole of its rod in a stud; empty where it does, or in a block."""
    if on.seat.across or on.seat.edges is None:
        return ""
    e = w.given(
        "e", min(on.seat.edges), unit="mm", source="From the hole's middle to the stud's edge"
    )
    d_h = w.given("d_h", on.seat.rod.hole, unit="mm", source="Hole")
    d = w.given("d", hold.screw.diameter, unit="mm", source=hold.screw.name)
    left, needs = w(beside_hole, e=e, d=d_h), w(screw_room, d=d)
    if left >= needs:
        return ""
    room = f"{left:.1f} mm of wood, {needs:.1f} mm needed"
    return (
        f"beside the hole the stud has no room for an angled screw: {room}; "
        'take another lock, such as lock = { kind = "grub screw" }'
    )


def _dab(w: Working, bar: Bar, hold: Dab, when: When) -> Resistance:
    l = w.given("l_s", hold.length, unit="mm", source="Length of the dab", assumed=True)
    A = w(dab_area, d=bar.width, l=l)
    tau = w.given("tau_s", SEALANT, unit="MPa", source="ASTM C1401 (from memory)", assumed=True)
    R = w(held, tau=tau, A=A)
    if when.situation != "accident":
        return Resistance(R, "out", "sealant creeps: not for a pull that stays", "ASTM C1401")
    return Resistance(R, "stretched", "a sealant made and applied as one is", "ASTM C1401")
