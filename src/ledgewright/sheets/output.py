"""The files of a packet, and the only place in the sheets that writes to disk."""

from __future__ import annotations

import hashlib
import json
import os
import re
import shutil
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from functools import partial
from pathlib import Path
from tempfile import mkdtemp
from typing import Any, Literal

from ledgewright import draw
from ledgewright.job import Unit, Words
from ledgewright.memo import Memo
from ledgewright.plan import Chosen, Plan, verdict
from ledgewright.sheets import bundles, cuts, guide_tiles, pictures, tiles
from ledgewright.sheets.bundles import Bundle
from ledgewright.sheets.choose_sheet import choose_pages
from ledgewright.sheets.cut_answer import cut_document, cuts_csv
from ledgewright.sheets.cutlist import parts_csv
from ledgewright.sheets.documents import PROGRAM, check_document, fit_document
from ledgewright.sheets.forms import question_sheet
from ledgewright.sheets.ics import ics
from ledgewright.sheets.model import Block, Page
from ledgewright.sheets.pages import block, block_of, bound, every, pages, shop_pages_of, site_pages
from ledgewright.sheets.press import press, press_tiles
from ledgewright.sheets.say import Say
from ledgewright.sheets.scribe_answer import scribe_document
from ledgewright.sheets.shop_answer import shop_document
from ledgewright.sheets.shopping import shopping_csv
from ledgewright.sheets.shopside import side
from ledgewright.sheets.spoken import own_names, said, spoken

MANIFEST = "packet.json"
Manifest = dict[str, Any]
Part = Bundle | Literal["whole"]
"""What may be asked for: one bundle, or the whole packet."""


def pdf(plan: Plan, memo: Memo | None = None) -> bytes:
    """Return the whole packet as one PDF; equal plans give equal bytes.

    Args:
        plan: the whole job.
        memo: kept by the caller, as for `contents`.
    """
    return press(block(plan), pages(plan, memo=Memo() if memo is None else memo))


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


def contents(
    plan: Plan, parts: Sequence[Part] = ("whole",), memo: Memo | None = None
) -> dict[str, bytes]:
    """Return every file of the packet, or of some bundles of it, by name.

    Args:
        plan: the whole job.
        parts: "whole" for packet.pdf and every file; a bundle for its own PDF (packet-site.pdf) and the files that go
            with it; several for all of theirs.
        memo: kept by the caller: what was worked out for the plan is not worked out again.

    Returns:
        packet.pdf, parts.csv, cuts.csv, shopping.csv, days.ics, check.json, fit.json, scribe.json, cut.json, shop.json;
        for each scribed shelf its edges at true size over tiles for Letter and A4 and on long sheets
        (scribe-<shelf>-letter.pdf, -a4.pdf, -long.pdf), its outline at true size; for each wall that may be drilled the
        guide block, the ledger and the comb at true size (guide-<shelf>-<wall>-letter.pdf and so on); an SVG for each
        drawing and one that plays for the fitting of each shelf; DXF files in the job's unit; and packet.json, which
        lists the others with their checksums.
    """
    memo, wants = Memo() if memo is None else memo, _wants(parts)
    drawn, shown = leaves_of(plan, parts, memo)
    # Pages are set beside the rest: the typesetter lets go of the interpreter while it works.
    with ThreadPoolExecutor(max_workers=2) as pool:
        pdfs = {pdf_name(part): pool.submit(_pressed, plan, shown, part) for part in parts}
        wanted = [(tiled, file) for name, tiled, file in _beside(plan, drawn, memo) if wants(name)]
        waited = [pool.submit(file) if tiled else file for tiled, file in wanted]
        beside = [each() if callable(each) else each for each in waited]
        made = {name: future.result() for name, future in pdfs.items()}
        for each in beside:
            made |= each.result() if isinstance(each, Future) else each
    return made | {MANIFEST: _json(_manifest(plan, made))}


def leaves_of(
    plan: Plan, parts: Sequence[Part], memo: Memo
) -> tuple[pictures.Drawings, dict[str, Page]]:
    """Return the drawings and the pages that the parts of a packet are put together from.

    Args:
        plan: the whole job.
        parts: as asked of `contents`.
        memo: kept by the caller.
    """
    # Judging every other way to make the shelf is most of the work: left out for those who get no page of it.
    other = _wants(parts)("ways") or any(design.way is None for design in plan.designs)
    drawn = pictures.drawings(plan, memo if other else None)
    return drawn, every(plan, drawn, memo, others=other)


def parts_of(wanted: Sequence[str]) -> tuple[Part, ...]:
    """Return what the words of `packet --for` ask for, each once; the whole packet where nothing is said.

    Args:
        wanted: "client", "shop", "site", "engineer", or "all" for the whole packet and every bundle.
    """
    if not wanted:
        return ("whole",)
    if "all" in wanted:
        return ("whole", *bundles.BUNDLES)
    return tuple(each for each in bundles.BUNDLES if each in wanted)


def pdf_name(part: Part) -> str:
    """Return the name of a packet's PDF: packet.pdf, or packet-site.pdf of a bundle."""
    return "packet.pdf" if part == "whole" else f"packet-{part}.pdf"


def _pressed(plan: Plan, shown: Mapping[str, Page], part: Part) -> bytes:
    bundle = None if part == "whole" else part
    return press(block(plan, bundle), bound(plan, shown, bundle))


def _wants(parts: Sequence[Part]) -> Callable[[str], bool]:
    """Say of a file by its name whether it belongs to what is asked for."""
    return lambda name: "whole" in parts or any(b in parts for b in bundles.takers(name))


File = Callable[[], dict[str, bytes]]


def _beside(plan: Plan, drawn: pictures.Drawings, memo: Memo) -> Iterator[tuple[str, bool, File]]:
    """Every file beside the pages by the name it is known by, whether it is typeset, made when it is asked for."""
    unit = plan.job.meta.units

    def one(name: str, data: Callable[[], bytes]) -> tuple[str, bool, File]:
        return name, False, lambda: {name: data()}

    def drawing(name: str, ending: str, data: Callable[[], bytes]) -> tuple[str, bool, File]:
        return name, False, lambda: {f"{file_name(name)}.{ending}": data()}

    yield one("parts.csv", lambda: parts_csv(plan).encode())
    yield one("check.json", lambda: _json(check_document(plan)))
    yield one("fit.json", lambda: _json(fit_document(plan, memo)))
    yield one("scribe.json", lambda: _json(scribe_document(plan)))
    yield one("cut.json", lambda: _json(cut_document(plan, memo, judged=False)))
    yield one("cuts.csv", lambda: cuts_csv(plan).encode())
    for name, data in _shop_files(plan).items():
        yield one(name, partial(bytes, data))
    for name, inked in drawn.items():
        yield drawing(name, "svg", partial(inked.svg.encode))
    for name, playing in pictures.playing(plan).items():
        yield drawing(name, "svg", partial(playing.encode))
    for name, tiled in (*_tiles(plan), *_guides(plan)):
        yield name, True, partial(_each_pdf, tiled)
    for name, outline in (pictures.outlines(plan) | pictures.guides(plan)).items():
        yield drawing(name, "svg", partial(outline.encode))
    for name, operations in pictures.cutting(plan).items():
        yield drawing(name, "dxf", partial(draw.dxf, operations, unit))


def _each_pdf(tiled: File) -> dict[str, bytes]:
    return {f"{file_name(name)}.pdf": data for name, data in tiled().items()}


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


def _tiles(plan: Plan) -> Iterator[tuple[str, File]]:
    """The true-size sheets of every shelf that is scribed, by name."""
    for design in plan.designs:
        if found := cuts.edges(plan, design):
            sets = partial(tiles.tile_set, plan, design, found)
            whole = partial(tiles.long_sheets, plan, design, found)
            name = f"scribe {design.spec.id}"
            yield name, partial(_tiled, plan, name, sets, whole)


def _guides(plan: Plan) -> Iterator[tuple[str, File]]:
    """Block, ledger and comb at true size of every wall that may be drilled, by name."""
    for name, design, leave in guide_tiles.guided(plan):
        sets = partial(guide_tiles.tile_set, plan, design, leave)
        whole = partial(guide_tiles.long_sheets, plan, design, leave)
        yield name, partial(_tiled, plan, name, sets, whole)


def _tiled(
    plan: Plan, name: str, sets: Callable[[], tiles.TileSet], whole: Callable[[], tiles.TileSet]
) -> dict[str, bytes]:
    papers = {paper: size[:2] for paper, size in pictures.PAPER.items()}
    say = Say.of(plan.job.meta, own_names(plan))
    pdfs = press_tiles(block(plan), said(sets(), say), papers, said(whole(), say))
    return {f"{name} {paper}": data for paper, data in pdfs.items()}


def packet(
    plan: Plan, folder: Path, parts: Sequence[Part] = ("whole",), memo: Memo | None = None
) -> tuple[Path, ...]:
    """Write the packet, or bundles of it, into a folder, which is made if need be, and return the paths written.

    Everything is made and written beside its place first and then moved in, so that a failure leaves the
    packet that was there. Files of an older packet that this one no longer has are taken away: a stale
    core map would be cut. A bundle leaves what was written from the same job and prices, and the whole packet leaves
    such bundles. Nothing else in the folder is touched.

    Args:
        plan: the whole job.
        folder: where to.
        parts: "whole" (packet.pdf with every file), bundles (packet-site.pdf and what goes with it), or both.
        memo: kept by the caller, as for `contents`.

    Raises:
        OSError: if the folder cannot be written; what was there is then as before.
    """
    made = contents(plan, parts, memo)
    older = _older(folder)
    stays: dict[str, str] = {}
    if older is not None and _inputs(older) == _inputs(_manifest(plan, {})):
        own = {pdf_name(each) for each in bundles.BUNDLES}
        stays = {n: s for n, s in older["files"].items() if n in own or "whole" not in parts}
    stays = {n: s for n, s in stays.items() if n not in made and (folder / n).is_file()}
    if stays:
        listed = _manifest(plan, {n: data for n, data in made.items() if n != MANIFEST})
        listed["files"] = dict(sorted((listed["files"] | stays).items()))
        made[MANIFEST] = _json(listed)
    return _written(made, folder, _names(older) - made.keys() - stays.keys())


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
    """Return a name fit for any disk: letters, figures, hyphen and underscore, at most 80.

    Letters that are not ASCII are left out, and a sign made from the whole name stands for them, so that no two names
    fall together.
    """
    plain = re.sub(r"[^A-Za-z0-9_]+", "-", name).strip("-")[:80] or "drawing"
    if name.isascii():
        return plain
    return f"{plain[:73]}-{hashlib.sha256(name.encode()).hexdigest()[:6]}"


def _json(document: Mapping[str, object]) -> bytes:
    return (json.dumps(document, ensure_ascii=False, indent=2) + "\n").encode()


def _manifest(plan: Plan, made: Mapping[str, bytes]) -> Manifest:
    sums = {name: hashlib.sha256(data).hexdigest() for name, data in sorted(made.items())}
    prices = plan.job.shop.prices
    return {
        "format": 1,
        "program": PROGRAM,
        "revision": plan.job.meta.revision,
        "prices": hashlib.sha256(repr(prices).encode()).hexdigest() if prices else None,
        "files": sums,
    }


def _inputs(listed: Manifest) -> tuple[object, ...]:
    """What a packet was made from and by."""
    return tuple(listed.get(key) for key in ("program", "revision", "prices"))


def _older(folder: Path) -> Manifest | None:
    """Return the list of the packet that is there, or None; names and sums that are plain alone."""
    try:
        listed = json.loads((folder / MANIFEST).read_text(encoding="utf-8"))
        files = listed["files"]
    except (OSError, ValueError, KeyError, TypeError):
        return None
    if not isinstance(files, dict):
        return None
    plain = {n: str(s) for n, s in files.items() if Path(n).name == n and not n.startswith(".")}
    return {**listed, "files": plain}


def _names(older: Manifest | None) -> set[str]:
    return set() if older is None else set(older["files"])


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
