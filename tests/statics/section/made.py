"""Small sections for tests: plates held along their edges, strips of sandwich, shelves on rods."""

from __future__ import annotations

from ledgewright.statics.mechanics.section import (
    Fill,
    Held,
    Piece,
    Section,
    Sheet,
    Skin,
)
from ledgewright.statics.mechanics.section.parts import Dof, Point, Ring, Side

SIDES: tuple[Side, ...] = ("top", "bottom")
NONE = Skin(1.0, ())


def box(left: float, near: float, right: float, far: float) -> Ring:
    """A rectangle in the plan."""
    return ((left, near), (right, near), (right, far), (left, far))


def ell(depth: float, arm: float) -> Ring:
    """An L whose arms, `arm` long along their walls, lie along x and y from the corner at the origin."""
    return ((0, 0), (arm, 0), (arm, depth), (depth, depth), (depth, arm), (0, arm))


def simple(start: Point, end: Point, side: Side = "top") -> Held:
    """An edge that neither drops nor turns along itself."""
    along: Dof = "w_x" if start[1] == end[1] else "w_y"
    return Held(start, end, side, ("w", along))


def clamped(start: Point, end: Point, side: Side = "top") -> Held:
    """An edge that neither drops nor turns."""
    return Held(start, end, side, ("w", "w_x", "w_y", "w_xy"))


def built_in(start: Point, end: Point, side: Side) -> Held:
    """An edge clamped with its plane held as well."""
    along: Dof = "u_x" if start[1] == end[1] else "v_y"
    return Held(start, end, side, ("w", "w_x", "w_y", "w_xy", "u", "v", along))


def plate(plan: Ring, sheet: Sheet, *held: Held, thick: float = 1.0) -> Section:
    """One skin alone."""
    return Section(Skin(thick, (Piece(plan, sheet),)), NONE, 1.0, held=held)


def sandwich(
    plan: Ring, sheet: Sheet, *held: Held, thick: float, core: float, G: float, E: float = 1e6
) -> Section:
    """Two like skins on a solid core; what is held of the top skin is held of the bottom one."""
    skin = Skin(thick, (Piece(plan, sheet),))
    both = tuple(Held(h.start, h.end, side, h.dofs) for h in held for side in SIDES)
    return Section(skin, skin, core, (Fill(plan, G, G, E),), held=both)
