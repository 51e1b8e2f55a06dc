"""Why a figure that was taken apart is not believed, and how it is written right."""

from __future__ import annotations

import re
from dataclasses import replace

from ledgewright.units.figure import (
    TAPE,
    BadFigure,
    Figure,
    Part,
    Rung,
    Scale,
    attach,
    decimal,
    spell,
    with_unit,
)


def check(figure: Figure, scale: Scale) -> None:
    """Refuse a figure that is too large, breaks a number that must be whole, or mixes units badly.

    Raises:
        BadFigure: with the nearest right spelling.
    """
    if figure.size > scale.most:
        raise too_large(figure.text, scale)
    if not scale.chained(tuple(rung.symbol for rung in figure.rungs)):
        raise _badly_mixed(figure, scale)
    for part, rung in zip(figure.parts, figure.rungs, strict=True):
        _check_fraction(figure, part, rung, scale)
    _check_chain(figure)


def too_large(text: str, scale: Scale) -> BadFigure:
    """Return the refusal of a figure beyond what its scale believes."""
    return BadFigure(text, f"This {scale.what} is too large to be true.", scale.advice)


def _check_fraction(figure: Figure, part: Part, rung: Rung, scale: Scale) -> None:
    if part.top is None or part.bottom is None:
        return
    if part.bottom == 0:
        raise BadFigure(figure.text, "A fraction cannot have 0 below the line.", scale.advice)
    if part.whole and "." in part.whole:
        right = f"Write {_instead(figure, part, part.whole)}, or leave out what does not belong."
        raise BadFigure(figure.text, "A decimal point and a fraction stand in one number.", right)
    if not rung.splits and figure.parts == (replace(part, typed=""),) and "in" in scale.names:
        raise _bare_fraction(figure, part, rung, scale)
    if rung.tape and part.bottom not in TAPE:
        raise _not_on_the_tape(figure, part)
    if part.top >= part.bottom:
        raise _improper(figure, part)
    if not rung.splits:
        right = f"Write {_instead(figure, part, decimal(part.value))}."
        raise BadFigure(
            figure.text, f"Fractions of {rung.symbol} are written with a decimal point.", right
        )


def _instead(figure: Figure, part: Part, number: str) -> str:
    """Return the figure as typed, with another number in one part."""
    return figure.minus + " ".join(
        attach(number if p is part else p.number, p.typed) for p in figure.parts
    )


def _bare_fraction(figure: Figure, part: Part, rung: Rung, scale: Scale) -> BadFigure:
    """Refuse `3/16` where a bare number is mm, and offer it in inches, mended if it needs mending."""
    inch = scale.names["in"]
    asked = replace(figure, parts=(replace(part, typed="in"),), rungs=(inch,))
    wrong = f"A bare fraction is not a figure in {rung.symbol}."
    try:
        check(asked, scale)
    except BadFigure as refusal:
        return BadFigure(figure.text, f"{wrong} {refusal.wrong}", refusal.right)
    return BadFigure(figure.text, wrong, f"Write {_instead(asked, part, part.number)}.")


def _not_on_the_tape(figure: Figure, part: Part) -> BadFigure:
    top, bottom = part.top or 0, part.bottom or 1
    as_decimal = _instead(figure, part, decimal(part.value))
    right = f"Write {as_decimal}."
    if top < bottom and top < TAPE[-1]:
        nearest = min((mark for mark in TAPE if mark > top), key=lambda mark: abs(mark - bottom))
        near = _instead(figure, part, replace(part, bottom=nearest).number)
        right = f"Write {near}, or {as_decimal} if that was not the slip."
    return BadFigure(figure.text, f"A tape is not divided into parts of 1/{bottom}.", right)


def _improper(figure: Figure, part: Part) -> BadFigure:
    much = "one whole" if part.top == part.bottom else "more than one whole"
    right = f"Write {spell(figure)}"
    lost = re.fullmatch(r"([1-9][0-9]*)([13579])", str(part.top))
    if len(figure.parts) == 1 and part.whole is None and lost and int(lost[2]) < (part.bottom or 0):
        right += f", or {_instead(figure, part, f'{lost[1]} {lost[2]}/{part.bottom}')} if a space was lost"
    return BadFigure(figure.text, f"The fraction {part.top}/{part.bottom} is {much}.", f"{right}.")


def _check_chain(figure: Figure) -> None:
    if any(part.broken for part in figure.parts[:-1]):
        raise BadFigure(
            figure.text, "Only the last number may be broken.", f"Write {spell(figure)}."
        )
    for above, below, part in zip(figure.rungs, figure.rungs[1:], figure.parts[1:], strict=False):
        if part.value * below.size >= above.size:
            wrong = f"There are only {above.size / below.size} {below.symbol} to 1 {above.symbol}."
            raise BadFigure(figure.text, wrong, f"Write {spell(figure)}.")


def _badly_mixed(figure: Figure, scale: Scale) -> BadFigure:
    pairs = sorted(zip(figure.parts, figure.rungs, strict=True), key=lambda pair: -pair[1].size)
    turned = replace(figure, parts=tuple(p for p, _ in pairs), rungs=tuple(r for _, r in pairs))
    if scale.chained(tuple(rung.symbol for rung in turned.rungs)):
        return BadFigure(figure.text, "The larger unit comes first.", f"Write {spell(turned)}.")
    if len({rung.symbol for rung in figure.rungs}) == 1:
        return _twice(figure, scale)
    smallest = turned.rungs[-1]
    one = figure.minus + with_unit(figure.size / smallest.size, smallest, smallest.symbol)
    return BadFigure(figure.text, "These units do not go together in one figure.", f"Write {one}.")


def _twice(figure: Figure, scale: Scale) -> BadFigure:
    """Refuse `3' 4'`, where the second mark was meant for the smaller unit."""
    rung, (first, second, *more) = figure.rungs[0], figure.parts
    lower = scale.names.get(scale.below(rung.symbol) or "")
    wrong = f"{rung.symbol} is written twice."
    if lower and not more and not first.broken and second.value * lower.size < rung.size:
        meant = replace(figure, parts=(first, replace(second, typed="")), rungs=(rung, lower))
        return BadFigure(figure.text, wrong, f"Write {spell(meant)}.")
    one = figure.minus + with_unit(figure.size / rung.size, rung, rung.symbol)
    return BadFigure(figure.text, wrong, f"Write {one}.")
