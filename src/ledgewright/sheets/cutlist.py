"""The parts of every shelf as a table for other programs."""

from __future__ import annotations

import csv
import io

from ledgewright.plan import Plan
from ledgewright.sheets.leaves import held_part, held_walls
from ledgewright.sheets.say import Say
from ledgewright.sheets.spoken import own_names

HEADS = (
    "shelf",
    "part",
    "name",
    "of",
    "kind",
    "count",
    "finished_length_mm",
    "finished_width_mm",
    "finished_thickness_mm",
    "rough_length_mm",
    "rough_width_mm",
    "rough_thickness_mm",
    "note",
)


def parts_csv(plan: Plan) -> str:
    """Return all parts as comma-separated values with a head line, lengths in mm to 0.01.

    Source: RFC 4180: lines end in CR LF, texts with commas, quotes or line ends are quoted. A text that a
    spreadsheet would take for a formula gets an apostrophe before it. Rods of a wall that is not
    confirmed have no sizes, and no piece of such a shelf's core has: it lies between the slots.

    Args:
        plan: the whole job.
    """
    say = Say.of(plan.job.meta, own_names(plan))
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(HEADS)
    for design in plan.designs:
        held = held_walls(plan, design)
        for part in design.parts:
            sizes = [f"{x:.2f}" for x in (*part.finished, *part.rough)]
            hidden = held_part(design, part, held)
            texts = map(
                plain, (design.spec.id, part.letter, say.text(part.name), part.of, part.kind)
            )
            note = say.text("withheld until the wall is confirmed" if hidden else part.note)
            writer.writerow([*texts, part.count, *([""] * 6 if hidden else sizes), plain(note)])
    return out.getvalue()


def plain(text: str) -> str:
    """Return a text that no spreadsheet takes for a formula.

    Args:
        text: of a cell.
    """
    return "'" + text if text[:1] in tuple("=+-@\t\r") else text
