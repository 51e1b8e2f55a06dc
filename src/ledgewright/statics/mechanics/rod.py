"""A rod in its bed: a beam on Winkler springs with a free far end, and a cantilever in front of the wood.

x runs from the wood face inwards, y is downwards. V0 (down) and M0 (front going down) act at the face and both
raise y0 and theta0; theta is positive where the front goes down.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

from ledgewright.statics.formula import formula

WINKLER = (
    "Hetenyi 1946, beam on elastic foundation, far end free; Wood Handbook ch. 8 factors L, J, K"
)
# Below this lambda L the rod is straight to 1e-12 and the closed form only loses digits; above, the far end
# is felt no more.
STRAIGHT, ENDLESS = 1e-3, 25.0
ROOT = 1e-10


@formula("lambda", "root(4, frac(k, 4 E I))", unit="1/mm", source=WINKLER)
def characteristic(*, k: float, E: float, I: float) -> float:
    """Return the characteristic of a beam on an elastic bed.

    Hetenyi 1946. k: bed modulus (MPa). E: modulus (MPa). I: second moment (mm4). Returns 1/mm.
    """
    return float((k / (4 * E * I)) ** 0.25)


def _parts(x: float) -> tuple[float, float, float]:
    """Return (SC - sc)/Den, (S2 + s2)/Den and (SC + sc)/Den at lambda L = x."""
    if x > ENDLESS:
        return 1.0, 1.0, 1.0
    if x < STRAIGHT:
        return 2 / x, 3 / x**2, 3 / x**3
    S, C, s, c = math.sinh(x), math.cosh(x), math.sin(x), math.cos(x)
    den = (S - s) * (S + s)
    return (S * C - s * c) / den, (S * S + s * s) / den, (S * C + s * c) / den


_SH, _CH, _SN, _CS = "sinh(lambda L)", "cosh(lambda L)", "sin(lambda L)", "cos(lambda L)"
_DEN = f"{_SH}^2 - {_SN}^2"
_FACE = {"V": "V_0", "M": "M_0", "lam": "lambda"}


@formula(
    "y_0",
    f"frac(2 lambda, k) frac(V_0 ({_SH} {_CH} - {_SN} {_CS}) + lambda M_0 ({_SH}^2 + {_SN}^2), {_DEN})",
    unit="mm",
    source=WINKLER,
    symbols=_FACE,
)
def face_drop(*, V: float, M: float, k: float, lam: float, L: float) -> float:
    """Return how far the rod goes down at the wood face.

    Hetenyi 1946; Wood Handbook ch. 8 (twice L and J). V: shear at the face (N). M: moment there (N mm). k: bed modulus
    (MPa). lam: characteristic (1/mm). L: embedment (mm). Returns mm. Linear bed, bearing on both sides.
    """
    a, b, _ = _parts(lam * L)
    return 2 * lam / k * (V * a + lam * M * b)


@formula(
    "theta_0",
    f"frac(2 lambda^2, k) frac(V_0 ({_SH}^2 + {_SN}^2) + 2 lambda M_0 ({_SH} {_CH} + {_SN} {_CS}), {_DEN})",
    unit="rad",
    source=WINKLER,
    symbols=_FACE,
)
def face_turn(*, V: float, M: float, k: float, lam: float, L: float) -> float:
    """Return how far the rod turns at the wood face.

    Hetenyi 1946; Wood Handbook ch. 8 (twice J, four times K). Arguments as for `face_drop`. Returns rad.
    """
    _, b, c = _parts(lam * L)
    return 2 * lam**2 / k * (V * b + 2 * lam * M * c)


_X = {"V": "V_0", "M": "M_0", "y": "y_0", "theta": "theta_0", "lam": "lambda"}
_XS = {name: f"{name}(lambda x)" for name in ("sinh", "cosh", "sin", "cos")}
_Y1 = f"{_XS['cosh']} {_XS['cos']}"
_Y2 = f"({_XS['cosh']} {_XS['sin']} + {_XS['sinh']} {_XS['cos']})"
_Y3 = f"{_XS['sinh']} {_XS['sin']}"
_Y4 = f"({_XS['cosh']} {_XS['sin']} - {_XS['sinh']} {_XS['cos']})"


def _krylov(x: float) -> tuple[float, float, float, float]:
    S, C, s, c = math.sinh(x), math.cosh(x), math.sin(x), math.cos(x)
    return C * c, (C * s + S * c) / 2, S * s / 2, (C * s - S * c) / 4


@formula(
    "M(x)",
    f"M_0 {_Y1} + frac(V_0, 2 lambda) {_Y2} - frac(k y_0, 2 lambda^2) {_Y3} + frac(k theta_0, 4 lambda^3) {_Y4}",
    unit="N mm",
    source="Beam on elastic foundation by its values at the face (Krylov functions)",
    symbols=_X,
)
def moment_at(
    *, V: float, M: float, y: float, theta: float, k: float, lam: float, x: float
) -> float:
    """Return the bending moment in the rod at a depth in the wood.

    Krylov functions. V, M: shear (N) and moment (N mm) at the face. y, theta: movement (mm) and turn (rad) there.
    k: bed modulus (MPa). lam: characteristic (1/mm). x: depth (mm). Returns N mm. Loses digits beyond lambda x of
    about 12.
    """
    y1, y2, y3, y4 = _krylov(lam * x)
    return M * y1 + V / lam * y2 - k * y / lam**2 * y3 + k * theta / lam**3 * y4


@formula(
    "V(x)",
    f"V_0 {_Y1} - lambda M_0 {_Y4} - frac(k y_0, 2 lambda) {_Y2} + frac(k theta_0, 2 lambda^2) {_Y3}",
    unit="N",
    source="Beam on elastic foundation by its values at the face (Krylov functions)",
    symbols=_X,
)
def shear_at(
    *, V: float, M: float, y: float, theta: float, k: float, lam: float, x: float
) -> float:
    """Return the shear in the rod at a depth in the wood.

    Krylov functions. Arguments as for `moment_at`. Returns N.
    """
    y1, y2, y3, y4 = _krylov(lam * x)
    return V * y1 - 4 * lam * M * y4 - k * y / lam * y2 + k * theta / lam**2 * y3


@formula(
    "y(x)",
    f"y_0 {_Y1} - frac(theta_0, 2 lambda) {_Y2} + frac(2 lambda^2 M_0, k) {_Y3} + frac(lambda V_0, k) {_Y4}",
    unit="mm",
    source="Beam on elastic foundation by its values at the face (Krylov functions)",
    symbols=_X,
)
def drop_at(*, V: float, M: float, y: float, theta: float, k: float, lam: float, x: float) -> float:
    """Return how far the rod goes down at a depth in the wood.

    Krylov functions. Arguments as for `moment_at`. Returns mm.
    """
    y1, y2, y3, y4 = _krylov(lam * x)
    return y * y1 - theta / lam * y2 + 4 * lam**2 * M / k * y3 + 4 * lam * V / k * y4


def _first_zero(of: Callable[[float], float], end: float) -> float:
    """Return where a function that starts positive and is negative at `end` first goes through zero."""
    low, high = 0.0, end
    at_low, at_high = of(low), of(high)
    while high - low > ROOT * end:
        # Illinois: false position, halving the end that stays, which keeps the bracket closing on both sides.
        x = low + (high - low) * at_low / (at_low - at_high)
        at = of(x)
        if abs(at) <= ROOT * abs(at_low) or not low < x < high:
            return x
        if at > 0:
            low, at_low, at_high = x, at, at_high / 2
        else:
            high, at_high, at_low = x, at, at_low / 2
    return (low + high) / 2


@dataclass(frozen=True)
class Face:
    """A rod at the wood face: loads there (N, N mm), bed (MPa, 1/mm, mm) and its answer (mm, rad)."""

    V: float
    M: float
    k: float
    lam: float
    L: float
    y: float
    theta: float

    def moment(self, x: float) -> float:
        """Return the moment at a depth x (N mm)."""
        return moment_at(
            V=self.V, M=self.M, y=self.y, theta=self.theta, k=self.k, lam=self.lam, x=x
        )

    def shear(self, x: float) -> float:
        """Return the shear at a depth x (N)."""
        return shear_at(V=self.V, M=self.M, y=self.y, theta=self.theta, k=self.k, lam=self.lam, x=x)

    def drop(self, x: float) -> float:
        """Return the movement at a depth x (mm)."""
        return drop_at(V=self.V, M=self.M, y=self.y, theta=self.theta, k=self.k, lam=self.lam, x=x)

    @property
    def _reach(self) -> float:
        return min(0.999 * self.L, 2 / self.lam)

    @cached_property
    def peak_at(self) -> float:
        """Depth of the greatest moment (mm): where the shear goes through zero; 0 without shear at the face."""
        return _first_zero(self.shear, self._reach) if self.V > 0 else 0.0

    @cached_property
    def most_sheared_at(self) -> float:
        """Depth of the greatest shear inside the wood (mm): where the rod does not move."""
        return _first_zero(self.drop, self._reach)


def face(*, V: float, M: float, k: float, lam: float, L: float) -> Face:
    """Return the rod at the wood face under V and M, none of them negative.

    Hetenyi 1946. Arguments as for `face_drop`.

    Raises:
        ValueError: if a load is negative, both are zero, or a property is not positive.
    """
    if min(V, M) < 0 or V + M <= 0 or min(k, lam, L) <= 0:
        msg = f"V={V} and M={M} may not be negative, k={k}, lambda={lam}, L={L} must be positive"
        raise ValueError(msg)
    y = face_drop(V=V, M=M, k=k, lam=lam, L=L)
    return Face(V, M, k, lam, L, y, face_turn(V=V, M=M, k=k, lam=lam, L=L))


_CANTILEVER = "Cantilever on a yielding end"


@formula(
    "y_P",
    "y_0 + theta_0 a + frac(P a^3, 3 E I)",
    unit="mm",
    source=_CANTILEVER,
    symbols={"y": "y_0", "theta": "theta_0"},
)
def load_drop(*, y: float, theta: float, P: float, a: float, E: float, I: float) -> float:
    """Return how far the rod goes down under its load.

    Cantilever on a yielding end. y, theta: movement (mm) and turn (rad) at the wood face. P: load (N). a: its lever
    from the face (mm). E: modulus (MPa). I: second moment (mm4). Returns mm.
    """
    return y + theta * a + P * a**3 / (3 * E * I)


@formula(
    "theta_P",
    "theta_0 + frac(P a^2, 2 E I)",
    unit="rad",
    source=_CANTILEVER,
    symbols={"theta": "theta_0"},
)
def load_turn(*, theta: float, P: float, a: float, E: float, I: float) -> float:
    """Return how far the rod turns under its load.

    Cantilever on a yielding end. Arguments as for `load_drop`. Returns rad.
    """
    return theta + P * a**2 / (2 * E * I)


@formula(
    "w",
    "y_P + theta_P b",
    unit="mm",
    source="Rigid section tangent to the rod at its load",
    symbols={"y": "y_P", "theta": "theta_P"},
)
def front_drop(*, y: float, theta: float, b: float) -> float:
    """Return how far the front edge of a stiff section goes down.

    Rigid body. y, theta: movement (mm) and turn (rad) of the rod under its load. b: from there to the front edge
    (mm). Returns mm.
    """
    return y + theta * b


@formula("w_c", "frac(c D, n)", unit="mm", source="Rigid section tilting in its slot")
def hang_tilt(*, c: float, D: float, n: float) -> float:
    """Return how far the front edge hangs low by the play of the slot alone.

    Rigid body. c: play up and down in all (mm). D: from the back edge to the front (mm). n: rod in the slot (mm).
    Returns mm.
    """
    return c * D / n
