"""A whole job worked through: `check` for the figures, `full` for the packet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial

from ledgewright import shop, site, survey
from ledgewright.job import Job, Leg, Spec, Tapes
from ledgewright.judge import Design, compared, homes, on_members, whole
from ledgewright.layout import Frame, LayoutError, clashes
from ledgewright.memo import Memo
from ledgewright.site import Leave
from ledgewright.statics import CannotSay, NoLimit, State, into, together
from ledgewright.survey import Room

AT_END = 1e-6
"""A leg this near to the taped end of its wall goes to the end (mm)."""
NOT_COMPUTED = (
    (
        "doubt",
        "ranges of drop and load limit are not worked out yet; the load limit is that of the statics alone",
    ),
    ("nesting", "sheets are counted by area; the cutting plan is not worked out yet"),
    ("as set, load test", "readings of rods as set and load tests are not taken in yet"),
)


@dataclass(frozen=True)
class Plan:
    """Everything the sheets need; what is not computed is named, never left to be guessed.

    `leave` holds (shelf id, wall id, drill or withheld).
    """

    job: Job
    designs: tuple[Design, ...]
    leave: tuple[tuple[str, str, Leave], ...]
    verdict: State
    not_computed: tuple[tuple[str, str], ...]


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
        _to_the_ends(spec, job.tapes, room) for spec, room in zip(job.shelves, rooms, strict=True)
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


def _neighbours(made: Sequence[Design], index: int) -> list[Design]:
    """The other shelves or sections with rods in the same studs or blocks."""
    members = [{(rod.wall, rod.member) for rod in design.frame.rods} for design in made]
    return [made[k] for k in range(len(made)) if k != index and members[k] & members[index]]


def _sharing(job: Job, made: Sequence[Design], memo: Memo) -> tuple[Design, ...]:
    """Judge the members that shelves share under all of them together."""
    found = []
    for index, design in enumerate(made):
        others = _neighbours(made, index)
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


def full(job: Job, memo: Memo, *, limits: bool = True) -> Plan:
    """Work a job through for the packet: designs, leave to drill, and what is not computed.

    Args:
        job: as read.
        memo: kept by the caller.
        limits: whether load limits and what else could hold it are asked for; they take longer than all the rest.

    Returns:
        The plan.

    Raises:
        CannotLayError: if shelves cannot be laid out on the walls as taped, or something stands there already.
    """
    designs = check(job, memo)
    if limits:
        designs = tuple(
            _limited(job, design, _neighbours(designs, index), memo)
            for index, design in enumerate(designs)
        )
    leave = tuple(
        (design.spec.id, each.wall, each)
        for design in designs
        for each in site.leave(design.room, design.frame)
    )
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
    return Plan(job, designs, leave, verdict(designs), (*families, *unlimited, *NOT_COMPUTED))


def _limited(job: Job, design: Design, others: Sequence[Design], memo: Memo) -> Design:
    """A load limit holds for a shelf that shares no stud: what the others carry would be part of it."""
    if not others:
        return compared(job, design, memo)
    names = " and ".join(each.spec.title for each in others)
    none = NoLimit(
        f"{names} stands on the same studs, and limits of several shelves are not worked out together"
    )
    return compared(job, design, memo, none=none)


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
    except IndexError:
        return "With these days off it is not finished within ten years."


def verdict(designs: tuple[Design, ...]) -> State:
    """Return the worst of the shelves: fails, then cannot say, then passes; no way on is a failure."""
    states = {design.holds.verdict for design in designs}
    if "fails" in states or any(design.way is None for design in designs):
        return "fails"
    return "cannot say" if "cannot say" in states or not designs else "passes"
