"""Rods as they were set, and slots cut before anybody read them: which find theirs, which miss by how much."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from ledgewright import plane
from ledgewright.fitting.heights import lift
from ledgewright.fitting.model import Block, Ways
from ledgewright.fitting.pose import HOME, Pose
from ledgewright.layout import Frame, Rod, Slot
from ledgewright.plane import Point

Side = Literal["left", "right", "end"]
Place = Literal["mouth", "tip"]

TOUCHES = 0.01
"""A rod that misses its slot by less than this only touches (mm)."""


@dataclass(frozen=True)
class Miss:
    """A side of a slot as cut that a rod as set needs further out, at its mouth or at its tip (mm).

    side: as you face the wall; "end" where the rod is too long.
    """

    rod: str
    mark: str
    side: Side
    at: Place
    by: float


def misses(drawn: Frame, real: Frame, pose: Pose = HOME) -> tuple[Miss, ...]:
    """Return where rods as set do not fit into the slots that were cut for them as drawn.

    The slot of a rod at home is its own rectangle, wider by the side clearance and longer by the end clearance; on
    straight moves a rod that lies in it at home lies in its channel all the way (the channel is that rectangle, swept).

    Args:
        drawn: the section with its slots and the rods they were cut for.
        real: the same with the rods as set.
        pose: where the section really hangs, from home.
    """
    slots = {slot.rod: slot for slot in drawn.slots}
    return tuple(
        miss
        for rod, stands in zip(drawn.rods, real.rods, strict=True)
        for miss in _misses(rod, slots[rod.id], stands, pose)
    )


def _misses(drawn: Rod, slot: Slot, real: Rod, pose: Pose) -> list[Miss]:
    axis = plane.unit((drawn.axis[0], drawn.axis[1]))
    start = drawn.point(0.0)

    def seen(point: Point) -> Point:
        """A point as (out from the wood along the drawn axis, to its left)."""
        away = plane.sub(pose.back(point), start)
        return (plane.dot(away, axis), plane.cross(axis, away))

    end = drawn.free + drawn.projection + drawn.clearance.end
    mouth, most = end - slot.depth, drawn.bar.width / 2 + drawn.clearance.side
    found: list[Miss] = []
    past = 0.0
    across = plane.left(plane.unit((real.axis[0], real.axis[1])))
    # Facing the wall, what lies to the left of an axis that points at you is on your right.
    sides: tuple[tuple[float, Side], ...] = ((1.0, "right"), (-1.0, "left"))
    for sign, side in sides:
        off = plane.scale(across, sign * real.bar.width / 2)
        a, b = (
            seen(plane.add(real.point(d), off)) for d in (real.free, real.free + real.projection)
        )
        at_mouth = a[1] + (b[1] - a[1]) * (mouth - a[0]) / (b[0] - a[0])
        places: tuple[tuple[Place, float], ...] = (("mouth", at_mouth), ("tip", b[1]))
        found += [
            Miss(drawn.id, drawn.mark, side, at, sign * y - most)
            for at, y in places
            if sign * y - most > TOUCHES
        ]
        past = max(past, b[0] - end)
    if past > TOUCHES:
        found.append(Miss(drawn.id, drawn.mark, "end", "tip", past))
    return found


def as_cut(drawn: Frame, real: Frame, ways: Ways) -> Ways:
    """Return the chosen way of a section whose slots were cut for rods as drawn, tried with the rods as set.

    Args:
        drawn: the section with the rods its slots were cut for.
        real: the same with the rods as set.
        ways: all ways, with the rods as drawn.

    Returns:
        The one way it was cut for, with what blocks it; all of `ways` where none was chosen.
    """
    way = ways.way()
    if way is None:
        return ways
    high = lift(real)
    missed = misses(drawn, real)
    blocks = (*high.blocks, *_blocks(missed))
    tried = replace(
        way, possible=not blocks, blocked=blocks, notes=(*way.notes, *high.notes, *eased(missed))
    )
    return Ways((tried,), None if blocks else tried.id, ways.searched)


def _blocks(missed: Sequence[Miss]) -> list[Block]:
    worst: dict[str, float] = {}
    for miss in missed:
        worst[miss.mark] = max(worst.get(miss.mark, 0.0), miss.by)
    return [Block(f"rod {mark} as set misses its slot as cut", 0, by) for mark, by in worst.items()]


def eased(missed: Sequence[Miss]) -> tuple[str, ...]:
    """Return in words which slot to ease, where and by how much.

    Args:
        missed: where rods as set do not fit.
    """
    return tuple(
        f"Ease the slot of rod {m.mark} by {m.by:.1f} mm "
        + ("at its end." if m.side == "end" else f"on its {m.side} side at the {m.at}.")
        for m in missed
    )
