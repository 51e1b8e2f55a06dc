"""What a carpenter found who worked from the pages: no two of them may tell him different things."""

from __future__ import annotations

import math

from ledgewright.sheets import as_set, guide_sheet, guide_tiles, walls
from ledgewright.sheets.leaves import leaves
from ledgewright.site import Drill
from tests import jobs


def test_drill_card_and_guide_tell_one_lean_of_a_wall_and_the_readings_one_place_of_its_holes() -> (
    None
):
    """Geometry: a corner of 91.13 degrees, in two sections; wall B's rods lie along the slide on wall A."""
    plan = jobs.plan("stoneware-corner")
    seen = 0
    for design in plan.designs:
        for leave in leaves(plan, design):
            assert isinstance(leave, Drill)
            found = guide_tiles.of_wall(plan, design, leave)
            assert found is not None
            card, page = (
                walls.drill_card(plan, design, leave, None),
                guide_sheet.sheet(plan, design, found),
            )
            lean = abs(math.degrees(found.lean))
            if lean < 0.05:
                assert "Square to the straight ledger" in card.direction
                continue
            seen += 1
            assert page.facts[2].value == f"{lean:.2f}° left"
            assert "Square to the straight ledger" not in card.direction
            assert f"lean {lean:.2f} degrees to the left" in card.direction
            holes = {row[0]: row[1] for row in card.holes.rows}
            read = as_set.card(plan, design, leave)
            drawn = {row[0]: row[5] for row in read.rods.rows if row[1] == "drawn"}
            assert drawn == holes
            assert any("front" in head for head in page.parts[0].tables[0].heads)
    assert seen == 1
