"""The checks of a shelf that is pushed along the wall: rods bent both ways, and the wood beside them.

Every check is a plain function of forces under one case.
"""

from __future__ import annotations

from dataclasses import replace

from ledgewright.core import FLAT_DEEP
from ledgewright.statics import mechanics
from ledgewright.statics.bases import Grip, MemberRules, Resistance, Rules, When
from ledgewright.statics.beam import Bed
from ledgewright.statics.checks import AT_FLAT
from ledgewright.statics.formula import Working, formula
from ledgewright.statics.mechanics import member as beam
from ledgewright.statics.member_checks import OnMember, Said, timber_of, unbuilt
from ledgewright.statics.model import CannotSay
from ledgewright.statics.row import Found
from ledgewright.stock import Bar

LEAST = 1.0
"""The least shear that a lever is told with (N)."""


# ---- rods bent both ways


@formula(
    "M_s",
    "H_s a_H",
    unit="N mm",
    source="Statics of a cantilever",
    symbols={"H": "H_s", "a": "a_H"},
)
def side_moment(*, H: float, a: float) -> float:
    """Return the moment at the wood face of a push along the wall.

    Statics; the shelf lends no help by turning. H: the rod's share (N). a: from the wood to the front edge (mm).
    Returns N mm.
    """
    return H * a


@formula(
    "r",
    "frac(M_y, M_(c y)) + frac(M_z, M_(c z))",
    unit="1",
    source="AISC 360-22 H1.1, H2; EN 1993-1-1 Eq. 6.2",
    symbols={"My": "M_y", "Mcy": "M_(c y)", "Mz": "M_z", "Mcz": "M_(c z)"},
)
def both_ways(*, My: float, Mcy: float, Mz: float, Mcz: float) -> float:
    """Return how far a bar that bends both ways is used.

    AISC 360-22 H1.1 without axial force; EN 1993-1-1 Eq. 6.2; for a round bar towards safety. My, Mz: moments, Mcy,
    Mcz: what it can take up and down, and sideways (N mm). Returns a plain number.
    """
    return My / Mcy + Mz / Mcz


def sideways(bar: Bar) -> Bar:
    """Return a bar laid on its side, as it bends along the wall."""
    return replace(bar, width=bar.height, height=bar.width)


def rod_biax(w: Working, *, on: OnMember, rules: Rules, when: When) -> Found:
    """Return how far a rod that bends down and sideways is used, and 1.

    The greatest moments of both ways in the wood are added up though they do not lie at one depth.

    Args:
        w: takes the lines.
        on: forces at the face of the wood; `side` acts at the front edge.
        rules: the basis, for the steel.
        when: situation.
    """
    if (
        on.flat is not None
        and _biax_at_flat(QUIET, on, rules, when)[0] > _biax(QUIET, on, rules, when)[0]
    ):
        return _biax_at_flat(w, on, rules, when)
    return _biax(w, on, rules, when)


QUIET = Working(keep=False)


def _biax(w: Working, on: OnMember, rules: Rules, when: When) -> Found:
    My = _peak(w, on.bed, abs(on.V), abs(on.M), "M_y")
    H, M = _pushed(w, on)
    Mz = _peak(w, on.bed, H, M, "M_z")
    return _used(w, on, (My, Mz), on.seat.rod.bar, rules, when)


def _biax_at_flat(w: Working, on: OnMember, rules: Rules, when: When) -> Found:
    """The same at the flat for the grub screw: sideways too the net section counts as no better than up and down."""
    M, x = on.flat or (0.0, 0.0)
    My = w.given("M_y", M, unit="N mm", source="Section model: the greatest along the flat")
    H, _ = _pushed(w, on)
    a = w.given("a_H", on.seat.front - x, unit="mm", source="From the flat to the front edge")
    Mz = w(side_moment, H=H, a=max(a, 0.0))
    w.last("M_z")
    r, can = _used(w, on, (My, Mz), on.seat.rod.bar.filed(FLAT_DEEP), rules, when)
    return r, replace(can, reason=can.reason or AT_FLAT)


def _used(
    w: Working, on: OnMember, M: tuple[float, float], bar: Bar, rules: Rules, when: When
) -> Found:
    """How far a section is used by moments down and sideways, and 1."""
    L_b = on.seat.rod.free + on.seat.rod.projection
    down = rules.rod_bend(w, bar, L_b, when.situation)
    w.last("M_(c y)")
    side = rules.rod_bend(w, sideways(bar), L_b, when.situation)
    w.last("M_(c z)")
    r = w(both_ways, My=M[0], Mcy=down.value, Mz=M[1], Mcz=side.value)
    one = w.given("r_c", 1.0, unit="1", source="All of it")
    return r, Resistance(one, down.scope, down.reason, "AISC 360-22 H1; EN 1993-1-1 6.2.9")


def _pushed(w: Working, on: OnMember) -> tuple[float, float]:
    """Return shear (N) and moment (N mm) at the face of the wood of a push along the wall."""
    H = w.given(
        "H_s", abs(on.side), unit="N", source="Share of a push along the wall, or of what turns it"
    )
    a = w.given("a_H", on.seat.front, unit="mm", source="From the wood to the front edge")
    return H, w(side_moment, H=H, a=a)


def _peak(w: Working, bed: Bed, V: float, M: float, symbol: str) -> float:
    """Return the greatest moment in the wood (N mm); V and M count as if they acted the same way."""
    if V + M <= 0:
        return w.given(symbol, 0.0, unit="N mm", source="Not bent this way")
    w.given("V_0", V, unit="N", source="Shear at the face of the wood")
    w.given("M_0", M, unit="N mm", source="Moment at the face of the wood")
    face = mechanics.face(w, V=V, M=M, k=bed.k, lam=bed.lam, L=bed.L)
    x = w.given("x", face.peak_at, unit="mm", source="Depth of the greatest moment")
    at = face.at(w, mechanics.moment_at, x)
    w.last(symbol)
    return max(at, M)


# ---- the wood beside them


@formula(
    "r",
    "frac(V_0, R_v) + frac(H_s, R_s)",
    unit="1",
    source="Added up, towards safety: what presses down and sideways crushes the same wood",
    symbols={"V": "V_0", "Rv": "R_v", "H": "H_s", "Rs": "R_s"},
)
def pressed_both_ways(*, V: float, Rv: float, H: float, Rs: float) -> float:
    """Return how far the wood round a rod is used that presses on it down and sideways.

    Added up: no rule says how crushing one way leaves less for the other, and the sum is never too little. V, H: shear
    at the face, down and sideways; Rv, Rs: what the wood takes at the lever of each (N). Returns a plain number.
    """
    return V / Rv + H / Rs


def bed_side(w: Working, *, on: OnMember, rules: Rules, timbers: MemberRules, when: When) -> Said:
    """Return how far the wood is used round a rod that presses down and along the wall, and 1.

    In a stud the push along the wall presses across the grain, in blocking along it.

    Args:
        w: takes the lines.
        on: forces at the face of the wood; `side` acts at the front edge.
        rules: the basis, for the wood round a rod.
        timbers: the basis, for what it lacks.
        when: situation and duration.
    """
    timber = timber_of(on.seat.member, timbers, "bed.side")
    if isinstance(timber, CannotSay):
        return timber
    rod, across = on.seat.rod, on.seat.across

    def can(bar: Bar, angle: float, V: float, M: float, symbol: str) -> Resistance:
        w.given("V_0", V, unit="N", source="Shear at the face of the wood")
        w.given("M_0", M, unit="N mm", source="Moment at the face of the wood")
        grip = Grip(bar, timber, angle, rod.embedment, V, M)
        found = rules.bed_limit(w, grip, when.situation, when.lasts)
        w.last(symbol)
        return found

    H, M = _pushed(w, on)
    H = max(H, LEAST)
    side = can(sideways(rod.bar), 0.0 if across else 90.0, H, M, "R_s")
    V = max(abs(on.V), LEAST)
    down = can(rod.bar, 90.0 if across else 0.0, V, abs(on.M), "R_v")
    r = w(pressed_both_ways, V=V, Rv=down.value, H=H, Rs=side.value)
    one = w.given("r_c", 1.0, unit="1", source="All of it")
    return r, Resistance(one, down.scope, down.reason, down.source)


def stud_side(w: Working, *, on: OnMember, rules: MemberRules, when: When) -> Said:
    """Return the shear beside a rod that is pushed along the wall, and what its stud can take until it splits (N).

    The rod presses near the face on a strip of the stud as deep as it bears there; with a softer bed across the grain
    it would press less, and deeper. The strip hands that on up and down the stud, as a simple beam from floor to
    ceiling; that the lining holds the stud is not counted.

    Args:
        w: takes the lines.
        on: forces at the face of the wood; `side` acts at the front edge.
        rules: the basis.
        when: situation and duration.
    """
    seat = on.seat
    timber = timber_of(seat.member, rules, "stud.side")
    if isinstance(timber, CannotSay):
        return timber
    why = unbuilt([on.on_stud], timber, rules, seat.wall.height)
    if why is not None:
        return CannotSay("stud.side", why)
    if seat.edges is None:
        return CannotSay("stud.side", f"{seat.member.id}: its edges are not known")
    R, l = _front_strip(w, on)
    tall = seat.wall.height
    z = w.given(
        "l", tall or rules.storey, unit="mm", source="Floor to ceiling", assumed=tall is None
    )
    a = w.given("a", min(on.up, z - on.up), unit="mm", source="From the nearer of the two")
    V = w(beam.end_shear, V=w.given("V", R, unit="N", source="All of R_b"), a=a, l=z)
    if min(seat.edges) <= 0:
        return CannotSay("stud.side", f"{on.mark} is not in its stud")
    # A stud told wider than its timber is may be two; the rod is then no nearer to the middle of one.
    h = timber.width
    nearer = min(*seat.edges, h / 2)
    h_e = w.given("h_e", nearer, unit="mm", source="From the rod to the nearer edge")
    b = w.given("b", l, unit="mm", source="As deep as the rod bears")
    return V, rules.stud_side(w, timber, when, b=b, h=h, h_e=h_e)


def _front_strip(w: Working, on: OnMember) -> tuple[float, float]:
    """Return how hard a rod presses sideways on the wood near the face (N), and how deep it bears there (mm)."""
    H, M = _pushed(w, on)
    bed, turned = on.bed, sideways(on.seat.rod.bar)
    w.given("V_0", H, unit="N", source="Sideways: shear at the face of the wood")
    w.given("M_0", M, unit="N mm", source="Sideways: moment at the face of the wood")
    k = w.given("k", bed.k, unit="MPa", source="As stiff as along the grain, towards safety")
    I = w.given("I", turned.inertia, unit="mm^4", source="Section, as it bends along the wall")
    lam = w(mechanics.characteristic, k=k, E=bed.E, I=I)
    face = mechanics.face(w, V=H, M=M, k=k, lam=lam, L=bed.L)
    l = w.given(
        "l_b", face.most_sheared_at, unit="mm", source="Bears as deep as the rod goes aside"
    )
    most = face.at(w, mechanics.shear_at, l)
    w.last("V_m")
    return w(beam.front_bearing, V=H, most=most), l
