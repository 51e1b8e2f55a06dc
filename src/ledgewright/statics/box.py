"""What loads ask of the box itself: skins, core and glue, each where it is asked most."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from scipy.sparse import csr_array

from ledgewright import plane
from ledgewright.statics.glue_checks import (
    MostSlid,
    Sliding,
    SlidMost,
    most_slid,
    slid_where,
    sliding,
    there,
    through,
    through_where,
)
from ledgewright.statics.mechanics.contact_rods import Slotted
from ledgewright.statics.mechanics.section import (
    Condensed,
    Section,
    case_by_case,
    cores,
    drawn_out,
    skins,
    spread,
)
from ledgewright.statics.mechanics.section.grid import Ints
from ledgewright.statics.mechanics.section.parts import Point, Ring, Side
from ledgewright.statics.mechanics.section.sheet import Floats
from ledgewright.statics.skin_checks import (
    Bending,
    Bent,
    BentWhere,
    MostBent,
    Sheared,
    bent_at,
    bent_where,
    most_bent,
    most_sheared,
    sheared_where,
)
from ledgewright.stock import PanelStrengths

READ = 48
"""So many loads are read together: more of them fill the memory, fewer take longer."""
AT_ONCE = 96
"""So many sums of loads are made together."""
SIDES: tuple[Side, ...] = ("top", "bottom")
TURNS = -0.1
"""Sine of the turn from which a corner counts as one that turns inwards: scribed backs waver by less."""


@dataclass(frozen=True)
class Thinned:
    """Where the bottom skin is thinned by a groove: numbers of the places that count there, and what is left (mm)."""

    places: Ints
    thick: float


@dataclass(frozen=True)
class OnSkin:
    """What a load asks of one skin: bent and pulled, shear V and a rod's line force q per length (N/mm)."""

    bent: Bent
    V: float
    q: float


@dataclass(frozen=True)
class Asked:
    """What a load asks of the box; slid None where nothing ties the skins. pressed, parted: MPa.

    groove: of the bottom skin where a groove has thinned it, if one has.
    """

    top: OnSkin
    bottom: OnSkin
    slid: SlidMost | None
    pressed: float
    parted: float
    groove: Bent | None = None


@dataclass(frozen=True)
class Reading:
    """What the box carries at every place that counts, under each load, or per unit of all that acts on it.

    bent, sheared: of the top and of the bottom skin. slid: None where nothing ties the skins; through: (places, loads),
    above 0 pressed.
    """

    bent: tuple[Bending, Bending]
    sheared: tuple[Sheared, Sheared]
    slid: Sliding | None
    through: Floats

    def times(self, weights: Floats) -> Reading:
        """Return what sums of loads do, by their weights (loads, sums)."""
        return Reading(
            bent=(self.bent[0].times(weights), self.bent[1].times(weights)),
            sheared=(self.sheared[0].times(weights), self.sheared[1].times(weights)),
            slid=self.slid.times(weights) if self.slid else None,
            through=self.through @ weights if self.slid else self.through,
        )

    @property
    def figures(self) -> tuple[Floats, ...]:
        """All that it holds, loads last."""
        slid = (self.slid.shear, self.through) if self.slid else ()
        bent = [each for side in self.bent for each in (side.moment, side.force)]
        return (*bent, *(side.cells for side in self.sheared), *slid)

    def of(self, figures: Sequence[Floats]) -> Reading:
        """Return the same places with other figures, in the order of `figures`."""
        a, b, c, d, e, f, *slid = figures
        return Reading(
            bent=(
                replace(self.bent[0], moment=a, force=b),
                replace(self.bent[1], moment=c, force=d),
            ),
            sheared=(replace(self.sheared[0], cells=e), replace(self.sheared[1], cells=f)),
            slid=replace(self.slid, shear=slid[0]) if self.slid else None,
            through=slid[1] if self.slid else self.through,
        )


def joined(parts: Sequence[Reading]) -> Reading:
    """Return what the box carries under all loads of several readings of the same places."""
    figures = zip(*(part.figures for part in parts), strict=True)
    return parts[0].of([np.concatenate(each, axis=-1) for each in figures])


def read(
    condensed: Condensed,
    moved: Floats,
    rods: Sequence[Slotted],
    *,
    slot: float,
    at: Where | None = None,
) -> Reading:
    """Return what the box carries under each of several loads.

    docs/section-model.md, "What the parts carry".

    Args:
        condensed: the section.
        moved: its movements under each (n, loads).
        rods: the rods, in their slots.
        slot: width of the widest slot (mm).
        at: as `where` gives it, if it is known.
    """
    loads, filled = moved.shape[1], list[Floats]()
    at = at or where(condensed, rods, slot=slot)
    for k in range(0, loads, READ):
        some = _read(condensed, moved[:, k : k + READ], slot, at)
        each = some.figures
        filled = filled or [np.empty((*a.shape[:-1], loads)) for a in each]
        for all_, a in zip(filled, each, strict=True):
            all_[..., k : k + READ] = a
    return some.of(filled)


def _joined(values: Sequence[Floats]) -> Floats:
    return np.concatenate(values, axis=-1)


@dataclass(frozen=True)
class Where:
    """Where what the box carries counts, whatever the load: bent, sheared of both skins; slid and through if tied."""

    bent: tuple[tuple[BentWhere, ...], ...]
    sheared: tuple[csr_array, ...]
    slid: tuple[csr_array, ...]
    through: csr_array | None


def where(condensed: Condensed, rods: Sequence[Slotted], *, slot: float) -> Where:
    """Return where what a box carries counts, whatever the load. Arguments as of `read`."""
    any_ = condensed.shapes[:, :1]
    section, tied = condensed.section, cores(condensed, any_)
    bent, means = [], []
    for side in SIDES:
        over, points = slot + 2 * section.skin(side).thick, without_bound(section, side, rods)
        inside, lies = skins(condensed, any_, side), spread(condensed, side)
        nodes = drawn_out(condensed, inside)
        cells = [len(each.shear) for each in skins(condensed, any_, side, "changes")]
        bent.append(bent_where(nodes, inside, points=points, over=over))
        means.append(sheared_where(lies, cells, points=points, over=over))
    return Where(
        tuple(bent),
        tuple(means),
        slid_where(section, tied, slot=slot),
        through_where(section, tied) if there(tied) else None,
    )


def _read(condensed: Condensed, moved: Floats, slot: float, at: Where) -> Reading:
    section, tied = condensed.section, cores(condensed, moved)

    def on(index: int) -> tuple[Bending, Sheared]:
        side = SIDES[index]
        inside = skins(condensed, moved, side)
        nodes = drawn_out(condensed, inside)
        middles = skins(condensed, moved, side, "changes")
        cells = np.concatenate([piece.shear for piece in middles])
        return bent_at(nodes, inside, at.bent[index]), Sheared(cells, at.sheared[index])

    top, bottom = on(0), on(1)
    return Reading(
        (top[0], bottom[0]),
        (top[1], bottom[1]),
        sliding(section, tied, slot=slot, where=at.slid),
        through(section, tied, at.through),
    )


@dataclass(frozen=True)
class Most:
    """What each of several loads asks of the box, each where it is asked most (loads,).

    bent, V, q: of the top and of the bottom skin. slid: None where nothing ties the skins. pressed, parted: MPa.
    groove: None where there is none.
    """

    bent: tuple[MostBent, MostBent]
    V: tuple[Floats, Floats]
    q: tuple[Floats, Floats]
    slid: MostSlid | None
    pressed: Floats
    parted: Floats
    groove: MostBent | None = None

    @classmethod
    def joined(cls, parts: Sequence[Most]) -> Most:
        """Return what all loads of several ask."""
        slid = [part.slid for part in parts if part.slid is not None]
        groove = [part.groove for part in parts if part.groove is not None]
        top, bottom = (MostBent.joined([part.bent[k] for part in parts]) for k in (0, 1))
        V, q = (
            tuple(_joined([getattr(part, name)[k] for part in parts]) for k in (0, 1))
            for name in ("V", "q")
        )
        return cls(
            bent=(top, bottom),
            V=(V[0], V[1]),
            q=(q[0], q[1]),
            slid=MostSlid.joined(slid) if slid else None,
            pressed=_joined([part.pressed for part in parts]),
            parted=_joined([part.parted for part in parts]),
            groove=MostBent.joined(groove) if groove else None,
        )

    def some(self, loads: Ints) -> Most:
        """Return what some of the loads ask."""
        slid = self.slid
        return Most(
            bent=(self.bent[0].some(loads), self.bent[1].some(loads)),
            V=(self.V[0][loads], self.V[1][loads]),
            q=(self.q[0][loads], self.q[1][loads]),
            slid=slid.some(loads) if slid else None,
            pressed=self.pressed[loads],
            parted=self.parted[loads],
            groove=self.groove.some(loads) if self.groove else None,
        )

    def under(self, load: int) -> Asked:
        """Return what one load asks."""
        top, bottom = (
            OnSkin(self.bent[k].under(load), float(self.V[k][load]), float(self.q[k][load]))
            for k in (0, 1)
        )
        slid = self.slid.under(load) if self.slid else None
        groove = self.groove.under(load) if self.groove else None
        return Asked(top, bottom, slid, float(self.pressed[load]), float(self.parted[load]), groove)


def most(
    reading: Reading,
    *,
    top: PanelStrengths,
    bottom: PanelStrengths,
    q: tuple[Floats, Floats],
    weights: Floats | None = None,
    thinned: Thinned | None = None,
) -> Most:
    """Return what each of several loads asks of the box, each where it is asked most.

    Args:
        reading: under each load, or per unit of all that acts.
        top: strengths of the top skin.
        bottom: strengths of the bottom skin.
        q: greatest line force of any rod on the top and on the bottom skin, evened out, under each (loads,) (N/mm).
        weights: how much of all that acts does so under each load (acts, loads); None: the reading is of loads.
        thinned: where a groove has thinned the bottom skin.
    """
    if weights is None:
        return _most(reading, (top, bottom), q, None, thinned)
    some = [slice(k, k + AT_ONCE) for k in range(0, weights.shape[1], AT_ONCE)]
    return Most.joined(
        [_most(reading, (top, bottom), (q[0][s], q[1][s]), weights[:, s], thinned) for s in some]
    )


def _most(
    reading: Reading,
    of: tuple[PanelStrengths, PanelStrengths],
    q: tuple[Floats, Floats],
    weights: Floats | None,
    thinned: Thinned | None,
) -> Most:
    none = np.zeros(len(q[0]))
    through = case_by_case(reading.through, weights) if reading.slid else none[:, None]
    return Most(
        bent=(
            most_bent(reading.bent[0], of[0], weights),
            most_bent(reading.bent[1], of[1], weights),
        ),
        V=(
            most_sheared(reading.sheared[0], weights),
            most_sheared(reading.sheared[1], weights),
        ),
        q=q,
        slid=most_slid(reading.slid, weights) if reading.slid else None,
        pressed=np.maximum(through.max(axis=1), 0.0),
        parted=np.maximum(-through.min(axis=1), 0.0),
        groove=most_bent(grooved(reading, thinned), of[1], weights) if thinned else None,
    )


def grooved(reading: Reading, thinned: Thinned) -> Bending:
    """Return what bends and pulls the skin that a groove has left, by the forces of the whole skin."""
    return replace(reading.bent[1].some(thinned.places), thick=thinned.thick)


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
