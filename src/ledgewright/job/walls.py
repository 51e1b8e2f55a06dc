"""From the tables of walls, corners and obstacles to what the tape said, every place signed."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from ledgewright.job.fields import is_unknown
from ledgewright.job.findings import Ear, nearest
from ledgewright.job.marks import marks, own_mark
from ledgewright.job.model import (
    Fixing,
    Framing,
    Known,
    TapedCorner,
    TapedLine,
    TapedMember,
    TapedObstacle,
    TapedWall,
    Told,
)
from ledgewright.job.places import Path
from ledgewright.job.schema import (
    BlockingTable,
    CornerTable,
    FixedTable,
    KnownTable,
    ObstacleTable,
    StudTable,
    WallTable,
)
from ledgewright.stock import Timber

SHORTEST_WALL = 250.0
LONGEST_WALL = 15_000.0
WIDEST_GAP = 100.0
OFF_ITS_LINE = 25.0
"""A gap so far off what the gaps beside it make likely looks odd (mm; our choice)."""
SHORT_LINE = 0.25
"""Gaps that end before this share of their wall look odd: inches in a file of millimetres end there."""
NEAREST_MARK = 150.0
"""Marks nearer to a corner than this tell little of its angle, and look like inches (mm; our choice)."""
STUD_UNLIKE = 3.0
PIECES = (2, 3)
"""So many studs are nailed side by side under a beam or beside an opening (common practice)."""
SEAMS = 5.0
"""So near to the width of two or three, a stud is two or three side by side (mm; our choice: tape and seams)."""
LIKE_PIECES = 0.25
"""Within this share of a stud's width of two or three it may be two or three side by side (our choice)."""
EACH_PIECE = "enter each piece as a stud of its own: a rod in the seam holds nothing"
SEAM = f"if it is more than one side by side, {EACH_PIECE}"
HIGHEST = 4_000.0
STOREYS = (1_800.0, 6_000.0)
"""Floors to ceilings that do not look odd (mm)."""
NEAR = 1e-6
WIDEST_PITCH = 1_300.0
MOST_STUDS = 60
UNLIKE = 25.0
"""How far from the wall's a stud's own depth may lie before it looks odd (mm; our choice)."""
DEEPEST_WOOD = 100.0
"""Wood deeper than this behind the face looks odd where no lining is told (mm; our choice)."""
TWISTED = 6.0
"""A stud whose middle lies further aside at its back than this share of its width is no place for a rod."""


@dataclass(frozen=True)
class Walls:
    """The walls that could be read, and the ids of all that stand in the file.

    `unsure` names walls with something wrong among their members: no place on them is judged by those.
    `whole` is false where a wall lacks an id or shares one: then an unknown name is no news.
    """

    read: tuple[TapedWall, ...]
    ids: tuple[str, ...]
    unsure: frozenset[str]
    whole: bool

    def find(self, name: str) -> TapedWall | None:
        """Return the wall of that id, or None."""
        return next((wall for wall in self.read if wall.id == name), None)

    def place(self, name: str) -> int:
        """Return where the wall stands in the row of walls, from 0."""
        return self.ids.index(name)


def right_end(wall: TapedWall) -> float:
    """Return the `along` of the right end of a wall."""
    return 0.0 if wall.tape_from == "right" else wall.length


def left_end(wall: TapedWall) -> float:
    """Return the `along` of the left end of a wall."""
    return right_end(wall) - wall.length


def signed(wall: TapedWall, taped: float) -> float:
    """Return the `along` of a figure read off the tape of this wall."""
    return -taped if wall.tape_from == "right" else taped


def taped(wall: TapedWall, along: float) -> float:
    """Return the figure a tape hooked at this wall's own end shows."""
    return -along if wall.tape_from == "right" else along


def known_wall(ear: Ear, walls: Walls, name: str, path: Path) -> TapedWall | None:
    """Return the wall of that id; None with a finding if the file has none such, None alone if it is faulty."""
    if name not in walls.ids and walls.whole:
        near = nearest(name, walls.ids)
        right = f'did you mean "{near}"?' if near else "the walls are: " + ", ".join(walls.ids)
        ear.refuse("wall", path, f'there is no wall "{name}"', right)
    return walls.find(name)


def build(
    ear: Ear, tables: Sequence[WallTable | None], ids: Sequence[str], carrying: frozenset[str]
) -> Walls:
    """Return the walls as taped.

    Args:
        ear: hears what is wrong.
        tables: the walls in file order; None where one could not be read.
        ids: the ids of all walls in the file, "" where there is none.
        carrying: ids of walls a shelf stands on; only these leave open items.
    """
    letters = marks(ids)
    _check_letters(ear, ids, letters)
    read = [
        _wall(ear, table, ("wall", i), letters[i], needed=table.id in carrying)
        for i, table in enumerate(tables)
        if table is not None
    ]
    named = [name for name in ids if name]
    return Walls(
        read=tuple(read),
        ids=tuple(ids),
        unsure=frozenset(ids[i] for i in _faulty(ear, len(ids))),
        whole=len(set(named)) == len(ids),
    )


def _check_letters(ear: Ear, ids: Sequence[str], letters: Sequence[str]) -> None:
    """No wall may bear a letter that is another's name: who drills goes by the letter."""
    for i, (name, letter) in enumerate(zip(ids, letters, strict=True)):
        own = own_mark(name)
        if own in (None, letter) or name in ids[:i]:
            continue
        ear.refuse(
            "duplicate",
            ("wall", i, "id"),
            f'"{name}" and "{next(each for each in ids if own_mark(each) == own)}" are both wall {own}',
            "give each a name that cannot be taken for the other's",
        )


def _faulty(ear: Ear, count: int) -> frozenset[int]:
    """Return which walls have something refused among their studs or blocking."""
    refused = [place for place in ear.refused if place[:1] == ("wall",) and len(place) > 2]
    keys = ("studs", "blocking")
    return frozenset(
        place[1]
        for place in refused
        if place[2] in keys and isinstance(place[1], int) and place[1] < count
    )


def _wall(ear: Ear, table: WallTable, path: Path, mark: str, *, needed: bool) -> TapedWall:
    if not SHORTEST_WALL <= table.length <= LONGEST_WALL:
        ear.ask((*path, "length"), f"a wall {ear.length(table.length)} long looks odd")
    if table.height is not None and not STOREYS[0] <= table.height <= STOREYS[1]:
        ear.ask((*path, "height"), f"a wall {ear.length(table.height)} high looks odd")
    framing, timber = _framing(ear, table, path, needed=needed)
    sign = -1.0 if table.tape_from == "right" else 1.0
    return TapedWall(
        id=table.id,
        mark=mark,
        tape_from=table.tape_from,
        length=table.length,
        lines=_lines(ear, table, path, sign, needed=needed),
        framing=framing,
        timber=timber,
        depth_to_wood=_depth_to_wood(ear, table, path, needed=needed),
        lining=tuple(table.lining),
        members=_members(ear, table, path, timber, sign),
        known=_known(ear, table.known, path, needed=needed),
        path=ear.path(path),
        height=table.height,
    )


def _framing(
    ear: Ear, table: WallTable, path: Path, *, needed: bool
) -> tuple[Framing, Timber | None]:
    given = table.framing
    at = (*path, "framing")
    of = given.of if given else None
    kind: Framing = (given.kind if given and given.kind else None) or ("wood" if of else "unknown")
    if isinstance(of, Timber) and kind != "wood":
        ear.refuse(
            "framing",
            at,
            f"a {of.name} is wood, but the kind says {kind}",
            'leave out kind, or write kind = "wood"',
        )
    if needed and kind == "unknown":
        ear.open(
            at,
            "nobody knows what the wall is framed with: no rod may be drilled and nothing can be said about strength",
        )
    elif needed and kind == "wood" and not isinstance(of, Timber):
        ear.open(
            (*at, "of"),
            "the studs' size and species are not known: nothing can be said about strength",
        )
    elif needed and kind in ("masonry", "metal"):
        ear.open(
            at,
            f"rods into {kind} are outside what is reckoned here: nothing can be said about strength",
        )
    return kind, of if isinstance(of, Timber) else None


def _depth_to_wood(ear: Ear, table: WallTable, path: Path, *, needed: bool) -> float | None:
    at = (*path, "depth_to_wood")
    lining = sum(thick for _, thick in table.lining)
    own = [stud.depth_to_wood for stud in table.studs if stud.depth_to_wood is not None]
    if own and not isinstance(table.depth_to_wood, float):
        ear.took(at, ear.length(max(own)), "the deepest of its studs", "the job file")
        return max(own)
    if isinstance(table.depth_to_wood, float):
        if table.lining and table.depth_to_wood < lining - 3:
            ear.ask(at, f"the lining alone is {ear.length(lining)} thick")
        elif table.depth_to_wood > lining + (UNLIKE if table.lining else DEEPEST_WOOD):
            told = (
                f"the lining is {ear.length(lining)} thick" if table.lining else "no lining is told"
            )
            ear.ask(at, f"{ear.length(table.depth_to_wood)} to the wood looks odd: {told}")
        _check_depths(ear, table, table.depth_to_wood, path)
        return table.depth_to_wood
    if table.lining:
        ear.took(at, ear.length(lining), "the lining's layers added up", "the job file")
        return lining
    if needed:
        ear.open(
            at,
            "how far it is to the wood is not known: no drop, no load limit and no drill card until it is",
        )
    return None


def _check_depths(ear: Ear, table: WallTable, deep: float, path: Path) -> None:
    """Studs stand a little behind one another; one far off its wall's depth is rather a slip, or no place for a rod."""
    for i, stud in enumerate(table.studs):
        own = stud.depth_to_wood
        if own is not None and abs(own - deep) > UNLIKE and not stud.lost:
            ear.ask(
                (*path, "studs", i, "depth_to_wood"),
                f"this stud is said to lie {ear.length(own)} behind the face, its wall {ear.length(deep)}",
            )


def _lines(
    ear: Ear, table: WallTable, path: Path, sign: float, *, needed: bool
) -> tuple[TapedLine, ...]:
    found = []
    if table.line is not None:
        at = (*path, "line")
        off = table.off or "string"
        found.append(TapedLine(None, _gaps(ear, table, table.line, at, sign), off, ear.path(at)))
    for i, line in enumerate(table.lines):
        at = (*path, "lines", i, "line")
        off = line.off or table.off or "string"
        found.append(TapedLine(line.up, _gaps(ear, table, line.line, at, sign), off, ear.path(at)))
    if found:
        return tuple(found)
    ear.default("wall.line", (*path, "line"))
    if needed:
        ear.open(
            (*path, "line"),
            "no gaps to a straight line were taped: scribe and hollows are not known",
        )
    # a line without gaps: the wall is drawn straight, and its face is in doubt
    return (TapedLine(None, ()),)


def _gaps(
    ear: Ear, table: WallTable, line: Sequence[tuple[float, float]], path: Path, sign: float
) -> tuple[tuple[float, float], ...]:
    for i, (before, after) in enumerate(pairwise(line), start=1):
        if after[0] == before[0]:
            ear.refuse(
                "order",
                (*path, i),
                f"two gaps stand at {ear.length(after[0])}",
                "keep the right one",
            )
        elif after[0] < before[0]:
            wrong = f"{ear.length(after[0])} comes after {ear.length(before[0])}"
            ear.refuse(
                "order", (*path, i), wrong, "write the places in the order the tape meets them"
            )
    end = line[-1][0] if line else table.length
    if end < min(table.length * SHORT_LINE, SHORTEST_WALL):
        there, whole = ear.length(end), ear.length(table.length)
        ear.ask((*path, len(line) - 1), f"these gaps end at {there}, the wall is {whole} long")
    for i, (at, gap) in enumerate(line):
        if at > table.length + NEAR:
            ear.refuse(
                "place",
                (*path, i),
                f"this place is past the wall, which is {ear.length(table.length)} long",
                "write a place on the wall",
            )
        if gap > WIDEST_GAP:
            ear.ask((*path, i), f"a gap of {ear.length(gap)} looks odd")
    worst = max(_off_line(line), default=(0.0, 0))
    if worst[0] > OFF_ITS_LINE and line[worst[1]][1] <= WIDEST_GAP:
        wide = ear.length(line[worst[1]][1])
        ear.ask((*path, worst[1]), f"a gap of {wide} looks odd beside those before and after it")
    return tuple(sorted((sign * at + 0.0, gap) for at, gap in line))


def _off_line(line: Sequence[tuple[float, float]]) -> Iterator[tuple[float, int]]:
    """How far each gap lies off the straight through its neighbours, with its number; less for ends, which have one."""
    if len(line) < 3 or any(a[0] >= b[0] for a, b in pairwise(line)):
        return
    for i in range(1, len(line) - 1):
        yield abs(line[i][1] - _straight(line[i][0], line[i - 1], line[i + 1])), i
    for i, one, two in ((0, line[1], line[2]), (len(line) - 1, line[-2], line[-3])):
        gap = line[i][1]
        off = min(abs(gap - one[1]), abs(gap - _straight(line[i][0], one, two)))
        yield off - NEAR, i


def _straight(at: float, a: tuple[float, float], b: tuple[float, float]) -> float:
    return a[1] + (b[1] - a[1]) * (at - a[0]) / (b[0] - a[0])


def _members(
    ear: Ear, table: WallTable, path: Path, timber: Timber | None, sign: float
) -> tuple[TapedMember, ...]:
    studs = _studs(ear, table, path, timber, sign)
    blocks = [
        _block(ear, table, block, (*path, "blocking", i), sign, f"b{i + 1}", timber)
        for i, block in enumerate(table.blocking)
    ]
    members = [m for m in (*studs, *blocks) if m is not None]
    seen: set[str] = set()
    for member in members:
        if member.id in seen:
            ear.refuse(
                "duplicate",
                path,
                f'two members of this wall are called "{member.id.split(".", 1)[1]}"',
                "give each its own name",
            )
        seen.add(member.id)
    return tuple(sorted(members, key=lambda m: (m.left, m.right)))


def _studs(
    ear: Ear, table: WallTable, path: Path, timber: Timber | None, sign: float
) -> list[TapedMember | None]:
    if table.pitch is not None:
        return _pitched(ear, table, path, timber, sign)
    edges = [_edges(ear, stud, (*path, "studs", i), timber) for i, stud in enumerate(table.studs)]
    _check_row(ear, table, edges, (*path, "studs"))
    if timber:
        _check_widths(ear, table.studs, edges, timber, (*path, "studs"))
    used: set[str] = set()
    made: list[TapedMember | None] = []
    for i, (stud, pair) in enumerate(zip(table.studs, edges, strict=True)):
        at = (*path, "studs", i)
        key, sd = _doubt(stud)
        if stud.doubt is None and pair is not None and key not in used:
            sd = ear.default(key, (*path, "studs"))
            used.add(key)
        if pair:
            sd = math.hypot(sd, _aside(ear, stud, pair, at, timber))
        made.append(_stud(ear, table, stud, pair, at, sign, sd, i + 1) if pair else None)
    return made


def _aside(
    ear: Ear, stud: StudTable, pair: tuple[float, float], path: Path, timber: Timber | None
) -> float:
    """How far the middle of a twisted stud lies aside at its back: a rod set square runs that much off it."""
    if not stud.twist or timber is None:
        return 0.0
    width = pair[1] - pair[0]
    aside = timber.depth * stud.twist / width
    if aside > width / TWISTED and not stud.lost:
        wrong = f"its middle lies {ear.length(aside)} aside at its back, on a stud {ear.length(width)} wide"
        ear.refuse("stud", path, wrong, 'write lost = "twisted" and take the next one')
    return aside


def _pitched(
    ear: Ear, table: WallTable, path: Path, timber: Timber | None, sign: float
) -> list[TapedMember | None]:
    """Studs by their spacing: as many as were counted, or as the wall holds."""
    pitch, at = table.pitch, (*path, "pitch")
    if pitch is None:
        return []
    if table.studs:
        ear.refuse("stud", at, "studs are told one by one and by their pitch", "keep one of them")
        return []
    if timber is None:
        ear.refuse("stud", at, "nothing tells how wide these studs are", "name the framing")
        return []
    if not timber.width < pitch.every <= WIDEST_PITCH:
        ear.ask((*at, "every"), f"studs every {ear.length(pitch.every)} look odd")
    room = math.floor((table.length - timber.width - pitch.first) / pitch.every + NEAR) + 1
    if pitch.count is not None and pitch.count > room:
        wrong = f"the wall holds {max(room, 0)} of these studs, not {pitch.count}"
        ear.refuse("place", (*at, "count"), wrong, "count them again, or tape the wall again")
        return []
    sd = pitch.doubt
    if sd is None:
        sd = ear.default("wall.studs.doubt pitch", at)
    count = room if pitch.count is None else pitch.count
    lefts = [pitch.first + k * pitch.every for k in range(min(count, MOST_STUDS))]
    pairs = [sorted((sign * s, sign * (s + timber.width))) for s in lefts]
    return [
        TapedMember(
            id=f"{table.id}.s{k}",
            name=None,
            kind="stud",
            left=left,
            right=right,
            up=None,
            sd=sd,
            path=ear.path(at),
            told="pitch",
        )
        for k, (left, right) in enumerate(pairs, start=1)
    ]


def _doubt(stud: StudTable) -> tuple[str, float]:
    from ledgewright.job import defaults

    both = stud.left is not None and stud.right is not None
    edge = stud.left is not None or stud.right is not None
    key = "wall.studs.doubt" + ("" if both else " one edge" if edge else " finder")
    return key, stud.doubt if stud.doubt is not None else defaults.find(key).number


def _stud(
    ear: Ear,
    table: WallTable,
    stud: StudTable,
    edges: tuple[float, float],
    path: Path,
    sign: float,
    sd: float,
    number: int,
) -> TapedMember:
    left, right = sorted((sign * edges[0], sign * edges[1]))
    name = slug(stud.name) if stud.name else f"s{number}"
    if stud.name and not name:
        ear.refuse("id", path, "this name has no letter or figure in it", "write a name")
    return TapedMember(
        id=f"{table.id}.{name}",
        name=stud.name,
        kind="stud",
        left=left,
        right=right,
        up=None,
        sd=sd,
        path=ear.path(path),
        told=_told(stud),
        lost=stud.lost,
        depth=stud.depth_to_wood,
        twist=stud.twist or 0.0,
    )


def _told(stud: StudTable) -> Told:
    if stud.left is not None and stud.right is not None:
        return "both edges"
    return "finder" if stud.centre is not None else "one edge"


def slug(name: str) -> str:
    """Return a name in lower case with dashes for everything that is no letter or figure."""
    return "-".join(re.findall(r"[^\W_]+", name.casefold()))


def _edges(
    ear: Ear, stud: StudTable, path: Path, timber: Timber | None
) -> tuple[float, float] | None:
    """Return both edges as taped, the missing one by the width of the timber."""
    left, right, centre = stud.left, stud.right, stud.centre
    if left is not None and right is not None and centre is None:
        if right <= left:
            ear.refuse(
                "order",
                path,
                "the second edge is not past the first",
                "write the edge the tape meets first, then the other",
            )
            return None
        return left, right
    if sum(x is not None for x in (left, right, centre)) != 1:
        ear.refuse(
            "stud",
            path,
            "a stud is told by both edges, or by one edge, or by its centre",
            'write ["5 3/4", "7 1/4"], or { left = "5 3/4" }, or { centre = "6 1/2" }',
        )
        return None
    if timber is None:
        ear.refuse(
            "stud",
            path,
            "one figure does for a stud only where framing says how wide it is",
            "tape the other edge too, or name the framing",
        )
        return None
    width = timber.width
    start = (
        left
        if left is not None
        else (right - width if right is not None else (centre or 0.0) - width / 2)
    )
    return start, start + width


def _check_row(
    ear: Ear, table: WallTable, edges: Sequence[tuple[float, float] | None], path: Path
) -> None:
    for i, pair in enumerate(edges):
        if pair and (pair[1] > table.length + NEAR or pair[0] < -NEAR):
            ear.refuse(
                "place",
                (*path, i),
                f"this stud is not on the wall, which is {ear.length(table.length)} long",
                "tape it again, or the wall",
            )
    row = [(i, pair) for i, pair in enumerate(edges) if pair and pair[1] <= table.length + NEAR]
    for (_, before), (i, after) in pairwise(row):
        if after[0] < before[0]:
            ear.refuse(
                "order",
                (*path, i),
                "this stud stands before the one written above it",
                "write the studs in the order the tape meets them",
            )
        elif after[0] < before[1] - NEAR:
            begins, ends = ear.length(after[0]), ear.length(before[1])
            wrong = f"this stud begins at {begins}, inside the one before it, which ends at {ends}"
            ear.refuse(
                "overlap", (*path, i), wrong, "tape both again; a double stud is two that touch"
            )


def _check_widths(
    ear: Ear,
    studs: Sequence[StudTable],
    edges: Sequence[tuple[float, float] | None],
    timber: Timber,
    path: Path,
) -> None:
    for i, (stud, pair) in enumerate(zip(studs, edges, strict=True)):
        width = pair[1] - pair[0] if pair else timber.width
        if abs(width - timber.width) <= STUD_UNLIKE:
            continue
        wrong = (
            f"this stud is {ear.length(width)} wide, a {timber.name} is {ear.length(timber.width)}"
        )
        pieces = round(width / timber.width)
        off = abs(width - pieces * timber.width)
        if pieces not in PIECES or off > LIKE_PIECES * timber.width:
            ear.ask((*path, i), wrong)
        elif off > SEAMS or stud.lost:
            ear.ask((*path, i), f"{wrong}; {SEAM}")
        else:
            # Nobody may stand by it: a rod goes to the middle, and there two pieces meet, or may.
            ear.refuse("stud", (*path, i), f"{wrong}: that is {pieces} side by side", EACH_PIECE)


def _block(
    ear: Ear,
    table: WallTable,
    block: BlockingTable,
    path: Path,
    sign: float,
    name: str,
    timber: Timber | None,
) -> TapedMember | None:
    fixed = _fixing(ear, block.fixed, timber, (*path, "fixed")) if block.fixed else None
    if not block.start < block.end <= table.length + NEAR or not block.up[0] < block.up[1]:
        ear.refuse(
            "order",
            path,
            "the ends or heights of this blocking are out of order or past the wall",
            "write [from, to, [bottom, top]] in the order the tape meets them",
        )
        return None
    left, right = sorted((sign * block.start, sign * block.end))
    sd, key = 1.0, "wall.studs.doubt"
    if not table.studs:
        sd = ear.default(key, path)
    return TapedMember(
        id=f"{table.id}.{name}",
        name=None,
        kind="blocking",
        left=left,
        right=right,
        up=block.up,
        sd=sd,
        path=ear.path(path),
        fixed=fixed,
    )


def _fixing(ear: Ear, table: FixedTable, timber: Timber | None, path: Path) -> Fixing:
    if table.each_end > 1 and table.apart is None:
        ear.refuse(
            "missing",
            (*path, "apart"),
            "nothing tells how far apart the outermost two of an end are",
            f"measure between them and write apart = {ear.toml(50.8)}, or whatever it is",
        )
    elif table.apart is not None and table.each_end == 1:
        ear.refuse("fixing", (*path, "apart"), "one alone is apart from nothing", "leave it out")
    if table.how == "toed" and table.through is not None:
        ear.refuse(
            "fixing",
            (*path, "through"),
            "what is toed in passes no stud first",
            "leave it out",
        )
    if timber is not None:
        _check_fixing(ear, table, timber, path)
    return Fixing(table.driven, table.each_end, table.apart or 0.0, table.how, table.through)


def _check_fixing(ear: Ear, table: FixedTable, timber: Timber, path: Path) -> None:
    """It reaches the block, and the outermost stand in the block's end."""
    across = math.hypot(timber.width, timber.depth)
    if table.apart is not None and table.apart >= across:
        wrong = f"the end of a {timber.name} is {ear.length(across)} from corner to corner"
        ear.refuse(
            "fixing", (*path, "apart"), wrong, "measure between the outermost two of one end"
        )
    passed = table.through or timber.width
    if table.how == "through the stud" and table.driven.length <= passed:
        long = ear.length(table.driven.length)
        ear.refuse(
            "fixing",
            (*path, "with"),
            f"it is {long} long and passes {ear.length(passed)} of stud: it does not reach the block",
            "take a longer one, or write what holds the block",
        )


def _known(ear: Ear, table: KnownTable | None, path: Path, *, needed: bool) -> Known:
    at = (*path, "known")
    how = table.how if table else "unknown"
    bearing = table.bearing if table else "unknown"
    services = table.services if table else None
    if services is not None and (not services.strip() or is_unknown(services)):
        services = None
    if needed and how == "unknown":
        ear.open((*at, "how"), "nobody has said what is behind the wall: nothing may be drilled")
    if needed and bearing == "unknown":
        ear.open(
            (*at, "bearing"),
            "it is taken for a bearing wall: a named engineer must accept the holes",
        )
    if table is not None and table.engineer is not None and table.engineer_stale:
        ear.open(
            (*at, "engineer_stale"),
            f"the rods were changed after {table.engineer} accepted them: ask for that word anew before anything is "
            "drilled, then take engineer_stale out",
        )
    fire = table.fire if table else None
    if fire == "unknown":
        ear.open(
            (*at, "fire"),
            "nobody knows whether the lining has to keep fire or sound: ask before it is bored",
        )
    if needed and services is None:
        ear.open(
            (*at, "services"),
            "pipes and cables are not ruled out: detect, isolate and drill a pilot at each hole",
        )
    return Known(
        how=how,
        on=table.on if table else None,
        bearing=bearing,
        services=services,
        photo=table.photo if table else None,
        engineer=table.engineer if table else None,
        by=table.by if table else None,
        up=table.up if table else None,
        photos=table.photos if table else (),
        fire=fire,
        fire_stop=table.fire_stop if table else None,
        engineer_stale=table is not None and table.engineer is not None and table.engineer_stale,
    )


def corners(
    ear: Ear, tables: Sequence[CornerTable | None], walls: Walls, *, across: bool = False
) -> tuple[TapedCorner, ...]:
    """Return the corners as taped, each from its left wall to the next.

    Args:
        ear: hears what is wrong.
        tables: the corners in file order, None where one could not be read.
        walls: the walls of the job.
        across: whether tapes from mark to mark may tell how wide a corner is.
    """
    made = [
        _corner(ear, table, ("corner", i), walls, across=across)
        for i, table in enumerate(tables)
        if table is not None
    ]
    seen: set[str] = set()
    for i, corner in enumerate(made):
        if corner and corner.left in seen:
            ear.refuse(
                "duplicate",
                ("corner", i),
                "this corner is in the file twice",
                "put all its tapes in one [[corner]]",
            )
        if corner:
            seen.add(corner.left)
    return tuple(corner for corner in made if corner)


def _corner(
    ear: Ear, table: CornerTable, path: Path, walls: Walls, *, across: bool
) -> TapedCorner | None:
    for i, name in enumerate(table.walls):
        known_wall(ear, walls, name, (*path, "walls", i))
    if not all(name in walls.ids for name in table.walls):
        return None
    first, second = (walls.place(name) for name in table.walls)
    if abs(first - second) != 1 and walls.whole:
        ear.refuse(
            "corner",
            (*path, "walls"),
            "these two walls are not neighbours in the file",
            "walls stand from left to right as you face them; a corner joins one to the next",
        )
        return None
    if first > second and walls.whole:
        _refuse_order(ear, table.walls, (*path, "walls"), second)
        return None
    for i, triple in enumerate(table.taped):
        _check_triangle(ear, triple, _triple_path(ear, path, i))
    read = table.taped or table.tapes or table.angle is not None or table.square_gap is not None
    if not read and not across:
        ear.refuse(
            "corner",
            path,
            "nothing tells how wide this corner is",
            'write taped = [a, b, straight across], or angle = "90.5 deg", or square_gap = [gap, at]',
        )
    angle = None if table.angle == "unknown" else table.angle
    if read and angle is None and not (table.taped or table.tapes or table.square_gap):
        _nobody_taped(ear, (*path, "angle"))
    if angle is not None and angle > math.pi and table.turn == "inside":
        ear.refuse(
            "corner",
            (*path, "angle"),
            "the walls of an inside corner stand less than 180 deg apart",
            'measure between the two faces in the room, like "90.5 deg"; or write turn = "outside"',
        )
        return None
    between = None if angle is None else min(angle, 2 * math.pi - angle)
    if between is not None and not math.radians(60) <= between <= math.radians(150):
        ear.ask((*path, "angle"), "a corner this sharp or this wide looks odd")
    return TapedCorner(
        left=table.walls[0],
        right=table.walls[1],
        turn=table.turn,
        taped=table.taped,
        angle=angle,
        square_gap=table.square_gap,
        path=ear.path(path),
    )


def _nobody_taped(ear: Ear, path: Path) -> None:
    """A corner that somebody said nobody has taped: told, and never as if it had been."""
    ear.default_text("corner.angle", path)
    ear.open(
        path,
        "nobody has taped this corner: it is taken for square, to a degree; what is cut to it may not fit",
    )


def _refuse_order(ear: Ear, names: tuple[str, str], path: Path, second: int) -> None:
    """One of the two orders is a slip, and nothing else in the file tells which."""
    left, right = names
    line = ear.line(("wall", second))
    ear.refuse(
        "corner",
        path,
        f'as you face them "{left}" is left of "{right}" here, but its [[wall]] stands after that of "{right}"'
        + (f" (line {line})" if line else ""),
        f'walls stand from left to right as you face them: move the [[wall]] of "{left}" above that of "{right}"; '
        f'or, if "{right}" is the left one, write walls = ["{right}", "{left}"] and the tapes in that order',
    )


def _triple_path(ear: Ear, path: Path, i: int) -> Path:
    from ledgewright.job import places

    at = (*path, "taped", i)
    return at if isinstance(places.value_at(ear.document, at), list) else (*path, "taped")


def _check_triangle(ear: Ear, triple: tuple[float, float, float], path: Path) -> None:
    a, b, c = triple
    if not abs(a - b) < c < a + b:
        legs = f"{ear.length(a)} and {ear.length(b)}"
        wrong = f"these three tapes cannot meet: {ear.length(c)} across does not close on {legs}"
        ear.refuse(
            "corner",
            path,
            wrong,
            "tape again: a mark along each wall from the corner, then straight from mark to mark",
        )
        return
    if min(a, b) < NEAREST_MARK:
        near = ear.length(min(a, b))
        ear.ask(path, f"a mark {near} from its corner tells little of its angle, and looks odd")
    angle = math.acos((a * a + b * b - c * c) / (2 * a * b))
    if not math.radians(60) <= angle <= math.radians(150):
        ear.ask(
            path, f"these tapes make a corner of {math.degrees(angle):.0f} degrees, which looks odd"
        )


def obstacles(
    ear: Ear, tables: Sequence[ObstacleTable | None], walls: Walls
) -> tuple[TapedObstacle, ...]:
    """Return what is in the way, every place signed."""
    made = [
        _obstacle(ear, table, ("obstacle", i), walls)
        for i, table in enumerate(tables)
        if table is not None
    ]
    return tuple(found for found in made if found)


def _obstacle(ear: Ear, table: ObstacleTable, path: Path, walls: Walls) -> TapedObstacle | None:
    wall = known_wall(ear, walls, table.wall, (*path, "wall"))
    for key, pair in (("along", table.along), ("out", table.out), ("up", table.up)):
        if not pair[0] < pair[1]:
            ear.refuse(
                "order",
                (*path, key),
                "the second figure is not past the first",
                "write the nearer edge, then the farther",
            )
    if wall is None:
        return None
    if table.along[1] > wall.length + NEAR:
        ear.refuse(
            "place",
            (*path, "along"),
            f"this is past the wall, which is {ear.length(wall.length)} long",
            "write places on the wall",
        )
    left, right = sorted((signed(wall, table.along[0]), signed(wall, table.along[1])))
    return TapedObstacle(
        id=table.id,
        wall=wall.id,
        along=(left + 0.0, right + 0.0),
        out=table.out,
        up=table.up,
        path=ear.path(path),
    )
