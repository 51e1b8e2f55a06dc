"""The search itself over made-up figures that a formula gives: what is looked at, in which order, and when it ends."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace

import pytest

from ledgewright import choose, stock
from ledgewright.choose import Choices, Figures, Ground, Held, Judge, Progress, Tried, Wanted
from ledgewright.choose.change import changes, edits
from ledgewright.choose.doors import nothing
from ledgewright.choose.front import beaten_at_least
from ledgewright.job.reading import read
from tests.choose.made import PRICES, small

LOOKED: list[Wanted] = []
SPARING: list[bool] = []
"""Whether designs are set aside: if there is anything in it."""
AGAINST: list[tuple[Held, ...]] = []


def formula(
    ground: Ground,
    wanted: Wanted,
    _: Judge,
    least: choose.LeastOf | None = None,
    against: Sequence[Held] = (),
) -> Tried:
    """A price that grows with steel and holes, and a drop that falls with both: no statics, so no time."""
    LOOKED.append(wanted)
    AGAINST.append(tuple(against))
    made = judged(ground, wanted)
    known = made.figures
    assert known is not None
    # Nine tenths of the drop are known before it is judged.
    soon = Held(replace(known, drop_long=0.9 * known.drop_long), len(made.changes))
    if SPARING and beaten_at_least(soon, against):
        return replace(made, state="set aside", figures=None)
    return made


def judged(ground: Ground, wanted: Wanted) -> Tried:
    area = stock.bar(wanted.bar).area
    deep = wanted.embedment
    price = 1000 + area + 40 * wanted.holes + 0.1 * deep
    drop = 4000 / area / wanted.holes * 60 / deep
    figures = Figures(price, drop / 2, drop, 6.0, 20.0 + wanted.holes, wanted.holes)
    holds = drop < 9.0
    killed = () if holds else ("drop.long",)
    state = "passes" if holds else "fails"
    made = edits(ground, wanted)
    return Tried(wanted, changes(ground, wanted), made, state, figures, None, killed, (), "", ())  # type: ignore[arg-type]


def on(seed: int = 0, more: str = "") -> Ground:
    job = small(0)
    text = job.text(job.start).replace("designs = 500", more)
    text = text.replace(
        'vary = ["bar", "members"]', 'vary = ["bar", "members", "embedment", "play", "core"]'
    )
    text += f"\n[doubt]\nseed = {seed}\n"
    made = read(text, "small.toml", PRICES)
    assert made.job is not None, made.findings
    return choose.ground(text, "small.toml", PRICES, made.job, "small")


def never(_: object) -> tuple[()]:
    raise AssertionError


@pytest.fixture(autouse=True)
def _made_up(monkeypatch: pytest.MonkeyPatch) -> None:
    LOOKED.clear()
    AGAINST.clear()
    SPARING.clear()
    monkeypatch.setattr("ledgewright.choose.search.try_out", formula)
    monkeypatch.setattr("ledgewright.choose.trial.try_out", formula)
    monkeypatch.setattr(
        "ledgewright.choose.search.nothing", lambda *_, **__: choose.Nothing((), (), None, ())
    )


def search(ground: Ground, **more: object) -> Choices:
    LOOKED.clear()
    return choose.choose(ground, never, **more)  # type: ignore[arg-type]


def test_all_of_a_small_space_is_looked_at_and_none_twice() -> None:
    """Bars, sets of studs, depths, plays and cores, each with each, less those too thick."""
    ground = on()
    whole = choose.space(ground)
    found = search(ground, designs=5000)
    assert found.complete
    assert found.tried == sum(1 for _ in whole.picks()) == found.size
    assert len(LOOKED) == len(set(LOOKED))


def test_no_more_is_judged_than_asked_but_for_what_is_asked_one_by_one() -> None:
    found = search(on(), designs=30)
    stepped = 8 * 4 * 4  # rounds, names, steps: the most that docs/choose.md lets come on top
    assert 30 <= found.built <= 30 + stepped
    assert not found.complete
    assert len(LOOKED) <= 30 + len(found.what_if) + stepped


def test_the_same_seed_gives_the_same_and_another_looks_elsewhere() -> None:
    one, again, other = (
        search(on(3), designs=40),
        search(on(3), designs=40),
        search(on(4), designs=40),
    )
    assert one.front == again.front
    assert one.all == again.all
    assert {t.wanted for t in other.all} != {t.wanted for t in one.all}


def test_a_part_of_the_space_gives_a_front_that_all_of_it_does_not_contradict() -> None:
    """What the part found is beaten by nothing the part looked at; the whole may only do better."""
    part, whole = search(on(1), designs=60), search(on(1), designs=5000)
    best = min(c.tried.figures.drop_long for c in whole.front if c.tried.figures)
    found = min(c.tried.figures.drop_long for c in part.front if c.tried.figures)
    assert best <= found


def test_the_neighbours_of_the_best_lead_to_the_best_of_a_smooth_hill() -> None:
    """The formula has no hollow, so a walk by single steps gets to the stiffest of all with a part of the space."""
    part, whole = search(on(2), designs=90), search(on(2), designs=5000)
    best = min(c.tried.figures.drop_long for c in whole.front if c.tried.figures)
    found = min(c.tried.figures.drop_long for c in part.front if c.tried.figures)
    assert found == pytest.approx(best)


@pytest.mark.parametrize("designs", [30, 60, 120, 5000])
def test_what_is_set_aside_changes_no_choice_and_no_step_of_the_search(designs: int) -> None:
    """By definition: what is beaten whatever comes of it is neither kept nor looked on from."""
    plain = search(on(1), designs=designs)
    every = set(LOOKED)
    SPARING.append(True)
    spared = search(on(1), designs=designs)
    assert spared.front == plain.front
    assert (spared.tried, spared.built, spared.complete) == (
        plain.tried,
        plain.built,
        plain.complete,
    )
    assert set(LOOKED) == every
    # The hill of the formula leaves few that are beaten by much: a small part of it has none.
    assert spared.aside < spared.built
    assert spared.aside or designs < 100
    assert spared.judged == len(spared.all)
    assert spared.passed == sum(each.state == "passes" for each in spared.all)
    assert plain.aside == 0


def test_what_was_asked_one_by_one_is_judged_in_full() -> None:
    """What-ifs and steps down are told with their verdict (docs/choose.md), so none of them is set aside."""
    SPARING.append(True)
    found = search(on(2), designs=5000)
    assert found.aside
    assert all(each.tried.state != "set aside" for each in found.what_if)
    assert all(s.tried.state != "set aside" for choice in found.front for s in choice.steps)


def test_handfuls_are_held_against_what_passed_before_them() -> None:
    """Eight at a time (docs/choose.md) see the same, so that more of them at once give the same."""
    found = search(on(1), designs=5000)
    asked = 1 + len(found.what_if)
    assert all(not each for each in AGAINST[:asked])
    rest = AGAINST[asked:]
    handfuls = [rest[k : k + 8] for k in range(0, 80, 8)]
    assert all(len(set(each)) == 1 and each[0] for each in handfuls)
    assert len({each[0] for each in handfuls}) > 1


def test_stop_gives_the_best_so_far_and_says_so() -> None:
    told: list[Progress] = []
    found = search(on(), designs=200, tell=told.append, stop=lambda: len(told) >= 12)
    assert found.stopped
    assert not found.complete
    assert len(LOOKED) <= 14
    assert found.front
    assert all(c.tried.state == "passes" for c in found.front)


def test_progress_counts_up_to_the_end() -> None:
    told: list[Progress] = []
    search(on(), designs=25, tell=told.append)
    assert [p.done for p in told] == sorted(p.done for p in told)
    assert all(p.done <= p.of for p in told)
    assert told[0].of == 25


def test_designs_that_share_a_shape_follow_one_another() -> None:
    """Depth in the wood does not change the shape: within a listed space all depths of a shape stand together."""
    search(on(), designs=5000)
    shapes = [(w.bar, w.members, w.play, w.core) for w in LOOKED[1:]]
    runs = 1 + sum(a != b for a, b in itertools.pairwise(shapes))
    assert runs <= len(set(shapes)) + 25


def test_a_step_down_is_a_step_down() -> None:
    found = search(on(), designs=60)
    for choice in found.front:
        for step in choice.steps:
            a, b = choice.tried.wanted, step.tried.wanted
            weaker = {
                "thinner bar": stock.bar(b.bar).height < stock.bar(a.bar).height,
                "shallower": b.embedment < a.embedment,
                "one rod fewer": b.holes == a.holes - 1,
                "thinner skins": b.skins != a.skins,
            }
            assert weaker[step.question]


def test_no_step_down_that_passes_beats_a_choice() -> None:
    """A weaker design that holds and is no dearer must be a choice, not a remark under one."""
    for seed in range(6):
        found = search(on(seed), designs=20)
        for choice in found.front:
            for step in choice.steps:
                if step.tried.state == "passes" and step.question != "thinner skins":
                    assert not any(choose.beats(step.tried, c.tried) for c in found.front)


def test_a_design_is_found_again_by_what_it_is() -> None:
    of = choose.space(on())
    for pick in list(of.picks())[::7]:
        assert of.pick(of.wanted(pick)) == pick


def test_what_ifs_differ_from_the_job_and_from_one_another() -> None:
    found = search(on(), designs=10)
    asked = [each.tried.wanted for each in found.what_if]
    assert len(asked) == len(set(asked))
    assert found.as_is.wanted not in asked


def test_shares_of_what_kills_are_shares() -> None:
    """By hand: two of four designs fall by one check, one of them by another too."""
    ground = on()
    base = choose.as_is(ground)

    def one(*killed: str) -> Tried:
        return Tried(base, (), (), "cannot be built", None, None, killed, (), "", ())

    found = nothing(
        ground, [one("a"), one("a", "b"), one(), one()], never, never, stop=lambda: False
    )
    assert dict(found.killed_by) == {"a": 0.5, "b": 0.25}
    assert found.doors == ()
