"""The shelf on its walls as an eye in the room sees it: a parallel projection, for the cover alone."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ledgewright import plane
from ledgewright.draw import Drawing, Fill, Item, Polyline, Text, fit
from ledgewright.judge import Design
from ledgewright.layout import Rod
from ledgewright.plane import Line, Point, Ring
from ledgewright.sheets.say import Say
from ledgewright.sheets.views.common import (
    Held,
    Shown,
    drilled,
    ends_meet,
    extent,
    face_line,
    overall,
    placed,
    rod_ring,
    shown,
    tip,
    under,
    widest_gap,
)

UNDER, OVER = 260.0, 240.0  # how much wall is shown under and over the shelf, mm
TILT = math.radians(32)  # how steeply the eye looks down
ASIDE = math.radians(24)  # how far a single wall is turned, so that its shelf shows an end


@dataclass(frozen=True)
class _Eye:
    """A parallel projection: the plan turned by `turn`, seen from above under TILT."""

    turn: float

    def see(self, point: Point, up: float) -> Point:
        x, y = plane.turn(point, self.turn)
        return (x, y * math.sin(TILT) + up * math.cos(TILT))

    def line(self, points: Sequence[Point], up: float) -> Line:
        return tuple(self.see(p, up) for p in points)

    def upright(self, points: Sequence[Point], low: float, high: float) -> Ring:
        """Return a folded upright face over a plan line."""
        return (*self.line(points, low), *reversed(self.line(points, high)))

    def depth(self, point: Point) -> float:
        """Return how far off a plan point lies."""
        return plane.turn(point, self.turn)[1]


def cover_view(
    design: Design,
    say: Say,
    box: tuple[float, float],
    held: Held = frozenset(),
    more: Sequence[Design] = (),
) -> Drawing:
    """Return the picture for the cover. It is not for measuring: lengths along the walls are foreshortened.

    Args:
        design: the shelf.
        say: how the job writes.
        box: width and height of the paper there is (mm).
        held: walls that nobody may drill; no rod of theirs is shown.
        more: the other sections of the same shelf.

    Raises:
        TooLarge: if it does not go on the paper at any round scale.
    """
    every = (design, *more)
    views = list({v.wall.id: v for each in every for v in shown(each)}.values())
    walls = {v.wall.id for v in views}
    eye = _eye(views)
    top, low = design.frame.top, design.frame.top - design.frame.thick
    items: list[Item] = []
    for wall, span in (end for each in every for end in ends_meet(each)):
        if eye.depth(wall.outward) < 0 and wall.id not in walls:
            face = placed(wall, face_line(wall, span))
            items.append(Polyline("seen", eye.upright(face, low - UNDER, top + OVER), closed=True))
    for view in sorted(views, key=lambda v: -eye.depth(v.wall.at(v.leg.start, 0.0))):
        items += _wall(view, eye, (low - UNDER, top + OVER))
    outlines = sorted(
        (each.frame.outline for each in every), key=lambda ring: -max(map(eye.depth, ring))
    )
    for outline in outlines:
        items += _body(outline, eye, low, top)
    for rod in (rod for each in every for rod in drilled(each, held)):
        items += _rod(rod, eye)
    items += [_mark(view, eye, top + OVER * 0.6) for view in views]
    words = _sizes(every, views, say)
    said = f"Shelf {design.spec.title} on its walls, seen from the room a little from above; not for measuring"
    return fit(
        f"Shelf {design.spec.title}", said, lambda scale: [*items, under(items, scale, words)], box
    )


def _eye(views: Sequence[Shown]) -> _Eye:
    """Look into the corner of an L, and a little from the side at a single wall."""
    out = views[0].wall.outward
    for view in views[1:]:
        out = plane.add(out, view.wall.outward)
    away = math.pi / 2 - math.atan2(-out[1], -out[0])
    return _Eye(away + (ASIDE if len(views) == 1 else 0.0))


def _wall(view: Shown, eye: _Eye, heights: tuple[float, float]) -> list[Item]:
    low, high = heights
    face = placed(view.wall, face_line(view.wall, view.span))
    items: list[Item] = []
    for m in view.members:
        foot, head = (low, high) if m.up is None else (max(low, m.up[0]), min(high, m.up[1]))
        edges = [view.wall.at(x, view.wall.face(x)) for x in (m.left, m.right)]
        if foot < head:
            items.append(Fill("hatch", eye.upright(edges, foot, head), "tone"))
    items.append(Polyline("seen", eye.upright(face, low, high), closed=True))
    for item in view.obstacles:
        left, right = extent(view.wall, item)
        span = (max(left, view.span[0]), min(right, view.span[1]))
        out = max(view.wall.figures(p)[1] for p in item.plan)
        foot, head = max(low, item.up[0]), min(high, item.up[1])
        if foot < head and span[0] < span[1]:
            ring = eye.upright([view.wall.at(x, out) for x in span], foot, head)
            items += [Fill("cut", ring, "paper"), Polyline("seen", ring, closed=True)]
    return items


def _body(outline: Ring, eye: _Eye, low: float, top: float) -> list[Item]:
    """Return the faces turned to the eye, the far ones first, and the top over them."""
    edges = list(zip(outline, [*outline[1:], outline[0]], strict=True))
    seen = [e for e in edges if eye.depth(plane.right(plane.sub(e[1], e[0]))) < -1e-9]
    seen.sort(key=lambda e: -(eye.depth(e[0]) + eye.depth(e[1])))
    items: list[Item] = []
    for edge in seen:
        ring = eye.upright(edge, low, top)
        items += [Fill("cut", ring, "tone"), Polyline("cut", ring, closed=True)]
    lid = eye.line(outline, top)
    return [*items, Fill("cut", lid, "paper"), Polyline("cut", lid, closed=True)]


def _rod(rod: Rod, eye: _Eye) -> list[Item]:
    ring = rod_ring(rod, 0.0, tip(rod), rod.bar.width / 2)
    return [Polyline("hidden", eye.line(ring, rod.origin[2]), closed=True)]


def _mark(view: Shown, eye: _Eye, up: float) -> Text:
    """The wall's letter, on the wall between two studs."""
    x = widest_gap((view.leg.start, view.leg.end), [m.centre for m in view.members])
    spot = eye.see(view.wall.at(x, view.wall.face(x)), up)
    return Text(spot, view.wall.mark, 6.0, "middle", "middle", bold=True)


def _sizes(sections: Sequence[Design], views: Sequence[Shown], say: Say) -> str:
    legs = [f"wall {mark} {say.length(length)}" for mark, length in overall(sections)]
    depth = say.deep([(v.wall.mark, v.leg.depth) for v in views])
    shelf = f"Shelf {sections[0].spec.whole}"
    return ", ".join(
        [f"{shelf}: {legs[0]}", *legs[1:], depth, f"{say.length(sections[0].frame.thick)} thick"]
    )
