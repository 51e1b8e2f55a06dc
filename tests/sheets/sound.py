"""What every sheet keeps to, read from the PDF itself: margins, lettering, nothing on anything else, no empty pages."""

from __future__ import annotations

from dataclasses import replace

from tests.sheets import paper
from tests.sheets.test_packet_paper import PACKAGED, bars, overlaps

EDGE = 12.0
"""Blank round every sheet (mm)."""
HEAD, FOOT = 30.0, 36.0
"""What title and title block take from the top and from the bottom (mm)."""


def sheet_is_sound(sheet: paper.Sheet, at: str) -> None:
    """Assert what every sheet keeps to; `at` names it where it does not."""
    foot = replace(sheet, strokes=tuple(s for s in sheet.strokes if s[0][1] < FOOT))
    assert len(bars(foot)) == 1, at
    assert abs(bars(foot)[0] - 100.0) < 0.02, at
    assert {w.font for w in sheet.words} <= PACKAGED, at
    for word in sheet.words:
        inside = (
            word.left >= EDGE
            and word.foot >= EDGE
            and word.right <= sheet.width - EDGE
            and word.head <= sheet.height - EDGE
        )
        assert inside, (at, word)
    for stroke in sheet.strokes:
        for x, y in stroke:
            assert EDGE <= x <= sheet.width - EDGE, (at, stroke)
            assert EDGE <= y <= sheet.height - EDGE, (at, stroke)
    assert overlaps(sheet) == [], at
    # Common practice: lettering of drawings 2.5 mm at least; subscripts of formulas alone are smaller.
    assert min(w.size for w in sheet.words if not w.font.startswith("NewCM")) >= 2.5, at


def all_sound(sheets: tuple[paper.Sheet, ...], name: str) -> None:
    """Assert it of every sheet."""
    for page, sheet in enumerate(sheets, 1):
        sheet_is_sound(sheet, f"{name}, page {page}: {sheet.text[:50]!r}")


def used(sheet: paper.Sheet) -> float:
    """Return how far down the room between title and title block a sheet is used, 0 to 1."""
    top, low = sheet.height - HEAD, FOOT
    body = [w.foot for w in sheet.words if w.foot > low and w.head < top]
    return (top - min(body, default=top)) / (top - low)


def head(sheet: paper.Sheet) -> str:
    """Return the title of a sheet and what it is about."""
    return sheet.text.split("\n", 1)[0].strip()
