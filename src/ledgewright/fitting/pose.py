"""Where the section stands on its way: shifted, and in one case turned, from its home."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from ledgewright import plane
from ledgewright.fitting.model import Move
from ledgewright.plane import Point

CHORD = 0.01
"""A turn is followed in steps whose chords leave the true arcs by no more than this (mm)."""

FAN = 0.03
"""And whose hulls hold no more than this besides what is swept (mm)."""


@dataclass(frozen=True)
class Pose:
    """A place of the section: turned from home by `turn` (rad) about the plan point `about`, then shifted (mm)."""

    shift: Point
    turn: float = 0.0
    about: Point = (0.0, 0.0)

    def place(self, point: Point) -> Point:
        """Return where a point of the section at home stands in the room."""
        arm = plane.turn(plane.sub(point, self.about), self.turn)
        return plane.add(plane.add(self.about, arm), self.shift)

    def back(self, point: Point) -> Point:
        """Return where a point of the room lies in the section's own plan, the plan at home."""
        arm = plane.sub(plane.sub(point, self.about), self.shift)
        return plane.add(self.about, plane.turn(arm, -self.turn))


HOME = Pose((0.0, 0.0))


def poses(moves: Sequence[Move]) -> tuple[Pose, ...]:
    """Return where the section stands before each move and at home.

    Args:
        moves: in the order they are made; the last ends at home.

    Raises:
        ValueError: if turns are made about different points.
    """
    turned = {m.about for m in moves if m.turn}
    if len(turned) > 1:
        msg = "a path turns about one point of the section"
        raise ValueError(msg)
    about = next(iter(turned), (0.0, 0.0))
    found = [Pose((0.0, 0.0), 0.0, about)]
    for move in reversed(moves):
        after = found[-1]
        shift = plane.sub(after.shift, (move.dx, move.dy))
        found.append(Pose(shift, after.turn - move.turn, about))
    return tuple(reversed(found))


def steps(a: Pose, b: Pose, reach: float, size: float) -> list[tuple[Pose, Pose]]:
    """Return a move as pieces on each of which the hull of both ends is the sweep but for little.

    It misses at most a sagitta of `CHORD` for every point within `reach` of the centre of the turn: with angle
    w and travel s over one piece, a point's path has second derivative of at most reach w^2 + 2 s w, and
    a chord misses it by an eighth of that (Taylor; the second part seen from the section). And besides the
    sweep and its sagitta it holds at most `FAN`: a point of the hull at a share k between p before and q
    after lies k (1 - k) |q - p| w, at most size w / 4, from where the point at that share between p and q
    passes when that share of the piece is done.

    Args:
        a: before.
        b: after.
        reach: farthest point that counts, from the centre (mm), with the shift.
        size: greatest distance of two points of the convex thing that is swept (mm).
    """
    angle = abs(b.turn - a.turn)
    if angle == 0:
        return [(a, b)]
    travel = plane.length(plane.sub(b.shift, a.shift))
    bend = reach * angle**2 + 2 * travel * angle
    count = max(1, math.ceil(math.sqrt(bend / (8 * CHORD))), math.ceil(size * angle / (4 * FAN)))
    return list(pairwise(part(a, b, k / count) for k in range(count + 1)))


def part(a: Pose, b: Pose, t: float) -> Pose:
    """Return the pose at a share `t` of a move; it turns about the point that `b` or `a` turns about."""
    shift = plane.add(plane.scale(a.shift, 1 - t), plane.scale(b.shift, t))
    return Pose(shift, a.turn + (b.turn - a.turn) * t, turning_point(a, b))


def turning_point(a: Pose, b: Pose) -> Point:
    """Return the point of the section that a move turns about; a pose without a turn has none of its own."""
    return a.about if a.turn else b.about
