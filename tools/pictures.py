"""Draw the pictures of README and guide from real packets, and every page of the examples to look at.

`make pictures` writes docs/pictures/*.png, `python -m tools.pictures guide` those of docs/guide.md alone;
`python -m tools.pictures look DIR` writes every page of every example at print size and at 40 %.
"""

from __future__ import annotations

import re
import shutil
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

GUIDE = {
    "guide-measure": "Measure-up",
    "guide-drill": "Drill card",
    "guide-set": "Set card",
    "guide-core": "Core map",
    "guide-fitting": "Fitting order",
    "guide-test": "Load test",
}
GUIDE_AFTER = {"guide-as-set": "As-fitted card", "guide-owner": "For the owner"}
"""Pages of the guide's scene by how they begin: as drawn, and once the rods and the load test are read."""


def with_readings(text: str) -> str:
    """Return the guide's job file with its readings of rods and load test taken out of comment."""
    return re.sub(r"(?m)^# ((?:rod = |test = |    \{|\]).*)$", r"\1", text)


def _packet(name: str, folder: Path) -> pdfium.PdfDocument:
    read = files.load(EXAMPLES / f"{name}.toml")
    if read.job is None:
        sys.exit(f"{name} does not read: " + "; ".join(f.wrong for f in read.findings))
    packet(full(read.job, Memo()), folder)
    return pdfium.PdfDocument(folder / "packet.pdf")


def _save(document: pdfium.PdfDocument, page: int, dpi: float, path: Path) -> None:
    document[page].render(scale=dpi / 72).to_pil().save(path, optimize=True)


def _shown(document: pdfium.PdfDocument, wanted: dict[str, str], dpi: float, out: Path) -> None:
    """Write the first page that begins so, for each name."""
    texts = [document[k].get_textpage().get_text_range()[:60].strip() for k in range(len(document))]
    for name, title in wanted.items():
        page = next(k for k, text in enumerate(texts) if text.startswith(title))
        picture = document[page].render(scale=dpi / 72).to_pil().convert("P", colors=32)
        picture.save(out / f"{name}.png", optimize=True)


def guide() -> None:
    """Write the pictures of docs/guide.md: its scene as drawn, and after the readings."""
    out = TOP / "docs" / "pictures"
    out.mkdir(exist_ok=True)
    text = (EXAMPLES / "reading-alcove.toml").read_text(encoding="utf-8")
    for job, wanted in ((text, GUIDE), (with_readings(text), GUIDE_AFTER)):
        with tempfile.TemporaryDirectory() as folder:
            place = Path(folder) / "my-alcove.toml"
            place.write_text(job, encoding="utf-8")
            shutil.copy(EXAMPLES / "prices-gbp.toml", folder)
            read = files.load(place)
            if read.job is None:
                sys.exit("; ".join(f.wrong for f in read.findings))
            plan = full(read.job, Memo(), ranges=job != text)
            packet(plan, Path(folder) / "out", ("shop", "site"))
            for bundle in ("shop", "site"):
                path = Path(folder) / "out" / f"packet-{bundle}.pdf"
                here = {
                    n: t for n, t in wanted.items() if (n == "guide-core") == (bundle == "shop")
                }
                _shown(pdfium.PdfDocument(path), here, 72, out)


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
        guide()
    if not sys.argv[1:]:
        readme()
