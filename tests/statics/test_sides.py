"""A shelf pushed along the wall, and what its rods do to the wood beside them; blocks that bend: by hand."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import brentq

from ledgewright import stock
from ledgewright.job import Basis
from ledgewright.statics.bases import Situation, When, member_rules, rules
from ledgewright.statics.block_checks import EndFixing, block_bend, block_fix
from ledgewright.statics.families import FAMILIES
from ledgewright.statics.formula import Working
from ledgewright.statics.member_checks import OnMember
from ledgewright.statics.member_rows import OF_MEMBERS, Known, Under, rows
from ledgewright.statics.model import CannotSay, Check
from ledgewright.statics.row import Found
from ledgewright.statics.side_checks import bed_side, stud_side
from tests.statics import made
from tests.statics.test_members import FLAT, HIGH, PSI, block, got, pressed, seat

AGAINST = (
    "AWC TR12 (2015), NDS-2018 ch. 12 and 4.3, EN 1995-1-1 6.1.6, 8.1.4 and 8.5.1, ASTM D245 (from memory), Hetenyi",
    "hand calculation; factors as in the standards",
    "1e-9 to 1 %",
)
PULL = When("accident", "years")
LONG = When("strength", "years")
QUIET = Working(keep=False)
BASES: tuple[Basis, ...] = ("nds", "ec5")
FRONT = made.FREE + made.DEPTH


def side(on: OnMember, basis: Basis = "nds") -> Found:
    return got(bed_side(QUIET, on=on, rules=rules(basis), timbers=member_rules(basis), when=PULL))


def split(on: OnMember, basis: Basis = "nds") -> Found:
    return got(stud_side(QUIET, on=on, rules=member_rules(basis), when=PULL))


def crushed(q: float, lever: float, L: float = 75.0) -> float:
    """The load at a lever off the face that turns a straight rod in wood that gives q everywhere.

    Forces and moments about the face with the turning point at x: P = q (2x - L), P lever = q (L^2/2 - x^2).
    """
    return float(
        brentq(lambda x: q * (2 * x - L) * lever - q * (L**2 / 2 - x**2), L / 2, L) * 2 * q - q * L
    )


# ---- the wood round a rod that is pressed down and sideways


def test_wood_round_a_rod_pushed_along_the_wall_by_hand_nds() -> None:
    # 12.3.3, G 0.42, 5/8, to 50 psi: 11200 G = 4704 along, 6100 G^1.45 / sqrt(D) = 2193 across; C_D 1.6, 3.6 K_theta
    # below, 1 and 1.25.
    along, across = 4700 * PSI * 15.875, 2200 * PSI * 15.875
    down = crushed(along, 60000 / 400) * 1.6 / 3.6
    beside = crushed(across, FRONT) * 1.6 / (3.6 * 1.25)
    r, can = side(pressed(seat(), side=80.0))
    assert r == pytest.approx(400 / down + 80 / beside, rel=1e-6)
    assert (can.value, can.scope) == (1.0, "in")
    # In blocking the other way about: down is across its grain, along the wall is along it.
    down = crushed(across, 60000 / 400) * 1.6 / (3.6 * 1.25)
    beside = crushed(along, FRONT) * 1.6 / 3.6
    r, _ = side(pressed(block(), side=80.0))
    assert r == pytest.approx(400 / down + 80 / beside, rel=1e-6)


def test_wood_round_a_rod_pushed_along_the_wall_by_hand_ec5() -> None:
    # 8.5.1.1: f_h,0 = 0.082 (1 - 0.01 d) rho_k, over k_90 = 1.35 + 0.015 d across; k_mod 1.1, gamma_M 1.
    d = 15.875
    f = 0.082 * (1 - 0.01 * d) * 350
    down = crushed(1.1 * f * d, 60000 / 400)
    beside = crushed(1.1 * f / (1.35 + 0.015 * d) * d, FRONT)
    r, _ = side(pressed(seat("ec5"), side=80.0), "ec5")
    assert r == pytest.approx(400 / down + 80 / beside, rel=1e-6)


@pytest.mark.parametrize("basis", BASES)
def test_more_push_presses_harder_either_way(basis: Basis) -> None:
    one = side(pressed(seat(basis), side=80.0), basis)[0]
    assert side(pressed(seat(basis), side=-80.0), basis)[0] == one
    assert side(pressed(seat(basis), side=120.0), basis)[0] > one
    assert side(pressed(seat(basis), M=80000.0, side=80.0), basis)[0] > one
    # A rod that something lifts counts as pressed down as hard; one that hangs free as nearly unpressed.
    assert side(pressed(seat(basis), V=-400.0, M=-60000.0, side=80.0), basis)[0] == one
    assert side(pressed(seat(basis), V=0.0, M=0.0, side=80.0), basis)[0] < one


def test_a_flat_bar_pushed_aside_bears_with_its_height() -> None:
    flat = replace(stock.bar("round 5/8 1018"), shape="flat", width=10.0, height=20.0)
    on = seat()
    on = replace(on, rod=replace(on.rod, bar=flat))
    beside = 1950 * PSI * 20  # 6100 0.42^1.45 / sqrt(20/25.4) = 1954 psi
    r, can = side(pressed(on, V=0.0, M=0.0, side=80.0))
    assert r == pytest.approx(80 / (crushed(beside, FRONT) * 1.6 / 4.5), rel=2e-3)
    assert can.scope == "stretched"


# ---- a stud that splits beside a rod


def front_bearing(on: OnMember, H: float) -> tuple[float, float]:
    """Force on the wood near the face, and how deep: Hetenyi's beam without end, looked at in 0.01 mm steps."""
    lam, x = on.bed.lam, np.arange(0, 200, 0.01)
    V = np.exp(-lam * x) * (
        H * (np.cos(lam * x) - np.sin(lam * x)) - 2 * H * FRONT * lam * np.sin(lam * x)
    )
    least = int(V.argmin())
    return float(H - V[least]), float(x[least])


@pytest.mark.parametrize(
    ("basis", "breadth", "factor"), [("nds", 38.1, 1.6 / 2.1), ("ec5", 38.0, 1.1)]
)
def test_a_stud_beside_a_rod_by_hand(basis: Basis, breadth: float, factor: float) -> None:
    # In so deep it is without end. At 1300 of 2400 the nearer end, 1100 off, takes 1300/2400. 19.05 off both
    # edges of what stands in the wall, taken as broad as its timber is sold.
    on = seat(basis, height=2400.0)
    long = pressed(replace(on, rod=replace(on.rod, embedment=400.0)), side=80.0)
    R, deep = front_bearing(long, 80.0)
    V, can = split(long, basis)
    assert pytest.approx(R * 1300 / 2400, rel=1e-4) == V
    e = min(19.05, breadth / 2)
    by_hand = factor * 14 * deep * math.sqrt(e / (1 - e / breadth))
    assert can.value == pytest.approx(by_hand, rel=1e-3)
    assert can.scope == "stretched"


def test_the_nds_reading_of_the_same_strip_is_told() -> None:
    """3.4.3.3(b): 2/3 F_v' b d_e, F_v' 1.6 times 135 psi: whoever signs sees it beside the fracture formula."""
    on = seat(height=2400.0)
    long = pressed(replace(on, rod=replace(on.rod, embedment=400.0)), side=80.0)
    _, deep = front_bearing(long, 80.0)
    told = 2 / 3 * 1.6 * 135 * PSI * deep * 19.05
    reason = split(long)[1].reason
    assert "3.4.3.3(b)" in reason
    newtons, pounds = re.findall(r"(\d+) N \((\d+) lbf\)", reason)[0]
    assert float(newtons) == pytest.approx(told, abs=0.6)
    assert float(pounds) == pytest.approx(told / 4.4482216, abs=0.6)


@pytest.mark.parametrize("basis", BASES)
def test_a_rod_out_of_the_middle_splits_its_stud_sooner(basis: Basis) -> None:
    middle, off = (
        pressed(
            replace(seat(basis), member=replace(m, left=m.left - s, right=m.right - s)), side=80.0
        )
        for s in (0.0, 6.0)
        for m in [seat(basis).member]
    )
    assert split(off, basis)[1].value < split(middle, basis)[1].value
    assert split(off, basis)[0] == split(middle, basis)[0]


def test_what_nobody_can_say_of_a_stud_beside_a_rod() -> None:
    on = pressed(seat(height=1200.0), side=80.0)
    said = stud_side(QUIET, on=on, rules=member_rules("nds"), when=PULL)
    assert isinstance(said, CannotSay)
    assert (said.family, "lies outside a storey" in said.why) == ("stud.side", True)
    unknown = seat()
    unknown = replace(unknown, member=replace(unknown.member, timber=None))
    for said in (
        stud_side(QUIET, on=pressed(unknown, side=80.0), rules=member_rules("nds"), when=PULL),
        bed_side(
            QUIET,
            on=pressed(unknown, side=80.0),
            rules=rules("nds"),
            timbers=member_rules("nds"),
            when=PULL,
        ),
    ):
        assert isinstance(said, CannotSay)
        assert "timber is not known" in said.why


# ---- blocking that bends

S_MID = 88.9 * (38.1**3 - 18.875**3) / (6 * 38.1)
"""What an 18.875 hole leaves in the middle of a block 38.1 high and 88.9 deep: b (h^3 - d^3)/(6 h)."""


def bent(*on: OnMember, basis: Basis = "nds") -> Found:
    return got(block_bend(QUIET, loads=on, rules=member_rules(basis), when=LONG))


def test_a_block_with_a_rod_in_its_middle_by_hand() -> None:
    # P l/4 of 362 mm; b (h^3 - d^3)/(6 h) of 38.1 high and 88.9 deep, an 18.875 hole in the middle.
    on = pressed(seat(at=481.0, up=1269.05, block=FLAT))
    stress, can = bent(on)
    assert stress == pytest.approx(400 * 362 / 4 / S_MID)
    # NDS-2018 4.3: C_D 0.9, C_F 1.5 of a 2x4, 875 psi No. 2 (Supplement 4A); nothing for lying flat.
    assert can.value == pytest.approx(0.9 * 1.5 * 875 * PSI)
    assert can.scope == "in"
    # EN 1995-1-1: k_mod 0.7, k_h (150/89)^0.2, 24 MPa, 1.3.
    other = pressed(seat("ec5", at=481.0, up=1269.0, block=(300.0, 662.0, (1250.0, 1288.0))))
    assert bent(other, basis="ec5")[1].value == pytest.approx(0.7 * (150 / 89) ** 0.2 * 24 / 1.3)
    # Pulled out of the wall too: (h - d) b^2/6 of what the hole leaves; both at one corner.
    pulled = replace(on, out=300.0)
    S_h = (38.1 - 18.875) * 88.9**2 / 6
    assert bent(pulled)[0] == pytest.approx(400 * 362 / 4 / S_MID + 300 * 362 / 4 / S_h)


def test_a_hole_out_of_the_middle_of_a_block_against_slices() -> None:
    """Second moment of 200,000 slices without those of the hole, about their own middle."""
    on = pressed(seat(at=481.0, up=1273.05, block=FLAT))
    z = (np.arange(200_000) + 0.5) * 38.1 / 200_000
    z = z[np.abs(z - 23.05) > 18.875 / 2]
    slices = 88.9 * 38.1 / 200_000
    I = float(((z - z.mean()) ** 2).sum() * slices)
    S = I / max(float(z.mean()), 38.1 - float(z.mean()))
    assert bent(on)[0] == pytest.approx(400 * 362 / 4 / S, rel=1e-4)


def test_two_rods_in_a_block_against_the_lever_rule() -> None:
    """Left end: 400 (1 - 120/362) + 200 (1 - 260/362); the moment is greatest at the first or the second rod."""
    loads = [
        pressed(seat(at=420.0, up=1269.05, block=FLAT), V=400.0),
        pressed(seat(at=560.0, up=1269.05, block=FLAT), V=200.0),
    ]
    left = 400 * (1 - 120 / 362) + 200 * (1 - 260 / 362)
    M = max(left * 120, left * 260 - 400 * 140)
    for order in (loads, loads[::-1]):
        assert bent(*order)[0] == pytest.approx(M / S_MID)
    # What lifts one rod takes from the other's moment.
    lifted = [loads[0], replace(loads[1], V=-200.0)]
    assert bent(*lifted)[0] < bent(loads[0])[0] < bent(*loads)[0]


def test_a_push_along_the_wall_turns_a_block_about_the_upright() -> None:
    """By hand: C = H (a_H + b/2), 120 from the left end of a beam of 362: C 242/362 beside it, C/362 at an end."""
    still = pressed(block(), out=150.0)
    pushed = replace(still, side=-80.0)
    C = 80 * (FRONT + 88.9 / 2)
    S_h = (38.1 - 18.875) * 88.9**2 / 6
    assert bent(pushed)[0] - bent(still)[0] == pytest.approx(C * 242 / 362 / S_h)
    fixing = EndFixing(stock.screw("no. 10 x 3"), 2, 50.0, "end grain", 38.1)

    def fixed(on: OnMember) -> float:
        rules_ = member_rules("nds")
        return got(block_fix(QUIET, loads=[on], fixing=fixing, rules=rules_, when=LONG))[0]

    V, T = 400 * 242 / 362, (60000 + 400 * 88.9 / 2) * 242 / 362
    for on, H in ((still, 150 * 242 / 362), (pushed, 150 * 242 / 362 + C / 362)):
        assert fixed(on) == pytest.approx(math.hypot(V, H) / 2 + T / 50)
    # The studs at its ends are pulled by it too, whichever way it is pushed.
    for end, other in zip(pushed.at_ends, still.at_ends, strict=True):
        assert end.out - other.out == pytest.approx(C / 362)


def test_nothing_is_said_of_a_block_with_two_holes_one_above_the_other() -> None:
    both = [pressed(seat(at=480.0, up=up, block=HIGH)) for up in (1275.0, 1313.0)]
    both = [
        replace(on, seat=replace(on.seat, rod=replace(on.seat.rod, embedment=30.0))) for on in both
    ]
    said = block_bend(QUIET, loads=both, rules=member_rules("nds"), when=LONG)
    assert isinstance(said, CannotSay)
    assert "one above the other" in said.why
    assert got(block_bend(QUIET, loads=both[:1], rules=member_rules("nds"), when=LONG))


def test_the_hole_that_leaves_least_counts_for_a_block() -> None:
    """Out of the middle leaves less than in it, and wide less than narrow, with whichever rod it is."""
    low = pressed(seat(at=420.0, up=1263.05, block=FLAT), V=1.0)
    mid = pressed(seat(at=481.0, up=1269.05, block=FLAT), V=400.0)
    assert bent(low, mid)[0] > bent(mid)[0] * 1.01
    # A narrow hole near the edge, with less wood beside it than a wide one amid, leaves more.
    thin = pressed(seat(at=420.0, up=1261.0, block=FLAT), V=1.0)
    thin = replace(thin, seat=replace(thin.seat, rod=replace(thin.seat.rod, hole=3.0)))
    assert min(thin.seat.edges or ()) - 1.5 < 19.05 - 18.875 / 2
    both = bent(thin, mid)[0]
    assert both == pytest.approx((400 * 362 / 4 + 1 * 120 * 181 / 362) / S_MID)
    # Pulled out of the wall the widest hole counts.
    pulled = [replace(thin, out=1e-9), replace(mid, out=300.0)]
    S_h = (38.1 - 18.875) * 88.9**2 / 6
    assert bent(*pulled)[0] == pytest.approx(both + 300 * 362 / 4 / S_h)
    # A hole as high as the block leaves nothing to judge.
    wide = replace(mid, seat=replace(mid.seat, rod=replace(mid.seat.rod, hole=40.0)))
    said = block_bend(QUIET, loads=[wide], rules=member_rules("nds"), when=LONG)
    assert isinstance(said, CannotSay)
    assert said.why == "a hole breaks out of the block"


# ---- rows


@pytest.mark.parametrize("situation", ["strength", "accident"])
def test_a_push_makes_the_rows_of_the_wood_beside_a_rod(situation: Situation) -> None:
    known = Known(rules("nds"), member_rules("nds"))
    when = When(situation, "years")

    def made_of(on: OnMember) -> dict[str, Check | CannotSay]:
        found = rows([Under("a", when, (on,))], known, situations=(situation,), keep=True)
        return {row.family: row for row in found}

    pushed, still = made_of(pressed(seat(), side=80.0)), made_of(pressed(seat()))
    assert set(pushed) - set(still) == {"rod.biax", "bed.side", "stud.side"}
    across = made_of(pressed(block(), side=80.0))
    assert {"rod.biax", "bed.side", "block.bend"} <= set(across)
    assert "stud.side" not in across
    for name in ("bed.side", "stud.side"):
        row = pushed[name]
        assert isinstance(row, Check)
        symbols = [step.symbol for step in row.steps]
        assert {"lambda", "M_s", "H_s"} <= set(symbols) or name == "bed.side"
        assert row.place is not None
        assert row.place.member == "s500"


def test_every_row_of_a_member_is_made_again_under_all_shelves_on_it() -> None:
    """But a push along the wall is of one rod: what lies on another shelf changes nothing of it (docs/statics.md)."""
    of_members = {f.id for f in FAMILIES if f.kind in ("stud", "blocking")} - {"stud.side"}
    assert of_members | {"stud.bend", "stud.shear"} == OF_MEMBERS
