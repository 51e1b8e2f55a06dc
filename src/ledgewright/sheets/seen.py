"""Every way that was looked at, side by side: what each costs, what blocks it, what would open one."""

from __future__ import annotations

from ledgewright.fitting import Way, WayKind
from ledgewright.judge import Alternative, Design, alternatives
from ledgewright.memo import Memo
from ledgewright.plan import Plan
from ledgewright.sheets.answers import opening_text
from ledgewright.sheets.blocked import stops
from ledgewright.sheets.leaves import Held, held_marks, held_walls
from ledgewright.sheets.model import Picture, Table, WaySeen, WaysSheet
from ledgewright.sheets.say import Say
from ledgewright.sheets.stance import free_room
from ledgewright.units import show_area

_NONE = "none"


def compared(design: Design) -> bool:
    """Say whether there is anything to put side by side: more than one way, or none that goes."""
    return len(design.ways.ways) > 1 or (design.way is None and bool(design.ways.ways))


def ways_sheet(
    plan: Plan, design: Design, pictures: tuple[Picture | None, ...], memo: Memo
) -> WaysSheet:
    """Return the ways of one shelf side by side.

    Args:
        plan: the whole job.
        design: the shelf.
        pictures: one for each way, in the order of `design.ways`.
        memo: kept by the caller, for the core and the statics of the ways not chosen.
    """
    say = Say.of(plan.job.meta)
    rows = {row.way: row for row in alternatives(plan.job, design, memo)}
    return WaysSheet(
        title="Ways on, side by side",
        about=f"shelf {design.spec.id}",
        unit=say.unit,
        chosen=_chosen(design),
        ways=tuple(
            WaySeen(
                picture,
                named(design, way),
                _state(design, way),
                _lines(way, say, held_marks(design, held_walls(plan, design))),
            )
            for way, picture in zip(design.ways.ways, pictures, strict=True)
        ),
        costs=_costs(design, rows, say, held_walls(plan, design)),
        opens=_opens(plan, design),
    )


def named(design: Design, way: Way) -> str:
    """Return the name of a way in plain words, with the letter of the wall it begins on."""
    first = {"first-left": 0, "first-right": -1}
    if way.kind in first:
        legs = design.frame.legs
        wall = design.room.wall(legs[first[way.kind]].wall)
        return f"Wall {wall.mark} first"
    words: dict[WayKind, str] = {"straight": "Straight in", "diagonal": "Diagonal, into the corner"}
    return "Straight in, aslant" if way.id == "straight-aslant" else words.get(way.kind, way.id)


def _state(design: Design, way: Way) -> str:
    if way.id == design.ways.chosen:
        return "chosen"
    return "goes" if way.possible else "BLOCKED"


def _lines(way: Way, say: Say, hidden: frozenset[str]) -> tuple[str, ...]:
    if not way.possible:
        return tuple(stops(block, say, hidden) for block in way.blocked)
    count = len(way.moves)
    held = f"Hold-off {say.length(way.hold_off)}." if way.hold_off > 0 else "No hold-off."
    by_eye = ("Held by eye: no rods guide it.",) if way.kind == "diagonal" else ()
    return (f"{count} move{'s' if count > 1 else ''}. {held}", *by_eye)


def _chosen(design: Design) -> str:
    if design.way is None:
        return "No way goes as drawn. Nothing is built before one is open."
    return (
        f"{named(design, design.way)} is the way this packet is made for. The others are shown with what they "
        "would cost; to take one, change the job file and print again."
    )


def _costs(design: Design, rows: dict[str, Alternative], say: Say, held: Held) -> Table:
    going = [way for way in design.ways.ways if way.id in rows]
    return Table(
        heads=(
            "Way",
            f"Cut for {say.word('rods')}",
            f"Widest {say.word('channel')}",
            "Longest skin span",
            "Ribs cut",
            "Free room, most",
            "Drop, day one",
        ),
        widths=(40, 26, 26, 26, 18, 28, 26),
        figures=(1, 2, 3, 4, 5, 6),
        rows=tuple(_row(design, way, rows[way.id], say, held) for way in going),
    )


def _row(design: Design, way: Way, row: Alternative, say: Say, held: Held) -> tuple[str, ...]:
    most = max((f.far for f in free_room(design, way)), default=0.0)
    return (
        named(design, way),
        show_area(way.loss.channel_area, say.units),
        say.bare(way.loss.widest),
        "withheld" if held else say.bare(row.longest_span),
        str(row.ribs_cut) if row.ribs_cut else _NONE,
        say.up(most) if most else _NONE,
        say.drop(row.drop.today.value) if row.drop else "cannot say",
    )


def _opens(plan: Plan, design: Design) -> tuple[str, ...]:
    if design.way is not None:
        return ()
    if not design.openings:
        return (
            "No single change was found that opens a way: think of two sections, or of another place.",
        )
    told = (opening_text(plan.job, design, opening) for opening in design.openings)
    return tuple(
        f"{text[:1].upper()}{text[1:]}. Tried: it goes; run the check again." for text in told
    )
