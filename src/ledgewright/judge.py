"""Judge one shelf: layout, fitting, core, statics and bill in that order, each step at most once per input."""

from __future__ import annotations

from dataclasses import dataclass

from ledgewright.core import Core
from ledgewright.fitting import Way, Ways
from ledgewright.job import Spec
from ledgewright.layout import Frame
from ledgewright.shop import Bill, Part
from ledgewright.statics import Holds
from ledgewright.survey import Room


@dataclass(frozen=True)
class Design:
    """One shelf, worked through; way and core are None where nothing goes on."""

    spec: Spec
    room: Room
    frame: Frame
    ways: Ways
    way: Way | None
    core: Core | None
    holds: Holds
    parts: tuple[Part, ...]
    bill: Bill
