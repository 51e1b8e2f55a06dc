"""The files beside the PDF, and how they get into the folder."""

from __future__ import annotations

import csv
import hashlib
import io
import json
import os
from dataclasses import replace
from pathlib import Path

import ezdxf
import pytest

from ledgewright import plane
from ledgewright.plan import Plan
from ledgewright.sheets import contents, output, packet
from ledgewright.sheets.cutlist import HEADS, parts_csv
from tests.jobs import MEMO
from tests.sheets import sample


@pytest.fixture(scope="module")
def made() -> dict[str, bytes]:
    return contents(sample.plan(), memo=MEMO)


def named(text: str) -> Plan:
    plan = sample.plan()
    design = plan.designs[0]
    part = replace(design.parts[0], name=text, note='say "no", twice\nor more')
    return replace(plan, designs=(replace(design, parts=(part,)),))


def test_the_parts_list_reads_back_and_keeps_to_rfc_4180(made: dict[str, bytes]) -> None:
    text = made["parts.csv"].decode()
    assert text.count("\r\n") == text.count("\n")  # RFC 4180, 2.1: lines end in CRLF
    rows = list(csv.reader(io.StringIO(text, newline="")))
    assert tuple(rows[0]) == HEADS
    assert {len(row) for row in rows} == {len(HEADS)}
    skin = next(row for row in rows if row[2] == "top skin, leg A")
    assert float(skin[HEADS.index("finished_length_mm")]) == pytest.approx(69.25 * 25.4, abs=0.005)


def test_odd_texts_in_the_parts_list_read_back() -> None:
    rows = list(csv.reader(io.StringIO(parts_csv(named('top, "left"')), newline="")))
    assert rows[1][2] == 'top, "left"'
    assert rows[1][-1] == 'say "no", twice\nor more'


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@x"])
def test_no_text_of_a_job_becomes_a_formula_in_a_spreadsheet(text: str) -> None:
    # OWASP, "CSV Injection" (from memory): cells that begin with = + - @ are run by spreadsheets.
    rows = list(csv.reader(io.StringIO(parts_csv(named(text)), newline="")))
    assert rows[1][2] == "'" + text


def test_the_template_is_in_real_size_and_says_its_unit(made: dict[str, bytes]) -> None:
    # AutoCAD DXF reference, HEADER: $INSUNITS 1 is inches; $MEASUREMENT 0 is imperial.
    doc = ezdxf.read(io.StringIO(made["template.dxf"].decode()))  # type: ignore[attr-defined]
    assert not doc.audit().has_errors
    assert (doc.header["$INSUNITS"], doc.header["$MEASUREMENT"]) == (1, 0)
    outline = next(e for e in doc.modelspace() if e.dxf.layer == "FINISHED")
    points = outline.get_points("xy")  # type: ignore[attr-defined]  # a polyline, as read
    ring = [(float(p[0]), float(p[1])) for p in points]
    frame = sample.plan().designs[0].frame
    assert abs(plane.area(ring)) * 25.4**2 == pytest.approx(
        abs(plane.area(frame.outline)), rel=1e-6
    )


def test_the_list_of_files_is_true(made: dict[str, bytes]) -> None:
    listed = json.loads(made["packet.json"])
    assert listed["files"].keys() == made.keys() - {"packet.json"}
    for name, checksum in listed["files"].items():
        assert hashlib.sha256(made[name]).hexdigest() == checksum


def test_documents_are_those_of_check_and_fit(made: dict[str, bytes]) -> None:
    assert json.loads(made["check.json"])["verdict"] == "cannot say"
    assert json.loads(made["fit.json"])["shelves"][0]["chosen"] == "first-A"


def test_a_packet_writes_what_it_says_and_nothing_else(
    tmp_path: Path, made: dict[str, bytes]
) -> None:
    written = packet(sample.plan(), tmp_path / "deep" / "down", memo=MEMO)
    assert {p.name for p in written} == made.keys()
    assert set(os.listdir(tmp_path / "deep" / "down")) == made.keys()
    for path in written:
        assert path.read_bytes() == made[path.name]


def test_what_an_older_packet_left_goes_and_what_is_yours_stays(tmp_path: Path) -> None:
    packet(sample.plan(), tmp_path, memo=MEMO)
    manifest = json.loads((tmp_path / "packet.json").read_text())
    manifest["files"] |= {"core_map.dxf.old": "0", "../outside.txt": "0"}
    (tmp_path / "packet.json").write_text(json.dumps(manifest))
    (tmp_path / "core_map.dxf.old").write_text("stale")
    (tmp_path / "mine.txt").write_text("mine")
    (tmp_path.parent / "outside.txt").write_text("outside")
    packet(sample.plan(), tmp_path, memo=MEMO)
    assert not (tmp_path / "core_map.dxf.old").exists()
    assert (tmp_path / "mine.txt").read_text() == "mine"
    assert (tmp_path.parent / "outside.txt").read_text() == "outside"


def test_a_withheld_wall_takes_its_rod_lengths_out_of_the_list() -> None:
    rows = list(csv.reader(io.StringIO(parts_csv(sample.plan(("A",))), newline="")))
    rods = [row for row in rows if row[4] == "rod"]
    assert rods
    for row in rods:
        assert row[6:12] == [""] * 6
        assert "withheld" in row[-1]


def snapshot(folder: Path) -> dict[str, bytes]:
    return {p.name: p.read_bytes() for p in folder.iterdir()}


def test_when_any_call_to_the_system_fails_the_old_packet_is_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, made: dict[str, bytes]
) -> None:
    """Make the n-th write, flush or move fail, for every n."""
    (tmp_path / "mine.txt").write_text("mine")
    packet(sample.plan(), tmp_path, memo=MEMO)
    before = snapshot(tmp_path)
    newer = {name: data + b" newer" for name, data in made.items() if name != "parts.csv"}
    monkeypatch.setattr(output, "contents", lambda *_: newer)
    real = {name: getattr(os, name) for name in ("fsync", "replace")}
    failed = 0
    for n in range(1, 200):
        count = 0

        def fail(name: str, *arguments: object, at: int = n) -> object:
            nonlocal count
            count += 1
            if count == at:
                raise OSError(28, "no space left on device")
            return real[name](*arguments)

        with monkeypatch.context() as patch:
            for name in real:
                patch.setattr(os, name, lambda *a, name=name: fail(name, *a))
            try:
                packet(sample.plan(), tmp_path, memo=MEMO)
            except OSError:
                failed += 1
                assert snapshot(tmp_path) == before, n
                continue
        break
    assert failed >= 3 * len(newer)  # a flush and two moves for each file at least
    assert snapshot(tmp_path) == newer | {"mine.txt": b"mine"}


@pytest.mark.parametrize(
    ("name", "safe"),
    [
        ("wall corner A", "wall-corner-A"),
        ("../../etc/passwd", "etc-passwd"),
        ("木", "drawing-" + hashlib.sha256("木".encode()).hexdigest()[:6]),
        ("a" * 300, "a" * 80),
    ],
)
def test_file_names_are_fit_for_any_disk(name: str, safe: str) -> None:
    assert output.file_name(name) == safe
