"""The stoneware corner as a hand-made Plan, so that drawings and sheets can be tested by themselves.

Geometry is worked out here in plain steps from the figures of the scene; the results of the statics, the
bill and the core are placeholders of the right shape and prove nothing. Alongs on wall A are negative,
because it is taped from its right-hand end, the corner.
"""

from __future__ import annotations

import math
from datetime import date
from itertools import pairwise

from ledgewright import plane
from ledgewright.core import Core, Piece, Span
from ledgewright.fitting import Block, Channel, Loss, Move, Way, Ways
from ledgewright.job import (
    Accident,
    Assumed,
    Clearance,
    CoreSpec,
    Demand,
    Even,
    Job,
    Known,
    Leg,
    Limits,
    Lock,
    Meta,
    OpenItem,
    RodSpec,
    Shop,
    Site,
    Skin,
    Spec,
    TapedCorner,
    TapedLine,
    TapedMember,
    TapedObstacle,
    TapedWall,
    Tapes,
    Thing,
)
from ledgewright.judge import Design
from ledgewright.layout import Frame, LegAt, Rod, Slot, Station
from ledgewright.plan import Plan
from ledgewright.plane import Line, Point, Ring
from ledgewright.shop import Bill, Part
from ledgewright.shop import Line as BillLine
from ledgewright.site import Drill, Hole, Leave, Withheld
from ledgewright.statics import CannotSay, Check, Drop, DropAt, Holds, Place, RodForce, Step
from ledgewright.stock import Adhesive, Bar, Lumber, Panel, Timber
from ledgewright.survey import Corner, Member, Obstacle, Room, Wall

IN = 25.4
LBF = 4.4482216
FT = 12 * IN

SPF = Timber(
    name="spf 2x4",
    width=1.5 * IN,
    depth=3.5 * IN,
    species="spruce-pine-fir",
    grade="No. 2",
    G=0.42,
    Fb=6.03,
    Fv=0.93,
    Fc_perp=2.93,
    E=9653.0,
    fm_k=None,
    fv_k=None,
    fc90_k=None,
    ft90_k=None,
    E_mean=None,
    rho_k=None,
    rho_mean=None,
    source="placeholder of the sample",
    status="from memory",
)
BAR = Bar(
    name="round 5/8 1018",
    shape="round",
    width=0.625 * IN,
    height=0.625 * IN,
    wall=0.0,
    steel="1018 cold drawn",
    E=200000.0,
    Fy=370.0,
    Fu=440.0,
    yield_is="typical",
    source="placeholder of the sample",
    status="from memory",
)
EPOXY = Adhesive(
    name="epoxy thickened",
    use="rods",
    E_low=800.0,
    E_likely=2000.0,
    E_high=3500.0,
    nu=0.38,
    creep=2.0,
    density=1200.0,
    leave_alone=10.0,
    work=20.0,
    full_load=36.0,
    coldest=10.0,
    source="placeholder of the sample",
    status="from memory",
)
OAK_PLY = Panel(
    name="white oak ply 3/4",
    kind="veneer ply",
    thick=0.734 * IN,
    sheets=((48 * IN, 96 * IN),),
    density=600.0,
    E_along=9000.0,
    E_across=5000.0,
    k_def=0.8,
    source="placeholder of the sample",
    status="from memory",
)
POPLAR = Lumber("poplar", 455.0, 10900.0, 0.0029, "placeholder of the sample", "from memory")
OAK = Lumber("white oak", 755.0, 12270.0, 0.00365, "placeholder of the sample", "from memory")

CLEARANCE = Clearance(up=IN / 32, side=IN / 16, end=0.5 * IN)
DEPTH, TOP, SKIN, CORE_THICK = 10.5 * IN, 54.375 * IN, 0.734 * IN, 21 * IN / 32
EMBEDMENT, HOLE = 3.125 * IN, 0.75 * IN
PROJECTION = {"A": 8.25 * IN, "B": 6.0 * IN}
TO_WOOD = {"A": 21 * IN / 32, "B": 11 * IN / 16}
STUDS: dict[str, tuple[tuple[float, float], ...]] = {
    "A": ((14.6875, 16.1875), (30.8125, 32.3125), (46.5625, 48.125), (63.125, 64.625)),
    "B": ((13.4375, 14.9375), (29.5625, 31.0625), (45.3125, 46.8125)),
}
GAPS: dict[str, tuple[float, ...]] = {
    "A": (1, 1 + 1 / 16, 1 + 5 / 32, 1 + 7 / 32, 1 + 5 / 32, 1 + 1 / 32, 31 / 32, 1),
    "B": (1, 31 / 32, 29 / 32, 7 / 8, 29 / 32, 15 / 16, 1, 1),
}
PITCH = {"A": 12.0, "B": 9.0}
LENGTH = {"A": 88.375 * IN, "B": 63.0 * IN}
LEG = {"A": 69.25 * IN, "B": 50.125 * IN}
SIDE = {"A": -1, "B": 1}
OFFSET, HOLD_OFF, CLEAR = 6.25 * IN, IN / 16, 0.25 * IN
STRIP, RIB = 1.25 * IN, 1.25 * IN


def corner_angle() -> float:
    """Return the mean of the two taped angles by the law of cosines (rad), about 91.1 degrees."""
    tapes = ((48.0, 36.0, 60.5625), (60.0, 45.0, 75.6875))
    return sum(math.acos((a * a + b * b - c * c) / (2 * a * b)) for a, b, c in tapes) / 2


def _face(wall: str) -> Line:
    gaps = GAPS[wall]
    line = [(SIDE[wall] * k * PITCH[wall] * IN, (gaps[0] - gap) * IN) for k, gap in enumerate(gaps)]
    if wall == "A":
        line.append((-LENGTH["A"], line[-1][1]))
    return tuple(sorted(line))


def _members(wall: str) -> tuple[Member, ...]:
    made = []
    for k, edges in enumerate(STUDS[wall]):
        left, right = sorted(SIDE[wall] * e * IN for e in edges)
        made.append(
            Member(f"{wall}.s{k + 1}", wall, None, "stud", left, right, None, 0.8, SPF),
        )
    return tuple(sorted(made, key=lambda m: m.left))


KNOWN = {
    "A": Known(
        "opened it", date(2026, 11, 12), "no", "cables below 50 1/2, scanned", "a.jpg", None
    ),
    "B": Known("framed it", date(2026, 11, 12), "no", "none at shelf height", "b.jpg", None),
}


def _wall(wall: str, direction: Point) -> Wall:
    return Wall(
        id=wall,
        mark=wall,
        origin=(0.0, 0.0),
        direction=direction,
        start=-LENGTH["A"] if wall == "A" else 0.0,
        end=0.0 if wall == "A" else LENGTH["B"],
        line=_face(wall),
        sd=0.4,
        tape_from="right" if wall == "A" else "left",
        framing="wood",
        timber=SPF,
        depth_to_wood=TO_WOOD[wall],
        lining=(("gypsum board", TO_WOOD[wall]),),
        members=_members(wall),
        known=KNOWN[wall],
    )


def _box(wall: Wall, along: tuple[float, float], out: tuple[float, float]) -> Ring:
    corners = [
        (along[0], out[0]),
        (along[0], out[1]),
        (along[1], out[1]),
        (along[1], out[0]),
    ]
    return plane.ccw([wall.at(a * IN, o * IN) for a, o in corners])


def room() -> Room:
    """Return the surveyed room: the two walls meet at the plan's origin."""
    a = _wall("A", (1.0, 0.0))
    b = _wall("B", plane.turn((1.0, 0.0), -(math.pi - corner_angle())))
    obstacles = (
        Obstacle("door casing", "A", _box(a, (-88.375, -84.625), (0, 0.75)), (0.0, 83 * IN)),
        Obstacle(
            "double switch", "A", _box(a, (-74.625, -70.125), (0, 0.25)), (46 * IN, 50.5 * IN)
        ),
        Obstacle("window casing", "B", _box(b, (53.125, 56.875), (0, 0.75)), (38 * IN, 80 * IN)),
    )
    corners = (Corner("A", "B", "inside", (0.0, 0.0), corner_angle(), 0.001),)
    return Room((a, b), corners, obstacles, ())


def _back(wall: Wall, start: float, end: float) -> Line:
    inner = [p for p in wall.line if start < p[0] < end]
    figures = [(start, wall.face(start)), *inner, (end, wall.face(end))]
    return tuple(wall.at(*p) for p in figures)


def _leg(wall: Wall) -> LegAt:
    size = LEG[wall.id]
    start, end = (-size, 0.0) if wall.id == "A" else (0.0, size)
    stations = [start, end, *(p[0] for p in wall.line if start < p[0] < end)]
    band = max(wall.face(x) for x in stations)
    return LegAt(
        wall=wall.id,
        start=start,
        end=end,
        back=_back(wall, start, end),
        front=(wall.at(start, band + DEPTH), wall.at(end, band + DEPTH)),
        left_end="free" if wall.id == "A" else "corner",
        right_end="corner" if wall.id == "A" else "free",
        band=band,
        depth=DEPTH,
    )


def _joined(a: LegAt, b: LegAt, walls: Room) -> tuple[LegAt, LegAt, Point]:
    """Return both legs with their fronts ended at the inner corner, and that corner."""
    wall_a, wall_b = walls.wall("A"), walls.wall("B")
    inner = plane.meet(a.front[0], wall_a.direction, b.front[0], wall_b.direction)
    assert inner is not None

    def with_front(leg: LegAt, front: tuple[Point, Point]) -> LegAt:
        return LegAt(**{**leg.__dict__, "front": front})

    return with_front(a, (a.front[0], inner)), with_front(b, (inner, b.front[1])), inner


def _rod(wall: Wall, member: Member) -> Rod:
    face = wall.face(member.centre)
    start = wall.at(member.centre, face - TO_WOOD[wall.id])
    axis = (*wall.outward, 0.0) if wall.id == "A" else (-1.0, 0.0, 0.0)
    return Rod(
        id=member.id,
        mark=member.id.replace(".s", ""),
        wall=wall.id,
        member=member.id,
        bar=BAR,
        origin=(*start, TOP - SKIN - CORE_THICK / 2),
        axis=axis,
        embedment=EMBEDMENT,
        free=TO_WOOD[wall.id],
        projection=PROJECTION[wall.id],
        hole=HOLE,
        adhesive=EPOXY,
        clearance=CLEARANCE,
        in_slot="dry",
    )


def _pocket(rod: Rod, left: float, right: float) -> Ring:
    """Return the rectangle about the rod from the face to past its tip, `left` and `right` of the axis."""
    axis = (rod.axis[0], rod.axis[1])
    across = plane.left(axis)
    mouth = rod.point(rod.free - 4)
    end = rod.point(rod.free + rod.projection + rod.clearance.end)
    return plane.ccw(
        [
            plane.along(mouth, across, left),
            plane.along(end, across, left),
            plane.along(end, across, -right),
            plane.along(mouth, across, -right),
        ],
    )


def _slot(rod: Rod) -> Slot:
    half = rod.bar.width / 2 + rod.clearance.side
    return Slot(rod.id, _pocket(rod, half, half), rod.projection + rod.clearance.end, 2 * half)


def frame(walls: Room) -> Frame:
    """Return the shelf at home."""
    a, b, inner = _joined(_leg(walls.wall("A")), _leg(walls.wall("B")), walls)
    outline = plane.ccw([*a.back, *b.back[1:], b.front[1], inner, a.front[0]])
    wall_a, wall_b = walls.wall("A"), walls.wall("B")
    spare = 0.5 * IN
    back_a, back_b = a.band - spare, b.band - spare
    corner = plane.meet(
        wall_a.at(0, back_a), wall_a.direction, wall_b.at(0, back_b), wall_b.direction
    )
    assert corner is not None
    blank = plane.ccw(
        [
            wall_a.at(a.start, back_a),
            corner,
            wall_b.at(b.end, back_b),
            b.front[1],
            inner,
            a.front[0],
        ],
    )
    stations = tuple(
        Station(w.id, x, w.face(x) - back)
        for w, leg, back in ((wall_a, a, back_a), (wall_b, b, back_b))
        for x in sorted({leg.start, leg.end, *(p[0] for p in w.line if leg.start < p[0] < leg.end)})
    )
    rods = tuple(_rod(w, m) for w in walls.walls for m in w.members)
    return Frame(
        shelf="corner",
        outline=outline,
        blank=blank,
        legs=(a, b),
        scribe=stations,
        rods=rods,
        slots=tuple(_slot(r) for r in rods),
        top=TOP,
        thick=2 * SKIN + CORE_THICK,
        first="A",
    )


def _channel(rod: Rod) -> Channel:
    half = rod.bar.width / 2 + rod.clearance.side
    # Seen along A's axis (down the page) the left hand points to +x: where the rod sat before the slide.
    ring = (
        _pocket(rod, half + OFFSET, half)
        if rod.wall == "A"
        else _pocket(rod, half + HOLD_OFF, half)
    )
    return Channel(rod.id, ring, abs(plane.area(ring)))


def ways(home: Frame) -> Ways:
    """Return the way over A first, possible, and the reverse, blocked by the window casing."""
    in_from = PROJECTION["A"] + CLEAR
    channels = tuple(_channel(r) for r in home.rods)
    swept = plane.hull([*plane.shift(home.outline, (-OFFSET, -in_from)), *home.outline])
    loss = Loss(sum(c.area for c in channels), max(OFFSET, 0) + BAR.width + 2 * CLEARANCE.side)
    good = Way(
        id="first-A",
        kind="first-left",
        possible=True,
        moves=(
            Move(0.0, in_from - HOLD_OFF, 0.0, "onto the rods of wall A"),
            Move(OFFSET, 0.0, 0.0, "slide to wall B"),
            Move(0.0, HOLD_OFF, 0.0, "home against wall A"),
        ),
        hold_off=HOLD_OFF,
        channels=channels,
        room_needed=swept,
        loss=loss,
        blocked=(),
    )
    bad = Way(
        id="first-B",
        kind="first-right",
        possible=False,
        moves=(),
        hold_off=HOLD_OFF,
        channels=(),
        room_needed=(),
        loss=Loss(0.0, 0.0),
        blocked=(Block("window casing", 1, 5.25 * IN),),
    )
    return Ways((good, bad), "first-A")


def _strip(leg: LegAt, wall: Wall, out: tuple[float, float], span: tuple[float, float]) -> Ring:
    return plane.ccw(
        [
            wall.at(span[0], out[0]),
            wall.at(span[1], out[0]),
            wall.at(span[1], out[1]),
            wall.at(span[0], out[1]),
        ],
    )


def _free_spans(rods: list[Rod], wall: Wall, start: float, end: float) -> list[tuple[float, float]]:
    """Return the stretches of the back strip between the channels of a wall."""
    half = BAR.width / 2 + CLEARANCE.side
    right = half + (OFFSET if wall.id == "A" else HOLD_OFF)
    cuts = sorted(
        (wall.figures(r.point(r.free))[0] - half, wall.figures(r.point(r.free))[0] + right)
        for r in rods
    )
    edges = [start, *(x for cut in cuts for x in cut), end]
    return [(edges[k], edges[k + 1]) for k in range(0, len(edges), 2)]


def core(home: Frame, walls: Room) -> Core:
    """Return strips round the edge, broken at the channels, and a rib between each two rods."""
    pieces: list[Piece] = []

    def put(kind: str, ring: Ring, length: float, width: float) -> None:
        pieces.append(Piece(f"K{len(pieces) + 1}", kind, ring, length, width))  # type: ignore[arg-type]

    for leg in home.legs:
        wall = walls.wall(leg.wall)
        mine = [r for r in home.rods if r.wall == leg.wall]
        inside = (leg.start, -DEPTH) if leg.wall == "A" else (DEPTH, leg.end)
        whole = (leg.start, 0.0) if leg.wall == "A" else (STRIP, leg.end)
        low, high = min(p[1] for p in wall.line), leg.band + DEPTH
        for span in _free_spans(mine, wall, *whole):
            put("back strip", _strip(leg, wall, (low, low + STRIP), span), span[1] - span[0], STRIP)
        put(
            "front strip",
            _strip(leg, wall, (high - STRIP, high), inside),
            inside[1] - inside[0],
            STRIP,
        )
        for span in _free_spans(mine, wall, *inside):
            middle = (span[0] + span[1]) / 2
            size = high - low - 2 * STRIP
            ring = _strip(
                leg, wall, (low + STRIP, high - STRIP), (middle - RIB / 2, middle + RIB / 2)
            )
            put("rib", ring, size, RIB)
    spans = tuple(Span((p.id, q.id), 8.5 * IN) for p, q in pairwise(pieces))
    glue = sum(abs(plane.area(p.plan)) for p in pieces)
    return Core(tuple(pieces), (), spans, 9.0 * IN, glue, 1, ())


def spec() -> Spec:
    """Return the shelf as the job asks for it."""
    skin = Skin(OAK_PLY, SKIN, "mitred")
    rods = tuple(
        RodSpec(
            w, f"{w}.s{k + 1}", BAR, EMBEDMENT, PROJECTION[w], HOLE, EPOXY, CLEARANCE, "dry", ""
        )
        for w in STUDS
        for k in range(len(STUDS[w]))
    )
    return Spec(
        id="corner",
        top=TOP,
        depth=DEPTH,
        legs=(Leg("A", -LEG["A"], 0.0), Leg("B", 0.0, LEG["B"])),
        skin_top=skin,
        skin_bottom=Skin(OAK_PLY, SKIN, "butted"),
        core=CoreSpec(POPLAR, CORE_THICK, STRIP, RIB, 9.5 * IN),
        sections=1,
        edging=OAK,
        edging_thick=0.75 * IN,
        scribe_allowance=0.5 * IN,
        back="tight",
        back_gap=0.0,
        end_gap=0.0,
        finish="hardwax oil",
        coats=2,
        lock=Lock("grub screw", ("A.s2", "B.s2")),
        rods=rods,
        groove=None,
        first="A",
        path="shelf[0]",
    )


def _step(symbol: str, formula: str, numbers: str, value: float, unit: str) -> Step:
    return Step(symbol, formula, numbers, value, unit, "placeholder of the sample", assumed=False)


def holds(home: Frame) -> Holds:
    """Return placeholder statics: the right shape, no meaning."""
    steps = (
        _step("M", "F dot e", "214 dot 152", 32528.0, "N mm"),
        _step("M_n", "F_y dot Z", "370 dot 667", 246790.0, "N mm"),
    )
    checks = tuple(
        Check(
            id=f"rod.bend@{r.id}",
            family="rod.bend",
            title="rod in bending",
            place=Place(r.wall, r.member, 0.0, r.origin[2]),
            case="D+L",
            demand=32528.0 + 500 * k,
            capacity=147778.0,
            ratio=(32528.0 + 500 * k) / 147778.0,
            unit="N mm",
            state="passes",
            scope="in",
            information=False,
            reason="",
            source="placeholder of the sample",
            steps=steps,
        )
        for k, r in enumerate(home.rods)
    )
    forces = tuple(
        RodForce(r.id, "D+L", 214.0, 152.0, 214.0, 32528.0, 0.05, 0.0012, 0.6, 0.004)
        for r in home.rods
    )
    return Holds(
        verdict="cannot say",
        checks=checks,
        drop=Drop(
            DropAt(1.1, IN / 16, "A.s4", "D+L less D"),
            DropAt(2.3, IN / 8, "A.s4", "D+L less D"),
            hang_tilt=0.7,
            shim=0.5,
        ),
        forces=forces,
        load_limit=None,
        cannot_say=(CannotSay("skin.mouth", "this family is not worked out yet"),),
        governs=checks[-1].id,
        mass=21.3,
    )


def parts(home: Frame) -> tuple[Part, ...]:
    """Return a short cut list: skins, strips, edging, two lots of rods."""
    leg_a, leg_b = LEG["A"], LEG["B"]
    thick = CORE_THICK
    rows: list[Part] = []

    def put(name: str, of: str, kind: str, count: int, size: tuple[float, float, float]) -> None:
        rough = (size[0] + 25.4, size[1] + 6.35, size[2]) if kind != "rod" else size
        letter = chr(ord("A") + len(rows))
        rows.append(Part(letter, name, of, kind, count, size, rough, None, ""))  # type: ignore[arg-type]

    put("top skin, leg A", "white oak ply 3/4", "skin", 1, (leg_a, DEPTH, SKIN))
    put("top skin, leg B", "white oak ply 3/4", "skin", 1, (leg_b, DEPTH, SKIN))
    put("bottom skin, leg A", "white oak ply 3/4", "skin", 1, (leg_a, DEPTH, SKIN))
    put("bottom skin, leg B", "white oak ply 3/4", "skin", 1, (leg_b - DEPTH, DEPTH, SKIN))
    put("front strip, leg A", "poplar", "core", 1, (leg_a - DEPTH, STRIP, thick))
    put("rib", "poplar", "core", 7, (7.5 * IN, RIB, thick))
    put("front edging, leg A", "white oak", "edging", 1, (leg_a - DEPTH, 0.75 * IN, home.thick))
    put("rods, wall A", BAR.name, "rod", 4, (12 * IN + IN / 32, BAR.width, BAR.height))
    put("rods, wall B", BAR.name, "rod", 3, (9.8125 * IN, BAR.width, BAR.height))
    return tuple(rows)


def bill() -> Bill:
    """Return a bill with one price unknown."""
    return Bill(
        mass=21.3,
        hours=30.25,
        price=None,
        lines=(
            BillLine("white oak ply 3/4", 1.0, "sheet", 142.0, 142.0),
            BillLine("poplar", 3.2, "bf", 4.2, 13.44),
            BillLine("round 5/8 1018", 7.0, "ft", 4.1, 28.7),
            BillLine("sandpaper", 1.0, "lot", None, None),
        ),
        hour_lines=(("first visit", 1.5), ("rods", 1.8), ("glue-up", 2.0)),
        missing=("no price for sandpaper",),
    )


def design() -> Design:
    """Return the one shelf of the sample, worked through."""
    walls = room()
    home = frame(walls)
    looked_at = ways(home)
    return Design(
        spec=spec(),
        room=walls,
        frame=home,
        ways=looked_at,
        way=looked_at.way(),
        core=core(home, walls),
        holds=holds(home),
        parts=parts(home),
        bill=bill(),
        openings=(),
        demand=demand(),
        basis="nds",
    )


def _hole(rod: Rod, walls: Room) -> Hole:
    wall = walls.wall(rod.wall)
    member = next(m for m in wall.members if m.id == rod.member)
    first, second = sorted((wall.taped(member.left), wall.taped(member.right)))
    return Hole(
        rod=rod.id,
        mark=rod.mark,
        member=member.id,
        taped=wall.taped(member.centre),
        edges=(first, second),
        up=rod.origin[2],
        bit=rod.hole,
        depth_in_wood=rod.embedment,
        depth_from_face=rod.embedment + rod.free,
        stick_out=rod.projection,
        cut_length=rod.cut_length,
    )


def leave(of: Design, wall: str, withheld: bool) -> Leave:
    """Return leave to drill a wall, or what must be answered first."""
    if withheld:
        return Withheld(wall, ("What is behind this wall, and how do you know?", "Is it bearing?"))
    direction = (
        "square to the straight ledger"
        if wall == "A"
        else "parallel to the straight ledger on wall A"
    )
    holes = [_hole(r, of.room) for r in of.frame.rods if r.wall == wall]
    return Drill(
        wall,
        "opened it, photo a.jpg" if wall == "A" else "framed it, photo b.jpg",
        direction,
        tuple(sorted(holes, key=lambda h: h.taped)),
    )


def _taped_wall(wall: Wall, k: int) -> TapedWall:
    gaps = tuple((x, IN - out) for x, out in wall.line)
    members = tuple(
        TapedMember(m.id, m.name, m.kind, m.left, m.right, m.up, m.sd, f"wall[{k}].studs")
        for m in wall.members
    )
    return TapedWall(
        id=wall.id,
        mark=wall.mark,
        tape_from=wall.tape_from,
        length=LENGTH[wall.id],
        lines=(TapedLine(None, gaps),),
        framing=wall.framing,
        timber=wall.timber,
        depth_to_wood=wall.depth_to_wood,
        lining=wall.lining,
        members=members,
        known=wall.known,
        path=f"wall[{k}]",
    )


def _tapes(walls: Room) -> Tapes:
    taped = ((48 * IN, 36 * IN, 60.5625 * IN), (60 * IN, 45 * IN, 75.6875 * IN))
    corner = TapedCorner("A", "B", "inside", taped, None, None, "corner[0]")
    obstacles = []
    for k, item in enumerate(walls.obstacles):
        figures = [walls.wall(item.wall).figures(p) for p in item.plan]
        lo, hi = min(f[0] for f in figures), max(f[0] for f in figures)
        out = max(f[1] for f in figures)
        obstacles.append(
            TapedObstacle(item.id, item.wall, (lo, hi), (0.0, out), item.up, f"obstacle[{k}]"),
        )
    return Tapes(
        datum="floor high point",
        walls=tuple(_taped_wall(w, k) for k, w in enumerate(walls.walls)),
        corners=(corner,),
        obstacles=tuple(obstacles),
    )


def demand() -> Demand:
    """Return what the shelf must carry."""
    ware = Even("ware", None, 16 * LBF / FT, None, None, None, "years", assumed=False)
    urn = Thing("urn", "A", -41 * IN, 5 * IN, (9 * IN, 9 * IN), None, 38 * 0.45359237, "years")
    jar = Thing("jar", "B", 40 * IN, 5 * IN, (8 * IN, 8 * IN), None, 27 * 0.45359237, "years")
    return Demand(
        shelf="corner",
        loads=(ware, urn, jar),
        accidents=(Accident("lean", 600.0, 100.0, "someone leans on the edge"),),
        single=300.0,
        limits=Limits(IN / 16, IN / 8, assumed=False),
        accident_declined=False,
    )


def job(walls: Room) -> Job:
    """Return the job behind the sample."""
    meta = Meta(
        name="Stoneware corner",
        place="pottery showroom, left of the door",
        client="",
        file="stoneware-corner.toml",
        revision="sha256:0123456789abcdef",
        format=1,
        units="in",
        basis="nds",
        words="en-US",
        sheets="letter",
        order="rods first",
    )
    return Job(
        meta=meta,
        tapes=_tapes(walls),
        shelves=(spec(),),
        demands=(demand(),),
        shop=Shop((), IN / 8, IN / 4, "straight guide", 2, 22, None),
        site=Site(18.9, 32.25 * IN),
        assumed=(
            Assumed("shelf[0].load", "600 N at the edge", "not stated", "the table of defaults"),
        ),
        open_items=(OpenItem("wall[1].known.services", "no hole on wall B before this is known"),),
        notes=(),
    )


def plan(withheld: tuple[str, ...] = ()) -> Plan:
    """Return the whole sample; walls named in `withheld` may not be drilled."""
    of = design()
    return Plan(
        job=job(of.room),
        designs=(of,),
        leave=tuple(("corner", w.id, leave(of, w.id, w.id in withheld)) for w in of.room.walls),
        verdict="cannot say",
        not_computed=(("doubt", "ranges are not sampled yet"),),
    )
