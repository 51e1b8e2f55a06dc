"""What a search over designs asks for and finds; everything frozen, in mm, kg and hours."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from ledgewright.job import Edit, Vary
from ledgewright.statics import Place

State = Literal["passes", "fails", "cannot say", "cannot be built", "set aside"]
"""Set aside: not judged in full, since another that passes is better whatever would come of it, or since it fails at
a first look."""
Tag = Literal["cheapest", "stiffest", "least drilling", "balanced"]
Question = Literal[
    "thinner bar",
    "thicker bar",
    "square bar",
    "round bar",
    "other steel",
    "every member",
    "every other member",
    "other adhesive",
    "thinner skins",
    "thicker skins",
    "other panel",
    "deeper",
    "shallower",
    "glued",
    "dry",
    "closer ribs",
    "two sections",
    "one section",
    "one rod fewer",
]


@dataclass(frozen=True)
class Wanted:
    """One shelf as a search would have it; everything else stays as the job says.

    bar: catalogue name. ring: hole less bar, across (mm). members: of each wall, those with rods. embedment: of the
    rods without one of their own (mm). play: core less bar (mm). longer: how much further every rod sticks out than in
    the job (mm). skins: panel of both; None as in the job. core: timber, strip, rib and widest hollow (mm).
    sections, first: rigid parts, and the wall whose rods it goes onto first ("" if that is worked out).
    """

    bar: str
    ring: float
    members: tuple[tuple[str, tuple[str, ...]], ...]
    embedment: float
    adhesive: str
    in_slot: Literal["dry", "glued"]
    play: float
    longer: float
    skins: str | None
    core: tuple[str, float, float, float]
    sections: int
    first: str

    @property
    def holes(self) -> int:
        """How many rods it has."""
        return sum(len(ids) for _, ids in self.members)


@dataclass(frozen=True)
class Change:
    """One thing that differs from the job: which, on which wall ("" if on none), and what it is now."""

    axis: Vary
    wall: str
    now: str | float | tuple[str, ...] | tuple[str, float, float, float] | tuple[int, str] | None


@dataclass(frozen=True)
class Figures:
    """What designs are compared by; drops of the section that drops furthest.

    price: of the whole job with sheets counted by area, None where there is none; so are hours. mass: of the shelf
    without rods (kg). holes: rods of the shelf.
    """

    price: float | None
    drop_today: float
    drop_long: float
    mass: float
    hours: float
    holes: int


@dataclass(frozen=True)
class Governs:
    """The row of checks that comes nearest to its capacity, or goes furthest past it."""

    id: str
    family: str
    title: str
    ratio: float
    place: Place | None


@dataclass(frozen=True)
class Tried:
    """One design, made by edits of the job file, read and judged in full unless it is set aside.

    figures are None where it cannot be built, is set aside, or nothing can be said of its drop. killed: kinds of check
    that fail or cannot be said, "fitting" where nothing goes on; codes of the reading where it cannot be built. silent:
    those of them that only cannot be said. why: the first reason in words. missing: prices without which it has none.
    """

    wanted: Wanted
    changes: tuple[Change, ...]
    edits: tuple[Edit, ...]
    state: State
    figures: Figures | None
    governs: Governs | None
    killed: tuple[str, ...]
    silent: tuple[str, ...]
    why: str
    missing: tuple[str, ...]

    @property
    def worst(self) -> float:
        """Demand over capacity where it is greatest; infinite where that is not known."""
        return float("inf") if self.governs is None else self.governs.ratio


@dataclass(frozen=True)
class Step:
    """A design with one thing made a step weaker, and what that breaks; inside: whether it could be chosen itself."""

    question: Question
    tried: Tried
    inside: bool = True


@dataclass(frozen=True)
class Carries:
    """What a design may carry on every length (N/mm), and the row that stops it; even None: `why` there is no limit.

    place: of that row. Of a shelf in sections it is the one that carries least.
    """

    even: float | None
    title: str = ""
    place: Place | None = None
    why: str = ""


@dataclass(frozen=True)
class Choice:
    """A design that no other beats; k counts from 1, the cheapest first, else the stiffest.

    carries: its load limit; None where that was not worked out.
    """

    k: int
    tags: tuple[Tag, ...]
    tried: Tried
    steps: tuple[Step, ...]
    carries: Carries | None = None


@dataclass(frozen=True)
class WhatIf:
    """The job as it is with one thing changed, as a carpenter would ask it."""

    question: Question
    tried: Tried


Kind = Literal[
    "as it is", "a lock", "other skins", "drop limits", "shallower shelf", "less load", "moved"
]
"""What a door gives up, or adds."""


@dataclass(frozen=True)
class Door:
    """What would let a shelf pass where nothing in the space does: tried, and it passes.

    kind: what is given up. accepted: kinds of check an engineer would have to accept as well; nobody can write that
    letter but the engineer, so it is in no edit.
    """

    kind: Kind
    edits: tuple[Edit, ...]
    accepted: tuple[str, ...]
    figures: Figures | None


@dataclass(frozen=True)
class Nothing:
    """Why nothing passes: what share of the designs each kind of check kills, most first; and what opens the door.

    unsaid: of what share a kind of check cannot be said, as for want of an engineer's acceptance.
    """

    killed_by: tuple[tuple[str, float], ...]
    unsaid: tuple[tuple[str, float], ...]
    nearest: Tried | None
    doors: tuple[Door, ...]


@dataclass(frozen=True)
class Choices:
    """All that a search found for one shelf of a job.

    size: designs in the space. tried: built, or refused by the reading. built: judged in full, or set aside. aside: of
    these, not judged in full: beaten or dropping too far whatever else their checks say, or failing at a first look.
    passed: of those judged in full. complete: whether all of the space was looked at. stopped: whether somebody ended
    it. all: every design that was judged in full within the space. unpriced: bars, panels and adhesives left out
    because the price file has no price for them. unpriced_job: prices without which the job has no price at all; then
    price is not compared.
    """

    shelf: str
    seed: int
    size: int
    tried: int
    built: int
    aside: int
    passed: int
    complete: bool
    stopped: bool
    as_is: Tried
    front: tuple[Choice, ...]
    what_if: tuple[WhatIf, ...]
    nothing: Nothing | None
    all: tuple[Tried, ...]
    unpriced: tuple[str, ...]
    unpriced_job: tuple[str, ...]

    @property
    def judged(self) -> int:
        """How many designs were judged in full."""
        return self.built - self.aside

    def choice(self, k: int) -> Choice | None:
        """Return choice number k; None if there is none."""
        return next((each for each in self.front if each.k == k), None)


@dataclass(frozen=True)
class Progress:
    """How far a search has come: designs worked through, of so many at most, and how many pass.

    limits: it is through, and looks for the load limits of what it offers: so many done, of so many.
    """

    done: int
    of: int
    passed: int
    limits: bool = False


Tell = Callable[[Progress], None]
Stop = Callable[[], bool]
