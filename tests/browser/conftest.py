"""A true desk in a process of its own, and a true browser that looks at it; `make browser` finds or installs one."""

from __future__ import annotations

import contextlib
import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from itertools import count
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Error, Page, sync_playwright

from tests.jobs import EXAMPLES

PATIENCE = 120_000.0
"""How long a step may take (ms): the machine is shared, and an L is worked out from the beginning."""
PHONE, LAPTOP = "phone", "laptop"
QUIET = ["--no-sandbox", "--disable-dev-shm-usage", "--disable-background-networking"]
_SIZES = {PHONE: {"width": 390, "height": 844}, LAPTOP: {"width": 1280, "height": 800}}


def find_chromium() -> str | None:
    """Return the browser of the system; None leaves it to the library's own."""
    return shutil.which("chromium") or shutil.which("chromium-browser")


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    """One browser for all stories of a file; where there is none they are skipped, in CI they fail.

    No longer than that: while it is open an event loop runs in this thread, and others could not run theirs.
    """
    with sync_playwright() as made:
        try:
            browser = made.chromium.launch(executable_path=find_chromium(), args=QUIET)
        except Error as error:
            why = f"no Chromium: `make browser` installs one ({error.message[:80]})"
            if os.environ.get("CI"):
                pytest.fail(why)
            pytest.skip(why)
        yield browser
        browser.close()


class Desk:
    """A desk over a folder, in a process of its own, that can be killed and begun again at the same address."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._run: subprocess.Popen[str] | None = None
        self.home = ""

    def start(self, *options: str) -> None:
        """Begin, and wait until it says where it listens."""
        port = self.home.rsplit(":", 1)[1] if self.home else "0"
        self._run = subprocess.Popen(  # ourselves
            [
                sys.executable,
                "-m",
                "ledgewright",
                "desk",
                str(self.folder),
                "--port",
                port,
                *options,
            ],
            stderr=subprocess.PIPE,
            text=True,
            start_new_session=True,
        )
        assert self._run.stderr is not None
        said = self._run.stderr.readline()
        self.home = next((word for word in said.split() if word.startswith("http")), "").rstrip("/")

    def hears(self, sign: str) -> str:
        """Return the next line of the terminal that holds a sign; empty if it ends without."""
        assert self._run is not None
        assert self._run.stderr is not None
        return next((line for line in self._run.stderr if sign in line), "")

    def kill(self) -> None:
        """End it and what works for it at once, as a loss of power would."""
        if self._run is not None:
            with contextlib.suppress(ProcessLookupError):
                os.killpg(self._run.pid, signal.SIGKILL)
            self._run.wait(20)
            if self._run.stderr is not None:
                self._run.stderr.close()
            self._run = None

    def bring(self, example: str, text: str | None = None) -> str:
        """Put an example into the folder, or another text with its prices, under a name nobody had yet; that name."""
        name = next(n for k in count(1) if not self._has(n := f"{example}-{k}"))
        made = (EXAMPLES / f"{example}.toml").read_text(encoding="utf-8") if text is None else text
        for prices in EXAMPLES.glob("prices-*.toml"):
            if not (self.folder / prices.name).exists():
                shutil.copy(prices, self.folder)
        (self.folder / f"{name}.toml").write_text(made, encoding="utf-8")
        return name

    def _has(self, name: str) -> bool:
        return (self.folder / f"{name}.toml").exists()

    def text(self, name: str) -> str:
        """A job file as it is on disk."""
        return (self.folder / f"{name}.toml").read_text(encoding="utf-8")


@pytest.fixture(scope="package")
def running(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """A desk that runs for all stories, each on a job of its own; what is worked out is kept, as in a shop."""
    made = Desk(tmp_path_factory.mktemp("desk"))
    made.start()
    yield made
    made.kill()


@pytest.fixture
def desk(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Desk]:
    """The desk that runs; with the mark "alone" one over an empty folder, not begun."""
    if request.node.get_closest_marker("alone") is None:
        yield request.getfixturevalue("running")
        return
    made = Desk(tmp_path)
    yield made
    made.kill()


class Seen:
    """What a browser window did beside its pages: what it wrote to its console, and whom it asked."""

    def __init__(self) -> None:
        self.console: list[str] = []
        self.asked: list[str] = []

    def watch(self, page: Page) -> None:
        """Listen to a window."""
        page.on("console", lambda message: self.console.append(message.text))
        page.on("pageerror", lambda error: self.console.append(str(error)))
        page.on("request", lambda request: self.asked.append(request.url))


Opened = Callable[..., Page]


@pytest.fixture
def opened(chromium: Browser, desk: Desk) -> Iterator[Opened]:
    """Open a window of a size; at the end nothing was said to a console, and nobody but the desk was asked."""
    seen, contexts = Seen(), dict[str, BrowserContext]()

    def make(size: str, path: str = "/") -> Page:
        if size not in contexts:
            contexts[size] = chromium.new_context(
                viewport=_SIZES[size],  # type: ignore[arg-type]
                has_touch=size == PHONE,
                is_mobile=size == PHONE,
                locale="en-US",
                timezone_id="UTC",
                reduced_motion="reduce",
                accept_downloads=True,
            )
            contexts[size].set_default_timeout(PATIENCE)
        page = contexts[size].new_page()
        seen.watch(page)
        page.goto(path if path.startswith("http") else desk.home + path)
        return page

    make.seen = seen  # type: ignore[attr-defined]
    yield make
    for context in contexts.values():
        context.close()
    assert seen.console == []
    assert [url for url in seen.asked if not url.startswith((desk.home, "blob:", "data:"))] == []
