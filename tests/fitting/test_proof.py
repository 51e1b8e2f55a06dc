"""What the planner answers, held against brute force, in a mirror, with a stud more, and from the other tape."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
from shapely.geometry import Polygon

from ledgewright import layout, survey
from ledgewright.fitting import Way, Ways, classic, search, ways
from ledgewright.fitting.setting import past_mouth, setting
from ledgewright.job import Leg
from ledgewright.judge import Design
from ledgewright.survey import Obstacle
from tests.fitting import looked, made, mirror, rooms
from tests.fitting.brute import brute, goes
from tests.fitting.replay import replay
from tests.layout import asked
from tests.survey import taped

AGAINST = (
    "brute force over moves; mirror images; the other tape",
    "separate route in the test",
    "a millimetre, or exact",
)

EXAMPLES = Path(__file__).parents[2] / "examples"
CORNER = (EXAMPLES / "stoneware-corner-first-try.toml").read_text(encoding="utf-8")


def forced(job: rooms.Job) -> bool:
    """Whether brute force finds a way over the stops that the search lists, and no others."""
    here = setting(job.room, job.frame, 12.0)
    stops = search.lattice(here, classic.plans(here))
    u = here.axes[0]
    out = -(stops @ np.array(u)) >= past_mouth(here, here.outline, u) - 1e-9
    return goes(brute(job.room, job.frame), stops, out)


def agreed(seeds: Sequence[int]) -> tuple[int, int]:
    """Brute force and planner say the same of straight moves; how often neither goes, and how often both."""
    found = [0, 0]
    for seed in seeds:
        said = rooms.looked_at(seed, small=True)
        straight = any(w.possible and w.kind != "tilt" for w in said.ways)
        assert forced(rooms.job(seed, small=True)) is straight, seed
        found[straight] += 1
    return found[0], found[1]


@pytest.mark.parametrize("start", range(0, 100, 20))
def test_no_way_and_a_way_are_what_brute_force_finds(start: int) -> None:
    none, some = agreed(range(start, start + 20))
    assert none >= 1
    assert some >= 5


@pytest.mark.soak
@pytest.mark.parametrize("start", range(100, 1900, 100))
def test_no_way_and_a_way_are_what_brute_force_finds_on_many(start: int) -> None:
    none, some = agreed(range(start, start + 100))
    assert none >= 10
    assert some >= 40


@pytest.mark.parametrize(("gap", "found"), [(1.0, True), (-1.0, False)])
def test_brute_force_itself_can_say_no(gap: float, found: bool) -> None:
    """A shelf between two posts as far out as it is deep: it goes between them or it does not, to a millimetre."""
    posts = [
        made.box("left post", (60.0, -900.0), (100.0 - gap, -260.0)),
        made.box("right post", (700.0 + gap, -900.0), (740.0, -260.0)),
    ]
    room = made.straight_room(length=1000.0, right=False, obstacles=posts)
    frame = made.straight_frame((100.0, 100.0), (700.0, 700.0))
    here = brute(room, frame)
    stops = np.array([[0.0, 0.0], [0.0, -200.0], [0.0, -400.0]])
    assert goes(here, stops, np.array([False, True, True])) is found


def figures(found: Ways, side: float = 1.0) -> list[object]:
    """Every way as figures that must agree, x by `side`."""
    return [
        (
            way.id,
            way.possible,
            way.guided,
            round(way.hold_off, 6),
            [
                (round(side * m.dx, 6) + 0.0, round(m.dy, 6) + 0.0, round(side * m.turn, 9) + 0.0)
                for m in way.moves
            ],
            sorted((b.by, b.move, round(b.short_by, 5)) for b in way.blocked),
        )
        for way in found.ways
    ]


def areas(way: Way) -> dict[str, float]:
    total: dict[str, float] = {}
    for channel in way.channels:
        total[channel.rod] = total.get(channel.rod, 0.0) + channel.area
    return total


@pytest.mark.parametrize("start", range(0, 60, 20))
def test_a_mirror_gives_the_same_answer_of_every_kind_of_job(start: int) -> None:
    """Round either corner, in alcoves, beside things, with rods as set: same ways, mirrored moves, equal areas."""
    for seed in range(start, start + 20):
        job, here = rooms.job(seed, small=True), rooms.looked_at(seed, small=True)
        there = ways(
            mirror.room(job.room), mirror.frame(job.frame), edging=12.0, max_span=rooms.SPAN
        )
        assert (there.chosen, there.searched) == (here.chosen, here.searched), seed
        assert figures(there, -1.0) == figures(here), seed
        for a, b in zip(here.ways, there.ways, strict=True):
            assert areas(a) == pytest.approx(areas(b), abs=1e-6), seed
            assert Polygon(a.room_needed).area == pytest.approx(
                Polygon(b.room_needed).area, abs=1e-3
            )


def worked(text: str) -> Design:
    return looked.designs(text)[0]


@pytest.fixture(scope="module")
def as_shipped() -> Design:
    return worked(CORNER)


def test_a_stud_more_without_a_rod_moves_no_rod_and_no_way(as_shipped: Design) -> None:
    before = 'studs = [["14 11/16"'
    assert before in CORNER
    found = worked(CORNER.replace(before, 'studs = [["5 1/4", "6 3/4"], ["14 11/16"'))
    assert len(found.room.wall("A").members) == len(as_shipped.room.wall("A").members) + 1
    spots = [[(r.origin, r.axis, r.mark) for r in d.frame.rods] for d in (as_shipped, found)]
    assert spots[0] == spots[1]
    assert figures(found.ways) == figures(as_shipped.ways)
    plans = [[[c.plan for c in w.channels] for w in d.ways.ways] for d in (as_shipped, found)]
    assert plans[0] == plans[1]


LENGTH = Fraction(705, 8)
"""Wall A of the corner is 88 1/8 long."""


def inches(text: str) -> Fraction:
    return sum((Fraction(part) for part in text.split()), Fraction(0))


def from_the_other_end(text: str) -> str:
    """The same job with wall A taped from its left end: every figure of that wall is the rest of its length."""

    def rest(figure: str) -> float:
        return float(LENGTH - inches(figure))

    def place(found: re.Match[str]) -> str:
        return f'"A {rest(found[1])}"'

    head, wall, tail = re.split(r"(?s)(\[\[wall\]\]\nid = \"A\".*?(?=\[\[wall\]\]))", text)
    wall = wall.replace('tape_from = "right"', 'tape_from = "left"')
    pairs = re.findall(r"\[(\d+), \"?([\d /]+)\"?\]", wall)
    line = ", ".join(f"[{rest(s)}, {float(inches(gap))}]" for s, gap in reversed(pairs))
    wall = re.sub(r"line = .*", f"line = [{line}]", wall)
    studs = re.findall(
        r"\[\"([\d /]+)\", \"([\d /]+)\"\]", wall.split("studs = ")[1].split("\n")[0]
    )
    edges = ", ".join(f"[{rest(b)}, {rest(a)}]" for a, b in reversed(studs))
    wall = re.sub(r"studs = .*", f"studs = [{edges}]", wall)
    tail = re.sub(r"\"A ([\d /]+)\"", place, tail)
    tail = re.sub(
        r'(wall = "A"\nalong = )\["([\d /]+)", "([\d /]+)"\]',
        lambda m: f"{m[1]}[{rest(m[3])}, {rest(m[2])}]",
        tail,
    )
    ends = f"from = {rest('69 1/4')}, to = {float(LENGTH)}"
    return head + wall + tail.replace('wall = "A", to = "69 1/4"', f'wall = "A", {ends}')


def test_a_wall_taped_from_its_other_end_gives_the_same_answer(as_shipped: Design) -> None:
    found = worked(from_the_other_end(CORNER))
    assert found.room.wall("A").tape_from == "left"
    assert as_shipped.room.wall("A").tape_from == "right"
    assert found.ways.chosen == as_shipped.ways.chosen
    for a, b in zip(as_shipped.frame.rods, found.frame.rods, strict=True):
        assert math.dist(a.origin, b.origin) == pytest.approx(
            math.dist(as_shipped.frame.rods[0].origin, found.frame.rods[0].origin), abs=1e-6
        )
        assert a.axis == pytest.approx(b.axis, abs=1e-9)
        assert a.cut_length == pytest.approx(b.cut_length, abs=1e-6)
    for one, other in zip(as_shipped.ways.ways, found.ways.ways, strict=True):
        assert (one.id, one.possible, one.guided) == (other.id, other.possible, other.guided)
        moves = [np.array([(m.dx, m.dy) for m in w.moves]) for w in (one, other)]
        assert moves[0] == pytest.approx(moves[1], abs=1e-6)
        assert [c.area for c in one.channels] == pytest.approx(
            [c.area for c in other.channels], abs=1e-4
        )
        assert [(b.by, b.move) for b in one.blocked] == [(b.by, b.move) for b in other.blocked]


@pytest.mark.parametrize("degrees", [75.0, 85.0, 90.0, 95.0, 105.0])
def test_an_outside_corner_sharper_than_square_is_not_in_its_own_way(degrees: float) -> None:
    """The solid behind one face of a pier does not come out of the other: its home is free at any angle."""
    walls = [
        taped.wall("P", 1500.0, tape_from="right", members=[(381.0, 419.0), (781.0, 819.0)]),
        taped.wall("Q", 1500.0, members=[(381.0, 419.0), (781.0, 819.0)]),
    ]
    bend = taped.corner("P", "Q", turn="outside", angle=math.radians(degrees))
    room = survey.room(taped.tapes(walls, [bend]), 1365.0)
    pins = [asked.rod(w, f"{w}.s{k}", 200.0) for w in "PQ" for k in (1, 2)]
    frame = layout.frame(room, asked.shelf([Leg("P", -900.0, 0.0), Leg("Q", 0.0, 900.0)], pins))
    found = ways(room, frame)
    assert [b.by for w in found.ways for b in w.blocked if "home" in b.by] == []
    for way in found.ways:
        if way.possible:
            replay(room, frame, way)


def test_a_chest_in_the_inner_corner_leaves_no_way(as_shipped: Design) -> None:
    """A box filling the inner corner in front of an L: every way in is blocked, and brute force agrees."""
    frame, room = as_shipped.frame, as_shipped.room
    inner = np.array(frame.legs[0].front[1])
    ring = [
        (inner[0] - 900, inner[1] - 900),
        (inner[0] - 5, inner[1] - 900),
        (inner[0] - 5, inner[1] - 5),
    ]
    block = Obstacle("chest", "A", (*ring, (inner[0] - 900, inner[1] - 5)), (0.0, 2000.0))
    job = rooms.Job(0, "corner", survey.Room(room.walls, room.corners, (block,), ()), frame)
    assert ways(job.room, job.frame).chosen is None
    assert not forced(job)
