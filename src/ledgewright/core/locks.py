"""Where a lock holds each rod that is locked, and what it meets there."""

from __future__ import annotations

from shapely.geometry import Point, Polygon

from ledgewright import plane
from ledgewright.core.field import UNDERCUT, Field, Ground
from ledgewright.core.model import LockAt
from ledgewright.layout import Rod

BLOCK = (40.0, 60.0)
"""A block for a lock screw, along and across the leg (mm): our choice."""


SCREW_IN = 40.0
"""How far from the shelf's back an angled screw enters it from below (mm): common practice."""

BESIDE = 7.5
"""How far beside a rod's slot an angled screw stands: one and a half times its thickness (mm): common practice."""

TO_TIP = 10.0
"""A screw nearer than this to the tip of its rod slips off it (mm): our choice."""

AROUND = 10.0
"""A lock keeps this far from a groove, a cable and other channels (mm): our choice."""


def locks(at: Ground) -> tuple[LockAt, ...]:
    """Return where the locks of a section are.

    A grub screw from below, or a dab, is on the axis of its rod, in the middle of its block's depth: at home the rod
    stands there in its own channel, with a flat where the screw ends. An angled screw enters beside the rod, by the
    back edge, and goes on into the wood beside the hole.

    Args:
        at: the section.
    """
    spec = at.spec
    if spec.lock.kind == "none":
        return ()
    found = []
    for field in at.fields:
        for rod in at.frame.rods:
            if rod.wall == field.wall and rod.id in spec.lock.rods:
                angled = spec.lock.kind == "angled screw"
                spot, on = _beside(field, rod) if angled else _on_axis(field, rod)
                off = (
                    "past the end of the shelf" if angled else "past the tip of the rod, or nearly"
                )
                found.append(_lock(at, rod, spot, "" if on else f"it is {off}"))
    return tuple(found)


def _lock(at: Ground, rod: Rod, spot: plane.Point, off: str) -> LockAt:
    """One lock with what it meets; off: why it is not on what it is to hold, if it is not."""
    met = {each.kind: each.through for each in at.keep_outs if _near(Polygon(each.plan), spot)}
    groove = at.spec.groove
    deep = groove.deep if groove is not None and "light groove" in met else 0.0
    if off:
        lost = off
    elif "cable way" in met:
        lost = "it meets a cable way"
    elif any(_near(plan, spot) for name, plan in at.channels if name != rod.id):
        lost = "it meets another rod's channel"
    elif met.get("light groove", False):
        lost = "it meets a light groove that is deeper than the skin"
    elif deep and at.spec.lock.kind == "angled screw":
        lost = "its head is in a light groove"
    else:
        lost = ""
    return LockAt(rod.id, spot, lost, deep)


def _on_axis(field: Field, rod: Rod) -> tuple[plane.Point, bool]:
    """The point of the axis at the depth of a block's middle, and whether it is on the rod, short of its tip."""
    goal = field.inner[1] - BLOCK[1] / 2
    face, ahead = rod.point(rod.free), rod.point(rod.free + 1.0)
    t, rate = field.figures(face)[1], field.figures(ahead)[1] - field.figures(face)[1]
    out = (goal - t) / rate
    return rod.point(rod.free + out), 0.0 < out <= rod.projection - TO_TIP


def _beside(field: Field, rod: Rod) -> tuple[plane.Point, bool]:
    """The place of an angled screw on the side of the rod where its leg goes on, and whether it is on the shelf."""
    s = field.figures(rod.point(rod.free))[0]
    off = rod.bar.width / 2 + rod.clearance.side + BESIDE
    aside = s + off if abs(field.high - s) > abs(s - field.low) else s - off
    spot = field.at(aside, field.rail + UNDERCUT - SCREW_IN)
    past = any(each.covers(Point(spot)) for each in field.past)
    return spot, field.low < aside < field.high and not past


def _near(shape: Polygon, spot: plane.Point) -> bool:
    return shape.distance(Point(spot)) < AROUND
