"""The verdict: nothing passes while a family of checks is missing or out of scope, whichever way a shelf is judged."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import product
from pathlib import Path

import pytest

from ledgewright import stock
from ledgewright.job import Basis, Fixing
from ledgewright.layout import Frame
from ledgewright.statics import FAMILIES, CannotSay, Check, Holds, State, into
from ledgewright.statics.families import NOT_YET, Into, missing, required, verdict
from ledgewright.survey import Room
from tests.statics import made
from tests.statics.test_on_section import Case

AGAINST = (
    "rules of the verdict, written out",
    "rule of the project",
    "exact",
)

BOTH: Into = frozenset({"stud", "blocking"})
STUDS: Into = frozenset({"stud"})
BLOCKS: Into = frozenset({"blocking"})
DOCS = Path(__file__).resolve().parents[2] / "docs" / "statics.md"


def row(family: str, *, state: State = "passes", information: bool = False) -> Check:
    return Check(
        family, family, "", None, "", 0.5, 1.0, 0.5, "N", state, "in", information, "", "", ()
    )


ALL = tuple(row(f.id, information=f.kind == "information") for f in FAMILIES)


def test_all_families_present_and_passing_pass() -> None:
    assert verdict(ALL, (), into=BOTH) == "passes"


@pytest.mark.parametrize("family", [f.id for f in required(into=BOTH)])
def test_never_passes_while_a_required_family_is_missing(family: str) -> None:
    left = tuple(each for each in ALL if each.family != family)
    assert verdict(left, (), into=BOTH) == "cannot say"
    assert missing(left, (), into=BOTH) == (CannotSay(family, NOT_YET),)


@pytest.mark.parametrize("family", [f.id for f in required(into=BOTH)])
def test_one_failing_row_fails_and_one_unsaid_row_cannot_say(family: str) -> None:
    def changed(state: State) -> tuple[Check, ...]:
        return tuple(replace(e, state=state) if e.family == family else e for e in ALL)

    assert verdict(changed("fails"), (), into=BOTH) == "fails"
    assert verdict(changed("cannot say"), (), into=BOTH) == "cannot say"


def test_a_row_out_of_scope_cannot_pass() -> None:
    rows = (*ALL[1:], replace(ALL[0], scope="out"))
    assert verdict(rows, (), into=BOTH) == "cannot say"


def test_information_neither_fails_nor_is_needed() -> None:
    shown = [f.id for f in FAMILIES if f.kind == "information"]
    assert shown == ["bed.hinge"]
    failing = tuple(replace(e, state="fails") if e.family in shown else e for e in ALL)
    assert verdict(failing, (), into=BOTH) == "passes"
    assert verdict(tuple(e for e in ALL if e.family not in shown), (), into=BOTH) == "passes"


def test_a_reason_is_enough_to_keep_from_passing() -> None:
    assert verdict(ALL, (CannotSay("stab.contact", "beyond the tip"),), into=BOTH) == "cannot say"


def test_a_stud_need_not_split_where_all_rods_sit_in_blocking() -> None:
    bare = tuple(e for e in ALL if e.family != "stud.split")
    assert verdict(bare, (), into=BLOCKS) == "passes"
    assert verdict(bare, (), into=STUDS) == "cannot say"
    assert verdict(bare, (), into=BOTH) == "cannot say"
    # The studs that it hangs on bend all the same.
    for name in ("stud.bend", "stud.shear"):
        left = tuple(e for e in ALL if e.family != name)
        assert verdict(left, (), into=BLOCKS) == "cannot say"


def test_blocking_is_needed_only_where_there_is_some() -> None:
    bare = tuple(e for e in ALL if not e.family.startswith("block."))
    assert verdict(bare, (), into=STUDS) == "passes"
    assert verdict(bare, (), into=BOTH) == "cannot say"


# ---- the same of shelves that have been judged


def in_blocks(placed: tuple[Room, Frame]) -> tuple[Room, Frame]:
    """The same rods in blocks 38 high and 89 deep, each nailed through the studs it stands between."""
    room, frame = placed
    wall = room.walls[0]
    fixed = Fixing(stock.screw("nail 16d"), 3, 60.0, "through the stud", None)
    low = 1000.0 - 38.1 / 2
    members = tuple(
        replace(
            m,
            kind="blocking",
            left=m.centre - 140.0,
            right=m.centre + 140.0,
            up=(low, low + 38.1),
            fixed=fixed,
        )
        for m in wall.members
    )
    edges = ((22.0, 60.0), (340.0, 360.0), (640.0, 660.0), (940.0, 978.0))
    studs = tuple(
        replace(wall.members[0], id=f"upright{k}", left=left, right=right)
        for k, (left, right) in enumerate(edges)
    )
    return replace(room, walls=(replace(wall, members=(*members, *studs)),)), frame


Judged = tuple[Holds, Into]


@cache
def judged(route: str, basis: Basis, kind: str) -> Judged:
    placed = made.straight([200.0, 500.0, 800.0], basis=basis)
    if kind == "blocking":
        placed = in_blocks(placed)
    asked = made.demand(made.even(0.0005), single=10.0)
    held = (
        made.judged(placed, asked, basis=basis)
        if route == "rods"
        else Case(placed, asked, basis).judged(keep=False)
    )
    return held, into(*placed)


WAYS = list(product(("section", "rods"), ("nds", "ec5"), ("stud", "blocking")))


@pytest.mark.parametrize(("route", "basis", "kind"), WAYS)
def test_every_needed_family_is_answered_or_named(route: str, basis: Basis, kind: str) -> None:
    held, sits = judged(route, basis, kind)
    assert sits == {kind}
    assert held.checks
    done = {row.family for row in held.checks}
    said = {each.family for each in held.cannot_say}
    needed = {f.id for f in required(into=sits)}
    assert needed <= done | said
    assert held.verdict == verdict(held.checks, held.cannot_say, into=sits)
    if route == "section":
        assert held.cannot_say == ()
        assert ("stud.split" in done) == (kind == "stud")
        assert ("block.fix" in done) == (kind == "blocking")
    else:
        assert held.verdict != "passes"


@pytest.mark.parametrize(("route", "basis", "kind"), WAYS)
def test_of_a_shelf_that_would_pass_no_family_can_be_spared(
    route: str, basis: Basis, kind: str
) -> None:
    """Its rows all made to pass; then each family in turn taken out, out of scope, unsaid, or failing."""
    held, sits = judged(route, basis, kind)
    rows = tuple(replace(r, state="passes", scope="in") for r in held.checks)
    whole: State = "passes" if route == "section" else "cannot say"
    assert verdict(rows, (), into=sits) == whole
    for name in {r.family for r in rows if not r.information}:
        mine = [r.family == name for r in rows]
        left = tuple(r for r, own in zip(rows, mine, strict=True) if not own)
        assert verdict(left, (), into=sits) == "cannot say", name
        # One row of a family is enough.
        first = mine.index(True)
        out, unsaid, failing = (
            replace(rows[first], scope="out"),
            replace(rows[first], state="cannot say"),
            replace(rows[first], state="fails"),
        )
        for row_, expected in ((out, "cannot say"), (unsaid, "cannot say"), (failing, "fails")):
            spoiled = (*rows[:first], row_, *rows[first + 1 :])
            assert verdict(spoiled, (), into=sits) == expected, (name, row_.state)
        assert verdict(rows, (CannotSay(name, "not known"),), into=sits) == "cannot say"


@pytest.mark.parametrize(("basis", "kind"), list(product(("nds", "ec5"), ("stud", "blocking"))))
def test_a_row_at_the_edge_of_its_scope_passes_only_on_somebodys_word(
    basis: Basis, kind: str
) -> None:
    held, _ = judged("section", basis, kind)
    edge = [r for r in held.checks if r.scope == "stretched"]
    assert edge
    assert {r.state for r in edge} <= {"cannot say", "fails"}
    assert {r.state for r in held.checks if r.scope == "out"} <= {"cannot say", "fails"}


def test_nothing_at_all_cannot_say() -> None:
    assert verdict((), (), into=STUDS) == "cannot say"


def test_ids_are_unique_and_each_is_documented() -> None:
    names = [f.id for f in FAMILIES]
    assert len(set(names)) == len(names)
    text = DOCS.read_text(encoding="utf-8")
    assert [name for name in names if f"`{name}`" not in text] == []
