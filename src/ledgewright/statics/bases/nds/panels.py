"""The NDS for skins, core and the glue between, in the shape both bases share.

The NDS gives no strengths of panels: they are taken from characteristic ones by the divisors that ASTM D2915 takes
from the fifth percentile of timber to its design value, and by how much faster than timber a board tires.
"""

from __future__ import annotations

from dataclasses import dataclass

from ledgewright.statics.bases.ec5 import _timber as ec5
from ledgewright.statics.bases.ec5.panels import material
from ledgewright.statics.bases.member_rules import When
from ledgewright.statics.bases.nds import _members as m
from ledgewright.statics.bases.nds import _section12 as s12
from ledgewright.statics.bases.nds.adapter import duration
from ledgewright.statics.bases.panel_rules import Sheeting, What
from ledgewright.statics.bases.rules import Resistance
from ledgewright.statics.formula import Working, formula

DIVISOR, DIVISOR_PRESSED = 2.1, 1.67
"""From the fifth percentile to a design value of ten years: ASTM D2915 (from memory)."""
D2915 = "ASTM D2915 (from memory)"
TIRES = "How much faster than timber a board tires: k_mod over that of timber, EN 1995-1-1 T3.1"
SPACER = (
    "the weakest species of NDS Supplement 2018, from memory: assumed for any timber of the core"
)
FV, FC_PERP = 110 * s12.PSI, 265 * s12.PSI
"""Shear along the grain and bearing across it of the weakest species there (from memory) (MPa)."""


@formula(
    "F'",
    "frac(C_D C_P f_k, n)",
    unit="MPa",
    source=D2915,
    symbols={"CD": "C_D", "CP": "C_P", "f": "f_k"},
)
def allowable(*, CD: float, CP: float, f: float, n: float) -> float:
    """Return the allowable strength of a panel from its characteristic one.

    ASTM D2915 (from memory). CD: load duration factor. CP: how much faster than timber it tires. f: characteristic
    strength (MPa). n: divisor. Returns MPa.
    """
    return CD * CP * f / n


@formula("F'", "frac(f_k, n)", unit="MPa", source=D2915, symbols={"f": "f_k"})
def allowable_pressed(*, f: float, n: float) -> float:
    """Return the allowable bearing on a panel's face from its characteristic strength.

    ASTM D2915 (from memory); no load duration factor on bearing, NDS-2018 T4.3.1. f: characteristic strength (MPa).
    n: divisor. Returns MPa.
    """
    return f / n


@formula("F_r", "frac(F_v', 3)", unit="MPa", source="Common practice", symbols={"F": "F_v'"})
def rolling(*, F: float) -> float:
    """Return the strength of a timber where shear rolls its fibres, and where it is pulled apart across them.

    A third of that along the grain, common practice. F: allowable shear (MPa). Returns MPa.
    """
    return F / 3


@dataclass(frozen=True)
class NdsPanels:
    """NDS-2018 with characteristic strengths of panels brought to its level, for skins, core and glue."""

    def sheet(self, w: Working, of: Sheeting, what: What, when: When) -> Resistance:
        """Return a strength of a skin as it may be counted on (MPa)."""
        f = of.strength(w, what)
        if what == "pressed" and of.panel.kind == "veneer ply":
            # As of lumber: a limit of how deep it is pressed in, which no duration changes (NDS-2018 4.2.6).
            value = w(allowable_pressed, f=f, n=DIVISOR_PRESSED)
            return Resistance(value, *of.scope(what), D2915)
        value = w(allowable, CD=_lasting(w, when), CP=_tires(w, of, when), f=f, n=DIVISOR)
        return Resistance(value, *of.scope(what), D2915)

    def spacer(self, w: Working, when: When) -> Resistance:
        """Return the shear stress along the grain that any timber of the core can take (MPa): NDS-2018 3.4."""
        F = w.given("F_v", FV, unit="MPa", source=SPACER, assumed=True)
        return Resistance(w(m.adjusted_shear, CD=_lasting(w, when), F=F), "in", "", "NDS-2018 3.4")

    def spacer_pressed(self, w: Working, when: When) -> Resistance:
        """Return the stress across the grain under which any timber of the core is not crushed (MPa): 3.10."""
        F = w.given("F_(c perp)", FC_PERP, unit="MPa", source=SPACER, assumed=True)
        return Resistance(F, "in", "", "NDS-2018 3.10")

    def spacer_parted(self, w: Working, when: When) -> Resistance:
        """Return the stress that pulls no timber of the core apart across its grain (MPa)."""
        F = w(rolling, F=self.spacer(w, when).value)
        w.last(assumed=True)
        return Resistance(F, "in", "", "A third of the shear along the grain (common practice)")

    def glue(self, w: Working, when: When, *, f: float, source: str) -> Resistance:
        """Return the shear stress that a glue of a characteristic strength may be counted on for (MPa)."""
        f = w.given("f_(g,k)", f, unit="MPa", source=source, assumed=True)
        value = w(allowable, CD=_lasting(w, when), CP=1.0, f=f, n=DIVISOR)
        return Resistance(value, "in", "", D2915)


def _lasting(w: Working, when: When) -> float:
    return duration(w, when.situation, when.lasts)


def _tires(w: Working, of: Sheeting, when: When) -> float:
    accident = when.situation == "accident"
    lasts = "instantaneous" if accident else ec5.DURATION[when.lasts]
    mine = ec5.k_mod(material=material(of.panel), duration=lasts)
    share = mine / ec5.k_mod(material="solid", duration=lasts)
    return w.given("C_P", share, unit="1", source=TIRES)
