"""How far a shelf that turns an outside corner stands past the ends of its walls there."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from ledgewright.job.model import Leg, Spec, TapedCorner


@dataclass(frozen=True)
class Past:
    """How far past the right or the left end of a wall a shelf reaches at the most (mm)."""

    wall: str
    right: bool
    by: float


def past(
    legs: Sequence[Leg], depth: float, more: float, corners: Sequence[TapedCorner]
) -> tuple[Past, ...]:
    """Return how far a shelf reaches past the ends of its two walls at an outside corner; nothing if it turns none.

    Two strips as deep as the legs meet past a corner of the solid's angle t at (other + own cos t) / sin t along
    either wall, at the front; at the back, and on the whole front of a corner wider than square, at less.

    Args:
        legs: of the shelf.
        depth: of the shelf (mm).
        more: so much further (mm): what bows and an angle that is not told may add, or less than 0 for the edging.
        corners: of the job; one whose angle is not told counts as square.
    """
    deep = {leg.wall: leg.deep(depth) for leg in legs}
    return tuple(
        Past(wall, right, _reach(corner, deep[wall], deep[other]) + more)
        for corner in corners
        if corner.turn == "outside" and {corner.left, corner.right} <= set(deep)
        for wall, other, right in (
            (corner.left, corner.right, True),
            (corner.right, corner.left, False),
        )
    )


def of_shelf(spec: Spec, corners: Sequence[TapedCorner]) -> tuple[Past, ...]:
    """Return how far a shelf reaches past the ends of its walls, its edging over and above it.

    Args:
        spec: the shelf.
        corners: of the job.
    """
    return past(spec.legs, spec.depth, spec.edging_thick, corners)


def beyond(found: Iterable[Past], wall: str) -> tuple[float, float]:
    """Return how far past the left and past the right end of a wall a place may lie (mm).

    Args:
        found: of the shelves that the place may be on.
        wall: its id.
    """
    here = [each for each in found if each.wall == wall]
    left, right = (
        max((each.by for each in here if each.right is side), default=0.0) for side in (False, True)
    )
    return left, right


def _reach(corner: TapedCorner, own: float, other: float) -> float:
    told = math.pi / 2 if corner.angle is None else corner.angle
    solid = min(told, 2 * math.pi - told)
    return (other + own * max(0.0, math.cos(solid))) / math.sin(solid)
