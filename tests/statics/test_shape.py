"""What the pictures of the statics show: the drop that is read off, moments that balance, lines of equal height."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from types import SimpleNamespace
from typing import cast

import numpy as np
import pytest
from scipy.linalg import expm

from ledgewright.draw import Leader, Text
from ledgewright.job import Basis
from ledgewright.sheets.say import Say
from ledgewright.sheets.views.shape import (
    clear_of,
    contour,
    drop_view,
    forces_view,
    levels,
    spacing,
)
from ledgewright.statics import NOMINAL, Surface
from ledgewright.statics.beam import bed
from ledgewright.statics.formula import Working
from ledgewright.statics.mechanics.contact import Floats
from ledgewright.statics.mechanics.contact_rods import Answer
from ledgewright.statics.mechanics.section.energy import PER_NODE
from ledgewright.statics.one_rod import HUNG
from ledgewright.statics.patterns import Pattern, Solved
from ledgewright.statics.seats import Seat
from ledgewright.statics.shape import lines, surface
from ledgewright.statics.stand import seats
from tests.jobs import job, plan
from tests.statics import made
from tests.statics.test_on_section import Case, usual

AGAINST = (
    "planes and dishes with known lines; balance of moments",
    "hand calculation",
    "1e-9 to 2 %",
)


def flat(of: Callable[[float, float], float], n: int = 20) -> Surface:
    """A surface over a square of 100 mm, from a function of x and y."""
    at = np.linspace(0.0, 100.0, n + 1)
    points = [(float(x), float(y)) for y in at for x in at]
    cells = [
        (k, k + 1, k + n + 2, k + n + 1)
        for j in range(n)
        for k in range(j * (n + 1), j * (n + 1) + n)
    ]
    return Surface("", tuple(points), tuple(of(x, y) for x, y in points), tuple(cells))


def test_lines_of_a_plane_are_straight_and_of_a_dish_round() -> None:
    # Plane z = 0.03 x + 0.04 y: the line z = 2.5 is 0.6 x + 0.8 y = 50, 50 mm from the corner.
    strokes = list(contour(flat(lambda x, y: 0.03 * x + 0.04 * y), 2.5))
    ends = [p for stroke in strokes for p in stroke]
    assert [0.6 * x + 0.8 * y for x, y in ends] == pytest.approx([50.0] * len(ends))
    # It enters at (83.33, 0) and leaves at (0, 62.5).
    length = sum(math.dist(a, b) for a, b in strokes)
    assert length == pytest.approx(math.dist((50 / 0.6, 0.0), (0.0, 62.5)))
    # Dish z = r^2 about the middle: the line z = 900 is a circle of 30 mm.
    strokes = list(contour(flat(lambda x, y: (x - 50) ** 2 + (y - 50) ** 2, 80), 900.0))
    radii = [math.dist((50.0, 50.0), p) for stroke in strokes for p in stroke]
    assert radii == pytest.approx([30.0] * len(radii), rel=2e-3)
    assert sum(math.dist(a, b) for a, b in strokes) == pytest.approx(2 * math.pi * 30, rel=2e-3)


def test_lines_stand_at_round_figures() -> None:
    assert spacing(1.3, "mm") == 0.2
    assert levels([0.0, 1.3], 0.2) == pytest.approx([0.2, 0.4, 0.6, 0.8, 1.0, 1.2])
    assert levels([-0.5, 0.1], 0.2) == pytest.approx([-0.4, -0.2, 0.0])
    assert spacing(25.4 / 32, "in") == 25.4 / 128
    assert spacing(1e4, "mm") == 1e4 / 8
    strokes = [((0.0, 0.0), (2.0, 0.0)), ((8.0, 0.0), (10.0, 0.0))]
    taken = [((0.0, 0.0), (3.0, 3.0))]
    assert clear_of(strokes, taken, 1.0) == (9.0, 0.0)
    assert clear_of(strokes[:1], taken, 1.0) is None
    assert clear_of(strokes[:1], taken, 4.0) == (1.0, 0.0)


@pytest.mark.parametrize("basis", ["nds", "ec5"])
def test_the_surface_drops_in_front_as_the_front_is_read(basis: Basis) -> None:
    case = usual(basis)
    held = case.judged()
    assert held.surface is not None
    assert held.drop is not None
    assert held.surface.case == held.drop.today.case
    # Skins end at the edging, 10 mm behind the front: as the shelf turns about the wood, 236 + 20 mm behind there, the
    # edge goes down 4 % further and what bends in front of the rods a little more.
    most = max(held.surface.down)
    assert most < held.drop.today.value < 1.08 * most
    # Skins end at the edging, 10 mm behind the front.
    _, y = held.surface.points[held.surface.down.index(most)]
    assert y == pytest.approx(-240.0, abs=1.0)
    outline = np.array(case.frame.outline)
    assert (np.array(held.surface.points) >= outline.min(axis=0) - 1e-6).all()
    assert (np.array(held.surface.points) <= outline.max(axis=0) + 1e-6).all()


def test_every_rods_moment_is_that_of_what_presses_on_it() -> None:
    held = usual("nds").judged()
    bent = {row.place.member: row for row in held.checks if row.family == "rod.bend" and row.place}
    assert len(held.lines) == 3
    for line in held.lines:
        at, moment = np.array(line.at), np.array(line.moment)
        face = int(np.flatnonzero(at == 0.0)[0])
        # Both halves meet at the wood; the moment dies out at either end.
        assert moment[face] == pytest.approx(moment[face + 1], rel=1e-9)
        size = abs(moment).max()
        assert abs(moment[[0, -1]]).max() < 1e-6 * size
        # By hand: what presses, times its lever, and the rod's own weight (7850 kg/m3, 5/8 in round, 236 mm).
        touch, press = np.array(line.touch), np.array(line.top) - np.array(line.bottom)
        weight = 7.85e-6 * 9.81 * math.pi * 15.875**2 / 4
        by_hand = np.trapezoid(press * touch, touch) + weight * line.at[-1] ** 2 / 2
        assert moment[face] == pytest.approx(by_hand, rel=0.02)
        row = bent[line.rod.partition(".")[2]]
        assert size == pytest.approx(row.demand, rel=0.01)


def pair(case: Case) -> tuple[Solved, Solved]:
    """Everything on in service, and the shelf by itself."""
    search = case.search()
    dead = np.array([atom.kind == "dead" for atom in case.actions.atoms])
    hung = search.case(HUNG, Pattern("hung", dead))
    loaded = next(
        c
        for c in search.cases.values()
        if c.combination.situation == "service" and not c.pattern.name and c.pattern.proud is None
    )
    assert hung is not None
    return loaded, hung


def test_the_surface_is_what_the_answer_reads_at_its_places() -> None:
    # Two routes: the answer reads by reciprocity from the sites alone, the surface solves every movement again.
    case = usual("nds")
    loaded, hung = pair(case)
    whole, turned = case.stood.today, case.stood.turned
    moved = [
        whole.move(
            whole.under(case.actions.force(each.factors)), each.answer.pushed, each.answer.whole
        )
        for each in (loaded, hung)
    ]
    change = moved[0] - moved[1]
    sites = whole.sites[-len(case.stood.reads) :]
    at = np.array([(site.x, site.y) for site in sites])
    slopes = [whole.value(change, at, "top", "w", *d) for d in ((1, 0), (0, 1))]
    on = sum(slope * [site.reach[k] for site in sites] for k, slope in enumerate(slopes))
    read = whole.value(change, at, "top") + on
    asked = loaded.answer.read - hung.answer.read
    assert abs(read - asked).max() < 1e-9 * abs(asked).max()
    found = surface(turned, case.actions, loaded, hung)
    place = {
        (round(x, 6), round(y, 6)): change[PER_NODE * k]
        for k, (x, y) in enumerate(whole.grid.place)
        if whole.grid.skin[k] == 0
    }
    again = [place[round(x, 6), round(y, 6)] for x, y in map(turned.at, found.points)]
    assert len(again) == len(place)
    assert abs(np.array(again) - found.down).max() < 1e-9 * max(found.down)


def test_an_even_load_on_a_shelf_that_is_its_own_mirror_image_drops_it_evenly() -> None:
    even = made.demand(made.even(0.002), accidents=())
    case = Case(made.straight([200.0, 500.0, 800.0]), even)
    found = surface(case.stood.turned, case.actions, *pair(case))
    places = [(round(x, 4), round(y, 4)) for x, y in found.points]
    down = dict(zip(places, found.down, strict=True))
    most = max(found.down)
    assert most > 0.05
    assert all(abs(d - down[round(1000.0 - x, 4), y]) < 1e-9 * most for (x, y), d in down.items())


def test_rods_are_in_balance_and_bend_in_the_wood_as_a_beam_on_springs_does() -> None:
    """Cantilever by hand in front of the wood; inside, the beam's own differential equation by matrix exponential."""
    case = usual("nds")
    seated, solved = seats(case.stood.rows), list(case.search().cases.values())
    strong = [c for c in solved if c.combination.situation == "strength"]
    for i, (seat, line) in enumerate(zip(seated, lines(seated, solved, NOMINAL), strict=True)):
        rod = max((c.answer.rods[i] for c in strong), key=lambda r: abs(r.M))
        at, moment, touch = np.array(line.at), np.array(line.moment), np.array(line.touch)
        # Gregory's rule: 3/8, 7/6, 23/24 of a step at each end, whole steps between.
        ends = [3 / 8, 7 / 6, 23 / 24]
        step = np.array([*ends, *[1.0] * (len(touch) - 6), *ends[::-1]]) * (touch[1] - touch[0])
        press = (np.array(line.top) - np.array(line.bottom)) * step
        weight = rod.weight * rod.tip
        assert press.sum() + weight == pytest.approx(rod.V, rel=1e-9)
        assert press @ touch + weight * rod.tip / 2 == pytest.approx(rod.M, rel=1e-9)
        out = at > 0
        lever = np.clip(touch - at[out, None], 0.0, None)
        by_hand = lever @ press + rod.weight * (rod.tip - at[out]) ** 2 / 2
        assert moment[out] == pytest.approx(by_hand, rel=1e-9, abs=1e-9 * rod.M)
        inside = at <= 0
        springs = on_springs(seat, rod.V, rod.M, -at[inside])
        assert moment[inside] == pytest.approx(springs, abs=1e-7 * rod.M)


def on_springs(seat: Seat, V: float, M: float, depths: Floats) -> Floats:
    """Moments of a rod in the wood, Euler and Bernoulli on Winkler springs by matrix exponential.

    y' = -t, t' = -M/EI, M' = V, V' = -k y; no force at the far end.
    """
    lying = bed(Working(keep=False), seat, NOMINAL)
    slope = np.zeros((4, 4))
    slope[0, 1], slope[1, 2] = -1.0, -1.0 / (lying.E * lying.I)
    slope[2, 3], slope[3, 0] = 1.0, -lying.k
    through, start = expm(slope * lying.L), np.array([0.0, 0.0, M, V])
    start[:2] = np.linalg.solve(through[2:, :2], -through[2:, 2:] @ start[2:])
    return np.array([(expm(slope * x) @ start)[2] for x in depths])


@pytest.mark.parametrize(("V", "M"), [(90.0, -6e4), (-90.0, 6e4), (-90.0, -6e4), (0.0, 0.0)])
def test_a_rod_that_is_pulled_up_or_turned_back_bends_in_the_wood_with_its_sign(
    V: float, M: float
) -> None:
    """A shelf that is loaded past its last rod pries others up: found as an error of the load limit."""
    case = usual("nds")
    seated, solved = seats(case.stood.rows), list(case.search().cases.values())
    for index, seat in enumerate(seated):
        changed = [
            replace(
                each, answer=cast("Answer", SimpleNamespace(rods=rods, faces=each.answer.faces))
            )
            for each in solved
            for rods in [[replace(rod, V=V, M=M) for rod in each.answer.rods]]
        ]
        line = lines(seated, changed, NOMINAL)[index]
        at, moment = np.array(line.at), np.array(line.moment)
        # The last place of nothing is the first in front of the wood, where the skins press as they did.
        inside = int((at <= 0).sum()) - 1
        springs = on_springs(seat, V, M, -at[:inside])
        assert moment[:inside] == pytest.approx(springs, abs=1e-3)


@pytest.mark.parametrize("basis", ["nds", "ec5"])
def test_no_picture_says_less_than_the_check_of_the_same_rod(basis: Basis) -> None:
    # The greatest moment lies between two even places; drawn without its own, labels fell up to 0.2 % short.
    held = usual(basis).judged()
    bent = {row.place.member: row for row in held.checks if row.family == "rod.bend" and row.place}
    for line in held.lines:
        row = bent[line.rod.partition(".")[2]]
        assert max(map(abs, line.moment)) == pytest.approx(row.demand, rel=1e-9)


@pytest.mark.parametrize("name", ["stoneware-corner-first-try", "reading-alcove"])
def test_pictures_are_drawn_with_their_figures_and_hide_withheld_rods(name: str) -> None:
    design, say = plan(name).designs[0], Say.of(job(name).meta)
    assert design.holds.surface is not None
    shown = drop_view(design, design.holds.surface, say, (180.0, 125.0))
    texts = [item.label for item in shown.items if isinstance(item, Leader)]
    assert any(text.startswith("most, at the edge: ") for text in texts)
    walls = {rod.wall for rod in design.frame.rods}
    marks = {rod.mark for rod in design.frame.rods}
    held_ones: tuple[frozenset[str], ...] = (frozenset(), frozenset(walls))
    for held in held_ones:
        view = forces_view(design, design.holds.lines, say, (180.0, 170.0), held)
        lettered = {item.text for item in view.items if isinstance(item, Text)}
        assert marks <= lettered if not held else not marks & lettered
