"""The scribe in two passes, marked with the shelf on its rods."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from ledgewright.fitting import Way
from ledgewright.judge import Design
from ledgewright.plan import Plan
from ledgewright.sheets import cuts
from ledgewright.sheets.leaves import held_walls, open_notes
from ledgewright.sheets.model import Figure, Note, Picture, ScribeSheet, Table
from ledgewright.sheets.plainly import told_below
from ledgewright.sheets.say import Say
from ledgewright.sheets.views.standing import block_places


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
    than the stick-out by the hold-off and 1/8 in (3 mm). Geometry: the scriber is set to the block and what comes off
    at it; at the widest gap of the second pass nothing comes off.

    Args:
        plan: the whole job.
        design: the shelf.
        scribe: hold-off and slots.
        picture: the shelf held off.
    """
    say = Say.of(plan.job.meta)
    hold, longer = say.up(scribe.hold_off), say.up(scribe.slot_longer)
    first = settings(design, scribe.hold_off, say)
    return ScribeSheet(
        title=f"Two-pass scribe on the {say.word('rods')}",
        about=f"shelf {design.spec.title}",
        unit=say.unit,
        facts=(
            Figure("Hold-off, first pass", hold, "widest hollow and a pencil"),
            Figure(
                "Scriber, first pass", say.length(first.scriber), "block, and what comes off at it"
            ),
            Figure("Slots longer by", longer, "than the stick-out, from the back of the blank"),
            Figure("Passes", "2", "a third only if light shows"),
        ),
        picture=picture,
        before=(
            f"Every slot at least {longer} longer than the {say.word('rod')} stands out, from the blank's back.",
            f"{_blocks(design, first, say)}, taped to the wall; the shelf level on its {say.word('rods')}.",
            "Masking tape along the back of the top face, so that the line shows.",
        ),
        passes=(
            Note(
                "First pass",
                (
                    *_pass(
                        "Slide it on as on the fitting order and stop on the blocks. "
                        f"Scriber to {say.length(first.scriber)}.",
                        "Both ends on their blocks",
                    ),
                    *cuts.past_corner(design, say),
                ),
            ),
            Note(
                "Second pass",
                _pass(
                    "Slide it on until the first high spot touches; hold off parallel by the widest gap left. "
                    "Scriber to twice that gap.",
                    "Same gap at both ends",
                ),
            ),
        ),
        stations=_stations(design, say),
        notes=tuple(
            told_below(n, plan) for n in open_notes(scribe.notes, design, held_walls(plan, design))
        ),
    )


@dataclass(frozen=True)
class Settings:
    """Of the first pass: the blocks at both ends of the back (mm, left as you face the wall first), the scriber."""

    blocks: tuple[float, float]
    scriber: float


def settings(design: Design, hold_off: float, say: Say) -> Settings:
    """Return what blocks and scriber are set to in the first pass, to the tape's mark.

    Where less comes off at one end than at the other, that end's block is thicker by as much: on equal blocks the
    shelf would end up askew.

    Args:
        design: the shelf.
        hold_off: the least block (mm).
        say: how the job writes.
    """
    hold = max(0, math.ceil((hold_off - 0.25) / say.mark - 1e-6)) * say.mark
    takes = [_takes(design, at) for at in block_places(design)]
    scriber = hold + max(takes)
    left, right = (hold if max(takes) - take < say.mark else scriber - take for take in takes)
    return Settings((left, right), scriber)


def _takes(design: Design, at: float) -> float:
    """What the wall is expected to take off at a place along the first wall, between its stations."""
    rows = sorted((s.along, s.remove) for s in design.frame.scribe if s.wall == design.frame.first)
    places, takes = [row[0] for row in rows], [row[1] for row in rows]
    return float(np.interp(at, places, takes)) if rows else 0.0


def _blocks(design: Design, first: Settings, say: Say) -> str:
    left, right = (say.length(each) for each in first.blocks)
    if left == right:
        return f"Blocks of {left} at both ends"
    return f"Blocks of {left} at the left end, {right} at the right"


def _pass(start: str, held: str) -> tuple[str, ...]:
    return (
        start,
        f"{held}, front edge level: then run the scriber along the wall, one stroke, both ends marked.",
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
