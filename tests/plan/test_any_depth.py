"""The example jobs at depths that nobody chose: each is laid out, and what its skins lie on adds up."""

from __future__ import annotations

from dataclasses import replace

import pytest
import shapely
from shapely.geometry import Polygon

from ledgewright.memo import Memo
from ledgewright.plan import sketch
from tests import jobs

AGAINST = (
    "areas of core, hollows and channels against the outline",
    "a polygon library",
    "no wood in a channel; no more left over than edging, scribe and undercut take",
)

DEPTHS = (-11.3, 0.7, 2.5, 9.06)
"""By how much the shelf is made deeper (mm). At 2.5 what two shapes of the first corner share once held a stray line,
and the polygon library refused the whole."""


@pytest.mark.parametrize("name", jobs.ALL)
def test_a_shelf_of_any_depth_is_laid_out(name: str) -> None:
    job = jobs.job(name)
    for by in DEPTHS:
        specs = tuple(replace(each, depth=each.depth + by) for each in job.shelves)
        for design in sketch(replace(job, shelves=specs), Memo()).designs:
            assert design.way is not None, by
            assert design.core is not None, by
            wood = shapely.union_all([Polygon(piece.plan) for piece in design.core.pieces])
            cut = shapely.union_all([Polygon(channel.plan) for channel in design.way.channels])
            assert wood.intersection(cut).area < 1e-3
            whole = shapely.union_all([wood, cut, *(Polygon(h) for h in design.core.hollows)])
            outline = Polygon(design.frame.outline)
            spec = design.spec
            taken = max((each.remove for each in design.frame.scribe), default=0.0)
            edge = max(spec.edging_thick, taken + spec.scribe_allowance + 3.2)
            assert outline.buffer(-edge - 0.01, join_style="mitre").difference(whole).area < 0.5
