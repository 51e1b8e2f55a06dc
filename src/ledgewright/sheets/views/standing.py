"""The section standing somewhere on its way: walls, rods and obstacles round it, hold-off blocks, who holds it."""

from __future__ import annotations

import math
from dataclasses import replace

import shapely
from shapely.geometry import Polygon

from ledgewright import plane
from ledgewright.draw import Chain, Circle, Fill, Item, Leader, Polyline, Text
from ledgewright.fitting import Way
from ledgewright.judge import Design
from ledgewright.layout import Turn
from ledgewright.plane import Point, Ring
from ledgewright.sheets.say import Say
from ledgewright.sheets.stance import Free, Stance, held_places, slid_along
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
    upright,
    widest_gap,
)
from ledgewright.survey import Obstacle, Wall

BLOCK_IN = (
    60.0  # the blocks of the scribe stand so far inside both ends of the back, mm; our choice
)
HAND = 2.9  # radius of the ring round a holder's figure, mm of paper
BESIDE = 330.0  # so much of a section that hangs already is drawn beside the next, mm
BLOCK = (1.8, 1.1)  # half the length and the least thickness of a hold-off block, mm of paper


def ghost(ring: Ring) -> list[Item]:
    """Return a place the section has left: shaded, with a dashed edge."""
    return [Fill("sweep", ring, "tone"), Polyline("sweep", ring, closed=True)]


def standing(design: Design, stance: Stance, held: Held) -> list[Item]:
    """Return the walls, the section where it stands, the rods through it, and what stands beside it."""
    views = shown(alone(design))
    ring = stance.ring(design.frame.outline)
    return [
        *end_walls(design),
        *(_face(view) for view in views),
        *_hanging(design),
        Fill("cut", ring, "paper"),
        Polyline("cut", ring, closed=True),
        *rod_items(drilled(design, held)),
        *obstacle_items(views),
        *(_letter(view, design.frame.turn) for view in views),
    ]


def _hanging(design: Design) -> list[Item]:
    """The section of the same shelf that hangs already, and its name in it."""
    x0, y0, x1, y1 = plane.box(design.frame.outline)
    near = shapely.box(x0 - BESIDE, y0 - BESIDE, x1 + BESIDE, y1 + BESIDE)
    made: list[Item] = []
    for number, thing in enumerate(hung(design), start=1):
        part = Polygon(thing.plan).intersection(near)
        if not isinstance(part, Polygon) or part.is_empty:
            continue
        ring = tuple((float(x), float(y)) for x, y in part.exterior.coords[:-1])
        made += [Fill("cut", ring, "paper"), Polyline("seen", ring, closed=True)]
        words = f"section {number}, on the wall"
        angle = upright(design.room.wall(thing.wall).direction)
        spot = (part.centroid.x, part.centroid.y)
        made.append(Text(spot, words, 3.6, "middle", "middle", angle=angle, clear=True))
    return made


def alone(design: Design) -> Design:
    """Return a section in its room without those of the same shelf that hang before it."""
    there = hung(design)
    kept = tuple(thing for thing in design.room.obstacles if thing not in there)
    return replace(design, room=replace(design.room, obstacles=kept)) if there else design


def hung(design: Design) -> tuple[Obstacle, ...]:
    """Return the sections of the same shelf that hang before this one."""
    part = design.spec.section
    if part is None:
        return ()
    names = {
        replace(design.spec, section=replace(part, number=k)).title for k in range(1, part.number)
    }
    return tuple(thing for thing in design.room.obstacles if thing.id in names)


def _face(view: Shown) -> Polyline:
    return Polyline("wall", placed(view.wall, face_line(view.wall, view.span)))


def _letter(view: Shown, turn: Turn | None) -> Text:
    """The wall's letter behind it, where no stud's rod comes out; not in an outside corner, where both would meet."""
    centres = [m.centre for m in view.members]
    low, high = view.leg.start, view.leg.end
    if turn == "outside" and centres:
        at_left = view.leg.left_end == "corner"
        low, high = (min(centres), high) if at_left else (low, max(centres))
    x = widest_gap((low, high), centres)
    return Text(
        view.wall.at(x, 0.0),
        view.wall.mark,
        anchor="middle",
        base="middle",
        nudge=plane.scale(view.wall.outward, -4.5),
        bold=True,
    )


def blocks(design: Design, way: Way, thick: float, say: Say, scale: float) -> list[Item]:
    """Return the hold-off blocks of a way between wall and back edge, one of them labelled with its thickness."""
    wall = slid_along(design, way)
    places = held_places(design, way)
    if wall is None or not places:
        return []
    made = [item for at in places for item in block(wall, at, thick, scale)]
    tip = wall.at(places[0], wall.face(places[0]))
    return [*made, Leader(tip, behind(wall), f"block {say.length(thick)}")]


def block(wall: Wall, at: float, thick: float, scale: float) -> list[Item]:
    """Return a hold-off block between the wall and the back edge, thick enough to be seen."""
    half, deep = BLOCK[0] / scale, max(thick, BLOCK[1] / scale)
    face = wall.face(at)
    corners = [
        (at - half, face),
        (at - half, face + deep),
        (at + half, face + deep),
        (at + half, face),
    ]
    return [Fill("mark", placed(wall, corners), "solid")]


def block_places(design: Design) -> tuple[float, float]:
    """Return where along the wall it goes onto first the blocks of the scribe stand (mm)."""
    leg = next(g for g in design.frame.legs if g.wall == design.frame.first)
    wall = design.room.wall(leg.wall)
    return (max(leg.start, wall.start) + BLOCK_IN, min(leg.end, wall.end) - BLOCK_IN)


def behind(wall: Wall) -> Point:
    """Return where the label of something at the left end of a wall stands: behind it, away from its middle."""
    x, y = plane.add(plane.scale(wall.outward, -6.0), plane.scale(wall.direction, -5.0))
    return (x, y)


def hand_items(design: Design, stance: Stance, scale: float) -> list[Item]:
    """Return figures 1 and 2 in rings before the front edge, near both ends of the section."""
    made: list[Item] = []
    for name, point in zip("12", hands(design), strict=True):
        leg = design.frame.legs[0 if name == "1" else -1]
        out = plane.scale(design.room.wall(leg.wall).outward, (HAND + 1.2) / scale)
        at = stance.place(plane.add(point, out))
        made += [
            Fill("mark", disc(at, HAND / scale), "paper"),
            Circle("seen", at, HAND / scale),
            Text(at, name, 4.6, "middle", "middle", bold=True),
        ]
    return made


def hands(design: Design) -> tuple[Point, Point]:
    """Return where the two who hang a shelf hold it, at home: its front edge, a little in from both ends."""
    first, last = design.frame.legs[0].front, design.frame.legs[-1].front
    return (_in_from(first[0], first[1]), _in_from(last[1], last[0]))


def _in_from(end: Point, far: Point) -> Point:
    away = plane.sub(far, end)
    size = plane.length(away)
    return plane.along(end, plane.unit(away), min(200.0, size * 0.2))


def disc(centre: Point, radius: float) -> Ring:
    """Return a round area as a ring of 24 corners (mm)."""
    corners = (math.tau * k / 24 for k in range(24))
    return tuple(plane.along(centre, (math.cos(a), math.sin(a)), radius) for a in corners)


def extent_of(free: Free, say: Say) -> Chain:
    """Return the dimension of free room past one end, or in front, clear of all that the section sweeps."""
    points = (free.at, plane.along(free.at, free.course, free.far))
    label = (f"{say.up(free.far)} free",)
    if free.side == "left end" or free.right:
        # In front of the section is to the left of a course that runs to the left, to the right of the others.
        through = plane.along(free.at, plane.left(free.course), free.beside)
        return Chain(points[::-1], label, plane.scale(free.course, -1), through, -6.0)
    through = plane.along(free.at, plane.right(free.course), free.beside)
    return Chain(points, label, free.course, through, -6.0)
