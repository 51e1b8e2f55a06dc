"""The room as found: true wall lines, members, corners and obstacles, placed in one plan."""

from ledgewright.survey.accuracy import MARKED_SD
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
    "MARKED_SD",
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
