"""Pages to PDF: one template, all data as JSON, fonts only from the package."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import asdict
from importlib.resources import files
from pathlib import Path
from tempfile import TemporaryDirectory

import typst

from ledgewright.sheets import letters
from ledgewright.sheets.mathematics import mathematics, quoted
from ledgewright.sheets.model import Block, Page
from ledgewright.sheets.tiles import TileSet

Record = dict[str, object]

_MATHS = ("symbol", "formula", "numbers")


def press(block: Block, pages: Mapping[str, Page]) -> bytes:
    """Return the packet as PDF.

    Equal pages give equal bytes: no clock, no folder, no system font takes part. The engine reads fonts
    from a folder only, so those in use are laid in one of their own for the moment.

    Args:
        block: what the title block says.
        pages: the pages in order.

    Raises:
        typst.TypstError: if the template itself is wrong; no text of a job can bring that about.
    """
    has = letters.face()
    name = letters.sound(block.name, has).text
    data = {
        "block": {**_record(block, has), "short": _short(name)},
        "pages": [
            {**_record(page, has), "kind": type(page).__name__, "named": name}
            for name, page in pages.items()
        ],
    }
    with _fonts() as (fonts, folder):
        try:
            return _compiled(_template("packet.typ"), data, fonts, folder)
        except typst.TypstError:
            return _compiled(_template("packet.typ"), _without_bad_formulas(data), fonts, folder)


def press_tiles(
    block: Block, tiles: TileSet, papers: Mapping[str, tuple[float, float]], whole: TileSet
) -> dict[str, bytes]:
    """Return tiles at true size as PDF, for each paper by its name, and one with a long sheet for each edge as "long".

    Args:
        block: of the job; its width and height are not looked at.
        tiles: those of one shelf.
        papers: width and height of each paper (mm), upright; tiles are printed across it.
        whole: the same edges on one long sheet each.

    Raises:
        typst.TypstError: if the template itself is wrong; no text of a job can bring that about.
    """
    has = letters.face()
    made: dict[str, bytes] = {}
    wanted: list[tuple[str, TileSet, Record | None]] = [
        (name, tiles, {"width": w, "height": h}) for name, (w, h) in papers.items()
    ]
    if whole.tiles:
        wanted.append(("long", whole, None))
    with _fonts() as (fonts, folder):
        for name, each, paper in wanted:
            data = {"block": _record(block, has), "set": _record(each, has), "paper": paper}
            made[name] = _compiled(_template("tiles.typ"), data, fonts, folder)
    return made


@contextmanager
def _fonts() -> Iterator[tuple[typst.Fonts, Path]]:
    """Lay the packaged fonts in a folder of their own."""
    with TemporaryDirectory() as folder:
        for file in letters.font_files():
            shutil.copyfile(file, Path(folder) / file.name)
        yield typst.Fonts(include_system_fonts=False, font_paths=[folder]), Path(folder)


def _template(name: str) -> bytes:
    return files("ledgewright.sheets").joinpath(name).read_bytes()


def _compiled(source: bytes, data: object, fonts: typst.Fonts, root: Path) -> bytes:
    inputs = {"data": json.dumps(data, ensure_ascii=False, sort_keys=True)}
    engine = typst.Compiler(input=source, root=root, font_paths=fonts, sys_inputs=inputs)
    made = engine.compile(format="pdf", timestamp=0)
    if not isinstance(made, bytes):
        msg = "the engine gave no document"
        raise TypeError(msg)
    return made


def _without_bad_formulas(value: object, key: str = "") -> object:
    """Turn each formula that the engine refuses into plain words: a slip in one must not stop a packet."""
    if isinstance(value, str):
        return value if key not in _MATHS or _sets(value) else quoted(value)
    if isinstance(value, Mapping):
        return {k: _without_bad_formulas(v, k) for k, v in value.items()}
    if isinstance(value, list):
        return [_without_bad_formulas(v, key) for v in value]
    return value


def _sets(formula: str) -> bool:
    try:
        typst.compile(
            b'#eval(sys.inputs.formula, mode: "math")',
            format="pdf",
            ignore_system_fonts=True,
            sys_inputs={"formula": formula},
        )
    except typst.TypstError:
        return False
    return True


def _record(of: Block | Page | TileSet, has: frozenset[str]) -> Record:
    return {key: _sound(value, has, key) for key, value in asdict(of).items()}


def _short(name: str) -> str:
    return name if len(name) <= 34 else name[:33].rstrip() + "…"


def _sound(value: object, has: frozenset[str], key: str) -> object:
    if isinstance(value, str):
        return _text(value, has, key)
    if isinstance(value, Mapping):
        return {k: _sound(v, has, k) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return [_sound(v, has, key) for v in value]
    return value


def _text(value: str, has: frozenset[str], key: str) -> str:
    if key in _MATHS:
        return mathematics(value)
    if key == "svg":
        lacking = set(value) - has - {"\n", "\t"}
        return value.translate(dict.fromkeys(map(ord, lacking), "?")) if lacking else value
    return letters.breakable(letters.sound(value, has).text)
