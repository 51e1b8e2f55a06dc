"""What a design basis must be able to say of skins, core and the glue between; it sees strengths, never a plan."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, Protocol

from ledgewright.statics.bases.member_rules import When
from ledgewright.statics.bases.rules import Resistance
from ledgewright.statics.formula import Working
from ledgewright.statics.model import Scope
from ledgewright.stock import Panel, PanelStrengths

What = Literal[
    "bent along",
    "bent across",
    "pulled along",
    "pulled across",
    "rolled",
    "pressed",
    "parted",
]
"""Bent or pulled along or across the face grain, its plies rolled by shear, pressed on its face, pulled apart."""
SYMBOLS: dict[What, str] = {
    "bent along": "f_(m,0,k)",
    "bent across": "f_(m,90,k)",
    "pulled along": "f_(t,0,k)",
    "pulled across": "f_(t,90,k)",
    "rolled": "f_(r,k)",
    "pressed": "f_(c,90,k)",
    "parted": "f_(i,k)",
}


FIGURES: dict[What, str] = {
    "bent along": "fm_along",
    "bent across": "fm_across",
    "pulled along": "ft_along",
    "pulled across": "ft_across",
    "rolled": "fr",
    "pressed": "fc90",
    "parted": "ib",
}
"""The figure of the catalogue that says it."""


@dataclass(frozen=True)
class Sheeting:
    """One skin as a basis sees it: the panel and what it can take."""

    panel: Panel
    strengths: PanelStrengths

    def strength(self, w: Working, what: What) -> float:
        """Return a characteristic strength (MPa), with its line."""
        row = self.strengths
        value: float = getattr(row, FIGURES[what])
        source = f"{row.name}: {row.source}"
        return w.given(SYMBOLS[what], value, unit="MPa", source=source, assumed=self._assumed(what))

    def scope(self, what: What) -> tuple[Scope, str]:
        """Return how well a source covers a strength, and why; an assumed one is covered by none."""
        if self._assumed(what):
            return "stretched", f"{what}: the strength of {self.strengths.name} is assumed"
        return "in", ""

    def _assumed(self, what: What) -> bool:
        return FIGURES[what] in self.strengths.assumed.split()


class PanelRules(Protocol):
    """One design basis for the shelf's own parts. Every method writes its lines into the working it is handed."""

    def sheet(self, w: Working, of: Sheeting, what: What, when: When) -> Resistance:
        """Return a strength of a skin as it may be counted on (MPa)."""
        ...

    def spacer(self, w: Working, when: When) -> Resistance:
        """Return the shear stress along the grain that any timber of the core can take (MPa)."""
        ...

    def spacer_pressed(self, w: Working, when: When) -> Resistance:
        """Return the stress across the grain under which any timber of the core is not crushed (MPa)."""
        ...

    def spacer_parted(self, w: Working, when: When) -> Resistance:
        """Return the stress that pulls no timber of the core apart across its grain (MPa)."""
        ...

    def glue(self, w: Working, when: When, *, f: float, source: str) -> Resistance:
        """Return the shear stress that a glue of a characteristic strength may be counted on for (MPa)."""
        ...
