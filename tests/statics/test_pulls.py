"""A shelf pulled out of the wall or along it: hand reckonings of rods bent both ways, bond, locks and core."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from ledgewright import stock
from ledgewright.job import Basis
from ledgewright.statics.bases import Resistance, When, member_rules, rules
from ledgewright.statics.formula import Working
from ledgewright.statics.member_checks import OnMember
from ledgewright.statics.model import CannotSay
from ledgewright.statics.pull_checks import (
    Angled,
    Dab,
    Grub,
    Hold,
    SlotGlue,
    bond_pull,
    hold_pull,
    pulled,
)
from ledgewright.statics.row import Found
from ledgewright.statics.side_checks import rod_biax, sideways
from tests.statics import made
from tests.statics.test_members import PSI, got, pressed, seat

AGAINST = (
    "AISC 360 F11, EN 1993-1-1 6.2.5, NDS-2018 ch. 12, EN 1995-1-1 ch. 8, ASTM C1401",
    "hand calculation; factors as in the standards",
    "1e-9 to 2 %",
)

PULL = When("accident", "years")
STRONG = When("strength", "years")
QUIET = Working(keep=False)
BASES: tuple[Basis, ...] = ("nds", "ec5")


def test_the_pull_is_never_under_300_newtons() -> None:
    assert pulled(W=200.0) == 300.0
    assert pulled(W=1000.0) == 300.0
    assert pulled(W=2000.0) == 600.0


# ---- rods bent both ways


def biax(on: OnMember, basis: Basis = "nds") -> Found:
    return rod_biax(QUIET, on=on, rules=rules(basis), when=PULL)


@pytest.mark.parametrize(("basis", "most"), [("nds", 0.9 * 1.6), ("ec5", None)])
def test_a_round_rod_bent_both_ways_by_hand(basis: Basis, most: float | None) -> None:
    # 5/8 1018, Fy 54 ksi: 0.9 min(Z, 1.6 S) Fy (F11-2), or Z fy (6.2.5). Stiff bed: the peak is at the face.
    on = pressed(seat(basis), V=0.0, M=60000.0, side=100.0)
    Fy, d = on.seat.rod.bar.Fy, 15.875
    capacity = Fy * (most * math.pi * d**3 / 32 if most else d**3 / 6)
    by_hand = 60000 / capacity + 100 * (made.FREE + made.DEPTH) / capacity
    ratio, can = biax(on, basis)
    assert can.value == 1.0
    assert ratio == pytest.approx(by_hand, rel=0.01)
    assert ratio >= by_hand * (1 - 1e-9)


def test_a_flat_bar_is_weaker_lying() -> None:
    flat = replace(stock.bar("round 5/8 1018"), shape="flat", width=10.0, height=20.0)
    turned = sideways(flat)
    assert (turned.width, turned.height) == (20.0, 10.0)
    assert turned.elastic_modulus == pytest.approx(20 * 10**2 / 6)
    on = seat()
    on = replace(on, rod=replace(on.rod, bar=flat))
    down = biax(pressed(on, V=0.0, M=40000.0))[0]
    side = biax(pressed(on, V=0.0, M=0.0, side=40000.0 / on.front))[0]
    # Elastic moduli stand 2 to 1, plastic ones the same.
    assert side / down == pytest.approx(2.0, rel=0.02)


@pytest.mark.parametrize("basis", BASES)
def test_more_of_anything_uses_more(basis: Basis) -> None:
    one = biax(pressed(seat(basis), side=100.0), basis)[0]
    assert biax(pressed(seat(basis), side=150.0), basis)[0] > one
    assert biax(pressed(seat(basis), M=70000.0, side=100.0), basis)[0] > one
    assert biax(pressed(seat(basis), side=-100.0), basis)[0] == one


# ---- the bond


def test_bond_by_hand() -> None:
    # nds: 0.6 MPa on the rod's own round (Moehler and Hemmer, halved), no load duration.
    on = pressed(seat(), out=200.0)
    pull, can = got(bond_pull(QUIET, on=on, rules=member_rules("nds"), when=PULL))
    assert pull == 200.0
    assert can.value == pytest.approx(math.pi * 15.875 * 75 * 0.6)
    assert can.scope == "stretched"
    # ec5: the least of 1.2e-3 d^-0.2 rho^1.5, 60 dh^-0.49 (l/dh)^-0.46 and 4.0 MPa; here 4.0.
    on = pressed(seat("ec5"), out=200.0)
    hole = 18.875
    forms = (1.2e-3 * hole**-0.2 * 350**1.5, 60 * hole**-0.49 * (75 / hole) ** -0.46, 4.0)
    for when, factor in ((PULL, 1.1), (STRONG, 0.7 / 1.3)):
        _, can = got(bond_pull(QUIET, on=on, rules=member_rules("ec5"), when=when))
        assert can.value == pytest.approx(factor * math.pi * hole * 75 * min(forms))


@pytest.mark.parametrize("basis", BASES)
def test_a_deeper_rod_holds_more(basis: Basis) -> None:
    on = seat(basis)
    deep = replace(on, rod=replace(on.rod, embedment=85.0))
    kept = [
        got(bond_pull(QUIET, on=pressed(s, out=1.0), rules=member_rules(basis), when=PULL))[1].value
        for s in (on, deep)
    ]
    assert kept[1] > kept[0]


# ---- what holds it on


def held(
    hold: Hold | None, basis: Basis = "nds", when: When = PULL, *, wide: float | None = None
) -> Resistance:
    sits = seat(basis)
    if wide is not None:
        member = replace(sits.member, left=sits.x - wide / 2, right=sits.x + wide / 2)
        sits = replace(sits, member=member)
    on = pressed(sits, out=150.0)
    pull, can = got(hold_pull(QUIET, on=on, hold=hold, rules=member_rules(basis), when=when))
    assert pull == 150.0
    return can


def test_nothing_holds_nothing() -> None:
    can = held(None)
    assert can.value < 150
    assert "nothing holds" in can.reason


GRUB = Grub(stock.screw("grub M6 x 10"), stock.panel("birch ply 18"), 18.0)


def test_a_grub_screw_by_hand_nds() -> None:
    # Root 4.773, below 1/4 in: Fe 16600 G^1.84 psi, G 680/1120; play 0.8 and 1 mm of bite stand out of 18 mm.
    G, d, t, e = 680 / 1120, 4.773, 18.0, 1.8
    q = 16600 * G**1.84 * PSI * d
    # Straight screw: P e = q (t2/2 - (P/q + t)2/4).
    b = e + t / 2
    tilts = q * (math.sqrt(4 * b**2 + t**2) - 2 * b)
    bends = q * (math.sqrt(e**2 + 2 * 240 * d**3 / 6 / q) - e)
    assert held(GRUB).value == pytest.approx(1.6 * min(tilts, bends) / (3.6 * 1.25), rel=1e-4)
    assert held(GRUB).scope == "stretched"


def test_a_grub_screw_by_hand_ec5() -> None:
    d, t, e, rho = 4.773, 18.0, 1.8, 0.83 * 680
    q = 0.082 * (1 - 0.01 * d) * rho / (1.35 + 0.015 * d) * d
    b = e + t / 2
    tilts = q * (math.sqrt(4 * b**2 + t**2) - 2 * b)
    bends = q * (math.sqrt(e**2 + 2 * 240 * d**3 / 6 / q) - e)
    assert held(GRUB, "ec5").value == pytest.approx(1.1 * min(tilts, bends), rel=1e-9)
    assert held(GRUB, "ec5", STRONG).value == pytest.approx(0.7 / 1.3 * min(tilts, bends), rel=1e-9)


def test_an_angled_screw_by_hand() -> None:
    # No. 10 x 3 through 20 mm of shelf and 16 mm of lining, rising 1 in 2: W = 2850 G2 D lbf/in, tip one diameter.
    hold = Angled(stock.screw("no. 10 x 3"), 20.0)
    d = 0.19 * made.IN
    into = 3 * made.IN - math.sqrt(1.25) * (20.0 + made.FREE)
    W = 2850 * 0.42**2 * 0.19 * 4.4482216 / made.IN
    by_hand = 1.6 * W * (into - d) / math.sqrt(1.25)
    assert held(hold, wide=76.0).value == pytest.approx(by_hand, rel=1e-3)
    assert held(hold, wide=76.0).scope == "stretched"
    short = replace(hold, screw=stock.screw("no. 10 x 2"))
    assert held(short, wide=76.0).scope == "out"
    none = replace(hold, shelf=80.0)
    assert held(none).value == 1.0


def test_an_angled_screw_by_hand_ec5() -> None:
    # 6 x 100: f_ax 0.52 d^-0.5 l^-0.1 rho^0.8, k_d d/8.
    hold = Angled(stock.screw("6 x 100"), 20.0)
    l = 100 - math.sqrt(1.25) * (20.0 + made.FREE) - 6
    f = 0.52 * 6**-0.5 * l**-0.1 * 350**0.8
    by_hand = 1.1 * f * 6 * l * 6 / 8 / math.sqrt(1.25)
    assert held(hold, "ec5", wide=76.0).value == pytest.approx(by_hand, rel=1e-3)


@pytest.mark.parametrize("basis", BASES)
def test_an_angled_screw_finds_no_wood_beside_the_hole_of_one_stud(basis: Basis) -> None:
    """Common practice: 1.5 d to the hole and to the edge. A 38 mm stud with an 18.9 mm hole has 9.6 mm beside it."""
    hold = Angled(stock.screw("6 x 100"), 20.0)
    alone = held(hold, basis, wide=38.0)
    assert (alone.value, alone.scope) == (1.0, "in")
    assert "no room for an angled screw: 9." in alone.reason
    assert 'lock = { kind = "grub screw" }' in alone.reason
    # Two studs nailed together, the hole in the middle of both, have 28 mm; 18 are enough.
    assert held(hold, basis, wide=76.0).value > 1000.0
    hole = seat(basis).rod.hole
    assert held(hold, basis, wide=hole + 2 * 18.1).value > 1000.0
    assert held(hold, basis, wide=hole + 2 * 17.9).value == 1.0


def test_sealant_only_for_a_moment() -> None:
    # 20 psi (ASTM C1401) on 20 mm of half the rod's round.
    assert held(Dab()).value == pytest.approx(0.138 * math.pi * 15.875 / 2 * 20)
    assert held(Dab(), when=STRONG).scope == "out"


def test_a_glued_slot_is_as_good_as_its_weaker_side() -> None:
    weak = Resistance(0.3, "stretched", "rolling shear", "")
    can = held(SlotGlue(200.0, weak))
    assert can.value == pytest.approx(0.3 * math.pi * 15.875 / 2 * 200)
    assert (can.scope, can.reason) == ("stretched", "rolling shear")


def test_a_screw_into_timber_without_strengths_says_nothing() -> None:
    on = pressed(seat("nds", timber="C24 38x89"), out=10.0)
    hold = Angled(stock.screw("no. 10 x 3"), 20.0)
    said = hold_pull(QUIET, on=on, hold=hold, rules=member_rules("nds"), when=PULL)
    assert isinstance(said, CannotSay)
