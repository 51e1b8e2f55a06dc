"""The answer of `choose`: the designs worth having, what one change does, and why nothing passes; text and JSON."""

from __future__ import annotations

import shlex
import textwrap
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from ledgewright.choose import Carries, Choice, Choices, Door, Nothing, Tried
from ledgewright.job import Edit
from ledgewright.plan import Chosen
from ledgewright.sheets.chosen_words import (
    ChosenWords,
    accepted_note,
    carries_note,
    left_out_note,
    looked,
    no_door,
    price_note,
)
from ledgewright.sheets.documents import head, number

Json = dict[str, Any]
WIDE = 100

DOORS = {
    "as it is": "this design",
    "other skins": "skins of another panel, which may look otherwise",
    "drop limits": "looser limits for the drop",
    "shallower shelf": "a shelf less deep, with shorter rods",
    "less load": "less on it",
    "a lock": "a lock that keeps it on its rods",
    "moved": "a way opened for it",
}


def does(found: Chosen) -> bool:
    """Say whether there is a design to choose."""
    return found.choices is not None and bool(found.choices.front)


def choose_text(found: Chosen, shelf: str) -> str:
    """Return the answer of `choose` for people.

    Args:
        found: as the plan found it.
        shelf: id of the shelf.
    """
    words = ChosenWords(found.job, shelf)
    title = f"{found.job.meta.name}, shelf {shelf}"
    if found.choices is None:
        return (
            "\n".join(
                [f"{title}: nothing is chosen, {words.told(found.why_not)}.", *_held(found, words)]
            )
            + "\n"
        )
    lines = [title, *_filled(looked(found.choices)), *_now(words, found.choices.as_is)]
    for note in left_out_note(found.choices):
        lines += _filled(words.told(note))
    lines.append("")
    if found.choices.front:
        lines += [*_front(words, found.choices), ""]
        for note in accepted_note(found.job, shelf):
            lines += [*_filled(f"CAUTION: {note}"), ""]
    else:
        lines += [*_nothing(words, found.choices), ""]
    lines += [*_what_ifs(words, found.choices), ""]
    for note in price_note(found.choices, found.job):
        lines += _filled(words.told(note))
    if found.choices.front:
        lines += _filled(words.told(carries_note(found.choices)))
        lines += [
            f"ledgewright choose {_asked(found, shelf)} --apply K writes choice K of this list into the job file."
        ]
    return "\n".join(lines) + "\n"


def _asked(found: Chosen, shelf: str) -> str:
    """The job, and the shelf where there are several, as they are typed."""
    file = shlex.quote(found.job.meta.file)
    return file if len(found.job.shelves) == 1 else f"{file} --shelf {shlex.quote(shelf)}"


def _held(found: Chosen, words: ChosenWords) -> list[str]:
    return [
        line
        for wall, questions in found.withheld
        for line in (
            f"Wall {found.job.tapes.called(wall)} may not be drilled yet:",
            *(f"  - {words.told(q)}" for q in questions),
        )
    ]


def _filled(text: str, indent: str = "") -> list[str]:
    return textwrap.wrap(text, WIDE, initial_indent=indent, subsequent_indent=indent + "  ")


def _now(words: ChosenWords, tried: Tried) -> list[str]:
    said = f"As it is: {words.verdict(tried)}"
    figures = tried.figures
    if figures is not None:
        today, later = words.drops(figures)
        said += (
            f"; {words.price(figures)}, drops {today} on day one and {later} in ten years, "
            f"{words.mass(figures.mass)}, {words.hours(figures.hours)} hours, {figures.holes} holes"
        )
    return _filled(said)


def _front(words: ChosenWords, found: Choices) -> list[str]:
    lines = ["Choices that no other beats on price, drop in ten years, weight and hours:"]
    rows = [
        ("#", "price", "day one", "in ten years", "weight", "hours", "holes", "carries", "called")
    ]
    for choice in found.front:
        f = choice.tried.figures
        if f is None:
            continue
        row = (
            str(choice.k),
            words.price(f),
            *words.drops(f),
            words.mass(f.mass),
            words.hours(f.hours),
            str(f.holes),
            words.carries(choice.carries),
            ", ".join(choice.tags),
        )
        rows.append(row)
    lines += columns(rows)
    for choice in found.front:
        lines += _choice(words, choice)
    return lines


def _choice(words: ChosenWords, choice: Choice) -> list[str]:
    tried = choice.tried
    lines = _filled(f"{choice.k}. {words.told(words.changes(tried))}", "  ")
    lines += _filled(f"governs: {words.governs(tried)}", "     ")
    if stopped := words.stopped(choice.carries):
        lines += _filled(stopped, "     ")
    if choice.steps:
        steps = "; ".join(words.stepped(choice, step) for step in choice.steps)
        lines += _filled(words.told(f"a step down: {steps}"), "     ")
    return lines


def columns(rows: Sequence[Sequence[str]]) -> list[str]:
    """Return rows of text as columns for a terminal."""
    widths = [max(len(row[k]) for row in rows) for k in range(len(rows[0]))]
    return [
        "  " + "  ".join(c.ljust(w) for c, w in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]


def _what_ifs(words: ChosenWords, found: Choices) -> list[str]:
    if not found.what_if:
        return []
    rows = [("What if, from the job as it is", "day one", "in ten years", "price", "verdict")]
    for each in found.what_if:
        question = words.asked(each.question, each.tried)
        rows.append(
            (
                words.told(question),
                *words.drops(each.tried.figures),
                words.price(each.tried.figures),
                _short(words.verdict(each.tried)),
            )
        )
    return columns(rows)


def _short(text: str) -> str:
    return textwrap.shorten(text, 60, placeholder=" ...")


def _nothing(words: ChosenWords, found: Choices) -> list[str]:
    none = found.nothing
    lines = ["NOTHING PASSES of what was looked at."]
    if none is None:
        return lines
    lines += ["  What stops how many of them:"]
    lines += [f"    {words.kind(family)}: {share:.0%}" for family, share in none.killed_by[:10]]
    if none.unsaid:
        lines += _filled(unsaid_words(words, none), "  ")
    if none.nearest is not None:
        near = f"Nearest to passing: {words.changes(none.nearest)}; {words.verdict(none.nearest)}"
        lines += _filled(words.told(near), "  ")
    if none.doors:
        lines += ["  What opens the door (each was tried, and passes):"]
        for door in none.doors:
            lines += door_lines(words, door)
    else:
        lines += _filled(no_door(found), "  ")
    return lines


def unsaid_words(words: ChosenWords, none: Nothing) -> str:
    """Return of what share of the designs which kinds of check cannot be said."""
    said = ", ".join(f"{words.kind(family)} {share:.0%}" for family, share in none.unsaid[:8])
    return f"Of these it cannot be said, as where an engineer must accept them: {said}."


def door_lines(words: ChosenWords, door: Door) -> list[str]:
    """Return one door as lines: what is given up, its edits, and what an engineer would have to accept."""
    today, later = words.drops(door.figures)
    said = f"- {DOORS[door.kind]}: drops {today} on day one, {later} in ten years; {words.price(door.figures)}"
    lines = _filled(said, "    ")
    lines += [f"        {edit.path} = {edit.text}" for edit in door.edits if edit.text is not None]
    lines += [f"        take out {edit.path}" for edit in door.edits if edit.text is None]
    if door.accepted:
        rows = ", ".join(door.accepted)
        ask = f"and an engineer must accept {rows}: these go beyond what their sources cover"
        lines += _filled(words.told(ask), "        ")
    return lines


def choose_document(found: Chosen, shelf: str) -> Json:
    """Return the answer of `choose` as a JSON document.

    Args:
        found: as the plan found it.
        shelf: id of the shelf.

    Returns:
        A document that keeps to `choose_schema`; lengths in mm, masses in kg.
    """
    words, choices = ChosenWords(found.job, shelf), found.choices
    document: Json = {
        **head(found.job),
        "shelf": shelf,
        "seed": found.job.seed,
        "currency": found.job.shop.prices.currency if found.job.shop.prices else None,
        "withheld": [{"wall": wall, "questions": list(asked)} for wall, asked in found.withheld],
        "why_not": found.why_not,
    }
    if choices is None:
        return document | {
            "size": 0,
            "tried": 0,
            "built": 0,
            "judged": 0,
            "set_aside": 0,
            "passed": 0,
            "complete": False,
            "stopped": False,
            "as_is": None,
            "front": [],
            "what_if": [],
            "nothing_passes": None,
            "notes": [],
            "not_computed": [],
        }
    return document | {
        "size": choices.size,
        "tried": choices.tried,
        "built": choices.built,
        "judged": choices.judged,
        "set_aside": choices.aside,
        "passed": choices.passed,
        "complete": choices.complete,
        "stopped": choices.stopped,
        "as_is": _tried(words, choices.as_is),
        "front": [_chosen(words, each) for each in choices.front],
        "what_if": [
            {"question": each.question, "load_even": None, **_tried(words, each.tried)}
            for each in choices.what_if
        ],
        "nothing_passes": _closed(words, choices),
        "notes": [
            *(words.told(note) for note in left_out_note(choices)),
            *accepted_note(found.job, shelf),
            *(words.told(note) for note in price_note(choices, found.job)),
            *([words.told(carries_note(choices))] if choices.front else []),
        ],
        "not_computed": list(_not_computed(choices)),
    }


def _not_computed(choices: Choices) -> Iterator[Json]:
    why = "a load limit takes longer than judging a design: it is worked out for the choices alone"
    yield {"what": "load_even of what_if", "why": why}
    if choices.aside:
        why = (
            "another design that passes beats them whatever their checks say, they drop too far, "
            "or fail at a first look"
        )
        yield {"what": f"checks of {choices.aside} designs set aside", "why": why}
    left = [str(each.k) for each in choices.front if each.carries is None]
    if left:
        yield {
            "what": f"load_even of choice {', '.join(left)}",
            "why": "the search was ended before",
        }


def _edits(edits: Iterable[Edit]) -> list[Json]:
    return [{"path": edit.path, "text": edit.text} for edit in edits]


def _figures(tried: Tried) -> Json:
    f = tried.figures
    if f is None:
        return dict.fromkeys(("price", "drop_today", "drop_long", "mass", "hours", "holes"))
    return {
        "price": None if f.price is None else number(f.price),
        "drop_today": number(f.drop_today),
        "drop_long": number(f.drop_long),
        "mass": number(f.mass),
        "hours": number(f.hours),
        "holes": f.holes,
    }


def _tried(words: ChosenWords, tried: Tried) -> Json:
    governs = tried.governs
    return {
        "text": words.told(words.changes(tried)),
        "edits": _edits(tried.edits),
        "verdict": tried.state,
        "why": tried.why,
        **_figures(tried),
        "governs": None
        if governs is None
        else {"check": governs.id, "title": governs.title, "ratio": number(governs.ratio)},
        "breaks": list(tried.killed),
        "no_price_for": list(tried.missing),
    }


def _even(carries: Carries | None) -> float | None:
    return None if carries is None or carries.even is None else number(carries.even)


def _chosen(words: ChosenWords, choice: Choice) -> Json:
    steps = [
        {
            "question": step.question,
            "to": words.told(words.to(choice, step)),
            "inside": step.inside,
            **_tried(words, step.tried),
        }
        for step in choice.steps
    ]
    return {
        "k": choice.k,
        "tags": list(choice.tags),
        **_tried(words, choice.tried),
        "load_even": _even(choice.carries),
        "load_limited_by": words.stopped(choice.carries),
        "one_step_down": steps,
    }


def _closed(words: ChosenWords, choices: Choices) -> Json | None:
    none = choices.nothing
    if none is None:
        return None
    return {
        "cannot_say": [{"check": family, "share": number(share)} for family, share in none.unsaid],
        "killed_by": [
            {"check": family, "share": number(share)} for family, share in none.killed_by
        ],
        "nearest": None if none.nearest is None else _tried(words, none.nearest),
        "opens": [
            {
                "kind": door.kind,
                "text": DOORS[door.kind],
                "edits": _edits(door.edits),
                "engineer_must_accept": list(door.accepted),
            }
            for door in none.doors
        ],
    }
