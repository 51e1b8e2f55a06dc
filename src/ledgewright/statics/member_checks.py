"""The checks of studs and blocking: what the rods of all shelves on one ask of it, and what it can take.

Every check is a plain function of the forces at the wood faces under one case.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from ledgewright.statics import mechanics
from ledgewright.statics.bases import Driven, MemberRules, Post, Resistance, When
from ledgewright.statics.beam import Bed
from ledgewright.statics.formula import Term, Working, formula
from ledgewright.statics.mechanics import member as beam
from ledgewright.statics.model import CannotSay, Step
from ledgewright.statics.row import Found
from ledgewright.statics.seats import Seat
from ledgewright.stock import Screw, Timber
from ledgewright.survey import Member, Wall

SLANT = math.radians(30)
"""How far what is toed in leans off the block: NDS-2018 Figure 12A (from memory)."""
STARTED = 1 / 3
"""How far from the block's end it is started, of its own length: the same figure (from memory)."""
LIKE = 3.0
"""A block lies the way in which its height is within this of a side of its timber (mm)."""
Said = Found | CannotSay


Told = Callable[[], tuple[Step, ...]]
"""A derivation that is made only when it is asked for: of many cases one is printed."""


@dataclass(frozen=True)
class OnMember:
    """What one rod of one shelf puts on its member under one case, at the face of the wood.

    V: down (N). M: front going down (N mm). out: pulled out of the wall (N). side: pushed along the wall (N), at
    the front edge of the shelf. bed: of the rod in the wood. lines: what leads to these forces, made when asked for;
    lies: what leads to its bed.
    """

    seat: Seat
    bed: Bed
    V: float
    M: float
    out: float = 0.0
    side: float = 0.0
    lines: Told = tuple
    lies: tuple[Step, ...] = ()

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
            told=f"Rod {seat.rod.mark}",
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

        Shear and twist go there by the lever rule; seen from the face of the wood both keep their proportion.
        """
        seat, member = self.seat, self.seat.member
        right = (self.along - member.left) / member.width

        def end(side: str, along: float, part: float) -> OnStud:
            return OnStud(
                told=f"Rod {seat.rod.mark}, {side} end of its block",
                wall=seat.wall,
                along=along,
                timber=seat.wall.timber,
                V=part * self.V,
                M=part * self.M,
                out=part * self.out,
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


@dataclass(frozen=True)
class EndFixing:
    """What holds each end of a block on its stud: so many screws or nails, the outermost so far apart (mm).

    through: of the stud, or of the block where it is toed in (mm).
    """

    screw: Screw
    count: int
    apart: float
    way: Literal["end grain", "toed"]
    through: float

    @property
    def into(self) -> float:
        """How deep it goes into the timber that it holds in (mm)."""
        lean = math.cos(SLANT) if self.way == "toed" else 1.0
        return self.screw.length * lean - self.through


def end_fixing(member: Member) -> EndFixing | None:
    """Return what holds a block on its studs; None if nobody has said, or its timber is not known.

    Toed in it passes a third of its length of the block: NDS-2018 Figure 12A (from memory).
    """
    told, timber = member.fixed, member.timber
    if told is None or timber is None:
        return None
    if told.how == "toed":
        through = told.driven.length * STARTED
        return EndFixing(told.driven, told.each_end, told.apart, "toed", through)
    through = told.through or timber.width
    return EndFixing(told.driven, told.each_end, told.apart, "end grain", through)


@formula(
    "F_s",
    "frac(sqrt(V_e^2 + H_e^2), n) + frac(T_e, e)",
    unit="N",
    source="Statics: even shares of shear and pull, the outermost two hold the twist, added up",
    symbols={"V": "V_e", "H": "H_e", "T": "T_e"},
)
def on_screw(*, V: float, H: float, n: float, T: float, e: float) -> float:
    """Return the force across the worst screw of one end of a block.

    Statics; shares and twist are added as if they lay in line, towards safety. V: shear there, H: pull out of the wall
    (N). n: screws. T: twist there (N mm). e: between the outermost (mm). Returns N.
    """
    return math.hypot(V, H) / n + T / e


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
    acted the same way, which presses harder.
    """
    timber = timber_of(on.seat.member, rules, "stud.split")
    if isinstance(timber, CannotSay):
        return timber
    V = w.given("V_0", abs(on.V), unit="N", source="Shear at the face of the wood")
    M = w.given("M_0", abs(on.M), unit="N mm", source="Moment at the face of the wood")
    if V + M <= 0:
        return 0.0, rules.split(w, timber, when)
    face = mechanics.face(w, V=V, M=M, k=on.bed.k, lam=on.bed.lam, L=on.bed.L)
    l = w.given("l_b", face.most_sheared_at, unit="mm", source="Bears as deep as the rod goes down")
    most = face.at(w, mechanics.shear_at, l)
    w.last("V_m")
    R = w(beam.front_bearing, V=V, most=most)
    d = w(beam.bearing_width, dh=on.seat.rod.hole, d=on.seat.rod.bar.width)
    stress = w(beam.split_stress, R=R, d=d, l=l)
    return stress, rules.split(w, timber, when)


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
    timber = judged(loads[0].timber, f"wall {wall.id}", rules, "stud.bend")
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
    timber = judged(loads[0].timber, f"wall {loads[0].wall.id}", rules, "stud.shear")
    if isinstance(timber, CannotSay):
        return timber
    why = unbuilt(loads, timber, rules, height)
    if why is not None:
        return CannotSay("stud.shear", why)
    stud = _stud(w, loads, timber, rules, height)
    V = stud.greatest(w, stud.shear, "V", "N")
    A = w(beam.net_area, b=_net(w, loads, timber), h=timber.depth)
    return w(beam.shear_stress, V=V, A=A), rules.shear(w, timber, when)


# ---- blocking


@dataclass(frozen=True)
class Block:
    """A block: timber, how deep it goes into the wall, how high it is, how long (mm)."""

    timber: Timber
    b: float
    h: float
    l: float


def block_section(member: Member) -> tuple[float, float] | None:
    """Return how deep a block goes into the wall and how high it is (mm); None if its height fits no side.

    A length of stud let in flat or on edge: the side that its height does not take goes into the wall.
    """
    timber, up = member.timber, member.up
    if timber is None or up is None:
        return None
    high = up[1] - up[0]
    if abs(high - timber.width) <= LIKE:
        return timber.depth, high
    if abs(high - timber.depth) <= LIKE:
        return timber.width, high
    return None


def block_of(loads: Sequence[OnMember], rules: MemberRules, family: str) -> Block | CannotSay:
    """Return the block that rods sit in, or why a family says nothing of it."""
    member = loads[0].seat.member
    timber = timber_of(member, rules, family)
    if isinstance(timber, CannotSay):
        return timber
    section = block_section(member)
    if section is None:
        return CannotSay(family, f"{member.id} is not as high as either side of a {timber.name}")
    b, h = section
    deepest = max(on.seat.rod.embedment for on in loads)
    if deepest > b:
        told = f"a {timber.name} so high goes {b:.0f} mm into the wall, a rod {deepest:.0f} mm"
        return CannotSay(family, f"{member.id}: {told}")
    return Block(timber, b, h, member.width)


_PUT = {
    "H": "pull out of the wall",
    "V": "shear at the face of the wood",
    "T": "shear at the face of the wood",
}


def _ends(
    w: Working, loads: Sequence[OnMember], block: Block, of: Literal["V", "H", "T"]
) -> tuple[float, float]:
    """Return what goes to the left and to the right end of a block: shears, pulls (N) or twists (N mm)."""
    at_end = []
    symbol, unit = of, "N mm" if of == "T" else "N"
    for side in ("left", "right"):
        terms: list[Term] = []
        for i, on in enumerate(loads, start=1):
            from_left = on.along - on.seat.member.left
            a = from_left if side == "left" else block.l - from_left
            mark = on.seat.rod.mark
            w.given("a", a, unit="mm", source=f"Rod {mark}: from the {side} end")
            w.given("l", block.l, unit="mm", source="Length of the block")
            told, force = _PUT[of], on.out if of == "H" else on.V
            V = w.given("V", force, unit="N", source=f"Rod {mark}: {told}")
            if of == "T":
                M = w.given("M_0", on.M, unit="N mm", source=f"Rod {mark}: moment there")
                C = w(beam.axis_couple, V=V, M=M, h=block.b)
                share = w(beam.end_twist, C=C, a=a, l=block.l)
            else:
                share = w(beam.end_shear, V=V, a=a, l=block.l)
            w.last(f"{symbol}_{i}")
            terms.append(((f"{symbol}_{i}", share),))
        at_end.append(w.add(f"{symbol}_e", tuple(terms), unit=unit, source=f"At the {side} end"))
    return abs(at_end[0]), abs(at_end[1])


def _greater(w: Working, pair: tuple[float, float], symbol: str, unit: str) -> float:
    return w.given(symbol, max(pair), unit=unit, source="The greater of the two ends")


def block_split(w: Working, *, loads: Sequence[OnMember], rules: MemberRules, when: When) -> Said:
    """Return the greater shear beside the rods of a block, and what it can take until it splits (N).

    The rod nearest to its loaded edge stands for all. Arguments: all rods in one block.
    """
    block = block_of(loads, rules, "block.split")
    if isinstance(block, CannotSay):
        return block
    V = _greater(w, _ends(w, loads, block, "V"), "V_e", "N")
    edges = [on.seat.edges[0] for on in loads if on.seat.edges is not None]
    h_e = w.given("h_e", min(edges), unit="mm", source="From the rod to the bottom edge")
    b = min(on.seat.rod.embedment for on in loads)
    b = w.given("b", b, unit="mm", source="Depth of the rod in the block")
    return V, rules.block_split(w, block.timber, when, b=b, h=block.h, h_e=h_e)


def block_bend(w: Working, *, loads: Sequence[OnMember], rules: MemberRules, when: When) -> Said:
    """Return the greatest bending stress of a block, and what it can take (MPa).

    A simple beam between its studs, down and out of the wall, moments of both where they are greatest; the hole
    with the least wood beside it counts as bored right through, there. Arguments: all rods in one block.
    """
    block = block_of(loads, rules, "block.bend")
    if isinstance(block, CannotSay):
        return block
    section = _bored(w, loads, block)
    if section is None:
        return CannotSay("block.bend", "the hole is as high as the block")
    S_v, S_h = section
    M_v, M_h = (_most_bent(w, loads, block, of) for of in ("V", "H"))
    stress = w(beam.bent_both_ways, Mv=M_v, Sv=S_v, Mh=M_h, Sh=S_h)
    return stress, rules.bend(w, block.timber, when, h=max(block.b, block.h))


def _bored(w: Working, loads: Sequence[OnMember], block: Block) -> tuple[float, float] | None:
    """The section moduli that a hole leaves of a block, down and out of the wall (mm3); None if it leaves nothing."""
    known = [(on.seat.edges, on.seat.rod.hole) for on in loads if on.seat.edges is not None]
    (below, above), hole = min(known, key=lambda each: min(each[0]) - each[1] / 2)
    d = w.given("d_h", hole, unit="mm", source="Hole")
    low = w(beam.strip_height, e=w.given("e", below, unit="mm", source="Wood below"), d=d)
    w.last("h_1")
    high = w(beam.strip_height, e=w.given("e", above, unit="mm", source="Wood above"), d=d)
    w.last("h_2")
    if min(low, high) <= 0:
        return None
    b = w.given("b", block.b, unit="mm", source="The block, into the wall")
    y = w(beam.strips_middle, low=low, high=high, d=d)
    I = w(beam.strips_inertia, b=b, low=low, high=high, d=d, y=y)
    h = w.given("h", low + d + high, unit="mm", source="Its height")
    S_v = w(beam.strips_modulus, I=I, y=y, h=h)
    w.last("S_v")
    left = w(beam.net_width, b=w.given("b", h, unit="mm", source="Its height"), d=d)
    S_h = w(beam.net_modulus, b=left, h=w.given("h", block.b, unit="mm", source="Into the wall"))
    w.last("S_h")
    return S_v, S_h


def _most_bent(w: Working, loads: Sequence[OnMember], block: Block, of: Literal["V", "H"]) -> float:
    """The greatest moment of a block at one of its rods, down or out of the wall (N mm)."""
    symbol = "M_v" if of == "V" else "M_h"
    at = [on.along - on.seat.member.left for on in loads]
    forces = [on.V if of == "V" else on.out for on in loads]
    if not any(forces):
        return w.given(symbol, 0.0, unit="N mm", source="Not bent this way")

    def parts(z: float, w: Working) -> list[float]:
        made = []
        for i, (on, a, force) in enumerate(zip(loads, at, forces, strict=True), start=1):
            mark, near = on.seat.rod.mark, (min(a, z), block.l - max(a, z))
            V = w.given("V", force, unit="N", source=f"Rod {mark}: {_PUT[of]}")
            left = w.given("l_l", near[0], unit="mm", source=f"Rod {mark}: from the left end")
            right = w.given("l_r", near[1], unit="mm", source=f"Rod {mark}: from the right end")
            l = w.given("l", block.l, unit="mm", source="Length of the block")
            made.append(w(beam.block_moment, V=V, left=left, right=right, l=l))
            w.last(f"M_{i}")
        return made

    quiet = Working(keep=False)
    worst = max(at, key=lambda z: abs(sum(parts(z, quiet))))
    w.given("z", worst, unit="mm", source="Looked at so far from the left end")
    terms: list[Term] = [((f"M_{i}", part),) for i, part in enumerate(parts(worst, w), start=1)]
    total = abs(w.add(symbol, tuple(terms), unit="N mm", source="All rods in the block"))
    return w.given(symbol, total, unit="N mm", source="Its size")


def block_tors(w: Working, *, loads: Sequence[OnMember], rules: MemberRules, when: When) -> Said:
    """Return the greatest shear stress of a twisted block, and what it can take (MPa).

    Its ends cannot twist. Where it is bored it twists as two strips, both as high as the lower one. Arguments: all rods
    in one block.
    """
    block = block_of(loads, rules, "block.tors")
    if isinstance(block, CannotSay):
        return block
    T = w(beam.strip_twist, T=_greater(w, _ends(w, loads, block, "T"), "T", "N mm"))
    e, hole = min(
        ((min(on.seat.edges), on.seat.rod.hole) for on in loads if on.seat.edges),
        key=lambda each: each[0] - each[1] / 2,
    )
    e = w.given("e", e, unit="mm", source="From the hole's middle to the nearer edge")
    h = w(beam.strip_height, e=e, d=w.given("d_h", hole, unit="mm", source="Hole"))
    if h <= 0:
        return CannotSay("block.tors", "the hole is as high as the block")
    p, q = max(h, block.b), min(h, block.b)
    p = w.given("p", p, unit="mm", source="Long side")
    q = w.given("q", q, unit="mm", source="Short side")
    alpha = w(beam.twist_modulus, n=w.given("n", q / p, unit="1", source="Short over long side"))
    stress = w(beam.twist_stress, T=T, alpha=alpha, long=p, short=q)
    return stress, rules.torsion(w, block.timber, when, long=p, short=q)


def block_fix(
    w: Working,
    *,
    loads: Sequence[OnMember],
    fixing: EndFixing | None,
    rules: MemberRules,
    when: When,
) -> Said:
    """Return the force across the worst screw that holds a block to its studs, and what it can take (N).

    Args:
        w: takes the lines.
        loads: all rods in one block.
        fixing: what holds each end; None if nobody has said.
        rules: the basis.
        when: situation and duration.
    """
    block = block_of(loads, rules, "block.fix")
    if isinstance(block, CannotSay):
        return block
    if fixing is None:
        return CannotSay("block.fix", "nobody has said what holds the blocking to the studs")
    if fixing.count < 2 or fixing.apart <= 0:
        return CannotSay("block.fix", "one screw at an end cannot keep a block from turning")
    V = _greater(w, _ends(w, loads, block, "V"), "V_e", "N")
    T = _greater(w, _ends(w, loads, block, "T"), "T_e", "N mm")
    H = _greater(w, _ends(w, loads, block, "H"), "H_e", "N") if any(on.out for on in loads) else 0.0
    n = w.given("n", float(fixing.count), unit="1", source="Screws at each end")
    e = w.given("e", fixing.apart, unit="mm", source="Between the outermost screws")
    F = w(on_screw, V=V, H=H, n=n, T=T, e=e)
    driven = Driven(fixing.screw, fixing.through, fixing.into, fixing.way, block.timber)
    return F, rules.lateral(w, driven, when)
