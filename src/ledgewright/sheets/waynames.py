"""What people call the ways on, and the other ways to make a shelf."""

from __future__ import annotations

from typing import Final

from ledgewright.judge import Design, Option
from ledgewright.sheets.say import Say

_WAYS: Final = {
    "straight": "straight in",
    "straight-aslant": "straight in, aslant",
    "straight-joint": "straight in, along the joint",
    "diagonal": "diagonal, into the corner",
    "planned": "planned for this room",
    "tilt": "one end first, turned in",
}
_OPTIONS: Final = {
    "short-rods": "shorter {rods} on one wall",
    "two-sections": "two sections",
    "caulk": "cut square, caulked",
    "filler": "filler strips",
    "tight": "one piece, scribed to both ends",
}


def way_name(design: Design, ident: str) -> str:
    """Return the name of a way in plain words, with the letter of the wall it begins on; small at its head.

    Args:
        design: the shelf.
        ident: of the way; of several, one after the other, with ", then " between.
    """
    return ", then ".join(_way(design, each) for each in ident.split(", then "))


def _way(design: Design, ident: str) -> str:
    start, _, wall = ident.partition("first-")
    if not start and wall:
        names = {each.id: each.called for each in design.room.walls}
        return f"wall {names.get(wall, wall)} first"
    return _WAYS.get(ident, ident)


def option_name(option: Option, say: Say) -> str:
    """Return the name of another way to make a shelf in plain words; small at its head."""
    return _OPTIONS.get(option.id, option.id).format(rods=say.word("rods"))


def titled(name: str) -> str:
    """Return a name as a heading begins with it."""
    return f"{name[:1].upper()}{name[1:]}"
