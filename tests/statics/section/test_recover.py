"""What skins, core and glue carry: closed forms of plates, strips and sandwiches, and balance of forces.

Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells (coefficients from memory, recomputed outside this
project); Allen, Analysis and Design of Structural Sandwich Panels (from memory); beam statics written out here.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from ledgewright.statics.mechanics.section import (
    Carried,
    Condensed,
    Fill,
    Held,
    Piece,
    Pressure,
    Section,
    Site,
    Skin,
    averaged,
    condense,
    cores,
    isotropic,
    near,
    orthotropic,
    skins,
)
from ledgewright.statics.mechanics.section.parts import Point
from tests.statics.section.made import NONE, SIDES, box, built_in, clamped, plate, sandwich, simple
from tests.statics.section.on_rods import on, rod, strip

AGAINST = (
    "Timoshenko and Woinowsky-Krieger; Allen (1969); beam statics by hand",
    "from memory, recomputed outside the project; hand calculation",
    "1e-12 to 1 %, said beside each check",
)

Floats = NDArray[np.float64]
UNIT = isotropic(E=12 * (1 - 0.09), nu=0.3, thick=1.0)
"""A sheet of D = 1."""
EVEN = orthotropic(E_along=8000, E_across=8000, nu=0.0, G=4000, thick=9.0)


def moved(made: Condensed, *loads: Pressure) -> Floats:
    return made.load(*loads).moved


def at(carried: Carried, point: Point) -> int:
    return int(np.argmin(np.hypot(*(carried.places - np.array(point)).T)))


def edges(a: float, b: float) -> tuple[tuple[Point, Point], ...]:
    return (((0, 0), (0, b)), ((a, 0), (a, b)), ((0, 0), (a, 0)), ((0, b), (a, b)))


@pytest.mark.parametrize(
    ("ratio", "across", "along"),
    [(1.0, 0.0479, 0.0479), (1.5, 0.0812, 0.0498), (2.0, 0.1017, 0.0464), (3.0, 0.1189, 0.0406)],
)
def test_moments_amid_a_simply_supported_plate(ratio: float, across: float, along: float) -> None:
    # M/(q a^2), a the short side: half a unit of the last digit, and 0.5 % for the mesh.
    section = plate(box(0, 0, 1, ratio), UNIT, *(simple(*e) for e in edges(1, ratio)))
    made = condense(section, [Site(0.5, 0.5)], mesh=1 / 16, lines=[(0.5, ratio / 2)])
    (carried,) = skins(made, moved(made, Pressure(box(0, 0, 1, ratio), ratio)), "top", "nodes")
    found = carried.moment[at(carried, (0.5, ratio / 2))]
    assert found[:2] == pytest.approx([across, along], abs=5.1e-5, rel=5e-3)
    assert abs(found[2]) < 1e-6


def test_moment_at_a_clamped_edge_is_met_and_not_half_a_cell_short_of_it() -> None:
    section = plate(box(0, 0, 1, 1), UNIT, *(clamped(*e) for e in edges(1, 1)))
    made = condense(section, [Site(0.5, 0.5)], mesh=1 / 16)
    answer = moved(made, Pressure(box(0, 0, 1, 1), 1.0))
    (nodes,), (inside,) = (skins(made, answer, "top", w) for w in ("nodes", "truest"))
    assert nodes.moment[at(nodes, (0, 0.5)), 0] == pytest.approx(-0.0513, rel=0.01)
    assert inside.moment[:, 0].min() > -0.050


def test_strip_carries_the_moment_and_shear_of_a_cantilever() -> None:
    # M = -q (L - x)^2/2 and V = q (L - x) per width, nu 0. A straight line through the 2 x 2 points of a cell of
    # length h meets a parabola's ends short by q h^2/12.
    L, b, q = 300.0, 100.0, 1e-3
    held = clamped((0, 0), (0, b))
    section = plate(box(0, 0, L, b), EVEN, held, thick=9.0)
    made = condense(section, [Site(L, 0)], mesh=25)
    answer = moved(made, Pressure(box(0, 0, L, b), q * L * b))
    (nodes,) = skins(made, answer, "top", "nodes")
    x = nodes.places[:, 0]
    assert nodes.moment[:, 0] == pytest.approx(-q * (L - x) ** 2 / 2, abs=1.01 * q * 25**2 / 12)
    (amid,) = skins(made, answer, "top", "middles")
    x = amid.places[:, 0]
    assert amid.shear[:, 0] == pytest.approx(q * (L - x), abs=2e-3 * q * L)
    assert amid.area.sum() == pytest.approx(L * b, rel=1e-12)


@pytest.mark.parametrize("grain", [0.0, math.pi / 2])
@pytest.mark.parametrize("G", [10.0, 600.0])
def test_sandwich_balances_moment_and_shear_in_every_section(G: float, grain: float) -> None:
    # Tip load on a cantilever: d N + M_1 + M_2 = -W (L - x) b and d int tau + V_1 + V_2 = W, whatever the core.
    t, c, b, L, W = 9.0, 22.0, 100.0, 400.0, 50.0
    d = c + t
    section = sandwich(box(0, 0, L, b), EVEN, thick=t, core=c, G=G)
    held = tuple(built_in((0, 0), (0, b), side) for side in SIDES)
    # G along x; a tenth of it along y, whichever way the grain runs.
    stiff = (G / 10, G) if grain else (G, G / 10)
    fills = (Fill(box(0, 0, L, b), *stiff, 1e6, grain=grain),)
    section = Section(section.top, section.bottom, c, fills, held=held)
    made = condense(section, [Site(L, b / 2)], mesh=20)
    answer = moved(made, Pressure(((L, 0), (L, b)), W))
    (top,), (bottom,) = (skins(made, answer, side, "middles") for side in SIDES)
    (core,) = cores(made, answer)
    assert core.area.sum() == pytest.approx(L * b, rel=1e-12)
    for x in np.unique(top.places[:, 0].round(6)):
        here = abs(top.places[:, 0] - x) < 1e-3
        arm = L - x
        moment = (top.moment + bottom.moment)[here, 0].mean() + d * bottom.force[here, 0].mean()
        assert moment * b == pytest.approx(-W * arm, rel=3e-3, abs=2e-3 * W * L)
        assert top.force[here, 0].mean() == pytest.approx(-bottom.force[here, 0].mean(), rel=1e-6)
        strip = abs(core.places[:, 0] - x) < 10
        # Across a grain along y points to -x.
        tau = -core.shear[strip, 1].mean() if grain else core.shear[strip, 0].mean()
        shear = (top.shear + bottom.shear)[here, 0].mean() + d * tau
        # The cell at the clamp sees only the mean of what changes there within its length.
        assert abs(shear) * b == pytest.approx(W, rel=5e-3 if x > 20 else 0.05)


def test_core_shear_and_face_stress_of_a_stiff_cored_sandwich() -> None:
    # Allen, faces against the whole: tau = W/(b d) (1 - 2 EI_f/EI), sigma_f = M d/2 E/EI, far from the ends.
    t, c, b, L, W, E = 6.0, 38.0, 300.0, 600.0, 100.0, 8000.0
    d = c + t
    sheet = orthotropic(E_along=E, E_across=E, nu=0.0, G=E / 2, thick=t)
    section = sandwich(box(0, 0, L, b), sheet, thick=t, core=c, G=600.0)
    held = tuple(built_in((0, 0), (0, b), side) for side in SIDES)
    section = Section(section.top, section.bottom, c, section.fills, held=held)
    made = condense(section, [Site(L, b / 2)], mesh=25)
    answer = moved(made, Pressure(((L, 0), (L, b)), W))
    (core,) = cores(made, answer)
    faces, whole = E * b * t**3 / 6, E * b * t**3 / 6 + E * b * t * d**2 / 2
    amid = abs(core.places[:, 0] - L / 2) < 20
    assert np.hypot(*core.shear[amid].T) == pytest.approx(
        W / (b * d) * (1 - faces / whole), rel=3e-3
    )
    (top,) = skins(made, answer, "top", "truest")
    near_half = abs(top.places[:, 0] - L / 2) < 20
    x = top.places[near_half, 0]
    expected = W * (L - x) * d / 2 * E / whole
    assert top.force[near_half, 0] / top.thick == pytest.approx(expected, rel=3e-3)
    # The top skin of a cantilever pressed down at its tip is pulled; its outer face is the more so.
    assert (top.moment[near_half, 0] < 0).all()


def test_grain_turns_forces_moments_and_shear_with_it() -> None:
    # The same plate with its grain along x, and drawn turned by 90 degrees with its grain along y.
    ply = orthotropic(E_along=9000.0, E_across=4500.0, nu=0.05, G=700.0, thick=12.0)

    def run(*, turn: bool) -> tuple[Any, ...]:
        plan = box(0, 0, 200, 300) if turn else box(0, 0, 300, 200)
        line: tuple[Point, Point] = ((0, 0), (200, 0)) if turn else ((0, 0), (0, 200))
        skin = Skin(12.0, (Piece(plan, ply, math.pi / 2 if turn else 0.0),))
        section = Section(skin, NONE, 1.0, held=(clamped(*line),))
        made = condense(section, [Site(0, 0)], mesh=50)
        load = box(0, 200, 60, 300) if turn else box(200, 140, 300, 200)
        return skins(made, moved(made, Pressure(load, 90.0)), "top", "middles")

    (straight,), (turned,) = run(turn=False), run(turn=True)
    # x' = y, y' = 200 - x after a turn to the left.
    order = [
        int(np.argmin(np.hypot(turned.places[:, 1] - x, turned.places[:, 0] - (200 - y))))
        for x, y in straight.places
    ]
    size = abs(straight.moment).max()
    assert turned.moment[order] == pytest.approx(straight.moment, abs=1e-7 * size)
    assert turned.shear[order] == pytest.approx(
        straight.shear, abs=1e-7 * abs(straight.shear).max()
    )


def test_top_skin_is_in_balance_with_core_and_rods() -> None:
    # Down on the top skin: 300 N; up: what the core is pressed with, and the rod's push on it. No edging here.
    of = rod(200)
    made = strip(of)
    answer, loaded, _ = on(made, of)
    tied = cores(made, made.move(loaded, answer.pushed, answer.whole))
    through = sum(float(t.through @ t.area) for t in tied)
    assert through + answer.rods[0].top.sum() == pytest.approx(300.0, rel=1e-6)
    # The bottom skin has no load: where the rod pries it down, the core is pulled as much.
    assert through == pytest.approx(-answer.rods[0].bottom.sum(), rel=1e-6)


def test_core_is_read_where_it_is_and_nowhere_else() -> None:
    plan = box(0, 0, 300, 200)
    skin = Skin(9.0, (Piece(plan, EVEN),))
    fills = (Fill(box(0, 0, 300, 37), 600, 60, 400), Fill(box(0, 150, 300, 200), 600, 60, 400))
    section = Section(skin, skin, 19.0, fills, held=(clamped((0, 0), (300, 0), "bottom"),))
    made = condense(section, [Site(0, 0)], mesh=40)
    tied = cores(made, moved(made, Pressure(plan, 100.0)))
    assert [t.fill for t in tied] == [0, 1]
    for t, fill in zip(tied, fills, strict=True):
        assert t.area.sum() == pytest.approx(300 * (fill.plan[2][1] - fill.plan[0][1]), rel=1e-12)
        low, high = fill.plan[0][1] - 6, fill.plan[2][1] + 6
        assert ((t.places[:, 1] > low) & (t.places[:, 1] < high)).all()
    held = (Held((0, 0), (300, 0), "top", ("w",)),)
    alone = Section(skin, Skin(9.0, ()), 19.0, fills, held=held)
    lone = condense(alone, [Site(0, 0)], mesh=40)
    assert all(len(t.area) == 0 for t in cores(lone, np.zeros(len(lone.shapes))))


def test_evening_out_keeps_what_is_even_and_takes_the_mean_of_a_peak() -> None:
    x, y = (v.ravel() for v in np.meshgrid(np.arange(5.0, 100, 10), np.arange(5.0, 60, 10)))
    places, area = np.stack([x, y], axis=1), np.full(len(x), 100.0)
    assert averaged(places, area, np.full(len(x), 3.0), 40.0) == pytest.approx(3.0, rel=1e-14)
    peak = np.zeros(len(x))
    middle = int(np.argmin(np.hypot(x - 45, y - 25)))
    peak[middle] = 1.0
    # A square of 40 about a middle holds 5 x 5 places that stand 10 apart; 25 mm holds 3 x 3.
    assert averaged(places, area, peak, 40.0)[middle] == pytest.approx(1 / 25)
    assert averaged(places, area, peak, 25.0)[middle] == pytest.approx(1 / 9)
    heavy = area.copy()
    heavy[middle] = 300.0
    assert averaged(places, heavy, peak, 25.0)[middle] == pytest.approx(3 / 11)
    both = averaged(places, area, np.stack([peak, 2 * peak], axis=1), 25.0)
    assert both[middle] == pytest.approx([1 / 9, 2 / 9])
    with pytest.raises(ValueError, match="length"):
        averaged(places, area, peak, 0.0)
    assert near(places, [(45.0, 25.0)], 1.0).tolist() == [middle]
    assert len(near(places, [], 50.0)) == 0
