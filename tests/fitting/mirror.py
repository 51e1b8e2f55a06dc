"""A room and a section seen in a mirror that stands across x: every figure turned by hand, nothing worked out."""

from __future__ import annotations

from dataclasses import replace

from ledgewright.layout import Frame, LegAt, Rod
from ledgewright.plane import Line, Point, Ring
from ledgewright.survey import Member, Room, Wall


def point(p: Point) -> Point:
    return (-p[0], p[1])


def _back(line: Line) -> Line:
    return tuple(point(p) for p in reversed(line))


def ring(points: Ring) -> Ring:
    return _back(points)


def _member(m: Member) -> Member:
    return replace(m, left=-m.right, right=-m.left)


def _wall(w: Wall) -> Wall:
    """Its direction turns round, as it is faced the same way up: left to right."""
    return replace(
        w,
        origin=point(w.origin),
        direction=(w.direction[0], -w.direction[1]),
        start=-w.end,
        end=-w.start,
        line=tuple((-s, out) for s, out in reversed(w.line)),
        tape_from="left" if w.tape_from == "right" else "right",
        members=tuple(_member(m) for m in reversed(w.members)),
    )


def room(there: Room) -> Room:
    return replace(
        there,
        walls=tuple(_wall(w) for w in reversed(there.walls)),
        corners=tuple(
            replace(c, left=c.right, right=c.left, at=point(c.at)) for c in reversed(there.corners)
        ),
        obstacles=tuple(replace(o, plan=ring(o.plan)) for o in there.obstacles),
    )


def _leg(leg: LegAt) -> LegAt:
    return replace(
        leg,
        start=-leg.end,
        end=-leg.start,
        back=_back(leg.back),
        front=(point(leg.front[1]), point(leg.front[0])),
        left_end=leg.right_end,
        right_end=leg.left_end,
    )


def _rod(rod: Rod) -> Rod:
    (x, y, z), (a, b, c) = rod.origin, rod.axis
    return replace(rod, origin=(-x, y, z), axis=(-a, b, c))


def frame(there: Frame) -> Frame:
    return replace(
        there,
        outline=ring(there.outline),
        blank=ring(there.blank),
        legs=tuple(_leg(leg) for leg in reversed(there.legs)),
        scribe=tuple(replace(s, along=-s.along) for s in reversed(there.scribe)),
        rods=tuple(_rod(r) for r in reversed(there.rods)),
        slots=tuple(replace(s, plan=ring(s.plan)) for s in reversed(there.slots)),
    )
