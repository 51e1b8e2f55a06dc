"""Changing a job file's text without disturbing the rest of it."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, InlineTable

from ledgewright.job import places
from ledgewright.job.model import Edit
from ledgewright.job.places import Path
from ledgewright.job.revision import revision

__all__ = ["BadEdit", "apply", "document", "revision"]

_DEEPEST = 12


class BadEdit(ValueError):  # noqa: N818  # a finding about what was asked, not a fault of ours
    """An edit that cannot be made; the text stays as it was."""

    def __init__(self, *, path: str, wrong: str, right: str) -> None:
        super().__init__(path, wrong, right)
        self.path = path
        self.wrong = wrong
        self.right = right

    def __str__(self) -> str:
        return f"{self.path}: {self.wrong}; {self.right}"


def apply(text: str, edits: Sequence[Edit]) -> str:
    """Return the text with the edits made, in order; comments, order and spacing of the rest stay.

    Args:
        text: a job file, valid TOML.
        edits: each a path such as `shelf.lower.depth` or `shelf[0].rod[1].projection` and a TOML value.
            The index just past a list's end appends; None takes out; a table or list that loses its
            last entry goes with it.

    Returns:
        The new text. It has been read back: it says exactly what the old one said, and the edits.

    Raises:
        BadEdit: the text is no TOML, a path leads nowhere, or a value is no single TOML value.
    """
    try:
        wanted: dict[str, Any] = tomllib.loads(text)
        document: Any = tomlkit.parse(text)
    except (ValueError, RecursionError, TOMLKitError):
        raise _no_toml() from None
    for edit in edits:
        path = _edited(wanted, edit)
        try:
            _change_kept(document, path, edit)
        except (TOMLKitError, KeyError, IndexError, TypeError, ValueError, AttributeError) as wrong:
            raise wrong if isinstance(wrong, BadEdit) else _nowhere(edit) from None
    made = str(tomlkit.dumps(document))
    if not _says(made, wanted):
        raise BadEdit(
            path=edits[0].path if edits else "",
            wrong="this cannot be changed here without disturbing the rest of the file",
            right="change it by hand",
        )
    return made


def document(text: str, edits: Sequence[Edit]) -> dict[str, Any]:
    """Return what a text would say with the edits made, as a plain document; the text itself is not made.

    Args:
        text: a job file, valid TOML.
        edits: as for `apply`.

    Raises:
        BadEdit: as `apply`, but for what only the text could not take.
    """
    try:
        made: dict[str, Any] = tomllib.loads(text)
    except (ValueError, RecursionError):
        raise _no_toml() from None
    for edit in edits:
        _edited(made, edit)
    return made


def _edited(document: dict[str, Any], edit: Edit) -> Path:
    path = _path(document, edit.path)
    value = None if edit.text is None else _value(edit)
    _change_plain(document, path, value, edit)
    return path


def _no_toml() -> BadEdit:
    return BadEdit(
        path="", wrong="the file is not TOML as it stands", right="mend it by hand first"
    )


def _says(text: str, wanted: dict[str, Any]) -> bool:
    try:
        return repr(tomllib.loads(text)) == repr(_without_order(tomllib.loads(text), wanted))
    except ValueError:
        return False


def _without_order(read: Any, wanted: Any) -> Any:  # TOML values of any kind
    """Return `wanted` with its keys in the order of `read`; what differs stays different."""
    if isinstance(read, dict) and isinstance(wanted, dict) and read.keys() == wanted.keys():
        return {key: _without_order(read[key], wanted[key]) for key in read}
    if isinstance(read, list) and isinstance(wanted, list) and len(read) == len(wanted):
        return [_without_order(a, b) for a, b in zip(read, wanted, strict=True)]
    return wanted


def _path(document: dict[str, Any], text: str) -> Path:
    steps = places.steps(text)
    if steps is None or len(steps) > _DEEPEST or isinstance(steps[0], int):
        raise BadEdit(
            path=text,
            wrong="this is no path",
            right="write it like shelf.lower.depth or wall[0].length",
        )
    return places.resolve(document, steps)


def _value(edit: Edit) -> object:
    try:
        made = tomllib.loads(f"x = {edit.text}\n")
    except (ValueError, RecursionError):
        made = {}
    if list(made) != ["x"]:
        raise BadEdit(
            path=edit.path,
            wrong="this is not one TOML value",
            right='write it like "12 3/8", 48 or ["a", "b"]',
        )
    return made["x"]


def _nowhere(edit: Edit) -> BadEdit:
    return BadEdit(
        path=edit.path, wrong="this path leads nowhere", right="name a table or list that is there"
    )


def _change_plain(document: dict[str, Any], path: Path, value: object, edit: Edit) -> None:
    here: Any = document
    for step, after in pairwise(path):
        here = _into(here, step, [] if isinstance(after, int) else {}, edit)
    last = path[-1]
    if edit.text is None:
        _take_out(here, last, edit)
    elif isinstance(here, list):
        _put(here, last, value, edit)
    elif isinstance(here, dict) and isinstance(last, str):
        here[last] = value
    else:
        raise _nowhere(edit)
    if here == [] and edit.text is None:
        _change_plain(document, path[:-1], None, edit)


def _into(here: Any, step: str | int, fresh: object, edit: Edit) -> Any:  # TOML values of any kind
    if isinstance(here, list) and isinstance(step, int) and step < len(here):
        return here[step]
    if isinstance(here, dict) and isinstance(step, str):
        if edit.text is None and step not in here:
            raise _nowhere(edit)
        return here.setdefault(step, fresh)
    raise _nowhere(edit)


def _take_out(here: Any, last: str | int, edit: Edit) -> None:  # TOML values of any kind
    there = (
        last in here
        if isinstance(here, dict)
        else isinstance(here, list) and isinstance(last, int) and last < len(here)
    )
    if not there:
        raise _nowhere(edit)
    del here[last]


def _put(here: list[Any], last: str | int, value: object, edit: Edit) -> None:
    if not isinstance(last, int) or last > len(here):
        raise _nowhere(edit)
    if last == len(here):
        here.append(value)
    else:
        here[last] = value


def _change_kept(document: Any, path: Path, edit: Edit) -> None:  # tomlkit has no types
    chain = [document]
    for i, step in enumerate(path[:-1]):
        here = chain[-1]
        if isinstance(step, str) and step not in here:
            here[step] = _fresh(here, path[i + 1], edit, final=i + 2 == len(path))
        chain.append(here[step])
    here, last = chain[-1], path[-1]
    if edit.text is None:
        del here[last]
        if isinstance(last, int) and len(here) == 0:
            # an emptied array of tables would be written as `rod = []` on line 1
            _change_kept(document, path[:-1], edit)
        return
    item = tomlkit.parse(f"x = {edit.text}\n")["x"]
    if isinstance(here, AoT):
        _put_table(here, last, item, edit)
    elif isinstance(last, int) and last == len(here):
        here.append(item)
    else:
        here[last] = item


def _put_table(here: AoT, last: str | int, item: object, edit: Edit) -> None:
    if not isinstance(item, InlineTable) or not isinstance(last, int):
        raise BadEdit(
            path=edit.path, wrong="a table belongs here", right="write { key = value, ... }"
        )
    # an appended table gets no blank line by itself: above it where the one before has none below
    apart = len(here) > 0 and not here[-1].as_string().endswith("\n\n")
    table = tomlkit.table()
    table.trivia.indent = "\n" if apart and last == len(here) else ""
    lines = (
        f"{tomlkit.key(key).as_string()} = {value.as_string()}\n" for key, value in item.items()
    )
    for key, value in tomlkit.parse("".join(lines)).items():
        table.add(key, value)
    if not apart:
        table.add(tomlkit.nl())
    if last == len(here):
        here.append(table)
    else:
        here[last] = table


def _fresh(here: Any, after: str | int, edit: Edit, *, final: bool) -> Any:  # tomlkit has no types
    """Return what a missing step begins with: a list, an array of tables, or a table."""
    if isinstance(after, int):
        tables = final and isinstance(tomllib.loads(f"x = {edit.text}\n")["x"], dict)
        return tomlkit.aot() if tables and not isinstance(here, InlineTable) else tomlkit.array()
    if isinstance(here, InlineTable):
        return tomlkit.inline_table()
    table = tomlkit.table()
    table.trivia.indent = "\n"
    return table
