"""NDS-2018 section 12.3: dowel bearing strength and the reduction term."""

from __future__ import annotations

import math

from ledgewright.job import Lasts
from ledgewright.statics.formula import formula

PSI = 0.006894757293168361
INCH = 25.4
T12_3_3 = "NDS-2018 T12.3.3 fn 2"


@formula("F_(e,0)", "77.22128 G", unit="MPa", source=T12_3_3)
def Fe_parallel(*, G: float) -> float:
    """Return the dowel bearing strength along the grain before rounding.

    NDS-2018 T12.3.3 fn 2: 11200 G psi. G: specific gravity. Returns MPa. For D from 1/4 to 1 in.
    """
    return 11200 * PSI * G


@formula("F_(e,90)", "211.9657 frac(G^1.45, sqrt(d))", unit="MPa", source=T12_3_3)
def Fe_perpendicular(*, G: float, d: float) -> float:
    """Return the dowel bearing strength across the grain before rounding.

    NDS-2018 T12.3.3 fn 2: 6100 G^1.45 / sqrt(D in) psi. G: specific gravity. d: diameter (mm). Returns MPa. For D from
    1/4 to 1 in.
    """
    return float(6100 * PSI * math.sqrt(INCH) * G**1.45 / math.sqrt(d))


@formula("F_e", "114.45297 G^1.84", unit="MPa", source=T12_3_3)
def Fe_small(*, G: float) -> float:
    """Return the dowel bearing strength of a small dowel at any angle, before rounding.

    NDS-2018 T12.3.3 fn 2: 16600 G^1.84 psi. G: specific gravity. Returns MPa. For D below 1/4 in.
    """
    return float(16600 * PSI * G**1.84)


@formula(
    "F_e",
    "0.3447379 round(F / 0.3447379)",
    unit="MPa",
    source="NDS-2018 T12.3.3 fn 2: to the nearest 50 psi",
)
def to_50_psi(*, F: float) -> float:
    """Return a bearing strength as the tables print it.

    NDS-2018 T12.3.3 fn 2: to the nearest 50 psi. F: strength (MPa). Returns MPa.
    """
    step = 50 * PSI
    return step * math.floor(F / step + 0.5)


@formula(
    "F_(e,alpha)",
    "frac(F_0 F_90, F_0 sin(alpha)^2 + F_90 cos(alpha)^2)",
    unit="MPa",
    source="NDS-2018 12.3.4 (Hankinson)",
    symbols={"parallel": "F_0", "perpendicular": "F_90", "theta": "alpha"},
)
def hankinson(*, parallel: float, perpendicular: float, theta: float) -> float:
    """Return the bearing strength at an angle to the grain.

    NDS-2018 12.3.4. parallel, perpendicular: strengths (MPa). theta: angle of load to grain (rad). Returns MPa.
    """
    s, c = math.sin(theta), math.cos(theta)
    return parallel * perpendicular / (parallel * s * s + perpendicular * c * c)


@formula(
    "F_e",
    "frac(c F_u, 1.6)",
    unit="MPa",
    source="NDS-2018 App. I.2, T12B fn 2",
    symbols={"F": "F_u"},
)
def Fe_steel(*, c: float, F: float) -> float:
    """Return the dowel bearing strength of a steel member for use in the yield equations.

    NDS-2018 App. I.2. c: 2.4 hot-rolled from 1/4 in, 2.2 cold-formed. F: tensile strength (MPa). Returns MPa.
    """
    return c * F / 1.6


@formula(
    "K_theta",
    "1 + 0.25 frac(alpha, 90)",
    unit="1",
    source="NDS-2018 T12.3.1B",
    symbols={"theta": "alpha"},
)
def K_theta(*, theta: float) -> float:
    """Return the angle part of the reduction term.

    NDS-2018 T12.3.1B. theta: largest angle of load to grain of any member (deg), 0 to 90. Returns a plain number.
    """
    return 1 + 0.25 * theta / 90


def K_D(*, d: float) -> float:
    """Return the reduction term of a small dowel.

    NDS-2018 T12.3.1B: 2.2 up to 0.17 in, 10 D + 0.5 below 1/4 in. d: diameter (mm). Returns a plain number.

    Raises:
        ValueError: if d is 1/4 in or more.
    """
    D = d / INCH
    if D >= 0.25:
        msg = f"d={d} must be below {0.25 * INCH}"
        raise ValueError(msg)
    return 2.2 if D <= 0.17 else 10 * D + 0.5


LOAD_DURATION = {
    "permanent": 0.9,
    "ten years": 1.0,
    "two months": 1.15,
    "seven days": 1.25,
    "ten minutes": 1.6,
}
"""Load duration factor C_D: NDS-2018 T2.3.2; on connections never above 1.6 (11.3.2)."""

C_D: dict[Lasts, float] = {
    "years": LOAD_DURATION["permanent"],
    "months": LOAD_DURATION["ten years"],
    "days": LOAD_DURATION["ten years"],
    "minutes": LOAD_DURATION["ten years"],
}
"""Load duration factor by how long contents stay: never above 1.0, for something new always takes their place."""
C_D_SHORT = LOAD_DURATION["ten minutes"]
"""Load duration factor under the accidental load."""
