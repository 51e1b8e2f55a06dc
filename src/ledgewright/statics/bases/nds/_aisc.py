"""AISC 360-22 chapters F11 and G: bars and rounds in bending and shear."""

from __future__ import annotations

from ledgewright.statics.formula import formula
from ledgewright.stock import Shape

F11 = "AISC 360-22 F11"
OMEGA = 1.67
PHI = 0.90
CAP = {"round": 1.6, "square": 1.5, "flat": 1.5, "round tube": 1.0, "square tube": 1.0}
"""Cap of Mn over My: F11-1, F11-2; first yield for tubes, whose walls may give way at the wood."""


@formula(
    "M_n",
    "min(F_y Z, c F_y S)",
    unit="N mm",
    source="AISC 360-22 F11-1, F11-2",
    symbols={"F": "F_y"},
)
def yielding(*, F: float, Z: float, S: float, c: float) -> float:
    """Return the nominal moment of a bar by yielding.

    AISC 360-22 F11-1 (c = 1.5, rectangle) and F11-2 (c = 1.6, round). F: yield strength (MPa). Z, S: plastic and
    elastic modulus (mm3). c: cap on Mn over My. Returns N mm.
    """
    return min(F * Z, c * F * S)


@formula("M_p", "F_y Z", unit="N mm", source="Plastic moment", symbols={"F": "F_y"})
def plastic_moment(*, F: float, Z: float) -> float:
    """Return the full plastic moment of a bar.

    F: yield strength (MPa). Z: plastic modulus (mm3). Returns N mm. Equals Fyb D^3/6 of AWC TR12 for a solid round.
    """
    return F * Z


@formula("s_b", "frac(L_b h, t^2)", unit="1", source="AISC 360-22 F11.2", symbols={"L": "L_b"})
def slenderness(*, L: float, h: float, t: float) -> float:
    """Return the slenderness of a flat bar bent the stiff way.

    AISC 360-22 F11.2. L: length without side support (mm). h, t: height and thickness (mm). Returns a plain number.
    """
    return L * h / t**2


def needs_buckling(*, shape: Shape, s: float, E: float, F: float) -> bool:
    """Return whether sideways buckling must be looked at.

    AISC 360-22 F11.2: not for rounds, nor for rectangles with s up to 0.08 E/Fy. s: slenderness. E, F: modulus and
    yield strength (MPa).
    """
    return not shape.startswith("round") and s > 0.08 * E / F


@formula(
    "M_n",
    "min((1.52 - 0.274 s_b frac(F_y, E)) F_y S, F_y Z)",
    unit="N mm",
    source="AISC 360-22 F11-3 with Cb = 1",
    symbols={"s": "s_b", "F": "F_y"},
)
def inelastic_buckling(*, s: float, F: float, E: float, S: float, Z: float) -> float:
    """Return the nominal moment of a flat bar that buckles sideways past yield.

    AISC 360-22 F11-3, Cb = 1. s: slenderness. F, E: yield strength and modulus (MPa). S, Z: moduli (mm3). Returns
    N mm. For s from 0.08 E/Fy to 1.9 E/Fy.
    """
    return min((1.52 - 0.274 * s * F / E) * F * S, F * Z)


@formula(
    "M_n",
    "min(frac(1.9 E S, s_b), F_y Z)",
    unit="N mm",
    source="AISC 360-22 F11-4 with Cb = 1 (from memory)",
    symbols={"s": "s_b", "F": "F_y"},
)
def elastic_buckling(*, s: float, F: float, E: float, S: float, Z: float) -> float:
    """Return the nominal moment of a flat bar that buckles sideways before yield.

    AISC 360-22 F11-4 (from memory), Cb = 1. Arguments as for `inelastic_buckling`. Returns N mm. For s above 1.9 E/Fy.
    """
    return min(1.9 * E * S / s, F * Z)


@formula(
    "M_a",
    "frac(M_n, Omega)",
    unit="N mm",
    source="AISC 360-22 F1",
    symbols={"M": "M_n", "omega": "Omega"},
)
def allowable_moment(*, M: float, omega: float) -> float:
    """Return the allowable moment.

    AISC 360-22 F1, Omega = 1.67. M: nominal moment (N mm). omega: safety factor. Returns N mm.
    """
    return M / omega


@formula("M_d", "phi M_n", unit="N mm", source="AISC 360-22 F1", symbols={"M": "M_n"})
def design_moment(*, phi: float, M: float) -> float:
    """Return the design moment.

    AISC 360-22 F1, phi = 0.90. phi: resistance factor. M: nominal moment (N mm). Returns N mm.
    """
    return phi * M


@formula("V_n", "0.6 F_y A_v", unit="N", source="AISC 360-22 G4", symbols={"F": "F_y", "A": "A_v"})
def shear_yielding(*, F: float, A: float) -> float:
    """Return the nominal shear of a bar.

    AISC 360-22 G4. F: yield strength (MPa). A: shear area (mm2). Returns N.
    """
    return 0.6 * F * A


@formula(
    "V_a",
    "frac(V_n, Omega)",
    unit="N",
    source="AISC 360-22 G1",
    symbols={"V": "V_n", "omega": "Omega"},
)
def allowable_shear(*, V: float, omega: float) -> float:
    """Return the allowable shear.

    AISC 360-22 G1, Omega = 1.67. V: nominal shear (N). omega: safety factor. Returns N.
    """
    return V / omega


@formula("V_d", "phi V_n", unit="N", source="AISC 360-22 G1", symbols={"V": "V_n"})
def design_shear(*, phi: float, V: float) -> float:
    """Return the design shear.

    AISC 360-22 G1, phi = 0.90. phi: resistance factor. V: nominal shear (N). Returns N.
    """
    return phi * V
