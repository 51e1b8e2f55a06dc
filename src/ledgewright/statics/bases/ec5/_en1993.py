"""EN 1993-1-1:2005 sections 6.2.5, 6.2.6 and 6.3.2: bars in bending and shear."""

from __future__ import annotations

import math

from ledgewright.statics.formula import formula

GAMMA_M0 = 1.0
GAMMA_M0_STAINLESS = 1.1
"""EN 1993-1-4 5.1 (2), from memory."""


@formula(
    "M_c",
    "frac(W f_y, gamma_M)",
    unit="N mm",
    source="EN 1993-1-1 6.2.5",
    symbols={"f": "f_y", "gamma": "gamma_M"},
)
def bending(*, W: float, f: float, gamma: float) -> float:
    """Return the design moment of a section.

    EN 1993-1-1 6.2.5. W: plastic modulus of a solid bar, elastic of a tube (mm3). f: yield strength (MPa). gamma:
    gamma_M0. Returns N mm.
    """
    return W * f / gamma


@formula(
    "V_c",
    "frac(A_v f_y, sqrt(3) gamma_M)",
    unit="N",
    source="EN 1993-1-1 6.2.6",
    symbols={"A": "A_v", "f": "f_y", "gamma": "gamma_M"},
)
def shear(*, A: float, f: float, gamma: float) -> float:
    """Return the design shear of a section.

    EN 1993-1-1 6.2.6. A: shear area (mm2). f: yield strength (MPa). gamma: gamma_M0. Returns N.
    """
    return A * f / (math.sqrt(3) * gamma)


@formula(
    "M_(c r)",
    "frac(pi E h t^3, 6 L_b) sqrt(frac(1 - 0.63 t / h, 2.6))",
    unit="N mm",
    source="Sideways buckling of a strip under even moment (Timoshenko), G = E/2.6",
    symbols={"L": "L_b"},
)
def critical_moment(*, E: float, h: float, t: float, L: float) -> float:
    """Return the elastic moment at which a flat bar buckles sideways.

    Timoshenko: pi sqrt(E Iz G It)/L with Iz = h t3/12 and It = h t3/3 (1 - 0.63 t/h). E: modulus (MPa). h, t:
    height and thickness (mm). L: length (mm). Returns N mm. Low for a cantilever loaded at its end: towards safety.
    """
    return math.pi * E * h * t**3 / (6 * L) * math.sqrt((1 - 0.63 * t / h) / 2.6)


@formula(
    "lambda_b",
    "sqrt(frac(W f_y, M_(c r)))",
    unit="1",
    source="EN 1993-1-1 6.3.2.2",
    symbols={"f": "f_y", "M": "M_(c r)"},
)
def buckling_slenderness(*, W: float, f: float, M: float) -> float:
    """Return the slenderness of a bar against sideways buckling.

    EN 1993-1-1 6.3.2.2. W: plastic modulus (mm3). f: yield strength (MPa). M: elastic critical moment (N mm).
    Returns a plain number.
    """
    return math.sqrt(W * f / M)


@formula(
    "Phi",
    "0.5 (1 + 0.76 (lambda_b - 0.2) + lambda_b^2)",
    unit="1",
    source="EN 1993-1-1 6.3.2.2, curve d (from memory)",
    symbols={"lam": "lambda_b"},
)
def curve_d(*, lam: float) -> float:
    """Return the intermediate of buckling curve d.

    EN 1993-1-1 6.3.2.2 (curve from memory). lam: slenderness. Returns a plain number.
    """
    return 0.5 * (1 + 0.76 * (lam - 0.2) + lam**2)


@formula(
    "chi",
    "min(1, frac(1, Phi + sqrt(Phi^2 - lambda_b^2)))",
    unit="1",
    source="EN 1993-1-1 Eq. 6.56",
    symbols={"phi": "Phi", "lam": "lambda_b"},
)
def reduction(*, phi: float, lam: float) -> float:
    """Return the reduction for sideways buckling.

    EN 1993-1-1 Eq. 6.56. phi: intermediate of the curve. lam: slenderness. Returns a plain number.
    """
    return min(1.0, 1 / (phi + math.sqrt(phi**2 - lam**2)))


@formula("M_b", "chi M_c", unit="N mm", source="EN 1993-1-1 Eq. 6.55", symbols={"M": "M_c"})
def buckling(*, chi: float, M: float) -> float:
    """Return the design moment against sideways buckling.

    EN 1993-1-1 Eq. 6.55. chi: reduction. M: design moment of the section (N mm). Returns N mm.
    """
    return chi * M
