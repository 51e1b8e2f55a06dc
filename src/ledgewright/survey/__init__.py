"""The room as found: true wall lines, members, corners and obstacles, placed in one plan."""

from ledgewright.survey.model import (
    Corner,
    Member,
    Obstacle,
    Retake,
    Room,
    Wall,
)
from ledgewright.survey.place import room

__all__ = [
    "Corner",
    "Member",
    "Obstacle",
    "Retake",
    "Room",
    "Wall",
    "room",
]
