"""The shelf laid against the walls: outline, blank, scribe, rods, slots."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ledgewright import plane
from ledgewright.job import Clearance, Ends, called
from ledgewright.plane import Line, Point, Ring, Vec3
from ledgewright.stock import Adhesive, Bar

End = Literal["free", "wall", "corner", "joint"]
Turn = Literal["inside", "outside"]


class LayoutError(ValueError):
    """A shelf that cannot be laid against these walls: each reason in plain words, and the path of the shelf."""

    def __init__(self, *reasons: str, path: str = "") -> None:
        super().__init__(" ".join(reasons))
        self.reasons = reasons
        self.path = path


@dataclass(frozen=True)
class Rod:
    """One rod, as drawn or as set.

    origin: where its axis leaves the wood, in plan and height above the datum.
    axis: unit vector out of the wall. `free` runs from the wood to the finished face, `projection` from
    there to the tip, `embedment` from the wood inwards. `mark` is the letter of the wall and a number
    counted from the end the tape was hooked on.
    """

    id: str
    mark: str
    wall: str
    member: str
    bar: Bar
    origin: Vec3
    axis: Vec3
    embedment: float
    free: float
    projection: float
    hole: float
    adhesive: Adhesive
    clearance: Clearance
    in_slot: Literal["dry", "glued"]

    @property
    def cut_length(self) -> float:
        """Length to saw (mm)."""
        return self.embedment + self.free + self.projection

    def point(self, from_wood: float) -> Point:
        """Return the plan point of the axis at a distance from the wood (mm, negative inside it)."""
        return (
            self.origin[0] + self.axis[0] * from_wood,
            self.origin[1] + self.axis[1] * from_wood,
        )


@dataclass(frozen=True)
class Slot:
    """The pocket of one rod at home: plan outline inside the shelf, and how deep it runs from the back edge."""

    rod: str
    plan: Ring
    depth: float
    width: float


@dataclass(frozen=True)
class Station:
    """How much the blank loses at one place along a wall (mm), never negative."""

    wall: str
    along: float
    remove: float


@dataclass(frozen=True)
class EndFit:
    """How one end of a shelf meets the wall beside it: how far it stands off, or how wide the filler strip is (mm).

    side: as you face the leg's wall. how: "caulk" cut square, "filler" with a strip, "tight" scribed to it.
    """

    wall: str
    side: Literal["left", "right"]
    beside: str
    how: Ends
    back: float
    front: float


@dataclass(frozen=True)
class LegAt:
    """One leg in the plan: its true back line and its straight front line, both left to right.

    Each end is free, or meets a wall, the other leg at the corner, or another section at a joint. start, end:
    between which alongs it stands: the ends of its back line, but at an outside corner of its front line.
    `band` is the wall figure (out) of the straight line through the proudest point of the wall on this leg,
    from which depth is counted. `mark` is the letter of the wall.
    """

    wall: str
    start: float
    end: float
    back: Line
    front: tuple[Point, Point]
    left_end: End
    right_end: End
    band: float
    depth: float
    mark: str = ""

    @property
    def called(self) -> str:
        """What people call its wall after the word "wall" (see `job.called`)."""
        return called(self.mark, self.wall) if self.mark else self.wall


@dataclass(frozen=True)
class Frame:
    """One section at home in the plan; the section's own frame is the plan itself, moved by the fitting.

    outline: finished plan. blank: plan before scribing. rods: all that carry it, in wall order and from
    left to right. first: the wall whose rods it goes onto first; the other wall's rods lie parallel to the
    reference line of that wall. notes: in plain words what the carpenter should know of it.
    """

    shelf: str
    outline: Ring
    blank: Ring
    legs: tuple[LegAt, ...]
    scribe: tuple[Station, ...]
    rods: tuple[Rod, ...]
    slots: tuple[Slot, ...]
    top: float
    thick: float
    first: str
    notes: tuple[str, ...] = ()
    nose_up: float = 0.0

    @property
    def band(self) -> tuple[float, float]:
        """The heights between which it stands: its underside, its top or its front edge if that is set higher (mm)."""
        return (self.top - self.thick, self.top + max(0.0, self.nose_up))

    @property
    def turn(self) -> Turn | None:
        """Which way it turns its corner; None if it is straight."""
        if len(self.legs) < 2:
            return None
        left, right = (plane.sub(leg.front[1], leg.front[0]) for leg in self.legs)
        return "inside" if plane.cross(left, right) < 0 else "outside"
