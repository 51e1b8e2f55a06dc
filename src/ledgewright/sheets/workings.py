"""The calculations: every check with its derivation, governing first, and what is not computed."""

from __future__ import annotations

from collections.abc import Sequence

from ledgewright.judge import Design
from ledgewright.plan import Plan
from ledgewright.sheets.model import CalculationSheet, Line, Table, Working
from ledgewright.sheets.say import Say
from ledgewright.statics import Check, Scope, Step

_SCOPE: dict[Scope, str] = {
    "in": "Within what its source covers.",
    "stretched": "Stretched: at the edge of what its source covers.",
    "out": "Outside what its source covers, so it cannot pass.",
}


def calculation_sheet(plan: Plan, design: Design, held: frozenset[str]) -> CalculationSheet:
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
    shown = [c for c in _once(checks) if not held or (c.place and c.place.wall not in held)]
    return CalculationSheet(
        title=say.word("Calculations"),
        about=f"shelf {design.spec.id}, {_BASIS[plan.job.meta.basis]}",
        unit="N, mm, MPa",
        summary=_summary(_once(checks), design),
        hold=_hold(held),
        cannot_say=tuple(f"{m.family}: {m.why}" for m in design.holds.cannot_say),
        not_computed=tuple(f"{what}: {why}" for what, why in plan.not_computed),
        assumed=_assumed(plan),
        workings=tuple(_working(c, design) for c in shown),
        everywhere=_summary(checks, design),
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


def _once(checks: Sequence[Check]) -> tuple[Check, ...]:
    """Keep the worst place of each family and case: the others differ in numbers alone."""
    worst: dict[tuple[str, str], Check] = {}
    for check in checks:
        worst.setdefault((check.family, check.case), check)
    return tuple(worst.values())


def _summary(checks: Sequence[Check], design: Design) -> Table:
    return Table(
        heads=("Check", "Where", "Asks", "Can take", "Unit", "Asks / can take", "State"),
        widths=(44, 18, 24, 24, 17, 20, 28),
        figures=(2, 3, 5),
        rows=tuple(
            (
                c.title,
                _where(c, design),
                plain(c.demand),
                plain(c.capacity),
                unit(c.unit),
                f"{c.ratio:.2f}",
                _state(c),
            )
            for c in checks
        ),
    )


def _state(check: Check) -> str:
    if check.information:
        return "for information"
    return check.state.upper() if check.state == "fails" else check.state


def _where(check: Check, design: Design) -> str:
    if check.place is None:
        return "shelf"
    member = check.place.member
    return next((r.mark for r in design.frame.rods if r.member == member), member)


def _working(check: Check, design: Design) -> Working:
    return Working(
        title=check.title[:1].upper() + check.title[1:],
        place=_where(check, design),
        state=_state(check),
        scope=_SCOPE[check.scope],
        demand=f"{plain(check.demand)} {unit(check.unit)}".strip(),
        capacity=f"{plain(check.capacity)} {unit(check.unit)}".strip(),
        ratio=f"{check.ratio:.3f}",
        case=check.case,
        source=check.source,
        reason=check.reason,
        steps=tuple(_line(s) for s in check.steps),
    )


def _line(step: Step) -> Line:
    return Line(
        symbol=step.symbol,
        formula=step.formula,
        numbers=step.numbers,
        value=f"{plain(step.value)} {unit(step.unit)}".strip(),
        source=step.source,
        assumed=step.assumed,
    )


def _assumed(plan: Plan) -> Table:
    return Table(
        heads=("Where in the job file", "Taken as", "Why"),
        widths=(55, 45, 75),
        figures=(),
        rows=tuple((a.path, a.value, f"{a.why} ({a.source})") for a in plan.job.assumed),
    )


def _hold(held: frozenset[str]) -> str:
    if not held:
        return ""
    names = ", ".join(sorted(held))
    return (
        f"Wall {names} is not confirmed. Nothing here is leave to drill it, and derivations that carry "
        "figures of its holes are left out."
    )


def plain(value: float) -> str:
    """Return a number to four significant figures, thousands set apart, without an exponent between 0.001 and 1e9."""
    if value == 0:
        return "0"
    if not 1e-3 <= abs(value) < 1e9:
        return f"{value:.3e}"
    digits = max(0, 4 - len(f"{abs(value):.0f}")) if abs(value) >= 1 else 4
    text = f"{value:,.{digits}f}"
    return (text.rstrip("0").rstrip(".") if digits else text).replace(",", " ")


def unit(name: str) -> str:
    """Return a unit as it is printed; a ratio has none."""
    return (
        ""
        if name in ("1", "")
        else name.replace("mm2", "mm²").replace("mm3", "mm³").replace("mm4", "mm⁴")
    )
