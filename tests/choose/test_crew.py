"""A search over several processes: the same choices, nothing left running, and no loss where a process dies."""

from __future__ import annotations

import multiprocessing
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from ledgewright.choose import Asked, Choices, Progress, space
from ledgewright.crew import Crew, Shelf
from ledgewright.job.reading import read
from ledgewright.memo import Memo
from ledgewright.plan import chosen
from tests.choose.made import PRICES, small

JOB = small(6)
TEXT = JOB.text(JOB.start)
SHELF = Shelf(TEXT, "small.toml", PRICES, "small")
SOON = 20.0
"""What ends with what began it is gone within this (s)."""


def searched(processes: int, *, kill: bool = False) -> Choices:
    """The choices of the small job; the first process killed once the first design is told."""
    job = read(TEXT, "small.toml", PRICES).job
    assert job is not None
    with Crew(SHELF, Memo(), processes) as crew:

        def tell(_: Progress) -> None:
            mates = multiprocessing.active_children()
            if kill and len(mates) > 1 and mates[0].pid is not None:
                os.kill(mates[0].pid, signal.SIGKILL)

        found = chosen(job, TEXT, PRICES, "small", Memo(), crew=crew, tell=tell).choices
    assert found is not None
    assert not multiprocessing.active_children()
    return found


@pytest.fixture(scope="module")
def alone() -> Choices:
    return searched(1)


def test_two_processes_find_what_one_finds(alone: Choices) -> None:
    """All of it, to the last digit: which designs are set aside does not hang on who was quicker."""
    assert searched(2) == alone
    assert alone.front
    assert alone.aside
    assert all(choice.carries is not None for choice in alone.front)


def test_a_process_that_dies_costs_time_only(alone: Choices) -> None:
    """As one that the system ends for want of memory (SIGKILL)."""
    assert searched(2, kill=True) == alone


def test_a_stop_ends_what_is_under_way_at_once() -> None:
    """Asked to stop after the first answer, it waits for no other, and leaves no process."""
    ground = SHELF.hand(Memo()).ground
    of = space(ground)
    asked = [Asked(of.wanted(pick)) for pick in of.picks()]
    got: list[int] = []
    with Crew(SHELF, Memo(), 2) as crew:
        for k, _ in crew.many(asked, lambda: bool(got)):
            got.append(k)
        assert not multiprocessing.active_children()
        assert list(crew.many(asked, lambda: True)) == []
        assert not multiprocessing.active_children()
    assert len(got) == 1


KILLED = """
import sys, time
from ledgewright.crew import Crew, Shelf
from ledgewright.choose import Asked, space
from ledgewright.memo import Memo
from pathlib import Path
if __name__ == "__main__":
    shelf = Shelf(Path("small.toml").read_text(), "small.toml", Path("prices.toml").read_text(), "small")
    of = space(shelf.hand(Memo()).ground)
    asked = [Asked(of.wanted(pick)) for pick in of.picks()] * 50
    with Crew(shelf, Memo(), 2) as crew:
        for k, _ in crew.many(asked, lambda: False):
            print(k, flush=True)
"""


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="looks for processes in /proc")
def test_no_process_outlives_one_that_is_killed(tmp_path: Path) -> None:
    """Killed without a chance to tidy up (SIGKILL), its processes end by themselves."""
    (tmp_path / "small.toml").write_text(TEXT, encoding="utf-8")
    (tmp_path / "prices.toml").write_text(PRICES, encoding="utf-8")
    (tmp_path / "run.py").write_text(KILLED, encoding="utf-8")
    with subprocess.Popen(
        [sys.executable, "run.py"], cwd=tmp_path, stdout=subprocess.PIPE, start_new_session=True
    ) as running:
        assert running.stdout is not None
        assert running.stdout.readline()
        assert len(group(running.pid)) >= 3
        running.kill()
    end = time.monotonic() + SOON
    while group(running.pid) and time.monotonic() < end:
        time.sleep(0.05)
    assert group(running.pid) == []


def group(session: int) -> list[int]:
    """Processes of a session that still run, as the system lists them (proc(5): field 6 of stat, state not Z)."""
    found = []
    for path in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = path.read_text().rpartition(")")[2].split()
        except OSError:
            continue
        if int(fields[3]) == session and fields[0] != "Z":
            found.append(int(path.parent.name))
    return found
