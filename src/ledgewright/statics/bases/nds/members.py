"""The NDS for the timbers of the wall, in the shape both bases share."""

from __future__ import annotations

from dataclasses import dataclass

from ledgewright.statics.bases import bonded
from ledgewright.statics.bases.member_rules import GRUB_YIELD, Driven, Post, When
from ledgewright.statics.bases.nds import _members as m
from ledgewright.statics.bases.nds import _section12 as s12
from ledgewright.statics.bases.nds import _tr12 as tr12
from ledgewright.statics.bases.nds.adapter import duration
from ledgewright.statics.bases.pins import Reduction, governing, pin_yield, screw_yield
from ledgewright.statics.bases.rules import Resistance
from ledgewright.statics.bases.splitting import splitting
from ledgewright.statics.formula import Working
from ledgewright.statics.model import Scope
from ledgewright.stock import Timber

NEWTONS = 4.4482216
"""Newtons in a pound force."""
SLENDEREST = 50.0
"""Length over depth of a column: NDS-2018 3.7.1.4."""
NO_FC = "across the grain, which is less: the catalogue has none along it"


@dataclass(frozen=True)
class NdsMembers:
    """NDS-2018, allowable stress design, for studs, blocking and what holds the shelf on."""

    storey: float = 96 * s12.INCH
    """8 ft, assumed where nobody has given it (mm)."""

    def lacks(self, timber: Timber) -> str | None:
        """Return what the NDS lacks to judge this timber as a member; None if nothing."""
        if None in (timber.Fb, timber.Fv, timber.Fc_perp, timber.E, timber.G):
            return f"{timber.name} has no design values of the NDS"
        return None

    def stud_bend(self, w: Working, post: Post, when: When) -> Resistance:
        """Return the moment a stud can take next to its own load (N mm): NDS-2018 3.9.2."""
        timber, CD = post.timber, duration(w, when.situation, when.lasts)
        F = self._bending(w, timber, CD)
        FcE = w(m.euler, E=_least_modulus(w, timber), H=post.H, h=post.h)
        Fc = w.given("F_c", CD * (timber.Fc_perp or 0.0), unit="MPa", source=NO_FC, assumed=True)
        CP = w(m.stability, a=w.given("a", FcE / Fc, unit="1", source="F_cE over F_c"))
        Fc = w(m.adjusted_compression, CP=CP, F=Fc)
        M = w(m.beam_column, S=post.S, F=F, sigma=post.sigma, Fc=Fc, FcE=FcE)
        source = "NDS-2018 3.9.2"
        if post.H / post.h > SLENDEREST:
            return Resistance(M, "out", "more slender than the NDS allows a column to be", source)
        return Resistance(M, "in", "", source)

    def bend(self, w: Working, timber: Timber, when: When, *, h: float) -> Resistance:
        """Return the bending stress a timber can take (MPa): NDS-2018 4.3, no more for lying flat."""
        F = self._bending(w, timber, duration(w, when.situation, when.lasts))
        return Resistance(F, "in", "", "NDS-2018 4.3")

    def _bending(self, w: Working, timber: Timber, CD: float) -> float:
        CF = w.given("C_F", m.size_factor(timber), unit="1", source=m.SIZE)
        return w(m.adjusted_bending, CD=CD, CF=CF, F=timber.Fb or 0.0)

    def shear(self, w: Working, timber: Timber, when: When) -> Resistance:
        """Return the shear stress along the grain a timber can take (MPa): NDS-2018 3.4."""
        return Resistance(self._shear(w, timber, when), "in", "", "NDS-2018 3.4")

    def _shear(self, w: Working, timber: Timber, when: When) -> float:
        CD = duration(w, when.situation, when.lasts)
        return w(m.adjusted_shear, CD=CD, F=timber.Fv or 0.0)

    def split(self, w: Working, timber: Timber, when: When) -> Resistance:
        """Return the tension across the grain a timber can take (MPa): a third of its shear strength."""
        F = w(m.across_tension, F=self._shear(w, timber, when))
        why = "own model; a third of the shear strength, where NDS-2018 5.2.8 has 15 psi for most softwoods"
        return Resistance(F, "stretched", why, "Own model; F_v/3")

    def block_split(
        self, w: Working, timber: Timber, when: When, *, b: float, h: float, h_e: float
    ) -> Resistance:
        """Return the shear beside a rod at which a block splits (N): NDS-2018 3.4.3.3."""
        V = w(m.connection_shear, F=self._shear(w, timber, when), b=b, de=h_e, h=h)
        why = "made for fasteners right through; the rod's depth stands for the breadth"
        return Resistance(V, "stretched", why, "NDS-2018 3.4.3.3")

    def stud_side(
        self, w: Working, timber: Timber, when: When, *, b: float, h: float, h_e: float
    ) -> Resistance:
        """Return the shear beside a rod at which its stud splits (N): fracture, with the factors of ASTM D245."""
        read = w(m.far_connection_shear, F=self._shear(w, timber, when), b=b, de=h_e)
        w.last("V_r", about="For comparison only")
        CD = duration(w, when.situation, when.lasts)
        V = w(m.allowed_splitting, CD=CD, R=w(splitting, b=b, he=h_e, h=h))
        other = f"{read:.0f} N ({read / NEWTONS:.0f} lbf)"
        why = f"no rule of the NDS covers it: own model; its 3.4.3.3(b) on the same strip gives {other}"
        return Resistance(V, "stretched", why, "EN 1995-1-1 8.1.4 over 2.1 (ASTM D245)")

    def torsion(
        self, w: Working, timber: Timber, when: When, *, long: float, short: float
    ) -> Resistance:
        """Return the shear stress a twisted timber can take (MPa): two thirds of its shear strength."""
        F = w(m.torsion, F=self._shear(w, timber, when))
        w.last(assumed=True)
        why = "the NDS gives no torsion; no rule covers a bored bar"
        return Resistance(F, "stretched", why, "2/3 F_v, common practice")

    def lateral(self, w: Working, driven: Driven, when: When) -> Resistance:
        """Return the load across its axis one screw can take (N): NDS-2018 12.3, end grain 0.67, toed 0.83."""
        q, M, R = _screw(w, driven)
        P = screw_yield(w, q=q, M=M, driven=driven, R=R)
        mode = governing(q=q, M=M, driven=driven, R=R)
        CD = duration(w, when.situation, when.lasts)
        way = {"side grain": 1.0, "end grain": m.END_GRAIN, "toed": m.TOED}[driven.way]
        Z = w(m.screw_lateral, CD=CD, way=way, P=P, R=R(mode))
        scope, why = _deep_enough(driven)
        if scope == "in" and driven.way == "toed" and driven.screw.kind != "nail":
            scope, why = "stretched", "the factor is for nails that are toed in"
        return Resistance(Z, scope, why, "NDS-2018 12.3, 12.5")

    def withdrawal(self, w: Working, driven: Driven, when: When) -> Resistance:
        """Return the pull along its axis one screw can take (N): NDS-2018 12.2; none of it in end grain."""
        if driven.way == "end grain":
            return Resistance(0.0, "in", "screws are not to be pulled out of end grain", "NDS 12.2")
        if driven.screw.kind == "nail":
            return Resistance(0.0, "in", "nails are not counted on to be pulled", "NDS-2018 12.2")
        d, G = driven.screw.diameter, driven.timber.G or 0.0
        lag = d >= 0.25 * s12.INCH * 0.9999
        W = w(m.lag_withdrawal if lag else m.screw_withdrawal, G=G, d=d)
        p = w.given("p_t", max(driven.into - d, 0.0), unit="mm", source="Thread less its tip")
        CD = duration(w, when.situation, when.lasts)
        value = w(m.withdrawal, CD=CD, W=W, p=p)
        return Resistance(value, *_deep_enough(driven), "NDS-2018 12.2")

    def bond(
        self, w: Working, timber: Timber, when: When, *, d: float, d_h: float, L: float
    ) -> Resistance:
        """Return the pull at which a bonded rod comes out (N): allowable values, not raised for short loads."""
        f = bonded.ALLOWED if d <= 24 else bonded.ALLOWED_THICK
        f = w.given("f_v", f, unit="MPa", source=bonded.MOEHLER)
        value = w(bonded.pull_out, d=w.given("d_e", d, unit="mm", source="Rod"), L=L, f=f)
        w.last("R_a")
        return Resistance(value, "stretched", bonded.REASON, bonded.MOEHLER)

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
        """Return the side load a screw standing out of a panel can take (N): TR12 with the lever it has."""
        G = _gravity(w, density, source)
        F = w(s12.Fe_small, G=G) if d < 0.25 * s12.INCH else w(s12.Fe_perpendicular, G=G, d=d)
        q = w(tr12.bearing_per_length, F=F, d=d)
        P = pin_yield(w, q=q, d=d, t=t, e=e, Fy=Fy)
        CD, K = duration(w, when.situation, when.lasts), w(s12.K_theta, theta=90.0)
        value = w(m.pin_load, CD=CD, P=P, R=tr12.R_II, K=K)
        why = "bearing strengths of timber, taken for the panel by its density"
        return Resistance(value, "stretched", why, "AWC TR12; NDS-2018 12.3")


def _least_modulus(w: Working, timber: Timber) -> float:
    return w(m.least_modulus, E=timber.E or 0.0, v=m.COV_E)


def _gravity(w: Working, density: float, source: str) -> float:
    return w.given("G", density / 1120, unit="1", source=f"Density over 1120; {source}")


def _deep_enough(driven: Driven) -> tuple[Scope, str]:
    if driven.into < m.LEAST_INTO * driven.screw.diameter:
        return "out", "less than six diameters of it hold in the timber"
    return "in", ""


def _screw(w: Working, driven: Driven) -> tuple[float, float, Reduction]:
    """Return bearing per length (N/mm), plastic moment (N mm) and reduction term by mode of a screw."""
    screw, G = driven.screw, driven.timber.G or 0.0
    small = screw.diameter < 0.25 * s12.INCH * 0.9999
    # Across the grain in both timbers: the lesser, whichever way the load lies.
    F = w(s12.Fe_small, G=G) if small else w(s12.Fe_perpendicular, G=G, d=screw.diameter)
    q = w(tr12.bearing_per_length, F=w(s12.to_50_psi, F=F), d=screw.root)
    Fy = m.yield_strength(screw.diameter)
    Fy = w.given("F_(y b)", Fy, unit="MPa", source="NDS-2018 App. Table I1")
    M = w(tr12.dowel_moment, F=Fy, d=screw.root)

    def reduction(mode: tr12.Mode) -> float:
        if screw.root >= 0.25 * s12.INCH:
            return tr12.R_d(mode=mode, d=screw.root, theta=90.0)
        return s12.K_D(d=screw.root) * (1.0 if small else s12.K_theta(theta=90.0))

    return q, M, reduction
