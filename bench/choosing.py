"""Designs a second while a search looks: those that share a section, those with a new one, and a whole search."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Sequence
from functools import partial
from pathlib import Path

from ledgewright import choose
from ledgewright.choose.space import Pick
from ledgewright.crew import Crew, Shelf
from ledgewright.job import files
from ledgewright.job.reading import read
from ledgewright.memo import Memo
from ledgewright.plan import Hand, check

EXAMPLES = Path(__file__).resolve().parents[1] / "examples"
SHARING = ("embedment", "adhesive", "hole")
"""What leaves the section's shape as it is."""
NEW = ("skins", "core", "projection")
"""What changes it."""
SEARCHED = 40
"""Designs of a whole search."""


def _space(name: str) -> choose.Space:
    file, text, prices, _ = files.texts(EXAMPLES / f"{name}.toml")
    job = read(text or "", file, prices).job
    if text is None or job is None:
        sys.exit(f"{name} does not read")
    return choose.space(choose.ground(text, file, prices, job, job.shelves[0].id))


def _used() -> float:
    """Seconds of processor of this process and of those it ended."""
    t = os.times()
    return t.user + t.system + t.children_user + t.children_system


def whole(name: str, how: str) -> tuple[choose.Choices, float, float]:
    """Search without load limits: "in full" sets none aside, "alone" does, "two" is in two processes.

    Returns:
        What was found; seconds by the clock and of the processor.
    """
    ground, memo = _space(name).ground, Memo()
    judge = partial(check, memo=memo, opens=False)
    clock, used = time.perf_counter(), _used()
    shelf = Shelf(ground.text, ground.file, ground.prices, ground.spec.id)
    with Crew(shelf, memo, 2) as crew:
        many = {"in full": None, "alone": Hand(ground, memo).many, "two": crew.many}[how]
        found = choose.choose(ground, judge, many=many, designs=SEARCHED)
    return found, time.perf_counter() - clock, _used() - used


def _picks(space: choose.Space, names: Sequence[str]) -> list[Pick]:
    return [
        tuple(k if m == n else 0 for m in range(len(space.axes)))
        for n, axis in enumerate(space.axes)
        if axis.name in names
        for k in range(1, len(axis.options))
        if axis.priced[k]
    ]


BEST = choose.Held(choose.Figures(0.0, 0.0, 0.0, 0.0, 0.0, 0), 0)
"""What beats everything that has a price."""


def rate(name: str, names: Sequence[str], *, aside: bool = False) -> tuple[int, float, float]:
    """Designs, and designs a second by the clock and by the processor, each from a job that is judged once.

    aside: all of them set aside instead of judged.
    """
    space, memo = _space(name), Memo()
    hand = Hand(space.ground, memo)
    against = (BEST,) if aside else ()

    def one(wanted: choose.Wanted, against: tuple[choose.Held, ...]) -> choose.Tried:
        return next(made for _, made in hand.many([choose.Asked(wanted, against)], lambda: False))

    one(space.wanted(space.origin), ())
    wall, cpu, count = time.perf_counter(), time.process_time(), 0
    for pick in _picks(space, names):
        made = one(space.wanted(pick), against)
        count += made.state != "cannot be built"
    return count, count / (time.perf_counter() - wall), count / (time.process_time() - cpu)


def said() -> None:
    """Print what a search does in a second, on one core."""
    print(
        f"\n{'designs a second of a search, one core':<52} {'clock':>8} {'processor':>10}   budget"
    )
    for name in ("stoneware-corner", "reading-alcove"):
        for kind, names, budget in (("share a section", SHARING, 300), ("new section", NEW, 8)):
            for how, aside in (("", False), (", set aside", True)):
                count, clock, cpu = rate(name, names, aside=aside)
                said = f"{name}, {kind}{how} ({count})"
                print(f"{said:<52} {clock:8.2f} {cpu:10.2f}   {budget}")
    print(
        f"\n{f'a search of {SEARCHED} designs, seconds':<52} {'clock':>8} {'processor':>10}   designs, set aside"
    )
    for name in ("stoneware-corner", "reading-alcove"):
        for how in ("in full", "alone", "two"):
            found, clock, cpu = whole(name, how)
            print(f"{f'{name}, {how}':<52} {clock:8.2f} {cpu:10.2f}   {found.built}, {found.aside}")


if __name__ == "__main__":
    said()
