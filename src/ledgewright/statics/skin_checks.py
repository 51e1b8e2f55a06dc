"""The checks of the skins: bent, loaded in one spot, pressed at a slot, rolled by shear, sagging between rods.

Every check is a plain function of what the section model found at the place that counts, under one case.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from scipy.sparse import block_diag, csr_array

from ledgewright.statics.bases import PanelRules, Resistance, Sheeting, What, When
from ledgewright.statics.formula import Working, formula
from ledgewright.statics.mechanics.section import (
    Carried,
    Spread,
    averaging,
    case_by_case,
    evened,
    near,
    summed,
)
from ledgewright.statics.mechanics.section.grid import Ints
from ledgewright.statics.mechanics.section.parts import Point
from ledgewright.statics.mechanics.section.sheet import Floats
from ledgewright.statics.ranks import greatest
from ledgewright.statics.row import Found, spanning
from ledgewright.stock import Bar, PanelStrengths

ROARK = "Roark T11.4 case 1b"
NU = 0.3
"""Poisson's ratio that Roark's coefficients are made for; more than any panel has across, towards more stress."""
BETA = ((1.0, 0.435), (1.2, 0.650), (1.4, 0.789), (1.6, 0.875), (1.8, 0.927), (2.0, 0.958))
"""Roark T11.4 case 1b, beta by length over width (from memory); 1.000 for long strips."""
BETA_LONG = 1.0
TINY = 1e-12
WAVE = 600.0
"""Span over bow between rods along the front: 0.02 in per foot."""


@formula("sigma_m", "frac(6 m, t^2)", unit="MPa", source="Elastic bending of an even sheet")
def sheet_bent(*, m: float, t: float) -> float:
    """Return the bending stress of a sheet.

    Elastic bending. m: moment per length (N). t: thickness (mm). Returns MPa.
    """
    return 6 * m / t**2


@formula("sigma_n", "frac(n, t)", unit="MPa", source="Force over thickness")
def sheet_pulled(*, n: float, t: float) -> float:
    """Return the stress of a force in a sheet's plane.

    Force over thickness. n: force per length (N/mm). t: thickness (mm). Returns MPa.
    """
    return n / t


@formula(
    "sigma_e",
    "sigma_m + frac(f_m, f_t) sigma_n",
    unit="MPa",
    source="EN 1995-1-1 Eq. 6.17, as bending",
    symbols={"bent": "sigma_m", "pulled": "sigma_n", "fm": "f_m", "ft": "f_t"},
)
def together(*, bent: float, pulled: float, fm: float, ft: float) -> float:
    """Return the bending stress that is as hard on a sheet as bending and pull together.

    EN 1995-1-1 Eq. 6.17 (sigma_t/f_t + sigma_m/f_m up to 1). bent, pulled: stresses (MPa). fm, ft: strengths (MPa).
    Returns MPa. Pressed together counts as pulled apart, towards safety.
    """
    return bent + fm / ft * pulled


@formula(
    "r",
    "min(frac(sqrt(A), sqrt(pi)), frac(b, 2))",
    unit="mm",
    source="Round spot of the same area, no wider than the span",
)
def spot(*, A: float, b: float) -> float:
    """Return the radius of the round spot that stands for a foot.

    Equal areas. A: area of the foot (mm2). b: free span of the skin (mm). Returns mm.
    """
    return min(math.sqrt(A) / math.sqrt(math.pi), b / 2)


@formula(
    "r_e",
    "sqrt(1.6 r^2 + t^2) - 0.675 t",
    unit="mm",
    source="Roark T11.4 (from memory): a spot smaller than half the thickness",
)
def small_spot(*, r: float, t: float) -> float:
    """Return the radius that stands for a spot smaller than half the thickness.

    Roark T11.4 (from memory). r: its radius, t: thickness (mm). Returns mm.
    """
    return math.sqrt(1.6 * r**2 + t**2) - 0.675 * t


@formula(
    "sigma_p",
    "frac(3 W, 2 pi t^2) ((1 + nu) ln(frac(2 b, pi r)) + beta)",
    unit="MPa",
    source=f"{ROARK} (from memory)",
)
def patch_stress(*, W: float, t: float, nu: float, b: float, r: float, beta: float) -> float:
    """Return the greatest bending stress of a simply supported plate under a round spot amid it.

    Roark T11.4 case 1b (from memory). W: load (N). t: thickness, b: lesser span, r: radius of the spot (mm). nu:
    Poisson's ratio. beta: by length over width. Returns MPa.
    """
    return 3 * W / (2 * math.pi * t**2) * ((1 + nu) * math.log(2 * b / (math.pi * r)) + beta)


@formula("sigma_s", "frac(0.75 q w, t^2)", unit="MPa", source="Strip built in at both sides, q w/8")
def mouth_stress(*, q: float, w: float, t: float) -> float:
    """Return the bending stress of a skin across a slot, the rod pressing along its middle.

    Mechanics: a strip built in at both edges of the slot, M = q w/8, over t^2/6. q: force per length (N/mm). w: width
    of the slot, t: thickness (mm). Returns MPa.
    """
    return 0.75 * q * w / t**2


@formula("b_p", "0.4 d", unit="mm", source="A round bar presses on 0.4 of its diameter (assumed)")
def width_pressed(*, d: float) -> float:
    """Return the width on which a round bar presses.

    Assumed. d: diameter (mm). Returns mm.
    """
    return 0.4 * d


@formula("sigma_c", "frac(q, b_p)", unit="MPa", source="Force over area", symbols={"b": "b_p"})
def pressed_on(*, q: float, b: float) -> float:
    """Return the pressure of a rod on a skin.

    Force over area. q: force per length (N/mm). b: width (mm). Returns MPa.
    """
    return q / b


@formula("tau_r", "frac(1.5 V, t)", unit="MPa", source="Jourawski, an even sheet")
def rolling_stress(*, V: float, t: float) -> float:
    """Return the greatest shear stress through a sheet's thickness.

    Jourawski. V: shear per length (N/mm). t: mm. Returns MPa.
    """
    return 1.5 * V / t


@formula("V", "frac(q, 2)", unit="N/mm", source="A rod's line force goes to both edges of its slot")
def either_side(*, q: float) -> float:
    """Return the shear per length at a slot's edge.

    Balance. q: line force (N/mm). Returns N/mm.
    """
    return q / 2


@formula("w_l", "frac(L, n)", unit="mm", source="0.02 in per foot, along the front")
def wave_limit(*, L: float, n: float) -> float:
    """Return how far a front may bow between two rods.

    0.02 in per foot along the front, common practice. L: span (mm). n: span over bow. Returns mm.
    """
    return L / n


@dataclass(frozen=True)
class Bent:
    """What bends and pulls a skin where that is worst.

    m: moment per length (N), n: force per length (N/mm), both without sign; along: whether along the face grain.
    at: in the section's figures.
    """

    m: float
    n: float
    along: bool
    at: Point

    def share(self, of: PanelStrengths, thick: float) -> float:
        """Return the share of what a panel can take, before any factor."""
        fm, ft = (of.fm_along, of.ft_along) if self.along else (of.fm_across, of.ft_across)
        return sheet_bent(m=self.m, t=thick) / fm + sheet_pulled(n=self.n, t=thick) / ft


@dataclass(frozen=True)
class Bending:
    """What bends and pulls a skin at places that count, under each load or per unit of each.

    at: (places, 2). moment, force: (places, 2, loads), along and across the grain.
    """

    at: Floats
    moment: Floats
    force: Floats
    thick: float

    def some(self, places: Ints) -> Bending:
        """Return the same at some of the places."""
        return Bending(self.at[places], self.moment[places], self.force[places], self.thick)

    def times(self, weights: Floats) -> Bending:
        """Return what sums of loads do, by their weights (loads, sums)."""
        return replace(self, moment=summed(self.moment, weights), force=summed(self.force, weights))


@dataclass(frozen=True)
class MostBent:
    """Where bending and pull together ask most of a skin, under each load.

    share: of what the panel can take, before any factor. which: number of the place and way: twice the place's, and 1
    if across the grain. m, n: moment (N) and force (N/mm) per length there, without sign.
    """

    share: Floats
    which: Ints
    m: Floats
    n: Floats
    places: Floats

    @classmethod
    def joined(cls, parts: Sequence[MostBent]) -> MostBent:
        """Return the same under all loads of several."""
        return cls(
            share=np.concatenate([p.share for p in parts]),
            which=np.concatenate([p.which for p in parts]),
            m=np.concatenate([p.m for p in parts]),
            n=np.concatenate([p.n for p in parts]),
            places=parts[0].places,
        )

    def some(self, loads: Ints) -> MostBent:
        """Return the same under some of the loads."""
        share, which, m, n = self.share[loads], self.which[loads], self.m[loads], self.n[loads]
        return MostBent(share, which, m, n, self.places)

    def under(self, load: int) -> Bent:
        """Return it under one load."""
        place, across = divmod(int(self.which[load]), 2)
        x, y = self.places[place].tolist()
        return Bent(float(self.m[load]), float(self.n[load]), not across, (x, y))


@dataclass(frozen=True)
class BentWhere:
    """Which places of one piece of a skin count, and how: nodes that are kept, and means of places inside.

    nodes: numbers. near: numbers of the places inside that lie near a place without bound. mean: round each of these.
    """

    nodes: Ints
    near: Ints
    mean: csr_array | None


def bent_where(
    nodes: Sequence[Carried], inside: Sequence[Carried], *, points: Sequence[Point], over: float
) -> tuple[BentWhere, ...]:
    """Return where what bends and pulls a skin counts, piece by piece, whatever the load.

    The nodes' values count; within reach of a point where the elastic stress has no bound (a slot's corner, the end
    of a joint, an inside corner), the mean over a square of places inside does.

    Args:
        nodes: the skin's pieces at "nodes", as `section.skins` gives them.
        inside: the same at "truest".
        points: places without bound, in the section's figures.
        over: side of the square (mm): width of a slot and two skins.
    """
    made = []
    for node, places in zip(nodes, inside, strict=True):
        kept = np.setdiff1d(np.arange(len(node.places)), near(node.places, points, over))
        close = near(places.places, points, 1.5 * over)
        mean = averaging(places.places[close], places.area[close], over) if len(close) else None
        made.append(BentWhere(kept, close, mean))
    return tuple(made)


def bent_at(
    nodes: Sequence[Carried], inside: Sequence[Carried], where: Sequence[BentWhere]
) -> Bending:
    """Return what bends and pulls a skin where it counts; arguments as of `bent_where`, under several loads.

    Raises:
        ValueError: if the skin has no place.
    """
    found: list[tuple[Floats, Floats, Floats]] = []
    for node, places, at in zip(nodes, inside, where, strict=True):
        kept = at.nodes
        found.append((node.places[kept], node.moment[kept, :2], node.force[kept, :2]))
        if at.mean is not None:
            m, n = (evened(at.mean, v[at.near, :2]) for v in (places.moment, places.force))
            found.append((places.places[at.near], m, n))
    if not found:
        msg = "a skin without a place"
        raise ValueError(msg)
    where_, moment, force = (np.concatenate(each) for each in zip(*found, strict=True))
    return Bending(where_, moment, force, nodes[0].thick)


def bent_as_sum(unit: Bending, which: int, acts: Floats, of: PanelStrengths) -> Floats:
    """Return the share of what a panel can take at one place as a sum over what acts (acts,).

    Args:
        unit: bending per unit of all that acts.
        which: place and way, as in `MostBent`.
        acts: how much of it acts, which decides the signs (acts,).
        of: what the panel can take.
    """
    place, axis = divmod(which, 2)
    fm, ft = ((of.fm_along, of.ft_along), (of.fm_across, of.ft_across))[axis]
    moment, force = unit.moment[place, axis], unit.force[place, axis]
    m = np.sign(moment @ acts) * 6 / unit.thick**2 / fm
    return np.asarray(m * moment + np.sign(force @ acts) / unit.thick / ft * force)


def most_bent(bent: Bending, of: PanelStrengths, weights: Floats | None = None) -> MostBent:
    """Return where bending and pull together ask most of a skin, under each load.

    Args:
        bent: of the skin.
        of: what the panel can take.
        weights: (loads, sums), where sums of loads are asked for.
    """
    m, n = (case_by_case(each, weights) for each in (bent.moment, bent.force))
    for each in (m, n):
        np.abs(each, out=each)
    fm, ft = (of.fm_along, of.fm_across), (of.ft_along, of.ft_across)
    share = m * np.tile(6 / bent.thick**2 / np.array(fm), len(bent.at))
    pulled = n * np.tile(1 / bent.thick / np.array(ft), len(bent.at))
    share += pulled
    which = greatest(share)
    load = np.arange(len(which))
    return MostBent(share[load, which], which, m[load, which], n[load, which], bent.at)


def skin_bend(
    w: Working, bent: Bent, of: Sheeting, t: float, rules: PanelRules, when: When
) -> Found:
    """Return the bending stress that stands for bending and pull together, and what the skin can take (MPa)."""
    way: tuple[What, What] = (
        ("bent along", "pulled along") if bent.along else ("bent across", "pulled across")
    )
    m = w.given("m", bent.m, unit="N", source="Moment per length where it counts most")
    n = w.given("n", bent.n, unit="N/mm", source="Force per length there")
    sigma_m, sigma_n = w(sheet_bent, m=m, t=t), w(sheet_pulled, n=n, t=t)
    pulled = rules.sheet(w, of, way[1], when)
    w.last("f_t")
    can = rules.sheet(w, of, way[0], when)
    w.last("f_m")
    sigma = w(together, bent=sigma_m, pulled=sigma_n, fm=can.value, ft=pulled.value)
    return spanning([(sigma, can), (0.0, pulled)])


@dataclass(frozen=True)
class Patch:
    """One thing on a skin amid its free span: force (N), its foot's area (mm2), the span's lesser and greater side."""

    W: float
    A: float
    b: float
    a: float


def skin_patch(
    w: Working, patch: Patch, of: Sheeting, t: float, rules: PanelRules, when: When
) -> Found:
    """Return the bending stress under one thing amid a free span, and what the skin can take the weaker way (MPa).

    Roark T11.4 case 1b, edges simply supported, towards more stress.
    """
    r = w(spot, A=patch.A, b=patch.b)
    if r < t / 2:
        r = w(small_spot, r=r, t=t)
        w.last("r")
    beta = w.given("beta", _beta(patch.a / patch.b), unit="1", source=f"{ROARK} (from memory)")
    nu = w.given("nu", NU, unit="1", source=ROARK)
    sigma = w(patch_stress, W=patch.W, t=t, nu=nu, b=patch.b, r=r, beta=beta)
    return sigma, _weaker_way(w, of, rules, when)


def _beta(ratio: float) -> float:
    if ratio > BETA[-1][0]:
        return BETA_LONG
    for (low, first), (high, second) in pairwise(BETA):
        if ratio <= high:
            return first + (second - first) * (max(ratio, low) - low) / (high - low)
    return BETA_LONG


def _weaker_way(w: Working, of: Sheeting, rules: PanelRules, when: When) -> Resistance:
    row = of.strengths
    way: What = "bent across" if row.fm_across <= row.fm_along else "bent along"
    return rules.sheet(w, of, way, when)


def skin_mouth(
    w: Working, q: float, width: float, of: Sheeting, t: float, rules: PanelRules, when: When
) -> Found:
    """Return the bending stress of a skin across a slot, and what it can take the weaker way (MPa).

    q: line force of the rod, in the mean over the slot's width and two skins (N/mm). width: of the slot (mm).
    """
    q = w.given("q", q, unit="N/mm", source="Line force, in the mean over the slot and two skins")
    return w(mouth_stress, q=q, w=width, t=t), _weaker_way(w, of, rules, when)


def skin_bear(w: Working, q: float, bar: Bar, of: Sheeting, rules: PanelRules, when: When) -> Found:
    """Return the pressure of a rod on a skin, and what its face can take (MPa). q: as for `skin_mouth`."""
    q = w.given("q", q, unit="N/mm", source="Line force, in the mean over the slot and two skins")
    b = pressed_width(w, bar)
    return w(pressed_on, q=q, b=b), rules.sheet(w, of, "pressed", when)


def pressed_width(w: Working, bar: Bar) -> float:
    """Return the width of skin that a bar presses on (mm)."""
    if bar.shape.startswith("round"):
        b = w(width_pressed, d=bar.width)
        w.last(assumed=True)
        return b
    return w.given("b_p", bar.width, unit="mm", source="A flat-faced bar presses on its width")


@dataclass(frozen=True)
class Sheared:
    """Shear per length through a skin, cell by cell, and the means of it that count.

    cells: (cells, 2, loads) (N/mm). means: (places, cells).
    """

    cells: Floats
    means: csr_array

    def times(self, weights: Floats) -> Sheared:
        """Return what sums of loads do, by their weights (loads, sums)."""
        return replace(self, cells=summed(self.cells, weights))

    def at_as_sum(self, place: int, acts: Floats) -> Floats:
        """Return the mean at a place, in its own direction, as a sum over what acts (acts,).

        Args:
            place: its number.
            acts: how much acts, of what this is per unit.
        """
        row = (self.means[[place]] @ self.cells.reshape(len(self.cells), -1)).reshape(2, -1)
        mean = row @ acts
        return np.asarray(mean @ row / max(float(np.hypot(*mean)), TINY))

    def squares(self, weights: Floats | None = None) -> Floats:
        """Return the squares of the means under each load, or sum of loads (places, loads)."""
        cells = self.cells if weights is None else summed(self.cells, weights)
        x, y = self.means @ cells[:, 0], self.means @ cells[:, 1]
        x *= x
        y *= y
        x += y
        return np.asarray(x)


def sheared_where(
    lies: Sequence[Spread], cells: Sequence[int], *, points: Sequence[Point], over: float
) -> csr_array:
    """Return the means of a skin's shear that count, from its cells.

    The elastic shear has no bound at an inside corner and where a joint ends: the mean over the square has, and it
    hardly depends on the size of the cells (docs/section-model.md).

    Args:
        lies: where each piece lies.
        cells: how many cells it has.
        points: places without bound, round which it is looked at closely.
        over: side of the square over which it is evened out (mm): a slot and two skins.
    """
    means = []
    for of, count in zip(lies, cells, strict=True):
        close = near(of.places, points, 1.5 * over)
        some = np.union1d(close, np.flatnonzero(of.inner))
        means.append(averaging(of.places, of.area, over, which=(of.cell, count), round_=some))
    return csr_array(block_diag(means, format="csr"))


def most_sheared(shear: Sheared, weights: Floats | None = None) -> Floats:
    """Return the greatest shear per length through a skin, whichever way, under each load or sum of loads (N/mm)."""
    return np.asarray(np.sqrt(shear.squares(weights).max(axis=0)))


def skin_roll(
    w: Working, V: float, q: float, of: Sheeting, t: float, rules: PanelRules, when: When
) -> Found:
    """Return the shear stress that rolls a skin's plies, and what they can take (MPa).

    V: greatest shear per length of the section model (N/mm). q: line force of a rod: its half counts at the slot's
    edges, which lie nearer than the model's places.
    """
    if q / 2 > V:
        w.given("q", q, unit="N/mm", source="Line force, in the mean over the slot and two skins")
        V = w(either_side, q=q)
    else:
        V = w.given("V", V, unit="N/mm", source="Greatest shear per length in the skin")
    return w(rolling_stress, V=V, t=t), rules.sheet(w, of, "rolled", when)


@dataclass(frozen=True)
class Bay:
    """Two neighbouring rods and how far the front between them bows from the line through it at both (mm).

    rods: their places in the list. span: mm. bow: positive down.
    """

    rods: tuple[int, int]
    span: float
    bow: float


def off_line(x: float, a: float, b: float) -> tuple[float, float, float]:
    """Return how much a place and two others weigh in how far it lies off the line through these.

    Straight line through two points. x: the place, a, b: the others (mm). Returns weights of x, a, b.
    """
    share = (x - a) / (b - a)
    return 1.0, share - 1.0, -share


def bays(
    at: Sequence[float], drop: Sequence[float], rods: Sequence[tuple[float, float]]
) -> tuple[Bay, ...]:
    """Return the bow of a front between each two neighbouring rods.

    Args:
        at: places read along the front (mm), other than in front of rods.
        drop: of the front there (mm).
        rods: (place along the front, drop of the front there) of every rod, in their order along it (mm).
    """
    made = []
    for k, ((a, first), (b, second)) in enumerate(pairwise(rods)):
        off = [
            float(np.dot(off_line(x, a, b), (d, first, second)))
            for x, d in zip(at, drop, strict=True)
            if a < x < b
        ]
        if off:
            made.append(Bay((k, k + 1), b - a, max(off, key=abs)))
    return tuple(made)


def sag_wave(w: Working, bay: Bay) -> Found:
    """Return how far the front bows between two rods, up or down, and how far it may (mm)."""
    w.given("L", bay.span, unit="mm", source="From rod to rod")
    bow = w.given(
        "w", abs(bay.bow), unit="mm", source="Off the line through the front at both rods"
    )
    n = w.given("n", WAVE, unit="1", source="0.02 in per foot")
    limit = w(wave_limit, L=bay.span, n=n)
    return bow, Resistance(limit, "in", "", "0.02 in per foot along the front")
