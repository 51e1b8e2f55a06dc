"""A shelf as laid out, put as plain shapes for the section model: skins, core, edging, rods.

The plan is turned so that the first leg runs along x. A leg that is not square to it keeps its true outline:
cells at its edges count by what is covered.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import shapely
from shapely import Polygon, box
from shapely.geometry.base import BaseGeometry

from ledgewright import plane
from ledgewright.core import Core
from ledgewright.job import Skin as SkinSpec
from ledgewright.job import Spec
from ledgewright.layout import End, Frame, LegAt, Side, corner_of, into_wall, lean, skin_plan
from ledgewright.plane import Point, Ring
from ledgewright.statics import beam
from ledgewright.statics.formula import Working
from ledgewright.statics.inputs import Inputs
from ledgewright.statics.mechanics.contact_rods import Bar, Slotted
from ledgewright.statics.mechanics.section import (
    Beam,
    Fill,
    Piece,
    Section,
    Sheet,
    Skin,
    isotropic,
    orthotropic,
)
from ledgewright.statics.seats import Seat
from ledgewright.stock import Lumber, Panel

MOST_ASKEW = math.radians(3)
"""A leg further out of square than this is not modelled."""
E_OVER_G, G_OVER_ROLLING, E_OVER_E90 = 16.0, 10.0, 30.0
"""Softwood of EN 338, by the relations of EN 384 (from memory): taken for every timber of core and edging."""
G_PLY, NU_PLY, E90_PLY = 500.0, 0.05, 300.0
"""In-plane shear modulus, Poisson's ratio and modulus through the thickness of a veneer panel (MPa), assumed low."""
NU_BOARD, E90_BOARD = 0.25, 100.0
"""The same of MDF, particleboard and the like, assumed low."""
INSET = 6.0
"""Places to read, and the first place where a rod touches, lie this far in from an edge (mm)."""
PRESSED = 0.4
"""A round bar presses on 0.4 of its diameter, as for bearing; assumed."""
LEVEL = 1e-6
"""Rods whose axes differ by less than this in height are level (mm)."""
BOARDS = ("mdf", "osb", "particleboard")


@dataclass(frozen=True)
class Turned:
    """The section in its own figures: turned by an angle about a point of the plan."""

    section: Section
    about: Point
    angle: float

    def at(self, point: Point) -> Point:
        """Return the section's figures of a plan point."""
        return plane.turn(plane.sub(point, self.about), -self.angle)

    def ring(self, points: Sequence[Point]) -> Ring:
        """Return the section's figures of a ring."""
        return tuple(self.at(p) for p in points)


def structure(*, spec: Spec, frame: Frame, core: Core, creep: bool = False) -> Turned:
    """Return a shelf as skins, core and edging.

    docs/section-model.md. No joint of a skin carries anything. A butt runs along the first leg's front; a mitre
    over a butt is taken as one along the second leg's front, so that the two lap over the corner; two joints alike
    lie over each other and part the section. Groove and screws are left out.

    Args:
        spec: panels, timbers, thicknesses.
        frame: the lay-out.
        core: its pieces of core; what it shows as hollow is hollow.
        creep: moduli after creep: panels by 1 + k_def, timber by 1.6 (EN 1995-1-1 2.3.2.2, class 1).

    Raises:
        ValueError: if a leg is more than 3 degrees out of square with the first.
    """
    lead = frame.legs[0]
    run = plane.sub(lead.front[1], lead.front[0])
    made = Turned(_EMPTY, lead.front[0], math.atan2(run[1], run[0]))
    for leg in frame.legs[1:]:
        away = plane.turn(plane.sub(leg.front[1], leg.front[0]), -made.angle)
        if abs(math.atan2(away[0], abs(away[1]))) > MOST_ASKEW:
            msg = f"the leg on wall {leg.called} is more than 3 degrees out of square"
            raise ValueError(msg)
    timber = 1.6 if creep else 1.0
    section = Section(
        top=_skin(made, spec.skin_bottom, spec.skin_top, spec, frame, creep=creep),
        bottom=_skin(made, spec.skin_top, spec.skin_bottom, spec, frame, creep=creep),
        core=spec.core.thick,
        fills=tuple(_fill(made.ring(p.plan), spec.core.of, timber) for p in core.pieces),
        beams=_edging(made.at, spec, frame, timber),
    )
    return Turned(section, made.about, made.angle)


_EMPTY = Section(Skin(1.0, ()), Skin(1.0, ()), 1.0)


def sheet(panel: Panel, thick: float, *, creep: bool = False) -> Sheet:
    """Return a panel's stiffness: moduli along and across its face grain of the catalogue, the others assumed."""
    slack = 1 + panel.k_def if creep else 1.0
    if panel.kind in BOARDS and panel.E_along == panel.E_across:
        return isotropic(E=panel.E_along / slack, nu=NU_BOARD, thick=thick)
    return orthotropic(
        E_along=panel.E_along / slack,
        E_across=panel.E_across / slack,
        nu=NU_PLY,
        G=G_PLY / slack,
        thick=thick,
    )


def _skin(
    turned: Turned, other: SkinSpec, of: SkinSpec, spec: Spec, frame: Frame, *, creep: bool
) -> Skin:
    plan = Polygon(turned.ring(_corners(skin_plan(frame.outline, spec, frame))))
    made = sheet(of.panel, of.thick, creep=creep)
    if len(frame.legs) == 1 or of.joint == "one piece":
        return Skin(of.thick, (Piece(_corners(plan), made),))
    inside = frame.turn == "inside"
    x, y = turned.at(corner_of(frame.outline, frame)[0])
    x, y = (x + spec.edging_thick, y + spec.edging_thick) if inside else (x, y)
    left, low, right, high = plan.bounds
    if of.joint == "mitred" and other.joint == "butted":
        second, cut = box(x, low, right, high), ((x, low), (x, high))
    else:
        near, far = (low, y) if inside else (y, high)
        second, cut = box(left, near, right, far), ((left, y), (right, y))
    pieces = (
        Piece(_corners(_most(plan.difference(second))), made),
        Piece(_corners(_most(plan.intersection(second))), made, math.pi / 2),
    )
    return Skin(of.thick, pieces, (cut,))


def _most(shape: BaseGeometry) -> Polygon:
    """The piece itself; slivers that a bowed back leaves past the joint's line count with neither, towards safety."""
    found = [p for p in shapely.get_parts(shape) if isinstance(p, Polygon)]
    return max(found, key=lambda p: p.area)


def _corners(plan: Polygon) -> Ring:
    return plane.ccw([(x, y) for x, y in plan.exterior.coords[:-1]])


def _fill(ring: Ring, of: Lumber, slack: float) -> Fill:
    """A piece of core: its grain runs along its longest edge."""
    edges = [plane.sub(b, a) for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)]
    along = max(edges, key=plane.length)
    G = of.E / E_OVER_G / slack
    return Fill(
        ring,
        G_along=G,
        G_across=G / G_OVER_ROLLING,
        E_through=of.E / E_OVER_E90 / slack,
        grain=math.atan2(along[1], along[0]),
    )


def _edging(
    put: Callable[[Point], Point], spec: Spec, frame: Frame, slack: float
) -> tuple[Beam, ...]:
    """The edging of every leg's front as a beam of the shelf's full height, just behind the skin's edge."""
    inertia = spec.edging_thick * spec.thick**3 / 12
    fronts = (_front(leg, spec.edging_thick + INSET) for leg in frame.legs)
    return tuple(Beam(put(a), put(b), spec.edging.E / slack * inertia) for a, b in fronts)


def _front(leg: LegAt, back: float) -> tuple[Point, Point]:
    """A leg's front line, moved back from the front and in from both ends."""
    inward, along = into_wall(leg), plane.unit(plane.sub(leg.front[1], leg.front[0]))
    a, b = (plane.along(p, inward, back) for p in leg.front)
    left, right = in_from_ends(leg, back)
    return plane.along(a, along, left), plane.along(b, along, -right)


def in_from_ends(leg: LegAt, back: float) -> tuple[float, float]:
    """Return how far in from the ends of a leg's front a place `back` behind it lies on the skin (mm).

    As far in as behind; further where the leg is cut shorter at the back, so that it is as far off a free end's own
    line too, and `INSET` off that of a joint.
    """
    return _in_from(leg, "left", leg.left_end, back), _in_from(leg, "right", leg.right_end, back)


def _in_from(leg: LegAt, side: Side, kind: End, back: float) -> float:
    if kind == "corner":
        return back
    slant, off = lean(leg, side), back if kind == "free" else INSET
    return max(back, off * math.hypot(1.0, slant) - slant * back)


def slotted(
    turned: Turned, seats: Sequence[Seat], spec: Spec, inputs: Inputs, *, creep: bool = False
) -> tuple[Slotted, ...]:
    """Return the rods in their slots, in the order of their seats; play is half above and half below.

    The bed between rod and skin is the skin's own pressing: E90 (0.4 d + t)/t, spread at 45 degrees; assumed. A
    glued slot takes the same. Rods lie in the wood as in the one-rod model.

    Args:
        turned: the section.
        seats: the rods in their members, stiffened or softened as sampled.
        spec: the skins.
        inputs: the doubtful figures.
        creep: the beds after creep.

    Raises:
        ValueError: if a member's timber, or its density, is not known.
    """
    made = [_slotted(turned, seat, spec, inputs, creep=creep) for seat in seats]
    return tuple(
        replace(rod, rise=rise) for rod, rise in zip(made, _rises(seats, made), strict=True)
    )


def _rises(seats: Sequence[Seat], made: Sequence[Slotted]) -> list[tuple[float, float]]:
    """How far each rod stands above the middle of all at its mouth and its tip (mm); exactly nought if all level."""
    heights = [
        (
            seat.rod.origin[2] + seat.rod.axis[2] * rod.mouth,
            seat.rod.origin[2] + seat.rod.axis[2] * rod.tip,
        )
        for seat, rod in zip(seats, made, strict=True)
    ]
    every = [z for ends in heights for z in ends]
    if not every or max(every) - min(every) < LEVEL:
        return [(0.0, 0.0)] * len(made)
    middle = sum(every) / len(every)
    return [(a - middle, b - middle) for a, b in heights]


def _slotted(turned: Turned, seat: Seat, spec: Spec, inputs: Inputs, *, creep: bool) -> Slotted:
    rod, bar = seat.rod, seat.rod.bar
    bed = beam.bed(Working(keep=False), seat, inputs, crept=creep)
    play = max(rod.clearance.up + inputs.clearance, 0.0) / 2
    top, bottom = (
        inputs.section * _bed(of, bar.width, creep=creep, flat=not bar.shape.startswith("round"))
        for of in (spec.skin_top, spec.skin_bottom)
    )
    return Slotted(
        bar=Bar(k=bed.k, L=bed.L, E=bed.E, I=bed.I, weight=bar.mass_per_length * 9.81),
        start=turned.at(rod.point(0.0)),
        axis=plane.turn((rod.axis[0], rod.axis[1]), -turned.angle),
        mouth=seat.back + INSET,
        tip=seat.tip,
        above=play,
        below=play,
        bed_top=top,
        bed_bottom=bottom,
        glued=rod.in_slot == "glued",
    )


def _bed(of: SkinSpec, width: float, *, creep: bool, flat: bool) -> float:
    E90 = E90_BOARD if of.panel.kind in BOARDS else E90_PLY
    slack = 1 + of.panel.k_def if creep else 1.0
    on = width if flat else PRESSED * width
    return E90 / slack * (on + of.thick) / of.thick
