"""The checks of studs: what the rods of all shelves on one ask of it, and what it can take.

Every check is a plain function of the forces at the wood faces under one case.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from ledgewright.statics import mechanics
from ledgewright.statics.bases import MemberRules, Post, Resistance, When
from ledgewright.statics.beam import Bed
from ledgewright.statics.formula import Term, Working
from ledgewright.statics.mechanics import member as beam
from ledgewright.statics.model import CannotSay, Step
from ledgewright.statics.row import Found
from ledgewright.statics.seats import Seat
from ledgewright.stock import Timber
from ledgewright.survey import Member, Wall

Said = Found | CannotSay


Told = Callable[[], tuple[Step, ...]]
"""A derivation that is made only when it is asked for: of many cases one is printed."""


@dataclass(frozen=True)
class OnMember:
    """What one rod of one shelf puts on its member under one case, at the face of the wood.

    bed, stiff: of the rod in the wood, as it is likely to be and as stiff as it may be. V: down (N). M: front going
    down (N mm). out: pulled out of the wall (N). side: pushed along the wall (N), at the front edge of the shelf.
    lines: what leads to these forces, made when asked for; lies: what leads to its bed. of: the shelf, where rods of
    several meet. flat: the greatest moment along its flat for a grub screw (N mm), and where that begins, from the
    wood (mm); None if it has none.
    """

    seat: Seat
    bed: Bed
    stiff: Bed
    V: float
    M: float
    out: float = 0.0
    side: float = 0.0
    lines: Told = tuple
    lies: tuple[Step, ...] = ()
    of: str = ""
    flat: tuple[float, float] | None = None

    @property
    def mark(self) -> str:
        """What the rod is called, with its shelf where rods of several meet: marks are the shelf's own."""
        return f"{self.seat.rod.mark} of {self.of}" if self.of else self.seat.rod.mark

    @property
    def up(self) -> float:
        """Height of the rod above the datum, which is taken for the floor (mm)."""
        return self.seat.rod.origin[2]

    @property
    def along(self) -> float:
        """Where the rod leaves the wood, along the wall (mm)."""
        return self.seat.wall.figures(self.seat.rod.point(0.0))[0]

    @property
    def on_stud(self) -> OnStud:
        """The same on the stud that the rod sits in."""
        seat = self.seat
        return OnStud(
            told=f"Rod {self.mark}",
            wall=seat.wall,
            along=self.along,
            timber=seat.member.timber,
            V=self.V,
            M=self.M,
            out=self.out,
            up=self.up,
            hole=seat.rod.hole,
            lines=self.lines,
        )

    @property
    def at_ends(self) -> tuple[OnStud, OnStud]:
        """What goes to the studs at the left and the right end of the block that the rod sits in.

        Shear and twist go there by the lever rule; seen from the face of the wood both keep their proportion. A push
        along the wall turns the block, which then pulls at one end: at either, for it may come from either side.
        """
        seat, member = self.seat, self.seat.member
        right = (self.along - member.left) / member.width
        deep = seat.member.timber.depth if seat.member.timber else 0.0
        turn = abs(self.side) * (seat.front + deep / 2) / member.width

        def end(side: str, along: float, part: float) -> OnStud:
            return OnStud(
                told=f"Rod {self.mark}, {side} end of its block",
                wall=seat.wall,
                along=along,
                timber=seat.wall.timber,
                V=part * self.V,
                M=part * self.M,
                out=part * self.out + turn,
                up=self.up,
                hole=0.0,
                lines=self.lines,
            )

        return end("left", member.left, 1 - right), end("right", member.right, right)


@dataclass(frozen=True)
class OnStud:
    """What one rod puts on a stud, as seen from the face of the wood: straight, or through the end of a block.

    told: which rod. along: where on the wall, up: height above the floor, hole: bored for it (mm). V, out (N), M
    (N mm): as for `OnMember`.
    """

    told: str
    wall: Wall
    along: float
    timber: Timber | None
    V: float
    M: float
    out: float
    up: float
    hole: float
    lines: Told = tuple


def judged(timber: Timber | None, of: str, rules: MemberRules, family: str) -> Timber | CannotSay:
    """Return a timber that the basis can judge, or why a family says nothing of it; of: where it is."""
    if timber is None:
        return CannotSay(family, f"{of}: the timber is not known")
    lacks = rules.lacks(timber)
    return timber if lacks is None else CannotSay(family, lacks)


def timber_of(member: Member, rules: MemberRules, family: str) -> Timber | CannotSay:
    """Return a member's timber, or why a family says nothing of it."""
    return judged(member.timber, member.id, rules, family)


# ---- studs


def stud_split(w: Working, *, on: OnMember, rules: MemberRules, when: When) -> Said:
    """Return the tension that parts a stud at one rod, and what it can take (MPa).

    Own model: 0.15 of the bearing force near the face over four holes' length. Forces of mixed sign count as if they
    acted the same way, which presses harder. On the likely bed; the reason tells what the stiffest asks.
    """
    timber = timber_of(on.seat.member, rules, "stud.split")
    if isinstance(timber, CannotSay):
        return timber
    why = near_an_end(on, rules.storey)
    if why is not None:
        return CannotSay("stud.split", why)
    V = w.given("V_0", abs(on.V), unit="N", source="Shear at the face of the wood")
    M = w.given("M_0", abs(on.M), unit="N mm", source="Moment at the face of the wood")
    if V + M <= 0:
        return 0.0, rules.split(w, timber, when)
    stress = _parting(w, on, on.bed, V, M)
    more = _parting(Working(keep=False), on, on.stiff, V, M) / stress
    can = rules.split(w, timber, when)
    told = f"{can.reason}; on the stiffest bed published it is {more:.1f} times as much, which the ranges count"
    return stress, replace(can, reason=told)


def _parting(w: Working, on: OnMember, bed: Bed, V: float, M: float) -> float:
    """Return the stress that parts a stud near the face (MPa): V, M there (N, N mm)."""
    face = mechanics.face(w, V=V, M=M, k=bed.k, lam=bed.lam, L=bed.L)
    l = w.given("l_b", face.most_sheared_at, unit="mm", source="Bears as deep as the rod goes down")
    most = face.at(w, mechanics.shear_at, l)
    w.last("V_m")
    R = w(beam.front_bearing, V=V, most=most)
    d = w(beam.bearing_width, dh=on.seat.rod.hole, d=on.seat.rod.bar.width)
    return w(beam.split_stress, R=R, d=d, l=l)


FROM_END, LEAST_FROM_END = 7, 80.0
"""How far a dowel stands from an end that it presses towards: times its thickness, and at least (EN 1995-1-1 T8.4)."""
PLATES = (76.0, 38.0)
"""How far studs end under the ceiling and over the floor: a double plate there, one here (mm; common practice)."""


def near_an_end(on: OnMember, storey: float) -> str | None:
    """Return that a rod is too near the end of its stud, which may split there; None if it is not.

    EN 1995-1-1 T8.4, a_3,t: a rod presses down at the face, and up at its end in the wood.

    Args:
        on: the rod.
        storey: from floor to ceiling where nobody has given it (mm).
    """
    if on.seat.across:
        return None
    height = on.seat.wall.height or storey
    bar = on.seat.rod.bar
    least = max(FROM_END * max(bar.width, bar.height), LEAST_FROM_END)
    far = min(height - PLATES[0] - on.up, on.up - PLATES[1])
    if far >= least:
        return None
    taken = (
        "" if on.seat.wall.height else f", of a storey of {height:.0f} mm (tell the wall's height)"
    )
    return f"it stands {max(far, 0.0):.0f} mm from the end of its stud{taken}, which may split: {least:.0f} mm at least"


@dataclass(frozen=True)
class Pushed:
    """One rod on the axis of its stud: couple (N mm), pull (N), height (mm), and the number it is printed with."""

    C: float
    F: float
    a: float
    number: int


Curve = Callable[[Working, Pushed, float, bool], float]


@dataclass(frozen=True)
class Stud:
    """A stud between floor and ceiling, with the couples and pulls of all rods on it."""

    H: float
    rods: tuple[Pushed, ...]

    def _worst(self, of: Curve) -> tuple[float, bool]:
        places = [(rod.a, over) for rod in self.rods for over in (False, True)]
        quiet = Working(keep=False)
        return max(
            places, key=lambda at: abs(sum(of(quiet, rod, at[0], at[1]) for rod in self.rods))
        )

    def greatest(self, w: Working, of: Curve, symbol: str, unit: str) -> float:
        """Return the greatest moment (N mm) or shear (N) next to a rod, with the lines of every rod's part in it."""
        z, over = self._worst(of)
        told = "just above" if over else "just below"
        w.given("z", z, unit="mm", source=f"Looked at {told} this height")
        terms: list[Term] = []
        for rod in self.rods:
            name = f"{symbol}_{rod.number}"
            terms.append(((name, of(w, rod, z, over)),))
            w.last(name)
        total = w.add(symbol, tuple(terms), unit=unit, source="All rods on the stud")
        return abs(total)

    def moment(self, w: Working, rod: Pushed, z: float, over: bool) -> float:
        """Return one rod's part in the moment at a height (N mm); over: just above it."""
        of = beam.moment_above if _above(rod, z, over=over) else beam.moment_below
        return w(of, C=rod.C, F=rod.F, a=rod.a, z=z, H=self.H)

    def shear(self, w: Working, rod: Pushed, z: float, over: bool) -> float:
        """Return one rod's part in the shear at a height (N); over: just above it."""
        of = beam.shear_above if _above(rod, z, over=over) else beam.shear_below
        return w(of, C=rod.C, F=rod.F, a=rod.a, H=self.H)


def _above(rod: Pushed, z: float, *, over: bool) -> bool:
    return z > rod.a or (z == rod.a and over)


def unbuilt(
    loads: Sequence[OnStud], timber: Timber, rules: MemberRules, height: float | None
) -> str | None:
    """Return why rods do not fit on a stud, in words; None if they do."""
    H, hole = height or rules.storey, max(on.hole for on in loads)
    if hole >= timber.width:
        return f"a hole of {hole:.0f} mm leaves nothing of a stud {timber.width:.0f} mm wide"
    for on in loads:
        if not 0 < on.up < H:
            told = "a storey taken" if height is None else "a storey"
            return f"{on.told} at {on.up:.0f} mm lies outside {told} {H:.0f} mm high"
    return None


def _stud(
    w: Working, loads: Sequence[OnStud], timber: Timber, rules: MemberRules, height: float | None
) -> Stud:
    """Return a stud with all rods on it; they fit it."""
    H = w.given(
        "H", height or rules.storey, unit="mm", source="Floor to ceiling", assumed=height is None
    )
    rods = []
    for i, on in enumerate(loads, start=1):
        w.given("V_0", on.V, unit="N", source=f"{on.told}: shear at the face of the wood")
        w.given("M_0", on.M, unit="N mm", source=f"{on.told}: moment at the face of the wood")
        C = w(beam.axis_couple, V=on.V, M=on.M, h=timber.depth)
        F = w.given("F", on.out, unit="N", source=f"{on.told}: pull out of the wall")
        a = w.given("a", on.up, unit="mm", source=f"{on.told}: height above the floor")
        rods.append(Pushed(C, F, a, i))
    return Stud(H, tuple(rods))


def _net(w: Working, loads: Sequence[OnStud], timber: Timber) -> float:
    return w(beam.net_width, b=timber.width, d=max(on.hole for on in loads))


def stud_bend(
    w: Working,
    *,
    loads: Sequence[OnStud],
    rules: MemberRules,
    when: When,
    height: float | None = None,
) -> Said:
    """Return the greatest moment in a stud under the rods of all shelves on it, and what it can take (N mm).

    A simple beam from floor to ceiling, held sideways by its lining. The section counts with the hole bored right
    through. The load that stands on a bearing stud is not known: then only an engineer can say.

    Args:
        w: takes the lines.
        loads: all rods on this stud, of all shelves.
        rules: the basis.
        when: situation and duration.
        height: from floor to ceiling (mm); None if nobody has given it.

    Raises:
        IndexError: if there is no rod.
    """
    wall = loads[0].wall
    timber = judged(loads[0].timber, f"wall {wall.called}", rules, "stud.bend")
    if isinstance(timber, CannotSay):
        return timber
    why = unbuilt(loads, timber, rules, height)
    if why is not None:
        return CannotSay("stud.bend", why)
    stud = _stud(w, loads, timber, rules, height)
    M = stud.greatest(w, stud.moment, "M", "N mm")
    b = _net(w, loads, timber)
    S = w(beam.net_modulus, b=b, h=timber.depth)
    A = w(beam.net_area, b=b, h=timber.depth)
    N = sum(max(on.V, 0.0) for on in loads)
    N = w.given("N", N, unit="N", source="Rods on this stud; it bears nothing else")
    sigma = w(beam.press, N=N, A=A)
    can = rules.stud_bend(w, Post(timber, S, sigma, timber.depth, stud.H), when)
    return M, _bears(can, wall)


def _bears(can: Resistance, wall: Wall) -> Resistance:
    """Return what a stud can take, with what is not known of a bearing wall."""
    if wall.known.bearing == "no":
        return can
    why = {"yes": "the wall bears", "unknown": "nobody knows whether the wall bears"}
    told = f"{why[wall.known.bearing]}, so the load on the stud is not known"
    if wall.known.engineer is None or can.scope == "out":
        return replace(can, scope="out", reason=f"{told}: an engineer must say")
    return replace(can, scope="stretched", reason=told)


def stud_shear(
    w: Working,
    *,
    loads: Sequence[OnStud],
    rules: MemberRules,
    when: When,
    height: float | None = None,
) -> Said:
    """Return the greatest shear stress in a stud under the rods of all shelves on it, and what it can take (MPa).

    Arguments and errors as for `stud_bend`.
    """
    timber = judged(loads[0].timber, f"wall {loads[0].wall.called}", rules, "stud.shear")
    if isinstance(timber, CannotSay):
        return timber
    why = unbuilt(loads, timber, rules, height)
    if why is not None:
        return CannotSay("stud.shear", why)
    stud = _stud(w, loads, timber, rules, height)
    V = stud.greatest(w, stud.shear, "V", "N")
    A = w(beam.net_area, b=_net(w, loads, timber), h=timber.depth)
    return w(beam.shear_stress, V=V, A=A), rules.shear(w, timber, when)
