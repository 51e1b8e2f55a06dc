"""One rod solved: its bed today and after creep, its answer at the wood face, and the front edge it carries."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ledgewright.statics import mechanics
from ledgewright.statics.bases import Combination, Kind, ec5
from ledgewright.statics.formula import Term, Working, number
from ledgewright.statics.inputs import Inputs
from ledgewright.statics.loads import Part
from ledgewright.statics.seats import Seat
from ledgewright.stock import Adhesive, Timber

NU_MOST = 0.45
"""The bush formula runs away towards 0.5 and a short ring bulges: no more than this is used."""
DRY = 1.12
"""Mass at 12 % moisture over oven dry mass; the swelling is left out, towards the soft side."""
STANDS = ("years", "months")


@dataclass(frozen=True)
class Bed:
    """The bed of one rod: modulus (MPa), characteristic (1/mm), embedment (mm), steel (MPa, mm4)."""

    k: float
    lam: float
    L: float
    E: float
    I: float


@dataclass(frozen=True)
class Forces:
    """What acts on a rod: V0 (N) and M0 (N mm) at the wood face.

    P, a: the shelf's part of it (N) at the lever of its resultant (mm).
    """

    V: float
    M: float
    P: float
    a: float


def _modulus(adhesive: Adhesive, at: float) -> float:
    if at < 0:
        return adhesive.E_likely + at * (adhesive.E_likely - adhesive.E_low)
    return adhesive.E_likely + at * (adhesive.E_high - adhesive.E_likely)


def densities(timber: Timber) -> tuple[float, float]:
    """Return specific gravity and mean density (kg/m3); each from the other where a basis has only one."""
    if timber.G is not None:
        return timber.G, timber.rho_mean or 1000 * timber.G
    if timber.rho_mean is None:
        msg = f"{timber.name} has neither specific gravity nor mean density"
        raise ValueError(msg)
    return timber.rho_mean / (1000 * DRY), timber.rho_mean


def _wood(w: Working, seat: Seat, inputs: Inputs) -> float:
    timber, d, E = seat.member.timber, seat.rod.bar.width, seat.rod.bar.E
    if timber is None:
        msg = f"member {seat.member.id} has no timber"
        raise ValueError(msg)
    G, rho = densities(timber)
    known_G, known_rho = timber.G is not None, timber.rho_mean is not None
    from_rho, from_G = "from the mean density at 12 % moisture", "1000 times the specific gravity"
    G = w.given(
        "G", G, unit="1", source=timber.source if known_G else from_rho, assumed=not known_G
    )
    rho_from = timber.source if known_rho else from_G
    rho = w.given("rho_m", rho, unit="kg/m^3", source=rho_from, assumed=not known_rho)
    K = w(ec5.K_ser, rho=rho, d=d)
    low = w(mechanics.bed_from_slip, K=K, E=E, d=d)
    high = w(mechanics.bed_from_handbook, G=G, d=d)
    w.last(assumed=True)
    k = w(mechanics.bed_between, low=low, high=high, b=inputs.bed)
    w.last(assumed=True)
    if seat.across:
        k = w(mechanics.bed_across, c=inputs.across, k=k)
        w.last("k_w", assumed=True)
    return k


def _glue(w: Working, seat: Seat, inputs: Inputs, *, crept: bool) -> float:
    rod, adhesive = seat.rod, seat.rod.adhesive
    E = w.given(
        "E_g", _modulus(adhesive, inputs.adhesive), unit="MPa", source=adhesive.source, assumed=True
    )
    if crept:
        E = w(mechanics.glue_crept, E=E, phi=adhesive.creep)
        w.last("E_g", assumed=True)
    nu = w.given("nu", min(adhesive.nu, NU_MOST), unit="1", source=adhesive.source, assumed=True)
    # A bar that is not round lies in the ring of its inscribed circle: the thicker, softer ring.
    r = w.given(
        "r", rod.hole / min(rod.bar.width, rod.bar.height), unit="1", source="Hole over rod"
    )
    G, kappa = w(mechanics.shear_modulus, E=E, nu=nu), w(mechanics.kappa, nu=nu)
    k = w(mechanics.bush, G=G, nu=nu, kappa=kappa, r=r)
    k = w(mechanics.filled, f=inputs.fill, k=k)
    w.last(assumed=True)
    return k


def bed(w: Working, seat: Seat, inputs: Inputs, *, crept: bool = False) -> Bed:
    """Return the bed of a rod: wood and glue ring in series.

    Args:
        w: takes the lines.
        seat: the rod in its member.
        inputs: the doubtful figures.
        crept: after creep: wood by twice k_def, glue by its class, steel unchanged.

    Raises:
        ValueError: if the member's timber, or its density, is not known.
    """
    bar = seat.rod.bar
    wood = _wood(w, seat, inputs)
    if crept:
        wood = w(mechanics.bed_crept, k=wood, k_def=inputs.k_def)
        w.last("k_w")
    k = w(mechanics.in_series, wood=wood, glue=_glue(w, seat, inputs, crept=crept))
    E = w.given("E", bar.E, unit="MPa", source=bar.source)
    I = w.given("I", bar.inertia, unit="mm^4", source="Section")
    lam = w(mechanics.characteristic, k=k, E=E, I=I)
    L = w.given("L", seat.rod.embedment, unit="mm", source="Depth in the wood")
    return Bed(k, lam, L, E, I)


GROUPS: tuple[tuple[Kind, str], ...] = (
    ("dead", "G"),
    ("live", "Q"),
    ("single", "S"),
    ("accident", "A"),
)


def forces(w: Working, parts: Sequence[Part], combination: Combination) -> Forces:
    """Return what acts on a rod under one combination of loads.

    Args:
        w: takes the lines.
        parts: all loads on the rod.
        combination: the factors.
    """
    down: list[Term] = []
    turning: list[Term] = []
    for kind, name in GROUPS:
        these = [p for p in parts if p.kind == kind or (kind == "dead" and p.kind == "rod")]
        factor = combination.factor(kind)
        if not these or factor == 0:
            continue
        load, moment = _summed(w, kind, name, these)
        front: Term = () if factor == 1 else ((number(factor), factor),)
        down.append((*front, (f"F_{name}", load)))
        turning.append((*front, (f"M_{name}", moment)))
    source = f"{combination.id}, {combination.source}"
    V = w.add("V_0", tuple(down), unit="N", source=source)
    M = w.add("M_0", tuple(turning), unit="N mm", source=source)
    shelf = [(p, combination.factor(p.kind)) for p in parts if p.kind != "rod"]
    P = sum(f * p.force for p, f in shelf)
    return Forces(V, M, P, sum(f * p.force * p.lever for p, f in shelf) / P)


def _summed(w: Working, kind: Kind, name: str, these: Sequence[Part]) -> tuple[float, float]:
    """Return the sum of the loads of one kind (N) and their moment about the wood (N mm)."""
    loads: tuple[Term, ...] = tuple(((p.symbols[0], p.force),) for p in these)
    moments: tuple[Term, ...] = tuple(
        ((p.symbols[0], p.force), (p.symbols[1], p.lever)) for p in these
    )
    return (
        w.add(f"F_{name}", loads, unit="N", source=f"Sum of {kind} loads"),
        w.add(f"M_{name}", moments, unit="N mm", source=f"Moment of {kind} loads about the wood"),
    )


def at_face(w: Working, bed: Bed, acting: Forces) -> mechanics.Face:
    """Return the rod at the wood face under the forces."""
    return mechanics.face(w, V=acting.V, M=acting.M, k=bed.k, lam=bed.lam, L=bed.L)


def front_drop(w: Working, seat: Seat, bed: Bed, acting: Forces) -> float:
    """Return how far the front edge stands below the unloaded rod's line (mm)."""
    face = at_face(w, bed, acting)
    P = w.given("P", acting.P, unit="N", source="Shelf and contents on this rod")
    a = w.given("a", acting.a, unit="mm", source="Lever of their resultant")
    y = w(mechanics.load_drop, y=face.y, theta=face.theta, P=P, a=a, E=bed.E, I=bed.I)
    theta = w(mechanics.load_turn, theta=face.theta, P=P, a=a, E=bed.E, I=bed.I)
    return w(mechanics.front_drop, y=y, theta=theta, b=seat.front - a)


def standing(parts: Sequence[Part]) -> tuple[Part, ...]:
    """Return the loads that stay long enough to creep: self-weight, and contents for months or years."""
    return tuple(
        p for p in parts if p.kind in ("dead", "rod") or (p.kind == "live" and p.lasts in STANDS)
    )
