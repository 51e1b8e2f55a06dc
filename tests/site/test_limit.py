"""What the owner may be told: the least of all there is; nothing that is missing, rounded or sunny ever raises it."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from ledgewright import site
from ledgewright.doubt import Answer, Carried, Figure, NoSpread, Ranged, Spread
from ledgewright.job import AsSet, Job
from ledgewright.judge import Design
from ledgewright.plan import check
from ledgewright.sheets import limits
from ledgewright.sheets.say import Say
from ledgewright.site import ReadBack
from ledgewright.statics import LoadLimit, NoLimit
from tests import jobs

POUND = 0.45359237  # kg, exactly (1959)
G = 9.80665  # m/s2, exactly (1901)

even = st.floats(0.01, 5.0)
mass = st.floats(1.0, 300.0)


@cache
def read() -> tuple[Job, Design]:
    """The alcove with all its rods read just where they are drawn."""
    job = jobs.job("reading-alcove")
    (spec,) = job.shelves
    members = {m.id: m for w in job.tapes.walls for m in w.members}
    up = spec.top - spec.skin_top.thick - spec.core.thick / 2
    rods = []
    for rod in spec.rods:
        at = ((members[rod.member].left + members[rod.member].right) / 2, up)
        rods.append(replace(rod, as_set=AsSet(at, at, rod.projection, "site.rod[0]")))
    set_job = replace(job, shelves=(replace(spec, rods=tuple(rods)),))
    (design,) = check(set_job, jobs.MEMO)
    return set_job, design


def carries(of: Design, e: float, s: float, t: float) -> Design:
    """A section with this limit of its statics."""
    found = LoadLimit(e, s, t, "rod.bend@x", "Rod bends", None, "case")
    return replace(of, holds=replace(of.holds, load_limit=found))


def test_of(e: float, s: float, t: float, *why: str) -> ReadBack:
    """A load test that allows so much."""
    return ReadBack("reading", (), t * 1.25, 24.0, None, 0.9, None, (), None, why, (), e, s, t)


test_of.__test__ = False  # type: ignore[attr-defined]  # a helper by its name


def sure(share: float = 1.0, error: float = 0.0) -> Spread:
    """Ranges of which 95 of 100 carry so great a share of the likely figures' limit, known so nearly."""
    at, none = Figure(share, error), Figure(1.0, 0.0)
    over = Ranged(at, none, none, (), (), np.array([share, 1.0]))
    return Spread((), Answer(1.0, over, 0.0), Answer(1.0, over, 0.0), Carried(1.0, over, 0.0), 1, 0)


def figures(found: LoadLimit | NoLimit | None) -> tuple[float, float, float]:
    """What a label says: nothing at all where the limit is not for it."""
    if not isinstance(found, LoadLimit) or not site.for_label(found):
        return (0.0, 0.0, 0.0)
    return (found.even, found.single, found.total)


@settings(max_examples=60)
@given(a=st.tuples(even, mass, mass), b=st.tuples(even, mass, mass), c=st.tuples(even, mass, mass))
def test_it_is_the_least_of_statics_rods_as_set_and_test(
    a: tuple[float, float, float], b: tuple[float, float, float], c: tuple[float, float, float]
) -> None:
    job, design = read()
    drawn = LoadLimit(*b, "x", "y", None, "z")
    found = site.limit(job, carries(design, *a), drawn, test_of(*c), sure())
    assert figures(found) == tuple(min(three) for three in zip(a, b, c, strict=True))


@settings(max_examples=60)
@given(
    a=st.tuples(even, mass, mass),
    c=st.tuples(even, mass, mass),
    rods=st.booleans(),
    test=st.booleans(),
    doubt=st.sampled_from(
        [sure(), None, NoSpread("no curve"), replace(sure(), carried=NoSpread("none"))]
    ),
)
def test_missing_readings_never_raise_what_a_label_says(
    a: tuple[float, float, float],
    c: tuple[float, float, float],
    rods: bool,
    test: bool,
    doubt: Spread | NoSpread | None,
) -> None:
    job, design = read()
    whole = figures(site.limit(job, carries(design, *a), None, test_of(*c), sure()))
    known = design if rods else replace(design, drawn=None)
    part = site.limit(job, carries(known, *a), None, test_of(*c) if test else None, doubt)
    assert all(x <= y for x, y in zip(figures(part), whole, strict=True))
    assert isinstance(part, LoadLimit)
    ranged = isinstance(doubt, Spread) and isinstance(doubt.carried, Carried)
    assert site.for_label(part) is (rods and test and ranged)
    assert ("doubt" in part.open) is not ranged
    # And what is told besides a label is never over the statics.
    assert part.even <= a[0]


@settings(max_examples=60)
@given(a=st.tuples(even, mass, mass), share=st.floats(0.0, 1.5), error=st.floats(0.0, 0.3))
def test_doubt_only_lowers_it_by_its_share_less_its_error(
    a: tuple[float, float, float], share: float, error: float
) -> None:
    """statics.md 3: the 5 % value, on the safe side; the one thing is what was asked for and stays whole."""
    job, design = read()
    found = site.limit(job, carries(design, *a), None, test_of(*a), sure(share, error))
    left = min(1.0, share - error)
    if left <= 0:
        assert isinstance(found, NoLimit)
        return
    assert isinstance(found, LoadLimit)
    assert found.even <= a[0] * left * (1 + 1e-9)
    assert found.single == a[1]
    spare = max(a[2] - a[1], 0.0)
    assert found.total <= min(a[2], a[1] + spare * left) + 1e-6


@given(a=st.tuples(even, mass, mass), sun=st.floats(1.0, 100.0))
@settings(max_examples=40)
def test_a_sunny_test_never_raises_it(a: tuple[float, float, float], sun: float) -> None:
    job, design = read()
    found = site.limit(
        job, carries(design, *a), None, test_of(a[0] * sun, a[1] * sun, a[2] * sun), sure()
    )
    assert figures(found) != (0.0, 0.0, 0.0)
    assert all(x <= y for x, y in zip(figures(found), a, strict=True))


@settings(max_examples=150)
@given(a=st.tuples(even, mass, mass), unit=st.sampled_from(["in", "mm"]))
def test_rounding_and_units_never_raise_it(a: tuple[float, float, float], unit: str) -> None:
    """What is printed, read back with exact pounds, feet and gravity, is at most what it is."""
    say = Say("in", "en-US") if unit == "in" else Say("mm", "en-GB")
    texts = limits.said(LoadLimit(*a, "x", "y", None, "z"), say)
    numbers = [float(re.match(r"[\d ]+", t).group().replace(" ", "")) for t in (texts.even, texts.single, texts.total)]  # type: ignore[union-attr]  # fmt: skip
    per = POUND * G / 304.8 if unit == "in" else G / 1000
    weigh = POUND if unit == "in" else 1.0
    assert numbers[0] * per <= a[0] + 1e-9
    assert numbers[1] * weigh <= a[1] + 1e-9
    assert numbers[2] * weigh <= a[2] + 1e-9


def test_a_test_that_did_not_pass_a_hot_place_or_a_no_go_leave_no_limit() -> None:
    job, design = read()
    good = carries(design, 0.5, 30.0, 90.0)
    told = site.limit(job, good, None, test_of(1.0, 50.0, 200.0, "only 50 % came back"))
    assert isinstance(told, NoLimit)
    assert "only 50 %" in told.why
    hot = replace(job, site=replace(job.site, heat=51.0))
    assert isinstance(site.limit(hot, good, None, None), NoLimit)
    lost = replace(good, way=None)
    assert isinstance(site.limit(job, lost, None, None), NoLimit)
    assert isinstance(site.limit(job, good, NoLimit("nothing"), None), NoLimit)
    assert (
        site.limit(job, replace(good, holds=replace(good.holds, load_limit=None)), None, None)
        is None
    )
