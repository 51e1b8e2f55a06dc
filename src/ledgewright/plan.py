"""A whole job worked through: `check` for the figures, `full` for the packet."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Protocol

from ledgewright import choose, doubt, shop, site, survey
from ledgewright.choose import Asked, Carries, Choices, Stop
from ledgewright.doubt import NoSpread, Spread
from ledgewright.job import Edit, Job, Leg, Spec, Tapes, edits
from ledgewright.job.reading import read
from ledgewright.judge import (
    NOT_ASKED,
    Design,
    Limit,
    as_drawn,
    compared,
    first_look,
    homes,
    limit_of,
    limits_together,
    on_members,
    whole,
)
from ledgewright.layout import Frame, LayoutError, clashes
from ledgewright.memo import Memo
from ledgewright.shop import Cutting, Part
from ledgewright.site import Leave, ReadBack, Withheld
from ledgewright.statics import (
    CannotSay,
    Holds,
    LoadLimit,
    NoLimit,
    NoTest,
    Proof,
    State,
    carried_by,
    into,
    together,
)
from ledgewright.survey import Room

AT_END = 1e-6
"""A leg this near to the taped end of its wall goes to the end (mm)."""
NO_RANGES = (
    "ranges of drop and load limit take a while: ask for them with `check --ranges`, or print the packet; "
    "they can only lower the load limit"
)


Tried = tuple[str, Proof | NoTest, ReadBack | NoTest | None]
"""A shelf's id, the load test to be made of it, and as it was read."""


@dataclass(frozen=True)
class Plan:
    """Everything the sheets need; what is not computed is named, never left to be guessed.

    `leave` holds (shelf id, wall id, drill or withheld); `tests` (shelf id, load test to be made or why none is
    proposed, load test as read or why nothing can be said of it; None if none was read). cutting: None where only
    figures were asked for. `spreads` (shelf id, how sure its answers are, or why that cannot be said), where asked for.
    """

    job: Job
    designs: tuple[Design, ...]
    leave: tuple[tuple[str, str, Leave], ...]
    verdict: State
    not_computed: tuple[tuple[str, str], ...]
    tests: tuple[Tried, ...] = ()
    cutting: Cutting | None = None
    spreads: tuple[tuple[str, Spread | NoSpread], ...] = ()

    def spread(self, shelf: str) -> Spread | NoSpread | None:
        """Return how sure the answers for a shelf are, or why that cannot be said; None if it was not asked for."""
        return dict(self.spreads).get(shelf)

    def test(self, shelf: str) -> tuple[Proof | NoTest | None, ReadBack | NoTest | None]:
        """Return the load test to be made of a shelf, and as read; None where there is none."""
        return next(
            ((plan, read) for name, plan, read in self.tests if name == shelf), (None, None)
        )

    def no_test(self, shelf: str) -> NoTest | None:
        """Return why no load test is proposed of a shelf: as worked out, else as far as it is plain without."""
        test, _ = self.test(shelf)
        if test is not None:
            return test if isinstance(test, NoTest) else None
        k = next(k for k, design in enumerate(self.designs) if design.spec.id == shelf)
        numbers = next(group for group in at_once(self.designs) if k in group)
        return _not_yet(self.designs, numbers, self.leave) or site.no_test(
            self.job, _group(self.designs, numbers)
        )

    def beside(self, shelf: str) -> tuple[Design, ...]:
        """Return what else a load test of a shelf loads at once: its other sections, and shelves on the same studs."""
        k = next(k for k, design in enumerate(self.designs) if design.spec.id == shelf)
        numbers = next(group for group in at_once(self.designs) if k in group)
        return tuple(self.designs[j] for j in numbers if j != k)


class CannotLayError(LayoutError):
    """Shelves that cannot be laid out: (path of the shelf, reason in plain words) for all of them."""

    def __init__(self, found: tuple[tuple[str, str], ...]) -> None:
        super().__init__(*(reason for _, reason in found))
        self.found = found


def check(job: Job, memo: Memo, *, opens: bool = True, held: bool = True) -> tuple[Design, ...]:
    """Judge every shelf of a job.

    Args:
        job: as read.
        memo: kept by the caller.
        opens: whether what opens a way is looked for where none goes, and derivations are kept.
        held: whether the statics is worked out; without it every verdict is "cannot say".

    Returns:
        One design per section, in the job's order; most shelves are one section.

    Raises:
        CannotLayError: if shelves cannot be laid out on the walls as taped, or something stands there already.
    """
    rooms = [_room(job, spec, memo) for spec in job.shelves]
    shelves = [
        _to_the_ends(spec if spec.as_set else spec.as_drawn, job.tapes, room)
        for spec, room in zip(job.shelves, rooms, strict=True)
    ]
    _refuse(shelves, rooms, memo)
    made: list[Design] = []
    of: list[int] = []
    found: list[tuple[str, str]] = []
    for k, (spec, room, demand) in enumerate(zip(shelves, rooms, job.demands, strict=True)):
        try:
            made += whole(
                job=job, room=room, spec=spec, demand=demand, memo=memo, opens=opens, held=held
            )
            of += [k] * (len(made) - len(of))
        except LayoutError as error:
            # A section may lie well by itself and not beside the one that hangs already.
            found += [(spec.path, reason) for reason in error.reasons]
    if found:
        raise CannotLayError(tuple(found))
    judged = _sharing(job, made, memo) if held else tuple(made)
    read = [_so_far(job, spec, room, memo) for spec, room in zip(job.shelves, rooms, strict=True)]
    return tuple(_as_read(job, design, read[k]) for design, k in zip(judged, of, strict=True))


@dataclass(frozen=True)
class _SoFar:
    """A shelf of which some rods are read and some not: its sections with those as set, or why they cannot be laid."""

    members: frozenset[str]
    frames: Mapping[str, Frame]
    why: str = ""


def _so_far(job: Job, spec: Spec, room: Room, memo: Memo) -> _SoFar | None:
    """What of a shelf is read while not all is; None where all rods are read, or none."""
    members = frozenset(rod.member for rod in spec.rods if rod.as_set)
    if spec.as_set or not members:
        return None
    try:
        laid = homes(room, _to_the_ends(spec, job.tapes, room), memo)
    except LayoutError as error:
        return _SoFar(members, {}, error.reasons[0])
    return _SoFar(members, {part.id: frame for part, frame in laid})


def _as_read(job: Job, design: Design, read: _SoFar | None) -> Design:
    """A section with what is read of its rods said of it at once."""
    order, basis = job.meta.order, job.meta.basis
    if read is None:
        return site.broken_out(design, order)
    frame = read.frames.get(design.spec.id)
    if frame is None:
        return _doubted(design, CannotSay("rods as set", f"as they are read: {read.why}"))
    return site.so_far(design, frame, read.members, order=order, basis=basis)


def _doubted(design: Design, said: CannotSay) -> Design:
    held = design.holds
    state: State = "cannot say" if held.verdict == "passes" else held.verdict
    return replace(design, holds=replace(held, verdict=state, cannot_say=(*held.cannot_say, said)))


def _room(job: Job, spec: Spec, memo: Memo) -> Room:
    up = spec.top - spec.thick / 2
    return memo.get("survey", (job.tapes, up), partial(survey.room, job.tapes, up))


def _refuse(shelves: Sequence[Spec], rooms: Sequence[Room], memo: Memo) -> None:
    """Refuse shelves that cannot be laid out, or not beside one another, before anything dear is worked out."""
    found: list[tuple[str, str]] = []
    frames: list[Frame] = []
    paths: dict[str, str] = {}
    for spec, room in zip(shelves, rooms, strict=True):
        wrong = [(each.path, each.text) for each in room.retake if each.gross]
        found += [each for each in wrong if each not in found]
        if wrong:
            continue
        try:
            for part, frame in homes(room, spec, memo):
                frames.append(frame)
                paths[part.id] = part.path
        except LayoutError as error:
            found += [(spec.path, reason) for reason in error.reasons]
            # Figures that contradict each other may be why it does not lie on its walls.
            again = [(each.path, each.text) for each in room.retake if each.figures]
            found += [each for each in again if each not in found]
    found += [(paths[shelf], why) for shelf, why in clashes(frames)]
    if found:
        raise CannotLayError(tuple(found))


def _to_the_ends(spec: Spec, tapes: Tapes, room: Room) -> Spec:
    """Let a leg that goes to the end of its wall as taped go to the end as adjusted."""
    taped = {wall.id: wall for wall in tapes.walls}

    def moved(leg: Leg) -> Leg:
        if leg.wall not in taped:
            return leg
        wall, far = room.wall(leg.wall), taped[leg.wall].length
        ends = (-far, 0.0) if wall.tape_from == "right" else (0.0, far)
        start = wall.start if abs(leg.start - ends[0]) < AT_END else leg.start
        end = wall.end if abs(leg.end - ends[1]) < AT_END else leg.end
        return replace(leg, start=start, end=end)

    return replace(spec, legs=tuple(moved(leg) for leg in spec.legs))


def _neighbours(made: Sequence[Design], index: int) -> list[int]:
    """The numbers of the other shelves or sections that stand on some of the same studs or blocks."""
    members = [carried_by(each.room, each.frame.rods) for each in made]
    return [k for k in range(len(made)) if k != index and members[k] & members[index]]


def _sharing(job: Job, made: Sequence[Design], memo: Memo) -> tuple[Design, ...]:
    """Judge the members that shelves share under all of them together."""
    found = []
    for index, design in enumerate(made):
        others = [made[k] for k in _neighbours(made, index)]
        found.append(_shared(job, design, others, memo) if others else design)
    return tuple(found)


def _shared(job: Job, design: Design, others: Sequence[Design], memo: Memo) -> Design:
    on, theirs = on_members(job, design, memo), [on_members(job, each, memo) for each in others]
    known = [each for each in theirs if each is not None]
    if on is None or len(known) < len(theirs):
        return _unsaid(design, [each.spec.title for each in others])
    sits = into(design.room, design.frame)
    return replace(design, holds=together(design.holds, on, known, into=sits))


def _unsaid(design: Design, others: Sequence[str]) -> Design:
    why = (
        f"rods of {' and '.join(others)} sit in the same members, and not all of them can be judged"
    )
    return _doubted(design, CannotSay("stud.bend", why))


def full(
    job: Job,
    memo: Memo,
    *,
    limits: bool | None = True,
    tests: bool = False,
    ranges: bool = False,
) -> Plan:
    """Work a job through for the packet: designs, leave to drill, load tests, and what is not computed.

    Args:
        job: as read.
        memo: kept by the caller.
        limits: whether load limits and what else could hold it are asked for; they take longer than all the rest.
            None: once every rod is read, or a load test.
        tests: whether load tests are worked out even where limits are not.
        ranges: whether it is asked for how sure all that is; it takes longer still.

    Returns:
        The plan.

    Raises:
        CannotLayError: if shelves cannot be laid out on the walls as taped, or something stands there already.
    """
    designs = check(job, memo)
    leave = _leaves(designs)
    wanted = tests or limits is not False or bool(job.site.tests)
    tried = _tests(job, designs, leave, memo) if wanted else ()
    if limits is None:
        limits = bool(job.site.tests) or any(design.drawn for design in designs)
    spreads = _spreads(job, designs, memo) if ranges else ()
    if limits:
        drawn = _drawn(job, designs, memo)
        designs = _least(job, _limited(job, designs, memo), drawn, tried, dict(spreads))
    designs = _proven(designs, tried)
    families = tuple(
        (
            missing.family if len(designs) == 1 else f"{design.spec.id}: {missing.family}",
            missing.why,
        )
        for design in designs
        for missing in design.holds.cannot_say
    )
    unlimited = tuple(
        ("load limit" if len(designs) == 1 else f"{design.spec.id}: load limit", why)
        for design in designs
        if (why := _unlimited(design.holds))
    )
    cutting = cut_up(job, designs, leave, memo) if limits else None
    missing = (*families, *unlimited, *_unsure(designs, spreads))
    return Plan(job, designs, leave, verdict(designs), missing, tried, cutting, spreads)


def _unlimited(held: Holds) -> str:
    """Why a shelf has no load limit where one was asked for; empty where it has."""
    if isinstance(held.load_limit, NoLimit):
        return held.load_limit.why
    return "the shelf does not hold" if held.load_limit and held.verdict == "fails" else ""


def sketch(job: Job, memo: Memo) -> Plan:
    """Lay a job out and fit it, for drawings and the cards of its rods; the statics is not worked out.

    Args:
        job: as read.
        memo: kept by the caller.

    Returns:
        The plan; its verdict is "cannot say", since nothing of it is judged.

    Raises:
        CannotLayError: if shelves cannot be laid out on the walls as taped, or something stands there already.
    """
    designs = check(job, memo, opens=False, held=False)
    silent = (NOT_ASKED.family, NOT_ASKED.why)
    return Plan(job, designs, _leaves(designs), "cannot say", (silent,))


def looked(job: Job, memo: Memo) -> Plan:
    """Take a first look at a job: laid out and fitted, its statics on a coarse mesh and under few loads.

    Args:
        job: as read.
        memo: kept by the caller.

    Returns:
        The plan; its verdict is "fails" or "cannot say", never "passes".

    Raises:
        CannotLayError: if shelves cannot be laid out on the walls as taped, or something stands there already.
    """
    laid = sketch(job, memo)
    designs = tuple(first_look(job, design, memo) for design in laid.designs)
    silent = tuple(
        (design.spec.id, each.why) for design in designs for each in design.holds.cannot_say
    )
    return replace(laid, designs=designs, verdict=verdict(designs), not_computed=silent)


def _leaves(designs: Sequence[Design]) -> tuple[tuple[str, str, Leave], ...]:
    return tuple(
        (design.spec.id, each.wall, each)
        for design in designs
        for each in site.leave(design.room, design.as_drawn)
    )


def _spreads(
    job: Job, designs: Sequence[Design], memo: Memo
) -> tuple[tuple[str, Spread | NoSpread], ...]:
    return tuple((design.spec.id, doubt.spread(job, design, memo)) for design in designs)


def _unsure(
    designs: Sequence[Design], spreads: Sequence[tuple[str, Spread | NoSpread]]
) -> tuple[tuple[str, str], ...]:
    """What has no range, and why."""
    if not spreads:
        return (("doubt", NO_RANGES),)
    found: list[tuple[str, str]] = []
    for shelf, spread in spreads:
        name = "doubt" if len(designs) == 1 else f"{shelf}: doubt"
        if isinstance(spread, NoSpread):
            found.append((f"{name} in the front drop" if spread.least else name, spread.why))
        elif doubt.floor(spread) is None and isinstance(spread.carried, NoSpread):
            found.append((f"{name} in the load limit", spread.carried.why))
    return tuple(found)


def cut_up(
    job: Job,
    designs: Sequence[Design],
    leave: Sequence[tuple[str, str, Leave]],
    memo: Memo,
    tell: Callable[[str], None] | None = None,
    stop: Callable[[], bool] = lambda: False,
) -> Cutting:
    """Return how the parts of all shelves are cut; what a wall that is not confirmed withholds is left out.

    Args:
        job: as read.
        designs: its shelves.
        leave: (shelf id, wall id, drill or withheld) of all of them.
        memo: kept by the caller.
        tell: told how far it has come, for people who wait.
        stop: once it says yes, every search ends with the best it has; what is kept in the memo then says so too.
    """
    made, closed = [], []
    for design in designs:
        mine = [each for shelf, _, each in leave if shelf == design.spec.id]
        held = site.withheld(design.frame, mine)
        made.append((design.spec, _told(design, held)))
        closed += [design.spec.title] if held else []
    key = (job.shop, job.meta.units, tuple(made), tuple(closed))
    work = partial(shop.cutting, job=job, made=made, withheld=closed, tell=tell, stop=stop)
    return memo.get("cutting", key, work)


def _told(design: Design, held: frozenset[str]) -> tuple[Part, ...]:
    return tuple(part for part in design.parts if not site.hidden(part, design.frame, held))


def _least(
    job: Job,
    designs: Sequence[Design],
    drawn: Sequence[Limit | None],
    tried: Sequence[Tried],
    spreads: Mapping[str, Spread | NoSpread],
) -> tuple[Design, ...]:
    """The load limits of the statics cut down by what rods as drawn, rods as set, doubt and load tests say."""
    reads = {shelf: read for shelf, _, read in tried}
    found = []
    for index, (design, before) in enumerate(zip(designs, drawn, strict=True)):
        read = reads.get(design.spec.id)
        beside = _failed_beside(designs, index, reads)
        if isinstance(read, NoTest):
            least: Limit | None = NoLimit(f"of its load test nothing can be said: {read.why}")
        elif beside is not None and design.holds.load_limit is not None:
            least = beside
        else:
            least = site.limit(job, design, before, read, spreads.get(design.spec.id))
        found.append(replace(design, holds=replace(design.holds, load_limit=least)))
    return tuple(found)


def _failed_beside(
    designs: Sequence[Design], index: int, reads: Mapping[str, ReadBack | NoTest | None]
) -> NoLimit | None:
    """None may be loaded while what was tested with it did not pass."""
    numbers = next(group for group in at_once(designs) if index in group)
    for k in numbers:
        read = reads.get(designs[k].spec.id)
        if k != index and isinstance(read, ReadBack) and not read.passed:
            return NoLimit(f"the load test of {designs[k].spec.title} beside it {read.against}")
    return None


def _tests(
    job: Job,
    designs: Sequence[Design],
    leave: Sequence[tuple[str, str, Leave]],
    memo: Memo,
) -> tuple[Tried, ...]:
    """The load tests; none of what hangs beside a section or shelf on a wall that nobody may drill."""
    found: dict[int, Tried] = {}
    for numbers in at_once(designs):
        group = _group(designs, numbers)
        reads = site.tested_together(job, group, memo)
        none = _not_yet(designs, numbers, leave)
        plans = (none,) * len(numbers) if none else site.plan_tests(job, group, memo)
        for k, plan, told in zip(numbers, plans, reads, strict=True):
            found[k] = designs[k].spec.id, plan, told
    return tuple(found[k] for k in range(len(designs)))


def at_once(designs: Sequence[Design]) -> list[list[int]]:
    """Return the numbers of what a load test loads at once: shelves on shared members, and sections of one shelf.

    Args:
        designs: all of a job.
    """
    return _joined(
        designs,
        lambda k: [*_neighbours(designs, k), *_sections(designs, k)],
    )


def _sections(designs: Sequence[Design], index: int) -> list[int]:
    """The numbers of the other sections of the same shelf."""
    part = designs[index].spec.section
    if part is None:
        return []
    others = (each.spec.section for each in designs)
    return [k for k, other in enumerate(others) if k != index and other and other.of == part.of]


def _group(designs: Sequence[Design], numbers: Sequence[int]) -> site.Group:
    return site.Group(
        tuple(designs[k] for k in numbers),
        tuple(
            tuple(numbers.index(j) for j in _neighbours(designs, k) if j in numbers)
            for k in numbers
        ),
    )


def _not_yet(
    designs: Sequence[Design],
    numbers: Sequence[int],
    leave: Sequence[tuple[str, str, Leave]],
) -> NoTest | None:
    for k in numbers:
        mine = [each for shelf, _, each in leave if shelf == designs[k].spec.id]
        if not mine or any(isinstance(each, Withheld) for each in mine):
            whose = "it hangs on" if len(numbers) == 1 else f"{designs[k].spec.title} hangs on"
            return NoTest(f"a wall {whose} is not confirmed")
    return None


def _limited(job: Job, designs: Sequence[Design], memo: Memo) -> tuple[Design, ...]:
    """Give every shelf its load limit by the statics, and with what else could hold it."""
    limits = _limits(job, designs, memo)
    return tuple(
        compared(job, design, memo, limit=limit)
        for design, limit in zip(designs, limits, strict=True)
    )


def _drawn(job: Job, designs: Sequence[Design], memo: Memo) -> tuple[Limit | None, ...]:
    """The load limits with all rods as drawn; None of those that are worked out so anyway."""
    if not any(design.drawn for design in designs):
        return (None,) * len(designs)
    limits = _limits(job, [as_drawn(job, each, memo) for each in designs], memo)
    return tuple(
        limit if any(designs[k].drawn for k in group) else None
        for index, limit in enumerate(limits)
        for group in [next(g for g in _groups(designs) if index in g)]
    )


def _limits(job: Job, designs: Sequence[Design], memo: Memo) -> tuple[Limit, ...]:
    """The load limits by the statics; of shelves that hang together by shared studs all at once."""
    found: dict[int, Limit] = {}
    for group in _groups(designs):
        if len(group) == 1:
            found[group[0]] = limit_of(job, designs[group[0]], memo)
            continue
        beside = [tuple(group.index(k) for k in _neighbours(designs, index)) for index in group]
        each = limits_together(job, [designs[k] for k in group], beside, memo)
        found |= dict(zip(group, each, strict=True))
    return tuple(found[index] for index in range(len(designs)))


def _groups(designs: Sequence[Design]) -> list[list[int]]:
    """Numbers of the shelves that hang together by shared members, from one to the next."""
    return _joined(designs, lambda k: _neighbours(designs, k))


def _joined(designs: Sequence[Design], to: Callable[[int], Sequence[int]]) -> list[list[int]]:
    """Numbers of what hangs together, from one to the next."""
    left, groups = list(range(len(designs))), list[list[int]]()
    while left:
        group = [left.pop(0)]
        for index in group:
            joined = [k for k in to(index) if k in left]
            group += dict.fromkeys(joined)
            left = [k for k in left if k not in joined]
        groups.append(sorted(group))
    return groups


@dataclass(frozen=True)
class InShop:
    """A whole job in the shop: what there is to do and to buy, and when it is done."""

    work: shop.Work
    days: shop.Days


def in_shop(
    job: Job, designs: Sequence[Design], counted: shop.Counted | None = None
) -> InShop | str:
    """Work out hours, glue, finish, price and days of a whole job, every section of it together.

    Args:
        job: as read.
        designs: as judged.
        counted: sheets by a layout; by area if there is none.

    Returns:
        The shop's side of the job; a sentence why there is none where something could not cure, or never ends.
    """
    made = tuple(shop.Made(each.spec, each.frame, each.core, each.parts) for each in designs)
    try:
        work = shop.work(job, made, counted)
        return InShop(work, shop.schedule(job, work))
    except shop.TooColdError as cold:
        return f"It is too cold for what has to cure: {cold}."
    except shop.NeverDoneError:
        return "With these days off it is not finished within ten years."


def _proven(designs: tuple[Design, ...], tried: Sequence[Tried]) -> tuple[Design, ...]:
    """The shelves with what their load tests say: one that speaks against a shelf goes before what was worked out."""
    wrong = {shelf for shelf, _, read in tried if isinstance(read, ReadBack) and read.why}
    return tuple(
        replace(each, holds=replace(each.holds, verdict="fails")) if each.spec.id in wrong else each
        for each in designs
    )


def verdict(designs: tuple[Design, ...]) -> State:
    """Return the worst of the shelves: fails, then cannot say, then passes; no way on is a failure."""
    states = {design.holds.verdict for design in designs}
    if "fails" in states or any(design.way is None for design in designs):
        return "fails"
    return "cannot say" if "cannot say" in states or not designs else "passes"


@dataclass(frozen=True)
class Chosen:
    """The choices of one shelf of a job, or why there are none; `text` of the job file they are edits of.

    designs: the job as it is. withheld: (wall, questions) of the walls it hangs on that nobody may drill yet.
    """

    job: Job
    text: str
    prices: str | None
    designs: tuple[Design, ...]
    choices: Choices | None
    why_not: str = ""
    withheld: tuple[tuple[str, tuple[str, ...]], ...] = ()


class NotSameError(Exception):
    """A choice written to its job file does not come out as it was offered: a fault of the program."""


class Crew(Protocol):
    """Tries designs of one shelf and works out what they carry; yields each with its number, in any order."""

    def many(self, asked: Sequence[Asked], stop: Stop) -> Iterator[tuple[int, choose.Tried]]:
        """Try designs; those not begun when stop says yes are left."""
        ...

    def limits(self, made: Sequence[tuple[Edit, ...]], stop: Stop) -> Iterator[tuple[int, Carries]]:
        """Work out the load limits of designs that pass; those not begun when stop says yes are left."""
        ...


@dataclass(frozen=True)
class Hand:
    """A crew of one: everything one after the other, in this process.

    ground: the shelf. memo: kept by the caller.
    """

    ground: choose.Ground
    memo: Memo

    def many(self, asked: Sequence[Asked], stop: Stop) -> Iterator[tuple[int, choose.Tried]]:
        """Try designs, in their order; those not begun when stop says yes are left."""
        memo, shelf = self.memo, self.ground.spec.id
        judge = partial(_confirmed, memo=memo, shelf=shelf, opens=False)
        return choose.one_by_one(self.ground, judge, partial(at_least, memo=memo, shelf=shelf))(
            asked, stop
        )

    def limits(self, made: Sequence[tuple[Edit, ...]], stop: Stop) -> Iterator[tuple[int, Carries]]:
        """Work out the load limits of designs that pass, in their order; what is not begun at a stop is left."""
        for k, each in enumerate(made):
            if stop():
                return
            job = self.ground.with_edits(each).job
            if job is None:
                yield k, Carries(None, why="its job file does not read")
            else:
                yield k, _carries(job, self.ground.spec.id, self.memo)


def _carries(job: Job, shelf: str, memo: Memo) -> Carries:
    """What a shelf may carry by its statics, as `full` says it: of its sections the least."""
    designs = check(job, memo, opens=False)
    limits = _limits(job, designs, memo)
    limited = [
        replace(design, holds=replace(design.holds, load_limit=limit))
        for design, limit in zip(designs, limits, strict=True)
    ]
    tried = _tests(job, limited, _leaves(limited), memo) if job.site.tests else ()
    told = _least(job, limited, (None,) * len(limited), tried, {})
    mine = [each.holds.load_limit for each in choose.of_shelf(told, shelf)]
    none = next((each.why for each in mine if isinstance(each, NoLimit)), None)
    if none is not None:
        return Carries(None, why=none)
    least = min((each for each in mine if isinstance(each, LoadLimit)), key=lambda each: each.even)
    return Carries(least.even, least.title, least.place)


def chosen(
    job: Job,
    text: str,
    prices: str | None,
    shelf: str,
    memo: Memo,
    *,
    crew: Crew | None = None,
    designs: int | None = None,
    tell: choose.Tell = lambda _: None,
    stop: choose.Stop = lambda: False,
) -> Chosen:
    """Search the designs of one shelf for those worth having; every other shelf of the job stays as it is.

    Nothing is chosen for a shelf on a wall that nobody may drill: every choice tells where holes go and how deep. Nor
    once a rod is set.

    Args:
        job: as read.
        text: of its file.
        prices: text of its price file, None if there is none.
        shelf: id of the shelf.
        memo: kept by the caller.
        crew: tries the designs of this very text; None: all of it is done here. What is found is the same.
        designs: how many are worked through at most; None as the job says.
        tell: told how far it has come.
        stop: once it says yes, the best so far is returned.

    Raises:
        CannotLayError: if the shelves as they are cannot be laid out.
        KeyError: if there is no such shelf.
    """
    made = check(job, memo, opens=False)
    none = partial(Chosen, job, text, prices, made, None)
    spec = next((each for each in job.shelves if each.id == shelf), None)
    if spec is None:
        raise KeyError(shelf)
    if not spec.rods:
        return none("no rods are named: write [shelf.rods] first")
    if any(rod.as_set for rod in spec.rods):
        return none("a rod of it is set: what is left to choose is too little for a search")
    held = _held(choose.of_shelf(made, shelf))
    if held:
        return none("a wall it hangs on is not confirmed", held)
    on = choose.ground(text, job.meta.file, prices, job, shelf)
    crew = crew or Hand(on, memo)
    found = choose.choose(
        on,
        partial(_confirmed, memo=memo, shelf=shelf, opens=False),
        closely=partial(_confirmed, memo=memo, shelf=shelf, opens=True),
        many=crew.many,
        designs=designs,
        tell=tell,
        stop=stop,
    )
    return Chosen(job, text, prices, made, _with_limits(found, crew, tell, stop))


def _with_limits(found: Choices, crew: Crew, tell: choose.Tell, stop: Stop) -> Choices:
    """The choices with what each may carry; without, where somebody says stop."""
    if found.stopped:
        return found
    made = [choice.tried.edits for choice in found.front]
    front = list(found.front)
    for done, (k, carries) in enumerate(crew.limits(made, stop), start=1):
        front[k] = replace(front[k], carries=carries)
        tell(choose.Progress(done, len(front), found.passed, limits=True))
    return replace(found, front=tuple(front))


def _held(designs: Sequence[Design]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    leaves = [each for design in designs for each in site.leave(design.room, design.as_drawn)]
    held = [(each.wall, each.questions) for each in leaves if isinstance(each, Withheld)]
    return tuple(dict.fromkeys(held))


AT_LEAST = 0.99
"""The coarse mesh of a first look is stiffer as a whole; at one place it might be a little the other way."""


def at_least(job: Job, *, memo: Memo, shelf: str) -> choose.Least:
    """Lay a job out and fit it, and tell by a first look how far a shelf drops at the least, and whether it fails.

    Args:
        job: as read.
        memo: kept by the caller.
        shelf: its id.

    Raises:
        LayoutError: if the job cannot be laid out, or the shelf's holes would be in a wall that is not confirmed.
    """
    made = _confirmed(job, memo=memo, shelf=shelf, opens=False, held=False)
    mine = [first_look(job, each, memo) for each in choose.of_shelf(made, shelf)]
    drops = [each.holds.drop for each in mine]
    said = tuple(
        (AT_LEAST * drop.today.value, AT_LEAST * drop.long_term.value)
        for drop in drops
        if drop is not None
    )
    limits = tuple((d.demand.limits.drop_today, d.demand.limits.drop_long) for d in mine)
    over = next((row.title for each in mine for row in each.holds.checks), "")
    return choose.Least(made, said if len(said) == len(mine) else None, limits, over)


def _confirmed(
    job: Job, *, memo: Memo, shelf: str, opens: bool, held: bool = True
) -> tuple[Design, ...]:
    """Judge a job; a design whose holes nobody may drill at their height is none."""
    made = check(job, memo, opens=opens, held=held)
    closed = _held(choose.of_shelf(made, shelf))
    if closed:
        raise LayoutError(
            *(
                f"wall {job.tapes.called(wall)} is not confirmed where its holes would be"
                for wall, _ in closed
            )
        )
    return made


def with_choice(found: Chosen, k: int, memo: Memo) -> tuple[str, choose.Tried]:
    """Return the text of the job file with a choice made, read back and judged anew, and the choice.

    Args:
        found: from `chosen`.
        k: number of the choice.
        memo: kept by the caller.

    Raises:
        KeyError: if there is no such choice.
        BadEdit: if the text cannot take the edits.
        NotSameError: if it does not come out as it was offered: never to be expected.
    """
    choice = found.choices.choice(k) if found.choices else None
    if choice is None or found.choices is None or choice.tried.figures is None:
        raise KeyError(k)
    text, file = found.text, found.job.meta.file
    made = choice.tried.edits
    shelf, figures = found.choices.shelf, choice.tried.figures
    return written(text, file, found.prices, shelf, made, figures, memo), choice.tried


def written(
    text: str,
    file: str,
    prices: str | None,
    shelf: str,
    made: Sequence[Edit],
    figures: choose.Figures,
    memo: Memo,
) -> str:
    """Return the text of a job file with a choice made: read back, judged anew and compared with what was offered.

    What an engineer accepted was the shelf as it was: that word is marked as stale, which is an open item.

    Args:
        text: of the job file the choice was offered for.
        file: its name.
        prices: text of its price file, None if there is none.
        shelf: id of the shelf.
        made: the edits of the choice.
        figures: what was offered.
        memo: kept by the caller.

    Raises:
        BadEdit: if the text cannot take the edits.
        NotSameError: if it does not pass with the same figures: never to be expected of a text that was not changed.
    """
    stale = _stale(read(text, file, prices).job, shelf) if made else ()
    new = edits.apply(text, (*made, *stale))
    job = read(new, file, prices).job
    if job is None or not _as_offered(job, shelf, figures, memo):
        msg = f"the choice for shelf {shelf} is not what its job file says"
        raise NotSameError(msg)
    return new


def _stale(job: Job | None, shelf: str) -> Iterator[Edit]:
    spec = next((each for each in job.shelves if each.id == shelf), None) if job else None
    if job is None or spec is None:
        return
    if spec.accepted is not None:
        yield Edit(f"{spec.path}.accepted.stale", "true")
    here = {leg.wall for leg in spec.legs}
    for wall in job.tapes.walls:
        if wall.id in here and wall.known.engineer is not None:
            yield Edit(f"{wall.path}.known.engineer_stale", "true")


SAME = 1e-6
"""Figures of a choice and of its job file differ by no more than this share."""


def _as_offered(job: Job, shelf: str, offered: choose.Figures, memo: Memo) -> bool:
    try:
        designs = check(job, memo)
    except LayoutError:
        return False
    now = choose.figures_of(job, designs, shelf)
    if (
        now is None
        or verdict(designs) != "passes"
        or (now.price is None) != (offered.price is None)
    ):
        return False
    pairs = (
        (now.price or 0.0, offered.price or 0.0),
        (now.drop_today, offered.drop_today),
        (now.drop_long, offered.drop_long),
        (now.mass, offered.mass),
        (now.hours, offered.hours),
        (now.holes, offered.holes),
    )
    return all(abs(a - b) <= SAME * abs(b) for a, b in pairs)
