"""Cases of several shelves that meet on their studs: none is left out that would ask more."""

from __future__ import annotations

import sys
from itertools import product
from typing import Any

import numpy as np
import pytest

from ledgewright.statics.meetings import outermost
from ledgewright.statics.model import Check
from ledgewright.statics.shared import OnMembers, on_shared
from tests.statics import made
from tests.statics.test_shared import case, pressing

AGAINST = (
    "studs under several shelves, their cases chosen, against every case of each with every case of the others",
    "all of them one by one; sums of random points under functions that are convex between two sums",
    "1e-9",
)
SHARED = sys.modules["ledgewright.statics.shared"]


def ratios(one: OnMembers, others: list[OnMembers]) -> dict[str, float]:
    return {r.id: r.ratio for r in on_shared(one, others, keep=False) if isinstance(r, Check)}


@pytest.mark.parametrize("basis", ["nds", "ec5"])
def test_no_case_that_is_left_out_asks_more(basis: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    asked = made.demand(made.even(0.002))
    one, *others = (pressing(case(asked, basis, up)) for up in (700.0, 1000.0, 1400.0))
    few = ratios(one, others)
    met: list[int] = []

    def every(shelves: Any, *_: Any) -> Any:
        met.append(len(list(product(*shelves))))
        return tuple(product(*shelves))

    monkeypatch.setattr(SHARED, "meetings", every)
    assert few == pytest.approx(ratios(one, others), rel=1e-9)
    assert max(met) > 100


@pytest.mark.parametrize("seed", range(5))
def test_what_grows_both_ways_and_is_convex_is_greatest_at_a_choice(seed: int) -> None:
    """A moment over what is left to take it: m / (1 - (N / most)^2) and m / (1 - N / most), as in both bases."""
    chance = np.random.default_rng(seed)
    clouds = [chance.normal(size=(12, 2)) * [1e6, 300.0] + [2e6, 900.0] for _ in range(3)]
    chosen = outermost(clouds)
    assert len(chosen) < 40

    def most(numbers: Any, power: float) -> float:
        sums = np.array([sum(c[k] for c, k in zip(clouds, at, strict=True)) for at in numbers])
        return float((sums[:, 0] / (1 - (np.maximum(sums[:, 1], 0.0) / 8000.0) ** power)).max())

    every = list(product(*(range(len(c)) for c in clouds)))
    for power in (1.0, 2.0):
        assert most(chosen, power) == pytest.approx(most(every, power), rel=1e-12)
