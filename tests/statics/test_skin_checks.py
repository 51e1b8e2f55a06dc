"""The checks of skins, core and glue: every factor by hand, both bases, and the place that counts.

Figures are worked out beside each check from the sources named there; strengths from the catalogue's rows are put in
as round numbers so that nothing of ours stands behind a check.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import Any

import numpy as np
import pytest

from ledgewright.statics.bases import Ec5Panels, NdsPanels, PanelRules, Sheeting, When, panel_rules
from ledgewright.statics.formula import Working
from ledgewright.statics.glue_checks import (
    GLUE,
    Slid,
    SlidMost,
    core_comp,
    evened_over,
    glue_peel,
    glue_shear,
    most_slid,
    parted_over,
    sliding,
    through,
    width_of,
)
from ledgewright.statics.mechanics.section import (
    Carried,
    Fill,
    Piece,
    Section,
    Skin,
    Spread,
    Tied,
    isotropic,
)
from ledgewright.statics.row import Found
from ledgewright.statics.skin_checks import (
    Bay,
    Bent,
    Patch,
    Sheared,
    bays,
    bent_at,
    bent_where,
    most_bent,
    most_sheared,
    sag_wave,
    sheared_where,
    skin_bear,
    skin_bend,
    skin_mouth,
    skin_patch,
    skin_roll,
)
from ledgewright.stock import PanelStrengths, bar, panel, panel_strengths
from tests.statics.section.made import box

AGAINST = (
    "EN 1995-1-1 T2.3, T3.1, 6.17; NDS T2.3.2; ASTM D2915; Roark T11.4",
    "hand calculation; some factors from memory, as said there",
    "1e-12 to 1e-9",
)

YEARS = When("strength", "years")
MONTHS = When("strength", "months")
SHOCK = When("accident", "years")
PSI = 4.4482216152605 / 25.4**2


def skin(name: str = "birch ply 12") -> Sheeting:
    """A panel with round strengths: 40 and 30 bent, 32 and 24 pulled, 2 rolled, 5 pressed, 0.6 parted."""
    row = replace(
        panel_strengths(name),
        fm_along=40.0,
        fm_across=30.0,
        ft_along=32.0,
        ft_across=24.0,
        fr=2.0,
        fc90=5.0,
        ib=0.6,
    )
    return Sheeting(panel(name), row)


def capacity(rules: PanelRules, name: str, when: When) -> float:
    return rules.sheet(Working(keep=False), skin(name), "bent along", when).value


# EN 1995-1-1 T3.1 class 1 (k_mod) and T2.3 (gamma_M): plywood 0.7 and 0.8 over 1.2, MDF 0.4 over 1.3, OSB/3 0.5 over
# 1.2, P4 0.45 over 1.3 (from memory), solid 0.7 over 1.3; accident 1.1 over 1.0 for all.
@pytest.mark.parametrize(
    ("name", "when", "factor"),
    [
        ("birch ply 12", YEARS, 0.7 / 1.2),
        ("birch ply 12", MONTHS, 0.8 / 1.2),
        ("birch ply 12", SHOCK, 1.1),
        ("mdf 18", YEARS, 0.4 / 1.3),
        ("mdf 18", MONTHS, 0.6 / 1.3),
        ("mdf 18", SHOCK, 1.1),
        ("mdf-faced ply 3/4", YEARS, 0.4 / 1.3),
        ("osb 12", YEARS, 0.5 / 1.2),
        ("particleboard 18", YEARS, 0.45 / 1.3),
        ("edge-glued pine 18", YEARS, 0.7 / 1.3),
    ],
)
def test_panels_by_eurocode(name: str, when: When, factor: float) -> None:
    assert capacity(Ec5Panels(), name, when) == pytest.approx(40 * factor, rel=1e-12)


# NDS T2.3.2: 0.9 for years, 1.0 for months, 1.6 for a shock; ASTM D2915: over 2.1 (from memory); boards tire by the
# ratio of their k_mod to timber's: MDF 0.4/0.7, 0.6/0.8; P4 0.45/0.7; OSB/3 0.5/0.7.
@pytest.mark.parametrize(
    ("name", "when", "factor"),
    [
        ("birch ply 12", YEARS, 0.9 / 2.1),
        ("birch ply 12", MONTHS, 1.0 / 2.1),
        ("birch ply 12", SHOCK, 1.6 / 2.1),
        ("mdf 18", YEARS, 0.9 * 4 / 7 / 2.1),
        ("mdf 18", MONTHS, 0.75 / 2.1),
        ("mdf 18", SHOCK, 1.6 / 2.1),
        ("osb 12", YEARS, 0.9 * 5 / 7 / 2.1),
        ("particleboard 18", YEARS, 0.9 * 0.45 / 0.7 / 2.1),
    ],
)
def test_panels_by_nds(name: str, when: When, factor: float) -> None:
    assert capacity(NdsPanels(), name, when) == pytest.approx(40 * factor, rel=1e-12)


def test_each_strength_is_its_own() -> None:
    w = Working(keep=False)
    ec5, nds = Ec5Panels(), NdsPanels()
    expected = {
        "bent along": 40,
        "bent across": 30,
        "pulled along": 32,
        "pulled across": 24,
        "rolled": 2,
        "pressed": 5,
        "parted": 0.6,
    }
    for what, f in expected.items():
        assert ec5.sheet(w, skin(), what, SHOCK).value == pytest.approx(1.1 * f)  # type: ignore[arg-type]
        by = f / 1.67 if what == "pressed" else 1.6 * f / 2.1
        assert nds.sheet(w, skin(), what, SHOCK).value == pytest.approx(by)  # type: ignore[arg-type]
    # What presses in lumber, or plywood of it, has no load duration factor in the NDS (T4.3.1); a board tires.
    assert nds.sheet(w, skin("birch ply 12"), "pressed", YEARS).value == pytest.approx(5 / 1.67)
    tired = 0.9 * 4 / 7 / 2.1
    assert nds.sheet(w, skin("mdf 18"), "pressed", YEARS).value == pytest.approx(5 * tired)


def test_core_timber_and_glue() -> None:
    w = Working(keep=False)
    ec5, nds = Ec5Panels(), NdsPanels()
    # EN 338 C14 (from memory): 3.0, 2.0, 0.4; k_cr 0.67; k_mod 0.7 over 1.3.
    assert ec5.spacer(w, YEARS).value == pytest.approx(0.7 * 0.67 * 3.0 / 1.3)
    assert ec5.spacer_pressed(w, YEARS).value == pytest.approx(0.7 * 2.0 / 1.3)
    assert ec5.spacer_parted(w, YEARS).value == pytest.approx(0.7 * 0.4 / 1.3)
    assert ec5.glue(w, YEARS, f=3.0, source="s").value == pytest.approx(0.7 * 3.0 / 1.3)
    # NDS Supplement, weakest species (from memory): Fv 110 psi, Fc-perp 265 psi; a third across the grain.
    assert nds.spacer(w, YEARS).value == pytest.approx(0.9 * 110 * PSI)
    assert nds.spacer_pressed(w, SHOCK).value == pytest.approx(265 * PSI)
    assert nds.spacer_parted(w, YEARS).value == pytest.approx(0.9 * 110 * PSI / 3)
    assert nds.glue(w, YEARS, f=3.0, source="s").value == pytest.approx(0.9 * 3.0 / 2.1)
    assert isinstance(panel_rules("nds"), NdsPanels)
    assert isinstance(panel_rules("ec5"), Ec5Panels)


def asked(found: Found) -> float:
    return found[0] / found[1].value


@pytest.mark.parametrize("rules", [Ec5Panels(), NdsPanels()], ids=["ec5", "nds"])
@pytest.mark.parametrize(("along", "fm", "ft"), [(True, 40, 32), (False, 30, 24)])
def test_bending_and_pull_add_up_by_their_own_strengths(
    rules: PanelRules, *, along: bool, fm: float, ft: float
) -> None:
    # m 240 N on 12 mm: 6 240/144 = 10 MPa; n 48 N/mm: 4 MPa. EN 1995-1-1 Eq. 6.17: 10/f_m + 4/f_t.
    w = Working(keep=True)
    found = skin_bend(w, Bent(240.0, 48.0, along, (0, 0)), skin(), 12.0, rules, YEARS)
    assert found[0] == pytest.approx(10 + fm / ft * 4, rel=1e-12)
    design = found[1].value / fm
    assert asked(found) == pytest.approx((10 / fm + 4 / ft) / design, rel=1e-12)
    assert [s.symbol for s in w.steps][-1] == "sigma_e"


def test_worst_place_of_a_skin() -> None:
    def pieces(moment: list[float], force: list[float], area: float) -> Carried:
        n = len(moment)
        places = np.stack([np.arange(n) * 20.0, np.zeros(n)], axis=1)
        m, f = np.zeros((n, 3, 2)), np.zeros((n, 3, 2))
        m[:, 0, 1], f[:, 1, 1] = moment, force
        return Carried("top", 0, 12.0, places, np.full(n, area), f, m, np.zeros((n, 2, 2)))

    def worst(nodes: Carried, inside: Carried, of: PanelStrengths, **rest: Any) -> Bent:
        # Under the first of two loads nothing is asked.
        found = most_bent(bent_at([nodes], [inside], bent_where([nodes], [inside], **rest)), of)
        assert (found.m[0], found.n[0]) == (0, 0)
        return found.under(1)

    nodes = pieces([10, -240, 30, 0, 900], [0, 0, 0, 480.0, 0], 0.0)
    inside = pieces([10, 200, 30, 0, 300], [0, 0, 0, 400.0, 0], 100.0)
    of = skin().strengths
    # 900 at x 80: 6 900/144/40 = 0.9375; across at x 60: 480/12/24 = 1.67 governs.
    across = worst(nodes, inside, of, points=(), over=40.0)
    assert (across.n, across.m, across.along, across.at) == (480.0, 0.0, False, (60.0, 0.0))
    strong = replace(of, ft_across=2400.0)
    assert worst(nodes, inside, strong, points=(), over=40.0).m == 900.0
    # Near a point without bound the mean over 40 mm of the places inside counts: x 60 and 80 -> (0 + 300)/2.
    tame = worst(nodes, inside, strong, points=[(80.0, 0.0)], over=30.0)
    assert (tame.m, tame.along) == (300.0, True)
    # Places inside are looked at half a square farther than nodes are left out, so that none falls between.
    far = pieces([10, 200, 700, 0, 300], [0] * 5, 100.0)
    assert worst(nodes, far, strong, points=[(80.0, 0.0)], over=30.0).m == 700.0
    even = worst(nodes, inside, strong, points=[(80.0, 0.0)], over=40.0)
    assert even.m == 240.0
    with pytest.raises(ValueError, match="without a place"):
        bent_at([], [], bent_where([], [], points=(), over=40.0))


# Roark T11.4 case 1b by hand, W 300 N on 12 mm, foot 100 x 100: r = 100/sqrt(pi) = 56.419; b 300, a/b 2: beta 0.958
# (from memory). ln(600/(pi 56.419)) = 1.21942; 3 300/(2 pi 144) = 0.994718; (1.3 1.21942 + 0.958) 0.994718 = 2.52981.
def test_one_thing_amid_a_span() -> None:
    patch = Patch(W=300.0, A=1e4, b=300.0, a=600.0)
    found = skin_patch(Working(keep=False), patch, skin(), 12.0, Ec5Panels(), SHOCK)
    log = math.log(600 / (math.pi * 100 / math.sqrt(math.pi)))
    hand = 900 / (2 * math.pi * 144) * (1.3 * log + 0.958)
    assert found[0] == pytest.approx(hand, rel=1e-12)
    assert hand == pytest.approx(2.5298, abs=2e-4)
    # The weaker way, 30 MPa.
    assert found[1].value == pytest.approx(33.0)


@pytest.mark.parametrize(
    ("ratio", "beta"), [(1.0, 0.435), (1.1, 0.5425), (1.4, 0.789), (1.9, 0.9425), (2.0, 0.958)]
)
def test_beta_of_roark_between_its_rows(ratio: float, beta: float) -> None:
    patch = Patch(W=1.0, A=1e4, b=300.0, a=300.0 * ratio)
    found = skin_patch(Working(keep=False), patch, skin(), 12.0, Ec5Panels(), SHOCK)
    log = math.log(600 / (math.pi * 100 / math.sqrt(math.pi)))
    assert found[0] * 2 * math.pi * 144 / 3 - 1.3 * log == pytest.approx(beta, rel=1e-9)


def test_a_small_foot_a_wide_foot_and_a_long_strip() -> None:
    def stress(patch: Patch) -> float:
        return skin_patch(Working(keep=False), patch, skin(), 18.0, Ec5Panels(), SHOCK)[0]

    def hand(r: float, b: float, beta: float) -> float:
        return 3 * 50 / (2 * math.pi * 324) * (1.3 * math.log(2 * b / (math.pi * r)) + beta)

    # r 5 under t/2 = 9: r_e = sqrt(1.6 25 + 324) - 0.675 18.
    small = math.sqrt(1.6 * 25 + 324) - 0.675 * 18
    tiny = stress(Patch(50.0, math.pi * 25, 300.0, 300.0))
    assert tiny == pytest.approx(hand(small, 300, 0.435), rel=1e-9)
    # A foot wider than the span is taken as wide as it; a long strip has beta 1.
    assert stress(Patch(50.0, 1e4, 80.0, 800.0)) == pytest.approx(hand(40, 80, 1.0), rel=1e-9)


def test_roark_rows_of_an_even_load_bound_the_patch() -> None:
    # Roark T11.4 case 1a (confirmed row, a/b 2: beta 0.6102): the same force spread over all of the plate bends less.
    W, b, a, t = 300.0, 300.0, 600.0, 12.0
    even = 0.6102 * W / (a * b) * b**2 / t**2
    found = skin_patch(Working(keep=False), Patch(W, 1e4, b, a), skin(), t, Ec5Panels(), SHOCK)
    assert even < found[0] < 8 * even


def test_skin_at_a_slot() -> None:
    # q 4 N/mm over a slot of 15 mm in 9 mm skin: M = q w/8 = 7.5 N, over t^2/6 = 13.5 mm2: 0.5556 MPa.
    w = Working(keep=False)
    sigma, can = skin_mouth(w, 4.0, 15.0, skin(), 9.0, Ec5Panels(), SHOCK)
    assert sigma == pytest.approx((4 * 15 / 8) / (9**2 / 6), rel=1e-12)
    assert can.value == pytest.approx(33.0)
    # Round 1/2 in: on 0.4 of it; square 1/2 in: on all of it.
    pressed, can = skin_bear(w, 4.0, bar("round 1/2 1018"), skin(), Ec5Panels(), SHOCK)
    assert pressed == pytest.approx(4 / (0.4 * 12.7), rel=1e-12)
    assert can.value == pytest.approx(5.5)
    flat, _ = skin_bear(w, 4.0, bar("square 1/2 a36"), skin(), Ec5Panels(), SHOCK)
    assert flat == pytest.approx(4 / 12.7, rel=1e-12)


def test_rolling_by_the_model_or_by_half_of_the_rods_force() -> None:
    w = Working(keep=False)
    # Even sheet: 1.5 V/t.
    tau, can = skin_roll(w, 3.0, 4.0, skin(), 9.0, Ec5Panels(), SHOCK)
    assert (tau, can.value) == pytest.approx((1.5 * 3 / 9, 2.2))
    assert skin_roll(w, 1.0, 4.0, skin(), 9.0, Ec5Panels(), SHOCK)[0] == pytest.approx(1.5 * 2 / 9)
    shear = np.array([[[3.0, 1.0], [4.0, 0.0]], [[-4.9, 0.0], [0.0, 2.0]]])
    apart = np.array([[0.0, 0.0], [30.0, 0.0]])
    itself = Spread(apart, np.ones(2), np.array([0, 1]), np.array([True, True]))

    def most(of: Spread, over: float, *points: tuple[float, float]) -> Any:
        return most_sheared(Sheared(shear, sheared_where([of], [2], points=points, over=over)))

    assert most(itself, 50.0).tolist() == [5.0, 2.0]
    # Over 70 mm both count: (3 - 4.9)/2 and 4/2; 1/2 and 2/2.
    both = most(itself, 70.0)
    assert both == pytest.approx([math.hypot(0.95, 2.0), math.hypot(0.5, 1.0)])
    # Half of the second cell lies within reach of the first: (3 2 - 4.9)/3 and 4 2/3.
    halved = Spread(
        np.array([[0.0, 0.0], [20.0, 0.0], [40.0, 0.0]]),
        np.array([2.0, 1, 1]),
        np.array([0, 1, 1]),
        np.array([True, False, False]),
    )
    assert most(halved, 41.0)[0] == pytest.approx(math.hypot((3 * 2 - 4.9) / 3, 8 / 3))
    # A place that is not amid its cell counts only near a point without bound.
    assert most(halved, 41.0, (90.0, 0.0))[0] == pytest.approx(4.9)


def test_waves_along_the_front() -> None:
    # Rods at 0, 400, 700 dropping 1, 2, 2 mm; at 100, 200, 300 the line stands at 1.25, 1.5, 1.75.
    found = bays(
        [100.0, 200.0, 300.0, 550.0, 900.0],
        [1.3, 1.9, 1.8, 1.7, 9.0],
        [(0, 1.0), (400, 2.0), (700, 2.0)],
    )
    assert [(b.rods, b.span) for b in found] == [((0, 1), 400.0), ((1, 2), 300.0)]
    assert [b.bow for b in found] == pytest.approx([0.4, -0.3])
    # 0.02 in per foot: 12/0.02 = 600.
    bow, can = sag_wave(Working(keep=False), found[1])
    assert (bow, can.value) == pytest.approx((0.3, 300 / 600))
    assert sag_wave(Working(keep=False), Bay((0, 1), 12 * 25.4, 0.1))[1].value == pytest.approx(
        0.02 * 25.4
    )


FILLS = (
    Fill(box(0, 0, 600, 40), 600, 60, 400),
    Fill(box(0, 40, 600, 240), 600, 60, 400),
)


def section() -> Section:
    sheet = isotropic(E=8000, nu=0.0, thick=9.0)
    plan = box(0, 0, 600, 240)
    return Section(Skin(9.0, (Piece(plan, sheet),)), Skin(12.0, (Piece(plan, sheet),)), 19.0, FILLS)


def tied(fill: int, shear: list[tuple[float, float]], through: list[float]) -> Tied:
    places = np.stack([np.arange(len(through)) * 100.0, np.full(len(through), 20.0)], axis=1)
    one, more = np.array(shear)[..., None], np.array(through)[..., None]
    area = np.full(len(through), 100.0)
    return Tied(fill, places, area, one * [1.0, 2.0], more * [1.0, 2.0])


def test_over_which_length_glue_evens_out() -> None:
    whole = section()
    assert [width_of(whole, k) for k in (0, 1)] == pytest.approx([40.0, 200.0])
    # A strip by its width; a block by the slot and two skins, the thicker ones.
    assert evened_over(whole, 0, slot=30.0) == pytest.approx(40.0)
    assert evened_over(whole, 1, slot=15.0) == pytest.approx(15 + 2 * 12)
    assert parted_over(whole) == pytest.approx(12 + 19)
    thin = replace(whole, top=replace(whole.top, thick=4), bottom=replace(whole.bottom, thick=4))
    assert parted_over(replace(thin, core=10.0)) == 20.0


def test_worst_place_of_the_glue() -> None:
    # Across the grain counts three times: 0.10 across is more than 0.25 along.
    pieces = [tied(0, [(0.25, 0.0), (0.0, -0.10)], [0.1, -0.3]), tied(1, [(0.1, 0.02)], [0.2])]
    slid = sliding(section(), pieces, slot=15.0)
    assert slid is not None
    found = most_slid(slid)
    assert (found.under(0).timber, found.under(1).timber) == (
        Slid(0.0, 0.1, 0, (100.0, 20.0)),
        Slid(0.0, 0.2, 0, (100.0, 20.0)),
    )
    # Glue and plies ask for the resultant: 0.25 along is more than 0.10 across.
    glue = found.under(0).glue
    assert (glue.along, glue.across, glue.fill) == (0.25, 0.0, 0)
    assert through(section(), pieces[:1]) == pytest.approx(np.array([[0.1, 0.2], [-0.3, -0.6]]))
    assert through(section(), []).size == 0
    assert sliding(section(), [], slot=15.0) is None


def test_weakest_of_glue_plies_and_core_timber() -> None:
    w = Working(keep=False)
    glue = (GLUE, "s")
    rules = Ec5Panels()
    skins = [skin(), skin()]
    # Along 0.3, across 0.4: resultant 0.5; on the timber 0.3 + 3 0.4 = 1.5 of 0.67 3 1.1: the worst here.
    slid = SlidMost(Slid(0.3, 0.4, 0, (0, 0)), Slid(0.3, 0.4, 0, (0, 0)))
    tau, can = glue_shear(w, slid, skins, glue, rules, SHOCK)
    assert (tau, can.value) == pytest.approx((1.5, 1.1 * 0.67 * 3.0))
    # Weak plies: 0.5 of 1.1 0.2.
    weak = Sheeting(skin().panel, replace(skin().strengths, fr=0.2))
    tau, can = glue_shear(w, slid, [skin(), weak], glue, rules, SHOCK)
    assert (tau, can.value) == pytest.approx((0.5, 0.22))
    # Weak glue.
    tau, can = glue_shear(w, slid, skins, (0.1, "s"), rules, SHOCK)
    assert (tau, can.value) == pytest.approx((0.5, 0.11))
    # Each part where it is asked most: the timber at one place, the glue at another.
    apart = SlidMost(Slid(0.3, 0.4, 0, (0, 0)), Slid(0.6, 0.8, 1, (9, 9)))
    tau, can = glue_shear(w, apart, skins, (0.1, "s"), rules, SHOCK)
    assert (tau, can.value) == pytest.approx((1.0, 0.11))
    steps = Working(keep=True)
    glue_shear(steps, slid, [skin(), weak], glue, rules, SHOCK)
    assert [s.symbol for s in steps.steps] == [
        "tau_0",
        "tau_90",
        "tau",
        "f_(r,k)",
        "k_m",
        "gamma_M",
        "f_k",
        "f_d",
    ]


def test_peel_takes_the_weaker_of_timber_and_panel() -> None:
    w = Working(keep=False)
    sigma, can = glue_peel(w, 0.2, [skin(), skin()], Ec5Panels(), SHOCK)
    assert (sigma, can.value) == pytest.approx((0.2, 1.1 * 0.4))
    weak = Sheeting(skin().panel, replace(skin().strengths, ib=0.3))
    assert glue_peel(w, 0.2, [skin(), weak], Ec5Panels(), SHOCK)[1].value == pytest.approx(0.33)
    # NDS: a third of 110 psi against 0.6/2.1.
    nds = glue_peel(w, 0.2, [skin()], NdsPanels(), YEARS)[1].value
    assert nds == pytest.approx(0.9 * min(110 * PSI / 3, 0.6 / 2.1))
    pressed, can = core_comp(w, 0.5, Ec5Panels(), SHOCK)
    assert (pressed, can.value) == pytest.approx((0.5, 2.2))


@pytest.mark.parametrize("rules", [Ec5Panels(), NdsPanels()], ids=["ec5", "nds"])
def test_longer_lasting_loads_never_leave_more(rules: PanelRules) -> None:
    whens = [When("accident", "years"), *(When("strength", k) for k in ("days", "months", "years"))]
    for name in ("birch ply 12", "mdf 18", "osb 12", "particleboard 18", "edge-glued oak 20"):
        values = [capacity(rules, name, when) for when in whens]
        assert all(a >= b for a, b in pairwise(values))


def test_assumed_strengths_are_marked_in_the_lines() -> None:
    w = Working(keep=True)
    skin_mouth(w, 4.0, 15.0, skin("mdf 18"), 9.0, NdsPanels(), YEARS)
    by_symbol = {s.symbol: s for s in w.steps}
    assert by_symbol["f_(m,0,k)" if "f_(m,0,k)" in by_symbol else "f_(m,90,k)"].assumed
