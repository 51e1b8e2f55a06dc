"""The cases put into the section model."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ledgewright.statics.mechanics.contact_rods import Bar, Slotted, rest, sites
from ledgewright.statics.mechanics.section import (
    MESH,
    Fill,
    Piece,
    Pressure,
    Section,
    Site,
    Skin,
    condense,
    orthotropic,
)
from tests.statics.second_opinion.cases import (
    BED,
    CORE,
    E_ACROSS,
    E_ALONG,
    E_CORE,
    EMBEDDED,
    G_CORE,
    G_SKIN,
    MOUTH,
    NU,
    PRESSING,
    ROUND,
    STEEL,
    THICK,
    Box,
    Case,
    Rod,
)
from tests.statics.second_opinion.solid import Told
from tests.statics.section.made import box

Floats = NDArray[np.float64]
PATCH = (np.arange(8) + 0.5) / 8


def _tiles(case: Case) -> list[Box]:
    """The core as boxes that do not overlap: where there is core and no slot."""
    core, slots = case.skin if case.core is None else case.core, [r.slot for r in case.rods]
    every = [*case.skin, *core, *slots]
    x, y = (sorted({v for b in every for v in (b[i], b[i + 2])}) for i in (0, 1))

    def inside(of: tuple[Box, ...] | list[Box], at: tuple[float, float]) -> bool:
        return any(b[0] < at[0] < b[2] and b[1] < at[1] < b[3] for b in of)

    made = []
    for a, c in pairwise(x):
        for b, d in pairwise(y):
            mid = ((a + c) / 2, (b + d) / 2)
            if inside(core, mid) and inside(case.skin, mid) and not inside(slots, mid):
                made.append((a, b, c, d))
    return made


def _skin(case: Case) -> Skin:
    sheet = orthotropic(E_along=E_ALONG, E_across=E_ACROSS, nu=NU, G=G_SKIN, thick=THICK)
    if len(case.skin) == 1:
        return Skin(THICK, (Piece(box(*case.skin[0]), sheet),))
    (a, b, c, d), (_, _, e, f) = case.skin
    return Skin(THICK, (Piece(((a, b), (c, b), (c, d), (e, d), (e, f), (a, f)), sheet),))


def _slotted(rod: Rod) -> Slotted:
    return Slotted(
        bar=Bar(k=BED, L=EMBEDDED, E=STEEL, I=math.pi * ROUND**4 / 64),
        start=(rod.at, 0.0) if rod.along == "y" else (0.0, rod.at),
        axis=(0.0, 1.0) if rod.along == "y" else (1.0, 0.0),
        mouth=MOUTH,
        tip=rod.tip,
        above=0.0,
        below=rod.below,
        bed_top=PRESSING,
        bed_bottom=PRESSING,
    )


def solve(case: Case, mesh: float = MESH) -> Told:
    """Return what the section model says under the loads of a case."""
    fills = tuple(Fill(box(*t), G_CORE, G_CORE, E_CORE) for t in _tiles(case))
    section = Section(_skin(case), _skin(case), CORE, fills)
    rods = tuple(_slotted(r) for r in case.rods)
    made = condense(section, sites(rods, [Site(x, y) for x, y in case.fronts]), mesh=mesh)
    loaded = made.load(*(Pressure(box(*b), force) for b, force in case.loads))
    answer = rest(made, rods).solve(loaded, raised=[r.proud for r in case.rods])
    moved = made.move(loaded, answer.pushed, answer.whole)
    a, b, c, d = case.patch
    x, y = np.meshgrid(a + (c - a) * PATCH, b + (d - b) * PATCH)
    places = np.stack([x.ravel(), y.ravel()], axis=1)
    N, M = (each.mean(axis=0) for each in made.resultants(moved, places, "top", 0))
    n, m = N / THICK, 6 * M / THICK**2
    return Told(
        drops=answer.read,
        force=np.array([r.force for r in answer.rods]),
        moment=np.array([r.M for r in answer.rods]),
        stress=np.array([n[0] - m[0], n[0] + m[0], n[1] - m[1], n[1] + m[1]]),
        pressed=float(sum(r.bottom.sum() for r in answer.rods)),
    )
