"""A whole job worked through: check for the figures, full for the packet."""

from __future__ import annotations

from dataclasses import dataclass

from ledgewright.job import Job
from ledgewright.judge import Design
from ledgewright.site import Leave
from ledgewright.statics import State


@dataclass(frozen=True)
class Plan:
    """Everything the sheets need; what is not computed yet is named, never left to be guessed."""

    job: Job
    designs: tuple[Design, ...]
    leave: tuple[tuple[str, str, Leave], ...]
    verdict: State
    not_computed: tuple[tuple[str, str], ...]
