"""The order of ways as the documentation of the planner states it, from the figures of each way alone."""

from __future__ import annotations

import math

import numpy as np
from shapely.geometry import Polygon

from ledgewright.fitting import Way, Ways
from ledgewright.layout import Frame
from tests.fitting.rooms import SPAN, Job

Rank = tuple[bool, bool, bool, bool, float, float]


def rank(frame: Frame, way: Way, span: float = SPAN) -> Rank:
    """What goes; no channel wider than the skins span; guided; starts on `first`; area; room; the least is best."""
    return (
        not way.possible,
        way.loss.widest > span,
        not way.guided,
        way.guided and starts_on(frame, way) not in (None, frame.first),
        round(way.loss.channel_area, 3),
        round(Polygon(way.room_needed).area, 3) if way.room_needed else 0.0,
    )


def starts_on(frame: Frame, way: Way) -> str | None:
    """The wall along whose rods the first move goes, to three degrees; None if along no wall's."""
    step = np.array([way.moves[0].dx, way.moves[0].dy])
    near: dict[str, float] = {}
    for leg in frame.legs:
        axes = [
            np.array(r.axis[:2]) / math.hypot(*r.axis[:2]) for r in frame.rods if r.wall == leg.wall
        ]
        if axes:
            total = np.sum(axes, axis=0)
            cos = float(-step @ total / np.linalg.norm(total) / np.linalg.norm(step))
            near[leg.wall] = math.acos(max(-1.0, min(1.0, cos)))
    best = min(near, key=lambda wall: near[wall], default=None)
    return best if best and near[best] <= math.radians(3) else None


def hold(job: Job, found: Ways) -> None:
    """The chosen way is the best of all by that order, and never worse than a classic one."""
    ranked = [rank(job.frame, way) for way in found.ways]
    assert ranked == sorted(ranked), (job.seed, ranked)
    way = found.way()
    assert (way is None) == all(not w.possible for w in found.ways), job.seed
    if way is not None:
        assert way is found.ways[0]


def better(job: Job, found: Ways) -> tuple[bool, bool]:
    """Whether the chosen way goes where no classic one does; whether it is better than the best classic one."""
    classic = [w for w in found.ways if w.kind not in ("planned", "tilt")]
    best = min(rank(job.frame, w) for w in classic)
    way = found.way()
    if way is None:
        return False, False
    return best[0], rank(job.frame, way) < best
