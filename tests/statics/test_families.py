"""The verdict: nothing passes while a family of checks is missing."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from ledgewright.statics import FAMILIES, CannotSay, Check, State
from ledgewright.statics.families import NOT_YET, Into, missing, required, verdict

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


def test_blocking_is_needed_only_where_there_is_some() -> None:
    bare = tuple(e for e in ALL if not e.family.startswith("block."))
    assert verdict(bare, (), into=STUDS) == "passes"
    assert verdict(bare, (), into=BOTH) == "cannot say"


def test_nothing_at_all_cannot_say() -> None:
    assert verdict((), (), into=STUDS) == "cannot say"


def test_ids_are_unique_and_each_is_documented() -> None:
    names = [f.id for f in FAMILIES]
    assert len(set(names)) == len(names)
    text = DOCS.read_text(encoding="utf-8")
    assert [name for name in names if f"`{name}`" not in text] == []
