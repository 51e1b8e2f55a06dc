"""The checks of blocking: what the rods of all shelves in one ask of it and of what holds it, and what they can take.

Every check is a plain function of the forces at the wood faces under one case.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

from ledgewright.statics.bases import Driven, MemberRules, When
from ledgewright.statics.formula import Term, Working, formula
from ledgewright.statics.mechanics import member as beam
from ledgewright.statics.member_checks import FROM_END, OnMember, Said, timber_of
from ledgewright.statics.model import CannotSay
from ledgewright.stock import Screw, Timber
from ledgewright.survey import Member, Wall

SLANT = math.radians(30)
"""How far what is toed in leans off the block: NDS-2018 Figure 12A (from memory)."""
STARTED = 1 / 3
"""How far from the block's end it is started, of its own length: the same figure (from memory)."""
LIKE = 3.0
"""A block lies the way in which its height is within this of a side of its timber (mm)."""


NEARLY = 0.5
"""A rod is nearer to an end than it may be by more than this (mm): no tape shows less."""
MEETS = 15.0
"""An end of blocking this near a stud meets it: both are taped (mm; our choice)."""


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


# ---- the block


def _in_the_air(wall: Wall, block: Member) -> float | None:
    """Return the along of an end of a block that meets no stud (mm); None if both do."""
    upright = [m for m in wall.members if m.kind == "stud" and m.lost != "missing"]
    for end in (block.left, block.right):
        if not any(m.left - MEETS <= end <= m.right + MEETS for m in upright):
            return end
    return None


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


def goes_in(member: Member) -> float | None:
    """Return how deep a member goes into the wall (mm): a block as it lies, if its height tells; None if nobody knows.

    Args:
        member: a stud or blocking.
    """
    if member.timber is None:
        return None
    lies = block_section(member) if member.kind == "blocking" else None
    return member.timber.depth if lies is None else lies[0]


def block_of(loads: Sequence[OnMember], rules: MemberRules, family: str) -> Block | CannotSay:
    """Return the block that rods sit in, or why a family says nothing of it."""
    member = loads[0].seat.member
    timber = timber_of(member, rules, family)
    if isinstance(timber, CannotSay):
        return timber
    section = block_section(member)
    if section is None:
        told = (
            f"it is not as high as either side of a {timber.name}, the timber of its wall's studs"
        )
        return CannotSay(family, f"{told}: tell its `up` as the block really is")
    b, h = section
    deepest = max(on.seat.rod.embedment for on in loads)
    if deepest > b:
        told = f"a {timber.name} so high goes {b:.0f} mm into the wall, a rod {deepest:.0f} mm"
        return CannotSay(family, told)
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
            mark = on.mark
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


def near_its_end(loads: Sequence[OnMember]) -> str | None:
    """Return that a rod is too near an end of its block, which may split there; None if none is.

    EN 1995-1-1 T8.4: a dowel stands seven diameters from an end that it may press towards. None is drawn nearer; one
    may be set there.
    """
    for on in loads:
        member, bar = on.seat.member, on.seat.rod.bar
        least = FROM_END * max(bar.width, bar.height)
        near = min(on.along - member.left, member.right - on.along)
        if near < least - NEARLY:
            told = f"{near:.0f} mm from the end of its blocking, which may split there: {least:.0f} mm at least"
            return f"{on.mark} stands {told}"
    return None


def block_split(w: Working, *, loads: Sequence[OnMember], rules: MemberRules, when: When) -> Said:
    """Return the greater shear beside the rods of a block, and what it can take until it splits (N).

    The rod nearest to its loaded edge stands for all. Arguments: all rods in one block.
    """
    block = block_of(loads, rules, "block.split")
    if isinstance(block, CannotSay):
        return block
    why = near_its_end(loads)
    if why is not None:
        return CannotSay("block.split", why)
    V = _greater(w, _ends(w, loads, block, "V"), "V_e", "N")
    edges = [on.seat.edges[0] for on in loads if on.seat.edges is not None]
    h_e = w.given("h_e", min(edges), unit="mm", source="From the rod to the bottom edge")
    b = min(on.seat.rod.embedment for on in loads)
    b = w.given("b", b, unit="mm", source="Depth of the rod in the block")
    return V, rules.block_split(w, block.timber, when, b=b, h=block.h, h_e=h_e)


def block_bend(w: Working, *, loads: Sequence[OnMember], rules: MemberRules, when: When) -> Said:
    """Return the greatest bending stress of a block, and what it can take (MPa).

    A simple beam between its studs, down and out of the wall, moments of both where they are greatest; the hole that
    leaves least counts as bored right through, there. Arguments: all rods in one block.
    """
    block = block_of(loads, rules, "block.bend")
    if isinstance(block, CannotSay):
        return block
    section = _bored(w, loads, block)
    if isinstance(section, str):
        return CannotSay("block.bend", section)
    S_v, S_h = section
    M_v, M_h = (_most_bent(w, loads, block, of) for of in ("V", "H"))
    if any(on.side for on in loads):

        def more(C: float, on: OnMember) -> float:
            a = on.along - on.seat.member.left
            a = w.given("a", a, unit="mm", source="From the block's left end")
            return w(beam.couple_moment, C=C, a=a, l=_long(w, block))

        M_h = _turned(w, loads, block, M_h, more, "M_h")
    stress = w(beam.bent_both_ways, Mv=M_v, Sv=S_v, Mh=M_h, Sh=S_h)
    return stress, rules.bend(w, block.timber, when, h=max(block.b, block.h))


def _turned(
    w: Working,
    loads: Sequence[OnMember],
    block: Block,
    straight: float,
    part: Callable[[float, OnMember], float],
    symbol: str,
) -> float:
    """Return what a pull does to a block, and what pushes along the wall add that turn it about the upright.

    Added up over all rods, whichever way each is pushed. straight: what the pull does; part: what a couple adds.
    """
    letter, unit = symbol[0], "N mm" if symbol[0] == "M" else "N"
    pulled = w.given(f"{letter}_p", straight, unit=unit, source="Pulled straight out of the wall")
    terms: list[Term] = [((f"{letter}_p", pulled),)]
    for i, on in enumerate(loads, start=1):
        mark = on.mark
        H = w.given("H_r", abs(on.side), unit="N", source=f"Rod {mark}: push along the wall")
        a = w.given("a_H", on.seat.front, unit="mm", source="From the wood to the front edge")
        h = w.given("h", block.b, unit="mm", source="The block, into the wall")
        added = part(w(beam.side_couple, H=H, a=a, h=h), on)
        w.last(f"{letter}_(s {i})")
        terms.append(((f"{letter}_(s {i})", added),))
    return w.add(symbol, tuple(terms), unit=unit, source="Pull, and pushes along the wall")


def _long(w: Working, block: Block) -> float:
    return w.given("l", block.l, unit="mm", source="Length of the block")


def _bored(w: Working, loads: Sequence[OnMember], block: Block) -> tuple[float, float] | str:
    """The section moduli that the worst hole leaves of a block, down and out (mm3), or why nothing is said of them."""
    for one, other in combinations(loads, 2):
        near = max(one.seat.rod.hole, other.seat.rod.hole)
        if abs(one.along - other.along) < near and one.up != other.up:
            return "two holes stand one above the other in it"
    known = [(on.seat.edges, on.seat.rod.hole) for on in loads if on.seat.edges is not None]
    holes = [(below, above, hole) for (below, above), hole in known]
    if any(min(below, above) <= hole / 2 for below, above, hole in holes):
        return "a hole breaks out of the block"
    worst = min(holes, key=lambda hole: _modulus(Working(keep=False), block, *hole))
    S_v = _modulus(w, block, *worst)
    w.last("S_v")
    d = w.given("d_h", max(hole for _, _, hole in holes), unit="mm", source="The widest hole")
    left = w(beam.net_width, b=w.given("b", block.h, unit="mm", source="The block's height"), d=d)
    S_h = w(beam.net_modulus, b=left, h=w.given("h", block.b, unit="mm", source="Into the wall"))
    w.last("S_h")
    return S_v, S_h


def _modulus(w: Working, block: Block, below: float, above: float, hole: float) -> float:
    """The section modulus of a block as it bends down, bored right through (mm3)."""
    d = w.given("d_h", hole, unit="mm", source="Hole")
    e = w.given("e", below, unit="mm", source="From the hole's middle to the bottom edge")
    low = w(beam.strip_height, e=e, d=d)
    w.last("h_1")
    e = w.given("e", above, unit="mm", source="From the hole's middle to the top edge")
    high = w(beam.strip_height, e=e, d=d)
    w.last("h_2")
    b = w.given("b", block.b, unit="mm", source="The block, into the wall")
    y = w(beam.strips_middle, low=low, high=high, d=d)
    I = w(beam.strips_inertia, b=b, low=low, high=high, d=d, y=y)
    h = w.given("h", low + d + high, unit="mm", source="Its height")
    return w(beam.strips_modulus, I=I, y=y, h=h)


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
            mark, near = on.mark, (min(a, z), block.l - max(a, z))
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
        return CannotSay(
            "block.fix",
            "nobody has said what holds the blocking to the studs, nor how far it slips there",
        )
    loose = _in_the_air(loads[0].seat.wall, loads[0].seat.member)
    if loose is not None:
        return CannotSay(
            "block.fix",
            f"no stud is told where the blocking ends, at {abs(loose):.1f} mm on the wall",
        )
    if fixing.count < 2 or fixing.apart <= 0:
        return CannotSay("block.fix", "one screw at an end cannot keep a block from turning")
    V = _greater(w, _ends(w, loads, block, "V"), "V_e", "N")
    T = _greater(w, _ends(w, loads, block, "T"), "T_e", "N mm")
    H = _greater(w, _ends(w, loads, block, "H"), "H_e", "N") if any(on.out for on in loads) else 0.0
    if any(on.side for on in loads):
        H = _turned(
            w, loads, block, H, lambda C, _: w(beam.couple_end, C=C, l=_long(w, block)), "H_e"
        )
    n = w.given("n", float(fixing.count), unit="1", source="Screws at each end")
    e = w.given("e", fixing.apart, unit="mm", source="Between the outermost screws")
    F = w(on_screw, V=V, H=H, n=n, T=T, e=e)
    driven = Driven(fixing.screw, fixing.through, fixing.into, fixing.way, block.timber)
    return F, rules.lateral(w, driven, when)
