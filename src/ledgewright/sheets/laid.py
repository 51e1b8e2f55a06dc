"""The loads as the calculations put them on, part by part, and case by case what every rod carries of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from ledgewright import plane
from ledgewright.judge import Design
from ledgewright.plan import Plan
from ledgewright.sheets.model import FormPart, FormSheet, Picture, Table
from ledgewright.sheets.say import Say, figures
from ledgewright.statics import Check, Laid, LoadCase, LoadPart, OnRod

RODS = 8
"""So many rods go beside one another in a table."""
NAMES = {"dead": "self\u2011weight", "single": "one\u00a0thing", "accident": "leaning"}
"""What loads are called that bear no name of their own, in one piece."""


def numbered(checks: Iterable[Check], laid: Laid) -> dict[str, int]:
    """Return the number of every case that one of some checks is worst under, in the order of the checks.

    Args:
        checks: those that are worked.
        laid: the loads of the shelf.
    """
    known = {case.case for case in laid.cases}
    told = dict.fromkeys(check.case for check in checks if check.case in known)
    return {case: k for k, case in enumerate(told, 1)}


def laid_sheet(
    plan: Plan, design: Design, laid: Laid, numbers: dict[str, int], picture: Picture | None
) -> FormSheet:
    """Return all loads in parts and every case that is worked, to be laid out and brought into balance by hand.

    Args:
        plan: the whole job.
        design: the shelf, no wall of which is withheld.
        laid: its loads.
        numbers: of the cases that are worked.
        picture: the parts by number.
    """
    say = Say.of(plan.job.meta)
    rods = [rod.id for rod in design.frame.rods]
    cases = [case for case in laid.cases if case.case in numbers]
    cases.sort(key=lambda case: numbers[case.case])
    groups = [rods[k : k + RODS] for k in range(0, len(rods), RODS)]
    return FormSheet(
        title="Loads, case by case",
        about=f"shelf {design.spec.title}",
        unit="N, mm",
        warning="",
        intro=say.text(
            "Every load as the calculations put it on, before its factor, and what every "
            f"{say.word('rod')} carries in each case they work. Along: from the wall's own tape end. Out: from its "
            f"straight line into the room. {_LETTERS[plan.job.meta.basis]}. A {say.word('rod')} proud of the others "
            "stands above them by its play."
        ),
        facts=(),
        parts=(
            FormPart(f"The {say.word('rods')}", tables=(_rods(design, say),)),
            FormPart(
                "Loads, by the numbers in the plan",
                lines=tuple(say.text(line) for line in _patches(laid)),
                picture=picture,
                tables=(_parts(design, laid),),
            ),
            FormPart(
                "The cases that are worked, and what lies on the shelf and on each "
                f"{say.word('rod')} (N)",
                lines=(
                    say.text(
                        f"What the shelf puts on a {say.word('rod')}, down, the {say.word('rod')}'s own weight left "
                        "out: together as much as lies on the shelf times its factors."
                    ),
                ),
                tables=tuple(_cases(design, laid, cases, numbers, some) for some in groups),
            ),
            FormPart(
                f"Its moment about the wood at each {say.word('rod')} (N m)",
                lines=(
                    "With the forces at the wood these moments balance those of the loads about any line.",
                ),
                tables=tuple(_moments(design, cases, numbers, some) for some in groups),
                whole=True,
            ),
        ),
    )


_LETTERS = {
    "nds": "D self-weight, L contents, S one thing, A someone leans, H someone pulls",
    "ec5": "G self-weight, Q contents, S one thing, A someone leans, H someone pulls",
}


def _patches(laid: Laid) -> Iterator[str]:
    """On how large a square the one thing and whoever leans press."""
    for kind, who in (("single", "One thing"), ("accident", "Whoever leans or climbs")):
        plan = next((part.plan for part in laid.parts if part.kind == kind), None)
        if plan is not None:
            wide, deep = (plane.length(plane.sub(plan[k + 1], plan[k])) for k in (0, 1))
            yield f"{who} presses on {wide:.0f} x {deep:.0f} mm of skin, clear of the edging, about the place given."


def _place(design: Design, wall: str, at: tuple[float, float]) -> tuple[str, str]:
    of = design.room.wall(wall)
    along, out = of.figures(at)
    return f"{of.taped(along):.1f}", f"{out:.1f}"


def _rods(design: Design, say: Say) -> Table:
    """Where every rod leaves the wood and where its tip is."""
    return Table(
        heads=(
            say.word("rod").capitalize(),
            "Wall",
            "At the wood: along",
            "out",
            "At its tip: along",
            "out",
            "Play",
        ),
        widths=(16, 26, 30, 16, 30, 16, 20),
        figures=(2, 3, 4, 5, 6),
        rows=tuple(
            (
                rod.mark,
                rod.wall,
                *_place(design, rod.wall, rod.point(0.0)[:2]),
                *_place(design, rod.wall, rod.point(rod.free + rod.projection)[:2]),
                f"{rod.clearance.up:.2f}",
            )
            for rod in design.frame.rods
        ),
    )


def _parts(design: Design, laid: Laid) -> Table:
    """Every part of every load: what, where it lies, along and out of its middle, its force."""
    blank = ("\u00b7",) * 5
    cells: list[tuple[str, ...]] = []
    for _, some in groupby(laid.parts, lambda part: (part.load, part.part.split(" ")[0])):
        cells += [_told(design, part) for part in some]
        # What lies in front and behind on one part of the top stands in one line.
        cells += [blank] * (len(cells) % 2)
    return Table(
        heads=("Load", "Part or place", "Along", "Out", "N") * 2,
        widths=(22, 36, 15, 13, 13) * 2,
        figures=(2, 3, 4, 7, 8, 9),
        rows=tuple((*a, *b) for a, b in zip(cells[::2], cells[1::2], strict=True)),
    )


def _told(design: Design, part: LoadPart) -> tuple[str, ...]:
    return (
        NAMES.get(part.kind, part.load),
        part.part or part.spot or "-",
        *_place(design, part.wall, part.at),
        figures(part.force, 4, "near"),
    )


def _cases(
    design: Design,
    laid: Laid,
    cases: Sequence[LoadCase],
    numbers: dict[str, int],
    some: Sequence[str],
) -> Table:
    return Table(
        heads=("", "Case", "On it", *_marks(design, some)),
        widths=(7, 70, 12, *(12.0 for _ in some)),
        figures=tuple(range(2, 3 + len(some))),
        rows=tuple(
            (
                str(numbers[case.case]),
                case.case,
                f"{_down(laid, case):.0f}",
                *(f"{on.down:.0f}" for on in _on(case, some)),
            )
            for case in cases
        ),
    )


def _moments(
    design: Design, cases: Sequence[LoadCase], numbers: dict[str, int], some: Sequence[str]
) -> Table:
    return Table(
        heads=("Case", *_marks(design, some)),
        widths=(12, *(20.0 for _ in some)),
        figures=tuple(range(1, 1 + len(some))),
        rows=tuple(
            (str(numbers[case.case]), *(f"{on.moment / 1000:.1f}" for on in _on(case, some)))
            for case in cases
        ),
    )


def _marks(design: Design, some: Sequence[str]) -> tuple[str, ...]:
    marks = {rod.id: rod.mark for rod in design.frame.rods}
    return tuple(marks[rod] for rod in some)


def _on(case: LoadCase, some: Sequence[str]) -> list[OnRod]:
    by = {each.rod: each for each in case.rods}
    return [by[rod] for rod in some]


def _down(laid: Laid, case: LoadCase) -> float:
    return sum(case.factor(laid.parts[k]) * laid.parts[k].force for k in case.there)
