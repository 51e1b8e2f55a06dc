"""What of the rods is in the wall: as their readings say it was bonded, or as the job has it and somebody is asked."""

from __future__ import annotations

from collections.abc import Iterable

from ledgewright.job import AsSet, Bonded
from ledgewright.judge import Design
from ledgewright.layout import Rod
from ledgewright.plan import Plan
from ledgewright.sheets.leaves import held_walls
from ledgewright.sheets.say import Say, listed


def taken(plan: Plan, design: Design) -> tuple[str, ...]:
    """Return the question of what is in the wall, for rods whose readings do not say it; none where all do.

    A job file can be edited after its rods are bonded: then bar, depth, hole and glue of the job are no longer those
    in the wall, and nothing else would show it. Nothing is told of rods on a wall that nobody may drill.

    Args:
        plan: the whole job.
        design: the section.
    """
    say, known = Say.of(plan.job.meta), _readings(plan, design)
    asked = [
        rod
        for rod in _shown(plan, design)
        if rod.member in known and known[rod.member].bonded is None
    ]
    return tuple(say.text(_question(words, marks)) for words, marks in _alike(asked, say))


def _question(words: str, marks: list[str]) -> str:
    """Asked of rods that are alike, by their marks."""
    are, readings = ("is", "its reading does") if len(marks) == 1 else ("are", "the readings do")
    return (
        f"{listed(marks)} {are} taken as {words}; {readings} not say: is that what is in the wall?"
    )


def to_confirm(plan: Plan, design: Design, wall: str) -> tuple[str, ...]:
    """Return what the rods of a wall are bonded as, one line for each kind, for the card they are read on.

    Args:
        plan: the whole job.
        design: the section.
        wall: its id.
    """
    say = Say.of(plan.job.meta)
    rods = [rod for rod in _shown(plan, design) if rod.wall == wall]
    return tuple(f"{listed(marks)}: {words}" for words, marks in _alike(rods, say))


def read(plan: Plan, design: Design, rod: str) -> Bonded | None:
    """Return what the reading of a rod says was bonded; None where it does not say, or there is none.

    Args:
        plan: the whole job.
        design: the section.
        rod: its id.
    """
    of = next(each for each in design.as_drawn.rods if each.id == rod)
    found = _readings(plan, design).get(of.member)
    return found.bonded if found else None


def _readings(plan: Plan, design: Design) -> dict[str, AsSet]:
    """What was read of the rods of a section, by the stud or blocking they are in."""
    specs = (spec for spec in plan.job.shelves if spec.id == design.spec.whole)
    return {r.member: r.as_set for spec in specs for r in spec.rods if r.as_set is not None}


def _shown(plan: Plan, design: Design) -> list[Rod]:
    held = held_walls(plan, design)
    return [rod for rod in design.as_drawn.rods if rod.wall not in held]


def _alike(rods: Iterable[Rod], say: Say) -> list[tuple[str, list[str]]]:
    """Rods that are bonded alike, as the job has them: in words, with their marks."""
    found: dict[str, list[str]] = {}
    for rod in rods:
        words = (
            f"{rod.bar.name} cut to {say.bare(rod.cut_length)}, {say.bare(rod.embedment)} deep in the wood, hole "
            f"{say.bare(rod.hole)}, {rod.adhesive.name}"
        )
        found.setdefault(words, []).append(rod.mark)
    return list(found.items())
