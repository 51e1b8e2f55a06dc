"""A formula as function and as printed text, kept together so that paper and program cannot part.

The text is typst mathematics in a small subset that can also be evaluated: numbers, the symbols named
beside it, + - / ^, a space for multiplication, brackets, frac(a, b), root(n, x), sqrt, abs, min, max,
round, ln, sin, cos, sinh, cosh, pi.
"""

from __future__ import annotations

import inspect
import math
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Generic, ParamSpec

from ledgewright.statics.model import Step

P = ParamSpec("P")

_AFTER_WHICH_NO_TIMES = ("", "(", ",", "+", "-", "/", "^", "times")
_BEFORE_WHICH_NO_TIMES = ("+", "-", "/", "^", ",", ")", "times")
Blanks = tuple[tuple[str, str], ...]
"""A text with blanks: what stands before each blank, and the symbol whose number goes there; the last has none."""


@dataclass(frozen=True)
class Formula(Generic[P]):
    """A function of keyword floats with its symbol, its text in symbols, unit and source.

    symbols: pairs (argument name, typst symbol) for every argument of the function.
    """

    symbol: str
    text: str
    unit: str
    source: str
    symbols: tuple[tuple[str, str], ...]
    function: Callable[P, float]
    blanks: Blanks

    def __call__(self, *args: P.args, **kwargs: P.kwargs) -> float:
        """Return the value of the formula."""
        return self.function(*args, **kwargs)

    @cached_property
    def told(self) -> Mapping[str, tuple[str, str]]:
        """What every argument is and its unit, by its name: from the function's own words about it."""
        return arguments_told(self.function, tuple(name for name, _ in self.symbols))

    def step(self, *args: P.args, **kwargs: P.kwargs) -> Step:
        """Return the value as one line of a derivation, with the numbers put in."""
        value = self.function(*args, **kwargs)
        names = dict(self.symbols)
        put = {names[name]: float(given) for name, given in kwargs.items()}  # type: ignore[arg-type]
        return Step(
            symbol=self.symbol,
            formula=self.text,
            numbers=put_in(self.blanks, put),
            value=value,
            unit=self.unit,
            source=self.source,
            assumed=False,
        )


def formula(
    symbol: str,
    text: str,
    *,
    unit: str,
    source: str,
    symbols: Mapping[str, str] | None = None,
) -> Callable[[Callable[P, float]], Formula[P]]:
    """Return a decorator that keeps a function of keyword floats together with its printed text.

    symbols: typst symbols of the arguments that are not printed under their own name.
    """

    def keep(function: Callable[P, float]) -> Formula[P]:
        named = dict(symbols or {})
        pairs = tuple(
            (name, named.get(name, name)) for name in inspect.signature(function).parameters
        )
        blanks = with_blanks(text, tuple(shown for _, shown in pairs))
        return Formula(symbol, text, unit, source, pairs, function, blanks)

    return keep


def arguments_told(
    function: Callable[..., float], names: tuple[str, ...]
) -> dict[str, tuple[str, str]]:
    """Return what every argument of a formula's function is and its unit ("1" for none), from its docstring.

    There an argument stands as "d: rod (mm).", several as "V, M: shear (N) and moment (N mm) at the face."; "Arguments
    as for `other`" takes over what is not told.

    Args:
        function: of keyword floats.
        names: of its arguments.

    Raises:
        ValueError: if one is not told.
    """
    text = " ".join((inspect.getdoc(function) or "").split())
    name = "|".join(re.escape(each) for each in sorted(names, key=len, reverse=True))
    heads = list(re.finditer(rf"(?:^|[.;,] )((?:{name})(?:, (?:{name}))*): ", text))
    ends = [*(head.start() for head in heads[1:]), len(text)]
    told: dict[str, tuple[str, str]] = {}
    unit = "1"
    # From the last one back: of several in one sentence the last has the unit of all.
    for head, end in reversed(list(zip(heads, ends, strict=False))):
        goes_on = text[end : end + 1] == ","
        some = head.group(1).split(", ")
        rest = text[head.end() : end].partition(". Returns")[0]
        described = _described(rest, len(some), unit if goes_on else "1")
        unit = described[0][1]
        told |= zip(some, described, strict=True)
    other = re.search(r"Arguments as for `(\w+)`", text)
    if other is not None:
        like = function.__globals__[other.group(1)]
        told = {**{k: v for k, v in like.told.items() if k in names}, **told}
    if missing := [each for each in names if each not in told]:
        msg = f"{function.__name__} does not say what {', '.join(missing)} is"
        raise ValueError(msg)
    return told


def _described(text: str, count: int, unit: str) -> list[tuple[str, str]]:
    """One description with a unit for each of several arguments: "shear (N) and moment (N mm) at the face"."""
    units = re.findall(r"\(([^()]*)\)", text)
    said = " ".join(re.sub(r" *\([^()]*\)", "", text).split()).rstrip(".")
    said = f"{said[:1].upper()}{said[1:]}"
    each = units if len(units) == count else (units[-1:] or [unit]) * count
    return [(said, unit) for unit in each]


def number(value: float) -> str:
    """Return a value as people print it: six figures, powers of ten only where it is very large or small."""
    if value == 0 or 1e-4 <= abs(value) < 1e7:
        text = f"{value:.6g}"
        return f"{value:.0f}" if "e" in text else text
    mantissa, exponent = f"{value:.5e}".split("e")
    return f"({mantissa.rstrip('0').rstrip('.')} times 10^({int(exponent)}))"


def tokens(text: str, symbols: tuple[str, ...]) -> list[str]:
    """Return the parts of a formula's text: symbols, numbers, words and signs.

    Raises:
        ValueError: if a part of the text is none of these.
    """
    names = "|".join(re.escape(name) for name in sorted(symbols, key=len, reverse=True))
    known = rf"(?:{names})(?![A-Za-z0-9_])|" if names else ""
    pattern = re.compile(rf"\s*({known}\d+(?:\.\d+)?|[a-z]+|[-+/^(),])")
    found, at = [], 0
    while at < len(text.rstrip()):
        match = pattern.match(text, at)
        if match is None:
            msg = f"cannot read {text[at:]!r} in the formula {text!r}"
            raise ValueError(msg)
        found.append(match.group(1))
        at = match.end()
    return found


def with_blanks(text: str, symbols: tuple[str, ...]) -> Blanks:
    """Return the text of a formula with blanks for its symbols, and a sign for every product of them."""
    blanks: list[tuple[str, str]] = []
    run, before = "", ""
    for part in tokens(text, symbols):
        if _times_between(before, part, symbols):
            run, before = run + " times", "times"
        gap = "" if _tight(before, part, symbols) else " "
        if part in symbols:
            blanks.append((run + gap, part))
            run = ""
        else:
            run += gap + part
        before = part
    return (*blanks, (run, ""))


def put_in(blanks: Blanks, values: Mapping[str, float]) -> str:
    """Return a text with numbers in its blanks."""
    return "".join(run + (_shown(values[name]) if name else "") for run, name in blanks)


def _is_call(before: str, part: str, symbols: tuple[str, ...]) -> bool:
    return part == "(" and before.isalpha() and before not in (*symbols, "pi", "times")


def _times_between(before: str, part: str, symbols: tuple[str, ...]) -> bool:
    if before in _AFTER_WHICH_NO_TIMES or part in _BEFORE_WHICH_NO_TIMES:
        return False
    return not _is_call(before, part, symbols)


def _tight(before: str, part: str, symbols: tuple[str, ...]) -> bool:
    if part in (")", ",", "^", "/") or before in ("(", "^", "/", ""):
        return True
    return _is_call(before, part, symbols)


def _shown(value: float) -> str:
    text = number(value)
    return f"({text})" if value < 0 and not text.startswith("(") else text


Term = tuple[tuple[str, float], ...]


class Working:
    """The lines of one derivation in the order they are made; keeps none if not asked to.

    One chain of calls serves the nominal run, which prints its lines, and the sampled ones, which do not.
    """

    def __init__(self, *, keep: bool, after: Iterable[Step] = ()) -> None:
        self.keep = keep
        self.lines = list(after)

    def __call__(self, of: Formula[P], *args: P.args, **kwargs: P.kwargs) -> float:
        """Return the value of a formula and keep its line."""
        if not self.keep:
            return of.function(*args, **kwargs)
        for name, symbol in of.symbols:
            self._met(symbol, float(kwargs[name]), of.told[name])  # type: ignore[arg-type]
        step = of.step(*args, **kwargs)
        self.lines.append(step)
        return step.value

    def _met(self, symbol: str, value: float, told: tuple[str, str]) -> None:
        """Put a value in that no line before has under its symbol: nobody can follow a figure from nowhere."""
        last = next((line for line in reversed(self.lines) if line.symbol == symbol), None)
        if last is None or not math.isclose(last.value, value, rel_tol=1e-9):
            about, unit = told
            self.given(symbol, value, unit=unit, source=about)

    def given(
        self, symbol: str, value: float, *, unit: str, source: str, assumed: bool = False
    ) -> float:
        """Return a value that is put in, not worked out, and keep its line."""
        if self.keep:
            shown = number(value)
            self.lines.append(Step(symbol, shown, shown, value, unit, source, assumed))
        return value

    def add(self, symbol: str, terms: tuple[Term, ...], *, unit: str, source: str) -> float:
        """Return a sum of products and keep its line.

        terms: each a product of (symbol or printed number, value).
        """
        value = sum((math.prod(each for _, each in term) for term in terms), 0.0)
        if self.keep:
            text = " + ".join(" ".join(name for name, _ in term) for term in terms) or "0"
            numbers = " + ".join(" times ".join(_shown(each) for _, each in term) for term in terms)
            self.lines.append(
                Step(symbol, text, numbers or "0", value, unit, source, assumed=False)
            )
        return value

    def last(self, symbol: str | None = None, *, about: str = "", assumed: bool = False) -> None:
        """Give the last line another symbol, say what it is about, or mark it as resting on an assumption."""
        if self.lines:
            line = self.lines[-1]
            self.lines[-1] = replace(
                line,
                symbol=symbol or line.symbol,
                source=f"{about}: {line.source}" if about else line.source,
                assumed=assumed or line.assumed,
            )

    def taken(self) -> tuple[Step, ...]:
        """Return the lines so far and start afresh."""
        lines, self.lines = self.steps, []
        return lines

    @property
    def steps(self) -> tuple[Step, ...]:
        """All lines so far."""
        return tuple(self.lines)
