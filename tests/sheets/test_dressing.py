"""Flats for grub screws: where they are filed from the tip, and that shop and site are told the same ones."""

from __future__ import annotations

from dataclasses import replace

import pytest

from ledgewright.judge import Design
from ledgewright.plan import Plan
from ledgewright.sheets.dressing import dressed, flats, underneath
from ledgewright.sheets.say import Say
from ledgewright.site import Withheld
from tests import jobs

AGAINST = ("geometry: tip less place of the lock", "plain vectors", "1e-9 mm")

MM = Say("mm", "en-GB")


def with_locks() -> tuple[Plan, Design]:
    plan = jobs.plan("reading-alcove")
    (design,) = plan.designs
    assert design.spec.lock.kind == "grub screw"
    return plan, design


def test_a_flat_lies_over_its_lock() -> None:
    """The plan point so far back from the tip as the flat's middle is the lock's, on the axis of the rod."""
    _, design = with_locks()
    assert design.core is not None
    told = {rod.id: (rod, back) for rod, back in flats(design)}
    assert set(told) == {lock.rod for lock in design.core.locks}
    for lock in design.core.locks:
        rod, back = told[lock.rod]
        tip = rod.point(rod.free + rod.projection)[:2]
        found = (tip[0] - back * rod.axis[0], tip[1] - back * rod.axis[1])
        assert found == pytest.approx(lock.at, abs=1e-6)
        assert 0 < back < rod.projection


def test_shop_and_site_are_told_of_the_same_rods() -> None:
    plan, design = with_locks()
    bar = design.frame.rods[0].bar.name
    marks = [rod.mark for rod, _ in flats(design)]
    shop = dressed(plan, bar, MM)[-1]
    assert all(mark in shop for mark in marks)
    assert "12 long and 1.5 deep" in shop
    wall = design.frame.rods[0].wall
    (site,) = underneath(design, wall)
    assert all(mark in site for mark in marks)


def test_no_grub_screw_no_flat() -> None:
    plan, design = with_locks()
    lock = replace(design.spec.lock, kind="sealant")
    other = replace(design, spec=replace(design.spec, lock=lock))
    assert list(flats(other)) == []
    bar = design.frame.rods[0].bar.name
    assert not any("flat" in line for line in dressed(replace(plan, designs=(other,)), bar, MM))
    assert underneath(other, design.frame.rods[0].wall) == ()


def test_nothing_is_told_of_a_rod_in_a_wall_that_waits() -> None:
    plan = jobs.plan("stoneware-corner")
    waits = next(d for d in plan.designs if list(flats(d)))
    rod, _ = next(iter(flats(waits)))
    held = replace(
        plan,
        leave=tuple(
            (shelf, wall, Withheld(wall, ()) if wall == rod.wall else leave)
            for shelf, wall, leave in plan.leave
        ),
    )
    assert not any(f"{rod.mark} " in line for line in dressed(held, rod.bar.name, MM))
