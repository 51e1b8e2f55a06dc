"""Where a blank is laid before it is scribed: two shifts and one small turn, so that the least is taken off."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog

from ledgewright import plane
from ledgewright.plane import Line, Point

SETTLED = 1e-4
"""Rounds end once no point of the blank moves further than this (mm); 0.01 mm is asked."""

MOST_TURN = math.radians(3.0)
"""A blank is never turned further off the string (rad): a string held further askew is held anew (our choice)."""

ROUNDS = 30

_FIRST_COME = 1e-9


@dataclass(frozen=True)
class Edge:
    """One edge of a blank and the wall it is laid to.

    normal: unit vector out of the blank, square to the edge, as drawn. at: how far out along `normal` the edge lies
    from the origin (mm); None where the blank is still to be sized. wall: points of the true face.
    """

    name: str
    normal: Point
    wall: Line
    at: float | None = None


@dataclass(frozen=True)
class Laid:
    """A blank as laid: turned to the left by `turn` (rad) about `pivot`, then shifted (mm).

    most, least: what is taken off each edge at the most and at the least (mm), in the order of the edges; a blank still
    to be sized just reaches the wall, so that its least is nought. short: how far the blank fails to reach (mm).
    """

    turn: float
    shift: Point
    pivot: Point
    most: tuple[float, ...]
    least: tuple[float, ...]
    short: float = 0.0

    @property
    def eaten(self) -> float:
        """The most that is taken off anywhere (mm)."""
        return max(self.most)


def best_turn(edges: Sequence[Edge], pivot: Point) -> Laid:
    """Return the turn at which the blank needs the least allowance, each of its edges just reaching its wall.

    Linear program in the turn, the upper and lower line of each edge and the greatest distance between
    them; linearised anew on the true turn until nothing moves. Among the best turns the one that needs the least
    over all edges together, then the smallest.

    Args:
        edges: with their walls; `at` is not looked at.
        pivot: about which it is turned.

    Limits: walls nearly straight along their edges, turns of up to 3 degrees.
    """
    turn = 0.0
    reach = max(math.dist(pivot, p) for edge in edges for p in edge.wall)
    for _ in range(ROUNDS):
        step = _turn_step(edges, pivot, turn)
        turn += step
        if abs(step) * reach < SETTLED:
            break
    return as_turned(edges, pivot, turn)


def as_turned(edges: Sequence[Edge], pivot: Point, turn: float) -> Laid:
    """Return what a blank still to be sized needs at one turn, on the true rotation (mm).

    Args:
        edges: with their walls.
        pivot: about which it is turned.
        turn: to the left (rad).
    """
    spans = [_out(edge, pivot, turn)[0] for edge in edges]
    most = tuple(float(np.ptp(span)) for span in spans)
    return Laid(turn, (0.0, 0.0), pivot, most, (0.0,) * len(most))


def lay(edges: Sequence[Edge], pivot: Point) -> Laid:
    """Return where a blank of fixed size is laid so that it reaches every wall and the least is taken off anywhere.

    First the least that it fails to reach by, which is nought if its allowance does; then the least greatest cut;
    then the least over all edges. Three linear programs in two shifts and one turn, linearised anew on the true turn.

    Args:
        edges: each with `at`.
        pivot: about which it is turned.

    Raises:
        ValueError: an edge without its place.
    """
    pose = np.zeros(3)
    reach = max(math.dist(pivot, p) for edge in edges for p in edge.wall)
    for _ in range(ROUNDS):
        step = _pose_step(edges, pivot, pose)
        pose += step
        if max(abs(step[0]) * reach, abs(step[1]), abs(step[2])) < SETTLED:
            break
    cuts = [_taken(edge, pivot, pose)[0] for edge in edges]
    return Laid(
        turn=float(pose[0]),
        shift=(float(pose[1]), float(pose[2])),
        pivot=pivot,
        most=tuple(float(cut.max()) for cut in cuts),
        least=tuple(float(cut.min()) for cut in cuts),
        short=max(0.0, -min(float(cut.min()) for cut in cuts)),
    )


def _out(edge: Edge, pivot: Point, turn: float) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """How far out along the turned normal the wall's points lie from the pivot, and how that grows with the turn."""
    nx, ny = plane.turn(edge.normal, turn)
    points = np.asarray(edge.wall, dtype=np.float64) - np.asarray(pivot)
    return points @ (nx, ny), points @ (-ny, nx)


def _taken(
    edge: Edge, pivot: Point, pose: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """What is taken off at the wall's points, and how that grows with turn and shifts."""
    if edge.at is None:
        msg = f"edge {edge.name} of the blank has no place yet"
        raise ValueError(msg)
    out, grows = _out(edge, pivot, pose[0])
    nx, ny = plane.turn(edge.normal, pose[0])
    cut = edge.at - plane.dot(edge.normal, pivot) + nx * pose[1] + ny * pose[2] - out
    swing = -ny * pose[1] + nx * pose[2] - grows
    ones = np.ones(len(out))
    return cut, np.column_stack([swing, nx * ones, ny * ones])


def _turn_step(edges: Sequence[Edge], pivot: Point, turn: float) -> float:
    """One linear program's turn on from here: variables are the turn, the greatest distance, two lines per edge."""
    count = len(edges)
    rows, limits = [], []
    for k, edge in enumerate(edges):
        out, grows = _out(edge, pivot, turn)
        for sign, place in ((1.0, 2 + k), (-1.0, 2 + count + k)):
            row = np.zeros((len(out), 2 + 2 * count))
            row[:, 0], row[:, place] = sign * grows, -sign
            rows.append(row)
            limits.append(-sign * out)
        span = np.zeros((1, 2 + 2 * count))
        span[0, [1, 2 + k, 2 + count + k]] = (-1.0, 1.0, -1.0)
        rows.append(span)
        limits.append(np.zeros(1))
    room = (-MOST_TURN - turn, MOST_TURN - turn)
    bounds = [room, (0.0, None), *[(None, None)] * (2 * count)]
    least = np.zeros(2 + 2 * count)
    least[1] = 1.0
    together = np.zeros(2 + 2 * count)
    together[2 : 2 + count], together[2 + count :] = 1.0, -1.0
    found = _solved(least, rows, limits, bounds)
    bounds[1] = (0.0, found[1] + _FIRST_COME)
    return float(_solved(together, rows, limits, bounds)[0])


def _pose_step(
    edges: Sequence[Edge], pivot: Point, pose: NDArray[np.float64]
) -> NDArray[np.float64]:
    """One step of turn and shifts: variables are these, what is not reached, the greatest cut, and each edge's."""
    count = len(edges)
    rows, limits = [], []
    for k, edge in enumerate(edges):
        cut, grows = _taken(edge, pivot, pose)
        wide = np.zeros((len(cut), 5 + count))
        wide[:, :3], wide[:, 3] = -grows, -1.0
        rows.append(wide)
        limits.append(cut)
        wide = np.zeros((len(cut), 5 + count))
        wide[:, :3], wide[:, 5 + k] = grows, -1.0
        rows.append(wide)
        limits.append(-cut)
        own = np.zeros((1, 5 + count))
        own[0, 4], own[0, 5 + k] = -1.0, 1.0
        rows.append(own)
        limits.append(np.zeros(1))
    free = (None, None)
    bounds: list[tuple[float | None, float | None]] = [
        (-MOST_TURN - pose[0], MOST_TURN - pose[0]),
        *[free] * 2,
        (0.0, None),
        *[free] * (1 + count),
    ]
    aims = np.zeros((3, 5 + count))
    aims[0, 3], aims[1, 4], aims[2, 5:] = 1.0, 1.0, 1.0
    found = _solved(aims[0], rows, limits, bounds)
    bounds[3] = (0.0, found[3] + _FIRST_COME)
    found = _solved(aims[1], rows, limits, bounds)
    bounds[4] = (None, found[4] + _FIRST_COME)
    return _solved(aims[2], rows, limits, bounds)[:3]


def _solved(
    aim: NDArray[np.float64],
    rows: Sequence[NDArray[np.float64]],
    limits: Sequence[NDArray[np.float64]],
    bounds: Sequence[tuple[float | None, float | None]],
) -> NDArray[np.float64]:
    found = linprog(
        aim, A_ub=np.vstack(rows), b_ub=np.concatenate(limits), bounds=bounds, method="highs"
    )
    if found.x is None:
        msg = f"no place for the blank: {found.message}"
        raise ValueError(msg)
    return np.asarray(found.x, dtype=np.float64)
