"""Which letters the packaged typeface has, and what to print in place of those it lacks."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from functools import cache
from itertools import groupby
from pathlib import Path

import font_source_sans_pro
from fontTools.ttLib import TTFont

FAMILY = "Source Sans Pro"
CUTS = ("Regular", "Semibold", "Bold")
"""The cuts in use. The italics lack Greek and Cyrillic, so nothing is set in them."""

_NEAR = {
    "⌀": "Ø",
    "✔": "✓",
    "\u2010": "-",
    "\u2011": "-",
    "\u00a0": " ",
    "\u202f": " ",
    "\u2009": " ",
    "\u200b": "",
    "\u00ad": "",
}


@dataclass(frozen=True)
class Sound:
    """A text with only letters the face has, and what was put in place of others, by name and count."""

    text: str
    lacking: tuple[tuple[str, int], ...]


def font_files() -> tuple[Path, ...]:
    """Return the font files that go into a packet, one for each cut.

    The package carries each cut twice (.otf and .ttf); only the second is taken, since a folder with
    both makes the choice depend on the order in which the disk lists it.
    """
    folder = Path(font_source_sans_pro.__file__).parent / "files"
    return tuple(folder / f"SourceSansPro-{cut}.ttf" for cut in CUTS)


@cache
def face() -> frozenset[str]:
    """Return the characters that every cut in use can draw, read from the font files' own tables."""
    cuts = []
    for file in font_files():
        with TTFont(file, lazy=True) as font:
            cuts.append(frozenset(map(chr, font.getBestCmap())))
    return frozenset.intersection(*cuts)


def sound(text: str, has: frozenset[str]) -> Sound:
    """Return a text that prints without boxes.

    Composed letters are used where they exist, spaces of any kind become plain, marks that control
    layout are dropped, and each run of letters that the face lacks becomes its script in brackets.

    Args:
        text: any text.
        has: the characters of the face, from `face`.
    """
    if text.isascii() and text.isprintable():
        return Sound(" ".join(text.split()), ())
    letters = [_plain(c) for c in unicodedata.normalize("NFC", text)]
    out: list[str] = []
    lacking: dict[str, int] = {}
    for script, run in groupby("".join(letters), key=lambda c: _script(c, has)):
        these = "".join(run)
        if script:
            lacking[script] = lacking.get(script, 0) + len(these)
        out.append(f"[{script}]" if script else these)
    return Sound(" ".join("".join(out).split()), tuple(sorted(lacking.items())))


def breakable(text: str, longest: int = 28) -> str:
    """Return the text with places to break inside words longer than `longest` letters."""
    return " ".join(
        "\u200b".join(w[k : k + longest] for k in range(0, len(w), longest))
        if len(w) > longest
        else w
        for w in text.split(" ")
    )


def _plain(c: str) -> str:
    if c in _NEAR:
        return _NEAR[c]
    kind = unicodedata.category(c)
    if kind.startswith("Z") or c in "\t\n\r":
        return " "
    return "" if kind.startswith("C") else c


def _script(c: str, has: frozenset[str]) -> str:
    if c in has:
        return ""
    name = unicodedata.name(c, "UNKNOWN").split()[0]
    if unicodedata.category(c)[0] not in "LM":
        return "symbol"
    return name if name == "CJK" else name.capitalize()
