"""A whole job cut up: every part is cut once, out of stock that is sold, by cuts that give it (looked at anew)."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace

import pytest
from shapely import Polygon

from ledgewright import shop, site, stock
from ledgewright.job import Job, Price
from ledgewright.judge import Design
from ledgewright.shop import Boards, Cutting, Part
from ledgewright.shop.cutting import on_sale
from ledgewright.shop.nest import Bar, CutBars, Offcut, Piece, least_length, nest
from tests.jobs import NAMES, job, plan
from tests.shop import made
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
        sizes = {i.label: i.part.rough for s in boards.strips for i in s.items}
        for strip in boards.strips:
            assert strip.thick <= boards.stock[0]
            for label in {label for bar in strip.cut.bars for label, _ in bar.pieces}:
                _, wide, thick = sizes[label]
                assert max(wide, thick) <= strip.width + 0.1
                assert min(wide, thick) <= strip.thick + 0.1
        # Common practice: what is bought holds the parts with room to spare, and no less than what is said could be.
        parts = sum(
            l * w * n for label, (l, w, _) in sizes.items() for n in [_count(boards, label)]
        )
        assert parts < boards.length * boards.stock[1]
        assert boards.proof.bound <= boards.length + 1e-6


def _count(boards: Boards, label: str) -> int:
    return next(i.part.count for s in boards.strips for i in s.items if i.label == label)


def test_the_least_length_of_boards_by_hand() -> None:
    """Boards 100 wide and 1000 or 2000 long, no kerf.

    Three strips of 40 x 900: two lie beside each other in a board of 1000, never three, so two boards are needed though
    the area of all three is 1.08 boards. A piece of 1500 needs the long board, whatever the area says.
    """
    stock = [Bar("short", 1000.0, cost=1000.0), Bar("long", 2000.0, cost=2000.0)]
    three = [(900.0, 40.0)] * 3
    assert least_length(three, stock, 100.0, kerf=0.0) == pytest.approx(2000.0)
    assert least_length([(1500.0, 20.0)], stock, 100.0, kerf=0.0) == pytest.approx(2000.0)
    assert least_length([], stock, 100.0, kerf=0.0) == 0.0
    # With a kerf of 20 two of 40 are 100 in 100 with the one cut between them; of 41 they are not.
    assert least_length([(990.0, 40.0)] * 2, stock, 100.0, kerf=20.0) == pytest.approx(1000.0)
    assert least_length([(990.0, 41.0)] * 2, stock, 100.0, kerf=20.0) == pytest.approx(2000.0)


def test_narrow_parts_come_out_of_what_is_left_of_wide_strips() -> None:
    """Common practice: nobody rips a strip of its own for three pieces of 3 in.

    By hand, the corner: the pieces 2 1/8 wide are 365 in, 369 with their kerfs, so four strips of 96 at least, two to a
    6 in board: two boards. With the 23 in of narrower ones it is 392, over 384: those go into the same strips of 120.
    """
    (boards,) = [
        b
        for b in cut(job("stoneware-corner"), designs("stoneware-corner")).boards
        if b.timber == "poplar"
    ]
    wide, *narrow = boards.strips
    assert sum(p.part.rough[0] * p.part.count for p in wide.items) == pytest.approx(
        365 * 25.4, abs=25
    )
    assert sum(p.part.rough[0] * p.part.count for s in narrow for p in s.items) == pytest.approx(
        23 * 25.4, abs=25
    )
    ((length, count),) = boards.bought
    assert count == 2
    assert length == pytest.approx(120 * 25.4)
    assert sum(len(strip.cut.bars) for strip in narrow) == 0
    own = {i.label for i in wide.items}
    assert {label for bar in wide.cut.bars for label, _ in bar.pieces} - own


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


# ---- sizes of sheets, offcuts


def priced(this: Job, **stock: float) -> Job:
    """The job with these prices of sheets alone; names with "_" for a blank."""
    assert this.shop.prices is not None
    rows = tuple(Price(name.replace("_", " "), each, "sheet") for name, each in stock.items())
    prices = replace(this.shop.prices, stock=rows)
    return replace(this, shop=replace(this.shop, prices=prices))


def test_of_two_sizes_with_a_price_the_cheaper_is_bought() -> None:
    """By hand: one skin of 1000 x 280 twice comes out of either sheet; whichever costs less is bought."""
    panel = stock.panel("birch ply 18")
    assert [panel.sized(size) for size in panel.sheets[:2]] == [
        "birch ply 18",
        "birch ply 18 1525x1525",
    ]
    skins = [Piece("S1", 1000.0, 280.0), Piece("S2", 1000.0, 280.0)]
    for small, bought in ((60.0, (1525.0, 1525.0)), (120.0, (2440.0, 1220.0))):
        this = priced(job("stoneware-corner"), birch_ply_18=90.0, birch_ply_18_1525x1525=small)
        sold = [s for s in on_sale(this.shop, panel, skins) if s.name == "bought"]
        found = nest(skins, sold)
        assert [(x.sheet.length, x.sheet.width) for x in found.layouts] == [bought]
        assert found.proof.found == pytest.approx(min(small, 90.0) / 90.0)
    # Without a price of its own the second size is bought only where the first is too short.
    alone = priced(job("stoneware-corner"), birch_ply_18=90.0)
    assert [s.length for s in on_sale(alone.shop, panel, skins) if s.name == "bought"] == [2440.0]


def test_a_size_without_a_price_is_named_and_gives_no_price() -> None:
    """The record wall's skins of 118 3/4 in need sheets of 10 ft; a price of the 8 ft sheet says nothing of them."""
    this, long = job("record-wall"), "birch ply 18 1525x3050"
    prices = this.shop.prices
    assert prices is not None
    rows = tuple(p for p in prices.stock if p.name != long)
    poor = replace(this, shop=replace(this.shop, prices=replace(prices, stock=rows)))
    assert len(rows) == len(prices.stock) - 1
    for of, missing in ((this, ()), (poor, (long,))):
        counted = cut(of, designs("record-wall")).counted
        assert shop.work(of, made.sections("record-wall"), counted).missing == missing


def test_sheets_from_stock_are_charged_by_their_area() -> None:
    """By hand: a rest of 1250 x 620 is 0.775 m2, of a sheet of 1220 x 2440 (2.977 m2) 0.26."""
    this = job("reading-alcove")
    (design,) = designs("reading-alcove")
    panel = design.spec.skin_top.panel
    mine = replace(this, shop=replace(this.shop, on_hand=((panel.name, (620.0, 1250.0), 2),)))
    found = cut(mine, (design,)).counted
    assert found is not None
    (count,) = found.sheets
    assert (count.name, count.count, count.taken) == (panel.name, 0, 1)
    assert count.charged == pytest.approx(620 * 1250 / (panel.sheets[0][0] * panel.sheets[0][1]))
    work = shop.work(mine, made.sections("reading-alcove"), found)
    line = next(x for x in work.lines if x.what == panel.name)
    assert line.total == pytest.approx(count.charged * (line.each or 0.0))


@pytest.mark.parametrize(
    ("size", "useful"), [((150, 600), True), ((600, 150), True), ((149, 900), False)]
)
def test_an_offcut_is_kept_from_a_least_size_on_either_way_round(
    size: tuple[float, float], useful: bool
) -> None:
    assert Offcut(0.0, 0.0, *size).useful((150.0, 600.0)) is useful
