"""What the cards tell of short rods, tall blocks and holes that come out behind, against the job's figures."""

from __future__ import annotations

import re
from functools import cache

import pytest

from ledgewright.judge import Design
from ledgewright.memo import Memo
from ledgewright.plan import Plan, full
from ledgewright.sheets import guide_sheet, guide_tiles
from ledgewright.sheets.answers import check_text
from ledgewright.sheets.forms import blocking_sheet
from ledgewright.sheets.shopping import _rods, shopping, vans
from ledgewright.sheets.shopside import side as shop_side
from ledgewright.sheets.siting import site_document, site_text
from ledgewright.sheets.walls import drill_card, set_card
from ledgewright.site import Drill
from tests.sheets.test_as_looked_at import job

AGAINST = (
    "figures of the job file, put together by hand in inches",
    "sides of sawn timber: a 2x4 is 1 1/2 by 3 1/2 in",
    "common practice at the wall",
)

STUDS = 'studs = [["13 7/16", "14 15/16"], ["29 9/16", "31 1/16"], ["45 5/16", "46 13/16"]]\n'
BLOCK = 'blocking = [["14 15/16", "29 9/16", [{up}]]]\n'
LONG = 'at = "B 22"\nprojection = "6 1/2"'
SHORT = 'at = "B 22"\nembedment = "1 7/16"\nprojection = "3 1/2"'


@cache
def blocked(up: str, deep: str = "1 7/16") -> tuple[Plan, Design, Drill]:
    """The stoneware corner with a short rod in a block at B 22, 1 7/16 deep; all others of wall B stick out 6 1/2."""
    found = job(
        "stoneware-corner",
        (STUDS, STUDS + BLOCK.format(up=up)),
        ('"B 30 5/16"', '"B 22"'),
        (LONG, SHORT.replace("1 7/16", deep)),
    )
    plan = full(found, Memo(), limits=False)
    _, _, leave = next(each for each in plan.leave if each[1] == "B")
    assert isinstance(leave, Drill)
    return plan, next(each for each in plan.designs if each.frame.legs[0].wall == "B"), leave


TALL = '"51 9/16", "55 1/16"'
"""A 2x4 laid flat, 3 1/2 high, its middle at 53 5/16."""


def ticks(up: str) -> str:
    return "\n".join(drill_card(*blocked(up), None).ticks)


def test_no_pilot_is_asked_for_outside_the_band_that_the_shelf_hides() -> None:
    """By hand: the shelf hides what is between bottom and top; a block from 51 9/16 to 55 1/16 is taller."""
    _, design, _ = blocked(TALL)
    low, high = (design.spec.top - design.spec.thick) / 25.4, design.spec.top / 25.4
    assert low > 51.6 + 0.2
    assert high < 55.0 - 0.2
    told = ticks(TALL)
    assert (
        "in the hidden band alone: both stud edges; at B2 wood by its lower and upper edge" in told
    )
    assert "found again" not in told
    # The heights that are told lie inside what the shelf hides, by no more than a tape's mark.
    up = re.search(r'edge, ([0-9/ ]+)" and ([0-9/ ]+)"[.]', told)
    assert up is not None
    assert low <= inches(up[1]) < low + 1 / 8
    assert high - 1 / 8 < inches(up[2]) <= high


@pytest.mark.parametrize(
    ("up", "found", "close"),
    [
        ('"52 5/8", "54 1/8"', "lower and upper edge found again", None),
        ('"52 5/8", "56 1/8"', "blocking's lower edge; at B2", "wood by its upper edge"),
        ('"50 5/8", "54 1/8"', "blocking's upper edge; at B2", "wood by its lower edge"),
    ],
)
def test_edges_inside_the_band_are_found_by_the_pilot(
    up: str, found: str, close: str | None
) -> None:
    """Inside from 52 1/4 to 54 3/8 by hand: 2x4 on edge, 1 1/2 high, or flat and moved up or down."""
    told = ticks(up)
    assert found in told
    assert ("in the hidden band alone" in told) is (close is not None)
    assert close is None or close in told


def test_a_hole_that_comes_out_behind_is_told_where_it_is_bored_and_filled() -> None:
    """By hand: 1 7/16 in a block 1 1/2 deep leaves 1/16; a point runs 1/4 to 3/8 ahead (docs/on-site.md)."""
    plan, design, leave = blocked(TALL)
    (told,) = (each for each in drill_card(plan, design, leave, None).stop if "comes out" in each)
    assert 'behind B2 (1/16" of wood left)' in told
    assert "Forstner" in told
    filling = set_card(plan, design, leave).ticks
    plug = next(i for i, each in enumerate(filling) if "B2" in each and "Plug its end" in each)
    assert plug < next(i for i, each in enumerate(filling) if "filled from the back" in each)
    answer = " ".join(check_text(plan).split())
    assert "caution: Rod B2:" in answer
    assert "Plug its end" in answer
    # Studs of a 2x4 are 3 1/2 deep and the other holes 3 1/8 at the most: 3/8 is left.
    assert "Rod B1:" not in answer


@pytest.mark.parametrize(
    ("deep", "past"), [("1 1/2", "no wood behind it"), ("3", '1 1/2" past its back')]
)
def test_a_rod_deeper_than_its_block_is_not_bored_and_nobody_is_told_how(
    deep: str, past: str
) -> None:
    """By hand: 3 in into a 2x4 laid flat, 1 1/2 deep, stands 1 1/2 out behind; 1/4 in of wood stops a bit's point."""
    plan, design, leave = blocked(TALL, deep)
    drill, card = drill_card(plan, design, leave, None), set_card(plan, design, leave)
    stops = {row[0]: row[5] for row in drill.holes.rows}
    assert {mark for mark, stop in stops.items() if stop == "not bored"} == {"B2"}
    drilled = "\n".join(drill.stop)
    answer = " ".join(check_text(plan).split())
    for told in (drilled, "\n".join(card.stop), answer):
        assert f'B2 is set deeper than its timber: {deep}" into wood that is 1 1/2" deep' in told
        assert past in told
        assert "Do not bore it" in told
        (least,) = re.findall(r'less deep, ([0-9/ ]+)" at most', told)
        assert 1 <= inches(least) <= 1.5 - 6 / 25.4
        assert "Forstner" not in told
        assert "wood is left" not in told
    assert not any("Plug its end" in each for each in card.ticks)


def test_every_page_says_that_the_short_rod_has_a_comb_of_its_own() -> None:
    """3 1/2 in against 6 1/2: guide page, set card, lists, `site` and JSON name the same rod; the van carries one."""
    plan, design, leave = blocked(TALL)
    found = next(g for _, d, g in guide_tiles.guided(plan) if d is design)
    page = guide_sheet.sheet(plan, design, found)
    lines = " ".join(line for part in page.parts for line in part.lines)
    assert "B2, too short for the bar, has a comb of its own" in lines
    assert "bored for B1 and B3 " in lines
    own = [
        row[0] for part in page.parts for t in part.tables for row in t.rows if ", own" in row[6]
    ]
    assert own == ["B2"]
    card = "\n".join(set_card(plan, design, leave).ticks)
    assert "B2 in a comb of its own" in card
    assert "comb bar on the tips of B1 and B3, level" in card
    assert "B2, too short for the bar" in site_text(plan)
    (told,) = (g for s in site_document(plan)["shelves"] for g in s["guides"] if g["wall"] == "B")
    assert [mark["held"] for mark in told["marks"]] == ["bar", "own", "bar"]
    side = shop_side(plan)
    assert not isinstance(side, str)
    bought = [each.what for each in shopping(side)]
    assert any("1 comb for one rod" in each for each in bought)
    assert any("1 comb for one rod" in item for item in _rods(side))


def test_the_bit_is_long_enough_for_block_shim_lining_and_wood_and_on_both_lists() -> None:
    """By hand, alcove: block 75, shim 4.5 where the string is furthest off, lining 15, wood 80, 25.4 in the chuck."""
    plan = full(job("reading-alcove"), Memo(), limits=False)
    stops = [m for _, _, g in guide_tiles.guided(plan) for m in g.marks]
    rods = plan.designs[0].frame.rods
    (free,) = {round(rod.free, 6) for rod in rods if rod.wall == "back"} or {0.0}
    long = 75 + max(m.gap for m in stops) + free + max(rod.embedment for rod in rods) + 25.4
    side = shop_side(plan)
    assert not isinstance(side, str)
    bought = [each.what for each in shopping(side)]
    loaded = [item for van in vans(side) for item in van.items]
    for items in (bought, loaded):
        (told,) = (
            re.search(r"(?:bit|bits) 18 mm, ([0-9.]+) mm long at least", i)
            for i in items
            if "long at least" in i
        )
        assert told is not None
        assert long - 0.3 <= float(told[1]) <= long + 0.5


def test_a_block_that_the_framer_is_asked_for_is_a_timber_and_lies_by_the_holes() -> None:
    """A 2x4 is 1 1/2 by 3 1/2: laid flat its edges lie 1 3/4 under and over the middle of the holes."""
    plan, design, _ = blocked('"52 5/8", "54 1/8"')
    sheet = blocking_sheet(plan, design, design.room.wall("B"))
    assert sheet is not None
    lines, rows = sheet.parts[0].lines, sheet.parts[0].tables[0].rows
    up = design.as_drawn.rods[0].origin[2] / 25.4
    by_bay = {row[0]: row[3:5] for row in rows}
    # As the job has it, on edge; then the bay that it has nothing in.
    assert by_bay["14 15/16"] == ("52 5/8", "54 1/8")
    low, high = (inches(text) for text in by_bay["31 1/16"])
    assert low == pytest.approx(up - 1.75, abs=1 / 128)
    assert high == pytest.approx(up + 1.75, abs=1 / 128)
    on_edge = next(line for line in lines if "on edge" in line)
    flat = next(line for line in lines if "flat" in line)
    assert 'its narrow face to the room: 1 1/2" high, 3 1/2" into the wall' in on_edge
    assert 'its wide face to the room: 3 1/2" high, 1 1/2" into the wall' in flat


def inches(text: str) -> float:
    whole, _, part = text.partition(" ")
    return float(whole) + (int(part.split("/")[0]) / int(part.split("/")[1]) if part else 0.0)


def test_a_block_as_high_as_no_side_of_its_timber_is_asked_back() -> None:
    plan, design, _ = blocked('"52", "54 1/2"')
    sheet = blocking_sheet(plan, design, design.room.wall("B"))
    assert sheet is not None
    assert any('2 1/2" high, which neither side of it is' in line for line in sheet.parts[0].lines)


def test_the_ledger_has_one_height_on_every_sheet() -> None:
    """Its height is the holes' less half a bore and the web, told once: no coarser figure stands beside a finer."""
    plan, design, leave = blocked(TALL)
    found = next(g for _, d, g in guide_tiles.guided(plan) if d is design)
    told = re.search(
        r"its edge at ([^;]+);", "\n".join(drill_card(plan, design, leave, None).ticks)
    )
    assert told is not None
    assert inches(told[1]) == pytest.approx(found.up / 25.4, abs=1 / 128)
    # Not a figure that a coarser rounding happens to hit.
    assert told[1].endswith("/64")
    assert f"Guide on wall B: ledger's upper edge at {told[1]}\"" in site_text(plan)
    assert f'Upper edge of the ledger at {told[1]}" over' in "\n".join(
        guide_tiles.tile_set(plan, design, found).lines
    )
    page = guide_sheet.sheet(plan, design, found)
    assert page.facts[0].value == told[1]
