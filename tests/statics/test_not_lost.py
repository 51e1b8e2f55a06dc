"""What a row must not lose: unlike rods side by side, edges of scope, who leans, shelves on one stud."""

from __future__ import annotations

import math
import sys
from dataclasses import dataclass, replace
from types import SimpleNamespace
from typing import Any

import pytest

from ledgewright import stock
from ledgewright.job import Accident, Lasts, Limits
from ledgewright.memo import Memo
from ledgewright.statics import checks, together
from ledgewright.statics.around import shares
from ledgewright.statics.bases import Combination, Driven, Resistance, When, member_rules, rules
from ledgewright.statics.bases.ec5.panels import Ec5Panels
from ledgewright.statics.beam import Forces
from ledgewright.statics.block_checks import block_split, block_tors
from ledgewright.statics.checks import Case
from ledgewright.statics.families import family, verdict
from ledgewright.statics.formula import Working
from ledgewright.statics.glue_checks import GLUE, Slid, SlidMost, glue_shear
from ledgewright.statics.inputs import NOMINAL
from ledgewright.statics.member_checks import OnMember
from ledgewright.statics.model import CannotSay, Check
from ledgewright.statics.on_section import box_of, ready
from ledgewright.statics.proof import _asked, _asked_of_all, _pressing
from ledgewright.statics.pull_checks import bond_pull
from ledgewright.statics.row import spanning
from ledgewright.statics.seats import Seat
from ledgewright.statics.shared import further, on_shared
from ledgewright.statics.shared_limit import _Together
from ledgewright.statics.skin_checks import (
    Bent,
    Patch,
    bays,
    sag_wave,
    skin_bend,
    skin_mouth,
    skin_patch,
)
from tests.statics import made
from tests.statics.test_around import FRONT, locked, straight
from tests.statics.test_families import ALL, BOTH
from tests.statics.test_members import FLAT, HIGH, PSI, bed, bent, got, pressed, seat, sheared
from tests.statics.test_on_section import Case as OnSection
from tests.statics.test_one_rod import changed_member
from tests.statics.test_row import NOBODY, row
from tests.statics.test_shared import case as on_same_studs
from tests.statics.test_shared import pressing
from tests.statics.test_skin_checks import skin

AGAINST = (
    "mutants of the code that no test had held: each test here fails on one",
    "by hand from standards, statics, geometry and the rules of the project, as each says",
    "as each says",
)
QUIET = Working(keep=False)
NDS = member_rules("nds")
LONG, PULL = When("strength", "years"), When("accident", "years")
LEANS = Combination("1.2D + L + A", "accident", 1.2, 1.0, 0.0, 1.0, "")
CARRIES = Combination("D + L", "strength", 1.0, 1.0, 0.0, 0.0, "")


@dataclass(frozen=True)
class Acts:
    """Forces at the wood that are put in, and a moment in front of it."""

    V: float
    M: float
    in_front: float = 0.0
    where: str = ""
    stays: Lasts = "years"
    at_flat: float = 0.0

    def working(self, *, keep: bool) -> Working:
        return Working(keep=keep)

    def forces(self, w: Working) -> Forces:
        return Forces(self.V, self.M, self.V, self.M / self.V if self.V else 0.0)


def case(on: Seat, acts: Acts, combination: Combination = CARRIES) -> Case:
    return Case(on, rules("nds"), NOMINAL, acts, bed(on), combination)


def test_a_bar_buckles_over_all_that_is_out_of_the_wood() -> None:
    """AISC 360 F11.2 by hand: L_b is lining and stick-out, 16 + 220 mm, not what is out of the finished face."""
    thin = replace(stock.bar("flat 1/4x1 a36"), width=3.175, height=38.1)
    on = seat()
    on = replace(on, rod=replace(on.rod, bar=thin, hole=45.0))
    _, can = checks.rod_bend(case(on, Acts(100.0, 20e3)), QUIET)
    s = (made.FREE + 220.0) * 38.1 / 3.175**2
    My = thin.Fy * 3.175 * 38.1**2 / 6
    assert can.value == pytest.approx((1.52 - 0.274 * s * thin.Fy / thin.E) * My / 1.67, rel=1e-9)


def test_a_moment_in_front_of_the_wood_counts_where_it_is_the_greatest() -> None:
    """Statics: a rod that both skins hold may bend more between them than at the wood."""
    on = seat()
    for rule in (checks.rod_bend, checks.rod_yield):
        at_wood, _ = rule(case(on, Acts(400.0, 60e3)), QUIET)
        before, _ = rule(case(on, Acts(400.0, 60e3, in_front=90e3)), QUIET)
        peak = 90e3 if rule is checks.rod_bend else 90e3 / on.rod.bar.elastic_modulus
        assert before == pytest.approx(peak, rel=1e-9)
        assert at_wood < before
        assert rule(case(on, Acts(400.0, 60e3, in_front=50e3)), QUIET)[0] == at_wood


def test_a_rod_is_sheared_by_no_less_than_what_it_hands_to_the_wood() -> None:
    """Balance: what the rod carries passes its section at the face of the wood."""
    asked, _ = checks.rod_shear(case(seat(), Acts(2000.0, 1.0)), QUIET)
    assert asked == pytest.approx(2000.0, rel=1e-9)
    # With a long lever the wood's couple shears it more further in.
    assert checks.rod_shear(case(seat(), Acts(400.0, 60e3)), QUIET)[0] > 400.0


def test_who_leans_is_held_by_every_strength_row_of_a_rod() -> None:
    """Rule of the project: the accident asks of a rod all that strength asks but what is only shown."""
    needed = {
        name
        for name, situation, *_ in checks.RULES
        if situation == "strength" and family(name).kind != "information"
    }
    assert set(checks.ACCIDENT) == needed


@dataclass(frozen=True)
class _Takes:
    """A basis with rows as they are put in: (value, scope) of bending, shear and bed."""

    bend: tuple[float, Any]
    shear: tuple[float, Any]
    limit: tuple[float, Any]

    def rod_bend(self, *_: Any) -> Resistance:
        return Resistance(self.bend[0], self.bend[1], "bend", "")

    def rod_shear(self, *_: Any) -> Resistance:
        return Resistance(self.shear[0], self.shear[1], "shear", "")

    def bed_limit(self, *_: Any) -> Resistance:
        return Resistance(self.limit[0], self.limit[1], "bed", "")


@pytest.mark.parametrize(
    ("bend", "limit", "told"),
    [
        (
            (40e3, "in"),
            (1e9, "out"),
            ("fails", "bend"),
        ),  # too much fails, whatever cannot be said beside it
        (
            (61e3, "in"),
            (1e9, "out"),
            ("cannot say", "bed"),
        ),  # what cannot be said comes before a fuller pass
    ],
)
def test_under_the_accident_a_row_that_fails_or_says_nothing_is_not_hidden(
    bend: tuple[float, Any], limit: tuple[float, Any], told: tuple[str, str]
) -> None:
    """Rule of the project: the one row told is that which fails, else that which cannot be said, else the fullest."""
    basis: Any = _Takes(bend, (1e9, "in"), limit)
    # V = 0.1 N: all of the moment is at the face.
    on = replace(case(seat(), Acts(0.1, 60e3), LEANS), rules=basis)
    found = checks.accident([on], None, keep=False)
    assert found is not None
    assert (found.state, found.reason.partition(":")[0]) == told


def test_a_flat_bar_bonds_by_its_thinner_side() -> None:
    """Moehler and Hemmer, halved: 0.6 MPa on the round of 10 mm, the thinner side of 10 x 20."""
    flat = replace(stock.bar("round 5/8 1018"), shape="flat", width=10.0, height=20.0)
    for bar in (flat, replace(flat, width=20.0, height=10.0)):
        on = seat()
        on = replace(on, rod=replace(on.rod, bar=bar, hole=26.0))
        _, can = got(bond_pull(QUIET, on=pressed(on, out=100.0), rules=NDS, when=PULL))
        assert can.value == pytest.approx(math.pi * 10.0 * 75.0 * 0.6)


def test_an_engineer_s_word_on_a_bearing_wall_covers_no_stud_out_of_its_formula() -> None:
    """NDS-2018 3.7.1.4: no column over 50 times its depth, here 50 x 88.9 = 4445 mm; the letter is for the load."""
    signed = replace(made.KNOWN, bearing="yes", engineer="a name")
    for height, scope in ((4400.0, "stretched"), (4500.0, "out")):
        _, can = bent(pressed(seat(known=signed)), height=height)
        assert can.scope == scope


def two_in_a_block() -> list[OnMember]:
    """A thick rod 75 deep, and a thin one 60 deep and 3 mm lower, in one block on edge."""
    thick = seat(at=420.0, up=1269.05, block=FLAT)
    thin = seat(at=545.0, up=1266.05, block=FLAT)
    thin = replace(thin, rod=replace(thin.rod, id="A.thin", embedment=60.0, hole=12.0))
    return [pressed(thick, V=400.0, M=60e3), pressed(thin, V=200.0, M=20e3)]


def test_of_several_rods_the_lowest_and_the_shallowest_split_a_block() -> None:
    """NDS-2018 3.4.3.3(a) with the least breadth, 60, and the rod nearest to the loaded edge, 16.05 of 38.1."""
    for loads in (two_in_a_block(), two_in_a_block()[::-1]):
        V, can = got(block_split(QUIET, loads=loads, rules=NDS, when=LONG))
        left = 400 * (1 - 120 / 362) + 200 * (1 - 245 / 362)
        assert pytest.approx(left) == V
        by_hand = 2 / 3 * 0.9 * 135 * PSI * 60 * 16.05 * (16.05 / 38.1) ** 2
        assert can.value == pytest.approx(by_hand, rel=1e-6)


def test_of_several_holes_the_widest_counts_in_block_and_stud() -> None:
    """Net section: the height of a block and the width of a stud less the widest hole, 18.875, not 12."""
    for loads in (two_in_a_block(), two_in_a_block()[::-1]):
        tau, _ = got(block_tors(QUIET, loads=loads, rules=NDS, when=LONG))
        # The hole with less wood beside it decides; a narrower one beside it changes nothing.
        one = [
            replace(
                on, seat=replace(on.seat, rod=replace(on.seat.rod, hole=min(on.seat.rod.hole, h)))
            )
            for on, h in zip(
                loads, (18.875, 6.0) if loads[0].seat.rod.hole > 12 else (6.0, 18.875), strict=True
            )
        ]
        assert tau == got(block_tors(QUIET, loads=one, rules=NDS, when=LONG))[0]
    low, high = seat(up=900.0), seat(up=1500.0)
    low = replace(low, rod=replace(low.rod, hole=12.0))
    both = [pressed(low, V=300.0, M=50e3), pressed(high, V=500.0, M=90e3)]
    as_wide = [pressed(seat(up=900.0), V=300.0, M=50e3), both[1]]
    for loads in (both, both[::-1]):
        assert bent(*loads)[1].value == pytest.approx(bent(*as_wide)[1].value, rel=1e-12)
        assert sheared(*loads)[0] == pytest.approx(sheared(*as_wide)[0], rel=1e-12)


def test_the_deepest_rod_tells_whether_a_block_holds_them_all() -> None:
    """A block 38.1 deep in the wall holds a rod 30 deep beside one of 75 no more than that of 75 alone."""
    deep = seat(at=400.0, up=1290.0, block=HIGH)
    short = seat(at=560.0, up=1290.0, block=HIGH)
    short = replace(short, rod=replace(short.rod, embedment=30.0))
    said = block_split(QUIET, loads=[pressed(short), pressed(deep)], rules=NDS, when=LONG)
    assert isinstance(said, CannotSay)
    assert "a rod 75 mm" in said.why


@pytest.mark.parametrize("scope", ["in", "stretched", "out"])
def test_too_much_fails_whatever_its_source_covers(scope: Any) -> None:
    """Rule of the verdict: a row over 1 fails the shelf, also one that only an engineer could have accepted."""
    rows = (replace(ALL[0], state="fails", ratio=1.2, scope=scope), *ALL[1:])
    assert verdict(rows, (), into=BOTH) == "fails"


def test_a_hair_too_much_is_too_much() -> None:
    """Rule of the project: up to 1, no further; what is printed is rounded, what is judged is not."""
    for share, told in ((1.0, "passes"), (1.0 + 1e-9, "fails"), (1.004, "fails")):
        assert row("skin.bend", share, "in", NOBODY).state == told


def test_the_widest_scope_of_any_way_counts_wherever_it_stands() -> None:
    """Rule of the project: of four ways, as glue, core timber and two skins are, each may be the assumed one."""
    known = [(1.0, Resistance(4.0 + k, "in", "", f"{k}")) for k in range(4)]
    for k in range(4):
        ways = list(known)
        ways[k] = (0.1, Resistance(9.0, "stretched", "assumed", "e"))
        assert spanning(ways)[1].scope == "stretched"
        assert spanning(ways)[0] == 1.0


@pytest.mark.parametrize("along", [True, False])
def test_a_skin_bends_no_surer_than_its_pull_is_known(*, along: bool) -> None:
    """Rule of the project: Eq. 6.17 rests on both strengths; where only that of the pull is assumed, the row is."""
    way = "along" if along else "across"
    guess = replace(skin().strengths, assumed=f"ft_{way}")
    for assumed, scope in ((guess, "stretched"), (replace(guess, assumed=""), "in")):
        of = replace(skin(), strengths=assumed)
        _, can = skin_bend(QUIET, Bent(240.0, 48.0, along, (0, 0)), of, 12.0, Ec5Panels(), LONG)
        assert can.scope == scope


def test_a_skin_under_one_thing_counts_the_weaker_way_of_its_grain() -> None:
    """Mechanics: a spot bends a plate both ways alike; k_mod 0.7, gamma_M 1.2 (EN 1995-1-1 T2.3, T3.1)."""
    for fm in ((40.0, 30.0), (30.0, 40.0)):
        of = replace(skin(), strengths=replace(skin().strengths, fm_along=fm[0], fm_across=fm[1]))
        foot = Patch(300.0, 1e4, 300.0, 600.0)
        assert skin_patch(QUIET, foot, of, 12.0, Ec5Panels(), LONG)[1].value == pytest.approx(
            30 * 0.7 / 1.2
        )
        mouth = skin_mouth(QUIET, 5.0, 20.0, of, 12.0, Ec5Panels(), LONG)
        assert mouth[1].value == pytest.approx(30 * 0.7 / 1.2)


def test_a_front_that_bows_up_between_rods_bows_as_much() -> None:
    """Straight line through both rods: 2.0 down at each, 0.5 and 2.1 between: 1.5 up is more than 0.1 down."""
    (bay,) = bays([300.0, 600.0], [0.5, 2.1], [(0.0, 2.0), (900.0, 2.0)])
    assert bay.bow == pytest.approx(-1.5)
    assert sag_wave(QUIET, bay)[0] == pytest.approx(1.5)


def test_the_core_s_timber_counts_where_shear_rolls_it_most() -> None:
    """Common practice: rolling at a third. 0.1 along and 0.6 across are 1.9 on the timber, 0.7 along are 0.7."""
    slid = SlidMost(Slid(0.1, 0.6, 0, (0, 0)), Slid(0.7, 0.0, 1, (9, 9)))
    tau, can = glue_shear(QUIET, slid, [skin(), skin()], (GLUE, "s"), Ec5Panels(), PULL)
    assert (tau, can.value) == pytest.approx((1.9, 1.1 * 0.67 * 3.0))


def test_of_several_accidents_the_heaviest_is_judged_wherever_it_is_written() -> None:
    """By hand: 600 N and 900 N of the job: what counts is 900 N, at the very front of a rod of its own share."""
    climbs = Accident("someone climbs", 900.0, 100.0, "people climb")
    for both in ((made.LEAN, climbs), (climbs, made.LEAN)):
        asked = made.demand(made.even(), accidents=both)
        acting = OnSection(made.straight([200.0, 500.0, 800.0]), asked).actions
        assert {a.force for a in acting.atoms if a.kind == "accident"} == {900.0}
        one = made.judged(made.straight([500.0]), asked)
        with_it, without = (
            next(f.load for f in one.forces if f.case == case)
            for case in ("accident: 1.2D + L + A", "strength: D + L")
        )
        dead = one.mass * 9.80665
        assert with_it - without == pytest.approx(900.0 + 0.2 * dead, rel=1e-9)


def test_six_diameters_of_a_screw_hold_and_no_less() -> None:
    """NDS-2018 12.1.5.6: 6 D of a no. 10 screw, 0.19 in, are 28.96 mm."""
    screw = stock.screw("no. 10 x 3")
    for into, scope in ((6 * 0.19 * 25.4 + 0.01, "in"), (6 * 0.19 * 25.4 - 0.01, "out")):
        driven = Driven(screw, 20.0, into, "side grain", stock.timber("spf 2x4"))
        assert NDS.withdrawal(QUIET, driven, LONG).scope == scope
        assert NDS.lateral(QUIET, driven, LONG).scope == scope


def test_a_rod_thicker_than_24_mm_bonds_less() -> None:
    """Moehler and Hemmer 1981, halved for a pull across the grain: 0.6 MPa up to 24 mm, 0.4 up to 30; 1 in is 25.4."""
    for d, f in ((24.0, 0.6), (25.4, 0.4)):
        can = NDS.bond(QUIET, stock.timber("spf 2x4"), PULL, d=d, d_h=d + 3, L=75.0)
        assert can.value == pytest.approx(f * math.pi * d * 75.0)


@pytest.mark.parametrize("basis", ["nds", "ec5"])
def test_no_nail_is_counted_on_to_be_pulled(basis: Any) -> None:
    """docs/statics.md: no screw is counted on to be pulled out of end grain, and no nail at all."""
    timber = stock.timber(made.TIMBER[basis])
    basis_rules = member_rules(basis)
    for name, way in (("nail 16d", "side grain"), ("no. 10 x 3", "end grain")):
        driven = Driven(stock.screw(name), 10.0, 60.0, way, timber)  # type: ignore[arg-type]
        assert basis_rules.withdrawal(QUIET, driven, PULL).value == 0.0


def test_a_nail_in_end_grain_needs_ten_diameters_and_eight_in_side_grain() -> None:
    """EN 1995-1-1 8.3.1.2 (from memory): 10 d in end grain, 8 d of a smooth nail in side grain; d 3.1."""
    ec5, nail, timber = member_rules("ec5"), stock.screw("nail 3.1 x 90"), stock.timber("C24 38x89")
    for way, into, scope in (
        ("end grain", 30.9, "out"),
        ("end grain", 31.1, "stretched"),
        ("toed", 24.7, "out"),
        ("toed", 24.9, "stretched"),
    ):
        driven = Driven(nail, 38.0, into, way, timber)  # type: ignore[arg-type]
        assert ec5.lateral(QUIET, driven, LONG).scope == scope


def test_a_rod_deeper_than_its_block_goes_into_the_wall_silences_the_shelf() -> None:
    """A length of 2x4 as high as 88.9 goes 38.1 into the wall: 75 of rod stand out behind; on edge it goes 88.9."""
    for up, deep in (((955.55, 1044.45), True), ((980.95, 1019.05), False)):
        placed = changed_member(
            made.straight([500.0]), kind="blocking", up=up, left=300.0, right=700.0
        )
        found = made.judged(placed, made.demand(made.even()))
        assert any("deeper than its timber" in each.why for each in found.cannot_say) == deep


def test_a_block_of_no_side_of_its_wall_s_timber_is_told_once_with_what_to_do() -> None:
    """A 2x4 is 38.1 or 88.9 high: one told 60 high is another timber, or told wrong."""
    odd = seat(at=400.0, up=1280.0, block=(300.0, 662.0, (1250.0, 1310.0)))
    said = block_split(QUIET, loads=[pressed(odd)], rules=NDS, when=LONG)
    assert isinstance(said, CannotSay)
    assert odd.member.id not in said.why
    assert "tell its `up` as the block really is" in said.why


def test_a_shelf_turns_about_its_rods_by_the_least_lever_of_any() -> None:
    """Statics: a couple of 600 N x 800 mm as a push at the front edge is most where that is nearest to the wood."""
    of = straight(locked("A.s200"))
    (leg,) = of.rows
    far = replace(leg, seats=(*leg.seats[:2], replace(leg.seats[2], front=FRONT + 60.0)))
    *_, (_, side) = shares(replace(of, rows=(far,)), 600.0)
    assert side == pytest.approx(dict.fromkeys(side, 600.0 * 800.0 / FRONT / 3))


def on_studs(up: float, **more: Any) -> OnSection:
    limits = more.pop("limits", None)
    asked = made.demand(made.even(0.002, **more))
    return on_same_studs(replace(asked, limits=limits) if limits else asked, "nds", up)


def test_studs_bear_for_as_long_as_the_longest_of_what_stands_on_them() -> None:
    """NDS-2018 T2.3.2: 0.9 for years, 1.25 for days; books for years on one shelf of two are years on their studs."""
    psi135 = 135 * PSI
    for mine, others in (("days", "years"), ("years", "days")):
        one, other = on_studs(1000.0, lasts=mine), on_studs(1400.0, lasts=others)
        rows_ = on_shared(pressing(one), [pressing(other)])
        takes = [r.capacity for r in rows_ if isinstance(r, Check) and r.family == "stud.shear"]
        assert takes == pytest.approx([0.9 * psi135] * 3)


def test_a_drop_that_others_bring_over_its_limit_fails() -> None:
    """Rule of the project: the drop with what the other shelf adds is held against the limit, on day one and later."""
    plain = on_studs(1000.0)
    theirs = [pressing(on_studs(1400.0))]
    alone = plain.judged().drop
    assert alone is not None
    more = [further(pressing(plain), theirs, creep=c) for c in (False, True)]
    assert more[1] > more[0] > 0
    limits = Limits(
        alone.today.value + more[0] / 2, alone.long_term.value + more[1] / 2, assumed=False
    )
    one = on_studs(1000.0, limits=limits)
    held = one.judged()
    both = together(held, pressing(one), theirs, into=frozenset({"stud"}))
    for name, k in (("drop.today", 0), ("drop.long", 1)):
        before, after = (next(r for r in h.checks if r.id == name) for h in (held, both))
        assert (before.state, after.state) == ("passes", "fails")
        assert after.demand == pytest.approx(before.demand + more[k])
        assert after.ratio > 1
    assert both.drop is not None
    assert both.drop.today.value == pytest.approx(alone.today.value + more[0])
    assert both.drop.long_term.value == pytest.approx(alone.long_term.value + more[1])
    assert both.verdict == "fails"


def test_who_leans_on_one_shelf_is_met_by_every_case_of_the_other() -> None:
    """docs/statics.md: every case of one shelf meets every case of the other; each row is that of its worst."""
    mine, theirs = pressing(on_studs(1000.0)), [pressing(on_studs(1400.0))]
    worst: dict[str, float] = {}
    for k in range(len(mine.accident)):
        for r in on_shared(replace(mine, accident=mine.accident[k : k + 1]), theirs):
            if isinstance(r, Check) and r.family == "acc.hold":
                worst[r.id] = max(worst.get(r.id, 0.0), r.ratio)
    found = {
        r.id: r.ratio
        for r in on_shared(mine, theirs)
        if isinstance(r, Check) and r.family == "acc.hold"
    }
    assert found == pytest.approx(worst)


def test_who_leans_presses_on_the_top_skin_as_one_thing_does() -> None:
    """Roark T11.4 case 1b by hand (from memory; a strip, beta 1): 600 N over the slot of a solid core, 15.875 + 3.2."""
    found = OnSection(made.straight([200.0, 500.0, 800.0]), made.demand(made.even())).judged()
    row_ = next(c for c in found.checks if c.id == "acc.hold@top skin/skin.patch")
    b, t = 15.875 + 3.2, 18.0
    hand = 3 * 600.0 / (2 * math.pi * t**2) * (1.3 * math.log(2 * b / (math.pi * b / 2)) + 1.0)
    assert row_.demand == pytest.approx(hand, rel=1e-6)


def test_the_thinnest_bar_presses_on_the_least_of_a_skin() -> None:
    """Force over area: a half-inch rod beside two of 5/8 in presses its line force on 0.4 of 12.7 mm."""
    room, frame = made.straight([200.0, 500.0, 800.0])
    thin = replace(frame.rods[1], bar=stock.bar("round 1/2 1018"), hole=15.9)
    unlike = replace(frame, rods=(frame.rods[0], thin, frame.rods[2]))
    of = OnSection((room, unlike), made.demand(made.even()))
    shelf = ready(of.given, of.stood, Memo(), keep=False)
    assert not isinstance(shelf, tuple)
    assert box_of(shelf).bar.width == pytest.approx(12.7)


PROOF = sys.modules["ledgewright.statics.proof"]


def test_a_load_test_is_held_against_every_proud_rod_and_against_letting_go(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """docs/on-site.md: refused where any row is too much, with any rod proud by all the play of its slot."""
    of = OnSection(made.straight([200.0, 500.0, 800.0]), made.demand(made.even(0.002)))
    shelf = ready(of.given, of.stood, Memo(), keep=False)
    assert not isinstance(shelf, tuple)
    tried: list[tuple[str, int | None]] = []
    loose = replace(ALL[0], id="stab.contact", family="stab.contact", state="fails", ratio=2.0)

    def judged(*_: Any, among: Any, **__: Any) -> Any:
        tried.extend((c.situation, p.proud) for c, p in among)
        return SimpleNamespace(rows=(replace(loose, family="rod.yield", ratio=0.1), loose))

    monkeypatch.setattr(PROOF, "judge", judged)
    assert _asked(shelf) == loose
    assert set(tried) == {(s, k) for s in ("service", "accident") for k in (None, 0, 1, 2)}
    on = _pressing(shelf)
    assert any("proud of the others" in under.name for under in on.strength)


@pytest.mark.parametrize(
    ("own", "shared", "told"), [(0.5, 0.1, 0.5 * 1.3), (0.1, 0.9, 0.9 * 1.6 / 1.25)]
)
def test_a_test_of_several_counts_what_they_bring_each_other_and_their_studs_for_a_week(
    monkeypatch: pytest.MonkeyPatch, own: float, shared: float, told: float
) -> None:
    """NDS-2018 T2.3.2: 1.25 for a week against 1.6 for ten minutes; rods that carry 1.3 times as much beside others."""
    leans = replace(ALL[0], id="acc.hold@s", family="acc.hold")
    group: Any = SimpleNamespace(shelves=(0, 1), beside=((1,), (0,)), solve=lambda _: None)
    for name, value in (
        ("_loaded", lambda *_: []),
        ("by_themselves", lambda _: group),
        ("grown", lambda *_: (1.0, 1.3)),
        ("_asked", lambda *_: replace(ALL[0], ratio=own)),
        ("_of_shared", lambda *_: iter([replace(leans, ratio=shared)])),
    ):
        monkeypatch.setattr(PROOF, name, value)
    found = _asked_of_all(group)
    assert isinstance(found, Check)
    assert found.ratio == pytest.approx(told)


def test_the_limit_of_shelves_on_the_same_studs_holds_the_drop_of_each_with_the_other() -> None:
    """Rule of the project: the drop of each with what the others do to the members they share."""
    mine, theirs = pressing(on_studs(1000.0)), pressing(on_studs(1400.0))
    held = on_studs(1000.0).judged()
    drops = [
        replace(r, ratio=50.0, capacity=r.demand / 50.0) for r in held.checks if "drop." in r.id
    ]
    parts: Any = (
        SimpleNamespace(at=lambda _: (drops, mine)),
        SimpleNamespace(at=lambda _: ([], theirs)),
    )
    worst = _Together(parts, ((1,), (0,))).full(1.0)
    more = {"drop.today": False, "drop.long": True}
    by_hand = max(50.0 * (1 + further(mine, [theirs], creep=more[r.id]) / r.demand) for r in drops)
    assert by_hand > 50.0
    assert worst.ratio == pytest.approx(by_hand)
