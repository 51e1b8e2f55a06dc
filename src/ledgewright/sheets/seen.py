"""Every way that was looked at, and every other way to make the shelf, side by side: costs, blocks, openings."""

from __future__ import annotations

from collections.abc import Sequence

from ledgewright.fitting import Way
from ledgewright.judge import Alternative, Design, Option, alternatives, options
from ledgewright.memo import Memo
from ledgewright.plan import Plan
from ledgewright.sheets.answers import end_text, why_not
from ledgewright.sheets.blocked import eased_told, stops
from ledgewright.sheets.leaves import Held, held_marks, held_walls
from ledgewright.sheets.model import Picture, Table, WaySeen, WaysSheet
from ledgewright.sheets.opens import openings_told, option_text
from ledgewright.sheets.plainly import counted_apart, told_below
from ledgewright.sheets.say import Say
from ledgewright.sheets.stance import free_room
from ledgewright.sheets.waynames import option_name, titled, way_name
from ledgewright.statics import Drop
from ledgewright.units import show_area

_NONE = "none"
_BLANK = "–"


def compared(design: Design, others: Sequence[Option] = ()) -> bool:
    """Say whether there is anything to put side by side: more than one way to fit or to make it, or none that goes.

    Args:
        design: the shelf.
        others: from `others`.
    """
    return (
        len(design.ways.ways) > 1 or bool(others) or (design.way is None and bool(design.ways.ways))
    )


def others(plan: Plan, design: Design, memo: Memo) -> tuple[Option, ...]:
    """Return the other ways to make a shelf (see `judge.options`), without the one that it is.

    Args:
        plan: the whole job.
        design: the shelf.
        memo: kept by the caller: each is laid out, fitted and judged.
    """
    return tuple(
        each
        for each in options(plan.job, design, memo)
        if [d.spec for d in each.designs] != [design.spec]
    )


def ways_sheet(
    plan: Plan,
    design: Design,
    pictures: tuple[Picture | None, ...],
    memo: Memo,
    seen: Sequence[tuple[Option, Picture | None]] = (),
) -> WaysSheet:
    """Return the ways of one shelf, and the other ways to make it, side by side.

    Args:
        plan: the whole job.
        design: the shelf.
        pictures: one for each way, in the order of `design.ways`.
        memo: kept by the caller, for the core and the statics of the ways not chosen.
        seen: other ways to make it, each with its picture.
    """
    say = Say.of(plan.job.meta)
    rows = {row.way: row for row in alternatives(plan.job, design, memo)}
    return WaysSheet(
        title="Ways on, side by side",
        about=f"shelf {design.spec.title}",
        unit=say.unit,
        chosen=" ".join(filter(None, (_chosen(design), counted_apart(plan, design)))),
        ways=(
            *(
                WaySeen(
                    picture,
                    titled(way_name(design, way.id)),
                    _state(design, way),
                    _lines(way, say, held_marks(design, held_walls(plan, design))),
                )
                for way, picture in zip(design.ways.ways, pictures, strict=True)
            ),
            *(
                WaySeen(
                    picture, titled(option_name(each, say)), _goes(each), _about(plan, design, each)
                )
                for each, picture in seen
            ),
        ),
        costs=_costs(design, rows, [each for each, _ in seen], say, held_walls(plan, design)),
        opens=openings_told(plan, design, memo),
    )


def _goes(option: Option) -> str:
    """Whether it goes onto its rods, and if so whether it then holds and stays within its limits."""
    if not option.possible:
        return "BLOCKED"
    return "goes on, does not hold" if any(_fails(each) for each in option.designs) else "goes"


def _fails(design: Design) -> bool:
    drop = design.holds.drop
    far = drop is not None and any(
        at.value > at.limit for at in (drop.today, drop.long_term) if at.limit
    )
    return far or design.holds.verdict == "fails"


def _about(plan: Plan, design: Design, option: Option) -> tuple[str, ...]:
    title = _sentence(option_text(plan.job, design, option, held_walls(plan, design)))
    ends = tuple(_sentence(end_text(plan.job, end)) for end in option.ends)
    stuck = () if option.possible else (_sentence(told_below(why_not(option), plan)),)
    return (title, *ends, *stuck)


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}".rstrip(".") + "."


def _state(design: Design, way: Way) -> str:
    if way.id == design.ways.chosen:
        return "chosen"
    return "goes" if way.possible else "BLOCKED"


def _lines(way: Way, say: Say, hidden: frozenset[str]) -> tuple[str, ...]:
    if not way.possible:
        return tuple(stops(block, say, hidden) for block in way.blocked)
    count = len(way.moves)
    held = f"Hold-off {say.length(way.hold_off)}." if way.hold_off > 0 else "No hold-off."
    by_eye = () if way.guided else ("Held by eye: no rods guide it.",)
    eased = tuple(eased_told(each, say) for each in way.eased)
    return (f"{count} move{'s' if count > 1 else ''}. {held}", *by_eye, *eased)


def _chosen(design: Design) -> str:
    if design.way is None:
        return "No way goes as drawn. Nothing is built before one is open."
    return (
        f"This packet is made for the way “{titled(way_name(design, design.way.id))}”. The others are shown with what "
        "they would cost; to take one, change the job file and print again."
    )


def _costs(
    design: Design,
    rows: dict[str, Alternative],
    seen: Sequence[Option],
    say: Say,
    held: Held,
) -> Table:
    return Table(
        heads=(
            "Way",
            "Does it go",
            f"Cut for {say.word('rods')}",
            "Longest skin span",
            "Ribs cut",
            "Free room, most",
            "Drop, day one",
            "In ten years",
        ),
        widths=(38, 38, 20, 20, 14, 20, 20, 18),
        figures=(2, 3, 4, 5, 6, 7),
        rows=(
            *(_row(design, way, rows.get(way.id), say, held) for way in design.ways.ways),
            *(_option_row(each, say, held) for each in seen),
        ),
    )


def _row(
    design: Design, way: Way, row: Alternative | None, say: Say, held: Held
) -> tuple[str, ...]:
    name, state = titled(way_name(design, way.id)), _state(design, way)
    if row is None:
        by = f"blocked: {way.blocked[0].by}" if way.blocked else state
        return (name, by, *(_BLANK,) * 6)
    most = max((f.far for f in free_room(design, way)), default=0.0)
    return (
        name,
        state,
        show_area(way.loss.channel_area, say.units),
        "withheld" if held else say.bare(row.longest_span),
        str(row.ribs_cut) if row.ribs_cut else _NONE,
        say.up(most) if most else _NONE,
        *_drops(row.drop, say),
    )


def _option_row(option: Option, say: Say, held: Held) -> tuple[str, ...]:
    name = titled(option_name(option, say))
    if not option.possible:
        return (name, "blocked: see its picture", *(_BLANK,) * 6)
    most = max(
        (f.far for d in option.designs if d.way for f in free_room(d, d.way)),
        default=0.0,
    )
    return (
        name,
        _goes(option),
        show_area(option.channel_area, say.units),
        "withheld" if held else say.bare(option.longest_span or 0.0),
        str(option.ribs_cut) if option.ribs_cut else _NONE,
        say.up(most) if most else _NONE,
        *_drops(option.drop, say),
    )


def _drops(drop: Drop | None, say: Say) -> tuple[str, str]:
    if drop is None:
        return ("cannot say", "cannot say")
    return (say.drop(drop.today.value), say.drop(drop.long_term.value))
