"""What is asked of skins, core and glue: no load pattern tried at random asks much more than the one that was found."""

from __future__ import annotations

from functools import partial

import numpy as np
import pytest

from ledgewright.job import Basis
from ledgewright.memo import Memo
from ledgewright.statics import Check
from ledgewright.statics.bases import Kind
from ledgewright.statics.box_rows import box_rows
from ledgewright.statics.on_section import PARTS, Shelf, box_of, driven, ready
from ledgewright.statics.patterns import Pattern, Search
from ledgewright.statics.scout import run
from tests.statics import made
from tests.statics.test_on_section import Case

AGAINST = (
    "random load patterns against the pattern found",
    "own consistency, no outside figure",
    "5 %",
)

MORE = 1.05
"""So much more than was found may be asked in a row that counts."""
COUNTS = 0.4
"""A row counts that comes to this ratio, and to so much of the greatest of all."""


def shelf(at: list[float], basis: Basis) -> Shelf:
    asked = made.demand(made.even(0.002), made.thing(420.0), single=20.0)
    case = Case(made.straight(at, basis=basis), asked, basis)
    found = ready(case.given, case.stood, Memo(), keep=False)
    assert isinstance(found, Shelf)
    return found


def at_random(of: Shelf, search: Search, source: np.random.Generator, count: int) -> None:
    """Solve combinations of strength and accident with parts, places and proud rods picked at random."""
    acting = of.acting
    live, dead = np.flatnonzero(acting.of("live")), acting.of("dead")
    for each in (c for c in of.rules.combinations if c.situation != "service"):
        kind: Kind | None = "accident" if each.accident else "single" if each.single else None
        for k in range(count):
            there = dead.copy()
            there[live] = source.random(len(live)) < source.random()
            if kind is not None:
                there[source.choice(np.flatnonzero(acting.of(kind)))] = True
            proud = None if source.random() < 0.4 else int(source.integers(len(of.seats)))
            search.case(each, Pattern(f"random {k}", there, proud))


@pytest.mark.parametrize("basis", ["nds", "ec5"])
@pytest.mark.parametrize("at", [[200.0, 500.0, 800.0], [120.0, 480.0, 640.0, 900.0]])
def test_no_pattern_at_random_asks_much_more_of_the_box(at: list[float], basis: Basis) -> None:
    of = shelf(at, basis)
    search = of.search
    run(search, of.rules.combinations, partial(driven, of, PARTS))
    found = rows(of, search)
    tried = of.search
    at_random(of, tried, np.random.default_rng(len(at)), 60)
    most = max(row.ratio for row in found.values())
    for name, row in rows(of, tried).items():
        if row.ratio > COUNTS * max(most, 1.0):
            assert row.ratio <= MORE * found[name].ratio, (name, row.case, found[name].case)


def rows(of: Shelf, search: Search) -> dict[str, Check]:
    made_of, said = box_rows(box_of(of), search)
    assert not said
    return {row.id: row for row in made_of if "skin.patch" not in row.id and row.id != "sag.wave"}
