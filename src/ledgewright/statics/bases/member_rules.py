"""What a design basis must be able to say of the timber that holds a rod; it sees timbers and numbers, never a plan."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, Protocol

from ledgewright.job import Lasts
from ledgewright.statics.bases.rules import Resistance, Situation
from ledgewright.statics.formula import Working
from ledgewright.stock import Screw, Timber

GRUB_YIELD = 240.0
"""Yield strength of a set screw (MPa); assumed, below every property class."""


@dataclass(frozen=True)
class When:
    """What a strength counts on: the situation, and how long the longest-standing contents stay."""

    situation: Situation
    lasts: Lasts


@dataclass(frozen=True)
class Post:
    """A stud in bending and compression: what the hole leaves of it.

    S: section modulus (mm3). sigma: stress of its own load (MPa). h: depth (mm). H: between its supports (mm).
    """

    timber: Timber
    S: float
    sigma: float
    h: float
    H: float


@dataclass(frozen=True)
class Driven:
    """A screw through one timber into another.

    through: thickness of the first (mm). into: length in the second, tip and all (mm). way: square into side
    grain, into end grain, or toed in aslant. G, rho_k: of the timber it holds in.
    """

    screw: Screw
    through: float
    into: float
    way: Literal["side grain", "end grain", "toed"]
    timber: Timber


class MemberRules(Protocol):
    """One design basis for the timbers of the wall. Every method writes its lines into the working it is handed."""

    @property
    def storey(self) -> float:
        """The height from floor to ceiling where nobody has given it (mm)."""
        ...

    def lacks(self, timber: Timber) -> str | None:
        """Return what this basis lacks to judge this timber as a member, in words; None if nothing."""
        ...

    def stud_bend(self, w: Working, post: Post, when: When) -> Resistance:
        """Return the moment a stud can take next to its own load (N mm)."""
        ...

    def shear(self, w: Working, timber: Timber, when: When) -> Resistance:
        """Return the shear stress along the grain a timber can take (MPa)."""
        ...

    def split(self, w: Working, timber: Timber, when: When) -> Resistance:
        """Return the tension across the grain a timber can take (MPa)."""
        ...

    def bend(self, w: Working, timber: Timber, when: When, *, h: float) -> Resistance:
        """Return the bending stress a timber can take that nothing presses end on (MPa).

        h: its depth as it bends (mm).
        """
        ...

    def block_split(
        self, w: Working, timber: Timber, when: When, *, b: float, h: float, h_e: float
    ) -> Resistance:
        """Return the shear beside a rod at which a block splits along its grain (N).

        b: depth of the rod in the block (mm). h: height of the block (mm). h_e: from the rod's centre to its loaded
        edge (mm).
        """
        ...

    def stud_side(
        self, w: Working, timber: Timber, when: When, *, b: float, h: float, h_e: float
    ) -> Resistance:
        """Return the shear beside a rod pushed along the wall at which its stud splits along the grain (N).

        b: how deep the rod bears on the stud (mm). h: breadth of the stud (mm). h_e: from the rod's centre to its
        nearer edge (mm).
        """
        ...

    def torsion(
        self, w: Working, timber: Timber, when: When, *, long: float, short: float
    ) -> Resistance:
        """Return the shear stress a twisted timber can take (MPa); its sides in mm."""
        ...

    def lateral(self, w: Working, driven: Driven, when: When) -> Resistance:
        """Return the load across its axis one screw can take (N)."""
        ...

    def withdrawal(self, w: Working, driven: Driven, when: When) -> Resistance:
        """Return the pull along its axis one screw can take (N)."""
        ...

    def bond(
        self, w: Working, timber: Timber, when: When, *, d: float, d_h: float, L: float
    ) -> Resistance:
        """Return the pull at which a bonded rod comes out of the wood (N).

        d: rod, d_h: hole, L: depth (mm).
        """
        ...

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
        """Return the side load a screw standing out of a panel can take at its end (N).

        density: of the panel (kg/m3). d: diameter, t: length held in the panel, e: how far it stands out (mm). Fy: its
        steel's yield strength (MPa), that of a set screw if none is given.
        """
        ...
