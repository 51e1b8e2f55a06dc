"""Studs and blocking: hand reckonings of every check in both bases, the load on a stud, how far members give.

Factors written out here are those of the standards: C_D 0.9, C_F 1.5 (NDS-2018), k_mod 0.7, gamma_M 1.3 (EC5).
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from ledgewright import stock
from ledgewright.job import Basis, Driving, Fixing, Lost
from ledgewright.statics import checks
from ledgewright.statics.bases import Resistance, When, member_rules, rules
from ledgewright.statics.beam import Bed
from ledgewright.statics.block_checks import (
    EndFixing,
    block_fix,
    block_section,
    block_split,
    block_tors,
    end_fixing,
)
from ledgewright.statics.formula import Working
from ledgewright.statics.member_checks import (
    OnMember,
    Said,
    stud_bend,
    stud_shear,
    stud_split,
)
from ledgewright.statics.member_rows import Known, Under, rows, studs
from ledgewright.statics.members_give import share
from ledgewright.statics.model import CannotSay, Check
from ledgewright.statics.row import Found
from ledgewright.statics.seats import Seat
from tests.statics import made
from tests.statics.reckon import reckon

AGAINST = (
    "NDS-2018, EN 1995-1-1, beam handbooks, a frame of beam elements in the test",
    "hand calculation; factors as in the standards",
    "1e-9 to 1e-6; interpolated tables 1 %",
)

PSI = 0.00689475729
LONG = When("strength", "years")
ACCIDENT = When("accident", "years")
BASES: tuple[Basis, ...] = ("nds", "ec5")
QUIET = Working(keep=False)


def seat(
    basis: Basis = "nds",
    *,
    up: float = 1300.0,
    at: float = 500.0,
    block: tuple[float, float, tuple[float, float]] | None = None,
    known: Any = made.KNOWN,
    timber: str | None = None,
    height: float | None = None,
    fixed: Fixing | None = None,
) -> Seat:
    """A 5/8 rod 75 deep; block: left and right ends, heights."""
    member = made.member(at, basis)
    if timber is not None:
        member = replace(member, timber=stock.timber(timber))
    if block is not None:
        left, right, heights = block
        member = replace(member, kind="blocking", left=left, right=right, up=heights, fixed=fixed)
    beside = (block[0] - 19.0, block[1] + 19.0) if block is not None else ()
    studs = [made.member(stud, basis) for stud in beside]
    on = replace(made.wall([member, *studs]), known=known, height=height)
    member = next(each for each in on.members if each.id == member.id)
    rod = made.rod(on, member)
    x, y = on.at(at, -made.FREE)
    rod = replace(rod, origin=(x, y, up))
    return Seat(rod, on, member, at, made.FREE, made.FREE + made.DEPTH)


def bed(on: Seat) -> Bed:
    bar = on.rod.bar
    k = 1000.0
    return Bed(k, (k / (4 * bar.E * bar.inertia)) ** 0.25, on.rod.embedment, bar.E, bar.inertia)


def pressed(on: Seat, V: float = 400.0, M: float = 60000.0, **more: Any) -> OnMember:
    return OnMember(on, bed(on), bed(on), V, M, **more)


def got(said: Said) -> Found:
    assert not isinstance(said, CannotSay), said
    return said


def bent(*on: OnMember, basis: Basis = "nds", when: When = LONG, height: float = 2400.0) -> Found:
    loads = [each.on_stud for each in on]
    return got(stud_bend(QUIET, loads=loads, rules=member_rules(basis), when=when, height=height))


def sheared(*on: OnMember, basis: Basis = "nds", when: When = LONG) -> Found:
    loads = [each.on_stud for each in on]
    return got(stud_shear(QUIET, loads=loads, rules=member_rules(basis), when=when, height=2400.0))


# ---- what a stud is asked


def test_one_couple_on_a_stud_by_hand() -> None:
    # Couple about the axis: M0 + V0 h/2; at 1300 of 2400 the greater part lies below: C 1300/2400.
    demand, _ = bent(pressed(seat()))
    C = 60000 + 400 * 88.9 / 2
    assert demand == pytest.approx(C * 1300 / 2400)
    A = (38.1 - 18.875) * 88.9
    tau, _ = sheared(pressed(seat()))
    assert tau == pytest.approx(1.5 * (C / 2400) / A)


def test_a_pull_at_mid_height_is_a_point_load() -> None:
    # F L / 4 and F/2.
    on = pressed(seat(up=1200.0), V=0.0, M=0.0, out=300.0)
    assert bent(on)[0] == pytest.approx(300 * 2400 / 4)
    assert sheared(on)[0] == pytest.approx(1.5 * 150 / ((38.1 - 18.875) * 88.9))


def test_two_shelves_on_a_stud_against_beam_elements() -> None:
    """Moments of both rods' couples and pulls, by a frame of cubic elements with many nodes."""
    low = pressed(seat(up=900.0), V=300.0, M=50000.0, out=200.0)
    high = pressed(seat(up=1500.0), V=500.0, M=90000.0, out=-100.0)
    H, n = 2400.0, 48
    step = H / n
    K = np.zeros((2 * n + 2, 2 * n + 2))
    k = (
        np.array(
            [
                [12, 6 * step, -12, 6 * step],
                [6 * step, 4 * step**2, -6 * step, 2 * step**2],
                [-12, -6 * step, 12, -6 * step],
                [6 * step, 2 * step**2, -6 * step, 4 * step**2],
            ]
        )
        / step**3
    )
    for i in range(n):
        K[2 * i : 2 * i + 4, 2 * i : 2 * i + 4] += k
    load = np.zeros(2 * n + 2)
    for on in (low, high):
        node = round(on.up / step)
        load[2 * node] += on.out
        load[2 * node + 1] += on.M + on.V * 88.9 / 2
    free = [i for i in range(2 * n + 2) if i not in (0, 2 * n)]
    u = np.zeros(2 * n + 2)
    u[free] = np.linalg.solve(K[np.ix_(free, free)], load[free])
    ends = np.array([k @ u[2 * i : 2 * i + 4] for i in range(n)])
    greatest = max(np.abs(ends[:, 1]).max(), np.abs(ends[:, 3]).max())
    assert bent(low, high)[0] == pytest.approx(greatest, rel=1e-8)
    area = (38.1 - 18.875) * 88.9
    assert sheared(low, high)[0] == pytest.approx(1.5 * np.abs(ends[:, 0]).max() / area, rel=1e-8)


def test_a_taller_storey_and_more_load_ask_more() -> None:
    one = bent(pressed(seat()))
    two = bent(pressed(seat()), pressed(seat(up=900.0)))
    assert bent(pressed(seat(), M=70000.0))[0] > one[0]
    # More on the foot leaves less for bending; a taller post buckles sooner.
    assert two[1].value < one[1].value
    assert bent(pressed(seat()), height=3000.0)[1].value < one[1].value


@pytest.mark.parametrize(("basis", "height"), [("nds", 96 * made.IN), ("ec5", 2400.0)])
def test_the_storey_is_assumed_and_marked(basis: Basis, height: float) -> None:
    w = Working(keep=True)
    stud_bend(w, loads=[pressed(seat(basis)).on_stud], rules=member_rules(basis), when=LONG)
    (H,) = [step for step in w.steps if step.symbol == "H"]
    assert H.value == pytest.approx(height)
    assert H.assumed


def test_a_rod_that_does_not_fit_its_stud_says_nothing() -> None:
    on = seat()
    wide = replace(on, rod=replace(on.rod, hole=38.1))
    for odd, why in ((seat(up=2500.0), "storey"), (wide, "leaves nothing")):
        for check in (stud_bend, stud_shear):
            loads = [pressed(odd).on_stud]
            said = check(QUIET, loads=loads, rules=member_rules("nds"), when=LONG, height=2400.0)
            assert isinstance(said, CannotSay)
            assert why in said.why


# ---- what it can take


def test_bending_of_a_stud_by_hand_nds() -> None:
    # SPF No.1/No.2 2x4: Fb 875 psi, C_F 1.5, C_D 0.9; E 1.4e6 psi; Fc taken as Fc_perp 425 psi.
    _, can = bent(pressed(seat()))
    b = 38.1 - 18.875
    S, A = b * 88.9**2 / 6, b * 88.9
    Emin = 1.03 * (1 - 1.645 * 0.25) * 1.4e6 * PSI / 1.66
    FcE = 0.822 * Emin / (2400 / 88.9) ** 2
    Fc = 0.9 * 425 * PSI
    a = FcE / Fc
    Cp = (1 + a) / 1.6 - math.sqrt(((1 + a) / 1.6) ** 2 - a / 0.8)
    fc = 400 / A
    by_hand = S * 0.9 * 1.5 * 875 * PSI * (1 - (fc / (Cp * Fc)) ** 2) * (1 - fc / FcE)
    assert can.value == pytest.approx(by_hand, rel=1e-6)
    assert can.scope == "in"
    # At that moment NDS-2018 Eq. 3.9-3 is 1.
    fb = can.value / S
    unity = (fc / (Cp * Fc)) ** 2 + fb / (0.9 * 1.5 * 875 * PSI * (1 - fc / FcE))
    assert unity == pytest.approx(1, rel=1e-6)


def test_bending_of_a_stud_by_hand_ec5() -> None:
    # C24 38x89: f_m 24, f_c0 5 24^0.45, E_05 0.67 11000; k_mod 0.7, gamma_M 1.3, k_h (150/89)^0.2.
    _, can = bent(pressed(seat("ec5")), basis="ec5")
    b = 38 - 18.875
    fm = 0.7 * (150 / 89) ** 0.2 * 24 / 1.3
    fc0 = 5 * 24**0.45
    lam = 2400 / (89 / math.sqrt(12)) / math.pi * math.sqrt(fc0 / (0.67 * 11000))
    k = 0.5 * (1 + 0.2 * (lam - 0.3) + lam**2)
    kc = 1 / (k + math.sqrt(k**2 - lam**2))
    sigma = 400 / (b * 89)
    by_hand = b * 89**2 / 6 * fm * (1 - sigma / (kc * 0.7 * fc0 / 1.3))
    assert can.value == pytest.approx(by_hand, rel=1e-9)
    assert can.scope == "in"


@pytest.mark.parametrize(
    ("basis", "when", "by_hand"),
    [
        ("nds", LONG, 0.9 * 135 * PSI),
        ("nds", When("strength", "days"), 1.0 * 135 * PSI),
        ("nds", ACCIDENT, 1.6 * 135 * PSI),
        ("ec5", LONG, 0.7 * 0.67 * 4.0 / 1.3),
        ("ec5", When("strength", "months"), 0.8 * 0.67 * 4.0 / 1.3),
        ("ec5", ACCIDENT, 1.1 * 0.67 * 4.0 / 1.0),
    ],
)
def test_shear_of_a_stud_by_hand(basis: Basis, when: When, by_hand: float) -> None:
    _, can = sheared(pressed(seat(basis)), basis=basis, when=when)
    assert can.value == pytest.approx(by_hand, rel=1e-6)


@pytest.mark.parametrize(("bearing", "told"), [("yes", "bears"), ("unknown", "nobody knows")])
@pytest.mark.parametrize("basis", BASES)
def test_a_bearing_stud_needs_an_engineer(basis: Basis, bearing: Any, told: str) -> None:
    open_wall = replace(made.KNOWN, bearing=bearing)
    _, can = bent(pressed(seat(basis, known=open_wall)), basis=basis)
    assert can.scope == "out"
    assert told in can.reason
    signed = replace(open_wall, engineer="a name")
    _, can = bent(pressed(seat(basis, known=signed)), basis=basis)
    assert can.scope == "stretched"
    assert told in can.reason


def test_timber_without_strengths_says_nothing() -> None:
    on = pressed(seat("nds", timber="C24 38x89"))
    said = stud_split(QUIET, on=on, rules=member_rules("nds"), when=LONG)
    assert said == CannotSay("stud.split", "C24 38x89 has no design values of the NDS")
    said = stud_bend(QUIET, loads=[on.on_stud], rules=member_rules("nds"), when=LONG)
    assert isinstance(said, CannotSay)


# ---- splitting


def split(on: OnMember, basis: Basis = "nds", when: When = LONG) -> Found:
    return got(stud_split(QUIET, on=on, rules=member_rules(basis), when=when))


def test_split_by_hand_with_a_stiff_rod() -> None:
    # A rod that stays straight: pressure in a line, p = 4V/L + 6M/L2 at the face, zero at x0 = L p / slope.
    on = pressed(seat())
    stiff = replace(on, bed=Bed(1e-3, (1e-3 / (4 * 2e5 * 3117)) ** 0.25, 75.0, 2e5, 3117.0))
    V, M, L = 400.0, 60000.0, 75.0
    p0 = 4 * V / L + 6 * M / L**2
    slope = 6 * V / L**2 + 12 * M / L**3
    x0 = p0 / slope
    Rb = p0 * x0 / 2
    demand, can = split(stiff)
    assert demand == pytest.approx(0.15 * Rb / (4 * 17.875 * x0), rel=1e-4)
    # Boring more wood away makes it no stronger.
    wide = replace(stiff, seat=replace(stiff.seat, rod=replace(stiff.seat.rod, hole=21.0)))
    assert split(wide)[0] == demand
    assert can.value == pytest.approx(0.9 * 135 * PSI / 3, rel=1e-6)
    assert can.scope == "stretched"


def test_split_takes_ft90_in_ec5() -> None:
    _, can = split(pressed(seat("ec5")), "ec5")
    assert can.value == pytest.approx(0.7 * 0.4 / 1.3)
    _, can = split(pressed(seat("ec5")), "ec5", ACCIDENT)
    assert can.value == pytest.approx(1.1 * 0.4)


def test_mixed_signs_press_no_less() -> None:
    assert split(pressed(seat(), V=-400.0))[0] == split(pressed(seat()))[0]
    assert split(pressed(seat(), V=0.0, M=0.0))[0] == 0.0
    assert split(pressed(seat(), M=80000.0))[0] > split(pressed(seat()))[0]


# ---- blocking

FLAT = (300.0, 662.0, (1250.0, 1288.1))  # on edge of a 2x4: 38.1 high, 88.9 into the wall
HIGH = (300.0, 662.0, (1250.0, 1338.9))


def block(basis: Basis = "nds", *, at: float = 420.0, up: float = 1269.05) -> Seat:
    lay = FLAT if basis == "nds" else (300.0, 662.0, (1250.0, 1288.0))
    return seat(basis, at=at, up=up, block=lay)


def test_which_way_a_block_lies() -> None:
    assert block_section(block().member) == pytest.approx((88.9, 38.1))
    assert block_section(seat(block=HIGH).member) == pytest.approx((38.1, 88.9))
    assert block_section(seat(block=(0.0, 300.0, (0.0, 140.0))).member) is None
    said = block_split(
        QUIET,
        loads=[pressed(seat(at=400.0, up=1290.0, block=HIGH))],
        rules=member_rules("nds"),
        when=LONG,
    )
    # 75 mm of rod in 38 mm of wood.
    assert isinstance(said, CannotSay)
    assert "goes 38 mm into the wall, a rod 75 mm" in said.why


def test_block_split_by_hand() -> None:
    # 120 mm from the left end of 362 mm: 400 (1 - 120/362) goes left. h_e 19.05 of 38.1; breadth 75 as deep as the rod.
    on = pressed(block())
    V, can = got(block_split(QUIET, loads=[on], rules=member_rules("nds"), when=LONG))
    assert pytest.approx(400 * (1 - 120 / 362)) == V
    by_hand = 2 / 3 * 0.9 * 135 * PSI * 75 * 19.05 * (19.05 / 38.1) ** 2
    assert can.value == pytest.approx(by_hand, rel=1e-6)
    on = pressed(block("ec5", up=1269.0))
    V, can = got(block_split(QUIET, loads=[on], rules=member_rules("ec5"), when=LONG))
    assert can.value == pytest.approx(0.7 / 1.3 * 14 * 75 * math.sqrt(19 / (1 - 0.5)), rel=1e-9)
    assert can.scope == "stretched"


def test_block_torsion_by_hand() -> None:
    # Twist (M0 + V0 b/2)(1 - a/l) on 88.9 x (38.1 - 18.875); Timoshenko k2 at 88.9/19.225 = 4.62: about 0.288.
    on = pressed(block())
    tau, can = got(block_tors(QUIET, loads=[on], rules=member_rules("nds"), when=LONG))
    T = (60000 + 400 * 88.9 / 2) * (1 - 120 / 362)
    # Two strips of 19.05 - 18.875/2 = 9.6125 by 88.9, half of T each; alpha for 1:9.25 is 0.311 (Timoshenko's table).
    assert tau == pytest.approx(T / 2 / (0.311 * 88.9 * 9.6125**2), rel=0.01)
    assert can.value == pytest.approx(2 / 3 * 0.9 * 135 * PSI, rel=1e-6)
    on = pressed(block("ec5", up=1269.0))
    _, can = got(block_tors(QUIET, loads=[on], rules=member_rules("ec5"), when=LONG))
    shape = min(1 + 0.05 * 89 / (19 - 18.875 / 2), 1.3)
    assert can.value == pytest.approx(shape * 0.7 * 4.0 / 1.3)


FIXING = EndFixing(stock.screw("no. 10 x 3"), 2, 50.0, "end grain", 38.1)


def test_block_fixing_by_hand() -> None:
    on = pressed(block())
    F, can = got(block_fix(QUIET, loads=[on], fixing=FIXING, rules=member_rules("nds"), when=LONG))
    left = 1 - 120 / 362
    T = (60000 + 400 * 88.9 / 2) * left
    assert pytest.approx(400 * left / 2 + T / 50) == F
    # Mode IV at G 0.42: q = 3350 psi 0.152 in, M = 80 ksi 0.152^3/6, K_D 2.2; times 0.67 and 0.9 (NDS 12.5.2.2).
    q, M = 3350 * 0.152, 80000 * 0.152**3 / 6
    Z = math.sqrt(4 * (1 / q) * 2 * M) / (2 / q) / 2.2
    assert can.value == pytest.approx(0.67 * 0.9 * Z * 4.4482216, rel=1e-5)
    # Toed in it passes a third of its length and leans 30 degrees (NDS-2018 Figure 12A, from memory): 40.6 are left.
    toed = end_fixing(replace(on.seat.member, fixed=Fixing(FIXING.screw, 2, 50.0, "toed", None)))
    assert toed is not None
    assert (toed.through, toed.into) == pytest.approx((25.4, 76.2 * math.sqrt(0.75) - 25.4))
    _, other = got(block_fix(QUIET, loads=[on], fixing=toed, rules=member_rules("nds"), when=LONG))
    # A hinge in the stud alone, mode III_s of AWC TR12 (2015) Table 1-1: 3/(4q) P^2 + l/2 P - q l^2/4 - M = 0, l 1 in.
    A, C = 3 / (4 * q), -(q / 4 + M)
    side = (-0.5 + math.sqrt(0.25 - 4 * A * C)) / (2 * A) / 2.2
    assert side < Z
    assert other.value == pytest.approx(0.83 * 0.9 * side * 4.4482216, rel=1e-5)
    # The factor is that of nails, NDS-2018 12.5.4 (from memory).
    assert (can.scope, other.scope) == ("in", "stretched")


def test_block_fixing_by_hand_ec5() -> None:
    # 5 x 80, root 3.1: d_ef 3.41, f_h 0.082 350 5^-0.3, M 0.3 400 3.41^2.6; two hinges, end grain a third.
    fixing = replace(FIXING, screw=stock.screw("5 x 80"), through=38.0)
    on = pressed(block("ec5", up=1269.0))
    _, can = got(block_fix(QUIET, loads=[on], fixing=fixing, rules=member_rules("ec5"), when=LONG))
    q, M = 0.082 * 350 * 5**-0.3 * 3.41, 0.3 * 400 * 3.41**2.6
    P = math.sqrt(4 * (1 / q) * 2 * M) / (2 / q)
    assert can.value == pytest.approx(P / 3 * 0.7 / 1.3, rel=1e-9)
    assert can.scope == "stretched"


def test_nails_by_hand_ec5() -> None:
    # Smooth, not predrilled: f_h 0.082 350 d^-0.3, M 0.3 400 d^2.6 on all of d (EN 1995-1-1 8.3.1.1, from memory).
    on = pressed(block("ec5", up=1269.0))
    rules_, d = member_rules("ec5"), 3.1

    def ends(name: str, how: Driving) -> Resistance:
        told = replace(on.seat.member, fixed=Fixing(stock.screw(name), 3, 50.0, how, None))
        fixing = end_fixing(told)
        return got(block_fix(QUIET, loads=[on], fixing=fixing, rules=rules_, when=LONG))[1]

    q, M = 0.082 * 350 * d**-0.3 * d, 0.3 * 400 * d**2.6
    P = math.sqrt(4 * (1 / q) * 2 * M) / (2 / q)
    can = ends("nail 3.1 x 90", "through the stud")
    assert can.value == pytest.approx(P / 3 * 0.7 / 1.3, rel=1e-9)
    assert can.scope == "stretched"
    # 90 less a stud of 38 leaves 52, over ten diameters; 75 leaves 37, over ten too; 100 of 4 mm 62.
    assert [ends(n, "through the stud").scope for n in ("nail 3.1 x 75", "nail 4 x 100")] == [
        "stretched",
        "stretched",
    ]
    # Ten diameters in end grain: a 2 1/2 in nail of 3.33 through 38 leaves 25.5.
    assert ends("nail 8d", "through the stud").scope == "out"
    # Eight in side grain: 75 toed in leaves 65 - 25 = 40 of 24.8; 8d 55 - 21.2 = 33.8 of 26.6.
    assert ends("nail 8d", "toed").scope == "stretched"


def test_a_double_stud_takes_what_would_hold_the_block() -> None:
    # 16d, 88.9 long: 50.8 are left past one stud, 12.7 past two; six diameters are 24.7 (NDS-2018 12.1.6.4).
    on = pressed(block())
    for through, scope in ((None, "in"), (76.2, "out")):
        told = Fixing(stock.screw("nail 16d"), 3, 50.0, "through the stud", through)
        fixing = end_fixing(replace(on.seat.member, fixed=told))
        assert fixing is not None
        assert fixing.into == pytest.approx(88.9 - (through or 38.1))
        found = block_fix(QUIET, loads=[on], fixing=fixing, rules=member_rules("nds"), when=LONG)
        assert got(found)[1].scope == scope


def test_a_wall_as_high_as_somebody_said_bends_its_studs_so() -> None:
    # C 1300/H about the axis; a taller stud also bears less.
    by_height = {}
    for height in (2400.0, 3000.0):
        on = pressed(seat(height=height))
        (row,) = (
            each
            for each in rows(
                [Under("a", LONG, (on,))],
                Known(rules("nds"), member_rules("nds")),
                situations=("strength",),
                keep=True,
            )
            if each.family == "stud.bend"
        )
        assert isinstance(row, Check)
        C = 60000 + 400 * 88.9 / 2
        assert row.demand == pytest.approx(C * max(1300, height - 1300) / height)
        assert not next(s for s in row.steps if s.symbol == "H").assumed
        by_height[height] = row.capacity
    assert by_height[3000.0] < by_height[2400.0]


def test_unknown_or_single_fixing_says_nothing() -> None:
    on = [pressed(block())]
    for fixing in (None, replace(FIXING, count=1)):
        said = block_fix(QUIET, loads=on, fixing=fixing, rules=member_rules("nds"), when=LONG)
        assert isinstance(said, CannotSay)
    short = replace(FIXING, screw=stock.screw("no. 10 x 2"))
    _, can = got(block_fix(QUIET, loads=on, fixing=short, rules=member_rules("nds"), when=LONG))
    assert can.scope == "out"


def test_a_block_hands_its_load_to_the_studs_it_hangs_on() -> None:
    left, right = pressed(block()).at_ends
    assert pytest.approx(400) == left.V + right.V
    assert pytest.approx(60000) == left.M + right.M
    assert pytest.approx(400 * 120 / 362) == right.V
    assert (left.along, right.along, left.hole) == (300.0, 662.0, 0.0)
    # Studs centred 19 mm off its ends take it.
    assert set(studs([pressed(block())])) == {"s281", "s681"}


# ---- rows


def test_rows_name_every_family_once_and_are_led_to() -> None:
    on = pressed(seat(), out=150.0, side=100.0)
    cases = [Under("a", LONG, (on,)), Under("b", LONG, (replace(on, M=90000.0),))]
    made_rows = rows(
        cases, Known(rules("nds"), member_rules("nds")), situations=("strength",), keep=True
    )
    checks = [row for row in made_rows if isinstance(row, Check)]
    assert [row.family for row in checks] == [
        "stud.split",
        "rod.biax",
        "bed.side",
        "stud.side",
        "bond.pull",
        "hold.pull",
        "stud.bend",
        "stud.shear",
    ]
    for check in checks:
        values = [abs(step.value) for step in check.steps]
        assert any(v == pytest.approx(check.demand, rel=1e-9) for v in values), check.id
        assert any(v == pytest.approx(check.capacity, rel=1e-9) for v in values), check.id
        for step in check.steps:
            printed = reckon(step.numbers, {})
            assert printed == pytest.approx(step.value, rel=5e-3, abs=1e-3), (check.id, step)
            assert step.source
    assert {row.case for row in checks if row.family in ("stud.split", "stud.bend")} == {"b"}
    # Nothing holds it on.
    hold = next(row for row in checks if row.family == "hold.pull")
    assert hold.state == "fails"


@pytest.mark.parametrize("off", [10.0, 16.0])
def test_blocking_that_ends_between_studs_says_nothing(off: float) -> None:
    """Common practice: what holds a block is a stud; taped within 15 mm of its edge it is at one."""
    on = block()
    studs_off = tuple(
        replace(m, left=m.left + off, right=m.right + off)
        if m.kind == "stud" and m.left > 420
        else m
        for m in on.wall.members
    )
    there = pressed(replace(on, wall=replace(on.wall, members=studs_off)))
    said = block_fix(QUIET, loads=[there], fixing=FIXING, rules=member_rules("nds"), when=LONG)
    assert isinstance(said, CannotSay) == (off > 15)


def test_blocking_that_hangs_on_a_stud_that_is_not_there_says_nothing() -> None:
    """Statics: what is missing holds nothing; a twisted stud is there."""
    on = block()
    ways: tuple[tuple[Lost, bool], ...] = (("missing", True), ("twisted", False))
    for lost, silent in ways:
        members = tuple(
            replace(m, lost=lost) if m.kind == "stud" and m.left > 420 else m
            for m in on.wall.members
        )
        there = pressed(replace(on, wall=replace(on.wall, members=members)))
        said = block_fix(QUIET, loads=[there], fixing=FIXING, rules=member_rules("nds"), when=LONG)
        assert isinstance(said, CannotSay) == silent
        named = {stud for stud in studs([there]) if " at " not in stud}
        assert len(named) == (1 if silent else 2)


@pytest.mark.parametrize(("off", "near"), [(109.0, True), (112.0, False)])
def test_a_rod_set_near_the_end_of_its_block_is_not_judged(off: float, near: bool) -> None:
    """EN 1995-1-1 T8.4, by hand: seven times 5/8 in are 111.1 mm, from either end."""
    left, right = FLAT[:2]
    for at in (left + off, right - off):
        said = block_split(
            QUIET, loads=[pressed(block(at=at))], rules=member_rules("nds"), when=LONG
        )
        assert isinstance(said, CannotSay) is near
        assert not isinstance(said, CannotSay) or "111 mm at least" in said.why


@pytest.mark.parametrize(
    ("up", "near"), [(2366.0, True), (2200.0, False), (149.0, True), (151.0, False)]
)
def test_the_ends_of_a_stud_count_where_nobody_gave_the_height(up: float, near: bool) -> None:
    """By hand, 16 mm rods of ec5: 7 d = 112 mm below a double plate of 76 under 2400, above a plate of 38."""
    on = pressed(
        replace(
            seat("ec5", up=up), rod=replace(seat("ec5", up=up).rod, bar=stock.bar("round 16 S235"))
        )
    )
    said = stud_split(QUIET, on=on, rules=member_rules("ec5"), when=LONG)
    assert isinstance(said, CannotSay) is near
    assert not isinstance(said, CannotSay) or "tell the wall's height" in said.why


def test_rows_of_blocks() -> None:
    told = Fixing(FIXING.screw, FIXING.count, FIXING.apart, "through the stud", None)
    for fixed in (told, None):
        on = pressed(seat(at=420.0, up=1269.05, block=FLAT, fixed=fixed))
        made_rows = rows(
            [Under("a", LONG, (on,))],
            Known(rules("nds"), member_rules("nds")),
            situations=("strength",),
            keep=False,
        )
        families = {row.family for row in made_rows}
        of_block = {"block.bend", "block.split", "block.tors", "block.fix"}
        assert families == {"stud.bend", "stud.shear", *of_block}
        fix = next(row for row in made_rows if row.family == "block.fix")
        assert isinstance(fix, CannotSay if fixed is None else Check)
        if isinstance(fix, Check):
            by_hand = block_fix(
                QUIET, loads=[on], fixing=FIXING, rules=member_rules("nds"), when=LONG
            )
            assert (fix.demand, fix.capacity) == (got(by_hand)[0], got(by_hand)[1].value)


# ---- how far members give


def test_a_couple_half_way_up_a_stud() -> None:
    # Handbook: theta = C L / (12 E I) at mid-span; the face lies h/2 in front of the axis.
    matrix = share([seat(up=1200.0, height=2400.0)], rules=member_rules("nds"))
    E, I = 1.4e6 * PSI, 38.1 * 88.9**3 / 12
    turn = 2400 / (12 * E * I)
    assert matrix[1][1] == pytest.approx(turn)
    assert matrix[0][1] == matrix[1][0] == pytest.approx(turn * 88.9 / 2)
    short = 1200 / (E * 38.1 * 88.9)
    assert matrix[0][0] == pytest.approx(turn * (88.9 / 2) ** 2 + short)


def test_an_end_couple_turns_by_a_third() -> None:
    # Handbook: C L / (3 E I) at the end itself, approached.
    matrix = share([seat(up=1e-6, height=2400.0)], rules=member_rules("nds"))
    assert matrix[1][1] == pytest.approx(2400 / (3 * 1.4e6 * PSI * 38.1 * 88.9**3 / 12))


def test_two_shelves_feel_each_other() -> None:
    low, high = seat(up=900.0, height=2400.0), seat(up=1500.0, height=2400.0)
    both = np.array(share([low, high], rules=member_rules("nds")))
    assert both == pytest.approx(both.T)
    assert np.linalg.eigvalsh(both).min() > -1e-15
    # H/3 + (a2 + z2)/2H - max: 800 + 637.5 - 1500 < 0: turned back above.
    assert both[1, 3] == pytest.approx(-62.5 / (1.4e6 * PSI * 38.1 * 88.9**3 / 12))
    apart = share([low, seat(up=1500.0, at=900.0)], rules=member_rules("nds"))
    assert [apart[i][j] for i in (0, 1) for j in (2, 3)] == [0.0] * 4


def test_a_block_sinks_and_twists() -> None:
    # Mid-span: P l3/48EI; T l/4GJ with J from Timoshenko's k1 (88.9/38.1 = 2.33: 0.242), G = E/16.
    on = block(at=481.0)
    matrix = share([on], rules=member_rules("nds"))
    E = 1.4e6 * PSI
    assert matrix[1][1] == pytest.approx(362 / 4 / (E / 16 * 0.242 * 88.9 * 38.1**3), rel=0.01)
    sinks = 362**3 / (48 * E * 88.9 * 38.1**3 / 12)
    assert matrix[0][0] == pytest.approx(sinks + matrix[1][1] * (88.9 / 2) ** 2)


def test_creep_gives_more() -> None:
    day, late = (np.array(share([seat()], rules=member_rules("ec5"), k_def=k)) for k in (0.0, 0.6))
    assert late == pytest.approx(1.6 * day)


def test_members_that_cannot_be_told_are_refused_or_give_more() -> None:
    on = seat()
    unknown = replace(on, member=replace(on.member, timber=None))
    with pytest.raises(ValueError, match="no timber"):
        share([unknown], rules=member_rules("nds"))
    # Past the storey as at its end, C L / (3 E I); no other place turns so far.
    past = share([seat(up=3000.0, height=2400.0)], rules=member_rules("nds"))
    assert past[1][1] == pytest.approx(2400 / (3 * 1.4e6 * PSI * 38.1 * 88.9**3 / 12))


# ---- edges


@pytest.mark.parametrize(
    ("basis", "up", "sd", "state"),
    [
        # 4 d = 63.5 below, 3 d = 47.6 above. 70 less 6.2 are enough below, 52.6 less 6.2 are not above.
        ("ec5", (930.0, 1052.6), 3.0, "cannot say"),
        # Above, 15.5 less 7.2 are less than half the hole, 9.4: it may break out. Below, 40 less 7.2.
        ("nds", (960.0, 1015.5), 3.5, "fails"),
    ],
)
def test_each_edge_of_a_block_is_judged_with_its_doubt(
    basis: Basis, up: tuple[float, float], sd: float, state: str
) -> None:
    on = seat(basis, up=1000.0, block=(300.0, 662.0, up))
    on = replace(on, member=replace(on.member, sd=sd))
    found = checks.bed_edge(on, rules(basis), None, keep=False)
    assert found is not None
    assert found.state == state


def test_a_rod_that_leans_is_as_near_to_the_edge_as_its_hole_comes() -> None:
    """Geometry: 2 degrees over 75 mm are 2.6 mm aside at the end of the hole, as `site.evidence` and the card say."""
    on = seat()
    lean = math.radians(2.0)
    x, y = on.wall.direction
    a, b = on.wall.outward
    axis = (a * math.cos(lean) + x * math.sin(lean), b * math.cos(lean) + y * math.sin(lean), 0.0)
    leaning = replace(on, rod=replace(on.rod, axis=axis))
    assert leaning.edges is not None
    assert leaning.edges[0] == pytest.approx(38.1 / 2 - 75 * math.sin(lean), abs=1e-6)
