"""One rule for all rows: what fails, what passes, what waits for somebody to answer for it."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from ledgewright.job import ACCEPTABLE, Accepted
from ledgewright.statics.bases import Resistance
from ledgewright.statics.families import FAMILIES
from ledgewright.statics.row import Answering, leaned, made, spanning

AGAINST = (
    "rules of a row, written out",
    "rule of the project",
    "exact",
)

NOBODY = Answering()
LETTER = Accepted("A. Name, PE 12345", date(2026, 11, 2), ("skin.roll", "bed.edge"))


def row(name: str, share: float, scope: Any, by: Answering) -> Any:
    can = Resistance(2.0, scope, "own model", "a source")
    return made(name, (2.0 * share, can), unit="N", case="c", steps=(), answering=by)


@pytest.mark.parametrize(
    ("share", "scope", "by", "said"),
    [
        (1.01, "in", NOBODY, "fails"),
        (1.01, "stretched", Answering(LETTER, "a name", tested=True), "fails"),
        (1.0, "in", NOBODY, "passes"),
        (0.5, "stretched", NOBODY, "cannot say"),
        (0.5, "stretched", Answering(engineer="a name"), "passes"),
        (0.5, "stretched", Answering(tested=True), "passes"),
        (0.5, "stretched", Answering(LETTER), "passes"),
        (0.5, "out", Answering(LETTER, "a name", tested=True), "cannot say"),
    ],
)
def test_at_the_edge_of_its_source_a_row_needs_somebody_to_answer(
    share: float, scope: Any, by: Answering, said: str
) -> None:
    assert row("skin.roll@top skin", share, scope, by).state == said


def test_a_row_says_who_answers_for_it_or_that_nobody_does() -> None:
    assert row("skin.roll", 0.5, "stretched", Answering(LETTER)).reason == (
        "own model; accepted by A. Name, PE 12345, 2026-11-02"
    )
    assert row("skin.bend", 0.5, "stretched", Answering(LETTER)).state == "cannot say"
    waits = row("skin.bend", 0.5, "stretched", NOBODY)
    assert "engineer" in waits.reason
    assert "load test" in waits.reason


def test_a_row_under_the_accident_stands_or_falls_as_it_was_made() -> None:
    under = leaned(row("skin.roll@top skin", 0.5, "stretched", Answering(LETTER)))
    assert (under.id, under.family) == ("acc.hold@top skin/skin.roll", "acc.hold")
    assert (under.state, under.title) == (
        "passes",
        "Someone leans or climbs: skin shears in its plies",
    )
    assert leaned(row("glue.peel", 0.5, "in", NOBODY)).id == "acc.hold@box/glue.peel"


def test_of_several_ways_the_worst_counts_with_the_widest_scope() -> None:
    known, stretched = (
        Resistance(4.0, "in", "", "a"),
        Resistance(9.0, "stretched", "own model", "b"),
    )
    demand, can = spanning([(3.0, known), (3.0, stretched)])
    assert (demand, can.value, can.source) == (3.0, 4.0, "a")
    assert (can.scope, can.reason) == ("stretched", "own model")
    assert spanning([(3.0, known), (1.0, known)]) == (3.0, known)


def test_what_may_be_accepted_are_families_and_never_drop_or_standing_firm() -> None:
    names = {f.id for f in FAMILIES}
    assert set(ACCEPTABLE) <= names
    left = names - set(ACCEPTABLE)
    assert left == {
        "rod.yield", "bed.hinge", "bed.linear", "stab.contact", "drop.today", "drop.long", "sag.wave", "acc.hold",
    }  # fmt: skip
