"""The trade's words as people in the United States and in Britain say them."""

from __future__ import annotations

import re
from functools import cache

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
    "layout": ("sheet layout", "cutting plan"),
    "Layout": ("Sheet layout", "Cutting plan"),
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


_BOTH: tuple[tuple[str, str], ...] = (
    ("rod", "steel bar"),
    ("rods", "steel bars"),
    ("edging", "lipping"),
    ("an edging", "a lipping"),
    ("drywall", "plasterboard"),
    ("stick-out", "projection"),
    ("load limit", "maximum safe load"),
    ("confirmed", "proven"),
    ("unconfirmed", "unproven"),
    ("design code", "design standard"),
    ("building code", "building regulations"),
    ("building department", "building control body"),
    ("licensed engineer", "chartered engineer"),
    ("bearing wall", "loadbearing wall"),
    ("bearing walls", "loadbearing walls"),
    ("bearing stud", "loadbearing stud"),
    ("bearing studs", "loadbearing studs"),
    ("casing", "architrave"),
    ("a casing", "an architrave"),
    ("baseboard", "skirting"),
    ("site measure", "measure-up"),
    ("as set", "as fitted"),
    ("as-set", "as-fitted"),
    ("sheet layout", "cutting plan"),
    ("walk-through", "handover"),
    ("center", "centre"),
    ("centers", "centres"),
    ("centered", "centred"),
    ("color", "colour"),
    ("colors", "colours"),
    ("gray", "grey"),
    ("rabbet", "rebate"),
    ("miter", "mitre"),
    ("mitered", "mitred"),
    ("neighboring", "neighbouring"),
    ("labor", "labour"),
    ("flashlight", "torch"),
    ("mold", "mould"),
    ("millimeter", "millimetre"),
    ("millimeters", "millimetres"),
)
_ONE_WAY: dict[Words, tuple[tuple[str, str], ...]] = {
    "en-GB": (("solid edging", "lipping"), ("building-code", "building-regulation")),
    "en-US": (("noggin", "blocking"), ("noggins", "blocking")),
}


def told(text: str, words: Words, own: tuple[str, ...] = ()) -> str:
    """Return a text in one of the two Englishes: whole words of the trade of the other are put in its own.

    Source: common practice. A word counts as whole if no letter, hyphen or full stop ties it to another, so that
    ids and paths such as rod.bend stay. A capital at the beginning is kept.

    Args:
        text: any text of the program's own making.
        words: "en-US" or "en-GB".
        own: names that the job or the catalogue gives, which stay as they are.
    """
    table = _table(words)
    return _pattern(words, own).sub(lambda found: _put(found.group(), table, own), text)


@cache
def _table(words: Words) -> dict[str, str]:
    both = dict(_BOTH) if words == "en-GB" else {uk: us for us, uk in _BOTH}
    return both | dict(_ONE_WAY[words])


@cache
def _pattern(words: Words, own: tuple[str, ...]) -> re.Pattern[str]:
    """Own names first, as they are written, then the words in any case; the longest of each first."""
    names = sorted(filter(None, own), key=len, reverse=True)
    known = sorted(_table(words), key=len, reverse=True)
    choices = [*map(re.escape, names), *(f"(?i:{re.escape(word)})" for word in known)]
    return re.compile(rf"(?<![\w.-])(?:{'|'.join(choices)})(?![\w-]|\.\w)")


def _put(found: str, table: dict[str, str], own: tuple[str, ...]) -> str:
    if found in own:
        return found
    new = table[found.lower()]
    if found.isupper() and len(found) > 1:
        return new.upper()
    return new[:1].upper() + new[1:] if found[:1].isupper() else new
