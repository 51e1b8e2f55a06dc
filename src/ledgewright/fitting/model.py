"""How a rigid section gets home: moves, the channels they sweep, the room they need, or what blocks them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ledgewright.plane import Ring

WayKind = Literal["straight", "first-left", "first-right", "diagonal"]


@dataclass(frozen=True)
class Move:
    """One straight move of the section in the plan (mm) with its turn (rad), in the order they are made."""

    dx: float
    dy: float
    turn: float
    note: str


@dataclass(frozen=True)
class Channel:
    """What a rod needs cut for it: plan polygon in the section's frame, and its area (mm2)."""

    rod: str
    plan: Ring
    area: float


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
class Way:
    """One way of fitting; `room_needed` is all the plan that the section sweeps in front of its home.

    id: "first-<wall>" or "diagonal" for an L; "straight" or "straight-aslant" otherwise. moves: nearest to
    the open room first, home last. hold_off: gap kept from the wall it slides along.
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


@dataclass(frozen=True)
class Ways:
    """All ways looked at, best first, and the id of the chosen one (None if nothing goes)."""

    ways: tuple[Way, ...]
    chosen: str | None

    def way(self) -> Way | None:
        """Return the chosen way."""
        return next((w for w in self.ways if w.id == self.chosen), None)
