"""Cases that rows of members leave out: that none of them asks more, checked family by family and against all."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from ledgewright.job import Basis
from ledgewright.statics import NOMINAL, member_rows
from ledgewright.statics.bases import member_rules, rules
from ledgewright.statics.beam import bed
from ledgewright.statics.member_checks import OnMember, stud_bend, stud_shear, stud_split
from ledgewright.statics.member_rows import Known, Under, rows
from ledgewright.statics.model import Check
from ledgewright.statics.ranks import unsurpassed
from ledgewright.statics.row import ratio
from ledgewright.statics.side_checks import bed_side, rod_biax
from tests.statics.test_members import ACCIDENT, BASES, LONG, QUIET, got, seat

AGAINST = (
    "what asks more down and more round asks more of a rod and its stud; every case judged",
    "pairs at random, brute force",
    "exact",
)


def pressing(
    basis: Basis, V: float, M: float, *, out: float = 0.0, side: float = 0.0, up: float = 1300.0
) -> OnMember:
    on = seat(basis, up=up, height=2400.0)
    stiff = replace(NOMINAL, bed=1.0)
    return OnMember(on, bed(QUIET, on, NOMINAL), bed(QUIET, on, stiff), V, M, out, side)


def asked(basis: Basis, on: OnMember) -> dict[str, float]:
    """How much of what they can take one rod asks of it and of its stud."""
    timbers, steel, when = member_rules(basis), rules(basis), ACCIDENT
    stood, height = [on.on_stud], 2400.0
    made = {
        "stud.split": stud_split(QUIET, on=on, rules=timbers, when=when),
        "rod.biax": rod_biax(QUIET, on=on, rules=steel, when=when),
        "bed.side": bed_side(QUIET, on=on, rules=steel, timbers=timbers, when=when),
        "stud.bend": stud_bend(QUIET, loads=stood, rules=timbers, when=when, height=height),
        "stud.shear": stud_shear(QUIET, loads=stood, rules=timbers, when=when, height=height),
    }
    return {family: ratio(got(said)) for family, said in made.items()}


@pytest.mark.parametrize("basis", BASES)
def test_more_down_and_more_round_ask_more_of_a_rod_and_its_stud(basis: Basis) -> None:
    pick = np.random.default_rng(3)
    for _ in range(60):
        V, side = pick.uniform(20, 1500), pick.uniform(1, 200)
        M = V * pick.uniform(2, 400)
        more_V, more_M = 1 + pick.choice([0, 0.01, 0.3], size=2)
        less = asked(basis, pressing(basis, V, M, side=side))
        more = asked(basis, pressing(basis, V * more_V, M * more_M, side=side))
        assert all(more[family] >= less[family] * (1 - 1e-12) for family in less)


def test_what_presses_down_holds_a_stud_against_a_pull() -> None:
    """Why pulled studs are judged under every case: below a low rod the shear is (C - F (H - a))/H."""
    when, height = ACCIDENT, 2400.0
    bare, laden = (
        got(
            stud_shear(
                QUIET,
                loads=[pressing("nds", V, M, out=300.0, up=600.0).on_stud],
                rules=member_rules("nds"),
                when=when,
                height=height,
            )
        )[0]
        for V, M in ((10.0, 1e3), (300.0, 6e4))
    )
    assert bare > laden


@pytest.mark.parametrize("basis", BASES)
def test_rows_are_those_of_all_cases(basis: Basis, monkeypatch: pytest.MonkeyPatch) -> None:
    pick = np.random.default_rng(8)
    cases = []
    for k in range(40):
        V, out, side = pick.uniform(-50, 500), pick.choice([0.0, 150.0]), pick.choice([0.0, 80.0])
        on = pressing(basis, V, pick.uniform(-5e3, 6e4), out=out, side=side)
        cases.append(Under(str(k), (LONG, ACCIDENT)[k % 2], (on,)))
    known = Known(rules(basis), member_rules(basis))

    def made() -> dict[str, tuple[float, float]]:
        found = rows(cases, known, situations=("strength", "accident"), keep=False)
        return {row.id: (row.demand, row.capacity) for row in found if isinstance(row, Check)}

    quick = made()
    monkeypatch.setattr(member_rows, "_hardest", list)
    assert quick == made()
    assert {"stud.split", "stud.bend", "stud.shear", "rod.biax"} <= {
        name.partition("@")[0] for name in quick
    }


def test_pairs_that_none_surpasses() -> None:
    """By looking at every pair; of pairs alike the first."""
    pick = np.random.default_rng(2)
    one, other = pick.integers(0, 12, size=(2, 80)).astype(float)
    by_eye = [
        k
        for k in range(80)
        if not any(
            one[j] >= one[k]
            and other[j] >= other[k]
            and (one[j] > one[k] or other[j] > other[k] or j < k)
            for j in range(80)
        )
    ]
    assert unsurpassed(one, other) == by_eye
