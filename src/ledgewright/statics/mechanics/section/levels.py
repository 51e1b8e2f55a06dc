"""Symmetric positive definite equations whose unknowns stand in levels, each joined only to the next.

Scaled to a unit diagonal and factored level by level (block Cholesky). A shelf is long and narrow, so levels are short:
on 76 levels of 8 nodes this took a third of the time of the scaled SuperLU with symmetric ordering, and a lost pivot
says at once which movement is not held.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.linalg import blas, lapack

from ledgewright.statics.mechanics.section.energy import Block
from ledgewright.statics.mechanics.section.grid import Bools, Ints
from ledgewright.statics.mechanics.section.sheet import Floats

LOST = 1e-12
"""A pivot under this share of its own diagonal is none: rounding leaves 1e-15, a long slender shelf 1e-7."""
RESIDUAL = 1e-8
REFINED = 3
"""How often an answer is bettered by what its forces lack: a fine mesh of a long shelf needs it twice."""


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


def gather(begins: Ints, blocks: Sequence[Block]) -> Matrix:
    """Return the sum of blocks and their transposes.

    begins: first unknown of each level, and the end.

    Raises:
        ValueError: if a block joins two levels that are not neighbours.
    """
    many = np.diff(begins)
    level = np.repeat(np.arange(len(many)), many)
    # Every row is kept from the level before its own to the one after: a block need not know which way it lies.
    first, last = begins[np.maximum(np.arange(len(many)) - 1, 0)], begins[2:]
    last = np.append(last, begins[-1])
    wide = last - first
    starts = np.concatenate([[0], np.cumsum(many * wide)])
    row = np.arange(begins[-1]) - begins[level]
    at = starts[level] + row * wide[level] - first[level]
    total = np.zeros(int(starts[-1]))
    for block in blocks:
        met = np.concatenate([level[block.rows], level[block.columns]], axis=1)
        if (met.max(axis=1) - met.min(axis=1) > 1).any():
            msg = "a part joins two levels that are not neighbours"
            raise ValueError(msg)
        index = at[block.rows][:, :, None] + block.columns[:, None, :]
        np.add.at(total, index.ravel(), block.values.ravel())
    rows = [total[starts[i] : starts[i + 1]].reshape(many[i], wide[i]) for i in range(len(many))]
    own: list[Floats] = []
    down: list[Floats] = []
    for i, kept in enumerate(rows):
        before = begins[i] - first[i]
        here = kept[:, before : before + many[i]]
        own.append(here + here.T)
        if i:
            down.append(kept[:, :before] + rows[i - 1][:, -many[i] :].T)
    return Matrix(begins, tuple(own), tuple(down))


@dataclass(frozen=True)
class Factor:
    """A factored matrix: solve for many right-hand sides.

    own: the lower factor of each level. down: what each level after the first takes from the one before (unknowns of
    that one, its own). Both columns first, as the solver wants them.
    """

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
        for _ in range(REFINED):
            if residual > RESIDUAL:
                x += self._once(force - self.matrix.times(x))
                residual = self._residual(force, x)
        if not residual <= RESIDUAL:
            msg = f"forces and movements disagree by {residual:.1e}"
            raise ArithmeticError(msg)
        return x

    def _once(self, force: Floats) -> Floats:
        """Return the movements, forward and back, level by level; a column joins in where its forces begin."""
        scaled = np.multiply(force, (self.scale * self.free)[:, None], order="F")
        there = scaled != 0
        begin = np.where(there.any(axis=0), there.argmax(axis=0), len(scaled))
        order = np.argsort(begin, kind="stable")
        begun = np.searchsorted(begin[order], self.matrix.begins[1:])
        spans = self.matrix.spans
        x: list[Floats] = []
        for i, (here, many) in enumerate(zip(spans, begun, strict=True)):
            block = np.asfortranarray(scaled[here, order[:many]])
            if i and begun[i - 1]:
                taken = blas.dgemm(1.0, self.down[i - 1], x[-1], trans_a=1)
                block[:, : begun[i - 1]] -= taken
            x.append(blas.dtrsm(1.0, self.own[i], block, lower=1, overwrite_b=1) if many else block)
        made = np.empty_like(scaled)
        block = x[-1]
        for i in range(len(spans) - 1, -1, -1):
            right = np.zeros((len(x[i]), len(order)), order="F")
            right[:, : begun[i]] = x[i]
            if i + 1 < len(spans):
                right = blas.dgemm(-1.0, self.down[i], block, 1.0, right, overwrite_c=1)
            block = blas.dtrsm(1.0, self.own[i], right, lower=1, trans_a=1, overwrite_b=1)
            made[spans[i].start : spans[i].stop, order] = block
        made *= self.scale[:, None]
        return made

    def _residual(self, force: Floats, x: Floats) -> float:
        """Return by how much forces and movements disagree, as a share of the greatest scaled force.

        Every column counts: it looks at two fixed mixtures of them, one even and one uneven.
        """
        mix = np.ones((x.shape[1], 2))
        mix[:, 1] = np.cos(np.arange(x.shape[1]))
        weigh = self.scale * self.free
        left = (self.matrix.times(x @ mix) - force @ mix) * weigh[:, None]
        greatest = np.maximum(force.max(axis=1, initial=0.0), -force.min(axis=1, initial=0.0))
        size = (greatest * weigh).max(initial=0.0)
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
        # Symmetric, so its transpose is itself with the columns first.
        block = (matrix.own[i] * scale[here] * scale[here, None]).T
        if i:
            joint = matrix.down[i - 1] * scale[spans[i - 1]] * scale[here, None]
            taken = blas.dtrsm(1.0, own[-1], joint.T, lower=1, overwrite_b=1)
            block = blas.dsyrk(-1.0, taken, beta=1.0, c=block, trans=1, lower=1, overwrite_c=1)
            down.append(taken)
        np.fill_diagonal(block, np.diagonal(block) + ~free[here])
        lower, info = lapack.dpotrf(block, lower=1, clean=1, overwrite_a=1)
        pivots = np.diagonal(lower)[: info - 1 if info > 0 else None]
        lost = np.flatnonzero(pivots**2 < LOST)
        if info != 0 or len(lost):
            raise NotHeldError(int(matrix.begins[i] + (lost[0] if len(lost) else info - 1)))
        own.append(lower)
    return Factor(matrix, free, scale, tuple(own), tuple(down))
