"""What a choice must not lose."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from ledgewright.choose.change import core_thick
from ledgewright.choose.front import unbeaten
from ledgewright.choose.trial import _figures
from ledgewright.judge import on_members
from ledgewright.plan import _shared
from ledgewright.sheets.bounds import least
from ledgewright.sheets.cuts import wider
from ledgewright.sheets.measured import _edges
from ledgewright.sheets.say import Say
from tests.jobs import MEMO, job
from tests.jobs import plan as plan_of

AGAINST = (
    "mutants of the code that no test had held: each test here fails on one",
    "by hand from standards, statics, geometry and the rules of the project, as each says",
    "as each says",
)


def test_a_design_nobody_can_judge_is_no_choice_and_the_worst_section_counts() -> None:
    """Rule of the project: only what passes is offered; a slot as high as bar and play; the worst drop counts."""
    flat: Any = SimpleNamespace(bar="flat 1/4x1 a36", play=0.8)
    assert core_thick(flat) == pytest.approx(25.4 + 0.8)
    part: Any = SimpleNamespace(bill=SimpleNamespace(mass=1.0), frame=SimpleNamespace(rods=()))
    bill: Any = SimpleNamespace(price=1.0, hours=1.0)
    for drops in ([(1.0, 2.0), (0.5, 3.0)], [(0.5, 3.0), (1.0, 2.0)]):
        found = _figures([part, part], bill, drops)
        assert found is not None
        assert (found.drop_today, found.drop_long) == (1.0, 3.0)
        silent: Any = SimpleNamespace(state="cannot say", figures=found, changes=())
        assert unbeaten([silent]) == ()


def test_what_is_allowed_or_left_is_rounded_down_and_what_is_needed_is_that_of_the_worst_edge() -> (
    None
):
    """Rule of the project: 1.28 mm are 3.2/64 in; wood beside a hole less 1.96 sd; 30 of 5 and 30."""
    assert least(1.28, Say("mm", "en-GB")) == "1.2"
    assert least(1.28, Say("in", "en-US")) == "3/64"
    plan = plan_of("reading-alcove")
    (design,) = plan.designs
    say = Say.of(plan.job.meta)
    ((table,),) = (part.tables for part in _edges(plan, say))
    holes = [h for _, _, leave in plan.leave for h in leave.holes]  # type: ignore[union-attr]
    left = [say.down(h.edge - h.bit / 2 - 1.96 * h.edge_sd) for h in holes]
    assert [r[4] for r in table.rows] == left
    edges: Any = [SimpleNamespace(needs=5.0), SimpleNamespace(needs=30.0)]
    edit = wider(plan, design, edges)
    assert edit is not None
    assert edit["text"] == "30"


def test_a_shelf_beside_one_that_cannot_be_judged_is_not_passed(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Rule of the project: what stands on shared studs must be known of all shelves on them."""
    (design,) = plan_of("reading-alcove").designs
    other = replace(design, spec=replace(design.spec, id="other"))
    mine = on_members(job("reading-alcove"), design, MEMO)
    monkeypatch.setattr(
        "ledgewright.plan.on_members", lambda _, of, __: mine if of is design else None
    )
    assert design.holds.verdict == "passes"
    assert _shared(job("reading-alcove"), design, [other], MEMO).holds.verdict == "cannot say"
