"""An L whose legs are not equally deep, from the file to its pages: what is carried, drawn, chosen and moved."""

from __future__ import annotations

import math
import tomllib
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from shapely.geometry import Polygon

from ledgewright.choose import ground
from ledgewright.choose.doors import _shallower
from ledgewright.choose.ground import as_is
from ledgewright.choose.model import Tried
from ledgewright.desk.sketches import sketched
from ledgewright.job import Even, Job
from ledgewright.job.reading import read
from ledgewright.judge import on_model
from ledgewright.memo import Memo
from ledgewright.plan import Plan, looked, sketch
from ledgewright.sheets.quote import choices_sheet, quote_sheet
from ledgewright.sheets.shopfloor import plan_sheet
from ledgewright.sheets.shopside import side
from ledgewright.statics import NoTest
from ledgewright.statics.on_section import ready
from tests import jobs
from tests.jobs import EXAMPLES

AGAINST = (
    "a depth of its own that is the shelf's gives the same shelf; loads add up to what lies on the outline",
    "equality; hand calculation",
    "1e-9; loads 1e-6",
)
NAME = "stoneware-corner-first-try"
TEXT = (EXAMPLES / f"{NAME}.toml").read_text(encoding="utf-8")
PRICES = (EXAMPLES / "prices-usd.toml").read_text(encoding="utf-8")
LEG = '{ wall = "B", to = "50 1/8" }'


def text(depth: str | None) -> str:
    assert LEG in TEXT
    return (
        TEXT if depth is None else TEXT.replace(LEG, LEG.replace(" }", f', depth = "{depth}" }}'))
    )


@cache
def job(depth: str | None) -> Job:
    made = read(text(depth), f"{NAME}.toml", PRICES).job
    assert made is not None
    return made


@cache
def plan(depth: str | None) -> Plan:
    return looked(job(depth), Memo())


def test_a_depth_of_its_own_that_is_the_shelfs_changes_nothing() -> None:
    one, other = (job(depth) for depth in (None, "10 1/2"))
    assert one.demands == other.demands
    frames = [[d.frame for d in sketch(each, Memo()).designs] for each in (one, other)]
    assert frames[0] == frames[1]


def test_what_lies_on_it_is_its_area_times_what_lies_on_each_of_it() -> None:
    """No contents named: 50 psf of the default on what both skins cover, edging on it or not."""
    bare = job("8 1/2")
    demand = bare.demands[0]
    even = Even("all", 0.0024, None, None, None, None, "years", assumed=True)
    asked = replace(bare, demands=(replace(demand, loads=(even,)),))
    for design in sketch(asked, Memo()).designs:
        made = on_model(asked, design, Memo())
        assert not isinstance(made, NoTest)
        shelf = ready(*made, Memo(), keep=False, box=False)
        assert not isinstance(shelf, tuple)
        live = [a for a in shelf.acting.atoms if a.kind == "live"]
        covered = Polygon(design.frame.outline).area
        front = sum(math.dist(*leg.front) * design.spec.edging_thick for leg in design.frame.legs)
        total = float(np.sum([a.force for a in live]))
        assert total == pytest.approx(0.0024 * covered, rel=0.1)
        assert 0.0024 * (covered - 2 * front) < total < 0.0024 * covered * 1.001


def test_the_pages_tell_both_depths() -> None:
    made = plan("8 1/2")
    shop = side(made)
    assert not isinstance(shop, str)
    for sheet in (quote_sheet(shop), choices_sheet(shop, None)):
        said = repr(sheet)
        assert '10 1/2" deep on wall A and 8 1/2" deep on wall B' in said
    facts = {f.label: f.value for f in plan_sheet(made, made.designs[0], None).facts}
    assert facts["Depth on wall A"] == '10 1/2"'
    assert facts["Depth on wall B"] == '8 1/2"'
    as_asked = jobs.plan(NAME)
    plain = plan_sheet(as_asked, as_asked.designs[0], None).facts
    assert [f.value for f in plain if f.label.startswith("Depth")] == ['10 1/2"']


@pytest.mark.parametrize("turned", [False, True])
def test_the_front_edge_of_each_leg_is_moved_by_what_says_its_depth(turned: bool) -> None:
    """The file may have the right leg first: a handle writes into the row of its own wall."""
    written = text("8 1/2")
    if turned:
        start = written.index("legs = [")
        line = written[start : written.index("\n", start)]
        a, b = line.removeprefix("legs = [").removesuffix("]").split("}, {")
        written = written.replace(line, f"legs = [{{{b}, {a}}}]".replace("}}", "}"))
    made = read(written, f"{NAME}.toml", PRICES).job
    assert made is not None
    document = tomllib.loads(written)
    seen = sketched(sketch(made, Memo()), document)
    handles = [h for d in seen["drawings"] for h in d["handles"] if "Front edge" in h["label"]]
    fields = {h["label"]: h["axes"][0]["field"] for h in handles}
    row = next(k for k, leg in enumerate(document["shelf"][0]["legs"]) if leg["wall"] == "B")
    assert fields["Front edge"] == "f:shelf.showroom.depth"
    assert fields["Front edge on B"] == f"r:shelf.showroom.legs:{row}:3"


def test_a_shallower_shelf_is_shallower_on_both_legs() -> None:
    on = ground(text("8 1/2"), f"{NAME}.toml", PRICES, job("8 1/2"), "showroom")
    start = as_is(on)
    tried = Tried(start, (), (), "fails", None, None, (), (), "", ())
    depths = {e.path: e.text for e in _shallower(on, tried, 25.4) if e.path.endswith("depth")}
    assert depths == {"shelf.showroom.depth": '"9 1/2"', "shelf.showroom.legs[1].depth": '"7 1/2"'}


@pytest.mark.parametrize(("wall", "to"), [("A", "69 1/4"), ("B", "50 1/8")])
def test_in_two_sections_each_depth_the_file_states_has_one_handle(wall: str, to: str) -> None:
    """Whichever leg has a depth of its own, and hangs first or second."""
    leg = f'{{ wall = "{wall}", to = "{to}"'
    assert leg in TEXT
    written = TEXT.replace(leg, f'{leg}, depth = "10"').replace("sections = 1", "sections = 2")
    made = read(written, f"{NAME}.toml", PRICES).job
    assert made is not None
    seen = sketched(sketch(made, Memo()), tomllib.loads(written))
    labels = [h["label"] for d in seen["drawings"] for h in d["handles"]]
    assert sorted(each for each in labels if "Front edge" in each) == [
        "Front edge",
        f"Front edge on {wall}",
    ]
