"""Each leg in the figures of its own wall: where it starts and ends, its band, its edges."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from ledgewright import plane
from ledgewright.job import Cut, Leg, Spec
from ledgewright.layout.model import End, LayoutError, Turn
from ledgewright.plane import Line, Point
from ledgewright.survey import Corner, Room, Wall

Side = Literal["left", "right"]

MEETS = 6.0
"""An end this near the wall it could touch is meant to meet it (mm; 1/4 in, common practice)."""

SLACK = 1.0
"""A leg may be typed this much past the end of its wall, or short of the corner it turns (mm; a tape's reading)."""

FAR = 1e5
"""Longer than any shelf (mm)."""


@dataclass(frozen=True)
class Run:
    """One leg while it is laid out: along figures (mm), the proudest and the deepest out of the face behind it.

    start, end: where its ends meet the face of the wall. left_cut, right_cut: along as a function of out, as points
    (out, along) with rising out, carried on level past them; one point for an end cut square. depth: from `band` to the
    front. beside: the walls its two ends meet.
    """

    wall: Wall
    start: float
    end: float
    left_end: End
    right_end: End
    left_cut: Line
    right_cut: Line
    band: float
    deepest: float
    depth: float
    beside: tuple[str | None, str | None] = (None, None)

    def stations(self) -> tuple[float, ...]:
        """Return the alongs where the face may bend, with both ends."""
        inner = (s for s, _ in self.wall.line if self.start < s < self.end)
        return (self.start, *inner, self.end)

    def before_wall(self) -> tuple[float, float]:
        """Return between which alongs the leg stands before its wall: past an outside corner there is none."""
        return max(self.start, self.wall.start), min(self.end, self.wall.end)

    def face(self) -> Line:
        """Return the true face behind the leg in wall figures, left to right."""
        return tuple((s, self.wall.face(s)) for s in self.stations())

    @property
    def front(self) -> float:
        """Out of the front edge (mm)."""
        return self.band + self.depth

    def cut(self, side: Side) -> Line:
        """Return the line of one end as points (out, along)."""
        return self.left_cut if side == "left" else self.right_cut

    def at(self, side: Side, out: float) -> Point:
        """Return the plan point of one end at one out."""
        return self.wall.at(plane.height_at(self.cut(side), out), out)

    def between(self, side: Side, back: float, front: float) -> Line:
        """Return the plan points at which an end bends between two outs, from the back to the front."""
        return tuple(self.wall.at(s, out) for out, s in self._bends(side) if back < out < front)

    def reach(self, side: Side, back: float, front: float) -> float:
        """Return the along of an end where it stands furthest out of the leg between two outs."""
        places = [plane.height_at(self.cut(side), out) for out in (back, front)]
        places += [s for out, s in self._bends(side) if back < out < front]
        return min(places) if side == "left" else max(places)

    def _bends(self, side: Side) -> Line:
        cut = self.cut(side)
        return cut if len(cut) > 1 else ()


def runs(room: Room, spec: Spec) -> tuple[Run, ...]:
    """Return the legs of a shelf, from left to right, each clear of what its ends meet.

    Raises:
        LayoutError: no legs or more than two, a leg outside its wall, legs that do not turn one corner.
    """
    if not 1 <= len(spec.legs) <= 2:
        msg = f"Shelf {spec.id} has {len(spec.legs)} legs; it must have one, or two at a corner."
        raise LayoutError(msg)
    legs = tuple(_on_wall(room, spec, leg) for leg in spec.legs)
    if len(legs) == 2:
        legs = _turned(room, spec, *legs)
    return tuple(_ended(room, spec, run) for run in legs)


def turn_of(room: Room, legs: Sequence[Run]) -> Turn | None:
    """Return which way the corner of an L turns; None for a straight shelf."""
    if len(legs) == 1:
        return None
    return next(
        c.turn for c in room.corners if c.left == legs[0].wall.id and c.right == legs[1].wall.id
    )


def joined(legs: Sequence[Run], outs: Sequence[float]) -> tuple[tuple[Point, Point], ...]:
    """Return the straight edges parallel to the reference lines at one out per leg, meeting at the corner.

    Args:
        legs: one or two runs.
        outs: out of each edge in its wall's figures (mm).

    Returns:
        The plan points of each edge, left to right.

    Raises:
        LayoutError: the two edges are parallel.
    """
    edges = [
        (run.at("left", out), run.at("right", out)) for run, out in zip(legs, outs, strict=True)
    ]
    if len(edges) == 1:
        return tuple(edges)
    (a, b), (left, right) = edges, legs
    meet = plane.meet(a[0], left.wall.direction, b[1], right.wall.direction)
    if meet is None:
        msg = f"Walls {left.wall.called} and {right.wall.called} run in one line: there is no corner to turn."
        raise LayoutError(msg)
    return ((a[0], meet), (meet, b[1]))


def end_gap_at(room: Room, run: Run, side: Side, out: float) -> float | None:
    """Return how far an end at home stands off the wall it meets, at one out (mm); None if there is none.

    Past the end of that wall, or behind the corner, the nearest point of it counts.
    """
    other = run.beside[0 if side == "left" else 1]
    if other is None:
        return None
    face = plane.height_at(profile(room.wall(other), run.wall, side), out)
    here = plane.height_at(run.cut(side), out)
    return here - face if side == "left" else face - here


def profile(other: Wall, wall: Wall, side: Side) -> list[Point]:
    """Return the face of the wall at one end of a leg as (out, along) of the leg's wall, with rising out."""
    walk = other.line[::-1] if side == "left" else other.line
    figures = [wall.figures(other.at(*p)) for p in walk]
    return sorted((out, s) for s, out in figures)


def followed(legs: Sequence[Run]) -> tuple[Line, ...]:
    """Return the true wall face behind each leg as plan points, left to right."""
    return tuple(tuple(run.wall.at(*p) for p in run.face()) for run in legs)


def ring(legs: Sequence[Run], backs: Sequence[Line], fronts: Sequence[Line]) -> plane.Ring:
    """Return the plan between back and front edges, counter-clockwise, without doubled points."""

    def end(run: Run, side: Side, back: Point, front: Point) -> Line:
        return run.between(side, run.wall.figures(back)[1], run.wall.figures(front)[1])

    walk = [
        *(p for b in backs for p in b),
        *end(legs[-1], "right", backs[-1][-1], fronts[-1][-1]),
        *reversed([p for f in fronts for p in f]),
        *reversed(end(legs[0], "left", backs[0][0], fronts[0][0])),
    ]
    kept = [p for p, q in pairwise([*walk, walk[0]]) if plane.length(plane.sub(p, q)) > 1e-7]
    return plane.ccw(kept)


def _on_wall(room: Room, spec: Spec, leg: Leg) -> Run:
    try:
        wall = room.wall(leg.wall)
    except KeyError:
        msg = f"Shelf {spec.id} has a leg on wall {leg.wall}, which was not taped."
        raise LayoutError(msg) from None
    if leg.start >= leg.end:
        msg = f"The leg of shelf {spec.id} on wall {wall.called} has no length."
        raise LayoutError(msg)
    left, right = (spec.section.left, spec.section.right) if spec.section else (None, None)
    if (leg.start < wall.start - SLACK and not left) or (leg.end > wall.end + SLACK and not right):
        msg = f"The leg of shelf {spec.id} on wall {wall.called} runs past the end of that wall."
        raise LayoutError(msg)
    start, left_end = _cut(left, max(leg.start, wall.start))
    end, right_end = _cut(right, min(leg.end, wall.end))
    bare = Run(
        wall, leg.start, leg.end, left_end, right_end, start, end, 0.0, 0.0, leg.deep(spec.depth)
    )
    return _banded(bare)


def _cut(cut: Cut | None, along: float) -> tuple[Line, End]:
    """The line of an end as asked for, and what it meets as far as the asking says."""
    if cut is None:
        return ((0.0, along),), "free"
    line = tuple((out, cut.at + cut.lean * out) for out in (-FAR, FAR))
    return line, "joint" if cut.meets == "section" else "free"


def _banded(run: Run) -> Run:
    """The run with the places where its ends meet the face, and the least and greatest out between them."""
    placed = replace(run, start=_at_face(run, "left"), end=_at_face(run, "right"))
    outs = [out for _, out in placed.face()]
    return replace(placed, band=max(outs), deepest=min(outs))


def _at_face(run: Run, side: Side) -> float:
    """Where the line of an end crosses the face: each round shrinks the error by lean times slope of the face."""
    along = run.start if side == "left" else run.end
    for _ in range(8):
        along = plane.height_at(run.cut(side), run.wall.face(along))
    return along


def _turned(room: Room, spec: Spec, left: Run, right: Run) -> tuple[Run, Run]:
    corner = next(
        (c for c in room.corners if (c.left, c.right) == (left.wall.id, right.wall.id)), None
    )
    if corner is None:
        msg = (
            f"The legs of shelf {spec.id} must turn one corner, the left wall's leg first: "
            f"walls {left.wall.called} and {right.wall.called} do not meet in one."
        )
        raise LayoutError(msg)
    if left.end < left.wall.end - SLACK or right.start > right.wall.start + SLACK:
        walls = f"{left.wall.called} and {right.wall.called}"
        msg = f"The legs of shelf {spec.id} do not reach the corner of walls {walls}."
        raise LayoutError(msg)
    at_left, at_right = ((0.0, left.wall.end),), ((0.0, right.wall.start),)
    return (
        _banded(replace(left, end=left.wall.end, right_end="corner", right_cut=at_left)),
        _banded(replace(right, start=right.wall.start, left_end="corner", left_cut=at_right)),
    )


def _corner(room: Room, wall: Wall, side: Side) -> Corner | None:
    """The inside corner at one end of a wall."""
    ends = ((c.right if side == "left" else c.left, c) for c in room.corners)
    return next((c for name, c in ends if name == wall.id and c.turn == "inside"), None)


def _ended(room: Room, spec: Spec, run: Run) -> Run:
    """The leg with its ends drawn back from the walls they meet."""
    cuts = spec.section
    if run.left_end == "free" and not (cuts and cuts.left):
        run = _stopped(room, spec, run, "left")
    if run.right_end == "free" and not (cuts and cuts.right):
        run = _stopped(room, spec, run, "right")
    run = _banded(run)
    if run.start >= run.end:
        msg = f"The walls at the ends of shelf {spec.id} leave it no length on wall {run.wall.called}."
        raise LayoutError(msg)
    return run


def _stopped(room: Room, spec: Spec, run: Run, side: Side) -> Run:
    """The leg with one end drawn back from the wall beside it, if it reaches that far."""
    corner = _corner(room, run.wall, side)
    if corner is None:
        return run
    other = room.wall(corner.left if side == "left" else corner.right)
    line, sign = _stop(other, spec, run, side), 1 if side == "left" else -1
    here = run.start if side == "left" else run.end
    nearest = max(sign * s for _, s in line) * sign
    if sign * (here - nearest) > MEETS:
        return run
    if spec.ends != "tight":
        line = ((0.0, max(sign * here, sign * nearest) * sign),)
    if side == "left":
        return replace(run, left_end="wall", left_cut=line, beside=(other.id, run.beside[1]))
    return replace(run, right_end="wall", right_cut=line, beside=(run.beside[0], other.id))


def _stop(other: Wall, spec: Spec, run: Run, side: Side) -> Line:
    """The furthest that an end may reach, as points (out, along).

    A scribed end keeps the gap all along the face of the wall beside it. One cut square is clear of all that
    it passes: a rigid shelf that comes straight in has been in front of its rods' tips, so that wall counts
    from the corner out to the front edge there, or over its whole length if that is less.
    """
    gap = spec.end_gap if side == "left" else -spec.end_gap
    face = [(out, s + gap) for out, s in profile(other, run.wall, side)]
    if spec.ends == "tight":
        return tuple(sorted(within(face, run.front)))
    stick = max(
        (r.stick_out + r.clearance.end for r in spec.rods if r.wall == run.wall.id), default=0
    )
    reached = within(face, run.front + stick)
    most = max(s for _, s in reached) if side == "left" else min(s for _, s in reached)
    return ((0.0, most),)


def within(walk: Sequence[Point], reach: float) -> list[Point]:
    """Return the points (out, along) of a line as far out as `reach`, with the points where it crosses that."""
    kept = [p for p in walk if p[0] <= reach]
    for (o0, s0), (o1, s1) in pairwise(walk):
        if (o0 - reach) * (o1 - reach) < 0:
            kept.append((reach, s0 + (s1 - s0) * (reach - o0) / (o1 - o0)))
    return kept
