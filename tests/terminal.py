"""A verb run in a process of its own, with a terminal to talk to, and interrupted by a true signal."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from dataclasses import dataclass


@dataclass(frozen=True)
class Ran:
    """What a process said on the terminal, what it answered, and its exit code."""

    said: bytes
    answer: bytes
    code: int


def interrupted(*arguments: str, once: bytes) -> Ran:
    """Run a verb, and press Ctrl-C once it has said something."""
    screen, its_end = os.openpty()
    with subprocess.Popen(
        [sys.executable, "-m", "ledgewright", *arguments], stdout=subprocess.PIPE, stderr=its_end
    ) as running:
        os.close(its_end)
        said = b""
        while once not in said:
            said += os.read(screen, 4096)
        running.send_signal(signal.SIGINT)
        answer, _ = running.communicate(timeout=120)
    said += os.read(screen, 65536)
    os.close(screen)
    return Ran(said, answer, running.returncode)
