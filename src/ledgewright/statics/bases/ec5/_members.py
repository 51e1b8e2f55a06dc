"""EN 1995-1-1:2004 sections 3, 6, 8: members in bending, compression, shear and torsion; screws."""

from __future__ import annotations

import math

from ledgewright.statics.formula import formula

K_CR = 0.67
"""Cracks in solid timber in shear: EN 1995-1-1:2004/A1 6.1.7 (from memory)."""
BETA_C = 0.2
"""Straightness of solid timber: EN 1995-1-1 Eq. 6.29 (from memory)."""
F_U_SCREW = 400.0
"""Tensile strength of a wood screw (MPa); the maker declares it (EN 14592), assumed low."""
LEAST_INTO = 6.0
"""Least length of a screw in the holding timber as a multiple of its diameter: EN 1995-1-1 8.7.2(3)."""
NAIL_INTO, NAIL_END = 8.0, 10.0
"""The same for smooth nails in side and end grain: EN 1995-1-1 8.3.1.2(1), (4) (from memory)."""
NAILS_HOLD = "smooth nails are not counted on to be pulled for long"
RHO_K = 0.83
"""Characteristic over mean density: below C16 and C24 of EN 338."""


@formula(
    "k_h",
    "max(1, min(1.3, (frac(150, h))^0.2))",
    unit="1",
    source="EN 1995-1-1 Eq. 3.1",
)
def depth_factor(*, h: float) -> float:
    """Return the depth factor on bending of solid timber.

    EN 1995-1-1 Eq. 3.1, for up to 700 kg/m3. h: depth (mm). Returns a plain number.
    """
    return float(max(1.0, min(1.3, (150 / h) ** 0.2)))


@formula(
    "f_m",
    "frac(k_m k_h f_(m,k), gamma_M)",
    unit="MPa",
    source="EN 1995-1-1 Eq. 2.14",
    symbols={"k": "k_m", "kh": "k_h", "f": "f_(m,k)", "gamma": "gamma_M"},
)
def bending(*, k: float, kh: float, f: float, gamma: float) -> float:
    """Return the design bending strength.

    EN 1995-1-1 Eq. 2.14. k: k_mod. kh: depth factor. f: characteristic strength (MPa). gamma: partial factor.
    Returns MPa.
    """
    return k * kh * f / gamma


@formula(
    "f_d",
    "frac(k_m f_k, gamma_M)",
    unit="MPa",
    source="EN 1995-1-1 Eq. 2.14",
    symbols={"k": "k_m", "f": "f_k", "gamma": "gamma_M"},
)
def design(*, k: float, f: float, gamma: float) -> float:
    """Return a design strength.

    EN 1995-1-1 Eq. 2.14. k: k_mod. f: characteristic strength (MPa). gamma: partial factor. Returns MPa.
    """
    return k * f / gamma


@formula(
    "f_(c,k)",
    "5 f_(m,k)^0.45",
    unit="MPa",
    source="EN 384 (from memory)",
    symbols={"f": "f_(m,k)"},
)
def f_c0k(*, f: float) -> float:
    """Return the compression strength along the grain of a strength class.

    EN 384 (from memory). f: characteristic bending strength (MPa). Returns MPa.
    """
    return float(5 * f**0.45)


@formula("E_05", "0.67 E", unit="MPa", source="EN 384 (from memory)")
def E_05(*, E: float) -> float:
    """Return the fifth percentile of the modulus of softwood.

    EN 384 (from memory). E: mean modulus (MPa). Returns MPa.
    """
    return 0.67 * E


@formula(
    "lambda_r",
    "frac(sqrt(12) H, pi h) sqrt(frac(f_(c,k), E_05))",
    unit="1",
    source="EN 1995-1-1 Eq. 6.21 (from memory)",
    symbols={"f": "f_(c,k)", "E": "E_05"},
)
def slenderness(*, H: float, h: float, f: float, E: float) -> float:
    """Return the relative slenderness of a stud square to the wall.

    EN 1995-1-1 Eq. 6.21 (from memory). H: between the supports (mm). h: depth (mm). f: compression strength (MPa).
    E: fifth percentile of the modulus (MPa). Returns a plain number.
    """
    return math.sqrt(12) * H / (math.pi * h) * math.sqrt(f / E)


@formula(
    "k_y",
    "0.5 (1 + 0.2 (lambda_r - 0.3) + lambda_r^2)",
    unit="1",
    source="EN 1995-1-1 Eq. 6.27 (from memory)",
    symbols={"lam": "lambda_r"},
)
def column(*, lam: float) -> float:
    """Return the intermediate of the buckling curve of solid timber.

    EN 1995-1-1 Eq. 6.27 (from memory). lam: relative slenderness. Returns a plain number.
    """
    return 0.5 * (1 + BETA_C * (lam - 0.3) + lam**2)


@formula(
    "k_c",
    "min(1, frac(1, k_y + sqrt(max(0, k_y^2 - lambda_r^2))))",
    unit="1",
    source="EN 1995-1-1 Eq. 6.25 (from memory)",
    symbols={"ky": "k_y", "lam": "lambda_r"},
)
def instability(*, ky: float, lam: float) -> float:
    """Return the instability factor.

    EN 1995-1-1 Eq. 6.25 (from memory). ky: intermediate. lam: relative slenderness. Returns a plain number.
    """
    return min(1.0, 1 / (ky + math.sqrt(max(0.0, ky**2 - lam**2))))


@formula(
    "M_d",
    "S_n f_m max(0, 1 - frac(sigma_c, k_c f_d))",
    unit="N mm",
    source="EN 1995-1-1 Eq. 6.23, solved for the moment (from memory)",
    symbols={"S": "S_n", "f": "f_m", "sigma": "sigma_c", "kc": "k_c", "fc": "f_d"},
)
def beam_column(*, S: float, f: float, sigma: float, kc: float, fc: float) -> float:
    """Return the moment a stud can take next to an even pressure.

    EN 1995-1-1 Eq. 6.23 (from memory). S: section modulus (mm3). f, fc: design strengths in bending and compression
    (MPa). sigma: pressure (MPa). kc: instability factor. Returns N mm.
    """
    return S * f * max(0.0, 1 - sigma / (kc * fc))


@formula(
    "f_(v,d)",
    "frac(k_m k_r f_(v,k), gamma_M)",
    unit="MPa",
    source="EN 1995-1-1 Eq. 6.13, k_cr 0.67 (A1, from memory)",
    symbols={"k": "k_m", "cr": "k_r", "f": "f_(v,k)", "gamma": "gamma_M"},
)
def cracked_shear(*, k: float, cr: float, f: float, gamma: float) -> float:
    """Return the design shear strength with cracks.

    EN 1995-1-1 Eq. 6.13. k: k_mod. cr: k_cr. f: characteristic strength (MPa). gamma: partial factor. Returns MPa.
    """
    return k * cr * f / gamma


@formula(
    "k_s",
    "min(1.3, 1 + 0.05 p / q)",
    unit="1",
    source="EN 1995-1-1:2004/A2 Eq. 6.15 (from memory)",
    symbols={"long": "p", "short": "q"},
)
def shape_factor(*, long: float, short: float) -> float:
    """Return the shape factor of a rectangle in torsion.

    EN 1995-1-1:2004/A2 Eq. 6.15 (from memory); the first edition allowed more. long, short: sides (mm). Returns a
    plain number.
    """
    return min(1.3, 1 + 0.05 * long / short)


@formula(
    "f_(t,d)",
    "k_s f_d",
    unit="MPa",
    source="EN 1995-1-1 Eq. 6.14 (from memory)",
    symbols={"shape": "k_s", "f": "f_d"},
)
def torsion(*, shape: float, f: float) -> float:
    """Return the torsional shear strength.

    EN 1995-1-1 Eq. 6.14 (from memory). shape: shape factor. f: design shear strength (MPa). Returns MPa.
    """
    return shape * f


@formula(
    "R_d",
    "frac(k_m R_k, gamma_M)",
    unit="N",
    source="EN 1995-1-1 Eq. 2.17",
    symbols={"k": "k_m", "R": "R_k", "gamma": "gamma_M"},
)
def design_load(*, k: float, R: float, gamma: float) -> float:
    """Return a design resistance.

    EN 1995-1-1 Eq. 2.17. k: k_mod. R: characteristic resistance (N). gamma: partial factor. Returns N.
    """
    return k * R / gamma


@formula(
    "f_h",
    "0.082 rho_k d^(-0.3)",
    unit="MPa",
    source="EN 1995-1-1 Eq. 8.15 (from memory)",
    symbols={"rho": "rho_k"},
)
def f_hk_nail(*, rho: float, d: float) -> float:
    """Return the characteristic embedment strength of a nail or thin screw that is not pre-drilled, at any angle.

    EN 1995-1-1 Eq. 8.15 (from memory). rho: characteristic density (kg/m3). d: diameter (mm), up to 8. Returns MPa.
    """
    return float(0.082 * rho * d**-0.3)


@formula(
    "R_k", "frac(P, 3)", unit="N", source="EN 1995-1-1 8.3.1.2(4) (from memory)", symbols={"R": "P"}
)
def in_end_grain(*, R: float) -> float:
    """Return the side load of a nail or screw in end grain.

    EN 1995-1-1 8.3.1.2(4) (from memory), in secondary work. R: the same in side grain (N). Returns N.
    """
    return R / 3


@formula("d_s", "1.1 d_r", unit="mm", source="EN 1995-1-1 8.7.1(3)", symbols={"root": "d_r"})
def effective(*, root: float) -> float:
    """Return the effective diameter of a screw.

    EN 1995-1-1 8.7.1(3) (from memory). root: diameter of the root (mm). Returns mm.
    """
    return 1.1 * root


@formula(
    "f_a",
    "frac(0.52 rho_k^0.8, sqrt(d) l_e^0.1)",
    unit="MPa",
    source="EN 1995-1-1:2004/A1 Eq. 8.39 (from memory)",
    symbols={"rho": "rho_k", "l": "l_e"},
)
def f_axk(*, rho: float, d: float, l: float) -> float:
    """Return the characteristic withdrawal strength of a screw square to the grain.

    EN 1995-1-1:2004/A1 Eq. 8.39 (from memory), for 6 to 12 mm. rho: characteristic density (kg/m3). d: diameter (mm).
    l: thread in the timber (mm). Returns MPa.
    """
    return float(0.52 * rho**0.8 / (math.sqrt(d) * l**0.1))


@formula(
    "R_k",
    "f_a d l_e min(1, d / 8)",
    unit="N",
    source="EN 1995-1-1:2004/A1 Eq. 8.38 (from memory)",
    symbols={"f": "f_a", "l": "l_e"},
)
def screw_pull(*, f: float, d: float, l: float) -> float:
    """Return the characteristic pull of a screw square to the grain.

    EN 1995-1-1:2004/A1 Eq. 8.38 (from memory). f: withdrawal strength (MPa). d: diameter (mm). l: thread in the
    timber (mm). Returns N.
    """
    return f * d * l * min(1.0, d / 8)
