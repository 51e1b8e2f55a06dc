"""The pages of a search: the choices with price against drop, and what one change does."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from contextlib import suppress
from textwrap import shorten

from ledgewright import draw
from ledgewright.choose import Choice, Choices, Figures, Tried, WhatIf
from ledgewright.plan import Chosen
from ledgewright.sheets import pictures, views
from ledgewright.sheets.choose_answer import door_lines, unsaid_words
from ledgewright.sheets.chosen_words import (
    QUESTIONS,
    ChosenWords,
    accepted_note,
    carries_note,
    left_out_note,
    looked,
    no_door,
    price_note,
)
from ledgewright.sheets.model import ChooseSheet, Note, Page, Picture, Table, WhatIfSheet
from ledgewright.sheets.spoken import spoken

HIGH = 100.0
"""Height of the picture of prices and drops on paper (mm)."""
LISTED = 12
"""So many changes are drawn as bars."""
TELLS = 0.05
"""Changes that move the drop by less than this are not drawn (mm; our choice)."""
LONG = 46
"""A name longer than this is not put beside a bar."""


def choose_pages(found: Chosen, shelf: str) -> Mapping[str, Page]:
    """Return the pages of a search by name, in printing order; none where nothing was searched.

    Args:
        found: as the plan found it.
        shelf: id of the shelf.
    """
    choices = found.choices
    if choices is None:
        return {}
    words = ChosenWords(found.job, shelf)
    made: dict[str, Page] = {"choices": _choices(found, choices, words)}
    if choices.what_if:
        made["what if"] = _what_if(choices, words)
    return {name: spoken(page, words.say) for name, page in made.items()}


def _choices(found: Chosen, choices: Choices, words: ChosenWords) -> ChooseSheet:
    return ChooseSheet(
        title="Choices",
        about=f"shelf {choices.shelf}",
        unit=words.say.unit,
        intro=" ".join(
            (looked(choices), _now(words, choices.as_is), *left_out_note(choices)),
        ),
        caution=" ".join(accepted_note(found.job, choices.shelf)) if choices.front else "",
        table=_table(words, choices),
        picture=_front_picture(words, choices),
        reading="Every dot is a design that was judged in full and passes, the square is the job as it is. A numbered "
        "circle is a choice: no other design is at least as good in price, drop, weight and hours, and better in one.",
        each=tuple(_each(words, choices)),
        closed=_closed(words, choices),
        notes=(
            *price_note(choices, found.job),
            *((carries_note(choices),) if choices.front else ()),
        ),
    )


def _now(words: ChosenWords, tried: Tried) -> str:
    if tried.figures is None:
        return f"As it is: {words.verdict(tried)}."
    today, later = words.drops(tried.figures)
    price = "" if tried.figures.price is None else f", {words.price(tried.figures)}"
    return (
        f"As it is: {words.verdict(tried)}{price}, front drop {today} on day one and {later} in ten years, "
        f"{words.mass(tried.figures.mass)}, {words.hours(tried.figures.hours)} hours."
    )


def _table(words: ChosenWords, choices: Choices) -> Table:
    rows = []
    for choice in choices.front:
        f = choice.tried.figures
        if f is not None:
            rows.append(
                (
                    str(choice.k),
                    _design(words, choice),
                    words.price(f),
                    *words.drops(f),
                    words.mass(f.mass),
                    words.hours(f.hours),
                    str(f.holes),
                    words.carries(choice.carries),
                )
            )
    return Table(
        heads=(
            *("No.", "Design", "Price", "Day one", "Ten years"),
            *("Weight", "Hours", "Holes", "Carries"),
        ),
        widths=(10, 51, 22, 19, 19, 17, 13, 13, 18),
        figures=(2, 3, 4, 5, 6, 7, 8),
        rows=tuple(rows),
        keys=(0,),
    )


def _design(words: ChosenWords, choice: Choice) -> str:
    """What it is called, and what differs from the job."""
    changes = words.changes(choice.tried)
    tags = ", ".join(choice.tags)
    said = f"{tags}: {changes}" if tags else changes
    return words.told(f"{said[:1].upper()}{said[1:]}")


def _each(words: ChosenWords, choices: Choices) -> Iterator[str]:
    """Of each choice what governs, and what a step down would break."""
    for choice in choices.front:
        said = f"{choice.k}: governs {words.governs(choice.tried)}."
        if stopped := words.stopped(choice.carries):
            said += f" {stopped[:1].upper()}{stopped[1:]}."
        if choice.steps:
            steps = "; ".join(words.stepped(choice, step) for step in choice.steps)
            said += f" A step down: {steps}."
        yield words.told(said)


def _closed(words: ChosenWords, choices: Choices) -> tuple[Note, ...]:
    none = choices.nothing
    if none is None:
        return ()
    kills = tuple(f"{words.kind(family)}: {share:.0%}" for family, share in none.killed_by[:10])
    kills += (unsaid_words(words, none),) if none.unsaid else ()
    made = [Note("Nothing passes: what stops how many of the designs", kills)]
    if none.nearest is not None:
        near = f"{words.changes(none.nearest)}; {words.verdict(none.nearest)}"
        made.append(Note("Nearest to passing", (words.told(near),)))
    doors = tuple(
        " ".join(line.strip().removeprefix("- ") for line in door_lines(words, door))
        for door in none.doors
    )
    head = (
        "What opens the door; each was tried, and passes" if doors else "What would open the door"
    )
    made.append(Note(head, doors or (no_door(choices),)))
    return tuple(made)


def _picture(make: draw.Drawing) -> Picture | None:
    inked = pictures.Inked(make, draw.svg(make))
    return pictures.picture({"it": inked}, "it")


def _width(words: ChosenWords) -> float:
    return pictures.width_of(words.job.meta)


def _front_picture(words: ChosenWords, choices: Choices) -> Picture | None:
    priced = any(c.tried.figures and c.tried.figures.price is not None for c in choices.front)
    numbers = {id(choice.tried): choice.k for choice in choices.front}
    spots = [
        views.Spot(
            _across(each.figures, priced=priced),
            each.figures.drop_long,
            numbers.get(id(each), 0),
            as_is=not each.changes,
        )
        for each in choices.all
        if each.state == "passes"
        and each.figures is not None
        and (not priced or each.figures.price is not None)
    ]
    if not spots:
        return None
    prices = words.job.shop.prices
    across = (
        views.Axis(f"Price, {prices.currency}", lambda v: f"{v:,.0f}", 5.0)
        if priced and prices is not None
        else views.Axis("Hours", lambda v: f"{v:g}", 0.25)
    )
    inch = words.job.meta.units == "in"
    up = views.Axis(
        words.told("Front drop in ten years"),
        (lambda v: f"{v / 25.4:.3f} in") if inch else (lambda v: f"{v:.1f} mm"),
        25.4 / 200 if inch else 0.1,
    )
    with suppress(draw.TooLarge):
        title = "Price against drop" if priced else "Hours against drop"
        return _picture(views.choice_view(title, spots, across, up, (_width(words), HIGH)))
    return None


def _across(figures: Figures, *, priced: bool) -> float:
    return figures.price if priced and figures.price is not None else figures.hours


def _what_if(choices: Choices, words: ChosenWords) -> WhatIfSheet:
    rows = tuple(
        (
            f"{QUESTIONS[each.question][:1].upper()}{QUESTIONS[each.question][1:]}",
            words.changes(each.tried),
            *words.drops(each.tried.figures),
            words.price(each.tried.figures),
            shorten(words.verdict(each.tried), 50, placeholder=" …"),
        )
        for each in choices.what_if
    )
    today, later = words.drops(choices.as_is.figures)
    now = (
        "As it is",
        "–",
        today,
        later,
        words.price(choices.as_is.figures),
        words.verdict(choices.as_is),
    )
    return WhatIfSheet(
        title="What if",
        about=f"shelf {choices.shelf}",
        unit=words.say.unit,
        intro="The job as it is with one thing changed at a time, each worked through in full. A dash means that "
        "nothing can be said; where there is no price, the price file lacks one for what is changed.",
        table=Table(
            heads=("What if", "Changed", "Drop, day one", "In ten years", "Price", "Verdict"),
            widths=(30, 46, 21, 21, 24, 48),
            figures=(2, 3, 4),
            rows=tuple(tuple(words.told(cell) for cell in row) for row in (now, *rows)),
        ),
        picture=_effects(words, choices),
        reading="Bars: what each change adds to the front drop in ten years, or takes from it, and to the price. Those "
        "marked × do not hold, or cannot be said to. What hardly moves it (under 0.05 mm or 0.002 in) has none.",
    )


def _effects(words: ChosenWords, choices: Choices) -> Picture | None:
    """What drives the drop: the changes that have figures, the greatest first."""
    was = choices.as_is.figures
    if was is None:
        return None
    found = []
    for each in choices.what_if:
        figures = each.tried.figures
        adds = 0.0 if figures is None else figures.drop_long - was.drop_long
        if figures is not None and abs(adds) >= TELLS:
            found.append((adds, each, figures))
    found.sort(key=lambda row: (-abs(row[0]), row[1].question))
    effects = []
    for adds, each, figures in found[:LISTED]:
        text = _signed(words, adds) + _dearer(words, was, figures)
        fails = "" if each.tried.state == "passes" else " ×"
        effects.append(views.Effect(_beside(words, each) + fails, adds, text))
    if not effects:
        return None
    with suppress(draw.TooLarge):
        high = 14.0 + views.ROW * len(effects)
        return _picture(
            views.effect_view("What one change does to the drop", effects, (_width(words), high)),
        )
    return None


def _beside(words: ChosenWords, asked: WhatIf) -> str:
    """What stands beside a bar: the question with what it comes to, as far as there is room, else what it comes to."""
    question = QUESTIONS[asked.question]
    names = (words.asked(asked.question, asked.tried), words.changes(asked.tried), question)
    return next((told for each in names if len(told := words.told(each)) < LONG), question)


def _signed(words: ChosenWords, adds: float) -> str:
    if words.job.meta.units == "in":
        return f"{'+' if adds >= 0 else '−'}{abs(adds) / 25.4:.3f} in"
    return f"{'+' if adds >= 0 else '−'}{abs(adds):.2f} mm"


def _dearer(words: ChosenWords, was: Figures, now: Figures) -> str:
    if was.price is None or now.price is None or math.isclose(was.price, now.price):
        return ""
    return f", {'+' if now.price > was.price else '−'}{abs(now.price - was.price):,.0f}"
