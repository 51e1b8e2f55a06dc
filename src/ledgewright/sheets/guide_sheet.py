"""What guides the bit and holds the rods of one wall: its page, its lines in `site`, its JSON."""

from __future__ import annotations

import math
from typing import Any

from ledgewright import draw
from ledgewright.judge import Design
from ledgewright.plan import Plan
from ledgewright.sheets import cuts, guide_tiles, tiles, walls
from ledgewright.sheets.documents import number
from ledgewright.sheets.leaves import leaves
from ledgewright.sheets.model import Figure, FormPart, FormSheet, Picture, Table
from ledgewright.sheets.say import Say, listed
from ledgewright.site import SQUARE, Drill, Guide, Mark
from ledgewright.survey import Wall

Json = dict[str, Any]

THIN = 1.0
"""Less packing than this is none (mm)."""
SHOWN = (180.0, 74.0)
"""Room for the picture of the block on its page (mm of paper)."""


def sheet(plan: Plan, design: Design, found: Guide) -> FormSheet:
    """Return the page of ledger, block and comb of a wall that may be drilled.

    Args:
        plan: the whole job.
        design: the shelf.
        found: the guide of the wall.
    """
    say, wall = Say.of(plan.job.meta), design.room.wall(found.wall)
    return FormSheet(
        title=f"Guide block and ledger, wall {wall.called}",
        about=f"shelf {design.spec.title}",
        unit=say.unit,
        warning=walls.warning(plan, design),
        intro="",
        facts=(
            Figure("Ledger's upper edge", say.height(found.up), "over the datum, level"),
            Figure("Bore", say.caliper(found.over), "its middle over that edge"),
            Figure("Direction", _lean_short(found), "of the bore, to the ledger"),
        ),
        parts=(
            FormPart(
                "Each hole", lines=_counting(wall.tape_from), tables=(_rods(design, found, say),)
            ),
            FormPart("The ledger", lines=_ledger(design, found, say)),
            FormPart("The comb", lines=_comb(design, found, say)),
            FormPart("The block", lines=_block(found, say)),
            FormPart(
                "Stop",
                lines=(
                    "The ledger rocks, or the block rides up or away from it while the bit turns.",
                    "The bore has worn: a bit rattles in it. Bore a new block.",
                ),
            ),
            FormPart("", picture=_picture(found, say)),
        ),
        beside=True,
    )


def _counting(hook: str) -> tuple[str, ...]:
    return (
        "Ledger, block and comb are made before the day; they are drawn at true size in files named guide.",
        f"On the ledger's front: where the middle of the bore crosses it, from the {hook} end of the wall.",
        "Stop: a collar on the bit, from the block's front to the cutting edges, not the point; shims are counted in.",
    )


def _rods(design: Design, found: Guide, say: Say) -> Table:
    wall = design.room.wall(found.wall)
    ordered = sorted(found.marks, key=lambda mark: wall.taped(mark.along))
    return Table(
        heads=(
            say.word("Rod"),
            "On the ledger's front",
            "Shim behind it",
            "Bit",
            "Stop, from block",
            "Bit at least",
            "On the comb",
            "Set",
        ),
        widths=(14, 27, 26, 16, 28, 26, 26, 14),
        figures=(),
        rows=tuple(
            (
                mark.rod,
                say.bare(wall.taped(mark.along)),
                say.caliper(mark.gap),
                say.bare(mark.bit),
                say.bare(mark.stop),
                say.up(guide_tiles.at_least(mark)),
                _on_comb(mark, wall, say),
                "[]",
            )
            for mark in ordered
        ),
        keys=(0, 4),
    )


def _on_comb(mark: Mark, wall: Wall, say: Say) -> str:
    if mark.held == "wedges":
        return "no comb"
    own = ", own" if mark.held == "own" else ""
    return f"{say.bare(wall.taped(mark.comb))}{own}"


def _block(found: Guide, say: Say) -> tuple[str, ...]:
    bits = " and ".join(say.length(bit) for bit in found.bits)
    high = found.above + found.over + found.hangs
    return (
        f"Hardwood, {say.length(found.wide)} wide, {say.length(found.deep)} deep, {say.length(high)} high.",
        f"Rebate for the ledger {say.thickness(found.thick)} deep, {say.thickness(found.over)} under the middle.",
        f"Bored right through with a {bits} bit on a drill press, {_lean(found, say)}. Try it in scrap first.",
    )


def _lean(found: Guide, say: Say) -> str:
    if abs(found.lean) < SQUARE:
        return "square to its back"
    side = "right" if found.lean > 0 else "left"
    return (
        f"{abs(math.degrees(found.lean)):.2f} degrees off square, its front end to the {side} as you face the wall: "
        f"{say.thickness(abs(found.deep * math.tan(found.lean)))} in its depth"
    )


def _lean_short(found: Guide) -> str:
    if abs(found.lean) < SQUARE:
        return "square"
    return f"{abs(math.degrees(found.lean)):.2f}° {'right' if found.lean > 0 else 'left'}"


def _picture(found: Guide, say: Say) -> Picture | None:
    bit = found.bits[-1]
    items = guide_tiles.block_items(found, bit, say)
    try:
        drawing = draw.fit("Guide block", "The guide block from the front and side", items, SHOWN)
    except draw.TooLarge:
        return None
    return tiles.as_picture(drawing, "From the front and from the side", draw.ratio(drawing))


def _ledger(design: Design, found: Guide, say: Say) -> tuple[str, ...]:
    size = f"{say.thickness(found.thick)} × {say.length(found.high)} × {say.up(found.end - found.start)}"
    told = [
        f"Straight and flat, {size}; edges of the studs and middles of the bores marked from the true-size strip.",
        f"Upper edge level at {say.height(found.up)}; shims as in the table, until a straightedge touches all along.",
        *cuts.ledger(design, say, found.wall),
    ]
    if found.screw_down is None:
        told.append(
            "The shelf is too thin to hide its screws: prop it off the floor, or stick it up with hot-melt or pads "
            "that are rated for more than it, block and drill weigh, tried first (common practice); or fill the holes."
        )
    else:
        told.append(
            f"One screw of 4 mm (No. 8) at most into each stud, {say.thickness(found.screw_down)} under the edge, "
            "beside the middle of the stud as drawn, predrilled: the shelf hides the holes."
        )
    if found.in_way:
        told.append(
            f"In its way: {', '.join(found.in_way)}. Cut the ledger or the block round it first."
        )
    return tuple(told)


def _comb(design: Design, found: Guide, say: Say) -> tuple[str, ...]:
    return (
        *_bar(found, say),
        *_own_combs(found, say),
        *_wedged(found),
        *cuts.nose_up(design, found.wall, say),
    )


def _bar(found: Guide, say: Say) -> tuple[str, ...]:
    """The comb bar, set by the long rods; it is bored for every rod that comes so far."""
    if found.comb_out is None:
        return ()
    bored = tuple(mark for mark, _ in found.in_bar)
    bars = " and ".join(say.length(bar) for bar in sorted({mark.bar for mark in bored}))
    size = f"{say.thickness(found.thick)} × {say.length(found.comb_high)} × {say.up(found.end - found.start)}"
    rods, alone = say.word("rods"), len(bored) == len(found.marks)
    which = "" if alone else f" for {listed([mark.rod for mark in bored])}"
    clear = f"clear of the {rods}" if alone else f"clear of the {rods} and of combs of their own"
    legs = (
        f"Two legs of {say.length(found.comb_out)}, {clear}, hold its back so far off the "
        "ledger's front, square to both; ends in line with the ledger's. Screwed on when all holes are bored."
    )
    return (
        f"{size}, bored{which} for bars of {bars} to a sliding fit; waxed, or the glue holds it.",
        legs,
    )


def _own_combs(found: Guide, say: Say) -> tuple[str, ...]:
    """Combs of rods that are too short for the bar, alike ones told together."""
    alike: dict[tuple[str, str, str, str], list[str]] = {}
    for mark in found.held("own"):
        high = found.own_high(mark)
        told = (
            f"{say.thickness(found.thick)} × {say.length(mark.wide)} × {say.length(high)} high",
            say.length(mark.bar),
            say.thickness(found.high + found.over),
            say.length(mark.packing) if mark.packing >= THIN else "",
        )
        alike.setdefault(told, []).append(mark.rod)
    first = " It goes on before the bar." if found.comb_out is not None else ""
    made = []
    for (size, bar, up, packing), marks in alike.items():
        whose = "has a comb of its own" if len(marks) == 1 else "have a comb each"
        why = "" if found.comb_out is None else ", too short for the bar,"
        between = (
            f"a packing of {packing} between, under the bar; two screws through both into the ledger"
            if packing
            else "its back on the ledger's front; two screws under the bar"
        )
        made.append(
            f"{listed(marks)}{why} {whose}: {size}, bored for {bar} in the middle of its width, {up} "
            f"over its lower edge. That edge in line with the ledger's, {between}.{first}"
        )
    return tuple(made)


def _wedged(found: Guide) -> tuple[str, ...]:
    """Rods that come no further out than a comb on the ledger."""
    marks = [mark.rod for mark in found.held("wedges")]
    if not marks:
        return ()
    told = (
        f"{listed(marks)}: too short for any comb. Three wedges as thick as the ring of adhesive, waxed, in the mouth "
        "of the hole; level and direction by a square off the ledger."
    )
    return (told,)


def told(plan: Plan, design: Design, say: Say) -> list[str]:
    """Return what `site` says of the guides of a shelf.

    Args:
        plan: the whole job.
        design: the shelf.
        say: how the job writes.
    """
    found = []
    for each in _of(plan, design):
        named = design.room.wall(each.wall).called
        stops = ", ".join(f"{m.rod} {say.bare(m.stop)}" for m in each.marks)
        found.append(
            f"  Guide on wall {named}: ledger's upper edge at {say.level(each.up)}, bore {say.thickness(each.over)} "
            f"over it, {_lean(each, say)}. Stop, from the front of the block to the cutting edges of the bit: {stops}"
        )
        found += [f"  {line}" for line in (*_own_combs(each, say), *_wedged(each))]
        if each.in_way:
            found.append(f"  in the way of the ledger on wall {named}: {', '.join(each.in_way)}")
    return found


def _of(plan: Plan, design: Design) -> list[Guide]:
    made = (
        guide_tiles.of_wall(plan, design, leave)
        for leave in leaves(plan, design)
        if isinstance(leave, Drill)
    )
    return [each for each in made if each is not None]


def document(plan: Plan, design: Design) -> list[Json]:
    """Return the guides of a shelf as JSON: of walls that may be drilled alone; lengths mm, angles rad.

    Args:
        plan: the whole job.
        design: the shelf.
    """
    return [
        {
            "wall": each.wall,
            "lean": number(each.lean),
            "ledger": {
                "up": number(each.up),
                "start": number(each.start),
                "end": number(each.end),
                "thick": number(each.thick),
                "high": number(each.high),
                "screw_down": None if each.screw_down is None else number(each.screw_down),
                "in_way": list(each.in_way),
            },
            "block": {
                "wide": number(each.wide),
                "deep": number(each.deep),
                "above": number(each.above),
                "over": number(each.over),
                "hangs": number(each.hangs),
            },
            "comb": {
                "out": None if each.comb_out is None else number(each.comb_out),
                "high": number(each.comb_high),
            },
            "marks": [
                {
                    "rod": mark.rod,
                    "along": number(mark.along),
                    "held": mark.held,
                    "comb": number(mark.comb),
                    "packing": number(mark.packing) if mark.held == "own" else None,
                    "bit": number(mark.bit),
                    "bar": number(mark.bar),
                    "shim": number(mark.gap),
                    "stop": number(mark.stop),
                }
                for mark in each.marks
            ],
        }
        for each in _of(plan, design)
    ]
