"""Shares of the rods and levers of the loads, against tributary lengths and lever rules reckoned by hand."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from dataclasses import replace

import pytest

from ledgewright.core import mass
from ledgewright.job import Even, Thing
from ledgewright.layout import Frame
from ledgewright.statics import NOMINAL
from ledgewright.statics.loads import G_N, Part, lasts, parts, self_weight
from ledgewright.statics.seats import rows
from ledgewright.survey import Room
from tests.statics import made
from tests.statics.made import DEPTH, FREE

AGAINST = (
    "tributary lengths and lever rules by hand",
    "hand calculation",
    "1e-12 to 1e-9",
)


def resting(
    placed: tuple[Room, Frame],
    *loads: Even | Thing,
    kind: str = "live",
    single: float = 0.0,
    patch: float = made.LEAN.patch,
) -> list[list[Part]]:
    """The parts of one kind on every rod, leg after leg."""
    room, frame = placed
    leans = (replace(made.LEAN, patch=patch),)
    asked = made.demand(*loads, single=single, accidents=leans)
    return [
        [
            part
            for part in parts(row, i, demand=asked, pressure=1e-4, keep=False)
            if part.kind == kind
        ]
        for row in rows(room, frame, NOMINAL)
        for i in range(len(row.seats))
    ]


def loads_of(found: Sequence[Sequence[Part]]) -> list[float]:
    return [sum(part.force for part in each) for each in found]


W = 0.0005 * DEPTH  # N/mm


def test_a_rod_carries_half_way_to_its_neighbours_and_the_ends_by_the_lever_rule() -> None:
    # 0..1000, rods at 200, 500, 800: middle 300; ends 150 inside + 200 past, its middle 100 out, spacing 300.
    found = loads_of(resting(made.straight([200.0, 500.0, 800.0]), made.even()))
    end = 150 + 200 * (1 + 100 / 300)
    assert found == pytest.approx([W * end, W * 300, W * end], rel=1e-12)


def test_no_neighbour_is_relieved_by_an_overhang() -> None:
    found = loads_of(resting(made.straight([200.0, 500.0, 800.0]), made.even()))
    assert sum(found) > W * 1000


def test_a_lone_rod_takes_all() -> None:
    assert loads_of(resting(made.straight([300.0]), made.even())) == pytest.approx([W * 1000])
    (parts_of_it,) = resting(made.straight([300.0]), made.thing(900.0, mass=7.0))
    assert parts_of_it[0].force == pytest.approx(7 * G_N)


def test_a_strip_counts_where_it_lies() -> None:
    # 100..400 with rods at 200 and 600: past the first 100 (middle 50 out, spacing 400), inside 200; second none.
    found = loads_of(
        resting(
            made.straight([200.0, 600.0]), made.even(None, 0.3, wall="A", start=100.0, end=400.0)
        )
    )
    assert found == pytest.approx([0.3 * (200 + 100 * (1 + 50 / 400)), 0.0])


def test_a_strip_on_another_wall_is_not_this_leg_s() -> None:
    found = loads_of(resting(made.straight([200.0, 600.0]), made.even(wall="B")))
    assert found == [0.0, 0.0]


@pytest.mark.parametrize(
    ("along", "shares"),
    [
        (350.0, [0.5, 0.5, 0.0]),
        (260.0, [0.8, 0.2, 0.0]),
        (500.0, [0.0, 1.0, 0.0]),
        (50.0, [1.5, 0.0, 0.0]),  # 150 past the end, spacing 300
        (950.0, [0.0, 0.0, 1.5]),
    ],
)
def test_things_go_to_their_two_rods_by_the_lever_rule(along: float, shares: list[float]) -> None:
    found = loads_of(resting(made.straight([200.0, 500.0, 800.0]), made.thing(along)))
    assert found == pytest.approx([10 * G_N * share for share in shares], abs=1e-9)


def test_levers_count_from_the_wood() -> None:
    (found,) = resting(made.straight([500.0]), made.even(), made.thing(500.0, out=120.0))
    assert [part.lever for part in found] == pytest.approx([FREE + DEPTH / 2, FREE + 120.0])


def test_contents_by_length_stand_flush_with_the_front_of_a_deeper_shelf() -> None:
    # This shelf is as deep as the 250 mm that contents are taken to be: mid depth. See the deeper one below.
    (found,) = resting(made.straight([500.0]), made.even(None, 0.3))
    assert found[0].lever == pytest.approx(FREE + DEPTH / 2)
    room, frame = made.straight([500.0])
    a, b = frame.legs[0].front
    deeper = Frame(
        frame.shelf,
        frame.outline,
        frame.blank,
        (made.leg(room.walls[0], 0.0, 1000.0, ((a[0], -350.0), (b[0], -350.0))),),
        (),
        frame.rods,
        frame.slots,
        frame.top,
        frame.thick,
        "A",
    )
    ((part,),) = resting((room, deeper), made.even(None, 0.3))
    assert part.lever == pytest.approx(FREE + 350.0 - 125.0)


def test_someone_leans_where_it_is_worst_for_each_rod() -> None:
    # 600 N on 100 x 100 mm at the front edge: over a middle rod; at an end 50 mm in, 150 past the rod, spacing 300.
    found = resting(made.straight([200.0, 500.0, 800.0]), kind="accident")
    assert loads_of(found) == pytest.approx([600 * 1.5, 600.0, 600 * 1.5])
    assert {part.lever for each in found for part in each} == {FREE + DEPTH - 50.0}


def test_whoever_leans_never_presses_behind_the_wall() -> None:
    """By hand: a square wider than the shelf is deep lies on all its depth, its middle half way out."""
    (found,) = resting(made.straight([500.0]), kind="accident", patch=600.0)
    assert [part.lever for part in found] == [FREE + DEPTH / 2]


def test_one_heavy_thing_may_stand_anywhere() -> None:
    found = resting(made.straight([200.0, 500.0, 800.0]), kind="single", single=30.0)
    assert loads_of(found) == pytest.approx([30 * G_N * f for f in (1.5, 1.0, 1.5)])


def test_the_corner_square_goes_to_the_left_leg_and_the_right_one_starts_at_its_front_line() -> (
    None
):
    # A runs 0..1000 to the corner, rods at 300 and 700: past the last 300, middle 150, spacing 400.
    # B runs from the corner, its strip from A's front line at 250, rods at 350 and 650 of 800: 100 and 150 past.
    found = loads_of(resting(made.corner([300.0, 700.0], [350.0, 650.0]), made.even()))
    by_hand = [
        200 + 300 * (1 + 150 / 400),
        200 + 300 * (1 + 150 / 400),
        150 + 100 * (1 + 50 / 300),
        150 + 150 * (1 + 75 / 300),
    ]
    assert found == pytest.approx([W * each for each in by_hand])


def test_contents_put_on_the_right_wall_count_right_up_to_the_corner() -> None:
    found = loads_of(resting(made.corner([300.0, 700.0], [350.0, 650.0]), made.even(wall="B")))
    assert found[2] == pytest.approx(W * (150 + 350 * (1 + 175 / 300)))


def test_nobody_leans_inside_the_corner() -> None:
    # The front edge of B starts at the inner corner, 250 along; 50 in from there is 300, 50 past the rod at 350.
    found = loads_of(resting(made.corner([300.0, 700.0], [350.0, 650.0]), kind="accident"))
    assert found[2] == pytest.approx(600 * (1 + 50 / 300))
    # A's front edge ends at 750; 50 in from there is 700, right over its last rod.
    assert found[1] == pytest.approx(600.0)


def test_self_weight_of_a_shelf_with_a_solid_core() -> None:
    # 1000 x 250 with edging 10 x 50 in front and at both ends: two skins 18 at 600, core 14 at 500 (kg).
    spec, (_, frame) = made.spec(), made.straight([500.0])
    inside = 0.980 * 0.240
    edging = (1.0 + 2 * (0.250 + spec.scribe_allowance / 1000)) * 0.010 * 0.050 * 500
    by_hand = inside * (2 * 0.018 * 600 + 0.014 * 500) + edging
    assert mass(spec=spec, frame=frame, core=None) == pytest.approx(by_hand)
    assert self_weight(spec, frame, None) * 250_000 == pytest.approx(by_hand * G_N)


def test_the_longest_standing_contents_decide_the_duration() -> None:
    (found,) = resting(made.straight([500.0]), made.even(lasts="days"), made.even(lasts="months"))
    assert lasts(found) == "months"
    assert lasts([]) == "years"


@pytest.mark.parametrize("seed", range(30))
def test_rods_never_carry_less_than_rests_on_the_shelf(seed: int) -> None:
    """Whatever the places of rods, strips and things: the shares add up to the load, or more past the ends."""
    source = random.Random(seed)  # noqa: S311  # no secret, only a spread of inputs
    places = sorted(source.uniform(0.0, 1000.0) for _ in range(source.randint(1, 6)))
    start, end = sorted((source.uniform(0.0, 1000.0), source.uniform(0.0, 1000.0)))
    strip = made.even(None, 0.4, wall="A", start=start, end=end)
    along = source.uniform(0.0, 1000.0)
    placed = made.straight(places)
    assert sum(loads_of(resting(placed, strip))) >= 0.4 * (end - start) * (1 - 1e-12)
    assert sum(loads_of(resting(placed, made.thing(along)))) >= 10 * G_N * (1 - 1e-12)
    inner = places[0] <= start and end <= places[-1] and len(places) > 1
    if inner:
        assert sum(loads_of(resting(placed, strip))) == pytest.approx(0.4 * (end - start))


def test_two_rods_in_one_place_do_not_stop_the_reckoning() -> None:
    found = resting(made.straight([500.0, 500.0]), made.even(), made.thing(500.0))
    assert all(math.isfinite(part.force) for each in found for part in each)
