"""What acts on a rod that the section presses on, and what a case of the section model is called."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ledgewright.core import FLAT_LONG, LockAt
from ledgewright.job import Lasts
from ledgewright.statics.beam import Forces
from ledgewright.statics.formula import Working, formula
from ledgewright.statics.mechanics.contact_rods import Resting, RodAnswer, Slotted
from ledgewright.statics.model import Step
from ledgewright.statics.patterns import Lost, Solved
from ledgewright.statics.seats import Seat

Floats = NDArray[np.float64]
MODEL = "Section model (docs/section-model.md)"


def named(case: Solved | Lost) -> str:
    """Return what to call a case."""
    name = f"{case.combination.situation}: {case.combination.id}"
    return f"{name}, {case.pattern.name}" if case.pattern.name else name


@formula("V_0", "abs(V)", unit="N", source="Size")
def size_of_shear(*, V: float) -> float:
    """Return the size of a shear that may pull a rod up.

    V: shear at the wood (N). Returns N.
    """
    return abs(V)


@formula("M_0", "abs(M)", unit="N mm", source="Size")
def size_of_moment(*, M: float) -> float:
    """Return the size of a moment that may lift the front.

    M: moment at the wood (N mm). Returns N mm.
    """
    return abs(M)


def unsurpassed(figures: Floats) -> list[int]:
    """Return the rows of figures that no other row comes up to in all of them; of rows alike the first."""
    if figures.shape[1] == 1:
        return [int(figures[:, 0].argmax())]
    least = np.ones((len(figures), len(figures)), dtype=bool)
    for column in figures.T:
        least &= column[:, None] >= column
    first = np.arange(len(figures))
    beaten = least & (~least.T | (first[:, None] < first))
    return np.flatnonzero(~beaten.any(axis=0)).tolist()


def in_front(rod: Slotted, down: Floats, M: Floats, own: Floats) -> Floats:
    """Return the greatest moment of a rod in front of the wood under each case; 0 where it is greater at the face.

    Args:
        rod: the rod.
        down: what both skins press on its points under each case (cases, points) (N).
        M: moment at the wood face (cases,) (N mm).
        own: factor on its weight (cases,).

    Returns:
        (cases,) (N mm).
    """
    at, _ = rod.points(down.shape[1])
    arm = np.clip(at[:, None] - at[None, :], 0.0, None)
    weight = rod.bar.weight * np.clip(rod.tip - at, 0.0, None) ** 2 / 2
    most = np.abs(down @ arm + own[:, None] * weight).max(axis=1)
    return np.where(most > np.abs(M), most, 0.0)


def at_flat(at: Floats, down: Floats, weight: Floats, *, tip: float, from_tip: float) -> Floats:
    """Return the greatest moment along the flat of a rod under each case; 0 where it has none.

    Statics of what presses on it beyond. Between contact points the moment is straight but for the rod's weight, which
    is counted at the flat's inner end all along.

    Args:
        at: contact points from the wood (mm).
        down: what both skins press on them under each case (cases, points) (N).
        weight: of the rod (cases,) (N/mm).
        tip: where it ends, from the wood (mm).
        from_tip: from there to the flat's middle (mm); 0: it has no flat.

    Returns:
        (cases,) (N mm).
    """
    if not from_tip:
        return np.zeros(len(down))
    low, high = flat_ends(tip, from_tip)
    along = np.concatenate([[low, high], at[(at > low) & (at < high)]])
    arm = np.clip(at[:, None] - along[None, :], 0.0, None)
    return np.asarray(np.abs(down @ arm).max(axis=1) + weight * max(tip - low, 0.0) ** 2 / 2)


def along_flat(resting: Resting, index: int, force: Floats, own: Floats, from_tip: float) -> Floats:
    """Return the greatest moment along the flat of a rod of a shelf under each case (cases,) (N mm); as `at_flat`.

    Args:
        resting: the shelf on its rods.
        index: number of the rod.
        force: of every contact under each case (cases, contacts) (N).
        own: factor on the rods' weight (cases,).
        from_tip: from its tip to the flat's middle (mm); 0: it has no flat.
    """
    rod, points = resting.rods[index], resting.points
    top = 2 * points * index
    down = force[:, top : top + points] - force[:, top + points : top + 2 * points]
    at, _ = rod.points(points)
    return at_flat(at, down, own * rod.bar.weight, tip=rod.tip, from_tip=from_tip)


def flats_of(locks: Sequence[LockAt], seats: Sequence[Seat]) -> dict[int, float]:
    """Return how far from their tips the middles of flats are (mm), of rods that have one, by their numbers.

    Args:
        locks: of the core.
        seats: the rods.
    """
    told = {at.rod: at.from_tip for at in locks if at.from_tip}
    return {k: told[seat.rod.id] for k, seat in enumerate(seats) if seat.rod.id in told}


def flat_ends(tip: float, from_tip: float) -> tuple[float, float]:
    """Return where a flat begins and ends, from the wood (mm).

    Args:
        tip: of the rod, from the wood (mm).
        from_tip: from there to the flat's middle (mm).
    """
    middle = tip - from_tip
    return max(middle - FLAT_LONG / 2, 0.0), middle + FLAT_LONG / 2


@dataclass(frozen=True)
class Pressed:
    """What acts on a rod that the section presses on from above and below, under one case.

    in_front: the greatest moment in front of the wood, if it is greater than at the face (N mm). at_flat: the greatest
    along its flat for a grub screw; 0 if it has none (N mm).
    """

    rod: RodAnswer
    case: Solved
    stays: Lasts
    in_front: float = 0.0
    at_flat: float = 0.0

    @property
    def where(self) -> str:
        """Which loads stand where, in words."""
        return self.case.pattern.name

    def working(self, *, keep: bool) -> Working:
        """Return a derivation that starts afresh: the forces come out of one solve."""
        return Working(keep=keep)

    @property
    def at_wood(self) -> tuple[float, float]:
        """V (N) and M (N mm) at the wood; of mixed signs their sizes, of which the wood is asked more."""
        V, M = self.rod.V, self.rod.M
        return (abs(V), abs(M)) if min(V, M) < 0 else (V, M)

    def lines(self) -> tuple[Step, ...]:
        """Return what leads to the forces at the wood."""
        w = self.working(keep=True)
        self.forces(w)
        return w.steps

    def forces(self, w: Working) -> Forces:
        """Return V and M at the wood from what both skins press, and where."""
        rod = self.rod
        shelf = rod.force
        a = (rod.M - rod.weight * rod.tip**2 / 2) / shelf if shelf else 0.0
        if not w.keep:
            return Forces(*self.at_wood, shelf, a)
        pressed = [
            ("t", float(rod.top.sum()), float(rod.top @ rod.at), "What the top skin presses"),
            (
                "b",
                -float(rod.bottom.sum()),
                -float(rod.bottom @ rod.at),
                "What the bottom skin holds up",
            ),
            ("r", rod.weight * rod.tip, rod.weight * rod.tip**2 / 2, "Weight of the rod"),
        ]
        down, turning = [], []
        for index, force, moment, about in pressed:
            if force == 0.0:
                continue
            source = about if index == "r" else f"{about}: {MODEL}"
            P = w.given(f"P_{index}", force, unit="N", source=source)
            lever = w.given(
                f"a_{index}", moment / force, unit="mm", source="Its lever from the wood"
            )
            down.append(((f"P_{index}", P),))
            turning.append(((f"P_{index}", P), (f"a_{index}", lever)))
        source = f"{self.case.combination.id}, {self.case.combination.source}"
        V = w.add("V_0", tuple(down), unit="N", source=source)
        M = w.add("M_0", tuple(turning), unit="N mm", source=source)
        if min(V, M) < 0:
            # A rod pulled up is as strong; of mixed signs both sizes together ask more of rod and wood than they do.
            w.last("M")
            V, M = w(size_of_shear, V=V), w(size_of_moment, M=M)
        return Forces(V, M, shelf, a)
