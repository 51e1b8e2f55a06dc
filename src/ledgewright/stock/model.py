"""The rows of the catalogue: what can be bought, each with its source and how sure that is."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal, NamedTuple

from ledgewright.units import Unit

Status = Literal["confirmed", "computed", "from memory", "assumed"]
Shape = Literal["round", "square", "flat", "round tube", "square tube"]


@dataclass(frozen=True)
class Bar:
    """A steel bar; width is across the shelf, height is up (mm); strengths MPa.

    `yield_is` says whether Fy is a specified minimum or a typical figure. `wall` is 0 for solid bar.
    A square tube has the rounded corners of EN 10219-2 (outer radius 2 t, inner t); other corners are sharp.
    """

    name: str
    shape: Shape
    width: float
    height: float
    wall: float
    steel: str
    E: float
    Fy: float
    Fu: float
    yield_is: Literal["minimum", "typical"]
    source: str
    status: Status

    @property
    def area(self) -> float:
        """Cross-section (mm2)."""
        return self._net(_area)

    @property
    def inertia(self) -> float:
        """Second moment for up-and-down bending (mm4)."""
        return self._net(_inertia)

    @property
    def elastic_modulus(self) -> float:
        """Elastic section modulus S for up-and-down bending (mm3)."""
        return 2 * self.inertia / self.height

    @property
    def plastic_modulus(self) -> float:
        """Plastic section modulus Z for up-and-down bending (mm3)."""
        return self._net(_plastic)

    @property
    def stainless(self) -> bool:
        """Whether it is of stainless steel."""
        return "stainless" in self.steel

    @property
    def mass_per_length(self) -> float:
        """Mass (kg/mm), steel at 7850 kg/m3."""
        return self.area * 7.85e-6

    def filed(self, deep: float) -> Bar:
        """Return a solid bar as it is where a flat is filed off it underneath.

        Geometry. deep: of the flat (mm), less than half the bar.

        Raises:
            ValueError: for a tube, or a flat so deep.
        """
        if self.wall or not 0 <= deep < self.height / 2:
            msg = f"no flat {deep:g} mm deep can be filed on {self.name}"
            raise ValueError(msg)
        if self.shape == "round":
            return FiledRound(**vars(self), deep=deep)
        return replace(self, height=self.height - deep)

    def _net(self, of: Callable[[_Solid], float]) -> float:
        if self.wall == 0:
            return of(_Solid(self.shape, self.width, self.height, 0.0))
        t, square = self.wall, self.shape == "square tube"
        outer = _Solid(self.shape, self.width, self.height, 2 * t if square else 0.0)
        hole = _Solid(self.shape, self.width - 2 * t, self.height - 2 * t, t if square else 0.0)
        return of(outer) - of(hole)


@dataclass(frozen=True)
class FiledRound(Bar):
    """A round with a segment filed off, `deep` (mm). Its width and height stay those of the round."""

    deep: float = 0.0

    @property
    def area(self) -> float:
        """Cross-section (mm2)."""
        return math.pi * self.width**2 / 4 - self._off.area

    @property
    def inertia(self) -> float:
        """Second moment about its own middle, for up-and-down bending (mm4)."""
        return math.pi * self.width**4 / 64 - self._off.inertia - self.area * self._shift**2

    @property
    def elastic_modulus(self) -> float:
        """The smaller elastic section modulus, for up-and-down bending (mm3)."""
        R = self.width / 2
        return self.inertia / max(R - self._shift, R - self.deep + self._shift)

    @property
    def plastic_modulus(self) -> float:
        """Plastic section modulus for up-and-down bending (mm3): about the line that halves what is left."""
        R, half = self.width / 2, self.area / 2
        low, high = 0.0, math.pi / 2
        for _ in range(60):
            middle = (low + high) / 2
            low, high = (middle, high) if _segment(R, middle).area < half else (low, middle)
        # About the round's own middle what is left has the moment that the segment lacks.
        return 2 * _segment(R, high).moment - self._off.moment

    @property
    def _off(self) -> _Segment:
        R = self.width / 2
        return _segment(R, math.acos((R - self.deep) / R))

    @property
    def _shift(self) -> float:
        """How far its middle is above the round's (mm)."""
        return self._off.moment / self.area


class _Segment(NamedTuple):
    """A segment of a circle: its area (mm2), first (mm3) and second moment (mm4) about the circle's middle."""

    area: float
    moment: float
    inertia: float


def _segment(R: float, half: float) -> _Segment:
    """The segment of a circle of radius R that half its angle (rad) cuts off. Closed forms of geometry."""
    s, c = math.sin(half), math.cos(half)
    area = R**2 * (half - s * c)
    return _Segment(area, 2 / 3 * R**3 * s**3, R**4 / 4 * (half - s * c + 2 * s**3 * c))


class _Solid(NamedTuple):
    """A filled round, or a filled rectangle with its corners rounded to a radius."""

    shape: Shape
    width: float
    height: float
    radius: float

    @property
    def is_round(self) -> bool:
        return self.shape.startswith("round")

    @property
    def clipped(self) -> float:
        """Area that rounding takes off one corner."""
        return (1 - math.pi / 4) * self.radius**2

    @property
    def clipped_at(self) -> float:
        """Height of that area's centroid above the middle."""
        return self.height / 2 - (10 - 3 * math.pi) / (12 - 3 * math.pi) * self.radius


def _area(solid: _Solid) -> float:
    if solid.is_round:
        return math.pi / 4 * solid.width**2
    return solid.width * solid.height - 4 * solid.clipped


def _inertia(solid: _Solid) -> float:
    if solid.is_round:
        return math.pi / 64 * solid.width**4
    own = (1 / 3 - math.pi / 16 - 1 / (36 - 9 * math.pi)) * solid.radius**4
    corner = own + solid.clipped * solid.clipped_at**2
    return solid.width * solid.height**3 / 12 - 4 * corner


def _plastic(solid: _Solid) -> float:
    if solid.is_round:
        return solid.width**3 / 6
    return solid.width * solid.height**2 / 4 - 4 * solid.clipped * solid.clipped_at


@dataclass(frozen=True)
class Timber:
    """A framing timber: section (mm), reference design values of the NDS and characteristic ones of EN 338.

    None where that basis has no value for it. NDS: Fb, Fv, Fc_perp, E (MPa), G specific gravity.
    EC5: fm_k, fv_k, fc90_k, ft90_k, E_mean (MPa), rho_k, rho_mean (kg/m3).
    """

    name: str
    width: float
    depth: float
    species: str
    grade: str
    G: float | None
    Fb: float | None
    Fv: float | None
    Fc_perp: float | None
    E: float | None
    fm_k: float | None
    fv_k: float | None
    fc90_k: float | None
    ft90_k: float | None
    E_mean: float | None
    rho_k: float | None
    rho_mean: float | None
    source: str
    status: Status


@dataclass(frozen=True)
class Panel:
    """A sheet good: sizes (mm), density (kg/m3), moduli along and across the face grain (MPa), k_def class 1.

    thick: what such a sheet usually measures, not what it is called; a job gives its own measured figure.
    sheets: (across, along) the face grain.
    """

    name: str
    kind: Literal["veneer ply", "mdf", "mdf-faced ply", "osb", "particleboard", "solid"]
    thick: float
    sheets: tuple[tuple[float, float], ...]
    density: float
    E_along: float
    E_across: float
    k_def: float
    source: str
    status: Status

    @property
    def market(self) -> Unit:
        """Where it is made and sold: sheets of whole inches, such as 48 by 96, or of millimetres, such as 1220 by 2440.

        The same word means two things in them: birch ply is birch throughout in one, faces over fir in the other.
        """
        return "in" if all(_whole_inches(size) for size in self.sheets) else "mm"

    def sized(self, size: tuple[float, float]) -> str:
        """Return what a sheet of one size is called in a price file: "oak ply 3/4", but "oak ply 3/4 48x120".

        Args:
            size: across and along the face grain (mm).

        Returns:
            The panel's own name for its first size, else with the size behind it, as the catalogue writes that.
        """
        if size == self.sheets[0]:
            return self.name
        told = [x / 25.4 for x in size] if _whole_inches(size) else size
        return f"{self.name} {'x'.join(f'{x:g}' for x in told)}"


def _whole_inches(size: tuple[float, float]) -> bool:
    return all(abs(x / 25.4 - round(x / 25.4)) < 1e-6 for x in size)


@dataclass(frozen=True)
class PanelStrengths:
    """What a sheet good can take, short term, at the characteristic level (one in twenty is weaker) (MPa).

    fm: bending of the sheet, ft: tension in its plane, along and across the face grain, as of an even sheet. fr:
    shear that rolls its plies, the weaker way. fc90: bearing on its face. ib: pulled apart across its thickness.
    name: the panel's. assumed: names of the figures that no source gives, with spaces between.
    """

    name: str
    fm_along: float
    fm_across: float
    ft_along: float
    ft_across: float
    fr: float
    fc90: float
    ib: float
    assumed: str
    source: str
    status: Status


@dataclass(frozen=True)
class Lumber:
    """A timber for core or edging: density (kg/m3) at 12 % moisture, E (MPa), tangential movement per % moisture.

    E is the handbook's static bending value, which already includes shear. movement: strain, None if unknown.
    """

    name: str
    density: float
    E: float
    movement: float | None
    source: str
    status: Status


@dataclass(frozen=True)
class Adhesive:
    """An adhesive by generic class: modulus range (MPa), Poisson, waits at 20 C (hours), least temperature (C).

    creep: long-term modulus is E / (1 + creep). density: kg/m3 as mixed. leave_alone, work, full_load: hours
    after setting until it may be let go of, worked on and loaded; the slow end of the usual range.
    """

    name: str
    use: Literal["rods", "box", "not for rods"]
    E_low: float
    E_likely: float
    E_high: float
    nu: float
    creep: float
    density: float
    leave_alone: float
    work: float
    full_load: float
    coldest: float
    source: str
    status: Status


@dataclass(frozen=True)
class Screw:
    """A screw or nail: outer and root diameter of its thread, and length (mm); a nail's are those of its shank."""

    name: str
    diameter: float
    root: float
    length: float
    source: str
    status: Status
    kind: Literal["wood screw", "lag", "set screw", "nail"] = "wood screw"


@dataclass(frozen=True)
class Finish:
    """A coating: spread (m2 per litre and coat), waits at 20 C (hours), least temperature (C).

    recoat: until the next coat. handle: until it may be wrapped, carried and hung. full_load: until heavy things.
    """

    name: str
    spread: float
    recoat: float
    handle: float
    full_load: float
    coldest: float
    source: str
    status: Status


@dataclass(frozen=True)
class StockLength:
    """A length that steel bar or sawn boards are sold in, where lengths are in inches or in mm (mm).

    width, thick: of a board, sawn; None for bars, which have their own.
    """

    name: str
    what: Literal["bar", "board"]
    market: Literal["in", "mm"]
    length: float
    width: float | None
    thick: float | None
    source: str
    status: Status


@dataclass(frozen=True)
class Gluing:
    """How an adhesive is worked, at 20 C: spread on one face (kg/m2), times in minutes; None where it does not apply.

    open_time: from spreading a face until it must be closed. assembly: from the first spread to full pressure in the
    clamps. pot_life: how long a mix for rods, or a mixing nozzle that stands, stays workable. name: the adhesive's.
    """

    name: str
    spread: float | None
    open_time: float | None
    assembly: float | None
    pot_life: float | None
    source: str
    status: Status


Row = (
    StockLength
    | Bar
    | Timber
    | Panel
    | PanelStrengths
    | Lumber
    | Adhesive
    | Gluing
    | Screw
    | Finish
)
Kind = Literal["bar", "timber", "panel", "lumber", "adhesive", "screw", "finish"]
