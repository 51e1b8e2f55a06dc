"""Waits against the trade's rule: 10 C colder is twice as long, the comb half as long again, never below the label."""

from __future__ import annotations

import dataclasses

import pytest

from ledgewright import shop
from ledgewright.stock import adhesive, finish
from tests.jobs import job
from tests.shop import made


def test_ten_degrees_colder_is_twice_the_wait() -> None:
    # Common practice: 20 C as the label says, 10 C twice, and in between as the root of two for 5 C.
    assert shop.wait(12, 20, 5) == 12
    assert shop.wait(12, 10, 5) == 24
    assert shop.wait(12, 15, 5) == pytest.approx(12 * 2**0.5)
    assert shop.wait(12, 30, 5) == 12  # warmth shortens no wait


def test_the_comb_stays_half_as_long_again() -> None:
    assert shop.comb(8, 20, 5) == 12
    assert shop.comb(8, 10, 5) == 24


def test_thickened_epoxy_in_a_cold_room_is_given_its_72_hours() -> None:
    """Trade fact: slow thickened epoxy bears its full load after 72 h at 10 to 13 C."""
    glue = adhesive("epoxy thickened")
    assert all(shop.wait(glue.full_load, warm, glue.coldest) >= 72 for warm in (10, 11, 12, 13))


def test_below_the_least_of_the_label_there_is_no_wait_at_all() -> None:
    with pytest.raises(shop.TooColdError):
        shop.wait(12, 9.9, 10)
    cold = made.bench(job("reading-alcove"), temperature=9.0)
    with pytest.raises(shop.TooColdError):
        shop.work(cold, made.sections("reading-alcove"))
    site = dataclasses.replace(job("reading-alcove").site, temperature=9.0)
    outside = dataclasses.replace(job("reading-alcove"), site=site)
    with pytest.raises(shop.TooColdError):
        shop.work(outside, made.sections("reading-alcove"))


def test_warmth_shortens_the_time_to_work_and_cold_gives_none() -> None:
    # Common practice: half as long 10 C warmer.
    assert shop.work_time(10, 30) == 5
    assert shop.work_time(10, 20) == 10
    assert shop.work_time(10, 12) == 10


def test_classes_keep_to_the_slow_end_of_the_trade_s_table() -> None:
    # The trade's table at 20 C, in hours: until the next coat, carried, heavy things; oil 12-24, 48, 10-14 days.
    slow = {
        "waterborne paint": (4, 24, 7 * 24),
        "lacquer": (4, 24, 7 * 24),
        "hardwax oil": (24, 48, 14 * 24),
    }
    for name, waits in slow.items():
        row = finish(name)
        assert (row.recoat, row.handle, row.full_load) == waits
