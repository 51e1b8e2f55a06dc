"""The desk as a browser sees it: the first page after its start, a changed figure, eight clients at once.

Times are taken in the page, by its own clock, in a Chromium (`make browser`); where there is none nothing is printed.
"""

from __future__ import annotations

import shutil
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Error, Page, sync_playwright

from ledgewright.desk import examples
from tools.served import served

JOB = "stoneware-corner"
CLIENTS = 8
PAGES = ("walls", "corners", "shelf", "rods", "loads", "shop", "place", "file")
LOADS = tuple(f"{weight} lb" for weight in (37, 36, 35, 34, 33))
DEPTHS = ("10 15/32", "10 7/16", "10 13/32", "10 3/8", "10 11/32")
CHANGED = """async ([name, text]) => {
  const input = document.getElementsByName(name)[0];
  const rev = () => document.getElementById("state").dataset.rev;
  const drawn = () => document.getElementById("drawing");
  const was = rev(), begun = performance.now(), seen = {};
  const look = () => {
    if (rev() === was) return;
    seen.saved ??= performance.now() - begun;
    if (drawn().dataset.rev !== was && !drawn().dataset.follow) seen.drawn ??= performance.now() - begun;
    const follow = document.querySelector("#state[data-follow]")?.dataset.follow;
    if (!follow || follow.includes("seen=1")) seen.looked ??= performance.now() - begun;
    if (!follow) seen.judged ??= performance.now() - begun;
  };
  const watch = new MutationObserver(look);
  watch.observe(document.body, { subtree: true, childList: true, attributes: true });
  input.value = text;
  input.dispatchEvent(new Event("change", { bubbles: true }));
  while (!seen.judged) await new Promise((done) => setTimeout(done, 20));
  watch.disconnect();
  return seen;
}"""


@contextmanager
def _served() -> Iterator[str]:
    with tempfile.TemporaryDirectory() as folder:
        examples.copy(JOB, Path(folder) / f"{JOB}.toml")
        with served(Path(folder)) as home:
            yield home


def _first() -> float:
    """From the start of the command to the whole first page (s)."""
    begun = time.perf_counter()
    with _served() as home, urllib.request.urlopen(f"{home}/") as got:  # noqa: S310  # http, our own
        got.read()
        return time.perf_counter() - begun


def _changed(page: Page, name: str, texts: tuple[str, ...]) -> dict[str, float]:
    """Medians over changes nobody has made before (s): saved and shown, drawn anew, looked at first, judged anew."""
    taken = [page.evaluate(CHANGED, [name, text]) for text in texts]
    return {key: statistics.median(each[key] for each in taken) / 1000 for key in taken[0]}


def _at_once(home: str) -> float:
    """The slowest of eight pages asked for at once (s)."""

    def one(stage: str) -> float:
        begun = time.perf_counter()
        with urllib.request.urlopen(f"{home}/job/{JOB}/{stage}") as got:  # noqa: S310  # our own
            got.read()
        return time.perf_counter() - begun

    with ThreadPoolExecutor(CLIENTS) as pool:
        return max(pool.map(one, PAGES))


def said(yardstick: float) -> None:
    """Print what the desk takes, beside a bare start of the interpreter.

    Args:
        yardstick: that start (s).
    """

    def row(name: str, taken: float, budget: str) -> None:
        print(
            f"{name:<44} {taken * 1000:9.1f} ms   {taken / yardstick:7.1f} x bare start   {budget}"
        )

    print()
    row(
        "desk: from its start to the first page",
        statistics.median(_first() for _ in range(3)),
        "1 s",
    )
    with _served() as home, sync_playwright() as made:
        path = shutil.which("chromium") or shutil.which("chromium-browser")
        try:
            browser = made.chromium.launch(executable_path=path, args=["--no-sandbox"])
        except Error:
            print("no Chromium: `make browser` installs one")
            return
        page = browser.new_page()
        for stage, name, texts, kind in (
            ("loads", "f:shelf.showroom.load.urn.weight", LOADS, "a load"),
            ("shelf", "f:shelf.showroom.depth", DEPTHS, "the depth"),
        ):
            page.goto(f"{home}/job/{JOB}/{stage}")
            page.wait_for_function(
                "() => !document.querySelector('#state[data-follow]')", timeout=120_000
            )
            took = _changed(page, name, texts)
            row(f"desk: {kind} changed, saved and shown", took["saved"], "200 ms")
            row(f"desk: {kind} changed, drawn anew", took["drawn"], "-")
            budget = "50 ms" if stage == "loads" else "250 ms"
            row(f"desk: {kind} changed, looked at first", took["looked"], budget)
            row(f"desk: {kind} changed, judged anew", took["judged"], budget)
        row("desk: the slowest of eight clients at once", _at_once(home), "1 s")
        browser.close()


if __name__ == "__main__":
    begun = time.perf_counter()
    subprocess.run([sys.executable, "-c", "pass"], check=True)
    said(time.perf_counter() - begun)
