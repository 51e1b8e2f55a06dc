"""AWC Technical Report 12 (2015), Table 1-1: general dowel equations, single shear, with a gap."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from ledgewright.statics.bases.nds._section12 import INCH, K_D, K_theta
from ledgewright.statics.formula import formula

TR12 = "AWC TR12 (2015) Table 1-1"
Mode = Literal["Im", "Is", "II", "IIIm", "IIIs", "IV"]
R_II, R_III = 3.6, 3.2
"""Reduction terms over K_theta: NDS-2018 T12.3.1B, mode II and modes III and IV."""


@formula("q", "F_e d", unit="N/mm", source=TR12, symbols={"F": "F_e"})
def bearing_per_length(*, F: float, d: float) -> float:
    """Return the bearing resistance per length of dowel.

    AWC TR12 Table 1-1. F: bearing strength (MPa). d: diameter (mm). Returns N/mm.
    """
    return F * d


@formula("M_p", "frac(F_y d^3, 6)", unit="N mm", source=TR12, symbols={"F": "F_y"})
def dowel_moment(*, F: float, d: float) -> float:
    """Return the plastic moment of a round dowel.

    AWC TR12 Table 1-1. F: bending yield strength (MPa). d: diameter (mm). Returns N mm.
    """
    return F * d**3 / 6


@formula("P", "frac(sqrt(B^2 - 4 A C) - B, 2 A)", unit="N", source=TR12)
def root(*, A: float, B: float, C: float) -> float:
    """Return the yield load of a mode from the coefficients of its quadratic.

    AWC TR12 Table 1-1. A, B, C: its coefficients (mm/N) (mm) (N mm). Returns N.
    """
    return (math.sqrt(B * B - 4 * A * C) - B) / (2 * A)


@dataclass(frozen=True)
class Joint:
    """A dowel through two members: bearing q (N/mm), length l (mm) and dowel moment M (N mm) in each, gap g (mm)."""

    q_m: float
    q_s: float
    l_m: float
    l_s: float
    M_m: float
    M_s: float
    g: float


def yield_loads(joint: Joint) -> dict[Mode, float]:
    """Return the yield load of every mode (N), before any reduction.

    AWC TR12 Table 1-1, solid sections, single shear.
    """
    j = joint
    qs, qm = 1 / j.q_s, 1 / j.q_m
    side, main = j.q_s * j.l_s**2 / 4, j.q_m * j.l_m**2 / 4
    return {
        "Im": j.q_m * j.l_m,
        "Is": j.q_s * j.l_s,
        "II": root(A=qs / 4 + qm / 4, B=j.l_s / 2 + j.g + j.l_m / 2, C=-side - main),
        "IIIm": root(A=qs / 2 + qm / 4, B=j.g + j.l_m / 2, C=-j.M_s - main),
        "IIIs": root(A=qs / 4 + qm / 2, B=j.l_s / 2 + j.g, C=-side - j.M_m),
        "IV": root(A=qs / 2 + qm / 2, B=j.g, C=-j.M_s - j.M_m),
    }


def R_d(*, mode: Mode, d: float, theta: float) -> float:
    """Return the reduction term of a mode.

    NDS-2018 T12.3.1B. mode: yield mode. d: diameter (mm). theta: largest angle of load to grain (deg). Returns a plain
    number. For d up to 1 in.

    Raises:
        ValueError: if d is above 1 in.
    """
    if d > INCH * (1 + 1e-9):
        msg = f"d={d} must not be above {INCH}"
        raise ValueError(msg)
    if d < 0.25 * INCH * (1 - 1e-9):
        return K_D(d=d)
    base = 4.0 if mode in ("Im", "Is") else R_II if mode == "II" else R_III
    return base * K_theta(theta=theta)


def reference_loads(joint: Joint, *, d: float, theta: float) -> dict[Mode, float]:
    """Return the reference lateral value of every mode (N): yield load over reduction term.

    NDS-2018 12.3.1, AWC TR12 Table 1-1. d: diameter (mm). theta: largest angle of load to grain (deg).
    """
    return {m: P / R_d(mode=m, d=d, theta=theta) for m, P in yield_loads(joint).items()}
