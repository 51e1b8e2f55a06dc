"""What a PDF really holds, read back with another library: paths, words and fonts in mm of paper."""

from __future__ import annotations

import ctypes
from collections.abc import Iterator
from dataclasses import dataclass

import pypdfium2
import pypdfium2.raw as raw

MM = 25.4 / 72


@dataclass(frozen=True)
class Word:
    """A run of letters with the box of its ink (mm from the lower left) and the size of its lettering (mm)."""

    text: str
    left: float
    foot: float
    right: float
    head: float


@dataclass(frozen=True)
class Sheet:
    """One page."""

    width: float
    height: float
    text: str
    words: tuple[Word, ...]
    strokes: tuple[tuple[tuple[float, float], ...], ...]
    fonts: frozenset[str]
    sizes: frozenset[float]


def read(data: bytes) -> tuple[Sheet, ...]:
    """Return every page."""
    document = pypdfium2.PdfDocument(data)
    try:
        return tuple(_sheet(document[k]) for k in range(len(document)))
    finally:
        document.close()


def _sheet(page: pypdfium2.PdfPage) -> Sheet:
    words = page.get_textpage()
    objects = list(page.get_objects(max_depth=15))
    lettering = [o for o in objects if o.type == raw.FPDF_PAGEOBJ_TEXT]
    made = Sheet(
        width=page.get_width() * MM,
        height=page.get_height() * MM,
        text=words.get_text_range(),
        words=tuple(_words(words)),
        strokes=tuple(_points(o) for o in objects if o.type == raw.FPDF_PAGEOBJ_PATH),
        fonts=frozenset(_font(o) for o in lettering),
        sizes=frozenset(round(_size(o), 2) for o in lettering if _inked(o)),
    )
    words.close()
    page.close()
    return made


def _words(page: pypdfium2.PdfTextPage) -> Iterator[Word]:
    for k in range(page.count_rects()):
        left, foot, right, head = page.get_rect(k)
        text = page.get_text_bounded(left, foot, right, head)
        yield Word(text.strip(), left * MM, foot * MM, right * MM, head * MM)


def _points(path: pypdfium2.PdfObject) -> tuple[tuple[float, float], ...]:
    m = raw.FS_MATRIX()
    raw.FPDFPageObj_GetMatrix(path, m)
    return tuple(
        ((m.a * x + m.c * y + m.e) * MM, (m.b * x + m.d * y + m.f) * MM)
        for x, y in _own_points(path)
    )


def _own_points(path: pypdfium2.PdfObject) -> Iterator[tuple[float, float]]:
    for k in range(raw.FPDFPath_CountSegments(path)):
        segment = raw.FPDFPath_GetPathSegment(path, k)
        x, y = ctypes.c_float(), ctypes.c_float()
        raw.FPDFPathSegment_GetPoint(segment, x, y)
        yield x.value, y.value


def _font(text: pypdfium2.PdfObject) -> str:
    font = raw.FPDFTextObj_GetFont(text)
    size = raw.FPDFFont_GetBaseFontName(font, None, 0)
    buffer = ctypes.create_string_buffer(size)
    raw.FPDFFont_GetBaseFontName(font, buffer, size)
    return buffer.value.decode().partition("+")[2] or buffer.value.decode()


def _inked(text: pypdfium2.PdfObject) -> bool:
    left, foot, right, head = text.get_bounds()
    return bool(right - left > 1e-3 and head - foot > 1e-3)


def _size(text: pypdfium2.PdfObject) -> float:
    size = ctypes.c_float()
    raw.FPDFTextObj_GetFontSize(text, size)
    m = raw.FS_MATRIX()
    raw.FPDFPageObj_GetMatrix(text, m)
    return float(size.value * (m.c**2 + m.d**2) ** 0.5 * MM)
