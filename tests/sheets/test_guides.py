"""Block, ledger and comb at true size, read back from the PDF's own paths; told for walls that may be drilled alone."""

from __future__ import annotations

import json
import math
from functools import cache
from io import StringIO
from itertools import pairwise

import jsonschema
import numpy as np
import pytest
from ezdxf.filemanagement import read as read_dxf

from ledgewright import draw
from ledgewright.plan import Plan, full
from ledgewright.sheets import guide_sheet, guide_tiles, pictures
from ledgewright.sheets.pages import block, pages
from ledgewright.sheets.press import press, press_tiles
from ledgewright.sheets.schemas import SCHEMAS
from ledgewright.sheets.siting import site_document, site_text
from tests import jobs
from tests.sheets import paper
from tests.sheets.test_on_site import alcove
from tests.sheets.test_tiles import PAPERS, crosses
from tests.site.test_guide import CORNER, IN, STUDS

SIZES = {
    (CORNER, "A"): (0.75 * IN, 0.625 * IN),
    (CORNER, "B"): (0.75 * IN, 0.625 * IN),
    ("reading-alcove", "back"): (18.0, 16.0),
}
"""Hole and bar of the scenes (mm)."""
Ring = tuple[float, float, float]


@cache
def plan(name: str) -> Plan:
    return full(jobs.job(name), jobs.MEMO, limits=False)


@cache
def made(name: str, wall: str) -> dict[str, bytes]:
    whole = plan(name)
    (found,) = ((d, g) for _, d, g in guide_tiles.guided(whole) if g.wall == wall)
    sets = guide_tiles.tile_set(whole, *found), guide_tiles.long_sheets(whole, *found)
    return press_tiles(block(whole), sets[0], PAPERS, sets[1])


def circles(sheet: paper.Sheet) -> list[Ring]:
    """Closed round paths of curves: middle and diameter. Control points of a circle stay in its square."""
    found = []
    for stroke in sheet.strokes:
        xs, ys = [x for x, _ in stroke], [y for _, y in stroke]
        wide, high = max(xs) - min(xs), max(ys) - min(ys)
        if len(stroke) >= 12 and wide > 6 and abs(wide - high) < 0.02:
            found.append(((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2, wide))
    return found


@pytest.mark.parametrize(("name", "wall"), SIZES)
def test_bores_on_the_long_sheet_are_as_wide_and_as_far_apart_as_they_are_to_be(
    name: str, wall: str
) -> None:
    """Holes, bars and edges of studs of the scenes; on wall B rods lean, and the bowed board moves them by 0.1 mm."""
    hole, bar = SIZES[name, wall]
    sheet = paper.read(made(name, wall)["long"])[-1]
    rings = circles(sheet)
    bits = sorted(x for x, _, d in rings if abs(d - hole) < 0.05)
    bars = sorted(x for x, _, d in rings if abs(d - bar) < 0.05)
    assert len(bits) == len(bars) == len(rings) / 2
    studs = STUDS.get((name, wall), [(13.4375, 14.9375), (29.5625, 31.0625), (45.3125, 46.8125)])
    k = 1.0 if name == "reading-alcove" else IN
    centres = sorted((a + b) / 2 * k * (-1 if name == CORNER and wall == "A" else 1) for a, b in studs)  # fmt: skip
    near = 0.12 if wall == "B" else 0.05
    for found in (bits, bars):
        assert np.diff(found) == pytest.approx(np.diff(centres), abs=near)
    # All bores of the ledger lie on one level line, and those of the comb on another.
    for size in (hole, bar):
        assert np.ptp([y for _, y, d in rings if abs(d - size) < 0.05]) < 0.01


@pytest.mark.parametrize("size", ["letter", "a4"])
def test_tiles_joined_by_their_crosses_give_the_same_bores(size: str) -> None:
    name, wall = "reading-alcove", "back"
    tiles = [s for s in paper.read(made(name, wall)[size]) if "Ledger" in s.text and "of 6" in s.text]  # fmt: skip
    assert len(tiles) == 6
    shift, right = 0.0, list[tuple[float, float]]()
    points: list[tuple[float, float]] = []
    for sheet in tiles:
        here = sorted(crosses(sheet))
        left = [p for p in here if p[0] < sheet.width / 2]
        if right:
            moves = [q[0] - p[0] for p, q in zip(left, sorted(right), strict=True)]
            assert np.ptp(moves) < 0.02
            shift = moves[0]
        right = [(x + shift, y) for x, y in here if x > sheet.width / 2]
        # Rings, and parts of them in short strokes; a screw's ring is 4 mm wide.
        arcs = [s for s in sheet.strokes if len(s) >= 12 and np.ptp([y for _, y in s]) > 4.5]
        points += [(x + shift, y) for s in arcs for x, y in s]
    # Middles by the extremes of what lies within a bore's own width of where a stud is (edges of the scene).
    hole = SIZES[name, wall][0]
    studs = [(a + b) / 2 for a, b in STUDS[name, wall]]
    first = min(x for x, _ in points) + hole / 2
    for centre in studs:
        at = first + centre - studs[0]
        mine = [x for x, _ in points if abs(x - at) < hole / 2 + 1]
        assert min(mine) == pytest.approx(at - hole / 2, abs=0.05)
        assert max(mine) == pytest.approx(at + hole / 2, abs=0.05)


def test_bars_of_100_mm_and_of_4_inches() -> None:
    for name, wall in SIZES:
        for sheet in paper.read(made(name, wall)["letter"])[1:]:
            lengths = [math.dist(*s) for s in sheet.strokes if len(s) == 2]
            assert sum(abs(each - 100) < 0.02 for each in lengths) >= 2
            assert any(abs(each - 4 * IN) < 0.02 for each in lengths) is (name == CORNER)


def test_the_block_is_drawn_as_its_figures_say_and_leans_as_the_corner_does() -> None:
    """Figures on the drawing against its own paths; the lean by the law of cosines (60, 45, 75 11/16 in)."""
    whole = plan(CORNER)
    (found,) = ((d, g) for _, d, g in guide_tiles.guided(whole) if g.wall == "B")
    drawings = guide_tiles.whole_drawings(whole, *found)
    angle = math.acos((60**2 + 45**2 - 75.6875**2) / (2 * 60 * 45)) - math.pi / 2
    (axis,) = (
        i.points
        for i in drawings["block from above"].items
        if isinstance(i, draw.Polyline) and i.layer == "centre"
    )
    (x0, y0), (x1, y1) = axis
    assert y0 > y1
    assert math.atan2(x1 - x0, y0 - y1) == pytest.approx(-angle, abs=math.radians(0.2))
    for drawing in drawings.values():
        for chain in (i for i in drawing.items if isinstance(i, draw.Chain)):
            for (a, b), label in zip(pairwise(chain.points), chain.labels, strict=True):
                told = sum(float(eval(part)) for part in label.split())  # noqa: S307  # "1 29/64"
                assert math.dist(a, b) == pytest.approx(told * IN, abs=IN / 128 + 1e-6)
    front = paper.read(made(CORNER, "B")["letter"])[1]
    (bore,) = (d for _, _, d in circles(front) if abs(d - 0.75 * IN) < 0.5)
    assert bore == pytest.approx(0.75 * IN, abs=0.05)


def test_dxf_and_svg_have_the_same_bores() -> None:
    whole, (hole, bar) = plan("reading-alcove"), SIZES["reading-alcove", "back"]
    made_of = pictures.cutting(whole)
    data = draw.dxf(made_of["guide reading back"], "mm")
    drawing = read_dxf(StringIO(data.decode()))
    studs = [(a + b) / 2 for a, b in STUDS["reading-alcove", "back"]]
    for layer, size in (("BIT", hole), ("COMB_BORE", bar)):
        found = sorted(
            (e.dxf.center.x, e.dxf.radius)
            for e in drawing.modelspace().query("CIRCLE")
            if e.dxf.layer == layer
        )
        assert np.diff([x for x, _ in found]) == pytest.approx(np.diff(studs), abs=0.05)
        assert all(2 * r == pytest.approx(size) for _, r in found)
    parts = ("ledger", "block", "block from above")
    assert set(pictures.guides(whole)) == {f"guide reading back {part}" for part in parts}


def test_page_answer_and_json_tell_the_same_and_only_of_walls_that_may_be_drilled() -> None:
    whole = plan("reading-alcove")
    document = json.loads(json.dumps(site_document(whole)))
    jsonschema.validate(document, SCHEMAS["site"]())
    (one,) = document["shelves"][0]["guides"]
    assert [mark["rod"] for mark in one["marks"]] == ["B1", "B2", "B3", "B4"]
    assert "Ledger and guide block, shelf reading:" in site_text(whole)
    made_pages = pages(whole, {})
    assert "guide reading back" in made_pages
    card = made_pages["wall reading back"]
    assert any("ledger on, its edge at 1329.5" in t for t in card.ticks)  # type: ignore[attr-defined]  # a DrillCard
    (_, design, found) = next(guide_tiles.guided(whole))
    sheets = paper.read(press(block(whole), {"guide": guide_sheet.sheet(whole, design, found)}))
    assert len(sheets) <= 2
    assert "Shim behind it" in sheets[0].text


def test_every_stop_is_told_to_the_cutting_edges_of_the_bit() -> None:
    """Common practice: a spur's or an auger's point runs 5 to 10 mm ahead; a rod ends where the full bore does."""
    whole = plan("reading-alcove")
    (_, design, found) = next(guide_tiles.guided(whole))
    sheets = paper.read(press(block(whole), {"guide": guide_sheet.sheet(whole, design, found)}))
    assert "to the cutting edges, not the point" in sheets[0].text.replace("\n", " ")
    assert "to the cutting edges of the bit" in site_text(whole)
    card = pages(whole, {})["wall reading back"]
    assert any("to cutting edges" in head for head in card.holes.heads)  # type: ignore[attr-defined]  # a DrillCard


def test_while_the_job_does_not_hold_every_page_says_that_nothing_is_drilled() -> None:
    for wall in ("A", "B"):
        for sheet in paper.read(made(CORNER, wall)["a4"]):
            assert "Do not drill for this shelf" in sheet.text.replace("\n", " ")


def test_the_guide_keeps_to_the_drawing_once_rods_are_read() -> None:
    """What is drilled is what was drawn, as on the drill card (docs/on-site.md)."""
    (_, _, drawn), (_, _, read) = (
        next(guide_tiles.guided(each)) for each in (plan("reading-alcove"), alcove())
    )
    assert alcove().designs[0].drawn is not None
    assert read == drawn
