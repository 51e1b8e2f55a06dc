"""Judge one shelf: layout, fitting, core, statics and bill, in that order."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass, replace
from functools import partial

from shapely.geometry import Polygon

from ledgewright import core as core_room
from ledgewright import fitting, layout, shop, statics
from ledgewright.core import Core, Flat
from ledgewright.fitting import Opening, Way, Ways
from ledgewright.job import Basis, Demand, Edit, Job, RodSpec, Spec
from ledgewright.layout import EndFit, Frame, LayoutError, Placed, Rod
from ledgewright.memo import Memo
from ledgewright.shop import Bill, Part
from ledgewright.statics import Drop, Given, Holds, State
from ledgewright.survey import Room
from ledgewright.units import show_length

Limit = statics.LoadLimit | statics.NoLimit

EIGHTH = 3.175
"""An eighth of an inch (mm), in which stick-outs of inch jobs are settled."""


SHORTER = 2 / 3
"""How far the rods of the wall it slides onto stick out in the alternative with shorter ones: our choice."""

LEAST_PROJECTION = 75.0
"""Rods shorter than this are not offered as an alternative (mm, 3 in): our choice."""

NOT_ASKED = statics.CannotSay("statics", "the statics was not asked for")
"""Stands in the place of all checks where only drawings are wanted."""


@dataclass(frozen=True)
class Design:
    """One section of a shelf, or the whole of it, worked through; way and core are None where nothing goes on.

    Room and spec are read along the shelf's own lines. placed: how the whole shelf lies to the strings; None where it
    was only tried. drawn, planned: with its rods as drawn, and its way then, where the frame has them as set. read: the
    rods that are read while others are not, where they stand; the frame has all as drawn. flats: filed on rods for grub
    screws before they are set, and so always of the design as drawn.
    """

    spec: Spec
    room: Room
    frame: Frame
    ways: Ways
    way: Way | None
    core: Core | None
    holds: Holds
    parts: tuple[Part, ...]
    bill: Bill
    openings: tuple[Opening, ...]
    demand: Demand
    basis: Basis
    placed: Placed | None = None
    drawn: Frame | None = None
    planned: Way | None = None
    read: tuple[Rod, ...] = ()
    flats: tuple[Flat, ...] = ()

    @property
    def way_as_drawn(self) -> Way | None:
        """The way on as it was planned, before any rod was read."""
        return self.planned if self.drawn else self.way

    @property
    def as_drawn(self) -> Frame:
        """The section with its rods as drawn: what is drilled, and what readings are held against."""
        return self.drawn or self.frame


@dataclass(frozen=True)
class Alternative:
    """What one way that goes would cost the shelf: its core and its drop, worked through like the chosen one.

    drop is None where the statics cannot say.
    """

    way: str
    longest_span: float
    ribs_cut: int
    drop: Drop | None


@dataclass(frozen=True)
class Option:
    """Another way to make or to rod a shelf, laid out, fitted and judged anew.

    id: "short-rods" or "two-sections"; in an alcove also "caulk", "filler" and "tight", by what becomes of its ends.
    ends: those that meet a wall. refused: why it cannot be laid out, in words; then there are no designs.
    shorter: the wall whose rods are shorter, and their stick-out (mm).
    """

    id: str
    title: str
    designs: tuple[Design, ...]
    ends: tuple[EndFit, ...]
    refused: tuple[str, ...] = ()
    shorter: tuple[str, float] | None = None

    @property
    def possible(self) -> bool:
        """Whether every section goes on."""
        return bool(self.designs) and all(design.way is not None for design in self.designs)

    @property
    def channel_area(self) -> float:
        """Area cut for rods in all sections (mm2)."""
        return sum(d.way.loss.channel_area for d in self.designs if d.way)

    @property
    def longest_span(self) -> float | None:
        """The longest span of a skin in any section (mm); None if one does not go on."""
        cores = [d.core for d in self.designs if d.core]
        return max(c.longest_span for c in cores) if self.possible else None

    @property
    def ribs_cut(self) -> int | None:
        """Ribs cut in all sections; None if one does not go on."""
        return sum(d.core.ribs_cut for d in self.designs if d.core) if self.possible else None

    @property
    def room_area(self) -> float:
        """Free room that all sections need in front of their homes, each by itself (mm2)."""
        return sum(
            Polygon(d.way.room_needed).area for d in self.designs if d.way and d.way.room_needed
        )

    @property
    def drop(self) -> Drop | None:
        """The drop of the section that drops furthest in ten years; None if one cannot say."""
        drops = [d.holds.drop for d in self.designs]
        said = [drop for drop in drops if drop is not None]
        if not self.possible or len(said) < len(drops):
            return None
        return max(said, key=lambda drop: drop.long_term.value)


def whole(
    *,
    job: Job,
    room: Room,
    spec: Spec,
    demand: Demand,
    memo: Memo,
    opens: bool = True,
    held: bool = True,
) -> tuple[Design, ...]:
    """Work a shelf through section by section, each with those before it already on the wall.

    Args:
        job: basis, shop and site of the whole job.
        room: the walls at this shelf's height.
        spec: the shelf, in one section or two.
        demand: its loads and limits.
        memo: kept by the caller, so that an unchanged step costs nothing.
        opens: whether what opens a way is looked for where none goes, and derivations are kept.
        held: whether the statics is worked out; without it every verdict is "cannot say".

    Returns:
        One design per section, in the order they are hung.

    Raises:
        LayoutError: if it cannot be laid out on these walls, or something stands where it is to be.
    """
    lies, room, spec = _placed(room, spec, memo)
    made = _worked(job, room, spec, demand, memo, trial=False, opens=opens, held=held)
    return tuple(replace(design, placed=lies) for design in made)


def homes(room: Room, spec: Spec, memo: Memo) -> tuple[tuple[Spec, Frame], ...]:
    """Return the sections of a shelf at home, as `whole` lays them; nothing is judged.

    Args:
        room: the walls at this shelf's height.
        spec: the shelf, in one section or two.
        memo: kept by the caller.

    Raises:
        LayoutError: if it cannot be laid out on these walls, or something stands where it is to be.
    """
    _, room, spec = _placed(room, spec, memo)
    return _laid(room, spec, memo)


def _placed(room: Room, spec: Spec, memo: Memo) -> tuple[Placed | None, Room, Spec]:
    return memo.get("placed", (room, spec), partial(layout.placed, room, spec))


def _worked(
    job: Job,
    room: Room,
    spec: Spec,
    demand: Demand,
    memo: Memo,
    *,
    trial: bool,
    opens: bool = True,
    held: bool = True,
) -> tuple[Design, ...]:
    sections = _laid(room, spec, memo)
    loads = layout.shares(room, sections, demand)
    made = []
    for (part, frame), load in zip(sections, loads, strict=True):
        made.append(
            judge(
                job=job,
                room=room,
                spec=part,
                demand=load,
                memo=memo,
                trial=trial,
                opens=opens,
                held=held,
            )
        )
        room = layout.hung(room, part, frame)
    return tuple(made)


def _laid(room: Room, spec: Spec, memo: Memo) -> tuple[tuple[Spec, Frame], ...]:
    parts = memo.get("sections", (room, spec), partial(layout.sections, room, spec))
    frames = [_frame(room, part, memo) for part in parts]
    taken = [why for frame in frames for why in layout.conflicts(room, frame)]
    if taken:
        raise LayoutError(*dict.fromkeys(taken))
    return tuple(zip(parts, frames, strict=True))


def _frame(room: Room, spec: Spec, memo: Memo) -> Frame:
    return memo.get("layout", (room, spec), lambda: layout.frame(room, spec))


def judge(
    *,
    job: Job,
    room: Room,
    spec: Spec,
    demand: Demand,
    memo: Memo,
    trial: bool = False,
    opens: bool = True,
    held: bool = True,
) -> Design:
    """Work one section through; each step is made at most once per input while the memo keeps it.

    Args:
        job: basis, shop and site of the whole job.
        room: the walls at this shelf's height, and sections that hang already.
        spec: the section, or the whole shelf if it is one.
        demand: its loads and limits.
        memo: kept by the caller, so that an unchanged step costs nothing.
        trial: only for comparison: without derivations, and without looking for what opens a way.
        opens: whether what opens a way is looked for where none goes, and derivations are kept; a search over designs
            asks for neither.
        held: whether the statics is worked out; without it the verdict is "cannot say".

    Returns:
        The design.

    Raises:
        LayoutError: if it cannot be laid out on these walls at all.
    """
    frame = _frame(room, spec, memo)

    def again(these_walls: Room, this_frame: Frame) -> Ways:
        return fitting.ways(these_walls, this_frame, edging=spec.edging_thick)

    def found(this_frame: Frame) -> Ways:
        key = (room, _out_of_wood(this_frame), spec.edging_thick)
        return memo.get("fitting", key, lambda: again(room, this_frame))

    drawn = _frame(room, spec.as_drawn, memo) if spec.as_set else None
    cut_before = drawn if job.meta.order != "rods first" else None
    as_planned = found(drawn or frame)
    planned = as_planned.way()
    ways = fitting.as_cut(cut_before, frame, as_planned) if cut_before else found(frame)
    way = ways.way()
    step = EIGHTH if job.meta.units == "in" else 2.0
    taken = frozenset(rod.member for shelf in job.shelves for rod in shelf.rods)
    found_to_open = (
        ()
        if way or trial or not opens or (cut_before and planned)
        else memo.get(
            "openings",
            (room, spec, taken),
            lambda: fitting.openings(room, spec, frame, ways, again, step=step, taken=taken),
        )
    )
    first = _core(spec.as_drawn, drawn, planned, memo) if drawn and planned else None
    if cut_before is not None and way and first:
        core: Core | None = core_room.missed(first, cut_before, frame)
    else:
        filed = first.flats if first else None
        core = _core(spec, frame, way, memo, filed) if way else None
    told = first if drawn else core
    keep = opens and not trial
    ends = layout.end_fits(room, spec) if spec.ends == "filler" else ()
    parts = shop.parts(spec=spec, frame=frame, core=core, ends=ends)
    bill = shop.bill(job, (shop.Made(spec, frame, core, parts),))
    if held:
        holds = _holds(job, room, spec, frame, demand, core, memo, keep=keep, only_drop=trial)
    else:
        holds = Holds("cannot say", (), None, (), None, (NOT_ASKED,), None, bill.mass)
    return Design(
        spec,
        room,
        frame,
        ways,
        way,
        core,
        holds,
        parts,
        bill,
        found_to_open,
        demand,
        job.meta.basis,
        drawn=drawn,
        planned=planned if drawn else None,
        flats=told.flats if told else (),
    )


def _bare(spec: Spec) -> Spec:
    """A shelf without what neither core nor statics ask for: they stay as they are when only that is changed."""
    return replace(spec, finish="", coats=0, sealer="none", primer="", path="")


def _out_of_wood(frame: Frame) -> Hashable:
    """What fitting and core see of a section: neither the steel of its rods nor what holds them in the wood."""
    rods = tuple(
        (
            (rod.id, rod.mark, rod.wall, rod.member, rod.bar.shape, rod.bar.width, rod.bar.height),
            (rod.origin, rod.axis, rod.free, rod.projection, rod.clearance, rod.in_slot),
        )
        for rod in frame.rods
    )
    return replace(frame, rods=()), rods


def _core(
    spec: Spec, frame: Frame, way: Way, memo: Memo, filed: tuple[Flat, ...] | None = None
) -> Core:
    bare = replace(_bare(spec), rods=())
    key = (bare, _out_of_wood(frame), way, filed)
    return memo.get("core", key, lambda: core_room.core(bare, frame, way, filed))


def _holds(
    job: Job,
    room: Room,
    spec: Spec,
    frame: Frame,
    demand: Demand,
    core: Core | None,
    memo: Memo,
    *,
    keep: bool,
    only_drop: bool,
) -> Holds:
    stood = _stood(room, spec, frame, core, memo) if core is not None else None
    given = _asked(job, room, spec, frame, demand, core)
    return memo.get(
        "statics",
        (given, keep, only_drop),
        lambda: statics.holds(given, stood, memo, keep=keep, only_drop=only_drop),
    )


def _given(job: Job, design: Design) -> Given:
    return _asked(job, design.room, design.spec, design.frame, design.demand, design.core)


def _asked(
    job: Job, room: Room, spec: Spec, frame: Frame, demand: Demand, core: Core | None
) -> Given:
    basis, site = job.meta.basis, job.site
    return Given(room, frame, _bare(spec), demand, basis, site.temperature, core, heat=site.heat)


def _stood(
    room: Room, spec: Spec, frame: Frame, core: Core, memo: Memo, *, rough: bool = False
) -> statics.Stood | statics.NotStood:
    bare = _bare(spec)
    return memo.get(
        "on its section",
        (room, bare, frame, core, rough),
        lambda: statics.put(room=room, frame=frame, spec=bare, core=core, memo=memo, rough=rough),
        heavy=True,
    )


def on_members(job: Job, design: Design, memo: Memo) -> statics.OnMembers | None:
    """Return what a section puts on studs and blocks; None where nothing can be said of it.

    Args:
        job: basis and site.
        design: the section as judged.
        memo: kept by the caller.
    """
    found = on_model(job, design, memo)
    if isinstance(found, statics.NoTest):
        return None
    given, stood = found
    return memo.get("on members", given, lambda: statics.on_members(given, stood, memo))


def first_look(job: Job, design: Design, memo: Memo) -> Design:
    """Return a design with what can be said of it at once, on a coarse mesh and under few of its loads.

    docs/statics.md, "A first look": it fails, or cannot say.

    Args:
        job: basis and site.
        design: the section laid out and fitted; whether it is judged is all the same.
        memo: kept by the caller.
    """
    found = on_model(job, design, memo, rough=True)
    if isinstance(found, statics.NoTest):
        silent = statics.CannotSay(NOT_ASKED.family, found.why)
        return replace(design, holds=replace(design.holds, cannot_say=(silent,)))
    holds = memo.get("first look", found[0], lambda: statics.first_look(*found, memo))
    return replace(design, holds=holds)


def compared(job: Job, design: Design, memo: Memo, *, limit: Limit | None = None) -> Design:
    """Return a design with its load limit, or why there is none, and with what else could hold it.

    Args:
        job: basis and site.
        design: the section as judged.
        memo: kept by the caller.
        limit: where it is known beforehand, as of shelves that share studs.
    """
    limit = limit or limit_of(job, design, memo)
    held = replace(design.holds, load_limit=limit, rivals=_rivals(job, design, memo))
    return replace(design, holds=held)


def as_drawn(job: Job, design: Design, memo: Memo) -> Design:
    """Return a section judged by itself with its rods as drawn; as it is, where they are not read.

    Args:
        job: basis and site.
        design: the section as judged, perhaps with its rods as set.
        memo: kept by the caller.
    """
    if design.drawn is None:
        return design
    spec = design.spec.as_drawn
    return judge(job=job, room=design.room, spec=spec, demand=design.demand, memo=memo)


def limit_of(job: Job, design: Design, memo: Memo) -> Limit:
    """Return the load limit of the statics of a section that shares no stud, or why there is none.

    Args:
        job: basis and site.
        design: the section as judged.
        memo: kept by the caller.
    """
    one = _alone(job, design, (), memo)
    return one if isinstance(one, statics.NoLimit) else one.limit


def limits_together(
    job: Job, designs: Sequence[Design], beside: Sequence[tuple[int, ...]], memo: Memo
) -> tuple[Limit, ...]:
    """Return the load limits of sections that hang together by the studs and blocks they share.

    Args:
        job: basis and site.
        designs: as judged together, in the order of the job.
        beside: of each, the numbers of those it shares with directly.
        memo: kept by the caller.
    """
    alone: list[statics.Alone] = []
    for design, others in zip(designs, beside, strict=True):
        one = _alone(job, design, others, memo)
        if isinstance(one, statics.NoLimit):
            name = design.spec.title
            rest = statics.NoLimit(f"{name} stands on the same studs, and has no limit itself")
            return tuple(one if each is design else rest for each in designs)
        alone.append(one)
    key = tuple((each.given, each.beside) for each in alone)
    found = memo.get("limits together", key, lambda: statics.limits_together(alone, memo))
    if isinstance(found, statics.NoLimit):
        return (found,) * len(designs)
    titles = [design.spec.title for design in designs]
    return tuple(
        replace(limit, beside=(*titles[:k], *titles[k + 1 :])) for k, limit in enumerate(found)
    )


def _alone(
    job: Job, design: Design, beside: tuple[int, ...], memo: Memo
) -> statics.Alone | statics.NoLimit:
    """A section with its limit by itself."""
    if design.core is None:
        return statics.NoLimit("no way was found to get it onto its rods")
    stood = _stood(design.room, design.spec, design.frame, design.core, memo)
    if isinstance(stood, statics.NotStood):
        return statics.NoLimit(stood.why)
    lacks = statics.lacking(design.holds)
    if lacks:
        return statics.NoLimit(lacks)
    given = _given(job, design)
    limit = memo.get("load limit", given, lambda: statics.load_limit(given, stood, memo))
    if isinstance(limit, statics.NoLimit):
        return limit
    return statics.Alone(given, stood, limit, beside)


def on_model(
    job: Job, design: Design, memo: Memo, *, rough: bool = False
) -> tuple[Given, statics.Stood] | statics.NoTest:
    """Return a section as its statics takes it, on its section model; or why no load test can be worked out for it.

    Args:
        job: basis and site.
        design: the section as judged.
        memo: kept by the caller.
        rough: on a coarse mesh, for a first look.
    """
    if design.core is None:
        return statics.NoTest("no way was found to get it onto its rods")
    stood = _stood(design.room, design.spec, design.frame, design.core, memo, rough=rough)
    if isinstance(stood, statics.NotStood):
        return statics.NoTest(stood.why)
    return _given(job, design), stood


def _rivals(job: Job, design: Design, memo: Memo) -> tuple[statics.Rival, ...]:
    given = _given(job, design)
    return memo.get("rivals", given, lambda: statics.rivals(given))


def alternatives(job: Job, design: Design, memo: Memo) -> tuple[Alternative, ...]:
    """Work the core and the statics through for every way that goes, so that ways can be compared.

    Args:
        job: basis and site.
        design: the section as judged, with all ways looked at.
        memo: kept by the caller; what was worked out once costs nothing again.

    Returns:
        One row per way that goes, in the order of `design.ways`.
    """
    return tuple(_alternative(job, design, way, memo) for way in design.ways.ways if way.possible)


def _alternative(job: Job, design: Design, way: Way, memo: Memo) -> Alternative:
    spec, frame = design.spec, design.frame
    core = _core(spec, frame, way, memo, design.flats if design.drawn else None)
    if way is design.way:
        return Alternative(way.id, core.longest_span, core.ribs_cut, design.holds.drop)
    holds = _holds(
        job, design.room, spec, frame, design.demand, core, memo, keep=False, only_drop=True
    )
    return Alternative(way.id, core.longest_span, core.ribs_cut, holds.drop)


def options(job: Job, design: Design, memo: Memo) -> tuple[Option, ...]:
    """Lay the other ways to make or to rod a shelf, fit and judge them, so that they can be compared.

    An L: with shorter rods on the wall it does not go onto first, and in two sections. A shelf between two returns:
    cut square and caulked, narrower with filler strips, scribed in two sections, and scribed in one.

    Args:
        job: basis, shop and site.
        design: the shelf as judged; one section of a parted shelf has no options.
        memo: kept by the caller.
    """
    made_already = design.spec.as_set and job.meta.order != "rods first"
    if design.spec.section is not None or made_already:
        return ()
    return tuple(
        _option(job, design, memo, name, title, spec)
        for name, title, spec in (*_for_corner(design), *_for_alcove(design))
    )


def _for_corner(design: Design) -> list[tuple[str, str, Spec]]:
    spec, frame = design.spec, design.frame
    if len(spec.legs) < 2:
        return []
    two = replace(spec, sections=2)
    found = [("two-sections", "in two sections, parted at the corner", two)]
    other = [rod.projection for rod in spec.rods if rod.wall != frame.first]
    short = max(LEAST_PROJECTION, SHORTER * max(other, default=0.0))
    if other and short < max(other):
        rods = tuple(
            rod if rod.wall == frame.first else rod.sawn(min(rod.projection, short))
            for rod in spec.rods
        )
        title = "with the rods of the other wall shorter"
        found.insert(0, ("short-rods", title, replace(spec, rods=rods)))
    return found


def _for_alcove(design: Design) -> list[tuple[str, str, Spec]]:
    legs = design.frame.legs
    if len(legs) > 1 or (legs[0].left_end, legs[0].right_end) != ("wall", "wall"):
        return []
    return list(layout.alcove_options(design.spec))


def _option(job: Job, design: Design, memo: Memo, name: str, title: str, spec: Spec) -> Option:
    ends = layout.end_fits(design.room, spec)
    shorter = next(
        (
            (new.wall, new.projection)
            for old, new in zip(design.spec.rods, spec.rods, strict=True)
            if new.projection < old.projection
        ),
        None,
    )
    try:
        made = _worked(job, design.room, spec, design.demand, memo, trial=True)
    except LayoutError as error:
        return Option(name, title, (), ends, error.reasons, shorter)
    return Option(name, title, made, ends, shorter=shorter)


@dataclass(frozen=True)
class Opened:
    """A shelf with an opening made and judged, but for its load limit; `why` it does not pass, in words.

    ratio: of the row that fails, else 0.
    """

    designs: tuple[Design, ...]
    state: State
    why: str
    ratio: float = 0.0


def opened(job: Job, design: Design, opening: Opening, memo: Memo) -> Opened:
    """Make an opening and judge what comes of it: what goes on need not hold.

    Args:
        job: basis, shop and site of the whole job.
        design: the section no way goes for.
        opening: one of its openings.
        memo: kept by the caller.

    Returns:
        The sections so changed, and the worst of their verdicts. "Cannot say" where another shelf of the job sits in
        the same studs or blocks, since their loads add and this shelf is judged by itself.
    """
    room, spec = fitting.opened(design.room, design.spec, opening)
    try:
        made = _worked(job, room, spec, design.demand, memo, trial=False)
    except LayoutError as error:
        return Opened((), "cannot say", " ".join(error.reasons))
    failed = [
        check
        for each in made
        for check in each.holds.checks
        if check.state == "fails" and not check.information
    ]
    if failed:
        worst = max(failed, key=lambda check: check.ratio)
        return Opened(made, "fails", worst.title, worst.ratio)
    if any(each.holds.verdict == "fails" for each in made):
        return Opened(made, "fails", "no way was found to get every section on")
    others = _beside(job, design.spec, made)
    if others:
        return Opened(made, "cannot say", f"{' and '.join(others)} in the same studs or blocks")
    silent = [each for each in made if each.holds.verdict == "cannot say"]
    return Opened(made, "cannot say", _unsaid(silent[0])) if silent else Opened(made, "passes", "")


def _beside(job: Job, spec: Spec, made: Sequence[Design]) -> list[str]:
    """The other shelves of a job with rods in members that carry this one."""
    own, room = spec.whole, made[0].room
    mine = statics.carried_by(room, [rod for each in made for rod in each.spec.rods])
    return [
        f"shelf {shelf.id}"
        for shelf in job.shelves
        if shelf.id != own and mine & statics.carried_by(room, shelf.rods)
    ]


def _unsaid(design: Design) -> str:
    """The first reason why a design cannot be said to hold."""
    said = (c.reason for c in design.holds.checks if c.state == "cannot say" and c.reason)
    missing = (m.why for m in design.holds.cannot_say)
    return next((why for reasons in (said, missing) for why in reasons), "")


def edits(job: Job, spec: Spec, opening: Opening) -> tuple[Edit, ...]:
    """Return an opening as edits of the job file; all of them together make the change.

    Args:
        job: with the paths of its obstacles.
        spec: the shelf, with the paths of its rods, or one section of it.
        opening: as the fitting found it.

    Returns:
        Edits in the order they must be made: rods that the shelf's own table describes get a table each.
    """
    if spec.section is not None:
        spec = next(each for each in job.shelves if each.id == spec.whole)
    if opening.kind == "remove":
        paths = [o.path for o in job.tapes.obstacles if o.id == opening.thing]
        return tuple(Edit(path, None) for path in paths)
    if opening.kind == "leave out":
        return _without(job, spec, opening.rods)
    if opening.kind == "move":
        return _moved(job, spec, opening)
    if opening.kind == "split":
        return _parted(job, spec, opening.joint)
    return _shorter(job, spec, opening)


def _shorter(job: Job, spec: Spec, opening: Opening) -> tuple[Edit, ...]:
    size = f'"{opening.to:.3f} mm"'
    shared = f"{spec.path}.rods"
    if all(rod.member in opening.rods and rod.path == shared for rod in spec.rods):
        return (Edit(f"{shared}.projection", size),)
    made: list[Edit] = []
    fresh = sum(rod.path != shared for rod in spec.rods)
    for rod in spec.rods:
        if rod.member not in opening.rods:
            continue
        if rod.path != shared:
            made.append(Edit(f"{rod.path}.projection", size))
        else:
            table = f'{{ at = "{_place(job, rod)}", projection = {size} }}'
            made.append(Edit(f"{spec.path}.rod[{fresh}]", table))
            fresh += 1
    return tuple(made)


def _parted(job: Job, spec: Spec, joint: float | None) -> tuple[Edit, ...]:
    two = Edit(f"{spec.path}.sections", "2")
    if joint is None:
        return (two,)
    return (two, Edit(f"{spec.path}.joint", f'"{place_at(job, spec.legs[0].wall, joint)}"'))


def _moved(job: Job, spec: Spec, opening: Opening) -> tuple[Edit, ...]:
    """The list of places with the new one, the rod's own table if it has one, and the places of locks."""
    (member,) = opening.rods
    rods = [
        replace(rod, member=opening.member, aside=0.0) if rod.member == member else rod
        for rod in spec.rods
    ]
    shared = f"{spec.path}.rods"
    own = [
        Edit(f"{rod.path}.at", f'"{_place(job, rod)}"')
        for rod in rods
        if rod.member == opening.member and rod.path != shared
    ]
    locked = [opening.member if lock == member else lock for lock in spec.lock.rods]
    locks = [_at(f"{spec.path}.lock", job, [rod for rod in rods if rod.member in locked])]
    return (_at(shared, job, rods), *own, *(locks if member in spec.lock.rods else ()))


def _at(path: str, job: Job, rods: Sequence[RodSpec]) -> Edit:
    return Edit(f"{path}.at", "[" + ", ".join(f'"{_place(job, rod)}"' for rod in rods) + "]")


def _without(job: Job, spec: Spec, members: tuple[str, ...]) -> tuple[Edit, ...]:
    """The lists of places without some rods; their own tables go first, from the last, so that indices hold."""
    shared = f"{spec.path}.rods"
    own = sorted(
        (r.path for r in spec.rods if r.member in members and r.path != shared), reverse=True
    )
    kept = [rod for rod in spec.rods if rod.member not in members]
    locked = [rod for rod in kept if rod.member in spec.lock.rods]
    locks = [_at(f"{spec.path}.lock", job, locked)]
    return (
        *(Edit(path, None) for path in own),
        _at(shared, job, kept),
        *(locks if len(locked) < len(spec.lock.rods) else ()),
    )


def _place(job: Job, rod: RodSpec) -> str:
    """A rod's place as the job file writes it: the wall and the taped place in its member."""
    wall = next(w for w in job.tapes.walls if w.id == rod.wall)
    member = next(m for m in wall.members if m.id == rod.member)
    return place_at(job, wall.id, (member.left + member.right) / 2 + rod.aside)


def place_at(job: Job, wall: str, along: float) -> str:
    """Return a place on a wall as the job file writes it, such as `west 22 1/2`.

    Args:
        job: its unit of length.
        wall: id of the wall.
        along: signed figure (mm), to a 64th of an inch or 0.1 mm.
    """
    return f"{wall} {show_length(abs(along), job.meta.units, to=64)}"
