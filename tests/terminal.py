"""A verb run in a process of its own, with a terminal to talk to, and interrupted by a true signal."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from dataclasses import dataclass


@dataclass(frozen=True)
class Ran:
    """What a process said on the terminal, what it answered, and its exit code."""

    said: bytes
    answer: bytes
    code: int


SOON = 10.0
"""What a process began is gone within this after its end (s)."""


def _running(group: int) -> bool:
    try:
        os.killpg(group, 0)
    except ProcessLookupError:
        return False
    return True


def interrupted(*arguments: str, once: bytes) -> Ran:
    """Run a verb, and press Ctrl-C once it has said something; nothing that it began is left running.

    A terminal sends it to all processes in front (termios(4)).
    """
    screen, its_end = os.openpty()
    with subprocess.Popen(
        [sys.executable, "-m", "ledgewright", *arguments],
        stdout=subprocess.PIPE,
        stderr=its_end,
        start_new_session=True,
    ) as running:
        os.close(its_end)
        said = b""
        while once not in said:
            said += os.read(screen, 4096)
        os.killpg(running.pid, signal.SIGINT)
        answer, _ = running.communicate(timeout=120)
    end = time.monotonic() + SOON
    while _running(running.pid) and time.monotonic() < end:
        time.sleep(0.05)
    assert not _running(running.pid)
    said += os.read(screen, 65536)
    os.close(screen)
    return Ran(said, answer, running.returncode)
