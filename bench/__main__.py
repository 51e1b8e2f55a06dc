"""Print the budgets of the design that exist so far, each beside a yardstick timed in the same run.

Run with `make bench`. A ratio says how many times the yardstick a thing took; the yardstick is a bare
start of the interpreter for whole commands, and a fixed loop of plain Python for calls inside it.
"""

from __future__ import annotations

import dataclasses
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from bench import choosing, cutting, desk, statics_section
from bench.fitting import RODS, THINGS, better, crowded
from ledgewright import doubt, fitting, judge, statics, survey
from ledgewright.job import Job, Spec, files
from ledgewright.memo import Memo
from ledgewright.plan import check, cut_up, full, looked
from ledgewright.sheets import packet

EXAMPLES = Path(__file__).resolve().parents[1] / "examples"
EXAMPLE = EXAMPLES / "stoneware-corner-first-try.toml"
HOLDS = EXAMPLES / "stoneware-corner.toml"
Floats = NDArray[np.float64]


def _median(what: Callable[[], object], times: int) -> float:
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        what()
        taken.append(time.perf_counter() - start)
    return statistics.median(taken)


def _command(*arguments: str) -> Callable[[], object]:
    return lambda: subprocess.run(
        [sys.executable, *arguments], check=False, stdout=subprocess.DEVNULL
    )


def _loop() -> int:
    return sum(i * i for i in range(200_000))


def _row(name: str, budget: str, taken: float, yardstick: float, against: str) -> None:
    print(f"{name:<44} {taken * 1000:9.1f} ms   {taken / yardstick:7.1f} x {against:<12} {budget}")


def _deeper(job: Job, by: float) -> Job:
    def change(spec: Spec) -> Spec:
        return dataclasses.replace(spec, depth=spec.depth + by)

    return dataclasses.replace(job, shelves=tuple(change(s) for s in job.shelves))


def _heavier(job: Job, by: float) -> Job:
    changed = tuple(dataclasses.replace(d, single=d.single + by) for d in job.demands)
    return dataclasses.replace(job, demands=changed)


def _painted(job: Job, coats: int) -> Job:
    return dataclasses.replace(
        job, shelves=tuple(dataclasses.replace(s, coats=coats) for s in job.shelves)
    )


def _memory() -> float:
    """Most memory that a whole `check` of the example holds at a time (bytes), its libraries included."""
    told = (
        "import resource, subprocess, sys;"
        "subprocess.run(sys.argv[1:], stdout=subprocess.DEVNULL, check=False);"
        "print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)"
    )
    check = [sys.executable, "-m", "ledgewright", "check", str(EXAMPLE), "--json"]
    found = subprocess.run(
        [sys.executable, "-c", told, *check], check=True, capture_output=True, text=True
    )
    return float(found.stdout) * (1 if sys.platform == "darwin" else 1024)


def _doubt() -> None:
    """The ranges of the shelf that is shipped, beside one judging of it; and the sampling of a curve alone."""
    read = files.load(HOLDS)
    if read.job is None:
        sys.exit("the example does not read: " + "; ".join(f.wrong for f in read.findings))
    job, memo = read.job, Memo()
    design = check(job, memo)[0]
    judge.limit_of(job, design, memo)
    found = judge.on_model(job, design, memo)
    if isinstance(found, statics.NoTest):
        sys.exit(found.why)
    given, stood = found
    judged = _median(lambda: statics.holds(given, stood, memo, keep=False), 3)
    seeds = iter(range(1, 100))
    ranges = _median(
        lambda: doubt.spread(dataclasses.replace(job, seed=next(seeds)), design, memo), 3
    )
    _row("how sure: 2,048 samples, exact runs included", "3 s", ranges, judged, "one judging")
    alone = _median(lambda: doubt.ranged(_bent, 10, seed=next(seeds)), 5)
    _row("how sure: 2,048 samples of a known curve", "-", alone, judged, "one judging")


def _bent(u: Floats) -> Floats:
    return np.asarray(np.exp(u @ np.linspace(0.0, 0.3, u.shape[1]))[:, None])


def main() -> None:
    """Time each budget and print a table."""
    read = files.load(EXAMPLE)
    if read.job is None:
        sys.exit("the example does not read: " + "; ".join(f.wrong for f in read.findings))
    job = read.job
    bare = _median(_command("-c", "pass"), 7)
    loop = _median(_loop, 15)
    print(f"bare interpreter {bare * 1000:.1f} ms; plain loop {loop * 1000:.1f} ms\n")

    help_time = _median(_command("-m", "ledgewright", "--help"), 7)
    _row("--help, over bare Python", "150 ms", help_time - bare, bare, "bare start")
    cold = _median(_command("-m", "ledgewright", "check", str(EXAMPLE), "--json"), 5)
    _row("check with its load limit, cold", "1.5 s", cold, bare, "bare start")
    print(f"{'most memory a check holds':<44} {_memory() / 1e6:9.0f} MB   400 MB")

    memo = Memo()
    plan = full(job, memo)
    steps = iter(range(1, 10_000))
    # Without load limits: an answer first, its limit after (docs/decisions/0012).
    shape = _median(lambda: looked(_deeper(job, 0.1 * next(steps)), memo), 9)
    _row("an edit of the shelf's shape, a first look", "250 ms", shape, loop, "plain loop")
    shape = _median(lambda: check(_deeper(job, 0.1 * next(steps)), memo), 5)
    _row("an edit of the shelf's shape", "250 ms", shape, loop, "plain loop")
    loads = _median(lambda: looked(_heavier(job, 0.1 * next(steps)), memo), 9)
    _row("an edit of loads, a first look", "50 ms", loads, loop, "plain loop")
    loads = _median(lambda: check(_heavier(job, 0.1 * next(steps)), memo), 9)
    _row("an edit of loads", "50 ms", loads, loop, "plain loop")
    other = _median(lambda: check(_painted(job, next(steps)), memo), 9)
    _row("an edit of neither shape nor statics", "50 ms", other, loop, "plain loop")

    design = plan.designs[0]
    fit = _median(lambda: fitting.ways(design.room, design.frame), 9)
    _row("fitting, the L", "200 ms", fit, loop, "plain loop")
    crowd = crowded(design.room, design.frame)
    full_up = _median(lambda: fitting.ways(*crowd), 5)
    _row(f"fitting, {RODS} rods and {THINGS} obstacles", "2 s", full_up, loop, "plain loop")
    up = design.spec.top
    room = _median(lambda: survey.room(job.tapes, up), 9)
    _row("placing the walls", "-", room, loop, "plain loop")
    nested = _median(lambda: cut_up(job, plan.designs, plan.leave, Memo()), 5)
    _row("the whole job cut up", "2 s", nested, loop, "plain loop")
    _doubt()
    with tempfile.TemporaryDirectory() as folder:
        packet(plan, Path(folder) / "warm")
        made = _median(lambda: packet(plan, Path(folder) / "timed"), 3)
    _row("packet, warm", "3 s", made, loop, "plain loop")

    print(f"\n{statics_section.said()}")

    jobs, goes, alone, ahead = better()
    print(f"\nof {jobs} random jobs {goes} go, {alone} of them by no classic way;")
    print(
        f"the chosen way is strictly better than the best classic one on {ahead} ({ahead / goes:.0%})"
    )
    cutting.said(everything=False)
    choosing.said()
    desk.said(bare)


if __name__ == "__main__":
    main()
