"""What opens a way where none goes is proven through the job file: applied, read back, tried again."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from functools import cache
from pathlib import Path
from unittest.mock import patch

import pytest

from ledgewright import judge, layout
from ledgewright.fitting import Block, Opening, Ways, openings, ways
from ledgewright.job import Edit, Spec
from ledgewright.job.edits import apply
from ledgewright.judge import Design, edits
from ledgewright.layout import Frame
from ledgewright.memo import Memo
from ledgewright.sheets.opens import opening_text
from ledgewright.statics import Check, Holds
from ledgewright.survey import Room
from tests.fitting import looked, made

AGAINST = (
    "moves and room by hand; the edited job file read back",
    "hand calculation",
    "said beside each check",
)

IN = 25.4
EXAMPLES = Path(__file__).parents[2] / "examples"
CORNER = (EXAMPLES / "stoneware-corner-first-try.toml").read_text(encoding="utf-8")
ALCOVE = (EXAMPLES / "reading-alcove.toml").read_text(encoding="utf-8")


def thing(wall: str, start: str, end: str, name: str = "pillar") -> str:
    up = '["0", "96"]'
    return (
        f'[[obstacle]]\nid = "{name}"\nwall = "{wall}"\nalong = ["{start}", "{end}"]\n'
        f'out = [0, "20"]\nup = {up}\n\n[[shelf]]\n'
    )


def worked(text: str) -> Design:
    return looked.designs(text)[0]


def opened(text: str, design: Design) -> list[tuple[str, Design]]:
    """Every opening, applied to the text of the job, read back and worked through again."""
    job = looked.job(text)
    return [(o.kind, worked(apply(text, edits(job, design.spec, o)))) for o in design.openings]


def openings_of(text: str) -> list[tuple[Opening, tuple[Design, ...], tuple[Design, ...]]]:
    """Every opening: the shelf as it is proven and judged, and as the job file so changed is read back."""
    this, (design, *_) = looked.job(text), looked.designs(text)
    with looked.unjudged():
        return [
            (
                o,
                judge.opened(this, design, o, Memo()).designs,
                looked.designs(apply(text, edits(this, design.spec, o))),
            )
            for o in design.openings
        ]


def plain(spec: Spec) -> Spec:
    """A specification without the paths of its tables, which a change may count anew."""
    rods = tuple(replace(rod, path="") for rod in spec.rods)
    return replace(spec, rods=rods, path="")


@pytest.mark.parametrize("text", ["pillar", "near corner", "own and locked", "alcove"])
def test_what_is_proven_is_what_the_changed_file_says(text: str) -> None:
    """Everything of it: legs, gaps at the ends, rods, locks, joints, the outline, the moves."""
    kinds = set()
    for opening, proven, back in openings_of(TEXTS[text]):
        kinds.add(opening.kind)
        assert [plain(d.spec) for d in proven] == [plain(d.spec) for d in back], opening
        assert [d.frame for d in proven] == [d.frame for d in back], opening
        assert [d.ways for d in proven] == [d.ways for d in back], opening
        assert ", then ".join(d.way.id for d in back if d.way) == opening.opens
        assert all(d.way for d in back), opening
    assert "split" in kinds
    assert len(kinds) > 1 or text == "alcove"


def test_the_other_section_is_no_thing_that_can_be_taken_away() -> None:
    """A stand-in for the fitting: it goes where one of the two things in its way is gone."""
    room, frame, spec = made.random_corner(3).build()
    post = replace(made.box("post", (-3000.0, -3000.0), (-2990.0, -2990.0)), wall="P")
    other = replace(layout.hung(room, spec, frame).obstacles[-1], id="other", plan=post.plan)
    full = replace(room, obstacles=(post, other))
    stuck = replace(
        ways(room, frame).ways[0], blocked=tuple(Block(o.id, 1, 1.0) for o in (post, other))
    )

    def again(here: Room, _: Frame) -> Ways:
        return Ways((stuck,), stuck.id if len(here.obstacles) < 2 else None)

    found = openings(full, spec, frame, again(full, frame), again, step=4.0, taken=frozenset())
    assert [o.thing for o in found if o.kind == "remove"] == ["post"]


def test_shorter_rods_stand_by_how_much_they_lose() -> None:
    """A stand-in for the fitting: it goes once P's rods lose 50 mm or Q's 20; offered in whole steps of 4 mm."""
    room, frame, spec = made.random_corner(3).build()
    longest = {w: max(r.projection for r in spec.rods if r.wall == w) for w in "PQ"}
    most = {"P": longest["P"] - 50.0, "Q": longest["Q"] - 20.0}
    nothing = ways(room, frame).ways[0]

    def again(_: Room, this: Frame) -> Ways:
        far = {w: max((r.projection for r in this.rods if r.wall == w), default=0.0) for w in "PQ"}
        goes = any(far[w] <= most[w] for w in "PQ")
        return Ways((nothing,), nothing.id if goes else None)

    found = openings(room, spec, frame, again(room, frame), again, step=4.0, taken=frozenset())
    shorter = [(o.rods[0][0], o.to) for o in found if o.kind == "shorten"]
    assert shorter == [(w, 4.0 * math.floor(most[w] / 4.0)) for w in "QP"]


def test_a_pillar_past_the_free_end_is_opened_by_shorter_rods_on_the_other_wall() -> None:
    """4 in of room past leg A: the slide of about 6 1/4 must shrink to under 4, so B's rods by about 2 1/4."""
    text = CORNER.replace("[[shelf]]\n", thing("A", "73 1/4", "76"), 1)
    design = worked(text)
    assert design.way is None
    found = opened(text, design)
    assert {kind for kind, _ in found} >= {"shorten", "remove"}
    assert all(after.way is not None for _, after in found)
    shorter = next(o for o in design.openings if o.kind == "shorten")
    assert set(shorter.rods) == {"B.s1", "B.s2", "B.s3"}
    assert 3 * IN < shorter.to < 4.01 * IN


@pytest.mark.parametrize("inches", [4.0, 3.875, 3.75, 3.5, 3.25, 3.0])
def test_what_goes_with_long_rods_goes_with_shorter_ones(inches: float) -> None:
    """The same moves as with the longer rods bring the section home; found also where stops fall close together."""
    design = worked_before()
    rods = tuple(
        replace(r, projection=min(r.projection, inches * IN)) if r.wall == "B" else r
        for r in design.frame.rods
    )
    assert ways(design.room, replace(design.frame, rods=rods)).chosen is not None


@cache
def worked_before() -> Design:
    return worked(CORNER.replace("[[shelf]]\n", thing("A", "73 1/4", "76"), 1))


def test_the_longest_stick_out_that_goes_is_offered() -> None:
    text = CORNER.replace("[[shelf]]\n", thing("A", "73 1/4", "76"), 1)
    design = worked(text)
    job = looked.job(text)
    shorter = next(o for o in design.openings if o.kind == "shorten")
    longer = [
        Edit(e.path, f'"{shorter.to + 3.175:.3f} mm"') for e in edits(job, design.spec, shorter)
    ]
    assert worked(apply(text, longer)).way is None


def test_a_thing_in_front_of_a_straight_shelf_is_opened_by_taking_it_away() -> None:
    post = (
        '[[obstacle]]\nid = "post"\nwall = "back"\nalong = [500, 560]\nout = [300, 360]\n'
        "up = [0, 2400]\n\n[[shelf]]\n"
    )
    text = ALCOVE.replace("[[shelf]]\n", post, 1)
    design = worked(text)
    assert design.way is None
    found = opened(text, design)
    assert "remove" in {kind for kind, _ in found}
    assert all(after.way is not None for _, after in found)
    shorter = [o for o in design.openings if o.kind == "shorten"]
    # 285 deep, the post stands 300 out: only rods that reach under 15 mm could pass, and none so short is offered
    assert shorter == []


def test_nothing_is_offered_where_a_way_goes() -> None:
    assert worked(CORNER).openings == ()


@pytest.mark.parametrize("wall", ["A", "B"])
def test_edits_are_plain_toml_that_keeps_the_rest_of_the_file(wall: str) -> None:
    text = CORNER.replace("[[shelf]]\n", thing("A", "73 1/4", "76"), 1)
    design = worked(text)
    job = looked.job(text)
    for opening in design.openings:
        made = apply(text, edits(job, design.spec, opening))
        kept = [line for line in text.splitlines() if line.startswith("#") or wall in line]
        lost = [line for line in kept if line not in made.splitlines()]
        assert len(lost) <= 4, json.dumps(lost)


NEAR_CORNER = (
    CORNER.replace('studs = [["14 11/16"', 'studs = [["3", "4 1/2"], ["14 11/16"', 1)
    .replace('at = ["A 15 7/16", ', 'at = ["A 3 3/4", ', 1)
    .replace(
        'along = ["53 1/8", "92 5/8"]\nout = [0, "3/4"]',
        'along = ["53 1/8", "92 5/8"]\nout = [0, "5"]',
        1,
    )
)
"""B's rods reach 6 in, so the slide onto them is over 6 in; a rod of A 3 3/4 from the corner has no room for it in the
section, one at 15 7/16 has. A casing 5 in proud beside leg B leaves no way in that slides less."""

OWN_AND_LOCKED = NEAR_CORNER.replace(
    "[[shelf.rod]]", '[[shelf.rod]]\nat = "A 3 3/4"\nprojection = "8"\n\n[[shelf.rod]]', 1
).replace(
    'lock = { kind = "grub screw", at = ["A 31 9/16"',
    'lock = { kind = "grub screw", at = ["A 3 3/4"',
    1,
)


TEXTS = {
    "pillar": CORNER.replace("[[shelf]]\n", thing("A", "73 1/4", "76"), 1),
    "near corner": NEAR_CORNER,
    "own and locked": OWN_AND_LOCKED,
    "alcove": ALCOVE.replace("[[shelf]]\nid", '[[shelf]]\nends = "tight"\nid', 1),
}


def of_kind(design: Design, kind: str) -> list[Opening]:
    return [o for o in design.openings if o.kind == kind]


def test_a_rod_too_near_the_corner_for_the_slide_is_moved_to_the_free_stud() -> None:
    text = NEAR_CORNER
    design = worked(text)
    assert design.way is None
    assert "the slot of rod A1 breaks out of the section" in {
        b.by for way in design.ways.ways for b in way.blocked
    }
    (move,) = of_kind(design, "move")
    job = looked.job(text)
    assert opening_text(job, design, move, frozenset()).startswith(
        'move rod A1 to the free stud at 15 7/16" on wall A; then it goes on, wall A first'
    )
    made = edits(job, design.spec, move)
    after = worked(apply(text, made))
    assert after.way is not None
    assert len(after.frame.rods) == len(design.frame.rods)


def test_a_moved_rod_keeps_its_own_table_and_its_lock() -> None:
    design = worked(OWN_AND_LOCKED)
    job = looked.job(OWN_AND_LOCKED)
    (move,) = of_kind(design, "move")
    after = worked(apply(OWN_AND_LOCKED, edits(job, design.spec, move)))
    moved = next(r for r in after.spec.rods if r.member == move.member)
    assert moved.projection == pytest.approx(8 * IN)
    assert move.member in after.spec.lock.rods
    assert len(after.spec.lock.rods) == len(design.spec.lock.rods)


def test_a_locked_rod_is_left_out_with_its_lock() -> None:
    design = worked(OWN_AND_LOCKED)
    job = looked.job(OWN_AND_LOCKED)
    (left,) = of_kind(design, "leave out")
    after = worked(apply(OWN_AND_LOCKED, edits(job, design.spec, left)))
    assert after.way is not None
    assert set(after.spec.lock.rods) == set(design.spec.lock.rods) - set(left.rods)


def test_no_rod_is_moved_where_another_shelf_has_one() -> None:
    """The same shelf, hung lower too, with a rod in the one free stud."""
    at = NEAR_CORNER.index("[[shelf]]")
    shelf = NEAR_CORNER[at : NEAR_CORNER.index("[shop]")]
    lower = (
        shelf.replace('id = "showroom"', 'id = "lower"')
        .replace('top = "54 3/8"', 'top = "20"')
        .replace('"A 3 3/4"', '"A 15 7/16"')
    )
    text = NEAR_CORNER.replace("[shop]", lower + "[shop]", 1)
    assert of_kind(worked(text), "move") == []


def test_no_place_on_a_wall_that_nobody_may_drill_is_told() -> None:
    design = worked(NEAR_CORNER)
    job = looked.job(NEAR_CORNER)
    (move,) = of_kind(design, "move")
    said = opening_text(job, design, move, frozenset({"A"}))
    assert said.startswith("move rod A1 to another member of its wall; then")


@pytest.mark.parametrize(
    "text", [CORNER.replace("[[shelf]]\n", thing("A", "73 1/4", "76"), 1), NEAR_CORNER]
)
def test_a_corner_in_two_sections_goes_on_where_one_does_not(text: str) -> None:
    design = worked(text)
    (split,) = of_kind(design, "split")
    assert design.openings[-1] is split
    job = looked.job(text)
    (edit,) = made = edits(job, design.spec, split)
    assert (edit.path, edit.text) == ("shelf.showroom.sections", "2")
    assert "parted at the corner" in opening_text(job, design, split, frozenset())
    after = looked.designs(apply(text, made))
    assert split.opens == ", then ".join(d.way.id for d in after if d.way)
    assert len(after) == 2
    assert all(d.way for d in after)


def test_a_shelf_scribed_to_both_returns_is_parted_between_its_middle_rods() -> None:
    """Returns that close in towards the mouth shut one piece out. Studs at 481.5 and 883.25: half way is 682.4."""
    text = ALCOVE.replace("[[shelf]]\nid", '[[shelf]]\nends = "tight"\nid', 1)
    design = worked(text)
    assert design.way is None
    (split,) = of_kind(design, "split")
    job = looked.job(text)
    made = edits(job, design.spec, split)
    assert [(e.path, e.text) for e in made] == [
        ("shelf.reading.sections", "2"),
        ("shelf.reading.joint", '"back 682"'),
    ]
    assert "parted at 682 mm on wall B (back) half way" in opening_text(
        job, design, split, frozenset()
    )
    assert "682" not in opening_text(job, design, split, frozenset({"back"}))
    after = looked.designs(apply(text, made))
    assert len(after) == 2
    assert all(d.way for d in after)
    assert all(len(d.frame.rods) >= 2 for d in after)


def test_a_section_is_not_parted_again() -> None:
    """A wall of boxes right in front of the alcove stops both sections alike."""
    boxes = (
        '[[obstacle]]\nid = "boxes"\nwall = "back"\nalong = [0, 1187]\nout = [300, 360]\n'
        "up = [0, 2400]\n\n[[shelf]]\n"
    )
    text = ALCOVE.replace("[[shelf]]\n", boxes, 1)
    assert of_kind(worked(text), "split") == []
    for design in looked.designs(text.replace("sections = 1", "sections = 2")):
        assert {o.kind for o in design.openings} <= {"shorten", "leave out", "remove"}


def judged_as(text: str, holds: Holds) -> judge.Opened:
    """The first opening of a job, were the shelf so changed judged like this."""
    this, design = looked.job(text), looked.designs(text)[0]
    with patch.object(judge, "_holds", lambda *_, **__: holds):
        return judge.opened(this, design, design.openings[0], Memo())


def test_a_shelf_that_goes_on_need_not_hold() -> None:
    """The worst row that fails is named; a row for information never is."""
    row = Check(
        *("x", "skin.bend", "Skin bends", None, "", 2.0, 1.0, 2.0, "MPa"),
        *("fails", "in", False, "", "", ()),
    )
    rows = (
        row,
        replace(row, title="Glue shears", ratio=3.0),
        replace(row, title="Told only", ratio=9.0, information=True),
    )
    found = judged_as(NEAR_CORNER, replace(looked.BARE, verdict="fails", checks=rows))
    assert (found.state, found.why, found.ratio) == ("fails", "Glue shears", 3.0)
    assert judged_as(NEAR_CORNER, replace(looked.BARE, verdict="passes")).state == "passes"
    assert judged_as(NEAR_CORNER, looked.BARE).state == "cannot say"


def test_a_shelf_that_shares_studs_is_never_told_to_pass() -> None:
    """The same shelf hung lower on the same studs: loads add, and only the one is judged."""
    at = NEAR_CORNER.index("[[shelf]]")
    shelf = NEAR_CORNER[at : NEAR_CORNER.index("[shop]")]
    lower = shelf.replace('id = "showroom"', 'id = "lower"').replace('top = "54 3/8"', 'top = "20"')
    text = NEAR_CORNER.replace("[shop]", lower + "[shop]", 1)
    found = judged_as(text, replace(looked.BARE, verdict="passes"))
    assert found.state == "cannot say"
    assert "lower" in found.why
