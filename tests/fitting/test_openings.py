"""What opens a way where none goes is proven through the job file: applied, read back, tried again."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from ledgewright.fitting import ways
from ledgewright.job import Edit
from ledgewright.job.edits import apply
from ledgewright.job.reading import read
from ledgewright.judge import Design, edits
from ledgewright.memo import Memo
from ledgewright.plan import full

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
    job = read(text, "job.toml").job
    assert job is not None
    return full(job, Memo()).designs[0]


def opened(text: str, design: Design) -> list[tuple[str, Design]]:
    """Every opening, applied to the text of the job, read back and worked through again."""
    job = read(text, "job.toml").job
    assert job is not None
    return [(o.kind, worked(apply(text, edits(job, design.spec, o)))) for o in design.openings]


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
    job = read(text, "job.toml").job
    assert job is not None
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
    job = read(text, "job.toml").job
    assert job is not None
    for opening in design.openings:
        made = apply(text, edits(job, design.spec, opening))
        kept = [line for line in text.splitlines() if line.startswith("#") or wall in line]
        lost = [line for line in kept if line not in made.splitlines()]
        assert len(lost) <= 4, json.dumps(lost)
