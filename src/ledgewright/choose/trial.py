"""One design tried: made by edits, read as its file would be, and judged in full with the whole job."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from ledgewright import shop
from ledgewright.choose.change import changes, edits, hole
from ledgewright.choose.ground import Ground
from ledgewright.choose.model import Figures, Governs, State, Tried, Wanted
from ledgewright.job import Edit, Job
from ledgewright.judge import Design
from ledgewright.layout import LayoutError
from ledgewright.shop import Bill, Made, TooColdError
from ledgewright.statics import Check

Judge = Callable[[Job], Sequence[Design]]
"""Judges every shelf of a job, as `check` does."""

FITTING = "fitting"
LAYOUT = "layout"


def try_out(ground: Ground, wanted: Wanted, judge: Judge) -> Tried:
    """Make a design, read it and judge it.

    Args:
        ground: the shelf.
        wanted: what it is to be.
        judge: judges the whole job; a LayoutError of it makes a design that cannot be built.
    """
    if hole(ground, wanted) is None:
        return _unbuilt(ground, wanted, (), ("drill",), "no bit is made so large")
    return tried(ground, wanted, edits(ground, wanted), judge)


def tried(ground: Ground, wanted: Wanted, made: tuple[Edit, ...], judge: Judge) -> Tried:
    """Read a job with edits made and judge it; `wanted` is what they make of the shelf, for the record."""
    read = ground.with_edits(made)
    if read.job is None:
        stops = [f for f in read.findings if f.level != "note"]
        codes = tuple(dict.fromkeys(f.code for f in stops))
        return _unbuilt(ground, wanted, made, codes, stops[0].wrong if stops else "")
    try:
        designs = tuple(judge(read.job))
    except LayoutError as error:
        return _unbuilt(ground, wanted, made, (LAYOUT,), " ".join(error.reasons))
    return _judged(ground, wanted, made, read.job, designs)


def _unbuilt(
    ground: Ground, wanted: Wanted, made: tuple[Edit, ...], killed: tuple[str, ...], why: str
) -> Tried:
    what = changes(ground, wanted)
    return Tried(wanted, what, made, "cannot be built", None, None, killed, (), why, ())


def of_shelf(designs: Sequence[Design], shelf: str) -> list[Design]:
    """Return the sections of one shelf."""
    return [
        each
        for each in designs
        if (each.spec.section.of if each.spec.section else each.spec.id) == shelf
    ]


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
    figures = _figures(mine, bill)
    state = verdict(designs)
    return Tried(
        wanted=wanted,
        changes=changes(ground, wanted),
        edits=made,
        state=state,
        figures=figures,
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


def _figures(mine: Sequence[Design], bill: Bill | None) -> Figures | None:
    drops = [each.holds.drop for each in mine]
    said = [drop for drop in drops if drop is not None]
    if bill is None or not mine or len(said) < len(drops):
        return None
    return Figures(
        price=bill.price,
        drop_today=max(drop.today.value for drop in said),
        drop_long=max(drop.long_term.value for drop in said),
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
