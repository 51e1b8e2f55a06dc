"""How far studs and blocking give under the rods in them, so that rods that share one feel each other.

What gives round each rod in the wood is its bed, and is not counted again here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ledgewright.statics.bases import MemberRules, ec5
from ledgewright.statics.beam import densities
from ledgewright.statics.block_checks import block_section, end_fixing
from ledgewright.statics.inputs import NOMINAL
from ledgewright.statics.mechanics import member as beam
from ledgewright.statics.seats import Seat
from ledgewright.stock import Timber
from ledgewright.survey import Member

E_OVER_G = 16.0
"""Softwood of EN 338 by EN 384 (from memory)."""
Matrix = tuple[tuple[float, ...], ...]


@dataclass(frozen=True)
class Giving:
    """One member as a beam: E, G (MPa), into the wall b and across it h (mm), its length l (mm)."""

    E: float
    G: float
    b: float
    h: float
    l: float

    @property
    def inertia(self) -> float:
        """Second moment for bending out of level of a block, or out of the wall of a stud (mm4)."""
        return self.b * self.h**3 / 12

    @property
    def torsion(self) -> float:
        """Torsion constant (mm4)."""
        p, q = max(self.b, self.h), min(self.b, self.h)
        return beam.twist_constant(n=q / p) * p * q**3


def modulus(timber: Timber) -> float:
    """Return the mean modulus of a timber (MPa), whichever basis has it.

    Raises:
        ValueError: if neither has.
    """
    found = timber.E_mean or timber.E
    if found is None:
        msg = f"{timber.name} has no modulus"
        raise ValueError(msg)
    return found


def ends(member: Member, across: float) -> tuple[float, float]:
    """Return how far an end of a block goes down per force and turns per twist: what holds it on its studs slips.

    EN 1995-1-1 T7.1. A screw counts by its effective diameter (8.7.1(3)); nails as driven without a hole. Nothing gives
    where nobody has said what holds the block, or one screw alone does: `block.fix` cannot say then.

    Args:
        member: the block.
        across: bed across the grain over bed along it: the block is pressed across its grain.

    Returns:
        mm/N and rad per N mm.
    """
    fixing = end_fixing(member)
    if fixing is None or member.timber is None or fixing.count < 2 or fixing.apart <= 0:
        return 0.0, 0.0
    rho, screw = densities(member.timber)[1], fixing.screw
    if screw.kind == "nail":
        K = ec5.K_ser_nail(rho=rho, d=screw.diameter)
    else:
        K = ec5.K_ser(rho=rho, d=ec5.effective(root=screw.root))
    K = beam.end_slip(K=K, c=across)
    return beam.end_sinks(n=fixing.count, K=K), beam.end_turns(K=K, e=fixing.apart)


def share(
    seats: Sequence[Seat],
    *,
    rules: MemberRules,
    k_def: float = 0.0,
    across: float = NOMINAL.across,
) -> Matrix:
    """Return drop and turn at every wood face per V and M there, of the members that hold the rods.

    A stud is a simple beam from floor to ceiling and a post on its foot; a block a simple beam between its studs,
    which do not give; what holds it there against sinking and twisting slips. Holes are left out. Rods in different
    members do not feel each other. A rod outside the storey counts as at its end, and a block whose height fits no side
    of its timber as lying flat: both give more. The checks of such a member cannot say.

    Args:
        seats: the rods.
        rules: the basis, for the storey where no height is given.
        k_def: creep factor; 0 on day one.
        across: bed across the grain over bed along it.

    Returns:
        (2n, 2n), symmetric, in the order V1, M1, V2, M2 (mm, rad per N, N mm).

    Raises:
        ValueError: if a rod's member has no timber or modulus.
    """
    size = 2 * len(seats)
    made = [[0.0] * size for _ in range(size)]
    for i, on in enumerate(seats):
        for j, of in enumerate(seats):
            if _one(on, of):
                cell = _cell(on, of, on.wall.height or rules.storey, k_def, across)
                for p in (0, 1):
                    made[2 * i + p][2 * j : 2 * j + 2] = cell[p]
    return tuple(map(tuple, made))


def _one(on: Seat, of: Seat) -> bool:
    return (on.wall.id, on.member.id) == (of.wall.id, of.member.id)


def _cell(
    on: Seat, of: Seat, height: float, k_def: float, across: float
) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return drop and turn at one face (rows) per V and M at another (columns)."""
    timber = on.member.timber
    if timber is None:
        msg = f"member {on.member.id} has no timber"
        raise ValueError(msg)
    E = modulus(timber) / (1 + k_def)
    if on.across:
        sides = timber.width, timber.depth
        b, h = block_section(on.member) or (max(sides), min(sides))
        bar = Giving(E, E / E_OVER_G, b, h, on.member.width)
        z, a = (each.wall.figures(each.rod.point(0.0))[0] - on.member.left for each in (on, of))
        ended = beam.ends_give(a=a, z=z, l=bar.l) * (1 + 2 * k_def)
        down, twisted = ends(on.member, across)
        sinks = beam.beam_drop(a=a, z=z, l=bar.l) / (E * bar.inertia) + down * ended
        turns = beam.bar_twist(a=a, z=z, l=bar.l) / (bar.G * bar.torsion) + twisted * ended
        return lever(sinks, turns, b / 2)
    post = Giving(E, E / E_OVER_G, timber.width, timber.depth, height)
    z, a = (min(max(each.rod.origin[2], 0.0), height) for each in (on, of))
    sinks = beam.post_drop(a=a, z=z) / (E * post.b * post.h)
    turns = beam.couple_turn(a=a, z=z, H=height) / (E * post.inertia)
    return lever(sinks, turns, timber.depth / 2)


def lever(
    sinks: float, turns: float, arm: float
) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return drop and turn at a face in front of an axis per V and M there.

    Rigid arm: V also turns the axis, and a turn of the axis also lowers the face. sinks: drop of the axis per load
    on it (mm/N). turns: turn of the axis per couple (rad per N mm). arm: from axis to face (mm).
    """
    return (sinks + arm**2 * turns, arm * turns), (arm * turns, turns)
