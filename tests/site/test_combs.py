"""What holds the tips until the cure: no short rod draws the comb off the long ones, and every board can be put on."""

from __future__ import annotations

import random
from dataclasses import replace
from functools import cache

import pytest
import shapely
from shapely.geometry import LineString, Polygon, box

from ledgewright.judge import Design
from ledgewright.site import Guide, guide
from tests.site.test_guide import walls as guides

AGAINST = (
    "similar triangles: how far the slack of a hole moves a tip past the comb",
    "plan of boards and bars laid out with shapely from the told sizes alone",
    "geometry, common practice",
)

THICK = 18.0
"""Boards of a job in mm (docs/on-site.md)."""
SLACK = 25.4 / 32
"""A hole 1/16 in wider than its bar lets the bottom of the bar go 1/32 in to a side."""
ALLOWED = 25.4 / 64
"""What a tip may be off up or down in a slot with 1/32 in of play (docs/on-site.md)."""


@cache
def alcove() -> Design:
    return guides("reading-alcove")["back"][0]


def made(*sticks: float) -> Guide:
    """The guide of the alcove's back wall with rods that stick out so far."""
    design, drill, _ = guides("reading-alcove")["back"]
    rods = tuple(
        replace(rod, projection=out) for rod, out in zip(design.frame.rods, sticks, strict=True)
    )
    found = guide(design.room, replace(design.frame, rods=rods), drill, "mm")
    assert found is not None
    return found


def tips(*sticks: float) -> dict[str, float]:
    """How far each tip stands in front of the ledger's front, by the wall's own face."""
    design = alcove()
    wall, (leg,) = design.room.wall("back"), design.frame.legs
    return {
        rod.mark: wall.figures(rod.point(rod.free + out))[1] - leg.band - THICK
        for rod, out in zip(design.frame.rods, sticks, strict=True)
    }


def swing(found: Guide, sticks: tuple[float, ...]) -> dict[str, float]:
    """How far each tip moves if the bottom of its rod goes to the side of its hole; the comb is the pivot."""
    design, out = alcove(), tips(*sticks)
    moved = {}
    for mark in found.marks:
        rod = next(each for each in design.frame.rods if each.mark == mark.rod)
        back = found.comb_out if mark.held == "bar" else mark.packing
        assert back is not None
        comb = back + THICK / 2
        bottom = -(THICK + mark.gap + rod.free + rod.embedment)
        moved[mark.rod] = SLACK * (out[mark.rod] - comb) / (comb - bottom)
    return moved


@pytest.mark.parametrize("short", [0, 1, 2, 3])
def test_one_short_rod_leaves_the_comb_on_the_tips_of_the_long_ones(short: int) -> None:
    """Similar triangles: held 10 mm behind the shortest of its tips no tip goes 1/64 in for 1/32 in of slack."""
    long = (200.0,) * 4
    sticks = tuple(89.0 if i == short else out for i, out in enumerate(long))
    found, whole = made(*sticks), made(*long)
    assert [mark.held for mark in whole.marks] == ["bar"] * 4
    own = [mark for mark in found.marks if mark.held == "own"]
    assert [mark.rod for mark in own] == [f"B{short + 1}"]
    # The comb bar lies where the three long ones alone would have it, its front 10 mm behind the shortest of them.
    at = tips(*sticks)
    least = min(tip for rod, tip in at.items() if rod != own[0].rod)
    assert found.comb_out is not None
    assert least - (found.comb_out + THICK) == pytest.approx(10.0, abs=1e-6)
    assert at[own[0].rod] - (own[0].packing + THICK) == pytest.approx(10.0, abs=1e-6)
    assert max(swing(found, sticks).values()) < ALLOWED
    # As it was, the bar behind the shortest tip of all, they went further than that.
    drawn = replace(
        found,
        comb_out=own[0].packing,
        marks=tuple(replace(mark, held="bar") for mark in found.marks),
    )
    assert max(swing(drawn, sticks).values()) > ALLOWED


def plan_of(
    found: Guide, sticks: tuple[float, ...]
) -> tuple[list[tuple[Polygon, set[str]]], dict[str, LineString]]:
    """Boards in front of the ledger with the rods that they are bored for, and the bars, from above."""
    boards = []
    if found.comb_out is not None:
        bar = box(found.start, found.comb_out, found.end, found.comb_out + THICK)
        boards.append((bar, {mark.rod for mark, _ in found.in_bar}))
    for mark in found.held("own"):
        left, right = mark.comb - mark.wide / 2, mark.comb + mark.wide / 2
        boards.append((box(left, mark.packing, right, mark.packing + THICK), {mark.rod}))
    at = tips(*sticks)
    bars = {
        mark.rod: LineString([(mark.along, -THICK), (mark.along, at[mark.rod])])
        for mark in found.marks
    }
    return boards, bars


def test_boards_and_bars_of_any_lengths_go_together() -> None:
    """Laid out from above: no board in another or past the ledger, none crossed by a bar that it is not bored for."""
    rng = random.Random(4)  # noqa: S311  # cases, not secrets
    kinds: set[str] = set()
    for _ in range(150):
        sticks = tuple(rng.choice([rng.uniform(12, 60), rng.uniform(60, 240)]) for _ in range(4))
        found = made(*sticks)
        boards, bars = plan_of(found, sticks)
        at = tips(*sticks)
        for i, (board, bored) in enumerate(boards):
            assert all(board.distance(other) >= 3.0 - 1e-6 for other, _ in boards[i + 1 :])
            assert found.start - 1e-6 <= board.bounds[0]
            assert board.bounds[2] <= found.end + 1e-6
            assert board.bounds[1] >= 0
            crossed = {
                rod
                for rod, line in bars.items()
                if shapely.distance(board, line) < found.marks[0].bar / 2
                and at[rod] > board.bounds[1]
            }
            assert crossed <= bored
        for mark in found.marks:
            kinds.add(mark.held)
            back = found.comb_out if mark.held == "bar" else mark.packing
            if mark.held == "wedges":
                # No board of 18 mm on the ledger would hold 7 mm of it.
                assert at[mark.rod] < 7.0
                continue
            assert back is not None
            assert at[mark.rod] - back >= 7.0 - 1e-6
            if mark.held == "bar":
                assert mark.rod in {each.rod for each, _ in found.in_bar}
    assert kinds == {"bar", "own", "wedges"}


def test_where_all_rods_are_short_each_has_a_board_of_its_own() -> None:
    """With all tips 30 mm out of the ledger (10, a board of 18, and 2) no other board goes behind a bar."""
    design = alcove()
    wall, (leg,) = design.room.wall("back"), design.frame.legs
    sticks = tuple(
        30.0 + THICK + leg.band - wall.figures(rod.point(rod.free))[1] for rod in design.frame.rods
    )
    found = made(*sticks)
    assert found.comb_out is None
    assert [mark.held for mark in found.marks] == ["own"] * 4
    assert [mark.packing for mark in found.marks] == pytest.approx([2.0] * 4, abs=1e-6)


def test_rods_side_by_side_have_combs_clear_of_each_other() -> None:
    """Two studs 38 mm wide side by side, a short rod in one: its comb ends 3 mm before the bar in the other."""
    design, drill, _ = guides("reading-alcove")["back"]
    wall = design.room.wall("back")
    first, second = design.frame.rods[:2]
    (x, y), (p, q) = wall.direction, (first.origin[0], first.origin[1])
    beside = replace(
        second, origin=(p + 38 * x, q + 38 * y, first.origin[2]), axis=first.axis, free=first.free
    )
    short = replace(first, projection=90.0)
    rods = (short, replace(beside, projection=first.projection), *design.frame.rods[2:])
    found = guide(design.room, replace(design.frame, rods=rods), drill, "mm")
    assert found is not None
    mark = found.marks[0]
    assert mark.held == "own"
    assert mark.wide / 2 == pytest.approx(38 - 16 / 2 - 3, abs=0.1)
