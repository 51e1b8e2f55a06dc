"""Domination by its definition, over random figures; names; ties."""

from __future__ import annotations

import itertools
import random

from ledgewright.choose import Change, Figures, Tried, Wanted, beats, tagged, unbeaten

WANTED = Wanted(
    "b", 2.0, (("w", ("s1", "s2")),), 60.0, "a", "dry", 1.0, 0.0, None, ("c", 1, 1, 1), 1, ""
)


def tried(
    price: float | None,
    drop: float,
    mass: float,
    hours: float,
    *,
    holes: int = 2,
    changes: int = 0,
    passes: bool = True,
) -> Tried:
    figures = Figures(price, drop / 2, drop, mass, hours, holes)
    made = tuple(Change("bar", "", str(k)) for k in range(changes))
    state = "passes" if passes else "fails"
    return Tried(WANTED, made, (), state, figures, None, (), (), "", ())  # type: ignore[arg-type]


def random_ones(seed: int, count: int) -> list[Tried]:
    rng = random.Random(seed)  # noqa: S311  # a fixed draw, no secret
    return [
        tried(
            rng.randrange(900, 1100, 5),
            rng.uniform(0.5, 1.5),
            rng.uniform(5, 8),
            rng.uniform(20, 24),
            holes=rng.randrange(2, 6),
            changes=rng.randrange(4),
            passes=rng.random() < 0.8,
        )
        for _ in range(count)
    ]


def test_what_is_kept_is_not_beaten_and_what_is_left_out_is() -> None:
    """The definition of an unbeaten set, both ways."""
    for seed in range(40):
        found = random_ones(seed, 40)
        passing = [each for each in found if each.state == "passes"]
        kept = unbeaten(found)
        assert all(each.state == "passes" for each in kept)
        for each in passing:
            beaten = any(beats(other, each) for other in passing if other is not each)
            assert (each in kept) == (not beaten)


def test_no_design_beats_itself_and_none_beats_its_better() -> None:
    """Beating is irreflexive and one-way, as any strict order is."""
    for a, b in itertools.product(random_ones(3, 30), repeat=2):
        assert not (beats(a, b) and beats(b, a))
        assert not beats(a, a)


def test_beating_carries_over() -> None:
    """A strict order is transitive."""
    found = random_ones(5, 24)
    for a, b, c in itertools.product(found, repeat=3):
        if beats(a, b) and beats(b, c):
            assert beats(a, c)


def test_the_order_they_were_looked_at_does_not_matter() -> None:
    found = random_ones(11, 60)
    again = sorted(found, key=lambda each: -each.figures.drop_long if each.figures else 0)
    assert unbeaten(found) == unbeaten(again)


def test_a_thing_nobody_could_tell_apart_is_no_choice() -> None:
    """A hundredth of a millimetre for the same money: only the better one stays."""
    kept = unbeaten([tried(100, 1.05, 5.1, 20.1), tried(100, 1.04, 5.1, 20.1)])
    assert [each.figures.drop_long for each in kept if each.figures] == [1.04]


def test_names_go_to_the_extremes() -> None:
    cheap, stiff, few = (
        tried(90, 2.0, 6, 20, holes=4),
        tried(150, 0.5, 6, 20, holes=5),
        tried(120, 1.6, 6, 20, holes=3),
    )
    tags = tagged((cheap, few, stiff))
    assert "cheapest" in tags[0]
    assert "least drilling" in tags[1]
    assert "stiffest" in tags[2]


def test_without_any_price_nothing_is_cheapest() -> None:
    front = unbeaten([tried(None, 1.0, 6, 20), tried(None, 0.5, 7, 20)])
    assert len(front) == 2
    assert all("cheapest" not in tags for tags in tagged(front))


def test_one_without_a_price_is_not_compared_with_those_that_have_one() -> None:
    front = unbeaten([tried(None, 0.1, 1, 1), tried(100, 1.0, 6, 20)])
    assert [each.figures.price for each in front if each.figures] == [100]
