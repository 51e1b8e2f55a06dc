"""What a hollow shelf is made of, as plain shapes in the plan (mm): skins, core, edging, what is held.

Signs: x and y in the plan, w positive down, u and v along x and y; z positive down, so the top skin lies at smaller z.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ledgewright.statics.mechanics.section.sheet import Sheet

Point = tuple[float, float]
Ring = tuple[Point, ...]
Side = Literal["top", "bottom"]
Dof = Literal["w", "w_x", "w_y", "w_xy", "u", "u_x", "v", "v_y"]


class Mechanism(ValueError):  # noqa: N818 - the field's word for it
    """Something moves without resistance: the message says what; it is never solved away."""


@dataclass(frozen=True)
class Piece:
    """One piece of a skin: its plan, its sheet, and how its grain lies to x (rad)."""

    plan: Ring
    sheet: Sheet
    grain: float = 0.0


@dataclass(frozen=True)
class Skin:
    """One skin of even thickness (mm); cuts are straight lines along x or y across which nothing passes in this skin.

    No pieces: the skin is not there.
    """

    thick: float
    pieces: tuple[Piece, ...]
    cuts: tuple[tuple[Point, Point], ...] = ()


@dataclass(frozen=True)
class Fill:
    """One piece of core: its plan, and how its grain lies to x (rad).

    G_along, G_across: shear moduli through the thickness along and across the grain; E_through: modulus through the
    thickness; E_along: modulus along the grain, 0 to leave its own bending out (MPa).
    """

    plan: Ring
    G_along: float
    G_across: float
    E_through: float
    E_along: float = 0.0
    grain: float = 0.0


@dataclass(frozen=True)
class Beam:
    """A beam along a straight line of the plan that follows the mean drop of the two skins.

    EI: N mm2; GJ: N mm2.
    """

    start: Point
    end: Point
    EI: float
    GJ: float = 0.0


@dataclass(frozen=True)
class Held:
    """A straight line along x or y (or one point) where the named movements of a skin are held.

    A line must lie on an edge, a cut or a line asked for, and a point on their crossings: only grid nodes are held.
    """

    start: Point
    end: Point
    side: Side
    dofs: tuple[Dof, ...]


@dataclass(frozen=True)
class Section:
    """The shelf as a structure: two skins, `core` thick apart (mm), and the fills that tie them."""

    top: Skin
    bottom: Skin
    core: float
    fills: tuple[Fill, ...] = ()
    beams: tuple[Beam, ...] = ()
    held: tuple[Held, ...] = ()

    @property
    def apart(self) -> float:
        """Distance between the middles of the skins (mm)."""
        return self.core + (self.top.thick + self.bottom.thick) / 2

    def skin(self, side: Side) -> Skin:
        """Return one of the two skins."""
        return self.top if side == "top" else self.bottom


@dataclass(frozen=True)
class Pressure:
    """A load down on the top skin spread over a plan (N in all), or along a line along x or y of two points."""

    plan: Ring
    force: float
