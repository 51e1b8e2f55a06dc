"""Two shelves on the same studs: limits, order, and the drop by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from ledgewright.job import Basis, Demand
from ledgewright.layout import Frame
from ledgewright.memo import Memo
from ledgewright.statics import Check, Holds, OnMembers, on_members, together
from ledgewright.statics.bases import member_rules
from ledgewright.statics.families import Into
from ledgewright.statics.members_give import share
from tests.statics import made
from tests.statics.test_on_section import Case

AGAINST = (
    "limits, symmetry, and handbook beams by hand",
    "hand calculation",
    "1e-9; drop 2 %",
)

BASES: tuple[Basis, ...] = ("nds", "ec5")
STUDS: Into = frozenset({"stud"})
MEMBER = ("stud.split", "stud.bend", "stud.shear")


def case(asked: Demand, basis: Basis, up: float) -> Case:
    room, frame = made.straight([200.0, 500.0, 800.0], basis=basis)
    rods = tuple(replace(r, origin=(*r.origin[:2], up)) for r in frame.rods)
    lifted: Frame = replace(frame, shelf=f"at {up:g}", rods=rods)
    return Case((room, lifted), asked, basis)


def pressing(of: Case) -> OnMembers:
    found = on_members(of.given, of.stood, Memo())
    assert found is not None
    return found


def weightless(of: OnMembers) -> OnMembers:
    def nothing(cases: tuple) -> tuple:  # type: ignore[type-arg]
        return tuple(
            replace(c, loads=tuple(replace(x, V=0.0, M=0.0, lines=tuple) for x in c.loads))
            for c in cases
        )

    return replace(
        of,
        serving=nothing(of.serving),
        strength=nothing(of.strength),
        accident=nothing(of.accident),
    )


def members(held: Holds) -> dict[str, Check]:
    return {
        row.id: row
        for row in held.checks
        if row.family in MEMBER or any(f"/{name}" in row.id for name in MEMBER)
    }


@pytest.mark.parametrize("basis", BASES)
def test_a_second_shelf_with_nothing_on_it_changes_nothing(basis: Basis) -> None:
    asked = made.demand(made.even(0.002))
    one = case(asked, basis, 1000.0)
    other = pressing(case(asked, basis, 1400.0))
    held = one.judged()
    same = together(held, pressing(one), [weightless(other)], into=STUDS)
    assert {k: v.ratio for k, v in members(same).items()} == pytest.approx(
        {k: v.ratio for k, v in members(held).items()}, rel=1e-9
    )
    assert same.drop is not None
    assert held.drop is not None
    assert same.drop.today.value == pytest.approx(held.drop.today.value, rel=1e-9)


@pytest.mark.parametrize("basis", BASES)
def test_two_shelves_ask_more_of_their_studs_and_drop_further(basis: Basis) -> None:
    asked = made.demand(made.even(0.002))
    one = case(asked, basis, 1000.0)
    mine, other = pressing(one), pressing(case(asked, basis, 1400.0))
    held = one.judged()
    both = together(held, mine, [other], into=STUDS)
    alone, more = members(held), members(both)
    assert set(more) == set(alone)
    bends = [k for k in more if k.startswith("stud.bend")]
    assert all(more[k].ratio > 1.05 * alone[k].ratio for k in bends)
    assert all(more[k].ratio >= alone[k].ratio * (1 - 1e-9) for k in more)
    assert held.drop is not None
    assert both.drop is not None
    # By hand: the other rod's V and M turn and sink the stud (simple beam, docs/statics.md), and so the front.
    hardest = [max((c.loads[k] for c in other.serving), key=lambda x: x.M) for k in range(3)]
    extra = []
    for seat, load in zip(mine.seats, hardest, strict=True):
        cell = share([seat, load.seat], rules=member_rules(basis))
        y = cell[0][2] * load.V + cell[0][3] * load.M
        theta = cell[1][2] * load.V + cell[1][3] * load.M
        extra.append(y + theta * seat.front)
    assert max(extra) > 0
    assert both.drop.today.value - held.drop.today.value == pytest.approx(max(extra), rel=1e-9)


def test_it_does_not_matter_which_of_two_like_shelves_is_asked_first() -> None:
    # Equal shelves at heights that mirror about the middle of an 8 ft storey bend their studs alike.
    asked = made.demand(made.even(0.002))
    low, high = (case(asked, "ec5", up) for up in (900.0, 1300.0))
    a, b = pressing(low), pressing(high)
    one = members(together(low.judged(), a, [b], into=STUDS))
    other = members(together(high.judged(), b, [a], into=STUDS))
    for name in (k for k in one if k.startswith(("stud.shear", "stud.bend"))):
        assert one[name].ratio == pytest.approx(other[name].ratio, rel=0.02)
