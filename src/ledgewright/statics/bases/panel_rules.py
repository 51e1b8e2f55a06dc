"""What a design basis must be able to say of skins, core and the glue between; it sees strengths, never a plan."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, Protocol

from ledgewright.statics.bases.member_rules import When
from ledgewright.statics.bases.rules import Resistance
from ledgewright.statics.formula import Working
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


@dataclass(frozen=True)
class Sheeting:
    """One skin as a basis sees it: the panel and what it can take."""

    panel: Panel
    strengths: PanelStrengths

    def strength(self, w: Working, what: What) -> float:
        """Return a characteristic strength (MPa), with its line."""
        row = self.strengths
        value = {
            "bent along": row.fm_along,
            "bent across": row.fm_across,
            "pulled along": row.ft_along,
            "pulled across": row.ft_across,
            "rolled": row.fr,
            "pressed": row.fc90,
            "parted": row.ib,
        }[what]
        shown = SYMBOLS[what]
        assumed = row.status == "assumed"
        return w.given(
            shown, value, unit="MPa", source=f"{row.name}: {row.source}", assumed=assumed
        )


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
