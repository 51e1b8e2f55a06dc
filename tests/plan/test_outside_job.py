"""A whole job round an outside corner on bowed walls: read, laid, fitted, held, and told on its pages."""

from __future__ import annotations

import math
from itertools import pairwise
from pathlib import Path

import pytest
import shapely
from shapely.geometry import LineString, Point, Polygon

from ledgewright.draw import Polyline
from ledgewright.job import Job
from ledgewright.job.reading import read
from ledgewright.judge import Design
from ledgewright.plan import Plan, full, sketch
from ledgewright.sheets import cuts, handover, pages, pictures, scribed, strips
from ledgewright.sheets.model import FittingSheet
from ledgewright.sheets.say import Say
from ledgewright.sheets.views.standing import BLOCK_IN, block_places
from ledgewright.statics import ONE, Down, Pile, Proof
from tests.jobs import MEMO

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "stoneware-corner-first-try.toml"


def outside() -> Plan:
    return full(turned(), MEMO, limits=False)


def turned(sections: int = 1) -> Job:
    """The showroom's walls turned about, longer on A so that the slide stays in the shelf; nothing beside them."""
    text = EXAMPLE.read_text(encoding="utf-8")
    before, _, after = text.partition("[[obstacle]]")
    text = before + after[after.index("[[shelf]]") :]
    for old, new in (
        ('turn = "inside"', 'turn = "outside"'),
        ('taped = [["48", "36", "60 9/16"], ["60", "45", "75 11/16"]]', 'angle = "90.5 deg"'),
        ('wall = "A", to = "69 1/4"', 'wall = "A", to = "78"'),
        ("sections = 1", f"sections = {sections}"),
    ):
        assert text.count(old) == 1
        text = text.replace(old, new)
    found = read(text, "outside.toml")
    assert found.job is not None, found.findings
    return found.job


def test_a_job_round_an_outside_corner_is_worked_through_to_its_pages() -> None:
    plan = outside()
    (design,) = plan.designs
    assert design.frame.turn == "outside"
    assert design.way is not None
    assert design.core is not None
    cut = shapely.union_all([Polygon(c.plan) for c in design.way.channels])
    assert max(Polygon(p.plan).intersection(cut).area for p in design.core.pieces) < 1e-6
    sheet = pages(plan, {})["fitting showroom"]
    assert isinstance(sheet, FittingSheet)
    assert len(sheet.moves) == len(design.way.moves)
    assert sheet.moves[0].look[0].startswith("Begin ")


def test_a_load_test_says_of_a_place_on_the_overhang_that_it_is_past_the_corner() -> None:
    """Geometry: the tape of A hooks in the corner and runs left, so 171.45 to the right of it is -6 3/4 in on it."""
    plan = outside()
    (design,) = plan.designs
    say = Say.of(plan.job.meta)
    reads = (Down("A", 171.45, "A1", 0.1), Down("A", -254.0, "A1", 0.1))
    proof = Proof(1.0, (Pile(ONE, "A", 171.45, 190.5, 10.0),), "", 0.5, "", (), reads, ())
    assert handover.put_on(design, proof, say) == (
        (ONE, 'A, -6 3/4" (past the corner)', '7 1/2"', "22 lb"),
    )
    table = handover._readings(design, proof, say)
    assert [row[0] for row in table.rows] == ["A -6 3/4", "A 10"]
    (told,) = handover._overhang(design, proof)
    assert told.startswith("Wall A: a place with a minus lies past the corner")


def test_past_an_outside_corner_nothing_is_scribed_and_no_block_is_taped() -> None:
    """Geometry: wall A ends at 0 in the corner; the section on it goes on past that by the other's depth, 10 1/2 in."""
    job = turned(2)
    say = Say.of(job.meta)
    first, second = sketch(job, MEMO).designs
    leg, wall = first.frame.legs[0], first.room.wall("A")
    assert leg.end > wall.end + 10.5 * 25.4
    (said,) = cuts.past_corner(first, say)
    assert said.startswith(
        "Past the corner, from 0 on the tape of wall A, there is no wall: the other section butts"
    )
    assert cuts.past_corner(second, say) == ()
    assert max(block_places(first)) == wall.end - BLOCK_IN
    plan = sketch(job, MEMO)
    sheet = scribed.scribe_sheet(plan, first, scribed.Scribing(8.0, 11.0, ()), None)
    assert said in sheet.passes[0].lines
    assert said in strips.template_sheet(plan, first, None).after


def test_the_end_that_turns_an_outside_corner_says_how_far_off_square_it_is_cut() -> None:
    """Geometry: it runs along the other wall, 90.5 degrees of solid: 10.5 tan(0.5 deg) = 0.092 in, 3/32 shorter."""
    job = turned(2)
    first, second = sketch(job, MEMO).designs
    say = Say.of(job.meta)
    (said,) = cuts.joint_ends(first, say)
    assert said.startswith(
        'Right end, past the corner: cut 0.5 deg off square, the shelf 3/32" shorter at the front'
    )
    (other,) = cuts.joint_ends(second, say)
    assert other.startswith("Left end, against section 1")
    assert said.endswith("skins, core and edging alike, their sizes over all.")


def test_what_goes_to_the_saw_ends_at_the_angle_that_the_page_tells() -> None:
    """Geometry: 0.5 degrees off square: the finished outline, the skins, and the core behind the edging alike."""
    plan = sketch(turned(2), MEMO)
    first = plan.designs[0]
    layers = dict(pictures.cutting(plan)[f"core_map {first.spec.id}"])
    (outline,), (skin,), core = (
        [Polygon(line.points) for line in layers[name] if isinstance(line, Polyline)]
        for name in ("OUTLINE", "SKIN", "CORE")
    )
    edging = first.spec.edging_thick
    (leg,) = first.frame.legs
    end = LineString([leg.front[1], leg.back[-1]])
    assert off_square(outline, end, 0.0) == pytest.approx(0.5, abs=1e-6)
    assert off_square(skin, end, edging) == pytest.approx(0.5, abs=1e-6)
    behind = [p for p in core if p.distance(end) < edging + 1e-3]
    # The front strip, the end strip and the last of the back strips.
    assert len(behind) == 3
    for piece in behind:
        assert off_square(piece, end, edging) == pytest.approx(0.5, abs=1e-6)
    assert skin.area + end_and_fronts(outline, first, edging) == pytest.approx(
        outline.area, abs=1e-3
    )


def off_square(shape: Polygon, end: LineString, off: float) -> float:
    """The angle to the square of wall A, which runs along x, of the edge that lies so far from an end (degrees)."""
    ring = list(shape.exterior.coords)
    edge = max(
        (
            (a, b)
            for a, b in pairwise(ring)
            if all(abs(end.distance(Point(p)) - off) < 1e-3 for p in (a, b))
        ),
        key=lambda pair: math.dist(*pair),
    )
    (x0, y0), (x1, y1) = edge
    return abs(math.degrees(math.atan((x1 - x0) / (y1 - y0))))


def end_and_fronts(outline: Polygon, design: Design, edging: float) -> float:
    """Area of an outline within the edging of its front and of its two ends: by a polygon library alone."""
    (leg,) = design.frame.legs
    lines = [leg.front, (leg.front[0], leg.back[0]), (leg.front[1], leg.back[-1])]
    strips = []
    for a, b in lines:
        long = [(11 * p[0] - 10 * q[0], 11 * p[1] - 10 * q[1]) for p, q in ((a, b), (b, a))]
        strips.append(LineString(long).buffer(edging, cap_style="flat"))
    return float(shapely.union_all(strips).intersection(outline).area)
