"""From text to a figure: marks as phones type them made plain, then number and unit, number and unit."""

from __future__ import annotations

import math
import re
import unicodedata

from ledgewright.units.figure import BadFigure, Figure, Part, Rung, Scale
from ledgewright.units.refusal import check, too_large

LONGEST_TEXT = 64

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
_NUMBER = r"[0-9]+(?:\.[0-9]+)?|\.[0-9]+"
_AMOUNT = re.compile(
    rf"(?:(?P<whole>{_NUMBER})(?: ?- ?| ))?(?P<top>[0-9]+) ?/ ?(?P<bottom>[0-9]+)|(?P<only>{_NUMBER})"
)
_WORD = r"(?:(?:ft|cm|m)[23](?=\.?$)|[a-z]+[²³]?)\.?"  # 3ft2in is no area
_UNIT = re.compile(rf" ?(['\"]|°(?: ?[a-z]+)?|{_WORD}(?:[ /]+{_WORD})*)")
_GAP = re.compile(r" ?-? ?")


def tidy(text: str) -> str:
    """Return the text in lower case, with primes, quotes, dashes, spaces and fractions made plain."""
    text = text.translate(_PLAIN).lower().replace("''", '"').replace("^2", "²").replace("^3", "³")
    return " ".join(text.split()).replace(" per ", "/")


def number_text(value: float, scale: Scale) -> str:
    """Return a number from a file as text, its decimals as they stand in the file.

    Raises:
        BadFigure: true or false, not a number, infinite, or beyond 1e9 in size.
    """
    if isinstance(value, bool):
        raise BadFigure(str(value).lower(), f"A {scale.what} is not true or false.", scale.advice)
    if isinstance(value, float) and not math.isfinite(value):
        raise BadFigure(str(value), "This is not a number.", scale.advice)
    if abs(value) > 10**9:
        shown = f"{value:g}" if isinstance(value, float) else "a huge number"
        raise too_large(shown, scale)
    return str(value) if "e" not in str(value) else f"{value:.12f}"


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
    _refuse_at_sight(text, plain, scale)
    if "," in plain:
        raise _comma(text, plain, scale, bare)
    try:
        return _figure(text, plain, scale, bare)
    except _Stuck as stuck:
        raise _not_understood(text, stuck, scale, bare) from None


class _Stuck(Exception):  # noqa: N818  # never leaves this file
    """The text goes on with something that is neither number nor unit."""

    def __init__(self, before: str, after: str) -> None:
        super().__init__(before, after)
        self.before = before
        self.after = after


def _figure(text: str, plain: str, scale: Scale, bare: str | None) -> Figure:
    negative, unsigned = _sign(text, plain, scale)
    parts = _parts(unsigned, "-" if negative else "")
    figure = Figure(text, negative, parts, _rungs(text, parts, scale, bare))
    check(figure, scale)
    return figure


def _refuse_at_sight(text: str, plain: str, scale: Scale) -> None:
    if not plain:
        raise BadFigure(text, "Nothing is written here.", scale.advice)
    if not re.search("[0-9]", plain):
        raise BadFigure(text, "There is no number in it.", scale.advice)
    if re.search(r"[0-9.]e[-+]?[0-9]", plain):
        raise BadFigure(text, "A figure is not written as a power of ten.", scale.advice)


def _comma(text: str, plain: str, scale: Scale, bare: str | None) -> BadFigure:
    point, none = plain.replace(",", "."), plain.replace(",", "")
    good = [way for way in (point, none) if _reads(way, scale, bare)]
    right = f"Write {good[0]}." if good else scale.advice
    if len(good) == 2 and re.search(r",[0-9]{3}(?![0-9])", plain):
        right = f"Write {none}, or {point} if the comma was a decimal point."
    return BadFigure(text, "A comma does not belong in a figure.", right)


def _reads(plain: str, scale: Scale, bare: str | None) -> bool:
    """Whether a mended text can be offered; no mending of the mended, so this ends."""
    try:
        _figure(plain, plain, scale, bare)
    except (BadFigure, _Stuck):
        return False
    return True


def _sign(text: str, plain: str, scale: Scale) -> tuple[bool, str]:
    if plain[0] not in "+-":
        return False, plain
    unsigned = plain[1:].lstrip()
    if plain[0] == "-" and not scale.signed:
        raise BadFigure(text, f"A {scale.what} cannot be less than nothing.", scale.advice)
    return plain[0] == "-", unsigned


def _parts(unsigned: str, minus: str) -> tuple[Part, ...]:
    parts: list[Part] = []
    at = 0
    while at < len(unsigned) or not parts:
        gap = _GAP.match(unsigned, at) if parts and parts[-1].typed else None
        amount = _AMOUNT.match(unsigned, gap.end() if gap else at)
        if amount is None or (parts and not parts[-1].typed):
            before = unsigned[:at].strip()
            raise _Stuck(before and minus + before, unsigned[at:].strip())
        unit = _UNIT.match(unsigned, amount.end())
        parts.append(_part(amount, unit[1] if unit else ""))
        at = unit.end() if unit else amount.end()
    return tuple(parts)


def _part(amount: re.Match[str], typed: str) -> Part:
    if amount["only"]:
        return Part(amount["only"], None, None, typed)
    return Part(amount["whole"], int(amount["top"]), int(amount["bottom"]), typed)


def _not_understood(text: str, stuck: _Stuck, scale: Scale, bare: str | None) -> BadFigure:
    before, after = stuck.before, stuck.after
    if not before:
        return BadFigure(text, f"A {scale.what} does not begin with “{after[:1]}”.", scale.advice)
    joined = f"{before} {after[1:].strip()}"
    if after[0] in "+&" and _reads(joined, scale, bare):
        return BadFigure(text, "A figure holds no arithmetic.", f"Write {joined}.")
    beside = re.fullmatch("-? ?([0-9]+)", after)
    ways = (
        [way for way in _joined(before, beside[1], scale) if _reads(way, scale, bare)]
        if beside
        else []
    )
    if ways:
        lost = _lost_below(before, beside[1], scale) if beside else ""
        return BadFigure(
            text, "Two numbers stand side by side.", f"Write {', or '.join(ways)}{lost}."
        )
    right = f"Write {before} if that is all of it." if _reads(before, scale, bare) else scale.advice
    return BadFigure(text, f"After {before} it is not understood: “{after}”.", right)


def _joined(before: str, after: str, scale: Scale) -> list[str]:
    """Return what two bare numbers may have meant: a lost slash, or two lost units."""
    lost = re.fullmatch(r"([0-9]{1,2}?)(2|4|8|16|32|64)", after)
    slash = [f"{before} {lost[1]}/{lost[2]}"] if lost else [f"{before}/{after}"]
    return slash + [f"{before} {above} {after} {below}" for above, below, *_ in scale.chains]


def _lost_below(before: str, after: str, scale: Scale) -> str:
    """Say how a fraction is written of which only the upper number is there, as it may be on a tape."""
    tape = any(rung.tape for rung in scale.rungs)
    if not tape or not before.isdecimal() or int(after) % 2 == 0 or int(after) > 15:
        return ""
    return f", or {before} {after}/{8 if int(after) < 8 else 16} if the lower half of a fraction was lost"


def _rungs(text: str, parts: tuple[Part, ...], scale: Scale, bare: str | None) -> tuple[Rung, ...]:
    rungs: list[Rung] = []
    for part in parts:
        above = rungs[-1].symbol if rungs else None
        symbol = part.typed or (scale.below(above) or above if above else bare)
        if symbol is None:
            raise _no_unit(text, scale)
        rungs.append(_rung(text, symbol, scale))
    return tuple(rungs)


def _no_unit(text: str, scale: Scale) -> BadFigure:
    ways = [f"{tidy(text)} {rung.symbol}" for rung in scale.rungs[:2]]
    ways = [way for way in ways if _reads(way.lower(), scale, None)]
    right = f"Write {' or '.join(ways)}." if ways else scale.advice
    return BadFigure(text, f"A {scale.what} always says its unit.", right)


def _rung(text: str, symbol: str, scale: Scale) -> Rung:
    key = re.sub(r"\.| (?=/)|(?<=/) ", "", symbol).replace("²", "2").replace("³", "3").lower()
    if key not in scale.names:
        known = ", ".join(rung.symbol for rung in scale.rungs)
        raise BadFigure(
            text, f"{symbol} is not a unit of {scale.what} known here.", f"Use one of: {known}."
        )
    return scale.names[key]
