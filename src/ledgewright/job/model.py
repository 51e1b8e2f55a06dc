"""What a job file says, as frozen values in mm, N, kg and rad; the other rooms see nothing else of it.

Every place on a wall is a signed `along`: 0 where the tape was hooked, positive to the right as you
face the wall. A wall taped from its right-hand end therefore has negative places; nothing else in
the program needs to know from which end it was taped. `out` is into the room, `up` above the datum.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Literal

from ledgewright import stock
from ledgewright.job.marks import called
from ledgewright.stock import Adhesive, Bar, Lumber, Panel, Screw, Timber
from ledgewright.units import Unit

Level = Literal["refuse", "question", "note"]
Basis = Literal["nds", "ec5"]
Words = Literal["en-US", "en-GB"]
Order = Literal["rods first", "shelf first", "both from the drawing"]
How = Literal["framed it", "opened it", "probed it", "scanned", "drawing", "unknown"]
Bearing = Literal["no", "yes", "unknown"]
Framing = Literal["wood", "metal", "masonry", "unknown"]
Lasts = Literal["years", "months", "days", "minutes"]
Flush = Literal["front", "back"]
Back = Literal["tight", "caulk", "shadow gap"]
Ends = Literal["caulk", "filler", "tight"]
Sealer = Literal["sanding sealer", "glue size", "none"]
Placing = Literal["least scribe", "along the string"]
Driving = Literal["through the stud", "toed"]
Told = Literal["both edges", "one edge", "finder", "pitch"]
Lost = Literal["dead", "missing", "twisted", "too far off"]
Hands = Literal["helped", "alone", "unknown"]
LengthTool = Literal[
    "steel tape", "laser measure", "folding rule", "cloth tape", "two sticks", "unknown"
]
Gauge = Literal["rule", "gauge"]
LineTool = Literal["string", "straightedge", "laser"]
LevelTool = Literal["laser line", "water level", "spirit level"]


Vary = Literal[
    "bar",
    "hole",
    "members",
    "embedment",
    "adhesive",
    "in slot",
    "play",
    "projection",
    "skins",
    "core",
    "way",
]
"""What `choose` may change of a shelf."""


@dataclass(frozen=True)
class Finding:
    """One thing to say about the job file: what is wrong, where, and what would be right."""

    code: str
    level: Level
    file: str
    line: int | None
    path: str
    value: str
    wrong: str
    right: str


@dataclass(frozen=True)
class Edit:
    """One change to the job file: the path of a key and its new text as TOML; None takes the key out."""

    path: str
    text: str | None


@dataclass(frozen=True)
class Assumed:
    """A value the job does not state and the program had to take."""

    path: str
    value: str
    why: str
    source: str


@dataclass(frozen=True)
class OpenItem:
    """Something answered with "don't know", and what not knowing costs."""

    path: str
    costs: str


@dataclass(frozen=True)
class Meta:
    """The head of the job: names, units, words, sheet size, design basis, building order."""

    name: str
    place: str
    client: str
    file: str
    revision: str
    format: int
    units: Unit
    basis: Basis
    words: Words
    sheets: Literal["letter", "a4"]
    order: Order


@dataclass(frozen=True)
class Known:
    """What someone says is behind a wall, and how they know it.

    by, up: who saw it, and at what height. photos: all of them by name. fire: whether the lining keeps fire or sound.
    engineer_stale: whether the rods were changed after the engineer accepted their holes.
    """

    how: How
    on: date | None
    bearing: Bearing
    services: str | None
    photo: str | None
    engineer: str | None
    by: str | None = None
    up: float | None = None
    photos: tuple[str, ...] = ()
    fire: Bearing | None = None
    fire_stop: str | None = None
    engineer_stale: bool = False


@dataclass(frozen=True)
class Fixing:
    """What holds each end of a length of blocking on its stud: so many screws or nails.

    apart: between the outermost two of an end (mm), 0 for one alone. how: square through the stud into the block's
    end grain, or aslant through the block's end into the stud. through: of stud that is passed first (mm), if it is
    not one stud.
    """

    driven: Screw
    each_end: int
    apart: float
    how: Driving
    through: float | None


@dataclass(frozen=True)
class TapedMember:
    """A stud or a length of blocking by its edges; `sd` is the doubt of its centre (mm).

    told: how it was found. lost: why no rod may go into it, None if one may. depth: from the face to its wood, if it
    was measured there. twist: how far one edge of its face stands behind the other.
    """

    id: str
    name: str | None
    kind: Literal["stud", "blocking"]
    left: float
    right: float
    up: tuple[float, float] | None
    sd: float
    path: str
    fixed: Fixing | None = None
    told: Told = "both edges"
    lost: Lost | None = None
    depth: float | None = None
    twist: float = 0.0


@dataclass(frozen=True)
class TapedLine:
    """Gaps from a straight line to the wall face at one height; `gaps` are (along, gap), left to right.

    off: what the line is drawn with. path: where it stands in the file; each gap by its number as written.
    """

    up: float | None
    gaps: tuple[tuple[float, float], ...]
    off: LineTool = "string"
    path: str = ""


@dataclass(frozen=True)
class TapedWall:
    """One wall as taped; walls stand in the file from left to right as you face them. height: floor to ceiling (mm)."""

    id: str
    mark: str
    tape_from: Literal["left", "right"]
    length: float
    lines: tuple[TapedLine, ...]
    framing: Framing
    timber: Timber | None
    depth_to_wood: float | None
    lining: tuple[tuple[str, float], ...]
    members: tuple[TapedMember, ...]
    known: Known
    path: str
    height: float | None = None

    @property
    def called(self) -> str:
        """What people call it after the word "wall" (see `marks.called`)."""
        return called(self.mark, self.id)


@dataclass(frozen=True)
class Mark:
    """A mark on the face of a wall: where the tape met it, or a letter for one that no tape along the wall placed."""

    wall: str
    along: float | None
    letter: str | None = None


@dataclass(frozen=True)
class TapedAcross:
    """A tape straight from one mark to another; tool: None if it is the job's usual one."""

    start: Mark
    end: Mark
    length: float
    tool: LengthTool | None
    path: str


@dataclass(frozen=True)
class TapedRise:
    """How much higher one mark stands than another, off a level line; start: None for the datum itself."""

    start: Mark | None
    end: Mark
    rise: float
    tool: LevelTool
    path: str


@dataclass(frozen=True)
class TapedCorner:
    """Where the right end of one wall meets the left end of the next.

    `taped`: marks a along the left wall, b along the right wall (both from the corner), straight across.
    `square_gap`: (gap, at): a framing square laid on the left wall, its other blade open by `gap` at `at`
    from the corner; positive if the corner is wider than square.
    """

    left: str
    right: str
    turn: Literal["inside", "outside"]
    taped: tuple[tuple[float, float, float], ...]
    angle: float | None
    square_gap: tuple[float, float] | None
    path: str


@dataclass(frozen=True)
class TapedObstacle:
    """Something in the way: a box by wall figures."""

    id: str
    wall: str
    along: tuple[float, float]
    out: tuple[float, float]
    up: tuple[float, float]
    path: str


@dataclass(frozen=True)
class Tapes:
    """Everything the tape said on site; tool and hands: what lengths were taken with, and whether with help."""

    datum: str
    walls: tuple[TapedWall, ...]
    corners: tuple[TapedCorner, ...]
    obstacles: tuple[TapedObstacle, ...]
    across: tuple[TapedAcross, ...] = ()
    rises: tuple[TapedRise, ...] = ()
    tool: LengthTool = "steel tape"
    hands: Hands = "unknown"

    def called(self, name: str) -> str:
        """Return what people call the wall of an id after the word "wall" (see `marks.called`); else the id itself."""
        return next((wall.called for wall in self.walls if wall.id == name), name)


@dataclass(frozen=True)
class Leg:
    """The part of a shelf along one wall, `start` left of `end` as you face it; depth: None as deep as the shelf."""

    wall: str
    start: float
    end: float
    depth: float | None = None

    def deep(self, shelf: float) -> float:
        """Return how deep it is (mm); shelf: depth of the shelf (mm)."""
        return shelf if self.depth is None else self.depth


def depth_on(legs: Sequence[Leg], wall: str | None, shelf: float) -> float:
    """Return how deep a shelf is on a wall (mm), or at all where it has no leg there; shelf: its depth (mm)."""
    return next((leg.deep(shelf) for leg in legs if leg.wall == wall), shelf)


@dataclass(frozen=True)
class Clearance:
    """Room round a rod in its slot: `up` in all, `side` on each side, `end` past the tip (mm)."""

    up: float
    side: float
    end: float


@dataclass(frozen=True)
class Bonded:
    """What of a rod is in the wall, as it was bonded: bar, how long it was cut, depth set to, hole, adhesive (mm)."""

    bar: Bar
    length: float
    embedment: float
    hole: float
    adhesive: Adhesive


@dataclass(frozen=True)
class AsSet:
    """One rod as it was read after the cure (mm).

    wall: signed along and height of its middle where it leaves the finished face. tip: the same at its tip, squared off
    the straight ledger. out: stick-out, along the rod from the face to its tip. bonded: what is in the wall, the same
    as the job has it; None where the reading does not say.
    """

    wall: tuple[float, float]
    tip: tuple[float, float]
    out: float
    path: str
    bonded: Bonded | None = None

    def sawn(self, off: float) -> AsSet:
        """Return the rod with its tip sawn off by so much (mm)."""
        share = 1 - off / self.out
        (s, z), (t, w) = self.wall, self.tip
        return replace(self, tip=(s + (t - s) * share, z + (w - z) * share), out=self.out - off)


@dataclass(frozen=True)
class RodSpec:
    """One rod as the job asks for it, bored at the centre of its stud; as_set: how it really stands, once read.

    aside: in blocking, how far right of its middle (mm).
    """

    wall: str
    member: str
    bar: Bar
    embedment: float
    projection: float
    hole: float
    adhesive: Adhesive
    clearance: Clearance
    in_slot: Literal["dry", "glued"]
    path: str
    as_set: AsSet | None = None
    aside: float = 0.0

    @property
    def stick_out(self) -> float:
        """How far it stands out of the finished face, as set if that is known (mm)."""
        return self.projection if self.as_set is None else self.as_set.out

    def sawn(self, to: float) -> RodSpec:
        """Return the rod with a stick-out, as drawn, of so much (mm); one that is set loses as much at its tip."""
        read = self.as_set and self.as_set.sawn(self.projection - to)
        return replace(self, projection=to, as_set=read)


@dataclass(frozen=True)
class CoreSpec:
    """What stands between the skins: solid strips round the edge and ribs, all `thick` (mm)."""

    of: Lumber
    thick: float
    strip: float
    rib: float
    max_span: float


@dataclass(frozen=True)
class Lock:
    """What keeps the shelf on its rods."""

    kind: Literal["grub screw", "angled screw", "sealant", "none"]
    rods: tuple[str, ...]


@dataclass(frozen=True)
class Skin:
    """One skin: the panel, its thickness as measured, and how it turns the corner of an L."""

    panel: Panel
    thick: float
    joint: Literal["one piece", "butted", "mitred"]


@dataclass(frozen=True)
class Groove:
    """A groove in the bottom skin for a light: width, depth, and how far its front edge lies from the front."""

    width: float
    deep: float
    from_front: float


@dataclass(frozen=True)
class Cable:
    """A way kept free through the core for a cable: where on the wall it comes in, how wide, how far out it runs.

    out: from the wall's face to its far end; None as far as the light groove, or the front strip without one.
    """

    wall: str
    along: float
    width: float
    out: float | None
    path: str


@dataclass(frozen=True)
class Cut:
    """The straight line an end of a section is cut to, in the figures of its wall.

    at: where it crosses the reference line (mm along); lean: how far along it runs per mm out. meets: the other
    section, or nothing: then it is a free end with edging, and may stand past the end of the wall.
    """

    at: float
    lean: float
    meets: Literal["section", "air"]


@dataclass(frozen=True)
class Section:
    """Which part of a shelf a section is, counted in the order they are hung, and how its ends are cut.

    of: id of the whole shelf. rods_along: the wall whose reference line its rods follow, if not its own. rods: wall and
    member of every rod of the shelf in any section, which are numbered together. left_out: of each rod that was asked
    for and lies in no section, told by the last one.
    """

    of: str
    number: int
    count: int
    left: Cut | None
    right: Cut | None
    rods_along: str | None
    rods: tuple[tuple[str, str], ...] = ()
    left_out: tuple[tuple[str, str], ...] = ()


ACCEPTABLE = (
    "rod.bend",
    "rod.shear",
    "rod.biax",
    "bed.limit",
    "bed.side",
    "bed.edge",
    "stud.split",
    "stud.side",
    "stud.bend",
    "stud.shear",
    "block.bend",
    "block.split",
    "block.tors",
    "block.fix",
    "bond.pull",
    "hold.pull",
    "skin.bend",
    "skin.patch",
    "skin.mouth",
    "skin.bear",
    "skin.roll",
    "glue.shear",
    "glue.peel",
    "core.comp",
)
"""Kinds of check that an engineer may accept where their sources do not quite cover the case."""


@dataclass(frozen=True)
class Accepted:
    """An engineer's word for kinds of check at the edge of what their sources cover; no failure passes by it."""

    by: str
    on: date | None
    rows: tuple[str, ...]

    @property
    def said(self) -> str:
        """Who, and when, in words."""
        return f"{self.by}, {self.on.isoformat()}" if self.on else self.by


@dataclass(frozen=True)
class Lean:
    """A level held plumb on a wall at the shelf: the gap at its top or bottom, the other end touching.

    slope: how far the face stands back per height (1), positive where the wall leans back at the top.
    """

    wall: str
    slope: float


@dataclass(frozen=True)
class Spec:
    """One shelf as the job asks for it, or one section of it.

    ends: what becomes of an end that meets a wall: cut square and caulked, cut square for a filler strip, or scribed
    to it. joint: along, on its one wall, at which a straight shelf in two sections is parted. scribe_tolerance: the
    widest gap that straight cuts may leave. nose_up: how much higher than the back the front edge is set on purpose.
    sealer: what closes thirsty edges, or all faces under a clear coat. primer: by its catalogue name, empty for none.
    before: how many rods each wall has of shelves further up in the file, which are numbered first.
    """

    id: str
    top: float
    depth: float
    legs: tuple[Leg, ...]
    skin_top: Skin
    skin_bottom: Skin
    core: CoreSpec
    sections: int
    edging: Lumber
    edging_thick: float
    scribe_allowance: float
    back: Back
    back_gap: float
    end_gap: float
    finish: str
    coats: int
    lock: Lock
    rods: tuple[RodSpec, ...]
    groove: Groove | None
    first: str | None
    path: str
    ends: Ends = "caulk"
    joint: float | None = None
    section: Section | None = None
    cables: tuple[Cable, ...] = ()
    accepted: Accepted | None = None
    placing: Placing = "least scribe"
    scribe_tolerance: float = 0.5
    lean: tuple[Lean, ...] = ()
    nose_up: float = 0.0
    sealer: Sealer = "none"
    primer: str = ""
    before: tuple[tuple[str, int], ...] = ()

    @property
    def as_set(self) -> bool:
        """Whether every rod was read after the cure."""
        return bool(self.rods) and all(rod.as_set for rod in self.rods)

    @property
    def as_drawn(self) -> Spec:
        """The shelf without what was read of its rods."""
        return replace(self, rods=tuple(replace(rod, as_set=None) for rod in self.rods))

    @property
    def depths(self) -> tuple[float, ...]:
        """How deep each leg is, from left to right (mm)."""
        return tuple(leg.deep(self.depth) for leg in self.legs)

    def deep(self, wall: str) -> float:
        """Return how deep the leg on a wall is (mm), or the shelf where it has none there."""
        return depth_on(self.legs, wall, self.depth)

    @property
    def whole(self) -> str:
        """Id of the shelf in the job file: its own, or that of the shelf it is a section of."""
        return self.section.of if self.section else self.id

    @property
    def title(self) -> str:
        """What people call it: its id, and which section of the whole it is."""
        part = self.section
        return self.id if part is None else f"{part.of}, section {part.number} of {part.count}"

    @property
    def thick(self) -> float:
        """Finished thickness (mm)."""
        return self.skin_top.thick + self.core.thick + self.skin_bottom.thick


@dataclass(frozen=True)
class Even:
    """A load spread evenly: pressure (MPa) or per length of leg (N/mm), on one leg's span or on all.

    flush: with the front edge or with the wall, where it lies by length on a shelf deeper than contents are.
    """

    id: str
    pressure: float | None
    per_length: float | None
    wall: str | None
    start: float | None
    end: float | None
    lasts: Lasts
    assumed: bool
    flush: Flush = "front"


@dataclass(frozen=True)
class Thing:
    """One thing that stands on the shelf: centre, footprint (along, out) and mass (kg)."""

    id: str
    wall: str
    along: float
    out: float
    size: tuple[float, float]
    feet: tuple[float, float] | None
    mass: float
    lasts: Lasts


@dataclass(frozen=True)
class Accident:
    """Someone leans or climbs: a force down (N) on a patch (mm) at the worst front edge or end."""

    id: str
    force: float
    patch: float
    why: str


@dataclass(frozen=True)
class Limits:
    """How far the front edge may drop (mm)."""

    drop_today: float
    drop_long: float
    assumed: bool


@dataclass(frozen=True)
class Demand:
    """What one shelf must carry and how little it may drop.

    accident_usual: the usual force of someone who leans (N), where the greatest one stated is less; else None.
    patch_usual: side of the square it usually presses on (mm), where it is stated wider; else None.
    """

    shelf: str
    loads: tuple[Even | Thing, ...]
    accidents: tuple[Accident, ...]
    single: float
    limits: Limits
    accident_declined: bool
    accident_usual: float | None = None
    patch_usual: float | None = None

    @property
    def accident(self) -> Accident | None:
        """The accident that is judged: the heaviest, of such the one that presses nearest to the front."""
        if self.accident_declined:
            return None
        return max(self.accidents, key=lambda each: (each.force, -each.patch), default=None)

    @property
    def leans_little(self) -> bool:
        """Whether someone who leans or climbs is counted with less than is usual, or on more of the top."""
        return self.accident_usual is not None or self.patch_usual is not None

    @property
    def leaning_left_out(self) -> bool:
        """Whether someone who leans or climbs is not counted, or with less than is usual."""
        return self.accident_declined or self.leans_little


@dataclass(frozen=True)
class Price:
    """What one thing of the catalogue costs: `each` per `unit` ("ft", "m", "sheet", "bf", "m3", "400 ml", "qt"...).

    placeholder: nobody has put a figure of their own here yet.
    """

    name: str
    each: float
    unit: str
    placeholder: bool = False


@dataclass(frozen=True)
class Prices:
    """The price file of the shop: [stock] rows and [rates] by name; `rates` may lack some.

    placeholders: rates by name that nobody has replaced by a figure of their own yet.
    """

    currency: str
    stock: tuple[Price, ...]
    rates: tuple[tuple[str, float], ...]
    placeholders: tuple[str, ...] = ()


NEEDED_RATES = (
    "labour",
    "burden",
    "overhead",
    "mark_up",
    "waste",
    "sundries",
    "net_margin",
    "trip",
    "tax_on_materials",
    "round_up_to",
)
"""Charges without one of which there is no price."""
RATES = (*NEEDED_RATES, "contingency", "tax_on_price")
"""Every charge of a shop by name; docs/shop.md says what each is."""


def is_paint(finish: str) -> bool:
    """Say whether a finish of this catalogue name hides the wood."""
    return "paint" in finish or "satin" in finish


@dataclass(frozen=True)
class Bench:
    """How the shop works: what it glues boxes with, how warm it is (C), its days and hours.

    start: the day of the first visit, None if nobody has said. off_days: weekdays without work, Monday 0. off: runs of
    days without work, both ends in. answer_days: from the quote to the signed choices; delivery_days: from the order to
    what was ordered. long_test: whether the load test stands for 24 h. retrofit_bays: bays that get blocking first.
    """

    glue: Adhesive = field(default_factory=lambda: stock.adhesive("pva yellow"))
    temperature: float = 20.0
    start: date | None = None
    hours_a_day: float = 7.0
    off_days: tuple[int, ...] = (5, 6)
    off: tuple[tuple[date, date], ...] = ()
    answer_days: int = 7
    delivery_days: int = 3
    long_test: bool = True
    retrofit_bays: int = 0


@dataclass(frozen=True)
class Shop:
    """The shop: sheets on hand, saw, people, clamps, charges. Prices are None where no price file is named.

    offcut: shorter and longer side of the least that is worth keeping (mm).
    """

    on_hand: tuple[tuple[str, tuple[float, float], int], ...]
    kerf: float
    trim: float
    saw: Literal["straight guide", "panel saw", "router"]
    people: int
    clamps: int
    prices: Prices | None
    guide: float | None = None
    offcut: tuple[float, float] = (150.0, 600.0)
    bench: Bench = field(default_factory=Bench)


@dataclass(frozen=True)
class PutOn:
    """Something put on for a load test: mass (kg), wall, signed along, out from the wall's face (mm)."""

    mass: float
    wall: str
    along: float
    out: float


@dataclass(frozen=True)
class WentDown:
    """How far a place along the front has gone down from zero (mm)."""

    wall: str
    along: float
    down: float


@dataclass(frozen=True)
class LoadStep:
    """One step of a load test on a shelf: all that stands on it then, for how many hours, and what was read."""

    shelf: str
    puts: tuple[PutOn, ...]
    hours: float
    reads: tuple[WentDown, ...]
    path: str
    tool: Gauge = "rule"

    @property
    def total(self) -> float:
        """All that stands on it (kg)."""
        return sum(put.mass for put in self.puts)


@dataclass(frozen=True)
class Site:
    """The day on site; heat: how hot it gets at the rods (C), None where nobody said."""

    temperature: float
    doorway: float | None
    tests: tuple[LoadStep, ...] = ()
    heat: float | None = None


@dataclass(frozen=True)
class Choosing:
    """What `choose` may change and how long it looks; None where the job leaves it open.

    bars, skins, adhesives, cores: catalogue names. thick: the least and most of the whole shelf (mm).
    designs: how many are worked through at most.
    """

    vary: tuple[Vary, ...] | None = None
    bars: tuple[str, ...] | None = None
    skins: tuple[str, ...] | None = None
    adhesives: tuple[str, ...] | None = None
    cores: tuple[str, ...] | None = None
    thick: tuple[float, float] | None = None
    designs: int | None = None


@dataclass(frozen=True)
class Job:
    """A whole job as read: nothing in it is a guess that is not listed in `assumed`.

    seed: where the random numbers of the ranges and the order of a search begin.
    """

    meta: Meta
    tapes: Tapes
    shelves: tuple[Spec, ...]
    demands: tuple[Demand, ...]
    shop: Shop
    site: Site
    assumed: tuple[Assumed, ...]
    open_items: tuple[OpenItem, ...]
    notes: tuple[Finding, ...]
    seed: int = 0
    choosing: Choosing = field(default_factory=Choosing)
