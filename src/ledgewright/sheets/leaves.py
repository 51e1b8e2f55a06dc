"""What may be done to the walls of one shelf, and what may be told of them.

A stud's edges are the job's own words and stay; what the program makes of them (holes, slots, the pieces beside
slots, the figures of a derivation) is withheld with the wall.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from ledgewright import site
from ledgewright.judge import Design
from ledgewright.plan import Plan
from ledgewright.shop import Part
from ledgewright.site import Leave
from ledgewright.statics import Check

Held = frozenset[str]
"""Walls that nobody may drill yet: nothing of a hole or a rod on them may be shown."""


def leaves(plan: Plan, design: Design) -> tuple[Leave, ...]:
    """Return the leave of each wall for one shelf, in wall order."""
    return tuple(leave for shelf, _, leave in plan.leave if shelf == design.spec.id)


def held_walls(plan: Plan, design: Design) -> Held:
    """Return the walls of a shelf that nobody may drill (see `site.withheld`)."""
    return site.withheld(design.frame, leaves(plan, design))


def named(design: Design, held: Held) -> str:
    """Return withheld walls as people name them, as "wall A (sink)" or "walls A (sink), B (range)"."""
    return walls_named(design.room.wall(wall).called for wall in held)


def walls_named(called: Iterable[str]) -> str:
    """Return walls in the order of their letters, each once, as "wall A (sink)" or "walls A (sink), B (range)".

    Args:
        called: each as `job.called` names it.
    """
    names = sorted(set(called))
    return ("wall " if len(names) == 1 else "walls ") + ", ".join(names)


def mark_of(design: Design, rod: str) -> str:
    """Return the mark people know a rod by (A2), from the id of its member; the id itself if it is no rod's."""
    return next((r.mark for r in design.frame.rods if rod in (r.id, r.member)), rod)


def held_rods(design: Design, held: Held) -> frozenset[str]:
    """Return the ids of the rods on walls that nobody may drill."""
    return frozenset(rod.id for rod in design.frame.rods if rod.wall in held)


def held_part(design: Design, part: Part, held: Held) -> bool:
    """Say whether the sizes of a part are withheld (see `site.hidden`)."""
    return site.hidden(part, design.frame, held)


def worked(check: Check, held: Held) -> bool:
    """Say whether the place and the derivation of a check may be shown.

    A check of the whole shelf rests on every wall.
    """
    return not held or (check.place is not None and check.place.wall not in held)


def sized(check: Check, held: Held) -> bool:
    """Say whether what a check asks and can take may be shown: not where these are sizes round a withheld hole."""
    return check.unit != "mm" or check.family.startswith("drop.") or worked(check, held)


def open_notes(notes: Iterable[str], design: Design, held: Held) -> tuple[str, ...]:
    """Return notes as they are, but one sentence in place of those that name a rod on a withheld wall.

    Args:
        notes: about the rods of a shelf, which they name by their marks.
        design: the shelf.
        held: its withheld walls.
    """
    marks = held_marks(design, held)
    said = ["" if names_any(n, marks) else n for n in notes]
    instead = f"What there is to say of rods on {named(design, held)} is withheld with their holes."
    return tuple(dict.fromkeys(n or instead for n in said))


def core_notes(design: Design, held: Held) -> tuple[str, ...]:
    """Return what a core is short of; withheld while any wall is, since its pieces lie between the slots."""
    short = design.core.short if design.core else ()
    if not held or not short:
        return short
    return (f"The core is short of what it needs; where is withheld with {named(design, held)}.",)


def names_any(text: str, marks: frozenset[str]) -> bool:
    """Say whether a sentence names a rod by one of these marks."""
    return not marks.isdisjoint(re.findall(r"[A-Z]\d+", text))


def held_marks(design: Design, held: Held) -> frozenset[str]:
    """Return the marks of the rods on walls that nobody may drill."""
    return frozenset(rod.mark for rod in design.frame.rods if rod.wall in held)
