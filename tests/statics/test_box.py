"""What a load asks of the box: the places without bound, and that refining the mesh changes little."""

from __future__ import annotations

import numpy as np
import pytest

from ledgewright.statics.aims import Asked as AskedOf
from ledgewright.statics.aims import Looked
from ledgewright.statics.box import Asked, joined, most, read, where, without_bound
from ledgewright.statics.box_aims import (
    BEND,
    GLUE,
    PARTED,
    PRESSED,
    SHEAR,
    SIDE,
    TIMBER,
    OnBox,
    of_box,
    of_lines,
)
from ledgewright.statics.mechanics.contact_rods import Slotted, rest, sites
from ledgewright.statics.mechanics.section import (
    Piece,
    Pressure,
    Section,
    Skin,
    condense,
    cores,
    isotropic,
    skins,
)
from ledgewright.stock import panel_strengths
from tests.statics.section.made import ell
from tests.statics.section.on_rods import STRIP, board, rod
from tests.statics.test_shelf_model import made

AGAINST = (
    "symmetry, superposition and a finer mesh of the same model",
    "own consistency, no outside figure",
    "1e-9; a finer mesh 2 % to 15 %",
)

PLY = panel_strengths("birch ply 9")


def run(section: Section, rods: tuple[Slotted, ...], load: Pressure, mesh: float) -> Asked:
    whole = condense(section, sites(rods), mesh=mesh)
    loaded = whole.load(load)
    answer = rest(whole, rods).solve(loaded)
    moved = whole.moves(loaded.force[:, None], answer.pushed[:, None], answer.whole[:, None])
    reading = read(whole, moved, rods, slot=16.0)
    q = np.array([max(one.line_force(16.0 + 2 * section.top.thick) for one in answer.rods)])
    return most(reading, top=PLY, bottom=PLY, q=(q, q)).under(0)


def test_places_without_bound_are_slots_joints_and_inside_corners() -> None:
    sheet = isotropic(E=8000, nu=0.0, thick=9.0)
    plan = ell(250.0, 700.0)
    top = Skin(9.0, (Piece(plan, sheet),))
    bottom = Skin(9.0, (Piece(plan, sheet),), cuts=(((0, 250), (250, 250)),))
    found = without_bound(Section(top, bottom, 19.0), "top", (rod(100.0),))
    # Slot from 16 to 216 mm; the joint's ends; the L turns inwards once.
    assert set(found) == {(100.0, 16.0), (100.0, 216.0), (0, 250), (250, 250)}
    assert len(found) == 5
    wavering = ((0, 0), (700, 0), (700, 250), (350, 246), (0, 250))
    only = Section(Skin(9.0, (Piece(wavering, sheet),)), top, 19.0)
    assert without_bound(only, "top", ()) == ()


def test_every_figure_is_that_of_its_place() -> None:
    rods = (rod(100.0), rod(300.0))
    section = board(0, 400, 16, 316, rods)
    whole = condense(section, sites(rods))
    loaded = whole.load(Pressure(STRIP, 300.0))
    answer = rest(whole, rods).solve(loaded)
    moved = whole.move(loaded, answer.pushed, answer.whole)
    basis = read(whole, whole.per_unit(loaded.force[:, None]), rods, slot=16.0)
    acts = np.concatenate([[1.0], answer.pushed, answer.whole])
    uneven = np.concatenate([[1.0], 2 * answer.pushed, 2 * answer.whole])
    weights = np.column_stack([acts, uneven, 2 * acts])
    q = (np.arange(3.0), np.arange(3.0) + 7)
    every = most(basis, top=PLY, bottom=PLY, q=q, weights=weights)
    found, other, twice = (every.under(k) for k in range(3))
    # By their sums, or read one by one.
    alike = most(basis.times(weights), top=PLY, bottom=PLY, q=q)
    assert [alike.under(k).top.V for k in range(3)] == pytest.approx(every.V[0], rel=1e-9)
    assert alike.pressed == pytest.approx(every.pressed, rel=1e-9)
    assert alike.bent[1].share == pytest.approx(every.bent[1].share, rel=1e-9)
    (top,) = skins(whole, moved, "top", "middles")
    # 34 mm fit into a cell of 40: the greatest mean is that of its own middle.
    assert np.diff(whole.grid.x).max() == pytest.approx(40.0)
    assert max((top.shear**2).sum(axis=1)) ** 0.5 == pytest.approx(found.top.V)
    assert (found.top.q, other.top.q, twice.bottom.q) == (0.0, 1.0, 9.0)
    assert found.slid is not None
    assert found.slid.timber.along + 3 * found.slid.timber.across < 3 * max(
        np.hypot(*t.shear.T).max() for t in cores(whole, moved)
    )
    # Every load is read by itself: twice the load asks twice as much; other movements ask something else.
    assert other.parted != pytest.approx(found.parted)
    assert [twice.parted, twice.pressed, twice.top.V, twice.bottom.bent.m] == pytest.approx(
        [2 * found.parted, 2 * found.pressed, 2 * found.top.V, 2 * found.bottom.bent.m], rel=1e-9
    )


def test_mirror_images_ask_alike() -> None:
    left, right = (rod(90.0), rod(330.0)), (rod(70.0), rod(310.0))
    loads = [
        Pressure(((a, 100), (b, 100), (b, 200), (a, 200)), 200.0) for a, b in ((0, 100), (300, 400))
    ]
    one = run(board(0, 400, 16, 316, left), left, loads[0], 40)
    other = run(board(0, 400, 16, 316, right), right, loads[1], 40)
    for a, b in ((one.top, other.top), (one.bottom, other.bottom)):
        assert (a.bent.m, a.V, a.q) == pytest.approx((b.bent.m, b.V, b.q), rel=1e-6)
    assert (one.pressed, one.parted) == pytest.approx((other.pressed, other.parted), rel=1e-6)


def test_refining_the_mesh_changes_what_is_asked_by_little() -> None:
    # A corner with both its joints under an even load: the evened-out figures, 40 and 20 mm.
    design, turned, rods = made("stoneware-corner-first-try")
    load = Pressure(turned.ring(design.frame.outline), 1000.0)
    coarse, fine = (run(turned.section, rods, load, mesh) for mesh in (40, 20))

    def bending(of: Asked) -> list[float]:
        ends = ((of.top, 0), (of.bottom, 0))
        return [6 * each.bent.m / turned.section.top.thick**2 for each, _ in ends]

    assert bending(coarse) == pytest.approx(bending(fine), rel=0.15)
    assert coarse.slid is not None
    assert fine.slid is not None
    shear = [s.timber.along + 3 * s.timber.across for s in (coarse.slid, fine.slid)]
    assert shear[0] == pytest.approx(shear[1], rel=0.15)
    # Parting and shear die out within 20 mm of the joints: the default mesh shows too much of both, towards safety.
    assert fine.parted < coarse.parted < 1.35 * fine.parted
    for a, b in ((coarse.top, fine.top), (coarse.bottom, fine.bottom)):
        assert 0.95 * b.V < a.V < 1.25 * b.V
    assert coarse.top.q == pytest.approx(fine.top.q, rel=0.02)


def test_a_sum_over_all_that_acts_is_what_one_solve_gives() -> None:
    # Per unit of two loads, every site and every way to move as a whole; then summed up: as the section moved at once.
    rods = (rod(100.0), rod(300.0))
    whole = condense(board(0, 400, 16, 316, rods), sites(rods))
    loads = [
        whole.load(Pressure(ring, 1.0)) for ring in (STRIP, ((0, 20), (90, 20), (90, 90), (0, 90)))
    ]
    forces = np.column_stack([load.force for load in loads])
    factors = [300.0, 120.0]
    answer = rest(whole, rods).solve(whole.under(forces @ factors))
    at_once = whole.moves(
        (forces @ factors)[:, None], answer.pushed[:, None], answer.whole[:, None]
    )
    plain = read(whole, at_once, rods, slot=16.0)
    weights = np.concatenate([factors, answer.pushed, answer.whole])
    # In one reading, or in one of the loads and one of the rest, which another load may share.
    at = where(whole, rods, slot=16.0)
    loads_alone = read(whole, whole.per_unit(forces, 0)[:, :2], rods, slot=16.0, at=at)
    rods_alone = read(whole, whole.per_unit(forces[:, :0]), rods, slot=16.0, at=at)
    for basis in (
        read(whole, whole.per_unit(forces), rods, slot=16.0),
        joined((loads_alone, rods_alone)),
    ):
        summed = basis.times(weights[:, None])
        assert plain.slid is not None
        assert summed.slid is not None
        for a, b in (
            (plain.through, summed.through),
            (plain.sheared[0].cells, summed.sheared[0].cells),
            (plain.sheared[1].squares(), summed.sheared[1].squares()),
            (plain.slid.shear, summed.slid.shear),
            (plain.bent[0].moment, summed.bent[0].moment),
            (plain.bent[1].force, summed.bent[1].force),
        ):
            assert a == pytest.approx(b, abs=1e-6 * abs(a).max())


def test_what_is_driven_up_is_a_sum_over_what_acts() -> None:
    """Each aim's greatest, by the box read in full under each load, and by its weights times what acts."""
    rods = (rod(100.0), rod(300.0))
    whole = condense(board(0, 400, 16, 316, rods), sites(rods))
    loaded = whole.load(Pressure(STRIP, 300.0))
    resting = rest(whole, rods)
    answer = resting.solve(loaded)
    basis = read(whole, whole.per_unit(loaded.force[:, None]), rods, slot=16.0)
    # Half of all that acts, and all of it; the one plan carries the one part, of 1 N times its factor.
    factors = np.array([[0.5], [1.0]])
    looked = Looked(np.zeros(2, dtype=np.intp), factors, factors * answer.figures)
    on = OnBox(np.ones((1, 1)), resting)
    t = whole.section.top.thick
    over = (16 + 2 * t, 16 + 2 * t)
    aims = of_box(on, basis, (PLY, PLY), looked)
    acts = np.concatenate([[1.0], answer.pushed, answer.whole])
    asks = most(
        basis, top=PLY, bottom=PLY, q=(np.zeros(1), np.zeros(1)), weights=acts[:, None]
    ).under(0)
    assert asks.slid is not None
    bent = [
        6 * b.m / t**2 / (PLY.fm_along if b.along else PLY.fm_across)
        + b.n / t / (PLY.ft_along if b.along else PLY.ft_across)
        for b in (asks.top.bent, asks.bottom.bent)
    ]
    timber, glue = asks.slid.timber, asks.slid.glue
    lines = [[r.line_force(over[0]) for r in answer.rods]]
    expected = [
        (BEND, bent[0]),
        (SHEAR, asks.top.V),
        (SIDE + BEND, bent[1]),
        (SIDE + SHEAR, asks.bottom.V),
        (TIMBER, timber.along + 3 * timber.across),
        (GLUE, np.hypot(glue.along, glue.across)),
        (PRESSED, asks.pressed),
        (PARTED, asks.parted),
    ]
    levels = aims.levels(looked)
    for aim, value in expected:
        assert levels.values[aim] == pytest.approx([value / 2, value], rel=1e-9)
    pressing = of_lines(resting, over, looked)
    # Whichever skin a rod presses hardest.
    assert pressing.levels(looked).values[:, 1].max() == pytest.approx(np.max(lines), rel=1e-9)
    for each in (aims, pressing):
        levels = each.levels(looked)
        asked = [AskedOf(aim, int(levels.which[aim, 1]), 1) for aim in range(each.count)]
        rows, parts = each.weights(asked, looked)
        summed = rows @ looked.figures[1] + parts @ looked.factors[1]
        assert summed == pytest.approx(levels.values[:, 1], rel=1e-6)
