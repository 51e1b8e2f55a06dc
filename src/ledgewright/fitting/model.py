"""How a rigid section gets home: moves, the channels they sweep, the room they need, or what blocks them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ledgewright.plane import Point, Ring

WayKind = Literal["straight", "first-left", "first-right", "diagonal", "planned", "tilt"]


@dataclass(frozen=True)
class Move:
    """One move of the section in the plan (mm), in the order they are made.

    turn: to the left (rad), at an even rate while the point of the section that is at `about` when it is
    home moves straight by (dx, dy); 0 for a straight move.
    """

    dx: float
    dy: float
    turn: float
    note: str
    about: Point = (0.0, 0.0)


@dataclass(frozen=True)
class Channel:
    """What a rod needs cut for it: plan polygon in the section's frame, and its area (mm2).

    funnel: how much both corners of its mouth are eased (mm, 45 degrees), not counted in the area.
    """

    rod: str
    plan: Ring
    area: float
    funnel: float = 0.0


@dataclass(frozen=True)
class Merged:
    """Channels that run into one another: their rods, the one pocket they make, and its area (mm2)."""

    rods: tuple[str, ...]
    plan: Ring
    area: float


@dataclass(frozen=True)
class Between:
    """What is left between the channels of two rods that are neighbours on a wall (mm); 0 if they merge."""

    rods: tuple[str, str]
    left: float


@dataclass(frozen=True)
class Loss:
    """What a way costs the section: area cut for rods (mm2), its widest channel across (mm)."""

    channel_area: float
    widest: float


@dataclass(frozen=True)
class Block:
    """What stands in the way, at which move, and short by how much (mm).

    move: counted from 1 in the order of the moves; 0 if the home itself is taken, or nothing was tried.
    """

    by: str
    move: int
    short_by: float


@dataclass(frozen=True)
class Thin:
    """Where a channel leaves little wood before it would come out of an edge: the rod, what is left (mm)."""

    rod: str
    left: float


@dataclass(frozen=True)
class Eased:
    """What is taken off the joint face of a section by hand, so that it passes another on its way in (mm).

    by: the section that hangs already. off: (out from the back along the face, how much comes off there) from back to
    front, straight between; so much stays open in the joint.
    """

    by: str
    off: tuple[Point, ...]

    @property
    def deepest(self) -> float:
        """The most that comes off anywhere (mm)."""
        return max(deep for _, deep in self.off)


@dataclass(frozen=True)
class Way:
    """One way of fitting; `room_needed` is all the plan that the section sweeps in front of its home, but for
    strips under 1 mm; with its home where it would otherwise be more than one piece.

    id: "first-<wall>" or "diagonal" for an L; "straight", "straight-aslant" or "straight-joint" otherwise; "planned"
    where a search found a better one, "tilt" with a turn in the plan. moves: nearest to the open room first, home
    last. hold_off: gap kept from the wall it slides along. guided: every move that cuts follows the rods of
    a wall, or is as short as half an inch; otherwise it is held by eye. scribe_hold_off: gap held parallel
    while a tight back is marked on the rods; slot_longer: by how much each slot, from the back edge of the
    blank, must then be longer than the stick-out. Both 0 if nothing is scribed. eased: what comes off joint faces for
    it to go; only then is it possible. notes: what else to know.
    """

    id: str
    kind: WayKind
    possible: bool
    moves: tuple[Move, ...]
    hold_off: float
    channels: tuple[Channel, ...]
    room_needed: Ring
    loss: Loss
    blocked: tuple[Block, ...]
    thin: tuple[Thin, ...] = ()
    guided: bool = True
    merged: tuple[Merged, ...] = ()
    between: tuple[Between, ...] = ()
    scribe_hold_off: float = 0.0
    slot_longer: float = 0.0
    notes: tuple[str, ...] = ()
    eased: tuple[Eased, ...] = ()


@dataclass(frozen=True)
class Ways:
    """All ways looked at, best first, and the id of the chosen one (None if nothing goes).

    searched: how many paths of up to three straight moves were looked at besides the classic ones.
    """

    ways: tuple[Way, ...]
    chosen: str | None
    searched: int = 0

    def way(self) -> Way | None:
        """Return the chosen way."""
        return next((w for w in self.ways if w.id == self.chosen), None)
