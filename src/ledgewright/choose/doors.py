"""Where nothing passes: which checks kill what share of the designs, and what opens the door."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from ledgewright import stock
from ledgewright.choose.change import edits as design_edits
from ledgewright.choose.change import length
from ledgewright.choose.ground import Ground
from ledgewright.choose.model import Door, Kind, Nothing, Stop, Tried
from ledgewright.choose.space import knows_price, looks, make, sold_as
from ledgewright.choose.trial import FITTING, Judge, tried
from ledgewright.job import ACCEPTABLE, Accepted, Edit, Job
from ledgewright.judge import Design, edits
from ledgewright.layout import LayoutError
from ledgewright.stock import Panel

HOLD = "hold.pull"
NEAREST = 2
"""Doors are looked for from so many designs, the nearest to passing first (our choice)."""
LESS = (0.75, 0.5)
"""Shares of the contents that are tried (our choice)."""
_WEIGHT = re.compile(r"\s*([\d.]+)\s*(.+)")


def nothing(
    ground: Ground, looked: Sequence[Tried], judge: Judge, closely: Judge, *, stop: Stop
) -> Nothing:
    """Return why no design passes, and what would let one pass; every door was tried, and passes.

    Args:
        ground: the shelf.
        looked: all designs that were worked through, none of which passes.
        judge: judges the whole job.
        closely: the same, and looks for what opens a way.
        stop: once it says yes, the doors found so far are returned.
    """
    killed = _shares([[k for k in each.killed if k not in each.silent] for each in looked])
    unsaid = _shares([each.silent for each in looked])
    built = [each for each in looked if each.state != "cannot be built"]
    near = sorted(built, key=_far)
    doors: list[Door] = []
    for start in near[:NEAREST]:
        for kind, made in _doors(ground, start, closely):
            if stop():
                break
            door = _opened(ground, start, kind, made, judge)
            if door is not None:
                doors.append(door)
                if kind == "as it is":
                    break
        if doors:
            break
    return Nothing(killed, unsaid, near[0] if near else None, tuple(doors))


def _far(tried: Tried) -> tuple[int, int, int, float]:
    """How far a design is from passing: by what fails; where nothing does, by what nobody can accept, then changes.

    Where an engineer's word alone is missing, the job as it is with that word is the least change, whatever other
    design has more in hand.
    """
    fails = len(tried.killed) - len(tried.silent)
    if fails:
        return fails, 0, 0, tried.worst
    shut = sum(family not in ACCEPTABLE for family in tried.silent)
    return 0, shut, len(tried.changes), tried.worst


def _shares(families: Sequence[Sequence[str]]) -> tuple[tuple[str, float], ...]:
    count: Counter[str] = Counter(family for each in families for family in each)
    return tuple((family, n / len(families)) for family, n in count.most_common())


def _doors(ground: Ground, start: Tried, closely: Judge) -> Iterator[tuple[Kind, tuple[Edit, ...]]]:
    """What might be given up, the least first; each together with the edits of the design it starts from."""
    yield "as it is", start.edits
    if HOLD in start.killed and (lock := _lock(ground)):
        yield "a lock", (*start.edits, lock)
    for panel in _other_panels(ground):
        yield "other skins", design_edits(ground, replace(start.wanted, skins=panel.name))
    if looser := _looser(ground, start):
        yield "drop limits", (*start.edits, *looser)
    if FITTING in start.killed:
        yield from (("moved", (*start.edits, *made)) for made in _openings(ground, start, closely))
    for share in LESS:
        if lighter := _lighter(ground, share):
            yield "less load", (*start.edits, *lighter)
    for less in (1, 2):
        by = less * (25.4 if ground.unit == "in" else 25.0)
        yield "shallower shelf", _shallower(ground, start, by)


def _looser(ground: Ground, start: Tried) -> tuple[Edit, ...]:
    """The limits of the drop that a design goes past, at the next step over its drop; the others stay."""
    found = start.figures
    if found is None or not any(k.startswith("drop.") for k in start.killed):
        return ()
    has = next(each.limits for each in ground.job.demands if each.shelf == ground.spec.id)
    step = 25.4 / 32 if ground.unit == "in" else 0.5

    def over(drop: float, limit: float) -> float:
        return step * (int(drop / step) + 1) if drop > limit else limit

    today = over(found.drop_today, has.drop_today)
    # A limit in ten years below that of day one is refused by the reading.
    later = max(over(found.drop_long, has.drop_long), today)
    rows = (("drop_today", today, has.drop_today), ("drop_long", later, has.drop_long))
    return tuple(
        Edit(f"{ground.spec.path}.limits.{key}", length(new, ground.unit))
        for key, new, limit in rows
        if new > limit
    )


def _lock(ground: Ground) -> Edit | None:
    """A grub screw at every rod, which needs nothing of the wall; None where there is one."""
    if ground.spec.lock.kind == "grub screw":
        return None
    at = f"{ground.spec.path}.lock"
    if "lock" not in ground.table:
        return Edit(at, '{ kind = "grub screw" }')
    return Edit(f"{at}.kind", '"grub screw"')


def _other_panels(ground: Ground) -> list[Panel]:
    """Panels of the same kind and another make, about as thick, that have a price; those that look alike first.

    Sheets in fractions are for inch shops alone; by the millimetre they are sold in both (common practice).
    """
    was = ground.spec.skin_top.panel
    found = [
        panel
        for panel in stock.panels()
        if panel.kind == was.kind
        and make(panel) != make(was)
        and panel.market in (was.market, ground.unit, "mm")
        and abs(panel.thick - was.thick) < LIKE
        and knows_price(ground, sold_as(panel))
    ]

    def far(panel: Panel) -> tuple[bool, bool, float]:
        other = panel.market != was.market
        return looks(panel) != looks(was), other, abs(panel.thick - was.thick)

    return sorted(found, key=far)[:NEAREST]


LIKE = 3.0
"""Panels that differ in thickness by less than this are tried as other skins (mm; our choice)."""


def _openings(ground: Ground, start: Tried, closely: Judge) -> Iterator[tuple[Edit, ...]]:
    """What opens a way, as the fitting found it; where the judge was asked to look for that."""
    job = ground.with_edits(start.edits).job
    for design in _designs(job, closely) if job else ():
        for opening in design.openings:
            yield edits(job, design.spec, opening) if job else ()


def _designs(job: Job, judge: Judge) -> Sequence[Design]:
    try:
        return judge(job)
    except LayoutError:
        return ()


def _lighter(ground: Ground, share: float) -> tuple[Edit, ...]:
    """The even contents cut to a share; things that were told one by one stay."""
    loads = ground.table.get("load", [])
    made = []
    for k, load in enumerate(loads if isinstance(loads, list) else []):
        found = _WEIGHT.fullmatch(load["weight"]) if load.get("kind") in ("even", "strip") else None
        if found:
            text = f'"{round(float(found[1]) * share, 2):g} {found[2]}"'
            made.append(Edit(f"{ground.spec.path}.load[{k}].weight", text))
    return tuple(made)


def _shallower(ground: Ground, start: Tried, by: float) -> tuple[Edit, ...]:
    """The design with the shelf less deep, and every rod as much shorter."""
    shorter = replace(start.wanted, longer=start.wanted.longer - by)
    spec, rows = ground.spec, ground.table.get("legs", [])
    own = {row["wall"]: k for k, row in enumerate(rows) if "depth" in row}
    legs = [leg for leg in spec.legs if leg.wall in own and leg.depth is not None]
    depths = (
        *(() if len(legs) == len(spec.legs) else ((f"{spec.path}.depth", spec.depth),)),
        *((f"{spec.path}.legs[{own[leg.wall]}].depth", leg.deep(spec.depth)) for leg in legs),
    )
    edits = (Edit(path, length(depth - by, ground.unit)) for path, depth in depths)
    return (*edits, *design_edits(ground, shorter))


def _opened(
    ground: Ground, start: Tried, kind: Kind, made: tuple[Edit, ...], judge: Judge
) -> Door | None:
    """The door, if it opens: alone, or with an engineer's acceptance of what is at the edge of its sources."""
    alone = tried(ground, start.wanted, made, judge)
    if alone.state == "passes":
        return Door(kind, made, (), alone.figures)
    rows = tuple(family for family in alone.silent if family in ACCEPTABLE)
    if alone.state != "cannot say" or not rows:
        return None
    return _accepted(ground, start, kind, made, rows, judge)


def _accepted(
    ground: Ground,
    start: Tried,
    kind: Kind,
    made: tuple[Edit, ...],
    rows: tuple[str, ...],
    judge: Judge,
) -> Door | None:
    """Judged as if an engineer had accepted these rows, to know whether it is worth asking one."""

    def asked(job: Job) -> Sequence[Design]:
        shelves = tuple(
            replace(spec, accepted=_more(spec.accepted, rows))
            if spec.id == ground.spec.id
            else spec
            for spec in job.shelves
        )
        return judge(replace(job, shelves=shelves))

    found = tried(ground, start.wanted, made, asked)
    return Door(kind, made, rows, found.figures) if found.state == "passes" else None


def _more(accepted: Accepted | None, rows: tuple[str, ...]) -> Accepted:
    had = accepted.rows if accepted else ()
    by, on = (accepted.by, accepted.on) if accepted else ("nobody yet", None)
    return Accepted(by, on, tuple(dict.fromkeys((*had, *rows))))
