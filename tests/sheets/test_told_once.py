"""What pages tell of grooves, cables, ledgers, heights and screws, each against a figure or a fact of the trade."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest

from ledgewright.job import Cable, Groove, Job
from ledgewright.memo import Memo
from ledgewright.plan import Plan, sketch
from ledgewright.sheets import guide_sheet, guide_tiles, layouts, shopping, shopside, walls
from ledgewright.sheets.corewords import core_rules, into_groove, least_screw, lock_named
from ledgewright.sheets.say import Say
from ledgewright.sheets.shop_pages import glue_sheet
from ledgewright.site import Drill
from tests import jobs

AGAINST = (
    "places and heights by hand from the job; common practice of the trade, as each test says",
    "figures read off the pages",
    "exact; 1/128 in",
)


def changed(name: str, **spec: object) -> Job:
    job = jobs.job(name)
    return replace(job, shelves=tuple(replace(each, **spec) for each in job.shelves))  # type: ignore[arg-type]


@cache
def quick(name: str) -> Plan:
    """An example laid out, fitted and cored: the pages here ask for no statics."""
    return sketch(jobs.job(name), jobs.MEMO)


def said(plan: Plan, which: int = 0) -> str:
    notes = core_rules(plan.designs[which], Say.of(plan.job.meta), plan.designs)
    return " ".join(line for note in notes for line in note.lines)


def shop(plan: Plan) -> shopside.Side:
    found = shopside.side(plan)
    assert isinstance(found, shopside.Side)
    return found


# ---- groove and cable


def test_a_light_groove_is_cut_before_any_glue() -> None:
    """Common practice: in the bare skin. The alcove has one; its day stands before the dry lay-up."""
    work = shop(quick("reading-alcove")).work
    order = [task.id for task in work.tasks]
    (groove,) = [task for task in work.tasks if task.what == "light groove"]
    lay = next(task for task in work.tasks if task.what == "dry lay-up")
    assert groove.id in {after.task for after in lay.after}
    assert order.index("sheets") < order.index(groove.id) < order.index(lay.id)
    assert "edging" not in {after.task for after in groove.after}


def test_the_glue_up_names_the_groove_and_the_hole_for_the_cable() -> None:
    plan = quick("reading-alcove")
    up = shop(plan).work.glue_ups[0]
    lines = [line for part in glue_sheet(shop(plan), up, None).parts for line in part.lines]
    assert [line for line in lines if "light groove has been cut in the bottom skin" in line]
    cabled = sketch(
        changed("reading-alcove", cables=(Cable("back", 300.0, 12.0, None, ""),)), Memo(64)
    )
    lines = [line for part in glue_sheet(shop(cabled), up, None).parts for line in part.lines]
    assert [line for line in lines if "light groove and the hole that takes the cable" in line]


@pytest.mark.parametrize(("front", "meets"), [(29.0, True), (46.0, True), (48.0, False)])
def test_a_cable_that_is_led_into_the_groove_gets_its_hole(front: float, meets: bool) -> None:
    """The groove of the alcove lies 30 to 47 behind the front edge; the cable's way ends so far behind it."""
    depth = quick("reading-alcove").designs[0].frame.legs[0].depth
    cable = Cable("back", 300.0, 12.0, depth - front, "")
    plan = sketch(changed("reading-alcove", cables=(cable,)), Memo(64))
    assert (into_groove(plan.designs[0]) == (cable,)) is meets
    assert ("bored through" in said(plan)) is meets


def test_grooves_that_part_at_the_corner_are_told_with_the_cable_that_is_missing() -> None:
    """Of an L in two sections one runs through the corner; the other's groove ends at its front, off the first's."""
    leg = quick("stoneware-corner").designs[0].frame.legs[0]
    job = changed(
        "stoneware-corner",
        groove=Groove(15.0, 6.0, 40.0),
        cables=(Cable(leg.wall, (leg.start + leg.end) / 2, 12.0, None, ""),),
    )
    plan = sketch(job, Memo(64))
    through, other = said(plan, 0), said(plan, 1)
    assert "do not meet: the other one ends dead at the joint" in through
    assert "do not meet: this one ends dead at the joint" in other
    assert "No cable comes into this section's groove" in other
    assert "No cable comes" not in through
    assert "do not meet" not in said(sketch(changed("stoneware-corner", groove=None), Memo(64)), 1)


# ---- screws


def test_the_least_length_of_a_grub_screw_by_hand() -> None:
    """Skin, all the play of the slot, and the 1.5 of the flat; in a groove the skin that is left."""
    (design,) = quick("reading-alcove").designs
    (up,) = {rod.clearance.up for rod in design.frame.rods}
    least = design.spec.skin_bottom.thick + up + 1.5
    assert least_screw(design) == pytest.approx(least)
    for units in ("mm", "in"):
        words = lock_named(design, Say(units, "en-GB"))
        figure = re.search(r", ([\d./ ]+)( mm|\") or longer", words)
        assert figure is not None
        told = float(sum(Fraction(part) for part in figure[1].split()))
        assert least <= told * (25.4 if units == "in" else 1.0) < least + 2.0
    assert "insert, flush inside" in said(quick("reading-alcove"))


# ---- on the van and on the wall


def test_cards_are_on_the_van_in_every_order_and_the_template_where_there_is_one() -> None:
    plan = quick("reading-alcove")
    for order in ("rods first", "shelf first"):
        made = replace(plan, job=replace(plan.job, meta=replace(plan.job.meta, order=order)))
        line = next(x for x in shopping._rods(shop(made)) if "thermometer" in x)
        assert "drill and set cards" in line
        assert ("template off the core" in line) is (order == "shelf first")
        (leave,) = [each for _, _, each in plan.leave]
        assert isinstance(leave, Drill)
        ticks = walls.drill_card(made, made.designs[0], leave, None).ticks
        told = [tick for tick in ticks if tick.startswith("Template:")]
        assert len(told) == (order == "shelf first")
        assert not told or "Over 1.5 mm off the tape's figure, which counts: stop" in told[0]


@pytest.mark.parametrize("name", ["stoneware-corner", "record-wall"])
def test_heights_in_inches_are_told_finer_than_what_is_allowed(name: str) -> None:
    """By hand: top less top skin and half the core. 1/64 in is allowed up or down; half of that is the rounding."""
    plan = quick(name)
    for design, leave in (
        (d, each) for d in plan.designs for s, _, each in plan.leave if s == d.spec.id
    ):
        assert isinstance(leave, Drill)
        spec = design.spec
        real = (spec.top - spec.skin_top.thick - spec.core.thick / 2) / 25.4
        for row in walls.drill_card(plan, design, leave, None).holes.rows:
            told = sum(Fraction(part) for part in row[3].split())
            assert abs(float(told) - real) <= 1 / 128 + 1e-9
        found = guide_tiles.of_wall(plan, design, leave)
        assert found is not None
        (edge,) = [
            f.value for f in guide_sheet.sheet(plan, design, found).facts if "edge" in f.label
        ]
        assert (
            abs(float(sum(Fraction(p) for p in edge.split())) - found.up / 25.4) <= 1 / 128 + 1e-9
        )


def test_a_ledger_that_no_screw_holds_is_held_otherwise_and_no_screw_is_on_the_van(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Common practice: a prop off the floor always does; what stands beside may not be there."""
    plan = quick("reading-alcove")
    (found,) = [(name, d, g) for name, d, g in guide_tiles.guided(plan)]
    assert "screws for the hidden band" in " ".join(shopping._rods(shop(plan)))
    name, design, guide = found
    bare = replace(guide, screw_down=None)
    words = " ".join(guide_sheet._ledger(design, bare, Say.of(plan.job.meta)))
    assert "prop it off the floor" in words
    assert "beside, or" not in words
    monkeypatch.setattr(shopping, "guided", lambda _: iter([(name, design, bare)]))
    van = " ".join(shopping._rods(shop(plan)))
    assert "screws for the hidden band" not in van
    assert "props" in van


def test_a_core_bit_for_tile_clears_the_ledger() -> None:
    """Geometry: the ledger's edge is so far under the middle of the hole; a wider bit than twice that would meet it."""
    plan = quick("reading-alcove")
    ((_, design, guide),) = list(guide_tiles.guided(plan))
    (wall,) = [w for w in design.room.walls if w.id == guide.wall]
    tiled = replace(wall, lining=(("ceramic tile", 8.0), *wall.lining))
    (line,) = walls._tiled(tiled, Say.of(plan.job.meta), guide)
    most = re.search(r"not over ([\d.]+) mm, clear of the ledger", line)
    assert most is not None
    assert max(rod.hole for rod in design.frame.rods) < float(most[1]) <= 2 * guide.over


@pytest.mark.parametrize(("units", "spare"), [("mm", "50 mm"), ("in", '2"')])
def test_what_a_checked_end_must_leave_is_told_in_round_figures(units: str, spare: str) -> None:
    plan = quick("reading-alcove")
    words = " ".join(layouts._about_lengths(plan, Say(units, "en-GB")))  # type: ignore[arg-type]
    assert f"less than {spare} is left" in words
