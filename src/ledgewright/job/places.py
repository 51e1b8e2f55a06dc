"""Where things stand in a job file: the line of every key, and paths as people write them."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator, Mapping

Path = tuple[str | int, ...]

_PLAIN = re.compile(r"[A-Za-z0-9_-]+")
_STEP = re.compile(r"""\.?(?:"([^"]*)"|([A-Za-z0-9_-]+))|\[(\d{1,6})\]""")
_SPACE = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_BARE = re.compile(r"[^,\]}\n#]*")
_LONG = {
    '"""': re.compile(r'"""(?:[^\\]|\\.)*?"""(?:"{0,2})', re.DOTALL),
    "'''": re.compile(r"'''.*?'''(?:'{0,2})", re.DOTALL),
}
_SHORT = {'"': re.compile(r'"(?:[^"\\\n]|\\.)*"'), "'": re.compile(r"'[^'\n]*'")}
_ESCAPE = re.compile(r"\\(u[0-9A-Fa-f]{4}|U[0-9A-Fa-f]{8}|.)")


def lines(text: str) -> dict[Path, int]:
    """Return the line, counted from 1, on which every table, key and array item of a TOML text begins.

    Source: TOML 1.0.0, https://toml.io/en/v1.0.0

    Args:
        text: TOML that a parser has already found valid; other text gives an incomplete answer.

    Returns:
        Path to line. An array of tables counts its tables as items.
    """
    return _Scan(text).run()


class _Scan:
    """One pass over a valid TOML text."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.found: dict[Path, int] = {}
        self.sizes: dict[Path, int] = {}
        self._ends = [i for i, c in enumerate(text) if c == "\n"]

    def run(self) -> dict[Path, int]:
        table: Path = ()
        self._skip()
        while self.at < len(self.text):
            start = self.at
            if self.text[self.at] == "[":
                table = self._header()
            else:
                self._pair(table)
            self._skip()
            if self.at == start:
                break
        return self.found

    def _skip(self) -> None:
        match = _SPACE.match(self.text, self.at)
        self.at = match.end() if match else self.at

    def _mark(self, path: Path) -> None:
        self.found.setdefault(path, bisect_right(self._ends, self.at - 1) + 1)

    def _header(self) -> Path:
        many = self.text.startswith("[[", self.at)
        start = self.at
        self.at += 2 if many else 1
        keys = self._keys()
        after = self.at + (2 if many else 1)
        self.at = start
        path: Path = ()
        for i, key in enumerate(keys):
            path = (*path, key)
            self._mark(path)
            if many and i == len(keys) - 1:
                self.sizes[path] = self.sizes.get(path, 0) + 1
            if path in self.sizes:
                path = (*path, self.sizes[path] - 1)
                self._mark(path)
        self.at = after
        return path

    def _keys(self) -> list[str]:
        keys: list[str] = []
        while self.at < len(self.text):
            self._skip()
            keys.append(self._key())
            self._skip()
            if not self.text.startswith(".", self.at):
                break
            self.at += 1
        return keys

    def _key(self) -> str:
        quote = self.text[self.at : self.at + 1]
        if quote in _SHORT:
            match = _SHORT[quote].match(self.text, self.at)
            if match:
                self.at = match.end()
                return _plain(match.group()[1:-1]) if quote == '"' else match.group()[1:-1]
        match = _PLAIN.match(self.text, self.at)
        if match is None:
            return ""
        self.at = match.end()
        return match.group()

    def _pair(self, table: Path) -> None:
        start = self.at
        keys = self._keys()
        after, self.at = self.at, start
        path = table
        for key in keys:
            path = (*path, key)
            self._mark(path)
        self.at = after + 1 if self.text.startswith("=", after) else after
        self._skip()
        self._value(path)

    def _value(self, path: Path) -> None:
        for quotes, pattern in (*_LONG.items(), *_SHORT.items()):
            if self.text.startswith(quotes, self.at) and (
                match := pattern.match(self.text, self.at)
            ):
                self.at = match.end()
                return
        head = self.text[self.at : self.at + 1]
        if head == "[":
            self._array(path)
        elif head == "{":
            self._inline(path)
        else:
            match = _BARE.match(self.text, self.at)
            self.at = match.end() if match else self.at

    def _array(self, path: Path) -> None:
        for i in self._items("]"):
            self._mark((*path, i))
            self._value((*path, i))

    def _inline(self, path: Path) -> None:
        for _ in self._items("}"):
            self._pair(path)

    def _items(self, close: str) -> Iterator[int]:
        self.at += 1
        i = 0
        while True:
            self._skip()
            if self.at >= len(self.text):
                return
            if self.text[self.at] == close:
                self.at += 1
                return
            start = self.at
            yield i
            i += 1
            self._skip()
            if self.text.startswith(",", self.at):
                self.at += 1
            elif self.at == start:
                return


def _plain(text: str) -> str:
    short = {"n": "\n", "t": "\t", "r": "\r", "b": "\b", "f": "\f", '"': '"', "\\": "\\"}
    return _ESCAPE.sub(
        lambda m: chr(int(m[1][1:], 16)) if m[1][0] in "uU" else short.get(m[1], m[1]), text
    )


def steps(text: str) -> Path | None:
    """Return a written path as steps, ids still as names; None if it is no path.

    Args:
        text: such as `shelf[0].rods.embedment`, `shelf.lower.depth`, `obstacle."door casing".up[1]`.
    """
    path: list[str | int] = []
    at = 0
    while at < len(text):
        match = _STEP.match(text, at)
        if match is None:
            return None
        quoted, plain, index = match.groups()
        path.append(int(index) if index is not None else (quoted if quoted is not None else plain))
        at = match.end()
    return tuple(path) or None


def resolve(document: object, path: Path) -> Path:
    """Return the path with every id of an array of tables turned into its index, as far as the document goes."""
    here = document
    done: list[str | int] = []
    for step in path:
        if isinstance(here, list) and isinstance(step, str):
            step = _index(here, step)
        done.append(step)
        here = _child(here, step)
    return tuple(done)


def written(document: object, path: Path) -> str:
    """Return a path as people write it: an array's table goes by its id where that is one plain word."""
    here = document
    text = ""
    for step in path:
        item = _child(here, step)
        if isinstance(step, str):
            shown = step if _PLAIN.fullmatch(step) else '"' + step.replace('"', "'") + '"'
            text += f".{shown}" if text else shown
        else:
            name = _name(here, item)
            text += f".{name}" if name else f"[{step}]"
        here = item
    return text


def value_at(document: object, path: Path) -> object:
    """Return what stands at a path, or None."""
    here = document
    for step in path:
        here = _child(here, step)
    return here


def reach(document: object, path: Path) -> Path:
    """Return the longest beginning of a path that the document holds."""
    here = document
    for i, step in enumerate(path):
        here = _child(here, step)
        if here is None:
            return path[:i]
    return path


def _child(here: object, step: str | int) -> object:
    if isinstance(here, Mapping):
        return here.get(step)
    if isinstance(here, list) and isinstance(step, int) and 0 <= step < len(here):
        return here[step]
    return None


def _index(here: list[object], name: str) -> str | int:
    for i, item in enumerate(here):
        if isinstance(item, Mapping) and item.get("id") == name:
            return i
    return name


def _name(here: object, item: object) -> str | None:
    if not isinstance(here, list) or not isinstance(item, Mapping):
        return None
    name = item.get("id")
    if not isinstance(name, str) or not _PLAIN.fullmatch(name):
        return None
    same = [1 for other in here if isinstance(other, Mapping) and other.get("id") == name]
    return name if len(same) == 1 else None
