"""The two-pass scribe on the rods: how far to hold off, and how long the slots must then be."""

from __future__ import annotations

from dataclasses import dataclass

from shapely.geometry import LineString, Polygon

from ledgewright import plane
from ledgewright.fitting import cut, sweep
from ledgewright.layout import Frame, LegAt, Rod
from ledgewright.plane import Point

PENCIL = 3.5
"""From the wall to the middle of a pencil's line, half a common pencil: common practice (mm)."""

BEYOND = 3.175
"""Slots are longer than the hold-off by this, so that the tips stay free after the cut: 1/8 in, common practice."""

SHORT = 0.05
"""Less than this past a slot's end is not worth a word (mm)."""

_LONG = 1e4


@dataclass(frozen=True)
class Scribing:
    """Hold-off and added slot length of the two-pass scribe (mm), and what to say about them."""

    hold_off: float = 0.0
    slot_longer: float = 0.0
    notes: tuple[str, ...] = ()


def scribing(frame: Frame, edging: float) -> Scribing:
    """Return the figures of a scribe that is marked with the section on its rods, held off parallel.

    Hold off by the widest hollow and half a pencil; mark; off; cut; back on. Until it is cut the blank's back
    edge lies behind the finished one, so from there a slot must be as long as the stick-out, the
    hold-off and 1/8 in (common practice, as is the whole procedure). What the scribe takes off at a
    rod and its end clearance may already give that.

    Args:
        frame: the section; nothing is scribed if it has no scribe stations.
        edging: thickness of the edging (mm).
    """
    if not frame.scribe:
        return Scribing()
    hold = max(_hollow(leg) for leg in frame.legs) + PENCIL
    longer = hold + BEYOND
    notes = [_about(frame, rod, longer - removed(frame, rod), edging) for rod in frame.rods]
    return Scribing(hold, longer, tuple(note for note in notes if note))


def removed(frame: Frame, rod: Rod) -> float:
    """Return what the scribe takes off behind a rod, along its axis (mm)."""
    axis = plane.unit((rod.axis[0], rod.axis[1]))
    tip = rod.point(rod.free + rod.projection)
    line = LineString([tip, plane.along(tip, axis, -_LONG)])
    return _within(line, frame.blank, axis) - _within(line, frame.outline, axis)


def _within(line: LineString, ring: tuple[Point, ...], axis: Point) -> float:
    """How far behind the tip the line leaves a plan for good."""
    inside = line.intersection(Polygon(ring))
    if inside.is_empty:
        return 0.0
    low, high = sweep.extent(line, axis)[1], sweep.extent(inside, axis)[0]
    return low - high


def _hollow(leg: LegAt) -> float:
    along = plane.unit(plane.sub(leg.front[1], leg.front[0]))
    deep = [plane.dot(plane.sub(p, leg.front[0]), plane.left(along)) for p in leg.back]
    return max(0.0, max(deep) - leg.depth)


def _about(frame: Frame, rod: Rod, past: float, edging: float) -> str | None:
    """What to say of a slot that must run farther past its tip than the end clearance."""
    if past <= rod.clearance.end + SHORT:
        return None
    end = cut.body(rod, rod.clearance.side, past)
    fronts = LineString([p for leg in frame.legs for p in leg.front])
    left = fronts.distance(end) - edging
    longer = past - rod.clearance.end
    said = f"The two-pass scribe on the rods needs the slot of {rod.mark} longer by {longer:.1f} mm"
    if left > 0:
        return f"{said}; {left:.1f} mm is then left behind the edging."
    return f"{said}, which reaches the edging: scribe off the rods, or shorten the rod."
