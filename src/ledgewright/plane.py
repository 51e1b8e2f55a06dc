"""Points, vectors and rings in the plan, shared by every room; knows no shelf and no wall.

A `Ring` is a closed polygon without a repeated last point, counter-clockwise unless said otherwise.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

Point = tuple[float, float]
Vec3 = tuple[float, float, float]
Ring = tuple[Point, ...]
Line = tuple[Point, ...]


def add(a: Point, b: Point) -> Point:
    """Return a + b."""
    return (a[0] + b[0], a[1] + b[1])


def sub(a: Point, b: Point) -> Point:
    """Return a - b."""
    return (a[0] - b[0], a[1] - b[1])


def scale(a: Point, k: float) -> Point:
    """Return k a."""
    return (a[0] * k, a[1] * k)


def along(origin: Point, direction: Point, distance: float) -> Point:
    """Return the point at `distance` from `origin` in the unit `direction`."""
    return (origin[0] + direction[0] * distance, origin[1] + direction[1] * distance)


def dot(a: Point, b: Point) -> float:
    """Return the scalar product."""
    return a[0] * b[0] + a[1] * b[1]


def cross(a: Point, b: Point) -> float:
    """Return the z part of the vector product; positive if b lies to the left of a."""
    return a[0] * b[1] - a[1] * b[0]


def length(a: Point) -> float:
    """Return the length of a vector."""
    return math.hypot(a[0], a[1])


def unit(a: Point) -> Point:
    """Return the vector of length one in the direction of a.

    Raises:
        ValueError: if a is shorter than 1e-12.
    """
    size = length(a)
    if size < 1e-12:
        msg = "a vector of no length has no direction"
        raise ValueError(msg)
    return (a[0] / size, a[1] / size)


def left(a: Point) -> Point:
    """Return a turned a quarter to the left."""
    return (-a[1], a[0])


def right(a: Point) -> Point:
    """Return a turned a quarter to the right."""
    return (a[1], -a[0])


def turn(a: Point, angle: float) -> Point:
    """Return a turned to the left by `angle` (rad)."""
    c, s = math.cos(angle), math.sin(angle)
    return (c * a[0] - s * a[1], s * a[0] + c * a[1])


def meet(p: Point, u: Point, q: Point, v: Point) -> Point | None:
    """Return where the line through p along u meets the line through q along v; None if parallel."""
    bend = cross(u, v)
    if abs(bend) < 1e-12 * length(u) * length(v):
        return None
    return add(p, scale(u, cross(sub(q, p), v) / bend))


def area(ring: Sequence[Point]) -> float:
    """Return the signed area of a ring, positive if counter-clockwise."""
    return sum(cross(a, b) for a, b in pairwise([*ring, ring[0]])) / 2


def centroid(ring: Sequence[Point]) -> Point:
    """Return the centre of area of a ring."""
    base = ring[0]
    moved = [sub(p, base) for p in ring]
    pairs = list(pairwise([*moved, moved[0]]))
    whole = sum(cross(a, b) for a, b in pairs)
    x = sum((a[0] + b[0]) * cross(a, b) for a, b in pairs) / (3 * whole)
    y = sum((a[1] + b[1]) * cross(a, b) for a, b in pairs) / (3 * whole)
    return add(base, (x, y))


def ccw(ring: Sequence[Point]) -> Ring:
    """Return the ring counter-clockwise."""
    return tuple(ring) if area(ring) >= 0 else tuple(reversed(ring))


def shift(ring: Sequence[Point], by: Point) -> Ring:
    """Return the ring moved by a vector."""
    return tuple(add(p, by) for p in ring)


def hull(points: Sequence[Point]) -> Ring:
    """Return the convex hull, counter-clockwise (Andrew's monotone chain)."""
    ordered = sorted(set(points))
    if len(ordered) < 3:
        return tuple(ordered)

    def half(these: Sequence[Point]) -> list[Point]:
        chain: list[Point] = []
        for p in these:
            while len(chain) > 1 and cross(sub(chain[-1], chain[-2]), sub(p, chain[-2])) <= 0:
                chain.pop()
            chain.append(p)
        return chain[:-1]

    return tuple(half(ordered) + half(ordered[::-1]))


def box(ring: Sequence[Point]) -> tuple[float, float, float, float]:
    """Return least x, least y, greatest x, greatest y."""
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    return (min(xs), min(ys), max(xs), max(ys))


def height_at(line: Sequence[Point], x: float) -> float:
    """Return the ordinate of a line with rising abscissas at x, carried on level past its ends."""
    if x <= line[0][0]:
        return line[0][1]
    for (x0, y0), (x1, y1) in pairwise(line):
        if x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    return line[-1][1]


def rigid_fit(these: Sequence[Point], those: Sequence[Point]) -> tuple[float, Point]:
    """Return the turn (rad, to the left, about the origin) and the shift that bring points nearest to others.

    Least squares: Kabsch, Acta Cryst. A32 (1976) 922, in the plane, where the turn is atan2 of the sums of cross and
    scalar products about the centres (derived). A turn and never a mirror image (det = +1). First turn, then shift.

    Args:
        these: points (mm), at least two apart from each other.
        those: where each of them belongs, in the same order.

    Raises:
        ValueError: if the two differ in number, or nothing tells a turn.
    """
    count = len(these)
    if count != len(those) or count < 2:
        msg = f"{count} points cannot be laid on {len(those)}"
        raise ValueError(msg)
    a, b = (scale((sum(p[0] for p in s), sum(p[1] for p in s)), 1 / count) for s in (these, those))
    pairs = [(sub(p, a), sub(q, b)) for p, q in zip(these, those, strict=True)]
    aside, ahead = sum(cross(p, q) for p, q in pairs), sum(dot(p, q) for p, q in pairs)
    if math.hypot(aside, ahead) < 1e-12:
        msg = "points that lie in one place, or as a mirror image, tell no turn"
        raise ValueError(msg)
    angle = math.atan2(aside, ahead)
    return angle, sub(b, turn(a, angle))
