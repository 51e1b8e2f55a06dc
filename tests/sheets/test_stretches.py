"""The core map of a shelf too long for one: parted where nothing stands, and nothing of it lost."""

from __future__ import annotations

from itertools import pairwise

import pytest
from shapely.geometry import Polygon

from ledgewright.core import Core
from ledgewright.draw import Polyline, Running
from ledgewright.judge import Design
from ledgewright.sheets import views
from ledgewright.sheets.model import CoreSheet
from ledgewright.sheets.pages import pages
from ledgewright.sheets.say import Say
from ledgewright.sheets.views.common import cuts
from tests import jobs

AGAINST = (
    "what the stretches of a core map show together, against the whole shelf",
    "areas by a polygon library; pieces, slots and figures one by one",
    "areas 1 mm2; figures as printed",
)
WIDTH = 187.9
BOX = (WIDTH, 125.0)


@pytest.fixture
def long() -> Design:
    """Ten feet on one wall: the longest of the examples."""
    return jobs.plan("record-wall").designs[0]


def say() -> Say:
    return Say.of(jobs.job("record-wall").meta)


def core_of(design: Design) -> Core:
    assert design.core is not None
    return design.core


def figures(design: Design, span: tuple[float, float] | None) -> list[str]:
    drawing = views.core_map_view(design, say(), BOX, span=span)
    return [label for item in drawing.items if isinstance(item, Running) for label in item.labels]


def test_a_short_shelf_and_an_l_are_drawn_whole() -> None:
    """The alcove is 1.18 m, on 182 mm of paper 1:7; an L is never parted."""
    for name in ("reading-alcove", "stoneware-corner", "stoneware-corner-first-try"):
        for design in jobs.plan(name).designs:
            leg = design.frame.legs[0]
            assert views.stretches(design, 182.0) == ((leg.start, leg.end),)


@pytest.mark.parametrize("width", [187.9, 120.0, 60.0])
def test_stretches_follow_one_another_and_cut_nothing_that_stands_across(
    long: Design, width: float
) -> None:
    """10 ft is 3,007 mm: two stretches at 188 mm of paper and 1:12, three at 120 and five at 60."""
    spans = views.stretches(long, width)
    leg = long.frame.legs[0]
    length = leg.end - leg.start
    assert len(spans) == {187.9: 2, 120.0: 3, 60.0: 5}[width]
    assert (spans[0][0], spans[-1][1]) == (leg.start, leg.end)
    for (_, end), (begin, _) in pairwise(spans):
        assert end == begin
    wall = long.room.wall(leg.wall)
    across = [p.plan for p in core_of(long).pieces if p.kind in {"rib", "block"}]
    for ring in (*across, *(c.plan for c in cuts(long))):
        alongs = [wall.figures(p)[0] for p in ring]
        for _, end in spans[:-1]:
            assert not min(alongs) - 49 < end < max(alongs) + 49
    for k, (_, end) in enumerate(spans[:-1], 1):
        assert abs(end - (leg.start + length * k / len(spans))) < 12 * 25.4


def test_the_stretches_are_the_shelf(long: Design) -> None:
    spans = views.stretches(long, WIDTH)
    parts = [views.within(long, span) for span in spans]
    whole = core_of(long)
    area = sum(Polygon(each.frame.outline).area for each in parts)
    assert area == pytest.approx(Polygon(long.frame.outline).area, abs=1.0)
    for piece in whole.pieces:
        shown = [q for each in parts for q in core_of(each).pieces if q.id == piece.id]
        cut = sum(Polygon(q.plan).area for q in shown)
        assert cut == pytest.approx(Polygon(piece.plan).area, abs=1.0), piece.id
    for at in whole.locks:
        assert sum(at in core_of(each).locks for each in parts) == 1
    wanted = sorted(figures(long, None))
    assert sorted(label for span in spans for label in figures(long, span)) == wanted


def test_only_the_first_stretch_counts_from_nought_on_its_paper(long: Design) -> None:
    spans = views.stretches(long, WIDTH)
    for k, span in enumerate(spans):
        drawing = views.core_map_view(long, say(), BOX, span=span)
        (run,) = (item for item in drawing.items if isinstance(item, Running))
        assert (run.zero is not None) is (k == 0)
        assert 1 / drawing.scale <= 12
        broken = [
            i
            for i in drawing.items
            if isinstance(i, Polyline) and i.layer == "dimension" and len(i.points) > 2
        ]
        assert len(broken) == 1


def test_each_stretch_has_its_own_list_and_every_piece_stands_in_one(long: Design) -> None:
    made = pages(jobs.plan("record-wall"), {})
    sheets = [made[name] for name in ("core records", "core records stretch 2")]
    listed: set[str] = set()
    for sheet in sheets:
        assert isinstance(sheet, CoreSheet)
        assert sheet.hold
        listed |= {row[0] for row in sheet.pieces.rows}
    assert listed == set(views.piece_numbers(long.core).values())
    assert "core reading stretch 2" not in pages(jobs.plan("reading-alcove"), {})


def test_no_stretch_of_a_wall_that_is_held(long: Design) -> None:
    wall = long.frame.legs[0].wall
    with pytest.raises(ValueError, match="may not be drilled"):
        views.core_map_view(long, say(), BOX, frozenset({wall}), views.stretches(long, WIDTH)[1])
