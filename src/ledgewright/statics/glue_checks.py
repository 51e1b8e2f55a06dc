"""The checks of the box's glue and core: sheared between the skins, peeled apart, crushed.

Every check is a plain function of what the section model found at the place that counts, under one case.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields, replace

import numpy as np
from scipy.sparse import csr_array
from shapely import Polygon

from ledgewright.statics.bases import PanelRules, Resistance, Sheeting, When
from ledgewright.statics.formula import Working, formula
from ledgewright.statics.mechanics.section import (
    Section,
    Tied,
    averaging,
    case_by_case,
    evened,
    summed,
)
from ledgewright.statics.mechanics.section.grid import Ints
from ledgewright.statics.mechanics.section.parts import Point
from ledgewright.statics.mechanics.section.sheet import Floats
from ledgewright.statics.ranks import greatest
from ledgewright.statics.row import Found, ratio, spanning

LEAST_OVER = 20.0
"""Parting is evened out over at least this length (mm)."""
GLUE = 3.0
"""Characteristic shear strength that a glue of this use is counted on for over years (MPa): assumed."""
TINY = 1e-300
GLUE_SOURCE = "A third of the 10 MPa that EN 204 asks of a D3 glue, dry (from memory); assumed"
ROLLS = 3.0
"""Timber rolls under a third of the shear that it takes along its grain (common practice)."""


@formula(
    "tau",
    "sqrt(tau_0^2 + tau_90^2)",
    unit="MPa",
    source="Resultant",
    symbols={"along": "tau_0", "across": "tau_90"},
)
def resultant(*, along: float, across: float) -> float:
    """Return the resultant of two shear stresses square to each other.

    Pythagoras. along, across: MPa. Returns MPa.
    """
    return float((along**2 + across**2) ** 0.5)


@formula(
    "tau_e",
    "tau_0 + n tau_90",
    unit="MPa",
    source="Rolling shear at a third of that along the grain (common practice), added up",
    symbols={"along": "tau_0", "across": "tau_90"},
)
def as_along(*, along: float, across: float, n: float) -> float:
    """Return the shear along the grain that is as hard on a timber as shear along and across it together.

    Common practice; the two added up, towards safety. along, across: MPa. n: how much weaker it is across. Returns
    MPa.
    """
    return along + n * across


@dataclass(frozen=True)
class Slid:
    """Shear stress between core and skin where that is worst: along and across the core's grain, without sign (MPa).

    fill: which piece of core. at: in the section's figures.
    """

    along: float
    across: float
    fill: int
    at: Point


@dataclass(frozen=True)
class SlidMost:
    """Shear between core and skin where it asks most of the core's timber, and where most of the glue and the plies.

    Timber rolls easily across its grain, glue and plies take a stress whichever way it acts: the places may be two.
    """

    timber: Slid
    glue: Slid


def width_of(section: Section, fill: int) -> float:
    """Return the width of a piece of core: its area over its longest edge (mm)."""
    plan = section.fills[fill].plan
    ends = np.asarray([*plan, plan[0]])
    return float(Polygon(plan).area / np.hypot(*np.diff(ends, axis=0).T).max())


def evened_over(section: Section, fill: int, *, slot: float) -> float:
    """Return over which length shear is evened out on a piece of core (mm).

    Its width, as a strip; a wide block's, that of a slot and two skins.
    """
    skins = max(section.top.thick, section.bottom.thick)
    return min(width_of(section, fill), slot + 2 * skins)


def parted_over(section: Section) -> float:
    """Return over which length pressing and parting are evened out: a skin and the core, at least 20 mm."""
    return max(LEAST_OVER, max(section.top.thick, section.bottom.thick) + section.core)


@dataclass(frozen=True)
class Sliding:
    """Shear between core and skin, evened out: which fill (places,), at (places, 2), shear (places, 2, loads) (MPa)."""

    fill: Ints
    at: Floats
    shear: Floats

    def times(self, weights: Floats) -> Sliding:
        """Return what sums of loads do, by their weights (loads, sums)."""
        return replace(self, shear=summed(self.shear, weights))

    def some(self, places: Ints) -> Sliding:
        """Return the same at some of the places."""
        return Sliding(self.fill[places], self.at[places], self.shear[places])

    def as_sum(self, place: int, acts: Floats) -> Floats:
        """Return how hard shear is on the timber at a place as a sum over what acts (acts,); acts: how much does."""
        shear = self.shear[place]
        return np.asarray((np.sign(shear @ acts) * [1.0, ROLLS]) @ shear)

    def resultant(self, place: int, acts: Floats) -> Floats:
        """Return the shear at a place as a sum over what acts, in its own direction; arguments as of `as_sum`."""
        shear = self.shear[place]
        both = shear @ acts
        return np.asarray(both @ shear / max(float(np.hypot(*both)), TINY))


@dataclass(frozen=True)
class Hardest:
    """Where shear asks most of one part under each load.

    value: what it asks (MPa). which: number of the place. along, across: the stresses there, without sign (MPa).
    """

    value: Floats
    which: Ints
    along: Floats
    across: Floats

    @classmethod
    def at(cls, values: Floats, along: Floats, across: Floats) -> Hardest:
        """Return it from what is asked, and the stresses, at every place under each load (loads, places)."""
        which = greatest(values)
        load = np.arange(len(which))
        return cls(values[load, which], which, along[load, which], across[load, which])

    @classmethod
    def joined(cls, parts: Sequence[Hardest]) -> Hardest:
        """Return the same under all loads of several."""
        names = [each.name for each in fields(cls)]
        return cls(*(np.concatenate([getattr(p, name) for p in parts]) for name in names))

    def some(self, loads: Ints) -> Hardest:
        """Return the same under some of the loads."""
        return Hardest(self.value[loads], self.which[loads], self.along[loads], self.across[loads])


@dataclass(frozen=True)
class MostSlid:
    """Where shear asks most under each load.

    timber: of the core's timber, as stress along its grain that is as hard on it. glue: of the glue and the plies,
    whichever way it acts.
    """

    timber: Hardest
    glue: Hardest
    of: Sliding

    @classmethod
    def joined(cls, parts: Sequence[MostSlid]) -> MostSlid:
        """Return the same under all loads of several."""
        timber, glue = ([getattr(p, name) for p in parts] for name in ("timber", "glue"))
        return cls(Hardest.joined(timber), Hardest.joined(glue), parts[0].of)

    def some(self, loads: Ints) -> MostSlid:
        """Return the same under some of the loads."""
        return MostSlid(self.timber.some(loads), self.glue.some(loads), self.of)

    def under(self, load: int) -> SlidMost:
        """Return it under one load."""
        return SlidMost(self._slid(self.timber, load), self._slid(self.glue, load))

    def _slid(self, of: Hardest, load: int) -> Slid:
        k = int(of.which[load])
        x, y = self.of.at[k].tolist()
        return Slid(float(of.along[load]), float(of.across[load]), int(self.of.fill[k]), (x, y))


def slid_where(section: Section, tied: Sequence[Tied], *, slot: float) -> tuple[csr_array, ...]:
    """Return the means of the shear on every piece of core that ties anything. Arguments as of `sliding`."""
    return tuple(
        averaging(t.places, t.area, evened_over(section, t.fill, slot=slot)) for t in there(tied)
    )


def there(tied: Sequence[Tied]) -> list[Tied]:
    """Return the pieces of core that tie anything."""
    return [piece for piece in tied if len(piece.area)]


def sliding(
    section: Section,
    tied: Sequence[Tied],
    *,
    slot: float,
    where: Sequence[csr_array] | None = None,
) -> Sliding | None:
    """Return the shear between core and skin, evened out; None if nothing is tied.

    Args:
        section: the shelf.
        tied: its pieces of core under several loads, as `section.cores` gives them.
        slot: width of a slot (mm).
        where: as `slid_where` gives it, if it is known.
    """
    pieces = there(tied)
    if not pieces:
        return None
    where = where or slid_where(section, tied, slot=slot)
    return Sliding(
        np.concatenate([np.full(len(t.area), t.fill) for t in pieces]),
        np.concatenate([t.places for t in pieces]),
        np.concatenate([evened(w, t.shear) for w, t in zip(where, pieces, strict=True)]),
    )


def most_slid(slid: Sliding, weights: Floats | None = None) -> MostSlid:
    """Return where shear asks most of the core's timber, and of glue and plies, under each load, or sum of loads."""
    both = case_by_case(slid.shear, weights)
    np.abs(both, out=both)
    along, across = both[:, 0::2], both[:, 1::2]
    hard = ROLLS * across
    hard += along
    timber = Hardest.at(hard, along, across)
    np.multiply(across, across, out=hard)
    hard += along**2
    glue = Hardest.at(hard, along, across)
    return MostSlid(timber, replace(glue, value=np.sqrt(glue.value)), slid)


def through_where(section: Section, tied: Sequence[Tied]) -> csr_array:
    """Return the means of the stress that presses and parts, where anything is tied. Arguments as of `through`."""
    places, area = (
        np.concatenate([getattr(t, name) for t in there(tied)]) for name in ("places", "area")
    )
    return averaging(places, area, parted_over(section))


def through(section: Section, tied: Sequence[Tied], where: csr_array | None = None) -> Floats:
    """Return the stress that presses core and skins (positive) or parts them, evened out (places, loads) (MPa).

    Pieces of core side by side count together: the skin spans what lies between them. Empty where nothing is tied.
    where: as `through_where` gives it, if it is known.
    """
    pieces = there(tied)
    if not pieces:
        return np.zeros((0, 0))
    where = through_where(section, tied) if where is None else where
    return evened(where, np.concatenate([t.through for t in pieces]))


def glue_shear(
    w: Working,
    slid: SlidMost,
    skins: Sequence[Sheeting],
    glue: tuple[float, str],
    rules: PanelRules,
    when: When,
) -> Found:
    """Return the shear stress between core and skin, and the strength of the weakest that passes it on (MPa).

    Glue, the plies of either skin, the core's timber, each where it is asked most: whichever is asked most of what it
    can take.
    """
    ways: list[Callable[[Working], Found]] = [
        lambda w: _by_glue(w, slid.glue, glue, rules, when),
        lambda w: _by_timber(w, slid.timber, rules, when),
        *(lambda w, skin=skin: _by_plies(w, slid.glue, skin, rules, when) for skin in skins),
    ]
    founds = [way(Working(keep=False)) for way in ways]
    ways[founds.index(max(founds, key=ratio))](w)
    return spanning(founds)


def _given(w: Working, slid: Slid) -> tuple[float, float]:
    source = "Shear between core and skin where it counts most"
    return (
        w.given("tau_0", slid.along, unit="MPa", source=f"{source}, along the core's grain"),
        w.given("tau_90", slid.across, unit="MPa", source=f"{source}, across it"),
    )


def _by_glue(
    w: Working, slid: Slid, glue: tuple[float, str], rules: PanelRules, when: When
) -> Found:
    along, across = _given(w, slid)
    tau = w(resultant, along=along, across=across)
    return tau, rules.glue(w, when, f=glue[0], source=glue[1])


def _by_plies(w: Working, slid: Slid, skin: Sheeting, rules: PanelRules, when: When) -> Found:
    along, across = _given(w, slid)
    tau = w(resultant, along=along, across=across)
    return tau, rules.sheet(w, skin, "rolled", when)


def _by_timber(w: Working, slid: Slid, rules: PanelRules, when: When) -> Found:
    along, across = _given(w, slid)
    n = w.given("n", ROLLS, unit="1", source="Common practice")
    return w(as_along, along=along, across=across, n=n), rules.spacer(w, when)


def glue_peel(
    w: Working, parted: float, skins: Sequence[Sheeting], rules: PanelRules, when: When
) -> Found:
    """Return the stress that pulls skin and core apart, and what the weakest of both can take (MPa).

    Own model: the mean over a skin and the core, marked as assumed.
    """
    over = "Skins pulled apart, in the mean over a skin and the core"
    sigma = w.given("sigma_p", parted, unit="MPa", source=over, assumed=True)
    ways: list[Callable[[Working], Resistance]] = [
        lambda w: rules.spacer_parted(w, when),
        *(lambda w, skin=skin: rules.sheet(w, skin, "parted", when) for skin in skins),
    ]
    founds = [(sigma, way(Working(keep=False))) for way in ways]
    ways[founds.index(max(founds, key=ratio))](w)
    return spanning(founds)


def core_comp(w: Working, pressed: float, rules: PanelRules, when: When) -> Found:
    """Return the stress that presses the core between the skins, and what it can take across its grain (MPa)."""
    over = "Core pressed, in the mean over a skin and the core"
    sigma = w.given("sigma_c", pressed, unit="MPa", source=over, assumed=True)
    return sigma, rules.spacer_pressed(w, when)
