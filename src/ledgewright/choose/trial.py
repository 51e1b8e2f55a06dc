"""One design tried: made by edits, read as its file would be, and judged in full with the whole job or set aside."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from ledgewright import shop
from ledgewright.choose.change import changes, edits, hole
from ledgewright.choose.front import Held, beaten_at_least
from ledgewright.choose.ground import Ground
from ledgewright.choose.model import Figures, Governs, State, Stop, Tried, Wanted
from ledgewright.job import Edit, Job
from ledgewright.judge import Design
from ledgewright.layout import LayoutError
from ledgewright.shop import Bill, Made, TooColdError
from ledgewright.statics import Check

Judge = Callable[[Job], Sequence[Design]]
"""Judges every shelf of a job, as `check` does."""


@dataclass(frozen=True)
class Least:
    """A job laid out and fitted but not judged, and how far the shelf in hand drops at the least.

    drop: of every section of the shelf on day one and in ten years (mm), at or under what judging it in full gives;
    None where nothing can be said. most: what it may drop, of every section. over: the check that fails for sure, ""
    if none does so far.
    """

    designs: tuple[Design, ...]
    drop: tuple[tuple[float, float], ...] | None
    most: tuple[tuple[float, float], ...] = ()
    over: str = ""


LeastOf = Callable[[Job], Least]
"""Tells of a job what is soon known; a LayoutError of it makes a design that cannot be built."""


@dataclass(frozen=True)
class Asked:
    """A design that is to be tried; against: designs that pass, one of which may spare its judging in full."""

    wanted: Wanted
    against: tuple[Held, ...] = ()


Many = Callable[[Sequence[Asked], Stop], Iterator[tuple[int, Tried]]]
"""Tries designs and yields each with its number as it comes, in any order; what is not begun at a stop is left."""

FITTING = "fitting"
LAYOUT = "layout"
ROUNDING = 1e-6
"""By this share, and as many mm, a least drop is taken lower still: two ways to the same figure round otherwise."""


def one_by_one(ground: Ground, judge: Judge, at_least: LeastOf | None = None) -> Many:
    """Return what tries designs one after the other, in this process.

    Args:
        ground: the shelf.
        judge: judges the whole job.
        at_least: tells what is soon known; without it every design is judged in full.
    """

    def many(asked: Sequence[Asked], stop: Stop) -> Iterator[tuple[int, Tried]]:
        for k, each in enumerate(asked):
            if stop():
                return
            yield k, try_out(ground, each.wanted, judge, at_least, each.against)

    return many


def try_out(
    ground: Ground,
    wanted: Wanted,
    judge: Judge,
    at_least: LeastOf | None = None,
    against: Sequence[Held] = (),
) -> Tried:
    """Make a design, read it and judge it, or set it aside.

    Args:
        ground: the shelf.
        wanted: what it is to be.
        judge: judges the whole job; a LayoutError of it makes a design that cannot be built.
        at_least: tells what is soon known.
        against: designs that pass; none, and it is judged in full.
    """
    if hole(ground, wanted) is None:
        return _unbuilt(ground, wanted, (), ("drill",), "no bit is made so large")
    return tried(ground, wanted, edits(ground, wanted), judge, at_least, against)


def tried(
    ground: Ground,
    wanted: Wanted,
    made: tuple[Edit, ...],
    judge: Judge,
    at_least: LeastOf | None = None,
    against: Sequence[Held] = (),
) -> Tried:
    """Read a job with edits made and judge it; `wanted` is what they make of the shelf, for the record."""
    read = ground.with_edits(made)
    if read.job is None:
        stops = [f for f in read.findings if f.level != "note"]
        codes = tuple(dict.fromkeys(f.code for f in stops))
        return _unbuilt(ground, wanted, made, codes, stops[0].wrong if stops else "")
    try:
        if at_least is not None and against:
            why = _spared(ground, wanted, read.job, at_least(read.job), against)
            if why:
                return _left(ground, wanted, made, "set aside", (), why)
        designs = tuple(judge(read.job))
    except LayoutError as error:
        return _unbuilt(ground, wanted, made, (LAYOUT,), " ".join(error.reasons))
    return _judged(ground, wanted, made, read.job, designs)


def _spared(ground: Ground, wanted: Wanted, job: Job, least: Least, against: Sequence[Held]) -> str:
    """Why a design need not be judged in full; empty if it must be."""
    if least.over:
        return f"it fails at a first look: {least.over}"
    if least.drop is None:
        return ""
    drops = [(_less(today), _less(later)) for today, later in least.drop]
    for mine, most in zip(drops, least.most, strict=True):
        if any(at > limit for at, limit in zip(mine, most, strict=True)):
            return "it drops further than it may"
    figures = _figures(of_shelf(least.designs, ground.spec.id), _bill(job, least.designs), drops)
    if figures is None:
        return ""
    beaten = beaten_at_least(Held(figures, len(changes(ground, wanted))), against)
    return "another design that passes is better whatever its checks say" if beaten else ""


def _less(drop: float) -> float:
    return drop - ROUNDING * (1 + abs(drop))


def _unbuilt(
    ground: Ground, wanted: Wanted, made: tuple[Edit, ...], killed: tuple[str, ...], why: str
) -> Tried:
    return _left(ground, wanted, made, "cannot be built", killed, why)


def _left(
    ground: Ground,
    wanted: Wanted,
    made: tuple[Edit, ...],
    state: State,
    killed: tuple[str, ...],
    why: str,
) -> Tried:
    """A design that was not judged."""
    return Tried(wanted, changes(ground, wanted), made, state, None, None, killed, (), why, ())


def of_shelf(designs: Sequence[Design], shelf: str) -> list[Design]:
    """Return the sections of one shelf."""
    return [each for each in designs if each.spec.whole == shelf]


def verdict(designs: Sequence[Design]) -> State:
    """Return the worst of all sections of a job; no way on is a failure."""
    states = {"fails" if each.way is None else each.holds.verdict for each in designs}
    if "fails" in states:
        return "fails"
    return "cannot say" if "cannot say" in states or not designs else "passes"


def _judged(
    ground: Ground,
    wanted: Wanted,
    made: tuple[Edit, ...],
    job: Job,
    designs: Sequence[Design],
) -> Tried:
    bill = _bill(job, designs)
    mine = of_shelf(designs, ground.spec.id)
    killed, silent, why = _killed(designs)
    state = verdict(designs)
    return Tried(
        wanted=wanted,
        changes=changes(ground, wanted),
        edits=made,
        state=state,
        figures=_figures(mine, bill, drops_of(mine)),
        governs=_governs(mine),
        killed=killed,
        silent=silent,
        why=why,
        missing=bill.missing if bill else (),
    )


def _bill(job: Job, designs: Sequence[Design]) -> Bill | None:
    made = [Made(each.spec, each.frame, each.core, each.parts) for each in designs]
    try:
        return shop.bill(job, made)
    except TooColdError:
        return None


def figures_of(job: Job, designs: Sequence[Design], shelf: str) -> Figures | None:
    """Return what one shelf of a job is compared by; None where nothing can be said of its drop or price.

    Args:
        job: as read.
        designs: all of it, as judged.
        shelf: id of the shelf.
    """
    mine = of_shelf(designs, shelf)
    return _figures(mine, _bill(job, designs), drops_of(mine))


def drops_of(mine: Sequence[Design]) -> list[tuple[float, float]] | None:
    """Return how far every section drops on day one and in ten years (mm); None where one cannot be said."""
    said = [each.holds.drop for each in mine]
    drops = [(drop.today.value, drop.long_term.value) for drop in said if drop is not None]
    return drops if len(drops) == len(said) else None


def _figures(
    mine: Sequence[Design], bill: Bill | None, drops: Sequence[tuple[float, float]] | None
) -> Figures | None:
    if bill is None or not mine or not drops:
        return None
    return Figures(
        price=bill.price,
        drop_today=max(today for today, _ in drops),
        drop_long=max(later for _, later in drops),
        mass=sum(each.bill.mass for each in mine),
        hours=bill.hours,
        holes=sum(len(each.frame.rods) for each in mine),
    )


def _rows(designs: Sequence[Design]) -> list[Check]:
    return [check for each in designs for check in each.holds.checks if not check.information]


def _governs(mine: Sequence[Design]) -> Governs | None:
    """The worst of what governs each section; edges of the wood are a matter of scope and never govern."""
    rows = [c for each in mine for c in each.holds.checks if c.id == each.holds.governs]
    if not rows:
        return None
    worst = max(rows, key=lambda check: check.ratio)
    return Governs(worst.id, worst.family, worst.title, worst.ratio, worst.place)


def _killed(designs: Sequence[Design]) -> tuple[tuple[str, ...], tuple[str, ...], str]:
    """Kinds of check that fail or cannot be said; those of them that only cannot be said; the first reason."""
    rows = sorted(_rows(designs), key=lambda check: -check.ratio)
    failed = [(check.family, check.title) for check in rows if check.state == "fails"]
    failed += [(FITTING, "nothing goes on") for each in designs if each.way is None]
    silent = [(check.family, check.reason) for check in rows if check.state == "cannot say"]
    silent += [(m.family, m.why) for each in designs for m in each.holds.cannot_say]
    fell = dict.fromkeys(family for family, _ in failed)
    quiet = tuple(dict.fromkeys(family for family, _ in silent if family not in fell))
    why = next((text for _, text in (*failed, *silent) if text), "")
    return (*fell, *quiet), quiet, why
