"""Load patterns laid out by rule, whatever the search proposes: what it finds is held against them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import islice, product

import numpy as np
import pytest

from ledgewright.job import Job
from ledgewright.memo import Memo
from ledgewright.plan import check
from ledgewright.statics import Check, on_section
from ledgewright.statics.actions import Actions, Bools
from ledgewright.statics.bases import Combination
from ledgewright.statics.on_section import Judged, Shelf, judge
from ledgewright.statics.patterns import Pattern, kind_of

TOGETHER = 1500
"""So many patterns are solved and read at once: more fill the memory."""


def judged(job: Job) -> list[tuple[Shelf, Judged]]:
    """Return every section of a job as it was judged, ready to be judged again."""
    seen: list[tuple[Shelf, Judged]] = []

    def noted(shelf: Shelf) -> Judged:
        seen.append((shelf, judge(shelf)))
        return seen[-1][1]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(on_section, "judge", noted)
        check(job, Memo())
    return seen


def contents(acting: Actions) -> Iterator[tuple[str, Bools]]:
    """Yield every stretch of contents between two cuts of a leg, the other legs full or bare; every other bay; none.

    Full depth, things on it or not.
    """
    tiles, dead, live = acting.stood.tiles, acting.of("dead"), acting.of("live")
    things = live & np.array([atom.tile is None for atom in acting.atoms])
    walls = list(dict.fromkeys(tile.wall for tile in tiles))
    seen: set[bytes] = set()

    def on(kept: Sequence[bool]) -> Bools:
        return np.array([a.tile is not None and kept[a.tile] for a in acting.atoms])

    def laid() -> Iterator[tuple[str, Bools]]:
        yield "all", live
        yield "none", live & False
        for parity in (0, 1):
            yield f"bays {parity}", on([tile.bay % 2 == parity for tile in tiles])
        for wall in walls:
            at = sorted({tile.along for tile in tiles if tile.wall == wall})
            for first, last in ((a, b) for a in at for b in at if a <= b):
                mine = [t.wall == wall and first <= t.along <= last for t in tiles]
                yield f"{wall} {first:.0f}-{last:.0f}", on(mine)
                if len(walls) > 1:
                    others = [t.wall != wall or m for t, m in zip(tiles, mine, strict=True)]
                    yield f"{wall} {first:.0f}-{last:.0f}, others full", on(others)

    for name, kept in laid():
        for said, with_things in (("", things), (" no things", things & False)):
            there = dead | (kept & live & ~things) | with_things
            if there.tobytes() not in seen:
                seen.add(there.tobytes())
                yield name + said, there


def family(shelf: Shelf, *, thin: int = 1) -> Iterator[tuple[Combination, Pattern]]:
    """Yield every combination with contents by rule, its one thing or accident in every place, any rod proud or none.

    Args:
        shelf: ready to be judged.
        thin: only every so-manieth.
    """
    acting, count = shelf.acting, 0
    laid = list(contents(acting))
    proud = (None, *range(len(shelf.seats)))
    for each in shelf.rules.combinations:
        kind = kind_of(each)
        places = [None] if kind is None else np.flatnonzero(acting.of(kind)).tolist()
        for (name, there), at, rod in product(laid, places, proud):
            count += 1
            if count % thin:
                continue
            put, spot = there.copy(), None
            if at is not None:
                put[at], spot = True, acting.atoms[at].spot
            yield each, Pattern(f"{name}; {spot.said if spot else ''}; rod {rod}", put, rod, spot)


def worst(shelf: Shelf, patterns: Iterator[tuple[Combination, Pattern]]) -> Mapping[str, Check]:
    """Return the worst of every row under some patterns."""
    found: dict[str, Check] = {}
    while some := list(islice(patterns, TOGETHER)):
        for row in judge(shelf, among=some).rows:
            if row.id not in found or row.ratio > found[row.id].ratio:
                found[row.id] = row
    return found
