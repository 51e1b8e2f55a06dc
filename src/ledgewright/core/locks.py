"""Where a lock holds each rod that is locked, and what it meets there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from shapely.geometry import Point, Polygon

from ledgewright import plane
from ledgewright.core.field import UNDERCUT, Field, Ground
from ledgewright.core.model import Core, Flat, LockAt
from ledgewright.layout import Frame, Rod

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

FLAT_LONG, FLAT_DEEP = 12.0, 1.5
"""A flat along and into the rod (mm): a 6 mm point with 3 mm to spare either way, and sinking 1 mm (our choice)."""

THIN = 4 * FLAT_DEEP
"""A bar that is less high takes no flat (mm): our choice."""

SPARE = 3.0
"""How far a grub screw may come down beside the middle of its flat (mm): a 6 mm point on a flat of 12."""

PAST = "it is past the tip of the rod, or nearly"

INSERT = 6.0
"""Half of a threaded insert, rounded up (mm): it stays so far within block and back strip (our choice)."""


def locks(at: Ground, filed: Sequence[Flat] | None = None) -> tuple[LockAt, ...]:
    """Return where the locks of a section are.

    A grub screw from below, or a dab, is on the axis of its rod, in the middle of its block's depth: at home the rod
    stands there in its own channel, with a flat where the screw ends. An angled screw enters beside the rod, by the
    back edge, and goes on into the wood beside the hole.

    Args:
        at: the section.
        filed: the flats that were filed before the rods were set, which stand where the rods do now: a grub screw goes
            over its flat. None: none is filed yet, and they follow the screws.
    """
    spec = at.spec
    if spec.lock.kind == "none":
        return ()
    return tuple(
        _one(at, field, rod, filed)
        for field in at.fields
        for rod in at.frame.rods
        if rod.wall == field.wall and rod.id in spec.lock.rods
    )


def _one(at: Ground, field: Field, rod: Rod, filed: Sequence[Flat] | None) -> LockAt:
    """The lock of a rod."""
    if at.spec.lock.kind == "angled screw":
        spot, on = _beside(field, rod)
        return _lock(at, rod, spot, "" if on else "it is past the end of the shelf")
    if at.spec.lock.kind == "sealant":
        out, on = _on_axis(field, rod)
        return _lock(at, rod, rod.point(rod.free + out), "" if on else PAST)
    if "tube" in rod.bar.shape:
        spot = rod.point(rod.free + _on_axis(field, rod)[0])
        made = _lock(at, rod, spot, "its rod is a tube: no metal for a flat")
        return replace(made, instead="take an angled screw or sealant, or a solid bar")
    if rod.bar.height < THIN:
        made = _lock(at, rod, rod.point(rod.free), "its rod is too thin for a flat")
        return replace(made, instead="take an angled screw or sealant, or a stouter bar")
    if filed is None:
        out, on = _on_axis(field, rod)
        made = _lock(at, rod, rod.point(rod.free + out), "" if on else PAST)
        return replace(made, from_tip=rod.projection - out)
    return _over_flat(at, field, rod, filed)


def _over_flat(at: Ground, field: Field, rod: Rod, filed: Sequence[Flat]) -> LockAt:
    """The lock of a rod that is set, over the flat that it has."""
    from_tip = next((flat.from_tip for flat in filed if flat.rod == rod.id), None)
    if from_tip is None:
        spot = rod.point(rod.free + _on_axis(field, rod)[0])
        made = _lock(at, rod, spot, "its rod was told no flat before it was set")
        return replace(made, instead="lock another rod or otherwise")
    spot = rod.point(rod.free + rod.projection - from_tip)
    wood = (field.inner[1] - BLOCK[1] + INSERT, field.rail - INSERT)
    on = wood[0] <= field.figures(spot)[1] <= wood[1]
    off = "" if on else "the flat of its rod stands off block and back strip"
    return replace(_lock(at, rod, spot, off), from_tip=from_tip)


def missed(core: Core, drawn: Frame, frame: Frame) -> Core:
    """Return a core cut before its rods were read, with grub screws lost that come down beside their flats.

    Args:
        core: as it is cut.
        drawn: the section with its rods as drawn.
        frame: with its rods as set.
    """
    real = {rod.id: rod for rod in frame.rods}
    told = {rod.id: rod for rod in drawn.rods}
    held = tuple(_met(at, told[at.rod], real[at.rod]) for at in core.locks)
    if held == core.locks:
        return core
    now = [at for at, before in zip(held, core.locks, strict=True) if at != before]
    return replace(core, locks=held, short=(*core.short, *about_locks(frame, now)))


def _met(at: LockAt, drawn: Rod, real: Rod) -> LockAt:
    off = real.projection - drawn.projection
    if at.lost or not at.from_tip or abs(off) <= SPARE:
        return at
    way = "out" if off > 0 else "in"
    why = f"the insert misses its flat, which stands {abs(off):.1f} mm further {way}"
    return replace(at, lost=why, instead="file it longer, or lock another rod or otherwise")


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


def _on_axis(field: Field, rod: Rod) -> tuple[float, bool]:
    """How far out a rod is at the depth of a block's middle (mm), and whether that is on the rod, short of its tip."""
    goal = field.inner[1] - BLOCK[1] / 2
    face, ahead = rod.point(rod.free), rod.point(rod.free + 1.0)
    t, rate = field.figures(face)[1], field.figures(ahead)[1] - field.figures(face)[1]
    out = (goal - t) / rate
    return out, 0.0 < out <= rod.projection - TO_TIP


def _beside(field: Field, rod: Rod) -> tuple[plane.Point, bool]:
    """The place of an angled screw on the side of the rod where its leg goes on, and whether it is on the shelf."""
    s = field.figures(rod.point(rod.free))[0]
    off = rod.bar.width / 2 + rod.clearance.side + BESIDE
    aside = s + off if abs(field.high - s) > abs(s - field.low) else s - off
    spot = field.at(aside, field.rail + UNDERCUT - SCREW_IN)
    past = any(each.covers(Point(spot)) for each in field.past)
    return spot, field.low < aside < field.high and not past


def about_locks(frame: Frame, held: Sequence[LockAt]) -> tuple[str, ...]:
    """Return what is to be said of locks that are lost or weak.

    Args:
        frame: the section.
        held: its locks.
    """
    marks = {rod.id: rod.mark for rod in frame.rods}
    return tuple(
        f"Nothing holds at the lock of rod {marks[lock.rod]}: {lock.lost}. {_first_up(lock.instead)}."
        if lock.lost
        else f"The lock at rod {marks[lock.rod]} is in a light groove: only the skin left by it counts."
        for lock in held
        if not lock.clear
    )


def _first_up(text: str) -> str:
    return text[:1].upper() + text[1:]


def _near(shape: Polygon, spot: plane.Point) -> bool:
    return shape.distance(Point(spot)) < AROUND
