"""Older formats of the job file, turned into today's in memory; each step is a pure function on the document."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from copy import deepcopy
from dataclasses import dataclass
from types import MappingProxyType

CURRENT = 1

Document = dict[str, object]
Step = Callable[[Document], Document]

STEPS: Mapping[int, Step] = MappingProxyType({})


class WrongFormat(ValueError):  # noqa: N818  # a finding about the file, not a fault of ours
    """The file's `format` is missing, malformed, newer than this program or unknown; `other_format`: the last two."""

    def __init__(self, *, wrong: str, right: str, other_format: bool = False) -> None:
        super().__init__(wrong, right)
        self.wrong = wrong
        self.right = right
        self.other_format = other_format


@dataclass(frozen=True)
class Migrated:
    """A document of today's format, and the format it was written in."""

    document: Document
    written_in: int


def migrate(
    document: Mapping[str, object], *, steps: Mapping[int, Step] = STEPS, current: int = CURRENT
) -> Migrated:
    """Return the document in today's format; the one given is left as it is.

    Args:
        document: a parsed job file.
        steps: from each older format to the next.
        current: today's format.

    Raises:
        WrongFormat: no `format`, not a whole number, newer than today's, or older than any known.
    """
    number = _number(document, current)
    if number > current:
        raise WrongFormat(
            wrong=f"this file is of format {shorten(number)}, newer than this program, which reads format {current}",
            right="use a newer version of this program; do not lower the number",
            other_format=True,
        )
    made: Document = deepcopy(dict(document))
    for step in range(number, current):
        if step not in steps:
            raise WrongFormat(
                wrong=f"there never was a format {shorten(step)}",
                right=f"write format = {current}",
                other_format=True,
            )
        made = steps[step](made)
        made["format"] = step + 1
    return Migrated(document=made, written_in=number)


def _number(document: Mapping[str, object], current: int) -> int:
    number = document.get("format")
    if number is None:
        raise WrongFormat(
            wrong="format is missing", right=f"write format = {current} as the first line"
        )
    if isinstance(number, bool) or not isinstance(number, int) or number < 1:
        raise WrongFormat(
            wrong="the format is a whole number",
            right=f"write format = {current} as the first line",
        )
    return number


def shorten(number: int) -> str:
    """Return a whole number for a sentence; a huge one only as such."""
    return str(number) if abs(number) < 10**9 else "a huge number"
