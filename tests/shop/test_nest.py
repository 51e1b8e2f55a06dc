"""Cutting looked at again: by sawing it up once more, by geometry of another library, by other methods.

Random jobs are made here, never by the program. Bounds are held against published values (bench/data/cutting).
"""

from __future__ import annotations

import math
import random
from dataclasses import replace
from itertools import permutations

import numpy as np
import pytest
from scipy.optimize import LinearConstraint

from ledgewright.shop.nest import (
    Bar,
    Nest,
    Piece,
    Placed,
    Rule,
    Sheet,
    lengths,
    most_valuable,
    nest,
    packs,
    plates,
    unlimited,
)
from ledgewright.shop.nest.solver import smallest
from tests.shop.cutting import comes_out, lies_well


def made(seed: int) -> tuple[list[Piece], list[Sheet], float, float]:
    """A job as a shop might have it: inch fractions or mm, grain or none, two sizes of sheet."""
    chance = random.Random(seed)  # noqa: S311
    step = 25.4 / 16 if seed % 2 else 0.5
    pieces = [
        Piece(
            f"p{k}",
            step * chance.randint(200, 900),
            step * chance.randint(60, 260),
            chance.randint(1, 2),
            chance.random() < 0.4,
        )
        for k in range(chance.randint(2, 9))
    ]
    small = Sheet("on hand", 1500.0, 610.0, count=1, cost=1.0)
    sheets = (
        [small, Sheet("bought", 2440.0, 1220.0, cost=10.0)]
        if seed % 3
        else [Sheet("bought", 2440.0, 1220.0)]
    )
    return (
        pieces,
        sheets,
        chance.choice([0.0, 3.2, 25.4 / 8]),
        chance.choice([0.0, 2.0, 6.35, 10.0]),
    )


def looked_at(found: Nest, pieces: list[Piece], kerf: float, trim: float) -> None:
    wanted = {p.name: p for p in pieces}
    count = {p.name: p.count for p in pieces if p not in found.left}
    for layout in found.layouts:
        for placed in layout.placed:
            count[placed.name] = (count[placed.name] or 0) - 1
        lies_well(layout, wanted, kerf, trim)
    assert set(count.values()) <= {0}
    for sheet in {layout.sheet for layout in found.layouts}:
        if sheet.count is not None:
            assert sum(layout.sheet == sheet for layout in found.layouts) <= sheet.count


@pytest.mark.parametrize("seed", range(10))
def test_straight_cuts_made_in_the_order_listed_give_every_piece_at_its_size(seed: int) -> None:
    pieces, sheets, kerf, trim = made(seed)
    found = nest(pieces, sheets, kerf=kerf, trim=trim)
    looked_at(found, pieces, kerf, trim)
    for layout in found.layouts:
        comes_out(layout, kerf)
    assert found.proof.found >= found.proof.bound


@pytest.mark.parametrize("seed", range(5))
def test_freely_placed_pieces_lie_a_cutter_apart_with_their_grain(seed: int) -> None:
    pieces, sheets, kerf, trim = made(seed)
    found = nest(pieces, sheets, rule="free", kerf=kerf, trim=trim)
    looked_at(found, pieces, kerf, trim)
    straight = nest(pieces, sheets, kerf=kerf, trim=trim)
    assert found.proof.found <= straight.proof.found


def test_a_cut_that_misses_its_panel_is_seen() -> None:
    """The look itself must be able to fail: one fence a millimetre off and a piece comes out wrong."""
    pieces, sheets, kerf, trim = made(1)
    layout = nest(pieces, sheets, kerf=kerf, trim=trim).layouts[0]
    cuts = list(layout.cuts)
    k = next(k for k, cut in enumerate(cuts) if cut.why == "part")
    cuts[k] = replace(cuts[k], setting=cuts[k].setting + 1.0)
    with pytest.raises((AssertionError, ValueError)):
        comes_out(replace(layout, cuts=tuple(cuts)), kerf)


def test_two_els_lie_in_one_another_on_a_router_table() -> None:
    # Two L's of 1000 x 600 with a notch of 700 x 350: turned half round into one another they need
    # 1000 + 300 by 600 (by hand: the second's foot lies in the first's notch); side by side 2000 by 600.
    el = Piece("L", 1000.0, 600.0, 2, notch=(700.0, 350.0))
    tight = nest([el], [Sheet("s", 1300.0, 600.0)], rule="free")
    assert len(tight.layouts) == 1
    looked_at(tight, [el], 0.0, 0.0)
    assert {p.turn for p in tight.layouts[0].placed} == {0, 2}
    # A saw sees their outer rectangles.
    assert len(nest([el], [Sheet("s", 1300.0, 600.0)]).layouts) == 2


@pytest.mark.parametrize("hand", [1, -1])
@pytest.mark.parametrize("turn", range(4))
def test_the_notch_of_an_el_goes_round_with_it(turn: int, hand: int) -> None:
    # By turning the middle of the notch a quarter at a time about the middle of the whole, by hand.
    l, w, notch = 10.0, 6.0, (7.0 * hand, 2.0)
    x, y = (l - 3.5 if hand > 0 else 3.5), w - 1.0
    cx, cy = l / 2, w / 2
    for _ in range(turn):
        x, y = cx - (y - cy), cy + (x - cx)
    size = (l, w) if turn % 2 == 0 else (w, l)
    placed = Placed("L", cx - size[0] / 2, cy - size[1] / 2, *size, turn, notch)
    assert not any(a < x < c and b < y < d for a, b, c, d in placed.boxes)
    assert sum((c - a) * (d - b) for a, b, c, d in placed.boxes) == pytest.approx(46.0)


@pytest.mark.parametrize("seed", range(3))
def test_unlimited_copies_and_more_copies_than_fit_are_worth_the_same(seed: int) -> None:
    """The recursion over places and the integer programme know nothing of one another."""
    chance = random.Random(seed)  # noqa: S311
    sheet = Sheet("s", float(chance.randint(30, 60)), float(chance.randint(20, 50)))
    pieces = [
        Piece(
            str(k),
            chance.randint(7, 25),
            chance.randint(6, 20),
            40,
            seed % 2 == 0,
            chance.randint(20, 300),
        )
        for k in range(5)
    ]
    kerf = chance.choice([0.0, 1.0])
    by_places = unlimited(pieces, sheet, kerf=kerf).best
    assert most_valuable(plates(pieces, [sheet], kerf=kerf)).found == pytest.approx(by_places)


@pytest.mark.parametrize("seed", range(20))
def test_bars_are_as_few_as_brute_force_finds(seed: int) -> None:
    """Seven lengths put into bars one after another, in every order: some order gives the fewest (next fit)."""
    chance = random.Random(seed)  # noqa: S311
    sizes = [chance.randint(20, 70) for _ in range(7)]
    kerf = chance.choice([0, 2])
    fewest = min(next_fit(order, 100, kerf) for order in set(permutations(sizes)))
    found = lengths([(str(k), float(s)) for k, s in enumerate(sizes)], [Bar("b", 100.0)], kerf=kerf)
    assert found.proof.proven
    assert len(found.bars) == fewest
    for bar in found.bars:
        used = sum(size for _, size in bar.pieces) + kerf * (len(bar.pieces) - 1)
        assert used <= 100.0
        assert bar.rest == pytest.approx(max(0.0, 100.0 - used - kerf))


def next_fit(order: tuple[int, ...], bar: int, kerf: int) -> int:
    bars, room = 0, 0
    for size in order:
        if size > room:
            bars, room = bars + 1, bar
        room -= size + kerf
    return bars


def test_bars_of_several_lengths_are_the_cheapest() -> None:
    # By hand: 1.9 m and 1.0 m; a bar of 3 m at 3 holds both, one of 2 m and one of 1 m... there is none of 1 m,
    # so two of 2 m at 2 each would cost 4.
    bars = [Bar("2 m", 2000.0, cost=2.0), Bar("3 m", 3000.0, cost=3.0)]
    found = lengths([("a", 1900.0), ("b", 1000.0)], bars, kerf=3.0)
    assert [bar.bar.name for bar in found.bars] == ["3 m"]
    assert found.proof.proven
    # With a bar on hand that costs next to nothing it is used first, once.
    mine = [Bar("mine", 2000.0, count=1, cost=0.01), *bars]
    found = lengths([("a", 1900.0), ("b", 1000.0)], mine, kerf=3.0)
    assert sorted(bar.bar.name for bar in found.bars) == ["2 m", "mine"]


def test_what_is_longer_than_every_bar_is_said() -> None:
    found = lengths([("long", 4000.0), ("short", 500.0)], [Bar("b", 3000.0)], kerf=3.0)
    assert found.left == (("long", 4000.0),)
    assert len(found.bars) == 1


def test_sheets_on_hand_are_used_before_any_is_bought() -> None:
    pieces = [Piece("a", 1000.0, 300.0, 2)]
    mine = Sheet("mine", 1200.0, 700.0, count=1, cost=0.01)
    found = nest(pieces, [mine, Sheet("bought", 2440.0, 1220.0)], kerf=3.0)
    assert [layout.sheet.name for layout in found.layouts] == ["mine"]
    assert found.proof.proven


def test_a_piece_that_only_the_dear_sheet_holds_makes_the_bound() -> None:
    # By hand: 3000 does not come out of 2440, so one sheet of 3050 at 1.6 must be bought, whatever the area says.
    sheets = [Sheet("s", 2440.0, 1220.0), Sheet("l", 3050.0, 1525.0, cost=1.6)]
    found = nest([Piece("a", 3000.0, 300.0)], sheets, rule="free", kerf=3.0)
    assert found.proof.bound == found.proof.found == pytest.approx(1.6)


@pytest.mark.parametrize("rule", ["straight cuts", "free"])
def test_a_search_that_is_stopped_gives_the_best_so_far_and_says_so(rule: Rule) -> None:
    """Stopped before it began, or after its first answer: every piece is on a sheet all the same."""
    pieces, sheets, kerf, trim = made(7)
    told: list[str] = []
    for stop in (lambda: True, lambda: bool(told)):
        found = nest(pieces, sheets, rule=rule, kerf=kerf, trim=trim, tell=told.append, stop=stop)
        assert found.proof.how.startswith("stopped by hand")
        assert found.proof.found > found.proof.bound
        looked_at(found, pieces, kerf, trim)


@pytest.mark.parametrize("seed", range(20))
def test_bars_stopped_by_hand_are_cut_all_the_same(seed: int) -> None:
    """Against all ways to share pieces out among bars: nothing is claimed that is not so."""
    chance = random.Random(seed)  # noqa: S311
    sizes = [float(chance.randint(150, 900)) for _ in range(7)]
    wanted = [(str(k), size) for k, size in enumerate(sizes)]
    stock = [Bar("short", 1000.0, cost=0.6), Bar("long", 1800.0)]
    found = lengths(wanted, stock, kerf=3.0, stop=lambda: True)
    cheapest = least(sizes, [(1000.0, 0.6), (1800.0, 1.0)], 3.0)
    assert sorted(p for bar in found.bars for p in bar.pieces) == sorted(wanted)
    assert all(
        sum(size for _, size in bar.pieces) + 3.0 * (len(bar.pieces) - 1) <= bar.bar.length + 1e-6
        for bar in found.bars
    )
    assert found.proof.bound - 1e-6 <= cheapest <= found.proof.found + 1e-6
    assert found.proof.proven or found.proof.how.startswith("stopped by hand")


def least(sizes: list[float], stock: list[tuple[float, float]], kerf: float) -> float:
    """The least cost of bars by trying every way to put pieces on bars one by one."""
    best = math.inf

    def deeper(k: int, loads: tuple[float, ...]) -> None:
        nonlocal best
        costs = [
            min((c for long, c in stock if long + kerf >= load), default=math.inf) for load in loads
        ]
        if sum(costs) >= best:
            return
        if k == len(sizes):
            best = sum(costs)
            return
        for b in range(len(loads)):
            deeper(k + 1, (*loads[:b], loads[b] + sizes[k] + kerf, *loads[b + 1 :]))
        deeper(k + 1, (*loads, sizes[k] + kerf))

    deeper(0, ())
    return best


def test_bars_that_are_few_are_begun_only_as_often_as_there_are_any() -> None:
    # By hand: of the short bar, cheap as it is, there is one; the long one holds two pieces.
    wanted = [(str(k), 900.0) for k in range(4)]
    stock = [Bar("short", 1000.0, count=1, cost=0.1), Bar("long", 1900.0)]
    for stop in (lambda: True, lambda: False):
        names = [bar.bar.name for bar in lengths(wanted, stock, kerf=3.0, stop=stop).bars]
        assert names.count("short") <= 1
        assert names.count("long") == 2


def test_what_is_left_over_is_left_in_one_piece() -> None:
    """Common practice: two skins ripped off one long edge leave the rest of a sheet whole (1220 - 2 x 303 = 614)."""
    found = nest([Piece("a", 2000.0, 300.0, 2)], [Sheet("s", 2440.0, 1220.0)], kerf=3.0)
    (layout,) = found.layouts
    assert layout.offcuts[0].length == pytest.approx(2440.0)
    assert layout.offcuts[0].width == pytest.approx(614.0)


def test_free_search_says_no_only_where_there_is_none() -> None:
    # Five squares of 2 do not lie in a square of 5 (known: the side must be 2 + 4/sqrt 2 = 4.83 if they may be
    # turned by 45 degrees, 6 if not); four do in one of 4.
    squares = [Piece(str(k), 2.0, 2.0) for k in range(5)]
    assert packs(squares, Sheet("s", 5.0, 5.0)) is None
    assert packs(squares[:4], Sheet("s", 4.0, 4.0)) is not None


@pytest.mark.parametrize("light", [False, True])
def test_bars_of_which_none_can_be_nearly_full(light: bool) -> None:
    """By hand: 400, 400, 400, 395, 395 are 1990, two bars by length; but no three go on one: three bars."""
    wanted = [(str(k), size) for k, size in enumerate((400.0, 400.0, 400.0, 395.0, 395.0))]
    found = lengths(wanted, [Bar("bar", 1000.0)], light=light)
    assert len(found.bars) == 3
    assert found.proof.bound <= 3


@pytest.mark.parametrize("seed", range(10))
def test_a_light_answer_claims_no_more_than_brute_force_finds(seed: int) -> None:
    chance = random.Random(seed)  # noqa: S311
    sizes = [float(chance.randint(150, 900)) for _ in range(7)]
    wanted = [(str(k), size) for k, size in enumerate(sizes)]
    found = lengths(
        wanted, [Bar("short", 1000.0, cost=0.6), Bar("long", 1800.0)], kerf=3.0, light=True
    )
    best = least(sizes, [(1000.0, 0.6), (1800.0, 1.0)], 3.0)
    assert found.proof.bound - 1e-6 <= best <= found.proof.found + 1e-6
    assert sorted(p for bar in found.bars for p in bar.pieces) == sorted(wanted)


def test_the_solver_hears_while_it_works() -> None:
    """A market split (Cornuejols and Dawande 1998) of 4 rows and 40 unknowns keeps branch and bound busy for hours."""
    chance = np.random.default_rng(3)
    rows = chance.integers(0, 100, size=(4, 40)).astype(float)
    half = np.floor(rows.sum(axis=1) / 2)
    asked: list[None] = []

    def stop() -> bool:
        asked.append(None)
        return len(asked) > 2

    split = LinearConstraint(rows, half, half)
    found = smallest(np.ones(40), [split], 1.0, seconds=30.0, nodes=None, stop=stop)
    assert len(asked) > 2
    assert found.used is None or found.bound < found.cost
