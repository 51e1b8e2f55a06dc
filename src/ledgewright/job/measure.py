"""How the place was measured: tapes from mark to mark, and heights off a level line."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from ledgewright import units
from ledgewright.job.findings import Ear
from ledgewright.job.model import Hands, LengthTool, Mark, TapedAcross, TapedRise
from ledgewright.job.places import Path
from ledgewright.job.schema import AcrossTable, CornerTable, MeasureTable, RiseTable
from ledgewright.job.walls import NEAR, Walls, known_wall, left_end, right_end, signed

STEEPEST = 150.0
"""A level line that differs by more than this between two marks looks odd (mm; our choice)."""
_LETTER = re.compile(r"[a-z]")


@dataclass(frozen=True)
class Measured:
    """What the tapes across the place said, and what they were read with."""

    across: tuple[TapedAcross, ...]
    rises: tuple[TapedRise, ...]
    tool: LengthTool
    hands: Hands


def measured(
    ear: Ear,
    table: MeasureTable | None,
    corners: Sequence[CornerTable | None],
    walls: Walls,
) -> Measured:
    """Return every tape from mark to mark and every height.

    Args:
        ear: hears what is wrong.
        table: how the place was measured; None if nobody said.
        corners: the corners in file order, None where one could not be read.
        walls: the walls of the job.
    """
    across: list[TapedAcross | None] = []
    for i, corner in enumerate(corners):
        at = _corner_mark(corner, walls) if corner else None
        for k, tape in enumerate(corner.tapes if corner else ()):
            across.append(_across(ear, tape, ("corner", i, "tapes", k), walls, at))
    for k, tape in enumerate(table.tapes if table else ()):
        across.append(_across(ear, tape, ("measure", "tapes", k), walls, None))
    rises = [
        _rise(ear, rise, ("measure", "heights", k), walls)
        for k, rise in enumerate(table.heights if table else ())
    ]
    kept = tuple(a for a in across if a is not None)
    tool = table.tool if table else None
    hands = table.hands if table else None
    _say_what_is_taken(ear, tool, hands, needed=bool(kept))
    return Measured(
        kept,
        tuple(r for r in rises if r is not None),
        tool or "steel tape",
        hands or "alone",
    )


def _say_what_is_taken(
    ear: Ear, tool: LengthTool | None, hands: Hands | None, *, needed: bool
) -> None:
    """A job whose tapes check each other rests on how good they are; others do not."""
    if needed and tool is None:
        ear.default_text("measure.with", ("measure", "with"))
    if needed and hands is None:
        ear.default_text("measure.hands", ("measure", "hands"))


def _corner_mark(corner: CornerTable, walls: Walls) -> Mark | None:
    """The corner itself, as the right end of its left wall."""
    first, second = corner.walls
    if first not in walls.ids or second not in walls.ids:
        return None
    left = first if walls.place(first) < walls.place(second) else second
    wall = walls.find(left)
    return Mark(left, right_end(wall) + 0.0) if wall else None


def _across(
    ear: Ear, tape: AcrossTable, path: Path, walls: Walls, corner: Mark | None
) -> TapedAcross | None:
    start = _mark(ear, tape.start, (*path, 0), walls, corner)
    end = _mark(ear, tape.end, (*path, 1), walls, corner)
    if start is None or end is None:
        return None
    if start == end:
        ear.refuse("place", path, "both ends of this tape are one mark", "write the other mark")
        return None
    if start.wall == end.wall and start.along is not None and end.along is not None:
        _check_along(ear, abs(start.along - end.along), tape.reads, path)
    return TapedAcross(start, end, tape.reads, tape.tool, ear.path(path))


def _check_along(ear: Ear, apart: float, reads: float, path: Path) -> None:
    if abs(apart - reads) > max(25.0, 0.02 * apart):
        wrong = f"these marks are {ear.length(apart)} apart on their own wall, the tape reads {ear.length(reads)}"
        ear.ask(path, wrong)


def _rise(ear: Ear, rise: RiseTable, path: Path, walls: Walls) -> TapedRise | None:
    start = None
    if rise.start.strip() != "datum":
        start = _mark(ear, rise.start, (*path, 0), walls, None)
        if start is None:
            return None
    end = _mark(ear, rise.end, (*path, 1), walls, None)
    if end is None:
        return None
    if start == end:
        ear.refuse("place", path, "both ends of this height are one mark", "write the other mark")
        return None
    if abs(rise.rise) > STEEPEST:
        ear.ask(path, f"a level line that is {ear.length(rise.rise)} off looks odd")
    return TapedRise(start, end, rise.rise, rise.tool or "laser line", ear.path(path))


def _mark(ear: Ear, text: str, path: Path, walls: Walls, corner: Mark | None) -> Mark | None:
    """Return the mark of a text: "corner", or a wall with a distance, an end, or a letter."""
    if corner is not None and text.strip() == "corner":
        return corner
    names = [name for name in walls.ids if name and text.startswith(f"{name} ")]
    if not names:
        if walls.whole:
            name = next((n for n in walls.ids if n), "west")
            ear.refuse(
                "place",
                path,
                "a mark is the id of a wall and where on it",
                f'write "{name} {_like(ear)}", "{name} left", or "{name} a" for a mark no tape along it places',
            )
        return None
    name = max(names, key=len)
    wall = known_wall(ear, walls, name, path)
    rest = text[len(name) :].strip()
    if wall is None:
        return None
    if rest in ("left", "right"):
        return Mark(name, (left_end(wall) if rest == "left" else right_end(wall)) + 0.0)
    if _LETTER.fullmatch(rest):
        return Mark(name, None, rest)
    try:
        distance = units.read_length(rest, ear.unit)
    except units.BadFigure as bad:
        wrong = f'"{rest[:40]}" is neither an end, nor one small letter, nor a length: {bad.wrong}'
        ear.refuse("place", path, wrong, bad.right)
        return None
    if not -NEAR <= distance <= wall.length + NEAR:
        ear.refuse(
            "place",
            path,
            f"this mark is not on the wall, which is {ear.length(wall.length)} long",
            "count from the end the tape is hooked on",
        )
        return None
    return Mark(name, signed(wall, distance) + 0.0)


def _like(ear: Ear) -> str:
    return "22 1/2" if ear.unit == "in" else "570"
