"""The scribe in two passes, marked with the shelf on its rods."""

from __future__ import annotations

from dataclasses import dataclass

from ledgewright.fitting import Way
from ledgewright.judge import Design
from ledgewright.plan import Plan
from ledgewright.sheets.leaves import held_walls, open_notes
from ledgewright.sheets.model import Figure, Note, Picture, ScribeSheet, Table
from ledgewright.sheets.plainly import told_below
from ledgewright.sheets.say import Say


@dataclass(frozen=True)
class Scribing:
    """What a scribe on the rods needs: hold-off and how much longer each slot must be (mm), and words about slots."""

    hold_off: float
    slot_longer: float
    notes: tuple[str, ...]


def scribing(way: Way) -> Scribing:
    """Return what a way says of the scribe on the rods; no hold-off where nothing is scribed or nothing is known."""
    hold, longer = (float(getattr(way, n, 0.0)) for n in ("scribe_hold_off", "slot_longer"))
    notes: tuple[str, ...] = getattr(way, "notes", ())
    return Scribing(hold, longer, notes)


def scribe_sheet(
    plan: Plan, design: Design, scribe: Scribing, picture: Picture | None
) -> ScribeSheet:
    """Return how the back is scribed with the shelf on its rods: held off parallel, marked, off, cut, back, again.

    Source: common practice: hold off by the widest hollow and a pencil; usually two passes; slots longer
    than the stick-out by the hold-off and 1/8 in (3 mm).

    Args:
        plan: the whole job.
        design: the shelf.
        scribe: hold-off and slots.
        picture: the shelf held off.
    """
    say = Say.of(plan.job.meta)
    hold, longer = say.up(scribe.hold_off), say.up(scribe.slot_longer)
    return ScribeSheet(
        title=f"Two-pass scribe on the {say.word('rods')}",
        about=f"shelf {design.spec.title}",
        unit=say.unit,
        facts=(
            Figure("Hold-off, first pass", hold, "widest hollow and a pencil"),
            Figure("Slots longer by", longer, "than the stick-out, from the back of the blank"),
            Figure("Passes", "2", "a third only if light shows"),
        ),
        picture=picture,
        before=(
            f"Every slot at least {longer} longer than the {say.word('rod')} stands out, from the blank's back.",
            f"Blocks of {hold} at both ends, taped to the wall; the shelf level on its {say.word('rods')}.",
            "Masking tape along the back of the top face, so that the line shows.",
        ),
        passes=(
            Note(
                "First pass",
                _pass(f"Slide it on as on the fitting order and stop on the {hold} blocks."),
            ),
            Note(
                "Second pass",
                _pass(
                    "Slide it on until the first high spot touches; hold off parallel by the widest gap left."
                ),
            ),
        ),
        stations=_stations(design, say),
        notes=tuple(
            told_below(n, plan) for n in open_notes(scribe.notes, design, held_walls(plan, design))
        ),
    )


def _pass(start: str) -> tuple[str, ...]:
    return (
        start,
        "Same gap at both ends, front edge level: then run the pencil along the wall, one stroke, both ends marked.",
        "Off by the way back off. Cut to the line, back bevelled; stop at the back rail: only the skins are cut.",
    )


def _stations(design: Design, say: Say) -> Table:
    rows = []
    for station in design.frame.scribe:
        wall = design.room.wall(station.wall)
        rows.append((wall.mark, say.bare(wall.taped(station.along)), say.bare(station.remove)))
    half = (len(rows) + 1) // 2
    blank = ("", "", "")
    pairs = [(*a, *b) for a, b in zip(rows[:half], [*rows[half:], blank], strict=False)]
    return Table(
        heads=("Wall", "Along, same tape", "Takes off", "Wall", "Along, same tape", "Takes off"),
        widths=(14, 40, 30, 14, 40, 30),
        figures=(1, 2, 4, 5),
        rows=tuple(pairs),
    )
