"""A turn in the plan ("tilt") into an alcove whose mouth is narrower than the section."""

from __future__ import annotations

from ledgewright.fitting.classic import Plan
from ledgewright.fitting.setting import Setting


def plans(here: Setting) -> list[Plan]:
    """Return ways in with a turn."""
    return []
