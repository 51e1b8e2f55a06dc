"""Cutting: lengths out of bars, rectangles and L's out of sheets; it knows no shelf."""

from ledgewright.shop.nest.bounds import least_length
from ledgewright.shop.nest.free import most_valuable_free, packs
from ledgewright.shop.nest.lengths import lengths
from ledgewright.shop.nest.model import (
    Axis,
    Bar,
    Cut,
    CutBar,
    CutBars,
    Layout,
    Nest,
    Offcut,
    Piece,
    Placed,
    Proof,
    Rule,
    Sheet,
    Stop,
    never,
)
from ledgewright.shop.nest.plates import Solved, fewest, most_valuable, plates
from ledgewright.shop.nest.sheets import nest
from ledgewright.shop.nest.tree import Leaf, Node, Split, lay
from ledgewright.shop.nest.unlimited import Worth, cut_up, unlimited

__all__ = [
    "Axis",
    "Bar",
    "Cut",
    "CutBar",
    "CutBars",
    "Layout",
    "Leaf",
    "Nest",
    "Node",
    "Offcut",
    "Piece",
    "Placed",
    "Proof",
    "Rule",
    "Sheet",
    "Solved",
    "Split",
    "Stop",
    "Worth",
    "cut_up",
    "fewest",
    "lay",
    "least_length",
    "lengths",
    "most_valuable",
    "most_valuable_free",
    "nest",
    "never",
    "packs",
    "plates",
    "unlimited",
]
