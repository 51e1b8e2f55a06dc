"""A whole job cut up: every part is cut once, out of stock that is sold, by cuts that give it (looked at anew)."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace

import pytest
from shapely import Polygon

from ledgewright import shop, site
from ledgewright.job import Job
from ledgewright.judge import Design
from ledgewright.shop import Cutting, Part
from ledgewright.shop.nest import CutBars, Piece
from tests.jobs import NAMES, job, plan
from tests.shop.cutting import comes_out, lies_well

SAWS = ("straight guide", "router")


def designs(name: str) -> tuple[Design, ...]:
    return plan(name).designs


def cut(this: Job, made: tuple[Design, ...]) -> Cutting:
    return shop.cutting(job=this, made=[(d.spec, d.parts) for d in made])


def pieces(cutting: Cutting) -> Counter[str]:
    """How often each label is cut, over sheets, boards and bars."""
    found: Counter[str] = Counter()
    for sheets in cutting.sheets:
        found.update(p.name for layout in sheets.nest.layouts for p in layout.placed)
    for lengths in all_lengths(cutting):
        found.update(name for bar in lengths.bars for name, _ in bar.pieces)
    return found


def all_lengths(cutting: Cutting) -> list[CutBars]:
    return [s.cut for b in cutting.boards for s in b.strips] + [b.cut for b in cutting.bars]


@pytest.mark.parametrize("name", NAMES)
def test_every_part_is_cut_as_often_as_it_is_wanted(name: str) -> None:
    cutting = plan(name).cutting
    assert cutting is not None
    assert cutting.left == ()
    several = len(designs(name)) > 1
    wanted = Counter(
        {
            f"{k}-{p.letter}" if several else p.letter: p.count
            for k, d in enumerate(designs(name), 1)
            for p in d.parts
        }
    )
    assert pieces(cutting) == wanted


@pytest.mark.parametrize("saw", SAWS)
@pytest.mark.parametrize("name", NAMES)
def test_skins_come_out_of_their_sheets_with_their_grain(name: str, saw: str) -> None:
    this = replace(job(name), shop=replace(job(name).shop, saw=saw))  # type: ignore[arg-type]
    cutting = cut(this, designs(name))
    parts = {i.label: i.part for s in cutting.sheets for i in s.items}
    for sheets in cutting.sheets:
        assert sheets.nest.proof.proven
        wanted = {
            label: Piece(label, *part.rough[:2], part.count, sheets.turns)
            for label, part in parts.items()
        }
        for layout in sheets.nest.layouts:
            lies_well(layout, wanted, this.shop.kerf, this.shop.trim)
            assert bool(layout.cuts) == (saw != "router")
            if layout.cuts:
                comes_out(layout, this.shop.kerf)


@pytest.mark.parametrize("name", NAMES)
def test_strips_fit_their_boards_and_lengths_their_strips(name: str) -> None:
    """The kerf between pieces only: n pieces need n - 1 cuts and the last end is the board's (common practice)."""
    cutting, kerf = plan(name).cutting, job(name).shop.kerf
    assert cutting is not None
    for lengths in all_lengths(cutting):
        for bar in lengths.bars:
            used = sum(length for _, length in bar.pieces) + kerf * (len(bar.pieces) - 1)
            assert used <= bar.bar.length + 0.01
    for boards in cutting.boards:
        strips = sum(len(s.cut.bars) for s in boards.strips)
        assert strips == sum(len(bar.pieces) for _, rip in boards.ripped for bar in rip.bars)
        for _, rip in boards.ripped:
            for bar in rip.bars:
                wide = sum(w for _, w in bar.pieces) + kerf * (len(bar.pieces) - 1)
                assert wide <= boards.stock[1]
        for strip in boards.strips:
            assert strip.thick <= boards.stock[0]


@pytest.mark.parametrize("name", NAMES)
def test_no_more_is_cut_from_stock_than_is_bought(name: str) -> None:
    cutting = plan(name).cutting
    assert cutting is not None
    for sheets in cutting.sheets:
        area = sum(l * w * n for l, w, n in (*sheets.bought, *sheets.used))
        parts = sum(i.part.rough[0] * i.part.rough[1] * i.part.count for i in sheets.items)
        assert parts < area
        assert sheets.count >= math.ceil(parts / area - 1) if sheets.used else sheets.count >= 1


def test_sheets_on_hand_go_first() -> None:
    this = job("reading-alcove")
    (design,) = designs("reading-alcove")
    name = design.spec.skin_top.panel.name
    mine = replace(this, shop=replace(this.shop, on_hand=((name, (620.0, 1250.0), 2),)))
    (sheets,) = cut(mine, (design,)).sheets
    assert sheets.bought == ()
    # Two skins of about 1187 x 278 lie on one sheet of 1250 x 620 less 10 all round: 2 x 278 + 3.2 = 559 < 600.
    assert sheets.used == ((1250.0, 620.0, 1),)


def test_a_skin_longer_than_the_usual_sheet_takes_the_longer_one_or_is_named() -> None:
    (design,) = designs("record-wall")
    (sheets,) = cut(job("record-wall"), (design,)).sheets
    # 118 3/4 in does not come out of a sheet of 2440 (96 in); 3050 is the next the catalogue has.
    assert [length for length, _, _ in sheets.bought] == [3050.0]
    long = tuple(
        replace(p, rough=(4000.0, *p.rough[1:])) if p.kind == "skin" else p for p in design.parts
    )
    cutting = shop.cutting(job=job("record-wall"), made=[(design.spec, long)])
    assert {name for name, _ in cutting.left} == {"S1", "S2"}


def el(hand: str) -> Part:
    """An L of 1500 by 1000, 300 wide both ways, as a skin in one piece."""
    plan_ = (
        (0.0, 0.0),
        (1500.0, 0.0),
        (1500.0, 300.0),
        (300.0, 300.0),
        (300.0, 1000.0),
        (0.0, 1000.0),
    )
    return Part(
        letter="S1" if hand == "top" else "S2",
        name=f"{hand} skin",
        of="birch ply 18",
        kind="skin",
        count=1,
        finished=(1500.0, 1000.0, 17.6),
        rough=(1506.0, 1006.0, 17.6),
        plan=plan_,
        note="",
        lies=(1.0, 0.0),
    )


@pytest.mark.parametrize("saw", SAWS)
def test_two_skins_of_an_el_in_one_piece_are_of_both_hands(saw: str) -> None:
    this = job("stoneware-corner")
    this = replace(this, shop=replace(this.shop, saw=saw))  # type: ignore[arg-type]
    spec = designs("stoneware-corner")[0].spec
    cutting = shop.cutting(job=this, made=[(spec, (el("top"), el("bottom")))])
    (sheets,) = cutting.sheets
    placed = [p for layout in sheets.nest.layouts for p in layout.placed]
    assert len(placed) == 2
    for p in placed:
        assert p.notch is not None
        # By hand: the notch is 1200 x 700 less the rough edges (6) and a sliver (1).
        assert (abs(p.notch[0]), p.notch[1]) == pytest.approx((1193.0, 693.0))
    first, second = (p.notch[0] for p in placed if p.notch)
    assert first * second < 0
    whole = Polygon(el("top").plan)
    for p in placed:
        covered = sum((c - a) * (d - b) for a, b, c, d in p.boxes)
        # 1506 x 1006 with that notch out of it: 4.3 % over what is finished, all of it rough edge.
        assert covered == pytest.approx(688_287.0)
        assert whole.area < covered


def test_what_is_withheld_is_not_cut() -> None:
    (design,) = designs("reading-alcove")
    held = frozenset({rod.wall for rod in design.frame.rods})
    told = tuple(p for p in design.parts if not site.hidden(p, design.frame, held))
    assert {p.kind for p in told} == {"skin", "edging"}
    cutting = shop.cutting(
        job=job("reading-alcove"), made=[(design.spec, told)], withheld=[design.spec.title]
    )
    assert cutting.bars == ()
    assert cutting.withheld == (design.spec.title,)
