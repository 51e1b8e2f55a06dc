"""Eurocode 5 with Eurocode 3 for steel, in the shape both bases share."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ledgewright.job import Lasts
from ledgewright.statics import mechanics
from ledgewright.statics.bases.ec5 import _en1993 as ec3
from ledgewright.statics.bases.ec5 import _section8 as s8
from ledgewright.statics.bases.ec5 import _timber as ec5
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
from ledgewright.statics.formula import Working
from ledgewright.stock import Bar, Timber

SERVICE = "EN 1990 6.5.3, characteristic"
STRENGTH = "EN 1990 6.10"
ACCIDENT = "EN 1990 6.11b"


@dataclass(frozen=True)
class Ec5:
    """EN 1995-1-1:2004 and EN 1993-1-1:2005 with the recommended factors."""

    @property
    def combinations(self) -> tuple[Combination, ...]:
        """The combinations of loads, service ones first."""
        return (
            Combination("G + Q", "service", 1.0, 1.0, 0.0, 0.0, SERVICE),
            Combination("G + Q + S", "service", 1.0, 1.0, 1.0, 0.0, SERVICE),
            Combination("1.35G + 1.5Q", "strength", 1.35, 1.5, 0.0, 0.0, STRENGTH),
            Combination("1.35G + 1.5Q + 1.5S", "strength", 1.35, 1.5, 1.5, 0.0, STRENGTH),
            Combination("G + Q + A", "accident", 1.0, 1.0, 0.0, 1.0, ACCIDENT),
        )

    def missing(self, bar: Bar, timber: Timber) -> str | None:
        """Return what Eurocode 5 lacks to judge this bar in this timber; None if nothing."""
        if timber.rho_k is None:
            return f"{timber.name} has no characteristic density for Eurocode 5"
        if not 6 <= bar.width <= 30:
            return f"{bar.name}: Eurocode 5 covers dowels from 6 to 30 mm"
        return None

    def rod_bend(self, w: Working, bar: Bar, L_b: float, situation: Situation) -> Resistance:
        """Return the moment the bar can take (N mm): EN 1993-1-1 6.2.5, 6.3.2; one factor in every situation."""
        f = _yield(w, bar)
        tube = "tube" in bar.shape
        W = w.given(
            "W", bar.elastic_modulus if tube else bar.plastic_modulus, unit="mm^3", source="Section"
        )
        M = w(ec3.bending, W=W, f=f, gamma=_gamma_M0(bar))
        if bar.shape == "flat" and bar.height > bar.width:
            M = _buckling(w, bar, L_b, W=W, f=f, M=M)
        return Resistance(M, *tube_scope(bar), "EN 1993-1-1 6.2.5, 6.3.2")

    def rod_shear(self, w: Working, bar: Bar, situation: Situation) -> Resistance:
        """Return the shear the bar can take (N): EN 1993-1-1 6.2.6 with the elastic shear area."""
        f = _yield(w, bar)
        A = w(shear_area, share=SHEAR_SHARE[bar.shape], A=bar.area)
        value = w(ec3.shear, A=A, f=f, gamma=_gamma_M0(bar))
        return Resistance(value, *tube_scope(bar), "EN 1993-1-1 6.2.6")

    def bearing(self, w: Working, grip: Grip) -> float:
        """Return the characteristic embedment strength (MPa): EN 1995-1-1 8.5.1."""
        rho = w.given("rho_k", grip.timber.rho_k or 0.0, unit="kg/m^3", source=grip.timber.source)
        d = grip.bar.width
        f = w(s8.f_h0k, d=d, rho=rho)
        if grip.angle == 0:
            return f
        k = w(s8.k_90, d=d)
        w.last(assumed=True)
        return w(s8.f_hak, f=f, k=k, alpha=math.radians(grip.angle))

    def bed_limit(self, w: Working, grip: Grip, situation: Situation, lasts: Lasts) -> Resistance:
        """Return the load at this lever that the wood can take (N): rigid limit at the design bearing."""
        q = w(s8.bearing_per_length, f=self.bearing(w, grip), d=grip.bar.width)
        k, gamma = duration(w, situation, lasts)
        q_d = w(ec5.design_bearing, k=k, gamma=gamma, q=q)
        s = w(mechanics.rigid_factor, q=q_d, L=grip.L, V=grip.V, M=grip.M)
        value = w(ec5.scaled, s=s, V=grip.V)
        return Resistance(value, *scope_of(grip.bar), "EN 1995-1-1 8.5.1")

    def bed_hinge(self, w: Working, grip: Grip, situation: Situation, lasts: Lasts) -> Resistance:
        """Return the load at this lever at which the rod hinges in the wood (N)."""
        q = w(s8.bearing_per_length, f=self.bearing(w, grip), d=grip.bar.width)
        M = w(s8.M_yRk, f=grip.bar.Fu, d=grip.bar.width)
        P = w(mechanics.hinge_load, q=q, e=grip.M / grip.V, M_p=M)
        k, gamma = duration(w, situation, lasts)
        value = w(ec5.design_hinge, k=k, gamma=gamma, P=P)
        return Resistance(value, *scope_of(grip.bar), "EN 1995-1-1 8.2")

    def edge(self, *, across: bool) -> Edge:
        """Return the least edge distances: EN 1995-1-1 T8.4, T8.5 (a4,t = (2 + 2 sin alpha) d, a4,c = 3 d)."""
        return Edge(4.0 if across else 3.0, 3.0, "EN 1995-1-1 T8.4, T8.5")


def _yield(w: Working, bar: Bar) -> float:
    return w.given("f_y", bar.Fy, unit="MPa", source=bar.source, assumed=bar.yield_is == "typical")


def _gamma_M0(bar: Bar) -> float:
    return ec3.GAMMA_M0_STAINLESS if bar.stainless else ec3.GAMMA_M0


def _buckling(w: Working, bar: Bar, L_b: float, *, W: float, f: float, M: float) -> float:
    critical = w(ec3.critical_moment, E=bar.E, h=bar.height, t=bar.width, L=L_b)
    lam = w(ec3.buckling_slenderness, W=W, f=f, M=critical)
    phi = w(ec3.curve_d, lam=lam)
    return w(ec3.buckling, chi=w(ec3.reduction, phi=phi, lam=lam), M=M)


def duration(
    w: Working, situation: Situation, lasts: Lasts, material: ec5.Material = "solid"
) -> tuple[float, float]:
    """Return k_mod and gamma_M of a material and its connections, with their lines: EN 1995-1-1 2.4.1."""
    accident = situation == "accident"
    duration = "instantaneous" if accident else ec5.DURATION[lasts]
    gamma = ec5.GAMMA_M_ACCIDENT if accident else ec5.GAMMA_M[material]
    k = ec5.k_mod(material=material, duration=duration)
    return (
        w.given("k_m", k, unit="1", source=f"{ec5.K_MOD_SOURCE}: {material}, {duration}"),
        w.given("gamma_M", gamma, unit="1", source="EN 1995-1-1 T2.3"),
    )
