"""The section's elements: rigid movements, constant curvature and twist, order, symmetry, cuts, mechanisms.

Expected values are polynomials and closed forms written out beside each check.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.sparse import bmat, diags_array
from scipy.sparse.linalg import splu

from ledgewright.statics.mechanics.section import (
    Beam,
    Condensed,
    Fill,
    Held,
    Mechanism,
    Piece,
    Pressure,
    Section,
    Sheet,
    Site,
    Skin,
    condense,
    isotropic,
    orthotropic,
)
from ledgewright.statics.mechanics.section.condense import _rigid
from ledgewright.statics.mechanics.section.energy import NAMES, PER_NODE
from ledgewright.statics.mechanics.section.grid import grid
from ledgewright.statics.mechanics.section.parts import Point
from tests.statics.section.made import NONE, SIDES, box, clamped, ell, plate, sandwich, simple

AGAINST = (
    "polynomials and closed forms beside each check; SuperLU of scipy",
    "hand calculation, and second library",
    "1e-12 to 0.1 %",
)

Floats = NDArray[np.float64]
PLY = orthotropic(E_along=9000.0, E_across=4500.0, nu=0.05, G=700.0, thick=18.0)
ELL = ell(250.0, 700.0)


def hollow(plan: Any = ELL, *, cuts: Any = (), held: tuple[Held, ...] = ()) -> Section:
    """An L with a strip of core along its walls, one turned piece of core, and an edging."""
    fills = (
        Fill(box(0, 0, 700, 40), 600, 300, 400, E_along=9000),
        Fill(box(0, 40, 40, 700), 600, 300, 400, E_along=9000, grain=math.pi / 2),
        Fill(((200, 60), (420, 90), (415, 130), (195, 100)), 600, 300, 400, grain=0.135),
    )
    skins = [Skin(t, (Piece(plan, PLY, grain),), cuts) for t, grain in ((18.0, 0.0), (12.0, 0.4))]
    beams = (Beam((0, 700), (250, 700), 2e9, 5e8),)
    return Section(skins[0], skins[1], 16.0, fills, beams, held)


def energy(made: Condensed, moved: Floats) -> float:
    moved = moved[made.factor.kept]
    return float(moved @ made.factor.matrix.times(moved[:, None])[:, 0]) / 2


def test_moving_as_a_whole_costs_nothing() -> None:
    section = hollow()
    made = condense(section, [Site(10, 10)], mesh=60)
    rigid = _rigid(section, made.grid)
    scale = np.sqrt(np.where(made.factor.matrix.diagonal() > 0, made.factor.matrix.diagonal(), 1))
    forces = made.factor.matrix.times(rigid)
    size = np.abs(scale[:, None] * rigid).max(axis=0)
    assert (np.abs(forces / scale[:, None]).max(axis=0) < 1e-9 * size).all()
    assert made.modes.shape == (1, 3)


@pytest.mark.parametrize("grain", [0.0, math.pi / 2, 0.3])
@pytest.mark.parametrize(("kx", "ky", "kxy"), [(1, 0, 0), (0, 1, 0), (0, 0, 1), (1.0, -0.7, 0.4)])
def test_constant_curvature_and_twist(kx: float, ky: float, kxy: float, grain: float) -> None:
    # w = kx x^2/2 + ky y^2/2 + kxy x y: energy = A/2 (kx, ky, 2 kxy) D (...), with D turned by hand.
    section = plate(box(0, 0, 300, 200), PLY)
    turned = Section(Skin(18.0, (Piece(box(0, 0, 300, 200), PLY, grain),)), NONE, 1.0)
    made = condense(turned if grain else section, [Site(0, 0)], mesh=90)
    x, y = made.grid.place.T
    moved = np.zeros((len(x), PER_NODE))
    moved[:, 0] = kx * x**2 / 2 + ky * y**2 / 2 + kxy * x * y
    moved[:, 1], moved[:, 2], moved[:, 3] = kx * x + kxy * y, ky * y + kxy * x, kxy
    c, s = math.cos(grain), math.sin(grain)
    own = np.array(
        [
            kx * c * c + ky * s * s + 2 * kxy * c * s,
            kx * s * s + ky * c * c - 2 * kxy * c * s,
            2 * ((ky - kx) * c * s + kxy * (c * c - s * s)),
        ]
    )
    D1, D2, D12, D66 = PLY.bending
    expected = 300 * 200 / 2 * (D1 * own[0] ** 2 + D2 * own[1] ** 2 + 2 * D12 * own[0] * own[1])
    expected += 300 * 200 / 2 * D66 * own[2] ** 2
    assert energy(made, moved.ravel()) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("at", [(1.0, 0, 0), (0, 1.0, 0), (0, 0, 1.0)])
def test_constant_strain_in_the_plane(at: tuple[float, float, float]) -> None:
    made = condense(plate(box(0, 0, 300, 200), PLY), [Site(0, 0)], mesh=90)
    ex, ey, g = at
    x, y = made.grid.place.T
    moved = np.zeros((len(x), PER_NODE))
    moved[:, 4], moved[:, 5] = ex * x + g * y / 2, ex
    moved[:, 6], moved[:, 7] = ey * y + g * x / 2, ey
    A1, A2, A12, A66 = PLY.membrane
    expected = 300 * 200 / 2 * (A1 * ex**2 + A2 * ey**2 + 2 * A12 * ex * ey + A66 * g**2)
    assert energy(made, moved.ravel()) == pytest.approx(expected, rel=1e-9)


def test_core_counts_by_the_area_it_covers_and_not_by_whole_cells() -> None:
    # w1 - w2 = 1 everywhere: energy = E/(2c) area of core, its slanted piece too; slide of one skin: G area/(2c).
    section = hollow()
    made = condense(section, [Site(0, 0)], mesh=37)
    flat = np.zeros((len(made.grid.place), PER_NODE))
    flat[made.grid.skin == 0, 0] = 1.0
    slant = abs(220 * 40 - (-5) * 30)
    area = 700 * 40 + 660 * 40 + slant
    squeezed = 400 / (2 * 16) * area
    assert energy(made, flat.ravel()) == pytest.approx(squeezed, rel=1e-9)
    flat[:] = 0
    flat[made.grid.skin == 0, NAMES.index("u")] = 1.0
    c, s = math.cos(0.135), math.sin(0.135)
    G = 600 * 700 * 40 + 300 * 660 * 40 + (600 * c * c + 300 * s * s) * slant
    assert energy(made, flat.ravel()) == pytest.approx(G / (2 * 16), rel=1e-9)


def test_a_channel_narrower_than_a_cell_is_cut_out_by_its_area() -> None:
    def stiff(width: float) -> float:
        left, right = box(0, 0, 150 - width / 2, 200), box(150 + width / 2, 0, 300, 200)
        skin = Skin(12.0, (Piece(box(0, 0, 300, 200), PLY),))
        fills = (Fill(left, 500, 500, 400), Fill(right, 500, 500, 400))
        made = condense(Section(skin, skin, 20.0, fills), [Site(0, 0)], mesh=75)
        apart = np.zeros((len(made.grid.place), PER_NODE))
        apart[made.grid.skin == 0, 0] = 1.0
        return energy(made, apart.ravel())

    for width in (0.5, 13.0, 19.0):
        assert stiff(width) == pytest.approx(400 / 40 * (300 - width) * 200, rel=1e-9)


def test_order_of_convergence() -> None:
    # Simply supported square under its first sine: w = q/(4 pi^4 D). Cubic elements: error by h^4 at least.
    def error(n: int) -> float:
        sheet = isotropic(E=12 * (1 - 0.09), nu=0.3, thick=1.0)
        sides = (((0, 0), (0, 1)), ((1, 0), (1, 1)), ((0, 0), (1, 0)), ((0, 1), (1, 1)))
        section = plate(box(0, 0, 1, 1), sheet, *(simple(*s) for s in sides))
        made = condense(section, [Site(0.5, 0.5)], mesh=1 / n)
        x, w = np.polynomial.legendre.leggauss(6)
        at = ((np.arange(n)[:, None] + (x + 1) / 2) / n).ravel()
        weigh = np.tile(w / (2 * n), n)
        points = np.stack(np.meshgrid(at, at, indexing="ij"), axis=-1).reshape(-1, 2)
        from ledgewright.statics.mechanics.section.energy import rows_at

        q = np.outer(weigh * np.sin(np.pi * at), weigh * np.sin(np.pi * at)).ravel()
        number, share = rows_at(made.grid, points, 0)
        force = np.zeros(len(made.grid.place) * PER_NODE)
        np.add.at(force, number, share * q[:, None])
        return abs(float(made.under(force).drop[0]) * 4 * np.pi**4 - 1)

    coarse, fine = error(3), error(6)
    assert math.log2(coarse / fine) > 3.8
    assert fine < 2e-4


def test_work_of_a_load_is_twice_the_energy_and_answers_are_mutual() -> None:
    held = tuple(clamped((0, 0), (700, 0), side) for side in SIDES)
    made = condense(hollow(held=held), [Site(700, 250), Site(250, 700), Site(100, 400)], mesh=50)
    loaded = made.load(Pressure(box(500, 100, 600, 200), 90.0))
    assert loaded.own == pytest.approx(2 * energy(made, loaded.moved), rel=1e-9)
    point = Pressure(box(0, 350, 80, 420), 70.0)
    other = made.load(point)
    assert loaded.force @ other.moved == pytest.approx(other.force @ loaded.moved, rel=1e-7)
    assert (made.flexibility == made.flexibility.T).all()


def test_another_solver_gives_the_same() -> None:
    # The same stiffness by scipy's SuperLU, scaled and symmetric.
    held = tuple(clamped((0, 0), (700, 0), side) for side in SIDES)
    made = condense(hollow(held=held), [Site(250, 700)], mesh=60)
    matrix, free = made.factor.part, made.factor.free
    blocks: list[list[Any]] = [[None] * len(matrix.own) for _ in matrix.own]
    for i, own in enumerate(matrix.own):
        blocks[i][i] = own
        if i:
            blocks[i][i - 1], blocks[i - 1][i] = matrix.down[i - 1], matrix.down[i - 1].T
    whole = bmat(blocks).tocsc()
    scale = diags_array(1 / np.sqrt(whole.diagonal()))
    lu = splu(
        (scale @ whole @ scale).tocsc(),
        permc_spec="MMD_AT_PLUS_A",
        diag_pivot_thresh=0,
        options={"SymmetricMode": True},
    )
    loaded = made.load(Pressure(ELL, 300.0))
    again = scale @ lu.solve(scale @ loaded.force[free])
    assert again == pytest.approx(loaded.moved[free], rel=1e-6, abs=1e-9)


def test_mirror_images_answer_alike() -> None:
    def drops(*, mirror: bool) -> Floats:
        def put(ring: Any) -> Any:
            return tuple((700 - x, y) for x, y in reversed(ring)) if mirror else ring

        section = hollow()
        fills = tuple(
            Fill(
                put(f.plan),
                f.G_along,
                f.G_across,
                f.E_through,
                f.E_along,
                -f.grain if mirror else f.grain,
            )
            for f in section.fills
        )
        skins = tuple(
            Skin(
                s.thick,
                tuple(
                    Piece(put(p.plan), p.sheet, -p.grain if mirror else p.grain) for p in s.pieces
                ),
            )
            for s in (section.top, section.bottom)
        )
        line = put(((0, 0), (700, 0)))
        held = tuple(clamped(line[0], line[1], side) for side in SIDES)
        sites = [
            Site(put((p,))[0][0], p[1], side)
            for p in ((700, 250), (240, 700), (90, 300))
            for side in SIDES
        ]
        made = condense(Section(skins[0], skins[1], 16.0, fills, held=held), sites, mesh=60)
        return made.load(Pressure(put(box(520, 90, 620, 190)), 80.0)).drop

    assert drops(mirror=True) == pytest.approx(drops(mirror=False), rel=1e-8)


def test_cut_skin_carries_no_moment_and_no_force_across() -> None:
    # Two halves of a bottom skin on a full top one: past the cut the bottom moves as one piece with what it hangs on.
    plan = box(0, 0, 600, 200)
    skin = Skin(12.0, (Piece(plan, PLY),))
    cut = Skin(12.0, (Piece(plan, PLY),), cuts=(((300, 0), (300, 200)),))
    held = tuple(clamped((0, 0), (0, 200), side) for side in SIDES)
    fills = (Fill(plan, 500, 500, 400),)
    left: list[float] = []
    for mesh in (40, 20):
        made = condense(Section(skin, cut, 16.0, fills, held=held), [Site(600, 100)], mesh=mesh)
        moved = made.move(made.load(Pressure(plan, 100.0)), np.zeros(1), np.zeros(0))
        beside = np.array([(300 - 1e-4, 100.0), (300 + 1e-4, 100.0)])
        N, M = made.resultants(moved, beside, "bottom", 0)
        N2, _ = made.resultants(moved, np.array([(150.0, 100.0)]), "bottom", 0)
        _, M2 = made.resultants(moved, beside, "top", 0)
        left += [np.abs(N[:, 0]).max() / abs(N2[0, 0]), np.abs(M[:, 0]).max() / abs(M2[0, 0])]
    # A free edge is met in the mean: what is left there shrinks with the mesh.
    assert max(left[2:]) < 0.08
    assert left[2] < 0.7 * left[0]
    whole = condense(Section(skin, skin, 16.0, fills, held=held), [Site(600, 100)], mesh=20)
    assert made.flexibility[0, 0] > 1.05 * whole.flexibility[0, 0]


def test_a_cut_without_core_is_a_hinge_line() -> None:
    # One skin cut right through, nothing else: the far half is free, and that is said.
    plan = box(0, 0, 400, 200)
    cut = Skin(12.0, (Piece(plan, PLY),), cuts=(((200, 0), (200, 200)),))
    section = Section(cut, NONE, 1.0, held=(clamped((0, 0), (0, 200)),))
    with pytest.raises(Mechanism, match="separate pieces"):
        condense(section, [Site(400, 100)])


@pytest.mark.parametrize(
    ("fills", "says"),
    [
        ((), "bottom skin|top skin"),
        ((Fill(box(0, 0, 100, 200), 0.0, 0.0, 400),), "moves by itself"),
    ],
)
def test_untied_skins_are_a_mechanism_and_are_named(fills: tuple[Fill, ...], says: str) -> None:
    skin = Skin(12.0, (Piece(box(0, 0, 400, 200), PLY),))
    section = Section(skin, skin, 16.0, fills)
    with pytest.raises(Mechanism, match=says):
        condense(section, [Site(400, 100)])


def test_skin_pieces_apart_are_a_mechanism() -> None:
    pieces = (Piece(box(0, 0, 100, 100), PLY), Piece(box(200, 0, 300, 100), PLY))
    with pytest.raises(Mechanism, match="separate pieces"):
        condense(Section(Skin(12.0, pieces), NONE, 1.0), [Site(0, 0)])


@pytest.mark.parametrize(
    ("start", "end"),
    [((70, 80), (530, 80)), ((80, 20), (80, 480)), ((60, 40), (336, 408)), ((500, 70), (132, 346))],
)
def test_edging_bends_and_twists_as_a_beam(start: Point, end: Point) -> None:
    # w = (a x^2 + b y^2)/2 + t x y along (c, s): w_ss = a c^2 + b s^2 + 2 t c s, w_sn = (b - a) c s + t (c^2 - s^2);
    # energy EI w_ss^2 L/2, GJ w_sn^2 L/2. The sheet's own share is taken off. L = 460 in every case.
    plan = box(0, 0, 600, 500)
    c, s = (end[0] - start[0]) / 460, (end[1] - start[1]) / 460
    for EI, GJ, (a, b, t) in ((3e6, 0.0, (1.0, 0.4, 0.3)), (0.0, 2e6, (0.2, -0.5, 1.0))):
        shares = []
        for beams in ((), (Beam(start, end, EI, GJ),)):
            section = Section(Skin(18.0, (Piece(plan, PLY),)), NONE, 1.0, beams=beams)
            made = condense(section, [Site(0, 0)], mesh=130)
            x, y = made.grid.place.T
            moved = np.zeros((len(x), PER_NODE))
            moved[:, 0] = a * x**2 / 2 + b * y**2 / 2 + t * x * y
            moved[:, 1], moved[:, 2], moved[:, 3] = a * x + t * y, b * y + t * x, t
            shares.append(energy(made, moved.ravel()))
        bent, twisted = a * c * c + b * s * s + 2 * t * c * s, (b - a) * c * s + t * (c * c - s * s)
        expected = (EI * bent**2 + GJ * twisted**2) * 460 / 2
        assert shares[1] - shares[0] == pytest.approx(expected, rel=1e-6)


def test_skins_tied_rigidly_are_one_thick_plate() -> None:
    # Core of no shear and no squeeze: D of two faces about the common middle, E(2 t d^2/4 + 2 t^3/12), nu 0.
    sheet = orthotropic(E_along=8000, E_across=8000, nu=0.0, G=4000, thick=9.0)
    plan = box(0, 0, 500, 200)
    section = sandwich(plan, sheet, thick=9.0, core=19.0, G=1e6, E=1e7)
    held = tuple(
        Held((0, 0), (0, 200), side, ("w", "w_x", "w_y", "w_xy", "u", "v", "v_y")) for side in SIDES
    )
    section = Section(section.top, section.bottom, 19.0, section.fills, held=held)
    made = condense(section, [Site(500, 100)], mesh=50)
    (w,) = made.load(Pressure(((500, 0), (500, 200)), 100.0)).drop
    EI = 8000 * 200 * (2 * 9 * 28**2 / 4 + 2 * 9**3 / 12)
    assert w == pytest.approx(100 * 500**3 / (3 * EI), rel=1e-3)


def test_load_off_the_shelf_and_site_off_its_skin_are_refused() -> None:
    made = condense(plate(box(0, 0, 300, 200), PLY), [Site(0, 0)])
    with pytest.raises(ValueError, match="off the shelf"):
        made.load(Pressure(box(400, 0, 500, 100), 1.0))
    with pytest.raises(ValueError, match="no skin"):
        condense(plate(box(0, 0, 300, 200), PLY), [Site(301, 0)])
    with pytest.raises(ValueError, match="nothing of the top skin"):
        condense(plate(box(0, 0, 300, 200), PLY, simple((0, 500), (300, 500))), [Site(0, 0)])


@pytest.mark.parametrize(
    "ring", [box(13, 7, 260, 171), ELL, ((10, 5), (280, 40), (240, 190), (33, 150))]
)
def test_cover_is_exact(ring: Any) -> None:
    net = grid(plate(ell(300.0, 700.0), PLY), mesh=47)
    width, height = net.size
    area = (net.cover(ring).mean(axis=1) * width * height).sum()
    pairs = zip(ring, (*ring[1:], ring[0]), strict=True)
    assert area == pytest.approx(
        abs(sum(a[0] * b[1] - a[1] * b[0] for a, b in pairs)) / 2, rel=1e-12
    )


def test_condensing_twice_gives_the_same_bits() -> None:
    a, b = (condense(hollow(), [Site(0, 0), Site(650, 200)], mesh=60) for _ in range(2))
    assert (a.flexibility == b.flexibility).all()


def test_sheets_without_stiffness_are_refused() -> None:
    with pytest.raises(ValueError, match="no stiffness"):
        orthotropic(E_along=100, E_across=9000, nu=0.2, G=600, thick=10)
    assert isinstance(isotropic(E=100, nu=0.2, thick=10), Sheet)


def test_a_softer_section_on_the_grid_of_a_like_one_is_the_same_as_on_its_own() -> None:
    section = hollow()
    soft = replace(section, fills=tuple(replace(f, G_along=f.G_along / 2) for f in section.fills))
    sites = [Site(0, 0), Site(650, 200), Site(30, 650, "bottom")]
    first = condense(section, sites, mesh=60)
    own, taken = condense(soft, sites, mesh=60), condense(soft, sites, like=first)
    assert (own.flexibility == taken.flexibility).all()
    assert (np.diagonal(own.flexibility) > np.diagonal(first.flexibility) * (1 - 1e-9)).any()
    other = replace(section, held=(clamped((0, 0), (700, 0), "top"),))
    with pytest.raises(ValueError, match="other plans"):
        condense(other, sites, like=first)
