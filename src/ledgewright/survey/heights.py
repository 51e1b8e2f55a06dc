"""Heights carried from mark to mark off a level line, as one net."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from ledgewright import plane
from ledgewright.job import Mark, TapedRise, Tapes
from ledgewright.survey.accuracy import level_sd
from ledgewright.survey.adjust import Adjusted, adjust
from ledgewright.survey.equations import Rise
from ledgewright.survey.model import Figure, Height, Retake, Wall, Whole
from ledgewright.survey.net import Named, Net, Part
from ledgewright.survey.slips import snooped
from ledgewright.survey.solve import again, figures, likely, whole


@dataclass(frozen=True)
class Levelled:
    """Marks with their heights above the datum, and what the tests say."""

    heights: tuple[Height, ...]
    figures: tuple[Figure, ...]
    whole: Whole | None
    retake: tuple[Retake, ...]


def levelled(tapes: Tapes, walls: Mapping[str, Wall]) -> Levelled:
    """Return the heights of all marks above the datum.

    Where no figure starts at the datum the first mark counts as level with it. Marks that nothing joins to the datum
    are left out, with a word.

    Args:
        tapes: all that was taped.
        walls: as placed in the plan, for the distances a height was carried over.
    """
    joined, loose = _joined(tapes.rises)
    notes = tuple(
        Retake(
            r.path,
            "Nothing joins this height to the datum: carry it from a mark that is, or from the datum.",
        )
        for r in loose
    )
    if not joined:
        return Levelled((), (), None, notes)
    net, at = Net(), dict[Mark, int]()
    for r in joined:
        for mark in (r.start, r.end):
            if mark is not None and mark not in at:
                at[mark] = net.unknown(0.0)
    if all(r.start is not None for r in joined) and joined[0].start is not None:
        net.held.add(at[joined[0].start])
    for r in joined:
        part = Part(r.path, f"the height from {_words(r.start, walls)} to {_words(r.end, walls)}")
        sd = level_sd(_apart(r, walls), r.tool)
        low = None if r.start is None else at[r.start]
        net.add(Rise(low, at[r.end], r.rise, sd), Named(part, "", r.path, "height", r.rise))
    made = adjust(net.equations, net.start, frozenset(net.held))
    if not isinstance(made, Adjusted):
        return Levelled((), (), None, notes)
    said = snooped(made)
    suspects = likely(made, net, said)
    names = tuple(dict.fromkeys(m.wall for m in at))
    return Levelled(
        tuple(
            Height(m.wall, m.along, m.letter, float(made.x[k]), math.sqrt(made.cofactor[k, k]))
            for m, k in at.items()
        ),
        figures(net, made, suspects),
        whole(names, made, said, heights=True),
        (*notes, *again(net, made, said, suspects, ())),
    )


def _joined(rises: tuple[TapedRise, ...]) -> tuple[list[TapedRise], list[TapedRise]]:
    """Figures that hang together from the datum, or from the first mark; and those that do not."""
    left, taken = list(rises), list[TapedRise]()
    known: set[Mark | None] = {None}
    if rises and all(r.start is not None for r in rises):
        known = {rises[0].start}
    while True:
        more = next((r for r in left if r.start in known or r.end in known), None)
        if more is None:
            return taken, left
        left.remove(more)
        taken.append(more)
        known |= {more.start, more.end}


def _words(mark: Mark | None, walls: Mapping[str, Wall]) -> str:
    if mark is None:
        return "the datum"
    wall = f"wall {walls[mark.wall].called}"
    return f"mark {mark.letter} on {wall}" if mark.letter else wall


def _apart(rise: TapedRise, walls: Mapping[str, Wall]) -> float:
    """Between the two marks in the plan; a mark known by a letter alone is taken at the middle of its wall."""
    ends = [_point(m, walls) for m in (rise.start, rise.end) if m is not None]
    return plane.length(plane.sub(ends[0], ends[1])) if len(ends) == 2 else 0.0


def _point(mark: Mark, walls: Mapping[str, Wall]) -> plane.Point:
    wall = walls[mark.wall]
    along = (wall.start + wall.end) / 2 if mark.along is None else mark.along
    return wall.at(along, 0.0)
