"""What the wood round a rod can take at most: rigid-plastic bearing under V0 and M0 at the wood face."""

from __future__ import annotations

import math

from ledgewright.statics.formula import formula

RIGID = "Equilibrium of a straight rod, wood crushing on both sides; mode II of AWC TR12 in terms of V0 and M0"


@formula(
    "M_u",
    "q (frac(L^2, 2) - frac((V_0 / q + L)^2, 4))",
    unit="N mm",
    source=RIGID,
    symbols={"V": "V_0"},
)
def rigid_moment(*, q: float, L: float, V: float) -> float:
    """Return the moment at the wood face at which a straight rod crushes the wood, next to a shear.

    Equilibrium; AWC TR12 mode II. q: bearing per length (N/mm). L: embedment (mm). V: shear at the face (N).
    Returns N mm. Holds for V from 0 to q L, V and M acting the same way.
    """
    return q * (L**2 / 2 - (V / q + L) ** 2 / 4)


@formula(
    "s_u",
    "frac(q L^2, 2 (M_0 + V_0 L / 2 + sqrt((M_0 + V_0 L / 2)^2 + V_0^2 L^2 / 4)))",
    unit="1",
    source=RIGID,
    symbols={"V": "V_0", "M": "M_0"},
)
def rigid_factor(*, q: float, L: float, V: float, M: float) -> float:
    """Return by how much V and M may grow together until a straight rod crushes the wood.

    The positive root of s M = `rigid_moment`(s V). q: bearing per length (N/mm). L: embedment (mm). V, M: shear (N)
    and moment (N mm) at the wood face, not negative. Returns a plain number.
    """
    b = M + V * L / 2
    return q * L**2 / (2 * (b + math.sqrt(b**2 + V**2 * L**2 / 4)))


@formula(
    "P_h",
    "q (sqrt(e^2 + frac(2 M_p, q)) - e)",
    unit="N",
    source="Plastic hinge in the wood, P (e + P/(2 q)) = Mp; AWC TR12 mode III, EN 1995-1-1 8.2",
    symbols={"M_p": "M_p"},
)
def hinge_load(*, q: float, e: float, M_p: float) -> float:
    """Return the load at which a rod forms a hinge in the wood.

    P (e + P / 2q) = Mp; AWC TR12. q: bearing per length (N/mm). e: lever of the load from the face (mm). M_p: plastic
    moment (N mm). Returns N. Holds where the embedment is long enough for the hinge to form.
    """
    return q * (math.sqrt(e**2 + 2 * M_p / q) - e)
