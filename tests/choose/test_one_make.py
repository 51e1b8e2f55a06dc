"""Panels of one make, holes that are one hole, what is said of a step and of a missing price, doors that loosen."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from ledgewright import choose, stock
from ledgewright.choose import Choice, Figures, Ground, Question, Space, Step, Tried, Wanted
from ledgewright.choose.ask import steps_down, what_ifs
from ledgewright.choose.doors import _looser, _other_panels, nothing
from ledgewright.choose.front import left_out, tagged
from ledgewright.job import files
from ledgewright.job.reading import read
from ledgewright.sheets.choose_answer import choose_text
from ledgewright.sheets.choose_sheet import choose_pages
from ledgewright.sheets.chosen_words import ChosenWords, left_out_note
from ledgewright.sheets.model import ChooseSheet
from tests.choose.made import PRICES, small
from tests.choose.test_front import tried as compared
from tests.jobs import EXAMPLES

AGAINST = (
    "plywood in millimetres is birch throughout, plywood in fractions has faces over fir (common practice)",
    "bits by whole millimetres, rounded up by hand",
    "exact",
)


PANEL, PANELS, BARS, VARY = (
    r'(?m)^skins = ".*"$',
    r"(?m)^skins = \[.*$",
    r"(?m)^bars = .*$",
    r"(?m)^vary = .*$",
)
"""Lines of the small job: its panel, the panels, bars and things it may be changed to."""


def ground(prices: str | None = None, lines: Mapping[str, str] | None = None) -> Ground:
    """The small job with some lines written otherwise."""
    job = small(0)
    text = job.text(job.start)
    if prices is None:
        text = text.replace('prices = "prices.toml"\n', "")
    for had, line in (lines or {}).items():
        text, count = re.subn(had, line, text)
        assert count == 1
    made = read(text, "small.toml", prices)
    assert made.job is not None, made.findings
    return choose.ground(text, "small.toml", prices, made.job, "small")


def skins_of(of: Space) -> set[object]:
    return {v for axis in of.axes if axis.name == "skins" for v in axis.options if v is not None}


def of_skins(panel: str, listed: str = "") -> Space:
    """Another panel in the job; panels listed, or as many as there are."""
    lines = {PANEL: f'skins = "{panel}"', PANELS: listed, VARY: 'vary = ["skins"]'}
    return choose.space(ground(lines=lines))


def test_the_market_of_a_panel_is_that_of_the_size_in_its_name() -> None:
    """A sheet is called by its nominal thickness: in fractions or whole inches, or in millimetres (common practice)."""
    for panel in stock.panels():
        size = panel.name.rsplit(" ", 1)[1]
        if "/" in size:
            assert panel.market == "in", panel.name
        else:
            near = abs(float(size) - panel.thick) <= 1.0
            assert panel.market == ("mm" if near else "in"), panel.name


@pytest.mark.parametrize(
    ("panel", "others"),
    [
        ("birch ply 12", {f"birch ply {mm}" for mm in ("6.5", "9", "15", "18", "21", "24")}),
        ("birch ply 1/2", {"birch ply 1/4", "birch ply 3/4"}),
        ("particleboard 3/4", set()),
        ("particleboard 15", {"particleboard 18"}),
    ],
)
def test_other_thicknesses_are_of_the_same_make(panel: str, others: set[str]) -> None:
    of = of_skins(panel)
    assert skins_of(of) == others
    if not others:
        assert not any("skins" in q for q, _ in what_ifs(of.ground, of, choose.as_is(of.ground)))


@pytest.mark.parametrize("name", ["stoneware-corner", "record-wall", "reading-alcove"])
def test_an_inch_job_with_a_panel_in_millimetres_stays_with_that_make(name: str) -> None:
    """The corner and the record wall measure in inches and are skinned in birch ply 18."""
    file, text, prices, _ = files.texts(EXAMPLES / f"{name}.toml")
    assert text is not None
    job = read(text, file, prices).job
    assert job is not None
    of = choose.space(choose.ground(text, file, prices, job, job.shelves[0].id))
    assert skins_of(of)
    assert all(isinstance(v, str) and "/" not in v for v in skins_of(of))


def test_a_step_of_skins_stays_with_the_make_and_others_are_asked_by_name() -> None:
    of = of_skins("birch ply 12", 'skins = ["birch ply 1/2", "birch ply 9", "birch ply 15"]')
    start = choose.as_is(of.ground)
    asked = {(q, w.skins) for q, w in what_ifs(of.ground, of, start)}
    assert asked == {
        ("thinner skins", "birch ply 9"),
        ("thicker skins", "birch ply 15"),
        ("other panel", "birch ply 1/2"),
    }
    assert [w.skins for _, w in steps_down(of.ground, of, start)] == ["birch ply 9"]


def test_another_make_is_a_door_and_what_looks_alike_comes_first() -> None:
    """Birch faces over fir that fail: birch throughout of about the same thickness, 12 before 9 by their difference."""
    of = of_skins("birch ply 1/2")
    assert [panel.name for panel in _other_panels(of.ground)] == ["birch ply 12", "birch ply 9"]
    metric = of_skins("birch ply 12")
    assert all(panel.market == "mm" for panel in _other_panels(metric.ground))


METRIC = (*range(6, 21), 22, 24, 25, 26, 28, 30, 32, 34, 35, 36, 38, 40)


def drilled(bar: stock.Bar, over: float) -> int | None:
    """The next bit over a bar and its ring, by hand."""
    across = bar.width if bar.shape == "round" else math.hypot(bar.width, bar.height)
    return next((size for size in METRIC if size >= across + over - 1e-9), None)


def test_two_rings_with_one_hole_are_one_design() -> None:
    """16 + 2 and 16 + 1.5 are both drilled with 18 mm, and so for every bar whose next bit is the same."""
    of = choose.space(
        ground(
            lines={
                BARS: "",
                VARY: 'vary = ["bar", "hole"]',
                r"(?m)^thick = \[.*$": "thick = [10, 120]",
            }
        )
    )
    bars = [stock.bar(str(v)) for axis in of.axes if axis.name == "bar" for v in axis.options]
    designs = [of.wanted(pick) for pick in of.picks()]
    holes = {(bar.name, drilled(bar, over)) for bar in bars for over in (2.0, 1.5, 3.175)}
    assert len(designs) == len(holes) == of.size(0)
    assert {(w.bar, drilled(stock.bar(w.bar), w.ring)) for w in designs} == holes
    assert len({choose.edits(of.ground, w) for w in designs if _drills(of, w)}) == len(
        [w for w in designs if _drills(of, w)]
    )
    assert set(_reached(of)) == set(of.picks())
    # A step down from a ring that is another hole for this bar alone is a design of the space.
    for wanted in designs:
        for _, step in steps_down(of.ground, of, wanted):
            assert of.pick(step) is not None


def _drills(of: Space, wanted: Wanted) -> bool:
    return drilled(stock.bar(wanted.bar), wanted.ring) is not None


def _reached(of: Space) -> Iterator[tuple[int, ...]]:
    """All that single steps lead to from the job as it is."""
    seen, left = {of.origin}, [of.origin]
    while left:
        one = left.pop()
        yield one
        new = [each for each in of.near(one) if each not in seen]
        assert one not in of.near(one)
        seen.update(new)
        left += new


def made(wanted: Wanted, *, missing: tuple[str, ...] = (), state: str = "passes") -> Tried:
    figures = Figures(None if missing else 100.0, 0.5, 1.0, 6.0, 20.0, wanted.holes)
    why = "" if state == "passes" else "front drop, day one"
    killed = () if state == "passes" else ("drop.today",)
    return Tried(wanted, (), (), state, figures, None, killed, (), why, missing)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("question", "changed", "missing", "said"),
    [
        ("thinner skins", {"skins": "birch ply 9"}, (), "thinner skins (birch ply 9) still passes"),
        ("thinner bar", {"bar": "round 10 S235"}, (), "(round 10 S235) still passes"),
        ("shallower", {"embedment": 50.0}, (), "shallower holes (50 mm) still passes"),
        (
            "one rod fewer",
            {"members": (("back", ("s1", "s3")),)},
            (),
            "one rod fewer (none at A 499) still passes",
        ),
        (
            "thinner skins",
            {"skins": "birch ply 6.5"},
            ("birch ply 6.5",),
            "(birch ply 6.5, without a price) still passes",
        ),
    ],
)
def test_a_step_down_says_what_it_goes_to(
    question: Question, changed: dict[str, Any], missing: tuple[str, ...], said: str
) -> None:
    """The names as they were written above, and the middle of the stud from 480 to 518."""
    on = ground(PRICES)
    words = ChosenWords(on.job, "small")
    studs = tuple(m.id for m in on.members("back"))
    start = replace(choose.as_is(on), members=(("back", studs),))
    if "members" in changed:
        changed = {"members": (("back", (studs[0], studs[2])),)}
    step = Step(question, made(replace(start, **changed), missing=missing), inside=not missing)
    choice = Choice(1, (), made(start), (step,))
    assert words.stepped(choice, step).endswith(said)
    bad = replace(step, tried=made(replace(start, **changed), missing=missing, state="fails"))
    assert words.stepped(choice, bad).endswith("breaks: front drop, day one")


def test_no_superlative_is_given_that_one_without_a_price_would_have() -> None:
    """Rule of the project: nothing shown drops less than the stiffest; a tenth of a millimetre nobody could tell."""
    front = (compared(90, 1.6, 6, 20, holes=3), compared(150, 0.9, 6, 20, holes=4))
    assert [set(each) & {"stiffest", "least drilling"} for each in tagged(front)] == [
        {"least drilling"},
        {"stiffest"},
    ]
    stiffer = compared(None, 0.5, 6, 20, holes=3)
    assert left_out([*front, stiffer]) == (stiffer,)
    assert [set(each) & {"stiffest", "least drilling"} for each in tagged(front, (stiffer,))] == [
        {"least drilling"},
        set(),
    ]
    fewer = compared(None, 0.88, 6, 20, holes=2)
    assert [set(each) & {"stiffest", "least drilling"} for each in tagged(front, (fewer,))] == [
        set(),
        {"stiffest"},
    ]
    assert left_out([stiffer]) == ()
    assert left_out([*front, replace(stiffer, state="fails")]) == ()


def test_a_job_without_a_price_is_not_left_out_in_silence(monkeypatch: pytest.MonkeyPatch) -> None:
    """Only the bar of the job has no price: it is told, in text, on the page and in JSON, and is not out-named."""
    job = small(0)
    prices = re.sub(rf'(?m)^"{job.start.bar}" = .*\n', "", PRICES)
    assert prices != PRICES
    on = ground(prices)

    def formula(of: Ground, wanted: Wanted, *_: object) -> Tried:
        found = made(wanted, missing=(wanted.bar,) if wanted.bar == job.start.bar else ())
        assert found.figures is not None
        drop = 400 / stock.bar(wanted.bar).area + (0 if found.missing else 5)
        figures = replace(
            found.figures, drop_long=drop, price=None if found.missing else 900 + drop
        )
        return replace(found, changes=choose.change.changes(of, wanted), figures=figures)

    monkeypatch.setattr("ledgewright.choose.search.try_out", formula)
    monkeypatch.setattr("ledgewright.choose.trial.try_out", formula)
    found = choose.choose(on, lambda _: (), designs=500)
    assert found.front
    assert all(each.tried.wanted.bar != job.start.bar for each in found.front)
    assert not any("stiffest" in each.tags for each in found.front)
    said = f"The job as it is has no price for {job.start.bar}: it is not among the choices"
    assert left_out_note(found)[0].startswith(said)
    whole: Any = SimpleNamespace(job=on.job, choices=found, why_not="", withheld=())
    assert said in " ".join(choose_text(whole, "small").split())
    assert "passes; no price," in choose_text(whole, "small")
    page = choose_pages(whole, "small")["choices"]
    assert isinstance(page, ChooseSheet)
    assert said in page.intro
    assert left_out_note(replace(found, as_is=found.front[0].tried)) == ()


@pytest.mark.parametrize(
    ("limits", "drops", "killed", "edits"),
    [
        # Day one is within its limit: it stays. 1.7 goes up to the next half millimetre.
        ((1.6, 1.6), (1.4, 1.7), "drop.long", {"drop_long": "2"}),
        ((1.45, 1.6), (1.4, 1.7), "drop.long", {"drop_long": "2"}),
        ((1.0, 3.0), (1.1, 1.2), "drop.today", {"drop_today": "1.5"}),
        # In ten years it may not be less than on day one.
        ((1.0, 1.2), (1.1, 1.15), "drop.today", {"drop_today": "1.5", "drop_long": "1.5"}),
        ((1.0, 1.2), (1.1, 2.6), "drop.long", {"drop_today": "1.5", "drop_long": "3"}),
        ((2.0, 3.0), (1.1, 2.6), "drop.long", {}),
    ],
)
def test_looser_limits_are_looser(
    limits: tuple[float, float], drops: tuple[float, float], killed: str, edits: dict[str, str]
) -> None:
    """By hand, in steps of half a millimetre (docs/choose.md); no limit that is kept is touched, none gets less."""
    on = ground(
        lines={
            r"(?m)^drop_today = .*$": f"drop_today = {limits[0]}",
            r"(?m)^drop_long = .*$": f"drop_long = {limits[1]}",
        }
    )
    found = Figures(None, *drops, 6.0, 20.0, 3)
    start = Tried(choose.as_is(on), (), (), "fails", found, None, (killed,), (), "", ())
    made = {edit.path.rsplit(".", 1)[1]: edit.text for edit in _looser(on, start)}
    assert made == edits
    assert on.with_edits(_looser(on, start)).job is not None


def test_where_only_a_word_is_missing_the_job_as_it_is_is_nearest() -> None:
    """The least change is none (common sense); what no engineer can accept is further off than what one can."""
    on = ground()
    base = choose.as_is(on)
    change = choose.Change("bar", "", "round 18 S235")

    def one(
        silent: tuple[str, ...], ratio: float, changes: int, failed: tuple[str, ...] = ()
    ) -> Tried:
        governs = choose.Governs("x", "x", "x", ratio, None)
        kills = (*failed, *silent)
        state: Any = "fails" if failed else "cannot say"
        return Tried(base, (change,) * changes, (), state, None, governs, kills, silent, "", ())

    as_is = one(("stud.split", "bond.pull"), 0.9, 0)
    stronger, shut = one(("stud.split",), 0.4, 2), one(("drop.long",), 0.2, 0)
    failing = one((), 1.01, 0, ("rod.bend",))
    for looked in ([stronger, as_is, shut, failing], [failing, shut, as_is, stronger]):
        found = nothing(on, looked, _never, _never, stop=lambda: True)
        assert found.nearest is as_is
        assert (
            nothing(on, [shut, failing, stronger], _never, _never, stop=lambda: True).nearest
            is stronger
        )


def _never(_: object) -> tuple[()]:
    raise AssertionError
