"""Take a picture of every page of the desk, at a phone's and a laptop's width, light and dark, to look at.

`python -m tools.look DIR` starts a desk over copies of the examples and writes DIR/<page>-<size>-<scheme>.png, whole
pages; `--docs` also writes the few that docs/ shows. It needs a Chromium: `make browser` finds or installs one.
"""

from __future__ import annotations

import re
import shutil
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Literal

from playwright.sync_api import Browser, Error, Page, sync_playwright

from ledgewright.desk import examples
from ledgewright.desk.stages import ORDER
from tools.served import served

JOB, READ = "stoneware-corner", "corner-as-set"
SIZES = {"phone": (390, 844), "laptop": (1280, 800)}
SCHEMES: tuple[Literal["light", "dark"], ...] = ("light", "dark")
PATIENCE = 300_000.0
PICTURES = Path(__file__).parents[1] / "docs" / "pictures"
IN_DOCS = (
    ("rods", "laptop"),
    ("result", "laptop"),
    ("fitting", "phone"),
    ("walls", "phone"),
    ("site", "phone"),
)
"""The pages that docs/desk.md shows, as far as a screen shows of them."""


def as_set(text: str) -> str:
    """Return an example with the readings that it holds in comment taken out of comment."""
    return re.sub(r"(?m)^# ((?:rod = |test = |    \{|\]).*)$", r"\1", text)


@contextmanager
def looked_at() -> Iterator[str]:
    """A desk over copies of the examples, one with its rods as set; its address."""
    with tempfile.TemporaryDirectory() as folder:
        at = Path(folder)
        examples.copy(JOB, at / f"{JOB}.toml")
        text = (at / f"{JOB}.toml").read_text(encoding="utf-8")
        (at / f"{READ}.toml").write_text(as_set(text), encoding="utf-8")
        with served(at) as home:
            yield home


def addresses() -> dict[str, str]:
    """Every page by its name."""
    one = f"/job/{JOB}"
    found = {"jobs": "/", "new": "/new", "phone": "/phone", "sure": f"{one}/sure"}
    found |= {"journal": f"{one}/journal", **{stage: f"{one}/{stage}" for stage, _ in ORDER}}
    return found | {"site": f"/job/{READ}/site"}


def looked(page: Page, home: str, path: str) -> None:
    """Open a page and wait until nothing on it is being worked out."""
    page.goto(home + path)
    page.wait_for_function("() => !document.querySelector('[data-follow]')", timeout=PATIENCE)


def take(browser: Browser, home: str, out: Path, *, docs: bool) -> None:
    """Write them all."""
    for size, (width, height) in SIZES.items():
        page = browser.new_page(
            viewport={"width": width, "height": height}, reduced_motion="reduce"
        )
        for name, path in addresses().items():
            looked(page, home, path)
            for scheme in SCHEMES:
                page.emulate_media(color_scheme=scheme)
                to = out / f"{name}-{size}-{scheme}.png"
                page.screenshot(path=to, full_page=True)
                print(to)
            if docs and (name, size) in IN_DOCS:
                page.emulate_media(color_scheme="light")
                page.screenshot(path=PICTURES / f"desk-{name}.png")
        page.close()


def main(out: Path, *, docs: bool) -> None:
    """Take them all."""
    out.mkdir(parents=True, exist_ok=True)
    path = shutil.which("chromium") or shutil.which("chromium-browser")
    with looked_at() as home, sync_playwright() as made:
        try:
            browser = made.chromium.launch(executable_path=path, args=["--no-sandbox"])
        except Error:
            sys.exit("no Chromium found: `make browser` installs one")
        take(browser, home, out, docs=docs)
        browser.close()


if __name__ == "__main__":
    named = [each for each in sys.argv[1:] if not each.startswith("-")]
    main(Path(named[0] if named else "build/look"), docs="--docs" in sys.argv)
