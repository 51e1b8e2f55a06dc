"""The figures nobody knows for certain: how low, how likely, how high each may be, and who says so."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from functools import cache

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr, ndtri

from ledgewright.statics import NOMINAL, Inputs

Floats = NDArray[np.float64]
OUT = 2.0
"""The ends of a range stand so many standard deviations out from what is likely: about 95 of 100 lie between."""
STATED = "stated"
"""Ours, from common practice or from memory; to be moved where someone knows better."""


@dataclass(frozen=True)
class Doubtful:
    """One figure of `Inputs` and its range: two halves of a normal about what is likely, cut at the ends.

    words: what it is, as a carpenter says it. counts: what its number counts. measure: what makes it less doubtful.
    source: who says so, or `STATED`.
    """

    name: str
    low: float
    likely: float
    high: float
    words: str
    counts: str
    measure: str
    source: str

    @property
    def sd(self) -> float:
        """Standard deviation before the ends are cut, of both halves taken together."""
        return (self.high - self.low) / (2 * OUT)

    def at(self, u: Floats) -> Floats:
        """Return the figure that so great a share of all lie below.

        Two-piece normal distribution (Wallis 2014, Statistical Science 29, from memory): both halves weigh as their
        standard deviations, so that the density does not jump.

        Args:
            u: shares, 0 to 1.
        """
        below, above = self.likely - self.low, self.high - self.likely
        weight = below / (below + above)
        tail = float(ndtr(-OUT))
        half = 0.5 - tail
        low = np.clip(u / max(weight, 1e-12), 0.0, 1.0)
        high = np.clip((u - weight) / max(1 - weight, 1e-12), 0.0, 1.0)
        down = below / OUT * ndtri(tail + half * low)
        up = above / OUT * ndtri(0.5 + half * high)
        return np.asarray(self.likely + np.where(u < weight, down, up))


TABLE = (
    Doubtful(
        "bed",
        0.0,
        0.5,
        1.0,
        "the wood round the rods",
        "0 softest, 1 stiffest published",
        "a load test, read at every rod",
        "published slip modulus (EN 1995-1-1, 7.1) to handbook bearing modulus, on a log scale: docs/statics.md",
    ),
    Doubtful(
        "across",
        0.25,
        0.5,
        1.0,
        "wood pressed across its grain",
        "over along the grain",
        "a load test, read at every rod",
        "stated (docs/statics.md)",
    ),
    Doubtful(
        "adhesive",
        -1.0,
        0.0,
        1.0,
        "stiffness of the glue",
        "-1 low, 0 likely, 1 high of its class",
        "the data sheet of the glue that is bought",
        "range of its class in the catalogue",
    ),
    Doubtful(
        "fill",
        0.7,
        0.85,
        1.0,
        "how full the holes are of glue",
        "share of the ring that is filled",
        "glue that wells out all round every rod",
        "stated (docs/statics.md)",
    ),
    Doubtful(
        "steel",
        0.97,
        1.0,
        1.03,
        "stiffness of the steel",
        "over the usual",
        "nothing: it is known well",
        STATED,
    ),
    Doubtful(
        "embedment",
        -3.0,
        0.0,
        3.0,
        "how deep the rods sit in the wood",
        "added",
        "the depth of every hole, and of the lining",
        STATED,
    ),
    Doubtful(
        "clearance",
        -0.4,
        0.0,
        0.4,
        "play of the rods in their slots",
        "added",
        "slots and rods with a caliper",
        STATED,
    ),
    Doubtful(
        "k_def",
        0.4,
        0.6,
        0.8,
        "how much the framing creeps",
        "creep factor",
        "how dry the framing is",
        "EN 1995-1-1, table 3.2: 0.6 in service class 1, 0.8 in class 2; as far the other way, stated",
    ),
    Doubtful(
        "section",
        0.8,
        1.0,
        1.2,
        "stiffness of skins and core",
        "over the catalogue's",
        "how far a strip of the sheet sags between two trestles",
        STATED,
    ),
    Doubtful(
        "load",
        0.8,
        1.0,
        1.2,
        "what really stands on it",
        "over what was said",
        "what will stand on it, on the bathroom scales",
        STATED,
    ),
)
"""Every doubtful figure; strengths stay at their characteristic values, which have their own safety."""
NAMES = tuple(figure.name for figure in TABLE)


@cache
def figure(name: str) -> Doubtful:
    """Return the row of one figure.

    Raises:
        KeyError: if the table lacks it.
    """
    return {each.name: each for each in TABLE}[name]


def standing(names: Sequence[str], u: Floats) -> tuple[Inputs, ...]:
    """Return what the statics takes as given at points of the unit cube.

    Args:
        names: the figures that vary, in the order of the columns.
        u: (points, figures) shares, 0 to 1.
    """
    known = {field.name for field in fields(Inputs)}
    if not set(names) <= known:
        msg = f"no such inputs: {sorted(set(names) - known)}"
        raise ValueError(msg)
    columns = [figure(name).at(u[:, k]) for k, name in enumerate(names)]
    return tuple(
        replace(NOMINAL, **dict(zip(names, map(float, row), strict=True)))
        for row in zip(*columns, strict=True)
    )


def normed(names: Sequence[str], u: Floats) -> Floats:
    """Return points of the unit cube as figures between their ends, -1 to 1: what a curve is fitted in."""
    made = [
        (2 * row.at(u[:, k]) - row.low - row.high) / (row.high - row.low)
        for k, row in enumerate(map(figure, names))
    ]
    return np.column_stack(made)
