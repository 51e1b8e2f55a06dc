"""Whether the shelves of one job leave room for one another, in the air and in the wood."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations

from shapely.geometry import Polygon

from ledgewright.layout.beside import BESIDE
from ledgewright.layout.model import Frame, Rod
from ledgewright.plane import Vec3

DEEP = 1.0
"""Two shelves overlap by more than this (mm)."""
APART = 5.0
"""Least distance between two holes along the grain of one member, as a multiple of the rod (EN 1995-1-1 T8.5: 5 d along
the grain; NDS T12.5.1B asks 4D; both from memory)."""

PARALLEL = 1e-12
"""Square of the sine under which two lines count as parallel."""


def clashes(frames: Sequence[Frame]) -> tuple[tuple[str, str], ...]:
    """Return which shelves stand in each other's place, bore one member too close together, or bore into a hole.

    Args:
        frames: the shelves of a job at home; the sections of one shelf may meet.

    Returns:
        For each clash the later shelf's id and the reason in plain words.
    """
    found: list[tuple[str, str]] = []
    for one, other in combinations(frames, 2):
        if _overlap(one, other):
            found.append(
                (other.shelf, f"Shelf {other.shelf} would stand where shelf {one.shelf} is.")
            )
        found += [(other.shelf, why) for why in _holes(one, other)]
    return (*found, *_round_the_corner(frames))


def _overlap(one: Frame, other: Frame) -> bool:
    if max(one.band[0], other.band[0]) >= min(one.band[1], other.band[1]):
        return False
    home = Polygon(one.outline).buffer(-DEEP)
    return bool(home.intersects(Polygon(other.outline).buffer(-DEEP)))


def _holes(one: Frame, other: Frame) -> list[str]:
    return [
        f"Rod {b.mark} of shelf {other.shelf} and rod {a.mark} of shelf {one.shelf} go into one member closer "
        f"together than {APART:g} times their thickness: the wood between the holes may split out. Move one "
        "shelf up or down, or leave one of the rods out."
        for a in one.rods
        for b in other.rods
        if (a.wall, a.member) == (b.wall, b.member) and _near(a, b)
    ]


def _near(a: Rod, b: Rod) -> bool:
    return math.dist(a.origin, b.origin) < APART * max(a.bar.width, b.bar.width)


def _round_the_corner(frames: Sequence[Frame]) -> list[tuple[str, str]]:
    """Holes bored from two walls into the wood behind their corner; those of one wall are judged along the grain."""
    every = [(frame.shelf, rod) for frame in frames for rod in frame.rods]
    return [
        (shelf, _told(a, b))
        for (_, a), (shelf, b) in combinations(every, 2)
        if a.wall != b.wall and _apart(_hole(a), _hole(b)) < (a.hole + b.hole) / 2 + BESIDE
    ]


def _told(a: Rod, b: Rod) -> str:
    return (
        f"Rods {a.mark} and {b.mark} would be bored into one another behind the corner, or nearly: less than "
        f"{BESIDE:.1f} mm (3/16 in) of wood stays between their holes. Take one of the two out, set it less deep, "
        "or, where they carry two shelves, set one shelf higher."
    )


def _hole(rod: Rod) -> tuple[Vec3, Vec3]:
    """The axis of a hole, from the face of the wood to its end."""
    x, y, z = (at - rod.embedment * by for at, by in zip(rod.origin, rod.axis, strict=True))
    return rod.origin, (x, y, z)


def _apart(one: tuple[Vec3, Vec3], other: tuple[Vec3, Vec3]) -> float:
    """How near two straight stretches come to each other (mm).

    Source: Ericson, Real-Time Collision Detection, 5.1.9 (from memory): either an end of one is nearest, or both are
    nearest inside, where the line between them is square to both.
    """
    ends = [_off(p, other) for p in one] + [_off(p, one) for p in other]
    (p, q), (r, s) = one, other
    u, v, w = _sub(q, p), _sub(s, r), _sub(p, r)
    uu, uv, vv, uw, vw = _dot(u, u), _dot(u, v), _dot(v, v), _dot(u, w), _dot(v, w)
    area = uu * vv - uv * uv
    if area <= PARALLEL * uu * vv:
        return min(ends)
    at, to = (uv * vw - vv * uw) / area, (uu * vw - uv * uw) / area
    inside = 0.0 <= at <= 1.0 and 0.0 <= to <= 1.0
    return math.dist(_on(p, u, at), _on(r, v, to)) if inside else min(ends)


def _off(point: Vec3, stretch: tuple[Vec3, Vec3]) -> float:
    start, end = stretch
    by = _sub(end, start)
    long = _dot(by, by)
    at = _dot(_sub(point, start), by) / long if long > 0.0 else 0.0
    return math.dist(point, _on(start, by, min(1.0, max(0.0, at))))


def _sub(a: Vec3, b: Vec3) -> Vec3:
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def _dot(a: Vec3, b: Vec3) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _on(start: Vec3, by: Vec3, share: float) -> Vec3:
    return (start[0] + by[0] * share, start[1] + by[1] * share, start[2] + by[2] * share)
