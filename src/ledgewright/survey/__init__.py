"""The room as found: true wall lines, members, corners and obstacles, placed in one plan."""

from ledgewright.survey.model import (
    Corner,
    Member,
    Obstacle,
    Retake,
    Room,
    Wall,
)

__all__ = [
    "Corner",
    "Member",
    "Obstacle",
    "Retake",
    "Room",
    "Wall",
]
