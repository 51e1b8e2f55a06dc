"""Pages for the saw: sheets, boards and bars cut up, and the labels of the parts."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from ledgewright.plan import Plan
from ledgewright.sheets.dressing import dressed
from ledgewright.sheets.model import (
    CutUp,
    Figure,
    Label,
    LabelSheet,
    LayoutSheet,
    Note,
    Picture,
    Table,
)
from ledgewright.sheets.say import Say
from ledgewright.sheets.skins import skin_lines, skin_ways
from ledgewright.shop import Bars, Boards, Cutting, Sheets, Strips
from ledgewright.shop.nest import Cut, CutBars, Layout, Nest, Offcut, Proof

LABELS = (
    "Sizes are finished, before the scribe. The arrow is the grain, or the length where there is none. Stick a label "
    "on the face and beside the edge it names, before the part leaves the saw."
)
NO_TABLE = Table((), (), (), ())
RULE = {
    "straight guide": "straight cuts through, with a guide",
    "panel saw": "straight cuts through, on a panel saw",
    "router": "freely placed, for a router",
}


def layout_name(sheets: Sheets, number: int) -> str:
    """Return the name of the drawing of one sheet: "layout birch ply 18 1"."""
    return f"layout {sheets.panel.name} {number}"


def layout_sheet(plan: Plan, sheets: Sheets, pictures: Sequence[Picture | None]) -> LayoutSheet:
    """Return how all sheets of one panel are cut up, with every cut in order.

    Args:
        plan: the whole job.
        sheets: of the panel.
        pictures: one for each of its sheets.
    """
    say, shop = Say.of(plan.job.meta), plan.job.shop
    drawn = zip(sheets.nest.layouts, pictures, strict=True)
    return LayoutSheet(
        title=say.word("Layout"),
        about=sheets.panel.name,
        unit=say.unit,
        facts=(
            Figure("To buy", _sizes(sheets.bought, say) or "none", "whole job"),
            Figure("From stock", _sizes(sheets.used, say) or "none", "on hand, used first"),
            Figure("Waste", f"{math.ceil(sheets.waste * 100)} %", "beside parts and what is kept"),
            Figure("Proof", proof_word(sheets), RULE[shop.saw]),
        ),
        before=before(plan, sheets),
        cut_up=tuple(
            _cut_up(plan, sheets, layout, number, picture, say)
            for number, (layout, picture) in enumerate(drawn, 1)
        ),
        notes=(*_left_out(sheets.nest), *_skins(plan, sheets)),
    )


def _skins(plan: Plan, sheets: Sheets) -> tuple[Note, ...]:
    """The ways to make the skins of an L that is cut from this panel."""
    name = sheets.panel.name
    ways = [
        way
        for design in plan.designs
        if name in (design.spec.skin_top.panel.name, design.spec.skin_bottom.panel.name)
        for way in skin_ways(plan, design, None)
    ]
    return (Note("Skins of an L, side by side", skin_lines(ways, plan)),) if ways else ()


def proof_word(sheets: Sheets) -> str:
    """Return what is proven of a layout: that nothing better exists, or how much might still be gained."""
    proof = sheets.nest.proof
    if sheets.nest.left:
        return "not all of it: what no sheet is large enough for is not counted here"
    if proof.proven:
        return "none cheaper will do" if sheets.by_price else "no fewer will do"
    return f"within {math.ceil(proof.gap * 100)} %" if math.isfinite(proof.found) else "none found"


def before(plan: Plan, sheets: Sheets) -> tuple[str, ...]:
    """Return what to know before the first cut: kerf, trim, the guide, faces, and what the proof rests on.

    Args:
        plan: the whole job.
        sheets: of one panel.
    """
    say, shop = Say.of(plan.job.meta), plan.job.shop
    straight = shop.saw != "router"
    kerf, trim = say.thickness(shop.kerf), say.thickness(shop.trim)
    lines = [f"Sizes are rough, as on the parts list. Kerf {kerf}, trim {trim} off every edge."]
    lines.append(f"Proof: {sheets.nest.proof.how}.")
    if straight:
        lines.append(
            "Cut in the order of the numbers. A setting is the width that is kept against the fence or under the "
            "guide, measured from the edge sawn last; saw a test piece and measure it."
        )
    else:
        lines.append(
            "Places are of the near left corner of each part from the near left corner of the sheet; the cutter runs "
            "outside the line. Leave tabs, so that no part comes loose under the cutter."
        )
    longest = max((c.length for x in sheets.nest.layouts for c in x.cuts), default=0.0)
    if shop.guide is not None and longest > shop.guide:
        lines.append(
            f"The guide allows {say.length(shop.guide)} in one setting; longer cuts are marked: set it twice."
        )
    if not sheets.turns:
        lines.append("The grain runs along the sheet; no part is turned against it.")
    if any(item.part.name.startswith("bottom") for item in sheets.items):
        lines.append("Good face up on the sheet: a bottom skin is drawn turned over.")
    return tuple(lines)


def _left_out(nest: Nest) -> tuple[Note, ...]:
    lines = tuple(
        f"{p.name}: larger than every sheet there is; it needs a joint." for p in nest.left
    )
    return (Note("Not cut", lines),) if lines else ()


def _sizes(sizes: Sequence[tuple[float, float, int]], say: Say) -> str:
    return ", ".join(f"{n} of {say.bare(w)} × {say.bare(l)}" for l, w, n in sizes)


def _cut_up(
    plan: Plan, sheets: Sheets, layout: Layout, number: int, picture: Picture | None, say: Say
) -> CutUp:
    sheet, shop = layout.sheet, plan.job.shop
    where = "to buy" if sheet.name == "bought" else "on hand"
    size = f"{say.bare(sheet.width)} × {say.bare(sheet.length)}"
    lines = [f"{kept_words(plan, layout)}."]
    lines += [
        f"{p.name} is an L: cut its outer rectangle, then its inside corner, stopped short and finished by hand."
        for p in layout.placed
        if p.notch is not None and shop.saw != "router"
    ]
    return CutUp(
        head=f"Sheet {number} of {len(sheets.nest.layouts)}: {size}, {where}",
        picture=picture,
        lines=tuple(lines),
        cuts=cut_table(plan, layout),
        pieces=NO_TABLE if layout.cuts else places(layout, say),
    )


def kept(plan: Plan, layout: Layout) -> tuple[tuple[str, Offcut], ...]:
    """Return the offcuts of a sheet that are worth keeping with their names, the largest first.

    Args:
        plan: the whole job.
        layout: of the sheet.
    """
    names, word = panel_names(plan, layout), Say.of(plan.job.meta).word("offcut")
    return tuple(
        (word if rest.panel is None else names[rest.panel], rest)
        for rest in layout.offcuts
        if rest.useful(plan.job.shop.offcut)
    )


def kept_words(plan: Plan, layout: Layout) -> str:
    """Return what is kept of a sheet, in words.

    Args:
        plan: the whole job.
        layout: of the sheet.
    """
    say, rests = Say.of(plan.job.meta), kept(plan, layout)
    sizes = (f"{name}, {say.bare(r.length)} × {say.bare(r.width)}" for name, r in rests)
    return f"Keep {'; '.join(sizes)}" if rests else "Nothing is left that is worth keeping"


def next_time(plan: Plan, sheets: Sheets) -> str:
    """Return the line that tells the next job of what is kept here; empty where nothing is.

    Args:
        plan: the whole job.
        sheets: of one panel.
    """
    say = Say.of(plan.job.meta)
    rests = [rest for layout in sheets.nest.layouts for _, rest in kept(plan, layout)]
    rows = ", ".join(
        f'["{sheets.panel.name}", [{say.written(r.width)}, {say.written(r.length)}], 1]'
        for r in rests
    )
    return f"on_hand = [{rows}]" if rows else ""


def cut_table(plan: Plan, layout: Layout) -> Table:
    """Return the cuts of one sheet in order, with the settings of the fence.

    Args:
        plan: the whole job.
        layout: of the sheet.
    """
    say, guide = Say.of(plan.job.meta), plan.job.shop.guide
    names = panel_names(plan, layout)
    return Table(
        heads=("Cut", "Of", "Saw runs", "Setting", "Run", "Gives", "Leaves"),
        widths=(12, 22, 36, 26, 26, 30, 30),
        figures=(0, 3, 4),
        keys=(3,),
        rows=tuple(
            (
                str(cut.number),
                names[cut.panel],
                _runs(cut, guide),
                say.bare(cut.setting),
                say.bare(cut.length),
                names[cut.makes[0]],
                "edge strip" if cut.why == "trim" else _name(names, cut.makes[1]),
            )
            for cut in layout.cuts
        ),
    )


def _name(names: dict[int, str], panel: int | None) -> str:
    return "nothing" if panel is None else names[panel]


def _runs(cut: Cut, guide: float | None) -> str:
    way = "along" if cut.axis == "along" else "across"
    twice = ", guide twice" if guide is not None and cut.length > guide else ""
    return f"{way} the sheet{twice}" if not twice else f"{way}{twice}"


def panel_names(plan: Plan, layout: Layout) -> dict[int, str]:
    """Return what every panel of a sheet is called.

    Args:
        plan: the whole job.
        layout: of the sheet.

    Returns:
        The sheet, a part, an offcut worth keeping with its number, waste, or a small letter.
    """
    ends, word = {cut.panel for cut in layout.cuts}, Say.of(plan.job.meta).word("offcut")
    useful = {r.panel for r in layout.offcuts if r.useful(plan.job.shop.offcut)}
    names, letters, rests = {0: "sheet"}, 0, 0
    for number in sorted(p for cut in layout.cuts for p in cut.makes if p is not None):
        part = layout.part_of(number)
        if number in ends:
            names[number], letters = _letter(letters), letters + 1
        elif part is not None:
            names[number] = part
        elif number in useful:
            rests += 1
            names[number] = f"{word} {rests}"
        else:
            names[number] = "waste"
    return names


def _letter(number: int) -> str:
    return chr(ord("a") + number % 26) * (number // 26 + 1)


def places(layout: Layout, say: Say) -> Table:
    """Return where the parts of a free layout lie.

    Args:
        layout: of the sheet.
        say: how the job writes.
    """
    return Table(
        heads=("Part", "From the left", "From the near edge", "Length × width", "Turned"),
        widths=(20, 30, 34, 50, 30),
        figures=(1, 2),
        rows=tuple(
            (
                p.name,
                say.bare(p.x),
                say.bare(p.y),
                f"{say.bare(p.length)} × {say.bare(p.width)}",
                ("no", "a quarter", "half round", "three quarters")[p.turn],
            )
            for p in layout.placed
        ),
    )


def lengths_sheet(plan: Plan, cutting: Cutting) -> LayoutSheet:
    """Return how boards are ripped and cut to length, and bars cut.

    Args:
        plan: the whole job.
        cutting: of the whole job.
    """
    say = Say.of(plan.job.meta)
    names = " and ".join(cutting.withheld)
    closed = f"Core and {say.word('rods')} of {names} are not in it: they come when the wall is confirmed."
    held = (Note("Withheld", (closed,)),) if names else ()
    left = tuple(f"{name}: {why}." for name, why in cutting.left)
    return LayoutSheet(
        title="Boards and bars",
        about="whole job",
        unit=say.unit,
        facts=(),
        before=(*_about_lengths(plan, say),),
        cut_up=(
            *(_of_boards(each, say) for each in cutting.boards),
            *(_of_bars(each, plan, say) for each in cutting.bars),
        ),
        notes=(*held, *((Note("Not cut", left),) if left else ())),
    )


def _about_lengths(plan: Plan, say: Say) -> tuple[str, ...]:
    kerf, rods = say.thickness(plan.job.shop.kerf), say.word("rods")
    sawn = (
        f"Kerf {kerf}. Boards are sawn sizes with one edge straightened first; strips are ripped, planed, then cut to "
        "length. Lengths are rough, as on the parts list."
    )
    spare = say.about(50.0)
    checked = f"Checked ends come off first: where less than {spare} is left, pick a board that runs over."
    kept = "Stock lengths are what suppliers usually keep (common practice); yours may differ."
    wait = f"Buy by this page, but cut no core before the readings of the {rods} are signed."
    first = plan.job.meta.order == "rods first"
    return (sawn, checked, kept, wait) if first else (sawn, checked, kept)


def _of_boards(boards: Boards, say: Say) -> CutUp:
    bought = ", ".join(f"{n} of {say.bare(length)}" for length, n in boards.bought)
    rip = [
        f"A board of {say.bare(length)}: rip {_list([say.bare(w) for _, w in bar.pieces])}."
        for length, cut in boards.ripped
        for bar in cut.bars
    ]
    narrow = any(_narrow(strip, boards) for strip in boards.strips)
    after = ("Parts with a width behind them are ripped to it once they are cut off.",)
    return CutUp(
        head=f"{boards.timber}, boards {board_words(boards.stock, say)}",
        picture=None,
        lines=(
            f"To buy: {bought}; {said_length(boards.proof)}.",
            *_counted(rip),
            *(after if narrow else ()),
        ),
        cuts=NO_TABLE,
        pieces=_lengths_table(
            [(_strip(s, say), s.cut, _narrow(s, boards)) for s in boards.strips], "Strip", say
        ),
    )


def board_words(stock: tuple[float, float], say: Say) -> str:
    """Return what a sawn board is called, so that nobody takes it for one that is planed to less.

    Source: common practice: hardwood is sold in quarters of an inch, rough; 4/4 is 1 in before it is planed.

    Args:
        stock: thickness and width as sawn (mm).
        say: how the job writes.
    """
    thick, width = stock
    if say.units == "in":
        return f"rough-sawn {thick / 25.4 * 4:.0f}/4, {say.length(width)} wide"
    return f"sawn {say.bare(thick)} × {say.bare(width)}"


def _narrow(strip: Strips, boards: Boards) -> dict[str, float]:
    """Labels of the parts that are cut out of strips wider than they are, with their width (mm)."""
    own = {item.label for item in strip.items}
    here = {label for bar in strip.cut.bars for label, _ in bar.pieces} - own
    return {i.label: i.section[0] for s in boards.strips for i in s.items if i.label in here}


def _strip(strip: Strips, say: Say) -> str:
    return f"{say.bare(strip.width)} × {say.bare(strip.thick)}"


def _of_bars(bars: Bars, plan: Plan, say: Say) -> CutUp:
    counted = _counted([say.bare(bar.bar.length) for bar in bars.cut.bars])
    return CutUp(
        head=bars.bar,
        picture=None,
        lines=(
            f"To buy: {_list(counted)}; {said_length(bars.cut.proof)}.",
            *dressed(plan, bars.bar, say),
        ),
        cuts=NO_TABLE,
        pieces=_lengths_table([("bar", bars.cut, {})], "Bar", say),
    )


def said_length(proof: Proof) -> str:
    """Return what is proven of lengths bought."""
    if proof.proven:
        return "no less will do"
    return f"within {math.ceil(proof.gap * 100)} % of the least length there could be"


def _counted(lines: Sequence[str]) -> list[str]:
    """Lines that are alike as one, with how many."""
    tally = {line: lines.count(line) for line in lines}
    return [line if n == 1 else f"{n} × {line}" for line, n in tally.items()]


def _list(texts: Sequence[str]) -> str:
    return " + ".join(_counted(texts))


def _lengths_table(
    cuts: Sequence[tuple[str, CutBars, Mapping[str, float]]], what: str, say: Say
) -> Table:
    def piece(label: str, length: float, narrow: Mapping[str, float]) -> str:
        rip = f" ({say.bare(narrow[label])} wide)" if label in narrow else ""
        return f"{label} {say.bare(length)}{rip}"

    rows = [
        (
            name,
            say.bare(bar.bar.length),
            _list([piece(label, length, narrow) for label, length in bar.pieces]),
            say.bare(bar.rest),
        )
        for name, cut, narrow in cuts
        for bar in cut.bars
    ]
    return Table(
        heads=(what, "Of length", "Cut, in this order", "Left"),
        widths=(32, 24, 98, 20),
        figures=(1, 3),
        rows=tuple(rows),
    )


def label_sheet(plan: Plan, cutting: Cutting) -> LabelSheet:
    """Return a label for every part that may be told, to be cut out and stuck on.

    Args:
        plan: the whole job.
        cutting: of the whole job.
    """
    say = Say.of(plan.job.meta)
    items = [i for s in cutting.sheets for i in s.items]
    items += [i for b in cutting.boards for s in b.strips for i in s.items]
    labels = []
    for item in items:
        part = item.part
        marks = "TOP · BACK"
        if part.kind == "skin":
            marks = (
                "show face up · BACK" if part.name.startswith("top") else "show face down · BACK"
            )
        count = part.count
        labels += [
            Label(
                label=item.label,
                whose=item.shelf,
                what=part.name if count == 1 else f"{part.name}, {k} of {count}",
                size=say.size(part.finished),
                of=part.of,
                marks=marks,
                grain=True,
            )
            for k in range(1, count + 1)
        ]
    labels += [
        Label(
            label=name,
            whose=plan.job.meta.name,
            what=f"kept of sheet {number}",
            size=f"{say.bare(rest.length)} × {say.bare(rest.width)}",
            of=sheets.panel.name,
            marks="",
            grain=not sheets.turns,
        )
        for sheets in cutting.sheets
        for number, layout in enumerate(sheets.nest.layouts, 1)
        for name, rest in kept(plan, layout)
    ]
    return LabelSheet(
        title="Labels",
        about="whole job",
        unit=say.unit,
        before=(LABELS,),
        labels=tuple(labels),
    )
