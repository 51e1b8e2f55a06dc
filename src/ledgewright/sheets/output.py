"""The files of a packet, and the only place in the sheets that writes to disk."""

from __future__ import annotations

import hashlib
import json
import os
import re
import shutil
from collections.abc import Mapping
from pathlib import Path
from tempfile import mkdtemp

from ledgewright import draw
from ledgewright.job import Unit, Words
from ledgewright.memo import Memo
from ledgewright.plan import Chosen, Plan, verdict
from ledgewright.sheets import cuts, guide_tiles, pictures, tiles
from ledgewright.sheets.choose_sheet import choose_pages
from ledgewright.sheets.cut_answer import cut_document, cuts_csv
from ledgewright.sheets.cutlist import parts_csv
from ledgewright.sheets.documents import check_document, fit_document
from ledgewright.sheets.forms import question_sheet
from ledgewright.sheets.ics import ics
from ledgewright.sheets.model import Block
from ledgewright.sheets.pages import block, block_of, pages, shop_pages_of, site_pages
from ledgewright.sheets.press import press, press_tiles
from ledgewright.sheets.say import Say
from ledgewright.sheets.scribe_answer import scribe_document
from ledgewright.sheets.shop_answer import shop_document
from ledgewright.sheets.shopping import shopping_csv
from ledgewright.sheets.shopside import side
from ledgewright.sheets.spoken import own_names, said, spoken

MANIFEST = "packet.json"


def pdf(plan: Plan) -> bytes:
    """Return the whole packet as one PDF; equal plans give equal bytes.

    Args:
        plan: the whole job.
    """
    return press(block(plan), pages(plan, memo=Memo()))


def site_pdf(plan: Plan) -> bytes:
    """Return the sheets that are taken to the place as one PDF.

    Args:
        plan: the whole job.
    """
    return press(block(plan), site_pages(plan))


def choose_pdf(found: Chosen, shelf: str) -> bytes:
    """Return the pages of a search as PDF; equal searches give equal bytes.

    Args:
        found: as the plan found it, with choices.
        shelf: id of the shelf.
    """
    return press(block_of(found.job.meta, verdict(found.designs)), choose_pages(found, shelf))


def blank_questions(units: Unit) -> bytes:
    """Return the questions of a first visit to print blank, as PDF.

    Args:
        units: what lengths are written in; inches go with US words and Letter, millimetres with UK words and A4.
    """
    words: Words = "en-US" if units == "in" else "en-GB"
    say = Say(units, words)
    width, height, size = pictures.PAPER["letter" if units == "in" else "a4"]
    head = Block("First visit", "blank", "", width, height, size, "")
    return press(head, {"questions": spoken(question_sheet(units, words), say)})


def contents(plan: Plan) -> dict[str, bytes]:
    """Return every file of the packet by name.

    Args:
        plan: the whole job.

    Returns:
        packet.pdf, parts.csv, cuts.csv, shopping.csv, days.ics, check.json, fit.json, scribe.json, cut.json, shop.json;
        for each scribed shelf its edges at true size over tiles for Letter and A4 and on long sheets
        (scribe-<shelf>-letter.pdf, -a4.pdf, -long.pdf), its outline at true size; for each wall that may be drilled the
        guide block, the ledger and the comb at true size (guide-<shelf>-<wall>-letter.pdf and so on); an SVG for each
        drawing and one that plays for the fitting of each shelf; DXF files in the job's unit; and packet.json, which
        lists the others with their checksums.
    """
    unit, memo = plan.job.meta.units, Memo()
    drawn = pictures.drawings(plan, memo)
    made = {
        "packet.pdf": press(block(plan), pages(plan, drawn, memo)),
        "parts.csv": parts_csv(plan).encode(),
        "check.json": _json(check_document(plan)),
        "fit.json": _json(fit_document(plan, memo)),
        "scribe.json": _json(scribe_document(plan)),
        "cut.json": _json(cut_document(plan)),
        "cuts.csv": cuts_csv(plan).encode(),
        **_shop_files(plan),
    }
    for name, inked in drawn.items():
        made[f"{file_name(name)}.svg"] = inked.svg.encode()
    for name, playing in pictures.playing(plan).items():
        made[f"{file_name(name)}.svg"] = playing.encode()
    for name, data in (_tiles(plan) | _guides(plan)).items():
        made[f"{file_name(name)}.pdf"] = data
    for name, outline in (pictures.outlines(plan) | pictures.guides(plan)).items():
        made[f"{file_name(name)}.svg"] = outline.encode()
    for name, operations in pictures.cutting(plan).items():
        made[f"{file_name(name)}.dxf"] = draw.dxf(operations, unit)
    return made | {MANIFEST: _json(_manifest(plan, made))}


def _shop_files(plan: Plan) -> dict[str, bytes]:
    """The shop's side for other programs: its answer, the shopping list, and the days where there is a first one."""
    made = {"shop.json": _json(shop_document(plan))}
    found = side(plan)
    if isinstance(found, str):
        return made
    made["shopping.csv"] = shopping_csv(found).encode()
    days = ics(found)
    return made if days is None else made | {"days.ics": days.encode()}


def shop_packet(plan: Plan, folder: Path) -> tuple[Path, ...]:
    """Write the shop's pages and files into a folder, as `packet` writes a packet.

    Args:
        plan: the whole job.
        folder: where to; a packet of the same job may lie there, its list of files is left alone.

    Raises:
        OSError: if the folder cannot be written; what was there is then as before.
    """
    made = _shop_files(plan)
    shown = shop_pages_of(plan)
    if shown:
        made["shop.pdf"] = press(block(plan), shown)
    return _written(made, folder, set())


def _tiles(plan: Plan) -> dict[str, bytes]:
    """The true-size sheets of every shelf that is scribed, by name."""
    papers = {name: size[:2] for name, size in pictures.PAPER.items()}
    made: dict[str, bytes] = {}
    for design in plan.designs:
        if found := cuts.edges(plan, design):
            say = Say.of(plan.job.meta, own_names(plan))
            sets = (
                tiles.tile_set(plan, design, found),
                tiles.long_sheets(plan, design, found),
            )
            pdfs = press_tiles(block(plan), said(sets[0], say), papers, said(sets[1], say))
            made |= {f"scribe {design.spec.id} {name}": data for name, data in pdfs.items()}
    return made


def _guides(plan: Plan) -> dict[str, bytes]:
    """Block, ledger and comb at true size of every wall that may be drilled, by name."""
    papers = {name: size[:2] for name, size in pictures.PAPER.items()}
    say, made = Say.of(plan.job.meta, own_names(plan)), dict[str, bytes]()
    for name, design, leave in guide_tiles.guided(plan):
        tiled = guide_tiles.tile_set(plan, design, leave)
        whole = guide_tiles.long_sheets(plan, design, leave)
        pdfs = press_tiles(block(plan), said(tiled, say), papers, said(whole, say))
        made |= {f"{name} {paper}": data for paper, data in pdfs.items()}
    return made


def packet(plan: Plan, folder: Path) -> tuple[Path, ...]:
    """Write the packet into a folder, which is made if need be, and return the paths written.

    Everything is made and written beside its place first and then moved in, so that a failure leaves the
    packet that was there. Files of an older packet that this one no longer has are taken away: a stale
    core map would be cut. Nothing else in the folder is touched.

    Args:
        plan: the whole job.
        folder: where to.

    Raises:
        OSError: if the folder cannot be written; what was there is then as before.
    """
    made = contents(plan)
    return _written(made, folder, _listed(folder) - made.keys())


def _written(made: Mapping[str, bytes], folder: Path, stale: set[str]) -> tuple[Path, ...]:
    folder.mkdir(parents=True, exist_ok=True)
    work = Path(mkdtemp(prefix=".packet-", dir=folder))
    try:
        (work / "new").mkdir()
        (work / "old").mkdir()
        for name, data in made.items():
            _write(work / "new" / name, data)
        _move_in(work, folder, tuple(made), stale)
    finally:
        shutil.rmtree(work, ignore_errors=True)
    return tuple(folder / name for name in made)


def file_name(name: str) -> str:
    """Return a name fit for any disk: letters, figures, hyphen and underscore, at most 80."""
    return re.sub(r"[^A-Za-z0-9_]+", "-", name).strip("-")[:80] or "drawing"


def _json(document: Mapping[str, object]) -> bytes:
    return (json.dumps(document, ensure_ascii=False, indent=2) + "\n").encode()


def _manifest(plan: Plan, made: Mapping[str, bytes]) -> dict[str, object]:
    sums = {name: hashlib.sha256(data).hexdigest() for name, data in sorted(made.items())}
    return {"format": 1, "revision": plan.job.meta.revision, "files": sums}


def _listed(folder: Path) -> set[str]:
    """Return what an older packet in this folder says it wrote; plain names alone."""
    try:
        listed = json.loads((folder / MANIFEST).read_text(encoding="utf-8"))["files"]
    except (OSError, ValueError, KeyError, TypeError):
        return set()
    names = listed if isinstance(listed, dict) else {}
    return {n for n in names if Path(n).name == n and not n.startswith(".")}


def _write(path: Path, data: bytes) -> None:
    with path.open("wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def _move_in(work: Path, folder: Path, names: tuple[str, ...], stale: set[str]) -> None:
    """Move new files in and old ones out; if one refuses, put all back as it was."""
    done: list[str] = []
    try:
        for name in (*names, *sorted(stale)):
            done.append(name)
            if (folder / name).is_file():
                os.replace(folder / name, work / "old" / name)
            if name in names:
                os.replace(work / "new" / name, folder / name)
    except OSError:
        for name in done:
            _put_back(work, folder, name, name in names)
        raise


def _put_back(work: Path, folder: Path, name: str, new: bool) -> None:
    old = work / "old" / name
    if old.exists():
        os.replace(old, folder / name)
    elif new and not (work / "new" / name).exists():
        (folder / name).unlink(missing_ok=True)
