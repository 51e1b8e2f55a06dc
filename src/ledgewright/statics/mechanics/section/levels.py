"""Symmetric positive definite equations whose unknowns stand in levels, each joined only to the next.

Scaled to a unit diagonal and factored level by level (block Cholesky). A shelf is long and narrow, so levels are short:
on 76 levels of 8 nodes this took a third of the time of the scaled SuperLU with symmetric ordering, and a lost pivot
says at once which movement is not held.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.linalg import lapack, solve_triangular

from ledgewright.statics.mechanics.section.grid import Bools, Ints
from ledgewright.statics.mechanics.section.sheet import Floats

LOST = 1e-12
"""A pivot under this share of its own diagonal is none: rounding leaves 1e-15, a long slender shelf 1e-7."""
RESIDUAL = 1e-8


class NotHeldError(ArithmeticError):
    """An unknown without stiffness against the others; its number is `at`."""

    def __init__(self, at: int) -> None:
        super().__init__(f"unknown {at} is not held")
        self.at = at


@dataclass(frozen=True)
class Matrix:
    """A symmetric matrix in levels: `begins` of each level and of the end; own blocks and those to the level before."""

    begins: Ints
    own: tuple[Floats, ...]
    down: tuple[Floats, ...]

    def times(self, x: Floats) -> Floats:
        """Return the matrix times columns (n, m)."""
        made = np.zeros_like(x)
        spans = self.spans
        for i, (here, block) in enumerate(zip(spans, self.own, strict=True)):
            made[here] += block @ x[here]
            if i:
                before = spans[i - 1]
                made[here] += self.down[i - 1] @ x[before]
                made[before] += self.down[i - 1].T @ x[here]
        return made

    @property
    def spans(self) -> list[slice]:
        """The unknowns of each level."""
        return [slice(a, b) for a, b in zip(self.begins[:-1], self.begins[1:], strict=True)]

    def diagonal(self) -> Floats:
        """Return the diagonal (n,)."""
        return np.concatenate([np.diagonal(block) for block in self.own])


def gather(begins: Ints, size: int, nodes: Sequence[Ints], values: Sequence[Floats]) -> Matrix:
    """Return the sum of small symmetric matrices over their nodes, each node holding `size` unknowns.

    begins: first node of each level, and the end. nodes: (m, k) per kind of small matrix, negative where there is none.
    values: (m, k size, k size), unknowns of one node side by side.

    Raises:
        ValueError: if one of them joins two levels that are not neighbours.
    """
    many = np.diff(begins) * size
    level = np.append(np.repeat(np.arange(len(many)), np.diff(begins)), 0)
    spot = np.append(np.concatenate([np.arange(n) * size for n in np.diff(begins)]), 0)
    own_at = np.concatenate([[0], np.cumsum(many**2)])
    down_at = np.concatenate([[0], np.cumsum(many[1:] * many[:-1])]) + own_at[-1]
    total = np.zeros(down_at[-1])
    for node, value in zip(nodes, values, strict=True):
        a, b = level[node][:, :, None], level[node][:, None, :]
        there = (node[:, :, None] >= 0) & (node[:, None, :] >= 0)
        if (abs(a - b) > 1)[there].any():
            msg = "a part joins two levels that are not neighbours"
            raise ValueError(msg)
        lower = there & ((a == b) | (a == b + 1))
        width = np.broadcast_to(many[b], lower.shape)[lower]
        first = np.where(a == b, own_at[a], down_at[np.minimum(b, len(down_at) - 1)])
        first = (first + spot[node][:, :, None] * many[b] + spot[node][:, None, :])[lower]
        k = node.shape[1]
        blocks = value.reshape(-1, k, size, k, size).transpose(0, 1, 3, 2, 4)[lower]
        step = np.arange(size)
        index = first[:, None, None] + width[:, None, None] * step[:, None] + step
        total += np.bincount(index.ravel(), weights=blocks.ravel(), minlength=len(total))
    own = tuple(
        total[a:b].reshape(s, s) for a, b, s in zip(own_at[:-1], own_at[1:], many, strict=True)
    )
    down = tuple(
        total[a:b].reshape(s, t)
        for a, b, s, t in zip(down_at[:-1], down_at[1:], many[1:], many[:-1], strict=True)
    )
    return Matrix(begins * size, own, down)


@dataclass(frozen=True)
class Factor:
    """A factored matrix: solve for many right-hand sides."""

    matrix: Matrix
    free: Bools
    scale: Floats
    own: tuple[Floats, ...]
    down: tuple[Floats, ...]

    def solve(self, force: Floats) -> Floats:
        """Return the movements (n, m) under forces (n, m); those that are not free stay at 0.

        Raises:
            ArithmeticError: if forces and movements do not agree to RESIDUAL of the greatest force.
        """
        x = self._once(force)
        residual = self._residual(force, x)
        if residual > RESIDUAL:
            x += self._once(force - self.matrix.times(x))
            residual = self._residual(force, x)
        if not residual <= RESIDUAL:
            msg = f"forces and movements disagree by {residual:.1e}"
            raise ArithmeticError(msg)
        return x

    def _once(self, force: Floats) -> Floats:
        x = np.where(self.free[:, None], force * self.scale[:, None], 0.0)
        spans = self.matrix.spans
        for i, here in enumerate(spans):
            if i:
                x[here] -= self.down[i - 1] @ x[spans[i - 1]]
            x[here] = solve_triangular(self.own[i], x[here], lower=True, check_finite=False)
        for i in range(len(spans) - 1, -1, -1):
            here = spans[i]
            if i + 1 < len(spans):
                x[here] -= self.down[i].T @ x[spans[i + 1]]
            x[here] = solve_triangular(
                self.own[i], x[here], lower=True, trans="T", check_finite=False
            )
        return x * self.scale[:, None]

    def _residual(self, force: Floats, x: Floats) -> float:
        """Return by how much forces and movements disagree, as a share of the greatest scaled force.

        Every column counts: it looks at two fixed mixtures of them, one even and one uneven.
        """
        mix = np.ones((x.shape[1], 2))
        mix[:, 1] = np.cos(np.arange(x.shape[1]))
        weigh = (self.scale * self.free)[:, None]
        left = (self.matrix.times(x @ mix) - force @ mix) * weigh
        size = np.abs(force * weigh).max(initial=0.0)
        return float(np.abs(left).max(initial=0.0) / size) if size > 0 else 0.0


def factor(matrix: Matrix, free: Bools) -> Factor:
    """Return the factored matrix of the free unknowns; the others are held.

    Raises:
        NotHeldError: if an unknown has no stiffness left once those before it are taken up.
    """
    diagonal = matrix.diagonal()
    bare = free & (diagonal <= 0)
    if bare.any():
        raise NotHeldError(int(np.flatnonzero(bare)[0]))
    scale = np.where(free, 1 / np.sqrt(np.where(free, diagonal, 1.0)), 0.0)
    spans = matrix.spans
    own: list[Floats] = []
    down: list[Floats] = []
    for i, here in enumerate(spans):
        block = matrix.own[i] * np.outer(scale[here], scale[here])
        if i:
            before = spans[i - 1]
            joint = matrix.down[i - 1] * np.outer(scale[here], scale[before])
            down.append(solve_triangular(own[-1], joint.T, lower=True, check_finite=False).T)
            block -= down[-1] @ down[-1].T
        np.fill_diagonal(block, np.diagonal(block) + ~free[here])
        lower, info = lapack.dpotrf(block, lower=1, clean=1)
        pivots = np.diagonal(lower)[: info - 1 if info > 0 else None]
        lost = np.flatnonzero(pivots**2 < LOST)
        if info != 0 or len(lost):
            raise NotHeldError(int(matrix.begins[i] + (lost[0] if len(lost) else info - 1)))
        own.append(lower)
    return Factor(matrix, free, scale, tuple(own), tuple(down))
