"""Every value taken says why and from where, and the table does not change under a format."""

from __future__ import annotations

from ledgewright.job.defaults import DEFAULTS, find


def test_every_default_says_why_and_from_where() -> None:
    assert len({row.path for row in DEFAULTS}) == len(DEFAULTS)
    for row in DEFAULTS:
        assert len(row.why) > 8
        assert row.source
        for unit in ("in", "mm"):
            assert row.text(unit)


def test_a_default_is_shown_in_the_jobs_own_unit() -> None:
    assert find("shelf.single").text("mm") == "30 kg"
    assert find("shelf.single").text("in").endswith("lb")
    assert find("shelf.load.accident").text("mm") == "600 N"


def test_the_stated_loads_stand() -> None:
    # the program's page on loads: 2.4 kPa, at least 0.35 kN/m and 1.0 kPa, 0.30 kN, 0.60 and 1.3 kN on 100 x 100
    stated = {
        "shelf.load.even": 0.0024,
        "shelf.load.even least": 0.35,
        "shelf.load.known least": 0.001,
        "shelf.single": 30,
        "shelf.load.accident": 600,
        "shelf.load.accident low": 1300,
        "shelf.load.accident.patch": 100,
        "shelf.limits.drop_today share": 150,
        "shelf.limits.drop_today most": 3,
        "shelf.limits.drop_long share": 100,
        "shelf.limits.drop_long most": 4.5,
    }
    assert {key: find(key).value for key in stated} == stated


def test_what_is_not_told_is_taken_towards_safety() -> None:
    assert find("shelf.lock.kind").value == "none"
    assert find("shelf.skin.joint").value == "butted"
    assert find("shelf.rods.in_slot").value == "dry"
    assert find("shelf.load.lasts").value == "years"
