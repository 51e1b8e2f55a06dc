"""Each leg of a section in its own figures: s along its front, t from the front edge towards the wall."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, reduce
from typing import Literal

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from ledgewright import plane
from ledgewright.core.model import KeepOut
from ledgewright.fitting import Way
from ledgewright.fitting.sweep import Shape, less, meet, union
from ledgewright.fitting.sweep import parts as parts_of
from ledgewright.job import Cable, Spec
from ledgewright.layout import Frame, LegAt, Side, end_points, into_leg, lean
from ledgewright.plane import Point, Ring

FAR = 1e5
"""Longer than any shelf (mm)."""

UNDERCUT = 3.2
"""How far the back strip stands in behind what scribing may take: 1/8 in, common practice."""

SIDES: tuple[Side, Side] = ("left", "right")


@dataclass(frozen=True)
class Field:
    """One leg while its core is laid out (mm).

    low, high: s between which wood may stand at the two ends, where it reaches furthest; rail: t of the back face of
    the back strip; edge: t of the front face of the front strip; inner: t range between the strips. leans: how much
    further wood reaches at the back than at the front of either end, per t. past: what lies past an end that leans.
    """

    wall: str
    origin: Point
    along: Point
    low: float
    high: float
    edge: float
    rail: float
    strip: float
    leans: tuple[float, float] = (0.0, 0.0)
    past: tuple[Polygon, ...] = ()

    @property
    def inner(self) -> tuple[float, float]:
        """The t between the front strip and the back strip."""
        return (self.edge + self.strip, self.rail - self.strip)

    def at(self, s: float, t: float) -> Point:
        """Return the plan point at the leg's figures."""
        return plane.along(plane.along(self.origin, self.along, s), plane.left(self.along), t)

    def figures(self, point: Point) -> Point:
        """Return the leg's figures of a plan point."""
        away = plane.sub(point, self.origin)
        return (plane.dot(away, self.along), plane.dot(away, plane.left(self.along)))

    def box(self, s: tuple[float, float], t: tuple[float, float]) -> Polygon:
        """Return the rectangle between two s and two t."""
        return Polygon(
            [self.at(a, b) for a, b in ((s[0], t[0]), (s[1], t[0]), (s[1], t[1]), (s[0], t[1]))]
        )

    def extent(self, shape: BaseGeometry) -> tuple[float, float, float, float]:
        """Return least s, least t, greatest s, greatest t of a shape."""
        points = shapely.get_coordinates(shape).tolist()
        return plane.box([self.figures((x, y)) for x, y in points])


_Kept = tuple[Literal["light groove", "cable way"], str, BaseGeometry, bool]


@dataclass(frozen=True)
class Ground:
    """The section before any wood is placed: its legs, where wood may stand, and where rods pass.

    through: the leg whose strips run through the corner of an L; the other leg's butt against them.
    """

    spec: Spec
    frame: Frame
    fields: tuple[Field, ...]
    channels: tuple[tuple[str, Polygon], ...]

    @property
    def through(self) -> Field:
        """The leg that keeps the corner."""
        return next((f for f in self.fields if f.wall == self.frame.first), self.fields[0])

    @property
    def others(self) -> tuple[Field, ...]:
        """The leg that does not, if there is one."""
        return tuple(f for f in self.fields if f is not self.through)

    @cached_property
    def no_wood(self) -> Shape:
        """Everything rods and cables pass through, and a light groove that reaches the core."""
        through = [Polygon(k.plan) for k in self.keep_outs if k.through]
        return union([*(c for _, c in self.channels), *through])

    @cached_property
    def cables(self) -> Shape:
        """The ways kept free for cables."""
        return union(Polygon(k.plan) for k in self.keep_outs if k.kind == "cable way")

    @cached_property
    def keep_outs(self) -> tuple[KeepOut, ...]:
        """Light grooves and cable ways, inside the outline."""
        found = [*self._grooves(), *self._cable_ways()]
        outline = Polygon(self.frame.outline)
        return tuple(
            KeepOut(kind, wall, ring, through)
            for kind, wall, shape, through in found
            for ring in rings(meet(shape, outline))
        )

    @cached_property
    def standing(self) -> Shape:
        """Where core may stand: the outline less the edging, what scribing may take, and the ends."""
        fronts: list[BaseGeometry] = [f.box((-FAR, FAR), (-FAR, f.edge)) for f in self.fields]
        scribed: list[BaseGeometry] = [f.box((-FAR, FAR), (f.rail, FAR)) for f in self.fields]
        # At an inside corner a leg's front ends where it meets the other, at an outside one its back does.
        outside = self.frame.turn == "outside"
        taken = [*fronts, reduce(meet, scribed)] if outside else [reduce(meet, fronts), *scribed]
        ends = [s for f in self.fields for s in self._past_ends(f)]
        return less(Polygon(self.frame.outline), union([*taken, *ends]))

    def domain(self, field: Field) -> Shape:
        """Return the part of the section whose front strip and ribs belong to a leg."""
        if not self.others:
            return self.standing
        own = self.own(self.through)
        return meet(self.standing, own) if field is self.through else less(self.standing, own)

    def own(self, field: Field) -> Polygon:
        """Return all that lies in a leg's own run, the corner of an L with it."""
        outside = self.frame.turn == "outside"
        return field.box((-FAR, FAR), (-FAR, field.rail) if outside else (field.edge, FAR))

    def _past_ends(self, field: Field) -> tuple[Polygon, ...]:
        return (
            field.box((-FAR, field.low), (0.0, FAR)),
            field.box((field.high, FAR), (0.0, FAR)),
            *field.past,
        )

    def _grooves(self) -> Iterator[_Kept]:
        """The light groove along each leg; in a corner each ends where the other leg's runs."""
        groove = self.spec.groove
        if groove is None:
            return
        near, far = groove.from_front, groove.from_front + groove.width
        through = groove.deep > self.spec.skin_bottom.thick
        past = (near, FAR) if self.frame.turn == "outside" else (-FAR, far)
        for field in self.fields:
            band: BaseGeometry = field.box((field.low, field.high), (near, far))
            band = less(band, union(field.past)) if field.past else band
            for other in self.fields:
                if other is not field:
                    band = meet(band, other.box((-FAR, FAR), past))
            yield ("light groove", field.wall, band, through)

    def _cable_ways(self) -> Iterator[_Kept]:
        for field, leg in zip(self.fields, self.frame.legs, strict=True):
            for cable in self.spec.cables:
                if cable.wall == leg.wall and leg.start <= cable.along <= leg.end:
                    s = _along(field, leg) + cable.along - leg.start
                    half = cable.width / 2
                    box = field.box((s - half, s + half), (self._end(cable, leg, field), FAR))
                    yield ("cable way", field.wall, box, True)

    def _end(self, cable: Cable, leg: LegAt, field: Field) -> float:
        """The t at which a cable way ends: as asked, else where it opens onto the light groove, or at the strip."""
        if cable.out is not None:
            return max(0.0, leg.depth - cable.out)
        groove = self.spec.groove
        if groove is None:
            return field.inner[0]
        reach = max(groove.from_front, field.inner[0])
        return min(reach, groove.from_front + groove.width / 2)


def ground(spec: Spec, frame: Frame, way: Way | None) -> Ground:
    """Return the section ready for its core; without a way on, the slots stand for the channels."""
    cut = [(c.rod, c.plan) for c in way.channels] if way else [(s.rod, s.plan) for s in frame.slots]
    outline = Polygon(frame.outline)
    inside = [(rod, meet(Polygon(plan), outline)) for rod, plan in cut]
    parts = [(rod, p) for rod, shape in inside for p in parts_of(shape)]
    return Ground(spec, frame, tuple(_field(spec, frame, leg) for leg in frame.legs), tuple(parts))


def _along(field: Field, leg: LegAt) -> float:
    """The s at the along where a leg starts: of its back line, but at an outside corner of its front line."""
    back = field.figures(leg.back[0])[0]
    return min(0.0, back) if leg.left_end == "corner" else back


def _field(spec: Spec, frame: Frame, leg: LegAt) -> Field:
    along = plane.unit(plane.sub(leg.front[1], leg.front[0]))
    bare = Field(leg.wall, leg.front[0], along, -FAR, FAR, spec.edging_thick, 0.0, spec.core.strip)
    blank_back = max(bare.figures(p)[1] for p in frame.blank)
    allowance = spec.scribe_allowance if spec.back == "tight" else 0.0
    nearest = min(bare.figures(p)[1] for p in leg.back)
    rail = min(nearest, blank_back - allowance)
    ends = [_end(spec, frame, leg, replace(bare, rail=rail - UNDERCUT), side) for side in SIDES]
    return replace(
        bare,
        low=ends[0].reach,
        high=-ends[1].reach,
        rail=rail - UNDERCUT,
        leans=(ends[0].lean, ends[1].lean),
        past=tuple(end.past for end in ends if end.past),
    )


@dataclass(frozen=True)
class _End:
    """Where wood stops at an end: the least s, of a right end the least -s; how it leans; what lies past it then."""

    reach: float
    lean: float = 0.0
    past: Polygon | None = None


def _end(spec: Spec, frame: Frame, leg: LegAt, bare: Field, side: Side) -> _End:
    """Where wood stops: behind the edging of a free end, behind what scribing may take, or at an end cut square.

    Of an end at a joint, which may lean, the s of its farthest point: the outline cuts wood off along it. At a
    scribed end that leans by no more than the undercut wood is square to the front.
    """
    kind = leg.left_end if side == "left" else leg.right_end
    if kind == "corner":
        return _End(-FAR)
    way, slant = 1.0 if side == "left" else -1.0, lean(leg, side)
    places = [way * bare.figures(p)[0] for p in end_points(leg, side)]
    if kind == "joint":
        return _End(min(places), slant)
    off = spec.edging_thick
    if kind == "wall":
        off = spec.scribe_allowance + UNDERCUT if spec.ends == "tight" else 0.0
    square = UNDERCUT if kind == "wall" else 0.0
    if abs(places[1] - places[0]) <= square or not slant:
        return _End(max(places) + off)
    return _leaning(frame, leg, bare, side, off)


def _leaning(frame: Frame, leg: LegAt, bare: Field, side: Side, off: float) -> _End:
    """Where wood stops along a line `off` (mm) behind an end that leans, and behind whatever bends into it."""
    way, slant, into = 1.0 if side == "left" else -1.0, lean(leg, side), into_leg(leg, side)
    front, _ = end_points(leg, side)
    bends = max(plane.dot(plane.sub(p, front), into) for p in _walk(frame.outline, leg, side))
    s0, t0 = bare.figures(plane.along(front, into, off + max(0.0, bends)))

    def reach(t: float) -> float:
        return way * s0 - slant * (t - t0)

    deep = max(bare.figures(p)[1] for p in leg.back) + 1.0
    corners = [(-FAR, 0.0), (reach(0.0), 0.0), (reach(deep), deep), (-FAR, deep)]
    past = Polygon([bare.at(way * s, t) for s, t in corners])
    return _End(min(reach(bare.edge), reach(bare.rail)), slant, past)


def _walk(outline: Ring, leg: LegAt, side: Side) -> Ring:
    """An end with its bends: of an outline, which runs left from back to front and right from front to back."""
    front, back = end_points(leg, side)
    first, last = (back, front) if side == "left" else (front, back)
    a, b = _nearest(outline, first), _nearest(outline, last)
    return outline[a : b + 1] if a <= b else (*outline[a:], *outline[: b + 1])


def _nearest(ring: Ring, point: Point) -> int:
    return min(range(len(ring)), key=lambda k: plane.length(plane.sub(ring[k], point)))


def rings(shape: BaseGeometry) -> tuple[Ring, ...]:
    """Return the polygons of a shape as rings, counter-clockwise; one with a hole is cut through it first."""
    return tuple(
        plane.ccw([(float(x), float(y)) for x, y in part.exterior.coords[:-1]])
        for whole in parts_of(shape)
        for part in _without_holes(whole)
    )


def _without_holes(whole: Polygon) -> Sequence[Polygon]:
    if not whole.interiors:
        return [whole]
    middle = whole.interiors[0].centroid.x
    left = shapely.box(-FAR, -FAR, middle, FAR)
    halves = [*parts_of(meet(whole, left)), *parts_of(less(whole, left))]
    return [part for half in halves for part in _without_holes(half)]
