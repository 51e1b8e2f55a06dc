"""The room as found: true wall lines, members, corners and obstacles, placed in one plan."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ledgewright import plane
from ledgewright.job import Fixing, Framing, Known, Lost, Told, called
from ledgewright.plane import Line, Point, Ring
from ledgewright.stock import Timber


@dataclass(frozen=True)
class Member:
    """A stud or blocking: edges along the wall, doubt of the centre (mm), and what holds the ends of blocking.

    told: how it was found. lost: why no rod may go into it. depth: from the face to its wood, if measured there.
    twist: how far one edge of its face stands behind the other.
    """

    id: str
    wall: str
    name: str | None
    kind: Literal["stud", "blocking"]
    left: float
    right: float
    up: tuple[float, float] | None
    sd: float
    timber: Timber | None
    fixed: Fixing | None = None
    told: Told = "both edges"
    lost: Lost | None = None
    depth: float | None = None
    twist: float = 0.0

    @property
    def centre(self) -> float:
        """Half way between the edges (mm along)."""
        return (self.left + self.right) / 2

    @property
    def width(self) -> float:
        """Face width (mm)."""
        return self.right - self.left


@dataclass(frozen=True)
class Wall:
    """One wall in the plan.

    origin: plan point of along = 0, out = 0 (where the tape was hooked, on the reference line).
    direction: unit vector of the reference line (the string, laser or straight ledger), left to right.
    line: the true face at shelf height as (along, out), left to right; out is negative in a hollow.
    start, end: the along of its left and right ends. height: from floor to ceiling (mm), None if nobody gave it.
    """

    id: str
    mark: str
    origin: Point
    direction: Point
    start: float
    end: float
    line: Line
    sd: float
    tape_from: Literal["left", "right"]
    framing: Framing
    timber: Timber | None
    depth_to_wood: float | None
    lining: tuple[tuple[str, float], ...]
    members: tuple[Member, ...]
    known: Known
    height: float | None = None

    @property
    def called(self) -> str:
        """What people call it after the word "wall" (see `job.called`)."""
        return called(self.mark, self.id)

    @property
    def outward(self) -> Point:
        """Unit vector out of the wall into the room, square to the reference line."""
        return plane.right(self.direction)

    def at(self, along: float, out: float) -> Point:
        """Return the plan point at wall figures (mm)."""
        return plane.along(plane.along(self.origin, self.direction, along), self.outward, out)

    def figures(self, point: Point) -> Point:
        """Return the wall figures (along, out) of a plan point."""
        away = plane.sub(point, self.origin)
        return (plane.dot(away, self.direction), plane.dot(away, self.outward))

    def face(self, along: float) -> float:
        """Return how far the true face stands out of the reference line (mm, negative in a hollow)."""
        return plane.height_at(self.line, along)

    def to_wood(self, member: Member) -> float:
        """Return how far a member lies behind the face (mm): its own depth if measured, else the wall's, else 0."""
        return self.depth_to_wood or 0.0 if member.depth is None else member.depth

    def taped(self, along: float) -> float:
        """Return the figure a tape hooked at this wall's own end shows (mm)."""
        return -along if self.tape_from == "right" else along


@dataclass(frozen=True)
class Corner:
    """Where two walls meet: the plan point, the angle between the walls on the room side (rad), its doubt."""

    left: str
    right: str
    turn: Literal["inside", "outside"]
    at: Point
    angle: float
    sd: float


@dataclass(frozen=True)
class Obstacle:
    """Something fixed that the shelf must clear: its plan and its heights.

    section: whether it is a section of the shelf itself, which hangs already while the next one goes on.
    """

    id: str
    wall: str
    plan: Ring
    up: tuple[float, float]
    section: bool = False


@dataclass(frozen=True)
class Retake:
    """A figure to take again, in plain words; gross: so far out that nothing can be laid out on it.

    figures: paths of all it may be. slip: by how much it seems to read too much, if it is one alone (mm or rad).
    """

    path: str
    text: str
    gross: bool = False
    figures: tuple[str, ...] = ()
    slip: float | None = None


@dataclass(frozen=True)
class Figure:
    """One figure of the site measure as adjusted.

    part, place: what it belongs to ("triangle 1", "the corner of A and B"). words: which figure of it. read, adjusted:
    mm, or rad for an angle. sd_read, sd: its doubt as read, and once all others are heard. share: how much of a slip
    in it the others show, 0 to 1. finds: the smallest slip found with 80 %; None if none that the eye would miss.
    hides: how far the end of any wall may be shifted by a slip of that size that nobody finds. test: how many
    standard deviations it is off, by its own test. again: it is, or may be, the one to take again.
    """

    path: str
    part: str
    place: str
    words: str
    kind: str
    read: float
    adjusted: float
    sd: float
    sd_read: float
    share: float
    finds: float | None
    hides: float | None
    test: float
    again: bool


@dataclass(frozen=True)
class Whole:
    """The test of all figures of walls that hang together.

    surplus: figures more than needed. total: sum of squared residuals in standard deviations, at most `limit` where
    nothing is wrong (0.001). scatter: found against expected, 1 if just so.
    """

    walls: tuple[str, ...]
    surplus: int
    total: float
    limit: float
    scatter: float
    heights: bool = False


@dataclass(frozen=True)
class More:
    """One tape more that would settle most: straight between two places (wall, along).

    checks: how many figures it would check that nothing checks. holds: without it the walls are not held in place.
    """

    marks: tuple[tuple[str, float], tuple[str, float]]
    checks: int
    holds: bool


@dataclass(frozen=True)
class Height:
    """How high a mark stands above the datum, with its doubt (mm); along is None for one known by a letter."""

    wall: str
    along: float | None
    letter: str | None
    up: float
    sd: float


@dataclass(frozen=True)
class Room:
    """Everything fixed that a shelf meets, and how sure the figures are that say so."""

    walls: tuple[Wall, ...]
    corners: tuple[Corner, ...]
    obstacles: tuple[Obstacle, ...]
    retake: tuple[Retake, ...]
    figures: tuple[Figure, ...] = ()
    wholes: tuple[Whole, ...] = ()
    more: tuple[More, ...] = ()
    heights: tuple[Height, ...] = ()

    def wall(self, name: str) -> Wall:
        """Return the wall of that id.

        Raises:
            KeyError: if there is none.
        """
        for wall in self.walls:
            if wall.id == name:
                return wall
        raise KeyError(name)
