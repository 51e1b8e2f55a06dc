"""Where slots and ways cross the back of a core, and how far aside of that they end in front."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from shapely.geometry import LineString, Polygon

from ledgewright import plane
from ledgewright.fitting import Channel
from ledgewright.judge import Design
from ledgewright.layout import LegAt, Slot
from ledgewright.plane import Ring
from ledgewright.sheets.say import Say
from ledgewright.sheets.views.common import Span, cuts
from ledgewright.survey import Wall

INSIDE = 0.5
"""Rings end at the back, on its line or a hair behind or before it: they are read this far inside (mm)."""
SLANT = 0.05
"""A front end cut square to what leans (3 degrees at most) slants by no more than this share of its width."""
PAST = 10_000.0
SEEN = 0.25
"""What ends less far aside than this counts as square: a tape reads no finer (mm; our choice)."""
PARALLEL = 0.5
"""Sides that end so nearly alike aside are parallel (mm; our choice)."""
FEW = 2
"""More ways of leaning than these go into the list alone, not under the map."""


@dataclass(frozen=True)
class Aside:
    """A slot that does not run square to the back of its leg: from where to where along the leg it lies (mm).

    wall: id of its wall. mark: of its rod. back, front: where it crosses the back edge, and at its front end, counted
    along the wall. run: how far in front of the back that end is.
    """

    wall: str
    mark: str
    back: Span
    front: Span
    run: float

    @property
    def by(self) -> float:
        """How far its middle ends to the right of where it begins, as one faces the wall (mm)."""
        return (sum(self.front) - sum(self.back)) / 2

    @property
    def parallel(self) -> bool:
        """Whether both sides lean alike."""
        left, right = (f - b for f, b in zip(self.front, self.back, strict=True))
        return abs(right - left) < PARALLEL

    @property
    def angle(self) -> float:
        """How far it leans to the right of square (rad)."""
        return math.atan2(self.by, self.run)


def at_back(wall: Wall, leg: LegAt, ring: Ring) -> Span:
    """Return where a slot or way crosses the back edge of its leg, along the wall (mm), cut off at the leg's ends.

    What does not reach the back lies where it is nearest to it.

    Args:
        wall: the wall of the leg.
        leg: the leg.
        ring: the slot or way in the plan.
    """
    back = [wall.figures(p) for p in leg.back]
    outs = [wall.figures(p)[1] for p in ring]
    line = [(back[0][0] - PAST, back[0][1]), *back, (back[-1][0] + PAST, back[-1][1])]
    found = _on(wall, ring, [(s, out + INSIDE) for s, out in line])
    found = found or _level(wall, ring, min(outs) + INSIDE) or _extent(wall, ring)
    return max(found[0], leg.start), min(found[1], leg.end)


def asides(design: Design) -> tuple[Aside, ...]:
    """Return the slots of a shelf that do not run square to the back of their leg.

    Args:
        design: the shelf; only where all its walls may be drilled.
    """
    legs = {leg.wall: leg for leg in design.frame.legs}
    rods = {rod.id: rod for rod in design.frame.rods}
    every = (
        _aside(design.room.wall(rod.wall), legs[rod.wall], cut, rod.mark)
        for cut in cuts(design)
        for rod in (rods[cut.rod],)
    )
    return tuple(each for each in every if abs(each.by) >= SEEN or not each.parallel)


def lean_lines(design: Design, say: Say) -> tuple[str, ...]:
    """Return how slots lie that are not square to the back, in words, slots that lean alike in one.

    Args:
        design: the shelf; only where all its walls may be drilled.
        say: how the job writes.
    """
    alike, odd = _sorted(design)
    return (
        *(_alike(of, lean, say) for lean, of in alike),
        *(_odd(design, each, say) for each in odd),
    )


def under_map(design: Design, say: Say) -> str:
    """Return the same for under the map, short; empty where all slots are square to the back.

    Args:
        design: the shelf; only where all its walls may be drilled.
        say: how the job writes.
    """
    alike, odd = _sorted(design)
    if odd or len(alike) > FEW:
        return "Some slots lean: see the list."
    told = [
        f"{_row([each.mark for each in of])} lean{'s' * (len(of) == 1)} {lean.replace('to the ', '')}, "
        f"{_by(of, say)} in front"
        for lean, of in alike
    ]
    return f"{'; '.join(told)}." if told else ""


def _sorted(design: Design) -> tuple[list[tuple[str, list[Aside]]], list[Aside]]:
    """Slots that lean alike on one wall, by how they lean; and those that change their width."""
    alike: dict[tuple[str, str], list[Aside]] = {}
    odd = []
    for each in asides(design):
        if each.parallel:
            side = "right" if each.by > 0 else "left"
            lean = f"{abs(math.degrees(each.angle)):.2f}° to the {side}"
            alike.setdefault((each.wall, lean), []).append(each)
        else:
            odd.append(each)
    return [(lean, of) for (_, lean), of in alike.items()], odd


def _alike(of: Sequence[Aside], lean: str, say: Say) -> str:
    one, side = len(of) == 1, "right" if of[0].by > 0 else "left"
    return (
        f"{_row([each.mark for each in of])} lean{'s' * one} {lean} of square as you face the wall: mark "
        f"{'it' if one else 'them'} along the back as on the map, then {_by(of, say)} further {side} at "
        f"{'its front end' if one else 'their front ends'}."
    )


def _by(of: Sequence[Aside], say: Say) -> str:
    """How far aside they end, from the least to the most."""
    told = list(dict.fromkeys(map(say.thickness, sorted(abs(each.by) for each in of))))
    return told[0] if len(told) == 1 else f"{told[0]} to {told[-1]}"


def _odd(design: Design, each: Aside, say: Say) -> str:
    leg = next(leg for leg in design.frame.legs if leg.wall == each.wall)
    left, right = (say.bare(x - leg.start) for x in each.front)
    return f"{each.mark} is not as wide in front as at the back: at its front end from {left} to {right}."


def _row(marks: Sequence[str]) -> str:
    """Marks in a row, the first and the last where there are more than two."""
    ordered = sorted(marks, key=lambda mark: (len(mark), mark))
    numbers = [int(mark[1:]) for mark in ordered]
    if len(ordered) > 2 and numbers == list(range(numbers[0], numbers[0] + len(numbers))):
        return f"{ordered[0]} to {ordered[-1]}"
    return ordered[0] if len(ordered) == 1 else f"{', '.join(ordered[:-1])} and {ordered[-1]}"


def _aside(wall: Wall, leg: LegAt, cut: Channel | Slot, mark: str) -> Aside:
    back = at_back(wall, leg, cut.plan)
    outs = [wall.figures(p)[1] for p in cut.plan]
    level = max(outs) - SLANT * (back[1] - back[0]) - INSIDE
    front = _level(wall, cut.plan, level) or back
    at = plane.height_at([wall.figures(p) for p in leg.back], sum(back) / 2)
    return Aside(wall.id, mark, back, front, max(level - INSIDE - at, INSIDE))


def _level(wall: Wall, ring: Ring, out: float) -> Span | None:
    return _on(wall, ring, [(-PAST - abs(wall.start), out), (PAST + abs(wall.end), out)])


def _on(wall: Wall, ring: Ring, line: Sequence[plane.Point]) -> Span | None:
    """Between which alongs a ring lies on a line of wall figures; None where it does not reach it."""
    figures = Polygon([wall.figures(p) for p in ring])
    met = figures.intersection(LineString(line))
    return None if met.is_empty else (float(met.bounds[0]), float(met.bounds[2]))


def _extent(wall: Wall, ring: Ring) -> Span:
    at = [wall.figures(p)[0] for p in ring]
    return min(at), max(at)
