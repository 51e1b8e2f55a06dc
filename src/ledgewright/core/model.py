"""What stands between the skins, and what stays hollow."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ledgewright.plane import Point, Ring

Kind = Literal["back strip", "front strip", "end strip", "rib", "block"]


@dataclass(frozen=True)
class Piece:
    """One piece of core: where it stands in the plan, its length along the grain and its width (mm)."""

    id: str
    kind: Kind
    plan: Ring
    length: float
    width: float


@dataclass(frozen=True)
class KeepOut:
    """Where no screw and no glue may go: the plan of a light groove or of a cable way.

    of: the wall it lies along or leaves by. through: no wood stands there either, because it runs at the height
    of the core.
    """

    kind: Literal["light groove", "cable way"]
    of: str
    plan: Ring
    through: bool


@dataclass(frozen=True)
class LockAt:
    """Where a lock is at a rod, in the plan at home.

    lost: why nothing holds there, in words; empty where it holds. groove: how deep a light groove is cut into the
    bottom skin there (mm). from_tip: from the tip of the rod to the middle of the flat that it bears on (mm), filed
    before the rod is set; 0 where it bears on none. instead: what can be done where it is lost.
    """

    rod: str
    at: Point
    lost: str = ""
    groove: float = 0.0
    from_tip: float = 0.0
    instead: str = "lock another rod, or move what it meets"

    @property
    def clear(self) -> bool:
        """Whether it is on its rod, clear of every keep-out and other channel."""
        return not self.lost and self.groove == 0.0


@dataclass(frozen=True)
class Flat:
    """A flat filed on a rod before it is set: from the rod's tip to the flat's middle (mm)."""

    rod: str
    from_tip: float


@dataclass(frozen=True)
class Span:
    """How far a skin runs between supports at one place (mm), and what lies either side.

    At each place the shorter of the two ways counts, along the leg or across it.
    """

    between: tuple[str, str]
    length: float


@dataclass(frozen=True)
class Core:
    """The core of one section. `short` says in words where a span is over the limit or a strip is broken.

    glue_area: both faces of every piece (mm2).
    """

    pieces: tuple[Piece, ...]
    hollows: tuple[Ring, ...]
    spans: tuple[Span, ...]
    longest_span: float
    glue_area: float
    ribs_cut: int
    short: tuple[str, ...]
    keep_outs: tuple[KeepOut, ...] = ()
    locks: tuple[LockAt, ...] = ()

    @property
    def flats(self) -> tuple[Flat, ...]:
        """The flats that its locks bear on, as they are filed where it is the core as drawn."""
        return tuple(Flat(at.rod, at.from_tip) for at in self.locks if at.from_tip and not at.lost)
