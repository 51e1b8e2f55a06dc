"""A design turned on the paper, so that the first wall of its shelf runs level along the top."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from ledgewright import plane
from ledgewright.core import Core
from ledgewright.fitting import Way
from ledgewright.judge import Design
from ledgewright.layout import Frame, Rod
from ledgewright.plane import Line, Point
from ledgewright.sheets.stance import turned_about
from ledgewright.survey import Room


def facing(design: Design, course: Point | None = None) -> Design:
    """Return the design with its whole plan turned until the wall of its first leg runs to the right.

    Wall figures, heights and lengths stay as they are; only plan points turn, about the plan's origin.
    `ways` keeps its own plan: drawings read `way`.

    Args:
        design: the shelf.
        course: the plan direction that runs to the right on the paper, if not that of its first wall.
    """
    course = course or design.room.wall(design.frame.legs[0].wall).direction
    turn = _Turn(-math.atan2(course[1], course[0]))
    if abs(turn.angle) < 1e-12:
        return design
    return replace(
        design,
        room=turn.room(design.room),
        frame=turn.frame(design.frame),
        way=turn.way(design.way) if design.way else None,
        core=turn.core(design.core) if design.core else None,
    )


def as_faced(design: Design, turned: Design, points: Sequence[Point]) -> Line:
    """Return plan points of a design where they lie once it is turned: as its outline's first edge does.

    Args:
        design: as it was.
        turned: as `facing` gives it.
        points: in the plan of the first (mm).
    """
    a, b = design.frame.outline[:2]
    c, d = turned.frame.outline[:2]
    before, after = plane.sub(b, a), plane.sub(d, c)
    angle = math.atan2(after[1], after[0]) - math.atan2(before[1], before[0])
    return tuple(plane.add(c, plane.turn(plane.sub(p, a), angle)) for p in points)


class _Turn:
    """A turn of the plan about its origin."""

    def __init__(self, angle: float) -> None:
        self.angle = angle

    def point(self, point: Point) -> Point:
        return plane.turn(point, self.angle)

    def line(self, points: Line) -> Line:
        return tuple(self.point(p) for p in points)

    def room(self, room: Room) -> Room:
        walls = tuple(
            replace(w, origin=self.point(w.origin), direction=self.point(w.direction))
            for w in room.walls
        )
        corners = tuple(replace(c, at=self.point(c.at)) for c in room.corners)
        obstacles = tuple(replace(o, plan=self.line(o.plan)) for o in room.obstacles)
        return replace(room, walls=walls, corners=corners, obstacles=obstacles)

    def frame(self, frame: Frame) -> Frame:
        legs = tuple(
            replace(
                g, back=self.line(g.back), front=(self.point(g.front[0]), self.point(g.front[1]))
            )
            for g in frame.legs
        )
        return replace(
            frame,
            outline=self.line(frame.outline),
            blank=self.line(frame.blank),
            legs=legs,
            rods=tuple(self._rod(r) for r in frame.rods),
            slots=tuple(replace(s, plan=self.line(s.plan)) for s in frame.slots),
        )

    def _rod(self, rod: Rod) -> Rod:
        (x, y), (u, v) = self.point(rod.origin[:2]), self.point(rod.axis[:2])
        return replace(rod, origin=(x, y, rod.origin[2]), axis=(u, v, rod.axis[2]))

    def way(self, way: Way) -> Way:
        moves = []
        for m in way.moves:
            dx, dy = self.point((m.dx, m.dy))
            # Not every move knows a point that it turns about yet (see `stance.turned_about`).
            about: dict[str, Any] = {"about": self.point(turned_about(m))} if m.turn else {}
            moves.append(replace(m, dx=dx, dy=dy, **(about if hasattr(m, "about") else {})))
        return replace(
            way,
            moves=tuple(moves),
            channels=tuple(replace(c, plan=self.line(c.plan)) for c in way.channels),
            merged=tuple(replace(m, plan=self.line(m.plan)) for m in way.merged),
            room_needed=self.line(way.room_needed),
        )

    def core(self, core: Core) -> Core:
        pieces = tuple(replace(p, plan=self.line(p.plan)) for p in core.pieces)
        return replace(
            core,
            pieces=pieces,
            hollows=tuple(self.line(h) for h in core.hollows),
            keep_outs=tuple(replace(k, plan=self.line(k.plan)) for k in core.keep_outs),
            locks=tuple(replace(k, at=self.point(k.at)) for k in core.locks),
        )
