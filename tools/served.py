"""A true desk over a folder for as long as somebody looks at it, for pictures and measurements."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """Start a desk in a process of its own, and end it afterwards; its address.

    Args:
        folder: with the job files.
    """
    desk = subprocess.Popen(  # ourselves
        [sys.executable, "-m", "ledgewright", "desk", str(folder), "--port", "0"],
        stderr=subprocess.PIPE,
        text=True,
    )
    try:
        said = desk.stderr.readline() if desk.stderr else ""
        yield said.split()[1].rstrip("/")
    finally:
        desk.terminate()
        desk.wait(20)
