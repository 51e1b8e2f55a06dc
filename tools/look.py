"""Take a picture of every page of the desk, at a phone's and a laptop's width, light and dark, to look at.

`python -m tools.look DIR` starts a desk over a copy of the examples and writes DIR/<page>-<width>-<scheme>.png. It
needs a Chromium: `make browser` finds or installs one.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path

from ledgewright.desk import examples
from ledgewright.desk.stages import ORDER

JOB = "stoneware-corner"
SIZES = ((390, 2600), (1280, 1800))
SCHEMES = {"light": "1", "dark": "0"}
QUIET = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-dev-shm-usage",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--hide-scrollbars",
    "--virtual-time-budget=5000",
)


def chromium() -> str:
    """Return the browser there is."""
    found = shutil.which("chromium") or shutil.which("chromium-browser")
    if found is None:
        sys.exit("no Chromium found: `make browser` installs one")
    return found


def take(browser: str, address: str, to: Path, size: tuple[int, int], scheme: str) -> None:
    """Write one picture, with a profile of its own so that nothing is remembered."""
    with tempfile.TemporaryDirectory() as profile:
        run = subprocess.run(  # our own page
            [
                browser,
                *QUIET,
                f"--blink-settings=preferredColorScheme={SCHEMES[scheme]}",
                f"--user-data-dir={profile}",
                f"--window-size={size[0]},{size[1]}",
                f"--screenshot={to}",
                address,
            ],
            capture_output=True,
            timeout=120,
            check=False,
        )
    print(to if run.returncode == 0 else f"{to} failed")


def main(out: Path) -> None:
    """Take them all."""
    browser = chromium()
    out.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        examples.copy(JOB, Path(folder) / f"{JOB}.toml")
        desk = subprocess.Popen(  # ourselves
            [sys.executable, "-m", "ledgewright", "desk", folder, "--port", "0"],
            stderr=subprocess.PIPE,
            text=True,
        )
        try:
            said = desk.stderr.readline() if desk.stderr else ""
            home = said.split()[1].rstrip("/")
            _work_out(home)
            pages = {"jobs": "/", "new": "/new"} | {s: f"/job/{JOB}/{s}" for s, _ in ORDER}
            for name, path in pages.items():
                for size in SIZES:
                    for scheme in SCHEMES:
                        to = out / f"{name}-{size[0]}-{scheme}.png"
                        take(browser, home + path, to, size, scheme)
        finally:
            desk.terminate()
            desk.wait(20)


def _work_out(home: str) -> None:
    """Wait until what takes longest is there, so that no picture shows it being worked out."""
    until = time.monotonic() + 300
    for page in ("result", "fitting"):
        address = f"{home}/job/{JOB}/{page}"
        while time.monotonic() < until:
            with urllib.request.urlopen(f"{address}?wait=1") as got:  # http, our own
                if b"data-follow=" not in got.read():
                    break


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "build/look"))
