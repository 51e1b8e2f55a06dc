"""The fitting order: one picture for each move, what to do, and the way back off."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ledgewright import plane
from ledgewright.fitting import Move, Way
from ledgewright.judge import Design
from ledgewright.memo import Memo
from ledgewright.plan import Plan
from ledgewright.sheets import glued_in, views
from ledgewright.sheets.at_home import at_home, filler_strips
from ledgewright.sheets.backs import gap_said, open_behind
from ledgewright.sheets.blocked import eased_told, stops
from ledgewright.sheets.cautions import needs_two
from ledgewright.sheets.cover import people
from ledgewright.sheets.directions import told
from ledgewright.sheets.leaves import held_marks, held_walls, open_notes
from ledgewright.sheets.model import Figure, FittingSheet, MoveStep, Note, Picture, Table
from ledgewright.sheets.opens import HEAD, openings_told
from ledgewright.sheets.plainly import told_below
from ledgewright.sheets.say import Say
from ledgewright.sheets.stance import (
    begun,
    carrying,
    entering,
    farthest,
    free_room,
    passed,
    slid_along,
    stances,
)
from ledgewright.sheets.waynames import titled, way_name
from ledgewright.survey import Wall
from ledgewright.units import show_angle

_STEERED = math.cos(
    math.radians(3.0)
)  # a move nearer than this to the direction of rods is guided by them
_BY_HAND = 12.7  # a move no longer than this needs nothing to guide it (mm; 1/2 in, our choice)
_NEAR = 75.0  # an obstacle that is passed nearer than this is worth a look (mm; 3 in, our choice)
_LINED = math.cos(
    math.radians(30.0)
)  # so much of a move along the line of the two: one pushes, one guides


def fitting_sheet(
    plan: Plan,
    design: Design,
    pictures: tuple[Picture | None, ...],
    room: Picture | None = None,
    memo: Memo | None = None,
) -> FittingSheet:
    """Return how one shelf goes onto its rods and comes off again.

    Args:
        plan: the whole job.
        design: the shelf.
        pictures: one for each move of the chosen way.
        room: the free room it needs.
        memo: kept by the caller, for the verdict on what opens a way where none goes; without it none is given.
    """
    say, way = Say.of(plan.job.meta), design.way
    return FittingSheet(
        title="Fitting order",
        about=f"shelf {design.spec.title}, {people(design).lower()}",
        unit=say.unit,
        first=_first(plan, design, way) if way else (),
        before=_before(design, way, say) if way else (),
        room=room if way else None,
        free=_free(design, way, say) if way else (),
        who=_who(design) if way else (),
        moves=_moves(plan, design, way, pictures) if way else (),
        after=(*at_home(design, say), *glued_in.then(plan, design))
        if way
        else _blocked(plan, design, memo),
        back_rule=_back_rule(design, way, say) if way else "",
        back=_back(design, way, say) if way else Table((), (), (), ()),
        warning=glued_in.warning(design) if way else "",
    )


def _moves(
    plan: Plan, design: Design, way: Way, pictures: tuple[Picture | None, ...]
) -> tuple[MoveStep, ...]:
    count, say = len(way.moves), Say.of(plan.job.meta)
    held = held_walls(plan, design)
    return tuple(
        MoveStep(
            picture=pictures[k] if k < len(pictures) else None,
            name=f"Move {k + 1} of {count}",
            far=say.some(farthest(design, way, k)),
            line=_line(move, carrying(design), say),
            who=_pushes(design, way, k),
            look=_look(design, way, k, say, held),
        )
        for k, move in enumerate(way.moves)
    )


def _first(plan: Plan, design: Design, way: Way) -> tuple[Note, ...]:
    """What to know before anything is lifted: sections, an unusual way, moves that nothing guides, a turn."""
    say = Say.of(plan.job.meta)
    return (
        *glued_in.first(design, say),
        *_sections(design, way, say),
        *_unusual(plan, design, way),
    )


def _sections(design: Design, way: Way, say: Say) -> tuple[Note, ...]:
    part = design.spec.section
    if part is None:
        return ()
    off = "come off on the dry trial" if glued_in.marks(design) else "come off"
    light = "no light shows but there" if way.eased else "no light shows"
    dry = f"Hang both dry first, the joint pulled shut: ease its face until {light}, tops flush."
    order: tuple[str, ...]
    if part.number == 1:
        order = (
            f"This is section 1 of {part.count}: it is hung and locked before the other goes in beside it.",
            "Its joint face stays bare and clean: nothing hangs over it, no glue, no finish.",
        )
    else:
        order = (
            f"This is section {part.number} of {part.count}: the one on the wall stays locked meanwhile.",
            *(eased_told(each, say) for each in way.eased),
            f"The last of the move closes the joint. If it is tight before the back is home, {off} and ease it.",
        )
    return (Note("Which section first", (*order, dry)),)


def _unusual(plan: Plan, design: Design, way: Way) -> tuple[Note, ...]:
    lines: list[str] = []
    if way.kind == "planned":
        lines += [
            "The usual ways are blocked here or cut more wood away; a page of its own compares them.",
            "Walk these moves dry with a template of the outline, at shelf height, before the core is glued.",
        ]
    by_eye = [] if way.guided else _by_eye(design, way)
    if by_eye:
        which = " and ".join(by_eye)
        lines.append(
            f"Nothing guides move {which}: hold the direction by eye against a line on tape, and go slowly."
        )
    if way.kind == "tilt":
        lines.append("One end goes in first; the shelf is turned while it is on the move.")
    lines += [
        told_below(note, plan)
        for note in open_notes(way.notes, design, held_walls(plan, design))
        if not note.startswith("The two-pass scribe")
    ]
    return (Note("What is unusual here", tuple(lines)),) if lines else ()


def _by_eye(design: Design, way: Way) -> list[str]:
    """The straight moves that no rod lies along."""
    axes = [(r.axis[0], r.axis[1]) for r in design.frame.rods]
    found = []
    for k, move in enumerate(way.moves, start=1):
        size = math.hypot(move.dx, move.dy)
        near = max((abs(plane.dot((move.dx, move.dy), a)) for a in axes), default=0.0)
        if not move.turn and size > _BY_HAND and near < size * _STEERED:
            found.append(str(k))
    return found


def _begin(design: Design, way: Way, say: Say) -> str:
    """Where the shelf is held before the first move, from the place where it will hang."""
    wall, off, along = begun(design, way)
    words = [f"{say.length(off)} off wall {wall.mark}"] if off > 0.5 else []
    if abs(along) > 0.5:
        side = "right" if along > 0 else "left"
        words.append(f"{say.length(abs(along))} to the {side}")
    turn = stances(way.moves)[0].turn
    if abs(turn) > 1e-9:
        end = "right" if turn > 0 else "left"
        words.append(f"with the {end} end {show_angle(abs(turn))} nearer the wall")
    return f"Begin {' and '.join(words)}, counted from where it will hang." if words else ""


def _line(move: Move, walls: Sequence[Wall], say: Say) -> str:
    way = told(move, walls, say)
    way = way[:1].upper() + way[1:]
    return f"{way}: {move.note}." if move.note else f"{way}."


def _pushes(design: Design, way: Way, k: int) -> str:
    """Who pushes on a move: both, but where it goes along their own line the one behind, and the other guides."""
    if not needs_two(design):
        return "Alone: both hands, no faster than the eye can follow."
    move = way.moves[k]
    stance = stances(way.moves)[k]
    one, two = (stance.place(p) for p in views.hands(design))
    size = math.hypot(move.dx, move.dy)
    if move.turn:
        pivot = stance.place(move.about)
        left = plane.length(plane.sub(pivot, one)) <= plane.length(plane.sub(pivot, two))
        holds, swings = ("1", "2") if left else ("2", "1")
        return f"1 calls. {holds} holds the end that is in, {swings} swings the other."
    if size < 1e-9:
        return "1 calls. Nothing moves."
    line = plane.unit(plane.sub(two, one))
    ahead = plane.dot((move.dx / size, move.dy / size), line)
    if abs(ahead) < _LINED:
        return "1 calls. Both push evenly."
    pushes, guides = ("1", "2") if ahead > 0 else ("2", "1")
    return f"1 calls. {pushes} pushes, {guides} guides."


def _look(design: Design, way: Way, k: int, say: Say, held: frozenset[str]) -> tuple[str, ...]:
    """What to watch on a move: tips that come into their mouths, blocks, what is passed closely."""
    begin = _begin(design, way, say) if k == 0 else ""
    beside = {thing.id for thing in views.hung(design)}
    last = k == len(way.moves) - 1
    return (
        *((begin,) if begin else ()),
        *_mouths(design, way, k, held),
        *_gap(design, way, k, say),
        *((_shut(way),) if beside and last else ()),
        *(
            f"The {name} is passed with {_spare(gap, say)} to spare."
            for name, gap in passed(design, way, k, _NEAR)
            if name not in beside
        ),
    )


def _shut(way: Way) -> str:
    where = "but for what was eased" if way.eased else "along its whole length"
    return f"The joint shuts {where}, tops flush."


def _spare(gap: float, say: Say) -> str:
    """A gap rounded down; one under the least mark is told as less than that."""
    least = say.down(say.mark)
    return say.down(gap) if gap >= say.mark else f"less than {least}"


def _mouths(design: Design, way: Way, k: int, held: frozenset[str]) -> tuple[str, ...]:
    """Which tips come into the section, and who watches; a wall that is not confirmed gives no mark away."""
    came = entering(design, way, k)
    lines = []
    for wall in carrying(design):
        marks = [r.mark for r in design.frame.rods if r.wall == wall.id and r.id in came]
        if marks:
            who = _watcher(design, wall)
            what = f"the rods of wall {wall.called}" if wall.id in held else _named(marks)
            near = ", each the near half" if who == "Both watch" else ""
            lines.append(
                f"{who} the tips of {what} into their mouths{near}; stop if one touches wood."
            )
    return tuple(lines)


def _watcher(design: Design, wall: Wall) -> str:
    """Who watches the mouths of a wall: at a corner the one who stands at its leg, else both."""
    if not needs_two(design):
        return "Watch"
    legs = design.frame.legs
    if len(legs) == 1:
        return "Both watch"
    return "1 watches" if legs[0].wall == wall.id else "2 watches"


def _named(marks: Sequence[str]) -> str:
    ordered = sorted(marks, key=lambda mark: (len(mark), mark))
    return ordered[0] if len(ordered) == 1 else f"{ordered[0]} to {ordered[-1]}"


def _gap(design: Design, way: Way, k: int, say: Say) -> tuple[str, ...]:
    wall = slid_along(design, way)
    if wall is None:
        home = f"{_home(design, say)}."
        return (home,) if k == len(way.moves) - 1 else ()
    if k == len(way.moves) - 1:
        return (f"Take the blocks out first. Then {_lower(_home(design, say, wall))}.",)
    if k == 0:
        return (f"Stop on the blocks: {say.length(way.hold_off)} open at wall {wall.mark}.",)
    return (f"The back stays on the blocks at wall {wall.mark}, the same gap at both ends.",)


def _home(design: Design, say: Say, wall: Wall | None = None) -> str:
    """How the back lies at home."""
    at = f"wall {wall.mark}" if wall else "the wall"
    if open_behind(design) is None:
        return f"The back tight to {at} along its whole length"
    return (
        f"The back straight, never pushed into a hollow: {gap_said(design, say)} open at {at}, least where it "
        "stands proudest"
    )


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]


def _before(design: Design, way: Way, say: Say) -> tuple[str, ...]:
    wall = slid_along(design, way)
    hold = (
        (
            f"Two hold-off blocks of {say.length(way.hold_off)} taped to wall {wall.called}, as drawn.",
        )
        if wall
        else ()
    )
    eased = max((c.funnel for c in way.channels), default=0.0)
    mouths = (
        f"mouths eased {say.length(eased)} at 45 degrees" if eased >= say.mark else "mouths eased"
    )
    scribed = (
        (
            f"The back not scribed yet: once for the scribe on the {say.word('rods')} (own page), then again.",
        )
        if way.scribe_hold_off > 0
        else ()
    )
    trial = (
        (
            "Dry trial first, without glue: the moves below, level, gaps and joints looked at, and off again.",
        )
        if glued_in.marks(design)
        else ()
    )
    return (
        f"Every slot run dry with a piece of the bar; dust blown out; {mouths}.",
        *trial,
        *scribed,
        "A mark on tape on the wall at both ends of where it will hang.",
        *hold,
        "The floor, and the air at shelf height, clear over the whole room it needs.",
    )


def _free(design: Design, way: Way, say: Say) -> tuple[Figure, ...]:
    names = {
        "left end": "Free past the left end",
        "right end": "Free past the right end",
        "front": "Free in front",
    }
    return tuple(
        Figure(names[f.side], say.up(f.far), f"leg on wall {design.room.wall(f.wall).called}")
        for f in free_room(design, way)
    )


def _who(design: Design) -> tuple[str, ...]:
    nobody = _PROPPED if glued_in.marks(design) else _NOBODY
    if not needs_two(design):
        return (
            "One person, both hands under the front edge, feet set before the lift.",
            nobody,
        )
    return (
        "1 at the left end, 2 at the right end as you face the wall, a hand under the front edge each.",
        "1 calls every move and counts it in; 2 says stop, and both stop.",
        nobody,
    )


_NOBODY = "Nobody stands under it, and nobody lets go before the lock is in."
_PROPPED = "Nobody stands under it, and nobody lets go before it is propped."


def _back_rule(design: Design, way: Way, say: Say) -> str:
    """What is done before the moves are made in reverse; of a single move, that move too."""
    rows = _back(design, way, say).rows
    moves = "the moves in reverse" if len(rows) > 1 else f"{rows[0][1]} {rows[0][2]}"
    blocks = " The blocks go back in after the first move." if slid_along(design, way) else ""
    if glued_in.marks(design):
        return f"Only on the dry trial, before any glue: {moves}.{blocks} Once glued it does not come off."
    kept = design.spec.lock.kind
    free = ", cut the filler strips free" if filler_strips(design) else ""
    out = "" if kept == "none" else f", undo the lock{'s' * (len(design.spec.lock.rods) > 1)}"
    part = design.spec.section
    before = " The section hung last comes off first." if part and part.number < part.count else ""
    return f"Clear the shelf{free}{out}, then {moves}.{blocks}{before}"


def _back(design: Design, way: Way, say: Say) -> Table:
    """The moves in reverse: last move first, each the other way."""
    walls = carrying(design)
    rows = []
    last = len(way.moves) - 1
    for k, move in enumerate(reversed(way.moves)):
        other = Move(-move.dx, -move.dy, -move.turn, "")
        far = say.some(farthest(design, way, last - k))
        rows.append((str(k + 1), far, told(other, walls, say, off=True)))
    return Table(
        heads=("Step", "How far", "Which way"),
        widths=(14, 30, 130),
        figures=(),
        rows=tuple(rows),
    )


def _blocked(plan: Plan, design: Design, memo: Memo | None) -> tuple[Note, ...]:
    """That nothing goes, what opens a way, and what stands in each way that was tried."""
    say, hidden = Say.of(plan.job.meta), held_marks(design, held_walls(plan, design))
    tried = [
        Note(
            f"In the way: {titled(way_name(design, way.id))}",
            tuple(stops(b, say, hidden) for b in way.blocked),
        )
        for way in design.ways.ways
        if way.blocked
    ]
    opens = Note(HEAD, openings_told(plan, design, memo))
    return (Note("No way was found", ("Nothing is built before one is open.",)), opens, *tried)
