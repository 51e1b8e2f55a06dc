"""What drives up what is asked of skins, core and glue, looked at where they are asked nearly most."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, partial
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array, eye_array

from ledgewright.statics.aims import Asked, Floats, Ints, Levels, Looked
from ledgewright.statics.box import Reading
from ledgewright.statics.glue_checks import Sliding, most_slid
from ledgewright.statics.mechanics.contact_rods import Resting, windows
from ledgewright.statics.mechanics.section import summed
from ledgewright.statics.skin_checks import Bending, Sheared, bent_as_sum, most_bent
from ledgewright.stock import PanelStrengths

BEND, SHEAR, SIDE = range(3)
"""What is driven up of either skin, and of how many kinds that is: of the top skin first."""
TIMBER, GLUE, PRESSED, PARTED = range(2 * SIDE, 2 * SIDE + 4)
"""What is driven up of core and glue, in the order of the aims, after both skins."""
AT_ONCE = 96
"""So many loads are read together."""
SAMPLE, DRAW = 160, 0
"""So many loads, drawn from this seed, say which places count."""
KEPT = 0.6
"""Places count that come under any of them to so much of the most under all."""
PRESSING = 0.9
"""Rods count that press on a skin under any load to so much of the most of any rod."""


@dataclass(frozen=True, eq=False)
class OnBox:
    """What makes of a load's figures all that acts on the box, as its reading has it.

    lies: force of every part on every plan (parts, plans). faces, touched: where in a row of figures the forces on the
    sites begin and end. whole: where the moves as a whole lie.
    """

    lies: Floats
    resting: Resting

    def acts(self, looked: Looked) -> Floats:
        """Return how much of all that acts does under each load (loads, acts)."""
        _, _, pushed, whole, _ = np.split(looked.figures, self.resting.parts, axis=1)
        return np.hstack([looked.factors @ self.lies, pushed[:, : self.resting.touched], whole])

    def spread(self, sums: Floats) -> tuple[Floats, Floats]:
        """Return sums over what acts (sums, acts) as sums over figures and over parts."""
        plans, touched = self.lies.shape[1], self.resting.touched
        rows = np.zeros((len(sums), self.resting.figures))
        _, pushed, whole, force = self.resting.parts
        rows[:, pushed : pushed + touched] = sums[:, plans : plans + touched]
        rows[:, whole:force] = sums[:, plans + touched :]
        return rows, sums[:, :plans] @ self.lies.T


@dataclass(frozen=True, eq=False)
class OfBox:
    """Bending and shear of either skin, shear of glue and core, pressing and parting.

    what: acts on it. reading: at the places that count, per unit of all that acts. strengths: of the top and of the
    bottom skin. groove: bending of what a groove has left of the bottom skin, the last aim: what asks most of the whole
    skin may ask little of it there.
    """

    what: OnBox
    reading: Reading
    strengths: tuple[PanelStrengths, PanelStrengths]
    groove: Bending | None = None
    level: bool = False
    serves: bool = False

    def on(self, resting: Resting) -> OfBox:
        """Return the same with other contact points along the rods."""
        return replace(self, what=replace(self.what, resting=resting))

    @property
    def count(self) -> int:
        """How many aims there are."""
        return 2 * SIDE + (4 if self.reading.slid else 0) + (1 if self.groove else 0)

    def levels(self, looked: Looked) -> Levels:
        """Return how far each aim is driven under several loads."""
        some = [slice(k, k + AT_ONCE) for k in range(0, len(looked.factors), AT_ONCE)]
        acts = self.what.acts(looked)
        found = [list(self._levels(acts[s])) for s in some]
        values, which = (
            np.array([np.concatenate([f[aim][k] for f in found]) for aim in range(self.count)])
            for k in (0, 1)
        )
        return Levels(values, which.astype(np.intp))

    def _levels(self, acts: Floats) -> Iterator[tuple[Floats, Ints]]:
        weights, load = acts.T, np.arange(len(acts))
        for side in (0, 1):
            bent = most_bent(self.reading.bent[side], self.strengths[side], weights)
            yield bent.share, bent.which
            squares = self.reading.sheared[side].squares(weights)
            which = squares.argmax(axis=0)
            yield np.sqrt(squares[which, load]), which
        if self.reading.slid is not None:
            yield from self._between(self.reading.slid, weights, acts)
        if self.groove is not None:
            bent = most_bent(self.groove, self.strengths[1], weights)
            yield bent.share, bent.which

    def _between(
        self, sliding: Sliding, weights: Floats, acts: Floats
    ) -> Iterator[tuple[Floats, Ints]]:
        """What core and glue between the skins are asked."""
        load = np.arange(len(acts))
        slid = most_slid(sliding, weights)
        yield slid.timber.value, slid.timber.which
        yield slid.glue.value, slid.glue.which
        through = acts @ self.reading.through.T
        for each in (through, -through):
            which = each.argmax(axis=1)
            yield each[load, which], which

    def weights(self, asked: Sequence[Asked], looked: Looked) -> tuple[Floats, Floats]:
        """Return aims at places as sums over figures and over parts; arguments as of `Aims`."""
        acts = self.what.acts(looked.some(np.array([each.load for each in asked])))
        sums = [self._sum(each.aim, each.which, one) for each, one in zip(asked, acts, strict=True)]
        return self.what.spread(np.array(sums))

    def _sum(self, aim: int, which: int, acts: Floats) -> Floats:
        of, (side, kind) = self.reading, divmod(aim, SIDE)
        if self.groove is not None and aim == self.count - 1:
            return bent_as_sum(self.groove, which, acts, self.strengths[1])
        if side < 2 and kind == BEND:
            return bent_as_sum(of.bent[side], which, acts, self.strengths[side])
        if side < 2:
            return of.sheared[side].at_as_sum(which, acts)
        if aim == TIMBER and of.slid is not None:
            return of.slid.as_sum(which, acts)
        if aim == GLUE and of.slid is not None:
            return of.slid.resultant(which, acts)
        return np.asarray((1.0 if aim == PRESSED else -1.0) * of.through[which])


@dataclass(frozen=True, eq=False)
class OfLines:
    """The hardest line force of some rods on the top and on the bottom skin, each by itself.

    Where one rod presses hardest by far, others hide behind it that press harder under other loads.

    resting: the shelf on its rods. over: length over which line forces are evened out on either skin (mm). of: number
    of the skin and of the rod.
    """

    resting: Resting
    over: tuple[float, float]
    of: tuple[tuple[int, int], ...]
    level: bool = False
    serves: bool = False

    @property
    def count(self) -> int:
        """How many aims there are."""
        return len(self.of)

    @cached_property
    def rows(self) -> tuple[Floats, ...]:
        """The means of a rod's forces on a skin over every window, as sums over figures (windows, figures)."""
        points, made = self.resting.points, []
        for side, rod in self.of:
            means = windows(self.resting.rods[rod].points(points)[1], self.over[side])
            first = self.resting.parts[-1] + (2 * rod + side) * points
            every = np.zeros((len(means), self.resting.figures))
            every[:, first : first + points] = means
            made.append(every)
        return tuple(made)

    def levels(self, looked: Looked) -> Levels:
        """Return how far each aim is driven under several loads."""
        every = [looked.figures @ rows.T for rows in self.rows]
        none = np.zeros((0, len(looked.figures)))
        return Levels(
            np.vstack([none, *(each.max(axis=1) for each in every)]),
            np.vstack([none, *(each.argmax(axis=1) for each in every)]).astype(np.intp),
        )

    def on(self, resting: Resting) -> OfLines:
        """Return the same with other contact points along the rods."""
        return replace(self, resting=resting)

    def weights(self, asked: Sequence[Asked], looked: Looked) -> tuple[Floats, Floats]:
        """Return aims as sums over figures and over parts; arguments as of `Aims`."""
        rows = np.array([self.rows[each.aim][each.which] for each in asked])
        return rows, np.zeros((len(asked), looked.factors.shape[1]))


def of_lines(resting: Resting, over: tuple[float, float], sample: Looked) -> OfLines:
    """Return how hard rods press on either skin, those rods that press nearly hardest under some loads of a sort.

    Args:
        resting: the shelf on its rods.
        over: length over which line forces are evened out on the top and on the bottom skin (mm).
        sample: loads of all kinds.
    """
    both = [[(side, rod) for rod in range(len(resting.rods))] for side in (0, 1)]
    counts: list[tuple[int, int]] = []
    for of in both:
        values = OfLines(resting, over, tuple(of)).levels(sample).values
        most = np.array([values[:, sample.sorts == k].max(axis=1) for k in np.unique(sample.sorts)])
        near = (most >= PRESSING * most.max(axis=1, keepdims=True)) & (most > 0)
        counts += [each for each, counted in zip(of, near.any(axis=0), strict=True) if counted]
    return OfLines(resting, over, tuple(counts))


def of_box(
    on: OnBox,
    reading: Reading,
    strengths: tuple[PanelStrengths, PanelStrengths],
    sample: Looked,
    groove: Bending | None = None,
) -> OfBox:
    """Return what asks most of the box, looked at where any of some loads asks nearly most of it.

    Args:
        on: what acts.
        reading: at all places, per unit of all that acts.
        strengths: of the top and of the bottom skin.
        sample: loads of all kinds.
        groove: bending where a groove has thinned the bottom skin.
    """
    # Drawn, not every so-manieth: places and proud rods take turns, and some would always be left out.
    drawn = np.random.default_rng(DRAW).permutation(len(sample.factors))[:SAMPLE]
    some = sample.some(np.sort(drawn))
    thin = thinned(reading, on.acts(some), some.sorts, strengths)
    return OfBox(on, thin, strengths, groove)


def thinned(
    reading: Reading,
    acts: Floats,
    sorts: Ints,
    strengths: tuple[PanelStrengths, PanelStrengths],
) -> Reading:
    """Return a reading at the places alone of which some loads ask nearly as much as any of them asks anywhere.

    Args:
        reading: at all places, per unit of all that acts.
        acts: how much of it acts under each load (loads, acts).
        sorts: a number for each load: only those that have the same are compared (loads,).
        strengths: of the top and of the bottom skin.
    """
    # Single precision tells what comes to six tenths; what counts is read in double at the places kept.
    order = np.argsort(sorts, kind="stable")
    weights = acts[order].T
    single = np.ascontiguousarray(weights, dtype=np.float32)
    nearly = partial(_nearly, begins=np.flatnonzero(np.diff(sorts[order], prepend=-1)))

    def under(each: Floats) -> NDArray[np.float32]:
        return summed(each.astype(np.float32), single)

    bent, sheared = [], []
    for side, of in enumerate(strengths):
        one = reading.bent[side]
        share = sum(
            np.abs(under(each)) * (1 / np.array(can, dtype=np.float32)[:, None] / unit)
            for each, can, unit in (
                (one.moment, (of.fm_along, of.fm_across), np.float32(one.thick**2 / 6)),
                (one.force, (of.ft_along, of.ft_across), np.float32(one.thick)),
            )
        )
        bent.append(one.some(nearly(np.max(share, axis=1))))
        cells = reading.sheared[side]
        kept = nearly(np.sqrt(cells.squares(weights)))
        rows = cells.means[kept] @ cells.cells.reshape(len(cells.cells), -1)
        one_each = csr_array(eye_array(len(kept), format="csr"))
        sheared.append(Sheared(rows.reshape(len(kept), *cells.cells.shape[1:]), one_each))
    slid, through = reading.slid, reading.through
    if slid is not None:
        both = under(slid.shear)
        along, across = np.abs(both[:, 0]), np.abs(both[:, 1])
        kept = np.union1d(nearly(along + 3 * across), nearly(np.hypot(along, across)))
        slid = slid.some(kept)
        pressed = under(through)
        through = through[np.union1d(nearly(pressed), nearly(-pressed))]
    return Reading((bent[0], bent[1]), (sheared[0], sheared[1]), slid, through)


def _nearly(values: NDArray[np.floating[Any]], begins: Ints) -> Ints:
    """The places of which any load asks nearly as much as any of its sort asks anywhere (places, loads).

    begins: the first load of each sort.
    """
    most = np.maximum.reduceat(values, begins, axis=1)
    kept = ((most >= KEPT * most.max(axis=0)) & (most > 0)).any(axis=1)
    # Nothing presses, or nothing parts: any place stands for all.
    return np.flatnonzero(kept) if kept.any() else np.zeros(1, dtype=np.intp)
