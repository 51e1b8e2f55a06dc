"""Whether a shelf goes through the narrowest doorway: a board goes flat or on edge, an L needs room for its span."""

from __future__ import annotations

from dataclasses import replace

import pytest

from ledgewright.plan import Plan, looked
from ledgewright.sheets.cautions import cautions
from tests import jobs


def through(name: str, door: float | None) -> bool:
    job = jobs.job(name)
    plan: Plan = looked(replace(job, site=replace(job.site, doorway=door)), jobs.MEMO)
    return not any(each.id.startswith("doorway") for each in cautions(plan))


@pytest.mark.parametrize(
    ("name", "door", "goes"),
    [
        ("reading-alcove", None, True),
        # 285 deep and under 50 thick: flat through 300, on edge through 60, and not at all through 7.
        ("reading-alcove", 300.0, True),
        ("reading-alcove", 60.0, True),
        ("reading-alcove", 7.0, False),
        # An L of 1.76 m and 1.27 m is over 0.9 m across at its narrowest, and goes on edge under 1.9 m.
        ("stoneware-corner-first-try", 760.0, True),
        ("stoneware-corner-first-try", 40.0, False),
    ],
)
def test_a_doorway_on_the_way_in(name: str, door: float | None, goes: bool) -> None:
    assert through(name, door) == goes
