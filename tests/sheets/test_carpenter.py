"""What a carpenter found who worked from the pages: no two of them may tell him different things."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from shapely import unary_union
from shapely.geometry import LineString, Point, Polygon

from ledgewright import plane
from ledgewright.draw import Polyline, Text
from ledgewright.judge import Design
from ledgewright.layout import Station
from ledgewright.plan import sketch
from ledgewright.sheets import as_set, guide_sheet, guide_tiles, walls
from ledgewright.sheets.answers import check_text
from ledgewright.sheets.bundles import covered
from ledgewright.sheets.corewords import core_rules
from ledgewright.sheets.cover import cover, shelf_figures
from ledgewright.sheets.cuts import joint_ends
from ledgewright.sheets.handover import put_on
from ledgewright.sheets.handover import test_sheet as sheet_of_test
from ledgewright.sheets.layouts import LABELS
from ledgewright.sheets.leaves import leaves
from ledgewright.sheets.measured import measure_sheet
from ledgewright.sheets.pictures import cutting
from ledgewright.sheets.say import Say
from ledgewright.sheets.scribed import Scribing, scribe_sheet, settings
from ledgewright.sheets.shopfloor import parts_sheet, plan_sheet, whole_plan_sheet
from ledgewright.sheets.shopping import LAID, vans
from ledgewright.sheets.shopside import side as shop_side
from ledgewright.sheets.siting import site_text
from ledgewright.sheets.views import core_map_view, piece_numbers
from ledgewright.sheets.views.facing import facing
from ledgewright.site import Drill
from ledgewright.statics import NoLimit, Proof
from ledgewright.units import read_length
from tests import jobs

IN = 25.4


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


def ended(takes: Sequence[float]) -> Design:
    """The record wall with what comes off at its two ends and its middle (mm)."""
    design = jobs.plan("record-wall-first-try").designs[0]
    (leg,) = design.frame.legs
    places = (leg.start, (leg.start + leg.end) / 2, leg.end)
    rows = tuple(
        Station(wall=leg.wall, along=at, remove=take)
        for at, take in zip(places, takes, strict=True)
    )
    return replace(design, frame=replace(design.frame, scribe=rows))


def test_the_scriber_of_the_first_pass_is_set_to_the_block_and_what_comes_off_at_it() -> None:
    """By hand: 7/16 in blocks and 1/4 in off at both ends: 11/16; at the 1/2 in a gap of 3/16 is left."""
    say = Say("in", "en-US")
    even = ended((IN / 4, IN / 4, IN / 4))
    found = settings(even, 7 / 16 * IN, say)
    assert found.blocks == pytest.approx((7 / 16 * IN, 7 / 16 * IN))
    assert found.scriber == pytest.approx(11 / 16 * IN)
    # 3 mm more off at the left, blocks 60 mm in: the right block is the thicker by what its scribe is less.
    leaning = ended((9.0, 7.5, 6.0))
    (leg,) = leaning.frame.legs
    inside = 60.0 * 3.0 / (leg.end - leg.start)
    found = settings(leaning, 8.0, Say("mm", "en-GB"))
    assert found.scriber == pytest.approx(8.0 + 9.0 - inside)
    assert found.blocks == pytest.approx((8.0, 11.0 - 2 * inside))
    page = scribe_sheet(
        jobs.plan("record-wall-first-try"), even, Scribing(7 / 16 * IN, 14.0, ()), None
    )
    for said in page.passes:
        assert "Scriber to" in said.lines[0]


def test_parts_and_labels_say_that_finished_sizes_still_hold_what_the_wall_scribes_off() -> None:
    """By hand: a skin as listed is as deep as its blank, the whole scribe allowance with it."""
    plan = jobs.plan("stoneware-corner-first-try")
    (design,) = plan.designs
    assert design.frame.scribe
    page = parts_sheet(plan, design, frozenset())
    (note,) = (
        line for each in page.notes if each.head == "Reading the sizes" for line in each.lines
    )
    assert "before the scribe" in note
    assert "before the scribe" in LABELS
    skins = [part.finished for part in design.parts if part.kind == "skin"]
    deepest = max(leg.depth for leg in design.frame.legs)
    spec = design.spec
    assert min(size[1] for size in skins) == pytest.approx(
        deepest + spec.scribe_allowance - spec.edging_thick
    )


def test_the_wood_beside_a_hole_leaves_out_half_the_hole() -> None:
    """By hand: a 7/8 in hole in the middle of 1 1/2 in: 3/4 - 7/16 = 5/16; 1.96 sd of 1 and 0.8 mm off: 3/16."""
    plan = jobs.plan("stoneware-corner-first-try")
    (shelf, wall, leave) = plan.leave[0]
    assert isinstance(leave, Drill)
    hole = replace(leave.holes[0], bit=7 / 8 * IN, edge=3 / 4 * IN, edge_sd=math.hypot(1.0, 0.8))
    one = replace(plan, leave=((shelf, wall, replace(leave, holes=(hole,))),))
    sheet = measure_sheet(one)
    assert sheet is not None
    (table,) = (p.tables[0] for p in sheet.parts if p.head == "Wood beside each hole")
    ((_, _, wood, _, least),) = table.rows
    assert (wood, least) == ('5/16"', '3/16"')
    (said,) = (line for line in site_text(one).splitlines() if "of wood between" in line)
    assert '5/16" of wood between it and the nearer edge' in said
    assert 'at least 3/16"' in said


def test_a_drop_that_passes_is_never_told_above_its_limit() -> None:
    """By hand: 1.42 of 1.45 mm is 1.5 over 1.4 to a tenth; 0.0557 of 0.0575 in is 4/64 over 3/64."""
    mm, inch = Say("mm", "en-GB"), Say("in", "en-US")
    assert mm.drop_in(1.42, 1.45) == ("1.42 mm", "1.45 mm")
    assert mm.drop_in(1.4201, 1.4209) == ("1.4201 mm", "1.4209 mm")
    assert inch.drop_in(0.0557 * IN, 0.0575 * IN) == ('0.056"', '0.057"')
    # Where a tenth does, or it fails, all stays as it was.
    assert mm.drop_in(1.21, 1.45) == ("1.3 mm", "1.4 mm")
    assert mm.drop_in(1.42, 1.41) == ("1.5 mm", "1.4 mm")
    plan = jobs.plan("record-wall-first-try")
    design = plan.designs[0]
    drop = design.holds.drop
    assert drop is not None
    near = replace(drop, today=replace(drop.today, value=1.42, limit=1.45))
    shown = replace(design, holds=replace(design.holds, drop=near))
    figure = shelf_figures(shown, mm).figures[0]
    assert (figure.value, figure.under) == ("1.42 mm", "limit 1.45 mm")
    other = replace(plan, designs=(shown, *plan.designs[1:]))
    unit = replace(other.job.meta, units="mm")
    assert "1.42 mm on day one (limit 1.45 mm)" in check_text(
        replace(other, job=replace(other.job, meta=unit))
    )


def test_the_weights_of_a_load_test_add_up_as_they_are_printed() -> None:
    """By hand: weights are whole pounds or half kilograms, and "In all" is their sum to the last one."""
    for name, unit, step in (("record-wall", "lb", 1.0), ("reading-alcove", "kg", 0.5)):
        plan = jobs.plan(name)
        (design,) = plan.designs
        proof, _ = plan.test(design.spec.id)
        assert isinstance(proof, Proof)
        rows = put_on(design, proof, Say.of(plan.job.meta))
        sheet = sheet_of_test(plan, design)
        assert sheet is not None
        printed = [row[3].removesuffix(f" {unit}") for row in rows]
        assert all(float(each) % step == 0 and float(each) > 0 for each in printed)
        assert sheet.facts[0].value == f"{sum(map(float, printed)):g} {unit}"
        # Common practice: laid out from one end of the tape to the other, what stands on top last.
        assert rows[-1][0] == "the one thing"
        # Nobody drives back for sacks: the van's list says how much.
        side = shop_side(plan)
        assert not isinstance(side, str)
        loaded = [item for van in vans(side) for item in van.items]
        assert any(
            f"Weights for the load test, {sheet.facts[0].value} in all," in i for i in loaded
        )


def test_the_cover_says_why_there_is_no_limit_and_the_client_s_points_to_no_page_it_lacks() -> None:
    """Common practice: a client reads the cover alone; a wall without a hole may be no more than scanned."""
    plan = jobs.plan("record-wall-first-try")
    why = "self-weight and one heavy thing are too much already"
    design = plan.designs[0]
    none = replace(design.holds, verdict="passes", load_limit=NoLimit(why))
    figures = shelf_figures(replace(design, holds=none), Say.of(plan.job.meta)).figures
    assert [f.under for f in figures if f.value == "None given"] == [why]
    fine = jobs.plan("record-wall")
    page = cover(fine, None, frozenset())
    drilled = [f for f in page.facts if f.label == "Drilling"]
    assert [f.under for f in drilled] == ["every wall that is drilled"]
    more = replace(page, why=("And 3 more: see the calculations.",))
    assert covered(more, fine, {}, "client").why == ("And 3 more.",)
    assert covered(more, fine, {}, "shop").why == more.why


def test_a_sheet_has_one_name_in_british_jobs() -> None:
    """The trade's words: as set is as fitted, a sheet layout a cutting plan, wherever a page names them."""
    say = Say("mm", "en-GB")
    assert say.text("As-set card and a pencil") == "As-fitted card and a pencil"
    assert say.text("read on the as-set card.") == "read on the as-fitted card."
    assert say.text(LAID) == f"as the {say.word('layout')} has them, and no fewer will do"
    assert Say("in", "en-US").text("As-set card") == "As-set card"


NARROW = ("stoneware-corner-first-try", "record-wall-first-try", "reading-alcove-first-try")


@pytest.mark.parametrize("name", NARROW)
def test_a_number_of_the_core_map_stands_on_its_own_piece_or_has_a_line_from_it(name: str) -> None:
    """Geometry: of every number, that it is over its own piece and no other, or that a line leads from it there."""
    plan = jobs.plan(name)
    say = Say.of(plan.job.meta)
    for design in plan.designs:
        drawing = core_map_view(design, say, (180.0, 190.0))
        assert design.core is not None
        turned = facing(design).core
        assert turned is not None
        numbers = piece_numbers(design.core)
        lines = [
            i.points for i in drawing.items if isinstance(i, Polyline) and i.layer == "dimension"
        ]
        for piece in turned.pieces:
            (text,) = (
                i for i in drawing.items if isinstance(i, Text) and i.text == numbers[piece.id]
            )
            others = [Polygon(p.plan) for p in turned.pieces if p is not piece]
            if text.nudge == (0.0, 0.0):
                assert Polygon(piece.plan).contains(Point(text.at))
                continue
            # It stands off: its line begins on the piece and goes its way.
            (line,) = (each for each in lines if len(each) == 2 and each[0] == text.at)
            assert Polygon(piece.plan).contains(Point(line[0]))
            assert not any(each.contains(Point(line[0])) for each in others)


def test_a_narrow_piece_between_a_slot_and_an_end_keeps_its_number_apart() -> None:
    """By hand: ribs 1 in wide on paper are narrower than a number: off the piece, lines crossing none."""
    plan = jobs.plan("record-wall-first-try")
    drawing = core_map_view(plan.designs[0], Say.of(plan.job.meta), (180.0, 95.0))
    led = [i for i in drawing.items if isinstance(i, Polyline) and i.layer == "dimension"]
    assert led
    drawn = [LineString(i.points) for i in led if len(i.points) == 2]
    assert not any(a.intersects(b) for a, b in combinations(drawn, 2))


def test_the_core_map_says_how_far_behind_the_front_slots_and_blocks_lie() -> None:
    """By hand: depth off the proudest point, less edging, the wall's hollow, stick-out and the room past the tip."""
    made = jobs.plan("reading-alcove")
    (design,) = made.designs
    (note,) = (n for n in core_rules(design, Say.of(made.job.meta)) if n.head == "Mouths and slots")
    said = note.lines[-1]
    ends = dict(re.findall(r"(B\d) ([\d.]+)", said.split(";")[0]))
    wall, spec = design.room.wall("back"), made.job.shelves[0]
    proud = max(wall.face(s) for s, _ in wall.line)
    assert set(ends) == {rod.mark for rod in design.frame.rods}
    for rod, asked in zip(design.frame.rods, spec.rods, strict=True):
        along, _ = wall.figures(rod.point(0.0))
        stands = asked.stick_out if asked.as_set is None else rod.projection
        by_hand = (
            proud + spec.depth - spec.edging_thick - wall.face(along) - stands - asked.clearance.end
        )
        assert float(ends[rod.mark]) == pytest.approx(by_hand, abs=1.0)
    # The alcove's two blocks, beside two grub screws, are 60 by 40, the long way front to back (as their list has it).
    assert (found := re.search(r"blocks 17 and 18 from ([\d.]+) to ([\d.]+)", said)) is not None
    assert float(found[2]) - float(found[1]) == pytest.approx(60.0, abs=1.0)


def test_the_end_of_a_section_that_meets_the_other_says_how_it_is_cut() -> None:
    """Geometry: it runs along the other's front, so it is off square by what the corner is, 91.13 degrees as taped."""
    made = jobs.plan("stoneware-corner")
    first, second = made.designs
    say = Say.of(made.job.meta)
    assert joint_ends(first, say) == ()
    (said,) = joint_ends(second, say)
    assert said.startswith("Left end, against section 1: cut 1.13 deg off square")
    # 10.5 tan(1.13 deg) = 0.207 in, 7/32 to the nearest 1/32; the corner opens, so it is longer in front.
    assert '7/32" longer at the front' in said
    for sheet in (plan_sheet(made, second, None), parts_sheet(made, second, frozenset())):
        assert said in [line for note in sheet.notes for line in note.lines]
    assert "Joint" not in [note.head for note in plan_sheet(made, first, None).notes]
    # Where the first one meets the other wall it is cut square too: as much off it in front as the corner opens.
    (note,) = (
        n for n in plan_sheet(made, first, None).notes if n.head == "Ends cut square and caulked"
    )
    assert note in whole_plan_sheet(made, made.designs, None).notes
    (gaps,) = note.lines
    assert gaps.startswith("Right end on wall A: ")
    back, front = re.findall(r'([\d /]+)" (?:off|at)', gaps)
    opens = read_length(front, "in") - read_length(back, "in")
    assert opens == pytest.approx(10.5 * 25.4 * math.tan(math.radians(1.13)), abs=1.2)


def test_both_ends_at_a_joint_of_a_straight_shelf_fit_each_other() -> None:
    """The alcove in two sections: what one is longer in front the other is shorter, by the return's slope."""
    whole = jobs.job("reading-alcove")
    spec = replace(whole.shelves[0], sections=2, ends="tight", joint=700.0, first=None)
    made = sketch(replace(whole, shelves=(spec,)), jobs.MEMO)
    say = Say.of(made.job.meta)
    (one,), (other,) = (joint_ends(design, say) for design in made.designs)
    assert "against section 2" in one
    assert "against section 1" in other
    sizes = [
        re.search(r"cut ([\d.]+ deg) off square, the shelf ([\d.]+ mm) (\w+)", t)
        for t in (one, other)
    ]
    a, b = (found.groups() for found in sizes if found)
    assert a[:2] == b[:2]
    assert {a[2], b[2]} == {"longer", "shorter"}


@pytest.mark.parametrize("depth", [None, 250.0])
def test_wood_stands_along_the_whole_of_a_joint_that_leans(depth: float | None) -> None:
    """Common practice: skins that are eased and lipped at a joint need core behind them right up to it."""
    whole = jobs.job("stoneware-corner")
    spec = whole.shelves[0]
    legs = tuple(replace(leg, depth=depth) if leg.wall == "B" else leg for leg in spec.legs)
    made = sketch(replace(whole, shelves=(replace(spec, legs=legs),)), jobs.MEMO)
    design = made.designs[1]
    assert design.core is not None
    (leg,) = design.frame.legs
    joint = LineString([leg.front[0], leg.back[0]])
    wood = unary_union([Polygon(piece.plan) for piece in design.core.pieces])
    # Behind the edging, and before what scribing the back may take.
    for out in np.linspace(spec.edging_thick + 1, leg.depth - spec.scribe_allowance - 5, 25):
        assert wood.distance(joint.interpolate(float(out))) < 0.01
    assert Polygon(design.frame.outline).buffer(1e-6).contains(wood)


def test_the_core_map_says_that_its_figures_count_from_edging_that_is_not_on_yet() -> None:
    """By hand: on the bench the skins lie without their edging of 3/4 in: at a free end, and in front."""
    made = jobs.plan("stoneware-corner")
    say = Say.of(made.job.meta)
    design = next(d for d in made.designs if d.frame.legs[0].left_end == "free")
    (leg,) = design.frame.legs
    assert leg.right_end != "free"
    words = "0 at the left end is the outside of its edging"
    drawing = core_map_view(design, say, (180.0, 190.0))
    told = " ".join(i.text for i in drawing.items if isinstance(i, Text))
    assert words in told
    assert f'{words}: the skins begin 3/4" in.' in told
    layers = {
        name: [p for item in items if isinstance(item, Polyline) for p in item.points]
        for name, items in cutting(made)[f"core_map {design.spec.id}"]
    }
    wall = design.room.wall(leg.wall)
    box = {n: plane.box([wall.figures(p) for p in layers[n]]) for n in ("OUTLINE", "SKIN")}
    inch = 25.4
    assert box["SKIN"][0] - box["OUTLINE"][0] == pytest.approx(0.75 * inch)
    assert box["OUTLINE"][3] - box["SKIN"][3] == pytest.approx(0.75 * inch)
    # At the corner, where no edging is, and along the wall the skins are as the shelf.
    assert box["SKIN"][1:3] == pytest.approx(box["OUTLINE"][1:3], abs=1e-6)
