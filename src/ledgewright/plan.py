"""A whole job worked through: `check` for the figures, `full` for the packet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

from ledgewright import doubt, site, survey
from ledgewright.doubt import NoSpread, Spread
from ledgewright.job import Job, Leg, Spec, Tapes
from ledgewright.judge import (
    Design,
    Limit,
    as_drawn,
    compared,
    homes,
    limit_of,
    limits_together,
    on_members,
    whole,
)
from ledgewright.layout import Frame, LayoutError, clashes
from ledgewright.memo import Memo
from ledgewright.site import Leave, ReadBack, Withheld
from ledgewright.statics import (
    CannotSay,
    NoLimit,
    NoTest,
    Proof,
    State,
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
NOT_COMPUTED = (
    ("nesting", "sheets are counted by area; the cutting plan is not worked out yet"),
    ("days", "the calendar of tasks and waits is not worked out yet"),
)


@dataclass(frozen=True)
class Plan:
    """Everything the sheets need; what is not computed is named, never left to be guessed.

    `leave` holds (shelf id, wall id, drill or withheld); `tests` (shelf id, load test to be made or why none is
    proposed, load test as read or why nothing can be said of it; None if none was read). `spreads` (shelf id, how sure
    its answers are, or why that cannot be said), where it was asked for.
    """

    job: Job
    designs: tuple[Design, ...]
    leave: tuple[tuple[str, str, Leave], ...]
    verdict: State
    not_computed: tuple[tuple[str, str], ...]
    tests: tuple[tuple[str, Proof | NoTest, ReadBack | NoTest | None], ...] = ()
    spreads: tuple[tuple[str, Spread | NoSpread], ...] = ()

    def spread(self, shelf: str) -> Spread | NoSpread | None:
        """Return how sure the answers for a shelf are, or why that cannot be said; None if it was not asked for."""
        return dict(self.spreads).get(shelf)

    def test(self, shelf: str) -> tuple[Proof | NoTest | None, ReadBack | NoTest | None]:
        """Return the load test to be made of a shelf, and as read; None where there is none."""
        return next(
            ((plan, read) for name, plan, read in self.tests if name == shelf), (None, None)
        )


class CannotLayError(LayoutError):
    """Shelves that cannot be laid out: (path of the shelf, reason in plain words) for all of them."""

    def __init__(self, found: tuple[tuple[str, str], ...]) -> None:
        super().__init__(*(reason for _, reason in found))
        self.found = found


def check(job: Job, memo: Memo) -> tuple[Design, ...]:
    """Judge every shelf of a job.

    Args:
        job: as read.
        memo: kept by the caller.

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
    found: list[tuple[str, str]] = []
    for spec, room, demand in zip(shelves, rooms, job.demands, strict=True):
        try:
            made += whole(job=job, room=room, spec=spec, demand=demand, memo=memo)
        except LayoutError as error:
            # A section may lie well by itself and not beside the one that hangs already.
            found += [(spec.path, reason) for reason in error.reasons]
    if found:
        raise CannotLayError(tuple(found))
    return _sharing(job, made, memo)


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
    """The numbers of the other shelves or sections with rods in the same studs or blocks."""
    members = [{(rod.wall, rod.member) for rod in design.frame.rods} for design in made]
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
    held = design.holds
    state: State = "cannot say" if held.verdict == "passes" else held.verdict
    silent = (*held.cannot_say, CannotSay("stud.bend", why))
    return replace(design, holds=replace(held, verdict=state, cannot_say=silent))


def full(job: Job, memo: Memo, *, limits: bool | None = True, ranges: bool = False) -> Plan:
    """Work a job through for the packet: designs, leave to drill, load tests, and what is not computed.

    Args:
        job: as read.
        memo: kept by the caller.
        limits: whether load limits and what else could hold it are asked for; they take longer than all the rest.
            None: once every rod is read, or a load test.
        ranges: whether it is asked for how sure all that is; it takes longer still.

    Returns:
        The plan.

    Raises:
        CannotLayError: if shelves cannot be laid out on the walls as taped, or something stands there already.
    """
    designs = check(job, memo)
    leave = tuple(
        (design.spec.id, each.wall, each)
        for design in designs
        for each in site.leave(design.room, design.as_drawn)
    )
    tests = tuple(_test(job, design, leave, memo) for design in designs)
    if limits is None:
        limits = bool(job.site.tests) or any(design.drawn for design in designs)
    spreads = _spreads(job, designs, memo) if ranges else ()
    if limits:
        designs = _limited(job, designs, [read for _, _, read in tests], dict(spreads), memo)
    families = tuple(
        (
            missing.family if len(designs) == 1 else f"{design.spec.id}: {missing.family}",
            missing.why,
        )
        for design in designs
        for missing in design.holds.cannot_say
    )
    unlimited = tuple(
        ("load limit" if len(designs) == 1 else f"{design.spec.id}: load limit", limit.why)
        for design in designs
        if isinstance(limit := design.holds.load_limit, NoLimit)
    )
    silent = (*families, *unlimited, *_unsure(designs, spreads), *NOT_COMPUTED)
    return Plan(job, designs, leave, verdict(designs), silent, tests, spreads)


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
            found.append((name, spread.why))
        elif isinstance(spread.carried, NoSpread):
            found.append((f"{name} in the load limit", spread.carried.why))
    return tuple(found)


def _test(
    job: Job, design: Design, leave: Sequence[tuple[str, str, Leave]], memo: Memo
) -> tuple[str, Proof | NoTest, ReadBack | NoTest | None]:
    """The load test of a section; none is proposed on a wall that nobody may drill."""
    mine = [each for shelf, _, each in leave if shelf == design.spec.id]
    read = site.tested(job, design, memo)
    if not mine or any(isinstance(each, Withheld) for each in mine):
        return design.spec.id, NoTest("a wall it hangs on is not confirmed"), read
    return design.spec.id, site.plan_test(job, design, memo), read


def _limited(
    job: Job,
    designs: Sequence[Design],
    tests: Sequence[ReadBack | NoTest | None],
    spreads: Mapping[str, Spread | NoSpread],
    memo: Memo,
) -> tuple[Design, ...]:
    """Give every shelf its load limit; those that hang together by shared studs get theirs together."""
    made = list(designs)
    for group in _groups(designs):
        beside = [tuple(group.index(k) for k in _neighbours(designs, index)) for index in group]
        mine = [designs[k] for k in group]
        drawn: Sequence[Limit | None] = [None] * len(group)
        if any(design.drawn for design in mine):
            drawn = _limits(job, [as_drawn(job, each, memo) for each in mine], beside, memo)
        limits = _limits(job, mine, beside, memo)
        for index, limit, before in zip(group, limits, drawn, strict=True):
            design = compared(job, designs[index], memo, limit=limit)
            least = _least(job, design, before, tests[index], spreads.get(design.spec.id))
            made[index] = replace(design, holds=replace(design.holds, load_limit=least))
    return tuple(made)


def _limits(
    job: Job, designs: Sequence[Design], beside: Sequence[tuple[int, ...]], memo: Memo
) -> tuple[Limit, ...]:
    if len(designs) == 1:
        return (limit_of(job, designs[0], memo),)
    return limits_together(job, designs, beside, memo)


def _least(
    job: Job,
    design: Design,
    drawn: Limit | None,
    test: ReadBack | NoTest | None,
    spread: Spread | NoSpread | None,
) -> Limit | None:
    """The least of all limits there are: of the statics, with the rods as drawn and as set, of doubt, of the test."""
    if isinstance(test, NoTest):
        return NoLimit(f"of its load test nothing can be said: {test.why}")
    return site.limit(job, design, drawn, test, spread)


def _groups(designs: Sequence[Design]) -> list[list[int]]:
    """Numbers of the shelves that hang together by shared members, from one to the next."""
    left, groups = list(range(len(designs))), list[list[int]]()
    while left:
        group = [left.pop(0)]
        for index in group:
            joined = [k for k in _neighbours(designs, index) if k in left]
            group += joined
            left = [k for k in left if k not in joined]
        groups.append(sorted(group))
    return groups


def verdict(designs: tuple[Design, ...]) -> State:
    """Return the worst of the shelves: fails, then cannot say, then passes; no way on is a failure."""
    states = {design.holds.verdict for design in designs}
    if "fails" in states or any(design.way is None for design in designs):
        return "fails"
    return "cannot say" if "cannot say" in states or not designs else "passes"
