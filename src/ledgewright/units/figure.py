"""Figures as people write them: a number or a fraction with a unit, or a chain such as feet and inches."""

from __future__ import annotations

import math
import re
import unicodedata
from dataclasses import dataclass, field
from fractions import Fraction

LONGEST_TEXT = 64
TAPE = (2, 4, 8, 16, 32, 64, 128)

_SAME = {
    "'": "’‘‛′ʹʼ´`‵＇",
    '"': "”“„‟″ʺ〃＂",
    "-": "‐‑‒–—―−﹣－",
    "/": "⁄∕／",
    "°": "º˚",
    " ": "\u200b\u200c\u200d\u2060\ufeff\u200e\u200f",
}
_PLAIN = {ord(odd): plain for plain, odds in _SAME.items() for odd in odds} | {
    ord(sign): f" {unicodedata.normalize('NFKC', sign).replace('⁄', '/')} "
    for sign in "¼½¾⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
}
_POWER = re.compile(r"(?<=[a-z])(?:\^?([23])(?![0-9])|[²³])")
_NUMBER = r"[0-9]+(?:\.[0-9]+)?|\.[0-9]+"
_AMOUNT = re.compile(
    rf"(?:(?P<whole>{_NUMBER})(?: ?- ?| ))?(?P<top>[0-9]+) ?/ ?(?P<bottom>[0-9]+)|(?P<only>{_NUMBER})"
)
_WORDS = re.compile(r" ?(['\"]|°(?: ?[a-z]+)?|[a-z]+\.?(?:[ /]+[a-z]+\.?)*)")
_WORDS_WITH_POWERS = re.compile(r" ?([a-z]+[23]?\.?(?:[ /]+[a-z]+[23]?\.?)*)(?![0-9a-z])")
_GAP = re.compile(r" ?-? ?")


class BadFigure(ValueError):  # noqa: N818  # a finding about the user's text, not a fault of ours
    """A figure that cannot be read.

    Attributes:
        text: what was written.
        wrong: a sentence that says what is wrong with it.
        right: a sentence with the nearest right spelling.
    """

    def __init__(self, text: str, wrong: str, right: str) -> None:
        super().__init__(text, wrong, right)
        self.text = text
        self.wrong = wrong
        self.right = right

    def __str__(self) -> str:
        return f"{self.text!r}: {self.wrong} {self.right}"


@dataclass(frozen=True)
class Rung:
    """One unit of a scale: its symbol, its size in the scale's base unit, and how people spell it."""

    symbol: str
    size: Fraction
    spellings: tuple[str, ...] = ()
    splits: bool = False
    tape: bool = False


@dataclass(frozen=True)
class Scale:
    """The units in which one kind of figure is written.

    `chains` lists units that may follow each other, the larger first; `most` is the largest size
    believed (in the base unit); `powers` is true where units such as ft2 occur.
    """

    what: str
    rungs: tuple[Rung, ...]
    example: str
    most: Fraction
    chains: tuple[tuple[str, ...], ...] = ()
    signed: bool = False
    powers: bool = False
    names: dict[str, Rung] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        names = {name: rung for rung in self.rungs for name in (rung.symbol, *rung.spellings)}
        object.__setattr__(self, "names", names)

    @property
    def advice(self) -> str:
        """The sentence to fall back on when no nearer spelling is known."""
        return f"Write it like {self.example}."


@dataclass(frozen=True)
class Part:
    """A number with the unit written after it: `whole` + `top`/`bottom`, each None where not written."""

    whole: str | None
    top: int | None
    bottom: int | None
    typed: str

    @property
    def value(self) -> Fraction:
        """The number, exactly; the line of the fraction must not stand over 0."""
        part = Fraction(self.top, self.bottom) if self.top and self.bottom else Fraction(0)
        return Fraction(self.whole or 0) + part


@dataclass(frozen=True)
class Figure:
    """A figure taken apart: its sign, its parts, and the unit each part is in."""

    text: str
    negative: bool
    parts: tuple[Part, ...]
    rungs: tuple[Rung, ...]

    @property
    def total(self) -> Fraction:
        """The figure in the base unit of its scale."""
        size = sum(
            (p.value * r.size for p, r in zip(self.parts, self.rungs, strict=True)), Fraction(0)
        )
        return -size if self.negative else size


def tidy(text: str) -> str:
    """Return the text in lower case with primes, quotes, dashes, spaces and fractions as ASCII."""
    text = text.translate(_PLAIN).lower().replace("''", '"')
    text = _POWER.sub(lambda m: m[1] or ("2" if m[0] == "²" else "3"), text)
    return " ".join(text.replace(" per ", "/").split())


def read_figure(text: str, scale: Scale, *, bare: str | None) -> Figure:
    """Take a written figure apart and check it.

    Args:
        text: what was written.
        scale: the units it may be written in.
        bare: the symbol of the unit a bare number means, or None where a unit must be written.

    Returns:
        The figure; `total` is its size in the scale's base unit.

    Raises:
        BadFigure: it cannot be read, or is larger than `scale.most`.
    """
    if len(text) > LONGEST_TEXT:
        start = f"{text[:20]}..."
        raise BadFigure(start, "This is too long to be one figure.", scale.advice)
    plain = tidy(text)
    _refuse_no_number(text, plain, scale)
    _refuse_comma(text, plain, scale, bare)
    negative, rest = _sign(text, plain, scale)
    parts = _parts(text, rest, scale)
    figure = Figure(text, negative, parts, _rungs(text, parts, scale, bare))
    for part, rung in zip(figure.parts, figure.rungs, strict=True):
        _check_fraction(figure, part, rung, scale)
    _check_chain(figure, scale)
    if abs(figure.total) > scale.most:
        raise BadFigure(text, f"This {scale.what} is too large to be true.", scale.advice)
    return figure


def number_text(value: float, scale: Scale) -> str:
    """Return a number from a file as text that reads back exactly, or refuse it.

    Raises:
        BadFigure: true or false, not a number, infinite, or beyond 1e9 in size.
    """
    if isinstance(value, bool):
        raise BadFigure(
            str(value).lower(), f"A {scale.what} is a number, not true or false.", scale.advice
        )
    if isinstance(value, float) and not math.isfinite(value):
        raise BadFigure(str(value), "This is not a number.", scale.advice)
    if abs(value) > 1e9:
        shown = f"{value:g}" if isinstance(value, float) else "a huge number"
        raise BadFigure(shown, f"This {scale.what} is too large to be true.", scale.advice)
    return str(value) if isinstance(value, int) else f"{value:.12f}".rstrip("0").rstrip(".")


def _refuse_no_number(text: str, plain: str, scale: Scale) -> None:
    if not plain:
        raise BadFigure(text, "Nothing is written here.", scale.advice)
    if not re.search("[0-9]", plain):
        raise BadFigure(text, "There is no number in it.", scale.advice)


def _refuse_comma(text: str, plain: str, scale: Scale, bare: str | None) -> None:
    if "," not in plain:
        return
    point, none = plain.replace(",", "."), plain.replace(",", "")
    good = [way for way in (point, none) if _reads(way, scale, bare)]
    if re.search(r",[0-9]{3}(?![0-9])", plain):
        right = (
            f"Write {none}, or {point} if the comma was a decimal point." if len(good) == 2 else ""
        )
    else:
        right = f"Write {good[0]}." if good else ""
    raise BadFigure(text, "A comma does not belong in a figure.", right or scale.advice)


def _reads(plain: str, scale: Scale, bare: str | None) -> bool:
    try:
        read_figure(plain, scale, bare=bare)
    except BadFigure:
        return False
    return True


def _sign(text: str, plain: str, scale: Scale) -> tuple[bool, str]:
    if plain[0] not in "+-":
        return False, plain
    rest = plain[1:].lstrip()
    if plain[0] == "-" and not scale.signed:
        raise BadFigure(text, f"A {scale.what} cannot be less than nothing.", f"Write {rest}.")
    return plain[0] == "-", rest


def _parts(text: str, rest: str, scale: Scale) -> tuple[Part, ...]:
    words = _WORDS_WITH_POWERS if scale.powers else _WORDS
    parts: list[Part] = []
    at = 0
    while at < len(rest):
        gap = _GAP.match(rest, at) if parts and parts[-1].typed else None
        start = gap.end() if gap else at
        amount = _AMOUNT.match(rest, start)
        if amount is None or (parts and not parts[-1].typed):
            raise _not_understood(text, rest, at, scale)
        unit = words.match(rest, amount.end())
        parts.append(_part(amount, unit[1] if unit else ""))
        at = unit.end() if unit else amount.end()
    return tuple(parts)


def _part(amount: re.Match[str], typed: str) -> Part:
    if amount["only"]:
        return Part(amount["only"], None, None, typed)
    return Part(amount["whole"], int(amount["top"]), int(amount["bottom"]), typed)


def _not_understood(text: str, rest: str, at: int, scale: Scale) -> BadFigure:
    before, after = rest[:at].strip(), rest[at:].strip()
    if not before:
        return BadFigure(text, f"It should begin with a number, not with {after[0]}.", scale.advice)
    wrong = f"What follows {before} is not understood: {after}"
    joined = f"{before} {after.lstrip('+& ')}"
    if after[0] in "+&" and _reads(joined, scale, scale.rungs[0].symbol):
        return BadFigure(text, "A figure holds no arithmetic.", f"Write {joined}.")
    return BadFigure(
        text, f"{wrong}.", f"Write {before} if that is all of it, or write it like {scale.example}."
    )


def _rungs(text: str, parts: tuple[Part, ...], scale: Scale, bare: str | None) -> tuple[Rung, ...]:
    rungs: list[Rung] = []
    for part in parts:
        symbol = part.typed or _unwritten(rungs, scale) or bare
        if symbol is None:
            offers = " or ".join(f"{text.strip()} {rung.symbol}" for rung in scale.rungs[:2])
            raise BadFigure(text, f"A {scale.what} always says its unit.", f"Write {offers}.")
        key = re.sub(r"\.| (?=/)|(?<=/) ", "", symbol)
        rung = scale.names.get(key) or scale.names.get(key.replace(" ", ""))
        if rung is None:
            known = ", ".join(rung.symbol for rung in scale.rungs)
            raise BadFigure(
                text, f"{symbol} is not a unit of {scale.what} known here.", f"Use one of: {known}."
            )
        rungs.append(rung)
    return tuple(rungs)


def _unwritten(above: list[Rung], scale: Scale) -> str | None:
    """Return the unit a bare number means after a larger one: inches after feet."""
    for chain in scale.chains:
        if above and above[-1].symbol in chain[:-1]:
            return chain[chain.index(above[-1].symbol) + 1]
    return None


def _check_fraction(figure: Figure, part: Part, rung: Rung, scale: Scale) -> None:
    if part.top is None or part.bottom is None:
        return
    if part.bottom == 0:
        way = f"Read the tape again; eighths are written {part.top or 3}/8, sixteenths {part.top or 3}/16."
        raise BadFigure(
            figure.text,
            "A fraction cannot have 0 below the line.",
            way if rung.tape else scale.advice,
        )
    if part.whole and "." in part.whole:
        right = f"Write {_decimal(part.value)} or {_mixed(part.value)}, whichever was meant."
        raise BadFigure(figure.text, "A decimal point and a fraction stand in one number.", right)
    if not rung.splits:
        raise _unsplit(figure, part, rung)
    if rung.tape and part.bottom not in TAPE:
        raise _not_on_the_tape(figure, part)
    if part.top >= part.bottom:
        raise _improper(figure, part)


def _unsplit(figure: Figure, part: Part, rung: Rung) -> BadFigure:
    written = _as_typed(part)
    if not part.typed:
        wrong = f"A bare fraction is not a figure in {rung.symbol}."
        return BadFigure(figure.text, wrong, f"Write {_minus(figure)}{written} in.")
    decimal = f"{_minus(figure)}{_decimal(part.value)} {part.typed}"
    return BadFigure(figure.text, f"{part.typed} takes no fraction.", f"Write {decimal}.")


def _not_on_the_tape(figure: Figure, part: Part) -> BadFigure:
    top, bottom = part.top or 0, part.bottom or 1
    nearest = min(TAPE, key=lambda mark: (mark <= top, abs(mark - bottom)))
    near = Part(part.whole, top, nearest, part.typed)
    right = f"Write {_minus(figure)}{_as_typed(near)} if that was meant, or {_decimal(part.value)} as a decimal."
    return BadFigure(figure.text, f"A tape is not divided into parts of 1/{bottom}.", right)


def _improper(figure: Figure, part: Part) -> BadFigure:
    wrong = f"The fraction {part.top}/{part.bottom} is {'one' if part.top == part.bottom else 'more than one'} whole."
    right = f"Write {spell(figure)}"
    lost = re.fullmatch(r"([0-9]+)([13579])", str(part.top))
    if part.whole is None and lost and int(lost[2]) < (part.bottom or 0):
        right += f", or {_minus(figure)}{lost[1]} {lost[2]}/{part.bottom} if a space was lost"
    return BadFigure(figure.text, wrong, f"{right}.")


def _check_chain(figure: Figure, scale: Scale) -> None:
    symbols = tuple(rung.symbol for rung in figure.rungs)
    if len(symbols) == 1:
        return
    if not any(
        symbols == chain[at : at + len(symbols)]
        for chain in scale.chains
        for at in range(len(chain))
    ):
        raise _out_of_order(figure, scale)
    for part, above, below in zip(figure.parts, figure.rungs, figure.rungs[1:], strict=False):
        if part.top is not None or "." in (part.whole or ""):
            wrong = f"Only the last number may be broken, not the one before {below.symbol}."
            raise BadFigure(figure.text, wrong, f"Write {spell(figure)}.")
        if figure.parts[figure.rungs.index(below)].value * below.size >= above.size:
            wrong = (
                f"There are {_decimal(above.size / below.size)} {below.symbol} in 1 {above.symbol}."
            )
            raise BadFigure(figure.text, wrong, f"Write {spell(figure)}.")


def _out_of_order(figure: Figure, scale: Scale) -> BadFigure:
    down = sorted(zip(figure.parts, figure.rungs, strict=True), key=lambda pair: -pair[1].size)
    turned = Figure(
        figure.text, figure.negative, tuple(p for p, _ in down), tuple(r for _, r in down)
    )
    symbols = tuple(rung.symbol for rung in turned.rungs)
    if any(symbols == chain[: len(symbols)] for chain in scale.chains):
        return BadFigure(figure.text, "The larger unit comes first.", f"Write {spell(turned)}.")
    if len(set(symbols)) == 1:
        one = f"{_minus(figure)}{_number(figure.total / down[0][1].size, down[0][1])} {symbols[0]}"
        return BadFigure(
            figure.text, f"{symbols[0]} is written twice.", f"Write {one} if that was meant."
        )
    smallest = down[-1][1]
    one = (
        f"{_minus(figure)}{_number(abs(figure.total) / smallest.size, smallest)} {smallest.symbol}"
    )
    return BadFigure(figure.text, "These units do not go together in one figure.", f"Write {one}.")


def spell(figure: Figure) -> str:
    """Return the figure written right, in the units and marks it was written in."""
    left = abs(figure.total)
    words: list[str] = []
    for at, (part, rung) in enumerate(zip(figure.parts, figure.rungs, strict=True)):
        last = at == len(figure.parts) - 1
        count = left / rung.size if last else Fraction(left // rung.size)
        left -= count * rung.size
        mark = part.typed or (
            '"' if at and figure.parts[at - 1].typed == "'" else rung.symbol if at else ""
        )
        words.append(_number(count, rung) + (f" {mark}" if mark[:1].isalpha() else mark))
    return _minus(figure) + " ".join(words)


def _minus(figure: Figure) -> str:
    return "-" if figure.negative else ""


def _as_typed(part: Part) -> str:
    return f"{part.whole} {part.top}/{part.bottom}" if part.whole else f"{part.top}/{part.bottom}"


def _number(value: Fraction, rung: Rung) -> str:
    return _mixed(value) if rung.splits and value.denominator in TAPE else _decimal(value)


def _mixed(value: Fraction) -> str:
    whole, part = divmod(value, 1)
    return " ".join(str(piece) for piece in (whole, part) if piece) or "0"


def _decimal(value: Fraction) -> str:
    return f"{float(value):.4f}".rstrip("0").rstrip(".")
