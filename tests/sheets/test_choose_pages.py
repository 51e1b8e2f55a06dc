"""The pictures of a search: where things stand on them, and that nothing hides another."""

from __future__ import annotations

import itertools
import math
import random

import pytest

from ledgewright.draw import Circle, Fill, Polyline, Text
from ledgewright.sheets.views import Axis, Effect, Spot, choice_view, effect_view
from ledgewright.sheets.views.choosing import APART, BALL

ACROSS = Axis("Price, GBP", lambda v: f"{v:,.0f}", 5.0)
UP = Axis("Front drop in ten years", lambda v: f"{v:.1f} mm", 0.1)
BOX = (182.0, 100.0)


def crowd(seed: int, count: int) -> list[Spot]:
    rng = random.Random(seed)  # noqa: S311  # a fixed draw, no secret
    return [
        Spot(rng.randrange(1900, 2000, 5), rng.uniform(0.8, 2.4), k + 1 if k < 9 else 0, k == 20)
        for k in range(count)
    ]


@pytest.mark.parametrize("seed", range(8))
def test_no_numbered_circle_lies_on_another(seed: int) -> None:
    drawing = choice_view("Price against drop", crowd(seed, 40), ACROSS, UP, BOX)
    rings = [item for item in drawing.items if isinstance(item, Circle)]
    assert len(rings) == 9
    for a, b in itertools.combinations(rings, 2):
        assert math.dist(a.centre, b.centre) >= min(APART, 2 * BALL) - 1e-9


def test_cheaper_is_to_the_left_and_stiffer_is_lower() -> None:
    """By the meaning of the axes."""
    spots = [Spot(1900, 2.0), Spot(1950, 1.5), Spot(2000, 1.0)]
    drawing = choice_view("Price against drop", spots, ACROSS, UP, BOX)
    dots = [item.ring[0] for item in drawing.items if isinstance(item, Fill)]
    assert [x for x, _ in dots] == sorted(x for x, _ in dots)
    assert [y for _, y in dots] == sorted((y for _, y in dots), reverse=True)


def test_one_design_alone_is_drawn() -> None:
    drawing = choice_view("Price against drop", [Spot(1900, 2.0, 1, as_is=True)], ACROSS, UP, BOX)
    assert any(isinstance(item, Text) and item.text == "1" for item in drawing.items)


def test_the_figures_of_the_axes_hold_every_design_between_them() -> None:
    spots = crowd(4, 30)
    drawing = choice_view("Price against drop", spots, ACROSS, UP, BOX)
    said = [item.text for item in drawing.items if isinstance(item, Text)]
    prices = [
        float(t.replace(",", "")) for t in said if t.replace(",", "").isdecimal() and len(t) > 3
    ]
    drops = [float(t.removesuffix(" mm")) for t in said if t.endswith(" mm")]
    assert min(prices) <= min(s.across for s in spots)
    assert max(prices) >= max(s.across for s in spots)
    assert min(drops) <= min(s.up for s in spots)
    assert max(drops) >= max(s.up for s in spots)


def test_bars_go_right_for_more_and_left_for_less_as_long_as_they_are_much() -> None:
    effects = [Effect("a", 2.0, "+2"), Effect("b", -1.0, "-1"), Effect("c", 0.5, "+0.5")]
    drawing = effect_view("What one change does", effects, (182.0, 40.0))
    rings = [i.points for i in drawing.items if isinstance(i, Polyline) and i.closed]
    spans = [(min(x for x, _ in ring), max(x for x, _ in ring)) for ring in rings]
    zero = spans[0][0]
    assert spans[1][1] == pytest.approx(zero)
    assert spans[2][0] == pytest.approx(zero)
    lengths = [high - low for low, high in spans]
    assert lengths[0] / lengths[1] == pytest.approx(2.0)
    assert lengths[0] / lengths[2] == pytest.approx(4.0)
