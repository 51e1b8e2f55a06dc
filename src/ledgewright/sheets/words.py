"""The trade's words as people in the United States and in Britain say them."""

from __future__ import annotations

from ledgewright.job import Words

_TABLE: dict[str, tuple[str, str]] = {
    "rod": ("rod", "steel bar"),
    "Rod": ("Rod", "Steel bar"),
    "rods": ("rods", "steel bars"),
    "Rods": ("Rods", "Steel bars"),
    "rods first": ("rods first", "steel bars first"),
    "slot": ("slot", "slot"),
    "channel": ("slide slot", "slide slot"),
    "edging": ("solid edging", "lipping"),
    "lining": ("drywall, plaster or tile", "plasterboard and skim, or tile"),
    "embedment": ("depth in stud", "depth in stud"),
    "projection": ("stick-out", "projection"),
    "limit": ("load limit", "maximum safe load"),
    "Limit": ("Load limit", "Maximum safe load"),
    "confirmed": ("confirmed", "proven"),
    "code": ("design code", "design standard"),
    "bearing": ("bearing", "loadbearing"),
    "calculation": ("calculation", "workings"),
    "Calculations": ("Calculations", "Workings"),
    "offcut": ("drop", "offcut"),
    "casing": ("casing", "architrave"),
    "baseboard": ("baseboard", "skirting"),
    "blocking": ("blocking", "noggin"),
    "survey": ("site measure", "measure-up"),
    "as set": ("as set", "as fitted"),
    "level": ("level line", "level line"),
    "handover": ("walk-through", "handover"),
    "center": ("center", "centre"),
    "Center": ("Center", "Centre"),
    "color": ("color", "colour"),
    "mold": ("mold", "mould"),
    "licensed": ("a licensed engineer", "a chartered engineer"),
    "authority": ("the local building department", "the local building control body"),
    "panel": ("sheet", "sheet"),
}


def word(key: str, words: Words) -> str:
    """Return a word of the trade in one of the two Englishes.

    Source: common practice. Every key has both forms; where the trade agrees they are the same.

    Args:
        key: the word as the code and the US trade have it.
        words: "en-US" or "en-GB".

    Raises:
        KeyError: if the table lacks the word.
    """
    return _TABLE[key][0 if words == "en-US" else 1]


def keys() -> tuple[str, ...]:
    """Return every word of the table, sorted."""
    return tuple(sorted(_TABLE))
