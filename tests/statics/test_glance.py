"""A first look: what it says fails does fail, it drops rather too little, and it never says that a shelf holds.

The full look is ours too, so this is no check of either against the outside; what that is checked against is told in
docs/checked.md. Against the outside: a stiffer mesh gives less by least potential energy (Ritz), by a few per cent.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from ledgewright.job import Demand, Job
from ledgewright.judge import first_look, on_model
from ledgewright.layout import LayoutError
from ledgewright.plan import check, looked, sketch
from ledgewright.statics import Given, NoTest, Stood
from ledgewright.statics.model import Drop
from ledgewright.statics.on_section import dropped, ready
from ledgewright.statics.patterns import Pattern
from tests.choose.made import small
from tests.choose.test_aside import space_of
from tests.jobs import ALL, MEMO, job

AGAINST = (
    "a first look never passes, and fails only what fails in full; on a coarse mesh all is a little stiffer",
    "least potential energy (Ritz): a coarser space of movements is stiffer",
    "drop of the same load: 97 to 100 % of the usual mesh's",
)


def jobs() -> list[Job]:
    made = [job(name) for name in ALL]
    return made + [space_of(each.text(each.start)).ground.job for each in map(small, range(7))]


def heavier(of: Job, times: float) -> Job:
    """A job with so many times the contents and the one thing, until a good part of it fails."""

    def more(demand: Demand) -> Demand:
        return replace(demand, single=demand.single * times)

    return replace(of, demands=tuple(map(more, of.demands)))


def full_drop(given: Given, stood: Stood) -> Drop | None:
    """The drop under all contents."""
    shelf = ready(given, stood, MEMO, keep=False, box=False)
    assert not isinstance(shelf, tuple)
    return dropped(shelf, [Pattern("", shelf.acting.of("dead", "live"))]).drop


@pytest.mark.parametrize(
    ("times", "every"),
    # Every other job as it is, the rest heavier; the soak all of them both ways.
    [
        (1.0, slice(0, None, 2)),
        (4.0, slice(1, None, 2)),
        pytest.param(1.0, slice(None), marks=pytest.mark.soak),
        pytest.param(4.0, slice(None), marks=pytest.mark.soak),
    ],
)
def test_what_fails_at_first_fails_in_full_and_the_drop_is_no_more(
    times: float, every: slice
) -> None:
    failed = passed = 0
    for each in jobs()[every]:
        asked = heavier(each, times)
        try:
            plan, full = looked(asked, MEMO), check(asked, MEMO, opens=False)
        except LayoutError:
            continue
        assert plan.verdict != "passes"
        for first, design in zip(plan.designs, full, strict=True):
            rows = {row.id: row for row in design.holds.checks}
            over = first.holds.checks
            failed += bool(over)
            passed += design.holds.verdict == "passes"
            for row in over:
                assert rows[row.id].state == "fails"
                assert rows[row.id].ratio > 0.97 * row.ratio
            assert first.holds.verdict == ("fails" if over else "cannot say")
            a, b = first.holds.drop, design.holds.drop
            if a is not None and b is not None:
                assert 0 < a.today.value <= b.today.value * 1.001
                assert 0 < a.long_term.value <= b.long_term.value * 1.001
    assert failed if times > 1 else passed


def test_the_drop_of_one_load_is_a_little_less_on_the_coarse_mesh() -> None:
    for each in jobs():
        for design in sketch(each, MEMO).designs:
            fine, rough = (on_model(each, design, MEMO, rough=r) for r in (False, True))
            if isinstance(fine, NoTest) or isinstance(rough, NoTest):
                continue
            a, b = full_drop(*rough), full_drop(*fine)
            assert a is not None
            assert b is not None
            assert 0.97 < a.today.value / b.today.value < 1.0005
            assert 0.97 < a.long_term.value / b.long_term.value < 1.0005


def test_a_section_that_does_not_go_on_says_so_and_nothing_else() -> None:
    """Without a way on nothing of its statics is known; a plan of it fails all the same."""
    design = replace(sketch(job(ALL[0]), MEMO).designs[0], core=None, way=None)
    seen = first_look(job(ALL[0]), design, MEMO)
    assert seen.holds.verdict == "cannot say"
    assert [each.why for each in seen.holds.cannot_say] == [
        "no way was found to get it onto its rods"
    ]
