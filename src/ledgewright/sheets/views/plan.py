"""The shelf at home, seen from above."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ledgewright import plane
from ledgewright.draw import LETTERING, Chain, Drawing, Fill, Item, Polyline, Text, fit, text_width
from ledgewright.judge import Design
from ledgewright.layout import LegAt
from ledgewright.plane import Point
from ledgewright.sheets.say import Say
from ledgewright.sheets.views.common import (
    Held,
    Shown,
    at_one,
    drilled,
    end_walls,
    mark_items,
    near_edge,
    obstacle_items,
    rod_items,
    running,
    shown,
    under,
    upright,
    wall_items,
    widest_gap,
)
from ledgewright.sheets.views.facing import facing
from ledgewright.survey import Corner

LEADING = 1.25
"""Line distance over letter size (as lettering is laid)."""


def plan_view(
    design: Design, say: Say, box: tuple[float, float], held: Held = frozenset()
) -> Drawing:
    """Return the plan: walls with their studs, the shelf, its rods through it, the room it needs to go on.

    Args:
        design: the shelf.
        say: how the job writes.
        box: width and height of the paper there is (mm).
        held: walls that nobody may drill; no rod of theirs is shown.

    Raises:
        TooLarge: if it does not go on the paper at any round scale.
    """
    design = facing(design)
    views = shown(design)
    items: list[Item] = [*_room_needed(design), *end_walls(design)]
    for view in views:
        items += wall_items(view)
    items += [
        Fill("cut", design.frame.outline, "paper"),
        Polyline("cut", design.frame.outline, closed=True),
        *obstacle_items(views),
        *rod_items(drilled(design, held)),
        *mark_items(drilled(design, held), views),
    ]
    for view in views:
        items += [
            running(view, say, _places([design], view, held)),
            *_leg_words(design, view, say, held),
        ]
    items += [_angle(corner, views, design) for corner in design.room.corners if len(views) > 1]
    note = "Shaded: room it needs while it goes on." if _room_needed(design) else ""
    described = f"Shelf {design.spec.title} from above, against its walls, with studs, {say.word('rods')} and sizes"
    return fit(
        f"Plan, shelf {design.spec.title}",
        described,
        lambda scale: [*items, *_wall_names(views, held, scale), under(items, scale, note)],
        box,
    )


def whole_plan_view(
    designs: Sequence[Design], say: Say, box: tuple[float, float], held: Held = frozenset()
) -> Drawing:
    """Return the plan of a shelf in sections with all of them at home on their walls.

    Args:
        designs: its sections, as they hang.
        say: how the job writes.
        box: width and height of the paper there is (mm).
        held: walls that nobody may drill; no rod of theirs is shown.

    Raises:
        TooLarge: if it does not go on the paper at any round scale.
    """
    course = designs[0].room.wall(designs[0].frame.legs[0].wall).direction
    parts = [facing(each, course) for each in designs]
    by_wall: dict[str, list[Shown]] = {}
    for part in parts:
        for view in shown(part):
            by_wall.setdefault(view.wall.id, []).append(view)
    views = tuple(at_one(found) for found in by_wall.values())
    items: list[Item] = [*end_walls(parts[0])] if len(views) == 1 else []
    for view in views:
        items += wall_items(view)
    for part in parts:
        outline = part.frame.outline
        items += [Fill("cut", outline, "paper"), Polyline("cut", outline, closed=True)]
    items += obstacle_items(views)
    for part in parts:
        rods, own = drilled(part, held), shown(part)
        items += [*rod_items(rods), *mark_items(rods, own), *_number(part, own, held)]
    for view in views:
        items.append(running(view, say, _places(parts, view, held)))
    title = parts[0].spec.whole
    described = f"Shelf {title} from above, all sections against their walls, with studs, {say.word('rods')} and sizes"
    return fit(
        f"Plan, shelf {title}",
        described,
        lambda scale: [*items, *_wall_names(views, held, scale)],
        box,
    )


def _number(design: Design, views: Sequence[Shown], held: Held) -> Iterator[Text]:
    """The number of a section, in front of its longest leg."""
    part = design.spec.section
    if part is None:
        return
    view = max(views, key=lambda v: v.leg.end - v.leg.start)
    wall, leg = view.wall, view.leg
    yield Text(
        wall.at(_between_rods(design, view, held), leg.band + leg.depth),
        f"SECTION {part.number}",
        3.6,
        anchor="middle",
        base="middle",
        angle=upright(wall.direction),
        nudge=plane.scale(wall.outward, 4.0),
    )


def _room_needed(design: Design) -> list[Item]:
    way = design.way
    if way is None or not way.room_needed:
        return []
    return [
        Fill("sweep", way.room_needed, "tone"),
        Polyline("sweep", way.room_needed, closed=True),
    ]


def _places(designs: Sequence[Design], view: Shown, held: Held) -> list[tuple[float, str]]:
    """Return what is dimensioned on one wall: rods, ends and joints, the near edges of what stands beside it."""
    wall = view.wall
    named = [
        (
            m.centre if m.kind == "stud" else wall.figures((rod.origin[0], rod.origin[1]))[0],
            rod.mark,
        )
        for design in designs
        for rod in drilled(design, held)
        if rod.wall == wall.id
        for m in wall.members
        if m.id == rod.member
    ]
    named += [
        (x, "joint" if end == "joint" else "end")
        for design in designs
        for leg in design.frame.legs
        if leg.wall == wall.id
        for x, end in ((leg.start, leg.left_end), (leg.end, leg.right_end))
        if end != "corner" and abs(x) > 1.0
    ]
    return list(dict.fromkeys(named + [(near_edge(view, o), o.id) for o in view.obstacles]))


def _leg_words(design: Design, view: Shown, say: Say, held: Held) -> list[Item]:
    """Return FRONT, the wall's name and the depth, each where no rod or stud stands."""
    leg, wall = view.leg, view.wall
    return [
        Text(
            wall.at(_between_rods(design, view, held), leg.band + leg.depth),
            "FRONT",
            anchor="middle",
            base="middle",
            angle=upright(wall.direction),
            nudge=plane.scale(wall.outward, -3.4),
        ),
        _depth(view, say),
    ]


def _between_rods(design: Design, view: Shown, held: Held) -> float:
    """Return the along of the middle of the widest gap that the rods of a leg leave (mm)."""
    wall = view.wall
    ends = sorted(wall.figures(p)[0] for p in view.leg.front)
    bars = [wall.figures(r.point(0.0))[0] for r in drilled(design, held) if r.wall == wall.id]
    return widest_gap((ends[0], ends[1]), bars)


def _wall_names(views: Sequence[Shown], held: Held, scale: float) -> Iterator[Text]:
    return (_wall_name(view, held, scale) for view in views)


def _wall_name(view: Shown, held: Held, scale: float) -> Text:
    """The wall's letter between two studs, with its own name beside or under it where that goes in."""
    leg, wall = view.leg, view.wall
    between = widest_gap((leg.start, leg.end), [m.centre for m in view.members])
    aside = min(
        [min(abs(m.left - between), abs(m.right - between)) for m in view.members],
        default=leg.end - leg.start,
    )
    room = (2 * aside * scale - LETTERING, view.stud_depth * scale)
    shut = ", WITHHELD" if wall.id in held else ""
    letter, _, name = wall.called.partition(" ")
    told = [f"WALL {wall.called}{shut}", f"WALL {letter}{shut}\n{name}", f"WALL {letter}{shut}"]
    return Text(
        wall.at(between, view.back + view.stud_depth / 2),
        next((words for words in told[:-1] if name and _goes_in(words, room)), told[-1]),
        anchor="middle",
        base="middle",
        angle=upright(wall.direction),
        bold=True,
        clear=True,
    )


def _goes_in(words: str, room: tuple[float, float]) -> bool:
    lines = words.split("\n")
    wide = max(text_width(line, LETTERING, bold=True) for line in lines)
    return wide <= room[0] and len(lines) * LEADING * LETTERING <= room[1]


def _depth(view: Shown, say: Say) -> Chain:
    """The depth is measured past a free end, else inside the leg."""
    leg, wall = view.leg, view.wall
    right = leg.right_end == "free" or leg.left_end == "corner"
    x = leg.end if right else leg.start
    back, front = wall.at(x, leg.band), wall.at(x, leg.band + leg.depth)
    # Left of `outward` is the wall's own left-to-right direction.
    return Chain((back, front), (say.bare(leg.depth),), wall.outward, back, 7.0 if right else -7.0)


def _angle(corner: Corner, views: tuple[Shown, ...], design: Design) -> Text:
    from ledgewright.units import show_angle

    inner = plane.unit(plane.add(*(_into(v.leg, corner) for v in views)))
    spot = plane.along(corner.at, inner, min(design.spec.depths) * 0.55)
    return Text(spot, show_angle(corner.angle), 3.6, anchor="middle", base="middle", clear=True)


def _into(leg: LegAt, corner: Corner) -> Point:
    """Return the unit vector along a leg away from the corner."""
    far = leg.back[0] if leg.wall == corner.left else leg.back[-1]
    return plane.unit(plane.sub(far, corner.at))
