"""What one load asks of the box itself: skins, core and glue, each where it is asked most."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ledgewright import plane
from ledgewright.statics.glue_checks import Slid, most_slid, most_through
from ledgewright.statics.mechanics.contact_rods import Answer, Slotted
from ledgewright.statics.mechanics.section import (
    Condensed,
    Section,
    cores,
    skins,
    spread,
)
from ledgewright.statics.mechanics.section.parts import Point, Ring, Side
from ledgewright.statics.mechanics.section.sheet import Floats
from ledgewright.statics.skin_checks import Bent, most_bent, most_sheared
from ledgewright.stock import PanelStrengths

AT_ONCE = 48
"""So many loads are read together: more of them fill the memory, fewer take longer."""
SIDES: tuple[Side, ...] = ("top", "bottom")
TURNS = -0.1
"""Sine of the turn from which a corner counts as one that turns inwards: scribed backs waver by less."""


@dataclass(frozen=True)
class OnSkin:
    """What a load asks of one skin: bent and pulled, shear V and a rod's line force q per length (N/mm)."""

    bent: Bent
    V: float
    q: float


@dataclass(frozen=True)
class Asked:
    """What a load asks of the box; slid None where nothing ties the skins. pressed, parted: MPa."""

    top: OnSkin
    bottom: OnSkin
    slid: Slid | None
    pressed: float
    parted: float


@dataclass(frozen=True)
class Pressing:
    """One load on a section, and the section on its rods under it. force: on every movement (n,)."""

    force: Floats
    answer: Answer


def asked(
    condensed: Condensed,
    loads: Sequence[Pressing],
    rods: Sequence[Slotted],
    *,
    top: PanelStrengths,
    bottom: PanelStrengths,
    slot: float,
) -> tuple[Asked, ...]:
    """Return what each of several loads asks of the box, each where it is asked most.

    docs/section-model.md, "What the parts carry".

    Args:
        condensed: the section.
        loads: with the section on its rods under them.
        rods: the rods, in their slots.
        top: strengths of the top skin.
        bottom: strengths of the bottom skin.
        slot: width of the widest slot (mm).
    """
    made: list[Asked] = []
    for start in range(0, len(loads), AT_ONCE):
        some = loads[start : start + AT_ONCE]
        made += _asked(condensed, some, rods, {"top": top, "bottom": bottom}, slot)
    return tuple(made)


def _asked(
    condensed: Condensed,
    loads: Sequence[Pressing],
    rods: Sequence[Slotted],
    of: Mapping[Side, PanelStrengths],
    slot: float,
) -> list[Asked]:
    moved = condensed.moves(
        np.column_stack([load.force for load in loads]),
        np.column_stack([load.answer.pushed for load in loads]),
        np.column_stack([load.answer.whole for load in loads]),
    )
    section, tied = condensed.section, cores(condensed, moved)
    pressed, parted = most_through(section, tied)
    slid = most_slid(section, tied, slot=slot)
    top, bottom = (_on(condensed, moved, side, of[side], loads, rods, slot) for side in SIDES)
    return [
        Asked(
            top=top[k],
            bottom=bottom[k],
            slid=slid[k] if slid else None,
            pressed=float(pressed[k]) if slid else 0.0,
            parted=float(parted[k]) if slid else 0.0,
        )
        for k in range(len(loads))
    ]


def _on(
    condensed: Condensed,
    moved: Floats,
    side: Side,
    of: PanelStrengths,
    loads: Sequence[Pressing],
    rods: Sequence[Slotted],
    slot: float,
) -> list[OnSkin]:
    section = condensed.section
    over = slot + 2 * section.skin(side).thick
    bent = most_bent(
        skins(condensed, moved, side, "nodes"),
        skins(condensed, moved, side),
        of,
        points=without_bound(section, side, rods),
        over=over,
    )
    V = most_sheared(skins(condensed, moved, side, "middles"), spread(condensed, side), over=over)
    reach = [min(over, rod.tip - rod.mouth) for rod in rods]
    return [
        OnSkin(
            bent[k],
            float(V[k]),
            max(one.line_force(r) for one, r in zip(load.answer.rods, reach, strict=True)),
        )
        for k, load in enumerate(loads)
    ]


def without_bound(section: Section, side: Side, rods: Sequence[Slotted]) -> tuple[Point, ...]:
    """Return where the elastic stress of a skin has no bound.

    The ends of the slots, the ends of its joints and of the other skin's, its inside corners.
    """
    ends = [tuple(p) for r in rods for p in r.plan(np.array([r.mouth, r.tip])).tolist()]
    joints = [p for skin in (section.top, section.bottom) for cut in skin.cuts for p in cut]
    corners = [p for piece in section.skin(side).pieces for p in _inside_corners(piece.plan)]
    return (*((x, y) for x, y in ends), *joints, *corners)


def _inside_corners(ring: Ring) -> list[Point]:
    """The points at which a plan turns inwards by more than a few degrees."""
    points = plane.ccw(ring)
    made = []
    for a, b, c in zip((points[-1], *points[:-1]), points, (*points[1:], points[0]), strict=True):
        before, after = plane.sub(b, a), plane.sub(c, b)
        if plane.cross(before, after) < TURNS * plane.length(before) * plane.length(after):
            made.append(b)
    return made
