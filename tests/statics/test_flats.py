"""Rods at the flats filed for grub screws: what is left of them there, what bends them there, and which rows say so."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from ledgewright import stock
from ledgewright.core import LockAt
from ledgewright.job import Basis
from ledgewright.memo import Memo
from ledgewright.statics import checks
from ledgewright.statics.aims import of_rods
from ledgewright.statics.bases import Combination, rules
from ledgewright.statics.formula import Working
from ledgewright.statics.mechanics.contact_rods import RodAnswer
from ledgewright.statics.on_section import Judged, Shelf, judge, ready
from ledgewright.statics.pressed import at_flat, flat_ends
from ledgewright.statics.side_checks import rod_biax
from ledgewright.stock import Bar
from tests.statics import made
from tests.statics.test_hardest import pressing
from tests.statics.test_members import ACCIDENT, seat
from tests.statics.test_not_lost import Acts, case
from tests.statics.test_on_section import Case

AGAINST = (
    "the section left by a flat cut into 200,000 slices; moments summed force by force; capacities by hand",
    "numerical integration and plain sums in the test",
    "1e-6; 1e-9",
)
QUIET = Working(keep=False)
LEAN = Combination("G + Q + A", "accident", 1.0, 1.0, 0.0, 1.0, "")
STRONG = Combination("1.35G + 1.5Q", "strength", 1.35, 1.5, 0.0, 0.0, "")


def sliced(bar: Bar, deep: float) -> tuple[float, float, float, float]:
    """Area, I, least S and Z of a solid bar with `deep` off underneath, summed over slices."""
    n, h = 200_000, bar.height
    dy = (h - deep) / n
    y = deep - h / 2 + (np.arange(n) + 0.5) * dy
    wide = 2 * np.sqrt((h / 2) ** 2 - y**2) if bar.shape == "round" else np.full(n, bar.width)
    A = float((wide * dy).sum())
    middle = float((wide * y * dy).sum()) / A
    I = float((wide * (y - middle) ** 2 * dy).sum())
    half = y[np.searchsorted(np.cumsum(wide) * dy, A / 2)]
    Z = float((wide * np.abs(y - half) * dy).sum())
    return A, I, I / max(h / 2 - middle, middle + h / 2 - deep), Z


@pytest.mark.parametrize("deep", [0.5, 1.5, 3.0])
@pytest.mark.parametrize(
    "name", ["round 10 S235", "round 16 S235", "square 12 S235", "flat 30x10 S235"]
)
def test_what_a_flat_leaves_of_a_bar(name: str, deep: float) -> None:
    bar = stock.bar(name)
    left = bar.filed(deep)
    A, I, S, Z = sliced(bar, deep)
    assert left.area == pytest.approx(A, rel=1e-6)
    assert left.inertia == pytest.approx(I, rel=1e-6)
    assert left.elastic_modulus == pytest.approx(S, rel=1e-6)
    assert left.plastic_modulus == pytest.approx(Z, rel=1e-5)
    assert (left.Fy, left.E, left.name) == (bar.Fy, bar.E, bar.name)


def test_a_tube_is_not_filed_and_nothing_to_its_middle() -> None:
    tube = replace(stock.bar("round 16 S235"), shape="round tube", wall=2.0)
    for bar, deep in ((tube, 1.5), (stock.bar("round 10 S235"), 5.0)):
        with pytest.raises(ValueError, match="flat"):
            bar.filed(deep)


def test_the_moment_along_a_flat_is_the_greatest_on_any_of_its_places() -> None:
    """Statics: every force beyond a place times how far beyond, the rod's weight with it; place by place."""
    at = np.linspace(20.0, 200.0, 26)
    rng = np.random.default_rng(4)
    down = rng.uniform(-40.0, 90.0, (6, 26))
    weight = np.full(6, 0.0155)
    found = at_flat(at, down, weight, tip=200.0, from_tip=130.0)
    for k, forces in enumerate(down):
        places = np.linspace(64.0, 76.0, 241)
        every = [
            abs(sum(f * (a - x) for f, a in zip(forces, at, strict=True) if a > x)) for x in places
        ]
        own = 0.0155 * (200.0 - 64.0) ** 2 / 2
        assert found[k] == pytest.approx(max(every) + own, rel=1e-3)
        assert found[k] >= max(every) + 0.0155 * (200.0 - 76.0) ** 2 / 2
    assert at_flat(at, down, weight, tip=200.0, from_tip=0.0).tolist() == [0.0] * 6


@pytest.mark.parametrize("name", ["round 16 S235", "square 12 S235"])
def test_the_flat_governs_where_it_leaves_less_than_the_wood_does(name: str) -> None:
    """By hand, EN 1993-1-1 6.2.5: W_pl of what is left times f_y; in nds F_y Z / 1.67 up to 1.6 F_y S (1.5)."""
    bar = stock.bar(name)
    on = seat()
    on = replace(on, rod=replace(on.rod, bar=bar))
    _, _, S, Z = sliced(bar, 1.5)
    cap = 1.6 if bar.shape == "round" else 1.5
    by_hand: dict[Basis, float] = {"ec5": Z * bar.Fy, "nds": min(Z, cap * S) * bar.Fy / 1.67}
    for basis, left in by_hand.items():
        whole = replace(case(on, Acts(400.0, 60e3), STRONG), rules=rules(basis))
        M, can = checks.rod_bend(whole, QUIET)
        share = left / can.value
        assert share < 1
        for factor, governs in ((0.99, False), (1.01, True)):
            acts = Acts(400.0, 60e3, at_flat=factor * share * M)
            asked, takes = checks.rod_bend(replace(whole, action=acts), QUIET)
            assert asked == pytest.approx(acts.at_flat if governs else M, rel=1e-9)
            assert takes.value == pytest.approx(left if governs else can.value, rel=1e-5)
            assert ("flat" in takes.reason) is governs


def test_in_service_the_flat_stays_straight_too() -> None:
    bar = stock.bar("round 16 S235")
    on = seat()
    on = replace(on, rod=replace(on.rod, bar=bar))
    stress, can = checks.rod_yield(case(on, Acts(1.0, 1.0, at_flat=70e3)), QUIET)
    assert stress == pytest.approx(70e3 / sliced(bar, 1.5)[2], rel=1e-6)
    assert can.value == bar.Fy


def test_who_leans_is_held_at_the_flat() -> None:
    """The flat takes 0.9 of a round of 16 (slices): a moment there of all that the rod takes is too much."""
    on = seat("ec5")
    on = replace(on, rod=replace(on.rod, bar=stock.bar("round 16 S235")))
    whole = 16.0**3 / 6 * 235.0
    acts = Acts(1.0, 1.0, at_flat=whole)
    row = checks.accident([replace(case(on, acts, LEAN), rules=rules("ec5"))], None, keep=True)
    assert row is not None
    assert row.state == "fails"
    assert "flat" in row.reason
    assert row.ratio == pytest.approx(whole / (sliced(on.rod.bar, 1.5)[3] * 235.0), rel=1e-5)
    assert any("along the flat" in step.source for step in row.steps)


def test_bent_both_ways_the_flat_is_looked_at_too() -> None:
    """By hand: the moment along the flat, and the push at the front edge on its lever from there."""
    on = pressing("ec5", 1.0, 1.0, side=50.0)
    bar = stock.bar("round 16 S235")
    on = replace(on, seat=replace(on.seat, rod=replace(on.seat.rod, bar=bar)), flat=(400e3, 66.0))
    r, one = rod_biax(QUIET, on=on, rules=rules("ec5"), when=ACCIDENT)
    left = sliced(bar, 1.5)[3] * 235.0
    assert r == pytest.approx((400e3 + 50.0 * (on.seat.front - 66.0)) / left, rel=1e-5)
    assert one.value == 1.0
    before, _ = rod_biax(QUIET, on=replace(on, flat=None), rules=rules("ec5"), when=ACCIDENT)
    less, _ = rod_biax(QUIET, on=replace(on, flat=(1.0, 66.0)), rules=rules("ec5"), when=ACCIDENT)
    assert less == before < r


# ---- on the section model


@cache
def locked() -> tuple[Shelf, Judged]:
    """Three rods, the first with a flat that begins at the wood, the second with one in the middle of its slot."""
    asked = made.demand(made.even(0.002), made.thing(500.0), single=20.0)
    on = Case(made.straight([200.0, 500.0, 800.0], basis="ec5"), asked, "ec5")
    tips = [rod.free + rod.projection for rod in on.frame.rods]
    locks = tuple(
        LockAt(rod.id, (0.0, 0.0), from_tip=off)
        for rod, off in zip(on.frame.rods, (tips[0] - 6.0, 90.0), strict=False)
    )
    given = replace(on.given, core=replace(on.core, locks=locks))
    shelf = ready(given, on.stood, Memo())
    assert isinstance(shelf, Shelf)
    return shelf, judge(shelf)


def moment(rod: RodAnswer, x: float) -> float:
    """Moment at a distance from the wood, force by force."""
    forces = zip(rod.at, rod.top, rod.bottom, strict=True)
    return float(sum((t - b) * (a - x) for a, t, b in forces if a > x))


def test_a_row_is_the_worst_along_the_flat_of_every_case() -> None:
    """Plain sums over all that the search solved; the flat of the first rod starts where its moment is greatest."""
    shelf, found = locked()
    rows = {row.id: row for row in found.rows}
    bar = shelf.seats[0].rod.bar
    most = max(
        moment(case.answer.rods[0], 0.0)
        + case.answer.rods[0].weight * case.answer.rods[0].tip ** 2 / 2
        for case in found.cases
        if case.combination.situation == "strength"
    )
    row = rows[f"rod.bend@{shelf.seats[0].rod.id}"]
    assert row.demand == pytest.approx(most, rel=1e-9)
    assert row.capacity == pytest.approx(sliced(bar, 1.5)[3] * bar.Fy, rel=1e-5)
    assert "flat" in row.reason
    assert all(
        "flat" not in each.reason for each in found.rows if each.id.endswith(shelf.seats[2].rod.id)
    )


def test_the_search_drives_the_moment_at_a_flat() -> None:
    """What an aim weighs is the moment where the flat begins, but for the rod's own weight, on any contact points."""
    shelf, found = locked()
    flats = {k: flat_ends(seat.tip, shelf.flats[k])[0] for k, seat in enumerate(shelf.seats[:2])}
    aims = of_rods(shelf.today.coarser(9), [100.0] * 3, flats).on(shelf.today)
    for each in found.cases[::7]:
        told = aims.rows[-2:] @ each.answer.figures
        for k, x in flats.items():
            assert told[k] == pytest.approx(moment(each.answer.rods[k], x), rel=1e-9, abs=1e-6)
