"""Evaluates formulas as they are printed (and as reference tables write them), apart from the program's own reading.

A recursive descent over: + - * / ^ with a space as multiplication, brackets, frac(a, b), root(n, x), named functions.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping

FUNCTIONS: dict[str, Callable[..., float]] = {
    "frac": lambda a, b: a / b,
    "root": lambda n, x: x ** (1 / n),
    "sqrt": math.sqrt,
    "abs": abs,
    "min": min,
    "max": max,
    "round": lambda x: math.floor(x + 0.5),
    "ln": math.log,
    "sin": math.sin,
    "cos": math.cos,
    "sinh": math.sinh,
    "cosh": math.cosh,
    "atan": math.atan,
}


def reckon(text: str, values: Mapping[str, float]) -> float:
    """Return the value of a printed formula; values: by symbol as printed."""
    reader = _Reader(text, {**values, "pi": math.pi})
    value = reader.total()
    assert not reader.rest, f"left over in {text!r}: {reader.rest}"
    return value


class _Reader:
    def __init__(self, text: str, values: Mapping[str, float]) -> None:
        self.values = values
        names = sorted([*values, *FUNCTIONS], key=len, reverse=True)
        known = "|".join(rf"{re.escape(name)}(?![A-Za-z0-9])" for name in names)
        pattern = re.compile(rf"\s*(?:({known})|(\d+(?:\.\d+)?)|(times|[-+*/^(),]))")
        self.rest: list[str] = []
        at = 0
        while at < len(text.rstrip()):
            match = pattern.match(text, at)
            assert match, f"cannot read {text[at:]!r}"
            self.rest.append(match.group(match.lastindex or 0))
            at = match.end()

    def peek(self) -> str:
        return self.rest[0] if self.rest else ""

    def take(self, wanted: str = "") -> str:
        token = self.rest.pop(0)
        assert not wanted or token == wanted, f"{token!r} for {wanted!r}"
        return token

    def total(self) -> float:
        value = self.product()
        while self.peek() in ("+", "-"):
            value = value + self.product() if self.take() == "+" else value - self.product()
        return value

    def product(self) -> float:
        if self.peek() == "-":
            self.take()
            return -self.product()
        value = self.power()
        while self.rest and self.peek() not in ("+", "-", ")", ","):
            if self.peek() == "/":
                self.take()
                value /= self.power()
            else:
                if self.peek() in ("times", "*"):
                    self.take()
                value *= self.power()
        return value

    def power(self) -> float:
        base = self.atom()
        if self.peek() != "^":
            return base
        self.take()
        if self.peek() == "-":
            self.take()
            return float(base ** -self.atom())
        return float(base ** self.atom())

    def atom(self) -> float:
        part = self.take()
        if part == "(":
            value = self.total()
            self.take(")")
            return value
        if part in self.values:
            return self.values[part]
        if part in FUNCTIONS:
            return FUNCTIONS[part](*self.arguments())
        return float(part)

    def arguments(self) -> list[float]:
        self.take("(")
        given = [self.total()]
        while self.peek() == ",":
            self.take()
            given.append(self.total())
        self.take(")")
        return given
