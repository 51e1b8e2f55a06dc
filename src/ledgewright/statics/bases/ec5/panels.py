"""Eurocode 5 for skins, core and the glue between, in the shape both bases share."""

from __future__ import annotations

from dataclasses import dataclass

from ledgewright.statics.bases.ec5 import _members as m
from ledgewright.statics.bases.ec5 import _timber as ec5
from ledgewright.statics.bases.ec5.adapter import duration
from ledgewright.statics.bases.member_rules import When
from ledgewright.statics.bases.panel_rules import Sheeting, What
from ledgewright.statics.bases.rules import Resistance
from ledgewright.statics.formula import Working
from ledgewright.stock import Panel

SPACER = "C14 of EN 338, from memory: assumed for any timber of the core"
FV_K, FC90_K, FT90_K = 3.0, 2.0, 0.4
"""The weakest softwood class of EN 338 (from memory) (MPa)."""
MATERIAL: dict[str, ec5.Material] = {
    "veneer ply": "plywood",
    "mdf-faced ply": "mdf",
    "mdf": "mdf",
    "osb": "osb3",
    "particleboard": "particleboard",
    "solid": "solid",
}
"""Which row of EN 1995-1-1 T3.1 a panel goes by; a faced one by the weaker of its parts."""


def material(panel: Panel) -> ec5.Material:
    """Return which material of EN 1995-1-1 T3.1 a panel is."""
    return MATERIAL[panel.kind]


@dataclass(frozen=True)
class Ec5Panels:
    """EN 1995-1-1:2004 with the recommended factors, for skins, core and glue."""

    def sheet(self, w: Working, of: Sheeting, what: What, when: When) -> Resistance:
        """Return a strength of a skin as it may be counted on (MPa): EN 1995-1-1 2.4.1."""
        f = of.strength(w, what)
        k, gamma = duration(w, when.situation, when.lasts, material(of.panel))
        value = w(m.design, k=k, f=f, gamma=gamma)
        return Resistance(value, *of.scope(what), "EN 1995-1-1 2.4.1")

    def spacer(self, w: Working, when: When) -> Resistance:
        """Return the shear stress along the grain that any timber of the core can take (MPa): EN 1995-1-1 6.1.7."""
        f = w.given("f_(v,k)", FV_K, unit="MPa", source=SPACER, assumed=True)
        k, gamma = duration(w, when.situation, when.lasts)
        value = w(m.cracked_shear, k=k, cr=m.K_CR, f=f, gamma=gamma)
        return Resistance(value, "in", "", "EN 1995-1-1 6.1.7")

    def spacer_pressed(self, w: Working, when: When) -> Resistance:
        """Return the stress across the grain under which any timber of the core is not crushed (MPa): 6.1.5."""
        return self._across(w, when, "f_(c,90,k)", FC90_K, "EN 1995-1-1 6.1.5")

    def spacer_parted(self, w: Working, when: When) -> Resistance:
        """Return the stress that pulls no timber of the core apart across its grain (MPa): 6.1.3."""
        return self._across(w, when, "f_(t,90,k)", FT90_K, "EN 1995-1-1 6.1.3")

    def _across(self, w: Working, when: When, symbol: str, f: float, source: str) -> Resistance:
        f = w.given(symbol, f, unit="MPa", source=SPACER, assumed=True)
        k, gamma = duration(w, when.situation, when.lasts)
        return Resistance(w(m.design, k=k, f=f, gamma=gamma), "in", "", source)

    def glue(self, w: Working, when: When, *, f: float, source: str) -> Resistance:
        """Return the shear stress that a glue of a characteristic strength may be counted on for (MPa)."""
        f = w.given("f_(g,k)", f, unit="MPa", source=source, assumed=True)
        k, gamma = duration(w, when.situation, when.lasts)
        return Resistance(w(m.design, k=k, f=f, gamma=gamma), "in", "", "EN 1995-1-1 2.4.1")
