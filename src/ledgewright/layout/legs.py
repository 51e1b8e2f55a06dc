"""Each leg in the figures of its own wall: where it starts and ends, its band, its edges."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from ledgewright import plane
from ledgewright.job import Leg, Spec
from ledgewright.layout.model import LayoutError
from ledgewright.plane import Line, Point
from ledgewright.survey import Corner, Room, Wall

End = Literal["free", "wall", "corner"]
Side = Literal["left", "right"]

MEETS = 6.0
"""An end this near the wall it could touch is meant to meet it (mm; 1/4 in, common practice)."""

SLACK = 1.0
"""A leg may be typed this much past the end of its wall, or short of the corner it turns (mm; a tape's reading)."""


@dataclass(frozen=True)
class Run:
    """One leg while it is laid out: along figures (mm), the proudest and the deepest out of the face behind it."""

    wall: Wall
    start: float
    end: float
    left_end: End
    right_end: End
    band: float
    deepest: float

    def stations(self) -> tuple[float, ...]:
        """Return the alongs where the face may bend, with both ends."""
        inner = (s for s, _ in self.wall.line if self.start < s < self.end)
        return (self.start, *inner, self.end)

    def face(self) -> Line:
        """Return the true face behind the leg in wall figures, left to right."""
        return tuple((s, self.wall.face(s)) for s in self.stations())


def runs(room: Room, spec: Spec) -> tuple[Run, ...]:
    """Return the legs of a shelf, from left to right, each clear of what its ends meet.

    Raises:
        LayoutError: no legs or more than two, a leg outside its wall, legs that do not turn an inside corner.
    """
    if not 1 <= len(spec.legs) <= 2:
        msg = f"Shelf {spec.id} has {len(spec.legs)} legs; it must have one, or two at an inside corner."
        raise LayoutError(msg)
    legs = tuple(_on_wall(room, spec, leg) for leg in spec.legs)
    if len(legs) == 2:
        legs = _turned(room, spec, *legs)
    return tuple(_ended(room, spec, run) for run in legs)


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
        (run.wall.at(run.start, out), run.wall.at(run.end, out))
        for run, out in zip(legs, outs, strict=True)
    ]
    if len(edges) == 1:
        return tuple(edges)
    (a, b), (left, right) = edges, legs
    meet = plane.meet(a[0], left.wall.direction, b[1], right.wall.direction)
    if meet is None:
        msg = (
            f"Walls {left.wall.id} and {right.wall.id} run in one line: there is no corner to turn."
        )
        raise LayoutError(msg)
    return ((a[0], meet), (meet, b[1]))


def end_gap_at(room: Room, run: Run, side: Side, out: float) -> float | None:
    """Return how far an end at home stands off the wall it meets, at one out (mm); None if there is none.

    Past the end of that wall, or behind the corner, the nearest point of it counts.
    """
    other = _neighbour(room, run, side)
    if other is None:
        return None
    face = plane.height_at(sorted((o, s) for s, o in _return(other, run, side)), out)
    return run.start - face if side == "left" else face - run.end


def followed(legs: Sequence[Run]) -> tuple[Line, ...]:
    """Return the true wall face behind each leg as plan points, left to right."""
    return tuple(tuple(run.wall.at(*p) for p in run.face()) for run in legs)


def ring(backs: Sequence[Line], fronts: Sequence[Line]) -> plane.Ring:
    """Return the plan between back and front edges, counter-clockwise, without doubled points."""
    walk = [*(p for b in backs for p in b), *reversed([p for f in fronts for p in f])]
    kept = [p for p, q in pairwise([*walk, walk[0]]) if plane.length(plane.sub(p, q)) > 1e-7]
    return plane.ccw(kept)


def _on_wall(room: Room, spec: Spec, leg: Leg) -> Run:
    try:
        wall = room.wall(leg.wall)
    except KeyError:
        msg = f"Shelf {spec.id} has a leg on wall {leg.wall}, which was not taped."
        raise LayoutError(msg) from None
    if leg.start >= leg.end:
        msg = f"The leg of shelf {spec.id} on wall {wall.id} has no length."
        raise LayoutError(msg)
    if leg.start < wall.start - SLACK or leg.end > wall.end + SLACK:
        msg = f"The leg of shelf {spec.id} on wall {wall.id} runs past the end of that wall."
        raise LayoutError(msg)
    return _banded(wall, max(leg.start, wall.start), min(leg.end, wall.end), "free", "free")


def _banded(wall: Wall, start: float, end: float, left_end: End, right_end: End) -> Run:
    bare = Run(wall, start, end, left_end, right_end, 0.0, 0.0)
    outs = [out for _, out in bare.face()]
    return replace(bare, band=max(outs), deepest=min(outs))


def _turned(room: Room, spec: Spec, left: Run, right: Run) -> tuple[Run, Run]:
    corner = _corner(room, left.wall, "right")
    if corner is None or corner.right != right.wall.id:
        msg = (
            f"The legs of shelf {spec.id} must turn one inside corner, the left wall's leg first: "
            f"{left.wall.id} and {right.wall.id} do not meet in one."
        )
        raise LayoutError(msg)
    if left.end < left.wall.end - SLACK or right.start > right.wall.start + SLACK:
        msg = f"The legs of shelf {spec.id} do not reach the corner of {left.wall.id} and {right.wall.id}."
        raise LayoutError(msg)
    return (
        _banded(left.wall, left.start, left.wall.end, "free", "corner"),
        _banded(right.wall, right.wall.start, right.end, "corner", "free"),
    )


def _corner(room: Room, wall: Wall, side: Side) -> Corner | None:
    """The inside corner at one end of a wall."""
    ends = ((c.right if side == "left" else c.left, c) for c in room.corners)
    return next((c for name, c in ends if name == wall.id and c.turn == "inside"), None)


def _ended(room: Room, spec: Spec, run: Run) -> Run:
    """The leg with its ends drawn back from the walls they meet."""
    start, left_end = run.start, run.left_end
    end, right_end = run.end, run.right_end
    if left_end == "free" and (stop := _stop(room, spec, run, "left")) is not None:
        left_end = "wall" if start <= stop + MEETS else "free"
        start = max(start, stop)
    if right_end == "free" and (stop := _stop(room, spec, run, "right")) is not None:
        right_end = "wall" if end >= stop - MEETS else "free"
        end = min(end, stop)
    if start >= end:
        msg = f"The walls at the ends of shelf {spec.id} leave it no length on wall {run.wall.id}."
        raise LayoutError(msg)
    return _banded(run.wall, start, end, left_end, right_end)


def _stop(room: Room, spec: Spec, run: Run, side: Side) -> float | None:
    """The furthest along that an end may reach: clear of the return wall over all that it passes.

    A rigid shelf that comes straight in has been in front of its rods' tips, so the return counts
    from the corner out to the front edge there, or over its whole length if that is less.
    """
    corner = _corner(room, run.wall, side)
    if corner is None:
        return None
    stick = max(
        (r.projection + r.clearance.end for r in spec.rods if r.wall == run.wall.id), default=0
    )
    other = room.wall(corner.left if side == "left" else corner.right)
    walk = other.line[::-1] if side == "left" else other.line
    reached = _within([run.wall.figures(other.at(*p)) for p in walk], run.band + spec.depth + stick)
    if side == "left":
        return max(s for s, _ in reached) + spec.end_gap
    return min(s for s, _ in reached) - spec.end_gap


def _neighbour(room: Room, run: Run, side: Side) -> Wall | None:
    corner = _corner(room, run.wall, side)
    if corner is None:
        return None
    return room.wall(corner.left if side == "left" else corner.right)


def _return(other: Wall, run: Run, side: Side) -> list[Point]:
    """The face of the wall at one end of a leg in the leg's figures, from the corner outwards."""
    walk = other.line[::-1] if side == "left" else other.line
    return [run.wall.figures(other.at(*p)) for p in walk]


def _within(walk: Sequence[Point], reach: float) -> list[Point]:
    """The points of a line as far out as `reach`, with the points where it crosses that."""
    kept = [p for p in walk if p[1] <= reach]
    for (s0, o0), (s1, o1) in pairwise(walk):
        if (o0 - reach) * (o1 - reach) < 0:
            kept.append((s0 + (s1 - s0) * (reach - o0) / (o1 - o0), reach))
    return kept
