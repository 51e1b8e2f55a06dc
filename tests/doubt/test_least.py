"""The least of shelves drawn by chance: how sure it is, that it is the least, and what it looks at in full."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from scipy.stats import binom

from ledgewright.doubt import Least, NoSpread, floor
from ledgewright.doubt.figures import standing
from ledgewright.doubt.least import CLOSE, DRAWS, least
from ledgewright.statics import NOMINAL, Inputs

AGAINST = (
    "what stands for the worst load limit where it has no range",
    "the chance by hand, brute force over shelves whose limit is known, order of looks by a stub",
    "exact; the search to 0.5 %",
)

Carries = Callable[[Inputs], float]


class Shelf:
    """A shelf whose ratio goes straight from so much with nothing on it to 1 at its limit; counts its looks."""

    def __init__(self, carries: Carries, *, bare: float = 0.6, unseen: float = 1.0) -> None:
        self.carries, self.bare, self.unseen = carries, bare, unseen
        self.full: list[float] = []

    def worst(self, inputs: Inputs, even: float) -> Any:
        self.full.append(even)
        return self._row(inputs, even, self.unseen)

    def worst_told(self, inputs: Inputs, even: float) -> Any:
        return self._row(inputs, even, 1.0)

    def _row(self, inputs: Inputs, even: float, by: float) -> Any:
        ratio = by * (self.bare + (1 - self.bare) * even / self.carries(inputs))
        return SimpleNamespace(ratio=ratio, title="Rod bends")


def drawn(seed: int) -> tuple[Inputs, ...]:
    return standing(("fill",), np.random.default_rng(seed).random((DRAWS, 1)))


def of_fill(inputs: Inputs) -> float:
    """Straight in one figure: what 5 of 100 lie below is that of the figure."""
    return inputs.fill


def test_59_are_the_fewest_for_95_in_100() -> None:
    """By hand: that none of n lies among the lowest 5 of 100 has the chance 0.95^n; 59 are the first for 0.05."""
    assert 0.95**59 < 0.05 < 0.95**58
    assert DRAWS == 59
    assert Least(1.0, 0.5, None).sure == pytest.approx(0.9515, abs=1e-4)


def test_the_least_lies_under_what_5_of_100_lie_below_19_times_in_20() -> None:
    """Brute force: 300 jobs, a seed each; the 5 % value from 20,001 shelves of their own; binomial, 1 in 1,000."""
    many = standing(("fill",), np.linspace(0, 1, 20001)[:, None])
    p05 = float(np.quantile(np.array([each.fill for each in many]), 0.05))
    found = [least(Shelf(of_fill), drawn(seed), 10.0) for seed in range(300)]
    under = sum(each is not None and each.safe < p05 for each in found)
    low, high = (float(binom.ppf(chance, 300, 1 - 0.95**59)) for chance in (0.001, 0.999))
    # Found from below, it may lie under a little more often.
    assert low <= under <= min(300, high + 2)


@pytest.mark.parametrize("bare", [-1.0, 0.0, 0.6, 0.97])
def test_it_is_the_least_of_all_found_from_below(bare: float) -> None:
    """Brute force: the limits of all 59, known; flat ratios, that barely know how much stands there, with them."""
    places = drawn(3)
    exact = min(map(of_fill, places))
    found = least(Shelf(of_fill, bare=bare), places, 2.0)
    assert found is not None
    assert exact - 2 * CLOSE * 2.0 <= found.safe <= exact + 1e-12
    assert found.stop is not None
    assert found.stop.title == "Rod bends"
    assert found.share == pytest.approx(found.safe / 2.0)


def test_it_is_never_over_the_limit_at_the_likely_figures() -> None:
    found = least(Shelf(of_fill), drawn(3), 0.1)
    assert (found and found.safe, found and found.stop) == (0.1, None)


def test_what_only_a_full_look_sees_lowers_it() -> None:
    """By hand: a full look makes each ratio 1.1 times as great: 1.1 (0.6 + 0.4 e/c) is 1 at 0.773 of the limit c."""
    places = drawn(5)
    shelf = Shelf(of_fill, unseen=1.1)
    found = least(shelf, places, 2.0)
    assert found is not None
    assert shelf.full
    assert (
        0.9 * 0.773 * min(map(of_fill, places)) < found.safe <= 0.7728 * min(map(of_fill, places))
    )
    # Half of it is looked at, too.
    assert any(each == pytest.approx(found.safe / 2) for each in shelf.full)


def test_one_that_does_not_bear_itself_leaves_nothing_and_ends_the_search() -> None:
    """Here more on it holds it down: with enough on it it would pass, but it hangs bare first."""
    shelf = Shelf(of_fill, bare=1.02)
    found = least(shelf, drawn(5), 2.0)
    assert found is not None
    assert (found.safe, found.share, shelf.full) == (0.0, 0.0, [])


def test_where_nothing_can_be_said_of_one_nothing_is_said() -> None:
    shelf: Any = SimpleNamespace(worst=lambda _i, _e: None, worst_told=lambda _i, _e: None)
    assert least(shelf, (NOMINAL,), 1.0) is None


def test_what_a_limit_takes_for_doubt() -> None:
    told = Least(1.0, 0.5, None)
    assert floor(NoSpread("too far off", told)) is told
    assert floor(NoSpread("it does not stand")) is None
    assert floor(None) is None
    assert replace(told, nominal=0.0).share == 0.0
