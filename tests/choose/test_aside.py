"""Designs set aside unjudged: only those that are beaten whatever comes of them, and the choices are what they were."""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial

import pytest

from ledgewright import choose
from ledgewright.choose import Figures, Ground, Space, Tried, Wanted
from ledgewright.choose.change import edits as design_edits
from ledgewright.choose.change import thick
from ledgewright.choose.front import Held, beaten_at_least
from ledgewright.job import files
from ledgewright.job.reading import read
from ledgewright.layout import LayoutError
from ledgewright.memo import Memo
from ledgewright.plan import Hand, at_least, check
from tests.choose.made import PRICES, small
from tests.choose.test_edits import singles
from tests.choose.test_front import random_ones, tried
from tests.jobs import EXAMPLES

ROUNDING = 1e-9


def space(name: str) -> Space:
    if name.startswith("small"):
        job = small(int(name.removeprefix("small ")))
        return space_of(job.text(job.start))
    file, text, prices, _ = files.texts(EXAMPLES / f"{name}.toml")
    return space_of(text or "", file, prices)


def space_of(text: str, file: str = "small.toml", prices: str | None = PRICES) -> Space:
    made = read(text, file, prices).job
    assert made is not None
    return choose.space(choose.ground(text, file, prices, made, made.shelves[0].id))


def test_what_is_beaten_at_the_least_it_drops_is_never_kept() -> None:
    """By the definition of an unbeaten set: put in with any greater drop, it is left out, and nothing else changes."""
    rng, beaten = random.Random(5), 0  # noqa: S311  # a fixed draw, no secret
    for seed in range(60):
        *others, one = (t for t in random_ones(seed, 30) if t.state == "passes")
        by = [choose.held(each) for each in choose.unbeaten(others)]
        least = choose.held(one)
        if not beaten_at_least(least, by):
            assert one in choose.unbeaten([*others, one])
            continue
        beaten += 1
        for more in (0.0, 1e-9, rng.uniform(0, 0.2), 3.0):
            drop = least.figures.drop_long + more
            worse = replace(one, figures=replace(least.figures, drop_long=drop))
            kept = choose.unbeaten([*others, worse])
            assert set(kept) == set(choose.unbeaten(others))
    assert beaten > 20


def test_a_price_that_is_not_known_beats_none_and_is_beaten_by_none() -> None:
    """Where some have a price those without are left out (docs/choose.md): these set no priced one aside."""
    cheap, dear = choose.held(tried(None, 0.1, 1, 1)), choose.held(tried(100, 1.0, 6, 20))
    assert not beaten_at_least(dear, [cheap])
    assert not beaten_at_least(cheap, [dear])
    assert beaten_at_least(choose.held(tried(None, 0.2, 1, 1)), [cheap])


def test_equal_in_all_steps_the_finer_drop_decides_only_where_it_is_certain() -> None:
    """By hand: 1.05 mm and 1.04 mm are one step; the second is no worse, so the first is beaten, not the other way."""
    one, other = choose.held(tried(100, 1.05, 6, 20)), choose.held(tried(100, 1.04, 6, 20))
    assert beaten_at_least(one, [other])
    assert not beaten_at_least(other, [one])
    assert not beaten_at_least(other, [other])


NAMES = (
    *("small 0", "small 5", "reading-alcove"),
    *(pytest.param(name, marks=pytest.mark.soak) for name in ("small 2", "stoneware-corner")),
)


@pytest.mark.parametrize("name", NAMES)
def test_the_least_drop_is_never_more_than_in_full_and_what_fails_at_first_fails(name: str) -> None:
    """The greatest over all loads is no less than under some; shelves on the same studs only add."""
    of, memo, seen = space(name), Memo(), 0
    few = 3 if name == "stoneware-corner" else 6
    for pick in [of.origin, *singles(of)[:: max(1, len(singles(of)) // few)]]:
        job = of.ground.with_edits(design_edits(of.ground, of.wanted(pick))).job
        if job is None:
            continue
        try:
            designs = check(job, memo, opens=False)
            least = at_least(job, memo=memo, shelf=of.ground.spec.id)
        except LayoutError:
            continue
        mine = choose.of_shelf(designs, of.ground.spec.id)
        if least.over:
            assert any(
                row.title == least.over and row.state == "fails"
                for d in mine
                for row in d.holds.checks
            )
        for (today, later), design in zip(least.drop or (), mine, strict=True):
            most = design.holds.drop
            if most is not None:
                seen += 1
                assert 0 < today <= most.today.value * (1 + ROUNDING)
                assert 0 < later <= most.long_term.value * (1 + ROUNDING)
    assert seen >= few


@pytest.mark.parametrize("seed", [0, 5])
def test_whatever_is_set_aside_is_beaten_or_fails_when_judged_in_full(seed: int) -> None:
    """Judged all the same, none of them is kept beside the choices."""
    of, memo = space(f"small {seed}"), Memo()
    judge = partial(check, memo=memo, opens=False)
    made: dict[Wanted, Tried] = {}
    hand = Hand(of.ground, memo)

    def many(asked: Sequence[choose.Asked], stop: choose.Stop) -> Iterator[tuple[int, Tried]]:
        for k, one in hand.many(asked, stop):
            made[one.wanted] = one
            yield k, one

    found = choose.choose(of.ground, judge, many=many)
    aside = [w for w, one in made.items() if one.state == "set aside"]
    assert aside
    assert found.aside == len(aside)
    assert found.judged + found.aside == found.built
    front = [choice.tried for choice in found.front]
    for wanted in aside:
        full = choose.try_out(of.ground, wanted, judge)
        assert choose.unbeaten([*front, full]) == tuple(front)
        assert all(each.wanted != wanted for each in found.all)


def test_only_what_may_be_offered_sets_others_aside(monkeypatch: pytest.MonkeyPatch) -> None:
    """A what-if thinner than `thick` lets it be passes and beats all: no design of the space may yield to it."""
    job = next(j for j in map(small, range(20)) if "bar" in j.vary and j.start.bar != min(j.bars))
    as_is = space_of(job.text(job.start))
    whole = thick(as_is.ground, as_is.wanted(as_is.origin))
    of = space_of(job.text(job.start).replace("thick = [20, 80]", f"thick = [{whole - 0.1}, 80]"))
    seen: list[Held] = []
    outside: list[Wanted] = []

    def formula(
        ground: Ground,
        wanted: Wanted,
        _: object,
        least: object = None,
        against: tuple[Held, ...] = (),
    ) -> Tried:
        seen.extend(against)
        inside = of.pick(wanted) is not None
        outside.extend([] if inside else [wanted])
        figures = Figures(1000.0 if inside else 10.0, 1.0, 1.0, 6.0, 20.0, 2)
        return Tried(wanted, (), (), "passes", figures, None, (), (), "", ())

    monkeypatch.setattr("ledgewright.choose.search.try_out", formula)
    monkeypatch.setattr("ledgewright.choose.trial.try_out", formula)
    found = choose.choose(of.ground, lambda _: ())
    assert seen
    assert outside
    assert all(each.figures.price == 1000.0 for each in seen)
    assert found.front
