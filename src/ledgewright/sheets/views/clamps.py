"""Where the clamps stand while a box is glued: pairs of cauls across it, a clamp at the front and one at the back."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ledgewright import plane
from ledgewright.draw import Circle, Drawing, Item, Polyline, Text, fit
from ledgewright.plane import Point, Ring
from ledgewright.shop import Cauls

CLAMP = 1.5
"""Radius of a clamp on the drawing (mm of paper)."""
INSET = 0.12
"""How far in from the edge a clamp is drawn, of the depth."""


def clamp_view(
    title: str, outline: Ring, cauls: Sequence[Cauls], box: tuple[float, float]
) -> Drawing:
    """Return the clamp map of a section, turned so that the front of its first leg runs level.

    Source: the cauls of the glue-up. No rod and no slot is shown: it is the same wherever they are.

    Args:
        title: of the drawing.
        outline: of the section from above.
        cauls: pairs of cauls of each leg, in order.
        box: width and height of the paper there is (mm).

    Raises:
        TooLarge: if it does not go on the paper at any round scale.
    """
    angle = -_course(cauls[0])
    lines = [tuple(plane.turn(p, angle) for p in line) for each in cauls for line in each.lines]
    ring = tuple(plane.turn(p, angle) for p in outline)

    def items(scale: float) -> list[Item]:
        made: list[Item] = [Polyline("cut", ring, closed=True)]
        for number, (front, back) in zip(clamping_order(len(lines)), lines, strict=True):
            ends = [_between(front, back, share) for share in (INSET, 1 - INSET)]
            made.append(Polyline("seen", (front, back)))
            made += [Circle("mark", end, CLAMP / scale) for end in ends]
            middle = _between(front, back, 0.5)
            made.append(Text(middle, str(number), 3.2, "middle", "middle", bold=True, clear=True))
        return made

    said = "The box from above in its cauls: each line a pair of cauls, each ring a clamp, numbered in clamping order"
    return fit(title, said, items, box)


def clamping_order(count: int) -> tuple[int, ...]:
    """Return the turn of each pair of cauls, from the middle outwards (common practice), so that glue and air get out.

    Args:
        count: pairs, from the left.
    """
    middle = (count - 1) / 2
    turns = sorted(range(count), key=lambda k: (abs(k - middle), k))
    return tuple(turns.index(k) + 1 for k in range(count))


def _course(cauls: Cauls) -> float:
    """The direction of a leg's front, left to right as you face its wall: a caul's line turned by a right angle."""
    front, back = cauls.lines[0]
    inward = plane.sub(back, front)
    return math.atan2(inward[1], inward[0]) - math.pi / 2


def _between(a: Point, b: Point, share: float) -> Point:
    return (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)
