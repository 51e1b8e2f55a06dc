"""The free room a way takes, every way that was looked at, and the hold-off of a scribe."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from ledgewright import plane
from ledgewright.draw import Arrow, Circle, Drawing, Fill, Item, Leader, Polyline, Text, fit
from ledgewright.fitting import Way
from ledgewright.judge import Design
from ledgewright.plane import Point, Ring
from ledgewright.sheets.cautions import needs_two
from ledgewright.sheets.say import Say
from ledgewright.sheets.stance import Stance, free_room, stances
from ledgewright.sheets.views.common import Held, widest_gap
from ledgewright.sheets.views.facing import facing
from ledgewright.sheets.views.standing import (
    alone,
    behind,
    block,
    block_places,
    disc,
    extent_of,
    ghost,
    hand_items,
    standing,
)

HOME = Stance((0.0, 0.0))


def room_view(
    design: Design, say: Say, box: tuple[float, float], held: Held = frozenset()
) -> Drawing:
    """Return the free room that the chosen way needs, shaded, with how far it reaches past the shelf at home.

    Args:
        design: the shelf; it must have a way that is possible.
        say: how the job writes.
        box: width and height of the paper there is (mm).
        held: walls that nobody may drill; no rod of theirs is shown.

    Raises:
        ValueError: if the shelf has no way.
        TooLarge: if it does not go on the paper at any round scale.
    """
    design = facing(design)
    if design.way is None:
        msg = f"shelf {design.spec.title} has no way"
        raise ValueError(msg)
    free = free_room(design, design.way)
    items: list[Item] = []
    for a, b in pairwise(stances(design.way.moves)):
        items += [ghost(s.ring(design.frame.outline))[0] for s in (a, b)]
    if design.way.room_needed:
        items += ghost(design.way.room_needed)
    items += standing(design, Stance((0.0, 0.0)), held)
    items += [extent_of(each, say) for each in free]
    told = "; ".join(f"{say.up(f.far)} past the {f.side}" for f in free) or "none past its home"
    return fit(
        f"Free room to get shelf {design.spec.title} on",
        f"Shaded: what must be free while the shelf goes on: {told}",
        items,
        box,
    )


def way_view(
    design: Design, way: Way, say: Say, box: tuple[float, float], held: Held = frozenset()
) -> Drawing:
    """Return one way of all that were looked at, small: every stop dashed, an arrow a move, what blocks it.

    Args:
        design: the shelf.
        way: one of its ways, possible or not.
        say: how the job writes.
        box: width and height of the paper there is (mm).
        held: walls that nobody may drill; no rod of theirs is shown.

    Raises:
        TooLarge: if it does not go on the paper at any round scale.
    """
    design = facing(replace(design, way=way))
    way = design.way or way
    stops = stances(way.moves)
    stuck = {block.by for block in way.blocked}

    def items(scale: float) -> list[Item]:
        made: list[Item] = []
        for stance in stops[:-1]:
            made += ghost(stance.ring(design.frame.outline))
        made += standing(design, stops[-1], held)
        for thing in design.room.obstacles:
            if thing.id in stuck:
                made += _crossed(thing.plan, scale)
        return made + _steps(design, stops, scale)

    state = "goes" if way.possible else "is blocked"
    return fit(
        way.id, f"The way {way.id} {state}: every place the shelf stops at, dashed", items, box
    )


def option_view(
    title: str,
    designs: Sequence[Design],
    say: Say,
    box: tuple[float, float],
    held: Held = frozenset(),
) -> Drawing:
    """Return another way to make a shelf, small: its sections at home, where each begins dashed, an arrow a move.

    Args:
        title: what it is called.
        designs: its sections, in the order they are hung; of one that does not go on the first way looked at is shown.
        say: how the job writes.
        box: width and height of the paper there is (mm).
        held: walls that nobody may drill; no rod of theirs is shown.

    Raises:
        TooLarge: if it does not go on the paper at any round scale.
    """
    walls = [leg.wall for design in designs for leg in design.frame.legs]
    room = designs[0].room
    first = next(w for w in room.walls if w.id in walls)
    turned = [
        facing(replace(d, way=d.way or next(iter(d.ways.ways), None)), first.direction)
        for d in designs
    ]

    def items(scale: float) -> list[Item]:
        made: list[Item] = []
        for design in turned:
            for stop in _stops(design)[:-1]:
                made += ghost(stop.ring(design.frame.outline))
        for design in turned:
            bare = alone(design)
            made += standing(replace(bare, spec=replace(bare.spec, section=None)), HOME, held)
            made += _steps(design, _stops(design), scale)
        for number, design in enumerate(turned, start=1):
            made += _section_number(design, number, scale) if len(turned) > 1 else []
        return made

    return fit(title, f"{title}: at home, and dashed where it begins", items, box)


def _stops(design: Design) -> tuple[Stance, ...]:
    return stances(design.way.moves) if design.way else (HOME,)


def _section_number(design: Design, number: int, scale: float) -> list[Item]:
    """The number of a section, where no rod stands."""
    leg = design.frame.legs[0]
    wall = design.room.wall(leg.wall)
    bars = [wall.figures(r.point(0.0))[0] for r in design.frame.rods if r.wall == wall.id]
    at = wall.at(widest_gap((leg.start, leg.end), bars), leg.band + leg.depth / 2)
    return [
        Fill("mark", disc(at, 2.6 / scale), "paper"),
        Circle("seen", at, 2.6 / scale),
        Text(at, str(number), 3.6, "middle", "middle", bold=True),
    ]


def scribe_view(
    design: Design, hold_off: float, say: Say, box: tuple[float, float], held: Held = frozenset()
) -> Drawing:
    """Return the section on its rods, held off its walls parallel while the back is marked.

    Args:
        design: the shelf.
        hold_off: how far it is held off along the rods it is on (mm).
        say: how the job writes.
        box: width and height of the paper there is (mm).
        held: walls that nobody may drill; no rod of theirs is shown.

    Raises:
        TooLarge: if it does not go on the paper at any round scale.
    """
    design = facing(design)
    wall = design.room.wall(design.frame.first)
    off = Stance(plane.scale(wall.outward, hold_off))
    places = block_places(design)

    def items(scale: float) -> list[Item]:
        made = standing(design, off, held)
        for along in places:
            made += block(wall, along, hold_off, scale)
        label = f"block {say.up(hold_off)}"
        tip = wall.at(places[0], wall.face(places[0]))
        made.append(Leader(tip, behind(wall), label))
        return [*made, *hand_items(design, off, scale)] if needs_two(design) else made

    title = f"Held off {say.up(hold_off)} for the scribe"
    return fit(title, f"{title}: the same gap at both ends while the back is marked", items, box)


def _steps(design: Design, stops: Sequence[Stance], scale: float) -> list[Item]:
    """An arrow for each move that is long enough to be seen."""
    corner = [s.place(_lower_left(design)) for s in stops]
    return [
        Arrow("mark", a, b, 2.4)
        for a, b in pairwise(corner)
        if plane.length(plane.sub(b, a)) * scale > 2.6
    ]


def _lower_left(design: Design) -> Point:
    """The front corner of the first leg's left end: the point of the section that the arrows follow."""
    return design.frame.legs[0].front[0]


def _crossed(ring: Ring, scale: float) -> list[Item]:
    """A heavy cross over what is in the way."""
    x0, y0, x1, y1 = plane.box(ring)
    middle, half = ((x0 + x1) / 2, (y0 + y1) / 2), 3.0 / scale
    arms = ((half, half), (half, -half))
    return [
        Fill("mark", disc(middle, 4.2 / scale), "paper"),
        Circle("mark", middle, 4.2 / scale),
        *(Polyline("mark", (plane.sub(middle, a), plane.add(middle, a))) for a in arms),
    ]
