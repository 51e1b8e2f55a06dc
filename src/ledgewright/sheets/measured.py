"""The site measure as it came out: how sure each figure is, what to take again, what is known of every wall."""

from __future__ import annotations

import math

from ledgewright.plan import Plan
from ledgewright.sheets.leaves import held_walls
from ledgewright.sheets.model import Figure, FormPart, FormSheet, Table
from ledgewright.sheets.plainly import plain_place
from ledgewright.sheets.say import Say
from ledgewright.site import Drill
from ledgewright.survey import Figure as Taped
from ledgewright.survey import Height, More, Retake, Room, Wall, Whole

COVERS = 1.96
"""Standard deviations to each side that hold 95 of 100."""


def measure_sheet(plan: Plan) -> FormSheet | None:
    """Return how sure the figures of the place are; None if no shelf is laid out.

    Args:
        plan: the whole job.
    """
    if not plan.designs:
        return None
    say, room = Say.of(plan.job.meta), plan.designs[0].room
    return FormSheet(
        title=f"{say.word('survey').capitalize()}, as it came out",
        about="how sure each figure is",
        unit=say.unit,
        warning="",
        intro="Every figure that another one checks has been adjusted: all of them together now give one room. "
        "19 times in 20 the truth lies no further off than what stands under Within.",
        facts=_facts(room, say),
        parts=(
            *_again(plan, say),
            *_more(room, say),
            *_lengths(room, say),
            *_corners(room, say),
            *_heights(room, say),
            *_edges(plan, say),
            *(_evidence(plan, wall, say) for wall in room.walls),
        ),
        beside=True,
    )


def _facts(room: Room, say: Say) -> tuple[Figure, ...]:
    del say
    return tuple(_whole(whole, room) for whole in room.wholes if whole.surplus)


def _whole(whole: Whole, room: Room) -> Figure:
    what = "Heights of walls" if whole.heights else "Walls"
    good = whole.total <= whole.limit
    return Figure(
        f"{what} {', '.join(room.wall(wall).called for wall in whole.walls)}",
        "Fit together" if good else "Do not fit together",
        f"{more_than_needed(whole)}; they differ {whole.scatter:.1f} times as much as expected",
    )


def more_than_needed(whole: Whole) -> str:
    """Return how many figures there are to check each other, as "1 figure more than needed"."""
    return f"{whole.surplus} figure{'s' if whole.surplus != 1 else ''} more than needed"


def _again(plan: Plan, say: Say) -> tuple[FormPart, ...]:
    told = tuple(again_text(note.text, note.slip, say) for note in to_take_again(plan))
    return (FormPart("Take again", ticks=told),) if told else ()


def to_take_again(plan: Plan) -> tuple[Retake, ...]:
    """Return every figure to take again, at the height of any shelf, once each.

    Args:
        plan: the whole job.
    """
    return tuple(dict.fromkeys(r for design in plan.designs for r in design.room.retake))


def again_text(text: str, slip: float | None, say: Say) -> str:
    """Return what is to be taken again, with how far off it seems.

    Args:
        text: of the note.
        slip: by how much the figure reads too much (mm), if it is one alone.
        say: how the job writes.
    """
    if slip is None or abs(slip) < 1.0:
        return say.text(text)
    way = "too much" if slip > 0 else "too little"
    return say.text(f"{text} It seems to read {say.length(abs(slip))} {way}.")


def _more(room: Room, say: Say) -> tuple[FormPart, ...]:
    told = tuple(more_text(room, each, say) for each in room.more)
    return (FormPart("One tape more that would settle most", ticks=told),) if told else ()


def more_text(room: Room, more: More, say: Say) -> str:
    """Return which tape to take next, and what for.

    Args:
        room: the room as found.
        more: the tape.
        say: how the job writes.
    """
    ends = " to ".join(_mark(room.wall(wall), along, say) for wall, along in more.marks)
    why = (
        "nothing holds the walls in place yet"
        if more.holds
        else f"a slip in {more.checks} figure{'s' if more.checks != 1 else ''} would not show without it"
    )
    return f"Straight from {ends}: {why}."


def _mark(wall: Wall, along: float, say: Say) -> str:
    for side, end in (("left", wall.start), ("right", wall.end)):
        if abs(along - end) < 0.01:
            return f"the {side} end of wall {wall.called}"
    return f"{say.length(abs(wall.taped(along)))} on the tape of wall {wall.called}"


def _lengths(room: Room, say: Say) -> tuple[FormPart, ...]:
    rows = tuple(_row(f, say) for f in room.figures if f.kind in ("tape", "height"))
    table = Table(
        heads=(
            "Figure",
            "Read",
            "Adjusted",
            "Within",
            "A slip shows from",
            "One unseen shifts a wall by",
        ),
        widths=(74, 22, 22, 18, 22, 26),
        figures=(1, 2, 3, 4, 5),
        rows=rows,
    )
    return (FormPart("Tapes and heights", tables=(table,)),) if rows else ()


def _row(figure: Taped, say: Say) -> tuple[str, ...]:
    shows = "never" if figure.finds is None else say.up(figure.finds)
    shifts = "any amount" if figure.hides is None else say.up(figure.hides)
    return (
        f"{figure_words(figure)}{' (take again)' if figure.again else ''}",
        _fine(figure.read, say),
        _fine(figure.adjusted, say),
        f"± {say.drop(COVERS * figure.sd)}",
        shows,
        shifts,
    )


def figure_words(figure: Taped) -> str:
    """Return what a figure is called, as "Triangle 1 at the corner of A and B, straight across"."""
    at = f" at {figure.place}" if figure.place else ""
    words = f", {figure.words}" if figure.words and figure.words not in figure.part else ""
    whole = f"{figure.part}{at}{words}"
    return whole[:1].upper() + whole[1:]


def _fine(mm: float, say: Say) -> str:
    return say.caliper(mm)


def _corners(room: Room, say: Say) -> tuple[FormPart, ...]:
    del say
    rows = tuple(
        (
            f"{room.wall(c.left).called} and {room.wall(c.right).called}",
            f"{math.degrees(c.angle):.2f}°",
            f"± {COVERS * math.degrees(c.sd):.2f}°",
        )
        for c in room.corners
    )
    table = Table(("Corner of walls", "Angle in the room", "Within"), (60, 40, 40), (1, 2), rows)
    return (FormPart("Corners", tables=(table,)),) if rows else ()


def _heights(room: Room, say: Say) -> tuple[FormPart, ...]:
    rows = tuple(
        (_height_mark(room, h, say), _signed(h.up, say), f"± {say.drop(COVERS * h.sd)}")
        for h in room.heights
    )
    table = Table(("Mark", "Above the datum", "Within"), (80, 40, 40), (1, 2), rows)
    return (FormPart("Heights off the level line", tables=(table,)),) if rows else ()


def _height_mark(room: Room, height: Height, say: Say) -> str:
    if height.along is None:
        return f"mark {height.letter} on wall {room.wall(height.wall).called}"
    return _mark(room.wall(height.wall), height.along, say)


def _signed(mm: float, say: Say) -> str:
    return f"{'-' if mm < 0 else ''}{_fine(abs(mm), say)}"


def _edges(plan: Plan, say: Say) -> tuple[FormPart, ...]:
    """Wood beside each hole, of walls that may be drilled alone."""
    rows = [
        (
            hole.mark,
            shelf,
            say.down(hole.wood),
            f"± {say.drop(COVERS * hole.edge_sd)}",
            say.down(hole.sure_wood(COVERS)),
        )
        for shelf, _, leave in plan.leave
        if isinstance(leave, Drill)
        for hole in leave.holes
    ]
    table = Table(
        (say.word("Rod"), "Shelf", "From hole to nearer edge", "Within", "At least"),
        (20, 50, 36, 30, 30),
        (2, 3, 4),
        tuple(rows),
    )
    return (FormPart("Wood beside each hole", tables=(table,)),) if rows else ()


def _evidence(plan: Plan, wall: Wall, say: Say) -> FormPart:
    known = wall.known
    held = {w for design in plan.designs for w in held_walls(plan, design)}
    seen = ", ".join(
        part
        for part in (
            known.how if known.how != "unknown" else "nobody has looked inside",
            f"by {known.by}" if known.by else "",
            known.on.isoformat() if known.on else "",
            f"at {say.length(known.up)}" if known.up is not None else "",
        )
        if part
    )
    photos = [p for p in (known.photo, *known.photos) if p]
    lines = [
        f"Known: {seen}.",
        f"Carries load: {known.bearing}{f'; holes accepted by {known.engineer}' if known.engineer else ''}.",
        f"Behind it: {known.services or 'pipes and cables not ruled out'}.",
        f"Photos: {', '.join(photos) if photos else 'none named'}.",
    ]
    if known.fire is not None:
        lines.append(f"Keeps fire or sound: {known.fire}. {known.fire_stop or ''}".strip())
    if wall.id in held:
        lines.append("It may not be drilled: its card says what is missing.")
    lost = [f"{m.name or m.id.split('.', 1)[-1]} ({m.lost})" for m in wall.members if m.lost]
    if lost:
        lines.append(f"Members no rod may go into: {', '.join(lost)}.")
    items = [i for i in plan.job.open_items if _of_wall(i.path, wall)]
    lines += [f"Still open, {plain_place(i.path, plan.job.tapes)}: {i.costs}." for i in items]
    return FormPart(f"Wall {wall.called}", lines=tuple(lines))


def _of_wall(path: str, wall: Wall) -> bool:
    return path.startswith((f"wall.{wall.id}.", f'wall."{wall.id}".'))
