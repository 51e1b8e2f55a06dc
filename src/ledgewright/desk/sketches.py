"""Drawings that follow the forms: the packet's own views of a job laid out but not judged, and what moves on them.

A handle is the remote control of fields of a form: along each of its axes stand the places it snaps to, each with
what is then written. Everything here is made in a working process; the page only shows it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from dataclasses import asdict, dataclass
from typing import Any

from ledgewright import draw, statics, units
from ledgewright.desk.moving import place
from ledgewright.desk.stages import tables
from ledgewright.job import Even, Job, Leg, Spec, TapedWall, Thing, Unit, places
from ledgewright.judge import Design
from ledgewright.layout import Rod
from ledgewright.plan import Plan
from ledgewright.plane import Point
from ledgewright.sheets import as_set, pictures, views
from ledgewright.sheets.bounds import shown
from ledgewright.sheets.leaves import held_walls, leaves
from ledgewright.sheets.say import Say
from ledgewright.sheets.spoken import drawn, own_names
from ledgewright.sheets.views.facing import facing
from ledgewright.site import Off
from ledgewright.survey import Wall

Answer = dict[str, Any]
EDGE = 4.0
"""Blank edge round a drawing on a page (mm of paper), so that a handle on its outline can be taken hold of."""
DEEP = 3
"""The column of a leg's own depth among those of the legs (`stages`)."""
MOVE = "move"
"""In the place of a field: moving a rod writes more than one (see `moving`)."""


@dataclass(frozen=True)
class Axis:
    """One direction a handle goes in: what it writes, its course on the drawing per mm, the places it snaps to.

    field: name of the input, or `MOVE`. snaps: (how far from where it stands, mm; what is written), in order.
    """

    field: str
    course: Point
    snaps: tuple[tuple[float, str], ...]


@dataclass(frozen=True)
class Handle:
    """Something on a drawing that can be moved: what it is, where it stands, its outline there (mm of the drawing)."""

    stage: str
    label: str
    at: Point
    axes: tuple[Axis, ...]
    ring: tuple[Point, ...] = ()
    key: str = ""


@dataclass(frozen=True)
class Patch:
    """What stands on a drawing beside the packet's own lines: a load, its outline and its name (mm of the drawing)."""

    stage: str
    label: str
    ring: tuple[Point, ...]


@dataclass(frozen=True)
class Paper:
    """Where a thing drawn stands on the page: the drawing's scale and the box of paper it is shown in."""

    scale: float
    box: tuple[float, float, float, float]

    @classmethod
    def of(cls, drawing: draw.Drawing) -> Paper:
        """The paper of a drawing, with a blank edge."""
        x0, y0, x1, y1 = draw.flat_bounds(draw.lay(drawing))
        return cls(drawing.scale, (x0 - EDGE, y0 - EDGE, x1 + EDGE, y1 + EDGE))

    def at(self, point: Point) -> Point:
        """Return a point of the thing on the page (mm, down from its upper left corner)."""
        return (point[0] * self.scale - self.box[0], self.box[3] - point[1] * self.scale)

    def course(self, course: Point) -> Point:
        """Return a direction of the thing on the page."""
        return (course[0] * self.scale, -course[1] * self.scale)


@dataclass(frozen=True)
class _Of:
    """What every handle is made from: the job as written, how it writes, one section turned as it is drawn."""

    job: Job
    document: Mapping[str, Any]
    design: Design
    number: int
    paper: Paper

    @property
    def unit(self) -> Unit:
        return self.job.meta.units

    @property
    def spec(self) -> Spec:
        """The whole shelf as the file has it."""
        return self.job.shelves[self.number]

    def wall(self, name: str) -> Wall:
        return self.design.room.wall(name)

    def taped(self, name: str) -> TapedWall:
        return next(wall for wall in self.job.tapes.walls if wall.id == name)

    def field(self, *steps: str | int) -> str:
        """The name of the input that writes one key."""
        return f"f:{places.written(self.document, steps)}"

    def row(self, row: int, column: int, *steps: str | int) -> str:
        """The name of the input of one cell of a list."""
        return f"r:{places.written(self.document, steps)}:{row}:{column}"


def sketched(plan: Plan, document: Mapping[str, Any]) -> Answer:
    """Return the drawings of a job with their handles, and the rods that are read on site.

    Args:
        plan: laid out and fitted; it need not be judged.
        document: the job file it was read from.
    """
    say = Say.of(plan.job.meta, own_names(plan))
    shown: list[Answer] = []
    for design in plan.designs:
        number = _number(plan.job, design)
        held = held_walls(plan, design)
        turned = facing(design)
        with_plan = _plan(plan, turned, say, held)
        if with_plan is not None:
            paper = Paper.of(with_plan)
            of = _Of(plan.job, document, turned, number, paper)
            first = _first_of(plan, design)
            handles = _on_plan(of, held, first=first)
            shown.append(
                _picture(f"plan {design.spec.id}", with_plan, paper, handles, _patches(of))
            )
        for leg in design.frame.legs:
            shown += _elevation(plan, design, number, leg.wall, say, document)
    shown += _whole(plan, say)
    return {"drawings": shown, "rods": [_rods(plan, design, document) for design in plan.designs]}


def _number(job: Job, design: Design) -> int:
    return next(k for k, spec in enumerate(job.shelves) if spec.id == design.spec.whole)


def _first_of(plan: Plan, design: Design) -> bool:
    """Whether it is the first section of its shelf, which takes the handles of the whole."""
    number = _number(plan.job, design)
    return next(d for d in plan.designs if _number(plan.job, d) == number) is design


def _box() -> tuple[float, float]:
    return (pictures.PAPER["letter"][0] - 2 * pictures.SIDE, pictures.WHOLE)


def _plan(plan: Plan, design: Design, say: Say, held: frozenset[str]) -> draw.Drawing | None:
    try:
        return drawn(views.plan_view(design, say, _box(), held), say)
    except draw.TooLarge:
        return None


def _whole(plan: Plan, say: Say) -> Iterator[Answer]:
    """Each shelf in sections as it hangs; what can be moved stands on the plans of its sections."""
    for name, view in pictures.whole_plans(plan, say, _box()[0]):
        with suppress(draw.TooLarge):
            drawing = drawn(view(), say)
            yield _picture(name, drawing, Paper.of(drawing), (), ())


def _elevation(
    plan: Plan, design: Design, number: int, wall: str, say: Say, document: Mapping[str, Any]
) -> Iterator[Answer]:
    leave = next((each for each in leaves(plan, design) if each.wall == wall), None)
    try:
        drawing = drawn(
            views.elevation_view(design, wall, leave, say, _box(), plan.job.tapes.datum), say
        )
    except draw.TooLarge:
        return
    paper = Paper.of(drawing)
    of = _Of(plan.job, document, design, number, paper)
    handles = [*_edges(of, wall), *_top(of, wall)]
    yield _picture(f"wall {design.spec.id} {wall}", drawing, paper, handles, ())


def _picture(
    name: str,
    drawing: draw.Drawing,
    paper: Paper,
    handles: Iterable[Handle],
    patches: Iterable[Patch],
) -> Answer:
    return {
        "name": name,
        "title": drawing.title,
        "svg": draw.svg(drawing, paper.box),
        "handles": [asdict(each) for each in handles],
        "patches": [asdict(each) for each in patches],
    }


def _patches(of: _Of) -> Iterator[Patch]:
    """Loads that lie on part of a leg; things are drawn by their handles."""
    for load in of.design.demand.loads:
        if isinstance(load, Thing) or load.start is None or load.end is None:
            continue
        for leg, low, high in statics.spans(of.design, load):
            wall, mid = of.wall(leg.wall), leg.band + leg.depth / 2
            quarter = leg.depth / 4
            corners = (
                (low, mid - quarter),
                (high, mid - quarter),
                (high, mid + quarter),
                (low, mid + quarter),
            )
            ring = tuple(of.paper.at(wall.at(*corner)) for corner in corners)
            yield Patch("loads", load.id, ring)


def _on_plan(of: _Of, held: frozenset[str], *, first: bool) -> Iterator[Handle]:
    yield from _moved_rods(of, held)
    yield from _loads(of)
    yield from _ends(of)
    yield from _depth(of, first=first)


def _moved_rods(of: _Of, held: frozenset[str]) -> Iterator[Handle]:
    """A rod goes to the middle of another stud of its wall; none on a wall that nobody may drill."""
    for rod in of.design.frame.rods:
        if rod.wall in held:
            continue
        wall = of.wall(rod.wall)
        leg = next((leg for leg in of.design.frame.legs if leg.wall == rod.wall), None)
        if leg is None:
            continue
        taken = {r.member for r in of.design.frame.rods if r.wall == rod.wall} - {rod.member}
        own = next(m for m in wall.members if m.id == rod.member)
        aside = next(r.aside for r in of.design.spec.rods if r.member == rod.member)
        up = rod.origin[2]
        free = sorted(
            (
                m
                for m in wall.members
                if m.id not in taken
                and not m.lost
                and leg.start < m.centre < leg.end
                and (m.up is None or m.up[0] <= up <= m.up[1])
            ),
            key=lambda m: m.centre,
        )
        taped = {m.id: m for m in of.taped(rod.wall).members}
        snaps = tuple(
            (
                m.centre - own.centre - (m is not own) * aside,
                place(of.taped(rod.wall), taped[m.id], of.job, (m is own) * aside),
            )
            for m in free
            if m.id in taped
        )
        spot = rod.point(rod.free + rod.projection * 0.72)
        axis = Axis(MOVE, of.paper.course(wall.direction), snaps)
        label = f"Rod {rod.mark}"
        yield Handle("rods", label, of.paper.at(spot), (axis,), key=f"{of.spec.id}|{rod.member}")


def _loads(of: _Of) -> Iterator[Handle]:
    listed = tables(tables(of.document, "shelf")[of.number], "load")
    for load in of.design.demand.loads:
        k = next((k for k, each in enumerate(listed) if each.get("id") == load.id), None)
        if k is None:
            continue
        steps = ("shelf", of.number, "load", k)
        if isinstance(load, Thing):
            yield from _thing(of, load, steps)
        elif load.wall is not None and load.start is not None and load.end is not None:
            yield from _strip(of, load, steps)


def _thing(of: _Of, load: Thing, steps: tuple[str | int, ...]) -> Iterator[Handle]:
    leg = next((leg for leg in of.design.frame.legs if leg.wall == load.wall), None)
    if leg is None:
        return
    wall, step = of.wall(load.wall), 6.35 if of.unit == "in" else 5.0
    half, deep = load.size[0] / 2, load.size[1] / 2
    # all of it stays on the leg, or it would be written half past an end
    ends = _within((leg.start, leg.end), half)
    depths = _within((0.0, leg.depth), deep)
    ring = tuple(
        of.paper.at(wall.at(load.along + a, load.out + o))
        for a, o in ((-half, -deep), (half, -deep), (half, deep), (-half, deep))
    )
    along = Axis(
        of.field(*steps, "at"),
        of.paper.course(wall.direction),
        _taped_snaps(of, load.wall, load.along, ends, step, named=True),
    )
    out = Axis(
        of.field(*steps, "out"),
        of.paper.course(wall.outward),
        _snaps(load.out, depths, step, of.unit),
    )
    at = of.paper.at(wall.at(load.along, load.out))
    yield Handle("loads", load.id, at, (along, out), ring)


def _within(reach: Point, half: float) -> Point:
    """What the middle of something may reach so that it stays within; the middle alone where it is too large."""
    low, high = reach[0] + half, reach[1] - half
    return (low, high) if low <= high else ((low + high) / 2, (low + high) / 2)


def _strip(of: _Of, load: Even, steps: tuple[str | int, ...]) -> Iterator[Handle]:
    """Both ends of a load on part of a leg."""
    leg = next((leg for leg in of.design.frame.legs if leg.wall == load.wall), None)
    if leg is None or load.start is None or load.end is None or load.wall is None:
        return
    wall, step = of.wall(load.wall), 25.4 if of.unit == "in" else 10.0
    near, far = (load.start, load.end) if wall.tape_from == "left" else (load.end, load.start)
    for key, along in (("from", near), ("to", far)):
        axis = Axis(
            of.field(*steps, key),
            of.paper.course(wall.direction),
            _taped_snaps(of, load.wall, along, (leg.start, leg.end), step),
        )
        at = of.paper.at(wall.at(along, leg.band + leg.depth / 2))
        yield Handle("loads", f"{load.id}, {key}", at, (axis,))


def _ends(of: _Of) -> Iterator[Handle]:
    """The free ends of legs."""
    for leg in of.design.frame.legs:
        written = _written(of, leg.wall)
        if written is None:
            continue
        row, raw = written
        wall, step = of.wall(leg.wall), 3.175 if of.unit == "in" else 1.0
        for x, own, end in (
            (leg.start, raw.start, leg.left_end),
            (leg.end, raw.end, leg.right_end),
        ):
            if end != "free":
                continue
            far = abs(own) >= max(abs(raw.start), abs(raw.end)) - 1e-9
            axis = Axis(
                of.row(row, 2 if far else 1, "shelf", of.number, "legs"),
                of.paper.course(wall.direction),
                _taped_snaps(of, leg.wall, own, (own - 300.0, own + 300.0), step),
            )
            at = of.paper.at(wall.at(x, leg.band + leg.depth / 2))
            yield Handle("shelf", f"End of the leg on {leg.wall}", at, (axis,))


def _written(of: _Of, wall: str) -> tuple[int, Leg] | None:
    """The row of the file that a leg stands in, and what it says: the file may have the right one first."""
    rows = tables(of.document, "shelf")[of.number].get("legs", [])
    row = next((k for k, each in enumerate(rows) if each.get("wall") == wall), None)
    raw = next((leg for leg in of.spec.legs if leg.wall == wall), None)
    return None if row is None or raw is None else (row, raw)


def _depth(of: _Of, *, first: bool) -> Iterator[Handle]:
    """The front edge: of every leg with a depth of its own, and of the first that is as deep as the shelf.

    first: whether it is the first section; of a straight shelf that one alone has it.
    """
    if len(of.spec.legs) == 1 and not first:
        return
    shared = next((leg.wall for leg in of.spec.legs if leg.depth is None), None)
    for leg in of.design.frame.legs:
        written = _written(of, leg.wall)
        if written is None:
            continue
        row, raw = written
        own = raw.depth is not None
        if not own and leg.wall != shared:
            continue
        key = ("shelf", of.number, "legs" if own else "depth")
        field = of.row(row, DEEP, *key) if own else of.field(*key)
        wall, step = of.wall(leg.wall), 3.175 if of.unit == "in" else 1.0
        reach = (max(100.0, leg.depth - 100.0), leg.depth + 100.0)
        axis = Axis(field, of.paper.course(wall.outward), _snaps(leg.depth, reach, step, of.unit))
        spot = wall.at((leg.start * 2 + leg.end) / 3, leg.band + leg.depth)
        name = f"Front edge on {leg.wall}" if own else "Front edge"
        yield Handle("shelf", name, of.paper.at(spot), (axis,))


def _edges(of: _Of, name: str) -> Iterator[Handle]:
    """Both edges of each stud that was found by both; what the tape read, not what it was adjusted to, is written."""
    wall, taped = of.wall(name), {m.id: m for m in of.taped(name).members}
    number = next(
        (k for k, each in enumerate(tables(of.document, "wall")) if each.get("id") == name), None
    )
    low = of.design.frame.top - of.design.frame.thick / 2
    for member in wall.members if number is not None else ():
        raw = taped.get(member.id)
        steps = places.steps(raw.path) if raw else None
        if raw is None or raw.told != "both edges" or not steps or "studs" not in steps:
            continue
        row = steps[-1]
        pair = sorted(((raw.left, member.left), (raw.right, member.right)), key=lambda e: abs(e[0]))
        for column, (own, stands) in enumerate(pair):
            reach = (own - 50.0, own + 50.0)
            axis = Axis(
                of.row(int(row), column, "wall", number or 0, "studs"),
                of.paper.course((1.0, 0.0)),
                _taped_snaps(of, name, own, reach, 1.5875 if of.unit == "in" else 0.5),
            )
            where = place(of.taped(name), raw, of.job)
            label = f"{raw.name or 'Stud'} at {where}, {('first', 'second')[column]} edge"
            yield Handle("walls", label, of.paper.at((stands, low)), (axis,))


def _top(of: _Of, name: str) -> Iterator[Handle]:
    leg = next(leg for leg in of.design.frame.legs if leg.wall == name)
    own, step = of.spec.top, 3.175 if of.unit == "in" else 1.0
    axis = Axis(
        of.field("shelf", of.number, "top"),
        of.paper.course((0.0, 1.0)),
        _snaps(own, (own - 50.0, own + 50.0), step, of.unit),
    )
    at = of.paper.at(((leg.start + leg.end) / 2, of.design.frame.top))
    yield Handle("shelf", "Top of the shelf", at, (axis,))


def _taped_snaps(
    of: _Of, wall: str, own: float, reach: Point, step: float, *, named: bool = False
) -> tuple[tuple[float, str], ...]:
    """Places along a wall, written as its tape shows them; `named` puts the wall's name before each."""
    side = -1.0 if of.taped(wall).tape_from == "right" else 1.0
    longest = of.taped(wall).length
    ends = sorted((side * reach[0], side * reach[1]))
    found = _snaps(side * own, (max(0.0, ends[0]), min(longest, ends[1])), step, of.unit)
    told = ((side * by, f"{wall} {text}" if named else text) for by, text in found)
    return tuple(sorted(told))


def _snaps(own: float, reach: Point, step: float, unit: Unit) -> tuple[tuple[float, str], ...]:
    """Round figures within reach, and the one that stands there."""
    grid = range(math.ceil(reach[0] / step - 1e-9), math.floor(reach[1] / step + 1e-9) + 1)
    at = sorted({round(k * step, 6) for k in grid} | {round(own, 6)})
    return tuple((x - own, units.show_length(x, unit, to=64)) for x in at)


_WAYS = (
    ("to the left", "to the right"),
    ("low", "high"),
    ("to the left", "to the right"),
    ("low", "high"),
    ("further in", "further out"),
)
"""How a figure that is less, or more, than drawn is told of each figure of a reading."""


def _off(of: Off, less: str, more: str, say: Say) -> str:
    """How far a figure is off and which way; empty until it is read."""
    if of.read is None:
        return ""
    text = say.caliper(abs(of.off))
    return "as drawn" if text in ("0", "0.0") else f"{text} {more if of.off > 0 else less}"


def _bonded(rod: Rod, say: Say) -> list[str]:
    """What the job says that a rod is bonded as, in the order of a reading's fields."""
    lengths = (rod.cut_length, rod.embedment, rod.hole)
    return [rod.bar.name, *map(say.caliper, lengths), rod.adhesive.name]


def _rods(plan: Plan, design: Design, document: Mapping[str, Any]) -> Answer:
    """The rods of a section that are read on site: none on a wall that nobody may drill."""
    say = Say.of(plan.job.meta)
    whole = plan.job.shelves[_number(plan.job, design)]
    read = {rod.member: rod.as_set.path for rod in whole.rods if rod.as_set}
    frame = {rod.id: rod for rod in design.as_drawn.rods}
    taped = {wall.id: wall for wall in plan.job.tapes.walls}
    rows = []
    for card in shown(plan, design):
        member = frame[card.rod].member
        of = next(m for m in taped[card.wall].members if m.id == member)
        # a card counts stick-out first, then heights, then sides; a reading goes along and up, at face and tip
        order = (card.side[0], card.up[0], card.side[1], card.up[1], card.out)
        rows.append(
            {
                "mark": card.mark,
                "place": place(taped[card.wall], of, plan.job),
                "path": read.get(member, ""),
                "ok": card.ok,
                "drawn": [say.caliper(each.drawn) for each in order],
                "allowed": [as_set.bounds(each, say) for each in order],
                "off": [_off(each, *words, say) for each, words in zip(order, _WAYS, strict=True)],
                "bad": [each.ok is False for each in order],
                "bonded": _bonded(frame[card.rod], say),
            }
        )
    return {
        "shelf": whole.id,
        "title": design.spec.title,
        "held": sorted(held_walls(plan, design)),
        "rows": rows,
    }
