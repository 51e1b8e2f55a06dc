"""A load test that speaks against a shelf goes before what was worked out: common practice, a proof beats a sum."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ledgewright.job import LoadStep, PutOn, WentDown
from ledgewright.plan import Plan, full
from ledgewright.sheets.cover import cover, why
from ledgewright.site import ReadBack
from tests import jobs

PUTS = tuple(
    PutOn(mass, "back", x, 160.0) for mass, x in ((18, 280), (18, 680), (18, 1000), (30, 480))
)
PLACES = (80.0, 481.5, 883.25, 1131.0)


def read(*steps: tuple[float, Sequence[float]]) -> tuple[Plan, ReadBack]:
    """The alcove after steps of (hours, mm down at each place); 0 hours: weights off."""
    made = tuple(
        LoadStep(
            "reading",
            PUTS if hours else (),
            hours or 1.0,
            tuple(WentDown("back", x, down) for x, down in zip(PLACES, downs, strict=True)),
            f"site.test[{k}]",
            "gauge",
        )
        for k, (hours, downs) in enumerate(steps)
    )
    job = jobs.job("reading-alcove")
    plan = full(replace(job, site=replace(job.site, tests=made)), jobs.MEMO, limits=False)
    _, found = plan.test("reading")
    assert isinstance(found, ReadBack)
    return plan, found


def test_a_test_that_went_wrong_is_a_failure_whatever_the_sum_says() -> None:
    """12 mm under weights that turn it by two, of which nothing comes back."""
    plan, found = read((0.2, [12.0] * 4), (24.0, [12.0] * 4), (0.0, [12.0] * 4))
    assert found.why
    assert not any(
        row.state == "fails" for d in plan.designs for row in d.holds.checks if not row.information
    )
    assert {design.holds.verdict for design in plan.designs} == {"fails"}
    assert plan.verdict == "fails"
    front = cover(plan, None, frozenset())
    assert {shelf.verdict for shelf in front.shelves} == {front.verdict}
    assert front.plain.startswith("A load test speaks against it")
    assert "load test did not pass" in why(plan)[0]


def test_one_under_way_says_nothing_yet() -> None:
    """Read soon after its weights were on, and as expected: neither passed nor failed."""
    _, first = read((0.2, [0.0] * 4))
    plan, found = read((0.2, [row.predicted for row in first.rows]))
    assert plan.verdict == "passes"
    assert not found.why
    assert not found.passed
    assert any("24 hours" in what for what in found.still)
