"""The calculations: every check with its derivation, governing first, and what is not computed."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from ledgewright.judge import Design
from ledgewright.plan import Plan
from ledgewright.sheets import laid, others
from ledgewright.sheets.leaves import Held, held_walls, mark_of, named, sized, worked
from ledgewright.sheets.mathematics import level
from ledgewright.sheets.model import CalculationSheet, Line, Picture, ShapeSheet, Table, Working
from ledgewright.sheets.plainly import family_title, told_below
from ledgewright.sheets.say import Say, figures, ratio
from ledgewright.statics import Check, LoadLimit, Scope, Step, Stop, Surface

_SCOPE: dict[Scope, str] = {
    "in": "Within what its source covers.",
    "stretched": "Stretched: at the edge of what its source covers.",
    "out": "Outside what its source covers, so it cannot pass.",
}


def calculation_sheet(plan: Plan, design: Design, held: Held) -> CalculationSheet:
    """Return every check of one shelf.

    A derivation at a place on a wall that is not confirmed is left out, since it carries figures of holes;
    its result stays.

    Args:
        plan: the whole job.
        design: the shelf.
        held: ids of the walls that are not confirmed.
    """
    say = Say.of(plan.job.meta)
    checks = ranked(design)
    worst = _once(checks)
    workings, sources = _worked(plan, design)
    return CalculationSheet(
        title=say.word("Calculations"),
        about=f"shelf {design.spec.title}, {_BASIS[plan.job.meta.basis]}",
        unit="N, mm, MPa",
        summary=_summary(worst, design, held),
        summary_note=say.text(_SUMMARY),
        hold=_hold(design, held),
        cannot_say=tuple(told_below(line, plan) for line in grouped(design)),
        reading=_READING,
        workings=workings,
        everywhere=_summary(_by_family(checks), design, held),
        others=others.table(design, say),
        others_note=say.text(others.NOTE),
        sources=sources,
    )


def shape_sheet(
    plan: Plan, design: Design, drop: Picture | None, forces: Picture | None
) -> ShapeSheet:
    """Return the pictures of the statics: drop over the plan, contact and moment of every rod.

    Args:
        plan: the whole job.
        design: the shelf.
        drop: lines of equal drop, if they are drawn.
        forces: every rod, if any may be shown.
    """
    say, surface = Say.of(plan.job.meta), design.holds.surface
    return ShapeSheet(
        title="Drop and forces",
        about=f"shelf {design.spec.title}",
        unit=say.unit,
        drop=drop,
        about_drop=_about(surface) if surface else "",
        forces=forces,
        forces_head=f"What presses on each {say.word('rod')}, and how it bends",
        about_forces=f"Each under the strength case that bends it most, as it says; a {say.word('rod')} that is proud "
        "takes up its play before the others. Shaded: force per length from either skin, and the moment, drawn on "
        "the side that is stretched.",
    )


def _about(surface: Surface) -> str:
    """Under what the top goes down; why some figures bear a minus sign, if any place rises."""
    rises = " Figures with a minus sign: there the top rises." if min(surface.down) < 0.0 else ""
    return f"Under {surface.case}.{rises}"


_READING = (
    "Each line has a number, which runs through the job; a line that is needed again, or stands with another shelf, is "
    'named by it, and "as" names the line that has the same formula in full. Where a check is made at several places '
    "or under several loads, the worst is worked here; the others follow the same lines, in full in check.json."
)


_SUMMARY = (
    'Someone leaning is one check here, its rows stand overleaf. "Accepted": beyond the rule, '
    "on an engineer's word."
)


_BASIS = {"nds": "NDS and AISC", "ec5": "Eurocodes 3 and 5"}


def ranked(design: Design) -> tuple[Check, ...]:
    """Return the checks, the governing one first, then by ratio; information rows last."""
    governs = design.holds.governs
    return tuple(
        sorted(
            design.holds.checks,
            key=lambda c: (c.id != governs, c.information, c.state != "fails", -c.ratio, c.id),
        )
    )


def grouped(design: Design) -> tuple[str, ...]:
    """Return where nothing can be said, by title: one reason for all it stops, many places of a family as one."""
    first: dict[str, str] = {}
    count: Counter[str] = Counter()
    for missing in design.holds.cannot_say:
        first.setdefault(missing.family, missing.why)
        count[missing.family] += 1
    by_reason: dict[str, list[str]] = {}
    for family, why in first.items():
        more = f" (and {count[family] - 1} more like it)" if count[family] > 1 else ""
        by_reason.setdefault(why + more, []).append(family_title(family))
    return tuple(f"{'; '.join(titles)}: {why}." for why, titles in by_reason.items())


def _once(checks: Sequence[Check]) -> tuple[Check, ...]:
    """Keep the worst place and case of each family: the others differ in numbers alone."""
    worst: dict[str, Check] = {}
    for check in checks:
        worst.setdefault(check.family, check)
    return tuple(worst.values())


def _by_family(checks: Sequence[Check]) -> list[Check]:
    """Checks of one family and title together, the family with the worst of them first."""
    order = {family: k for k, family in enumerate(dict.fromkeys(c.family for c in checks))}
    titles = {title: k for k, title in enumerate(dict.fromkeys(c.title for c in checks))}
    return sorted(checks, key=lambda c: (order[c.family], titles[c.title]))


def _summary(checks: Sequence[Check], design: Design, held: Held) -> Table:
    return Table(
        heads=("Check", "Where", "Asks", "Can take", "Unit", "Asks / can take", "State"),
        widths=(57, 19, 20, 20, 15, 18, 28),
        figures=(2, 3, 5),
        rows=tuple(
            (
                c.title,
                _where(c, design),
                *(_sizes(c) if sized(c, held) else ("withheld",) * 2),
                unit(c.unit),
                ratio(c.ratio, 3),
                _state(c),
            )
            for c in checks
        ),
    )


def _sizes(check: Check) -> tuple[str, str]:
    """What is asked, rounded up, and what can be taken, rounded down."""
    return figures(check.demand, 4, "up"), figures(check.capacity, 4, "down")


def _state(check: Check) -> str:
    if check.information:
        return "for information"
    if check.state == "passes" and check.ratio > 1:
        # It passes because an engineer has accepted it; what it asks and can take alone would not say so.
        return "accepted"
    return check.state.upper() if check.state == "fails" else check.state


def _where(check: Check, design: Design) -> str:
    if check.place is None:
        part = check.id.partition("@")[2].partition("/")[0]
        skin, _, thinned = part.partition(", ")
        return (thinned or skin) if "skin" in part else "shelf"
    return mark_of(design, check.place.member)


@dataclass
class _Ledger:
    """Lines and formulas that stand in full already, by number, and long sources; one for a whole job.

    shelves: the number of the first line of each shelf, and what the shelf is called.
    """

    lines: dict[Step, int] = field(default_factory=dict)
    formulas: dict[tuple[str, str, str], int] = field(default_factory=dict)
    sources: dict[str, int] = field(default_factory=dict)
    shelves: list[tuple[int, str]] = field(default_factory=list)

    def begins(self, shelf: str) -> None:
        """Begin a shelf: its sources are listed with it."""
        self.shelves.append((len(self.lines) + 1, shelf))
        self.sources = {}

    def above(self, steps: Sequence[Step]) -> str:
        """Name the lines of a derivation that stand in full before it, those of other shelves by the shelf."""
        met = sorted({self.lines[s] for s in steps if s in self.lines})
        told = []
        for k, (first, shelf) in enumerate(self.shelves):
            end = self.shelves[k + 1][0] if k + 1 < len(self.shelves) else math.inf
            numbers = [n for n in met if first <= n < end]
            where = "above" if k + 1 == len(self.shelves) else f"shelf {shelf}"
            if numbers:
                told.append(f"from {where}: {runs(numbers)}")
        said = "; ".join(told)
        return f"{said[:1].upper()}{said[1:]}." if said else ""

    def put(self, check: Check) -> tuple[str, tuple[Line, ...]]:
        """Put a derivation down; return the words for its lines that stand above already, and the new ones."""
        steps = tuple(dict.fromkeys(check.steps))
        above = self.above(steps)
        return above, tuple(self.line(s) for s in steps if s not in self.lines)

    def line(self, step: Step) -> Line:
        """Put a line down and return it; a formula that stands already is named by its line."""
        number = len(self.lines) + 1
        self.lines[step] = number
        formula = "" if _is_number(step.formula) else step.formula
        key = (step.symbol, formula, step.source)
        like = self.formulas.setdefault(key, number) if formula else number
        return Line(
            number=number,
            symbol=step.symbol,
            formula=formula if like == number else "",
            numbers=_numbers(step),
            value=f"{plain(step.value)} {unit(step.unit)}".strip(),
            source=self._source(step.source) if like == number else "",
            assumed=step.assumed,
            room=_room(step, like != number),
            like=0 if like == number else like,
        )

    def _source(self, source: str) -> str:
        if len(source) <= _SOURCE:
            return source
        return f"Source {self.sources.setdefault(source, len(self.sources) + 1)}"


def _worked(plan: Plan, design: Design) -> tuple[tuple[Working, ...], tuple[str, ...]]:
    """Work each check of a shelf, every line of the job once, and its long sources.

    Numbers run through the job: what two shelves have in common stands with the first of them.
    """
    ledger = _Ledger()
    for each in plan.designs:
        ledger.begins(each.spec.title)
        held, numbers = held_walls(plan, each), cases(each)
        once = _once(ranked(each))
        made = [
            _working(plan, check, each, *ledger.put(check), row, numbers.get(check.case))
            for row, check in enumerate(once)
            if worked(check, held)
        ]
        limit = each.holds.load_limit
        stop = limit.stop if isinstance(limit, LoadLimit) else None
        if stop is not None and worked(stop.row, held):
            row = _working(plan, stop.row, each, *ledger.put(stop.row), len(once), None)
            made.append(_stopping(row, stop))
        if each.spec.id == design.spec.id:
            return tuple(made), tuple(ledger.sources)
    return (), ()


def _working(
    plan: Plan,
    check: Check,
    design: Design,
    above: str,
    steps: tuple[Line, ...],
    row: int,
    number: int | None,
) -> Working:
    asks, takes = _sizes(check)
    return Working(
        title=check.title[:1].upper() + check.title[1:],
        place=_where(check, design),
        state=_state(check),
        scope=_SCOPE[check.scope],
        demand=f"{asks} {unit(check.unit)}".strip(),
        capacity=f"{takes} {unit(check.unit)}".strip(),
        ratio=ratio(check.ratio, 3),
        case=check.case if number is None else f"{check.case} (case {number})",
        source=check.source,
        reason=told_below(check.reason, plan),
        above=above,
        steps=steps,
        row=row,
    )


def _stopping(working: Working, stop: Stop) -> Working:
    """A row as what stops a load limit, with the load it is worked under."""
    even = figures(stop.even, 4, "up")
    return replace(
        working,
        title=f"What stops the load limit: {stop.row.title[:1].lower()}{stop.row.title[1:]}",
        state="just over",
        case=f"{stop.row.case}, with {even} N/mm on every length instead of the contents",
        reason=_STOPPING,
    )


_STOPPING = (
    "Worked at the first load that is too much, by half of one per cent at most. The limit is the load below it, "
    "rounded down, or less where doubt, the rods as set or a load test lower it."
)


def cases(design: Design) -> dict[str, int]:
    """Return the number of each case that a worked check is worst under, as the page of loads has them."""
    known = design.holds.laid
    return {} if known is None else laid.numbered(_once(ranked(design)), known)


def runs(numbers: Sequence[int]) -> str:
    """Return rising numbers with neighbours drawn together: 1, 2, 3, 7 is "(1) to (3), (7)"."""
    parts: list[list[int]] = []
    for n in numbers:
        if parts and parts[-1][-1] == n - 1:
            parts[-1].append(n)
        else:
            parts.append([n])
    return ", ".join(f"({p[0]})" if len(p) == 1 else f"({p[0]}) to ({p[-1]})" for p in parts)


def _numbers(step: Step) -> str:
    if step.formula == "" or _is_number(step.formula):
        return ""  # the value says it already
    return level(step.numbers) if len(step.numbers) > _LONG else step.numbers


def _is_number(text: str) -> bool:
    return re.fullmatch(r"-?[\d.]+", text) is not None


def _room(step: Step, short: bool) -> Literal["beside", "under", "stacked"]:
    """How much room a line asks for; a short one names its formula by number."""
    width = len(step.numbers) + (12 if short else len(step.formula))
    if width > _STACKED and not short:
        return "stacked"
    return "under" if width > _WIDE else "beside"


# Letters of the source of a formula, which err on the wide side; the page takes about 150 at full width.
_WIDE, _STACKED, _LONG, _SOURCE = 75, 110, 125, 90


def _hold(design: Design, held: Held) -> str:
    if not held:
        return ""
    walls = named(design, held)
    return (
        f"{walls[:1].upper()}{walls[1:]}: not confirmed. Nothing here is leave to drill it, and derivations that carry "
        "figures of its holes are left out."
    )


def plain(value: float) -> str:
    """Return a number to four significant figures (whole numbers whole), thousands set apart by a space."""
    return figures(value, 4, "near")


def unit(name: str) -> str:
    """Return a unit as it is printed, with raised figures; a ratio has none."""
    for sign, power in (("2", "²"), ("3", "³"), ("4", "⁴")):
        name = name.replace(f"^{sign}", power).replace(f"mm{sign}", f"mm{power}")
    return "" if name == "1" else name
