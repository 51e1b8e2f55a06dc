"""Spot values of the catalogue against the publications that its rows name."""

from __future__ import annotations

import pytest

from ledgewright import stock

PSI = 4.4482216152605 / 25.4**2  # MPa, exact (NIST SP 811 appendix B)


# NDS Supplement 2018 Table 4A (SPF, DF-L, Hem-Fir) and 4B (Southern Pine, 2 to 4 in wide), psi, before
# size factors, by public transcription; G: NDS-2018 Table 12.3.3A p.87.
@pytest.mark.parametrize(
    ("name", "G", "Fb", "Fv", "Fc_perp", "E"),
    [
        ("spf 2x4", 0.42, 875, 135, 425, 1.4e6),
        ("spf 2x6", 0.42, 875, 135, 425, 1.4e6),
        ("spf stud 2x4", 0.42, 675, 135, 425, 1.2e6),
        ("spf no.3 2x4", 0.42, 500, 135, 425, 1.2e6),
        ("df-l 2x6", 0.50, 900, 180, 625, 1.6e6),
        ("df-l stud 2x4", 0.50, 700, 180, 625, 1.4e6),
        ("hem-fir 2x4", 0.43, 850, 150, 405, 1.3e6),
        ("hem-fir stud 2x4", 0.43, 675, 150, 405, 1.2e6),
        ("sp 2x4", 0.55, 1100, 175, 565, 1.4e6),
    ],
)
def test_nds_reference_values(
    name: str, G: float, Fb: float, Fv: float, Fc_perp: float, E: float
) -> None:
    row = stock.timber(name)
    assert row.G == G
    assert row.Fb == pytest.approx(Fb * PSI, rel=1e-13)
    assert row.Fv == pytest.approx(Fv * PSI, rel=1e-13)
    assert row.Fc_perp == pytest.approx(Fc_perp * PSI, rel=1e-13)
    assert pytest.approx(E * PSI, rel=1e-13) == row.E
    assert row.fm_k is None
    assert row.status == "confirmed"


# Dressed sizes of dry lumber, inches: American Softwood Lumber Standard PS 20, from memory.
DRESSED = {"2x3": (1.5, 2.5), "2x4": (1.5, 3.5), "2x6": (1.5, 5.5), "2x8": (1.5, 7.25)}


def test_every_nominal_size_is_dressed() -> None:
    named = [row.name for row in stock.rows("timber") if row.name.split()[-1] in DRESSED]
    assert len(named) >= 20
    for name in named:
        row = stock.timber(name)
        inches = DRESSED[name.split()[-1]]
        assert (row.width, row.depth) == pytest.approx([25.4 * side for side in inches], rel=1e-13)


# EN 338:2009 and 2016 (second-hand table): fm_k, fv_k, fc90_k, E_mean, rho_k, rho_mean.
@pytest.mark.parametrize(
    ("name", "figures"),
    [
        ("C16 38x89", (16, 3.2, 2.2, 8000, 310, 370)),
        ("C16 47x100", (16, 3.2, 2.2, 8000, 310, 370)),
        ("C24 38x89", (24, 4.0, 2.5, 11000, 350, 420)),
    ],
)
def test_en_338_classes(name: str, figures: tuple[float, ...]) -> None:
    row = stock.timber(name)
    assert (row.fm_k, row.fv_k, row.fc90_k, row.E_mean, row.rho_k, row.rho_mean) == figures
    assert row.Fb is None


# A36 36/58 ksi: AISC Manual Table 2-4; 1018 cold-drawn 54/64 ksi: SAE estimated minimums as printed by two
# suppliers; 304 annealed 30/75 ksi: engineering notes table; A500 B square 46/58 ksi: AISC Manual Table 2-4.
@pytest.mark.parametrize(
    ("name", "Fy", "Fu", "yield_is"),
    [
        ("round 1/2 a36", 36, 58, "minimum"),
        ("flat 3/8x1 a36", 36, 58, "minimum"),
        ("round 5/8 1018", 54, 64, "typical"),
        ("round 3/4 1018", 54, 64, "typical"),
        ("round 3/4 304", 30, 75, "minimum"),
        ("square tube 1x0.120 a500", 46, 58, "minimum"),
    ],
)
def test_strength_of_us_steel(name: str, Fy: float, Fu: float, yield_is: str) -> None:
    row = stock.bar(name)
    assert (row.Fy, row.Fu) == pytest.approx((Fy * 1000 * PSI, Fu * 1000 * PSI), rel=1e-13)
    assert row.yield_is == yield_is


# EN 10025-2 Table 7, S235: fy 235 up to 16 mm, 225 over 16 to 40 mm, fu at least 360 (from memory).
@pytest.mark.parametrize(
    ("name", "Fy"), [("round 12 S235", 235), ("round 16 S235", 235), ("round 20 S235", 225)]
)
def test_strength_of_s235_falls_with_thickness(name: str, Fy: float) -> None:
    assert (stock.bar(name).Fy, stock.bar(name).Fu) == (Fy, 360)


def bending_modulus(veneers: int, along: bool) -> float:
    """Sum over the plies: outer ones 1.1 mm sanded, inner 1.4; E 17500 with the grain, 0 across it."""
    plies = [1.1, *[1.4] * (veneers - 2), 1.1]
    z, total, inertia = -sum(plies) / 2, sum(plies), 0.0
    for i, t in enumerate(plies):
        if (i % 2 == 0) == along:
            inertia += t**3 / 12 + t * (z + t / 2) ** 2
        z += t
    return 17500 * inertia * 12 / total**3


# Handbook of Finnish Plywood (from memory), recomputed here from the lay-up; printed to 1 MPa.
@pytest.mark.parametrize(
    ("name", "veneers"),
    [("6.5", 5), ("9", 7), ("12", 9), ("15", 11), ("18", 13), ("21", 15), ("24", 17)],
)
def test_birch_plywood_follows_from_its_veneers(name: str, veneers: int) -> None:
    row = stock.panel(f"birch ply {name}")
    assert row.thick == pytest.approx(2 * 1.1 + (veneers - 2) * 1.4, abs=1e-9)
    assert row.E_along == pytest.approx(bending_modulus(veneers, along=True), abs=0.5)
    assert row.E_across == pytest.approx(bending_modulus(veneers, along=False), abs=0.5)


# EN 1995-1-1 Table 3.2, service class 1 (public transcription; OSB/3 from memory).
@pytest.mark.parametrize(
    ("name", "k_def"),
    [
        ("birch ply 18", 0.80),
        ("oak ply 3/4", 0.80),
        ("mdf 18", 2.25),
        ("mr mdf 15", 2.25),
        ("osb 18", 1.50),
        ("osb 3/4", 2.25),
        ("particleboard 18", 2.25),
        ("edge-glued oak 20", 0.60),
    ],
)
def test_creep_factor_of_panels(name: str, k_def: float) -> None:
    assert stock.panel(name).k_def == k_def


# Wood Handbook FPL-GTR-190 (2010) Table 13-5, tangential, per % moisture.
@pytest.mark.parametrize(
    ("name", "movement"),
    [
        ("red oak", 0.00369),
        ("white oak", 0.00365),
        ("maple", 0.00353),
        ("soft maple", 0.00289),
        ("cherry", 0.00248),
        ("walnut", 0.00274),
        ("ash", 0.00274),
        ("beech", 0.00431),
        ("birch", 0.00338),
        ("basswood", 0.0033),
        ("aspen", 0.00234),
        ("alder", 0.00256),
    ],
)
def test_tangential_movement(name: str, movement: float) -> None:
    assert stock.lumber(name).movement == movement


# Waits at 20 C, slow end of the usual range, hours: common practice; the label governs.
@pytest.mark.parametrize(
    ("name", "use", "leave_alone", "work", "full_load"),
    [
        ("epoxy thickened", "rods", 12, 24, 48),
        ("epoxy slow", "rods", 12, 24, 48),
        ("epoxy 30 min", "rods", 4, 8, 24),
        ("polyurethane rigid two-part", "rods", 4, 8, 24),
        ("polyurethane one-part liquid", "box", 4, 12, 168),
        ("construction mastic", "not for rods", 24, 72, 168),
        ("pva yellow", "box", 1, 24, 24),
        ("pva d4", "box", 1.5, 24, 24),
        ("urea", "box", 12, 24, 72),
    ],
)
def test_waits(name: str, use: str, leave_alone: float, work: float, full_load: float) -> None:
    row = stock.adhesive(name)
    assert (row.use, row.leave_alone, row.work, row.full_load) == (
        use,
        leave_alone,
        work,
        full_load,
    )


def test_quick_epoxy_is_not_for_rods() -> None:
    # Common practice: no time to fill a hole and set a comb, and a tougher, softer resin.
    assert stock.adhesive("epoxy 5 min").use == "not for rods"


# NDS-2018 Tables L2 and L3 (page-cited transcription), inches.
@pytest.mark.parametrize(
    ("name", "diameter", "root"),
    [("no. 8 x 2", 0.164, 0.131), ("no. 10 x 3", 0.190, 0.152), ("lag 3/8 x 4", 0.375, 0.265)],
)
def test_screw_diameters(name: str, diameter: float, root: float) -> None:
    row = stock.screw(name)
    assert (row.diameter, row.root) == pytest.approx((diameter * 25.4, root * 25.4), rel=1e-13)


# Handbook of Finnish Plywood (2002) birch, characteristic strengths along / across (MPa), from memory.
@pytest.mark.parametrize(
    ("name", "plies", "thick", "bent", "pulled"),
    [
        ("birch ply 6.5", 5, 6.4, (50.9, 29.0), (42.2, 32.8)),
        ("birch ply 9", 7, 9.2, (45.6, 32.1), (40.8, 34.2)),
        ("birch ply 12", 9, 12.0, (42.9, 33.2), (40.0, 35.0)),
        ("birch ply 15", 11, 14.8, (41.3, 33.8), (39.5, 35.5)),
        ("birch ply 18", 13, 17.6, (40.2, 34.1), (39.2, 35.8)),
        ("birch ply 21", 15, 20.4, (39.4, 34.3), (39.0, 36.0)),
        ("birch ply 24", 17, 23.2, (38.9, 34.4), (38.8, 36.2)),
    ],
)
def test_strengths_of_birch_ply_follow_from_its_veneers(
    name: str, plies: int, thick: float, bent: tuple[float, ...], pulled: tuple[float, ...]
) -> None:
    row = stock.panel_strengths(name)
    assert (row.fm_along, row.fm_across, row.ft_along, row.ft_across) == (*bent, *pulled)
    # By hand: crosswise veneers of 1.4 mm, the faces sanded by 0.3 mm; 70 MPa at the outermost stressed
    # fibre, 75 MPa in tension, nothing across. Bending as of an even sheet: f I/(z t^2/6).
    veneers = [1.1, *([1.4] * (plies - 2)), 1.1]
    edges = [sum(veneers[:k]) - thick / 2 for k in range(plies + 1)]
    for first, f_m, f_t in ((0, row.fm_along, row.ft_along), (1, row.fm_across, row.ft_across)):
        mine = [(edges[k], edges[k + 1]) for k in range(first, plies, 2)]
        inertia = sum((b**3 - a**3) / 3 for a, b in mine)
        outermost = max(b for _, b in mine)
        assert f_m == pytest.approx(70 * inertia / outermost / (thick**2 / 6), abs=0.12)
        assert f_t == pytest.approx(75 * sum(b - a for a, b in mine) / thick, abs=0.15)


# EN 12369-1:2001 (from memory): bending, tension and planar shear of OSB/3 and P4, by thickness.
@pytest.mark.parametrize(
    ("name", "figures"),
    [
        ("osb 9", (18.0, 9.0, 9.9, 7.2, 1.0)),
        ("osb 15", (16.4, 8.2, 9.4, 7.0, 1.0)),
        ("osb 22", (14.8, 7.4, 9.0, 6.8, 1.0)),
        ("particleboard 18", (12.5, 12.5, 7.9, 7.9, 1.6)),
    ],
)
def test_strengths_of_boards(name: str, figures: tuple[float, ...]) -> None:
    row = stock.panel_strengths(name)
    found = (row.fm_along, row.fm_across, row.ft_along, row.ft_across, row.fr)
    assert found == figures


def test_every_panel_has_strengths_and_no_other_name_has() -> None:
    for row in stock.rows("panel"):
        assert stock.panel_strengths(row.name).name == row.name
    with pytest.raises(stock.NotStocked, match="birch ply 18"):
        stock.panel_strengths("birch ply 180")
