"""Rods that are read while others are not: each is judged by itself at once, by its wood and by what was allowed."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from ledgewright import statics
from ledgewright.job import Basis, Order
from ledgewright.judge import Design
from ledgewright.layout import Frame
from ledgewright.site.as_set import bare, cards, least_wood
from ledgewright.statics import CannotSay, Holds

FAMILY = "rods as set"
"""Stands in the place of a family of checks where rods were read further off than was allowed."""
FURTHER = "stands further off than was allowed: whether the shelf goes on and holds so is worked out with all rods read"


def so_far(
    design: Design, frame: Frame, members: Collection[str], *, order: Order, basis: Basis
) -> Design:
    """Return a section as drawn with what the rods say that are read already.

    A hole that is read as broken out of its stud stays so whatever else is read: its row is that of the rod where it
    stands, and it fails. One further off than was allowed leaves open whether the shelf goes on and holds.

    Args:
        design: the section as judged with its rods as drawn.
        frame: the same section with these rods as set.
        members: the studs and blocks whose rods are read.
        order: building order.
        basis: of the design.
    """
    read = tuple(rod for rod in frame.rods if rod.member in members)
    made = replace(design, read=read)
    if not design.holds.checks:
        return made
    stand = replace(frame, rods=read)
    rows = {row.id: row for row in statics.edges(design.room, stand, design.spec, basis)}
    checks = tuple(rows.get(row.id, row) for row in design.holds.checks)
    return broken_out(
        replace(made, holds=_judged(made, replace(design.holds, checks=checks), order)), order
    )


def told(design: Design, order: Order) -> tuple[str, ...]:
    """Return what is to be said of rods that are read while others are not, in sentences; none where all are, or none.

    Args:
        design: as judged, with what was read.
        order: building order.
    """
    rows = cards(design, order) if design.read else ()
    off = [card for card in rows if card.ok is False]
    if not rows:
        return ()
    return (
        f"{len(design.read)} of {len(rows)} rods are read: all is worked out as drawn until every rod of the shelf is.",
        *(
            f"Against it: {least_wood(card)}: its hole may have broken out. Set no more rods."
            for card in bare(rows)
        ),
        *(f"Rod {card.mark} {FURTHER}." for card in off),
    )


def _judged(made: Design, held: Holds, order: Order) -> Holds:
    off = [card.mark for card in cards(made, order) if card.ok is False]
    if off:
        why = "; ".join(f"rod {mark} {FURTHER}" for mark in off)
        held = replace(held, cannot_say=(*held.cannot_say, CannotSay(FAMILY, why)))
    states = {row.state for row in held.checks if not row.information}
    if "fails" in states:
        return replace(held, verdict="fails")
    if held.verdict == "passes" and (off or "cannot say" in states):
        return replace(held, verdict="cannot say")
    return held


def broken_out(design: Design, order: Order) -> Design:
    """Return a section that fails where a rod is read next to the edge of its stud; else as it is.

    Args:
        design: as judged, with what was read.
        order: building order.
    """
    if not design.holds.checks or not bare(cards(design, order)):
        return design
    return replace(design, holds=replace(design.holds, verdict="fails"))
