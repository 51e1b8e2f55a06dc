"""What the search for the worst loads drives up: of each load how far it goes, and what it is a sum of there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from ledgewright.statics.mechanics.contact_rods import Resting

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]


@dataclass(frozen=True, eq=False)
class Looked:
    """Several loads and what they come to, one row for each.

    sorts: a number for each, the same for those under the same factors (loads,). factors: on every part (loads, parts).
    figures: as `Answer.figures` has them (loads, figures).
    """

    sorts: Ints
    factors: Floats
    figures: Floats

    def some(self, loads: Ints) -> Looked:
        """Return some of the loads."""
        return Looked(self.sorts[loads], self.factors[loads], self.figures[loads])

    def and_(self, more: Looked) -> Looked:
        """Return the same with more loads after these."""
        return Looked(
            np.concatenate([self.sorts, more.sorts]),
            np.vstack([self.factors, more.factors]),
            np.vstack([self.figures, more.figures]),
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


@dataclass(frozen=True)
class Asked:
    """An aim by its number, at a place as `Levels.which` has it, under a load by its number: that decides the signs."""

    aim: int
    which: int
    load: int


class Aims(Protocol):
    """Figures that are to be driven up."""

    @property
    def count(self) -> int:
        """How many there are."""
        ...

    @property
    def level(self) -> bool:
        """Whether it counts only in service, with all rods in one plane and no one thing on the shelf."""
        ...

    @property
    def serves(self) -> bool:
        """Whether anything is judged by it in service."""
        ...

    def levels(self, looked: Looked) -> Levels:
        """Return how far each aim is driven under several loads."""
        ...

    def on(self, resting: Resting) -> Aims:
        """Return the same with other contact points along the rods."""
        ...

    def weights(self, asked: Sequence[Asked], looked: Looked) -> tuple[Floats, Floats]:
        """Return aims at places as sums, each as it is under one load: over figures and over parts.

        Args:
            asked: which of them, where, and under which load.
            looked: loads.

        Returns:
            (asked, figures) and (asked, parts).
        """
        ...


@dataclass(frozen=True, eq=False)
class OfRods:
    """Per rod the moment at the wood, and what crushes the wood (M0 + V0 L/2); then the moments at flats.

    rows: (aims, figures). depths, flats: as of `of_rods`.
    """

    rows: Floats
    depths: Sequence[float]
    flats: Mapping[int, float]
    level: bool = False
    serves: bool = True

    @property
    def count(self) -> int:
        """How many aims there are."""
        return len(self.rows)

    def levels(self, looked: Looked) -> Levels:
        """Return how far each aim is driven under several loads."""
        values = self.rows @ looked.figures.T
        return Levels(values, np.zeros(values.shape, dtype=np.intp))

    def on(self, resting: Resting) -> OfRods:
        """Return the same with other contact points along the rods."""
        return of_rods(resting, self.depths, self.flats)

    def weights(self, asked: Sequence[Asked], looked: Looked) -> tuple[Floats, Floats]:
        """Return aims as sums over figures and over parts; arguments as of `Aims`."""
        rows = self.rows[[each.aim for each in asked]]
        return rows, np.zeros((len(asked), looked.factors.shape[1]))


def of_rods(
    resting: Resting, depths: Sequence[float], flats: Mapping[int, float] = MappingProxyType({})
) -> OfRods:
    """Return what asks most of rods and wood.

    Args:
        resting: the shelf on its rods.
        depths: embedment of every rod (mm).
        flats: of rods with a flat, by their numbers, where it begins from the wood (mm).
    """
    rows = np.zeros((2 * len(depths) + len(flats), resting.figures))
    for i, L in enumerate(depths):
        for k, pull in enumerate((0.0, L / 2)):
            rows[2 * i + k, 2 * i : 2 * i + 2] = pull, 1.0
    points = resting.points
    for row, (i, x) in zip(rows[2 * len(depths) :], flats.items(), strict=True):
        top = resting.parts[-1] + 2 * points * i
        arm = np.clip(resting.rods[i].points(points)[0] - x, 0.0, None)
        row[top : top + points], row[top + points : top + 2 * points] = arm, -arm
    return OfRods(rows, tuple(depths), flats)


@dataclass(frozen=True, eq=False)
class OfFront:
    """Figures of the front edge with all rods in one plane: of each aim whichever of its rows is greatest.

    rows: of each aim (aims, rows of it, figures). begin: what each row is counted from.
    """

    rows: Sequence[Floats]
    begin: Sequence[Floats]
    level: bool = True
    serves: bool = True

    @property
    def count(self) -> int:
        """How many aims there are."""
        return len(self.rows)

    def levels(self, looked: Looked) -> Levels:
        """Return how far each aim is driven under several loads."""
        every = [
            rows @ looked.figures.T - begin[:, None]
            for rows, begin in zip(self.rows, self.begin, strict=True)
        ]
        which = np.array([each.argmax(axis=0) for each in every], dtype=np.intp)
        return Levels(np.array([each.max(axis=0) for each in every]), which)

    def on(self, resting: Resting) -> OfFront:
        """Return the same with other contact points along the rods."""
        return replace(self, rows=[_as_wide(rows, resting) for rows in self.rows])

    def weights(self, asked: Sequence[Asked], looked: Looked) -> tuple[Floats, Floats]:
        """Return aims as sums over figures and over parts; arguments as of `Aims`."""
        rows = np.array([self.rows[each.aim][each.which] for each in asked])
        return rows, np.zeros((len(asked), looked.factors.shape[1]))


def _as_wide(rows: Floats, resting: Resting) -> Floats:
    """Rows that weigh no contact force, with as many contacts as a shelf on its rods has."""
    made = np.zeros((len(rows), resting.figures))
    made[:, : resting.parts[-1]] = rows[:, : resting.parts[-1]]
    return made


def of_front(resting: Resting, hung: Floats, bows: Floats) -> OfFront:
    """Return how far each place along the front drops, and what bows it most between two rods, down or up.

    Args:
        resting: the shelf on its rods.
        hung: drop of every place to read as it hangs: drops are counted from there (places,) (mm).
        bows: how much the drop of each place to read weighs in every bow (bows, places).
    """
    first, after = resting.parts[0], resting.parts[1]
    drops, bent = np.zeros((after - first, resting.figures)), np.zeros((len(bows), resting.figures))
    drops[:, first:after] = np.eye(after - first)
    bent[:, first:after] = bows
    # Each place by itself: where one drops furthest by far, others hide behind it that drop further under other loads.
    rows, begin = [row[None] for row in drops], [each[None] for each in hung]
    if len(bent):
        rows, begin = [*rows, np.vstack([bent, -bent])], [*begin, np.zeros(2 * len(bent))]
    return OfFront(rows, begin)
