"""Load limits of shelves on the same studs: what they allow holds, a little more does not, whoever is asked first."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from ledgewright.job import Basis
from ledgewright.memo import Memo
from ledgewright.statics import Alone, Check, Holds, LoadLimit, NoLimit, limits_together, on_members
from ledgewright.statics.families import Into
from ledgewright.statics.shared import together
from tests.statics.test_limit import Case, case, counted, spread

AGAINST = (
    "the rows of shelves judged together under the loads that the limits allow; order; no sharing that tells",
    "the job's own way of asking for such loads",
    "holds at the limit, not at 1.02 of it",
)
STUDS: Into = frozenset({"stud"})


@cache
def two(basis: Basis) -> tuple[Case, Case]:
    """Two shelves one above the other, so stout that their studs stop them."""
    at = [200.0, 500.0, 800.0]
    low, high = (case(at, basis=basis, up=up, bar="round 3/4 1018") for up in (1000.0, 1300.0))
    return low, high


@cache
def alone(basis: Basis) -> tuple[LoadLimit, ...]:
    found = [of.limit() for of in two(basis)]
    assert all(isinstance(each, LoadLimit) for each in found)
    return tuple(each for each in found if isinstance(each, LoadLimit))


def limited(*shelves: tuple[Case, LoadLimit]) -> tuple[LoadLimit, ...]:
    everyone = range(len(shelves))
    asked = [
        Alone(of.given(of.asked), of.stood, by, tuple(n for n in everyone if n != k))
        for k, (of, by) in enumerate(shelves)
    ]
    found = limits_together(asked, Memo())
    assert not isinstance(found, NoLimit)
    return found


def judged(cases: tuple[Case, Case], limits: tuple[LoadLimit, ...], share: float) -> list[Holds]:
    """Both shelves under the loads their limits allow, and under each other's."""
    asked = [spread(of, by.even, share) for of, by in zip(cases, limits, strict=True)]
    pressing = [
        on_members(of.given(loads), of.stood, Memo())
        for of, loads in zip(cases, asked, strict=True)
    ]
    one, other = pressing
    assert one is not None
    assert other is not None
    return [
        together(cases[0].judged(asked[0]), one, [other], into=STUDS),
        together(cases[1].judged(asked[1]), other, [one], into=STUDS),
    ]


def worst(held: list[Holds]) -> Check:
    return max((row for each in held for row in counted(each)), key=lambda row: row.ratio)


@pytest.mark.parametrize("basis", ["nds", pytest.param("ec5", marks=pytest.mark.soak)])
def test_what_both_may_carry_holds_and_two_per_cent_more_does_not(basis: Basis) -> None:
    both = two(basis)
    by_itself = alone(basis)
    limits = limited(*zip(both, by_itself, strict=True))
    # Their studs stop them: together each may carry much less than by itself.
    assert all(a.even < 0.9 * b.even for a, b in zip(limits, by_itself, strict=True))
    # Pulled or under its loads: a stud they share bends.
    assert "stud.bend" in limits[0].limited_by
    assert worst(judged(both, limits, 1.0)).ratio <= 1
    assert worst(judged(both, limits, 1.02)).ratio > 1
    # The one heavy thing stays whole; in all is even times length and that (1 m of shelf, g 9.80665).
    for limit in limits:
        assert limit.single == 12.0
        assert limit.total == pytest.approx(limit.even * 1000.0 / 9.80665 + 12.0, rel=1e-6)


@pytest.mark.soak
def test_it_does_not_matter_which_of_them_is_asked_first() -> None:
    both, by_itself = two("nds"), alone("nds")
    limits = limited(*zip(both, by_itself, strict=True))
    back = limited(*zip(both[::-1], by_itself[::-1], strict=True))
    assert [x.even for x in back[::-1]] == pytest.approx([x.even for x in limits], rel=1e-9)


def test_shelves_that_their_studs_do_not_stop_keep_their_own_limits() -> None:
    both = two("nds")
    small = [replace(each, even=0.1, limited_by="skin.bend") for each in alone("nds")]
    assert list(limited(*zip(both, small, strict=True))) == small
