"""How far studs and blocking give, and that the drop of a shelf counts it: handbook cases of beams, bars and posts."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import numpy as np
import pytest

from ledgewright import stock
from ledgewright.job import Basis, Fixing
from ledgewright.statics import NOMINAL
from ledgewright.statics.actions import Floats
from ledgewright.statics.bases import member_rules, rules
from ledgewright.statics.mechanics.contact_rods import rest
from ledgewright.statics.members_give import lever, share
from ledgewright.statics.seats import Seat
from ledgewright.statics.stand import rods_of, seats
from tests.statics import made
from tests.statics.test_members import FLAT, block, seat
from tests.statics.test_on_section import Case

AGAINST = (
    "handbook cases of beams, twisted bars and posts",
    "hand calculation",
    "1e-9 to 1e-6; 1 % where a table is interpolated",
)

BASES: tuple[Basis, ...] = ("nds", "ec5")
# SPF No.1/No.2: 1.4e6 psi; C24: 11000 MPa (EN 338).
E = {"nds": 1.4e6 * 0.00689475729, "ec5": 11000.0}
SIDES = {"nds": (38.1, 88.9), "ec5": (38.0, 89.0)}


def by_hand(basis: Basis, a: float, H: float) -> tuple[tuple[float, float], tuple[float, float]]:
    """A simple beam under a couple at a: C (H/3 - a + a2/H)/EI; a post that shortens: P a/EA; arm h/2 to the face."""
    b, h = SIDES[basis]
    turns = (H / 3 - a + a**2 / H) / (E[basis] * b * h**3 / 12)
    sinks = a / (E[basis] * b * h)
    return (sinks + turns * h**2 / 4, turns * h / 2), (turns * h / 2, turns)


def everywhere(stud: Floats) -> Floats:
    """Three rods, each in a stud of its own."""
    made_of = np.zeros((6, 6))
    for i in (0, 2, 4):
        made_of[i : i + 2, i : i + 2] = stud
    return made_of


@pytest.mark.parametrize(("basis", "up"), list(product(BASES, (400.0, 1200.0, 2100.0))))
def test_a_stud_by_hand(basis: Basis, up: float) -> None:
    found = share([seat(basis, up=up, height=2400.0)], rules=member_rules(basis))
    assert np.array(found) == pytest.approx(np.array(by_hand(basis, up, 2400.0)), rel=1e-6, abs=0)


@pytest.mark.parametrize(("basis", "storey"), [("nds", 96 * made.IN), ("ec5", 2400.0)])
def test_the_storey_is_taken_where_nobody_gave_it(basis: Basis, storey: float) -> None:
    found = share([seat(basis, up=1000.0)], rules=member_rules(basis))
    assert np.array(found) == pytest.approx(
        np.array(by_hand(basis, 1000.0, storey)), rel=1e-6, abs=0
    )


def test_two_rods_in_a_block_feel_each_other() -> None:
    # Loads at the thirds. Handbook: at one third under a load at the other 7 P l3/486 EI, under its own 4 P l3/243 EI;
    # a bar held at its ends: T l/9 GJ and 2 T l/9 GJ.
    left, right = FLAT[:2]
    l = right - left
    first, second = block(at=left + l / 3), block(at=right - l / 3)
    rods = [first, replace(second, member=replace(second.member, id=first.member.id))]
    found = np.array(share(rods, rules=member_rules("nds")))
    assert found == pytest.approx(found.T)
    EI = E["nds"] * 88.9 * 38.1**3 / 12
    own, other = found[1, 1], found[1, 3]
    assert other == pytest.approx(own / 2, rel=1e-9, abs=0)
    arm = 88.9 / 2
    assert found[0, 0] - arm**2 * own == pytest.approx(4 * l**3 / (243 * EI), rel=1e-9, abs=0)
    assert found[0, 2] - arm**2 * other == pytest.approx(7 * l**3 / (486 * EI), rel=1e-9, abs=0)
    # Timoshenko's k1 for 88.9/38.1 = 2.33: about 0.242; G = E/16 (EN 384, from memory).
    assert own == pytest.approx(
        2 * l / 9 / (E["nds"] / 16 * 0.242 * 88.9 * 38.1**3), rel=0.01, abs=0
    )


NAILS = Fixing(stock.screw("nail 16d"), 3, 57.0, "through the stud", None)
SCREWS = Fixing(stock.screw("6 x 100"), 4, 60.0, "toed", None)


def nailed(l: float, at: float, fixed: Fixing | None = NAILS, basis: Basis = "ec5") -> Seat:
    """A rod so far from the left end of a block of C24 38 x 89 lying flat."""
    return seat(
        basis, at=300.0 + at, up=1269.0, block=(300.0, 300.0 + l, (1250.0, 1288.0)), fixed=fixed
    )


@pytest.mark.parametrize("fixed", [NAILS, SCREWS])
def test_what_holds_a_block_slips(fixed: Fixing) -> None:
    """EN 1995-1-1 T7.1, C24 of 420 kg/m3: nails rho^1.5 d^0.8/30, screws rho^1.5 1.1 d_root/23; two thirds of it."""
    l, a = 400.0, 100.0
    firm, slips = (
        np.array(share([nailed(l, a, f)], rules=member_rules("ec5"))) for f in (None, fixed)
    )
    root = 420**1.5
    of = {
        "nail 16d": root * 4.1148**0.8 / 30,
        "6 x 100": root * 1.1 * fixed.driven.root / 23,
    }
    K = 2 / 3 * of[fixed.driven.name]
    # 3/4 of what acts goes to the near end and 1/4 to the far one; the rod's place moves by the same shares of what
    # each end does: (9 + 1)/16. Two screws e apart turn by 2 T/(K e2).
    turn = 10 / 16 * 2 / (K * fixed.apart**2)
    sink = 10 / 16 / (fixed.each_end * K)
    assert (slips - firm)[1, 1] == pytest.approx(turn, rel=1e-6)
    assert (slips - firm)[0, 1] == pytest.approx(turn * 89 / 2, rel=1e-6)
    assert (slips - firm)[0, 0] == pytest.approx(sink + turn * (89 / 2) ** 2, rel=1e-6)


def test_a_block_that_is_softer_across_its_grain_slips_more() -> None:
    """Springs in series, the stud's side 1, the block's side as much softer: 1 + 4 over 1 + 2 at a quarter."""
    firm, half, quarter = (
        np.array(share([nailed(400.0, 100.0, f)], rules=member_rules("ec5"), across=across))
        for f, across in ((None, 0.5), (NAILS, 0.5), (NAILS, 0.25))
    )
    assert quarter - firm == pytest.approx((half - firm) * (1 + 4) / (1 + 2), rel=1e-9)


def test_rods_in_a_block_that_slips_feel_each_other() -> None:
    """Against a bar on two springs put together as a matrix: drop and twist of its ends, solved by numpy."""
    l, places = 500.0, (120.0, 330.0)
    rods = [nailed(l, a) for a in places]
    firm = [nailed(l, a, None) for a in places]
    found, stiff = (
        np.array(
            share(
                [replace(r, member=replace(r.member, id="B")) for r in some],
                rules=member_rules("ec5"),
            )
        )
        for some in (rods, firm)
    )
    K = 2 / 3 * 420**1.5 * 4.1148**0.8 / 30
    shares = np.array([[1 - a / l, a / l] for a in places])
    ends = {"V": np.eye(2) * 3 * K, "T": np.eye(2) * K * 57.0**2 / 2}
    sink, turn = (shares @ np.linalg.solve(ends[k], shares.T) for k in ("V", "T"))
    arm = 89 / 2
    assert (found - stiff)[1::2, 1::2] == pytest.approx(turn, rel=1e-6)
    assert (found - stiff)[0::2, 1::2] == pytest.approx(arm * turn, rel=1e-6)
    assert (found - stiff)[0::2, 0::2] == pytest.approx(sink + arm**2 * turn, rel=1e-6)


def test_slip_grows_by_twice_the_creep_of_the_timber() -> None:
    # EN 1995-1-1 2.3.2.2(3): k_def counts twice in a joint; a block that is held stiffly gives 1.6 times as much.
    def of(fixed: Fixing | None, k_def: float) -> Floats:
        return np.array(
            share([nailed(400.0, 100.0, fixed)], rules=member_rules("ec5"), k_def=k_def)
        )

    today, later = (of(NAILS, k) - of(None, k) for k in (0.0, 0.6))
    assert later == pytest.approx(2.2 * today)
    assert of(None, 0.6) == pytest.approx(1.6 * of(None, 0.0))


def test_an_arm_carries_a_load_as_a_turn_and_a_turn_as_a_drop() -> None:
    # 2 mm/N on the axis, 3 rad per N mm, 10 mm in front: 1 N turns by 10 x 3, which lowers the face by 10 x 30.
    assert lever(2.0, 3.0, 10.0) == ((302.0, 30.0), (30.0, 3.0))


def test_a_block_of_unknown_make_counts_as_lying_flat() -> None:
    odd = block()
    odd = replace(odd, member=replace(odd.member, up=(1250.0, 1300.0)))
    found = share([odd], rules=member_rules("nds"))
    assert np.array(found) == pytest.approx(np.array(share([block()], rules=member_rules("nds"))))


@pytest.mark.parametrize("basis", BASES)
def test_the_drop_of_a_shelf_counts_its_studs(basis: Basis) -> None:
    """At every wood face: what the bed gives under V and M, and what the stud gives by hand."""
    case = Case(
        made.straight([200.0, 500.0, 800.0], basis=basis),
        made.demand(made.thing(500.0, mass=20.0), accidents=()),
        basis,
    )
    storey = 96 * made.IN if basis == "nds" else 2400.0
    stud = np.array(by_hand(basis, 1000.0, storey))
    found = case.judged()
    bars = dict(zip((r.id for r in case.frame.rods), case.resting.rods, strict=True))
    served = [f for f in found.forces if f.case == f"service: {rules(basis).combinations[0].id}"]
    assert len(served) == 3
    for force in served:
        at_face = (bars[force.rod].bar.at_face() + stud) @ [force.V, force.M]
        assert [force.drop_at_face, force.turn_at_face] == pytest.approx(
            at_face.tolist(), rel=1e-6, abs=0
        )
    # After creep the stud gives 1.6 times as much (k_def 0.6 of solid timber, service class 1: EN 1995-1-1 T3.2).
    aged = rods_of(case.stood, seats(case.stood.rows), case.spec, NOMINAL, creep=True)
    later = rest(case.stood.later, aged, share=everywhere(1.6 * stud))
    new = rest(case.stood.today, case.resting.rods, share=everywhere(stud))
    plain, acting = rules(basis).combinations[0], case.actions
    there = acting.factors(plain, acting.of("dead", "live"))
    hung = new.solve(acting.under(acting.factors(plain, acting.of("dead"))))
    old = later.solve(acting.under(there, creep=True))
    assert found.drop is not None
    assert found.drop.long_term.value == pytest.approx(
        (old.read - hung.read).max(), rel=1e-6, abs=0
    )
