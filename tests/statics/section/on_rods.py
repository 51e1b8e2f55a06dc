"""Shelves on rods for tests: a strip on one rod, and boards on several."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from ledgewright.statics.mechanics.contact_rods import (
    POINTS,
    SITES,
    Answer,
    Bar,
    Resting,
    Slotted,
    rest,
    sites,
)
from ledgewright.statics.mechanics.section import (
    Condensed,
    Fill,
    Held,
    Loaded,
    Piece,
    Pressure,
    Section,
    Sheet,
    Site,
    Skin,
    condense,
    orthotropic,
)
from tests.statics.section.made import box

STEEL = 200e3
D = 12.7
I = math.pi * D**4 / 64


def ply(stiff: float = 1.0, thick: float = 9.0) -> Sheet:
    """A plywood skin, as many times stiffer."""
    return orthotropic(
        E_along=8000 * stiff, E_across=5000 * stiff, nu=0.05, G=600 * stiff, thick=thick
    )


def board(
    left: float,
    right: float,
    back: float,
    front: float,
    rods: tuple[Slotted, ...],
    *,
    stiff: float = 1.0,
    held: tuple[Held, ...] = (),
) -> Section:
    """A straight shelf, solid between its skins but for the slots, which run along y."""
    plan = box(left, back, right, front)
    skin = Skin(9.0, (Piece(plan, ply(stiff)),))
    half = D / 2 + 1.5
    lines = [left, *(x for r in rods for x in (r.start[0] - half, r.start[0] + half)), right]
    plans = [box(a, back, b, front) for a, b in zip(lines[::2], lines[1::2], strict=True)]
    plans += [
        box(r.start[0] - half, r.start[1] + r.tip + 6, r.start[0] + half, front)
        for r in rods
        if r.start[1] + r.tip + 6 < front
    ]
    fills = tuple(Fill(p, 600 * stiff, 400 * stiff, 400 * stiff) for p in plans)
    return Section(skin, skin, 19.0, fills, held=held)


def rod(x: float, **changed: Any) -> Slotted:
    """A round rod, 1/2 in, 200 mm in its slot, 16 mm of lining."""
    bar = Bar(
        k=changed.pop("k", 1000.0),
        L=changed.pop("L", 80.0),
        E=changed.pop("E", STEEL),
        I=I,
        weight=changed.pop("weight", 0.0),
    )
    values: dict[str, Any] = {
        "mouth": 16.0,
        "tip": 216.0,
        "above": 0.0,
        "below": 0.0,
        "bed_top": 300.0,
        "bed_bottom": 300.0,
    }
    return Slotted(bar=bar, start=(x, 0.0), axis=(0.0, 1.0), **(values | changed))


READ = (Site(200, 316), Site(0, 316), Site(400, 316), Site(200, 16))
STRIP = box(0, 16, 400, 316)


def strip(of: Slotted, *, stiff: float = 1.0, mesh: float = 40.0, count: int = SITES) -> Condensed:
    """A strip 400 x 300 x 37 mm on one rod, kept from rolling about it at one point of the back edge."""
    held = (Held((200, 16), (200, 16), "top", ("w_x",)),)
    section = board(0, 400, 16, 316, (of,), stiff=stiff, held=held)
    return condense(section, sites((of,), READ, count=count), mesh=mesh)


def on(
    made: Condensed, *rods: Slotted, force: float = 300.0, points: int = POINTS, count: int = SITES
) -> tuple[Answer, Loaded, Resting]:
    """The strip under an even load."""
    loaded = made.load(Pressure(STRIP, force))
    resting = rest(made, rods, points=points, count=count)
    return resting.solve(loaded), loaded, resting


def one_rod(of: Slotted, force: float, lever: float) -> tuple[float, float]:
    """Drop and turn of a rod at a point load on it, by the formulas of a cantilever on a yielding end."""
    y, theta = of.bar.at_face() @ np.array([force, force * lever])
    EI = of.bar.E * of.bar.I
    drop = y + theta * lever + force * lever**3 / (3 * EI)
    return float(drop), float(theta + force * lever**2 / (2 * EI))
