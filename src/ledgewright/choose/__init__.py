"""Search over designs that can be built: the few worth having, what one change does, and why nothing passes."""

from ledgewright.choose.change import edits, length, toml
from ledgewright.choose.front import beats, rank, tagged, unbeaten
from ledgewright.choose.ground import Ground, as_is, ground
from ledgewright.choose.model import (
    Change,
    Choice,
    Choices,
    Door,
    Figures,
    Governs,
    Nothing,
    Progress,
    Question,
    Step,
    Stop,
    Tag,
    Tell,
    Tried,
    Wanted,
    WhatIf,
)
from ledgewright.choose.search import DESIGNS, choose
from ledgewright.choose.space import Space, space
from ledgewright.choose.trial import Judge, of_shelf, try_out

__all__ = [
    "DESIGNS",
    "Change",
    "Choice",
    "Choices",
    "Door",
    "Figures",
    "Governs",
    "Ground",
    "Judge",
    "Nothing",
    "Progress",
    "Question",
    "Space",
    "Step",
    "Stop",
    "Tag",
    "Tell",
    "Tried",
    "Wanted",
    "WhatIf",
    "as_is",
    "beats",
    "choose",
    "edits",
    "ground",
    "length",
    "of_shelf",
    "rank",
    "space",
    "tagged",
    "toml",
    "try_out",
    "unbeaten",
]
