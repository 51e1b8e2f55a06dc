"""Legs and the ends of walls as adjusted."""

from __future__ import annotations

import dataclasses

from ledgewright.plan import check
from tests.jobs import MEMO, job


def test_a_leg_to_the_end_of_its_wall_goes_to_the_end_as_adjusted() -> None:
    # The back of the alcove read 3 mm too long (a slip too small to be found): its widths pull it back.
    this = job("reading-alcove")
    cheek, back, other = this.tapes.walls
    longer = dataclasses.replace(back, length=1190.0)
    tapes = dataclasses.replace(this.tapes, walls=(cheek, longer, other))
    (leg,) = this.shelves[0].legs
    shelf = dataclasses.replace(this.shelves[0], legs=(dataclasses.replace(leg, end=1190.0),))
    (design,) = check(dataclasses.replace(this, tapes=tapes, shelves=(shelf,)), MEMO)
    wall = design.room.wall("back")
    assert 1187.0 < wall.end < 1190.0 - 0.5
    assert design.spec.legs[0].end == wall.end
