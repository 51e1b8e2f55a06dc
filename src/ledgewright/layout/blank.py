"""The blank before it is scribed: how far it reaches past the finished shelf, and where it is measured."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from ledgewright.job import Spec
from ledgewright.layout.legs import Run, Side

SIDES: tuple[Side, Side] = ("left", "right")

KERF = 3.175
"""What a blank keeps over the wall's own bow for pencil and blade (mm, 1/8 in: common practice)."""

STATION_EVERY = 150.0
"""Scribe figures are given at least this often (mm; 6 in, common practice)."""


def rough_ends(run: Run, spec: Spec) -> Run:
    """Return the leg with the whole scribe allowance at every end that is scribed, cut square."""
    if spec.ends != "tight":
        return run
    back, front = blank_back(run, spec), run.front
    left, right = (run.reach(side, back, front) for side in SIDES)
    if run.left_end == "wall":
        run = replace(run, left_cut=((0.0, left - spec.scribe_allowance),))
    if run.right_end == "wall":
        run = replace(run, right_cut=((0.0, right + spec.scribe_allowance),))
    return run


def blank_back(run: Run, spec: Spec) -> float:
    """Return the out of the blank's back edge: the whole allowance in, or at the deepest hollow."""
    return min(run.deepest, run.band - spec.scribe_allowance)


def close(places: Sequence[float]) -> list[float]:
    """Return the places with others between, so that none is further than 150 mm from the next."""
    found = [places[0]]
    for a, b in pairwise(places):
        parts = max(1, math.ceil((b - a) / STATION_EVERY - 1e-9))
        found += [a + (b - a) * k / parts for k in range(1, parts)] + [b]
    return found
