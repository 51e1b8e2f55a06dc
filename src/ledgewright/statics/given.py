"""What the statics is asked about: one shelf on its walls, its core and its loads."""

from __future__ import annotations

from dataclasses import dataclass

from ledgewright.core import Core
from ledgewright.job import Basis, Demand, Spec
from ledgewright.layout import Frame
from ledgewright.statics.inputs import NOMINAL, Inputs
from ledgewright.survey import Room


@dataclass(frozen=True)
class Given:
    """One shelf with all that its statics rests on.

    room: the walls. frame: the shelf against them. spec: as asked for. demand: its loads and limits. basis: of the
    design. temperature: on the day of setting (C). core: None where nothing goes on: each rod is then judged by itself,
    the section solid and stiff. inputs: the doubtful figures. heat: the most there ever is at the rods (C); None if
    nobody has said.
    """

    room: Room
    frame: Frame
    spec: Spec
    demand: Demand
    basis: Basis
    temperature: float
    core: Core | None
    inputs: Inputs = NOMINAL
    heat: float | None = None
