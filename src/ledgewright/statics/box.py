"""What loads ask of the box itself: skins, core and glue, each where it is asked most, and what drives that up."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ledgewright import plane
from ledgewright.statics.glue_checks import ROLLS, Slid, Sliding, most_slid, sliding, through
from ledgewright.statics.mechanics.contact_rods import Slotted
from ledgewright.statics.mechanics.section import (
    Condensed,
    Section,
    cores,
    drawn_out,
    skins,
    spread,
    summed,
)
from ledgewright.statics.mechanics.section.parts import Point, Ring, Side
from ledgewright.statics.mechanics.section.sheet import Floats
from ledgewright.statics.skin_checks import (
    Bending,
    Bent,
    bending,
    most_bent,
    most_sheared,
    sheared,
)
from ledgewright.stock import PanelStrengths

AT_ONCE = 128
"""So many loads are read together: more of them fill the memory, fewer take longer."""
SIDES: tuple[Side, ...] = ("top", "bottom")
TINY = 1e-12
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
class Reading:
    """What the box carries at every place that counts, under each load, or per unit of all that acts on it.

    bent, sheared: of the top and of the bottom skin. through: (places, loads), above 0 pressed.
    """

    bent: tuple[tuple[Bending, ...], tuple[Bending, ...]]
    sheared: tuple[Floats, Floats]
    slid: tuple[Sliding, ...]
    through: Floats

    def times(self, weights: Floats) -> Reading:
        """Return what sums of loads do, by their weights (loads, sums)."""
        top, bottom = (tuple(each.times(weights) for each in side) for side in self.bent)
        return Reading(
            bent=(top, bottom),
            sheared=(summed(self.sheared[0], weights), summed(self.sheared[1], weights)),
            slid=tuple(each.times(weights) for each in self.slid),
            through=self.through @ weights if self.slid else self.through,
        )


def read(condensed: Condensed, moved: Floats, rods: Sequence[Slotted], *, slot: float) -> Reading:
    """Return what the box carries under each of several loads.

    docs/section-model.md, "What the parts carry".

    Args:
        condensed: the section.
        moved: its movements under each (n, loads).
        rods: the rods, in their slots.
        slot: width of the widest slot (mm).
    """
    some = [moved[:, k : k + AT_ONCE] for k in range(0, moved.shape[1], AT_ONCE)]
    return together([_read(condensed, each, rods, slot) for each in some])


def together(parts: Sequence[Reading]) -> Reading:
    """Return readings of the same places under some loads each, as one under all of them."""
    first = parts[0]
    return Reading(
        bent=(_bent_together(parts, 0), _bent_together(parts, 1)),
        sheared=(_joined([p.sheared[0] for p in parts]), _joined([p.sheared[1] for p in parts])),
        slid=tuple(
            replace(each, shear=_joined([p.slid[k].shear for p in parts]))
            for k, each in enumerate(first.slid)
        ),
        through=_joined([p.through for p in parts]) if first.slid else first.through,
    )


def _bent_together(parts: Sequence[Reading], side: int) -> tuple[Bending, ...]:
    return tuple(
        replace(
            each,
            moment=_joined([p.bent[side][k].moment for p in parts]),
            force=_joined([p.bent[side][k].force for p in parts]),
        )
        for k, each in enumerate(parts[0].bent[side])
    )


def _joined(values: Sequence[Floats]) -> Floats:
    return np.concatenate(values, axis=-1)


def _read(condensed: Condensed, moved: Floats, rods: Sequence[Slotted], slot: float) -> Reading:
    section, tied = condensed.section, cores(condensed, moved)

    def on(side: Side) -> tuple[tuple[Bending, ...], Floats]:
        over, points = slot + 2 * section.skin(side).thick, without_bound(section, side, rods)
        inside = skins(condensed, moved, side)
        nodes = drawn_out(condensed, inside)
        middles = skins(condensed, moved, side, "middles")
        V = sheared(middles, spread(condensed, side), points=points, over=over)
        return bending(nodes, inside, points=points, over=over), V

    top, bottom = on("top"), on("bottom")
    return Reading(
        (top[0], bottom[0]),
        (top[1], bottom[1]),
        sliding(section, tied, slot=slot),
        through(section, tied),
    )


def asked(
    reading: Reading,
    *,
    top: PanelStrengths,
    bottom: PanelStrengths,
    q: tuple[Floats, Floats],
) -> tuple[Asked, ...]:
    """Return what each of several loads asks of the box, each where it is asked most.

    Args:
        reading: under each load.
        top: strengths of the top skin.
        bottom: strengths of the bottom skin.
        q: greatest line force of any rod on the top and on the bottom skin, evened out, under each (loads,) (N/mm).
    """
    slid = most_slid(reading.slid)
    press = reading.through if slid else np.zeros((1, len(q[0])))
    both = [
        [
            OnSkin(bent, float(V), float(line))
            for bent, V, line in zip(
                most_bent(reading.bent[k], of), most_sheared(reading.sheared[k]), q[k], strict=True
            )
        ]
        for k, of in enumerate((top, bottom))
    ]
    return tuple(
        Asked(
            top=both[0][k],
            bottom=both[1][k],
            slid=slid[k] if slid else None,
            pressed=max(float(press[:, k].max()), 0.0),
            parted=max(float(-press[:, k].min()), 0.0),
        )
        for k in range(len(q[0]))
    )


@dataclass(frozen=True)
class Peak:
    """The greatest figure of one row under several loads: under which, and as a sum over all that acts (acts,)."""

    row: str
    load: int
    value: float
    acts: Floats


def peaks(
    basis: Reading, weights: Floats, of: tuple[PanelStrengths, PanelStrengths]
) -> Iterator[Peak]:
    """Return where each kind of figure is greatest under any of several loads, and what it is a sum of.

    Bending and shear of either skin, shear between core and skin, pressing, parting.

    Args:
        basis: what the box carries per unit of all that acts.
        weights: how much of it acts under each load (acts, loads).
        of: strengths of the top and of the bottom skin.
    """
    under = basis.times(weights)
    for side, strengths in enumerate(of):
        yield max(
            (
                _bent_peak(f"skin.bend@{SIDES[side]} skin", unit, each, axis, strengths)
                for unit, each in zip(basis.bent[side], under.bent[side], strict=True)
                for axis in (0, 1)
            ),
            key=lambda peak: peak.value,
        )
        V = under.sheared[side]
        size = np.hypot(V[:, 0], V[:, 1])
        k, load = _greatest(size)
        way = V[k, :, load] / max(float(size[k, load]), TINY)
        row = f"skin.roll@{SIDES[side]} skin"
        yield Peak(row, load, float(size[k, load]), way @ basis.sheared[side][k])
    if not under.slid:
        return
    yield max(
        (_slid_peak(unit, each) for unit, each in zip(basis.slid, under.slid, strict=True)),
        key=lambda peak: peak.value,
    )
    for row, sign in (("core.comp", 1.0), ("glue.peel", -1.0)):
        k, load = _greatest(sign * under.through)
        yield Peak(row, load, float(sign * under.through[k, load]), sign * basis.through[k])


def _greatest(values: Floats) -> tuple[int, int]:
    k, load = np.unravel_index(int(values.argmax()), values.shape)
    return int(k), int(load)


def _bent_peak(row: str, unit: Bending, under: Bending, axis: int, of: PanelStrengths) -> Peak:
    share = under.share(axis, of)
    k, load = _greatest(share)
    fm, ft = ((of.fm_along, of.ft_along), (of.fm_across, of.ft_across))[axis]
    m = np.sign(under.moment[k, axis, load]) * 6 / under.thick**2 / fm
    n = np.sign(under.force[k, axis, load]) / under.thick / ft
    acts = m * unit.moment[k, axis] + n * unit.force[k, axis]
    return Peak(row, load, float(share[k, load]), acts)


def _slid_peak(unit: Sliding, under: Sliding) -> Peak:
    hard = under.hard
    k, load = _greatest(hard)
    signs = np.sign(under.shear[k, :, load]) * [1.0, ROLLS]
    return Peak("glue.shear", load, float(hard[k, load]), signs @ unit.shear[k])


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
