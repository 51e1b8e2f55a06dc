"""Whether rods that lean up or down, or stand at different heights, all find their slots."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog

from ledgewright.fitting.model import Block
from ledgewright.layout import Frame, Rod

LEVEL = 1e-3
"""Rods that differ by less than this in height are level (mm)."""


@dataclass(frozen=True)
class Lift:
    """How the rods stand in height: what blocks, and what to say."""

    blocks: tuple[Block, ...] = ()
    notes: tuple[str, ...] = ()


def lift(frame: Frame) -> Lift:
    """Return whether one flat section goes onto all rods with their play up and down.

    The slots lie in one plane, as thick as the bar and the play. The plane that fits the rods' axes best
    leaves the least greatest miss (Chebyshev fit by a linear program); twice that miss, less the play,
    is what is missing. In the plan a leaning rod counts by its projection, which is shorter by 1 - cos.

    Args:
        frame: the section with its rods, as drawn or as set.
    """
    up = frame.rods
    points = np.array([p for r in up for p in _ends(r)])
    if not len(points) or np.ptp(points[:, 2]) < LEVEL:
        return Lift()
    plays = np.array([r.clearance.up / 2 for r in up for _ in range(2)])
    short, worst, drop = _plane(points, plays)
    mark = up[worst // 2].mark
    tilt = f"The rods are not level: the section lies off level by {drop:.1f} mm over its plan."
    if short <= 0:
        return Lift(notes=(f"{tilt} The slots' play up and down takes it.",))
    return Lift((Block(f"rod {mark}, out of line in height with the others", 0, short),), (tilt,))


def out_of_line(frame: Frame) -> float:
    """Return how much play the rods are short of to find their slots in height (mm); 0 if they find them.

    Args:
        frame: the section with its rods, as drawn or as set.
    """
    return max((block.short_by for block in lift(frame).blocks), default=0.0)


def _ends(rod: Rod) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
    x, y, z = rod.origin
    a, b = rod.free, rod.free + rod.projection
    dx, dy, dz = rod.axis
    return ((x + dx * a, y + dy * a, z + dz * a), (x + dx * b, y + dy * b, z + dz * b))


def _plane(points: NDArray[np.float64], plays: NDArray[np.float64]) -> tuple[float, int, float]:
    """The play that is missing (negative if there is some left), the worst point, the fall over the plan.

    Least t with |a + b x + c y - z| <= play/2 + t at every point.
    """
    middle = points[:, :2].mean(axis=0)
    scale = max(1.0, float(np.abs(points[:, :2] - middle).max()))
    flat = np.column_stack([np.ones(len(points)), (points[:, :2] - middle) / scale])
    z = points[:, 2]
    level = float(z.mean())
    ones = np.ones((len(points), 1))
    rows = np.vstack([np.hstack([flat, -ones]), np.hstack([-flat, -ones])])
    limits = np.concatenate([z - level + plays, -(z - level) + plays])
    # Without a bound a plane through two points may turn freely: any of the best will do.
    best = linprog([0, 0, 0, 1], A_ub=rows, b_ub=limits, bounds=[(None, None)] * 4, method="highs")
    answer = np.asarray(best.x, dtype=np.float64)
    plane = flat @ answer[:3]
    off = np.abs(plane - (z - level)) - plays
    return 2 * float(answer[3]), int(off.argmax()), float(np.ptp(plane))
