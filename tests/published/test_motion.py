"""Motion cases of the reference notes on survey and motion, section 3 (data/motion.json, with their sources).

Every case is accounted for: motion-01 to 04 by the sums and sweeps that ways are tried with, the pin cases by the
channels, motion-ladder and motion-alcove-turn by the poses and the sweep of a section that turns.
"""

from __future__ import annotations

import json
import math
import random
from pathlib import Path
from typing import Any

import pytest
import shapely
from shapely.affinity import scale
from shapely.geometry import Polygon

from ledgewright import plane
from ledgewright.fitting import Channel, Move, channels, sweep
from ledgewright.fitting.pose import Pose
from ledgewright.layout import Frame
from ledgewright.plane import Point
from tests.fitting import made

AGAINST = (
    "reference notes on motion; configuration-space obstacles; longest plank round a corner",
    "derived or computed outside the project, as each case says",
    "3e-7 to half a unit of the last printed digit",
)

CASES = {
    c["id"]: c
    for c in json.loads(
        (Path(__file__).parent / "data" / "motion.json").read_text(encoding="utf-8")
    )
}
PIN_A, PIN_B = 600.0, 500.0
DEEP, FAR = 200.0, 1000.0


def case(name: str) -> tuple[dict[str, Any], dict[str, Any]]:
    return CASES[name]["inputs"], CASES[name]["expected"]


def square_sum(shape: sweep.Shape, low: Point, side: float) -> sweep.Shape:
    """Minkowski sum with a square: two sweeps, as a square is the sum of two segments."""
    return sweep.moved(sweep.swept(sweep.swept(shape, (side, 0.0)), (0.0, side)), low)


def same(shape: sweep.Shape, ring: list[Point]) -> bool:
    return bool(shape.symmetric_difference(Polygon(ring)).area < 1e-9)


def test_triangle_and_square() -> None:
    given, expected = case("motion-01")
    total = square_sum(Polygon(given["P"]), (-1.0, -1.0), 2.0)
    assert total.area == pytest.approx(expected["area"])
    ring = sweep.as_ring(sweep.parts(total)[0])
    assert {(round(x, 9), round(y, 9)) for x, y in ring} == {tuple(p) for p in expected["vertices"]}


def test_triangle_past_triangle() -> None:
    """The travel that clears agrees with the configuration-space obstacle, row by row."""
    given, expected = case("motion-02")
    obstacle, robot = given["obstacle"], given["robot_reference_at_origin"]
    ring = plane.hull([plane.sub(p, q) for p in obstacle for q in robot])
    assert set(ring) == {tuple(p) for p in expected["cspace_obstacle"]}
    assert len(ring) == expected["edges"]
    assert plane.area(ring) == expected["area"]
    # Starting inside the obstacle, the reference point leaves the same polygon after the same travel.
    blocked = Polygon(expected["cspace_obstacle"])
    for start in ((0.0, 0.0), (1.0, 0.5), (-1.0, 1.0), (2.5, -1.0)):
        line = shapely.LineString([start, (start[0] - 100.0, start[1])])
        leaves = line.intersection(blocked).length
        travel = sweep.travel_to_clear(
            sweep.moved(Polygon(robot), start), Polygon(obstacle), (1.0, 0.0)
        )
        assert travel == pytest.approx(leaves)


def test_l_against_l() -> None:
    given, expected = case("motion-03")
    whole = Polygon(given["L"])
    for name, turn in (("L_plus_L", 1.0), ("L_plus_reflected_L", -1.0)):
        arms = [shapely.box(0, 0, 3, 1), shapely.box(0, 0, 1, 3)]
        assert whole.equals(shapely.union_all(arms))
        parts = []
        for arm in arms:
            x0, y0, x1, y1 = scale(arm, turn, turn, origin=(0, 0)).bounds
            parts.append(
                sweep.moved(
                    sweep.swept(sweep.swept(whole, (x1 - x0, 0.0)), (0.0, y1 - y0)), (x0, y0)
                )
            )
        total = sweep.union(parts)
        assert total.area == pytest.approx(expected[name]["area"])
        assert same(total, expected[name]["outline"])


def test_slotted_box() -> None:
    """Contact rule: touching is a hit, so a square as wide as the slot stays out."""
    given, expected = case("motion-04")
    walls = shapely.box(0, 0, 5, 5).difference(
        shapely.union_all([shapely.box(1, 1, 4, 4), shapely.box(2, 4, 3, 5)])
    )
    assert isinstance(walls, Polygon)
    for k, side in enumerate(given["square_sides"]):
        blocked = square_sum(walls, (-side / 2, -side / 2), side)
        assert blocked.area == pytest.approx(expected["sum_area"][k])
        trapped = sum(Polygon(h).area for p in sweep.parts(blocked) for h in p.interiors)
        assert trapped == pytest.approx(expected["trapped_pocket_area_of_centre"][k])
        assert (trapped == 0) is (expected["enters"][k] is True)


def pinned(given: dict[str, Any]) -> Frame:
    """The L of the pin cases: wall A is y = 0, wall B is x = 0, the shelf is in x > 0, y > 0."""
    outline = ((0, 0), (900, 0), (900, DEEP), (DEEP, DEEP), (DEEP, 800), (0, 800))
    pins = [
        made.rod("a", "A", (given.get("a", PIN_A), 0.0), (0.0, 1.0), given["lA"], size=given["d"]),
        made.rod("b", "B", (0.0, given.get("b", PIN_B)), (1.0, 0.0), given["lB"], size=given["d"]),
    ]
    return made.frame(tuple((float(x), float(y)) for x, y in outline), pins)


def path(*stops: Point) -> list[Move]:
    ends = [*stops[1:], (0.0, 0.0)] if stops[-1] != (0.0, 0.0) else list(stops[1:])
    return [Move(b[0] - a[0], b[1] - a[1], 0.0, "") for a, b in zip(stops, ends, strict=False)]


def cut(frame: Frame, moves: list[Move]) -> tuple[Channel, Channel]:
    found = channels(frame, moves)
    assert [c.rod for c in found] == ["a", "b"]
    return found[0], found[1]


def width(channel: Channel, at: float, figure: int) -> float:
    """How wide a channel is at a depth: its corners there are exact."""
    places = [p[figure] for p in channel.plan if abs(p[1 - figure] - at) < 1e-9]
    return max(places) - min(places)


@pytest.mark.parametrize("name", ["motion-pins-1", "motion-pins-2", "motion-pins-3"])
def test_pins_on_the_diagonal(name: str) -> None:
    given, expected = case(name)
    a, b = cut(pinned(given), path((given["k"] * FAR, FAR)))
    assert width(a, 0.0, 0) == pytest.approx(expected["mouthA"])
    assert width(b, 0.0, 1) == pytest.approx(expected["mouthB"])
    assert width(a, given["lA"], 0) == pytest.approx(expected["blind"])
    assert width(b, given["lB"], 1) == pytest.approx(expected["blind"])
    assert a.area == pytest.approx(expected["areaA"])
    assert b.area == pytest.approx(expected["areaB"])
    flares = (width(a, 0.0, 0) - given["d"]) * (width(b, 0.0, 1) - given["d"])
    assert flares == pytest.approx(given["lA"] * given["lB"])
    # One side stays square, the other flares towards the inside corner.
    assert max(p[0] for p in a.plan) == pytest.approx(PIN_A + given["d"] / 2)
    assert max(p[1] for p in b.plan) == pytest.approx(PIN_B + given["d"] / 2)


def test_pins_two_steps() -> None:
    given, expected = case("motion-pins-5")
    a, b = cut(pinned(given), path((60.0, FAR), (60.0, 0.0)))
    assert width(a, 0.0, 0) == pytest.approx(expected["mouthA"])
    assert width(a, given["lA"], 0) == pytest.approx(expected["blindA"])
    assert a.area == pytest.approx(expected["areaA"])
    assert width(b, 0.0, 1) == pytest.approx(expected["mouthB"])
    assert width(b, given["lB"], 1) == pytest.approx(expected["blindB"])
    assert b.area == pytest.approx(expected["areaB"])


def test_pins_straight_onto_one_wall() -> None:
    given, expected = case("motion-pins-6")
    a, b = cut(pinned(given), path((0.0, FAR)))
    assert width(a, 0.0, 0) == pytest.approx(expected["mouthA"])
    assert a.area == pytest.approx(expected["areaA"])
    assert b.area == pytest.approx(expected["areaB"])
    assert max(p[1] for p in b.plan) == pytest.approx(given["b"] + given["d"] / 2)
    assert max(p[0] for p in b.plan) == pytest.approx(given["lB"])


def extra(given: dict[str, Any], moves: list[Move]) -> tuple[float, float]:
    a, b = cut(pinned(given), moves)
    return a.area - given["d"] * given["lA"], b.area - given["d"] * given["lB"]


def test_pins_area_invariant() -> None:
    """The example of the note, then monotone paths of three moves from the far corner of the box."""
    assert "at least lA*lB" in case("motion-pins-7")[1]["extra_area_A_plus_extra_area_B"]
    given = {"d": 12, "lA": 150, "lB": 60}
    assert extra(given, path((60.0, FAR), (60.0, 0.0))) == pytest.approx((9000.0, 0.0))
    assert extra(given, path((0.4 * FAR, FAR))) == pytest.approx((4500.0, 4500.0))
    pick = random.Random(7)  # noqa: S311  # cases, not secrets
    for _ in range(20):
        xs = sorted((pick.uniform(0, 60) for _ in range(2)), reverse=True)
        ys = sorted((pick.uniform(0, 150) for _ in range(2)), reverse=True)
        moves = path((60.0, 150.0), *zip(xs, ys, strict=True), (0.0, 0.0))
        on_a, on_b = extra(given, moves)
        assert on_a + on_b == pytest.approx(150 * 60)


def round_the_corner(long: float, angle: float) -> Pose:
    """A plank whose outer edge slides on both outer walls of a corridor, x = 0 and y = 0; at 0 it lies along y = 0."""
    return Pose((0.0, long * math.sin(angle)), -angle)


def passes(long: float, a: float, b: float, wide: float) -> bool:
    """Whether the inner corner (a, b) stays off the plank all the way, seen from the plank at home."""
    angles = (math.pi / 2 * k / 4000 for k in range(4001))
    return all(round_the_corner(long, t).back((a, b))[1] >= wide for t in angles)


@pytest.mark.parametrize("number", range(6))
def test_longest_plank_round_a_corner(number: int) -> None:
    given, expected = case("motion-ladder")
    a, b, wide = given["cases"][number]
    low, high = 0.0, 10.0 * (a + b)
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if passes(middle, a, b, wide) else (low, middle)
    # 4000 places miss the least by long dt^2 / 8 or so, 2e-8 of the length.
    assert low == pytest.approx(expected["longest"][number], rel=3e-7)


@pytest.mark.parametrize(("over", "meets"), [(-0.5, False), (0.5, True)])
def test_the_sweep_of_a_turn_meets_the_corner_that_the_longest_plank_just_clears(
    over: float, meets: bool
) -> None:
    """Moves with a turn about the tightest place, atan of the cube root of b / a for a plank of no width."""
    given, expected = case("motion-ladder")
    a, b, wide = given["cases"][4]
    long = expected["longest"][4] + over
    plank = shapely.box(0.0, 0.0, long, wide)
    tight = math.atan((b / a) ** (1 / 3))
    stops = [round_the_corner(long, tight + (k - 10) * 0.004) for k in range(21)][::-1]
    solid = shapely.box(a, b, a + 500.0, b + 500.0)
    runs = sweep.swept_along(plank, stops)
    assert any(sweep.overlaps(run, solid) for run in runs) is meets


def test_a_board_turned_needs_its_diagonal() -> None:
    """The widest place of the turn is the diagonal, so an alcove narrower than that does not let it turn."""
    given, expected = case("motion-alcove-turn")
    board = shapely.box(0.0, 0.0, given["length"], given["depth"])
    middle = (given["length"] / 2, given["depth"] / 2)
    lean = math.atan2(given["depth"], given["length"])
    turned = sweep.placed(board, Pose((0.0, 0.0), lean, middle))
    low, high = sweep.extent(turned, (1.0, 0.0))
    assert high - low == pytest.approx(expected["diagonal"], abs=5e-4)
    (run,) = sweep.swept_along(
        board, [Pose((0.0, 0.0), lean + 0.1, middle), Pose((0.0, 0.0), lean - 0.1, middle)]
    )
    low, high = sweep.extent(run, (1.0, 0.0))
    # A sweep with a turn is never too small, and too large by 0.05 at each end at most.
    assert expected["diagonal"] - 5e-4 <= high - low <= expected["diagonal"] + 0.1
    for width, fits in ((expected["diagonal"] + 0.15, True), (expected["diagonal"] - 0.05, False)):
        side = shapely.box(middle[0] + width / 2, -900.0, middle[0] + width, 900.0)
        assert sweep.overlaps(run, side) is not fits


def test_every_motion_case_is_accounted_for() -> None:
    source = Path(__file__).read_text(encoding="utf-8")
    assert {name for name in CASES if f'"{name}"' not in source} == set()
