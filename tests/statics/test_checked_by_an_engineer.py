"""What a checking engineer found: things on small bases, rods near the ends of studs, stainless bars, boards."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from ledgewright import stock
from ledgewright.job import Demand, Thing
from ledgewright.memo import Memo
from ledgewright.plan import check
from ledgewright.statics import Check, bases
from ledgewright.statics.bases import Sheeting, When
from ledgewright.statics.checks import _yields
from ledgewright.statics.formula import Working
from tests import jobs

AGAINST = (
    "bending of a skin under a thing; end distances; partial factor of stainless bars; duration of boards",
    "Roark T11.4 case 1b (from memory); EN 1995-1-1 T8.4; EN 1993-1-4 5.1 (2) (from memory); docs/section-model.md",
    "1 %",
)
QUIET = Working(keep=False)


def rows(demands: tuple[Demand, ...]) -> dict[str, Check]:
    made = replace(jobs.job("reading-alcove"), demands=demands)
    return {c.id: c for d in check(made, Memo()) for c in d.holds.checks}


def on_a_small_base(feet: tuple[float, float] | None) -> Check:
    """A thing of 80 kg on 40 x 40 mm, or on four feet 15 mm apart."""
    job = jobs.job("reading-alcove")
    demand: Demand = job.demands[0]
    thing = Thing("safe", "back", 680.0, 150.0, (40.0, 40.0), feet, 80.0, "years")
    loads = (*demand.loads, thing)
    return rows(demands=(replace(demand, loads=loads),))["skin.patch@top skin"]


def test_a_heavy_thing_on_a_small_base_bends_the_skin_by_all_its_weight() -> None:
    """Roark T11.4 case 1b by hand: sigma = 3 W / (2 pi t^2) ((1 + nu) ln(2 b / pi r) + beta), r of the same area."""
    spec, row = jobs.job("reading-alcove").shelves[0], on_a_small_base(None)
    t, W, r = spec.skin_top.thick, 1.5 * 80 * 9.80665, math.sqrt(40 * 40 / math.pi)
    told = {step.symbol: step.value for step in row.steps}
    b, nu, beta = told["b"], told["nu"], told["beta"]
    assert b <= spec.core.max_span
    by_hand = 3 * W / (2 * math.pi * t**2) * ((1 + nu) * math.log(2 * b / (math.pi * r)) + beta)
    assert row.demand == pytest.approx(by_hand, rel=0.01)
    # Four feet near each other are one base as large as they stand round.
    assert on_a_small_base((15.0, 15.0)).demand == pytest.approx(row.demand, rel=1e-6)


@pytest.mark.parametrize(("height", "says"), [(2400.0, True), (1470.0, False)])
def test_a_rod_near_the_end_of_its_stud_is_not_judged(height: float, says: bool) -> None:
    """EN 1995-1-1 T8.4, a_3,t: 7 d, and 80 mm at least, from an end that the dowel presses towards."""
    job = jobs.job("reading-alcove")
    walls = tuple(replace(wall, height=height) for wall in job.tapes.walls)
    (design,) = check(replace(job, tapes=replace(job.tapes, walls=walls)), Memo())
    silent = [each for each in design.holds.cannot_say if each.family == "stud.split"]
    assert bool(silent) is not says
    assert all("from the end of its stud" in each.why for each in silent)


def test_a_stainless_bar_has_its_own_partial_factor() -> None:
    """EN 1993-1-4 5.1 (2), from memory: gamma_M0 = 1.1; round: W_pl = d^3 / 6, M = W_pl f_y / 1.1."""
    bar = stock.bar("round 12 304")
    got = bases.rules("ec5").rod_bend(QUIET, bar, 300.0, "strength")
    assert got.value == pytest.approx(12**3 / 6 * bar.Fy / 1.1, rel=1e-6)
    plain = stock.bar("round 12 S235")
    got = bases.rules("ec5").rod_bend(QUIET, plain, 300.0, "strength")
    assert got.value == pytest.approx(12**3 / 6 * plain.Fy, rel=1e-6)


def test_a_stainless_bar_is_at_the_edge_of_aisc_360_and_straight_to_seven_tenths() -> None:
    """AISC 360 A1: structural steel; stainless has AISC 370 (from memory).

    Ramberg and Osgood, EN 1993-1-4 Annex C (from memory), n = 6: 0.002 x 0.7^6 stays at 0.7 of the proof stress, an
    eighth of what stays at all of it.
    """
    for name, scope in (("round 5/8 304", "stretched"), ("round 5/8 1018", "in")):
        bar = stock.bar(name)
        assert bases.rules("nds").rod_bend(QUIET, bar, 300.0, "strength").scope == scope
        assert bases.rules("nds").rod_shear(QUIET, bar, "strength").scope == scope
        stress, can = _yields(bar, 1000.0, QUIET)
        assert stress == pytest.approx(1000.0 / (math.pi * 15.875**3 / 32))
        assert can.value == pytest.approx(bar.Fy * (0.7 if scope == "stretched" else 1.0))
    assert pytest.approx(0.002 / 8.5, rel=0.01) == 0.002 * 0.7**6


def test_a_board_that_is_pressed_for_years_takes_less_than_for_minutes() -> None:
    """Boards tire sooner than timber (k_mod, EN 1995-1-1 T3.1); lumber pressed across it does not (NDS 4.2.6)."""
    for name, tires in (("mr mdf 18", True), ("birch ply 18", False)):
        panel = stock.panel(name)
        of = Sheeting(panel, stock.panel_strengths(name))
        rules = bases.panel_rules("nds")
        long, short = (
            rules.sheet(QUIET, of, "pressed", When("strength", lasts)).value
            for lasts in ("years", "minutes")
        )
        assert (long < 0.7 * short) is tires
        assert tires or long == short
