"""The quote and the choices for the client, and the price page that the client never sees."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from ledgewright import draw, layout
from ledgewright.judge import Design
from ledgewright.sheets import glued_in
from ledgewright.sheets.at_home import filler_strips
from ledgewright.sheets.backs import gap_said
from ledgewright.sheets.model import Figure, FormPart, FormSheet, Picture, Table
from ledgewright.sheets.say import Say
from ledgewright.sheets.shop_answer import price_rows, troubles
from ledgewright.sheets.shopping import shopping
from ledgewright.sheets.shopside import Side, final, money, percent, unconfirmed
from ledgewright.shop import Priced, hour_lines

TERMS = (
    (0.50, "with the signed choices and sample"),
    (0.40, "when the rods are set"),
    (0.10, "at the walk-through"),
)
"""Share of the total and when it is due (common practice)."""
VALID_DAYS = 30
SAMPLE = (65.0, 35.0)
"""Width and height of the place for a finish sample (mm)."""
EXCLUDED = (
    "Pipes, cables and ducts found in the wall, and moving them.",
    "Framing that turns out bad, missing or elsewhere than told.",
    "Patching and painting beyond the band that the shelf hides.",
    "An electrician, and lights, unless they stand under the scope.",
    "An engineer, consents and permits.",
    "Work out of hours, parking, and more visits than planned that are not of our making.",
)


def price_sheet(side: Side) -> FormSheet:
    """Return how the price comes about, for the shop alone.

    Args:
        side: the shop's side of the job.
    """
    work, p = side.work, side.work.priced
    figures = (
        Figure(
            "Price", money(side, p.total) if p else "None", f"{_tax(p)}, rounded up" if p else ""
        ),
        Figure("Hours, hands on", f"{work.hours:.1f} h", "one trained person"),
        Figure("Mark-up", percent(p.mark_up_share), f"a margin of {percent(p.margin_of_mark_up)}")
        if p
        else Figure("Mark-up", "–", ""),
        Figure("Net margin", percent(p.net_margin_share), "of the price before tax")
        if p
        else Figure("Net margin", "–", ""),
    )
    return FormSheet(
        title="Price",
        about="for the shop",
        unit=side.say.unit,
        warning="For the shop. This page never goes to the client.",
        intro="",
        facts=figures,
        parts=(
            *((FormPart("Not final", lines=final(side)),) if final(side) else ()),
            *(
                (FormPart("Cannot be done like this", lines=troubles(side)),)
                if troubles(side)
                else ()
            ),
            *((FormPart("How the price comes about", tables=(_rows(side),)),) if p else ()),
            FormPart("What the job is charged", tables=(_lines(side),)),
            FormPart("Hours, hands on", tables=(_hours(side),), whole=True),
        ),
    )


def _rows(side: Side) -> Table:
    prices = side.plan.job.shop.prices
    money_of = prices.currency if prices else ""
    return Table(("What", money_of), (140, 30), (1,), price_rows(side))


def _lines(side: Side) -> Table:
    return Table(
        heads=("What", "For", "Quantity", "Unit", "Each", "Together"),
        widths=(56, 26, 22, 20, 26, 28),
        figures=(2, 4, 5),
        rows=tuple(
            (
                f"{x.what} *" if x.placeholder else x.what,
                x.use,
                "withheld" if x.quantity is None else _amount(x.quantity),
                x.unit,
                "no price" if x.each is None else f"{x.each:,.2f}",
                "–" if x.total is None else f"{x.total:,.2f}",
            )
            for x in shopping(side)
            if x.unit
        ),
    )


def _amount(value: float) -> str:
    return f"{value:.3g}" if value < 100 else f"{value:.0f}"


def _hours(side: Side) -> Table:
    rows = [(what, f"{h:.2f}") for what, h in hour_lines(side.work.tasks) if h > 0]
    half = math.ceil(len(rows) / 2)
    left, right = rows[:half], [*rows[half:], *[("–", "–")] * (2 * half - len(rows))]
    return Table(
        heads=("Work", "Hours", "Work", "Hours"),
        widths=(68, 17, 68, 17),
        figures=(1, 3),
        rows=tuple((*a, *b) for a, b in zip(left, right, strict=True)),
    )


def quote_sheet(side: Side) -> FormSheet:
    """Return the quote: scope, price, terms, what is not in it; never an hour, a rate or a mark-up.

    While a price is a placeholder, the design is not shown to hold, or a wall is not confirmed, it says so across the
    head of the page and has no line to sign on.

    Args:
        side: the shop's side of the job.
    """
    job, why = side.plan.job, final(side)
    meta = job.meta
    return FormSheet(
        title="Quote" if not why else "Quote, draft",
        about=meta.client or meta.name,
        unit=side.say.unit,
        warning=_not_final(side),
        intro=f"{meta.name}, {meta.place}." if meta.place else f"{meta.name}.",
        facts=_totals(side),
        parts=(
            FormPart("What you get", lines=_scope(side)),
            FormPart("Not in it", lines=EXCLUDED),
            FormPart(
                "When it is paid",
                tables=(_terms(side),) if side.work.priced else (),
                lines=() if side.work.priced else ("To be said with the price.",),
            ),
            FormPart(
                "How long it stands",
                lines=(
                    (
                        f"Valid for {VALID_DAYS} days from the day written below. It rests on the walls being as they "
                        "were told; what we find otherwise we show you, and agree on before we go on."
                    ),
                ),
            ),
            _signed(why),
        ),
    )


def _not_final(side: Side) -> str:
    """The first of what keeps it from being final, in a few words."""
    if side.work.priced is None:
        return "Not a quote: there is no price"
    if side.work.placeholders:
        return "Not a quote: placeholder prices"
    if side.plan.verdict != "passes":
        return "Not a quote: the shelf is not shown to hold"
    return f"Not a quote: {unconfirmed(side.plan, side.held)}" if side.held else ""


def _totals(side: Side) -> tuple[Figure, ...]:
    p = side.work.priced
    if p is None:
        return (Figure("Price", "None yet", ""),)
    return (Figure("Price", money(side, p.total), _tax(p)),)


def _tax(p: Priced) -> str:
    return "tax included" if p.tax_on_price or p.tax_on_materials else "no tax is charged"


def _scope(side: Side) -> tuple[str, ...]:
    say, lines = side.say, []
    for shelf, sections in _shelves(side).items():
        frame = sections[0].frame
        lines.append(
            f"Shelf {shelf}: {_lengths(side, sections)}, {_deep(side, sections)}, "
            f"{say.length(frame.thick)} thick, top at {say.length(frame.top)}; "
            f"{_woods(sections[0])}, {_finish(sections[0])}."
        )
    rods = sum(len(design.frame.rods) for design in side.plan.designs)
    if rods:
        lines.append(
            f"{rods} steel {say.word('rods').removeprefix('steel ')} bonded into the framing, no bracket in sight; a "
            "lock against lifting off where drawn."
        )
    lines += [
        f"Shelf {shelf} is glued onto its {say.word('rods')} for good: it does not come off again."
        for shelf, sections in _shelves(side).items()
        if glued_in.stays(sections)
    ]
    lines += [
        "Site measure, drawing, a finish sample, making, delivery, hanging, a load test, written down.",
        "A page for the owner: what it may carry, what it is not for, when to look again.",
    ]
    return tuple(lines)


def _woods(design: Design) -> str:
    spec = design.spec
    skins = dict.fromkeys((spec.skin_top.panel.name, spec.skin_bottom.panel.name))
    return f"{' and '.join(skins)} with edging of {spec.edging.name}"


def _finish(design: Design) -> str:
    spec = design.spec
    return f"{spec.finish}, {spec.coats} coat{'s' * (spec.coats != 1)}"


def _terms(side: Side) -> Table:
    """Parts of the total that add up to it to the cent."""
    total = side.work.priced.total if side.work.priced else 0.0
    parts = [round(total * share, 2) for share, _ in TERMS[:-1]]
    parts.append(round(total - sum(parts), 2))
    return Table(
        heads=("Part", "Due", "Amount"),
        widths=(20, 100, 40),
        figures=(2,),
        rows=tuple(
            (percent(share), due, money(side, amount))
            for (share, due), amount in zip(TERMS, parts, strict=True)
        ),
    )


def _signed(why: tuple[str, ...]) -> FormPart:
    """Where it is signed, or what keeps it from being final; the names of rates and prices stay with the shop."""
    if why:
        lines = tuple(_capital(each.partition(":")[0]) for each in why)
        return FormPart("Before this can be a quote", lines=lines)
    return FormPart("Agreed", blanks=("Day", "For the shop", "Client"))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:] + "."


def choices_sheet(side: Side, picture: Picture | None) -> FormSheet:
    """Return what the client chooses and signs, with a place for the finish sample.

    Args:
        side: the shop's side of the job.
        picture: the place for the sample.
    """
    return FormSheet(
        title="Choices",
        about="for the client to sign",
        unit=side.say.unit,
        warning="",
        intro="Tick what is right, write beside it what is not. We begin when this page is signed.",
        facts=(),
        parts=(
            *(
                FormPart(f"Shelf {shelf}", tables=(_choices(side, sections),))
                for shelf, sections in _shelves(side).items()
            ),
            FormPart(
                "Finish sample",
                lines=(
                    "On the wood of the shelf, with every coat; wood and light change it, this piece decides.",
                ),
                picture=picture,
            ),
            FormPart(
                "What stands on it",
                lines=(
                    "It carries what is written on the owner's page and no more. Nobody sits, steps or climbs on it.",
                ),
                blanks=("The heaviest things, and where; anything hot, wet or alive near it",),
            ),
            FormPart("Signed", blanks=("Client, day", "For the shop, day")),
        ),
    )


def _shelves(side: Side) -> dict[str, tuple[Design, ...]]:
    """The sections of each whole shelf, by its id."""
    found: dict[str, tuple[Design, ...]] = {}
    for design in side.plan.designs:
        part = design.spec.section
        name = part.of if part else design.spec.id
        found[name] = (*found.get(name, ()), design)
    return found


def _lengths(side: Side, sections: Sequence[Design]) -> str:
    legs = [leg for design in sections for leg in design.frame.legs]
    said = " and ".join(side.say.length(leg.end - leg.start) for leg in legs)
    return f"{said} long{', in two sections' if len(sections) > 1 else ''}"


def _deep(side: Side, sections: Sequence[Design]) -> str:
    return side.say.deep(
        [(d.room.wall(leg.wall).mark, leg.depth) for d in sections for leg in d.frame.legs]
    )


def _choices(side: Side, sections: Sequence[Design]) -> Table:
    design = sections[0]
    say, spec, frame = side.say, design.spec, design.frame
    gap = "" if spec.back == "tight" else gap_said(design, say)
    backs = {
        "tight": "scribed tight to the wall",
        "caulk": f"a caulked gap of {gap}",
        "shadow gap": f"a shadow gap of {gap}",
    }
    groove = spec.groove
    light = (
        f"a groove {say.length(groove.width)} wide underneath, {say.length(groove.from_front)} from the front"
        if groove
        else "none"
    )
    nose = f", front set {say.length(spec.nose_up)} up" if spec.nose_up else ""
    free = "its filler strips are cut free and " if any(map(filler_strips, sections)) else ""
    rows = (
        ("Top of the shelf", f"{say.length(frame.top)} above {side.plan.job.tapes.datum}{nose}"),
        (
            "Size",
            f"{_lengths(side, sections)}, {_deep(side, sections)}, {say.length(frame.thick)} thick",
        ),
        ("Faces and edge", _woods(design)),
        ("Finish", _finish(design)),
        ("Back edge", backs[spec.back]),
        *_ends(sections, say),
        ("Light and cable", light + (f"; {len(spec.cables)} cable ways" if spec.cables else "")),
        ("How it comes off", glued_in.choice(sections, free, say)),
    )
    return Table(
        heads=("What", "As drawn", "Right"),
        widths=(38, 118, 16),
        figures=(),
        rows=tuple((*row, "[]") for row in rows),
    )


def _ends(sections: Sequence[Design], say: Say) -> Iterator[tuple[str, str]]:
    """How an end that meets a wall meets it."""
    fits = [fit for each in sections for fit in layout.end_fits(each.room, each.spec)]
    if not fits:
        return
    widths = [width for fit in fits for width in (fit.back, fit.front)]
    low, high = (say.length(width) for width in (min(widths), max(widths)))
    wide = low if low == high else f"{low} to {high}"
    yield (
        "Ends at a wall",
        {
            "tight": "scribed tight to the wall",
            "caulk": f"cut square, a caulked gap of {wide}",
            "filler": f"cut square, a filler strip of {sections[0].spec.edging.name} {wide} wide",
        }[fits[0].how],
    )


def sample_place() -> draw.Drawing:
    """Return the place for a finish sample at full size: an empty box with a word in its corner."""
    wide, high = SAMPLE
    ring = ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))
    items: tuple[draw.Item, ...] = (
        draw.Polyline("seen", ring, closed=True),
        draw.Text((2.5, high - 2.5), "sample", 3.2, "start", "head"),
    )
    return draw.fit(
        "Finish sample",
        "An empty box to fix the finish sample in",
        lambda _: list(items),
        SAMPLE_BOX,
    )


SAMPLE_BOX = (SAMPLE[0] + 4, SAMPLE[1] + 4)
