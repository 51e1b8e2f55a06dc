"""Where the rods sit under a shelf: per leg, along the wall, with the edges of the shelf over each."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ledgewright import plane
from ledgewright.layout import Frame, LegAt, Rod, beside
from ledgewright.statics.inputs import Inputs
from ledgewright.survey import Member, Room, Wall


@dataclass(frozen=True)
class Seat:
    """One rod in its member.

    x: along the wall where it carries. back, front: from the wood to the shelf's edges (mm).
    """

    rod: Rod
    wall: Wall
    member: Member
    x: float
    back: float
    front: float

    @property
    def depth(self) -> float:
        """Depth of the shelf over this rod (mm)."""
        return self.front - self.back

    @property
    def tip(self) -> float:
        """From the wood to the rod's tip (mm)."""
        return self.rod.free + self.rod.projection

    @property
    def across(self) -> bool:
        """Whether the load presses across the grain: in blocking, not in a stud."""
        return self.member.kind == "blocking"

    @property
    def edges(self) -> tuple[float, float] | None:
        """From the rod's centre to the loaded and to the other edge of its member (mm); None if not known.

        Where its hole has less wood: as it enters, or at its end.
        """
        wood = beside(self.wall, self.member, self.rod)
        if not self.across:
            return wood.side, wood.side
        return None if wood.below is None or wood.above is None else (wood.below, wood.above)


@dataclass(frozen=True)
class Row:
    """The seats of one leg from left to right, the alongs it spans, and where its front edge runs (mm).

    A strip over the whole shelf counts from `low` to `high` here: the corner square of an L belongs to the left
    leg, so the right one starts at the left one's front line.
    """

    leg: LegAt
    seats: tuple[Seat, ...]
    low: float
    high: float
    front: tuple[float, float]

    def spacing(self, index: int, *, left: bool) -> float | None:
        """Return the distance to a neighbour (mm, never less than 1); None if there is none on that side."""
        other = index - 1 if left else index + 1
        if not 0 <= other < len(self.seats):
            return None
        return max(abs(self.seats[other].x - self.seats[index].x), 1.0)


def rows(room: Room, frame: Frame, inputs: Inputs) -> tuple[Row, ...]:
    """Return the rods of every leg, as the loads find them.

    Raises:
        KeyError: if a rod names a wall or a member that is not there.
        ValueError: if a rod runs along the front edge.
    """
    made = []
    for index, leg in enumerate(frame.legs):
        wall = room.wall(leg.wall)
        seats = sorted(
            (_seat(frame, leg, wall, rod, inputs) for rod in frame.rods if rod.wall == leg.wall),
            key=lambda seat: seat.x,
        )
        edge = sorted(wall.figures(p)[0] for p in leg.front)
        low = leg.start
        if index > 0 and leg.left_end == "corner":
            low = max(low, _front_line(frame.legs[index - 1], leg, wall))
        made.append(Row(leg, tuple(seats), low, leg.end, (edge[0], edge[1])))
    return tuple(made)


def _front_line(left: LegAt, right: LegAt, wall: Wall) -> float:
    """The least along, on the right leg's wall, of the left leg's front line within the right leg's depth."""
    a, b = left.front
    edges = (right.band, right.band + right.depth)
    meets = [
        plane.meet(a, plane.sub(b, a), wall.at(right.start, out), wall.direction) for out in edges
    ]
    return min((wall.figures(p)[0] for p in meets if p is not None), default=right.start)


def _seat(frame: Frame, leg: LegAt, wall: Wall, rod: Rod, inputs: Inputs) -> Seat:
    bar = replace(rod.bar, E=rod.bar.E * inputs.steel, Fy=rod.bar.Fy * inputs.strength)
    rod = replace(rod, bar=bar, embedment=rod.embedment + inputs.embedment)
    member = next((m for m in wall.members if m.id == rod.member), None)
    if member is None:
        raise KeyError(rod.member)
    front = _distance(rod, leg.front)
    back = next(
        (
            rod.free + rod.projection + rod.clearance.end - s.depth
            for s in frame.slots
            if s.rod == rod.id
        ),
        rod.free,
    )
    x, _ = wall.figures(rod.point((back + front) / 2))
    return Seat(rod, wall, member, x, back, front)


def _distance(rod: Rod, front: tuple[plane.Point, plane.Point]) -> float:
    axis = (rod.axis[0], rod.axis[1])
    start = rod.point(0.0)
    met = plane.meet(start, axis, front[0], plane.sub(front[1], front[0]))
    if met is None:
        msg = f"rod {rod.id} runs along the front edge"
        raise ValueError(msg)
    return plane.dot(plane.sub(met, start), axis)
