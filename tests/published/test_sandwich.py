"""Sandwich beams and parts joined by yielding joints.

data/worked_plates.json: Allen, Analysis and Design of Structural Sandwich Panels (1969),
formulae from memory, recomputed
outside this project by a beam element; EN 1995-1-1 Annex B (from memory), checked outside this project against the
exact solution for a sine load. The closed forms are written out here from those sources.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from ledgewright.statics.mechanics.section import (
    Fill,
    Held,
    Piece,
    Pressure,
    Section,
    Sheet,
    Site,
    Skin,
    condense,
    orthotropic,
)
from tests.published.test_plates import agrees, worked
from tests.statics.section.made import SIDES, box, built_in, sandwich

AGAINST = (
    "Allen, Structural Sandwich Panels (1969); EN 1995-1-1 Annex B",
    "from memory, recomputed outside the project",
    "0.1 % and 0.2 %",
)


def allen(
    *, E: float, t: float, c: float, b: float, G: float, L: float, W: float, Ec: float = 0
) -> float:
    """Allen's thick-face beam between simple supports, load in the middle."""
    d = c + t
    D = E * b * t**3 / 6 + E * b * t * d**2 / 2 + Ec * b * c**3 / 12
    faces, AG = E * b * t**3 / 6, G * b * d**2 / c
    r = 1 - faces / D
    theta = L / 2 * math.sqrt(AG / (faces * r))
    return W * L**3 / (48 * D) + W * L / (4 * AG) * r**2 * (1 - math.tanh(theta) / theta)


def half_beam(given: dict[str, float], *, G: float, core_bends: bool, mesh: float) -> float:
    """Tip of the half beam as a cantilever: half the span, half the load."""
    t, c, b, L = (given[k] for k in ("t_face", "c_core", "b", "L"))
    sheet = orthotropic(
        E_along=given["E_face"], E_across=given["E_face"], nu=0.0, G=given["E_face"] / 2, thick=t
    )
    plan = box(0, 0, L / 2, b)
    section = sandwich(plan, sheet, thick=t, core=c, G=G)
    held = tuple(built_in((0, 0), (0, b), side) for side in SIDES)
    fills = (Fill(plan, G, G, 1e6, E_along=given["E_core"] if core_bends else 0.0),)
    section = Section(section.top, section.bottom, c, fills, held=held)
    made = condense(section, [Site(L / 2, b / 2)], mesh=mesh)
    (w,) = made.load(Pressure(((L / 2, 0), (L / 2, b)), given["W"] / 2)).drop
    return float(w)


def test_worked_sandwich_beam() -> None:
    example = worked("sandwich_allen")
    given, expected = example["inputs"], example["expected"]
    closed = allen(E=8000, t=6, c=38, b=300, G=10, L=600, W=200, Ec=given["E_core"])
    agrees(closed, expected["w_thick_face"])
    # Allen lets the core bend with the section as a whole, here it bends with what its own shear leaves: 0.1 %.
    fine = half_beam(given, G=given["G_core"], core_bends=True, mesh=20)
    assert fine == pytest.approx(expected["w_thick_face"], rel=0.0011)


@pytest.mark.parametrize("G", [1.0, 10.0, 60.0, 600.0, 6000.0])
@pytest.mark.parametrize(("mesh", "within"), [(40, 1.5e-3), (20, 4e-4), (10, 1.5e-4)])
def test_sandwich_beam_from_soft_to_stiff_core(G: float, mesh: float, within: float) -> None:
    given = worked("sandwich_allen")["inputs"]
    closed = allen(E=8000, t=6, c=38, b=300, G=G, L=600, W=200)
    assert half_beam(given, G=G, core_bends=False, mesh=mesh) == pytest.approx(closed, rel=within)


def two_parts(given: dict[str, float], slip: float) -> float:
    """EI of a skin and a rib joined by a yielding joint, from the middle's drop under a sine load over a span.

    slip: N/mm per mm of length. The core between them is 0.01 mm of nothing but that joint.
    """
    (E1, b1, h1, E2, b2, h2, L) = (given[k] for k in ("E1", "b1", "h1", "E2", "b2", "h2", "L"))
    c = 1e-2
    # Per width of 300: the rib's stiffness spread over the width of the skin.
    top = strip(E1 * h1, E1 * h1**3 / 12)
    bottom = strip(E2 * b2 * h2 / b1, E2 * b2 * h2**3 / 12 / b1)
    plan = box(0, 0, L, b1)
    G = slip * c / b1
    ends = tuple(Held((x, 0), (x, b1), side, ("w", "w_y", "v")) for x in (0.0, L) for side in SIDES)
    section = Section(
        Skin(h1, (Piece(plan, top),)),
        Skin(h2, (Piece(plan, bottom),)),
        c,
        (Fill(plan, G, 1.0, 1e3),),
        held=ends,
    )
    slices = 40
    places = (np.arange(slices) + 0.5) * L / slices
    loads = [
        Pressure(box(x - L / slices / 2, 0, x + L / slices / 2, b1), math.sin(math.pi * x / L))
        for x in places
    ]
    made = condense(section, [Site(L / 2, b1 / 2)], mesh=L / 20)
    (w,) = made.load(*loads).drop
    # w = q0 L^4/(pi^4 EI) for q = q0 sin(pi x/L); a slice of load 1 sin stands for q0 = slices/L.
    return slices / L * L**4 / (math.pi**4 * float(w))


def strip(EA: float, EI: float) -> Sheet:
    """A sheet that has stiffness along x and next to none across."""
    return Sheet((EA, EA * 1e-3, 0.0, EA * 1e-3), (EI, EI * 1e-3, 0.0, EI * 1e-3))


@pytest.mark.parametrize("name", ["gamma_two_part", "gamma_glue_G1", "gamma_glue_G500"])
def test_gamma_method(name: str) -> None:
    given = worked("gamma_two_part")["inputs"]
    example = worked(name)
    slip = example["inputs"].get("K_over_s", given["K"] / given["s"])
    # Annex B is exact for the sine; the load in 40 steps and the joint's 0.01 mm leave 0.2 %.
    assert two_parts(given, slip) == pytest.approx(example["expected"]["EI"], rel=2e-3)


def test_gamma_method_limits() -> None:
    given, expected = (worked("gamma_two_part")[k] for k in ("inputs", "expected"))
    assert two_parts(given, 1e-3) == pytest.approx(expected["EI_no_bond"], rel=2e-3)
    assert two_parts(given, 1e7) == pytest.approx(expected["EI_rigid"], rel=2e-3)
