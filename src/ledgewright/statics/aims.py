"""What the search for the worst loads drives up: of each load how far it goes, and what it is a sum of there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from ledgewright.statics.mechanics.contact_rods import Resting

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]


@dataclass(frozen=True, eq=False)
class Looked:
    """Several loads and what they come to, one row for each.

    factors: on every part (loads, parts). figures: as `Answer.figures` has them (loads, figures).
    """

    factors: Floats
    figures: Floats

    def some(self, loads: Ints) -> Looked:
        """Return some of the loads."""
        return Looked(self.factors[loads], self.figures[loads])

    def and_(self, more: Looked) -> Looked:
        """Return the same with more loads after these."""
        return Looked(
            np.vstack([self.factors, more.factors]), np.vstack([self.figures, more.figures])
        )


@dataclass(frozen=True, eq=False)
class Levels:
    """How far each aim is driven under each load, and where.

    values: (aims, loads). which: number of the place, in the aims' own count (aims, loads).
    """

    values: Floats
    which: Ints

    def and_(self, more: Levels) -> Levels:
        """Return the same with more loads after these."""
        return Levels(np.hstack([self.values, more.values]), np.hstack([self.which, more.which]))


class Aims(Protocol):
    """Figures that are to be driven up."""

    @property
    def rods(self) -> Sequence[int | None]:
        """The number of the rod that each aim is of, if of one."""
        ...

    @property
    def level(self) -> bool:
        """Whether it counts only with all rods in one plane and no one thing on the shelf."""
        ...

    def levels(self, looked: Looked) -> Levels:
        """Return how far each aim is driven under several loads."""
        ...

    def weights(self, aim: int, which: int, looked: Looked, load: int) -> tuple[Floats, Floats]:
        """Return an aim at a place as a sum, as it is under one load: over figures (figures,) and over parts (parts,).

        Args:
            aim: its number.
            which: the place, as `levels` has it.
            looked: loads.
            load: which of them: it decides the signs.
        """
        ...


@dataclass(frozen=True, eq=False)
class OfRods:
    """Per rod the moment at the wood, and what crushes the wood (M0 + V0 L/2).

    rows: (aims, figures). rods: of which rod each is.
    """

    rows: Floats
    rods: Sequence[int | None]
    level: bool = False

    def levels(self, looked: Looked) -> Levels:
        """Return how far each aim is driven under several loads."""
        values = self.rows @ looked.figures.T
        return Levels(values, np.zeros(values.shape, dtype=np.intp))

    def weights(self, aim: int, which: int, looked: Looked, load: int) -> tuple[Floats, Floats]:
        """Return an aim as a sum over figures and over parts; arguments as of `Aims`."""
        return self.rows[aim], np.zeros(looked.factors.shape[1])


def of_rods(resting: Resting, depths: Sequence[float]) -> OfRods:
    """Return what asks most of rods and wood.

    Args:
        resting: the shelf on its rods.
        depths: embedment of every rod (mm).
    """
    rows = np.zeros((2 * len(depths), resting.figures))
    for i, L in enumerate(depths):
        for k, pull in enumerate((0.0, L / 2)):
            rows[2 * i + k, 2 * i : 2 * i + 2] = pull, 1.0
    return OfRods(rows, [k // 2 for k in range(len(rows))])


@dataclass(frozen=True, eq=False)
class OfDrop:
    """How far the front drops, wherever it drops furthest. first: where the drops begin in a row of figures."""

    first: int
    count: int
    level: bool = True

    @property
    def rods(self) -> Sequence[int | None]:
        """Of no rod."""
        return (None,)

    def levels(self, looked: Looked) -> Levels:
        """Return how far it drops under several loads."""
        drops = looked.figures[:, self.first : self.first + self.count]
        which = drops.argmax(axis=1)
        return Levels(drops[np.arange(len(drops)), which][None], which[None])

    def weights(self, aim: int, which: int, looked: Looked, load: int) -> tuple[Floats, Floats]:
        """Return the drop of a place as a sum over figures and over parts; arguments as of `Aims`."""
        row = np.zeros(looked.figures.shape[1])
        row[self.first + which] = 1.0
        return row, np.zeros(looked.factors.shape[1])


def of_drop(resting: Resting) -> OfDrop:
    """Return what drops furthest along the front."""
    first, after = resting.parts[0], resting.parts[1]
    return OfDrop(first, after - first)
