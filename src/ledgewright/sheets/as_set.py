"""Rods as set: the card they are read on, and what the readings come to, for the terminal, the packet and JSON."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from ledgewright import site
from ledgewright.job import Bonded
from ledgewright.judge import Design
from ledgewright.plan import Plan
from ledgewright.sheets import bonded
from ledgewright.sheets.bounds import least, narrow, shown
from ledgewright.sheets.documents import number
from ledgewright.sheets.leaves import held_walls, named, open_notes
from ledgewright.sheets.model import AsSetCard, Figure, Table
from ledgewright.sheets.say import Say
from ledgewright.site import SHIM, Card, Drill, Off, Stand

Json = dict[str, Any]

SAID = {"go": "GO", "no go": "NO GO", "cannot say": "CANNOT SAY"}
OK = {True: "OK", False: "NO", None: ""}
WHAT = ("stick-out", "height at wall", "height at tip", "side at wall", "side at tip")


def state(design: Design) -> str:
    """Return whether a section is worked out as drawn or as set, in those words."""
    return "as set" if design.drawn else "as drawn"


def off(value: float, say: Say) -> str:
    """Return how far a figure is off (mm), with its sign, to 1/64 in or 0.1 mm."""
    text = say.caliper(abs(value))
    return "0" if text in ("0", "0.0") else ("+" if value > 0 else "−") + text


def bounds(of: Off, say: Say) -> str:
    """Return how far a figure may be off, rounded down, as "± 1/16" or "+ 1/2, − 1/8"."""
    low, high = (least(x, say) for x in (of.below, of.above))
    return f"± {high}" if low == high else f"+ {high}, − {low}"


def card(plan: Plan, design: Design, leave: Drill) -> AsSetCard:
    """Return the as-set card of a wall that may be drilled: blank to fill in, or as it was read.

    Args:
        plan: the whole job.
        design: the section.
        leave: leave to drill this wall.
    """
    say, wall = Say.of(plan.job.meta), design.room.wall(leave.wall)
    rows = [c for c in shown(plan, design) if c.wall == wall.id]
    read = design.drawn is not None
    return AsSetCard(
        title=f"{say.word('as set').replace(' ', '-').capitalize()} card, wall {wall.called}",
        about=f"shelf {design.spec.title}, {'as read' if read else 'to fill in'}",
        unit=say.unit,
        warning="" if read or plan.job.meta.order != "rods first" else _NOT_YET,
        facts=_facts(plan, design, say),
        how=(*_how(wall.tape_from, say, read=read), *_bonded(plan, design, wall.id)),
        rods=_table(rows, say),
        eats=_eaten(rows, say),
        together=(*(say.text(line) for line in told(plan, design)), *(() if read else _LATER)),
    )


_NOT_YET = "The core is not cut until these readings are in and signed"
_LATER = (
    "Write the readings into the job file, under [site], and run it again.",
    "It then says go or no go, what to shim, what to ease and which rod to reset.",
    "Read by, and on which day: ____________________________",
)


def _facts(plan: Plan, design: Design, say: Say) -> tuple[Figure, ...]:
    found = site.as_set(design, plan.job.meta.order)
    if found is None:
        return ()
    return (Figure("As they stand", SAID[found.go], "all rods together"),)


def _how(end: str, say: Say, *, read: bool) -> tuple[str, ...]:
    """Drawn figures are the drill card's, heights finer; what is off must not grow by their rounding."""
    rod = say.word("rod")
    finer = "" if say.units == "in" else " Heights finer than on the drill card."
    whole = "Drawn is as a tape shows it, heights finer; off is counted from the drawing before that rounding."
    return (
        f"Read after the comb is off, to the middle of the {rod}: to its edge, add half the bar.",
        f"Along from the {end} end of the wall: at its face, at the tip squared off the ledger; heights over datum.",
        f"{say.word('projection').capitalize()} from the face, along the {rod}.{finer}",
        *((whole,) if read else ()),
    )


def _bonded(plan: Plan, design: Design, wall: str) -> tuple[str, ...]:
    """What is in the wall, to be confirmed beside the readings: it goes into the job file with them."""
    kinds = "; ".join(bonded.to_confirm(plan, design, wall))
    return (
        (f"Bonded, to be confirmed (else write what is in the wall): {kinds}. [ ] so",)
        if kinds
        else ()
    )


def _table(rows: list[Card], say: Say) -> Table:
    made: list[tuple[str, ...]] = []
    for c in rows:
        figures = c.figures
        made.append((c.mark, "drawn", *_drawn(figures, say), ""))
        made.append(("", "allowed", *(bounds(f, say) for f in figures), ""))
        if c.ok is None:
            made.append(("", "read", "", "", "", "", "", "[]"))
            continue
        made.append(
            (
                "",
                "read",
                *(say.caliper(f.read if f.read is not None else 0.0) for f in figures),
                OK[c.ok],
            )
        )
        made.append(("", "off", *(off(f.off, say) + ("" if f.ok else " NO") for f in figures), ""))
    return Table(
        heads=(
            say.word("Rod"),
            "",
            say.word("projection").capitalize(),
            "Height at wall",
            "Height at tip",
            "Side at wall",
            "Side at tip",
            "OK / no",
        ),
        widths=(13, 18, 30, 27, 27, 27, 27, 17),
        figures=(),
        rows=tuple(made),
        keys=(0,),
    )


def _drawn(figures: Sequence[Off], say: Say) -> tuple[str, ...]:
    """As drill card and set card have them: heights finer, since so little of them is allowed."""
    return tuple(
        say.caliper(each.drawn) if what.startswith("height") else say.bare(each.drawn)
        for what, each in zip(WHAT, figures, strict=True)
    )


def _eaten(rows: list[Card], say: Say) -> tuple[str, ...]:
    """What leaves no more, said once for all rods alike."""
    by: dict[tuple[str, str, str], list[str]] = {}
    for c in rows:
        by.setdefault(c.allowed.eats, []).append(c.mark)
    out = say.word("projection").capitalize()
    return tuple(
        f"{', '.join(marks)}. Aside: {eats[0]}. Up and down: {eats[1]}. {out}: {eats[2]}."
        for eats, marks in by.items()
    )


def allowance(plan: Plan, design: Design, leave: Drill) -> str:
    """Return in one line what is allowed on a wall, the least of its rods, for the set card.

    Args:
        plan: the whole job.
        design: the section.
        leave: leave to drill this wall.
    """
    say = Say.of(plan.job.meta)
    rows = [c.allowed for c in shown(plan, design) if c.wall == leave.wall]
    if not rows:
        return ""
    side, up = min(a.side for a in rows), min(a.up for a in rows)
    return (
        f"Every {say.word('rod')}, at the face and at its tip: {least(side, say)} aside, {least(up, say)} up or "
        "down, no more; read on the as-set card."
    )


def told(plan: Plan, design: Design) -> tuple[str, ...]:
    """Return what the readings of a section come to, in sentences: of each by itself until every rod is read.

    Args:
        plan: the whole job.
        design: the section.
    """
    found = site.as_set(design, plan.job.meta.order)
    say, held = Say.of(plan.job.meta), held_walls(plan, design)
    if found is None:
        so_far = open_notes(site.told(design, plan.job.meta.order), design, held)
        return (*so_far, *bonded.taken(plan, design), *narrow(plan, design))
    if held:
        return (f"What the readings come to is withheld with {named(design, held)}.",)
    lines = [_head(found.go, plan), *bonded.taken(plan, design)]
    lines += [f"Against it: {say.sizes(why)}." for why in found.why]
    lines += _apart(found.cards)
    lines.append(_stood(found.stand, say))
    lines += [
        f"Ease the slot of {m.mark} by {say.up(m.by)} "
        + ("at its end." if m.side == "end" else f"on its {m.side} side, at the {m.at}.")
        for m in found.misses
    ]
    if found.hang is not None:
        lines.append(
            f"Or hang the whole shelf where they stand: {_moved(found.hang, say)}; every slot then fits as cut. Scribe "
            "and ends are marked there anew."
        )
    if found.reset:
        lines.append(
            f"Reset {' or '.join(found.reset)}: without it the others go. A bonded {say.word('rod')} does not come "
            "out: saw it off flush, mark its hole dead, and go on as the drill card says of a lost hole."
        )
    lines += _shims(found.cards, say)
    return tuple(lines)


def _head(go: str, plan: Plan) -> str:
    first = plan.job.meta.order == "rods first"
    does = "cut the core and its slots to them" if first else "hang it"
    return {
        "go": f"GO: they go on and hold as they stand; {does}.",
        "no go": "NO GO: do not cut and do not hang anything on these as they stand.",
        "cannot say": "CANNOT SAY: nobody can say so far whether it holds as they stand; do not load it.",
    }[go]


def _apart(cards: tuple[Card, ...]) -> list[str]:
    out = [c.mark for c in cards if c.ok is False]
    if not out:
        return []
    one = "is" if len(out) == 1 else "are"
    said = f"{', '.join(out)} {one} further off than was allowed beforehand"
    return [f"{said}. What is said here is worked out with all of them where they really are."]


def _stood(stand: Stand, say: Say) -> str:
    front, right = stand.rises
    return (
        f"All together they stand {_moved(stand, say)}, {off(stand.up, say)} in height. The shelf will lie with its "
        f"front {_level(front, say)} and its right end {_level(right, say)}."
    )


def _level(rise: float, say: Say) -> str:
    text = say.caliper(abs(rise))
    if text in ("0", "0.0"):
        return "level"
    return f"{text} {'higher' if rise > 0 else 'lower'}"


def _moved(stand: Stand, say: Say) -> str:
    side = "right" if stand.along >= 0 else "left"
    way = "off" if stand.out >= 0 else "toward"
    turned = math.degrees(stand.turn)
    return (
        f"{say.caliper(abs(stand.along))} to the {side}, {say.caliper(abs(stand.out))} {way} the wall, turned "
        f"{abs(turned):.2f} degrees to the {'left' if turned >= 0 else 'right'} seen from above"
    )


def _shims(cards: tuple[Card, ...], say: Say) -> list[str]:
    rows = [
        f"{c.mark} {say.caliper(c.shim[0])} at the wall, {say.caliper(c.shim[1])} at the tip"
        for c in cards
        if c.shim is not None and max(c.shim) >= SHIM
    ]
    if not rows:
        return []
    said = f"Shim on top, in the slot, so that these carry from the first day: {'; '.join(rows)}"
    return [
        f"{said}. Unshimmed the shelf comes down on them as it is loaded; the answer counts on no shim.",
    ]


def lines(plan: Plan) -> list[str]:
    """Return what `site` says of tolerances and of rods as set, shelf by shelf.

    Args:
        plan: the whole job.
    """
    say, found = Say.of(plan.job.meta), []
    for design in plan.designs:
        cards = shown(plan, design)
        if not cards:
            continue
        found += [
            "",
            f"Shelf {design.spec.title}, {say.word('rods')} {state(design)}:",
        ]
        heads = (say.word("rod"), *WHAT, "")
        read = any(c.ok is not None for c in cards)
        rows = [(c.mark, *(_read(f, say) for f in c.figures), OK[c.ok]) for c in cards]
        found.append(
            "  off by (and what was allowed), to the right, up and out counted plus:"
            if read
            else "  each may be off by, all at once:"
        )
        widths = [max(len(r[k]) for r in (heads, *rows)) for k in range(len(heads))]
        found += [
            "  " + "  ".join(c.ljust(w) for c, w in zip(row, widths, strict=True)).rstrip()
            for row in (heads, *rows)
        ]
        found += [f"  {line}" for line in _eaten(list(cards), say)]
        found += [f"  {line}" for line in told(plan, design)]
    return found


def _read(figure: Off, say: Say) -> str:
    """How far a figure is off, and may be; what it may be alone until it is read."""
    if figure.read is None:
        return bounds(figure, say)
    return f"{off(figure.off, say)} ({bounds(figure, say)})"


def document(plan: Plan, design: Design) -> Json:
    """Return tolerances and rods as set of a section as JSON; rods of withheld walls are left out.

    Args:
        plan: the whole job.
        design: the section.
    """
    held = held_walls(plan, design)
    found = site.as_set(design, plan.job.meta.order)
    return {
        "id": design.spec.id,
        "rods_are": state(design),
        "withheld": sorted(held),
        "go": found.go if found else None,
        "told": list(told(plan, design)),
        "rods": [
            {**_rod(c), "bonded": _in_wall(bonded.read(plan, design, c.rod))}
            for c in shown(plan, design)
        ],
        "stand": _stand(found.stand) if found and not held else None,
        "hang": _stand(found.hang) if found and found.hang and not held else None,
        "ease": [
            {"rod": m.mark, "side": m.side, "at": m.at, "by": number(m.by)}
            for m in (found.misses if found and not held else ())
        ],
        "reset": list(found.reset) if found and not held else [],
    }


def _rod(c: Card) -> Json:
    names = ("out", "up_wall", "up_tip", "side_wall", "side_tip")
    return {
        "rod": c.mark,
        "ok": c.ok,
        **{name: _off(f) for name, f in zip(names, c.figures, strict=True)},
        "eats": {"side": c.allowed.eats[0], "up": c.allowed.eats[1], "out": c.allowed.eats[2]},
        "wood_beside": None if c.beside is None else number(c.beside),
        "embedment": None if c.embedment is None else number(c.embedment),
        "shim": None if c.shim is None else [number(x) for x in c.shim],
    }


def _in_wall(of: Bonded | None) -> Json | None:
    if of is None:
        return None
    return {
        "stock": of.bar.name,
        "length": number(of.length),
        "embedment": number(of.embedment),
        "hole": number(of.hole),
        "adhesive": of.adhesive.name,
    }


def _off(of: Off) -> Json:
    return {
        "drawn": number(of.drawn),
        "read": None if of.read is None else number(of.read),
        "off": number(of.off),
        "below": number(of.below),
        "above": number(of.above),
    }


def _stand(of: Stand) -> Json:
    return {
        "along": number(of.along),
        "out": number(of.out),
        "up": number(of.up),
        "turn": number(of.turn),
        "front_higher": number(of.rises[0]),
        "right_higher": number(of.rises[1]),
    }
