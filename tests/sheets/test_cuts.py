"""What is said of the scribe: by hand for one straight wall, in both units and both Englishes."""

from __future__ import annotations

import json
import math
import re
from dataclasses import replace
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from ledgewright import layout, survey
from ledgewright.job import Lean, Leg, Spec
from ledgewright.judge import Design
from ledgewright.layout import movements
from ledgewright.layout.movement import movement
from ledgewright.plan import Plan
from ledgewright.sheets import cuts, walls
from ledgewright.sheets.answers import notes
from ledgewright.sheets.pages import block, pages
from ledgewright.sheets.press import press
from ledgewright.sheets.say import Say
from ledgewright.sheets.schemas import scribe_schema
from ledgewright.sheets.scribe_answer import does, scribe_document, scribe_text
from ledgewright.site import Drill
from ledgewright.stock import lumber
from tests.layout import asked
from tests.sheets import paper, sample
from tests.survey import taped

MM = Say("mm", "en-GB")
BELLY = [(0.0, 20.0), (500.0, 14.0), (1000.0, 20.0), (1500.0, 14.0), (2000.0, 20.0)]


def plan(gaps: list[tuple[float, float]], **more: Any) -> Plan:
    """A straight shelf of 1800 on a wall of 2000, tight, 250 deep, all else from the sample."""
    spec = asked.shelf([Leg("A", 100.0, 1900.0)], depth=250.0, scribe_allowance=12.0)
    whole = sample.plan()
    design, (lies, room, spec) = (
        whole.designs[0],
        layout.placed(
            survey.room(taped.tapes([taped.wall("A", 2000.0, gaps)]), spec.top),
            replace(spec, **more),
        ),
    )
    made = replace(
        design,
        room=room,
        spec=spec,
        frame=layout.frame(room, spec),
        placed=lies,
        way=None,
        core=None,
        parts=(),
    )
    meta = replace(
        whole.job.meta, revision="sha256:" + "0" * 64, units="mm", words="en-GB", sheets="a4"
    )
    return replace(whole, designs=(made,), leave=(), job=replace(whole.job, meta=meta))


def only(of: Plan) -> Design:
    return of.designs[0]


def test_a_belly_by_hand() -> None:
    """Two bellies of 6 mm under a string 20 off, and between them a hollow as deep as the ends."""
    here = plan(BELLY)
    (edge,) = cuts.edges(here, only(here))
    assert edge.bow == pytest.approx(6.0)  # from the hollow at 1000 to the bellies
    assert edge.most == pytest.approx(12.0)  # the whole allowance at the proudest point
    assert edge.needs == pytest.approx(6.0 + 25.4 / 8)
    said = " ".join(cuts.allowance(here, only(here), (edge,)))
    assert "The allowance of 12 mm does: the back on wall A bows by 6 mm." in said
    # 12 - 6 is left at the hollow: no more than kerf and 6 mm, so no rip; it could come out 6 mm deeper.
    assert "Rip" not in said
    assert "6 mm deeper than asked and loses 6 mm at most" in said


@pytest.mark.parametrize(
    ("has", "words"),
    [
        (5.0, "more than the scribe allowance of 5 mm"),
        (8.0, "leaves less than 3.2 mm"),
        (12.0, "does:"),
    ],
)
def test_what_is_said_of_an_allowance(has: float, words: str) -> None:
    here = plan(BELLY, scribe_allowance=has)
    found = cuts.edges(here, only(here))
    said = cuts.allowance(here, only(here), found)[0]
    assert words in said
    # 6 mm of bow and 3.175 for pencil and kerf, up to the half: what the job is to say.
    assert ("shelf[0].scribe_allowance = 9.5" in said) is (has < 9.175)
    assert does(here) is (has >= 6.0)


def test_gaps_less_sure_than_the_cuts_are_said_to_be() -> None:
    # A gap off a string is sure to 1.96 x 0.3 = 0.588 mm, rounded up to 0.6 (normal law; docs/site-measure.md).
    here = plan(BELLY, scribe_tolerance=0.5)
    found, say = cuts.edges(here, only(here)), Say.of(here.job.meta)
    assert cuts.sure_to(only(here), found[0]) == pytest.approx(0.588)
    (said,) = cuts.doubt(only(here), found, say)
    assert "each gap is sure to 0.6 mm; the cuts keep to 0.5 mm of the line as read." in said
    wide = plan(BELLY, scribe_tolerance=0.6)
    assert not cuts.doubt(only(wide), cuts.edges(wide, only(wide)), say)


def test_a_wide_allowance_is_ripped_first() -> None:
    here = plan(BELLY, scribe_allowance=20.0)
    said = " ".join(cuts.allowance(here, only(here), cuts.edges(here, only(here))))
    # 20 - 6 - 3.175 = 10.825 off; 20 - 10.825 = 9.175 is left at the belly.
    assert "Rip 10.8 mm off the back before the cuts" in said
    # The tables count from the blank as made (20 mm off at the proudest), or the shelf came out 10.8 mm too narrow.
    assert "before that rip: mark the line by them first, then rip" in said
    (table,) = (
        e.hand for e in cuts.cuts_sheet(here, only(here), cuts.edges(here, only(here))).edges
    )
    assert max(float(row[1]) for row in table.rows) == 20.0
    assert "at most 9.2 mm is left" in said


def skewed(slope: float) -> list[tuple[float, float]]:
    return [(s, gap + slope * s) for s, gap in BELLY]


def test_a_string_askew_turns_the_shelf_and_says_so() -> None:
    """10 mm in 2000 is 0.29 degrees; the right end then lies 9 mm nearer the wall over 1800."""
    here = plan(skewed(0.005))
    lies = " ".join(cuts.lies(only(here), MM))
    assert lies.startswith("Turned 0.29 deg off the string: along wall A its right end lies 9")
    # A fifth of the way from the ends to the bellies the face stands 1.2 out: 6 - 1.2 behind the ledger.
    (ledger,) = cuts.ledger(only(here), MM, "A")
    assert re.search(r"4\.8 mm off the face at the left end .* and 4\.8 mm at the right", ledger)
    left = plan(skewed(-0.005))
    assert "its left end lies 9" in " ".join(cuts.lies(only(left), MM))
    assert any(note.startswith("Turned 0.29 deg") for note in notes(here))
    assert not any(note.startswith("Turned") for note in notes(plan(BELLY)))
    straight = plan(skewed(0.005), placing="along the string")
    assert "as the job asks" in " ".join(cuts.lies(only(straight), MM))
    assert not cuts.ledger(only(straight), MM)
    assert does(here)


def test_a_string_far_askew_is_not_followed() -> None:
    here = plan(skewed(0.08), scribe_allowance=200.0)
    assert "more than 3 degrees" in " ".join(cuts.lies(only(here), MM))
    assert any("more than 3 degrees" in note for note in notes(here))
    assert not does(here)


@pytest.mark.parametrize(
    ("slope", "degrees", "words"),
    [
        (0.0, 2.0, "the top edge touches first."),
        (1 / 192, 2.3, "stands back at the top"),  # 1/8 in 24: atan(1/192) = 0.298 degrees
        (-1 / 192, 1.7, "leans out at the top"),
        (-0.05, 0.86, "the top edge shorter"),  # atan(0.05) = 2.862 degrees, less the 2
    ],
)
def test_bevels_by_hand(slope: float, degrees: float, words: str) -> None:
    here = plan(BELLY, lean=(Lean("A", slope),) if slope else ())
    (edge,) = cuts.edges(here, only(here))
    said = cuts.bevel(only(here), edge, MM)
    assert words in said
    assert f"{degrees:g} deg" in said
    assert edge.bevel() == pytest.approx(math.radians(2.0) + math.atan(slope))


def test_heights_by_hand() -> None:
    """The sample's rods have play of 1/32 in; nose-up of 2 over 250 lifts a tip that sticks out 200 by 1.6."""
    here = plan(BELLY, nose_up=2.0)
    wall = replace(only(here).room.walls[0], members=())
    rods = tuple(replace(r, wall="A", projection=200.0) for r in sample.design().frame.rods[:2])
    frame = replace(only(here).frame, rods=rods)
    design = replace(only(here), frame=frame, room=replace(only(here).room, walls=(wall,)))
    told = " ".join(cuts.heights(design, MM))
    assert "front 2 mm higher than the back over 250 mm" in told
    assert (
        "1.6" not in told
    )  # how far a rod sticks out is for the set card alone: its wall may be withheld
    marks = ", ".join(r.mark for r in rods)
    (tick,) = cuts.nose_up(design, "A", MM)
    assert (
        tick
        == f"Nose-up: tips of {marks} set 1.6 mm higher than at the wall; the holes stay level."
    )
    assert not cuts.nose_up(replace(design, spec=replace(design.spec, nose_up=0.0)), "A", MM)
    drop = design.holds.drop
    assert drop is not None
    off = 2.0 - drop.today.value
    assert f"on day one: front {MM.thickness(abs(off))} {'higher' if off > 0 else 'lower'}" in told


def test_movement_of_a_filler_strip_and_of_an_edging_between_two_walls() -> None:
    """Wood Handbook table 13-5 (read in a transcription of FPL-GTR-190): white ash, tangential, 0.00274.

    A strip of 20 mm over 4 points: 20 x 0.00274 x 4 = 0.219 mm. Red oak of 12 in: 12 x 0.00369 x 4 = 0.177 in, as
    worked there (reference notes on adhesives, panels and plates).
    """

    assert movement(12.0, 0.00369) == pytest.approx(0.177, abs=5e-4)
    ash = lumber("ash")
    assert movement(20.0, ash.movement or 0.0) == pytest.approx(0.219, abs=5e-4)
    site = survey.room(taped.alcove(), 1365)
    spec: Spec = replace(asked.alcove(), rods=(), edging=ash, ends="filler", end_gap=20.0)
    found = movements(spec, layout.frame(site, spec), layout.end_fits(site, spec))
    strips = [each for each in found if each.what == "filler strip"]
    assert len(strips) == 2
    for each in strips:
        assert each.size >= 20.0
        assert each.moves == pytest.approx(each.size * 0.00274 * 4)
    (edging,) = (each for each in found if each.what == "edging")
    # 1.15 m or so along the grain, 0.2 % over 30 points, 4 points: 0.3 mm.
    assert edging.moves == pytest.approx(edging.size * 0.002 / 30 * 4)
    unknown = replace(spec, edging=asked.ASH)
    assert all(
        each.moves is None
        for each in movements(unknown, layout.frame(site, unknown), layout.end_fits(site, unknown))
        if each.what == "filler strip"
    )


def test_pages_and_document_of_a_turned_shelf() -> None:
    here = plan(skewed(0.005))
    Draft202012Validator(scribe_schema()).validate(json.loads(json.dumps(scribe_document(here))))
    (shelf,) = scribe_document(here)["shelves"]
    assert shelf["placed"]["turn"] == pytest.approx(0.005, rel=0.05)
    made = pages(here, {})
    kept = {name: page for name, page in made.items() if name.split()[0] in ("cuts", "strips")}
    assert len(kept) == 2
    sheets = paper.read(press(block(here), kept))
    told = " ".join(sheet.text for sheet in sheets)
    for words in ("Scribe in straight cuts", "Strip template", "Off the string", "0.29 deg"):
        assert words in told
    for word in ("drywall", "edging", " rod"):
        assert word not in told  # this job is in the other English
    text = scribe_text(here)
    assert "Back on wall A" in text
    # Every station of the gaps on the leg stands in the table for marking by hand.
    assert all(re.search(rf"\b{s}: ", text) for s in (500, 1000, 1500))


def test_the_ledger_of_a_turned_shelf_stands_on_its_drill_card() -> None:
    whole = sample.plan()
    design = whole.designs[0]
    turned = plan(skewed(0.005)).designs[0].placed
    leave = next(each for _, _, each in whole.leave if isinstance(each, Drill))
    told = walls.drill_card(whole, replace(design, placed=turned), leave, None).direction
    assert told.startswith(leave.direction)
    assert "The straight ledger on wall" in told
    assert walls.drill_card(whole, design, leave, None).direction == leave.direction
