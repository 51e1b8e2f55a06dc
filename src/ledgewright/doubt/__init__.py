"""How sure the answers are: doubtful figures, ranges of what they lead to, and what readings tell of them."""

from ledgewright.doubt.figures import TABLE, Doubtful, figure
from ledgewright.doubt.least import Least
from ledgewright.doubt.narrow import Believed, Narrowed, narrowed
from ledgewright.doubt.sobol import Figure, Ranged, ranged
from ledgewright.doubt.spread import Answer, Carried, NoSpread, Spread, floor, spread

__all__ = [
    "TABLE",
    "Answer",
    "Believed",
    "Carried",
    "Doubtful",
    "Figure",
    "Least",
    "Narrowed",
    "NoSpread",
    "Ranged",
    "Spread",
    "figure",
    "floor",
    "narrowed",
    "ranged",
    "spread",
]
