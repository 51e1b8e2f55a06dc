"""Eurocode 5 for the timbers of the wall, in the shape both bases share."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from ledgewright.statics.bases import bonded
from ledgewright.statics.bases.ec5 import _members as m
from ledgewright.statics.bases.ec5 import _section8 as s8
from ledgewright.statics.bases.ec5.adapter import duration
from ledgewright.statics.bases.member_rules import GRUB_YIELD, Driven, Post, When
from ledgewright.statics.bases.pins import pin_yield, screw_yield
from ledgewright.statics.bases.rules import Resistance
from ledgewright.statics.bases.splitting import splitting
from ledgewright.statics.formula import Working
from ledgewright.statics.model import Scope
from ledgewright.stock import Timber

THICK_SCREW = 6.0
"""Diameter (mm) from which the withdrawal formula of EN 1995-1-1 8.7.2 is made."""


@dataclass(frozen=True)
class Ec5Members:
    """EN 1995-1-1:2004 with the recommended factors, for studs, blocking and what holds the shelf on."""

    storey: float = 2400.0
    """2.4 m, assumed where nobody has given it (mm)."""

    def lacks(self, timber: Timber) -> str | None:
        """Return what Eurocode 5 lacks to judge this timber as a member; None if nothing."""
        if None in (timber.fm_k, timber.fv_k, timber.ft90_k, timber.E_mean, timber.rho_k):
            return f"{timber.name} has no characteristic strengths for Eurocode 5"
        return None

    def stud_bend(self, w: Working, post: Post, when: When) -> Resistance:
        """Return the moment a stud can take next to its own load (N mm): EN 1995-1-1 6.3.2."""
        timber, (k, gamma) = post.timber, duration(w, when.situation, when.lasts)
        f = _bending(w, timber, post.h, k=k, gamma=gamma)
        fc = w(m.f_c0k, f=timber.fm_k or 0.0)
        lam = w(m.slenderness, H=post.H, h=post.h, f=fc, E=w(m.E_05, E=timber.E_mean or 0.0))
        kc = w(m.instability, ky=w(m.column, lam=lam), lam=lam)
        fc = w(m.design, k=k, f=fc, gamma=gamma)
        M = w(m.beam_column, S=post.S, f=f, sigma=post.sigma, kc=kc, fc=fc)
        return Resistance(M, "in", "", "EN 1995-1-1 6.3.2")

    def bend(self, w: Working, timber: Timber, when: When, *, h: float) -> Resistance:
        """Return the bending stress a timber can take (MPa): EN 1995-1-1 6.1.6."""
        k, gamma = duration(w, when.situation, when.lasts)
        f = _bending(w, timber, h, k=k, gamma=gamma)
        return Resistance(f, "in", "", "EN 1995-1-1 6.1.6")

    def shear(self, w: Working, timber: Timber, when: When) -> Resistance:
        """Return the shear stress along the grain a timber can take (MPa): EN 1995-1-1 6.1.7."""
        k, gamma = duration(w, when.situation, when.lasts)
        f = w(m.cracked_shear, k=k, cr=m.K_CR, f=timber.fv_k or 0.0, gamma=gamma)
        return Resistance(f, "in", "", "EN 1995-1-1 6.1.7")

    def split(self, w: Working, timber: Timber, when: When) -> Resistance:
        """Return the tension across the grain a timber can take (MPa): EN 338."""
        k, gamma = duration(w, when.situation, when.lasts)
        f = w(m.design, k=k, f=timber.ft90_k or 0.0, gamma=gamma)
        return Resistance(f, "stretched", "own model of the split", "Own model; EN 338 f_t,90,k")

    def block_split(
        self, w: Working, timber: Timber, when: When, *, b: float, h: float, h_e: float
    ) -> Resistance:
        """Return the shear beside a rod at which a block splits (N): EN 1995-1-1 8.1.4."""
        R = w(splitting, b=b, he=h_e, h=h)
        k, gamma = duration(w, when.situation, when.lasts)
        R = w(m.design_load, k=k, R=R, gamma=gamma)
        why = "made for fasteners right through; the rod's depth stands for the breadth"
        return Resistance(R, "stretched", why, "EN 1995-1-1 8.1.4")

    def stud_side(
        self, w: Working, timber: Timber, when: When, *, b: float, h: float, h_e: float
    ) -> Resistance:
        """Return the shear beside a rod at which its stud splits (N): EN 1995-1-1 8.1.4."""
        R = self.block_split(w, timber, when, b=b, h=h, h_e=h_e)
        return replace(
            R, reason="made for fasteners right through; a strip as deep as the rod bears"
        )

    def torsion(
        self, w: Working, timber: Timber, when: When, *, long: float, short: float
    ) -> Resistance:
        """Return the shear stress a twisted timber can take (MPa): EN 1995-1-1 6.1.8."""
        k, gamma = duration(w, when.situation, when.lasts)
        f = w(m.design, k=k, f=timber.fv_k or 0.0, gamma=gamma)
        f = w(m.torsion, shape=w(m.shape_factor, long=long, short=short), f=f)
        return Resistance(f, "stretched", "no rule covers a bored bar", "EN 1995-1-1 6.1.8")

    def lateral(self, w: Working, driven: Driven, when: When) -> Resistance:
        """Return the load across its axis one screw can take (N): EN 1995-1-1 8.2.2; end grain a third."""
        rho, root = _rho_k(w, driven.timber), driven.screw.root
        d = w(m.effective, root=root) if driven.screw.kind != "nail" else root
        f = w(m.f_hk_nail, rho=rho, d=driven.screw.diameter)
        M = w(s8.M_yRk, f=m.F_U_SCREW, d=d)
        w.last(assumed=True)
        P = screw_yield(w, q=w(s8.bearing_per_length, f=f, d=d), M=M, driven=driven)
        if driven.way == "end grain":
            P = w(m.in_end_grain, R=P)
        k, gamma = duration(w, when.situation, when.lasts)
        value = w(m.design_load, k=k, R=P, gamma=gamma)
        scope, why = _deep_enough(driven)
        if scope == "in" and driven.way != "side grain":
            why = "allowed in secondary work only, three at an end at least, or not treated at all"
            scope = "stretched"
        return Resistance(value, scope, why, "EN 1995-1-1 8.2.2, 8.3.1.2")

    def withdrawal(self, w: Working, driven: Driven, when: When) -> Resistance:
        """Return the pull along its axis one screw can take (N): EN 1995-1-1 8.7.2; none of it in end grain."""
        if driven.way == "end grain":
            why = "screws are not to be pulled out of end grain"
            return Resistance(0.0, "in", why, "EN 1995-1-1 8.3.2")
        if driven.screw.kind == "nail":
            return Resistance(0.0, "in", m.NAILS_HOLD, "EN 1995-1-1 8.3.2")
        d, rho = driven.screw.diameter, _rho_k(w, driven.timber)
        l = w.given("l_e", max(driven.into - d, 1.0), unit="mm", source="Thread less its tip")
        R = w(m.screw_pull, f=w(m.f_axk, rho=rho, d=d, l=l), d=d, l=l)
        k, gamma = duration(w, when.situation, when.lasts)
        value = w(m.design_load, k=k, R=R, gamma=gamma)
        scope, why = _deep_enough(driven)
        if scope == "in" and d < THICK_SCREW:
            scope, why = "stretched", "the formula is for screws from 6 mm; the maker declares it"
        return Resistance(value, scope, why, "EN 1995-1-1 8.7.2")

    def bond(
        self, w: Working, timber: Timber, when: When, *, d: float, d_h: float, L: float
    ) -> Resistance:
        """Return the pull at which a bonded rod comes out (N): the least of three published bond strengths."""
        rho = _rho_k(w, timber)
        d_e = w(bonded.d_equivalent, hole=d_h, d=d)
        din = w.given("f_(v,3)", bonded.F_DIN, unit="MPa", source=bonded.DIN_1052)
        f = w(
            bonded.weakest,
            env=w(bonded.f_env, rho=rho, d=d_e),
            aicher=w(bonded.f_aicher, hole=d_h, L=L),
            din=din,
        )
        R = w(bonded.pull_out, d=d_e, L=L, f=f)
        k, gamma = duration(w, when.situation, when.lasts)
        value = w(m.design_load, k=k, R=R, gamma=gamma)
        return Resistance(value, "stretched", bonded.REASON, bonded.ENV)

    def pin(
        self,
        w: Working,
        when: When,
        *,
        density: float,
        source: str,
        d: float,
        t: float,
        e: float,
        Fy: float = GRUB_YIELD,
    ) -> Resistance:
        """Return the side load a screw standing out of a panel can take (N): EN 1995-1-1 8.5.1 with its lever."""
        f, k90 = w(s8.f_h0k, d=d, rho=_thin(w, density, source)), w(s8.k_90, d=d)
        f = w(s8.f_hak, f=f, k=k90, alpha=math.pi / 2)
        P = pin_yield(w, q=w(s8.bearing_per_length, f=f, d=d), d=d, t=t, e=e, Fy=Fy)
        k, gamma = duration(w, when.situation, when.lasts)
        value = w(m.design_load, k=k, R=P, gamma=gamma)
        why = "bearing strengths of timber, taken for the panel by its density"
        return Resistance(value, "stretched", why, "EN 1995-1-1 8.5.1")


def _bending(w: Working, timber: Timber, h: float, *, k: float, gamma: float) -> float:
    return w(m.bending, k=k, kh=w(m.depth_factor, h=h), f=timber.fm_k or 0.0, gamma=gamma)


def _rho_k(w: Working, timber: Timber) -> float:
    return w.given("rho_k", timber.rho_k or 0.0, unit="kg/m^3", source=timber.source)


def _thin(w: Working, density: float, source: str) -> float:
    told = f"0.83 of the mean; {source}"
    return w.given("rho_k", m.RHO_K * density, unit="kg/m^3", source=told, assumed=True)


def _deep_enough(driven: Driven) -> tuple[Scope, str]:
    nail = driven.screw.kind == "nail"
    least = m.LEAST_INTO if not nail else m.NAIL_END if driven.way == "end grain" else m.NAIL_INTO
    if driven.into < least * driven.screw.diameter:
        return (
            "out",
            f"less than {least:.0f} diameters of the {'nail' if nail else 'screw'} hold in the timber",
        )
    return "in", ""
