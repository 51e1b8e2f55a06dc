"""A turn in the plan ("tilt") into an alcove whose mouth is narrower than the section.

One end goes in first, the section held askew; when its back corner there is in place the other end swings home.
The rods are then entered askew, so that their slots come out wider, or the turn is no more than the slots'
play allows. A long section gains little by it: askew it needs length x cos + depth x sin of width.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from shapely.geometry import Polygon

from ledgewright import plane
from ledgewright.fitting import sweep
from ledgewright.fitting.classic import Plan
from ledgewright.fitting.fixed import CONTACT, overlap
from ledgewright.fitting.pose import HOME, Pose, part
from ledgewright.fitting.setting import Setting, past_tips
from ledgewright.plane import Point

DEGREES = (0.25, 0.5, 1.0, 2.0, 4.0, 8.0)
"""The turns that are tried: a finite set, our choice. By hand one cannot hold a turn closer."""

HOPELESS = 10.0
"""A turn that runs deeper than this into something at a rough look is not worked out (mm): our choice."""

PLACES = 12
"""At so many places of each move a turn is looked at roughly before it is worked out."""


def plans(here: Setting) -> list[Plan]:
    """Return the most hopeful way with one turn: the one that runs least into anything.

    Only for a straight section between two returns; elsewhere an end is free and nothing is gained. None if
    every turn runs into something deep.
    """
    if len(here.frame.legs) != 1 or len(here.returns) < 2:
        return []
    best, least = None, HOPELESS
    for plan in _askew(here):
        deep = _rough(here, plan, least)
        if deep < least:
            best, least = plan, deep
    return [replace(best, remarks=(_play(here),))] if best else []


def _askew(here: Setting) -> Iterator[Plan]:
    """Each turn about each back corner, with the end slid aside by what it takes or not, in along each line."""
    leg = here.frame.legs[0]
    u, v = here.axes
    far = past_tips(here, here.outline, leg.wall, u)
    for degrees in DEGREES:
        angle = math.radians(degrees)
        for side, corner in ((-1.0, leg.back[0]), (1.0, leg.back[-1])):
            for slid in (0.0, -side * leg.depth * math.sin(angle)):
                for way in _lines(here, u):
                    turned = Pose(plane.scale(v, slid), side * angle, corner)
                    start = replace(turned, shift=plane.along(turned.shift, way, -far * 1.2))
                    yield Plan("tilt", "tilt", (start, turned, HOME), _notes(degrees), (v,))


def _lines(here: Setting, u: Point) -> list[Point]:
    """Ways in: along the rods, and along each return's line."""
    lines = [plane.sub(w.at(*w.line[-1]), w.at(*w.line[0])) for w in here.returns]
    into = [plane.scale(line, 1.0 if plane.dot(line, u) > 0 else -1.0) for line in lines]
    return [u, *(plane.scale(w, 1.0 / plane.dot(w, u)) for w in into if plane.dot(w, u) > 0)]


def _notes(degrees: float) -> tuple[str, str]:
    return (
        f"in with one end first, held askew by {degrees:g} degrees",
        "swing the other end in: home",
    )


def _rough(here: Setting, plan: Plan, least: float) -> float:
    """The deepest overlap with anything at a few places of the way (mm); it need not be told once it is `least`."""
    start, turned, home = plan.stops
    deep = 0.0
    for a, b in ((start, turned), (turned, home)):
        for k in range(PLACES + 1):
            section = sweep.placed(here.outline, part(a, b, k / PLACES))
            for thing in range(len(here.fixed)):
                deep = max(deep, round(_deep(section, here, thing) - CONTACT, 3))
                if deep >= least:
                    return deep
    return deep


def _deep(section: Polygon, here: Setting, index: int) -> float:
    return overlap(section, here.fixed[index], here.axes[1:])


def _play(here: Setting) -> str:
    """How far the section can turn on its rods in slots that are not widened: twice the play over the length."""
    free = [math.atan2(2 * r.clearance.side, r.projection) for r in here.frame.rods]
    degrees = math.degrees(min(free, default=0.0))
    return f"On its rods, in slots not widened for it, the section turns by no more than {degrees:.2f} degrees."
