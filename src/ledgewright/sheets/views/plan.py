"""The shelf at home, seen from above."""

from __future__ import annotations

from ledgewright import plane
from ledgewright.draw import Chain, Drawing, Fill, Item, Polyline, Text, fit
from ledgewright.judge import Design
from ledgewright.layout import LegAt
from ledgewright.plane import Point
from ledgewright.sheets.say import Say
from ledgewright.sheets.views.common import (
    Held,
    Shown,
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
            running(view, say, _places(design, view, held)),
            *_leg_words(design, view, say, held),
        ]
    items += [_angle(corner, views, design) for corner in design.room.corners if len(views) > 1]
    note = "Shaded: room it needs while it goes on." if _room_needed(design) else ""
    described = f"Shelf {design.spec.title} from above, against its walls, with studs, {say.word('rods')} and sizes"
    return fit(
        f"Plan, shelf {design.spec.title}",
        described,
        lambda scale: [*items, under(items, scale, note)],
        box,
    )


def _room_needed(design: Design) -> list[Item]:
    way = design.way
    if way is None or not way.room_needed:
        return []
    return [
        Fill("sweep", way.room_needed, "tone"),
        Polyline("sweep", way.room_needed, closed=True),
    ]


def _places(design: Design, view: Shown, held: Held) -> list[tuple[float, str]]:
    """Return what is dimensioned on one wall: rods, free ends, the near edges of what stands beside it."""
    wall, leg = view.wall, view.leg
    named = [
        (m.centre, rod.mark)
        for rod in drilled(design, held)
        if rod.wall == wall.id
        for m in wall.members
        if m.id == rod.member
    ]
    named += [
        (x, "end")
        for x, end in ((leg.start, leg.left_end), (leg.end, leg.right_end))
        if end != "corner" and abs(x) > 1.0
    ]
    named += [(near_edge(view, item), item.id) for item in view.obstacles]
    return named


def _leg_words(design: Design, view: Shown, say: Say, held: Held) -> list[Item]:
    """Return FRONT, the wall's name and the depth, each where no rod or stud stands."""
    leg, wall = view.leg, view.wall
    ends = sorted(wall.figures(p)[0] for p in leg.front)
    bars = [wall.figures(r.point(0.0))[0] for r in drilled(design, held) if r.wall == wall.id]
    x = widest_gap((ends[0], ends[1]), bars)
    name = f"WALL {wall.mark}" + (", WITHHELD" if wall.id in held else "")
    between = widest_gap((leg.start, leg.end), [m.centre for m in view.members])
    angle = upright(wall.direction)
    return [
        Text(
            wall.at(x, leg.band + leg.depth),
            "FRONT",
            anchor="middle",
            base="middle",
            angle=angle,
            nudge=plane.scale(wall.outward, -3.4),
        ),
        Text(
            wall.at(between, view.back + view.stud_depth / 2),
            name,
            anchor="middle",
            base="middle",
            angle=angle,
            bold=True,
            clear=True,
        ),
        _depth(view, say),
    ]


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
