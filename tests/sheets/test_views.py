"""The drawings of the corner sample: what stands on them, where, and what must not."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations

import pytest
from shapely.geometry import Polygon

from ledgewright import plane
from ledgewright.draw import Arrow, Circle, Drawing, Fill, Text, TooLarge, lay, size, svg, text_ring
from ledgewright.judge import Design
from ledgewright.sheets.say import Say
from ledgewright.sheets.views import (
    core_map_view,
    cover_view,
    elevation_view,
    move_view,
    piece_numbers,
    plan_view,
    room_view,
    scribe_view,
    section_view,
    stations,
    way_view,
)
from ledgewright.sheets.views.common import crossings, widest_gap, wrapped
from ledgewright.sheets.views.facing import facing
from ledgewright.site import Leave
from tests.sheets.sample import plan

IN = 25.4
SAY = Say("in", "en-US")
BOX = (188.0, 170.0)
PLAN = plan()
DESIGN: Design = PLAN.designs[0]
LEAVE: dict[str, Leave] = {wall: leave for _, wall, leave in PLAN.leave}
WITHHELD: dict[str, Leave] = {wall: leave for _, wall, leave in plan(("B",)).leave}
HELD = frozenset({"B"})

ALL: dict[str, Drawing] = {
    "cover": cover_view(DESIGN, SAY, BOX),
    "plan": plan_view(DESIGN, SAY, BOX),
    "wall A": elevation_view(DESIGN, "A", LEAVE["A"], SAY, BOX, "the floor's high point"),
    "wall B": elevation_view(DESIGN, "B", LEAVE["B"], SAY, BOX),
    "wall B withheld": elevation_view(DESIGN, "B", WITHHELD["B"], SAY, BOX),
    "section A": section_view(DESIGN, "A.s2", SAY, BOX),
    "section B": section_view(DESIGN, "B.s1", SAY, BOX),
    "section B held": section_view(DESIGN, "B.s1", SAY, BOX, held=True),
    "core": core_map_view(DESIGN, SAY, BOX),
    **{f"move {k}": move_view(DESIGN, k, SAY, (90.0, 72.0)) for k in range(3)},
    "room": room_view(DESIGN, SAY, BOX),
    "scribe": scribe_view(DESIGN, 6.35, SAY, BOX),
    **{way.id: way_view(DESIGN, way, SAY, (90.0, 52.0)) for way in DESIGN.ways.ways},
}


def texts(drawing: Drawing) -> list[Text]:
    return [flat for flat in lay(drawing) if isinstance(flat, Text)]


def words(drawing: Drawing) -> list[str]:
    return [text.text.replace("\u00a0", " ") for text in texts(drawing)]


@pytest.mark.parametrize("name", ALL)
def test_no_lettering_stands_on_other_lettering(name: str) -> None:
    rings = [(t.text, Polygon(text_ring(t))) for t in texts(ALL[name])]
    over = [(a, b) for (a, p), (b, q) in combinations(rings, 2) if p.intersection(q).area > 0.05]
    assert not over


@pytest.mark.parametrize("name", ALL)
def test_lettering_can_be_read_and_is_set_in_its_box(name: str) -> None:
    # At least 2.5 mm (the project's own rule: 11 points are 3.9 mm for most).
    drawing = ALL[name]
    assert all(t.size >= 3.4 for t in texts(drawing))
    width, height = size(drawing)
    assert width <= BOX[0]
    assert height <= BOX[1]


@pytest.mark.parametrize("name", ALL)
def test_scales_are_round(name: str) -> None:
    over = 1 / ALL[name].scale
    assert over == pytest.approx(round(over))


def test_same_design_same_bytes() -> None:
    again = plan().designs[0]
    assert svg(plan_view(again, SAY, BOX)) == svg(ALL["plan"])
    assert svg(core_map_view(again, SAY, BOX)) == svg(ALL["core"])


def test_a_wall_card_runs_from_the_hook_end_with_both_stud_edges() -> None:
    # The job file of the stoneware corner: studs of wall A by edges, and by hand the middle of each.
    said = words(ALL["wall A"])
    for edge in ("14 11/16", "16 3/16", "30 13/16", "32 5/16", "46 9/16", "48 1/8", "63 1/8"):
        assert edge in said
    for mark in ("A1 15 7/16", "A2 31 9/16", "A3 47 11/32", "A4 63 7/8"):
        assert mark.replace(" ", "  ", 1) in said
    assert "0  hook here" in said
    assert {"LEFT", "RIGHT", "TOP  54 3/8"} <= set(said)
    assert any("Tape from the right end as you face the wall" in word for word in said)


def test_holes_stand_at_true_scale_and_mirror_nothing() -> None:
    # By hand from the scene: A1 and A2 lie 16 1/8 apart; the tape is hooked on the right, so A2 is left of A1.
    drawing = ALL["wall A"]
    holes = sorted((c for c in drawing.items if isinstance(c, Circle)), key=lambda c: -c.centre[0])
    assert holes[0].centre[0] - holes[1].centre[0] == pytest.approx(16.125 * IN)
    assert all(c.radius == pytest.approx(0.375 * IN) for c in holes)
    assert holes[0].centre[1] == pytest.approx((54.375 - 0.734 - 21 / 64) * IN)


def test_wall_b_counts_from_its_left_end() -> None:
    holes = [c.centre[0] for c in ALL["wall B"].items if isinstance(c, Circle)]
    assert holes == pytest.approx([v * IN for v in (14.1875, 30.3125, 46.0625)])


def no_holes(drawing: Drawing) -> None:
    said = " | ".join(words(drawing))
    for secret in ("14 3/16", "30 5/16", "46 1/16", "B1", "B2", "B3", "53 5/16", "LEVEL LINE"):
        assert secret not in said
    assert "dia" not in said


def test_a_withheld_wall_shows_studs_and_no_hole() -> None:
    drawing = ALL["wall B withheld"]
    no_holes(drawing)
    assert not [c for c in drawing.items if isinstance(c, Circle)]
    assert any(w.startswith("WITHHELD") for w in words(drawing))
    assert "13 7/16" in words(drawing)


def test_leave_for_another_wall_or_none_opens_nothing() -> None:
    for leave in (LEAVE["A"], None):
        no_holes(elevation_view(DESIGN, "B", leave, SAY, BOX))


def test_a_held_wall_gives_its_rods_away_nowhere() -> None:
    no_holes(plan_view(DESIGN, SAY, BOX, HELD))
    no_holes(ALL["section B held"])
    for k in range(3):
        no_holes(move_view(DESIGN, k, SAY, BOX, HELD))
    steel = {
        name: sum(isinstance(i, Fill) and i.pattern == "steel" for i in drawing.items)
        for name, drawing in (
            ("plan", plan_view(DESIGN, SAY, BOX, HELD)),
            ("move", move_view(DESIGN, 0, SAY, BOX, HELD)),
            ("section", ALL["section B held"]),
        )
    }
    assert steel == {"plan": 4, "move": 4, "section": 0}
    hidden = [i for i in cover_view(DESIGN, SAY, BOX, HELD).items if i.layer == "hidden"]
    assert len(hidden) == 4


def test_a_section_says_what_the_scene_says() -> None:
    # From the job file: depth 3 1/8, stick-out 8 1/4 and 6, cut 12 1/32 and 9 13/16, hole 3/4, end clearance 1/2.
    a, b = words(ALL["section A"]), words(ALL["section B"])
    assert {"3 1/8", "21/32", "8 1/4", "1/2", "saw to 12 1/32"} <= set(a)
    assert {"3 1/8", "11/16", "6", "1/2", "saw to 9 13/16"} <= set(b)
    assert 'hole 3/4" dia, epoxy thickened' in a
    assert {"TOP", "FRONT", "2 1/8"} <= set(a)


def test_a_section_is_true_to_scale() -> None:
    # The bar of A2 by hand: 12 1/32 long and 5/8 high, 3 1/8 of it in the stud.
    steel = [i for i in ALL["section A"].items if isinstance(i, Fill) and i.pattern == "steel"]
    x0, y0, x1, y1 = plane.box(steel[0].ring)
    assert x1 - x0 == pytest.approx(12.03125 * IN)
    assert -x0 == pytest.approx(3.125 * IN)
    assert y1 - y0 == pytest.approx(0.625 * IN)


def test_a_rod_in_the_corner_of_an_l_is_cut_off_at_its_own_leg() -> None:
    # A rod 3 in from the corner looks down the whole of leg B: no front edge lies on its line.
    rod = next(r for r in DESIGN.frame.rods if r.id == "A.s1")
    moved = replace(rod, origin=(-3 * IN, rod.origin[1], rod.origin[2]))
    frame = replace(DESIGN.frame, rods=(moved,))
    said = words(section_view(replace(DESIGN, frame=frame), "A.s1", SAY, BOX))
    assert "goes on" in said
    assert "FRONT" not in said


def test_one_section_of_each_sort_of_rod() -> None:
    assert stations(DESIGN.frame.rods) == ("A.s4", "B.s1")


def test_every_piece_of_core_has_its_number_once() -> None:
    assert DESIGN.core is not None
    numbers = piece_numbers(DESIGN.core)
    said = words(ALL["core"])
    assert list(numbers) == [p.id for p in DESIGN.core.pieces]
    assert all(said.count(number) == 1 for number in numbers.values())


def test_the_core_map_counts_from_the_back_left_corner() -> None:
    # By hand: leg A begins 69 1/4 left of the corner; the slot of A4 reaches from 63 7/8 + 3/8 to
    # 63 7/8 - 3/8 - 6 1/4 from the corner, so from 5 to 12 from the leg's own left end.
    said = words(ALL["core"])
    assert {"A4 from  5", "A4 to  12", "end  50 1/8"} <= set(said)
    assert any(w.startswith("Cross-hatched: NO WOOD") for w in said)


def test_no_core_map_where_a_wall_is_held() -> None:
    with pytest.raises(ValueError, match="wall B may not be drilled"):
        core_map_view(DESIGN, SAY, BOX, HELD)


def test_a_move_is_drawn_as_far_as_it_goes() -> None:
    # From the job file: about 6 1/4 to the right, onto wall B.
    (arrow,) = [i for i in ALL["move 1"].items if isinstance(i, Arrow)]
    assert plane.sub(arrow.end, arrow.start)[1] == pytest.approx(0.0, abs=1e-9)
    assert arrow.end[0] > arrow.start[0]
    assert '6 1/4"' in words(ALL["move 1"])
    with pytest.raises(IndexError):
        move_view(DESIGN, 3, SAY, BOX)


def test_turning_keeps_every_figure() -> None:
    turned = facing(DESIGN)
    assert turned is DESIGN
    quarter = facing(_turned_quarter())
    direction = quarter.room.wall("A").direction
    assert direction == pytest.approx((1.0, 0.0))
    for a, b in zip(quarter.frame.rods, DESIGN.frame.rods, strict=True):
        assert quarter.room.wall(a.wall).figures(a.point(0)) == pytest.approx(
            DESIGN.room.wall(b.wall).figures(b.point(0)), abs=1e-6
        )
    assert plane.area(quarter.frame.outline) == pytest.approx(plane.area(DESIGN.frame.outline))
    assert quarter.way is not None
    assert DESIGN.way is not None
    for m, n in zip(quarter.way.moves, DESIGN.way.moves, strict=True):
        assert (m.dx, m.dy) == pytest.approx((n.dx, n.dy), abs=1e-6)


def _turned_quarter() -> Design:
    from ledgewright.sheets.views.facing import _Turn

    turn = _Turn(math.pi / 2)
    assert DESIGN.way is not None
    return replace(
        DESIGN,
        room=turn.room(DESIGN.room),
        frame=turn.frame(DESIGN.frame),
        way=turn.way(DESIGN.way),
    )


def test_crossings_by_hand() -> None:
    square = ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0))
    assert crossings(square, (-2.0, 1.0), (1.0, 0.0)) == [pytest.approx((2.0, 6.0))]
    u = ((0, 0), (6, 0), (6, 4), (4, 4), (4, 2), (2, 2), (2, 4), (0, 4))
    assert crossings(u, (-1.0, 3.0), (1.0, 0.0)) == [
        pytest.approx((1.0, 3.0)),
        pytest.approx((5.0, 7.0)),
    ]


def test_words_go_where_there_is_room() -> None:
    assert widest_gap((0.0, 100.0), [10.0, 20.0, 90.0]) == pytest.approx(55.0)
    assert wrapped("one two three", 1000.0, 4.0) == "one two three"
    assert wrapped("one two three", 1.0, 4.0) == "one\ntwo\nthree"


def test_too_little_paper_is_said() -> None:
    with pytest.raises(TooLarge):
        plan_view(DESIGN, SAY, (30.0, 30.0))
