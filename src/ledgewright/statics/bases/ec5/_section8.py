"""EN 1995-1-1:2004 sections 7.1 and 8.5: dowels and bolts."""

from __future__ import annotations

import math

from ledgewright.statics.formula import formula


@formula(
    "f_(h,0)",
    "0.082 (1 - 0.01 d) rho_k",
    unit="MPa",
    source="EN 1995-1-1 Eq. 8.32",
    symbols={"rho": "rho_k"},
)
def f_h0k(*, d: float, rho: float) -> float:
    """Return the characteristic embedment strength along the grain.

    EN 1995-1-1 Eq. 8.32. d: diameter (mm), up to 30. rho: characteristic density (kg/m3). Returns MPa.
    """
    return 0.082 * (1 - 0.01 * d) * rho


@formula("k_90", "1.35 + 0.015 d", unit="1", source="EN 1995-1-1 Eq. 8.33, softwood (from memory)")
def k_90(*, d: float) -> float:
    """Return how much weaker softwood is across the grain under a dowel.

    EN 1995-1-1 Eq. 8.33 (from memory). d: diameter (mm). Returns a plain number.
    """
    return 1.35 + 0.015 * d


@formula(
    "f_(h,alpha)",
    "frac(f_(h,0), k_90 sin(alpha)^2 + cos(alpha)^2)",
    unit="MPa",
    source="EN 1995-1-1 Eq. 8.31 (from memory)",
    symbols={"f": "f_(h,0)", "k": "k_90", "alpha": "alpha"},
)
def f_hak(*, f: float, k: float, alpha: float) -> float:
    """Return the characteristic embedment strength at an angle to the grain.

    EN 1995-1-1 Eq. 8.31 (from memory). f: strength along the grain (MPa). k: k_90. alpha: angle of load to grain (rad).
    Returns MPa.
    """
    return f / (k * math.sin(alpha) ** 2 + math.cos(alpha) ** 2)


@formula("M_y", "0.3 f_u d^2.6", unit="N mm", source="EN 1995-1-1 Eq. 8.30", symbols={"f": "f_u"})
def M_yRk(*, f: float, d: float) -> float:
    """Return the characteristic yield moment of a round bolt or dowel.

    EN 1995-1-1 Eq. 8.30. f: tensile strength (MPa). d: diameter (mm). Returns N mm.
    """
    return float(0.3 * f * d**2.6)


@formula(
    "K", "frac(rho_m^1.5 d, 23)", unit="N/mm", source="EN 1995-1-1 T7.1", symbols={"rho": "rho_m"}
)
def K_ser(*, rho: float, d: float) -> float:
    """Return the slip modulus of a dowel, per shear plane.

    EN 1995-1-1 T7.1. rho: mean density (kg/m3). d: diameter (mm). Returns N/mm. Between two timbers; double it for
    steel on timber.
    """
    return float(rho**1.5 * d / 23)


@formula(
    "K",
    "frac(rho_m^1.5 d^0.8, 30)",
    unit="N/mm",
    source="EN 1995-1-1 T7.1",
    symbols={"rho": "rho_m"},
)
def K_ser_nail(*, rho: float, d: float) -> float:
    """Return the slip modulus of a nail that was not bored for, per shear plane.

    EN 1995-1-1 T7.1 (from memory). rho: mean density (kg/m3). d: diameter (mm). Returns N/mm.
    """
    return float(rho**1.5 * d**0.8 / 30)


@formula("q", "f_h d", unit="N/mm", source="EN 1995-1-1 8.2", symbols={"f": "f_h"})
def bearing_per_length(*, f: float, d: float) -> float:
    """Return the characteristic bearing per length of rod.

    EN 1995-1-1 8.2. f: embedment strength (MPa). d: diameter (mm). Returns N/mm.
    """
    return f * d
