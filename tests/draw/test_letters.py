"""The font's own tables, read a second way, and what happens to signs it lacks."""

from __future__ import annotations

from pathlib import Path

import pytest
from font_source_sans_pro import font_directory
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from ledgewright.draw import (
    MissingGlyph,
    ascent,
    cap_height,
    descent,
    printable,
    text_width,
)

REGULAR = TTFont(Path(font_directory) / "SourceSansPro-Regular.ttf")


def outline_box(sign: str) -> tuple[float, float, float, float]:
    """Measure a sign by its drawn outline, not by the tables the program reads."""
    glyphs = REGULAR.getGlyphSet()
    pen = BoundsPen(glyphs)
    glyphs[REGULAR.getBestCmap()[ord(sign)]].draw(pen)
    box = pen.bounds
    assert box is not None
    return (box[0], box[1], box[2], box[3])


def test_heights_agree_with_the_drawn_outlines() -> None:
    assert cap_height(1000) == pytest.approx(outline_box("H")[3], abs=5)
    assert ascent(1000) == pytest.approx(outline_box("d")[3], abs=1)
    assert descent(1000) == pytest.approx(-outline_box("p")[1], abs=1)


def test_the_width_holds_the_drawn_outlines() -> None:
    # Advance of a sign against its ink: between the sum of inks and half as much again for side bearings.
    for word in ("WALL", "dia 3/4", "31 9/16", "ledger"):
        inks = [outline_box(s) for s in word if s != " "]
        ink = sum(b[2] - b[0] for b in inks) / 1000
        assert ink < text_width(word, 1.0) < 1.6 * ink + 0.3


def test_width_grows_with_size_and_bold_is_wider() -> None:
    assert text_width("rod", 8.0) == pytest.approx(2 * text_width("rod", 4.0))
    assert text_width("rod", 4.0, bold=True) > text_width("rod", 4.0)


def test_a_sign_the_font_lacks_is_named_or_replaced_never_a_box() -> None:
    with pytest.raises(MissingGlyph, match="⌀"):
        text_width("⌀16", 4.0)
    assert printable("⌀16 ★") == ("Ø16 ?", ("⌀", "★"))
    assert printable("Ø 5/8 × 12″\nΩ Б") == ("Ø 5/8 × 12″\nΩ Б", ())


@given(st.text(max_size=30))
def test_whatever_a_person_types_can_be_set_once_printable(text: str) -> None:
    sound, lost = printable(text)
    for line in sound.split("\n"):
        assert text_width(line, 4.0) >= 0
    assert (sound == text) == (not lost)
