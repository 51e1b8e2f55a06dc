"""What a rod lies in: the wood round it, the ring of glue, and the two in series.

A bed modulus k is the line load on the rod per unit of movement (N/mm per mm of rod and mm of movement = MPa).
"""

from __future__ import annotations

import math

from ledgewright.statics.formula import formula

HANDBOOK = "Wood Handbook (FPL-GTR-190) ch. 8, k = k0 d, with k0 = 582 G of nails in side grain from memory"


@formula(
    "G_g", "frac(E_g, 2 (1 + nu))", unit="MPa", source="Isotropic elasticity", symbols={"E": "E_g"}
)
def shear_modulus(*, E: float, nu: float) -> float:
    """Return the shear modulus of the glue.

    Isotropic elasticity. E: modulus (MPa). nu: Poisson's ratio. Returns MPa.
    """
    return E / (2 * (1 + nu))


@formula("kappa", "3 - 4 nu", unit="1", source="Muskhelishvili, plane strain")
def kappa(*, nu: float) -> float:
    """Return Muskhelishvili's constant of plane strain.

    Muskhelishvili, Some Basic Problems. nu: Poisson's ratio. Returns a plain number.
    """
    return 3 - 4 * nu


@formula(
    "k_b",
    "frac(8 pi G_g (1 - nu), kappa ln(r) - frac(r^2 - 1, kappa (r^2 + 1)))",
    unit="MPa",
    source="Rod in a bonded ring, plane strain (Muskhelishvili potentials; checked by finite elements)",
    symbols={"G": "G_g"},
)
def bush(*, G: float, nu: float, kappa: float, r: float) -> float:
    """Return the bed modulus of a rigid rod in a ring of glue bonded to a rigid hole.

    Derived from Muskhelishvili's potentials, plane strain. G: shear modulus of the glue (MPa). nu: its
    Poisson's ratio. kappa: 3 - 4 nu. r: hole over rod diameter. Returns MPa. Holds for r > 1 and
    nu < 0.5; the figure runs away towards 0.5, so the rod model takes no more than 0.45.

    Raises:
        ValueError: if r is not above 1 or nu is not below 0.5.
    """
    if r <= 1 or nu >= 0.5:
        msg = f"r={r} must be above 1 and nu={nu} below 0.5"
        raise ValueError(msg)
    r2 = r * r
    return 8 * math.pi * G * (1 - nu) / (kappa * math.log(r) - (r2 - 1) / (kappa * (r2 + 1)))


@formula(
    "k_l",
    "(frac(4 K, root(4, frac(pi E d^4, 16))))^(4 / 3)",
    unit="MPa",
    source="Long round dowel between two like members on Winkler beds, solved for the bed",
)
def bed_from_slip(*, K: float, E: float, d: float) -> float:
    """Return the bed modulus that a slip modulus of a joint of two like members implies.

    Winkler bed, long dowel: K = k^(3/4) (4 E I)^(1/4) / 4, solved for k. K: slip modulus (N/mm). E: modulus of the
    round dowel (MPa). d: its diameter (mm). Returns MPa. A soft figure: slip moduli hold initial slip.
    """
    return float((4 * K / (math.pi * E * d**4 / 16) ** 0.25) ** (4 / 3))


@formula("k_h", "582 G d", unit="MPa", source=HANDBOOK)
def bed_from_handbook(*, G: float, d: float) -> float:
    """Return the bed modulus of a dowel pressed along the grain, from nail tests.

    Wood Handbook ch. 8; Wilkinson 1971 (coefficient from memory). G: specific gravity, oven dry. d: diameter (mm).
    Returns MPa. A stiff figure: taken on nails, without initial slip.
    """
    return 582 * G * d


@formula(
    "k_w",
    "k_l^(1 - b) k_h^b",
    unit="MPa",
    source="Geometric mean of the published figures at b = 1/2",
    symbols={"low": "k_l", "high": "k_h", "b": "b"},
)
def bed_between(*, low: float, high: float, b: float) -> float:
    """Return a bed modulus between two published ones.

    Geometric interpolation. low, high: soft and stiff published figure (MPa). b: 0 soft, 1 stiff. Returns MPa.
    """
    return float(low ** (1 - b) * high**b)


@formula(
    "k_(w,90)", "c k_w", unit="MPa", source="Assumed share across the grain", symbols={"k": "k_w"}
)
def bed_across(*, c: float, k: float) -> float:
    """Return the bed modulus across the grain as a share of that along it.

    Assumed: 0.5, between 0.25 and 1. c: the share. k: bed modulus along the grain (MPa). Returns MPa.
    """
    return c * k


@formula(
    "k_g",
    "f k_b",
    unit="MPa",
    source="Share of the ring that is filled",
    symbols={"k": "k_b", "f": "f"},
)
def filled(*, f: float, k: float) -> float:
    """Return the bed modulus of a glue ring that is partly filled.

    Assumed proportional, 0.7 to 1. f: filled share. k: bed modulus of the full ring (MPa). Returns MPa.
    """
    return f * k


@formula(
    "k",
    "frac(k_w k_g, k_w + k_g)",
    unit="MPa",
    source="Two springs in series",
    symbols={"wood": "k_w", "glue": "k_g"},
)
def in_series(*, wood: float, glue: float) -> float:
    """Return the bed modulus of wood and glue ring one after the other.

    Springs in series. wood, glue: bed moduli (MPa). Returns MPa.
    """
    return wood * glue / (wood + glue)


@formula(
    "k_(w,oo)",
    "frac(k_w, 1 + 2 k_d)",
    unit="MPa",
    source="EN 1995-1-1 2.3.2.2(3): twice k_def in a joint",
    symbols={"k": "k_w", "k_def": "k_d"},
)
def bed_crept(*, k: float, k_def: float) -> float:
    """Return the bed modulus of the wood after creep.

    EN 1995-1-1 2.3.2.2(3). k: bed modulus today (MPa). k_def: creep factor of the timber. Returns MPa.
    """
    return k / (1 + 2 * k_def)


@formula(
    "E_(g,oo)",
    "frac(E_g, 1 + phi_g)",
    unit="MPa",
    source="Creep factor of the adhesive class",
    symbols={"E": "E_g", "phi": "phi_g"},
)
def glue_crept(*, E: float, phi: float) -> float:
    """Return the modulus of the glue after creep.

    Creep factor of the class, assumed. E: modulus today (MPa). phi: creep factor. Returns MPa.
    """
    return E / (1 + phi)
