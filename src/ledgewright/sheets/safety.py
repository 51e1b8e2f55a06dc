"""The page of cautions."""

from __future__ import annotations

from ledgewright.plan import Plan
from ledgewright.sheets.cautions import cautions
from ledgewright.sheets.model import CautionSheet, Note
from ledgewright.sheets.say import Say

_HEADS = {
    "not-a-licence": "Who has the last word",
    "no-climbing": "Not a step, a seat or a handhold",
    "services": "Cables and pipes",
    "confirm": "Only a confirmed wall",
    "boring": "A bored stud is a weaker stud",
    "old-houses": "Lead, asbestos, silica; fire, sound, party and rented walls",
    "outside-wall": "Outside walls",
    "ladder": "Ladder and drill",
    "cure": "Adhesive needs its time",
    "two-people": "Two people",
    "heat": "Heat nearby",
}


def caution_sheet(plan: Plan) -> CautionSheet:
    """Return every caution that applies to a job, each under its own heading.

    Args:
        plan: the whole job.
    """
    said = cautions(plan)
    own = tuple(c.text for c in said if c.id not in _HEADS)
    notes = [Note(_HEADS[c.id], (c.text,)) for c in said if c.id in _HEADS]
    return CautionSheet(
        title="Cautions",
        about="someone can be hurt",
        unit=Say.of(plan.job.meta).unit,
        notes=tuple(notes) if not own else (Note("This job", own), *notes),
    )
