"""Flats for grub screws: where they are filed from the tip, and that shop and site are told the same ones."""

from __future__ import annotations

from dataclasses import replace

import pytest

from ledgewright.job import Order
from ledgewright.judge import Design
from ledgewright.plan import Plan, sketch
from ledgewright.sheets.dressing import dressed, flats, underneath
from ledgewright.sheets.say import Say
from ledgewright.site import Withheld, as_set
from tests import jobs
from tests.site.test_as_set import with_rods

AGAINST = (
    "geometry: tip less place of the lock, as drawn and as rods are read; a 6 mm point on a flat of 12",
    "plain vectors, figures put in",
    "1e-6 mm",
)

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
    job = replace(plan.job, shelves=(replace(plan.job.shelves[0], lock=lock),))
    (other,) = sketch(job, jobs.MEMO).designs
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


def further_out(by: float, order: Order) -> Plan:
    """The alcove with all rods read: B2, which is locked, sticks out further, the others as drawn."""
    return sketch(with_rods("reading-alcove", {1: (0.0, 0.0, 0.0, 0.0, by)}, order), jobs.MEMO)


@pytest.mark.parametrize("order", ["rods first", "shelf first"])
def test_what_is_filed_before_rods_are_set_is_told_the_same_once_they_are(order: Order) -> None:
    before, _ = with_locks()
    after = further_out(5.0, order)
    bar = before.designs[0].frame.rods[0].bar.name
    assert dressed(after, bar, MM) == dressed(before, bar, MM)
    assert underneath(after.designs[0], "back") == underneath(before.designs[0], "back")


def out_of(design: Design, mark: str) -> tuple[float, str]:
    """How far out of the wall's face the lock of a rod is, by plain vectors; and why it is lost."""
    assert design.core is not None
    rod = next(rod for rod in design.frame.rods if rod.mark == mark)
    (lock,) = [lock for lock in design.core.locks if lock.rod == rod.id]
    face = rod.point(rod.free)
    away = (lock.at[0] - face[0], lock.at[1] - face[1])
    return away[0] * rod.axis[0] + away[1] * rod.axis[1], lock.lost


def test_the_insert_goes_over_the_flat_where_its_rod_really_stands() -> None:
    """Rods first: a flat is fixed to its tip; read 5 mm further out, it and its insert are 5 mm further out."""
    _, drawn = with_locks()
    (read,) = further_out(5.0, "rods first").designs
    for mark, by in (("B2", 5.0), ("B3", 0.0)):
        (was, _), (stands, lost) = out_of(drawn, mark), out_of(read, mark)
        assert stands == pytest.approx(was + by, abs=1e-6)
        assert lost == ""


@pytest.mark.parametrize(("by", "holds"), [(2.9, True), (-2.9, True), (3.1, False), (-3.1, False)])
def test_an_insert_that_is_in_before_the_rods_may_miss_its_flat(by: float, holds: bool) -> None:
    """Shelf first: a point of 6 mm has 3 mm either way on a flat of 12."""
    _, drawn = with_locks()
    (read,) = further_out(by, "shelf first").designs
    stands, lost = out_of(read, "B2")
    assert stands == pytest.approx(out_of(drawn, "B2")[0], abs=1e-6)
    assert (lost == "") is holds
    assert holds or f"misses its flat, which stands {abs(by):.1f} mm" in lost
    found = as_set(read, "shelf first")
    assert found is not None
    assert any("misses its flat" in why for why in found.why) is not holds
