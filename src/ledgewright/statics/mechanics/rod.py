"""A rod in its bed: a beam on Winkler springs with a free far end, and a cantilever in front of the wood.

x runs from the wood face inwards, y is downwards. V0 (down) and M0 (front going down) act at the face and both
raise y0 and theta0; theta is positive where the front goes down.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

from ledgewright.statics.formula import Formula, Working, formula

WINKLER = (
    "Hetenyi 1946, beam on elastic foundation, far end free; Wood Handbook ch. 8 factors L, J, K"
)
# Below this lambda L the rod is straight to 1e-12 and the closed form only loses digits; above, the far end
# is felt no more.
STRAIGHT, ENDLESS = 1e-3, 25.0
ROOT = 1e-12


@formula("lambda", "root(4, frac(k, 4 E I))", unit="1/mm", source=WINKLER)
def characteristic(*, k: float, E: float, I: float) -> float:
    """Return the characteristic of a beam on an elastic bed.

    Hetenyi 1946. k: bed modulus (MPa). E: modulus (MPa). I: second moment (mm4). Returns 1/mm.
    """
    return float((k / (4 * E * I)) ** 0.25)


@formula("xi", "lambda L", unit="1", source=WINKLER, symbols={"lam": "lambda"})
def reach(*, lam: float, L: float) -> float:
    """Return the embedment as a multiple of the characteristic length.

    Hetenyi 1946. lam: characteristic (1/mm). L: embedment (mm). Returns a plain number.
    """
    return lam * L


_DEN = "sinh(xi)^2 - sin(xi)^2"


def _den(xi: float) -> float:
    return (math.sinh(xi) - math.sin(xi)) * (math.sinh(xi) + math.sin(xi))


@formula("f_1", f"frac(sinh(xi) cosh(xi) - sin(xi) cos(xi), {_DEN})", unit="1", source=WINKLER)
def end_drop(*, xi: float) -> float:
    """Return how much more than an endless rod the rod goes down at its end under a load there.

    Hetenyi 1946; Wood Handbook ch. 8, factor L. xi: `reach`. Returns a plain number, 1 for an endless rod.
    """
    if xi > ENDLESS:
        return 1.0
    if xi < STRAIGHT:
        return 2 / xi
    return (math.sinh(xi) * math.cosh(xi) - math.sin(xi) * math.cos(xi)) / _den(xi)


@formula("f_2", f"frac(sinh(xi)^2 + sin(xi)^2, {_DEN})", unit="1", source=WINKLER)
def end_cross(*, xi: float) -> float:
    """Return how much more than an endless rod the rod turns under a load at its end, or goes down under a moment.

    Hetenyi 1946; Wood Handbook ch. 8, factor J. xi: `reach`. Returns a plain number, 1 for an endless rod.
    """
    if xi > ENDLESS:
        return 1.0
    if xi < STRAIGHT:
        return 3 / xi**2
    return (math.sinh(xi) ** 2 + math.sin(xi) ** 2) / _den(xi)


@formula("f_3", f"frac(sinh(xi) cosh(xi) + sin(xi) cos(xi), {_DEN})", unit="1", source=WINKLER)
def end_turn(*, xi: float) -> float:
    """Return how much more than an endless rod the rod turns at its end under a moment there.

    Hetenyi 1946; Wood Handbook ch. 8, factor K. xi: `reach`. Returns a plain number, 1 for an endless rod.
    """
    if xi > ENDLESS:
        return 1.0
    if xi < STRAIGHT:
        return 3 / xi**3
    return (math.sinh(xi) * math.cosh(xi) + math.sin(xi) * math.cos(xi)) / _den(xi)


_FACE = {"V": "V_0", "M": "M_0", "lam": "lambda", "f1": "f_1", "f2": "f_2", "f3": "f_3"}


@formula(
    "y_0",
    "frac(2 lambda, k) (V_0 f_1 + lambda M_0 f_2)",
    unit="mm",
    source=WINKLER,
    symbols=_FACE,
)
def face_drop(*, V: float, M: float, k: float, lam: float, f1: float, f2: float) -> float:
    """Return how far the rod goes down at the wood face.

    Hetenyi 1946; Wood Handbook ch. 8. V: shear at the face (N). M: moment there (N mm). k: bed modulus (MPa). lam:
    characteristic (1/mm). f1, f2: `end_drop`, `end_cross`. Returns mm. Linear bed, bearing on both sides.
    """
    return 2 * lam / k * (V * f1 + lam * M * f2)


@formula(
    "theta_0",
    "frac(2 lambda^2, k) (V_0 f_2 + 2 lambda M_0 f_3)",
    unit="rad",
    source=WINKLER,
    symbols=_FACE,
)
def face_turn(*, V: float, M: float, k: float, lam: float, f2: float, f3: float) -> float:
    """Return how far the rod turns at the wood face.

    Hetenyi 1946; Wood Handbook ch. 8. V: shear at the face (N). M: moment there (N mm). k: bed modulus (MPa). lam:
    characteristic (1/mm). f2, f3: `end_cross`, `end_turn`. Returns rad. Linear bed, bearing on both sides.
    """
    return 2 * lam**2 / k * (V * f2 + 2 * lam * M * f3)


KRYLOV = "Krylov functions of a beam on an elastic bed"


@formula("eta", "lambda x", unit="1", source=KRYLOV, symbols={"lam": "lambda"})
def depth(*, lam: float, x: float) -> float:
    """Return a depth in the wood as a multiple of the characteristic length.

    Krylov functions. lam: characteristic (1/mm). x: depth (mm). Returns a plain number.
    """
    return lam * x


@formula("Y_1", "cosh(eta) cos(eta)", unit="1", source=KRYLOV)
def krylov_1(*, eta: float) -> float:
    """Return the first Krylov function.

    Krylov functions. eta: `depth`. Returns a plain number.
    """
    return math.cosh(eta) * math.cos(eta)


@formula("Y_2", "frac(cosh(eta) sin(eta) + sinh(eta) cos(eta), 2)", unit="1", source=KRYLOV)
def krylov_2(*, eta: float) -> float:
    """Return the second Krylov function, the first one's integral.

    Krylov functions. eta: `depth`. Returns a plain number.
    """
    return (math.cosh(eta) * math.sin(eta) + math.sinh(eta) * math.cos(eta)) / 2


@formula("Y_3", "frac(sinh(eta) sin(eta), 2)", unit="1", source=KRYLOV)
def krylov_3(*, eta: float) -> float:
    """Return the third Krylov function, the second one's integral.

    Krylov functions. eta: `depth`. Returns a plain number.
    """
    return math.sinh(eta) * math.sin(eta) / 2


@formula("Y_4", "frac(cosh(eta) sin(eta) - sinh(eta) cos(eta), 4)", unit="1", source=KRYLOV)
def krylov_4(*, eta: float) -> float:
    """Return the fourth Krylov function, the third one's integral.

    Krylov functions. eta: `depth`. Returns a plain number. Loses digits as eta goes to 0.
    """
    return (math.cosh(eta) * math.sin(eta) - math.sinh(eta) * math.cos(eta)) / 4


_X = {
    "V": "V_0",
    "M": "M_0",
    "y": "y_0",
    "theta": "theta_0",
    "lam": "lambda",
    "Y1": "Y_1",
    "Y2": "Y_2",
    "Y3": "Y_3",
    "Y4": "Y_4",
}


@formula(
    "M(x)",
    "M_0 Y_1 + frac(V_0, lambda) Y_2 - frac(k y_0, lambda^2) Y_3 + frac(k theta_0, lambda^3) Y_4",
    unit="N mm",
    source=KRYLOV,
    symbols=_X,
)
def moment_at(
    *,
    V: float,
    M: float,
    y: float,
    theta: float,
    k: float,
    lam: float,
    Y1: float,
    Y2: float,
    Y3: float,
    Y4: float,
) -> float:
    """Return the bending moment in the rod at a depth in the wood.

    Krylov functions. V, M: shear (N) and moment (N mm) at the face. y, theta: movement (mm) and turn (rad) there.
    k: bed modulus (MPa). lam: characteristic (1/mm). Y1, Y2, Y3, Y4: Krylov functions at that depth. Returns N mm.
    Loses digits beyond a `depth` of about 12.
    """
    return M * Y1 + V / lam * Y2 - k * y / lam**2 * Y3 + k * theta / lam**3 * Y4


@formula(
    "V(x)",
    "V_0 Y_1 - 4 lambda M_0 Y_4 - frac(k y_0, lambda) Y_2 + frac(k theta_0, lambda^2) Y_3",
    unit="N",
    source=KRYLOV,
    symbols=_X,
)
def shear_at(
    *,
    V: float,
    M: float,
    y: float,
    theta: float,
    k: float,
    lam: float,
    Y1: float,
    Y2: float,
    Y3: float,
    Y4: float,
) -> float:
    """Return the shear in the rod at a depth in the wood.

    Krylov functions. Arguments as for `moment_at`. Returns N.
    """
    return V * Y1 - 4 * lam * M * Y4 - k * y / lam * Y2 + k * theta / lam**2 * Y3


@formula(
    "y(x)",
    "y_0 Y_1 - frac(theta_0, lambda) Y_2 + frac(4 lambda^2 M_0, k) Y_3 + frac(4 lambda V_0, k) Y_4",
    unit="mm",
    source=KRYLOV,
    symbols=_X,
)
def drop_at(
    *,
    V: float,
    M: float,
    y: float,
    theta: float,
    k: float,
    lam: float,
    Y1: float,
    Y2: float,
    Y3: float,
    Y4: float,
) -> float:
    """Return how far the rod goes down at a depth in the wood.

    Krylov functions. Arguments as for `moment_at`. Returns mm.
    """
    return y * Y1 - theta / lam * Y2 + 4 * lam**2 * M / k * Y3 + 4 * lam * V / k * Y4


def turn_at(
    *,
    V: float,
    M: float,
    y: float,
    theta: float,
    k: float,
    lam: float,
    Y1: float,
    Y2: float,
    Y3: float,
    Y4: float,
) -> float:
    """Return how far the rod turns at a depth in the wood.

    The slope of `drop_at`, as the slope of each Krylov function is lambda times the one before it, and of the first one
    -4 lambda times the fourth. Arguments as for `moment_at`. Returns rad.
    """
    return 4 * lam * y * Y4 + theta * Y1 - 4 * lam**3 * M / k * Y2 - 4 * lam**2 * V / k * Y3


def _first_zero(
    of: Callable[[float], tuple[float, float]], end: float, *, near: float, size: float
) -> float:
    """Return where a function that starts positive and is negative at `end` first goes through zero.

    Newton's steps; where one would leave what encloses the zero, half of it is taken. of: gives value and slope. near:
    where to begin. size: of the value at the start, to which it is nought.
    """
    low, high = 0.0, end
    x = near if low < near < high else (low + high) / 2
    while high - low > ROOT * end:
        value, slope = of(x)
        if abs(value) <= ROOT * size:
            return x
        if value > 0:
            low = x
        else:
            high = x
        x = x - value / slope if slope else end
        if not low < x < high:
            x = (low + high) / 2
    return (low + high) / 2


Curve = Formula[...]
"""Moment, shear or movement along the rod."""


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

    def at(self, w: Working, of: Curve, x: float) -> float:
        """Return moment (N mm), shear (N) or movement (mm) at a depth x (mm)."""
        eta = w(depth, lam=self.lam, x=x)
        Y1, Y2 = w(krylov_1, eta=eta), w(krylov_2, eta=eta)
        Y3, Y4 = w(krylov_3, eta=eta), w(krylov_4, eta=eta)
        return w(of, **self._acting, Y1=Y1, Y2=Y2, Y3=Y3, Y4=Y4)

    def moment(self, x: float) -> float:
        """Return the moment at a depth x (N mm)."""
        return self._bare(x, moment_at.function)[0]

    def shear(self, x: float) -> float:
        """Return the shear at a depth x (N)."""
        return self._bare(x, shear_at.function)[0]

    def drop(self, x: float) -> float:
        """Return the movement at a depth x (mm)."""
        return self._bare(x, drop_at.function)[0]

    def turn(self, x: float) -> float:
        """Return the turn at a depth x (rad), positive where the front goes down: the slope of the movement."""
        return self._bare(x, turn_at)[0]

    def _bare(self, x: float, *of: Callable[..., float]) -> tuple[float, ...]:
        """Curves without their lines, for searches that look many times."""
        eta = self.lam * x
        Y1, Y2 = krylov_1.function(eta=eta), krylov_2.function(eta=eta)
        Y3, Y4 = krylov_3.function(eta=eta), krylov_4.function(eta=eta)
        return tuple(each(**self._acting, Y1=Y1, Y2=Y2, Y3=Y3, Y4=Y4) for each in of)

    @cached_property
    def _acting(self) -> dict[str, float]:
        return {
            "V": self.V,
            "M": self.M,
            "y": self.y,
            "theta": self.theta,
            "k": self.k,
            "lam": self.lam,
        }

    @property
    def _reach(self) -> float:
        return min(0.999 * self.L, 2 / self.lam)

    @cached_property
    def peak_at(self) -> float:
        """Depth of the greatest moment (mm): where the shear goes through zero; 0 without shear at the face."""
        if self.V <= 0:
            return 0.0

        def shear(x: float) -> tuple[float, float]:
            value, drop = self._bare(x, shear_at.function, drop_at.function)
            # What the bed presses is how the shear changes.
            return value, -self.k * drop

        # Of a rod without end: its shear goes with V (cos - sin) - 2 lambda M sin.
        near = math.atan2(self.V, self.V + 2 * self.lam * self.M) / self.lam
        return _first_zero(shear, self._reach, near=near, size=self.V)

    @cached_property
    def most_sheared_at(self) -> float:
        """Depth of the greatest shear inside the wood (mm): where the rod does not move."""

        def drop(x: float) -> tuple[float, float]:
            value, turn = self._bare(x, drop_at.function, turn_at)
            return value, -turn

        # Of a rod without end: its drop goes with (V + lambda M) cos - lambda M sin.
        near = math.atan2(self.V + self.lam * self.M, self.lam * self.M) / self.lam
        return _first_zero(drop, self._reach, near=near, size=self.y)


def face(w: Working, *, V: float, M: float, k: float, lam: float, L: float) -> Face:
    """Return the rod at the wood face under V and M, none of them negative.

    Hetenyi 1946. w: takes the lines. V: shear at the face (N). M: moment there (N mm). k: bed modulus (MPa). lam:
    characteristic (1/mm). L: embedment (mm).

    Raises:
        ValueError: if a load is negative, both are zero, or a property is not positive.
    """
    if min(V, M) < 0 or V + M <= 0 or min(k, lam, L) <= 0:
        msg = f"V={V} and M={M} may not be negative, k={k}, lambda={lam}, L={L} must be positive"
        raise ValueError(msg)
    xi = w(reach, lam=lam, L=L)
    f1, f2, f3 = w(end_drop, xi=xi), w(end_cross, xi=xi), w(end_turn, xi=xi)
    y = w(face_drop, V=V, M=M, k=k, lam=lam, f1=f1, f2=f2)
    theta = w(face_turn, V=V, M=M, k=k, lam=lam, f2=f2, f3=f3)
    return Face(V, M, k, lam, L, y, theta)


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
