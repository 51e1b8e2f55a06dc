"""The letters of walls, and how a wall is named to people: by its letter, with the job's own name beside it."""

from __future__ import annotations

import re
from collections.abc import Sequence

MARKS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_LETTER = re.compile(r"(?:wall[\s._-]*)?([A-Z])", re.IGNORECASE | re.ASCII)


def own_mark(name: str) -> str | None:
    """Return the letter a wall's own name is, as "A" of "a" or of "wall A"; None of any other name.

    Args:
        name: id of the wall.
    """
    found = _LETTER.fullmatch(name.strip())
    return found[1].upper() if found else None


def marks(names: Sequence[str]) -> tuple[str, ...]:
    """Return the letter of each wall: a name that is a letter keeps it, the others take the free ones in order.

    Letter and name may never say two things of one wall: somebody drills by the one and is warned by the other. Of
    names that are the same letter the first keeps it; such a job is refused.

    Args:
        names: ids in the order of the file, "" where there is none; no more than there are letters.
    """
    own = [own_mark(name) for name in names]
    kept = [mark if mark not in own[:i] else None for i, mark in enumerate(own)]
    free = (letter for letter in MARKS if letter not in kept)
    return tuple(mark or next(free) for mark in kept)


def called(mark: str, name: str) -> str:
    """Return what people call a wall after the word "wall": "A", or "A (sink)" where the job names it otherwise.

    Everything that tells of a wall by itself says this. Where its sheet has said it already, tables, drawings and
    steps have the letter alone.

    Args:
        mark: its letter.
        name: its id.
    """
    return mark if mark in (name, own_mark(name)) else f"{mark} ({name})"
