"""A limit holds for contents against the wall of a deep L, where they part skin and core, and doubt is of that too."""

from __future__ import annotations

from dataclasses import replace

import pytest

from ledgewright.doubt import spread
from ledgewright.job import Flush
from ledgewright.job.reading import read
from ledgewright.judge import on_model
from ledgewright.memo import Memo
from ledgewright.plan import check
from ledgewright.statics import (
    NOMINAL,
    Given,
    Loading,
    LoadLimit,
    NoTest,
    Stood,
    load_limit,
)

AGAINST = (
    "an L 400 mm deep whose limit came of contents at the front alone: contents over all its depth failed below it",
    "a checking engineer's finding; own consistency, no outside figure",
    "2 %",
)

WALL = """
[[wall]]
id = "{id}"
tape_from = "{hook}"
length = 900
height = 2400
line = [[0, 10], [900, 10]]
depth_to_wood = 15
lining = [["plasterboard", 15]]
studs = {studs}
framing = {{ of = "C24 47x150" }}
known = {{ how = "opened it", on = 2026-11-10, bearing = "no", services = "none" }}
"""
JOB = (
    'format = 1\nunits = "mm"\nbasis = "ec5"\n[job]\nname = "deep corner"\n'
    + WALL.format(id="A", hook="right", studs="[[250, 297], [650, 697]]")
    + WALL.format(id="B", hook="left", studs="[[450, 497], [750, 797]]")
    + """
[[corner]]
walls = ["A", "B"]
taped = [[600, 800, 1000]]
[[shelf]]
id = "deep"
top = 1500
depth = 400
legs = [{ wall = "A", to = 800 }, { wall = "B", to = 860 }]
skin_top = { of = "birch ply 18", joint = "one piece" }
skin_bottom = { of = "birch ply 18", joint = "one piece" }
core = { of = "softwood", thick = 21, strip = 60, rib = 45, max_span = 200 }
single = "2 kg"
edging = { of = "oak", thick = 15 }
lock = { kind = "grub screw" }
[shelf.accepted]
by = "an engineer"
on = 2026-11-16
rows = ["bed.edge", "stud.split", "stud.side", "bond.pull", "hold.pull", "skin.bear", "glue.peel"]
[shelf.rods]
stock = "round 20 S235"
embedment = 125
projection = 340
hole = 23
adhesive = "epoxy thickened"
clearance = { up = 1.0, side = 2, end = 12 }
at = ["A 273.5", "A 673.5", "B 473.5", "B 773.5"]
[[shelf.rod]]
at = "B 473.5"
projection = 200
[[shelf.rod]]
at = "B 773.5"
projection = 200
[[shelf.load]]
kind = "even"
id = "books"
weight = "8 kg/m"
[site]
temperature = "16 C"
"""
)


def test_a_limit_holds_against_the_wall_and_doubt_is_of_that() -> None:
    made = read(JOB, "deep.toml")
    assert made.job is not None, made.findings
    memo = Memo()
    (design,) = check(made.job, memo, opens=False)
    model = on_model(made.job, design, memo)
    assert not isinstance(model, NoTest)
    limit = load_limit(*model, memo)
    assert isinstance(limit, LoadLimit)
    assert limit.flush == "back"

    def worst(flush: Flush, even: float) -> float:
        loading = Loading.of(*model, memo, flush)
        ratio = loading.full(NOMINAL, even) if loading else None
        assert ratio is not None
        return ratio

    assert worst("front", limit.even) < worst("back", limit.even) <= 1 + 1e-9
    assert worst("back", 1.02 * limit.even) > 1
    # Ranges of the limit are of the shelf under what it stops at: else no doubt would lower it.
    seen: list[Flush] = []

    def noted(given: Given, stood: Stood, memo: Memo, flush: Flush = "front") -> None:
        seen.append(flush)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Loading, "of", noted)
        spread(made.job, replace(design, holds=replace(design.holds, load_limit=limit)), memo)
    assert seen == ["back"]
