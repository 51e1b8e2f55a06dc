"""Pull-out of rods bonded into wood across its grain: published forms, none of them a code for this work.

Rows gir-* of the reference table: pre-standards and research on qualified adhesives in glued laminated timber. Both
bases take them as a guide at the edge of what they cover.
"""

from __future__ import annotations

import math

from ledgewright.statics.formula import formula

ENV = "DIN V ENV 1995-2:1997 (second-hand)"
DIN_1052 = "E DIN 1052:1999 (second-hand), bonded up to 250 mm"
AICHER = "Aicher 2001, brittle epoxy (second-hand)"
MOEHLER = (
    "Moehler and Hemmer 1981 (second-hand): 1.2 MPa up to 24 mm, half for a pull across the grain"
)
F_DIN = 4.0
"""Bond-line strength up to 250 mm (MPa): E DIN 1052:1999."""
ALLOWED, ALLOWED_THICK = 0.6, 0.4
"""Allowable bond shear for a pull across the grain up to 24 and up to 30 mm (MPa): Moehler and Hemmer 1981, halved."""
REASON = (
    "rods bonded into sawn studs are in no code: strengths of tests on laminated timber with "
    "qualified adhesives, taken as a guide"
)


@formula("d_e", "min(d_h, 1.25 d)", unit="mm", source=ENV, symbols={"hole": "d_h"})
def d_equivalent(*, hole: float, d: float) -> float:
    """Return the diameter at which a bonded rod's wood shears.

    ENV 1995-2:1997. hole, d: diameters of hole and rod (mm). Returns mm.
    """
    return min(hole, 1.25 * d)


@formula(
    "f_(v,1)",
    "frac(0.0012 rho_k^1.5, d_e^0.2)",
    unit="MPa",
    source=ENV,
    symbols={"rho": "rho_k", "d": "d_e"},
)
def f_env(*, rho: float, d: float) -> float:
    """Return the characteristic bond-line strength by density.

    ENV 1995-2:1997. rho: characteristic density (kg/m3). d: `d_equivalent` (mm). Returns MPa. No length effect.
    """
    return float(1.2e-3 * rho**1.5 / d**0.2)


@formula(
    "f_(v,2)",
    "min(7.55, frac(60, d_h^0.49 (L / d_h)^0.46))",
    unit="MPa",
    source=AICHER,
    symbols={"hole": "d_h"},
)
def f_aicher(*, hole: float, L: float) -> float:
    """Return the characteristic bond-line strength of brittle epoxy.

    Aicher 2001. hole: diameter (mm). L: bonded length (mm). Returns MPa.
    """
    return float(min(7.55, 60 / (hole**0.49 * (L / hole) ** 0.46)))


@formula(
    "f_v",
    "min(f_(v,1), f_(v,2), f_(v,3))",
    unit="MPa",
    source="The least of three published forms",
    symbols={"env": "f_(v,1)", "aicher": "f_(v,2)", "din": "f_(v,3)"},
)
def weakest(*, env: float, aicher: float, din: float) -> float:
    """Return the least of the published bond-line strengths.

    Towards safety. env, aicher, din: strengths (MPa). Returns MPa.
    """
    return min(env, aicher, din)


@formula("R_k", "pi d_e L f_v", unit="N", source=ENV, symbols={"d": "d_e", "f": "f_v"})
def pull_out(*, d: float, L: float, f: float) -> float:
    """Return the pull at which a bonded rod comes out.

    ENV 1995-2:1997. d: diameter that shears (mm). L: bonded length (mm). f: bond-line strength (MPa). Returns N.
    """
    return math.pi * d * L * f
