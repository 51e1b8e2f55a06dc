"""NDS-2018 chapters 3 and 12: members in bending, compression, shear and torsion; screws in withdrawal and lateral."""

from __future__ import annotations

from ledgewright.statics.bases.nds._section12 import INCH, PSI
from ledgewright.statics.formula import formula
from ledgewright.stock import Timber

SIZE = "NDS Supplement 2018 Table 4A adjustment factors (second-hand)"
COV_E = 0.25
"""Coefficient of variation of the modulus of visually graded timber: NDS-2018 App. F."""
END_GRAIN, TOED = 0.67, 0.83
"""Lateral load in end grain and of a toed-in screw or nail: NDS-2018 12.5.2.2, 12.5.4.2 (the second from memory)."""
F_YB: tuple[tuple[float, float], ...] = (
    (0.142, 100e3),
    (0.177, 90e3),
    (0.236, 80e3),
    (0.273, 70e3),
    (0.344, 60e3),
    (1.0, 45e3),
)
"""Bending yield strength (psi) up to a nominal diameter (in): NDS-2018 App. Table I1."""
LEAST_INTO = 6.0
"""Least length of a screw in the holding timber as a multiple of its diameter: NDS-2018 12.1.5.6."""


def size_factor(timber: Timber) -> float:
    """Return the size factor on bending.

    NDS Supplement 2018 Table 4A for nominal 4 and 6 in; Table 4B has none; wider counts as 1, towards safety.
    """
    if timber.species == "Southern Pine":
        return 1.0
    stud = timber.grade.lower() == "stud"
    if timber.depth <= 3.5 * INCH * 1.001:
        return 1.1 if stud else 1.5
    if timber.depth <= 5.5 * INCH * 1.001:
        return 1.0 if stud else 1.3
    return 1.0


def yield_strength(d: float) -> float:
    """Return the bending yield strength of a screw of a nominal diameter (mm) in MPa: NDS-2018 App. Table I1."""
    return next((F for most, F in F_YB if d <= most * INCH * 1.0001), F_YB[-1][1]) * PSI


@formula(
    "F'_b",
    "C_D C_F F_b",
    unit="MPa",
    source="NDS-2018 T4.3.1",
    symbols={"CD": "C_D", "CF": "C_F", "F": "F_b"},
)
def adjusted_bending(*, CD: float, CF: float, F: float) -> float:
    """Return the adjusted bending strength.

    NDS-2018 T4.3.1; no repetitive member factor is counted. CD, CF: load duration and size factor. F: reference
    value (MPa). Returns MPa.
    """
    return CD * CF * F


@formula(
    "E_m",
    "frac(1.03 (1 - 1.645 v) E, 1.66)",
    unit="MPa",
    source="NDS-2018 App. D-4 (from memory), v = 0.25",
)
def least_modulus(*, E: float, v: float) -> float:
    """Return the modulus for buckling.

    NDS-2018 App. D-4 (from memory). E: reference modulus (MPa). v: its coefficient of variation. Returns MPa.
    """
    return 1.03 * (1 - 1.645 * v) * E / 1.66


@formula(
    "F_(c E)",
    "frac(0.822 E_m, (H / h)^2)",
    unit="MPa",
    source="NDS-2018 3.7.1.5",
    symbols={"E": "E_m"},
)
def euler(*, E: float, H: float, h: float) -> float:
    """Return the critical buckling strength.

    NDS-2018 3.7.1.5. E: modulus for buckling (MPa). H: between the supports (mm). h: depth (mm). Returns MPa.
    """
    return 0.822 * E / (H / h) ** 2


@formula(
    "C_P",
    "frac(1 + a, 1.6) - sqrt((frac(1 + a, 1.6))^2 - frac(a, 0.8))",
    unit="1",
    source="NDS-2018 Eq. 3.7-1, c = 0.8",
)
def stability(*, a: float) -> float:
    """Return the column stability factor of sawn timber.

    NDS-2018 Eq. 3.7-1. a: critical buckling strength over compression strength. Returns a plain number.
    """
    half = (1 + a) / 1.6
    return float(half - (half**2 - a / 0.8) ** 0.5)


@formula(
    "F'_c",
    "C_P F_c",
    unit="MPa",
    source="NDS-2018 T4.3.1",
    symbols={"CP": "C_P", "F": "F_c"},
)
def adjusted_compression(*, CP: float, F: float) -> float:
    """Return the adjusted compression strength.

    NDS-2018 T4.3.1. CP: column stability factor. F: compression strength with load duration (MPa). Returns MPa.
    """
    return CP * F


@formula(
    "M_a",
    "S_n F'_b max(0, 1 - (frac(sigma_c, F'_c))^2) max(0, 1 - frac(sigma_c, F_(c E)))",
    unit="N mm",
    source="NDS-2018 Eq. 3.9-3, solved for the moment",
    symbols={"S": "S_n", "F": "F'_b", "sigma": "sigma_c", "Fc": "F'_c", "FcE": "F_(c E)"},
)
def beam_column(*, S: float, F: float, sigma: float, Fc: float, FcE: float) -> float:
    """Return the moment a stud can take next to an even pressure.

    NDS-2018 Eq. 3.9-3. S: section modulus (mm3). F, Fc: adjusted bending and compression strengths, FcE: critical
    buckling strength, sigma: pressure (MPa). Returns N mm.
    """
    return S * F * max(0.0, 1 - (sigma / Fc) ** 2) * max(0.0, 1 - sigma / FcE)


@formula(
    "F'_v",
    "C_D F_v",
    unit="MPa",
    source="NDS-2018 T4.3.1",
    symbols={"CD": "C_D", "F": "F_v"},
)
def adjusted_shear(*, CD: float, F: float) -> float:
    """Return the adjusted shear strength.

    NDS-2018 T4.3.1. CD: load duration factor. F: reference value (MPa). Returns MPa.
    """
    return CD * F


@formula(
    "F_t",
    "frac(F'_v, 3)",
    unit="MPa",
    source="A third of the shear strength, as NDS-2018 5.2.8 for radial tension (from memory)",
    symbols={"F": "F'_v"},
)
def across_tension(*, F: float) -> float:
    """Return the tension across the grain taken for sawn timber, for which the NDS gives none.

    NDS-2018 5.2.8 (from memory) allows it in curved laminated members. F: adjusted shear strength (MPa). Returns MPa.
    """
    return F / 3


@formula(
    "F_(v t)",
    "frac(2, 3) F'_v",
    unit="MPa",
    source="Two thirds of the shear strength, common practice for torsion of timber (from memory)",
    symbols={"F": "F'_v"},
)
def torsion(*, F: float) -> float:
    """Return the torsional shear strength.

    Common practice (from memory): the NDS gives none. F: adjusted shear strength (MPa). Returns MPa.
    """
    return 2 * F / 3


@formula(
    "V_r",
    "frac(2, 3) F'_v b d_e (frac(d_e, h))^2",
    unit="N",
    source="NDS-2018 3.4.3.3(a)",
    symbols={"F": "F'_v", "de": "d_e"},
)
def connection_shear(*, F: float, b: float, de: float, h: float) -> float:
    """Return the shear at a fastener at which a member splits along the grain.

    NDS-2018 3.4.3.3(a), for a place less than five depths from the end; beyond it is towards safety. F: adjusted
    shear strength (MPa). b: breadth (mm). de: from the loaded edge to the fastener (mm). h: depth (mm). Returns N.
    """
    return 2 / 3 * F * b * de * (de / h) ** 2


@formula(
    "V_r",
    "frac(2, 3) F'_v b d_e",
    unit="N",
    source="NDS-2018 3.4.3.3(b) (from memory)",
    symbols={"F": "F'_v", "de": "d_e"},
)
def far_connection_shear(*, F: float, b: float, de: float) -> float:
    """Return the shear at a fastener far from a member's ends at which it splits along the grain.

    NDS-2018 3.4.3.3(b) (from memory), for a place five depths from the ends and more. F: adjusted shear strength
    (MPa). b: breadth (mm). de: from the loaded edge to the fastener (mm). Returns N.
    """
    return 2 / 3 * F * b * de


@formula(
    "R_a",
    "frac(C_D F_90, 2.1)",
    unit="N",
    source="ASTM D245 for shear (from memory): 5 % strengths over 2.1",
    symbols={"CD": "C_D", "R": "F_90"},
)
def allowed_splitting(*, CD: float, R: float) -> float:
    """Return the allowable load of a strength that 19 of 20 pieces reach.

    ASTM D245 (from memory), its factor for shear. CD: load duration. R: characteristic strength (N). Returns N.
    """
    return CD * R / 2.1


@formula(
    "W",
    "19.65006 G^2 d",
    unit="N/mm",
    source="NDS-2018 Eq. 12.2-2",
)
def screw_withdrawal(*, G: float, d: float) -> float:
    """Return the reference withdrawal of a wood screw per length of thread in side grain.

    NDS-2018 Eq. 12.2-2: 2850 G^2 D lbf/in. G: specific gravity. d: diameter (mm). Returns N/mm.
    """
    return float(2850 * PSI * G**2 * d)


@formula(
    "W",
    "27.86121 G^1.5 d^0.75",
    unit="N/mm",
    source="NDS-2018 Eq. 12.2-1",
)
def lag_withdrawal(*, G: float, d: float) -> float:
    """Return the reference withdrawal of a lag screw per length of thread in side grain.

    NDS-2018 Eq. 12.2-1: 1800 G^1.5 D^0.75 lbf/in. G: specific gravity, 0.31 to 0.73. d: diameter (mm). Returns N/mm.
    """
    return float(1800 * PSI * INCH**0.25 * G**1.5 * d**0.75)


@formula("W'", "C_D W p_t", unit="N", source="NDS-2018 12.2", symbols={"CD": "C_D", "p": "p_t"})
def withdrawal(*, CD: float, W: float, p: float) -> float:
    """Return the pull a screw can take.

    NDS-2018 12.2. CD: load duration factor. W: reference value (N/mm). p: thread in the holding timber (mm). Returns
    N.
    """
    return CD * W * p


@formula(
    "Z'",
    "frac(C_D C_g P, R_d)",
    unit="N",
    source="NDS-2018 12.3.1, 12.5.2, 12.5.4",
    symbols={"CD": "C_D", "way": "C_g", "R": "R_d"},
)
def screw_lateral(*, CD: float, way: float, P: float, R: float) -> float:
    """Return the load across its axis a screw can take.

    NDS-2018 12.3.1. CD: load duration factor. way: end-grain factor 0.67, toe-nail factor 0.83, or 1. P: yield load
    (N). R: reduction term. Returns N.
    """
    return CD * way * P / R


@formula(
    "R",
    "frac(C_D P, R_d K_theta)",
    unit="N",
    source="NDS-2018 12.3.1",
    symbols={"CD": "C_D", "R": "R_d", "K": "K_theta"},
)
def pin_load(*, CD: float, P: float, R: float, K: float) -> float:
    """Return the side load a screw standing out of a panel can take.

    NDS-2018 12.3.1. CD: load duration factor. P: yield load (N). R: reduction term. K: its angle part. Returns N.
    """
    return CD * P / (R * K)
