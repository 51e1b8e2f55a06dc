"""The fitting as a picture that plays: the section goes home move by move, each move told as it begins."""

from __future__ import annotations

import math

from ledgewright import plane
from ledgewright.draw import (
    Caption,
    Fill,
    Item,
    Key,
    Polyline,
    Scene,
    Text,
    fit,
    flat_bounds,
    lay_item,
)
from ledgewright.fitting import Way
from ledgewright.judge import Design
from ledgewright.sheets.directions import told
from ledgewright.sheets.say import Say
from ledgewright.sheets.stance import Stance, carrying, farthest, stances
from ledgewright.sheets.views.common import Held, wrapped
from ledgewright.sheets.views.facing import facing
from ledgewright.sheets.views.standing import ghost, standing

HOME, REST = 3.0, 1.0  # how long it stands at home, and at each stop (s)
PACE = 120.0  # mm of the shelf's way in a second
QUICK, SLOW = 1.5, 5.0  # least and most that a move takes (s)
LINE = 6.0  # from one caption to the next, mm of paper


def playing_view(
    design: Design, say: Say, box: tuple[float, float], held: Held = frozenset()
) -> Scene:
    """Return the fitting as a scene: at home first, then from in front of its rods home again, over and over.

    Walls, obstacles and rods stand still. Standing still it shows the section at home, every stop dashed, and
    all captions.

    Args:
        design: the shelf; it must have a way that is possible.
        say: how the job writes.
        box: width and height of the paper there is (mm), the captions under it not counted.
        held: walls that nobody may drill; no rod of theirs is shown.

    Raises:
        ValueError: if the shelf has no way.
        TooLarge: if it does not go on the paper at any round scale.
    """
    design = facing(design)
    way = design.way
    if way is None:
        msg = f"shelf {design.spec.title} has no way"
        raise ValueError(msg)
    ring, stops = design.frame.outline, stances(way.moves)
    under = tuple(item for stop in stops[:-1] for item in ghost(stop.ring(ring)))
    moving: tuple[Item, ...] = (Fill("cut", ring, "paper"), Polyline("cut", ring, closed=True))
    round_it = standing(design, Stance((0.0, 0.0)), held)
    over = tuple(item for item in round_it if item not in moving)
    title = f"How shelf {design.spec.title} goes on"
    still = fit(title, "", [*under, *moving, *over], box)
    keys, begins = _times(way)
    return Scene(
        title=title,
        description=f"{title}: {'; '.join(_words(design, k, say) for k in range(len(way.moves)))}",
        under=under,
        moving=moving,
        over=over,
        captions=_captions(still.items, still.scale, design, way, say, begins, box[0]),
        keys=keys,
        about=stops[0].about,
        scale=still.scale,
    )


def _times(way: Way) -> tuple[tuple[Key, ...], tuple[float, ...]]:
    """Return the keys of the motion, and when each move is told (s): when it stands ready for it."""
    stops = stances(way.moves)
    keys = [Key(0.0, (0.0, 0.0)), Key(HOME, (0.0, 0.0)), Key(HOME, stops[0].shift, stops[0].turn)]
    begins, now = [], HOME
    for move, stop in zip(way.moves, stops[1:], strict=True):
        begins.append(now)
        before = keys[-1]
        now += REST
        keys.append(Key(now, before.shift, before.turn))
        now += min(SLOW, max(QUICK, math.hypot(move.dx, move.dy) / PACE))
        keys.append(Key(now, stop.shift, stop.turn))
    return tuple(keys), tuple(begins)


def _captions(
    items: tuple[Item, ...],
    scale: float,
    design: Design,
    way: Way,
    say: Say,
    begins: tuple[float, ...],
    width: float,
) -> tuple[Caption, ...]:
    x0, y0, _, _ = flat_bounds([flat for item in items for flat in lay_item(item, scale)])
    made, down = [], 4.0
    for k, (_, begun) in enumerate(zip(way.moves, begins, strict=True), start=1):
        words = wrapped(f"{k}. {_words(design, k - 1, say)}", width, 4.2)
        at = plane.scale((x0, y0), 1 / scale)
        made.append(Caption(Text(at, words, 4.2, base="head", nudge=(0.0, -down)), begun))
        down += LINE * (1 + words.count("\n"))
    return tuple(made)


def _words(design: Design, k: int, say: Say) -> str:
    if design.way is None:
        return ""
    move = design.way.moves[k]
    return f"{say.some(farthest(design, design.way, k))} {told(move, carrying(design), say)}"
