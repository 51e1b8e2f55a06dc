"""Lengths, weights, loads, angles and times as people write them, read and written exactly."""

from ledgewright.units.figure import BadFigure
from ledgewright.units.length import (
    Unit,
    read_length,
    show_length,
    show_length_down,
    show_length_up,
)
from ledgewright.units.quantity import (
    Load,
    read_angle,
    read_load,
    read_mass,
    read_temperature,
    read_time,
    read_volume,
)
from ledgewright.units.show import (
    Rounded,
    down_mass,
    down_per_length,
    show_angle,
    show_area,
    show_force,
    show_mass,
    show_moment,
    show_per_length,
    show_pressure,
    show_stress,
    show_temperature,
    show_volume,
)

__all__ = [
    "BadFigure",
    "Load",
    "Rounded",
    "Unit",
    "down_mass",
    "down_per_length",
    "read_angle",
    "read_length",
    "read_load",
    "read_mass",
    "read_temperature",
    "read_time",
    "read_volume",
    "show_angle",
    "show_area",
    "show_force",
    "show_length",
    "show_length_down",
    "show_length_up",
    "show_mass",
    "show_moment",
    "show_per_length",
    "show_pressure",
    "show_stress",
    "show_temperature",
    "show_volume",
]
