"""The NDS with AISC for steel, in the shape both bases share."""

from __future__ import annotations

from dataclasses import dataclass

from ledgewright.job import Lasts
from ledgewright.statics import mechanics
from ledgewright.statics.bases.nds import _aisc as aisc
from ledgewright.statics.bases.nds import _section12 as s12
from ledgewright.statics.bases.nds import _tr12 as tr12
from ledgewright.statics.bases.rules import (
    Combination,
    Edge,
    Grip,
    Resistance,
    Situation,
    scope_of,
    tube_scope,
)
from ledgewright.statics.bases.section import SHEAR_SHARE, shear_area
from ledgewright.statics.formula import Working, formula
from ledgewright.statics.model import Scope
from ledgewright.stock import Bar, Timber

ASD = "ASCE 7-16 2.4, allowable stress"
ACCIDENT = "ASCE 7-16 2.5 (1.2D + L + A)"


@formula(
    "R",
    "frac(C_D s_u V_0, R_d K_theta)",
    unit="N",
    source="NDS-2018 12.3.1, 11.3.1",
    symbols={"C": "C_D", "s": "s_u", "V": "V_0", "R": "R_d", "K": "K_theta"},
)
def reduced_limit(*, C: float, s: float, V: float, R: float, K: float) -> float:
    """Return the allowable load on a rod by the crushing of the wood.

    NDS-2018 12.3.1. C: load duration factor. s: factor to the rigid limit. V: load (N). R: reduction term of the mode.
    K: its angle part. Returns N.
    """
    return C * s * V / (R * K)


@formula(
    "R_h",
    "frac(C_D P_h, R_d K_theta)",
    unit="N",
    source="NDS-2018 12.3.1, 11.3.1",
    symbols={"C": "C_D", "P": "P_h", "R": "R_d", "K": "K_theta"},
)
def reduced_hinge(*, C: float, P: float, R: float, K: float) -> float:
    """Return the allowable load on a rod by a hinge in the wood.

    NDS-2018 12.3.1. C: load duration factor. P: hinge load (N). R: reduction term of the mode. K: its angle part.
    Returns N.
    """
    return C * P / (R * K)


@dataclass(frozen=True)
class Nds:
    """NDS-2018 and AISC 360-22, allowable stress design; the accidental case by resistance factors on steel."""

    @property
    def combinations(self) -> tuple[Combination, ...]:
        """The combinations of loads, service ones first."""
        return (
            Combination("D + L", "service", 1.0, 1.0, 0.0, 0.0, ASD),
            Combination("D + L + S", "service", 1.0, 1.0, 1.0, 0.0, ASD),
            Combination("D + L", "strength", 1.0, 1.0, 0.0, 0.0, ASD),
            Combination("D + L + S", "strength", 1.0, 1.0, 1.0, 0.0, ASD),
            Combination("1.2D + L + A", "accident", 1.2, 1.0, 0.0, 1.0, ACCIDENT),
        )

    def missing(self, bar: Bar, timber: Timber) -> str | None:
        """Return what the NDS lacks to judge this bar in this timber; None if nothing."""
        if timber.G is None:
            return f"{timber.name} has no specific gravity for the NDS"
        if not 0.25 * s12.INCH * 0.9999 <= bar.width <= s12.INCH * 1.0001:
            return f"{bar.name}: the NDS covers dowels from 1/4 to 1 in"
        return None

    def rod_bend(self, w: Working, bar: Bar, L_b: float, situation: Situation) -> Resistance:
        """Return the moment the bar can take (N mm): AISC 360-22 F11."""
        F = _yield(w, bar)
        Z = w.given("Z", bar.plastic_modulus, unit="mm^3", source="Section")
        S = w.given("S", bar.elastic_modulus, unit="mm^3", source="Section")
        s = aisc.slenderness(L=L_b, h=bar.height, t=bar.width)
        if aisc.needs_buckling(shape=bar.shape, s=s, E=bar.E, F=F):
            s = w(aisc.slenderness, L=L_b, h=bar.height, t=bar.width)
            buckles = aisc.inelastic_buckling if s <= 1.9 * bar.E / F else aisc.elastic_buckling
            M = w(buckles, s=s, F=F, E=bar.E, S=S, Z=Z)
        else:
            M = w(aisc.yielding, F=F, Z=Z, S=S, c=aisc.CAP[bar.shape])
        if situation == "accident":
            value = w(aisc.design_moment, phi=aisc.PHI, M=M)
        else:
            value = w(aisc.allowable_moment, M=M, omega=aisc.OMEGA)
        return Resistance(value, *_scope(bar), aisc.F11)

    def rod_shear(self, w: Working, bar: Bar, situation: Situation) -> Resistance:
        """Return the shear the bar can take (N): AISC 360-22 G4 with the elastic shear area."""
        F = _yield(w, bar)
        A = w(shear_area, share=SHEAR_SHARE[bar.shape], A=bar.area)
        V = w(aisc.shear_yielding, F=F, A=A)
        if situation == "accident":
            value = w(aisc.design_shear, phi=aisc.PHI, V=V)
        else:
            value = w(aisc.allowable_shear, V=V, omega=aisc.OMEGA)
        return Resistance(value, *_scope(bar), "AISC 360-22 G4")

    def bearing(self, w: Working, grip: Grip) -> float:
        """Return the dowel bearing strength (MPa): NDS-2018 12.3.3."""
        G = w.given("G", grip.timber.G or 0.0, unit="1", source=grip.timber.source)
        d = grip.bar.width
        F = w(s12.Fe_perpendicular, G=G, d=d) if grip.angle else w(s12.Fe_parallel, G=G)
        return w(s12.to_50_psi, F=F)

    def bed_limit(self, w: Working, grip: Grip, situation: Situation, lasts: Lasts) -> Resistance:
        """Return the load at this lever that the wood can take (N): rigid limit over 3.6 K_theta."""
        q = w(tr12.bearing_per_length, F=self.bearing(w, grip), d=grip.bar.width)
        s = w(mechanics.rigid_factor, q=q, L=grip.L, V=grip.V, M=grip.M)
        C, K = duration(w, situation, lasts), w(s12.K_theta, theta=grip.angle)
        value = w(reduced_limit, C=C, s=s, V=grip.V, R=tr12.R_II, K=K)
        return Resistance(value, *scope_of(grip.bar), "AWC TR12 mode II; NDS-2018 12.3")

    def bed_hinge(self, w: Working, grip: Grip, situation: Situation, lasts: Lasts) -> Resistance:
        """Return the load at this lever at which the rod hinges in the wood (N): over 3.2 K_theta."""
        q = w(tr12.bearing_per_length, F=self.bearing(w, grip), d=grip.bar.width)
        M_p = w(aisc.plastic_moment, F=_yield(w, grip.bar), Z=grip.bar.plastic_modulus)
        P = w(mechanics.hinge_load, q=q, e=grip.M / grip.V, M_p=M_p)
        C, K = duration(w, situation, lasts), w(s12.K_theta, theta=grip.angle)
        value = w(reduced_hinge, C=C, P=P, R=tr12.R_III, K=K)
        return Resistance(value, *scope_of(grip.bar), "AWC TR12 mode III; NDS-2018 12.3")

    def edge(self, *, across: bool) -> Edge:
        """Return the least edge distances: NDS-2018 T12.5.1C."""
        return Edge(4.0 if across else 1.5, 1.5, "NDS-2018 T12.5.1C")


def _scope(bar: Bar) -> tuple[Scope, str]:
    """How well AISC 360 fits a bar, and why."""
    scope, why = tube_scope(bar)
    if bar.stainless and not why:
        return (
            "stretched",
            "AISC 360 is for carbon steel; stainless is AISC 370's, with like factors (from memory)",
        )
    return scope, why


def _yield(w: Working, bar: Bar) -> float:
    return w.given("F_y", bar.Fy, unit="MPa", source=bar.source, assumed=bar.yield_is == "typical")


def duration(w: Working, situation: Situation, lasts: Lasts) -> float:
    """Return the load duration factor, with its line: NDS-2018 T2.3.2."""
    C = s12.C_D_SHORT if situation == "accident" else s12.C_D[lasts]
    return w.given("C_D", C, unit="1", source="NDS-2018 T2.3.2")
