"""What holds bit and rods on one wall: a straight ledger, a block on it that guides the bit, combs on the tips."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from ledgewright import plane
from ledgewright.job import Unit
from ledgewright.layout import Frame, LegAt, Rod
from ledgewright.site.comb import ROUND, Held, bar_out, half_width, holds, meets_bar
from ledgewright.site.model import Drill
from ledgewright.survey import Room, Wall

WEB = 3.0
"""Wood left between bore and ledger at the least (mm; our choice)."""
TIMES = 3.0
"""The bore guides the bit over so many times its diameter at the least (common practice, from memory)."""
PAST = 60.0
"""How far ledger and comb run past the outermost rods where there is room (mm; our choice)."""
SQUARE = math.radians(0.05)
"""A bore that leans less is told to be square (our choice)."""
CLEAR = 3.0
"""Room left to what stands beside the shelf (mm; our choice)."""
FROM_EDGE = 4.5
"""A screw of 4 mm keeps so far inside the underside of the shelf, so that its hole is hidden (mm; our choice)."""
SCREW_IN = 6.0
"""Least distance of that screw from the upper edge of the ledger (mm; our choice)."""


@dataclass(frozen=True)
class Sizes:
    """Sizes of the boards (mm; our choice: what is at hand in either unit).

    thick: of ledger and comb. high: of the ledger. wide, deep: of the block along the wall, and from the back of the
    ledger to its own front. above: over the middle of the bore. hangs: in front of the ledger, under its upper edge.
    step: what the height of the bore over the ledger is rounded up to.
    """

    thick: float
    high: float
    wide: float
    deep: float
    above: float
    hangs: float
    step: float


SIZES: dict[Unit, Sizes] = {
    "in": Sizes(19.05, 38.1, 76.2, 76.2, 25.4, 31.75, 1.5875),
    "mm": Sizes(18.0, 40.0, 75.0, 75.0, 25.0, 32.0, 1.0),
}


@dataclass(frozen=True)
class Mark:
    """One rod on ledger and comb; alongs are signed wall figures (mm).

    along: where its axis crosses the front of the ledger; edges: of its member. held: by the comb bar, by a comb of its
    own, or, too short for either, by wedges in the mouth of its hole. comb: where it goes through the middle of that.
    in_bar: where the comb bar is bored for it; None where it does not come so far. packing: from the front of the
    ledger to the back of its own comb, which is wide. bit, bar: what is bored for it in block and comb. gap: from the
    back of the ledger to the face, where the hole is. stop: from the front of the block to the end of the hole, along
    the bore. screw: where a screw of the ledger finds the same member, a quarter of it beside the grain of the hole.
    """

    rod: str
    along: float
    held: Held
    comb: float
    in_bar: float | None
    packing: float
    wide: float
    bit: float
    bar: float
    gap: float
    stop: float
    edges: tuple[float, float]
    screw: float


@dataclass(frozen=True)
class Guide:
    """Ledger, block and comb of one wall that may be drilled (mm).

    up: height of the ledger's upper edge. over: the middle of the bore above that. lean: how far the tips lean to the
    right of square to the ledger (rad). start, end: of ledger and comb, signed alongs. screw_down: from the ledger's
    upper edge; None where the shelf is too thin to hide a screw. comb_out: from the front of the ledger to the back of
    the comb bar; None where there is none. comb_high: its height. in_way: what stands where ledger or block go.
    """

    wall: str
    up: float
    over: float
    lean: float
    start: float
    end: float
    thick: float
    high: float
    wide: float
    deep: float
    above: float
    hangs: float
    screw_down: float | None
    comb_out: float | None
    comb_high: float
    marks: tuple[Mark, ...]
    in_way: tuple[str, ...]

    @property
    def bits(self) -> tuple[float, ...]:
        """The bits in use, each once: a block for each."""
        return tuple(sorted({mark.bit for mark in self.marks}))

    @property
    def in_bar(self) -> tuple[tuple[Mark, float], ...]:
        """The rods that the comb bar is bored for, and where (mm along)."""
        return tuple((mark, mark.in_bar) for mark in self.marks if mark.in_bar is not None)

    def held(self, by: Held) -> tuple[Mark, ...]:
        """Return the rods that are held so until the cure."""
        return tuple(mark for mark in self.marks if mark.held == by)

    def own_high(self, mark: Mark) -> float:
        """Return how high the own comb of a rod is (mm): from the lower edge of the ledger."""
        return self.high + self.over + mark.bar / 2 + ROUND


def guide(room: Room, frame: Frame, leave: Drill, units: Unit) -> Guide | None:
    """Return what guides the bit and holds the rods on a wall that may be drilled; None where no leg stands on it.

    Common practice: a ledger shimmed straight off the hollows and screwed on inside the hidden band, a bored block that
    rides on it and against its front, a comb bar on the tips until the cure.

    Args:
        room: the walls.
        frame: the shelf with its rods as drawn.
        leave: leave to drill the wall.
        units: what the boards are measured in.
    """
    wall = room.wall(leave.wall)
    leg = next((each for each in frame.legs if each.wall == wall.id), None)
    bored = {hole.rod for hole in leave.holes}
    rods = [rod for rod in frame.rods if rod.wall == wall.id and rod.id in bored]
    if leg is None or not rods:
        return None
    size = SIZES[units]
    widest = max(rod.hole for rod in rods)
    deep = max(size.deep, TIMES * widest)
    over = size.step * math.ceil((widest / 2 + WEB) / size.step - 1e-9)
    comb_out = bar_out([_tip(wall, leg, rod, size.thick) for rod in rods], size.thick)
    marks = tuple(_mark(wall, leg, rod, size.thick, deep, comb_out) for rod in rods)
    ends = _ends(leg, marks)
    up = rods[0].origin[2]
    high = max(size.above, widest / 2 + 2 * WEB)
    return Guide(
        wall=wall.id,
        up=up - over,
        over=over,
        lean=lean(wall, rods[0]),
        start=ends[0],
        end=ends[1],
        thick=size.thick,
        high=size.high,
        wide=_wide(leg, marks, size.wide),
        deep=deep,
        above=high,
        hangs=size.hangs,
        screw_down=_screw(frame, up, over),
        comb_out=comb_out,
        comb_high=max(mark.bar for mark in marks) + 2 * ROUND,
        marks=tuple(sorted(_wide_enough(marks, ends, size.wide), key=lambda mark: mark.along)),
        in_way=_in_way(room, wall, ends, (up - over - size.high, up + high)),
    )


def _out(wall: Wall, rod: Rod, from_wood: float) -> float:
    return wall.figures(rod.point(from_wood))[1]


def lean(wall: Wall, rod: Rod) -> float:
    """Return how far a rod leans to the right of square to the straight ledger of its wall (rad), seen from above.

    Args:
        wall: its wall.
        rod: the rod.
    """
    axis = (rod.axis[0], rod.axis[1])
    return math.atan2(plane.dot(axis, wall.direction), plane.dot(axis, wall.outward))


def _tip(wall: Wall, leg: LegAt, rod: Rod, thick: float) -> float:
    """How far its tip stands in front of the ledger."""
    return _out(wall, rod, rod.free + rod.projection) - leg.band - thick


def _mark(wall: Wall, leg: LegAt, rod: Rod, thick: float, deep: float, bar: float | None) -> Mark:
    """Where the axis of a rod, level as drawn, meets planes parallel to the ledger."""
    slope = plane.dot((rod.axis[0], rod.axis[1]), wall.outward)
    start = _out(wall, rod, 0.0)

    def reaches(out: float) -> float:
        """How far from the wood the axis comes so far out of the ledger's back."""
        return (leg.band + out - start) / slope

    member = next(each for each in wall.members if each.id == rod.member)
    round_bar = rod.bar.shape in ("round", "round tube")

    def crosses(out: float) -> float:
        return wall.figures(rod.point(reaches(out)))[0]

    tip = _tip(wall, leg, rod, thick)
    held, out = holds(tip, bar, thick)
    middle = thick if held == "wedges" else 1.5 * thick
    return Mark(
        rod=rod.mark,
        along=crosses(thick),
        held=held,
        comb=crosses(out + middle),
        in_bar=crosses(bar + 1.5 * thick) if bar is not None and meets_bar(tip, bar) else None,
        packing=out if held == "own" else 0.0,
        wide=0.0,
        bit=rod.hole,
        bar=rod.bar.width if round_bar else math.hypot(rod.bar.width, rod.bar.height),
        gap=max(0.0, leg.band - _out(wall, rod, rod.free)),
        stop=reaches(deep) + rod.embedment,
        edges=(member.left, member.right),
        screw=member.centre - member.width / 4,
    )


def _wide_enough(
    marks: tuple[Mark, ...], ends: tuple[float, float], wide: float
) -> tuple[Mark, ...]:
    """Gives every comb of one rod its width; one without room for its wood is none, and wedges hold the rod."""
    made = []
    for mark in marks:
        if mark.held == "own":
            # Of two that stand side by side each has half the room; past a longer one its bar goes.
            others = [
                (
                    mark.comb + each.along - mark.along,
                    abs(each.along - mark.along) / 2 if each.held == "own" else each.bar / 2,
                )
                for each in marks
                if each is not mark and each.held != "wedges"
            ]
            half = half_width(wide / 2, mark.comb, others, ends)
            fits = half >= mark.bar / 2 + ROUND / 2
            mark = (
                replace(mark, wide=2 * half)
                if fits
                else replace(mark, held="wedges", comb=mark.along, packing=0.0)
            )
        made.append(mark)
    return tuple(made)


def _ends(leg: LegAt, marks: tuple[Mark, ...]) -> tuple[float, float]:
    """Past the outermost rods, no further than the shelf hides."""
    alongs = [x for mark in marks for x in (mark.along, mark.comb)]
    return (
        max(min(alongs) - PAST, leg.start + CLEAR),
        min(max(alongs) + PAST, leg.end - CLEAR),
    )


def _wide(leg: LegAt, marks: tuple[Mark, ...], wide: float) -> float:
    """The width of the block, less where a rod is near what stands beside the shelf; both its halves are alike."""
    rooms = [mark.along - leg.start - CLEAR for mark in marks if leg.left_end in ("wall", "corner")]
    rooms += [leg.end - CLEAR - mark.along for mark in marks if leg.right_end in ("wall", "corner")]
    least = max(mark.bit for mark in marks) + 2 * WEB
    return max(min([wide, *(2 * each for each in rooms)]), least)


def _screw(frame: Frame, up: float, over: float) -> float | None:
    """How far under the ledger's upper edge a screw is hidden by the shelf; None if it is not."""
    down = up - over - (frame.top - frame.thick + FROM_EDGE)
    return down if down >= SCREW_IN else None


def _in_way(
    room: Room, wall: Wall, ends: tuple[float, float], band: tuple[float, float]
) -> tuple[str, ...]:
    found = []
    for each in room.obstacles:
        if each.wall != wall.id or each.section or not _meets(each.up, band):
            continue
        alongs = [wall.figures(point)[0] for point in each.plan]
        if _meets((min(alongs), max(alongs)), ends):
            found.append(each.id)
    return tuple(found)


def _meets(a: tuple[float, float], b: tuple[float, float]) -> bool:
    return a[0] < b[1] and b[0] < a[1]
