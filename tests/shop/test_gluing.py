"""Glue-up and rod setting against figures worked by hand from common practice."""

from __future__ import annotations

import dataclasses
import math
from itertools import pairwise

import pytest
from shapely import LineString, Polygon

from ledgewright import shop
from ledgewright.job import Shop
from ledgewright.stock import adhesive, gluing, gluing_rows
from tests.jobs import job
from tests.shop import made


def up(name: str, **changes: object) -> shop.GlueUp:
    of: Shop = dataclasses.replace(job(name).shop, **changes)  # type: ignore[arg-type]
    found = shop.glue_up(of, made.sections(name)[0])
    assert found is not None
    return found


def test_glue_of_the_alcove_by_hand() -> None:
    """Spread of 180 g/m2 a face, two coats on what is thirsty, 15 % stays in the pot (common practice)."""
    whole = made.sections("reading-alcove")[0]
    assert whole.core is not None
    faces = 2 * sum(Polygon(p.plan).area for p in whole.core.pieces)
    edges = math.dist(*whole.frame.legs[0].front) * 2 * 15.0  # both skins behind the lipping
    ends = sum(
        2 * p.width * 17
        for p in whole.core.pieces
        if "strip" not in p.kind or p.kind == "end strip"
    )
    skin = whole.spec.skin_top.thick
    edges *= skin / 15.0
    found = up("reading-alcove")
    assert found.area == pytest.approx(faces)
    assert found.thirsty == pytest.approx(edges + ends)
    assert found.mass == pytest.approx(0.180e-6 * (faces + 2 * (edges + ends)) * 1.15)


def test_two_pieces_of_a_skin_are_glued_to_each_other() -> None:
    """Each joint of an L's skin has two thirsty edges, as long as a mitre over the depth."""
    whole = made.sections("stoneware-corner-first-try")[0]
    one = dataclasses.replace(
        whole, parts=tuple(p for p in whole.parts if p.kind != "skin" or p.letter in ("S1", "S3"))
    )
    of = job("stoneware-corner-first-try").shop
    both, single = shop.glue_up(of, whole), shop.glue_up(of, one)
    assert both is not None
    assert single is not None
    more = 2 * 2 * 10.5 * 25.4 * math.sqrt(2) * whole.spec.skin_top.thick
    assert both.thirsty - single.thirsty == pytest.approx(more)


def test_cauls_by_the_45_degree_rule() -> None:
    """Pressure spreads at 45 degrees: 2 x (89 + skin) from caul to caul. By hand: 1180.5 / 207.6 is 5.7, so six."""
    found = up("reading-alcove")
    assert found.spacing == pytest.approx(
        2 * (89 + made.sections("reading-alcove")[0].spec.skin_top.thick)
    )
    assert [len(each.at) for each in found.cauls] == [6]
    assert found.clamps_needed == 12
    assert found.clamps_short == 0  # twelve are there
    assert up("reading-alcove", clamps=10).clamps_short == 2


@pytest.mark.parametrize("name", ["stoneware-corner-first-try", "record-wall", "reading-alcove"])
def test_cauls_press_the_whole_box(name: str) -> None:
    """No place of a leg is further than half the spacing from a caul, and each caul lies across the box."""
    whole, found = made.sections(name)[0], up(name)
    outline = Polygon(whole.frame.outline)
    for each in found.cauls:
        edges = [0.0, *each.at, each.length]
        gaps = [b - a for a, b in pairwise(edges)]
        assert max(gaps[0], gaps[-1]) <= found.spacing / 2 + 1e-9
        assert max(gaps[1:-1]) <= found.spacing + 1e-9
        for line in each.lines:
            assert outline.buffer(25).contains(LineString(line))
            assert outline.intersection(LineString(line)).length > 0.85 * whole.spec.depth
    assert sum(c.length for c in found.cauls) * whole.spec.depth == pytest.approx(
        outline.area, rel=0.06
    )


def test_time_against_the_glue_by_hand() -> None:
    """20 s a face, 10 s to lay, 60 s a skin, 10 s a clamp, one pair of hands: seconds added up by hand."""
    whole = made.sections("reading-alcove")[0]
    assert whole.core is not None
    n = len(whole.core.pieces)
    one = up("reading-alcove", people=1)
    assert [p.what for p in one.pressings] == ["core on the bottom skin", "top skin on the core"]
    assert one.pressings[0].whole == n * 30 + 12 * 10
    assert one.pressings[1].bare == n * 20 + 60
    assert one.pressings[1].whole == n * 20 + 60 + 12 * 10
    assert not one.fits  # 5 min open: 420 s of last faces
    two = up("reading-alcove", people=2)
    assert two.fits
    assert one.enough == 2


def test_a_glue_that_stays_open_longer_needs_one_pressing() -> None:
    bench = dataclasses.replace(
        job("reading-alcove").shop.bench, glue=adhesive("urea"), temperature=21.5
    )
    found = up("reading-alcove", people=2, bench=bench)
    assert [p.what for p in found.pressings] == ["all of it"]
    assert found.fits
    worked = gluing("urea")
    assert worked.assembly is not None
    # Common practice: 1.5 C over 20 C leaves 2^-0.15 of the time.
    assert found.pressings[0].may_take == pytest.approx(worked.assembly * 60 * 2**-0.15)


def test_a_hot_shop_halves_the_time() -> None:
    hot = dataclasses.replace(job("reading-alcove").shop.bench, temperature=30.0)
    cool = dataclasses.replace(job("reading-alcove").shop.bench, temperature=12.0)
    assert up("reading-alcove", bench=hot).pressings[0].may_take == 300
    assert up("reading-alcove", bench=cool).pressings[0].may_take == 600


def test_adhesive_of_the_alcove_s_rods_by_hand() -> None:
    """Four holes of 18 round bars of 16, 75 deep, a third over: 4 x pi/4 x (18^2 - 16^2) x 75 x 1.35 = 21.6 ml."""
    (found,) = shop.work(job("reading-alcove"), made.sections("reading-alcove")).settings
    assert found.volume == pytest.approx(4 * math.pi / 4 * (18**2 - 16**2) * 75 * 1.35)
    assert (found.rods, found.per_mix, found.mixes) == (4, 10, 1)  # 30 min at 3 min a rod
    assert found.cartridges == 1


def test_a_quick_mix_is_made_more_often_and_bought_more_of() -> None:
    whole = made.sections("record-wall")
    quick = adhesive("polyurethane rigid two-part")
    rods = tuple(dataclasses.replace(rod, adhesive=quick) for rod in whole[0].frame.rods)
    frame = dataclasses.replace(whole[0].frame, rods=rods)
    (found,) = shop.work(job("record-wall"), (dataclasses.replace(whole[0], frame=frame),)).settings
    # 10 min at 20 C, at 70 F (21.1 C) 2^-0.11 of it: 9.26 min, three rods at 3 min; eight rods take three mixes.
    assert found.minutes == pytest.approx(10 * 2 ** -((70 - 32) / 1.8 / 10 - 2))
    assert (found.per_mix, found.mixes) == (3, 3)


def test_every_box_glue_is_spread_and_every_rod_glue_is_mixed() -> None:
    for row in gluing_rows():
        use = adhesive(row.name).use
        assert (row.spread is not None) is (use == "box"), row.name
        assert (row.pot_life is not None) is (use != "box"), row.name
