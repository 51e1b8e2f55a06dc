"""SVG and DXF read back by other people's readers."""

from __future__ import annotations

import ctypes
import io
import math
import subprocess
import sys
from typing import Literal
from xml.etree import ElementTree as ET

import pypdfium2
import pytest
import typst
from ezdxf.document import Drawing as Document
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.filemanagement import read as read_dxf
from font_source_sans_pro import font_directory
from hypothesis import given
from hypothesis import strategies as st

from ledgewright.draw import (
    Arc,
    Arrow,
    Chain,
    Circle,
    Drawing,
    Fill,
    Leader,
    Operation,
    Polyline,
    Running,
    Text,
    bounds,
    dxf,
    size,
    svg,
    text_width,
)
from ledgewright.draw.styles import MARGIN
from ledgewright.draw.to_svg import number

SVG = "{http://www.w3.org/2000/svg}"
SAMPLE = Drawing(
    'Plan <A> & "B"',
    "A board with a hole",
    (
        Fill("hatch", ((0, 0), (1000, 0), (1000, 300), (0, 300)), "section"),
        Fill("hatch", ((0, 0), (100, 0), (100, 30)), "tone"),
        Polyline("cut", ((0, 0), (1000, 0), (1000, 300), (0, 300)), closed=True),
        Circle("hidden", (500, 150), 40),
        Arc("seen", (500, 150), 80, 0.0, math.pi / 2),
        Chain(((0, 300), (20, 300), (1000, 300)), ("3/4", "38 5/8"), (1, 0), (0, 300), 8),
        Running((0, 0), ((500, 0), (510, 0)), ("19 11/16", "20"), (1, 0), (0, 0), -8),
        Leader((500, 190), (10, 20), "hole", head="arrow"),
        Arrow("mark", (200, -200), (600, -200), 4.0, both=True),
        Text((10, 10), "TOP ⌀", clear=True, bold=True, angle=0.3),
    ),
    1 / 8,
)


def parsed(drawing: Drawing) -> ET.Element:
    return ET.fromstring(svg(drawing))  # noqa: S314 - our own text


def pdf_of(text: str) -> pypdfium2.PdfDocument:
    source = '#set page(width: 300mm, height: 300mm, margin: 0mm)\n#image("d.svg")'
    made = typst.compile(
        {"main.typ": source.encode(), "d.svg": text.encode()},
        font_paths=[font_directory],
        ignore_system_fonts=True,
        timestamp=0,
    )
    assert isinstance(made, bytes)
    return pypdfium2.PdfDocument(made)


def path_points(item: pypdfium2.PdfObject) -> list[tuple[float, float]]:
    """Return the points of a path on the page (points of 1/72 inch)."""
    raw = pypdfium2.raw
    matrix = item.get_matrix()
    found = []
    for k in range(raw.FPDFPath_CountSegments(item)):
        x, y = ctypes.c_float(), ctypes.c_float()
        raw.FPDFPathSegment_GetPoint(raw.FPDFPath_GetPathSegment(item, k), x, y)
        found.append(matrix.on_point(x.value, y.value))
    return found


def test_the_file_is_its_ink_in_mm() -> None:
    root = parsed(SAMPLE)
    width, height = size(SAMPLE)
    x0, _, x1, _ = bounds(SAMPLE)
    assert width == pytest.approx(x1 - x0 + 2 * MARGIN)
    assert float(root.attrib["width"].removesuffix("mm")) == pytest.approx(width, abs=1e-3)
    box = [float(v) for v in root.attrib["viewBox"].split()]
    assert box[2:] == pytest.approx([width, height], abs=1e-3)


def test_words_for_those_who_cannot_see_it() -> None:
    root = parsed(SAMPLE)
    assert root.findtext(f"{SVG}title") == SAMPLE.title
    assert root.findtext(f"{SVG}desc") == SAMPLE.description
    assert root.attrib["role"] == "img"


def test_presentation_attributes_only() -> None:
    root = parsed(SAMPLE)
    assert all("style" not in e.attrib and "class" not in e.attrib for e in root.iter())
    assert not list(root.iter(f"{SVG}style"))
    assert "-0 " not in svg(SAMPLE)
    assert '"-0"' not in svg(SAMPLE)


def test_a_length_is_true_in_the_pdf() -> None:
    # 800 mm at 1/8 must measure 100.00 +- 0.02 mm in the PDF's own coordinates (issue 2). pdfium's box of
    # a stroke includes its width, so the points of the path itself are measured.
    bar = Drawing("bar", "a bar", (Polyline("cut", ((0, 0), (800, 0))),), 1 / 8)
    page = pdf_of(svg(bar))[0]
    (item,) = [o for o in page.get_objects() if o.type == pypdfium2.raw.FPDF_PAGEOBJ_PATH]
    ends = path_points(item)
    assert math.dist(*ends) / (72 / 25.4) == pytest.approx(100.0, abs=0.02)


def test_lettering_is_as_wide_as_measured() -> None:
    words = "31 9/16 hold-off rod"
    drawing = Drawing("t", "d", (Text((0, 0), words, 10.0), Polyline("cut", ((0, 20), (1, 20)))), 1)
    page = pdf_of(svg(drawing))[0]
    text = page.get_textpage()
    assert words in text.get_text_range()
    rights = [text.get_charbox(k)[2] for k in range(len(words))]
    lefts = [text.get_charbox(k)[0] for k in range(len(words))]
    drawn = (max(rights) - min(lefts)) / (72 / 25.4)
    # Kerning and the bearings of the outer letters are left out of the measure.
    assert text_width(words, 10.0) * 0.96 < drawn <= text_width(words, 10.0) * 1.005


@given(st.floats(-1e6, 1e6))
def test_numbers_have_three_decimals_and_no_minus_nought(value: float) -> None:
    text = number(value)
    assert float(text) == pytest.approx(value, abs=0.000501)
    assert text != "-0"
    assert len(text.partition(".")[2]) <= 3


def read(data: bytes) -> Document:
    return read_dxf(io.StringIO(data.decode("utf-8")))


def polyline(doc: Document, layer: str) -> list[tuple[float, float]]:
    (line,) = [e for e in doc.modelspace().query("LWPOLYLINE") if e.dxf.layer == layer]
    assert isinstance(line, LWPolyline)
    return [(float(p[0]), float(p[1])) for p in line.get_points()]


@pytest.mark.parametrize(
    ("unit", "insunits", "metric", "per"), [("mm", 4, 1, 1.0), ("in", 1, 0, 25.4)]
)
def test_units_stand_in_all_three_places_and_lengths_are_exact(
    unit: Literal["mm", "in"], insunits: int, metric: int, per: float
) -> None:
    # DXF reference: $INSUNITS 1 inches, 4 millimetres; $MEASUREMENT 0 English, 1 metric.
    doc = read(dxf(SAMPLE, unit))
    assert doc.header["$INSUNITS"] == insunits
    assert doc.header["$MEASUREMENT"] == metric
    assert doc.modelspace().block_record.dxf.units == insunits
    xs = [x for x, _ in polyline(doc, "cut")]
    assert max(xs) - min(xs) == pytest.approx(1000 / per, rel=1e-12)
    (circle,) = doc.modelspace().query("CIRCLE[layer=='hidden']")
    assert circle.dxf.radius == pytest.approx(40 / per, rel=1e-12)


def test_an_inch_is_one_in_an_inch_file() -> None:
    items = [("outline", (Polyline("cut", ((0.0, 0.0), (25.4, 0.0))),))]
    assert polyline(read(dxf(items, "in")), "outline") == [(0, 0), (1, 0)]


def test_the_auditor_finds_nothing() -> None:
    for data in (dxf(SAMPLE, "mm"), dxf(SAMPLE, "in")):
        auditor = read(data).audit()
        assert not auditor.errors
        assert not auditor.fixes


def test_arcs_stay_arcs() -> None:
    (arc,) = read(dxf(SAMPLE, "mm")).modelspace().query("ARC")
    assert (arc.dxf.radius, arc.dxf.start_angle, arc.dxf.end_angle) == pytest.approx((80, 0, 90))


def test_a_layer_for_each_operation() -> None:
    operations: list[Operation] = [
        ("CUT_THROUGH", (Polyline("cut", ((0, 0), (10, 0), (10, 10)), closed=True),)),
        ("POCKET_21.4_DEEP", (Circle("slot", (5, 5), 2),)),
    ]
    doc = read(dxf(operations, "mm"))
    assert {e.dxf.layer for e in doc.modelspace()} == {"CUT_THROUGH", "POCKET_21.4_DEEP"}
    assert "POCKET_21.4_DEEP" in doc.layers


def test_same_bytes_in_another_process_with_another_hash_seed() -> None:
    code = (
        "import sys, hashlib; sys.path.insert(0, '.');"
        "from tests.draw.test_writers import SAMPLE; from ledgewright.draw import dxf, svg;"
        "print(hashlib.sha256(svg(SAMPLE).encode() + dxf(SAMPLE, 'in')).hexdigest())"
    )
    made = {
        subprocess.run(
            [sys.executable, "-c", code],
            check=True,
            capture_output=True,
            text=True,
            env={"PYTHONHASHSEED": seed, "TZ": zone, "PATH": "", "HOME": "/nonexistent"},
        ).stdout
        for seed, zone in (("1", "UTC"), ("2", "Asia/Tokyo"))
    }
    assert len(made) == 1
    assert dxf(SAMPLE, "mm") == dxf(SAMPLE, "mm")
