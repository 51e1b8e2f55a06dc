"""A skin's stiffness as a thin sheet: in its plane and in bending, along and across its grain."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Ply:
    """One veneer: thickness (mm), modulus along and across its grain, shear modulus (MPa), grain along the sheet."""

    thick: float
    E_along: float
    E_across: float
    G: float
    along: bool


@dataclass(frozen=True)
class Sheet:
    """A thin orthotropic sheet by its grain.

    membrane: N = A (e_1, e_2, g_12), as (A11, A22, A12, A66) in N/mm. bending: M = D (k_1, k_2, 2 k_12), as
    (D11, D22, D12, D66) in N mm. 1 runs along the grain. D66 is G t^3/12.
    """

    membrane: tuple[float, float, float, float]
    bending: tuple[float, float, float, float]

    @property
    def H(self) -> float:
        """The twisting term D12 + 2 D66 of the plate equation (N mm)."""
        return self.bending[2] + 2 * self.bending[3]


def orthotropic(
    *, E_along: float, E_across: float, nu: float, G: float, thick: float, tension: float = 1.0
) -> Sheet:
    """Return a sheet by its bending moduli.

    Classical plate theory. E_along, E_across, G: moduli (MPa). nu: strain across over strain along, pulled along.
    thick: mm. tension: membrane moduli over bending moduli (1 for a homogeneous sheet; a plywood pulls at about
    the mean of its plies). Thin sheets: shear through the sheet's own thickness is left out.

    Raises:
        ValueError: if the stiffness is not positive, as where nu^2 reaches E_along/E_across.
    """
    rest = 1 - nu * nu * E_across / E_along
    if min(E_along, E_across, G, thick, tension, rest) <= 0:
        msg = f"a sheet of E {E_along}, {E_across}, G {G}, nu {nu}, thickness {thick} has no stiffness"
        raise ValueError(msg)
    Q = (E_along / rest, E_across / rest, nu * E_across / rest, G)
    return Sheet(
        _four(q * thick * tension for q in Q),
        _four(q * thick**3 / 12 for q in Q),
    )


def isotropic(*, E: float, nu: float, thick: float) -> Sheet:
    """Return a sheet that is alike both ways. Classical plate theory. E: MPa. thick: mm."""
    return orthotropic(E_along=E, E_across=E, nu=nu, G=E / (2 * (1 + nu)), thick=thick)


def plywood(plies: Sequence[Ply]) -> Sheet:
    """Return a sheet of veneers glued crosswise.

    Parallel-axis sum over the plies about the neutral axis of each direction, E_b = (12/T^3) sum E_i [t_i^3/12 +
    t_i z_i^2] (FPL Research Note FPL-059, 1964), Poisson's ratio left out (as the published panel moduli do). plies:
    from one face to the other.

    Raises:
        ValueError: if there is no ply.
    """
    if not plies:
        msg = "a plywood needs a ply"
        raise ValueError(msg)
    along = [(p.thick, p.E_along if p.along else p.E_across) for p in plies]
    across = [(p.thick, p.E_across if p.along else p.E_along) for p in plies]
    shear = [(p.thick, p.G) for p in plies]
    (A1, D1), (A2, D2), (A6, D6) = _summed(along), _summed(across), _summed(shear)
    return Sheet((A1, A2, 0.0, A6), (D1, D2, 0.0, D6))


def _summed(layers: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Return sum E t and sum E (t^3/12 + t z^2) about the weighted middle."""
    faces = np.cumsum([0.0, *(t for t, _ in layers)])
    middle = (faces[1:] + faces[:-1]) / 2
    t, E = np.array([t for t, _ in layers]), np.array([E for _, E in layers])
    stretch = float(E @ t)
    z = middle - ((E * t) @ middle / stretch if stretch > 0 else 0.0)
    return stretch, float(E @ (t**3 / 12 + t * z**2))


def _four(values: object) -> tuple[float, float, float, float]:
    a, b, c, d = (float(v) for v in values)  # type: ignore[attr-defined]
    return a, b, c, d


def turned(stiffness: tuple[float, float, float, float], angle: float) -> Floats:
    """Return the 3 x 3 stiffness in plan axes of a sheet whose grain runs at an angle to x (rad, to the left).

    Rotation of plane stiffness; strains (e_x, e_y, g_xy). stiffness: (11, 22, 12, 66) along and across the grain.
    """
    s11, s22, s12, s66 = stiffness
    own = np.array([[s11, s12, 0.0], [s12, s22, 0.0], [0.0, 0.0, s66]])
    if angle == 0:
        return own
    c, s = math.cos(angle), math.sin(angle)
    strain = np.array(
        [[c * c, s * s, c * s], [s * s, c * c, -c * s], [-2 * c * s, 2 * c * s, c * c - s * s]]
    )
    return np.asarray(strain.T @ own @ strain)
