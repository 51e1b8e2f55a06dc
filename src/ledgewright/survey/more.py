"""Which one figure more would settle a net: hold it in place, or check figures that nothing checks."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from ledgewright import plane
from ledgewright.survey.accuracy import FACE_SD, UNSEEN_SD, tape_sd
from ledgewright.survey.adjust import Adjusted, Array, Loose
from ledgewright.survey.model import More, Wall
from ledgewright.survey.net import SEEN, Figures, Net
from ledgewright.survey.slips import least

NEAR, FAR = 0.5, 0.9
"""Marks of a triangle more are put at these shares of a wall, no farther than an arm and a tape reach alone."""
REACH = 2_400.0
ROUND = 25.0
"""Places to tape at are told round (mm)."""


@dataclass(frozen=True)
class Tried:
    """A figure that could be taken: between two places, how it changes with the unknowns, and its doubt."""

    marks: tuple[tuple[str, float], tuple[str, float]]
    slopes: Array
    sd: float


def more(given: Figures, net: Net, made: Adjusted | Loose) -> More | None:
    """Return the tape that settles most; None if everything is held and checked.

    Source: redundancy numbers after one more figure: the cofactor less its rank-one update.

    Args:
        given: the figures of walls that hang together.
        net: as built from them.
        made: what it came to.
    """
    tried = list(_tried(net, given))
    if not tried:
        return None
    if isinstance(made, Loose):
        held = [float(np.max(np.abs(t.slopes @ made.free)) / t.sd) for t in tried]
        best = max(range(len(tried)), key=lambda k: held[k])
        return More(tried[best].marks, 0, holds=True) if held[best] > 0 else None
    bare = [k for k, name in enumerate(net.names) if _unchecked(made, name.kind, k)]
    if not bare:
        return None
    scores = [_settles(net, made, t, bare) for t in tried]
    best = max(range(len(tried)), key=lambda k: scores[k])
    return More(tried[best].marks, scores[best][0], holds=False) if scores[best][0] else None


def _unchecked(made: Adjusted, kind: str, k: int) -> bool:
    if kind not in ("tape", "angle"):
        return False
    return least() * float(made.sd[k]) > SEEN[kind] * math.sqrt(float(made.share[k]))


def _settles(net: Net, made: Adjusted, t: Tried, bare: list[int]) -> tuple[int, float]:
    """How many figures would be checked then, and how well in all."""
    turned = made.cofactor @ t.slopes
    left = made.cofactor - np.outer(turned, turned) / (t.sd**2 + float(t.slopes @ turned))
    count, well = 0, 0.0
    for k in bare:
        a = made.slopes[k]
        share = 1.0 - float(a @ left @ a) / float(made.sd[k]) ** 2
        limit = SEEN[net.names[k].kind]
        found = share > 0 and least() * float(made.sd[k]) <= limit * math.sqrt(share)
        count, well = count + found, well + max(share, 0.0)
    return count, well


def _tried(net: Net, given: Figures) -> Iterator[Tried]:
    """Triangles across every corner, near and far, and diagonals between the far ends of every two walls."""
    n = len(net.start)
    for c in given.corners:
        left, right = given.placed[c.left], given.placed[c.right]
        for share in (NEAR, FAR):
            a, b = (_round(min(share * (w.end - w.start), REACH)) for w in (left, right))
            yield _between(net, n, (left, left.end - a), (right, right.start + b), given)
    walls = [given.placed[w.id] for w in given.walls]
    joined = {(c.left, c.right) for c in given.corners}
    for i, one in enumerate(walls):
        for two in walls[i + 1 :]:
            pairs = [(one.start, two.end), (one.end, two.end), (one.start, two.start)]
            for a, b in pairs[:1] if (one.id, two.id) in joined else pairs:
                yield _between(net, n, (one, a), (two, b), given)


def _round(mm: float) -> float:
    return max(ROUND, math.floor(mm / ROUND) * ROUND)


def _between(
    net: Net, n: int, one: tuple[Wall, float], two: tuple[Wall, float], given: Figures
) -> Tried:
    points = [w.at(s, w.face(s)) for w, s in (one, two)]
    way = plane.sub(points[1], points[0])
    far = max(plane.length(way), 1.0)
    u = plane.scale(way, 1 / far)
    slopes = np.zeros(n)
    var = tape_sd(far, given.tapes.tool, given.tapes.hands) ** 2
    for (wall, s), sign in ((one, -1.0), (two, 1.0)):
        x, y, turn = net.walls[wall.id]
        arm = (plane.scale(wall.direction, s)[0], plane.scale(wall.direction, s)[1])
        slopes[x] += sign * u[0]
        slopes[y] += sign * u[1]
        slopes[turn] += sign * (u[1] * arm[0] - u[0] * arm[1])
        off = UNSEEN_SD if given.strung[wall.id] is None else FACE_SD
        var += tape_sd(abs(s), given.tapes.tool, given.tapes.hands) ** 2 + off**2
    return Tried(((one[0].id, one[1]), (two[0].id, two[1])), slopes, math.sqrt(var))
