"""Tiles put together by their crosses, from the coordinates in the PDF alone, give the scribed edges again."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest
from shapely.geometry import LineString, Point

from ledgewright import draw, layout
from ledgewright.judge import Design
from ledgewright.layout import Scribed
from ledgewright.sheets import pictures, tiles
from ledgewright.sheets.pages import block
from ledgewright.sheets.press import press_tiles
from tests.layout import walls
from tests.sheets import paper, sample

Stroke = tuple[tuple[float, float], ...]
PAPERS = {name: size[:2] for name, size in pictures.PAPER.items()}


@cache
def made(seed: int) -> tuple[tuple[Scribed, ...], dict[str, bytes]]:
    """A random site's edges, and its tiles on both papers and on long sheets."""
    site = walls.site(seed)
    room, spec = site.room, site.spec
    plan = sample.plan()
    design: Design = replace(
        plan.designs[0], room=room, spec=spec, frame=layout.frame(room, spec), placed=None
    )
    edges = layout.scribed(room, spec)
    both = tiles.tile_set(plan, design, edges), tiles.long_sheets(plan, design, edges)
    return edges, press_tiles(block(plan), both[0], PAPERS, both[1])


def crosses(sheet: paper.Sheet) -> list[tuple[float, float]]:
    """Middles of paths of two strokes that cross each other in their middles, level and upright, equally long."""
    found = []
    for stroke in sheet.strokes:
        if len(stroke) != 4:
            continue
        a, b, c, d = stroke
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        same = math.dist(middle, ((c[0] + d[0]) / 2, (c[1] + d[1]) / 2)) < 0.01
        sizes = [b[0] - a[0], abs(d[1] - c[1])]
        if same and sizes == pytest.approx([2 * tiles.CROSS] * 2, abs=0.01):
            found.append(middle)
    return found


def curves(sheet: paper.Sheet) -> list[Stroke]:
    """Strokes along the tile that may be part of an edge: long, and neither bars nor crosses."""
    found = []
    for stroke in sheet.strokes:
        span = max(x for x, _ in stroke) - min(x for x, _ in stroke)
        bar = len(stroke) == 2 and abs(span - 100.0) < 0.05
        if span > 9.0 and not bar and all(a[0] < b[0] for a, b in pairwise(stroke)):
            found.append(stroke)
    return found


def joined(sheets: list[paper.Sheet]) -> list[Stroke]:
    """Every tile moved until its left crosses lie on the right ones of the tile before; the first stays."""
    shift, found = (0.0, 0.0), []
    right: list[tuple[float, float]] = []
    for sheet in sheets:
        here = sorted(crosses(sheet))
        middle = sheet.width / 2
        left = [p for p in here if p[0] < middle]
        if right:
            assert len(left) == len(right) == 4
            moves = [(q[0] - p[0], q[1] - p[1]) for p, q in zip(left, sorted(right), strict=True)]
            shift = moves[0]
            assert all(math.dist(m, shift) < 0.02 for m in moves)
        else:
            assert not left
        found += [tuple((x + shift[0], y + shift[1]) for x, y in s) for s in curves(sheet)]
        right = [(x + shift[0], y + shift[1]) for x, y in here if x > middle]
        assert bool(right) == (sheet is not sheets[-1])
    return found


def against(edge: Scribed, strokes: list[Stroke]) -> None:
    """The strokes, moved so that the blank's edge begins where it should, against the edge's own figures."""
    level = [s for s in strokes if abs(s[0][1] - s[-1][1]) < 1e-3 and len(s) == 2]
    top = max(s[0][1] for s in level)
    start = min(s[0][0] for s in level)
    first = edge.face[0][0]
    moved = [[(x - start + first, -(y - top)) for x, y in s] for s in strokes]
    face = LineString(edge.face)
    lies = [s for s in moved if all(face.distance(Point(p)) < 0.1 for p in s)]
    # Every point of the edge is there, and what is there lies on it.
    for x, take in edge.face:
        assert min(LineString(s).distance(Point(x, take)) for s in lies) < 0.1
    for k in range(200):
        at = face.interpolate(k / 199, normalized=True)
        assert min(LineString(s).distance(at) for s in lies) < 0.1
    # The straight cuts as well, dashes and all.
    cuts = LineString(edge.cuts)
    sawn = [s for s in moved if all(cuts.distance(Point(p)) < 0.1 for p in s)]
    for k in range(60):
        at = cuts.interpolate(k / 59, normalized=True)
        assert min(LineString(s).distance(at) for s in sawn) < 0.1
    datum = [s for s in moved if all(abs(y - tiles.datum(edge)) < 0.1 for _, y in s)]
    assert datum


@pytest.mark.parametrize("name", ["letter", "a4"])
@pytest.mark.parametrize("seed", [0, 1, 3])
def test_tiles_joined_by_their_crosses_give_the_edges(seed: int, name: str) -> None:
    edges, data = made(seed)
    sheets = list(paper.read(data[name]))[1:]
    for edge in edges:
        count = len(tiles.windows(edge))
        own, sheets = sheets[:count], sheets[count:]
        against(edge, joined(own))
    assert not sheets


def test_a_long_sheet_holds_the_whole_edge() -> None:
    for seed in (0, 1, 3):
        edges, data = made(seed)
        for edge, sheet in zip(edges, paper.read(data["long"]), strict=True):
            against(edge, curves(sheet))


def test_every_tile_has_a_bar_of_100_mm_either_way_and_keeps_10_mm_clear() -> None:
    _, data = made(1)
    for name, (width, height) in PAPERS.items():
        sheets = paper.read(data[name])
        assert (sheets[0].width, sheets[0].height) == pytest.approx((height, width), abs=0.02)
        for sheet in sheets[1:]:
            bars = [s for s in sheet.strokes if len(s) == 2 and abs(math.dist(*s) - 100) < 0.02]
            assert any(abs(a[1] - b[1]) < 1e-3 for a, b in bars)
            assert any(abs(a[0] - b[0]) < 1e-3 for a, b in bars)
            points = [p for s in sheet.strokes for p in s]
            # A home printer leaves 3 to 7 mm blank (reference notes, section 5).
            assert min(x for x, _ in points) > 9.5
            assert max(x for x, _ in points) < sheet.width - 9.5
            assert min(y for _, y in points) > 9.5
            assert max(y for _, y in points) < sheet.height - 9.5


def test_as_many_tiles_as_the_rule_says() -> None:
    """n = ceil((T - o) / (s - o)): reference notes, section 5; 1200 mm with s = 259 and o = 10 is 5 there."""
    size, over = tiles.LIVE[0], tiles.OVERLAP
    for seed in range(8):
        site = walls.site(seed)
        for edge in layout.scribed(site.room, site.spec):
            long = edge.face[-1][0] - edge.face[0][0] + 12.0
            assert len(tiles.windows(edge)) == max(1, math.ceil((long - over) / (size - over)))


def test_the_outline_at_true_size_as_svg() -> None:
    """Read back from the file's own figures: mm on the root, and the outline's corners as far apart as in the plan."""
    site = walls.site(1)
    plan = sample.plan()
    frame = layout.frame(site.room, site.spec)
    design = replace(plan.designs[0], room=site.room, spec=site.spec, frame=frame, placed=None)
    edges = layout.scribed(site.room, site.spec)
    root = ET.fromstring(draw.svg(tiles.outline_drawing(plan, design, edges)))  # noqa: S314  # our own
    width, height = (float(root.attrib[k].removesuffix("mm")) for k in ("width", "height"))
    assert [float(x) for x in root.attrib["viewBox"].split()] == [0.0, 0.0, width, height]
    rings = [
        [tuple(map(float, p.split())) for p in path.attrib["d"][1:-1].split("L")]
        for path in root.iter("{http://www.w3.org/2000/svg}path")
    ]
    for ring in (
        frame.outline,
        frame.blank,
        layout.sawn_outline(site.room, site.spec, frame, edges),
    ):
        sides = [math.dist(a, b) for a, b in pairwise([*ring, ring[0]])]
        assert any(
            len(seen) == len(ring)
            and [math.dist(a, b) for a, b in pairwise([*seen, seen[0]])]
            == pytest.approx(sides, abs=0.01)
            for seen in rings
        )
