"""How far a back that is not scribed stands off the wall, along its length."""

from __future__ import annotations

from collections.abc import Iterator

from ledgewright import plane
from ledgewright.judge import Design
from ledgewright.sheets.say import Say


def open_behind(design: Design) -> tuple[float, float] | None:
    """Return the least and the most that a back stands off its wall (mm); None where it is scribed to it.

    Args:
        design: the shelf.
    """
    if design.spec.back == "tight":
        return None
    gaps = [gap for leg in design.frame.legs for gap in _gaps(design, leg.wall, leg.back)]
    return (max(min(gaps), 0.0), max(gaps))


def _gaps(design: Design, wall: str, back: plane.Line) -> Iterator[float]:
    """Off the wall at both ends of the back and wherever the wall bends between."""
    of = design.room.wall(wall)
    line = sorted(of.figures(p) for p in back)
    low, high = line[0][0], line[-1][0]
    for along in (low, high, *(x for x, _ in of.line if low < x < high)):
        yield plane.height_at(tuple(line), along) - of.face(along)


def gap_said(design: Design, say: Say) -> str:
    """Return the gap behind a back in words, "1/8 to 7/16"; one figure where the wall is straight.

    Args:
        design: the shelf, whose back is not scribed.
        say: how the job writes.
    """
    found = open_behind(design)
    if found is None:
        msg = "a scribed back has no gap"
        raise ValueError(msg)
    least, most = say.length(found[0]), say.length(found[1])
    return least if least == most else f"{least} to {most}"
