"""The fitting order: one picture for each move, what to do, and the way back off."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ledgewright import plane
from ledgewright.fitting import Move, Way
from ledgewright.judge import Design
from ledgewright.plan import Plan
from ledgewright.sheets import views
from ledgewright.sheets.blocked import stops
from ledgewright.sheets.cautions import needs_two
from ledgewright.sheets.cover import people
from ledgewright.sheets.directions import told
from ledgewright.sheets.leaves import held_marks, held_walls
from ledgewright.sheets.model import Figure, FittingSheet, MoveStep, Note, Picture, Table
from ledgewright.sheets.say import Say
from ledgewright.sheets.stance import carrying, entering, free_room, passed, slid_along, stances
from ledgewright.survey import Wall

_NEAR = 75.0  # an obstacle that is passed nearer than this is worth a look (mm; 3 in, our choice)
_LINED = math.cos(
    math.radians(30.0)
)  # so much of a move along the line of the two: one pushes, one guides


def fitting_sheet(
    plan: Plan, design: Design, pictures: tuple[Picture | None, ...], room: Picture | None = None
) -> FittingSheet:
    """Return how one shelf goes onto its rods and comes off again.

    Args:
        plan: the whole job.
        design: the shelf.
        pictures: one for each move of the chosen way.
        room: the free room it needs.
    """
    say, way = Say.of(plan.job.meta), design.way
    return FittingSheet(
        title="Fitting order",
        about=f"shelf {design.spec.id}, {people(design).lower()}",
        unit=say.unit,
        before=_before(design, way, say) if way else (),
        room=room if way else None,
        free=_free(design, way, say) if way else (),
        who=_who(design) if way else (),
        moves=_moves(plan, design, way, pictures) if way else (),
        after=_after(design)
        if way
        else _blocked(design, say, held_marks(design, held_walls(plan, design))),
        back_rule=_back_rule(design) if way else "",
        back=_back(design, way, say) if way else Table((), (), (), ()),
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
            far=say.length(math.hypot(move.dx, move.dy)),
            line=_line(move, carrying(design)),
            who=_pushes(design, way, k),
            look=_look(design, way, k, say, held),
        )
        for k, move in enumerate(way.moves)
    )


def _line(move: Move, walls: Sequence[Wall]) -> str:
    way = told(move, walls)
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
    if size < 1e-9:
        return "1 calls. Both turn it together."
    line = plane.unit(plane.sub(two, one))
    ahead = plane.dot((move.dx / size, move.dy / size), line)
    if abs(ahead) < _LINED:
        return "1 calls. Both push evenly."
    pushes, guides = ("1", "2") if ahead > 0 else ("2", "1")
    return f"1 calls. {pushes} pushes, {guides} guides."


def _look(design: Design, way: Way, k: int, say: Say, held: frozenset[str]) -> tuple[str, ...]:
    """What to watch on a move: tips that come into their mouths, blocks, what is passed closely."""
    return (
        *_mouths(design, way, k, held),
        *_gap(design, way, k, say),
        *(
            f"The {name} is passed with {say.down(gap)} to spare."
            for name, gap in passed(design, way, k, _NEAR)
        ),
    )


def _mouths(design: Design, way: Way, k: int, held: frozenset[str]) -> tuple[str, ...]:
    """Which tips come into the section, and who watches; a wall that is not confirmed gives no mark away."""
    came = entering(design, way, k)
    lines = []
    for wall in carrying(design):
        marks = [r.mark for r in design.frame.rods if r.wall == wall.id and r.id in came]
        if marks:
            who = _watcher(design, wall)
            what = f"the rods of wall {wall.mark}" if wall.id in held else _named(marks)
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
        home = "The back tight to the wall along its whole length, the front level."
        return (home,) if k == len(way.moves) - 1 else ()
    if k == len(way.moves) - 1:
        return (
            f"Take the blocks out first. Then the back tight to wall {wall.mark} along its whole length.",
        )
    if k == 0:
        return (f"Stop on the blocks: {say.length(way.hold_off)} open at wall {wall.mark}.",)
    return (f"The back stays on the blocks at wall {wall.mark}, the same gap at both ends.",)


def _before(design: Design, way: Way, say: Say) -> tuple[str, ...]:
    wall = slid_along(design, way)
    hold = (
        (f"Two hold-off blocks of {say.length(way.hold_off)} taped to wall {wall.mark}, as drawn.",)
        if wall
        else ()
    )
    return (
        "Every slot run dry with a piece of the bar; dust blown out; mouths eased.",
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
        Figure(names[f.side], say.up(f.far), f"leg on wall {design.room.wall(f.wall).mark}")
        for f in free_room(design, way)
    )


def _who(design: Design) -> tuple[str, ...]:
    if not needs_two(design):
        return (
            "One person, both hands under the front edge, feet set before the lift.",
            _NOBODY,
        )
    return (
        "1 at the left end, 2 at the right end as you face the wall, a hand under the front edge each.",
        "1 calls every move and counts it in; 2 says stop, and both stop.",
        _NOBODY,
    )


_NOBODY = "Nobody stands under it, and nobody lets go before the lock is in."


def _after(design: Design) -> tuple[Note, ...]:
    kept = _lock(design)
    return (Note("Lock", (kept[:1].upper() + kept[1:],)),)


def _lock(design: Design) -> str:
    lock = design.spec.lock
    marks = [r.mark for r in design.frame.rods if r.id in lock.rods]
    at = f" at {' and '.join(marks)}" if marks else ""
    if lock.kind == "none":
        return "Nothing is planned to keep it on. Plan one."
    return f"{lock.kind}{at}."


def _back_rule(design: Design) -> str:
    kept = design.spec.lock.kind
    out = "" if kept == "none" else f", undo the lock ({_lock(design).rstrip('.')})"
    blocks = design.way is not None and slid_along(design, design.way) is not None
    again = " The blocks go back in after the first move." if blocks else ""
    return f"Clear the shelf{out}, then the moves in reverse.{again}"


def _back(design: Design, way: Way, say: Say) -> Table:
    """The moves in reverse: last move first, each the other way."""
    walls = carrying(design)
    rows = []
    for k, move in enumerate(reversed(way.moves), start=1):
        other = Move(-move.dx, -move.dy, -move.turn, "")
        rows.append((str(k), say.length(math.hypot(move.dx, move.dy)), told(other, walls)))
    return Table(
        heads=("Step", "How far", "Which way"),
        widths=(14, 30, 130),
        figures=(),
        rows=tuple(rows),
    )


def _blocked(design: Design, say: Say, hidden: frozenset[str]) -> tuple[Note, ...]:
    tried = [
        Note(way.id, tuple(stops(b, say, hidden) for b in way.blocked))
        for way in design.ways.ways
        if way.blocked
    ]
    return (Note("No way was found", ("Nothing is built before one is open.",)), *tried)
