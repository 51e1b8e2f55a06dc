"""Plain names for what the program names by ids: families of checks, places in the job file."""

from __future__ import annotations

import re

from ledgewright.job import Tapes
from ledgewright.judge import Design
from ledgewright.plan import Plan
from ledgewright.sheets.say import Say
from ledgewright.statics import FAMILIES

_ROD = re.compile(r"[\w-]+\.[\w-]+")
_TITLES = {family.id: family.title for family in FAMILIES}
_NAMED = ("wall", "shelf", "corner", "obstacle")
"""Lists of a job file whose entries have names of their own."""
_PARTS = {
    "ends": "ends that meet a wall",
    "in_slot": "dry or glued in its slots",
    "known": "what is behind it",
    "lasts": "how long it stays",
    "line": "true face",
    "load": "loads",
    "of": "what of",
    "how": "how it is known",
    "back": "how the back meets the wall",
    "side": "play at the sides",
    "end": "play past the tip",
    "patch": "where someone leans",
    "single": "one heavy thing",
    "skin_bottom": "bottom skin",
    "skin_top": "top skin",
    "taped": "three tapes",
}
"""Keys of a job file that do not say by themselves what they are; the others are read as they stand."""


def family_title(family: str) -> str:
    """Return what a family of checks is called, or its id if no such family is known."""
    return _TITLES.get(family, family)


def told_below(text: str, plan: Plan) -> str:
    """Return a sentence of another room as people of the job read it: its lengths in their units, rods by their marks.

    Args:
        text: a note, a reason, or why nothing can be said.
        plan: the whole job.
    """
    marks = {rod.id: rod.mark for design in plan.designs for rod in design.frame.rods}
    said = _ROD.sub(lambda found: marks.get(found[0], found[0]), text)
    return Say.of(plan.job.meta).sizes(said)


def counted_apart(plan: Plan, design: Design) -> str:
    """Return that only the drop of what is chosen counts the shelves on the same studs; empty where there are none.

    Args:
        plan: the whole job.
        design: the shelf whose ways stand side by side.
    """
    others = [each for each in plan.beside(design.spec.id) if each.spec.whole != design.spec.whole]
    if not others:
        return ""
    names = " and ".join(dict.fromkeys(f"shelf {each.spec.whole}" for each in others))
    return f"The drop of the way as drawn counts {names} on the same studs; the others would drop further by as much."


def plain_place(path: str, tapes: Tapes | None = None) -> str:
    """Return a place in the job file in plain words, "wall A (sink): studs" for wall.sink.studs.

    Args:
        path: as the job file writes it; counted entries such as load[0] are told by their number, from 1.
        tapes: where walls have their letters; None if the job could not be read: then by the job's own names alone.
    """
    steps = [s for s in re.findall(r'"[^"]*"|[^."\[\]]+|\[\d+\]', path) if s]
    if len(steps) > 1 and steps[0] in _NAMED:
        name = _name(steps[1])
        head = f"{steps[0]} {tapes.called(name) if tapes and steps[0] == 'wall' else name}"
        rest = steps[2:]
    else:
        head, rest = _step(steps[0]) if steps else path, steps[1:]
    told = _joined(rest)
    return f"{head}: {told}" if told else head


def _joined(steps: list[str]) -> str:
    """Steps with commas between; the number of an entry stands with its list."""
    words: list[str] = []
    for step in steps:
        if step.startswith("[") and words:
            words[-1] += f" {_step(step)}"
        else:
            words.append(_step(step))
    return ", ".join(words)


def _name(step: str) -> str:
    if step.startswith("["):
        return str(int(step[1:-1]) + 1)
    return step.strip('"')


def _step(step: str) -> str:
    if step.startswith(("[", '"')):
        return _name(step)
    return _PARTS.get(step, step.replace("_", " "))
