"""Symmetric positive definite equations whose unknowns stand in levels, each joined only to the next.

Scaled to a unit diagonal and factored level by level (block Cholesky). A shelf is long and narrow, so levels are short:
on 76 levels of 8 nodes this took a third of the time of the scaled SuperLU with symmetric ordering, and a lost pivot
says at once which movement is not held.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

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

    def only(self, kept: Bools) -> Matrix:
        """Return the matrix of some of its unknowns: levels that lose none are shared, empty ones left out."""
        at = [np.flatnonzero(kept[here]) for here in self.spans]
        some = [i for i, k in enumerate(at) if len(k)]

        def picked(block: Floats, row: int, column: int) -> Floats:
            whole = block.shape == (len(at[row]), len(at[column]))
            return block if whole else block[np.ix_(at[row], at[column])]

        def joint(i: int, j: int) -> Floats:
            apart = np.zeros((len(at[j]), len(at[i])))
            return picked(self.down[i], j, i) if j == i + 1 else apart

        return Matrix(
            np.concatenate([[0], np.cumsum([len(at[i]) for i in some])]),
            tuple(picked(self.own[i], i, i) for i in some),
            tuple(joint(i, j) for i, j in pairwise(some)),
        )

    def diagonal(self) -> Floats:
        """Return the diagonal (n,)."""
        return np.concatenate([np.diagonal(block) for block in self.own])


def gather(begins: Ints, blocks: Sequence[Block], kept: Bools) -> Matrix:
    """Return the sum of blocks and their transposes, of the unknowns that are kept.

    begins: first unknown of each level, and the end. kept: (n,).

    Raises:
        ValueError: if a block joins two levels that are not neighbours.
    """
    before = np.concatenate([[0], np.cumsum(kept)])
    if not kept.all():
        blocks = list(_those(blocks, kept, before[:-1]))
        begins = before[begins]
    many = np.diff(begins)
    level = np.repeat(np.arange(len(many)), many)
    # Every row is kept from the level before its own to the one after: a block need not know which way it lies.
    first, last = begins[np.maximum(np.arange(len(many)) - 1, 0)], begins[2:]
    last = np.append(last, begins[-1])
    wide = last - first
    starts = np.concatenate([[0], np.cumsum(many * wide)])
    row = np.arange(begins[-1]) - begins[level]
    at = starts[level] + row * wide[level] - first[level]
    places = [np.zeros(0, dtype=np.intp)]
    for block in blocks:
        met = np.concatenate([level[block.rows], level[block.columns]], axis=1)
        if (met.max(axis=1) - met.min(axis=1) > 1).any():
            msg = "a part joins two levels that are not neighbours"
            raise ValueError(msg)
        index = at[block.rows][:, :, None] + block.columns[:, None, :]
        places.append(np.asarray(index.ravel(), dtype=np.intp))
    values = np.concatenate([np.zeros(0), *(block.values.ravel() for block in blocks)])
    summed = np.bincount(np.concatenate(places), values, minlength=int(starts[-1]))
    total = summed.astype(np.float64, copy=False)
    rows = [total[starts[i] : starts[i + 1]].reshape(many[i], wide[i]) for i in range(len(many))]
    own: list[Floats] = []
    down: list[Floats] = []
    for i, each in enumerate(rows):
        ahead = begins[i] - first[i]
        here = each[:, ahead : ahead + many[i]]
        own.append(here + here.T)
        if i:
            down.append(each[:, :ahead] + rows[i - 1][:, wide[i - 1] - many[i] :].T)
    return Matrix(begins, tuple(own), tuple(down))


def _those(blocks: Sequence[Block], kept: Bools, number: Ints) -> Iterator[Block]:
    """The blocks of kept unknowns, numbered anew; cells with some that are not kept come one entry at a time."""
    for block in blocks:
        rows, columns = np.asarray(kept[block.rows]), np.asarray(kept[block.columns])
        whole = np.asarray(rows.all(axis=1) & columns.all(axis=1))
        if whole.any():
            yield Block(
                number[block.rows[whole]], number[block.columns[whole]], block.values[whole]
            )
        mixed = np.asarray(rows[:, :, None] & columns[:, None, :] & ~whole[:, None, None])
        cell, r, c = np.nonzero(mixed)
        if len(cell):
            yield Block(
                number[block.rows[cell, r]][:, None],
                number[block.columns[cell, c]][:, None],
                block.values[cell, r, c][:, None, None],
            )


@dataclass(frozen=True)
class Factor:
    """A factored matrix: solve for many right-hand sides.

    matrix: of the unknowns that are kept; free: which of all unknowns are solved for; part: the matrix of these alone,
    and scale: theirs. own: the lower factor of each level of it. down: what each level after the first takes from the
    one before (unknowns of that one, its own). Both columns first, as the solver wants them.
    """

    matrix: Matrix
    kept: Bools
    free: Bools
    part: Matrix
    scale: Floats
    own: tuple[Floats, ...]
    down: tuple[Floats, ...]

    def solve(self, force: Floats) -> Floats:
        """Return the movements (n, m) under forces (n, m); those that are not free stay at 0.

        Raises:
            ArithmeticError: if forces and movements do not agree to RESIDUAL of the greatest force.
        """
        force = force[self.free]
        x = self._once(force)
        residual = self._residual(force, x)
        for _ in range(REFINED):
            if residual > RESIDUAL:
                x += self._once(force - self.part.times(x))
                residual = self._residual(force, x)
        if not residual <= RESIDUAL:
            msg = f"forces and movements disagree by {residual:.1e}"
            raise ArithmeticError(msg)
        made = np.zeros((len(self.free), x.shape[1]))
        made[self.free] = x
        return made

    def _once(self, force: Floats) -> Floats:
        """Return the movements, forward and back, level by level; a column joins in where its forces begin."""
        scaled = np.multiply(force, self.scale[:, None], order="F")
        there = scaled != 0
        begin = np.where(there.any(axis=0), there.argmax(axis=0), len(scaled))
        order = np.argsort(begin, kind="stable")
        begun = np.searchsorted(begin[order], self.part.begins[1:])
        spans = self.part.spans
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
        left = (self.part.times(x @ mix) - force @ mix) * self.scale[:, None]
        greatest = np.maximum(force.max(axis=1, initial=0.0), -force.min(axis=1, initial=0.0))
        size = (greatest * self.scale).max(initial=0.0)
        return float(np.abs(left).max(initial=0.0) / size) if size > 0 else 0.0


def factor(matrix: Matrix, kept: Bools, free: Bools) -> Factor:
    """Return the factored matrix of the free unknowns; the others are held.

    matrix: of the unknowns that are kept. kept, free: which of all are (n,); all that are free are kept.

    Raises:
        NotHeldError: if an unknown has no stiffness left once those before it are taken up.
    """
    number = np.flatnonzero(free)
    part = matrix.only(free[kept])
    diagonal = part.diagonal()
    bare = np.flatnonzero(diagonal <= 0)
    if len(bare):
        raise NotHeldError(int(number[bare[0]]))
    scale = 1 / np.sqrt(diagonal)
    spans = part.spans
    own: list[Floats] = []
    down: list[Floats] = []
    for i, here in enumerate(spans):
        # Symmetric, so its transpose is itself with the columns first.
        block = (part.own[i] * scale[here] * scale[here, None]).T
        if i:
            joint = part.down[i - 1] * scale[spans[i - 1]] * scale[here, None]
            taken = blas.dtrsm(1.0, own[-1], joint.T, lower=1, overwrite_b=1)
            block = blas.dsyrk(-1.0, taken, beta=1.0, c=block, trans=1, lower=1, overwrite_c=1)
            down.append(taken)
        lower, info = lapack.dpotrf(block, lower=1, clean=1, overwrite_a=1)
        pivots = np.diagonal(lower)[: info - 1 if info > 0 else None]
        lost = np.flatnonzero(pivots**2 < LOST)
        if info != 0 or len(lost):
            at = part.begins[i] + (lost[0] if len(lost) else info - 1)
            raise NotHeldError(int(number[at]))
        own.append(lower)
    return Factor(matrix, kept, free, part, scale, tuple(own), tuple(down))
