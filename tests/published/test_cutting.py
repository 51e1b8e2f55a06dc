"""Published cutting instances with known values (data/cutting.json, each with its source and how it was confirmed).

One sheet by straight cuts through, copies unlimited or counted, fixed or turned; bars; and the small shop cases with
kerf, grain and pinwheels that were derived outside the project. The longer list is run by bench/cutting.py. An answer
counts only if its proof is closed; how it lies is looked at in tests/shop/test_nest.py.
"""

from __future__ import annotations

import json
from typing import Any

import pytest

from ledgewright.shop.nest import (
    Bar,
    Leaf,
    Node,
    Piece,
    Sheet,
    cut_up,
    lengths,
    most_valuable,
    most_valuable_free,
    nest,
    plates,
    unlimited,
)
from tests.published.rows import DATA

AGAINST = (
    "published cutting instances (OR-Library, Fayard, Hifi and Zissimopoulos, BPPLIB) and derived shop cases",
    "published optima, most re-solved outside the project; see the source of each row",
    "exact",
)

CASES: list[dict[str, Any]] = json.loads((DATA / "cutting.json").read_text(encoding="utf-8"))
STRAIGHT = [each for each in CASES if each["kind"] == "straight cuts"]
UNLIMITED = [each for each in STRAIGHT if each["copies"] == "unbounded"]
COUNTED = [each for each in STRAIGHT if each["copies"] != "unbounded"]
BARS = [each for each in CASES if each["kind"] == "bars"]


def shop(name: str) -> dict[str, Any]:
    (found,) = (each for each in CASES if each["id"] == name)
    return found


def pieces(case: dict[str, Any]) -> list[Piece]:
    return [
        Piece(str(k), float(l), float(w), most, case["turns"], float(value))
        for k, (l, w, value, most) in enumerate(case["pieces"])
    ]


def leaves(node: Node) -> list[Piece]:
    if isinstance(node, Leaf):
        return [node.piece] if node.piece else []
    return [*leaves(node.near), *leaves(node.far)]


@pytest.mark.parametrize("case", UNLIMITED, ids=[each["id"] for each in UNLIMITED])
def test_a_sheet_with_any_number_of_copies_is_worth_what_is_published(case: dict[str, Any]) -> None:
    found = unlimited(pieces(case), Sheet("sheet", *case["sheet"]))
    assert found.best == case["answer"]
    assert sum(p.worth for p in leaves(cut_up(found))) == case["answer"]


@pytest.mark.parametrize("case", COUNTED, ids=[each["id"] for each in COUNTED])
def test_a_sheet_with_counted_copies_is_worth_what_is_published(case: dict[str, Any]) -> None:
    wanted = pieces(case)
    found = most_valuable(plates(wanted, [Sheet("sheet", *case["sheet"])]))
    assert found.found == found.bound == case["answer"]
    cut = [p.name for _, tree in found.trees for p in leaves(tree)]
    assert sum(wanted[int(name)].worth for name in cut) == case["answer"]
    assert all(cut.count(p.name) <= (p.count or 0) for p in wanted)


@pytest.mark.parametrize("case", BARS, ids=[each["id"] for each in BARS])
def test_lengths_come_out_of_as_few_bars_as_is_published(case: dict[str, Any]) -> None:
    wanted = [(str(k), float(size)) for k, size in enumerate(case["pieces"])]
    found = lengths(wanted, [Bar("bar", float(case["bar"]))])
    assert found.proof.proven
    assert len(found.bars) == found.proof.found == case["answer"]
    assert sorted(each for bar in found.bars for each in bar.pieces) == sorted(wanted)
    assert all(sum(size for _, size in bar.pieces) <= case["bar"] for bar in found.bars)


@pytest.mark.parametrize("name", ["kerf1d-exact", "kerf1d-over"])
def test_the_last_piece_of_a_bar_needs_no_kerf(name: str) -> None:
    case = shop(name)
    wanted = [(str(k), size) for k, size in enumerate(case["pieces"])]
    found = lengths(wanted, [Bar("bar", case["stock"])], kerf=case["kerf"])
    assert found.proof.proven
    assert len(found.bars) == case["answer_bars"]


def on_sheets(case: dict[str, Any], *, turns: bool, free: bool) -> int:
    wanted = [Piece(str(k), l, w, 1, turns) for k, (l, w) in enumerate(case["pieces"])]
    found = nest(
        wanted,
        [Sheet("sheet", *case["sheet"])],
        rule="free" if free else "straight cuts",
        kerf=case["kerf"],
    )
    assert found.proof.proven
    assert found.left == ()
    return len(found.layouts)


def test_quarters_of_a_sheet_come_out_if_the_kerf_is_taken_off_them() -> None:
    case = shop("kerf2d-four-exact")
    assert on_sheets(case, turns=False, free=False) == case["answer_sheets"]


def test_nominal_quarters_of_a_sheet_do_not_come_out_of_one() -> None:
    case = shop("kerf2d-nominal-halves")
    for turns, key in ((False, "grain_fixed"), (True, "rotation_allowed")):
        assert on_sheets(case, turns=turns, free=False) == case["answer_sheets"][key]
        one = [Piece(str(k), l, w, 1, turns, 1.0) for k, (l, w) in enumerate(case["pieces"])]
        made = plates(one, [Sheet("sheet", *case["sheet"])], kerf=case["kerf"])
        assert most_valuable(made).found == case["answer_max_pieces_per_sheet"][key]


def test_the_smallest_pinwheel_fills_its_sheet_only_if_freely_placed() -> None:
    case = shop("pinwheel-5")
    wanted = [Piece(str(k), l, w) for k, (l, w) in enumerate(case["pieces"])]
    sheet = Sheet("sheet", *case["sheet"])
    found = most_valuable(plates(wanted, [sheet]))
    assert found.found == found.bound == case["answer"]["guillotine"]
    worth, placed = most_valuable_free(wanted, sheet)
    assert worth == sum(p.length * p.width for p in placed) == case["answer"]["free"]


def test_a_pinwheel_needs_two_sheets_of_a_saw_and_one_of_a_router() -> None:
    case = shop("pinwheel-shop")
    assert on_sheets(case, turns=False, free=False) == case["answer"]["guillotine_sheets"]
    assert on_sheets(case, turns=False, free=True) == case["answer"]["free_sheets"]
    one = [Piece(str(k), l, w, 1, value=1.0) for k, (l, w) in enumerate(case["pieces"])]
    found = most_valuable(plates(one, [Sheet("sheet", *case["sheet"])]))
    assert found.found == case["answer"]["guillotine_max_pieces_on_one_sheet"]
