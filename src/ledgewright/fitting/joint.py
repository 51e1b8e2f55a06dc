"""A joint between two sections: what its face rubs on the way in, and so has to be eased by hand."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from ledgewright import plane
from ledgewright.fitting import sweep
from ledgewright.fitting.fixed import Fixed
from ledgewright.fitting.model import Eased
from ledgewright.fitting.pose import Pose
from ledgewright.fitting.setting import Setting
from ledgewright.plane import Point

EASE = 0.5
"""No more than this is taken off the face of a joint so that it passes the other section (mm): some strokes of a
block plane, our choice."""


def rubbed(here: Setting, thing: Fixed, stops: Sequence[Pose]) -> Eased | None:
    """Return what a section must lose at its joint face to pass the section that hangs already.

    Seen from the moving section the other runs the path backwards (de Berg et al., Computational Geometry, ch. 13). All
    that it sweeps out of the section must lie along the joint face, no deeper than `EASE`: without it the section
    passes. Whether the home itself is free is not looked at.

    Args:
        here: the section in its room.
        thing: a section that hangs already.
        stops: straight moves, home last.

    Returns:
        None if anything else than the joint face is met, if it is met deeper, or if a move turns.
    """
    face = here.joint
    if not thing.section or face is None or any(stop.turn for stop in stops):
        return None
    runs = [_seen(thing.shape, a, b) for a, b in pairwise(stops)]
    lost = sweep.meet(sweep.union(runs), here.outline)
    back, front = face
    along = plane.unit(plane.sub(front, back))
    away = [plane.sub((p.x, p.y), back) for p in sweep.points(lost)]
    places = [(plane.dot(a, along), abs(plane.cross(along, a))) for a in away]
    if any(deep > EASE for _, deep in places):
        return None
    off = _upper(places)
    return Eased(thing.said, off) if off else None


def _seen(shape: sweep.Shape, a: Pose, b: Pose) -> sweep.Shape:
    """What stands still as the moving section sees it on one move."""
    start = sweep.moved(shape, plane.scale(a.shift, -1.0))
    return sweep.swept(start, plane.sub(a.shift, b.shift))


def _upper(places: Iterable[Point]) -> tuple[Point, ...]:
    """The line over all places, to the millimetre, that bends only outwards: it is never less than what is rubbed."""
    deepest: dict[float, float] = {}
    for at, deep in places:
        near = float(round(at))
        deepest[near] = max(deep, deepest.get(near, 0.0))
    line: list[Point] = []
    for point in sorted(deepest.items()):
        while len(line) > 1 and not _bends_down(line[-2], line[-1], point):
            line.pop()
        line.append(point)
    return tuple(line)


def _bends_down(a: Point, b: Point, c: Point) -> bool:
    """Whether three places in a row bend by more than a thousandth of a millimetre at the middle one."""
    straight = a[1] + (c[1] - a[1]) * (b[0] - a[0]) / (c[0] - a[0])
    return b[1] - straight > 1e-3
