"""The face of a wall from gaps: one line drawn along it, or a straightedge laid end over end."""

from __future__ import annotations

from dataclasses import dataclass

from ledgewright.job import TapedLine, TapedWall

SAME_MARK = 2.0
"""Gaps of two lines nearer than this were taken at one mark (mm; our choice)."""
SAME_LEVEL = 1.0
"""Lines nearer in height than this are one (mm; our choice)."""


@dataclass(frozen=True)
class Strung:
    """Lines at one height that hang together by shared marks.

    stations: along, left to right. lines: each with (station, gap, number in the file) for its gaps. hook: the
    station the reference line starts from, the nearest to the hook. far: the one it goes to, if several lines have to
    be joined; with one line the line itself is the reference. apart: lines that share fewer than two marks.
    """

    stations: tuple[float, ...]
    lines: tuple[tuple[TapedLine, tuple[tuple[int, float, int], ...]], ...]
    hook: int
    far: int | None
    apart: tuple[TapedLine, ...]


def strung(taped: TapedWall, up: float) -> Strung | None:
    """Return the lines nearest in height that can be joined to one face; None if no gap was taken.

    Args:
        taped: the wall.
        up: height of the shelf above the datum (mm).
    """
    first = nearest(taped, up)
    if first is None:
        return None
    level = [line for line in taped.lines if line.gaps and _level(line, first)]
    stations = _stations(level)
    joined, apart = _joined(level, stations)
    kept = sorted({k for _, marks in joined for k, *_ in marks})
    number = {old: new for new, old in enumerate(kept)}
    lines = tuple(
        (line, tuple((number[k], gap, i) for k, gap, i in marks)) for line, marks in joined
    )
    places = tuple(stations[k] for k in kept)
    hook = min(range(len(places)), key=lambda k: abs(places[k]))
    far = max(range(len(places)), key=lambda k: abs(places[k])) if len(lines) > 1 else None
    return Strung(places, lines, hook, far, apart)


def nearest(taped: TapedWall, up: float) -> TapedLine | None:
    """A line without a height is at the shelf, as far as anyone said, but one with a height is surer."""
    seen = [line for line in taped.lines if line.gaps]
    far = float("inf")
    return min(seen, key=lambda at: far if at.up is None else abs(at.up - up), default=None)


def _level(line: TapedLine, first: TapedLine) -> bool:
    if line.up is None or first.up is None:
        return line.up is first.up
    return abs(line.up - first.up) <= SAME_LEVEL


def _stations(lines: list[TapedLine]) -> list[float]:
    found: list[float] = []
    for line in lines:
        for at, _ in line.gaps:
            if all(abs(at - s) > SAME_MARK for s in found):
                found.append(at)
    return sorted(found)


Marks = tuple[tuple[int, float, int], ...]


def _joined(
    lines: list[TapedLine], stations: list[float]
) -> tuple[list[tuple[TapedLine, Marks]], tuple[TapedLine, ...]]:
    """Start with the line that has most gaps; take in any that shares two marks with those taken."""
    marks = {id(line): _marks(line, stations) for line in lines}
    left = sorted(lines, key=lambda line: -len(line.gaps))
    taken = [left.pop(0)]
    known = {k for k, *_ in marks[id(taken[0])]}
    while True:
        more = next((x for x in left if len({k for k, *_ in marks[id(x)]} & known) >= 2), None)
        if more is None:
            return [(line, marks[id(line)]) for line in taken], tuple(left)
        left.remove(more)
        taken.append(more)
        known |= {k for k, *_ in marks[id(more)]}


def _marks(line: TapedLine, stations: list[float]) -> Marks:
    """Each gap with its nearest station; gaps count from 1 in the order the tape met them."""
    return tuple(
        (min(range(len(stations)), key=lambda k: abs(stations[k] - at)), gap, i)
        for i, (at, gap) in enumerate(sorted(line.gaps, key=lambda g: abs(g[0])), start=1)
    )
