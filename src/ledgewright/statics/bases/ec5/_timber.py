"""EN 1995-1-1:2004 sections 2 and 3: duration, partial factors, creep."""

from __future__ import annotations

from typing import Literal

from ledgewright.job import Lasts
from ledgewright.statics.formula import formula

Material = Literal["solid", "plywood", "mdf", "osb3", "particleboard"]
Duration = Literal["permanent", "long", "medium", "short", "instantaneous"]

K_MOD: dict[Material, dict[Duration, float]] = {
    "solid": {"permanent": 0.6, "long": 0.7, "medium": 0.8, "short": 0.9, "instantaneous": 1.1},
    "plywood": {"permanent": 0.6, "long": 0.7, "medium": 0.8, "short": 0.9, "instantaneous": 1.1},
    "mdf": {"permanent": 0.2, "long": 0.4, "medium": 0.6, "short": 0.8, "instantaneous": 1.1},
    "osb3": {"permanent": 0.4, "long": 0.5, "medium": 0.7, "short": 0.9, "instantaneous": 1.1},
    "particleboard": {
        "permanent": 0.3,
        "long": 0.45,
        "medium": 0.65,
        "short": 0.85,
        "instantaneous": 1.1,
    },
}
"""k_mod in service class 1: ICE Manual T19.9 (EN 1995-1-1 T3.1); particleboard, P4, from memory."""
K_MOD_SOURCE = "ICE Manual T19.9 (EN 1995-1-1 T3.1), service class 1"

K_DEF: dict[Material, tuple[float, ...]] = {
    "solid": (0.6, 0.8, 2.0),
    "plywood": (0.8, 1.0, 2.5),
    "mdf": (2.25, 3.0),
    "osb3": (1.5, 2.25),
    "particleboard": (2.25,),
}
"""k_def in service classes 1, 2, 3: EN 1995-1-1 T3.2; MDF in class 2 is MDF.HLS; particleboard is P4."""

GAMMA_M: dict[Material, float] = {
    "solid": 1.3,
    "plywood": 1.2,
    "mdf": 1.3,
    "osb3": 1.2,
    "particleboard": 1.3,
}
"""Partial factors: EN 1995-1-1 T2.3, recommended."""
GAMMA_M_ACCIDENT = 1.0

DURATION: dict[Lasts, Duration] = {
    "years": "long",
    "months": "medium",
    "days": "short",
    "minutes": "short",
}
"""Duration class by how long contents stay: EN 1995-1-1 T2.1."""


def k_mod(*, material: Material, duration: Duration) -> float:
    """Return the modification factor in service class 1.

    EN 1995-1-1 T3.1. Returns a plain number.
    """
    return K_MOD[material][duration]


def k_def(*, material: Material, service_class: int) -> float:
    """Return the creep factor.

    EN 1995-1-1 T3.2. service_class: 1, 2 or 3. Returns a plain number.

    Raises:
        ValueError: if the material is not for that service class.
    """
    row = K_DEF[material]
    if not 1 <= service_class <= len(row):
        msg = f"{material} has no k_def in service class {service_class}"
        raise ValueError(msg)
    return row[service_class - 1]


@formula(
    "q_d",
    "frac(k_m, gamma_M) q",
    unit="N/mm",
    source="EN 1995-1-1 2.4.1",
    symbols={"k": "k_m", "gamma": "gamma_M"},
)
def design_bearing(*, k: float, gamma: float, q: float) -> float:
    """Return the design bearing per length.

    EN 1995-1-1 2.4.1. k: k_mod. gamma: partial factor. q: characteristic bearing (N/mm). Returns N/mm.
    """
    return k / gamma * q


@formula(
    "R_h",
    "frac(k_m, gamma_M) P_h",
    unit="N",
    source="EN 1995-1-1 2.4.3",
    symbols={"k": "k_m", "gamma": "gamma_M", "P": "P_h"},
)
def design_hinge(*, k: float, gamma: float, P: float) -> float:
    """Return the design load by a hinge in the wood.

    EN 1995-1-1 2.4.3. k: k_mod. gamma: partial factor. P: characteristic hinge load (N). Returns N.
    """
    return k / gamma * P


@formula("R", "s_u V_0", unit="N", source="EN 1995-1-1 8.5.1", symbols={"s": "s_u", "V": "V_0"})
def scaled(*, s: float, V: float) -> float:
    """Return the load to which a factor on it leads.

    s: factor to the limit. V: load (N). Returns N.
    """
    return s * V
