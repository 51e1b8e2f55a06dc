"""One picture for each move of the fitting."""

from __future__ import annotations

import math

from ledgewright import plane
from ledgewright.draw import Arc, Arrow, Drawing, Item, Text, fit
from ledgewright.fitting import Move
from ledgewright.judge import Design
from ledgewright.plane import Point, Ring
from ledgewright.sheets.cautions import needs_two
from ledgewright.sheets.say import Say
from ledgewright.sheets.stance import farthest, free_room, stances
from ledgewright.sheets.views.common import Held
from ledgewright.sheets.views.facing import facing
from ledgewright.sheets.views.standing import blocks, extent_of, ghost, hand_items, standing
from ledgewright.units import show_angle

ARROW = 12.0  # least length of the arrow of a move, mm of paper
CURL = 14.0  # radius of the arrow of a turn, mm of paper


def move_view(
    design: Design, k: int, say: Say, box: tuple[float, float], held: Held = frozenset()
) -> Drawing:
    """Return the k-th move of the chosen way (from 0): where the shelf stands before it and after it.

    Hold-off blocks stand where they are on that move, drawn at least 1.1 mm thick so that they are seen.
    Figures 1 and 2 show who holds which end where two are needed. Where it is the only move, the free room it
    needs is dimensioned too: there is no other picture of it.

    Args:
        design: the shelf; it must have a way that is possible.
        k: which move.
        say: how the job writes.
        box: width and height of the paper there is (mm).
        held: walls that nobody may drill; no rod of theirs is shown.

    Raises:
        IndexError: if there is no such move.
        TooLarge: if it does not go on the paper at any round scale.
    """
    design = facing(design)
    way = design.way
    moves = way.moves if way else ()
    if way is None or not 0 <= k < len(moves):
        raise IndexError(k)
    before, after = stances(moves)[k : k + 2]
    far = math.hypot(moves[k].dx, moves[k].dy)

    def items(scale: float) -> list[Item]:
        made = [*ghost(before.ring(design.frame.outline))]
        made += standing(design, after, held)
        if k < len(moves) - 1:
            made += blocks(design, way, way.hold_off, say, scale)
        if len(moves) == 1:
            made += [extent_of(each, say) for each in free_room(design, way)]
        if needs_two(design):
            made += hand_items(design, after, scale)
        return made + _arrows(after.ring(design.frame.outline), moves[k], far, scale, say)

    title = f"Move {k + 1} of {len(moves)}: {say.some(farthest(design, way, k))}"
    said = f"{title}. {moves[k].note}. Dashed and shaded: before; heavy line: after"
    return fit(title, said, items, box)


def _arrows(after: Ring, move: Move, far: float, scale: float, say: Say) -> list[Item]:
    made: list[Item] = []
    if far > 0.05:
        made += _arrow(after, move, far, scale, say)
    if move.turn:
        made += _curl(after, move, scale)
    return made


def _curl(after: Ring, move: Move, scale: float) -> list[Item]:
    """A curved arrow in the middle of the section, with the angle of the turn; drawn wide enough to be seen."""
    centre, radius = plane.centroid(after), CURL / scale
    wide = max(abs(move.turn), math.radians(50.0))
    start, end = math.pi / 2 - wide / 2, math.pi / 2 + wide / 2
    tip, way = (end, 1.0) if move.turn > 0 else (start, -1.0)
    at = plane.along(centre, (math.cos(tip), math.sin(tip)), radius)
    course = plane.scale((-math.sin(tip), math.cos(tip)), way)
    return [
        Arc("mark", centre, radius, start, end),
        Arrow(
            "mark", plane.along(at, course, -0.4 / scale), plane.along(at, course, 3.6 / scale), 3.4
        ),
        Text(
            centre,
            f"turn {show_angle(abs(move.turn))}",
            5.0,
            "middle",
            "middle",
            bold=True,
            clear=True,
        ),
    ]


def _arrow(after: Ring, move: Move, far: float, scale: float, say: Say) -> list[Item]:
    """Return an arrow past the front of the longest leg; its length is true where it can be seen."""
    course = plane.unit((move.dx, move.dy))
    length = max(far, ARROW / scale)
    start = _room_point(after, scale)
    end = plane.along(start, course, length)
    spot = plane.along(start, course, length / 2)
    level = abs(course[0]) > abs(course[1])
    label = Text(
        spot,
        say.some(far),
        5.0,
        "middle" if level else "start",
        "head" if level else "middle",
        nudge=(0.0, -2.0) if level else (2.5, 0.0),
        bold=True,
        clear=True,
    )
    return [Arrow("mark", start, end, 4.0), label]


def _room_point(ring: Ring, scale: float) -> Point:
    """Return a point in front of the section, a third along from its left, clear of its lowest edge there."""
    x0, y0, x1, _ = plane.box(ring)
    x = x0 + (x1 - x0) * 0.3
    crossing = [
        a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0])
        for a, b in zip(ring, [*ring[1:], ring[0]], strict=True)
        if (a[0] <= x) != (b[0] <= x)
    ]
    return (x, min(crossing, default=y0) - (ARROW + 4.0) / scale)
