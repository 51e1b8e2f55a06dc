"""The fitting order, the ways side by side, the scribe: against dense replays, hand figures, facts of the trade."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, replace

import pytest
from shapely import affinity
from shapely.geometry import LineString, Point, Polygon

from ledgewright.core import core as lay_core
from ledgewright.draw import Arrow, Circle, Drawing, Fill, Leader, Polyline, Text, lay
from ledgewright.fitting import Move, Opening, Way
from ledgewright.job import Cable
from ledgewright.judge import Design, Opened, alternatives
from ledgewright.plan import Plan, full
from ledgewright.sheets import pages
from ledgewright.sheets.corewords import by_number, core_rules
from ledgewright.sheets.directions import turned
from ledgewright.sheets.model import CoreSheet, FittingSheet, ScribeSheet, WaysSheet
from ledgewright.sheets.opens import verdict_text
from ledgewright.sheets.order import fitting_sheet
from ledgewright.sheets.say import Say
from ledgewright.sheets.scribed import Scribing, scribe_sheet
from ledgewright.sheets.seen import others, ways_sheet
from ledgewright.sheets.stance import (
    entering,
    free_room,
    held_places,
    passed,
    stances,
    turned_about,
)
from ledgewright.sheets.views import (
    core_map_view,
    move_view,
    option_view,
    room_view,
    scribe_view,
    way_view,
)
from ledgewright.sheets.views.facing import _Turn, facing
from tests import jobs
from tests.jobs import MEMO
from tests.sheets import sample

IN = 25.4
SAY = Say("in", "en-US")
PLAN = sample.plan()
DESIGN: Design = PLAN.designs[0]
BOX = (188.0, 76.0)


def way_of(design: Design) -> Way:
    assert design.way is not None
    return design.way


WAY = way_of(DESIGN)


def words(drawing: Drawing) -> list[str]:
    return [f.text.replace("\u00a0", " ") for f in lay(drawing) if isinstance(f, Text)]


def with_moves(*moves: Move) -> Design:
    way = replace(WAY, moves=moves)
    return replace(DESIGN, way=way, ways=replace(DESIGN.ways, ways=(way, DESIGN.ways.ways[1])))


def replayed(design: Design, step: float = 0.5) -> list[tuple[int, Polygon]]:
    """Every place of the section, replayed with a polygon library: (move, plan)."""
    moves = way_of(design).moves
    home, places = Polygon(design.frame.outline), []
    for k, move in enumerate(moves):
        rest = moves[k + 1 :]
        x, y = sum(m.dx for m in rest), sum(m.dy for m in rest)
        count = max(1, math.ceil(math.hypot(move.dx, move.dy) / step))
        for n in range(count + 1):
            left = 1 - n / count
            places.append((k, affinity.translate(home, -x - move.dx * left, -y - move.dy * left)))
    return places


def test_the_stops_lead_home() -> None:
    stops = stances(WAY.moves)
    assert stops[-1].shift == (0.0, 0.0)
    # The sample slides 6 1/4 in to the right on a hold-off of 1/16.
    assert stops[1].shift == pytest.approx((-6.25 * IN, -IN / 16))
    assert stops[2].shift == pytest.approx((0.0, -IN / 16))


def test_a_turn_ends_at_home_and_begins_turned_back() -> None:
    # By hand: home turned back by 0.1 about the origin; (1000, 0) stands at (1000 cos, -1000 sin) shifted by -(0, 50).
    first, last = stances((Move(0.0, 50.0, 0.1, ""),))
    assert last.place((1000.0, 0.0)) == (1000.0, 0.0)
    assert first.place((1000.0, 0.0)) == pytest.approx(
        (1000 * math.cos(0.1), -1000 * math.sin(0.1) - 50.0)
    )


def test_free_room_is_that_of_a_dense_replay() -> None:
    places = [ring for _, ring in replayed(DESIGN)]
    home = Polygon(DESIGN.frame.outline)
    found = {f.side: f for f in free_room(DESIGN, WAY)}
    assert set(found) == {"left end", "right end"}
    for free in found.values():

        def reach(ring: Polygon, course: tuple[float, float] = free.course) -> float:
            return max(x * course[0] + y * course[1] for x, y in ring.exterior.coords)

        assert free.far == pytest.approx(max(map(reach, places)) - reach(home), abs=0.01)
    # The scene: 6 1/4 in free past leg A.
    assert SAY.up(found["left end"].far) == '6 1/4"'


def test_a_straight_shelf_between_walls_needs_room_in_front_alone() -> None:
    leg = replace(DESIGN.frame.legs[0], left_end="wall", right_end="wall")
    frame = replace(DESIGN.frame, legs=(leg,))
    straight = replace(with_moves(Move(0.0, 245.0, 0.0, "")), frame=frame)
    (free,) = free_room(straight, way_of(straight))
    assert free.side == "front"
    assert free.far == pytest.approx(245.0)


def test_round_an_outside_corner_both_fronts_need_room() -> None:
    """By hand, the sample's moves on legs turned about: 8 1/2 in to A in all; off B, at 91.1 degrees, 6 1/4 along A."""
    turned = replace(DESIGN.frame.legs[0], front=DESIGN.frame.legs[1].front)
    legs = (
        replace(turned, right_end="corner"),
        replace(DESIGN.frame.legs[1], front=DESIGN.frame.legs[0].front),
    )
    outside = replace(DESIGN, frame=replace(DESIGN.frame, legs=legs))
    assert outside.frame.turn == "outside"
    found = {f.wall: f.far for f in free_room(outside, WAY) if f.side == "front"}
    assert set(found) == {"A", "B"}
    assert found["A"] == pytest.approx(8.5 * IN, abs=0.5)


def test_tips_come_in_on_the_move_that_brings_them() -> None:
    # First-A: the rods of A on the first move, those of B on the slide, none on the last 1/16 in.
    replay = replayed(DESIGN)
    for k in range(3):
        first, last = (next(r for j, r in order if j == k) for order in (replay, replay[::-1]))
        tips = {r.id: Point(r.point(r.free + r.projection)) for r in DESIGN.frame.rods}
        came = {n for n, tip in tips.items() if last.contains(tip) and not first.contains(tip)}
        assert set(entering(DESIGN, WAY, k)) == came
    assert [len(entering(DESIGN, WAY, k)) for k in range(3)] == [4, 3, 0]


def test_what_is_passed_closely_is_that_of_a_dense_replay() -> None:
    high, low = DESIGN.frame.top, DESIGN.frame.top - DESIGN.frame.thick
    near = [o for o in DESIGN.room.obstacles if o.up[0] < high and o.up[1] > low]
    assert near
    replay = replayed(DESIGN)
    for k in range(3):
        told = dict(passed(DESIGN, WAY, k, 1e4))
        assert set(told) == {o.id for o in near}
        for thing in near:
            least = min(ring.distance(Polygon(thing.plan)) for j, ring in replay if j == k)
            assert told[thing.id] == pytest.approx(least, abs=0.3)
            assert told[thing.id] <= least + 1e-6


def test_blocks_keep_off_the_rods_and_stay_behind_the_shelf() -> None:
    wall = DESIGN.room.wall("A")
    rods = [wall.figures(r.point(r.free))[0] for r in DESIGN.frame.rods if r.wall == "A"]
    places = held_places(DESIGN, WAY)
    assert len(places) == 2
    ((start, end),) = {(g.start, g.end) for g in DESIGN.frame.legs if g.wall == "A"}
    for at in places:
        assert min(abs(at - rod) for rod in rods) >= 50.0
        # The shelf comes from 6 1/4 in to the left: what is behind it all the while ends that much sooner.
        assert start < at < end - 6.25 * IN
    assert held_places(DESIGN, replace(WAY, hold_off=0.0)) == ()


def sheet(plan: Plan = PLAN, held: tuple[str, ...] = ()) -> FittingSheet:
    made = pages(plan, {})["fitting corner"]
    assert isinstance(made, FittingSheet)
    return made


def test_each_move_says_who_and_what_to_look_at() -> None:
    moves = sheet().moves
    assert all(m.who.startswith("1 calls.") for m in moves)
    # The sample: in by 8 1/2 on A in all, 1/16 of it last; the slide of 6 1/4 comes from the left.
    assert moves[0].look[0] == (
        'Begin 8 1/2" off wall A and 6 1/4" to the left, counted from where it will hang.'
    )
    assert moves[0].look[1].startswith("1 watches the tips of A1 to A4")
    assert moves[1].look[0].startswith("2 watches the tips of B1 to B3")
    assert any("Stop on the blocks" in line for line in moves[0].look)
    # Common practice: blocks out before the last move, or it cannot go home.
    assert any("blocks out first" in line for line in moves[2].look)


def test_the_way_back_is_the_way_on_reversed() -> None:
    made = sheet()
    assert [row[1] for row in made.back.rows] == [m.far for m in reversed(made.moves)]
    assert [row[2] for row in made.back.rows] == [
        "straight off wall A",
        "to the left along wall A",
        "straight off wall A",
    ]
    assert "lock" in made.back_rule
    assert "blocks go back in" in made.back_rule


def alone() -> Plan:
    """A short light shelf along one wall: one person may hang it (common practice: 30 lb, 6 ft, straight only)."""
    leg = replace(DESIGN.frame.legs[0], start=-1500.0, end=0.0)
    design = replace(
        DESIGN,
        frame=replace(DESIGN.frame, legs=(leg,)),
        bill=replace(DESIGN.bill, mass=9.0),
    )
    return replace(PLAN, designs=(design,))


def test_one_person_only_where_it_is_allowed() -> None:
    assert any("1 at the left end" in line for line in sheet().who)
    single = fitting_sheet(alone(), alone().designs[0], ())
    assert single.who[0].startswith("One person")
    assert all(m.who.startswith("Alone") for m in single.moves)


def test_who_holds_which_end_and_the_blocks_are_drawn() -> None:
    for k in range(3):
        drawing = move_view(DESIGN, k, SAY, BOX)
        said = words(drawing)
        assert said.count("1") == 1
        assert said.count("2") == 1
        blocks = [i for i in drawing.items if isinstance(i, Leader)]
        # Sample: a hold-off of 1/16 in; the blocks are out before the last move.
        assert [b.label for b in blocks] == (['block 1/16"'] if k < 2 else [])
    single = alone().designs[0]
    assert "1" not in words(move_view(single, 0, SAY, BOX))


def test_a_held_wall_gives_no_mark_away() -> None:
    made = sheet(sample.plan(("B",)))
    assert any("the rods of wall B" in line for m in made.moves for line in m.look)
    assert not any(mark in line for m in made.moves for line in m.look for mark in ("B1", "B3"))


def test_the_room_is_dimensioned_where_it_is_needed() -> None:
    said = words(room_view(DESIGN, SAY, BOX))
    assert '6 1/4" free' in said
    assert len([w for w in said if w.endswith("free")]) == 2


def test_a_turn_is_drawn_and_said_with_its_angle() -> None:
    # 0.1 rad is 5.73 degrees. To the left seen from above, the wall ahead: the right end goes to the wall.
    design = with_moves(Move(0.0, 200.0, 0.0, "in, tilted"), Move(0.0, 40.0, 0.1, "level up"))
    assert "the right end swings in, 5.73" in turned(0.1)
    assert turned(-0.1).startswith("the left end swings in")
    assert turned(0.0) == ""
    drawing = move_view(design, 1, SAY, BOX)
    assert any(w.startswith("turn 5.73") for w in words(drawing))
    assert len([i for i in drawing.items if isinstance(i, Arrow)]) == 2
    said = fitting_sheet(replace(PLAN, designs=(design,)), design, ())
    assert "the right end swings in" in said.moves[1].line
    assert "the right end swings out" in said.back.rows[0][2]


@dataclass(frozen=True)
class Tilted(Move):
    """A move that knows the point of the section it turns about."""

    about: tuple[float, float] = (0.0, 0.0)


def test_a_turn_is_about_the_point_the_move_names_on_any_wall() -> None:
    # By hand: a quarter turn to the left about (100, 0), then home: (200, 0) began at (100, -100).
    (first, _) = stances((Tilted(0.0, 0.0, math.pi / 2, "", (100.0, 0.0)),))
    assert first.place((200.0, 0.0)) == pytest.approx((100.0, -100.0))
    assert first.place((100.0, 0.0)) == pytest.approx((100.0, 0.0))
    # The same job with its walls turned on the plan is drawn the same.
    level = with_moves(Tilted(0.0, 40.0, 0.1, "", (300.0, -50.0)))
    turn = _Turn(0.7)
    other = replace(
        level,
        room=turn.room(level.room),
        frame=turn.frame(level.frame),
        way=turn.way(way_of(level)),
    )
    here, there = (way_of(facing(d)).moves[0] for d in (level, other))
    assert turned_about(there) == pytest.approx(turned_about(here))
    assert (there.dx, there.dy) == pytest.approx((here.dx, here.dy))


def looked_at(design: Design) -> WaysSheet:
    plan = replace(PLAN, designs=(design,))
    return ways_sheet(plan, design, (None,) * len(design.ways.ways), MEMO)


def test_ways_stand_side_by_side_with_what_they_cost() -> None:
    made = looked_at(DESIGN)
    assert [(w.name, w.state) for w in made.ways] == [
        ("Wall A first", "chosen"),
        ("Wall B first", "BLOCKED"),
    ]
    assert made.ways[1].lines == ('Move 1: window casing, short by 5 1/4".',)
    row, blocked = made.costs.rows
    (cost,) = alternatives(PLAN.job, DESIGN, MEMO)
    assert row[3] == SAY.bare(cost.longest_span)
    drops = (cost.drop.today.value, cost.drop.long_term.value) if cost.drop else ()
    assert row[6:] == (tuple(map(SAY.drop, drops)) or ("cannot say", "cannot say"))
    assert blocked[:2] == ("Wall B first", "blocked: window casing")
    assert made.opens == ()


def test_without_a_way_the_page_says_what_opens_one() -> None:
    opening = Opening("remove", (), "window casing", 0.0, "first-B")
    stuck = replace(
        DESIGN,
        way=None,
        ways=replace(DESIGN.ways, ways=DESIGN.ways.ways[1:], chosen=None),
        openings=(opening,),
    )
    made = looked_at(stuck)
    assert made.chosen.startswith("No way goes")
    assert made.opens[0].startswith("Take away the window casing; then it goes on, wall B first")
    assert looked_at(replace(stuck, openings=())).opens[0].startswith("No single change")


def test_the_fitting_order_says_what_opens_a_way_and_whether_it_then_holds() -> None:
    """Without a memo nothing is judged, and that is said; the words of each verdict."""
    opening = Opening("remove", (), "window casing", 0.0, "first-B")
    stuck = replace(DESIGN, way=None, openings=(opening,))
    made = fitting_sheet(replace(PLAN, designs=(stuck,)), stuck, ())
    told = {note.head: note.lines for note in made.after}
    assert told["What opens a way"][0] == (
        "Take away the window casing; then it goes on, wall B first. "
        "Whether it then holds was not judged: run the check."
    )
    assert "before anything is cut" in told["What opens a way"][-1]
    plan = replace(PLAN, designs=(stuck,))
    words = [
        verdict_text(plan, stuck, found)
        for found in (
            Opened((), "passes", ""),
            Opened((), "fails", "Skin bends", 1.25),
            Opened((), "cannot say", "shelf low in the same studs or blocks"),
        )
    ]
    assert words[0] == "so changed it passes, its load limit not worked out"
    assert words[1] == "so changed it FAILS, skin bends: asked for 1.25 times what it can take"
    assert words[2].startswith("so changed it cannot be said to hold: shelf low")


def test_what_blocks_a_way_is_crossed_out() -> None:
    blocked = way_view(DESIGN, DESIGN.ways.ways[1], SAY, (90.0, 52.0))
    free = way_view(DESIGN, WAY, SAY, (90.0, 52.0))
    (thing,) = [o for o in DESIGN.room.obstacles if o.id == "window casing"]
    xs, ys = [p[0] for p in thing.plan], [p[1] for p in thing.plan]
    middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
    crossed = [getattr(i, "centre", None) for i in blocked.items]
    assert any(c is not None and c == pytest.approx(middle) for c in crossed)
    assert all(getattr(i, "centre", None) is None for i in free.items)


def test_the_scribe_on_the_rods_in_two_passes() -> None:
    # Common practice: hold off by the widest hollow and half a pencil; slots longer by that and 1/8 in.
    hold, longer = 0.25 * IN, 0.375 * IN
    made = scribe_sheet(PLAN, DESIGN, Scribing(hold, longer, ("A3 reaches the edging.",)), None)
    assert isinstance(made, ScribeSheet)
    values = {f.label: f.value for f in made.facts}
    assert values["Hold-off, first pass"] == '1/4"'
    assert values["Slots longer by"] == '3/8"'
    assert [p.head for p in made.passes] == ["First pass", "Second pass"]
    assert made.notes == ("A3 reaches the edging.",)
    given = {(s.wall, SAY.bare(s.remove)) for s in DESIGN.frame.scribe}
    shown = {(r[k], r[k + 2]) for r in made.stations.rows for k in (0, 3) if r[k]}
    assert shown == given
    assert 'block 1/4"' in words(scribe_view(DESIGN, hold, SAY, BOX))


def parted() -> Plan:
    """The showroom shelf in two sections, parted at its corner."""
    this = jobs.job("stoneware-corner-first-try")
    return full(replace(this, shelves=(replace(this.shelves[0], sections=2),)), MEMO, limits=False)


def test_each_of_two_sections_has_its_own_order_and_sees_the_other() -> None:
    plan = parted()
    one, two = (fitting_sheet(plan, design, ()) for design in plan.designs)
    assert one.about.startswith("shelf showroom, section 1 of 2")
    assert any("hung and locked before the other" in line for line in one.first[0].lines)
    assert any("closes the joint" in line for line in two.first[0].lines)
    assert two.moves[-1].look[-1] != ""
    assert any("joint shuts" in line for line in two.moves[-1].look)
    # It touches the first section, which is no narrow passage to be told of.
    assert not any("section 1 of 2 is passed" in line for m in two.moves for line in m.look)
    # What was hung last comes off first.
    assert "comes off first" in one.back_rule
    assert "comes off first" not in two.back_rule
    said = words(move_view(plan.designs[1], 0, SAY, BOX))
    assert "section 1, on the wall" in said
    assert "section 1, on the wall" not in words(move_view(plan.designs[0], 0, SAY, BOX))


def test_other_ways_to_make_it_stand_beside_the_ways_on() -> None:
    """Design.md section 5: shorter rods, two sections; figures by hand where there are any."""
    plan, memo = jobs.plan("stoneware-corner-first-try"), MEMO
    (design,) = plan.designs
    found = others(plan, design, memo)
    assert [each.id for each in found] == ["short-rods", "two-sections"]
    nothing = (None,) * len(design.ways.ways)
    made = ways_sheet(plan, design, nothing, memo, [(each, None) for each in found])
    rows = {row[0]: row for row in made.costs.rows}
    # Slots alone: four of 8 3/4 by 3/4 on A, three of 6 1/2 by 3/4 on B, in square feet.
    by_hand = (4 * 8.75 + 3 * 6.5) * 0.75 / 144
    assert float(rows["Two sections"][2].split()[0]) == pytest.approx(by_hand, rel=0.03)
    assert rows["Wall B first"][1].startswith("blocked: ")
    assert all(len(row) == len(made.costs.heads) == len(made.costs.widths) for row in rows.values())
    picture = option_view("Two sections", found[1].designs, SAY, (90.0, 52.0))
    assert {"1", "2"} <= set(words(picture))
    # Nothing of a rod on a withheld wall: seven rods, of which B has three.
    less = option_view("Two sections", found[1].designs, SAY, (90.0, 52.0), frozenset({"B"}))
    steel = [
        sum(isinstance(i, Fill) and i.pattern == "steel" for i in drawing.items)
        for drawing in (picture, less)
    ]
    assert steel == [7, 4]


def test_an_alcove_is_not_offered_what_it_is_already() -> None:
    plan, memo = jobs.plan("reading-alcove"), MEMO
    found = others(plan, plan.designs[0], memo)
    assert [each.id for each in found] == ["filler", "two-sections", "tight"]
    made = ways_sheet(plan, plan.designs[0], (None,), memo, [(each, None) for each in found])
    tight = made.ways[-1]
    assert (tight.state, made.costs.rows[-1][2]) == ("BLOCKED", "–")
    assert any("in the way" in line for line in tight.lines)


def test_a_gap_too_small_for_the_tape_is_told_as_less_than_its_mark() -> None:
    leg = next(g for g in DESIGN.frame.legs if g.wall == "B")
    wall = DESIGN.room.wall("B")
    hair = 0.5
    corners = [
        (leg.end + hair, 0.0),
        (leg.end + 50, 0.0),
        (leg.end + 50, 30.0),
        (leg.end + hair, 30.0),
    ]
    post = replace(DESIGN.room.obstacles[0], id="post", plan=tuple(wall.at(*c) for c in corners))
    post = replace(post, up=(0.0, 3000.0))
    near = replace(DESIGN, room=replace(DESIGN.room, obstacles=(post,)))
    made = fitting_sheet(replace(PLAN, designs=(near,)), near, ())
    assert any(
        'passed with less than 1/16" to spare' in line for m in made.moves for line in m.look
    )


def test_an_unusual_way_says_what_is_unusual() -> None:
    aslant = replace(
        WAY, kind="planned", guided=False, moves=(Move(100.0, 60.0, 0.0, "across"),), hold_off=0.0
    )
    design = replace(DESIGN, way=aslant)
    made = fitting_sheet(replace(PLAN, designs=(design,)), design, ())
    # By hand, wall A ahead: 60 is 2 3/8 in, 100 is 3 15/16 to the right.
    assert made.moves[0].line.startswith('Aslant, 2 3/8" in to wall A while 3 15/16" to the right')
    (note,) = made.first
    assert any("Nothing guides move 1" in line for line in note.lines)
    assert any("template" in line for line in note.lines)
    assert fitting_sheet(PLAN, DESIGN, ()).first == ()


def test_a_turn_is_as_far_as_its_farthest_corner_and_one_holds_the_end_that_is_in() -> None:
    """By hand: 0.01 rad about the left back corner: the farthest corner goes 0.01 times its distance (small angle)."""
    about = DESIGN.frame.legs[0].back[0]
    far = max(math.dist(about, p) for p in DESIGN.frame.outline)
    design = with_moves(Move(0.0, 200.0, 0.0, "in"), Move(0.0, 0.0, 0.01, "swing", about))
    step = fitting_sheet(replace(PLAN, designs=(design,)), design, ()).moves[1]
    assert step.far == SAY.length(2 * math.sin(0.005) * far)
    assert step.who == "1 calls. 1 holds the end that is in, 2 swings the other."
    # To the left seen from above, the wall ahead: the right end was out, so the left one was nearer.
    begin = fitting_sheet(replace(PLAN, designs=(design,)), design, ()).moves[0].look[0]
    assert "with the left end 0.57" in begin
    assert step.line.startswith("The right end swings in, 0.57")


def test_a_thing_past_the_end_of_its_wall_is_not_drawn() -> None:
    """One that stands wholly beyond what is shown leaves no ring to hatch."""
    wall = DESIGN.room.wall("A")
    start = wall.start - 300.0
    corners = [(start, 0.0), (start + 100.0, 0.0), (start + 100.0, 20.0), (start, 20.0)]
    past = replace(
        DESIGN.room.obstacles[0], id="past", wall="A", plan=tuple(wall.at(*c) for c in corners)
    )
    past = replace(past, up=(0.0, 3000.0))
    things = (*DESIGN.room.obstacles, past)
    far = replace(DESIGN, room=replace(DESIGN.room, obstacles=things))
    assert words(move_view(far, 0, SAY, BOX))


def test_words_beside_the_core_map() -> None:
    plan = jobs.plan("reading-alcove-first-try")
    made = pages(plan, {})["core reading"]
    assert isinstance(made, CoreSheet)
    facts = {f.label: f for f in made.facts}
    core = plan.designs[0].core
    assert core is not None
    # Both faces of every piece, by the shoelace formula.
    shoelace = sum(
        abs(
            sum(
                a[0] * b[1] - b[0] * a[1]
                for a, b in zip(p.plan, (*p.plan[1:], p.plan[0]), strict=True)
            )
        )
        for p in core.pieces
    )
    assert facts["Glue area"].value == f"{shoelace / 1e6:.3g} m2"
    assert facts["Longest skin span"].under == "limit 330 mm"
    told = {note.head: note.lines for note in made.notes}
    # Twice the side play of 2: 4 at 45 degrees, more than the 1/8 in that is the least (common practice).
    assert any("eased 4 mm" in line for line in told["Mouths and slots"])
    # Groove of the scene: 17 x 8, 30 from the front, in a skin of 15.
    assert any("from 30 to 47" in line and "7 mm" in line for line in told["Light and cable"])
    kinds = {
        "sealant": "A dab of sealant on the bar, where ringed",
        # 15 of skin, 1 of play and 1.5 of flat.
        "grub screw": "M6 grub screw, 17.5 mm or longer, in a threaded insert, flush inside, where ringed, over its "
        "rod's flat, bored as its own table says",
    }
    (where,) = (
        w
        for w in (". Out from the wall: ", ". Behind the front of the skins: ")
        if w in told["Locks"][0]
    )
    how, figures = told["Locks"][0].split(where)
    assert how == kinds[plan.designs[0].spec.lock.kind]
    assert where.startswith(". Behind") is (plan.designs[0].spec.lock.kind == "grub screw")
    assert re.fullmatch(r"B2 [\d.]+ mm; B3 [\d.]+ mm\.", figures)


def test_an_insert_is_told_from_the_front_as_the_slots_beside_it_are() -> None:
    """On the bench there is no wall. By plane geometry: from the lock to the line of the skins' front, by shapely."""
    design = jobs.plan("stoneware-corner").designs[0]
    assert design.spec.lock.kind == "grub screw"
    inch = Say("in", "en-US")
    line = next(n.lines[0] for n in core_rules(design, inch) if n.head == "Locks")
    (leg,) = design.frame.legs
    edge = LineString(leg.front)
    marks = {rod.id: rod.mark for rod in design.frame.rods}
    told = line.split("Behind the front of the skins: ")[1]
    assert design.core is not None
    for at in design.core.locks:
        behind = edge.distance(Point(at.at)) - design.spec.edging_thick
        (figure,) = (f for f in told.rstrip(".").split("; ") if marks[at.rod] in f)
        assert figure.endswith(inch.length(behind))
    # Each lies between the end of its slot, nearer to the front, and the back.
    assert 0 < behind < leg.depth - design.spec.edging_thick


def test_pieces_are_named_by_their_numbers_on_the_map() -> None:
    core = jobs.plan("reading-alcove").designs[0].core
    assert core is not None
    first, last = core.pieces[0].id, core.pieces[-1].id
    said = by_number(f"Between {first} and {last} the skins run on.", core)
    assert said == f"Between piece 1 and piece {len(core.pieces)} the skins run on."


def test_the_map_draws_locks_mouths_grooves_and_cables() -> None:
    """Two locks; four mouths of two strokes; the groove dashed; a cable way cross-hatched beside the slots."""
    plan = jobs.plan("reading-alcove")
    (design,) = plan.designs
    way = design.way
    cable = Cable("back", 300.0, 10.0, None, "")
    spec = replace(design.spec, cables=(cable,))
    with_cable = replace(design, spec=spec, core=lay_core(spec, design.frame, way))
    mm = Say("mm", "en-GB")
    before, after = (core_map_view(d, mm, (182.0, 170.0)) for d in (design, with_cable))
    assert sum(isinstance(i, Circle) for i in before.items) == 2
    assert sum(isinstance(i, Polyline) and i.layer == "mark" for i in before.items) == 8
    assert sum(isinstance(i, Polyline) and i.layer == "hidden" for i in before.items) == 1

    def no_wood(drawing: Drawing) -> int:
        return sum(isinstance(i, Fill) and i.pattern == "no wood" for i in drawing.items)

    assert (no_wood(before), no_wood(after)) == (4, 5)
    assert any(w.startswith("cable from") for w in words(after))
