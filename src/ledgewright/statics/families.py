"""Every family of checks in one place, and what a verdict needs of them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from ledgewright.statics.model import CannotSay, Check, State

Kind = Literal["required", "stud", "blocking", "information"]
Into = frozenset[Literal["stud", "blocking"]]
"""The kinds of member that rods of a shelf sit in."""


@dataclass(frozen=True)
class Family:
    """One family of checks. kind: needed for every shelf, only where a rod sits in such a member, or shown only."""

    id: str
    title: str
    kind: Kind
    source: str


FAMILIES: tuple[Family, ...] = (
    Family("rod.bend", "Rod bends", "required", "AISC 360 F11; EN 1993-1-1 6.2.5, 6.3.2"),
    Family("rod.shear", "Rod shears in the wood", "required", "AISC 360 G; EN 1993-1-1 6.2.6"),
    Family("rod.biax", "Rod bends both ways", "required", "AISC 360 H1; EN 1993-1-1 6.2.9"),
    Family("rod.yield", "Rod stays straight in service", "required", "Mechanics"),
    Family(
        "bed.limit", "Wood crushes round the rod", "required", "TR12, NDS 12.3; EN 1995-1-1 8.5.1"
    ),
    Family("bed.hinge", "Rod hinges in the wood", "information", "TR12; EN 1995-1-1 8.2"),
    Family("bed.linear", "Wood stays springy in service", "required", "Keeps the drop model valid"),
    Family(
        "bed.edge",
        "Wood either side of the rod",
        "required",
        "NDS T12.5.1C; EN 1995-1-1 T8.4, T8.5",
    ),
    Family(
        "bed.side", "Wood crushes beside the rod", "required", "TR12, NDS 12.3; EN 1995-1-1 8.5.1"
    ),
    Family("stud.split", "Stud splits at the rod", "stud", "Own model"),
    Family("stud.side", "Stud splits beside the rod", "stud", "NDS 3.4.3.3; EN 1995-1-1 8.1.4"),
    Family("block.bend", "Blocking bends", "blocking", "NDS 4.3; EN 1995-1-1 6.1.6"),
    Family(
        "block.split", "Blocking splits at the rod", "blocking", "NDS 3.4.3.3; EN 1995-1-1 8.1.4"
    ),
    Family("block.tors", "Blocking twists", "blocking", "EN 1995-1-1 6.1.8"),
    Family(
        "block.fix", "Blocking comes off the studs", "blocking", "NDS 12.5; EN 1995-1-1 8.3.1.2"
    ),
    Family("stud.bend", "Stud bends", "required", "NDS 3.9.2; EN 1995-1-1 6.3.2"),
    Family("stud.shear", "Stud shears", "required", "NDS 3.4; EN 1995-1-1 6.1.7"),
    Family("bond.pull", "Rod pulls out of the wood", "required", "Bonded-in rod rules"),
    Family("hold.pull", "Shelf pulls off the rods", "required", "Lock, screw or slot glue"),
    Family("skin.bend", "Skin bends", "required", "Panel design specification; EN 12369"),
    Family("skin.patch", "Skin under one thing", "required", "Roark T11.4"),
    Family("skin.mouth", "Skin at the slot's mouth", "required", "Mechanics"),
    Family("skin.bear", "Rod presses into the skin", "required", "NDS 4.3; EN 1995-1-1 6.1.5"),
    Family(
        "skin.roll",
        "Skin shears in its plies",
        "required",
        "Panel design specification; EN 12369-2",
    ),
    Family("glue.shear", "Glue of the box shears", "required", "Weaker adherend"),
    Family("glue.peel", "Glue of the box peels", "required", "Own model"),
    Family("core.comp", "Core crushes", "required", "NDS; EN 1995-1-1"),
    Family("stab.contact", "Shelf sits firm on its rods", "required", "Mechanics"),
    Family("drop.today", "Front drop, day one", "required", "EN 1995-1-1 T7.2 band"),
    Family("drop.long", "Front drop, long term", "required", "EN 1995-1-1 2.3.2.2"),
    Family("sag.wave", "Sag between rods", "required", "0.02 in per foot along the front"),
    Family("acc.hold", "Someone leans or climbs", "required", "ASCE 7 2.5; EN 1990 6.11b"),
)

NOT_YET = "not computed yet"


def family(name: str) -> Family:
    """Return the family of that id.

    Raises:
        KeyError: if there is none.
    """
    for each in FAMILIES:
        if each.id == name:
            return each
    raise KeyError(name)


def required(*, into: Into) -> tuple[Family, ...]:
    """Return the families a verdict needs; into: what its rods sit in. A block hangs on studs, which must bear it."""
    return tuple(f for f in FAMILIES if f.kind == "required" or f.kind in into)


def missing(
    checks: Iterable[Check], said: Iterable[CannotSay], *, into: Into
) -> tuple[CannotSay, ...]:
    """Return the required families that no check and no reason speaks of."""
    present = {check.family for check in checks} | {each.family for each in said}
    return tuple(CannotSay(f.id, NOT_YET) for f in required(into=into) if f.id not in present)


def verdict(checks: Iterable[Check], cannot: Iterable[CannotSay], *, into: Into) -> State:
    """Return the verdict: fails if a check fails; passes only if nothing is left unsaid.

    Args:
        checks: all rows; those marked information cannot fail.
        cannot: what the model gives no answer to.
        into: what its rods sit in.
    """
    rows = tuple(checks)
    judged = [row for row in rows if not row.information]
    if any(row.state == "fails" for row in judged):
        return "fails"
    unsaid = any(row.state != "passes" or row.scope == "out" for row in judged)
    if unsaid or tuple(cannot) or missing(rows, (), into=into):
        return "cannot say"
    return "passes"
