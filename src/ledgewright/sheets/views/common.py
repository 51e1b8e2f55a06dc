"""What several drawings share: walls with their studs, rods, obstacles, and where a line crosses a ring."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from ledgewright import plane
from ledgewright.draw import (
    Fill,
    Item,
    Polyline,
    Running,
    Text,
    flat_bounds,
    lay_item,
    printable,
    text_width,
)
from ledgewright.fitting import Channel
from ledgewright.judge import Design
from ledgewright.layout import LegAt, Rod, Slot
from ledgewright.plane import Line, Point, Ring
from ledgewright.sheets import leaves
from ledgewright.sheets.say import Say
from ledgewright.statics import goes_in
from ledgewright.survey import Member, Obstacle, Wall

Span = tuple[float, float]
Held = leaves.Held

PAST = 60.0  # how much is shown past a free end, and of what stands beside it, mm
NEAR = 450.0  # obstacles nearer than this to the shelf are shown, mm
REACH = 150.0  # obstacles this much over or under the shelf still matter, mm
NOMINAL_STUD = 89.0  # depth drawn where the stud is not known, mm


@dataclass(frozen=True)
class Shown:
    """One wall of a drawing, the leg on it, how much of it is shown (along), the obstacles on that stretch."""

    wall: Wall
    leg: LegAt
    span: Span
    obstacles: tuple[Obstacle, ...]

    @property
    def to_wood(self) -> float:
        """How far the wood lies behind the face (mm), nought where nobody knows."""
        return self.wall.depth_to_wood or 0.0

    @property
    def stud_depth(self) -> float:
        """How deep a stud is drawn (mm)."""
        return self.wall.timber.depth if self.wall.timber else NOMINAL_STUD

    def deep(self, member: Member | None) -> float:
        """How deep a member is drawn (mm): a block as it lies."""
        return (goes_in(member) if member else None) or self.stud_depth

    @property
    def back(self) -> float:
        """Wall figure `out` of the backs of the studs (mm)."""
        return min(p[1] for p in self.wall.line) - self.to_wood - self.stud_depth

    @property
    def members(self) -> tuple[Member, ...]:
        """The members on the stretch shown."""
        return tuple(m for m in self.wall.members if self.span[0] < m.centre < self.span[1])


def shown(design: Design) -> tuple[Shown, ...]:
    """Return the walls the shelf stands on, as far as they matter."""
    return tuple(_shown(design, leg) for leg in design.frame.legs)


def at_one(views: Sequence[Shown]) -> Shown:
    """Return what several sections show of one wall as one: the leg from end to end, no section as an obstacle.

    Args:
        views: of one wall, at least one.
    """
    first = min(views, key=lambda v: v.leg.start)
    last = max(views, key=lambda v: v.leg.end)
    leg = replace(first.leg, end=last.leg.end, right_end=last.leg.right_end)
    span = (min(v.span[0] for v in views), max(v.span[1] for v in views))
    beside = {o.id: o for v in views for o in v.obstacles if not o.section}
    return Shown(first.wall, leg, span, tuple(beside.values()))


def overall(sections: Sequence[Design]) -> Iterator[tuple[str, float]]:
    """Return how far a shelf reaches along each of its walls, the square of a corner with it: mark of the wall, mm.

    Args:
        sections: of one shelf, or the shelf itself.
    """
    room = sections[0].room
    legs = [leg for each in sections for leg in each.frame.legs]
    for name in dict.fromkeys(leg.wall for leg in legs):
        wall = room.wall(name)
        reach = [x for leg in legs if leg.wall == name for x in (leg.start, leg.end)]
        for corner in room.corners:
            pair = {corner.left, corner.right}
            other = next((leg for leg in legs if {leg.wall, name} == pair), None)
            if other is not None:
                at, way = (wall.end, 1.0) if name == corner.left else (wall.start, -1.0)
                past = (other.band + other.depth) / abs(math.sin(corner.angle))
                reach.append(at if corner.turn == "inside" else at + way * past)
        yield wall.mark, max(reach) - min(reach)


def _shown(design: Design, leg: LegAt) -> Shown:
    wall = design.room.wall(leg.wall)
    reach = [wall.figures(p)[0] for p in design.way.room_needed] if design.way else []
    on_leg = [x for x in reach if leg.start - NEAR < x < leg.end + NEAR]
    low, high = min([leg.start, *on_leg]), max([leg.end, *on_leg])
    near = []
    for item in design.room.obstacles:
        left, right = extent(wall, item)
        beside = left < high + NEAR and right > low - NEAR
        if item.wall == wall.id and beside and _at_height(design, item):
            near.append(item)
            low, high = min(low, right - PAST), max(high, left + PAST)
    ends = (
        max(wall.start, low - PAST) if leg.left_end == "free" else wall.start,
        min(wall.end, high + PAST) if leg.right_end == "free" else wall.end,
    )
    return Shown(wall, leg, ends, tuple(near))


def _at_height(design: Design, item: Obstacle) -> bool:
    top, thick = design.frame.top, design.frame.thick
    return item.up[0] < top + REACH and item.up[1] > top - thick - REACH


def ends_meet(design: Design) -> list[tuple[Wall, Span]]:
    """Return the walls the shelf only runs up against, each with the stretch that matters."""
    legs = {leg.wall for leg in design.frame.legs}
    reach = max(design.spec.depths) + 2 * PAST
    met = []
    for corner in design.room.corners:
        left, right = design.room.wall(corner.left), design.room.wall(corner.right)
        if right.id in legs and left.id not in legs:
            met.append((left, (max(left.start, left.end - reach), left.end)))
        if left.id in legs and right.id not in legs:
            met.append((right, (right.start, min(right.end, right.start + reach))))
    return met


def end_walls(design: Design) -> list[Item]:
    """Return the faces of the walls the shelf only runs up against."""
    return [
        Polyline("wall", placed(wall, face_line(wall, span))) for wall, span in ends_meet(design)
    ]


def wrapped(words: str, width: float, size: float) -> str:
    """Return words broken into lines no wider than `width` (mm of paper), a long word alone on its line."""
    lines: list[str] = []
    for word in words.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(printable(longer)[0], size) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return "\n".join(lines)


def extent(wall: Wall, item: Obstacle) -> Span:
    """Return the least and greatest along of an obstacle."""
    at = [wall.figures(p)[0] for p in item.plan]
    return (min(at), max(at))


def face_line(wall: Wall, span: Span) -> list[Point]:
    """Return the true face between two places as (along, out)."""
    inner = [p for p in wall.line if span[0] < p[0] < span[1]]
    return [(span[0], wall.face(span[0])), *inner, (span[1], wall.face(span[1]))]


def placed(wall: Wall, figures: Sequence[Point]) -> Line:
    """Return wall figures as plan points."""
    return tuple(wall.at(*p) for p in figures)


def wall_items(view: Shown) -> list[Item]:
    """Return a wall in plan: its lining between the face and the wood, its studs with their crosses."""
    wall = view.wall
    face = face_line(wall, view.span)
    wood = [(x, out - view.to_wood) for x, out in face]
    items: list[Item] = []
    if view.to_wood:
        lining = placed(wall, [*face, *reversed(wood)])
        items += [Fill("hatch", lining, "board"), Polyline("seen", placed(wall, wood))]
    for member in view.members:
        items += _stud(view, member)
    items.append(Polyline("wall", placed(wall, face)))
    return items


def stud_ring(view: Shown, member: Member) -> Ring:
    """Return the section of a stud in the plan."""
    front = view.wall.face(member.centre) - view.wall.to_wood(member)
    back = front - view.deep(member)
    return placed(
        view.wall,
        [
            (member.left, front),
            (member.left, back),
            (member.right, back),
            (member.right, front),
        ],
    )


def _stud(view: Shown, member: Member) -> list[Item]:
    a, b, c, d = ring = stud_ring(view, member)
    return [
        Fill("cut", ring, "paper"),
        Polyline("seen", ring, closed=True),
        Polyline("hatch", (a, c)),
        Polyline("hatch", (b, d)),
    ]


def rod_ring(rod: Rod, start: float, end: float, half: float) -> Ring:
    """Return the plan of a rod, or of its hole, between two distances from the wood."""
    across = plane.scale(plane.left((rod.axis[0], rod.axis[1])), half)
    a, b = rod.point(start), rod.point(end)
    return (
        plane.sub(a, across),
        plane.sub(b, across),
        plane.add(b, across),
        plane.add(a, across),
    )


def tip(rod: Rod) -> float:
    """Return how far the tip stands from the wood along the axis (mm)."""
    return rod.free + rod.projection


def drilled(design: Design, held: Held) -> tuple[Rod, ...]:
    """Return the rods on walls that may be drilled."""
    return tuple(r for r in design.frame.rods if r.wall not in held)


def rod_items(rods: Sequence[Rod]) -> list[Item]:
    """Return rods in plan as bars of steel, each with its mark past the tip."""
    items: list[Item] = []
    for rod in rods:
        ring = rod_ring(rod, -rod.embedment, tip(rod), rod.bar.width / 2)
        items += [Fill("cut", ring, "paper"), Fill("hatch", ring, "steel")]
        items.append(Polyline("seen", ring, closed=True))
    return items


def mark_items(rods: Sequence[Rod], views: Sequence[Shown]) -> list[Item]:
    """Return the mark of each rod beside its stick-out, toward the middle of its leg; many stand in two rows."""
    rows = (0.5,) if len(rods) <= CROWDED else (0.15, 0.55)
    return [
        Text(
            rod.point(rod.free + rod.projection * rows[k % len(rows)]),
            rod.mark,
            anchor="middle",
            base="middle",
            nudge=_beside(view, rod),
            bold=True,
        )
        for view in views
        for k, rod in enumerate(rods)
        if rod.wall == view.wall.id
    ]


CROWDED = 8
"""Rods whose marks stand in one row."""


def _beside(view: Shown, rod: Rod) -> Point:
    """Return a step aside in mm of paper: wider across upright rods, because letters lie level."""
    at = view.wall.figures(rod.point(rod.free))[0]
    inward = 1 if at < (view.leg.start + view.leg.end) / 2 else -1
    x, y = plane.scale(view.wall.direction, inward)
    return (x * 4.6, y * 3.2)


def cuts(design: Design) -> tuple[Channel | Slot, ...]:
    """Return what is cut for the rods: the channels of the chosen way, else the slots at home."""
    if design.way and design.way.channels:
        return design.way.channels
    return design.frame.slots


def obstacle_items(views: Sequence[Shown]) -> list[Item]:
    """Return the obstacles in plan, hatched, as far as the stretch shown reaches."""
    items: list[Item] = []
    for view in views:
        for item in view.obstacles:
            ring = clipped(view, item.plan)
            if len(ring) < 3:
                continue
            items += [Fill("cut", ring, "paper"), Fill("hatch", ring, "section back")]
            items.append(Polyline("cut", ring, closed=True))
    return items


def clipped(view: Shown, ring: Ring) -> Ring:
    """Return the part of a convex plan ring on the stretch of wall shown (Sutherland and Hodgman 1974)."""
    figures = [view.wall.figures(p) for p in ring]
    for limit, side in ((view.span[0], 1), (view.span[1], -1)):
        kept: list[Point] = []
        for a, b in pairwise([*figures, figures[0]]):
            if (a[0] - limit) * side >= 0:
                kept.append(a)
            if (a[0] - limit) * (b[0] - limit) < 0:
                k = (limit - a[0]) / (b[0] - a[0])
                kept.append((limit, a[1] + k * (b[1] - a[1])))
        figures = kept
        if not figures:
            return ()
    return placed(view.wall, figures)


def near_edge(view: Shown, item: Obstacle) -> float:
    """Return the along of the edge of an obstacle that the shelf meets first (mm)."""
    left, right = extent(view.wall, item)
    middle = (view.leg.start + view.leg.end) / 2
    return left if (left + right) / 2 > middle else right


def widest_gap(span: Span, taken: Sequence[float]) -> float:
    """Return the middle of the widest gap that places along a line leave between the ends of a span."""
    stops = sorted([span[0], *(x for x in taken if span[0] < x < span[1]), span[1]])
    a, b = max(pairwise(stops), key=lambda gap: gap[1] - gap[0])
    return (a + b) / 2


def upright(course: Point) -> float:
    """Return the angle of lettering along a line, readable from below or from the right (rad)."""
    x, y = course
    return math.atan2(-y, -x) if x < -1e-9 or (abs(x) <= 1e-9 and y < 0) else math.atan2(y, x)


def running(
    view: Shown, say: Say, named: Sequence[tuple[float, str]], offset: float = 5.0
) -> Running:
    """Return dimensions that count from the hook end of a wall, behind its studs.

    Args:
        view: the wall.
        say: how the job writes.
        named: places (along, mm) with what stands there; the figure is put after the name.
        offset: mm of paper behind the studs.
    """
    wall = view.wall
    labels = tuple(figure(name, say.bare(wall.taped(x))) for x, name in named)
    points = tuple(wall.at(x, view.back) for x, _ in named)
    zero = wall.at(0.0, view.back) if view.span[0] - 1 <= 0.0 <= view.span[1] + 1 else None
    return Running(zero, points, labels, wall.direction, wall.at(0.0, view.back), offset)


def figure(name: str, value: str) -> str:
    """Return a name and its figure with a space between that no reader of SVG closes up."""
    return f"{name}\u00a0\u00a0{value}" if name else value


def under(items: Sequence[Item], scale: float, words: str) -> Text:
    """Return lettering that stands under everything else, from its left edge on."""
    x0, y0, _, _ = flat_bounds([flat for item in items for flat in lay_item(item, scale)])
    return Text((x0 / scale, y0 / scale), words, 3.6, base="head", nudge=(0.0, -2.5))


def crossings(ring: Ring, start: Point, course: Point) -> list[Span]:
    """Return the stretches of a straight line that lie inside a ring, as distances from `start`.

    Args:
        ring: a simple polygon.
        start: a point of the line.
        course: its unit direction.
    """
    local = [
        (plane.dot(plane.sub(p, start), course), plane.cross(course, plane.sub(p, start)))
        for p in ring
    ]
    hits = sorted(
        a[0] + (b[0] - a[0]) * -a[1] / (b[1] - a[1])
        for a, b in pairwise([*local, local[0]])
        if (a[1] <= 0) != (b[1] <= 0)
    )
    return list(zip(hits[::2], hits[1::2], strict=False))
