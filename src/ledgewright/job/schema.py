"""The tables of the job file as strict models; only the reading of the job knows them.

Every field's sentence here is what the published schema says of it; docs/job-file.md tells the same at length.
"""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from ledgewright.job.fields import (
    MOST,
    AsTuple,
    BarName,
    BoxGlue,
    Burden,
    DayOff,
    DrivenName,
    FinishName,
    Hours,
    HoursADay,
    Id,
    Length,
    LumberName,
    Mass,
    MaybeAngle,
    MaybeLength,
    MaybeTemperature,
    Name,
    Pair,
    PanelName,
    Positive,
    PriceRow,
    Rate,
    RodAdhesive,
    Rows,
    Signed,
    Spread,
    Temperature,
    Text,
    TimberName,
    Unknown,
    fault,
    is_unknown,
)
from ledgewright.job.model import (
    Back,
    Basis,
    Bearing,
    Driving,
    Ends,
    Framing,
    Gauge,
    Hands,
    How,
    Lasts,
    LengthTool,
    LevelTool,
    LineTool,
    Lost,
    Order,
    Placing,
    Sealer,
    Vary,
    Words,
)
from ledgewright.units import Unit

Joint = Literal["one piece", "butted", "mitred"]
Saw = Literal["straight guide", "panel saw", "router"]
LockKind = Literal["grub screw", "angled screw", "sealant", "none"]


class Table(BaseModel):
    """One table of the file: no key it does not know, nothing turned into what it is not."""

    model_config = ConfigDict(
        strict=True,
        extra="forbid",
        frozen=True,
        allow_inf_nan=False,
        use_attribute_docstrings=True,
        validate_by_alias=True,
        title=None,
        # Most commands read one file, and need few of the tables.
        defer_build=True,
    )


def _named_list(
    keys: tuple[str, ...], need: int, right: str, alone: str | None = None
) -> BeforeValidator:
    """Let a short list stand for a table: its items go by `keys`, the first `need` must be there.

    alone: the key that one figure alone may have been meant for.
    """

    def inner(value: object) -> object:
        if alone and isinstance(value, int | float) and not isinstance(value, bool):
            or_so = f"or {{ {alone} = {value} }} where a finder told its middle"
            fault("shape", "one figure alone does not say what it is of", f"{right}, {or_so}")
        if not isinstance(value, list):
            return value
        if not need <= len(value) <= len(keys):
            fault("shape", f"this list has {len(value)} entries", right)
        return dict(zip(keys[: len(value)], value, strict=True))

    return BeforeValidator(inner)


class Head(Table):
    """The first lines of the file."""

    format: int
    """The number of this file format: 1."""
    units: Unit
    """What a bare number means: "in" or "mm"."""
    basis: Basis | None = None
    """The design code: "nds" or "ec5"."""
    words: Words | None = None
    """The trade's words people see: "en-US" or "en-GB"."""


class JobTable(Table):
    """What the job is called and how it is built."""

    name: Name
    """What the job is called."""
    place: Text = ""
    """Where it is."""
    client: Text = ""
    """For whom."""
    sheets: Literal["letter", "a4"] | None = None
    """Paper of the packet."""
    order: Order | None = None
    """Building order."""
    sure: Rows[Text] = ()
    """Paths of odd-looking figures you stand by."""


class LineTable(Table):
    """Gaps at one height."""

    up: Length
    """Height above the datum."""
    line: Rows[Annotated[tuple[Length, Length], AsTuple]] = Field(min_length=2)
    """Places along the wall, each with the gap from the string to the face."""
    off: LineTool | None = None
    """What the straight line is drawn with."""


class StudTable(Table):
    """One stud: both edges, or one edge, or the centre a finder gave."""

    left: Length | None = None
    """The edge the tape meets first."""
    right: Length | None = None
    """The edge the tape meets second."""
    centre: Length | None = None
    """The middle, where only a finder told it."""
    name: Name | None = None
    """A name to call it by."""
    doubt: Positive | None = None
    """Standard deviation of its centre."""
    depth_to_wood: Positive | None = None
    """From the finished face to this stud."""
    twist: Length | None = None
    """How far one edge of its face stands behind the other."""
    lost: Lost | None = None
    """Why no rod may go into it."""


class PitchTable(Table):
    """Studs that nobody has found one by one: where the first begins, and how far it is from one to the next."""

    first: Length
    """The edge of the first that the tape meets first."""
    every: Positive
    """From one to the next."""
    count: int | None = Field(default=None, ge=1, le=60)
    """How many; without it as many as the wall holds."""
    doubt: Positive | None = None
    """Standard deviation of each centre."""


class FixedTable(Table):
    """What holds each end of a length of blocking on its stud."""

    driven: DrivenName = Field(alias="with")
    """The screw or nail, by its catalogue name."""
    each_end: int = Field(ge=1, le=20)
    """How many at each end."""
    how: Driving
    """Square through the stud into the end of the block, or aslant through the block into the stud."""
    apart: Positive | None = None
    """Between the outermost two of an end."""
    through: Positive | None = None
    """How much stud it passes before it reaches the block."""


class BlockingTable(Table):
    """One length of blocking by its four edges."""

    start: Length = Field(alias="from")
    """The end the tape meets first."""
    end: Length = Field(alias="to")
    """The other end."""
    up: Pair
    """Bottom and top edge above the datum."""
    fixed: FixedTable | None = None
    """What holds its ends on the studs."""


class FramingTable(Table):
    """What the wall is framed with."""

    of: TimberName | None = None
    """The stud, by its catalogue name."""
    kind: Annotated[Framing | None, Unknown] = None
    """Wood, metal, masonry or unknown."""


def _framing(value: object) -> object:
    """A plain "don't know" for the whole table; the published schema shows the table form alone."""
    return {"kind": "unknown"} if is_unknown(value) else value


class KnownTable(Table):
    """What is known to be behind the wall, and how."""

    how: Annotated[How, Unknown]
    """How you know."""
    on: date | None = None
    """The day it was seen."""
    bearing: Annotated[Bearing, Unknown] = "unknown"
    """Whether the wall carries load."""
    services: Text | None = None
    """Pipes and cables, in words."""
    photo: Text | None = None
    """Name of the photo."""
    engineer: Text | None = None
    """Who accepted the holes in a bearing stud."""
    engineer_stale: bool = False
    """The rods were changed after that word was given."""
    by: Text | None = None
    """Who saw it."""
    up: Length | None = None
    """At what height it was seen."""
    photos: Rows[Name] = ()
    """Names of more photos."""
    fire: Annotated[Bearing | None, Unknown] = None
    """Whether the lining has to keep fire or sound."""
    fire_stop: Text | None = None
    """How holes in such a lining are closed, and who said so."""


class WallTable(Table):
    """One wall; walls stand in the file from left to right as you face them."""

    id: Id
    """What the wall is called."""
    tape_from: Literal["left", "right"]
    """The end the tape is hooked on, as you face the wall."""
    length: Positive
    """The whole length."""
    height: Positive | None = None
    """From floor to ceiling."""
    line: Rows[Annotated[tuple[Length, Length], AsTuple]] | None = Field(default=None, min_length=2)
    """Places along the wall, each with the gap from the string to the face."""
    lines: Rows[LineTable] = ()
    """The same at several heights, or with a straightedge in several places."""
    off: LineTool | None = None
    """What the straight line is drawn with."""
    depth_to_wood: MaybeLength | None = None
    """From the finished face to the stud."""
    lining: Rows[Annotated[tuple[Name, Positive], AsTuple]] = ()
    """Layers on the stud, each with its thickness."""
    studs: Rows[
        Annotated[
            StudTable,
            _named_list(
                ("left", "right", "name"),
                2,
                'write both edges, like ["15 1/4", "16 3/4"]',
                alone="centre",
            ),
        ]
    ] = ()
    """The studs, from the tape's end."""
    pitch: PitchTable | None = None
    """Studs by their spacing, where nobody has found them one by one."""
    blocking: Rows[
        Annotated[
            BlockingTable,
            _named_list(
                ("from", "to", "up"),
                3,
                'write both ends and its bottom and top, like ["7 1/4", "21 3/4", ["53", "56 1/2"]]',
            ),
        ]
    ] = ()
    """Blocking between the studs."""
    framing: Annotated[FramingTable | None, BeforeValidator(_framing)] = None
    """What the wall is framed with."""
    known: KnownTable | None = None
    """What is known to be behind the wall."""


Triple = Annotated[tuple[Positive, Positive, Positive], AsTuple]


def _triples(value: object) -> object:
    """Let one bare triple stand for a list of one."""
    if isinstance(value, list) and value and not any(isinstance(item, list) for item in value):
        return (value,)
    return tuple(value) if isinstance(value, list) else value


class AcrossTable(Table):
    """A tape straight from one mark to another."""

    start: Text = Field(alias="from")
    """The one mark: wall and distance, wall and "left" or "right", wall and a letter."""
    end: Text = Field(alias="to")
    """The other mark."""
    reads: Positive
    """What the tape reads."""
    tool: Annotated[LengthTool | None, Unknown] = Field(default=None, alias="with")
    """What it was read with, if not with the job's usual tool."""


class RiseTable(Table):
    """How much higher one mark stands than another."""

    start: Text = Field(alias="from")
    """The one mark, or "datum"."""
    end: Text = Field(alias="to")
    """The other mark."""
    rise: Signed
    """How much higher the other stands; minus if lower."""
    tool: LevelTool | None = Field(default=None, alias="with")
    """What carried the height."""


Across = Rows[
    Annotated[
        AcrossTable,
        _named_list(
            ("from", "to", "reads", "with"),
            3,
            'write both marks and what the tape reads, like ["west 30", "north right", "61 3/8"]',
        ),
    ]
]


class MeasureTable(Table):
    """How the place was measured, and what was taped across it."""

    tool: Annotated[LengthTool | None, Unknown] = Field(default=None, alias="with")
    """What lengths were taken with."""
    hands: Annotated[Hands | None, Unknown] = None
    """Whether somebody held the other end."""
    tapes: Across = ()
    """Tapes straight from mark to mark: diagonals, widths."""
    heights: Rows[
        Annotated[
            RiseTable,
            _named_list(
                ("from", "to", "rise", "with"),
                3,
                'write both marks and how much higher the second is, like ["datum", "west 0", "1/8"]',
            ),
        ]
    ] = ()
    """Heights carried from mark to mark off a level line."""


class CornerTable(Table):
    """Where one wall meets the next."""

    walls: Annotated[tuple[Id, Id], AsTuple]
    """The two walls, left one first."""
    turn: Literal["inside", "outside"] = "inside"
    """Whether the corner comes in or goes out."""
    taped: Annotated[tuple[Triple, ...], BeforeValidator(_triples), Field(max_length=MOST)] = ()
    """A mark along each wall from the corner, and straight across; one set or several."""
    angle: MaybeAngle | None = None
    """Between the two faces: inside in the room, outside over the walls."""
    square_gap: Annotated[tuple[Signed, Positive], AsTuple] | None = None
    """The gap of a framing square, and how far from the corner."""
    tapes: Across = ()
    """Tapes from mark to mark near it; "corner" is a mark too."""


class ObstacleTable(Table):
    """Something in the way, as a box by wall figures."""

    id: Id
    """What it is."""
    wall: Id
    """The wall it is on."""
    along: Pair
    """Both edges along the wall."""
    out: Pair
    """From where to where it stands out."""
    up: Pair
    """Bottom and top above the datum."""


class LegTable(Table):
    """The part of a shelf along one wall."""

    wall: Id
    """The wall."""
    start: Length = Field(default=0.0, alias="from")
    """Where it begins, from the tape's end."""
    end: Positive = Field(alias="to")
    """Where it ends."""
    depth: Positive | None = None
    """How deep it is, where not as deep as the shelf."""


class SkinTable(Table):
    """One skin."""

    of: PanelName
    """The panel, by its catalogue name."""
    measured: Positive | None = None
    """Its thickness by caliper."""
    joint: Joint | None = None
    """How it turns the corner."""


class CoreTable(Table):
    """What stands between the skins."""

    of: LumberName
    """The timber."""
    thick: Positive | None = None
    """Planed thickness."""
    strip: Positive | None = None
    """Width of the strips round the edge."""
    rib: Positive | None = None
    """Width of the ribs."""
    max_span: Positive | None = None
    """The widest hollow a skin may bridge."""


class EdgingTable(Table):
    """Solid edging along the front and the free ends."""

    of: LumberName
    """The timber."""
    thick: Length
    """Finished thickness."""


class FinishTable(Table):
    """The coating."""

    kind: FinishName
    """The finish, by its catalogue name."""
    coats: int = Field(ge=0, le=12)
    """How many coats."""
    sealer: Sealer | None = None
    """What closes thirsty edges, or all faces under a clear coat."""
    primer: FinishName | Literal["none"] | None = None
    """The primer, by its catalogue name, or "none"."""


class LockTable(Table):
    """What keeps the shelf on its rods."""

    kind: LockKind
    """The kind of lock."""
    at: Rows[Text] | None = None
    """At which rods."""


class GrooveTable(Table):
    """A groove in the bottom skin for a light."""

    width: Positive
    """Its width."""
    deep: Positive
    """Its depth."""
    from_front: Length
    """From the front edge of the shelf to its front edge."""


class CableTable(Table):
    """A way kept free through the core for a cable, from the back edge on."""

    at: Text
    """Where on the wall it comes in."""
    width: Positive
    """Its clear width."""
    out: Positive | None = None
    """How far from the wall it runs."""


class LeanTable(Table):
    """A level held plumb against a wall at the shelf, one end touching."""

    wall: Id
    """The wall."""
    over: Positive
    """Length of the level."""
    gap: Length
    """The gap at its other end."""
    at: Literal["top", "bottom"]
    """Which end stands off the wall."""


class AcceptedTable(Table):
    """An engineer's word for kinds of check at the edge of what their sources cover."""

    by: Name
    """Who accepted them: name and licence."""
    on: date
    """The day of the letter."""
    rows: Annotated[tuple[Text, ...], AsTuple, Field(min_length=1, max_length=MOST)]
    """Kinds of check, as "bed.edge"."""
    stale: bool = False
    """The design was changed after the word was given."""


class ShelfBody(Table):
    """One shelf without its sub-tables that are read on their own."""

    id: Id
    """What the shelf is called."""
    top: Length
    """The top face above the datum."""
    depth: Positive
    """From the straight line through the wall's proudest point to the front edge."""
    thick: Positive | None = None
    """The whole finished thickness."""
    legs: Rows[LegTable] = Field(min_length=1, max_length=2)
    """One leg, or two that meet in a corner."""
    body: Literal["box"] = "box"
    """How it is built: two skins on a core."""
    skins: PanelName | None = None
    """Both skins, by catalogue name."""
    measured: Positive | None = None
    """Thickness of both skins by caliper."""
    skin_top: SkinTable | None = None
    """The top skin, where it differs."""
    skin_bottom: SkinTable | None = None
    """The bottom skin, where it differs."""
    sections: int = Field(default=1, ge=1, le=2)
    """In how many rigid parts it is carried to the wall."""
    joint: Text | None = None
    """Where a straight shelf in two sections is parted."""
    edging: EdgingTable
    """Solid edging."""
    finish: FinishTable | None = None
    """The coating."""
    scribe_allowance: Length | None = None
    """Spare depth for scribing."""
    back: Back | None = None
    """How the back edge meets the wall."""
    back_gap: Length | None = None
    """The gap kept along the back."""
    placing: Placing | None = None
    """Turned off the string for the least scribe, or along the string."""
    scribe_tolerance: Positive | None = None
    """The widest gap that straight cuts may leave along a scribed edge."""
    lean: Rows[LeanTable] | None = None
    """How far walls lean at the shelf."""
    nose_up: Length | None = None
    """How much higher than the back the front edge is set on purpose."""
    ends: Ends | None = None
    """What becomes of an end that meets a wall."""
    end_gap: Length | None = None
    """The gap kept at an end that meets a wall, or the least width of a filler strip."""
    lock: LockTable | None = None
    """What keeps it on."""
    groove: GrooveTable | None = None
    """A groove for a light."""
    cable: Rows[CableTable] | None = None
    """Ways kept free for cables."""
    first: Id | None = None
    """The wall whose rods it goes onto first."""
    single: Mass | None = None
    """The heaviest one thing anywhere on it."""
    accepted: AcceptedTable | None = None
    """What an engineer has accepted."""


class ClearanceTable(Table):
    """Room round a rod in its slot."""

    up: Length | None = None
    """Up and down, in all."""
    side: Length | None = None
    """On each side."""
    end: Length | None = None
    """Past the tip."""


class RodsTable(Table):
    """Every rod of a shelf."""

    stock: BarName
    """The steel bar."""
    embedment: Positive
    """Depth in the stud."""
    projection: Positive
    """Out of the finished face."""
    hole: Positive
    """Diameter of the hole in the stud."""
    adhesive: RodAdhesive
    """What it is set in."""
    clearance: ClearanceTable | None = None
    """Room in the slot."""
    in_slot: Literal["dry", "glued"] | None = None
    """Whether the slot is dry or glued."""
    at: Annotated[Literal["every stud"] | tuple[Text, ...], AsTuple, Field(max_length=MOST)]
    """Places of the rods, or "every stud"."""


class RodTable(Table):
    """One rod that differs; a key left out is as for every rod."""

    at: Text
    """Its place."""
    stock: BarName | None = None
    """The steel bar."""
    embedment: Positive | None = None
    """Depth in the stud."""
    projection: Positive | None = None
    """Out of the finished face."""
    hole: Positive | None = None
    """Diameter of the hole."""
    adhesive: RodAdhesive | None = None
    """What it is set in."""
    clearance: ClearanceTable | None = None
    """Room in the slot."""
    in_slot: Literal["dry", "glued"] | None = None
    """Whether the slot is dry or glued."""


class EvenTable(Table):
    """A load spread evenly over the shelf, or over one leg."""

    kind: Literal["even"]
    """"even"."""
    id: Id
    """What it is."""
    weight: Spread
    """Per foot or metre of leg, or per square foot or metre."""
    wall: Id | None = None
    """Only on this leg."""
    lasts: Annotated[Lasts | None, Unknown] = None
    """How long it stays; months: half a year in all at most, longer is years."""


class StripTable(Table):
    """A load spread evenly over a part of one leg."""

    kind: Literal["strip"]
    """"strip"."""
    id: Id
    """What it is."""
    weight: Spread
    """Per foot or metre of leg, or per square foot or metre."""
    wall: Id
    """The leg."""
    start: Length = Field(alias="from")
    """Where it begins, from the tape's end."""
    end: Positive = Field(alias="to")
    """Where it ends."""
    lasts: Lasts | None = None
    """How long it stays; months: half a year in all at most, longer is years."""


class ThingTable(Table):
    """One thing that stands on the shelf."""

    kind: Literal["thing"]
    """"thing"."""
    id: Id
    """What it is."""
    at: Text
    """The place of its middle."""
    out: Length
    """Its middle from the wall."""
    size: Annotated[tuple[Positive, Positive], AsTuple]
    """Along the wall, and out from it."""
    feet: Annotated[tuple[Positive, Positive], AsTuple] | None = None
    """Spacing of its four feet, along and out."""
    weight: Mass
    """Its weight."""
    lasts: Lasts | None = None
    """How long it stays; months: half a year in all at most, longer is years."""


class AccidentTable(Table):
    """Someone leans or climbs; or the reason why this is left out."""

    kind: Literal["accident"]
    """"accident"."""
    id: Id = "someone leans or climbs"
    """What happens."""
    force: Burden | None = None
    """How hard, as a force or a weight."""
    patch: Positive | None = None
    """Side of the square it presses on."""
    none: Name | None = None
    """Why no accident is reckoned with; printed on the cover and the label."""


LoadTable = Annotated[
    EvenTable | StripTable | ThingTable | AccidentTable, Field(discriminator="kind")
]


class LimitsTable(Table):
    """How far the front edge may drop."""

    drop_today: Positive | None = None
    """On day one."""
    drop_long: Positive | None = None
    """In ten years."""


class ShelfTable(ShelfBody):
    """One shelf."""

    core: CoreTable
    """What stands between the skins."""
    rods: RodsTable | None = None
    """Every rod of this shelf."""
    rod: Rows[RodTable] = ()
    """Rods that differ."""
    load: Rows[LoadTable] = ()
    """What stands on it."""
    limits: LimitsTable | None = None
    """How far it may drop."""


class ShopTable(Table):
    """The shop."""

    on_hand: Rows[
        Annotated[
            tuple[
                PanelName,
                Annotated[tuple[Positive, Positive], AsTuple],
                Annotated[int, Field(ge=1, le=999)],
            ],
            AsTuple,
        ]
    ] = ()
    """Sheets on hand: name, size, how many."""
    kerf: Positive | None = None
    """What the saw eats."""
    trim: Length | None = None
    """Cut off each factory edge."""
    offcut: Annotated[tuple[Positive, Positive], AsTuple] | None = None
    """Width and length of the least that is kept of a sheet."""
    saw: Saw | None = None
    """How sheets are cut."""
    people: int | None = Field(default=None, ge=1, le=12)
    """Who hangs it."""
    clamps: int | None = Field(default=None, ge=0, le=500)
    """Clamps at hand."""
    guide: Positive | None = None
    """The longest cut the saw's guide allows in one setting."""
    prices: Name | None = None
    """The price file beside this one."""
    glue: BoxGlue | None = None
    """What the box is glued with, by its catalogue name."""
    temperature: Temperature | None = None
    """How warm the shop is, day and night."""
    start: date | None = None
    """The day of the first visit."""
    hours_a_day: HoursADay | None = None
    """Hours at the work in a day."""
    days_off: Rows[DayOff] | None = None
    """Weekdays, days and stretches of days without work."""
    answer_days: int | None = Field(default=None, ge=0, le=365)
    """Days from the quote to the signed choices."""
    delivery_days: int | None = Field(default=None, ge=0, le=365)
    """Days from the order to what was ordered."""
    long_test: bool = True
    """Whether the load test stands for 24 hours."""
    retrofit_bays: int = Field(default=0, ge=0, le=40)
    """Bays of the wall that get blocking before the rods."""


class DoubtTable(Table):
    """For the ranges of the answer."""

    seed: int = Field(ge=0, le=2**53)
    """Where the random numbers begin."""


class ChooseTable(Table):
    """What `choose` may change, and how long it looks."""

    vary: Rows[Vary] | None = None
    """What may be changed."""
    bars: Rows[BarName] | None = None
    """Bars to choose from, by their catalogue names."""
    skins: Rows[PanelName] | None = None
    """Panels to choose from, by their catalogue names."""
    adhesives: Rows[RodAdhesive] | None = None
    """Adhesives to choose from, by their catalogue names."""
    cores: Rows[LumberName] | None = None
    """Timbers of the core to choose from, by their catalogue names."""
    thick: Pair | None = None
    """The least and the most that the whole shelf may be thick."""
    designs: int | None = Field(default=None, ge=1, le=100_000)
    """How many designs are worked through at most."""


class BondedTable(Table):
    """What of a rod is in the wall, as it was bonded."""

    stock: BarName
    """The steel bar."""
    length: Positive
    """How long it was cut."""
    embedment: Positive
    """Depth in the stud it was set to."""
    hole: Positive
    """Diameter of the hole it is in."""
    adhesive: RodAdhesive
    """What it was set in."""


class RodSetTable(Table):
    """One rod as set."""

    at: Text
    """Its place."""
    wall: Pair
    """Along and up, at the wall."""
    tip: Pair
    """Along and up, at the tip."""
    out: Positive
    """Stick-out."""
    bonded: BondedTable | None = None
    """What was bonded: bar, its length, depth, hole, adhesive."""


class LoadTestTable(Table):
    """One step of a load test."""

    shelf: Id | None = None
    """The shelf, where more than one has a leg on that wall."""
    put: Rows[Annotated[tuple[Mass, Text, Length], AsTuple]]
    """All that stands on it in this step: weights, each with its place and its distance from the wall."""
    tool: Gauge | None = Field(default=None, alias="with")
    """What is read with: a rule against a fixed mark, or a dial gauge or feelers."""
    wait: Hours
    """How long it has stood there when it is read."""
    read: Annotated[Rows[Annotated[tuple[Text, Signed], AsTuple]], Field(min_length=1)]
    """Places along the front, each with how far it has gone down from zero."""


class SiteTable(Table):
    """The day on site."""

    datum: Name | None = None
    """What heights count from."""
    temperature: MaybeTemperature | None = None
    """On the day the rods are set."""
    doorway: Positive | None = None
    """The narrowest doorway on the way in."""
    heat: MaybeTemperature | None = None
    """How hot it gets at the rods."""
    rod: Rows[RodSetTable] = ()
    """Rods as set."""
    test: Rows[LoadTestTable] = ()
    """Load tests."""


class JobFile(Head):
    """A job file of format 1."""

    job: JobTable
    """What the job is called and how it is built."""
    wall: Rows[WallTable] = Field(min_length=1, max_length=26)
    """The walls, left to right as you face them."""
    corner: Rows[CornerTable] = ()
    """Where walls meet."""
    obstacle: Rows[ObstacleTable] = ()
    """What is in the way."""
    shelf: Rows[ShelfTable] = Field(min_length=1)
    """The shelves."""
    shop: ShopTable | None = None
    """The shop."""
    measure: MeasureTable | None = None
    """How the place was measured."""
    doubt: DoubtTable | None = None
    """For the ranges of the answer."""
    choose: ChooseTable | None = None
    """What `choose` may change."""
    site: SiteTable | None = None
    """The day on site."""


class PriceTable(Table):
    """A price file."""

    format: Literal[1]
    """The number of this file format: 1."""
    currency: Name
    """Three letters."""
    stock: dict[str, PriceRow] = {}
    """Catalogue name to price and unit."""
    rates: dict[str, Rate] = {}
    """Charges of the shop by name."""


_FIGURE: dict[str, object] = {"anyOf": [{"type": "number"}, {"type": "string"}]}
_PAIR: dict[str, object] = {"type": "array", "items": _FIGURE, "minItems": 2, "maxItems": 2}
_LISTS: dict[str, dict[str, object]] = {
    "StudTable": {"type": "array", "items": _FIGURE, "minItems": 2, "maxItems": 3},
    "AcrossTable": {"type": "array", "items": _FIGURE, "minItems": 3, "maxItems": 4},
    "RiseTable": {"type": "array", "items": _FIGURE, "minItems": 3, "maxItems": 4},
    "BlockingTable": {
        "type": "array",
        "prefixItems": [_FIGURE, _FIGURE, _PAIR],
        "minItems": 3,
        "maxItems": 3,
    },
}


def schema() -> dict[str, object]:
    """Return the JSON Schema of the job file.

    Source: JSON Schema 2020-12, https://json-schema.org/draft/2020-12

    Returns:
        The schema of the TOML document with its dates written as text; figures are checked further
        when the file is read.
    """
    made = JobFile.model_json_schema(by_alias=True, mode="validation")
    tables = made["$defs"]
    for name, short in _LISTS.items():
        tables[name] = {"anyOf": [tables[name], short]}
    taped = tables["CornerTable"]["properties"]["taped"]
    one = {"type": "array", "items": _FIGURE, "minItems": 3, "maxItems": 3}
    tables["CornerTable"]["properties"]["taped"] = {
        "description": taped.pop("description"),
        "anyOf": [taped, one],
    }
    dialect = "https://json-schema.org/draft/2020-12/schema"
    return {"$schema": dialect, **made, "title": "Ledgewright job file"}
