"""The scribed outline laid against the true walls; the blank's place against scans of the turn by brute force."""

from __future__ import annotations

import math
import random
from functools import cache
from itertools import pairwise

import numpy as np
import pytest
from scipy.spatial import ConvexHull
from shapely.affinity import rotate, translate
from shapely.geometry import LineString, Point, Polygon

from ledgewright import plane, survey
from ledgewright.job import Spec
from ledgewright.layout import Placed, frame, placed
from ledgewright.layout.edges import Scribed, sawn_outline, scribed
from ledgewright.layout.placing import Edge, best_turn, lay
from ledgewright.survey import Room
from tests.layout import walls
from tests.survey import taped

SEEDS = range(32)


def drawn(name: str) -> random.Random:
    return random.Random(name)  # noqa: S311  # cases, not secrets


@cache
def lain(site: walls.Site) -> tuple[Placed | None, Room, Spec]:
    return placed(site.room, site.spec)


def worked(site: walls.Site) -> tuple[Room, tuple[Scribed, ...], Polygon]:
    """The edges and the sawn outline of a site, laid as the program lays it."""
    _, room, spec = lain(site)
    edges = scribed(room, spec)
    return room, edges, Polygon(sawn_outline(room, spec, frame(room, spec), edges))


def lies_true(seed: int) -> int:
    """The sawn outline against the walls of the room as taped, which knows of no turn; returns how many were turned."""
    site = walls.site(seed)
    found, room, spec = lain(site)
    assert found is not None
    edges = scribed(room, spec)
    outline = Polygon(sawn_outline(room, spec, frame(room, spec), edges))
    within = site.spec.scribe_tolerance
    for edge in edges:
        solid = walls.solid(site, edge.wall)
        gap = site.spec.end_gap if edge.side != "back" else 0.0
        # Never in the wall: what overlaps is less than the rounding of the linear program along the whole edge.
        assert outline.intersection(solid).area < 1e-4, (seed, edge.wall)
        wall = site.room.wall(edge.wall)
        true = LineString([wall.at(*p) for p in wall.line])
        ends = 3.0 * within + gap
        for a, b in pairwise(edge.cuts):
            for k in range(21):
                x = a[0] + (b[0] - a[0]) * k / 20
                if not ends < x < edge.cuts[-1][0] - ends:
                    continue
                point = Point(edge.at((x, a[1] + (b[1] - a[1]) * k / 20)))
                assert outline.exterior.distance(point) < 1e-6, (seed, edge.wall)
                assert true.distance(point) <= (within + gap) + 1e-4, (seed, edge.wall, x)
    return int(found.turn != 0)


def test_the_sawn_outline_never_enters_a_wall_and_never_gaps_more_than_the_tolerance() -> None:
    turned = sum(lies_true(seed) for seed in SEEDS)
    assert len(SEEDS) / 4 < turned < len(SEEDS)


@pytest.mark.soak
def test_the_sawn_outline_against_the_walls_of_many_more_sites() -> None:
    assert sum(lies_true(seed) for seed in range(1000, 3000)) > 500


def test_reading_the_walls_along_turned_lines_moves_no_point_of_them() -> None:
    for seed in SEEDS:
        site = walls.site(seed)
        _, room, _ = lain(site)
        for before, after in zip(site.room.walls, room.walls, strict=True):
            old = [before.at(*p) for p in before.line]
            new = [after.at(*p) for p in after.line]
            assert max(math.dist(p, q) for p, q in zip(old, new, strict=True)) < 1e-9


def test_a_turn_that_is_made_saves_what_it_says() -> None:
    """Bows along the turned lines are those of the placing, and less than along the strings by what is said."""
    turned = 0
    for seed in SEEDS:
        site = walls.site(seed)
        found, room, spec = lain(site)
        assert found is not None
        if not found.turn:
            assert found.saved < 0.8 + 1e-6
            continue
        turned += 1
        assert found.saved >= 0.8
        for name, most in zip(found.edges, found.best.most, strict=True):
            for edge in scribed(room, spec):
                if name == f"wall {edge.leg}" and edge.side == "back":
                    assert edge.bow == pytest.approx(most, abs=0.02), (seed, name)
    assert turned > len(SEEDS) / 4


def test_the_string_held_along_the_shelf_gives_the_same_shelf() -> None:
    """The wall is one and the same: gaps taken anew from the lines it was turned to leave nothing to turn."""
    turned = 0
    for seed in SEEDS:
        site = walls.site(seed)
        found, room, spec = lain(site)
        assert found is not None
        if site.kind == "alcove" or not found.turn:
            continue
        turned += 1
        anew = []
        for wall in room.walls:
            gaps = [(s, 50.0 - out) for s, out in wall.line]
            anew.append(taped.wall(wall.id, wall.end, gaps))
        corners = [
            taped.corner(c.left, c.right, turn=c.turn, angle=c.angle) for c in site.room.corners
        ]
        there = survey.room(taped.tapes(anew, corners), spec.top)
        again, same, as_it_was = placed(there, spec)
        assert again is not None
        assert (again.turn, same, as_it_was) == (0.0, there, spec)
        before, after = frame(room, spec), frame(there, spec)
        for one, two in ((before.outline, after.outline), (before.blank, after.blank)):
            assert Polygon(one).area == pytest.approx(Polygon(two).area, rel=1e-9)
        for mine, other in zip(scribed(room, spec), scribed(there, spec), strict=True):
            assert np.array(mine.face) == pytest.approx(np.array(other.face), abs=1e-6)
    assert turned > 5


def edges_of(pick: random.Random, corners: int) -> tuple[Edge, ...]:
    """A straight blank, an L, or one between two returns, by hand: bowed walls a little askew."""
    askew, normals = pick.uniform(-0.02, 0.02), ((0.0, 1.0), (1.0, 0.0), (-1.0, 0.0))
    made = []
    for nx, ny in normals[:corners]:
        course = plane.right((nx, ny))
        start = plane.scale((nx, ny), 900.0)
        wall = []
        for k in range(9):
            s = (k - 4) * pick.uniform(150, 200)
            h = askew * s + pick.uniform(0, 6)
            wall.append(plane.along(plane.along(start, course, s), (nx, ny), h))
        made.append(Edge(f"{nx} {ny}", (nx, ny), tuple(wall), 930.0))
    return tuple(made)


def spread(edges: tuple[Edge, ...], turn: float) -> float:
    """What a blank needs at one turn: walls turned back, by the geometry library."""
    most = 0.0
    for edge in edges:
        line = rotate(LineString(edge.wall), -turn, origin=(0, 0), use_radians=True)
        heights = [x * edge.normal[0] + y * edge.normal[1] for x, y in line.coords]
        most = max(most, max(heights) - min(heights))
    return most


@pytest.mark.parametrize("corners", [1, 2, 3])
def test_no_turn_needs_less_by_a_fine_scan(corners: int) -> None:
    for seed in range(8):
        edges = edges_of(drawn(f"{corners} {seed}"), corners)
        laid = best_turn(edges, (0.0, 0.0))
        assert spread(edges, laid.turn) == pytest.approx(laid.eaten, abs=1e-9)
        scan = min(spread(edges, turn) for turn in np.linspace(-0.05, 0.05, 401))
        assert laid.eaten <= scan + 1e-9
        # 0.01 mm over the reach of the blank, as the re-linearising is to be held to.
        around = [laid.turn + step for step in (-1e-5, 1e-5)]
        assert laid.eaten <= min(spread(edges, turn) for turn in around) + 1e-3


def test_the_narrowest_strip_lies_along_a_side_of_the_hull() -> None:
    """For one wall the least is the width of its convex hull (rotating calipers), by another library."""
    for seed in range(20):
        (edge,) = edges_of(drawn(f"hull {seed}"), 1)
        points = np.array(edge.wall)
        widths = []
        for a, b in points[ConvexHull(points).simplices]:
            n = np.array([a[1] - b[1], b[0] - a[0]]) / math.dist(a, b)
            widths.append(float(np.ptp(points @ n)))
        assert best_turn([edge], (0.0, 0.0)).eaten == pytest.approx(min(widths), abs=1e-9)


def test_a_blank_as_made_reaches_its_walls_and_loses_the_least_on_the_true_turn() -> None:
    """The pose moves a polygon of the blank; it is held against the walls' points and against poses beside it."""
    pick = drawn("poses")
    for seed in range(12):
        edges = edges_of(drawn(f"lay {seed}"), 2)
        laid = lay(edges, (300.0, 300.0))
        assert laid.short < 1e-6
        assert taken(edges, laid.turn, laid.shift, laid.pivot) == pytest.approx(
            (laid.eaten, 0.0), abs=1e-6
        )
        for _ in range(60):
            turn = laid.turn + pick.gauss(0, 2e-4)
            shift = (laid.shift[0] + pick.gauss(0, 0.2), laid.shift[1] + pick.gauss(0, 0.2))
            most, least = taken(edges, turn, shift, laid.pivot)
            assert least < 1e-6 or most >= laid.eaten - 1e-6


def taken(
    edges: tuple[Edge, ...], turn: float, shift: tuple[float, float], pivot: tuple[float, float]
) -> tuple[float, float]:
    """The most and the least that is taken off: distances from wall points to the moved edge, inside it positive."""
    cuts = []
    for edge in edges:
        assert edge.at is not None
        foot = plane.scale(edge.normal, edge.at)
        course = plane.right(edge.normal)
        line = LineString([plane.along(foot, course, s) for s in (-1e5, 1e5)])
        moved = translate(rotate(line, turn, origin=pivot, use_radians=True), *shift)
        (ax, ay), (bx, by) = moved.coords
        for x, y in edge.wall:
            cuts.append(
                ((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / -math.hypot(bx - ax, by - ay)
            )
    return max(cuts), min(cuts)


def test_a_blank_too_small_says_by_how_much() -> None:
    """Between two returns 8 mm apart in spread, a blank 5 mm too short fails by half of it at either end."""
    back = Edge("back", (0.0, 1.0), ((-500.0, 0.0), (500.0, 0.0)), 4.0)
    left = Edge("left", (-1.0, 0.0), ((-500.0, 0.0), (-500.0, -300.0)), 497.5)
    right = Edge("right", (1.0, 0.0), ((500.0, 0.0), (500.0, -300.0)), 497.5)
    laid = lay((back, left, right), (0.0, 0.0))
    assert laid.short == pytest.approx(2.5, abs=1e-6)
    assert laid.least[1:] == pytest.approx((-2.5, -2.5), abs=1e-6)


@pytest.mark.parametrize("seed", range(12))
def test_mirror_images_and_the_other_end_of_the_tape_agree(seed: int) -> None:
    site, glass, other = (
        walls.site(seed),
        walls.site(seed, mirror=True),
        walls.site(seed, other_tape=True),
    )
    _, edges, outline = worked(site)
    sign = {glass: -1, other: 1}
    for image in (glass, other):
        turned, mine = lain(image)[0], lain(site)[0]
        assert turned is not None
        assert mine is not None
        assert turned.best.turn == pytest.approx(sign[image] * mine.best.turn, abs=1e-7)
        assert bool(turned.turn) == bool(mine.turn)
        _, seen, ring = worked(image)
        found = {(e.wall, flip(e.side) if image is glass else e.side): e for e in seen}
        assert len(found) == len(edges)
        for edge in edges:
            like = found[edge.wall, edge.side]
            assert (len(like.cuts), len(like.marks)) == (len(edge.cuts), len(edge.marks))
            assert (like.most, like.bow) == pytest.approx((edge.most, edge.bow), abs=1e-6)
        # In the mirror others of the fewest cuts may be taken, all within the tolerance.
        far = sum(edge.cuts[-1][0] - edge.cuts[0][0] for edge in edges)
        loose = site.spec.scribe_tolerance * far if image is glass else 1e-4 * far
        assert ring.area == pytest.approx(outline.area, abs=loose)


def flip(side: str) -> str:
    return {"left": "right", "right": "left"}.get(side, side)
