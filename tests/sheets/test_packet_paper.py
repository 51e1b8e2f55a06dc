"""The packet as it comes out of the printer: measured in the PDF itself, with another library."""

from __future__ import annotations

import hashlib
import os
import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from ledgewright.plan import Plan
from ledgewright.sheets import pages, pdf
from ledgewright.sheets.pages import block
from ledgewright.sheets.press import press
from tests.jobs import MEMO
from tests.sheets import paper, sample

PACKAGED = {
    "SourceSansPro-Regular",
    "SourceSansPro-Semibold",
    "SourceSansPro-Bold",
    "NewCMMath-Book",  # the typesetter's own, for formulas alone
}
A4: dict[str, Any] = {"sheets": "a4", "units": "mm", "words": "en-GB"}
LONG = "The longest name anybody ever gave to a shelf in a showroom " * 4
NAMES = (
    "Κεραμικά στη γωνία",
    "Керамика в углу",
    "#let x = 1 $",
    '*bold* _it_ `code` <label> @ref \\ "quote" = head // no /* no */',
    LONG[:200],
    "x" * 200,
)


def job(held: tuple[str, ...] = (), **meta: Any) -> Plan:
    plan = sample.plan(held)
    return replace(plan, job=replace(plan.job, meta=replace(plan.job.meta, **meta)))


@pytest.fixture(scope="module", params=["letter", "a4", "held"])
def sheets(request: pytest.FixtureRequest) -> tuple[paper.Sheet, ...]:
    plans = {"letter": job(), "a4": job(**A4), "held": job(("A", "B"))}
    return paper.read(pdf(plans[request.param], MEMO))


def bars(sheet: paper.Sheet) -> list[float]:
    """Lengths of the level strokes of two points that are nearly 100 mm long."""
    level = [s for s in sheet.strokes if len(s) == 2 and abs(s[0][1] - s[1][1]) < 1e-3]
    lengths = [abs(a[0] - b[0]) for a, b in level]
    return [x for x in lengths if 99 < x < 101]


def test_the_bar_on_every_page_is_100_mm(sheets: tuple[paper.Sheet, ...]) -> None:
    for sheet in sheets:
        assert len(bars(sheet)) == 1
        assert bars(sheet)[0] == pytest.approx(100.0, abs=0.02)
        assert "100 mm" in sheet.text
        assert "Print at 100 %" in sheet.text


def test_sheets_are_of_the_size_they_say() -> None:
    # ISO 216: A4 is 210 x 297; ASME Y14.1 size A: 8 1/2 x 11 in.
    for meta, size in ((A4, (210.0, 297.0)), ({"sheets": "letter"}, (215.9, 279.4))):
        for sheet in paper.read(pdf(job(**meta), MEMO)):
            assert (sheet.width, sheet.height) == pytest.approx(size, abs=0.01)


def test_fonts_are_the_packaged_set(sheets: tuple[paper.Sheet, ...]) -> None:
    used = {word.font for sheet in sheets for word in sheet.words}
    assert used <= PACKAGED
    assert used >= PACKAGED - {"NewCMMath-Book"}


def test_fonts_named_in_the_file_are_the_packaged_set() -> None:
    named = re.findall(rb"/BaseFont\s*/[A-Z]{6}\+([A-Za-z-]+)", pdf(job(), MEMO))
    plain = {name.decode().removesuffix("-Identity-H") for name in named}
    assert plain == PACKAGED


def test_nothing_stands_outside_the_margins(sheets: tuple[paper.Sheet, ...]) -> None:
    edge = 12.0
    for page, sheet in enumerate(sheets, 1):
        for word in sheet.words:
            inside = (
                word.left >= edge
                and word.foot >= edge
                and word.right <= sheet.width - edge
                and word.head <= sheet.height - edge
            )
            assert inside, (page, word)
        for stroke in sheet.strokes:
            for x, y in stroke:
                assert edge <= x <= sheet.width - edge, (page, stroke)
                assert edge <= y <= sheet.height - edge, (page, stroke)


def overlaps(sheet: paper.Sheet) -> list[tuple[str, str]]:
    """Pairs of words whose ink boxes share more than 0.1 mm both ways.

    Within formulas an index may reach under its letter and stands in the hook of its root: there a pair
    counts only if half of the smaller box is covered.
    """
    words = sorted(sheet.words, key=lambda w: w.left)
    found = []
    for k, a in enumerate(words):
        for b in words[k + 1 :]:
            if b.left >= a.right - 0.1:
                break
            wide = min(a.right, b.right) - b.left
            high = min(a.head, b.head) - max(a.foot, b.foot)
            if min(wide, high) > 0.1 and not (
                _formula(a) and _formula(b) and _may(a, b, wide * high)
            ):
                found.append((a.text, b.text))
    return found


def _formula(word: paper.Word) -> bool:
    return word.font.startswith("NewCM")


def _may(a: paper.Word, b: paper.Word, shared: float) -> bool:
    least = min((w.right - w.left) * (w.head - w.foot) for w in (a, b))
    return "√" in a.text + b.text or shared < least / 2


def test_no_words_lie_on_each_other(sheets: tuple[paper.Sheet, ...]) -> None:
    for page, sheet in enumerate(sheets, 1):
        assert overlaps(sheet) == [], page


def test_lettering_is_large_enough_to_read(sheets: tuple[paper.Sheet, ...]) -> None:
    # Common practice: body 11 pt; drawings 2.5 mm at least. Subscripts of formulas alone are smaller.
    words = [w for sheet in sheets for w in sheet.words if not w.font.startswith("NewCM")]
    assert min(w.size for w in words) >= 2.5
    letters = [w.size for w in words if w.foot > 35 for _ in w.text]
    assert sum(size >= 11 * 25.4 / 72 - 1e-6 for size in letters) > 0.7 * len(letters)


def test_every_page_carries_its_title_block(sheets: tuple[paper.Sheet, ...]) -> None:
    for page, sheet in enumerate(sheets, 1):
        assert f"{page} of {len(sheets)}" in sheet.text
        assert "Job stoneware-corner" in sheet.text
        assert "01234567" in sheet.text
        assert "Stoneware corner" in sheet.text


def test_tick_boxes_are_8_mm() -> None:
    sheet = next(s for s in paper.read(pdf(job(), MEMO)) if s.text.startswith("Drill card, wall A"))
    boxes = [
        s for s in sheet.strokes if len(s) >= 4 and _span(s) == pytest.approx((8, 8), abs=0.01)
    ]
    assert len(boxes) == 3 + 2 * 4  # three before the first hole, two for each of four holes


def _span(stroke: tuple[tuple[float, float], ...]) -> tuple[float, float]:
    xs, ys = [p[0] for p in stroke], [p[1] for p in stroke]
    return max(xs) - min(xs), max(ys) - min(ys)


def undrawn(plan: Plan) -> tuple[paper.Sheet, ...]:
    """The packet without its drawings, which take most of the time and carry no name."""
    return paper.read(press(block(plan), pages(plan, {})))


@pytest.mark.parametrize("name", NAMES)
def test_any_name_is_printed_as_it_stands_and_breaks_no_page(name: str) -> None:
    sheets = undrawn(job(name=name, place=name))
    assert len(sheets) == len(undrawn(job()))
    read = re.sub(r"\s|\u200b", "", sheets[0].text).replace("\ufffe", "")
    assert re.sub(r"\s", "", name) in read
    for sheet in sheets:
        assert overlaps(sheet) == []
        assert {word.font for word in sheet.words} <= PACKAGED
        assert max(word.right for word in sheet.words) <= sheet.width - 12


def test_other_scripts_are_named_never_boxed() -> None:
    sheets = undrawn(job(name="木工房 shelf", place="مكتبة", client="공방"))
    said = " ".join(" ".join(s.text for s in sheets).split())
    assert "[CJK] shelf" in said
    assert "The name has letters this packet's typeface lacks (3 CJK)" in said
    assert "The place has letters this packet's typeface lacks (5 Arabic)" in said
    assert "The client has letters this packet's typeface lacks (2 Hangul)" in said
    assert {word.font for sheet in sheets for word in sheet.words} <= PACKAGED


CHILD = """
import hashlib, sys
sys.path.insert(0, sys.argv[1])
from ledgewright.sheets import contents
from tests.sheets import sample
for name, data in contents(sample.plan()).items():
    print(name, hashlib.sha256(data).hexdigest())
"""


def test_same_bytes_in_another_process_folder_seed_and_zone(tmp_path: Path) -> None:
    from ledgewright.sheets import contents

    here = {n: hashlib.sha256(d).hexdigest() for n, d in contents(sample.plan()).items()}
    root = str(Path(__file__).parents[2])
    for seed, zone in (("1", "Pacific/Auckland"), ("4242", "America/St_Johns")):
        folder = tmp_path / seed
        folder.mkdir()
        environment = os.environ | {"PYTHONHASHSEED": seed, "TZ": zone, "LC_ALL": "C"}
        ran = subprocess.run(
            [sys.executable, "-c", CHILD, root],
            cwd=folder,
            env=environment,
            capture_output=True,
            text=True,
            check=True,
        )
        there = dict(line.rsplit(" ", 1) for line in ran.stdout.splitlines())
        assert there == here
