"""Shelves on the same studs under one load test: how one lowers the other by hand, and what it may ask."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from ledgewright.job import Basis
from ledgewright.memo import Memo
from ledgewright.statics import (
    ROUND,
    NoTest,
    Pile,
    Proof,
    Tried,
    asks_of_all,
    proof,
    proofs,
    under,
    under_all,
)
from ledgewright.statics.actions import Floats
from ledgewright.statics.bases import member_rules
from ledgewright.statics.coupled import Coupled
from ledgewright.statics.loads import G_N
from ledgewright.statics.members_give import modulus
from ledgewright.statics.on_section import ready
from ledgewright.stock import Timber
from tests.statics import made
from tests.statics.test_on_section import Case

AGAINST = (
    "a stud as a simple beam by virtual work, written out; balance of forces; limits, symmetry",
    "hand calculation",
    "drop from the neighbour 3 %; symmetry 2 %; limits 1e-9",
)

BASES: tuple[Basis, ...] = ("nds", "ec5")
AT = [300.0, 700.0]
MASS = 40.0
PILE = Pile("books", "A", 500.0, 150.0, MASS)
MARKS = (("A", 300.0), ("A", 700.0))


@cache
def case(
    up: float, basis: Basis = "ec5", at: tuple[float, ...] = tuple(AT), live: float = 0.001
) -> Case:
    asked = made.demand(made.even(live), single=20.0)
    room, frame = made.straight(list(at), basis=basis)
    rods = tuple(replace(r, origin=(*r.origin[:2], up)) for r in frame.rods)
    lifted = replace(frame, shelf=f"at {up:g}", rods=rods, top=up + made.THICK / 2)
    return Case((room, lifted), asked, basis)


def both(low: float = 900.0, high: float = 1300.0, basis: Basis = "ec5") -> tuple[Tried, Tried]:
    one, two = case(low, basis), case(high, basis)
    return Tried(one.given, one.stood, (1,)), Tried(two.given, two.stood, (0,))


def turn(timber: Timber, height: float, z: float, a: float) -> float:
    """Turn at z per couple at a of a beam on two ends (rad per N mm): virtual work, trapezes on a fine grid."""
    s = np.linspace(0.0, height, 200_001)

    def moment(at: float) -> Floats:
        return np.where(s < at, -s / height, 1 - s / height)

    inertia = timber.width * timber.depth**3 / 12
    return float(np.trapezoid(moment(z) * moment(a), s)) / (modulus(timber) * inertia)


def test_what_the_other_shelf_carries_lowers_this_one_as_its_studs_turn() -> None:
    """Two rods, each with half of a pile half way between, whatever the studs do: V = P/2, M = V (out + lining).

    The stud turns by the couple at its axis, V with the half of its depth as arm, and shortens as a post under V; the
    front sinks with the face, by its distance from there.
    """
    low, high = both()
    alone = under(low.given, low.stood, (), MARKS, Memo())
    assert alone == (0.0, 0.0)
    found = under_all((low, high), ((), (PILE,)), (MARKS, ()), Memo())
    assert not isinstance(found, NoTest)
    timber = made.timber("ec5")
    V = MASS * G_N / 2
    M = V * (PILE.out + made.FREE)
    arm, height = timber.depth / 2, member_rules("ec5").storey
    theta = turn(timber, height, 900.0, 1300.0) * (M + V * arm)
    sinks = 900.0 * V / (modulus(timber) * timber.width * timber.depth)
    reach = made.DEPTH + made.FREE
    assert found[0] == pytest.approx([sinks + theta * (arm + reach)] * 2, rel=0.03)
    assert found[0][0] > 0.01


@pytest.mark.parametrize("basis", BASES)
def test_two_like_shelves_lower_each_other_alike(basis: Basis) -> None:
    """Maxwell 1864: what a couple here turns there, it turns here from there; heights mirrored about mid-storey."""
    middle = member_rules(basis).storey / 2
    tried = both(middle - 200, middle + 200, basis)
    one = under_all(tried, ((), (PILE,)), (MARKS, MARKS), Memo())
    two = under_all(tried, ((PILE,), ()), (MARKS, MARKS), Memo())
    assert not isinstance(one, NoTest)
    assert not isinstance(two, NoTest)
    assert one[0] == pytest.approx(two[1], rel=0.02)
    assert one[1] == pytest.approx(two[0], rel=0.02)
    assert one[1][0] > one[0][0] > 0


def test_shelves_that_share_nothing_are_as_if_each_hung_alone() -> None:
    one, two = both()
    apart = replace(one, beside=()), replace(two, beside=())
    found = under_all(apart, ((PILE,), (PILE,)), (MARKS, MARKS), Memo())
    assert not isinstance(found, NoTest)
    for each, downs in zip(apart, found, strict=True):
        assert downs == pytest.approx(
            under(each.given, each.stood, (PILE,), MARKS, Memo()), rel=1e-9
        )
    more = under_all((one, two), ((PILE,), (PILE,)), (MARKS, MARKS), Memo())
    assert not isinstance(more, NoTest)
    assert all(a > b for m, f in zip(more, found, strict=True) for a, b in zip(m, f, strict=True))


def test_all_forces_balance_in_every_shelf_of_a_group() -> None:
    """Plain statics: what the rods take at the wood is all that stands on the shelf, the shelf and the rods."""
    tried = both()
    shelves = []
    for each in tried:
        shelf = ready(each.given, each.stood, Memo(), keep=False)
        assert not isinstance(shelf, tuple)
        shelves.append(shelf)
    group = Coupled(tuple(shelves), ((1,), (0,)))
    factors: list[Floats] = [np.where(s.acting.of("dead", "live"), 1.0, 0.0) for s in shelves]
    for shelf, factor, answer in zip(shelves, factors, group.solve(factors), strict=True):
        bars = sum(r.bar.weight * r.tip for r in shelf.today.rods)
        down = float(shelf.acting.forces @ factor) + bars
        assert sum(rod.V for rod in answer.rods) == pytest.approx(down, rel=1e-6)


@pytest.mark.parametrize("basis", BASES)
def test_a_test_of_both_asks_no_more_than_may_be_asked_and_no_more_than_of_one(
    basis: Basis,
) -> None:
    """0.9 of F_y S of every bar, by the moments of the group solved at once; 5/8 in round, S = pi d^3/32."""
    tried = both(basis=basis)
    found = proofs(tried, ROUND["mm"], Memo())
    assert not isinstance(found, NoTest), found.why
    group = []
    for each, made_of in zip(tried, found, strict=True):
        alone = proof(each.given, each.stood, ROUND["mm"], Memo())
        assert isinstance(alone, Proof)
        assert made_of.times == found[0].times <= alone.times
        assert made_of.ratio >= alone.ratio - 1e-9 or made_of.times < alone.times
        # The lowest place goes down further beside a loaded neighbour; an end may tip up with it.
        if made_of.times == alone.times:
            assert max(d.down for d in made_of.later) > max(d.down for d in alone.later)
        shelf = ready(each.given, each.stood, Memo(), keep=False)
        assert not isinstance(shelf, tuple)
        group.append(shelf)
    times = found[0].times
    bar = tried[0].given.frame.rods[0].bar
    most = 0.9 * bar.Fy * math.pi * bar.width**3 / 32
    coupled = Coupled(tuple(group), ((1,), (0,)))
    for spot in np.flatnonzero(group[0].acting.of("single")):
        factors = [
            s.acting.of("dead")
            + times * s.acting.of("live")
            + times * (np.arange(len(s.acting.atoms)) == spot)
            for s in group
        ]
        for answer in coupled.solve(factors):
            assert max(abs(rod.M) for rod in answer.rods) <= most


def test_more_on_the_neighbour_asks_more_of_the_shared_studs() -> None:
    """By hand: with both shelves loaded a stud carries about twice the couple that it carries with one."""
    tried = both(1100.0, 1250.0)
    heavy = replace(PILE, mass=150.0)
    one = asks_of_all(tried, ((heavy,), ()), Memo())
    two = asks_of_all(tried, ((heavy,), (heavy,)), Memo())
    assert one is not None
    assert two is not None
    assert not isinstance(one, NoTest)
    assert not isinstance(two, NoTest)
    assert two.ratio >= one.ratio - 1e-9
