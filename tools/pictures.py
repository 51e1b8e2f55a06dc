"""Draw the pictures of the README from a real packet, and every page of the examples to look at.

`make pictures` writes docs/pictures/*.png; `python -m tools.pictures look DIR` writes every page of every
example at print size and at 40 %.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

import pypdfium2 as pdfium

from ledgewright.job import files
from ledgewright.memo import Memo
from ledgewright.plan import full
from ledgewright.sheets import packet

TOP = Path(__file__).resolve().parents[1]
EXAMPLES = TOP / "examples"
SHOWN = {
    "plan": "Plan",
    "drill": "Drill card",
    "section": "Section through a rod",
    "core": "Core map",
}


def _packet(name: str, folder: Path) -> pdfium.PdfDocument:
    read = files.load(EXAMPLES / f"{name}.toml")
    if read.job is None:
        sys.exit(f"{name} does not read: " + "; ".join(f.wrong for f in read.findings))
    packet(full(read.job, Memo()), folder)
    return pdfium.PdfDocument(folder / "packet.pdf")


def _save(document: pdfium.PdfDocument, page: int, dpi: float, path: Path) -> None:
    document[page].render(scale=dpi / 72).to_pil().save(path, optimize=True)


def readme() -> None:
    """Write the pictures that the README and the docs show."""
    out = TOP / "docs" / "pictures"
    out.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        document = _packet("stoneware-corner-first-try", Path(folder))
        titles = [
            document[k].get_textpage().get_text_range()[:60].strip() for k in range(len(document))
        ]
        for name, title in SHOWN.items():
            page = next(k for k, text in enumerate(titles) if text.startswith(title))
            _save(document, page, 80, out / f"{name}.png")


def look(out: Path) -> None:
    """Write every page of every example at print size (100 dpi) and at 40 %."""
    out.mkdir(parents=True, exist_ok=True)
    names = sorted(p.stem for p in EXAMPLES.glob("*.toml") if not p.stem.startswith("prices"))
    for name in names:
        with tempfile.TemporaryDirectory() as folder:
            document = _packet(name, Path(folder))
            for page in range(len(document)):
                _save(document, page, 100, out / f"{name}-{page + 1:02}.png")
                _save(document, page, 40, out / f"{name}-{page + 1:02}-small.png")


if __name__ == "__main__":
    if sys.argv[1:2] == ["look"]:
        look(Path(sys.argv[2]))
    else:
        readme()
