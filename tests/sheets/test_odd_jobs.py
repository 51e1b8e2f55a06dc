"""Packets of odd jobs: very long, very short, many rods, shelves one over the other, names of any length and script."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import pytest
import tomlkit

from ledgewright.job.reading import read as read_job
from ledgewright.plan import Plan, cut_up, full
from ledgewright.sheets import BUNDLES
from ledgewright.sheets.bundles import Bundle
from ledgewright.sheets.model import Page
from ledgewright.sheets.output import file_name, leaves_of
from ledgewright.sheets.pages import block, bound
from ledgewright.sheets.pictures import Drawings
from ledgewright.sheets.press import press
from tests.jobs import EXAMPLES, MEMO
from tests.sheets import paper
from tests.sheets.sound import all_sound

IN = 25.4
PITCH = 16.0


def text_of(
    length: float,
    centres: tuple[float, ...],
    tops: tuple[str, ...] = ("35 1/2",),
    names: tuple[str, str] = ("records", "plumbing"),
) -> str:
    """The record wall with another wall and shelf: lengths in inches, one shelf for each top; both ends free."""
    document: Any = tomlkit.parse((EXAMPLES / "record-wall.toml").read_text(encoding="utf-8"))
    shelf, wall = names
    document["wall"] = [document["wall"][1]]
    del document["corner"], document["obstacle"], document["shop"]["prices"]
    only = document["wall"][0]
    only["id"], only["length"] = wall, f"{length + 20} in"
    only["line"] = [[0, 1], [length + 20, 1]]
    only["studs"] = [[f"{c - 0.75} in", f"{c + 0.75} in"] for c in centres]
    one = document["shelf"][0]
    one["legs"] = [{"wall": wall, "from": "6 in", "to": f"{6 + length} in"}]
    one["lock"]["at"] = [f"{wall} {centres[0]} in"]
    one["load"] = [{"kind": "even", "id": "ware", "weight": "9 lb/ft", "lasts": "years"}]
    text = tomlkit.dumps(document)
    start = text.index("[[shelf]]")
    end = text.index("[shop]")
    block_of = text[start:end]
    several = [
        block_of.replace('id = "records"', f'id = "{shelf}{k or ""}"').replace(
            'top = "35 1/2"', f'top = "{top}"'
        )
        for k, top in enumerate(tops)
    ]
    return text[:start] + "".join(several) + text[end:]


def studs(first: float, count: int, pitch: float = PITCH) -> tuple[float, ...]:
    return tuple(first + pitch * k for k in range(count))


JOBS: dict[str, str] = {
    "4 m": text_of(4000 / IN, studs(10.0, 10)),
    "300 mm": text_of(300 / IN, (9.0, 15.0)),
    "20 rods": text_of(4000 / IN, studs(8.0, 20, 8.0)),
    "three stacked": text_of(48.0, studs(10.0, 3), ("30", "45", "60")),
    "Greek and Cyrillic": text_of(30.0, studs(10.0, 2), ("30", "45"), ("ράφι", "стена")),
}


@cache
def plan(name: str) -> Plan:
    found = read_job(JOBS[name], "odd.toml")
    assert found.job is not None, found.findings
    made = full(found.job, MEMO, limits=False)
    return replace(made, cutting=cut_up(made.job, made.designs, made.leave, MEMO))


@cache
def made(of: Plan) -> tuple[Drawings, dict[str, Page]]:
    return leaves_of(of, ("client",), MEMO)


def printed(of: Plan, bundle: Bundle | None = None) -> tuple[paper.Sheet, ...]:
    return paper.read(press(block(of, bundle), bound(of, made(of)[1], bundle)))


SLOW = {name: pytest.param(name, marks=pytest.mark.soak) for name in ("20 rods", "4 m")}
"""Twenty rods are minutes of statics, and four metres of shelf take long to print."""


@pytest.mark.parametrize("name", [SLOW.get(name, name) for name in JOBS])
def test_odd_jobs_come_out_sound(name: str) -> None:
    all_sound(printed(plan(name)), name)


@pytest.mark.parametrize(
    ("name", "shelves", "rods"),
    [
        ("4 m", 1, 10),
        ("300 mm", 1, 2),
        ("three stacked", 3, 3),
        pytest.param("20 rods", 1, 20, marks=pytest.mark.soak),
    ],
)
def test_the_odd_jobs_are_what_they_are_called(name: str, shelves: int, rods: int) -> None:
    found = plan(name)
    assert [len(d.frame.rods) for d in found.designs] == [rods] * shelves
    leg = found.designs[0].frame.legs[0]
    long = {"4 m": 4000.0, "300 mm": 300.0, "20 rods": 4000.0, "three stacked": 48 * IN}[name]
    assert abs(leg.end - leg.start) == pytest.approx(long, abs=1.0)


@pytest.mark.parametrize(
    "bundle",
    [pytest.param(b, marks=pytest.mark.soak) if b in ("shop", "engineer") else b for b in BUNDLES],
)
def test_every_bundle_of_stacked_shelves_is_sound(bundle: Bundle) -> None:
    all_sound(printed(plan("three stacked"), bundle), bundle)


@pytest.mark.soak
def test_every_rod_of_twenty_has_its_row_on_the_cards() -> None:
    sheets = printed(plan("20 rods"), "site")
    for card in ("Drill card", "Set card", "As-set card"):
        text = " ".join(s.text for s in sheets if s.text.startswith(card))
        for rod in plan("20 rods").designs[0].frame.rods:
            assert f"\n{rod.mark} " in text or f"\n{rod.mark}\n" in text, (card, rod.mark)


LONG = ("A shelf for everything that was ever thrown on a wheel in this town " * 3)[:200]
NAMES = {
    "200 letters": LONG,
    "200 letters without a gap": "x" * 200,
    "Greek": "Κεραμικά στη γωνία",
    "Cyrillic": "Керамика в углу",
}


def called(name: str) -> Plan:
    of = plan("300 mm")
    meta = replace(of.job.meta, name=name, place=name, client=name)
    return replace(of, job=replace(of.job, meta=meta))


@pytest.mark.parametrize(
    "name",
    [
        pytest.param(n, marks=pytest.mark.soak) if n in ("Greek", "200 letters") else n
        for n in NAMES
    ],
)
def test_a_name_of_any_length_is_printed_as_it_stands(name: str) -> None:
    assert len(LONG) == 200
    for bundle in (None, BUNDLES[0]):
        sheets = printed(called(NAMES[name]), bundle)
        all_sound(sheets, name)
        read = "".join(sheets[0].text.split()).replace("\u200b", "").replace("\ufffe", "")
        assert "".join(NAMES[name].split()) in read


def test_names_of_shelf_and_wall_stand_in_their_own_letters() -> None:
    sheets = printed(plan("Greek and Cyrillic"))
    text = " ".join(sheet.text for sheet in sheets)
    assert "ράφι" in text
    assert "стена" in text


def test_other_scripts_get_a_note_that_names_them_and_never_boxes() -> None:
    sheets = printed(called("木工房の棚"))
    all_sound(sheets, "CJK")
    text = " ".join(sheets[0].text.split())
    assert "4 CJK and 1 Hiragana" in text
    assert "The job file keeps them as written" in text


def test_files_of_two_shelves_in_other_letters_do_not_fall_together() -> None:
    drawn, _ = made(plan("Greek and Cyrillic"))
    files = [file_name(name) for name in drawn]
    assert len(files) == len(set(files))
    assert all(f.isascii() for f in files)
    assert file_name("plan ράφι") != file_name("plan πάνω")
