"""Whether it holds and how far it drops: checks with their derivations, drop, forces."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ledgewright.job import Flush
from ledgewright.plane import Point, Ring

State = Literal["passes", "fails", "cannot say"]
Scope = Literal["in", "stretched", "out"]


@dataclass(frozen=True)
class Step:
    """One line of a derivation, as it will be printed: `formula` in symbols, `numbers` with values put in.

    formula: right-hand side in typst mathematics, e.g. "F_e d". value: in N, mm, MPa, rad.
    """

    symbol: str
    formula: str
    numbers: str
    value: float
    unit: str
    source: str
    assumed: bool


@dataclass(frozen=True)
class Place:
    """Where a check is made: wall, member, along and up (mm)."""

    wall: str
    member: str
    along: float
    up: float


@dataclass(frozen=True)
class Check:
    """One check: what is asked, what can be taken, ratio = demand / capacity, and the whole derivation.

    id is `family@place`. `information` rows are shown and never govern.
    """

    id: str
    family: str
    title: str
    place: Place | None
    case: str
    demand: float
    capacity: float
    ratio: float
    unit: str
    state: State
    scope: Scope
    information: bool
    reason: str
    source: str
    steps: tuple[Step, ...]


@dataclass(frozen=True)
class DropAt:
    """A front drop: value and limit (mm), at which rod, under which case."""

    value: float
    limit: float
    at: str
    case: str


@dataclass(frozen=True)
class Drop:
    """Front drop from the hung state, today and long term; hang tilt apart, with the shim that takes it out."""

    today: DropAt
    long_term: DropAt
    hang_tilt: float
    shim: float


@dataclass(frozen=True)
class RodForce:
    """One rod under one case: load on it (N) at `lever` from the wood face, V and M there, its movement (mm, rad)."""

    rod: str
    case: str
    load: float
    lever: float
    V: float
    M: float
    drop_at_face: float
    turn_at_face: float
    drop_at_load: float
    turn_at_load: float


@dataclass(frozen=True)
class CannotSay:
    """A required family, or the whole model, that gives no answer, and why."""

    family: str
    why: str


@dataclass(frozen=True)
class Stop:
    """The row that stops a load limit, with its derivation, just above the limit.

    even: the load on every length at which it is over (N/mm).
    """

    even: float
    row: Check


@dataclass(frozen=True)
class LoadLimit:
    """What a shelf may carry by its statics, true together.

    even: on every length of it, any part loaded (N/mm). single: one thing anywhere (kg). total: in all, the one thing
    included (kg). limited_by, title, place, case: the row that stops it. open: what is not in it yet; each can only
    lower it. beside: the other shelves on the same studs, each under its own limit at the same time. stop: that row
    worked, for the statics this limit or the one it was lowered from began with; None where no row stops it. flush:
    whether contents at the front or against the wall are what it stops at.
    """

    even: float
    single: float
    total: float
    limited_by: str
    title: str
    place: Place | None
    case: str
    open: tuple[str, ...] = ("doubt", "rods as set", "a load test")
    beside: tuple[str, ...] = ()
    stop: Stop | None = None
    flush: Flush = "front"


@dataclass(frozen=True)
class Mode:
    """One way in which something else that could hold the shelf would fail."""

    title: str
    demand: float
    capacity: float
    ratio: float
    unit: str
    case: str
    scope: Scope
    reason: str
    source: str
    steps: tuple[Step, ...]


@dataclass(frozen=True)
class Rival:
    """Something else that could hold the shelf, under the same loads.

    first: what fails first as the contents grow. share: at how many times the contents; even: that is how much on every
    length (N/mm), None where none was found. drop: of the front on day one (mm), None if it does not carry itself.
    """

    name: str
    modes: tuple[Mode, ...]
    first: str
    even: float | None
    share: float
    drop: float | None
    note: str


@dataclass(frozen=True)
class NoLimit:
    """Why no load limit can be given."""

    why: str


@dataclass(frozen=True)
class Surface:
    """How far the top skin goes down from the hung state under the case that drops the front furthest.

    points: (x, y) in the plan; down: of each (mm). cells: four points each, round the cell.
    """

    case: str
    points: tuple[tuple[float, float], ...]
    down: tuple[float, ...]
    cells: tuple[tuple[int, int, int, int], ...]


@dataclass(frozen=True)
class RodLine:
    """One rod under the strength case that bends it most.

    at: places along it from the wood's face, negative in the wood (mm). moment: there (N mm), positive where the tip is
    pressed down. touch: places in the slot (mm); top, bottom: force per length there from either skin (N/mm). mouth:
    where the shelf begins (mm).
    """

    rod: str
    case: str
    at: tuple[float, ...]
    moment: tuple[float, ...]
    touch: tuple[float, ...]
    top: tuple[float, ...]
    bottom: tuple[float, ...]
    mouth: float


@dataclass(frozen=True)
class LoadPart:
    """One part of one load as it is put on the shelf: what, its force (N), on which wall's leg it lies.

    part: of the top, by number, "3 front"; empty for what is not cut into parts. spot: where a thing stands that may
    stand at many places. at: the middle of it in the plan; plan: what of the top it covers (mm).
    """

    load: str
    kind: Literal["dead", "live", "single", "accident"]
    force: float
    wall: str
    part: str
    spot: str
    at: Point
    plan: Ring


@dataclass(frozen=True)
class OnRod:
    """What the shelf puts on one rod, the rod's own weight left out: down (N), and about the wood's face (N mm)."""

    rod: str
    down: float
    moment: float


@dataclass(frozen=True)
class LoadCase:
    """One case as it lies: factors on self-weight, contents, one thing and accident, and which parts are there.

    case: its name. source: of the combination. there: numbers of the parts of loads, from 0. proud: the rod that stands
    above the others by its play, empty if none does. rods: what each carries for it.
    """

    case: str
    source: str
    dead: float
    live: float
    single: float
    accident: float
    there: tuple[int, ...]
    proud: str
    rods: tuple[OnRod, ...]

    def factor(self, part: LoadPart) -> float:
        """Return the factor on a part of the loads."""
        by = {"dead": self.dead, "live": self.live, "single": self.single}
        return by.get(part.kind, self.accident)


@dataclass(frozen=True)
class Laid:
    """All loads of a shelf in parts, and the cases that its rows are worst under, the row nearest its limit first."""

    parts: tuple[LoadPart, ...]
    cases: tuple[LoadCase, ...]


@dataclass(frozen=True)
class Holds:
    """The statics of one shelf; drop is None where the model cannot say, load limit where none was asked for."""

    verdict: State
    checks: tuple[Check, ...]
    drop: Drop | None
    forces: tuple[RodForce, ...]
    load_limit: LoadLimit | NoLimit | None
    cannot_say: tuple[CannotSay, ...]
    governs: str | None
    mass: float
    rivals: tuple[Rival, ...] = ()
    surface: Surface | None = None
    lines: tuple[RodLine, ...] = ()
    laid: Laid | None = None
