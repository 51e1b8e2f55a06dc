"""One picture for each move of the fitting."""

from __future__ import annotations

import math

from ledgewright import plane
from ledgewright.draw import Arrow, Drawing, Fill, Item, Polyline, Text, fit
from ledgewright.fitting import Move
from ledgewright.judge import Design
from ledgewright.plane import Point, Ring
from ledgewright.sheets.say import Say
from ledgewright.sheets.views.common import (
    Held,
    Shown,
    drilled,
    end_walls,
    face_line,
    obstacle_items,
    placed,
    rod_items,
    shown,
    widest_gap,
)
from ledgewright.sheets.views.facing import facing

ARROW = 12.0  # least length of the arrow of a move, mm of paper


def move_view(
    design: Design, k: int, say: Say, box: tuple[float, float], held: Held = frozenset()
) -> Drawing:
    """Return the k-th move of the chosen way (from 0): where the shelf stands before it and after it.

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
    moves = design.way.moves if design.way else ()
    if not 0 <= k < len(moves):
        raise IndexError(k)
    move = moves[k]
    after = _at(design.frame.outline, moves[k + 1 :])
    before = plane.shift(after, (-move.dx, -move.dy))
    far = math.hypot(move.dx, move.dy)

    def items(scale: float) -> list[Item]:
        made: list[Item] = [Fill("sweep", before, "tone"), Polyline("sweep", before, closed=True)]
        views = shown(design)
        made += [*end_walls(design), *(_face(view) for view in views)]
        made += [Fill("cut", after, "paper"), Polyline("cut", after, closed=True)]
        made += [*rod_items(drilled(design, held)), *obstacle_items(views)]
        made += [_letter(view) for view in views]
        return made + _arrow(after, move, far, scale, say)

    title = f"Move {k + 1} of {len(moves)}: {say.length(far)}"
    said = f"{title}. {move.note}. Dashed and shaded: before; heavy line: after"
    return fit(title, said, items, box)


def _at(home: Ring, left: tuple[Move, ...]) -> Ring:
    """Return the section where moves are still to come."""
    return plane.shift(home, (-sum(m.dx for m in left), -sum(m.dy for m in left)))


def _face(view: Shown) -> Polyline:
    return Polyline("wall", placed(view.wall, face_line(view.wall, view.span)))


def _letter(view: Shown) -> Text:
    """The wall's letter behind it, where no stud's rod comes out."""
    x = widest_gap((view.leg.start, view.leg.end), [m.centre for m in view.members])
    return Text(
        view.wall.at(x, 0.0),
        view.wall.mark,
        anchor="middle",
        base="middle",
        nudge=plane.scale(view.wall.outward, -4.5),
        bold=True,
    )


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
        say.length(far),
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
