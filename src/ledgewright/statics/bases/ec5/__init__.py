"""EN 1995-1-1:2004 and EN 1993-1-1:2005."""

from ledgewright.statics.bases.ec5._en1993 import (
    GAMMA_M0,
    bending,
    buckling,
    buckling_slenderness,
    critical_moment,
    curve_d,
    reduction,
    shear,
)
from ledgewright.statics.bases.ec5._members import effective
from ledgewright.statics.bases.ec5._section8 import (
    K_ser,
    K_ser_nail,
    M_yRk,
    bearing_per_length,
    f_h0k,
    f_hak,
    k_90,
)
from ledgewright.statics.bases.ec5._timber import (
    GAMMA_M,
    K_DEF,
    K_MOD,
    design_bearing,
    design_hinge,
    k_def,
    k_mod,
    scaled,
)
from ledgewright.statics.bases.ec5.adapter import Ec5

__all__ = [
    "GAMMA_M",
    "GAMMA_M0",
    "K_DEF",
    "K_MOD",
    "Ec5",
    "K_ser",
    "K_ser_nail",
    "M_yRk",
    "bearing_per_length",
    "bending",
    "buckling",
    "buckling_slenderness",
    "critical_moment",
    "curve_d",
    "design_bearing",
    "design_hinge",
    "effective",
    "f_h0k",
    "f_hak",
    "k_90",
    "k_def",
    "k_mod",
    "reduction",
    "scaled",
    "shear",
]
