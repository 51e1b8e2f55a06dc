"""A straight shelf on a straight wall, and an L at a square corner, made so that all can be reckoned by hand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from ledgewright import stock
from ledgewright.core import Core
from ledgewright.core.model import Piece
from ledgewright.job import (
    Accident,
    Basis,
    Clearance,
    CoreSpec,
    Demand,
    Even,
    Known,
    Leg,
    Limits,
    Lock,
    Skin,
    Spec,
    Thing,
)
from ledgewright.layout import Frame, LegAt, Rod, Slot
from ledgewright.plane import Point
from ledgewright.statics import NOMINAL, Given, Holds, Inputs, holds
from ledgewright.stock import Bar
from ledgewright.survey import Corner, Member, Room, Wall

IN = 25.4
POUND = 0.45359237
FREE, DEPTH, THICK = 16.0, 250.0, 50.0
TIMBER = {"nds": "spf 2x4", "ec5": "C24 38x89"}
KNOWN = Known("opened it", None, "no", None, None, None)
LEAN = Accident("someone leans", 600.0, 100.0, "people lean")


def timber(basis: Basis) -> stock.Timber:
    return stock.timber(TIMBER[basis])


def member(at: float, basis: Basis = "nds", *, width: float = 38.1, sd: float = 0.0) -> Member:
    return Member(
        f"s{at:g}", "A", None, "stud", at - width / 2, at + width / 2, None, sd, timber(basis)
    )


def wall(
    members: Sequence[Member],
    *,
    length: float = 2000.0,
    name: str = "A",
    origin: Point = (0.0, 0.0),
    direction: Point = (1.0, 0.0),
) -> Wall:
    return Wall(
        id=name,
        mark=name,
        origin=origin,
        direction=direction,
        start=0.0,
        end=length,
        line=((0.0, 0.0), (length, 0.0)),
        sd=0.5,
        tape_from="left",
        framing="wood",
        timber=members[0].timber if members else None,
        depth_to_wood=FREE,
        lining=(("gypsum board", FREE),),
        members=tuple(replace(m, wall=name) for m in members),
        known=KNOWN,
    )


def rod(
    on: Wall,
    at: Member,
    *,
    bar: Bar | None = None,
    projection: float = 220.0,
    embedment: float = 75.0,
) -> Rod:
    bar = bar or stock.bar("round 5/8 1018")
    x, y = on.at(at.centre, -FREE)
    return Rod(
        id=f"{on.id}.{at.id}",
        mark=f"{on.id}{at.centre:g}",
        wall=on.id,
        member=at.id,
        bar=bar,
        origin=(x, y, 1000.0),
        axis=(*on.outward, 0.0),
        embedment=embedment,
        free=FREE,
        projection=projection,
        hole=bar.width + 3.0,
        adhesive=stock.adhesive("epoxy thickened"),
        clearance=Clearance(0.8, 1.6, 12.0),
        in_slot="dry",
    )


def leg(
    on: Wall, start: float, end: float, front: tuple[Point, Point] | None = None, **ends: Any
) -> LegAt:
    return LegAt(
        wall=on.id,
        start=start,
        end=end,
        back=(on.at(start, 0.0), on.at(end, 0.0)),
        front=front or (on.at(start, DEPTH), on.at(end, DEPTH)),
        left_end=ends.get("left_end", "free"),
        right_end=ends.get("right_end", "free"),
        band=0.0,
        depth=DEPTH,
    )


def slot(of: Rod) -> Slot:
    # The back edge lies on the finished face, so a slot is as deep as the rod sticks out, and its end play.
    return Slot(of.id, (), of.projection + of.clearance.end, of.bar.width + 2 * of.clearance.side)


def spec() -> Spec:
    panel, lumber = stock.panel("birch ply 18"), stock.lumber("poplar")
    skin = Skin(replace(panel, density=600.0), 18.0, "one piece")
    light = replace(lumber, density=500.0)
    return Spec(
        id="made",
        top=1025.0,
        depth=DEPTH,
        legs=(Leg("A", 0.0, 1000.0),),
        skin_top=skin,
        skin_bottom=skin,
        core=CoreSpec(light, THICK - 36.0, 40.0, 40.0, 200.0),
        sections=1,
        edging=light,
        edging_thick=10.0,
        scribe_allowance=0.0,
        back="tight",
        back_gap=0.0,
        end_gap=0.0,
        finish="hardwax oil",
        coats=2,
        lock=Lock("none", ()),
        rods=(),
        groove=None,
        first=None,
        path="shelf[0]",
    )


def demand(
    *loads: Even | Thing, accidents: tuple[Accident, ...] = (LEAN,), single: float = 0.0
) -> Demand:
    return Demand(
        "made", loads, accidents, single, Limits(5.0, 10.0, assumed=False), accident_declined=False
    )


def even(pressure: float | None = 0.0005, per_length: float | None = None, **where: Any) -> Even:
    return Even(
        "even",
        pressure,
        per_length,
        where.get("wall"),
        where.get("start"),
        where.get("end"),
        where.get("lasts", "years"),
        assumed=False,
    )


def thing(along: float, *, mass: float = 10.0, out: float = 120.0, wall: str = "A") -> Thing:
    return Thing("thing", wall, along, out, (100.0, 100.0), None, mass, "years")


def straight(
    at: Sequence[float], *, length: float = 1000.0, basis: Basis = "nds", **rods: Any
) -> tuple[Room, Frame]:
    """A shelf from 0 to `length` with rods at the given places."""
    members = [member(x, basis) for x in at]
    on = wall(members)
    made = tuple(rod(on, m, **rods) for m in members)
    outline = ((0.0, -DEPTH), (length, -DEPTH), (length, 0.0), (0.0, 0.0))
    frame = Frame(
        "made",
        outline,
        outline,
        (leg(on, 0.0, length),),
        (),
        made,
        tuple(map(slot, made)),
        1025.0,
        THICK,
        "A",
    )
    return Room((on,), (), (), ()), frame


def corner(
    left: Sequence[float], right: Sequence[float], *, legs: tuple[float, float] = (1000.0, 800.0)
) -> tuple[Room, Frame]:
    """An L at a square inside corner at (0, 0): wall A from x = -legs[0], wall B down from the corner."""
    a = wall([member(x) for x in left], length=legs[0], origin=(-legs[0], 0.0))
    b = wall([member(x) for x in right], length=legs[1], name="B", direction=(0.0, -1.0))
    made = (*(rod(a, m) for m in a.members), *(rod(b, m) for m in b.members))
    inner = (-DEPTH, -DEPTH)
    leg_a = leg(a, 0.0, legs[0], ((-legs[0], -DEPTH), inner), right_end="corner")
    leg_b = leg(b, 0.0, legs[1], (inner, (-DEPTH, -legs[1])), left_end="corner")
    outline = (
        (-legs[0], 0.0),
        (-legs[0], -DEPTH),
        inner,
        (-DEPTH, -legs[1]),
        (0.0, -legs[1]),
        (0.0, 0.0),
    )
    frame = Frame(
        "made",
        outline,
        outline,
        (leg_a, leg_b),
        (),
        made,
        tuple(map(slot, made)),
        1025.0,
        THICK,
        "A",
    )
    return Room(
        (a, b), (Corner("A", "B", "inside", (0.0, 0.0), 1.5707963267948966, 0.0),), (), ()
    ), frame


def solid(frame: Frame) -> Core:
    """Core everywhere but in the slots of rods square to a straight front (a made lay-out of full boards)."""
    back, front = 0.0, -DEPTH + spec().edging_thick
    left, right = frame.outline[0][0], frame.outline[1][0]
    slots = [(r.origin[0] - 9.0, r.origin[0] + 9.0) for r in frame.rods]
    lines = [left, *(x for slot in slots for x in slot), right]
    plans = [(a, b, back) for a, b in zip(lines[::2], lines[1::2], strict=True)]
    plans += [(a, b, -235.0) for a, b in slots]
    pieces = tuple(
        Piece(f"p{k}", "block", ((a, front), (b, front), (b, y), (a, y)), y - front or 1.0, b - a)
        for k, (a, b, y) in enumerate(plans)
        if y > front
    )
    return Core(pieces, (), (), 0.0, 0.0, 0, ())


def judged(
    placed: tuple[Room, Frame],
    asked: Demand,
    *,
    basis: Basis = "nds",
    temperature: float = 20.0,
    inputs: Inputs = NOMINAL,
    keep: bool = True,
) -> Holds:
    room, frame = placed
    return holds(Given(room, frame, spec(), asked, basis, temperature, None, inputs), keep=keep)
