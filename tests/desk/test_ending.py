"""However the desk ends, what worked for it ends too.

Against: the process table of the system itself.
"""

from __future__ import annotations

import signal
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

import pytest

from tests.desk.made import ALCOVE, folder

TABLE = Path("/proc")
SOON = 20.0


def children(pid: int) -> list[int]:
    listed = [each.read_text() for each in (TABLE / f"{pid}/task").glob("*/children")]
    return [int(x) for text in listed for x in text.split()]


def alive(pid: int) -> bool:
    try:
        state = (TABLE / f"{pid}/stat").read_text().rsplit(")", 1)[1].split()[0]
    except OSError:
        return False
    return state != "Z"


@pytest.mark.skipif(not (TABLE / "self/task").exists(), reason="no process table to read here")
@pytest.mark.parametrize(
    "sign", [pytest.param(signal.SIGINT, marks=pytest.mark.soak), signal.SIGTERM, signal.SIGKILL]
)
def test_no_working_process_outlives_the_desk(tmp_path: Path, sign: signal.Signals) -> None:
    """Asked for a page whose job is worked out, then ended in the middle of it."""
    folder(tmp_path, ALCOVE)
    desk = subprocess.Popen(  # ourselves
        [sys.executable, "-m", "ledgewright", "desk", str(tmp_path), "--port", "0"],
        stderr=subprocess.PIPE,
        text=True,
    )
    assert desk.stderr is not None
    home = desk.stderr.readline().split()[1].rstrip("/")
    with urllib.request.urlopen(f"{home}/job/{ALCOVE}/rods") as got:  # noqa: S310  # our own
        assert got.status == 200
    working = [pid for pid in children(desk.pid) if alive(pid)]
    assert len(working) >= 2
    desk.send_signal(sign)
    desk.wait(SOON)
    desk.stderr.close()
    until = time.monotonic() + SOON
    while any(alive(pid) for pid in working) and time.monotonic() < until:
        time.sleep(0.1)
    assert [pid for pid in working if alive(pid)] == []
