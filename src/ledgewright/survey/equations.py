"""What each kind of figure says of points, walls and faces: predicted less read, and its slopes.

Unknowns are numbers in one list; an equation knows theirs by index. A wall is (x, y, turn): the point where its tape
is hooked and the angle of its reference line.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from ledgewright.survey.adjust import Array, Slopes

Spot = tuple[int, int]
Base = tuple[int, int, int]


@dataclass(frozen=True)
class Straight:
    """A tape straight from one point to another."""

    p: Spot
    q: Spot
    read: float
    sd: float

    def misfit(self, x: Array) -> tuple[float, Slopes]:
        """Return distance less read, and its slopes."""
        (px, py), (qx, qy) = self.p, self.q
        dx, dy = x[qx] - x[px], x[qy] - x[py]
        far = math.hypot(dx, dy)
        ux, uy = (dx / far, dy / far) if far else (1.0, 0.0)
        return far - self.read, ((px, -ux), (py, -uy), (qx, ux), (qy, uy))


@dataclass(frozen=True)
class Along:
    """A place along a wall, counted from its hook along the reference line."""

    wall: Base
    p: Spot
    read: float
    sd: float

    def misfit(self, x: Array) -> tuple[float, Slopes]:
        """Return along less read, and its slopes."""
        away, unit, _ = _away(x, self.wall, self.p)
        turned = away[0] * -unit[1] + away[1] * unit[0]
        value = away[0] * unit[0] + away[1] * unit[1] - self.read
        return value, _slopes(self.wall, self.p, unit, turned)


@dataclass(frozen=True)
class Out:
    """A point on the face of a wall: as far out of the reference line as the face between its stations.

    face: (index of a station's out, its share).
    """

    wall: Base
    p: Spot
    face: Slopes
    sd: float

    def misfit(self, x: Array) -> tuple[float, Slopes]:
        """Return how far the point lies off the face, and its slopes."""
        away, unit, outward = _away(x, self.wall, self.p)
        turned = away[0] * unit[0] + away[1] * unit[1]
        out = away[0] * outward[0] + away[1] * outward[1]
        value = out - sum(share * x[k] for k, share in self.face)
        own = tuple((k, -share) for k, share in self.face)
        return value, (*_slopes(self.wall, self.p, outward, turned), *own)


@dataclass(frozen=True)
class Gap:
    """A gap from a line to the face at a station: line = offset + lean * along; `out` is None at the hook."""

    offset: int
    lean: int | None
    out: int | None
    along: float
    read: float
    sd: float

    def misfit(self, x: Array) -> tuple[float, Slopes]:
        """Return gap less read, and its slopes."""
        value = x[self.offset] - self.read
        slopes = [(self.offset, 1.0)]
        if self.lean is not None:
            value += x[self.lean] * self.along
            slopes.append((self.lean, self.along))
        if self.out is not None:
            value -= x[self.out]
            slopes.append((self.out, -1.0))
        return value, tuple(slopes)


@dataclass(frozen=True)
class Bend:
    """The room-side angle between the reference lines of two walls (rad)."""

    left: int
    right: int
    read: float
    sd: float

    def misfit(self, x: Array) -> tuple[float, Slopes]:
        """Return angle less read, and its slopes."""
        value = _wrapped(math.pi + x[self.right] - x[self.left] - self.read)
        return value, ((self.right, 1.0), (self.left, -1.0))


@dataclass(frozen=True)
class Opened:
    """The room-side angle at a corner between a point on the left face and one on the right (rad)."""

    corner: Spot
    left: Spot
    right: Spot
    read: float
    sd: float

    def misfit(self, x: Array) -> tuple[float, Slopes]:
        """Return angle less read, and its slopes."""
        to_left, left = _bearing(x, self.corner, self.left, -1.0)
        to_right, right = _bearing(x, self.corner, self.right, 1.0)
        return _wrapped(to_right - to_left - self.read), (*left, *right)


@dataclass(frozen=True)
class Rise:
    """A difference of height between two places; None for the datum."""

    low: int | None
    high: int | None
    read: float
    sd: float

    def misfit(self, x: Array) -> tuple[float, Slopes]:
        """Return rise less read, and its slopes."""
        low, high = (0.0 if k is None else float(x[k]) for k in (self.low, self.high))
        ends = ((self.low, -1.0), (self.high, 1.0))
        return high - low - self.read, tuple((k, sign) for k, sign in ends if k is not None)


def _away(
    x: Array, wall: Base, p: Spot
) -> tuple[tuple[float, float], tuple[float, float], tuple[float, float]]:
    """From the hook to the point, the wall's direction, and the way out of it into the room (to its right)."""
    c, s = math.cos(x[wall[2]]), math.sin(x[wall[2]])
    return (float(x[p[0]] - x[wall[0]]), float(x[p[1]] - x[wall[1]])), (c, s), (s, -c)


def _slopes(wall: Base, p: Spot, unit: tuple[float, float], turned: float) -> Slopes:
    (ux, uy), (ox, oy, turn) = unit, wall
    return ((p[0], ux), (p[1], uy), (ox, -ux), (oy, -uy), (turn, turned))


def _bearing(x: Array, at: Spot, to: Spot, sign: float) -> tuple[float, Slopes]:
    dx, dy = float(x[to[0]] - x[at[0]]), float(x[to[1]] - x[at[1]])
    square = dx * dx + dy * dy
    ax, ay = -dy / square * sign, dx / square * sign
    return math.atan2(dy, dx), ((to[0], ax), (to[1], ay), (at[0], -ax), (at[1], -ay))


def _wrapped(angle: float) -> float:
    return math.remainder(angle, 2 * math.pi)
