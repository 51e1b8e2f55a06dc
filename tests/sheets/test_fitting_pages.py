"""The fitting order, the ways side by side, the scribe: against dense replays, hand figures, facts of the trade."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import pytest
from shapely import affinity
from shapely.geometry import Point, Polygon

from ledgewright.draw import Arrow, Drawing, Leader, Text, lay
from ledgewright.fitting import Move, Opening, Way
from ledgewright.judge import Design, alternatives
from ledgewright.memo import Memo
from ledgewright.plan import Plan
from ledgewright.sheets import pages
from ledgewright.sheets.directions import turned
from ledgewright.sheets.model import FittingSheet, ScribeSheet, WaysSheet
from ledgewright.sheets.order import fitting_sheet
from ledgewright.sheets.say import Say
from ledgewright.sheets.scribed import Scribing, scribe_sheet
from ledgewright.sheets.seen import ways_sheet
from ledgewright.sheets.stance import (
    entering,
    free_room,
    held_places,
    passed,
    stances,
    turned_about,
)
from ledgewright.sheets.views import move_view, room_view, scribe_view, way_view
from ledgewright.sheets.views.facing import _Turn, facing
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
    assert moves[0].look[0].startswith("1 watches the tips of A1 to A4")
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
    assert "the left end swings in" in said.back.rows[0][2]


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
    return ways_sheet(plan, design, (None,) * len(design.ways.ways), Memo())


def test_ways_stand_side_by_side_with_what_they_cost() -> None:
    made = looked_at(DESIGN)
    assert [(w.name, w.state) for w in made.ways] == [
        ("Wall A first", "chosen"),
        ("Wall B first", "BLOCKED"),
    ]
    assert made.ways[1].lines == ('Move 1: window casing, short by 5 1/4".',)
    (row,) = made.costs.rows
    (cost,) = alternatives(PLAN.job, DESIGN, Memo())
    assert row[2] == SAY.bare(WAY.loss.widest)
    assert row[3] == SAY.bare(cost.longest_span)
    assert row[6] == (SAY.drop(cost.drop.today.value) if cost.drop else "cannot say")
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
    assert made.opens[0].startswith("Take away the window casing; then first-B goes on")
    assert looked_at(replace(stuck, openings=())).opens[0].startswith("No single change")


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
