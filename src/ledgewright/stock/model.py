"""The rows of the catalogue: what can be bought, each with its source and how sure that is."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

Status = Literal["confirmed", "computed", "from memory", "assumed"]
Shape = Literal["round", "square", "flat", "round tube", "square tube"]


@dataclass(frozen=True)
class Bar:
    """A steel bar; width is across the shelf, height is up (mm); strengths MPa.

    `yield_is` says whether Fy is a specified minimum or a typical figure.
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
        return _area(self.shape, self.width, self.height) - self._hole(_area)

    @property
    def inertia(self) -> float:
        """Second moment for up-and-down bending (mm4)."""
        return _inertia(self.shape, self.width, self.height) - self._hole(_inertia)

    @property
    def elastic_modulus(self) -> float:
        """Elastic section modulus S for up-and-down bending (mm3)."""
        return 2 * self.inertia / self.height

    @property
    def plastic_modulus(self) -> float:
        """Plastic section modulus Z for up-and-down bending (mm3)."""
        return _plastic(self.shape, self.width, self.height) - self._hole(_plastic)

    @property
    def mass_per_length(self) -> float:
        """Mass (kg/mm), steel at 7850 kg/m3."""
        return self.area * 7.85e-6

    def _hole(self, of: object) -> float:
        if self.wall <= 0:
            return 0.0
        inner = (self.width - 2 * self.wall, self.height - 2 * self.wall)
        return float(of(self.shape, *inner))  # type: ignore[operator]


def _area(shape: Shape, width: float, height: float) -> float:
    return math.pi / 4 * width**2 if shape.startswith("round") else width * height


def _inertia(shape: Shape, width: float, height: float) -> float:
    return math.pi / 64 * width**4 if shape.startswith("round") else width * height**3 / 12


def _plastic(shape: Shape, width: float, height: float) -> float:
    return width**3 / 6 if shape.startswith("round") else width * height**2 / 4


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
    """A sheet good: sizes (mm), density (kg/m3), moduli along and across the face grain (MPa), k_def class 1."""

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


@dataclass(frozen=True)
class Lumber:
    """A timber for core or edging: density (kg/m3), E (MPa), tangential movement per % moisture."""

    name: str
    density: float
    E: float
    movement: float | None
    source: str
    status: Status


@dataclass(frozen=True)
class Adhesive:
    """An adhesive by generic class: modulus range (MPa), Poisson, waits at 20 C (hours), least temperature (C)."""

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
    """A screw by diameter and length (mm)."""

    name: str
    diameter: float
    root: float
    length: float
    source: str
    status: Status


@dataclass(frozen=True)
class Finish:
    """A coating: spread (m2 per litre and coat), recoat and loading waits (hours)."""

    name: str
    spread: float
    recoat: float
    full_load: float
    source: str
    status: Status


Row = Bar | Timber | Panel | Lumber | Adhesive | Screw | Finish
Kind = Literal["bar", "timber", "panel", "lumber", "adhesive", "screw", "finish"]
