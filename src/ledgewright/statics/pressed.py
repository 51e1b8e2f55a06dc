"""What acts on a rod that the section presses on, and what a case of the section model is called."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ledgewright.job import Lasts
from ledgewright.statics.beam import Forces
from ledgewright.statics.formula import Working, formula
from ledgewright.statics.mechanics.contact_rods import RodAnswer
from ledgewright.statics.patterns import Lost, Solved

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
    least = (figures[:, None] >= figures[None]).all(axis=2)
    first = np.arange(len(figures))
    beaten = least & (~least.T | (first[:, None] < first[None]))
    return [int(k) for k in np.flatnonzero(~beaten.any(axis=0))]


def in_front(cases: Sequence[RodAnswer]) -> Floats:
    """Return the greatest moment of a rod in front of the wood under each case; 0 where it is greater at the face.

    cases: answers of one and the same rod. Returns (cases,) (N mm).
    """
    one = cases[0]
    arm = np.clip(one.at[:, None] - one.at[None, :], 0.0, None)
    own = np.clip(one.tip - one.at, 0.0, None) ** 2 / 2
    down = np.array([rod.top - rod.bottom for rod in cases])
    weight = np.array([rod.weight for rod in cases])
    most = np.abs(down @ arm + weight[:, None] * own).max(axis=1)
    return np.where(most > np.abs([rod.M for rod in cases]), most, 0.0)


@dataclass(frozen=True)
class Pressed:
    """What acts on a rod that the section presses on from above and below, under one case."""

    rod: RodAnswer
    case: Solved
    stays: Lasts

    @property
    def where(self) -> str:
        """Which loads stand where, in words."""
        return self.case.pattern.name

    @property
    def in_front(self) -> float:
        """The greatest moment in front of the wood, if it is greater than at the face (N mm)."""
        return float(in_front([self.rod])[0])

    def working(self, *, keep: bool) -> Working:
        """Return a derivation that starts afresh: the forces come out of one solve."""
        return Working(keep=keep)

    def forces(self, w: Working) -> Forces:
        """Return V and M at the wood from what both skins press, and where."""
        rod = self.rod
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
            a = w.given(f"a_{index}", moment / force, unit="mm", source="Its lever from the wood")
            down.append(((f"P_{index}", P),))
            turning.append(((f"P_{index}", P), (f"a_{index}", a)))
        source = f"{self.case.combination.id}, {self.case.combination.source}"
        V = w.add("V_0", tuple(down), unit="N", source=source)
        M = w.add("M_0", tuple(turning), unit="N mm", source=source)
        if min(V, M) < 0:
            # A rod pulled up is as strong; of mixed signs both sizes together ask more of rod and wood than they do.
            w.last("M")
            V, M = w(size_of_shear, V=V), w(size_of_moment, M=M)
        shelf = rod.force
        return Forces(V, M, shelf, (rod.M - rod.weight * rod.tip**2 / 2) / shelf if shelf else 0.0)
