"""What the day on site comes to, for the desk: rods as set, the load test to be made and as read, the load limit.

Made in a working process, from the sheets and lines of `ledgewright site`; nothing of a wall that nobody may drill.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

from ledgewright import site
from ledgewright.desk.moving import place_at
from ledgewright.judge import Design
from ledgewright.plan import Plan
from ledgewright.sheets import as_set, handover
from ledgewright.sheets.leaves import held_walls, leaves
from ledgewright.sheets.model import FormSheet
from ledgewright.sheets.say import Say
from ledgewright.sheets.spoken import own_names, spoken
from ledgewright.site import ReadBack, Withheld
from ledgewright.statics import ROUND, STAGES, WHOLE, Proof, Stage, staged
from ledgewright.survey import Wall
from ledgewright.units import show_length

Answer = dict[str, Any]
STEPS: tuple[tuple[Stage | None, str], ...] = (
    *((stage, "10 min") for stage in STAGES),
    (WHOLE, "24 h"),
    (None, "1 h"),
)
"""The steps of a load test as its sheet has them: what is on, and how long it stands."""


def sited(plan: Plan) -> Answer:
    """Return what readings and load tests come to, section by section, and what the next step of a test would be.

    Args:
        plan: the whole job, with its load tests.
    """
    say = Say.of(plan.job.meta, own_names(plan))
    return {
        "sections": [_section(plan, design, say) for design in plan.designs],
        "steps": {spec.id: _steps(plan, spec.id, say) for spec in plan.job.shelves},
    }


def _section(plan: Plan, design: Design, say: Say) -> Answer:
    found = site.as_set(design, plan.job.meta.order)
    _, read = plan.test(design.spec.id)
    sheet = handover.test_sheet(plan, design)
    held = held_walls(plan, design)
    return {
        "title": design.spec.title,
        "held": sorted(held),
        "asked": _asked(plan, design, say),
        "go": found.go if found and not held else None,
        "told": [say.text(line) for line in as_set.told(plan, design)],
        "tested": read.outcome if isinstance(read, ReadBack) and not held else "",
        "test": [_here(say.text(line.strip())) for line in handover.lines(plan, design)[1:]],
        "sheet": asdict(spoken(sheet, say)) if isinstance(sheet, FormSheet) else None,
    }


def _here(line: str) -> str:
    """A line of the terminal's answer as the desk says it: by its own pages, not by verbs."""
    return line.replace("`check` works it out", "worked out on the page What it comes to")


def _asked(plan: Plan, design: Design, say: Say) -> list[Answer]:
    """What is to be answered before a wall may be drilled."""
    return [
        {"wall": leave.wall, "questions": [say.text(each) for each in leave.questions]}
        for leave in leaves(plan, design)
        if isinstance(leave, Withheld)
    ]


def _steps(plan: Plan, shelf: str, say: Say) -> list[Answer]:
    """What the form of each step of a shelf's test is filled in with beforehand; nothing where no test is proposed."""
    of = [d for d in plan.designs if d.spec.whole == shelf]
    proofs = [plan.test(design.spec.id)[0] for design in of]
    if any(held_walls(plan, design) for design in of):
        return []
    sound = [
        (design, proof)
        for design, proof in zip(of, proofs, strict=True)
        if isinstance(proof, Proof)
    ]
    if len(sound) < len(of):
        return []
    return [
        {
            "put": [row for each in sound for row in _put(*each, stage, say)] if stage else [],
            "wait": wait,
            "places": [
                _place(design.room.wall(last.wall), last.along, say)
                for design, proof in sound
                for last in proof.later
            ],
        }
        for stage, wait in STEPS
    ]


def _place(wall: Wall, along: float, say: Say) -> str:
    return place_at(wall.id, wall.taped(along), say.units)


def _put(design: Design, proof: Proof, stage: Stage, say: Say) -> Iterator[list[str]]:
    """The weights of a step as rows of the job file, none heavier than its share."""
    to = ROUND[say.units].mass
    for pile in staged(proof.piles, stage):
        mass = math.floor(pile.mass / to + 1e-6) * to
        if mass > 0:
            where = _place(design.room.wall(pile.wall), pile.along, say)
            yield [say.weight(mass), where, show_length(pile.out, say.units)]
