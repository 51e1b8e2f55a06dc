"""The calculations: every check with its derivation, governing first, and what is not computed."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from typing import Literal

from ledgewright.judge import Design
from ledgewright.plan import Plan
from ledgewright.sheets import others
from ledgewright.sheets.leaves import Held, mark_of, named, sized, worked
from ledgewright.sheets.mathematics import level
from ledgewright.sheets.model import CalculationSheet, Line, Picture, ShapeSheet, Table, Working
from ledgewright.sheets.plainly import family_title, told_below
from ledgewright.sheets.say import Say, figures, ratio
from ledgewright.statics import Check, Scope, Step, Surface

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
    shown = [c for c in worst if worked(c, held)]
    return CalculationSheet(
        title=say.word("Calculations"),
        about=f"shelf {design.spec.id}, {_BASIS[plan.job.meta.basis]}",
        unit="N, mm, MPa",
        summary=_summary(worst, design, held),
        hold=_hold(design, held),
        cannot_say=tuple(told_below(line, plan) for line in grouped(design)),
        reading=_READING,
        workings=_workings(plan, shown, design),
        everywhere=_summary(checks, design, held),
        others=others.table(design, say),
        others_note=say.text(others.NOTE),
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
        about=f"shelf {design.spec.id}",
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
    "Each line has a number; a line that is needed again is named by it. Where a check is made at several "
    "places or under several loads, the worst is worked here; the others follow the same lines and stand "
    "in full in check.json."
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


def _summary(checks: Sequence[Check], design: Design, held: Held) -> Table:
    return Table(
        heads=("Check", "Where", "Asks", "Can take", "Unit", "Asks / can take", "State"),
        widths=(55, 13, 22, 22, 16, 20, 28),
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
    return check.state.upper() if check.state == "fails" else check.state


def _where(check: Check, design: Design) -> str:
    if check.place is None:
        return "shelf"
    return mark_of(design, check.place.member)


def _workings(plan: Plan, checks: Sequence[Check], design: Design) -> tuple[Working, ...]:
    """Work each check, every line once: lines met before are named by their numbers."""
    known: dict[Step, int] = {}
    made = []
    for check in checks:
        new = [s for s in dict.fromkeys(check.steps) if s not in known]
        above = sorted({known[s] for s in check.steps if s in known})
        known |= {s: len(known) + k for k, s in enumerate(new, 1)}
        made.append(_working(plan, check, design, above, tuple(_line(s, known[s]) for s in new)))
    return tuple(made)


def _working(
    plan: Plan, check: Check, design: Design, above: list[int], steps: tuple[Line, ...]
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
        case=check.case,
        source=check.source,
        reason=told_below(check.reason, plan),
        above=f"From above: {runs(above)}." if above else "",
        steps=steps,
    )


def runs(numbers: Sequence[int]) -> str:
    """Return rising numbers with neighbours drawn together: 1, 2, 3, 7 is "(1) to (3), (7)"."""
    parts: list[list[int]] = []
    for n in numbers:
        if parts and parts[-1][-1] == n - 1:
            parts[-1].append(n)
        else:
            parts.append([n])
    return ", ".join(f"({p[0]})" if len(p) == 1 else f"({p[0]}) to ({p[-1]})" for p in parts)


def _line(step: Step, number: int) -> Line:
    return Line(
        number=number,
        symbol=step.symbol,
        formula="" if _is_number(step.formula) else step.formula,
        numbers=_numbers(step),
        value=f"{plain(step.value)} {unit(step.unit)}".strip(),
        source=step.source,
        assumed=step.assumed,
        room=_room(step),
    )


def _numbers(step: Step) -> str:
    if step.formula == "" or _is_number(step.formula):
        return ""  # the value says it already
    return level(step.numbers) if len(step.numbers) > _LONG else step.numbers


def _is_number(text: str) -> bool:
    return re.fullmatch(r"-?[\d.]+", text) is not None


def _room(step: Step) -> Literal["beside", "under", "stacked"]:
    width = len(step.formula) + len(step.numbers)
    if width > _STACKED:
        return "stacked"
    return "under" if width > _WIDE or len(step.source) > _SOURCE else "beside"


# Letters of the source of a formula, which err on the wide side; the page takes about 150 at full width.
_WIDE, _STACKED, _LONG, _SOURCE = 75, 110, 125, 110


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
