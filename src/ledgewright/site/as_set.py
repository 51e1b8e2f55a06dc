"""The rods as they were read after the cure, held against the drawing: each rod, all of them, go or no go."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog

from ledgewright import fitting, plane
from ledgewright.fitting import Miss, Pose
from ledgewright.job import Order
from ledgewright.judge import Design
from ledgewright.layout import BESIDE, Frame, Rod, beside
from ledgewright.plane import Point
from ledgewright.site.tolerance import Allowed, allowed
from ledgewright.survey import Wall

Go = Literal["go", "no go", "cannot say"]

SHIM = 0.4
"""A gap under which no shim is cut (mm, 1/64 in; our choice)."""


@dataclass(frozen=True)
class Off:
    """One figure of a rod: as drawn, as read, and how far it may be off below and above (mm).

    drawn, read: a tape's own figure along the wall, a height above the datum, or a stick-out; read is None until it is
    read. off: as read less as drawn, to the right as you face the wall, up, or further out.
    """

    drawn: float
    read: float | None
    off: float
    below: float
    above: float

    @property
    def ok(self) -> bool | None:
        """Whether it is within what is allowed; None until it is read."""
        return None if self.read is None else -self.below - 1e-9 <= self.off <= self.above + 1e-9


@dataclass(frozen=True)
class Card:
    """One rod on the as-set card.

    beside: wood beside its hole where there is least, embedment: what is in the wood (mm); both None until it is read.
    shim: what its slot stands open above it once the shelf rests on the highest rods, at mouth and tip (mm).
    """

    rod: str
    mark: str
    wall: str
    out: Off
    side: tuple[Off, Off]
    up: tuple[Off, Off]
    allowed: Allowed
    beside: float | None = None
    embedment: float | None = None
    shim: tuple[float, float] | None = None

    @property
    def figures(self) -> tuple[Off, ...]:
        """Stick-out, height at face and tip, side at face and tip."""
        return (self.out, *self.up, *self.side)

    @property
    def ok(self) -> bool | None:
        """Whether all its figures are within what is allowed, and its hole has wood beside it; None until read."""
        if self.beside is None:
            return None
        return all(each.ok for each in self.figures) and self.beside >= BESIDE


@dataclass(frozen=True)
class Stand:
    """How all rods of a section stand together: right, out and up (mm), turned left seen from above (rad).

    along, out: of the first leg's wall. rises: how much higher the plane they carry is at the front than at the back,
    and at the right end than at the left (mm).
    """

    along: float
    out: float
    up: float
    turn: float
    rises: tuple[float, float]


@dataclass(frozen=True)
class AsSetAnswer:
    """One section with its rods as set.

    go: whether it may be cut (rods first) or hung. why: reasons against. misses: sides of slots, cut before, to ease.
    reset: marks of rods any one of which, once it is reset or cut off, lets the rest go. hang: the same shelf shifted
    to where the rods stand, if all find their slots there.
    """

    shelf: str
    go: Go
    why: tuple[str, ...]
    cards: tuple[Card, ...]
    stand: Stand
    misses: tuple[Miss, ...]
    reset: tuple[str, ...]
    hang: Stand | None


def cards(design: Design, order: Order) -> tuple[Card, ...]:
    """Return the as-set card of a section: blank for rods that are not read yet.

    Args:
        design: the section as judged.
        order: building order.
    """
    drawn = design.as_drawn
    bounds = allowed(
        design.room, drawn, design.way_as_drawn, spec=design.spec, basis=design.basis, order=order
    )
    real = {rod.id: rod for rod in (design.frame.rods if design.drawn else design.read)}
    shims = _shims(design.frame) if design.drawn else {}
    return tuple(
        _card(design, rod, real.get(rod.id), bound, shims.get(rod.id))
        for rod, bound in zip(drawn.rods, bounds, strict=True)
    )


def as_set(design: Design, order: Order) -> AsSetAnswer | None:
    """Return what the readings of a section's rods come to; None until every rod is read.

    Args:
        design: the section as judged with its rods as set.
        order: building order.
    """
    drawn = design.drawn
    if drawn is None:
        return None
    rows = cards(design, order)
    cut_before = order != "rods first"
    missed = fitting.misses(drawn, design.frame) if cut_before else ()
    hang = _hang(design, drawn) if missed else None
    return AsSetAnswer(
        shelf=design.spec.id,
        go=_go(design, rows),
        why=_why(design, rows),
        cards=rows,
        stand=_stand(design, drawn, design.frame),
        misses=missed,
        reset=_reset(design, rows, missed) if design.way is None else (),
        hang=hang,
    )


def _go(design: Design, rows: Sequence[Card]) -> Go:
    if design.way is None or design.holds.verdict == "fails" or bare(rows):
        return "no go"
    return "go" if design.holds.verdict == "passes" else "cannot say"


def bare(rows: Sequence[Card]) -> list[Card]:
    """Return the rods whose holes have come out of the wood, or left next to none.

    Args:
        rows: the as-set card of a section.
    """
    return [card for card in rows if card.beside is not None and card.beside < BESIDE / 2]


def least_wood(card: Card) -> str:
    """Return what is said of a rod whose hole has next to no wood beside it.

    Args:
        card: of the rod.
    """
    return f"rod {card.mark} has less than half the wood beside its hole that is asked for"


def _why(design: Design, rows: Sequence[Card]) -> tuple[str, ...]:
    found = []
    if design.way is None:
        found += [b.by for way in design.ways.ways for b in way.blocked]
    found += [least_wood(card) for card in bare(rows)]
    marks = {card.rod: card.mark for card in rows}
    found += [
        f"nothing holds at the lock of rod {marks[at.rod]}: {at.lost}; {at.instead}"
        for at in (design.core.locks if design.core else ())
        if at.lost
    ]
    if design.way is not None and design.holds.verdict == "fails":
        failed = [c for c in design.holds.checks if c.state == "fails" and not c.information]
        worst = max(failed, key=lambda c: c.ratio, default=None)
        by = worst.title.lower() if worst else "its load test did not pass"
        found.append(f"it does not hold so: {by}")
    return tuple(dict.fromkeys(found))


def _card(
    design: Design, rod: Rod, real: Rod | None, bound: Allowed, shim: tuple[float, float] | None
) -> Card:
    wall = design.room.wall(rod.wall)
    nose = design.spec.nose_up / design.spec.deep(rod.wall) * rod.projection
    ends = [(r.free, r.free + r.projection) for r in (rod, real or rod)]
    # A tip is off from the drawn axis as far out as it really stands.
    beside = (rod.free, rod.free + (real or rod).projection)
    side, up = [], []
    for k, lift in ((0, 0.0), (1, nose)):
        was = wall.figures(rod.point(ends[0][k]))[0]
        line = wall.figures(rod.point(beside[k]))[0]
        now = wall.figures(real.point(ends[1][k]))[0] if real else None
        side.append(
            Off(
                drawn=wall.taped(was),
                read=None if now is None else wall.taped(now),
                off=0.0 if now is None else now - line,
                below=bound.side,
                above=bound.side,
            )
        )
        high = rod.origin[2] + rod.axis[2] * ends[0][k] + lift
        stands = real.origin[2] + real.axis[2] * ends[1][k] if real else None
        off = 0.0 if stands is None else stands - high
        up.append(Off(high, stands, off, bound.up, bound.up))
    out = Off(
        rod.projection,
        real.projection if real else None,
        real.projection - rod.projection if real else 0.0,
        bound.short,
        bound.out,
    )
    return Card(
        rod=rod.id,
        mark=rod.mark,
        wall=rod.wall,
        out=out,
        side=(side[0], side[1]),
        up=(up[0], up[1]),
        allowed=bound,
        beside=_beside(wall, real) if real else None,
        embedment=real.embedment if real else None,
        shim=shim,
    )


def _beside(wall: Wall, rod: Rod) -> float:
    """Wood beside the hole on its poorer side, where it enters and at its end; in blocking above and below too."""
    member = next(m for m in wall.members if m.id == rod.member)
    wood = beside(wall, member, rod)
    every = (wood.side, wood.below, wood.above) if member.kind == "blocking" else (wood.side,)
    return min(each for each in every if each is not None) - rod.hole / 2


def ends(frame: Frame) -> list[tuple[float, float, float]]:
    """Return the points of every rod's axis at the face and at its tip, two for each rod in order (mm)."""
    return [
        (*rod.point(at), rod.origin[2] + rod.axis[2] * at)
        for rod in frame.rods
        for at in (rod.free, rod.free + rod.projection)
    ]


def _shims(frame: Frame) -> dict[str, tuple[float, float]]:
    """What is open between each rod and the plane that rests on the highest of them, at mouth and tip."""
    points = np.array(ends(frame))
    gaps = rests(points) - points[:, 2]
    return {
        rod.id: (max(0.0, float(gaps[2 * k])), max(0.0, float(gaps[2 * k + 1])))
        for k, rod in enumerate(frame.rods)
    }


def rests(points: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the heights, at every point, of the plane on which a rigid board would rest on them.

    It lies on or above all points and as low as it can at their middle, where the board's weight is taken to be
    (linear program; a board on points rests on three of them about its weight).

    Args:
        points: plan and height of each point, (n, 3) (mm).
    """
    middle = points[:, :2].mean(axis=0)
    scale = max(1.0, float(np.abs(points[:, :2] - middle).max()))
    flat = np.column_stack([np.ones(len(points)), (points[:, :2] - middle) / scale])
    level = float(points[:, 2].max())
    found = linprog(
        [1.0, 0.0, 0.0],
        A_ub=-flat,
        b_ub=level - points[:, 2],
        bounds=[(None, None)] * 3,
        method="highs",
    )
    return np.asarray(flat @ found.x + level)


def _stand(design: Design, drawn: Frame, real: Frame) -> Stand:
    wall = design.room.wall(drawn.legs[0].wall)
    old, new = np.array(ends(drawn)), np.array(ends(real))
    turn, shift = plane.rigid_fit(_flat(old), _flat(new))
    middle: Point = (float(old[:, 0].mean()), float(old[:, 1].mean()))
    moved = plane.sub(plane.add(plane.turn(middle, turn), shift), middle)
    return Stand(
        along=plane.dot(moved, wall.direction),
        out=plane.dot(moved, wall.outward),
        up=float((new[:, 2] - old[:, 2]).mean()),
        turn=turn,
        rises=_rises(design, drawn, new),
    )


def _rises(design: Design, drawn: Frame, points: NDArray[np.float64]) -> tuple[float, float]:
    """How much the plane the rods carry rises from back to front over the depth, and from the left end to the right."""
    high = rests(points)
    flat = np.column_stack([np.ones(len(points)), points[:, :2] - points[:, :2].mean(axis=0)])
    slope = np.linalg.lstsq(flat, high, rcond=None)[0][1:]
    leg = drawn.legs[0]
    wall, run = design.room.wall(leg.wall), plane.sub(leg.front[1], leg.front[0])
    out = plane.scale(wall.outward, leg.depth)
    return (
        float(slope @ np.array(out)),
        float(slope @ np.array(run)),
    )


def _flat(points: NDArray[np.float64]) -> list[Point]:
    return [(float(x), float(y)) for x, y, _ in points]


def _hang(design: Design, drawn: Frame) -> Stand | None:
    """The shelf shifted and turned to where its rods stand, if every rod then finds its slot as cut."""
    old, new = _flat(np.array(ends(drawn))), _flat(np.array(ends(design.frame)))
    turn, shift = plane.rigid_fit(old, new)
    if fitting.misses(drawn, design.frame, Pose(shift, turn)):
        return None
    return _stand(design, drawn, design.frame)


def _reset(design: Design, rows: Sequence[Card], missed: Sequence[Miss]) -> tuple[str, ...]:
    """Rods without which all the others go; of these, those that are further off than was allowed."""
    found = []
    for rod in design.frame.rods:
        rest = replace(design.frame, rods=tuple(r for r in design.frame.rods if r.id != rod.id))
        alone = all(miss.rod == rod.id for miss in missed)
        if alone and not fitting.out_of_line(rest):
            found.append(rod.mark)
    off = [card.mark for card in rows if card.mark in found and not card.ok]
    return tuple(off or found)
