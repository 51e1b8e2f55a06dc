"""What the shop must not lose: kerfs, straight edges, the larger of pieces alike."""

from __future__ import annotations

from dataclasses import replace

from ledgewright.core import Core
from ledgewright.core.model import Piece
from ledgewright.shop.nest import Bar, CutBar, CutBars, Proof
from ledgewright.shop.parts import _core
from ledgewright.shop.sawn import Strips, Watch, _boards_for, _into_rests
from ledgewright.stock import StockLength
from tests.jobs import job
from tests.statics import made

AGAINST = (
    "mutants of the code that no test had held: each test here fails on one",
    "by hand from standards, statics, geometry and the rules of the project, as each says",
    "as each says",
)


def test_pieces_out_of_a_rest_lie_a_kerf_apart() -> None:
    """By hand: 103 left takes 50, a kerf of 3 and 50; 102 left takes one of them."""
    for rest, over in ((103.0, []), (102.0, [("b", 50.0)])):
        bar = CutBar(Bar("8 ft", 1000.0), (("w", 1000.0 - rest - 3.0),), rest)
        wide = Strips(60.0, 30.0, (), CutBars((bar,), Proof(1.0, 1.0, "")))
        made_, left = _into_rests([wide], [("a", 50.0), ("b", 50.0)], 30.0, 3.0)
        assert left == over
        (cut,) = made_[0].cut.bars
        assert sum(x for _, x in cut.pieces) + 3.0 * (len(cut.pieces) - 1) <= 1000.0 + 1e-9


def test_a_board_gives_strips_out_of_what_its_straight_edge_leaves() -> None:
    """Common practice: 1/4 in off for a straight edge. Of 150 mm, 144 are left: two of 70 and a kerf, not of 71."""
    row = StockLength("8 ft", "board", "mm", 2400.0, 150.0, 30.0, "", "assumed")
    watch = Watch(replace(job("reading-alcove").shop, kerf=3.0))
    for wide, count in ((70.0, 1), (71.0, 2)):
        bars = tuple(CutBar(Bar("8 ft", 2400.0), ((f"p{k}", 2000.0),), 397.0) for k in range(2))
        strips = [Strips(wide, 28.0, (), CutBars(bars, Proof(1.0, 1.0, "")))]
        ((length, ripped),) = _boards_for(watch, strips, [row])
        assert (length, len(ripped.bars)) == (2400.0, count)


def test_pieces_of_core_alike_to_a_millimetre_are_cut_as_the_greatest() -> None:
    """Rule of the project: one letter for pieces alike; none of them comes out too small."""
    ring = ((0.0, 0.0), (500.0, 0.0), (500.0, 40.0), (0.0, 40.0))
    pieces = (Piece("a", "rib", ring, 500.4, 40.1), Piece("b", "rib", ring, 499.8, 40.4))
    (part,) = _core(made.spec(), Core(pieces, (), (), 0.0, 0.0, 0, ()))
    assert part.count == 2
    assert part.finished[:2] == (500.4, 40.4)
    assert part.rough[:2] == (525.4, 43.4)
