"""Whether the shelves of one job leave room for one another, in the air and in the wood."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations

from shapely.geometry import Polygon

from ledgewright.layout.model import Frame, Rod

DEEP = 1.0
"""Two shelves overlap by more than this (mm)."""
APART = 5.0
"""Least distance between two holes along the grain of one member, as a multiple of the rod (EN 1995-1-1 T8.5: 5 d along
the grain; NDS T12.5.1B asks 4D; both from memory)."""


def clashes(frames: Sequence[Frame]) -> tuple[tuple[str, str], ...]:
    """Return which shelves stand in each other's place or bore one member too close together.

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
    return tuple(found)


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
