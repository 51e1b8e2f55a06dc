"""The answer of `cut`: sheets, boards and bars cut up; as text, as JSON and as a table of cuts."""

from __future__ import annotations

import csv
import io
import math
import textwrap
from collections.abc import Iterator
from typing import Any

from ledgewright.memo import Memo
from ledgewright.plan import Plan
from ledgewright.sheets.cutlist import plain
from ledgewright.sheets.documents import head, number
from ledgewright.sheets.layouts import (
    before,
    cut_table,
    kept_words,
    lengths_sheet,
    next_time,
    panel_names,
    places,
    proof_word,
)
from ledgewright.sheets.model import Table
from ledgewright.sheets.say import Say
from ledgewright.sheets.skins import SkinWay, skin_lines, skin_ways
from ledgewright.sheets.spoken import own_names
from ledgewright.shop import Bars, Boards, Cutting, Sheets
from ledgewright.shop.nest import CutBar, CutBars, Layout, Proof

Json = dict[str, Any]
EMPTY = Cutting((), (), (), (), ())


def whole(plan: Plan) -> bool:
    """Say whether every part that may be told is cut from something.

    Args:
        plan: the job worked through, with its cutting.
    """
    return plan.cutting is not None and not plan.cutting.left


def cut_text(plan: Plan, memo: Memo | None = None) -> str:
    """Return the answer of `cut` for people.

    Args:
        plan: the job worked through, with its cutting.
        memo: kept by the caller, to judge the other ways to make an L's skins; without it they are only cut.
    """
    say, cutting = Say.of(plan.job.meta, own_names(plan)), plan.cutting or EMPTY
    lines = [f"{plan.job.meta.name}: {say.word('layout')}", ""]
    for sheets in cutting.sheets:
        lines += [*_sheets(plan, sheets, say), ""]
    page = lengths_sheet(plan, cutting)
    for each in page.cut_up:
        lines += [each.head, *(f"  {line}" for line in each.lines), *_table(each.pieces), ""]
    ways = [way for design in plan.designs for way in skin_ways(plan, design, memo)]
    if ways:
        lines += [
            "Skins of an L, side by side",
            *(f"  {line}" for line in skin_lines(ways, plan)),
            "",
        ]
    for note in page.notes:
        lines += [note.head, *(f"  {line}" for line in note.lines), ""]
    return "\n".join(say.text(line) for line in lines[:-1]) + "\n"


def _sheets(plan: Plan, sheets: Sheets, say: Say) -> list[str]:
    sizes = [(n, l, w, "to buy") for l, w, n in sheets.bought]
    sizes += [(n, l, w, "on hand") for l, w, n in sheets.used]
    told = ", ".join(
        f"{n} sheet{'s' * (n > 1)} {say.bare(w)} × {say.bare(l)} {where}"
        for n, l, w, where in sizes
    )
    lines = [f"{sheets.panel.name}: {told or 'no sheet'} ({proof_word(sheets)})"]
    lines += [
        textwrap.fill(line, 96, initial_indent="  ", subsequent_indent="    ")
        for line in before(plan, sheets)
    ]
    for k, layout in enumerate(sheets.nest.layouts, 1):
        lines += ["", f"  Sheet {k}. {kept_words(plan, layout)}."]
        lines += _table(cut_table(plan, layout) if layout.cuts else places(layout, say))
    again = next_time(plan, sheets)
    return [*lines, "", f"  In the next job's [shop]: {again}"] if again else lines


def _table(table: Table) -> list[str]:
    """A table for a terminal, its figures set to the right."""
    if not table.rows:
        return []
    rows = [table.heads, *table.rows]
    widths = [max(len(row[k]) for row in rows) for k in range(len(table.heads))]
    return [
        "    "
        + "  ".join(
            cell.rjust(w) if k in table.figures else cell.ljust(w)
            for k, (cell, w) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in rows
    ]


def cut_document(plan: Plan, memo: Memo | None = None, *, judged: bool = True) -> Json:
    """Return the answer of `cut` as a JSON document.

    Args:
        plan: the job worked through, with its cutting.
        memo: kept by the caller, to judge the other ways to make an L's skins.
        judged: whether they are judged; else they are only cut.

    Returns:
        A document that keeps to `cut_schema`, in mm.
    """
    cutting = plan.cutting or EMPTY
    return {
        **head(plan.job),
        "rule": plan.job.shop.saw,
        "kerf": number(plan.job.shop.kerf),
        "trim": number(plan.job.shop.trim),
        "sheets": [_sheets_json(plan, each) for each in cutting.sheets],
        "boards": [_boards_json(each) for each in cutting.boards],
        "bars": [_bars_json(each) for each in cutting.bars],
        "parts": [
            {"label": i.label, "shelf": i.shelf, "name": i.part.name, "of": i.part.of}
            for i in _items(cutting)
        ],
        "skins": [
            _way(way) for d in plan.designs for way in skin_ways(plan, d, memo, judged=judged)
        ],
        "withheld": list(cutting.withheld),
        "left": [{"part": name, "why": why} for name, why in cutting.left],
    }


def _items(cutting: Cutting) -> Iterator[Any]:
    for sheets in cutting.sheets:
        yield from sheets.items
    for boards in cutting.boards:
        for strip in boards.strips:
            yield from strip.items
    for bars in cutting.bars:
        yield from bars.items


def _proof(proof: Proof) -> Json:
    return {
        "found": number(proof.found) if math.isfinite(proof.found) else None,
        "bound": number(proof.bound),
        "proven": proof.proven,
        "how": proof.how,
    }


def _sheets_json(plan: Plan, sheets: Sheets) -> Json:
    def sizes(of: tuple[tuple[float, float, int], ...]) -> list[Json]:
        return [{"length": number(l), "width": number(w), "count": n} for l, w, n in of]

    return {
        "panel": sheets.panel.name,
        "bought": sizes(sheets.bought),
        "on_hand": sizes(sheets.used),
        "waste": number(sheets.waste),
        "proof": _proof(sheets.nest.proof),
        "layouts": [_layout(plan, each) for each in sheets.nest.layouts],
    }


def _layout(plan: Plan, layout: Layout) -> Json:
    names = panel_names(plan, layout)
    return {
        "sheet": {
            "length": number(layout.sheet.length),
            "width": number(layout.sheet.width),
            "source": layout.sheet.name,
        },
        "placed": [
            {
                "part": p.name,
                "x": number(p.x),
                "y": number(p.y),
                "length": number(p.length),
                "width": number(p.width),
                "turn": p.turn,
            }
            for p in layout.placed
        ],
        "cuts": [
            {
                "number": c.number,
                "of": names[c.panel],
                "axis": c.axis,
                "setting": number(c.setting),
                "at": number(c.at),
                "start": number(c.start),
                "end": number(c.end),
                "gives": names[c.makes[0]],
                "leaves": None if c.makes[1] is None else names[c.makes[1]],
                "why": c.why,
            }
            for c in layout.cuts
        ],
        "offcuts": [
            {
                "x": number(o.x),
                "y": number(o.y),
                "length": number(o.length),
                "width": number(o.width),
                "keep": o.useful(plan.job.shop.offcut),
            }
            for o in layout.offcuts
        ],
    }


def _boards_json(boards: Boards) -> Json:
    return {
        "of": boards.timber,
        "thick": number(boards.stock[0]),
        "width": number(boards.stock[1]),
        "bought": [{"length": number(l), "count": n} for l, n in boards.bought],
        "strips": [
            {
                "width": number(s.width),
                "thick": number(s.thick),
                "proof": _proof(s.cut.proof),
                "bars": _cut_bars(s.cut),
            }
            for s in boards.strips
        ],
    }


def _bars_json(bars: Bars) -> Json:
    return {"of": bars.bar, "proof": _proof(bars.cut.proof), "bars": _cut_bars(bars.cut)}


def _cut_bars(cut: CutBars) -> list[Json]:
    return [_cut_bar(bar) for bar in cut.bars]


def _cut_bar(bar: CutBar) -> Json:
    return {
        "length": number(bar.bar.length),
        "pieces": [{"part": name, "length": number(length)} for name, length in bar.pieces],
        "left": number(bar.rest),
    }


def _way(way: SkinWay) -> Json:
    return {
        "shelf": way.shelf,
        "top": way.top,
        "bottom": way.bottom,
        "asked": way.asked,
        "sheets": way.sheets,
        "waste": None if way.waste is None else number(way.waste),
        "price": None if way.price is None else number(way.price),
        "verdict": way.verdict,
        "why": way.why,
    }


HEADS = ("of", "sheet", "cut", "panel", "axis", "setting_mm", "run_mm", "gives", "leaves")


def cuts_csv(plan: Plan) -> str:
    """Return every cut of the job as comma-separated values with a head line, lengths in mm to 0.01.

    Source: RFC 4180, as the parts list (see `parts_csv`). Lengths out of boards and bars stand behind the cuts of
    sheets: their setting is the length cut off, and gives is the part.

    Args:
        plan: the job worked through, with its cutting.
    """
    cutting = plan.cutting or EMPTY
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(HEADS)
    for sheets in cutting.sheets:
        for k, layout in enumerate(sheets.nest.layouts, 1):
            names = panel_names(plan, layout)
            for c in layout.cuts:
                left = "" if c.makes[1] is None else names[c.makes[1]]
                row = (sheets.panel.name, k, c.number, names[c.panel], c.axis)
                sizes = (f"{c.setting:.2f}", f"{c.length:.2f}")
                writer.writerow([*_cells(row), *sizes, *_cells((names[c.makes[0]], left))])
    for of, cut in _of_lengths(cutting):
        for k, bar in enumerate(cut.bars, 1):
            for n, (name, length) in enumerate(bar.pieces, 1):
                writer.writerow(
                    [*_cells((of, k, n, "", "across")), f"{length:.2f}", "", plain(name), ""]
                )
    return out.getvalue()


def _cells(row: tuple[object, ...]) -> list[str]:
    return [plain(str(each)) for each in row]


def _of_lengths(cutting: Cutting) -> Iterator[tuple[str, CutBars]]:
    for boards in cutting.boards:
        for strip in boards.strips:
            yield f"{boards.timber} {strip.width:.1f} x {strip.thick:.1f}", strip.cut
    for bars in cutting.bars:
        yield bars.bar, bars.cut
