"""How much wood there is beside the hole of a rod."""

from __future__ import annotations

from dataclasses import dataclass

from ledgewright.layout.model import Rod
from ledgewright.survey import Member, Wall

BESIDE = 4.7625
"""So much sound wood stays on either side of a hole, all the way in (mm, 3/16 in; our choice)."""


@dataclass(frozen=True)
class Beside:
    """From the axis of a rod to the edges of its member, at the end of its hole that has less wood (mm).

    side: to the nearer of left and right. below, above: None if nobody has said how far up and down the member goes.
    """

    side: float
    below: float | None
    above: float | None


def beside(wall: Wall, member: Member, rod: Rod) -> Beside:
    """Return the wood beside a rod where it enters its member and at the end of its hole, whichever is less.

    A rod may lean, to a side or up and down, so its hole comes nearer to an edge the deeper it is.

    Args:
        wall: the rod's.
        member: the stud or blocking it is in.
        rod: as drawn, or as set.
    """
    ends = (0.0, -rod.embedment)
    alongs = [wall.figures(rod.point(at))[0] for at in ends]
    side = min(min(s - member.left, member.right - s) for s in alongs)
    if member.up is None:
        return Beside(side, None, None)
    low, high = member.up
    heights = [rod.origin[2] + rod.axis[2] * at for at in ends]
    return Beside(side, min(z - low for z in heights), min(high - z for z in heights))
