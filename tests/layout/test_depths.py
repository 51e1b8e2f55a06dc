"""Legs of different depth: outline, blank, edging, sections and what the corner of each has to carry."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from shapely.geometry import Polygon

from ledgewright import plane
from ledgewright.job import Demand, Even, Leg, Limits, Spec
from ledgewright.layout import Frame, edging_runs, frame, sections, shares
from tests.layout import asked
from tests.layout.test_sections import ell

AGAINST = (
    "areas of trapezia and rectangles; a leg's own depth that is the shelf's changes nothing",
    "hand calculation",
    "1e-9",
)
A, B = 1300.0, 1200.0


def deep(a: float | None, b: float | None, *, sections: int = 1, first: str = "A") -> Spec:
    """An L with a depth of its own on either leg, or 285 as the shelf."""
    pins = [asked.rod(w, f"{w}.s{k}", 120.0) for w in "AB" for k in (1, 2)]
    legs = [Leg("A", -A, 0.0, a), Leg("B", 0.0, B, b)]
    return replace(asked.shelf(legs, pins, first=first, end_gap=0.0), sections=sections)


def mirrored(spec: Spec, first: str) -> Spec:
    """The same L with what is asked of A asked of B."""
    a, b = spec.legs
    legs = (Leg("A", -b.end, 0.0, b.depth), Leg("B", 0.0, -a.start, a.depth))
    return replace(spec, legs=legs, first=first)


@pytest.mark.parametrize("degrees", [88.0, 90.0, 91.1])
@pytest.mark.parametrize(("a", "b"), [(285.0, 200.0), (200.0, 285.0), (150.0, 400.0)])
def test_an_l_is_two_trapezia_as_deep_as_its_legs(degrees: float, a: float, b: float) -> None:
    """Fronts a and b out meet a cot + b / sin from the corner along A, and the other way about along B."""
    angle = math.radians(degrees)
    found = frame(ell("inside", angle), deep(a, b))
    x = a / math.tan(angle) + b / math.sin(angle)
    y = b / math.tan(angle) + a / math.sin(angle)
    assert plane.area(found.outline) == pytest.approx(a * A + b * B - (a * x + b * y) / 2)
    assert [leg.depth for leg in found.legs] == [a, b]
    fronts = [plane.length(plane.sub(*leg.front)) for leg in found.legs]
    assert fronts == pytest.approx([A - x, B - y])
    around = frame(ell("outside", angle), deep(a, b))
    assert plane.area(around.outline) == pytest.approx(a * A + b * B + (a * x + b * y) / 2)


@pytest.mark.parametrize("turn", ["inside", "outside"])
def test_a_depth_of_its_own_that_is_the_shelfs_changes_nothing(turn: str) -> None:
    there = ell(turn, math.radians(91.1))
    plain = frame(there, deep(None, None))
    assert frame(there, deep(285.0, 285.0)) == plain
    assert frame(there, deep(None, 285.0)) == plain
    parts = [frame(there, part) for part in sections(there, deep(None, None, sections=2))]
    own = [frame(there, part) for part in sections(there, deep(285.0, 285.0, sections=2))]
    assert parts == own


@pytest.mark.parametrize("turn", ["inside", "outside"])
def test_the_mirror_image_has_the_other_leg_as_deep(turn: str) -> None:
    there = ell(turn, math.radians(91.1))
    spec = deep(285.0, 200.0)
    one, other = frame(there, spec), frame(there, mirrored(spec, "B"))
    assert plane.area(one.outline) == pytest.approx(plane.area(other.outline))
    assert plane.area(one.blank) == pytest.approx(plane.area(other.blank))

    def sides(found: Frame) -> list[float]:
        ring = Polygon(found.outline).exterior.coords
        return sorted(math.dist(p, q) for p, q in pairwise(ring))

    assert sides(one) == pytest.approx(sides(other))


@pytest.mark.parametrize("turn", ["inside", "outside"])
@pytest.mark.parametrize("first", ["A", "B"])
def test_sections_as_deep_as_their_legs_make_up_the_whole(turn: str, first: str) -> None:
    there = ell(turn, math.radians(90.0))
    whole = frame(there, deep(285.0, 200.0, first=first))
    cut = sections(there, deep(285.0, 200.0, sections=2, first=first))
    parts = [frame(there, part) for part in cut]
    one, two = (Polygon(part.outline) for part in parts)
    assert one.union(two.buffer(1e-7)).symmetric_difference(
        Polygon(whole.outline)
    ).area == pytest.approx(0.0, abs=1e-3)
    assert one.intersection(two).area < 1e-6
    depths = {part.legs[0].wall: part.legs[0].depth for part in parts}
    assert depths == {"A": 285.0, "B": 200.0}
    assert [part.depth for part in cut] == [depths[part.legs[0].wall] for part in cut]


def test_edging_of_a_free_end_is_as_long_as_its_leg_is_deep() -> None:
    spec = deep(285.0, 200.0)
    found = frame(ell("inside", math.radians(90.0)), spec)
    ends = [size for name, size in edging_runs(found, spec) if "end" in name]
    assert ends == pytest.approx([285.0 + 12.0, 200.0 + 12.0])


@pytest.mark.parametrize(("first", "along"), [("A", 200.0), ("B", 285.0)])
def test_of_a_load_on_the_other_leg_the_corner_counts_where_it_stands(
    first: str, along: float
) -> None:
    """On the section that runs through the corner is as long as the other leg is deep, and weighs what lay along it."""
    there = ell("inside", math.radians(90.0))
    cut = sections(there, deep(285.0, 200.0, sections=2, first=first))
    laid = tuple((part, frame(there, part)) for part in cut)
    other = "B" if first == "A" else "A"
    start, end = (0.0, B) if other == "B" else (-A, 0.0)
    load = Even("all along", None, 0.2, other, start, end, "years", assumed=False)
    demand = Demand(
        "shelf", (load,), (), 30.0, Limits(2.0, 3.0, assumed=True), accident_declined=False
    )
    lead = shares(there, laid, demand)[0].loads
    assert [each.wall for each in lead] == [first]
    (corner,) = lead
    assert isinstance(corner, Even)
    assert corner.start is not None
    assert corner.end is not None
    assert corner.end - corner.start == pytest.approx(along)
    assert corner.per_length is not None
    # 0.2 N/mm over as much of the other wall as this section is deep.
    assert corner.per_length * along == pytest.approx(0.2 * laid[0][1].legs[0].depth)
    pressed = replace(demand, loads=(replace(load, pressure=0.002, per_length=None),))
    (same,) = shares(there, laid, pressed)[0].loads
    assert isinstance(same, Even)
    assert (same.pressure, same.per_length) == (0.002, None)
