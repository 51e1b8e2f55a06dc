"""The room as found: true wall lines, members, corners and obstacles, placed in one plan."""

from ledgewright.survey.model import (
    Corner,
    Figure,
    Height,
    Member,
    More,
    Obstacle,
    Retake,
    Room,
    Wall,
    Whole,
)
from ledgewright.survey.place import room

__all__ = [
    "Corner",
    "Figure",
    "Height",
    "Member",
    "More",
    "Obstacle",
    "Retake",
    "Room",
    "Wall",
    "Whole",
    "room",
]
