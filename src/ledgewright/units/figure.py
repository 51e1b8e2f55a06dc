"""What a written figure is made of: units, scales of units, parts, and how it is spelled right."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from itertools import pairwise

TAPE = (2, 4, 8, 16, 32, 64, 128)


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
    """One unit of a scale: its symbol, its size in the scale's base unit, and how else people spell it.

    `splits`: people write fractions of it. `tape`: only the fractions on a tape are believed.
    """

    symbol: str
    size: Fraction
    spellings: tuple[str, ...] = ()
    splits: bool = False
    tape: bool = False


@dataclass(frozen=True)
class Scale:
    """The units in which one kind of figure is written.

    `chains` lists units that may follow each other, the larger first; `most` is the largest size
    believed (in the base unit); `signed` is true where a figure may be negative.
    """

    what: str
    rungs: tuple[Rung, ...]
    example: str
    most: Fraction
    chains: tuple[tuple[str, ...], ...] = ()
    signed: bool = False
    names: dict[str, Rung] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        names = {name: rung for rung in self.rungs for name in (rung.symbol, *rung.spellings)}
        object.__setattr__(self, "names", {name.lower(): rung for name, rung in names.items()})

    @property
    def advice(self) -> str:
        """The sentence to fall back on when no nearer spelling is known."""
        return f"Write it like {self.example}."

    def below(self, symbol: str) -> str | None:
        """Return the unit that may follow this one in a figure: inches after feet."""
        for chain in self.chains:
            if symbol in chain[:-1]:
                return chain[chain.index(symbol) + 1]
        return None

    def chained(self, symbols: tuple[str, ...]) -> bool:
        """Return whether these units may follow each other in this order."""
        return all(self.below(above) == below for above, below in pairwise(symbols))


@dataclass(frozen=True)
class Part:
    """A number with the unit written after it: `whole` + `top`/`bottom`, each None where not written."""

    whole: str | None
    top: int | None
    bottom: int | None
    typed: str

    @cached_property
    def value(self) -> Fraction:
        """The number, exactly; a fraction over 0 counts as nothing."""
        whole = Fraction(self.whole or 0)
        return whole + Fraction(self.top, self.bottom) if self.top and self.bottom else whole

    @property
    def broken(self) -> bool:
        """Whether it is anything but a whole number."""
        return self.top is not None or "." in (self.whole or "")

    @property
    def number(self) -> str:
        """The number as typed."""
        written = self.whole, self.top is not None and f"{self.top}/{self.bottom}"
        return " ".join(piece for piece in written if piece)


@dataclass(frozen=True)
class Figure:
    """A figure taken apart: its sign, its parts, and the unit each part is in."""

    text: str
    negative: bool
    parts: tuple[Part, ...]
    rungs: tuple[Rung, ...]

    @property
    def minus(self) -> str:
        """The sign as it is printed."""
        return "-" if self.negative else ""

    @cached_property
    def size(self) -> Fraction:
        """The figure without its sign, in the base unit of its scale."""
        return sum(
            (p.value * r.size for p, r in zip(self.parts, self.rungs, strict=True)), Fraction(0)
        )

    @property
    def total(self) -> Fraction:
        """The figure in the base unit of its scale."""
        return -self.size if self.negative else self.size


def spell(figure: Figure) -> str:
    """Return the figure written right, in the units and marks it was written in."""
    left = figure.size
    words: list[str] = []
    for at, (part, rung) in enumerate(zip(figure.parts, figure.rungs, strict=True)):
        count = left / rung.size if part is figure.parts[-1] else Fraction(left // rung.size)
        left -= count * rung.size
        feet = at and figure.parts[at - 1].typed == "'" and rung.symbol == "in"
        words.append(
            with_unit(count, rung, part.typed or ('"' if feet else rung.symbol if at else ""))
        )
    return figure.minus + " ".join(words)


def with_unit(value: Fraction, rung: Rung, unit: str) -> str:
    """Return a number as its unit is written, with a fraction or decimals, and the unit."""
    number = mixed(value) if rung.splits and value.denominator in TAPE else decimal(value)
    return attach(number, unit)


def attach(number: str, unit: str) -> str:
    """Return the number with its unit behind it; a word stands off, a mark does not."""
    return f"{number} {unit}" if unit[:1].isalpha() else f"{number}{unit}"


def mixed(value: Fraction) -> str:
    """Return a number not below 0 as a whole number and a reduced fraction, such as `12 3/8`."""
    whole, part = divmod(value, 1)
    return " ".join(str(piece) for piece in (whole, part) if piece) or "0"


def decimal(value: Fraction) -> str:
    """Return a number with at most four decimals."""
    return f"{float(value):.4f}".rstrip("0").rstrip(".")
