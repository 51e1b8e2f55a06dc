"""What the rods of one shelf ask of members, bonds and locks under every case: balance and rules by hand.

Straight shelf: 1 m, 250 mm deep, 16 mm in front of the wood, so its front edge lies 266 mm from the wood. L: legs
of 1 m and 0.8 m. Forces at the wood are put in, not solved.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledgewright import stock
from ledgewright.core import LockAt
from ledgewright.job import Basis, Lock
from ledgewright.layout import Frame
from ledgewright.statics import NOMINAL
from ledgewright.statics.around import Around, around, foremost, levers, shares
from ledgewright.statics.bases import Combination, member_rules, rules
from ledgewright.statics.mechanics.contact_rods import Answer, RodAnswer
from ledgewright.statics.model import CannotSay, Check
from ledgewright.statics.patterns import Pattern, Search, Solved, Try
from ledgewright.statics.pull_checks import Angled, Dab, Grub
from ledgewright.statics.seats import rows
from ledgewright.survey import Room
from tests.statics import made

AGAINST = (
    "balance of forces and rules written out by hand; NDS-2018 T2.3.2; EN 1995-1-1 T2.3 and T3.1",
    "hand calculation",
    "1e-9",
)

FRONT = made.FREE + made.DEPTH
LEVER = 116.0
THERE = np.ones(1, dtype=bool)
NONE = Lock("none", ())


def shelf(
    placed: tuple[Room, Frame], lock: Lock = NONE, basis: Basis = "nds", known: Any = made.KNOWN
) -> Around:
    room, frame = placed
    room = replace(room, walls=tuple(replace(w, known=known) for w in room.walls))
    return Around(
        rows=rows(room, frame, NOMINAL),
        first="A",
        spec=replace(made.spec(), lock=lock),
        rules=rules(basis),
        timbers=member_rules(basis),
        inputs=NOMINAL,
        stays="years",
        keep=True,
    )


def straight(lock: Lock = NONE, basis: Basis = "nds", **more: Any) -> Around:
    return shelf(made.straight([200.0, 500.0, 800.0], basis=basis), lock, basis, **more)


def corner(lock: Lock = NONE) -> Around:
    return shelf(made.corner([200.0, 500.0, 900.0], [400.0, 700.0]), lock)


def locked(*rods: str, kind: Any = "grub screw") -> Lock:
    return Lock(kind, rods)


def pressing(V: float, at: float = LEVER) -> RodAnswer:
    """A rod on which the shelf presses at one place, 116 mm from the wood unless it is said."""
    one = np.ones(1)
    return RodAnswer(
        at=at * one,
        length=one,
        top=V * one,
        bottom=0 * one,
        gap_top=0 * one,
        gap_bottom=0 * one,
        V=V,
        M=V * at,
        y=0.0,
        theta=0.0,
        drop=0 * one,
        weight=0.0,
        tip=236.0,
    )


def solved(
    combination: Combination, loads: Sequence[float], name: str = "", at: float = LEVER
) -> Solved:
    answer = cast("Answer", _Rods(tuple(pressing(V, at) for V in loads)))
    return Solved(combination, Pattern(name, THERE), np.ones(1), answer)


@dataclass(frozen=True)
class _Rods:
    rods: tuple[RodAnswer, ...]

    @property
    def faces(self) -> list[float]:
        return [each for rod in self.rods for each in (rod.V, rod.M)]


class Given(Search):
    """Cases that are put in; every other one presses as they say."""

    def __init__(self, cases: Sequence[Solved], other: Sequence[float]) -> None:
        super().__init__(cast("Any", None), cast("Any", None))
        self.cases = {("", str(i), None, b""): case for i, case in enumerate(cases)}
        self.other, self.asked = other, list[Combination]()

    def all_of(self, tries: Sequence[Try]) -> list[Solved | None]:
        """Return cases in which the shelf presses on its rods as was said."""
        self.asked += [each.combination for each in tries]
        return [solved(each.combination, self.other, each.pattern.name) for each in tries]


def judged(
    on: Around, loads: Mapping[str, Sequence[float]], weight: float = 500.0, *, pull: float = 200.0
) -> tuple[dict[str, Check], list[CannotSay], Given]:
    """All rows by name; loads: what presses on every rod, by situation."""
    every = on.rules.combinations
    cases = [
        solved(next(c for c in every if c.situation == situation), on_rods, f"case {situation}")
        for situation, on_rods in {"service": [100.0] * len(on.seats), **loads}.items()
    ]
    search = Given(cases, [pull] * len(on.seats))
    made_rows, said = around(on, search, every, weight)
    assert len({row.id for row in made_rows}) == len(made_rows)
    return {row.id: row for row in made_rows}, said, search


STRONG: dict[str, Sequence[float]] = {
    "strength": [300.0, 400.0, 500.0],
    "accident": [600.0, 700.0, 900.0],
}
L_LOADS: dict[str, Sequence[float]] = {"strength": [300.0] * 5, "accident": [600.0] * 5}


def line(row: Check, symbol: str) -> list[float]:
    return [step.value for step in row.steps if step.symbol == symbol]


# ---- how a pull is shared


def test_locks_take_pull_and_turn_by_the_lever_rule() -> None:
    # Locks at 100 and 900 of a shelf from 0 to 1000: pulled at 1000, moments about the far one give 900/800 at the near
    # one, more than all of the pull; about the near one 100/800 the other way.
    found = levers({"a": 100.0, "b": 900.0}, 1000.0, 600.0)
    assert found == pytest.approx({"a": -75.0, "b": 675.0})
    # Three locks in a row, pulled in the middle: a third each; at an end, bolts on a line (e d / sum d2).
    assert levers({"a": 0.0, "b": 300.0, "c": 600.0}, 300.0, 600.0) == pytest.approx(
        dict.fromkeys("abc", 200.0)
    )
    found = levers({"a": 0.0, "b": 300.0, "c": 600.0}, 600.0, 600.0)
    assert found == pytest.approx({"a": -100.0, "b": 200.0, "c": 500.0})


@given(
    at=st.lists(st.integers(0, 40), min_size=1, max_size=6, unique=True),
    end=st.integers(-10, 50),
)
def test_the_lever_rule_is_in_balance(at: list[int], end: int) -> None:
    places = {f"r{k}": 50.0 * x for k, x in enumerate(at)}
    found = levers(places, 50.0 * end, 300.0)
    assert sum(found.values()) == pytest.approx(300.0)
    if len(at) > 1:
        turn = sum(found[rod] * (x - 50.0 * end) for rod, x in places.items())
        assert turn == pytest.approx(0.0, abs=1e-6)


def test_no_lock_is_asked_for_more_than_all_of_the_pull() -> None:
    # Two locks at 200 and 800, pulled at 1000: 4/3 of it at the near one. Should that let go, the other holds it alone,
    # and the rods take the turn about it, 800 off.
    (left, side), (right, _) = shares(straight(locked("A.s200", "A.s800")), 600.0)
    assert left == right == pytest.approx({"A.s200": 600.0, "A.s800": 600.0})
    assert sum(each * FRONT for each in side.values()) == pytest.approx(600.0 * 800.0)


def test_locks_that_take_the_turn_leave_the_rods_that_about_their_middle() -> None:
    # Three locks at 200, 500, 800: pulled at 1000 the outer one takes 1/3 + 500 300/180 000 = 1.17 of it: too much too;
    # pulled nearer, all within the pull, and the turn counts about their middle.
    near = shelf(
        made.straight([200.0, 500.0, 800.0], length=850.0), locked("A.s200", "A.s500", "A.s800")
    )
    outs = [out for out, _ in shares(near, 600.0)]
    assert max(outs[1].values()) == pytest.approx(600.0 * (1 / 3 + 350 * 300 / 180_000))
    assert sum(outs[1].values()) == pytest.approx(600.0)


def test_a_lock_at_one_side_turns_the_shelf_further() -> None:
    # One lock at 200: pulled at the far end, 800 from it.
    *_, (out, side) = shares(straight(locked("A.s200")), 600.0)
    assert out == {"A.s200": 600.0}
    assert sum(each * FRONT for each in side.values()) == pytest.approx(600.0 * 800.0)


def test_a_push_along_the_wall_is_shared_by_all_rods() -> None:
    # A short shelf: pulled 150 mm off the lock's place turns less than a push along at the front edge does.
    short = shelf(made.straight([100.0, 200.0], length=300.0), locked("A.s100", "A.s200"))
    *_, (_, side) = shares(short, 400.0)
    assert side == pytest.approx({"A.s100": 200.0, "A.s200": 200.0})


def test_with_no_lock_every_rod_is_asked() -> None:
    outs = [out for out, _ in shares(straight(), 600.0)]
    assert all(set(out) == {"A.s200", "A.s500", "A.s800"} for out in outs)


def test_in_an_l_the_other_legs_rods_hold_the_wall_it_goes_onto_first() -> None:
    made_shares = list(shares(corner(locked("B.s400")), 600.0))
    # Out of A, onto which it went first: nothing out, B's two rods sideways, half each.
    assert made_shares[0] == ({}, {"B.s400": 300.0, "B.s700": 300.0})
    # Along A, or its turn: A's own three.
    out, side = made_shares[1]
    assert out == {}
    assert set(side) == {"A.s200", "A.s500", "A.s900"}
    # Out of B: its lock.
    out, side = made_shares[2]
    assert out == {"B.s400": 600.0}
    assert set(side) == {"B.s400", "B.s700"}
    assert len(made_shares) == 4
    # The other way round, it is A's locks that are asked.
    turned = replace(corner(locked("A.s500")), first="B")
    pulls = [out for out, _ in shares(turned, 600.0) if out]
    assert pulls == [{"A.s500": 600.0}] * 2


# ---- the rows of a pull


@pytest.mark.parametrize(("weight", "H"), [(500.0, 300.0), (1000.0, 300.0), (2000.0, 600.0)])
def test_a_shelf_is_pulled_with_300_newtons_or_a_third_less_a_tenth(
    weight: float, H: float
) -> None:
    # H = max(300 N, 0.3 W), all of it for either of two locks so near the middle, the turn about the other one.
    found, _, _ = judged(straight(locked("A.s200", "A.s800")), STRONG, weight)
    for name in ("hold.pull", "bond.pull"):
        rods = {row.id.partition("@")[2] for row in found.values() if row.family == name}
        assert rods == {"A.s200", "A.s800"}
        assert all(r.demand == pytest.approx(H) for r in found.values() if r.family == name)
    for rod in ("A.s200", "A.s500", "A.s800"):
        pushed = line(found[f"rod.biax@{rod}"], "H_s")
        assert pushed == pytest.approx([H * 800.0 / 3 / FRONT])


@pytest.mark.parametrize(("basis", "dead"), [("nds", 1.2), ("ec5", 1.0)])
def test_who_pulls_does_not_lean_as_well(basis: Basis, dead: float) -> None:
    # The pull goes with self-weight and contents of the accidental combination, without its load down.
    found, _, search = judged(straight(locked("A.s500"), basis), STRONG)
    assert {(c.dead, c.live, c.single, c.accident) for c in search.asked} == {(dead, 1, 0, 0)}
    row = found["rod.biax@A.s500"]
    assert row.case.endswith("+ H, case service")
    # Bent down by what was put in for that case: 200 N at 116 mm.
    assert line(row, "M_0")[:1] == pytest.approx([200.0 * LEVER])


def test_nothing_locked_fails() -> None:
    found, _, _ = judged(straight(), STRONG)
    held = [row for row in found.values() if row.family == "hold.pull"]
    assert {row.place.member for row in held if row.place} == {"s200", "s500", "s800"}
    assert {row.state for row in held} == {"fails"}
    assert all("nothing holds" in row.reason for row in held)


def test_an_l_is_asked_for_locks_on_one_leg_only() -> None:
    found, _, _ = judged(corner(locked("B.s400", "B.s700")), L_LOADS)
    held = {row.id for row in found.values() if row.family == "hold.pull"}
    assert held == {"hold.pull@B.s400", "hold.pull@B.s700"}
    assert {r.id for r in found.values() if r.family == "bond.pull"} == {
        "bond.pull@B.s400",
        "bond.pull@B.s700",
    }
    assert len([r for r in found.values() if r.family == "rod.biax"]) == 5
    # Locked on the wrong leg only, nothing holds it.
    wrong, _, _ = judged(corner(locked("A.s200")), L_LOADS)
    assert {r.state for r in wrong.values() if r.family == "hold.pull"} == {"fails"}


@pytest.mark.parametrize(
    ("kind", "made_as"), [("grub screw", Grub), ("angled screw", Angled), ("sealant", Dab)]
)
def test_each_kind_of_lock_holds_where_it_is(kind: Any, made_as: type) -> None:
    known = straight(locked("A.s500", kind=kind)).known()
    assert {rod: type(hold) for rod, hold in known.holds.items()} == {"A.s500": made_as}
    if isinstance(hold := known.holds["A.s500"], Grub):
        assert (hold.skin.density, hold.thick) == (600.0, 18.0)
    assert straight(Lock("none", ("A.s500",))).known().holds == {}


def test_a_grub_screw_holds_no_more_in_a_thinner_skin() -> None:
    on = straight(locked("A.s500"))
    thin = replace(on.spec, skin_bottom=replace(on.spec.skin_bottom, thick=9.0))
    thick, _, _ = judged(on, STRONG)
    other, _, _ = judged(replace(on, spec=thin), STRONG)
    assert other["hold.pull@A.s500"].capacity < thick["hold.pull@A.s500"].capacity


def test_a_grub_screw_in_a_groove_holds_by_what_is_left_of_the_skin() -> None:
    """By hand: 18 mm of skin less 9 of groove is a skin of 9; the lock beside it keeps all 18."""
    on = straight(locked("A.s200", "A.s500"))
    grooved = replace(on, locks=(at_rod("A.s200"), replace(at_rod("A.s500"), groove=9.0)))
    holds = grooved.known().holds
    assert {rod: hold.thick for rod, hold in holds.items() if isinstance(hold, Grub)} == {
        "A.s200": 18.0,
        "A.s500": 9.0,
    }
    thin = replace(on.spec, skin_bottom=replace(on.spec.skin_bottom, thick=9.0))
    found, _, _ = judged(grooved, STRONG)
    other, _, _ = judged(replace(on, spec=thin), STRONG)
    assert found["hold.pull@A.s500"].capacity == pytest.approx(other["hold.pull@A.s500"].capacity)


def test_dabs_do_not_mind_a_groove_in_the_skin() -> None:
    """A dab is between rod and slot, over what a groove leaves of the skin."""
    on = straight(locked("A.s500", kind="sealant"))
    grooved = replace(on, locks=(replace(at_rod("A.s500"), groove=9.0),))
    assert grooved.known().holds == on.known().holds


@pytest.mark.parametrize("kind", ["grub screw", "angled screw", "sealant"])
def test_a_lock_that_meets_what_it_must_not_holds_nothing(kind: Any) -> None:
    """A screw in a cable way, or past the rod's tip, has nothing to hold against: its row fails and says why."""
    on = replace(
        straight(locked("A.s500", kind=kind)),
        locks=(replace(at_rod("A.s500"), lost="it meets a cable way"),),
    )
    row = judged(on, STRONG)[0]["hold.pull@A.s500"]
    assert row.state == "fails"
    assert "it meets a cable way" in row.reason


def at_rod(rod: str) -> LockAt:
    return LockAt(rod, (0.0, 0.0))


# ---- the rows of members


def test_members_are_judged_on_their_worst_case() -> None:
    on = straight()
    strong = next(c for c in on.rules.combinations if c.situation == "strength")
    search = Given(
        [
            solved(strong, [300.0, 300.0, 300.0], "even"),
            solved(strong, [100.0, 500.0, 100.0], "middle"),
        ],
        [0.0] * 3,
    )
    found = {row.id: row for row in around(on, search, on.rules.combinations, 500.0)[0]}
    assert found["stud.bend@s500"].case == "strength: D + L, middle"
    assert found["stud.bend@s200"].case == "strength: D + L, even"
    # By hand, 1000 mm above the floor of a storey of 8 ft: C (H - 1000)/H above the rod.
    C, H = 500 * LEVER + 500 * 88.9 / 2, 96 * made.IN
    assert found["stud.bend@s500"].demand == pytest.approx(C * (H - 1000) / H)
    area = (38.1 - 18.875) * 88.9
    assert found["stud.shear@s500"].demand == pytest.approx(1.5 * C / H / area)


def test_the_case_that_bends_counts_as_well_as_the_one_that_shears() -> None:
    # 500 N at 20 mm shear more, 300 N at 200 mm bend more: C = M + V h/2 is 32225 and 73335 N mm.
    on = straight()
    strong = next(c for c in on.rules.combinations if c.situation == "strength")
    near = solved(strong, [500.0] * 3, "near", 20.0)
    far = solved(strong, [300.0] * 3, "far", 200.0)
    for order in ([near, far], [far, near]):
        made_rows, _ = around(on, Given(order, [0.0] * 3), on.rules.combinations, 500.0)
        found = {row.id: row for row in made_rows}
        row = found["stud.bend@s500"]
        assert row.case.endswith("far")
        H = 96 * made.IN
        assert row.demand == pytest.approx((60000 + 300 * 88.9 / 2) * (H - 1000) / H)


@pytest.mark.parametrize(
    ("basis", "kinder"), [("nds", 1.6 / 0.9), ("ec5", (1.1 / 1.0) / (0.7 / 1.3))]
)
def test_an_accidents_rows_stand_with_the_accident(basis: Basis, kinder: float) -> None:
    # C_D 1.6 for 0.9 (NDS-2018 T2.3.2); k_mod 1.1 over gamma_M 1.0 for 0.7 over 1.3 (EN 1995-1-1 T2.3, T3.1).
    found, _, _ = judged(straight(basis=basis), STRONG)
    plain, leaned = found["stud.split@A.s500"], found["acc.hold@A.s500/stud.split"]
    assert (plain.family, leaned.family) == ("stud.split", "acc.hold")
    assert leaned.capacity / plain.capacity == pytest.approx(kinder)
    # 700 N for 400 N at the same lever.
    assert leaned.demand / plain.demand == pytest.approx(700 / 400)
    assert leaned.case.startswith("accident")
    assert plain.case.startswith("strength")
    assert leaned.title.endswith(plain.title.lower())


def test_a_stud_bends_under_a_pull_out_of_the_wall() -> None:
    """Simple beam by hand: a pull F and a couple C at one height a bend it most just above, (1 - a/H)(C + F a)."""
    lock = locked("A.s500")
    found, _, _ = judged(straight(lock), STRONG, weight=1000.0)
    row = found["acc.hold@s500/stud.bend"]
    assert row.title == "Someone pulls: stud bends"
    H, a = 96 * made.IN, 1000.0
    (V,), (M,) = set(line(row, "V_0")), set(line(row, "M_0")[-1:])
    # One lock holds all of it: 0.3 of 1000 N, 0.3 kN at the least.
    assert row.demand == pytest.approx((1 - a / H) * (M + V * 88.9 / 2 + 300.0 * a))
    shear = found["acc.hold@s500/stud.shear"]
    assert shear.demand > found["stud.shear@s500"].demand
    # Nobody leans on it while it is pulled, and it is no case of strength.
    assert "H" in row.case
    bare, _, _ = judged(straight(), STRONG, weight=1000.0)
    assert bare["stud.bend@s500"].demand == found["stud.bend@s500"].demand


def test_a_pull_is_no_strength_case() -> None:
    found, _, _ = judged(straight(locked("A.s500")), STRONG)
    for row in found.values():
        if row.family in ("rod.biax", "bed.side", "stud.side", "bond.pull", "hold.pull"):
            assert row.case.startswith("accident"), row.id
        elif row.family.startswith("stud"):
            assert row.case.startswith("strength"), row.id
            assert not any(line(row, "F")), row.id


@pytest.mark.parametrize("bearing", ["yes", "unknown"])
def test_a_wall_that_may_bear_is_out_of_scope(bearing: Any) -> None:
    found, _, _ = judged(straight(known=replace(made.KNOWN, bearing=bearing)), STRONG)
    bent = [row for row in found.values() if row.id.startswith("stud.bend@")]
    assert len(bent) == 3
    assert {(row.scope, row.state) for row in bent} == {("out", "cannot say")}
    clear, _, _ = judged(straight(), STRONG)
    assert clear["stud.bend@s500"].state == "passes"


def test_own_split_model_and_bond_need_somebody_to_answer() -> None:
    lock = locked("A.s500")
    plain, _, _ = judged(straight(lock), STRONG)
    signed = replace(made.KNOWN, engineer="a name")
    other, _, _ = judged(straight(lock, known=signed), STRONG)
    for row in ("stud.split@A.s500", "bond.pull@A.s500", "hold.pull@A.s500"):
        assert plain[row].ratio <= 1.0, row
        assert (plain[row].scope, plain[row].state) == ("stretched", "cannot say"), row
        # Who accepted the holes in a wall said nothing of a screw in the skin of the shelf (docs/decisions/0042).
        passes = "cannot say" if row.startswith("hold.pull") else "passes"
        assert (other[row].scope, other[row].state) == ("stretched", passes), row


def test_a_timber_without_strengths_is_said_once_a_family() -> None:
    room, frame = made.straight([200.0, 500.0, 800.0])
    wall = room.walls[0]
    euro = stock.timber("C24 38x89")
    foreign = replace(wall, members=tuple(replace(m, timber=euro) for m in wall.members))
    on = shelf((replace(room, walls=(foreign,)), frame))
    found, said, _ = judged(on, STRONG)
    studs = {"stud.split", "stud.side", "stud.bend", "stud.shear"}
    assert {each.family for each in said} == {*studs, "bed.side", "bond.pull"}
    assert not any(row.family.startswith("stud") for row in found.values())
    assert len(said) == len(set(said))


def test_lines_lead_to_every_row() -> None:
    found, _, _ = judged(straight(locked("A.s200", "A.s800")), STRONG, 1500.0)
    for row in found.values():
        values = [abs(step.value) for step in row.steps]
        assert any(v == pytest.approx(row.demand, rel=1e-9) for v in values), row.id
        assert any(v == pytest.approx(row.capacity, rel=1e-9) for v in values), row.id
        assert row.ratio == pytest.approx(row.demand / row.capacity)


def test_no_case_that_is_left_out_asks_more_of_any_rod() -> None:
    """Linear programming: the most of a V + b M over all, a and b not negative, is that over those kept."""
    pick = np.random.default_rng(5)
    faces = pick.normal(size=(400, 6)).round(2)
    faces[30] = faces[12]
    cases = [
        cast("Solved", SimpleNamespace(answer=SimpleNamespace(faces=list(row)))) for row in faces
    ]
    kept = np.array([case.answer.faces for case in foremost(cases)])
    assert 6 <= len(kept) < 100
    for rod in range(3):
        for a, b in [(1, 0), (0, 1), *pick.uniform(size=(200, 2)).tolist()]:
            for way in (1, -1):
                asked, left = (
                    way * (a * some[:, 2 * rod] + b * some[:, 2 * rod + 1])
                    for some in (faces, kept)
                )
                assert left.max() == asked.max()
    assert foremost([]) == []
